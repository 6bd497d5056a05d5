/* runway: a straight continuous beam with travelling loads at their exact worst positions.
 *
 * Three-moment equations, influence lines piecewise cubic in the load's position, extremes as roots of
 * polynomials: no sweep (method at the top of runway.c).  x along the beam, down loads positive,
 * reactions up +, moments sagging +, deflection down +.  Knows nothing of strength.
 * A beam on elastic supports (a truss or spreader hung from lines) is the same thing with stiffness.
 */
#ifndef BECKET_RUNWAY_H
#define BECKET_RUNWAY_H

#include <becket/section.h>

typedef struct bk_beam_support {
    double at_m;
    bool fixed;             /* holds the slope; only the first or the last support */
    double stiffness_N_m;   /* INFINITY: rigid */
    double settlement_m;    /* down +; 0 */
} bk_beam_support;
typedef struct bk_beam_load { /* force at from_m, or per_metre from from_m to to_m; down + */
    double from_m, to_m, force_N, per_metre_N_m;
} bk_beam_load;
/* A trolley: wheels at fixed offsets from its middle; the middle moves in [from_m, to_m] (equal: it
 * stands).  All wheels carry the same share. */
#define BK_WHEEL_LINES_MAX 4
typedef struct bk_beam_train {
    double from_m, to_m;
    size_t n_lines;                       /* wheel lines along the beam, 1..BK_WHEEL_LINES_MAX */
    double offset_m[BK_WHEEL_LINES_MAX];
    double loaded_N, empty_N;             /* whole trolley, down + */
} bk_beam_train;
typedef struct bk_beam {
    double from_m, to_m;                  /* ends */
    double EI_Nm2;
    double self_N_m;                      /* uniform own weight; 0 to leave it out */
    size_t n_supports, n_loads, n_trains;
    const bk_beam_support *supports;      /* rising */
    const bk_beam_load *loads;
    const bk_beam_train *trains;
} bk_beam;

/* An extreme and where everything stood when it occurred. */
typedef struct bk_beam_extreme {
    double value;
    double at_m;            /* section of the beam; the support's place for a reaction */
    double *train_m;        /* middle of each train (n_trains); NULL when there is none */
    bool *train_loaded;     /* (n_trains) */
} bk_beam_extreme;

typedef struct bk_beam_worst {
    bk_beam_extreme *reaction_max, *reaction_min; /* N  (n_supports) */
    bk_beam_extreme *reaction_at_trolley_max;     /* unused entries have value NaN (n_supports) */
    bk_beam_extreme moment_max, moment_min;       /* N m */
    bk_beam_extreme shear;                        /* N, magnitude */
    bk_beam_extreme deflection;                   /* m, signed value of greatest magnitude */
    bk_beam_extreme *span_moment_max, *span_moment_min, *span_shear, *span_deflection;
                                                  /* (n_spans): left overhang if any, spans, right overhang */
    size_t n_spans;
    double *span_from_m, *span_to_m;              /* (n_spans) */
    bool *span_overhang;                          /* (n_spans) */
} bk_beam_worst;

/* Storage of out belongs to the arena.  Beam must be sound: at least one support that makes it stable
 * (two, or one fixed), ends outside the supports, supports rising by > 0, trains inside the beam with
 * all their wheels.  BK_E_VALUE (why) when it is not; BK_E_NOMEM.  Trains are free of each other. */
bk_status bk_beam_find_worst(const bk_beam *beam, bk_arena *arena, bk_beam_worst *out, char *why,
                             size_t why_size);

/* One standing state: trains at train_m[i], loaded or empty.  Reactions (n_supports) and, at n sections
 * x_m, moment, shear (right of the section) and deflection; any output may be NULL. */
bk_status bk_beam_state(const bk_beam *beam, const double *train_m, const bool *train_loaded,
                        double *reaction_N, size_t n, const double *x_m, double *moment_Nm,
                        double *shear_N, double *deflection_m);

#endif
