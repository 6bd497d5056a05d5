/* layout: text in columns for a terminal or an A4 page.  Internal to the report room. */
#ifndef BK_REPORT_LAYOUT_H
#define BK_REPORT_LAYOUT_H

#include <becket/report.h>
#include <stdio.h>

/* A text that grows; take hands it to the caller (free()), every line broken to the width, NULL when memory ran out on
 * the way. */
typedef struct bk_text {
    FILE *stream;
    char *bytes;
    size_t size;
    int columns;
    bool colour;
    bool failed;
} bk_text;
bool bk_text_open(bk_text *text, bk_style style);
bool bk_text_open_raw(bk_text *text); /* lines stay as they are: for what programs read */
char *bk_text_take(bk_text *text);
void bk_text_put(bk_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A paragraph broken at spaces, first and following lines indented.  Here and in tables a NULL text is one for which
 * memory ran out. */
void bk_text_wrap(bk_text *text, int first_indent, int indent, const char *paragraph);
void bk_text_heading(bk_text *text, const char *heading);

/* Columns a string takes on a terminal. */
int bk_text_width(const char *utf8);

/* A table: cells are copied.  Columns marked '<' are flush left, '>' flush right, '~' flush left and broken
 * over lines to fit the width.  The first row is the heading.  What does not fit beside one another goes on below, with
 * the first n_names columns again. */
#define BK_TABLE_COLUMNS_MAX 64
typedef struct bk_grid {
    bk_text *text;
    const char *align; /* one letter a column */
    int n_columns, n_names; /* n_names: 1 unless set after bk_grid_open */
    char ***rows;      /* rows of cells, each followed by its note (NULL: none) */
    size_t n, capacity;
    int note_indent;
    bool failed;
} bk_grid;
void bk_grid_open(bk_grid *grid, bk_text *text, const char *align);
/* One row: as many strings as there are columns. */
void bk_grid_row(bk_grid *grid, const char *const *cells);
/* A sentence below the last row, indented. */
void bk_grid_note(bk_grid *grid, int indent, const char *note);
/* Prints it indented by two and frees it. */
void bk_grid_close(bk_grid *grid);

/* "35.3 kN" in the report's units, in a ring of buffers good for one row. */
typedef struct bk_cells {
    char buf[16][64];
    int next;
    bk_system system;
} bk_cells;
const char *bk_cell(bk_cells *cells, double si, bk_dim dim, int digits);
/* The same for a check's demand or limit: angles to a tenth of a degree. */
const char *bk_cell_figure(bk_cells *cells, double si, bk_dim dim);
const char *bk_cell_unit(bk_cells *cells, double si, const char *unit, int decimals);
const char *bk_cell_percent(bk_cells *cells, double share);
/* A utilisation, as bk_shown_utilisation. */
const char *bk_cell_used(bk_cells *cells, double utilisation);

#endif
