/* number: numbers in and out, the same in every locale.
 *
 * strtod and snprintf follow the thread's locale, where a point may be a comma.  Both are called
 * here only, under a "C" locale object that is made once (pthread_once; the room's only static
 * variable that is ever written) and put back after each call.  strtod sees nothing but text that the
 * scanner has already found to be a plain decimal number: no hexadecimal, no "inf", no "nan".
 */
#include "text.h"

#include <locale.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double LARGEST = 1e30;

static locale_t
    c_locale; /* set once; 0 (leave the locale alone) should the C library have no memory for it */
static pthread_once_t c_locale_once = PTHREAD_ONCE_INIT;

static void make_c_locale(void)
{
    c_locale = newlocale(LC_ALL_MASK, "C", (locale_t)0);
}

static locale_t enter_c_locale(void)
{
    pthread_once(&c_locale_once, make_c_locale);
    return uselocale(c_locale);
}

const char *bk_skip_blanks(const char *text)
{
    for (;;) {
        if (*text == ' ' || *text == '\t' || *text == '\n' || *text == '\r')
            text++;
        else if ((unsigned char)*text < 0x80)
            return text;
        else if (strncmp(text, "\xC2\xA0", 2) == 0) /* U+00A0 no-break space */
            text += 2;
        else if (strncmp(text, "\xE2\x80\xAF", 3) == 0) /* U+202F narrow no-break space */
            text += 3;
        else
            return text;
    }
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_digits(const char *text)
{
    while (is_digit(*text))
        text++;
    return text;
}

/* Length in bytes of a sign at text: + - or U+2212 (the minus of typeset text); 0 for none. */
static size_t sign_length(const char *text, bool *negative)
{
    *negative = *text == '-' || strncmp(text, "\xE2\x88\x92", 3) == 0;
    if (*text == '+' || *text == '-') return 1;
    return *negative ? 3 : 0;
}

bool bk_number_begins(const char *text)
{
    bool negative;
    text += sign_length(text, &negative);
    return is_digit(*text) || (*text == '.' && is_digit(text[1]));
}

/* The decimal number in [text, end). */
static double decimal(const char *text, const char *end)
{
    locale_t before = enter_c_locale();
    char *stop;
    double value = strtod(text, &stop);
    uselocale(before);
    return stop == end ? value : (double)NAN;
}

/* "3/8" at text: its value, and its end; NULL if there is no fraction here.  NaN with a zero below. */
static const char *fraction(const char *text, double *value)
{
    const char *bar = skip_digits(text);
    if (bar == text || *bar != '/' || !is_digit(bar[1])) return NULL;
    const char *end = skip_digits(bar + 1);
    double below = decimal(bar + 1, end);
    *value = below > 0 ? decimal(text, bar) / below : (double)NAN;
    return end;
}

const char *bk_number_scan(const char *text, bool spaced_fraction, double *value)
{
    bool negative;
    text = bk_skip_blanks(text);
    text += sign_length(text, &negative);
    if (!is_digit(*text) && !(*text == '.' && is_digit(text[1]))) return NULL;
    if (*text == '0' && (text[1] == 'x' || text[1] == 'X')) return NULL;

    double magnitude;
    const char *end = fraction(text, &magnitude);
    if (!end) {
        end = skip_digits(text);
        bool whole = *end != '.' && *end != 'e' && *end != 'E';
        if (*end == '.') end = skip_digits(end + 1);
        if (*end == 'e' || *end == 'E') {
            const char *exponent = end + 1 + (end[1] == '+' || end[1] == '-');
            if (is_digit(*exponent)) end = skip_digits(exponent);
        }
        magnitude = decimal(text, end);
        if (whole) { /* 1-3/8, 1 3/8: the fraction must be less than one, or it is another number */
            const char *more = *end == '-' ? end + 1 : spaced_fraction ? bk_skip_blanks(end) : end;
            double part;
            const char *after = more > end ? fraction(more, &part) : NULL;
            if (after && !(part >= 1)) {
                magnitude += part;
                end = after;
            }
        }
    }
    if (!(magnitude <= LARGEST)) /* also NaN */
        return NULL;
    *value = negative ? -magnitude : magnitude;
    return end;
}

const char *bk_number_read(const char *text, double *value)
{
    return bk_number_scan(text, true, value);
}

char *bk_plain_print(char *buf, size_t size, double value, int digits)
{
    if (isnan(value)) {
        snprintf(buf, size, "-");
        return buf;
    }
    locale_t before = enter_c_locale();
    snprintf(buf, size, "%.*g", digits, value + 0.0); /* -0 + 0 is 0 */
    uselocale(before);
    return buf;
}

char *bk_fixed_print(char *buf, size_t size, double value, int decimals)
{
    if (isnan(value)) {
        snprintf(buf, size, "-");
        return buf;
    }
    locale_t before = enter_c_locale();
    snprintf(buf, size, "%.*f", decimals, value);
    uselocale(before);
    if (size && buf[0] == '-' && strspn(buf + 1, "0.") == strlen(buf + 1)) /* -0.00 */
        memmove(buf, buf + 1, strlen(buf));
    return buf;
}
