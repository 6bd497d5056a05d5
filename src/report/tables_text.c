/* tables_text: tables, their rows and rule sets, for a terminal.
 *
 * A table is printed as it is written, its units in the heading; asked for a system of units, a column in
 * another one's units is converted.  A table too wide for the terminal goes on below itself, with the names
 * of its rows again.
 */
#include "layout.h"

#include <stdlib.h>
#include <string.h>

#define DIGITS          4
#define COLUMNS_AT_ONCE (BK_TABLE_COLUMNS_MAX - 3) /* beside the row, its mark and its source */

/* A text as written, "3.15 t", or its figure and its unit. */
typedef struct figure {
    double value; /* NaN: a text */
    char number[40];
    const char *unit;
} figure;

static figure figure_of(const char *text)
{
    figure f = {.value = NAN, .unit = ""};
    const char *end = bk_number_read(text, &f.value);
    if (!end || (*end && *end != ' ') || (size_t)(end - text) >= sizeof f.number) {
        f.value = NAN;
        return f;
    }
    memcpy(f.number, text, (size_t)(end - text));
    f.unit = end + (*end == ' ');
    return f;
}

/* Four digits in a unit, without trailing zeros, as tables are written. */
static void convert(figure *f, const char *unit)
{
    double from = 1, from_zero = 0, to = 1, to_zero = 0;
    bk_dim dim;
    bk_unit_read(f->unit, &from, &from_zero, &dim, NULL, 0);
    bk_unit_read(unit, &to, &to_zero, &dim, NULL, 0);
    const double si = f->value * from + from_zero, value = (si - to_zero) / to;
    const int before = value == 0 ? 1 : (int)floor(log10(fabs(value))) + 1;
    bk_number_print(f->number, sizeof f->number, si, unit,
                    before >= DIGITS   ? 0
                    : before < -DIGITS ? 2 * DIGITS
                                       : DIGITS - before);
    if (strchr(f->number, '.')) {
        size_t n = strlen(f->number);
        while (f->number[n - 1] == '0')
            f->number[--n] = '\0';
        if (f->number[n - 1] == '.') f->number[n - 1] = '\0';
    }
    f->unit = unit;
}

/* ---- columns ----------------------------------------------------------------------------------- */

typedef struct column {
    const char *name, *about;
    const char *unit; /* of every figure, "" where they have none or differ */
    const char *to;   /* unit to convert to; NULL: as written */
    bool same;        /* one text in every row */
    bool text;        /* not figures */
} column;

/* What a key means that a part, a hoist or a section may carry; "" for others. */
static const char *meaning(const char *key)
{
    static const struct {
        const char *key, *about;
    } known[] = {
#define X(name, field, dim, about) {#name, about},
        BK_PART_NUMBERS(X) BK_HOIST_NUMBERS(X) BK_SECTION_NUMBERS(X)
#undef X
    };
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (strcmp(known[i].key, key) == 0) return known[i].about;
    return "";
}

static const char *text_of(const bk_row *row, const char *key)
{
    const bk_yaml *value = bk_yaml_get(row->map, key);
    return value && value->kind == BK_YAML_SCALAR ? value->text : NULL;
}

/* The unit for a column in a system: one for all its figures, so that the least of them is at least one. */
static const char *unit_for(const bk_table *t, const column *c, bk_system system)
{
    if (bk_unit_of_system(c->unit, system)) return NULL;
    double factor, zero, least = INFINITY;
    bk_dim dim;
    if (bk_unit_read(c->unit, &factor, &zero, &dim, NULL, 0) != BK_OK || dim == BK_DIM_NONE) return NULL;
    for (size_t i = 0; i < t->n_rows; i++) {
        const char *text = text_of(&t->rows[i], c->name);
        const double si = text ? figure_of(text).value * factor + zero : (double)NAN;
        if (fabs(si) > 0 && fabs(si) < least) least = fabs(si);
    }
    return isfinite(least) ? bk_quantity_unit(least, dim, system, DIGITS) : NULL;
}

static void look_at(const bk_table *t, column *c, const bk_system *units)
{
    const char *first = NULL;
    c->same = t->n_rows > 1;
    c->unit = NULL;
    for (size_t i = 0; i < t->n_rows; i++) {
        const char *text = text_of(&t->rows[i], c->name);
        c->same = c->same && text && (!first || strcmp(first, text) == 0);
        if (!text) continue;
        if (!first) first = text;
        const figure f = figure_of(text);
        c->text = c->text || isnan(f.value);
        c->unit = !c->unit || strcmp(c->unit, f.unit) == 0 ? f.unit : "";
    }
    if (!c->unit || c->text) c->unit = "";
    c->to = units && *c->unit ? unit_for(t, c, *units) : NULL;
}

/* The text of a cell: without its unit where the heading has it. */
static const char *cell_of(const bk_row *row, const column *c, figure *f)
{
    const char *text = text_of(row, c->name);
    if (!text) return "";
    *f = figure_of(text);
    if (c->to && !isnan(f->value)) convert(f, c->to);
    return *c->unit && !isnan(f->value) ? f->number : text;
}

static bool known(const column *columns, size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(columns[i].name, name) == 0) return true;
    return false;
}

/* The columns of the table, then what else its rows say. */
static column *columns_of(const bk_table *t, const bk_system *units, size_t *n)
{
    size_t most = t->n_columns;
    for (size_t i = 0; i < t->n_rows; i++)
        most += t->rows[i].map->n;
    column *columns = calloc(most + 1, sizeof *columns);
    *n = 0;
    if (!columns) return NULL;
    for (size_t i = 0; i < t->n_columns; i++) {
        const bk_column *own = &t->columns[i];
        columns[(*n)++] = (column){.name = own->name, .about = *own->note ? own->note : meaning(own->name)};
    }
    for (size_t i = 0; i < t->n_rows; i++)
        for (size_t k = 0; k < t->rows[i].map->n; k++) {
            const char *key = t->rows[i].map->pairs[k].key;
            if (!known(columns, *n, key)) columns[(*n)++] = (column){.name = key, .about = meaning(key)};
        }
    for (size_t i = 0; i < *n; i++)
        look_at(t, &columns[i], units);
    return columns;
}

/* ---- a table ----------------------------------------------------------------------------------- */

static const char *mark_of(bk_mark mark)
{
    return mark == BK_MARK_MEMORY ? "memory: not confirmed against the source, check before use"
                                  : bk_mark_text(mark);
}

/* A line that begins with what it says, broken below its text. */
static void put_said(bk_text *out, int indent, const char *what, const char *text)
{
    if (!*text) return;
    const size_t size = strlen(what) + strlen(text) + 12;
    char *line = malloc(size);
    if (!line) {
        out->failed = true;
        return;
    }
    snprintf(line, size, "%-8s%s", what, text);
    bk_text_wrap(out, indent, indent + 8, line);
    free(line);
}

static void put_title(bk_text *out, const char *name, const char *title)
{
    char start[200];
    snprintf(start, sizeof start, "%s: ", name);
    put_said(out, 0, start, title);
}

/* What a table says of itself. */
static void put_head(bk_text *out, const bk_table *t)
{
    char source[1000];
    snprintf(source, sizeof source, "%s%s%s%s%s", t->source, *t->edition ? ", " : "", t->edition,
             *t->clause ? ", " : "", t->clause);
    put_title(out, t->name, t->title);
    put_said(out, 2, "source", source);
    put_said(out, 2, "mark", mark_of(t->mark));
    put_said(out, 2, "note", t->note);
    put_said(out, 2, "file", t->path);
    put_said(out, 2, "sha256", t->digest);
    if (!t->shipped) bk_text_put(out, "  this is a table of the user's own\n");
}

/* The columns that differ from row to row, and the rows' marks and sources where those do. */
static void put_rows(bk_text *out, const bk_table *t, const column *const *shown, size_t n)
{
    bool marks = false, sources = false;
    for (size_t r = 0; r < t->n_rows; r++) {
        marks = marks || t->rows[r].mark != t->rows[0].mark;
        sources = sources || strcmp(t->rows[r].source, t->rows[0].source) != 0;
    }
    char align[BK_TABLE_COLUMNS_MAX + 1] = "~";
    const char *names[BK_TABLE_COLUMNS_MAX] = {"row"}, *units[BK_TABLE_COLUMNS_MAX] = {""},
               *cells[BK_TABLE_COLUMNS_MAX];
    bool any_unit = false;
    for (size_t i = 0; i < n; i++) {
        align[1 + i] = shown[i]->text ? '~' : '>';
        names[1 + i] = shown[i]->name;
        units[1 + i] = shown[i]->to ? shown[i]->to : shown[i]->unit;
        any_unit = any_unit || *units[1 + i];
    }
    size_t last = 1 + n;
    const size_t mark = marks ? last++ : 0, source = sources ? last++ : 0;
    if (mark) align[mark] = '~', names[mark] = "mark", units[mark] = "";
    if (source) align[source] = '~', names[source] = "source", units[source] = "";
    align[last] = '\0';

    bk_grid grid;
    bk_grid_open(&grid, out, align);
    bk_grid_row(&grid, names);
    if (any_unit) bk_grid_row(&grid, units);
    for (size_t r = 0; r < t->n_rows; r++) {
        figure figures[BK_TABLE_COLUMNS_MAX];
        cells[0] = t->rows[r].name;
        for (size_t i = 0; i < n; i++)
            cells[1 + i] = cell_of(&t->rows[r], shown[i], &figures[i]);
        if (mark) cells[mark] = bk_mark_text(t->rows[r].mark);
        if (source) cells[source] = t->rows[r].source;
        bk_grid_row(&grid, cells);
    }
    bk_text_put(out, "\n");
    bk_grid_close(&grid);
}

static void put_meanings(bk_text *out, const column *columns, size_t n)
{
    bk_grid grid;
    bool opened = false;
    for (size_t i = 0; i < n; i++) {
        if (!*columns[i].about) continue;
        if (!opened) {
            bk_text_put(out, "\n");
            bk_grid_open(&grid, out, "<~");
            bk_grid_row(&grid, (const char *const[]){"column", "what it is"});
            opened = true;
        }
        bk_grid_row(&grid, (const char *const[]){columns[i].name, columns[i].about});
    }
    if (opened) bk_grid_close(&grid);
}

static void put_same(bk_text *out, const bk_table *t, const column *columns, size_t n)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&bytes, &size);
    bool any = false;
    for (size_t i = 0; stream && i < n; i++) {
        if (!columns[i].same) continue;
        figure f;
        const char *cell = cell_of(&t->rows[0], &columns[i], &f),
                   *unit = columns[i].to ? columns[i].to : columns[i].unit;
        fprintf(stream, "%s%s %s%s%s", any ? ", " : "in every row: ", columns[i].name, cell, *unit ? " " : "",
                unit);
        any = true;
    }
    if (!stream || fclose(stream) != 0 || !bytes) out->failed = true;
    if (any && !out->failed) {
        bk_text_put(out, "\n");
        bk_text_wrap(out, 2, 4, bytes);
    }
    free(bytes);
}

static void put_converted(bk_text *out, const column *columns, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (columns[i].to) {
            bk_text_put(out, "\n");
            bk_text_wrap(out, 2, 2,
                         "Converted and rounded to four digits: without --units the figures are as written.");
            return;
        }
}

char *bk_report_table(const bk_table *table, const bk_system *units, bk_style style)
{
    bk_text out;
    if (!bk_text_open(&out, style)) return NULL;
    size_t n, n_shown = 0;
    column *columns = columns_of(table, units, &n);
    const column **shown = calloc(n + 1, sizeof *shown);
    if (columns && shown) {
        for (size_t i = 0; i < n; i++)
            if (!columns[i].same) shown[n_shown++] = &columns[i];
        put_head(&out, table);
        put_same(&out, table, columns, n);
        for (size_t from = 0; from == 0 || from < n_shown; from += COLUMNS_AT_ONCE)
            put_rows(&out, table, shown + from,
                     n_shown - from < COLUMNS_AT_ONCE ? n_shown - from : COLUMNS_AT_ONCE);
        put_meanings(&out, columns, n);
        put_converted(&out, columns, n);
    } else {
        out.failed = true;
    }
    free(shown);
    free(columns);
    return bk_text_take(&out);
}

char *bk_report_row(const bk_row *row, const bk_system *units, bk_style style)
{
    bk_text out;
    if (!bk_text_open(&out, style)) return NULL;
    bk_table alone = *row->table; /* so that a unit suits this row, not the whole table */
    alone.rows = row;
    alone.n_rows = 1;
    size_t n;
    column *columns = columns_of(&alone, units, &n);
    put_title(&out, row->ref, row->table->title);
    put_said(&out, 2, "source", row->source);
    put_said(&out, 2, "mark", mark_of(row->mark));
    bk_text_put(&out, "\n");
    bk_grid grid;
    bk_grid_open(&grid, &out, "<~~");
    bk_grid_row(&grid, (const char *const[]){"key", "value", "what it is"});
    for (size_t i = 0; columns && i < n; i++) {
        figure f;
        char value[300];
        const char *cell = cell_of(row, &columns[i], &f),
                   *unit = columns[i].to ? columns[i].to : columns[i].unit;
        if (!*cell) continue;
        snprintf(value, sizeof value, "%s%s%s", cell, *unit ? " " : "", unit);
        bk_grid_row(&grid, (const char *const[]){columns[i].name, value, columns[i].about});
    }
    bk_grid_close(&grid);
    if (columns)
        put_converted(&out, columns, n);
    else
        out.failed = true;
    free(columns);
    return bk_text_take(&out);
}

char *bk_report_table_sound(const bk_table *table, bk_style style)
{
    bk_text out;
    if (!bk_text_open(&out, style)) return NULL;
    put_head(&out, table);
    if (table->n_rows > 0)
        bk_text_put(&out, "\n%zu rows, no mistake found\n", table->n_rows);
    else
        bk_text_put(&out, "\nno mistake found\n");
    return bk_text_take(&out);
}

/* ---- rule sets --------------------------------------------------------------------------------- */

/* A rule as written, or converted where its unit is of the other system. */
static const char *rule_text(const bk_rule *rule, const bk_system *units, char *buf, size_t size)
{
    const figure f = figure_of(rule->text);
    if (!units || isnan(f.value) || !*f.unit || rule->dim == BK_DIM_NONE || bk_unit_of_system(f.unit, *units))
        return rule->text;
    return bk_quantity_print(buf, size, rule->value, rule->dim, *units, DIGITS);
}

static void print_range(char *buf, size_t size, const bk_bands *bands, const bk_band *step, bk_cells *cells)
{
    const char *from = bk_cell(cells, step->from, bands->dim, 3),
               *to = bk_cell(cells, step->to, bands->dim, 3);
    if (bands->points)
        snprintf(buf, size, "at %s", from);
    else if (isfinite(step->from) && isfinite(step->to))
        snprintf(buf, size, "%s to %s", from, to);
    else if (isfinite(step->from))
        snprintf(buf, size, "from %s", from);
    else
        snprintf(buf, size, "up to %s", to);
}

char *bk_report_rules(const bk_rules *rules, const bk_system *units, bk_style style)
{
    bk_text out;
    if (!bk_text_open(&out, style)) return NULL;
    put_head(&out, rules->table);
    bk_grid grid;
    bk_grid_open(&grid, &out, "~~~~");
    bk_grid_row(&grid, (const char *const[]){"rule", "value", "source", "mark"});
    for (size_t i = 0; i < rules->n; i++) {
        const bk_rule *rule = &rules->at[i];
        char buf[64];
        bk_grid_row(&grid, (const char *const[]){rule->name, rule_text(rule, units, buf, sizeof buf),
                                                 rule->source, bk_mark_text(rule->mark)});
    }
    bk_text_put(&out, "\n");
    bk_grid_close(&grid);

    bk_cells cells = {.system = units ? *units : BK_SI};
    bk_grid_open(&grid, &out, "~<>");
    bk_grid_row(&grid, (const char *const[]){"factor", "for", "is"});
    for (size_t i = 0; i < rules->n_bands; i++) {
        const bk_bands *b = &rules->bands[i];
        char cited[1000];
        for (size_t k = 0; k < b->n; k++) {
            char range[140];
            print_range(range, sizeof range, b, &b->at[k], &cells);
            bk_grid_row(&grid, (const char *const[]){k ? "" : b->name, range,
                                                     isnan(b->at[k].factor) ? "not allowed"
                                                                            : bk_cell(&cells, b->at[k].factor,
                                                                                      BK_DIM_NONE, DIGITS)});
        }
        snprintf(cited, sizeof cited, "%s (%s)", b->source, bk_mark_text(b->mark));
        bk_grid_note(&grid, 6, cited);
    }
    bk_text_put(&out, "\n");
    bk_grid_close(&grid);
    bk_text_wrap(&out, 2, 2, "Between two points of a curve (at ...) the factor lies on the straight line.");
    return bk_text_take(&out);
}

/* ---- the list ---------------------------------------------------------------------------------- */

static void put_listed(bk_grid *grid, const bk_table *t, size_t n)
{
    char rows[24], title[1000];
    snprintf(rows, sizeof rows, "%zu", n);
    snprintf(title, sizeof title, "%s%s", t->title, t->shipped ? "" : " (the user's own)");
    bk_grid_row(grid, (const char *const[]){t->name, rows, bk_mark_text(t->mark), title});
}

char *bk_report_table_list(const bk_table *const *tables, size_t n, const bk_rules *const *rules,
                           size_t n_rules, bk_style style)
{
    bk_text out;
    if (!bk_text_open(&out, style)) return NULL;
    bk_grid grid;
    bk_grid_open(&grid, &out, "~>~~");
    bk_grid_row(&grid, (const char *const[]){"table", "rows", "mark", "title"});
    for (size_t i = 0; i < n; i++)
        put_listed(&grid, tables[i], tables[i]->n_rows);
    for (size_t i = 0; i < n_rules; i++)
        put_listed(&grid, rules[i]->table, rules[i]->n + rules[i]->n_bands);
    bk_grid_close(&grid);
    return bk_text_take(&out);
}
