/* Hoists: what must hold whatever the figures, over many invented ones. */
#include "../unit/hoist_bench.h"

#include "../../src/hoist/calendar.h"

#include <stdio.h>

/* xorshift64*: the same numbers in every run */
static uint64_t state = 0x9E3779B97F4A7C15u;
static double uniform(double from, double to)
{
    state ^= state >> 12, state ^= state << 25, state ^= state >> 27;
    return from + (to - from) * (double)((state * 0x2545F4914F6CDD1Du) >> 11) / 9007199254740992.0;
}

static const char *const hc[] = {"HC1", "HC2", "HC3", "HC4"}, *const hd[] = {"HD1", "HD2", "HD3", "HD4", "HD5"};
static const char *const groups[] = {"M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8"};

static void any_hoist(bench *b)
{
    bk_hoist *h = &b->hoist;
    h->rated_N = uniform(2e3, 1e5);
    h->self_mass_kg = uniform(5, 300);
    h->hook_mass_kg = uniform(0.5, 40);
    h->chain_mass_per_m_kg_m = uniform(0.3, 4);
    h->falls = 1 + floor(uniform(0, 3));
    h->height_of_lift_m = uniform(2, 30);
    h->speed_m_s = uniform(0.03, 0.3);
    h->creep_m_s = h->speed_m_s / uniform(3, 12);
    h->hoisting_class = hc[(int)uniform(0, 4)];
    h->drive_class = hd[(int)uniform(0, 5)];
    h->limiter = uniform(0, 1) < 0.5 ? BK_LIMITER_DIRECT : BK_LIMITER_INDIRECT;
    h->limiter_at = uniform(1.1, 1.6);
    h->response_time_s = uniform(0.02, 0.2);
    h->braking_time_s = uniform(0.05, 0.5);
    h->hung = uniform(0, 1) < 0.3 ? BK_BODY_DOWN : BK_BODY_UP;
}

START_TEST(forces_keep_their_order)
{
    for (int i = 0; i < 300; i++) {
        bench b;
        bench_open(&b, i % 2 ? "en" : "us");
        any_hoist(&b);
        const double load = uniform(100, b.hoist.rated_N), k = uniform(1e5, 1e7);
        bench_forces(&b, load, k);
        const bk_hoist_forces f = b.forces;
        ck_assert_double_ge(f.dynamic_factor, 1);
        ck_assert_double_ge(f.dynamic_N, f.static_N);
        ck_assert_double_eq_tol(f.static_N, f.hook_load_N + f.self_N + f.chain_N, 1e-9 * f.static_N);
        ck_assert_double_eq(f.suspension_N, fmax(f.dynamic_N, f.stalled_N));
        ck_assert_int_eq(f.stalled_governs, f.stalled_N > f.dynamic_N);
        ck_assert_double_gt(f.force_limit_N, b.hoist.rated_N);
        ck_assert_double_ge(f.sudden_stop_N, f.static_N);
        ck_assert_double_gt(f.slack_lift_main, f.slack_lift_creep);
        if (i % 2) ck_assert_double_ge(f.dynamic_1991 + 1e-12, f.dynamic_13001); /* full speed is never kinder */
        /* stiffer: slack lift-off and an upper-bound stop are harder; nothing else below the limiter changes */
        bench_forces(&b, load, 4 * k);
        ck_assert_double_eq_tol(b.forces.slack_lift_main - 1, 2 * (f.slack_lift_main - 1), 1e-9);
        ck_assert_double_eq(b.forces.dynamic_N, f.dynamic_N);
        if (b.hoist.limiter == BK_LIMITER_DIRECT)
            ck_assert_double_eq(b.forces.force_limit_N, f.force_limit_N);
        else
            ck_assert_double_gt(b.forces.force_limit_N, f.force_limit_N);
        bench_close(&b);
    }
}
END_TEST

/* Everything twice as heavy, and as stiff: every force is doubled, no factor changes. */
START_TEST(forces_scale)
{
    for (int i = 0; i < 200; i++) {
        bench b;
        bench_open(&b, i % 2 ? "en" : "us");
        any_hoist(&b);
        const double load = uniform(100, b.hoist.rated_N), k = uniform(1e5, 1e7), s = uniform(0.2, 9);
        bench_forces(&b, load, k);
        const bk_hoist_forces f = b.forces;
        b.hoist.rated_N *= s, b.hoist.self_mass_kg *= s, b.hoist.hook_mass_kg *= s, b.hoist.chain_mass_per_m_kg_m *= s;
        bench_forces(&b, s * load, s * k);
        ck_assert_double_eq_tol(b.forces.suspension_N / s, f.suspension_N, 1e-9 * f.suspension_N);
        ck_assert_double_eq_tol(b.forces.stalled_N / s, f.stalled_N, 1e-9 * f.stalled_N);
        ck_assert_double_eq_tol(b.forces.sudden_stop_N / s, f.sudden_stop_N, 1e-9 * f.sudden_stop_N);
        ck_assert_double_eq_tol(b.forces.slack_lift_creep, f.slack_lift_creep, 1e-9);
        ck_assert_double_eq(b.forces.dynamic_factor, f.dynamic_factor);
        bench_close(&b);
    }
}
END_TEST

static double number(const bk_row *row, const char *column, bk_dim dim)
{
    bk_value value;
    char why[160];
    const bk_yaml *cell = bk_yaml_get(row->map, column);
    ck_assert_ptr_nonnull(cell);
    ck_assert_int_eq(bk_quantity_read(cell->text, dim, &value, why, sizeof why), BK_OK);
    return value.v;
}

/* Every class of both tables starts 600 times in an hour of running (but M8, whose 60 % is that of M7). */
START_TEST(six_hundred_starts)
{
    bench b;
    bench_open(&b, "en");
    static const char *const names[] = {"hoist-group", "hoist-us-duty"};
    for (int t = 0; t < 2; t++) {
        const bk_table *table;
        ck_assert_int_eq(bk_tables_table(b.tables, names[t], (bk_place){0}, &table, b.errors), BK_OK);
        for (size_t i = 0; i < table->n_rows; i++)
            ck_assert_double_eq_tol(number(&table->rows[i], "starts_per_hour", BK_DIM_NONE) /
                                        number(&table->rows[i], "cyclic_duration_factor", BK_DIM_NONE),
                                    600, 1e-9);
    }
    const bk_rule *rule = bk_rules_find(b.plan.rules, "duty.starts_per_running_hour");
    ck_assert_ptr_nonnull(rule);
    ck_assert_double_eq(rule->value, 600);
    bench_close(&b);
}
END_TEST

/* Life halves from spectrum to spectrum, and doubles from group to group (rounded to 1, 2, 4, 8, 16, 32,
 * 63, 125 hundreds): each column of the table is the next group's column to its right. */
START_TEST(life_goes_by_doubling)
{
    bench b;
    bench_open(&b, "en");
    const bk_table *table;
    static const char *const columns[] = {"life_l1", "life_l2", "life_l3", "full_load_life"};
    ck_assert_int_eq(bk_tables_table(b.tables, "hoist-group", (bk_place){0}, &table, b.errors), BK_OK);
    for (size_t i = 0; i + 1 < table->n_rows; i++)
        for (int c = 0; c < 3; c++)
            ck_assert_double_eq_tol(number(&table->rows[i], columns[c], BK_DIM_TIME),
                                    number(&table->rows[i + 1], columns[c + 1], BK_DIM_TIME), 1e-6);
    bench_close(&b);
}
END_TEST

static void any_duty(bench *b)
{
    b->hoist.duty.n_loads = 0;
    double left = 1;
    const int n = 1 + (int)uniform(0, 5);
    for (int i = 0; i < n; i++) {
        const double share = i == n - 1 ? left : left * uniform(0.1, 0.7);
        bench_load(b, uniform(0, 1), share);
        left -= share;
    }
    b->hoist.duty.cycles_per_hour = uniform(1, 30);
    b->hoist.duty.mean_lift_m = uniform(0.5, 4);
    b->hoist.duty.hours_per_day = uniform(0.5, 16);
    b->hoist.group = groups[(int)uniform(0, 8)];
}

static int group_number(const char *group)
{
    return group ? group[1] - '0' : 9;
}

/* More of anything never asks for a lighter group. */
START_TEST(harder_work_needs_no_lighter_group)
{
    for (int i = 0; i < 300; i++) {
        bench b;
        bench_open(&b, "en");
        any_hoist(&b);
        any_duty(&b);
        bench_duty(&b);
        const bk_hoist_duty before = b.duty;
        switch (i % 4) {
        case 0: b.hoist.duty.cycles_per_hour *= 1.7; break;
        case 1: b.hoist.duty.empty_return = true; break;
        case 2: b.loads[0].of_rated = 1; break;
        case 3: b.hoist.speed_m_s /= 2; break;
        }
        bench_duty(&b);
        ck_assert_int_ge(group_number(b.duty.group_needed_iso), group_number(before.group_needed_iso));
        ck_assert_double_ge(b.duty.spectrum_factor, before.spectrum_factor);
        ck_assert_double_ge(b.duty.running_hours_per_day, before.running_hours_per_day);
        ck_assert_double_eq_tol(pow(b.duty.cubic_mean_k, 3), b.duty.spectrum_factor, 1e-12);
        bench_close(&b);
    }
}
END_TEST

/* A spectrum is a sum over time: its order, and a step cut in two, make no difference. */
START_TEST(spectrum_is_a_sum)
{
    for (int i = 0; i < 200; i++) {
        bench b;
        bench_open(&b, "en");
        any_hoist(&b);
        any_duty(&b);
        bench_duty(&b);
        const double km = b.duty.spectrum_factor;
        const size_t n = b.hoist.duty.n_loads;
        const double cut = uniform(0.1, 0.9);
        b.loads[n] = (bk_duty_load){b.loads[0].of_rated, cut * b.loads[0].time};
        b.loads[0].time *= 1 - cut;
        const bk_duty_load first = b.loads[0];
        b.loads[0] = b.loads[n - 1];
        b.loads[n - 1] = first;
        b.hoist.duty.n_loads++;
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.spectrum_factor, km, 1e-12);
        ck_assert_double_le(km, pow(1.2, 3));
        bench_close(&b);
    }
}
END_TEST

/* Used life adds up: a reading more in between, or a meter swapped, changes nothing; the greater of both
 * schemes is shown. */
START_TEST(life_adds_up)
{
    for (int i = 0; i < 200; i++) {
        bench b;
        bench_open(&b, "en");
        any_hoist(&b);
        any_duty(&b);
        const double hours = uniform(50, 5000), cut = uniform(0.1, 0.9), start = uniform(0, 99);
        bench_meter(&b, NULL, hours, NAN);
        bench_duty(&b);
        const bk_hoist_duty whole = b.duty;
        ck_assert_double_eq(whole.life_used, fmax(whole.life_used_fem, whole.life_used_iso));
        ck_assert_double_eq_tol(whole.used_hours_fem, whole.spectrum_factor * hours * whole.factor_fem, 1e-9 * hours);
        b.hoist.duty.n_meters = 0;
        bench_meter(&b, NULL, cut * hours, NAN);
        bench_meter(&b, NULL, hours, NAN);
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.life_used, whole.life_used, 1e-12);
        b.hoist.duty.n_meters = 1;
        bench_meter(&b, NULL, start, NAN)->swapped = true;
        bench_meter(&b, NULL, start + (1 - cut) * hours, NAN);
        bench_duty(&b);
        ck_assert_double_eq_tol(b.duty.life_used, whole.life_used, 1e-12);
        ck_assert_double_eq_tol(b.duty.running_hours, hours, 1e-9 * hours);
        bench_close(&b);
    }
}
END_TEST

/* Rest and run: the share of time comes back from both. */
START_TEST(rest_and_run)
{
    bench b;
    bench_open(&b, "en");
    for (int i = 0; i < 200; i++) {
        const double ed = uniform(0.05, 1);
        b.hoist.cyclic_duration_factor = ed;
        bench_duty(&b);
        ck_assert_double_eq_tol(1 / (1 + b.duty.rest_per_run), ed, 1e-12);
        ck_assert_double_eq_tol(b.duty.on_min_in_10 * (1 + b.duty.rest_per_run), 10, 1e-9);
        ck_assert_int_eq(b.duty.rest_per_run > 1, ed < 0.5); /* below half the rest is longer than the run */
    }
    bench_close(&b);
}
END_TEST

/* Every day of five centuries, counted one by one with the leap rule written out. */
START_TEST(every_day)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bk_arena *arena = bk_arena_new();
    long expected = -135140; /* 1600-01-01 */
    for (int y = 1600; y < 2100; y++)
        for (int m = 1; m <= 12; m++) {
            const bool leap = (y % 4 == 0 && y % 100 != 0) || y % 400 == 0;
            const int last = days[m - 1] + (m == 2 && leap);
            for (int d = 1; d <= last; d++, expected++) {
                char text[48];
                snprintf(text, sizeof text, "%04d-%02d-%02d", y, m, d);
                long day;
                ck_assert(bk_calendar_read(text, &day) && day == expected);
                if (d == 1 || d == last) ck_assert_str_eq(bk_calendar_print(arena, day), text);
            }
        }
    bk_arena_free(arena);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("property: hoist");
    TCase *all = tcase_create("all");
    tcase_set_timeout(all, 60);
    tcase_add_test(all, forces_keep_their_order);
    tcase_add_test(all, forces_scale);
    tcase_add_test(all, six_hundred_starts);
    tcase_add_test(all, life_goes_by_doubling);
    tcase_add_test(all, harder_work_needs_no_lighter_group);
    tcase_add_test(all, spectrum_is_a_sum);
    tcase_add_test(all, life_adds_up);
    tcase_add_test(all, rest_and_run);
    tcase_add_test(all, every_day);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
