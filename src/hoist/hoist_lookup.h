/* Values of the rule set and of the duty tables that this room needs, by one code path. */
#ifndef BK_HOIST_LOOKUP_H
#define BK_HOIST_LOOKUP_H

#include <becket/hoist.h>

/* The rule of that name, a number of that dimension; BK_E_RULE at the hoist when the set has none. */
bk_status bk_hoist_rule(const bk_plan *plan, const bk_hoist *hoist, bk_dim dim, const bk_rule **out, bk_errors *errors,
                        const char *format, ...) __attribute__((format(printf, 6, 7)));
/* A rule that is a word. */
bk_status bk_hoist_word(const bk_plan *plan, const bk_hoist *hoist, const char *name, const bk_rule **out, bk_errors *errors);
/* A number of a row, NaN when the row leaves it out; BK_E_TABLE_FORM when it does not read. */
bk_status bk_hoist_number(const bk_row *row, const char *column, bk_dim dim, double *out, bk_errors *errors);
/* A text of a row, NULL when the row leaves it out. */
const char *bk_hoist_text(const bk_row *row, const char *column);
/* The less sure of two marks. */
bk_mark bk_hoist_less_sure(bk_mark a, bk_mark b);

#endif
