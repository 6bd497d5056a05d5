/* A hoist, a plan and the shipped tables to try them with: shared by the tests of the hoist room. */
#ifndef BK_TEST_HOIST_BENCH_H
#define BK_TEST_HOIST_BENCH_H

#include <becket/hoist.h>

#include <check.h>
#include <stdlib.h>

typedef struct bench {
    bk_arena *arena;
    bk_tables *tables;
    bk_errors *errors;
    bk_plan plan;
    bk_hoist hoist;
    bk_duty_load loads[8];
    bk_meter meters[8];
    bk_hoist_forces forces;
    bk_hoist_duty duty;
} bench;

static inline void bench_open(bench *b, const char *rules)
{
    static const char *dirs[1];
    dirs[0] = getenv("BECKET_TABLES");
    ck_assert_ptr_nonnull(dirs[0]);
    *b = (bench){.arena = bk_arena_new(), .tables = bk_tables_new(dirs, 1, 0), .errors = bk_errors_new()};
    b->plan = (bk_plan){.arena = b->arena, .file = "bench", .dynamic_factor = {NAN, 0},
                        .rigging_factor = 1, .floor_m = NAN, .wind = {NAN, NAN, NAN}};
    ck_assert_int_eq(bk_tables_rules(b->tables, rules, (bk_place){0}, &b->plan.rules, b->errors), BK_OK);
    b->hoist = (bk_hoist){.name = "main", .source = "stated in the plan", .mark = BK_MARK_USER,
#define X(key, field, dim, text) .field = NAN,
                          BK_HOIST_NUMBERS(X)
#undef X
                              .speed_m_s = NAN, .creep_m_s = NAN, .limiter_at = NAN, .clear_m = NAN,
                          .clear_over_m = NAN,
                          .duty = {.given = true, .cycles_per_hour = NAN, .hours_per_day = NAN, .days_per_year = NAN,
                                   .mean_lift_m = NAN, .in_service_s = NAN, .starts_per_cycle = NAN,
                                   .creep_share = NAN, .creep_starts_share = NAN}};
    b->plan.hoists = &b->hoist;
    b->plan.n_hoists = 1;
    b->plan.duty_loads = b->loads;
    b->plan.meters = b->meters;
}

static inline void bench_close(bench *b)
{
    bk_errors_free(b->errors);
    bk_tables_free(b->tables);
    bk_arena_free(b->arena);
}

static inline void bench_load(bench *b, double of_rated, double time)
{
    b->loads[b->hoist.duty.n_loads++] = (bk_duty_load){of_rated, time};
}

static inline bk_meter *bench_meter(bench *b, const char *date, double hours, double starts)
{
    bk_meter *m = &b->meters[b->hoist.duty.n_meters++];
    *m = (bk_meter){.date = date, .on_time_s = hours * 3600, .starts = starts};
    return m;
}

static inline void bench_forces(bench *b, double load_N, double stiffness_N_m)
{
    ck_assert_int_eq(bk_hoist_forces_of(&b->plan, &b->hoist, load_N, stiffness_N_m, NULL, &b->forces, b->errors), BK_OK);
}

static inline void bench_duty(bench *b)
{
    const bk_status status =
        bk_hoist_duty_of(&b->plan, &b->hoist, b->tables, b->arena, NULL, &b->duty, b->errors);
    ck_assert_msg(status == BK_OK, "%s", b->errors->n ? b->errors->at[0].text : "no message");
}

#endif
