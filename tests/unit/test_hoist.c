/* The hoist room by itself: what each figure is made of, what is assumed, what is refused. */
#include "hoist_bench.h"

#include "../../src/hoist/calendar.h"

#include <string.h>

static const double G = 9.80665, YEAR = 31557600.0;

/* An invented hoist: 1.25 t, one fall, two speeds. */
static void demo(bench *b, const char *rules)
{
    bench_open(b, rules);
    bk_hoist *h = &b->hoist;
    h->rated_N = 1250 * G;
    h->self_mass_kg = 47;
    h->hook_mass_kg = 2.6;
    h->chain_mass_per_m_kg_m = 1.3;
    h->falls = 2;
    h->height_of_lift_m = 9;
    h->speed_m_s = 5.0 / 60;
    h->creep_m_s = 0.8 / 60;
    h->hoisting_class = "HC3";
    h->drive_class = "HD2";
    h->limiter = BK_LIMITER_DIRECT;
    h->limiter_at = 1.45;
    h->group = "M4";
}

/* ---- forces ------------------------------------------------------------------------------------ */

START_TEST(body_up)
{
    bench b;
    demo(&b, "en");
    const double load = 811 * G, block = 2.6 * G, body = 47 * G, chain = 1.3 * 2 * 9 * G;
    bench_forces(&b, load, NAN);
    const bk_hoist_forces *f = &b.forces;
    ck_assert_double_eq_tol(f->hook_load_N, load + block, 1e-6);
    ck_assert_double_eq_tol(f->against_rated_N, load + block, 1e-6);
    ck_assert_double_eq_tol(f->chain_N, chain, 1e-6);
    ck_assert_double_eq_tol(f->static_N, load + block + body + chain, 1e-6);
    ck_assert_double_eq_tol(f->dynamic_N, f->dynamic_factor * (load + block) + body + chain, 1e-6);
    ck_assert_double_eq_tol(f->force_limit_N, 1.45 * (1250 * G + block), 1e-6);
    ck_assert_double_eq_tol(f->stalled_N, f->force_limit_N + body + chain, 1e-6);
    ck_assert(f->stalled_governs);
    ck_assert_double_eq(f->suspension_N, f->stalled_N);
    ck_assert(isnan(f->slack_lift_main) && isnan(f->sudden_stop_N)); /* neither stiffness nor brake is known */
    bench_close(&b);
}
END_TEST

/* The hoist climbs with the load: its chain carries it, and the factor acts on it. */
START_TEST(body_down)
{
    bench b;
    demo(&b, "en");
    b.hoist.hung = BK_BODY_DOWN;
    b.hoist.limiter = BK_LIMITER_NONE;
    const double all = (811 + 2.6 + 47 + 1.3 * 2 * 9) * G;
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq_tol(b.forces.hook_load_N, (811 + 2.6) * G, 1e-6);
    ck_assert_double_eq_tol(b.forces.against_rated_N, all, 1e-6);
    ck_assert_double_eq_tol(b.forces.static_N, all, 1e-6);
    ck_assert_double_eq_tol(b.forces.dynamic_N, b.forces.dynamic_factor * all, 1e-6);
    ck_assert(isnan(b.forces.stalled_N) && isnan(b.forces.force_limit_N) && !b.forces.stalled_governs);
    ck_assert_double_eq(b.forces.suspension_N, b.forces.dynamic_N);
    bench_close(&b);
}
END_TEST

/* EN 13001-2 counts creep for HD2, EN 1991-3 always full speed: both are kept, the greater acts. */
START_TEST(both_standards_are_kept)
{
    bench b;
    demo(&b, "en");
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq_tol(b.forces.dynamic_13001, 1.15 + 0.51 * 0.8 / 60, 1e-12);
    ck_assert_double_eq_tol(b.forces.dynamic_1991, 1.15 + 0.51 * 5 / 60, 1e-12);
    ck_assert_double_eq(b.forces.dynamic_factor, b.forces.dynamic_1991);
    ck_assert_ptr_nonnull(strstr(b.forces.dynamic_by, "EN 1991-3"));
    ck_assert_ptr_nonnull(strstr(b.forces.dynamic_by, "HC3"));
    ck_assert_int_eq(b.forces.dynamic_mark, BK_MARK_MEMORY);
    bench_close(&b);
}
END_TEST

/* Nothing is said of class and speed: the stiffest class, full speed, the fastest usual hoist. */
START_TEST(unknown_is_unkind)
{
    bench b;
    demo(&b, "en");
    b.hoist.hoisting_class = b.hoist.drive_class = NULL;
    b.hoist.speed_m_s = b.hoist.creep_m_s = NAN;
    bench_forces(&b, 811 * G, NAN);
    ck_assert(b.forces.hoisting_class_assumed && b.forces.drive_class_assumed && b.forces.speed_assumed);
    ck_assert_str_eq(b.forces.hoisting_class, "HC4");
    ck_assert_str_eq(b.forces.drive_class, "HD1");
    ck_assert_double_eq_tol(b.forces.dynamic_factor, 1.20 + 0.68 * 16 / 60, 1e-12);
    ck_assert(isnan(b.forces.sudden_stop_N)); /* an assumed speed stops nothing */
    /* a class that counts on creep counts on full speed where no creep speed is known */
    b.hoist.drive_class = "HD2";
    b.hoist.speed_m_s = 0.2;
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq_tol(b.forces.dynamic_13001, 1.20 + 0.68 * 0.2, 1e-12);
    b.hoist.manual = true;
    b.hoist.speed_m_s = NAN;
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq_tol(b.forces.dynamic_factor, 1.20 + 0.68 * 2 / 60, 1e-12);
    bench_close(&b);
}
END_TEST

START_TEST(the_plan_overrides)
{
    bench b;
    demo(&b, "us");
    b.plan.dynamic_factor = (bk_value){1.31, 0.04};
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq(b.forces.dynamic_factor, 1.31);
    ck_assert_str_eq(b.forces.dynamic_by, "the plan");
    ck_assert_double_eq_tol(b.forces.dynamic_N, 1.35 * b.forces.hook_load_N + b.forces.self_N + b.forces.chain_N, 1e-6);
    bench_close(&b);
}
END_TEST

/* With neither braking time nor distance the load is caught by the stretch: m g + v sqrt(k m). */
START_TEST(sudden_stop_upper_bound)
{
    bench b;
    demo(&b, "en");
    b.hoist.hook_mass_kg = 0;
    bench_forces(&b, 811 * G, 350e3);
    const double rests = b.forces.self_N + b.forces.chain_N;
    ck_assert_str_eq(b.forces.sudden_stop_by, "upper bound v sqrt(k m)");
    ck_assert_double_eq_tol(b.forces.sudden_stop_N, 811 * G + 5.0 / 60 * sqrt(350e3 * 811) + rests, 1e-6);
    b.hoist.braking_time_s = 0.15; /* a stated brake goes first, and stops more gently */
    const double bound = b.forces.sudden_stop_N;
    bench_forces(&b, 811 * G, 350e3);
    ck_assert_str_eq(b.forces.sudden_stop_by, "braking time");
    ck_assert_double_lt(b.forces.sudden_stop_N, bound);
    ck_assert_double_gt(b.forces.slack_lift_main, b.forces.slack_lift_creep);
    bench_close(&b);
}
END_TEST

/* A hook that is known to give without end stops nothing, and nothing is known of it; a very soft one: m g + v sqrt(k m). */
START_TEST(stiffness_of_nought)
{
    bench b;
    demo(&b, "en");
    b.hoist.hook_mass_kg = 0;
    bench_forces(&b, 811 * G, 0);
    ck_assert(isnan(b.forces.sudden_stop_N) && isnan(b.forces.static_stretch_m) && isnan(b.forces.slack_lift_main));
    bench_forces(&b, 811 * G, 0.4);
    ck_assert_double_eq_tol(b.forces.sudden_stop_N, 811 * G + 5.0 / 60 * sqrt(0.4 * 811) + b.forces.self_N + b.forces.chain_N, 1e-6);
    ck_assert_double_eq_tol(b.forces.static_stretch_m, 811 * G / 0.4, 1e-6);
    bench_close(&b);
}
END_TEST

/* Body up: hoist and chain do not move, and are not multiplied when the load stops. */
START_TEST(sudden_stop_over_a_distance)
{
    bench b;
    demo(&b, "en");
    b.hoist.braking_distance_m = 0.011;
    bench_forces(&b, 811 * G, NAN);
    const double v = 5.0 / 60, moves = (811 + 2.6) * G, rests = (47 + 1.3 * 2 * 9) * G;
    ck_assert_str_eq(b.forces.sudden_stop_by, "braking distance");
    ck_assert_double_eq_tol(b.forces.sudden_stop_N, moves + 813.6 * v * v / 0.022 + rests, 1e-6);
    bench_close(&b);
}
END_TEST

/* An indirect limiter tells the drive to stop; what it pulls on until then needs five figures, else it is
 * left out.  A braking distance gives the time of an even slowing down, 2 s / v. */
START_TEST(overshoot)
{
    bench b;
    demo(&b, "en");
    bk_hoist *h = &b.hoist;
    h->limiter = BK_LIMITER_INDIRECT;
    h->limiter_at = 1.15;
    h->response_time_s = 0.08;
    h->braking_distance_m = 0.0075;
    const double trip = 1.15 * (1250 + 2.6) * G, v = 5.0 / 60, k = 270e3;
    bench_forces(&b, 811 * G, k);
    ck_assert(b.forces.overshoot_counted);
    ck_assert_double_eq_tol(b.forces.force_limit_N, trip + k * v * (0.08 + 0.0075 / v), 1e-6);
    h->braking_time_s = 0.3; /* the time itself goes before the distance */
    bench_forces(&b, 811 * G, k);
    ck_assert_double_eq_tol(b.forces.force_limit_N, trip + k * v * (0.08 + 0.15), 1e-6);
    const bk_hoist whole = *h;
    for (int missing = 0; missing < 5; missing++) {
        *h = whole;
        if (missing == 0) h->response_time_s = NAN;
        if (missing == 1) h->braking_time_s = h->braking_distance_m = NAN;
        if (missing == 2) h->speed_m_s = NAN;
        if (missing == 4) h->speed_m_s = 0, h->braking_time_s = NAN; /* a distance tells no time */
        bench_forces(&b, 811 * G, missing == 3 ? (double)NAN : k);
        ck_assert(!b.forces.overshoot_counted);
        ck_assert_double_eq_tol(b.forces.force_limit_N, trip, 1e-6);
    }
    bench_close(&b);
}
END_TEST

/* Which rule set the factor is named, and how sure it is. */
START_TEST(us_rule_is_named)
{
    bench b;
    demo(&b, "us");
    b.hoist.speed_m_s = 45 * 0.3048 / 60; /* ft/min: 1.225, the monorail's 1.25 governs */
    bench_forces(&b, 811 * G, NAN);
    ck_assert_ptr_nonnull(strstr(b.forces.dynamic_by, "ASCE 7"));
    ck_assert_int_eq(b.forces.dynamic_mark, BK_MARK_MEMORY);
    b.hoist.speed_m_s = 55 * 0.3048 / 60; /* 1.275 */
    bench_forces(&b, 811 * G, NAN);
    ck_assert_ptr_nonnull(strstr(b.forces.dynamic_by, "Minnesota"));
    ck_assert_int_eq(b.forces.dynamic_mark, BK_MARK_PUBLISHED);
    bench_close(&b);
}
END_TEST

START_TEST(falls_not_stated_is_one)
{
    bench b;
    demo(&b, "en");
    b.hoist.falls = NAN;
    bench_forces(&b, 811 * G, NAN);
    ck_assert_double_eq_tol(b.forces.chain_N, 1.3 * 9 * G, 1e-6);
    bench_close(&b);
}
END_TEST

/* The working records what the figures came from and changes none of them. */
START_TEST(working_changes_nothing)
{
    bench b;
    demo(&b, "en");
    bench_forces(&b, 811 * G, 350e3);
    bk_working *w = bk_working_new(b.arena);
    bk_hoist_forces with;
    ck_assert_int_eq(bk_hoist_forces_of(&b.plan, &b.hoist, 811 * G, 350e3, w, &with, b.errors), BK_OK);
    ck_assert_double_eq(with.suspension_N, b.forces.suspension_N);
    ck_assert_double_eq(with.sudden_stop_N, b.forces.sudden_stop_N);
    bool found = false;
    for (size_t i = 0; i < w->n; i++) {
        ck_assert_ptr_nonnull(w->steps[i].source);
        found = found || w->steps[i].value == with.dynamic_N;
    }
    ck_assert(found && !w->failed);
    bench_close(&b);
}
END_TEST

START_TEST(a_rule_that_is_missing)
{
    bench b;
    demo(&b, "en");
    const bk_rules none = {.name = "bare"};
    b.plan.rules = &none;
    ck_assert_int_eq(bk_hoist_forces_of(&b.plan, &b.hoist, 9000, NAN, NULL, &b.forces, b.errors), BK_E_RULE);
    ck_assert_ptr_nonnull(strstr(b.errors->at[0].text, "dynamic.method"));
    b.hoist.limiter = BK_LIMITER_NONE;
    b.plan.dynamic_factor.v = 1.2; /* then no rule is needed */
    ck_assert_int_eq(bk_hoist_forces_of(&b.plan, &b.hoist, 9000, NAN, NULL, &b.forces, b.errors), BK_OK);
    bench_close(&b);
}
END_TEST

/* ---- duty -------------------------------------------------------------------------------------- */

static void work(bench *b)
{
    bk_duty *d = &b->hoist.duty;
    d->cycles_per_hour = 14;
    d->mean_lift_m = 3.5;
    d->hours_per_day = 7.5;
    d->days_per_year = 230;
    bench_load(b, 0.9, 0.2);
    bench_load(b, 0.35, 0.5);
    bench_load(b, 0, 0.3);
}

START_TEST(what_the_work_asks)
{
    bench b;
    demo(&b, "en");
    work(&b);
    bench_duty(&b);
    const bk_hoist_duty *d = &b.duty;
    const double share = 14 * 2 * 3.5 / 5 / 60; /* minutes of running in an hour, over 60 */
    ck_assert_double_eq_tol(d->cyclic_duration_factor, share, 1e-12);
    ck_assert_double_eq_tol(d->running_hours_per_day, share * 7.5, 1e-12);
    ck_assert_double_eq_tol(d->hours_per_year, share * 7.5 * 230, 1e-9);
    ck_assert_double_eq_tol(d->starts_per_hour, 14 * 4, 1e-12); /* two speeds: fast and slow, up and down */
    ck_assert_double_eq_tol(d->spectrum_factor, 0.2 * 0.729 + 0.5 * 0.042875, 1e-12);
    ck_assert(d->empty_return_assumed && !d->spectrum_assumed && d->allowed_of_group);
    ck_assert_double_eq_tol(d->main_cdf + d->creep_cdf, share, 1e-12);
    ck_assert_double_eq_tol(d->creep_cdf, share / 3, 1e-12);
    ck_assert_double_eq_tol(d->creep_starts, 56 * 2.0 / 3, 1e-9);
    ck_assert(isnan(d->life_used));
    ck_assert_ptr_nonnull(d->incomplete);

    b.hoist.creep_m_s = NAN;
    bench_duty(&b);
    ck_assert_double_eq_tol(d->starts_per_hour, 14 * 2, 1e-12);
    ck_assert(isnan(d->main_cdf) && isnan(d->allowed_creep_starts));
    b.hoist.duty.empty_return = b.hoist.duty.empty_return_given = true;
    bench_duty(&b);
    ck_assert_double_eq_tol(d->starts_per_hour, 14 * 4, 1e-12);
    ck_assert_double_eq_tol(d->cyclic_duration_factor, 2 * share, 1e-12);
    ck_assert(!d->empty_return_assumed);
    b.hoist.duty.starts_per_cycle = 9; /* counted by the keeper: nothing doubles it */
    bench_duty(&b);
    ck_assert_double_eq_tol(d->starts_per_hour, 14 * 9, 1e-12);
    bench_close(&b);
}
END_TEST

/* Time in creep makes the same path longer to run. */
START_TEST(time_in_creep)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.creep_share = 0.25;
    b.hoist.duty.creep_starts_share = 0.8;
    bench_duty(&b);
    const double share = 14 * 2 * 3.5 / (0.75 * 5 + 0.25 * 0.8) / 60;
    ck_assert_double_eq_tol(b.duty.cyclic_duration_factor, share, 1e-12);
    ck_assert_double_eq_tol(b.duty.creep_cdf, 0.25 * share, 1e-12);
    ck_assert_double_eq_tol(b.duty.main_starts, 0.2 * 56, 1e-9);
    bench_close(&b);
}
END_TEST

/* A hook block over a twentieth of the capacity belongs in the spectrum. */
START_TEST(heavy_hook_block)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.hook_mass_kg = 0.049 * 1250;
    bench_duty(&b);
    ck_assert(!b.duty.hook_block_counted);
    ck_assert_double_eq_tol(b.duty.spectrum_factor, 0.2 * 0.729 + 0.5 * 0.042875, 1e-12);
    b.hoist.hook_mass_kg = 0.06 * 1250;
    bench_duty(&b);
    ck_assert(b.duty.hook_block_counted);
    ck_assert_double_eq_tol(b.duty.spectrum_factor, 0.2 * pow(0.96, 3) + 0.5 * pow(0.41, 3) + 0.3 * pow(0.06, 3), 1e-12);
    bench_close(&b);
}
END_TEST

START_TEST(no_spectrum_is_full_load)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.n_loads = 0;
    bench_duty(&b);
    ck_assert(b.duty.spectrum_assumed);
    ck_assert_double_eq(b.duty.spectrum_factor, 1);
    ck_assert_str_eq(b.duty.spectrum_class, "L4");
    bench_close(&b);
}
END_TEST

/* A second hoist's loads and readings stand behind the first one's; three thirds printed short are a whole. */
START_TEST(second_hoist_of_a_plan)
{
    bench b;
    demo(&b, "en");
    b.loads[0] = (bk_duty_load){1, 1};
    b.loads[1] = (bk_duty_load){0.8, 0.333};
    b.loads[2] = (bk_duty_load){0.5, 0.333};
    b.loads[3] = (bk_duty_load){0.1, 0.333};
    b.hoist.duty.first_load = 1, b.hoist.duty.n_loads = 3;
    b.meters[0] = (bk_meter){.on_time_s = NAN, .starts = NAN};
    b.meters[1] = (bk_meter){.on_time_s = NAN, .starts = NAN};
    b.meters[2] = (bk_meter){.on_time_s = 90 * 3600.0, .starts = 7000};
    b.hoist.duty.first_meter = 1, b.hoist.duty.n_meters = 2;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.spectrum_factor, (0.512 + 0.125 + 0.001) / 3, 1e-12);
    ck_assert_double_eq_tol(b.duty.running_hours, 90, 1e-12);
    ck_assert_double_eq_tol(b.duty.starts, 7000, 1e-12);
    bench_close(&b);
}
END_TEST

/* A hoist may state one of both figures; the group's stands in for the other. */
START_TEST(half_of_it_stated)
{
    bench b;
    demo(&b, "en");
    b.hoist.cyclic_duration_factor = 0.5;
    bench_duty(&b);
    ck_assert_double_eq(b.duty.allowed_cdf, 0.5);
    ck_assert_double_eq(b.duty.allowed_starts, 180); /* M4 */
    ck_assert(b.duty.allowed_of_group);
    b.hoist.starts_per_hour = 300;
    bench_duty(&b);
    ck_assert(!b.duty.allowed_of_group);
    bench_close(&b);
}
END_TEST

/* A heavy hook counts: full load with a tenth of it in the block is km 1.1^3 = 1.331, past the last class of the spectrum: one
 * group above that of 1. */
START_TEST(a_heavy_hook_asks_for_the_next_group)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.n_loads = 0;
    b.hoist.duty.hours_per_day = 1;
    bench_duty(&b);
    const char light = b.duty.group_needed_iso[1];
    b.hoist.hook_mass_kg = 0.1 * b.hoist.rated_N / BK_STANDARD_GRAVITY_M_PER_S2;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.spectrum_factor, 1.331, 1e-12);
    ck_assert_int_eq(b.duty.group_needed_iso[1], light + 1);
    bench_close(&b);
}
END_TEST

/* Between Km 0.5 and k 0.8 the two standards part: 15 h a day, k 0.798 is T7 with L4, beyond M8, and V4 with
 * L3, 5m. */
START_TEST(one_standard_has_a_group_the_other_none)
{
    bench b;
    demo(&b, "en");
    b.hoist.speed_m_s = 0.1;
    b.hoist.duty.cycles_per_hour = 25;
    b.hoist.duty.mean_lift_m = 4.5;
    b.hoist.duty.hours_per_day = 24;
    bench_load(&b, 0.798, 1);
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.running_hours_per_day, 15, 1e-9);
    ck_assert_ptr_null(b.duty.group_needed_iso);
    ck_assert_str_eq(b.duty.group_needed_fem, "5m");
    ck_assert(b.duty.no_group_is_enough);
    bench_close(&b);
}
END_TEST

/* What cannot be worked out is missing, and is said. */
START_TEST(what_is_missing)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.mean_lift_m = NAN;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.starts_per_hour, 56, 1e-12);
    ck_assert(isnan(b.duty.cyclic_duration_factor) && isnan(b.duty.running_hours_per_day) && !b.duty.group_needed_iso);
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "mean_lift"));
    b.hoist.duty.mean_lift_m = 3.5;
    b.hoist.duty.hours_per_day = NAN;
    bench_duty(&b);
    ck_assert(!isnan(b.duty.cyclic_duration_factor) && isnan(b.duty.running_hours_per_day));
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "hours_per_day"));
    b.hoist.duty.hours_per_day = 7;
    b.hoist.speed_m_s = NAN;
    bench_duty(&b);
    ck_assert(isnan(b.duty.cyclic_duration_factor));
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "speed"));
    b.hoist.speed_m_s = 0.1;
    b.hoist.group = NULL;
    bench_duty(&b);
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "group"));
    b.hoist.group = "M4";
    bench_duty(&b);
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "in_service"));
    b.hoist.duty.cycles_per_hour = NAN; /* time in service alone says nothing of running hours */
    b.hoist.duty.in_service_s = YEAR;
    bench_duty(&b);
    ck_assert(isnan(b.duty.running_hours) && isnan(b.duty.life_used));
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "cycles_per_hour"));
    bench_close(&b);
}
END_TEST

START_TEST(no_duty_is_no_duty)
{
    bench b;
    demo(&b, "en");
    b.hoist.duty.given = false;
    bench_duty(&b);
    ck_assert(!b.duty.asked && isnan(b.duty.life_used) && !b.duty.group_iso && !b.duty.n_intervals);
    bench_close(&b);
}
END_TEST

START_TEST(unknown_group)
{
    bench b;
    demo(&b, "en");
    b.hoist.group = "M9";
    ck_assert_int_eq(bk_hoist_duty_of(&b.plan, &b.hoist, b.tables, b.arena, NULL, &b.duty, b.errors), BK_E_WORD);
    ck_assert_ptr_nonnull(strstr(b.errors->at[0].text, "M9"));
    bench_close(&b);
}
END_TEST

/* ---- life -------------------------------------------------------------------------------------- */

/* Three periods, each with its own spectrum or way of recording, a meter swapped between. */
START_TEST(log_with_a_swap)
{
    bench b;
    demo(&b, "en"); /* M4: D = 800 h */
    work(&b);
    const double km = 0.2 * 0.729 + 0.5 * 0.042875;
    b.loads[3] = (bk_duty_load){0.7, 1};
    bench_meter(&b, "2021-03-01", 310, 41000);
    bk_meter *second = bench_meter(&b, "2022-03-01", 455, 60500);
    second->first_load = 3, second->n_loads = 1;
    bench_meter(&b, "2022-06-15", 12, 900)->swapped = true; /* the new meter came with 12 h on it */
    bk_meter *last = bench_meter(&b, "2023-03-01", 212, 31900);
    last->recorded = "production";
    bench_duty(&b);
    const bk_hoist_duty *d = &b.duty;
    ck_assert_double_eq_tol(d->running_hours, 310 + 145 + 200, 1e-9);
    ck_assert_double_eq_tol(d->starts, 60500 + 31000, 1e-9);
    ck_assert_double_eq_tol(d->starts_per_running_hour, 91500.0 / 655, 1e-9);
    ck_assert_double_eq_tol(d->used_hours_fem, km * 310 * 1.1 + 0.343 * 145 * 1.1 + km * 200 * 1.2, 1e-9);
    ck_assert_double_eq_tol(d->used_hours_iso, km * 310 * 1.0 + 0.343 * 145 * 1.0 + km * 200 * 1.2, 1e-9);
    ck_assert_double_eq_tol(d->life_used, d->used_hours_fem / 800, 1e-12);
    /* the rate is that of the days that were metered: two years less the 106 days of the gap at the swap */
    ck_assert_double_eq_tol(d->hours_per_year, 345 / (624 / 365.25), 1e-9);
    ck_assert_str_eq(d->last_reading, "2023-03-01");
    const double rate = (0.343 * 145 * 1.1 + km * 200 * 1.2) / (624 / 365.25);
    ck_assert_double_eq_tol(d->years_to_80, (640 - d->used_hours_fem) / rate, 1e-9);
    ck_assert_double_eq_tol(d->years_to_90 - d->years_to_80, 80 / rate, 1e-9);
    ck_assert_double_eq_tol(d->years_to_100 - d->years_to_90, 80 / rate, 1e-9);
    ck_assert(d->date_80 && d->date_100 && strcmp(d->date_80, d->date_100) < 0);
    /* 2022-03-01 to 2022-06-15: March 30 days on, April, May, 15 of June */
    ck_assert_double_eq_tol(d->swap_gap_days, 30 + 30 + 31 + 15, 1e-9);
    ck_assert_double_eq(d->unlogged_years, 0);
    bench_close(&b);
}
END_TEST

/* Twelve years old, and a log of three that begins with a new meter: nine years are on no meter. */
START_TEST(log_that_begins_late)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.in_service_s = 12 * 365.25 * 86400;
    bench_meter(&b, "2021-03-01", 0, 0)->swapped = true;
    bench_meter(&b, "2024-02-29", 310, 41000);
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.unlogged_years, 9, 0.01);
    b.hoist.duty.in_service_s = 4.5 * 365.25 * 86400; /* more than a year beside the log is told, less is not */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.unlogged_years, 1.5, 0.01);
    b.hoist.duty.in_service_s = 3.9 * 365.25 * 86400;
    bench_duty(&b);
    ck_assert_double_eq(b.duty.unlogged_years, 0);
    b.hoist.duty.in_service_s = 12 * 365.25 * 86400;
    b.meters[0] = (bk_meter){.date = "2021-03-01", .on_time_s = 900 * 3600.0, .starts = 0}; /* it was there from the start */
    b.meters[1].on_time_s = 1210 * 3600.0;
    bench_duty(&b);
    ck_assert_double_eq(b.duty.unlogged_years, 0);
    bench_close(&b);
}
END_TEST

/* A year to go at this rate is a year on the calendar. */
START_TEST(date_of_the_end)
{
    bench b;
    demo(&b, "en");
    bench_load(&b, 1, 1);
    b.hoist.duty.recorded = "recorder";
    bench_meter(&b, "2020-02-29", 400, NAN);
    bench_meter(&b, "2024-02-29", 600, NAN); /* 1461 days: exactly four years; 50 h a year */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.years_to_100, 4, 1e-9);
    ck_assert_str_eq(b.duty.date_100, "2028-02-29");
    ck_assert_double_eq_tol(b.duty.years_to_80, 0.8, 1e-9);
    ck_assert_str_eq(b.duty.date_80, "2024-12-17"); /* 292 days on */
    bench_meter(&b, "2024-09-01", 900, NAN); /* past its life */
    bench_duty(&b);
    ck_assert_double_gt(b.duty.life_used, 1);
    ck_assert_double_eq(b.duty.years_to_100, 0);
    ck_assert_str_eq(b.duty.date_100, "2024-09-01");
    bench_close(&b);
}
END_TEST

/* The scheme that has used more sets the date; with a meter and a time in service the rate is theirs. */
START_TEST(rate_over_the_time_in_service)
{
    bench b;
    demo(&b, "en");
    bench_load(&b, 1, 1);
    b.hoist.duty.recorded = "undocumented"; /* FEM 1.2, ISO 1.3 */
    b.hoist.duty.in_service_s = 3 * YEAR;
    bench_meter(&b, NULL, 150, NAN);
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.hours_per_year, 50, 1e-9);
    ck_assert_double_eq_tol(b.duty.life_used, 195.0 / 800, 1e-12);
    ck_assert_double_eq_tol(b.duty.years_to_100, (800 - 195) / 65.0, 1e-9);
    b.hoist.duty.recorded = "counters"; /* FEM 1.1, ISO 1.0 */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.years_to_100, (800 - 165) / 55.0, 1e-9);
    ck_assert(isnan(b.duty.starts) && isnan(b.duty.starts_per_running_hour));
    bench_close(&b);
}
END_TEST

/* ISO 12482 governs where the history is an undocumented estimate, by dates too. */
START_TEST(rate_between_dates_by_iso)
{
    bench b;
    demo(&b, "en");
    bench_load(&b, 1, 1);
    b.hoist.duty.recorded = "undocumented";
    bench_meter(&b, "2020-02-29", 100, NAN);
    bench_meter(&b, "2024-02-29", 300, NAN); /* four years, 50 h a year */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.life_used, 390.0 / 800, 1e-12);
    ck_assert_double_eq_tol(b.duty.years_to_100, (800 - 390) / 65.0, 1e-9);
    bench_close(&b);
}
END_TEST

/* A meter with no dates and no time in service: the duty's own hours are the rate. */
START_TEST(rate_of_the_duty)
{
    bench b;
    demo(&b, "en");
    work(&b);
    bench_meter(&b, NULL, 150, NAN);
    bench_duty(&b);
    const double km = 0.2 * 0.729 + 0.5 * 0.042875, year = 14 * 2 * 3.5 / 5 / 60 * 7.5 * 230;
    ck_assert_double_eq_tol(b.duty.hours_per_year, year, 1e-9);
    ck_assert_double_eq_tol(b.duty.years_to_100, (800 / (1.1 * km) - 150) / year, 1e-9);
    b.hoist.duty.recorded = "undocumented"; /* ISO has the greater factor */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.years_to_100, (800 / (1.3 * km) - 150) / year, 1e-9);
    b.hoist.duty.n_loads = 1; /* the empty hook alone uses nothing up: no date */
    b.loads[0] = (bk_duty_load){0, 1};
    bench_duty(&b);
    ck_assert_double_eq(b.duty.life_used, 0);
    ck_assert(isnan(b.duty.years_to_100));
    bench_close(&b);
}
END_TEST

/* A reading on the day of the last, or with nothing run since, contradicts nothing. */
START_TEST(nothing_has_run)
{
    bench b;
    demo(&b, "en");
    bench_meter(&b, "2023-01-10", 300, 4000);
    bench_meter(&b, "2023-01-10", 300, 4000);
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.running_hours, 300, 1e-9);
    ck_assert(isnan(b.duty.years_to_100)); /* no time has passed: no rate */
    bench_close(&b);
}
END_TEST

/* No meter: the duty over the time in service, and the factors of an undocumented estimate. */
START_TEST(no_meter)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.in_service_s = 3 * YEAR;
    bench_duty(&b);
    const double hours = 3 * 14 * 2 * 3.5 / 5 / 60 * 7.5 * 230;
    ck_assert_double_eq_tol(b.duty.running_hours, hours, 1e-6);
    ck_assert_double_eq(b.duty.factor_iso, 1.3);
    ck_assert_double_eq(b.duty.factor_fem, 1.2);
    ck_assert_double_eq_tol(b.duty.life_used, b.duty.spectrum_factor * hours * 1.3 / 800, 1e-9);
    ck_assert(isnan(b.duty.starts_per_running_hour));
    ck_assert_ptr_null(b.duty.date_100);
    b.plan.date = "2025-05-05";
    bench_duty(&b);
    ck_assert_ptr_nonnull(b.duty.date_100);
    bench_close(&b);
}
END_TEST

START_TEST(us_class_has_no_life)
{
    bench b;
    demo(&b, "us");
    work(&b);
    b.hoist.group = "H4";
    bench_meter(&b, NULL, 500, 80000);
    bench_duty(&b);
    ck_assert_str_eq(b.duty.group_us, "H4");
    ck_assert(isnan(b.duty.life_used) && isnan(b.duty.full_load_hours));
    ck_assert_double_eq_tol(b.duty.running_hours, 500, 1e-9);
    ck_assert_ptr_nonnull(strstr(b.duty.incomplete, "US"));
    ck_assert_str_eq(b.duty.group_needed_iso, "M5"); /* beside it, from the work alone */
    bench_close(&b);
}
END_TEST

static void refused(bench *b, const char *says)
{
    const size_t before = b->errors->n;
    ck_assert_int_eq(bk_hoist_duty_of(&b->plan, &b->hoist, b->tables, b->arena, NULL, &b->duty, b->errors), BK_E_VALUE);
    ck_assert_uint_eq(b->errors->n, before + 1);
    ck_assert_ptr_nonnull(strstr(b->errors->at[before].text, says));
}

START_TEST(log_that_contradicts_itself)
{
    bench b;
    demo(&b, "en");
    bench_meter(&b, "2023-01-10", 300, 4000);
    bk_meter *m = bench_meter(&b, "2024-01-10", 290, 5000);
    refused(&b, "swapped");
    m->on_time_s = 310 * 3600.0;
    m->starts = 3999;
    refused(&b, "swapped");
    m->starts = NAN; /* not read this time */
    m->date = "2022-12-31";
    refused(&b, "back in time");
    m->date = "2024-02-30";
    refused(&b, "YYYY-MM-DD");
    m->date = "2023-01-20"; /* 10 days hold 240 hours */
    m->on_time_s = 570 * 3600.0;
    refused(&b, "270 running hours since the reading before, in 10 days: no meter runs more than 24 a day");
    m->on_time_s = 310 * 3600.0;
    m->date = NULL;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.running_hours, 310, 1e-9);
    bench_close(&b);
}
END_TEST

START_TEST(unknown_recording)
{
    bench b;
    demo(&b, "en");
    bench_meter(&b, NULL, 300, NAN);
    b.hoist.duty.recorded = "guess";
    ck_assert_int_eq(bk_hoist_duty_of(&b.plan, &b.hoist, b.tables, b.arena, NULL, &b.duty, b.errors), BK_E_WORD);
    ck_assert_ptr_nonnull(strstr(b.errors->at[0].text, "recorder, counters, process, production, undocumented, unknown"));
    bench_close(&b);
}
END_TEST

/* ---- intervals --------------------------------------------------------------------------------- */

START_TEST(tightest_and_next)
{
    bench b;
    demo(&b, "en");
    work(&b);
    b.hoist.duty.inspected = "2025-01-31";
    bench_meter(&b, NULL, 1700, 40000);
    bench_duty(&b);
    size_t tight_periodic = 0, services = 0;
    for (size_t i = 0; i < b.duty.n_intervals; i++) {
        const bk_hoist_interval *v = &b.duty.intervals[i];
        ck_assert_ptr_nonnull(v->what);
        ck_assert_ptr_nonnull(v->source);
        if (!strcmp(v->kind, "periodic") && v->tightest) {
            tight_periodic++;
            ck_assert_double_eq(v->months, 3); /* severity not stated: severe */
            ck_assert_str_eq(v->due, "2025-05-02"); /* 91 days on */
        }
        if (!strcmp(v->kind, "frequent") || !strcmp(v->kind, "special")) ck_assert_ptr_null(v->due);
        if (strcmp(v->kind, "service")) continue;
        services++;
        ck_assert_int_eq(v->mark, BK_MARK_DEMO); /* placeholders */
        if (!isnan(v->hours)) {
            ck_assert_double_gt(v->next_hours, 1700);
            ck_assert_double_le(v->next_hours, 1700 + v->hours);
            ck_assert_double_eq_tol(fmod(v->next_hours, v->hours), 0, 1e-9);
        }
    }
    ck_assert_uint_eq(tight_periodic, 1);
    /* in normal service three regimes ask for a year, and none is tighter than another (LOLER, DGUV V54, ASME B30.16) */
    b.hoist.duty.service = "normal";
    bench_duty(&b);
    size_t yearly = 0;
    for (size_t i = 0; i < b.duty.n_intervals; i++)
        if (!strcmp(b.duty.intervals[i].kind, "periodic") && b.duty.intervals[i].tightest) {
            yearly++;
            ck_assert_double_eq(b.duty.intervals[i].months, 12);
            ck_assert_str_eq(b.duty.intervals[i].due, "2026-01-31");
        }
    ck_assert_uint_eq(yearly, 3);
    b.hoist.duty.service = "heavy";
    bench_duty(&b);
    for (size_t i = 0; i < b.duty.n_intervals; i++)
        if (!strcmp(b.duty.intervals[i].kind, "periodic")) ck_assert_int_eq(b.duty.intervals[i].tightest, b.duty.intervals[i].months < 7);
    ck_assert_uint_ge(services, 4);
    bench_close(&b);
}
END_TEST

/* ---- calendar ---------------------------------------------------------------------------------- */

START_TEST(dates)
{
    static const struct {
        const char *text;
        long day;
    } is[] = {/* days from 1970-01-01 as /usr/bin/date -u -d DATE +%s gives them, over 86400 */
              {"1970-01-01", 0},     {"2000-02-29", 11016}, {"2000-03-01", 11017}, {"2100-02-28", 47540},
              {"2100-03-01", 47541}, {"1600-12-31", -134775}, {"0001-01-01", -719162}, 
              {"9999-12-31", 2932896}};
    bk_arena *arena = bk_arena_new();
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        long day;
        ck_assert_msg(bk_calendar_read(is[i].text, &day), "%s", is[i].text);
        ck_assert_int_eq(day, is[i].day);
        ck_assert_str_eq(bk_calendar_print(arena, day), is[i].text);
    }
    static const char *const none[] = {"",           "2024",       "2024-13-01", "2024-00-10", "2023-02-29", "1900-02-29",
                                       "2024-04-31", "2024-04-00", "24-04-01",   "2024/04/01", "2024-04-010", "2024-4-1", "0000-01-01", "2024-12-32",
                                       "20x4-01-01", "2024-0:-10", "202/-01-01"};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        long day;
        ck_assert_msg(!bk_calendar_read(none[i], &day), "%s", none[i]);
    }
    ck_assert_ptr_null(bk_calendar_print(arena, 2932897));
    ck_assert_ptr_null(bk_calendar_print(arena, -719163));
    bk_arena_free(arena);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("hoist");
    TCase *forces = tcase_create("forces"), *duty = tcase_create("duty"), *life = tcase_create("life");
    tcase_add_test(forces, body_up);
    tcase_add_test(forces, body_down);
    tcase_add_test(forces, both_standards_are_kept);
    tcase_add_test(forces, unknown_is_unkind);
    tcase_add_test(forces, the_plan_overrides);
    tcase_add_test(forces, sudden_stop_upper_bound);
    tcase_add_test(forces, stiffness_of_nought);
    tcase_add_test(forces, sudden_stop_over_a_distance);
    tcase_add_test(forces, overshoot);
    tcase_add_test(forces, us_rule_is_named);
    tcase_add_test(forces, falls_not_stated_is_one);
    tcase_add_test(forces, working_changes_nothing);
    tcase_add_test(forces, a_rule_that_is_missing);
    tcase_add_test(duty, what_the_work_asks);
    tcase_add_test(duty, time_in_creep);
    tcase_add_test(duty, heavy_hook_block);
    tcase_add_test(duty, no_spectrum_is_full_load);
    tcase_add_test(duty, second_hoist_of_a_plan);
    tcase_add_test(duty, half_of_it_stated);
    tcase_add_test(duty, one_standard_has_a_group_the_other_none);
    tcase_add_test(duty, a_heavy_hook_asks_for_the_next_group);
    tcase_add_test(duty, what_is_missing);
    tcase_add_test(duty, no_duty_is_no_duty);
    tcase_add_test(duty, unknown_group);
    tcase_add_test(life, log_with_a_swap);
    tcase_add_test(life, date_of_the_end);
    tcase_add_test(life, rate_over_the_time_in_service);
    tcase_add_test(life, rate_between_dates_by_iso);
    tcase_add_test(life, rate_of_the_duty);
    tcase_add_test(life, nothing_has_run);
    tcase_add_test(life, no_meter);
    tcase_add_test(life, us_class_has_no_life);
    tcase_add_test(life, log_that_contradicts_itself);
    tcase_add_test(life, log_that_begins_late);
    tcase_add_test(life, unknown_recording);
    tcase_add_test(life, tightest_and_next);
    tcase_add_test(life, dates);
    suite_add_tcase(suite, forces);
    suite_add_tcase(suite, duty);
    suite_add_tcase(suite, life);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
