/* What the reference tests of beam strength share: the shipped rule sets, sections by their printed values,
 * members, and the steps of a working by their symbol. */
#ifndef STRENGTH_CASES_H
#define STRENGTH_CASES_H

#include "../../src/checks/strength.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define IN  0.0254
#define FT  0.3048
#define KIP 4448.2216152605   /* 1000 lbf */
#define KSI 6894757.293168361 /* kip/in2 */

static bk_arena *arena;
static bk_tables *tables;
static bk_beam_rules rules;
static const bk_strength_method *method;

static inline void open_rules(const char *name)
{
    const char *dir = getenv("BECKET_TABLES");
    if (!dir) dir = "tables";
    bk_errors *errors = bk_errors_new();
    arena = bk_arena_new();
    tables = bk_tables_new(&dir, 1, 0);
    const bk_rules *set = NULL;
    const bk_plan plan = {.file = "test"};
    bk_check_input in = {.plan = &plan, .tables = tables};
    bk_status status = bk_tables_rules(tables, name, (bk_place){NULL, 0, 0}, &set, errors);
    in.rules = set;
    if (status == BK_OK) status = bk_strength_of_rules(&in, arena, &rules, &method, errors);
    for (size_t i = 0; i < errors->n; i++) {
        char *text = bk_message_print(&errors->at[i]);
        fprintf(stderr, "%s\n", text ? text : "?");
        free(text);
    }
    bk_errors_free(errors);
    ck_assert_int_eq(status, BK_OK);
}

static inline void close_rules(void)
{
    bk_tables_free(tables);
    bk_arena_free(arena);
}

/* mm, cm2, cm4, cm6, cm3 as European handbooks print them. */
static inline bk_section mm_section(double h, double b, double tw, double tf, double r, double A, double Iy,
                                    double Iz, double It, double Iw, double Wely, double Wply, double Welz,
                                    double Wplz, double Avz)
{
    const double cm = 1e-2;
    return (bk_section){.h_m = h * 1e-3,
                        .b_m = b * 1e-3,
                        .tw_m = tw * 1e-3,
                        .tf_m = tf * 1e-3,
                        .r_m = r * 1e-3,
                        .area_m2 = A * pow(cm, 2),
                        .Iy_m4 = Iy * pow(cm, 4),
                        .Iz_m4 = Iz * pow(cm, 4),
                        .It_m4 = It * pow(cm, 4),
                        .Iw_m6 = Iw * pow(cm, 6),
                        .Wely_m3 = Wely * pow(cm, 3),
                        .Wply_m3 = Wply * pow(cm, 3),
                        .Welz_m3 = Welz * pow(cm, 3),
                        .Wplz_m3 = Wplz * pow(cm, 3),
                        .Avz_m2 = Avz * pow(cm, 2),
                        .iy_m = sqrt(Iy / A) * cm,
                        .iz_m = sqrt(Iz / A) * cm};
}

static inline bk_member member_of(const bk_section *section, double fy_Pa, double span_m)
{
    return (bk_member){.section = section,
                       .section_from = "section",
                       .steel_from = "steel",
                       .fy_Pa = fy_Pa,
                       .fyw_Pa = fy_Pa,
                       .fu_Pa = 1.3 * fy_Pa,
                       .span_m = span_m,
                       .hold_m = span_m,
                       .buckling_y_m = span_m,
                       .buckling_z_m = span_m,
                       .hold = BK_HOLD_SIMPLE};
}

static inline bk_calc new_calc(void)
{
    return (bk_calc){&rules, bk_working_new(arena), BK_MARK_PUBLISHED};
}

/* The last value recorded under a symbol. */
static inline double step(const bk_calc *c, const char *symbol)
{
    for (size_t i = c->w->n; i-- > 0;)
        if (strcmp(c->w->steps[i].symbol, symbol) == 0) return c->w->steps[i].value;
    ck_abort_msg("no step %s", symbol);
    return 0;
}

static inline bk_rating rate(bk_rate_member *what, const bk_member *m, bk_calc *c)
{
    *c = new_calc();
    return what(c, m);
}

#define NEAR(value, wanted, tolerance) ck_assert_double_eq_tol((value), (wanted), (tolerance))

static inline int run(Suite *suite)
{
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? 1 : 0;
}

#endif
