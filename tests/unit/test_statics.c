/* How a rig hangs, and when it does not: one property of the answer a test.
 * Expected figures are worked by hand beside each test; nothing is copied from our own output. */
#include "../../src/statics/matrix.h"
#include "../rig_kit.h"

#include <check.h>

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
    ck_assert_double_eq_tol(fabs(hang->goes_towards.y), 1, 1e-6);
    ck_assert_double_eq_tol(hang->stiffness_Nm_per_rad, -1000 * KIT_G * 0.2, 1);
    ck_assert_ptr_nonnull(strstr(hang->why, "press"));
    ck_assert_ptr_nonnull(strstr(hang->why, "200 mm above"));
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
    ck_assert_ptr_nonnull(strstr(hang->why, "beam topples towards"));
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
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.1), 1e6, 0);
    ck_assert_int_eq(solve(), BK_E_UNSTABLE);
    ck_assert_uint_eq(hang->unstable_body, load);
    ck_assert_double_gt(hang->goes_towards.x, 0.99); /* the far end goes down: the top leans to +x */
    ck_assert_ptr_nonnull(strstr(hang->why, "pole"));
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
    tcase_add_test(cases, case_changes_what_it_names_and_nothing_stays);
    tcase_add_test(cases, residual_is_what_is_out_of_balance);
    tcase_add_test(cases, the_proof_sees_every_change);
    tcase_add_test(cases, lost_line_leaves_the_rest_to_carry);
    tcase_add_test(cases, wind_pushes_the_load_aside);
    tcase_add_test(cases, case_is_said_as_a_rigger_would);
    tcase_add_test(cases, parameters_come_in_the_plans_order);
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
