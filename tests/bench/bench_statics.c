/* How long statics takes.  Prints one line a measure: name, seconds of processor time, what.  Asserts
 * nothing. bench_statics.py sets these beside scipy, in the same run. */
#include "../rig_kit.h"

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
/* The same box by its 256 corners alone, each from the plan as drawn. */
static void corners(bk_statics *s, const kit *k, const bk_hang *start, bk_hang *out)
{
    static const bk_change size[8] = {{BK_CHANGE_MASS, 0, 180},    {BK_CHANGE_COG_X, 0, 0.1},
                                      {BK_CHANGE_COG_Y, 0, 0.1},   {BK_CHANGE_COG_Z, 0, 0.1},
                                      {BK_CHANGE_LENGTH, 0, 0.01}, {BK_CHANGE_LENGTH, 1, 0.01},
                                      {BK_CHANGE_LENGTH, 2, 0.01}, {BK_CHANGE_LENGTH, 3, 0.01}};
    bk_change c[8];
    (void)k;
    for (int corner = 0; corner < 256; corner++) {
        for (int i = 0; i < 8; i++) {
            c[i] = size[i];
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

/* A grid of trusses, each on one line, linked to its neighbours: n bodies, about 3 n lines. */
static void grid(kit *k, int wide, int deep)
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

int main(void)
{
    kit *k = kit_new();
    four_legs(k);
    measure("cold", "from the drawn pose, with the test of stability", k, cold, 200, 51);
    measure("warm", "centre of gravity moved 1 cm", k, warm, 200, 51);
    k->bodies[0].mass_kg.tol = 180;
    k->bodies[0].cog_m.tol = bk_vec3_of(0.1, 0.1, 0.1);
    for (int i = 0; i < 4; i++)
        k->lines[i].length_m.tol = 0.01;
    measure("corners", "256 corners alone", k, corners, 1, 25);
    measure("envelope", "worst of every figure over 8 tolerances", k, envelope, 1, 25);
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
        grid(k, wide, sizes[i] / wide);
        snprintf(name, sizeof name, "grid%d", (int)k->plan.n_bodies);
        measure(name, "a grid, from the drawn pose", k, cold, 1, sizes[i] > 300 ? 3 : 9);
        free(k);
    }
    return 0;
}
