/* hoist: what it adds, how hard it may pull, how long it lasts.  Knows nothing of rigs: the hook load
 * comes in as a number.  Every figure is computed through the recorder (working may be NULL).
 */
#ifndef BECKET_HOIST_H
#define BECKET_HOIST_H

#include <becket/plan.h>
#include <becket/working.h>

/* ---- forces ------------------------------------------------------------------------------------ */

typedef struct bk_hoist_forces {
    double hook_load_N;         /* load, gear below the hook and hook block: against the rated capacity */
    double chain_N;             /* full length of load chain */
    double self_N;              /* hoist body */
    double dynamic_factor;      /* on the hook load; 1 at least */
    const char *dynamic_by;     /* "EN 1991-3, HC3", "the plan", ... */
    bk_mark dynamic_mark;
    double static_N;            /* suspension: hook load + hoist + chain */
    double dynamic_N;           /* suspension: factor * hook load + hoist + chain */
    double force_limit_N;       /* greatest pull the limiter allows at the hook; NaN without one */
    double stalled_N;           /* suspension: force limit + hoist + chain; NaN */
    double suspension_N;        /* larger of dynamic and stalled */
    bool stalled_governs;
    double sudden_stop_N;       /* lowering stopped by brake; NaN without a speed */
    const char *sudden_stop_by; /* "braking time", "braking distance", "upper bound v sqrt(k m)" */
    double slack_lift_main, slack_lift_creep; /* 1 + v / sqrt(g d): factor of lift-off with slack; NaN */
} bk_hoist_forces;

/* hook_load_N: what hangs on the hook, hook block left out (it is added here).
 * stiffness_N_m: of everything between load and building at the hook; NaN: not known.
 * plan gives rules, dynamic override and tolerances. */
bk_status bk_hoist_forces_of(const bk_plan *plan, const bk_hoist *hoist, double hook_load_N,
                             double stiffness_N_m, bk_working *working, bk_hoist_forces *out,
                             bk_errors *errors);

/* ---- duty and life ----------------------------------------------------------------------------- */

typedef struct bk_hoist_duty {
    bool asked;                   /* the plan describes a duty */
    double running_hours_per_day, cyclic_duration_factor, starts_per_hour; /* NaN where not given */
    double main_cdf, creep_cdf, main_starts, creep_starts;                 /* NaN */
    double allowed_cdf, allowed_starts, allowed_main_cdf, allowed_creep_cdf, allowed_main_starts,
        allowed_creep_starts;     /* of the hoist or its group; NaN */
    double on_min_in_10, rest_per_run;
    double starts_per_running_hour; /* from the two meters; NaN */
    double cubic_mean_k, spectrum_factor; /* k and km = k^3 */
    const char *spectrum_class;   /* "L1".."L4", NULL */
    const char *time_class_iso, *time_class_fem; /* "T5", "V2", NULL */
    const char *group_needed_iso, *group_needed_fem; /* "M5", "2m", NULL */
    const char *group_iso, *group_fem, *group_us;    /* the hoist's own, NULL */
    const char *us_class_needed;  /* "H4", NULL; beside, never converted */
    double mean_effective_load_factor;
    double full_load_hours;       /* D, theoretical life at full load */
    double used_hours_fem, used_hours_iso, life_used_fem, life_used_iso, life_used; /* life_used: the greater */
    double factor_fem, factor_iso;/* recording factors */
    double hours_per_year;        /* of running, from the log or the duty */
    double years_to_80, years_to_90, years_to_100; /* from the last reading, at this rate; NaN */
    const char *date_80, *date_90, *date_100;      /* NULL when no dates are known */
    const char *incomplete;       /* what is missing, as a sentence; NULL */
} bk_hoist_duty;

bk_status bk_hoist_duty_of(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, bk_arena *arena,
                           bk_working *working, bk_hoist_duty *out, bk_errors *errors);

#endif
