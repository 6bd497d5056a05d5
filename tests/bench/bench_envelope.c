/* Whether chance finds anything worse than the reported worst, and what the search costs beside its corners.
 *
 *     bench_envelope [RIGS [SCENARIOS]]
 *
 * Rigs by a fixed chance: legs to one hook, legs to two hooks, a ring, two tiers, trusses on many hoists, soft and stiff.
 * A quarter of the scenarios have most of their parameters at an end.  Prints, asserts nothing.  Angles are left out: that
 * of a line that barely pulls is worth nothing.
 */
#include "../hard_rig.h"

#include <stdio.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void leg(kit *k, bk_end from, bk_end to, double ea_N, double error_m, double tolerance_m)
{
    const size_t l = kit_line(k, from, to, ea_N, 0);
    k->lines[l].length_m.v += error_m * chance(-1, 1);
    k->lines[l].length_m.tol = tolerance_m;
}

static bk_end corner(kit *k, size_t body, int i, int n, double z)
{
    const double a = 2 * BK_PI * (i + 0.5) / n;
    return kit_point(k, body, 1.5 * cos(a), 1.1 * sin(a), z);
}

static void legs(kit *k, int n, int hooks, double ea_N)
{
    const size_t b = kit_body(k, "load", 4200, bk_vec3_of(chance(-0.3, 0.3), chance(-0.2, 0.2), 0.4), bk_vec3_of(0, 0, 0));
    bk_end hook[2] = {kit_anchor(k, hooks == 2 ? 0.9 : 0.02, 0, 5), {BK_END_ANCHOR, 0}};
    if (hooks == 2) hook[1] = kit_anchor(k, -0.9, 0, 5);
    const double error_m = chance(0, 0.02);
    for (int i = 0; i < n; i++)
        leg(k, hook[4 * i / n == 1 || 4 * i / n == 2], corner(k, b, i, n, 1), ea_N, error_m, 0.01);
    k->bodies[b].mass_kg.tol = 210;
    k->bodies[b].cog_m.tol = bk_vec3_of(0.1, 0.1, 0);
}

static void ringed(kit *k, double ea_N)
{
    const size_t b = kit_body(k, "load", 2500, bk_vec3_of(chance(-0.3, 0.3), chance(-0.2, 0.2), 0.3), bk_vec3_of(0, 0, 0));
    const bk_end ring = kit_ring(k, "ring", 8, 0.02, 0.01, 4);
    leg(k, kit_anchor(k, 0, 0, 5), ring, 2 * ea_N, 0, 0);
    for (int i = 0; i < 4; i++)
        leg(k, ring, corner(k, b, i, 4, 1), ea_N, 0.01, 0.008);
    k->bodies[b].mass_kg.tol = 125;
    k->bodies[b].cog_m.tol = bk_vec3_of(0.08, 0.08, 0.05);
}

static void tiers(kit *k, double ea_N)
{
    const size_t frame = kit_body(k, "frame", 500, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 4));
    const size_t load = kit_body(k, "load", 5000, bk_vec3_of(chance(-0.2, 0.2), chance(-0.1, 0.1), 0.4), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 0, 0, 8);
    for (int i = 0; i < 4; i++) {
        leg(k, hook, corner(k, frame, i, 4, 0), ea_N, 0, 0.008);
        leg(k, corner(k, frame, i, 4, -0.1), corner(k, load, i, 4, 1), ea_N, 0, 0.008);
    }
    k->bodies[load].mass_kg.tol = 250;
    k->bodies[load].cog_m.tol = bk_vec3_of(0.1, 0.1, 0);
}

static void truss(kit *k, int n, double ea_N)
{
    const double tolerance_m = chance(0.005, 0.02);
    const size_t b = kit_body(k, "truss", 350 * n, bk_vec3_of(n - 0.8, 0.01, -0.1), bk_vec3_of(0, 0, 0));
    for (int i = 0; i < n; i++)
        leg(k, kit_anchor(k, 2 * i, 0.02 * (i % 2), 6), kit_point(k, b, 2 * i, 0.02 * (i % 2), 0.2), ea_N, 0.6 * tolerance_m,
            tolerance_m);
    k->bodies[b].mass_kg.tol = 35;
    k->bodies[b].cog_m.tol = bk_vec3_of(0.2, 0, 0);
}

/* Hung a little out of level, on lines of which two, or all, may be far longer or shorter: the places where a third one works
 * hard are a narrow ridge in a wide box. */
static void uneven_truss(kit *k, double ea_N)
{
    const int n = pick(3, 8);
    const double step_m = chance(1.5, 4);
    const bool all = pick(0, 2) == 0;
    const size_t b = kit_body(k, "truss", pow(10, chance(2, 4.3)), bk_vec3_of(step_m * (n - 1) * chance(0.35, 0.65), 0.1, -0.4),
                              bk_vec3_of(0, 0, 0));
    for (int i = 0; i < n; i++) {
        const double x = i * step_m, y = 0.4 * (i % 2) * chance(0, 1);
        const double tolerance_m = all || i == 1 || i == 3 ? chance(0.003, 0.024) : 0;
        leg(k, kit_anchor(k, x, y, 6), kit_point(k, b, x, y, 0), 4 * ea_N, 0.006, tolerance_m);
    }
    k->bodies[b].mass_kg.tol = k->bodies[b].mass_kg.v * chance(0.01, 0.08);
    if (pick(0, 1)) k->bodies[b].cog_m.tol = bk_vec3_of(0.05 * step_m, 0.01, 0.01);
}

static const char *any_rig(kit *k, int rig)
{
    state = 88172645463325252u + (uint64_t)rig * 7919;
    for (int i = 0; i < 10; i++)
        chance(0, 1);
    const double ea_N = pow(10, chance(5.7, 7.7));
    switch (rig % 8) {
    case 0:
        legs(k, 4, 1, ea_N);
        return "four legs";
    case 1:
        legs(k, 4, 2, ea_N);
        return "four legs, two hooks";
    case 2:
        legs(k, 6, 1, ea_N);
        return "six legs";
    case 3:
        ringed(k, ea_N);
        return "four legs, a ring";
    case 4:
        tiers(k, ea_N);
        return "two tiers";
    case 5:
        truss(k, 4 + rig % 5, ea_N);
        return "a truss";
    case 6:
        uneven_truss(k, ea_N);
        return "an uneven truss";
    default:
        truss(k, 9 + rig % 6, ea_N);
        return "a long truss";
    }
}

/* By how much a hang beats the worst, as a share of the weight. */
static double above(const bk_plan *plan, const bk_envelope *e, const bk_hang *h)
{
    double most = 0;
    for (size_t i = 0; i < plan->n_lines; i++)
        most = fmax(most, fmax(h->tension_N[i] - e->tension_max[i].value, e->tension_min[i].value - h->tension_N[i]));
    for (size_t i = 0; i < plan->n_anchors; i++)
        most = fmax(most, fmax(bk_vec3_norm(h->anchor_N[i]) - e->anchor_max[i].value,
                               hypot(h->anchor_N[i].x, h->anchor_N[i].y) - e->anchor_horizontal_max[i].value));
    for (size_t i = 0; i < plan->n_rings; i++)
        most = fmax(most, bk_ring_load(plan, h, i) - e->ring_max[i].value);
    return most / h->total_weight_N;
}

int main(int argc, char **argv)
{
    const int rigs = argc > 1 ? atoi(argv[1]) : 21, scenarios = argc > 2 ? atoi(argv[2]) : 20000;
    double worst = 0;
    for (int rig = 0; rig < rigs; rig++) {
        kit *k = kit_new();
        const char *what = any_rig(k, rig);
        bk_arena *arena = bk_arena_new();
        bk_hang *start = bk_hang_new(arena, &k->plan), *out = bk_hang_new(arena, &k->plan);
        bk_statics *s = bk_statics_new(&k->plan);
        bk_envelope *e;
        if (bk_statics_solve(s, NULL, NULL, start) != BK_OK) printf("does not hang: %s\n", start->why);
        const double before = now();
        if (bk_envelope_find(s, &k->plan, start, arena, &e) != BK_OK) return 1;
        const double seconds = now() - before;
        bk_change change[64];
        double most = 0;
        for (int n = 0; n < scenarios; n++) {
            for (size_t i = 0; i < e->n_parameters; i++) {
                double x = chance(-1, 1);
                if (n % 4 == 1) x = fmax(-1, fmin(1, 3 * x));
                change[i] = (bk_change){e->parameters[i].kind, e->parameters[i].index, x * e->parameters[i].size};
            }
            if (bk_statics_solve_near(s, &(bk_case){change, e->n_parameters}, start, out) == BK_OK)
                most = fmax(most, above(&k->plan, e, out));
        }
        printf("%3d %-21s %2zu lines %2zu parameters  %6zu cases %7.2f ms  chance above by %.1e of the weight\n", rig, what,
               k->plan.n_lines, e->n_parameters, e->n_solved, seconds * 1e3, most);
        worst = fmax(worst, most);
        bk_statics_free(s);
        bk_arena_free(arena);
        free(k);
    }
    printf("%d rigs, %d scenarios each: chance above by %.1e at most\n", rigs, scenarios, worst);
    return 0;
}
