#!/usr/bin/python3
"""What a keeper reads off `becket duty`: a date that is past says so, measured gear is there, and the exit status is that of
what is shown.

    duty.py BECKET
"""
import sys

import kit

becket = kit.Becket(sys.argv[1])
count = kit.Count()

PLAN = """becket: 1
title: DEMO keeper's log, Ostrel water works
date: %s
hoists:
  north:
    part: hoist-demo/2t
    duty: {cycles_per_hour: 12, mean_lift: 4 m, hours_per_day: 8, days_per_year: 220, in_service: 18 months, service: heavy,
           loads: [{of_rated: 50 %%, time: 100 %%}], inspected: 2025-06-01,
           meter: [{date: 2024-09-01, on_time: 0 h}, {date: 2026-03-01, on_time: 400 h}]}
%s
"""
CHAIN = "inspect: {chain: {what: hoist chain, diameter: {new: 7 mm, measured: %s}}}"
RUNWAY = """
runways:
  bay: {section: ipe/%s, steel: en10025-2/S275, ends: [0 m, 6 m], supports: [{at: 0 m, limit: %s}, {at: 6 m, limit: 90 kN}],
        trolleys: {t: {hoist: north, travel: [0.5 m, 5.5 m], wheels: 4, wheel_base: 0.3 m, wheel_to_edge: 20 mm, mass: 30 kg}}}
  bay2: {section: ipe/300, steel: en10025-2/S275, ends: [0 m, 6 m], supports: [{at: 0 m}, {at: 6 m}],
        trolleys: {t: {load: 200 kN, travel: [0.5 m, 5.5 m], wheels: 4, wheel_base: 0.3 m, wheel_to_edge: 20 mm, mass: 30 kg}}}
"""


def duty(date="2025-07-01", more=""):
    return becket.run("duty", "-", stdin=PLAN % (date, more))


status, out, err = duty()
count.check(status == 0 and not err and "OVERDUE" not in out and "MEASURED" not in out, "nothing is due: %d\n%s" % (status, out))
# half a year after the inspection of 2025-06-01 is 2025-11-30, a year after it 2026-06-01
for date, past in (("2025-11-30", 0), ("2025-12-01", 1), ("2026-06-02", 5)):
    status, out, _ = duty(date)
    count.check(status == 0 and out.count("OVERDUE") == past, "on %s: %d overdue, want %d\n%s" % (date, out.count("OVERDUE"), past, out))

# 10 % of a link's mean diameter may be gone (EN 818-7, memory): 0.5 of 7 mm is kept, 1.5 is not
for measured, want in (("6.5 mm", 0), ("5.5 mm", 1)):
    status, out, _ = duty(more=CHAIN % measured)
    count.check(status == want and "MEASURED GEAR" in out and ("DISCARD" in out) == bool(want), "%s: %d\n%s" % (measured, status, out))

for size, limit, want in (("500", "90 kN", 0), ("80", "90 kN", 1), ("500", "2 kN", 1)):
    status, out, _ = duty(more=RUNWAY % (size, limit))
    count.check(status == want and ("FAIL" in out) == bool(want) and "bay2" not in out, "ipe/%s, %s: %d\n%s" % (size, limit, status, out))

# a spectrum with loads over the rated capacity, 2 t: light work for the group, and no leave to lift them
for share, want in (("100 %", 0), ("110 %", 1)):
    status, out, _ = becket.run("duty", "-", stdin=PLAN.replace("{of_rated: 50 %%, time: 100 %%}", "{of_rated: %s%%, time: 5 %%%%}, {of_rated: 0 %%%%, time: 95 %%%%}" % share)
                                % ("2025-07-01", ""))
    count.check(("greatest load of the duty" in out) == bool(want) and status == want, "%s: %d\n%s" % (share, status, out))

# a word that is none is told, log or no log
for log in ("", ", meter: {on_time: 5 h}"):
    status, out, err = becket.run("check", "-", stdin="becket: 1\nhoists: {n: {part: hoist-demo/2t, duty: {recorded: guess%s}}}\n" % log)
    count.check(status == 2 and not out and "BK-207" in err and "counters" in err, "recorded: guess: %d %s" % (status, err))

count.finish()
