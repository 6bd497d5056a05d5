/* text: the pieces that the readers of this room share. */
#ifndef BECKET_QUANTITY_TEXT_H
#define BECKET_QUANTITY_TEXT_H

#include <becket/quantity.h>

#define BK_DEGREE     "\xC2\xB0" /* U+00B0 degree sign */
#define BK_PLUS_MINUS "\xC2\xB1" /* U+00B1 */

/* Blanks: space, tab, line break (a value may be folded over two lines) and no-break space. */
const char *bk_skip_blanks(const char *text);

/* One number as bk_number_read reads it.  With spaced_fraction false a blank ends the number, so that
 * "1 3/8" is 1 and something else. */
const char *bk_number_scan(const char *text, bool spaced_fraction, double *value);

/* Does a number begin here (sign, digit, or point and digit)? */
bool bk_number_begins(const char *text);

/* A unit expression from its first character; *end is set behind it, at blanks, a digit that begins
 * another number, a sign, a tolerance mark or the end.  want: the dimension that a message speaks of, or
 * NULL.  The rest as bk_unit_read. */
bk_status bk_unit_scan(const char *text, const char **end, const bk_dim *want, double *factor, double *offset,
                       bk_dim *dim, char *why, size_t why_size);

/* Locale-proof %.*f, never "-0.0"; NaN is "-". */
char *bk_fixed_print(char *buf, size_t size, double value, int decimals);

/* Writes one sentence into why; returns status.  User text goes in through bk_excerpt. */
bk_status bk_say(char *why, size_t why_size, bk_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* A piece of user text, n bytes or up to its end, cut short with an ellipsis, for a message. */
typedef struct bk_excerpt {
    char text[72];
} bk_excerpt;
bk_excerpt bk_excerpt_of(const char *text, size_t n);

/* "a length", "an area" */
const char *bk_dim_article(bk_dim dim);
/* A unit that a reader would write for it, in an example: "m", "kN" */
const char *bk_dim_example(bk_dim dim);

/* Exponents of kg, m, s, K, rad. */
enum { BK_BASES = 5 };
void bk_dim_unpack(bk_dim dim, int exponents[BK_BASES]);
/* False when an exponent is outside -8..7, which bk_dim can hold. */
bool bk_dim_pack(const int exponents[BK_BASES], bk_dim *dim);

#endif
