#!/usr/bin/python3
"""What is told of the command is true and whole: --help, manual pages and completions name the same commands and options.

    manual.py BECKET
"""
import glob
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

from kit import KINDS, TOP, Becket, Count

becket, count = Becket(sys.argv[1]), Count()


def read(path):
    with open(os.path.join(TOP, path), encoding="utf-8") as f:
        return f.read()


def plain(roff):
    """A manual page without its escapes."""
    return re.sub(r"\\f[BRI]", "", roff.replace("\\-", "-").replace("\\ ", " ").replace("\\&", "").replace('"', ""))


def longs(text):
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", text))


# ---- commands and options ------------------------------------------------------------------------

overview = becket.run("--help")[1]
commands = re.findall(r"^  becket ([a-z]+) ", overview, re.M)
count.check(len(commands) == 10, "commands: %s" % commands)
count.check(becket.run("help")[1] == overview and becket.run("-h")[1] == overview, "help, -h and --help differ")
count.check(max(map(len, overview.splitlines())) <= 110, "overview: long lines")
page = plain(read("src/cli/becket.1"))
sections = {s.split()[0]: s for s in re.split(r"^\.S[SH] ", page, flags=re.M) if s.split()[0] in commands}
count.check(list(sections) == commands or set(sections) == set(commands), "becket.1 has sections %s" % list(sections))
completions = {os.path.basename(p): read(p) for p in ["src/cli/completion/becket.bash", "src/cli/completion/_becket", "src/cli/completion/becket.fish"]}
sources = "".join(read(p) for p in sorted(glob.glob(TOP + "/src/cli/*.c")))


def of_command(shell, command):
    """The long options that a completion knows of a command."""
    text = completions[shell]
    if shell == "becket.fish":
        lines = [line for line in text.splitlines() if re.search(r'-n "__fish_seen_subcommand_from [^"]*\b%s\b' % command, line)
                 or line.startswith("complete -c becket -s h ")]
        return {"--" + name for line in lines for name in re.findall(r" -l ([a-z-]+)", line)}
    block = re.search(r"^ +%s\)(.*?);;" % command, text, re.M | re.S).group(1)
    if shell == "_becket":
        for name in ["tables", "as_drawn", "json"]:
            if "$" + name in block:
                block += re.search(r"(?:^|local )%s=(.*)" % name, text.replace("    " + name, name), re.M).group(1)
    return longs(block)


for command in commands:
    status, help_text, messages = becket.run(command, "--help")
    count.check(status == 0 and not messages and becket.run("help", command)[1] == help_text == becket.run(command, "-h")[1],
                "%s: --help, -h and help %s differ" % (command, command))
    count.check(max(map(len, help_text.splitlines())) <= 100, "%s --help: long lines" % command)
    count.check("\n  becket %s" % command in help_text, "%s --help has no example" % command)
    told = longs(re.split(r"\n\n  becket ", help_text)[0]) - {"--help"}
    # what the program takes, from its own lists
    function = re.search(r"int cli_%s\(int argc.*?\n}\n" % command, sources, re.S).group(0)
    taken = {"--" + name for name in re.findall(r'\{"([a-z-]+)", (?:no|required)_argument', function)} - {"--help"}
    count.check(told == taken, "%s --help tells %s, the program takes %s" % (command, sorted(told), sorted(taken)))
    manual = longs(sections.get(command, "").replace("becket tables --", "")) - {"--help"}
    count.check(manual == told, "becket.1, %s: %s, --help has %s" % (command, sorted(manual), sorted(told)))
    for shell in completions:
        known = of_command(shell, command)
        count.check(known == told | {"--help"}, "%s, %s: %s, --help has %s" % (shell, command, sorted(known), sorted(told)))
    status, out, messages = becket.run(command, "--nonsense")
    count.check(status == 2 and not out and "--nonsense" in messages and "becket %s --help" % command in messages, "%s --nonsense: %s" % (command, messages))
for shell, text in completions.items():
    count.check(all(kind in text for kind in KINDS), "%s: kinds of plan" % shell)
for words in [["help", "chekc"], ["chekc"]]:
    status, out, messages = becket.run(*words)
    count.check(status == 2 and not out and "nearest: check" in messages, "%s: %d %s" % (words, status, messages))

# ---- messages ------------------------------------------------------------------------------------

known = {number: text for number, text in re.findall(r'X\(BK_\w+, (\d+), "([^"]*)"\)', read("include/becket/base.h")) if number != "0"}
listed = dict(re.findall(r"^\.B BK-(\d+)\n([^\n]*)", page, re.M))
count.check(len(known) > 20 and set(known) == set(listed), "messages: %s" % sorted(set(known) ^ set(listed)))
for number, text in known.items():
    line = listed.get(number, "")
    count.check(line.startswith(text + ". ") and len(line) > len(text) + 4, "BK-%s: %s, want %s and what to do" % (number, line, text))
for variable in set(re.findall(r'getenv\("(\w+)"\)', sources)):
    count.check(variable in page.split(".SH ENVIRONMENT")[1].split(".SH FILES")[0], "becket.1: no word of %s" % variable)

# ---- the other pages -----------------------------------------------------------------------------

status, plan_page, _ = becket.run("schema", "--manual")
schema = json.loads(becket.run("schema")[1])
for name, part in [("plan", schema), *schema["$defs"].items()]:
    section = plain(plan_page).split(".SH KEYS OF: %s\n" % name)[-1].split("\n.SH ")[0]
    for key in part["properties"]:
        count.check(re.search(r"^\.BR %s  ?\(" % re.escape(key), section, re.M), "becket-plan.5: no %s of %s" % (key, name))
example = plain(re.search(r"\.SH EXAMPLE\n\.nf\n(.*?)\.fi", plan_page, re.S).group(1))
status, _, messages = becket.run("check", "-", stdin=example)
count.check(status == 0, "the plan in becket-plan.5: %d %s\n%s" % (status, messages, example))
table_page = read("src/cli/becket-table.5")
example = re.search(r"\.nf\n(becket_table.*?)\.fi", table_page, re.S).group(1)
with tempfile.TemporaryDirectory() as folder:
    with open(folder + "/our-slings.yaml", "w", encoding="utf-8") as f:
        f.write(example.replace("\\-", "-"))
    status, _, messages = becket.run("tables", "--check", folder + "/our-slings.yaml")
    count.check(status == 0, "the table in becket-table.5: %s" % messages)
if shutil.which("groff"):
    for name, text in [("becket.1", read("src/cli/becket.1")), ("becket-table.5", table_page), ("becket-plan.5", plan_page)]:
        done = subprocess.run(["groff", "-man", "-ww", "-z", "-Kutf8"], input=text.encode(), capture_output=True)
        count.check(done.returncode == 0 and not done.stderr, "%s: %s" % (name, done.stderr.decode()[:500]))

# ---- completions parse and complete --------------------------------------------------------------

path = {**os.environ, "PATH": os.path.dirname(becket.program) + ":" + os.environ.get("PATH", ""), "BECKET_TABLES": TOP + "/tables"}


def shell(*words):
    done = subprocess.run(words, capture_output=True, cwd=TOP, env=path, timeout=60)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


everything = sorted(commands + ["help"])
if shutil.which("bash"):
    count.check(shell("bash", "-n", "src/cli/completion/becket.bash") == (0, "", ""), "becket.bash does not parse")
    script = 'source src/cli/completion/becket.bash; COMP_WORDS=("$@"); COMP_CWORD=$(($#-1)); _becket; printf "%s\\n" "${COMPREPLY[@]}"'
    for words, want in [([""], everything + ["--help", "--version"]), (["du"], ["duty"]), (["check", "--c"], ["--csv", "--cases"]),
                        (["check", "examples/two-l"], ["examples/two-leg-bridle.yaml"]), (["angle", "--from", ""], ["vertical", "horizontal"]),
                        (["new", "r"], ["runway"]), (["tables", "hoist-d"], ["hoist-demo"]), (["check", "x.yaml", "--tables", "tab"], ["tables"]),
                        (["angle", "--load", ""], [])]:
        _, out, messages = shell("bash", "-c", script, "bash", "becket", *words)
        count.check(sorted(out.split()) == sorted(want) and not messages, "bash, becket %s: %s %s" % (words, out.split(), messages))
if shutil.which("zsh"):
    count.check(shell("zsh", "-n", "src/cli/completion/_becket") == (0, "", ""), "_becket does not parse")
    # _describe stands in for zsh's own: it prints what it would offer
    script = "_describe() { print -l -- ${(P)4%%:*} }; words=(becket ''); CURRENT=2; source src/cli/completion/_becket"
    _, out, messages = shell("zsh", "-fc", script)
    count.check(sorted(out.split()) == everything and not messages, "zsh: %s %s" % (out.split(), messages))
    wanted = {"becket du": ["becket duty"], "becket check --ca": ["becket check --cases"], "becket angle --leg": ["becket angle --legs"],
              "becket check examples/two-l": ["becket check examples/two-leg-bridle.yaml"], "becket new r": ["becket new runway"],
              "becket tables hoist-d": ["becket tables hoist-demo"], "becket angle --from ": ["horizontal", "vertical"]}
    for wait in ("0.3", "1", "4"):  # a busy machine answers late
        status, out, messages = shell("zsh", "-f", "tests/cli/completion.zsh", wait, *wanted)
        told = dict(re.findall(r"<<<(.*?)>>>(.*?)(?=<<<|\Z)", out, re.S))
        wrong = {typed: told.get(typed) for typed, want in wanted.items() if any(w not in told.get(typed, "") for w in want)}
        if status == 77 or not wrong:
            break
    count.check(status == 77 or not wrong, "zsh at a terminal: %s %s" % (wrong, messages))
if shutil.which("fish"):
    count.check(shell("fish", "-n", "src/cli/completion/becket.fish") == (0, "", ""), "becket.fish does not parse")
    for line, want in [("becket ", everything), ("becket new ", KINDS), ("becket angle --from ", ["vertical", "horizontal"]),
                       ("becket tables hoist-d", ["hoist-demo"]), ("becket check examples/two-l", ["examples/two-leg-bridle.yaml"])]:
        _, out, messages = shell("fish", "--no-config", "-c", "source src/cli/completion/becket.fish; complete -C '%s'" % line)
        have = sorted(x.split("\t")[0] for x in out.splitlines() if not x.startswith("-"))
        count.check(have == sorted(want), "fish, %s: %s %s" % (line, have, messages))
count.finish()
