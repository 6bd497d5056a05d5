/* advice: what would pass, the largest load, how to level it.  Each answer is confirmed by solving again.
 */
#ifndef BECKET_ADVICE_H
#define BECKET_ADVICE_H

#include <becket/assessment.h>

BK_C_BEGIN

/* For a finding that fails: the smallest row of the same table with which it passes. */
typedef struct bk_would_pass {
    size_t finding;      /* index in findings */
    const char *ref;     /* "chain-en818-4/13"; NULL: no row of the table is enough */
    double utilisation;  /* of the same check with that row, solved again */
} bk_would_pass;
/* The largest load: every body's mass times `factor`, the most with which no check of the rig fails. */
typedef struct bk_largest_load {
    double factor;       /* < 1: overloaded as it stands; NaN: not even the empty rig passes */
    double mass_kg;      /* of all bodies together, at that factor */
    const char *check, *item; /* what stops it going further; NULL: nothing does */
    const char *anyway_check, *anyway_item; /* what fails whatever the load weighs; NULL: nothing does */
} bk_largest_load;

/* *out (n) belongs to the assessment's arena: one entry for each failing check that rests on a table row. */
bk_status bk_advise_would_pass(bk_assessment *assessment, const bk_options *options, const bk_would_pass **out, size_t *n,
                               bk_errors *errors);
bk_status bk_advise_largest_load(bk_assessment *assessment, const bk_options *options, bk_largest_load *out,
                                 bk_errors *errors);

/* Ways to hang the heaviest body level, or to share it evenly between its lines. */
typedef struct bk_level {
    bool possible;
    const char *why_not;        /* sentence; NULL */
    size_t body;
    double tilt_before_rad, tilt_after_rad;
    double *hook_step_m;        /* anchors: raised by so much          (n_anchors) */
    double *length_step_m;      /* lines: longer by so much            (n_lines)   */
    double *tension_before_N, *tension_after_N; /*                     (n_lines)   */
} bk_level;
/* By raising and lowering hooks, at least two. */
bk_status bk_advise_level_by_hooks(bk_assessment *assessment, bk_level *out, bk_errors *errors);
/* By the lengths of the lines on the body: in whole steps of step_m (links; 0: any length), each by at most travel_m
 * (turnbuckles; 0: any).  even: equal tensions instead of a level body. */
bk_status bk_advise_level_by_lengths(bk_assessment *assessment, double step_m, double travel_m, bool even, bk_level *out,
                                     bk_errors *errors);

/* How far the centre of gravity of a body may shift towards each of n directions in plan (world, from +x) before the
 * load topples or a line goes slack (m; INFINITY when not within twice the body's size). */
typedef struct bk_margin {
    size_t body;
    size_t n;
    double *towards_rad, *to_slack_m, *to_topple_m; /* (n) */
    size_t *slack_line;                             /* (n) BK_NONE */
} bk_margin;
bk_status bk_advise_margin(bk_assessment *assessment, size_t body, size_t n, bk_margin *out, bk_errors *errors);

/* Several hooks: share of each through a lift as one runs ahead of the others (its anchor raised by step after step). */
typedef struct bk_lift_share {
    size_t n_steps, n_anchors;
    double *ahead_m;            /* (n_steps) */
    double *force_N;            /* (n_steps * n_anchors) */
    double *tilt_rad;           /* (n_steps) of the body that tilts most */
    size_t n_good;              /* steps up to the first that does not hang stably */
} bk_lift_share;
bk_status bk_advise_running_ahead(bk_assessment *assessment, size_t anchor, double most_m, size_t n_steps,
                                  bk_lift_share *out, bk_errors *errors);

/* Turning a load over from lying to standing between two hooks with upright lines: shares of the weight over the angle,
 * by moments about each pick.  The picks are the first two points of the body that lines pull on; b goes up.
 * n is 0 when the body has no two such points. */
typedef struct bk_turning {
    size_t n;
    const char *pick[2];
    double *angle_rad, *share_a, *share_b; /* (n); NaN where both picks stand plumb over each other */
} bk_turning;
bk_status bk_advise_turning(bk_assessment *assessment, size_t body, size_t n, bk_turning *out, bk_errors *errors);

/* What one tolerance alone does, at one of its ends. */
typedef struct bk_effect {
    const char *say;       /* "centre of gravity of load 100 mm towards +x" */
    bool hangs;            /* false: it does not hang stably so */
    size_t gains, loses;   /* lines that gain and lose most; BK_NONE */
    double gain_N, loss_N; /* >= 0, <= 0 */
    double worth;          /* greater of the two; INFINITY when it does not hang */
    size_t order;          /* in the plan's order */
} bk_effect;
/* Two for each tolerance, what matters most first.  *out (n) belongs to the assessment's arena. */
bk_status bk_advise_effects(bk_assessment *assessment, const bk_effect **out, size_t *n, bk_errors *errors);

/* What a load check adds when something fails, or when it is asked. */
typedef struct bk_advice {
    const bk_would_pass *would_pass;
    size_t n_would_pass;
    const bk_effect *effects;
    size_t n_effects;
    bool all_effects;      /* print every one, not the first few */
    bool has_largest;
    bk_largest_load largest;
} bk_advice;

BK_C_END

#endif
