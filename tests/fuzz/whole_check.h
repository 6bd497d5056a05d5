/* What must hold of every plan that could be read, whatever it says: judged by the fuzz targets of the whole check. */
#ifndef BECKET_FUZZ_WHOLE_CHECK_H
#define BECKET_FUZZ_WHOLE_CHECK_H

#include <becket/report.h>

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MUST(condition)                                                                                      \
    do {                                                                                                     \
        if (!(condition)) {                                                                                  \
            fprintf(stderr, "%s:%d: %s\n", __FILE__, __LINE__, #condition);                                  \
            abort();                                                                                         \
        }                                                                                                    \
    } while (0)

/* One printed text: there, plain, and freed. */
static void must_be_plain(char *text)
{
    MUST(text);
    for (const char *c = text; *c; c++)
        MUST((unsigned char)*c >= 0x20 || *c == '\n' || *c == '\r' || *c == '\t');
    free(text);
}

static double number_of(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    MUST(value && (json_is_number(value) || json_is_null(value)));
    return json_is_number(value) ? json_number_value(value) : (double)NAN;
}

/* What the results say of themselves, read again as another program would. */
static void must_agree(const bk_assessment *a)
{
    char *text = bk_report_json(a, NULL);
    MUST(text);
    json_error_t error;
    json_t *root = json_loads(text, 0, &error);
    MUST(root);
    free(text);
    const json_t *rig = json_object_get(root, "rig"), *checks = json_object_get(root, "checks"), *check;
    MUST(a->has_rig == json_is_object(rig) && json_is_array(checks));
    if (a->has_rig) {
        MUST(json_is_true(json_object_get(rig, "converged")) && json_is_true(json_object_get(rig, "stable")));
        MUST(number_of(rig, "residual") <= 1e-9);
        MUST(json_array_size(json_object_get(rig, "lines")) == a->plan->n_lines);
    }
    bool fails = false, open = json_array_size(checks) == 0;
    size_t i;
    json_array_foreach((json_t *)(uintptr_t)checks, i, check)
    {
        const double demand = number_of(check, "demand"), limit = number_of(check, "limit");
        const json_t *passes = json_object_get(check, "passes");
        if (json_is_true(passes)) MUST(isfinite(demand) && isfinite(limit));
        else if (isfinite(demand) && isfinite(limit)) fails = true;
        else open = true;
    }
    const char *verdict = json_string_value(json_object_get(root, "verdict"));
    MUST(verdict && strcmp(verdict, fails ? "fail" : open ? "incomplete" : "pass") == 0);
    json_decref(root);
}

/* The balance of what is printed, and no small move of it that lowers the energy, both apart from the solver. */
static void must_balance(const bk_assessment *a)
{
    if (!a->has_rig) return;
    MUST(a->hang->residual <= 1e-9 && bk_statics_residual(a->plan, NULL, a->hang) <= 1e-9);
    for (size_t i = 0; i < a->plan->n_lines; i++) {
        MUST(isfinite(a->hang->tension_N[i]) && a->hang->tension_N[i] >= 0);
        MUST(a->hang->slack[i] == !(a->hang->tension_N[i] > 0));
        if (!a->envelope) continue;
        MUST(a->envelope->tension_max[i].value >= a->hang->tension_N[i] * (1 - 1e-9));
        MUST(a->envelope->tension_min[i].value <= a->hang->tension_N[i] * (1 + 1e-9));
    }
    /* what holds the rig up is what it weighs; anchors may also pull against each other and against the wind */
    double up_N = 0, most_N = 0;
    for (size_t i = 0; i < a->plan->n_anchors; i++) {
        up_N -= a->hang->anchor_N[i].z;
        most_N = fmax(most_N, bk_vec3_norm(a->hang->anchor_N[i]));
    }
    /* where lines are 1e9 times as stiff as the load is heavy, rounding of their lengths is worth so much */
    MUST(fabs(up_N - a->hang->total_weight_N) <= 1e-6 * (a->hang->total_weight_N + most_N));
}

/* Each anchor running ahead of the others, and the load turned over. */
static void must_share(bk_assessment *a, bk_errors *errors)
{
    const bk_style style = {0};
    bk_lift_share *shares = calloc(a->plan->n_anchors + 1, sizeof *shares);
    bk_turning turning;
    MUST(shares);
    for (size_t i = 0; i < a->plan->n_anchors; i++) MUST(bk_advise_running_ahead(a, i, 0.1, 3, &shares[i], errors) == BK_OK);
    MUST(bk_advise_turning(a, 0, 5, &turning, errors) == BK_OK);
    must_be_plain(bk_report_hooks(a, shares, &turning, style));
    free(shares);
}

/* One kind of advice for one plan in nine: each costs many solves.  lot: a number that differs from plan to plan. */
static void advise(bk_assessment *a, const bk_options *options, size_t lot, bk_advice *advice, bk_errors *errors)
{
    const bk_style style = {0};
    const bool bodies = a->has_rig && a->plan->n_bodies > 0, even = lot / 2 % 128 < 64;
    bk_level level;
    bk_margin margin;
    switch (bodies || lot / 2 % 64 < 3 ? lot / 2 % 64 : 64) {
        case 0:
            advice->all_effects = a->has_rig;
            MUST(bk_advise_effects(a, &advice->effects, &advice->n_effects, errors) == BK_OK);
            break;
        case 1: MUST(bk_advise_would_pass(a, options, &advice->would_pass, &advice->n_would_pass, errors) == BK_OK); break;
        case 2:
            advice->has_largest = true;
            MUST(bk_advise_largest_load(a, options, &advice->largest, errors) == BK_OK);
            break;
        case 3:
            MUST(bk_advise_level_by_lengths(a, 0, 0, even, &level, errors) == BK_OK);
            must_be_plain(bk_report_level(a, &level, NULL, NULL, even, style));
            break;
        case 4:
            MUST(bk_advise_level_by_hooks(a, &level, errors) == BK_OK);
            must_be_plain(bk_report_level(a, NULL, &level, NULL, false, style));
            break;
        case 5:
            MUST(bk_advise_margin(a, 0, 4, &margin, errors) == BK_OK);
            must_be_plain(bk_report_level(a, NULL, NULL, &margin, false, style));
            break;
        case 6: must_share(a, errors); break;
        default: break;
    }
}

/* Assesses a plan, holds the answer against itself, and prints it: a plan in two with its working. */
static bk_status check_whole(const bk_plan *plan, bk_tables *tables, size_t lot)
{
    const bk_options options = {.record = lot % 2 == 1};
    bk_errors *errors = bk_errors_new();
    bk_assessment *a = NULL;
    const bk_status status = bk_assess_plan(plan, tables, &options, &a, errors);
    MUST(status < BK_E_USAGE); /* an answer, or a refusal of what the plan or a table says */
    MUST((status == BK_OK) == (errors->n == 0));
    if (status == BK_OK) {
        const bk_style style = {0};
        MUST(a && a->findings && a->plan == plan);
        must_balance(a);
        must_agree(a);
        bk_advice advice = {0};
        advise(a, &options, lot, &advice, errors);
        must_be_plain(bk_report_text(a, &advice, style));
        if (options.record) {
            bool known;
            const char *nearest;
            must_be_plain(bk_report_working(a, NULL, style, &known, &nearest));
            must_be_plain(bk_report_working_json(a, NULL, &known, &nearest));
        } else {
            must_be_plain(bk_report_csv(a));
            must_be_plain(bk_report_duty(a, style));
        }
    }
    bk_assessment_free(a);
    bk_errors_free(errors);
    return status;
}

#endif
