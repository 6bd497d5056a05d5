/* What must hold for any rig: turn the plan about z, mirror it, scale it, move it, write it in another order, in
 * other units, from another origin, double the load with doubled stiffness, split a line by a ring, hang a part of
 * a body below the rest: the answer follows, to 1e-9 of the weight.  And of every answer: it balances, and no small
 * move lowers its energy.
 *
 * Rigs are drawn by chance from a fixed start, of eight kinds that riggers hang: legs to one hook, to several,
 * with a master ring, two tiers with a spreader, a truss on hoists with bridles, a flat bridle, a chain of bodies,
 * and two beams on hoists with ties between.  BECKET_RIGS says how many: few in the suite, 10 000 by
 *     BECKET_RIGS=10000 build/tests/property/test_property_statics
 */
#include "../hard_rig.h"

#include <check.h>
#include <stdio.h>

#define FEW_RIGS 150
static int rigs(void)
{
    const char *many = getenv("BECKET_RIGS");
    return many ? atoi(many) : FEW_RIGS;
}

/* ---- rigs by chance ---------------------------------------------------------------------------- */

static double stiffness, length_error;

static void add_line(kit *k, bk_end from, bk_end to)
{
    const size_t i = kit_line(k, from, to, stiffness * chance(0.5, 2), 0);
    k->lines[i].length_m.v *= 1 + chance(-length_error, length_error);
    k->lines[i].mass_kg = pick(0, 1) ? chance(0, 20) : 0;
}

static void legs(kit *k, bk_end top, size_t body, int n, double rx, double ry, double z)
{
    for (int i = 0; i < n; i++) {
        const double turn = 2 * BK_PI * (i + chance(-0.2, 0.2)) / n;
        add_line(k, top, kit_point(k, body, rx * cos(turn), ry * sin(turn), z));
    }
}

static void any_rig(kit *k, int number)
{
    state = 88172645463325252u + 1000003u * (uint64_t)(number + 1);
    for (int i = 0; i < 20; i++)
        chance(0, 1);
    const double mass = 50 * pow(1000, chance(0, 1));
    stiffness = mass * KIT_G * 30 * pow(100, chance(0, 1));
    length_error = pick(0, 2) ? chance(0.0005, 0.01) : 0;
    const size_t load =
        kit_body(k, "load", mass, bk_vec3_of(chance(-0.3, 0.3), chance(-0.2, 0.2), chance(-0.3, 0.2)),
                 bk_vec3_of(0, 0, 0));
    switch (number % 8) {
    case 0:
        legs(k, kit_anchor(k, chance(-0.3, 0.3), chance(-0.2, 0.2), chance(2, 4)), load, pick(3, 6), 1.2, 0.8,
             0.5);
        break;
    case 1:
        for (int i = 0, n = pick(2, 4); i < n; i++)
            legs(k, kit_anchor(k, chance(-1.2, 1.2), chance(-0.8, 0.8), chance(2.5, 5)), load, 2,
                 1.2 + 0.1 * i, 0.8, 0.5);
        break;
    case 2: {
        const bk_end ring = kit_ring(k, "master", pick(0, 1) ? chance(2, 20) : 0, 0.1, 0, 3);
        add_line(k, kit_anchor(k, 0, 0, 4), ring);
        legs(k, ring, load, pick(3, 4), 1.2, 0.8, 0.5);
        break;
    }
    case 3: {
        const size_t beam = kit_body(k, "beam", mass * 0.05, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 2.5));
        const bk_end hook = kit_anchor(k, chance(-0.2, 0.2), 0, 5);
        for (int side = -1; side <= 1; side += 2) {
            add_line(k, hook, kit_point(k, beam, 1.5 * side, 0, 0.1));
            for (int i = -1; i <= 1; i += 2)
                add_line(k, kit_point(k, beam, 1.5 * side, 0, -0.1),
                         kit_point(k, load, 1.5 * side, 0.7 * i, 0.6));
        }
        break;
    }
    case 4:
        for (int i = 0, n = pick(2, 5); i < n; i++) {
            const double x = -4 + 8.0 * i / (n - 1);
            const bk_end ring = kit_ring(k, "r", 2, x, 0, 1.5), apex = kit_ring(k, "apex", 3, x, 0, 4);
            add_line(k, ring, kit_point(k, load, x, -0.3, 0.5));
            add_line(k, ring, kit_point(k, load, x, 0.3, 0.5));
            add_line(k, ring, apex);
            add_line(k, kit_anchor(k, x - chance(1, 3), chance(-1, 1), 6), apex);
            add_line(k, kit_anchor(k, x + chance(1, 3), chance(-1, 1), 6), apex);
        }
        break;
    case 6: {
        bk_end above = kit_anchor(k, 0, 0, 3);
        size_t body = load;
        for (int i = 0, n = pick(2, 6); i < n; i++) {
            if (i > 0)
                body = kit_body(k, "part", mass * chance(0.05, 1), bk_vec3_of(chance(-0.1, 0.1), chance(-0.1, 0.1), -0.2),
                                bk_vec3_of(0, 0, -2 * i));
            add_line(k, above, kit_point(k, body, 0, 0, 0.5));
            above = kit_point(k, body, chance(-0.05, 0.05), chance(-0.05, 0.05), -0.4);
        }
        break;
    }
    case 7: {
        const size_t second = kit_body(k, "second", mass * chance(0.3, 1), bk_vec3_of(chance(-0.3, 0.3), 0, -0.3), bk_vec3_of(0, 2, -0.1));
        const int n = pick(2, 4);
        for (int i = 0; i < n; i++) {
            const double x = -2 + 4.0 * i / (n - 1);
            add_line(k, kit_anchor(k, x + chance(-0.3, 0.3), chance(-0.4, 0), 4), kit_point(k, load, x, 0, 0.4));
            add_line(k, kit_anchor(k, x + chance(-0.3, 0.3), 2 + chance(0, 0.4), 4), kit_point(k, second, x, 0, 0.4));
            add_line(k, kit_point(k, load, x, 0.2, 0), kit_point(k, second, x + chance(-0.5, 0.5), -0.2, 0));
        }
        break;
    }
    default: {
        const double half = chance(2, 6), sag = half * tan(chance(2, 8) * KIT_DEG);
        const bk_end ring = kit_ring(k, "r", 1, 0, 0, 1 + sag);
        add_line(k, kit_anchor(k, -half, 0, 1 + 2 * sag), ring);
        add_line(k, kit_anchor(k, half, chance(-0.5, 0.5), 1 + 2 * sag), ring);
        add_line(k, ring, kit_point(k, load, 0, 0, 0.6));
    }
    }
}

/* ---- running them ------------------------------------------------------------------------------ */

typedef struct solved {
    kit *k;
    bk_arena *arena;
    bk_hang *hang;
    bk_status status;
} solved;

static solved run(kit *k)
{
    solved s = {.k = k};
    s.status = kit_solve(k, &s.arena, &s.hang);
    return s;
}
static void drop(solved *s)
{
    bk_arena_free(s->arena);
    free(s->k);
}

static kit *copy(const kit *k)
{
    kit *other = kit_new(); /* its arrays have room for far more */
    other->plan.n_bodies = k->plan.n_bodies;
    other->plan.n_points = k->plan.n_points;
    other->plan.n_rings = k->plan.n_rings;
    other->plan.n_anchors = k->plan.n_anchors;
    other->plan.n_lines = k->plan.n_lines;
    memcpy(other->bodies, k->bodies, k->plan.n_bodies * sizeof *k->bodies);
    memcpy(other->points, k->points, k->plan.n_points * sizeof *k->points);
    memcpy(other->rings, k->rings, k->plan.n_rings * sizeof *k->rings);
    memcpy(other->anchors, k->anchors, k->plan.n_anchors * sizeof *k->anchors);
    memcpy(other->lines, k->lines, k->plan.n_lines * sizeof *k->lines);
    return other;
}

/* Where the changed rig has what was line i, body i. */
static size_t line_now[3 * KIT_MAX], body_now[KIT_MAX];

static const char *differs(const solved *a, const solved *b, double factor, double tolerance)
{
    static char text[300];
    if (a->status != b->status) {
        snprintf(text, sizeof text, "%d, changed %d (%s; %s)", a->status, b->status, a->hang->why ? a->hang->why : "-",
                 b->hang->why ? b->hang->why : "-");
        return text;
    }
    for (size_t l = 0; l < a->k->plan.n_lines && a->status == BK_OK; l++) {
        const double was = a->hang->tension_N[l], is = b->hang->tension_N[line_now[l]] / factor;
        if (fabs(is - was) < tolerance * a->hang->total_weight_N) continue;
        snprintf(text, sizeof text, "line %d: %.12g N of %.6g, changed %.12g", (int)l, was, a->hang->total_weight_N, is);
        return text;
    }
    for (size_t i = 0; i < a->k->plan.n_bodies && a->status == BK_OK; i++) {
        const double was = a->hang->tilt_rad[i], is = b->hang->tilt_rad[body_now[i]];
        if (fabs(is - was) < 1e-6 + tolerance) continue;
        snprintf(text, sizeof text, "body %d leans %.12g, changed %.12g", (int)i, was, is);
        return text;
    }
    return NULL;
}

/* Whether rig a hangs as well as its changed self b hangs, body for body: from there it does not move. */
static bool hangs_so_too(const solved *a, const solved *b, double tolerance)
{
    const bk_plan *plan = &a->k->plan;
    bk_statics *statics = bk_statics_new(plan);
    bk_hang *there = bk_hang_new(a->arena, plan);
    bk_hang_copy(plan, there, a->hang);
    memcpy(there->origin_m, b->hang->origin_m, plan->n_bodies * sizeof *there->origin_m);
    memcpy(there->turn, b->hang->turn, plan->n_bodies * sizeof *there->turn);
    memcpy(there->ring_m, b->hang->ring_m, plan->n_rings * sizeof *there->ring_m);
    memcpy(there->tension_N, b->hang->tension_N, plan->n_lines * sizeof *there->tension_N);
    const solved again = {.k = a->k, .hang = there, .status = bk_statics_solve(statics, NULL, there, there)};
    bk_statics_free(statics);
    return !differs(&again, b, 1, tolerance);
}

/* Applies change to a copy of each rig; tensions must be the old ones times factor, to a tolerance of the weight.
 * A rig on hooks drawn anywhere may have two balances.  A change that adds bodies or rings may lead to the other
 * one: up to `others` in a thousand rigs, each proved to be a balance of the unchanged rig.  A load that leans by more
 * than lean_deg is let off. */
static void follows_to(double tolerance, void (*change)(kit *), double factor, int others, double lean_deg)
{
    int hung = 0, wrong = 0, other_balance = 0;
    for (int i = 0; i < rigs(); i++) {
        kit *k = kit_new();
        any_rig(k, i);
        kit *other = copy(k);
        for (size_t l = 0; l < k->plan.n_lines; l++)
            line_now[l] = l;
        for (size_t l = 0; l < k->plan.n_bodies; l++)
            body_now[l] = l;
        change(other);
        solved a = run(k), b = run(other);
        const char *difference = a.status == BK_OK && a.hang->tilt_rad[0] > lean_deg * KIT_DEG ? NULL : differs(&a, &b, factor, tolerance);
        if (difference && others > 0 && a.status == BK_OK && b.status == BK_OK && hangs_so_too(&a, &b, tolerance)) {
            other_balance++;
            difference = NULL;
        }
        if (difference && wrong++ < 10) fprintf(stderr, "rig %d: %s\n", i, difference);
        hung += a.status == BK_OK;
        drop(&a);
        drop(&b);
    }
    ck_assert_int_eq(wrong, 0);
    ck_assert_int_le(other_balance, others * (rigs() + 999) / 1000);
    ck_assert_int_gt(hung, rigs() * 9 / 10);
}
static void follows(void (*change)(kit *), double factor)
{
    follows_to(1e-9, change, factor, 0, 90);
}

/* ---- changes ----------------------------------------------------------------------------------- */

/* every place of the plan through a map of vectors */
static void map(kit *k, bk_vec3 (*to)(bk_vec3))
{
    for (size_t i = 0; i < k->plan.n_bodies; i++) {
        k->bodies[i].at_m = to(k->bodies[i].at_m);
        k->bodies[i].cog_m.v = to(k->bodies[i].cog_m.v);
    }
    for (size_t i = 0; i < k->plan.n_points; i++)
        k->points[i].at_m = to(k->points[i].at_m);
    for (size_t i = 0; i < k->plan.n_rings; i++)
        k->rings[i].at_m = to(k->rings[i].at_m);
    for (size_t i = 0; i < k->plan.n_anchors; i++)
        k->anchors[i].at_m.v = to(k->anchors[i].at_m.v);
}

static double angle;
static bk_vec3 turned(bk_vec3 v)
{
    const double c = cos(angle), s = sin(angle);
    return bk_vec3_of(c * v.x - s * v.y, s * v.x + c * v.y, v.z);
}
static void turn(kit *k)
{
    angle = chance(0.1, 6);
    map(k, turned);
}
static bk_vec3 mirrored(bk_vec3 v)
{
    return bk_vec3_of(-v.x, v.y, v.z);
}
static void mirror(kit *k)
{
    map(k, mirrored);
}
static bk_vec3 scaled(bk_vec3 v)
{
    return bk_vec3_scale(37.3, v);
}
static void enlarge(kit *k) /* lengths alone: forces stay */
{
    map(k, scaled);
    for (size_t i = 0; i < k->plan.n_lines; i++)
        k->lines[i].length_m.v *= 37.3;
}
static void load_times(kit *k, double factor)
{
    for (size_t i = 0; i < k->plan.n_bodies; i++)
        k->bodies[i].mass_kg.v *= factor;
    for (size_t i = 0; i < k->plan.n_rings; i++)
        k->rings[i].mass_kg *= factor;
    for (size_t i = 0; i < k->plan.n_lines; i++) {
        k->lines[i].ea_N *= factor;
        k->lines[i].mass_kg *= factor;
    }
}
static void twice(kit *k)
{
    load_times(k, 2);
}
static void a_thousandth(kit *k)
{
    load_times(k, 1e-3);
}
static void other_ends(kit *k)
{
    for (size_t i = 0; i < k->plan.n_lines; i++) {
        const bk_end from = k->lines[i].from;
        k->lines[i].from = k->lines[i].to;
        k->lines[i].to = from;
    }
}
static void other_origins(kit *k) /* bodies described from another corner of theirs */
{
    const bk_vec3 d = bk_vec3_of(0.7, -1.1, 0.4);
    for (size_t i = 0; i < k->plan.n_bodies; i++) {
        k->bodies[i].at_m = bk_vec3_add(k->bodies[i].at_m, d);
        k->bodies[i].cog_m.v = bk_vec3_sub(k->bodies[i].cog_m.v, d);
    }
    for (size_t i = 0; i < k->plan.n_points; i++)
        k->points[i].at_m = bk_vec3_sub(k->points[i].at_m, d);
}
static void elsewhere(kit *k)
{
    const bk_vec3 d = bk_vec3_of(chance(-40, 40), chance(-40, 40), chance(-40, 40));
    for (size_t i = 0; i < k->plan.n_bodies; i++)
        k->bodies[i].at_m = bk_vec3_add(k->bodies[i].at_m, d);
    for (size_t i = 0; i < k->plan.n_rings; i++)
        k->rings[i].at_m = bk_vec3_add(k->rings[i].at_m, d);
    for (size_t i = 0; i < k->plan.n_anchors; i++)
        k->anchors[i].at_m.v = bk_vec3_add(k->anchors[i].at_m.v, d);
}

static void any_order(size_t n, size_t *now)
{
    for (size_t i = 0; i < n; i++)
        now[i] = i;
    for (size_t i = n; i > 1; i--) {
        const size_t j = (size_t)pick(0, (int)i - 1), other = now[j];
        now[j] = now[i - 1];
        now[i - 1] = other;
    }
}
/* everything that the plan lists, in any order */
static void permute(kit *k)
{
    static size_t point_now[6 * KIT_MAX], ring_now[KIT_MAX], anchor_now[KIT_MAX];
    kit *from = copy(k);
    any_order(k->plan.n_bodies, body_now);
    any_order(k->plan.n_points, point_now);
    any_order(k->plan.n_rings, ring_now);
    any_order(k->plan.n_anchors, anchor_now);
    any_order(k->plan.n_lines, line_now);
    const size_t *const now[] = {[BK_END_POINT] = point_now, [BK_END_RING] = ring_now, [BK_END_ANCHOR] = anchor_now};
    for (size_t i = 0; i < k->plan.n_bodies; i++)
        k->bodies[body_now[i]] = from->bodies[i];
    for (size_t i = 0; i < k->plan.n_points; i++) {
        k->points[point_now[i]] = from->points[i];
        k->points[point_now[i]].body = body_now[from->points[i].body];
    }
    for (size_t i = 0; i < k->plan.n_rings; i++)
        k->rings[ring_now[i]] = from->rings[i];
    for (size_t i = 0; i < k->plan.n_anchors; i++)
        k->anchors[anchor_now[i]] = from->anchors[i];
    for (size_t i = 0; i < k->plan.n_lines; i++) {
        bk_line *line = &k->lines[line_now[i]];
        *line = from->lines[i];
        line->from.index = now[line->from.kind][line->from.index];
        line->to.index = now[line->to.kind][line->to.index];
    }
    free(from);
}

/* A part of the load hangs below the rest by `legs` short stiff lines to one point, its own centre of gravity plumb
 * below that: its weight acts there, as it did. */
static void hang_a_part(kit *k, int n_legs)
{
    bk_body *load = &k->bodies[0];
    const double whole = load->mass_kg.v, part = chance(0.1, 0.6) * whole;
    const bk_vec3 by = bk_vec3_add(load->cog_m.v, bk_vec3_of(chance(-0.3, 0.3), chance(-0.3, 0.3), chance(-0.6, -0.3)));
    load->mass_kg.v = whole - part;
    load->cog_m.v = bk_vec3_scale(1 / (whole - part), bk_vec3_sub(bk_vec3_scale(whole, load->cog_m.v), bk_vec3_scale(part, by)));
    const bk_vec3 at = bk_vec3_add(load->at_m, by);
    const size_t second = kit_body(k, "part", part, bk_vec3_of(0, 0, -0.4), bk_vec3_of(at.x, at.y, at.z - (n_legs == 1 ? 0.2 : 0)));
    const bk_end below = kit_point(k, second, 0, 0, 0);
    for (int i = 0; i < n_legs; i++) {
        const double turn = 2 * BK_PI * i / n_legs, out = n_legs == 1 ? 0 : 0.3;
        kit_line(k, kit_point(k, 0, by.x + out * cos(turn), by.y + out * sin(turn), by.z + (n_legs == 1 ? 0 : 0.15)), below, whole * KIT_G * (n_legs == 1 ? 3e3 : 1e6), 0);
    }
}
static void by_one_line(kit *k)
{
    hang_a_part(k, 1);
}
static void by_three_lines(kit *k)
{
    hang_a_part(k, 3);
}

/* The first quarter of the lines in two, with a weightless ring between: those lines carry what they carried.
 */
static void split(kit *k)
{
    const size_t n = k->plan.n_lines;
    for (size_t i = 0; i < (n + 3) / 4; i++) {
        bk_line *line = &k->lines[i];
        const bk_vec3 a = kit_at(k, line->from), b = kit_at(k, line->to);
        const bk_vec3 at = bk_vec3_add(bk_vec3_scale(0.62, a), bk_vec3_scale(0.38, b));
        const bk_end ring = kit_ring(k, "split", 0, at.x, at.y, at.z);
        const double length = line->length_m.v, mass = line->mass_kg;
        const size_t other = kit_line(k, ring, line->to, line->ea_N, 0.62 * length);
        k->lines[other].to_mass_kg = mass / 2;
        line->from_mass_kg = mass / 2;
        line->mass_kg = 0;
        line->to = ring;
        line->length_m.v = 0.38 * length;
    }
}

START_TEST(turn_about_z)
{
    follows(turn, 1);
}
END_TEST
START_TEST(mirror_in_x)
{
    follows(mirror, 1);
}
END_TEST
START_TEST(another_scale)
{
    follows(enlarge, 1);
}
END_TEST
START_TEST(twice_the_load_on_twice_the_stiffness)
{
    follows(twice, 2);
}
END_TEST
START_TEST(a_thousandth_of_the_load)
{
    follows(a_thousandth, 1e-3);
}
END_TEST
START_TEST(lines_written_from_the_other_end)
{
    follows(other_ends, 1);
}
END_TEST
START_TEST(bodies_with_another_origin)
{
    follows(other_origins, 1);
}
END_TEST
START_TEST(line_split_by_a_weightless_ring)
{
    follows_to(1e-9, split, 1, 2, 90);
}
END_TEST

START_TEST(moved_elsewhere)
{
    follows(elsewhere, 1);
}
END_TEST
START_TEST(in_another_order)
{
    follows(permute, 1);
}
END_TEST
START_TEST(part_of_a_body_on_one_line)
{
    follows_to(1e-9, by_one_line, 1, 2, 90);
}
END_TEST
/* Three lines of a million weights stretch by 1e-7 of their length: so far the weight moves.  They stay taut, and the
 * rig is the same, until the body leans by atan(0.15 / 0.15). */
START_TEST(part_of_a_body_on_three_stiff_lines)
{
    follows_to(1e-6, by_three_lines, 1, 2, 40);
}
END_TEST

/* ---- in other units ---------------------------------------------------------------------------- */

static const char *write_end(char *to, size_t size, const kit *k, bk_end end)
{
    if (end.kind == BK_END_POINT) snprintf(to, size, "b%zu.p%zu", k->points[end.index].body, end.index);
    else snprintf(to, size, "%s%zu", end.kind == BK_END_RING ? "r" : "a", end.index);
    return to;
}
static void write_place(FILE *file, const char *key, bk_vec3 v, double feet)
{
    fprintf(file, "%s: %.17g %.17g %.17g %s", key, v.x / feet, v.y / feet, v.z / feet, feet == 1 ? "m" : "ft");
}
/* factors: international yard and pound agreement of 1959; standard gravity */
static void write_plan(FILE *file, const kit *k, bool us)
{
    const double ft = us ? 0.3048 : 1, lb = us ? 0.45359237 : 1, lbf = us ? 0.45359237 * 9.80665 : 1;
    const char *m = us ? "ft" : "m", *kg = us ? "lb" : "kg", *n = us ? "lbf" : "N";
    fprintf(file, "becket: 1\nunits: %s\nbodies:\n", us ? "us" : "si");
    for (size_t i = 0; i < k->plan.n_bodies; i++) {
        fprintf(file, "  b%zu:\n    mass: %.17g %s\n    ", i, k->bodies[i].mass_kg.v / lb, kg);
        write_place(file, "cog", k->bodies[i].cog_m.v, ft);
        write_place(file, "\n    at", k->bodies[i].at_m, ft);
        fputs("\n    points:\n", file);
        for (size_t p = 0; p < k->plan.n_points; p++) {
            if (k->points[p].body != i) continue;
            char key[40];
            snprintf(key, sizeof key, "      p%zu", p);
            write_place(file, key, k->points[p].at_m, ft);
            fputc('\n', file);
        }
    }
    if (k->plan.n_rings > 0) fputs("rings:\n", file);
    for (size_t i = 0; i < k->plan.n_rings; i++) {
        fprintf(file, "  r%zu: {mass: %.17g %s, ", i, k->rings[i].mass_kg / lb, kg);
        write_place(file, "at", k->rings[i].at_m, ft);
        fputs("}\n", file);
    }
    fputs("anchors:\n", file);
    for (size_t i = 0; i < k->plan.n_anchors; i++) {
        char key[40];
        snprintf(key, sizeof key, "  a%zu: {at", i);
        write_place(file, key, k->anchors[i].at_m.v, ft);
        fputs("}\n", file);
    }
    fputs("lines:\n", file);
    for (size_t i = 0; i < k->plan.n_lines; i++) {
        const bk_line *l = &k->lines[i];
        char from[40], to[40];
        fprintf(file, "  l%zu: {from: %s, to: %s, length: %.17g %s, ea: %.17g %s, mass: %.17g %s}\n", i,
                write_end(from, sizeof from, k, l->from), write_end(to, sizeof to, k, l->to), l->length_m.v / ft, m, l->ea_N / lbf, n,
                l->mass_kg / lb, kg);
    }
}

START_TEST(written_in_other_units)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    bk_tables *tables = bk_tables_new(dirs, dirs[0] ? 1 : 0, 0);
    int wrong = 0;
    for (int i = 0; i < rigs(); i++) {
        kit *k = kit_new();
        any_rig(k, i);
        for (size_t l = 0; l < k->plan.n_lines; l++)
            line_now[l] = l;
        for (size_t l = 0; l < k->plan.n_bodies; l++)
            body_now[l] = l;
        solved a = run(k);
        for (int us = 0; us < 2; us++) {
            char *text;
            size_t size;
            FILE *file = open_memstream(&text, &size);
            write_plan(file, k, us);
            fclose(file);
            bk_errors *errors = bk_errors_new();
            bk_plan *plan = NULL;
            ck_assert_msg(bk_plan_parse("f", text, size, tables, &plan, errors) == BK_OK, "%s\n%s", errors->at[0].text, text);
            solved b = {.arena = bk_arena_new()};
            b.hang = bk_hang_new(b.arena, plan);
            bk_statics *statics = bk_statics_new(plan);
            b.status = bk_statics_solve(statics, NULL, NULL, b.hang);
            bk_statics_free(statics);
            const char *difference = differs(&a, &b, 1, 1e-9);
            if (difference && wrong++ < 10) fprintf(stderr, "rig %d: %s\n", i, difference);
            drop(&b);
            bk_plan_free(plan);
            bk_errors_free(errors);
            free(text);
        }
        drop(&a);
    }
    bk_tables_free(tables);
    ck_assert_int_eq(wrong, 0);
}
END_TEST

/* ---- of every answer --------------------------------------------------------------------------- */

START_TEST(it_balances_and_no_small_move_lowers_its_energy)
{
    for (int i = 0; i < rigs(); i++) {
        kit *k = kit_new();
        any_rig(k, i);
        solved s = run(k);
        if (s.status != BK_OK) {
            drop(&s);
            continue;
        }
        const double weight = s.hang->total_weight_N;
        ck_assert_double_lt(s.hang->residual, 1e-11);
        ck_assert_double_lt(bk_statics_residual(&k->plan, NULL, s.hang), 1e-11);
        bk_vec3 sum = bk_vec3_of(0, 0, 0); /* anchors carry all of it */
        for (size_t a = 0; a < k->plan.n_anchors; a++)
            sum = bk_vec3_add(sum, s.hang->anchor_N[a]);
        ck_assert_double_lt(bk_vec3_norm(bk_vec3_add(sum, bk_vec3_of(0, 0, weight))), 1e-9 * weight);
        ck_assert_msg(bk_statics_prove(&k->plan, NULL, s.hang, 100) == BK_OK, "rig %d", i);
        s.hang->origin_m[0].z += 1e-5; /* and a wrong answer is none */
        ck_assert_msg(bk_statics_prove(&k->plan, NULL, s.hang, 100) == BK_E_NO_CONVERGE, "rig %d", i);
        drop(&s);
    }
}
END_TEST

/* Started from another answer, a rig comes to the same as from its drawing. */
START_TEST(warm_and_cold_starts_agree)
{
    for (int i = 0; i < rigs(); i++) {
        kit *k = kit_new();
        any_rig(k, i);
        solved s = run(k);
        if (s.status == BK_OK) {
            bk_statics *statics = bk_statics_new(&k->plan);
            bk_hang *other = bk_hang_new(s.arena, &k->plan);
            const bk_change c[] = {{BK_CHANGE_MASS, 0, 0.07 * k->bodies[0].mass_kg.v},
                                   {BK_CHANGE_COG_X, 0, 0.02}};
            if (bk_statics_solve(statics, &(bk_case){c, 2}, s.hang, other) == BK_OK) {
                ck_assert_int_eq(bk_statics_solve(statics, NULL, other, other), BK_OK);
                for (size_t l = 0; l < k->plan.n_lines; l++)
                    ck_assert_double_eq_tol(other->tension_N[l], s.hang->tension_N[l],
                                            1e-9 * s.hang->total_weight_N);
            }
            bk_statics_free(statics);
        }
        drop(&s);
    }
}
END_TEST

/* ---- numerically hard -------------------------------------------------------------------------- */

/* Stiffnesses 1e3 apart: always an answer, and one that proves itself.  1e6 apart, where the stiffest line
 * under this weight is at the rounding of its length: an answer to 1e-9, or none; never a wrong one. */
static void hard_rigs(double spread, int rigs, int answers)
{
    int hung = 0;
    for (int i = 0; i < rigs; i++) {
        kit *k = kit_new();
        hard_truss(k, i, spread);
        solved s = run(k);
        if (s.status == BK_OK) {
            hung++;
            ck_assert_double_lt(s.hang->residual, 1e-9);
            double up = 0;
            for (size_t a = 0; a < k->plan.n_anchors; a++)
                up -= s.hang->anchor_N[a].z;
            ck_assert_double_eq_tol(up, s.hang->total_weight_N, 1e-7 * s.hang->total_weight_N);
        } else {
            ck_assert_int_eq(s.status, BK_E_NO_CONVERGE);
            ck_assert_ptr_nonnull(strstr(s.hang->why, "no balance was found"));
        }
        drop(&s);
    }
    ck_assert_int_ge(hung, answers);
}
START_TEST(stiffnesses_a_thousand_apart)
{
    hard_rigs(1e3, 300, 300);
}
END_TEST
START_TEST(stiffnesses_a_million_apart)
{
    hard_rigs(1e6, 100, 50);
}
END_TEST

/* Speed is counted in steps, the same on every machine.  Newton's method doubles the right digits with each, so from a
 * centimetre beside an answer 1e-2, 1e-4, 1e-8, 1e-16: four, or five where a line goes slack.  From a drawing it takes
 * some eight; the hardest trusses some twenty.  Two in a hundred more than was counted once are too many. */
START_TEST(few_steps_lead_to_the_answer)
{
    int cold = 0, warm = 0, hard = 0;
    for (int i = 0; i < FEW_RIGS; i++) {
        kit *k = kit_new();
        any_rig(k, i);
        solved s = run(k);
        if (s.status == BK_OK) {
            bk_statics *statics = bk_statics_new(&k->plan);
            bk_hang *beside = bk_hang_new(s.arena, &k->plan);
            const bk_change aside = {BK_CHANGE_COG_X, 0, 0.01};
            cold += s.hang->iterations;
            if (bk_statics_solve(statics, &(bk_case){&aside, 1}, s.hang, beside) == BK_OK) {
                warm += beside->iterations;
                ck_assert_int_le(beside->iterations, 5);
            }
            bk_statics_free(statics);
        }
        drop(&s);
    }
    for (int i = 0; i < 300; i++) {
        kit *k = kit_new();
        hard_truss(k, i, 1e3);
        solved s = run(k);
        hard += s.hang->iterations;
        drop(&s);
    }
    ck_assert_int_le(cold, 946 + 19);
    ck_assert_int_le(warm, 450 + 9);
    ck_assert_int_le(hard, 4686 + 94);
}
END_TEST

/* From a gram to 10 000 t and from a millimetre to a kilometre: the same picture. */
START_TEST(any_size_hangs_alike)
{
    double first[4];
    const double lengths[] = {1, 1e-3, 1e3}, masses[] = {1000, 1e-3, 1e7};
    for (int l = 0; l < 3; l++)
        for (int m = 0; m < 3; m++) {
            const double size = lengths[l], mass = masses[m];
            kit *k = kit_new();
            const size_t load =
                kit_body(k, "load", mass, bk_vec3_of(0.1 * size, 0.05 * size, 0), bk_vec3_of(0, 0, 0));
            const bk_end hook = kit_anchor(k, 0, 0, 3 * size);
            for (int i = 0; i < 4; i++)
                kit_line(k, hook,
                         kit_point(k, load, (i & 1 ? 1 : -1) * size, (i & 2 ? 0.8 : -0.8) * size, 0.5 * size),
                         mass * KIT_G * (i == 2 ? 3000 : 40), 0);
            solved s = run(k);
            ck_assert_int_eq(s.status, BK_OK);
            for (int i = 0; i < 4; i++) {
                const double share = s.hang->tension_N[i] / (mass * KIT_G);
                if (l == 0 && m == 0) first[i] = share;
                ck_assert_double_eq_tol(share, first[i], 1e-9);
            }
            drop(&s);
        }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("property: statics");
    TCase *tc = tcase_create("any rig");
    tcase_set_timeout(tc, 60 + 0.1 * rigs());
    tcase_add_test(tc, turn_about_z);
    tcase_add_test(tc, mirror_in_x);
    tcase_add_test(tc, another_scale);
    tcase_add_test(tc, twice_the_load_on_twice_the_stiffness);
    tcase_add_test(tc, a_thousandth_of_the_load);
    tcase_add_test(tc, lines_written_from_the_other_end);
    tcase_add_test(tc, bodies_with_another_origin);
    tcase_add_test(tc, line_split_by_a_weightless_ring);
    tcase_add_test(tc, moved_elsewhere);
    tcase_add_test(tc, in_another_order);
    tcase_add_test(tc, part_of_a_body_on_one_line);
    tcase_add_test(tc, part_of_a_body_on_three_stiff_lines);
    tcase_add_test(tc, written_in_other_units);
    tcase_add_test(tc, it_balances_and_no_small_move_lowers_its_energy);
    tcase_add_test(tc, warm_and_cold_starts_agree);
    tcase_add_test(tc, stiffnesses_a_thousand_apart);
    tcase_add_test(tc, stiffnesses_a_million_apart);
    tcase_add_test(tc, any_size_hangs_alike);
    tcase_add_test(tc, few_steps_lead_to_the_answer);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
