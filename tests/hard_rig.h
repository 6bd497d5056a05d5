/* Chance from a fixed start, and trusses on which steps may circle. */
#ifndef BK_TESTS_HARD_RIG_H
#define BK_TESTS_HARD_RIG_H

#include "rig_kit.h"

static uint64_t state;
static inline double chance(double from, double to)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return from + (to - from) * (double)(state >> 11) / 9007199254740992.0;
}
static inline int pick(int from, int to)
{
    return from + (int)(chance(0, 1) * (to - from + 1));
}

/* A truss under apex bridles with redundant lines: stiffnesses up to `spread` apart, lengths as drawn, a
 * little off or all slack, and bridle legs that almost go slack. */
static inline void hard_truss(kit *k, int number, double spread)
{
    state = 88172645463325252u + 77777u * (uint64_t)(number + 1);
    for (int i = 0; i < 20; i++)
        chance(0, 1);
    const double mass = 50 * pow(1000, chance(0, 1)), softest = mass * KIT_G * 20;
    const double error = pick(0, 2) ? 0.001 * pow(100, chance(0, 1)) : 0,
                 slack = pick(0, 4) ? 0 : chance(0.02, 0.5);
    const int n = pick(2, 8);
    const double length = chance(4, 12);
    const size_t truss = kit_body(k, "truss", mass, bk_vec3_of(0, 0, 0), bk_vec3_of(0, 0, 0));
    for (int i = 0; i < n; i++) {
        const double x = -length / 2 + length * i / (n - 1);
        const bk_end ring = kit_ring(k, "r", pick(0, 1) ? 2 : 0, x, 0, 1),
                     apex = kit_ring(k, "apex", 3, x, 0, 4);
        const bk_end a = kit_anchor(k, x - chance(0.5, 3), chance(-1, 1), 6),
                     b = kit_anchor(k, x + chance(0.5, 3), chance(-1, 1), 6);
        const bk_end from[] = {ring, ring, apex, a, b};
        const bk_end to[] = {kit_point(k, truss, x, -0.2, 0.2), kit_point(k, truss, x, 0.2, 0.2), ring, apex,
                             apex};
        for (int l = 0; l < 5; l++) {
            const size_t line = kit_line(k, from[l], to[l], softest * pow(spread, chance(0, 1)), 0);
            k->lines[line].length_m.v += l < 2 ? 0.1 * chance(-error, error) : chance(-error, error) + slack;
        }
    }
}

#endif
