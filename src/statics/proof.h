/* proof: the balance of the poses, apart from the solver.  Private to statics. */
#ifndef BK_STATICS_PROOF_H
#define BK_STATICS_PROOF_H

#include <becket/statics.h>

#define BK_RESIDUAL_MOST 1e-9 /* nothing worse is ever an answer */

/* What acts on one body (moments about its centre of gravity) or ring. */
typedef struct bk_acting {
    bk_vec3 about_m, force_N, moment_Nm;
    double size_m; /* farthest arm of a pull */
} bk_acting;

/* Scratch: what acts on everything, and the case's changes, added up thing by thing (SI). */
typedef struct bk_proof {
    bool wide;                                              /* lengths are computed in wide arithmetic */
    bk_acting *acting;                                      /* bodies, then rings */
    size_t n_changes;                                       /* of all arrays below, which are one block */
    double *mass, *cog_x, *cog_y, *cog_z, *wind_x, *wind_y; /* (n_bodies) */
    double *length, *lost;                                  /* (n_lines); lost: not 0 */
    double *anchor_x, *anchor_y, *anchor_z;                 /* (n_anchors) */
} bk_proof;

/* False when memory is out. */
bool bk_proof_open(bk_proof *proof, const bk_plan *plan, bk_arena *arena);
/* bk_statics_residual with the caller's scratch. */
double bk_proof_residual(const bk_plan *plan, const bk_case *which, const bk_hang *hang, bk_proof *scratch);

#endif
