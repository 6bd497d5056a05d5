/* The lists of keys by C name, for the readers of this room; bk_plan_keys() gives them by their own. */
#ifndef BK_PLAN_KEYS_H
#define BK_PLAN_KEYS_H

#include <becket/plan.h>

extern const bk_key_map plan_keys, dynamic_keys, wind_keys, inspection_keys, body_keys, point_keys,
    body_steel_keys, shape_keys, ring_keys, anchor_keys, line_keys, part_keys, hoist_keys, limiter_keys,
    duty_keys, duty_load_keys, meter_keys, runway_keys, support_keys, trolley_keys, standing_keys,
    section_keys, steel_keys, tackle_keys;

/* Bounds of a number, inclusive: the key's own, else those of its dimension. */
void key_bounds(const bk_key *key, double *low, double *high, bool *whole);

/* What the readers fill besides the structs of plan.h. */
#define STEEL_STEPS(X) X(16) X(40) X(63) X(80) X(100) X(125) X(150) X(200) X(250) X(400)
enum {
#define X(mm) STEEL_STEP_##mm,
    STEEL_STEPS(X)
#undef X
        N_STEEL_STEPS
};
typedef struct steel_in { /* NaN where not given; the plain fy and fu hold for any thickness */
    double fy, fu, fy_to[N_STEEL_STEPS], fu_to[N_STEEL_STEPS];
} steel_in;
typedef struct shape_in {
    const char *name, *material, *source;
    int shape, axis;
    bk_vec3_value size_m, at_m;
    bk_value diameter_m, wall_m, length_m, height_m, mass_kg, density;
    double count;
    bool hole;
} shape_in;
enum {
    SHAPE_BOX,
    SHAPE_CYLINDER,
    SHAPE_TUBE,
    SHAPE_PLATE,
    SHAPE_SPHERE,
    SHAPE_CONE,
    SHAPE_SECTION,
    SHAPE_MASS
};

#endif
