"""Plans of any size for the benches.  All of it is invented, and marked DEMO."""
import math

RATED = "ea: 2 MN, part: {what: rod, wll: 500 kg, source: DEMO}"


def grid(wide, deep):
    """Trusses in a grid, each on one rod and linked to its neighbours by two: about 3 lines a truss."""
    bodies, anchors, lines = [], [], []
    for i in range(wide):
        for j in range(deep):
            n = "%d-%d" % (i, j)
            bodies.append("  t%s: {mass: 200 kg, cog: 0.05 -0.03 -0.1 m, at: %d %d 0 m, points: "
                          "{up: 0 0 0.2 m, e: 1.4 0 0 m, w: -1.4 0 0 m, n: 0 1.4 0 m, s: 0 -1.4 0 m}}" % (n, 3 * i, 3 * j))
            anchors.append("  a%s: {at: %d %d 6 m, limit: 5 kN}" % (n, 3 * i, 3 * j))
            lines.append("  h%s: {from: a%s, to: t%s.up, length: %.4f m, %s}"
                         % (n, n, n, 5.8 + 0.005 * math.sin(7 * i + 3 * j), RATED))
            if i:
                lines.append("  x%s: {from: t%d-%d.e, to: t%s.w, %s}" % (n, i - 1, j, n, RATED))
            if j:
                lines.append("  y%s: {from: t%d-%d.n, to: t%s.s, %s}" % (n, i, j - 1, n, RATED))
    return "becket: 1\ntitle: DEMO hanging grid\nbodies:\n%s\nanchors:\n%s\nlines:\n%s\n" % (
        "\n".join(bodies), "\n".join(anchors), "\n".join(lines)), len(lines)


def legs(n_tolerances):
    """A load on four legs with 4, 8 or 12 independent tolerances: mass and centre, then legs, then the hook and a ballast."""
    leg = " ± 10 mm" if n_tolerances >= 8 else ""
    return ("becket: 1\ntitle: DEMO load on four legs\nbodies:\n"
            "  load: {mass: 3.6 t ± 5 %%, cog: 1.35 0.20 0.70 m ± 0.1 m, points: {a: 0.1 0.9 1.2 m, b: 2.3 0.9 1.2 m, "
            "c: 0.1 -0.8 1.2 m, d: 2.3 -0.8 1.2 m, under: 1.2 0.1 0 m}}\n%sanchors:\n  hook: {at: 1.10 0.05 4.0 m, limit: 60 kN}\nlines:\n%s%s" % (
                "  ballast: {mass: 200 kg ± 10 %, cog: 0 0 -0.3 m ± 20 mm, at: 1.2 0.1 -1.0 m, points: {eye: 0 0 0 m}}\n"
                if n_tolerances >= 12 else "",
                "".join("  %s: {from: hook, to: load.%s, length: 3.2 m%s, ea: 5 MN, part: {what: rod, wll: 2 t, source: DEMO}}\n"
                        % (p, p, leg) for p in "abcd"),
                "  e: {from: load.under, to: ballast.eye, ea: 5 MN, part: {what: rod, wll: 2 t, source: DEMO}}\n"
                if n_tolerances >= 12 else ""))
