#!/usr/bin/python3
"""README.md is true: its commands are run, what they print stands behind them byte for byte.

    readme.py BECKET [--update]

A block marked console holds commands (lines that begin with "$ ") and what they print, messages included.  A block marked
yaml behind a line that ends with `NAME`: is written to that file first.  Commands run one after the other in a folder of
their own that has the examples in it.  --update writes what comes out now; read the difference before it is committed.
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile

from kit import SANITIZERS, TOP, Becket, Count

sys.path.insert(0, os.path.join(TOP, "tests", "golden"))
from golden import clean  # noqa: E402

README = os.path.join(TOP, "README.md")
becket, count = Becket(sys.argv[1]), Count()
update = "--update" in sys.argv[2:]
with open(README, encoding="utf-8") as f:
    text = f.read()

out, at = [], 0
with tempfile.TemporaryDirectory() as folder:
    os.symlink(os.path.join(TOP, "examples"), os.path.join(folder, "examples"))
    os.mkdir(os.path.join(folder, "bin"))
    os.symlink(becket.program, os.path.join(folder, "bin", "becket"))
    env = {"PATH": os.path.join(folder, "bin") + ":" + os.environ.get("PATH", ""), "LC_ALL": "C.UTF-8", "HOME": folder,
           "BECKET_TABLES": os.path.join(TOP, "tables"), **SANITIZERS}

    def run(command):
        done = subprocess.run(["sh", "-c", command], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, cwd=folder, env=env, timeout=60)
        return done.stdout.decode()

    commands = set()
    for block in re.finditer(r"^```(console|yaml)\n(.*?)^```$", text, re.M | re.S):
        out.append(text[at:block.start(2)])
        at = block.end(2)
        if block[1] == "yaml":
            name = re.search(r"`([\w.-]+)`:\n\n```yaml\n$", "".join(out))
            if count.check(name, "a yaml block that has no file's name before it"):
                with open(os.path.join(folder, name[1]), "w", encoding="utf-8") as f:
                    f.write(block[2])
            out.append(block[2])
            continue
        now = ""
        for command in re.findall(r"^\$ (.*)$", block[2], re.M):
            printed = run(command)
            commands.update(re.findall(r"\bbecket ([a-z]+)", command))
            now += "$ %s\n%s" % (command, printed)
            count.check("BK-5" not in printed and "not found" not in printed,
                        "%s:\n%s" % (command, printed))
        out.append(now)
        if not update:
            count.check(clean(block[2].encode()) == clean(now.encode()), "README has\n%s\nnow it is\n%s" % (block[2], now))
    out.append(text[at:])
    count.check(os.path.getsize(os.path.join(folder, "lift.pdf")) > 1000, "no lift.pdf")

for command in re.findall(r"^    (sh .*)$", text, re.M):
    count.check(os.path.exists(os.path.join(TOP, command.split()[1])), "%s: no such file" % command)
for name in re.findall(r"`((?:examples|tables|tests)(?:/[\w.-]+)?|[A-Z]+(?:\.md)?)`", text):
    count.check(os.path.exists(os.path.join(TOP, name)) or name in ("PASS", "FAIL", "INCOMPLETE"), "README names %s" % name)
overview = set(re.findall(r"^  becket ([a-z]+) ", becket.run("--help")[1], re.M))
told = commands | set(re.findall(r"`becket ([a-z]+)", text))
count.check(overview <= told, "README does not tell of %s" % (overview - told))
if update:
    with open(README, "w", encoding="utf-8") as f:
        f.write("".join(out))
elif count.failed:
    print("where the change is meant: python3 tests/cli/readme.py build/becket --update, and read the difference")
count.finish()
