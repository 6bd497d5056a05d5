/* layout: see layout.h.  Widths count characters, not bytes. */
#include "layout.h"

#include <stdlib.h>
#include <string.h>

bool bk_text_open(bk_text *text, bk_style style)
{
    *text = (bk_text){.columns = style.columns > 0 ? style.columns : 100, .colour = style.colour};
    if (text->columns < 60) text->columns = 60;
    text->stream = open_memstream(&text->bytes, &text->size);
    return text->stream != NULL;
}

char *bk_text_take(bk_text *text)
{
    if (fclose(text->stream) != 0) text->failed = true;
    if (text->failed) {
        free(text->bytes);
        return NULL;
    }
    return text->bytes;
}

void bk_text_put(bk_text *text, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    if (vfprintf(text->stream, format, args) < 0) text->failed = true;
    va_end(args);
}

static bool starts_character(char c)
{
    return ((unsigned char)c & 0xC0u) != 0x80u;
}

int bk_text_width(const char *utf8)
{
    int width = 0;
    for (; *utf8; utf8++) width += starts_character(*utf8);
    return width;
}

/* Bytes of the longest beginning of text that fits in width columns, broken at a space,
 * or behind a hyphen or stroke, where there is one. */
static size_t fitting(const char *text, int width)
{
    size_t i = 0, space = 0;
    int columns = 0;
    while (text[i] && text[i] != '\n') {
        size_t end = i + 1;
        while (text[end] && !starts_character(text[end])) end++;
        if (columns + 1 > width) return space ? space : (i ? i : end);
        columns++;
        if (text[i] == ' ') space = i;
        else if (i > 0 && text[i - 1] != ' ' && (strchr("-/_", text[i]) || (text[i] == '.' && text[end] >= 'a' && text[end] <= 'z')))
            space = end; /* the name of a row or a rule may break behind these */
        i = end;
    }
    return i;
}

static const char *skip_spaces(const char *text)
{
    while (*text == ' ' || *text == '\n') text++;
    return text;
}

void bk_text_wrap(bk_text *text, int first_indent, int indent, const char *paragraph)
{
    int at = first_indent;
    paragraph = skip_spaces(paragraph);
    do {
        const size_t n = fitting(paragraph, text->columns - at);
        bk_text_put(text, "%*s%.*s\n", at, "", (int)n, paragraph);
        paragraph = skip_spaces(paragraph + n);
        at = indent;
    } while (*paragraph);
}

void bk_text_heading(bk_text *text, const char *heading)
{
    bk_text_put(text, text->colour ? "\n\033[1m%s\033[0m\n" : "\n%s\n", heading);
}

/* ---- tables ------------------------------------------------------------------------------------ */

void bk_grid_open(bk_grid *grid, bk_text *text, const char *align)
{
    *grid = (bk_grid){.text = text, .align = align, .n_columns = (int)strlen(align)};
}

void bk_grid_row(bk_grid *grid, const char *const *cells)
{
    if (grid->failed) return;
    if (grid->n == grid->capacity) {
        const size_t capacity = grid->capacity ? 2 * grid->capacity : 16;
        char ***rows = realloc(grid->rows, capacity * sizeof *rows);
        if (!rows) {
            grid->failed = true;
            return;
        }
        grid->rows = rows;
        grid->capacity = capacity;
    }
    char **row = calloc((size_t)grid->n_columns + 1, sizeof *row);
    if (!row) {
        grid->failed = true;
        return;
    }
    grid->rows[grid->n++] = row;
    for (int c = 0; c < grid->n_columns; c++) {
        row[c] = strdup(cells[c] ? cells[c] : "");
        if (!row[c]) grid->failed = true;
    }
}

void bk_grid_note(bk_grid *grid, int indent, const char *note)
{
    if (grid->failed || grid->n == 0) return;
    char **slot = &grid->rows[grid->n - 1][grid->n_columns];
    grid->note_indent = indent;
    free(*slot);
    *slot = strdup(note);
    if (!*slot) grid->failed = true;
}

/* Widest cell of each column; the widest flexible ones give way until the row fits. */
static void widths_of(const bk_grid *grid, int *width)
{
    int total = 2;
    for (int c = 0; c < grid->n_columns; c++) {
        width[c] = 0;
        for (size_t r = 0; r < grid->n; r++) {
            const int w = bk_text_width(grid->rows[r][c]);
            if (w > width[c]) width[c] = w;
        }
        total += width[c] + (c ? 2 : 0);
    }
    for (; total > grid->text->columns; total--) {
        int widest = -1;
        for (int c = 0; c < grid->n_columns; c++)
            if (grid->align[c] == '~' && (widest < 0 || width[c] > width[widest])) widest = c;
        if (widest < 0 || width[widest] <= 12) break;
        width[widest]--;
    }
}

static void print_row(const bk_grid *grid, char **row, const int *width, bool heading)
{
    const char *rest[BK_TABLE_COLUMNS_MAX];
    for (int c = 0; c < grid->n_columns; c++) rest[c] = row[c];
    for (bool more = true; more;) {
        more = false;
        bk_text_put(grid->text, " ");
        int pad = 1;
        for (int c = 0; c < grid->n_columns; c++) {
            const size_t n = grid->align[c] == '~' ? fitting(rest[c], width[c]) : strlen(rest[c]);
            char *cell = strndup(rest[c], n);
            if (!cell) {
                grid->text->failed = true;
                return;
            }
            const int fill = width[c] - bk_text_width(cell);
            if (grid->align[c] == '>') pad += fill;
            if (*cell)
                bk_text_put(grid->text, heading && grid->text->colour ? "%*s\033[2m%s\033[0m" : "%*s%s", pad, "", cell), pad = 0;
            if (grid->align[c] != '>') pad += fill;
            pad += 2;
            rest[c] = skip_spaces(rest[c] + n);
            if (*rest[c]) more = true;
            free(cell);
        }
        bk_text_put(grid->text, "\n");
    }
    if (row[grid->n_columns]) bk_text_wrap(grid->text, grid->note_indent, grid->note_indent, row[grid->n_columns]);
}

void bk_grid_close(bk_grid *grid)
{
    int width[BK_TABLE_COLUMNS_MAX];
    if (grid->failed) grid->text->failed = true;
    if (!grid->failed) {
        widths_of(grid, width);
        for (size_t r = 0; r < grid->n; r++) print_row(grid, grid->rows[r], width, r == 0);
    }
    for (size_t r = 0; r < grid->n; r++) {
        for (int c = 0; c <= grid->n_columns; c++) free(grid->rows[r][c]);
        free(grid->rows[r]);
    }
    free(grid->rows);
    *grid = (bk_grid){0};
}

/* ---- cells ------------------------------------------------------------------------------------- */

static char *next_cell(bk_cells *cells)
{
    cells->next = (cells->next + 1) % 16;
    return cells->buf[cells->next];
}

const char *bk_cell(bk_cells *cells, double si, bk_dim dim, int digits)
{
    return bk_quantity_print(next_cell(cells), sizeof cells->buf[0], si, dim, cells->system, digits);
}

const char *bk_cell_figure(bk_cells *cells, double si, bk_dim dim)
{
    if (dim != BK_DIM_ANGLE || !isfinite(si)) return bk_cell(cells, si, dim, 4);
    char *cell = next_cell(cells);
    bk_number_print(cell, sizeof cells->buf[0] - 4, si, "deg", 1);
    return strcat(cell, "\u00b0");
}

const char *bk_cell_unit(bk_cells *cells, double si, const char *unit, int decimals)
{
    return bk_number_print(next_cell(cells), sizeof cells->buf[0], si, unit, decimals);
}

const char *bk_cell_percent(bk_cells *cells, double share)
{
    char *cell = next_cell(cells);
    if (isnan(share)) return "-";
    if (isinf(share)) return "over";
    bk_number_print(cell, sizeof cells->buf[0] - 2, share, "%", 0);
    return strcat(cell, " %");
}
