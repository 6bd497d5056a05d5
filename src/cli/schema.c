/* becket schema: the plan's keys, for editors and for the manual. */
#include "cli.h"

#include <getopt.h>

int cli_schema(int argc, char **argv)
{
    static const struct option known[] = {{"manual", no_argument, NULL, 'm'}, {"help", no_argument, NULL, 'h'}, {0}};
    bool manual = false;
    opterr = 0;
    for (int option; (option = getopt_long(argc, argv, ":h", known, NULL)) != -1;) {
        switch (option) {
        case 'm': manual = true; break;
        case 'h': return cli_help("schema");
        default: return cli_bad_option("schema", argv, known);
        }
    }
    if (optind < argc) return cli_usage("schema", "takes no %s", argv[optind]);
    return cli_write(manual ? bk_report_keys_manual(BK_VERSION) : bk_report_schema(), CLI_PASS);
}
