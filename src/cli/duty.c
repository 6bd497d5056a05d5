/* becket duty: hoist duty, remaining life, inspection intervals. */
#include "cli.h"

#include <getopt.h>
#include <string.h>

/* The exit status speaks of the hoists alone. */
static int hoists_pass(const bk_assessment *assessment)
{
    const bk_findings *all = assessment->findings;
    for (size_t i = 0; i < all->n; i++)
        if (strncmp(all->at[i].check, "hoist.", 6) == 0 && !all->at[i].passes) return CLI_FAIL;
    return CLI_PASS;
}

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    (void)errors;
    if (assessment->plan->n_hoists == 0) return cli_usage("duty", "the plan has no hoists");
    return cli_write(request->json ? bk_report_json(assessment, NULL) : bk_report_duty(assessment, cli_style()),
                     hoists_pass(assessment));
}

int cli_duty(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    return cli_with_plan(argc, argv, known, false, false, finish);
}
