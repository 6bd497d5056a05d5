/* A host program may have set a locale that writes 2,5: nothing in Becket follows it.
 * Where no such locale is installed there is nothing to test: exit 77. */
#include <becket/quantity.h>

#include <check.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST(points_stay_points)
{
    char buf[64], why[200];
    bk_value v;
    snprintf(buf, sizeof buf, "%.1f", 2.5);
    ck_assert_str_eq(buf, "2,5"); /* the locale is as it should be for this test */
    ck_assert_int_eq(bk_quantity_read("2.75 m", BK_DIM_LENGTH, &v, why, sizeof why), BK_OK);
    ck_assert(v.v == 2.75);
    ck_assert_int_eq(bk_quantity_read("2,75 m", BK_DIM_LENGTH, &v, why, sizeof why), BK_E_NUMBER);
    ck_assert_str_eq(bk_quantity_print(buf, sizeof buf, 35300, BK_DIM_FORCE, BK_SI, 3), "35.3 kN");
    ck_assert_str_eq(bk_number_print(buf, sizeof buf, 35300, "kN", 2), "35.30");
    ck_assert_str_eq(bk_plain_print(buf, sizeof buf, 0.125, 6), "0.125");
    snprintf(buf, sizeof buf, "%.1f", 2.5);
    ck_assert_str_eq(buf, "2,5"); /* and it is left as it was */
}
END_TEST

int main(void)
{
    static const char *const comma_locales[] = {"de_DE.UTF-8", "de_DE.utf8",  "fr_FR.UTF-8", "fr_FR.utf8",
                                                "nl_NL.UTF-8", "sv_SE.UTF-8", "es_ES.UTF-8", "it_IT.UTF-8"};
    bool found = false;
    for (size_t i = 0; i < sizeof comma_locales / sizeof *comma_locales && !found; i++)
        found = setlocale(LC_ALL, comma_locales[i]) && strcmp(localeconv()->decimal_point, ",") == 0;
    if (!found) return 77;
    Suite *suite = suite_create("quantity in a comma locale");
    TCase *all = tcase_create("all");
    tcase_add_test(all, points_stay_points);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
