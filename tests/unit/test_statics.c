/* How a rig hangs, and when it does not: one property of the answer a test.
 * Expected figures are worked by hand beside each test; nothing is copied from our own output. */
#include "../../src/statics/rig.h"
#include "../hard_rig.h"

#include <check.h>
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
    return kit_solve(k, &arena, &hang);
}

/* ---- balance ----------------------------------------------------------------------------------- */

START_TEST(one_line_carries_the_weight)
{
    const size_t load = kit_body(k, "load", 137, bk_vec3_of(0.2, -0.1, 0.3), bk_vec3_of(-0.2, 0.1, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, load, 0.2, -0.1, 0.9), 2e5, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->converged && hang->stable && !hang->why);
    ck_assert_double_eq_tol(hang->tension_N[0], 137 * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->length_m[0], 2.1 * (1 + 137 * KIT_G / 2e5), 1e-9); /* Hooke */
    ck_assert_double_eq_tol(hang->anchor_N[0].z, -137 * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->tilt_rad[0], 0, 1e-9);
    ck_assert_double_eq_tol(hang->cog_m[0].z, 0.3 - 2.1 * 137 * KIT_G / 2e5, 1e-9);
    ck_assert_double_lt(hang->residual, 1e-12);
    ck_assert_double_eq_tol(hang->total_weight_N, 137 * KIT_G, 1e-9);
}
END_TEST

/* Under one hook the centre of gravity comes to hang below it: tan(tilt) = aside / below. */
START_TEST(off_centre_load_tilts_until_it_hangs_below_the_hook)
{
    const size_t load = kit_body(k, "load", 820, bk_vec3_of(0.31, 0, -0.85), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0), 1e7, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->tilt_rad[0], atan(0.31 / 0.85), 1e-9); /* 20 degrees: it hangs there */
    ck_assert_double_eq_tol(hang->cog_m[0].x, 0, 1e-9);
}
END_TEST

START_TEST(slack_leg_carries_nothing_and_says_so)
{
    const size_t load = kit_body(k, "load", 500, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 4);
    kit_line(k, hook, kit_point(k, load, -1.5, 0, 0.5), 3e6, 0);
    kit_line(k, hook, kit_point(k, load, 1.5, 0, 0.5), 3e6, 0);
    kit_line(k, hook, kit_point(k, load, 0, 0.4, 0.5), 3e6, 5.5);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->slack[2] && !hang->slack[0] && !hang->slack[1]);
    ck_assert_double_eq(hang->tension_N[2], 0);
    ck_assert_double_lt(hang->length_m[2], 5.5);
}
END_TEST

/* All lines slack as drawn: the load settles until they catch. */
START_TEST(settles_from_a_drawing_with_every_line_slack)
{
    const size_t load = kit_body(k, "load", 2400, bk_vec3_of(0.1, 0.05, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 0.7 : -0.7, 0.4), 4e6, 3.6);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_lt(hang->residual, 1e-12);
    ck_assert_double_lt(hang->cog_m[0].z, -0.5);
    double up = 0;
    for (size_t i = 0; i < 4; i++)
        up += hang->tension_N[i] * cos(hang->from_vertical_rad[i]);
    ck_assert_double_eq_tol(up, 2400 * KIT_G, 1e-6);
}
END_TEST

/* Half of a line's mass acts at each end, its fittings where they are; the tension is that of its middle. */
START_TEST(line_mass_is_shared_by_its_ends)
{
    const size_t load = kit_body(k, "load", 100, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const size_t l = kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.5), 1e6, 0);
    k->lines[l].mass_kg = 14;
    k->lines[l].from_mass_kg = 33;
    k->lines[l].to_mass_kg = 5;
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->tension_N[0], (100 + 7 + 5) * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->anchor_N[0].z, -(100 + 14 + 33 + 5) * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->pull_to_N[0].z, 100 * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->pull_from_N[0].z, -(100 + 14 + 33 + 5) * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->total_weight_N, 152 * KIT_G, 1e-9);
}
END_TEST

START_TEST(yaw_about_one_hook_is_free_not_singular)
{
    const size_t load = kit_body(k, "load", 900, bk_vec3_of(0.02, 0.03, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 3; i++)
        kit_line(k, hook, kit_point(k, load, cos(i * 2.1), sin(i * 2.1), 0.4), 2e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->turn[0].z, 0, 1e-4); /* and it is not turned for nothing */
}
END_TEST

START_TEST(weightless_ring_on_slack_lines_disturbs_nothing)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 2), idle = kit_ring(k, "idle", 0, 0.4, 0.1, 1.5);
    kit_line(k, hook, kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_line(k, hook, idle, 1e6, 1.9);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->slack[1]);
    ck_assert_double_eq_tol(hang->tension_N[0], 70 * KIT_G, 1e-8);
}
END_TEST

START_TEST(line_between_anchors_pulls_only_on_them)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end a = kit_anchor(k, 0, 0, 2), b = kit_anchor(k, 3, 0, 2);
    kit_line(k, a, kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_line(k, a, b, 1e6, 2.97); /* stretched by 1/99 */
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->tension_N[1], 1e6 * (3 / 2.97 - 1), 1e-6);
    ck_assert_double_eq_tol(hang->anchor_N[1].x, -1e6 * (3 / 2.97 - 1), 1e-6);
}
END_TEST

/* ---- what does not hang ------------------------------------------------------------------------ */

START_TEST(unheld_body_is_named)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const size_t crate = kit_body(k, "crate", 20, bk_vec3_of(0, 0, 0), bk_vec3_of(3, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_line(k, kit_ring(k, "r", 0, 3, 0, 2), kit_point(k, crate, 0, 0, 0.3), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNHELD);
    ck_assert_uint_eq(hang->unstable_body, crate);
    ck_assert_double_eq(hang->goes_towards.z, -1);
    ck_assert_ptr_nonnull(strstr(hang->why, "crate"));
}
END_TEST

/* Two upright lines at points 0.2 m below the centre of gravity, in the plane x-z: it goes over towards y,
 * with W h for each radian; the lines' own 1.5 m add W/L y to nothing in that way. */
START_TEST(top_heavy_load_topples_and_is_told_which_way)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e6, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert(!hang->stable);
    ck_assert_uint_eq(hang->unstable_body, load);
    ck_assert_double_eq_tol(hang->goes_towards.y, 1, 1e-6); /* either way is as good: the positive one is named */
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -1000 * KIT_G * 0.2, 1);
    /* 1961 N m/rad for a degree: 34.2 */
    ck_assert_str_eq(hang->why, "press topples towards +y: its centre of gravity is 200 mm above the points it "
                                "hangs by, and each degree it leans turns it further with 34.2 N m");
}
END_TEST

/* The same, turned: it says the way in the plan's axes. */
static void turned_press(double degrees)
{
    const double c = cos(degrees * KIT_DEG), s = sin(degrees * KIT_DEG);
    const size_t load =
        kit_body(k, "press", 1000, bk_vec3_of(0.001 * c, 0.001 * s, 0.7), bk_vec3_of(0, 0, 0));
    for (int side = -1; side <= 1; side += 2)
        kit_line(k, kit_anchor(k, -s * side, c * side, 2), kit_point(k, load, -s * side, c * side, 0.5), 1e6,
                 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->goes_towards.x, c, 1e-6);
    ck_assert_double_eq_tol(hang->goes_towards.y, s, 1e-6);
}
START_TEST(way_is_said_between_axes)
{
    turned_press(-37);
    ck_assert_ptr_nonnull(
        strstr(hang->why, "press turns over towards 37 degrees from +x to -y and leans 180 degrees"));
    ck_assert_ptr_nonnull(strstr(hang->why, "200 mm above the points it hangs by"));
    ck_assert_ptr_nonnull(strstr(hang->why, "34.2 N m for each degree")); /* 1000 kg, 0.2 m, pi / 180 */
}
END_TEST
/* To the whole degree; within half a degree of an axis it is the axis. */
START_TEST(ways_near_the_axes)
{
    const struct {
        double degrees;
        const char *said;
    } all[] = {{0.48, "towards +x and"},
               {0.52, "towards 1 degrees from +x to +y and"},
               {-89.48, "towards 89 degrees from +x to -y and"},
               {-89.52, "towards -y and"},
               {90.3, "towards +y and"},
               {143, "towards 37 degrees from -x to +y and"},
               {180.3, "towards -x and"},
               {-110, "towards 70 degrees from -x to -y and"}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        teardown();
        setup();
        turned_press(all[i].degrees);
        ck_assert_msg(strstr(hang->why, all[i].said) != NULL, "%s: %s", all[i].said, hang->why);
    }
}
END_TEST

/* Balanced to the last digit it may go either way: named is that towards +x, or where there is none +y. */
START_TEST(either_way_is_the_positive_one)
{
    const double across[] = {0, 30, 90, 135, 180, 250, 270, 300};
    for (size_t i = 0; i < sizeof across / sizeof *across; i++) {
        teardown();
        setup();
        const double c = cos(across[i] * KIT_DEG), s = sin(across[i] * KIT_DEG);
        const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
        for (int side = -1; side <= 1; side += 2)
            kit_line(k, kit_anchor(k, -s * side, c * side, 2), kit_point(k, load, -s * side, c * side, 0.5), 1e6, 0);
        ck_assert_int_eq(solve(), BK_E_UNSTABLE);
        const double sign = c > 1e-9 || (fabs(c) < 1e-9 && s > 0) ? 1 : -1;
        ck_assert_double_eq_tol(hang->goes_towards.x, sign * c, 1e-6);
        ck_assert_double_eq_tol(hang->goes_towards.y, sign * s, 1e-6);
        ck_assert_double_eq(hang->goes_towards.z, 0);
    }
}
END_TEST

/* Drawn to one side it does not go either way: let go there, its lines pull its foot back and it leans outward. */
START_TEST(it_goes_the_way_the_drawing_leans)
{
    for (int turned = 0; turned < 4; turned++) {
        teardown();
        setup();
        const double c = cos(turned * BK_PI / 2), s = sin(turned * BK_PI / 2);
        const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
        for (int side = -1; side <= 1; side += 2)
            kit_line(k, kit_anchor(k, -s * side, c * side, 2), kit_point(k, load, -s * side, c * side, 0.5), 1e6, 0);
        arena = bk_arena_new();
        hang = bk_hang_new(arena, &k->plan);
        bk_statics *statics = bk_statics_new(&k->plan);
        ck_assert_int_eq(bk_statics_solve_near(statics, NULL, NULL, hang), BK_OK); /* upright, as long as nobody pushes */
        k->bodies[load].at_m = bk_vec3_of(0.05 * c, 0.05 * s, 0);
        ck_assert_int_eq(bk_statics_solve(statics, NULL, hang, hang), BK_E_UNSTABLE);
        ck_assert_double_eq_tol(hang->goes_towards.x, c, 1e-6);
        ck_assert_double_eq_tol(hang->goes_towards.y, s, 1e-6);
        bk_statics_free(statics);
    }
}
END_TEST

START_TEST(first_body_that_nothing_holds)
{
    const size_t crate = kit_body(k, "crate", 0.05, bk_vec3_of(0, 0, 0), bk_vec3_of(3, 0, 0));
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNHELD);
    ck_assert_uint_eq(hang->unstable_body, crate);
    ck_assert_str_eq(hang->why, "nothing holds crate: no line leads from it, through others, to an anchor");
}
END_TEST

/* A spreader without weight of its own is no reason to refuse. */
START_TEST(weightless_spreader_hangs)
{
    const size_t beam = kit_body(k, "beam", 0, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2));
    const size_t load = kit_body(k, "load", 900, bk_vec3_of(0.2, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0.2, 0, 4);
    for (int side = -1; side <= 1; side += 2) {
        kit_line(k, hook, kit_point(k, beam, 1.5 * side, 0, 0.1), 3e6, 0);
        kit_line(k, kit_point(k, beam, 1.5 * side, 0, -0.1), kit_point(k, load, 1.5 * side, 0, 0.5), 3e6, 0);
    }
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->anchor_N[0].z, -900 * KIT_G, 1e-6);
    ck_assert_double_eq_tol(hang->tension_N[1] + hang->tension_N[3], 900 * KIT_G, 5); /* upright, or nearly */
}
END_TEST

/* A long beam that rolls, written before its load, which swings but little. */
START_TEST(what_turns_most_is_named_in_any_order)
{
    for (int order = 0; order < 2; order++) {
        teardown();
        setup();
        size_t beam = 0, load = 0;
        for (int i = 0; i < 2; i++)
            if (i == order)
                beam = kit_body(k, "beam", 80, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2));
            else
                load = kit_body(k, "load", 900, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
        const bk_end hook = kit_anchor(k, 0, 0, 6);
        for (int side = -1; side <= 1; side += 2) {
            kit_line(k, hook, kit_point(k, beam, 5 * side, 0, -0.1), 3e7, 0);
            kit_line(k, kit_point(k, beam, 5 * side, 0, 0.1), kit_point(k, load, 5 * side, 0, 0.2), 3e7, 0);
        }
        ck_assert_int_eq(solve(), BK_E_UNSTABLE);
        ck_assert_uint_eq(hang->unstable_body, beam);
        ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -(980 + 900) * KIT_G * 0.1, 5);
    }
}
END_TEST

START_TEST(way_is_said_along_an_axis)
{
    turned_press(180);
    ck_assert_ptr_nonnull(strstr(hang->why, "press turns over towards -x and"));
}
END_TEST

/* The same, drawn with its centre of gravity 1 mm to one side: it leaves that way, and comes to rest upside
 * down. */
START_TEST(top_heavy_load_goes_the_way_it_leans)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, -0.001, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e6, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->goes_towards.y, -1, 1e-6);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -1000 * KIT_G * 0.2, 1e-6);
}
END_TEST

/* Balanced on one line like a ball on a string turned over. */
START_TEST(single_pick_below_the_centre_of_gravity_topples)
{
    const size_t load = kit_body(k, "drum", 400, bk_vec3_of(0, 0, 1.5), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, load, 0, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -400 * KIT_G * 1.5, 1);
    ck_assert_double_eq_tol(hypot(hang->goes_towards.x, hang->goes_towards.y), 1, 1e-9);
}
END_TEST

/* Legs at eyes below the beam's axis and drops above it: the beam turns over although it is light. */
START_TEST(spreader_with_its_eyes_exchanged_turns_over)
{
    const size_t load = kit_body(k, "load", 900, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const size_t beam = kit_body(k, "beam", 80, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2));
    const bk_end hook = kit_anchor(k, 0, 0, 4);
    for (int side = -1; side <= 1; side += 2) {
        kit_line(k, hook, kit_point(k, beam, 1.5 * side, 0, -0.1), 3e6, 0);
        kit_line(k, kit_point(k, beam, 1.5 * side, 0, 0.1), kit_point(k, load, 1.5 * side, 0, 0.5), 3e6, 0);
    }
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, beam);
    ck_assert_double_eq_tol(fabs(hang->goes_towards.y), 1, 1e-6);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -(980 + 900) * KIT_G * 0.1, 2);
    ck_assert_ptr_nonnull(strstr(hang->why, "beam topples towards +y: its centre of gravity is 100 mm above"));
}
END_TEST

/* Low between anchors far apart it would snap through and hang below them. */
START_TEST(load_above_low_lines_snaps_through)
{
    const size_t load = kit_body(k, "load", 400, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 1));
    for (int i = 0; i < 4; i++)
        kit_line(k, kit_anchor(k, i & 1 ? 12 : -12, i & 2 ? 12 : -12, 0),
                 kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 1 : -1, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq(hang->goes_towards.z, -1);
    /* where it hangs, by bisection: four lines EA 1e6 from 11 m aside in both axes, a quarter of the weight each */
    double high = 0, low = -3;
    while (high - low > 1e-9) {
        const double z = (high + low) / 2, l = sqrt(242 + z * z), l0 = sqrt(243);
        const double up = l > l0 ? 4e6 * (l / l0 - 1) * -z / l : 0;
        *(up > 400 * KIT_G ? &low : &high) = z;
    }
    char falls[64];
    snprintf(falls, sizeof falls, "it falls by %.3g m, past line l00000,", 1 - low);
    ck_assert_ptr_nonnull(strstr(hang->why, falls));
}
END_TEST

/* Points below the centre of gravity, but four legs to one hook above it: the apex is what counts. */
START_TEST(apex_above_the_centre_of_gravity_holds_points_below_it)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 0.8 : -0.8, 0.1), 3e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
}
END_TEST

START_TEST(pick_at_the_centre_of_gravity_is_no_hold)
{
    const size_t load = kit_body(k, "ball", 50, bk_vec3_of(0, 0, 0.4), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.4), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, 0, 1e-6 * 50 * KIT_G);
    ck_assert_ptr_nonnull(strstr(hang->why, "ball does not stay as drawn: it hangs at the height of its centre of "
                                            "gravity, and nothing turns it back when it leans towards"));
}
END_TEST

/* A bare spreader: every eye on its axis, and its centre of gravity too.  It may spin about itself, which
 * moves nothing. */
START_TEST(bare_spreader_may_spin_about_itself)
{
    const size_t beam = kit_body(k, "beam", 80, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2));
    const size_t load = kit_body(k, "load", 900, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 4);
    const bk_end a = kit_point(k, beam, -1.5, 0, 0), b = kit_point(k, beam, 1.5, 0, 0);
    kit_line(k, hook, a, 3e6, 0);
    kit_line(k, hook, b, 3e6, 0);
    kit_line(k, a, kit_point(k, load, -1.5, 0, 0.5), 3e6, 0);
    kit_line(k, b, kit_point(k, load, 1.5, 0, 0.5), 3e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->rolls_freely[beam] && !hang->rolls_freely[load]);
    /* with its centre of gravity off that axis it does not roll, but hangs */
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change below = {BK_CHANGE_COG_Z, beam, -0.01};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&below, 1}, hang, hang), BK_OK);
    ck_assert(!hang->rolls_freely[beam]);
    const bk_change above = {BK_CHANGE_COG_Z, beam, 0.01};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&above, 1}, NULL, hang), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, beam);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -80 * KIT_G * 0.01, 1e-3);
    bk_statics_free(s);
}
END_TEST

/* Upright, the axis of all lines is the vertical: that is yaw, and nothing rolls. */
START_TEST(plumb_pole_does_not_roll)
{
    const size_t pole = kit_body(k, "pole", 60, bk_vec3_of(0, 0, -1), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, pole, 0, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(!hang->rolls_freely[pole]);
}
END_TEST

/* Two lines at unequal heights and pulls.  Upright: pulls of 2/3 and 1/3 of the weight by the lever rule, at 0.5 and
 * 0.2 m, so the load hangs by 0.4 m, 0.3 m below its centre of gravity. */
START_TEST(points_are_weighed_by_their_pulls)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e9, 0);
    kit_line(k, kit_anchor(k, 2, 0, 2), kit_point(k, load, 2, 0, 0.2), 1e9, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -1000 * KIT_G * 0.3, 1);
    ck_assert_ptr_nonnull(strstr(hang->why, "centre of gravity is 300 mm above the points it hangs by"));
}
END_TEST

/* Leaning outward by 30 and 45 degrees, and stretched as drawn to what they pull.  T1 sin 30 = T2 sin 45 = H, T1 cos 30
 * + T2 cos 45 = W: upward 0.634 W at 0.5 m and 0.366 W at 0.2 m: 0.3902 m; moments: the centre of gravity is 0.1581 m
 * to the side of the first. */
START_TEST(points_are_weighed_by_what_pulls_up)
{
    const double a = 30 * KIT_DEG, b = 45 * KIT_DEG, W = 1000 * KIT_G;
    const double t1 = W / (cos(a) + sin(a) / tan(b)), t2 = t1 * sin(a) / sin(b), ea = 1e8;
    const double x = (0.3 * t1 * sin(a) - t1 * cos(a) + t2 * cos(b)) / W;
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(x, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1 - 2 * sin(a), 0, 0.5 + 2 * cos(a)), kit_point(k, load, -1, 0, 0.5), ea, 2 / (1 + t1 / ea));
    kit_line(k, kit_anchor(k, 1 + 2 * sin(b), 0, 0.2 + 2 * cos(b)), kit_point(k, load, 1, 0, 0.2), ea, 2 / (1 + t2 / ea));
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_ptr_nonnull(strstr(hang->why, "310 mm above the points it hangs by"));
}
END_TEST

/* The beam's eyes for the legs 10 mm above its centre of gravity, those for the drops 100 mm above it: what turns it over
 * is the load, 980 kg x 10 mm against 900 kg x 100 mm. */
START_TEST(lines_that_do_not_right_a_beam)
{
    const size_t load = kit_body(k, "load", 900, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const size_t beam = kit_body(k, "beam", 80, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2));
    const bk_end hook = kit_anchor(k, 0, 0, 4);
    for (int side = -1; side <= 1; side += 2) {
        kit_line(k, hook, kit_point(k, beam, 1.5 * side, 0, 0.01), 3e7, 0);
        kit_line(k, kit_point(k, beam, 1.5 * side, 0, 0.1), kit_point(k, load, 1.5 * side, 0, 0.5), 3e7, 0);
    }
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, (980 * 0.01 - 900 * 0.1) * KIT_G, 1);
    ck_assert_str_eq(hang->why, "beam topples towards +y: its lines do not right it, and each degree it leans turns it "
                                "further with 13.7 N m");
}
END_TEST

/* Lines that cross: the left eye on the right anchor.  It is level and would stay so, but turns about until they do not
 * cross, as near as it can come. */
START_TEST(crossed_lines_untwist)
{
    const size_t load = kit_body(k, "load", 500, bk_vec3_of(0, 0, -0.5), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0.001, 3), kit_point(k, load, 1, 0, 0), 1e7, 0);
    kit_line(k, kit_anchor(k, 1, -0.001, 3), kit_point(k, load, -1, 0, 0), 1e7, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->tilt_rad[load], 0, 1e-6);
    ck_assert_double_eq_tol(fabs(hang->turn[load].z), 1, 1e-2); /* half a turn */
    ck_assert_double_eq_tol(hang->tension_N[0], 250 * KIT_G, 1);
}
END_TEST

/* Three loads whose lines lead to one ring, drawn past 60 degrees off: the one that leans most is named. */
START_TEST(what_leans_most_is_named)
{
    const char *names[] = {"first", "second", "third"};
    const double height[] = {0.6, 0.2, 0.5}; /* of the eye above the centre of gravity, 1 m beside it: 59, 79, 63 degrees */
    for (int i = 0; i < 3; i++) {
        const size_t load = kit_body(k, names[i], 120, bk_vec3_of(1, 0, -height[i]), bk_vec3_of(10 * i, 0, 0));
        kit_line(k, kit_anchor(k, 10 * i, 0, 2), kit_point(k, load, 0, 0, 0), 1e6, 0);
    }
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, 1);
    ck_assert_double_eq_tol(hang->goes_towards.x, 1, 1e-6);
    ck_assert_ptr_nonnull(strstr(hang->why, "second turns over towards +x and leans 79 degrees: as drawn its centre of "
                                            "gravity is 1.00 m beside the points it hangs by"));
    ck_assert_double_eq_tol(hang->tilt_rad[0], atan(1 / 0.6), 1e-6);
}
END_TEST
/* Between 59 and 61 degrees lies the limit. */
START_TEST(sixty_degrees_are_the_limit)
{
    for (int past = 0; past < 2; past++) {
        const double q = (past ? 61 : 59) * KIT_DEG;
        teardown();
        setup();
        const size_t load = kit_body(k, "load", 120, bk_vec3_of(-tan(q), 0, -1), bk_vec3_of(0, 0, 0));
        kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0), 1e6, 0);
        ck_assert_int_eq(solve(), past ? BK_E_UNSTABLE : BK_OK);
        ck_assert_double_eq_tol(hang->tilt_rad[load], q, 1e-6);
        if (past) ck_assert_double_eq_tol(hang->goes_towards.x, -1, 1e-6);
    }
}
END_TEST

/* Two lines to one side of the centre of gravity: it is 3.5 m and 1.2 m from their middle. */
START_TEST(beside_is_from_the_middle_of_the_points)
{
    const size_t load = kit_body(k, "plate", 200, bk_vec3_of(4, 1.2, -0.2), bk_vec3_of(0, 0, 0));
    for (int i = 0; i < 2; i++)
        kit_line(k, kit_anchor(k, i, 0, 2), kit_point(k, load, i, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_ptr_nonnull(strstr(hang->why, "is 3.70 m beside the points it hangs by, which overturns it with 7.26 kN m"));
    ck_assert(isnan(hang->stiffness_Nm_per_rad));
}
END_TEST

/* ---- as drawn ---------------------------------------------------------------------------------- */

/* A load on a bridle drawn upside down: a little is careless, more is not how it hangs.  From a line's either end. */
static bk_status drawn_above(double height, bool from_load)
{
    teardown();
    setup();
    const size_t load = kit_body(k, "load", 90, bk_vec3_of(0, 0, -0.3), bk_vec3_of(0, 0, height));
    for (int side = -1; side <= 1; side += 2) {
        const bk_end a = kit_anchor(k, 3.0 * side, 0, 0), b = kit_point(k, load, 0, 0, 0);
        kit_line(k, from_load ? b : a, from_load ? a : b, 1e6, 0);
    }
    return solve();
}
START_TEST(flat_bridles_may_be_drawn_carelessly)
{
    for (int e = 0; e < 2; e++) {
        ck_assert_int_eq(drawn_above(3 * 0.045, e), BK_OK); /* 2.6 degrees */
        ck_assert_int_eq(drawn_above(3 * 0.055, e), BK_E_UNSTABLE); /* 3.2 */
        ck_assert_ptr_nonnull(strstr(hang->why, "past line l00000, which as drawn pulls it down"));
        ck_assert_uint_eq(hang->unstable_body, 0);
    }
}
END_TEST

/* One line to a weight drawn above its anchor: it says something where the line is drawn at half its length or more. */
static bk_status one_line_up(double drawn_m, double rest_m)
{
    teardown();
    setup();
    kit_line(k, kit_anchor(k, 0, 0, 0), kit_ring(k, "weight", 30, 0, 0, drawn_m), 1e6, rest_m);
    return solve();
}
START_TEST(crumpled_lines_say_nothing)
{
    ck_assert_int_eq(one_line_up(0.45, 1), BK_OK);
    ck_assert_double_eq_tol(hang->ring_m[0].z, -1 - 30 * KIT_G / 1e6, 1e-9);
    ck_assert_int_eq(one_line_up(0.55, 1), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, BK_NONE); /* a ring is no body */
    ck_assert_ptr_nonnull(strstr(hang->why, "nothing holds weight where it is drawn: it falls by 1.55 m"));
    ck_assert_int_eq(one_line_up(-0.9, 1), BK_OK);
}
END_TEST

/* Where a ring is drawn between other rings and bodies says little. */
START_TEST(rings_among_themselves_may_be_drawn_anywhere)
{
    const bk_end master = kit_ring(k, "master", 2, 0, 0, -1), low = kit_ring(k, "low", 40, 0, 0, -0.2);
    kit_line(k, kit_anchor(k, 0, 0, 0), master, 1e6, 0);
    kit_line(k, master, low, 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_eq_tol(hang->ring_m[1].z, -1.8, 1e-3);
}
END_TEST
/* A body is not: drawn above the ring it hangs from, it falls past its line. */
START_TEST(bodies_below_rings_are_held_to_the_drawing)
{
    const bk_end master = kit_ring(k, "master", 2, 0, 0, -1);
    const size_t load = kit_body(k, "load", 40, bk_vec3_of(0, 0, -0.1), bk_vec3_of(0, 0, -0.2));
    kit_line(k, kit_anchor(k, 0, 0, 0), master, 1e6, 0);
    kit_line(k, master, kit_point(k, load, 0, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_ptr_nonnull(strstr(hang->why, "nothing holds load where it is drawn: it falls by 1.60 m, past line l00001"));
}
END_TEST

/* A tag line that was drawn below and hangs idle above carries nothing: the load hangs from another. */
START_TEST(lines_that_carry_little_hold_nothing)
{
    const size_t load = kit_body(k, "load", 100, bk_vec3_of(0, 0, -0.1), bk_vec3_of(0, 0, 0.5));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, load, 0, 0, 0), 1e6, 4);     /* lets it down by 1.5 m */
    const size_t tag = kit_line(k, kit_anchor(k, 0.01, 0, 0), kit_point(k, load, 0, 0, 0), 1e3, 0.98);
    ck_assert_int_eq(solve(), BK_OK); /* at -1 m the tag line is a little stretched: 2 % of the weight */
    ck_assert_double_eq_tol(hang->ring_m ? hang->tension_N[tag] : 0, 20, 6);
    k->lines[tag].ea_N = 1e4; /* 20 % */
    bk_arena_free(arena);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
}
END_TEST

START_TEST(what_is_tied_to_nothing_and_weighs_nothing_is_left_alone)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_ring(k, "spare", 0, 1, 1, 1);
    ck_assert_int_eq(solve(), BK_OK);
    k->bodies[0].mass_kg.v = 0;
    bk_arena_free(arena);
    ck_assert_int_eq(solve(), BK_E_UNHELD);
    ck_assert_str_eq(hang->why, "nothing in the rig has any weight, so nothing says how it hangs");
    ck_assert_uint_eq(hang->unstable_body, BK_NONE);
}
END_TEST

START_TEST(ring_that_nothing_holds_is_named)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end spare = kit_ring(k, "spare", 4, 1, 1, 1), other = kit_ring(k, "other", 0, 1, 2, 1);
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_line(k, spare, other, 1e6, 0);
    const size_t held = kit_line(k, other, kit_point(k, load, 0, 0.1, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change gone = {BK_CHANGE_LOSE_LINE, held, 0};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&gone, 1}, hang, hang), BK_E_UNHELD);
    ck_assert_str_eq(hang->why, "nothing holds spare: no line leads from it, through others, to an anchor");
    ck_assert_uint_eq(hang->unstable_body, BK_NONE);
    ck_assert(!hang->converged);
    bk_statics_free(s);
}
END_TEST

/* The top-heavy press again, with guys to both sides that are just straight as drawn: it leans by no more
 * than the stretch of the lines lets it, and one guy holds it there. */
START_TEST(guys_just_straight_catch_a_top_heavy_load)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e7, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e7, 0);
    kit_line(k, kit_anchor(k, 0, -3, 1.2), kit_point(k, load, 0, 0, 1.2), 1e7, 0);
    kit_line(k, kit_anchor(k, 0, 3, 1.2), kit_point(k, load, 0, 0, 1.2), 1e7, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_double_lt(hang->tilt_rad[load], 0.05);
    ck_assert_double_lt(hang->residual, 1e-11);
}
END_TEST

/* Guys 8 mm too long: upright it balances but does not stay; it leans until one guy is straight.  At lean t
 * the guy, 0.7 m above the eyes, holds W 0.2 t / 0.7 and so pulls the eyes on their 1.5 m of line back by 1.5
 * times 0.2 t / 0.7: 0.7 t less that is 8 mm. */
START_TEST(guys_a_little_slack_let_it_lean_and_no_more)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e9, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e9, 0);
    kit_line(k, kit_anchor(k, 0, -3, 1.2), kit_point(k, load, 0, 0, 1.2), 1e9, 3.008);
    kit_line(k, kit_anchor(k, 0, 3, 1.2), kit_point(k, load, 0, 0, 1.2), 1e9, 3.008);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->stable && !hang->why);
    ck_assert_double_eq_tol(hang->tilt_rad[load], 0.008 / (0.7 - 1.5 * 0.2 / 0.7), 5e-4);
    ck_assert(hang->slack[2] != hang->slack[3]);
}
END_TEST

START_TEST(lines_from_below_hold_nothing)
{
    const size_t load = kit_body(k, "load", 400, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 3));
    for (int i = 0; i < 4; i++)
        kit_line(k, kit_anchor(k, i & 1 ? 2 : -2, i & 2 ? 2 : -2, 0),
                 kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 1 : -1, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, load);
    ck_assert_ptr_nonnull(strstr(hang->why, "falls"));
}
END_TEST

/* Picked at one end: it swings past 60 degrees and is not as drawn any more. */
START_TEST(load_picked_at_its_end_leaves_its_attitude)
{
    const size_t load = kit_body(k, "pole", 120, bk_vec3_of(3, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, load);
    ck_assert_double_gt(hang->goes_towards.x, 0.99); /* the far end goes down: the top leans to +x */
    /* 120 kg at 3 m: 3530 N m */
    ck_assert_ptr_nonnull(strstr(hang->why, "its centre of gravity is 3.00 m beside the points it hangs by, which overturns it "
                                            "with 3.53 kN m"));
    ck_assert_ptr_null(strstr(hang->why, "for each degree"));
}
END_TEST

/* ---- cases ------------------------------------------------------------------------------------- */

START_TEST(case_changes_what_it_names_and_nothing_stays)
{
    const size_t load = kit_body(k, "load", 200, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e6, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change heavy[] = {{BK_CHANGE_MASS, load, 30}, {BK_CHANGE_COG_X, load, 0.2}};
    bk_hang *other = bk_hang_new(arena, &k->plan);
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){heavy, 2}, hang, other), BK_OK);
    /* level within the stretch: shares by the lever rule, 0.8 and 1.2 of 2 */
    ck_assert_double_eq_tol(other->tension_N[0], 230 * KIT_G * 0.4, 1);
    ck_assert_double_eq_tol(other->tension_N[1], 230 * KIT_G * 0.6, 1);
    ck_assert_double_lt(bk_statics_residual(&k->plan, &(bk_case){heavy, 2}, other), 1e-12);
    ck_assert_double_gt(bk_statics_residual(&k->plan, NULL, other), 0.01);
    ck_assert_int_eq(bk_statics_solve(s, NULL, other, other), BK_OK);
    ck_assert_double_eq_tol(other->tension_N[0], 100 * KIT_G, 1e-6);
    bk_statics_free(s);
}
END_TEST

/* A body off its balance by a known force or moment: 2 % too heavy, or its centre of gravity 3 cm off,
 * eyes 1.25 m away. */
START_TEST(residual_is_what_is_out_of_balance)
{
    const size_t load = kit_body(k, "load", 300, bk_vec3_of(0, 0, -0.75), bk_vec3_of(0, 0, 0));
    for (int side = -1; side <= 1; side += 2)
        kit_line(k, kit_anchor(k, side, 0, 3), kit_point(k, load, side, 0, 0), 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    const bk_change heavy = {BK_CHANGE_MASS, load, 6}, aside = {BK_CHANGE_COG_Y, load, 0.03},
                    pushed = {BK_CHANGE_WIND_X, load, 200}, gone = {BK_CHANGE_LOSE_LINE, 1, 0};
    ck_assert_double_eq_tol(bk_statics_residual(&k->plan, &(bk_case){&heavy, 1}, hang), 6.0 / 306, 1e-9);
    ck_assert_double_eq_tol(bk_statics_residual(&k->plan, &(bk_case){&aside, 1}, hang),
                            0.03 / hypot(1.25, 0.03), 1e-6);
    ck_assert_double_eq_tol(bk_statics_residual(&k->plan, &(bk_case){&pushed, 1}, hang), 200 / (300 * KIT_G),
                            1e-9);
    ck_assert_double_eq_tol(bk_statics_residual(&k->plan, &(bk_case){&gone, 1}, hang), 0.5, 1e-9);
    /* and the energy: weight times height, wind times way, half of force times stretch in each line */
    const double stretch = 150 * KIT_G * 3 / 1e6;
    ck_assert_double_eq_tol(bk_statics_energy(&k->plan, NULL, hang),
                            300 * KIT_G * (-0.75 - stretch) + 2 * 150 * KIT_G * stretch / 2, 1e-6);
    k->lines[0].mass_kg = 10; /* half at the eye at 3 m, half at that below */
    k->lines[1].from_mass_kg = 7;
    k->lines[1].to_mass_kg = 4;
    ck_assert_double_eq_tol(bk_statics_energy(&k->plan, NULL, hang),
                            300 * KIT_G * (-0.75 - stretch) + 2 * 150 * KIT_G * stretch / 2 +
                                KIT_G * (5 * 3 - 5 * stretch + 7 * 3 - 4 * stretch),
                            1e-6);
    hang->origin_m[load].x += 0.5;
    ck_assert_double_eq_tol(bk_statics_energy(&k->plan, &(bk_case){&pushed, 1}, hang) -
                                bk_statics_energy(&k->plan, NULL, hang),
                            -200 * 0.5, 1e-6);
}
END_TEST

/* The balance is proved against the case, change by change.  170 kg on one line of 2 m, arm 0.4 m, as it hangs undisturbed:
 * what each change leaves out of balance over the weight, by hand. */
START_TEST(the_proof_sees_every_change)
{
    const size_t load = kit_body(k, "load", 170, bk_vec3_of(0, 0, -0.4), bk_vec3_of(0, 0, 0));
    const size_t line = kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0), 3e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    const double weight = 170 * KIT_G, aside = 0.02 / hypot(0.02, 0.4), stretched = 2 * (1 + weight / 3e6);
    const struct {
        bk_change change;
        double left;
    } all[] = {
        {{BK_CHANGE_MASS, load, 30}, 30.0 / 200},
        {{BK_CHANGE_COG_X, load, 0.02}, aside}, /* a moment on a body smaller than a metre */
        {{BK_CHANGE_COG_Y, load, -0.02}, aside},
        {{BK_CHANGE_COG_Z, load, 0.1}, 0}, /* still below the hook */
        {{BK_CHANGE_WIND_X, load, 55}, 55 / weight},
        {{BK_CHANGE_WIND_Y, load, -55}, 55 / weight},
        {{BK_CHANGE_LENGTH, line, 1e-4}, 1 - 3e6 / weight * (stretched / 2.0001 - 1)},
        {{BK_CHANGE_ANCHOR_Z, 0, 1e-4}, 3e6 * 1e-4 / 2 / weight},
        {{BK_CHANGE_ANCHOR_X, 0, 0.01}, 0.01 / stretched}, /* the pull leans; the second order is in the tolerance */
        {{BK_CHANGE_ANCHOR_Y, 0, 0.01}, 0.01 / stretched},
        {{BK_CHANGE_LOSE_LINE, line, 1}, 1},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        const double left = bk_statics_residual(&k->plan, &(bk_case){&all[i].change, 1}, hang);
        const bool leans = all[i].change.kind == BK_CHANGE_ANCHOR_X || all[i].change.kind == BK_CHANGE_ANCHOR_Y;
        if (leans)
            ck_assert_double_ge(left, all[i].left * (1 - 1e-4));
        else
            ck_assert_double_eq_tol(left, all[i].left, 1e-9);
    }
}
END_TEST

/* Weights of lines and rings count as the load's do: 10 + 7 + 4 kg of a line and 9 kg of a ring below 300 kg.  A
 * newton aside is then one over them all. */
START_TEST(residual_is_a_share_of_all_weights)
{
    const size_t load = kit_body(k, "load", 300, bk_vec3_of(0, 0, -0.75), bk_vec3_of(0, 0, 0));
    const bk_end ring = kit_ring(k, "ring", 9, 0, 0, 1);
    kit_line(k, kit_anchor(k, 0, 0, 3), ring, 1e6, 0);
    const size_t low = kit_line(k, ring, kit_point(k, load, 0, 0, 0), 1e6, 0);
    k->lines[low].mass_kg = 10;
    k->lines[low].from_mass_kg = 7;
    k->lines[low].to_mass_kg = 4;
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 100), BK_OK);
    const bk_change pushed = {BK_CHANGE_WIND_Y, load, 1};
    ck_assert_double_eq_tol(bk_statics_residual(&k->plan, &(bk_case){&pushed, 1}, hang), 1 / (330 * KIT_G), 1e-12);
    ck_assert_double_eq_tol(hang->total_weight_N, 330 * KIT_G, 1e-9);
}
END_TEST

/* A single line, and a load that leans. */
START_TEST(leaning_load_on_one_line_proves_itself)
{
    const size_t load = kit_body(k, "load", 820, bk_vec3_of(0.31, 0.17, -0.85), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0.13, 0.2, 2), kit_point(k, load, 0.07, 0, 0), 1e7, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 100), BK_OK);
    hang->cog_m[load].y += 1e-5; /* more than a millionth of the line's 2 m */
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_E_NO_CONVERGE);
    hang->cog_m[load].y -= 1e-5 - 1e-7;
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_OK);
    hang->tilt_rad[load] += 1e-5;
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_E_NO_CONVERGE);
    hang->tilt_rad[load] -= 1e-5;
    hang->anchor_N[0].x += 2e-6 * hang->total_weight_N;
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_E_NO_CONVERGE);
    hang->anchor_N[0].x -= 2e-6 * hang->total_weight_N;
    hang->tension_N[0] -= 2e-6 * hang->total_weight_N;
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_E_NO_CONVERGE);
}
END_TEST

/* A tower's top heaviness on soft lines: it balances, as long as nobody moves it. */
START_TEST(a_move_refutes_what_would_topple)
{
    const size_t load = kit_body(k, "tower", 1000, bk_vec3_of(0, 0, 50), bk_vec3_of(0, 0, 0));
    for (int i = -1; i <= 1; i += 2)
        kit_line(k, kit_anchor(k, i, 0, 1), kit_point(k, load, i, 0, 0), 30e3, 0);
    bk_statics *s = bk_statics_new(&k->plan);
    arena = bk_arena_new();
    hang = bk_hang_new(arena, &k->plan);
    ck_assert_int_eq(bk_statics_solve_near(s, NULL, NULL, hang), BK_OK);
    ck_assert_double_eq_tol(hang->length_m[0], 1 + 1000 * KIT_G / 2 / 30e3, 1e-6);
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 0), BK_OK);
    ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 1), BK_E_NO_CONVERGE);
    bk_statics_free(s);
}
END_TEST

/* A load that turns about an axis through two eyes, its centre of gravity a hair below or above: what rights it (or not) is its
 * weight times that.  No stiffness is a billionth of its weight over the rig's 2 m, at its eyes 1 m off: half a nanometre. */
START_TEST(a_hair_of_stiffness_is_told_from_none)
{
    const struct {
        double below_m;
        const char *says;
    } hairs[] = {{0.75e-9, NULL}, {-0.75e-9, "topples"}};
    for (size_t i = 0; i < sizeof hairs / sizeof *hairs; i++) {
        free(k);
        k = kit_new();
        const size_t load = kit_body(k, "load", 300, bk_vec3_of(0, 0, -hairs[i].below_m), bk_vec3_of(0, 0, 0));
        kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0), 1e5, 0);
        kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0), 1e5, 0);
        const bk_status status = solve();
        ck_assert_int_eq(status, hairs[i].says ? BK_E_UNSTABLE : BK_OK);
        if (hairs[i].says) ck_assert_msg(strstr(hang->why, hairs[i].says), "%s", hang->why);
        bk_arena_free(arena);
        arena = NULL;
    }
}
END_TEST

/* A bare spreader on legs of different length may roll about itself; from wherever it has rolled to, it is told as drawn. */
START_TEST(a_rolled_spreader_stands_upright_again)
{
    const size_t beam = kit_body(k, "beam", 90, bk_vec3_of(0.2, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 2);
    kit_line(k, hook, kit_point(k, beam, 0.2 - 1.5, 0, -0.3), 1e6, 0); /* drawn askew in its own axes */
    kit_line(k, hook, kit_point(k, beam, 0.2 + 1.4, 0, 0.28), 1e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    ck_assert(hang->rolls_freely[beam]);
    ck_assert_double_gt(hang->tilt_rad[beam], 0.05);
    bk_statics *s = bk_statics_new(&k->plan);
    bk_hang *rolled = bk_hang_new(arena, &k->plan);
    const bk_vec3 axis = bk_quat_turn(hang->turn[beam], bk_vec3_scale(1 / hypot(1, 0.2), bk_vec3_of(1, 0, 0.2)));
    for (int way = -1; way <= 1; way += 2) {
        bk_hang *start = bk_hang_new(arena, &k->plan);
        bk_hang_copy(&k->plan, start, hang);
        start->turn[beam] = bk_quat_mul(bk_quat_exp(bk_vec3_scale(0.4 * way, axis)), hang->turn[beam]);
        start->origin_m[beam] = bk_vec3_sub(hang->cog_m[beam], bk_quat_turn(start->turn[beam], bk_vec3_of(0.2, 0, 0)));
        ck_assert_int_eq(bk_statics_solve(s, NULL, start, rolled), BK_OK);
        const bk_vec3 z = bk_quat_turn(rolled->turn[beam], bk_vec3_of(0, 0, 1)), was = bk_quat_turn(hang->turn[beam], bk_vec3_of(0, 0, 1));
        ck_assert_double_lt(bk_vec3_norm(bk_vec3_sub(z, was)), 1e-6);
    }
    bk_statics_free(s);
}
END_TEST

/* A case is proved as a case: a line lost, the load heavier, wind. */
START_TEST(cases_prove_themselves)
{
    const size_t load = kit_body(k, "load", 200, bk_vec3_of(0.1, 0.05, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 0.8 : -0.8, 0.5), 3e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change all[] = {{BK_CHANGE_LOSE_LINE, 1, 0},    {BK_CHANGE_MASS, load, 40},  {BK_CHANGE_WIND_X, load, 70},
                             {BK_CHANGE_COG_Y, load, -0.07}, {BK_CHANGE_LENGTH, 2, 0.02}, {BK_CHANGE_ANCHOR_X, 0, 0.1}};
    for (size_t n = 1; n <= sizeof all / sizeof *all; n++) {
        const bk_case some = {all, n};
        ck_assert_int_eq(bk_statics_solve(s, &some, NULL, hang), BK_OK);
        ck_assert_int_eq(bk_statics_prove(&k->plan, &some, hang, 100), BK_OK);
        ck_assert_int_eq(bk_statics_prove(&k->plan, NULL, hang, 100), BK_E_NO_CONVERGE);
    }
    bk_statics_free(s);
}
END_TEST

START_TEST(lost_line_leaves_the_rest_to_carry)
{
    const size_t load = kit_body(k, "load", 200, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 0.8 : -0.8, 0.5), 3e6, 0);
    ck_assert_int_eq(solve(), BK_OK);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change lost = {BK_CHANGE_LOSE_LINE, 2, 0};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&lost, 1}, hang, hang), BK_OK);
    ck_assert_double_eq(hang->tension_N[2], 0);
    ck_assert(hang->slack[2]);
    ck_assert_double_eq_tol(hang->anchor_N[0].z, -200 * KIT_G, 1e-6);
    bk_statics_free(s);
}
END_TEST

START_TEST(wind_pushes_the_load_aside)
{
    const size_t load = kit_body(k, "load", 200, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, load, 0, 0, 0.5), 3e6, 0);
    bk_statics *s = bk_statics_new(&k->plan);
    arena = bk_arena_new();
    hang = bk_hang_new(arena, &k->plan);
    const bk_change wind = {BK_CHANGE_WIND_Y, load, 0.25 * 200 * KIT_G};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&wind, 1}, NULL, hang), BK_OK);
    ck_assert_double_eq_tol(tan(hang->from_vertical_rad[0]), 0.25, 1e-9);
    ck_assert_double_eq_tol(hang->tension_N[0], 200 * KIT_G * sqrt(1 + 0.25 * 0.25), 1e-6);
    bk_statics_free(s);
}
END_TEST

/* A load on four heavy legs from one hook, in wind from eight sides: it hangs, along the resultant of what it weighs and
 * what pushes it; about that it may turn, which is no toppling.  The legs' own weight hangs beside that line. */
START_TEST(load_under_one_hook_hangs_in_wind)
{
    const size_t load = kit_body(k, "load", 500, bk_vec3_of(0.05, 0.02, 0), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 3);
    for (int i = 0; i < 4; i++)
        k->lines[kit_line(k, hook, kit_point(k, load, i & 1 ? 1.2 : -1.2, i & 2 ? 0.4 : -0.4, 0.5), 3e6, 0)].mass_kg = 30;
    ck_assert_int_eq(solve(), BK_OK);
    bk_statics *s = bk_statics_new(&k->plan);
    for (int from = 0; from < 8; from++) {
        const bk_change wind[] = {{BK_CHANGE_WIND_X, load, 1200 * cos(from * BK_PI / 4)},
                                  {BK_CHANGE_WIND_Y, load, 1200 * sin(from * BK_PI / 4)}};
        const bk_case windy = {wind, 2};
        ck_assert_msg(bk_statics_solve(s, &windy, NULL, hang) == BK_OK, "wind %d: %s", from, hang->why ? hang->why : "");
        ck_assert_int_eq(bk_statics_prove(&k->plan, &windy, hang, 100), BK_OK);
        ck_assert_double_eq_tol(hang->anchor_N[0].x, wind[0].amount, 1e-5);
        ck_assert_double_eq_tol(hang->anchor_N[0].y, wind[1].amount, 1e-5);
        ck_assert_double_eq_tol(hang->anchor_N[0].z, -620 * KIT_G, 1e-5);
    }
    bk_statics_free(s);
}
END_TEST

/* Top-heavy is top-heavy in wind too: along the plane of its lines it pushes the press aside, and it goes over across. */
START_TEST(top_heavy_load_topples_in_wind)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0, 0.7), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 0.5), 1e6, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 0.5), 1e6, 0);
    arena = bk_arena_new();
    hang = bk_hang_new(arena, &k->plan);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_change wind = {BK_CHANGE_WIND_X, load, 100};
    ck_assert_int_eq(bk_statics_solve(s, &(bk_case){&wind, 1}, NULL, hang), BK_E_UNSTABLE);
    ck_assert_ptr_nonnull(strstr(hang->why, "press topples towards +y: its centre of gravity is 200 mm above"));
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -1000 * KIT_G * 0.2, 5);
    bk_statics_free(s);
}
END_TEST

START_TEST(case_is_said_as_a_rigger_would)
{
    kit_body(k, "load", 3600, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, 0, 0, 0, 0.5), 3e6, 0);
    k->lines[0].name = "sw";
    arena = bk_arena_new();
    const bk_change c[] = {{BK_CHANGE_MASS, 0, 180},    {BK_CHANGE_COG_X, 0, 0.1},
                           {BK_CHANGE_COG_Y, 0, -0.05}, {BK_CHANGE_COG_Z, 0, 0},
                           {BK_CHANGE_LENGTH, 0, 0.01}, {BK_CHANGE_ANCHOR_Z, 0, -0.02},
                           {BK_CHANGE_LOSE_LINE, 0, 0}};
    ck_assert_str_eq(bk_cases_say(&k->plan, &(bk_case){c, 7}, arena),
                     "load 5 % heavy, centre of gravity of load 100 mm towards +x and 50 mm towards -y, "
                     "line sw 10 mm long, anchor hook 20 mm down, line sw lost");
    const bk_change more[] = {{BK_CHANGE_MASS, 0, -90},      {BK_CHANGE_COG_Z, 0, 0.0125},
                              {BK_CHANGE_LENGTH, 0, -0.02},  {BK_CHANGE_ANCHOR_X, 0, -0.03},
                              {BK_CHANGE_ANCHOR_Y, 0, 0.04}, {BK_CHANGE_WIND_X, 0, -1200},
                              {BK_CHANGE_WIND_Y, 0, 350}};
    ck_assert_str_eq(
        bk_cases_say(&k->plan, &(bk_case){more, 7}, arena),
        "load 2.5 % light, centre of gravity of load 12.5 mm up, line sw 20 mm short, "
        "anchor hook 30 mm towards -x and 40 mm towards +y, wind on load 1.2 kN towards -x and 350 N "
        "towards +y");
    k->bodies[0].mass_kg.v = 0;
    ck_assert_str_eq(bk_cases_say(&k->plan, &(bk_case){c, 1}, arena), "load 180 kg heavy");
    ck_assert_str_eq(bk_cases_say(&k->plan, NULL, arena), "as drawn");
}
END_TEST

START_TEST(parameters_come_in_the_plans_order)
{
    kit_body(k, "load", 3600, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 3), kit_point(k, 0, 0, 0, 0.5), 3e6, 0);
    k->anchors[0].at_m.tol.y = 0.03;
    k->lines[0].length_m.tol = 0.01;
    k->bodies[0].cog_m.tol = bk_vec3_of(0.1, 0, 0.2);
    k->bodies[0].mass_kg.tol = 180;
    arena = bk_arena_new();
    const bk_parameter *p;
    size_t n;
    ck_assert_int_eq(bk_cases_parameters(&k->plan, arena, &p, &n), BK_OK);
    ck_assert_uint_eq(n, 5);
    ck_assert(p[0].kind == BK_CHANGE_MASS && p[0].size == 180);
    ck_assert(p[1].kind == BK_CHANGE_COG_X && p[2].kind == BK_CHANGE_COG_Z && p[2].size == 0.2);
    ck_assert(p[3].kind == BK_CHANGE_LENGTH && p[4].kind == BK_CHANGE_ANCHOR_Y && p[4].size == 0.03);
}
END_TEST

/* ---- inside ------------------------------------------------------------------------------------ */

/* What counts as no stiffness is a share of what a thing carries, its weight or half of what pulls at it, over the
 * rig's size, its longest line or arm; and what counts as work, what a step costs: 6^3 / 6 multiplications for a body,
 * 100 a line, 500 a thing. */
START_TEST(measures_of_the_rig)
{
    const bk_end ring = kit_ring(k, "ring", 9, 0, 0, 3);
    const size_t load = kit_body(k, "load", 40, bk_vec3_of(7, 0, -0.2), bk_vec3_of(-7, 0, 0));
    const bk_end low = kit_anchor(k, 0, 0, -2.5);
    kit_line(k, kit_anchor(k, 0, 0, 5), ring, 1e6, 1.99); /* stretched by 1/199 or so: prestressed to the anchor below */
    kit_line(k, ring, kit_point(k, load, 7, 0, 0), 1e6, 2.99);
    kit_line(k, kit_point(k, load, 7, 0, -0.5), low, 1e6, 1.99);
    arena = bk_arena_new();
    hang = bk_hang_new(arena, &k->plan);
    bk_statics *s = bk_statics_new(&k->plan);
    ck_assert_int_eq(bk_statics_solve(s, NULL, NULL, hang), BK_OK);
    ck_assert_double_eq(s->size_m, 2.99);
    ck_assert_double_eq_tol(s->node[load].size_m, 0.3, 1e-12); /* its farthest point from its centre of gravity */
    ck_assert_double_eq(s->node[1].size_m, 1);
    const double *T = hang->tension_N;
    ck_assert_double_gt(T[2], 1000);
    ck_assert_double_eq_tol(s->scale_N_m[load], (T[1] + T[2]) / 2 / 2.99, 1e-6);
    ck_assert_double_eq_tol(s->scale_N_m[1], (T[0] + T[1]) / 2 / 2.99, 1e-6);
    const double step = 9 * 9 * 9 / 6.0 + 100 * 3 + 500 * 2;
    ck_assert_double_gt(s->work, 0);
    ck_assert_double_eq_tol(fmod(s->work / step + 0.5, 1), 0.5, 1e-9);
    bk_statics_free(s);

    teardown();
    setup();
    const size_t heavy = kit_body(k, "heavy", 4000, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    const bk_end idle = kit_ring(k, "idle", 0, 0, 0.4, 1.5), hook = kit_anchor(k, 0, 0, 1.5);
    kit_line(k, hook, kit_point(k, heavy, 0, 4, 0.3), 1e6, 0);
    kit_line(k, hook, kit_point(k, heavy, 0, -4, 0.3), 1e6, 0);
    kit_line(k, hook, idle, 1e6, 1.9);
    arena = bk_arena_new();
    hang = bk_hang_new(arena, &k->plan);
    s = bk_statics_new(&k->plan);
    ck_assert_int_eq(bk_statics_solve(s, NULL, NULL, hang), BK_OK);
    ck_assert_double_eq_tol(s->size_m, hypot(4, 1.2), 1e-12); /* the line, longer than the arm */
    ck_assert_double_eq_tol(s->node[heavy].size_m, hypot(4, 0.3), 1e-12);
    ck_assert_double_eq_tol(s->scale_N_m[1], 1e-9 * 4000 * KIT_G / s->size_m, 1e-12); /* carries nothing: next to nothing */
    ck_assert_double_ge(s->scale_N_m[heavy], 4000 * KIT_G / s->size_m * (1 - 1e-12));
    bk_statics_free(s);
}
END_TEST

/* So stiff under so little weight that lengths cannot be told: no answer, and why. */
START_TEST(line_too_stiff_for_its_weight_is_said)
{
    const size_t load = kit_body(k, "feather", 0.001, bk_vec3_of(0.01, 0.02, -0.3), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0.1, 0.2, 3.1), kit_point(k, load, 0, 0, 0), 1e12, 0);
    ck_assert_int_eq(solve(), BK_E_NO_CONVERGE);
    ck_assert(!hang->converged && hang->residual > 1e-9);
    ck_assert_ptr_nonnull(strstr(hang->why, "no balance was found: "));
    ck_assert_ptr_nonnull(strstr(hang->why, "is so stiff for its length and this weight that its stretch is less than lengths can be computed to"));
}
END_TEST

/* ---- along a way ------------------------------------------------------------------------------- */

static bk_rig_line spring(double stiffness, double growth, double trial)
{
    return (bk_rig_line){.stiffness_N_m = stiffness, .growth_m = growth, .trial_m = trial};
}
/* Each by hand: where the slope is nil. */
START_TEST(least_along_a_way)
{
    ck_assert_double_eq_tol(bk_rig_least_along(NULL, 0, -3, 4), 0.75, 1e-12); /* -3 + 4 p */
    ck_assert_double_eq_tol(bk_rig_least_along(NULL, 0, -1, 1e-4), 1e4, 1e-6);
    const bk_rig_line taut = spring(2, 0.5, 1); /* -4 + p + 2 (0.5 + p) */
    ck_assert_double_eq_tol(bk_rig_least_along(&taut, 1, -4, 1), 1, 1e-12);
    const bk_rig_line tightens = spring(3, -1, 2); /* from p = 0.5 on: -2 + p + 6 (2 p - 1) */
    ck_assert_double_eq_tol(bk_rig_least_along(&tightens, 1, -2, 1), 8.0 / 13, 1e-12);
    const bk_rig_line slackens = spring(5, 1, -2); /* up to p = 0.5: 1 + p - 10 (1 - 2 p) */
    ck_assert_double_eq_tol(bk_rig_least_along(&slackens, 1, 1, 1), 9.0 / 21, 1e-12);
    const bk_rig_line far = spring(2, -100, 1); /* nothing turns it before p = 100: -1 + 2 (p - 100) */
    ck_assert_double_eq_tol(bk_rig_least_along(&far, 1, -1, 0), 100.5, 1e-9);
    const double endless = bk_rig_least_along(NULL, 0, -1, 0);
    ck_assert(endless > 1e5 && endless <= 1e6);
}
END_TEST

/* Any number of lines, against halving of the bracket. */
START_TEST(least_along_any_way)
{
    state = 88172645463325252u;
    for (int round = 0; round < 2000; round++) {
        bk_rig_line line[12];
        double u[3];
        const size_t n = 1 + (size_t)(round % 12);
        for (size_t i = 0; i <= n && i < 12; i++) {
            for (int j = 0; j < 3; j++)
                u[j] = chance(0, 1);
            line[i] = spring(pow(10, 6 * u[0]), 2 * u[1] - 1, 2 * u[2] - 1);
        }
        const double rise = -pow(10, 5 * u[0]), bend = pow(10, 4 * u[1]);
        double low = 0, high = 1e6, slope = 0, there = rise;
        for (size_t i = 0; i < n; i++)
            there += line[i].growth_m > 0 ? line[i].stiffness_N_m * line[i].growth_m * line[i].trial_m : 0;
        if (!(there < 0)) continue; /* a way on which the energy falls at first, as the program's always do */
        for (int half = 0; half < 200; half++) {
            const double p = (low + high) / 2;
            slope = rise + bend * p;
            for (size_t i = 0; i < n; i++) {
                const double end = line[i].growth_m + p * line[i].trial_m;
                slope += end > 0 ? line[i].stiffness_N_m * end * line[i].trial_m : 0;
            }
            *(slope > 0 ? &high : &low) = p;
        }
        ck_assert_double_eq_tol(bk_rig_least_along(line, n, rise, bend), low, 1e-9 * low);
    }
}
END_TEST

/* ---- matrices ---------------------------------------------------------------------------------- */

/* A chain of nodes with a few cross links, small (dense) and large (sparse): what times makes, solve undoes;
 * and a matrix with one direction turned down is refused. */
static void chain(size_t n_nodes, bool dense)
{
    enum { MOST = 60 };
    size_t freedoms[MOST], pairs[2 * MOST][2], at[2 * MOST], n_pairs = 0;
    for (size_t i = 0; i < n_nodes; i++)
        freedoms[i] = i % 3 == 1 ? 3 : 6;
    for (size_t i = 0; i + 1 < n_nodes; i++) {
        pairs[n_pairs][0] = i;
        pairs[n_pairs++][1] = i + 1;
        if (i % 4 == 0 && i + 3 < n_nodes) {
            pairs[n_pairs][0] = i;
            pairs[n_pairs++][1] = i + 3;
        }
    }
    arena = bk_arena_new();
    bk_matrix m;
    ck_assert(bk_matrix_shape(&m, arena, n_nodes, freedoms, n_pairs, (const size_t(*)[2])pairs, at));
    ck_assert(m.dense == dense);
    double *values = BK_NEW(arena, double, m.n_values), *x = BK_NEW(arena, double, m.n),
           *y = BK_NEW(arena, double, m.n);
    for (size_t i = 0; i < n_nodes; i++)
        for (size_t r = 0; r < freedoms[i]; r++)
            for (size_t c = 0; c < freedoms[i]; c++)
                values[m.diagonal[i] + r * freedoms[i] + c] =
                    r == c ? 9 + (double)r : sin((double)(r + c + i)) / 2;
    for (size_t p = 0; p < n_pairs; p++)
        for (size_t e = 0; e < freedoms[pairs[p][0]] * freedoms[pairs[p][1]]; e++)
            values[at[p] + e] = cos(3.1 * (double)e + (double)p) / 2;
    for (size_t i = 0; i < m.n; i++)
        x[i] = sin(0.7 * (double)i) + 0.2;
    /* against sums block by block */
    bk_matrix_times(&m, values, x, y);
    for (size_t i = 0; i < n_nodes; i++)
        for (size_t r = 0; r < freedoms[i]; r++) {
            double sum = 0;
            for (size_t c = 0; c < freedoms[i]; c++)
                sum += values[m.diagonal[i] + r * freedoms[i] + c] * x[m.first[i] + c];
            for (size_t p = 0; p < n_pairs; p++) {
                const size_t a = pairs[p][0], b = pairs[p][1];
                for (size_t c = 0; a == i && c < freedoms[b]; c++)
                    sum += values[at[p] + r * freedoms[b] + c] * x[m.first[b] + c];
                for (size_t c = 0; b == i && c < freedoms[a]; c++)
                    sum += values[at[p] + c * freedoms[b] + r] * x[m.first[a] + c];
            }
            ck_assert_double_eq_tol(y[m.first[i] + r], sum, 1e-12);
        }
    ck_assert(bk_matrix_factor(&m, values));
    bk_matrix_solve(&m, y);
    for (size_t i = 0; i < m.n; i++)
        ck_assert_double_eq_tol(y[i], x[i], 1e-12);
    values[m.diagonal[n_nodes / 2] + 7 % (freedoms[n_nodes / 2] * freedoms[n_nodes / 2])] = 0;
    for (size_t f = 0; f < 2; f++)
        values[m.diagonal[n_nodes / 2] + f * (freedoms[n_nodes / 2] + 1)] = -1;
    ck_assert(!bk_matrix_factor(&m, values));
}
/* Up to 36 freedoms dense, from there on sparse.  What a factor costs, by hand: n^3 / 6; or the squares of the lengths
 * of the factor's columns: for blocks of 6 with nothing between them 25 + 16 + 9 + 4 + 1 each. */
START_TEST(cost_of_a_factor)
{
    size_t freedoms[8] = {6, 6, 6, 6, 6, 6, 3, 6};
    arena = bk_arena_new();
    bk_matrix m;
    ck_assert(bk_matrix_shape(&m, arena, 1, freedoms, 0, NULL, NULL));
    ck_assert(m.dense && m.n == 6 && m.cost == 36);
    ck_assert(bk_matrix_shape(&m, arena, 6, freedoms, 0, NULL, NULL));
    ck_assert(m.dense && m.n == 36 && m.cost == 7776);
    ck_assert(bk_matrix_shape(&m, arena, 7, freedoms, 0, NULL, NULL));
    ck_assert(!m.dense && m.n == 39);
    ck_assert_double_eq(m.cost, 6 * 55 + 4 + 1);
    ck_assert_uint_eq(m.n_values, 6 * 36 + 9);
    ck_assert_uint_eq(m.n_entries, 6 * 21 + 6);
}
END_TEST

/* 1 1; 1 1 + e: the second pivot is e; up to 8 roundings (1.8e-15) of what it came from it is taken for nothing. */
static bool pivot_counts(double e, size_t n_nodes)
{
    size_t freedoms[13];
    double values[9 * 13] = {0};
    bk_matrix m;
    for (size_t i = 0; i < n_nodes; i++) {
        freedoms[i] = 3;
        for (size_t f = 0; f < 3; f++)
            values[9 * i + 4 * f] = 1;
    }
    values[9 + 1] = values[9 + 3] = 1;
    values[9 + 4] = 1 + e;
    bk_arena_free(arena);
    arena = bk_arena_new();
    ck_assert(bk_matrix_shape(&m, arena, n_nodes, freedoms, 0, NULL, NULL));
    ck_assert(m.dense == (n_nodes < 13));
    return bk_matrix_factor(&m, values);
}
START_TEST(pivots_of_rounding_do_not_count)
{
    for (size_t n_nodes = 2; n_nodes <= 13; n_nodes += 11) {
        ck_assert(!pivot_counts(-1e-3, n_nodes));
        ck_assert(!pivot_counts(0, n_nodes));
        ck_assert(!pivot_counts(1.5e-15, n_nodes));
        ck_assert(pivot_counts(2.3e-15, n_nodes));
        ck_assert(!pivot_counts(-3, n_nodes));
    }
}
END_TEST

START_TEST(small_matrix)
{
    chain(5, true);
}
END_TEST
START_TEST(large_matrix)
{
    chain(40, false);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("statics");
    TCase *balance = tcase_create("balance"), *fails = tcase_create("does not hang"),
          *cases = tcase_create("cases");
    tcase_add_checked_fixture(balance, setup, teardown);
    tcase_add_checked_fixture(fails, setup, teardown);
    tcase_add_checked_fixture(cases, setup, teardown);
    tcase_add_test(balance, one_line_carries_the_weight);
    tcase_add_test(balance, off_centre_load_tilts_until_it_hangs_below_the_hook);
    tcase_add_test(balance, slack_leg_carries_nothing_and_says_so);
    tcase_add_test(balance, settles_from_a_drawing_with_every_line_slack);
    tcase_add_test(balance, line_mass_is_shared_by_its_ends);
    tcase_add_test(balance, yaw_about_one_hook_is_free_not_singular);
    tcase_add_test(balance, weightless_ring_on_slack_lines_disturbs_nothing);
    tcase_add_test(balance, line_between_anchors_pulls_only_on_them);
    tcase_add_test(fails, unheld_body_is_named);
    tcase_add_test(fails, top_heavy_load_topples_and_is_told_which_way);
    tcase_add_test(fails, way_is_said_between_axes);
    tcase_add_test(fails, way_is_said_along_an_axis);
    tcase_add_test(fails, ways_near_the_axes);
    tcase_add_test(fails, either_way_is_the_positive_one);
    tcase_add_test(fails, it_goes_the_way_the_drawing_leans);
    tcase_add_test(fails, first_body_that_nothing_holds);
    tcase_add_test(fails, weightless_spreader_hangs);
    tcase_add_test(fails, what_turns_most_is_named_in_any_order);
    tcase_add_test(fails, top_heavy_load_goes_the_way_it_leans);
    tcase_add_test(fails, single_pick_below_the_centre_of_gravity_topples);
    tcase_add_test(fails, spreader_with_its_eyes_exchanged_turns_over);
    tcase_add_test(fails, load_above_low_lines_snaps_through);
    tcase_add_test(fails, apex_above_the_centre_of_gravity_holds_points_below_it);
    tcase_add_test(fails, pick_at_the_centre_of_gravity_is_no_hold);
    tcase_add_test(fails, bare_spreader_may_spin_about_itself);
    tcase_add_test(fails, guys_a_little_slack_let_it_lean_and_no_more);
    tcase_add_test(fails, guys_just_straight_catch_a_top_heavy_load);
    tcase_add_test(fails, lines_from_below_hold_nothing);
    tcase_add_test(fails, load_picked_at_its_end_leaves_its_attitude);
    tcase_add_test(fails, plumb_pole_does_not_roll);
    tcase_add_test(fails, points_are_weighed_by_their_pulls);
    tcase_add_test(fails, points_are_weighed_by_what_pulls_up);
    tcase_add_test(fails, lines_that_do_not_right_a_beam);
    tcase_add_test(fails, crossed_lines_untwist);
    tcase_add_test(fails, what_leans_most_is_named);
    tcase_add_test(fails, sixty_degrees_are_the_limit);
    tcase_add_test(fails, beside_is_from_the_middle_of_the_points);
    tcase_add_test(fails, flat_bridles_may_be_drawn_carelessly);
    tcase_add_test(fails, crumpled_lines_say_nothing);
    tcase_add_test(fails, rings_among_themselves_may_be_drawn_anywhere);
    tcase_add_test(fails, bodies_below_rings_are_held_to_the_drawing);
    tcase_add_test(fails, lines_that_carry_little_hold_nothing);
    tcase_add_test(fails, what_is_tied_to_nothing_and_weighs_nothing_is_left_alone);
    tcase_add_test(fails, ring_that_nothing_holds_is_named);
    tcase_add_test(cases, case_changes_what_it_names_and_nothing_stays);
    tcase_add_test(cases, residual_is_what_is_out_of_balance);
    tcase_add_test(cases, the_proof_sees_every_change);
    tcase_add_test(cases, residual_is_a_share_of_all_weights);
    tcase_add_test(cases, leaning_load_on_one_line_proves_itself);
    tcase_add_test(cases, a_rolled_spreader_stands_upright_again);
    tcase_add_test(cases, a_move_refutes_what_would_topple);
    tcase_add_test(cases, a_hair_of_stiffness_is_told_from_none);
    tcase_add_test(cases, cases_prove_themselves);
    tcase_add_test(cases, lost_line_leaves_the_rest_to_carry);
    tcase_add_test(cases, wind_pushes_the_load_aside);
    tcase_add_test(cases, load_under_one_hook_hangs_in_wind);
    tcase_add_test(cases, top_heavy_load_topples_in_wind);
    tcase_add_test(cases, case_is_said_as_a_rigger_would);
    tcase_add_test(cases, parameters_come_in_the_plans_order);
    tcase_add_test(cases, measures_of_the_rig);
    tcase_add_test(cases, line_too_stiff_for_its_weight_is_said);
    tcase_add_test(cases, least_along_a_way);
    tcase_add_test(cases, least_along_any_way);
    tcase_add_test(cases, cost_of_a_factor);
    tcase_add_test(cases, pivots_of_rounding_do_not_count);
    tcase_add_test(cases, small_matrix);
    tcase_add_test(cases, large_matrix);
    suite_add_tcase(suite, balance);
    suite_add_tcase(suite, fails);
    suite_add_tcase(suite, cases);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
