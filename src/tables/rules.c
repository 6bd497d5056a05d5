/* rules: a rule set's file, and the values and bands that checks ask it for.
 *
 *   values:  dotted.name: {value: 60 deg, source: ..., mark: ..., note: ...}   or just  dotted.name: 60 deg
 *   bands:   dotted.name: {of: angle, source: ..., mark: ..., rows: [[0 deg, 45 deg, 1], ...]}
 *            dotted.name: {of: number, source: ..., points: [[1, 0.5], [2, 0.65], ...]}
 *
 * A value is a number with its unit, or words.  A bound of `~` is open; a factor of `~` means not
 * allowed.  Source and mark are the file's where a rule states none.  A set that extends another takes
 * over what it does not state itself.
 */
#include "shelf.h"

#include <string.h>

#define N(array) (sizeof(array) / sizeof *(array))

static const char *const rules_keys[] = {"becket_rules", "title",   "source",     "edition", "clause", "mark",
                                         "note",         "extends", "above_hook", "values",  "bands"};

/* Source and mark of a rule, the file's where it has none of its own. */
static void read_citation(bk_form *form, const bk_yaml *node, const bk_table *table, const char **source,
                          bk_mark *mark)
{
    const bk_yaml *own_source = bk_yaml_get(node, "source"), *own_mark = bk_yaml_get(node, "mark");
    const char *text = own_source ? bk_form_text(form, own_source, "source") : NULL;
    *source = text ? text : bk_form_citation(form, table);
    *mark = table->mark;
    if (own_mark) bk_form_mark(form, own_mark, mark);
}

/* ---- values ------------------------------------------------------------------------------------ */

static void read_value(bk_form *form, const bk_yaml *node, bk_rule *rule)
{
    const char *text = bk_form_text(form, node, rule->name);
    if (!text) {
        if (node->kind == BK_YAML_SCALAR)
            bk_form_fail(form, node->place, BK_E_VALUE, "%s has no value", rule->name);
        return;
    }
    rule->text = text;
    if (!strchr("+-.0123456789", rule->text[0])) return; /* words */
    double number;
    const char *rest = bk_number_read(rule->text, &number);
    if (!rest) {
        bk_form_fail(form, node->place, BK_E_NUMBER, "%s: not a number: \"%s\"", rule->name, rule->text);
        return;
    }
    rest += strspn(rest, " ");
    double factor = 1, offset = 0;
    char why[200];
    if (*rest) {
        const bk_status status = bk_unit_read(rest, &factor, &offset, &rule->dim, why, sizeof why);
        if (status != BK_OK) {
            bk_form_fail(form, node->place, status, "%s: %s", rule->name, why);
            return;
        }
    }
    rule->value = number * factor + offset;
    if (rule->value < 0)
        bk_form_fail(form, node->place, BK_E_VALUE, "%s: want no value below zero, found \"%s\"", rule->name, rule->text);
}

static void read_values(bk_form *form, const bk_yaml *root, bk_rules *rules)
{
    static const char *const known[] = {"value", "source", "mark", "note"};
    const bk_yaml *values = bk_yaml_get(root, "values");
    if (values && values->kind != BK_YAML_MAP) {
        bk_form_fail(form, values->place, BK_E_KIND, "values: want a map of names and values");
        values = NULL;
    }
    const size_t own = values ? values->n : 0;
    bk_rule *at = BK_NEW(form->arena, bk_rule, own + 1);
    if (!at) {
        bk_form_fail(form, root->place, BK_E_NOMEM, "out of memory");
        return;
    }
    for (size_t i = 0; i < own; i++) {
        const bk_yaml *node = values->pairs[i].value, *value = node;
        at[i] = (bk_rule){.name = values->pairs[i].key, .text = "", .value = NAN, .dim = BK_DIM_NONE};
        if (node->kind == BK_YAML_MAP) {
            bk_form_keys(form, node, known, N(known), "");
            value = bk_yaml_get(node, "value");
            if (!value) bk_form_fail(form, node->place, BK_E_MISSING_KEY, "%s: want value: ...", at[i].name);
        }
        read_citation(form, node, rules->table, &at[i].source, &at[i].mark);
        at[i].place = value ? value->place : node->place;
        if (value) read_value(form, value, &at[i]);
    }
    rules->at = at;
    rules->n = own;
}

/* ---- bands ------------------------------------------------------------------------------------- */

static bool read_bound(bk_form *form, const bk_yaml *node, const bk_bands *bands, double open, double *value)
{
    if (bk_form_is_null(node)) {
        *value = open;
        if (!bands->points) return true;
    }
    const char *text = bk_form_text(form, node, bands->name);
    char why[200] = "a point of a curve wants a value";
    bk_value read;
    const bk_status status = text ? bk_quantity_read(text, bands->dim, &read, why, sizeof why) : BK_E_VALUE;
    if (status != BK_OK) {
        bk_form_fail(form, node->place, status, "%s: %s", bands->name, why);
        return false;
    }
    *value = read.v;
    return true;
}

static bool read_factor(bk_form *form, const bk_yaml *node, const bk_bands *bands, double *factor)
{
    *factor = NAN;
    if (bk_form_is_null(node) && !bands->points) return true;
    const char *text = bk_form_text(form, node, bands->name);
    char why[200] = "a point of a curve wants a factor";
    bk_value read;
    const bk_status status = text ? bk_quantity_read(text, BK_DIM_NONE, &read, why, sizeof why) : BK_E_VALUE;
    if (status != BK_OK || read.v < 0) {
        bk_form_fail(form, node->place, status == BK_OK ? BK_E_VALUE : status, "%s: %s", bands->name,
                     status == BK_OK ? "a factor is not below zero" : why);
        return false;
    }
    *factor = read.v;
    return true;
}

static void read_band_rows(bk_form *form, const bk_yaml *rows, bk_bands *bands)
{
    const size_t n_cells = bands->points ? 2 : 3;
    bk_band *at = BK_NEW(form->arena, bk_band, rows->n);
    if (!at) {
        bk_form_fail(form, rows->place, BK_E_NOMEM, "out of memory");
        return;
    }
    for (size_t i = 0; i < rows->n; i++) {
        const bk_yaml *row = rows->items[i];
        if (row->kind != BK_YAML_LIST || row->n != n_cells) {
            bk_form_fail(form, row->place, BK_E_TABLE_FORM, "%s: want %s", bands->name,
                         bands->points ? "points [value, factor]" : "rows [from, to, factor]");
            return;
        }
        if (!read_bound(form, row->items[0], bands, -INFINITY, &at[i].from)) return;
        at[i].to = at[i].from;
        if (!bands->points && !read_bound(form, row->items[1], bands, INFINITY, &at[i].to)) return;
        if (!read_factor(form, row->items[n_cells - 1], bands, &at[i].factor)) return;
        const bool rises = bands->points || at[i].from < at[i].to;
        if (!rises || (i > 0 && at[i].from < at[i - 1].to * (1 - 1e-12) - 1e-12)) {
            bk_form_fail(form, row->place, BK_E_VALUE, "%s: want rising %s that do not overlap", bands->name,
                         bands->points ? "points" : "bands");
            return;
        }
    }
    bands->at = at;
    bands->n = rows->n;
}

static void read_band(bk_form *form, const bk_yaml_pair *pair, const bk_table *table, bk_bands *bands)
{
    static const char *const known[] = {"of", "source", "mark", "note", "rows", "points"};
    static const struct {
        const char *word;
        bk_dim dim;
    } of[] = {{"angle", BK_DIM_ANGLE},   {"number", BK_DIM_NONE}, {"temperature", BK_DIM_TEMPERATURE},
              {"length", BK_DIM_LENGTH}, {"speed", BK_DIM_SPEED}, {"force", BK_DIM_FORCE}};
    const bk_yaml *node = pair->value;
    bands->name = pair->key;
    if (node->kind != BK_YAML_MAP) {
        bk_form_fail(form, node->place, BK_E_KIND,
                     "%s: want {of: angle, source: ..., rows: [[from, to, factor], ...]}", pair->key);
        return;
    }
    bk_form_keys(form, node, known, N(known), "");
    read_citation(form, node, table, &bands->source, &bands->mark);
    const bk_yaml *kind = bk_yaml_get(node, "of"), *rows = bk_yaml_get(node, "rows"),
                  *points = bk_yaml_get(node, "points");
    size_t k = 0;
    while (k < N(of) && !(kind && kind->kind == BK_YAML_SCALAR && strcmp(kind->text, of[k].word) == 0))
        k++;
    if (k == N(of)) {
        bk_form_fail(form, kind ? kind->place : node->place, kind ? BK_E_WORD : BK_E_MISSING_KEY,
                     "%s: want of: angle, number, temperature, length, speed or force", pair->key);
        return;
    }
    bands->dim = of[k].dim;
    bands->place = kind->place;
    bands->points = points;
    if (points) rows = points;
    if (!rows || (points && bk_yaml_get(node, "rows")) || rows->kind != BK_YAML_LIST || rows->n == 0) {
        bk_form_fail(form, node->place, BK_E_TABLE_FORM, "%s: want rows or points, one of the two",
                     pair->key);
        return;
    }
    read_band_rows(form, rows, bands);
}

bk_status bk_rules_read(bk_form *form, const bk_yaml *root, const bk_rules *base, bk_rules *rules)
{
    bk_table *head = BK_NEW(form->arena, bk_table, 1);
    if (!head) {
        bk_form_fail(form, root->place, BK_E_NOMEM, "out of memory");
        return form->status;
    }
    *head = *rules->table;
    rules->table = head;
    bk_form_head(form, root, "becket_rules", rules_keys, N(rules_keys), head);
    if (root->kind != BK_YAML_MAP) return form->status;
    read_values(form, root, rules);

    const bk_yaml *bands = bk_yaml_get(root, "bands");
    if (bands && bands->kind != BK_YAML_MAP) {
        bk_form_fail(form, bands->place, BK_E_KIND, "bands: want a map of names and bands");
        bands = NULL;
    }
    const size_t own = bands ? bands->n : 0;
    bk_bands *at = BK_NEW(form->arena, bk_bands, own + 1);
    if (!at) {
        bk_form_fail(form, root->place, BK_E_NOMEM, "out of memory");
        return form->status;
    }
    for (size_t i = 0; i < own; i++)
        read_band(form, &bands->pairs[i], head, &at[i]);
    rules->bands = at;
    rules->n_bands = own;
    if (base) bk_rules_join(form, rules, base);
    return form->status;
}

/* A rule that replaces another is of its kind: what reads it would take no other. */
static void same_kind(bk_form *form, const bk_rule *own, const bk_rule *other)
{
    if (!*own->text || (own->dim == other->dim && isnan(own->value) == isnan(other->value))) return;
    bk_form_fail(form, own->place, BK_E_UNIT, "%s: want another %s in place of \"%s\", found \"%s\"", own->name,
                 isnan(other->value) ? "word" : bk_dim_name(other->dim), other->text, own->text);
}

static void same_kind_of_bands(bk_form *form, const bk_bands *own, const bk_bands *other)
{
    if (own->n == 0 || own->dim == other->dim) return;
    bk_form_fail(form, own->place, BK_E_UNIT, "%s: want bands by %s, as the set that has them already", own->name,
                 bk_dim_name(other->dim));
}

void bk_rules_join(bk_form *form, bk_rules *rules, const bk_rules *more)
{
    bk_rule *at = BK_NEW(form->arena, bk_rule, rules->n + more->n + 1);
    bk_bands *bands = BK_NEW(form->arena, bk_bands, rules->n_bands + more->n_bands + 1);
    if (!at || !bands) {
        bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
        return;
    }
    size_t n = 0, n_bands = 0;
    for (; n < rules->n; n++)
        at[n] = rules->at[n];
    for (; n_bands < rules->n_bands; n_bands++)
        bands[n_bands] = rules->bands[n_bands];
    for (size_t i = 0; i < more->n; i++) {
        const bk_rule *own = bk_rules_find(rules, more->at[i].name);
        if (own) same_kind(form, own, &more->at[i]);
        else at[n++] = more->at[i];
    }
    for (size_t i = 0; i < more->n_bands; i++) {
        const bk_bands *own = bk_rules_bands(rules, more->bands[i].name);
        if (own) same_kind_of_bands(form, own, &more->bands[i]);
        else bands[n_bands++] = more->bands[i];
    }
    rules->at = at;
    rules->n = n;
    rules->bands = bands;
    rules->n_bands = n_bands;
}

/* ---- asking ------------------------------------------------------------------------------------ */

const bk_rule *bk_rules_find(const bk_rules *rules, const char *name)
{
    for (size_t i = 0; i < rules->n; i++)
        if (strcmp(rules->at[i].name, name) == 0) return &rules->at[i];
    return NULL;
}

const bk_rule *bk_rules_number(const bk_rules *rules, const char *name, bk_dim dim)
{
    const bk_rule *rule = bk_rules_find(rules, name);
    return rule && isfinite(rule->value) && rule->dim == dim ? rule : NULL;
}

const bk_bands *bk_rules_bands(const bk_rules *rules, const char *name)
{
    for (size_t i = 0; i < rules->n_bands; i++)
        if (strcmp(rules->bands[i].name, name) == 0) return &rules->bands[i];
    return NULL;
}

/* A solved angle of 45 degrees is rarely 45 to the last bit: what is this near to a bound is on it. */
static double slack(double bound)
{
    return isfinite(bound) ? 1e-9 * fmax(1, fabs(bound)) : 0;
}

static double on_curve(const bk_bands *bands, double x)
{
    const bk_band *first = &bands->at[0], *last = &bands->at[bands->n - 1];
    if (x < first->from - slack(first->from)) return NAN;
    if (x > last->from + slack(last->from)) return bands->dim == BK_DIM_NONE ? last->factor : (double)NAN;
    double least = INFINITY;
    for (size_t i = 0; i < bands->n; i++) /* on a point: the lower side of a jump */
        if (fabs(x - bands->at[i].from) <= slack(bands->at[i].from)) least = fmin(least, bands->at[i].factor);
    if (isfinite(least)) return least;
    size_t i = 1;
    while (x > bands->at[i].from)
        i++;
    const bk_band *a = &bands->at[i - 1], *b = &bands->at[i];
    return a->factor + (b->factor - a->factor) * (x - a->from) / (b->from - a->from);
}

double bk_bands_factor(const bk_bands *bands, double x)
{
    if (isnan(x) || bands->n == 0) return NAN;
    if (bands->points) return on_curve(bands, x);
    double least = INFINITY;
    for (size_t i = 0; i < bands->n; i++) {
        const bk_band *band = &bands->at[i];
        if (x < band->from - slack(band->from) || x > band->to + slack(band->to)) continue;
        if (isnan(band->factor)) return NAN;
        least = fmin(least, band->factor);
    }
    return isfinite(least) ? least : (double)NAN;
}
