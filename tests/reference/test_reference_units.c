/* Every unit factor against GNU units (Debian package "units"), which is a work of its own and
 * cites its own sources; read with `units -t`.  A unit that is added to the list and not here fails.
 * Where GNU units is not installed there is nothing to compare with: exit 77. */
#include <becket/quantity.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Ours, and the same unit in the words of GNU units. */
static const struct {
    const char *ours, *theirs;
} names[] = {
    {"1", "1"},
    {"%", "percent"},
    {"percent", "percent"},
    {"m", "m"},
    {"mm", "mm"},
    {"cm", "cm"},
    {"km", "km"},
    {"um", "micrometer"},
    {"\xC2\xB5m", "micrometer"},
    {"\xCE\xBCm", "micrometer"},
    {"in", "inch"},
    {"inch", "inch"},
    {"inches", "inch"},
    {"\"", "inch"},
    {"\xE2\x80\xB3", "inch"},
    {"ft", "foot"},
    {"foot", "foot"},
    {"feet", "foot"},
    {"'", "foot"},
    {"\xE2\x80\xB2", "foot"},
    {"yd", "yard"},
    {"mi", "mile"},
    {"kg", "kg"},
    {"g", "gram"},
    {"mg", "milligram"},
    {"t", "tonne"},
    {"tonne", "tonne"},
    {"tonnes", "tonne"},
    {"lb", "pound"},
    {"lbs", "pound"},
    {"oz", "ounce"},
    {"short_ton", "shortton"},
    {"short_tons", "shortton"},
    {"long_ton", "longton"},
    {"long_tons", "longton"},
    {"slug", "slug"},
    {"N", "newton"},
    {"daN", "10 newton"},
    {"kN", "kilonewton"},
    {"MN", "meganewton"},
    {"GN", "GN"},
    {"kgf", "kgf"},
    {"tf", "tonne gravity"},
    {"lbf", "lbf"},
    {"ozf", "ounce gravity"},
    {"klbf", "1000 lbf"},
    {"kip", "kip"},
    {"kips", "kip"},
    {"Pa", "pascal"},
    {"kPa", "kilopascal"},
    {"MPa", "megapascal"},
    {"GPa", "gigapascal"},
    {"bar", "bar"},
    {"psi", "psi"},
    {"ksi", "ksi"},
    {"psf", "lbf/ft^2"},
    {"J", "joule"},
    {"kJ", "kilojoule"},
    {"Nm", "newton meter"},
    {"kNm", "kilonewton meter"},
    {"s", "second"},
    {"ms", "millisecond"},
    {"min", "minute"},
    {"minute", "minute"},
    {"minutes", "minute"},
    {"h", "hour"},
    {"hour", "hour"},
    {"hours", "hour"},
    {"day", "day"},
    {"days", "day"},
    {"week", "week"},
    {"weeks", "week"},
    {"month", "julianyear/12"},
    {"months", "julianyear/12"},
    {"year", "julianyear"},
    {"years", "julianyear"},
    {"Hz", "hertz"},
    {"rad", "radian"},
    {"deg", "degree"},
    {"degree", "degree"},
    {"degrees", "degree"},
    {"\xC2\xB0", "degree"},
    {"grad", "circle/400"},
    {"mph", "mph"},
    {"fpm", "foot/minute"},
    {"knot", "knot"},
    {"knots", "knot"},
    {"K", "kelvin"},
    {"degC", "tempC"},
    {"\xC2\xB0"
     "C",
     "tempC"},
    {"degF", "tempF"},
    {"\xC2\xB0"
     "F",
     "tempF"},
};
/* Expressions, to prove products, quotients and exponents. */
static const struct {
    const char *ours, *theirs;
} compounds[] = {
    {"kN/m", "kilonewton/meter"},
    {"N/mm2", "newton/mm^2"},
    {"kip ft", "kip foot"},
    {"kip-ft", "kip foot"},
    {"lbf*in", "lbf inch"},
    {"lb/ft3", "pound/foot^3"},
    {"kgf/cm\xC2\xB2", "kgf/cm^2"},
    {"ft/min", "foot/minute"},
    {"in^4", "inch^4"},
    {"cm6", "cm^6"},
    {"kip\xC2\xB7in2", "kip inch^2"},
    {"1/h", "1/hour"},
    {"km per h", "km/hour"},
    {"s-1", "1/second"},
};
enum {
    N_NAMES = sizeof names / sizeof *names,
    N_COMPOUNDS = sizeof compounds / sizeof *compounds,
    MOST = 400
};

static double answers[MOST];
static size_t n_answers, n_questions;
static FILE *questions;

/* Puts a question, "how many WANT are HAVE?", and returns the number of its answer. */
static size_t ask(const char *have, const char *want)
{
    fprintf(questions, "%s\n%s\n", have, want);
    return n_questions++;
}

static const char *their_base(bk_dim dim)
{
    return dim == BK_DIM_ANGLE ? "radian" : bk_dim_symbol(dim);
}

static void expect(const char *ours, size_t answer, double got)
{
    double want = answers[answer];
    ck_assert_msg(fabs(got - want) <= 4e-16 * fabs(want), "%s: GNU units says %.17g, the list %.17g", ours,
                  want, got);
}

/* Runs GNU units once over all questions. */
static void answer_all(const char *path)
{
    char command[200];
    snprintf(command, sizeof command, "units -q -1 -t -o %%.17g < %s", path);
    FILE *pipe = popen(command, "r");
    ck_assert_ptr_nonnull(pipe);
    char line[200];
    while (fgets(line, sizeof line, pipe)) {
        char *end;
        ck_assert_uint_lt(n_answers, MOST);
        answers[n_answers++] = strtod(line, &end);
        ck_assert_msg(end > line && *end == '\n', "question %zu: %s", n_answers, line);
    }
    ck_assert_int_eq(pclose(pipe), 0);
    ck_assert_uint_eq(n_answers, n_questions);
}

START_TEST(every_factor)
{
    char path[] = "/tmp/becket-units-XXXXXX";
    int fd = mkstemp(path);
    ck_assert_int_ge(fd, 0);
    questions = fdopen(fd, "w");

    size_t gravity = ask("gravity", "m/s^2");
    size_t at_one[N_NAMES], at_zero[N_NAMES], of_compound[N_COMPOUNDS];
    const bk_unit_info *unit;
    size_t n = 0;
    for (; (unit = bk_unit_info_at(n)) != NULL; n++) {
        ck_assert_uint_lt(n, N_NAMES);
        ck_assert_str_eq(unit->symbol, names[n].ours);
        ck_assert_str_ne(unit->origin, "");
        at_one[n] = at_zero[n] = 0;
        if (strncmp(names[n].theirs, "temp", 4) == 0) { /* a function of a number, not a unit */
            char point[32];
            snprintf(point, sizeof point, "%s(0)", names[n].theirs);
            at_zero[n] = ask(point, "K");
            snprintf(point, sizeof point, "%s(90)", names[n].theirs);
            at_one[n] = ask(point, "K");
        } else {
            at_one[n] = ask(names[n].theirs, their_base(unit->dim));
        }
    }
    ck_assert_uint_eq(n, N_NAMES);
    double factors[N_COMPOUNDS];
    for (size_t i = 0; i < N_COMPOUNDS; i++) {
        double offset;
        bk_dim dim;
        ck_assert_int_eq(bk_unit_read(compounds[i].ours, &factors[i], &offset, &dim, NULL, 0), BK_OK);
        of_compound[i] = ask(compounds[i].theirs, their_base(dim));
    }
    ck_assert_int_eq(fclose(questions), 0);
    answer_all(path);
    unlink(path);

    expect("g", gravity, BK_STANDARD_GRAVITY_M_PER_S2);
    for (size_t i = 0; (unit = bk_unit_info_at(i)) != NULL; i++) {
        if (at_zero[i]) {
            expect(unit->symbol, at_zero[i], unit->offset);
            expect(unit->symbol, at_one[i], 90 * unit->factor + unit->offset);
        } else {
            expect(unit->symbol, at_one[i], unit->factor);
            ck_assert_double_eq(unit->offset, 0);
        }
    }
    for (size_t i = 0; i < N_COMPOUNDS; i++)
        expect(compounds[i].ours, of_compound[i], factors[i]);
}
END_TEST

int main(void)
{
    if (system("command -v units >/dev/null 2>&1") != 0) return 77;
    Suite *suite = suite_create("reference: units");
    TCase *all = tcase_create("all");
    tcase_add_test(all, every_factor);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
