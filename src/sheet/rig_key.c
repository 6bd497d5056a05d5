/* rig_key: the scale, as a ratio and as a bar in the reader's unit, and what the signs mean. */
#include "rig_view.h"

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

void bk_view_key(bk_sheet *sheet, bk_box cell, double scale, double ratio)
{
    bk_flow *flow = &sheet->flow;
    bk_sheaf *paper = flow->paper;
    const size_t page = flow->page;
    const bool us = flow->system == BK_US;
    bk_ink_box(paper, page, cell, bk_pen_hair, BK_NO_FILL);
    const double x = cell.x0 + 6;
    double y = cell.y0 + 4;
    const bk_set set = bk_set_text(
        paper,
        bk_tell(flow, "SCALE 1:%s on paper printed full size", bk_tell_quantity(flow, ratio, BK_DIM_NONE, 6)),
        (bk_face){.size = 7, .bold = true}, bk_box_width(cell) - 12, 1);
    y = bk_ink_set(paper, page, x, y, &set) + 3;
    /* scale bar: a round length in the reader's unit, in four blocks */
    const double unit_m = us ? 0.3048 : 1;
    const double blocks = round_length(fmin(bk_box_width(cell) - 60, 110) / scale / unit_m);
    const double length = blocks * unit_m * scale;
    for (int i = 0; i < 4; i++)
        bk_ink_box(paper, page, (bk_box){x + length * i / 4, y, x + length * (i + 1) / 4, y + 4},
                   (bk_pen){.width = 0.5}, i % 2 ? 1 : 0);
    const bk_set zero = bk_set_text(paper, "0", bk_face_small, 0, 0);
    char figure[32];
    const bk_set end = bk_set_text(
        paper, bk_tell(flow, "%s %s", bk_plain_print(figure, sizeof figure, blocks, 6), us ? "ft" : "m"),
        bk_face_small, 0, 0);
    bk_ink_set_middle(paper, page, x + 1, y + 4.5, &zero);
    bk_ink_set(paper, page, fmax(x + length - 3, x + 10), y + 4.5, &end);
    y += 20;
    const double step = 10.4;
    bk_sign_anchor(paper, page, (bk_spot){x + 9, y + 2.5});
    key_row(flow, x, y, "anchor: held by the structure");
    bk_sign_cog(paper, page, (bk_spot){x + 9, y += step}, 3.4);
    key_row(flow, x, y, "centre of gravity as it hangs");
    y += step;
    bk_ink_disc(paper, page, (bk_spot){x + 9, y}, 2.2, bk_pen_thin, 1);
    key_row(flow, x, y, "ring, free to move");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, bk_pen_plumb);
    key_row(flow, x, y, "plumb line of an anchor");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, bk_pen_slack);
    key_row(flow, x, y, "slack line");
    y += step;
    bk_ink_line(paper, page, (bk_spot){x, y}, (bk_spot){x + 18, y}, bk_pen_ghost);
    key_row(flow, x, y, "body as drawn, before it hung");
    y += step;
    bk_ink_box(paper, page, (bk_box){x, y - 3, x + 18, y + 3}, bk_pen_thin, 0.93);
    key_row(flow, x, y, "body: hull of its points, no outline");
}
