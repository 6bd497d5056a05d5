#!/usr/bin/python3
"""No plan of an allowed size takes long, and none is judged by a search that was cut short.

    bounds.py --becket BECKET --tables DIR

Each plan gets CPU_S seconds of processor time and MEMORY bytes; what is expected is its exit status and a word of its answer.
"""
import argparse
import math
import os
import random
import resource
import subprocess
import sys
import tempfile

CPU_S = 60
MEMORY = 1 << 30


def bridles(n, tolerances):
    """n four-leg slings beside each other."""
    length, mass, cog = (" ± 10 mm", " ± 5 %", " ± 0.1 m") if tolerances else ("", "", "")
    text = ["becket: 1", "bodies:"]
    text += [f"  b{i}: {{mass: 3 t{mass}, cog: 0.1 0.05 0 m{cog}, at: {5 * i} 0 0 m, "
             "points: {a: 1 1 1 m, b: 1 -1 1 m, c: -1 1 1 m, d: -1 -1 1 m}}" for i in range(n)]
    text += ["anchors:"] + [f"  h{i}: {{at: {5 * i} 0 4 m}}" for i in range(n)]
    text += ["lines:"] + [f"  l{i}{p}: {{from: h{i}, to: b{i}.{p}, length: 3.3 m{length}, ea: 5 MN}}" for i in range(n) for p in "abcd"]
    return text


def chain(n):
    """n bodies, one under the other."""
    text = ["becket: 1", "bodies:"]
    text += [f"  b{i}: {{mass: 10 kg, cog: 0.01 0 -0.1 m, at: 0 0 {-2 * i} m, points: {{t: 0 0 0.3 m, u: 0.02 0 -0.3 m}}}}" for i in range(n)]
    text += ["anchors: {a: {at: 0 0 2 m}}", "lines:", "  l0: {from: a, to: b0.t, ea: 1 MN}"]
    return text + [f"  l{i}: {{from: b{i - 1}.u, to: b{i}.t, ea: 1 MN}}" for i in range(1, n)]


def truss(n, tolerance):
    """One body on n hoists of nearly the same length."""
    text = ["becket: 1", "bodies:", "  t:", "    mass: 8 t ± 5 %", f"    cog: {n - 1} 0.1 -0.4 m", "    points:"]
    text += [f"      p{i}: {2 * i} {0.3 * (i % 2)} 0 m" for i in range(n)]
    text += ["anchors:"] + [f"  a{i}: {{at: {2 * i} {0.3 * (i % 2)} {6 + 0.001 * math.sin(3 * i):.6f} m}}" for i in range(n)]
    return text + ["lines:"] + [f"  l{i}: {{from: a{i}, to: t.p{i}, length: 6 m{tolerance}, ea: 3 MN, parts: [chain-en818-4/10]}}" for i in range(n)]


def tangle(n):
    """n rings, each tied to others by chance: no order of elimination is cheap."""
    chance = random.Random(1)
    text = ["becket: 1", "bodies: {w: {mass: 100 kg, cog: 0 0 -0.2 m, at: 0 0 -9 m, points: {p: 0 0 0 m}}}", "rings:"]
    text += [f"  r{i}: {{at: {chance.uniform(-5, 5):.4f} {chance.uniform(-5, 5):.4f} {chance.uniform(-5, 5):.4f} m, mass: 5 kg}}" for i in range(n)]
    text += ["anchors:"] + [f"  a{i}: {{at: {10 * math.cos(i):.4f} {10 * math.sin(i):.4f} 20 m}}" for i in range(4)]
    text += ["lines:", "  w: {from: r0, to: w.p, ea: 1 MN}"] + [f"  x{i}: {{from: a{i}, to: r{i}, ea: 1 MN}}" for i in range(4)]
    for i in range(1, n):
        text.append(f"  t{i}: {{from: r{chance.randrange(i)}, to: r{i}, ea: 1 MN}}")
        a, b = chance.sample(range(n), 2)
        text.append(f"  u{i}: {{from: r{a}, to: r{b}, ea: 1 MN}}")
    return text


def beam(spans, trolleys, loads=0):
    text = ["becket: 1", "runways:", "  bay:", "    section: ipe/300", "    steel: en10025-2/S275", f"    ends: [-0.5 m, {4 * spans + 0.5} m]",
            "    supports: [" + ", ".join(f"{4 * k} m" for k in range(spans + 1)) + "]",
            "    loads: [" + ", ".join(f"{{at: {4 * spans * k / loads:.3f} m, force: 10 N}}" for k in range(loads)) + "]", "    trolleys:"]
    return text + [f"      t{i}: {{load: {10 + i} kN, travel: [0 m, {4 * spans} m], wheels: 4, wheel_base: 0.2 m, wheel_to_edge: 20 mm, mass: 45 kg}}"
                   for i in range(trolleys)]


def strangers(n):
    """Four legs with eleven tolerances, and n anchors that hold nothing."""
    text = bridles(1, True)
    at = text.index("lines:")
    return text[:at] + [f"  s{i}: {{at: {i} 9 9 m}}" for i in range(n)] + text[at:]


PLANS = [  # what, plan, arguments, exit statuses, words of the answer
    ("a hundred bridles with tolerances", bridles(100, True), ["check", "--json"], (1,), '"verdict": "incomplete"'),
    ("six hundred of them", bridles(600, True), ["check", "--json"], (1,), "rig.tolerances"),
    ("the largest load of fifty bridles", bridles(50, True), ["check", "--largest"], (1,), "LARGEST LOAD"),
    ("a thousand bodies in a chain", chain(1000), ["check", "--json"], (1,), '"converged": true'),
    ("a truss on 36 hoists, too heavy", truss(36, " ± 20 mm"), ["check"], (1,), "LARGEST LOAD"),
    ("a truss on a thousand hoists", truss(1000, " ± 20 mm"), ["check", "--json"], (1,), "rig.tolerances"),
    ("levelling on a thousand hoists", truss(1000, ""), ["level"], (1,), "too many to change at once"),
    ("every one of a thousand lines lost", ["lose_a_line: yes"] + truss(1000, ""), ["check", "--json"], (1,), '"stable": true'),
    ("a small tangle", tangle(150), ["check", "--json"], (1,), '"converged": true'),
    ("a large tangle", tangle(2400), ["check"], (3,), "check it in parts"),
    ("too many things", chain(5000), ["check"], (2,), "BK-102"),
    ("a beam of three hundred spans", beam(300, 2), ["check", "--json"], (1,), '"reactions"'),
    ("a beam of five hundred spans under a thousand loads", beam(500, 1, 1000), ["check", "--json"], (1,), '"reactions"'),
    ("four legs among nine thousand anchors", strangers(9000), ["check", "--json"], (1,), '"tension_max_N"'),
    ("a beam with thirty trolleys", beam(30, 30), ["check", "--json"], (1,), '"reactions"'),
]


def limit():
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--becket", required=True)
    parser.add_argument("--tables", required=True)
    options = parser.parse_args()
    failed = 0
    with tempfile.TemporaryDirectory(prefix="becket-bounds-") as folder:
        for what, text, arguments, statuses, word in PLANS:
            path = os.path.join(folder, "plan.yaml")
            with open(path, "w", encoding="utf-8") as file:
                file.write("\n".join(text) + "\n")
            before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
            done = subprocess.run([options.becket, *arguments, path], capture_output=True, env=dict(os.environ, BECKET_TABLES=options.tables),
                                  preexec_fn=limit)
            took = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before
            out = (done.stdout + done.stderr).decode()
            good = done.returncode in statuses and word in out
            failed += not good
            print(f"{'ok    ' if good else 'FAILED'} {took:5.2f} s  status {done.returncode}  {what}" + ("" if good else ": " + out[:300]))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
