/* working_pages: every figure from load to verdict, as the arithmetic itself recorded it. */
#include "sections.h"

#include <string.h>

#define SYMBOL_WIDTH 86.0

/* "= formula", "= numbers put in", "= value", the source to the right of the value. */
static void step(bk_sheet *sheet, const bk_working *w, size_t i)
{
    bk_flow *flow = &sheet->flow;
    const bk_step *s = &w->steps[i];
    const char *value = bk_tell_quantity(flow, s->value, s->dim, 5);
    const double indent = 10 + SYMBOL_WIDTH;
    bk_flow_need(flow, 3 * 10.3);
    const bk_set symbol = bk_set_text(flow->paper, s->symbol, bk_face_text, SYMBOL_WIDTH - 4, 1);
    bk_ink_set_right(flow->paper, flow->page, flow->body.x0 + indent - 4, flow->y, &symbol);
    if (s->formula) {
        const char *numbers = bk_told(flow, bk_working_numbers(w, i, flow->system));
        bk_flow_text(flow, bk_tell(flow, "= %s", s->formula), bk_face_text, indent);
        if (strcmp(numbers, s->formula) != 0)
            bk_flow_text(flow, bk_tell(flow, "= %s", numbers), bk_face_text, indent);
    }
    bk_flow_text(flow, bk_tell(flow, "= %s   [%s]", value, s->source), bk_face_text, indent);
    flow->y += 1;
}

static void steps(bk_sheet *sheet, const bk_working *w)
{
    for (size_t i = 0; !w->failed && i < w->n; i++)
        step(sheet, w, i);
    if (w->failed) sheet->flow.paper->failed = true;
}

static void finding(bk_sheet *sheet, const bk_finding *f)
{
    bk_flow *flow = &sheet->flow;
    bk_flow_need(flow, 50);
    flow->y += 4;
    bk_flow_text(flow,
                 bk_tell(flow, "%s   %s%s%s: %s", f->check, f->item, f->part ? ", " : "",
                         f->part ? f->part : "", f->what),
                 bk_face_bold, 0);
    if (f->working) steps(sheet, f->working);
    if (f->where) bk_flow_text(flow, f->where, bk_face_text, 10);
    if (f->note) bk_flow_text(flow, f->note, bk_face_text, 10);
    const char *demand = bk_tell_figure(flow, f->demand, f->dim);
    if (f->checked)
        bk_flow_text(flow,
                     bk_tell(flow, "%s against %s: %s used, %s. Limit from %s (%s).", demand,
                             bk_tell_figure(flow, f->limit, f->dim), bk_tell_used(flow, f->utilisation),
                             f->passes ? "passes" : "FAILS", f->source, bk_mark_text(f->mark)),
                     bk_face_text, 10);
    else
        bk_flow_text(flow, bk_tell(flow, "sees %s; no limit is known: NOT CHECKED.", demand), bk_face_text,
                     10);
}

void bk_sheet_working(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    bk_flow *flow = &sheet->flow;
    bk_flow_page(flow);
    bk_flow_heading(flow, "WORKING");
    for (size_t h = 0; h < a->plan->n_hoists; h++) {
        const bk_working *w = a->hoist_workings ? a->hoist_workings[h] : NULL;
        if (!w || w->n == 0) continue;
        bk_flow_need(flow, 50);
        flow->y += 4;
        bk_flow_text(flow, bk_tell(flow, "hoist   %s: forces and duty", a->plan->hoists[h].name),
                     bk_face_bold, 0);
        steps(sheet, w);
    }
    for (size_t i = 0; i < a->findings->n; i++)
        finding(sheet, &a->findings->at[i]);
}
