/* What would pass, the largest load, levelling, margins, several hooks: each figure worked by hand beside it. */
#include "assess.h"

#include <becket/report.h>

#define HEAD "becket: 1\n"

START_TEST(next_row_that_passes)
{
    bench b;
    /* 4 t on one leg: 10 mm holds 3.15 t, 13 mm 5.3 t (EN 818-4, memory) */
    bench_open(&b, HEAD "bodies: {load: {mass: 4 t, cog: 0 0 -1 m, points: {a: 0 0 0 m}}}\n"
                        "anchors: {hook: {at: 0 0 2 m, limit: 200 kN}}\n"
                        "lines: {a: {from: hook, to: load.a, mass: 0 kg, parts: [chain-en818-4/10]}}\n");
    const bk_would_pass *w;
    size_t n;
    ck_assert_int_eq(bk_advise_would_pass(b.a, &b.options, &w, &n, b.errors), BK_OK);
    ck_assert_uint_eq(n, 1);
    ck_assert_str_eq(w[0].ref, "chain-en818-4/13");
    ck_assert_double_eq_tol(w[0].utilisation, 4 / 5.3, 1e-6);
    bk_largest_load l;
    ck_assert_int_eq(bk_advise_largest_load(b.a, &b.options, &l, b.errors), BK_OK);
    ck_assert_double_eq_tol(l.mass_kg, 3150, 0.1);
    ck_assert_str_eq(l.check, "line.wll");
    bench_close(&b);
}
END_TEST

/* The same row in several places, one of them in a map, and its name once more in a remark: every part is exchanged, for a longer name and for
 * one as long.  Half of the load on each of two upright lines; 8, 10, 13, 16 and 18 mm hold 2, 3.15, 5.3, 8 and 10 t (EN 818-4, memory). */
START_TEST(a_row_in_many_places)
{
    const struct { const char *was, *row; double mass_t, use; } cases[] = {{"8", "10", 5, 2.5 / 3.15}, {"10", "13", 9, 4.5 / 5.3}, {"16", "18", 19, 9.5 / 10}};
    for (int i = 0; i < 3; i++) {
        char text[1200];
        bench b;
        snprintf(text, sizeof text, HEAD "# all of chain-en818-4/%s\nbodies: {load: {mass: %g t, cog: 0 0 -1 m, points: {a: -1 0 0 m, b: 1 0 0 m}}}\n"
                 "anchors: {ha: {at: -1 0 3 m, limit: 200 kN}, hb: {at: 1 0 3 m, limit: 200 kN}}\n"
                 "lines: {a: {from: ha, to: load.a, mass: 0 kg, parts: [chain-en818-4/%s, {what: shackle, wll: 20 t}]},\n"
                 "        b: {from: hb, to: load.b, mass: 0 kg, parts: [{part: chain-en818-4/%s, length: 2 m}]}}\n", cases[i].was, cases[i].mass_t, cases[i].was, cases[i].was);
        bench_open(&b, text);
        const bk_would_pass *w;
        size_t n;
        ck_assert_int_eq(bk_advise_would_pass(b.a, &b.options, &w, &n, b.errors), BK_OK);
        ck_assert_uint_eq(n, 2);
        for (size_t k = 0; k < n; k++) {
            char row[40];
            snprintf(row, sizeof row, "chain-en818-4/%s", cases[i].row);
            ck_assert_str_eq(w[k].ref, row);
            ck_assert_double_eq_tol(w[k].utilisation, cases[i].use, 3e-3);
        }
        bench_close(&b);
    }
}
END_TEST

/* A lighter load does not close a hook: 34 mm of 31 mm when new is past every limit, whatever hangs. */
START_TEST(no_load_where_gear_is_discarded)
{
    bench b;
    bench_open(&b, HEAD "bodies: {load: {mass: 2 t, cog: 0 0 -1 m, points: {a: 0 0 0 m}}}\n"
                        "anchors: {hook: {at: 0 0 2 m, limit: 200 kN}}\n"
                        "lines: {a: {from: hook, to: load.a, mass: 0 kg, parts: [chain-en818-4/10]}}\n"
                        "inspect: {old hook: {what: hook, throat: {new: 31 mm, measured: 34.9 mm}}}\n");
    bk_largest_load l;
    ck_assert_int_eq(bk_advise_largest_load(b.a, &b.options, &l, b.errors), BK_OK);
    ck_assert_str_eq(l.anyway_check, "inspect.throat");
    ck_assert_str_eq(l.anyway_item, "old hook");
    ck_assert_double_eq_tol(l.mass_kg, 3150, 0.1);
    const bk_advice advice = {.has_largest = true, .largest = l};
    char *text = bk_report_text(b.a, &advice, (bk_style){.columns = 100});
    ck_assert_ptr_nonnull(strstr(text, "none: inspect.throat old hook fails, whatever the load weighs"));
    free(text);
    bench_close(&b);
}
END_TEST

/* A soft truss of 1 t on three lines rated 1 t at its ends and 0.7 t in the middle, which carries 5/8 (continuous beam, any
 * handbook): 1.12 times that load is all; as a stiff body the middle carries a third. */
START_TEST(a_soft_truss_stops_the_load)
{
    bench b;
    bench_open(&b, "becket: 1\n"
                   "bodies: {truss: {mass: 1 t, cog: 6 0 -0.3 m, ei: 1000 kN m2, points: {a: 0 0 0 m, b: 6 0 0 m, c: 12 0 0 m}}}\n"
                   "anchors: {a: {at: 0 0 9 m, limit: 90 kN}, b: {at: 6 0 9 m, limit: 90 kN}, c: {at: 12 0 9 m, limit: 90 kN}}\n"
                   "lines: {a: {from: a, to: truss.a, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 1 t}]},\n"
                   "        b: {from: b, to: truss.b, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 0.7 t}]},\n"
                   "        c: {from: c, to: truss.c, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 1 t}]}}\n");
    bk_largest_load l;
    ck_assert_int_eq(bk_advise_largest_load(b.a, &b.options, &l, b.errors), BK_OK);
    ck_assert_double_eq_tol(l.factor, 0.7 / (5 / 8.0), 0.003);
    ck_assert_str_eq(l.check, "line.flexible_share");
    ck_assert_str_eq(l.item, "b");
    bench_close(&b);
}
END_TEST

START_TEST(no_row_is_enough)
{
    bench b;
    bench_open(&b, HEAD "bodies: {load: {mass: 400 t, cog: 0 0 -1 m, points: {a: 0 0 0 m}}}\n"
                        "anchors: {hook: {at: 0 0 2 m, limit: 20 MN}}\n"
                        "lines: {a: {from: hook, to: load.a, mass: 0 kg, parts: [chain-en818-4/10]}}\n");
    const bk_would_pass *w;
    size_t n;
    ck_assert_int_eq(bk_advise_would_pass(b.a, &b.options, &w, &n, b.errors), BK_OK);
    ck_assert_uint_eq(n, 1);
    ck_assert_ptr_null(w[0].ref);
    bench_close(&b);
}
END_TEST

/* Two hooks 4 m apart, the cog 0.5 m off the middle, hook b 100 mm higher: level again by letting b down or a up. */
#define TWO_HOOKS                                                                                  \
    HEAD "bodies: {load: {mass: 2 t, cog: 1.5 0 -0.5 m, points: {a: 0 0 0 m, b: 4 0 0 m}}}\n"       \
    "anchors: {ha: {at: 0 0 3 m, limit: 30 kN}, hb: {at: 4 0 3.1 m, limit: 30 kN}}\n"               \
    "lines:\n"                                                                                     \
    "  a: {from: ha, to: load.a, length: 3 m, ea: 50 MN, parts: [{what: sling, wll: 2 t}]}\n"       \
    "  b: {from: hb, to: load.b, length: 3 m, ea: 50 MN, parts: [{what: sling, wll: 2 t}]}\n"

START_TEST(level_by_hooks_and_lengths)
{
    bench b;
    bench_open(&b, TWO_HOOKS);
    bk_level by_hooks, by_lengths;
    ck_assert_int_eq(bk_advise_level_by_hooks(b.a, &by_hooks, b.errors), BK_OK);
    ck_assert(by_hooks.possible);
    ck_assert_double_lt(by_hooks.tilt_after_rad, 1e-6);
    ck_assert_double_eq_tol(by_hooks.hook_step_m[0] - by_hooks.hook_step_m[1], 0.1, 1e-3);
    ck_assert_int_eq(bk_advise_level_by_lengths(b.a, 0, 0, false, &by_lengths, b.errors), BK_OK);
    ck_assert(by_lengths.possible);
    ck_assert_double_eq_tol(by_lengths.length_step_m[1] - by_lengths.length_step_m[0], 0.1, 1e-3);
    /* whole links of 60 mm cannot make 100 mm: 60 or 120 remain 40 or 20 mm off over 4 m */
    ck_assert_int_eq(bk_advise_level_by_lengths(b.a, 0.06, 0, false, &by_lengths, b.errors), BK_OK);
    ck_assert(by_lengths.possible);
    ck_assert_double_gt(by_lengths.tilt_after_rad, 1e-3);
    ck_assert_int_eq(bk_advise_level_by_lengths(b.a, 0, 0.01, false, &by_lengths, b.errors), BK_OK);
    ck_assert(!by_lengths.possible);
    bench_close(&b);
}
END_TEST

/* A plank on two upright lines at its ends stays until its cog passes a pick: 1.5 m and 2.5 m along it. */
START_TEST(margin_along_a_plank)
{
    bench b;
    bench_open(&b, HEAD "bodies: {load: {mass: 2 t, cog: 1.5 0 -0.5 m, points: {a: 0 0 0 m, b: 4 0 0 m}}}\n"
                        "anchors: {ha: {at: 0 0 40 m, limit: 30 kN}, hb: {at: 4 0 40 m, limit: 30 kN}}\n"
                        "lines: {a: {from: ha, to: load.a, ea: 500 MN}, b: {from: hb, to: load.b, ea: 500 MN}}\n");
    bk_margin m;
    ck_assert_int_eq(bk_advise_margin(b.a, 0, 4, &m, b.errors), BK_OK);
    ck_assert_double_eq_tol(m.to_slack_m[0], 2.5, 0.01);
    ck_assert_double_eq_tol(m.to_slack_m[2], 1.5, 0.01);
    ck_assert_uint_eq(m.slack_line[0], 0);
    ck_assert_uint_eq(m.slack_line[2], 1);
    bench_close(&b);
}
END_TEST

/* Moments about the picks: R_b / W = (a / L + (h / L) tan theta), a = 1.5, L = 4, h = 0.5 over the cog: the one-line
 * derivation stands in any textbook of statics. */
START_TEST(turning_over_by_moments)
{
    bench b;
    bench_open(&b, TWO_HOOKS);
    bk_turning t;
    ck_assert_int_eq(bk_advise_turning(b.a, 0, 19, &t, b.errors), BK_OK);
    ck_assert_uint_eq(t.n, 19);
    for (size_t i = 0; i + 1 < t.n; i++) {
        const double theta = (double)i * 5 * BK_PI / 180;
        ck_assert_double_eq_tol(t.share_b[i], 1.5 / 4 + 0.5 / 4 * tan(theta), 1e-9);
        ck_assert_double_eq_tol(t.share_a[i] + t.share_b[i], 1, 1e-12);
    }
    ck_assert(isnan(t.share_b[18]));
    bench_close(&b);
    /* the same load drawn along 3 : 4 of the plan, between hooks on both sides of the origin */
    bench_open(&b, HEAD "bodies: {load: {mass: 800 kg, cog: -0.3 -0.4 -0.5 m, points: {a: -1.2 -1.6 0 m, b: 1.2 1.6 0 m}}}\n"
                        "anchors: {ha: {at: -1.2 -1.6 3 m, limit: 30 kN}, hb: {at: 1.2 1.6 3 m, limit: 30 kN}}\n"
                        "lines:\n"
                        "  a: {from: ha, to: load.a, ea: 50 MN, parts: [{what: sling, wll: 2 t}]}\n"
                        "  b: {from: hb, to: load.b, ea: 50 MN, parts: [{what: sling, wll: 2 t}]}\n");
    ck_assert_int_eq(bk_advise_turning(b.a, 0, 19, &t, b.errors), BK_OK);
    ck_assert_uint_eq(t.n, 19);
    for (size_t i = 0; i + 1 < t.n; i++)
        ck_assert_double_eq_tol(t.share_b[i], 1.5 / 4 + 0.5 / 4 * tan((double)i * 5 * BK_PI / 180), 1e-9);
    bench_close(&b);
}
END_TEST

/* The same formula against the solved rig: hook b runs 350 mm ahead of level on long lines. */
START_TEST(running_ahead_tilts_and_shifts)
{
    bench b;
    bench_open(&b, HEAD "bodies: {load: {mass: 2 t, cog: 1.5 0 -0.5 m, points: {a: 0 0 0 m, b: 4 0 0 m}}}\n"
                        "anchors: {ha: {at: 0 0 200 m, limit: 30 kN}, hb: {at: 4 0 200 m, limit: 30 kN}}\n"
                        "lines: {a: {from: ha, to: load.a, ea: 9000 MN}, b: {from: hb, to: load.b, ea: 9000 MN}}\n");
    bk_lift_share s;
    ck_assert_int_eq(bk_advise_running_ahead(b.a, 1, 0.35, 2, &s, b.errors), BK_OK);
    ck_assert_uint_eq(s.n_good, 2);
    const double theta = asin(0.35 / 4), W = 2000 * G;
    ck_assert_double_eq_tol(s.tilt_rad[1], theta, 2e-3);
    ck_assert_double_eq_tol(s.force_N[1 * 2 + 1] / W, 1.5 / 4 + 0.5 / 4 * tan(theta), 2e-3);
    bench_close(&b);
}
END_TEST

/* Two upright lines 4 m apart, cog 1.5 m from a: 5 % of mass is 5 % on both; 0.2 m along moves 0.2 / 4 of the weight. */
START_TEST(what_matters_most)
{
    bench b;
    bench_open(&b, HEAD "bodies: {load: {mass: 2 t +/- 5 %, cog: 1.5 0 -0.5 m +/- 0.2 0 0 m, points: {a: 0 0 0 m, b: 4 0 0 m}}}\n"
                        "anchors: {ha: {at: 0 0 60 m, limit: 30 kN}, hb: {at: 4 0 60 m, limit: 30 kN}}\n"
                        "lines: {a: {from: ha, to: load.a, ea: 900 MN}, b: {from: hb, to: load.b, ea: 900 MN}}\n");
    const bk_effect *e;
    size_t n;
    ck_assert_int_eq(bk_advise_effects(b.a, &e, &n, b.errors), BK_OK);
    ck_assert_uint_eq(n, 4);
    const double W = 2000 * G;
    /* 0.2 m is worth 0.05 W, 5 % of mass 0.05 of the greater share, 0.625 W */
    ck_assert_double_eq_tol(e[0].worth, 0.05 * W, 1e-3 * W);
    ck_assert(strstr(e[0].say, "200 mm towards") != NULL);
    ck_assert_double_eq_tol(e[2].worth, 0.05 * 0.625 * W, 1e-3 * W);
    ck_assert(strstr(e[2].say, "5 %") != NULL);
    bench_close(&b);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("advice");
    TCase *t = tcase_create("advice");
    tcase_add_test(t, next_row_that_passes);
    tcase_add_test(t, a_row_in_many_places);
    tcase_add_test(t, no_load_where_gear_is_discarded);
    tcase_add_test(t, a_soft_truss_stops_the_load);
    tcase_add_test(t, no_row_is_enough);
    tcase_add_test(t, level_by_hooks_and_lengths);
    tcase_add_test(t, margin_along_a_plank);
    tcase_add_test(t, turning_over_by_moments);
    tcase_add_test(t, running_ahead_tilts_and_shifts);
    tcase_add_test(t, what_matters_most);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
