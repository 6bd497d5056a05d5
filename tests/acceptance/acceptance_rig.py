"""How a rig hangs, found apart from the program under test: least potential energy, many scenarios at once.

E = sum 1/2 k max(0, L - L0)^2 + sum m g z, with k = EA / L0.  Bodies are rigid (a reference point and a turn),
rings have no size, half of a line's mass acts at each end.  Descent on the energy by a step along the
eigenvectors of its Hessian, each curvature taken positive, shortened until the energy falls; so it follows
the valley down from the drawn pose and cannot settle on a saddle unless it starts exactly on one.
Every array has a leading axis of scenarios.
"""
import numpy as np

from acceptance_plan import G


def cross(a):
    """Matrix of a x, for arrays of vectors."""
    m = np.zeros(a.shape[:-1] + (3, 3))
    m[..., 0, 1], m[..., 0, 2], m[..., 1, 2] = -a[..., 2], a[..., 1], -a[..., 0]
    m[..., 1, 0], m[..., 2, 0], m[..., 2, 1] = a[..., 2], -a[..., 1], a[..., 0]
    return m


def turn(w):
    """Rotation matrices of rotation vectors."""
    angle = np.linalg.norm(w, axis=-1)[..., None, None]
    k = cross(w)
    small = angle < 1e-8
    safe = np.where(small, 1.0, angle)
    s = np.where(small, 1.0, np.sin(safe) / safe)
    c = np.where(small, 0.5, (1 - np.cos(safe)) / safe ** 2)
    return np.eye(3) + s * k + c * (k @ k)


class Rig:
    """The fixed part: what is joined to what."""

    def __init__(self, plan):
        self.plan = plan
        self.nb, self.nr, self.nl = len(plan.bodies), len(plan.rings), len(plan.lines)
        self.n = 6 * self.nb + 3 * self.nr
        self.ref = [b.cog.copy() for b in plan.bodies]      # own axes
        self.anchor = np.array([a.at for a in plan.anchors]).reshape(-1, 3)
        self.weight = plan.total_mass * G
        self.size = max([1e-3] + [ln.length for ln in plan.lines])

    def nominal(self, s=1):
        p = self.plan
        return {
            "mass": np.tile([b.mass for b in p.bodies], (s, 1)).reshape(s, self.nb),
            "cog": np.tile(np.array([b.cog for b in p.bodies]).reshape(1, self.nb, 3), (s, 1, 1)),
            "length": np.tile([ln.length for ln in p.lines], (s, 1)).reshape(s, self.nl),
        }

    def drawn(self, s=1):
        p = self.plan
        x = np.array([b.at + r for b, r in zip(p.bodies, self.ref)]).reshape(1, self.nb, 3)
        r = np.tile(np.eye(3), (1, self.nb, 1, 1))
        q = np.array([g.at for g in p.rings]).reshape(1, self.nr, 3)
        return [np.repeat(a, s, axis=0) for a in (x, r, q)]

    def spot(self, pose, end):
        """World place of a line's end, and the arm from the body's reference (None without a body)."""
        kind, i, own = end
        x, r, q = pose
        if kind == "body":
            arm = r[:, i] @ (own - self.ref[i])
            return x[:, i] + arm, arm
        if kind == "ring":
            return q[:, i], None
        return np.broadcast_to(self.anchor[i], (len(x), 3)), None

    def stretch(self, pose, case):
        """Tension, unit vector from -> to, length of every line."""
        out = []
        for j, ln in enumerate(self.plan.lines):
            a, _ = self.spot(pose, ln.ends[0])
            b, _ = self.spot(pose, ln.ends[1])
            d = b - a
            length = np.linalg.norm(d, axis=-1)
            l0 = case["length"][:, j]
            t = ln.ea / l0 * np.maximum(0.0, length - l0)
            out.append((t, d / np.maximum(length, 1e-12)[:, None], length))
        return out

    def energy(self, pose, case):
        x, r, q = pose
        e = np.zeros(len(x))
        for j, ln in enumerate(self.plan.lines):
            a, _ = self.spot(pose, ln.ends[0])
            b, _ = self.spot(pose, ln.ends[1])
            l0 = case["length"][:, j]
            over = np.maximum(0.0, np.linalg.norm(b - a, axis=-1) - l0)
            e += 0.5 * ln.ea / l0 * over ** 2
            e += ln.end_mass[0] * G * a[:, 2] + ln.end_mass[1] * G * b[:, 2]
        for i in range(self.nb):
            arm = np.einsum("sij,sj->si", r[:, i], case["cog"][:, i] - self.ref[i])
            e += case["mass"][:, i] * G * (x[:, i, 2] + arm[:, 2])
        for i, g in enumerate(self.plan.rings):
            e += g.mass * G * q[:, i, 2]
        return e

    def _add(self, grad, hess, end, arm, force, stiff=None):
        """force: dE/d(place), stiff: d2E/d(place)2 at one place."""
        kind, i, _ = end
        if kind == "anchor":
            return
        if kind == "ring":
            at = 6 * self.nb + 3 * i
            grad[:, at:at + 3] += force
            if stiff is not None:
                hess[:, at:at + 3, at:at + 3] += stiff
            return
        at = 6 * i
        grad[:, at:at + 3] += force
        grad[:, at + 3:at + 6] += np.cross(arm, force)
        if hess is None:
            return
        # second order of the turn: force . (w x (w x arm))
        both = force[:, :, None] * arm[:, None, :]
        second = 0.5 * (both + both.transpose(0, 2, 1)) - \
            np.einsum("si,si->s", force, arm)[:, None, None] * np.eye(3)
        hess[:, at + 3:at + 6, at + 3:at + 6] += second
        if stiff is not None:
            j = np.concatenate([np.broadcast_to(np.eye(3), stiff.shape), -cross(arm)], axis=2)
            hess[:, at:at + 6, at:at + 6] += j.transpose(0, 2, 1) @ stiff @ j

    def _jac(self, end, arm, s):
        kind, i, _ = end
        if kind == "anchor":
            return None, 0, 0
        if kind == "ring":
            return np.broadcast_to(np.eye(3), (s, 3, 3)), 6 * self.nb + 3 * i, 3
        return np.concatenate([np.broadcast_to(np.eye(3), (s, 3, 3)), -cross(arm)], axis=2), 6 * i, 6

    def gradient(self, pose, case, want_hessian=True):
        x, r, q = pose
        s = len(x)
        grad = np.zeros((s, self.n))
        hess = np.zeros((s, self.n, self.n)) if want_hessian else None
        down = np.zeros((s, 3))
        for j, ln in enumerate(self.plan.lines):
            a, arm_a = self.spot(pose, ln.ends[0])
            b, arm_b = self.spot(pose, ln.ends[1])
            d = b - a
            length = np.maximum(np.linalg.norm(d, axis=-1), 1e-12)
            u = d / length[:, None]
            l0 = case["length"][:, j]
            k = ln.ea / l0
            t = k * np.maximum(0.0, length - l0)
            f = t[:, None] * u
            stiff = None
            if want_hessian:
                uu = u[:, :, None] * u[:, None, :]
                stiff = (k * (length > l0))[:, None, None] * uu + (t / length)[:, None, None] * (np.eye(3) - uu)
            self._add(grad, hess, ln.ends[0], arm_a, -f, stiff)
            self._add(grad, hess, ln.ends[1], arm_b, f, stiff)
            if want_hessian:
                ja, ia, na = self._jac(ln.ends[0], arm_a, s)
                jb, ib, n_b = self._jac(ln.ends[1], arm_b, s)
                if ja is not None and jb is not None:
                    block = -ja.transpose(0, 2, 1) @ stiff @ jb
                    hess[:, ia:ia + na, ib:ib + n_b] += block
                    hess[:, ib:ib + n_b, ia:ia + na] += block.transpose(0, 2, 1)
            for e, arm, m in ((ln.ends[0], arm_a, ln.end_mass[0]), (ln.ends[1], arm_b, ln.end_mass[1])):
                if m and e[0] != "anchor":
                    w = down.copy()
                    w[:, 2] = m * G
                    self._add(grad, hess, e, arm, w)
        for i in range(self.nb):
            arm = np.einsum("sij,sj->si", r[:, i], case["cog"][:, i] - self.ref[i])
            w = down.copy()
            w[:, 2] = case["mass"][:, i] * G
            self._add(grad, hess, ("body", i, None), arm, w)
        for i, g in enumerate(self.plan.rings):
            grad[:, 6 * self.nb + 3 * i + 2] += g.mass * G
        return grad, hess

    def move(self, pose, step):
        x, r, q = pose
        bodies = step[:, :6 * self.nb].reshape(len(x), self.nb, 6)
        return [x + bodies[..., :3], turn(bodies[..., 3:]) @ r,
                q + step[:, 6 * self.nb:].reshape(len(x), self.nr, 3)]

    def out_of_balance(self, grad):
        """Largest force, or moment over the rig's size, over the weight."""
        return np.abs(grad).max(axis=1) / self.weight

    def solve(self, case=None, start=None, most=300, tol=1e-10):
        """Poses of least energy below the start.  Returns pose, out-of-balance per scenario."""
        case = case or self.nominal()
        s = len(case["length"])
        pose = [a.copy() for a in (start or self.drawn(s))]
        live = np.arange(s)
        rest = np.zeros(s)
        reach = np.full(s, 0.25 * self.size)
        scale = self.weight * self.size
        for _ in range(most):
            sub = [a[live] for a in pose]
            sc = {k: v[live] for k, v in case.items()}
            grad, hess = self.gradient(sub, sc)
            rest[live] = self.out_of_balance(grad)
            go = rest[live] > tol
            if not go.any():
                break
            live = live[go]
            sub = [a[go] for a in sub]
            sc = {k: v[go] for k, v in sc.items()}
            grad, hess = grad[go], hess[go]
            value, vector = np.linalg.eigh(hess)
            curve = np.maximum(np.abs(value), 1e-7 * self.weight / self.size)
            step = -np.einsum("sij,sj->si", vector, np.einsum("sji,sj->si", vector, grad) / curve)
            big = np.abs(step).max(axis=1)
            step *= np.minimum(1.0, reach[live] / np.maximum(big, 1e-300))[:, None]
            e0 = self.energy(sub, sc)
            slope = np.einsum("si,si->s", grad, step)
            alpha = np.ones(len(live))
            todo = np.ones(len(live), bool)
            best = sub
            for _ in range(40):
                trial = self.move(sub, step * alpha[:, None])
                e1 = self.energy(trial, sc)
                ok = e1 <= e0 + 1e-4 * alpha * slope + 1e-14 * scale
                best = [np.where((todo & ok).reshape((-1,) + (1,) * (b.ndim - 1)), t, b)
                        for b, t in zip(best, trial)]
                todo &= ~ok
                if not todo.any():
                    break
                alpha = np.where(todo, alpha * 0.5, alpha)
            reach[live] = np.clip(np.where(alpha < 1, 2 * alpha * np.minimum(big, reach[live]), reach[live] * 2),
                                  1e-6 * self.size, 0.25 * self.size)
            for a, b in zip(pose, best):
                a[live] = b
        return pose, rest

    def least_curvature(self, pose, case=None):
        """Smallest eigenvalue of the Hessian over weight * size: below zero, the rig would go."""
        grad, hess = self.gradient(pose, case or self.nominal(len(pose[0])))
        return np.linalg.eigvalsh(hess)[:, 0] / (self.weight * self.size)

    def tensions(self, pose, case=None):
        return np.stack([t for t, _, _ in self.stretch(pose, case or self.nominal(len(pose[0])))], axis=1)

    def anchor_forces(self, pose, case=None, tension=None):
        s = len(pose[0])
        force = np.zeros((s, len(self.plan.anchors), 3))
        pull = self.stretch(pose, case or self.nominal(s))
        for j, ln in enumerate(self.plan.lines):
            t, u, _ = pull[j]
            for e, sign, m in ((ln.ends[0], 1, ln.end_mass[0]), (ln.ends[1], -1, ln.end_mass[1])):
                if e[0] == "anchor":
                    force[:, e[1]] += sign * t[:, None] * u
                    force[:, e[1], 2] -= m * G
        return force


# ---- the worst within the tolerances ----------------------------------------------------------------

class Box:
    """Every tolerance as one coordinate from -1 to 1."""

    def __init__(self, rig):
        self.rig, self.axes = rig, []
        for i, b in enumerate(rig.plan.bodies):
            if b.mass_tol:
                self.axes.append(("mass", (i,), b.mass_tol))
            for a in range(3):
                if b.cog_tol[a]:
                    self.axes.append(("cog", (i, a), b.cog_tol[a]))
        for j, ln in enumerate(rig.plan.lines):
            if ln.length_tol:
                self.axes.append(("length", (j,), ln.length_tol))

    def case(self, at):
        case = self.rig.nominal(len(at))
        for k, (what, where, size) in enumerate(self.axes):
            case[what][(slice(None),) + where] += size * at[:, k]
        return case


def worst(rig, start, random=1500, seed=7, sweeps=3, keep=3):
    """Greatest and least tension of each line, greatest force of each anchor, by corners, chance and climbing.
    start: the nominal pose.  Returns max, min (lines), max (anchors) and how many scenarios never settled."""
    box = Box(rig)
    n = len(box.axes)
    rng = np.random.default_rng(seed)
    if n <= 10:
        corners = np.array(np.meshgrid(*[[-1, 1]] * n)).reshape(n, -1).T.astype(float)
    else:
        corners = rng.choice([-1.0, 1.0], size=(1024, n))
    at = np.concatenate([np.zeros((1, n)), corners, rng.uniform(-1, 1, (random, n))])
    lost = 0

    def run(at):
        nonlocal lost
        case = box.case(at)
        pose = [np.repeat(a, len(at), axis=0) for a in start]
        pose, rest = rig.solve(case, pose, tol=1e-8)
        figures = np.concatenate([rig.tensions(pose, case), -rig.tensions(pose, case),
                                  np.linalg.norm(rig.anchor_forces(pose, case), axis=2)], axis=1)
        bad = rest > 1e-6
        lost += int(bad.sum())
        figures[bad] = -np.inf
        return figures

    figures = run(at)
    width = 1.0
    for _ in range(sweeps):
        tries = []
        for f in range(figures.shape[1]):
            order = np.argsort(-figures[:, f], kind="stable")[:keep]
            for o in order:
                for k in range(n):
                    grid = np.clip(at[o, k] + width * np.linspace(-1, 1, 9), -1, 1)
                    fresh = np.repeat(at[o][None], len(grid), axis=0)
                    fresh[:, k] = grid
                    tries.append(fresh)
        fresh = np.unique(np.round(np.concatenate(tries), 9), axis=0)
        at = np.concatenate([at, fresh])
        figures = np.concatenate([figures, run(fresh)])
        width *= 0.35
    top = figures.max(axis=0)
    return top[:rig.nl], -top[rig.nl:2 * rig.nl], top[2 * rig.nl:], lost
