/* utf8: one strict decoder for the whole room. */
#ifndef BECKET_BASE_UTF8_H
#define BECKET_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Characters of printable ASCII at the head of s: nearly all of any file, and nothing to decode. */
size_t bk_ascii_span(const char *s, size_t n);

/* Decodes the character at s, n > 0 bytes left.  Returns its length 1..4, or 0 where the bytes are
 * not UTF-8: stray or missing continuation, overlong form, surrogate, past U+10FFFF. */
size_t bk_utf8_next(const char *s, size_t n, uint32_t *character);

/* Characters that could break a line, steer a terminal, or show a text in another order than it has: C0 and C1
 * controls, DEL, line separators, marks and overrides of direction, the byte order mark. */
bool bk_utf8_is_unsafe(uint32_t character);

#endif
