/* flow: headings, sentences and tables down the page, from page to page.  Internal to the sheet room. */
#ifndef BK_SHEET_FLOW_H
#define BK_SHEET_FLOW_H

#include "ink.h"

#include <becket/quantity.h>

/* Faces of the sheet. */
extern const bk_face bk_face_text, bk_face_small, bk_face_bold, bk_face_heading;
/* Pens of the sheet: 0.3, 0.6, 1.2 points. */
extern const bk_pen bk_pen_hair, bk_pen_thin, bk_pen_bold;

/* One unit for all figures of a kind, so that a column can be compared at a glance. */
typedef struct bk_unit_of {
    const char *unit;
    int decimals;
} bk_unit_of;

typedef struct bk_flow {
    bk_sheaf *paper;
    size_t page;
    bk_box body; /* what header and footer leave of every page */
    double y;    /* the next thing's upper edge */
    bk_system system;
    bk_unit_of force, mass, length;
} bk_flow;

void bk_flow_open(bk_flow *flow, bk_sheaf *paper, bk_box body, bk_system system);
/* Units for a rig of this weight. */
void bk_flow_units(bk_flow *flow, double weight_N);
void bk_flow_page(bk_flow *flow);                /* goes on on a new page */
void bk_flow_need(bk_flow *flow, double height); /* the same when less than this is left */
void bk_flow_heading(bk_flow *flow, const char *text);
void bk_flow_text(bk_flow *flow, const char *text, bk_face face, double indent);
void bk_flow_item(bk_flow *flow, const char *text); /* with a dash before it */

/* Text for a cell, in the arena; "" when memory is out (paper->failed says so). */
const char *bk_tell(bk_flow *flow, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A text that another room made: NULL is out of memory. */
const char *bk_told(bk_flow *flow, const char *text);
const char *bk_tell_quantity(bk_flow *flow, double si, bk_dim dim, int digits);
const char *bk_tell_figure(bk_flow *flow, double si,
                           bk_dim dim); /* of a check: angles to a tenth of a degree */
const char *bk_tell_unit(bk_flow *flow, double si, const char *unit, int decimals);
const char *bk_tell_bare(bk_flow *flow, double si, bk_unit_of unit); /* the figure alone; "-" for NaN */
const char *bk_tell_in(bk_flow *flow, double si, bk_unit_of unit);   /* and its unit */
const char *bk_tell_percent(bk_flow *flow, double share);
/* A utilisation, as bk_shown_utilisation. */
const char *bk_tell_used(bk_flow *flow, double utilisation);

/* ---- tables ------------------------------------------------------------------------------------ */

/* A table: rows are kept until it is closed, then set.  Columns share the width by need; what is too wide is
 * broken over lines; a table that does not fit goes on on the next page under the same heading and column
 * heads. */
typedef struct bk_rows bk_rows;
/* title NULL: no heading.  align: a letter a column, '<' flush left, '>' flush right, '#' bar of utilisation
 * (its cell is the text beside it), '_' a blank to write in. */
bk_rows *bk_rows_open(bk_flow *flow, const char *title, const char *align, const char *const *heads);
void bk_rows_add(bk_rows *rows, const char *const *cells);
/* For the row added last: the share of its limit that a bar shows, and whether it passes. */
void bk_rows_bar(bk_rows *rows, double share, bool passes);
void bk_rows_note(bk_rows *rows, const char *note); /* small, below the row */
void bk_rows_strong(bk_rows *rows);                 /* bold: totals, what fails */
void bk_rows_close(bk_rows *rows);

#endif
