/* becket duty: hoist duty, remaining life, inspection intervals. */
#include "cli.h"

#include <getopt.h>

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    (void)errors;
    if (assessment->plan->n_hoists == 0) return cli_usage("duty", "the plan has no hoists");
    return cli_write(request->json ? bk_report_json(assessment, NULL) : bk_report_duty(assessment, cli_style()),
                     bk_duty_passes(assessment) ? CLI_PASS : CLI_FAIL);
}

int cli_duty(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    return cli_with_plan(argc, argv, known, false, false, finish);
}
