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

int main(void)
{
    Suite *s = suite_create("flexible bodies against continuous-beam tables");
    TCase *t = tcase_create("flexible");
    tcase_add_loop_test(t, printed_reactions, 0, 3);
    tcase_add_test(t, middle_hook_high);
    tcase_add_test(t, springy_hoists);
    tcase_add_test(t, one_line_lost);
    tcase_add_test(t, tolerances_add_up);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
