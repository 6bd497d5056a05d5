/* tables: a name in, a table, row or rule set out, each file read at most once and only when named.
 *
 * A table that extends another of its own name takes the next of that name in the search order; one that
 * extends a table of another name takes the first of that name.  A file that is being read is marked so
 * that a circle of tables is refused.  A file with a mistake stays refused: its mistakes are told once.
 */
#include "shelf.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bk_tables *bk_tables_new(const char *const *dirs, size_t n_dirs, size_t shipped_from)
{
    bk_arena *arena = bk_arena_new();
    bk_tables *tables = arena ? BK_NEW(arena, bk_tables, 1) : NULL;
    if (!tables) {
        bk_arena_free(arena);
        return NULL;
    }
    tables->arena = arena;
    tables->shipped_from = shipped_from;
    tables->dirs = BK_NEW(arena, const char *, n_dirs + 1);
    for (size_t i = 0; tables->dirs && i < n_dirs; i++) {
        tables->dirs[i] = bk_arena_strndup(arena, dirs[i], strlen(dirs[i]));
        if (!tables->dirs[i]) tables->dirs = NULL;
    }
    tables->n_dirs = n_dirs;
    if (!tables->dirs) {
        bk_arena_free(arena);
        return NULL;
    }
    return tables;
}

void bk_tables_free(bk_tables *tables)
{
    if (tables) bk_arena_free(tables->arena);
}

/* ---- reading a file ---------------------------------------------------------------------------- */

static bk_status out_of_memory(bk_errors *errors, bk_place where)
{
    return bk_fail(errors, where, BK_E_NOMEM, "out of memory");
}

/* A report names what was used, not what was only looked into for the names of rules. */
static bk_status note_used(bk_tables *t, bk_shelf_file *file, bk_place where, bk_errors *errors)
{
    if (file->noted) return BK_OK;
    const bk_table **place =
        bk_arena_push(t->arena, &t->used, &t->n_used, &t->used_capacity, sizeof *t->used);
    if (!place) return out_of_memory(errors, where);
    *place = file->table;
    file->noted = true;
    return BK_OK;
}

static int by_text(const void *a, const void *b)
{
    const char *const *x = a, *const *y = b;
    return strcmp(*x, *y);
}

/* Names of the tables, or rule sets, that can be found: sorted, each once. */
static const char **names_known(bk_tables *t, bool rules, size_t *n)
{
    const char **known = BK_NEW(t->arena, const char *, t->n_files + 1);
    *n = 0;
    if (!known) return NULL;
    size_t count = 0;
    for (size_t i = 0; i < t->n_files; i++)
        if (t->files[i]->rules == rules && !t->files[i]->outside && bk_shelf_marked(t->files[i]))
            known[count++] = t->files[i]->name;
    qsort(known, count, sizeof *known, by_text);
    for (size_t i = 0; i < count; i++)
        if (*n == 0 || strcmp(known[*n - 1], known[i]) != 0) known[(*n)++] = known[i];
    return known;
}

static bk_status load(bk_tables *t, bk_shelf_file *file, bk_place where, bk_errors *errors);

/* The file that this one extends, read; NULL in *out and BK_OK where it extends none. */
static bk_status load_base(bk_tables *t, const bk_shelf_file *file, const bk_yaml *root,
                           const bk_shelf_file **out, bk_errors *errors)
{
    *out = NULL;
    const bk_yaml *extends = bk_yaml_get(root, "extends");
    if (!extends) return BK_OK;
    if (extends->kind != BK_YAML_SCALAR || bk_form_is_null(extends))
        return bk_fail(errors, extends->place, BK_E_KIND, "extends: want the name of one %s",
                       file->rules ? "rule set" : "table");
    const bool own_name = strcmp(extends->text, file->name) == 0;
    const size_t from = own_name && file->dir < t->n_dirs ? file->dir + 1 : 0;
    bk_shelf_file *base;
    bk_status status =
        bk_shelf_find(t, extends->text, file->rules, from, file->path, extends->place, &base, errors);
    if (status == BK_OK && !base) {
        size_t n;
        const char **known = names_known(t, file->rules, &n);
        if (!known) return out_of_memory(errors, extends->place);
        status = bk_fail(errors, extends->place, BK_E_TABLE, "extends: there is no %s \"%s\"%s",
                         file->rules ? "rule set" : "table", extends->text,
                         own_name ? " after this one in the search order"
                                  : bk_near_text(t->arena, extends->text, known, n));
    }
    if (status == BK_OK && base->state == BK_FILE_READING)
        status = bk_fail(errors, extends->place, BK_E_REFERENCE,
                         "extends: %s is being extended by this very table", base->path);
    if (status == BK_OK) status = load(t, base, extends->place, errors);
    if (status == BK_OK) status = note_used(t, base, extends->place, errors);
    if (status == BK_OK) *out = base;
    return status;
}

static bk_status read_file(bk_tables *t, bk_shelf_file *file, bk_errors *errors)
{
    const char *bytes;
    size_t n;
    bk_status status = bk_file_read(t->arena, file->path, BK_YAML_MAX_BYTES, &bytes, &n, errors);
    if (status != BK_OK) return status;
    const bk_yaml *root;
    status = bk_yaml_read(t->arena, file->path, bytes, n, &root, errors);
    if (status != BK_OK) return status;

    bk_table *table = BK_NEW(t->arena, bk_table, 1);
    bk_rules *rules = BK_NEW(t->arena, bk_rules, 1);
    const char *name = file->rules ? bk_arena_printf(t->arena, "rules/%s", file->name) : file->name;
    const char *path = bk_text_safe(t->arena, file->path);
    if (!table || !rules || !name || !path) return out_of_memory(errors, root->place);
    *table = (bk_table){.name = name,
                        .path = path,
                        .title = "",
                        .source = "",
                        .edition = "",
                        .clause = "",
                        .note = "",
                        .mark = BK_MARK_USER,
                        .shipped = file->dir < t->n_dirs && file->dir >= t->shipped_from};
    bk_digest(bytes, n, table->digest);

    const bk_shelf_file *base;
    status = load_base(t, file, root, &base, errors);
    if (status != BK_OK) return status;
    bk_form form = {.arena = t->arena, .errors = errors, .status = BK_OK};
    if (file->rules) {
        *rules = (bk_rules){.name = file->name, .table = table};
        (void)bk_rules_read(&form, root, base ? base->set : NULL, rules); /* its status is the form's */
        file->set = rules;
        file->table = rules->table;
        file->above_hook = bk_yaml_get(root, "above_hook");
        if (file->above_hook) bk_form_text(&form, file->above_hook, "above_hook");
        else if (base) file->above_hook = base->above_hook;
        status = form.status;
    } else {
        status = bk_table_read(&form, root, base ? base->table : NULL, table);
        file->table = table;
    }
    return status;
}

static bk_status load(bk_tables *t, bk_shelf_file *file, bk_place where, bk_errors *errors)
{
    if (file->state == BK_FILE_READ) return BK_OK;
    if (file->state == BK_FILE_FAILED) { /* told already, unless these errors are a new list */
        if (errors && errors->n == 0)
            return bk_fail(errors, where, file->status, "%s has mistakes", file->path);
        return file->status;
    }
    file->state = BK_FILE_READING;
    file->status = read_file(t, file, errors);
    file->state = file->status == BK_OK ? BK_FILE_READ : BK_FILE_FAILED;
    return file->status;
}

/* ---- tables and rows --------------------------------------------------------------------------- */

static bk_status not_there(bk_tables *t, const char *name, bool rules, bk_place where, bk_errors *errors)
{
    size_t n;
    const char **known = names_known(t, rules, &n);
    if (!known) return out_of_memory(errors, where);
    bk_shelf_file *unmarked = NULL;
    for (size_t i = 0; i < t->n_files; i++)
        if (t->files[i]->rules == rules && strcmp(t->files[i]->name, name) == 0) unmarked = t->files[i];
    if (unmarked)
        return bk_fail(
            errors, where, BK_E_TABLE, "no %s \"%s\": %s is there, but has no line \"%s: 1\" near its top",
            rules ? "rule set" : "table", name, unmarked->path, rules ? "becket_rules" : "becket_table");
    return bk_fail(errors, where, BK_E_TABLE, "no %s \"%s\"%s", rules ? "rule set" : "table", name,
                   bk_near_text(t->arena, name, known, n));
}

static bk_status find(bk_tables *t, const char *name, bool rules, bk_place where, bk_shelf_file **out,
                      bk_errors *errors)
{
    const bk_status status = bk_shelf_find(t, name, rules, 0, NULL, where, out, errors);
    if (status != BK_OK) return status;
    if (!*out) return not_there(t, name, rules, where, errors);
    return load(t, *out, where, errors);
}

/* Finds it, and keeps in mind that it was asked for. */
static bk_status use(bk_tables *t, const char *name, bool rules, bk_place where, bk_shelf_file **out, bk_errors *errors)
{
    const bk_status status = find(t, name, rules, where, out, errors);
    return status == BK_OK ? note_used(t, *out, where, errors) : status;
}

bk_status bk_tables_table(bk_tables *t, const char *name, bk_place where, const bk_table **out,
                          bk_errors *errors)
{
    bk_shelf_file *file;
    const bk_status status = use(t, name, false, where, &file, errors);
    *out = status == BK_OK ? file->table : NULL;
    return status;
}

/* A size that a table lacks lies beside those that it has: 210 beside 200, not beside 120. */
static const char *nearest_size(const char *wanted, const char *const *known, size_t n)
{
    double want, size, least = INFINITY;
    const char *end = bk_number_read(wanted, &want), *best = NULL;
    if (!end || *end) return NULL;
    for (size_t i = 0; i < n; i++) {
        end = bk_number_read(known[i], &size);
        if (!end || *end || !(fabs(size - want) < least)) continue;
        least = fabs(size - want);
        best = known[i];
    }
    return best;
}

bk_status bk_tables_row(bk_tables *t, const char *ref, bk_place where, const bk_row **out, bk_errors *errors)
{
    *out = NULL;
    const char *slash = strchr(ref, '/');
    const char *name = bk_arena_strndup(t->arena, ref, slash ? (size_t)(slash - ref) : strlen(ref));
    if (!name) return out_of_memory(errors, where);
    if (!*name || strchr(".~", *name))
        return bk_fail(errors, where, BK_E_TABLE, "want TABLE/ROW, a table by its name alone, without a folder; found \"%s\"", ref);
    const bk_table *table;
    const bk_status status = bk_tables_table(t, name, where, &table, errors);
    if (status != BK_OK) return status;
    for (size_t i = 0; slash && i < table->n_rows; i++)
        if (strcmp(table->rows[i].name, slash + 1) == 0) {
            *out = &table->rows[i];
            return BK_OK;
        }
    if (table->n_rows == 0) return bk_fail(errors, where, BK_E_ROW, "table %s has no rows", name);
    const char **known = BK_NEW(t->arena, const char *, table->n_rows);
    if (!known) return out_of_memory(errors, where);
    for (size_t i = 0; i < table->n_rows; i++)
        known[i] = table->rows[i].name;
    const char *near = slash ? nearest_size(slash + 1, known, table->n_rows) : NULL;
    if (slash && !near) near = bk_nearest(slash + 1, known, table->n_rows);
    if (!slash)
        return bk_fail(errors, where, BK_E_ROW, "want a row of table %s, such as %s/%s", name, name,
                       known[0]);
    return bk_fail(errors, where, BK_E_ROW, "no row \"%s\" in table %s (%s): %s \"%s\"", slash + 1, name,
                   table->title, near ? "nearest" : "its rows begin with", near ? near : known[0]);
}

bk_status bk_tables_rig_rules(bk_tables *t, const char *name, bk_place where, const bk_rules **out,
                              bk_errors *errors)
{
    bk_shelf_file *file;
    const bk_status status = use(t, name, true, where, &file, errors);
    *out = status == BK_OK ? file->set : NULL;
    return status;
}

/* Joins a set with the one above the hook, once. */
static bk_status complete(bk_tables *t, bk_shelf_file *file, bk_errors *errors)
{
    if (file->whole) return BK_OK;
    if (!file->above_hook) {
        file->whole = file->set;
        return BK_OK;
    }
    const bk_place place = file->above_hook->place;
    const bk_status status = find(t, file->above_hook->text, true, place, &file->above, errors);
    if (status != BK_OK) return status;
    bk_rules *whole = BK_NEW(t->arena, bk_rules, 1);
    if (!whole) return out_of_memory(errors, place);
    *whole = *file->set;
    bk_form form = {.arena = t->arena, .errors = errors, .status = BK_OK};
    bk_rules_join(&form, whole, file->above->set);
    if (form.status == BK_OK) file->whole = whole;
    return form.status;
}

bk_status bk_tables_rules(bk_tables *t, const char *name, bk_place where, const bk_rules **out,
                          bk_errors *errors)
{
    *out = NULL;
    bk_shelf_file *file;
    bk_status status = find(t, name, true, where, &file, errors);
    if (status == BK_OK) status = complete(t, file, errors);
    if (status == BK_OK) status = note_used(t, file, where, errors);
    if (status == BK_OK && file->above) status = note_used(t, file->above, where, errors);
    if (status == BK_OK) *out = file->whole;
    return status;
}

/* ---- a user's rule set beside those shipped ---------------------------------------------------- */

static bool has_rule(const bk_rules *set, const char *name)
{
    return bk_rules_find(set, name) || bk_rules_bands(set, name);
}

/* Rules by the name of a material or a grade: a user's own may be new. */
static bool of_a_family(const char *name)
{
    static const char *const families[] = {"temperature.", "chemical.", "hoist.chain_stress."};
    bool found = false;
    for (size_t i = 0; i < sizeof families / sizeof *families; i++)
        found = found || strncmp(name, families[i], strlen(families[i])) == 0;
    return found;
}

/* The rule sets shipped, read. */
typedef enum which_sets { EVERY_SET, SETS_BELOW_HOOK, WHOLE_SETS } which_sets;
static bk_status shipped_sets(bk_tables *t, which_sets which, const bk_rules ***sets, size_t *n, bk_errors *errors)
{
    bk_status status = bk_shelf_search(t, (bk_place){0}, errors);
    *sets = BK_NEW(t->arena, const bk_rules *, t->n_files + 1);
    *n = 0;
    if (!*sets) return out_of_memory(errors, (bk_place){0});
    for (size_t i = 0; status == BK_OK && i < t->n_files; i++) {
        bk_shelf_file *file = t->files[i];
        if (!file->rules || file->dir < t->shipped_from || file->outside || !bk_shelf_marked(file)) continue;
        status = load(t, file, (bk_place){.file = file->path}, errors);
        if (status == BK_OK && which == WHOLE_SETS && file->above_hook) status = complete(t, file, errors);
        if (status == BK_OK && (which == EVERY_SET || file->above_hook))
            (*sets)[(*n)++] = which == WHOLE_SETS ? file->whole : file->set;
    }
    return status;
}

/* A slip of the pen in the name of a rule would leave the value of the other set in force. */
static bk_status refuse_unknown(bk_tables *t, const char *name, bk_place place, const bk_rules *const *sets, size_t n,
                                bk_errors *errors)
{
    if (of_a_family(name)) return BK_OK;
    size_t n_known = 0;
    for (size_t i = 0; i < n; i++) {
        if (has_rule(sets[i], name)) return BK_OK;
        n_known += sets[i]->n + sets[i]->n_bands;
    }
    const char **known = BK_NEW(t->arena, const char *, n_known + 1);
    if (!known) return out_of_memory(errors, place);
    n_known = 0;
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < sets[i]->n; k++)
            known[n_known++] = sets[i]->at[k].name;
        for (size_t k = 0; k < sets[i]->n_bands; k++)
            known[n_known++] = sets[i]->bands[k].name;
    }
    return bk_fail(errors, place, BK_E_UNKNOWN_KEY, "unknown rule \"%s\"%s", name,
                   bk_near_text(t->arena, name, known, n_known));
}

/* What every shipped set has is asked for; without it a check would fall silent. */
static bk_status refuse_gaps(const bk_rules *rules, const bk_rules *const *mains, size_t n, bk_errors *errors)
{
    size_t gaps = 0;
    const char *first = NULL;
    for (size_t k = 0; n > 0 && k < mains[0]->n + mains[0]->n_bands; k++) {
        const char *name = k < mains[0]->n ? mains[0]->at[k].name : mains[0]->bands[k - mains[0]->n].name;
        bool everywhere = !has_rule(rules, name);
        for (size_t i = 1; i < n && everywhere; i++)
            everywhere = has_rule(mains[i], name);
        if (!everywhere) continue;
        if (!first) first = name;
        gaps++;
    }
    if (gaps == 0) return BK_OK;
    return bk_fail(errors, (bk_place){rules->table->path, 1, 1}, BK_E_RULE,
                   "this rule set lacks %zu %s that checks ask for, such as %s: add them, or let it extend a set that has "
                   "them (extends: en)",
                   gaps, gaps == 1 ? "rule" : "rules", first);
}

bk_status bk_tables_hold_rules(bk_tables *t, const bk_rules *rules, bool whole, bk_errors *errors)
{
    if (rules->table->shipped) return BK_OK;
    const bk_rules **sets;
    size_t n;
    bk_status status = shipped_sets(t, EVERY_SET, &sets, &n, errors), worst = BK_OK;
    if (status != BK_OK || n == 0) return status;
    for (size_t i = 0; i < rules->n; i++)
        if ((status = refuse_unknown(t, rules->at[i].name, rules->at[i].place, sets, n, errors)) != BK_OK) worst = status;
    for (size_t i = 0; i < rules->n_bands; i++)
        if ((status = refuse_unknown(t, rules->bands[i].name, rules->bands[i].place, sets, n, errors)) != BK_OK)
            worst = status;
    if (worst != BK_OK) return worst;
    status = shipped_sets(t, whole ? WHOLE_SETS : SETS_BELOW_HOOK, &sets, &n, errors);
    return status == BK_OK ? refuse_gaps(rules, sets, n, errors) : status;
}

/* Whether the file's tree is that of a rule set.  What is no YAML is called a table: reading it as one says why. */
static bk_status is_rules(bk_arena *arena, const char *path, bool *rules, bk_errors *errors)
{
    const char *bytes;
    size_t n;
    const bk_yaml *root;
    bk_status status = bk_file_read(arena, path, BK_YAML_MAX_BYTES, &bytes, &n, errors);
    if (status != BK_OK) return status;
    status = bk_yaml_read(arena, path, bytes, n, &root, NULL);
    *rules = status == BK_OK && bk_yaml_get(root, "becket_rules");
    return status == BK_E_NOMEM ? out_of_memory(errors, (bk_place){.file = path}) : BK_OK;
}

bk_status bk_tables_check_file(bk_tables *t, const char *path, const bk_table **out, bk_errors *errors)
{
    *out = NULL;
    const char *slash = strrchr(path, '/'), *base = slash ? slash + 1 : path;
    size_t n = strlen(base);
    if (n > 5 && strcmp(base + n - 5, ".yaml") == 0) n -= 5;
    bk_shelf_file *file = BK_NEW(t->arena, bk_shelf_file, 1);
    const char *name = bk_arena_strndup(t->arena, base, n),
               *own = bk_arena_strndup(t->arena, path, strlen(path));
    bk_arena *scratch = bk_arena_new();
    if (!file || !name || !own || !scratch) {
        bk_arena_free(scratch);
        return out_of_memory(errors, (bk_place){0});
    }
    *file = (bk_shelf_file){.name = name, .path = own, .dir = t->n_dirs};
    bk_status status = is_rules(scratch, own, &file->rules, errors);
    bk_arena_free(scratch);
    if (status == BK_OK) status = load(t, file, (bk_place){.file = own}, errors);
    if (status == BK_OK && file->rules) status = complete(t, file, errors);
    if (status == BK_OK && file->rules && file->above_hook) status = bk_tables_hold_rules(t, file->whole, true, errors);
    if (status == BK_OK) *out = file->table;
    if (errors) bk_errors_sort(errors);
    return status;
}

/* ---- lists ------------------------------------------------------------------------------------- */

static bk_status names_of(bk_tables *t, bool rules, const char *const **names, size_t *n, bk_errors *errors)
{
    *names = NULL;
    *n = 0;
    const bk_status status = bk_shelf_search(t, (bk_place){0}, errors);
    if (status != BK_OK) return status;
    *names = names_known(t, rules, n);
    return *names ? BK_OK : out_of_memory(errors, (bk_place){0});
}

bk_status bk_tables_list(bk_tables *t, const char *const **names, size_t *n, bk_errors *errors)
{
    return names_of(t, false, names, n, errors);
}

bk_status bk_tables_list_rules(bk_tables *t, const char *const **names, size_t *n, bk_errors *errors)
{
    return names_of(t, true, names, n, errors);
}

const bk_table *const *bk_tables_used(const bk_tables *t, size_t *n)
{
    *n = t->n_used;
    return t->used;
}
