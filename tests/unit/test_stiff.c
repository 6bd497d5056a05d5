/* Rigs at the edge of what doubles can hold: answered all the same, or refused with what would do.
 * Expected figures are worked by hand beside each test. */
#include "../rig_kit.h"

#include <check.h>
#include <float.h>
#include <stdio.h>

static kit *k;
static bk_arena *arena;
static bk_hang *hang;

static void setup(void)
{
    k = kit_new();
    arena = NULL;
}
static void teardown(void)
{
    free(k);
    bk_arena_free(arena);
}
static bk_status solve(void)
{
    bk_arena_free(arena);
    return kit_solve(k, &arena, &hang);
}

/* Two legs 1e8 weights stiff: a stretch of 1e-8 of their length, known in doubles to a hundred millionth of itself.
 * The centre of gravity is drawn plumb below the hook, so they hang as drawn and share the weight by sines. */
START_TEST(legs_far_stiffer_than_their_load_is_heavy)
{
    const double weight = 137 * KIT_G;
    const size_t load = kit_body(k, "load", 137, bk_vec3_of(0.2, 0.1, -0.3), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0.2, 0.1, 3);
    kit_line(k, hook, kit_point(k, load, -1.3, 0.1, 0.4), 1e8 * weight, 0);
    kit_line(k, hook, kit_point(k, load, 0.9, 0.1, 0.7), 1e8 * weight, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_le(hang->residual, 1e-9);
    const double a = atan2(1.5, 2.6), b = atan2(0.7, 2.3);
    ck_assert_double_eq_tol(hang->tension_N[0], weight * sin(b) / sin(a + b), 1e-6 * weight);
    ck_assert_double_eq_tol(hang->tension_N[1], weight * sin(a) / sin(a + b), 1e-6 * weight);
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 100), BK_OK);
}
END_TEST

/* The same on a bridle of four, of which three are a million times as stiff as the last: that one, drawn 5 mm too
 * long, hangs slack, and three legs to one hook are determinate: the sum of their pulls is the weight. */
START_TEST(a_leg_a_million_times_as_stiff_as_another)
{
    const double weight = 83 * KIT_G, x[] = {-1.1, 0.9, 0.2, 0.3}, y[] = {-0.5, -0.7, 0.8, -0.2};
    const size_t load = kit_body(k, "load", 83, bk_vec3_of(0, 0, -0.2), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3.1);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, x[i], y[i], 0.5), weight * (i < 3 ? 4e7 : 40), 0);
    k->lines[3].length_m.v += 0.005;
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->slack[3]);
    /* t1 d1 + t2 d2 + t3 d3 = (0, 0, weight), the rows of d from the legs' ends: solved by Cramer's rule */
    const double h = 2.6, det = x[0] * (y[1] - y[2]) - x[1] * (y[0] - y[2]) + x[2] * (y[0] - y[1]);
    for (int i = 0; i < 3; i++) {
        const int j = (i + 1) % 3, l = (i + 2) % 3;
        const double share = (x[j] * y[l] - x[l] * y[j]) / det, length = sqrt(x[i] * x[i] + y[i] * y[i] + h * h);
        ck_assert_double_eq_tol(hang->tension_N[i], weight * share * length / h, 1e-6 * weight);
    }
}
END_TEST

static void link_of_a_hair(bk_vec3 at)
{
    const size_t load = kit_body(k, "load", 640, bk_vec3_of(0, 0, -0.3), bk_vec3_of(at.x, at.y, at.z - 2));
    const bk_end ring = kit_ring(k, "master", 4, at.x, at.y, at.z - 2e-5);
    kit_line(k, kit_anchor(k, at.x, at.y, at.z), ring, 9e7, 0);
    kit_line(k, ring, kit_point(k, load, -0.8, 0, 0), 3e6, 0);
    kit_line(k, ring, kit_point(k, load, 0.8, 0, 0), 3e6, 0);
}
START_TEST(a_line_too_short_for_its_place_is_named_with_what_would_do)
{
    link_of_a_hair(bk_vec3_of(5.3, -1.7, 7.1));
    ck_assert_int_eq(solve(), BK_E_NO_CONVERGE);
    ck_assert_msg(strstr(hang->why, "line l00000 is 0.020 mm long and drawn 9.0 m from the origin") &&
                      strstr(hang->why, "put the origin of the plan near it"),
                  "%s", hang->why);
    ck_assert_double_gt(hang->residual, 1e-9);
    free(k);
    k = kit_new(); /* and so it does */
    link_of_a_hair(bk_vec3_of(0, 0, 0));
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->tension_N[0], 644 * KIT_G, 1e-6 * 644 * KIT_G);
}
END_TEST

static void on_a_ring(double ea_N)
{
    const size_t load = kit_body(k, "load", 55, bk_vec3_of(0, 0, -0.3), bk_vec3_of(4.1, 3.7, 1));
    const bk_end ring = kit_ring(k, "master", 2, 4.1, 3.7, 3.3);
    kit_line(k, kit_anchor(k, 4.1, 3.7, 5.9), ring, ea_N, 0);
    kit_line(k, ring, kit_point(k, load, 0, 0, 0), 3e6, 0);
}
START_TEST(a_line_too_stiff_for_its_load_is_named_with_what_would_do)
{
    on_a_ring(9e12);
    ck_assert_int_eq(solve(), BK_E_NO_CONVERGE);
    const char *would = strstr(hang->why, "; ea: ");
    double enough_MN = 0;
    ck_assert_msg(strstr(hang->why, "line l00000 (ea: ") && would && sscanf(would, "; ea: %lf MN would do", &enough_MN) == 1, "%s", hang->why);
    /* By hand: its length and the six figures of its ends are rounded to DBL_EPSILON of their size, and eight such roundings
     * are to be a billionth of the weight; told to two digits. */
    const double places = 2.6 + 4.1 + 3.7 + 5.9 + 4.1 + 3.7 + 3.3;
    ck_assert_double_eq_tol(1e6 * enough_MN, 1e-9 * 57 * KIT_G * 2.6 / (8 * DBL_EPSILON * places), 0.5e6);
    free(k);
    k = kit_new();
    on_a_ring(1e6 * enough_MN);
    ck_assert_int_eq(solve(), BK_OK);
}
END_TEST

/* Hooks 7 micrometres apart: the load may turn far before one of them stops it. */
START_TEST(two_hooks_almost_in_one_place)
{
    const double x[] = {1.146, -0.355, -1.146, 0.355}, y[] = {0.236, 0.764, -0.236, -0.764}, ea[] = {18.9e6, 2.2e6, 0.85e6, 1.3e6};
    const size_t load = kit_body(k, "load", 1050, bk_vec3_of(-0.062, -0.069, 0), bk_vec3_of(0, 0, 0));
    const bk_end hooks[] = {kit_anchor(k, 0, 0, 3), kit_anchor(k, 0.8e-6, -2.6e-6, 2.9999875)};
    for (int i = 0; i < 4; i++) {
        kit_line(k, hooks[0], kit_point(k, load, x[i], y[i], 0.5), ea[i], 0);
        if (i < 3) kit_line(k, hooks[1], kit_point(k, load, x[i] - 4e-5, y[i] + 9e-6, 0.49997), ea[i] / 2, 0);
    }
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_le(hang->residual, 1e-9);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("stiff");
    TCase *tc = tcase_create("edge of doubles");
    tcase_add_checked_fixture(tc, setup, teardown);
    tcase_add_test(tc, legs_far_stiffer_than_their_load_is_heavy);
    tcase_add_test(tc, a_leg_a_million_times_as_stiff_as_another);
    tcase_add_test(tc, a_line_too_short_for_its_place_is_named_with_what_would_do);
    tcase_add_test(tc, a_line_too_stiff_for_its_load_is_named_with_what_would_do);
    tcase_add_test(tc, two_hooks_almost_in_one_place);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
