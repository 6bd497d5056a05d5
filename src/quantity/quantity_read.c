/* quantity_read: the texts of a plan or table to SI.
 *
 *     quantity  = sum [ mark tolerance ]         mark = "±" | "+/-" | "+-"
 *     sum       = number unit { number unit }    of one dimension, each unit smaller than the last
 *     vector    = number number number unit
 *                 [ mark ( quantity | number number number unit ) ]
 *     tolerance = number "%" (of the size of the value) | sum
 *
 * A minus before a sum negates the whole of it.  Every unit is first brought to the dimension that is
 * wanted, which is where mass and weight are read for each other.
 */
#include "text.h"

#include <string.h>

static const double LARGEST = 1e30;

typedef struct scanner {
    const char *whole; /* for messages */
    bk_dim want;
    char *why;
    size_t why_size;
} scanner;

static bk_excerpt whole_text(const scanner *s)
{
    return bk_excerpt_of(s->whole, SIZE_MAX);
}

/* Bytes of a tolerance mark at text, 0 for none. */
static size_t mark_length(const char *text)
{
    static const char *const marks[] = {BK_PLUS_MINUS, "+/-", "+-"};
    if (*text != marks[0][0] && *text != '+') return 0;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (strncmp(text, marks[i], strlen(marks[i])) == 0) return strlen(marks[i]);
    return 0;
}

static bool ends(const char *text)
{
    text = bk_skip_blanks(text);
    return *text == 0 || mark_length(text) > 0;
}

static bk_status no_number(const scanner *s, const char *at)
{
    at = bk_skip_blanks(at);
    if (bk_number_begins(at))
        return bk_say(s->why, s->why_size, BK_E_NUMBER,
                      "want a decimal number of at most 1e30 or a fraction, found \"%s\"",
                      bk_excerpt_of(at, SIZE_MAX).text);
    return bk_say(s->why, s->why_size, BK_E_NUMBER, "want %s %s such as \"2.5%s%s\", found \"%s\"",
                  bk_dim_article(s->want), bk_dim_name(s->want), s->want == BK_DIM_NONE ? "" : " ",
                  s->want == BK_DIM_NONE ? "" : bk_dim_example(s->want), whole_text(s).text);
}

static bk_status comma(const scanner *s)
{
    return bk_say(
        s->why, s->why_size, BK_E_NUMBER,
        "a comma has no place in numbers: write 2.5 for two and a half and 1000 for a thousand, found \"%s\"",
        whole_text(s).text);
}

/* Is got the dimension wanted, or a mass where its weight is wanted or the other way round?  *scale
 * then brings a value in SI to the wanted dimension.  Read so only where the mass counts once. */
static bool convertible(bk_dim got, bk_dim want, double *scale)
{
    int has[BK_BASES], needs[BK_BASES];
    *scale = 1;
    if (got == want) return true;
    bk_dim_unpack(got, has);
    bk_dim_unpack(want, needs);
    if (has[0] != 1 || needs[0] != 1 || has[3] != needs[3] || has[4] != needs[4]) return false;
    int metres = needs[1] - has[1], seconds = needs[2] - has[2];
    if (metres == 1 && seconds == -2)
        *scale = BK_STANDARD_GRAVITY_M_PER_S2;
    else if (metres == -1 && seconds == 2)
        *scale = 1 / BK_STANDARD_GRAVITY_M_PER_S2;
    else
        return false;
    return true;
}

/* A unit, in terms of the wanted dimension. */
typedef struct measure {
    double factor, offset;
    bk_dim dim; /* its own */
    bool percent;
} measure;

/* Does another number begin at text, where a unit must?  1/h is one. */
static bool number_for_unit(const char *text)
{
    return bk_number_begins(text) && !(text[0] == '1' && bk_skip_blanks(text + 1)[0] == '/');
}

/* The unit at *text (which is moved behind it). */
static bk_status read_measure(const scanner *s, const char **text, measure *unit)
{
    const char *begin = bk_skip_blanks(*text);
    double scale;
    *unit = (measure){.factor = 1, .dim = BK_DIM_NONE};
    if (*begin == ',') return comma(s);
    if (ends(begin)) {
        if (s->want == BK_DIM_NONE) return BK_OK;
        return bk_say(s->why, s->why_size, BK_E_NO_UNIT, "want %s %s with its unit, such as %s, found \"%s\"",
                      bk_dim_article(s->want), bk_dim_name(s->want), bk_dim_example(s->want),
                      whole_text(s).text);
    }
    if (number_for_unit(begin))
        return bk_say(s->why, s->why_size, BK_E_NUMBER, "want a unit between the numbers, found \"%s\"",
                      whole_text(s).text);
    bk_status status =
        bk_unit_scan(begin, text, &s->want, &unit->factor, &unit->offset, &unit->dim, s->why, s->why_size);
    if (status) return status;
    unit->percent = *begin == '%' && unit->dim == BK_DIM_NONE;
    if (!convertible(unit->dim, s->want, &scale))
        return bk_say(s->why, s->why_size, BK_E_UNIT, "want %s %s, found %s %s: \"%s\"",
                      bk_dim_article(s->want), bk_dim_name(s->want), bk_dim_article(unit->dim),
                      bk_dim_name(unit->dim), whole_text(s).text);
    unit->factor *= scale;
    return BK_OK;
}

/* A number that must follow. */
static bk_status read_number(const scanner *s, const char **text, double *number)
{
    const char *end = bk_number_scan(*text, true, number);
    if (!end) return no_number(s, *text);
    *text = end;
    return BK_OK;
}

/* Does another number of a sum begin at text?  8 ft 6 in, 8'6", 8'-6" */
static const char *next_term(const char *text)
{
    const char *at = bk_skip_blanks(text);
    if (*text == '-' && text[1] >= '0' && text[1] <= '9') at = text + 1;
    return (*at >= '0' && *at <= '9') || *at == '.' ? at : NULL;
}

/* The sum at *text, in SI save for a zero point; first tells the unit of its first number. */
static bk_status read_sum(const scanner *s, const char **text, double *value, measure *first)
{
    double number;
    bk_status status = read_number(s, text, &number);
    if (status) return status;
    status = read_measure(s, text, first);
    if (status) return status;
    bool negative = signbit(number) != 0;
    double size = fabs(number) * first->factor;
    double smallest = first->factor;
    for (const char *at; (at = next_term(*text)) != NULL;) {
        measure unit;
        status = read_number(s, &at, &number);
        if (!status) status = read_measure(s, &at, &unit);
        if (status) return status;
        if (unit.dim != first->dim || unit.factor >= smallest || unit.offset > 0 || first->offset > 0)
            return bk_say(
                s->why, s->why_size, BK_E_NUMBER,
                "in a sum such as 8 ft 6 in each unit is of one kind and smaller than the one before, "
                "found \"%s\"",
                whole_text(s).text);
        smallest = unit.factor;
        size += number * unit.factor;
        *text = at;
    }
    *value = negative ? -size : size;
    if (!(size <= LARGEST))
        return bk_say(s->why, s->why_size, BK_E_NUMBER, "the value is out of range: \"%s\"",
                      whole_text(s).text);
    return BK_OK;
}

static bk_status bad_tolerance(const scanner *s)
{
    return bk_say(s->why, s->why_size, BK_E_TOLERANCE,
                  "want a tolerance such as \"" BK_PLUS_MINUS " 5 %%\" or \"" BK_PLUS_MINUS
                  " 0.1%s%s\", found \"%s\"",
                  s->want == BK_DIM_NONE ? "" : " ", s->want == BK_DIM_NONE ? "" : bk_dim_example(s->want),
                  whole_text(s).text);
}

/* What is left must be blank. */
static bk_status at_end(const scanner *s, const char *text)
{
    text = bk_skip_blanks(text);
    if (*text == 0) return BK_OK;
    if (*text == ',') return comma(s);
    if (*text == '+' || *text == '-' || mark_length(text)) return bad_tolerance(s);
    return bk_say(s->why, s->why_size, BK_E_NUMBER, "cannot read \"%s\" in \"%s\"",
                  bk_excerpt_of(text, SIZE_MAX).text, whole_text(s).text);
}

/* A number and "%" and the end: a tolerance in proportion. */
static bool read_percentage(const char *text, double *ratio)
{
    double number;
    const char *end = bk_number_scan(text, true, &number);
    if (!end) return false;
    end = bk_skip_blanks(end);
    if (*end != '%' || *bk_skip_blanks(end + 1)) return false;
    *ratio = number / 100;
    return true;
}

bk_status bk_quantity_read(const char *text, bk_dim want, bk_value *out, char *why, size_t why_size)
{
    scanner s = {text, want, why, why_size};
    double value, tolerance = 0;
    measure unit;
    bk_status status = read_sum(&s, &text, &value, &unit);
    if (status) return status;
    value += unit.offset;
    text = bk_skip_blanks(text);
    size_t mark = mark_length(text);
    if (mark) {
        double ratio;
        measure its; /* whose zero point does not count: a tolerance is a difference */
        text += mark;
        if (read_percentage(text, &ratio)) {
            if (unit.percent || unit.offset > 0)
                return bk_say(why, why_size, BK_E_TOLERANCE,
                              "a percentage of %s can be read in two ways: write \"" BK_PLUS_MINUS
                              " 0.05\" for plain numbers, "
                              "found \"%s\"",
                              unit.percent ? "a percentage" : "a temperature", whole_text(&s).text);
            tolerance = ratio * fabs(value);
            text = "";
        } else if (!bk_number_begins(bk_skip_blanks(text))) {
            return bad_tolerance(&s);
        } else {
            status = read_sum(&s, &text, &tolerance, &its);
            if (status) return status;
        }
        if (!(tolerance >= 0)) return bad_tolerance(&s);
    }
    status = at_end(&s, text);
    if (status == BK_OK) *out = (bk_value){value, tolerance};
    return status;
}

/* Three numbers and one unit at *text. */
static bk_status read_three(const scanner *s, const char **text, double si[3])
{
    static const char *const form =
        "want three numbers and one unit, such as \"1.10 0.05 0.70%s%s\", found \"%s\"";
    measure unit;
    for (int i = 0; i < 3; i++) {
        const char *at = bk_skip_blanks(*text);
        const char *end = bk_number_scan(at, false, &si[i]);
        if (*at == ',') return comma(s);
        if (!end && bk_number_begins(at)) return no_number(s, at);
        if (!end)
            return bk_say(s->why, s->why_size, BK_E_VECTOR, form, s->want == BK_DIM_NONE ? "" : " ",
                          s->want == BK_DIM_NONE ? "" : bk_dim_example(s->want), whole_text(s).text);
        double mixed;
        if (bk_number_scan(at, true, &mixed) != end)
            return bk_say(s->why, s->why_size, BK_E_VECTOR,
                          "\"%s\" can be read in two ways: in a vector write 1-1/2 or 1.5, not 1 1/2",
                          whole_text(s).text);
        *text = end;
    }
    const char *at = bk_skip_blanks(*text);
    if (number_for_unit(at))
        return bk_say(s->why, s->why_size, BK_E_VECTOR, form, s->want == BK_DIM_NONE ? "" : " ",
                      s->want == BK_DIM_NONE ? "" : bk_dim_example(s->want), whole_text(s).text);
    bk_status status = read_measure(s, text, &unit);
    for (int i = 0; i < 3 && !status; i++) {
        si[i] = si[i] * unit.factor + unit.offset;
        if (!(fabs(si[i]) <= LARGEST))
            status = bk_say(s->why, s->why_size, BK_E_NUMBER, "the value is out of range: \"%s\"",
                            whole_text(s).text);
    }
    return status;
}

bk_status bk_vector_read(const char *text, bk_dim want, bk_vec3_value *out, char *why, size_t why_size)
{
    scanner s = {text, want, why, why_size};
    double v[3], tol[3] = {0, 0, 0}, ratio;
    bk_status status = read_three(&s, &text, v);
    if (status) return status;
    text = bk_skip_blanks(text);
    size_t mark = mark_length(text);
    if (mark) {
        text += mark;
        double one;
        const char *after = bk_number_scan(text, true, &one);
        if (read_percentage(text, &ratio))
            return bk_say(why, why_size, BK_E_TOLERANCE,
                          "a percentage of three numbers has no meaning: want %s %s, such as \"" BK_PLUS_MINUS
                          " 0.1 %s\", "
                          "found \"%s\"",
                          bk_dim_article(want), bk_dim_name(want), bk_dim_example(want), whole_text(&s).text);
        if (!bk_number_begins(bk_skip_blanks(text))) return bad_tolerance(&s);
        if (after && bk_number_begins(bk_skip_blanks(after))) {
            status = read_three(&s, &text, tol);
        } else {
            measure unit;
            status = read_sum(&s, &text, &tol[0], &unit);
            tol[1] = tol[2] = tol[0];
        }
        if (status) return status;
        if (!(tol[0] >= 0 && tol[1] >= 0 && tol[2] >= 0)) return bad_tolerance(&s);
    }
    status = at_end(&s, text);
    if (status == BK_OK)
        *out = (bk_vec3_value){bk_vec3_of(v[0], v[1], v[2]), bk_vec3_of(tol[0], tol[1], tol[2])};
    return status;
}
