/* becket explain: the working of a figure. */
#include "cli.h"

#include <getopt.h>

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    (void)errors;
    bool known = false;
    const char *nearest = NULL;
    char *text = request->json ? bk_report_working_json(assessment, request->item, &known, &nearest)
                               : bk_report_working(assessment, request->item, cli_style(), &known, &nearest);
    if (known) return cli_write(text, CLI_PASS);
    return cli_usage("explain", "nothing in the plan's checks is named %s%s%s", request->item, nearest ? "; nearest: " : "",
                     nearest ? nearest : "");
}

int cli_explain(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},
                                          {"as-drawn", no_argument, NULL, 'd'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    return cli_with_plan(argc, argv, known, true, true, finish);
}
