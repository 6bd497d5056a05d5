/* rig_signs: what is drawn of a rig in one view: bodies as hulls, lines, hoists, and the signs for the rest.
 */
#include "rig_view.h"

#include <stdlib.h>

static const bk_pen pen_line = {.width = 0.9}, pen_body = {.width = 0.7};
const bk_pen bk_pen_slack = {.width = 0.7, .dash = {2, 2}},
             bk_pen_plumb = {.width = 0.4, .grey = 0.2, .dash = {8, 2, 1.5, 2}},
             bk_pen_ghost = {.width = 0.4, .grey = 0.45, .dash = {1.2, 1.6}};

static bk_sheaf *paper_of(const bk_view *w)
{
    return w->sheet->flow.paper;
}

static size_t page_of(const bk_view *w)
{
    return w->sheet->flow.page;
}

static int by_place(const void *x, const void *y)
{
    const bk_spot *a = x, *b = y;
    if (a->x != b->x) return a->x < b->x ? -1 : 1;
    return a->y < b->y ? -1 : a->y > b->y;
}

static double turning(bk_spot o, bk_spot a, bk_spot b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/* Convex hull by sorted sweep (Andrew, 1979); hull has room for n + 1.  Returns its corners. */
static size_t hull_of(bk_spot *at, size_t n, bk_spot *hull)
{
    qsort(at, n, sizeof *at, by_place);
    size_t k = 0;
    for (size_t i = 0; i < n; i++) {
        while (k >= 2 && turning(hull[k - 2], hull[k - 1], at[i]) <= 1e-9)
            k--;
        hull[k++] = at[i];
    }
    const size_t lower = k + 1;
    for (size_t i = n - 1; i-- > 0;) {
        while (k >= lower && turning(hull[k - 2], hull[k - 1], at[i]) <= 1e-9)
            k--;
        hull[k++] = at[i];
    }
    return k > 1 ? k - 1 : k;
}

/* hung: as it hangs, filled; else as drawn, dotted, where that differs by more than a point of paper. */
void bk_view_body(bk_view *w, size_t b, bool hung)
{
    const bk_assessment *a = w->sheet->a;
    const bk_body *body = &a->plan->bodies[b];
    const size_t n = body->n_points + 1;
    bk_spot *at = BK_NEW(paper_of(w)->arena, bk_spot, n), *hull = BK_NEW(paper_of(w)->arena, bk_spot, n + 2);
    if (!at || !hull) {
        paper_of(w)->failed = true;
        return;
    }
    double moved = 0;
    for (size_t i = 0; i < n; i++) {
        const bk_vec3 own = i < body->n_points ? a->plan->points[body->first_point + i].at_m : body->cog_m.v;
        const bk_spot here =
            bk_view_spot(w, bk_vec3_add(a->hang->origin_m[b], bk_quat_turn(a->hang->turn[b], own)));
        const bk_spot drawn = bk_view_spot(w, bk_rig_as_drawn(body, own));
        moved = fmax(moved, hypot(here.x - drawn.x, here.y - drawn.y));
        at[i] = hung ? here : drawn;
    }
    if (!hung && moved < 2) return;
    const size_t corners = hull_of(at, n, hull);
    if (corners < 2) return;
    bk_ink_path(paper_of(w), page_of(w), hull, corners, true, hung ? pen_body : bk_pen_ghost,
                hung ? 0.93 : BK_NO_FILL);
    for (size_t i = 0; hung && i < corners; i++)
        bk_field_stroke(&w->field, hull[i], hull[(i + 1) % corners]);
}

/* Quartered disc, the drawing sign for a centre of gravity. */
void bk_sign_cog(bk_sheaf *paper, size_t page, bk_spot c, double r)
{
    bk_ink_disc(paper, page, c, r, (bk_pen){0}, 1);
    for (int quarter = 0; quarter < 4; quarter += 2) {
        bk_spot wedge[8] = {c};
        for (int i = 0; i <= 6; i++) {
            const double angle = (quarter + i / 6.0) * BK_PI / 2;
            wedge[i + 1] = (bk_spot){c.x + r * cos(angle), c.y - r * sin(angle)};
        }
        bk_ink_path(paper, page, wedge, 8, true, (bk_pen){0}, 0);
    }
    bk_ink_disc(paper, page, c, r, (bk_pen){.width = 0.6}, BK_NO_FILL);
}

/* The structure: a short line with strokes behind it, above the point. */
void bk_sign_anchor(bk_sheaf *paper, size_t page, bk_spot c)
{
    const bk_box box = {c.x - 7, c.y - 5, c.x + 7, c.y};
    bk_ink_hatch(paper, page, box, 1.9, (bk_pen){.width = 0.4});
    bk_ink_line(paper, page, (bk_spot){box.x0, c.y}, (bk_spot){box.x1, c.y}, bk_pen_bold);
}

/* Seen from above, the same thing end on. */
void bk_sign_anchor_from_above(bk_sheaf *paper, size_t page, bk_spot c)
{
    const bk_box box = {c.x - BK_ANCHOR_HALF, c.y - BK_ANCHOR_HALF, c.x + BK_ANCHOR_HALF,
                        c.y + BK_ANCHOR_HALF};
    bk_ink_box(paper, page, box, bk_pen_thin, BK_NO_FILL);
    bk_ink_hatch(paper, page, box, 1.9, (bk_pen){.width = 0.4});
}

void bk_view_line(bk_view *w, size_t i)
{
    const bk_assessment *a = w->sheet->a;
    const bk_line *line = &a->plan->lines[i];
    const bk_spot from = bk_view_spot(w, bk_rig_end(a, line->from)),
                  to = bk_view_spot(w, bk_rig_end(a, line->to));
    bk_ink_line(paper_of(w), page_of(w), from, to, a->hang->slack[i] ? bk_pen_slack : pen_line);
    bk_field_stroke(&w->field, from, to);
    const double length = hypot(to.x - from.x, to.y - from.y);
    if (line->hoist == BK_NONE || length < 24) return;
    /* the hoist: a small box near the line's upper end, along it */
    const bk_spot top = line->upper_is_from ? from : to, foot = line->upper_is_from ? to : from;
    const double ex = (foot.x - top.x) / length, ey = (foot.y - top.y) / length;
    const double s0 = 6, s1 = 15, half = 3;
    bk_ink_path(paper_of(w), page_of(w),
                (bk_spot[]){{top.x + ex * s0 - ey * half, top.y + ey * s0 + ex * half},
                            {top.x + ex * s1 - ey * half, top.y + ey * s1 + ex * half},
                            {top.x + ex * s1 + ey * half, top.y + ey * s1 - ex * half},
                            {top.x + ex * s0 + ey * half, top.y + ey * s0 - ex * half}},
                4, true, bk_pen_thin, 1);
    bk_field_take(&w->field, (bk_box){top.x + ex * 10.5 - 4, top.y + ey * 10.5 - 4, top.x + ex * 10.5 + 4,
                                      top.y + ey * 10.5 + 4});
}

void bk_view_plumb(bk_view *w, size_t anchor, double lowest_m)
{
    bk_vec3 p = w->sheet->a->plan->anchors[anchor].at_m.v;
    const bk_spot top = bk_view_spot(w, p);
    p.z = lowest_m;
    const bk_spot foot = bk_view_spot(w, p);
    bk_ink_line(paper_of(w), page_of(w), top, (bk_spot){foot.x, foot.y + 8}, bk_pen_plumb);
    bk_field_stroke(&w->field, top, foot);
}
