/* joints: rings, lifting points and anchors.
 *
 * A ring carries the resultant of what pulls it either way.  A lifting point with a part sees the real
 * direction of pull of the solved rig, turned further by as much as its lines and the body may lean within the
 * tolerances: eyebolts and shackles lose rating off their axis by the bands of the rule set; where a plan gives no axis the worst band is taken and said.
 * Where a stiff load counts on fewer legs than it has, the points of all of them see what such a leg pulls.  An anchor sees the static force of
 * the rig times the factor of what hangs on it above a hoist's hook; an eyebolt or a clamp there stands plumb.
 */
#include "rig.h"

#include <string.h>

static void ring(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_ring *r = &in->plan->rings[i];
    const double nominal = bk_ring_load(in->plan, in->hang, i);
    double dynamic = 1, stalled = 1;
    size_t met = 0;
    for (size_t l = 0; l < in->plan->n_lines; l++) {
        const bk_line *line = &in->plan->lines[l];
        const bk_end here = {BK_END_RING, i};
        if (!bk_rig_same_end(line->from, here) && !bk_rig_same_end(line->to, here)) continue;
        met++;
        /* the lower end of a hoist's line is its hook: what hangs there is below the hook */
        if (line->hoist != BK_NONE && bk_rig_same_end(bk_rig_lower_end(in, l), here)) {
            dynamic = fmax(dynamic, in->plan->rigging_factor);
            continue;
        }
        dynamic = fmax(dynamic, bk_rig_dynamic(in, l));
        stalled = fmax(stalled, in->line_stalled[l]);
    }
    if (met == 0) return;
    double worst = nominal;
    const char *where = NULL;
    if (bk_is_most(in->envelope->ring_max[i].value, &worst)) where = in->envelope->ring_max[i].say;
    const bk_part *part = r->n_parts ? &in->plan->parts[r->first_part] : NULL;
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, F, bk_rig_above(nominal, worst, dynamic, stalled), FORCE, "resultant of the lines on the ring");
    bk_rig_capacity capacity = {NAN, NAN, NAN, BK_MARK_USER};
    if (part) capacity = bk_rig_piece_capacity(in, out, r->name, part, w);
    bk_findings_add(out, (bk_finding){.check = "ring.wll", .item = r->name,
                                      .part = part ? (part->ref ? part->ref : part->what) : NULL,
                                      .what = part ? "working load limit" : "no part is named", .demand = F,
                                      .nominal_demand = bk_rig_above(nominal, nominal, dynamic, stalled), .limit = capacity.tag_N, .dim = BK_DIM_FORCE,
                                      .rule = in->rules->name, .source = part ? part->source : "no rating given",
                                      .mark = capacity.mark, .where = where, .working = w});
}

/* ---- lifting points ---------------------------------------------------------------------------- */

static bool is_a(const bk_part *part, const char *word)
{
    return strstr(part->what, word) != NULL;
}

/* Greatest angle that the bands allow at all. */
static double greatest_angle(const bk_bands *bands)
{
    double angle = 0;
    for (size_t i = 0; bands && i < bands->n; i++)
        if (bands->at[i].factor > 0) angle = fmax(angle, bands->at[i].to);
    return angle;
}

static double least_factor(const bk_bands *bands)
{
    double least = INFINITY;
    for (size_t i = 0; bands && i < bands->n; i++)
        if (bands->at[i].factor > 0) least = fmin(least, bands->at[i].factor);
    return least;
}

/* How a part stands in the world: axis of its straight pull, normal of its flat; NaN where not known. */
typedef struct stand {
    bk_vec3 axis, plane;
    double turns; /* the pull may turn so much further within the tolerances (rad) */
    const char *wll, *direction; /* names of the two checks */
} stand;

/* How much further than drawn what pulls on an end may hang off the vertical. */
static double turn_of_pull(const bk_check_input *in, bk_end end)
{
    double most = 0;
    for (size_t l = 0; l < in->plan->n_lines; l++) {
        const bk_line *line = &in->plan->lines[l];
        if (in->hang->slack[l] || (!bk_rig_same_end(line->from, end) && !bk_rig_same_end(line->to, end))) continue;
        most = fmax(most, bk_rig_leans(in, l));
    }
    return most;
}

static void directed_part(const bk_check_input *in, bk_findings *out, const stand *stands, const char *item,
                          const bk_part *part, bk_vec3 pull, double nominal, double worst, const char *where)
{
    const bk_bands *bands = NULL;
    if (is_a(part, "eye")) bands = bk_rig_bands(in, "eyebolt.angle", BK_DIM_ANGLE);
    else if (is_a(part, "shackle")) bands = bk_rig_bands(in, "shackle.side", BK_DIM_ANGLE);
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, F, worst, FORCE, where ? where : "pull on the point, solved as drawn");
    const bk_rig_capacity capacity = bk_rig_piece_capacity(in, out, item, part, w);
    bk_mark mark = capacity.mark;
    const char *source = part->source, *note = NULL;
    double limit = capacity.tag_N;

    const bool has_axis = isfinite(stands->axis.x);
    double angle = NAN, as_drawn = NAN;
    if (has_axis) {
        const bool either_way = is_a(part, "shackle");
        as_drawn = bk_vec3_angle(stands->axis, pull);
        if (either_way) as_drawn = fmin(as_drawn, BK_PI - as_drawn);
        angle = fmin(as_drawn + stands->turns, either_way ? BK_PI / 2 : BK_PI);
    }
    if (isfinite(limit) && isfinite(part->inclined_wll_N) && (!has_axis || angle <= BK_PI / 4) &&
        !(has_axis && angle <= 5 * BK_PI / 180)) {
        /* the row's own rating for a pull up to 45 degrees off the axis goes before the bands */
        BK_GIVEN(w, WLL_straight, part->wll_N, FORCE, part->source);
        BK_GIVEN(w, WLL_inclined, part->inclined_wll_N, FORCE, part->source);
        BK_GIVEN(w, F_straight, limit, FORCE, "rating in a straight pull here");
        BK_CALC(w, F_inclined, F_straight * WLL_inclined / WLL_straight, FORCE, "inclined rating of the table");
        limit = F_inclined;
        if (!has_axis) {
            note = "no axis in the plan: inclined pull assumed";
            bk_findings_assume(out, "%s: the axis of the %s is not stated: its inclined rating is used; a pull more than 45 "
                                    "degrees off the axis is not allowed for.", item, part->what);
        }
    } else if (bands && isfinite(limit)) {
        mark = bk_rig_less_sure(mark, bands->mark);
        double k;
        if (has_axis) {
            k = bk_bands_factor(bands, angle);
            if (!isfinite(k)) k = 0;
        } else {
            k = least_factor(bands);
            note = "no axis in the plan: worst direction assumed";
            bk_findings_assume(out, "%s: the axis of the %s is not stated: the worst allowed direction of pull is assumed.",
                               item, part->what);
        }
        BK_GIVEN(w, theta, has_axis ? angle : (double)NAN, ANGLE, "pull off the part's axis, at its worst");
        (void)theta;
        BK_GIVEN(w, k_angle, k, NONE, bands->source);
        BK_GIVEN(w, F_straight, limit, FORCE, "rating in a straight pull");
        BK_CALC(w, F_angle, F_straight * k_angle, FORCE, "rating in the direction of pull");
        limit = F_angle;
    }
    bk_finding finding = {.check = stands->wll, .item = item, .part = part->ref ? part->ref : part->what,
                          .what = "working load limit in the direction of pull", .demand = F, .nominal_demand = nominal,
                          .limit = limit, .dim = BK_DIM_FORCE, .rule = in->rules->name, .source = source, .mark = mark,
                          .where = where, .note = note, .working = w};
    bk_findings_add(out, finding);

    const char *turned = stands->turns > 0 ? "turned as far as the tolerances let it" : NULL;
    double allowed = part->max_side_angle_rad;
    const char *allowed_source = part->source;
    bk_mark allowed_mark = part->mark;
    if (isnan(allowed) && bands) {
        allowed = greatest_angle(bands);
        allowed_source = bands->source;
        allowed_mark = bands->mark;
    } else if (isnan(allowed) && is_a(part, "clamp")) {
        allowed_mark = BK_MARK_PUBLISHED;
        allowed = bk_rig_rule(in, "clamp.angle_max", BK_DIM_ANGLE, &allowed_mark, &allowed_source);
    }
    if (has_axis && isfinite(allowed))
        bk_findings_add(out, (bk_finding){.check = stands->direction, .item = item, .part = finding.part,
                                          .what = "direction of pull off the part's axis", .demand = angle,
                                          .nominal_demand = as_drawn, .limit = allowed, .dim = BK_DIM_ANGLE,
                                          .rule = in->rules->name, .source = allowed_source, .mark = allowed_mark,
                                          .where = turned});
    const bk_bands *flat = bk_rig_bands(in, is_a(part, "eye")       ? "eyebolt.plane"
                                            : is_a(part, "shackle") ? "shackle.plane"
                                                                    : "lug.plane", BK_DIM_ANGLE);
    if (isfinite(stands->plane.x) && bk_vec3_norm(pull) > 0 && flat) {
        const double as_it_hangs = fabs(BK_PI / 2 - bk_vec3_angle(stands->plane, pull));
        const double out_of_plane = fmin(as_it_hangs + stands->turns, BK_PI / 2);
        bk_findings_add(out, (bk_finding){.check = stands->direction, .item = item, .part = finding.part,
                                          .what = "pull out of the eye's plane", .demand = out_of_plane,
                                          .nominal_demand = as_it_hangs, .limit = greatest_angle(flat),
                                          .dim = BK_DIM_ANGLE, .rule = in->rules->name, .source = flat->source,
                                          .mark = flat->mark, .where = turned});
    }
}

/* How deep an eyebolt's thread is screwed in, over what it must be. */
static void engagement(const bk_check_input *in, bk_findings *out, const char *check, const char *item, const bk_part *part)
{
    if (!is_a(part, "eyebolt")) return;
    bk_mark mark = part->mark;
    const char *source = NULL;
    const double least = bk_rig_rule(in, "eyebolt.engagement", BK_DIM_NONE, &mark, &source);
    if (isnan(part->engagement_m) || isnan(part->diameter_m)) {
        char times[24];
        bk_findings_assume(out, "%s: how deep the thread of the eyebolt is screwed in is not stated (`engagement`): at least %s times "
                                "its diameter, in steel, with the shoulder on its seat, is assumed.", item,
                           bk_plain_print(times, sizeof times, least, BK_TOLD_DIGITS));
        return;
    }
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, d, part->diameter_m, LENGTH, part->source);
    BK_GIVEN(w, k, least, NONE, source ? source : "rule set");
    BK_CALC(w, l_least, k * d, LENGTH, "in tapped steel");
    bk_findings_add(out, (bk_finding){.check = check, .item = item, .part = part->ref ? part->ref : part->what,
                                      .what = "thread that must be screwed in", .demand = l_least, .nominal_demand = l_least,
                                      .limit = part->engagement_m, .dim = BK_DIM_LENGTH, .setting = true,
                                      .rule = in->rules->name, .source = source ? source : "rule set", .mark = mark,
                                      .working = w});
}

static bk_status point(const bk_check_input *in, bk_findings *out, const double *counted_N, size_t i)
{
    const bk_point *p = &in->plan->points[i];
    const bk_end here = {BK_END_POINT, i};
    bk_vec3 pull = {0, 0, 0};
    double worst = 0, nominal = 0, most_grown = 0;
    const char *where = NULL;
    size_t met = 0;
    for (size_t l = 0; l < in->plan->n_lines; l++) {
        const bk_line *line = &in->plan->lines[l];
        if (!bk_rig_same_end(line->from, here) && !bk_rig_same_end(line->to, here)) continue;
        /* the lower end of a hoist's line is its hook: what hangs there is below the hook */
        const bool below = line->hoist != BK_NONE && bk_rig_same_end(bk_rig_lower_end(in, l), here);
        const double dynamic = below ? in->plan->rigging_factor : bk_rig_dynamic(in, l), stalled = below ? 1 : in->line_stalled[l];
        const bk_vec3 force = bk_rig_pull_on(in, l, here);
        pull = bk_vec3_add(pull, bk_vec3_scale(fmax(dynamic, stalled), force));
        const double grown = fmax(0, in->envelope->tension_max[l].value - in->hang->tension_N[l]);
        const double by_statics = bk_rig_above(bk_vec3_norm(force), bk_vec3_norm(force) + grown, dynamic, stalled);
        worst += fmax(by_statics, counted_N[l]);
        met++;
        if (counted_N[l] > by_statics) most_grown = INFINITY, where = "stiff load on as many legs as the rule set counts";
        if (bk_is_most(grown, &most_grown)) where = in->envelope->tension_max[l].say;
    }
    nominal = bk_vec3_norm(pull);
    if (met == 0) return BK_OK;
    if (worst <= nominal) worst = nominal, where = NULL;
    const char *item = bk_plan_end_name(in->plan, here);
    if (!item) return BK_E_NOMEM;
    const bk_quat turn = in->hang->turn[p->body];
    const bk_vec3 unknown = {NAN, NAN, NAN};
    const double tilts = fmax(0, in->envelope->tilt_max[p->body].value - in->hang->tilt_rad[p->body]);
    const stand stands = {isfinite(p->axis.x) ? bk_quat_turn(turn, p->axis) : unknown,
                          isfinite(p->plane.x) ? bk_quat_turn(turn, p->plane) : unknown, turn_of_pull(in, here) + tilts,
                          "point.wll", "point.direction"};
    for (size_t k = 0; k < p->n_parts; k++) {
        directed_part(in, out, &stands, item, &in->plan->parts[p->first_part + k], pull, nominal, worst, where);
        engagement(in, out, "point.engagement", item, &in->plan->parts[p->first_part + k]);
    }
    if (isfinite(p->limit_N))
        bk_findings_add(out, (bk_finding){.check = "point.limit", .item = item, .what = "limit in the plan",
                                          .demand = worst, .nominal_demand = nominal, .limit = p->limit_N,
                                          .dim = BK_DIM_FORCE, .rule = in->rules->name, .source = "stated in the plan",
                                          .mark = BK_MARK_USER, .where = where});
    return BK_OK;
}

/* Points of a body that something pulls on and that nobody has rated, by name; plainly so where others of it are rated. */
static void unrated_points(const bk_check_input *in, bk_findings *out, size_t b)
{
    const bk_plan *plan = in->plan;
    const bk_body *body = &plan->bodies[b];
    const char *rated = "", *unrated = "";
    for (size_t i = body->first_point; i < body->first_point + body->n_points; i++) {
        const bk_point *p = &plan->points[i];
        const bk_end here = {BK_END_POINT, i};
        bool met = false;
        for (size_t l = 0; l < plan->n_lines && !met; l++)
            met = bk_rig_same_end(plan->lines[l].from, here) || bk_rig_same_end(plan->lines[l].to, here);
        if (!met) continue;
        const char **names = p->n_parts == 0 && isnan(p->limit_N) ? &unrated : &rated;
        *names = bk_arena_printf(out->arena, "%s%s%s", *names, **names ? ", " : "", p->name);
        if (!*names) {
            out->failed = true;
            return;
        }
    }
    if (!*unrated) return;
    if (*rated)
        bk_findings_assume(out, "%s: of its points %s are rated and checked, but %s are NOT: they are taken as good for their pull. Rate "
                                "them too (`limit`, or a part).", body->name, rated, unrated);
    else
        bk_findings_assume(out, "Lifting points of %s without a rating (%s) are taken as good for their pull: they are not checked "
                                "here.", body->name, unrated);
}

/* ---- anchors ----------------------------------------------------------------------------------- */

static void anchor(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_plan *plan = in->plan;
    const bk_anchor *a = &plan->anchors[i];
    const bk_end here = {BK_END_ANCHOR, i};
    double dynamic = 1, stalled = 1, own_stalled = NAN; /* which fmax passes over */
    size_t met = 0;
    bool hoisted = false;
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_line *line = &plan->lines[l];
        if (!bk_rig_same_end(line->from, here) && !bk_rig_same_end(line->to, here)) continue;
        met++;
        dynamic = fmax(dynamic, in->line_dynamic[l]);
        stalled = fmax(stalled, in->line_stalled[l]);
        if (line->hoist != BK_NONE)
            own_stalled = fmax(own_stalled, in->hoists[line->hoist].stalled_N);
        if (line->hoist != BK_NONE || in->line_dynamic[l] > 1 || in->line_stalled[l] > 1) hoisted = true;
    }
    if (met == 0) return;
    if (!hoisted) dynamic = fmax(1, plan->dynamic_factor.v + plan->dynamic_factor.tol); /* 1 where none is stated */
    if (!hoisted && isnan(plan->dynamic_factor.v))
        bk_findings_assume(out, "Anchors that carry no hoist of this plan see the static pull: what a crane adds when it "
                                "starts and stops is the crane's own affair.");
    const double still = bk_vec3_norm(in->hang->anchor_N[i]);
    double worst_still = still;
    const bool varied = bk_is_most(in->envelope->anchor_max[i].value, &worst_still);
    const double nominal = fmax(bk_rig_above(still, still, dynamic, stalled), own_stalled);
    const double worst = fmax(bk_rig_above(still, worst_still, dynamic, stalled), own_stalled);
    const bool stall_governs = worst > worst_still * dynamic;
    const char *where = stall_governs ? "hoist stalled at its limiter" : varied ? in->envelope->anchor_max[i].say : NULL;
    const char *note = !stall_governs && dynamic > 1 ? "dynamic case of the hoist" : NULL;
    for (size_t k = 0; k < a->n_parts; k++) {
        const bk_part *part = &plan->parts[a->first_part + k];
        if (is_a(part, "eye") || is_a(part, "clamp")) {
            /* it cannot turn towards the pull as a shackle does */
            const stand plumb = {{0, 0, -1}, {NAN, NAN, NAN}, turn_of_pull(in, here), "anchor.wll", "anchor.direction"};
            directed_part(in, out, &plumb, a->name, part, in->hang->anchor_N[i], nominal, worst, where);
            engagement(in, out, "anchor.engagement", a->name, part);
            bk_findings_assume(out, "%s: the %s is taken to stand plumb in the structure above it.", a->name, part->what);
            continue;
        }
        bk_working *w = bk_findings_working(out);
        BK_GIVEN(w, F, worst, FORCE, where ? where : "pull on the anchor");
        const bk_rig_capacity capacity = bk_rig_piece_capacity(in, out, a->name, part, w);
        bk_findings_add(out, (bk_finding){.check = "anchor.wll", .item = a->name, .part = part->ref ? part->ref : part->what,
                                          .what = "working load limit", .demand = F, .nominal_demand = nominal,
                                          .limit = capacity.tag_N, .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                          .source = part->source, .mark = capacity.mark, .where = where, .note = note,
                                          .working = w});
    }
    const bk_trolley *trolley = a->trolley != BK_NONE ? &plan->trolleys[a->trolley] : NULL;
    if (trolley && isnan(a->limit_N)) { /* what rates the trolley is checked with its runway */
        if (trolley->n_parts == 0 && isnan(trolley->limit_N))
            bk_findings_assume(out, "%s hangs on trolley %s: the beam is checked below; the trolley's own plate is not in the plan "
                                    "and must allow %s's pull.", a->name, trolley->name, a->name);
    } else if (a->n_parts == 0 || isfinite(a->limit_N)) {
        bk_findings_add(out, (bk_finding){.check = "anchor.limit", .item = a->name,
                                          .what = isfinite(a->limit_N) ? "limit in the plan" : "no limit is named",
                                          .demand = worst, .nominal_demand = nominal, .limit = a->limit_N,
                                          .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                          .source = isfinite(a->limit_N) ? "stated in the plan" : "no limit given",
                                          .mark = BK_MARK_USER, .where = where, .note = note});
    }
    if (isfinite(a->limit_horizontal_N)) {
        const double flat = hypot(in->hang->anchor_N[i].x, in->hang->anchor_N[i].y);
        double worst_still_flat = flat;
        const bool flat_varied = bk_is_most(in->envelope->anchor_horizontal_max[i].value, &worst_still_flat);
        const double nominal_flat = bk_rig_above(flat, flat, dynamic, stalled);
        const double worst_flat = bk_rig_above(flat, worst_still_flat, dynamic, stalled);
        const char *flat_where = worst_flat > worst_still_flat * dynamic ? "hoist stalled at its limiter"
                                 : flat_varied ? in->envelope->anchor_horizontal_max[i].say : NULL;
        bk_findings_add(out, (bk_finding){.check = "anchor.horizontal", .item = a->name, .what = "horizontal limit in the plan",
                                          .demand = worst_flat, .nominal_demand = nominal_flat, .limit = a->limit_horizontal_N,
                                          .dim = BK_DIM_FORCE, .rule = in->rules->name, .source = "stated in the plan",
                                          .mark = BK_MARK_USER, .where = flat_where, .note = note});
    }
}

bk_status bk_check_joints(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    if (!in->hang) return BK_OK;
    for (size_t i = 0; i < in->plan->n_rings; i++) ring(in, out, i);
    double *counted_N = BK_NEW(out->arena, double, in->plan->n_lines);
    bk_status status = counted_N ? bk_rig_counted_pulls(in, out->arena, counted_N) : BK_E_NOMEM;
    for (size_t i = 0; status == BK_OK && i < in->plan->n_points; i++) status = point(in, out, counted_N, i);
    if (status != BK_OK)
        return bk_fail(errors, (bk_place){in->plan->file, 0, 0}, BK_E_NOMEM, "out of memory in the checks");
    for (size_t b = 0; b < in->plan->n_bodies; b++) unrated_points(in, out, b);
    for (size_t i = 0; i < in->plan->n_anchors; i++) anchor(in, out, i);
    return BK_OK;
}
