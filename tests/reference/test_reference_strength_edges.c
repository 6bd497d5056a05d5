/* Where a clause changes over, the limit itself belongs to the side that the clause gives it to.
 *
 * Every case stands exactly on a limit of EN 1993 or AISC 360 (clauses from memory) and, where that is another answer, a
 * billionth past it.  Dimensions are multiples of powers of two, and the yield strength makes epsilon 1 or sqrt(E / F_y) 16,
 * so that the figures are met to the last bit.
 */
#include "strength_cases.h"

#define PAST(x) ((x) * (1 + 1e-9))

static bk_section section;
static bk_member member;
static const double tf = 1.0 / 32, tw = 1.0 / 64;

/* A section of these slendernesses, no root: c / t of half a flange and of the web. */
static void flat(double flange, double web)
{
    const double b = 2 * flange * tf + tw, h = web * tw + 2 * tf;
    section = (bk_section){.h_m = h, .b_m = b, .tw_m = tw, .tf_m = tf, .area_m2 = 2 * b * tf + (h - 2 * tf) * tw, .Iy_m4 = 1e-3,
                           .Iz_m4 = 2e-4, .It_m4 = 3e-6, .Iw_m6 = 5e-6, .Wely_m3 = 4e-3, .Wply_m3 = 5e-3, .Welz_m3 = 7e-4,
                           .Wplz_m3 = 1.1e-3, .Avz_m2 = h * tw, .iy_m = 0.25, .iz_m = 0.11};
    member = member_of(&section, 235e6, 5);
    member.state = BK_STATE_LIFTING;
    member.lifting_factor = 1;
    member.lifting_by = "test";
    member.M_Q_Nm = 1e5;
    member.M_max_Nm = 1e5;
}

static const bk_step *last(const bk_calc *c, const char *symbol)
{
    const bk_step *found = NULL;
    for (size_t i = 0; i < c->w->n; i++)
        if (strcmp(c->w->steps[i].symbol, symbol) == 0) found = &c->w->steps[i];
    return found;
}

static bk_rating bend(bk_calc *c)
{
    return rate(method->bending, &member, c);
}

/* ---- EN 1993 ------------------------------------------------------------------------------------ */

static void setup_en(void)
{
    open_rules("en");
}

/* EN 1993-1-1, Table 5.2. */
START_TEST(classes)
{
    static const double flange[] = {9, 10, 14}, web[] = {72, 83, 124};
    bk_calc c;
    for (int i = 0; i < 3; i++) {
        flat(flange[i], 40);
        bend(&c);
        ck_assert_double_eq(step(&c, "class"), i + 1);
        section.b_m = PAST(section.b_m);
        const bk_rating past = bend(&c);
        ck_assert_double_eq(step(&c, "class"), i + 2);
        ck_assert_int_eq(isnan(past.limit), i == 2);
        flat(5, web[i]);
        bend(&c);
        ck_assert_double_eq(step(&c, "class"), i + 1);
        section.h_m = PAST(section.h_m);
        bend(&c);
        ck_assert_double_eq(step(&c, "class"), i + 2);
    }
    /* a web in bending alone has 83, one with compression 456 / (13 alpha - 1), which is less */
    flat(5, 82.95);
    bend(&c);
    ck_assert_double_eq(step(&c, "class"), 2);
    member.N_N = 1;
    bend(&c);
    ck_assert_double_eq(step(&c, "class"), 3);
}
END_TEST

/* 6.2.6(6): a web of 72 epsilon / eta needs no check of buckling.  6.2.8(2): half of the shear resistance takes nothing off. */
START_TEST(shear)
{
    bk_calc c;
    flat(5, 72);
    const double V_Rd = rate(method->shear, &member, &c).limit;
    ck_assert(isfinite(V_Rd));
    member.V_N = V_Rd / 2;
    bend(&c);
    ck_assert_ptr_null(last(&c, "rho"));
    member.V_N = PAST(V_Rd / 2);
    bend(&c);
    ck_assert_ptr_nonnull(last(&c, "rho"));
    section.h_m = PAST(section.h_m);
    ck_assert(isnan(rate(method->shear, &member, &c).limit));
}
END_TEST

/* Table 5.2, web under even compression: 42 epsilon. */
START_TEST(web_of_a_strut)
{
    bk_calc c;
    flat(5, 42);
    member.N_N = 1e5;
    rate(method->buckling, &member, &c);
    ck_assert_double_eq(step(&c, "A_eff"), section.area_m2);
    section.h_m = PAST(section.h_m);
    rate(method->buckling, &member, &c);
    ck_assert_double_lt(step(&c, "A_eff"), 0.99 * section.area_m2);
}
END_TEST

static bool has(const bk_calc *c, double value)
{
    for (size_t i = 0; i < c->w->n; i++)
        if (strcmp(c->w->steps[i].symbol, "alpha") == 0 && c->w->steps[i].value == value) return true;
    return false;
}

/* Table 6.4: a rolled section with h / b of 2 has curve a, past it b; Table 6.5 b and c. */
START_TEST(stocky)
{
    bk_calc c;
    flat(5, 40);
    section.b_m = section.h_m / 2;
    rate(method->ltb, &member, &c);
    ck_assert(has(&c, 0.21) && has(&c, 0.34) && !has(&c, 0.49));
    section.h_m = PAST(section.h_m);
    rate(method->ltb, &member, &c);
    ck_assert(!has(&c, 0.21) && has(&c, 0.34) && has(&c, 0.49));
}
END_TEST

/* Table 6.2: h / b of 1.2 counts as wide, 40 mm (100 mm where wide) as thin. */
START_TEST(curves_of_struts)
{
    static const struct {
        double h_b, t;
        bool welded;
        double y, z, past_y, past_z;
    } cases[] = {{1.2, 0.1, false, 0.34, 0.49, 0.76, 0.76}, {1.3, 0.04, false, 0.21, 0.34, 0.34, 0.49}, {1.3, 0.04, true, 0.34, 0.49, 0.49, 0.76}};
    for (size_t i = 0; i < 3; i++) {
        bk_calc c;
        flat(5, 40);
        section.b_m = 0.5;
        section.tf_m = cases[i].t;
        section.h_m = cases[i].h_b * section.b_m;
        section.welded = cases[i].welded;
        member.N_N = 1e5;
        rate(method->buckling, &member, &c);
        ck_assert_msg(has(&c, cases[i].y) && has(&c, cases[i].z) && !has(&c, 0.76), "%zu", i);
        section.tf_m = PAST(section.tf_m);
        rate(method->buckling, &member, &c);
        ck_assert_msg(has(&c, cases[i].past_y) && has(&c, cases[i].past_z), "%zu, thicker", i);
    }
    bk_calc c;
    section.welded = false;
    section.tf_m = 0.03;
    section.h_m = PAST(1.2 * section.b_m);
    rate(method->buckling, &member, &c);
    ck_assert(has(&c, 0.21) && has(&c, 0.34));
}
END_TEST

/* A load at the shear centre has no C_2, whatever the holds; below it one between ends that are free to turn only. */
START_TEST(load_at_the_shear_centre)
{
    static const bk_hold holds[] = {BK_HOLD_SIMPLE, BK_HOLD_ENDS, BK_HOLD_UNIFORM, BK_HOLD_OVERHANG};
    for (size_t i = 0; i < 4; i++) {
        bk_calc c;
        flat(5, 40);
        member.hold = holds[i];
        rate(method->ltb, &member, &c);
        ck_assert_double_eq(step(&c, "C_2"), 0);
        ck_assert_str_eq(last(&c, "C_2")->source, "no effect of the load's height counted");
        member.load_height_m = -0.1;
        rate(method->ltb, &member, &c);
        ck_assert_double_eq(step(&c, "z_g"), holds[i] == BK_HOLD_SIMPLE ? -0.1 : 0);
        member.load_height_m = 0.1;
        rate(method->ltb, &member, &c);
        ck_assert_double_eq(step(&c, "z_g"), 0.1);
    }
}
END_TEST

/* EN 1993-6, 5.8: within b of an end; 6.7: a wheel over the root has no lever; Annex A up to the elastic critical moment. */
START_TEST(wheels_and_the_critical_moment)
{
    bk_calc c = new_calc();
    flat(5, 40);
    bk_wheel wheel = {.force_N = 1e4, .edge_m = tf, .next_m = INFINITY, .end_m = section.b_m, .superposed = 1};
    method->flange_stress(&c, &member, &wheel);
    ck_assert_double_eq(step(&c, "near_end"), 0);
    wheel.edge_m = 5 * tf;
    c = new_calc();
    ck_assert(isnan(method->flange_resistance(&c, &member, &wheel).limit));

    rate(method->ltb, &member, &c);
    member.M_Q_Nm = step(&c, "M_cr"); /* one load: the moment's size is not in its shape */
    const bk_rating at = rate(method->interaction, &member, &c);
    ck_assert(isfinite(at.demand));
    ck_assert_str_eq(at.note, "the beam buckles under the vertical load alone");
    member.M_Q_Nm *= 1 - 1e-9;
    ck_assert_ptr_null(rate(method->interaction, &member, &c).note);
}
END_TEST

/* EN 1990, 6.10: own weight without trolleys adds. */
START_TEST(own_weight_alone)
{
    bk_calc c;
    flat(5, 40);
    member.state = BK_STATE_DYNAMIC;
    member.M_Q_Nm = 0;
    member.M_G_Nm = 2e5;
    NEAR(bend(&c).demand, 1.35 * 2e5, 1e-6);
    member.M_Q_Nm = -1;
    NEAR(bend(&c).demand, 1.0 * 2e5 - 1.35, 1e-6);
}
END_TEST

/* ---- AISC 360 ----------------------------------------------------------------------------------- */

static void setup_us(void)
{
    open_rules("us");
}

/* sqrt(E / F_y) is 16.  b_f / (2 t_f) and h / t_w are given. */
static void us_flat(double flange, double web)
{
    flat(5, 40);
    member.fy_Pa = member.fyw_Pa = rules.E->value / 256;
    section.b_m = flange * 2 * tf;
    section.h_m = web * tw + 2 * tf;
    for (int i = 0; i < 8 && (section.h_m - 2 * tf) / tw < web; i++) section.h_m = nextafter(section.h_m, 1e9);
    for (int i = 0; i < 8 && (section.h_m - 2 * tf) / tw > web; i++) section.h_m = nextafter(section.h_m, 0);
    ck_assert_double_eq((section.h_m - 2 * tf) / tw, web);
}

/* Table B4.1b: 1.0 and 0.38 times 16 of a flange, 3.76 times 16 of a web; G2.1: 2.24 times 16. */
START_TEST(us_slendernesses)
{
    bk_calc c;
    us_flat(16, 40);
    ck_assert(isfinite(bend(&c).limit));
    section.b_m = PAST(section.b_m);
    ck_assert(isnan(bend(&c).limit));
    us_flat(6, 3.76 * 16);
    ck_assert(isfinite(bend(&c).limit));
    section.h_m = PAST(section.h_m);
    ck_assert(isnan(bend(&c).limit));
    us_flat(0.38 * 16, 40);
    bend(&c);
    ck_assert_str_eq(last(&c, "M_local")->source, "compact flange");
    rate(method->interaction, &member, &c);
    ck_assert_ptr_null(last(&c, "M_ny"));
    section.b_m = PAST(section.b_m);
    bend(&c);
    ck_assert_str_eq(last(&c, "M_local")->source, "AISC 360, F3.2");
    us_flat(6, 2.24 * 16);
    rate(method->shear, &member, &c);
    ck_assert_ptr_nonnull(last(&c, "Omega_v"));
    section.h_m = PAST(section.h_m);
    rate(method->shear, &member, &c);
    ck_assert_ptr_nonnull(last(&c, "Omega_v_slender"));
}
END_TEST

/* F2.2: L_p and L_r belong to the range below; F1: a load at the shear centre leaves C_b to the moments. */
START_TEST(us_lengths)
{
    bk_calc c;
    us_flat(6, 30);
    rate(method->ltb, &member, &c);
    const double L_p = step(&c, "L_p"), L_r = step(&c, "L_r");
    ck_assert_ptr_nonnull(last(&c, "M_max"));
    member.span_m = 2 * L_r;
    static const char *const sources[] = {"AISC 360, F2.1", "AISC 360, F2.2 (F2-2)", "AISC 360, F2.2 (F2-2)", "AISC 360, F2.2 (F2-3)"};
    const double lengths[] = {L_p, PAST(L_p), L_r, PAST(L_r)};
    for (int i = 0; i < 4; i++) {
        member.hold_m = lengths[i];
        rate(method->ltb, &member, &c);
        ck_assert_str_eq(last(&c, "M_n")->source, sources[i]);
    }
}
END_TEST

/* J10.1: within 10 t_f of the end; J10.2: within d; J10.3: less than d / 2. */
START_TEST(us_ends)
{
    bk_calc c = new_calc();
    us_flat(6, 30);
    const bk_wheel wheel = {.force_N = 1e4, .edge_m = tf, .next_m = INFINITY, .end_m = 10 * tf, .superposed = 1};
    method->flange_resistance(&c, &member, &wheel);
    ck_assert_double_eq(step(&c, "end"), 1);
    bk_bearing bearing = {.force_N = 1e4, .end_m = section.h_m};
    c = new_calc();
    method->web(&c, &member, &bearing);
    ck_assert_double_eq(step(&c, "widths"), 2.5);
    bearing.end_m = section.h_m / 2;
    c = new_calc();
    method->web(&c, &member, &bearing);
    ck_assert_double_eq(step(&c, "place"), 0.8);
}
END_TEST

/* E3: F_y / F_e of 2.25 is inelastic; Table B4.1a: 0.56 times 16 of a flange and, of a web, 1.49 times 16 sqrt(F_y / F_cr); H1.1: a
 * fifth of the axial strength is H1-1a. */
START_TEST(us_struts)
{
    bk_calc c;
    us_flat(0.56 * 16, 30);
    member.N_N = 1e5;
    ck_assert(isfinite(rate(method->buckling, &member, &c).limit));
    section.b_m = PAST(section.b_m);
    ck_assert(isnan(rate(method->buckling, &member, &c).limit));

    us_flat(6, 30);
    member.N_N = 1e5;
    member.buckling_y_m = 40;
    rate(method->buckling, &member, &c);
    const double F_e = step(&c, "F_e");
    member.fy_Pa = 2.25 * F_e;
    ck_assert_double_eq(member.fy_Pa / F_e, 2.25);
    rate(method->buckling, &member, &c);
    ck_assert_str_eq(last(&c, "F_cr")->source, "AISC 360, E3 (E3-2)");

    us_flat(6, 30);
    member.N_N = 1e5;
    rate(method->buckling, &member, &c);
    const double most = 1.49 * 16 * sqrt(member.fy_Pa / step(&c, "F_cr"));
    us_flat(6, most);
    member.N_N = 1e5;
    rate(method->buckling, &member, &c);
    ck_assert_double_eq(step(&c, "A_e"), section.area_m2);

    us_flat(6, 30);
    member.N_N = -1; /* tension: nothing grows */
    rate(method->strut_interaction, &member, &c);
    const double P_c = step(&c, "P_c");
    member.N_N = -0.2 * P_c;
    for (int i = 0; i < 8 && -member.N_N / P_c < 0.2; i++) member.N_N = nextafter(member.N_N, -1e12);
    ck_assert_double_eq(-member.N_N / P_c, 0.2);
    rate(method->strut_interaction, &member, &c);
    ck_assert_str_eq(last(&c, "utilisation")->source, "AISC 360, H1 (H1-1a)");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("strength at its limits");
    TCase *en = tcase_create("EN 1993"), *us = tcase_create("AISC 360");
    tcase_add_checked_fixture(en, setup_en, close_rules);
    tcase_add_test(en, classes);
    tcase_add_test(en, shear);
    tcase_add_test(en, web_of_a_strut);
    tcase_add_test(en, stocky);
    tcase_add_test(en, curves_of_struts);
    tcase_add_test(en, load_at_the_shear_centre);
    tcase_add_test(en, wheels_and_the_critical_moment);
    tcase_add_test(en, own_weight_alone);
    tcase_add_checked_fixture(us, setup_us, close_rules);
    tcase_add_test(us, us_slendernesses);
    tcase_add_test(us, us_lengths);
    tcase_add_test(us, us_ends);
    tcase_add_test(us, us_struts);
    suite_add_tcase(suite, en);
    suite_add_tcase(suite, us);
    return run(suite);
}
