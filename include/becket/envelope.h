/* envelope: the worst anywhere within the plan's tolerances (part of the statics room). */
#ifndef BECKET_ENVELOPE_H
#define BECKET_ENVELOPE_H

#include <becket/statics.h>

BK_C_BEGIN

/* A largest or smallest figure and the case that gives it (case.changes belong to the arena). */
typedef struct bk_extreme {
    double value;
    bk_case where;
    const char *say; /* sentence; "as drawn" when there is nothing to vary */
} bk_extreme;
typedef struct bk_envelope {
    size_t n_parameters;      /* 0: every extreme is the nominal figure, save where lines are lost by the plan's wish */
    const bk_parameter *parameters;
    size_t n_solved, n_failed;/* cases tried; cases that have no stable balance */
    bool cut_short;           /* so many tolerances on so large a rig that not every figure could be searched for: the
                                 extremes are then only the worst of the cases tried */
    double work;              /* multiplications that the search took, about */
    const char *failed_say;   /* the first such case, NULL */
    bk_extreme *tension_max, *tension_min; /* N                             (n_lines)   */
    bk_extreme *anchor_max;                /* N, magnitude                  (n_anchors) */
    bk_extreme *anchor_horizontal_max;     /* N                             (n_anchors) */
    bk_extreme *ring_max;                  /* N, see bk_ring_load            (n_rings)   */
    bk_extreme *tilt_max;                  /* rad                           (n_bodies)  */
    bk_extreme *from_vertical_max;         /* rad, over taut states         (n_lines)   */
} bk_envelope;

/* What a ring itself carries: the greatest of the resultant of the lines that pull it up, of those that pull
 * it down, and of any single line (N). */
double bk_ring_load(const bk_plan *plan, const bk_hang *hang, size_t ring);

/* How fast the tension of a line grows with each parameter (N per SI unit of the change), at the balance that
 * bk_statics_solve found last in this workspace: what matters most, and which way. */
void bk_tension_slopes(bk_statics *statics, const bk_parameter *parameters, size_t n, size_t line, double *slope);

/* nominal: the solved plan as drawn.  out belongs to the arena.
 * BK_E_NOMEM.  A case that does not hang stably is counted and named, and is not an error here. */
bk_status bk_envelope_find(bk_statics *statics, const bk_plan *plan, const bk_hang *nominal,
                           bk_arena *arena, bk_envelope **out);

BK_C_END

#endif
