/* with_plan: what every command that reads a plan does the same way: options, assessment, messages, exit status. */
#include "cli.h"

#include <getopt.h>
#include <string.h>

static bool understand(const char *command, int option, cli_request *request, cli_common *common, int *code)
{
    switch (option) {
    case 'j': request->json = true; return true;
    case 'c': request->csv = true; return true;
    case 'd': common->options.no_envelope = true; return true;
    case 'w': request->working = true; return true;
    case 'l': request->largest = true; return true;
    case 'C': request->cases = true; return true;
    case 'e': request->even = true; return true;
    case 's': request->step = optarg; return true;
    case 'T': request->travel = optarg; return true;
    case 'a': request->ahead = optarg; return true;
    case 'o': request->output = optarg; return true;
    case 'p': request->paper = optarg; return true;
    case 't': cli_common_tables(common, command, optarg, code); return true;
    case 'h': *code = cli_help(command); return true;
    default: return false;
    }
}

int cli_with_plan(int argc, char **argv, const struct option *known, bool record, bool takes_item, cli_finish *finish)
{
    const char *command = argv[0];
    cli_common common;
    cli_common_open(&common);
    cli_request request = {.common = &common};
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":t:o:h", known, NULL)) != -1;)
        if (!understand(command, option, &request, &common, &code)) code = cli_bad_option(command, argv, known);
    if (code < 0 && (optind >= argc || !*argv[optind])) code = cli_usage(command, "want a plan file, or - for standard input");
    if (code < 0 && optind + (takes_item ? 2 : 1) < argc)
        code = cli_usage(command, takes_item ? "want a plan and at most one item" : "want one plan file");
    if (code < 0 && request.json && request.csv) code = cli_usage(command, "--json or --csv, not both");
    if (code < 0 && request.csv && (request.cases || request.largest))
        code = cli_usage(command, "--csv is a list of checks: --cases and --largest want text or --json");
    if (code < 0) {
        if (optind + 1 < argc) request.item = argv[optind + 1];
        common.options.record = record || request.working;
        bk_errors *errors = bk_errors_new();
        bk_assessment *assessment = NULL;
        const bk_status status =
            errors ? bk_assess(argv[optind], &common.options, &assessment, errors) : BK_E_NOMEM;
        if (status == BK_OK)
            code = finish(assessment, &request, errors);
        else
            code = cli_exit_of(status);
        cli_print_errors(errors);
        bk_assessment_free(assessment);
        bk_errors_free(errors);
    }
    cli_common_close(&common);
    return code;
}

int cli_verdict(const bk_assessment *assessment)
{
    return assessment->verdict == BK_VERDICT_PASS ? CLI_PASS : CLI_FAIL;
}
