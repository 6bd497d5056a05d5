/* loads: what hoists carry, and what the building sees above their hooks and under their trolleys.
 *
 * Above a hoist's hook the building sees the larger of the dynamic and the stalled case.  Which lines are above:
 * take the hoists' own lines away, and what is still joined to the upper end of a hoist's line is above it.  A line of a
 * hoist that hangs below another hoist's hook does not raise the upper one's own line.
 */
#include "loads.h"

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

bk_status bk_loads_of_hoists(bk_assessment *a, bk_errors *errors)
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

/* Dynamic over static suspension of a hoist under the heaviest that its line pulls within the tolerances: what is added
 * moves with the hook, so that the ratio grows with it. */
static double dynamic_over_static(const bk_assessment *a, size_t line)
{
    const bk_hoist_forces *forces = &a->hoists[a->plan->lines[line].hoist];
    if (!(forces->static_N > 0)) return 1;
    const double more_N = fmax(0, a->envelope->tension_max[line].value - a->hang->tension_N[line]);
    const double phi = forces->dynamic_factor + a->plan->dynamic_factor.tol;
    return fmax(1, (forces->dynamic_N + phi * more_N) / (forces->static_N + more_N));
}

/* Both are the greater of the two; whether one was not. */
static bool made_alike(double *a, double *b)
{
    const bool unlike = *a != *b;
    *a = *b = fmax(*a, *b);
    return unlike;
}

bk_status bk_loads_above_hooks(bk_assessment *a, double *dynamic, double *stalled)
{
    const bk_plan *plan = a->plan;
    const size_t n = plan->n_bodies + plan->n_rings + plan->n_anchors;
    double *node = BK_NEW(a->arena, double, 4 * n), *node_stalled = node ? node + n : NULL;
    if (!node) return BK_E_NOMEM;
    find_stalled(a, stalled, node + 2 * n, node + 3 * n);
    for (size_t i = 0; i < n; i++) node[i] = 1;
    for (size_t l = 0; l < plan->n_lines; l++) {
        dynamic[l] = 1;
        if (plan->lines[l].hoist == BK_NONE) continue;
        const bk_end upper = upper_end(&plan->lines[l]);
        dynamic[l] = dynamic_over_static(a, l);
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
            for (size_t e = 0; e < 2; e++) {
                if (ends[e].kind == BK_END_ANCHOR) continue;
                const size_t at = node_of(plan, ends[e]);
                if (made_alike(&node[at], &dynamic[l])) changed = true;
                if (made_alike(&node_stalled[at], &stalled[l])) changed = true;
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

bk_status bk_loads_on_runway(bk_assessment *a, size_t r, bool worst, bk_runway_result *out, bk_errors *errors)
{
    const bk_runway *runway = &a->plan->runways[r];
    const size_t n = runway->n_trolleys;
    double *store = BK_NEW(a->arena, double, 5 * n);
    trolley_load *loads = BK_NEW(a->arena, trolley_load, n);
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

bool bk_loads_worsen(const bk_assessment *a)
{
    bool worsen = a->plan->dynamic_factor.tol > 0;
    for (size_t i = 0; a->has_rig && i < a->plan->n_anchors; i++)
        worsen = worsen || (a->plan->anchors[i].trolley != BK_NONE &&
                            a->envelope->anchor_max[i].value > bk_vec3_norm(a->hang->anchor_N[i]));
    return worsen;
}
