/* ink: what stands on the pages, before anyone knows how it gets onto paper.  Internal to the sheet room.
 *
 * Unit: point, 1/72 inch.  x to the right, y DOWN from the page's top left corner.  A page is an ordered list
 * of paths, discs and lines of set text; to_pdf.c, to_png.c and to_svg.c put the same list on paper, each in
 * its own way. Black, white and greys only: a sheet is copied, faxed and read by the colour-blind.
 */
#ifndef BK_SHEET_INK_H
#define BK_SHEET_INK_H

#include <becket/base.h>
#include <pango/pangocairo.h>

typedef struct bk_spot {
    double x, y;
} bk_spot;
typedef struct bk_box {
    double x0, y0, x1, y1;
} bk_box;
static inline double bk_box_width(bk_box b)
{
    return b.x1 - b.x0;
}
static inline double bk_box_height(bk_box b)
{
    return b.y1 - b.y0;
}

/* grey: 0 black .. 1 white.  width 0 strokes nothing.  dash: lengths drawn and left out, 0 ends; all 0 is
 * unbroken. */
typedef struct bk_pen {
    double width, grey, dash[4];
} bk_pen;
#define BK_NO_FILL (-1.0)

/* How a text is set. */
typedef struct bk_face {
    double size;
    bool bold, italic;
    double grey;
} bk_face;
/* One line of set text. */
typedef struct bk_run {
    PangoLayoutLine *line;
    const char *text; /* its characters, not ended by a NUL */
    size_t bytes;
    double width;
    bk_face face;
} bk_run;
/* A text broken into lines. */
typedef struct bk_set {
    size_t n;
    bk_run *runs;
    double width;   /* of the widest line */
    double leading; /* from line to line */
    bool cut;       /* ended with an ellipsis */
} bk_set;

typedef enum bk_ink_kind { BK_INK_PATH, BK_INK_DISC, BK_INK_TEXT } bk_ink_kind;
typedef struct bk_ink {
    bk_ink_kind kind;
    bk_pen pen;
    double fill; /* grey, BK_NO_FILL */
    size_t n;    /* PATH: corners; DISC: 1, its middle; TEXT: 1, left end of the baseline */
    bk_spot *at;
    bool closed;
    double radius;
    bk_run run;
} bk_ink;
typedef struct bk_page {
    bk_ink *inks;
    size_t n, capacity;
} bk_page;

/* All pages of a sheet in order, and the fonts they are set in.  Owns everything. */
typedef struct bk_sheaf {
    bk_arena *arena;
    double width, height;
    bk_page *pages;
    size_t n, capacity;
    PangoFontMap *fonts;
    PangoContext *context;
    GPtrArray *layouts;   /* keeps set lines alive */
    GHashTable *known;    /* texts set on one line */
    PangoAttrList *whole; /* a digest or a name broken in its middle gets no hyphen */
    bool failed;          /* memory ran out */
} bk_sheaf;

/* The families a sheet may be set in, best first; the last is whatever the machine has. */
#define BK_FAMILIES "DejaVu Sans,Noto Sans,Liberation Sans,Sans"
/* Has fonts looked for by name only, in this process: see fonts.c. */
void bk_fonts_by_name(void);

/* False when memory is out or no font is installed (then paper->fonts is not NULL). */
bool bk_sheaf_open(bk_sheaf *paper, double width, double height);
void bk_sheaf_close(bk_sheaf *paper);
/* Index of the new page. */
size_t bk_sheaf_add_page(bk_sheaf *paper);

void bk_ink_line(bk_sheaf *paper, size_t page, bk_spot a, bk_spot b, bk_pen pen);
void bk_ink_path(bk_sheaf *paper, size_t page, const bk_spot *at, size_t n, bool closed, bk_pen pen,
                 double fill);
void bk_ink_box(bk_sheaf *paper, size_t page, bk_box box, bk_pen pen, double fill);
void bk_ink_disc(bk_sheaf *paper, size_t page, bk_spot middle, double radius, bk_pen pen, double fill);
/* Strokes rising to the right, spacing apart, cut to the box. */
void bk_ink_hatch(bk_sheaf *paper, size_t page, bk_box box, double spacing, bk_pen pen);
void bk_ink_run(bk_sheaf *paper, size_t page, double x, double baseline, const bk_run *run);
/* Line after line below top; returns the lower edge. */
double bk_ink_set(bk_sheaf *paper, size_t page, double x, double top, const bk_set *set);
void bk_ink_set_right(bk_sheaf *paper, size_t page, double x1, double top, const bk_set *set);
void bk_ink_set_middle(bk_sheaf *paper, size_t page, double middle, double top, const bk_set *set);
/* Baseline of a line whose upper edge is top. */
double bk_baseline(const bk_set *set, double top);

/* Sets a text.  width 0: one line, as wide as it comes.  max_lines 0: as many as it takes; else the last one
 * ends with an ellipsis where text is left over.  Whatever the text holds: controls and characters that turn
 * the direction of writing become visible escapes, and words written from right to left are kept from
 * carrying figures along. */
bk_set bk_set_text(bk_sheaf *paper, const char *text, bk_face face, double width, int max_lines);
/* The same care for a text that is not set: titles and authors within the file.  NULL stays NULL. */
const char *bk_safe_text(bk_sheaf *paper, const char *text);

#endif
