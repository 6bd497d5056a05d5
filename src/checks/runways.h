/* runways: what the checks of one runway share. */
#ifndef BK_CHECKS_RUNWAYS_H
#define BK_CHECKS_RUNWAYS_H

#include "strength.h"

/* A beam under one set of trolley forces, and its worst. */
typedef struct bk_load_case {
    bk_state_kind state;
    const char *name;
    const bk_beam *beam;
    const bk_beam_worst *worst;
    const double *lateral_N; /* what the lateral share is taken of, by trolley */
} bk_load_case;

typedef struct bk_runway_job {
    const bk_check_input *in;
    bk_findings *out;
    const bk_plan *plan;
    const bk_runway *runway;
    const bk_runway_result *solved;
    const bk_beam_rules *rules;
    const bk_strength_method *method;
    bk_member steel;  /* section and strengths, no span yet */
    const char *part; /* the section's name */
    double lateral_share;
    const char *lateral_from;
    bk_load_case cases[2];
    size_t n_cases;
} bk_runway_job;

/* "trolley t1 at 3.05 m, dynamic case"; arena text. */
const char *bk_runway_where(const bk_runway_job *job, const bk_load_case *in, const bk_beam_extreme *at);
void bk_runway_finding(const bk_runway_job *job, const char *check, const char *what, bk_rating rating,
                       bk_working *working, const char *where);

/* Bottom flange and web under the wheels, web at the supports (wheels.c). */
bk_status bk_check_wheels(const bk_runway_job *job);
/* Vertical and lateral (deflection.c). */
void bk_check_deflection(const bk_runway_job *job);
/* Reactions against limits and hanger parts (supports.c). */
bk_status bk_check_supports(const bk_runway_job *job);

#endif
