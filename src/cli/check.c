/* becket check: the load check of a plan. */
#include "cli.h"

#include <getopt.h>

int cli_check(int argc, char **argv)
{
    static const struct option known[] = {{"json", no_argument, NULL, 'j'},
                                          {"csv", no_argument, NULL, 'c'},
                                          {"as-drawn", no_argument, NULL, 'd'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    cli_common common;
    cli_common_open(&common);
    enum { TEXT, JSON, CSV } form = TEXT;
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":t:h", known, NULL)) != -1;) {
        switch (option) {
        case 'j': form = JSON; break;
        case 'c': form = CSV; break;
        case 'd': common.options.no_envelope = true; break;
        case 't':
            if (!cli_common_tables(&common, optarg)) code = cli_usage("check", "too many --tables");
            break;
        case 'h': code = cli_help("check"); break;
        default: code = cli_bad_option("check", argv, known);
        }
    }
    if (code < 0 && optind + 1 != argc)
        code = cli_usage("check", optind == argc ? "want a plan file, or - for standard input" : "want one plan file");
    if (code >= 0) {
        cli_common_close(&common);
        return code;
    }
    bk_errors *errors = bk_errors_new();
    bk_assessment *assessment = NULL;
    const bk_status status = bk_assess(argv[optind], &common.options, &assessment, errors);
    if (status == BK_OK) {
        char *text = form == JSON  ? bk_report_json(assessment)
                     : form == CSV ? bk_report_csv(assessment)
                                   : bk_report_text(assessment, cli_style());
        code = cli_write(text, assessment->verdict == BK_VERDICT_PASS ? CLI_PASS : CLI_FAIL);
    } else {
        if (errors) cli_print_errors(errors);
        code = cli_exit_of(status);
    }
    bk_assessment_free(assessment);
    bk_errors_free(errors);
    cli_common_close(&common);
    return code;
}
