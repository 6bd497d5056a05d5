#!/usr/bin/python3
"""becket tables: the list, a table, a row and a rule set, against the files themselves; widths; units; mistakes.

    tables.py BECKET
"""
import glob
import os
import re
import sys
import tempfile

from kit import TOP, Becket, Count

try:
    import yaml
except ImportError as e:
    print("tables: %s (Debian: python3-yaml)" % e)
    sys.exit(77)

# exact by definition: international pound and inch, 1959 agreement
LB, IN = 0.45359237, 25.4
COMMANDS = ["angle", "check", "explain", "draw", "level", "hooks", "duty", "tables"]

becket, count = Becket(sys.argv[1]), Count()
files = {("rules/" if "/rules/" in f else "") + os.path.basename(f)[:-5]: yaml.load(open(f, encoding="utf-8"), yaml.BaseLoader)
         for f in sorted(glob.glob(TOP + "/tables/*/*.yaml"))}

status, out, messages = becket.run("tables", env={"COLUMNS": "200"})
listed = {line.split()[0]: re.split(r"  +", line.strip()) for line in out.splitlines()[1:]}
count.check(status == 0 and not messages and set(listed) == set(files), "list: %s" % set(files).symmetric_difference(listed))
for name, data in files.items():
    if name in listed and "extends" not in data:
        rows = len(data["rows"]) if "rows" in data else len(data["values"]) + len(data["bands"])
        count.check(listed[name][1:4] == [str(rows), data["mark"], " ".join(data["title"].split())], "list: %s" % listed[name])

for name, data in files.items():
    for arguments in [[], ["--units", "si"], ["--units", "us"]]:
        for columns in [60, 80, 200]:
            status, out, messages = becket.run("tables", name, *arguments, env={"COLUMNS": str(columns)})
            wide = [line for line in out.splitlines()
                    if len(line) > columns and not line.startswith(("  sha256", "  file", " " * 10 + "/"))]
            count.check(status == 0 and not messages and not wide, "%s %s in %d columns: %s %s" % (name, arguments, columns, messages, wide[:1]))
    flat = "".join(becket.run("tables", name)[1].split())
    for text in [data["title"], data["source"], data.get("note", "")]:
        count.check("".join(text.split()) in flat, "%s: not told: %s" % (name, text))


def cells(text, row):
    """All figures of a row, from every block that the table is broken into."""
    return [cell for line in text.splitlines() if re.match(r"  %s  " % re.escape(row), line) for cell in line.split()[1:]]


# as written, in the order of the file
chain = files["chain-en818-4"]
_, out, _ = becket.run("tables", "chain-en818-4", env={"COLUMNS": "200"})
for row in chain["rows"]:
    count.check(cells(out, row[0])[:8] == row[1:9], "chain-en818-4/%s: %s, the file has %s" % (row[0], cells(out, row[0]), row))
# converted
_, out, _ = becket.run("tables", "chain-en818-4", "--units", "us", env={"COLUMNS": "200"})
for row in chain["rows"]:
    have = [float(x) for x in cells(out, row[0])[:3]]
    want = [float(row[1]) / IN, 1000 * float(row[2]) / LB, 1000 * float(row[3]) / LB]
    count.check(all(abs(h - w) <= 0.0006 * w for h, w in zip(have, want)), "chain-en818-4/%s: %s lb, want %s" % (row[0], have, want))
_, out, _ = becket.run("tables", "w", "--units", "si", env={"COLUMNS": "200"})
count.check(cells(out, "12x26")[0] == "309.9", "w/12x26 is 12.2 in = 309.9 mm deep, not %s" % cells(out, "12x26")[0])
count.check(becket.run("tables", "w", "--units", "us")[1] == becket.run("tables", "w")[1], "w is in US units as it is")
count.check(becket.run("tables", "heb", "--units", "si")[1] == becket.run("tables", "heb")[1], "heb is in SI units as it is")
_, out, _ = becket.run("tables", "w/12x26", "--units", "si")
count.check(re.search(r"^  h +309\.9 mm +depth", out, re.M), "w/12x26:\n" + out)
_, out, _ = becket.run("tables", "rules/en")
count.check(re.search(r"^  angle\.max_from_vertical +60 deg +EN 818-4", out, re.M), "rules/en:\n" + out[:500])

# a table of one's own
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "our-slings.yaml")
    readme = open(TOP + "/tables/README.md", encoding="utf-8").read()
    with open(path, "w", encoding="utf-8") as f:
        f.write(re.search(r"```yaml\n(becket_table: 1\ntitle: Slings.*?)```", readme, re.S).group(1))
    status, out, messages = becket.run("tables", "--check", path)
    count.check(status == 0 and "2 rows, no mistake found" in out, "--check: %s%s" % (out, messages))
    status, out, messages = becket.run("tables", "our-slings", "--tables", folder)
    count.check(status == 0 and cells(out, "E1") == ["3.15", "10", "11.5"] and "user's own" in out, "our-slings:\n%s%s" % (out, messages))
    count.check(cells(out, "E2") == ["5.3", "13"], "a cell with no value: %s" % cells(out, "E2"))
    status, out, _ = becket.run("tables", "--tables", folder)
    count.check("Slings of the east bay (the user's own)" in " ".join(out.split()), "our-slings are not listed")
    with open(path, "a", encoding="utf-8") as f:
        f.write("  - [E3, 5.3 t, 13, ~]\n")
    status, out, messages = becket.run("tables", "--check", path)
    count.check(status == 2 and not out and "our-slings.yaml:9:" in messages, "--check: %d %s%s" % (status, out, messages))
    # every mistake of every table is told, and then nothing is listed
    with open(os.path.join(folder, "another.yaml"), "w", encoding="utf-8") as f:
        f.write("becket_table: 1\ntitle: another\n")
    status, out, messages = becket.run("tables", "--tables", folder)
    count.check(status == 2 and not out and "another.yaml:1:1:" in messages and "our-slings.yaml:9:" in messages, "list: %d %s" % (status, messages))

for arguments, word in [(["hebb"], "heb"), (["heb/241"], "240"), (["rules/eu"], "rule"), (["heb", "ipe"], "one table"),
                        (["--units", "metric"], "si or us"), (["--check", "a", "b"], "one table"), (["--check", "/nonexistent"], "BK-101")]:
    status, out, messages = becket.run("tables", *arguments)
    count.check(status == 2 and not out and word in messages, "tables %s: %d %s%s" % (arguments, status, out, messages))

# a folder that is not there is a mistake in the command, whatever the command
for command in COMMANDS:
    plan = [] if command in ("angle", "tables") else ["examples/two-hooks.yaml"] + (["-o", "/nonexistent/x.pdf"] if command == "draw" else [])
    for folder, word in [("/nonexistent", "No such file"), ("LICENSE", "want a folder")]:
        status, out, messages = becket.run(command, *plan, "--tables", folder)
        count.check(status == 2 and not out and "BK-401" in messages and word in messages and folder in messages,
                    "%s --tables %s: %d %s" % (command, folder, status, messages))
count.finish()
