/* ink: pages as lists of strokes and text; see ink.h.  When memory is out, paper->failed is set and drawing
 * goes on doing nothing: one test at the end is enough.
 */
#include "ink.h"

#include <string.h>

size_t bk_sheaf_add_page(bk_sheaf *paper)
{
    if (!bk_arena_push(paper->arena, &paper->pages, &paper->n, &paper->capacity, sizeof *paper->pages)) {
        paper->failed = true;
        return 0;
    }
    return paper->n - 1;
}

static bk_ink *add(bk_sheaf *paper, size_t page, bk_ink_kind kind, const bk_spot *at, size_t n)
{
    if (page >= paper->n) return NULL;
    bk_page *p = &paper->pages[page];
    bk_ink *ink = bk_arena_push(paper->arena, &p->inks, &p->n, &p->capacity, sizeof *p->inks);
    bk_spot *copy = BK_NEW(paper->arena, bk_spot, n);
    if (!ink || !copy) {
        if (ink) p->n--;
        paper->failed = true;
        return NULL;
    }
    memcpy(copy, at, n * sizeof *copy);
    *ink = (bk_ink){.kind = kind, .at = copy, .n = n, .fill = BK_NO_FILL};
    return ink;
}

void bk_ink_path(bk_sheaf *paper, size_t page, const bk_spot *at, size_t n, bool closed, bk_pen pen,
                 double fill)
{
    if (n < 2) return;
    bk_ink *ink = add(paper, page, BK_INK_PATH, at, n);
    if (!ink) return;
    ink->pen = pen;
    ink->fill = fill;
    ink->closed = closed;
}

void bk_ink_line(bk_sheaf *paper, size_t page, bk_spot a, bk_spot b, bk_pen pen)
{
    bk_ink_path(paper, page, (bk_spot[]){a, b}, 2, false, pen, BK_NO_FILL);
}

void bk_ink_box(bk_sheaf *paper, size_t page, bk_box b, bk_pen pen, double fill)
{
    bk_ink_path(paper, page, (bk_spot[]){{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}, 4, true,
                pen, fill);
}

void bk_ink_disc(bk_sheaf *paper, size_t page, bk_spot middle, double radius, bk_pen pen, double fill)
{
    bk_ink *ink = add(paper, page, BK_INK_DISC, &middle, 1);
    if (!ink) return;
    ink->pen = pen;
    ink->fill = fill;
    ink->radius = radius;
}

void bk_ink_hatch(bk_sheaf *paper, size_t page, bk_box b, double spacing, bk_pen pen)
{
    /* strokes x + y = c, on a grid of the page so that neighbouring boxes join */
    const double step = spacing * sqrt(2);
    for (double c = ceil((b.x0 + b.y0) / step) * step; c < b.x1 + b.y1; c += step) {
        const double x0 = fmax(b.x0, c - b.y1), x1 = fmin(b.x1, c - b.y0);
        if (x1 > x0) bk_ink_line(paper, page, (bk_spot){x0, c - x0}, (bk_spot){x1, c - x1}, pen);
    }
}

void bk_ink_run(bk_sheaf *paper, size_t page, double x, double baseline, const bk_run *run)
{
    if (run->bytes == 0) return;
    bk_ink *ink = add(paper, page, BK_INK_TEXT, &(bk_spot){x, baseline}, 1);
    if (ink) ink->run = *run;
}

double bk_baseline(const bk_set *set, double top)
{
    /* ascent over descent is near 0.93 to 0.24 for the faces that "Sans" finds; the rest of the leading is
     * shared */
    return top + 0.765 * set->leading;
}

double bk_ink_set(bk_sheaf *paper, size_t page, double x, double top, const bk_set *set)
{
    for (size_t i = 0; i < set->n; i++, top += set->leading)
        bk_ink_run(paper, page, x, bk_baseline(set, top), &set->runs[i]);
    return top;
}

void bk_ink_set_right(bk_sheaf *paper, size_t page, double x1, double top, const bk_set *set)
{
    for (size_t i = 0; i < set->n; i++, top += set->leading)
        bk_ink_run(paper, page, x1 - set->runs[i].width, bk_baseline(set, top), &set->runs[i]);
}

void bk_ink_set_middle(bk_sheaf *paper, size_t page, double middle, double top, const bk_set *set)
{
    for (size_t i = 0; i < set->n; i++, top += set->leading)
        bk_ink_run(paper, page, middle - set->runs[i].width / 2, bk_baseline(set, top), &set->runs[i]);
}
