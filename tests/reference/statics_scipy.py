#!/usr/bin/python3
"""Reference cases of statics, solved by scipy: least energy in other unknowns, by another method.

    statics_scipy.py            writes statics_scipy.inc beside this file
    statics_scipy.py --check    computes again and compares with it: exit status 0 or 1, 77 without scipy

A case is one body on elastic lines that only pull.  Unknowns here: the body's origin and a rotation vector
from the drawn pose; the residual forces are driven to zero by scipy.optimize.least_squares after a descent by
BFGS on the energy from the drawn pose, both with slopes by complex steps.  Nothing is shared with Becket.
"""
import os
import sys

try:
    import numpy as np
    from scipy.optimize import least_squares, minimize
    from scipy.spatial.transform import Rotation
except ImportError:
    sys.exit(77)

G = 9.80665
HERE = os.path.dirname(os.path.abspath(__file__))

# name, mass kg, cog, [(anchor, point, EA, rest length or 0 for as drawn)]
FOUR = [(0.10, 0.90, 1.20), (2.30, 0.90, 1.20), (0.10, -0.80, 1.20), (2.30, -0.80, 1.20)]
HOOK = (1.10, 0.05, 4.00)
CASES = [
    ("cog_aside", 3600, (1.35, 0.20, 0.70), [(HOOK, p, 5e6, 0) for p in FOUR]),
    ("equal_legs", 3600, (1.20, 0.02, 0.70), [(HOOK, p, 5e6, 3.12) for p in FOUR]),
    ("stiff_leg_long", 3600, (1.20, 0.05, 0.70),
     [(HOOK, p, 5e7, l) for p, l in zip(FOUR, (3.125, 3.135, 3.115, 3.120))]),
    ("soft_legs", 2750, (1.02, 0.11, 0.55), [(HOOK, p, 1.5e5, 0) for p in FOUR]),
    ("mixed_stiffness", 3600, (1.30, -0.10, 0.70),
     [(HOOK, p, ea, 0) for p, ea in zip(FOUR, (2e6, 9e6, 4e6, 3e5))]),
    ("two_hooks", 1480, (0.37, 0.05, -0.42),
     [((-1.6, 0.1, 4.1), (-1.5, 0, 0.2), 3e6, 0), ((1.7, -0.2, 3.3), (1.5, 0, 0.2), 3e6, 3.05),
      ((0.0, 2.5, 3.0), (0.0, 0.6, 0.2), 1e6, 3.45)]),
    ("five_hoists", 5200, (0.4, 0.1, -0.3),
     [((x, y, 5.0), (x, y, 0.3), 4e6, 4.7 + e) for x, y, e in
      ((-4, -0.4, 0.002), (-2, 0.4, -0.003), (0, -0.4, 0.004), (2, 0.4, 0.0), (4, -0.4, -0.002))]),
    ("three_legs", 910, (0.05, -0.08, 0.1),
     [((0, 0, 2.6), p, 2e6, l) for p, l in (((0.9, 0.0, 0.5), 2.30), ((-0.5, 0.8, 0.5), 2.32), ((-0.4, -0.7, 0.5), 2.25))]),
]


def solve(mass, cog, lines):
    cog = np.array(cog)
    anchors = np.array([l[0] for l in lines], float)
    points = np.array([l[1] for l in lines], float)
    ea = np.array([l[2] for l in lines], float)
    rest = np.array([l[3] or np.linalg.norm(np.subtract(l[0], l[1])) for l in lines], float)
    weight = mass * G

    def turned(r, v):  # Rodrigues' formula; holds for complex r too, so that slopes are exact
        angle = np.sqrt((r * r).sum() + 1e-300)
        k = np.cross(np.broadcast_to(r, v.shape), v)
        return v + np.sin(angle) / angle * k + (1 - np.cos(angle)) / angle**2 * np.cross(np.broadcast_to(r, v.shape), k)

    def pulls(x):
        arms = turned(x[3:], points - cog)
        way = anchors - (x[:3] + arms)
        length = np.sqrt((way * way).sum(1))
        stretch = length - rest
        return arms, way / length[:, None], np.where(stretch.real > 0, ea / rest * stretch, 0)

    def energy(x):
        t = pulls(x)[2]
        return (0.5 * t * t * rest / ea).sum() / weight + x[2]

    def balance(x):
        arms, way, t = pulls(x)
        force = (t[:, None] * way).sum(0) - [0, 0, weight]
        moment = np.cross(arms, t[:, None] * way).sum(0)
        return np.concatenate([force, moment]) / weight

    def slopes(f):
        return lambda x: np.array([f(x + 1e-30j * e).imag / 1e-30 for e in np.eye(6)]).T

    x = np.concatenate([cog, np.zeros(3)])
    for _ in range(3):
        x = minimize(energy, x, jac=slopes(energy), method="BFGS", options={"gtol": 1e-9, "maxiter": 4000}).x
    # yaw about one hook is free: least_squares copes with the null direction
    x = least_squares(balance, x, jac=slopes(balance), xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=2000).x
    assert np.abs(balance(x)).max() < 1e-11, np.abs(balance(x)).max()
    turn = Rotation.from_rotvec(x[3:])
    up = turn.apply([0, 0, 1])
    return pulls(x)[2], x[:3], np.arctan2(np.hypot(up[0], up[1]), up[2])


def text():
    out = ["/* Written by statics_scipy.py; checked by statics_scipy.py --check.  SI. */"]
    for name, mass, cog, lines in CASES:
        tension, at, tilt = solve(mass, cog, lines)
        out.append('{"%s", %r, {%r, %r, %r}, %d,' % ((name, float(mass)) + tuple(map(float, cog)) + (len(lines),)))
        out.append(" {" + ",\n  ".join("{{%r, %r, %r}, {%r, %r, %r}, %r, %r}" % tuple(map(float, a + p + (ea, rest)))
                                       for a, p, ea, rest in lines) + "},")
        out.append(" {" + ", ".join("%.6f" % t for t in tension) + "},")
        out.append(" %.9f, %.9f}," % (at[2], tilt))
    return "\n".join(out) + "\n"


def main():
    path = os.path.join(HERE, "statics_scipy.inc")
    if sys.argv[1:] != ["--check"]:
        with open(path, "w") as f:
            f.write(text())
        return 0
    stored = open(path).read()
    new = text()
    numbers = lambda t: [float(w) for w in t.split("*/", 1)[1].replace("{", " ").replace("}", " ").replace(",", " ").split()
                         if not w.startswith('"')]
    a, b = numbers(stored), numbers(new)
    bad = len(a) != len(b) or any(abs(x - y) > 1e-6 * max(1, abs(x)) for x, y in zip(a, b))
    if bad:
        print("stored values differ from those computed now")
    return 1 if bad else 0


sys.exit(main())
