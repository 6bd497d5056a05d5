/* shelf: the parts of this room that its files share. */
#ifndef BECKET_TABLES_SHELF_H
#define BECKET_TABLES_SHELF_H

#include <becket/tables.h>

/* ---- search.c: which file a name leads to ------------------------------------------------------ */

typedef enum bk_file_state { BK_FILE_UNREAD, BK_FILE_READING, BK_FILE_READ, BK_FILE_FAILED } bk_file_state;

/* A file NAME.yaml that was found below a directory. */
typedef struct bk_shelf_file {
    const char *name, *path;
    size_t dir;
    bool rules;           /* stands in a folder "rules" */
    bool outside;         /* symbolic link that leads out of its directory: refused */
    bool sniffed, marked; /* looked at; begins as a table or rule set does */
    bool noted;           /* among the tables used */
    bk_file_state state;
    bk_status status; /* of BK_FILE_FAILED */
    const bk_table *table;
    const bk_rules *set;
    const bk_yaml *above_hook; /* of a rule set: the name of the one with the rest, its own or that of what it extends */
    struct bk_shelf_file *above; /* that file, and the set joined with it, once they were asked for */
    const bk_rules *whole;
} bk_shelf_file;

struct bk_tables {
    bk_arena *arena;
    const char **dirs;
    size_t n_dirs, shipped_from;
    bool searched;
    bk_status search_status;
    const char *unlisted; /* the folder that could not be listed, and the errno */
    int why;
    bk_shelf_file **files; /* by directory, then path */
    size_t n_files, files_capacity;
    const bk_table **used;
    size_t n_used, used_capacity;
};

/* Lists the files of every directory, once.  BK_E_READ where one cannot be listed, BK_E_NOMEM; a message either way. */
bk_status bk_shelf_search(bk_tables *tables, bk_place where, bk_errors *errors);
/* The first file of that name at or after directory `dir` and not at `not_path`; NULL in *out and BK_OK
 * when there is none.  BK_E_AMBIGUOUS, BK_E_READ (a link that leads out). */
bk_status bk_shelf_find(bk_tables *tables, const char *name, bool rules, size_t dir, const char *not_path,
                        bk_place where, bk_shelf_file **out, bk_errors *errors);
/* Does the file begin as a table or a rule set does? */
bool bk_shelf_marked(bk_shelf_file *file);

/* ---- form.c: what tables and rule sets have in common ------------------------------------------ */

typedef struct bk_form {
    bk_arena *arena;
    bk_errors *errors;
    bool failed;      /* a mistake was found */
    bk_status status; /* the first one */
} bk_form;

/* Notes a mistake of the file. */
void bk_form_fail(bk_form *form, bk_place place, bk_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* What stands behind a word that is not known: `, nearest "x"`, or a few known words where none is near;
 * arena text, "" where there is nothing to say. */
const char *bk_near_text(bk_arena *arena, const char *word, const char *const *known, size_t n_known);
/* Refuses keys of a map that are not among known; where: what the message begins with. */
void bk_form_keys(bk_form *form, const bk_yaml *map, const char *const *known, size_t n_known,
                  const char *where);
/* Reads title, source, edition, clause, note and mark, and refuses keys that are not among known. */
void bk_form_head(bk_form *form, const bk_yaml *root, const char *version_key, const char *const *known,
                  size_t n_known, bk_table *table);
/* The text of a scalar; NULL after a mistake, and where the scalar is null. */
const char *bk_form_text(bk_form *form, const bk_yaml *node, const char *what);
bool bk_form_is_null(const bk_yaml *node);
bool bk_form_mark(bk_form *form, const bk_yaml *node, bk_mark *mark);
/* "source, clause" */
const char *bk_form_citation(bk_form *form, const bk_table *table);
bk_yaml *bk_form_scalar(bk_form *form, const char *text, bk_place place);

/* ---- keys.c: the keys that mean something ------------------------------------------------------ */

/* True and its dimension if key is a number that the plan reader knows. */
bool bk_key_dimension(const char *key, bk_dim *dim);
/* True if the plan reader knows the key, as a number or as a word. */
bool bk_key_known(const char *key, const char **nearest);

/* ---- table.c, figures.c, rules.c --------------------------------------------------------------- */

/* A table out of a file's tree.  base: the table that it extends, or NULL. */
bk_status bk_table_read(bk_form *form, const bk_yaml *root, const bk_table *base, bk_table *table);
/* Is every figure possible: dimension, sign, a rating that rises with the size, the table's own formula? */
void bk_table_figures(bk_form *form, const bk_yaml *root, const bk_table *table);
/* A rule set out of a file's tree.  base: the one that it extends, or NULL. */
bk_status bk_rules_read(bk_form *form, const bk_yaml *root, const bk_rules *base, bk_rules *rules);
/* Adds to rules what only `more` states; what both state must be of one kind. */
void bk_rules_join(bk_form *form, bk_rules *rules, const bk_rules *more);

#endif
