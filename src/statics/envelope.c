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
 * Where lines go slack within the tolerances a figure can have several tops with hollows between them (a
 * truss on many hooks: one hook in the middle of its range, its neighbours at an end).  Then scattered cases
 * are solved as well, and from the best of them and from the best so far every parameter is swept over its
 * whole range, one after the other, until no sweep gains.
 *
 * A bound is never reported, only what a solved case gave.  Limits: hollows are searched only as well as the
 * several starts, single flips and sweeps do it.
 */
#include <becket/envelope.h>

#include <string.h>

#include "sensitivity.h"
#include "summit.h"

#define CORNERS_MOST   12  /* parameters up to which every corner is solved */
#define CHANCE_MOST    100 /* and up to which some are, CHANCES of them */
#define CHANCES        256
#define STARTS         3    /* corners to climb from */
#define PLANES_MOST    16   /* cases of one climb, a plane each */
#define FLIPS_MOST     40   /* parameters up to which single flips are tried */
#define SCATTERED      2000 /* cases anywhere in the box, where lines go slack */
#define SWEEPS_MOST    6    /* of all parameters, from one start */
#define WANDER_TRIES   16   /* steps without gain before they are halved */
#define WANDER_LEAST   0.01 /* of a tolerance: the last steps */
#define HALVINGS       7    /* of golden section, at the end of one parameter's sweep */
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
    double scattered;     /* best of the scattered cases; -INFINITY */
    double *scattered_at; /* the parameters there (n) */
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
    bk_plane felt;
    bk_summit summit;
    double *top; /* of a climb: where it was highest (n) */
    bk_hang *hang, *last;
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
    const size_t n = all ? (size_t)1 << s->n : s->n <= CHANCE_MOST ? CHANCES : 0;
    bk_hang_copy(s->plan, s->last, s->nominal);
    for (size_t k = 0; k < n; k++) {
        const size_t corner = all ? k ^ k >> 1 : k; /* Gray's order: neighbours differ in one parameter */
        go_to(s, corner);
        if (!try(s, s->last)) continue;
        rank(s, corner);
        if (all) bk_hang_copy(s->plan, s->last, s->hang);
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

/* From s->at upward. */
static void climb(search *s, figure *f)
{
    const double gain = GAIN * unit_of(s, f);
    double best = -(double)INFINITY;
    size_t m = 0;
    bk_hang_copy(s->plan, s->last, s->nominal);
    for (int i = 0; i < PLANES_MOST && try(s, s->last); i++) {
        const double here = value(s, s->hang, f);
        if (!isfinite(here)) return;
        touch(s, f, &s->planes[m++]);
        if (here > best) {
            best = here;
            memcpy(s->top, s->at, s->n * sizeof *s->at);
        }
        m = drop_false(s, m, s->top, best, gain);
        if (bk_summit_find(&s->summit, m, s->planes, s->at) < best + gain) return;
        bk_hang_copy(s->plan, s->last, s->hang);
    }
}

/* One parameter after the other to its other end, and up again from there, as long as that gains: where
 * the figure is hollow, planes see only one way up.  What the figure does not feel is left alone. */
static void flip(search *s, figure *f)
{
    const double gain = GAIN * unit_of(s, f);
    for (bool gained = f->lost == BK_NONE; gained;) {
        gained = false;
        memcpy(s->at, f->where, s->n * sizeof *s->at);
        if (!try(s, s->nominal)) return;
        touch(s, f, &s->felt);
        for (size_t i = 0; i < s->n; i++) {
            const double before = f->best, size = s->parameters[i].size;
            if (fabs(s->felt.slope[i]) * size < gain) continue;
            memcpy(s->at, f->where, s->n * sizeof *s->at);
            s->at[i] = s->at[i] > 0 ? -size : size;
            climb(s, f);
            gained = gained || f->best > before + gain;
        }
    }
}

/* ---- sweeping ---------------------------------------------------------------------------------- */

/* A number in [-1, 1] that looks like chance and is the same on every run and machine. */
static double scatter(uint32_t i)
{
    i = (i ^ 61U) ^ i >> 16;
    i *= 9U;
    i ^= i >> 4;
    i *= 0x27d4eb2dU;
    i ^= i >> 15;
    return (double)i / 2147483647.5 - 1;
}

static void scatter_cases(search *s)
{
    for (uint32_t k = 0; k < SCATTERED; k++) {
        for (size_t i = 0; i < s->n; i++)
            s->at[i] = s->parameters[i].size * scatter(k * (uint32_t)s->n + (uint32_t)i);
        if (!try(s, s->nominal)) continue;
        for (size_t i = 0; i < s->n_figures; i++) {
            figure *f = &s->figures[i];
            const double v = value(s, s->hang, f);
            if (v <= f->scattered) continue;
            f->scattered = v;
            memcpy(f->scattered_at, s->at, s->n * sizeof *s->at);
        }
    }
}

/* The figure with parameter i at x, all else as in s->at; -INFINITY where it does not hang. */
static double with(search *s, const figure *f, size_t i, double x)
{
    s->at[i] = x;
    return try(s, s->nominal) ? value(s, s->hang, f) : -(double)INFINITY;
}

/* Moves s->at[i] to the best of its range: nine places, then golden section about the best of them. */
static double sweep_one(search *s, const figure *f, size_t i, double best)
{
    static const double golden = 0.6180339887498949; /* (sqrt 5 - 1) / 2 */
    const double size = s->parameters[i].size;
    double top = s->at[i];
    for (int place = -4; place <= 4; place++) {
        const double x = size * place / 4, v = with(s, f, i, x);
        if (v > best) best = v, top = x;
    }
    double low = fmax(-size, top - size / 4), high = fmin(size, top + size / 4);
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double at_a = with(s, f, i, a), at_b = with(s, f, i, b);
    for (int k = 0; k < HALVINGS; k++) {
        if (at_a > best) best = at_a, top = a;
        if (at_b > best) best = at_b, top = b;
        if (at_a > at_b) {
            high = b, b = a, at_b = at_a;
            a = high - golden * (high - low);
            at_a = with(s, f, i, a);
        } else {
            low = a, a = b, at_a = at_b;
            b = low + golden * (high - low);
            at_b = with(s, f, i, b);
        }
    }
    s->at[i] = top;
    return best;
}

/* Steps to all sides from s->at, nearer and nearer: along a sharp ridge no single parameter gains. */
static double wander(search *s, const figure *f, double best)
{
    double reach = 0.5;
    memcpy(s->top, s->at, s->n * sizeof *s->at);
    uint32_t k = 0;
    for (int since = 0; reach > WANDER_LEAST; since++) {
        if (since == WANDER_TRIES) reach /= 2, since = 0;
        for (size_t i = 0; i < s->n; i++) {
            const double size = s->parameters[i].size, x = s->top[i] + reach * size * scatter(k++);
            s->at[i] = fmin(size, fmax(-size, x));
        }
        const double v = try(s, s->nominal) ? value(s, s->hang, f) : -(double)INFINITY;
        if (v <= best) continue;
        best = v;
        memcpy(s->top, s->at, s->n * sizeof *s->at);
        since = 0;
    }
    memcpy(s->at, s->top, s->n * sizeof *s->at);
    return best;
}

static void sweep(search *s, figure *f, const double *from)
{
    memcpy(s->at, from, s->n * sizeof *s->at);
    double best = try(s, s->nominal) ? value(s, s->hang, f) : -(double)INFINITY;
    for (int round = 0; round < SWEEPS_MOST; round++) {
        const double before = best;
        for (size_t i = 0; i < s->n; i++)
            best = sweep_one(s, f, i, best);
        if (best > before + GAIN * unit_of(s, f)) continue;
        best = wander(s, f, best);
        if (!(best > before + GAIN * unit_of(s, f))) return;
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
        *f = (figure){
            .kind = kind, .index = i, .out = &out[i], .lost = BK_NONE, .scattered = -(double)INFINITY};
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
    s->last = bk_hang_new(arena, plan);
    if (!e->tension_max || !e->tension_min || !e->from_vertical_max || !e->anchor_max ||
        !e->anchor_horizontal_max || !e->ring_max || !e->tilt_max || !s->figures || !s->rings ||
        !s->changes || !s->at || !s->top || !s->hang || !s->last)
        return false;
    if (!bk_summit_new(&s->summit, arena, s->n, PLANES_MOST) ||
        !(s->felt.slope = BK_NEW(arena, double, s->n + 1)))
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
        if (!(s->figures[i].where = BK_NEW(arena, double, s->n + 1)) ||
            !(s->figures[i].scattered_at = BK_NEW(arena, double, s->n + 1)))
            return false;
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
        if (s.n <= FLIPS_MOST) flip(&s, f);
    }
    if (s.slackens && s.n <= FLIPS_MOST) {
        scatter_cases(&s);
        for (size_t i = 0; i < s.n_figures; i++) {
            figure *f = &s.figures[i];
            if (f->kind == FROM_VERTICAL || f->kind == TILT) continue;
            sweep(&s, f, f->where);
            if (isfinite(f->scattered)) sweep(&s, f, f->scattered_at);
        }
    }
    e->work = s.work;
    s.work = 0;
    s.work_most = WORK_MOST;
    if (plan->lose_a_line) lose_lines(&s);
    e->work += s.work;
    e->cut_short = too_many || !climbed || tired(&s);
    for (size_t i = 0; i < s.n_figures; i++) {
        if (s.n > 0 && s.n <= FLIPS_MOST) forget_idle(&s, &s.figures[i]);
        if (!report(&s, &s.figures[i])) return BK_E_NOMEM;
    }
    return s.no_memory || (e->n_failed > 0 && !e->failed_say) ? BK_E_NOMEM : BK_OK;
}
