/* csv: the checks for a spreadsheet, RFC 4180, SI units as in the JSON.  A text that a spreadsheet would take for
 * a formula is given a leading apostrophe. */
#include "layout.h"

#include <string.h>

static void field(bk_text *t, const char *s, bool last)
{
    if (!s) s = "";
    const bool formula = *s && strchr("=+-@", *s);
    bk_text_put(t, "\"%s", formula ? "'" : "");
    for (; *s; s++) bk_text_put(t, *s == '"' ? "\"\"" : "%c", *s);
    bk_text_put(t, last ? "\"\r\n" : "\",");
}

static void number(bk_text *t, double x)
{
    char buf[40];
    bk_text_put(t, "%s,", isfinite(x) ? bk_plain_print(buf, sizeof buf, x, 17) : "");
}

char *bk_report_csv(const bk_assessment *a)
{
    bk_text t;
    if (!bk_text_open_raw(&t)) return NULL;
    bk_text_put(&t, "check,item,part,what,demand,limit,unit,utilisation,passes,rule,source,mark,case,note\r\n");
    for (size_t i = 0; i < a->findings->n; i++) {
        const bk_finding *f = &a->findings->at[i];
        field(&t, f->check, false);
        field(&t, f->item, false);
        field(&t, f->part, false);
        field(&t, f->what, false);
        number(&t, bk_dim_symbol_value(f->demand, f->dim));
        number(&t, bk_dim_symbol_value(f->limit, f->dim));
        field(&t, bk_dim_symbol(f->dim), false);
        number(&t, f->utilisation);
        field(&t, !f->checked ? "not checked" : f->passes ? "yes" : "no", false);
        field(&t, f->rule, false);
        field(&t, f->source, false);
        field(&t, bk_mark_text(f->mark), false);
        field(&t, f->where, false);
        field(&t, f->note, true);
    }
    return bk_text_take(&t);
}
