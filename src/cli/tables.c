/* becket tables: lists, shows and validates tables. */
#include "cli.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct page {
    FILE *stream;
    char *bytes;
    size_t size;
} page;

static int list(bk_tables *tables, bk_errors *errors, page *out)
{
    const char *const *names;
    size_t n;
    if (bk_tables_list(tables, &names, &n, errors) != BK_OK) return CLI_WRONG;
    size_t width = 0;
    for (size_t i = 0; i < n; i++)
        if (strlen(names[i]) > width) width = strlen(names[i]);
    int code = CLI_PASS;
    for (size_t i = 0; i < n; i++) {
        const bk_table *t = NULL;
        if (bk_tables_table(tables, names[i], (bk_place){0}, &t, errors) != BK_OK) {
            code = CLI_WRONG;
            continue;
        }
        fprintf(out->stream, "%-*s  %4zu rows  %-10s  %s  (%s%s%s)%s\n", (int)width, t->name, t->n_rows, bk_mark_text(t->mark),
                t->title, t->source, *t->edition ? ", " : "", t->edition, t->shipped ? "" : "  user's table");
    }
    return code;
}

static void about(const bk_table *t, page *out)
{
    fprintf(out->stream, "%s: %s\n", t->name, t->title);
    fprintf(out->stream, "  source   %s%s%s%s%s\n", t->source, *t->edition ? ", " : "", t->edition, *t->clause ? ", " : "",
            t->clause);
    fprintf(out->stream, "  mark     %s%s\n", bk_mark_text(t->mark),
            t->mark == BK_MARK_MEMORY ? ": not confirmed against the source, check before use" : "");
    if (*t->note) fprintf(out->stream, "  note     %s\n", t->note);
    fprintf(out->stream, "  file     %s%s\n  sha256   %s\n\n", t->path, t->shipped ? "" : " (user's table)", t->digest);
}

static void show(const bk_table *t, page *out)
{
    about(t, out);
    for (size_t i = 0; i < t->n_rows; i++) {
        const bk_row *row = &t->rows[i];
        fprintf(out->stream, "%s", row->ref);
        for (size_t k = 0; k < row->map->n; k++)
            if (row->map->pairs[k].value->kind == BK_YAML_SCALAR)
                fprintf(out->stream, "  %s: %s", row->map->pairs[k].key, row->map->pairs[k].value->text);
        if (row->mark != t->mark) fprintf(out->stream, "  [%s]", bk_mark_text(row->mark));
        fprintf(out->stream, "\n");
    }
}

int cli_tables(int argc, char **argv)
{
    static const struct option known[] = {{"tables", required_argument, NULL, 't'},
                                          {"check", required_argument, NULL, 'c'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    cli_common common;
    cli_common_open(&common);
    const char *check = NULL;
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":t:h", known, NULL)) != -1;) {
        switch (option) {
        case 't':
            if (!cli_common_tables(&common, optarg)) code = cli_usage("tables", "too many --tables");
            break;
        case 'c': check = optarg; break;
        case 'h': code = cli_help("tables"); break;
        default: code = cli_bad_option("tables", argv, known);
        }
    }
    if (code < 0 && optind + 1 < argc) code = cli_usage("tables", "want one table at the most");
    if (code >= 0) {
        cli_common_close(&common);
        return code;
    }
    const char *dirs[CLI_DIRS_MAX + 4];
    size_t n = 0;
    for (size_t i = 0; i < common.options.n_table_dirs; i++) dirs[n++] = common.table_dirs[i];
    if (common.options.config_dir) dirs[n++] = common.options.config_dir;
    const size_t shipped_from = n;
    for (size_t i = 0; i < common.options.n_shipped_dirs; i++) dirs[n++] = common.shipped_dirs[i];

    bk_errors *errors = bk_errors_new();
    bk_tables *tables = bk_tables_new(dirs, n, shipped_from);
    page out = {0};
    out.stream = open_memstream(&out.bytes, &out.size);
    code = CLI_WRONG;
    if (errors && tables && out.stream) {
        const bk_table *table = NULL;
        if (check) {
            if (bk_tables_check_file(tables, check, &table, errors) == BK_OK) {
                about(table, &out);
                fprintf(out.stream, "%zu rows, no mistake found\n", table->n_rows);
                code = CLI_PASS;
            }
        } else if (optind < argc) {
            if (bk_tables_table(tables, argv[optind], (bk_place){0}, &table, errors) == BK_OK) {
                show(table, &out);
                code = CLI_PASS;
            }
        } else {
            code = list(tables, errors, &out);
        }
        cli_print_errors(errors);
    }
    if (out.stream && fclose(out.stream) != 0) code = CLI_WRONG;
    if (code == CLI_PASS)
        code = cli_write(out.bytes, code);
    else
        free(out.bytes);
    bk_tables_free(tables);
    bk_errors_free(errors);
    cli_common_close(&common);
    return code;
}
