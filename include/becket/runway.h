/* runway: a straight continuous beam with travelling loads at their exact worst positions.
 *
 * Influence lines piecewise cubic in the load's position, extremes as roots of polynomials, sections by a
 * search that proves its bound: no sweep (methods at the top of beam.c and worst.c).  x along the beam,
 * down loads positive, reactions up +, moments sagging +, deflection down +.  Knows nothing of strength.
 * A beam on elastic supports (a truss or spreader hung from lines) is the same thing with stiffness.
 */
#ifndef BECKET_RUNWAY_H
#define BECKET_RUNWAY_H

#include <becket/section.h>

BK_C_BEGIN

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
/* More are refused: time grows with their product. */
#define BK_BEAM_SUPPORTS_MAX 1000
#define BK_BEAM_LOADS_MAX    1000
#define BK_BEAM_TRAINS_MAX   100
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
    bk_beam_extreme *reaction_at_trolley_max;     /* while a wheel stands on the support; value NaN where
                                                     no wheel can (n_supports) */
    bk_beam_extreme moment_max, moment_min;       /* N m */
    bk_beam_extreme shear;                        /* N, magnitude, beside a wheel on its worse side */
    bk_beam_extreme deflection;                   /* m, signed value of greatest magnitude, settlements in */
    bk_beam_extreme *span_moment_max, *span_moment_min, *span_shear, *span_deflection;
                                                  /* (n_spans): left overhang if any, spans, right overhang */
    size_t n_spans;
    double *span_from_m, *span_to_m;              /* (n_spans) */
    bool *span_overhang;                          /* (n_spans) */
} bk_beam_worst;

/* Storage of out belongs to the arena.  Beam must be sound: at least one support that makes it stable
 * (two, or one fixed), ends outside the supports, supports rising by more than a millionth of the beam
 * (an overhang shorter than that counts as none), trains inside the beam with all their wheels and their
 * forces not negative.  BK_E_VALUE (why) when it is not; BK_E_NO_CONVERGE (why) when the stiffnesses of beam and
 * supports lie so far apart that the state does not balance to 1e-9; BK_E_NOMEM.  Trains are free of each other.
 * Values are attained, and short of the true extreme by no more than a 1e-10 part (deflection 1e-8) of it and of
 * what such a beam makes of the figure. */
bk_status bk_beam_find_worst(const bk_beam *beam, bk_arena *arena, bk_beam_worst *out, char *why,
                             size_t why_size);

/* One standing state: trains at train_m[i], loaded or empty.  Reactions (n_supports) and, at n sections
 * x_m, moment, shear and deflection; any output may be NULL.  Moment and shear are those just right of the
 * section (they jump at a fixed support and at a force), at the beam's right end just left of it.
 * BK_E_VALUE when the beam is not sound or a wheel or section lies off it; else as bk_beam_find_worst. */
bk_status bk_beam_state(const bk_beam *beam, const double *train_m, const bool *train_loaded,
                        double *reaction_N, size_t n, const double *x_m, double *moment_Nm,
                        double *shear_N, double *deflection_m);

/* ---- a runway of a plan ------------------------------------------------------------------------ */

/* A solved runway of a plan. */
typedef struct bk_runway_result {
    double dynamic_factor;
    const char *dynamic_by;
    const bk_beam *beam;          /* dynamic case, self-weight in */
    bk_beam_worst worst;          /* of `beam`, no partial factors */
    const bk_beam *service_beam;  /* no dynamic factor: for deflection limits */
    bk_beam_worst service;
    const bk_beam *payload_beam;  /* payload only */
    bk_beam_worst payload;
    const bk_beam *stalled_beam;  /* stalled_N where it exceeds dynamic_N, all at once: two hoists on one
                                     load that catches do stall together, and every extreme only grows with
                                     the forces a trolley may carry.  NULL when no hoist's does */
    bk_beam_worst stalled;
    double wheel_max_N;           /* greatest wheel load, the larger of dynamic and stalled */
    bk_section section;
    const bk_steel *steel;        /* NULL */
    double *static_N, *dynamic_N, *stalled_N; /* per trolley of this runway: force on it, own mass in */
} bk_runway_result;

/* Forces on the trolleys of one runway, each (n_trolleys of it): everything that hangs on the beam there,
 * the trolley's own mass in. */
typedef struct bk_trolley_forces {
    const double *static_N, *dynamic_N, *stalled_N; /* stalled NaN where nothing limits the hoist */
    const double *empty_N;    /* trolley and hoist alone */
    const double *payload_N;  /* what hangs on the hook alone, no dynamic factor */
    double dynamic_factor;    /* greatest of its trolleys, as reported */
    const char *dynamic_by;
} bk_trolley_forces;

/* Builds the beams of plan->runways[runway] and finds their worst.  out belongs to the arena.
 * BK_E_VALUE with a message when the runway cannot stand; BK_E_NOMEM. */
bk_status bk_runway_solve(const bk_plan *plan, size_t runway, const bk_trolley_forces *forces,
                          bk_arena *arena, bk_runway_result *out, bk_errors *errors);

BK_C_END

#endif
