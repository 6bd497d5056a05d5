/* becket angle: leg tension against leg angle, with no plan. */
#include "cli.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

typedef struct request {
    const char *load, *angle, *from, *height, *spread, *length, *sling, *rules, *units, *output, *paper;
    int legs;
    bool equalised, lesson;
} request;

static bool quantity(const char *name, const char *text, bk_dim dim, double *out, int *code)
{
    *out = NAN;
    if (!text) return true;
    bk_value value;
    char why[300];
    if (bk_quantity_read(text, dim, &value, why, sizeof why) != BK_OK) {
        *code = cli_usage("angle", "--%s: %s", name, why);
        return false;
    }
    if (!(value.v > 0) && !(strcmp(name, "angle") == 0 && value.v == 0)) {
        *code = cli_usage("angle", "--%s: want more than nothing, got %s", name, text);
        return false;
    }
    if (value.tol > 0) {
        *code = cli_usage("angle",
                          "--%s: want the figure alone, take the worst of its tolerance yourself: got %s",
                          name, text);
        return false;
    }
    *out = value.v;
    return true;
}

/* The angle asked for, from what was given; NaN when nothing was.  False: *code is the exit status. */
static bool find_angle(const request *r, double *beta, int *code)
{
    double angle, height, spread, length;
    *beta = NAN;
    if (!quantity("angle", r->angle, BK_DIM_ANGLE, &angle, code) ||
        !quantity("height", r->height, BK_DIM_LENGTH, &height, code) ||
        !quantity("spread", r->spread, BK_DIM_LENGTH, &spread, code) ||
        !quantity("length", r->length, BK_DIM_LENGTH, &length, code))
        return false;
    if (r->angle && (r->height || r->spread || r->length)) {
        *code = cli_usage("angle", "give an angle, or a height or length with a spread, not both");
        return false;
    }
    if (r->angle) {
        if (!r->from) {
            *code = cli_usage(
                "angle",
                "an angle from what? 30 deg from the vertical pulls 1.15 times its share, 30 deg from "
                "the horizontal pulls 2 times: add --from vertical or --from horizontal");
            return false;
        }
        if (strcmp(r->from, "vertical") == 0)
            *beta = angle;
        else if (strcmp(r->from, "horizontal") == 0)
            *beta = BK_PI / 2 - angle;
        else {
            *code = cli_usage("angle", "--from: want vertical or horizontal, got %s", r->from);
            return false;
        }
        if (!(*beta >= 0 && *beta < BK_PI / 2 * (1 - 1e-6))) {
            *code = cli_usage(
                "angle", "--angle: a leg that carries stands between upright and level, got %s from the %s",
                r->angle, r->from);
            return false;
        }
        return true;
    }
    if (r->from) {
        *code = cli_usage("angle", "--from says where an angle is measured from: it wants --angle");
        return false;
    }
    if (!r->height && !r->spread && !r->length) return true;
    if (!r->spread || (r->height != NULL) == (r->length != NULL)) {
        *code = cli_usage("angle", "want --spread with one of --height and --length");
        return false;
    }
    *beta = r->height ? bk_leg_angle_of_height(r->legs, height, spread) : bk_leg_angle_of_length(r->legs, length, spread);
    if (isnan(*beta)) {
        *code = cli_usage("angle", "legs of %s do not meet over a spread of %s", r->length, r->spread);
        return false;
    }
    return true;
}

static int picture(const char *output, const bk_leg_question *q, const bk_sheet_options *options, int code,
                   bk_errors *errors)
{
    char *bytes = NULL;
    size_t n = 0;
    const bk_status status = bk_sheet_draw_angle(q, options, &bytes, &n, errors);
    code = status == BK_OK ? cli_save(output, bytes, n, code, true) : CLI_WRONG;
    free(bytes);
    return code;
}

/* A figure of the rule set. */
static bk_status rule(const bk_rules *rules, const char *name, bk_dim dim, double *value, bk_errors *errors)
{
    const bk_rule *found = bk_rules_number(rules, name, dim);
    if (!found)
        return bk_fail(errors, (bk_place){.file = rules->table->path}, BK_E_RULE, "rule set %s has no %s %s",
                       rules->name, bk_dim_name(dim), name);
    *value = found->value;
    return BK_OK;
}

/* How flat the rule set lets a leg be, and how many legs it counts. */
static bk_status ask_rules(const request *r, bk_tables *tables, bk_leg_question *q, bk_errors *errors)
{
    const bk_rules *rules = NULL;
    double counted = r->legs;
    bk_status status = bk_tables_rig_rules(tables, q->rules, (bk_place){0}, &rules, errors);
    if (status == BK_OK) status = rule(rules, "angle.max_from_vertical", BK_DIM_ANGLE, &q->max_from_vertical_rad, errors);
    if (status == BK_OK) status = rule(rules, "angle.warn_from_vertical", BK_DIM_ANGLE, &q->warn_from_vertical_rad, errors);
    if (status == BK_OK && r->legs >= 4 && !r->equalised)
        status = rule(rules, "legs.carrying_of_four", BK_DIM_NONE, &counted, errors);
    q->carrying = (int)counted;
    return status;
}

static int answer(const request *r, cli_common *common)
{
    int code = CLI_WRONG;
    bk_leg_question q = {
        .load_N = 1, .legs = r->legs, .carrying = r->legs, .rules = r->rules ? r->rules : "en"};
    double load;
    if (!quantity("load", r->load, BK_DIM_FORCE, &load, &code) ||
        !quantity("sling", r->sling, BK_DIM_FORCE, &q.wll_N, &code) ||
        !find_angle(r, &q.from_vertical_rad, &code))
        return code;
    if (isfinite(load)) q.load_N = load, q.load_given = true;
    if (isfinite(q.wll_N) && !q.load_given) return cli_usage("angle", "--sling wants a --load to carry");
    if (r->units && !cli_units("angle", r->units, &q.units, &code)) return code;

    bk_sheet_options options = {0};
    if (r->paper && !r->output) return cli_usage("angle", "--paper is of a picture: it wants -o FILE");
    if (r->lesson && r->output) return cli_usage("angle", "--lesson or -o, not both");
    if (r->output && !cli_sheet_options("angle", r->output, r->paper, q.units, &options, &code)) return code;

    bk_errors *errors = bk_errors_new();
    bk_tables *tables = cli_open_tables(common);
    if (errors && tables && ask_rules(r, tables, &q, errors) == BK_OK) {
        code = bk_leg_answer_good(&q) ? CLI_PASS : CLI_FAIL;
        if (r->output)
            code = picture(r->output, &q, &options, code, errors);
        else if (r->lesson)
            code = cli_write(bk_report_angle_lesson(&q, cli_style()), CLI_PASS);
        else
            code = cli_write(bk_report_angle(&q, cli_style()), code);
    }
    cli_print_errors(tables ? errors : NULL);
    bk_tables_free(tables);
    bk_errors_free(errors);
    return code;
}

int cli_angle(int argc, char **argv)
{
    enum { LOAD = 256, LEGS, ANGLE, FROM, HEIGHT, SPREAD, LENGTH, SLING, RULES, UNITS, EQUALISED, LESSON };
    static const struct option known[] = {{"load", required_argument, NULL, LOAD},
                                          {"legs", required_argument, NULL, LEGS},
                                          {"angle", required_argument, NULL, ANGLE},
                                          {"from", required_argument, NULL, FROM},
                                          {"height", required_argument, NULL, HEIGHT},
                                          {"spread", required_argument, NULL, SPREAD},
                                          {"length", required_argument, NULL, LENGTH},
                                          {"sling", required_argument, NULL, SLING},
                                          {"rules", required_argument, NULL, RULES},
                                          {"units", required_argument, NULL, UNITS},
                                          {"equalised", no_argument, NULL, EQUALISED},
                                          {"lesson", no_argument, NULL, LESSON},
                                          {"output", required_argument, NULL, 'o'},
                                          {"paper", required_argument, NULL, 'p'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    cli_common common;
    cli_common_open(&common);
    request r = {.legs = 2};
    int code = -1;
    opterr = 0;
    for (int option; code < 0 && (option = getopt_long(argc, argv, ":ho:t:", known, NULL)) != -1;) {
        switch (option) {
        case LOAD:
            r.load = optarg;
            break;
        case LEGS:
            r.legs = strlen(optarg) == 1 && *optarg >= '1' && *optarg <= '8' ? *optarg - '0' : 0;
            if (r.legs == 0) code = cli_usage("angle", "--legs: want 1 to 8, got %s", optarg);
            break;
        case ANGLE:
            r.angle = optarg;
            break;
        case FROM:
            r.from = optarg;
            break;
        case HEIGHT:
            r.height = optarg;
            break;
        case SPREAD:
            r.spread = optarg;
            break;
        case LENGTH:
            r.length = optarg;
            break;
        case SLING:
            r.sling = optarg;
            break;
        case RULES:
            r.rules = optarg;
            break;
        case UNITS:
            r.units = optarg;
            break;
        case EQUALISED:
            r.equalised = true;
            break;
        case LESSON:
            r.lesson = true;
            break;
        case 'o':
            r.output = optarg;
            break;
        case 'p':
            r.paper = optarg;
            break;
        case 't':
            cli_common_tables(&common, "angle", optarg, &code);
            break;
        case 'h':
            code = cli_help("angle");
            break;
        default:
            code = cli_bad_option("angle", argv, known);
        }
    }
    if (code < 0 && optind < argc) code = cli_usage("angle", "takes options only, got %s; a figure with a space wants quotes: --height \"3 m\"", argv[optind]);
    if (code < 0) code = answer(&r, &common);
    cli_common_close(&common);
    return code;
}
