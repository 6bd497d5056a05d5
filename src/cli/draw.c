/* becket draw: the sheet of a plan. */
#include "cli.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool cli_sheet_options(const char *command, const char *output, const char *paper, bk_system units,
                       bk_sheet_options *out, int *code)
{
    static const char *const endings[] = {
        [BK_SHEET_PDF] = ".pdf", [BK_SHEET_SVG] = ".svg", [BK_SHEET_PNG] = ".png"};
    const char *dot = output ? strrchr(output, '.') : NULL;
    size_t format = 0;
    while (format < 3 && !(dot && strcasecmp(dot, endings[format]) == 0))
        format++;
    if (format == 3) {
        *code = output
                    ? cli_usage(command, "-o: want a name that ends with .pdf, .svg or .png, got %s", output)
                    : cli_usage(command, "want -o FILE with a name that ends with .pdf, .svg or .png");
        return false;
    }
    out->format = (bk_sheet_format)format;
    out->own_process = true;
    out->paper = units == BK_US ? BK_PAPER_LETTER : BK_PAPER_A4;
    if (!paper) return true;
    if (strcmp(paper, "a4") == 0)
        out->paper = BK_PAPER_A4;
    else if (strcmp(paper, "letter") == 0)
        out->paper = BK_PAPER_LETTER;
    else {
        *code = cli_usage(command, "--paper: want a4 or letter, got %s", paper);
        return false;
    }
    return true;
}

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    bk_sheet_options options = {.working = request->working};
    int code = CLI_WRONG;
    if (!cli_sheet_options("draw", request->output, request->paper, assessment->plan->units, &options, &code))
        return code;
    char *bytes = NULL;
    size_t n = 0;
    if (bk_sheet_draw(assessment, &options, &bytes, &n, errors) == BK_OK)
        code = cli_save(request->output, bytes, n, cli_verdict(assessment), true);
    free(bytes);
    return code;
}

int cli_draw(int argc, char **argv)
{
    static const struct option known[] = {{"output", required_argument, NULL, 'o'},
                                          {"paper", required_argument, NULL, 'p'},
                                          {"working", no_argument, NULL, 'w'},
                                          {"as-drawn", no_argument, NULL, 'd'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    return cli_with_plan(argc, argv, known, false, false, finish);
}
