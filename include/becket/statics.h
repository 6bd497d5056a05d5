/* statics: how the rig hangs.
 *
 * Bodies (6 freedoms), rings (3), and elastic tension-only lines between points, rings and anchors.
 * The rig hangs where 1/2 sum k (L - L0)+^2 + sum m g z is least; see design at the top of pose.c.
 * Signs: tension pulling > 0; anchor force is the force of the rig on the anchor; world axes, z up.
 * Not modelled: sag of lines, friction, swing.  A result is arrays parallel to the plan's.
 */
#ifndef BECKET_STATICS_H
#define BECKET_STATICS_H

#include <becket/cases.h>

BK_C_BEGIN

/* Written by bk_statics_solve.  Storage belongs to the arena given to bk_hang_new. */
typedef struct bk_hang {
    bk_arena *arena;      /* owns what is below, and the sentences */
    bool converged, stable;
    double residual;      /* largest out-of-balance force (or moment over the body's size) / total weight,
                             recomputed from the poses apart from the solver */
    double total_weight_N;
    int iterations;
    bk_vec3 *origin_m;    /* bodies: where the body's origin is                 (n_bodies) */
    bk_quat *turn;        /* bodies: own axes to world                          (n_bodies) */
    bk_vec3 *cog_m;       /* bodies: centre of gravity, world                   (n_bodies) */
    double *tilt_rad;     /* bodies: own z against the vertical                 (n_bodies) */
    bool *rolls_freely;   /* bodies: every line pulls on one axis through the centre of gravity, and nothing
                             keeps the body from rolling about it                    (n_bodies) */
    bk_vec3 *ring_m;      /*                                                    (n_rings)  */
    double *tension_N;    /* at the line's middle, >= 0                         (n_lines)  */
    double *length_m;     /* stretched (or the straight distance when slack)    (n_lines)  */
    double *from_vertical_rad; /* 0..pi/2                                       (n_lines)  */
    bool *slack;          /*                                                    (n_lines)  */
    bk_vec3 *pull_from_N; /* force of the line on its `from` end, own weight in (n_lines)  */
    bk_vec3 *pull_to_N;   /* force of the line on its `to` end, own weight in   (n_lines)  */
    bk_vec3 *anchor_N;    /* static force of the rig on the anchor              (n_anchors)*/
    /* where it is not stable: what goes, which way, and by how much it fails */
    size_t unstable_body; /* BK_NONE when stable or when it is a ring */
    size_t unstable_ring; /* BK_NONE when stable or when it is a body */
    bk_vec3 goes_towards; /* unit, world: the way the body's top moves, or the body falls */
    double stiffness_Nm_per_rad; /* of the mode that fails: restoring moment per angle, < 0 overturning; NaN
                             when stable or when nothing turns */
    const char *why;      /* one sentence for the message; NULL when stable */
} bk_hang;

bk_hang *bk_hang_new(bk_arena *arena, const bk_plan *plan); /* NULL when memory is out */
void bk_hang_copy(const bk_plan *plan, bk_hang *to, const bk_hang *from);

/* Workspace for one plan: may be used for any number of cases, by one thread at a time.
 * Owns only scratch.  NULL when memory is out. */
typedef struct bk_statics bk_statics;
bk_statics *bk_statics_new(const bk_plan *plan);
void bk_statics_free(bk_statics *statics);

/* Solves one case (NULL: as drawn) from start (NULL: the drawn pose; start may be out itself).
 * BK_OK: out balances to 1e-9 of the weight and hangs stably.
 * BK_E_UNHELD, BK_E_UNSTABLE: out->why, unstable_body, goes_towards say what and which way.
 * BK_E_NO_CONVERGE: out->residual is what was reached.  BK_E_NOMEM. */
bk_status bk_statics_solve(bk_statics *statics, const bk_case *which, const bk_hang *start, bk_hang *out);
/* The same without the stability test, for many cases near one that was found stable. */
bk_status bk_statics_solve_near(bk_statics *statics, const bk_case *which, const bk_hang *start,
                                bk_hang *out);

/* Largest out-of-balance force (moments over the body's size) over the total weight, from the poses
 * in hang alone: Hooke's law of the plan, and nothing of the solver. */
double bk_statics_residual(const bk_plan *plan, const bk_case *which, const bk_hang *hang);

/* Potential energy (J) of the poses in hang, for the test that no small move lowers it. */
double bk_statics_energy(const bk_plan *plan, const bk_case *which, const bk_hang *hang);

/* Whether the poses in hang prove themselves: they balance, tensions, pulls, forces on anchors, centres of gravity and
 * tilts follow from them, and none of so many small moves (always the same) lowers the energy.  For the answer that is printed, not for every case.  BK_OK, BK_E_NO_CONVERGE, BK_E_NOMEM. */
bk_status bk_statics_prove(const bk_plan *plan, const bk_case *which, const bk_hang *hang, int moves);

BK_C_END

#endif
