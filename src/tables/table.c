/* table: a file's tree into rows.
 *
 * A row leaves this room as a map of keys and texts that carry their unit ("3.15 t"), each with the place
 * of its cell, so that a row of a table and the same keys inline in a plan are read by the same code.
 * Here the form is checked: keys, columns, lengths, names.  Whether the figures are possible is the
 * business of figures.c.  A mistake leaves its cell out; the table as a whole is then refused.
 */
#include "shelf.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef enum column_kind {
    COLUMN_NAME,
    COLUMN_MARK,
    COLUMN_SOURCE,
    COLUMN_TEXT,
    COLUMN_NUMBER,
    COLUMN_UNIT
} column_kind;
typedef struct table_column {
    const char *name, *unit;
    column_kind kind;
    bool bad; /* its unit was refused: its cells are looked at no further */
} table_column;

static const char *const table_keys[] = {"becket_table", "title",   "source",  "edition", "clause",
                                         "mark",         "note",    "extends", "columns", "notes",
                                         "all",          "formula", "rows"};
#define N(array) (sizeof(array) / sizeof *(array))
/* Far above any real table; keeps the comparison of columns with keys short. */
#define COLUMNS_MAX 100

static bool is_key_name(const char *text)
{
    const char *const letters = "_abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    return *text && !strchr("_0123456789", *text) && text[strspn(text, letters)] == 0;
}

static column_kind kind_of(const char *word)
{
    static const struct {
        const char *word;
        column_kind kind;
    } words[] = {{"name", COLUMN_NAME},
                 {"mark", COLUMN_MARK},
                 {"source", COLUMN_SOURCE},
                 {"text", COLUMN_TEXT},
                 {"number", COLUMN_NUMBER}};
    for (size_t i = 0; i < N(words); i++)
        if (strcmp(word, words[i].word) == 0) return words[i].kind;
    return COLUMN_UNIT;
}

/* A column's unit is one there is, and of the dimension of its key where that means something. */
static bool check_unit(bk_form *form, const char *key, const char *word, column_kind kind, bk_place place)
{
    char why[200], one[64];
    double factor, offset;
    bk_dim dim, want;
    bk_value value;
    const bool means = bk_key_dimension(key, &want);
    bk_status status = BK_OK;
    snprintf(one, sizeof one, "1 %s", kind == COLUMN_UNIT ? word : "");
    if (means)
        status = kind == COLUMN_TEXT ? BK_E_UNIT : bk_quantity_read(one, want, &value, why, sizeof why);
    else if (kind == COLUMN_UNIT)
        status = bk_unit_read(word, &factor, &offset, &dim, why, sizeof why);
    if (status == BK_OK) return true;
    if (kind == COLUMN_UNIT && status != BK_E_UNIT) {
        bk_form_fail(form, place, status, "column %s: %s", key, why);
        return false;
    }
    const bool pure = want == BK_DIM_NONE;
    bk_form_fail(form, place, status, "column %s: want a %s%s, found %s", key, pure ? "number" : "unit of ",
                 pure ? "" : bk_dim_name(want), word);
    return false;
}

/* The columns, in order, exactly one of them the rows' names; NULL where the rows cannot be read by them. */
static table_column *read_columns(bk_form *form, const bk_yaml *root)
{
    const bk_yaml *node = bk_yaml_get(root, "columns");
    if (!node) {
        bk_form_fail(form, root->place, BK_E_MISSING_KEY, "want columns: {size: name, wll: t, ...}");
        return NULL;
    }
    if (node->kind != BK_YAML_MAP || node->n == 0) {
        bk_form_fail(form, node->place, BK_E_KIND,
                     "columns: want a map of names and units, {size: name, wll: t, ...}");
        return NULL;
    }
    if (node->n > COLUMNS_MAX) {
        bk_form_fail(form, node->place, BK_E_TOO_LARGE, "columns: want at most %d", COLUMNS_MAX);
        return NULL;
    }
    table_column *columns = BK_NEW(form->arena, table_column, node->n);
    if (!columns) {
        bk_form_fail(form, node->place, BK_E_NOMEM, "out of memory");
        return NULL;
    }
    bool good = true;
    size_t n_of[COLUMN_UNIT + 1] = {0};
    for (size_t i = 0; i < node->n; i++) {
        const bk_yaml_pair *pair = &node->pairs[i];
        const char *word = bk_form_text(form, pair->value, pair->key);
        if (!word) {
            if (pair->value->kind == BK_YAML_SCALAR)
                bk_form_fail(form, pair->value->place, BK_E_NO_UNIT,
                             "column %s: want a unit, or one of name, text, number, mark, source", pair->key);
            columns[i] = (table_column){.name = pair->key, .unit = "", .kind = COLUMN_TEXT, .bad = true};
            continue;
        }
        columns[i] = (table_column){.name = pair->key, .unit = "", .kind = kind_of(word)};
        n_of[columns[i].kind]++;
        if (!is_key_name(pair->key)) {
            bk_form_fail(form, pair->place, BK_E_TABLE_FORM, "column \"%s\": want letters, digits and _ only",
                         pair->key);
            columns[i].bad = true;
        }
        if (columns[i].kind == COLUMN_UNIT) columns[i].unit = word;
        if (columns[i].kind >= COLUMN_TEXT &&
            !check_unit(form, pair->key, word, columns[i].kind, pair->value->place))
            columns[i].bad = true;
    }
    if (n_of[COLUMN_NAME] != 1) {
        bk_form_fail(form, node->place, BK_E_TABLE_FORM,
                     "columns: want exactly one that names the rows (\"size: name\"), found %zu",
                     n_of[COLUMN_NAME]);
        good = false;
    }
    if (n_of[COLUMN_MARK] > 1 || n_of[COLUMN_SOURCE] > 1) {
        bk_form_fail(form, node->place, BK_E_TABLE_FORM,
                     "columns: want at most one of mark and one of source");
        good = false;
    }
    return good ? columns : NULL;
}

static const char *column_note(bk_form *form, const bk_yaml *notes, const char *name)
{
    const bk_yaml *note = notes ? bk_yaml_get(notes, name) : NULL;
    const char *text = note ? bk_form_text(form, note, name) : NULL;
    return text ? text : "";
}

/* What is shown: this table's data columns, then those that only the extended table has. */
static void show_columns(bk_form *form, const bk_yaml *root, const table_column *columns, size_t n,
                         const bk_table *base, bk_table *table)
{
    const bk_yaml *notes = bk_yaml_get(root, "notes");
    if (notes && notes->kind != BK_YAML_MAP) {
        bk_form_fail(form, notes->place, BK_E_KIND, "notes: want a map of column names and texts");
        notes = NULL;
    }
    for (size_t i = 0; notes && i < notes->n; i++) {
        bool found = false;
        const char *known[COLUMNS_MAX];
        for (size_t k = 0; k < n; k++) {
            known[k] = columns[k].name;
            found = found || strcmp(known[k], notes->pairs[i].key) == 0;
        }
        if (!found)
            bk_form_fail(form, notes->pairs[i].place, BK_E_REFERENCE, "notes: there is no column \"%s\"%s",
                         notes->pairs[i].key, bk_near_text(form->arena, notes->pairs[i].key, known, n));
    }
    bk_column *shown = BK_NEW(form->arena, bk_column, n + (base ? base->n_columns : 0));
    if (!shown) {
        bk_form_fail(form, root->place, BK_E_NOMEM, "out of memory");
        return;
    }
    for (size_t i = 0; i < n; i++)
        if (columns[i].kind >= COLUMN_TEXT)
            shown[table->n_columns++] =
                (bk_column){columns[i].name, columns[i].unit, column_note(form, notes, columns[i].name)};
    const size_t own = table->n_columns;
    for (size_t i = 0; base && i < base->n_columns; i++) {
        bool found = false;
        for (size_t k = 0; k < own; k++)
            found = found || strcmp(shown[k].name, base->columns[i].name) == 0;
        if (!found) shown[table->n_columns++] = base->columns[i];
    }
    table->columns = shown;
}

/* The keys that are the same for every row: only keys that mean something, for a slip of the pen here
 * would drop a figure from every row. */
static const bk_yaml *read_all(bk_form *form, const bk_yaml *root)
{
    const bk_yaml *all = bk_yaml_get(root, "all");
    if (!all) return NULL;
    if (all->kind != BK_YAML_MAP) {
        bk_form_fail(form, all->place, BK_E_KIND, "all: want a map of keys and values");
        return NULL;
    }
    if (all->n > COLUMNS_MAX) {
        bk_form_fail(form, all->place, BK_E_TOO_LARGE, "all: want at most %d keys", COLUMNS_MAX);
        return NULL;
    }
    for (size_t i = 0; i < all->n; i++) {
        const bk_yaml_pair *pair = &all->pairs[i];
        const char *near;
        if (!bk_key_known(pair->key, &near))
            bk_form_fail(form, pair->place, BK_E_UNKNOWN_KEY, "all: unknown key \"%s\"%s%s%s", pair->key,
                         near ? ", nearest \"" : "", near ? near : "", near ? "\"" : "");
        else if (!bk_form_text(form, pair->value, pair->key) && pair->value->kind == BK_YAML_SCALAR)
            bk_form_fail(form, pair->value->place, BK_E_VALUE, "all: %s has no value", pair->key);
    }
    return all;
}

static void read_cell(bk_form *form, const table_column *column, const bk_yaml *cell, bk_row *row,
                      bk_yaml_pair *pairs, size_t *n)
{
    if (column->bad && column->kind >= COLUMN_TEXT) return;
    const char *text = bk_form_text(form, cell, column->name);
    if (column->kind == COLUMN_NAME && cell->kind == BK_YAML_SCALAR && (!text || !*text))
        bk_form_fail(form, cell->place, BK_E_MISSING_KEY, "a row has no name");
    if (!text) return;
    double number;
    const char *rest = column->kind >= COLUMN_NUMBER ? bk_number_read(text, &number) : NULL;
    if (column->kind >= COLUMN_NUMBER && (!rest || *rest)) {
        bk_form_fail(form, cell->place, BK_E_NUMBER, "%s: want a number alone%s%s, found \"%s\"",
                     column->name, *column->unit ? ", the column says it is in " : "", column->unit, text);
        return;
    }
    switch (column->kind) {
    case COLUMN_NAME:
        row->name = text;
        return;
    case COLUMN_SOURCE:
        row->source = text;
        return;
    case COLUMN_MARK:
        bk_form_mark(form, cell, &row->mark);
        return;
    case COLUMN_TEXT:
    case COLUMN_NUMBER:
        break;
    case COLUMN_UNIT:
        text = bk_arena_printf(form->arena, "%s %s", text, column->unit);
        break;
    }
    const bk_yaml *value = bk_form_scalar(form, text, cell->place);
    if (value) pairs[(*n)++] = (bk_yaml_pair){.key = column->name, .place = cell->place, .value = value};
}

static bool read_row(bk_form *form, const bk_table *table, const table_column *columns, size_t n_columns,
                     const bk_yaml *all, const bk_yaml *node, bk_row *row)
{
    if (node->kind != BK_YAML_LIST || node->n != n_columns) {
        if (node->kind != BK_YAML_LIST)
            bk_form_fail(form, node->place, BK_E_KIND, "want a row of %zu cells in the order of the columns",
                         n_columns);
        else
            bk_form_fail(form, node->n > n_columns ? node->items[n_columns]->place : node->place,
                         BK_E_TABLE_FORM, "want %zu cells, one for each column, found %zu", n_columns,
                         node->n);
        return false;
    }
    const size_t n_all = all ? all->n : 0;
    bk_yaml *map = BK_NEW(form->arena, bk_yaml, 1);
    bk_yaml_pair *pairs = BK_NEW(form->arena, bk_yaml_pair, n_columns + n_all);
    if (!map || !pairs) {
        bk_form_fail(form, node->place, BK_E_NOMEM, "out of memory");
        return false;
    }
    *row = (bk_row){.table = table, .source = bk_form_citation(form, table), .mark = table->mark};
    size_t n = 0;
    for (size_t i = 0; i < n_columns; i++)
        read_cell(form, &columns[i], node->items[i], row, pairs, &n);
    const size_t own = n;
    for (size_t i = 0; i < n_all; i++) {
        bool given = false;
        for (size_t k = 0; k < own; k++)
            given = given || strcmp(pairs[k].key, all->pairs[i].key) == 0;
        if (!given) pairs[n++] = all->pairs[i];
    }
    *map = (bk_yaml){
        .kind = BK_YAML_MAP, .place = node->place, .text = "", .n = n, .pairs = pairs, .weight = n + 1};
    row->map = map;
    if (!row->name) return false;
    row->ref = bk_arena_printf(form->arena, "%s/%s", table->name, row->name);
    if (!row->ref) bk_form_fail(form, node->place, BK_E_NOMEM, "out of memory");
    return row->ref;
}

/* ---- names ------------------------------------------------------------------------------------- */

static int by_name(const void *a, const void *b)
{
    const bk_row *const *x = a, *const *y = b;
    const int order = strcmp((*x)->name, (*y)->name);
    return order ? order : (*x > *y) - (*x < *y);
}

static const bk_row **sorted_by_name(bk_form *form, const bk_row *rows, size_t n)
{
    const bk_row **order = BK_NEW(form->arena, const bk_row *, n + 1);
    if (!order) {
        bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
        return NULL;
    }
    for (size_t i = 0; i < n; i++)
        order[i] = &rows[i];
    qsort(order, n, sizeof *order, by_name);
    return order;
}

static void refuse_twins(bk_form *form, const bk_row *const *order, size_t n)
{
    for (size_t i = 1; i < n; i++)
        if (strcmp(order[i - 1]->name, order[i]->name) == 0)
            bk_form_fail(form, order[i]->map->place, BK_E_DUPLICATE,
                         "row \"%s\" is there already, in line %d", order[i]->name,
                         order[i - 1]->map->place.line);
}

/* Rows of the extended table, each replaced where this table has one of its name, then the new ones. */
static void merge(bk_form *form, const bk_table *base, const bk_row *own, const bk_row **order, size_t n,
                  bk_table *table)
{
    bk_row *rows = BK_NEW(form->arena, bk_row, n + base->n_rows);
    bool *placed = BK_NEW(form->arena, bool, n + 1);
    if (!rows || !placed) {
        bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
        return;
    }
    for (size_t i = 0; i < base->n_rows; i++) {
        rows[i] = base->rows[i];
        const bk_row *key = &base->rows[i];
        const bk_row *const *mine = NULL;
        size_t low = 0, high = n;
        while (low < high && !mine) {
            const size_t middle = low + (high - low) / 2;
            const int side = strcmp(key->name, order[middle]->name);
            if (side == 0) mine = &order[middle];
            if (side < 0)
                high = middle;
            else
                low = middle + 1;
        }
        if (mine) {
            rows[i] = **mine;
            placed[*mine - own] = true;
        } else if (strcmp(base->name, table->name) != 0) {
            rows[i].ref = bk_arena_printf(form->arena, "%s/%s", table->name, rows[i].name);
            if (!rows[i].ref) bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
        }
    }
    table->n_rows = base->n_rows;
    for (size_t i = 0; i < n; i++)
        if (!placed[i]) rows[table->n_rows++] = own[i];
    table->rows = rows;
}

bk_status bk_table_read(bk_form *form, const bk_yaml *root, const bk_table *base, bk_table *table)
{
    bk_form_head(form, root, "becket_table", table_keys, N(table_keys), table);
    if (root->kind != BK_YAML_MAP) return form->status;
    const table_column *columns = read_columns(form, root);
    const bk_yaml *all = read_all(form, root), *rows = bk_yaml_get(root, "rows");
    if (!rows || rows->kind != BK_YAML_LIST || (rows->n == 0 && !base)) {
        bk_form_fail(form, rows ? rows->place : root->place, rows ? BK_E_KIND : BK_E_MISSING_KEY,
                     "want rows: a list of rows, each in the order of the columns");
        return form->status;
    }
    if (!columns) return form->status;
    const size_t n_columns = bk_yaml_get(root, "columns")->n;
    show_columns(form, root, columns, n_columns, base, table);

    bk_row *own = BK_NEW(form->arena, bk_row, rows->n + 1);
    if (!own) {
        bk_form_fail(form, rows->place, BK_E_NOMEM, "out of memory");
        return form->status;
    }
    size_t n = 0;
    for (size_t i = 0; i < rows->n; i++)
        if (read_row(form, table, columns, n_columns, all, rows->items[i], &own[n])) n++;
    const bk_row **order = sorted_by_name(form, own, n);
    if (!order) return form->status;
    refuse_twins(form, order, n);
    table->rows = own;
    table->n_rows = n;
    bk_table_figures(form, root,
                     table); /* its own rows only: those of the other table were looked at there */
    if (base) merge(form, base, own, order, n, table);
    return form->status;
}
