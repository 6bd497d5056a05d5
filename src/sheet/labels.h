/* labels: where a label goes so that nothing is written over.  Internal to the sheet room. */
#ifndef BK_SHEET_LABELS_H
#define BK_SHEET_LABELS_H

#include "ink.h"

/* A field of a page with what already stands in it. */
typedef struct bk_field {
    bk_sheaf *paper;
    size_t page;
    bk_box frame;  /* labels stay within */
    bk_box *taken; /* labels and symbols: never covered */
    size_t n_taken, taken_capacity;
    bk_spot (*strokes)[2]; /* drawn lines: avoided where possible */
    size_t n_strokes, strokes_capacity;
} bk_field;

void bk_field_open(bk_field *field, bk_sheaf *paper, size_t page, bk_box frame);
void bk_field_take(bk_field *field, bk_box box);
void bk_field_stroke(bk_field *field, bk_spot a, bk_spot b);

/* A label of up to three lines, or a numbered balloon. */
typedef struct bk_label {
    bk_set lines[3];
    int n_lines;
    bool balloon; /* one line, in a circle */
} bk_label;

/* Writes the label near one of the targets (a point of what it names, best first), with a leader where it
 * stands off. Of all places that cover nothing the nearest that crosses least is taken.  False, and nothing
 * is written, when there is none. */
bool bk_field_label(bk_field *field, const bk_label *label, const bk_spot *targets, size_t n_targets);

#endif
