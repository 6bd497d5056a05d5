/* closing: what was assumed, cautions, tables with digests, what only people can fill in, signatures. */
#include "sections.h"

static void assumed(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    bk_flow *flow = &sheet->flow;
    const bool failed = a->envelope && a->envelope->n_failed > 0;
    if (a->plan->n_notes + a->findings->n_assumptions == 0 && !failed) return;
    bk_flow_heading(flow, "ASSUMED");
    for (size_t i = 0; i < a->plan->n_notes; i++)
        bk_flow_item(flow, a->plan->notes[i]);
    for (size_t i = 0; i < a->findings->n_assumptions; i++)
        bk_flow_item(flow, a->findings->assumptions[i]);
    if (failed)
        bk_flow_item(flow,
                     bk_tell(flow, "%zu of %zu cases within the tolerances do not hang stably; the first: %s",
                             a->envelope->n_failed, a->envelope->n_solved,
                             a->envelope->failed_say ? a->envelope->failed_say : "as drawn"));
}

static void cautions(bk_sheet *sheet)
{
    if (sheet->a->n_cautions == 0) return;
    bk_flow_heading(&sheet->flow, "CAUTIONS");
    for (size_t i = 0; i < sheet->a->n_cautions; i++)
        bk_flow_item(&sheet->flow, sheet->a->cautions[i]);
}

static void tables(bk_sheet *sheet)
{
    bk_flow *flow = &sheet->flow;
    size_t n;
    const bk_table *const *used = bk_tables_used(sheet->a->tables, &n);
    bk_rows *rows = bk_rows_open(flow, "PLAN AND TABLES, by their SHA-256", "<<<<",
                                 (const char *[]){"file", "source", "mark", "sha256"});
    bk_rows_add(rows, (const char *[]){sheet->a->plan->file, "the plan", "", sheet->a->plan->digest});
    for (size_t i = 0; i < n; i++) {
        const char *source = bk_tell(flow, "%s%s%s%s", used[i]->source, *used[i]->edition ? ", " : "",
                                     used[i]->edition, used[i]->shipped ? "" : " (user's table)");
        bk_rows_add(rows,
                    (const char *[]){used[i]->name, source, bk_mark_text(used[i]->mark), used[i]->digest});
    }
    bk_rows_close(rows);
}

/* What a lift plan holds beside arithmetic (ASME P30.1; DOE-STD-1090; USACE EM 385-1-1, section 16): blanks
 * stay blank. */
static void to_be_filled_in(bk_sheet *sheet)
{
    static const char *const asked[][2] = {
        {"Lift category, and what set it", NULL},
        {"Load: description, dimensions, contents, parts that can shift, hazards", NULL},
        {"Lifting points: rating and direction allowed", NULL},
        {"Crane or hoist: type, serial, last examination, next due", NULL},
        {"Support or runway: who checked it, reference", NULL},
        {"Clearances, floor or ground, services, power lines", NULL},
        {"Weather limits, and who measures", NULL},
        {"Exclusion zone; nobody below", NULL},
        {"Lift director, operator, rigger, signaller: names, proof of skill", NULL},
        {"How they speak to each other", NULL},
        {"Steps, trial lift, hold points, set-down", NULL},
        {"If something goes wrong: set down, rescue", NULL},
    };
    bk_flow *flow = &sheet->flow;
    const size_t n = sizeof asked / sizeof *asked;
    const double step = 19, half = bk_box_width(flow->body) / 2;
    bk_flow_need(flow, 30 + step * (double)((n + 1) / 2));
    bk_flow_heading(flow, "TO BE FILLED IN BEFORE THE LIFT");
    for (size_t i = 0; i < n; i++) {
        const double x = flow->body.x0 + (i % 2 ? half + 4 : 0), y = flow->y + step * (double)(i / 2);
        const bk_set set =
            bk_set_text(flow->paper, asked[i][0], (bk_face){.size = 6, .grey = 0.25}, half - 4, 1);
        bk_ink_set(flow->paper, flow->page, x, y, &set);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, y + step - 1.5},
                    (bk_spot){x + half - 4, y + step - 1.5}, bk_pen_hair);
    }
    flow->y += step * (double)((n + 1) / 2);
}

static void signatures(bk_sheet *sheet)
{
    static const char *const who[] = {"planned by", "checked by", "approved by", "lift director"};
    bk_flow *flow = &sheet->flow;
    const double height = 44, width = bk_box_width(flow->body) / 4;
    bk_flow_need(flow, height + 30);
    bk_flow_heading(flow, "SIGNED");
    for (size_t i = 0; i < 4; i++) {
        const double x = flow->body.x0 + width * (double)i;
        bk_ink_box(flow->paper, flow->page, (bk_box){x, flow->y, x + width, flow->y + height}, bk_pen_thin,
                   BK_NO_FILL);
        const bk_set set = bk_set_text(flow->paper, who[i], (bk_face){.size = 6, .grey = 0.25}, width - 6, 1);
        bk_ink_set(flow->paper, flow->page, x + 3, flow->y + 2, &set);
        const double y = flow->y + height - 13;
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, y}, (bk_spot){x + width, y}, bk_pen_hair);
        const bk_set date = bk_set_text(flow->paper, "date", (bk_face){.size = 6, .grey = 0.25}, 0, 0);
        bk_ink_set(flow->paper, flow->page, x + 3, y + 2, &date);
    }
    flow->y += height + 4;
}

void bk_sheet_words(bk_sheet *sheet)
{
    assumed(sheet);
    cautions(sheet);
    tables(sheet);
    to_be_filled_in(sheet);
    signatures(sheet);
}
