/* becket explain: the working of a figure. */
#include "cli.h"

#include <getopt.h>

int cli_explain(int argc, char **argv)
{
    static const struct option known_options[] = {{"json", no_argument, NULL, 'j'},
                                                  {"as-drawn", no_argument, NULL, 'd'},
                                                  {"tables", required_argument, NULL, 't'},
                                                  {"help", no_argument, NULL, 'h'},
                                                  {0}};
    cli_common common;
    cli_common_open(&common);
    common.options.record = true;
    bool json = false;
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":t:h", known_options, NULL)) != -1;) {
        switch (option) {
        case 'j': json = true; break;
        case 'd': common.options.no_envelope = true; break;
        case 't':
            if (!cli_common_tables(&common, optarg)) code = cli_usage("explain", "too many --tables");
            break;
        case 'h': code = cli_help("explain"); break;
        default: code = cli_bad_option("explain", argv, known_options);
        }
    }
    if (code < 0 && (optind >= argc || optind + 2 < argc)) code = cli_usage("explain", "want a plan and at most one item");
    if (code >= 0) {
        cli_common_close(&common);
        return code;
    }
    const char *item = optind + 1 < argc ? argv[optind + 1] : NULL;
    bk_errors *errors = bk_errors_new();
    bk_assessment *assessment = NULL;
    const bk_status status = bk_assess(argv[optind], &common.options, &assessment, errors);
    if (status == BK_OK) {
        bool known = false;
        const char *nearest = NULL;
        char *text = json ? bk_report_working_json(assessment, item, &known, &nearest)
                          : bk_report_working(assessment, item, cli_style(), &known, &nearest);
        code = known ? cli_write(text, CLI_PASS)
                     : cli_usage("explain", "nothing in the plan's checks is named %s%s%s", item, nearest ? "; nearest: " : "",
                                 nearest ? nearest : "");
    } else {
        if (errors) cli_print_errors(errors);
        code = cli_exit_of(status);
    }
    bk_assessment_free(assessment);
    bk_errors_free(errors);
    cli_common_close(&common);
    return code;
}
