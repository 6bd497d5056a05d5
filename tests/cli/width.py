#!/usr/bin/python3
"""Every page fits the terminal, and no figure is lost where a table is cut: the words are the same in every width.

    width.py BECKET
"""
import glob
import re
import sys

from kit import TOP, Becket, Count

becket, count = Becket(sys.argv[1]), Count()
plans = sorted(glob.glob(TOP + "/examples/*.yaml")) + [
    TOP + "/tests/acceptance/good/%s.yaml" % name for name in ["truss-on-8", "runway-us", "hoist-overloaded", "truss-tolerances-many"]]

for path in plans:
    for arguments in [["check"], ["check", "--cases"], ["explain"], ["duty"], ["level"], ["hooks"]]:
        pages = {}
        for columns in [60, 80, 100, 999]:
            status, out, _ = becket.run(*arguments, path, env={"COLUMNS": str(columns)})
            wide = [line for line in out.splitlines() if len(line) > columns]
            count.check(not wide, "%s %s in %d columns: %s" % (arguments, path, columns, wide[:2]))
            pages[columns] = "".join(out.split())
            count.check(out or arguments[0] in ("duty", "level", "hooks"), "%s %s: nothing" % (arguments, path))
        # a page is broken elsewhere, but holds the same characters, save for names that are told again
        for columns in [60, 80, 100]:
            count.check(len(pages[columns]) >= len(pages[999]) and set(pages[columns]) == set(pages[999]),
                        "%s %s in %d columns lacks something" % (arguments, path, columns))

# several hooks: on every row the shares of all hooks make up the whole weight
out = becket.run("hooks", TOP + "/tests/acceptance/good/truss-on-8.yaml", env={"COLUMNS": "999"})[1]
rows = re.findall(r"^ +(\d[\d.]*) (mm|m) +(\d[\d.]*) +(.*N +\d+ %)$", out, re.M)
count.check(len(rows) == 8 * 9, "%d rows of hooks" % len(rows))
for row in rows:
    shares = [int(x) for x in re.findall(r"(\d+) %", row[3])]
    count.check(len(shares) == 8 and abs(sum(shares) - 100) <= 4, "shares %s" % shares)
count.finish()
