/* figures: can these figures be right?
 *
 *   - each can be read in the unit of its column, and a key that means something has its dimension;
 *   - a rating, a size and a factor are above zero;
 *   - a rating does not fall where the size rises, among rows of one kind, material and number of legs;
 *   - the table's own `formula` gives what its rows say:
 *         figure = (column `of`)^power * every value in `times`,
 *     rounded down to a preferred number of the R40 series where `round: R40` says so, within `tolerance`.
 *
 * Source of the series: ISO 3, preferred numbers, as the 40 rounded values of a decade (from memory; the
 * tests of EN 818-4 ratings rest on them).
 */
#include "shelf.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define N(array)     (sizeof(array) / sizeof *(array))
#define FORMULAS_MAX 50

/* ---- one figure -------------------------------------------------------------------------------- */

static bool is_rating(const char *key)
{
    static const char *const ratings[] = {"choker_wll", "basket_wll", "inclined_wll", "breaking_load",
                                          "rated"};
    for (size_t i = 0; i < N(ratings); i++)
        if (strcmp(key, ratings[i]) == 0) return true;
    return strncmp(key, "wll", 3) == 0;
}

static void check_value(bk_form *form, const char *key, const bk_yaml *value, bk_dim want, bool known)
{
    char why[200];
    bk_value read;
    const bk_status status = bk_quantity_read(value->text, want, &read, why, sizeof why);
    if (status != BK_OK) {
        bk_form_fail(form, value->place, status, "%s: %s", key, why);
        return;
    }
    if (!known || want == BK_DIM_TEMPERATURE) return;
    const bool above_zero = is_rating(key) || strcmp(key, "diameter") == 0 ||
                            strcmp(key, "design_factor") == 0 || strcmp(key, "efficiency") == 0;
    if (read.v < 0 || (above_zero && !(read.v > 0)))
        bk_form_fail(form, value->place, BK_E_VALUE, "%s: want a value %s zero, found %s", key,
                     above_zero ? "above" : "not below", value->text);
}

/* Dimension of a data column: that of the key where it means something, else that of its unit. */
static bool column_dimension(const bk_column *column, const bk_yaml *declared, bk_dim *dim, bool *known)
{
    *known = bk_key_dimension(column->name, dim);
    if (*known || *column->unit) {
        double factor, offset;
        char why[8];
        return *known || bk_unit_read(column->unit, &factor, &offset, dim, why, sizeof why) == BK_OK;
    }
    *dim = BK_DIM_NONE;
    return strcmp(declared->text, "number") == 0;
}

static void check_columns(bk_form *form, const bk_yaml *root, const bk_table *table)
{
    const bk_yaml *declared = bk_yaml_get(root, "columns");
    for (size_t c = 0; c < table->n_columns; c++) {
        const bk_column *column = &table->columns[c];
        const bk_yaml *word = bk_yaml_get(declared, column->name);
        bk_dim dim;
        bool known;
        if (!word || !column_dimension(column, word, &dim, &known)) continue;
        for (size_t i = 0; i < table->n_rows; i++) {
            const bk_yaml *cell = bk_yaml_get(table->rows[i].map, column->name);
            if (cell) check_value(form, column->name, cell, dim, known);
        }
    }
}

static void check_all(bk_form *form, const bk_yaml *root)
{
    const bk_yaml *all = bk_yaml_get(root, "all");
    for (size_t i = 0; all && all->kind == BK_YAML_MAP && i < all->n; i++) {
        bk_dim dim;
        if (all->pairs[i].value->kind == BK_YAML_SCALAR && bk_key_dimension(all->pairs[i].key, &dim))
            check_value(form, all->pairs[i].key, all->pairs[i].value, dim, true);
    }
}

/* SI value of a row's key; NaN where it has none or cannot be read (which was said already). */
static double figure(const bk_row *row, const char *key, bk_dim dim)
{
    const bk_yaml *cell = bk_yaml_get(row->map, key);
    bk_value value;
    char why[8];
    if (!cell || cell->kind != BK_YAML_SCALAR ||
        bk_quantity_read(cell->text, dim, &value, why, sizeof why) != BK_OK)
        return NAN;
    return value.v;
}

/* ---- a rating rises with the size -------------------------------------------------------------- */

typedef struct sized {
    const bk_row *row;
    const char *what, *material, *legs;
    double size, rating;
} sized;

static const char *word(const bk_row *row, const char *key)
{
    const bk_yaml *value = bk_yaml_get(row->map, key);
    return value ? value->text : "";
}

static int same_kind(const sized *a, const sized *b)
{
    int order = strcmp(a->what, b->what);
    if (!order) order = strcmp(a->material, b->material);
    return order ? order : strcmp(a->legs, b->legs);
}

static int by_size(const void *a, const void *b)
{
    const sized *x = a, *y = b;
    const int order = same_kind(x, y);
    if (order) return order;
    if (x->size != y->size) return x->size < y->size ? -1 : 1;
    return (x->row > y->row) - (x->row < y->row);
}

static void check_rise(bk_form *form, const bk_table *table, const char *size, const char *rating,
                       sized *rows)
{
    size_t n = 0;
    for (size_t i = 0; i < table->n_rows; i++) {
        const bk_row *row = &table->rows[i];
        rows[n] = (sized){row,
                          word(row, "what"),
                          word(row, "material"),
                          word(row, "legs"),
                          figure(row, size, BK_DIM_LENGTH),
                          figure(row, rating, BK_DIM_FORCE)};
        if (isfinite(rows[n].size) && isfinite(rows[n].rating)) n++;
    }
    qsort(rows, n, sizeof *rows, by_size);
    /* greatest rating among the rows that are strictly smaller */
    const sized *smaller = NULL, *so_far = NULL;
    for (size_t i = 0; i < n; i++) {
        if (i == 0 || same_kind(&rows[i - 1], &rows[i]) != 0)
            smaller = so_far = NULL;
        else if (rows[i].size > rows[i - 1].size)
            smaller = so_far;
        if (!so_far || rows[i].rating > so_far->rating) so_far = &rows[i];
        if (!smaller || !(rows[i].rating < smaller->rating)) continue;
        bk_form_fail(form, bk_yaml_get(rows[i].row->map, rating)->place, BK_E_VALUE,
                     "%s falls to %s where %s rises to %s: row \"%s\" in line %d has %s at %s", rating,
                     word(rows[i].row, rating), size, word(rows[i].row, size), smaller->row->name,
                     smaller->row->map->place.line, word(smaller->row, rating), word(smaller->row, size));
    }
}

static void check_rises(bk_form *form, const bk_table *table)
{
    sized *rows = BK_NEW(form->arena, sized, table->n_rows + 1);
    if (!rows) {
        bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
        return;
    }
    bool has_diameter = false;
    for (size_t c = 0; c < table->n_columns; c++)
        has_diameter = has_diameter || strcmp(table->columns[c].name, "diameter") == 0;
    for (size_t c = 0; c < table->n_columns; c++)
        if (is_rating(table->columns[c].name))
            check_rise(form, table, has_diameter ? "diameter" : "width", table->columns[c].name, rows);
}

/* ---- the table's own formula ------------------------------------------------------------------- */

/* Greatest preferred number of the R40 series that is not above x > 0. */
static double preferred_below(double x)
{
    static const double r40[] = {1,    1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5,  1.6, 1.7,
                                 1.8,  1.9,  2,    2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3,
                                 3.15, 3.35, 3.55, 3.75, 4,    4.25, 4.5, 4.75, 5,   5.3,
                                 5.6,  6,    6.3,  6.7,  7.1,  7.5,  8,   8.5,  9,   9.5};
    double decade = pow(10, floor(log10(x)));
    if (x < decade * (1 - 1e-12)) decade /= 10; /* log10 rounded up */
    double best = decade;
    for (size_t i = 0; i < N(r40); i++)
        if (r40[i] * decade <= x * (1 + 1e-9)) best = r40[i] * decade;
    return best;
}

/* A number with any unit, or none. */
static bool read_any(bk_form *form, const bk_yaml *node, const char *what, double *value, bk_dim *dim)
{
    const char *text = bk_form_text(form, node, what);
    const char *rest = text ? bk_number_read(text, value) : NULL;
    if (!rest) {
        bk_form_fail(form, node->place, BK_E_NUMBER,
                     "%s: want a number, with its unit if it has one, found \"%s\"", what, text ? text : "");
        return false;
    }
    *dim = BK_DIM_NONE;
    rest += strspn(rest, " ");
    if (!*rest) return true;
    char why[200];
    double factor, offset;
    const bk_status status = bk_unit_read(rest, &factor, &offset, dim, why, sizeof why);
    if (status != BK_OK) {
        bk_form_fail(form, node->place, status, "%s: %s", what, why);
        return false;
    }
    *value = *value * factor + offset;
    return true;
}

static const bk_column *data_column(bk_form *form, const bk_table *table, const bk_yaml *formula,
                                    const char *key)
{
    const bk_yaml *node = bk_yaml_get(formula, key);
    const char *name = node ? bk_form_text(form, node, key) : NULL;
    for (size_t c = 0; name && c < table->n_columns; c++)
        if (strcmp(table->columns[c].name, name) == 0) return &table->columns[c];
    if (!name) {
        bk_form_fail(form, node ? node->place : formula->place, node ? BK_E_REFERENCE : BK_E_MISSING_KEY,
                     "formula: want %s: the name of a column with figures", key);
        return NULL;
    }
    const char **known = BK_NEW(form->arena, const char *, table->n_columns + 1);
    for (size_t c = 0; known && c < table->n_columns; c++)
        known[c] = table->columns[c].name;
    bk_form_fail(form, node->place, BK_E_REFERENCE, "formula: there is no column \"%s\" with figures%s", name,
                 known ? bk_near_text(form->arena, name, known, table->n_columns) : "");
    return NULL;
}

static bk_dim product(bk_dim a, bk_dim b)
{
    return a + b - BK_DIM_NONE; /* exponents add: each stands in four bits of its own, 8 counting as none */
}

typedef struct formula {
    const bk_column *column, *of;
    bk_dim column_dim, of_dim;
    double power, scale, tolerance; /* scale: product of `times`, and g where it turns a force into a mass */
    bool preferred;
} formula;

/* A pure number from low to high, or the value given where the key is not there. */
static bool read_ratio(bk_form *form, const bk_yaml *map, const char *key, double low, double high,
                       double *value)
{
    const bk_yaml *node = bk_yaml_get(map, key);
    bk_dim dim;
    if (!node) return true;
    if (read_any(form, node, key, value, &dim) && dim == BK_DIM_NONE && *value >= low && *value <= high)
        return true;
    bk_form_fail(form, node->place, BK_E_VALUE, "formula: want %s from %g to %g", key, low, high);
    return false;
}

static bool read_times(bk_form *form, const bk_yaml *map, double *scale, bk_dim *dim)
{
    const bk_yaml *times = bk_yaml_get(map, "times");
    *scale = 1;
    *dim = BK_DIM_NONE;
    if (!times || times->kind != BK_YAML_LIST || times->n == 0) {
        bk_form_fail(form, times ? times->place : map->place, BK_E_MISSING_KEY,
                     "formula: want times: a list of values to multiply by");
        return false;
    }
    for (size_t i = 0; i < times->n; i++) {
        double value;
        bk_dim value_dim;
        if (!read_any(form, times->items[i], "times", &value, &value_dim)) return false;
        *scale *= value;
        *dim = product(*dim, value_dim);
    }
    return true;
}

/* What the formula gives must be what its column holds; a force and the mass of that weight are one. */
static bool fit_dimensions(bk_form *form, const bk_yaml *root, const bk_yaml *map, bk_dim dim, formula *f)
{
    const bk_yaml *declared = bk_yaml_get(root, "columns");
    const bk_yaml *of_word = bk_yaml_get(declared, f->of->name),
                  *column_word = bk_yaml_get(declared, f->column->name);
    bool known;
    if (!of_word || !column_word || !column_dimension(f->of, of_word, &f->of_dim, &known) ||
        !column_dimension(f->column, column_word, &f->column_dim, &known)) {
        bk_form_fail(form, map->place, BK_E_UNIT, "formula: want columns of this table with figures in them");
        return false;
    }
    for (int i = 0; i < (int)f->power; i++)
        dim = product(dim, f->of_dim);
    if (dim == product(f->column_dim, BK_DIM_ACCELERATION)) {
        f->scale /= BK_STANDARD_GRAVITY_M_PER_S2;
    } else if (f->column_dim == product(dim, BK_DIM_ACCELERATION)) {
        f->scale *= BK_STANDARD_GRAVITY_M_PER_S2;
    } else if (dim != f->column_dim) {
        bk_form_fail(form, map->place, BK_E_UNIT, "formula: gives a %s, but column %s holds a %s",
                     bk_dim_name(dim), f->column->name, bk_dim_name(f->column_dim));
        return false;
    }
    return true;
}

static bool read_formula(bk_form *form, const bk_yaml *root, const bk_table *table, const bk_yaml *map,
                         formula *f)
{
    static const char *const known[] = {"column", "of", "power", "times", "round", "tolerance"};
    if (map->kind != BK_YAML_MAP) {
        bk_form_fail(form, map->place, BK_E_KIND,
                     "formula: want {column: wll, of: diameter, power: 2, times: [...]}");
        return false;
    }
    bk_form_keys(form, map, known, N(known), "formula: ");
    *f = (formula){.column = data_column(form, table, map, "column"),
                   .of = data_column(form, table, map, "of"),
                   .power = 1};
    bk_dim dim;
    if (!read_ratio(form, map, "power", 1, 3, &f->power) ||
        !read_ratio(form, map, "tolerance", 0, 1, &f->tolerance) || !read_times(form, map, &f->scale, &dim) ||
        !f->column || !f->of)
        return false;
    if (f->power != round(f->power)) {
        bk_form_fail(form, bk_yaml_get(map, "power")->place, BK_E_VALUE, "formula: want a whole power");
        return false;
    }
    const bk_yaml *rounding = bk_yaml_get(map, "round");
    f->preferred = rounding;
    if (rounding && (rounding->kind != BK_YAML_SCALAR || strcmp(rounding->text, "R40") != 0)) {
        bk_form_fail(form, rounding->place, BK_E_WORD, "formula: want round: R40, or no rounding");
        return false;
    }
    return fit_dimensions(form, root, map, dim, f);
}

static void check_formula(bk_form *form, const bk_yaml *root, const bk_table *table, const bk_yaml *map)
{
    formula f;
    if (!read_formula(form, root, table, map, &f)) return;
    /* what is rounded and printed is in the unit of the column */
    char one[64], why[8];
    bk_value unit = {1, 0};
    snprintf(one, sizeof one, "1 %s", f.column->unit);
    if (*f.column->unit && bk_quantity_read(one, f.column_dim, &unit, why, sizeof why) != BK_OK) return;
    for (size_t i = 0; i < table->n_rows; i++) {
        const bk_row *row = &table->rows[i];
        const double found = figure(row, f.column->name, f.column_dim) / unit.v;
        double expected = f.scale * pow(figure(row, f.of->name, f.of_dim), f.power) / unit.v;
        if (!isfinite(expected) || !isfinite(found) || !(expected > 0)) continue;
        if (f.preferred) expected = preferred_below(expected);
        if (fabs(found - expected) <= expected * (f.tolerance + 1e-9)) continue;
        char wanted[40];
        bk_plain_print(wanted, sizeof wanted, expected, 4);
        bk_form_fail(form, bk_yaml_get(row->map, f.column->name)->place, BK_E_VALUE,
                     "%s of row \"%s\" is %s, but the table's formula gives %s %s from %s %s", f.column->name,
                     row->name, word(row, f.column->name), wanted, f.column->unit, f.of->name,
                     word(row, f.of->name));
    }
}

void bk_table_figures(bk_form *form, const bk_yaml *root, const bk_table *table)
{
    check_columns(form, root, table);
    check_all(form, root);
    check_rises(form, table);
    const bk_yaml *stated = bk_yaml_get(root, "formula");
    const bool list = stated && stated->kind == BK_YAML_LIST;
    size_t n = list ? stated->n : stated ? 1 : 0;
    if (n > FORMULAS_MAX) {
        bk_form_fail(form, stated->place, BK_E_TOO_LARGE, "formula: want at most %d", FORMULAS_MAX);
        n = FORMULAS_MAX;
    }
    for (size_t i = 0; i < n; i++)
        check_formula(form, root, table, list ? stated->items[i] : stated);
}
