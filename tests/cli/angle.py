#!/usr/bin/python3
"""becket angle: edges, figures by hand, what is refused, widths, colour.

    angle.py BECKET
"""
import math
import re
import sys

from kit import Becket, Count

G = 9.80665  # 3rd CGPM, 1901
becket, count = Becket(sys.argv[1]), Count()


def angle(*arguments, columns=100, **env):
    return becket.run("angle", *arguments, env={"COLUMNS": str(columns), **env})


# figures: equal legs from one hook, pull = load / (n cos beta): statics of the hook
for degrees in [0, 17.3, 41, 59.99, 75, 89, 89.99]:
    _, out, _ = angle("--load", "7.31 t", "--legs", "3", "--angle", "%r deg" % degrees, "--from", "vertical")
    line = re.search(r"^  3 +(\S+) (N|kN|MN) +(\S+) t +(\S+) (N|kN|MN) ", out, re.M)
    scale = {"N": 1, "kN": 1e3, "MN": 1e6}
    pull = 7310 * G / 3 / math.cos(math.radians(degrees))
    side = pull * math.sin(math.radians(degrees))
    if count.check(line, "%s degrees:\n%s" % (degrees, out[:600])):
        have = [float(line[1]) * scale[line[2]], 1000 * float(line[3]) * G, float(line[4]) * scale[line[5]]]
        count.check(all(abs(h - w) <= 6e-4 * w + 0.5 for h, w in zip(have, [pull, pull, side])), "%s degrees: %s, want %s, %s" % (degrees, have, pull, side))
    # an angle is never rounded to level
    told = re.search(r"^  (\S+) degrees from the vertical, (\S+) from the horizontal", out, re.M)
    count.check(float(told[1]) < 90 and float(told[2]) > 0 and abs(float(told[1]) - degrees) < 0.06, "%s degrees: told %s" % (degrees, told[0]))

# both datums, height and length lead to the same leg: 30 from the vertical, 60 from the horizontal, 1 : sqrt(3) : 2
same = [["--angle", "30 deg", "--from", "vertical"], ["--angle", "60 deg", "--from", "horizontal"],
        ["--height", "%.9f m" % math.sqrt(3), "--spread", "2 m"], ["--length", "2 m", "--spread", "2 m"],
        ["--length", "78.740157480 in", "--spread", "2000 mm"]]
outs = {angle("--load", "3 t", *a)[1] for a in same}
count.check(len(outs) == 1 and "115 %" in outs.pop(), "datums disagree")

# a sling's end: 2 t on two legs of 1.3 t is used up at acos(1/1.3) = 39.7 degrees
_, out, _ = angle("--load", "2 t", "--sling", "1.3 t")
count.check("used up at 39.7 degrees from the vertical (50.3 from the horizontal)" in " ".join(out.split()), out[-700:])

for arguments, want in [(["--angle", "0 deg", "--from", "vertical"], 0), (["--angle", "90 deg", "--from", "horizontal"], 0),
                        (["--angle", "60 deg", "--from", "vertical"], 0), (["--angle", "60.1 deg", "--from", "vertical"], 1),
                        (["--load", "2 t", "--sling", "1 t"], 0), (["--load", "2 t", "--sling", "0.99 t"], 1),
                        (["--load", "2 t", "--sling", "1.3 t", "--angle", "39 deg", "--from", "vertical"], 0),
                        (["--load", "2 t", "--sling", "1.3 t", "--angle", "40 deg", "--from", "vertical"], 1)]:
    status, out, messages = angle(*arguments)
    count.check(status == want and out and not messages, "%s: status %d %s" % (arguments, status, messages))

for arguments, words in [
        (["--angle", "30 deg"], ["from what", "--from vertical", "--from horizontal"]),
        (["--angle", "90 deg", "--from", "vertical"], ["upright and level"]), (["--angle", "0 deg", "--from", "horizontal"], ["upright and level"]),
        (["--angle", "120 deg", "--from", "vertical"], ["upright and level"]), (["--angle", "-5 deg", "--from", "vertical"], ["more than nothing"]),
        (["--angle", "30", "--from", "vertical"], ["unit"]), (["--angle", "30 deg", "--from", "above"], ["vertical or horizontal"]),
        (["--height", "3", "m", "--spread", "2 m"], ["quotes"]),
        (["--from", "vertical"], ["--angle"]), (["--height", "1 m"], ["--spread"]), (["--spread", "1 m"], ["--height"]),
        (["--height", "1 m", "--length", "2 m", "--spread", "1 m"], ["one of"]), (["--length", "1 m", "--spread", "2 m"], ["do not meet"]),
        (["--angle", "30 deg", "--from", "vertical", "--spread", "1 m"], ["not both"]), (["--load", "0 t"], ["more than nothing"]),
        (["--load", "2 ton"], ["short_ton"]), (["--load", "2 t +/- 5 %"], ["tolerance"]), (["--load", "2 m"], ["force"]), (["--legs", "0"], ["1 to 8"]), (["--legs", "9"], ["1 to 8"]),
        (["--sling", "1 t"], ["--load"]), (["--rules", "eu"], ["eu"]), (["--units", "metric"], ["si or us"]), (["30"], ["options only"]),
        (["--lod", "2 t"], ["--load"])]:
    status, out, messages = angle(*arguments)
    count.check(status == 2 and not out and "BK-" in messages and all(w in messages for w in words), "%s: %d %s" % (arguments, status, messages))

# exactly at the limit: cos 60 is a half, so two legs at 60 degrees pull the whole load each; three upright ones a third
for legs, load, degrees, sling in [(2, "2 t", 60, "2 t"), (3, "3 t", 0.0001, "1.0000000001 t"), (2, "4410 lb", 60, "4410 lb"), (1, "0.7 t", 60, "1.4 t")]:
    status, out, _ = angle("--legs", str(legs), "--load", load, "--angle", "%s deg" % degrees, "--from", "vertical", "--sling", sling)
    count.check(status == 0 and "100 % used: within its limit" in out and "stops them" not in out, "%d legs, %s on %s: %d\n%s" % (legs, load, sling, status, out))
status, out, _ = angle("--legs", "2", "--load", "2.002 t", "--angle", "60 deg", "--from", "vertical", "--sling", "2 t")
count.check(status == 1 and "101 % used: OVER ITS LIMIT" in out, "over by a thousandth: %d\n%s" % (status, out))
for legs in range(1, 9):
    status, out, _ = angle("--legs", str(legs), "--equalised", "--load", "%d.3 t" % legs, "--sling", "%.17g kg" % ((legs + .3) * 1000 / legs))
    count.check("DO NOT LIFT" not in out, "%d upright legs at their limit:\n%s" % (legs, out))

# every width from a narrow window to a wide one; the words are there in all of them
for arguments in [["--lesson"], [], ["--load", "123.4 kN", "--legs", "8", "--height", "1.02 m", "--spread", "3.9 m", "--sling", "2.3 t"],
                  ["--load", "27000 lb", "--legs", "4", "--angle", "89.9 deg", "--from", "vertical", "--units", "us", "--rules", "us"]]:
    for columns in list(range(60, 121)) + [150, 200]:
        _, out, _ = angle(*arguments, columns=columns)
        wide = [line for line in out.splitlines() if len(line) > columns]
        count.check(not wide and "! not to be used" in out, "%s in %d columns: %s" % (arguments, columns, wide))

# colour only where it is asked for, and never the only carrier of a meaning
plain = angle()[1]
count.check("\033" not in plain, "colour in a file")
forced = angle(CLICOLOR_FORCE="1")[1]
count.check("\033" in forced and re.sub(r"\033\[\d*m", "", forced) == plain, "forced colour is not the plain text with colours")
count.check(angle(CLICOLOR_FORCE="1", NO_COLOR="1")[1] == plain, "NO_COLOR is not heeded")
count.finish()
