/* becket check: the load check of a plan. */
#include "cli.h"

#include <getopt.h>

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    (void)errors;
    char *text = request->json  ? bk_report_json(assessment)
                 : request->csv ? bk_report_csv(assessment)
                                : bk_report_text(assessment, cli_style());
    return cli_write(text, cli_verdict(assessment));
}

int cli_check(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},        {"csv", no_argument, NULL, 'c'},
                                          {"as-drawn", no_argument, NULL, 'd'},    {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},        {0}};
    return cli_with_plan(argc, argv, known, false, false, finish);
}
