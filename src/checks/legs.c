/* legs: rules for legs that hang from one ring or hook to one body.
 *
 * Two methods stand side by side, and the worse governs:
 *   the solved pull of every leg (lines.c), and
 *   the mode-factor method: n legs up to angle beta together lift M(n, beta) times the rating of one.
 * A stiff load on four legs or more is counted on two (us) or three (en) of them, since small errors of length
 * leave the others idle, unless the plan says that the legs are equalised.  Where the rule set counts three, a load off
 * the middle is counted on two: equal legs are no picture of it.
 */
#include "rig.h"

#include <string.h>

bk_status bk_rig_groups(const bk_check_input *in, bk_arena *arena, bk_rig_group **groups, size_t *n)
{
    const bk_plan *plan = in->plan;
    *n = 0;
    *groups = BK_NEW(arena, bk_rig_group, plan->n_lines);
    bool *taken = BK_NEW(arena, bool, plan->n_lines);
    if (!*groups || !taken) return BK_E_NOMEM;
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_end upper = bk_rig_upper_end(in, i), lower = bk_rig_lower_end(in, i);
        if (taken[i] || upper.kind == BK_END_POINT || lower.kind != BK_END_POINT) continue;
        const size_t body = plan->points[lower.index].body;
        size_t *lines = BK_NEW(arena, size_t, plan->n_lines);
        if (!lines) return BK_E_NOMEM;
        size_t count = 0;
        for (size_t k = i; k < plan->n_lines; k++) {
            const bk_end low = bk_rig_lower_end(in, k);
            if (taken[k] || low.kind != BK_END_POINT || plan->points[low.index].body != body) continue;
            if (!bk_rig_same_end(bk_rig_upper_end(in, k), upper)) continue;
            taken[k] = true;
            lines[count++] = k;
        }
        if (count < 2) continue;
        (*groups)[(*n)++] = (bk_rig_group){upper, body, lines, count,
                                           upper.kind == BK_END_RING ? plan->rings[upper.index].name
                                                                     : plan->anchors[upper.index].name};
    }
    return BK_OK;
}

/* Vertical share of the load that hangs on a group (N), as drawn and at its worst. */
static double group_load(const bk_check_input *in, const bk_rig_group *group)
{
    bk_vec3 sum = {0, 0, 0};
    for (size_t i = 0; i < group->n; i++)
        sum = bk_vec3_add(sum, bk_rig_pull_on(in, group->lines[i], group->upper));
    return bk_vec3_norm(sum);
}

double bk_rig_heavier(const bk_check_input *in, bk_findings *out, size_t body)
{
    const bk_plan *plan = in->plan;
    bool *below = BK_NEW(out->arena, bool, plan->n_bodies + plan->n_rings); /* bodies, then rings */
    if (!below) {
        out->failed = true;
        return 1;
    }
    below[body] = true;
    double most = 0;
    for (bool more = true; more;) {
        more = false;
        for (size_t l = 0; l < plan->n_lines; l++) {
            const bk_end upper = bk_rig_upper_end(in, l), lower = bk_rig_lower_end(in, l);
            if (upper.kind == BK_END_ANCHOR || lower.kind == BK_END_ANCHOR) continue;
            const size_t from = upper.kind == BK_END_POINT ? plan->points[upper.index].body : plan->n_bodies + upper.index;
            const size_t to = lower.kind == BK_END_POINT ? plan->points[lower.index].body : plan->n_bodies + lower.index;
            if (!below[from] || below[to]) continue;
            below[to] = more = true;
        }
    }
    for (size_t b = 0; b < plan->n_bodies; b++)
        if (below[b]) most = fmax(most, plan->bodies[b].mass_kg.tol / plan->bodies[b].mass_kg.v);
    return in->envelope->n_parameters > 0 ? 1 + most : 1;
}

/* At the bound to within the balance of a rig counts as within it, as a finding does. */
static bool within(double beta, double bound)
{
    return beta <= bound * (1 + 1e-9); /* NaN: no such bound */
}

/* Factor for n legs at beta, of the narrowest of the rule set's bands that holds it. */
static double mode_factor(const bk_check_input *in, size_t n, double beta, bk_mark *mark, const char **source,
                          const char **name)
{
    const char *const two[] = {"legs.mode.two_30", "legs.mode.two_45", "legs.mode.two_60"};
    const char *const four[] = {"legs.mode.four_30", "legs.mode.four_45", "legs.mode.four_60"};
    const char *const limit[] = {"legs.mode.limit_0", "legs.mode.limit_1", "legs.mode.limit_2"};
    for (size_t i = 0; i < 3; i++) {
        *name = n == 2 ? two[i] : four[i];
        if (!within(beta, bk_rig_rule(in, limit[i], BK_DIM_ANGLE, NULL, NULL))) continue;
        const double factor = bk_rig_rule(in, *name, BK_DIM_NONE, mark, source);
        if (isfinite(factor)) return factor;
    }
    return NAN;
}

/* What the columns of a table end at. */
static const double column_bounds[] = {BK_PI / 6, BK_PI / 4, BK_PI / 3};

/* The table's rating of n legs together at beta, of its narrowest column that holds beta. */
static double part_mode_rating(const bk_part *part, size_t n, double beta)
{
    if (!part) return NAN;
    const double columns[] = {n == 2 ? part->wll_2_leg_30_N : part->wll_4_leg_30_N,
                              n == 2 ? part->wll_2_leg_45_N : part->wll_4_leg_45_N,
                              n == 2 ? part->wll_2_leg_60_N : part->wll_4_leg_60_N};
    for (size_t i = 0; i < 3; i++)
        if (within(beta, column_bounds[i]) && isfinite(columns[i])) return columns[i];
    return NAN;
}

/* ---- a stiff load on four legs ----------------------------------------------------------------- */

/* Horizontal direction of a leg against an axis, folded into the first quarter: a rectangle under its hook has one. */
static double folded(double azimuth, double axis)
{
    return fabs(remainder(azimuth - axis, BK_PI));
}

/* Whether four legs stand unlike each other, in elevation or in plan, by more than the rule set lets pass as even: the
 * load is off the middle, and the leg beside it takes more than its share of the three that carry.  Plan angles are
 * taken against the axis that makes most of them alike.  Legs that are alike are even whatever they carry; those that
 * differ by what the rule still lets pass are so only while the load is well below the rating of the legs together and
 * no leg stands near the vertical, where a small error of length moves much of the load. */
static bool uneven(const bk_check_input *in, const bk_rig_group *group, double load_share)
{
    const bk_rule *spread = bk_rules_number(in->rules, "legs.even.spread", BK_DIM_ANGLE),
                  *upright = bk_rules_number(in->rules, "legs.vertical_within", BK_DIM_ANGLE);
    if (!spread) return false;
    const double alike = bk_rig_rule(in, "legs.even.alike", BK_DIM_ANGLE, NULL, NULL),
                 most_load = bk_rig_rule(in, "legs.even.load_share", BK_DIM_NONE, NULL, NULL),
                 least_angle = bk_rig_rule(in, "legs.even.min_angle", BK_DIM_ANGLE, NULL, NULL);
    double azimuth[4], low = BK_PI, high = 0;
    size_t n = 0;
    for (size_t i = 0; i < 4; i++) {
        const size_t l = group->lines[i];
        if (in->hang->slack[l]) return true;
        const double beta = in->hang->from_vertical_rad[l];
        low = fmin(low, beta);
        high = fmax(high, beta);
        const bk_vec3 pull = bk_rig_pull_on(in, l, group->upper);
        if (!(upright && beta <= upright->value)) azimuth[n++] = atan2(pull.y, pull.x);
    }
    double least = n > 1 ? BK_PI : 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++) {
            double from = BK_PI, to = 0;
            for (size_t m = 0; m < n; m++) {
                const double d = folded(azimuth[m], (azimuth[i] + azimuth[k]) / 2);
                from = fmin(from, d);
                to = fmax(to, d);
            }
            least = fmin(least, to - from);
        }
    const double unlike = fmax(high - low, least);
    return unlike > spread->value || (unlike > alike && (!(load_share < most_load) || low < least_angle));
}

typedef struct counted_leg {
    double worst_load, load, beta, solved, rating; /* N; rad; NaN rating: not known */
    const char *part;
    bk_mark mark;
    const char *where;
} counted_leg;

/* The load on as many equal legs as the rule counts, or the greatest solved pull where that is worse; returns the count. */
static double count_legs(const bk_check_input *in, bk_findings *out, const bk_rig_group *group, const counted_leg *leg,
                         const char *check, const char *rule, const char *load)
{
    bk_working *w = bk_findings_working(out);
    bk_mark mark = leg->mark;
    const char *source = NULL;
    const double carrying = bk_rig_rule(in, rule, BK_DIM_NONE, &mark, &source);
    BK_GIVEN(w, W, leg->worst_load, FORCE, "load on these legs together");
    BK_GIVEN(w, n_c, carrying, NONE, source ? source : "legs that count");
    BK_GIVEN(w, beta, leg->beta, ANGLE, "flattest leg, from the vertical");
    BK_CALC(w, F_rigid, W / (n_c * cos(beta)), FORCE, "statics of n_c equal legs");
    BK_GIVEN(w, F_solved, leg->solved, FORCE, "greatest solved pull of a leg");
    BK_CALC(w, F_leg, fmax(F_rigid, F_solved), FORCE, "the worse of the two");
    const char *what = bk_arena_printf(out->arena, "%s: %s legs carry", load, carrying <= 2 ? "two" : "three");
    if (!what) out->failed = true;
    bk_findings_add(out, (bk_finding){.check = check, .item = group->name, .part = leg->part,
                                      .what = what ? what : load, .demand = F_leg,
                                      .nominal_demand = fmax(leg->load / (n_c * cos(beta)), 0), .limit = leg->rating,
                                      .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                      .source = source ? source : "rule set", .mark = mark, .where = leg->where, .working = w});
    return carrying;
}

/* The mode-factor method: all legs together against the weakest, times the factor of their number and angle, and against
 * the table's own multi-leg rating of that part.  The rating of the legs together (N): NaN where none is known. */
static double together(const bk_check_input *in, bk_findings *out, const bk_rig_group *group, const counted_leg *leg,
                     const bk_part *weakest)
{
    /* past the greatest angle the angle check refuses; there is no factor to check with */
    if (!within(leg->beta, bk_rig_rule(in, "angle.max_from_vertical", BK_DIM_ANGLE, NULL, NULL))) return NAN;
    bk_working *w = bk_findings_working(out);
    bk_mark mark = leg->mark;
    const char *source = NULL, *name = NULL;
    double limit = NAN;
    BK_GIVEN(w, W, leg->worst_load, FORCE, "load on these legs together");
    BK_GIVEN(w, beta, leg->beta, ANGLE, "flattest leg, from the vertical");
    const double factor = mode_factor(in, group->n, beta, &mark, &source, &name);
    if (isfinite(factor) && isfinite(leg->rating)) {
        BK_GIVEN(w, M, factor, NONE, source ? source : "rule set");
        BK_GIVEN(w, WLL_1, leg->rating, FORCE, "weakest leg");
        BK_CALC(w, F_mode, M * WLL_1, FORCE, "rating of the legs together");
        limit = F_mode;
        const double printed = part_mode_rating(weakest, group->n, beta);
        if (isfinite(printed) && isfinite(weakest->wll_N)) {
            /* the table's own multi-leg rating, lowered as the single leg was */
            BK_GIVEN(w, WLL_n, printed, FORCE, weakest->source);
            BK_GIVEN(w, WLL_tag, weakest->wll_N, FORCE, weakest->source);
            BK_CALC(w, F_table, WLL_n * WLL_1 / WLL_tag, FORCE, "multi-leg rating of the table, as lowered for one leg");
            limit = fmin(limit, F_table);
        }
    }
    bk_findings_add(out, (bk_finding){.check = "legs.mode_factor", .item = group->name, .part = leg->part,
                                      .what = "legs together, mode factor", .demand = W, .nominal_demand = leg->load,
                                      .limit = limit, .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                      .source = source ? source : "rule set", .mark = mark, .where = leg->where,
                                      .working = w});
    return limit;
}

/* A sling of three or four legs is rated at as many of one as its master link covers: the rule set's. */
static void master_link(const bk_check_input *in, bk_findings *out, const bk_rig_group *group, const bk_part *weakest)
{
    if (group->n < 3 || group->upper.kind != BK_END_RING || in->plan->rings[group->upper.index].n_parts == 0 || !weakest) return;
    const bk_part *link = &in->plan->parts[in->plan->rings[group->upper.index].first_part];
    const bk_rule *cover = bk_rules_number(in->rules, "master_link.cover", BK_DIM_NONE);
    if (!cover || !(link->wll_N < cover->value * weakest->wll_N * (1 - 1e-9))) return;
    char times[24];
    bk_findings_assume(out, "%s: %s is rated less than %s times one leg, the most that such legs together may be tagged for (%s): the "
                            "sling's tag must show the link's rating.", group->name, link->ref ? link->ref : link->what,
                       bk_plain_print(times, sizeof times, cover->value, 4), cover->source);
}

/* Does the line pull, as drawn or anywhere within the tolerances? */
static bool pulls(const bk_check_input *in, size_t line)
{
    return !in->hang->slack[line] || in->envelope->tension_max[line].value > 0;
}

static void check_group(const bk_check_input *in, bk_findings *out, const bk_rig_group *group)
{
    const bk_plan *plan = in->plan;
    counted_leg leg = {.rating = INFINITY, .mark = BK_MARK_PUBLISHED};
    const bk_part *weakest = NULL;
    double dynamic = 1, stalled = 1;
    bool known = true;
    for (size_t i = 0; i < group->n; i++) {
        const size_t l = group->lines[i];
        if (pulls(in, l))
            leg.beta = fmax(leg.beta, fmax(in->hang->from_vertical_rad[l], in->envelope->from_vertical_max[l].value));
        const bk_part *part = NULL;
        const double rating = bk_rig_line_capacity(in, out, l, &part, &leg.mark);
        if (isnan(rating)) known = false;
        else if (rating < leg.rating) {
            leg.rating = rating;
            weakest = part;
        }
        leg.solved = fmax(leg.solved, bk_rig_line_pull(in, l).worst_N);
        dynamic = fmax(dynamic, bk_rig_dynamic(in, l));
        stalled = fmax(stalled, in->line_stalled[l]);
    }
    if (!known) leg.rating = NAN;
    if (weakest) leg.part = weakest->ref ? weakest->ref : weakest->what;
    const double still = group_load(in, group);
    leg.load = bk_rig_above(still, still, dynamic, stalled);
    leg.worst_load = bk_rig_above(still, still * bk_rig_heavier(in, out, group->body), dynamic, stalled);
    if (leg.worst_load > leg.load) leg.where = "load at its heaviest";
    const double together_N = together(in, out, group, &leg, weakest);
    master_link(in, out, group, weakest);

    if (group->n < 4) return;
    if (plan->equalised || plan->bodies[group->body].equalised) {
        bk_findings_assume(out, "Legs from %s are taken as equalised, as the plan says: all %zu count.", group->name,
                           group->n);
        return;
    }
    const double carrying = count_legs(in, out, group, &leg, "legs.rigid_load", "legs.carrying_of_four", "stiff load");
    if (carrying > 2 && group->n == 4 && uneven(in, group, leg.worst_load / together_N))
        count_legs(in, out, group, &leg, "legs.uneven", "legs.carrying_uneven_of_four", "stiff load, uneven legs");
}

bk_status bk_rig_counted_pulls(const bk_check_input *in, bk_arena *arena, double *pull_N)
{
    bk_rig_group *groups;
    size_t n;
    const bk_status status = bk_rig_groups(in, arena, &groups, &n);
    for (size_t i = 0; status == BK_OK && i < n; i++) {
        bk_findings asked = {.arena = arena}; /* the same count, for its figures alone */
        check_group(in, &asked, &groups[i]);
        if (asked.failed) return BK_E_NOMEM;
        const double heavier = bk_rig_heavier(in, &asked, groups[i].body);
        double most = 0;
        for (size_t k = 0; k < asked.n; k++) {
            const bk_finding *f = &asked.at[k];
            /* on that many legs, and not what one leg pulls of itself */
            if (!strcmp(f->check, "legs.rigid_load") || !strcmp(f->check, "legs.uneven"))
                most = fmax(most, fmin(f->demand, f->nominal_demand * heavier));
        }
        for (size_t k = 0; k < groups[i].n; k++) pull_N[groups[i].lines[k]] = most;
    }
    return status;
}

/* Way of a line from its upper end: that of its pull, or, where it hangs slack, straight to its other end as drawn. */
static bk_vec3 way_of(const bk_check_input *in, size_t line)
{
    const bk_end upper = bk_rig_upper_end(in, line);
    if (!in->hang->slack[line]) return bk_rig_pull_on(in, line, upper);
    return bk_vec3_sub(bk_plan_end_at(in->plan, bk_rig_lower_end(in, line)), bk_plan_end_at(in->plan, upper));
}

/* Greatest angle between two lines that pull and meet from below in a ring, shackle or hook, each leaning as far out as it may
 * within the tolerances. */
static void included_angle(const bk_check_input *in, bk_findings *out, bk_end upper)
{
    const bk_plan *plan = in->plan;
    const bool is_ring = upper.kind == BK_END_RING;
    double worst = 0, as_drawn = 0;
    size_t met = 0;
    for (size_t i = 0; i < plan->n_lines; i++) {
        if (!bk_rig_same_end(bk_rig_upper_end(in, i), upper)) continue;
        met++;
        for (size_t k = i + 1; k < plan->n_lines; k++) {
            if (!pulls(in, i) || !pulls(in, k) || !bk_rig_same_end(bk_rig_upper_end(in, k), upper)) continue;
            const double angle = bk_vec3_angle(way_of(in, i), way_of(in, k));
            if (!in->hang->slack[i] && !in->hang->slack[k]) as_drawn = fmax(as_drawn, angle);
            worst = fmax(worst, fmin(BK_PI, angle + bk_rig_leans(in, i) + bk_rig_leans(in, k)));
        }
    }
    if (met < 2) return;
    bk_mark mark = BK_MARK_PUBLISHED;
    const char *source = NULL;
    const bk_part *part = NULL;
    if (is_ring && plan->rings[upper.index].n_parts > 0) part = &plan->parts[plan->rings[upper.index].first_part];
    const bool in_bow = part && strstr(part->what, "shackle");
    double limit = bk_rig_rule(in, in_bow ? "shackle.max_included" : "angle.max_included", BK_DIM_ANGLE, &mark, &source);
    if (part && isfinite(part->max_included_angle_rad)) {
        limit = part->max_included_angle_rad;
        source = part->source;
        mark = part->mark;
    }
    const bk_rule *advised = bk_rules_number(in->rules, "angle.recommended_included", BK_DIM_ANGLE);
    const char *note = NULL;
    if (advised && worst > advised->value && worst <= limit) {
        char by[40];
        note = bk_arena_printf(out->arena, "wider than the %s that is advised (%s)",
                               bk_quantity_print(by, sizeof by, advised->value, BK_DIM_ANGLE, plan->units, BK_TOLD_DIGITS), advised->source);
        if (!note) out->failed = true;
    }
    bk_findings_add(out, (bk_finding){.check = "joint.included_angle",
                                      .item = is_ring ? plan->rings[upper.index].name : plan->anchors[upper.index].name,
                                      .part = part ? (part->ref ? part->ref : part->what) : NULL,
                                      .what = "angle between two legs", .demand = worst, .nominal_demand = as_drawn,
                                      .limit = limit, .dim = BK_DIM_ANGLE, .rule = in->rules->name,
                                      .source = source ? source : "rule set", .mark = mark,
                                      .where = worst > as_drawn ? "both leaning out by the tolerances" : NULL, .note = note});
}

/* A body on four lines or more from as many places of one other, or of the structure: no rule counts its legs, and balance
 * alone does not share the load between them.  Where the plan allows no length to be off, the shares are those of lengths
 * that nobody can make.  Rings even out what hangs on them, and are left alone. */
static void shared_by_length(const bk_check_input *in, bk_findings *out, size_t b)
{
    const bk_plan *plan = in->plan;
    bk_end first = {BK_END_ANCHOR, BK_NONE};
    size_t n = 0, above = BK_NONE;
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_end lower = bk_rig_lower_end(in, l), upper = bk_rig_upper_end(in, l);
        if (lower.kind != BK_END_POINT || plan->points[lower.index].body != b) continue;
        const size_t of = upper.kind == BK_END_POINT ? plan->points[upper.index].body : plan->n_bodies;
        if (upper.kind == BK_END_RING || plan->lines[l].length_m.tol > 0 || (n > 0 && (of != above || bk_rig_same_end(upper, first))))
            return;
        if (n++ == 0) first = upper, above = of;
    }
    if (n < 4 || plan->equalised || plan->bodies[b].equalised) return;
    bk_findings_assume(out, "%s hangs on %zu lines that balance alone does not share: their pulls are those of exact lengths and stretch. A "
                            "stiff load may hang on two of them: state what each length may be off (`length: 2 m ± 5 mm`).",
                       plan->bodies[b].name, n);
}

bk_status bk_check_legs(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    if (!in->hang) return BK_OK;
    bk_rig_group *groups;
    size_t n;
    if (bk_rig_groups(in, out->arena, &groups, &n) != BK_OK)
        return bk_fail(errors, (bk_place){in->plan->file, 0, 0}, BK_E_NOMEM, "out of memory in the checks");
    for (size_t i = 0; i < n; i++) check_group(in, out, &groups[i]);
    for (size_t b = 0; b < in->plan->n_bodies; b++) shared_by_length(in, out, b);
    for (size_t i = 0; i < in->plan->n_rings; i++) included_angle(in, out, (bk_end){BK_END_RING, i});
    for (size_t i = 0; i < in->plan->n_anchors; i++) included_angle(in, out, (bk_end){BK_END_ANCHOR, i});
    return BK_OK;
}
