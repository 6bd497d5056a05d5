/* A plan on the stack, for tests that need a rig and no file. */
#ifndef BK_TESTS_RIG_KIT_H
#define BK_TESTS_RIG_KIT_H

#include <becket/envelope.h>
#include <stdlib.h>
#include <string.h>

#define KIT_MAX 1200
#define KIT_DEG (BK_PI / 180)
#define KIT_G   9.80665

typedef struct kit {
    bk_plan plan;
    bk_body bodies[KIT_MAX];
    bk_point points[6 * KIT_MAX];
    bk_ring rings[KIT_MAX];
    bk_anchor anchors[KIT_MAX];
    bk_line lines[3 * KIT_MAX];
    char names[2 * KIT_MAX][8]; /* of points and lines that have no better one */
} kit;

static inline kit *kit_new(void)
{
    kit *k = calloc(1, sizeof *k);
    if (!k) abort();
    k->plan.bodies = k->bodies;
    k->plan.points = k->points;
    k->plan.rings = k->rings;
    k->plan.anchors = k->anchors;
    k->plan.lines = k->lines;
    k->plan.units = BK_SI;
    return k;
}

static inline size_t kit_room(size_t n, size_t most)
{
    if (n >= most) abort();
    return n;
}

static inline size_t kit_body(kit *k, const char *name, double mass_kg, bk_vec3 cog_m, bk_vec3 at_m)
{
    k->bodies[kit_room(k->plan.n_bodies, KIT_MAX)] =
        (bk_body){.name = name, .mass_kg = {mass_kg, 0}, .cog_m = {cog_m, {0, 0, 0}}, .at_m = at_m};
    return k->plan.n_bodies++;
}

static inline bk_end kit_point(kit *k, size_t body, double x, double y, double z)
{
    k->points[kit_room(k->plan.n_points, 6 * KIT_MAX)] =
        (bk_point){.name = "eye", .body = body, .at_m = {x, y, z}};
    return (bk_end){BK_END_POINT, k->plan.n_points++};
}

static inline bk_end kit_ring(kit *k, const char *name, double mass_kg, double x, double y, double z)
{
    k->rings[kit_room(k->plan.n_rings, KIT_MAX)] =
        (bk_ring){.name = name, .mass_kg = mass_kg, .at_m = {x, y, z}};
    return (bk_end){BK_END_RING, k->plan.n_rings++};
}

static inline bk_end kit_anchor(kit *k, double x, double y, double z)
{
    k->anchors[kit_room(k->plan.n_anchors, KIT_MAX)] =
        (bk_anchor){.name = "hook", .at_m = {{x, y, z}, {0, 0, 0}}};
    return (bk_end){BK_END_ANCHOR, k->plan.n_anchors++};
}

static inline bk_vec3 kit_at(const kit *k, bk_end end)
{
    if (end.kind == BK_END_ANCHOR) return k->anchors[end.index].at_m.v;
    if (end.kind == BK_END_RING) return k->rings[end.index].at_m;
    const bk_point *p = &k->points[end.index];
    return bk_vec3_add(k->bodies[p->body].at_m, p->at_m);
}

/* length_m 0: as drawn */
static inline size_t kit_line(kit *k, bk_end from, bk_end to, double ea_N, double length_m)
{
    const size_t i = kit_room(k->plan.n_lines, 3 * KIT_MAX);
    k->plan.n_lines++;
    if (length_m == 0) length_m = bk_vec3_norm(bk_vec3_sub(kit_at(k, from), kit_at(k, to)));
    char *name = k->names[i % (2 * KIT_MAX)];
    name[0] = 'l';
    for (size_t digits = i, at = 5; at > 0; digits /= 10)
        name[at--] = (char)('0' + digits % 10);
    k->lines[i] = (bk_line){.name = name, .from = from, .to = to, .length_m = {length_m, 0}, .ea_N = ea_N};
    return i;
}

/* Solves; the result belongs to *arena, which the caller frees. */
static inline bk_status kit_solve(const kit *k, bk_arena **arena, bk_hang **hang)
{
    *arena = bk_arena_new();
    *hang = *arena ? bk_hang_new(*arena, &k->plan) : NULL;
    bk_statics *statics = bk_statics_new(&k->plan);
    if (!*hang || !statics) abort();
    const bk_status status = bk_statics_solve(statics, NULL, NULL, *hang);
    bk_statics_free(statics);
    return status;
}

#endif
