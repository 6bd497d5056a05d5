"""Plans that are hard to draw: many lines, long names, markup, writing from right to left, every verdict."""

LONG = "secondary clarifier number four scraper drive assembly with gearbox and walkway "
LONG = (LONG * 3)[:200].rstrip().ljust(200, "x")
MARKUP = "<b>&amp;\"quoted\" 'n' </text>]]><script>"
RTL = "\u05e9\u05d5\u05d0\u05d1 \u05d2\u05d3\u05d5\u05dc"  # Hebrew: large pump
OVERRIDE = "abc\u202ecba 12 t"                            # would show what follows backwards


def quoted(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\u202e", "\\u202E") + '"'


def head(title, extra=""):
    return "becket: 1\ntitle: %s\nrules: en\nunits: si\n%s" % (quoted(title), extra)


def truss(n, rows=1, stated="limit: 20 kN"):
    """A truss hung from n hoists, in one row or two; lopsided, so that no two lines pull alike."""
    length = 2.3 * (n // rows)
    plan = head("DEMO truss on %d lines" % n)
    plan += "bodies:\n  truss:\n    mass: %d kg\n    cog: %.3f %.3f 0.31 m\n    points:\n" % (
        180 * n, 0.483 * length, 0.1 if rows > 1 else 0)
    anchors, lines = "", ""
    for i in range(n):
        x, y = 0.4 + 2.3 * (i // rows), (i % rows) * 1.7 - (0.85 if rows > 1 else 0)
        plan += "      p%d: %.3f %.3f 0.62 m\n" % (i + 1, x, y)
        anchors += "  a%d: {at: %.3f %.3f 6.5 m, %s}\n" % (i + 1, x, y, stated)
        lines += "  l%d: {from: a%d, to: truss.p%d, ea: 2 MN, parts: [{what: chain, wll: 1.6 t}]}\n" % (i + 1, i + 1, i + 1)
    return plan + "anchors:\n" + anchors + "lines:\n" + lines


def bridle(title, load, names, wll="3 t", extra="", limit="limit: 40 kN"):
    """Four legs to the corners of a body; names of body, legs, hook."""
    body, legs, hook = names
    plan = head(title, extra)
    plan += "bodies:\n  %s:\n    mass: %s\n    cog: 0.83 0.41 0.3 m\n    points:\n" % (quoted(body), load)
    places = ["0 0 0.9 m", "1.6 0 0.9 m", "1.6 0.8 0.9 m", "0 0.8 0.9 m"]
    for i, place in enumerate(places):
        plan += "      p%d: %s\n" % (i, place)
    plan += "rings:\n  master: {at: 0.83 0.41 2.4 m}\n"
    plan += "anchors:\n  %s: {at: 0.83 0.41 2.6 m%s}\n" % (quoted(hook), ", " + limit if limit else "")
    plan += "lines:\n  drop: {from: %s, to: master, ea: 50 MN, parts: [{what: hook, wll: 8 t}]}\n" % quoted(hook)
    for i, leg in enumerate(legs):
        part = "parts: [{what: %s, wll: %s}]" % (quoted("chain"), wll) if wll else "ea: 1 MN"
        plan += "  %s: {from: master, to: %s, %s}\n" % (quoted(leg), quoted(body + ".p%d" % i), part)
    return plan


def runway(spans, trolleys=1):
    length = 4.3 * spans
    plan = head("DEMO runway of %d spans" % spans)
    plan += "runways:\n  bay:\n    section: ipe/300\n    steel: en10025-2/S275\n    ends: [-0.5 m, %.3f m]\n    supports: [" % (length + 0.7)
    plan += ", ".join("{at: %.3f m, limit: 90 kN, uplift_limit: 20 kN}" % (4.3 * i) for i in range(spans + 1)) + "]\n    trolleys:\n"
    for t in range(trolleys):
        plan += ("      t%d: {load: %d kN, travel: [0 m, %.3f m], wheels: 4, wheel_base: 0.2 m, wheel_to_edge: 20 mm, mass: 40 kg}\n"
                 % (t + 1, 17 + 3 * t, length))
    return plan


PLANS = {
    "truss-24": truss(24),
    "truss-40": truss(40, rows=2),
    "long-names": bridle(LONG, "1.9 t", (LONG, [LONG[:-1] + c for c in "abcd"], LONG[:-1] + "h")),
    "markup": bridle(MARKUP, "1.9 t", ("load", ["l1", MARKUP, "<i>", "&"], "hook")),
    "right-to-left": bridle(RTL + " 12 t", "1.9 t", (RTL, [RTL + " 1", RTL + " 2", "ne", "nw"], "\u05d5\u05d5")),
    "fails": bridle("DEMO too heavy for its legs", "9.3 t", ("load", ["nw", "ne", "se", "sw"], "hook"), wll="2 t"),
    "incomplete": bridle("DEMO legs with no limit", "1.9 t", ("load", ["nw", "ne", "se", "sw"], "hook"), wll="", limit=""),
    "dated": bridle("DEMO with a date", "1.9 t", ("load", ["nw", "ne", "se", "sw"], "hook"),
                    extra="date: 2026-03-05\nauthor: A. Planner\nreference: L-17\nsite: bay 3\n"),
    "runway-9": runway(9, 2),
    "runway-14": runway(14),
}
UNSTABLE = bridle("DEMO", "1.9 t", ("load", ["nw", "ne", "se", "sw"], "hook")).replace("cog: 0.83 0.41 0.3", "cog: 0.83 0.41 9.3")
