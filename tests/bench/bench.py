#!/usr/bin/python3
"""Becket's speed beside public means, in one run: a table of ratios with the goal of each.

    bench.py BUILD

scipy, CalculiX and `true` are measured beside Becket, so that a ratio means the same on any machine; what is not
installed is left out.  Times are of the processor, save those of two threads and of CalculiX.  Growth is the slope of
log time over log size.  Prints, asserts nothing.
"""
import math
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time

import bench_plans

G = 9.80665
BUILD = os.path.abspath(sys.argv[1])
TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
BECKET = BUILD + "/becket"
os.environ["BECKET_TABLES"] = TOP + "/tables"


# ---- scipy ------------------------------------------------------------------------------------------------------

def scipy_seconds(energy, start, repeats):
    """Median processor time of BFGS with the exact slope, and the largest slope it stopped at over the weight."""
    from scipy.optimize import minimize
    times = []
    for _ in range(repeats):
        before = time.process_time()
        found = minimize(energy, start, jac=True, method="BFGS", options={"gtol": 1e-10, "maxiter": 20000})
        times.append(time.process_time() - before)
    return statistics.median(times), abs(found.jac).max()


def turn_of(r):
    """Rotation of the vector r, and the left Jacobian of the rotation group there."""
    import numpy as np
    angle = np.sqrt(r @ r) + 1e-30
    x, y, z = r / angle
    K = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    K2 = K @ K
    s, c = np.sin(angle), np.cos(angle)
    return np.eye(3) + s * K + (1 - c) * K2, np.eye(3) + (1 - c) / angle * K + (1 - s / angle) * K2


def four_legs():
    import numpy as np
    cog = np.array([1.35, 0.20, 0.70])
    points = np.array([[0.1, 0.9, 1.2], [2.3, 0.9, 1.2], [0.1, -0.8, 1.2], [2.3, -0.8, 1.2]])
    hook, ea, weight = np.array([1.10, 0.05, 4.0]), 5e6, 3600 * G
    rest = np.linalg.norm(points - hook, axis=1)

    def energy(x):
        turn, left = turn_of(x[3:])
        arms = (points - cog) @ turn.T
        way = hook - (x[:3] + arms)
        length = np.sqrt((way * way).sum(1))
        t = np.maximum(ea / rest * (length - rest), 0)
        pull = (t / length)[:, None] * way
        force = np.array([0, 0, weight]) - pull.sum(0)
        moment = -np.cross(arms, pull).sum(0)
        return ((0.5 * t * t * rest / ea).sum() + weight * x[2]) / weight, np.concatenate([force, left.T @ moment]) / weight

    return energy, np.concatenate([cog, np.zeros(3)])


def any_rig(text):
    """Energy and slope of the rig that `bench_statics rig` prints, all lines at once."""
    import numpy as np
    rows = [line.split() for line in text.splitlines()]
    bodies = np.array([row[1:] for row in rows if row[0] == "body"], float)
    lines = np.array([row[1:] for row in rows if row[0] == "line"], float)
    mass, cog, origin = bodies[:, 0], bodies[:, 1:4], bodies[:, 4:7]
    rest, ea = lines[:, 0], lines[:, 1]
    n, weight = len(mass), mass.sum() * G
    ends = []
    for first in (2, 6):
        on, at = lines[:, first].astype(int), lines[:, first + 1:first + 4]
        ends.append((on, np.flatnonzero(on >= 0), np.where((on >= 0)[:, None], at - cog[on], at)))

    def energy(x):
        place, vector = x[:3 * n].reshape(n, 3), x[3 * n:].reshape(n, 3)
        turns = [turn_of(r) for r in vector]
        turn, left = np.array([t[0] for t in turns]), np.array([t[1] for t in turns])
        world, arms = [], []
        for on, moving, at in ends:
            arm, w = np.zeros_like(at), at.copy()
            arm[moving] = np.einsum("ijk,ik->ij", turn[on[moving]], at[moving])
            w[moving] = place[on[moving]] + arm[moving]
            world.append(w)
            arms.append(arm)
        way = world[1] - world[0]
        length = np.sqrt((way * way).sum(1))
        t = np.maximum(ea / rest * (length - rest), 0)
        pull = (t / length)[:, None] * way
        force, moment = np.zeros((n, 3)), np.zeros((n, 3))
        force[:, 2] = mass * G
        for (on, moving, _), arm, sign in zip(ends, arms, (-1, 1)):
            np.add.at(force, on[moving], sign * pull[moving])
            np.add.at(moment, on[moving], sign * np.cross(arm[moving], pull[moving]))
        slope = np.concatenate([force.ravel(), np.einsum("ikj,ik->ij", left, moment).ravel()])
        return ((0.5 * t * t * rest / ea).sum() + G * (mass * place[:, 2]).sum()) / weight, slope / weight

    return energy, np.concatenate([(origin + cog).ravel(), np.zeros(3 * n)])


# ---- processes --------------------------------------------------------------------------------------------------

def processes(commands, rounds):
    """Median processor seconds of each, run in turn; and the most memory of each, in MB.  A child counts the memory of
    the process that starts it, so this one must be small still: nothing large is imported before."""
    silence = [(os.POSIX_SPAWN_OPEN, 1, "/dev/null", os.O_WRONLY, 0), (os.POSIX_SPAWN_OPEN, 2, "/dev/null", os.O_WRONLY, 0)]
    times, memory = [[] for _ in commands], [0] * len(commands)
    for turn in range(rounds + 3):
        for i, command in enumerate(commands):
            child = os.posix_spawnp(command[0], command, os.environ, file_actions=silence)
            usage = os.wait4(child, 0)[2]
            if turn >= 3:
                times[i].append(usage.ru_utime + usage.ru_stime)
            memory[i] = usage.ru_maxrss / 1024
    return [statistics.median(t) for t in times], memory


def growth(sizes, seconds):
    """Least-squares slope in log-log."""
    x, y = [math.log(s) for s in sizes], [math.log(s) for s in seconds]
    mx, my = sum(x) / len(x), sum(y) / len(y)
    return sum((a - mx) * (b - my) for a, b in zip(x, y)) / sum((a - mx) ** 2 for a in x)


TABLE = []


def row(what, measured, goal):
    TABLE.append((what, measured, goal))


def statics():
    out = subprocess.run([BUILD + "/tests/bench/bench_statics"], capture_output=True, text=True, check=True).stdout
    print(out)
    s = {line.split()[0]: float(line.split()[1]) for line in out.splitlines()}
    rig = subprocess.run([BUILD + "/tests/bench/bench_statics", "rig"], capture_output=True, text=True, check=True).stdout
    try:
        one, left = scipy_seconds(*four_legs(), 15)
        row("pose of four legs, cold, against scipy BFGS", "1/%.0f" % (one / s["cold"]), "1/800")
        row("  the same, centre of gravity moved 1 cm", "1/%.0f" % (one / s["warm"]), "1/1600")
        many, far = scipy_seconds(*any_rig(rig), 1)
        row("pose of 30 bodies and 99 lines, cold, against scipy BFGS", "1/%.0f" % (many / s["rig30"]), "-")
        print("scipy BFGS: four legs %.3g s, left %.1e of the weight; 30 bodies %.3g s, left %.1e" % (one, left, many, far))
    except ImportError:
        print("scipy is not installed: no ratio to it")
    row("worst of every figure, 8 tolerances, against 256 corners", "%.1f" % (s["envelope"] / s["corners"]), "1.4")
    row("256 corners, against 256 cold solves", "%.2f" % (s["corners"] / 256 / s["cold"]), "0.6")
    row("a million random scenarios, s of processor (two threads: times as fast)",
        "%.2f (%.2f)" % (s["scenarios"], s["one-thread"] / s["two-threads"]), "2.2 (1.9)")
    for kind, goal in (("row", "1.3"), ("grid", "-")):
        found = {int(k[len(kind):]): v for k, v in s.items() if re.fullmatch(kind + r"\d+", k)}
        row("growth of a pose with bodies, %s of %s" % (kind, ", ".join(map(str, found))), "%.2f" % growth(found, found.values()), goal)


def runways():
    out = subprocess.run([BUILD + "/tests/bench/bench_runway"], capture_output=True, text=True, check=True).stdout
    print("\n" + out)
    spans = {}
    for line in out.splitlines():
        cells = line.split()
        if len(cells) > 7 and cells[0].isdigit():
            if cells[1] == "3":
                row("runway, %s spans, 3 trolleys: all extremes against a sweep of 1000" % cells[0],
                    "1/%.0f" % (float(cells[4]) / float(cells[2])), "1/80")
            else:
                spans[int(cells[0])] = float(cells[2])
    ccx = re.search(r"\((\d+)x\)", out)
    if ccx:
        row("  the same against one state in CalculiX", "1/%s" % ccx[1], "-")
    row("growth of a runway with spans, %s" % ", ".join(map(str, spans)), "%.2f" % growth(spans, spans.values()), "2")


def whole(folder):
    def becket(*arguments):
        return [BECKET, *arguments]

    bridle, legs = TOP + "/examples/two-leg-bridle.yaml", TOP + "/examples/four-leg-off-centre.yaml"
    names = ["--version", "check --as-drawn, two legs, four tables", "check --as-drawn, four legs", "check, two legs with tolerances",
             "angle, a PDF of one page", "draw, a PDF of three pages", "draw, an SVG of three pages", "draw, a PNG of three pages"]
    goals = ["1.3", "4", "4", "-", "20", "-", "-", "-"]
    commands = [["true"], [BECKET, "--version"], becket("check", "--json", bridle, "--as-drawn"),
                becket("check", "--json", legs, "--as-drawn"), becket("check", "--json", bridle),
                becket("angle", "--load", "2 t", "--angle", "40 deg", "--from", "vertical", "-o", folder + "/a.pdf"),
                becket("draw", bridle, "--as-drawn", "-o", folder + "/s.pdf"),
                becket("draw", bridle, "--as-drawn", "-o", folder + "/s.svg"),
                becket("draw", bridle, "--as-drawn", "-o", folder + "/s.png")]
    times, _ = processes(commands, 60)
    for name, seconds, goal in zip(names, times[1:], goals):
        row("becket %s, against true" % name, "%.1f" % (seconds / times[0]), goal)
    row("a page of a PNG at 150 dpi, ms", "%.0f" % (times[-1] / 3 * 1e3), "40")

    sizes, plans = [], []
    for wide, deep in ((5, 6), (10, 10), (19, 18)):
        text, n = bench_plans.grid(wide, deep)
        plans.append("%s/grid%d.yaml" % (folder, n))
        sizes.append(n)
        with open(plans[-1], "w") as f:
            f.write(text)
    times, memory = processes([becket("check", "--json", plan, "--as-drawn") for plan in plans], 5)
    row("becket check of a hanging grid of %d lines, s" % sizes[-1], "%.3f, %.0f MB" % (times[-1], memory[-1]), "50 MB")
    row("growth of a whole check with lines, %s" % ", ".join(map(str, sizes)), "%.2f" % growth(sizes, times), "1.3")
    times, cases = [], []
    for n in (4, 8, 12):
        plan = "%s/cases%d.yaml" % (folder, n)
        with open(plan, "w") as f:
            f.write(bench_plans.legs(n))
        times.append(processes([becket("check", "--json", plan)], 3)[0][0])
        cases.append(2 ** n)
    row("growth of a check with corners, 2^4, 2^8, 2^12", "%.2f" % growth(cases, times), "1")


def main():
    load = os.getloadavg()[0]
    with tempfile.TemporaryDirectory() as folder:
        whole(folder)
    statics()
    runways()
    print()
    width = max(len(what) for what, _, _ in TABLE)
    print("%-*s  %16s  %10s" % (width, "what", "measured", "goal"))
    for line in TABLE:
        print("%-*s  %16s  %10s" % (width, *line))
    print("\nload average %.2f before, %.2f after, %d processors" % (load, os.getloadavg()[0], os.cpu_count()))


main()
