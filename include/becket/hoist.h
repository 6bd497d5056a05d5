/* hoist: what it adds, how hard it may pull, how long it lasts.  Knows nothing of rigs: the hook load
 * comes in as a number.  Every figure is computed through the recorder (working may be NULL).
 * Missing values: NaN for a number, NULL for a text.
 */
#ifndef BECKET_HOIST_H
#define BECKET_HOIST_H

#include <becket/plan.h>
#include <becket/working.h>

BK_C_BEGIN

/* ---- forces ------------------------------------------------------------------------------------ */

typedef struct bk_hoist_forces {
    double hook_load_N;         /* load, gear below the hook and hook block */
    double against_rated_N;     /* what the chain carries: the hook load, and with the body down the
                                   hoist and its chain too */
    double hook_block_N;        /* in both of the above */
    double chain_N;             /* full length of load chain */
    double self_N;              /* hoist body */
    double dynamic_factor;      /* on what the chain carries; 1 at least */
    const char *dynamic_by;     /* source of the rule that set it, "the plan" */
    bk_mark dynamic_mark;
    double static_N;            /* suspension: hook load + hoist + chain */
    double dynamic_N;           /* suspension: factor * hook load + hoist + chain */
    double force_limit_N;       /* greatest pull the limiter allows at the hook; NaN without one */
    double stalled_N;           /* suspension: force limit + hoist + chain; NaN */
    double suspension_N;        /* larger of dynamic and stalled */
    bool stalled_governs;
    double sudden_stop_N;       /* suspension: lowering stopped by brake; NaN without a speed */
    const char *sudden_stop_by; /* "braking time", "braking distance", "upper bound v sqrt(k m)" */
    double slack_lift_main, slack_lift_creep; /* 1 + v / sqrt(g d): factor of lift-off with slack; NaN */

    /* what the factor came from; NaN and NULL where the rule set has no such factor */
    const char *hoisting_class, *drive_class;
    bool hoisting_class_assumed, drive_class_assumed, speed_assumed;
    double speed_m_s;           /* the hoisting speed that was used */
    double dynamic_13001, dynamic_1991, dynamic_fem;      /* lift-off, EN 13001-2, EN 1991-3, FEM 1.001 */
    double dynamic_impact, dynamic_hoist_load;            /* US: impact of a monorail, hoist load factor */
    double limiter_at;          /* multiple of the rated capacity; NaN without a limiter */
    bool limiter_at_assumed;    /* the rule's greatest value, as the hoist states none */
    bool overshoot_counted;     /* indirect limiter: what it pulls on until the drive has stopped is in */
    double static_stretch_m;    /* of everything between load and building under the hook load; NaN */
    double stiffness_N_m;       /* as given */
} bk_hoist_forces;

/* hook_load_N: what hangs on the hook, hook block left out (it is added here).
 * stiffness_N_m: of everything between load and building at the hook; NaN: not known.
 * plan gives rules, dynamic override and tolerances.  BK_E_RULE when the rule set lacks a value. */
bk_status bk_hoist_forces_of(const bk_plan *plan, const bk_hoist *hoist, double hook_load_N,
                             double stiffness_N_m, bk_working *working, bk_hoist_forces *out,
                             bk_errors *errors);

/* ---- duty and life ----------------------------------------------------------------------------- */

/* One interval of inspection or service that the hoist falls under. */
typedef struct bk_hoist_interval {
    const char *regime, *what;  /* "ASME B30.16", "hoist periodic, severe"; regime NULL for service */
    const char *kind;           /* "each use", "frequent", "periodic", "assessment", "service" */
    double months;              /* 0: each use; NaN: not by the calendar */
    double hours, starts;       /* service by use: every so many running hours, starts; NaN */
    double next_hours, next_starts; /* the next such figure on the meters; NaN when they are not known */
    const char *due;            /* date, from the last inspection, periodic and assessment; NULL */
    const char *source;
    bk_mark mark;
    bool tightest;              /* the shortest of its kind */
} bk_hoist_interval;

typedef struct bk_hoist_duty {
    bool asked;                   /* the plan describes a duty */
    double running_hours_per_day, cyclic_duration_factor, starts_per_hour; /* NaN where not given */
    double main_cdf, creep_cdf, main_starts, creep_starts;                 /* NaN */
    double allowed_cdf, allowed_starts, allowed_main_cdf, allowed_creep_cdf, allowed_main_starts,
        allowed_creep_starts;     /* of the hoist or its group; NaN */
    double on_min_in_10, rest_per_run;
    double starts_per_running_hour; /* from the two meters; NaN */
    double cubic_mean_k, spectrum_factor; /* k and km = k^3 */
    const char *spectrum_class;   /* "L1".."L4" by km, ISO 4301-1; NULL */
    const char *spectrum_class_fem; /* the same by k, FEM 9.511 */
    const char *time_class_iso, *time_class_fem; /* "T5", "V2", NULL */
    const char *group_needed_iso, *group_needed_fem; /* "M5", "2m", NULL */
    const char *group_iso, *group_fem, *group_us;    /* the hoist's own, NULL */
    const char *us_class_needed;  /* "H4", NULL; beside, never converted */
    double mean_effective_load_factor;
    double full_load_hours;       /* D, theoretical life at full load */
    double used_hours_fem, used_hours_iso, life_used_fem, life_used_iso, life_used; /* life_used: the greater */
    double factor_fem, factor_iso;/* recording factors */
    double hours_per_year;        /* of running, from the meter where there is one, else from the duty */
    double hours_per_year_by_duty;/* of running, from the duty alone; NaN */
    double years_to_80, years_to_90, years_to_100; /* from the last reading, at this rate; NaN */
    const char *date_80, *date_90, *date_100;      /* NULL when no dates are known */
    const char *incomplete;       /* what is missing, as a sentence; NULL */

    bool empty_return_assumed;    /* not stated: a cycle is one lift and one lowering */
    bool spectrum_assumed;        /* not stated: full load all the time */
    bool hook_block_counted;      /* heavy enough to belong in the spectrum */
    bool allowed_of_group;        /* duty allowed is that of the group, the hoist states none */
    bool no_group_is_enough;      /* the work is beyond the heaviest group */
    double running_hours, starts; /* over the life so far, all meters; NaN */
    const char *last_reading;     /* date, NULL */
    double days_since_reading;    /* from it to the plan's date, negative where it lies after; 0 without one of them */
    double swap_gap_days;         /* between the last reading of a meter and the start of the next: on no meter */
    double unlogged_years;        /* in service before the log begins: on no meter; 0 where the log holds it all */
    const char *group_source, *time_source, *life_source; /* citations, NULL */
    bk_mark group_mark, life_mark;
    size_t n_intervals;
    const bk_hoist_interval *intervals; /* inspection, then service */
} bk_hoist_duty;

/* Texts of out belong to the arena or the tables.  BK_E_TABLE, BK_E_ROW, BK_E_TABLE_FORM, BK_E_RULE;
 * BK_E_VALUE with a message at the reading when the log contradicts itself, BK_E_WORD for a way of recording that the
 * table does not know. */
bk_status bk_hoist_duty_of(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, bk_arena *arena,
                           bk_working *working, bk_hoist_duty *out, bk_errors *errors);

BK_C_END

#endif
