/* A truss on several hoists against published continuous-beam tables. */
#include "../unit/assess.h"

/* n points `span` apart on stiff or springy hoists; EI in kN m2, EA of each 10 m line in kN, centre hook raised by `up`. */
static void truss(bench *b, int n, double span, double mass_t, double ei_kNm2, double ea_kN, int high, double up_mm, bool lose)
{
    char text[4000];
    FILE *p = fmemopen(text, sizeof text, "w");
    ck_assert_ptr_nonnull(p);
    fprintf(p, "becket: 1\n%sbodies:\n  truss:\n    mass: %.9g t\n    cog: %.9g 0 -0.3 m\n    ei: %.9g kN m2\n    points: {",
                 lose ? "lose_a_line: yes\n" : "", mass_t, span * (n - 1) / 2, ei_kNm2);
    for (int i = 0; i < n; i++) fprintf(p, "%sp%d: %.9g 0 0 m", i ? ", " : "", i, span * i);
    fprintf(p, "}\nanchors:\n");
    for (int i = 0; i < n; i++)
        fprintf(p, "  h%d: {at: %.9g 0 %.9g m, limit: 900 kN}\n", i, span * i, 10 + (i == high ? up_mm / 1000 : 0));
    fprintf(p, "lines:\n");
    for (int i = 0; i < n; i++)
        fprintf(p, "  l%d: {from: h%d, to: truss.p%d, length: 10 m, ea: %.9g kN, parts: [{what: sling, wll: 90 t}]}\n", i, i, i, ea_kN);
    ck_assert_int_eq(fclose(p), 0);
    bench_open(b, text);
}

static double share(const bench *b, int i)
{
    char name[16];
    snprintf(name, sizeof name, "l%d", i);
    return bench_find(b, "line.flexible_share", name, NULL)->nominal_demand;
}

/* Uniform load over equal spans, Civil Engineering Formulas, table 2.1 (read): 3 supports 3/8, 5/4, 3/8 of w L; 4 supports
 * 4/10, 11/10, 11/10, 4/10; 5 supports 11/28, 8/7, 13/14, 8/7, 11/28.  Very stiff lines, soft truss. */
START_TEST(printed_reactions)
{
    static const double table[3][5] = {{3 / 8.0, 5 / 4.0, 3 / 8.0}, {0.4, 1.1, 1.1, 0.4}, {11 / 28.0, 8 / 7.0, 13 / 14.0, 8 / 7.0, 11 / 28.0}};
    const int n = _i + 3;
    bench b;
    truss(&b, n, 4, 1.7, 2000, 9e6, -1, 0, false);
    const double wL = 1700 * G / (n - 1);
    for (int i = 0; i < n; i++) ck_assert_double_eq_tol(share(&b, i), table[_i][i] * wL, 0.005 * wL);
    bench_close(&b);
}
END_TEST

/* Three supports, the middle one high by d: + 6 E I d / L3 on it (three-moment equation; derivation in any text on continuous
 * beams).  d 3 mm, L 6 m, E I 8400 kN m2: + 700 N. */
START_TEST(middle_hook_high)
{
    bench level, high;
    truss(&level, 3, 6, 1.7, 8400, 9e6, -1, 0, false);
    truss(&high, 3, 6, 1.7, 8400, 9e6, 1, 3, false);
    ck_assert_double_eq_tol(share(&high, 1) - share(&level, 1), 700, 7);
    ck_assert_double_eq_tol(share(&high, 0) - share(&level, 0), -350, 4);
    bench_close(&level);
    bench_close(&high);
}
END_TEST

/* Springy hoists: beta = E I / (k L3) = 0.1, four supports: 0.468 and 1.032 of w L (stiffness method worked apart, three
 * digits; computed, no publication). */
START_TEST(springy_hoists)
{
    bench b;
    const double L = 4, ei_kNm2 = 5000, k_kN_m = ei_kNm2 / (0.1 * L * L * L);
    truss(&b, 4, L, 1.7, ei_kNm2, k_kN_m * 10, -1, 0, false);
    const double wL = 1700 * G / 3;
    ck_assert_double_eq_tol(share(&b, 0), 0.468 * wL, 0.002 * wL);
    ck_assert_double_eq_tol(share(&b, 1), 1.032 * wL, 0.002 * wL);
    bench_close(&b);
}
END_TEST

/* Middle of three lost: the outer two carry half each, by symmetry; an outer one lost: moments about the others, W (1.5) / ...
 * the middle carries all of a load centred over it. */
START_TEST(one_line_lost)
{
    bench b;
    truss(&b, 3, 6, 1.7, 8400, 9e6, -1, 0, true);
    const bk_finding *outer = bench_find(&b, "line.flexible_share", "l0", NULL), *middle = bench_find(&b, "line.flexible_share", "l1", NULL);
    ck_assert_double_eq_tol(outer->demand, 1700 * G / 2, 2);
    ck_assert_str_eq(outer->where, "line l1 slack or lost");
    ck_assert_double_eq_tol(middle->demand, 1700 * G, 2);
    bench_close(&b);
}
END_TEST

/* Every line 3 mm long or short: on the middle of three the worst is the middle short, both outer long: 6 + 3 + 3 times
 * E I d / L3 (three-moment equation, as above).  Its hoist lifts its own block too, and half its capacity with people below
 * (DGUV Information 215-313). */
START_TEST(tolerances_add_up)
{
    static const char plan[] =
        "becket: 1\npeople_below: yes\n"
        "bodies:\n  truss: {mass: 1.7 t, cog: 6 0 -0.3 m, ei: 8400 kN m2, points: {p0: 0 0 0 m, p1: 6 0 0 m, p2: 12 0 0 m}}\n"
        "anchors: {h0: {at: 0 0 10 m, limit: 900 kN}, h1: {at: 6 0 10 m, limit: 900 kN}, h2: {at: 12 0 10 m, limit: 900 kN}}\n"
        "lines:\n"
        "  l0: {from: h0, to: truss.p0, length: 10 m ± 3 mm, ea: 9e6 kN, parts: [{what: sling, wll: 90 t}]}\n"
        "  l1: {from: h1, to: truss.p1, length: 10 m ± 3 mm, ea: 9e6 kN, hoist: h}\n"
        "  l2: {from: h2, to: truss.p2, length: 10 m ± 3 mm, ea: 9e6 kN, parts: [{what: sling, wll: 90 t}]}\n"
        "hoists: {h: {rated: 5 t, hook_mass: 20 kg, speeds: [4 m/min]}}\n";
    bench b;
    bench_open(&b, plan);
    const bk_finding *middle = bench_find(&b, "line.flexible_share", "l1", NULL);
    ck_assert_double_eq_tol(middle->demand - middle->nominal_demand, 2 * 700, 10);
    ck_assert_double_eq_tol(middle->nominal_demand, (5 / 8.0 * 1700 + 20) * G, 25);
    ck_assert_double_eq_tol(middle->limit, 2500 * G, 1e-6);
    bench_close(&b);
}
END_TEST

/* A truss that lies askew, whose first named point is neither end of it: 4 m one way, 6 m the other along 3 : 4 in plan, on two lines.  Moments
 * about either end, whatever bends: W acts 2 m towards the far end, a bag of 300 kg hangs at the first point; lines that pull hold all. */
START_TEST(two_lines_by_moments)
{
    const char *const lines[] = {"near: {from: h, to: truss.near, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]}",
                                 "far: {from: i, to: truss.far, ea: 9e6 kN, mass: 40 kg, parts: [{what: sling, wll: 70 t}, {what: shackle, wll: 9 t}]}",
                                 "bag: {from: truss.first, to: bag.a, ea: 9e6 kN, mass: 0 kg}"};
    for (int order = 0; order < 6; order++) {
        static const int of[6][3] = {{0, 1, 2}, {1, 0, 2}, {2, 0, 1}, {0, 2, 1}, {1, 2, 0}, {2, 1, 0}};
        for (int loose = 0; loose < 2; loose++) {
            char plan[1600];
            bench b;
            snprintf(plan, sizeof plan,
                     "becket: 1\nbodies:\n"
                     "  truss: {mass: 1.7 t%s, cog: 1.2 1.6 -0.3 m%s, ei: 700 kN m2, points: {first: 0 0 0 m, far: 3.6 4.8 0 m, near: -2.4 -3.2 0 m}}\n"
                     "  bag: {mass: 300 kg, cog: 0 0 -0.2 m, at: 0 0 -4 m, points: {a: 0 0 0 m}}\n"
                     "anchors: {h: {at: -2.4 -3.2 8 m, limit: 900 kN}, i: {at: 3.6 4.8 8 m, limit: 900 kN}}\n"
                     "lines: {%s, %s, %s}\n", loose ? " ± 10 %" : "", loose ? " ± 0.2 0.4 0 m" : "", lines[of[order][0]], lines[of[order][1]], lines[of[order][2]]);
            bench_open(&b, plan);
            const bk_finding *near = bench_find(&b, "line.flexible_share", "near", NULL), *far = bench_find(&b, "line.flexible_share", "far", NULL);
            const double W = 1700 * G, bag = 300 * G;
            const double at_far = (W * 6 + bag * 4) / 10, at_near = (W * 4 + bag * 6) / 10;
            ck_assert_double_eq_tol(near->nominal_demand, at_near, 2);
            ck_assert_double_eq_tol(far->nominal_demand, at_far + 40 * G, 2);
            /* along 0.6 and 0.8: 0.6 x 0.2 + 0.8 x 0.4 = 0.44 m; a tenth more mass of what hangs there, on all */
            const double more = loose ? W * 0.44 / 10 : 0;
            ck_assert_double_eq_tol(near->demand, (at_near + more) * (loose ? 1.1 : 1), 4);
            ck_assert_double_eq_tol(far->demand, (at_far + more) * (loose ? 1.1 : 1) + 40 * G, 4);
            ck_assert_double_eq_tol(near->limit, 90e3 * G, 1);
            ck_assert_double_eq_tol(far->limit, 9e3 * G, 1);
            ck_assert_str_eq(far->part, "shackle");
            if (loose) ck_assert_str_eq(near->where, "centre of gravity along the body by its tolerance");
            else ck_assert_ptr_null(near->where);
            bench_close(&b);
        }
    }
}
END_TEST

/* Lines of 2 and 3 m, one a centimetre long: on two lines that matters nothing.  On three equal spans askew the printed shares stand, and one hook
 * alone off by its tolerance adds E I d / L3 times 3 on an outer line of three (three-moment equation: 6 on the middle, half on each side). */
START_TEST(three_lines_askew)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n"
                   "  truss: {mass: 1.7 t, cog: 0 0 -0.3 m, ei: 8400 kN m2, points: {m: 0 0 0 m, r: 3.6 4.8 0 m, l: -3.6 -4.8 0 m}}\n"
                   "anchors: {h: {at: -3.6 -4.8 8 m, limit: 900 kN}, i: {at: 3.6 4.8 9 m, limit: 900 kN}, j: {at: 0 0 7 m ± 0 0 2 mm, limit: 900 kN}}\n"
                   "lines: {j: {from: truss.m, to: j, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]}, i: {from: i, to: truss.r, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]},\n"
                   "        h: {from: h, to: truss.l, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]}}\n");
    const double wL = 1700 * G / 2, step = 8400e3 * 2e-3 / 216;
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "j", NULL)->nominal_demand, 1.25 * wL, 0.005 * wL);
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "h", NULL)->nominal_demand, 0.375 * wL, 0.005 * wL);
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "j", NULL)->demand, 1.25 * wL + 6 * step, 0.006 * wL);
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "h", NULL)->demand, 0.375 * wL + 3 * step, 0.006 * wL);
    ck_assert_str_eq(bench_find(&b, "line.flexible_share", "j", NULL)->where, "hook of j high by its tolerance");
    ck_assert_str_eq(bench_find(&b, "line.flexible_share", "h", NULL)->where, "hook of j low by its tolerance");
    bench_close(&b);
}
END_TEST

/* A rigging factor multiplies the share and the line's own weight; below a hoist that stalls stands its limiter instead. */
START_TEST(shares_in_motion)
{
    bench b;
    bench_open(&b, "becket: 1\ndynamic: {rigging: 1.4}\nbodies:\n"
                   "  truss: {mass: 1.7 t, cog: 5 0 -0.3 m, ei: 8400 kN m2, points: {l: 0 0 0 m, r: 10 0 0 m}}\n"
                   "anchors: {h: {at: 0 0 8 m, limit: 900 kN}, i: {at: 10 0 8 m, limit: 900 kN}}\n"
                   "lines: {h: {from: h, to: truss.l, ea: 9e6 kN, mass: 30 kg, parts: [{what: sling, wll: 90 t}]}, i: {from: i, to: truss.r, ea: 9e6 kN, mass: 30 kg}}\n");
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "h", NULL)->demand, 1.4 * 880 * G, 2);
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "h", NULL)->nominal_demand, 1.4 * 880 * G, 2);
    ck_assert(!bench_find(&b, "line.flexible_share", "i", NULL)->checked);
    ck_assert_str_eq(bench_find(&b, "line.flexible_share", "i", NULL)->source, "no rating given");
    bench_close(&b);
    bench_open(&b, "becket: 1\ndynamic: {factor: 1}\nbodies:\n"
                   "  truss: {mass: 1.7 t, cog: 5 0 -0.3 m, ei: 8400 kN m2, points: {l: 0 0 0 m, r: 10 0 0 m, m: 5 0 0 m}}\n"
                   "  bag: {mass: 600 kg, cog: 0 0 -0.2 m, at: 5 0 -4 m, points: {a: 0 0 0 m}}\n"
                   "anchors: {h: {at: 0 0 8 m, limit: 900 kN}, i: {at: 10 0 8 m, limit: 900 kN}}\n"
                   "lines: {h: {from: h, to: truss.l, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]}, i: {from: i, to: truss.r, ea: 9e6 kN, mass: 0 kg, parts: [{what: sling, wll: 90 t}]},\n"
                   "        f: {from: truss.m, to: bag.a, ea: 9e6 kN, mass: 0 kg, hoist: w}}\n"
                   "hoists: {w: {rated: 1 t, self_mass: 0 kg, hook_mass: 0 kg, limiter: {kind: direct, at: 1.5}, speeds: [4 m/min]}}\n");
    /* 1.5 t for 0.6: two and a half times the pull as drawn */
    ck_assert_double_eq_tol(bench_find(&b, "line.flexible_share", "h", NULL)->demand, 2.5 * 1150 * G, 4);
    bench_close(&b);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("flexible bodies against continuous-beam tables");
    TCase *t = tcase_create("flexible");
    tcase_add_loop_test(t, printed_reactions, 0, 3);
    tcase_add_test(t, middle_hook_high);
    tcase_add_test(t, springy_hoists);
    tcase_add_test(t, one_line_lost);
    tcase_add_test(t, tolerances_add_up);
    tcase_add_test(t, two_lines_by_moments);
    tcase_add_test(t, three_lines_askew);
    tcase_add_test(t, shares_in_motion);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
