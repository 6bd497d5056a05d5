#!/usr/bin/python3
"""Acceptance: every plan in good/, unstable/ and broken/ through the program, judged from outside.

    verify.py --becket build/src/cli/becket [--tables tables] [--long] [NAME...]

good/      `check --json`: the form of the results, the balance proved again from the poses with Hooke's law, a second
           solver (least energy), the worst within the tolerances by corners, chance and climbing, runways by a
           beam-element sweep, hoists by hand formulae, and what the plan's own `# want:` lines say
unstable/  exit status 3, the body named, nothing but the message
broken/    exit status 2, nothing on standard output, the mistake's line (and column) and a word of the message
hostile    made here: bombs, nesting, huge numbers, NUL, bad UTF-8, 50 MB, folders, pipes: refused fast and small

Prints one line a plan, then `N passed, N failed`.  Exit status 0, 1 when something failed, 77 without a program.
"""
import argparse
import glob
import itertools
import json
import math
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time

try:
    import numpy as np
    import yaml
except ImportError as e:
    print("acceptance: %s (Debian: python3-numpy, python3-yaml)" % e)
    sys.exit(77)

import acceptance_beam as beams
import acceptance_random
from acceptance_plan import G, LENGTH, Tables, load, scalar, vector
from acceptance_rig import Rig, worst

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
CHECKS = set("""line.wll line.angle line.choker line.bend legs.mode_factor legs.rigid_load joint.included_angle ring.wll
point.direction anchor.limit body.tilt hoist.rated_capacity hoist.limiter hoist.duty_cycle hoist.starts hoist.group
hoist.life runway.bending runway.shear runway.lateral_torsional_buckling runway.interaction runway.flange_stress
runway.flange_resistance runway.web runway.deflection runway.support beam.buckling beam.bending beam.shear
beam.interaction""".split())


class Judge:
    """Collects what is wrong with one plan."""

    def __init__(self):
        self.bad, self.said = [], []

    def want(self, ok, text, *args):
        if not ok:
            self.bad.append(text % args if args else text)
        return ok

    def near(self, what, have, want, tol):
        if not isinstance(have, (int, float)) or isinstance(have, bool):
            self.bad.append("%s: no number (%r), want %.6g" % (what, have, want))
            return False
        return self.want(abs(have - want) <= tol, "%s: %.8g, want %.8g (off by %.3g, allowed %.3g)",
                         what, have, want, abs(have - want), tol)


class Program:
    def __init__(self, path, tables, slow):
        self.path = path
        self.slow = slow
        self.env = dict(os.environ, LC_ALL="C.UTF-8")
        if tables:
            self.env["BECKET_TABLES"] = tables

    def run(self, *args, stdin=None, timeout=20, env=None):
        """status, stdout, stderr (bytes), seconds, peak MB.  stdin: bytes, or an open pipe."""
        before = time.monotonic()
        with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
            source = subprocess.DEVNULL if stdin is None else subprocess.PIPE if isinstance(stdin, bytes) else stdin
            p = subprocess.Popen([self.path, *args], stdin=source, stdout=out, stderr=err, env=env or self.env)
            killer = threading.Timer(timeout * self.slow, p.kill)
            killer.start()
            try:
                if isinstance(stdin, bytes):
                    try:
                        p.stdin.write(stdin)
                        p.stdin.close()
                    except BrokenPipeError:
                        pass
                _, status, usage = os.wait4(p.pid, 0)
                p.returncode = os.waitstatus_to_exitcode(status)
            finally:
                killer.cancel()
            seconds = time.monotonic() - before
            out.seek(0)
            err.seek(0)
            return p.returncode, out.read(), err.read(), seconds, usage.ru_maxrss / 1024


def wants(path):
    """The `# want:` lines at the head of a plan."""
    found = []
    with open(path, encoding="utf-8", errors="replace") as f:
        for line in f:
            if not line.startswith("#"):
                break
            if line.startswith("# want:"):
                found.append(line[7:].split())
    return found


def no_constant(text):
    raise ValueError("%s in the JSON" % text)


def each(j, where, items, names=None):
    """A list of objects; its names in the plan's order."""
    if not j.want(isinstance(items, list), "%s: not a list", where):
        return []
    if names is not None:
        have = [i.get("name") for i in items]
        j.want(have == list(names), "%s: names %s, want %s", where, have, list(names))
    return items


def num(j, where, value, null=False, low=-math.inf, high=math.inf):
    if value is None and null:
        return False
    if not j.want(isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value),
                  "%s: not a finite number: %r", where, value):
        return False
    return j.want(low <= value <= high, "%s: %.6g out of range", where, value)


def vec(j, where, value, n=3):
    return j.want(isinstance(value, list) and len(value) == n and
                  all(isinstance(v, (int, float)) and not isinstance(v, bool) and math.isfinite(v) for v in value),
                  "%s: want %d numbers, got %r", where, n, value)


# ---- the form -------------------------------------------------------------------------------------

def check_form(j, out, plan, status):
    j.want(out.get("becket") == 1, "becket: %r, want 1", out.get("becket"))
    j.want(plan.title is None or out.get("title") == plan.title, "title %r is not the plan's", out.get("title"))
    j.want(out.get("rules") == plan.rules, "rules %r", out.get("rules"))
    verdict = out.get("verdict")
    j.want(verdict in ("pass", "fail", "incomplete"), "verdict %r", verdict)
    j.want(status == (0 if verdict == "pass" else 1), "verdict %s with exit status %s", verdict, status)
    notes = out.get("notes")
    j.want(isinstance(notes, list) and all(isinstance(n, str) and n for n in notes), "notes are not sentences")
    checks = each(j, "checks", out.get("checks"))
    failed = missing = False
    for c in checks:
        name = "%s of %s" % (c.get("check"), c.get("item"))
        for key in ("check", "item", "part", "what", "demand", "limit", "unit", "utilisation", "passes", "rule", "source"):
            j.want(key in c, "%s: no %s", name, key)
        j.want(isinstance(c.get("check"), str) and
               (c["check"] in CHECKS or re.fullmatch(r"[a-z]+(\.[a-z_]+)+", c["check"])), "check name %r", c.get("check"))
        j.want(isinstance(c.get("item"), str) and c["item"], "%s: item", name)
        j.want(c.get("part") is None or isinstance(c["part"], str), "%s: part %r", name, c.get("part"))
        for key in ("what", "rule", "source", "unit"):
            j.want(isinstance(c.get(key), str) and c[key], "%s: %s %r", name, key, c.get(key))
        demand, limit, used, passes = (c.get(k) for k in ("demand", "limit", "utilisation", "passes"))
        for key, value in (("demand", demand), ("limit", limit), ("utilisation", used)):
            num(j, "%s: %s" % (name, key), value, null=True)
        if limit is None and used is None:
            j.want(passes is not True, "%s: passes without a limit", name)
            missing = True
            continue
        j.want(isinstance(passes, bool), "%s: passes is %r", name, passes)
        failed = failed or passes is False
        if used is None:
            j.want(passes is False, "%s: passes with no utilisation", name)
        else:
            j.want(passes == (used <= 1 + 1e-9), "%s: passes %s at utilisation %.6g", name, passes, used)
            if demand is not None and limit and demand > 0 and limit > 0:
                ratio = demand / limit
                j.want(min(abs(used - ratio), abs(used - 1 / ratio)) <= 1e-6 * max(1, used),
                       "%s: utilisation %.8g is not %.8g / %.8g", name, used, demand, limit)
    expect = "fail" if failed else ("incomplete" if missing else "pass")
    j.want(verdict == expect or (verdict == "fail" and missing),
           "verdict %s, but the checks say %s", verdict, expect)
    return checks


# ---- the rig --------------------------------------------------------------------------------------

def rotation(q):
    w, x, y, z = q
    return np.array([[1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
                     [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
                     [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)]])


def prove_rig(j, out, plan, checks, long):
    rig = out.get("rig")
    if not plan.lines and not plan.bodies:
        j.want(not rig, "a rig where the plan has none")
        return
    if not j.want(isinstance(rig, dict), "no rig in the results"):
        return
    j.want(rig.get("converged") is True, "converged: %r", rig.get("converged"))
    j.want(rig.get("stable") is True, "stable: %r", rig.get("stable"))
    num(j, "residual", rig.get("residual"), low=0, high=1e-9)
    lines = each(j, "rig.lines", rig.get("lines"), [ln.name for ln in plan.lines])
    bodies = each(j, "rig.bodies", rig.get("bodies"), [b.name for b in plan.bodies])
    rings = each(j, "rig.rings", rig.get("rings"), [r.name for r in plan.rings])
    anchors = each(j, "rig.anchors", rig.get("anchors"), [a.name for a in plan.anchors])
    for b in bodies:
        ok = vec(j, b["name"] + ".origin_m", b.get("origin_m")) and vec(j, b["name"] + ".quaternion", b.get("quaternion"), 4) \
            and vec(j, b["name"] + ".cog_m", b.get("cog_m")) and num(j, b["name"] + ".tilt_deg", b.get("tilt_deg"), low=0, high=180)
        if not ok:
            return
    for r in rings:
        if not vec(j, r["name"] + ".at_m", r.get("at_m")):
            return
    for a in anchors:
        if not vec(j, a["name"] + ".force_N", a.get("force_N")):
            return
    for ln in lines:
        j.want(isinstance(ln.get("slack"), bool), "%s.slack: %r", ln["name"], ln.get("slack"))
        num(j, ln["name"] + ".tension_N", ln.get("tension_N"), low=0)
        num(j, ln["name"] + ".length_m", ln.get("length_m"), null=bool(ln.get("slack")), low=0)
        num(j, ln["name"] + ".angle_from_vertical_deg", ln.get("angle_from_vertical_deg"),
            null=bool(ln.get("slack")), low=0, high=90 + 1e-9)
    if j.bad:
        return

    def turned(i):
        return rotation(bodies[i]["quaternion"])

    def spot(end):
        kind, i, own = end
        if kind == "body":
            return np.array(bodies[i]["origin_m"]) + turned(i) @ own
        if kind == "ring":
            return np.array(rings[i]["at_m"])
        return plan.anchors[i].at

    for i, (b, p) in enumerate(zip(bodies, plan.bodies)):
        j.near(b["name"] + ": |quaternion|", float(np.linalg.norm(b["quaternion"])), 1.0, 1e-9)
        axis = turned(i)[:, 2]
        tilt = math.degrees(math.atan2(math.hypot(axis[0], axis[1]), axis[2]))
        j.near(b["name"] + ".tilt_deg", b["tilt_deg"], tilt, 1e-5)
        if p.known:
            cog = np.array(b["origin_m"]) + turned(i) @ p.cog
            j.want(np.abs(cog - b["cog_m"]).max() <= 1e-9 * max(1, np.abs(cog).max()), "%s.cog_m is not origin + q cog", b["name"])

    weight = plan.total_mass * G
    sure_mass = not any("mass" in u or "chain" in u or "row" in u for u in plan.unsure)
    total = np.sum([a["force_N"] for a in anchors], axis=0) if anchors else np.zeros(3)
    if sure_mass:
        j.want(abs(total[2] + weight) <= 1e-6 * weight and np.abs(total[:2]).max() <= 1e-6 * weight,
               "anchor forces sum to %s, weight is %.6f", total, weight)
    else:
        weight = -total[2]
    placed = all(a.at is not None for a in plan.anchors)
    if not placed:
        j.said.append("anchor not placed")
        return

    # Hooke's law, line by line
    pull = []
    for ln, o in zip(plan.lines, lines):
        d = spot(ln.ends[1]) - spot(ln.ends[0])
        length = float(np.linalg.norm(d))
        stretched = ln.length is not None and ln.ea is not None
        t = max(0.0, length - ln.length) * ln.ea / ln.length if stretched else o["tension_N"]
        if stretched:
            # the poses are printed to a double's digits: allow for one unit in the last place of a coordinate
            slop = 8 * np.finfo(float).eps * max(length, np.abs(spot(ln.ends[0])).max()) * ln.ea / ln.length
            j.near(ln.name + ".tension_N by Hooke's law", o["tension_N"], t, 1e-6 * weight + slop)
        if o["length_m"] is not None and not o["slack"]:
            j.near(ln.name + ".length_m", o["length_m"], length, 1e-9 * max(1.0, length))
        if o["angle_from_vertical_deg"] is not None and length > 0:
            angle = math.degrees(math.atan2(math.hypot(d[0], d[1]), abs(d[2])))
            j.near(ln.name + ".angle_from_vertical_deg", o["angle_from_vertical_deg"], angle, 1e-5)
        j.want(not (o["slack"] and t > 1e-6 * weight), "%s is called slack with %.3g N in it", ln.name, t)
        j.want(o["slack"] or t > 0 or not stretched, "%s carries nothing and is not called slack", ln.name)
        pull.append(t * d / max(length, 1e-12))

    # the balance of every body, ring and anchor; a hoist's chain may be counted for the whole lift or for the fall as
    # drawn, the fall may hang at either end or be shared, and what is not in the fall hangs at the hoist
    def balance(share, whole=True):
        force = {("body", i): np.zeros(3) for i in range(len(bodies))}
        force.update({("ring", i): np.zeros(3) for i in range(len(rings))})
        force.update({("anchor", i): np.zeros(3) for i in range(len(anchors))})
        moment = [np.zeros(3) for _ in bodies]
        for ln, p in zip(plan.lines, pull):
            for k, sign in ((0, 1.0), (1, -1.0)):
                end = ln.ends[k]
                fall = min(ln.chain, ln.chain_per_m * ln.length)
                m = ln.end_mass[k] + fall * (share if k == ln.upper else 1 - share)
                m += ln.chain - fall if whole and k == ln.hoist_end else 0.0
                f = sign * p - np.array([0, 0, m * G])
                force[end[:2]] += f
                if end[0] == "body":
                    moment[end[1]] += np.cross(spot(end) - bodies[end[1]]["cog_m"], f)
        off, worst_at = 0.0, ""
        for i, b in enumerate(plan.bodies):
            force[("body", i)] -= np.array([0, 0, b.mass * G])
            size = max([np.linalg.norm(p - b.cog) for p in b.points.values()] + [1e-6])
            for what, value in (("force on ", np.abs(force[("body", i)]).max()), ("moment on ", np.abs(moment[i]).max() / size)):
                if value > off:
                    off, worst_at = value, what + b.name
        for i, r in enumerate(plan.rings):
            value = np.abs(force[("ring", i)] - np.array([0, 0, r.mass * G])).max()
            if value > off:
                off, worst_at = value, "force on " + r.name
        for i, a in enumerate(anchors):
            value = np.abs(force[("anchor", i)] - a["force_N"]).max()
            if value > off:
                off, worst_at = value, "force of anchor " + a["name"]
        return off / weight, worst_at

    if sure_mass or any(ln.chain for ln in plan.lines):
        chained = any(ln.chain for ln in plan.lines)
        off, at = min(balance(*t) for t in itertools.product((1.0, 0.5, 0.0), (True, False))) if chained else balance(0.0)
        j.want(off <= 1e-6, "out of balance by %.3g of the weight: %s", off, at)
        j.said.append("balance %.0e" % max(off, 1e-16))

    taut = {ln["name"] for ln in lines if not ln["slack"]}
    have = {c["item"] for c in checks if c["check"] == "line.wll"}
    for ln in plan.lines:
        if ln.name in taut and not ln.hoist:
            j.want(ln.name in have, "no line.wll check for %s", ln.name)
    for a in plan.anchors:
        j.want(a.on or any(c["check"] == "anchor.limit" and c["item"] == a.name for c in checks), "no anchor.limit check for %s", a.name)
    for b in plan.bodies:
        j.want(any(c["check"] == "body.tilt" and c["item"] == b.name for c in checks), "no body.tilt check for %s", b.name)
    for c in checks:
        if c["check"] == "line.wll" and c["demand"] is not None and c["item"] in {ln["name"] for ln in lines}:
            t = next(ln for ln in lines if ln["name"] == c["item"])["tension_N"]
            j.want(c["demand"] >= t - 1e-6 * weight, "line.wll of %s: demand %.6g under its tension %.6g", c["item"], c["demand"], t)

    # a second solver
    has_worst = "worst" in rig and rig["worst"] is not None
    j.want(has_worst == plan.tolerances, "worst is %s, the plan has %stolerances", "there" if has_worst else "missing",
           "" if plan.tolerances else "no ")
    if plan.unsure:
        j.said.append("second solver not possible: " + plan.unsure[0])
        return
    own = Rig(plan)
    pose, rest = own.solve()
    j.want(rest[0] < 1e-8, "the second solver does not settle (%.1e)", rest[0])
    mine = own.tensions(pose)[0]
    for ln, t in zip(lines, mine):
        j.near(ln["name"] + ".tension_N by least energy", ln["tension_N"], float(t), 3e-6 * weight)
    if has_worst:
        check_worst(j, rig, plan, own, pose, weight, long)


def check_worst(j, rig, plan, own, pose, weight, long):
    w_lines = each(j, "rig.worst.lines", rig["worst"].get("lines"), [ln.name for ln in plan.lines])
    w_anchors = each(j, "rig.worst.anchors", rig["worst"].get("anchors"), [a.name for a in plan.anchors])
    high, low, anchors, lost = worst(own, pose, random=100000 if long else 1500, sweeps=5 if long else 3)
    if lost:
        j.said.append("%d scenarios did not settle" % lost)
    margin = 1e-3 * weight
    # the plainer search may have missed a narrow top: look closer
    if any((ln.get("tension_max_N") or 0) > h + margin or (ln.get("tension_min_N") or 0) < lo - margin
           for ln, h, lo in zip(w_lines, high, low)):
        high, low, anchors, lost = worst(own, pose, random=20000, sweeps=6, keep=6)
    for ln, o, h, lo in zip(w_lines, rig["lines"], high, low):
        j.near(ln["name"] + ".tension_max_N", ln.get("tension_max_N"), float(h), margin)
        j.near(ln["name"] + ".tension_min_N", ln.get("tension_min_N"), float(lo), margin)
        for key in ("max_case", "min_case"):
            j.want(isinstance(ln.get(key), str) and ln[key], "%s.%s: %r", ln["name"], key, ln.get(key))
        j.want(ln["tension_max_N"] >= o["tension_N"] - 1e-9 * weight >= ln["tension_min_N"] - 2e-9 * weight,
               "%s: nominal outside its worst", ln["name"])
    for a, h in zip(w_anchors, anchors):
        j.near(a["name"] + ".force_max_N", a.get("force_max_N"), float(h), margin)
        j.want(isinstance(a.get("max_case"), str) and a["max_case"], "%s.max_case: %r", a["name"], a.get("max_case"))


# ---- hoists ---------------------------------------------------------------------------------------

PHI2 = {"HC1": (1.05, 0.17), "HC2": (1.10, 0.34), "HC3": (1.15, 0.51), "HC4": (1.20, 0.68)}  # EN 1991-3, table 2.5
FULL_LOAD_HOURS = {"M3": 400, "M4": 800, "M5": 1600, "M6": 3200, "M7": 6300, "M8": 12500}    # FEM 9.755, table 1
V_HOURS = (0.12, 0.25, 0.5, 1, 2, 4, 8, 16)                                                   # FEM 9.511


def check_hoists(j, out, plan):
    results = each(j, "hoists", out.get("hoists", []), plan.hoists.keys())
    for o in results:
        h, name = plan.hoists[o["name"]], o["name"]
        for key in ("hook_load_N", "suspension_load_N", "dynamic_factor", "force_limit_N"):
            j.want(key in o, "%s: no %s", name, key)
            num(j, "%s.%s" % (name, key), o.get(key), null=True, low=0)
        if h is None:
            continue
        phi = o.get("dynamic_factor")
        if plan.factor is not None:
            j.near(name + ".dynamic_factor of the plan", phi, plan.factor, 1e-9)
        elif plan.rules == "en" and h["class"] in PHI2 and h["drive"] is None and h["speeds"]:
            low, slope = PHI2[h["class"]]
            j.near(name + ".dynamic_factor", phi, low + slope * h["speeds"][0], 1e-6)
        on = [ln for ln in plan.lines if ln.hoist == name]
        hook = o.get("hook_load_N")
        if len(on) == 1 and hook is not None:
            t = next(x for x in out["rig"]["lines"] if x["name"] == on[0].name)["tension_N"]
            top = t
            if plan.tolerances and "worst" in out["rig"]:
                top = next(x for x in out["rig"]["worst"]["lines"] if x["name"] == on[0].name)["tension_max_N"]
            slack = (on[0].mass + 2 * on[0].chain + (h["self_mass"] if h["hung"] == "body_down" else 0)) * G
            j.want(t - slack - 1e-6 * t <= hook <= top + slack + 1e-6 * t, "%s.hook_load_N %.6g, the line's middle carries %.6g",
                   name, hook, t)
        limit = o.get("force_limit_N")
        if isinstance(h["limiter"], dict) and h["limiter"].get("kind") == "direct" and "at" in h["limiter"]:
            at = float(h["limiter"]["at"])
            low, high = at * h["rated"], at * (h["rated"] + h["hook_mass"] * G)
            if num(j, name + ".force_limit_N", limit):
                j.want(low * (1 - 1e-9) <= limit <= high * (1 + 1e-9), "%s.force_limit_N %.6g, want %.6g to %.6g", name, limit, low, high)
        elif h["limiter"] is None:
            j.want(limit is None, "%s.force_limit_N %r without a limiter", name, limit)
        if hook is not None and phi is not None and o.get("suspension_load_N") is not None:
            # hook load x dynamic factor + hoist + chain; hung with its body down, the hoist climbs along
            dead = (h["self_mass"] + h["chain_mass"]) * G
            want = phi * (hook + dead) if h["hung"] == "body_down" else phi * hook + dead
            j.near(name + ".suspension_load_N", o["suspension_load_N"], want, 2e-3 * want)
        if h["duty"]:
            check_duty(j, name, o, h)
        else:
            j.want(o.get("duty") is None or all(v is None for k, v in o["duty"].items()
                   if k in ("cyclic_duration_factor", "starts_per_hour", "life_used")), "%s: duty figures without a duty", name)


def check_duty(j, name, o, h):
    d, duty = h["duty"], o.get("duty")
    if not j.want(isinstance(duty, dict), "%s: no duty", name):
        return
    for key in ("cyclic_duration_factor", "starts_per_hour", "running_hours_per_day", "spectrum_factor", "group_needed", "life_used"):
        j.want(key in duty, "%s.duty: no %s", name, key)
    cycles, lift = float(d["cycles_per_hour"]), scalar(d["mean_lift"], LENGTH)[0]
    hours, pairs = float(d["hours_per_day"]), 4 if d.get("empty_return") in ("yes", "true") else 2
    if len(h["speeds"]) == 1:
        share = pairs * lift * cycles / (h["speeds"][0] * 3600)
        j.near(name + ".cyclic_duration_factor", duty.get("cyclic_duration_factor"), share, 1e-6)
        j.near(name + ".running_hours_per_day", duty.get("running_hours_per_day"), share * hours, 1e-6)
    starts = duty.get("starts_per_hour")
    if num(j, name + ".starts_per_hour", starts):
        j.want(starts >= pairs * cycles * (1 - 1e-9), "%s.starts_per_hour %.6g, at least %g", name, starts, pairs * cycles)
    loads = [(scalar(x["of_rated"], (0, 0, 0))[0], scalar(x["time"], (0, 0, 0))[0]) for x in d.get("loads", [])]
    if not loads:
        return
    # the hook block, which hangs there always, may count with every load (FEM 9.511: the share gamma of the dead load; memory)
    block = h["hook_mass"] * G / h["rated"] if h["rated"] else 0.0
    km, most = [sum(t * (b + g) ** 3 for b, t in loads) / sum(t for _, t in loads) for g in (0.0, block)]
    got = duty.get("spectrum_factor")
    j.want(isinstance(got, float) and 0.98 * km <= got <= 1.02 * most, "%s.spectrum_factor %r, want %.6g to %.6g", name, got, km, most)
    if duty.get("running_hours_per_day") is not None and isinstance(duty.get("spectrum_factor"), float):
        v = sum(duty["running_hours_per_day"] > lim * (1 + 1e-12) for lim in V_HOURS)     # V0.06 is 0 = T0
        level = 1 + sum(duty["spectrum_factor"] > lim for lim in (0.125, 0.25, 0.5))
        m = v + level - 2
        got = duty.get("group_needed")
        if 1 <= m <= 8:
            ok = [m] + ([m - 1, m + 1] if min(abs(duty["spectrum_factor"] - lim) for lim in (0.125, 0.25, 0.5, 0.512)) < 0.013 else [])
            j.want(got in ["M%d" % k for k in ok], "%s.group_needed %r, want M%d (T%d, L%d)", name, got, m, v, level)
        else:
            j.want(got is None or got in ("M1", "M8"), "%s.group_needed %r outside the table", name, got)
    meter = d.get("meter")
    if isinstance(meter, dict) and h["group"] in FULL_LOAD_HOURS and "on_time" in meter:
        t = scalar(meter["on_time"], (0, 0, 1))[0] / 3600
        base, top = [k * t / FULL_LOAD_HOURS[h["group"]] for k in (km, most)]
        used = duty.get("life_used")
        if num(j, name + ".life_used", used):
            j.want(base * 0.98 <= used <= top * 1.5 * 1.02, "%s.life_used %.5g, want %.5g to %.5g", name, used, base, 1.5 * top)


# ---- runways --------------------------------------------------------------------------------------

def check_runways(j, out, plan, long):
    results = each(j, "runways", out.get("runways", []), plan.runways.keys())
    for o, (name, d) in zip(results, plan.runways.items()):
        r = beams.read(d)
        phi = o.get("dynamic_factor")
        if not num(j, name + ".dynamic_factor", phi, low=0.5, high=5):
            continue
        if plan.factor is not None:
            j.near(name + ".dynamic_factor of the plan", phi, plan.factor, 1e-9)
        reactions = each(j, name + ".reactions", o.get("reactions"))
        j.want([x.get("at_m") for x in reactions] == [s for s in r["supports"]] or
               np.allclose([x.get("at_m", math.nan) for x in reactions], r["supports"], atol=1e-9),
               "%s: reactions at %s", name, [x.get("at_m") for x in reactions])
        figures = [(k, o.get(k, {}).get(v)) for k, v in
                   (("moment", "max_Nm"), ("moment", "max_at_m"), ("moment", "min_Nm"), ("moment", "min_at_m"),
                    ("shear", "max_abs_N"), ("shear", "at_m"), ("deflection", "max_abs_m"), ("deflection", "at_m"))]
        if not all([num(j, "%s.%s" % (name, k), v) for k, v in figures]) or \
                not all([num(j, "%s reaction" % name, x.get(k)) for x in reactions for k in ("max_N", "min_N")]):
            continue
        section = d.get("section")
        if section not in beams.HANDBOOK:
            j.said.append("section %s not in hand" % section)
            continue
        inertia, per_m = beams.HANDBOOK[section]
        trains = trolley_loads(j, out, plan, name, r, phi)
        if trains is None:
            continue
        beam = beams.Beam(r["ends"], r["supports"], r["fixed"], beams.E_STEEL[plan.rules] * inertia * 1e-8,
                          nodes=600 if long else 240,
                          also=[x + off for t in r["trolleys"] for x in t["travel"] for off in t["lines"]] +
                          [x for one in r["standing"] for x in one[:2] if x is not None])
        q = per_m * G if r["self"] else 0.0
        # a hoist's hook block and chain may be counted with the load or with the hoist
        best = None
        for trial in trains:
            have = Judge()
            compare_runway(have, name, o, r, beams.worst(beam, q, r["standing"], trial, steps=2000 if long else 200), beam)
            if best is None or len(have.bad) < len(best.bad):
                best = have
            if not best.bad:
                break
        j.bad += best.bad
        j.said.append("sweep agrees" if not best.bad else "sweep differs")


def trolley_loads(j, out, plan, runway, r, phi):
    """Candidates of what each trolley puts on its beam: (travel, wheels, loaded, empty)."""
    options = []
    for hook_counts in (True, False):
        trains = []
        for t in r["trolleys"]:
            own = t["mass"] * G
            hoist = plan.hoists.get(t["hoist"]) if t["hoist"] else None
            if t["hoist"] and hoist is None:
                j.said.append("hoist row not in hand")
                return None
            dead = own + ((hoist["self_mass"] + hoist["chain_mass"]) * G if hoist else 0.0)
            block = hoist["hook_mass"] * G if hoist else 0.0
            on = [i for i, a in enumerate(plan.anchors) if a.on == "%s.%s" % (runway, t["name"])]
            if on:
                down = -sum(out["rig"]["anchors"][i]["force_N"][2] for i in on)
                in_line = [ln for ln in plan.lines if ln.hoist and any(e[0] == "anchor" and e[1] in on for e in ln.ends)]
                if in_line:
                    down -= sum((plan.hoists[ln.hoist]["self_mass"] + plan.hoists[ln.hoist]["chain_mass"]) for ln in in_line) * G
                elif hook_counts:
                    down += block
                loaded = phi * down + dead
            elif t["load"] is not None:
                loaded = phi * t["load"] + dead
            elif hoist:
                loaded = phi * (hoist["rated"] + (block if hook_counts else 0)) + dead + (0 if hook_counts else block)
            else:
                loaded = dead
            trains.append((t["travel"], t["lines"], loaded, dead + block))
        options.append(trains)
    return options


def compare_runway(j, name, o, r, w, beam):
    scale = max(abs(w["reaction_max"]).max(), abs(w["reaction_min"]).max())
    for i, x in enumerate(o["reactions"]):
        j.near("%s reaction %d max" % (name, i), x["max_N"], float(w["reaction_max"][i]), 2e-3 * scale)
        j.near("%s reaction %d min" % (name, i), x["min_N"], float(w["reaction_min"][i]), 2e-3 * scale)
    top = max(abs(w["moment_max"]), abs(w["moment_min"]))
    j.near(name + " moment max", o["moment"]["max_Nm"], float(w["moment_max"]), 2e-3 * top)
    j.near(name + " moment min", o["moment"]["min_Nm"], float(w["moment_min"]), 2e-3 * top)
    j.near(name + " shear", o["shear"]["max_abs_N"], float(w["shear"]), 2e-3 * w["shear"])
    j.near(name + " deflection", o["deflection"]["max_abs_m"], float(w["deflection"]), 1e-2 * w["deflection"])

    def there(what, x, grid, values, want, tol):
        if j.want(beam.x[0] - 1e-9 <= x <= beam.x[-1] + 1e-9, "%s: %s at %.6g, off the beam", name, what, x):
            at = abs(grid - x) <= 1.01 * max(abs(grid - x).min(), (beam.x[-1] - beam.x[0]) / len(beam.x))
            j.want(abs(values[at] - want).min() <= tol, "%s: %s is not at %.6g m", name, what, x)
    there("moment max", o["moment"]["max_at_m"], beam.section, w["moment_top"], w["moment_max"], 6e-3 * top)
    there("moment min", o["moment"]["min_at_m"], beam.section, w["moment_bottom"], w["moment_min"], 6e-3 * top)
    there("shear", o["shear"]["at_m"], beam.section, w["shear_top"], w["shear"], 2e-2 * w["shear"])
    there("deflection", o["deflection"]["at_m"], beam.x, w["bend_top"], w["deflection"], 1e-2 * w["deflection"])


# ---- one plan -------------------------------------------------------------------------------------

def good(program, tables, path, long):
    j = Judge()
    status, out, err, _, _ = program.run("check", path, "--json")
    if not j.want(status in (0, 1), "exit status %s: %s", status, err.decode(errors="replace").strip()[:300]):
        return j
    try:
        result = json.loads(out, parse_constant=no_constant)
    except ValueError as e:
        j.bad.append("not JSON: %s" % e)
        return j
    plan = load(path, tables)
    checks = check_form(j, result, plan, status)
    prove_rig(j, result, plan, checks, long)
    if not j.bad or "rig" not in result:
        check_hoists(j, result, plan)
        check_runways(j, result, plan, long)
    for w in wants(path):
        own_want(j, w, result, checks, status, plan)
    text_status, text, _, _, _ = program.run("check", path)
    j.want(text_status == status, "text report ends with %s, JSON with %s", text_status, status)
    j.want(re.search(rb"(?i)\b(-?nan|inf)\b", text) is None, "nan or inf in the text report")
    j.want(not plan.title or plan.title.split(",")[0].encode() in text, "title not in the text report")
    return j


def tolerance(text, value):
    return abs(value) * float(text[:-1]) / 100 if text.endswith("%") else float(text)


def own_want(j, w, out, checks, status, plan):
    def one(group, name):
        found = [x for x in group if x["name"] == name]
        return found[0] if found else {}
    rig = out.get("rig") or {}
    if w[0] == "exit":
        j.want(status == int(w[1]), "exit status %s, want %s (%s)", status, w[1], "; ".join(
            "%s %s %s" % (c["check"], c["item"], "no limit" if c["limit"] is None else "fails") for c in checks if not c["passes"])[:200])
    elif w[0] == "verdict":
        j.want(out.get("verdict") == w[1], "verdict %s, want %s", out.get("verdict"), w[1])
    elif w[0] == "tension":
        j.near("tension of " + w[1], one(rig.get("lines", []), w[1]).get("tension_N"), float(w[2]), tolerance(w[3], float(w[2])))
    elif w[0] == "angle":
        j.near("angle of " + w[1], one(rig.get("lines", []), w[1]).get("angle_from_vertical_deg"), float(w[2]), tolerance(w[3], float(w[2])))
    elif w[0] == "tilt":
        j.near("tilt of " + w[1], one(rig.get("bodies", []), w[1]).get("tilt_deg"), float(w[2]), tolerance(w[3], float(w[2])))
    elif w[0] == "slack":
        j.want(one(rig.get("lines", []), w[1]).get("slack") is True, "%s is not slack", w[1])
    elif w[0] == "worst":
        nominal = one(rig.get("lines", []), w[1]).get("tension_N", math.nan)
        j.near("worst of " + w[1], one((rig.get("worst") or {}).get("lines", []), w[1]).get("tension_max_N"), nominal * float(w[2]), 1e-3 * nominal)
    elif w[0] == "fails":
        j.want(any(c["check"] == w[1] and c["item"] == w[2] and c["passes"] is False for c in checks), "%s of %s does not fail", w[1], w[2])
    elif w[0] == "utilisation":
        found = [c["utilisation"] for c in checks if (c["check"], c["item"]) == tuple(w[1:3]) and w[3] in ("-", c["part"])]
        j.near("%s of %s, %s" % tuple(w[1:4]), found[0] if found else None, float(w[4]), tolerance(w[5], float(w[4])))
    elif w[0] == "factor":
        j.near("dynamic factor of " + w[1], one(out.get("hoists", []), w[1]).get("dynamic_factor"), float(w[2]), tolerance(w[3], float(w[2])))
    elif w[0] == "hook":
        j.near("hook load of " + w[1], one(out.get("hoists", []), w[1]).get("hook_load_N"), float(w[2]), tolerance(w[3], float(w[2])))
    elif w[0] == "duty":
        j.near("duty of %s, %s" % (w[1], w[2]), (one(out.get("hoists", []), w[1]).get("duty") or {}).get(w[2]), float(w[3]), tolerance(w[4], float(w[3])))
    elif w[0] == "life":
        used = (one(out.get("hoists", []), w[1]).get("duty") or {}).get("life_used")
        j.want(isinstance(used, float) and float(w[2]) * 0.999 <= used <= float(w[3]) * 1.001, "life used %r, want %s to %s", used, w[2], w[3])
    else:
        j.bad.append("unknown want: %s" % w)


def unstable(program, tables, path, long):
    j = Judge()
    body = next(w for w in wants(path) if w[0] == "body")[1]
    status, out, err, seconds, _ = program.run("check", path, "--json")
    text = err.decode(errors="replace")
    j.want(status == 3, "exit status %s, want 3", status)
    j.want(body in text, "the message does not name %s: %s", body, text.strip()[:200])
    j.want(re.match(re.escape(path) + r":\d+:\d+: BK-30[12] ", text), "no place: %s", text.strip()[:200])
    if out.strip():
        try:
            j.want(json.loads(out, parse_constant=no_constant)["rig"]["stable"] is False, "standard output calls it stable")
        except (ValueError, KeyError, TypeError) as e:
            j.bad.append("standard output is neither empty nor results: %s" % e)
    j.want(seconds < 5 * program.slow, "took %.1f s", seconds)
    j.want(program.run("check", path)[0] == 3, "another status without --json")
    return j


def broken(program, tables, path, long):
    j = Judge()
    want = wants(path)[0]
    line, _, column = want[0].partition(":")
    status, out, err, seconds, _ = program.run("check", path, "--json")
    text = err.decode(errors="replace")
    j.want(status == 2, "exit status %s, want 2", status)
    j.want(out == b"", "something on standard output: %r", out[:80])
    j.want(text.strip() != "", "no message")
    found = re.findall(re.escape(path) + r":(\d+)(?::(\d+))?:? *(.*)", text)
    if line != "-":
        low, _, high = line.partition("-")
        rows = [f for f in found if int(low) <= int(f[0]) <= int(high or low)]
        if j.want(rows, "no message for line %s: %s", line, text.strip()[:200]):
            if column:
                rows = [f for f in rows if f[1] == column]
                j.want(rows, "line %s, but not column %s: %s", line, column, text.strip()[:160])
            for word in want[1:]:
                j.want(not rows or any(word.lower() in f[2].lower() for f in rows), "message without \"%s\": %s", word, text.strip()[:200])
    else:
        for word in want[1:]:
            j.want(word.lower() in text.lower(), "message without \"%s\": %s", word, text.strip()[:200])
    return j


# ---- hostile input --------------------------------------------------------------------------------

SOUND = """becket: 1
title: DEMO sound, Ostrel water works
rules: en
units: si
bodies:
  box: {mass: 1 t, cog: 0 0 -0.5 m, points: {eye: 0 0 0 m}}
anchors: {hook: {at: 0 0 3 m, limit: 20 kN}}
lines: {rope: {from: hook, to: box.eye, ea: 5 MN, mass: 1 kg, parts: [{what: sling, wll: 2 t}]}}
"""


def hostile_inputs():
    """name, bytes or pieces of them, (exit statuses allowed)"""
    bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
        "a%d: &a%d [%s]\n" % (i, i, ", ".join(["*a%d" % (i - 1)] * 10)) for i in range(1, 12))
    yield "alias bomb", (SOUND + bomb).encode(), (2,)
    yield "alias bomb in maps", (SOUND + "m0: &m0 {k: v}\n" + "".join(
        "m%d: &m%d {a: *m%d, b: *m%d}\n" % (i, i, i - 1, i - 1) for i in range(1, 40))).encode(), (2,)
    yield "20 000 opening brackets", b"[" * 20000, (2,)
    yield "20 000 brackets closed", b"x: " + b"[" * 20000 + b"]" * 20000, (2,)
    yield "20 000 opening braces", b"{a: " * 20000, (2,)
    yield "block nesting", "".join("%sk:\n" % (" " * i) for i in range(3000)).encode(), (2,)
    yield "20 000 dashes", b"- " * 20000, (2,)
    yield "20 000 question marks", b"? " * 20000, (2,)
    yield "1e999", SOUND.replace("1 t", "1e999 t").encode(), (2,)
    yield "1e308 t", SOUND.replace("1 t", "1e308 t").encode(), (2,)
    yield "a million digits", SOUND.replace("1 t", "1" * 1000000 + " t").encode(), (2,)
    yield "minus zero", SOUND.replace("1 t,", "-0 t,").encode(), (2,)
    yield "NUL byte", SOUND.replace("1 t", "1\0 t").encode(), (2,)
    yield "only NULs", b"\0" * 5000, (2,)
    yield "escaped NUL", SOUND.replace("DEMO sound", '"a\\0b"').encode(), (0, 1, 2)
    yield "invalid UTF-8", SOUND.encode().replace(b"sound", b"\xc3\x28\xff\xfe"), (2,)
    yield "overlong UTF-8", SOUND.encode().replace(b"sound", b"\xc0\xaf"), (2,)
    yield "surrogate in UTF-8", SOUND.encode().replace(b"sound", b"\xed\xa0\x80"), (2,)
    yield "cut UTF-8", SOUND.encode() + b"# \xe2\x82", (2,)
    yield "UTF-16", SOUND.encode("utf-16"), (2,)
    yield "empty file", b"", (2,)
    yield "blank file", b"\n \n\n", (2,)
    # in pieces: this process must stay small, for a child's peak counts what it was forked from
    yield "50 MB of remarks", [b"# nothing here, and a lot of it\n" * 1600] * 1000, (2,)
    yield "50 MB of one scalar", [SOUND.encode() + b"x: "] + [b"a" * 50000] * 1000, (2,)
    yield "50 MB of maps", itertools.chain([SOUND.encode()], (b"k%d: {a: b}\n" % i for i in range(3000000))), (2,)
    yield "50 MB without an end of line", [b"a" * 50000] * 1000, (2,)
    yield "a sound plan, then 50 MB of remarks", itertools.chain([SOUND.encode()], [b"# and a lot of it\n" * 2800] * 1000), (2,)
    yield "3 MB of maps", itertools.chain([SOUND.encode()], (b"k%d: {a: b}\n" % i for i in range(180000))), (2,)
    yield "a program", open("/bin/true", "rb").read(), (2,)
    yield "other tag", SOUND.replace("1 t,", "!!python/object:os.system 1 t,").encode(), (0, 1, 2)
    yield "directive", b"%YAML 9.9\n---\n" + SOUND.encode(), (0, 2)
    yield "name of 100 000 letters", SOUND.replace("box", "b" * 100000).encode(), (0, 1, 2)
    yield "20 000 unknown keys", (SOUND + "".join("key%d: 1\n" % i for i in range(20000))).encode(), (2,)
    yield "20 000 duplicate keys", (SOUND + "becket: 1\n" * 20000).encode(), (2,)
    yield "terminal escape in a key", SOUND.replace("title:", '"\\e[31mred": 1\ntitle:').encode(), (2,)
    yield "format characters", SOUND.replace("title:", '"%s%n%d": 1\ntitle:').encode(), (2,)
    yield "table outside the folder", SOUND.replace("{what: sling, wll: 2 t}", "../../../etc/passwd/1").encode(), (2,)
    yield "table by absolute name", SOUND.replace("{what: sling, wll: 2 t}", "/etc/passwd/1").encode(), (2,)
    yield "rules outside the folder", SOUND.replace("rules: en", "rules: ../rules/en").encode(), (2,)


def hostile(program, folder, name, data, allowed):
    j = Judge()
    path = os.path.join(folder, "hostile.yaml")
    with open(path, "wb") as f:
        for piece in [data] if isinstance(data, bytes) else data:
            f.write(piece)
    for how in ("file", "pipe"):
        if how == "file":
            status, out, err, seconds, mb = program.run("check", path, "--json", timeout=15)
        else:
            cat = subprocess.Popen(["cat", path], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
            status, out, err, seconds, mb = program.run("check", "-", "--json", stdin=cat.stdout, timeout=15)
            cat.stdout.close()
            cat.wait()
        j.want(status in allowed, "%s: exit status %s", how, status)
        j.want(status != 2 or out == b"", "%s: something on standard output", how)
        j.want(status != 2 or err.strip(), "%s: no message", how)
        j.want(seconds < 1 * program.slow, "%s: took %.2f s", how, seconds)
        j.want(mb < 200 * program.slow, "%s: %.0f MB", how, mb)
        j.want(b"\x1b" not in err and b"\0" not in err, "%s: control characters on standard error", how)
        j.want(len(err) < 200000, "%s: %d bytes of messages", how, len(err))
    return j


def odd_files(program, folder):
    """Paths that are no plain files."""
    def run(name, path, allowed=(2,), writer=None):
        j = Judge()
        thread = None
        if writer is not None:
            def write():
                with open(path, "wb") as f:
                    f.write(writer)
            thread = threading.Thread(target=write, daemon=True)
            thread.start()
        status, out, err, seconds, mb = program.run("check", path, "--json", timeout=4)
        j.want(status in allowed, "exit status %s after %.1f s", status, seconds)
        j.want(status != 2 or (out == b"" and err.strip()), "output %r, message %r", out[:60], err[:60])
        j.want(seconds < 2 * program.slow, "took %.1f s", seconds)
        j.want(mb < 200 * program.slow, "%.0f MB", mb)
        if thread:
            thread.join(1)
        return name, j
    yield run("missing file", os.path.join(folder, "none.yaml"))
    yield run("folder", folder)
    yield run("/dev/null", "/dev/null")
    yield run("/dev/zero", "/dev/zero")
    yield run("/dev/urandom", "/dev/urandom")
    fifo = os.path.join(folder, "fifo")
    os.mkfifo(fifo)
    yield run("pipe nobody writes to", fifo)
    yield run("pipe with a plan", fifo, (0, 1), SOUND.encode())
    loop = os.path.join(folder, "loop.yaml")
    os.symlink(loop, loop)
    yield run("link to itself", loop)
    if os.getuid() != 0:
        shut = os.path.join(folder, "shut.yaml")
        with open(shut, "wb") as f:
            f.write(SOUND.encode())
        os.chmod(shut, 0)
        yield run("no permission", shut)


def command_line(program, folder):
    """What a shell user and a script rely on."""
    path = os.path.join(folder, "sound.yaml")
    with open(path, "w", encoding="utf-8") as f:
        f.write(SOUND)

    def judge(name, test):
        j = Judge()
        test(j)
        return name, j

    def run(j, args, status, stdin=None):
        r = program.run(*args, stdin=stdin)
        j.want(r[0] == status, "%s: exit status %s, want %s: %s", " ".join(args), r[0], status, r[2][:150])
        return r

    def stdin_plan(j):
        a, b = program.run("check", "-", "--json", stdin=SOUND.encode()), program.run("check", path, "--json")
        j.want(a[:2] == b[:2] and a[0] in (0, 1), "a plan from standard input gives another result")
    yield judge("plan on standard input", stdin_plan)

    def option_first(j):
        a, b = program.run("check", "--json", path), program.run("check", path, "--json")
        j.want(a[:2] == b[:2], "option before the plan: status %s, %s", a[0], a[2][:100])
    yield judge("option before the plan", option_first)

    def twice(j):
        j.want(program.run("check", path, "--json")[1] == program.run("check", path, "--json")[1], "two runs differ")
    yield judge("same bytes twice", twice)

    def wrong(j):
        for args in ([], ["chekc", path], ["check"], ["check", path, "--jsn"], ["check", path, path], ["draw"], ["tables", "no-such-table"],
                     ["explain"], ["duty"]):
            r = program.run(*args)
            j.want(r[0] == 2, "becket %s: exit status %s, want 2", " ".join(args), r[0])
            j.want(r[1] == b"" or not args, "becket %s: output on standard output", " ".join(args))
            j.want(r[2].strip(), "becket %s: no message", " ".join(args))
    yield judge("wrong commands", wrong)

    def helps(j):
        j.want(run(j, ["--help"], 0)[1].strip(), "--help prints nothing on standard output")
        j.want(re.search(rb"\d+\.\d+", run(j, ["--version"], 0)[1]), "--version prints no number")
        for c in ("check", "explain", "tables", "duty", "angle", "draw"):
            j.want(c.encode() in program.run("--help")[1], "--help does not name %s", c)
    yield judge("help and version", helps)

    def lines(j):
        def figures(result):  # the digest of the plan's bytes may differ, nothing else
            return result[0], re.sub(rb'"plan_sha256": "[0-9a-f]*"', b"", result[1])
        crlf = figures(program.run("check", "-", "--json", stdin=SOUND.replace("\n", "\r\n").encode()))
        bom = figures(program.run("check", "-", "--json", stdin=b"\xef\xbb\xbf" + SOUND.encode()))
        plain = figures(program.run("check", path, "--json"))
        j.want(crlf == plain, "CR LF line ends: status %s", crlf[0])
        j.want(bom == plain, "byte order mark: status %s", bom[0])
    yield judge("line ends and byte order mark", lines)

    def shut_pipe(j):
        p = subprocess.Popen([program.path, "check", path], stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=program.env)
        p.stdout.close()
        err = p.stderr.read()
        j.want(p.wait(10) >= -signal.SIGPIPE and p.returncode not in (-signal.SIGSEGV, -signal.SIGABRT), "died of signal %s", -p.returncode)
        if os.path.exists("/dev/full"):
            with open("/dev/full", "wb") as full:
                status = subprocess.run([program.path, "check", path], stdout=full, stderr=subprocess.PIPE, env=program.env)
                j.want(status.returncode not in (0, 3) and status.stderr.strip(), "a full disk goes unnoticed: %s", status.returncode)
    yield judge("closed pipe, full disk", shut_pipe)

    def comma(j):
        try:
            names = subprocess.run(["locale", "-a"], capture_output=True, text=True).stdout.split()
        except OSError:
            names = []
        use = [n for n in names if n.lower().startswith(("de_", "fr_", "it_", "nl_"))]
        if use:
            env = dict(program.env, LC_ALL=use[0], LANG=use[0])
            j.want(program.run("check", path, "--json", env=env)[1] == program.run("check", path, "--json")[1], "differs in locale %s", use[0])
        else:
            j.said.append("no comma locale installed")
    yield judge("comma locale", comma)

    def tables(j):
        r = run(j, ["tables"], 0)
        j.want(b"chain-en818-4" in r[1], "tables does not list chain-en818-4")
        r = run(j, ["tables", "chain-en818-4"], 0)
        j.want(b"3.15" in r[1], "chain-en818-4 does not show 3.15 t")
    yield judge("tables", tables)

    def elsewhere(j):
        a = subprocess.run([os.path.abspath(program.path), "check", "sound.yaml", "--json"], cwd=folder, capture_output=True, env=program.env)
        j.want(a.stdout == program.run("check", path, "--json")[1], "another folder, another result")
    yield judge("from another folder", elsewhere)


# ---- metamorphic ----------------------------------------------------------------------------------

def metamorphic(program, path, folder):
    """Turned about the vertical, in other units, with its lines in another order: the same tensions."""
    j = Judge()
    with open(path, encoding="utf-8") as f:
        doc = yaml.load(f, Loader=yaml.BaseLoader)
    status, out, _, _, _ = program.run("check", path, "--json")
    if not j.want(status in (0, 1), "exit status %s", status):
        return j
    base = {ln["name"]: ln["tension_N"] for ln in json.loads(out)["rig"]["lines"]}
    weight = max(base.values())
    c, s = math.cos(0.7), math.sin(0.7)

    def places(doc, change, lengths=None):
        new = json.loads(json.dumps(doc))
        for b in new.get("bodies", {}).values():
            for owner, key in [(b, "cog"), (b, "at")] + [(b["points"], p) for p in b.get("points", {})]:
                if key in owner:
                    v, t = vector(owner[key])
                    owner[key] = change(v)
        for group in ("rings", "anchors"):
            for r in (new.get(group) or {}).values():
                if "at" in r:
                    r["at"] = change(vector(r["at"])[0])
        return new

    def text(v, unit="m", factor=1.0):
        return " ".join("%.17g" % (x / factor) for x in v) + " " + unit
    turned = places(doc, lambda v: text((c * v[0] - s * v[1], s * v[0] + c * v[1], v[2])))
    mirrored = places(doc, lambda v: text((v[0], -v[1], v[2])))
    inches = places(doc, lambda v: text(v, "in", 0.0254))
    shuffled = json.loads(json.dumps(doc))
    for group in ("lines", "bodies", "rings", "anchors"):
        if group in shuffled:
            shuffled[group] = dict(reversed(list(shuffled[group].items())))
    for name, new in (("turned", turned), ("mirrored", mirrored), ("in inches", inches), ("shuffled", shuffled)):
        other = os.path.join(folder, "changed.yaml")
        with open(other, "w", encoding="utf-8") as f:
            yaml.safe_dump(new, f, sort_keys=False, allow_unicode=True)
        status2, out2, err2, _, _ = program.run("check", other, "--json")
        if not j.want(status2 == status, "%s: exit status %s instead of %s %s", name, status2, status, err2[:100]):
            continue
        now = {ln["name"]: ln["tension_N"] for ln in json.loads(out2)["rig"]["lines"]}
        off = max(abs(now[k] - base[k]) for k in base) / weight
        j.want(off <= 1e-6, "%s: tensions move by %.2g", name, off)
    return j


def by_chance(program, seed, folder, long):
    """A random plan; a refusal as unstable must be borne out by the second solver."""
    path = os.path.join(folder, "random.yaml")
    with open(path, "w", encoding="utf-8") as f:
        yaml.safe_dump(acceptance_random.plan(seed), f, sort_keys=False, allow_unicode=True)
    status = program.run("check", path, "--json")[0]
    if status != 3:
        return good(program, None, path, long)
    j = Judge()
    own = Rig(load(path))
    pose, _ = own.solve()
    tilt = np.degrees(np.arccos(np.clip(pose[1][0, :, 2, 2], -1, 1))).max()
    j.want(own.least_curvature(pose)[0] < -1e-9 or tilt > 45, "refused as unstable; least energy says it hangs, tilted %.1f degrees", tilt)
    j.said.append("does not hang (%.0f degrees)" % tilt)
    return j


# ---- all ------------------------------------------------------------------------------------------

def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--becket", default=os.environ.get("BECKET"))
    parser.add_argument("--tables", default=os.environ.get("BECKET_TABLES", os.path.join(ROOT, "tables")))
    parser.add_argument("--long", action="store_true", help="finer sweeps and 100 000 random scenarios")
    parser.add_argument("--random", type=int, help="number of random plans (25, with --long 1000)")
    parser.add_argument("--seed", type=int, default=0, help="the first random plan")
    parser.add_argument("--slow", type=float, default=1.0, help="time and memory limits times this (sanitizers)")
    parser.add_argument("--quiet", action="store_true", help="print only what fails, and the closing line")
    parser.add_argument("names", nargs="*", help="only what has one of these in its name")
    args = parser.parse_args()
    path = args.becket or next((p for p in glob.glob(os.path.join(ROOT, "build*", "src", "cli", "becket")) +
                                glob.glob(os.path.join(ROOT, "build*", "becket")) if os.access(p, os.X_OK)), None)
    if not path or not os.access(path, os.X_OK):
        print("acceptance: no program to judge (give --becket PROGRAM)")
        return 77
    program, tables = Program(os.path.abspath(path), args.tables, args.slow), Tables([args.tables])
    counts = [0, 0]

    def report(name, j, seconds):
        counts[bool(j.bad)] += 1
        if j.bad or not args.quiet:
            print("%s %-46s %5.2f s  %s" % ("FAIL" if j.bad else "ok  ", name, seconds,
                                            "; ".join(j.bad[:4]) + (" (and %d more)" % (len(j.bad) - 4) if len(j.bad) > 4 else "")
                                            if j.bad else ", ".join(j.said)), flush=True)

    def chosen(name):
        return not args.names or any(n in name for n in args.names)

    def guarded(run):
        try:
            return run()
        except Exception as e:  # the judge itself failed: say so and go on
            j = Judge()
            j.bad.append("%s: %s" % (type(e).__name__, e))
            if os.environ.get("ACCEPTANCE_TRACE"):
                raise
            return j

    with tempfile.TemporaryDirectory() as folder:
        for what, data, allowed in hostile_inputs():
            if chosen("hostile/" + what):
                start = time.monotonic()
                j = guarded(lambda: hostile(program, folder, what, data, allowed))
                report("hostile/" + what, j, time.monotonic() - start)
        for group in (odd_files, command_line):
            if chosen("hostile/files") or chosen("command"):
                start = time.monotonic()
                for name, j in group(program, folder):
                    report(group.__name__ + "/" + name, j, time.monotonic() - start)
                    start = time.monotonic()
        for plan in ("four-leg-off-centre", "spreader-two-tiers", "bridle-two-beams", "rings-with-mass"):
            name = "changed/" + plan
            if chosen(name):
                start = time.monotonic()
                j = guarded(lambda: metamorphic(program, os.path.join(HERE, "good", plan + ".yaml"), folder))
                report(name, j, time.monotonic() - start)
        count = args.random if args.random is not None else 1000 if args.long else 25
        for seed in range(args.seed, args.seed + count):
            name = "random/%d" % seed
            if chosen(name):
                start = time.monotonic()
                j = guarded(lambda: by_chance(program, seed, folder, False))
                report(name, j, time.monotonic() - start)
    for kind, test in (("good", good), ("unstable", unstable), ("broken", broken)):
        for plan in sorted(glob.glob(os.path.join(HERE, kind, "*.yaml"))):
            name = kind + "/" + os.path.basename(plan)
            if chosen(name):
                start = time.monotonic()
                j = guarded(lambda: test(program, tables, plan, args.long))
                report(name, j, time.monotonic() - start)
    print("%d passed, %d failed" % tuple(counts))
    return 1 if counts[1] else 0


if __name__ == "__main__":
    sys.exit(main())
