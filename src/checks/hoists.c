/* hoists: each hoist against its own rating plate: load, limiter, chain, duty, life.
 *
 * The hook load meets the rated capacity at its worst within the plan's tolerances; a hoist on which the plan hangs
 * nothing carries its rated capacity by definition and has no such finding.  Duty is compared only
 * where the plan describes one.  What the hoist's figures rest on is in its own working (explain HOIST);
 * workings here show the comparison.
 */
#include "rig.h"

#include <stdio.h>
#include <string.h>

/* What hangs on a hoist's hook may grow by this within the plan's tolerances; *where is the case.  Its hook holds its own
 * lines, or, where none names it, what the rig hangs on a trolley that does.  False when nothing of the plan hangs there. */
static bool hook_growth(const bk_check_input *in, size_t hoist, double *growth_N, const char **where)
{
    const bk_plan *plan = in->plan;
    bool by_line = false, by_trolley = false;
    *growth_N = 0;
    *where = NULL;
    double nominal = 0, worst = -INFINITY;
    for (size_t l = 0; in->hang && l < plan->n_lines; l++) {
        if (plan->lines[l].hoist != hoist) continue;
        by_line = true;
        nominal = fmax(nominal, in->hang->tension_N[l]);
        if (bk_is_most(in->envelope->tension_max[l].value, &worst)) *where = in->envelope->tension_max[l].say;
    }
    if (by_line) {
        *growth_N = fmax(0, worst - nominal);
        if (*growth_N == 0) *where = NULL;
        return true;
    }
    for (size_t t = 0; in->hang && t < plan->n_trolleys; t++) {
        if (plan->trolleys[t].hoist != hoist) continue;
        double growth = 0;
        for (size_t i = 0; i < plan->n_anchors; i++) {
            if (plan->anchors[i].trolley != t) continue;
            by_trolley = true;
            growth += fmax(0, in->envelope->anchor_max[i].value - bk_vec3_norm(in->hang->anchor_N[i]));
            if (growth > *growth_N) *where = in->envelope->anchor_max[i].say;
        }
        *growth_N = fmax(*growth_N, growth);
    }
    return by_trolley;
}

static bk_finding finding_of(const bk_check_input *in, const bk_hoist *hoist, const char *check, const char *what)
{
    return (bk_finding){.check = check, .item = hoist->name, .part = hoist->ref, .what = what, .dim = BK_DIM_NONE,
                        .nominal_demand = NAN, .rule = in->rules->name, .source = hoist->source,
                        .mark = hoist->mark};
}

double bk_rig_usable(const bk_check_input *in, double rated_N, const char *source, bk_mark *mark, bk_working *w)
{
    const char *people = "nobody below", *critical = "not a critical lift";
    double people_share = 1, critical_share = 1;
    if (in->plan->people_below) people_share = bk_rig_rule(in, "people.factor", BK_DIM_NONE, mark, &people);
    if (in->plan->critical) critical_share = bk_rig_rule(in, "critical.share", BK_DIM_NONE, mark, &critical);
    BK_GIVEN(w, F_rated, rated_N, FORCE, source);
    BK_GIVEN(w, k_people, people_share, NONE, people);
    BK_GIVEN(w, k_critical, critical_share, NONE, critical);
    BK_CALC(w, F_limit, F_rated * k_people * k_critical, FORCE, "rated capacity that may be used");
    return F_limit;
}

static void rated_capacity(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_forces *f = &in->hoists[i];
    double growth;
    const char *where;
    if (!hook_growth(in, i, &growth, &where)) return;
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, F_hook, f->against_rated_N, FORCE,
             hoist->hung == BK_BODY_DOWN ? "load, gear, hook block, and the hoist that climbs with them"
                                         : "load, gear below the hook, hook block");
    BK_GIVEN(w, dF, growth, FORCE, where ? where : "no tolerances, or none that raises it");
    BK_CALC(w, F, F_hook + dF, FORCE, "worst on the hook");
    bk_finding finding = finding_of(in, hoist, "hoist.rated_capacity", "rated capacity");
    finding.dim = BK_DIM_FORCE;
    finding.demand = F;
    finding.nominal_demand = F_hook;
    finding.limit = bk_rig_usable(in, hoist->rated_N, hoist->source, &finding.mark, w);
    finding.where = where;
    finding.working = w;
    bk_findings_add(out, finding);
}

/* Powered hoists from a certain capacity must have a limiter; what is fitted must act soon enough. */
static void limiter(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_forces *f = &in->hoists[i];
    bk_finding finding = finding_of(in, hoist, "hoist.limiter", "limiter acts at, over rated capacity");
    finding.setting = true;
    finding.mark = BK_MARK_PUBLISHED;
    if (hoist->limiter == BK_LIMITER_NONE) {
        const double from_kg = bk_rig_rule(in, "limiter.required_from", BK_DIM_MASS, &finding.mark, &finding.source);
        if (hoist->manual || !(hoist->rated_N >= from_kg * BK_STANDARD_GRAVITY_M_PER_S2)) {
            if (!hoist->manual)
                bk_findings_assume(out, "Hoist %s: no limiter is stated, so the case of a load that sticks is not in the "
                                        "forces above its hook.", hoist->name);
            return;
        }
        finding.what = "no limiter is stated, and a hoist of this capacity must have one";
        finding.demand = f->hook_load_N;
        finding.limit = NAN;
        finding.dim = BK_DIM_FORCE;
        finding.note = "how hard it pulls when the load sticks is not known, and not in the forces above its hook";
        bk_findings_add(out, finding);
        return;
    }
    const bool direct = hoist->limiter == BK_LIMITER_DIRECT;
    finding.limit =
        bk_rig_rule(in, direct ? "limiter.direct.max" : "limiter.indirect.max", BK_DIM_NONE, &finding.mark, &finding.source);
    finding.demand = f->limiter_at;
    bk_mark test_mark = BK_MARK_PUBLISHED;
    const double lifts = bk_rig_rule(in, "limiter.must_lift", BK_DIM_NONE, &test_mark, NULL);
    if (f->limiter_at_assumed)
        finding.note = "the setting is not stated: the greatest that the rule allows is taken";
    else if (f->limiter_at < lifts)
        finding.note = "it acts before the dynamic test load is lifted";
    else if (!direct && !f->overshoot_counted)
        finding.note = "what the hoist still pulls while the drive stops is not counted: it needs speed, response_time, "
                       "braking_time and a known stiffness";
    bk_findings_add(out, finding);
}

/* Mean stress of the load chain at rated capacity: 2 F / (pi d^2), F of one fall. */
static void load_chain(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    if (isnan(hoist->chain_diameter_m)) return;
    bk_finding finding = finding_of(in, hoist, "hoist.load_chain", "mean stress of the load chain at rated capacity");
    finding.dim = BK_DIM_STRESS;
    finding.setting = true; /* of the rating plate, whatever hangs */
    char name[80];
    snprintf(name, sizeof name, "hoist.chain_stress.%.40s.%s", hoist->chain_grade ? hoist->chain_grade : "none",
             hoist->manual ? "hand" : "powered");
    finding.limit = bk_rig_rule(in, name, BK_DIM_STRESS, &finding.mark, &finding.source);
    bk_working *w = isnan(finding.limit) ? NULL : bk_findings_working(out);
    BK_GIVEN(w, F_rated, hoist->rated_N, FORCE, hoist->source);
    BK_GIVEN(w, F_block, in->hoists[i].hook_block_N, FORCE, "hook block");
    BK_GIVEN(w, falls, hoist->falls, NONE, hoist->source);
    BK_GIVEN(w, d, hoist->chain_diameter_m, LENGTH, hoist->source);
    BK_GIVEN(w, pi, BK_PI, NONE, "circle");
    BK_CALC(w, sigma, 2 * (F_rated + F_block) / falls / (pi * d * d), STRESS, "mean over both sides of a link");
    if (isnan(finding.limit)) {
        char stress[64];
        bk_quantity_print(stress, sizeof stress, sigma, BK_DIM_STRESS, in->plan->units, BK_TOLD_DIGITS);
        bk_findings_assume(out, "Hoist %s: mean stress of its load chain at rated capacity is %s; grade %s has no limit "
                                "that is sure enough to check it against.", hoist->name, stress,
                           hoist->chain_grade ? hoist->chain_grade : "not stated");
        return;
    }
    finding.demand = sigma;
    finding.working = w;
    bk_findings_add(out, finding);
}

/* ---- duty -------------------------------------------------------------------------------------- */

static void duty_line(const bk_check_input *in, bk_findings *out, size_t i, const char *check, const char *what,
                      double demand, double limit)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_duty *d = &in->duties[i];
    if (isnan(demand)) return;
    bk_finding finding = finding_of(in, hoist, check, what);
    finding.demand = demand;
    finding.limit = limit;
    const bool of_hoist = !strcmp(check, "hoist.starts") ? !isnan(hoist->starts_per_hour)
                                                         : !isnan(hoist->cyclic_duration_factor);
    if (!of_hoist) {
        finding.source = d->group_source ? d->group_source : "neither the hoist nor a group states it";
        finding.mark = d->group_source ? d->group_mark : BK_MARK_USER;
        finding.note = d->group_source ? "of the group: the hoist states none" : NULL;
    }
    bk_findings_add(out, finding);
}

/* Number of a group among its kind: M5 and 2m are 5, H4 is 4; NaN for none. */
static double number_of(const char *group)
{
    return group && (group[0] == 'M' || group[0] == 'H') && group[1] ? (double)(group[1] - '0') : (double)NAN;
}

static void group(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_duty *d = &in->duties[i];
    if (isnan(d->running_hours_per_day)) return;
    bk_finding finding = finding_of(in, hoist, "hoist.group", "mechanism group, number of M");
    finding.setting = true;
    finding.source = d->time_source;
    finding.mark = d->group_mark;
    if (d->group_us) {
        finding.what = "US duty class, number of H";
        finding.source = d->group_source;
        finding.demand = d->us_class_needed ? number_of(d->us_class_needed) : number_of(d->group_us) + 1;
        finding.limit = number_of(d->group_us);
        if (!d->us_class_needed) finding.note = "no US class covers the time, the starts and the mean effective load";
        bk_findings_add(out, finding);
        return;
    }
    finding.limit = number_of(d->group_iso);
    finding.demand = number_of(d->group_needed_iso);
    if (d->no_group_is_enough) {
        finding.demand = finding.limit + 1;
        finding.utilisation = (double)INFINITY;
        finding.note = "the work is beyond the heaviest group";
    } else {
        const char *note = bk_arena_printf(out->arena, "needs %s (%s); the hoist is %s%s%s%s", d->group_needed_iso,
                                           d->group_needed_fem, d->group_iso ? d->group_iso : "of no stated group",
                                           d->group_fem ? " (" : "", d->group_fem ? d->group_fem : "",
                                           d->group_fem ? ")" : "");
        if (!note) out->failed = true;
        finding.note = note;
    }
    bk_findings_add(out, finding);
}

static void life(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_duty *d = &in->duties[i];
    if (isnan(d->life_used)) return;
    bk_finding finding = finding_of(in, hoist, "hoist.life", "theoretical life used, share");
    finding.mark = d->life_mark;
    const double warn = bk_rig_rule(in, "duty.warn", BK_DIM_NONE, NULL, NULL), act = bk_rig_rule(in, "duty.act", BK_DIM_NONE, NULL, NULL);
    finding.limit = bk_rig_rule(in, "duty.stop", BK_DIM_NONE, &finding.mark, NULL);
    finding.source = d->life_used_fem >= d->life_used_iso ? "FEM 9.755" : "ISO 12482";
    finding.demand = d->life_used;
    if (d->life_used > finding.limit)
        finding.note = "the theoretical life is over: out of service until overhauled or an expert has set conditions";
    else if (d->life_used >= act)
        finding.note = "plan the general overhaul now";
    else if (d->life_used >= warn)
        finding.note = "most of the theoretical life is used: put the overhaul in the plan";
    bk_working *w = bk_findings_working(out);
    BK_GIVEN(w, used_fem, d->life_used_fem, NONE, "FEM 9.755");
    BK_GIVEN(w, used_iso, d->life_used_iso, NONE, "ISO 12482");
    BK_CALC(w, used, fmax(used_fem, used_iso), NONE, "the greater; the two are not merged");
    finding.working = w;
    finding.demand = used;
    bk_findings_add(out, finding);
}

/* Work that is described with loads over the rated capacity: a group that stands it is no leave to lift them. */
static void spectrum(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    double most = 1;
    for (size_t k = 0; k < hoist->duty.n_loads; k++)
        most = fmax(most, in->plan->duty_loads[hoist->duty.first_load + k].of_rated);
    if (!(most > 1)) return;
    bk_finding finding = finding_of(in, hoist, "hoist.rated_capacity", "greatest load of the duty described");
    finding.dim = BK_DIM_FORCE;
    finding.demand = finding.nominal_demand = most * hoist->rated_N;
    finding.limit = hoist->rated_N;
    bk_findings_add(out, finding);
}

static void duty(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_duty *d = &in->duties[i];
    if (!d->asked) return;
    spectrum(in, out, i);
    duty_line(in, out, i, "hoist.duty_cycle", "share of time the motor runs", d->cyclic_duration_factor, d->allowed_cdf);
    if (!isnan(hoist->duty.creep_share)) { /* else both windings have the rule's split, and say the same */
        duty_line(in, out, i, "hoist.duty_cycle", "share of time, main winding", d->main_cdf, d->allowed_main_cdf);
        duty_line(in, out, i, "hoist.duty_cycle", "share of time, creep winding", d->creep_cdf, d->allowed_creep_cdf);
    }
    duty_line(in, out, i, "hoist.starts", "motor starts in an hour", d->starts_per_hour, d->allowed_starts);
    if (!isnan(hoist->duty.creep_starts_share)) {
        duty_line(in, out, i, "hoist.starts", "starts in an hour, main winding", d->main_starts, d->allowed_main_starts);
        duty_line(in, out, i, "hoist.starts", "starts in an hour, creep winding", d->creep_starts,
                  d->allowed_creep_starts);
    }
    if (!isnan(d->starts_per_running_hour)) {
        bk_finding finding = finding_of(in, hoist, "hoist.starts_per_running_hour", "starts in an hour of running");
        finding.mark = BK_MARK_PUBLISHED;
        finding.demand = d->starts_per_running_hour;
        finding.limit = bk_rig_rule(in, "duty.starts_per_running_hour", BK_DIM_NONE, &finding.mark, &finding.source);
        if (finding.demand > finding.limit) finding.note = "the hoist is inched: each start heats the motor and wears its brake";
        bk_findings_add(out, finding);
    }
    group(in, out, i);
    life(in, out, i);
}

/* ---- what was assumed -------------------------------------------------------------------------- */

static void assumptions(const bk_check_input *in, bk_findings *out, size_t i)
{
    const bk_hoist *hoist = &in->plan->hoists[i];
    const bk_hoist_forces *f = &in->hoists[i];
    const bk_hoist_duty *d = &in->duties[i];
    char speed[64];
    bk_quantity_print(speed, sizeof speed, f->speed_m_s, BK_DIM_SPEED, in->plan->units, BK_TOLD_DIGITS);
    if (f->hoisting_class_assumed)
        bk_findings_assume(out, "Hoist %s: no hoisting class is stated; %s is taken.", hoist->name, f->hoisting_class);
    if (f->drive_class_assumed)
        bk_findings_assume(out, "Hoist %s: no drive class is stated; %s is taken, the load is picked up at full speed.",
                           hoist->name, f->drive_class);
    if (f->speed_assumed)
        bk_findings_assume(out, "Hoist %s: no hoisting speed is stated; %s is taken.", hoist->name, speed);
    if (!isnan(f->force_limit_N))
        bk_findings_assume(out, "Hoist %s: the greatest pull is its limiter's setting times the rated capacity and the hook "
                                "block together, the safe side; the standard's own formula is not confirmed.",
                           hoist->name);
    if (!(f->self_N > 0))
        bk_findings_assume(out, "Hoist %s: its own mass is not stated and not in the forces above it.", hoist->name);
    if (!(f->chain_N > 0))
        bk_findings_assume(out, "Hoist %s: chain mass or height of lift is not stated; the load chain weighs nothing here.",
                           hoist->name);
    if (!d->asked) return;
    if (d->empty_return_assumed && !isnan(d->starts_per_hour))
        bk_findings_assume(out, "Hoist %s: a cycle is taken as one lift and one lowering. If the hook also travels empty, "
                                "say `empty_return: yes`: running time and starts double.", hoist->name);
    if (d->spectrum_assumed)
        bk_findings_assume(out, "Hoist %s: no load spectrum is stated; full load all the time is taken.", hoist->name);
    const double reading_every_s = bk_rig_rule(in, "duty.reading_every", BK_DIM_TIME, NULL, NULL);
    if (d->days_since_reading < 0)
        bk_findings_assume(out, "Hoist %s: its last reading, of %s, lies %.0f days AFTER the plan's date, %s: one of the two is wrong.",
                           hoist->name, d->last_reading, -d->days_since_reading, in->plan->date);
    else if (d->days_since_reading * 86400 > reading_every_s)
        bk_findings_assume(out, "Hoist %s: its last reading, of %s, is %.0f days old at the plan's date: what it ran since is NOT in "
                                "the life used. Read the meter now; records are kept at least yearly.",
                           hoist->name, d->last_reading, d->days_since_reading);
    if (d->swap_gap_days > 0)
        bk_findings_assume(out, "Hoist %s: %.0f %s between the last reading of a meter and the meter put in its place; what "
                                "it ran in them is NOT in the life used. Add a reading of the old meter on the day it came off.",
                           hoist->name, d->swap_gap_days, d->swap_gap_days < 1.5 ? "day lies" : "days lie");
    if (d->unlogged_years > 0)
        bk_findings_assume(out, "Hoist %s: the log leaves out %.1f of its years in service; what it ran in them is NOT in the life "
                                "used. Add a period for them, with its own `recorded`.",
                           hoist->name, d->unlogged_years);
    if (d->incomplete) bk_findings_assume(out, "Hoist %s: %s.", hoist->name, d->incomplete);
}

bk_status bk_check_hoists(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    (void)errors;
    for (size_t i = 0; i < in->plan->n_hoists; i++) {
        rated_capacity(in, out, i);
        limiter(in, out, i);
        load_chain(in, out, i);
        duty(in, out, i);
        assumptions(in, out, i);
    }
    return BK_OK;
}
