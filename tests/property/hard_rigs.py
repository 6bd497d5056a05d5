#!/usr/bin/python3
"""Numerically hard rigs by chance: the program answers each, or refuses and says what and why; never a wrong number.

    BECKET_TABLES=tables tests/property/hard_rigs.py --becket build/becket --rigs 300        (the suite runs a few)

At least seven of ten rigs of every class are answered.  An answer is held against the balance next to its printed pose, found in 80-bit arithmetic: Newton's method on the
true forces, the Hessian of tests/acceptance/acceptance_rig.py.  Where the program refuses, that module's descent of
the energy looks for a balance, and what it finds is counted.  Prints a table, a line a class.  Exit status 77: no numpy.
"""
import argparse
import collections
import json
import os
import re
import subprocess
import sys

try:
    import numpy as np
    import yaml
except ImportError:
    sys.exit(77)

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "acceptance"))
import acceptance_plan as reader     # noqa: E402
from acceptance_rig import Rig       # noqa: E402

L = np.longdouble
SHARE = 0.7                          # of the rigs of a class, at least, are answered
TOLERANCE = 1e-6                     # of the weight: a tension further off is a wrong number
G = 9.80665


# ---- plans ------------------------------------------------------------------------------------------

class Sheet:
    def __init__(self, rng):
        self.rng, self.at = rng, {}
        self.doc = {"becket": "1", "rules": "en", "bodies": {}, "rings": {}, "anchors": {}, "lines": {}}

    @staticmethod
    def place(v):
        return "%r %r %r m" % tuple(float(x) for x in v)

    def body(self, name, mass, cog, at, points):
        self.doc["bodies"][name] = {"mass": "%r kg" % float(mass), "cog": self.place(cog), "at": self.place(at),
                                    "points": {k: self.place(v) for k, v in points.items()}}
        for k, v in points.items():
            self.at[name + "." + k] = np.add(at, v)

    def ring(self, name, at, mass=0.0):
        self.doc["rings"][name] = {"at": self.place(at), "mass": "%r kg" % float(mass)}
        self.at[name] = np.array(at, float)

    def anchor(self, name, at):
        self.doc["anchors"][name] = {"at": self.place(at)}
        self.at[name] = np.array(at, float)

    def line(self, a, b, ea, off=0.0, length=None, mass=0.0):
        drawn = float(np.linalg.norm(self.at[b] - self.at[a]))
        name = "l%d" % len(self.doc["lines"])
        self.doc["lines"][name] = {"from": a, "to": b, "length": "%r m" % float((length or drawn) + off), "ea": "%r N" % float(ea),
                                   "mass": "%r kg" % float(mass)}
        return name

    def text(self):
        doc = {k: v for k, v in self.doc.items() if v}
        return yaml.safe_dump(doc, sort_keys=False, width=1000)


def bridle(s, mass, ea, n, size=1.0, error=0.0, at=(0, 0, 0)):
    rng = s.rng
    turn = np.linspace(0, 2 * np.pi, n, endpoint=False) + rng.uniform(-0.2, 0.2, n)
    points = {"p%d" % i: size * np.array([1.2 * np.cos(a), 0.8 * np.sin(a), 0.5]) for i, a in enumerate(turn)}
    s.body("load", mass, size * np.array([rng.uniform(-0.2, 0.2), rng.uniform(-0.15, 0.15), rng.uniform(-0.3, 0.2)]), at, points)
    s.anchor("hook", np.add(at, size * np.array([rng.uniform(-0.1, 0.1), rng.uniform(-0.1, 0.1), rng.uniform(2, 4)])))
    return [s.line("hook", "load.p%d" % i, ea(), off=size * error * rng.uniform(-1, 1)) for i in range(n)]


def stiffness(s):
    """a truss under apex bridles, stiffnesses a million apart, lengths as drawn, a little off or all slack"""
    rng = s.rng
    mass = 50 * 1000 ** rng.random()
    soft = mass * G * 20
    error = 0 if rng.random() < 0.4 else 0.001 * 100 ** rng.random()
    slack = 0 if rng.random() < 0.8 else rng.uniform(0.02, 0.5)
    n, length = rng.integers(2, 9), rng.uniform(4, 12)
    xs = np.linspace(-length / 2, length / 2, n)
    points = {}
    for i, x in enumerate(xs):
        points["a%d" % i], points["b%d" % i] = (x, -0.2, 0.2), (x, 0.2, 0.2)
    s.body("truss", mass, (0, 0, 0), (0, 0, 0), points)
    for i, x in enumerate(xs):
        s.ring("r%d" % i, (x, 0, 1), 2 * rng.integers(0, 2))
        s.ring("x%d" % i, (x, 0, 4), 3)
        s.anchor("a%d" % i, (x - rng.uniform(0.5, 3), rng.uniform(-1, 1), 6))
        s.anchor("b%d" % i, (x + rng.uniform(0.5, 3), rng.uniform(-1, 1), 6))
        for k, (a, b) in enumerate((("r%d", "truss.a%d"), ("r%d", "truss.b%d"), ("x%d", "r%d"), ("a%d", "x%d"), ("b%d", "x%d"))):
            off = (0.1 if k < 2 else 1) * error * rng.uniform(-1, 1) + (slack if k >= 2 else 0)
            s.line(a % i, b % i, soft * 1e6 ** rng.random(), off)


def stiff_legs(s):
    """legs of one bridle, one a million times as stiff as another"""
    mass = 100 * 100 ** s.rng.random()
    bridle(s, mass, lambda: mass * G * 20 * 10 ** s.rng.choice([0, 1, 3, 6]), s.rng.integers(3, 7), error=s.rng.choice([0, 0.003]))


def near_points(s):
    """points, rings and hooks a micrometre to a millimetre apart"""
    rng = s.rng
    mass = 100 * 100 ** rng.random()

    def ea():
        return mass * G * 30 * 100 ** rng.random()
    gap = 10 ** rng.uniform(-6, -3)
    near = rng.normal(size=3) * gap
    turn = np.linspace(0, 2 * np.pi, 4, endpoint=False) + 0.3
    points = {}
    for i, a in enumerate(turn):
        points["p%d" % i] = np.array([1.2 * np.cos(a), 0.8 * np.sin(a), 0.5])
        points["q%d" % i] = points["p%d" % i] + rng.normal(size=3) * gap
    s.body("load", mass, (rng.uniform(-0.2, 0.2), rng.uniform(-0.1, 0.1), 0), (0, 0, 0), points)
    s.anchor("hook", (0, 0, 3))
    s.anchor("hook2", np.array([0, 0, 3]) + near)
    if rng.random() < 0.5:           # a ring that hangs by a link as short as that
        s.ring("master", np.array([0, 0, 3]) - [0, 0, gap], rng.choice([0, 1]))
        s.line("hook", "master", ea())
        tops = ["master", "master"]
    else:
        tops = ["hook", "hook2"]
    for i in range(4):
        s.line(tops[0], "load.p%d" % i, ea(), rng.choice([0, 1e-3]) * rng.uniform(-1, 1))
        if rng.random() < 0.6:
            s.line(tops[1], "load.q%d" % i, ea())


def flat(s):
    """bridles that sag by half a degree to two degrees, also as drawn with no sag at all"""
    rng = s.rng
    mass = 50 * 100 ** rng.random()
    half = rng.uniform(2, 8)
    sag = half * np.tan(np.radians(rng.choice([0, rng.uniform(0.5, 2)])))
    z = 1 + sag
    s.body("load", mass, (rng.uniform(-0.1, 0.1), 0, -0.2), (0, 0, 0), {"p": (0, 0, 0.6)})
    s.ring("r", (0, 0, z), rng.choice([0, 1]))
    ea = mass * G * 100 * 1e3 ** rng.random()
    for name, side in (("a", -1), ("b", 1)):
        s.anchor(name, (side * half, rng.uniform(-0.5, 0.5), 1 + 2 * sag))
        for _ in range(rng.integers(1, 3)):
            s.line(name, "r", ea * rng.uniform(0.5, 2))
    s.line("r", "load.p", ea)


def redundant(s):
    """many legs and doubles of them, each as long as drawn to the last digit or one digit off"""
    rng = s.rng
    mass = 100 * 100 ** rng.random()
    ea = mass * G * 50 * 100 ** rng.random()
    bridle(s, mass, lambda: ea, rng.integers(5, 13))
    for name in list(s.doc["lines"]):
        line = s.doc["lines"][name]
        for _ in range(rng.integers(0, 4)):
            twin = s.line(line["from"], line["to"], ea)
            length = float(line["length"].split()[0])
            s.doc["lines"][twin]["length"] = "%r m" % float(np.nextafter(length, length + rng.integers(-1, 2)))


def edge(s, run):
    """a line exactly as long as the distance that the rest of the rig leaves it"""
    rng = s.rng
    mass = 100 * 100 ** rng.random()
    bridle(s, mass, lambda: mass * G * 30 * 1e3 ** rng.random(), rng.integers(3, 6), error=rng.choice([0, 0.002]))
    out = run(s.text())[1]
    if not out:
        return
    pose = out["rig"]["bodies"][0]
    r = rotation(pose["quaternion"])
    for k in range(rng.integers(1, 4)):
        at = rng.uniform(-1, 1, 3)
        s.doc["bodies"]["load"]["points"]["e%d" % k] = s.place(at)
        s.at["load.e%d" % k] = at
        s.anchor("edge%d" % k, rng.uniform(-1, 1, 3) + [0, 0, 4])
        there = np.array(pose["origin_m"], L) + r @ np.array(at, L)
        distance = np.sqrt(((there - np.array(s.at["edge%d" % k], L)) ** 2).sum())
        s.line("edge%d" % k, "load.e%d" % k, mass * G * 10 ** rng.uniform(1, 5), length=float(distance))


def sizes(s):
    """a gram to 10 000 t, a millimetre to a kilometre, all at once the same"""
    rng = s.rng
    mass, size = 1e-3 * 1e10 ** rng.random(), 1e-3 * 1e6 ** rng.random()
    bridle(s, mass, lambda: max(1, mass * G * 30 * 1e3 ** rng.random()), rng.integers(3, 6), size=size, error=rng.choice([0, 0.003]))


def mixed(s):
    """a gram and tonnes in one rig, lines of a millimetre and of a hundred metres"""
    rng = s.rng
    above, z = "roof", 0.0
    s.anchor("roof", (0, 0, 0))
    masses = [1e-3 * 1e10 ** rng.random() for _ in range(rng.integers(2, 6))]
    below = np.cumsum(masses[::-1])[::-1]
    for i, (mass, whole) in enumerate(zip(masses, below)):
        length, size = 1e-3 * 1e5 ** rng.random(), 1e-3 * 1e3 ** rng.random()
        z -= length
        s.body("b%d" % i, mass, (0, 0, -0.5 * size), (0, 0, z),
               {"top": (0, 0, 0), "under": (size * rng.uniform(-0.05, 0.05), size * rng.uniform(-0.05, 0.05), -size)})
        s.line(above, "b%d.top" % i, max(1, whole * G * 30 * 1e3 ** rng.random()))
        above, z = "b%d.under" % i, z - size


def far(s):
    """drawn a kilometre to a hundred from the origin, as on a site's own grid"""
    rng = s.rng
    mass = 100 * 100 ** rng.random()
    at = rng.normal(size=3) * 10 ** rng.uniform(3, 5)
    bridle(s, mass, lambda: mass * G * 30 * 100 ** rng.random(), rng.integers(3, 6), error=rng.choice([0, 0.003]), at=at)


CLASSES = [stiffness, stiff_legs, near_points, flat, redundant, edge, sizes, mixed, far]


# ---- the balance in 80 bits -------------------------------------------------------------------------

def rotation(q):
    w, x, y, z = np.array(q, L) / np.sqrt((np.array(q, L) ** 2).sum())
    return np.array([[1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
                     [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
                     [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)]], L)


def turn(w):
    a = np.sqrt((w ** 2).sum())
    k = np.array([[0, -w[2], w[1]], [w[2], 0, -w[0]], [-w[1], w[0], 0]], L)
    s = np.sin(a) / a if a > 1e-9 else L(1) - a * a / 6
    c = (1 - np.cos(a)) / a ** 2 if a > 1e-5 else L(0.5) - a * a / 24
    return np.eye(3, dtype=L) + s * k + c * (k @ k)


class Exact:
    def __init__(self, plan):
        self.plan, self.rig = plan, Rig(plan)
        self.nb = len(plan.bodies)
        self.ref = [np.array(r, L) for r in self.rig.ref]

    def pose(self, rig):
        r = [rotation(b["quaternion"]) for b in rig["bodies"]]
        x = [np.array(b["origin_m"], L) + t @ f for b, t, f in zip(rig["bodies"], r, self.ref)]
        return x, r, [np.array(q["at_m"], L) for q in rig["rings"]]

    def spot(self, pose, end):
        kind, i, own = end
        if kind == "body":
            arm = pose[1][i] @ (np.array(own, L) - self.ref[i])
            return pose[0][i] + arm, arm
        return (pose[2][i] if kind == "ring" else np.array(self.plan.anchors[i].at, L)), None

    def forces(self, pose):
        """Slope of the energy, and tensions."""
        g = np.zeros(self.rig.n, L)
        tension = np.zeros(len(self.plan.lines), L)

        def add(end, arm, f):
            if end[0] == "ring":
                at = 6 * self.nb + 3 * end[1]
                g[at:at + 3] += f
            elif end[0] == "body":
                g[6 * end[1]:6 * end[1] + 3] += f
                if arm is not None:
                    g[6 * end[1] + 3:6 * end[1] + 6] += np.cross(arm, f)
        for j, line in enumerate(self.plan.lines):
            (a, arm_a), (b, arm_b) = self.spot(pose, line.ends[0]), self.spot(pose, line.ends[1])
            d = b - a
            length, rest = np.sqrt((d ** 2).sum()), L(line.length)
            tension[j] = L(line.ea) / rest * max(L(0), length - rest)
            for end, arm, sign, m in ((line.ends[0], arm_a, -1, line.end_mass[0]), (line.ends[1], arm_b, 1, line.end_mass[1])):
                add(end, arm, sign * tension[j] * d / length + np.array([0, 0, L(m) * L(G)]))
        for i, b in enumerate(self.plan.bodies):
            add(("body", i), None, np.array([0, 0, L(b.mass) * L(G)]))
        for i, r in enumerate(self.plan.rings):
            add(("ring", i), None, np.array([0, 0, L(r.mass) * L(G)]))
        return g, tension

    def least(self, pose):
        """Newton to the balance next to the pose: tensions, what is left over the weight, least curvature."""
        best = None
        for _ in range(40):
            g, tension = self.forces(pose)
            left = float(np.abs(g).max() / self.rig.weight)
            if best is None or left < best[0]:
                best = (left, tension, pose)
            elif left < 1e-13:
                break
            hess = self.rig.gradient([np.array([[np.array(v, float) for v in p]]) if p else np.zeros((1, 0, 3)) for p in pose],
                                     self.rig.nominal())[1][0]
            scale = 1 / np.sqrt(np.maximum(np.abs(np.diag(hess)), 1e-300))
            value, vector = np.linalg.eigh(hess * scale[:, None] * scale)
            along = vector.T @ (scale * g.astype(float))
            along = np.where(value > 1e-13 * value[-1], along / np.where(value == 0, 1, value), 0)
            step = -scale * (vector @ along)
            reach = np.abs(step).max() / (0.05 * self.rig.size)
            step = np.array(step / max(1.0, reach), L)
            pose = ([x + step[6 * i:6 * i + 3] for i, x in enumerate(pose[0])],
                    [turn(step[6 * i + 3:6 * i + 6]) @ r for i, r in enumerate(pose[1])],
                    [q + step[6 * self.nb + 3 * i:6 * self.nb + 3 * i + 3] for i, q in enumerate(pose[2])])
        return best


# ---- judging ----------------------------------------------------------------------------------------

def judge(plan, out):
    """None, or what is wrong with an answer; and how far it is off."""
    exact = Exact(plan)
    rig = out["rig"]
    left, tension, _ = exact.least(exact.pose(rig))
    if left > 1e-8:
        return "the second solver is left with %.1e of the weight" % left, np.nan
    printed = np.array([line["tension_N"] for line in rig["lines"]])
    off = np.abs(printed - tension.astype(float)).max() / exact.rig.weight
    if off > TOLERANCE:
        at = int(np.abs(printed - tension.astype(float)).argmax())
        return "%s: %.9g N, in truth %.9g" % (rig["lines"][at]["name"], printed[at], tension[at]), off
    return None, off


def has_balance(plan):
    """Whether descent from the drawn pose ends in a balance that is near upright."""
    rig = Rig(plan)
    pose, _ = rig.solve(tol=1e-9, most=400)
    exact = Exact(plan)
    left, _, pose = exact.least(tuple([np.array(v, L) for v in p[0]] for p in pose))
    return left < 1e-9 and all(r[2, 2] > 0.5 for r in pose[1])


def main():
    p = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    p.add_argument("--becket", default="build/becket")
    p.add_argument("--rigs", type=int, default=8, help="of each class")
    p.add_argument("--first", type=int, default=0)
    p.add_argument("--only", help="one class")
    p.add_argument("--keep", metavar="DIR", help="plans that were refused or wrong are written there")
    args = p.parse_args()

    def run(text):
        p = subprocess.run([args.becket, "check", "--json", "--as-drawn", "-"], input=text.encode(), capture_output=True, timeout=120)
        return p.returncode, json.loads(p.stdout) if p.returncode in (0, 1) else None, p.stderr.decode()

    wrong = 0
    print("%-12s %6s %9s %8s %6s %14s %12s" % ("class", "rigs", "answered", "refused", "wrong", "a balance is", "furthest off"))
    for number, kind in enumerate(CLASSES):
        if args.only and kind.__name__ != args.only:
            continue
        answered = missed = bad = 0
        furthest, said, refusals = 0.0, [], collections.Counter()
        for i in range(args.first, args.first + args.rigs):
            s = Sheet(np.random.default_rng([number, i]))
            kind(s, run) if kind is edge else kind(s)
            text = s.text()
            status, out, err = run(text)
            plan = reader.parse(yaml.load(text, Loader=yaml.BaseLoader))
            if out:
                answered += 1
                what, off = judge(plan, out)
                furthest = np.fmax(furthest, off)
                if what:
                    bad += 1
                    said.append("%s %d: %s" % (kind.__name__, i, what))
            else:
                what = err.strip().split(": ", 1)[-1]
                refusals[re.sub(r"-?[0-9][0-9.e+-]*", "#", what)] += 1
                if status not in (2, 3) or not re.match(r"BK-30[123] ", what):
                    bad += 1
                    said.append("%s %d: status %d, %s" % (kind.__name__, i, status, err))
                there = has_balance(plan)
                missed += there
                if there:
                    said.append("%s %d: %s" % (kind.__name__, i, what))
            if args.keep and what:
                with open(os.path.join(args.keep, "%s-%d.yaml" % (kind.__name__, i)), "w") as f:
                    f.write(text)
        print("%-12s %6d %9d %8d %6d %14d %12.1e" % (kind.__name__, args.rigs, answered, args.rigs - answered, bad, missed, furthest), flush=True)
        for line in said:
            print("    " + line)
        for what, n in refusals.most_common():
            print("    %4d times: %s" % (n, what))
        if answered < SHARE * args.rigs:
            bad += 1
            print("    too few are answered")
        wrong += bad
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
