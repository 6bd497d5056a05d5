/* assessment: plan in, everything out.
 *
 *     plan -> rig as it hangs -> worst within tolerances -> hoists -> runways -> checks -> verdict
 *
 * What hoists and trolleys add above the hook is in loads.c.
 */
#include "loads.h"

#include <stdlib.h>
#include <string.h>

const char *bk_verdict_text(bk_verdict verdict)
{
    static const char *const text[] = {"pass", "fail", "incomplete"};
    return text[verdict];
}

#define PROOF_MOVES 100 /* small moves of the balance that must not lower its energy */

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

/* ---- verdict ----------------------------------------------------------------------------------- */

static void judge(bk_assessment *a)
{
    const bk_findings *f = a->findings;
    a->governing = BK_NONE;
    a->verdict = BK_VERDICT_PASS;
    bool incomplete = f->n == 0, failed = false;
    for (size_t i = 0; i < f->n; i++) {
        a->n_checked += f->at[i].checked;
        a->n_memory += f->at[i].checked && f->at[i].mark == BK_MARK_MEMORY;
        a->n_demo += f->at[i].checked && f->at[i].mark == BK_MARK_DEMO;
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
    /* no figure leaves here from a state that does not prove itself, whatever the solver says of it */
    if (status == BK_OK) status = bk_statics_prove(plan, NULL, a->hang, PROOF_MOVES);
    if (status == BK_E_UNHELD || status == BK_E_UNSTABLE || status == BK_E_NO_CONVERGE) {
        bk_place where = place;
        if (a->hang->unstable_body < plan->n_bodies) where = plan->bodies[a->hang->unstable_body].place;
        else if (a->hang->unstable_ring < plan->n_rings) where = plan->rings[a->hang->unstable_ring].place;
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
    e->tension_max = BK_NEW(a->arena, bk_extreme, plan->n_lines);
    e->tension_min = BK_NEW(a->arena, bk_extreme, plan->n_lines);
    e->from_vertical_max = BK_NEW(a->arena, bk_extreme, plan->n_lines);
    e->anchor_max = BK_NEW(a->arena, bk_extreme, plan->n_anchors);
    e->anchor_horizontal_max = BK_NEW(a->arena, bk_extreme, plan->n_anchors);
    e->ring_max = BK_NEW(a->arena, bk_extreme, plan->n_rings);
    e->tilt_max = BK_NEW(a->arena, bk_extreme, plan->n_bodies);
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

    double *line_dynamic = BK_NEW(a->arena, double, plan->n_lines), *line_stalled = BK_NEW(a->arena, double, plan->n_lines);
    a->hoists = BK_NEW(a->arena, bk_hoist_forces, plan->n_hoists);
    a->duties = BK_NEW(a->arena, bk_hoist_duty, plan->n_hoists);
    a->hoist_workings = BK_NEW(a->arena, bk_working *, plan->n_hoists);
    a->runways = BK_NEW(a->arena, bk_runway_result, plan->n_runways);
    bk_runway_result *worst_runways = BK_NEW(a->arena, bk_runway_result, plan->n_runways);
    if (!line_dynamic || !line_stalled || !a->hoists || !a->duties || !a->hoist_workings || !a->runways || !worst_runways)
        return bk_fail(errors, place, BK_E_NOMEM, "out of memory");
    status = bk_loads_of_hoists(a, errors);
    if (status != BK_OK) return status;
    if (bk_loads_above_hooks(a, line_dynamic, line_stalled) != BK_OK) return bk_fail(errors, place, BK_E_NOMEM, "out of memory");

    const bool worse = !options->no_envelope && bk_loads_worsen(a);
    for (size_t r = 0; r < plan->n_runways; r++) {
        status = bk_loads_on_runway(a, r, false, &a->runways[r], errors);
        if (status == BK_OK && worse) status = bk_loads_on_runway(a, r, true, &worst_runways[r], errors);
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
