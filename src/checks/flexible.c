/* flexible: a truss or beam (`ei` on a body) on several lines shares its load as a continuous beam on elastic supports.
 *
 *           k1 }     k2 }     k3 }          k = EA / L of each line, upright
 *     ========+========+========+======     EI of the body, its weight spread so that it keeps its centre of gravity
 *
 * The rigid solution of the rig stands beside it: a stiff body throws its load about when one hook is off level, a soft
 * one does not but leans on its inner supports.  Never the total over n.  Cases: as drawn; each hook high and low, and the
 * centre of gravity along the body, by their tolerances; each line lost.  What the tolerances add is summed, each at its
 * worst for the line: exact while no line goes slack.  A support that would have to push is slack and is left out.  Lines
 * are taken as upright.
 */
#include "rig.h"

#include <stdlib.h>

#define SEGMENTS 40 /* of the spread weight */

typedef struct hung {
    size_t line;
    double x_m;           /* along the body from its first support */
    double stiffness_N_m;
    double low_m;         /* how much lower than the first its unstretched lower end hangs */
    double tol_m;         /* of its hook's height and its length together */
} hung;

typedef struct span {
    const bk_check_input *in;
    const bk_body *body;
    size_t n;
    hung *at;             /* by x */
    size_t n_hung, n_loads;
    bk_beam_load *loads;  /* what hangs from it, n_hung; then its own weight */
    double from_m, to_m;
    double cog_m, cog_tol_m; /* from its near end */
} span;

static int by_x(const void *a, const void *b)
{
    const hung *p = a, *q = b;
    return p->x_m < q->x_m ? -1 : p->x_m > q->x_m;
}

/* Level direction of the body: from the first to the farthest of its points. */
static bk_vec3 direction_of(const bk_plan *plan, const bk_body *body)
{
    bk_vec3 best = {1, 0, 0};
    double reach = 0;
    for (size_t i = 1; i < body->n_points; i++) {
        const bk_vec3 d = bk_vec3_sub(plan->points[body->first_point + i].at_m, plan->points[body->first_point].at_m);
        const double level = hypot(d.x, d.y);
        if (bk_is_most(level, &reach)) best = bk_vec3_of(d.x / level, d.y / level, 0);
    }
    return best;
}

static bool on_body(const bk_check_input *in, bk_end end, size_t body)
{
    return end.kind == BK_END_POINT && in->plan->points[end.index].body == body;
}

/* Its own weight from end to end as p + q x with its centre at c: uniform slices. */
static void spread_weight(span *s, double c)
{
    const double weight_N = s->body->mass_kg.v * BK_STANDARD_GRAVITY_M_PER_S2, length = s->to_m - s->from_m;
    const double middle = length / 2, q = 12 * weight_N * (c - middle) / (length * length * length);
    s->n_loads = s->n_hung;
    for (size_t i = 0; i < SEGMENTS; i++) {
        const double a = s->from_m + length * (double)i / SEGMENTS, b = s->from_m + length * (double)(i + 1) / SEGMENTS;
        const double x = (a + b) / 2 - s->from_m;
        s->loads[s->n_loads++] = (bk_beam_load){a, b, 0, weight_N / length + q * (x - middle)};
    }
}

static bk_status span_of(const bk_check_input *in, size_t body_index, bk_arena *arena, span *s)
{
    const bk_plan *plan = in->plan;
    const bk_body *body = &plan->bodies[body_index];
    *s = (span){.in = in, .body = body, .at = BK_NEW(arena, hung, plan->n_lines),
                .loads = BK_NEW(arena, bk_beam_load, plan->n_lines + SEGMENTS)};
    if (!s->at || !s->loads) return BK_E_NOMEM;
    const bk_vec3 along = direction_of(plan, body), origin = plan->points[body->first_point].at_m;
    s->from_m = INFINITY, s->to_m = -INFINITY;
    for (size_t i = 0; i < body->n_points; i++) {
        const double x = bk_vec3_dot(bk_vec3_sub(plan->points[body->first_point + i].at_m, origin), along);
        s->from_m = fmin(s->from_m, x);
        s->to_m = fmax(s->to_m, x);
    }
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_line *line = &plan->lines[l];
        const bk_end upper = bk_rig_upper_end(in, l), lower = bk_rig_lower_end(in, l);
        if (on_body(in, lower, body_index)) {
            const bk_vec3 point = plan->points[lower.index].at_m;
            const bk_vec3 hook = bk_plan_end_at(plan, upper);
            const double hook_tol = upper.kind == BK_END_ANCHOR ? plan->anchors[upper.index].at_m.tol.z : 0;
            s->at[s->n++] = (hung){l, bk_vec3_dot(bk_vec3_sub(point, origin), along), line->ea_N / line->length_m.v,
                                   line->length_m.v - hook.z + point.z, hook_tol + line->length_m.tol};
        } else if (on_body(in, upper, body_index)) { /* something hangs from it */
            const bk_vec3 pull = bk_rig_pull_on(in, l, upper);
            s->loads[s->n_hung++] = (bk_beam_load){
                bk_vec3_dot(bk_vec3_sub(plan->points[upper.index].at_m, origin), along), 0, -pull.z, 0};
        }
    }
    qsort(s->at, s->n, sizeof *s->at, by_x);
    s->cog_m = bk_vec3_dot(bk_vec3_sub(body->cog_m.v, origin), along) - s->from_m;
    s->cog_tol_m = fabs(along.x) * body->cog_m.tol.x + fabs(along.y) * body->cog_m.tol.y;
    spread_weight(s, s->cog_m);
    return BK_OK;
}

typedef struct scratch {
    double *share, *reaction; /* (n) */
    bk_beam_support *supports;
    size_t *which;
    bool *gone;
} scratch;

/* k->share (n) with support `off` raised by `up`, support `lost` gone (BK_NONE: none); pushing supports go slack one by one.
 * False when fewer than two supports are left. */
static bool shares(const span *s, size_t off, double up, size_t lost, scratch *k)
{
    double *share = k->share, *reaction = k->reaction;
    bk_beam_support *supports = k->supports;
    size_t *which = k->which;
    bool *gone = k->gone;
    for (size_t i = 0; i < s->n; i++) gone[i] = i == lost;
    for (;;) {
        size_t n = 0;
        for (size_t i = 0; i < s->n; i++) {
            share[i] = 0;
            if (gone[i]) continue;
            supports[n] = (bk_beam_support){.at_m = s->at[i].x_m, .stiffness_N_m = s->at[i].stiffness_N_m,
                                            .settlement_m = s->at[i].low_m - (i == off ? up : 0)};
            which[n++] = i;
        }
        if (n < 2) return false;
        const bk_beam beam = {.from_m = s->from_m, .to_m = s->to_m, .EI_Nm2 = s->body->ei_y_Nm2, .n_supports = n,
                              .supports = supports, .n_loads = s->n_loads, .loads = s->loads};
        if (bk_beam_state(&beam, NULL, NULL, reaction, 0, NULL, NULL, NULL, NULL) != BK_OK) return false;
        size_t worst = n;
        for (size_t i = 0; i < n; i++)
            if (reaction[i] < 0 && (worst == n || reaction[i] < reaction[worst])) worst = i;
        if (worst == n) {
            for (size_t i = 0; i < n; i++) share[which[i]] = reaction[i];
            return true;
        }
        gone[which[worst]] = true;
    }
}

typedef struct worst_share {
    double nominal, most; /* most: of the cases that stand alone */
    double more, greatest; /* what the tolerances add together; the greatest of them */
    const char *where, *greatest_where;
    size_t n_more;
} worst_share;

/* Two ends of one tolerance: each line takes the worse. */
typedef struct tolerance_case {
    size_t hook; /* BK_NONE: the centre of gravity */
    double size_m;
} tolerance_case;

/* False when there is no balance at one of its ends. */
static bool tolerance(span *s, bk_arena *arena, tolerance_case of, scratch *k, worst_share *worst, bk_status *status)
{
    double *more = BK_NEW(arena, double, s->n);
    const char **where = BK_NEW(arena, const char *, s->n);
    bool stands = true;
    if (!more || !where) {
        *status = BK_E_NOMEM;
        return true;
    }
    for (int sign = -1; sign <= 1 && stands; sign += 2) {
        if (of.hook == BK_NONE) spread_weight(s, s->cog_m + sign * of.size_m);
        stands = shares(s, of.hook, of.hook == BK_NONE ? 0 : sign * of.size_m, BK_NONE, k);
        const char *text =
            of.hook == BK_NONE ? "centre of gravity along the body by its tolerance"
                               : bk_arena_printf(arena, "hook of %s %s by its tolerance",
                                                 s->in->plan->lines[s->at[of.hook].line].name, sign > 0 ? "high" : "low");
        if (!text) *status = BK_E_NOMEM;
        for (size_t i = 0; stands && i < s->n; i++)
            if (bk_is_most(k->share[i] - worst[i].nominal, &more[i])) where[i] = text;
    }
    if (of.hook == BK_NONE) spread_weight(s, s->cog_m);
    for (size_t i = 0; i < s->n; i++) {
        if (more[i] == 0) continue;
        worst[i].more += more[i];
        worst[i].n_more++;
        if (bk_is_most(more[i], &worst[i].greatest)) worst[i].greatest_where = where[i];
    }
    return stands;
}

/* Every line's share at its worst.  False when a case has no balance; with a line lost that is said by the rigid solution. */
static bool find_worst(span *s, bk_arena *arena, scratch *k, worst_share *worst, bk_status *status)
{
    if (!shares(s, BK_NONE, 0, BK_NONE, k)) return false;
    for (size_t i = 0; i < s->n; i++) worst[i].nominal = k->share[i];
    if (s->in->envelope->n_parameters > 0) {
        for (size_t i = 0; i < s->n; i++)
            if (s->at[i].tol_m > 0 && !tolerance(s, arena, (tolerance_case){i, s->at[i].tol_m}, k, worst, status)) return false;
        if (s->cog_tol_m > 0 && !tolerance(s, arena, (tolerance_case){BK_NONE, s->cog_tol_m}, k, worst, status)) return false;
    }
    for (size_t i = 0; i < s->n; i++) {
        worst[i].most = worst[i].nominal + worst[i].more;
        worst[i].where = worst[i].n_more > 1 ? "hooks and centre of gravity off by their tolerances" : worst[i].greatest_where;
    }
    for (size_t lost = 0; s->in->plan->lose_a_line && lost < s->n; lost++) {
        if (!shares(s, BK_NONE, 0, lost, k)) continue;
        const char *text = bk_arena_printf(arena, "line %s slack or lost", s->in->plan->lines[s->at[lost].line].name);
        if (!text) *status = BK_E_NOMEM;
        for (size_t i = 0; i < s->n; i++)
            if (bk_is_most(k->share[i], &worst[i].most)) worst[i].where = text;
    }
    return true;
}

/* One line: its share at the load's heaviest against its hoist or its weakest part. */
static void check_share(const span *s, bk_findings *out, size_t i, const worst_share *worst, double heavier)
{
    const bk_check_input *in = s->in;
    const size_t l = s->at[i].line;
    const bk_line *line = &in->plan->lines[l];
    bk_finding finding = {.check = "line.flexible_share", .item = line->name,
                          .what = "share as a continuous beam on elastic lines", .dim = BK_DIM_FORCE,
                          .rule = in->rules->name, .source = "no rating given", .mark = BK_MARK_COMPUTED,
                          .where = worst->where};
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, R, worst->most, FORCE, "continuous beam on elastic lines");
    BK_GIVEN(w, k_mass, heavier, NONE, "the load at its heaviest");
    if (line->hoist != BK_NONE) {
        const bk_hoist *hoist = &in->plan->hoists[line->hoist];
        const bk_hoist_forces *f = &in->hoists[line->hoist];
        BK_GIVEN(w, F_gear, f->against_rated_N - f->hook_load_N + f->hook_block_N, FORCE,
                 "hook block, and the hoist where it climbs with its load");
        BK_CALC(w, F, R * k_mass + F_gear, FORCE, "on the hook of this line");
        finding.demand = F;
        finding.nominal_demand = worst->nominal + F_gear;
        finding.part = hoist->ref;
        finding.source = hoist->source;
        finding.mark = bk_rig_less_sure(finding.mark, hoist->mark);
        finding.limit = bk_rig_usable(in, hoist->rated_N, hoist->source, &finding.mark, w);
    } else {
        const double own_N = line->mass_kg * BK_STANDARD_GRAVITY_M_PER_S2, dynamic = bk_rig_dynamic(in, l);
        BK_GIVEN(w, F_own, own_N, FORCE, "the line's own weight");
        BK_GIVEN(w, phi, dynamic, NONE, "rigging factor, dynamic factor above a hook");
        BK_GIVEN(w, F_stalled, in->line_stalled[l] * (worst->nominal + own_N), FORCE, "a hoist below stalls");
        BK_CALC(w, F, fmax(phi * (R * k_mass + F_own), F_stalled), FORCE, "share of this line, at its upper end");
        finding.demand = F;
        finding.nominal_demand = bk_rig_above(worst->nominal + own_N, worst->nominal + own_N, dynamic, in->line_stalled[l]);
        const bk_part *part = NULL;
        finding.limit = bk_rig_line_capacity(in, out, l, &part, &finding.mark);
        if (part) finding.source = part->source, finding.part = part->ref ? part->ref : part->what;
    }
    finding.working = w;
    bk_findings_add(out, finding);
}

static bk_status check_span(span *s, bk_findings *out)
{
    bk_arena *arena = out->arena;
    bk_status status = BK_OK;
    worst_share *worst = BK_NEW(arena, worst_share, s->n);
    scratch k = {.share = BK_NEW(arena, double, s->n), .reaction = BK_NEW(arena, double, s->n),
                 .supports = BK_NEW(arena, bk_beam_support, s->n), .which = BK_NEW(arena, size_t, s->n),
                 .gone = BK_NEW(arena, bool, s->n)};
    if (!worst || !k.share || !k.reaction || !k.supports || !k.which || !k.gone) return BK_E_NOMEM;
    if (!find_worst(s, arena, &k, worst, &status)) {
        bk_findings_add(out, (bk_finding){.check = "line.flexible_share", .item = s->body->name,
                                          .what = "no balance as a continuous beam on its lines", .demand = 0, .limit = NAN,
                                          .dim = BK_DIM_FORCE, .rule = s->in->rules->name, .source = "continuous beam",
                                          .mark = BK_MARK_COMPUTED});
        return status;
    }
    const double heavier = bk_rig_heavier(s->in, out, (size_t)(s->body - s->in->plan->bodies));
    for (size_t i = 0; status == BK_OK && i < s->n; i++) check_share(s, out, i, &worst[i], heavier);
    return status;
}

bk_status bk_check_flexible(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    if (!in->hang) return BK_OK;
    for (size_t b = 0; b < in->plan->n_bodies; b++) {
        const bk_body *body = &in->plan->bodies[b];
        if (isnan(body->ei_y_Nm2) || body->n_points < 2) continue;
        span s;
        bk_status status = span_of(in, b, out->arena, &s);
        if (status == BK_OK && s.n >= 2) {
            status = check_span(&s, out);
            bk_findings_assume(out, "%s bends (ei): its shares are checked as a continuous beam on elastic lines beside the "
                                    "rigid solution, whose pose and tensions are shown.", body->name);
        }
        if (status != BK_OK) return bk_fail(errors, body->place, BK_E_NOMEM, "out of memory in the checks");
    }
    return BK_OK;
}
