/* Hoists against published figures.  Beside each: the source, and `memory` where the clause was not read
 * but recalled, `derived` where the figure follows by arithmetic from the one named.
 */
#include "../unit/hoist_bench.h"

#include <becket/quantity.h>

#include <stdio.h>
#include <string.h>

#define MIN 60.0 /* m/min -> m/s */
static const double YEAR = 31557600.0 /* Julian */, FT = 0.3048, G = 9.80665;

/* ---- dynamic factors --------------------------------------------------------------------------- */

/* EN 1991-3, table 2.5 (memory): phi2 = phi2,min + beta2 v_h.  The figures are worked by hand from it. */
START_TEST(lift_off_en_1991_3)
{
    static const struct {
        const char *hc;
        double v, phi2;
    } is[] = {{"HC2", 8 / MIN, 1.14533}, {"HC3", 5 / MIN, 1.19250}, {"HC4", 8 / MIN, 1.29067}, {"HC3", 0.2, 1.2520},
              {"HC2", 4 / MIN, 1.12267}, {"HC1", 6 / MIN, 1.06700}};
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        bench b;
        bench_open(&b, "en");
        b.hoist.hoisting_class = is[i].hc;
        b.hoist.drive_class = "HD1";
        b.hoist.speed_m_s = is[i].v;
        bench_forces(&b, 7300, NAN);
        ck_assert_double_eq_tol(b.forces.dynamic_1991, is[i].phi2, 5e-6);
        ck_assert_double_eq_tol(b.forces.dynamic_factor, is[i].phi2, 5e-6);
        bench_close(&b);
    }
}
END_TEST

/* EN 13001-2, tables 2 and 3 (memory): the drive class sets the speed, and phi2,min of HD3 and HD5 is 1.05. */
START_TEST(lift_off_en_13001_2)
{
    static const struct {
        const char *hc, *hd;
        double phi2;
    } is[] = {/* main 8 m/min, creep 1.3 m/min */
              {"HC2", "HD1", 1.10 + 0.34 * 8 / 60},   {"HC2", "HD2", 1.10 + 0.34 * 1.3 / 60},
              {"HC2", "HD3", 1.05 + 0.34 * 1.3 / 60}, {"HC3", "HD4", 1.15 + 0.51 * 4 / 60},
              {"HC4", "HD5", 1.05},                   {"HC4", "HD3", 1.05 + 0.68 * 1.3 / 60}};
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        bench b;
        bench_open(&b, "en");
        b.hoist.hoisting_class = is[i].hc;
        b.hoist.drive_class = is[i].hd;
        b.hoist.speed_m_s = 8 / MIN;
        b.hoist.creep_m_s = 1.3 / MIN;
        bench_forces(&b, 7300, NAN);
        ck_assert_double_eq_tol(b.forces.dynamic_13001, is[i].phi2, 1e-9);
        bench_close(&b);
    }
}
END_TEST

/* FEM 1.001 (memory): psi = 1 + 0.6 v, at least 1.15. */
START_TEST(fem_1_001)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.speed_m_s = 0.4;
    bench_forces(&b, 7300, NAN);
    ck_assert_double_eq_tol(b.forces.dynamic_fem, 1.24, 1e-9);
    b.hoist.speed_m_s = 8 / MIN;
    bench_forces(&b, 7300, NAN);
    ck_assert_double_eq_tol(b.forces.dynamic_fem, 1.15, 1e-9);
    bench_close(&b);
}
END_TEST

/* Minnesota Rules 1305.1607: 15 % below 30 ft/min; half the speed in percent from 30 to 100 ft/min; 50 %
 * above 100 ft/min; none for hand chain hoists.  ASCE 7-16, 4.9.3 (memory): powered monorail 25 %. */
START_TEST(impact_us)
{
    static const struct {
        double fpm, factor, governs;
    } is[] = {{20, 1.15, 1.25}, {29, 1.15, 1.25}, {44, 1.22, 1.25}, {64, 1.32, 1.32}, {100, 1.50, 1.50}, {130, 1.50, 1.50}};
    bench b;
    bench_open(&b, "us");
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        b.hoist.speed_m_s = is[i].fpm * FT / 60;
        bench_forces(&b, 7300, NAN);
        ck_assert_double_eq_tol(b.forces.dynamic_hoist_load, is[i].factor, 1e-9);
        ck_assert_double_eq_tol(b.forces.dynamic_impact, 1.25, 1e-12);
        ck_assert_double_eq_tol(b.forces.dynamic_factor, is[i].governs, 1e-9);
    }
    b.hoist.manual = true;
    bench_forces(&b, 7300, NAN);
    ck_assert_double_eq(b.forces.dynamic_factor, 1.0);
    bench_close(&b);
}
END_TEST

/* Elementary mechanics, m (g + v / t): 8 m/min stopped in 0.2 s is 1.068 times the weight; v^2 / 2 s for a
 * distance. */
START_TEST(sudden_stop)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.speed_m_s = 8 / MIN;
    b.hoist.braking_time_s = 0.2;
    bench_forces(&b, 10000, NAN);
    ck_assert_double_eq_tol(b.forces.sudden_stop_N / 10000, 1.068, 5e-4);
    b.hoist.braking_time_s = NAN;
    b.hoist.braking_distance_m = 8 / MIN * 0.2 / 2; /* the same even slowing down, by its path */
    bench_forces(&b, 10000, NAN);
    ck_assert_double_eq_tol(b.forces.sudden_stop_N / 10000, 1.068, 5e-4);
    bench_close(&b);
}
END_TEST

/* Impact of a moving weight on a spring, any textbook of strength of materials: 1 + v / sqrt(g d), d the
 * static stretch.  Worked by hand for d = 5 mm: 8 m/min 1.60, and 4:1, 6:1, 12:1 creep of it. */
START_TEST(slack_lift)
{
    static const struct {
        double ratio, factor;
    } is[] = {{4, 1.15}, {6, 1.10}, {12, 1.05}};
    bench b;
    bench_open(&b, "en");
    b.hoist.speed_m_s = 8 / MIN;
    for (size_t i = 0; i < 3; i++) {
        b.hoist.creep_m_s = b.hoist.speed_m_s / is[i].ratio;
        bench_forces(&b, 10000, 10000 / 0.005);
        ck_assert_double_eq_tol(b.forces.slack_lift_main, 1.60, 5e-3);
        ck_assert_double_eq_tol(b.forces.slack_lift_creep, is[i].factor, 5e-3);
        ck_assert_double_eq_tol(b.forces.static_stretch_m, 0.005, 1e-12);
    }
    bench_close(&b);
}
END_TEST

/* EN 14492-2, 5.2 (memory): force factor at most 1.6 for a slipping clutch, trip at most 1.25 for an
 * indirect limiter.  Indirect with overshoot, worked by hand: 1000 kg, trip 1.10, k 400 kN/m, 8 m/min,
 * response 0.1 s, brake 0.2 s: 2.187 times the capacity. */
START_TEST(limiters)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.rated_N = 1000 * G;
    b.hoist.speed_m_s = 8 / MIN;
    b.hoist.limiter = BK_LIMITER_DIRECT;
    bench_forces(&b, 5000, 400e3);
    ck_assert_double_eq_tol(b.forces.force_limit_N, 1.6 * 1000 * G, 1e-6);
    b.hoist.limiter = BK_LIMITER_INDIRECT;
    bench_forces(&b, 5000, 400e3);
    ck_assert_double_eq_tol(b.forces.force_limit_N, 1.25 * 1000 * G, 1e-6);
    b.hoist.limiter_at = 1.10;
    b.hoist.response_time_s = 0.1;
    b.hoist.braking_time_s = 0.2;
    bench_forces(&b, 5000, 400e3);
    ck_assert_double_eq_tol(b.forces.force_limit_N / (1000 * G), 2.187, 1e-3);
    ck_assert(b.forces.overshoot_counted);
    bench_close(&b);
}
END_TEST

/* ---- duty -------------------------------------------------------------------------------------- */

/* IEC 60034-1, duty S3 (memory: ten minute window): rest for each minute of running, by arithmetic. */
START_TEST(on_and_rest)
{
    static const struct {
        double ed, on, rest;
    } is[] = {{0.15, 1.5, 5.667}, {0.20, 2, 4}, {0.25, 2.5, 3}, {0.30, 3, 2.333}, {0.40, 4, 1.5},
              {0.50, 5, 1},       {0.60, 6, 0.667}, {0.70, 7, 0.429}, {1.00, 10, 0}};
    bench b;
    bench_open(&b, "en");
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        b.hoist.cyclic_duration_factor = is[i].ed;
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.on_min_in_10, is[i].on, 1e-9);
        ck_assert_double_eq_tol(b.duty.rest_per_run, is[i].rest, 5e-4);
    }
    bench_close(&b);
}
END_TEST

/* FEM 9.683 and FEM 9.755 table 1 (memory): duty, starts and full-load life of each group; ISO 4301-1:1986
 * and FEM 9.511 (memory, cross-checked on a one-page chart): the two names of a group. */
START_TEST(groups)
{
    static const struct {
        const char *iso, *fem;
        double ed, starts, life;
    } is[] = {{"M1", "1Dm", 0.15, 90, 100},  {"M2", "1Cm", 0.20, 120, 200}, {"M3", "1Bm", 0.25, 150, 400},
              {"M4", "1Am", 0.30, 180, 800}, {"M5", "2m", 0.40, 240, 1600}, {"M6", "3m", 0.50, 300, 3200},
              {"M7", "4m", 0.60, 360, 6300}, {"M8", "5m", 0.60, 360, 12500}};
    bench b;
    bench_open(&b, "en");
    for (size_t i = 0; i < sizeof is / sizeof *is; i++)
        for (int by_fem = 0; by_fem < 2; by_fem++) {
            b.hoist.group = by_fem ? is[i].fem : is[i].iso;
            bench_duty(&b);
            ck_assert_str_eq(b.duty.group_iso, is[i].iso);
            ck_assert_str_eq(b.duty.group_fem, is[i].fem);
            ck_assert_double_eq_tol(b.duty.allowed_cdf, is[i].ed, 1e-12);
            ck_assert_double_eq_tol(b.duty.allowed_starts, is[i].starts, 1e-9);
            ck_assert_double_eq_tol(b.duty.full_load_hours, is[i].life, 1e-9);
            ck_assert(b.duty.allowed_of_group);
        }
    bench_close(&b);
}
END_TEST

/* FEM 9.683 (memory): a pole-changing motor of 60 % is a 40/20 one with 120 + 240 starts, and so on down. */
START_TEST(two_speed_split)
{
    static const struct {
        double ed, starts, main, creep, main_starts, creep_starts;
    } is[] = {{25, 150, 16.7, 8.3, 50, 100},  {30, 180, 20.0, 10.0, 60, 120}, {40, 240, 26.7, 13.3, 80, 160},
              {50, 300, 33.3, 16.7, 100, 200}, {60, 360, 40.0, 20.0, 120, 240}};
    bench b;
    bench_open(&b, "en");
    b.hoist.creep_m_s = 1 / MIN;
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        b.hoist.cyclic_duration_factor = is[i].ed / 100;
        b.hoist.starts_per_hour = is[i].starts;
        bench_duty(&b);
        ck_assert_double_eq_tol(100 * b.duty.allowed_main_cdf, is[i].main, 0.05);
        ck_assert_double_eq_tol(100 * b.duty.allowed_creep_cdf, is[i].creep, 0.05);
        ck_assert_double_eq_tol(b.duty.allowed_main_starts, is[i].main_starts, 1e-9);
        ck_assert_double_eq_tol(b.duty.allowed_creep_starts, is[i].creep_starts, 1e-9);
    }
    bench_close(&b);
}
END_TEST

/* A hoist that runs so many hours a day with one load all the time. */
static void runs(bench *b, double hours_per_day, double of_rated)
{
    b->hoist.duty.n_loads = 0;
    bench_load(b, of_rated, 1);
    b->hoist.speed_m_s = 0.1;
    b->hoist.duty.hours_per_day = 24;
    b->hoist.duty.mean_lift_m = 1.8; /* 36 s up and down: a hundredth of an hour */
    b->hoist.duty.cycles_per_hour = hours_per_day / 24 * 100;
    bench_duty(b);
    ck_assert_double_eq_tol(b->duty.running_hours_per_day, hours_per_day, 1e-9);
}

/* ISO 4301-1:1986 and FEM 9.511: every cell that a mean daily running time can reach.  T1 to T7 agree with
 * an unsigned one-page chart of structures and mechanisms classifications; T0 and T8 are memory. */
START_TEST(group_matrix)
{
    static const char *const iso[4][9] = {{"-", "-", "M1", "M2", "M3", "M4", "M5", "M6", "M7"},
                                          {"-", "M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8"},
                                          {"M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8", "-"},
                                          {"M2", "M3", "M4", "M5", "M6", "M7", "M8", "-", "-"}};
    static const char *const fem[4][9] = {{"-", "-", "1Dm", "1Cm", "1Bm", "1Am", "2m", "3m", "4m"},
                                          {"-", "1Dm", "1Cm", "1Bm", "1Am", "2m", "3m", "4m", "5m"},
                                          {"1Dm", "1Cm", "1Bm", "1Am", "2m", "3m", "4m", "5m", "-"},
                                          {"1Cm", "1Bm", "1Am", "2m", "3m", "4m", "5m", "-", "-"}};
    static const char *const t_iso[] = {"T0", "T1", "T2", "T3", "T4", "T5", "T6", "T7", "T8"};
    static const char *const t_fem[] = {"V0.06", "V0.12", "V0.25", "V0.5", "V1", "V2", "V3", "V4", "V5"};
    static const double hours[] = {0.1, 0.2, 0.4, 0.9, 1.7, 2.67, 7.3, 15.1, 17}; /* inside each band */
    static const double k[] = {0.4, 0.57, 0.75, 0.95};
    bench b;
    bench_open(&b, "en");
    for (int l = 0; l < 4; l++)
        for (int t = 0; t < 9; t++) {
            runs(&b, hours[t], k[l]);
            ck_assert_str_eq(b.duty.time_class_iso, t_iso[t]);
            ck_assert_str_eq(b.duty.time_class_fem, t_fem[t]);
            const char *want = iso[l][t], *want_fem = fem[l][t];
            if (!strcmp(want, "-") && l < 2) want = "M1", want_fem = "1Dm"; /* left of the matrix: the lightest will do */
            if (!strcmp(want, "-")) {
                ck_assert(b.duty.no_group_is_enough);
                ck_assert_ptr_null(b.duty.group_needed_iso);
            } else {
                ck_assert_str_eq(b.duty.group_needed_iso, want);
                ck_assert_str_eq(b.duty.group_needed_fem, want_fem);
            }
        }
    bench_close(&b);
}
END_TEST

/* The shipped matrix says the same as the rule M = T + L - 2 (T0..T9, L1..L4), cell by cell. */
START_TEST(shipped_matrix)
{
    bench b;
    bench_open(&b, "en");
    const bk_table *table;
    ck_assert_int_eq(bk_tables_table(b.tables, "hoist-group-matrix", (bk_place){0}, &table, b.errors), BK_OK);
    ck_assert_uint_eq(table->n_rows, 4);
    for (int l = 1; l <= 4; l++)
        for (int t = 0; t <= 9; t++) {
            char column[8], want[8];
            snprintf(column, sizeof column, "t%d", t);
            snprintf(want, sizeof want, "M%d", t + l - 2);
            const bk_yaml *cell = bk_yaml_get(table->rows[l - 1].map, column);
            if (t + l - 2 < 1 || t + l - 2 > 8)
                ck_assert(!cell || !cell->text[0] || cell->text[0] == '~');
            else
                ck_assert_str_eq(cell->text, want);
        }
    bench_close(&b);
}
END_TEST

/* FEM 9.511 (memory): bounds of mean daily hours belong to the lower class. */
START_TEST(time_class_bounds)
{
    static const struct {
        double hours;
        const char *fem;
    } is[] = {{0.12, "V0.06"}, {0.25, "V0.12"}, {0.5, "V0.25"}, {1, "V0.5"}, {2, "V1"}, {4, "V2"}, {8, "V3"}, {16, "V4"},
              {16.01, "V5"}};
    bench b;
    bench_open(&b, "en");
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        runs(&b, is[i].hours, 0.5);
        ck_assert_str_eq(b.duty.time_class_fem, is[i].fem);
    }
    bench_close(&b);
}
END_TEST

/* ISO 4301-1:1986 (memory): Km 0.125, 0.25, 0.5, 1 for L1 to L4; FEM 9.511 (memory): k 0.50, 0.63, 0.80, 1. */
START_TEST(spectrum_classes)
{
    static const struct {
        double k;
        const char *iso, *fem;
    } is[] = {{0.5, "L1", "L1"}, {0.51, "L2", "L2"}, {0.62, "L2", "L2"}, {0.64, "L3", "L3"}, {0.79, "L3", "L3"},
              {0.798, "L4", "L3"} /* Km 0.508 */, {0.81, "L4", "L4"}};
    bench b;
    bench_open(&b, "en");
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        b.hoist.duty.n_loads = 0;
        bench_load(&b, is[i].k, 1);
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.spectrum_factor, is[i].k * is[i].k * is[i].k, 1e-12);
        ck_assert_double_eq_tol(b.duty.cubic_mean_k, is[i].k, 1e-12);
        ck_assert_str_eq(b.duty.spectrum_class, is[i].iso);
        ck_assert_str_eq(b.duty.spectrum_class_fem, is[i].fem);
    }
    bench_close(&b);
}
END_TEST

/* ASME HST-5:2020, 5-1.2.1: half the mean effective load gives eight times the bearing life. */
START_TEST(cube_law)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.group = "M5";
    bench_load(&b, 0.8, 1);
    bench_meter(&b, NULL, 300, NAN);
    bench_duty(&b);
    const double full = b.duty.life_used;
    b.loads[0].of_rated = 0.4;
    bench_duty(&b);
    ck_assert_double_eq_tol(full / b.duty.life_used, 8, 1e-12);
    bench_close(&b);
}
END_TEST

/* FEM 9.511 (memory), worked by hand: 2 H N T / (60 V) with 4 m, 20 an hour, 8 h, 8 m/min is 2.67 h a day:
 * V2; with spectrum L2 group 2m.  An empty pair in each cycle doubles it: V3, 3m. */
START_TEST(mean_daily_running_time)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.speed_m_s = 8 / MIN;
    b.hoist.duty.mean_lift_m = 4;
    b.hoist.duty.cycles_per_hour = 20;
    b.hoist.duty.hours_per_day = 8;
    bench_load(&b, 0.6, 1);
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.running_hours_per_day, 2.67, 5e-3);
    ck_assert_str_eq(b.duty.time_class_fem, "V2");
    ck_assert_str_eq(b.duty.group_needed_fem, "2m");
    ck_assert_str_eq(b.duty.group_needed_iso, "M5");
    b.hoist.duty.empty_return = true;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.running_hours_per_day, 5.33, 5e-3);
    ck_assert_str_eq(b.duty.group_needed_fem, "3m");
    bench_close(&b);
}
END_TEST

/* One-page table of US hoist duty classes, operational time ratings at 65 % load factor. */
START_TEST(us_classes)
{
    static const struct {
        const char *name;
        double percent, starts;
    } is[] = {{"H1", 12.5, 75}, {"H2", 12.5, 75}, {"H3", 25, 150}, {"H4", 50, 300}, {"H5", 100, 600}};
    bench b;
    bench_open(&b, "us");
    for (size_t i = 0; i < 5; i++) {
        b.hoist.group = is[i].name;
        bench_duty(&b);
        ck_assert_str_eq(b.duty.group_us, is[i].name);
        ck_assert_ptr_null(b.duty.group_iso); /* never converted */
        ck_assert_double_eq_tol(100 * b.duty.allowed_cdf, is[i].percent, 1e-9);
        ck_assert_double_eq_tol(b.duty.allowed_starts, is[i].starts, 1e-9);
    }
    /* 15 minutes and 150 starts an hour are H3; a minute more is H4; above 65 % mean load no class holds */
    b.hoist.group = NULL;
    runs(&b, 6, 0.65);
    b.hoist.duty.starts_per_cycle = 6;
    bench_duty(&b);
    ck_assert_str_eq(b.duty.us_class_needed, "H3");
    runs(&b, 6.4, 0.64);
    ck_assert_str_eq(b.duty.us_class_needed, "H4");
    runs(&b, 6.4, 0.66);
    ck_assert_ptr_null(b.duty.us_class_needed);
    bench_close(&b);
}
END_TEST

/* ---- life -------------------------------------------------------------------------------------- */

/* ISO 12482:2014 factor f1: Mechanics & Industry 2019 (mi190171), table 3.  FEM 9.755:1993 factor f (memory). */
START_TEST(recording_factors)
{
    static const struct {
        const char *how;
        double iso, fem;
    } is[] = {{"recorder", 1.0, 1.0},   {"counters", 1.0, 1.1},     {"process", 1.1, 1.2},
              {"production", 1.2, 1.2}, {"undocumented", 1.3, 1.2}, {"unknown", 1.5, 1.2}};
    bench b;
    bench_open(&b, "en");
    b.hoist.group = "M5";
    bench_load(&b, 1, 1);
    bench_meter(&b, NULL, 160, NAN);
    for (size_t i = 0; i < sizeof is / sizeof *is; i++) {
        b.hoist.duty.recorded = is[i].how;
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.factor_iso, is[i].iso, 1e-12);
        ck_assert_double_eq_tol(b.duty.factor_fem, is[i].fem, 1e-12);
        ck_assert_double_eq_tol(b.duty.life_used_iso, 0.1 * is[i].iso, 1e-12);
        ck_assert_double_eq_tol(b.duty.life_used_fem, 0.1 * is[i].fem, 1e-12);
    }
    b.hoist.duty.recorded = NULL;
    b.hoist.duty.history_unknown = true; /* an old hoist with no papers */
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.factor_iso, 1.5, 1e-12);
    bench_close(&b);
}
END_TEST

/* FEM 9.755:1993 (formula memory), worked by hand: 2m, 410 h on the meter in a year; 15 % of the time at
 * full load, 25 % at 60 %, 60 % at 20 %: km 0.2088, S 94.17 h, 1505.8 h left of 1600, 15.99 years; by ISO
 * 12482 with f1 = 1.0 S is 85.61 h. */
START_TEST(worked_example)
{
    bench b;
    bench_open(&b, "en");
    b.hoist.group = "2m";
    bench_load(&b, 1, 0.15);
    bench_load(&b, 0.6, 0.25);
    bench_load(&b, 0.2, 0.60);
    bench_meter(&b, NULL, 410, NAN);
    b.hoist.duty.in_service_s = YEAR;
    bench_duty(&b);
    ck_assert_double_eq_tol(b.duty.spectrum_factor, 0.2088, 1e-12);
    ck_assert_double_eq_tol(b.duty.cubic_mean_k, 0.593, 5e-4);
    ck_assert_str_eq(b.duty.spectrum_class, "L2");
    ck_assert_double_eq_tol(b.duty.used_hours_fem, 94.17, 5e-3);
    ck_assert_double_eq_tol(b.duty.full_load_hours - b.duty.used_hours_fem, 1505.8, 0.05);
    ck_assert_double_eq_tol(b.duty.years_to_100, 15.99, 5e-3);
    ck_assert_double_eq_tol(b.duty.used_hours_iso, 85.61, 5e-3);
    ck_assert_double_eq_tol(b.duty.life_used, 94.17 / 1600, 1e-5);
    ck_assert_double_eq_tol(b.duty.hours_per_year, 410, 1e-9);
    bench_close(&b);
}
END_TEST

/* ---- inspection -------------------------------------------------------------------------------- */

static double months_of(const bench *b, const char *regime, const char *kind)
{
    for (size_t i = 0; i < b->duty.n_intervals; i++) {
        const bk_hoist_interval *v = &b->duty.intervals[i];
        if (v->regime && strstr(v->regime, regime) && !strcmp(v->kind, kind)) return v->months;
    }
    return NAN;
}

/* ASME B30.16 (memory; the same steps for lifting devices in DOE-STD-1090-96, 14.2.5.3): periodic yearly,
 * half-yearly, quarterly.  DGUV Vorschrift 54 s.23: yearly.  LOLER regulation 9: 12 months (as quoted). */
START_TEST(intervals)
{
    static const struct {
        const char *service;
        double months;
    } is[] = {{"normal", 12}, {"heavy", 6}, {"severe", 3}};
    bench b;
    bench_open(&b, "en");
    for (size_t i = 0; i < 3; i++) {
        b.hoist.duty.service = is[i].service;
        bench_duty(&b);
        ck_assert_double_eq(months_of(&b, "B30.16", "periodic"), is[i].months);
        ck_assert_double_eq(months_of(&b, "DGUV V54", "periodic"), 12);
        ck_assert_double_eq(months_of(&b, "LOLER", "periodic"), 12);
        ck_assert_double_eq(months_of(&b, "DGUV V54", "each use"), 0);
        ck_assert_double_eq(months_of(&b, "ISO 12482", "assessment"), 12);
    }
    bench_close(&b);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("reference: hoist");
    TCase *forces = tcase_create("forces"), *duty = tcase_create("duty"), *life = tcase_create("life");
    tcase_add_test(forces, lift_off_en_1991_3);
    tcase_add_test(forces, lift_off_en_13001_2);
    tcase_add_test(forces, fem_1_001);
    tcase_add_test(forces, impact_us);
    tcase_add_test(forces, sudden_stop);
    tcase_add_test(forces, slack_lift);
    tcase_add_test(forces, limiters);
    tcase_add_test(duty, on_and_rest);
    tcase_add_test(duty, groups);
    tcase_add_test(duty, two_speed_split);
    tcase_add_test(duty, group_matrix);
    tcase_add_test(duty, shipped_matrix);
    tcase_add_test(duty, time_class_bounds);
    tcase_add_test(duty, spectrum_classes);
    tcase_add_test(duty, cube_law);
    tcase_add_test(duty, mean_daily_running_time);
    tcase_add_test(duty, us_classes);
    tcase_add_test(life, recording_factors);
    tcase_add_test(life, worked_example);
    tcase_add_test(life, intervals);
    suite_add_tcase(suite, forces);
    suite_add_tcase(suite, duty);
    suite_add_tcase(suite, life);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
