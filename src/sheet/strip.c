/* strip: the title block at the head of every page, and the foot.  A pinned-up page tells on its own what it
 * is, whether it passes, which plan it belongs to, and how many pages there are.
 */
#include "sections.h"

#include <string.h>

#define MARGIN        34.0
#define TITLE_HEIGHT  36.0
#define FIELD_HEIGHT  23.0
#define VERDICT_WIDTH 168.0
#define FOOT          16.0

bk_box bk_strip_body(const bk_sheaf *paper)
{
    return (bk_box){MARGIN, MARGIN + TITLE_HEIGHT + FIELD_HEIGHT + 8, paper->width - MARGIN,
                    paper->height - MARGIN - FOOT};
}

/* A caption with its value below; an empty value leaves the place to write it in. */
static void field(bk_sheaf *paper, size_t page, bk_box box, const char *caption, const char *value)
{
    bk_ink_box(paper, page, box, bk_pen_hair, BK_NO_FILL);
    const bk_set small =
        bk_set_text(paper, caption, (bk_face){.size = 5.5, .grey = 0.25}, bk_box_width(box) - 6, 1);
    bk_ink_set(paper, page, box.x0 + 3, box.y0 + 1.5, &small);
    const bk_set set = bk_set_text(paper, value, bk_face_text, bk_box_width(box) - 6, 1);
    bk_ink_set(paper, page, box.x0 + 3, box.y0 + 10, &set);
}

/* Of how many limits nobody should be too sure; NULL for none. */
static const char *doubts(bk_flow *flow, const bk_assessment *a)
{
    const char *memory = a->n_memory ? bk_tell(flow, "%zu of %zu limits not confirmed (*)", a->n_memory, a->n_checked) : "";
    const bool hoist = bk_invented_hoist(a->plan) != NULL;
    const char *demo = a->n_demo ? bk_tell(flow, "%zu invented (d)", a->n_demo) : hoist ? "invented hoist" : "";
    if (!*memory && !*demo) return NULL;
    return bk_tell(flow, "%s%s%s", memory, *memory && *demo ? ", " : "", demo);
}

static void verdict(bk_sheaf *paper, size_t page, bk_box box, bk_verdict outcome, const char *doubt)
{
    /* PASS open, FAIL black, INCOMPLETE hatched at the edge: three patterns, and always the word */
    const bool fail = outcome == BK_VERDICT_FAIL;
    bk_ink_box(paper, page, box, bk_pen_bold, fail ? 0 : 1);
    double x = box.x0 + 6;
    if (outcome == BK_VERDICT_INCOMPLETE) {
        bk_ink_hatch(paper, page, (bk_box){box.x0, box.y0, box.x0 + 8, box.y1}, 3, bk_pen_thin);
        x += 8;
    }
    const double grey = fail ? 1 : 0;
    const bk_set word =
        bk_set_text(paper, bk_verdict_word(outcome), (bk_face){.size = doubt ? 13 : 14, .bold = true, .grey = grey}, 0, 0);
    const bk_set line = bk_set_text(paper, bk_verdict_sentence(outcome), (bk_face){.size = 7, .grey = grey},
                                    box.x1 - x - 3, 1);
    bk_ink_set(paper, page, x, box.y0 + (doubt ? 1 : 4), &word);
    bk_ink_set(paper, page, x, box.y0 + (doubt ? 17 : 22), &line);
    if (!doubt) return;
    const bk_set unsure = bk_set_text(paper, doubt, (bk_face){.size = 6.5, .grey = grey}, box.x1 - x - 3, 1);
    bk_ink_set(paper, page, x, box.y0 + 26, &unsure);
}

void bk_strip_draw(bk_sheet *sheet)
{
    bk_flow *flow = &sheet->flow;
    bk_sheaf *paper = flow->paper;
    const bk_plan *plan = sheet->a->plan;
    const double x0 = MARGIN, x1 = paper->width - MARGIN, y0 = MARGIN, y1 = y0 + TITLE_HEIGHT,
                 y2 = y1 + FIELD_HEIGHT;
    const char *where = plan->reference && plan->site ? bk_tell(flow, "%s, %s", plan->reference, plan->site)
                        : plan->reference             ? plan->reference
                                                      : plan->site;
    const char *slash = strrchr(plan->file, '/'),
               *file = slash ? slash + 1 : plan->file; /* the path stands with the digests */
    const char *doubt = doubts(flow, sheet->a);
    const char *digest = bk_tell(flow, "%.16s", plan->digest);
    for (size_t page = 0; page < paper->n; page++) {
        const bk_box title = {x0, y0, x1 - VERDICT_WIDTH, y1};
        bk_ink_box(paper, page, title, bk_pen_hair, BK_NO_FILL);
        const bk_set small = bk_set_text(paper, "load check", (bk_face){.size = 5.5, .grey = 0.25}, 0, 0);
        bk_ink_set(paper, page, x0 + 3, y0 + 1.5, &small);
        const char *text = plan->title && *plan->title ? plan->title : "(no title)";
        bk_set set =
            bk_set_text(paper, text, (bk_face){.size = 13, .bold = true}, bk_box_width(title) - 8, 0);
        if (set.n > 1)
            set = bk_set_text(paper, text, (bk_face){.size = 9.5, .bold = true}, bk_box_width(title) - 8, 2);
        bk_ink_set(paper, page, x0 + 4, y0 + (set.n > 1 ? 9 : 13), &set);
        verdict(paper, page, (bk_box){x1 - VERDICT_WIDTH, y0, x1, y1}, sheet->a->verdict, doubt);

        const struct {
            const char *caption, *value;
            double share;
        } fields[] = {{"plan", file, 0.23},
                      {"sha256 of the plan, first 16 of 64", digest, 0.19},
                      {"rule set", plan->rules->name, 0.08},
                      {"reference, site", where, 0.19},
                      {"planned by", plan->author, 0.11},
                      {"date", plan->date, 0.1},
                      {"page", bk_tell(flow, "%zu of %zu", page + 1, paper->n), 0.1}};
        double x = x0;
        for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
            const double width = fields[i].share * (x1 - x0);
            field(paper, page, (bk_box){x, y1, x + width, y2}, fields[i].caption, fields[i].value);
            x += width;
        }
        bk_ink_box(paper, page, (bk_box){x0, y0, x1, y2}, bk_pen_bold, BK_NO_FILL);
        const double foot = paper->height - MARGIN - FOOT + 5;
        bk_ink_line(paper, page, (bk_spot){x0, foot}, (bk_spot){x1, foot}, bk_pen_hair);
        const bk_set caution = bk_set_text(paper,
                                           "Arithmetic on what the plan states. The tag on the gear, local "
                                           "codes and a qualified person decide.",
                                           (bk_face){.size = 6.5}, 0, 0);
        const bk_set maker =
            bk_set_text(paper, "becket " BK_VERSION ", weight = mass \u00d7 9.80665 m/s\u00b2",
                        (bk_face){.size = 6.5}, 0, 0);
        bk_ink_set(paper, page, x0, foot + 2, &caution);
        bk_ink_set_right(paper, page, x1, foot + 2, &maker);
    }
}
