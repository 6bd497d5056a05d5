/* sections: what a load check sheet says, part by part, each onto the flow of pages.  Internal to the sheet
 * room. */
#ifndef BK_SHEET_SECTIONS_H
#define BK_SHEET_SECTIONS_H

#include "flow.h"

#include <becket/sheet.h>

/* A sheet as it grows. */
typedef struct bk_sheet {
    const bk_assessment *a;
    bk_flow flow;
    bool balloons;      /* lines are numbered in the views, not named */
    const char **cases; /* governing cases in the order met: number i + 1 */
    size_t n_cases, cases_capacity;
} bk_sheet;

/* Number of a governing case, as text; "" for none. */
const char *bk_sheet_case(bk_sheet *sheet, const char *say);

void bk_sheet_summary(bk_sheet *sheet);    /* check_tables.c: what a reader wants first, in a line or two */
void bk_sheet_views(bk_sheet *sheet);      /* rig_view.c: the rig as it hangs */
void bk_sheet_runways(bk_sheet *sheet);    /* runway_view.c: beam, trolley, diagrams, reactions */
void bk_sheet_rig_tables(bk_sheet *sheet); /* rig_tables.c: mass, attitude, lines, gear, anchors */
void bk_sheet_hoists(bk_sheet *sheet);     /* hoist_tables.c: forces, duty and life */
void bk_sheet_checks(bk_sheet *sheet);     /* check_tables.c: not checked, checks, cases */
void bk_sheet_words(bk_sheet *sheet); /* closing.c: assumed, cautions, tables, to be filled in, signatures */
void bk_sheet_working(bk_sheet *sheet); /* working_pages.c: every figure from load to verdict */
/* strip.c: title block and foot of every page, once their number is known */
bk_box bk_strip_body(const bk_sheaf *paper);
void bk_strip_draw(bk_sheet *sheet);

#endif
