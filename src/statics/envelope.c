/* The worst anywhere within the plan's tolerances.
 *
 * Corners first: up to CORNERS_MOST parameters every corner of the box is solved, each from its neighbour (in
 * Gray's order one parameter changes at a time); with more, as many as there is time for.  But corners do not
 * bound the box: where a line just goes slack a tension has a ridge, and its greatest value may lie on it,
 * inside.
 *
 * So every figure then climbs, from the plan as drawn and from its best corners, by cutting
 * planes.  At each case solved the figure's value and slopes (adjoint, one back-substitution) make a plane
 * that touches it; the next case is where in the box the lowest of the planes is highest (summit.c).  On a
 * figure made of nearly straight faces that is its top after a few cases; with one plane it is the corner its
 * slopes point to. Where the figure is hollow a plane can run below it: one that does at the best case so far
 * is dropped.
 *
 * Where the figure is hollow planes see only one way up.  So from the best case of every figure each
 * parameter is moved to its other end, and up again from there.  Where lines go slack within the tolerances a
 * figure can have several tops with hollows between them (a truss on many hooks: one hook in the middle of
 * its range, its neighbours at an end): then the whole range of each parameter is crossed in STRETCHES; where
 * the slopes at the ends of one say that there is a top between them which could be higher than the best, it
 * is gone to.
 *
 * A bound is never reported, only what a solved case gave.  Limits: hollows are searched only as well as the
 * several starts and the crossings do it, along one parameter or two at a time.
 */
#include <becket/envelope.h>

#include <string.h>

#include "sensitivity.h"
#include "summit.h"

#define CORNERS_MOST   12  /* parameters up to which every corner is solved */
#define CHANCE_MOST    100 /* and up to which some are, CHANCES of them */
#define CHANCES        256
#define CHANCES_MORE   1024 /* where the box is crossed */
#define STARTS         3    /* corners to climb from */
#define PLANES_MOST    16   /* cases of one climb, a plane each */
#define CROSSED_MOST   40   /* parameters up to which the box is crossed along each */
#define STRETCHES      4    /* of a crossing, where lines go slack */
#define NEARER         8    /* steps to a top between the ends of one */
#define WORK_MOST      4e9  /* multiplications of all cases together: some seconds */
#define WORK_BETTER    1e9  /* the same, for what only betters figures that were found */
#define WORK_OF_FIGURE 10.0 /* or parameter, in one case */
#define PLACES_MOST    1e7  /* parameters times figures: memory for where each figure is worst */
#define GAIN           1e-6 /* of the weight, or rad: less is not climbed for */
#define TIE            1e-9 /* the same: nothing within rounding is worse, so the first of equals is named */
#define IDLE           1e-4 /* of the weight, or rad: what tolerances may be worth together and stay unsaid */

/* ---- figures ----------------------------------------------------------------------------------- */

/* What the lines do at a ring: resultants upward and downward, and the strongest single pull. */
typedef struct at_ring {
    bk_vec3 up_N, down_N;
    double single_N;
    size_t single;  /* its line */
    bool single_to; /* at the line's `to` end */
} at_ring;

static void add_pull(at_ring *at, size_t line, bool to, bk_vec3 pull_N)
{
    bk_vec3 *sum = pull_N.z > 0 ? &at->up_N : &at->down_N;
    *sum = bk_vec3_add(*sum, pull_N);
    const double size = bk_vec3_norm(pull_N);
    if (size > at->single_N) {
        at->single_N = size;
        at->single = line;
        at->single_to = to;
    }
}

static double ring_load(const at_ring *at)
{
    return fmax(at->single_N, fmax(bk_vec3_norm(at->up_N), bk_vec3_norm(at->down_N)));
}

double bk_ring_load(const bk_plan *plan, const bk_hang *hang, size_t ring)
{
    at_ring at = {.single = 0};
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_end from = plan->lines[i].from, to = plan->lines[i].to;
        if (from.kind == BK_END_RING && from.index == ring) add_pull(&at, i, false, hang->pull_from_N[i]);
        if (to.kind == BK_END_RING && to.index == ring) add_pull(&at, i, true, hang->pull_to_N[i]);
    }
    return ring_load(&at);
}

typedef enum figure_kind {
    TENSION_MAX,
    TENSION_MIN,
    FROM_VERTICAL,
    ANCHOR,
    ANCHOR_HORIZONTAL,
    RING,
    TILT
} figure_kind;
typedef struct figure {
    figure_kind kind;
    size_t index;
    bk_extreme *out;
    double best;           /* greatest value so far; -INFINITY when there was none */
    double *where;         /* the parameters there (n) */
    size_t lost;           /* the line lost there; BK_NONE */
    double top[STARTS];    /* of the corners, best first */
    size_t corner[STARTS]; /* see at_most */
    size_t n_top;
} figure;

typedef struct search {
    bk_statics *statics;
    const bk_plan *plan;
    const bk_hang *nominal;
    bk_arena *arena;
    bk_envelope *out;
    size_t n, n_figures;
    const bk_parameter *parameters;
    figure *figures;
    at_ring *rings;               /* of the case just solved (n_rings) */
    bk_change *changes;           /* of the case being solved (n) */
    double *at;                   /* its parameters, SI (n) */
    bk_plane planes[PLANES_MOST]; /* that touch the figure at a solved case */
    bk_plane felt, seen;          /* at a figure's best case; at the last place of a crossing */
    bk_summit summit;
    double *top;   /* of a climb: where it was highest (n) */
    bk_hang *hang; /* of the case just solved */
    bool slackens; /* some case has other lines slack than the drawn one */
    bool no_memory;
    double work, work_most; /* of all cases so far, and what may be */
} search;

/* What is to be made as large as can be. */
static double value(const search *s, const bk_hang *hang, const figure *f)
{
    switch (f->kind) {
    case TENSION_MAX:
        return hang->tension_N[f->index];
    case TENSION_MIN:
        return -hang->tension_N[f->index];
    case FROM_VERTICAL:
        return hang->slack[f->index] ? -(double)INFINITY : hang->from_vertical_rad[f->index];
    case ANCHOR:
        return bk_vec3_norm(hang->anchor_N[f->index]);
    case ANCHOR_HORIZONTAL:
        return hypot(hang->anchor_N[f->index].x, hang->anchor_N[f->index].y);
    case RING:
        return ring_load(&s->rings[f->index]);
    case TILT:
        return hang->tilt_rad[f->index];
    }
    return 0;
}

static bk_vec3 unit(bk_vec3 v)
{
    const double size = bk_vec3_norm(v);
    return size > 0 ? bk_vec3_scale(1 / size, v) : v;
}

/* What a figure is measured by. */
static double unit_of(const search *s, const figure *f)
{
    return f->kind == FROM_VERTICAL || f->kind == TILT ? 1 : s->nominal->total_weight_N;
}

/* The pulls of all lines at one ring or anchor along `way`; sense of the pull's z: 0 any, 1 up, -1 down. */
static void probe_pulls(const search *s, bk_end end, bk_vec3 way, int sense)
{
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_end ends[2] = {s->plan->lines[i].from, s->plan->lines[i].to};
        const bk_vec3 pull_N[2] = {s->hang->pull_from_N[i], s->hang->pull_to_N[i]};
        for (int e = 0; e < 2; e++)
            if (ends[e].kind == end.kind && ends[e].index == end.index &&
                (sense == 0 || (pull_N[e].z > 0) == (sense > 0)))
                bk_probe_pull(s->statics, i, e == 1, way);
    }
}

/* The plane that touches the figure at the case just solved. */
static void touch(search *s, const figure *f, bk_plane *p)
{
    bk_statics *statics = s->statics;
    const bk_vec3 anchor_N =
        f->kind == ANCHOR || f->kind == ANCHOR_HORIZONTAL ? s->hang->anchor_N[f->index] : (bk_vec3){0};
    bk_probe_clear(statics);
    switch (f->kind) {
    case TENSION_MAX:
        bk_probe_tension(statics, f->index, 1);
        break;
    case TENSION_MIN:
        bk_probe_tension(statics, f->index, -1);
        break;
    case FROM_VERTICAL:
        bk_probe_from_vertical(statics, f->index);
        break;
    case ANCHOR:
        probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(anchor_N), 0);
        break;
    case ANCHOR_HORIZONTAL:
        probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(bk_vec3_of(anchor_N.x, anchor_N.y, 0)), 0);
        break;
    case RING: {
        const at_ring *at = &s->rings[f->index];
        const double load = ring_load(at);
        if (at->single_N == load)
            bk_probe_pull(
                statics, at->single, at->single_to,
                unit(at->single_to ? s->hang->pull_to_N[at->single] : s->hang->pull_from_N[at->single]));
        else if (bk_vec3_norm(at->up_N) == load)
            probe_pulls(s, (bk_end){BK_END_RING, f->index}, unit(at->up_N), 1);
        else
            probe_pulls(s, (bk_end){BK_END_RING, f->index}, unit(at->down_N), -1);
        break;
    }
    case TILT:
        bk_probe_tilt(statics, f->index);
        break;
    }
    bk_probe_slopes(statics, s->parameters, s->n, p->slope);
    p->constant = value(s, s->hang, f);
    for (size_t i = 0; i < s->n; i++)
        p->constant -= p->slope[i] * s->at[i];
}

/* ---- solving a case ---------------------------------------------------------------------------- */

static void weigh_rings(search *s, const bk_hang *hang)
{
    memset(s->rings, 0, s->plan->n_rings * sizeof *s->rings);
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_end from = s->plan->lines[i].from, to = s->plan->lines[i].to;
        if (from.kind == BK_END_RING) add_pull(&s->rings[from.index], i, false, hang->pull_from_N[i]);
        if (to.kind == BK_END_RING) add_pull(&s->rings[to.index], i, true, hang->pull_to_N[i]);
    }
}

static void consider(search *s, size_t lost)
{
    weigh_rings(s, s->hang);
    for (size_t i = 0; i < s->n_figures; i++) {
        figure *f = &s->figures[i];
        const double v = value(s, s->hang, f);
        if (v <= f->best + TIE * unit_of(s, f) || (f->kind == TENSION_MIN && lost != BK_NONE)) continue;
        f->best = v;
        f->lost = lost;
        memcpy(f->where, s->at, s->n * sizeof *s->at);
    }
}

static bool tired(const search *s)
{
    return s->work > s->work_most;
}

static bool solve(search *s, const bk_case *which, const bk_hang *start)
{
    if (tired(s)) return false;
    s->out->n_solved++;
    const bk_status status = bk_statics_solve(s->statics, which, start, s->hang);
    s->work += s->statics->work + WORK_OF_FIGURE * (double)(s->n_figures + s->n);
    if (status == BK_OK) return true;
    s->no_memory = s->no_memory || status == BK_E_NOMEM;
    if (s->out->n_failed++ == 0) {
        const char *say = bk_cases_say(s->plan, which, s->arena);
        s->out->failed_say =
            say && s->hang->why ? bk_arena_printf(s->arena, "%s: %s", say, s->hang->why) : say;
    }
    return false;
}

/* Solves at s->at from start; keeps the worst of every figure.  False when it does not hang. */
static bool try(search *s, const bk_hang *start)
{
    for (size_t i = 0; i < s->n; i++)
        s->changes[i] = (bk_change){s->parameters[i].kind, s->parameters[i].index, s->at[i]};
    if (!solve(s, &(bk_case){s->changes, s->n}, start)) return false;
    for (size_t i = 0; i < s->plan->n_lines; i++)
        s->slackens = s->slackens || s->hang->slack[i] != s->nominal->slack[i];
    consider(s, BK_NONE);
    return true;
}

/* ---- corners ----------------------------------------------------------------------------------- */

static void rank(search *s, size_t corner)
{
    for (size_t i = 0; i < s->n_figures; i++) {
        figure *f = &s->figures[i];
        const double v = value(s, s->hang, f);
        size_t at = f->n_top < STARTS ? f->n_top++ : STARTS;
        if (at == STARTS && !(v > f->top[--at])) continue;
        for (; at > 0 && v > f->top[at - 1]; at--) {
            f->top[at] = f->top[at - 1];
            f->corner[at] = f->corner[at - 1];
        }
        f->top[at] = v;
        f->corner[at] = corner;
    }
}

/* Whether parameter k is at its greatest in a corner: the corner's bits while all are solved, else a hash of
 * both, which any number of parameters can share. */
static bool at_most(const search *s, size_t corner, size_t k)
{
    if (s->n <= CORNERS_MOST) return corner >> k & 1;
    uint64_t mixed = (corner + 1) * UINT64_C(0x9e3779b97f4a7c15) + (k + 1) * UINT64_C(0xbf58476d1ce4e5b9);
    mixed = (mixed ^ mixed >> 30) * UINT64_C(0x94d049bb133111eb);
    return (mixed ^ mixed >> 31) & 1;
}

static void go_to(search *s, size_t corner)
{
    for (size_t k = 0; k < s->n; k++)
        s->at[k] = at_most(s, corner, k) ? s->parameters[k].size : -s->parameters[k].size;
}

static void corners(search *s)
{
    const bool all = s->n <= CORNERS_MOST;
    const size_t n = all                    ? (size_t)1 << s->n
                     : s->n <= CROSSED_MOST ? CHANCES_MORE
                     : s->n <= CHANCE_MOST  ? CHANCES
                                            : 0;
    const bk_hang *start = s->nominal;
    for (size_t k = 0; k < n; k++) {
        const size_t corner = all ? k ^ k >> 1 : k; /* Gray's order: neighbours differ in one parameter */
        go_to(s, corner);
        const bool hangs = try(s, start);
        start = all && hangs ? s->hang : s->nominal;
        if (hangs) rank(s, corner);
    }
}

/* ---- climbing ---------------------------------------------------------------------------------- */

/* A plane that runs below a value that was found bounds nothing: the figure is hollow there. */
static size_t drop_false(search *s, size_t m, const double *where, double best, double gain)
{
    size_t kept = 0;
    for (size_t i = 0; i < m; i++) {
        double there = s->planes[i].constant;
        for (size_t k = 0; k < s->n; k++)
            there += s->planes[i].slope[k] * where[k];
        if (there < best - gain) continue;
        const bk_plane plane = s->planes[i];
        s->planes[i] = s->planes[kept];
        s->planes[kept++] = plane;
    }
    return kept;
}

/* No tension is less than that of a slack line. */
static bool at_its_end(const figure *f)
{
    return f->kind == TENSION_MIN && f->best >= 0;
}

/* From s->at upward. */
static void climb(search *s, figure *f)
{
    const double gain = GAIN * unit_of(s, f);
    const bk_hang *start = s->nominal;
    double best = -(double)INFINITY;
    size_t m = 0;
    for (int i = 0; i < PLANES_MOST && !at_its_end(f) && try(s, start); i++) {
        const double here = value(s, s->hang, f);
        start = s->hang;
        if (!isfinite(here)) { /* half way back to where the figure has a value */
            if (!isfinite(best)) return;
            for (size_t k = 0; k < s->n; k++)
                s->at[k] = (s->at[k] + s->top[k]) / 2;
            continue;
        }
        touch(s, f, &s->planes[m++]);
        if (here > best) {
            best = here;
            memcpy(s->top, s->at, s->n * sizeof *s->at);
        }
        m = drop_false(s, m, s->top, best, gain);
        if (bk_summit_find(&s->summit, m, s->planes, s->at) < best + gain) return;
    }
}

/* ---- crossing ---------------------------------------------------------------------------------- */

/* A place along one parameter: the figure there, -INFINITY where it has no value, and its slope. */
typedef struct place {
    double x, value, slope;
} place;

static place look(search *s, const figure *f, size_t i, double x)
{
    place p = {x, -(double)INFINITY, 0};
    s->at[i] = x;
    if (!try(s, s->hang->stable ? s->hang : s->nominal)) return p;
    p.value = value(s, s->hang, f);
    if (isfinite(p.value)) {
        touch(s, f, &s->seen);
        p.slope = s->seen.slope[i];
    }
    return p;
}

/* Nearer and nearer to a top between two places: to where their tangents meet, or half way to where the
 * figure has no value.  Ends where they promise no more than the best that is known. */
static void go_between(search *s, const figure *f, size_t i, place a, place b)
{
    const double enough = GAIN * unit_of(s, f);
    for (int k = 0; k < NEARER; k++) {
        const bool from_a = isfinite(a.value), from_b = isfinite(b.value);
        if ((!from_a && !from_b) || (from_a && !(a.slope > 0)) || (from_b && !(b.slope < 0))) return;
        const double x = from_a && from_b
                             ? (b.value - a.value + a.slope * a.x - b.slope * b.x) / (a.slope - b.slope)
                             : (a.x + b.x) / 2;
        const double farthest = from_a && from_b ? x : from_a ? b.x : a.x;
        const double promise =
            from_a ? a.value + a.slope * (farthest - a.x) : b.value + b.slope * (farthest - b.x);
        if (!(x > a.x && x < b.x) || promise < f->best + enough) return;
        const place c = look(s, f, i, x);
        const bool towards_b = isfinite(c.value) ? from_a && (c.slope > 0 || !from_b) : !from_a;
        *(towards_b ? &a : &b) = c;
    }
}

/* All along parameter i from the figure's best case, and on from there if that gained. */
static void cross(search *s, figure *f, size_t i)
{
    const double size = s->parameters[i].size, before = f->best;
    memcpy(s->at, f->where, s->n * sizeof *s->at);
    place last = look(s, f, i, -size);
    for (int k = 1; k <= STRETCHES; k++) {
        const place next = look(s, f, i, size * (2.0 * k / STRETCHES - 1));
        go_between(s, f, i, last, next);
        last = next;
    }
    if (!(f->best > before + GAIN * unit_of(s, f))) return;
    memcpy(s->at, f->where, s->n * sizeof *s->at);
    climb(s, f);
}

/* Any two parameters to their ends at once: a truss that rests on one hook comes to rest on another.  Where
 * not all corners are known, and for tensions, from which most else follows. */
static void cross_pairs(search *s, figure *f)
{
    const double before = f->best;
    if (s->n <= CORNERS_MOST || !s->slackens || f->kind != TENSION_MAX) return;
    for (size_t i = 1; i < s->n; i++)
        for (size_t j = 0; j < i; j++)
            for (int ends = 0; ends < 4; ends++) {
                const double size_i = s->parameters[i].size, size_j = s->parameters[j].size;
                const double at_i = ends & 1 ? size_i : -size_i, at_j = ends & 2 ? size_j : -size_j;
                if (at_i == f->where[i] || at_j == f->where[j]) continue;
                memcpy(s->at, f->where, s->n * sizeof *s->at);
                s->at[i] = at_i;
                s->at[j] = at_j;
                try(s, s->hang->stable ? s->hang : s->nominal);
            }
    if (!(f->best > before + GAIN * unit_of(s, f))) return;
    memcpy(s->at, f->where, s->n * sizeof *s->at);
    climb(s, f);
}

/* One parameter after the other, as long as that gains.  To its other end only what the figure feels. */
static void cross_all(search *s, figure *f)
{
    const double gain = GAIN * unit_of(s, f);
    for (bool gained = true; gained && !at_its_end(f);) {
        gained = false;
        memcpy(s->at, f->where, s->n * sizeof *s->at);
        if (!try(s, s->nominal)) return;
        touch(s, f, &s->felt);
        for (size_t i = 0; i < s->n; i++) {
            const double before = f->best, size = s->parameters[i].size;
            if (s->slackens) cross(s, f, i);
            if (fabs(s->felt.slope[i]) * size >= gain) {
                memcpy(s->at, f->where, s->n * sizeof *s->at);
                s->at[i] = s->at[i] > 0 ? -size : size;
                climb(s, f);
            }
            gained = gained || f->best > before + gain;
        }
        if (gained) continue;
        const double before = f->best;
        cross_pairs(s, f);
        gained = f->best > before + gain;
    }
}

/* ---- one line lost ----------------------------------------------------------------------------- */

static void lose_lines(search *s)
{
    memset(s->at, 0, s->n * sizeof *s->at);
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_change lost = {BK_CHANGE_LOSE_LINE, i, 0};
        if (solve(s, &(bk_case){&lost, 1}, s->nominal)) consider(s, i);
    }
}

/* ---- the whole --------------------------------------------------------------------------------- */

static void add_figures(search *s, figure_kind kind, size_t n, bk_extreme *out)
{
    for (size_t i = 0; i < n; i++) {
        figure *f = &s->figures[s->n_figures++];
        *f = (figure){.kind = kind, .index = i, .out = &out[i], .lost = BK_NONE};
        f->best = value(s, s->nominal, f);
    }
}

/* Takes out of a figure's case what does not matter to it, so that its sentence says what does.  Slopes say
 * what is worth a try, one case each decides.  The figure stays. */
static void forget_idle(search *s, figure *f)
{
    if (f->lost != BK_NONE || !isfinite(f->best)) return;
    const double enough = IDLE * unit_of(s, f);
    memcpy(s->at, f->where, s->n * sizeof *s->at);
    if (!try(s, s->nominal)) return;
    touch(s, f, &s->felt);
    for (size_t i = 0; i < s->n; i++) {
        const double was = s->at[i];
        if (was == 0 || fabs(s->felt.slope[i] * was) > enough) continue;
        s->at[i] = 0;
        if (!try(s, s->nominal) || value(s, s->hang, f) < f->best - enough) s->at[i] = was;
    }
    memcpy(f->where, s->at, s->n * sizeof *s->at);
}

static bool report(search *s, const figure *f)
{
    bk_extreme e = {.value = f->kind == TENSION_MIN ? -f->best : f->best};
    if (!isfinite(f->best)) /* a line that is slack in every case has no angle */
        e.value = 0;
    bk_change *changes = BK_NEW(s->arena, bk_change, s->n + 1);
    if (!changes) return false;
    if (f->lost != BK_NONE) changes[e.where.n++] = (bk_change){BK_CHANGE_LOSE_LINE, f->lost, 0};
    for (size_t i = 0; i < s->n; i++)
        if (f->where[i] != 0)
            changes[e.where.n++] = (bk_change){s->parameters[i].kind, s->parameters[i].index, f->where[i]};
    e.where.changes = changes;
    e.say = bk_cases_say(s->plan, &e.where, s->arena);
    *f->out = e;
    return e.say != NULL;
}

static size_t figures_of(const bk_plan *plan)
{
    return 3 * plan->n_lines + 2 * plan->n_anchors + plan->n_rings + plan->n_bodies;
}

static bool prepare(search *s)
{
    const bk_plan *plan = s->plan;
    bk_arena *arena = s->arena;
    bk_envelope *e = s->out;
    e->tension_max = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->tension_min = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->from_vertical_max = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->anchor_max = BK_NEW(arena, bk_extreme, plan->n_anchors + 1);
    e->anchor_horizontal_max = BK_NEW(arena, bk_extreme, plan->n_anchors + 1);
    e->ring_max = BK_NEW(arena, bk_extreme, plan->n_rings + 1);
    e->tilt_max = BK_NEW(arena, bk_extreme, plan->n_bodies + 1);
    s->figures = BK_NEW(arena, figure, figures_of(plan) + 1);
    s->rings = BK_NEW(arena, at_ring, plan->n_rings + 1);
    s->changes = BK_NEW(arena, bk_change, s->n + 1);
    s->at = BK_NEW(arena, double, s->n + 1);
    s->top = BK_NEW(arena, double, s->n + 1);
    s->hang = bk_hang_new(arena, plan);
    if (!e->tension_max || !e->tension_min || !e->from_vertical_max || !e->anchor_max ||
        !e->anchor_horizontal_max || !e->ring_max || !e->tilt_max || !s->figures || !s->rings ||
        !s->changes || !s->at || !s->top || !s->hang)
        return false;
    if (!bk_summit_new(&s->summit, arena, s->n, PLANES_MOST) ||
        !(s->felt.slope = BK_NEW(arena, double, s->n + 1)) ||
        !(s->seen.slope = BK_NEW(arena, double, s->n + 1)))
        return false;
    for (size_t i = 0; i < PLANES_MOST; i++)
        if (!(s->planes[i].slope = BK_NEW(arena, double, s->n + 1))) return false;
    for (size_t i = 0; i < s->n; i++)
        s->summit.size[i] = s->parameters[i].size;
    weigh_rings(s, s->nominal);
    add_figures(s, TENSION_MAX, plan->n_lines, e->tension_max);
    add_figures(s, TENSION_MIN, plan->n_lines, e->tension_min);
    add_figures(s, FROM_VERTICAL, plan->n_lines, e->from_vertical_max);
    add_figures(s, ANCHOR, plan->n_anchors, e->anchor_max);
    add_figures(s, ANCHOR_HORIZONTAL, plan->n_anchors, e->anchor_horizontal_max);
    add_figures(s, RING, plan->n_rings, e->ring_max);
    add_figures(s, TILT, plan->n_bodies, e->tilt_max);
    for (size_t i = 0; i < s->n_figures; i++)
        if (!(s->figures[i].where = BK_NEW(arena, double, s->n + 1))) return false;
    return true;
}

bk_status bk_envelope_find(bk_statics *statics, const bk_plan *plan, const bk_hang *nominal, bk_arena *arena,
                           bk_envelope **out)
{
    bk_envelope *e = *out = BK_NEW(arena, bk_envelope, 1);
    if (!e || bk_cases_parameters(plan, arena, &e->parameters, &e->n_parameters) != BK_OK) return BK_E_NOMEM;
    search s = {.statics = statics,
                .plan = plan,
                .nominal = nominal,
                .arena = arena,
                .out = e,
                .work_most = WORK_MOST};
    s.n = e->n_parameters;
    s.parameters = e->parameters;
    const bool too_many = (double)s.n * (double)figures_of(plan) > PLACES_MOST;
    if (too_many) s.n = 0;
    if (!prepare(&s)) return BK_E_NOMEM;
    if (s.n > 0) corners(&s);
    for (size_t i = 0; i < s.n_figures && s.n > 0; i++) {
        memset(s.at, 0, s.n * sizeof *s.at);
        climb(&s, &s.figures[i]);
    }
    /* what comes now betters few figures, and by little: no harm where time has run out */
    const bool climbed = !tired(&s);
    s.work_most = fmin(s.work + WORK_BETTER, WORK_MOST);
    for (size_t i = 0; i < s.n_figures && s.n > 0; i++) {
        figure *f = &s.figures[i];
        for (size_t t = 0; t < f->n_top; t++) {
            go_to(&s, f->corner[t]);
            climb(&s, f);
        }
        if (s.n <= CROSSED_MOST) cross_all(&s, f);
    }
    e->work = s.work;
    s.work = 0;
    s.work_most = WORK_MOST;
    if (plan->lose_a_line) lose_lines(&s);
    e->work += s.work;
    e->cut_short = too_many || !climbed || tired(&s);
    for (size_t i = 0; i < s.n_figures; i++) {
        if (s.n > 0 && s.n <= CROSSED_MOST) forget_idle(&s, &s.figures[i]);
        if (!report(&s, &s.figures[i])) return BK_E_NOMEM;
    }
    return s.no_memory || (e->n_failed > 0 && !e->failed_say) ? BK_E_NOMEM : BK_OK;
}
