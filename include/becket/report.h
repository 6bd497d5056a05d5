/* report: an assessment as text, JSON, CSV or working.  Formats only; computes nothing.
 * Every function returns text that the caller frees with free(), NULL when memory is out.
 */
#ifndef BECKET_REPORT_H
#define BECKET_REPORT_H

#include <becket/advice.h>
#include <becket/angle.h>

BK_C_BEGIN

typedef struct bk_style {
    int columns;  /* width to fit; 0: 100 */
    bool colour;  /* terminal colours, never the only carrier of a meaning */
} bk_style;

/* What every report says in the same words.  sign: "(*)", "" where a figure needs none; legend: what the sign means. */
const char *bk_verdict_word(bk_verdict verdict);     /* "PASS" */
const char *bk_verdict_sentence(bk_verdict verdict); /* "every check made here passes" */
const char *bk_known_by_text(bk_known_by by);
const char *bk_mark_sign(bk_mark mark);
const char *bk_mark_legend(bk_mark mark);
/* The part's row, with the check's own words where they are not plainly its working load limit.  Arena text or the
 * finding's; NULL when memory is out. */
const char *bk_finding_subject(const bk_finding *finding, bk_arena *arena);
/* A utilisation as it is shown in whole percent: what is over its limit never rounds to 100. */
double bk_shown_utilisation(double utilisation);
/* True where one body hangs below a single hook: how far the hook stands from plumb over its centre of gravity as drawn,
 * and above it as it hangs. */
bool bk_hangs_plumb(const bk_assessment *assessment, size_t *hook, double *off_m, double *above_m);
/* The first hoist whose figures are invented for demonstration; NULL for none. */
const char *bk_invented_hoist(const bk_plan *plan);
/* What a runway's supports see when its hoists stall, as a sentence; "" where that is no more.  NULL: out of memory. */
const char *bk_stalled_sentence(const bk_assessment *assessment, size_t runway);
/* The findings that were checked (*n of them), the hardest used first; to be freed with free().  NULL: out of memory. */
const bk_finding **bk_findings_hardest_first(const bk_findings *findings, size_t *n);

/* advice: NULL for none */
char *bk_report_text(const bk_assessment *assessment, const bk_advice *advice, bk_style style);
/* `becket level`; lengths, hooks, margin: NULL where not asked. */
char *bk_report_level(const bk_assessment *assessment, const bk_level *lengths, const bk_level *hooks,
                      const bk_margin *margin, bool even, bk_style style);
/* `becket hooks`; shares: one for each anchor running ahead; turning: NULL. */
char *bk_report_hooks(const bk_assessment *assessment, const bk_lift_share *shares, const bk_turning *turning, bk_style style);
/* advice: the cases and the largest load that were asked for; NULL for none */
char *bk_report_json(const bk_assessment *assessment, const bk_advice *advice);
char *bk_report_csv(const bk_assessment *assessment);
char *bk_report_duty(const bk_assessment *assessment, bk_style style);
/* Does every check pass that the duty report shows: hoists, their runways, measured gear? */
bool bk_duty_passes(const bk_assessment *assessment);
/* item: name of a line, anchor, check, ...; NULL: every figure.  NULL text with *known false when
 * nothing has that name (then *nearest is the nearest name or NULL). */
char *bk_report_working(const bk_assessment *assessment, const char *item, bk_style style, bool *known,
                        const char **nearest);
char *bk_report_working_json(const bk_assessment *assessment, const char *item, bool *known,
                             const char **nearest);

/* Tables for a terminal.  units: NULL as they are written; else columns in the other system's units are converted.
 * _sound: what a table says of itself, for one that was looked over and has no mistakes. */
char *bk_report_table_list(const bk_table *const *tables, size_t n, const bk_rules *const *rules, size_t n_rules, bk_style style);
char *bk_report_table(const bk_table *table, const bk_system *units, bk_style style);
char *bk_report_table_sound(const bk_table *table, bk_style style);
char *bk_report_row(const bk_row *row, const bk_system *units, bk_style style);
char *bk_report_rules(const bk_rules *rules, const bk_system *units, bk_style style);

/* JSON Schema of a plan; manual page becket-plan(5) in roff.  Both from the reader's own list of keys. */
char *bk_report_schema(void);
char *bk_report_keys_manual(const char *version);

/* What `becket angle` was asked.  load_N is 1 where load_given is false: pulls print as shares of it. */
typedef struct bk_leg_question {
    double load_N;
    bool load_given;
    int legs, carrying;      /* carrying: how many of the legs count */
    double from_vertical_rad;/* NaN: no angle was asked, the table only */
    double wll_N;            /* of one leg; NaN */
    double max_from_vertical_rad, warn_from_vertical_rad; /* of the rule set */
    const char *rules;
    bk_system units;
} bk_leg_question;
char *bk_report_angle(const bk_leg_question *question, bk_style style);
/* False where the sling is over its limit, or the angle flatter than allowed. */
bool bk_leg_answer_good(const bk_leg_question *question);
/* A page that walks an apprentice through it. */
char *bk_report_angle_lesson(const bk_leg_question *question, bk_style style);

BK_C_END

#endif
