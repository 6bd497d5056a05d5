/* utf8: strict decoding after RFC 3629, section 4 (the table of well-formed byte sequences). */
#include "utf8.h"

size_t bk_ascii_span(const char *s, size_t n)
{
    size_t i = 0;
    while (i < n && s[i] >= 0x20 && s[i] < 0x7F)
        i++;
    return i;
}

size_t bk_utf8_next(const char *s, size_t n, uint32_t *character)
{
    const unsigned char *b = (const unsigned char *)s;
    if (b[0] < 0x80) {
        *character = b[0];
        return 1;
    }
    size_t length;
    uint32_t least, c;
    if (b[0] >= 0xC2 && b[0] <= 0xDF)
        length = 2, least = 0x80, c = b[0] & 0x1FU;
    else if (b[0] >= 0xE0 && b[0] <= 0xEF)
        length = 3, least = 0x800, c = b[0] & 0x0FU;
    else if (b[0] >= 0xF0 && b[0] <= 0xF4)
        length = 4, least = 0x10000, c = b[0] & 0x07U;
    else
        return 0;
    if (length > n) return 0;
    for (size_t i = 1; i < length; i++) {
        if ((b[i] & 0xC0) != 0x80) return 0;
        c = c << 6 | (b[i] & 0x3FU);
    }
    if (c < least || c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF)) return 0;
    *character = c;
    return length;
}

bool bk_utf8_is_unsafe(uint32_t c)
{
    return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x061C || c == 0x200E || c == 0x200F ||
           (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF;
}
