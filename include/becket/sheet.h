/* sheet: an assessment as drawn pages.  Formats only; computes nothing.
 *
 * Lives in a module of its own (cairo and pango), loaded when something is drawn.  Frame of every view: the plan's
 * axes; front looks along +y, side looks along -x, plan looks down.
 */
#ifndef BECKET_SHEET_H
#define BECKET_SHEET_H

#include <becket/report.h>

BK_C_BEGIN

typedef enum bk_sheet_format { BK_SHEET_PDF, BK_SHEET_SVG, BK_SHEET_PNG } bk_sheet_format;
typedef enum bk_paper { BK_PAPER_A4, BK_PAPER_LETTER } bk_paper;
typedef struct bk_sheet_options {
    bk_sheet_format format;
    bk_paper paper;
    bool working;        /* appendix pages with the working of every figure */
    double png_dpi;      /* 0: 150 */
    bool own_process;    /* nothing else in this process draws text: fonts may be looked for the quick way */
} bk_sheet_options;

/* Draws into memory: *bytes (n of them) is the caller's, to be freed with free(); the file is written by the caller, so
 * that nothing half-written is left behind.  SVG and PNG hold all pages one below the other.
 * BK_E_NOMEM; BK_E_WRITE with a message when the drawing library fails. */
bk_status bk_sheet_draw(const bk_assessment *assessment, const bk_sheet_options *options, char **bytes, size_t *n,
                        bk_errors *errors);
/* The same for a question about a leg's angle: one page with a chart and a table. */
bk_status bk_sheet_draw_angle(const bk_leg_question *question, const bk_sheet_options *options, char **bytes, size_t *n,
                              bk_errors *errors);

BK_C_END

#endif
