/* The bottom flange under a wheel against figures from outside.
 *
 *   E1, E2, E5   as in test_reference_strength_en.c
 *   printed      EN 1993-6, Table 5.3, coefficients near the edge, rounded to one decimal (memory)
 *   yield lines  own minimisation of the work of a fan of yield lines, apart from the closed expressions
 *   solid FE     CalculiX 2.20, 38000-node quarter models with the root fillet, and INP without it; local
 * stress = FE less M/W. A band for each coefficient says by how much the standard's formula and the elements
 * differ, and why it is not used instead: the code value is what a reviewer will ask for.
 */
#include "strength_cases.h"

static bk_section ipe300, hea200, ub406, parallel, taper;

static void setup(void)
{
    open_rules("en");
    ipe300 = mm_section(300, 150, 7.1, 10.7, 15, 53.812, 8356.1, 603.78, 20.118, 125934, 557.07, 628.36,
                        80.504, 125.22, 25.682);
    hea200 = mm_section(190, 200, 6.5, 10, 18, 53.831, 3692.1, 1335.5, 20.985, 108000, 388.65, 429.48, 133.55,
                        203.82, 18.081);
    ub406 = mm_section(406.4, 177.9, 7.9, 12.8, 10.2, 76.519, 21596, 1203.1, 33.49, 465197, 1062.8, 1199.5,
                       135.25, 209.05, 34.58);
    parallel = ipe300;
    taper = ipe300;
    taper.taper = true;
    taper.slope = 0.14;
}

static void coefficients_at(const bk_section *s, double mu, double out[BK_FLANGE_CURVES])
{
    bk_calc c = new_calc();
    bk_flange_coefficients(&c, s, mu, out);
}

/* ---- coefficients ------------------------------------------------------------------------------- */

/* EN 1993-6, Table 5.3 (memory): mu, c_x0, c_x1, c_x2, c_y0, c_y1; half of the last digit.  Its c_y1 at mu
 * 0.15 is left out: 0.6 is recalled with doubt and the formula of Table 5.2 gives 0.76. */
static const struct {
    double mu, c[BK_FLANGE_CURVES];
} printed[] = {{0.10, {0.2, 2.3, 2.2, -1.9, 0.6}}, {0.15, {0.2, 2.1, 1.7, -1.8, NAN}}};
START_TEST(coefficients_against_the_rounded_table)
{
    double c[BK_FLANGE_CURVES];
    coefficients_at(&parallel, printed[_i].mu, c);
    for (int i = 0; i < BK_FLANGE_CURVES; i++)
        if (isfinite(printed[_i].c[i])) NEAR(c[i], printed[_i].c[i], 0.0525);
}
END_TEST

START_TEST(coefficients_recomputed)
{
    double c[BK_FLANGE_CURVES];
    coefficients_at(&parallel, 0.10, c);
    const double wanted[] = {0.1921, 2.3033, 2.1690, -1.8977, 0.5480};
    for (int i = 0; i < BK_FLANGE_CURVES; i++)
        NEAR(c[i], wanted[i], 0.00006);
    coefficients_at(&taper, 0.10, c);
    const double tapered[] = {0.1494, 2.1858, 2.2345, -0.8811, 0.4471};
    for (int i = 0; i < BK_FLANGE_CURVES; i++)
        NEAR(c[i], tapered[i], 0.00006);
}
END_TEST

/* mu and what solid elements give (fillet toe for the web); the differences found, as bands. */
static const struct {
    const char *beam;
    bool taper;
    double mu, c_x0, c_x1, c_x2, c_y0, c_y1;
} elements[] = {
    {"IPE 300", false, 0.1, -0.394, 2.558, 2.500, -1.985, 0.605},
    {"IPE 300", false, 0.3, -0.209, 1.781, 1.159, -1.493, 1.163},
    {"IPE 300", false, 0.5, 0.063, 1.463, 0.559, -0.952, 1.178},
    {"HEB 300", false, 0.1, -0.472, 2.602, 2.525, -2.070, 0.687},
    {"HEB 300", false, 0.3, -0.295, 1.820, 1.149, -1.594, 1.221},
    {"HEB 300", false, 0.5, -0.048, 1.495, 0.547, -1.080, 1.232},
    {"UB 406x178x60", false, 0.1, -0.483, 2.642, 2.580, -2.160, 0.621},
    {"UB 406x178x60", false, 0.3, -0.321, 1.853, 1.232, -1.723, 1.194},
    {"UB 406x178x60", false, 0.5, -0.108, 1.525, 0.624, -1.274, 1.212},
    {"INP 300", true, 0.1, NAN, 1.934, NAN, NAN, 0.312},
    {"INP 300", true, 0.2, NAN, 1.672, NAN, NAN, 0.673},
    {"INP 300", true, 0.3, NAN, 1.529, NAN, NAN, 0.795},
};
START_TEST(coefficients_against_solid_elements)
{
    double c[BK_FLANGE_CURVES];
    coefficients_at(elements[_i].taper ? &taper : &parallel, elements[_i].mu, c);
    /* under the wheel: along within 13 % (the elements are higher near the edge, and lower on a taper
     * flange), across within 0.17 */
    NEAR(c[BK_CX1], elements[_i].c_x1, 0.135 * elements[_i].c_x1);
    NEAR(c[BK_CY1], elements[_i].c_y1, 0.17);
    if (elements[_i].taper) return;
    /* across at the web within 0.36 (27 % far in on the UB, whose root is small; 15 % elsewhere) */
    NEAR(c[BK_CY0], elements[_i].c_y0, 0.36);
    /* along at the edge the standard is 0.33 to 0.54 lower: not on the safe side, and known */
    ck_assert_double_gt(elements[_i].c_x2 - c[BK_CX2], 0.30);
    ck_assert_double_lt(elements[_i].c_x2 - c[BK_CX2], 0.55);
    /* along at the web the standard has the other sign, which adds to the tension of sagging: on the safe
     * side there */
    ck_assert_double_gt(c[BK_CX0] - elements[_i].c_x0, 0.35);
}
END_TEST

/* ---- effective length --------------------------------------------------------------------------- */

/* m, n mm; end distance mm (INFINITY: remote); length by yield lines mm, one wheel by itself. */
static const struct {
    double m, n, end, wanted;
} lengths[] = {
    {68.34, 8.5, INFINITY, 434.67}, {68.34, 8.5, 0, 153.68},   {68.34, 8.5, 20, 205.10},
    {68.34, 8.5, 50, 267.34},       {68.34, 8.5, 100, 317.34}, {68.34, 8.5, 150, 367.34},
    {39.45, 20, INFINITY, 336.30},  {39.45, 20, 0, 118.90},    {39.45, 20, 20, 188.15},
    {39.45, 20, 50, 218.15},        {39.45, 20, 100, 268.15},  {39.45, 20, 150, 318.15},
    {73.2, 25, INFINITY, 555.50},   {73.2, 25, 0, 196.40},     {73.2, 25, 20, 257.26},
    {73.2, 25, 50, 327.75},         {73.2, 25, 100, 377.75},   {73.2, 25, 150, 427.75},
};
START_TEST(effective_length_against_yield_lines)
{
    bk_calc c = new_calc();
    NEAR(bk_flange_effective_length(&c, lengths[_i].m * 1e-3, lengths[_i].n * 1e-3, INFINITY,
                                    lengths[_i].end * 1e-3) *
             1e3,
         lengths[_i].wanted, 0.006);
}
END_TEST

START_TEST(effective_length_of_wheels_near_each_other)
{
    bk_calc c = new_calc();
    /* UB 406x178x60, mu 0.1, wheels 300 mm apart: 367.34; HEB 240, n 25, 350 mm: 452.75; E2 258.15; E5
     * 332.92; all mm */
    NEAR(bk_flange_effective_length(&c, 0.06834, 0.0085, 0.300, INFINITY) * 1e3, 367.34, 0.01);
    NEAR(bk_flange_effective_length(&c, 0.0732, 0.025, 0.350, INFINITY) * 1e3, 452.75, 0.01);
    NEAR(bk_flange_effective_length(&c, 0.03945, 0.020, 0.180, INFINITY) * 1e3, 258.15, 0.01);
    NEAR(bk_flange_effective_length(&c, 0.06035, 0.022, 0.200, INFINITY) * 1e3, 332.92, 0.01);
    /* ends: E2 at a stop 50 mm from the end 199.075, E5 241.46 */
    NEAR(bk_flange_effective_length(&c, 0.03945, 0.020, 0.180, 0.050) * 1e3, 199.075, 0.01);
    NEAR(bk_flange_effective_length(&c, 0.06035, 0.022, 0.200, 0.050) * 1e3, 241.46, 0.01);
}
END_TEST

/* ---- resistance and stress ---------------------------------------------------------------------- */

static const struct {
    const char *name;
    const bk_section *section;
    double fy, edge_mm, next_mm, force_kN, M_kNm; /* characteristic */
    double m_mm, sigma_MPa, resistance_kN, design_kN;
} flanges[] = {
    {"E1", &ub406, 355e6, 8.5, 300, 15.45 / 1.35, 97.2 / 1.35, 68.34, 88.56, 73.2947, 15.45},
    {"E2", &ipe300, 235e6, 20, 180, 4.22909 / 1.35, 22.1388 / 1.35, 39.45, 38.3238, 42.8444, 4.22909},
    {"E5", &hea200, 355e6, 22, 200, 7.38347 / 1.35, 29.1943 / 1.35, 60.35, 71.165, 46.9915, 7.38347},
};
START_TEST(resistance_of_the_flange)
{
    bk_calc c = new_calc();
    const bk_member m = member_of(flanges[_i].section, flanges[_i].fy, 5);
    const bk_wheel wheel = {.force_N = flanges[_i].force_kN * 1e3,
                            .edge_m = flanges[_i].edge_mm * 1e-3,
                            .next_m = flanges[_i].next_mm * 1e-3,
                            .end_m = INFINITY,
                            .M_Nm = flanges[_i].M_kNm * 1e3,
                            .superposed = 2};
    const bk_rating rating = method->flange_resistance(&c, &m, &wheel);
    NEAR(step(&c, "m_l") * 1e3, flanges[_i].m_mm, 0.001);
    NEAR(step(&c, "sigma_f") / 1e6, flanges[_i].sigma_MPa, 0.12);
    NEAR(rating.limit / 1e3, flanges[_i].resistance_kN, 0.03);
    NEAR(rating.demand / 1e3, flanges[_i].design_kN, 0.001);
}
END_TEST

START_TEST(resistance_at_a_free_end)
{
    /* no global stress: E2 20.2726 kN, E5 24.2206 kN */
    bk_calc c = new_calc();
    bk_member m = member_of(&ipe300, 235e6, 5);
    bk_wheel wheel = {.force_N = 1e3, .edge_m = 0.020, .next_m = INFINITY, .end_m = 0, .superposed = 1};
    NEAR(method->flange_resistance(&c, &m, &wheel).limit, 20.2726e3, 10);
    m = member_of(&hea200, 355e6, 4);
    wheel.edge_m = 0.022;
    NEAR(method->flange_resistance(&c, &m, &wheel).limit, 24.2206e3, 10);
}
END_TEST

START_TEST(a_flange_at_yield_carries_no_wheel)
{
    bk_calc c = new_calc();
    const bk_member m = member_of(&ipe300, 235e6, 5);
    const bk_wheel wheel = {.force_N = 1e3,
                            .edge_m = 0.02,
                            .next_m = INFINITY,
                            .end_m = INFINITY,
                            .M_Nm = 200e3,
                            .superposed = 1};
    const bk_rating rating = method->flange_resistance(&c, &m, &wheel);
    NEAR(rating.limit, 0, 1e-9);
    ck_assert_double_gt(bk_rating_use(rating), 1);
}
END_TEST

START_TEST(a_wheel_on_the_root_is_said)
{
    bk_calc c = new_calc();
    const bk_member m = member_of(&ipe300, 235e6, 5);
    const bk_wheel wheel = {
        .force_N = 1e3, .edge_m = 0.065, .next_m = INFINITY, .end_m = INFINITY, .superposed = 1};
    const bk_rating rating = method->flange_resistance(&c, &m, &wheel);
    ck_assert(isnan(rating.limit));
    ck_assert_ptr_nonnull(rating.note);
}
END_TEST

/* Serviceability: one wheel without partial factor, global stress, equivalent stress at web, wheel, edge
 * (MPa), full local stress; greatest of all, with each direction by itself. */
static const struct {
    const char *name;
    const bk_section *section;
    double edge_mm, wheels, force_kN, global_MPa, s_0, s_1, s_2, most;
} stresses[] = {
    {"E1", &ub406, 8.5, 1, 11.4525, 67.1402, 186.478, 211.605, 218.757, 67.1402 + 161.0},
    {"E2", &ipe300, 20, 2, 3.13266, 29.4381, 109.891, 111.829, 74.8782, 29.4381 + 99.66},
    {"E5", &hea200, 22, 2, 5.46924, 55.6423, 227.833, 230.416, 177.538, 55.6423 + 209.22},
};
START_TEST(local_stress_of_the_flange)
{
    bk_calc c = new_calc();
    const bk_section *s = stresses[_i].section;
    const bk_member m = member_of(s, 355e6, 5);
    const bk_wheel wheel = {.force_N = stresses[_i].force_kN * 1e3,
                            .edge_m = stresses[_i].edge_mm * 1e-3,
                            .next_m = INFINITY,
                            .end_m = INFINITY,
                            .M_Nm = stresses[_i].global_MPa * 1e6 * s->Wely_m3,
                            .superposed = stresses[_i].wheels};
    const bk_rating rating = method->flange_stress(&c, &m, &wheel);
    NEAR(step(&c, "s_0") / 1e6, stresses[_i].s_0, 0.02);
    NEAR(step(&c, "s_1") / 1e6, stresses[_i].s_1, 0.02);
    NEAR(step(&c, "s_2") / 1e6, stresses[_i].s_2, 0.02);
    /* 7.5 also bounds each direction by itself: along the beam under the wheel is more than the equivalent of
     * two tensions */
    NEAR(rating.demand / 1e6, stresses[_i].most, 0.02);
    NEAR(rating.limit, 355e6, 1);
}
END_TEST

START_TEST(local_stress_counted_at_three_quarters)
{
    /* E2 with 0.75 of the local stress (the German annex): 88.1351, 90.3945, 63.5182 MPa */
    bk_rule share = *rules.local_share;
    share.value = 0.75;
    rules.local_share = &share;
    bk_calc c = new_calc();
    const bk_member m = member_of(&ipe300, 235e6, 5);
    const bk_wheel wheel = {.force_N = 3.13266e3,
                            .edge_m = 0.02,
                            .next_m = 0.18,
                            .end_m = INFINITY,
                            .M_Nm = 29.4381e6 * ipe300.Wely_m3,
                            .superposed = 2};
    (void)method->flange_stress(&c, &m, &wheel);
    NEAR(step(&c, "s_0") / 1e6, 88.1351, 0.01);
    NEAR(step(&c, "s_1") / 1e6, 90.3945, 0.01);
    NEAR(step(&c, "s_2") / 1e6, 63.5182, 0.01);
}
END_TEST

START_TEST(unstiffened_end)
{
    /* EN 1993-6, 5.8 (memory), by hand: mu 0.279916: 5.6 - 3.225 mu - 2.8 mu^3 = 4.6359; 3.13266 kN / 10.7^2
     * mm2 = 27.362 MPa */
    bk_calc c = new_calc();
    const bk_member m = member_of(&ipe300, 235e6, 5);
    const bk_wheel wheel = {
        .force_N = 3.13266e3, .edge_m = 0.02, .next_m = INFINITY, .end_m = 0.1, .superposed = 1};
    NEAR(method->flange_stress(&c, &m, &wheel).demand / 1e6, 4.6359 * 27.362, 0.02);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("flange");
    TCase *t = tcase_create("flange");
    tcase_add_checked_fixture(t, setup, close_rules);
    tcase_add_loop_test(t, coefficients_against_the_rounded_table, 0,
                        (int)(sizeof printed / sizeof *printed));
    tcase_add_test(t, coefficients_recomputed);
    tcase_add_loop_test(t, coefficients_against_solid_elements, 0, (int)(sizeof elements / sizeof *elements));
    tcase_add_loop_test(t, effective_length_against_yield_lines, 0, (int)(sizeof lengths / sizeof *lengths));
    tcase_add_test(t, effective_length_of_wheels_near_each_other);
    tcase_add_loop_test(t, resistance_of_the_flange, 0, (int)(sizeof flanges / sizeof *flanges));
    tcase_add_test(t, resistance_at_a_free_end);
    tcase_add_test(t, a_flange_at_yield_carries_no_wheel);
    tcase_add_test(t, a_wheel_on_the_root_is_said);
    tcase_add_loop_test(t, local_stress_of_the_flange, 0, (int)(sizeof stresses / sizeof *stresses));
    tcase_add_test(t, local_stress_counted_at_three_quarters);
    tcase_add_test(t, unstiffened_end);
    suite_add_tcase(suite, t);
    return run(suite);
}
