/* assessment: a plan and its answer in one struct: what users of the library call.
 *
 *     bk_assessment *a = NULL;
 *     bk_errors *errors = bk_errors_new();
 *     bk_status status = bk_assess("plan.yaml", &(bk_options){.table_dirs = dirs, .n_table_dirs = 1}, &a, errors);
 *     ... a->verdict, a->findings->at[i] ...
 *     bk_assessment_free(a);
 *     bk_errors_free(errors);
 *
 * Knows nothing of terminals.
 */
#ifndef BECKET_ASSESSMENT_H
#define BECKET_ASSESSMENT_H

#include <becket/checks.h>

BK_C_BEGIN

typedef enum bk_verdict { BK_VERDICT_PASS, BK_VERDICT_FAIL, BK_VERDICT_INCOMPLETE } bk_verdict;
const char *bk_verdict_text(bk_verdict verdict); /* "pass", "fail", "incomplete" */

typedef struct bk_options {
    const char *const *table_dirs;  /* user directories; the plan's own folder is added after them */
    size_t n_table_dirs;
    const char *config_dir;         /* user's own tables, after the plan's folder; NULL */
    const char *const *shipped_dirs;/* shipped tables */
    size_t n_shipped_dirs;
    bool record;                    /* keep workings, for explain and --working */
    bool no_envelope;               /* leave tolerances out (named choice; the report says so) */
} bk_options;

typedef struct bk_assessment {
    bk_arena *arena;
    bk_tables *tables;
    const bk_plan *plan;
    bk_tables *own_tables;          /* the same, where they are to be freed with the assessment; else NULL */
    bk_plan *own_plan;
    bool has_rig;
    bk_hang *hang;                  /* NULL without a rig */
    bk_envelope *envelope;          /* NULL without a rig */
    bk_hoist_forces *hoists;        /* (n_hoists) */
    bk_hoist_duty *duties;          /* (n_hoists) */
    bk_working **hoist_workings;    /* (n_hoists), NULL entries when not recording */
    bk_runway_result *runways;      /* (n_runways) */
    bk_findings *findings;
    size_t governing;               /* finding of greatest utilisation, settings that pass left out; BK_NONE when none is checked */
    bk_verdict verdict;
    size_t n_checked, n_memory, n_demo; /* findings with a limit, and of those from memory and invented ones */
    const char *const *cautions;    /* sentences that belong on every sheet */
    size_t n_cautions;
} bk_assessment;

/* Reads and assesses.  BK_OK also when checks fail (see verdict).  BK_E_UNHELD, BK_E_UNSTABLE: *out
 * holds plan and hang, no findings; errors has the sentence.  All others: *out is NULL. */
bk_status bk_assess(const char *path, const bk_options *options, bk_assessment **out, bk_errors *errors);
/* The same for a plan already in hand, which the assessment does not own; tables are those it was read with. */
bk_status bk_assess_plan(const bk_plan *plan, bk_tables *tables, const bk_options *options, bk_assessment **out,
                         bk_errors *errors);
void bk_assessment_free(bk_assessment *assessment);

BK_C_END

#endif
