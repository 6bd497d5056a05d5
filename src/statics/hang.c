/* A result: arrays parallel to the plan's. */
#include <becket/statics.h>

#include <string.h>

/* Every array: field, its type, how many. */
#define ARRAYS(X)                                                                                            \
    X(origin_m, bk_vec3, n_bodies)                                                                           \
    X(turn, bk_quat, n_bodies)                                                                               \
    X(cog_m, bk_vec3, n_bodies)                                                                              \
    X(tilt_rad, double, n_bodies)                                                                            \
    X(rolls_freely, bool, n_bodies)                                                                          \
    X(ring_m, bk_vec3, n_rings)                                                                              \
    X(tension_N, double, n_lines)                                                                            \
    X(length_m, double, n_lines)                                                                             \
    X(from_vertical_rad, double, n_lines)                                                                    \
    X(slack, bool, n_lines)                                                                                  \
    X(pull_from_N, bk_vec3, n_lines)                                                                         \
    X(pull_to_N, bk_vec3, n_lines)                                                                           \
    X(anchor_N, bk_vec3, n_anchors)

bk_hang *bk_hang_new(bk_arena *arena, const bk_plan *plan)
{
    bk_hang *hang = BK_NEW(arena, bk_hang, 1);
    if (!hang) return NULL;
    hang->arena = arena;
    hang->unstable_body = hang->unstable_ring = BK_NONE;
#define X(field, type, n)                                                                                    \
    if (!(hang->field = BK_NEW(arena, type, plan->n))) return NULL;
    ARRAYS(X)
#undef X
    return hang;
}

void bk_hang_copy(const bk_plan *plan, bk_hang *to, const bk_hang *from)
{
    bk_hang copy = *from;
    copy.arena = to->arena;
    if (from->why && from->arena != to->arena)
        copy.why = bk_arena_strndup(to->arena, from->why, strlen(from->why));
#define X(field, type, n)                                                                                    \
    copy.field = to->field;                                                                                  \
    memcpy(copy.field, from->field, plan->n * sizeof(type));
    ARRAYS(X)
#undef X
    *to = copy;
}
