/* lines: every part of every line against its rating, and the line's angle against the rule set.
 *
 * Demand is the pull at the line's upper end (its own weight hangs there too) in the worst case of the plan's
 * tolerances.  Below a hoist's hook a working load limit meets the static pull: its design factor covers
 * ordinary hoisting.  Above the hook the pull is that of the dynamic or the stalled case, whichever is larger.
 */
#include "rig.h"

bk_end bk_rig_upper_end(const bk_check_input *in, size_t line)
{
    const bk_line *l = &in->plan->lines[line];
    return l->upper_is_from ? l->from : l->to;
}

bk_end bk_rig_lower_end(const bk_check_input *in, size_t line)
{
    const bk_line *l = &in->plan->lines[line];
    return l->upper_is_from ? l->to : l->from;
}

bool bk_rig_same_end(bk_end a, bk_end b)
{
    return a.kind == b.kind && a.index == b.index;
}

bk_vec3 bk_rig_pull_on(const bk_check_input *in, size_t line, bk_end end)
{
    return bk_rig_same_end(in->plan->lines[line].from, end) ? in->hang->pull_from_N[line]
                                                            : in->hang->pull_to_N[line];
}

double bk_rig_leans(const bk_check_input *in, size_t line)
{
    return fmax(0, in->envelope->from_vertical_max[line].value - in->hang->from_vertical_rad[line]);
}

double bk_rig_dynamic(const bk_check_input *in, size_t line)
{
    return fmax(in->line_dynamic[line], in->plan->rigging_factor);
}

double bk_rig_above(double nominal_N, double worst_N, double dynamic, double stalled)
{
    return fmax(worst_N * dynamic, nominal_N * stalled);
}

bk_rig_pull bk_rig_line_pull(const bk_check_input *in, size_t line)
{
    const double half_weight_N = in->plan->lines[line].mass_kg / 2 * BK_STANDARD_GRAVITY_M_PER_S2;
    const size_t hoist = in->plan->lines[line].hoist;
    const double dynamic = bk_rig_dynamic(in, line), stalled = hoist == BK_NONE ? in->line_stalled[line] : 1; /* its own limiter: below */
    const double upright = cos(in->hang->from_vertical_rad[line]);
    const bk_extreme *worst = &in->envelope->tension_max[line];
    bk_rig_pull pull;
    pull.nominal_N = in->hang->slack[line] ? half_weight_N : in->hang->tension_N[line] + half_weight_N * upright;
    pull.worst_N = pull.nominal_N;
    pull.where = NULL;
    if (worst->value > in->hang->tension_N[line]) {
        pull.worst_N = fmax(pull.nominal_N, worst->value + half_weight_N);
        pull.where = worst->say;
    }
    const double worst_N = pull.worst_N, nominal_N = pull.nominal_N;
    pull.worst_N = bk_rig_above(nominal_N, worst_N, dynamic, stalled);
    pull.nominal_N = bk_rig_above(nominal_N, nominal_N, dynamic, stalled);
    /* a hoist pulls its own line as hard as its limiter lets it, whatever hangs there now */
    if (hoist != BK_NONE && isfinite(in->hoists[hoist].stalled_N)) {
        pull.worst_N = fmax(pull.worst_N, in->hoists[hoist].stalled_N);
        pull.nominal_N = fmax(pull.nominal_N, in->hoists[hoist].stalled_N);
    }
    if (pull.worst_N > worst_N * dynamic) pull.where = "hoist stalled at its limiter";
    return pull;
}

static void wll(const bk_check_input *in, bk_findings *out, size_t line, const bk_part *part)
{
    const bk_plan *plan = in->plan;
    const bk_line *l = &plan->lines[line];
    const bk_rig_pull pull = bk_rig_line_pull(in, line);
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, F, pull.worst_N, FORCE, pull.where ? pull.where : "solved as drawn, at the line's upper end");
    const bk_rig_capacity capacity = bk_rig_part_capacity(in, out, l, part, w);
    const char *part_name = part->ref ? part->ref : part->what;
    bk_finding finding = {.check = "line.wll", .item = l->name, .part = part_name,
                          .what = l->hitch == BK_HITCH_CHOKER && bk_rig_is_sling(part)   ? "working load limit, choker"
                                  : l->hitch == BK_HITCH_BASKET && bk_rig_is_sling(part) ? "working load limit, basket"
                                                                                         : "working load limit",
                          .demand = F, .nominal_demand = pull.nominal_N, .limit = capacity.tag_N, .dim = BK_DIM_FORCE,
                          .rule = in->rules->name, .source = part->source, .mark = capacity.mark, .where = pull.where,
                          .working = w};
    if (in->line_dynamic[line] > 1 || in->line_stalled[line] > 1) finding.note = "above the hook: dynamic or stalled case";
    bk_findings_add(out, finding);
    if (l->hitch == BK_HITCH_CHOKER && bk_rig_is_sling(part) && isfinite(capacity.tag_N)) {
        finding.check = "line.choker";
        finding.what = "choker rating at its choke angle";
        finding.limit = capacity.choker_N;
        bk_findings_add(out, finding);
    }
    if (isfinite(capacity.bend_N)) {
        finding.check = "line.bend";
        finding.what = "rating over the bend";
        finding.limit = capacity.bend_N;
        bk_findings_add(out, finding);
    }
}

/* A wide web does not lie flat in a hook or on a pin of small radius: its edges go slack and the middle takes all. */
static void web_in_hook(const bk_check_input *in, bk_findings *out, const bk_line *line, const bk_part *part)
{
    bk_mark mark = part->mark;
    const char *source = NULL;
    const double from_m = bk_rig_rule(in, "bend.web_hook.from", BK_DIM_LENGTH, NULL, NULL);
    if (line->hitch != BK_HITCH_STRAIGHT || !bk_rig_is_sling(part) || !(part->width_m > from_m)) return;
    if (isnan(line->bend_diameter_m)) {
        bk_findings_assume(out, "%s: what goes through the eye of the web is not stated (`bend_diameter`): wide enough for %s to lie "
                                "flat is assumed.", line->name, part->ref ? part->ref : part->what);
        return;
    }
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, b, part->width_m, LENGTH, part->source);
    BK_GIVEN(w, k, bk_rig_rule(in, "bend.web_hook", BK_DIM_NONE, &mark, &source), NONE, source ? source : "rule set");
    BK_CALC(w, D_least, 2 * k * b, LENGTH, "least radius over width, as a diameter");
    bk_findings_add(out, (bk_finding){.check = "line.web_hook", .item = line->name, .part = part->ref ? part->ref : part->what,
                                      .what = "diameter that the web needs in its eye", .demand = D_least,
                                      .nominal_demand = D_least, .limit = line->bend_diameter_m, .dim = BK_DIM_LENGTH,
                                      .setting = true, .rule = in->rules->name, .source = source ? source : "rule set",
                                      .mark = mark, .working = w});
}

static void angle(const bk_check_input *in, bk_findings *out, size_t line)
{
    const bk_line *l = &in->plan->lines[line];
    if (in->hang->slack[line] && !(in->envelope->tension_max[line].value > 0)) return;
    bk_mark mark = BK_MARK_PUBLISHED;
    const char *source = NULL;
    const double limit = bk_rig_rule(in, "angle.max_from_vertical", BK_DIM_ANGLE, &mark, &source);
    const double nominal = in->hang->from_vertical_rad[line];
    double demand = nominal;
    const char *where = NULL;
    if (bk_is_most(in->envelope->from_vertical_max[line].value, &demand)) where = in->envelope->from_vertical_max[line].say;
    bk_finding finding = {.check = "line.angle", .item = l->name, .what = "angle from the vertical", .demand = demand,
                          .nominal_demand = nominal, .limit = limit, .dim = BK_DIM_ANGLE, .rule = in->rules->name,
                          .source = source ? source : "rule set", .mark = mark, .where = where};
    const double warn = bk_rig_rule(in, "angle.warn_from_vertical", BK_DIM_ANGLE, NULL, NULL);
    if (demand > warn && demand <= limit) finding.note = "flatter than 45 degrees from the horizontal: tension climbs fast";
    bk_findings_add(out, finding);
}

bk_status bk_check_lines(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    (void)errors;
    if (!in->hang) return BK_OK;
    const bk_plan *plan = in->plan;
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_line *l = &plan->lines[i];
        for (size_t k = 0; k < l->n_parts; k++) {
            wll(in, out, i, &plan->parts[l->first_part + k]);
            web_in_hook(in, out, l, &plan->parts[l->first_part + k]);
        }
        if (l->n_parts == 0 && l->hoist == BK_NONE) {
            const bk_rig_pull pull = bk_rig_line_pull(in, i);
            bk_findings_add(out, (bk_finding){.check = "line.wll", .item = l->name, .what = "no part is named",
                                              .demand = pull.worst_N, .nominal_demand = pull.nominal_N, .limit = NAN,
                                              .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                              .source = "no rating given", .mark = BK_MARK_USER, .where = pull.where});
        }
        angle(in, out, i);
    }
    if (plan->rigging_factor > 1)
        bk_findings_assume(out, "Gear below the hook is checked with the plan's dynamic factor for rigging; tensions are shown "
                                "without it.");
    if (plan->n_lines > 0)
        bk_findings_assume(out, "Lines are straight: sag under their own weight is not modelled.");
    return BK_OK;
}
