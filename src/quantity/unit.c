/* unit: the list of units, and unit expressions made of them.
 *
 *     expression = factor { [ "*" | "·" | "-" | blank ] factor } [ { "/" factor | "per" factor } ]
 *     factor     = symbol [ exponent ]      exponent = "2" | "^2" | "²" | "-1" | "^-1" | "⁻¹"
 *
 * A slash divides by the one factor that follows it.  A product after a slash ("N/mm m") has two
 * readings and is refused; a second slash has one and is read.  A hyphen joins only where a letter
 * follows ("kip-ft").  Prefixes are not generated: each unit that can be read stands in the list, so
 * that nothing odd can be read by accident.
 */
#include "text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define GRAVITY "standard gravity 9.80665 m/s2, 3rd CGPM, 1901"
#define POUND   "pound 0.45359237 kg, 1959 agreement"
#define FOOT    "foot 0.3048 m, 1959 agreement"

#define G  BK_STANDARD_GRAVITY_M_PER_S2
#define LB 0.45359237
#define FT 0.3048
#define IN 0.0254

/* symbol, dimension, factor to SI (exact, or the exact expression), zero point, origin of the factor */
#define UNIT_LIST(X)                                                                                         \
    X("1", NONE, 1.0, 0, "number")                                                                           \
    X("%", NONE, 0.01, 0, "one in a hundred")                                                                \
    X("percent", NONE, 0.01, 0, "one in a hundred")                                                          \
    X("m", LENGTH, 1.0, 0, "SI")                                                                             \
    X("mm", LENGTH, 1e-3, 0, "SI")                                                                           \
    X("cm", LENGTH, 1e-2, 0, "SI")                                                                           \
    X("km", LENGTH, 1e3, 0, "SI")                                                                            \
    X("um", LENGTH, 1e-6, 0, "SI")                                                                           \
    X("\xC2\xB5m", LENGTH, 1e-6, 0, "SI; U+00B5 micro sign")                                                 \
    X("\xCE\xBCm", LENGTH, 1e-6, 0, "SI; U+03BC Greek mu")                                                   \
    X("in", LENGTH, IN, 0, "inch, a twelfth of the " FOOT)                                                   \
    X("inch", LENGTH, IN, 0, "inch, a twelfth of the " FOOT)                                                 \
    X("inches", LENGTH, IN, 0, "inch, a twelfth of the " FOOT)                                               \
    X("\"", LENGTH, IN, 0, "inch, a twelfth of the " FOOT)                                                   \
    X("\xE2\x80\xB3", LENGTH, IN, 0, "inch, a twelfth of the " FOOT "; U+2033 double prime")                 \
    X("ft", LENGTH, FT, 0, FOOT)                                                                             \
    X("foot", LENGTH, FT, 0, FOOT)                                                                           \
    X("feet", LENGTH, FT, 0, FOOT)                                                                           \
    X("'", LENGTH, FT, 0, FOOT)                                                                              \
    X("\xE2\x80\xB2", LENGTH, FT, 0, FOOT "; U+2032 prime")                                                  \
    X("yd", LENGTH, 0.9144, 0, "yard 0.9144 m, 1959 agreement")                                              \
    X("mi", LENGTH, 1609.344, 0, "mile, 5280 ft; " FOOT)                                                     \
    X("kg", MASS, 1.0, 0, "SI")                                                                              \
    X("g", MASS, 1e-3, 0, "SI")                                                                              \
    X("mg", MASS, 1e-6, 0, "SI")                                                                             \
    X("t", MASS, 1e3, 0, "tonne, accepted for use with the SI")                                              \
    X("tonne", MASS, 1e3, 0, "accepted for use with the SI")                                                 \
    X("tonnes", MASS, 1e3, 0, "accepted for use with the SI")                                                \
    X("lb", MASS, LB, 0, POUND)                                                                              \
    X("lbs", MASS, LB, 0, POUND)                                                                             \
    X("oz", MASS, LB / 16, 0, "ounce, a sixteenth of the " POUND)                                            \
    X("short_ton", MASS, 2000 * LB, 0, "2000 lb; " POUND)                                                    \
    X("short_tons", MASS, 2000 * LB, 0, "2000 lb; " POUND)                                                   \
    X("long_ton", MASS, 2240 * LB, 0, "2240 lb; " POUND)                                                     \
    X("long_tons", MASS, 2240 * LB, 0, "2240 lb; " POUND)                                                    \
    X("slug", MASS, LB *G / FT, 0, "1 lbf s2/ft; " POUND "; " GRAVITY)                                       \
    X("N", FORCE, 1.0, 0, "SI")                                                                              \
    X("daN", FORCE, 10.0, 0, "SI")                                                                           \
    X("kN", FORCE, 1e3, 0, "SI")                                                                             \
    X("MN", FORCE, 1e6, 0, "SI")                                                                             \
    X("GN", FORCE, 1e9, 0, "SI")                                                                             \
    X("kgf", FORCE, G, 0, "kilogram-force; " GRAVITY)                                                        \
    X("tf", FORCE, 1e3 * G, 0, "tonne-force; " GRAVITY)                                                      \
    X("lbf", FORCE, LB *G, 0, "pound-force; " POUND "; " GRAVITY)                                            \
    X("ozf", FORCE, LB / 16 * G, 0, "ounce-force; " POUND "; " GRAVITY)                                      \
    X("klbf", FORCE, 1e3 * LB * G, 0, "1000 lbf; " POUND "; " GRAVITY)                                       \
    X("kip", FORCE, 1e3 * LB * G, 0, "1000 lbf; " POUND "; " GRAVITY)                                        \
    X("kips", FORCE, 1e3 * LB * G, 0, "1000 lbf; " POUND "; " GRAVITY)                                       \
    X("Pa", STRESS, 1.0, 0, "SI")                                                                            \
    X("kPa", STRESS, 1e3, 0, "SI")                                                                           \
    X("MPa", STRESS, 1e6, 0, "SI")                                                                           \
    X("GPa", STRESS, 1e9, 0, "SI")                                                                           \
    X("bar", STRESS, 1e5, 0, "100 kPa")                                                                      \
    X("psi", STRESS, LB *G / (IN * IN), 0, "lbf/in2; " POUND "; " GRAVITY "; " FOOT)                         \
    X("ksi", STRESS, 1e3 * LB * G / (IN * IN), 0, "1000 lbf/in2; " POUND "; " GRAVITY "; " FOOT)             \
    X("psf", STRESS, LB *G / (FT * FT), 0, "lbf/ft2; " POUND "; " GRAVITY "; " FOOT)                         \
    X("J", MOMENT, 1.0, 0, "SI")                                                                             \
    X("kJ", MOMENT, 1e3, 0, "SI")                                                                            \
    X("Nm", MOMENT, 1.0, 0, "N m")                                                                           \
    X("kNm", MOMENT, 1e3, 0, "kN m")                                                                         \
    X("s", TIME, 1.0, 0, "SI")                                                                               \
    X("ms", TIME, 1e-3, 0, "SI")                                                                             \
    X("min", TIME, 60.0, 0, "accepted for use with the SI")                                                  \
    X("minute", TIME, 60.0, 0, "accepted for use with the SI")                                               \
    X("minutes", TIME, 60.0, 0, "accepted for use with the SI")                                              \
    X("h", TIME, 3600.0, 0, "accepted for use with the SI")                                                  \
    X("hour", TIME, 3600.0, 0, "accepted for use with the SI")                                               \
    X("hours", TIME, 3600.0, 0, "accepted for use with the SI")                                              \
    X("day", TIME, 86400.0, 0, "accepted for use with the SI")                                               \
    X("days", TIME, 86400.0, 0, "accepted for use with the SI")                                              \
    X("week", TIME, 604800.0, 0, "7 days")                                                                   \
    X("weeks", TIME, 604800.0, 0, "7 days")                                                                  \
    X("month", TIME, 31557600.0 / 12, 0, "a twelfth of the Julian year")                                     \
    X("months", TIME, 31557600.0 / 12, 0, "a twelfth of the Julian year")                                    \
    X("year", TIME, 31557600.0, 0, "Julian year, 365.25 days of 86400 s")                                    \
    X("years", TIME, 31557600.0, 0, "Julian year, 365.25 days of 86400 s")                                   \
    X("Hz", FREQUENCY, 1.0, 0, "SI")                                                                         \
    X("rad", ANGLE, 1.0, 0, "SI")                                                                            \
    X("deg", ANGLE, BK_PI / 180, 0, "pi/180 rad")                                                            \
    X("degree", ANGLE, BK_PI / 180, 0, "pi/180 rad")                                                         \
    X("degrees", ANGLE, BK_PI / 180, 0, "pi/180 rad")                                                        \
    X(BK_DEGREE, ANGLE, BK_PI / 180, 0, "pi/180 rad")                                                        \
    X("grad", ANGLE, BK_PI / 200, 0, "pi/200 rad")                                                           \
    X("mph", SPEED, 1609.344 / 3600, 0, "mile per hour; " FOOT)                                              \
    X("fpm", SPEED, FT / 60, 0, "foot per minute; " FOOT)                                                    \
    X("knot", SPEED, 1852.0 / 3600, 0, "nautical mile (1852 m) per hour")                                    \
    X("knots", SPEED, 1852.0 / 3600, 0, "nautical mile (1852 m) per hour")                                   \
    X("K", TEMPERATURE, 1.0, 0, "SI")                                                                        \
    X("degC", TEMPERATURE, 1.0, 273.15, "SI: 0 degC is 273.15 K")                                            \
    X(BK_DEGREE "C", TEMPERATURE, 1.0, 273.15, "SI: 0 degC is 273.15 K")                                     \
    X("degF", TEMPERATURE, 5.0 / 9, 459.67 * 5 / 9, "0 degF is 459.67 steps of 5/9 K above absolute zero")   \
    X(BK_DEGREE "F", TEMPERATURE, 5.0 / 9, 459.67 * 5 / 9,                                                   \
      "0 degF is 459.67 steps of 5/9 K above absolute zero")

static const bk_unit_info units[] = {
#define X(symbol, dim, factor, offset, origin) {symbol, origin, BK_DIM_##dim, factor, offset},
    UNIT_LIST(X)
#undef X
};
static const char *const symbols[] = {
#define X(symbol, dim, factor, offset, origin) symbol,
    UNIT_LIST(X)
#undef X
};
enum { N_UNITS = sizeof units / sizeof *units, EXPONENT_MAX = 8, FACTORS_MAX = 8 };

const bk_unit_info *bk_unit_info_at(size_t i)
{
    return i < N_UNITS ? &units[i] : NULL;
}

/* ---- messages ----------------------------------------------------------------------------------- */

bk_status bk_say(char *why, size_t why_size, bk_status status, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    if (why) vsnprintf(why, why_size, format, args);
    va_end(args);
    return status;
}

bk_excerpt bk_excerpt_of(const char *text, size_t n)
{
    bk_excerpt excerpt = {""};
    enum { ROOM = sizeof excerpt.text - sizeof "\xE2\x80\xA6" };
    n = strnlen(text, n);
    size_t kept = n;
    if (n > ROOM)
        for (kept = ROOM; kept > 0 && ((unsigned char)text[kept] & 0xC0) == 0x80; kept--)
            ; /* not in the middle of a character */
    snprintf(excerpt.text, sizeof excerpt.text, "%.*s%s", (int)kept, text, kept < n ? "\xE2\x80\xA6" : "");
    return excerpt;
}

/* ---- scanning ----------------------------------------------------------------------------------- */

static bool starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Bytes of a word character at text, 0 if it is none.  Every character beyond ASCII is one, save
 * those that have a meaning here, so that a message can name an unknown unit whole. */
static size_t word_character(const char *text)
{
    static const char *const marks[] = {
        "\xC2\xA0",    "\xE2\x80\xAF",                         /* blanks */
        BK_PLUS_MINUS, "\xE2\x88\x92",                         /* plus-minus, minus */
        "\xC2\xB7",    "\xE2\x8B\x85",                         /* dots of a product */
        "\xC2\xB2",    "\xC2\xB3",     "\xC2\xB9", "\xE2\x81", /* superscripts */
    };
    unsigned char c = (unsigned char)*text;
    if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_') return 1;
    if (c < 0x80) return 0;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (starts(text, marks[i])) return 0;
    size_t n = 1;
    while (((unsigned char)text[n] & 0xC0) == 0x80)
        n++;
    return n;
}

/* Length of the unit symbol at text, 0 if none begins there. */
static size_t symbol_length(const char *text)
{
    if (*text == '\'' || *text == '"' || *text == '%') return 1;
    if (*text == '1' && !is_digit(text[1]) && text[1] != '.') return 1;
    size_t n = 0;
    for (size_t step; (step = word_character(text + n)) > 0;)
        n += step;
    return n;
}

/* A superscript digit at text: its value and length; false if there is none. */
static bool superscript(const char *text, int *digit, size_t *length)
{
    static const struct {
        const char *text;
        int digit;
    } digits[] = {{"\xC2\xB9", 1},     {"\xC2\xB2", 2},     {"\xC2\xB3", 3},     {"\xE2\x81\xB4", 4},
                  {"\xE2\x81\xB5", 5}, {"\xE2\x81\xB6", 6}, {"\xE2\x81\xB7", 7}, {"\xE2\x81\xB8", 8}};
    for (size_t i = 0; i < sizeof digits / sizeof *digits; i++)
        if (starts(text, digits[i].text)) {
            *digit = digits[i].digit;
            *length = strlen(digits[i].text);
            return true;
        }
    return false;
}

/* The exponent at text, 1 if none stands there; *end behind it.  In "8ft6in" the 6 begins the next
 * number: an exponent is one digit, and neither a letter nor more of a number follows it. */
static int read_exponent(const char *text, const char **end)
{
    static const char superscript_minus[] = "\xE2\x81\xBB";
    int digit;
    size_t length;
    bool raised = starts(text, superscript_minus);
    const char *at = raised ? text + strlen(superscript_minus) : text;
    if (superscript(at, &digit, &length)) {
        *end = at + length;
        return raised ? -digit : digit;
    }
    *end = text;
    at = text + (*text == '^');
    bool negative = *at == '-';
    at += negative;
    if (!is_digit(*at)) return 1;
    const char *after = at + 1;
    bool number = is_digit(*after) || *after == '.' || *after == '\'' || *after == '"' ||
                  word_character(after) || ((*after == '/' || *after == '-') && is_digit(after[1]));
    if (number && *text != '^') return 1;
    *end = after;
    return negative ? '0' - *at : *at - '0';
}

static const bk_unit_info *find_unit(const char *symbol, size_t length)
{
    for (size_t i = 0; i < N_UNITS; i++)
        if (units[i].symbol[0] == symbol[0] && strncmp(units[i].symbol, symbol, length) == 0 &&
            units[i].symbol[length] == 0)
            return &units[i];
    return NULL;
}

static bool same_word(const char *word, const char *text, size_t length)
{
    if (strlen(word) != length) return false;
    for (size_t i = 0; i < length; i++)
        if ((text[i] | 0x20) != word[i]) /* ASCII letters without regard to case */
            return false;
    return true;
}

/* want: the dimension that the text is for, whose units are nearest; NULL where any would do. */
static bk_status unknown_unit(const char *symbol, size_t length, const bk_dim *want, char *why, size_t why_size)
{
    static const char *const tons[] = {"ton", "tons", "tonf", "tonsf", "t", "tn", "short", "long", "metric"};
    for (size_t i = 0; i < sizeof tons / sizeof *tons; i++)
        if (same_word(tons[i], symbol, length))
            return bk_say(
                why, why_size, BK_E_TON,
                "\"%s\" has more than one meaning: write t (tonne, 1000 kg), short_ton (2000 lb) or "
                "long_ton (2240 lb)",
                bk_excerpt_of(symbol, length).text);
    bk_excerpt shown = bk_excerpt_of(symbol, length);
    const char *fitting[N_UNITS];
    size_t n = 0;
    for (size_t i = 0; want && i < N_UNITS; i++)
        if (units[i].dim == *want || (units[i].dim == BK_DIM_MASS && *want == BK_DIM_FORCE)) fitting[n++] = symbols[i];
    const char *near = bk_nearest(shown.text, fitting, n);
    if (!near) near = bk_nearest(shown.text, symbols, N_UNITS);
    if (near)
        return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "unknown unit \"%s\", nearest is %s", shown.text,
                      near);
    if (want && *want != BK_DIM_NONE)
        return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "unknown unit \"%s\": want a unit of %s, such as %s", shown.text,
                      bk_dim_name(*want), bk_dim_example(*want));
    return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "unknown unit \"%s\"", shown.text);
}

/* Skips what joins two factors; says what it was.  Leaves *text alone where nothing joins. */
typedef enum joint { JOINT_NONE, JOINT_TIMES, JOINT_PER } joint;
static joint read_joint(const char **text)
{
    const char *at = bk_skip_blanks(*text);
    joint found = JOINT_NONE;
    if (*at == '/') {
        found = JOINT_PER;
        at++;
    } else if (starts(at, "per") && symbol_length(at) == 3) {
        found = JOINT_PER;
        at += 3;
    } else if (*at == '*' || starts(at, "\xC2\xB7") || starts(at, "\xE2\x8B\x85")) {
        found = JOINT_TIMES;
        at += *at == '*' ? 1 : starts(at, "\xC2\xB7") ? 2 : 3;
    } else if (at > *text ? word_character(at) > 0 : *at == '-' && word_character(at + 1) > 0) {
        found = JOINT_TIMES;
        at += *at == '-';
    }
    if (found != JOINT_NONE) *text = bk_skip_blanks(at);
    return found;
}

static bk_excerpt between(const char *begin, const char *end)
{
    return bk_excerpt_of(begin, (size_t)(end - begin));
}

bk_status bk_unit_scan(const char *text, const char **end, const bk_dim *want, double *factor, double *offset,
                       bk_dim *dim, char *why, size_t why_size)
{
    const char *begin = text;
    double product = 1;
    int exponents[BK_BASES] = {0};
    const bk_unit_info *with_zero = NULL; /* degC or degF */
    bool alone = true, divided = false;
    joint joined = read_joint(&text); /* "/h" and "per hour" begin with one */
    if (joined == JOINT_TIMES) text = begin;
    for (int n = 1;; n++) {
        size_t length = symbol_length(text);
        if (length == 0 && text == begin)
            return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "want a unit, found \"%s\"",
                          bk_excerpt_of(text, SIZE_MAX).text);
        if (length == 0)
            return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "the unit \"%s\" ends too early",
                          between(begin, text).text);
        const bk_unit_info *unit = find_unit(text, length);
        if (!unit) return unknown_unit(text, length, want, why, why_size);
        int exponent = 1;
        text += length;
        if (word_character(unit->symbol)) /* no exponents on ' " % 1 */
            exponent = read_exponent(text, &text);
        if (joined == JOINT_TIMES && divided)
            return bk_say(why, why_size, BK_E_UNKNOWN_UNIT,
                          "the unit \"%s\" has two readings: write the products before the slash",
                          between(begin, text).text);
        if (exponent == 0 || exponent > EXPONENT_MAX || exponent < -EXPONENT_MAX || n > FACTORS_MAX)
            return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "the unit \"%s\" makes no sense",
                          between(begin, text).text);
        alone = n == 1 && exponent == 1 && joined != JOINT_PER;
        if (unit->offset > 0) with_zero = unit;
        divided = divided || joined == JOINT_PER;
        int power = joined == JOINT_PER ? -exponent : exponent;
        int its[BK_BASES];
        bk_dim_unpack(unit->dim, its);
        for (int i = 0; i < BK_BASES; i++)
            exponents[i] += power * its[i];
        for (int i = 0; i < (power < 0 ? -power : power); i++)
            product = power < 0 ? product / unit->factor : product * unit->factor;
        joined = read_joint(&text);
        if (joined == JOINT_NONE) break;
    }
    if (!bk_dim_pack(exponents, dim))
        return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "the unit \"%s\" makes no sense",
                      between(begin, text).text);
    if (with_zero && !alone)
        return bk_say(why, why_size, BK_E_UNKNOWN_UNIT,
                      "%s has a zero point of its own and cannot be part of a compound unit: write K",
                      with_zero->symbol);
    *factor = product;
    *offset = with_zero ? with_zero->offset : 0;
    *end = text;
    return BK_OK;
}

bk_status bk_unit_read(const char *text, double *factor, double *offset, bk_dim *dim, char *why,
                       size_t why_size)
{
    const char *end;
    bk_status status = bk_unit_scan(bk_skip_blanks(text), &end, NULL, factor, offset, dim, why, why_size);
    if (status) return status;
    end = bk_skip_blanks(end);
    if (*end)
        return bk_say(why, why_size, BK_E_UNKNOWN_UNIT, "the unit \"%s\" goes on with \"%s\"",
                      between(text, end).text, bk_excerpt_of(end, SIZE_MAX).text);
    return BK_OK;
}
