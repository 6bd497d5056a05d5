/* bodies: whether the rig stays in every case that is looked at, how far each body hangs off level, how well its mass is
 * known, and what a body may carry that others hang from. */
#include "rig.h"

static void tilt(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_body *body = &in->plan->bodies[i];
    bk_mark mark = BK_MARK_USER;
    const char *source = "stated in the plan";
    double limit = body->tilt_limit_rad;
    if (isnan(limit)) {
        mark = BK_MARK_PUBLISHED;
        limit = bk_rig_rule(in, "body.tilt_limit", BK_DIM_ANGLE, &mark, &source);
    }
    const double nominal = in->hang->tilt_rad[i];
    double demand = nominal;
    const char *where = NULL;
    if (bk_is_most(in->envelope->tilt_max[i].value, &demand)) where = in->envelope->tilt_max[i].say;
    bk_findings_add(out, (bk_finding){.check = "body.tilt", .item = body->name, .what = "tilt off level", .demand = demand,
                                      .nominal_demand = nominal, .limit = limit, .dim = BK_DIM_ANGLE,
                                      .rule = in->rules->name, .source = source, .mark = mark, .where = where});
}

/* A spreader or lifting beam is gear like a sling: by its tag, or by the steel inside it (beams.c), or not checked. */
static void carries(const bk_check_input *in, bk_findings *out, size_t b)
{
    const bk_plan *plan = in->plan;
    const bk_body *body = &plan->bodies[b];
    bk_vec3 sum = {0, 0, 0};
    double worst = 0;
    size_t below = 0;
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_end upper = bk_rig_upper_end(in, l);
        if (upper.kind != BK_END_POINT || plan->points[upper.index].body != b) continue;
        sum = bk_vec3_add(bk_rig_pull_on(in, l, upper), sum);
        worst += bk_rig_line_pull(in, l).worst_N;
        below++;
    }
    if (below == 0 || (body->has_steel && isnan(body->wll_N))) return;
    const double nominal = bk_vec3_norm(sum);
    const bool known = isfinite(body->wll_N);
    bk_mark mark = BK_MARK_USER;
    bk_working *w = known ? bk_findings_working(out) : NULL;
    const double limit = known ? bk_rig_usable(in, body->wll_N, "stated in the plan", &mark, w) : (double)NAN;
    bk_findings_add(out, (bk_finding){.check = "body.wll", .item = body->name,
                                      .what = known ? "what hangs from the beam" : "beam that others hang from: no wll, no steel",
                                      .demand = fmax(worst, nominal), .nominal_demand = nominal, .limit = limit,
                                      .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                      .source = known ? "stated in the plan" : "no tag, no section", .mark = mark, .working = w,
                                      .where = below > 1 && worst > nominal ? "each line below it at its own worst" : NULL});
}

/* A load held below its centre of gravity stays by the spread of its legs alone: stable, yet not to be left unsaid. */
static void held_low(const bk_check_input *in, bk_findings *out, size_t b)
{
    const bk_plan *plan = in->plan;
    double highest = -INFINITY;
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_end lower = bk_rig_lower_end(in, l);
        if (lower.kind != BK_END_POINT || plan->points[lower.index].body != b || in->hang->slack[l]) continue;
        const bk_vec3 at = bk_quat_turn(in->hang->turn[b], plan->points[lower.index].at_m);
        highest = fmax(highest, in->hang->origin_m[b].z + at.z);
    }
    const double above = in->hang->cog_m[b].z - highest;
    if (!(isfinite(highest) && above > 0)) return;
    char by[40];
    bk_findings_assume(out, "%s: its centre of gravity hangs %s above the highest point that holds it. It stays by the spread of its "
                            "legs alone and turns over where one slips or slackens: a qualified person says how it is held.",
                       plan->bodies[b].name, bk_quantity_print(by, sizeof by, above, BK_DIM_LENGTH, plan->units, BK_TOLD_DIGITS));
}

/* A bare spreader hangs, but nothing but its fittings keeps it from turning about its own axis. */
static void rolls(const bk_check_input *in, bk_findings *out, size_t b)
{
    if (in->hang->rolls_freely[b])
        bk_findings_assume(out, "%s: every line pulls on one axis through its centre of gravity, about which it may roll; nothing but "
                                "its fittings holds it as drawn.", in->plan->bodies[b].name);
}

static void known_by(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_body *body = &in->plan->bodies[i];
    if (body->mass_by == BK_BY_ESTIMATE && body->mass_tol_assumed)
        bk_findings_add(out, (bk_finding){.check = "body.mass", .item = body->name,
                                          .what = "mass is a bare estimate: weigh it, or state its tolerance",
                                          .demand = body->mass_kg.v, .nominal_demand = body->mass_kg.v, .limit = NAN,
                                          .dim = BK_DIM_MASS, .rule = in->rules->name, .source = "no weighing, no drawing",
                                          .mark = BK_MARK_USER});
    if (body->cog_by == BK_BY_ESTIMATE && body->cog_tol_assumed)
        bk_findings_add(out, (bk_finding){.check = "body.cog", .item = body->name,
                                          .what = "centre of gravity is a bare estimate: find it, or state its tolerance",
                                          .demand = body->cog_m.tol.x, .nominal_demand = body->cog_m.tol.x, .limit = NAN,
                                          .dim = BK_DIM_LENGTH, .rule = in->rules->name,
                                          .source = "no weighing, no drawing", .mark = BK_MARK_USER});
    if (body->mass_by == BK_BY_NOTHING)
        bk_findings_assume(out, "%s: the plan does not say where its mass comes from.", body->name);
}

/* A case within the tolerances, or with a line lost where the plan asks for that, in which the load does not hang stably
 * is the worst of all: no other figure speaks for it. */
static void stays(const bk_check_input *in, bk_findings *out)
{
    const bk_envelope *e = in->envelope;
    if (e->n_failed == 0) return;
    const char *note = bk_arena_printf(out->arena, "%zu of %zu cases looked at; the case named is the first of them", e->n_failed,
                                       e->n_solved);
    if (!note) out->failed = true;
    bk_findings_add(out, (bk_finding){.check = "rig.stability", .item = "rig", .what = "cases that do not hang stably",
                                      .demand = (double)e->n_failed, .nominal_demand = 0, .limit = 0, .dim = BK_DIM_NONE,
                                      .rule = in->rules->name, .source = "statics: the load must stay in every case",
                                      .mark = BK_MARK_COMPUTED, .where = e->failed_say, .note = note});
}

/* Where the search could not be finished, nothing is known to be the worst: the verdict cannot be a pass. */
static void searched(const bk_check_input *in, bk_findings *out)
{
    if (!in->envelope->cut_short) return;
    bk_findings_add(out, (bk_finding){.check = "rig.tolerances", .item = "rig", .what = "worst case within the tolerances",
                                      .demand = NAN, .nominal_demand = NAN, .limit = NAN, .dim = BK_DIM_NONE,
                                      .rule = in->rules->name, .source = "too many tolerances for one plan",
                                      .mark = BK_MARK_COMPUTED,
                                      .note = "the search was cut short: check the rig in parts, or with fewer tolerances"});
}

bk_status bk_check_bodies(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    (void)errors;
    for (size_t i = 0; i < in->plan->n_bodies; i++) known_by(in, out, i);
    if (!in->hang) return BK_OK;
    stays(in, out);
    searched(in, out);
    for (size_t i = 0; i < in->plan->n_bodies; i++) {
        tilt(in, out, i);
        carries(in, out, i);
        held_low(in, out, i);
        rolls(in, out, i);
    }
    return BK_OK;
}
