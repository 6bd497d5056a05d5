/* angle_picture: a chart of the pull in a leg over its angle, with both ways to measure the angle along its
 * two edges; bands for what the rule set allows by pattern and word; below it the figures.
 */
#include "angle_picture.h"

#include "labels.h"

#define MARGIN       40.0
#define CHART_HEIGHT 250.0
#define BELOW_CHART  356.0 /* the table and what follows it, on the same page */
#define FLATTEST     85    /* degrees from the vertical */
#define TIMES        12    /* of an upright leg's pull: 85 degrees is 11.5 */

typedef struct chart {
    bk_flow *flow;
    bk_box box;
} chart;

static double across(const chart *c, double beta)
{
    return c->box.x0 + beta / (90 * BK_PI / 180) * bk_box_width(c->box);
}

static double height(const chart *c, double times)
{
    return c->box.y1 - times / TIMES * bk_box_height(c->box);
}

static void text_middle(const chart *c, double x, double top, const char *text, bk_face face)
{
    const bk_set set = bk_set_text(c->flow->paper, text, face, 0, 0);
    bk_ink_set_middle(c->flow->paper, c->flow->page, x, top, &set);
}

static void band(const chart *c, double from, double to, const char *words, int pattern)
{
    bk_sheaf *paper = c->flow->paper;
    const bk_box box = {across(c, from), c->box.y0, across(c, to), c->box.y1};
    if (bk_box_width(box) < 1) return;
    if (pattern == 1) bk_ink_hatch(paper, c->flow->page, box, 9, (bk_pen){.width = 0.3, .grey = 0.6});
    if (pattern == 2) bk_ink_hatch(paper, c->flow->page, box, 3, (bk_pen){.width = 0.4, .grey = 0.55});
    const bk_set set = bk_set_text(paper, words, bk_face_bold, bk_box_width(box) - 6, 2);
    const double x = (box.x0 + box.x1) / 2, top = c->box.y0 + 6;
    bk_ink_box(paper, c->flow->page,
               (bk_box){x - set.width / 2 - 3, top - 1, x + set.width / 2 + 3,
                        top + set.leading * (double)set.n + 1},
               (bk_pen){0}, 1);
    bk_ink_set_middle(paper, c->flow->page, x, top, &set);
}

static void edges(const chart *c)
{
    bk_sheaf *paper = c->flow->paper;
    const size_t page = c->flow->page;
    for (int degrees = 0; degrees <= 90; degrees += 15) {
        const double x = across(c, degrees * BK_PI / 180);
        bk_ink_line(paper, page, (bk_spot){x, c->box.y0}, (bk_spot){x, c->box.y1}, bk_pen_hair);
        text_middle(c, x, c->box.y1 + 3, bk_tell(c->flow, "%d\u00b0", degrees), bk_face_text);
        text_middle(c, x, c->box.y0 - 12, bk_tell(c->flow, "%d\u00b0", 90 - degrees), bk_face_text);
    }
    for (int times = 0; times <= TIMES; times += 2) {
        const double y = height(c, times);
        bk_ink_line(paper, page, (bk_spot){c->box.x0, y}, (bk_spot){c->box.x1, y}, bk_pen_hair);
        if (times == 0 || times == TIMES) continue; /* their places are the edges' own */
        const bk_set set = bk_set_text(paper, bk_tell(c->flow, "%d", times), bk_face_text, 0, 0);
        bk_ink_set_right(paper, page, c->box.x0 - 4, y - set.leading / 2, &set);
    }
    bk_ink_box(paper, page, c->box, bk_pen_thin, BK_NO_FILL);
    text_middle(c, (c->box.x0 + c->box.x1) / 2, c->box.y1 + 14, "angle of a leg FROM THE VERTICAL",
                bk_face_bold);
    text_middle(c, (c->box.x0 + c->box.x1) / 2, c->box.y0 - 24, "the same angle FROM THE HORIZONTAL",
                bk_face_bold);
}

/* The angle asked for, on the curve. */
static void yours(const chart *c, const bk_leg_question *q, bk_field *field)
{
    bk_sheaf *paper = c->flow->paper;
    const bk_leg leg = bk_leg_at(q->load_N, q->carrying, q->from_vertical_rad);
    const bk_spot spot = {across(c, leg.from_vertical_rad), height(c, fmin(leg.of_straight, TIMES))};
    const bk_spot foot = {spot.x, c->box.y1};
    bk_ink_line(paper, c->flow->page, foot, spot, (bk_pen){.width = 0.8, .dash = {3, 2}});
    bk_field_stroke(field, foot, spot);
    bk_ink_disc(paper, c->flow->page, spot, 3, (bk_pen){0}, 0);
    bk_field_take(field, (bk_box){spot.x - 3, spot.y - 3, spot.x + 3, spot.y + 3});
    bk_label label = {.n_lines = 2};
    label.lines[0] = bk_set_text(paper,
                                 bk_tell(c->flow, "yours: %s\u00b0 from the vertical",
                                         bk_tell_unit(c->flow, leg.from_vertical_rad, "deg", 1)),
                                 bk_face_bold, 0, 0);
    const char *pull =
        q->load_given
            ? bk_tell(c->flow, "%s in each of %d that carry",
                      bk_tell_quantity(c->flow, leg.tension_N, BK_DIM_FORCE, 4), q->carrying)
            : bk_tell(c->flow, "%s times the upright pull", bk_tell_unit(c->flow, leg.of_straight, "1", 2));
    label.lines[1] = bk_set_text(paper, pull, bk_face_text, 0, 0);
    /* beside the curve, or where that runs off the chart, beside the line that stands at the angle */
    const bk_spot targets[] = {
        {spot.x, spot.y - 3}, {spot.x, (foot.y + 2 * c->box.y0) / 3}, {spot.x, (foot.y + c->box.y0) / 2}};
    const bool outside = leg.of_straight > TIMES;
    bk_field_label(field, &label, targets + outside, outside ? 2 : 1);
}

static void curve(const chart *c, const bk_leg_question *q)
{
    bk_sheaf *paper = c->flow->paper;
    const size_t page = c->flow->page;
    bk_field field;
    bk_field_open(&field, paper, page, (bk_box){c->box.x0 + 2, c->box.y0 + 30, c->box.x1 - 2, c->box.y1 - 2});
    bk_spot at[2 * FLATTEST + 1];
    for (int i = 0; i <= 2 * FLATTEST; i++) {
        const bk_leg leg = bk_leg_at(1, 1, i * BK_PI / 360);
        at[i] = (bk_spot){across(c, leg.from_vertical_rad), height(c, leg.of_straight)};
        if (i > 0) bk_field_stroke(&field, at[i - 1], at[i]);
    }
    bk_ink_path(paper, page, at, 2 * FLATTEST + 1, false, (bk_pen){.width = 1.6}, BK_NO_FILL);
    static const int marked[] = {30, 45, 60, 75, 80};
    for (size_t i = 0; i < sizeof marked / sizeof *marked; i++) {
        const bk_spot spot = at[2 * marked[i]];
        bk_ink_disc(paper, page, spot, 2, bk_pen_thin, 1);
        bk_field_take(&field, (bk_box){spot.x - 2, spot.y - 2, spot.x + 2, spot.y + 2});
    }
    if (!isnan(q->from_vertical_rad)) yours(c, q, &field);
    for (size_t i = 0; i < sizeof marked / sizeof *marked; i++) {
        const bk_spot spot = at[2 * marked[i]];
        bk_label label = {.n_lines = 1};
        label.lines[0] = bk_set_text(
            paper,
            bk_tell(c->flow, "%s times", bk_tell_unit(c->flow, 1 / cos(marked[i] * BK_PI / 180), "1", 2)),
            bk_face_text, 0, 0);
        bk_field_label(&field, &label, &(bk_spot){spot.x - 2.5, spot.y - 2.5}, 1);
    }
}

/* The same load on legs of growing spread, each with its pull: what the curve means. */
static void sketch(bk_flow *flow)
{
    static const int degrees[] = {0, 30, 45, 60, 75};
    const double step = bk_box_width(flow->body) / 5, length = 40, top = flow->y + 6;
    for (int i = 0; i < 5; i++) {
        const double x = flow->body.x0 + step * (i + 0.5), beta = degrees[i] * BK_PI / 180;
        const double half = fmax(length * sin(beta), 3), drop = length * cos(beta), foot = top + drop;
        bk_ink_disc(flow->paper, flow->page, (bk_spot){x, top}, 2, bk_pen_thin, 1);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, top + 2}, (bk_spot){x - half, foot},
                    (bk_pen){.width = 0.9});
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, top + 2}, (bk_spot){x + half, foot},
                    (bk_pen){.width = 0.9});
        bk_ink_box(flow->paper, flow->page, (bk_box){x - fmax(half, 12), foot, x + fmax(half, 12), foot + 10},
                   bk_pen_thin, 0.93);
        const bk_leg leg = bk_leg_at(1, 2, beta);
        const bk_set set = bk_set_text(flow->paper, bk_tell(flow, "%d\u00b0 from vertical", degrees[i]),
                                       bk_face_small, 0, 0);
        bk_ink_set_middle(flow->paper, flow->page, x, top + length + 14, &set);
        const bk_set pull = bk_set_text(
            flow->paper, bk_tell(flow, "each pulls %s of load", bk_tell_percent(flow, leg.tension_N)),
            bk_face_small, 0, 0);
        bk_ink_set_middle(flow->paper, flow->page, x, top + length + 24, &pull);
    }
    flow->y += length + 44;
}

static void table(bk_flow *flow, const bk_leg_question *q)
{
    bk_rows *rows = bk_rows_open(
        flow, q->load_given ? "ONE LEG, by its angle" : "ONE LEG, by its angle: pulls as a share of the load",
        ">>>>>><",
        (const char *[]){"from vertical", "from horizontal", "between legs", "pull in the leg",
                         "sideways pull", "of upright", ""});
    for (int degrees = 0; degrees <= FLATTEST; degrees += 5) {
        const bk_leg leg = bk_leg_at(q->load_N, q->carrying, degrees * BK_PI / 180);
        const bool over = leg.from_vertical_rad > q->max_from_vertical_rad * (1 + 1e-9),
                   care = leg.from_vertical_rad > q->warn_from_vertical_rad * (1 + 1e-9);
        bk_rows_add(rows, (const char *[]){
                              bk_tell(flow, "%d\u00b0", degrees), bk_tell(flow, "%d\u00b0", 90 - degrees),
                              bk_tell(flow, "%.0f\u00b0", bk_leg_included(q->legs, leg.from_vertical_rad) * 180 / BK_PI),
                              q->load_given ? bk_tell_quantity(flow, leg.tension_N, BK_DIM_FORCE, 4)
                                            : bk_tell_percent(flow, leg.tension_N),
                              q->load_given ? bk_tell_quantity(flow, leg.horizontal_N, BK_DIM_FORCE, 4)
                                            : bk_tell_percent(flow, leg.horizontal_N),
                              bk_tell_percent(flow, leg.of_straight),
                              over   ? "not to be used"
                              : care ? "with care"
                                     : ""});
    }
    bk_rows_close(rows);
}

void bk_angle_picture(bk_sheaf *paper, const bk_leg_question *q)
{
    bk_flow flow;
    bk_flow_open(&flow, paper, (bk_box){MARGIN, MARGIN, paper->width - MARGIN, paper->height - MARGIN},
                 q->units);
    bk_flow_text(&flow, "WHAT A LEG PULLS AT ITS ANGLE", (bk_face){.size = 13, .bold = true}, 0);
    bk_flow_text(
        &flow,
        bk_tell(
            &flow, "%d leg%s%s%s%s", q->legs, q->legs == 1 ? "" : "s",
            q->carrying != q->legs ? bk_tell(&flow, ", %d counted as carrying", q->carrying) : "",
            q->load_given
                ? bk_tell(&flow, ", load %s = %s", bk_tell_quantity(&flow, q->load_N, BK_DIM_FORCE, 4),
                          bk_tell_quantity(&flow, q->load_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4))
                : "",
            bk_tell(&flow, ", rule set %s", q->rules)),
        bk_face_text, 0);
    if (!isnan(q->from_vertical_rad)) {
        const bk_leg leg = bk_leg_at(q->load_N, q->carrying, q->from_vertical_rad);
        const double degrees = BK_PI / 180, beta = leg.from_vertical_rad;
        bk_flow_text(
            &flow,
            bk_tell(&flow,
                    "Yours: %s\u00b0 from the vertical, %s\u00b0 from the horizontal; each leg that carries "
                    "pulls %s times what an "
                    "upright one would%s%s.%s",
                    bk_tell_unit(&flow, beta, "deg", 1),
                    bk_tell_unit(&flow, leg.from_horizontal_rad, "deg", 1),
                    bk_tell_unit(&flow, leg.of_straight, "1", 2), q->load_given ? ", " : "",
                    q->load_given ? bk_tell_quantity(&flow, leg.tension_N, BK_DIM_FORCE, 4) : "",
                    beta > q->max_from_vertical_rad + 1e-9 * degrees
                        ? bk_tell(&flow, "  FLATTER THAN THE RULE SET ALLOWS (%s\u00b0 from the vertical).",
                                  bk_tell_unit(&flow, q->max_from_vertical_rad, "deg", 0))
                        : ""),
            bk_face_bold, 0);
    }
    flow.y += 6;
    sketch(&flow);
    flow.y += 26;
    const double tall = fmin(CHART_HEIGHT, flow.body.y1 - flow.y - BELOW_CHART);
    const chart c = {&flow, {flow.body.x0 + 26, flow.y, flow.body.x1 - 8, flow.y + tall}};
    band(&c, 0, q->warn_from_vertical_rad, "in use", 0);
    band(&c, q->warn_from_vertical_rad, q->max_from_vertical_rad, "with care", 1);
    band(&c, q->max_from_vertical_rad, BK_PI / 2, "not to be used", 2);
    edges(&c);
    curve(&c, q);
    const bk_set side = bk_set_text(paper, "pull, times an upright leg's", bk_face_small, 0, 0);
    bk_ink_set(paper, flow.page, flow.body.x0, c.box.y0 - 24, &side);
    flow.y = c.box.y1 + 30;
    table(&flow, q);
    if (!isnan(q->wll_N)) {
        const double beta = bk_leg_angle_used_up(q->load_N, q->carrying, q->wll_N);
        const char *sling = bk_tell_quantity(&flow, q->wll_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4);
        bk_flow_text(
            &flow,
            isnan(beta)
                ? bk_tell(&flow, "Legs of %s do not lift this load at any angle.", sling)
                : bk_tell(
                      &flow,
                      "Legs of %s are used up at %s\u00b0 from the vertical (%s\u00b0 from the horizontal).",
                      sling, bk_tell_unit(&flow, beta, "deg", 1),
                      bk_tell_unit(&flow, BK_PI / 2 - beta, "deg", 1)),
            bk_face_bold, 0);
    }
    bk_flow_text(&flow,
                 "Equal legs, load centred, sling weight left out. The tag on the sling, local codes and a "
                 "qualified person decide; "
                 "for a real load make a plan and run `becket check`.",
                 bk_face_small, 0);
}
