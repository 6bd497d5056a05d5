"""Sound plans by chance, the same for the same seed: bridles, pairs of hooks, trusses, beams under beams, chains of bodies,
and hoists with their duty on runways, in the units of both sides of the ocean."""
import numpy as np


def vec(v):
    return " ".join("%.6g" % x for x in v) + " m"


def figure(rng, value, *units):
    """One SI value in one of these (unit, SI value of it)."""
    unit, size = units[rng.integers(len(units))]
    return "%.9g %s" % (value / size, unit)


METRES = ("m", 1.0), ("mm", 1e-3), ("ft", 0.3048), ("in", 0.0254)
KILOGRAMS = ("kg", 1.0), ("t", 1e3), ("lb", 0.45359237)
NEWTONS = ("kN", 1e3), ("N", 1.0), ("kg", 9.80665), ("lbf", 4.4482216152605), ("kip", 4448.2216152605)


def hoist(rng, rated):
    """A hoist with all its values in the plan."""
    creep = rng.random() < 0.5
    speed = rng.uniform(1, 16) / 60
    h = {"rated": figure(rng, rated, *NEWTONS), "self_mass": figure(rng, rng.uniform(15, 400), *KILOGRAMS),
         "hook_mass": figure(rng, rng.uniform(1, 30), *KILOGRAMS), "falls": int(rng.integers(1, 4)),
         "chain_mass_per_m": "%.4g kg/m" % rng.uniform(0.3, 3), "height_of_lift": figure(rng, rng.uniform(3, 20), *METRES),
         "speeds": [figure(rng, v, ("m/min", 1 / 60), ("m/s", 1.0), ("ft/min", 0.3048 / 60)) for v in ([speed, speed / 4] if creep else [speed])],
         "hoisting_class": "HC%d" % rng.integers(1, 5), "group": "M%d" % rng.integers(3, 8),
         "cyclic_duration_factor": "%d %%" % rng.integers(25, 61), "starts_per_hour": int(rng.integers(100, 400)),
         "hung": "body_up"}
    if rng.random() < 0.7:
        h["limiter"] = {"kind": str(rng.choice(["direct", "indirect"])), "at": "%.3g" % rng.uniform(1.1, 1.6)}
    times = rng.multinomial(97, [1 / 3] * 3) + 1
    h["duty"] = {"cycles_per_hour": int(rng.integers(1, 25)), "mean_lift": figure(rng, rng.uniform(0.5, 3), *METRES),
                 "hours_per_day": int(rng.integers(1, 17)), "days_per_year": int(rng.integers(50, 300)),
                 "empty_return": str(rng.choice(["yes", "no"])),
                 "in_service": "%.4g years" % rng.uniform(0.2, 12), "meter": {"on_time": "%.6g h" % rng.uniform(5, 900)},
                 "loads": [{"of_rated": "%d %%" % of, "time": "%d %%" % t} for of, t in zip((100, rng.integers(20, 90), 0), times)]}
    return h


def runway(rng):
    """A beam on supports, plain or fixed at an end, with overhangs, standing loads and up to three trolleys."""
    spans = int(rng.integers(1, 6))
    x = np.round(np.concatenate([[0], np.cumsum(rng.uniform(2, 8, spans))]) + rng.uniform(-3, 3), 3)
    over = np.round(rng.uniform(0, 1.2, 2) * (rng.random(2) < 0.6), 3)
    fixed = int(rng.integers(0, 4)) if over.sum() == 0 else 3
    ends = [x[0] - over[0], x[-1] + over[1]]
    doc = {"section": str(rng.choice(["ipe/240", "ipe/300", "ipe/400", "heb/200", "heb/240", "hea/240", "w/12x26", "s/12x31.8"])),
           "steel": "en10025-2/S275", "ends": [figure(rng, v, *METRES) for v in ends],
           "supports": [{"at": figure(rng, v, *METRES), "limit": figure(rng, rng.uniform(1e4, 3e5), *NEWTONS),
                         **({"fixed": "yes"} if i == 0 and fixed in (0, 2) or i == spans and fixed in (1, 2) else {})}
                        for i, v in enumerate(x)]}
    if rng.random() < 0.3:
        doc["self_weight"] = "no"
    if rng.random() < 0.4:
        a, b = np.sort(rng.uniform(ends[0], ends[1], 2))
        doc["loads"] = [{"at": figure(rng, rng.uniform(*ends), *METRES), "force": figure(rng, rng.uniform(200, 8000), *NEWTONS)},
                        {"from": "%.6g m" % a, "to": "%.6g m" % b, "per_metre": "%.4g N/m" % rng.uniform(50, 900)}]
    trolleys, hoists = {}, {}
    for i in range(int(rng.integers(1, 4))):
        base = rng.uniform(0.1, 0.4)
        a, b = np.sort(rng.uniform(ends[0] + base / 2, ends[1] - base / 2, 2))
        t = {"travel": ["%.6f m" % a, "%.6f m" % b], "wheels": int(rng.choice([2, 4])),
             "mass": figure(rng, rng.uniform(10, 120), *KILOGRAMS), "wheel_to_edge": "20 mm"}
        if t["wheels"] == 4:
            t["wheel_base"] = figure(rng, base, *METRES)
        if rng.random() < 0.6:
            t["hoist"] = "h%d" % i
            hoists["h%d" % i] = hoist(rng, rng.uniform(3e3, 4e4))
        else:
            t["load"] = figure(rng, rng.uniform(3e3, 4e4), *NEWTONS)
        trolleys["t%d" % i] = t
    doc["trolleys"] = trolleys
    return doc, hoists


def plan(seed):
    rng = np.random.default_rng(seed)
    kind = ("bridle", "hooks", "truss", "spreader", "train", "runway")[seed % 6]
    if kind == "runway":
        beam, hoists = runway(rng)
        return {"becket": "1", "title": "DEMO random runway %d" % seed, "rules": str(rng.choice(["en", "us"])), "units": "si",
                **({"hoists": hoists} if hoists else {}), "runways": {"bay": beam}}
    tolerances = rng.random() < 0.25
    every_line = rng.random() < 0.3
    bodies, rings, anchors, lines = {}, {}, {}, {}

    def ea():
        return "%.6g MN" % 10 ** rng.uniform(-0.7, 2.3)

    def body(name, at, half, cog_low, mass=None, points=None):
        cog = np.array([rng.normal(0, 0.12 * half[0]), rng.normal(0, 0.12 * half[1]), -cog_low])
        b = {"mass": "%.6g kg" % (mass or 10 ** rng.uniform(2, 4.3)), "cog": vec(cog), "at": vec(at), "points": points}
        if tolerances and len(bodies) == 0:
            b["mass"] += " ± %.2g %%" % rng.uniform(1, 8)
            b["cog"] += " ± %.3g %.3g %.3g m" % tuple(rng.uniform(0, 0.05, 3) * [half[0], half[1], 0.3 * cog_low])
        bodies[name] = b

    def line(name, a, b, pa, pb, error=0.0, mass=True, stiff=None):
        length = np.linalg.norm(np.subtract(pb, pa)) * (1 + rng.normal(0, error))
        text = {"from": a, "to": b, "length": "%.9g m" % length, "ea": stiff or ea()}
        if tolerances and (every_line or len(lines) in (1, 3)):
            text["length"] += " ± %.3g mm" % (1000 * length * rng.uniform(0.0005, 0.004))
        if mass:
            text["mass"] = "%.4g kg" % rng.uniform(0, 12)
        lines[name] = text

    half = rng.uniform(0.4, 2.5, 2)
    if kind == "bridle":
        n = int(rng.integers(2, 6))
        turn = rng.uniform(0, 2 * np.pi) + np.linspace(0, 2 * np.pi, n, endpoint=False) + rng.normal(0, 0.15, n)
        pts = [np.array([half[0] * np.cos(a), half[1] * np.sin(a), rng.normal(0, 0.1)]) for a in turn]
        body("load", (0, 0, 0), half, rng.uniform(0.3, 1.2) * half.max(), points={"p%d" % i: vec(p) for i, p in enumerate(pts)})
        top = np.array([rng.normal(0, 0.05), rng.normal(0, 0.05), rng.uniform(0.8, 2.5) * half.max()])
        rings["master"] = {"at": vec(top), "mass": "%.4g kg" % rng.uniform(0, 15)}
        hook = top + [0, 0, rng.uniform(0.2, 2)]
        anchors["hook"] = {"at": vec(hook)}
        line("drop", "hook", "master", hook, top)
        same = ea()
        for i, p in enumerate(pts):
            line("leg%d" % i, "master", "load.p%d" % i, top, p, error=0.004, stiff=same if rng.random() < 0.7 else None)
    elif kind == "hooks":
        n = int(rng.integers(2, 4))
        xs = np.linspace(-half[0], half[0], n) * 2
        pts = [np.array([x, rng.normal(0, 0.05), rng.normal(0, 0.05)]) for x in xs]
        body("load", (0, 0, 0), half * [2, 1], rng.uniform(0.3, 1.0), points={"p%d" % i: vec(p) for i, p in enumerate(pts)})
        for i, p in enumerate(pts):
            at = p + [rng.normal(0, 0.3), rng.normal(0, 0.3), rng.uniform(2, 9)]
            anchors["h%d" % i] = {"at": vec(at)}
            line("l%d" % i, "h%d" % i, "load.p%d" % i, at, p, error=0.01)
    elif kind == "truss":
        n = int(rng.integers(3, 9))
        step = rng.uniform(1.5, 4)
        pts = [np.array([i * step, 0.4 * (i % 2) * rng.random(), 0]) for i in range(n)]
        body("truss", (0, 0, 0), (step, 0.2), rng.uniform(0.3, 0.8), points={"p%d" % i: vec(p) for i, p in enumerate(pts)})
        bodies["truss"]["cog"] = vec([step * (n - 1) * rng.uniform(0.35, 0.65), 0.1, -0.4])
        same = ea()
        for i, p in enumerate(pts):
            at = p + [0, 0, 6.0]
            anchors["h%d" % i] = {"at": vec(at)}
            line("l%d" % i, "h%d" % i, "truss.p%d" % i, at, p, error=0.0006, stiff=same)
    elif kind == "spreader":
        w = half[0] + 0.5
        beam_z = 1.5 + rng.uniform(0.5, 2)
        body("beam", (0, 0, beam_z), (0.1, 0.05), 0.0, mass=rng.uniform(40, 400), points={
            "tl": vec((-w, 0, 0.12)), "tr": vec((w, 0, 0.12)), "bl": vec((-w, 0, -0.12)), "br": vec((w, 0, -0.12))})
        bodies["beam"]["cog"] = "0 0 0 m"
        body("load", (0, 0, 0), (w, half[1]), rng.uniform(0.2, 1.0), mass=10 ** rng.uniform(2.7, 4), points={
            "a": vec((-w, -half[1], 0)), "b": vec((-w, half[1], 0)), "c": vec((w, -half[1], 0)), "d": vec((w, half[1], 0))})
        hook = np.array([0, 0, beam_z + rng.uniform(0.8, 2.5) * w])
        anchors["hook"] = {"at": vec(hook)}
        line("tl", "hook", "beam.tl", hook, (-w, 0, beam_z + 0.12), error=0.002)
        line("tr", "hook", "beam.tr", hook, (w, 0, beam_z + 0.12), error=0.002)
        for side, x in (("l", -w), ("r", w)):
            at = np.array([x, 0, beam_z - 0.5])
            rings[side] = {"at": vec(at), "mass": "%.3g kg" % rng.uniform(0, 5)}
            line("b" + side, "beam.b" + side, side, (x, 0, beam_z - 0.12), at)
            for p, y in (("a" if side == "l" else "c", -half[1]), ("b" if side == "l" else "d", half[1])):
                line("leg_" + p, side, "load." + p, at, (x, y, 0), error=0.003)
    else:
        n = int(rng.integers(2, 7))
        anchors["roof"] = {"at": "0 0 %d m" % (2 * n + 2)}
        above, at = "roof", np.array([0.0, 0, 2 * n + 2])
        for i in range(n):
            origin = np.array([0.0, 0, 2 * (n - i)])
            under = np.array([rng.normal(0, 0.03), rng.normal(0, 0.03), -0.3])
            body("b%d" % i, origin, (0.2, 0.2), rng.uniform(0.05, 0.25), mass=10 ** rng.uniform(1, 3.5),
                 points={"top": "0 0 0.3 m", "under": vec(under)})
            line("l%d" % i, above, "b%d.top" % i, at, origin + [0, 0, 0.3], error=0.01)
            above, at = "b%d.under" % i, origin + under
    doc = {"becket": "1", "title": "DEMO random %s %d" % (kind, seed), "rules": "en", "units": "si", "bodies": bodies}
    for key, group in (("rings", rings), ("anchors", anchors), ("lines", lines)):
        if group:
            doc[key] = group
    return doc
