/* check_tables: what is not checked, then every check with its bar, the hardest used first, then the cases
 * that govern. */
#include "sections.h"

#include <stdlib.h>

void bk_sheet_summary(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    bk_flow *flow = &sheet->flow;
    const bk_face face = {.size = 9};
    if (a->governing != BK_NONE) {
        const bk_finding *f = &a->findings->at[a->governing];
        bk_flow_text(flow,
                     bk_tell(flow, "Hardest used: %s, %s, %s of its limit (%s, limit %s).", f->item, f->what,
                             bk_tell_used(flow, f->utilisation), bk_tell_figure(flow, f->demand, f->dim),
                             bk_tell_figure(flow, f->limit, f->dim)),
                     face, 0);
    }
    size_t failed = 0, unchecked = 0;
    for (size_t i = 0; i < a->findings->n; i++) {
        if (!a->findings->at[i].checked)
            unchecked++;
        else if (!a->findings->at[i].passes)
            failed++;
    }
    const char *total =
        a->has_rig && a->hang
            ? bk_tell(flow, "  Hangs in all: %s.", bk_tell_in(flow, a->hang->total_weight_N, flow->force))
            : "";
    bk_flow_text(flow,
                 bk_tell(flow, "%zu checks, %zu failed, %zu without a limit%s.%s", a->findings->n, failed,
                         unchecked, unchecked > 0 ? " (see NOT CHECKED)" : "", total),
                 face, 0);
}

static void not_checked(bk_sheet *sheet)
{
    const bk_findings *all = sheet->a->findings;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows = bk_rows_open(flow, "NOT CHECKED: no limit is known", "<<<<>",
                                 (const char *[]){"check", "item", "part", "what", "sees"});
    for (size_t i = 0; i < all->n; i++)
        if (!all->at[i].checked)
            bk_rows_add(rows,
                        (const char *[]){all->at[i].check, all->at[i].item, all->at[i].part, all->at[i].what,
                                         bk_tell_figure(flow, all->at[i].demand, all->at[i].dim)});
    bk_rows_close(rows);
}

static void marks(bk_sheet *sheet)
{
    const bk_findings *all = sheet->a->findings;
    for (int mark = BK_MARK_PUBLISHED; mark <= BK_MARK_MEMORY; mark++) {
        if (!*bk_mark_sign((bk_mark)mark)) continue;
        size_t i = 0;
        while (i < all->n && all->at[i].mark != (bk_mark)mark)
            i++;
        if (i < all->n)
            bk_flow_text(
                &sheet->flow,
                bk_tell(&sheet->flow, "%s %s", bk_mark_sign((bk_mark)mark), bk_mark_legend((bk_mark)mark)),
                bk_face_small, 0);
    }
}

static void checks(bk_sheet *sheet)
{
    bk_flow *flow = &sheet->flow;
    size_t n;
    const bk_finding **order = bk_findings_hardest_first(sheet->a->findings, &n);
    if (!order) {
        flow->paper->failed = true;
        return;
    }
    bk_rows *rows = bk_rows_open(flow, "CHECKS, the hardest used first; bold: governs, or fails", "<#<<>><>",
                                 (const char *[]){"", "used", "item", "part, or what is checked", "demand",
                                                  "limit", "source of the limit", "case"});
    for (size_t i = 0; i < n; i++) {
        const bk_finding *f = order[i];
        const char *sign = bk_mark_sign(f->mark);
        bk_rows_add(rows, (const char *[]){f->passes ? "ok" : "FAIL", bk_tell_used(flow, f->utilisation),
                                           f->item, bk_told(flow, bk_finding_subject(f, flow->paper->arena)),
                                           bk_tell_figure(flow, f->demand, f->dim),
                                           bk_tell_figure(flow, f->limit, f->dim),
                                           *sign ? bk_tell(flow, "%s %s", f->source, sign) : f->source,
                                           bk_sheet_case(sheet, f->where)});
        bk_rows_bar(rows, f->utilisation, f->passes);
        if (f->note) bk_rows_note(rows, f->note);
        if (!f->passes || (size_t)(f - sheet->a->findings->at) == sheet->a->governing) bk_rows_strong(rows);
    }
    bk_rows_close(rows);
    free(order);
    marks(sheet);
}

static void cases(bk_sheet *sheet)
{
    bk_rows *rows = bk_rows_open(&sheet->flow, "CASES THAT GOVERN, by the numbers in the tables", "><",
                                 (const char *[]){"case", "what differs"});
    for (size_t i = 0; i < sheet->n_cases; i++)
        bk_rows_add(rows, (const char *[]){bk_tell(&sheet->flow, "%zu", i + 1), sheet->cases[i]});
    bk_rows_close(rows);
}

void bk_sheet_checks(bk_sheet *sheet)
{
    not_checked(sheet);
    checks(sheet);
    cases(sheet);
}
