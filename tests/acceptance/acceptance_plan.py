"""Reads a rig plan into SI numbers, apart from the program under test.

Written from the description of the plan's form alone.  It is lenient: it is given sound plans only, and
what it does not need it does not look at.  Factors of units: SI brochure; the international yard and pound
agreement of 1959 (0.9144 m, 0.45359237 kg); standard gravity 9.80665 m/s2 (3rd CGPM, 1901).
"""
import glob
import math
import os
import re

import numpy as np
import yaml

G = 9.80665
LB = 0.45359237
FT = 0.3048

# factor, exponents of (kg, m, s)
UNITS = {
    "m": (1.0, (0, 1, 0)), "mm": (1e-3, (0, 1, 0)), "cm": (1e-2, (0, 1, 0)), "km": (1e3, (0, 1, 0)),
    "in": (FT / 12, (0, 1, 0)), "ft": (FT, (0, 1, 0)), "yd": (3 * FT, (0, 1, 0)),
    "kg": (1.0, (1, 0, 0)), "g": (1e-3, (1, 0, 0)), "t": (1e3, (1, 0, 0)), "lb": (LB, (1, 0, 0)),
    "short_ton": (2000 * LB, (1, 0, 0)), "long_ton": (2240 * LB, (1, 0, 0)), "oz": (LB / 16, (1, 0, 0)),
    "N": (1.0, (1, 1, -2)), "daN": (10.0, (1, 1, -2)), "kN": (1e3, (1, 1, -2)), "MN": (1e6, (1, 1, -2)),
    "kgf": (G, (1, 1, -2)), "lbf": (LB * G, (1, 1, -2)), "kip": (1000 * LB * G, (1, 1, -2)),
    "s": (1.0, (0, 0, 1)), "min": (60.0, (0, 0, 1)), "h": (3600.0, (0, 0, 1)), "day": (86400.0, (0, 0, 1)),
    "days": (86400.0, (0, 0, 1)), "year": (31557600.0, (0, 0, 1)), "years": (31557600.0, (0, 0, 1)),
    "deg": (math.pi / 180, (0, 0, 0)), "rad": (1.0, (0, 0, 0)), "%": (0.01, (0, 0, 0)),
    "Pa": (1.0, (1, -1, -2)), "MPa": (1e6, (1, -1, -2)), "GPa": (1e9, (1, -1, -2)),
}
LENGTH, MASS, FORCE, NONE = (0, 1, 0), (1, 0, 0), (1, 1, -2), (0, 0, 0)
SPEED, LINE_MASS, LINE_FORCE, TIME = (0, 1, -1), (1, -1, 0), (1, 0, -2), (0, 0, 1)

NUMBER = r"[-+]?(?:\d+[ -]\d+/\d+|\d+/\d+|(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)"
_one = re.compile(r"\s*(%s)\s*" % NUMBER)
_unit = re.compile(r"\s*([A-Za-z_%][A-Za-z_]*(?:\d)?(?:[/*][A-Za-z_]+\d?)*)")


def number(text):
    whole = re.fullmatch(r"([-+]?)(\d+)[ -](\d+)/(\d+)", text)
    if whole:
        value = int(whole[2]) + int(whole[3]) / int(whole[4])
        return -value if whole[1] == "-" else value
    if "/" in text:
        a, b = text.split("/")
        return float(a) / float(b)
    return float(text)


def unit(text):
    """Factor and exponents of a unit expression such as kN/m or N/mm2."""
    factor, dim, sign = 1.0, [0, 0, 0], 1
    for piece in re.split(r"([/*])", text):
        if piece in "/*":
            sign = -1 if piece == "/" else 1
            continue
        if piece in UNITS:
            power, base = 1, piece
        else:
            base, power = piece[:-1], int(piece[-1])
        f, d = UNITS[base]
        factor *= f ** (sign * power)
        dim = [x + sign * power * y for x, y in zip(dim, d)]
    return factor, tuple(dim)


def _as(value, have, want):
    if have == want or want is None:
        return value
    weight = tuple(a + b for a, b in zip(have, (0, 1, -2)))
    if weight == want:           # a mass where a force is meant
        return value * G
    weight = tuple(a - b for a, b in zip(have, (0, 1, -2)))
    if weight == want:           # a force where a mass is meant
        return value / G
    raise ValueError("wrong dimension %s, want %s" % (have, want))


def _terms(text, want):
    """8 ft 6 in -> metres; a bare number where none is wanted."""
    at, total, seen = 0, 0.0, False
    sign = 1.0
    while text[at:].strip():
        m = _one.match(text, at)
        if not m:
            raise ValueError("no number in %r" % text)
        value = number(m[1].strip())
        u = _unit.match(text, m.end())
        if u:
            factor, dim = unit(u[1])
            value = _as(value * factor, dim, want)
            at = u.end()
        else:
            if want not in (NONE, None):
                raise ValueError("no unit in %r" % text)
            at = m.end()
        if not seen and m[1].lstrip().startswith("-"):
            sign = -1.0
            total = value
        else:
            total += sign * value
        seen = True
    return total


def _split(text):
    parts = re.split(r"±|\+/-", str(text))
    return parts[0].strip(), (parts[1].strip() if len(parts) > 1 else None)


def scalar(text, want):
    """(value, tolerance) in SI."""
    main, tol = _split(text)
    value = _terms(main, want)
    if tol is None:
        return value, 0.0
    if tol.endswith("%"):
        return value, abs(value) * number(tol[:-1].strip()) / 100
    return value, _terms(tol, want)


def _three(text, want):
    at, numbers = 0, []
    while True:
        m = _one.match(text, at)
        if not m:
            break
        numbers.append(number(m[1].strip()))
        at = m.end()
    factor, dim = unit(text[at:].strip())
    return [_as(x * factor, dim, want) for x in numbers]


def vector(text, want=LENGTH):
    main, tol = _split(text)
    value = np.array(_three(main, want))
    assert len(value) == 3, text
    if tol is None:
        return value, np.zeros(3)
    t = _three(tol, want)
    return value, np.array(t * 3 if len(t) == 1 else t)


# ---- tables ---------------------------------------------------------------------------------------

class Tables:
    """Rows of the tables, as maps of texts that carry their units."""

    def __init__(self, folders):
        self.folders, self.read = folders, {}

    def row(self, ref):
        name, row = ref.split("/", 1)
        if name not in self.read:
            for folder in self.folders:
                found = glob.glob(os.path.join(folder, "**", name + ".yaml"), recursive=True)
                if found:
                    with open(found[0], encoding="utf-8") as f:
                        self.read[name] = yaml.load(f, Loader=yaml.BaseLoader)
                    break
            else:
                return None
        return table_row(self.read[name], row)


def table_row(table, name):
    """One row by its name: what all rows share, then its own cells with the unit of their column."""
    for cells in table.get("rows", []):
        row = dict(table.get("all", {}))
        if isinstance(cells, dict):
            row.update(cells)
        else:
            for (key, unit_of), cell in zip(table["columns"].items(), cells):
                if cell in ("~", "", "null"):
                    continue
                row[key] = cell if unit_of in ("name", "text", "mark", "number") else cell + " " + unit_of
        if next((row[k] for k, u in table["columns"].items() if u == "name" and k in row), row.get("name")) != name:
            continue
        if "speed" in row:
            row["speeds"] = [row[k] for k in ("speed", "creep") if k in row]
        if "limiter_kind" in row:
            row["limiter"] = {"kind": row["limiter_kind"], "at": row["limiter_at"]}
        return row
    return None


# ---- the plan -------------------------------------------------------------------------------------

class Body:
    pass


class Line:
    pass


class Plan:
    pass


def load(path, tables=None):
    with open(path, encoding="utf-8") as f:
        doc = yaml.load(f, Loader=yaml.BaseLoader) or {}
    return parse(doc, tables)


def _row(entry, tables):
    """A part: the row of a table, or inline keys."""
    if isinstance(entry, str):
        return tables.row(entry) if tables else None
    return entry


def parse(doc, tables=None):
    plan = Plan()
    plan.doc = doc
    plan.title, plan.rules = doc.get("title"), doc.get("rules")
    plan.unsure = []            # why Hooke's law or a mass is not known from the plan alone

    plan.bodies = []
    for name, d in (doc.get("bodies") or {}).items():
        b = Body()
        b.name = name
        b.known = "mass" in d and "cog" in d
        if b.known:
            b.mass, b.mass_tol = scalar(d["mass"], MASS)
            b.cog, b.cog_tol = vector(d["cog"])
        else:
            b.mass, b.mass_tol, b.cog, b.cog_tol = 0.0, 0.0, np.zeros(3), np.zeros(3)
            plan.unsure.append("body %s: mass or centre of gravity from a take-off" % name)
        b.at = vector(d["at"])[0] if "at" in d else np.zeros(3)
        b.points = {}
        for p, v in (d.get("points") or {}).items():
            b.points[p] = vector(v if isinstance(v, str) else v["at"])[0]
        plan.bodies.append(b)
    body_index = {b.name: i for i, b in enumerate(plan.bodies)}

    plan.rings = []
    for name, d in (doc.get("rings") or {}).items():
        d = {"at": d} if isinstance(d, str) else d
        r = Body()
        r.name = name
        r.at = vector(d["at"])[0]
        r.mass = 0.0
        if "mass" in d:
            r.mass = scalar(d["mass"], MASS)[0]
        elif "part" in d:
            row = _row(d["part"], tables)
            if row is None:
                plan.unsure.append("ring %s: mass of its part" % name)
            elif "mass" in row:
                r.mass = scalar(row["mass"], MASS)[0]
        plan.rings.append(r)
    ring_index = {r.name: i for i, r in enumerate(plan.rings)}

    plan.anchors = []
    for name, d in (doc.get("anchors") or {}).items():
        d = {"at": d} if isinstance(d, str) else d
        a = Body()
        a.name = name
        a.on = d.get("on")
        a.at = vector(d["at"])[0] if "at" in d else None
        plan.anchors.append(a)
    anchor_index = {a.name: i for i, a in enumerate(plan.anchors)}

    plan.hoists = {}
    for name, d in (doc.get("hoists") or {}).items():
        plan.hoists[name] = hoist(d, tables)

    def end(text):
        if "." in text:
            b, p = text.split(".", 1)
            i = body_index[b]
            return ("body", i, plan.bodies[i].points[p])
        if text in ring_index:
            return ("ring", ring_index[text], np.zeros(3))
        return ("anchor", anchor_index[text], np.zeros(3))

    def drawn(e):
        if e[0] == "body":
            return plan.bodies[e[1]].at + e[2]
        return plan.rings[e[1]].at if e[0] == "ring" else plan.anchors[e[1]].at

    plan.lines = []
    for name, d in (doc.get("lines") or {}).items():
        ln = Line()
        ln.name = name
        ln.ends = (end(d["from"]), end(d["to"]))
        a, b = drawn(ln.ends[0]), drawn(ln.ends[1])
        floating = a is None or b is None
        if "length" in d:
            ln.length, ln.length_tol = scalar(d["length"], LENGTH)
        elif floating:
            ln.length, ln.length_tol = None, 0.0
        else:
            ln.length, ln.length_tol = float(np.linalg.norm(b - a)), 0.0
        parts = [_row(p, tables) for p in d.get("parts", [])]
        ln.ea = None
        if "ea" in d:
            ln.ea = scalar(d["ea"], FORCE)[0]
        else:
            soft = [p for p in parts if p and "stretch_at_wll" in p]
            if len(soft) == 1 and None not in parts:
                p = soft[0]
                ln.ea = scalar(p["wll"], FORCE)[0] / scalar(p["stretch_at_wll"], NONE)[0]
            else:
                plan.unsure.append("line %s: stiffness" % name)
        ln.mass = 0.0
        if "mass" in d:
            ln.mass = scalar(d["mass"], MASS)[0]
        else:
            for p in parts:
                if p is None:
                    plan.unsure.append("line %s: mass of its parts" % name)
                    continue
                if "mass" in p:
                    ln.mass += scalar(p["mass"], MASS)[0]
                elif "mass_per_m" in p:
                    ln.mass += scalar(p["mass_per_m"], LINE_MASS)[0] * ln.length
        ln.upper = 1 if (not floating and b[2] > a[2]) else 0
        ln.end_mass = [ln.mass / 2, ln.mass / 2]
        ln.hoist = d.get("hoist")
        ln.chain = ln.chain_per_m = 0.0
        ln.hoist_end = None
        if ln.hoist:
            h = plan.hoists[ln.hoist]
            if h is None:
                plan.unsure.append("hoist %s: its row" % ln.hoist)
            else:
                body_at = ln.upper if h["hung"] == "body_up" else 1 - ln.upper
                hook_at = 1 - body_at
                ln.hoist_end = body_at
                ln.end_mass[body_at] += h["self_mass"]
                ln.end_mass[hook_at] += h["hook_mass"]
                ln.chain = h["chain_mass"]
                ln.chain_per_m = h["chain_per_m"]
                if ln.chain:
                    plan.unsure.append("hoist %s: where its chain hangs" % ln.hoist)
        plan.lines.append(ln)

    factor = (doc.get("dynamic") or {}).get("factor")
    plan.factor = None if factor is None else scalar(factor, NONE)[0]
    plan.tolerances = any(b.mass_tol or b.cog_tol.any() for b in plan.bodies) or \
        any(ln.length_tol for ln in plan.lines)
    plan.total_mass = sum(b.mass for b in plan.bodies) + sum(r.mass for r in plan.rings) + \
        sum(sum(ln.end_mass) for ln in plan.lines)
    plan.runways = doc.get("runways") or {}
    return plan


def hoist(d, tables=None):
    """SI numbers of a hoist; None when its row is not to be had."""
    d = dict(d)
    if "part" in d:
        row = _row(d.pop("part"), tables)
        if row is None:
            return None
        d = {**row, **d}
    h = {
        "rated": scalar(d["rated"], FORCE)[0] if "rated" in d else None,
        "self_mass": scalar(d.get("self_mass", "0 kg"), MASS)[0],
        "hook_mass": scalar(d.get("hook_mass", "0 kg"), MASS)[0],
        "falls": scalar(d.get("falls", "1"), NONE)[0],
        "height": scalar(d["height_of_lift"], LENGTH)[0] if "height_of_lift" in d else None,
        "hung": d.get("hung", "body_up"),
        "group": d.get("group"), "class": d.get("hoisting_class"), "drive": d.get("drive_class"),
        "limiter": d.get("limiter"), "duty": d.get("duty"),
        "cdf": scalar(d["cyclic_duration_factor"], NONE)[0] if "cyclic_duration_factor" in d else None,
        "starts": scalar(d["starts_per_hour"], NONE)[0] if "starts_per_hour" in d else None,
    }
    speeds = d.get("speeds", [])
    h["speeds"] = [scalar(s, SPEED)[0] for s in ([speeds] if isinstance(speeds, str) else speeds)]
    per_m = scalar(d.get("chain_mass_per_m", "0 kg/m"), LINE_MASS)[0]
    h["chain_per_m"] = per_m * h["falls"]
    h["chain_mass"] = h["chain_per_m"] * h["height"] if h["height"] else 0.0
    return h
