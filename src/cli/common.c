/* common: finding tables, messages, writing results. */
#include "cli.h"

#include <errno.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- tables ------------------------------------------------------------------------------------ */

static char *join(const char *a, const char *b)
{
    const size_t n = strlen(a) + strlen(b) + 2;
    char *path = malloc(n);
    if (path) snprintf(path, n, "%s/%s", a, b);
    return path;
}

static char *keep(cli_common *common, char *text)
{
    if (text) common->owned[common->n_owned++] = text;
    return text;
}

/* PREFIX/bin/becket -> PREFIX/TAIL: an installed tree may be moved, and a build folder inside the source tree finds the
 * tables of that tree. */
static char *beside_program(const char *tail)
{
    char path[4096];
    const ssize_t n = readlink("/proc/self/exe", path, sizeof path - 1);
    if (n <= 0) return NULL;
    path[n] = '\0';
    for (int up = 0; up < 2; up++) {
        char *slash = strrchr(path, '/');
        if (!slash) return NULL;
        *slash = '\0';
    }
    return join(path, tail);
}

void cli_common_open(cli_common *common)
{
    *common = (cli_common){0};
    common->options.table_dirs = common->table_dirs;
    common->options.shipped_dirs = common->shipped_dirs;
    const char *config = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
    if (config && *config == '/')
        common->options.config_dir = keep(common, join(config, "becket/tables"));
    else if (home && *home == '/')
        common->options.config_dir = keep(common, join(home, ".config/becket/tables"));
    size_t n = 0;
    const char *named = getenv("BECKET_TABLES");
    if (named && *named) common->shipped_dirs[n++] = named;
    static const char *const tails[] = {"share/becket/tables", "tables"};
    for (size_t i = 0; i < 2; i++) {
        char *beside = keep(common, beside_program(tails[i]));
        if (beside) common->shipped_dirs[n++] = beside;
    }
    common->shipped_dirs[n++] = BK_TABLES_DIR;
    common->options.n_shipped_dirs = n;
}

void cli_common_close(cli_common *common)
{
    for (size_t i = 0; i < common->n_owned; i++) free(common->owned[i]);
}

void cli_common_tables(cli_common *common, const char *command, const char *dir, int *code)
{
    struct stat about;
    if (stat(dir, &about) != 0)
        *code = cli_usage(command, "--tables %s: %s", dir, strerror(errno));
    else if (!S_ISDIR(about.st_mode))
        *code = cli_usage(command, "--tables %s: want a folder", dir);
    else if (common->options.n_table_dirs == CLI_DIRS_MAX)
        *code = cli_usage(command, "want --tables at most %d times", CLI_DIRS_MAX);
    else
        common->table_dirs[common->options.n_table_dirs++] = dir;
}

bk_tables *cli_open_tables(const cli_common *common)
{
    const bk_options *o = &common->options;
    const char *dirs[CLI_DIRS_MAX + 5];
    size_t n = 0;
    for (size_t i = 0; i < o->n_table_dirs; i++) dirs[n++] = o->table_dirs[i];
    if (o->config_dir) dirs[n++] = o->config_dir;
    const size_t shipped_from = n;
    for (size_t i = 0; i < o->n_shipped_dirs; i++) dirs[n++] = o->shipped_dirs[i];
    return bk_tables_new(dirs, n, shipped_from);
}

bool cli_units(const char *command, const char *text, bk_system *units, int *code)
{
    *units = strcmp(text, "us") == 0 ? BK_US : BK_SI;
    if (*units == BK_US || strcmp(text, "si") == 0) return true;
    *code = cli_usage(command, "--units: want si or us, got %s", text);
    return false;
}

/* ---- messages ---------------------------------------------------------------------------------- */

int cli_usage(const char *command, const char *format, ...)
{
    bk_errors *errors = bk_errors_new();
    va_list args;
    va_start(args, format);
    char text[400];
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    bk_fail(errors, (bk_place){0}, BK_E_USAGE, "%s", text);
    cli_print_errors(errors);
    fprintf(stderr, "becket: see `becket %s%s--help`\n", command ? command : "", command ? " " : "");
    bk_errors_free(errors);
    return CLI_WRONG;
}

int cli_bad_option(const char *command, char **argv, const struct option *known)
{
    const char *word = optind > 0 ? argv[optind - 1] : "";
    if (strncmp(word, "--", 2) != 0) return cli_usage(command, "unknown option -%c, or it wants a value", optopt);
    const char *names[32];
    size_t n = 0;
    const size_t length = strcspn(word + 2, "=");
    for (; n < 32 && known[n].name; n++) {
        names[n] = known[n].name;
        if (strlen(names[n]) == length && strncmp(names[n], word + 2, length) == 0)
            return cli_usage(command, "option --%s %s", names[n], known[n].has_arg ? "wants a value" : "takes no value");
    }
    const char *near = bk_nearest(word + 2, names, n);
    return cli_usage(command, "unknown option %s%s%s%s", word, near ? "; nearest: --" : "", near ? near : "", "");
}

static void print_message(const bk_message *message)
{
    char *line = bk_message_print(message);
    fprintf(stderr, "%s%s\n", line && message->place.file ? "" : "becket: ", line ? line : "BK-501 out of memory");
    free(line);
}

int cli_failed(const char *file, bk_status status, const char *why)
{
    print_message(&(bk_message){status, {file, 0, 0}, why});
    return CLI_WRONG;
}

int cli_out_of_memory(void)
{
    return cli_failed(NULL, BK_E_NOMEM, bk_status_text(BK_E_NOMEM));
}

void cli_print_errors(const bk_errors *errors)
{
    /* memory may have run out before there was a list, or a message in it */
    if (!errors || (errors->n == 0 && errors->first == BK_E_NOMEM)) {
        cli_out_of_memory();
        return;
    }
    for (size_t i = 0; i < errors->n; i++) print_message(&errors->at[i]);
    if (errors->dropped > 0) fprintf(stderr, "becket: and %zu more\n", errors->dropped);
}

int cli_exit_of(bk_status status)
{
    switch (status) {
    case BK_E_UNHELD:
    case BK_E_UNSTABLE:
    case BK_E_NO_CONVERGE: return CLI_UNSTABLE;
    default: return CLI_WRONG;
    }
}

/* ---- results ----------------------------------------------------------------------------------- */

int cli_write(char *text, int code)
{
    if (!text) return cli_out_of_memory();
    const bool written = fputs(text, stdout) >= 0 && fflush(stdout) == 0;
    const int why = errno;
    free(text);
    if (written) return code;
    if (why == EPIPE) return CLI_WRONG; /* whoever read it has seen enough, such as head: nothing to complain of */
    return cli_failed("standard output", BK_E_WRITE, strerror(why));
}

bk_style cli_style(void)
{
    bk_style style = {0};
    const bool terminal = isatty(STDOUT_FILENO) == 1;
    const char *no_colour = getenv("NO_COLOR"), *force = getenv("CLICOLOR_FORCE");
    style.colour = (terminal || (force && *force && *force != '0')) && !(no_colour && *no_colour);
    struct winsize size;
    if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) style.columns = size.ws_col;
    const char *columns = getenv("COLUMNS");
    if (!terminal && columns) {
        const long n = strtol(columns, NULL, 10);
        if (n > 0 && n < 1000) style.columns = (int)n;
    }
    return style;
}
