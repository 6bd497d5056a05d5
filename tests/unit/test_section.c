/* section: choice between printed and computed values, shapes that are none, welded shapes, symmetry of the
 * two methods.  Values against printed tables are in tests/reference/test_reference_section.c.
 */
#include <becket/section.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

/* Nothing stated. */
static bk_section_in blank(void)
{
    bk_section_in in = {.mark = BK_MARK_COMPUTED};
#define X(key, field, dim, text) in.field = NAN;
    BK_SECTION_NUMBERS(X)
#undef X
    return in;
}

/* An invented shape. */
static bk_section_in invented(void)
{
    bk_section_in in = blank();
    in.h_m = 0.263;
    in.b_m = 0.127;
    in.tw_m = 0.0068;
    in.tf_m = 0.0112;
    in.r_m = 0.0135;
    return in;
}

static bk_section computed(const bk_section_in *in)
{
    bk_section s;
    char why[160] = "";
    ck_assert_msg(bk_section_computed(in, &s, why, sizeof why) == BK_OK, "%s", why);
    return s;
}

START_TEST(printed_values_when_all_are_there)
{
    bk_section_in in = invented();
    bk_section s = computed(&in), out;
    in.area_m2 = 1.01 * s.area_m2;
    in.Iy_m4 = 1.02 * s.Iy_m4;
    in.Iz_m4 = 1.03 * s.Iz_m4;
    in.It_m4 = 1.04 * s.It_m4;
    in.Iw_m6 = 1.05 * s.Iw_m6;
    in.Wely_m3 = 1.06 * s.Wely_m3;
    in.Wply_m3 = 1.07 * s.Wply_m3;
    in.Welz_m3 = 1.08 * s.Welz_m3;
    in.Wplz_m3 = 1.09 * s.Wplz_m3;
    in.mass_per_m_kg_m = 33.1;
    in.mark = BK_MARK_PUBLISHED;
    ck_assert_int_eq(bk_section_of(&in, &out, NULL, 0), BK_OK);
    ck_assert(out.printed);
    ck_assert_double_eq(out.Wplz_m3, in.Wplz_m3);
    ck_assert_double_eq(out.mass_per_m_kg_m, 33.1);
    ck_assert_double_eq(out.iy_m, sqrt(in.Iy_m4 / in.area_m2));
    ck_assert_double_gt(out.Avz_m2, s.Avz_m2);
    ck_assert_int_eq(bk_section_computed(&in, &out, NULL, 0), BK_OK);
    ck_assert(!out.printed);
    ck_assert_double_eq(out.Iy_m4, s.Iy_m4);

    in.mark = BK_MARK_MEMORY; /* not read in its source: the formula is surer */
    ck_assert_int_eq(bk_section_of(&in, &out, NULL, 0), BK_OK);
    ck_assert(!out.printed);
    in.mark = BK_MARK_PUBLISHED;
    in.It_m4 = NAN; /* one missing: no mixture */
    ck_assert_int_eq(bk_section_of(&in, &out, NULL, 0), BK_OK);
    ck_assert(!out.printed);
    ck_assert_double_eq(out.area_m2, s.area_m2);
}
END_TEST

/* A flange that hardly tapers goes the other way through the code: both ways must meet. */
START_TEST(closed_formulae_meet_the_integrated_outline)
{
    bk_section_in in = invented();
    bk_section parallel = computed(&in);
    in.slope = 1e-9;
    bk_section taper = computed(&in);
    ck_assert(taper.taper && !parallel.taper);
    ck_assert_double_eq_tol(taper.area_m2 / parallel.area_m2, 1, 1e-7);
    ck_assert_double_eq_tol(taper.Iy_m4 / parallel.Iy_m4, 1, 1e-5); /* 0.03, 0.2146, 0.4468 are rounded */
    ck_assert_double_eq_tol(taper.Iz_m4 / parallel.Iz_m4, 1, 1e-4);
    ck_assert_double_eq_tol(taper.Wply_m3 / parallel.Wply_m3, 1, 1e-7);
    ck_assert_double_eq_tol(taper.Wplz_m3 / parallel.Wplz_m3, 1, 1e-7);
    ck_assert_double_eq_tol(taper.It_m4 / parallel.It_m4, 1, 0.05); /* two published approximations */
    ck_assert_double_eq_tol(taper.Iw_m6 / parallel.Iw_m6, 1, 0.01);
}
END_TEST

/* Three plates: by hand, in mm. */
START_TEST(welded_plates)
{
    bk_section_in in = blank();
    in.welded = true;
    in.h_m = 0.412;
    in.b_m = 0.18;
    in.tw_m = 0.007;
    in.tf_m = 0.014;
    in.a_weld_m = 0.004;
    bk_section s = computed(&in);
    double hw = 412 - 28;
    ck_assert_double_eq_tol(s.area_m2 * 1e6, 2 * 180 * 14 + hw * 7, 1e-6);
    ck_assert_double_eq_tol(
        s.Iy_m4 * 1e12, 2 * 180 * 14 * 199.0 * 199 + 2 * 180 * 14 * 14 * 14 / 12.0 + 7 * hw * hw * hw / 12,
        1);
    ck_assert_double_eq_tol(s.Iz_m4 * 1e12, 2 * 14 * 180.0 * 180 * 180 / 12 + hw * 343 / 12, 1);
    ck_assert_double_eq_tol(s.Wply_m3 * 1e9, 180 * 14 * (412.0 - 14) + 7 * hw * hw / 4, 1e-3);
    ck_assert_double_eq_tol(s.Avz_m2 * 1e6, hw * 7, 1e-6);
    ck_assert(s.welded);
    ck_assert_double_eq(s.a_weld_m, 0.004);
}
END_TEST

/* Twice the size: areas by 4, moduli by 8, second moments by 16, warping by 64. */
START_TEST(scale)
{
    bk_section_in in = invented(), twice = in;
    in.slope = twice.slope = 0.14;
    in.r2_m = 0.004;
    twice.r2_m = 0.008;
    twice.h_m *= 2, twice.b_m *= 2, twice.tw_m *= 2, twice.tf_m *= 2, twice.r_m *= 2;
    bk_section a = computed(&in), b = computed(&twice);
    ck_assert_double_eq_tol(b.area_m2 / a.area_m2, 4, 1e-12);
    ck_assert_double_eq_tol(b.Welz_m3 / a.Welz_m3, 8, 1e-12);
    ck_assert_double_eq_tol(b.Wplz_m3 / a.Wplz_m3, 8, 1e-11);
    ck_assert_double_eq_tol(b.Iy_m4 / a.Iy_m4, 16, 1e-11);
    ck_assert_double_eq_tol(b.It_m4 / a.It_m4, 16, 1e-11);
    ck_assert_double_eq_tol(b.Iw_m6 / a.Iw_m6, 64, 1e-10);
}
END_TEST

static const struct wrong {
    size_t offset;
    double value;
    const char *word;
} wrongs[] = {
    {offsetof(bk_section_in, h_m), NAN, "depth"},
    {offsetof(bk_section_in, h_m), -0.2, "depth"},
    {offsetof(bk_section_in, h_m), INFINITY, "depth"},
    {offsetof(bk_section_in, b_m), 0, "flange width"},
    {offsetof(bk_section_in, b_m), INFINITY, "flange width"},
    {offsetof(bk_section_in, tw_m), NAN, "web thickness"},
    {offsetof(bk_section_in, tw_m), 0.127, "web thickness"},
    {offsetof(bk_section_in, tf_m), 0, "thickness"},
    {offsetof(bk_section_in, tf_m), 0.132, "thickness"},
    {offsetof(bk_section_in, r_m), -1e-3, "negative"},
    {offsetof(bk_section_in, r_m), 0.08, "radii"},
    {offsetof(bk_section_in, h_m), 0.0493, "radii"}, /* 11.2 + 13.5 mm on either side */
    {offsetof(bk_section_in, slope), 0.7, "slope"},
    {offsetof(bk_section_in, slope), -0.1, "negative"},
    {offsetof(bk_section_in, slope), 0.4, "tapers to nothing"},
    {offsetof(bk_section_in, a_weld_m), -1, "negative"},
};

START_TEST(no_shape)
{
    const struct wrong *w = &wrongs[_i];
    bk_section_in in = invented();
    memcpy((char *)&in + w->offset, &w->value, sizeof w->value);
    bk_section s;
    char why[160] = "";
    ck_assert_int_eq(bk_section_of(&in, &s, why, sizeof why), BK_E_VALUE);
    ck_assert_msg(strstr(why, w->word) != NULL, "\"%s\" does not speak of \"%s\"", why, w->word);
    ck_assert_int_eq(bk_section_of(&in, &s, NULL, 0), BK_E_VALUE);
}
END_TEST

/* The arc of a toe that touches the inner face stands r2 sqrt(1 + slope2) deep: 11.2 mm at 1:2 and 10 mm, in a flange of 10 mm there. */
START_TEST(toe_through_the_flange)
{
    bk_section_in in = invented();
    bk_section s;
    char why[160] = "";
    in.h_m = 0.3, in.b_m = 0.1, in.tw_m = 0.008, in.tf_m = 0.0165, in.r_m = 0.01, in.r2_m = 0.01, in.slope = 0.5;
    ck_assert_int_eq(bk_section_of(&in, &s, why, sizeof why), BK_E_VALUE);
    ck_assert_ptr_nonnull(strstr(why, "tapers to nothing"));
    in.tf_m = 0.0185;
    ck_assert_int_eq(bk_section_of(&in, &s, NULL, 0), BK_OK);
    in = invented(); /* fillets of both flanges that just leave each other room */
    in.h_m = 0.0495;
    ck_assert_int_eq(bk_section_of(&in, &s, NULL, 0), BK_OK);
}
END_TEST

START_TEST(steel_without_steps)
{
    bk_steel none = {0};
    ck_assert_double_nan(bk_steel_fy(&none, 0.01));
    bk_steel one = {.n = 1, .t_max_m = {INFINITY}, .fy_Pa = {248e6}, .fu_Pa = {400e6}};
    ck_assert_double_eq(bk_steel_fy(&one, 0.3), 248e6);
    ck_assert_double_nan(bk_steel_fy(&one, NAN));
    ck_assert_double_nan(bk_steel_fu(&one, 0));
    ck_assert_double_nan(bk_steel_fu(&one, -0.01));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("section");
    TCase *c = tcase_create("section");
    tcase_add_test(c, printed_values_when_all_are_there);
    tcase_add_test(c, closed_formulae_meet_the_integrated_outline);
    tcase_add_test(c, welded_plates);
    tcase_add_test(c, scale);
    tcase_add_test(c, toe_through_the_flange);
    tcase_add_loop_test(c, no_shape, 0, (int)(sizeof wrongs / sizeof *wrongs));
    tcase_add_test(c, steel_without_steps);
    suite_add_tcase(suite, c);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
