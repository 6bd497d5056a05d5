/* Tackles and redirecting blocks against worked figures. */
#include "../unit/assess.h"

static void tackle(bench *b, const char *keys)
{
    char text[600];
    snprintf(text, sizeof text, "becket: 1\ntackles: {t: {%s}}\n", keys);
    bench_open(b, text);
    ck_assert_int_eq(b->status, BK_OK);
}

/* Lead-line pull of four falls on plain sheaves, loss factor 1.045 (crane practice, memory): W 10, P 2.787, from the sum
 * of a geometric series worked apart: W = P (1/k + 1/k2 + 1/k3 + 1/k4). */
START_TEST(four_falls_plain)
{
    bench b;
    tackle(&b, "load: 10 kN, falls: 4, bearing: plain");
    const double k = 1.045, P = 10e3 / (1 / k + 1 / pow(k, 2) + 1 / pow(k, 3) + 1 / pow(k, 4));
    ck_assert_double_eq_tol(bench_find(&b, "tackle.line", "t", NULL)->demand, 2787, 0.5);
    ck_assert_double_eq_tol(bench_find(&b, "tackle.line", "t", NULL)->demand, P, 1e-6);
    ck_assert_double_eq_tol(bench_find(&b, "tackle.anchor", "t", NULL)->demand, 10e3 + P, 1e-6);
    ck_assert_int_eq(b.a->verdict, BK_VERDICT_INCOMPLETE);
    bench_close(&b);
}
END_TEST

/* Block load factors 2 cos(angle / 2) as every rigging text prints them: 0 2.000, 60 1.732, 90 1.414, 120 1.000, 180 0. */
START_TEST(block_factors)
{
    static const struct {
        double angle, factor;
    } row[] = {{0, 2.000}, {60, 1.732}, {90, 1.414}, {120, 1.000}, {150, 0.518}, {180, 0}};
    char keys[200];
    snprintf(keys, sizeof keys, "load: 7.3 kN, falls: 1, lead_sheaves: 1, bearing: rolling, angle: %g deg", row[_i].angle);
    bench b;
    tackle(&b, keys);
    const double P = bench_find(&b, "tackle.line", "t", NULL)->demand;
    ck_assert_double_eq_tol(P, 7.3e3 * 1.02 * 1.02, 1e-6);
    ck_assert_double_eq_tol(bench_find(&b, "tackle.lead_anchor", "t", NULL)->demand / P, row[_i].factor, 5e-4);
    bench_close(&b);
}
END_TEST

/* The seaman's rule of a tenth a sheave (seamanship practice, memory): 4 sheaves, 4 falls, 1000 lb: 350 lb. */
START_TEST(fibre_tackle)
{
    bench b;
    tackle(&b, "load: 1000 lb, falls: 4, bearing: fibre, pull_limit: 360 lb, line: {what: rope, wll: 400 lb}, "
               "block: {what: block, wll: 2000 lb}, limit: 1400 lb");
    ck_assert_double_eq_tol(bench_find(&b, "tackle.pull", "t", NULL)->demand, 350 * 4.4482216152605, 1e-6);
    ck_assert_int_eq(b.a->verdict, BK_VERDICT_PASS);
    bench_close(&b);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("tackles");
    TCase *t = tcase_create("tackles");
    tcase_add_test(t, four_falls_plain);
    tcase_add_loop_test(t, block_factors, 0, 6);
    tcase_add_test(t, fibre_tackle);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
