/* The worst within the tolerances: against the lever rule, against chance, and line by line lost. */
#include "../../src/statics/sensitivity.h"
#include "../../src/statics/summit.h"
#include "../hard_rig.h"

#include <check.h>

static kit *k;
static bk_arena *arena;
static bk_hang *hang;
static bk_statics *statics;
static bk_envelope *envelope;

static void setup(void)
{
    k = kit_new();
    arena = NULL;
    statics = NULL;
}
static void teardown(void)
{
    bk_statics_free(statics);
    bk_arena_free(arena);
    free(k);
}

static void teardown_solved(void)
{
    bk_statics_free(statics);
    bk_arena_free(arena);
    statics = NULL;
    arena = NULL;
}

static void find(void)
{
    ck_assert_int_eq(kit_solve(k, &arena, &hang), BK_OK);
    statics = bk_statics_new(&k->plan);
    ck_assert_int_eq(bk_envelope_find(statics, &k->plan, hang, arena, &envelope), BK_OK);
}

/* A beam on two upright lines 4 m apart: R = W (a +- e) / 4, the worst with load and place at their ends. */
static void two_hoists(void)
{
    const size_t load = kit_body(k, "beam", 1200, bk_vec3_of(0.3, 0, -0.2), bk_vec3_of(0, 0, 0));
    kit_line(k, kit_anchor(k, -2, 0, 5), kit_point(k, load, -2, 0, 0), 1e9, 0);
    kit_line(k, kit_anchor(k, 2, 0, 5), kit_point(k, load, 2, 0, 0), 1e9, 0);
    k->bodies[load].mass_kg.tol = 60;
    k->bodies[load].cog_m.tol.x = 0.25;
}

START_TEST(two_hoists_take_the_lever_rule_at_its_ends)
{
    two_hoists();
    find();
    ck_assert_uint_eq(envelope->n_parameters, 2);
    ck_assert_double_eq_tol(envelope->tension_max[0].value, 1260 * KIT_G * (2 - 0.05) / 4, 0.5);
    ck_assert_double_eq_tol(envelope->tension_max[1].value, 1260 * KIT_G * (2 + 0.55) / 4, 0.5);
    ck_assert_double_eq_tol(envelope->tension_min[1].value, 1140 * KIT_G * (2 + 0.05) / 4, 0.5);
    ck_assert_double_eq_tol(envelope->anchor_max[1].value, envelope->tension_max[1].value, 0.5);
    ck_assert_str_eq(envelope->tension_max[1].say,
                     "beam 5 % heavy, centre of gravity of beam 250 mm towards +x");
    ck_assert_str_eq(envelope->tension_min[1].say,
                     "beam 5 % light, centre of gravity of beam 250 mm towards -x");
    ck_assert_uint_eq(envelope->n_failed, 0);
}
END_TEST

/* What does not matter to a figure is not in its sentence: neither how high the centre of gravity is, nor, to one line,
 * how long a line beside it. */
START_TEST(idle_tolerances_stay_unsaid)
{
    two_hoists();
    k->bodies[0].cog_m.tol.z = 0.1;
    kit_line(k, kit_anchor(k, 9, 0, 2), kit_ring(k, "other", 50, 9, 0, 0), 1e6, 0);
    k->lines[2].length_m.tol = 0.02;
    find();
    ck_assert_uint_eq(envelope->n_parameters, 4);
    ck_assert_str_eq(envelope->tension_max[1].say, "beam 5 % heavy, centre of gravity of beam 250 mm towards +x");
    ck_assert_uint_eq(envelope->tension_max[1].where.n, 2);
    ck_assert_str_eq(envelope->tension_max[2].say, "as drawn");
    ck_assert_double_eq_tol(envelope->tension_max[2].value, 50 * KIT_G, 1e-6);
    ck_assert(!envelope->cut_short && !envelope->failed_say);
    /* 16 corners; a climb of each of 3 x 3 lines', 2 x 3 anchors', 1 ring's, 1 body's figures from the middle, from its 3
     * best corners, and to say it; but no scattered cases, for nothing goes slack */
    ck_assert_uint_ge(envelope->n_solved, 16 + 17 * (1 + 3 + 1 + 1));
    ck_assert_uint_lt(envelope->n_solved, 1000);
}
END_TEST

/* Where lines go slack within the tolerances the box is crossed: five places and more for each parameter and figure, save
 * those of tensions that cannot be less. */
START_TEST(slack_asks_for_crossings)
{
    const size_t load = kit_body(k, "beam", 900, bk_vec3_of(0.1, 0, -0.2), bk_vec3_of(0, 0, 0));
    for (int i = -1; i <= 1; i++)
        kit_line(k, kit_anchor(k, 2 * i, 0, 5), kit_point(k, load, 2 * i, 0, 0), 1e7, 0);
    for (int tight = 1; tight >= 0; tight--) {
        k->lines[1].length_m.tol = tight ? 1e-6 : 0.01;
        teardown_solved();
        find();
        if (tight)
            ck_assert_uint_lt(envelope->n_solved, 250);
        else
            ck_assert_uint_gt(envelope->n_solved, 5 * (9 - 1 + 6 + 1));
        ck_assert_double_eq(envelope->tension_min[1].value == 0, !tight);
        ck_assert_double_gt(envelope->work, 0);
    }
}
END_TEST

/* A truss on eight stiff lines, out of level by millimetres; two of them may be 17 and 20 mm off, which is a hundred times
 * what the lines stretch.  The fifth works hardest in a spot a twentieth of the box wide.  Nothing on a grid of all that may
 * be is worse than what is reported. */
START_TEST(narrow_tops_are_found)
{
    static const double aside_m[] = {0, 0.244355, 0, 0.189093, 0, 0.124487, 0, 0.326568};
    static const double length_m[] = {5.99946236, 6.00286641, 6.0002052,  5.99868957,
                                      5.99996741, 6.00160986, 6.00185898, 6.00141494};
    const size_t truss = kit_body(k, "truss", 2123.91, bk_vec3_of(11.3946, 0.1, -0.4), bk_vec3_of(0, 0, 0));
    for (size_t i = 0; i < 8; i++) {
        const double x = 2.59498 * (double)i, y = aside_m[i];
        kit_line(k, kit_anchor(k, x, y, 6), kit_point(k, truss, x, y, 0), 26.896e6, length_m[i]);
    }
    k->bodies[truss].mass_kg.tol = 135.93;
    k->lines[1].length_m.tol = 0.0172;
    k->lines[3].length_m.tol = 0.0195;
    find();
    ck_assert_uint_eq(envelope->n_parameters, 3);
    bk_statics *s = bk_statics_new(&k->plan);
    bk_hang *there = bk_hang_new(arena, &k->plan);
    double most[8] = {0};
    for (int a = -20; a <= 20; a++)
        for (int b = -20; b <= 20; b++) {
            const bk_change at[] = {{BK_CHANGE_MASS, truss, 135.93},
                                    {BK_CHANGE_LENGTH, 1, 0.0172 * a / 20},
                                    {BK_CHANGE_LENGTH, 3, 0.0195 * b / 20}};
            ck_assert_int_eq(bk_statics_solve(s, &(bk_case){at, 3}, NULL, there), BK_OK);
            for (size_t i = 0; i < 8; i++) {
                most[i] = fmax(most[i], there->tension_N[i]);
                ck_assert_double_ge(envelope->tension_max[i].value, there->tension_N[i] - 0.01);
                ck_assert_double_ge(envelope->anchor_max[i].value, bk_vec3_norm(there->anchor_N[i]) - 0.01);
            }
        }
    /* what the fifth has at the ends and middles of the ranges is 7 % less */
    ck_assert_double_gt(most[4], 7700);
    bk_statics_free(s);
}
END_TEST

/* A slack line that pulls only in a spot a fiftieth of the box wide: nothing of its own tension tells where, only how far it
 * is from pulling.  One that is a metre too long never does. */
START_TEST(slack_lines_are_led_to_where_they_pull)
{
    static const double aside_m[] = {0, 0.110928908, 0, 0.0805097337, 0};
    static const double length_m[] = {6.00544156, 5.99836276, 6.00414094, 5.99709731, 7};
    static const double tolerance_m[] = {0, 0.00959992364, 0, 0.00380505704, 0};
    const size_t truss = kit_body(k, "truss", 624.244336, bk_vec3_of(2.71633972, 0.1, -0.4), bk_vec3_of(0, 0, 0));
    for (size_t i = 0; i < 5; i++) {
        const double x = 2.24950936 * (double)i, y = aside_m[i];
        kit_line(k, kit_anchor(k, x, y, 6), kit_point(k, truss, x, y, 0), 193268276, length_m[i]);
        k->lines[i].length_m.tol = tolerance_m[i];
    }
    k->bodies[truss].mass_kg.tol = 47.6636397;
    k->bodies[truss].cog_m.tol = bk_vec3_of(0.112475, 0.01, 0.01);
    find();
    /* 0.067 of the weight, by climbing from the best of 8192 places by lot */
    ck_assert_double_gt(envelope->tension_max[2].value, 0.0665 * hang->total_weight_N);
    ck_assert_uint_gt(envelope->tension_max[2].where.n, 1);
    ck_assert_double_eq(envelope->tension_max[4].value, 0);
    ck_assert_uint_eq(envelope->tension_max[4].where.n, 0);
    ck_assert_str_eq(envelope->tension_max[4].say, "as drawn");
}
END_TEST

/* Two rigid lines of l1 and l2 from anchors 3 m apart to a ring: their angles from the vertical, and pulls for a weight. */
static void bridle_by_hand(double l1, double l2, double weight, double *angle1, double *pull1, double *aside)
{
    const double a = asin((l1 * l1 + 9 - l2 * l2) / (6 * l1)), b = asin((l2 * l2 + 9 - l1 * l1) / (6 * l2));
    *angle1 = a;
    *pull1 = weight * sin(b) / sin(a + b);
    *aside = *pull1 * sin(a);
}
/* A load on a bridle of lines l, each 50 mm more or less; 20 kg more or less. */
static void add_bridle(double at, double l)
{
    const double drop = sqrt(l * l - 2.25);
    const bk_end ring = kit_ring(k, "apex", 30, at, 0, 10 - drop);
    const size_t load = kit_body(k, "load", 400, bk_vec3_of(0, 0, -0.4), bk_vec3_of(at, 0, 9 - drop));
    for (int side = -1; side <= 1; side += 2) {
        const size_t line = kit_line(k, kit_anchor(k, at + 1.5 * side, 0, 10), ring, 1e10, 0);
        k->lines[line].length_m.tol = 0.05;
    }
    kit_line(k, ring, kit_point(k, load, 0, 0, 0), 1e10, 0);
    k->bodies[load].mass_kg.tol = 20;
}

/* With more than a hundred tolerances no corner is tried: slopes alone must lead every kind of figure to its worst, which
 * for these is known by hand. */
START_TEST(slopes_alone_find_the_worst)
{
    add_bridle(0, 2.5);  /* lines 0 to 2, anchors 0 and 1, ring 0: its load is what hangs */
    add_bridle(20, 1.6); /* lines 3 to 5, ring 1: so flat that each line pulls more than that */
    const size_t aside = kit_body(k, "aside", 100, bk_vec3_of(-0.3, 0, -1), bk_vec3_of(40, 0, 0)); /* line 6 */
    kit_line(k, kit_anchor(k, 40, 0, 2), kit_point(k, aside, 0, 0, 0), 1e9, 0);
    k->bodies[aside].cog_m.tol = bk_vec3_of(0.05, 0, 0.1);
    const size_t beam = kit_body(k, "beam", 1200, bk_vec3_of(0.3, 0, -0.2), bk_vec3_of(60, 0, 0)); /* lines 7 and 8 */
    for (int side = -1; side <= 1; side += 2)
        kit_line(k, kit_anchor(k, 60 + 2 * side, 0, 5), kit_point(k, beam, 2 * side, 0, 0), 1e9, 0);
    k->bodies[beam].mass_kg.tol = 60;
    k->bodies[beam].cog_m.tol.x = 0.25;
    /* two bridles that share an anchor, 40 degrees apart: it feels most when all four lines are short */
    const double turn[] = {0, 40 * KIT_DEG};
    const bk_end shared = kit_anchor(k, 300, 0, 10);
    for (int i = 0; i < 2; i++) {
        const double x = cos(turn[i]), y = sin(turn[i]);
        const bk_end ring = kit_ring(k, "weight", 200 + 50 * i, 300 + 1.5 * x, 1.5 * y, 8);
        const bk_end ends[] = {shared, kit_anchor(k, 300 + 3 * x, 3 * y, 10)};
        for (int e = 0; e < 2; e++)
            k->lines[kit_line(k, ends[e], ring, 1e10, 2.5)].length_m.tol = 0.05;
    }
    for (int i = 0; i < 46; i++) { /* others, that matter to none of these */
        const size_t idle = kit_body(k, "idle", 50, bk_vec3_of(0, 0, -0.5), bk_vec3_of(80 + i, 0, 0));
        kit_line(k, kit_anchor(k, 80 + i, 0, 2), kit_point(k, idle, 0, 0, 0), 1e8, 0);
        k->bodies[idle].mass_kg.tol = 1;
        k->bodies[idle].cog_m.tol.x = 0.01;
    }
    find();
    ck_assert_uint_gt(envelope->n_parameters, 100);
    for (int flat = 0; flat < 2; flat++) {
        double angle = 0, pull = 0, side = 0, least = 1e9;
        for (int corner = 0; corner < 8; corner++) {
            const double l = flat ? 1.6 : 2.5, l1 = l + (corner & 1 ? 0.05 : -0.05), l2 = l + (corner & 2 ? 0.05 : -0.05);
            double a, t, h;
            bridle_by_hand(l1, l2, (430 + (corner & 4 ? 20 : -20)) * KIT_G, &a, &t, &h);
            angle = fmax(angle, a);
            pull = fmax(pull, t);
            least = fmin(least, t);
            side = fmax(side, h);
        }
        const size_t l = flat ? 3 : 0, a = flat ? 2 : 0;
        ck_assert_double_eq_tol(envelope->tension_max[l].value, pull, 1e-4 * pull);
        ck_assert_double_eq_tol(envelope->tension_min[l].value, least, 1e-4 * pull);
        ck_assert_double_eq_tol(envelope->from_vertical_max[l].value, angle, 1e-4);
        ck_assert_double_eq_tol(envelope->anchor_max[a].value, pull, 1e-4 * pull);
        ck_assert_double_eq_tol(envelope->anchor_horizontal_max[a].value, side, 1e-4 * pull);
        ck_assert_double_eq_tol(envelope->anchor_horizontal_max[a + 1].value, side, 1e-4 * pull);
        ck_assert_double_eq_tol(envelope->ring_max[flat].value, flat ? pull : 450 * KIT_G, 1e-4 * pull);
    }
    double most = 0, across = 0;
    for (int corner = 0; corner < 16; corner++) {
        double x = 0, y = 0, z = 0;
        for (int i = 0; i < 2; i++) {
            double a, t, h;
            bridle_by_hand(corner & (1 << 2 * i) ? 2.45 : 2.55, corner & (2 << 2 * i) ? 2.45 : 2.55,
                           (200 + 50 * i) * KIT_G, &a, &t, &h);
            x += h * cos(turn[i]);
            y += h * sin(turn[i]);
            z += t * cos(a);
        }
        most = fmax(most, sqrt(x * x + y * y + z * z));
        across = fmax(across, hypot(x, y));
    }
    ck_assert_double_eq_tol(envelope->anchor_max[shared.index].value, most, 1e-4 * most);
    ck_assert_double_eq_tol(envelope->anchor_horizontal_max[shared.index].value, across, 1e-4 * most);
    ck_assert_double_eq_tol(envelope->tilt_max[aside].value, atan(0.35 / 0.9), 1e-5);
    ck_assert_double_eq_tol(envelope->tension_max[7].value, 1260 * KIT_G * (2 - 0.05) / 4, 0.5);
    ck_assert_double_eq_tol(envelope->tension_max[8].value, 1260 * KIT_G * (2 + 0.55) / 4, 0.5);
    ck_assert_double_eq_tol(envelope->tension_min[8].value, 1140 * KIT_G * (2 + 0.05) / 4, 0.5);
}
END_TEST

/* So many tolerances on so many things that there is no memory for where each figure is worst: it says so, and gives
 * what is as drawn. */
START_TEST(too_many_tolerances_are_said)
{
    for (int i = 0; i < 900; i++) {
        const size_t load = kit_body(k, "load", 50 + i % 7, bk_vec3_of(0, 0, -0.2), bk_vec3_of(3 * i, 0, 0));
        kit_line(k, kit_anchor(k, 3 * i, 0, 2), kit_point(k, load, 0, 0, 0), 1e6, 0);
        k->bodies[load].mass_kg.tol = 1;
        k->bodies[load].cog_m.tol.x = 0.01;
        k->lines[i].length_m.tol = 0.01; /* 2700 tolerances, 5400 figures */
    }
    find();
    ck_assert(envelope->cut_short);
    ck_assert_uint_eq(envelope->n_solved, 0);
    ck_assert_double_eq(envelope->tension_max[3].value, hang->tension_N[3]);
    ck_assert_str_eq(envelope->tension_max[3].say, "as drawn");
}
END_TEST

START_TEST(nothing_to_vary_gives_the_nominal_figures)
{
    two_hoists();
    k->bodies[0].mass_kg.tol = 0;
    k->bodies[0].cog_m.tol.x = 0;
    find();
    ck_assert_uint_eq(envelope->n_parameters, 0);
    ck_assert_double_eq(envelope->tension_max[0].value, hang->tension_N[0]);
    ck_assert_double_eq(envelope->tension_min[0].value, hang->tension_N[0]);
    ck_assert_str_eq(envelope->tension_max[0].say, "as drawn");
}
END_TEST

/* The named case, solved again, gives the reported figure. */
START_TEST(reported_case_proves_itself)
{
    two_hoists();
    k->lines[0].length_m.tol = 0.01;
    find();
    bk_hang *again = bk_hang_new(arena, &k->plan);
    ck_assert_int_eq(bk_statics_solve(statics, &envelope->tension_max[1].where, NULL, again), BK_OK);
    ck_assert_double_eq_tol(again->tension_N[1], envelope->tension_max[1].value, 1e-9 * 1200 * KIT_G);
}
END_TEST

static void four_legs(double ea_N)
{
    const size_t load = kit_body(k, "load", 3600, bk_vec3_of(1.35, 0.2, 0.7), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 1.1, 0.05, 4);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, load, i & 1 ? 2.2 : 0, i & 2 ? 0.9 : -0.8, 1.2), ea_N, 0);
    k->bodies[load].mass_kg.tol = 180;
    k->bodies[load].cog_m.tol = bk_vec3_of(0.1, 0.1, 0.1);
    for (int i = 0; i < 4; i++)
        k->lines[i].length_m.tol = 0.01;
}

/* Where a leg just goes slack the worst lies inside the box: chance, with half of the parameters at an end,
 * must not find more. */
static void beaten_by_chance(int scenarios)
{
    state = 88172645463325252u;
    const size_t n = envelope->n_parameters;
    bk_change changes[16];
    bk_hang *h = bk_hang_new(arena, &k->plan);
    const double allowed = 1e-4 * hang->total_weight_N;
    for (int i = 0; i < scenarios; i++) {
        for (size_t j = 0; j < n; j++) {
            double u = 2 * chance(0, 1) - 1;
            if (chance(0, 1) < 0.5) u = u < 0 ? -1 : 1;
            changes[j] = (bk_change){envelope->parameters[j].kind, envelope->parameters[j].index,
                                     u * envelope->parameters[j].size};
        }
        if (bk_statics_solve_near(statics, &(bk_case){changes, n}, hang, h) != BK_OK) continue;
        for (size_t l = 0; l < k->plan.n_lines; l++) {
            ck_assert_double_lt(h->tension_N[l], envelope->tension_max[l].value + allowed);
            ck_assert_double_gt(h->tension_N[l], envelope->tension_min[l].value - allowed);
        }
        ck_assert_double_lt(bk_vec3_norm(h->anchor_N[0]), envelope->anchor_max[0].value + allowed);
        ck_assert_double_lt(h->tilt_rad[0], envelope->tilt_max[0].value + 1e-4);
    }
}

START_TEST(chance_finds_nothing_worse_on_stiff_legs)
{
    four_legs(5e6);
    find();
    ck_assert_uint_eq(envelope->n_parameters, 8);
    beaten_by_chance(4000);
}
END_TEST

START_TEST(chance_finds_nothing_worse_on_very_stiff_legs)
{
    four_legs(5e7);
    find();
    beaten_by_chance(4000);
    /* and the worst of some leg is inside: no corner gives it */
    bool inside = false;
    for (int l = 0; l < 4; l++)
        for (size_t i = 0; i < envelope->tension_max[l].where.n; i++) {
            const bk_change c = envelope->tension_max[l].where.changes[i];
            for (size_t j = 0; j < envelope->n_parameters; j++)
                if (envelope->parameters[j].kind == c.kind && envelope->parameters[j].index == c.index)
                    inside = inside || fabs(c.amount) < 0.999 * envelope->parameters[j].size;
        }
    ck_assert(inside);
}
END_TEST

/* More parameters than corners can be solved for: slopes choose. */
START_TEST(chance_finds_nothing_worse_with_many_parameters)
{
    four_legs(2e6);
    const size_t beam = kit_body(k, "weight", 300, bk_vec3_of(0, 0, -0.3), bk_vec3_of(1.1, 0, -2));
    kit_line(k, kit_point(k, 0, 0.6, 0, 0), kit_point(k, beam, -0.5, 0, 0), 2e6, 0);
    kit_line(k, kit_point(k, 0, 1.6, 0, 0), kit_point(k, beam, 0.5, 0, 0), 2e6, 0);
    k->bodies[beam].mass_kg.tol = 30;
    k->bodies[beam].cog_m.tol = bk_vec3_of(0.05, 0.05, 0.05);
    k->anchors[0].at_m.tol = bk_vec3_of(0.05, 0.05, 0);
    find();
    ck_assert_uint_eq(envelope->n_parameters, 14);
    beaten_by_chance(4000);
}
END_TEST

START_TEST(lost_lines_are_cases_of_their_own)
{
    four_legs(5e6);
    k->bodies[0].mass_kg.tol = 0;
    k->bodies[0].cog_m.tol = bk_vec3_of(0, 0, 0);
    for (int i = 0; i < 4; i++)
        k->lines[i].length_m.tol = 0;
    k->plan.lose_a_line = true;
    find();
    ck_assert_uint_eq(envelope->n_solved, 4);
    /* with one leg gone, two on a diagonal carry nearly all: more than any did */
    double most = 0, worst = 0;
    for (int i = 0; i < 4; i++) {
        most = fmax(most, hang->tension_N[i]);
        worst = fmax(worst, envelope->tension_max[i].value);
        ck_assert_double_eq(envelope->tension_min[i].value, hang->tension_N[i]);
    }
    ck_assert_double_gt(worst, 1.2 * most);
    ck_assert_ptr_nonnull(strstr(envelope->tension_max[0].say, "lost"));
}
END_TEST

START_TEST(line_that_must_not_be_lost_is_named)
{
    two_hoists();
    k->bodies[0].mass_kg.tol = 0;
    k->bodies[0].cog_m.tol.x = 0;
    k->plan.lose_a_line = true;
    find();
    ck_assert_uint_eq(envelope->n_failed, 2);
    ck_assert_ptr_nonnull(strstr(envelope->failed_say, "line l00000 lost"));
    ck_assert_ptr_nonnull(strstr(envelope->failed_say, "beam"));
}
END_TEST

/* Slopes against central differences of solved cases. */
START_TEST(slopes_are_those_of_solved_cases)
{
    four_legs(2e6);
    k->anchors[0].at_m.tol = bk_vec3_of(0.1, 0.1, 0.1);
    find();
    const size_t n = envelope->n_parameters;
    bk_hang *h = bk_hang_new(arena, &k->plan);
    for (size_t line = 0; line < 4; line++) {
        double slope[16], scale = 0;
        ck_assert_int_eq(bk_statics_solve(statics, NULL, hang, h), BK_OK);
        bk_tension_slopes(statics, envelope->parameters, n, line, slope);
        for (size_t j = 0; j < n; j++)
            scale = fmax(scale, fabs(slope[j]) * envelope->parameters[j].size);
        for (size_t j = 0; j < n; j++) {
            const double step = 1e-4 * envelope->parameters[j].size;
            double t[2];
            for (int side = 0; side < 2; side++) {
                const bk_change c = {envelope->parameters[j].kind, envelope->parameters[j].index,
                                     side ? step : -step};
                ck_assert_int_eq(bk_statics_solve(statics, &(bk_case){&c, 1}, hang, h), BK_OK);
                t[side] = h->tension_N[line];
            }
            ck_assert_double_eq_tol(slope[j] * envelope->parameters[j].size,
                                    (t[1] - t[0]) / (2 * step) * envelope->parameters[j].size, 1e-5 * scale);
        }
    }
}
END_TEST

/* ---- slopes of every figure, by every change ---------------------------------------------------- */

/* A ring, a beam, a load that leans, lines written from either end, wind. */
static void two_tiers(void)
{
    const size_t load = kit_body(k, "load", 1700, bk_vec3_of(0.21, 0.13, -0.2), bk_vec3_of(0, 0, 0));
    const size_t beam = kit_body(k, "beam", 260, bk_vec3_of(0.05, -0.02, 0.03), bk_vec3_of(0, 0, 2));
    const bk_end ring = kit_ring(k, "master", 20, 0, 0, 3.5);
    kit_line(k, kit_anchor(k, -0.7, 0.3, 5), ring, 8e5, 0);
    kit_line(k, ring, kit_anchor(k, 0.6, -0.2, 5.2), 9e5, 0);
    kit_line(k, ring, kit_point(k, beam, -1.3, 0.2, 0.3), 7e5, 0);
    kit_line(k, kit_point(k, beam, 1.2, 0.1, 0.3), ring, 6e5, 0);
    kit_line(k, ring, kit_point(k, beam, 0.1, -0.6, 0.3), 5e5, 0);
    kit_line(k, kit_point(k, load, -1.2, 0.5, 0.4), kit_point(k, beam, -1.2, 0.3, -0.2), 4e5, 0);
    kit_line(k, kit_point(k, beam, 1.1, 0.3, -0.2), kit_point(k, load, 1.2, 0.5, 0.4), 5e5, 0);
    kit_line(k, kit_point(k, beam, 0.2, -0.5, -0.2), kit_point(k, load, 0.1, -0.7, 0.4), 6e5, 0);
    kit_line(k, (bk_end){BK_END_ANCHOR, 0}, (bk_end){BK_END_ANCHOR, 1}, 3e5, 1.3); /* 1.4 m apart */
    const size_t slack = kit_line(k, kit_point(k, beam, 0.4, 0.2, -0.2), kit_point(k, load, 0.2, 0.6, 0.4), 3e5, 0);
    k->lines[slack].length_m.v += 0.3;
}

typedef enum probed {
    A_HELD_TENSION,
    A_TENSION,
    A_TOP_TENSION,
    ITS_ANGLE,
    A_TILT,
    ONE_ANCHORS_PULL,
    AN_ANCHORS_PULL,
    A_RINGS_PULL,
    HOW_FAR_FROM_PULLING,
    ALL_PROBED
} probed;
static const bk_vec3 way = {0.48, -0.6, 0.64};
static double slack_m; /* unstretched length of the slack line in the case */

static double probed_value(probed what, const bk_hang *h)
{
    switch (what) {
    case A_TENSION:
        return h->tension_N[3];
    case A_TOP_TENSION:
        return h->tension_N[1];
    case A_HELD_TENSION:
        return h->tension_N[8];
    case ONE_ANCHORS_PULL:
        return bk_vec3_dot(way, h->anchor_N[1]);
    case ITS_ANGLE:
        return h->from_vertical_rad[6];
    case A_TILT:
        return h->tilt_rad[0];
    case HOW_FAR_FROM_PULLING:
        ck_assert(h->slack[9]);
        return 3e5 * (h->length_m[9] / slack_m - 1);
    case AN_ANCHORS_PULL:
        return bk_vec3_dot(way, h->anchor_N[0]) + bk_vec3_dot(way, h->anchor_N[1]);
    default:
        return bk_vec3_dot(way, h->pull_from_N[2]) + bk_vec3_dot(way, h->pull_to_N[3]);
    }
}
static void probe(probed what)
{
    bk_probe_clear(statics);
    switch (what) {
    case A_TENSION:
        bk_probe_tension(statics, 3, 1);
        break;
    case A_TOP_TENSION: /* twice what it is, less once that */
        bk_probe_tension(statics, 1, 2);
        bk_probe_tension(statics, 1, -1);
        break;
    case A_HELD_TENSION:
        bk_probe_tension(statics, 8, 1);
        break;
    case ONE_ANCHORS_PULL:
        bk_probe_pull(statics, 1, true, way);
        bk_probe_pull(statics, 8, true, way);
        break;
    case ITS_ANGLE:
        bk_probe_from_vertical(statics, 6);
        break;
    case A_TILT:
        bk_probe_tilt(statics, 0);
        break;
    case HOW_FAR_FROM_PULLING:
        bk_probe_stretch(statics, 9, 1);
        break;
    case AN_ANCHORS_PULL:
        bk_probe_pull(statics, 0, false, way);
        bk_probe_pull(statics, 1, true, way);
        break;
    default:
        bk_probe_pull(statics, 2, false, way);
        bk_probe_pull(statics, 3, true, way);
    }
}

START_TEST(every_slope_is_that_of_solved_cases)
{
    two_tiers();
    ck_assert_int_eq(kit_solve(k, &arena, &hang), BK_OK);
    statics = bk_statics_new(&k->plan);
    const bk_parameter all[] = {
        {BK_CHANGE_MASS, 0, 100},     {BK_CHANGE_MASS, 1, 20},      {BK_CHANGE_COG_X, 0, 0.1},
        {BK_CHANGE_COG_Y, 1, 0.1},    {BK_CHANGE_COG_Z, 0, 0.1},    {BK_CHANGE_LENGTH, 0, 0.01},
        {BK_CHANGE_LENGTH, 3, 0.01},  {BK_CHANGE_LENGTH, 5, 0.01},  {BK_CHANGE_LENGTH, 6, 0.01},
        {BK_CHANGE_LENGTH, 9, 0.01},
        {BK_CHANGE_ANCHOR_X, 0, 0.1}, {BK_CHANGE_ANCHOR_Y, 1, 0.1}, {BK_CHANGE_ANCHOR_Z, 1, 0.1},
        {BK_CHANGE_WIND_X, 0, 200},   {BK_CHANGE_WIND_Y, 1, 200}};
    enum { N = sizeof all / sizeof *all };
    /* about a case in which there is some of everything */
    const bk_change base[] = {{BK_CHANGE_COG_X, 0, 0.04},
                              {BK_CHANGE_COG_Z, 1, -0.05},
                              {BK_CHANGE_WIND_X, 0, 150},
                              {BK_CHANGE_WIND_Y, 1, -90},
                              {BK_CHANGE_MASS, 0, 55}};
    enum { M = sizeof base / sizeof *base };
    bk_hang *h = bk_hang_new(arena, &k->plan), *at = bk_hang_new(arena, &k->plan);
    for (int what = 0; what < ALL_PROBED; what++) {
        double slope[N], largest = 0;
        ck_assert_int_eq(bk_statics_solve(statics, &(bk_case){base, M}, hang, at), BK_OK);
        probe((probed)what);
        bk_probe_slopes(statics, all, N, slope);
        for (int j = 0; j < N; j++)
            largest = fmax(largest, fabs(slope[j]) * all[j].size);
        ck_assert_double_gt(largest, 0);
        for (int j = 0; j < N; j++) {
            double v[2];
            for (int side = 0; side < 2; side++) {
                bk_change c[M + 1];
                memcpy(c, base, sizeof base);
                c[M] = (bk_change){all[j].kind, all[j].index, (side ? 1e-4 : -1e-4) * all[j].size};
                slack_m = k->lines[9].length_m.v +
                          (all[j].kind == BK_CHANGE_LENGTH && all[j].index == 9 ? c[M].amount : 0);
                ck_assert_int_eq(bk_statics_solve(statics, &(bk_case){c, M + 1}, at, h), BK_OK);
                v[side] = probed_value((probed)what, h);
            }
            ck_assert_msg(fabs(slope[j] * all[j].size - (v[1] - v[0]) / 2e-4) < 1e-5 * largest,
                          "figure %d, parameter %d: slope %g, differences %g", what, j,
                          slope[j] * all[j].size, (v[1] - v[0]) / 2e-4);
        }
    }
}
END_TEST

/* ---- the highest point under planes ------------------------------------------------------------ */

static double lowest_of(const bk_plane *planes, size_t m, const double *at, size_t n)
{
    double lowest = (double)INFINITY;
    for (size_t i = 0; i < m; i++) {
        double h = planes[i].constant;
        for (size_t j = 0; j < n; j++)
            h += planes[i].slope[j] * at[j];
        lowest = fmin(lowest, h);
    }
    return lowest;
}

/* By hand: under 1 + x, 2 - 3 x + y and y free to 0.5: x = (2 + 0.5 - 1) / 4 = 0.375, height 1.375. */
START_TEST(summit_by_hand)
{
    arena = bk_arena_new();
    bk_summit s;
    ck_assert(bk_summit_new(&s, arena, 2, 3));
    s.size[0] = 2;
    s.size[1] = 0.5;
    double a[] = {1, 0}, b[] = {-3, 1}, at[] = {0, 0};
    const bk_plane planes[] = {{1, a}, {2, b}};
    ck_assert_double_eq_tol(bk_summit_find(&s, 2, planes, at), 1.375, 1e-12);
    ck_assert_double_eq_tol(at[0], 0.375, 1e-12);
    ck_assert_double_eq_tol(at[1], 0.5, 1e-12);
    ck_assert_double_eq_tol(bk_summit_find(&s, 1, planes, at), 3, 1e-12); /* one plane: its corner */
    ck_assert_double_eq_tol(at[0], 2, 1e-12);
}
END_TEST

/* By duality: no point of the box is higher, for the planes have a blend that is nowhere higher.  Here by
 * chance and by moving along each axis and each pair of axes from the summit. */
START_TEST(no_point_is_higher_than_the_summit)
{
    arena = bk_arena_new();
    state = 88172645463325252u;
    for (int round = 0; round < 400; round++) {
        const size_t n = 1 + (size_t)(chance(0, 1) * 9), m = 1 + (size_t)(chance(0, 1) * 8);
        bk_summit s;
        ck_assert(bk_summit_new(&s, arena, n, 8));
        double slopes[8][10], at[10] = {0}, p[10];
        bk_plane planes[8];
        for (size_t j = 0; j < n; j++)
            s.size[j] = 0.1 + chance(0, 1);
        for (size_t i = 0; i < m; i++) {
            for (size_t j = 0; j < n; j++)
                slopes[i][j] = 2 * chance(0, 1) - 1;
            planes[i] = (bk_plane){chance(0, 1), slopes[i]};
        }
        const double height = bk_summit_find(&s, m, planes, at);
        ck_assert_double_eq_tol(height, lowest_of(planes, m, at, n), 1e-12);
        for (size_t j = 0; j < n; j++)
            ck_assert(fabs(at[j]) <= s.size[j] * (1 + 1e-12));
        for (int other = 0; other < 600; other++) {
            const double reach = pow(10, -4 * chance(0, 1));
            for (size_t j = 0; j < n; j++) {
                p[j] = at[j] + reach * s.size[j] * (2 * chance(0, 1) - 1);
                p[j] = fmin(fmax(p[j], -s.size[j]), s.size[j]);
            }
            ck_assert_double_le(lowest_of(planes, m, p, n), height + 1e-9);
        }
    }
}
END_TEST

START_TEST(ring_carries_its_strongest_pull_where_that_is_more)
{
    /* two flat lines pull against each other across the ring, and little hangs on it: upward resultant 100 N,
     * but each line pulls 50 / sin 5 degrees */
    const double a = 5 * KIT_DEG;
    const bk_end ring = kit_ring(k, "eye", 100 / KIT_G, 0, 0, 0);
    kit_line(k, kit_anchor(k, -2 * cos(a), 0, 2 * sin(a)), ring, 1e8, 0);
    kit_line(k, ring, kit_anchor(k, 2 * cos(a), 0, 2 * sin(a)), 1e8, 0);
    ck_assert_int_eq(kit_solve(k, &arena, &hang), BK_OK);
    ck_assert_double_eq_tol(bk_ring_load(&k->plan, hang, 0), 50 / sin(a), 0.6); /* they stretch a little */
}
END_TEST

START_TEST(ring_carries_what_pulls_it_down_where_that_is_more)
{
    /* pulled up by two lines at 80 degrees from each other, down by one: resultants are what the one line has
     */
    const bk_end ring = kit_ring(k, "eye", 0, 0, 0, 0);
    const size_t load = kit_body(k, "load", 500 / KIT_G, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, -1.2));
    const size_t hung = kit_line(k, ring, kit_point(k, load, 0, 0, 0.2), 1e8, 0);
    k->lines[hung].mass_kg = 40 / KIT_G; /* half of it at the ring, pulling down */
    kit_line(k, kit_anchor(k, -2 * sin(40 * KIT_DEG), 0, 2 * cos(40 * KIT_DEG)), ring, 1e8, 0);
    kit_line(k, kit_anchor(k, 2 * sin(40 * KIT_DEG), 0, 2 * cos(40 * KIT_DEG)), ring, 1e8, 0);
    ck_assert_int_eq(kit_solve(k, &arena, &hang), BK_OK);
    ck_assert_double_eq_tol(bk_ring_load(&k->plan, hang, 0), 540, 0.01);
}
END_TEST

/* Whichever end of a line is written first: the ring's own weight hangs from what pulls it up alone. */
START_TEST(ring_carries_its_greatest_resultant)
{
    for (int other = 0; other < 2; other++) {
        teardown();
        setup();
        const size_t load = kit_body(k, "load", 500, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
        const size_t idle = kit_body(k, "idle", 70, bk_vec3_of(0, 0, 0), bk_vec3_of(9, 0, 0));
        const bk_end far = kit_ring(k, "far", 3, 9, 0, 2), ring = kit_ring(k, "master", 12, 0, 0, 2);
        const bk_end top = kit_anchor(k, 0, 0, 4), a = kit_point(k, load, -1, 0, 0.5), b = kit_point(k, load, 1, 0, 0.5);
        kit_line(k, other ? ring : top, other ? top : ring, 1e7, 0);
        kit_line(k, other ? a : ring, other ? ring : a, 1e7, 0);
        kit_line(k, other ? b : ring, other ? ring : b, 1e7, 0);
        kit_line(k, kit_anchor(k, 9, 0, 4), far, 1e7, 0);
        kit_line(k, far, kit_point(k, idle, 0, 0, 0.5), 1e7, 0);
        k->bodies[0].mass_kg.tol = 50;
        find();
        ck_assert_double_eq_tol(bk_ring_load(&k->plan, hang, 1), 512 * KIT_G, 1e-6); /* upward: load and ring */
        ck_assert_double_eq_tol(envelope->ring_max[1].value, 562 * KIT_G, 1e-6);
        ck_assert_double_eq_tol(bk_ring_load(&k->plan, hang, 0), 73 * KIT_G, 1e-6);
        ck_assert_double_eq_tol(envelope->ring_max[0].value, 73 * KIT_G, 1e-6);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("envelope");
    TCase *tc = tcase_create("worst");
    tcase_add_checked_fixture(tc, setup, teardown);
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, two_hoists_take_the_lever_rule_at_its_ends);
    tcase_add_test(tc, idle_tolerances_stay_unsaid);
    tcase_add_test(tc, slack_asks_for_crossings);
    tcase_add_test(tc, narrow_tops_are_found);
    tcase_add_test(tc, slack_lines_are_led_to_where_they_pull);
    tcase_add_test(tc, slopes_alone_find_the_worst);
    tcase_add_test(tc, too_many_tolerances_are_said);
    tcase_add_test(tc, nothing_to_vary_gives_the_nominal_figures);
    tcase_add_test(tc, reported_case_proves_itself);
    tcase_add_test(tc, chance_finds_nothing_worse_on_stiff_legs);
    tcase_add_test(tc, chance_finds_nothing_worse_on_very_stiff_legs);
    tcase_add_test(tc, chance_finds_nothing_worse_with_many_parameters);
    tcase_add_test(tc, lost_lines_are_cases_of_their_own);
    tcase_add_test(tc, line_that_must_not_be_lost_is_named);
    tcase_add_test(tc, slopes_are_those_of_solved_cases);
    tcase_add_test(tc, ring_carries_its_greatest_resultant);
    tcase_add_test(tc, ring_carries_its_strongest_pull_where_that_is_more);
    tcase_add_test(tc, ring_carries_what_pulls_it_down_where_that_is_more);
    tcase_add_test(tc, every_slope_is_that_of_solved_cases);
    tcase_add_test(tc, summit_by_hand);
    tcase_add_test(tc, no_point_is_higher_than_the_summit);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
