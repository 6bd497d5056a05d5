/* checks: demand against limit, with rule, citation and working.  Computes; prints nothing.
 *
 * A new rule is one file in src/checks/, one line in the list of checks.c, one cited test, one example.
 * A load over a rating is a finding, never an error; what has no limit is a finding too.
 */
#ifndef BECKET_CHECKS_H
#define BECKET_CHECKS_H

#include <becket/envelope.h>
#include <becket/hoist.h>
#include <becket/runway.h>
#include <becket/working.h>

BK_C_BEGIN

typedef struct bk_finding {
    const char *check;       /* "line.wll": a stable name, for programs */
    const char *item;        /* "nw", "load.nw", "bay", "main": what in the plan */
    const char *part;        /* "chain-en818-4/10"; NULL */
    const char *what;        /* "working load limit" */
    double demand, limit;    /* SI; limit NaN: none known, not checked */
    bk_dim dim;
    double utilisation;      /* demand / limit (or the reverse where small is bad); NaN when not checked;
                                INFINITY where the rule refuses outright */
    bool checked, passes;    /* passes is false when not checked */
    bool setting;            /* a class, setting or rating-plate figure against its bound, the same whatever hangs:
                                governs only when it fails */
    const char *rule;        /* rule set: "en" */
    const char *source;      /* citation of the limit, never NULL */
    bk_mark mark;            /* how sure the least sure number in it is */
    double nominal_demand;   /* demand as drawn, without tolerances */
    const char *where;       /* the case, position or state that governs; NULL: as drawn */
    const char *note;        /* assumption, or what would pass; NULL */
    const bk_working *working; /* NULL when none was recorded */
} bk_finding;

typedef struct bk_findings {
    bk_arena *arena;
    bool record;             /* make workings */
    bk_finding *at;
    size_t n, capacity;
    const char **assumptions;/* sentences for the report, each once */
    size_t n_assumptions, assumptions_capacity;
    bool failed;             /* memory ran out */
} bk_findings;

/* Working for the next finding: NULL when not recording. */
bk_working *bk_findings_working(bk_findings *findings);
/* Adds a copy; fills utilisation, checked and passes from demand and limit when utilisation is 0. */
void bk_findings_add(bk_findings *findings, bk_finding finding);
/* Adds a sentence once. */
void bk_findings_assume(bk_findings *findings, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Everything a check may look at; all read-only. */
typedef struct bk_check_input {
    const bk_plan *plan;
    bk_tables *tables;
    const bk_rules *rules;
    const bk_hang *hang;              /* nominal; NULL when the plan has no rig */
    const bk_envelope *envelope;      /* NULL when there is no rig */
    const bk_hoist_forces *hoists;    /* (n_hoists) */
    const bk_hoist_duty *duties;      /* (n_hoists) */
    const bk_runway_result *runways;  /* (n_runways) */
    /* Above a hoist's hook the building sees more than the static pull (n_lines).  dynamic multiplies the worst static
     * pull; stalled multiplies the pull as drawn, since a limiter's force does not grow with the load.  1 and 0 below the
     * hook.  Of a hoist's own line they are those of what it hangs from. */
    const double *line_dynamic, *line_stalled;
} bk_check_input;

/* All checks of the list, in order.  BK_E_NOMEM, BK_E_RULE, BK_E_TABLE. */
bk_status bk_checks_run(const bk_check_input *in, bk_findings *out, bk_errors *errors);

BK_C_END

#endif
