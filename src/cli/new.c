/* becket new: a commented plan to start from; --ask leads through it with questions. */
#include "cli.h"
#include "templates.h"

#include <errno.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define QUESTIONS_MAX 16
#define ANSWER_MAX    200

typedef struct answers {
    const cli_question *questions;
    char text[QUESTIONS_MAX][ANSWER_MAX];
    double length_m[QUESTIONS_MAX];
} answers;

static const cli_question *question_of(const answers *a, const char *name, size_t length, size_t *i)
{
    for (*i = 0; a->questions[*i].name; (*i)++)
        if (strlen(a->questions[*i].name) == length && strncmp(a->questions[*i].name, name, length) == 0)
            return &a->questions[*i];
    return NULL;
}

/* True when the text can stand between double quotes in a plan as it is; the reader itself says why not. */
static bool quotable(const char *text)
{
    char quoted[ANSWER_MAX + 2];
    snprintf(quoted, sizeof quoted, "\"%s\"", text);
    bk_arena *arena = bk_arena_new();
    bk_errors *errors = bk_errors_new();
    const bk_yaml *root = NULL;
    const bool good = !strpbrk(text, "\"\\") && arena && errors &&
                      bk_yaml_read(arena, NULL, quoted, strlen(quoted), &root, errors) == BK_OK &&
                      root->kind == BK_YAML_SCALAR && strcmp(root->text, text) == 0;
    bk_arena_free(arena);
    bk_errors_free(errors);
    return good;
}

/* Takes an answer; false and a sentence on standard error when it will not do. */
static bool take(answers *a, size_t i, const char *text)
{
    const cli_question *q = &a->questions[i];
    if (strlen(text) >= ANSWER_MAX || (q->text && text != q->usual && !quotable(text))) {
        fprintf(stderr, "  want a short text without quotes\n");
        return false;
    }
    if (!q->text) {
        bk_value value;
        char why[300];
        if (bk_quantity_read(text, q->dim, &value, why, sizeof why) != BK_OK) {
            bk_arena *arena = bk_arena_new();
            const char *safe = arena ? bk_text_safe(arena, why) : NULL;
            fprintf(stderr, "  %s\n", safe ? safe : "that is no figure");
            bk_arena_free(arena);
            return false;
        }
        if (q->above_zero && !(value.v > 0)) {
            fprintf(stderr, "  want more than nothing\n");
            return false;
        }
        if (value.tol > 0) {
            fprintf(stderr, "  want the figure alone: tolerances are set in the plan\n");
            return false;
        }
        a->length_m[i] = value.v;
    }
    strcpy(a->text[i], text);
    return true;
}

/* Reads one answer a question; false at the end of the input. */
static bool ask(answers *a)
{
    char *line = NULL;
    size_t room = 0;
    bool answered = true;
    for (size_t i = 0; answered && a->questions[i].name; i++) {
        const cli_question *q = &a->questions[i];
        do {
            fprintf(stderr, "%s [%s]: ", q->ask, q->usual);
            answered = getline(&line, &room, stdin) >= 0;
            if (answered) line[strcspn(line, "\r\n")] = '\0';
        } while (answered && !take(a, i, *line ? line : q->usual));
    }
    free(line);
    if (!answered) fputc('\n', stderr);
    return answered;
}

/* "length*2/3", "height+0.2", "drop+height" in metres, from the left. */
static double sum_of(const answers *a, const char *expression, size_t n)
{
    double value = 0;
    char sign = '+';
    for (size_t i = 0; i < n;) {
        const size_t length = strcspn(expression + i, "+-*/@");
        size_t which;
        double term = 0;
        char number[32]; /* cut out: read on, "2/3" would be a fraction */
        snprintf(number, sizeof number, "%.*s", (int)length, expression + i);
        if (question_of(a, expression + i, length, &which))
            term = a->length_m[which];
        else
            bk_number_read(number, &term);
        value = sign == '+'   ? value + term
                : sign == '-' ? value - term
                : sign == '*' ? value * term
                              : value / term;
        i += length;
        if (i < n) sign = expression[i++];
    }
    return value;
}

static void fill(const answers *a, const char *text, FILE *out)
{
    while (*text) {
        const size_t plain = strcspn(text, "@");
        fwrite(text, 1, plain, out);
        text += plain;
        if (!*text) break;
        const size_t n = strcspn(text + 1, "@");
        size_t which;
        const cli_question *q = question_of(a, text + 1, n, &which);
        if (q && q->dim != BK_DIM_LENGTH) {
            fputs(a->text[which], out);
        } else {
            char number[40];
            fputs(bk_plain_print(number, sizeof number, sum_of(a, text + 1, n), 6), out);
        }
        text += n + 2;
    }
}

static int make(const cli_template *template, bool asked, const char *output)
{
    if (output && access(output, F_OK) == 0) /* before anybody is asked */
        return cli_failed(output, BK_E_WRITE, strerror(EEXIST));
    answers a = {.questions = template->questions};
    if (!asked)
        for (size_t i = 0; a.questions[i].name; i++)
            take(&a, i, a.questions[i].usual);
    else if (!ask(&a))
        return cli_usage("new", "the questions were not answered to the end: nothing is written");
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    if (stream) fill(&a, template->text, stream);
    if (!stream || fclose(stream) != 0 || !text) {
        free(text);
        return cli_write(NULL, CLI_WRONG);
    }
    if (!output) return cli_write(text, CLI_PASS);
    const int code = cli_save(output, text, size, CLI_PASS, false);
    free(text);
    return code;
}

int cli_new(int argc, char **argv)
{
    static const struct option known[] = {{"ask", no_argument, NULL, 'a'},
                                          {"output", required_argument, NULL, 'o'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    bool asked = false;
    const char *output = NULL;
    opterr = 0;
    for (int option; (option = getopt_long(argc, argv, ":o:h", known, NULL)) != -1;) {
        switch (option) {
        case 'a':
            asked = true;
            break;
        case 'o':
            output = optarg;
            break;
        case 'h':
            return cli_help("new");
        default:
            return cli_bad_option("new", argv, known);
        }
    }
    const char *names[8];
    size_t n = 0;
    for (; cli_templates[n].name; n++)
        names[n] = cli_templates[n].name;
    for (size_t i = 0; i < n && optind + 1 == argc; i++)
        if (strcmp(argv[optind], names[i]) == 0) return make(&cli_templates[i], asked, output);
    char list[200] = "";
    for (size_t i = 0; i < n; i++) {
        strcat(list, i ? ", " : "");
        strcat(list, names[i]);
    }
    if (optind + 1 != argc) return cli_usage("new", "want one of %s", list);
    const char *near = bk_nearest(argv[optind], names, n);
    return cli_usage("new", "want one of %s, got %s%s%s", list, argv[optind], near ? "; nearest: " : "", near ? near : "");
}
