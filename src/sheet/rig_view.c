/* rig_view: the rig as it hangs, to scale, from the front, from the side and from above.
 *
 * Front looks along +y (x to the right), side along -x (y to the right), plan down (x to the right, y up).  All three have
 * one scale, a round one, chosen so that they fit.  A plan file knows a body's points and its centre of gravity, not its
 * outline: what is drawn is the hull of these, and the key says so.
 */
#include "labels.h"
#include "sections.h"

#include <stdlib.h>
#include <string.h>

#define POINTS_PER_M (72 / 0.0254)
#define HEAD 13.0         /* heading of a view */
#define NAMED_MOST 16     /* lines; beyond, numbered balloons */
#define NAME_WIDTH 104.0  /* a name longer than this becomes a number too */
#define ANCHOR_HALF 5.5   /* of the sign for an anchor, from above */
#define KEY_WIDTH 176.0
#define KEY_HEIGHT 112.0
#define PLUMB (0.05 * BK_PI / 180) /* prints as 0.0 degrees */
#define STATIONS_MOST 8   /* of the row of dimensions */

typedef struct view {
    bk_sheet *sheet;
    int u, v; /* axes shown: 0 x, 1 y, 2 z */
    bk_box cell;
    bk_spot middle;
    bk_vec3 centre;
    double scale; /* points per metre */
    bool named;   /* full labels, not names alone */
    bk_field field;
} view;

static const bk_pen pen_line = {.width = 0.9}, pen_slack = {.width = 0.7, .dash = {2, 2}},
                    pen_plumb = {.width = 0.4, .grey = 0.2, .dash = {8, 2, 1.5, 2}},
                    pen_ghost = {.width = 0.4, .grey = 0.45, .dash = {1.2, 1.6}}, pen_body = {.width = 0.7};

/* ---- the scene --------------------------------------------------------------------------------- */

static double axis(bk_vec3 p, int i)
{
    return i == 0 ? p.x : i == 1 ? p.y : p.z;
}

static bk_vec3 point_at(const bk_assessment *a, size_t i)
{
    const bk_point *p = &a->plan->points[i];
    return bk_vec3_add(a->hang->origin_m[p->body], bk_quat_turn(a->hang->turn[p->body], p->at_m));
}

static bk_vec3 end_at(const bk_assessment *a, bk_end end)
{
    switch (end.kind) {
    case BK_END_POINT: return point_at(a, end.index);
    case BK_END_RING: return a->hang->ring_m[end.index];
    case BK_END_ANCHOR: break;
    }
    return a->plan->anchors[end.index].at_m.v;
}

/* Drawn place of a body's own point, before it hung. */
static bk_vec3 as_drawn(const bk_body *b, bk_vec3 own)
{
    return bk_vec3_add(b->at_m, own);
}

static void grow(bk_vec3 *low, bk_vec3 *high, bk_vec3 p)
{
    *low = bk_vec3_of(fmin(low->x, p.x), fmin(low->y, p.y), fmin(low->z, p.z));
    *high = bk_vec3_of(fmax(high->x, p.x), fmax(high->y, p.y), fmax(high->z, p.z));
}

static void extent(const bk_assessment *a, bk_vec3 *low, bk_vec3 *high)
{
    const bk_plan *p = a->plan;
    *low = bk_vec3_of(INFINITY, INFINITY, INFINITY);
    *high = bk_vec3_of(-INFINITY, -INFINITY, -INFINITY);
    for (size_t b = 0; b < p->n_bodies; b++) {
        grow(low, high, a->hang->cog_m[b]);
        for (size_t i = 0; i < p->bodies[b].n_points; i++) {
            grow(low, high, point_at(a, p->bodies[b].first_point + i));
            grow(low, high, as_drawn(&p->bodies[b], p->points[p->bodies[b].first_point + i].at_m));
        }
    }
    for (size_t i = 0; i < p->n_rings; i++) grow(low, high, a->hang->ring_m[i]);
    for (size_t i = 0; i < p->n_anchors; i++) grow(low, high, p->anchors[i].at_m.v);
}

static bool loaded(const bk_assessment *a, size_t anchor)
{
    return bk_vec3_norm(a->hang->anchor_N[anchor]) > 1e-9 * a->hang->total_weight_N;
}

/* ---- drawing in a view ------------------------------------------------------------------------- */

static bk_spot spot(const view *w, bk_vec3 p)
{
    return (bk_spot){w->middle.x + (axis(p, w->u) - axis(w->centre, w->u)) * w->scale,
                     w->middle.y - (axis(p, w->v) - axis(w->centre, w->v)) * w->scale};
}

static bk_sheaf *paper_of(const view *w)
{
    return w->sheet->flow.paper;
}

static size_t page_of(const view *w)
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
        while (k >= 2 && turning(hull[k - 2], hull[k - 1], at[i]) <= 1e-9) k--;
        hull[k++] = at[i];
    }
    const size_t lower = k + 1;
    for (size_t i = n - 1; i-- > 0;) {
        while (k >= lower && turning(hull[k - 2], hull[k - 1], at[i]) <= 1e-9) k--;
        hull[k++] = at[i];
    }
    return k > 1 ? k - 1 : k;
}

/* hung: as it hangs, filled; else as drawn, dotted, where that differs by more than a point of paper. */
static void draw_body(view *w, size_t b, bool hung)
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
        const bk_spot here = spot(w, bk_vec3_add(a->hang->origin_m[b], bk_quat_turn(a->hang->turn[b], own)));
        const bk_spot drawn = spot(w, as_drawn(body, own));
        moved = fmax(moved, hypot(here.x - drawn.x, here.y - drawn.y));
        at[i] = hung ? here : drawn;
    }
    if (!hung && moved < 2) return;
    const size_t corners = hull_of(at, n, hull);
    if (corners < 2) return;
    bk_ink_path(paper_of(w), page_of(w), hull, corners, true, hung ? pen_body : pen_ghost, hung ? 0.93 : BK_NO_FILL);
    for (size_t i = 0; hung && i < corners; i++) bk_field_stroke(&w->field, hull[i], hull[(i + 1) % corners]);
}

/* Quartered disc, the drawing sign for a centre of gravity. */
static void draw_cog(bk_sheaf *paper, size_t page, bk_spot c, double r)
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
static void draw_anchor(bk_sheaf *paper, size_t page, bk_spot c)
{
    const bk_box box = {c.x - 7, c.y - 5, c.x + 7, c.y};
    bk_ink_hatch(paper, page, box, 1.9, (bk_pen){.width = 0.4});
    bk_ink_line(paper, page, (bk_spot){box.x0, c.y}, (bk_spot){box.x1, c.y}, bk_pen_bold);
}

/* Seen from above, the same thing end on. */
static void draw_anchor_from_above(bk_sheaf *paper, size_t page, bk_spot c)
{
    const bk_box box = {c.x - ANCHOR_HALF, c.y - ANCHOR_HALF, c.x + ANCHOR_HALF, c.y + ANCHOR_HALF};
    bk_ink_box(paper, page, box, bk_pen_thin, BK_NO_FILL);
    bk_ink_hatch(paper, page, box, 1.9, (bk_pen){.width = 0.4});
}

static void draw_line(view *w, size_t i)
{
    const bk_assessment *a = w->sheet->a;
    const bk_line *line = &a->plan->lines[i];
    const bk_spot from = spot(w, end_at(a, line->from)), to = spot(w, end_at(a, line->to));
    bk_ink_line(paper_of(w), page_of(w), from, to, a->hang->slack[i] ? pen_slack : pen_line);
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
    bk_field_take(&w->field, (bk_box){top.x + ex * 10.5 - 4, top.y + ey * 10.5 - 4, top.x + ex * 10.5 + 4, top.y + ey * 10.5 + 4});
}

static void draw_plumb(view *w, size_t anchor, double lowest_m)
{
    bk_vec3 p = w->sheet->a->plan->anchors[anchor].at_m.v;
    const bk_spot top = spot(w, p);
    p.z = lowest_m;
    const bk_spot foot = spot(w, p);
    bk_ink_line(paper_of(w), page_of(w), top, (bk_spot){foot.x, foot.y + 8}, pen_plumb);
    bk_field_stroke(&w->field, top, foot);
}

/* Whether the view shows most lines apart: where they hide behind each other, numbers would only pile up. */
static bool tells_lines_apart(const view *w)
{
    const bk_assessment *a = w->sheet->a;
    const size_t n = a->plan->n_lines;
    size_t apart = 0;
    for (size_t i = 0; i < n; i++) {
        const bk_spot from = spot(w, end_at(a, a->plan->lines[i].from)), to = spot(w, end_at(a, a->plan->lines[i].to));
        bool hidden = false;
        for (size_t k = 0; k < i && !hidden; k++) {
            const bk_spot f = spot(w, end_at(a, a->plan->lines[k].from)), t = spot(w, end_at(a, a->plan->lines[k].to));
            hidden = hypot(f.x - from.x, f.y - from.y) < 4 && hypot(t.x - to.x, t.y - to.y) < 4;
        }
        if (!hidden) apart++;
    }
    return 2 * apart > n;
}

/* ---- labels ------------------------------------------------------------------------------------ */

static void add_line(view *w, bk_label *label, const char *text, bk_face face)
{
    label->lines[label->n_lines++] = bk_set_text(paper_of(w), text, face, NAME_WIDTH, 1);
}

static void label_lines(view *w, size_t i)
{
    bk_sheet *sheet = w->sheet;
    const bk_assessment *a = sheet->a;
    const bk_line *line = &a->plan->lines[i];
    const bk_spot from = spot(w, end_at(a, line->from)), to = spot(w, end_at(a, line->to));
    bk_label label = {.balloon = sheet->balloons};
    if (sheet->balloons) {
        add_line(w, &label, bk_tell(&sheet->flow, "%zu", i + 1), (bk_face){.size = 6.5});
    } else if (!w->named) {
        add_line(w, &label, line->name, bk_face_small);
    } else if (a->hang->slack[i]) {
        add_line(w, &label, bk_tell(&sheet->flow, "%s  slack", line->name), bk_face_bold);
    } else {
        add_line(w, &label, bk_tell(&sheet->flow, "%s  %s", line->name, bk_tell_in(&sheet->flow, a->hang->tension_N[i], sheet->flow.force)),
                 bk_face_bold);
        add_line(w, &label, a->hang->from_vertical_rad[i] < PLUMB ? "plumb"
                            : bk_tell(&sheet->flow, "%s\u00b0 from vertical", bk_tell_unit(&sheet->flow, a->hang->from_vertical_rad[i], "deg", 1)),
                 bk_face_small);
    }
    bk_spot targets[5];
    if (hypot(to.x - from.x, to.y - from.y) > 2 * ANCHOR_HALF) { /* anywhere along the line, its middle first */
        static const double shares[] = {0.5, 0.38, 0.62, 0.26, 0.74};
        for (size_t t = 0; t < 5; t++)
            targets[t] = (bk_spot){from.x + shares[t] * (to.x - from.x), from.y + shares[t] * (to.y - from.y)};
        bk_field_label(&w->field, &label, targets, 5);
    } else { /* seen end on: at the rim of the anchor it may hang from */
        for (size_t t = 0; t < 4; t++)
            targets[t] = (bk_spot){from.x + (t == 2 ? ANCHOR_HALF : t == 3 ? -ANCHOR_HALF : 0),
                                   from.y + (t == 0 ? -ANCHOR_HALF : t == 1 ? ANCHOR_HALF : 0)};
        bk_field_label(&w->field, &label, targets, 4);
    }
}

static void label_anchor(view *w, size_t i)
{
    bk_flow *flow = &w->sheet->flow;
    const bk_assessment *a = w->sheet->a;
    const bk_spot at = spot(w, a->plan->anchors[i].at_m.v);
    bk_label label = {0};
    add_line(w, &label, a->plan->anchors[i].name, w->named ? bk_face_bold : bk_face_small);
    const bk_vec3 f = a->hang->anchor_N[i];
    if (w->named && loaded(a, i)) {
        add_line(w, &label, bk_tell(flow, "%s %s", bk_tell_in(flow, fabs(f.z), flow->force), f.z > 0 ? "up" : "down"),
                 bk_face_small);
        if (hypot(f.x, f.y) > 0.005 * bk_vec3_norm(f))
            add_line(w, &label, bk_tell(flow, "%s sideways", bk_tell_in(flow, hypot(f.x, f.y), flow->force)),
                     bk_face_small);
    }
    bk_field_label(&w->field, &label, (bk_spot[]){{at.x + 7, at.y - 2.5}, {at.x - 7, at.y - 2.5}, {at.x, at.y - 5}}, 3);
}

static void label_body(view *w, size_t b)
{
    bk_flow *flow = &w->sheet->flow;
    const bk_assessment *a = w->sheet->a;
    const bk_spot at = spot(w, a->hang->cog_m[b]);
    bk_label label = {0};
    add_line(w, &label, a->plan->bodies[b].name, w->named ? bk_face_bold : bk_face_small);
    if (w->named)
        add_line(w, &label, bk_tell(flow, a->hang->tilt_rad[b] < PLUMB ? "%s, level" : "%s, tilt %s\u00b0",
                                    bk_tell_quantity(flow, a->plan->bodies[b].mass_kg.v, BK_DIM_MASS, 4),
                                    bk_tell_unit(flow, a->hang->tilt_rad[b], "deg", 1)), bk_face_small);
    bk_field_label(&w->field, &label, (bk_spot[]){{at.x, at.y + 4}, {at.x + 4, at.y}, {at.x - 4, at.y}, {at.x, at.y - 4}}, 4);
}

static void label_ring(view *w, size_t i)
{
    const bk_spot at = spot(w, w->sheet->a->hang->ring_m[i]);
    bk_label label = {0};
    add_line(w, &label, w->sheet->a->plan->rings[i].name, (bk_face){.size = 7, .italic = true});
    bk_field_label(&w->field, &label, (bk_spot[]){{at.x + 2.2, at.y}, {at.x - 2.2, at.y}}, 2);
}

/* ---- dimensions -------------------------------------------------------------------------------- */

static int by_value(const void *x, const void *y)
{
    const double a = *(const double *)x, b = *(const double *)y;
    return a < b ? -1 : a > b;
}

/* Along the foot of the front view: how far centres of gravity stand from the plumb lines. */
static void dimensions(view *w)
{
    const bk_assessment *a = w->sheet->a;
    bk_flow *flow = &w->sheet->flow;
    double station[STATIONS_MOST];
    size_t n = 0;
    const size_t most = a->plan->n_anchors + a->plan->n_bodies;
    if (most > STATIONS_MOST) return;
    for (size_t i = 0; i < a->plan->n_anchors; i++)
        if (loaded(a, i)) station[n++] = a->plan->anchors[i].at_m.v.x;
    for (size_t b = 0; b < a->plan->n_bodies; b++) station[n++] = a->hang->cog_m[b].x;
    qsort(station, n, sizeof *station, by_value);
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (kept == 0 || (station[i] - station[kept - 1]) * w->scale > 3) station[kept++] = station[i];
    if (kept < 2) return;
    const double y = w->cell.y1 - 9;
    double before = 0;
    for (size_t i = 0; i < kept; i++) {
        const double x = w->middle.x + (station[i] - w->centre.x) * w->scale;
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, y - 3}, (bk_spot){x, y + 3}, bk_pen_thin);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x - 2, y + 2}, (bk_spot){x + 2, y - 2}, bk_pen_thin);
        if (i > 0) {
            bk_ink_line(flow->paper, flow->page, (bk_spot){before, y}, (bk_spot){x, y}, bk_pen_hair);
            const bk_set set = bk_set_text(flow->paper, bk_tell_quantity(flow, station[i] - station[i - 1], BK_DIM_LENGTH, 3),
                                           (bk_face){.size = 6.5}, 0, 0);
            if (set.width + 4 < x - before)
                bk_ink_set_middle(flow->paper, flow->page, (x + before) / 2, y - set.leading - 0.5, &set);
        }
        before = x;
    }
    bk_field_take(&w->field, (bk_box){w->cell.x0, y - 10, w->cell.x1, w->cell.y1});
}

/* ---- a view ------------------------------------------------------------------------------------ */

static void draw_view(view *w, const char *heading, double lowest_m)
{
    const bk_assessment *a = w->sheet->a;
    const bk_plan *p = a->plan;
    const bool above = w->v == 1;
    bk_ink_box(paper_of(w), page_of(w), w->cell, bk_pen_hair, BK_NO_FILL);
    const bk_set set = bk_set_text(paper_of(w), heading, (bk_face){.size = 7, .bold = true}, bk_box_width(w->cell) - 6, 1);
    bk_ink_set(paper_of(w), page_of(w), w->cell.x0 + 3, w->cell.y0 + 2, &set);
    bk_field_open(&w->field, paper_of(w), page_of(w),
                  (bk_box){w->cell.x0 + 2, w->cell.y0 + HEAD, w->cell.x1 - 2, w->cell.y1 - 2});

    for (size_t b = 0; b < p->n_bodies; b++) draw_body(w, b, true);
    for (size_t b = 0; b < p->n_bodies; b++) draw_body(w, b, false);
    for (size_t i = 0; i < p->n_anchors && !above; i++)
        if (loaded(a, i)) draw_plumb(w, i, lowest_m);
    for (size_t i = 0; i < p->n_lines; i++) draw_line(w, i);
    for (size_t i = 0; i < p->n_rings; i++) {
        const bk_spot at = spot(w, a->hang->ring_m[i]);
        bk_ink_disc(paper_of(w), page_of(w), at, 2.2, bk_pen_thin, 1);
        bk_field_take(&w->field, (bk_box){at.x - 2.2, at.y - 2.2, at.x + 2.2, at.y + 2.2});
    }
    for (size_t i = 0; i < p->n_anchors; i++) {
        const bk_spot at = spot(w, p->anchors[i].at_m.v);
        if (above)
            draw_anchor_from_above(paper_of(w), page_of(w), at);
        else
            draw_anchor(paper_of(w), page_of(w), at);
        bk_field_take(&w->field, above ? (bk_box){at.x - ANCHOR_HALF, at.y - ANCHOR_HALF, at.x + ANCHOR_HALF, at.y + ANCHOR_HALF}
                                       : (bk_box){at.x - 7, at.y - 5, at.x + 7, at.y});
    }
    for (size_t b = 0; b < p->n_bodies; b++) {
        const bk_spot at = spot(w, a->hang->cog_m[b]);
        draw_cog(paper_of(w), page_of(w), at, 3.6);
        bk_field_take(&w->field, (bk_box){at.x - 3.6, at.y - 3.6, at.x + 3.6, at.y + 3.6});
    }
    if (w->named) dimensions(w);

    const bool crowded = w->sheet->balloons;
    for (size_t i = 0; i < p->n_anchors && (!crowded || p->n_anchors <= NAMED_MOST); i++)
        if (w->named || !above) label_anchor(w, i);
    for (size_t b = 0; b < p->n_bodies && p->n_bodies <= NAMED_MOST; b++) label_body(w, b);
    const bool number = !crowded || w->named || tells_lines_apart(w);
    for (size_t i = 0; i < p->n_lines && number; i++) label_lines(w, i);
    for (size_t i = 0; i < p->n_rings && w->named && p->n_rings <= NAMED_MOST; i++) label_ring(w, i);
}

/* ---- key --------------------------------------------------------------------------------------- */

static void key_row(bk_flow *flow, double x, double y, const char *text)
{
    const bk_set set = bk_set_text(flow->paper, text, bk_face_small, 0, 0);
    bk_ink_set(flow->paper, flow->page, x + 22, y - set.leading / 2, &set);
}

static double round_length(double at_most)
{
    const double decade = pow(10, floor(log10(at_most)));
    return at_most >= 5 * decade ? 5 * decade : at_most >= 2 * decade ? 2 * decade : decade;
}

static void key(bk_sheet *sheet, bk_box cell, double scale, double ratio)
{
    bk_flow *flow = &sheet->flow;
    bk_sheaf *paper = flow->paper;
    const size_t page = flow->page;
    const bool us = flow->system == BK_US;
    bk_ink_box(paper, page, cell, bk_pen_hair, BK_NO_FILL);
    const double x = cell.x0 + 6;
    double y = cell.y0 + 4;
    const bk_set set = bk_set_text(paper, bk_tell(flow, "SCALE 1:%s on paper printed full size", bk_tell_quantity(flow, ratio, BK_DIM_NONE, 6)),
                                   (bk_face){.size = 7, .bold = true}, bk_box_width(cell) - 12, 1);
    y = bk_ink_set(paper, page, x, y, &set) + 3;
    /* scale bar: a round length in the reader's unit, in four blocks */
    const double unit_m = us ? 0.3048 : 1;
    const double blocks = round_length(fmin(bk_box_width(cell) - 60, 110) / scale / unit_m);
    const double length = blocks * unit_m * scale;
    for (int i = 0; i < 4; i++)
        bk_ink_box(paper, page, (bk_box){x + length * i / 4, y, x + length * (i + 1) / 4, y + 4}, (bk_pen){.width = 0.5}, i % 2 ? 1 : 0);
    const bk_set zero = bk_set_text(paper, "0", bk_face_small, 0, 0);
    char figure[32];
    const bk_set end = bk_set_text(paper, bk_tell(flow, "%s %s", bk_plain_print(figure, sizeof figure, blocks, 6), us ? "ft" : "m"),
                                   bk_face_small, 0, 0);
    bk_ink_set_middle(paper, page, x + 1, y + 4.5, &zero);
    bk_ink_set(paper, page, fmax(x + length - 3, x + 10), y + 4.5, &end);
    y += 20;
    const double step = 10.4;
    draw_anchor(paper, page, (bk_spot){x + 9, y + 2.5});
    key_row(flow, x, y, "anchor: held by the structure");
    draw_cog(paper, page, (bk_spot){x + 9, y += step}, 3.4);
    key_row(flow, x, y, "centre of gravity as it hangs");
    y += step;
    bk_ink_disc(paper, page, (bk_spot){x + 9, y}, 2.2, bk_pen_thin, 1);
    key_row(flow, x, y, "ring, free to move");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, pen_plumb);
    key_row(flow, x, y, "plumb line of an anchor");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, pen_slack);
    key_row(flow, x, y, "slack line");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, pen_ghost);
    key_row(flow, x, y, "body as drawn, before it hung");
    y += step;
    bk_ink_box(paper, page, (bk_box){x, y - 3, x + 18, y + 3}, pen_body, 0.93);
    key_row(flow, x, y, "body: hull of its points, no outline");
}

/* ---- arrangement ------------------------------------------------------------------------------- */

/* The next round scale that is no larger: 1:ratio. */
static double round_ratio(double at_least, bool us)
{
    static const double si[] = {1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5}, feet[] = {1, 2, 3, 4, 6, 8};
    /* SI by tens; US by twelves, since 1:12 is an inch to the foot, then by twos */
    if (!us) {
        for (double decade = 1;; decade *= 10)
            for (size_t i = 0; i < sizeof si / sizeof *si; i++)
                if (si[i] * decade >= at_least) return si[i] * decade;
    }
    for (size_t i = 0; i < 6; i++)
        if (feet[i] >= at_least) return feet[i];
    for (double ratio = 12;; ratio *= 2) {
        if (ratio >= at_least) return ratio;
        if (ratio * 4 / 3 >= at_least && ratio < 96) return ratio * 4 / 3;
    }
}

static bool too_many_to_name(bk_sheet *sheet)
{
    const bk_plan *p = sheet->a->plan;
    if (p->n_lines > NAMED_MOST) return true;
    for (size_t i = 0; i < p->n_lines; i++)
        if (bk_set_text(sheet->flow.paper, p->lines[i].name, bk_face_bold, NAME_WIDTH - 40, 1).cut) return true;
    return false;
}

void bk_sheet_views(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    bk_flow *flow = &sheet->flow;
    if (!a->has_rig || !a->hang) return;
    sheet->balloons = too_many_to_name(sheet);
    bk_flow_heading(flow, "THE RIG AS IT HANGS");
    flow->y += 2;

    bk_vec3 low, high;
    extent(a, &low, &high);
    const bk_vec3 size = bk_vec3_sub(high, low), centre = bk_vec3_scale(0.5, bk_vec3_add(low, high));
    const double least = 0.02 * fmax(fmax(size.x, size.y), fmax(size.z, 0.1));
    const double X = fmax(size.x, least), Y = fmax(size.y, least), Z = fmax(size.z, least);
    const double width = bk_box_width(flow->body), height = fmin(flow->body.y1 - flow->y, 470);
    /* what labels take around the rig itself */
    const double side = sheet->balloons ? 26 : 84, top = 34, foot = 34;

    /* Beside each other (front and side above, plan below) or one above the other: whichever shows the rig larger. */
    const double beside = fmin((width - 2 * side - 96) / (X + Y), (height - top - foot - HEAD - 60) / (Z + Y));
    const double stacked = fmin((width - 2 * side) / X, (height - top - foot - 84 - fmax(top + foot, KEY_HEIGHT)) / (2 * Z + Y));
    const double largest = fmin(fmax(beside, stacked), POINTS_PER_M);
    const double ratio = round_ratio(POINTS_PER_M / largest, flow->system == BK_US);
    const double scale = POINTS_PER_M / ratio;

    const double x0 = flow->body.x0, x1 = flow->body.x1, y0 = flow->y;
    bk_box front, end, plan, legend;
    if (beside >= stacked) {
        const double spare = width - (X + Y) * scale;
        const double split = x1 - fmax(KEY_WIDTH, Y * scale + fmin(spare * 0.36, 130));
        const double middle = y0 + Z * scale + top + foot + HEAD;
        const double bottom = middle + fmax(KEY_HEIGHT, Y * scale + 46 + HEAD);
        front = (bk_box){x0, y0, split, middle};
        end = (bk_box){split, y0, x1, middle};
        plan = (bk_box){x0, middle, split, bottom};
        legend = (bk_box){split, middle, x1, bottom};
    } else {
        const double first = y0 + Z * scale + top + foot + HEAD + 20, second = first + Y * scale + 64 + HEAD;
        const double bottom = second + fmax(KEY_HEIGHT, Z * scale + top + foot + HEAD);
        const double split = x1 - KEY_WIDTH;
        front = (bk_box){x0, y0, x1, first};
        plan = (bk_box){x0, first, x1, second};
        end = (bk_box){x0, second, split, bottom};
        legend = (bk_box){split, second, x1, bottom};
    }
    view views[3] = {{.u = 0, .v = 2, .cell = front, .named = true}, {.u = 1, .v = 2, .cell = end}, {.u = 0, .v = 1, .cell = plan}};
    static const char *const headings[] = {"FRONT   x to the right, z up", "SIDE   y to the right, z up", "PLAN   x to the right, y up"};
    for (int i = 0; i < 3; i++) {
        view *w = &views[i];
        w->sheet = sheet;
        w->centre = centre;
        w->scale = scale;
        w->middle = (bk_spot){(w->cell.x0 + w->cell.x1) / 2, (w->cell.y0 + w->cell.y1 + HEAD) / 2};
        draw_view(w, headings[i], low.z);
    }
    key(sheet, legend, scale, ratio);
    flow->y = fmax(plan.y1, legend.y1) + 4;
    if (sheet->balloons)
        bk_flow_text(flow, "Numbers are those of the table of lines, where names, tensions and angles stand.", bk_face_small, 0);
}
