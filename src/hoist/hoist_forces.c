/* hoist forces: from the load on the hook to the pull on the structure.
 *
 *        building             static    hook load + hoist + chain
 *           |                 dynamic   factor * hook load + hoist + chain
 *      [ hoist body ]         stalled   limiter * (rated + hook block) + hoist + chain
 *           |  chain
 *      [ hook block ]         Dynamic: the load is snatched off the ground, or started in the air.
 *           |                 Stalled: the hook is fast, the motor pulls until the limiter acts.
 *         load                Sudden stop: lowering at full speed, the brake falls in.
 *
 * With the body down the hoist climbs its own chain: the chain carries the hoist too, and the factor
 * acts on all that moves.
 *
 * Invariants: dynamic >= static; suspension is the larger of dynamic and stalled, and dynamic alone
 * where nothing limits the hoist.  Limits: the drive's stall torque, which may cap an indirect
 * limiter's overshoot, is not modelled; the weight of the chain is that of its whole length.
 */
#include "hoist_lookup.h"

#include <stdio.h>
#include <string.h>

static double or_zero(double value)
{
    return isnan(value) ? 0.0 : value;
}

/* The hoisting speed, or what the rule set assumes when it is not stated. */
static bk_status main_speed(const bk_plan *plan, const bk_hoist *hoist, bk_hoist_forces *out,
                            const char **source, bk_errors *errors)
{
    out->speed_m_s = hoist->speed_m_s;
    *source = hoist->source;
    if (!isnan(hoist->speed_m_s))
        return BK_OK;
    const bk_rule *assumed;
    const bk_status status = bk_hoist_rule(plan, hoist, BK_DIM_SPEED, &assumed, errors, "dynamic.assumed_speed.%s",
                                           hoist->manual ? "hand" : "powered");
    if (status)
        return status;
    out->speed_m_s = assumed->value;
    out->speed_assumed = true;
    out->dynamic_mark = bk_hoist_less_sure(out->dynamic_mark, assumed->mark);
    *source = assumed->source;
    return BK_OK;
}

/* Lift-off, EN 13001-2 and EN 1991-3: phi_2 = phi_2,min + beta_2 v_h.  EN 13001-2 takes the speed of
 * the drive class (a hoist that starts in creep is kinder); EN 1991-3 the full speed always.  Both are
 * kept; the greater acts. */
static bk_status lift_off(const bk_plan *plan, const bk_hoist *hoist, bk_working *w, bk_hoist_forces *out,
                          bk_errors *errors)
{
    const bk_rule *beta, *least, *least_of_drive, *which, *fem_slope, *fem_least, *assumed;
    const char *speed_source;
    bk_status status = main_speed(plan, hoist, out, &speed_source, errors);
    if (!status && !hoist->hoisting_class)
        status = bk_hoist_word(plan, hoist, "dynamic.hoisting_class", &assumed, errors);
    if (status)
        return status;
    out->hoisting_class_assumed = !hoist->hoisting_class;
    out->hoisting_class = hoist->hoisting_class ? hoist->hoisting_class : assumed->text;
    if (!hoist->drive_class && (status = bk_hoist_word(plan, hoist, "dynamic.drive_class", &assumed, errors)))
        return status;
    out->drive_class_assumed = !hoist->drive_class;
    out->drive_class = hoist->drive_class ? hoist->drive_class : assumed->text;

    const char *hc = out->hoisting_class, *hd = out->drive_class;
    char speed_of[40];
    snprintf(speed_of, sizeof speed_of, "dynamic.speed.%s", hd);
    if ((status = bk_hoist_rule(plan, hoist, BK_DIM_PER_SPEED, &beta, errors, "dynamic.beta2.%s", hc)) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &least, errors, "dynamic.phi2_min.%s", hc)) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &least_of_drive, errors, "dynamic.phi2_min.%s.%s", hc, hd)) ||
        (status = bk_hoist_word(plan, hoist, speed_of, &which, errors)) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_PER_SPEED, &fem_slope, errors, "dynamic.fem.per_speed")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &fem_least, errors, "dynamic.fem.min")))
        return status;

    BK_GIVEN(w, v_h, out->speed_m_s, SPEED, speed_source);
    /* a class that counts on creep counts on full speed where no creep speed is known */
    double counts = v_h;
    if (!strcmp(which->text, "creep") && !isnan(hoist->creep_m_s))
        counts = hoist->creep_m_s;
    else if (!strcmp(which->text, "half"))
        counts = v_h / 2;
    else if (!strcmp(which->text, "zero"))
        counts = 0;
    BK_GIVEN(w, v_class, counts, SPEED, which->source);
    BK_GIVEN(w, beta_2, beta->value, PER_SPEED, beta->source);
    BK_GIVEN(w, phi_2_min, least->value, NONE, least->source);
    BK_GIVEN(w, phi_2_min_class, least_of_drive->value, NONE, least_of_drive->source);
    BK_CALC(w, phi_2_EN13001, phi_2_min_class + beta_2 * v_class, NONE, least_of_drive->source);
    BK_CALC(w, phi_2_EN1991, phi_2_min + beta_2 * v_h, NONE, least->source);
    BK_CALC(w, phi_2, fmax(phi_2_EN13001, phi_2_EN1991), NONE, "the greater acts");
    BK_GIVEN(w, xi, fem_slope->value, PER_SPEED, fem_slope->source);
    BK_GIVEN(w, psi_min, fem_least->value, NONE, fem_least->source);
    BK_CALC(w, psi, fmax(psi_min, 1 + xi * v_h), NONE, "beside it, not used");

    out->dynamic_13001 = phi_2_EN13001;
    out->dynamic_1991 = phi_2_EN1991;
    out->dynamic_fem = psi;
    out->dynamic_factor = phi_2;
    const bk_rule *governs = phi_2_EN13001 > phi_2_EN1991 ? least_of_drive : least;
    out->dynamic_by = governs->source;
    out->dynamic_mark =
        bk_hoist_less_sure(out->dynamic_mark, bk_hoist_less_sure(governs->mark, beta->mark));
    return BK_OK;
}

/* US practice: the greater of the impact of a powered monorail and the hoist load factor, which grows
 * with the speed between two bounds.  A hand chain hoist has its own factor. */
static bk_status impact(const bk_plan *plan, const bk_hoist *hoist, bk_working *w, bk_hoist_forces *out,
                        bk_errors *errors)
{
    const bk_rule *powered, *slope, *least, *most;
    bk_status status;
    if (hoist->manual) {
        const bk_rule *hand;
        if ((status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &hand, errors, "dynamic.impact.hand")))
            return status;
        BK_GIVEN(w, phi, hand->value, NONE, hand->source);
        out->dynamic_impact = out->dynamic_factor = phi;
        out->dynamic_by = hand->source;
        out->dynamic_mark = hand->mark;
        return BK_OK;
    }
    const char *speed_source;
    if ((status = main_speed(plan, hoist, out, &speed_source, errors)) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &powered, errors, "dynamic.impact.powered")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_PER_SPEED, &slope, errors, "dynamic.hoist_load.per_speed")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &least, errors, "dynamic.hoist_load.min")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &most, errors, "dynamic.hoist_load.max")))
        return status;
    BK_GIVEN(w, impact_monorail, powered->value, NONE, powered->source);
    BK_GIVEN(w, v, out->speed_m_s, SPEED, speed_source);
    BK_GIVEN(w, per_speed, slope->value, PER_SPEED, slope->source);
    BK_GIVEN(w, HLF_min, least->value, NONE, least->source);
    BK_GIVEN(w, HLF_max, most->value, NONE, most->source);
    BK_CALC(w, HLF, fmin(HLF_max, fmax(HLF_min, per_speed * v)), NONE, slope->source);
    BK_CALC(w, phi, fmax(impact_monorail, 1 + HLF), NONE, "the greater acts");
    out->dynamic_impact = impact_monorail;
    out->dynamic_hoist_load = 1 + HLF;
    out->dynamic_factor = phi;
    const bk_rule *governs = 1 + HLF > impact_monorail ? slope : powered;
    out->dynamic_by = governs->source;
    out->dynamic_mark = bk_hoist_less_sure(out->dynamic_mark, governs->mark);
    return BK_OK;
}

static bk_status dynamic_factor(const bk_plan *plan, const bk_hoist *hoist, bk_working *w,
                                bk_hoist_forces *out, bk_errors *errors)
{
    if (!isnan(plan->dynamic_factor.v)) {
        BK_GIVEN(w, phi, plan->dynamic_factor.v, NONE, "stated in the plan");
        out->dynamic_factor = phi;
        out->dynamic_by = "the plan";
        out->dynamic_mark = BK_MARK_USER;
        return BK_OK;
    }
    const bk_rule *method;
    const bk_status status = bk_hoist_word(plan, hoist, "dynamic.method", &method, errors);
    if (status)
        return status;
    if (!strcmp(method->text, "lift_off"))
        return lift_off(plan, hoist, w, out, errors);
    if (!strcmp(method->text, "impact"))
        return impact(plan, hoist, w, out, errors);
    return bk_fail(errors, hoist->place, BK_E_RULE, "rule dynamic.method: want lift_off or impact, got \"%s\"",
                   method->text);
}

/* The greatest pull at the hook.  Direct: the clutch slips, whatever the speed.  Indirect: the drive is
 * told to stop and pulls on until it has; the stretch it still takes up adds stiffness times travel.
 * The bound of EN 14492-2 is on the rated capacity; the hook block is counted with it as the safe side. */
static bk_status force_limit(const bk_plan *plan, const bk_hoist *hoist, double hook_block_N, double k,
                             bk_working *w, bk_hoist_forces *out, bk_errors *errors)
{
    if (hoist->limiter == BK_LIMITER_NONE)
        return BK_OK;
    const bk_rule *greatest;
    const bk_status status =
        bk_hoist_rule(plan, hoist, BK_DIM_NONE, &greatest, errors, "limiter.%s.max",
                      hoist->limiter == BK_LIMITER_DIRECT ? "direct" : "indirect");
    if (status)
        return status;
    out->limiter_at_assumed = isnan(hoist->limiter_at);
    out->limiter_at = out->limiter_at_assumed ? greatest->value : hoist->limiter_at;
    BK_GIVEN(w, alpha, out->limiter_at, NONE, out->limiter_at_assumed ? greatest->source : hoist->source);
    BK_GIVEN(w, F_rated, hoist->rated_N, FORCE, hoist->source);
    BK_GIVEN(w, F_block, hook_block_N, FORCE, "weight of the hook block");
    BK_CALC(w, F_trip, alpha * (F_rated + F_block), FORCE, "safe side: the hook block counted with the capacity");
    out->force_limit_N = F_trip;
    double brake_s = hoist->braking_time_s;
    if (isnan(brake_s) && !isnan(hoist->braking_distance_m) && hoist->speed_m_s > 0)
        brake_s = 2 * hoist->braking_distance_m / hoist->speed_m_s; /* even slowing down */
    if (hoist->limiter == BK_LIMITER_DIRECT || isnan(k) || isnan(hoist->response_time_s) || isnan(brake_s) ||
        isnan(hoist->speed_m_s))
        return BK_OK;
    BK_GIVEN(w, k_hook, k, LINE_FORCE, "stiffness of everything between load and building");
    BK_GIVEN(w, v_max, hoist->speed_m_s, SPEED, hoist->source);
    BK_GIVEN(w, t_resp, hoist->response_time_s, TIME, hoist->source);
    BK_GIVEN(w, t_brake, brake_s, TIME, hoist->source);
    BK_CALC(w, F_lim, F_trip + k_hook * v_max * (t_resp + t_brake / 2), FORCE,
            "stretch taken up until the drive has stopped, times stiffness");
    out->force_limit_N = F_lim;
    out->overshoot_counted = true;
    return BK_OK;
}

/* Lowering at full speed, stopped by the brake: m (g + a).  With neither time nor distance the load is
 * caught by the stretch alone, an upper bound: energy m v^2 / 2 into a spring already under m g. */
static void sudden_stop(const bk_hoist *hoist, double moving_N, double still_N, double k, bk_working *w,
                        bk_hoist_forces *out)
{
    if (isnan(hoist->speed_m_s))
        return;
    BK_GIVEN(w, g, BK_STANDARD_GRAVITY_M_PER_S2, ACCELERATION, "standard gravity, 3rd CGPM, 1901");
    BK_GIVEN(w, F_moving, moving_N, FORCE, "weight of what moves");
    BK_GIVEN(w, F_still, still_N, FORCE, "weight of what does not");
    BK_GIVEN(w, v_down, hoist->speed_m_s, SPEED, hoist->source);
    if (hoist->braking_time_s > 0) {
        BK_GIVEN(w, t, hoist->braking_time_s, TIME, hoist->source);
        BK_CALC(w, F_stop, F_moving * (1 + v_down / (g * t)) + F_still, FORCE, "m (g + v / t)");
        out->sudden_stop_N = F_stop;
        out->sudden_stop_by = "braking time";
    } else if (hoist->braking_distance_m > 0) {
        BK_GIVEN(w, s, hoist->braking_distance_m, LENGTH, hoist->source);
        BK_CALC(w, F_stop, F_moving * (1 + v_down * v_down / (2 * g * s)) + F_still, FORCE,
                "m (g + v^2 / 2 s)");
        out->sudden_stop_N = F_stop;
        out->sudden_stop_by = "braking distance";
    } else if (k > 0) {
        BK_GIVEN(w, k_hook, k, LINE_FORCE, "stiffness of everything between load and building");
        BK_CALC(w, F_stop, F_moving + v_down * sqrt(k_hook * F_moving / g) + F_still, FORCE,
                "upper bound: the stretch alone takes up m v^2 / 2");
        out->sudden_stop_N = F_stop;
        out->sudden_stop_by = "upper bound v sqrt(k m)";
    }
}

/* Lift-off with slack chain at a speed: the hook meets the load at v and stretches everything above by
 * its static stretch d before the load leaves the ground: 1 + v / sqrt(g d). */
static void slack_lift(const bk_hoist *hoist, double load_N, double k, bk_working *w, bk_hoist_forces *out)
{
    if (!(k > 0) || !(load_N > 0))
        return;
    BK_GIVEN(w, g, BK_STANDARD_GRAVITY_M_PER_S2, ACCELERATION, "standard gravity, 3rd CGPM, 1901");
    BK_GIVEN(w, k_hook, k, LINE_FORCE, "stiffness of everything between load and building");
    BK_GIVEN(w, Q, load_N, FORCE, "weight of what moves");
    BK_CALC(w, d, Q / k_hook, LENGTH, "static stretch");
    out->static_stretch_m = d;
    if (!isnan(hoist->speed_m_s)) {
        BK_GIVEN(w, v, hoist->speed_m_s, SPEED, hoist->source);
        BK_CALC(w, lift_main, 1 + v / sqrt(g * d), NONE, "slack taken up at full speed");
        out->slack_lift_main = lift_main;
    }
    if (!isnan(hoist->creep_m_s)) {
        BK_GIVEN(w, v, hoist->creep_m_s, SPEED, hoist->source);
        BK_CALC(w, lift_creep, 1 + v / sqrt(g * d), NONE, "slack taken up in creep");
        out->slack_lift_creep = lift_creep;
    }
}

bk_status bk_hoist_forces_of(const bk_plan *plan, const bk_hoist *hoist, double hook_load_N,
                             double stiffness_N_m, bk_working *working, bk_hoist_forces *out,
                             bk_errors *errors)
{
    bk_working *w = working;
    *out = (bk_hoist_forces){.force_limit_N = NAN, .stalled_N = NAN, .sudden_stop_N = NAN,
                             .slack_lift_main = NAN, .slack_lift_creep = NAN, .speed_m_s = NAN,
                             .dynamic_13001 = NAN, .dynamic_1991 = NAN, .dynamic_fem = NAN,
                             .dynamic_impact = NAN, .dynamic_hoist_load = NAN, .limiter_at = NAN,
                             .static_stretch_m = NAN, .stiffness_N_m = stiffness_N_m,
                             .dynamic_mark = BK_MARK_PUBLISHED};
    const double k = stiffness_N_m;

    BK_GIVEN(w, g, BK_STANDARD_GRAVITY_M_PER_S2, ACCELERATION, "standard gravity, 3rd CGPM, 1901");
    BK_GIVEN(w, F_load, hook_load_N, FORCE, "what hangs on the hook");
    BK_GIVEN(w, m_block, or_zero(hoist->hook_mass_kg), MASS, hoist->source);
    BK_GIVEN(w, m_hoist, or_zero(hoist->self_mass_kg), MASS, hoist->source);
    BK_GIVEN(w, m_chain, or_zero(hoist->chain_mass_per_m_kg_m), LINE_MASS, hoist->source);
    BK_GIVEN(w, falls, isnan(hoist->falls) ? 1 : hoist->falls, NONE, hoist->source);
    BK_GIVEN(w, lift, or_zero(hoist->height_of_lift_m), LENGTH, hoist->source);
    BK_CALC(w, F_hook, F_load + m_block * g, FORCE, "hook load: load, gear below the hook, hook block");
    BK_CALC(w, F_body, m_hoist * g, FORCE, "hoist body");
    BK_CALC(w, F_chain, m_chain * falls * lift * g, FORCE, "all the load chain, wherever the hook stands");
    out->hook_load_N = F_hook;
    out->hook_block_N = m_block * g;
    out->self_N = F_body;
    out->chain_N = F_chain;

    bk_status status = dynamic_factor(plan, hoist, w, out, errors);
    if (!status)
        status = force_limit(plan, hoist, out->hook_block_N, k, w, out, errors);
    if (status)
        return status;

    const bool climbs = hoist->hung == BK_BODY_DOWN;
    BK_GIVEN(w, F_moves, climbs ? F_hook + F_body + F_chain : F_hook, FORCE,
             climbs ? "body down: hook load, hoist and chain move" : "body up: the hook load moves");
    BK_GIVEN(w, F_rests, climbs ? 0 : F_body + F_chain, FORCE,
             climbs ? "body down: nothing rests" : "body up: hoist and chain rest");
    BK_GIVEN(w, phi_used, out->dynamic_factor + plan->dynamic_factor.tol, NONE,
             "dynamic factor, at the upper end of its tolerance");
    BK_CALC(w, F_static, F_moves + F_rests, FORCE, "suspension at rest");
    BK_CALC(w, F_dynamic, phi_used * F_moves + F_rests, FORCE, "suspension, dynamic case");
    out->against_rated_N = F_moves;
    out->static_N = F_static;
    out->dynamic_N = F_dynamic;
    out->suspension_N = F_dynamic;
    if (!isnan(out->force_limit_N)) {
        BK_GIVEN(w, F_limit, out->force_limit_N, FORCE, "force limit at the hook");
        BK_CALC(w, F_stalled, F_limit + F_body + F_chain, FORCE, "suspension, hoist stalled");
        out->stalled_N = F_stalled;
        out->stalled_governs = F_stalled > F_dynamic;
        out->suspension_N = fmax(F_stalled, F_dynamic);
    }
    sudden_stop(hoist, F_moves, F_rests, k, w, out);
    slack_lift(hoist, F_moves, k, w, out);
    return BK_OK;
}
