"""A runway's worst figures by brute force: beam elements, unit loads everywhere, every trolley tried everywhere.

Euler-Bernoulli elements with consistent loads are exact at their nodes, so the only error is that of the
sweep.  Up is positive for w and reactions, sagging for moments.  Figures are linear in the loads and trolleys
are free of each other, so each trolley's worst adds to the others' at every section.
"""
import numpy as np

from acceptance_plan import FORCE, LENGTH, LINE_FORCE, MASS, NONE, scalar

E_STEEL = {"en": 210e9, "us": 29000 * 6894757.293168361}  # EN 1993-1-1, 3.2.6; AISC 360 (29 000 ksi)

# Handbook values, strong axis: second moment cm4, kg/m (EN 10365 shapes; W and S shapes in4, lb/ft).
# From memory of the printed tables; the reference tests of the program hold the cited ones.
HANDBOOK = {
    "ipe/200": (1943, 22.4), "ipe/240": (3892, 30.7), "ipe/270": (5790, 36.1), "ipe/300": (8356, 42.2),
    "ipe/360": (16270, 57.1), "ipe/400": (23130, 66.3), "heb/200": (5696, 61.3), "heb/240": (11260, 83.2),
    "hea/200": (3692, 42.3), "hea/240": (7763, 60.3),
    "w/12x26": (204 * 2.54 ** 4, 26 * 0.45359237 / 0.3048),
    "s/12x31.8": (217 * 2.54 ** 4, 31.8 * 0.45359237 / 0.3048),
}


class Beam:
    def __init__(self, ends, supports, fixed, ei, nodes=240, also=()):
        self.supports, self.fixed, self.ei = list(supports), list(fixed), ei
        span = ends[1] - ends[0]
        # the same place told in feet and in metres is one
        must = set(supports) | {e for e in ends if min(abs(e - s) for s in supports) > 1e-6 * span}
        for x in also:
            if min(abs(x - m) for m in must) > 0.02 * span / nodes:
                must.add(x)
        grid = np.linspace(ends[0], ends[1], nodes)
        keep = [g for g in grid if min(abs(g - m) for m in must) > 0.02 * span / nodes]
        self.x = np.array(sorted(set(keep) | must))
        n = len(self.x)
        k = np.zeros((2 * n, 2 * n))
        for i in range(n - 1):
            h = self.x[i + 1] - self.x[i]
            ke = ei / h ** 3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                                         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
            k[2 * i:2 * i + 4, 2 * i:2 * i + 4] += ke
        self.k = k
        self.at = [int(np.argmin(abs(self.x - s))) for s in supports]
        held = [2 * i for i in self.at] + [2 * i + 1 for i, f in zip(self.at, fixed) if f]
        self.free = np.setdiff1d(np.arange(2 * n), held)
        self.inverse = np.linalg.inv(k[np.ix_(self.free, self.free)])
        # sections: every node, and both sides of every support
        eps = 1e-7 * span
        self.section = np.array(sorted(set(self.x) | {s - eps for s in supports if s - eps > ends[0]} |
                                       {s + eps for s in supports if s + eps < ends[1]}))

    def _point_load(self, y):
        """Consistent loads of unit downward loads at y (columns)."""
        f = np.zeros((2 * len(self.x), len(y)))
        e = np.clip(np.searchsorted(self.x, y, side="right") - 1, 0, len(self.x) - 2)
        h = self.x[e + 1] - self.x[e]
        s = (y - self.x[e]) / h
        c = np.arange(len(y))
        f[2 * e, c] -= 1 - 3 * s ** 2 + 2 * s ** 3
        f[2 * e + 1, c] -= h * (s - 2 * s ** 2 + s ** 3)
        f[2 * e + 2, c] -= 3 * s ** 2 - 2 * s ** 3
        f[2 * e + 3, c] -= h * (-s ** 2 + s ** 3)
        return f

    def _respond(self, f):
        u = np.zeros_like(f)
        u[self.free] = self.inverse @ f[self.free]
        r = self.k @ u - f
        reaction = np.array([r[2 * i] for i in self.at])
        moment = np.array([r[2 * i + 1] if fx else 0 * r[0] for i, fx in zip(self.at, self.fixed)])
        return u[0::2], reaction, moment

    def _inside(self, reaction, moment):
        """Moment and shear at the sections of the support forces alone."""
        x = self.section
        m, v = np.zeros((len(x), reaction.shape[1])), np.zeros((len(x), reaction.shape[1]))
        for i, s in enumerate(self.supports):
            right = (x > s).astype(float)[:, None]
            m += np.maximum(0, x - s)[:, None] * reaction[i] - right * moment[i]
            v += right * reaction[i]
        return m, v

    def unit(self, y):
        """Influence of unit downward loads at y: reactions, moments, shears (sections), deflections down (nodes)."""
        y = np.asarray(y, float)
        w, r, fm = self._respond(self._point_load(y))
        m, v = self._inside(r, fm)
        m -= np.maximum(0, self.section[:, None] - y)
        v -= (self.section[:, None] > y).astype(float)
        return r, m, v, -w

    def spread(self, q, a=None, b=None):
        """Uniform downward load q from a to b (the whole beam)."""
        a = self.x[0] if a is None else a
        b = self.x[-1] if b is None else b
        n = 4000
        y = a + (np.arange(n) + 0.5) * (b - a) / n
        w, r, fm = self._respond(self._point_load(y).sum(axis=1, keepdims=True) * (q * (b - a) / n))
        m, v = self._inside(r, fm)
        x = self.section[:, None]
        m -= q * (np.maximum(0, x - a) ** 2 - np.maximum(0, x - b) ** 2) / 2
        v -= q * (np.maximum(0, x - a) - np.maximum(0, x - b))
        return r, m, v, -w


def read(runway):
    """What the plan says of one runway, in SI."""
    ends = [scalar(e, LENGTH)[0] for e in runway["ends"]] if "ends" in runway else None
    supports, fixed = [], []
    for s in runway["supports"]:
        if isinstance(s, dict):
            supports.append(scalar(s["at"], LENGTH)[0])
            fixed.append(str(s.get("fixed", "no")) in ("yes", "true"))
        else:
            supports.append(scalar(s, LENGTH)[0])
            fixed.append(False)
    if ends is None:
        ends = [supports[0], supports[-1]]
    trolleys = []
    for name, t in (runway.get("trolleys") or {}).items():
        travel = [scalar(v, LENGTH)[0] for v in t["travel"]]
        wheels = scalar(t.get("wheels", "4"), NONE)[0]
        base = scalar(t["wheel_base"], LENGTH)[0] if "wheel_base" in t else 0.0
        lines = [0.0] if wheels <= 2 or base == 0 else [-base / 2, base / 2]
        trolleys.append({"name": name, "travel": travel, "lines": lines, "hoist": t.get("hoist"),
                         "mass": scalar(t.get("mass", "0 kg"), MASS)[0],
                         "load": scalar(t["load"], FORCE)[0] if "load" in t else None})
    standing = []
    for one in runway.get("loads") or []:
        if "force" in one:
            standing.append((scalar(one["at"], LENGTH)[0], None, scalar(one["force"], FORCE)[0]))
        else:
            standing.append((scalar(one["from"], LENGTH)[0], scalar(one["to"], LENGTH)[0], scalar(one["per_metre"], LINE_FORCE)[0]))
    return {"standing": standing, "ends": ends, "supports": supports, "fixed": fixed, "trolleys": trolleys,
            "self": str(runway.get("self_weight", "yes")) not in ("no", "false")}


def worst(beam, self_q, standing, trains, steps=200):
    """standing: (from, to, N/m) or (at, None, N); trains: (travel, wheel offsets, loaded N, empty N).
    The brute-force figures of one runway."""
    r, m, v, w = beam.spread(self_q)
    for a, b, size in standing:
        more = beam.spread(size, a, b) if b is not None else [size * x for x in beam.unit([a])]
        r, m, v, w = [x + y for x, y in zip((r, m, v, w), more)]
    total = {k: a[:, 0].copy() for k, a in (("r_max", r), ("r_min", r), ("m_max", m), ("m_min", m),
                                            ("v_max", v), ("v_min", v), ("w_max", w), ("w_min", w))}
    span = beam.x[-1] - beam.x[0]
    for travel, lines, loaded, empty in trains:
        # an even sweep, and each wheel over each section: the moment there peaks at that very place
        p = list(np.linspace(travel[0], travel[1], steps))
        for off in lines:
            p += [x - off for x in beam.x if travel[0] <= x - off <= travel[1]]
        for s in beam.supports:
            for off in lines:
                for d in (-1e-6 * span, 0.0, 1e-6 * span):
                    if travel[0] <= s - off + d <= travel[1]:
                        p.append(s - off + d)
        p = np.array(sorted(set(p)))
        sums = None
        for off in lines:
            parts = beam.unit(p + off)
            sums = parts if sums is None else [a + b for a, b in zip(sums, parts)]
        for key, a in zip("rmvw", sums):
            a = a / len(lines)
            total[key + "_max"] += np.maximum(loaded * a, empty * a).max(axis=1)
            total[key + "_min"] += np.minimum(loaded * a, empty * a).min(axis=1)
    shear = np.maximum(abs(total["v_max"]), abs(total["v_min"]))
    bend = np.maximum(abs(total["w_max"]), abs(total["w_min"]))
    i, j = int(total["m_max"].argmax()), int(total["m_min"].argmin())
    return {"reaction_max": total["r_max"], "reaction_min": total["r_min"],
            "moment_max": total["m_max"][i], "moment_max_at": beam.section[i],
            "moment_min": total["m_min"][j], "moment_min_at": beam.section[j],
            "shear": shear.max(), "shear_at": beam.section[int(shear.argmax())],
            "deflection": bend.max(), "deflection_at": beam.x[int(bend.argmax())],
            "moment_top": total["m_max"], "moment_bottom": total["m_min"], "shear_top": shear, "bend_top": bend}
