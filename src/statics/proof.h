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

/* bk_statics_residual with the caller's scratch (n_bodies + n_rings). */
double bk_proof_residual(const bk_plan *plan, const bk_case *which, const bk_hang *hang, bk_acting *scratch);

#endif
