/* suspended: what a hoist can do only with what hangs on it: room, travel, side pull, several hoists, wind.
 *
 *      suspension ---.            headroom: suspension to hook at the upper limit
 *                    | headroom   height of lift: travel of the hook below that
 *      upper limit --+            the line as it hangs is where the hook stands now
 *                    |
 *      hook  --------+  L         hoist.headroom: headroom <= L
 *                    |            hoist.lift:     L <= headroom + height of lift
 *      lower limit --'            hoist.clearance: lowest point of the load, raised to the upper limit,
 *                                                  clears what it must
 *
 * Several hoists on one load: unlike speeds and uneven ground shift the shares, so each must be good for
 * its share times a margin that grows with their number.
 * Wind: the load area that a rating allows for grows with the mass; beyond it the allowed speed falls.
 * Limits: a body's lowest point is the lowest of its named points, origin and centre of gravity; the hook
 * height is raised with the pose as it hangs.
 */
#include "rig.h"

/* Number of the load that a line hangs on: bodies and rings joined by lines are one load; anchors part them. */
static size_t *loads_of_lines(const bk_check_input *in, bk_arena *arena)
{
    const bk_plan *plan = in->plan;
    const size_t n = plan->n_bodies + plan->n_rings;
    size_t *node = BK_NEW(arena, size_t, n), *line = BK_NEW(arena, size_t, plan->n_lines);
    if (!node || !line) return NULL;
    for (size_t i = 0; i < n; i++) node[i] = i;
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t l = 0; l < plan->n_lines; l++) {
            const bk_end ends[] = {plan->lines[l].from, plan->lines[l].to};
            size_t at[2], k = 0;
            for (int e = 0; e < 2; e++)
                if (ends[e].kind != BK_END_ANCHOR)
                    at[k++] = ends[e].kind == BK_END_POINT ? plan->points[ends[e].index].body
                                                           : plan->n_bodies + ends[e].index;
            line[l] = k ? node[at[0]] : BK_NONE;
            if (k < 2 || node[at[0]] == node[at[1]]) continue;
            const size_t low = node[at[0]] < node[at[1]] ? node[at[0]] : node[at[1]];
            node[at[0]] = node[at[1]] = low;
            changed = true;
        }
    }
    return line;
}

static bk_finding finding_of(const bk_check_input *in, const bk_hoist *hoist, const char *check, const char *what,
                             bk_dim dim)
{
    return (bk_finding){.check = check, .item = hoist->name, .part = hoist->ref, .what = what, .dim = dim,
                        .nominal_demand = NAN, .rule = in->rules->name, .source = hoist->source, .mark = hoist->mark};
}

static double margin_of(const bk_check_input *in, size_t n, bk_mark *mark, const char **source)
{
    return bk_rig_rule(in, n == 2 ? "multi_hoist.two" : n == 3 ? "multi_hoist.three" : "multi_hoist.four", BK_DIM_NONE, mark, source);
}

/* One load on several hooks that the plan tells nothing of: a crane's must be good for more than its share, a fixed point's
 * need not, and the plan does not say which they are. */
static void several_hooks(const bk_check_input *in, bk_findings *out, const size_t *load, size_t line)
{
    const bk_plan *plan = in->plan;
    for (size_t l = 0; l < line; l++)
        if (load[l] == load[line]) return; /* told of already */
    const char *names = "";
    size_t n = 0;
    for (size_t a = 0; a < plan->n_anchors; a++) {
        bool holds = false;
        for (size_t l = 0; l < plan->n_lines; l++) {
            const bk_end here = {BK_END_ANCHOR, a};
            if (load[l] != load[line] || (!bk_rig_same_end(plan->lines[l].from, here) && !bk_rig_same_end(plan->lines[l].to, here)))
                continue;
            if (plan->lines[l].hoist != BK_NONE) return; /* its margin is checked */
            holds = true;
        }
        if (!holds) continue;
        names = bk_arena_printf(out->arena, "%s%s%s", names, n++ ? ", " : "", plan->anchors[a].name);
        if (!names) {
            out->failed = true;
            return;
        }
    }
    if (n < 2) return;
    char times[24];
    const char *source = "rule set";
    bk_mark mark = BK_MARK_PUBLISHED;
    const double margin = margin_of(in, n, &mark, &source);
    bk_findings_assume(out, "%s hold one load. Where they are hooks of cranes or hoists, each must be good for %s times its pull (%s): that "
                            "margin is checked only of hoists in the plan.", names, bk_plain_print(times, sizeof times, margin, BK_TOLD_DIGITS), source);
}

static void several(const bk_check_input *in, bk_findings *out, const size_t *load, size_t line)
{
    const bk_plan *plan = in->plan;
    const size_t i = plan->lines[line].hoist;
    const bk_hoist *hoist = &plan->hoists[i];
    size_t n = 0;
    for (size_t l = 0; l < plan->n_lines; l++) n += plan->lines[l].hoist != BK_NONE && load[l] == load[line];
    if (n < 2 || load[line] == BK_NONE) return;
    bk_finding finding =
        finding_of(in, hoist, "hoist.multi_margin", "share of a load on several hoists, with its margin", BK_DIM_FORCE);
    const double growth = fmax(0, in->envelope->tension_max[line].value - in->hang->tension_N[line]);
    const double margin = margin_of(in, n, &finding.mark, &finding.source);
    bk_working *w = bk_findings_working(out);
    /* what this line holds at its hook, and the block that rides there; the same hoist may hang in other lines too */
    const double own = bk_vec3_norm(bk_rig_pull_on(in, line, bk_rig_lower_end(in, line)));
    const double climbs = in->hoists[i].against_rated_N - in->hoists[i].hook_load_N; /* the hoist, body down */
    BK_GIVEN(w, F_share, own + in->hoists[i].hook_block_N + climbs + growth, FORCE, "worst on this hook within the tolerances");
    BK_GIVEN(w, margin_n, margin, NONE, finding.source);
    BK_CALC(w, F, margin_n * F_share, FORCE, "speeds and levels are never quite alike");
    finding.demand = F;
    finding.limit = bk_rig_usable(in, hoist->rated_N, hoist->source, &finding.mark, w);
    finding.where = growth > 0 ? in->envelope->tension_max[line].say : NULL;
    finding.working = w;
    bk_findings_add(out, finding);
}

/* Length of the line from suspension to hook: slings and shackles of the same line left out. */
static double hook_below_suspension(const bk_check_input *in, bk_findings *out, size_t line)
{
    const bk_line *l = &in->plan->lines[line];
    double length = in->hang->length_m[line];
    for (size_t p = 0; p < l->n_parts; p++) {
        const bk_part *part = &in->plan->parts[l->first_part + p];
        if (!isnan(part->length_m))
            length -= part->length_m;
        else
            bk_findings_assume(out, "Line %s: the length of its %s is not stated and counts as none between suspension and hook.",
                               l->name, part->ref ? part->ref : part->what);
    }
    return length;
}

static void travel(const bk_check_input *in, bk_findings *out, size_t line)
{
    const bk_hoist *hoist = &in->plan->hoists[in->plan->lines[line].hoist];
    if (isnan(hoist->headroom_m)) return;
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, L, hook_below_suspension(in, out, line), LENGTH, "suspension to hook, as the rig hangs");
    BK_GIVEN(w, headroom, hoist->headroom_m, LENGTH, hoist->source);
    bk_finding finding = finding_of(in, hoist, "hoist.headroom", "headroom against the room there is", BK_DIM_LENGTH);
    finding.demand = headroom;
    finding.limit = L;
    finding.working = w;
    if (headroom > L) finding.note = "the hook is drawn above its upper limit";
    bk_findings_add(out, finding);
    if (isnan(hoist->height_of_lift_m)) return;
    BK_GIVEN(w, lift, hoist->height_of_lift_m, LENGTH, hoist->source);
    BK_CALC(w, L_max, headroom + lift, LENGTH, "suspension to hook at its lower limit");
    finding.check = "hoist.lift";
    finding.what = "hook below the suspension, chain run out";
    finding.demand = L;
    finding.limit = L_max;
    finding.note = L > L_max ? "the chain is too short for the hook to stand there" : NULL;
    bk_findings_add(out, finding);
}

/* Lowest known point of the bodies of one load (world z). */
static double lowest_of(const bk_check_input *in, const size_t *load, size_t line)
{
    const bk_plan *plan = in->plan;
    double lowest = NAN;
    for (size_t l = 0; l < plan->n_lines; l++) {
        if (load[l] != load[line]) continue;
        const bk_end ends[] = {plan->lines[l].from, plan->lines[l].to};
        for (int e = 0; e < 2; e++) {
            if (ends[e].kind != BK_END_POINT) continue;
            const size_t b = plan->points[ends[e].index].body;
            const bk_body *body = &plan->bodies[b];
            lowest = fmin(lowest, fmin(in->hang->origin_m[b].z, in->hang->cog_m[b].z));
            for (size_t p = 0; p < body->n_points; p++) {
                const bk_vec3 at = bk_quat_turn(in->hang->turn[b], plan->points[body->first_point + p].at_m);
                lowest = fmin(lowest, in->hang->origin_m[b].z + at.z);
            }
        }
    }
    return lowest;
}

static void clearance(const bk_check_input *in, bk_findings *out, const size_t *load, size_t line)
{
    const bk_plan *plan = in->plan;
    const bk_hoist *hoist = &plan->hoists[plan->lines[line].hoist];
    if (isnan(hoist->clear_m)) return;
    bk_finding finding =
        finding_of(in, hoist, "hoist.clearance", "height to clear against the load's at the upper limit", BK_DIM_LENGTH);
    const double floor_m = isnan(plan->floor_m) ? 0 : plan->floor_m;
    if (isnan(plan->floor_m))
        bk_findings_assume(out, "Hoist %s: the floor's height is not stated; what the load must clear is measured from z = 0.",
                           hoist->name);
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, z_low, lowest_of(in, load, line) - floor_m, LENGTH,
             "lowest of the load's named points, origin and centre of gravity, over the floor");
    BK_GIVEN(w, L, hook_below_suspension(in, out, line), LENGTH, "suspension to hook, as the rig hangs");
    BK_GIVEN(w, headroom, hoist->headroom_m, LENGTH, hoist->source);
    BK_CALC(w, z_top, z_low + L - headroom, LENGTH, "raised to the upper limit");
    BK_GIVEN(w, over, hoist->clear_over_m, LENGTH, "what it must pass over");
    BK_GIVEN(w, clear, hoist->clear_m, LENGTH, "by how much");
    BK_CALC(w, z_needed, over + clear, LENGTH, "height to clear");
    finding.demand = z_needed;
    finding.limit = z_top; /* not checked without a headroom */
    finding.source = "the plan";
    finding.mark = BK_MARK_USER;
    finding.working = w;
    finding.note = isnan(hoist->headroom_m) ? "needs the hoist's headroom"
                                            : "from the load's named points: name its lowest one";
    bk_findings_add(out, finding);
}

/* A hoist that hangs free turns into the pull; one that is fixed to a trolley is pulled sideways. */
static void side_pull(const bk_check_input *in, bk_findings *out, size_t line)
{
    const bk_plan *plan = in->plan;
    const bk_end upper = bk_rig_upper_end(in, line);
    if (upper.kind != BK_END_ANCHOR || plan->anchors[upper.index].trolley == BK_NONE) return;
    const bk_hoist *hoist = &plan->hoists[plan->lines[line].hoist];
    bk_finding finding = finding_of(in, hoist, "hoist.side_pull", "chain off the vertical under a trolley", BK_DIM_ANGLE);
    finding.limit = bk_rig_rule(in, "hoist.side_pull", BK_DIM_ANGLE, &finding.mark, &finding.source);
    finding.demand = in->envelope->from_vertical_max[line].value;
    finding.nominal_demand = in->hang->from_vertical_rad[line];
    finding.where = finding.demand > finding.nominal_demand ? in->envelope->from_vertical_max[line].say : NULL;
    bk_findings_add(out, finding);
}

static void wind(const bk_check_input *in, bk_findings *out, size_t b)
{
    const bk_plan *plan = in->plan;
    const bk_body *body = &plan->bodies[b];
    if (isnan(plan->wind.speed_m_s) && isnan(plan->wind.pressure_Pa)) return;
    if (!(body->wind_area_m2 > 0)) {
        bk_findings_assume(out, "Body %s: its wind area is not stated, so the wind does not act on it here.", body->name);
        return;
    }
    if (isnan(plan->wind.from_rad))
        bk_findings_assume(out, "Wind from any direction is taken along x and along y at once, together up to 1.41 times the wind: the safe "
                                "side. `from` states a direction.");
    bk_finding finding = {.check = "body.wind", .item = body->name, .what = "wind speed against the speed allowed",
                          .dim = BK_DIM_SPEED, .nominal_demand = NAN, .rule = in->rules->name, .mark = BK_MARK_PUBLISHED};
    const char *air = "rule set", *drag = "stated in the plan", *area = air, *speed = air;
    const double half_density = bk_rig_rule(in, "wind.half_air_density", BK_DIM_DENSITY, &finding.mark, &air);
    const double C = isnan(body->drag) ? bk_rig_rule(in, "wind.drag", BK_DIM_NONE, &finding.mark, &drag) : body->drag;
    const double by_mass = bk_rig_rule(in, "wind.load_area", BK_DIM(-1, 2, 0, 0, 0), &finding.mark, &area);
    const double design = bk_rig_rule(in, "wind.in_service.speed", BK_DIM_SPEED, &finding.mark, &speed);
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, half_rho, half_density, DENSITY, air);
    BK_GIVEN(w, v, isnan(plan->wind.speed_m_s) ? sqrt(plan->wind.pressure_Pa / half_density) : plan->wind.speed_m_s,
             SPEED, "wind of the plan");
    BK_CALC(w, p, half_rho * v * v, STRESS, "wind pressure");
    BK_GIVEN(w, A, body->wind_area_m2, AREA, "stated in the plan");
    BK_GIVEN(w, C_d, C, NONE, drag);
    BK_CALC(w, F, p * C_d * A, FORCE, "wind force");
    BK_GIVEN(w, m, body->mass_kg.v - body->mass_kg.tol, MASS, "the lightest it may be");
    BK_GIVEN(w, g, BK_STANDARD_GRAVITY_M_PER_S2, ACCELERATION, "standard gravity, 3rd CGPM, 1901");
    BK_CALC(w, swing, atan(F / (m * g)), ANGLE, "the load hangs this far off the vertical");
    BK_GIVEN(w, v_design, design, SPEED, speed);
    BK_GIVEN(w, A_allowed, by_mass * m, AREA, area);
    BK_CALC(w, v_allowed, v_design * fmin(1, sqrt(A_allowed / (C_d * A))), SPEED, "falls for a load large for its mass");
    char swings[64], pushes[64];
    bk_quantity_print(swings, sizeof swings, swing, BK_DIM_ANGLE, plan->units, BK_TOLD_DIGITS);
    bk_quantity_print(pushes, sizeof pushes, F, BK_DIM_FORCE, plan->units, BK_TOLD_DIGITS);
    finding.demand = v;
    finding.limit = v_allowed;
    finding.source = area;
    finding.working = w;
    finding.note = bk_arena_printf(out->arena, "the wind pushes it with %s and holds it %s off the vertical", pushes, swings);
    if (!finding.note) out->failed = true;
    bk_findings_add(out, finding);
}

bk_status bk_check_suspended(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    const bk_plan *plan = in->plan;
    if (!in->hang) return BK_OK;
    size_t *load = loads_of_lines(in, out->arena);
    if (!load) return bk_fail(errors, (bk_place){plan->file, 0, 0}, BK_E_NOMEM, "out of memory in the checks");
    for (size_t l = 0; l < plan->n_lines; l++) {
        if (load[l] != BK_NONE) several_hooks(in, out, load, l);
        if (plan->lines[l].hoist == BK_NONE) continue;
        several(in, out, load, l);
        travel(in, out, l);
        clearance(in, out, load, l);
        side_pull(in, out, l);
    }
    for (size_t b = 0; b < plan->n_bodies; b++) wind(in, out, b);
    return BK_OK;
}
