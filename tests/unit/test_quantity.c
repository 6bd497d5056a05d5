/* quantity: texts with units to SI and back. */
#include "../../src/quantity/text.h"

#include <check.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static double read_ok(const char *text, bk_dim want)
{
    char why[400] = "";
    bk_value out = {NAN, NAN};
    bk_status status = bk_quantity_read(text, want, &out, why, sizeof why);
    ck_assert_msg(status == BK_OK, "\"%s\": %d %s", text, (int)status, why);
    return out.v;
}

static void expect(const char *text, bk_dim want, double si)
{
    double got = read_ok(text, want);
    ck_assert_msg(fabs(got - si) <= 1e-14 * fabs(si), "\"%s\": want %.17g, got %.17g", text, si, got);
}

static void expect_tol(const char *text, bk_dim want, double si, double tol)
{
    char why[400] = "";
    bk_value out;
    bk_status status = bk_quantity_read(text, want, &out, why, sizeof why);
    ck_assert_msg(status == BK_OK, "\"%s\": %d %s", text, (int)status, why);
    ck_assert_msg(fabs(out.v - si) <= 1e-14 * fabs(si), "\"%s\": %.17g", text, out.v);
    ck_assert_msg(fabs(out.tol - tol) <= 1e-14 * tol, "\"%s\": tol %.17g", text, out.tol);
}

/* Refused with this status, and the sentence has this word in it. */
static void refuse(const char *text, bk_dim want, bk_status wanted, const char *word)
{
    char why[400] = "";
    bk_value out = {-7, -7};
    bk_status status = bk_quantity_read(text, want, &out, why, sizeof why);
    ck_assert_msg(status == wanted, "\"%s\": want %d, got %d %s", text, (int)wanted, (int)status, why);
    ck_assert_msg(strstr(why, word) != NULL, "\"%s\": no \"%s\" in: %s", text, word, why);
    ck_assert_double_eq(out.v, -7); /* nothing written */
}

START_TEST(numbers)
{
    static const struct {
        const char *text;
        double value;
        const char *rest;
    } good[] = {
        {"2.5 m", 2.5, " m"},
        {"-3", -3, ""},
        {"+4t", 4, "t"},
        {"1e3", 1000, ""},
        {"1.5E-2x", 0.015, "x"},
        {".5", 0.5, ""},
        {"5.", 5, ""},
        {"3/8 in", 0.375, " in"},
        {"1 3/8", 1.375, ""},
        {"1.5 3/8", 1.5, " 3/8"},
        {"1e2 3/8", 100, " 3/8"},
        {"1E2 3/8", 100, " 3/8"},
        {"1.5-3/8", 1.5, "-3/8"},
        {"1-3/8\"", 1.375, "\""},
        {"-1 3/8", -1.375, ""},
        {"16/3", 16.0 / 3, ""},
        {"2 7/5", 2, " 7/5"},
        {"2 3", 2, " 3"},
        {"5e", 5, "e"},
        {"1/h", 1, "/h"},
        {"\xE2\x88\x92"
         "6",
         -6, ""},
        {"1e30", 1e30, ""},
    };
    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        double value;
        const char *rest = bk_number_read(good[i].text, &value);
        ck_assert_msg(rest != NULL, "%s", good[i].text);
        ck_assert_msg(value == good[i].value, "%s: %.17g", good[i].text, value);
        ck_assert_str_eq(rest, good[i].rest);
    }
    static const char *const bad[] = {"",       "m",   "nan",   "inf", "-inf", "0x10", "0X1p3", "1e999",
                                      "1.1e30", "3/0", "1 3/0", "-",   ".",    "- 3",  "e5",    ",5"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double value;
        ck_assert_msg(bk_number_read(bad[i], &value) == NULL, "%s", bad[i]);
    }
}
END_TEST

START_TEST(simple_units)
{
    expect("2.5 m", BK_DIM_LENGTH, 2.5);
    expect("2.5m", BK_DIM_LENGTH, 2.5);
    expect("  2800 mm ", BK_DIM_LENGTH, 2.8);
    expect("3.6 t", BK_DIM_MASS, 3600);
    expect("12 kN", BK_DIM_FORCE, 12000);
    expect("0.8 m/min", BK_DIM_SPEED, 0.8 / 60);
    expect("90 deg", BK_DIM_ANGLE, 1.5707963267948966);
    expect("35\xC2\xB0", BK_DIM_ANGLE, 0.61086523819801535);
    expect("2 years", BK_DIM_TIME, 2 * 365.25 * 86400);
    expect("0.5 %", BK_DIM_NONE, 0.005);
    expect("1.35", BK_DIM_NONE, 1.35);
    expect("20 degC", BK_DIM_TEMPERATURE, 293.15);
    expect("-40 \xC2\xB0"
           "F",
           BK_DIM_TEMPERATURE, 233.15);
    expect("60 kips", BK_DIM_FORCE, 266893.29691563); /* 60000 lb of 0.45359237 kg, times 9.80665 */
}
END_TEST

START_TEST(compound_units)
{
    static const char *const stresses[] = {"3 N/mm2",    "3 N/mm^2",  "3 N/mm\xC2\xB2",
                                           "3 N mm-2",   "3 N*mm^-2", "3 N\xC2\xB7mm\xE2\x81\xBB\xC2\xB2",
                                           "3 N per mm2"};
    for (size_t i = 0; i < sizeof stresses / sizeof *stresses; i++)
        expect(stresses[i], BK_DIM_STRESS, 3e6);
    static const char *const moments[] = {"7 kN m", "7 kN*m", "7 kN\xC2\xB7m", "7 kNm",
                                          "7 kN-m", "7 m kN", "7 kJ"};
    for (size_t i = 0; i < sizeof moments / sizeof *moments; i++)
        expect(moments[i], BK_DIM_MOMENT, 7000);
    expect("360 /h", BK_DIM_FREQUENCY, 0.1);
    expect("360 1/h", BK_DIM_FREQUENCY, 0.1);
    expect("360 per hour", BK_DIM_FREQUENCY, 0.1);
    expect("11.3 cm4", BK_DIM_INERTIA, 11.3e-8);
    expect("11.3 in^6", BK_DIM_WARPING, 11.3 * pow(0.0254, 6));
    expect("9.8 m/s/s", BK_DIM_ACCELERATION, 9.8);
    expect("5 s-1", BK_DIM_FREQUENCY, 5);
    expect("7850 kg/m3", BK_DIM_DENSITY, 7850);
    refuse("7 N/mm m", BK_DIM_STRESS, BK_E_UNKNOWN_UNIT, "two readings");
    refuse("7 m9", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "makes no sense");
    refuse("7 m6 m6", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "makes no sense");
    refuse("7 m^0", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "makes no sense");
    refuse("7 degC m", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "write K");
    refuse("7 m degC", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "write K");
    refuse("7 1/degC", BK_DIM_TEMPERATURE, BK_E_UNKNOWN_UNIT, "write K");
    refuse("7 degC2", BK_DIM_TEMPERATURE, BK_E_UNKNOWN_UNIT, "write K");
    refuse("7 m/", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "ends too early");
    refuse("7 m*", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "ends too early");
}
END_TEST

START_TEST(feet_and_inches)
{
    static const char *const texts[] = {
        "8 ft 6 in",       "8ft6in",        "8' 6\"", "8'6\"",  "8'-6\"",
        "8 feet 6 inches", "8 foot 6 inch", "8.5 ft", "102 in", "8\xE2\x80\xB2 6\xE2\x80\xB3"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        expect(texts[i], BK_DIM_LENGTH, 2.5908); /* 102 * 0.0254 */
    static const char *const halves[] = {"8 ft 6 1/2 in", "8' 6-1/2\"", "8'-6 1/2\"", "8'6 1/2\"",
                                         "102 1/2 in"};
    for (size_t i = 0; i < sizeof halves / sizeof *halves; i++)
        expect(halves[i], BK_DIM_LENGTH, 102.5 * 0.0254);
    expect("3/8 in", BK_DIM_LENGTH, 0.009525);
    expect("1-3/8 in", BK_DIM_LENGTH, 0.034925);
    expect("1 3/8\"", BK_DIM_LENGTH, 0.034925);
    expect("-8 ft 6 in", BK_DIM_LENGTH, -2.5908);
    expect("7 ft 9 in", BK_DIM_LENGTH, 2.3622);
    expect("7'-9\"", BK_DIM_LENGTH, 2.3622);
    expect("7 ft 0 in", BK_DIM_LENGTH, 2.1336);
    expect("7'-0\"", BK_DIM_LENGTH, 2.1336);
    expect("-0 ft 6 in", BK_DIM_LENGTH, -0.1524);
    expect("1 yd 2 ft 3 in", BK_DIM_LENGTH, 63 * 0.0254);
    expect("3 m 20 cm", BK_DIM_LENGTH, 3.2);
    expect("2 kg 300 g", BK_DIM_MASS, 2.3);
    expect("1 h 30 min", BK_DIM_TIME, 5400);
    refuse("6 in 8 ft", BK_DIM_LENGTH, BK_E_NUMBER, "smaller");
    refuse("6 ft 8 ft", BK_DIM_LENGTH, BK_E_NUMBER, "smaller");
    refuse("6 ft 8 kg", BK_DIM_LENGTH, BK_E_UNIT, "mass");
    refuse("6 kg 8 N", BK_DIM_MASS, BK_E_NUMBER, "of one kind");
    refuse("6 ft 8", BK_DIM_LENGTH, BK_E_NO_UNIT, "unit");
    refuse("6 ft - 8 in", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("8 6 in", BK_DIM_LENGTH, BK_E_NUMBER, "between");
}
END_TEST

START_TEST(mass_and_weight)
{
    expect("2 t", BK_DIM_FORCE, 19613.3); /* 2000 * 9.80665 */
    expect("19.6133 kN", BK_DIM_MASS, 2000);
    expect("30 kg/m", BK_DIM_LINE_FORCE, 294.1995);
    expect("294.1995 N/m", BK_DIM_LINE_MASS, 30);
    expect("1 kN/m3", BK_DIM_DENSITY, 1000 / 9.80665);
    expect("1 kg/cm2", BK_DIM_STRESS, 98066.5);
    expect("3 lbf", BK_DIM_MASS, 3 * 0.45359237);
    expect_tol("2 t \xC2\xB1 100 N", BK_DIM_MASS, 2000, 100 / 9.80665);
    refuse("2 t", BK_DIM_MOMENT, BK_E_UNIT, "want a moment, found a mass");
    refuse("2 m", BK_DIM_ACCELERATION, BK_E_UNIT, "want an acceleration, found a length");
}
END_TEST

START_TEST(tolerances)
{
    expect_tol("3.6 t \xC2\xB1 5 %", BK_DIM_MASS, 3600, 180);
    expect_tol("3.6 t \xC2\xB1"
               "5%",
               BK_DIM_MASS, 3600, 180);
    expect_tol("-3 m +/- 10 mm", BK_DIM_LENGTH, -3, 0.01);
    expect_tol("-3 m +- 10 %", BK_DIM_LENGTH, -3, 0.3);
    expect_tol("8 ft 6 in \xC2\xB1 1/2 in", BK_DIM_LENGTH, 2.5908, 0.0127);
    expect_tol("8' +/- 1' 1\"", BK_DIM_LENGTH, 2.4384, 0.3302);
    expect_tol("0.3 \xC2\xB1 0.05", BK_DIM_NONE, 0.3, 0.05);
    expect_tol("20 degC \xC2\xB1 0.1 degC", BK_DIM_TEMPERATURE, 293.15, 0.1);
    refuse("3 m \xC2\xB1 -1 mm", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("3 m \xC2\xB1 -1 %", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("3 m \xC2\xB1", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("3 m \xC2\xB1 5", BK_DIM_LENGTH, BK_E_NO_UNIT, "unit");
    refuse("3 m \xC2\xB1 5 kg", BK_DIM_LENGTH, BK_E_UNIT, "length");
    refuse("3 m \xC2\xB1 5 % \xC2\xB1 1 %", BK_DIM_LENGTH, BK_E_UNIT, "length");
    refuse("3 m \xC2\xB1 5 mm +/- 1 mm", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("3 m +5 mm -2 mm", BK_DIM_LENGTH, BK_E_TOLERANCE, "tolerance");
    refuse("60 % \xC2\xB1 5 %", BK_DIM_NONE, BK_E_TOLERANCE, "two ways");
    refuse("20 degC \xC2\xB1 5 %", BK_DIM_TEMPERATURE, BK_E_TOLERANCE, "two ways");
}
END_TEST

START_TEST(refusals)
{
    refuse("2.5", BK_DIM_LENGTH, BK_E_NO_UNIT, "such as m");
    refuse("0", BK_DIM_FORCE, BK_E_NO_UNIT, "such as kN");
    refuse("240 m", BK_DIM_FORCE, BK_E_UNIT, "want a force, found a length");
    refuse("5 m", BK_DIM_NONE, BK_E_UNIT, "want a number, found a length");
    refuse("35 %", BK_DIM_ANGLE, BK_E_UNIT, "want an angle, found a number");
    refuse("3 KN", BK_DIM_FORCE, BK_E_UNKNOWN_UNIT, "kN");
    refuse("3 Kg", BK_DIM_MASS, BK_E_UNKNOWN_UNIT, "kg");
    refuse("3 mpa", BK_DIM_STRESS, BK_E_UNKNOWN_UNIT, "MPa");
    refuse("3 shrot_ton", BK_DIM_MASS, BK_E_UNKNOWN_UNIT, "short_ton");
    refuse("3 furlongs", BK_DIM_LENGTH, BK_E_UNKNOWN_UNIT, "furlongs");
    static const char *const tons[] = {"3 ton",  "3 tons",      "3 Ton",   "3 TON",
                                       "3 tonf", "3 short ton", "3 ton/m", "3 T"};
    for (size_t i = 0; i < sizeof tons / sizeof *tons; i++) {
        refuse(tons[i], BK_DIM_MASS, BK_E_TON, "t (tonne");
        refuse(tons[i], BK_DIM_MASS, BK_E_TON, "short_ton");
        refuse(tons[i], BK_DIM_MASS, BK_E_TON, "long_ton");
    }
    static const char *const not_numbers[] = {
        "",        " ",       "m",       "nan m", "inf m",   "-inf",    "1e999 m", "0x10 m", "2,5 m",
        "1,000 m", "1 000 m", "1.2.3 m", "1/0 m", "1e30 km", "three m", "0x1p3",   "--3 m",  "\xC2\xB1 3 m"};
    for (size_t i = 0; i < sizeof not_numbers / sizeof *not_numbers; i++)
        refuse(not_numbers[i], BK_DIM_LENGTH, BK_E_NUMBER, "");
    refuse("2,5 m", BK_DIM_LENGTH, BK_E_NUMBER, "comma");
    refuse("3 m,", BK_DIM_LENGTH, BK_E_NUMBER, "comma");
    refuse("3 m )", BK_DIM_LENGTH, BK_E_NUMBER, "cannot read");
}
END_TEST

START_TEST(vectors)
{
    char why[400];
    bk_vec3_value v;
    ck_assert_int_eq(bk_vector_read("1.10 0.05 -0.70 m \xC2\xB1 0.10 m", BK_DIM_LENGTH, &v, why, sizeof why),
                     BK_OK);
    ck_assert(v.v.x == 1.1 && v.v.y == 0.05 && v.v.z == -0.7);
    ck_assert(v.tol.x == 0.1 && v.tol.y == 0.1 && v.tol.z == 0.1);
    ck_assert_int_eq(bk_vector_read("1 2 3 ft +/- 0.1 0.2 0 m", BK_DIM_LENGTH, &v, why, sizeof why), BK_OK);
    ck_assert(v.v.x == 0.3048 && v.v.y == 0.6096);
    ck_assert(v.tol.x == 0.1 && v.tol.y == 0.2 && v.tol.z == 0);
    ck_assert_int_eq(bk_vector_read("1-1/2 3/4 0 in +- 1 1/2 in", BK_DIM_LENGTH, &v, why, sizeof why), BK_OK);
    ck_assert_double_eq_tol(v.v.x, 0.0381, 1e-16);
    ck_assert_double_eq_tol(v.v.y, 0.01905, 1e-16);
    ck_assert_double_eq_tol(v.tol.z, 0.0381, 1e-16);
    ck_assert_int_eq(bk_vector_read("4 5 6 1/h", BK_DIM_FREQUENCY, &v, why, sizeof why), BK_OK);
    ck_assert_double_eq_tol(v.v.z, 6 / 3600.0, 1e-15);
    ck_assert_int_eq(bk_vector_read("4 5 6 1 h", BK_DIM_FREQUENCY, &v, why, sizeof why), BK_E_VECTOR);
    ck_assert_int_eq(bk_vector_read("4 5 6 2/h", BK_DIM_FREQUENCY, &v, why, sizeof why), BK_E_VECTOR);
    ck_assert_int_eq(bk_vector_read("0 0 -1", BK_DIM_NONE, &v, why, sizeof why), BK_OK);
    ck_assert(v.v.z == -1);

    static const struct {
        const char *text;
        bk_status status;
        const char *word;
    } bad[] = {
        {"1 2 m", BK_E_VECTOR, "three numbers"},
        {"1 2 3 4 m", BK_E_VECTOR, "three numbers"},
        {"1 m 2 m 3 m", BK_E_VECTOR, "three numbers"},
        {"1 2 3", BK_E_NO_UNIT, "unit"},
        {"1 2 3 kg", BK_E_UNIT, "mass"},
        {"1, 2, 3 m", BK_E_NUMBER, "comma"},
        {"[1 2 3] m", BK_E_VECTOR, "three numbers"},
        {"1 1/2 3 m", BK_E_VECTOR, "two ways"},
        {"1 2 3 m \xC2\xB1 5 %", BK_E_TOLERANCE, "length"},
        {"1 2 3 m \xC2\xB1 0.1 0.2 m", BK_E_VECTOR, "three"},
        {"1 2 3 m \xC2\xB1 -0.1 m", BK_E_TOLERANCE, ""},
        {"1 2 3 m \xC2\xB1 0.1 -0.1 0 m", BK_E_TOLERANCE, ""},
        {"1 2 3 m \xC2\xB1", BK_E_TOLERANCE, ""},
        {"1 2 3 m x", BK_E_UNKNOWN_UNIT, "x"},
        {"1 2 1e999 m", BK_E_NUMBER, "1e30"},
        {"", BK_E_VECTOR, "three numbers"},
        {"1 2 3 ton", BK_E_TON, "tonne"},
        {"1 2 3 m 4 m", BK_E_NUMBER, "cannot read"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        bk_status status = bk_vector_read(bad[i].text, BK_DIM_LENGTH, &v, why, sizeof why);
        ck_assert_msg(status == bad[i].status, "\"%s\": %d %s", bad[i].text, (int)status, why);
        ck_assert_msg(strstr(why, bad[i].word) != NULL, "\"%s\": %s", bad[i].text, why);
    }
}
END_TEST

START_TEST(printing)
{
    static const struct {
        double si;
        bk_dim dim;
        bk_system system;
        int digits;
        const char *text;
    } cases[] = {
        {35300, BK_DIM_FORCE, BK_SI, 3, "35.3 kN"},
        {35300, BK_DIM_FORCE, BK_US, 3, "7.94 kip"},
        {999.7, BK_DIM_FORCE, BK_SI, 3, "1.00 kN"},
        {999.4, BK_DIM_FORCE, BK_SI, 3, "999 N"},
        {1.2e6, BK_DIM_FORCE, BK_SI, 3, "1.20 MN"},
        {-0.0, BK_DIM_FORCE, BK_SI, 3, "0 N"},
        {-2412, BK_DIM_FORCE, BK_SI, 3, "-2.41 kN"},
        {0.0124, BK_DIM_LENGTH, BK_SI, 3, "12.4 mm"},
        {12.25, BK_DIM_LENGTH, BK_SI, 3, "12.2 m"},
        {0.0124, BK_DIM_LENGTH, BK_US, 3, "0.488 in"},
        {2.5908, BK_DIM_LENGTH, BK_US, 3, "8.50 ft"},
        {3600, BK_DIM_MASS, BK_SI, 3, "3.60 t"},
        {45, BK_DIM_MASS, BK_SI, 3, "45.0 kg"},
        {3600, BK_DIM_MASS, BK_US, 3, "7937 lb"},
        {235e6, BK_DIM_STRESS, BK_SI, 3, "235 MPa"},
        {235e6, BK_DIM_STRESS, BK_US, 3, "34.1 ksi"},
        {12345, BK_DIM_MOMENT, BK_SI, 4, "12.35 kN m"},
        {12345, BK_DIM_MOMENT, BK_US, 3, "9.11 kip ft"},
        {BK_PI / 4, BK_DIM_ANGLE, BK_SI, 3, "45.0\xC2\xB0"},
        {0.1, BK_DIM_SPEED, BK_SI, 3, "6.00 m/min"},
        {0.1, BK_DIM_SPEED, BK_US, 3, "19.7 ft/min"},
        {293.15, BK_DIM_TEMPERATURE, BK_SI, 3,
         "20.0 \xC2\xB0"
         "C"},
        {293.15, BK_DIM_TEMPERATURE, BK_US, 3,
         "68.0 \xC2\xB0"
         "F"},
        {0.1, BK_DIM_FREQUENCY, BK_SI, 3, "360 1/h"},
        {5400, BK_DIM_TIME, BK_SI, 3, "1.50 h"},
        {1.35, BK_DIM_NONE, BK_SI, 4, "1.35"},
        {0.99946, BK_DIM_NONE, BK_SI, 3, "0.999"}, /* the digit is lost only where it rounds up */
        {0.37, BK_DIM_MOMENT, BK_SI, 3, "0.370 N m"},
        {20849.6, BK_DIM_NONE, BK_SI, 4, "20850"}, /* hours of a life, not 2.085e+04 */
        /* no exponent from a ten-thousandth to a thousand billion */
        {100, BK_DIM_STRESS, BK_SI, 3, "0.000100 MPa"},
        {99, BK_DIM_STRESS, BK_SI, 3, "9.9e-05 MPa"},
        {9e20, BK_DIM_FORCE, BK_SI, 3, "900000000000000 MN"},
        {1e21, BK_DIM_FORCE, BK_SI, 3, "1e+15 MN"},
        {-1e22, BK_DIM_FORCE, BK_SI, 3, "-1e+16 MN"},
        {NAN, BK_DIM_FORCE, BK_SI, 3, "-"},
        {NAN, BK_DIM_NONE, BK_SI, 3, "-"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char buf[64];
        bk_quantity_print(buf, sizeof buf, cases[i].si, cases[i].dim, cases[i].system, cases[i].digits);
        ck_assert_str_eq(buf, cases[i].text);
    }
    char buf[64];
    ck_assert_str_eq(bk_number_print(buf, sizeof buf, 3600, "t", 2), "3.60");
    ck_assert_str_eq(bk_number_print(buf, sizeof buf, -0.001, "kN", 1), "0.0");
    ck_assert_str_eq(bk_number_print(buf, sizeof buf, NAN, "kN", 1), "-");
    ck_assert_str_eq(bk_number_print(buf, sizeof buf, 12345, "kN m", 2), "12.35");
    ck_assert_str_eq(bk_plain_print(buf, sizeof buf, 0.1, 17), "0.10000000000000001");
    ck_assert_str_eq(bk_plain_print(buf, sizeof buf, -0.0, 3), "0");
    ck_assert_str_eq(bk_quantity_print(buf, 5, 35300, BK_DIM_FORCE, BK_SI, 3), "35.3");
}
END_TEST

/* Every ladder of units, written a second time: from one of a unit on (wind: three metres a second, six miles an hour) it is taken, below that the
 * next one, and the last whatever is left. */
START_TEST(ladders_of_units)
{
    static const struct {
        bk_dim dim;
        bool si, us;
        double from; /* of the first unit */
        const char *units[4];
    } ladders[] = {
        {BK_DIM_FORCE, true, false, 1, {"MN", "kN", "N"}}, {BK_DIM_MASS, true, false, 1, {"t", "kg"}},
        {BK_DIM_LENGTH, true, false, 1, {"m", "mm"}}, {BK_DIM_AREA, true, false, 1, {"m2", "cm2", "mm2"}},
        {BK_DIM_VOLUME, true, false, 1, {"m3", "cm3"}}, {BK_DIM_INERTIA, true, false, 1, {"cm4"}},
        {BK_DIM_WARPING, true, false, 1, {"cm6"}}, {BK_DIM_STRESS, true, false, 1, {"MPa"}},
        {BK_DIM_MOMENT, true, false, 1, {"kN m", "N m"}}, {BK_DIM_BIMOMENT, true, false, 1, {"kN m2"}},
        {BK_DIM_LINE_FORCE, true, false, 1, {"kN/m", "N/m"}}, {BK_DIM_LINE_MASS, true, false, 1, {"kg/m"}},
        {BK_DIM_DENSITY, true, false, 1, {"kg/m3"}}, {BK_DIM_SPEED, true, false, 3, {"m/s", "m/min"}},
        {BK_DIM_ACCELERATION, true, false, 1, {"m/s2"}},
        {BK_DIM_FORCE, false, true, 1, {"kip", "lbf"}}, {BK_DIM_MASS, false, true, 1, {"lb"}},
        {BK_DIM_LENGTH, false, true, 1, {"ft", "in"}}, {BK_DIM_AREA, false, true, 1, {"in2"}},
        {BK_DIM_VOLUME, false, true, 1, {"in3"}}, {BK_DIM_INERTIA, false, true, 1, {"in4"}},
        {BK_DIM_WARPING, false, true, 1, {"in6"}}, {BK_DIM_STRESS, false, true, 1, {"ksi", "psi"}},
        {BK_DIM_MOMENT, false, true, 1, {"kip ft", "lbf ft"}}, {BK_DIM_BIMOMENT, false, true, 1, {"kip ft2"}},
        {BK_DIM_LINE_FORCE, false, true, 1, {"kip/ft", "lbf/ft"}}, {BK_DIM_LINE_MASS, false, true, 1, {"lb/ft"}},
        {BK_DIM_DENSITY, false, true, 1, {"lb/ft3"}}, {BK_DIM_SPEED, false, true, 6, {"mph", "ft/min"}},
        {BK_DIM_ACCELERATION, false, true, 1, {"ft/s2"}},
        {BK_DIM_TIME, true, true, 1, {"h", "min", "s"}}, {BK_DIM_FREQUENCY, true, true, 1, {"1/h"}},
    };
    for (size_t i = 0; i < sizeof ladders / sizeof *ladders; i++)
        for (int us = 0; us < 2; us++)
            for (int k = 0; (us ? ladders[i].us : ladders[i].si) && ladders[i].units[k]; k++) {
                const char *unit = ladders[i].units[k], *next = ladders[i].units[k + 1];
                const bk_system system = us ? BK_US : BK_SI;
                const double from = k == 0 ? ladders[i].from : 1;
                double factor, offset;
                bk_dim dim;
                ck_assert_int_eq(bk_unit_read(unit, &factor, &offset, &dim, NULL, 0), BK_OK);
                ck_assert_msg(dim == ladders[i].dim, "%s", unit);
                const double figures[] = {1.04 * from, 0.96 * from, 0.04};
                for (int f = 0; f < 3; f++) {
                    const char *wanted = f == 0 || !next ? unit : f == 1 ? next : NULL;
                    const char *found = bk_quantity_unit(figures[f] * factor, dim, system, 3);
                    ck_assert_msg(!wanted || strcmp(found, wanted) == 0, "%g %s is told in %s", figures[f], unit, found);
                }
            }
    char buf[40];
    for (int us = 0; us < 2; us++) /* the last units of angles and temperatures */
        ck_assert_str_eq(bk_quantity_print(buf, sizeof buf, BK_PI / 1800, BK_DIM_ANGLE, us ? BK_US : BK_SI, 3), "0.100\xC2\xB0");
    ck_assert_str_eq(bk_quantity_print(buf, sizeof buf, 273.65, BK_DIM_TEMPERATURE, BK_SI, 3), "0.500 \xC2\xB0" "C");
    ck_assert_str_eq(bk_quantity_print(buf, sizeof buf, (459.67 + 0.5) / 1.8, BK_DIM_TEMPERATURE, BK_US, 3), "0.500 \xC2\xB0" "F");
}
END_TEST

/* Exponents of a dimension that fit, and those that do not. */
START_TEST(exponents_that_fit)
{
    for (int base = 0; base < BK_BASES; base++)
        for (int e = -10; e <= 9; e++) {
            int exponents[BK_BASES] = {0}, back[BK_BASES];
            bk_dim dim;
            exponents[base] = e;
            ck_assert_int_eq(bk_dim_pack(exponents, &dim), e >= -8 && e <= 7);
            if (e < -8 || e > 7) continue;
            bk_dim_unpack(dim, back);
            ck_assert_int_eq(memcmp(exponents, back, sizeof back), 0);
        }
    static const char *const raised[] = {"m\xC2\xB9", "m\xC2\xB2", "m\xC2\xB3", "m\xE2\x81\xB4", "m\xE2\x81\xB5", "m\xE2\x81\xB6"};
    for (int i = 0; i < 6; i++) {
        double factor, offset;
        bk_dim dim;
        int e[BK_BASES];
        ck_assert_int_eq(bk_unit_read(raised[i], &factor, &offset, &dim, NULL, 0), BK_OK);
        bk_dim_unpack(dim, e);
        int sum = 0;
        for (int k = 0; k < BK_BASES; k++) sum += e[k];
        ck_assert_int_eq(sum, i + 1);
    }
}
END_TEST

/* A mass stands for its weight and the other way round; nothing else of a mass stands for anything. */
START_TEST(what_a_mass_stands_for)
{
    refuse("5 kN m", BK_DIM_MASS, BK_E_UNIT, "moment");
    refuse("5 kg", BK_DIM_MOMENT, BK_E_UNIT, "moment");
    refuse("5 kg/m", BK_DIM_FORCE, BK_E_UNIT, "force");
    refuse("5 N", BK_DIM_LINE_MASS, BK_E_UNIT, "force");
    refuse("5 kN/m2", BK_DIM_MASS, BK_E_UNIT, "mass");
    refuse("5 kg s", BK_DIM_FORCE, BK_E_UNIT, "force");
    refuse("5 kg m", BK_DIM_FORCE, BK_E_UNIT, "force");
    refuse("5 kg/s2", BK_DIM_FORCE, BK_E_UNIT, "force");
    refuse("5 N/m", BK_DIM_MASS, BK_E_UNIT, "mass");
    refuse("5 N s2", BK_DIM_MASS, BK_E_UNIT, "mass");
    expect("5 kg/m", BK_DIM_LINE_FORCE, 5 * 9.80665);
    /* blanks of every kind */
    expect("5\xC2\xA0kN", BK_DIM_FORCE, 5000);
    expect("\xC2\xA0 5\xC2\xA0\xC2\xA0 kN\xC2\xA0", BK_DIM_FORCE, 5000);
    expect("5\xE2\x80\xAFkN\xE2\x80\xAF", BK_DIM_FORCE, 5000);
    expect("\t5\n kN\r", BK_DIM_FORCE, 5000);
    expect("5 N/m", BK_DIM_LINE_MASS, 5 / 9.80665);
    char why[200] = "";
    double factor, offset;
    bk_dim dim;
    ck_assert_int_eq(bk_unit_read("kN x", &factor, &offset, &dim, why, sizeof why), BK_E_UNKNOWN_UNIT);
    ck_assert_ptr_null(strstr(why, "kN x"));
    refuse("5 kN-", BK_DIM_FORCE, BK_E_TOLERANCE, "want a tolerance");
    expect("5 kN-m", BK_DIM_MOMENT, 5000);
    expect("8ft6-1/2in", BK_DIM_LENGTH, (8 * 12 + 6.5) * 0.0254);
    expect("8ft6/8in", BK_DIM_LENGTH, (8 * 12 + 0.75) * 0.0254);
    refuse("x", BK_DIM_LENGTH, BK_E_NUMBER, "such as \"2.5 m\"");
    refuse("x", BK_DIM_NONE, BK_E_NUMBER, "such as \"2.5\"");
    refuse("5 kN/m*s and more", BK_DIM_FORCE, BK_E_UNKNOWN_UNIT, "\"kN/m*s\" has two readings");
    refuse("5 m^9 and more", BK_DIM_FORCE, BK_E_UNKNOWN_UNIT, "\"m^9\" makes no sense");
    refuse("5 kN/ ", BK_DIM_FORCE, BK_E_UNKNOWN_UNIT, "\"kN/");
}
END_TEST

/* A tolerance of nothing is one. */
START_TEST(no_tolerance)
{
    expect_tol("2 m +/- 0 m", BK_DIM_LENGTH, 2, 0);
    expect_tol("2 m +/- 0 %", BK_DIM_LENGTH, 2, 0);
    char why[200];
    bk_vec3_value v;
    ck_assert_int_eq(bk_vector_read("1 2 3 m +/- 0 0 0 m", BK_DIM_LENGTH, &v, why, sizeof why), BK_OK);
    ck_assert(v.tol.x == 0 && v.tol.y == 0 && v.tol.z == 0);
}
END_TEST

/* Tenths of a degree go through radians and come back whole; what is no tenth stays what it is. */
START_TEST(angles_in_degrees)
{
    for (int i = -3600; i <= 3600; i++) {
        char text[40];
        snprintf(text, sizeof text, "%d.%d deg", abs(i) / 10, abs(i) % 10);
        const double radians = read_ok(text, BK_DIM_ANGLE);
        ck_assert_msg(bk_dim_symbol_value(i < 0 ? -radians : radians, BK_DIM_ANGLE) == i / 10.0, "%s", text);
    }
    const double third = BK_PI / 3 + 1e-13;
    ck_assert_double_ne(bk_dim_symbol_value(third, BK_DIM_ANGLE), 60);
    ck_assert_double_eq(bk_dim_symbol_value(7.5, BK_DIM_LENGTH), 7.5);
}
END_TEST

START_TEST(dimensions)
{
    ck_assert_str_eq(bk_dim_name(BK_DIM_MOMENT), "moment");
    ck_assert_str_eq(bk_dim_symbol(BK_DIM_MOMENT), "N m");
    ck_assert_str_eq(bk_dim_symbol(BK_DIM_PER_SPEED), "s/m");
    ck_assert_str_eq(bk_dim_symbol(BK_DIM_ANGLE), "deg");
    ck_assert_str_eq(bk_dim_name(BK_DIM(2, 0, 0, 0, 0)), "quantity");
    ck_assert_double_eq_tol(bk_dim_symbol_value(BK_PI / 3, BK_DIM_ANGLE), 60, 1e-13);
    ck_assert(bk_dim_symbol_value(7.5, BK_DIM_FORCE) == 7.5);
}
END_TEST

START_TEST(units_of_a_system)
{
    ck_assert_str_eq(bk_quantity_unit(31400, BK_DIM_FORCE, BK_SI, 4), "kN");
    ck_assert_str_eq(bk_quantity_unit(31400, BK_DIM_FORCE, BK_US, 4), "kip");
    ck_assert_str_eq(bk_quantity_unit(0.0127, BK_DIM_LENGTH, BK_SI, 4), "mm");
    ck_assert_str_eq(bk_quantity_unit(0.0127, BK_DIM_LENGTH, BK_US, 4), "in");
    ck_assert_str_eq(bk_quantity_unit(420, BK_DIM_TIME, BK_US, 4), "min");
    static const struct {
        const char *unit;
        bool si, us;
    } known[] = {{"t", true, false},          {"kN", true, false},     {"N/mm2", true, false}, {"degC", true, false},
                 {"lb", false, true},         {"lbf*ft", false, true}, {"degF", false, true},  {"in", false, true},
                 {"short_ton", false, false}, {"deg", true, true},     {"h", true, true},      {"furlong", false, false}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
        ck_assert_msg(bk_unit_of_system(known[i].unit, BK_SI) == known[i].si, "%s in SI", known[i].unit);
        ck_assert_msg(bk_unit_of_system(known[i].unit, BK_US) == known[i].us, "%s in US units", known[i].unit);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("quantity");
    TCase *all = tcase_create("all");
    tcase_add_test(all, numbers);
    tcase_add_test(all, simple_units);
    tcase_add_test(all, compound_units);
    tcase_add_test(all, feet_and_inches);
    tcase_add_test(all, mass_and_weight);
    tcase_add_test(all, tolerances);
    tcase_add_test(all, refusals);
    tcase_add_test(all, vectors);
    tcase_add_test(all, printing);
    tcase_add_test(all, ladders_of_units);
    tcase_add_test(all, angles_in_degrees);
    tcase_add_test(all, no_tolerance);
    tcase_add_test(all, what_a_mass_stands_for);
    tcase_add_test(all, exponents_that_fit);
    tcase_add_test(all, units_of_a_system);
    tcase_add_test(all, dimensions);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
