/* becket check: the load check of a plan. */
#include "cli.h"

#include <getopt.h>

/* Text says what would pass and the largest load wherever something fails; other programs get what they ask for. */
static bk_status advise(bk_assessment *a, const cli_request *request, bk_advice *advice, bk_errors *errors)
{
    *advice = (bk_advice){.all_effects = request->cases};
    const bool fails = !request->json && a->verdict == BK_VERDICT_FAIL;
    bk_status status = BK_OK;
    if (request->cases || !request->json) status = bk_advise_effects(a, &advice->effects, &advice->n_effects, errors);
    if (status == BK_OK && fails)
        status = bk_advise_would_pass(a, &request->common->options, &advice->would_pass, &advice->n_would_pass, errors);
    if (status == BK_OK && (request->largest || (fails && a->has_rig))) {
        status = bk_advise_largest_load(a, &request->common->options, &advice->largest, errors);
        advice->has_largest = true;
    }
    return status;
}

static int finish(bk_assessment *assessment, const cli_request *request, bk_errors *errors)
{
    if (request->csv) return cli_write(bk_report_csv(assessment), cli_verdict(assessment));
    bk_advice advice;
    const bk_status status = advise(assessment, request, &advice, errors);
    if (status != BK_OK) return cli_exit_of(status);
    if (request->json) return cli_write(bk_report_json(assessment, &advice), cli_verdict(assessment));
    return cli_write(bk_report_text(assessment, &advice, cli_style()), cli_verdict(assessment));
}

int cli_check(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},        {"csv", no_argument, NULL, 'c'},
                                          {"as-drawn", no_argument, NULL, 'd'},    {"largest", no_argument, NULL, 'l'},
                                          {"cases", no_argument, NULL, 'C'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},        {0}};
    return cli_with_plan(argc, argv, known, false, false, finish);
}
