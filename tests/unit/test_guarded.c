/* No loop over a plan, its solution or its tables goes one too far: every array ends where memory ends (guarded_arena.c), and every
 * shipped example and every plan of the acceptance tests goes the whole way, from its text to the report and the advice. */
#include "assess.h"

#include <becket/report.h>

#include <glob.h>

/* What the plans of other tests do not put together: a hoist in no line beside a rig, on a trolley that the rig hangs from and on none; a soft
 * beam, a steel beam, measured gear, a lost line, people below, in US units too. */
#define EVERYTHING(rules) \
    "becket: 1\n" rules "date: 2026-05-04\nlose_a_line: yes\npeople_below: yes\ntemperature: 20 degC\n" \
    "bodies:\n" \
    "  load: {mass: 900 kg ± 5 %, cog: 0 0 -1 m ± 0.05 0.05 0 m, at: 0 0 -3 m, wind_area: 1 m2, points: {a: {at: -1 0 0 m, axis: 0 0 1, parts: [{what: eyebolt, wll: 20 kN, diameter: 20 mm}]}, b: {at: 1 0 0 m, limit: 20 kN}}}\n" \
    "  bar: {mass: 120 kg, cog: 0 0 0 m, wll: 30 kN, ei: 900 kN m2, points: {a: -1 0 0 m, b: 1 0 0 m, c: -2 0 0 m, d: 0 0 0 m, e: 2 0 0 m}, steel: {section: hea/100, steel: en10025-2/S235, between: [c, e]}}\n" \
    "rings: {r: {at: 0 0 2 m, part: {what: master link, wll: 30 kN}}}\n" \
    "anchors: {one: {at: -2 0 4 m, limit: 60 kN}, two: {at: 0 0 4 m, on: bay.t, limit: 60 kN, limit_horizontal: 9 kN}, three: {at: 2 0 4 m ± 0 0 0.01 m, parts: [{what: beam clamp, wll: 30 kN}]}}\n" \
    "wind: {speed: 5 m/s}\n" \
    "lines:\n" \
    "  c: {from: one, to: bar.c, ea: 9 MN, parts: [{what: chain sling, wll: 20 kN}]}\n" \
    "  d: {from: two, to: bar.d, ea: 9 MN, parts: [{what: chain sling, wll: 20 kN}]}\n" \
    "  e: {from: three, to: bar.e, ea: 9 MN, parts: [{what: chain sling, wll: 20 kN}]}\n" \
    "  a: {from: bar.a, to: load.a, ea: 9 MN, hitch: choker, parts: [chain-en818-4/8]}\n" \
    "  b: {from: bar.b, to: load.b, ea: 9 MN, hitch: basket, edge_radius: 9 mm, parts: [{what: wire rope sling, wll: 20 kN, diameter: 8 mm}]}\n" \
    "hoists:\n" \
    "  idle: {rated: 2 t, self_mass: 40 kg, hook_mass: 2 kg, speeds: [6 m/min, 1 m/min], group: M5, duty: {cycles_per_hour: 9, mean_lift: 3 m, hours_per_day: 2}}\n" \
    "  rides: {rated: 2 t, self_mass: 40 kg, hook_mass: 2 kg, speeds: [6 m/min], limiter: {kind: direct, at: 1.4}}\n" \
    "runways:\n" \
    "  bay: {section: ipe/300, steel: en10025-2/S235, ends: [-4 m, 4 m], supports: [{at: -3 m, limit: 90 kN}, {at: 3 m, count: 2, parts: [bolt-metric/M16, bolt-class/8.8]}],\n" \
    "        trolleys: {t: {travel: [-1 m, 1 m], wheels: 4, wheel_base: 0.2 m, wheel_to_edge: 20 mm}, u: {travel: [2 m, 2.5 m], wheels: 2, wheel_to_edge: 20 mm, hoist: rides}}}\n" \
    "inspect: {old hook: {what: hook, throat: {new: 31 mm, measured: 32 mm}}}\n"

static bk_status whole_way(const char *path, const char *text, bk_tables *tables)
{
    bench b = {.tables = tables, .errors = bk_errors_new(), .options = {.record = true}};
    b.status = text ? bk_plan_parse(path, text, strlen(text), b.tables, &b.plan, b.errors) : bk_plan_read(path, b.tables, &b.plan, b.errors);
    if (b.status == BK_OK) b.status = bk_assess_plan(b.plan, b.tables, &b.options, &b.a, b.errors);
    if (b.status == BK_OK) {
        bk_assessment *drawn = NULL;
        bk_assess_plan(b.plan, b.tables, &(bk_options){.no_envelope = true}, &drawn, b.errors);
        bk_assessment_free(drawn);
        bk_advice advice = {0};
        bk_level level;
        bk_margin margin;
        bk_turning turning;
        bk_lift_share share;
        if (!text) bk_advise_would_pass(b.a, &b.options, &advice.would_pass, &advice.n_would_pass, b.errors);
        bk_advise_effects(b.a, &advice.effects, &advice.n_effects, b.errors);
        if (b.plan->n_lines > 0 && b.plan->n_lines < 10 && b.plan->n_bodies > 0) {
            bk_advise_level_by_lengths(b.a, 0.01, 0, false, &level, b.errors);
            bk_advise_level_by_hooks(b.a, &level, b.errors);
            bk_advise_margin(b.a, 0, 2, &margin, b.errors);
            bk_advise_turning(b.a, 0, 5, &turning, b.errors);
            bk_advise_running_ahead(b.a, 0, 0.1, 3, &share, b.errors);
        }
        free(bk_report_text(b.a, &advice, (bk_style){.columns = 80}));
        free(bk_report_json(b.a, &advice));
    }
    for (size_t i = 0; text && i < b.errors->n; i++) {
        char *line = bk_message_print(&b.errors->at[i]);
        fprintf(stderr, "%s\n", line);
        free(line);
    }
    bk_assessment_free(b.a);
    bk_plan_free(b.plan);
    bk_errors_free(b.errors);
    return b.status;
}

START_TEST(every_plan_within_its_arrays)
{
    static const char *const folders[] = {"examples/*.yaml", "tests/acceptance/good/*.yaml", "tests/fuzz/corpus/check/*"};
    const char *dir = getenv("BECKET_TABLES");
    bk_tables *tables = bk_tables_new(&dir, 1, 0);
    size_t seen = 0;
    for (size_t i = 0; i < sizeof folders / sizeof *folders; i++) {
        char pattern[500];
        glob_t found;
        snprintf(pattern, sizeof pattern, "%s/../%s", dir, folders[i]);
        ck_assert_int_eq(glob(pattern, 0, NULL, &found), 0);
        for (size_t k = 0; k < found.gl_pathc; k++, seen++) whole_way(found.gl_pathv[k], NULL, tables);
        globfree(&found);
    }
    bk_tables_free(tables); /* the kernel counts maps: those of tables that are no longer asked for are given back */
    tables = bk_tables_new(&dir, 1, 0);
    const bk_status en = whole_way("everything.yaml", EVERYTHING(""), tables), us = whole_way("everything.yaml", EVERYTHING("rules: us\n"), tables);
    ck_assert_msg(en == BK_OK && us == BK_OK, "%d %d", (int)en, (int)us);
    bk_tables_free(tables);
    ck_assert_uint_gt(seen, 70);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("guarded");
    TCase *c = tcase_create("arrays");
    tcase_set_timeout(c, 100);
    tcase_add_test(c, every_plan_within_its_arrays);
    suite_add_tcase(suite, c);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
