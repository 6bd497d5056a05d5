/* rig_view: the rig as it hangs, to scale, from the front, from the side and from above.
 *
 * Front looks along +y (x to the right), side along -x (y to the right), plan down (x to the right, y up).
 * All three have one scale, a round one, chosen so that they fit.  A plan file knows a body's points and its
 * centre of gravity, not its outline: what is drawn is the hull of these, and the key says so.
 */
#include "rig_view.h"

#define POINTS_PER_M (72 / 0.0254)
#define HEAD         13.0 /* heading of a view */
#define NAMED_MOST   16   /* lines; beyond, numbered balloons */
#define KEY_WIDTH    176.0
#define KEY_HEIGHT   112.0

static bk_sheaf *paper_of(const bk_view *w)
{
    return w->sheet->flow.paper;
}

static size_t page_of(const bk_view *w)
{
    return w->sheet->flow.page;
}

/* ---- a view ------------------------------------------------------------------------------------ */

static void draw_view(bk_view *w, const char *heading, double lowest_m)
{
    const bk_assessment *a = w->sheet->a;
    const bk_plan *p = a->plan;
    const bool above = w->v == 1;
    bk_ink_box(paper_of(w), page_of(w), w->cell, bk_pen_hair, BK_NO_FILL);
    const bk_set set =
        bk_set_text(paper_of(w), heading, (bk_face){.size = 7, .bold = true}, bk_box_width(w->cell) - 6, 1);
    bk_ink_set(paper_of(w), page_of(w), w->cell.x0 + 3, w->cell.y0 + 2, &set);
    bk_field_open(&w->field, paper_of(w), page_of(w),
                  (bk_box){w->cell.x0 + 2, w->cell.y0 + HEAD, w->cell.x1 - 2, w->cell.y1 - 2});

    for (size_t b = 0; b < p->n_bodies; b++)
        bk_view_body(w, b, true);
    for (size_t b = 0; b < p->n_bodies; b++)
        bk_view_body(w, b, false);
    for (size_t i = 0; i < p->n_anchors && !above; i++)
        if (bk_rig_loaded(a, i)) bk_view_plumb(w, i, lowest_m);
    for (size_t i = 0; i < p->n_lines; i++)
        bk_view_line(w, i);
    for (size_t i = 0; i < p->n_rings; i++) {
        const bk_spot at = bk_view_spot(w, a->hang->ring_m[i]);
        bk_ink_disc(paper_of(w), page_of(w), at, 2.2, bk_pen_thin, 1);
        bk_field_take(&w->field, (bk_box){at.x - 2.2, at.y - 2.2, at.x + 2.2, at.y + 2.2});
    }
    for (size_t i = 0; i < p->n_anchors; i++) {
        const bk_spot at = bk_view_spot(w, p->anchors[i].at_m.v);
        if (above)
            bk_sign_anchor_from_above(paper_of(w), page_of(w), at);
        else
            bk_sign_anchor(paper_of(w), page_of(w), at);
        bk_field_take(&w->field, above ? (bk_box){at.x - BK_ANCHOR_HALF, at.y - BK_ANCHOR_HALF,
                                                  at.x + BK_ANCHOR_HALF, at.y + BK_ANCHOR_HALF}
                                       : (bk_box){at.x - 7, at.y - 5, at.x + 7, at.y});
    }
    for (size_t b = 0; b < p->n_bodies; b++) {
        const bk_spot at = bk_view_spot(w, a->hang->cog_m[b]);
        bk_sign_cog(paper_of(w), page_of(w), at, 3.6);
        bk_field_take(&w->field, (bk_box){at.x - 3.6, at.y - 3.6, at.x + 3.6, at.y + 3.6});
    }
    if (w->named) bk_view_dimensions(w);

    const bool crowded = w->sheet->balloons;
    for (size_t i = 0; i < p->n_anchors && (!crowded || p->n_anchors <= NAMED_MOST); i++)
        if (w->named || !above) bk_view_name_anchor(w, i);
    for (size_t b = 0; b < p->n_bodies && p->n_bodies <= NAMED_MOST; b++)
        bk_view_name_body(w, b);
    const bool number = !crowded || w->named || bk_view_tells_lines_apart(w);
    for (size_t i = 0; i < p->n_lines && number; i++)
        bk_view_name_line(w, i);
    for (size_t i = 0; i < p->n_rings && w->named && p->n_rings <= NAMED_MOST; i++)
        bk_view_name_ring(w, i);
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
        if (bk_set_text(sheet->flow.paper, p->lines[i].name, bk_face_bold, BK_NAME_WIDTH - 40, 1).cut)
            return true;
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
    bk_rig_extent(a, &low, &high);
    const bk_vec3 size = bk_vec3_sub(high, low), centre = bk_vec3_scale(0.5, bk_vec3_add(low, high));
    const double least = 0.02 * fmax(fmax(size.x, size.y), fmax(size.z, 0.1));
    const double X = fmax(size.x, least), Y = fmax(size.y, least), Z = fmax(size.z, least);
    const double width = bk_box_width(flow->body), height = fmin(flow->body.y1 - flow->y, 470);
    /* what labels take around the rig itself */
    const double side = sheet->balloons ? 26 : 84, top = 34, foot = 34;

    /* Beside each other (front and side above, plan below) or one above the other: whichever shows the rig
     * larger. */
    const double beside =
        fmin((width - 2 * side - 96) / (X + Y), (height - top - foot - HEAD - 60) / (Z + Y));
    const double stacked =
        fmin((width - 2 * side) / X, (height - top - foot - 84 - fmax(top + foot, KEY_HEIGHT)) / (2 * Z + Y));
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
    bk_view views[3] = {{.u = 0, .v = 2, .cell = front, .named = true},
                        {.u = 1, .v = 2, .cell = end},
                        {.u = 0, .v = 1, .cell = plan}};
    static const char *const headings[] = {"FRONT   x to the right, z up", "SIDE   y to the right, z up",
                                           "PLAN   x to the right, y up"};
    for (int i = 0; i < 3; i++) {
        bk_view *w = &views[i];
        w->sheet = sheet;
        w->centre = centre;
        w->scale = scale;
        w->middle = (bk_spot){(w->cell.x0 + w->cell.x1) / 2, (w->cell.y0 + w->cell.y1 + HEAD) / 2};
        draw_view(w, headings[i], low.z);
    }
    bk_view_key(sheet, legend, scale, ratio);
    flow->y = fmax(plan.y1, legend.y1) + 4;
    if (sheet->balloons)
        bk_flow_text(flow, "Numbers are those of the table of lines, where names, tensions and angles stand.",
                     bk_face_small, 0);
}
