/* hoist lookup: values of the rule set by a name made of its parts, values of a table by row and column. */
#include "hoist_lookup.h"

#include <stdio.h>

static bk_status found(const bk_plan *plan, const bk_hoist *hoist, const bk_rule *rule, const char *what, const char *name,
                       const bk_rule **out, bk_errors *errors)
{
    *out = rule;
    if (rule)
        return BK_OK;
    return bk_fail(errors, hoist->place, BK_E_RULE, "rule set %s has no %s %s, which hoist %s needs", plan->rules->name, what,
                   name, hoist->name);
}

bk_status bk_hoist_rule(const bk_plan *plan, const bk_hoist *hoist, bk_dim dim, const bk_rule **out, bk_errors *errors,
                        const char *format, ...)
{
    char name[96];
    va_list args;
    va_start(args, format);
    vsnprintf(name, sizeof name, format, args);
    va_end(args);
    return found(plan, hoist, bk_rules_number(plan->rules, name, dim), bk_dim_name(dim), name, out, errors);
}

bk_status bk_hoist_word(const bk_plan *plan, const bk_hoist *hoist, const char *name, const bk_rule **out, bk_errors *errors)
{
    return found(plan, hoist, bk_rules_find(plan->rules, name), "word", name, out, errors);
}

bk_status bk_hoist_number(const bk_row *row, const char *column, bk_dim dim, double *out, bk_errors *errors)
{
    *out = NAN;
    const bk_yaml *cell = bk_yaml_get(row->map, column);
    if (!cell)
        return BK_OK;
    bk_value value;
    char why[160];
    if (cell->kind != BK_YAML_SCALAR || bk_quantity_read(cell->text, dim, &value, why, sizeof why))
        return bk_fail(errors, cell->place, BK_E_TABLE_FORM, "%s.%s: want a %s", row->ref, column,
                       bk_dim_name(dim));
    *out = value.v;
    return BK_OK;
}

const char *bk_hoist_text(const bk_row *row, const char *column)
{
    const bk_yaml *cell = bk_yaml_get(row->map, column);
    return cell && cell->kind == BK_YAML_SCALAR && cell->text[0] ? cell->text : NULL;
}

bk_mark bk_hoist_less_sure(bk_mark a, bk_mark b)
{
    return a > b ? a : b; /* bk_mark is listed from sure to unsure */
}
