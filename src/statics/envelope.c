/* The worst anywhere within the plan's tolerances.
 *
 * Corners first: up to CORNERS_MOST parameters every corner of the box is solved, each from its neighbour (in
 * Gray's order one parameter changes at a time).  But corners do not bound the box: where a line just goes
 * slack a tension has a ridge, and its greatest value may lie on it, inside.
 *
 * So every figure then climbs from its best corners (with more parameters: from the plan as drawn) by cutting
 * planes.  At each case solved the figure's value and slopes (adjoint, one back-substitution) make a plane;
 * the two planes that bound the figure best are kept, one from each side of the ridge, and the next case is
 * where the lower of them is highest in the box.  On a figure made of nearly straight faces that is its top,
 * with all parameters at an end but at most one.  With one plane it is the corner its slopes point to.
 *
 * A bound is never reported, only what a solved case gave.  Limits: more than one ridge met at the top is
 * found only as well as the several starts and single flips do it.
 */
#include <becket/envelope.h>

#include <string.h>

#include "sensitivity.h"

#define CORNERS_MOST 12   /* parameters up to which every corner is solved */
#define STARTS       3    /* corners to climb from */
#define CLIMB_MOST   16   /* cases of one climb */
#define FLIPS_MOST   40   /* parameters up to which single flips are tried */
#define GAIN         1e-6 /* of the weight, or rad: less is not climbed for */
#define IDLE_SHARE   1e-4 /* of the weight: a tolerance worth less to a figure is left out of its sentence */
#define IDLE_RAD     1e-4

/* ---- figures ----------------------------------------------------------------------------------- */

/* What the lines do at a ring: resultants upward and downward, and the strongest single pull. */
typedef struct at_ring {
    bk_vec3 up_N, down_N;
    double single_N;
    size_t single;     /* its line */
    bool single_to;    /* at the line's `to` end */
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
        if (from.kind == BK_END_RING && from.index == ring)
            add_pull(&at, i, false, hang->pull_from_N[i]);
        if (to.kind == BK_END_RING && to.index == ring)
            add_pull(&at, i, true, hang->pull_to_N[i]);
    }
    return ring_load(&at);
}

typedef enum figure_kind { TENSION_MAX, TENSION_MIN, FROM_VERTICAL, ANCHOR, ANCHOR_HORIZONTAL, RING, TILT } figure_kind;
typedef struct figure {
    figure_kind kind;
    size_t index;
    bk_extreme *out;
    double best;            /* greatest value so far; -INFINITY when there was none */
    double *where;          /* the parameters there (n) */
    size_t lost;            /* the line lost there; BK_NONE */
    double top[STARTS];     /* of the corners, best first */
    size_t corner[STARTS];  /* bit k: parameter k at its greatest */
    size_t n_top;
} figure;

/* A plane that touches the figure at a solved case: constant + slope . at */
typedef struct plane {
    double constant;
    double *slope;
} plane;

typedef struct search {
    bk_statics *statics;
    const bk_plan *plan;
    const bk_hang *nominal;
    bk_arena *arena;
    bk_envelope *out;
    size_t n, n_figures;
    const bk_parameter *parameters;
    figure *figures;
    at_ring *rings;     /* of the case just solved (n_rings) */
    bk_change *changes; /* of the case being solved (n) */
    double *at;         /* its parameters, SI (n) */
    double *next;       /* the next one of a climb (n) */
    plane planes[3];
    bk_hang *hang, *last;
    bool no_memory;
} search;

/* What is to be made as large as can be. */
static double value(const search *s, const bk_hang *hang, const figure *f)
{
    switch (f->kind) {
    case TENSION_MAX: return hang->tension_N[f->index];
    case TENSION_MIN: return -hang->tension_N[f->index];
    case FROM_VERTICAL: return hang->slack[f->index] ? -(double)INFINITY : hang->from_vertical_rad[f->index];
    case ANCHOR: return bk_vec3_norm(hang->anchor_N[f->index]);
    case ANCHOR_HORIZONTAL: return hypot(hang->anchor_N[f->index].x, hang->anchor_N[f->index].y);
    case RING: return ring_load(&s->rings[f->index]);
    case TILT: return hang->tilt_rad[f->index];
    }
    return 0;
}

static bk_vec3 unit(bk_vec3 v)
{
    const double size = bk_vec3_norm(v);
    return size > 0 ? bk_vec3_scale(1 / size, v) : v;
}

/* The pulls of all lines at one ring or anchor along `way`; sense of the pull's z: 0 any, 1 up, -1 down. */
static void probe_pulls(const search *s, bk_end end, bk_vec3 way, int sense)
{
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_end ends[2] = {s->plan->lines[i].from, s->plan->lines[i].to};
        const bk_vec3 pull_N[2] = {s->hang->pull_from_N[i], s->hang->pull_to_N[i]};
        for (int e = 0; e < 2; e++)
            if (ends[e].kind == end.kind && ends[e].index == end.index && (sense == 0 || (pull_N[e].z > 0) == (sense > 0)))
                bk_probe_pull(s->statics, i, e == 1, way);
    }
}

/* The plane that touches the figure at the case just solved. */
static void touch(search *s, const figure *f, plane *p)
{
    bk_statics *statics = s->statics;
    const bk_vec3 anchor_N = f->kind == ANCHOR || f->kind == ANCHOR_HORIZONTAL ? s->hang->anchor_N[f->index] : (bk_vec3){0};
    bk_probe_clear(statics);
    switch (f->kind) {
    case TENSION_MAX: bk_probe_tension(statics, f->index, 1); break;
    case TENSION_MIN: bk_probe_tension(statics, f->index, -1); break;
    case FROM_VERTICAL: bk_probe_from_vertical(statics, f->index); break;
    case ANCHOR: probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(anchor_N), 0); break;
    case ANCHOR_HORIZONTAL:
        probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(bk_vec3_of(anchor_N.x, anchor_N.y, 0)), 0);
        break;
    case RING: {
        const at_ring *at = &s->rings[f->index];
        const double load = ring_load(at);
        if (at->single_N == load)
            bk_probe_pull(statics, at->single, at->single_to,
                          unit(at->single_to ? s->hang->pull_to_N[at->single] : s->hang->pull_from_N[at->single]));
        else if (bk_vec3_norm(at->up_N) == load)
            probe_pulls(s, (bk_end){BK_END_RING, f->index}, unit(at->up_N), 1);
        else
            probe_pulls(s, (bk_end){BK_END_RING, f->index}, unit(at->down_N), -1);
        break;
    }
    case TILT: bk_probe_tilt(statics, f->index); break;
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
        if (from.kind == BK_END_RING)
            add_pull(&s->rings[from.index], i, false, hang->pull_from_N[i]);
        if (to.kind == BK_END_RING)
            add_pull(&s->rings[to.index], i, true, hang->pull_to_N[i]);
    }
}

static void consider(search *s, size_t lost)
{
    weigh_rings(s, s->hang);
    for (size_t i = 0; i < s->n_figures; i++) {
        figure *f = &s->figures[i];
        const double v = value(s, s->hang, f);
        if (v <= f->best || (f->kind == TENSION_MIN && lost != BK_NONE))
            continue;
        f->best = v;
        f->lost = lost;
        memcpy(f->where, s->at, s->n * sizeof *s->at);
    }
}

static bool solve(search *s, const bk_case *which, const bk_hang *start)
{
    s->out->n_solved++;
    const bk_status status = bk_statics_solve(s->statics, which, start, s->hang);
    if (status == BK_OK)
        return true;
    s->no_memory = s->no_memory || status == BK_E_NOMEM;
    if (s->out->n_failed++ == 0) {
        const char *say = bk_cases_say(s->plan, which, s->arena);
        s->out->failed_say = say && s->hang->why ? bk_arena_printf(s->arena, "%s: %s", say, s->hang->why) : say;
    }
    return false;
}

/* Solves at s->at from start; keeps the worst of every figure.  False when it does not hang. */
static bool try(search *s, const bk_hang *start)
{
    for (size_t i = 0; i < s->n; i++)
        s->changes[i] = (bk_change){s->parameters[i].kind, s->parameters[i].index, s->at[i]};
    if (!solve(s, &(bk_case){s->changes, s->n}, start))
        return false;
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
        if (at == STARTS && !(v > f->top[--at]))
            continue;
        for (; at > 0 && v > f->top[at - 1]; at--) {
            f->top[at] = f->top[at - 1];
            f->corner[at] = f->corner[at - 1];
        }
        f->top[at] = v;
        f->corner[at] = corner;
    }
}

static void all_corners(search *s)
{
    size_t corner = 0;
    for (size_t i = 0; i < s->n; i++)
        s->at[i] = -s->parameters[i].size;
    bk_hang_copy(s->plan, s->last, s->nominal);
    for (size_t k = 1;; k++) {
        if (try(s, s->last)) {
            rank(s, corner);
            bk_hang_copy(s->plan, s->last, s->hang);
        }
        size_t bit = 0;
        while (bit < s->n && !(k >> bit & 1))
            bit++;
        if (bit == s->n)
            return;
        s->at[bit] = -s->at[bit];
        corner ^= (size_t)1 << bit;
    }
}

/* ---- climbing ---------------------------------------------------------------------------------- */

static double blend(double share, double a, double b)
{
    return share * a + (1 - share) * b;
}

/* The greatest, over the box, of share a + (1 - share) b. */
static double height(const search *s, const plane *a, const plane *b, double share)
{
    double sum = blend(share, a->constant, b->constant);
    for (size_t i = 0; i < s->n; i++)
        sum += s->parameters[i].size * fabs(blend(share, a->slope[i], b->slope[i]));
    return sum;
}

/* Where in the box the lower of two planes is highest, into s->next; returns that height.  By duality it is
 * the least over share of `height`, which is convex and made of straight pieces: its least is at an end or
 * where one parameter's blended slope changes sign.  That parameter then balances the planes. */
static double summit(search *s, const plane *a, const plane *b)
{
    double share = 0, least = height(s, a, b, 0);
    size_t split = BK_NONE;
    for (size_t i = 0; i <= s->n; i++) {
        const double at = i == s->n ? 1 : b->slope[i] / (b->slope[i] - a->slope[i]);
        if (!(at > 0 && at <= 1))
            continue;
        const double h = height(s, a, b, at);
        if (h < least) {
            least = h;
            share = at;
            split = i < s->n ? i : BK_NONE;
        }
    }
    double gap = b->constant - a->constant; /* of b over a at next, but for the split parameter */
    for (size_t i = 0; i < s->n; i++) {
        const double slope = blend(share, a->slope[i], b->slope[i]), size = s->parameters[i].size;
        s->next[i] = slope > 0 ? size : slope < 0 ? -size : s->at[i];
        if (i != split)
            gap += (b->slope[i] - a->slope[i]) * s->next[i];
    }
    if (split != BK_NONE) {
        const double size = s->parameters[split].size;
        s->next[split] = fmin(fmax(gap / (a->slope[split] - b->slope[split]), -size), size);
    }
    return least;
}

/* What is worth another case. */
static double gain_of(const search *s, const figure *f)
{
    return GAIN * (f->kind == FROM_VERTICAL || f->kind == TILT ? 1 : s->nominal->total_weight_N);
}

/* From s->at upward. */
static void climb(search *s, figure *f)
{
    plane *a = &s->planes[0], *b = &s->planes[1], *c = &s->planes[2];
    if (!try(s, s->nominal))
        return;
    double best = value(s, s->hang, f);
    touch(s, f, a);
    touch(s, f, b);
    for (int i = 0; i < CLIMB_MOST; i++) {
        const double bound = summit(s, a, b);
        if (!(bound > best + gain_of(s, f)))
            return;
        memcpy(s->at, s->next, s->n * sizeof *s->at);
        bk_hang_copy(s->plan, s->last, s->hang);
        if (!try(s, s->last) || !isfinite(value(s, s->hang, f)))
            return;
        best = fmax(best, value(s, s->hang, f));
        touch(s, f, c);
        plane *const old_a = a;
        if (summit(s, a, c) < summit(s, b, c)) {
            a = c;
            c = b;
            b = old_a;
        } else {
            a = c;
            c = old_a;
        }
    }
}

/* One parameter after the other to its other end, and up again from there, as long as that gains: where
 * several ridges meet, two planes see only one way up. */
static void flip(search *s, figure *f)
{
    for (bool gained = true; gained;) {
        gained = false;
        for (size_t i = 0; i < s->n; i++) {
            const double before = f->best;
            memcpy(s->at, f->where, s->n * sizeof *s->at);
            s->at[i] = s->at[i] > 0 ? -s->parameters[i].size : s->parameters[i].size;
            climb(s, f);
            gained = gained || f->best > before + gain_of(s, f);
        }
    }
}

/* ---- one line lost ----------------------------------------------------------------------------- */

static void lose_lines(search *s)
{
    memset(s->at, 0, s->n * sizeof *s->at);
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_change lost = {BK_CHANGE_LOSE_LINE, i, 0};
        if (solve(s, &(bk_case){&lost, 1}, s->nominal))
            consider(s, i);
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

/* Takes out of a figure's case what does not matter to it, so that its sentence says what does.  The figure stays. */
static void forget_idle(search *s, figure *f)
{
    if (f->lost != BK_NONE || !isfinite(f->best))
        return;
    const double weight_N = s->nominal->total_weight_N;
    const double enough = f->kind == FROM_VERTICAL || f->kind == TILT ? IDLE_RAD : IDLE_SHARE * weight_N;
    for (size_t idle = 0; idle < s->n; idle++) {
        if (f->where[idle] == 0)
            continue;
        for (size_t i = 0; i < s->n; i++)
            s->changes[i] = (bk_change){s->parameters[i].kind, s->parameters[i].index, i == idle ? 0 : f->where[i]};
        if (bk_statics_solve_near(s->statics, &(bk_case){s->changes, s->n}, s->nominal, s->hang) != BK_OK)
            continue;
        weigh_rings(s, s->hang);
        if (value(s, s->hang, f) >= f->best - enough)
            f->where[idle] = 0;
    }
}

static bool report(search *s, const figure *f)
{
    bk_extreme e = {.value = f->kind == TENSION_MIN ? -f->best : f->best};
    if (!isfinite(f->best)) /* a line that is slack in every case has no angle */
        e.value = 0;
    bk_change *changes = BK_NEW(s->arena, bk_change, s->n + 1);
    if (!changes)
        return false;
    if (f->lost != BK_NONE)
        changes[e.where.n++] = (bk_change){BK_CHANGE_LOSE_LINE, f->lost, 0};
    for (size_t i = 0; i < s->n; i++)
        if (f->where[i] != 0)
            changes[e.where.n++] = (bk_change){s->parameters[i].kind, s->parameters[i].index, f->where[i]};
    e.where.changes = changes;
    e.say = bk_cases_say(s->plan, &e.where, s->arena);
    *f->out = e;
    return e.say != NULL;
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
    s->figures = BK_NEW(arena, figure, 3 * plan->n_lines + 2 * plan->n_anchors + plan->n_rings + plan->n_bodies + 1);
    s->rings = BK_NEW(arena, at_ring, plan->n_rings + 1);
    s->changes = BK_NEW(arena, bk_change, s->n + 1);
    s->at = BK_NEW(arena, double, s->n + 1);
    s->next = BK_NEW(arena, double, s->n + 1);
    s->hang = bk_hang_new(arena, plan);
    s->last = bk_hang_new(arena, plan);
    if (!e->tension_max || !e->tension_min || !e->from_vertical_max || !e->anchor_max || !e->anchor_horizontal_max ||
        !e->ring_max || !e->tilt_max || !s->figures || !s->rings || !s->changes || !s->at || !s->next || !s->hang || !s->last)
        return false;
    for (int i = 0; i < 3; i++)
        if (!(s->planes[i].slope = BK_NEW(arena, double, s->n + 1)))
            return false;
    weigh_rings(s, s->nominal);
    add_figures(s, TENSION_MAX, plan->n_lines, e->tension_max);
    add_figures(s, TENSION_MIN, plan->n_lines, e->tension_min);
    add_figures(s, FROM_VERTICAL, plan->n_lines, e->from_vertical_max);
    add_figures(s, ANCHOR, plan->n_anchors, e->anchor_max);
    add_figures(s, ANCHOR_HORIZONTAL, plan->n_anchors, e->anchor_horizontal_max);
    add_figures(s, RING, plan->n_rings, e->ring_max);
    add_figures(s, TILT, plan->n_bodies, e->tilt_max);
    for (size_t i = 0; i < s->n_figures; i++)
        if (!(s->figures[i].where = BK_NEW(arena, double, s->n + 1)))
            return false;
    return true;
}

bk_status bk_envelope_find(bk_statics *statics, const bk_plan *plan, const bk_hang *nominal, bk_arena *arena,
                           bk_envelope **out)
{
    bk_envelope *e = *out = BK_NEW(arena, bk_envelope, 1);
    if (!e || bk_cases_parameters(plan, arena, &e->parameters, &e->n_parameters) != BK_OK)
        return BK_E_NOMEM;
    search s = {.statics = statics, .plan = plan, .nominal = nominal, .arena = arena, .out = e};
    s.n = e->n_parameters;
    s.parameters = e->parameters;
    if (!prepare(&s))
        return BK_E_NOMEM;
    if (s.n > 0 && s.n <= CORNERS_MOST)
        all_corners(&s);
    for (size_t i = 0; i < s.n_figures && s.n > 0; i++) {
        figure *f = &s.figures[i];
        if (f->n_top == 0) {
            memset(s.at, 0, s.n * sizeof *s.at);
            climb(&s, f);
        }
        for (size_t t = 0; t < f->n_top; t++) {
            for (size_t k = 0; k < s.n; k++)
                s.at[k] = f->corner[t] >> k & 1 ? s.parameters[k].size : -s.parameters[k].size;
            climb(&s, f);
        }
        if (s.n <= FLIPS_MOST)
            flip(&s, f);
    }
    if (plan->lose_a_line)
        lose_lines(&s);
    for (size_t i = 0; i < s.n_figures; i++) {
        if (s.n <= FLIPS_MOST)
            forget_idle(&s, &s.figures[i]);
        if (!report(&s, &s.figures[i]))
            return BK_E_NOMEM;
    }
    return s.no_memory || (e->n_failed > 0 && !e->failed_say) ? BK_E_NOMEM : BK_OK;
}
