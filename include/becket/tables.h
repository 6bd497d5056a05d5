/* tables: rows of figures with their unit, citation and how sure they are; and rule sets.
 *
 * A table is a YAML file that a user can edit, copy and add to (form: tables/README.md).  A row is
 * handed on as a YAML map whose scalars already carry their units ("3.15 t"), so that a table row and
 * the same keys written inline in a plan are read by one and the same code.  Knows nothing of plans.
 *
 * Search order: user directories first (--tables, plan's folder, user configuration), then shipped.
 * A table is read at most once, and only when something names it.
 */
#ifndef BECKET_TABLES_H
#define BECKET_TABLES_H

#include <becket/quantity.h>

typedef enum bk_mark {
    BK_MARK_PUBLISHED, /* read in the source */
    BK_MARK_COMPUTED,  /* from a stated formula */
    BK_MARK_PRACTICE,  /* common practice, no source */
    BK_MARK_USER,      /* stated by the user: inline in the plan, or a user's table without a mark */
    BK_MARK_DEMO,      /* invented, for examples only */
    BK_MARK_MEMORY     /* not yet confirmed against the source: the report says so */
} bk_mark;
const char *bk_mark_text(bk_mark mark); /* "published", "common practice, no source", ... */
bool bk_mark_read(const char *text, bk_mark *mark);

typedef struct bk_column {
    const char *name, *unit; /* unit "" for text or pure numbers */
    const char *note;        /* "" if none */
} bk_column;

typedef struct bk_table {
    const char *name; /* file name without folder and ending: "chain-en818-4" */
    const char *path; /* as opened */
    const char *title, *source, *edition, *clause, *note; /* "" where not given */
    bk_mark mark;     /* of the whole table; a row may carry its own */
    bool shipped;     /* found in a shipped directory */
    char digest[65];  /* SHA-256 of the file */
    size_t n_columns;
    const bk_column *columns;
    size_t n_rows;
    const struct bk_row *rows;
} bk_table;

typedef struct bk_row {
    const bk_table *table;
    const char *name;    /* the part after TABLE/ */
    const char *ref;     /* "TABLE/ROW" */
    const bk_yaml *map;  /* keys and texts with units; belongs to the tables */
    const char *source;  /* "EN 818-4, table 3": table's source and clause, or the row's own */
    bk_mark mark;
} bk_row;

typedef struct bk_tables bk_tables;

/* dirs: searched in order, the first that holds NAME.yaml (in itself or any folder below it) wins.
 * shipped_from: index of the first directory that counts as shipped.  Nothing is read yet. */
bk_tables *bk_tables_new(const char *const *dirs, size_t n_dirs, size_t shipped_from);
void bk_tables_free(bk_tables *tables);

/* A whole table by name.  BK_E_TABLE with the nearest name, or the table's own mistakes. */
bk_status bk_tables_table(bk_tables *tables, const char *name, bk_place where, const bk_table **out,
                          bk_errors *errors);
/* A row by "TABLE/ROW" (split at the first slash).  BK_E_TABLE, BK_E_ROW with the nearest row. */
bk_status bk_tables_row(bk_tables *tables, const char *ref, bk_place where, const bk_row **out,
                        bk_errors *errors);
/* Reads one file as a table whatever its place, for `becket tables --check`. */
bk_status bk_tables_check_file(bk_tables *tables, const char *path, const bk_table **out, bk_errors *errors);
/* Names of all tables that can be found, sorted by name; user tables hide shipped ones of one name. */
bk_status bk_tables_list(bk_tables *tables, const char *const **names, size_t *n, bk_errors *errors);
/* Tables read so far, in the order read: what a report must name. */
const bk_table *const *bk_tables_used(const bk_tables *tables, size_t *n);

/* ---- rule sets --------------------------------------------------------------------------------- */

/* One value of a rule set, under a dotted name: "angle.max_from_vertical". */
typedef struct bk_rule {
    const char *name;
    double value;        /* SI; NaN where the rule is a word */
    bk_dim dim;
    const char *text;    /* as written */
    const char *source;
    bk_mark mark;
} bk_rule;
/* Steps over a quantity: factor for x in [from, to).  Rows are in rising order. */
typedef struct bk_band {
    double from, to, factor; /* SI; factor NaN: not allowed */
} bk_band;
typedef struct bk_bands {
    const char *name, *source;
    bk_mark mark;
    bk_dim dim;
    size_t n;
    const bk_band *at;
} bk_bands;
typedef struct bk_rules {
    const char *name;  /* "en" */
    const bk_table *table; /* title, source, digest, path; no rows */
    size_t n;
    const bk_rule *at;
    size_t n_bands;
    const bk_bands *bands;
} bk_rules;

/* Rule set NAME from rules/NAME.yaml. */
bk_status bk_tables_rules(bk_tables *tables, const char *name, bk_place where, const bk_rules **out,
                          bk_errors *errors);
/* NULL when the set does not have it. */
const bk_rule *bk_rules_find(const bk_rules *rules, const char *name);
const bk_bands *bk_rules_bands(const bk_rules *rules, const char *name);
/* The factor for x; NaN outside all bands or where not allowed.  A value on a boundary takes the
 * lower factor of its two bands. */
double bk_bands_factor(const bk_bands *bands, double x);

#endif
