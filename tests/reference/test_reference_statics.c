/* Statics against the world outside: textbook and manual problems, standard statics worked by hand, and
 * cases solved by scipy (statics_scipy.py, stored in statics_scipy.inc).
 *
 * Becket's lines stretch; where a source has rigid ropes, lines here are so stiff that the stretch moves the
 * figures by less than the tolerance.
 */
#include "../rig_kit.h"

#include <check.h>

#define RIGID 2e9 /* N, EA of a line that stands for a rope without stretch */

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
static void solve(void)
{
    ck_assert_int_eq(kit_solve(k, &arena, &hang), BK_OK);
}

/* ---- two ropes --------------------------------------------------------------------------------- */

/* A weight in newtons on a ring at the origin, on two ropes to anchors at (x, z). */
static void two_ropes(double weight_N, double x1, double z1, double x2, double z2)
{
    const bk_end ring = kit_ring(k, "ring", weight_N / KIT_G, 0, 0, 0);
    kit_line(k, kit_anchor(k, x1, 0, z1), ring, 1e6 * weight_N, 0);
    kit_line(k, kit_anchor(k, x2, 0, z2), ring, 1e6 * weight_N, 0);
    solve();
}

/* OpenStax, University Physics vol. 1, sec. 6.1 (example of a traffic light on two wires): 15.0 kg with g =
 * 9.80 m/s2, wires at 30 and 45 degrees from the horizontal.  Printed: 108 N and 132 N. */
START_TEST(openstax_wires_at_30_and_45_degrees)
{
    two_ropes(15.0 * 9.80, -3 * cos(30 * KIT_DEG), 3 * sin(30 * KIT_DEG), 2 * cos(45 * KIT_DEG),
              2 * sin(45 * KIT_DEG));
    ck_assert_double_eq_tol(hang->tension_N[0], 108, 0.5);
    ck_assert_double_eq_tol(hang->tension_N[1], 132, 0.5);
}
END_TEST

/* US Navy training manual NAVEDTRA 14080, ch. 3 (bridle hitch): a 1000 lb load on two legs; 500 lb a leg
 * at 90 degrees from the horizontal, 1000 lb a leg at 30. */
START_TEST(navedtra_bridle_at_30_degrees)
{
    const double lbf = 4.4482216152605; /* 0.45359237 kg (1959 agreement) times standard gravity */
    two_ropes(1000 * lbf, -2 * cos(30 * KIT_DEG), 2 * sin(30 * KIT_DEG), 2 * cos(30 * KIT_DEG),
              2 * sin(30 * KIT_DEG));
    ck_assert_double_eq_tol(hang->tension_N[0] / lbf, 1000, 0.5);
    ck_assert_double_eq_tol(hang->tension_N[1] / lbf, 1000, 0.5);
}
END_TEST

START_TEST(navedtra_bridle_upright)
{
    const double lbf = 4.4482216152605;
    const size_t load = kit_body(k, "load", 1000 * lbf / KIT_G, bk_vec3_of(0, 0, -0.5), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0), RIGID, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0), RIGID, 0);
    solve();
    ck_assert_double_eq_tol(hang->tension_N[0] / lbf, 500, 0.5);
    ck_assert_double_eq_tol(hang->tension_N[1] / lbf, 500, 0.5);
}
END_TEST

/* Equilibrium of one point worked by hand: T1 sin b1 + T2 sin b2 = W, T1 cos b1 = T2 cos b2 = H. */
static void by_hand(double weight, double run1, double drop1, double run2, double drop2, double t1, double t2,
                    double h)
{
    two_ropes(weight * 1000, -run1, drop1, run2, drop2);
    ck_assert_double_eq_tol(hang->tension_N[0] / 1000, t1, 1e-4);
    ck_assert_double_eq_tol(hang->tension_N[1] / 1000, t2, 1e-4);
    ck_assert_double_eq_tol(hang->anchor_N[0].x / 1000, h, 1e-4);
    ck_assert_double_eq_tol(hang->anchor_N[1].x / 1000, -h, 1e-4);
}
START_TEST(bridle_hook_a_quarter_along)
{
    by_hand(10, 1, 3, 3, 3, 7.9057, 3.5355, 2.5);
}
END_TEST
START_TEST(bridle_hook_off_the_middle)
{
    by_hand(20, 1.5, 3, 2.5, 3, 13.9754, 9.7628, 6.25);
}
END_TEST
START_TEST(bridle_with_anchors_at_two_heights)
{
    by_hand(10, 1, 2, 2, 3, 6.3888, 5.1508, 2.8571);
}
END_TEST

/* An elastic rope strung tight between anchors 2 b apart, loaded at its middle: at an angle a from the
 * horizontal its halves are b / cos a long, so T = EA (1 / cos a - 1) when they were just b, and W = 2 T sin
 * a. For 2 degrees that is a sag of 35 mm on a metre. */
START_TEST(tight_rope_sags_by_its_stretch)
{
    const double b = 4.3, ea = 3.7e5, angles[] = {0.5, 2, 5, 11};
    for (int i = 0; i < 4; i++) {
        teardown();
        setup();
        const double a = angles[i] * KIT_DEG, t = ea * (1 / cos(a) - 1);
        const bk_end ring = kit_ring(k, "ring", 2 * t * sin(a) / KIT_G, 0, 0, 0);
        kit_line(k, kit_anchor(k, -b, 0, 0), ring, ea, 0);
        kit_line(k, kit_anchor(k, b, 0, 0), ring, ea, 0);
        solve();
        ck_assert_double_eq_tol(hang->tension_N[0], t, 1e-9 * t / (a * a));
        ck_assert_double_eq_tol(hang->ring_m[0].z, -b * tan(a), 1e-9);
    }
}
END_TEST

/* Three loads on one rope: a string polygon.  With the rope's corners at (1, -1.2), (3.5, -2.1), (6, -1.4)
 * between (0, 0) and (7, 0) and a horizontal pull H everywhere, each load is H times the change of slope
 * there. */
START_TEST(string_polygon)
{
    const double x[] = {0, 1, 3.5, 6, 7}, z[] = {0, -1.2, -2.1, -1.4, 0}, H = 1300;
    bk_end corner[5];
    double slope[4];
    for (int i = 0; i < 4; i++)
        slope[i] = (z[i + 1] - z[i]) / (x[i + 1] - x[i]);
    corner[0] = kit_anchor(k, x[0], 0, z[0]);
    corner[4] = kit_anchor(k, x[4], 0, z[4]);
    for (int i = 1; i < 4; i++)
        corner[i] = kit_ring(k, "corner", H * (slope[i] - slope[i - 1]) / KIT_G, x[i], 0, z[i]);
    for (int i = 0; i < 4; i++)
        kit_line(k, corner[i], corner[i + 1], RIGID, 0);
    solve();
    for (int i = 0; i < 4; i++)
        ck_assert_double_eq_tol(hang->tension_N[i], H * sqrt(1 + slope[i] * slope[i]), 0.02);
}
END_TEST

/* ---- several legs ------------------------------------------------------------------------------ */

/* Four equal legs over 4 m x 2 m, hook 3 m up, weight 40: each 40 / 4 over the cosine 3 / sqrt(14) of its
 * angle: 12.4722.  With two opposite legs a little long the other two share: 24.9444. */
static void four_over_4_by_2(double long_m)
{
    const size_t load = kit_body(k, "load", 40000 / KIT_G, bk_vec3_of(0, 0, -0.5), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 2 : -2, i & 2 ? 1 : -1, 0), 10 * RIGID,
                 sqrt(14) + (i == 1 || i == 2 ? long_m : 0));
    solve();
}
START_TEST(four_equal_legs_share)
{
    four_over_4_by_2(0);
    for (int i = 0; i < 4; i++)
        ck_assert_double_eq_tol(hang->tension_N[i] / 1000, 12.4722, 1e-4);
}
END_TEST
START_TEST(two_long_legs_leave_the_load_to_the_others)
{
    four_over_4_by_2(0.02);
    ck_assert_double_eq_tol(hang->tension_N[0] / 1000, 24.9444, 1e-4);
    ck_assert_double_eq_tol(hang->tension_N[3] / 1000, 24.9444, 1e-4);
    ck_assert(hang->slack[1] && hang->slack[2]);
}
END_TEST

/* Three legs from a hook over the centre of gravity: their upward pulls are the centre's barycentric shares
 * of the triangle of points.  Points (-1, -0.6), (1.4, -0.5), (0.1, 1.3), centre (0, 0): shares by areas
 * 1.87, 1.24 and 1.34 of 4.45. */
START_TEST(three_legs_share_by_areas)
{
    const double x[] = {-1, 1.4, 0.1}, y[] = {-0.6, -0.5, 1.3}, area[] = {1.87, 1.24, 1.34};
    const size_t load = kit_body(k, "load", 700, bk_vec3_of(0, 0, -0.4), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 2.5);
    for (int i = 0; i < 3; i++)
        kit_line(k, hook, kit_point(k, load, x[i], y[i], 0), RIGID, 0);
    solve();
    for (int i = 0; i < 3; i++)
        ck_assert_double_eq_tol(hang->tension_N[i] * 2.5 / hang->length_m[i] / (700 * KIT_G), area[i] / 4.45,
                                1e-5);
}
END_TEST

/* Three bars of one EA to a point below: the middle upright, the sides at b from it.  The point sinks by d:
 * the middle stretches by d over h, the sides by d cos b over h / cos b, so T_side = T_mid cos2 b and T_mid
 * (1 + 2 cos3 b) = W.  Statically indeterminate: stiffness decides. */
START_TEST(three_bars_share_by_stiffness)
{
    const double degrees[] = {20, 37, 55}, h = 3, W = 8000;
    for (int i = 0; i < 3; i++) {
        teardown();
        setup();
        const double b = degrees[i] * KIT_DEG, c = cos(b);
        const bk_end ring = kit_ring(k, "ring", W / KIT_G, 0, 0, 0);
        kit_line(k, kit_anchor(k, -h * tan(b), 0, h), ring, RIGID, 0);
        kit_line(k, kit_anchor(k, 0, 0, h), ring, RIGID, 0);
        kit_line(k, kit_anchor(k, h * tan(b), 0, h), ring, RIGID, 0);
        solve();
        ck_assert_double_eq_tol(hang->tension_N[1], W / (1 + 2 * c * c * c), 0.1);
        ck_assert_double_eq_tol(hang->tension_N[0], W * c * c / (1 + 2 * c * c * c), 0.1);
    }
}
END_TEST

/* A stiff beam on five equal upright ropes, loaded off the middle: R_i = W / 5 + W e x_i / sum x2. */
START_TEST(beam_on_five_equal_ropes)
{
    const double W = 30000, e = 0.7, x[] = {-5, -2, 0, 3, 4}; /* sum x = 0, sum x2 = 54 */
    const size_t beam = kit_body(k, "beam", W / KIT_G, bk_vec3_of(e, 0, 0), bk_vec3_of(0, 0, 0));
    for (int i = 0; i < 5; i++)
        kit_line(k, kit_anchor(k, x[i], 0, 6), kit_point(k, beam, x[i], 0, 0), RIGID, 0);
    solve();
    for (int i = 0; i < 5; i++)
        ck_assert_double_eq_tol(hang->tension_N[i], W / 5 + W * e * x[i] / 54, 0.1);
}
END_TEST

/* Unequal stiffness under one beam, load at the middle of three ropes at -2, 0, 2 with EA 1 : 2 : 3 and a
 * beam that may tilt: stretches are straight over x.  Forces 1 (d - 2 s), 2 d, 3 (d + 2 s) with sum W and
 * moment 0 about the middle: 6 d + 4 s = W, 4 d + 16 s = 0 (over 2 each): d = 0.2 W, s = -0.05 W: 0.3, 0.4,
 * 0.3 W. */
START_TEST(beam_on_unequal_ropes)
{
    const double W = 12000, x[] = {-2, 0, 2};
    const size_t beam = kit_body(k, "beam", W / KIT_G, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    for (int i = 0; i < 3; i++)
        kit_line(k, kit_anchor(k, x[i], 0, 6), kit_point(k, beam, x[i], 0, 0), RIGID * (i + 1), 0);
    solve();
    ck_assert_double_eq_tol(hang->tension_N[0], 0.3 * W, 0.05);
    ck_assert_double_eq_tol(hang->tension_N[1], 0.4 * W, 0.05);
    ck_assert_double_eq_tol(hang->tension_N[2], 0.3 * W, 0.05);
}
END_TEST

/* ---- beams ------------------------------------------------------------------------------------- */

/* Lever rule: a beam 6 m between its ropes, 12 at 2 m from the left: 8 and 4. */
START_TEST(lever_rule)
{
    const size_t beam = kit_body(k, "beam", 12000 / KIT_G, bk_vec3_of(2, 0, -0.1), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, beam, 0, 0, 0), RIGID, 0);
    kit_line(k, kit_anchor(k, 6, 0, 3), kit_point(k, beam, 6, 0, 0), RIGID, 0);
    solve();
    ck_assert_double_eq_tol(hang->tension_N[0] / 1000, 8, 1e-3);
    ck_assert_double_eq_tol(hang->tension_N[1] / 1000, 4, 1e-3);
}
END_TEST

/* Two upright chains at unequal heights: picks at -a and +b from the centre of gravity, both h above it, the
 * b end up by q: R_B = W (a / L + (h / L) tan q), R_A = W (b / L - (h / L) tan q).  Moments about the centre
 * of gravity, worked by hand; a = b = 2 m, h = 1 m, 5 degrees: 52.2 and 47.8 %. */
static void two_chains(double a, double b, double h, double degrees)
{
    const double q = degrees * KIT_DEG, c = cos(q), s = sin(q), L = a + b, W = 25000;
    const size_t load = kit_body(k, "load", W / KIT_G, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    /* chains end above the picks of the tilted load, 5 m above its centre of gravity's height */
    const double ax = -a * c - h * s, az = -a * s + h * c, bx = b * c - h * s, bz = b * s + h * c;
    kit_line(k, kit_anchor(k, ax, 0, 5), kit_point(k, load, -a, 0, h), RIGID, 5 - az);
    kit_line(k, kit_anchor(k, bx, 0, 5), kit_point(k, load, b, 0, h), RIGID, 5 - bz);
    solve();
    ck_assert_double_eq_tol(hang->tilt_rad[0], q, 1e-4);
    ck_assert_double_eq_tol(hang->tension_N[1] / W, a / L + h / L * tan(q), 1e-4);
    ck_assert_double_eq_tol(hang->tension_N[0] / W, b / L - h / L * tan(q), 1e-4);
}
START_TEST(two_chains_5_degrees)
{
    two_chains(2, 2, 1, 5);
    ck_assert_double_eq_tol(hang->tension_N[1] / 25000, 0.522, 5e-4);
    ck_assert_double_eq_tol(hang->tension_N[0] / 25000, 0.478, 5e-4);
}
END_TEST
START_TEST(two_chains_unequal_arms_12_degrees)
{
    two_chains(1.3, 2.6, 0.8, 12);
}
END_TEST
START_TEST(two_chains_33_degrees)
{
    two_chains(1.9, 1.1, 0.45, 33);
}
END_TEST
/* at the height of the centre of gravity a tilt changes nothing: common practice, no source, and h = 0 above
 */
START_TEST(two_chains_at_the_height_of_the_centre)
{
    two_chains(1.5, 2.5, 0.001, 10);
    ck_assert_double_eq_tol(hang->tension_N[1] / 25000, 1.5 / 4, 1e-3);
}
END_TEST

/* Two tiers: load 90, beam 6 (kN), legs of the beam at 60 degrees from the horizontal, drops upright and the
 * load's centre of gravity a third along: drops 60 and 30; the beam must tilt until its sum of moments is
 * nil, so the hook stands over the common centre of gravity instead: ends at distances d1, d2 with (60 + 3)
 * d1 = (30 + 3) d2 of 4 m. Then each leg's upward pull is that of its end. */
START_TEST(two_tiers_with_the_hook_over_the_centre)
{
    const double d1 = 4 * 33.0 / 96, d2 = 4 - d1, height = 2.6;
    const size_t load = kit_body(k, "load", 90000 / KIT_G, bk_vec3_of(4.0 / 3, 0, -0.3), bk_vec3_of(0, 0, 0));
    const size_t beam = kit_body(k, "beam", 6000 / KIT_G, bk_vec3_of(2, 0, 0), bk_vec3_of(0, 0, 3));
    const bk_end hook = kit_anchor(k, d1, 0, 3 + height), a = kit_point(k, beam, 0, 0, 0),
                 b = kit_point(k, beam, 4, 0, 0);
    kit_line(k, hook, a, RIGID, 0);
    kit_line(k, hook, b, RIGID, 0);
    kit_line(k, a, kit_point(k, load, 0, 0, 0.4), RIGID, 0);
    kit_line(k, b, kit_point(k, load, 4, 0, 0.4), RIGID, 0);
    solve();
    ck_assert_double_eq_tol(hang->tension_N[2], 60000, 10);
    ck_assert_double_eq_tol(hang->tension_N[3], 30000, 10);
    ck_assert_double_eq_tol(hang->tension_N[0], 63000 * hypot(d1, height) / height, 10);
    ck_assert_double_eq_tol(hang->tension_N[1], 33000 * hypot(d2, height) / height, 10);
    ck_assert_double_eq_tol(hang->pull_from_N[0].x, -63000 * d1 / height,
                            10); /* the beam is pressed by this */
    ck_assert_double_eq_tol(hang->anchor_N[0].z, -96000, 1e-3);
}
END_TEST

/* A body on one line at a point (p, 0, q) from its centre of gravity hangs with that point above it:
 * tan(tilt) = p / q. */
START_TEST(plumb_line)
{
    const double p[] = {0.4, -0.25, 0.9}, q[] = {1.1, 0.3, 0.7};
    for (int i = 0; i < 3; i++) {
        teardown();
        setup();
        const size_t load = kit_body(k, "load", 45, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
        kit_line(k, kit_anchor(k, p[i], 0, 3), kit_point(k, load, p[i], 0, q[i]), RIGID, 0);
        solve();
        ck_assert_double_eq_tol(hang->tilt_rad[0], atan(fabs(p[i]) / q[i]), 1e-9);
    }
}
END_TEST

/* ---- scipy ------------------------------------------------------------------------------------- */

typedef struct scipy_case {
    const char *name;
    double mass_kg;
    bk_vec3 cog_m;
    int n;
    struct {
        bk_vec3 anchor, point;
        double ea, rest;
    } line[8];
    double tension[8];
    double cog_z, tilt;
} scipy_case;

static const scipy_case cases[] = {
#include "statics_scipy.inc"
};

START_TEST(same_as_scipy)
{
    const scipy_case *c = &cases[_i];
    const size_t load = kit_body(k, c->name, c->mass_kg, c->cog_m, bk_vec3_of(0, 0, 0));
    for (int i = 0; i < c->n; i++) {
        const bk_vec3 a = c->line[i].anchor, p = c->line[i].point;
        kit_line(k, kit_anchor(k, a.x, a.y, a.z), kit_point(k, load, p.x, p.y, p.z), c->line[i].ea,
                 c->line[i].rest);
    }
    solve();
    const double W = c->mass_kg * KIT_G;
    for (int i = 0; i < c->n; i++)
        ck_assert_double_eq_tol(hang->tension_N[i], c->tension[i], 1e-8 * W);
    ck_assert_double_eq_tol(hang->cog_m[0].z, c->cog_z, 1e-8);
    ck_assert_double_eq_tol(hang->tilt_rad[0], c->tilt, 1e-8);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("reference: statics");
    TCase *tc = tcase_create("statics");
    tcase_add_checked_fixture(tc, setup, teardown);
    tcase_add_test(tc, openstax_wires_at_30_and_45_degrees);
    tcase_add_test(tc, navedtra_bridle_at_30_degrees);
    tcase_add_test(tc, navedtra_bridle_upright);
    tcase_add_test(tc, bridle_hook_a_quarter_along);
    tcase_add_test(tc, bridle_hook_off_the_middle);
    tcase_add_test(tc, bridle_with_anchors_at_two_heights);
    tcase_add_test(tc, tight_rope_sags_by_its_stretch);
    tcase_add_test(tc, string_polygon);
    tcase_add_test(tc, four_equal_legs_share);
    tcase_add_test(tc, two_long_legs_leave_the_load_to_the_others);
    tcase_add_test(tc, three_legs_share_by_areas);
    tcase_add_test(tc, three_bars_share_by_stiffness);
    tcase_add_test(tc, beam_on_five_equal_ropes);
    tcase_add_test(tc, beam_on_unequal_ropes);
    tcase_add_test(tc, lever_rule);
    tcase_add_test(tc, two_chains_5_degrees);
    tcase_add_test(tc, two_chains_unequal_arms_12_degrees);
    tcase_add_test(tc, two_chains_33_degrees);
    tcase_add_test(tc, two_chains_at_the_height_of_the_centre);
    tcase_add_test(tc, two_tiers_with_the_hook_over_the_centre);
    tcase_add_test(tc, plumb_line);
    tcase_add_loop_test(tc, same_as_scipy, 0, (int)(sizeof cases / sizeof *cases));
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
