/* The worst anywhere within the plan's tolerances. */
#include <becket/envelope.h>

#include <string.h>

#define CORNERS_MOST 12 /* parameters up to which every corner is solved */

/* ---- figures ----------------------------------------------------------------------------------- */

double bk_ring_load(const bk_plan *plan, const bk_hang *hang, size_t ring)
{
    bk_vec3 up = bk_vec3_of(0, 0, 0), down = bk_vec3_of(0, 0, 0);
    double single = 0;
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_end ends[2] = {plan->lines[i].from, plan->lines[i].to};
        const bk_vec3 pulls[2] = {hang->pull_from_N[i], hang->pull_to_N[i]};
        for (int e = 0; e < 2; e++) {
            if (ends[e].kind != BK_END_RING || ends[e].index != ring)
                continue;
            bk_vec3 *sum = pulls[e].z > 0 ? &up : &down;
            *sum = bk_vec3_add(*sum, pulls[e]);
            single = fmax(single, bk_vec3_norm(pulls[e]));
        }
    }
    return fmax(single, fmax(bk_vec3_norm(up), bk_vec3_norm(down)));
}

typedef enum figure_kind { TENSION_MAX, TENSION_MIN, FROM_VERTICAL, ANCHOR, ANCHOR_HORIZONTAL, RING, TILT } figure_kind;
typedef struct figure {
    figure_kind kind;
    size_t index;
    bk_extreme *out;
    double best;      /* greatest value so far; -INFINITY when there was none */
    double *where;    /* the parameters there (n) */
} figure;

/* What is to be made as large as can be. */
static double value(const bk_plan *plan, const bk_hang *hang, const figure *f)
{
    switch (f->kind) {
    case TENSION_MAX: return hang->tension_N[f->index];
    case TENSION_MIN: return -hang->tension_N[f->index];
    case FROM_VERTICAL: return hang->slack[f->index] ? -(double)INFINITY : hang->from_vertical_rad[f->index];
    case ANCHOR: return bk_vec3_norm(hang->anchor_N[f->index]);
    case ANCHOR_HORIZONTAL: return hypot(hang->anchor_N[f->index].x, hang->anchor_N[f->index].y);
    case RING: return bk_ring_load(plan, hang, f->index);
    case TILT: return hang->tilt_rad[f->index];
    }
    return 0;
}

/* ---- the search -------------------------------------------------------------------------------- */

typedef struct search {
    bk_statics *statics;
    const bk_plan *plan;
    bk_arena *arena;
    bk_envelope *out;
    size_t n, n_figures;
    figure *figures;
    bk_change *changes; /* of the case being solved (n) */
    double *at;         /* parameters of the case being solved, in their own units (n) */
    bk_hang *hang;
} search;

/* Solves at s->at from start; keeps the worst of every figure.  False when it does not hang. */
static bool try(search *s, const bk_hang *start)
{
    const bk_case which = {s->changes, s->n};
    for (size_t i = 0; i < s->n; i++)
        s->changes[i] = (bk_change){s->out->parameters[i].kind, s->out->parameters[i].index, s->at[i]};
    s->out->n_solved++;
    if (bk_statics_solve(s->statics, &which, start, s->hang) != BK_OK) {
        if (s->out->n_failed++ == 0)
            s->out->failed_say = bk_cases_say(s->plan, &which, s->arena);
        return false;
    }
    for (size_t i = 0; i < s->n_figures; i++) {
        figure *f = &s->figures[i];
        const double v = value(s->plan, s->hang, f);
        if (v > f->best) {
            f->best = v;
            memcpy(f->where, s->at, s->n * sizeof *s->at);
        }
    }
    return true;
}

static void add_figures(search *s, figure_kind kind, size_t n, bk_extreme *out)
{
    for (size_t i = 0; i < n; i++)
        s->figures[s->n_figures++] = (figure){kind, i, &out[i], -(double)INFINITY, NULL};
}

/* All corners, each from its neighbour: in Gray's order one parameter changes at a time. */
static void all_corners(search *s, const bk_hang *nominal, bk_hang *last)
{
    for (size_t i = 0; i < s->n; i++)
        s->at[i] = -s->out->parameters[i].size;
    bk_hang_copy(s->plan, last, nominal);
    for (size_t k = 1;; k++) {
        if (try(s, last))
            bk_hang_copy(s->plan, last, s->hang);
        size_t bit = 0;
        while (bit < s->n && !(k >> bit & 1))
            bit++;
        if (bit == s->n)
            return;
        s->at[bit] = -s->at[bit];
    }
}

/* From all at their least, one parameter after the other to its other end, as long as the figure grows. */
static void flip(search *s, const bk_hang *nominal, figure *f)
{
    for (size_t i = 0; i < s->n; i++)
        s->at[i] = -s->out->parameters[i].size;
    try(s, nominal);
    for (bool gained = true; gained;) {
        gained = false;
        for (size_t i = 0; i < s->n; i++) {
            const double before = f->best;
            memcpy(s->at, f->where, s->n * sizeof *s->at);
            s->at[i] = -s->at[i];
            try(s, nominal);
            gained = gained || f->best > before + 1e-9 * fabs(before);
        }
    }
}

static bk_extreme extreme(const search *s, const figure *f)
{
    bk_extreme e = {f->kind == TENSION_MIN ? -f->best : f->best, {NULL, 0}, NULL};
    if (f->kind == FROM_VERTICAL && !isfinite(f->best))
        e.value = 0;
    bk_change *changes = BK_NEW(s->arena, bk_change, s->n + 1);
    if (!changes)
        return e;
    for (size_t i = 0; i < s->n; i++)
        if (f->where[i] != 0)
            changes[e.where.n++] = (bk_change){s->out->parameters[i].kind, s->out->parameters[i].index, f->where[i]};
    e.where.changes = changes;
    e.say = bk_cases_say(s->plan, &e.where, s->arena);
    return e;
}

bk_status bk_envelope_find(bk_statics *statics, const bk_plan *plan, const bk_hang *nominal, bk_arena *arena,
                           bk_envelope **out)
{
    bk_envelope *e = *out = BK_NEW(arena, bk_envelope, 1);
    if (!e || bk_cases_parameters(plan, arena, &e->parameters, &e->n_parameters) != BK_OK)
        return BK_E_NOMEM;
    e->tension_max = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->tension_min = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->from_vertical_max = BK_NEW(arena, bk_extreme, plan->n_lines + 1);
    e->anchor_max = BK_NEW(arena, bk_extreme, plan->n_anchors + 1);
    e->anchor_horizontal_max = BK_NEW(arena, bk_extreme, plan->n_anchors + 1);
    e->ring_max = BK_NEW(arena, bk_extreme, plan->n_rings + 1);
    e->tilt_max = BK_NEW(arena, bk_extreme, plan->n_bodies + 1);
    if (!e->tension_max || !e->tension_min || !e->from_vertical_max || !e->anchor_max || !e->anchor_horizontal_max ||
        !e->ring_max || !e->tilt_max)
        return BK_E_NOMEM;
    const size_t most = 3 * plan->n_lines + 2 * plan->n_anchors + plan->n_rings + plan->n_bodies;
    search s = {.statics = statics, .plan = plan, .arena = arena, .out = e, .n = e->n_parameters};
    s.figures = BK_NEW(arena, figure, most + 1);
    s.changes = BK_NEW(arena, bk_change, s.n + 1);
    s.at = BK_NEW(arena, double, s.n + 1);
    s.hang = bk_hang_new(arena, plan);
    bk_hang *last = bk_hang_new(arena, plan);
    if (!s.figures || !s.changes || !s.at || !s.hang || !last)
        return BK_E_NOMEM;
    add_figures(&s, TENSION_MAX, plan->n_lines, e->tension_max);
    add_figures(&s, TENSION_MIN, plan->n_lines, e->tension_min);
    add_figures(&s, FROM_VERTICAL, plan->n_lines, e->from_vertical_max);
    add_figures(&s, ANCHOR, plan->n_anchors, e->anchor_max);
    add_figures(&s, ANCHOR_HORIZONTAL, plan->n_anchors, e->anchor_horizontal_max);
    add_figures(&s, RING, plan->n_rings, e->ring_max);
    add_figures(&s, TILT, plan->n_bodies, e->tilt_max);
    for (size_t i = 0; i < s.n_figures; i++) {
        s.figures[i].where = BK_NEW(arena, double, s.n + 1);
        if (!s.figures[i].where)
            return BK_E_NOMEM;
        s.figures[i].best = value(plan, nominal, &s.figures[i]);
    }
    if (s.n > 0 && s.n <= CORNERS_MOST)
        all_corners(&s, nominal, last);
    else if (s.n > 0)
        for (size_t i = 0; i < s.n_figures; i++)
            flip(&s, nominal, &s.figures[i]);
    for (size_t i = 0; i < s.n_figures; i++) {
        *s.figures[i].out = extreme(&s, &s.figures[i]);
        if (!s.figures[i].out->say)
            return BK_E_NOMEM;
    }
    return BK_OK;
}
