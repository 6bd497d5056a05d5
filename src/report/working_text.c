/* working_text: how a figure came about, step by step: symbol, formula, numbers put in, result, source.
 * The steps are those the arithmetic itself left behind; nothing is worked out again here.
 */
#include "json_print.h"
#include "layout.h"

#include <stdlib.h>
#include <string.h>

static bool asked(const char *item, const char *name)
{
    return !item || (name && strcmp(item, name) == 0);
}

static bool wants(const char *item, const bk_finding *f)
{
    return asked(item, f->item) || asked(item, f->check);
}

static const char *nearest_name(const bk_assessment *a, const char *item)
{
    const size_t most = 2 * a->findings->n + a->plan->n_hoists;
    const char **names = calloc(most + 1, sizeof *names);
    if (!names) return NULL;
    size_t n = 0;
    for (size_t i = 0; i < a->findings->n; i++) {
        names[n++] = a->findings->at[i].item;
        names[n++] = a->findings->at[i].check;
    }
    for (size_t i = 0; i < a->plan->n_hoists; i++) names[n++] = a->plan->hoists[i].name;
    const char *nearest = bk_nearest(item, names, n);
    free(names);
    return nearest;
}

static void steps(bk_text *t, const bk_assessment *a, const bk_working *w)
{
    bk_cells c = {.system = a->plan->units};
    int width = 0;
    for (size_t i = 0; i < w->n; i++)
        if (bk_text_width(w->steps[i].symbol) > width) width = bk_text_width(w->steps[i].symbol);
    for (size_t i = 0; i < w->n; i++) {
        const bk_step *s = &w->steps[i];
        const char *value = bk_cell(&c, s->value, s->dim, 5);
        if (!s->formula) {
            bk_text_put(t, "    %-*s = %s", width, s->symbol, value);
            bk_text_put(t, "   [%s]\n", s->source);
            continue;
        }
        const char *numbers = bk_working_numbers(w, i, a->plan->units);
        bk_text_put(t, "    %-*s = %s\n", width, s->symbol, s->formula);
        if (!numbers) t->failed = true;
        else if (strcmp(numbers, s->formula) != 0) bk_text_put(t, "    %*s = %s\n", width, "", numbers);
        bk_text_put(t, "    %*s = %s   [%s]\n", width, "", value, s->source);
    }
}

static void finding(bk_text *t, const bk_assessment *a, const bk_finding *f)
{
    bk_cells c = {.system = a->plan->units};
    char heading[400];
    snprintf(heading, sizeof heading, "%.60s  %.120s%s%.120s: %.90s", f->check, f->item, f->part ? ", " : "",
             f->part ? f->part : "", f->what);
    bk_text_heading(t, heading);
    if (f->working && !f->working->failed) steps(t, a, f->working);
    if (f->where) bk_text_wrap(t, 4, 6, f->where);
    if (f->note) bk_text_wrap(t, 4, 6, f->note);
    if (!f->checked) {
        bk_text_put(t, "    sees %s; no limit is known: NOT CHECKED\n", bk_cell_figure(&c, f->demand, f->dim));
        return;
    }
    bk_text_put(t, "    %s against %s: %s used, %s\n", bk_cell_figure(&c, f->demand, f->dim), bk_cell_figure(&c, f->limit, f->dim),
                bk_cell_used(&c, f->utilisation), f->passes ? "passes" : "FAILS");
    bk_text_put(t, "    limit from %s (%s)%s\n", f->source, bk_mark_text(f->mark),
                f->mark == BK_MARK_MEMORY ? ": not confirmed against the standard, check before use" : "");
}

char *bk_report_working(const bk_assessment *a, const char *item, bk_style style, bool *known, const char **nearest)
{
    bk_text t;
    *known = true;
    *nearest = NULL;
    if (!bk_text_open(&t, style)) return NULL;
    *known = !item;
    bk_text_put(&t, "WORKING  %s\n", a->plan->title && *a->plan->title ? a->plan->title : "(no title)");
    for (size_t h = 0; h < a->plan->n_hoists; h++) {
        const bk_working *w = a->hoist_workings[h];
        if (!w || w->n == 0 || !asked(item, a->plan->hoists[h].name)) continue;
        *known = true;
        char heading[300];
        snprintf(heading, sizeof heading, "hoist  %.200s: forces and duty", a->plan->hoists[h].name);
        bk_text_heading(&t, heading);
        if (!w->failed) steps(&t, a, w);
    }
    for (size_t i = 0; i < a->findings->n; i++) {
        if (!wants(item, &a->findings->at[i])) continue;
        *known = true;
        finding(&t, a, &a->findings->at[i]);
    }
    char *text = bk_text_take(&t);
    if (!text) *known = true;
    if (*known) return text;
    free(text);
    *nearest = nearest_name(a, item);
    return NULL;
}

/* ---- json -------------------------------------------------------------------------------------- */

static json_t *number(double si, bk_dim dim)
{
    const double x = bk_dim_symbol_value(si, dim);
    return isfinite(x) ? json_real(x == 0 ? 0 : x) : json_null();
}

static json_t *text_of(const char *s)
{
    return s ? json_string(s) : json_null();
}

static json_t *steps_json(const bk_working *w, bool *ok)
{
    json_t *all = json_array();
    for (size_t i = 0; w && i < w->n; i++) {
        const bk_step *s = &w->steps[i];
        const char *numbers = s->formula ? bk_working_numbers(w, i, BK_SI) : NULL;
        if (s->formula && !numbers) *ok = false;
        json_t *o = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "symbol", text_of(s->symbol), "formula", text_of(s->formula),
                              "numbers", text_of(numbers), "value", number(s->value, s->dim), "unit",
                              text_of(bk_dim_symbol(s->dim)), "source", text_of(s->source));
        if (json_array_append_new(all, o) != 0) *ok = false;
    }
    return all;
}

char *bk_report_working_json(const bk_assessment *a, const char *item, bool *known, const char **nearest)
{
    bool ok = true;
    *known = !item;
    *nearest = NULL;
    json_t *all = json_array();
    for (size_t h = 0; h < a->plan->n_hoists; h++) {
        if (!a->hoist_workings[h] || !asked(item, a->plan->hoists[h].name)) continue;
        *known = true;
        json_t *o = json_pack("{s:o, s:o, s:o}", "figure", json_string("hoist"), "item", text_of(a->plan->hoists[h].name),
                              "steps", steps_json(a->hoist_workings[h], &ok));
        if (json_array_append_new(all, o) != 0) ok = false;
    }
    for (size_t i = 0; i < a->findings->n; i++) {
        const bk_finding *f = &a->findings->at[i];
        if (!wants(item, f)) continue;
        *known = true;
        json_t *o = json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:b, s:o, s:o, s:o, s:o}", "figure", text_of(f->check),
                              "item", text_of(f->item), "part", text_of(f->part), "what", text_of(f->what), "demand",
                              number(f->demand, f->dim), "limit", number(f->limit, f->dim), "unit",
                              text_of(bk_dim_symbol(f->dim)), "passes", f->passes, "source", text_of(f->source), "mark",
                              text_of(bk_mark_text(f->mark)), "case", text_of(f->where), "steps",
                              steps_json(f->working, &ok));
        if (json_array_append_new(all, o) != 0) ok = false;
    }
    if (!*known) {
        json_decref(all);
        *nearest = nearest_name(a, item);
        return NULL;
    }
    json_t *whole = json_pack("{s:i, s:o, s:o}", "becket", 1, "title", text_of(a->plan->title), "workings", all);
    if (ok) return bk_json_print(whole);
    json_decref(whole);
    return NULL;
}
