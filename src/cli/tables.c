/* becket tables: lists, shows and validates tables. */
#include "cli.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

typedef struct shelf {
    bk_tables *tables;
    bk_errors *errors;
    const bk_system *units; /* NULL: as written */
} shelf;

/* Everything there is, or every mistake there is. */
static int list(const shelf *s)
{
    const char *const *names, *const *set_names;
    size_t n = 0, n_sets = 0, found = 0, found_sets = 0;
    if (bk_tables_list(s->tables, &names, &n, s->errors) != BK_OK ||
        bk_tables_list_rules(s->tables, &set_names, &n_sets, s->errors) != BK_OK)
        return CLI_WRONG;
    const bk_table **tables = calloc(n + 1, sizeof *tables);
    const bk_rules **sets = calloc(n_sets + 1, sizeof *sets);
    char *text = NULL;
    bk_status status = tables && sets ? BK_OK : BK_E_NOMEM;
    for (size_t i = 0; i < n && status != BK_E_NOMEM; i++) {
        status = bk_tables_table(s->tables, names[i], (bk_place){0}, &tables[found], s->errors);
        found += status == BK_OK;
    }
    for (size_t i = 0; i < n_sets && status != BK_E_NOMEM; i++) { /* each file counts its own */
        status = bk_tables_rig_rules(s->tables, set_names[i], (bk_place){0}, &sets[found_sets], s->errors);
        found_sets += status == BK_OK;
    }
    const bool sound = found == n && found_sets == n_sets;
    if (sound && status != BK_E_NOMEM) text = bk_report_table_list(tables, found, sets, found_sets, cli_style());
    free(tables);
    free(sets);
    return sound || status == BK_E_NOMEM ? cli_write(text, CLI_PASS) : CLI_WRONG;
}

/* TABLE, TABLE/ROW or rules/SET. */
static int show(const shelf *s, const char *name)
{
    if (strncmp(name, "rules/", 6) == 0) {
        const bk_rules *rules = NULL;
        if (bk_tables_rules(s->tables, name + 6, (bk_place){0}, &rules, s->errors) != BK_OK) return CLI_WRONG;
        return cli_write(bk_report_rules(rules, s->units, cli_style()), CLI_PASS);
    }
    if (strchr(name, '/')) {
        const bk_row *row = NULL;
        if (bk_tables_row(s->tables, name, (bk_place){0}, &row, s->errors) != BK_OK) return CLI_WRONG;
        return cli_write(bk_report_row(row, s->units, cli_style()), CLI_PASS);
    }
    const bk_table *table = NULL;
    if (bk_tables_table(s->tables, name, (bk_place){0}, &table, s->errors) != BK_OK) return CLI_WRONG;
    return cli_write(bk_report_table(table, s->units, cli_style()), CLI_PASS);
}

static int check(const shelf *s, const char *path)
{
    const bk_table *table = NULL;
    if (bk_tables_check_file(s->tables, path, &table, s->errors) != BK_OK) return CLI_WRONG;
    return cli_write(bk_report_table_sound(table, cli_style()), CLI_PASS);
}

static int answer(const cli_common *common, const bk_system *units, const char *file, const char *name)
{
    const shelf s = {cli_open_tables(common), bk_errors_new(), units};
    int code = CLI_WRONG;
    if (s.errors && s.tables) {
        code = file ? check(&s, file) : name ? show(&s, name) : list(&s);
        cli_print_errors(s.errors);
    } else {
        cli_out_of_memory();
    }
    bk_tables_free(s.tables);
    bk_errors_free(s.errors);
    return code;
}

int cli_tables(int argc, char **argv)
{
    static const struct option known[] = {{"tables", required_argument, NULL, 't'},
                                          {"check", required_argument, NULL, 'c'},
                                          {"units", required_argument, NULL, 'u'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    cli_common common;
    cli_common_open(&common);
    const char *file = NULL;
    bk_system system;
    bool converted = false;
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":t:h", known, NULL)) != -1;) {
        switch (option) {
        case 't':
            cli_common_tables(&common, "tables", optarg, &code);
            break;
        case 'c':
            file = optarg;
            break;
        case 'u':
            converted = cli_units("tables", optarg, &system, &code);
            break;
        case 'h':
            code = cli_help("tables");
            break;
        default:
            code = cli_bad_option("tables", argv, known);
        }
    }
    if (code < 0 && optind + (file ? 0 : 1) < argc)
        code = cli_usage("tables", "want one table at the most, or --check FILE");
    if (code < 0) code = answer(&common, converted ? &system : NULL, file, argv[optind]);
    cli_common_close(&common);
    return code;
}
