/* Beam strength by the European method against figures from outside.
 *
 *   E1   UB 406x178x60 in S355, span 6 m, printed: "Eurocode verification of a runway beam subject to wheel
 * loads", parts 1 and 2, New Steel Construction (SCI), 2015: V_Rd 709 kN, M_b,Rd 215 kNm (load at the shear
 * centre) and 280 kNm (at the bottom flange, with the C2 = 0.630 of NCCI SN003) E2   IPE 300 in S235, 5 m; E5
 * HEA 200 in S355, 4 m: recomputed apart from this code from the clauses (the clauses themselves from memory)
 *   FE   elastic critical moments by eigenvalues of cubic beam elements, a program of their own; E 210 GPa,
 * G 80.77 GPa. Each case says by how much formula and eigenvalue differ. Section values: closed formulae,
 * within 0.1 % of printed handbook tables.
 */
#include "strength_cases.h"

static bk_section ipe300, hea200, heb300, ub406;

static void setup(void)
{
    open_rules("en");
    ipe300 = mm_section(300, 150, 7.1, 10.7, 15, 53.812, 8356.1, 603.78, 20.118, 125934, 557.07, 628.36,
                        80.504, 125.22, 25.682);
    hea200 = mm_section(190, 200, 6.5, 10, 18, 53.831, 3692.1, 1335.5, 20.985, 108000, 388.65, 429.48, 133.55,
                        203.82, 18.081);
    heb300 = mm_section(300, 300, 11, 19, 27, 149.08, 25166, 8562.8, 185.05, 1687791, 1677.7, 1868.7, 570.85,
                        870.14, 47.428);
    ub406 = mm_section(406.4, 177.9, 7.9, 12.8, 10.2, 76.519, 21596, 1203.1, 33.49, 465197, 1062.8, 1199.5,
                       135.25, 209.05, 34.58);
}

/* ---- E1, printed -------------------------------------------------------------------------------- */

START_TEST(e1_shear_resistance_printed_709_kn)
{
    bk_calc c;
    bk_member m = member_of(&ub406, 355e6, 6);
    m.V_N = 30.9e3 / 1.35;
    const bk_rating rating = rate(method->shear, &m, &c);
    NEAR(rating.limit, 709e3, 0.5e3);
    NEAR(rating.demand, 30.9e3, 1); /* 1.35 of the characteristic shear */
}
END_TEST

START_TEST(e1_buckling_moment_printed_215_and_280_kNm)
{
    bk_calc c;
    bk_member m = member_of(&ub406, 355e6, 6);
    m.M_Q_Nm = 97.2e3 / 1.35;
    (void)rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_b_rolled"), 215e3, 1e3);
    NEAR(step(&c, "M_b_rolled"), 214.393e3, 0.3e3); /* recomputed: C1 1.348, G 80.77 GPa */
    NEAR(step(&c, "lambda"), 1.27897, 0.0005);
    NEAR(step(&c, "chi"), 0.484786, 0.0005);
    NEAR(step(&c, "f"), 0.962469, 0.0005);
    /* bottom flange, z_g = -190.4 mm: 280 kNm printed with C2 = 0.630; 272.2 recomputed with the 0.553 used
     * here */
    m.load_height_m = -0.1904;
    (void)rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_b_rolled"), 272.2e3, 0.3e3);
    ck_assert(step(&c, "M_b_rolled") < 280e3);
    bk_rule c2 = *rules.C2_below;
    c2.value = 0.630;
    rules.C2_below = &c2;
    (void)rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr"), 395.279e3, 0.4e3);
    NEAR(step(&c, "M_b_rolled"), 280e3, 0.5e3);
}
END_TEST

START_TEST(the_lesser_case_of_buckling_governs)
{
    bk_calc c;
    bk_member m = member_of(&ub406, 355e6, 6);
    m.M_Q_Nm = 10e3;
    const bk_rating rating = rate(method->ltb, &m, &c);
    NEAR(rating.limit, fmin(step(&c, "M_b_rolled"), step(&c, "M_b_general")), 1e-6);
    ck_assert(rating.limit < 215e3); /* the general case lies under the printed figure of the other one */
}
END_TEST

/* ---- E2, E5, recomputed ------------------------------------------------------------------------- */

START_TEST(e2_ipe300_section_and_buckling)
{
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 5);
    m.spread_m = 0.18;
    m.M_Q_Nm = 22.1388e3 / 1.35;
    m.V_N = 18.0104e3 / 1.35;
    bk_rating rating = rate(method->bending, &m, &c);
    NEAR(rating.demand, 22.1388e3, 0.1);
    NEAR(rating.limit, 147.665e3, 10);
    rating = rate(method->shear, &m, &c);
    NEAR(rating.limit, 348.446e3, 50);
    NEAR(rating.demand, 18.0104e3, 0.1);
    rating = rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr"), 155.944e3, 50);
    NEAR(step(&c, "M_cr"), 157.532e3, 0.011 * 157.532e3); /* FE: the formula is 1.0 % low */
    NEAR(step(&c, "lambda"), 0.973093, 0.0003);
    NEAR(step(&c, "M_b_general"), 101.054e3, 50);
    NEAR(step(&c, "M_b_rolled"), 113.189e3, 100); /* k_c 0.86 there, 1/sqrt(C1) here */
    NEAR(rating.limit, 101.054e3, 50);
    m.load_height_m = -0.1393;
    rating = rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr"), 216.357e3, 100);
    NEAR(step(&c, "M_cr"), 219.086e3, 0.013 * 219.086e3); /* FE: 1.2 % low */
    NEAR(step(&c, "lambda"), 0.826139, 0.0003);
    NEAR(rating.limit, 115.242e3, 50);
}
END_TEST

START_TEST(e2_interaction_with_lateral_load)
{
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 5);
    m.spread_m = 0.18;
    m.M_Q_Nm = 22.1388e3 / 1.35;
    m.lateral_N = 0.741636e3 / 1.35;
    const bk_rating rating = rate(method->interaction, &m, &c);
    NEAR(step(&c, "H"), 741.636, 0.01);
    NEAR(step(&c, "M_z"), 927.045, 0.1);
    NEAR(step(&c, "T"), 103.31, 0.01);
    NEAR(5 / step(&c, "a_t"), 3.92486, 0.001);
    NEAR(step(&c, "B"), 63.2566, 0.02);
    NEAR(step(&c, "B_Rd"), 4.09188e3, 1);
    NEAR(step(&c, "M_z_Rd"), 29.4267e3, 5);
    NEAR(step(&c, "k_w"), 0.697, 0.0005);
    NEAR(step(&c, "k_zw"), 0.968, 0.001);
    NEAR(step(&c, "k_alpha"), 1.165, 0.001);
    NEAR(step(&c, "annex_A"), 0.259592, 0.0003);
    NEAR(rating.demand, 0.259592, 0.0003);
}
END_TEST

START_TEST(e5_hea200_section_and_buckling)
{
    /* recomputed with W_pl: 152.465 kNm; c/t of the flange is 7.88 over 9 epsilon = 7.32, under 10 epsilon
     * = 8.14: class 2 */
    bk_calc c;
    bk_member m = member_of(&hea200, 355e6, 4);
    m.spread_m = 0.2;
    m.M_Q_Nm = 29.1943e3 / 1.35;
    m.lateral_N = 1.15881e3 / 1.35;
    bk_rating rating = rate(method->bending, &m, &c);
    NEAR(step(&c, "outstand"), 7.88, 0.005);
    NEAR(9 * step(&c, "epsilon"), 7.32, 0.005);
    NEAR(step(&c, "class"), 2, 0.1);
    NEAR(rating.limit, 152.465e3, 10);
    rating = rate(method->shear, &m, &c);
    NEAR(rating.limit, 370.587e3, 50);
    rating = rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr"), 312.1e3, 100);
    NEAR(step(&c, "M_cr"), 315.4e3, 0.012 * 315.4e3); /* FE: 1.0 % low */
    NEAR(rating.limit, 129.328e3, 50);
    rating = rate(method->interaction, &m, &c);
    NEAR(step(&c, "B"), 53.4311, 0.02);
    NEAR(step(&c, "M_z_Rd"), 72.3561e3, 10);
    NEAR(rating.demand, 0.246491, 0.0003);
    m.load_height_m = -0.085;
    rating = rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr"), 440.417e3, 150);
    NEAR(step(&c, "M_cr"), 445.971e3, 0.014 * 445.971e3); /* FE: 1.2 % low */
    NEAR(rating.limit, 136.357e3, 50);
}
END_TEST

/* ---- elastic critical moment against eigenvalues ------------------------------------------------- */

/* section 0 IPE 300, 1 HEB 300, 2 UB 406x178x60; span m; spread over span; share of uniform load; z_g mm; FE
 * kNm; band: the formula may lie below by `under` and above by `over` */
static const struct {
    int section;
    double span, spread, uniform, z_g, fe, under, over;
} eigenvalues[] = {
    /* one load at midspan, at the shear centre: about 1 % low; G 81 instead of 80.77 GPa is 0.1 % of it */
    {0, 3, 0, 0, 0, 341.9243, 0.013, 0},
    {0, 6, 0, 0, 0, 123.0066, 0.011, 0},
    {0, 10, 0, 0, 0, 65.9572, 0.009, 0},
    {1, 3, 0, 0, 0, 4441.2377, 0.013, 0},
    {1, 6, 0, 0, 0, 1501.4615, 0.012, 0},
    {1, 10, 0, 0, 0, 777.4659, 0.010, 0},
    {2, 3, 0, 0, 0, 831.4824, 0.013, 0},
    {2, 6, 0, 0, 0, 262.8192, 0.012, 0},
    {2, 10, 0, 0, 0, 129.8720, 0.010, 0},
    /* on the top flange: 2.6 to 6.5 % low */
    {0, 3, 0, 0, 150, 217.5199, 0.067, 0},
    {0, 6, 0, 0, 150, 89.0846, 0.045, 0},
    {0, 10, 0, 0, 150, 52.8471, 0.029, 0},
    {1, 6, 0, 0, 150, 1035.5616, 0.052, 0},
    {2, 6, 0, 0, 203.2, 175.9823, 0.056, 0},
    /* on the bottom flange with C2 = 0.553: never high by more than 0.2 % */
    {0, 3, 0, 0, -150, 533.8997, 0.013, 0.002},
    {0, 6, 0, 0, -150, 168.8393, 0.014, 0},
    {0, 10, 0, 0, -150, 81.9267, 0.015, 0},
    {1, 3, 0, 0, -150, 7200.4257, 0.013, 0.002},
    {1, 6, 0, 0, -150, 2162.6785, 0.014, 0},
    {2, 3, 0, 0, -203.2, 1358.0827, 0.013, 0.002},
    {2, 6, 0, 0, -203.2, 390.0056, 0.014, 0},
    {2, 10, 0, 0, -203.2, 174.0379, 0.014, 0},
    /* uniform load at the shear centre: 0.4 % low */
    {0, 3, 0, 1, 0, 283.8446, 0.005, 0},
    {1, 6, 0, 1, 0, 1247.1747, 0.005, 0},
    {2, 10, 0, 1, 0, 107.9449, 0.004, 0.001},
    /* two wheels about midspan on the bottom flange, a tenth and a fifth of the span apart: at most 6 % low,
       never high */
    {0, 6, 0.1, 0, -150, 154.4339, 0.05, 0},
    {0, 6, 0.2, 0, -150, 143.2321, 0.06, 0},
    {1, 6, 0.1, 0, -150, 1978.0042, 0.05, 0},
    {1, 6, 0.2, 0, -150, 1833.0398, 0.06, 0},
    {2, 10, 0.1, 0, -203.2, 159.1980, 0.05, 0},
    {2, 10, 0.2, 0, -203.2, 147.7133, 0.06, 0},
    /* a twentieth apart counts as one load, the trade's bound: 3.0 to 3.9 % high at the shear centre */
};

START_TEST(critical_moment_against_eigenvalues)
{
    const bk_section *sections[] = {&ipe300, &heb300, &ub406};
    bk_calc c;
    bk_member m = member_of(sections[eigenvalues[_i].section], 235e6, eigenvalues[_i].span);
    const double L = eigenvalues[_i].span, fe = eigenvalues[_i].fe * 1e3;
    m.spread_m = eigenvalues[_i].spread * L;
    m.M_G_Nm = eigenvalues[_i].uniform * 1e3;
    m.M_Q_Nm = (1 - eigenvalues[_i].uniform) * 1e3;
    m.load_height_m = eigenvalues[_i].z_g * 1e-3;
    (void)rate(method->ltb, &m, &c);
    const double off = step(&c, "M_cr") / fe - 1;
    ck_assert_msg(off >= -eigenvalues[_i].under - 0.001 && off <= eigenvalues[_i].over + 0.001,
                  "case %d: formula over eigenvalue %+.4f", _i, off);
}
END_TEST

START_TEST(wheels_a_twentieth_apart_are_the_bound_of_the_trade)
{
    /* FE, IPE 300, 6 m: 117.3922 kNm at the shear centre; the formula for one load is 3.6 % high. Just beyond
     * it is not. */
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 6);
    m.M_Q_Nm = 1e3;
    m.spread_m = 0.0499 * 6;
    (void)rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr") / 117.3922e3 - 1, 0.037, 0.002);
    m.spread_m = 0.0502 * 6;
    (void)rate(method->ltb, &m, &c);
    NEAR(step(&c, "M_cr") / 117.3922e3 - 1, -0.003, 0.003);
}
END_TEST

/* C1 of NCCI SN003 for end moments 1 and psi (k = 1): formula of the span with end moments lies under each.
 */
static const double end_moments[][2] = {{1, 1.00}, {0.75, 1.14},  {0.5, 1.31},  {0.25, 1.52},
                                        {0, 1.77}, {-0.25, 2.05}, {-0.5, 2.33}, {-0.75, 2.57}};
START_TEST(end_moments_against_ncci_sn003)
{
    const double psi = end_moments[_i][0], printed = end_moments[_i][1];
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 6);
    m.hold = BK_HOLD_ENDS;
    m.M_Q_Nm = m.M_max_Nm = 1e3;
    for (int i = 0; i < 3; i++)
        m.M_quarter_Nm[i] = fabs(1 + (psi - 1) * 0.25 * (i + 1)) * 1e3;
    (void)rate(method->ltb, &m, &c);
    const double off = step(&c, "C_1") / printed - 1;
    ck_assert_msg(off <= 0.005 && off >= -0.23, "psi %g: %+.3f", psi, off);
}
END_TEST

START_TEST(fixed_ends_against_ncci_sn003)
{
    /* printed C1: uniform load 2.578, point load at midspan 1.683; moments of a fixed span at the quarter
     * points */
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 6);
    m.hold = BK_HOLD_ENDS;
    m.M_Q_Nm = m.M_max_Nm = 12e3; /* w L2 / 12 = 12, midspan 6, quarter 1.5 */
    m.M_quarter_Nm[0] = m.M_quarter_Nm[2] = 1.5e3;
    m.M_quarter_Nm[1] = 6e3;
    (void)rate(method->ltb, &m, &c);
    ck_assert_double_le(step(&c, "C_1"), 2.578);
    ck_assert_double_ge(step(&c, "C_1"), 0.8 * 2.578);
    m.M_quarter_Nm[0] = m.M_quarter_Nm[2] = 0; /* P L / 8 at ends and midspan */
    m.M_quarter_Nm[1] = 12e3;
    (void)rate(method->ltb, &m, &c);
    ck_assert_double_le(step(&c, "C_1"), 1.683);
    ck_assert_double_ge(step(&c, "C_1"), 0.75 * 1.683);
}
END_TEST

/* IPE 300, span 6 m and an overhang c with its load at the tip; supports hold lateral movement and twist:
 * critical moment at the support by cubic elements. What governs is the lesser of overhang and back span
 * (linear moment). */
static const struct {
    double c, z_g, fe;
} overhangs[] = {{1.5, 150, 141.721}, {1.5, 0, 182.845}, {1.5, -150, 192.689},
                 {3, 150, 116.467},   {3, 0, 177.969},   {3, -150, 187.224}};
START_TEST(overhang_stays_under_eigenvalues)
{
    bk_calc c;
    bk_member out = member_of(&ipe300, 235e6, overhangs[_i].c), back = member_of(&ipe300, 235e6, 6);
    out.hold = BK_HOLD_OVERHANG;
    back.hold = BK_HOLD_ENDS;
    out.M_Q_Nm = back.M_Q_Nm = back.M_max_Nm = 1e3;
    out.load_height_m = overhangs[_i].z_g * 1e-3;
    for (int i = 0; i < 3; i++)
        back.M_quarter_Nm[i] = 250.0 * (i + 1);
    (void)rate(method->ltb, &out, &c);
    const double of_overhang = step(&c, "M_cr");
    (void)rate(method->ltb, &back, &c);
    const double least = fmin(of_overhang, step(&c, "M_cr"));
    ck_assert_msg(least <= overhangs[_i].fe * 1e3, "%g over %g kNm", least / 1e3, overhangs[_i].fe);
    ck_assert_msg(least >= 0.4 * overhangs[_i].fe * 1e3, "%g far under %g kNm", least / 1e3,
                  overhangs[_i].fe);
}
END_TEST

/* ---- section ------------------------------------------------------------------------------------ */

START_TEST(shear_takes_its_share_of_bending)
{
    /* EN 1993-1-1, 6.2.8 (memory), by hand: V_Ed = 0.8 V_pl,Rd, rho = (1.6 - 1)^2 = 0.36,
     * A_w = 278.6 * 7.1 = 1978.06 mm2, W = 628360 - 0.36 * 1978.06^2 / (4 * 7.1) = 578762 mm3, 136.01 kNm */
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 5);
    m.M_Q_Nm = 1e3;
    m.V_N = 0.8 * 348.446e3 / 1.35;
    const bk_rating rating = rate(method->bending, &m, &c);
    NEAR(rating.limit, 136.01e3, 60);
    /* past V_pl,Rd (the shear check fails) rho stays 1: 628360 - 1978.06^2 / 28.4 = 490588 mm3, 115.29 kNm */
    m.V_N = 1.1 * 348.446e3 / 1.35;
    NEAR(rate(method->bending, &m, &c).limit, 115.29e3, 60);
}
END_TEST

START_TEST(own_weight_that_relieves_is_not_raised)
{
    /* by hand: hogging of the trolley 10 kNm, own weight sags 2 kNm: 1.35 * 10 - 1.0 * 2 = 11.5 kNm */
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 5);
    m.M_Q_Nm = -10e3;
    m.M_G_Nm = 2e3;
    NEAR(rate(method->bending, &m, &c).demand, 11.5e3, 1e-6);
    /* stalled: 1.10 on all (EN 13001-2, memory) */
    m.state = BK_STATE_STALLED;
    NEAR(rate(method->bending, &m, &c).demand, 8.8e3, 1e-6);
}
END_TEST

START_TEST(class_4_is_said_and_not_rated)
{
    /* flange 300 x 8 in S355: c/t = (300 - 8)/2/8 = 18.25 over 14 epsilon = 11.4 */
    bk_section thin = mm_section(300, 300, 8, 8, 0, 70.7, 12000, 3600, 13, 770000, 800, 880, 240, 365, 22.7);
    bk_calc c;
    bk_member m = member_of(&thin, 355e6, 5);
    m.M_Q_Nm = 1e3;
    m.N_N = 1e3;
    bk_rate_member *all[] = {method->bending, method->ltb, method->interaction, method->buckling,
                             method->strut_interaction};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        const bk_rating rating = rate(all[i], &m, &c);
        ck_assert(isnan(rating.limit));
        ck_assert_ptr_nonnull(strstr(rating.note, "class 4"));
    }
}
END_TEST

START_TEST(the_web_decides_the_class)
{
    /* EN 1993-1-1, Table 5.2 (memory), web in bending, S235: 72, 83, 124.  600 mm between flanges of c/t 8.1 (class 1); with
     * roots of 15 mm 570 mm count.  Plastic modulus to class 2, elastic in class 3. */
    const struct {
        double t_w, r, web, class, M;
    } all[] = {{8.2, 0, 73.171, 2, 470e3}, {7.5, 0, 80, 2, 470e3},     {7, 0, 85.714, 3, 413.6e3}, {7, 15, 81.429, 2, 470e3},
               {8, 15, 71.25, 1, 470e3},   {4.9, 0, 122.449, 3, 413.6e3}, {4.8, 0, 125, 4, NAN}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        bk_section s = mm_section(624, 200, all[i].t_w, 12, all[i].r, 84, 55000, 1600, 28, 1.5e6, 1760, 2000, 160, 240, 36);
        bk_calc c;
        bk_member m = member_of(&s, 235e6, 5);
        m.M_Q_Nm = 1e3;
        const bk_rating rating = rate(method->bending, &m, &c);
        NEAR(step(&c, "web"), all[i].web, 0.001);
        NEAR(step(&c, "class"), all[i].class, 0.1);
        if (isnan(all[i].M)) ck_assert(isnan(rating.limit));
        else NEAR(rating.limit, all[i].M, 1);
    }
}
END_TEST

START_TEST(slender_web_is_said_and_not_rated)
{
    /* h_w/t_w = 600/6 = 100 over 72 epsilon = 72 (memory) */
    bk_section thin = mm_section(624, 200, 6, 12, 0, 84, 55000, 1600, 28, 1.5e6, 1760, 2000, 160, 240, 36);
    bk_calc c;
    bk_member m = member_of(&thin, 235e6, 5);
    m.V_N = 1e3;
    ck_assert(isnan(rate(method->shear, &m, &c).limit));
}
END_TEST

/* ---- struts ------------------------------------------------------------------------------------- */

START_TEST(strut_by_the_buckling_curves)
{
    /* chi of the curves at lambda 1.0 (EN 1993-1-1, Figure 6.4; standard tables, memory): a 0.666, b 0.597, c
     * 0.540, d 0.467. HEB 300: h/b <= 1.2, curve b about y, c about z. lambda = 1 at L = i pi sqrt(E/f_y). */
    bk_calc c;
    bk_member m = member_of(&heb300, 235e6, 6);
    const double lambda_1 = BK_PI * sqrt(210e9 / 235e6);
    m.N_N = 100e3;
    m.buckling_y_m = heb300.iy_m * lambda_1;
    m.buckling_z_m = heb300.iz_m * lambda_1;
    const bk_rating rating = rate(method->buckling, &m, &c);
    const double squash = heb300.area_m2 * 235e6;
    NEAR(step(&c, "N_b_y") / squash, 0.597, 0.0006);
    NEAR(step(&c, "N_b_z") / squash, 0.540, 0.0006);
    NEAR(rating.limit / squash, 0.540, 0.0006);
    /* IPE 300: h/b > 1.2, curves a and b */
    m.section = &ipe300;
    m.buckling_y_m = ipe300.iy_m * lambda_1;
    m.buckling_z_m = ipe300.iz_m * lambda_1;
    (void)rate(method->buckling, &m, &c);
    NEAR(step(&c, "N_b_y") / (ipe300.area_m2 * 235e6), 0.666, 0.0006);
    NEAR(step(&c, "N_b_z") / (ipe300.area_m2 * 235e6), 0.597, 0.0006);
    /* tension has no buckling */
    m.N_N = -100e3;
    NEAR(rate(method->buckling, &m, &c).limit, ipe300.area_m2 * 235e6, 1);
}
END_TEST

/* A national annex may raise the partial factors: each resistance falls by its own (EN 1993-1-1, 6.1). */
START_TEST(partial_factors_divide)
{
    bk_calc c;
    bk_member m = member_of(&heb300, 235e6, 6);
    m.M_Q_Nm = 10e3;
    m.V_N = 5e3;
    m.N_N = 100e3;
    bk_rate_member *const all[] = {method->bending, method->shear, method->ltb, method->buckling};
    double before[4];
    for (int i = 0; i < 4; i++) before[i] = rate(all[i], &m, &c).limit;
    bk_rule squash = *rules.gamma_M0, buckle = *rules.gamma_M1;
    squash.value *= 1.1;
    buckle.value *= 1.25;
    rules.gamma_M0 = &squash;
    rules.gamma_M1 = &buckle;
    for (int i = 0; i < 4; i++) NEAR(rate(all[i], &m, &c).limit, before[i] / (i < 2 ? 1.1 : 1.25), 1e-6 * before[i]);
    m.N_N = -100e3;
    NEAR(rate(method->buckling, &m, &c).limit, heb300.area_m2 * 235e6 / 1.1, 1);
}
END_TEST

START_TEST(strut_with_a_web_of_class_4)
{
    /* EN 1993-1-5, 4.4 (memory), by hand: IPE 400 S355, web 331/8.6 = 38.49 over 42 epsilon = 34.17; lambda_p
     * = 38.49/(28.4 * 0.8136 * 2) = 0.8329, rho = (0.8329 - 0.22)/0.6937 = 0.8835; A_eff = 8446 - 0.1165 *
     * 331 * 8.6 = 8114 mm2 */
    const bk_section ipe400 =
        mm_section(400, 180, 8.6, 13.5, 21, 84.46, 23130, 1318, 51.08, 490000, 1156, 1307, 146.4, 229, 42.69);
    bk_calc c;
    bk_member m = member_of(&ipe400, 355e6, 1e-3); /* so short that chi is 1 */
    m.N_N = 10e3;
    NEAR(rate(method->buckling, &m, &c).limit, 8114e-6 * 355e6, 1e3);
}
END_TEST

START_TEST(strut_with_bending_bounds_annex_b)
{
    /* Annex B by hand (memory) for HEB 300 S235, 6 m, N = 800 kN, M_y = 100 kNm, M_z = 0, C_m = 1: k_yy = 1 +
     * (lambda_y - 0.2) n_y, k_zy = 1 - 0.1 lambda_z n_z/(1 - 0.25).  The bounds used here lie above. */
    bk_calc c;
    bk_member m = member_of(&heb300, 235e6, 6);
    m.state = BK_STATE_LIFTING;
    m.lifting_factor = 1;
    m.lifting_by = "test";
    m.hold = BK_HOLD_UNIFORM;
    m.N_N = 800e3;
    m.M_Q_Nm = 100e3;
    const bk_rating rating = rate(method->strut_interaction, &m, &c);
    const double n_y = step(&c, "n_y"), n_z = step(&c, "n_z"), m_y = step(&c, "M_y") / step(&c, "M_b_Rd");
    const double lambda_1 = BK_PI * sqrt(210e9 / 235e6);
    const double k_yy = 1 + (6 / heb300.iy_m / lambda_1 - 0.2) * n_y;
    const double k_zy = 1 - 0.1 * (6 / heb300.iz_m / lambda_1) * n_z / 0.75;
    const double exact = fmax(n_y + k_yy * m_y, n_z + k_zy * m_y);
    ck_assert_double_ge(rating.demand, exact);
    ck_assert_double_le(rating.demand, 1.15 * exact);
    /* pulled: N/N_t,Rd = 800e3/(14908 mm2 * 235) = 0.22835 and the bending as before, at least */
    m.N_N = -800e3;
    const double pulled = rate(method->strut_interaction, &m, &c).demand;
    ck_assert_double_ge(pulled, 0.22835 + m_y);
    ck_assert_double_le(pulled, 1.15 * (0.22835 + m_y));
}
END_TEST

START_TEST(strut_braced_sideways_may_twist)
{
    /* EN 1993-1-1, 6.3.1.4 (memory), by hand: IPE 300 S235, 6 m between ends held against twist, braced sideways every 1.5 m.
     * N_cr,T = (81e9 * 20.12e-8 + pi2 210e9 * 1.259e-7 / 36) / 0.01665 = 1.413 MN, under 5.56 MN about the weak axis;
     * lambda 0.946, curve b: Phi 1.0742, chi 0.6316 of 1264.6 kN */
    bk_calc c;
    bk_member m = member_of(&ipe300, 235e6, 6);
    m.buckling_z_m = 1.5;
    m.N_N = 10e3;
    NEAR(rate(method->buckling, &m, &c).limit, 798.6e3, 1e3);
}
END_TEST

START_TEST(compression_takes_the_web_out_of_the_plastic_range)
{
    /* EN 1993-1-1, Table 5.2 (memory), by hand: IPE 300 S355, web 248.6/7.1 = 35.01, epsilon 0.8136; 600 kN take
     * alpha = (1 + 600e3 / (248.6 * 7.1 * 355)) / 2 = 0.979 of it: 456 epsilon / (13 alpha - 1) = 31.6, class 3.  300 kN:
     * 0.739, 43.1, class 2.  In class 3 the weak axis has its elastic modulus and k_yz = k_zz (Annex B). */
    bk_calc c;
    bk_member m = member_of(&ipe300, 355e6, 1);
    m.state = BK_STATE_LIFTING;
    m.lifting_factor = 1;
    m.lifting_by = "test";
    m.hold = BK_HOLD_UNIFORM;
    m.M_Q_Nm = 10e3;
    m.M_z_Nm = 1e3;
    m.N_N = 300e3;
    (void)rate(method->strut_interaction, &m, &c);
    NEAR(step(&c, "W_y"), ipe300.Wply_m3, 1e-12);
    NEAR(step(&c, "k_yz") / step(&c, "k_zz"), 0.6, 1e-12);
    m.N_N = 600e3;
    const bk_rating rating = rate(method->strut_interaction, &m, &c);
    NEAR(step(&c, "W_y"), ipe300.Wely_m3, 1e-12);
    NEAR(step(&c, "W_z"), ipe300.Welz_m3, 1e-12);
    NEAR(step(&c, "k_yz"), step(&c, "k_zz"), 1e-12);
    ck_assert(isfinite(rating.limit));
}
END_TEST

/* ---- web at a support ---------------------------------------------------------------------------- */

START_TEST(web_at_a_support_by_hand)
{
    /* EN 1993-1-5, 6 (memory), IPE 300 S235, inner support, bearing length 0, by hand: h_w 278.6, k_F 6, m_1
     * = 150/7.1 = 21.127, l_y = 2 * 10.7 (1 + 4.5964) = 119.76 mm; F_cr = 0.9 * 6 * 210000 * 7.1^3 / 278.6 =
     * 1456.8 kN; lambda = sqrt(119.76 * 7.1 * 235 / 1456800) = 0.37036, chi 1; F_Rd = 235 * 119.76 * 7.1 =
     * 199.82 kN. End of the beam (c = 0): l_e 0, l_y = 10.7 sqrt(21.127/2) = 34.78 mm, k_F 2: lambda
     * 0.3458, 58.02 kN */
    bk_calc c = new_calc();
    const bk_member m = member_of(&ipe300, 235e6, 5);
    NEAR(method->web(&c, &m, &(bk_bearing){10e3, 2, 0}).limit, 199.82e3, 100);
    NEAR(method->web(&c, &m, &(bk_bearing){10e3, 0, 0}).limit, 58.02e3, 30);
    /* hogging 0.9 of the elastic moment: 1.4 - 0.8 * 0.9 = 0.68 of it */
    NEAR(method->web(&c, &m, &(bk_bearing){10e3, 2, 0.9 * 557.07e-6 * 235e6 / 1.35}).limit, 0.68 * 199.82e3,
         100);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("strength-en");
    TCase *t = tcase_create("strength-en");
    tcase_add_checked_fixture(t, setup, close_rules);
    tcase_add_test(t, e1_shear_resistance_printed_709_kn);
    tcase_add_test(t, e1_buckling_moment_printed_215_and_280_kNm);
    tcase_add_test(t, the_lesser_case_of_buckling_governs);
    tcase_add_test(t, e2_ipe300_section_and_buckling);
    tcase_add_test(t, e2_interaction_with_lateral_load);
    tcase_add_test(t, e5_hea200_section_and_buckling);
    tcase_add_loop_test(t, critical_moment_against_eigenvalues, 0,
                        (int)(sizeof eigenvalues / sizeof *eigenvalues));
    tcase_add_test(t, wheels_a_twentieth_apart_are_the_bound_of_the_trade);
    tcase_add_loop_test(t, end_moments_against_ncci_sn003, 0,
                        (int)(sizeof end_moments / sizeof *end_moments));
    tcase_add_test(t, fixed_ends_against_ncci_sn003);
    tcase_add_loop_test(t, overhang_stays_under_eigenvalues, 0, (int)(sizeof overhangs / sizeof *overhangs));
    tcase_add_test(t, shear_takes_its_share_of_bending);
    tcase_add_test(t, own_weight_that_relieves_is_not_raised);
    tcase_add_test(t, class_4_is_said_and_not_rated);
    tcase_add_test(t, the_web_decides_the_class);
    tcase_add_test(t, slender_web_is_said_and_not_rated);
    tcase_add_test(t, strut_by_the_buckling_curves);
    tcase_add_test(t, strut_with_a_web_of_class_4);
    tcase_add_test(t, partial_factors_divide);
    tcase_add_test(t, strut_with_bending_bounds_annex_b);
    tcase_add_test(t, strut_braced_sideways_may_twist);
    tcase_add_test(t, compression_takes_the_web_out_of_the_plastic_range);
    tcase_add_test(t, web_at_a_support_by_hand);
    suite_add_tcase(suite, t);
    return run(suite);
}
