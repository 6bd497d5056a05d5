/* Any bytes: a table or rule set that can be asked anything, or a refusal with a place and one line.  A table
 * of the corpus may extend those of tests/fuzz/tables (BECKET_TABLES).  Run by fuzz.sh; the corpus is
 * replayed by `meson test`. */
#include <becket/tables.h>

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool condition)
{
    if (!condition) abort();
}

static const char *put(const uint8_t *data, size_t size)
{
    static char path[] = "/tmp/becket-fuzz-tables-XXXXXX";
    static int file = -1;
    if (file < 0) file = mkstemp(path);
    must(file >= 0 && ftruncate(file, 0) == 0 && lseek(file, 0, SEEK_SET) == 0);
    while (size > 0) {
        const ssize_t n = write(file, data, size);
        must(n > 0);
        data += n;
        size -= (size_t)n;
    }
    return path;
}

static void ask(const bk_table *t)
{
    must(t->name && t->title[0] && t->source[0] && strlen(t->digest) == 64);
    for (size_t i = 0; i < t->n_columns; i++)
        must(t->columns[i].name[0] && t->columns[i].unit && t->columns[i].note);
    for (size_t i = 0; i < t->n_rows; i++) {
        const bk_row *r = &t->rows[i];
        must(r->table && r->name && r->ref && r->source && r->map->kind == BK_YAML_MAP);
        for (size_t k = 0; k < r->map->n; k++)
            must(r->map->pairs[k].key && r->map->pairs[k].value && r->map->pairs[k].value->place.line > 0);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    must(dirs[0] != NULL);
    bk_tables *tables = bk_tables_new(dirs, 1, 0);
    bk_errors *errors = bk_errors_new();
    must(tables && errors);
    const bk_table *table = NULL;
    const bk_status status = bk_tables_check_file(tables, put(data, size), &table, errors);
    must((status == BK_OK) == (table != NULL) && (status == BK_OK) == (errors->n == 0));
    if (table) ask(table);
    for (size_t i = 0; i < errors->n; i++) {
        char *line = bk_message_print(&errors->at[i]);
        must(line && errors->at[i].place.file && !strchr(line, '\n') && !strchr(line, '\x1b'));
        free(line);
    }
    bk_tables_free(tables);
    bk_errors_free(errors);
    return 0;
}
