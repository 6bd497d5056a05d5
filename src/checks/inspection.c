/* inspection: measured gear against the discard limits, keep or discard.
 *
 * Editions and countries disagree on purpose kept apart in the table: every limit in force is its own finding, so the
 * strictest decides; a limit of an old edition is named in a note and decides nothing.
 *
 *     inspect:
 *       hook of the main hoist:
 *         what: hook
 *         throat: {new: 30 mm, measured: 32 mm}
 *         twist: 4 deg
 */
#include "list.h"

#include <string.h>

#define LIMITS "discard-limits"
#define LINKS  "discard-chain-min-size"

static const char *cell(const bk_row *row, const char *key)
{
    const bk_yaml *value = bk_yaml_get(row->map, key);
    return value ? value->text : "";
}

static double cell_number(const bk_row *row, const char *key, bk_dim dim)
{
    const char *text = cell(row, key);
    bk_value value;
    char why[8];
    return *text && bk_quantity_read(text, dim, &value, why, sizeof why) == BK_OK ? value.v : (double)NAN;
}

/* One measurement as the plan states it. */
typedef struct measurement {
    const char *key;
    bool sized;              /* new and measured sizes */
    double fresh, measured;  /* m */
    double amount;           /* count, or angle (rad) */
    bool is_angle;
} measurement;

static bk_status read_quantity(const bk_yaml *node, bk_dim dim, double *out, bk_errors *errors)
{
    bk_value value;
    char why[300];
    if (!node || node->kind != BK_YAML_SCALAR)
        return bk_fail(errors, node ? node->place : (bk_place){0}, BK_E_KIND, "want one %s", bk_dim_name(dim));
    const bk_status status = bk_quantity_read(node->text, dim, &value, why, sizeof why);
    if (status != BK_OK) return bk_fail(errors, node->place, status, "%s", why);
    *out = value.v;
    return BK_OK;
}

static bk_status read_measurement(const bk_yaml_pair *pair, measurement *m, bk_errors *errors)
{
    *m = (measurement){.key = pair->key};
    if (pair->value->kind != BK_YAML_MAP) {
        bk_value value;
        char why[300];
        const bool scalar = pair->value->kind == BK_YAML_SCALAR;
        m->is_angle = scalar && bk_quantity_read(pair->value->text, BK_DIM_ANGLE, &value, why, sizeof why) == BK_OK;
        if (!m->is_angle && !(scalar && bk_quantity_read(pair->value->text, BK_DIM_NONE, &value, why, sizeof why) == BK_OK))
            return bk_fail(errors, pair->value->place, BK_E_KIND,
                           "%s: want {new: 30 mm, measured: 32 mm} for a size, a number for a count, or an angle, such as 4 deg",
                           pair->key);
        if (value.v < 0) /* a twist to the other side is a twist */
            return bk_fail(errors, pair->value->place, BK_E_VALUE, "%s: want 0 or more, found \"%s\"", pair->key,
                           pair->value->text);
        m->amount = value.v;
        return BK_OK;
    }
    m->sized = true;
    for (size_t i = 0; i < pair->value->n; i++) {
        const bk_yaml_pair *p = &pair->value->pairs[i];
        double *slot = strcmp(p->key, "new") == 0 ? &m->fresh : strcmp(p->key, "measured") == 0 ? &m->measured : NULL;
        if (!slot) return bk_fail(errors, p->place, BK_E_UNKNOWN_KEY, "unknown key %s: want new and measured", p->key);
        const bk_status status = read_quantity(p->value, BK_DIM_LENGTH, slot, errors);
        if (status != BK_OK) return status;
    }
    if (!(m->fresh > 0) || !(m->measured > 0))
        return bk_fail(errors, pair->place, BK_E_MISSING_KEY, "%s: want new and measured sizes, both over 0", pair->key);
    return BK_OK;
}

/* The share or length by which m has grown or worn; wear counts as positive. */
static double change_of(const measurement *m, bool growth)
{
    return growth ? m->measured - m->fresh : m->fresh - m->measured;
}

static bool grows(const char *key)
{
    return strcmp(key, "throat") == 0 || strncmp(key, "length", 6) == 0 || strncmp(key, "pitch", 5) == 0 ||
           strcmp(key, "bend") == 0 || strcmp(key, "deformation") == 0;
}

static void judge(const bk_check_input *in, bk_findings *out, const bk_inspection *gear, const bk_row *row,
                  const measurement *m)
{
    const char *check = bk_arena_printf(out->arena, "inspect.%s", m->key);
    const double share = cell_number(row, "share", BK_DIM_NONE), length = cell_number(row, "length", BK_DIM_LENGTH),
                 count = cell_number(row, "count", BK_DIM_NONE), angle = cell_number(row, "angle", BK_DIM_ANGLE);
    bk_working *w = bk_findings_working(out);
    bk_finding f = {.check = check ? check : "inspect", .item = gear->name, .part = row->ref, .what = cell(row, "measure"),
                    .rule = in->rules->name, .source = row->source, .mark = row->mark, .working = w, .dim = BK_DIM_NONE};
    if (m->sized) {
        BK_GIVEN(w, size_new, m->fresh, LENGTH, "size when new, in the plan");
        BK_GIVEN(w, change, change_of(m, grows(m->key)), LENGTH, "change measured");
        BK_CALC(w, change_share, change / size_new, NONE, "change over the size when new");
        f.demand = change_share;
        f.limit = share;
        if (isfinite(length) && !(share <= length / size_new)) {
            BK_CALC(w, length_share, length / size_new, NONE, "greatest change whatever the share");
            f.limit = length_share;
        }
    } else {
        f.dim = m->is_angle ? BK_DIM_ANGLE : BK_DIM_NONE;
        f.demand = m->amount;
        f.limit = m->is_angle ? angle : isfinite(count) ? count : share;
    }
    f.nominal_demand = f.demand;
    /* a limit is the first figure that condemns a count of wires, and the last that is kept of a size */
    const bool condemned = isfinite(count) ? f.demand >= f.limit : f.demand > f.limit;
    if (condemned && isfinite(count)) /* set here, it does not pass */
        f.utilisation = f.demand > f.limit ? f.demand / f.limit : 1;
    const char *verdict = condemned ? "DISCARD" : "keep";
    f.note = verdict;
    if (!isfinite(f.limit)) {
        f.note = isfinite(angle)                         ? "this limit is an angle, such as 4 deg"
                 : isfinite(count)                       ? "this limit is a count, such as 3"
                 : isfinite(share) || isfinite(length) ? "this limit is of a size: {new: 30 mm, measured: 32 mm}"
                                                         : "the table states no figure here: a qualified person decides";
    } else if (m->sized) {
        char by[40], found[40], most[40];
        bk_quantity_print(by, sizeof by, change_of(m, grows(m->key)), BK_DIM_LENGTH, in->plan->units, BK_TOLD_DIGITS);
        f.note = bk_arena_printf(out->arena, "%s: changed by %s, %s %% of the size when new; %s %% is allowed", verdict, by,
                                 bk_plain_print(found, sizeof found, 100 * f.demand, BK_TOLD_DIGITS),
                                 bk_plain_print(most, sizeof most, 100 * f.limit, BK_TOLD_DIGITS));
        if (!f.note) out->failed = true;
    }
    bk_findings_add(out, f);
}

/* Chain links by the table of least sizes, where the nominal size is a row of it. */
static bk_status least_link(const bk_check_input *in, bk_findings *out, const bk_inspection *gear, const measurement *m,
                            bk_errors *errors)
{
    const bk_table *table;
    const bk_status status = bk_tables_table(in->tables, LINKS, gear->place, &table, errors);
    if (status != BK_OK) return status;
    for (size_t i = 0; i < table->n_rows; i++) {
        const bk_row *row = &table->rows[i];
        if (fabs(cell_number(row, "diameter", BK_DIM_LENGTH) - m->fresh) > 0.01 * m->fresh) continue;
        const double least = cell_number(row, "least", BK_DIM_LENGTH);
        const bool kept = m->measured >= least;
        bk_findings_add(out, (bk_finding){.check = "inspect.diameter", .item = gear->name, .part = row->ref,
                                          .what = "least size of a link at any point", .demand = m->measured,
                                          .nominal_demand = m->measured, .limit = least, .dim = BK_DIM_LENGTH,
                                          .utilisation = least / m->measured, .passes = kept,
                                          .note = kept ? "keep" : "DISCARD", .rule = in->rules->name,
                                          .source = row->source, .mark = row->mark});
    }
    return BK_OK;
}

static bk_status inspect(const bk_check_input *in, bk_findings *out, const bk_inspection *gear, const bk_table *limits,
                         bk_errors *errors)
{
    const char **known = BK_NEW(out->arena, const char *, limits->n_rows);
    if (!known) return bk_fail(errors, gear->place, BK_E_NOMEM, "out of memory");
    size_t n_known = 0;
    for (size_t r = 0; r < limits->n_rows; r++)
        if (strcmp(cell(&limits->rows[r], "gear"), gear->what) == 0) known[n_known++] = cell(&limits->rows[r], "key");
    if (n_known == 0) {
        for (size_t r = 0; r < limits->n_rows; r++) known[r] = cell(&limits->rows[r], "gear");
        const char *near = bk_nearest(gear->what, known, limits->n_rows);
        return bk_fail(errors, gear->place, BK_E_WORD, "no discard limit is known for %s%s%s", gear->what,
                       near ? "; nearest: " : "", near ? near : "");
    }
    bk_status worst = BK_OK;
    if (gear->map->n < 2)
        return bk_fail(errors, gear->place, BK_E_MISSING_KEY, "%s: nothing is measured on it; a %s is judged by its %s", gear->name,
                       gear->what, known[0]);
    for (size_t i = 0; i < gear->map->n; i++) {
        const bk_yaml_pair *pair = &gear->map->pairs[i];
        if (strcmp(pair->key, "what") == 0) continue;
        bool met = false;
        for (size_t k = 0; k < n_known; k++)
            if (strcmp(known[k], pair->key) == 0) met = true;
        if (!met) {
            const char *near = bk_nearest(pair->key, known, n_known);
            worst = bk_fail(errors, pair->place, BK_E_UNKNOWN_KEY, "nothing is measured as %s on a %s%s%s", pair->key,
                            gear->what, near ? "; nearest: " : "", near ? near : "");
            continue;
        }
        measurement m;
        const bk_status status = read_measurement(pair, &m, errors);
        if (status != BK_OK) {
            worst = status;
            continue;
        }
        for (size_t r = 0; r < limits->n_rows; r++) {
            const bk_row *row = &limits->rows[r];
            if (strcmp(cell(row, "gear"), gear->what) != 0 || strcmp(cell(row, "key"), pair->key) != 0) continue;
            if (strcmp(cell(row, "rules"), "us-old") == 0) {
                bk_findings_assume(out, "%s: an old edition (%s) allows up to %s; it decides nothing here.", gear->name,
                                   row->source, *cell(row, "share") ? cell(row, "share") : cell(row, "angle"));
                continue;
            }
            judge(in, out, gear, row, &m);
        }
        if (strcmp(gear->what, "chain sling") == 0 && strcmp(pair->key, "diameter") == 0 && m.sized) {
            const bk_status links = least_link(in, out, gear, &m, errors);
            if (links != BK_OK) worst = links;
        }
    }
    return worst;
}

bk_status bk_check_inspection(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    if (in->plan->n_inspections == 0) return BK_OK;
    const bk_table *limits;
    bk_status worst = bk_tables_table(in->tables, LIMITS, in->plan->inspections[0].place, &limits, errors);
    if (worst != BK_OK) return worst;
    for (size_t i = 0; i < in->plan->n_inspections; i++) {
        const bk_status status = inspect(in, out, &in->plan->inspections[i], limits, errors);
        if (status != BK_OK) worst = status;
    }
    return worst;
}
