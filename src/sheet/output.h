/* output: finished pages as the bytes of a file.  Internal to the sheet room.
 * *bytes is the caller's, to be freed with free().  False: why holds a sentence of the library that failed,
 * "" when memory ran out. */
#ifndef BK_SHEET_OUTPUT_H
#define BK_SHEET_OUTPUT_H

#include "ink.h"

/* What a file says of itself; NULL where it is not known. */
typedef struct bk_about {
    const char *title, *author, *date; /* date: YYYY-MM-DD of the plan; without one the file carries none */
} bk_about;

typedef struct bk_bytes {
    char *at;
    size_t n, capacity;
} bk_bytes;
/* False when memory is out. */
bool bk_bytes_add(bk_bytes *bytes, const void *more, size_t n);

/* Draws one page with cairo, in points. */
void bk_cairo_page(cairo_t *cairo, const bk_page *page);

bool bk_to_pdf(const bk_sheaf *paper, const bk_about *about, bk_bytes *out, const char **why);
/* All pages one below the other. */
bool bk_to_png(const bk_sheaf *paper, double dpi, bk_bytes *out, const char **why);
bool bk_to_svg(const bk_sheaf *paper, const bk_about *about, bk_bytes *out, const char **why);

#endif
