/* Statics: no loop goes one too far.  What a user would notice of one is nothing, until it is a wrong figure. */
#include "../../src/statics/rig.h"
#include "../hard_rig.h"

#include <check.h>

static kit *k;
static bk_arena *arena;

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

/* Every array of statics ends where memory ends (guarded_arena.c).  The first place behind each array of the plan holds a
 * ghost, that would change every figure: what comes out is bit for bit the same. */

static void ghosts_in_plan(void)
{
    k->bodies[k->plan.n_bodies] = (bk_body){.name = "ghost", .mass_kg = {7777, 10}, .at_m = {3, 3, 3}};
    k->rings[k->plan.n_rings] = (bk_ring){.name = "ghost", .mass_kg = 5555, .at_m = {-3, 3, 3}};
    k->anchors[k->plan.n_anchors] = (bk_anchor){.name = "ghost", .at_m = {{9, 9, 9}, {1, 1, 1}}};
    k->lines[k->plan.n_lines] = k->lines[0];
    k->lines[k->plan.n_lines].length_m.v = 1e4;
    k->lines[k->plan.n_lines].mass_kg = 3333;
}

static void same_bytes(const void *a, const void *b, size_t n)
{
    ck_assert(memcmp(a, b, n) == 0);
}
static void same_hang(const bk_hang *a, const bk_hang *b)
{
    const bk_plan *p = &k->plan;
    ck_assert(a->converged == b->converged && a->stable == b->stable && a->iterations == b->iterations);
    same_bytes(&a->residual, &b->residual, sizeof a->residual);
    same_bytes(&a->total_weight_N, &b->total_weight_N, sizeof a->total_weight_N);
    ck_assert_uint_eq(a->unstable_body, b->unstable_body);
    same_bytes(&a->goes_towards, &b->goes_towards, sizeof a->goes_towards);
    ck_assert_pstr_eq(a->why, b->why);
    same_bytes(a->origin_m, b->origin_m, p->n_bodies * sizeof *a->origin_m);
    same_bytes(a->turn, b->turn, p->n_bodies * sizeof *a->turn);
    same_bytes(a->cog_m, b->cog_m, p->n_bodies * sizeof *a->cog_m);
    same_bytes(a->tilt_rad, b->tilt_rad, p->n_bodies * sizeof *a->tilt_rad);
    same_bytes(a->rolls_freely, b->rolls_freely, p->n_bodies * sizeof *a->rolls_freely);
    same_bytes(a->ring_m, b->ring_m, p->n_rings * sizeof *a->ring_m);
    same_bytes(a->tension_N, b->tension_N, p->n_lines * sizeof *a->tension_N);
    same_bytes(a->length_m, b->length_m, p->n_lines * sizeof *a->length_m);
    same_bytes(a->slack, b->slack, p->n_lines * sizeof *a->slack);
    same_bytes(a->pull_from_N, b->pull_from_N, p->n_lines * sizeof *a->pull_from_N);
    same_bytes(a->pull_to_N, b->pull_to_N, p->n_lines * sizeof *a->pull_to_N);
    same_bytes(a->anchor_N, b->anchor_N, p->n_anchors * sizeof *a->anchor_N);
}

static void within_tolerances(bk_statics *s, const bk_hang *nominal, bk_extreme *worst)
{
    bk_envelope *e;
    k->bodies[0].mass_kg.tol = 0.05 * k->bodies[0].mass_kg.v;
    k->lines[0].length_m.tol = 0.01;
    k->plan.lose_a_line = true;
    ck_assert_int_eq(bk_envelope_find(s, &k->plan, nominal, arena, &e), BK_OK);
    *worst = e->tension_max[1];
    ck_assert_double_ge(worst->value, nominal->tension_N[1] - 1e-9 * nominal->total_weight_N);
    k->bodies[0].mass_kg.tol = k->lines[0].length_m.tol = 0;
}

/* The rig in k, without ghosts and with them. */
static void unhaunted(void)
{
    const bk_change gone = {BK_CHANGE_LOSE_LINE, 0, 0};
    const bk_case one_less = {&gone, 1};
    const bk_parameter all[] = {{BK_CHANGE_MASS, 0, 1}, {BK_CHANGE_LENGTH, 0, 1}, {BK_CHANGE_ANCHOR_X, 0, 1}};
    enum { SOLVED = 3 };
    bk_hang *clean[SOLVED], *haunted[SOLVED], *copy;
    double slopes[2][3] = {{0}}, ring[2] = {0}, energy[2], residual[2];
    bk_extreme worst[2] = {{0}};
    bk_status status[2][SOLVED], proved[2];
    arena = bk_arena_new();
    for (int with = 0; with < 2; with++) {
        if (with) ghosts_in_plan();
        bk_statics *s = bk_statics_new(&k->plan);
        bk_hang **h = with ? haunted : clean;
        for (int i = 0; i < SOLVED; i++)
            h[i] = bk_hang_new(arena, &k->plan);
        status[with][1] = bk_statics_solve(s, &one_less, NULL, h[1]);
        status[with][2] = bk_statics_solve(s, NULL, h[1], h[2]); /* from another answer */
        status[with][0] = bk_statics_solve(s, NULL, NULL, h[0]);
        proved[with] = bk_statics_prove(&k->plan, NULL, h[0], 30);
        energy[with] = bk_statics_energy(&k->plan, NULL, h[0]);
        residual[with] = bk_statics_residual(&k->plan, NULL, h[0]);
        if (k->plan.n_rings > 0) ring[with] = bk_ring_load(&k->plan, h[0], 0);
        if (status[with][0] == BK_OK) {
            bk_tension_slopes(s, all, 3, 1, slopes[with]);
            within_tolerances(s, h[0], &worst[with]);
        }
        bk_statics_free(s);
    }
    for (int i = 0; i < SOLVED; i++) {
        ck_assert_int_eq(status[0][i], status[1][i]);
        same_hang(clean[i], haunted[i]);
    }
    ck_assert_int_eq(proved[0], proved[1]);
    same_bytes(slopes[0], slopes[1], sizeof slopes[0]);
    ck_assert_double_eq(worst[0].value, worst[1].value);
    ck_assert_double_eq(ring[0], ring[1]);
    ck_assert_double_eq(energy[0], energy[1]);
    ck_assert_double_eq(residual[0], residual[1]);
    copy = bk_hang_new(arena, &k->plan);
    bk_hang_copy(&k->plan, copy, clean[0]);
    same_hang(copy, clean[0]);
}

/* ---- rigs: what hangs, and what fails in every way ---------------------------------------------- */

/* Far from its origin, so that a point at the origin would be the farthest. */
static void two_tiers(void)
{
    const size_t load = kit_body(k, "load", 1700, bk_vec3_of(90.21, 0.13, -0.2), bk_vec3_of(-90, 0, 0));
    const size_t beam = kit_body(k, "beam", 260, bk_vec3_of(80.05, -0.02, 0.03), bk_vec3_of(-80, 0, 2));
    const bk_end ring = kit_ring(k, "master", 20, 0, 0, 3.5), hook = kit_anchor(k, -0.7, 0.3, 5);
    kit_line(k, hook, ring, 8e5, 0);
    kit_line(k, ring, kit_anchor(k, 0.6, -0.2, 5.2), 9e5, 0);
    kit_line(k, ring, kit_point(k, beam, 78.7, 0.2, 0.3), 7e5, 0);
    kit_line(k, kit_point(k, beam, 81.2, 0.1, 0.3), ring, 6e5, 0);
    kit_line(k, ring, kit_point(k, beam, 80.1, -0.6, 0.3), 5e5, 0);
    kit_line(k, kit_point(k, load, 88.8, 0.5, 0.4), kit_point(k, beam, 78.8, 0.3, -0.2), 4e5, 0);
    kit_line(k, kit_point(k, beam, 81.1, 0.3, -0.2), kit_point(k, load, 91.2, 0.5, 0.4), 5e5, 0);
    kit_line(k, kit_point(k, beam, 80.2, -0.5, -0.2), kit_point(k, load, 90.1, -0.7, 0.4), 6e5, 0);
    kit_line(k, hook, kit_point(k, load, 90, 0, 0.4), 3e5, 8);                                   /* slack */
    kit_line(k, kit_anchor(k, 0, 0, 9), kit_anchor(k, 1, 0, 9), 3e5, 0.9);                       /* held */
    kit_line(k, kit_point(k, load, 90, 0, 0.4), kit_point(k, load, 91, 0, 0.4), 3e5, 0.9);       /* inert */
}
static void press(void)
{
    const size_t load = kit_body(k, "press", 1000, bk_vec3_of(0, 0.001, 50.7), bk_vec3_of(0, 0, -50));
    kit_line(k, kit_anchor(k, -1, 0, 2), kit_point(k, load, -1, 0, 50.5), 1e6, 0);
    kit_line(k, kit_anchor(k, 1, 0, 2), kit_point(k, load, 1, 0, 50.5), 1e6, 0);
}
static void balanced(void)
{
    press();
    k->bodies[0].cog_m.v.y = 0;
}
static void drum(void)
{
    const size_t load = kit_body(k, "drum", 400, bk_vec3_of(0, 0, 51.5), bk_vec3_of(0, 0, -50));
    const bk_end ring = kit_ring(k, "ring", 3, 0, 0, 2);
    kit_line(k, kit_anchor(k, 0, 0, 3), ring, 1e6, 0);
    kit_line(k, ring, kit_point(k, load, 0, 0, 50), 1e6, 0);
}
static void bare_spreader(void)
{
    const size_t beam = kit_body(k, "beam", 80, bk_vec3_of(70, 0, 0), bk_vec3_of(-70, 0, 2));
    const bk_end hook = kit_anchor(k, 0, 0, 4);
    kit_line(k, hook, kit_point(k, beam, 68.5, 0, 0), 3e6, 0);
    kit_line(k, hook, kit_point(k, beam, 71.5, 0, 0), 3e6, 0);
}
static void snaps_through(void)
{
    const size_t load = kit_body(k, "load", 400, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 1));
    for (int i = 0; i < 4; i++)
        kit_line(k, kit_anchor(k, i & 1 ? 12 : -12, i & 2 ? 12 : -12, 0),
                 kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 1 : -1, 0), 1e6, 0);
}
static void from_below(void)
{
    const size_t load = kit_body(k, "load", 400, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 3));
    for (int i = 0; i < 4; i++)
        kit_line(k, kit_anchor(k, i & 1 ? 2 : -2, i & 2 ? 2 : -2, 0),
                 kit_point(k, load, i & 1 ? 1 : -1, i & 2 ? 1 : -1, 0), 1e6, 0);
}
static void unheld(void)
{
    const size_t load = kit_body(k, "load", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, 0, 0, 2), kit_point(k, load, 0, 0, 0.3), 1e6, 0);
    kit_line(k, kit_ring(k, "r", 5, 3, 0, 2), kit_ring(k, "s", 0, 3, 0, 1), 1e6, 0);
}
static void chain_of_bodies(void) /* large enough for the sparse factor */
{
    bk_end above = kit_anchor(k, 0, 0, 1);
    for (int i = 0; i < 8; i++) {
        const size_t body = kit_body(k, "b", 100 + 7 * i, bk_vec3_of(0, 0, 60 - 0.3), bk_vec3_of(0.1 * i, 0, -60 - 2.0 * i));
        kit_line(k, above, kit_point(k, body, 0, 0, 60), 1e6, 0);
        kit_line(k, above, kit_point(k, body, 0.2, 0.3, 60), 1e6, 0);
        above = kit_point(k, body, 0, 0, 59);
    }
}
/* The way to its balance goes over softened lines. */
static void circling(void)
{
    hard_truss(k, 140, 1e3);
}

static void (*const rigs[])(void) = {two_tiers, press, balanced, drum,   bare_spreader,   snaps_through,
                                     from_below, unheld, chain_of_bodies, circling};

START_TEST(nothing_lies_beyond_the_end)
{
    rigs[_i]();
    unhaunted();
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("bounds");
    TCase *tc = tcase_create("bounds");
    tcase_add_checked_fixture(tc, setup, teardown);
    tcase_add_loop_test(tc, nothing_lies_beyond_the_end, 0, (int)(sizeof rigs / sizeof *rigs));
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
