#!/usr/bin/python3
"""becket new: every kind is valid as written and passes; --ask asks again what it cannot use, and writes whole plans only.

    new.py BECKET
"""
import os
import sys
import tempfile

from kit import KINDS, Becket, Count

becket, count = Becket(sys.argv[1]), Count()
_, help_text, _ = becket.run("new", "--help")

for kind in KINDS:
    count.check("  %s  " % kind in help_text, "%s: not in --help" % kind)
    status, plan, messages = becket.run("new", kind)
    if not count.check(status == 0 and plan and not messages, "%s: status %d %s" % (kind, status, messages)):
        continue
    count.check("\t" not in plan and max(map(len, plan.splitlines())) <= 130, "%s: tabs or long lines" % kind)
    status, _, messages = becket.run("check", "-", stdin=plan)
    count.check(status == 0 and not messages, "%s: check says %d %s" % (kind, status, messages))
    # empty answers, more than any kind asks for, give the same plan
    status, same, messages = becket.run("new", kind, "--ask", stdin="\n" * 20)
    count.check(status == 0 and same == plan, "%s --ask: empty answers give another plan" % kind)
    asked = messages.count("]: ")
    count.check(asked >= 4, "%s --ask: %d questions" % (kind, asked))
    # the input ends at any question: nothing is written
    for n in range(asked):
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "plan.yaml")
            status, out, messages = becket.run("new", kind, "--ask", "-o", path, stdin="\n" * n)
            count.check(status == 2 and not out and not os.path.exists(path) and "BK-401" in messages,
                        "%s --ask: end of input after %d answers: %d %s" % (kind, n, status, messages))

# sums in a template are made from the left: four hoists at thirds of 12 m
_, truss, _ = becket.run("new", "hanging-truss")
count.check("{a: 0 0 0 m, b: 4 0 0 m, c: 8 0 0 m, d: 12 0 0 m}" in truss, "hanging-truss: its hoists are not at thirds")

# wrong answers are asked again, each with the reason, and the good ones stand in the plan
answers = [
    ('Pump "north"', "quotes"), ("Pump\x01", "short text"), (b"Pump \xff".decode("latin-1"), None),
    ("1.8", "unit"), ("1.8 ton", "t"), ("-1.8 t", "more than nothing"), ("1.8 m", "mass"), ("1.8 t +/- 5 %", "tolerances"),
    ("x" * 5000, "short text"), ("3900 lb", None),
    ("7 ft 6 in", None), ("2.5 m", None), ("1 m", None), ("400 mm", None), ("50 kN", None),
]
status, plan, messages = becket.run("new", "bridle", "--ask", stdin="".join(a + "\n" for a, _ in answers))
count.check(status == 0, "bridle --ask: status %d %s" % (status, messages))
for text in ["title: \"Pump \u00ff\"", "mass: 3900 lb +/- 5 %", "b: 2.286 0 0 m", "cog: 1 0 -0.4 m", "hook: {at: 1 0 2.7 m, limit: 50 kN}"]:
    count.check(text in plan, "bridle --ask: no %s in\n%s" % (text, plan))
said = [line.split("]: ")[-1].strip() for line in messages.splitlines()]
for answer, reason in answers:
    if reason:
        count.check(any(reason in line for line in said), "%s: nothing said of %s" % (answer[:40], reason))
count.check(messages.count("Mass of the load") == 7, "the mass is asked %d times" % messages.count("Mass of the load"))
count.check(becket.run("check", "-", stdin=plan)[0] in (0, 1), "bridle --ask: the plan cannot be read")

# bytes that are no UTF-8 are no title
status, plan, messages = becket.run("new", "bridle", "--ask", stdin=b"\xff\xfe pump\n" + b"\n" * 20)
count.check(status == 0 and "Untitled" in plan and messages.count("What is lifted") == 2, "a title that is not UTF-8")

# what was typed is not echoed raw
status, plan, messages = becket.run("new", "bridle", "--ask", stdin="\n\x1b]0;x\x07\n2 \x1b[2J\n" + "\n" * 20)
count.check(status == 0 and "\\x1b" in messages and not set(messages) & set("\x1b\x07"), "control characters: %r" % messages[:400])

with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "plan.yaml")
    status, out, messages = becket.run("new", "bridle", "-o", path)
    first = open(path, encoding="utf-8").read()
    count.check(status == 0 and not out and first == becket.run("new", "bridle")[1], "-o: another plan than on standard output")
    status, out, messages = becket.run("new", "spreader", "--ask", "-o", path, stdin="\n" * 20)
    count.check(status == 2 and "BK-402" in messages and "]: " not in messages, "-o: over a file that is there: %d %s" % (status, messages))
    count.check(open(path, encoding="utf-8").read() == first, "-o: a plan was overwritten")

for arguments, word in [([], "bridle"), (["bridel"], "nearest: bridle"), (["zebra"], "hanging-truss"), ([""], "one of"), (["bridle", "runway"], "one of"), (["bridle", "--aks"], "--ask")]:
    status, out, messages = becket.run("new", *arguments)
    count.check(status == 2 and not out and word in messages, "new %s: %d %s" % (arguments, status, messages))
count.finish()
