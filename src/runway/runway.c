/* runway.c: the beams of a plan's runway, and their worst.
 *
 * One runway is analysed as up to four beams that differ in what hangs on the trolleys:
 *     dynamic   dynamic factor in, own weight and standing loads in; what the results report
 *     stalled   the hoists' limiter forces instead, where they are greater
 *     service   no dynamic factor: deflection limits
 *     payload   what hangs on the hooks alone, no own weight: limits on the payload's share
 * A trolley of 4 wheels stands on two wheel lines a wheel base apart, one of 2 wheels on one; without a
 * wheel base all wheels stand on one line, which is never the kinder side.
 */
#include <becket/runway.h>

#include <stdio.h>
#include <string.h>

#define NIL_SHARE 1e-12 /* of the greatest moment: less is rounding */

static double or_zero(double value)
{
    return isfinite(value) ? value : 0;
}

static bk_status new_beam(const bk_plan *plan, const bk_runway *runway, const bk_section *section,
                          double E_Pa, bk_arena *arena, bk_beam *beam)
{
    bk_beam_support *supports = BK_NEW(arena, bk_beam_support, runway->n_supports);
    bk_beam_load *loads = BK_NEW(arena, bk_beam_load, runway->n_loads);
    if (!supports || !loads) return BK_E_NOMEM;
    for (size_t i = 0; i < runway->n_supports; i++) {
        const bk_support *from = &plan->supports[runway->first_support + i];
        supports[i] = (bk_beam_support){from->at_m, from->fixed, INFINITY, 0};
    }
    for (size_t i = 0; i < runway->n_loads; i++) {
        const bk_standing_load *from = &plan->standing[runway->first_load + i];
        loads[i] = (bk_beam_load){from->from_m, isfinite(from->to_m) ? from->to_m : from->from_m,
                                  or_zero(from->force_N), or_zero(from->per_metre_N_m)};
    }
    *beam = (bk_beam){.from_m = runway->from_m,
                      .to_m = runway->to_m,
                      .EI_Nm2 = E_Pa * section->Iy_m4,
                      .self_N_m =
                          runway->self_weight ? section->mass_per_m_kg_m * BK_STANDARD_GRAVITY_M_PER_S2 : 0,
                      .n_supports = runway->n_supports,
                      .n_loads = runway->n_loads,
                      .n_trains = runway->n_trolleys,
                      .supports = supports,
                      .loads = loads};
    return BK_OK;
}

/* From the middle of a trolley to its wheel lines; 0: all wheels on one line. */
static double half_base(const bk_trolley *t)
{
    return t->wheels == 4 ? or_zero(t->wheel_base_m) / 2 : 0;
}

/* The same beam under other trolley forces; NULL when memory is out. */
static bk_beam *with_forces(const bk_plan *plan, const bk_runway *runway, const bk_beam *like,
                            const double *loaded_N, const double *empty_N, bk_arena *arena)
{
    bk_beam *beam = BK_NEW(arena, bk_beam, 1);
    bk_beam_train *trains = BK_NEW(arena, bk_beam_train, runway->n_trolleys);
    if (!beam || !trains) return NULL;
    for (size_t i = 0; i < runway->n_trolleys; i++) {
        const bk_trolley *t = &plan->trolleys[runway->first_trolley + i];
        double half = half_base(t);
        trains[i] = (bk_beam_train){.from_m = t->from_m,
                                    .to_m = t->to_m,
                                    .n_lines = half > 0 ? 2 : 1,
                                    .offset_m = {-half, half},
                                    .loaded_N = loaded_N[i],
                                    .empty_N = empty_N ? empty_N[i] : 0};
    }
    *beam = *like;
    beam->trains = trains;
    return beam;
}

static bk_status check_trolleys(const bk_plan *plan, const bk_runway *runway, bk_errors *errors)
{
    for (size_t i = 0; i < runway->n_trolleys; i++) {
        const bk_trolley *t = &plan->trolleys[runway->first_trolley + i];
        if (t->wheels != 2 && t->wheels != 4)
            return bk_fail(errors, t->place, BK_E_VALUE, "trolley %s: want 2 or 4 wheels", t->name);
        double half = half_base(t);
        double slack = 1e-9 * (runway->to_m - runway->from_m);
        if (t->from_m - half < runway->from_m - slack || t->to_m + half > runway->to_m + slack)
            return bk_fail(errors, t->place, BK_E_VALUE,
                           "trolley %s: a wheel runs off the end of %s within its travel", t->name,
                           runway->name);
    }
    return BK_OK;
}

static bk_status find(const bk_beam *beam, const bk_runway *runway, bk_arena *arena, bk_beam_worst *out,
                      bk_errors *errors)
{
    char why[160] = "";
    if (!beam) return bk_fail(errors, runway->place, BK_E_NOMEM, "out of memory");
    bk_status status = bk_beam_find_worst(beam, arena, out, why, sizeof why);
    if (fabs(out->moment_min.value) < NIL_SHARE * out->moment_max.value) out->moment_min.value = 0; /* nothing hogs */
    if (status == BK_OK) return BK_OK;
    return bk_fail(errors, runway->place, status, "runway %s: %s", runway->name,
                   status == BK_E_NOMEM ? bk_status_text(status) : why);
}

static bk_status copy_forces(const bk_trolley_forces *forces, size_t n, bk_arena *arena,
                             bk_runway_result *out)
{
    double *copies[3];
    const double *from[3] = {forces->static_N, forces->dynamic_N, forces->stalled_N};
    for (size_t i = 0; i < 3; i++) {
        copies[i] = BK_NEW(arena, double, n);
        if (!copies[i]) return BK_E_NOMEM;
        if (n > 0) memcpy(copies[i], from[i], n * sizeof *copies[i]);
    }
    out->static_N = copies[0];
    out->dynamic_N = copies[1];
    out->stalled_N = copies[2];
    return BK_OK;
}

/* The larger of dynamic and stalled force of each trolley; NULL when memory is out. */
static double *larger_forces(const bk_trolley_forces *forces, size_t n, bk_arena *arena, bool *any_stalled)
{
    double *larger = BK_NEW(arena, double, n);
    if (!larger) return NULL;
    *any_stalled = false;
    for (size_t i = 0; i < n; i++) {
        bool stalled = forces->stalled_N[i] > forces->dynamic_N[i]; /* false for NaN */
        larger[i] = stalled ? forces->stalled_N[i] : forces->dynamic_N[i];
        *any_stalled = *any_stalled || stalled;
    }
    return larger;
}

bk_status bk_runway_solve(const bk_plan *plan, size_t runway_index, const bk_trolley_forces *forces,
                          bk_arena *arena, bk_runway_result *out, bk_errors *errors)
{
    const bk_runway *runway = &plan->runways[runway_index];
    size_t n = runway->n_trolleys;
    char why[160] = "";
    memset(out, 0, sizeof *out);
    out->dynamic_factor = forces->dynamic_factor;
    out->dynamic_by = forces->dynamic_by;
    out->steel = runway->steel == BK_NONE ? NULL : &plan->steels[runway->steel];
    if (runway->section == BK_NONE)
        return bk_fail(errors, runway->place, BK_E_MISSING_KEY, "runway %s has no section", runway->name);
    const bk_section_in *shape = &plan->sections[runway->section];
    bk_status status = bk_section_of(shape, &out->section, why, sizeof why);
    if (status != BK_OK)
        return bk_fail(errors, shape->place, status, "section of runway %s: %s", runway->name, why);
    status = check_trolleys(plan, runway, errors);
    if (status != BK_OK) return status;
    const bk_rule *E = bk_rules_number(plan->rules, "beam.E", BK_DIM_STRESS);
    if (!E)
        return bk_fail(errors, runway->place, BK_E_RULE,
                       "rule set %s has no stress beam.E, which runway %s needs", plan->rules->name,
                       runway->name);

    bk_beam bare, unloaded;
    bool any_stalled = false;
    double *larger = larger_forces(forces, n, arena, &any_stalled);
    status = larger ? copy_forces(forces, n, arena, out) : BK_E_NOMEM;
    if (status == BK_OK) status = new_beam(plan, runway, &out->section, E->value, arena, &bare);
    if (status != BK_OK) return bk_fail(errors, runway->place, status, "out of memory");
    unloaded = bare;
    unloaded.self_N_m = 0;
    unloaded.n_loads = 0;
    for (size_t i = 0; i < n; i++)
        out->wheel_max_N =
            fmax(out->wheel_max_N, larger[i] / plan->trolleys[runway->first_trolley + i].wheels);

    out->beam = with_forces(plan, runway, &bare, forces->dynamic_N, forces->empty_N, arena);
    status = find(out->beam, runway, arena, &out->worst, errors);
    if (status != BK_OK) return status;
    out->service_beam = with_forces(plan, runway, &bare, forces->static_N, forces->empty_N, arena);
    status = find(out->service_beam, runway, arena, &out->service, errors);
    if (status != BK_OK) return status;
    out->payload_beam = with_forces(plan, runway, &unloaded, forces->payload_N, NULL, arena);
    status = find(out->payload_beam, runway, arena, &out->payload, errors);
    if (status != BK_OK || !any_stalled) return status;
    out->stalled_beam = with_forces(plan, runway, &bare, larger, forces->empty_N, arena);
    return find(out->stalled_beam, runway, arena, &out->stalled, errors);
}
