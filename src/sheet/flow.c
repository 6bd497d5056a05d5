/* flow: pages, headings and sentences; figures as text for people. */
#include "flow.h"

#include <becket/report.h>

const bk_face bk_face_text = {.size = 8}, bk_face_small = {.size = 7},
              bk_face_bold = {.size = 8, .bold = true}, bk_face_heading = {.size = 9.5, .bold = true};
const bk_pen bk_pen_hair = {.width = 0.3, .grey = 0.55}, bk_pen_thin = {.width = 0.6},
             bk_pen_bold = {.width = 1.2};

void bk_flow_open(bk_flow *flow, bk_sheaf *paper, bk_box body, bk_system system)
{
    *flow = (bk_flow){.paper = paper, .body = body, .system = system};
    bk_flow_units(flow, 1e4);
    bk_flow_page(flow);
}

void bk_flow_units(bk_flow *flow, double weight_N)
{
    if (flow->system == BK_US) {
        flow->force = (bk_unit_of){"lbf", weight_N < 1000 ? 1 : 0};
        flow->mass = (bk_unit_of){"lb", weight_N < 1e6 ? 1 : 0};
        flow->length = (bk_unit_of){"ft", 2};
    } else {
        flow->force = weight_N < 1000 ? (bk_unit_of){"N", 1} : (bk_unit_of){"kN", weight_N < 1e6 ? 2 : 1};
        flow->mass = (bk_unit_of){"kg", weight_N < 100 ? 3 : weight_N < 1e6 ? 1 : 0};
        flow->length = (bk_unit_of){"m", 3};
    }
}

void bk_flow_page(bk_flow *flow)
{
    flow->page = bk_sheaf_add_page(flow->paper);
    flow->y = flow->body.y0;
}

void bk_flow_need(bk_flow *flow, double height)
{
    if (flow->y + height > flow->body.y1 && flow->y > flow->body.y0) bk_flow_page(flow);
}

void bk_flow_heading(bk_flow *flow, const char *text)
{
    bk_flow_need(flow, 60); /* never alone at the foot of a page */
    if (flow->y > flow->body.y0) flow->y += 9;
    const bk_set set = bk_set_text(flow->paper, text, bk_face_heading, bk_box_width(flow->body), 2);
    flow->y = bk_ink_set(flow->paper, flow->page, flow->body.x0, flow->y, &set) + 1;
    bk_ink_line(flow->paper, flow->page, (bk_spot){flow->body.x0, flow->y}, (bk_spot){flow->body.x1, flow->y},
                bk_pen_thin);
    flow->y += 3;
}

void bk_flow_text(bk_flow *flow, const char *text, bk_face face, double indent)
{
    const bk_set set = bk_set_text(flow->paper, text, face, bk_box_width(flow->body) - indent, 0);
    for (size_t i = 0; i < set.n; i++) {
        bk_flow_need(flow, set.leading);
        bk_ink_run(flow->paper, flow->page, flow->body.x0 + indent, bk_baseline(&set, flow->y), &set.runs[i]);
        flow->y += set.leading;
    }
}

void bk_flow_item(bk_flow *flow, const char *text)
{
    bk_flow_need(flow, 2 * bk_face_text.size * 1.28);
    const bk_set dash = bk_set_text(flow->paper, "\u2013", bk_face_text, 0, 0);
    bk_ink_set(flow->paper, flow->page, flow->body.x0, flow->y, &dash);
    bk_flow_text(flow, text, bk_face_text, 9);
    flow->y += 1.5;
}

/* ---- cells ------------------------------------------------------------------------------------- */

const char *bk_told(bk_flow *flow, const char *text)
{
    if (!text) flow->paper->failed = true;
    return text ? text : "";
}

const char *bk_tell(bk_flow *flow, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = bk_arena_vprintf(flow->paper->arena, format, args);
    va_end(args);
    return bk_told(flow, text);
}

const char *bk_tell_quantity(bk_flow *flow, double si, bk_dim dim, int digits)
{
    char buf[64];
    return bk_tell(flow, "%s", bk_quantity_print(buf, sizeof buf, si, dim, flow->system, digits));
}

const char *bk_tell_unit(bk_flow *flow, double si, const char *unit, int decimals)
{
    char buf[64];
    return bk_tell(flow, "%s", bk_number_print(buf, sizeof buf, si, unit, decimals));
}

const char *bk_tell_figure(bk_flow *flow, double si, bk_dim dim)
{
    if (dim != BK_DIM_ANGLE || !isfinite(si)) return bk_tell_quantity(flow, si, dim, 4);
    return bk_tell(flow, "%s\u00b0", bk_tell_unit(flow, si, "deg", 1));
}

const char *bk_tell_bare(bk_flow *flow, double si, bk_unit_of unit)
{
    return bk_tell_unit(flow, si, unit.unit, unit.decimals);
}

const char *bk_tell_in(bk_flow *flow, double si, bk_unit_of unit)
{
    return bk_tell(flow, "%s %s", bk_tell_bare(flow, si, unit), unit.unit);
}

const char *bk_tell_used(bk_flow *flow, double utilisation)
{
    return bk_tell_percent(flow, bk_shown_utilisation(utilisation));
}

const char *bk_tell_percent(bk_flow *flow, double share)
{
    if (isnan(share)) return "-";
    if (isinf(share)) return "over";
    return bk_tell(flow, "%s %%", bk_tell_unit(flow, share, "%", 0));
}
