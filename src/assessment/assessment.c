/* assessment: plan in, everything out.
 *
 *     plan -> rig as it hangs -> worst within tolerances -> hoists -> runways -> checks -> verdict
 *
 * Above a hoist's hook the building sees the larger of the dynamic and the stalled case.  Which lines are above:
 * take the hoists' own lines away, and what is still joined to the upper end of a hoist's line is above it.
 */
#include <becket/assessment.h>

#include <stdlib.h>
#include <string.h>

const char *bk_verdict_text(bk_verdict verdict)
{
    static const char *const text[] = {"pass", "fail", "incomplete"};
    return text[verdict];
}

static const char *const cautions[] = {
    "This sheet is arithmetic on what the plan states. The tag on the gear, the maker's instructions, local codes and a "
    "qualified person decide; none of them is replaced by a passing figure.",
    "Weigh the load, or know where its mass and centre of gravity come from. Include contents, water, packing and every "
    "piece of gear below the hook.",
    "The hook must stand over the centre of gravity, and above it. Lift a hand's breadth first and stop; set down "
    "whatever tilts, slides or leaves a leg slack.",
    "A leg flatter than 45 degrees from the horizontal pulls far harder than it lifts, and squeezes the load; flatter "
    "than 30 degrees is not to be used.",
    "Gear past a discard limit has no capacity at all, whatever its tag says: inspect before each use.",
    "Snatching, swinging, side pull, wind and a load that sticks add force that is not here unless the sheet says so. A "
    "load limiter protects; it is no scale.",
    "The structure above is checked only as far as this sheet says. Connections, supports and the building behind them "
    "need their own proof.",
    "Nobody stands under the load. Lifting people is not covered.",
};

/* ---- hoists ------------------------------------------------------------------------------------ */

static bk_end upper_end(const bk_line *line)
{
    return line->upper_is_from ? line->from : line->to;
}

/* What a line puts on what holds it (N), hoist and chain in. */
static double upper_pull(const bk_plan *plan, const bk_hang *hang, size_t line)
{
    return bk_vec3_norm(plan->lines[line].upper_is_from ? hang->pull_from_N[line] : hang->pull_to_N[line]);
}

/* What hangs on the hook of a hoist's line (N), the block's own weight left out. */
static double hook_pull(const bk_plan *plan, const bk_hang *hang, size_t line)
{
    return bk_vec3_norm(plan->lines[line].upper_is_from ? hang->pull_to_N[line] : hang->pull_from_N[line]);
}

/* Stiffness at the hook (N/m) of the hoist's own line; what lies below or above makes it softer, which is kinder. */
static double hook_stiffness(const bk_line *line)
{
    return line->ea_assumed ? (double)NAN : line->ea_N / line->length_m.v;
}

static bool loads_known(const bk_plan *plan, size_t hoist, const bk_hang *hang, double *load_N, double *stiffness)
{
    *load_N = NAN;
    *stiffness = NAN;
    for (size_t l = 0; hang && l < plan->n_lines; l++) {
        if (plan->lines[l].hoist != hoist) continue;
        const double pull = hook_pull(plan, hang, l);
        if (isnan(*load_N) || pull > *load_N) {
            *load_N = pull;
            *stiffness = hook_stiffness(&plan->lines[l]);
        }
    }
    return isfinite(*load_N);
}

static bool hangs_on_trolley(const bk_plan *plan, size_t trolley)
{
    for (size_t a = 0; a < plan->n_anchors; a++)
        if (plan->anchors[a].trolley == trolley) return true;
    return false;
}

/* Static pull on a hoist that is named by a trolley and not by a line: what the rig hangs on the trolley's anchors, the
 * most of its trolleys; NaN when nothing hangs there. */
static double trolley_pull(const bk_plan *plan, const bk_hang *hang, size_t hoist)
{
    double most = NAN;
    for (size_t t = 0; hang && t < plan->n_trolleys; t++) {
        if (plan->trolleys[t].hoist != hoist) continue;
        double sum = 0;
        bool any = false;
        for (size_t a = 0; a < plan->n_anchors; a++)
            if (plan->anchors[a].trolley == t) sum -= hang->anchor_N[a].z, any = true;
        if (any) most = fmax(most, sum); /* fmax passes NaN over */
    }
    return most;
}

static bk_status find_hoists(bk_assessment *a, bk_errors *errors)
{
    const bk_plan *plan = a->plan;
    for (size_t h = 0; h < plan->n_hoists; h++) {
        double load_N, stiffness;
        if (!loads_known(plan, h, a->hang, &load_N, &stiffness)) {
            load_N = trolley_pull(plan, a->hang, h);
            /* nothing of the plan hangs on it: its rated capacity */
            if (isnan(load_N)) load_N = plan->hoists[h].rated_N;
        }
        a->hoist_workings[h] = bk_findings_working(a->findings);
        bk_status status = bk_hoist_forces_of(plan, &plan->hoists[h], load_N, stiffness, a->hoist_workings[h],
                                              &a->hoists[h], errors);
        if (status != BK_OK) return status;
        status = bk_hoist_duty_of(plan, &plan->hoists[h], a->tables, a->arena, a->hoist_workings[h], &a->duties[h],
                                  errors);
        if (status != BK_OK) return status;
    }
    return BK_OK;
}

static size_t node_of(const bk_plan *plan, bk_end end)
{
    switch (end.kind) {
    case BK_END_POINT: return plan->points[end.index].body;
    case BK_END_RING: return plan->n_bodies + end.index;
    case BK_END_ANCHOR: break;
    }
    return plan->n_bodies + plan->n_rings + end.index;
}

/* What a hoist's line pulls when its limiter holds, over what it pulls at rest: a sum over the hoists of a ring or an
 * anchor, where their pulls meet; of a body the greatest of its hoists, as any of its lines may stand over that one. */
static void find_stalled(const bk_assessment *a, double *stalled, double *sum_stalled, double *sum_pull)
{
    const bk_plan *plan = a->plan;
    for (size_t l = 0; l < plan->n_lines; l++) {
        if (plan->lines[l].hoist == BK_NONE) continue;
        const size_t at = node_of(plan, upper_end(&plan->lines[l]));
        const double pull_N = upper_pull(plan, a->hang, l), stalled_N = a->hoists[plan->lines[l].hoist].stalled_N;
        sum_stalled[at] += fmax(stalled_N, pull_N); /* without a limiter its pull at rest */
        sum_pull[at] += pull_N;
        if (pull_N > 0) stalled[l] = fmax(stalled_N, pull_N) / pull_N;
    }
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_end upper = upper_end(&plan->lines[l]);
        const size_t at = node_of(plan, upper);
        if (plan->lines[l].hoist != BK_NONE && upper.kind != BK_END_POINT && sum_pull[at] > 0)
            stalled[l] = sum_stalled[at] / sum_pull[at];
    }
}

/* Raises every line joined to the upper end of a hoist's line by lines that hold no hoist. */
static bk_status find_line_factors(bk_assessment *a, double *dynamic, double *stalled)
{
    const bk_plan *plan = a->plan;
    const size_t n = plan->n_bodies + plan->n_rings + plan->n_anchors;
    double *node = BK_NEW(a->arena, double, 4 * n + 1), *node_stalled = node ? node + n : NULL;
    if (!node) return BK_E_NOMEM;
    find_stalled(a, stalled, node + 2 * n, node + 3 * n);
    for (size_t i = 0; i < n; i++) node[i] = 1;
    for (size_t l = 0; l < plan->n_lines; l++) {
        dynamic[l] = 1;
        if (plan->lines[l].hoist == BK_NONE) continue;
        const bk_hoist_forces *forces = &a->hoists[plan->lines[l].hoist];
        const bk_end upper = upper_end(&plan->lines[l]);
        if (forces->static_N > 0) dynamic[l] = fmax(1, forces->dynamic_N / forces->static_N);
        if (upper.kind == BK_END_ANCHOR) continue;
        node[node_of(plan, upper)] = fmax(node[node_of(plan, upper)], dynamic[l]);
        node_stalled[node_of(plan, upper)] = fmax(node_stalled[node_of(plan, upper)], stalled[l]);
    }
    /* spread along lines without a hoist; anchors do not pass it on */
    for (bool changed = true; changed;) {
        changed = false;
        for (size_t l = 0; l < plan->n_lines; l++) {
            if (plan->lines[l].hoist != BK_NONE) continue;
            const bk_end ends[] = {plan->lines[l].from, plan->lines[l].to};
            for (size_t pass = 0; pass < 2; pass++)
                for (size_t e = 0; e < 2; e++) {
                    if (ends[e].kind == BK_END_ANCHOR) continue;
                    const size_t at = node_of(plan, ends[e]);
                    if (node[at] > dynamic[l]) dynamic[l] = node[at], changed = true;
                    if (node[at] < dynamic[l]) node[at] = dynamic[l], changed = true;
                    if (node_stalled[at] > stalled[l]) stalled[l] = node_stalled[at], changed = true;
                    if (node_stalled[at] < stalled[l]) node_stalled[at] = stalled[l], changed = true;
                }
        }
    }
    return BK_OK;
}

/* ---- runways ----------------------------------------------------------------------------------- */

/* What one trolley puts on the beam. */
typedef struct trolley_load {
    double hook_N;    /* what moves with its hooks: the dynamic factor multiplies it */
    double still_N;   /* everything else: trolley, hoist, chain */
    double empty_N;   /* trolley and hoist alone */
    double limited_N; /* of hook_N, what hangs on hooks whose limiter holds */
    double limit_N;   /* greatest pull that those limiters allow; NaN without one */
    double factor;
    const char *by;
} trolley_load;

/* A hoist's own weight with its chain, and its limiter.  Hung body down it climbs with the load. */
static void add_hoist(const bk_assessment *a, trolley_load *load, size_t hoist)
{
    const bk_hoist_forces *f = &a->hoists[hoist];
    *(a->plan->hoists[hoist].hung == BK_BODY_DOWN ? &load->hook_N : &load->still_N) += f->self_N + f->chain_N;
    load->empty_N += f->self_N + f->chain_N + f->hook_block_N;
    if (!load->by || f->dynamic_factor > load->factor) load->factor = f->dynamic_factor, load->by = f->dynamic_by;
    if (isfinite(f->force_limit_N)) load->limit_N = (isfinite(load->limit_N) ? load->limit_N : 0) + f->force_limit_N;
}

static bool is_anchor(bk_end end, size_t anchor)
{
    return end.kind == BK_END_ANCHOR && end.index == anchor;
}

/* What hangs from an anchor on the trolley.  Within the tolerances the whole of its pull may turn plumb. */
static void add_anchor(const bk_assessment *a, bool worst, size_t anchor, trolley_load *load)
{
    const bk_plan *plan = a->plan;
    double pull_N = -a->hang->anchor_N[anchor].z, of_hoists_N = 0, limited_N = 0;
    bool all_limited = true;
    if (worst) pull_N = fmax(pull_N, a->envelope->anchor_max[anchor].value);
    for (size_t l = 0; l < plan->n_lines; l++) {
        const bk_line *line = &plan->lines[l];
        if (!is_anchor(line->from, anchor) && !is_anchor(line->to, anchor)) continue;
        if (line->hoist == BK_NONE || !is_anchor(upper_end(line), anchor)) {
            all_limited = false;
            continue;
        }
        const bk_hoist_forces *f = &a->hoists[line->hoist];
        add_hoist(a, load, line->hoist);
        of_hoists_N += f->self_N + f->chain_N;
        if (isfinite(f->force_limit_N))
            limited_N += upper_pull(plan, a->hang, l) - f->self_N - f->chain_N;
        else
            all_limited = false;
    }
    load->hook_N += pull_N - of_hoists_N;
    load->limited_N += all_limited ? pull_N - of_hoists_N : limited_N;
}

/* What multiplies a load on a trolley without a hoist. */
static bk_status plain_factor(const bk_plan *plan, const bk_trolley *trolley, trolley_load *load, bk_errors *errors)
{
    const bk_rule *rule = bk_rules_number(plan->rules, "dynamic.no_hoist", BK_DIM_NONE);
    const bool stated = isfinite(plan->dynamic_factor.v);
    if (!stated && !rule)
        return bk_fail(errors, trolley->place, BK_E_RULE, "rule set %s has no number dynamic.no_hoist, which trolley %s needs",
                       plan->rules->name, trolley->name);
    load->factor = stated ? plan->dynamic_factor.v : rule->value;
    load->by = stated ? "the plan" : rule->source;
    return BK_OK;
}

/* What hangs from the trolley's anchors, else its hoist at rated capacity, else a plain load. */
static bk_status load_of(const bk_assessment *a, bool worst, size_t t, trolley_load *load, bk_errors *errors)
{
    const bk_plan *plan = a->plan;
    const bk_trolley *trolley = &plan->trolleys[t];
    const double own_N = trolley->mass_kg * BK_STANDARD_GRAVITY_M_PER_S2;
    *load = (trolley_load){.still_N = own_N, .empty_N = own_N, .limit_N = NAN, .factor = 1};

    bool own_hoist_hangs = false;
    if (a->hang && hangs_on_trolley(plan, t)) {
        for (size_t i = 0; i < plan->n_anchors; i++)
            if (plan->anchors[i].trolley == t) add_anchor(a, worst, i, load);
        for (size_t l = 0; l < plan->n_lines; l++) {
            const bk_end upper = upper_end(&plan->lines[l]);
            own_hoist_hangs = own_hoist_hangs || (plan->lines[l].hoist == trolley->hoist && upper.kind == BK_END_ANCHOR &&
                                                  plan->anchors[upper.index].trolley == t);
        }
    } else {
        load->hook_N = trolley->hoist != BK_NONE ? plan->hoists[trolley->hoist].rated_N : trolley->load_N;
    }
    if (trolley->hoist != BK_NONE && !own_hoist_hangs) {
        const bk_hoist_forces *f = &a->hoists[trolley->hoist];
        load->hook_N += f->hook_block_N; /* a line's is in the rig already */
        if (isfinite(f->force_limit_N)) load->limited_N = load->hook_N;
        add_hoist(a, load, trolley->hoist);
    }
    const bk_status status = load->by ? BK_OK : plain_factor(plan, trolley, load, errors);
    if (worst) load->factor += plan->dynamic_factor.tol;
    return status;
}

/* One dynamic factor serves a runway: the greatest of its trolleys. */
static bk_status solve_runway(bk_assessment *a, size_t r, bool worst, bk_runway_result *out, bk_errors *errors)
{
    const bk_runway *runway = &a->plan->runways[r];
    const size_t n = runway->n_trolleys;
    double *store = BK_NEW(a->arena, double, 5 * (n + 1));
    trolley_load *loads = BK_NEW(a->arena, trolley_load, n + 1);
    if (!store || !loads) return bk_fail(errors, runway->place, BK_E_NOMEM, "out of memory");
    double *fixed = store, *dynamic = fixed + n, *stalled = dynamic + n, *empty = stalled + n, *payload = empty + n;
    double factor = 1;
    const char *by = NULL;
    for (size_t i = 0; i < n; i++) {
        const bk_status status = load_of(a, worst, runway->first_trolley + i, &loads[i], errors);
        if (status != BK_OK) return status;
        if (!by || loads[i].factor > factor) factor = loads[i].factor, by = loads[i].by;
    }
    for (size_t i = 0; i < n; i++) {
        const trolley_load *load = &loads[i];
        fixed[i] = load->still_N + load->hook_N;
        dynamic[i] = load->still_N + factor * load->hook_N;
        stalled[i] = load->still_N + load->hook_N - load->limited_N + load->limit_N;
        empty[i] = load->empty_N;
        payload[i] = load->hook_N;
    }
    const bk_trolley_forces forces = {fixed, dynamic, stalled, empty, payload, factor, by ? by : "no trolley"};
    return bk_runway_solve(a->plan, r, &forces, a->arena, out, errors);
}

/* Do tolerances of the plan make what stands on a runway worse? */
static bool runways_worsen(const bk_assessment *a)
{
    bool worsen = a->plan->dynamic_factor.tol > 0;
    for (size_t i = 0; a->has_rig && i < a->plan->n_anchors; i++)
        worsen = worsen || (a->plan->anchors[i].trolley != BK_NONE &&
                            a->envelope->anchor_max[i].value > bk_vec3_norm(a->hang->anchor_N[i]));
    return worsen;
}

/* ---- verdict ----------------------------------------------------------------------------------- */

static void judge(bk_assessment *a)
{
    const bk_findings *f = a->findings;
    a->governing = BK_NONE;
    a->verdict = BK_VERDICT_PASS;
    bool incomplete = f->n == 0, failed = false;
    for (size_t i = 0; i < f->n; i++) {
        if (!f->at[i].checked) incomplete = true;
        else if (!f->at[i].passes) failed = true;
        if (f->at[i].setting && f->at[i].passes) continue;
        if (f->at[i].checked && (a->governing == BK_NONE || f->at[i].utilisation > f->at[a->governing].utilisation))
            a->governing = i;
    }
    if (failed) a->verdict = BK_VERDICT_FAIL;
    else if (incomplete) a->verdict = BK_VERDICT_INCOMPLETE;
}

/* ---- the whole --------------------------------------------------------------------------------- */

/* The folder a plan stands in, for tables beside it; "." for a bare name, NULL for standard input. */
static const char *folder_of(bk_arena *arena, const char *path)
{
    if (strcmp(path, "-") == 0) return NULL;
    const char *slash = strrchr(path, '/');
    if (!slash) return ".";
    return slash == path ? "/" : bk_arena_strndup(arena, path, (size_t)(slash - path));
}

static bk_tables *open_tables(bk_assessment *a, const char *path, const bk_options *options)
{
    const size_t room = options->n_table_dirs + options->n_shipped_dirs + 2;
    const char **dirs = BK_NEW(a->arena, const char *, room);
    if (!dirs) return NULL;
    size_t n = 0;
    for (size_t i = 0; i < options->n_table_dirs; i++) dirs[n++] = options->table_dirs[i];
    const char *folder = folder_of(a->arena, path);
    if (folder) dirs[n++] = folder;
    if (options->config_dir) dirs[n++] = options->config_dir;
    const size_t shipped_from = n;
    for (size_t i = 0; i < options->n_shipped_dirs; i++) dirs[n++] = options->shipped_dirs[i];
    return bk_tables_new(dirs, n, shipped_from);
}

static bk_status rig(bk_assessment *a, const bk_options *options, bk_errors *errors)
{
    const bk_plan *plan = a->plan;
    const bk_place place = {plan->file, 0, 0};
    a->has_rig = plan->n_lines > 0 || plan->n_bodies > 0;
    if (!a->has_rig) return BK_OK;
    bk_statics *statics = bk_statics_new(plan);
    a->hang = bk_hang_new(a->arena, plan);
    if (!statics || !a->hang) {
        bk_statics_free(statics);
        return bk_fail(errors, place, BK_E_NOMEM, "out of memory while solving the rig");
    }
    bk_status status = bk_statics_solve(statics, NULL, NULL, a->hang);
    if (status == BK_E_UNHELD || status == BK_E_UNSTABLE || status == BK_E_NO_CONVERGE) {
        bk_place where = place;
        if (a->hang->unstable_body < plan->n_bodies) where = plan->bodies[a->hang->unstable_body].place;
        status = bk_fail(errors, where, status, "%s", a->hang->why ? a->hang->why : "no balance was found");
    } else if (status != BK_OK) {
        status = bk_fail(errors, place, status, "out of memory while solving the rig");
    }
    if (status == BK_OK && !options->no_envelope) {
        status = bk_envelope_find(statics, plan, a->hang, a->arena, &a->envelope);
        if (status != BK_OK) status = bk_fail(errors, place, status, "out of memory while looking for the worst case");
    }
    bk_statics_free(statics);
    return status;
}

/* The plan without tolerances: every extreme is the nominal figure. */
static bk_status nominal_envelope(bk_assessment *a)
{
    const bk_plan *plan = a->plan;
    const bk_hang *hang = a->hang;
    bk_envelope *e = BK_NEW(a->arena, bk_envelope, 1);
    if (!e) return BK_E_NOMEM;
    e->tension_max = BK_NEW(a->arena, bk_extreme, plan->n_lines + 1);
    e->tension_min = BK_NEW(a->arena, bk_extreme, plan->n_lines + 1);
    e->from_vertical_max = BK_NEW(a->arena, bk_extreme, plan->n_lines + 1);
    e->anchor_max = BK_NEW(a->arena, bk_extreme, plan->n_anchors + 1);
    e->anchor_horizontal_max = BK_NEW(a->arena, bk_extreme, plan->n_anchors + 1);
    e->ring_max = BK_NEW(a->arena, bk_extreme, plan->n_rings + 1);
    e->tilt_max = BK_NEW(a->arena, bk_extreme, plan->n_bodies + 1);
    if (!e->tension_max || !e->tension_min || !e->from_vertical_max || !e->anchor_max || !e->anchor_horizontal_max ||
        !e->ring_max || !e->tilt_max)
        return BK_E_NOMEM;
    for (size_t i = 0; i < plan->n_lines; i++) {
        e->tension_max[i].value = e->tension_min[i].value = hang->tension_N[i];
        e->from_vertical_max[i].value = hang->from_vertical_rad[i];
    }
    for (size_t i = 0; i < plan->n_anchors; i++) {
        e->anchor_max[i].value = bk_vec3_norm(hang->anchor_N[i]);
        e->anchor_horizontal_max[i].value = hypot(hang->anchor_N[i].x, hang->anchor_N[i].y);
    }
    for (size_t i = 0; i < plan->n_rings; i++) e->ring_max[i].value = bk_ring_load(plan, hang, i);
    for (size_t i = 0; i < plan->n_bodies; i++) e->tilt_max[i].value = hang->tilt_rad[i];
    a->envelope = e;
    return BK_OK;
}

static bk_status assess(bk_assessment *a, const bk_options *options, bk_errors *errors)
{
    const bk_plan *plan = a->plan;
    const bk_place place = {plan->file, 0, 0};
    bk_status status = rig(a, options, errors);
    if (status != BK_OK) return status;
    if (a->has_rig && !a->envelope && nominal_envelope(a) != BK_OK)
        return bk_fail(errors, place, BK_E_NOMEM, "out of memory");

    double *line_dynamic = BK_NEW(a->arena, double, plan->n_lines + 1), *line_stalled = BK_NEW(a->arena, double, plan->n_lines + 1);
    a->hoists = BK_NEW(a->arena, bk_hoist_forces, plan->n_hoists + 1);
    a->duties = BK_NEW(a->arena, bk_hoist_duty, plan->n_hoists + 1);
    a->hoist_workings = BK_NEW(a->arena, bk_working *, plan->n_hoists + 1);
    a->runways = BK_NEW(a->arena, bk_runway_result, plan->n_runways + 1);
    bk_runway_result *worst_runways = BK_NEW(a->arena, bk_runway_result, plan->n_runways + 1);
    if (!line_dynamic || !line_stalled || !a->hoists || !a->duties || !a->hoist_workings || !a->runways || !worst_runways)
        return bk_fail(errors, place, BK_E_NOMEM, "out of memory");
    status = find_hoists(a, errors);
    if (status != BK_OK) return status;
    if (find_line_factors(a, line_dynamic, line_stalled) != BK_OK) return bk_fail(errors, place, BK_E_NOMEM, "out of memory");

    const bool worse = !options->no_envelope && runways_worsen(a);
    for (size_t r = 0; r < plan->n_runways; r++) {
        status = solve_runway(a, r, false, &a->runways[r], errors);
        if (status == BK_OK && worse) status = solve_runway(a, r, true, &worst_runways[r], errors);
        if (status != BK_OK) return status;
    }
    if (options->no_envelope)
        bk_findings_assume(a->findings, "Tolerances of the plan are left out, as asked: every figure is as drawn.");
    const bk_check_input in = {.plan = plan, .tables = a->tables, .rules = plan->rules, .hang = a->hang,
                               .envelope = a->envelope, .hoists = a->hoists, .duties = a->duties,
                               .runways = worse ? worst_runways : a->runways, .line_dynamic = line_dynamic, .line_stalled = line_stalled};
    status = bk_checks_run(&in, a->findings, errors);
    if (status != BK_OK) return status;
    judge(a);
    return BK_OK;
}

static bk_assessment *new_assessment(const bk_options *options)
{
    bk_arena *arena = bk_arena_new();
    bk_assessment *a = arena ? BK_NEW(arena, bk_assessment, 1) : NULL;
    if (a) a->findings = BK_NEW(arena, bk_findings, 1);
    if (!a || !a->findings) {
        bk_arena_free(arena);
        return NULL;
    }
    a->arena = arena;
    a->findings->arena = arena;
    a->findings->record = options->record;
    a->governing = BK_NONE;
    a->verdict = BK_VERDICT_INCOMPLETE;
    a->cautions = cautions;
    a->n_cautions = sizeof cautions / sizeof *cautions;
    return a;
}

/* Hands on what is worth having, frees the rest. */
static bk_status hand_on(bk_assessment *a, bk_status status, bk_assessment **out)
{
    const bool unstable = (status == BK_E_UNHELD || status == BK_E_UNSTABLE) && a->hang;
    *out = status == BK_OK || unstable ? a : NULL;
    if (!*out) bk_assessment_free(a);
    return status;
}

bk_status bk_assess(const char *path, const bk_options *options, bk_assessment **out, bk_errors *errors)
{
    *out = NULL;
    bk_assessment *a = new_assessment(options);
    if (!a) return bk_fail(errors, (bk_place){path, 0, 0}, BK_E_NOMEM, "out of memory");
    a->tables = a->own_tables = open_tables(a, path, options);
    if (!a->tables) return hand_on(a, bk_fail(errors, (bk_place){path, 0, 0}, BK_E_NOMEM, "out of memory"), out);
    bk_status status = bk_plan_read(path, a->tables, &a->own_plan, errors);
    a->plan = a->own_plan;
    if (status == BK_OK) status = assess(a, options, errors);
    return hand_on(a, status, out);
}

bk_status bk_assess_plan(const bk_plan *plan, bk_tables *tables, const bk_options *options, bk_assessment **out,
                         bk_errors *errors)
{
    *out = NULL;
    bk_assessment *a = new_assessment(options);
    if (!a) return bk_fail(errors, (bk_place){plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    a->tables = tables;
    a->plan = plan;
    return hand_on(a, assess(a, options, errors), out);
}

void bk_assessment_free(bk_assessment *assessment)
{
    if (!assessment) return;
    bk_plan_free(assessment->own_plan);
    bk_tables_free(assessment->own_tables);
    bk_arena_free(assessment->arena);
}
