/* No loop over a plan, its solution or its tables goes one too far: every array ends where memory ends (guarded_arena.c), and every
 * shipped example and every plan of the acceptance tests goes the whole way, from its text to the report and the advice. */
#include "assess.h"

#include <becket/report.h>

#include <glob.h>

static void whole_way(const char *path, bk_tables *tables)
{
    bench b = {.tables = tables, .errors = bk_errors_new(), .options = {.record = true}};
    b.status = bk_plan_read(path, b.tables, &b.plan, b.errors);
    if (b.status == BK_OK) b.status = bk_assess_plan(b.plan, b.tables, &b.options, &b.a, b.errors);
    if (b.status == BK_OK) {
        bk_advice advice = {0};
        bk_level level;
        bk_margin margin;
        bk_turning turning;
        bk_lift_share share;
        bk_advise_would_pass(b.a, &b.options, &advice.would_pass, &advice.n_would_pass, b.errors);
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
    bk_assessment_free(b.a);
    bk_plan_free(b.plan);
    bk_errors_free(b.errors);
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
        for (size_t k = 0; k < found.gl_pathc; k++, seen++) whole_way(found.gl_pathv[k], tables);
        globfree(&found);
    }
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
