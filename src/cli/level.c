/* becket level, becket hooks: how to hang it level, how much margin is left, how several hooks share. */
#include "cli.h"

#include <getopt.h>
#include <stdlib.h>

static bool length_of(const char *command, const char *name, const char *text, double *out, int *code)
{
    bk_value value;
    char why[300];
    *out = 0;
    if (!text) return true;
    if (bk_quantity_read(text, BK_DIM_LENGTH, &value, why, sizeof why) != BK_OK || !(value.v > 0)) {
        *code = cli_usage(command, "--%s: want a length over 0, got %s", name, text);
        return false;
    }
    *out = value.v;
    return true;
}

static size_t heaviest(const bk_plan *plan)
{
    size_t best = 0;
    for (size_t i = 1; i < plan->n_bodies; i++)
        if (plan->bodies[i].mass_kg.v > plan->bodies[best].mass_kg.v) best = i;
    return best;
}

static int finish_level(bk_assessment *a, const cli_request *request, bk_errors *errors)
{
    int code = CLI_WRONG;
    double step, travel;
    if (!length_of("level", "step", request->step, &step, &code) || !length_of("level", "travel", request->travel, &travel, &code))
        return code;
    if (!a->has_rig || a->plan->n_bodies == 0) return cli_usage("level", "the plan has no load to level");
    bk_level lengths, hooks;
    bk_margin margin;
    bk_status status = bk_advise_level_by_lengths(a, step, travel, request->even, &lengths, errors);
    if (status == BK_OK) status = bk_advise_level_by_hooks(a, &hooks, errors);
    if (status == BK_OK) status = bk_advise_margin(a, heaviest(a->plan), 8, &margin, errors);
    if (status != BK_OK) return cli_exit_of(status);
    return cli_write(bk_report_level(a, &lengths, &hooks, &margin, request->even, cli_style()),
                     lengths.possible || hooks.possible ? CLI_PASS : CLI_FAIL);
}

int cli_level(int argc, char **argv)
{
    static const struct option known[] = {{"step", required_argument, NULL, 's'},  {"travel", required_argument, NULL, 'T'},
                                          {"even", no_argument, NULL, 'e'},        {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},        {0}};
    return cli_with_plan(argc, argv, known, false, false, finish_level);
}

static int finish_hooks(bk_assessment *a, const cli_request *request, bk_errors *errors)
{
    int code = CLI_WRONG;
    double ahead;
    if (!length_of("hooks", "ahead", request->ahead, &ahead, &code)) return code;
    size_t loaded = 0;
    for (size_t i = 0; a->has_rig && i < a->plan->n_anchors; i++) loaded += bk_vec3_norm(a->hang->anchor_N[i]) > 0;
    if (loaded < 2) return cli_usage("hooks", "the load hangs on fewer than two hooks");
    if (loaded > 200) return cli_usage("hooks", "the load hangs on more than 200 hooks: look at it in parts");
    if (ahead == 0) ahead = 0.2;
    bk_lift_share *shares = calloc(a->plan->n_anchors, sizeof *shares);
    bk_turning turning = {0};
    bk_status status = shares ? BK_OK : BK_E_NOMEM;
    for (size_t i = 0; status == BK_OK && i < a->plan->n_anchors; i++)
        status = bk_advise_running_ahead(a, i, ahead, 9, &shares[i], errors);
    if (status == BK_OK && loaded == 2) status = bk_advise_turning(a, heaviest(a->plan), 19, &turning, errors);
    code = status == BK_OK ? cli_write(bk_report_hooks(a, shares, &turning, cli_style()), CLI_PASS) : cli_exit_of(status);
    free(shares);
    return code;
}

int cli_hooks(int argc, char **argv)
{
    static const struct option known[] = {{"ahead", required_argument, NULL, 'a'},
                                          {"tables", required_argument, NULL, 't'},
                                          {"help", no_argument, NULL, 'h'},
                                          {0}};
    return cli_with_plan(argc, argv, known, false, false, finish_hooks);
}
