/* rig_labels: names, pulls and angles at what they belong to, and the row of dimensions below the front view.
 */
#include "rig_view.h"

#include <stdlib.h>

#define PLUMB         (0.05 * BK_PI / 180) /* prints as 0.0 degrees */
#define STATIONS_MOST 8                    /* of the row of dimensions */

static bk_sheaf *paper_of(const bk_view *w)
{
    return w->sheet->flow.paper;
}

/* Whether the view shows most lines apart: where they hide behind each other, numbers would only pile up. */
bool bk_view_tells_lines_apart(const bk_view *w)
{
    const bk_assessment *a = w->sheet->a;
    const size_t n = a->plan->n_lines;
    size_t apart = 0;
    for (size_t i = 0; i < n; i++) {
        const bk_spot from = bk_view_spot(w, bk_rig_end(a, a->plan->lines[i].from)),
                      to = bk_view_spot(w, bk_rig_end(a, a->plan->lines[i].to));
        bool hidden = false;
        for (size_t k = 0; k < i && !hidden; k++) {
            const bk_spot f = bk_view_spot(w, bk_rig_end(a, a->plan->lines[k].from)),
                          t = bk_view_spot(w, bk_rig_end(a, a->plan->lines[k].to));
            hidden = hypot(f.x - from.x, f.y - from.y) < 4 && hypot(t.x - to.x, t.y - to.y) < 4;
        }
        if (!hidden) apart++;
    }
    return 2 * apart > n;
}

/* ---- labels ------------------------------------------------------------------------------------ */

static void add_line(bk_view *w, bk_label *label, const char *text, bk_face face)
{
    label->lines[label->n_lines++] = bk_set_text(paper_of(w), text, face, BK_NAME_WIDTH, 1);
}

void bk_view_name_line(bk_view *w, size_t i)
{
    bk_sheet *sheet = w->sheet;
    const bk_assessment *a = sheet->a;
    const bk_line *line = &a->plan->lines[i];
    const bk_spot from = bk_view_spot(w, bk_rig_end(a, line->from)),
                  to = bk_view_spot(w, bk_rig_end(a, line->to));
    bk_label label = {.balloon = sheet->balloons};
    if (sheet->balloons) {
        add_line(w, &label, bk_tell(&sheet->flow, "%zu", i + 1), (bk_face){.size = 6.5});
    } else if (!w->named) {
        add_line(w, &label, line->name, bk_face_small);
    } else if (a->hang->slack[i]) {
        add_line(w, &label, bk_tell(&sheet->flow, "%s  slack", line->name), bk_face_bold);
    } else {
        add_line(w, &label,
                 bk_tell(&sheet->flow, "%s  %s", line->name,
                         bk_tell_in(&sheet->flow, a->hang->tension_N[i], sheet->flow.force)),
                 bk_face_bold);
        add_line(w, &label,
                 a->hang->from_vertical_rad[i] < PLUMB
                     ? "plumb"
                     : bk_tell(&sheet->flow, "%s\u00b0 from vertical",
                               bk_tell_unit(&sheet->flow, a->hang->from_vertical_rad[i], "deg", 1)),
                 bk_face_small);
    }
    bk_spot targets[5];
    if (hypot(to.x - from.x, to.y - from.y) >
        2 * BK_ANCHOR_HALF) { /* anywhere along the line, its middle first */
        static const double shares[] = {0.5, 0.38, 0.62, 0.26, 0.74};
        for (size_t t = 0; t < 5; t++)
            targets[t] =
                (bk_spot){from.x + shares[t] * (to.x - from.x), from.y + shares[t] * (to.y - from.y)};
        bk_field_label(&w->field, &label, targets, 5);
    } else { /* seen end on: at the rim of the anchor it may hang from */
        for (size_t t = 0; t < 4; t++)
            targets[t] = (bk_spot){from.x + (t == 2   ? BK_ANCHOR_HALF
                                             : t == 3 ? -BK_ANCHOR_HALF
                                                      : 0),
                                   from.y + (t == 0   ? -BK_ANCHOR_HALF
                                             : t == 1 ? BK_ANCHOR_HALF
                                                      : 0)};
        bk_field_label(&w->field, &label, targets, 4);
    }
}

void bk_view_name_anchor(bk_view *w, size_t i)
{
    bk_flow *flow = &w->sheet->flow;
    const bk_assessment *a = w->sheet->a;
    const bk_spot at = bk_view_spot(w, a->plan->anchors[i].at_m.v);
    bk_label label = {0};
    add_line(w, &label, a->plan->anchors[i].name, w->named ? bk_face_bold : bk_face_small);
    const bk_vec3 f = a->hang->anchor_N[i];
    if (w->named && bk_rig_loaded(a, i)) {
        add_line(w, &label,
                 bk_tell(flow, "%s %s", bk_tell_in(flow, fabs(f.z), flow->force), f.z > 0 ? "up" : "down"),
                 bk_face_small);
        if (hypot(f.x, f.y) > 0.005 * bk_vec3_norm(f))
            add_line(w, &label, bk_tell(flow, "%s sideways", bk_tell_in(flow, hypot(f.x, f.y), flow->force)),
                     bk_face_small);
    }
    bk_field_label(&w->field, &label,
                   (bk_spot[]){{at.x + 7, at.y - 2.5}, {at.x - 7, at.y - 2.5}, {at.x, at.y - 5}}, 3);
}

void bk_view_name_body(bk_view *w, size_t b)
{
    bk_flow *flow = &w->sheet->flow;
    const bk_assessment *a = w->sheet->a;
    const bk_spot at = bk_view_spot(w, a->hang->cog_m[b]);
    bk_label label = {0};
    add_line(w, &label, a->plan->bodies[b].name, w->named ? bk_face_bold : bk_face_small);
    if (w->named)
        add_line(w, &label,
                 bk_tell(flow, a->hang->tilt_rad[b] < PLUMB ? "%s, level" : "%s, tilt %s\u00b0",
                         bk_tell_quantity(flow, a->plan->bodies[b].mass_kg.v, BK_DIM_MASS, 4),
                         bk_tell_unit(flow, a->hang->tilt_rad[b], "deg", 1)),
                 bk_face_small);
    bk_field_label(&w->field, &label,
                   (bk_spot[]){{at.x, at.y + 4}, {at.x + 4, at.y}, {at.x - 4, at.y}, {at.x, at.y - 4}}, 4);
}

void bk_view_name_ring(bk_view *w, size_t i)
{
    const bk_spot at = bk_view_spot(w, w->sheet->a->hang->ring_m[i]);
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
void bk_view_dimensions(bk_view *w)
{
    const bk_assessment *a = w->sheet->a;
    bk_flow *flow = &w->sheet->flow;
    double station[STATIONS_MOST];
    size_t n = 0;
    const size_t most = a->plan->n_anchors + a->plan->n_bodies;
    if (most > STATIONS_MOST) return;
    for (size_t i = 0; i < a->plan->n_anchors; i++)
        if (bk_rig_loaded(a, i)) station[n++] = a->plan->anchors[i].at_m.v.x;
    for (size_t b = 0; b < a->plan->n_bodies; b++)
        station[n++] = a->hang->cog_m[b].x;
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
            const bk_set set = bk_set_text(
                flow->paper, bk_tell_quantity(flow, station[i] - station[i - 1], BK_DIM_LENGTH, 3),
                (bk_face){.size = 6.5}, 0, 0);
            if (set.width + 4 < x - before)
                bk_ink_set_middle(flow->paper, flow->page, (x + before) / 2, y - set.leading - 0.5, &set);
        }
        before = x;
    }
    bk_field_take(&w->field, (bk_box){w->cell.x0, y - 10, w->cell.x1, w->cell.y1});
}
