/* How long statics takes.  Prints one line a measure: name, seconds of processor time, what.  Asserts
 * nothing.  bench.py sets these beside scipy, in the same run.  With the word `rig`: the rig of 30 bodies in
 * figures, for scipy. */
#include "../rig_kit.h"

#include <pthread.h>
#include <stdio.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

typedef void work(bk_statics *, const kit *, const bk_hang *, bk_hang *);

/* Median over batches. */
static double median_s(work *w, bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out, int batch,
                       int batches)
{
    double t[101];
    for (int b = 0; b < batches; b++) {
        const double before = now();
        for (int i = 0; i < batch; i++)
            w(s, k, start, out);
        t[b] = (now() - before) / batch;
    }
    qsort(t, (size_t)batches, sizeof *t, by_size);
    return t[batches / 2];
}

static void cold(bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out)
{
    (void)k;
    (void)start;
    bk_statics_solve(s, NULL, NULL, out);
}
static void warm(bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out)
{
    static const bk_change moved = {BK_CHANGE_COG_X, 0, 0.01};
    (void)k;
    bk_statics_solve_near(s, &(bk_case){&moved, 1}, start, out);
}
static void envelope(bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out)
{
    bk_arena *arena = bk_arena_new();
    bk_envelope *e;
    (void)out;
    bk_envelope_find(s, &k->plan, start, arena, &e);
    bk_arena_free(arena);
}
static const bk_change tolerances[8] = {
    {BK_CHANGE_MASS, 0, 180},    {BK_CHANGE_COG_X, 0, 0.1},   {BK_CHANGE_COG_Y, 0, 0.1},   {BK_CHANGE_COG_Z, 0, 0.1},
    {BK_CHANGE_LENGTH, 0, 0.01}, {BK_CHANGE_LENGTH, 1, 0.01}, {BK_CHANGE_LENGTH, 2, 0.01}, {BK_CHANGE_LENGTH, 3, 0.01}};
/* The same box by its 256 corners alone, each from the plan as drawn. */
static void corners(bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out)
{
    bk_change c[8];
    (void)k;
    for (int corner = 0; corner < 256; corner++) {
        for (int i = 0; i < 8; i++) {
            c[i] = tolerances[i];
            c[i].amount *= corner >> i & 1 ? 1 : -1;
        }
        bk_statics_solve_near(s, &(bk_case){c, 8}, start, out);
    }
}

static void four_legs(kit *k)
{
    kit_body(k, "load", 3600, bk_vec3_of(1.35, 0.20, 0.70), bk_vec3_of(0, 0, 0));
    const bk_end hook = kit_anchor(k, 1.10, 0.05, 4);
    for (int i = 0; i < 4; i++)
        kit_line(k, hook, kit_point(k, 0, i & 1 ? 2.3 : 0.1, i & 2 ? -0.8 : 0.9, 1.2), 5e6, 0);
}

/* A grid of trusses, each on one line, linked to its neighbours, braced across if wished: n bodies, about 3 n or 4 n
 * lines. */
static void grid(kit *k, int wide, int deep, bool braced)
{
    for (int i = 0; i < wide; i++)
        for (int j = 0; j < deep; j++) {
            const double x = 3.0 * i, y = 3.0 * j, off = 0.005 * sin(7.0 * i + 3.0 * j);
            const size_t b = kit_body(k, "truss", 200, bk_vec3_of(0.05, -0.03, -0.1), bk_vec3_of(x, y, 0));
            const size_t l = kit_line(k, kit_anchor(k, x, y, 6), kit_point(k, b, 0, 0, 0.2), 2e6, 0);
            k->lines[l].length_m.v += off;
            if (i)
                kit_line(k, kit_point(k, b - (size_t)deep, 1.4, 0, 0), kit_point(k, b, -1.4, 0, 0), 2e6, 0);
            if (j) kit_line(k, kit_point(k, b - 1, 0, 1.4, 0), kit_point(k, b, 0, -1.4, 0), 2e6, 0);
            if (braced && i && j)
                kit_line(k, kit_point(k, b - (size_t)deep - 1, 1, 1, 0), kit_point(k, b, -1, -1, 0), 2e6, 0);
        }
}

/* A row of trusses on three hoists each, linked. */
static void row(kit *k, int n)
{
    for (int i = 0; i < n; i++) {
        const double x = 4.0 * i;
        const size_t b = kit_body(k, "truss", 400, bk_vec3_of(0.1, 0.02, 0), bk_vec3_of(x, 0, 0));
        for (int h = 0; h < 3; h++) {
            const size_t l = kit_line(k, kit_anchor(k, x + h - 1, 0, 6),
                                      kit_point(k, b, h - 1, 0.2 * (h - 1), 0.3), 2e6, 0);
            k->lines[l].length_m.v += 0.004 * sin(5.0 * i + h);
        }
        if (i) kit_line(k, kit_point(k, b - 1, 1.8, 0, 0), kit_point(k, b, -1.8, 0, 0), 2e6, 0);
    }
}

/* ---- random scenarios, on one thread and on two ---- */

#define SCENARIOS 1000000

typedef struct share {
    const kit *k;
    const bk_hang *start;
    size_t from, to, failed;
} share;

/* From -1 to 1, by a hash of scenario and parameter (splitmix64): the same for any number of threads. */
static double chance(size_t scenario, size_t parameter)
{
    uint64_t x = (uint64_t)scenario * 8 + parameter + 1;
    x *= 0x9E3779B97F4A7C15u;
    x = (x ^ x >> 30) * 0xBF58476D1CE4E5B9u;
    x = (x ^ x >> 27) * 0x94D049BB133111EBu;
    return (double)(int64_t)(x ^ x >> 31) / 9223372036854775808.0;
}

static void *scenarios(void *given)
{
    share *part = given;
    bk_arena *arena = bk_arena_new();
    bk_hang *out = bk_hang_new(arena, &part->k->plan);
    bk_statics *s = bk_statics_new(&part->k->plan);
    bk_change c[8];
    for (size_t n = part->from; n < part->to; n++) {
        for (size_t i = 0; i < 8; i++) {
            c[i] = tolerances[i];
            c[i].amount *= chance(n, i);
        }
        part->failed += bk_statics_solve_near(s, &(bk_case){c, 8}, part->start, out) != BK_OK;
    }
    bk_statics_free(s);
    bk_arena_free(arena);
    return NULL;
}

static double wall(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void measure_scenarios(const kit *k)
{
    bk_arena *arena = bk_arena_new();
    bk_hang *start = bk_hang_new(arena, &k->plan);
    bk_statics *s = bk_statics_new(&k->plan);
    bk_statics_solve(s, NULL, NULL, start);
    for (size_t threads = 1; threads <= 2; threads++) {
        share part[2];
        pthread_t other;
        for (size_t i = 0; i < threads; i++)
            part[i] = (share){k, start, SCENARIOS / threads * i, SCENARIOS / threads * (i + 1), 0};
        const double before = wall(), processor = now();
        const bool two = threads == 2 && pthread_create(&other, NULL, scenarios, &part[1]) == 0;
        scenarios(&part[0]);
        if (two) pthread_join(other, NULL);
        const double seconds = wall() - before;
        if (threads == 1) printf("%-12s %.4g  %d of 8 tolerances\n", "scenarios", now() - processor, SCENARIOS);
        printf("%-12s %.4g  the same by the clock, %zu not solved\n", threads == 1 ? "one-thread" : "two-threads",
               seconds, part[0].failed + (two ? part[1].failed : 0));
    }
    bk_statics_free(s);
    bk_arena_free(arena);
}

/* The rig in figures: a line a body (mass, its centre, its origin), then a line a line (its ends as body or -1 and
 * place, length, stiffness). */
static void print_end(const kit *k, bk_end end)
{
    const bk_vec3 at = end.kind == BK_END_POINT ? k->points[end.index].at_m : kit_at(k, end);
    printf(" %d %.17g %.17g %.17g", end.kind == BK_END_POINT ? (int)k->points[end.index].body : -1, at.x, at.y, at.z);
}
static void print_rig(const kit *k)
{
    for (size_t i = 0; i < k->plan.n_bodies; i++) {
        const bk_body *b = &k->bodies[i];
        printf("body %.17g %.17g %.17g %.17g %.17g %.17g %.17g\n", b->mass_kg.v, b->cog_m.v.x, b->cog_m.v.y,
               b->cog_m.v.z, b->at_m.x, b->at_m.y, b->at_m.z);
    }
    for (size_t i = 0; i < k->plan.n_lines; i++) {
        const bk_line *l = &k->lines[i];
        printf("line %.17g %.17g", l->length_m.v, l->ea_N);
        print_end(k, l->from);
        print_end(k, l->to);
        printf("\n");
    }
}

static void measure(const char *name, const char *what, const kit *k, work *w, int batch, int batches)
{
    bk_arena *arena = bk_arena_new();
    bk_hang *start = bk_hang_new(arena, &k->plan), *out = bk_hang_new(arena, &k->plan);
    bk_statics *s = bk_statics_new(&k->plan);
    const bk_status status = bk_statics_solve(s, NULL, NULL, start);
    const double seconds = median_s(w, s, k, start, out, batch, batches);
    printf("%-12s %.4g  %zu bodies, %zu lines, %s; %d steps, residual %.1e%s\n", name, seconds,
           k->plan.n_bodies, k->plan.n_lines, what, start->iterations, start->residual,
           status == BK_OK ? "" : ", NOT SOLVED");
    bk_statics_free(s);
    bk_arena_free(arena);
}

int main(int argc, char **argv)
{
    kit *k = kit_new();
    if (argc > 1 && !strcmp(argv[1], "rig")) {
        grid(k, 5, 6, true);
        print_rig(k);
        free(k);
        return 0;
    }
    four_legs(k);
    measure("cold", "from the drawn pose, with the test of stability", k, cold, 200, 51);
    measure("warm", "centre of gravity moved 1 cm", k, warm, 200, 51);
    k->bodies[0].mass_kg.tol = 180;
    k->bodies[0].cog_m.tol = bk_vec3_of(0.1, 0.1, 0.1);
    for (int i = 0; i < 4; i++)
        k->lines[i].length_m.tol = 0.01;
    measure("corners", "256 corners alone", k, corners, 1, 25);
    measure("envelope", "worst of every figure over 8 tolerances", k, envelope, 1, 25);
    measure_scenarios(k);
    free(k);
    k = kit_new();
    grid(k, 5, 6, true);
    measure("rig30", "a braced grid, from the drawn pose", k, cold, 5, 21);
    free(k);
    const int sizes[] = {30, 100, 300, 1000};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        char name[16];
        k = kit_new();
        row(k, sizes[i] > 300 ? 300 : sizes[i]);
        snprintf(name, sizeof name, "row%d", (int)k->plan.n_bodies);
        if (sizes[i] <= 300) measure(name, "a row, from the drawn pose", k, cold, 1, 9);
        free(k);
        k = kit_new();
        const int wide = (int)lround(sqrt(sizes[i]));
        grid(k, wide, sizes[i] / wide, false);
        snprintf(name, sizeof name, "grid%d", (int)k->plan.n_bodies);
        measure(name, "a grid, from the drawn pose", k, cold, 1, sizes[i] > 300 ? 3 : 9);
        free(k);
    }
    return 0;
}
