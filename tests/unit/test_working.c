/* working: the figure and its working are one. */
#include <becket/working.h>

#include <check.h>
#include <stdlib.h>

START_TEST(formula_with_numbers_put_in)
{
    bk_arena *arena = bk_arena_new();
    bk_working *w = bk_working_new(arena);
    BK_GIVEN(w, Q, 9806.65, FORCE, "hook load");
    BK_GIVEN(w, gamma_Q, 1.35, NONE, "EN 1991-3");
    BK_GIVEN(w, Q_2, -400.0, FORCE, "another name that begins alike");
    BK_CALC(w, F_Ed, gamma_Q * Q + pow(2.0, 1.0) * Q_2 - 1e0 * 0, FORCE, "a sum");
    ck_assert_double_eq_tol(F_Ed, 1.35 * 9806.65 - 800, 1e-9);
    ck_assert_uint_eq(w->n, 4);
    ck_assert_str_eq(w->steps[3].symbol, "F_Ed");
    ck_assert_str_eq(w->steps[3].formula, "gamma_Q * Q + pow(2.0, 1.0) * Q_2 - 1e0 * 0");
    ck_assert_str_eq(bk_working_numbers(w, 3, BK_SI),
                     "1.35 * 9.807 kN + pow(2.0, 1.0) * (-400.0 N) - 1e0 * 0");
    ck_assert_str_eq(bk_working_numbers(w, 3, BK_US),
                     "1.35 * 2.205 kip + pow(2.0, 1.0) * (-89.92 lbf) - 1e0 * 0");
    ck_assert_ptr_null(bk_working_numbers(w, 0, BK_SI));
    bk_arena_free(arena);
}
END_TEST

START_TEST(without_recorder)
{
    bk_working *none = NULL;
    BK_GIVEN(none, a, 3.0, LENGTH, "given");
    BK_CALC(none, b, a * a, AREA, "square");
    ck_assert(b == 9);
}
END_TEST

START_TEST(latest_symbol_before_the_step)
{
    bk_arena *arena = bk_arena_new();
    bk_working *w = bk_working_new(arena);
    bk_working_add(w, "L", NULL, 2.5, BK_DIM_LENGTH, "first");
    bk_working_add(w, "L", NULL, 3.5, BK_DIM_LENGTH, "again");
    bk_working_add(w, "x", "L / 2", 1.75, BK_DIM_LENGTH, "half");
    bk_working_add(w, "L", NULL, 9, BK_DIM_LENGTH, "later");
    ck_assert_str_eq(bk_working_numbers(w, 2, BK_SI), "3.500 m / 2");
    bk_arena_free(arena);
}
END_TEST

START_TEST(functions_and_missing_values)
{
    bk_arena *arena = bk_arena_new();
    bk_working *w = bk_working_new(arena);
    BK_GIVEN(w, beta, BK_PI / 3, ANGLE, "from the vertical");
    BK_GIVEN(w, absent, (double)NAN, FORCE, "not in the plan");
    bk_working_add(w, "cos", NULL, 7, BK_DIM_NONE, "a symbol with a function's name");
    bk_working_add(w, "x", "cos(beta) + absent + cos", 0, BK_DIM_NONE, "");
    ck_assert_str_eq(bk_working_numbers(w, 3, BK_SI), "cos(60.00\xC2\xB0) + - + 7");
    ck_assert(beta > 1 && isnan(absent));
    bk_arena_free(arena);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("working");
    TCase *all = tcase_create("all");
    tcase_add_test(all, formula_with_numbers_put_in);
    tcase_add_test(all, without_recorder);
    tcase_add_test(all, latest_symbol_before_the_step);
    tcase_add_test(all, functions_and_missing_values);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
