/* Leg tension against leg angle, against figures that others printed. */
#include <becket/angle.h>

#include <check.h>
#include <stdlib.h>

#define DEG (BK_PI / 180)
#define LBF 4.4482216152605 /* 0.45359237 kg (1959 agreement) x 9.80665 m/s2 */

/* US Navy NAVEDTRA 14080, chapter 3, bridle hitch: two legs, 1000 lb: 500 lb each upright, 1000 lb each at 30 degrees
 * from the horizontal. */
START_TEST(navedtra_two_legs)
{
    ck_assert_double_eq_tol(bk_leg_at(1000 * LBF, 2, 0).tension_N / LBF, 500, 0.5);
    ck_assert_double_eq_tol(bk_leg_at(1000 * LBF, 2, 60 * DEG).tension_N / LBF, 1000, 0.5);
}
END_TEST

/* Load angle factors by the angle from the horizontal as US sling tables print them: 1.035, 1.155, 1.414, 2.000, 2.924
 * (they invert a rounded sine: 0.2 %, below 15 degrees 0.3 %).  The factors are common to many tables; no single
 * edition is cited. */
START_TEST(printed_factors)
{
    static const struct {
        double from_horizontal, factor, tolerance;
    } row[] = {{90, 1.000, 0.002}, {75, 1.035, 0.002}, {60, 1.155, 0.002}, {45, 1.414, 0.002},
               {30, 2.000, 0.002}, {20, 2.924, 0.002}, {10, 5.759, 0.003}, {5, 11.47, 0.003}};
    const bk_leg leg = bk_leg_at(1, 1, (90 - row[_i].from_horizontal) * DEG);
    ck_assert_double_eq_tol(leg.of_straight, row[_i].factor, row[_i].factor * row[_i].tolerance);
    ck_assert_double_eq_tol(leg.from_horizontal_rad, row[_i].from_horizontal * DEG, 1e-12);
}
END_TEST

/* US Army FM 5-125, chapter 3: T = (W / N) (L / V) with L the leg and V the height.  The formula is from memory, the
 * numbers are our own: 1800 lb, 3 legs of 8 ft, 6 ft high: 800 lb. */
START_TEST(length_over_height)
{
    const double beta = acos(6.0 / 8.0), spread = 2 * sqrt(8.0 * 8.0 - 6.0 * 6.0);
    ck_assert_double_eq_tol(bk_leg_at(1800, 3, beta).tension_N, 800, 0.5);
    ck_assert_double_eq_tol(bk_leg_angle_of_length(2, 8, spread), beta, 1e-12);
    ck_assert_double_eq_tol(bk_leg_angle_of_height(4, 6, spread), beta, 1e-12);
}
END_TEST

/* Queensland Guide for doggers 2010, page 12: attachments no further apart than a leg is long stand within an included
 * angle of 60 degrees. */
START_TEST(field_rule)
{
    ck_assert_double_eq_tol(2 * bk_leg_angle_of_length(2, 3.7, 3.7), 60 * DEG, 1e-12);
    ck_assert_double_eq_tol(2 * bk_leg_angle_of_length(2, 0.37, 0.37), 60 * DEG, 1e-12);
    ck_assert_double_eq_tol(bk_leg_angle_of_height(2, 0.4, 0.6), atan(0.75), 1e-12); /* 3, 4, 5 */
}
END_TEST

/* Statics of the hook, worked by hand: 4 x 2 m rectangle, hook 3 m up, W 40: half diagonal sqrt 5, leg sqrt 14;
 * W / n x L / H = 12.4722, 16.6296, 24.9444 for 4, 3, 2 legs. */
START_TEST(four_three_two)
{
    const double beta = bk_leg_angle_of_height(4, 3, 2 * sqrt(5));
    ck_assert_double_eq_tol(bk_leg_at(40, 4, beta).tension_N, 12.4722, 5e-5);
    ck_assert_double_eq_tol(bk_leg_at(40, 3, beta).tension_N, 16.6296, 5e-5);
    ck_assert_double_eq_tol(bk_leg_at(40, 2, beta).tension_N, 24.9444, 5e-5);
    ck_assert_double_eq_tol(bk_leg_angle_used_up(40, 2, 24.9444), beta, 1e-5);
}
END_TEST

/* Three points of a triangle 1.9 m on a side, hook 2.3 m over its middle: the middle is 1.9 / sqrt 3 = 1.0970 m from each,
 * so a leg is sqrt(2.3^2 + 1.097^2) = 2.5482 m long; by the cosine rule two of them stand at
 * acos(1 - 1.9^2 / (2 x 2.5482^2)) = 43.78 degrees.  Half a side would make the leg 22.4 degrees off the vertical for 25.5. */
START_TEST(three_legs)
{
    const double beta = atan2(1.9 / sqrt(3), 2.3), leg = hypot(2.3, 1.9 / sqrt(3));
    ck_assert_double_eq_tol(bk_leg_angle_of_height(3, 2.3, 1.9), beta, 1e-12);
    ck_assert_double_eq_tol(bk_leg_angle_of_length(3, leg, 1.9), beta, 1e-12);
    ck_assert_double_eq_tol(bk_leg_included(3, beta), acos(1 - 1.9 * 1.9 / (2 * leg * leg)), 1e-12);
    ck_assert_double_eq_tol(bk_leg_included(3, beta), 43.78 * DEG, 0.005 * DEG);
    ck_assert_double_eq_tol(bk_leg_included(2, beta), 2 * beta, 1e-12);
    ck_assert_double_eq_tol(bk_leg_included(4, beta), 2 * beta, 1e-12);
    /* five: the diagonal of the regular pentagon, (1 + sqrt 5) / 2 sides of 2 R sin 36 degrees (Euclid XIII.8) */
    ck_assert_double_eq_tol(bk_leg_angle_of_height(5, 1, (1 + sqrt(5)) * sin(36 * DEG)), 45 * DEG, 1e-12);
}
END_TEST

/* A leg of 5 over 4 up and 3 aside, one of three under 900: 300 upright each, 375 along the leg, 225 aside. */
START_TEST(three_four_five)
{
    const double beta = bk_leg_angle_of_height(2, 4, 6);
    ck_assert_double_eq_tol(bk_leg_angle_of_length(2, 5, 6), beta, 1e-12);
    const bk_leg leg = bk_leg_at(900, 3, beta);
    ck_assert_double_eq_tol(leg.tension_N, 375, 1e-9);
    ck_assert_double_eq_tol(leg.horizontal_N, 225, 1e-9);
    ck_assert_double_eq_tol(leg.of_straight, 1.25, 1e-12);
    ck_assert_double_eq_tol(leg.from_vertical_rad, atan(0.75), 1e-12);
    ck_assert_double_eq_tol(leg.from_horizontal_rad, atan(4.0 / 3), 1e-12);
    ck_assert_double_eq_tol(bk_leg_included(1, beta), 2 * beta, 1e-12);
    ck_assert_double_eq_tol(bk_leg_angle_used_up(900, 3, 375), beta, 1e-9);
    ck_assert_double_eq_tol(bk_leg_angle_used_up(0.3, 3, 0.4), acos(0.25), 1e-9);
}
END_TEST

START_TEST(what_cannot_be)
{
    ck_assert_double_eq(bk_leg_angle_of_height(2, 0.3, 0), 0); /* upright */
    ck_assert_double_eq(bk_leg_angle_of_length(2, 0.3, 0), 0);
    ck_assert(isnan(bk_leg_angle_of_height(2, 0, 0)));
    ck_assert(isnan(bk_leg_angle_of_height(2, -1, 1)));
    ck_assert(isnan(bk_leg_angle_of_length(2, 0, 0)));
    ck_assert(isnan(bk_leg_angle_of_length(2, 1, -0.5)));
    ck_assert(isnan(bk_leg_angle_of_length(2, 1, 2.5)));
    ck_assert(isnan(bk_leg_angle_of_height(2, 0, 1)));
    ck_assert(isnan(bk_leg_angle_of_length(2, 1.25, 2.5))); /* flat: nothing would lift */
    ck_assert(isnan(bk_leg_angle_of_length(2, -1, 0.5)));
    ck_assert(isnan(bk_leg_angle_of_height(2, 1, -1)));
    ck_assert(isnan(bk_leg_angle_used_up(100, 2, 49)));
    ck_assert(isnan(bk_leg_angle_used_up(0, 2, 49)));
    ck_assert(isnan(bk_leg_angle_used_up(-100, 2, 500)));
    ck_assert_double_eq_tol(bk_leg_angle_used_up(100, 2, 50), 0, 1e-12);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("angle against printed figures");
    TCase *t = tcase_create("angle");
    tcase_add_test(t, navedtra_two_legs);
    tcase_add_loop_test(t, printed_factors, 0, 8);
    tcase_add_test(t, length_over_height);
    tcase_add_test(t, field_rule);
    tcase_add_test(t, four_three_two);
    tcase_add_test(t, three_legs);
    tcase_add_test(t, three_four_five);
    tcase_add_test(t, what_cannot_be);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
