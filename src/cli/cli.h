/* cli: what the commands share.  Uses the public headers only. */
#ifndef BK_CLI_H
#define BK_CLI_H

#include <becket/becket.h>

/* Exit statuses. */
enum { CLI_PASS = 0, CLI_FAIL = 1, CLI_WRONG = 2, CLI_UNSTABLE = 3 };

typedef struct cli_command {
    const char *name, *arguments, *summary;
    const char *help; /* options and examples */
    int (*run)(int argc, char **argv); /* argv[0] is the command's name */
} cli_command;
extern const cli_command cli_commands[]; /* ends with a NULL name */

int cli_angle(int argc, char **argv);
int cli_check(int argc, char **argv);
int cli_draw(int argc, char **argv);
int cli_duty(int argc, char **argv);
int cli_explain(int argc, char **argv);
int cli_hooks(int argc, char **argv);
int cli_level(int argc, char **argv);
int cli_new(int argc, char **argv);
int cli_schema(int argc, char **argv);
int cli_tables(int argc, char **argv);
int cli_help(const char *command); /* NULL: of the whole program */

/* Options that every command with a plan takes. */
#define CLI_DIRS_MAX 16
typedef struct cli_common {
    bk_options options;
    const char *table_dirs[CLI_DIRS_MAX];
    const char *shipped_dirs[4];
    char *owned[4]; /* texts to free */
    size_t n_owned;
} cli_common;
void cli_common_open(cli_common *common);
void cli_common_close(cli_common *common);
/* --tables DIR; a message and *code when it is no folder, or there are too many. */
void cli_common_tables(cli_common *common, const char *command, const char *dir, int *code);
/* The tables for a command without a plan: --tables, the user's, the shipped ones.  NULL when memory is out. */
bk_tables *cli_open_tables(const cli_common *common);
/* --units si|us; false, a message and *code for another word. */
bool cli_units(const char *command, const char *text, bk_system *units, int *code);

/* What a command with a plan was asked. */
typedef struct cli_request {
    cli_common *common;
    bool json, csv, working, largest, cases, even;
    const char *item, *output, *paper, *step, *travel, *ahead;
} cli_request;
/* Prints the answer and returns the exit status. */
typedef int cli_finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors);
/* Reads options (their letters are those of with_plan.c), assesses the plan, calls finish.  record: keep workings. */
struct option;
int cli_with_plan(int argc, char **argv, const struct option *known, bool record, bool takes_item, cli_finish *finish);
/* Exit status of an assessment. */
int cli_verdict(const bk_assessment *assessment);

/* A mistake in the command line: message on standard error, CLI_WRONG. */
int cli_usage(const char *command, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* getopt_long returned '?' or ':': the same with the option and the nearest one. */
int cli_bad_option(const char *command, char **argv, const struct option *known);
/* One message to standard error: "FILE: BK-nnn WHY", file NULL for the program itself; returns CLI_WRONG. */
int cli_failed(const char *file, bk_status status, const char *why);
int cli_out_of_memory(void);
/* Prints all messages to standard error; NULL: there was no memory for a list of them. */
void cli_print_errors(const bk_errors *errors);
/* Exit status for a status that is not BK_OK. */
int cli_exit_of(bk_status status);
/* Writes text to standard output and frees it; NULL is out of memory.  Returns code, or CLI_WRONG when the text
 * cannot be written in full. */
int cli_write(char *text, int code);
/* Writes n bytes to a file: whole or not at all (see save.c); replace: over what is there.  Returns code, or CLI_WRONG after
 * a message. */
int cli_save(const char *path, const void *bytes, size_t n, int code, bool replace);
/* Format by the name's ending and paper by its name (NULL: by the units); false after a message. */
bool cli_sheet_options(const char *command, const char *output, const char *paper, bk_system units, bk_sheet_options *out, int *code);
/* Width and colour for standard output: NO_COLOR, CLICOLOR_FORCE, terminal or not. */
bk_style cli_style(void);

#endif
