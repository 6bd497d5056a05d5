#!/usr/bin/env python3
"""Mistakes that a table's formula, a command line or a folder of settings can hold: each told in words, with its number,
and nothing printed beside it.

    mistakes.py BECKET
"""
import os
import sys
import tempfile

from kit import Becket, Count

TABLE = """becket_table: 1
title: invented bars
source: invented
mark: demo
columns: {size: name, width: mm, wll: kN, word: text}
rows:
  - [7, 7, 0.49, a]
  - [13, 13, 1.69, b]
"""
# a force is 10 N/mm2 times the width squared: 7 mm carry 490 N
SOUND = ["{column: wll, of: width, power: 2, times: [10 N/mm2]}",
         "[{column: wll, of: width, power: 2, times: [0.5, 20 MPa]}]",
         "{column: wll, of: width, power: 2, times: [1.01971621 kg/mm2], tolerance: 0.1 %}",  # a mass for the force of its weight
         "{column: wll, of: width, power: 2, times: [11 N/mm2], tolerance: 10 %}"]
WRONG = [  # formula, number of the message, words of it
    ("wll = 3", 203, "want {column"),
    ("{}", 202, "want column"),
    ("{column: wll}", 202, "want of"),
    ("{column: [wll], of: width, power: 2, times: [10 N/mm2]}", 203, "column"),
    ("{column: wll, of: witdh, power: 2, times: [10 N/mm2]}", 204, 'no column "witdh"'),
    ("{column: wll, of: size, power: 2, times: [10 N/mm2]}", 204, 'no column "size"'),
    ("{column: wll, of: word, times: [10 N]}", 132, "columns of this table with figures"),
    ("{column: wll, of: width, power: 2}", 202, "want times"),
    ("{column: wll, of: width, power: 2, times: []}", 202, "want times"),
    ("{column: wll, of: width, power: 2, times: 10 N/mm2}", 202, "want times"),
    ("{column: wll, of: width, power: 2, times: [much]}", 130, 'found "much"'),
    ("{column: wll, of: width, power: 2, times: [~]}", 130, "want a number"),
    ("{column: wll, of: width, power: 2, times: [10 N/furlong2]}", 133, "furlong"),
    ("{column: wll, of: width, power: 1, times: [10 N/mm2]}", 132, "but column wll holds a force"),
    ("{column: wll, of: width, power: 1.5, times: [10 N/mm2]}", 206, "whole power"),
    ("{column: wll, of: width, power: 4, times: [10 N/mm2]}", 206, "power from 1 to 3"),
    ("{column: wll, of: width, power: 2 mm, times: [10 N/mm2]}", 206, "power from 1 to 3"),
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], tolerance: 2}", 206, "tolerance from 0 to 1"),
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], tolerance: -1 %}", 206, "tolerance from 0 to 1"),
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], round: R7}", 207, "round: R40"),
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], round: [R40]}", 207, "round: R40"),
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], colour: red}", 201, "colour"),
    ("{column: wll, of: width, power: 2, times: [11 N/mm2]}", 206, 'wll of row "7" is 0.49 kN, but the table\'s formula gives 0.539 kN'),
    # ISO 3, R40: 4.5, 4.75, 5
    ("{column: wll, of: width, power: 2, times: [10 N/mm2], round: R40}", 206, 'wll of row "7" is 0.49 kN, but the table\'s formula gives 0.475 kN'),
    ("[" + ", ".join(["{column: wll, of: width, power: 2, times: [10 N/mm2]}"] * 200) + "]", 102, "formula"),
]

# a set of one's own that changes something of the European one
RULES = """becket_rules: 1
title: of the works
source: works
mark: user
extends: en
"""
SOUND_RULES = ["values: {angle.max_from_vertical: {value: 50 deg, source: works, mark: user}}",
               "values: {angle.max_from_vertical: 50 deg}",
               "bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 deg, 0.5], [90 deg, ~, 0.7]]}}"]
WRONG_RULES = [  # what follows, number of the message, words of it
    ("values: [1, 2]", 203, "values: want a map"),
    ("values: {angle.max_from_vertical: ~}", 206, "has no value"),
    ("values: {angle.max_from_vertical: {source: works}}", 202, "want value"),
    ("values: {angle.max_from_vertical: {value: [50 deg]}}", 203, "angle.max_from_vertical"),
    ("values: {angle.max_from_vertical: {value: steep}}", 132, "want another angle"),
    ("values: {angle.max_from_vertical: {value: -50 deg}}", 206, "no value below zero"),
    ("values: {angle.max_from_vertical: {value: 50 deg, from: here}}", 201, "from"),
    ("values: {angle.max_from_vertical: {value: 50 mm}}", 132, "want another angle"),
    ("bands: [1]", 203, "bands: want a map"),
    ("bands: {choke.angle: 0.5}", 203, "choke.angle: want {of"),
    ("bands: {choke.angle: {source: works, rows: [[0 deg, 90 deg, 0.5]]}}", 202, "want of: angle"),
    ("bands: {choke.angle: {of: colour, source: works, rows: [[0 deg, 90 deg, 0.5]]}}", 207, "want of: angle"),
    ("bands: {choke.angle: {of: angle, source: works}}", 222, "want rows or points"),
    ("bands: {choke.angle: {of: angle, source: works, rows: []}}", 222, "want rows or points"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 deg, 1]], points: [[0 deg, 1]]}}", 222, "one of the two"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 deg]]}}", 222, "want rows [from, to, factor]"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [half]}}", 222, "want rows [from, to, factor]"),
    ("bands: {choke.angle: {of: angle, source: works, points: [[0 deg, 90 deg, 1]]}}", 222, "want points [value, factor]"),
    ("bands: {choke.angle: {of: angle, source: works, points: [[~, 1]]}}", 206, "a point of a curve wants a value"),
    ("bands: {choke.angle: {of: angle, source: works, points: [[0 deg, ~]]}}", 206, "a point of a curve wants a factor"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 m, 1]]}}", 132, "choke.angle"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 deg, -1]]}}", 206, "not below zero"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 90 deg, 1 m]]}}", 132, "choke.angle"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[90 deg, 0 deg, 1]]}}", 206, "want rising bands"),
    ("bands: {choke.angle: {of: angle, source: works, rows: [[0 deg, 60 deg, 1], [50 deg, 90 deg, 0.5]]}}", 206, "do not overlap"),
    ("bands: {choke.angle: {of: angle, source: works, points: [[9 deg, 1], [3 deg, 0.5]]}}", 206, "want rising points"),
]


def main():
    becket, count = Becket(sys.argv[1]), Count()
    with tempfile.TemporaryDirectory(prefix="becket-mistakes-") as folder:
        path = os.path.join(folder, "bars.yaml")

        def check(formula):
            with open(path, "w") as file:
                file.write(f"{TABLE}formula: {formula}\n")
            return becket.run("tables", "--check", path)
        for formula in SOUND:
            status, out, err = check(formula)
            count.check(status == 0 and not err, f"{formula}: {status} {err}")
        for formula, number, words in WRONG:
            status, out, err = check(formula)
            count.check(status == 2 and not out and f"BK-{number}" in err and words in err, f"{formula[:90]}: {status} {err[:300]}")

        works = os.path.join(folder, "works.yaml")
        for more, number, words in [(more, 0, "") for more in SOUND_RULES] + WRONG_RULES:
            with open(works, "w") as file:
                file.write(RULES + more + "\n")
            status, out, err = becket.run("tables", "--check", works)
            good = status == 0 and not err if not number else status == 2 and not out and f"BK-{number}" in err and words in err
            count.check(good, f"{more}: {status} {err[:300]}")

        # the command line
        for arguments, words in ((["check", "--tables"], "--tables wants a value"), (["check", "--json=yes"], "--json takes no value"),
                                 (["check", "-x"], "unknown option -x"), (["check", "--tabels", "."], "nearest: --tables"),
                                 (["check", *["--tables", "."] * 20, "-"], "at most"), (["check", "--tables", path], "want a folder"),
                                 (["tables", "--units", "metric", "heb"], "want si or us")):
            status, out, err = becket.run(*arguments)
            count.check(status == 2 and not out and "BK-401" in err and words in err, f"{arguments[:3]}: {status} {err[:200]}")

        # tables of one's own: named by the settings, before those shipped
        settings = os.path.join(folder, "becket", "tables")
        os.makedirs(settings)
        with open(os.path.join(settings, "mybars.yaml"), "w") as file:
            file.write(TABLE)
        for env, found in (({"XDG_CONFIG_HOME": folder}, True), ({"XDG_CONFIG_HOME": "relative"}, False), ({"XDG_CONFIG_HOME": ""}, False),
                           ({"HOME": folder}, False), ({"HOME": ""}, False), ({"BECKET_TABLES": ""}, False)):
            status, out, err = becket.run("tables", "mybars", env=env)
            count.check((status == 0 and "0.49" in out) if found else (status == 2 and "BK-220" in err), f"{env}: {status} {err[:200]}")
        os.makedirs(os.path.join(folder, ".config"))
        os.rename(os.path.join(folder, "becket"), os.path.join(folder, ".config", "becket"))
        status, out, err = becket.run("tables", "mybars", env={"HOME": folder})
        count.check(status == 0 and "0.49" in out, f"HOME: {status} {err[:200]}")

        # colour and width are for terminals, unless they are asked for
        plan = "examples/two-leg-bridle.yaml"
        for env, coloured in (({}, False), ({"CLICOLOR_FORCE": "1"}, True), ({"CLICOLOR_FORCE": "0"}, False), ({"CLICOLOR_FORCE": ""}, False),
                              ({"CLICOLOR_FORCE": "1", "NO_COLOR": "1"}, False), ({"CLICOLOR_FORCE": "1", "NO_COLOR": ""}, True)):
            status, out, err = becket.run("check", plan, env=env)
            count.check(status in (0, 1) and ("\033[" in out) == coloured, f"{env}: colour")
        lines = {columns: becket.run("check", plan, env={"COLUMNS": columns})[1].count("\n") for columns in ("70", "100", "0", "-5", "many", "99999")}
        count.check(lines["70"] > lines["100"] == lines["0"] == lines["-5"] == lines["many"] == lines["99999"], f"width: {lines}")
    count.finish()


if __name__ == "__main__":
    main()
