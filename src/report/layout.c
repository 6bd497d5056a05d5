/* layout: see layout.h.  Widths count characters, not bytes. */
#include "layout.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

bool bk_text_open(bk_text *text, bk_style style)
{
    *text = (bk_text){.columns = style.columns > 0 ? style.columns : 100, .colour = style.colour};
    if (text->columns < 60) text->columns = 60;
    text->stream = open_memstream(&text->bytes, &text->size);
    return text->stream != NULL;
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
    for (; *utf8; utf8++)
        width += starts_character(*utf8);
    return width;
}

/* May a line break between these two?  In the name of a row or a rule, chain-|en818-4/|10,
 * legs.|mode_|factor, not in the number of a standard. */
static bool joint(char before, char after)
{
    const bool letter = (after >= 'a' && after <= 'z') || (after >= 'A' && after <= 'Z');
    return before == '/' || before == '_' || ((before == '-' || before == '.') && letter);
}

/* Bytes of the longest beginning of text that fits in width columns, broken at a space or such a joint where
 * there is one. */
static size_t fitting(const char *text, int width)
{
    size_t i = 0, space = 0;
    int columns = 0;
    while (text[i] && text[i] != '\n') {
        size_t end = i + 1;
        while (text[end] && !starts_character(text[end]))
            end++;
        if (columns + 1 > width) return space ? space : (i ? i : end);
        columns++;
        if (text[i] == ' ')
            space = i;
        else if (i > 0 && text[i - 1] != ' ' && joint(text[i], text[end]))
            space = end;
        i = end;
    }
    return i;
}

static const char *skip_spaces(const char *text)
{
    while (*text == ' ' || *text == '\n')
        text++;
    return text;
}

/* Columns that n bytes take, without their colours. */
static int width_of(const char *text, size_t n)
{
    int width = 0;
    for (size_t i = 0; i < n; i++) {
        if (text[i] == '\033')
            while (i < n && text[i] != 'm')
                i++;
        else
            width += starts_character(text[i]);
    }
    return width;
}

/* The text with every line broken that is wider than the terminal; what goes on below is indented by four
 * more. */
static char *fitted(const char *text, int columns)
{
    char *bytes = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&bytes, &size);
    if (!out) return NULL;
    while (*text) {
        const size_t length = strcspn(text, "\n");
        size_t done = strspn(text, " ");
        const int indent = done < (size_t)columns / 2 ? (int)done : columns / 2;
        if (width_of(text, length) <= columns) {
            fprintf(out, "%.*s\n", (int)length, text);
            done = length;
        }
        for (int at = indent; done < length; at = indent + 4) {
            const size_t n = fitting(text + done, columns - at);
            fprintf(out, "%*s%.*s\n", at, "", (int)n, text + done);
            for (done += n; done < length && text[done] == ' '; done++) {
            }
        }
        text += length + (text[length] == '\n');
    }
    if (fclose(out) == 0) return bytes;
    free(bytes);
    return NULL;
}

bool bk_text_open_raw(bk_text *text)
{
    *text = (bk_text){.columns = INT_MAX};
    text->stream = open_memstream(&text->bytes, &text->size);
    return text->stream != NULL;
}

char *bk_text_take(bk_text *text)
{
    if (fclose(text->stream) != 0 || !text->bytes) text->failed = true; /* none: memory ran out at its very end */
    if (text->columns == INT_MAX && !text->failed) return text->bytes;
    char *whole = text->failed ? NULL : fitted(text->bytes, text->columns);
    free(text->bytes);
    return whole;
}

void bk_text_wrap(bk_text *text, int first_indent, int indent, const char *paragraph)
{
    int at = first_indent;
    if (!paragraph) {
        text->failed = true;
        return;
    }
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

#define FLEXIBLE_LEAST 12 /* a column that is broken over lines gets no narrower, */
#define FLEXIBLE_USUAL 24 /* and is taken for no wider when a table is cut into blocks */

void bk_grid_open(bk_grid *grid, bk_text *text, const char *align)
{
    *grid = (bk_grid){.text = text, .align = align, .n_columns = (int)strlen(align), .n_names = 1};
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
        row[c] = cells[c] ? strdup(cells[c]) : NULL;
        if (!row[c]) grid->failed = true;
    }
}

void bk_grid_note(bk_grid *grid, int indent, const char *note)
{
    if (grid->failed || grid->n == 0) return;
    char **slot = &grid->rows[grid->n - 1][grid->n_columns];
    grid->note_indent = indent;
    free(*slot);
    *slot = note ? strdup(note) : NULL;
    if (!*slot) grid->failed = true;
}

/* Columns of the table that stand beside one another: those that name the row, then [from, to). */
typedef struct block {
    int column[BK_TABLE_COLUMNS_MAX], width[BK_TABLE_COLUMNS_MAX];
    int n;
} block;

static int widest_cell(const bk_grid *grid, int column)
{
    int width = 0;
    for (size_t r = 0; r < grid->n; r++) {
        const int w = bk_text_width(grid->rows[r][column]);
        if (w > width) width = w;
    }
    return width;
}

static void add_column(const bk_grid *grid, block *b, int column)
{
    b->column[b->n] = column;
    b->width[b->n++] = widest_cell(grid, column);
}

/* Width with the flexible columns at no more than `flexible`. */
static int width_of_block(const bk_grid *grid, const block *b, int flexible)
{
    int total = 2;
    for (int i = 0; i < b->n; i++)
        total += (i ? 2 : 0) +
                 (grid->align[b->column[i]] == '~' && b->width[i] > flexible ? flexible : b->width[i]);
    return total;
}

/* The widest flexible columns give way until the block fits. */
static void shrink(const bk_grid *grid, block *b)
{
    for (int total = width_of_block(grid, b, INT_MAX); total > grid->text->columns; total--) {
        int widest = -1;
        for (int i = 0; i < b->n; i++)
            if (grid->align[b->column[i]] == '~' && (widest < 0 || b->width[i] > b->width[widest]))
                widest = i;
        if (widest < 0 || b->width[widest] <= FLEXIBLE_LEAST) break;
        b->width[widest]--;
    }
}

static void print_row(const bk_grid *grid, const block *b, char **row, bool heading)
{
    const char *rest[BK_TABLE_COLUMNS_MAX];
    for (int i = 0; i < b->n; i++)
        rest[i] = row[b->column[i]];
    for (bool more = true; more;) {
        more = false;
        bk_text_put(grid->text, " ");
        int pad = 1;
        for (int i = 0; i < b->n; i++) {
            const char align = grid->align[b->column[i]];
            const size_t n = align == '~' ? fitting(rest[i], b->width[i]) : strlen(rest[i]);
            char *cell = strndup(rest[i], n);
            if (!cell) {
                grid->text->failed = true;
                return;
            }
            const int fill = b->width[i] - bk_text_width(cell);
            if (align == '>') pad += fill;
            if (*cell)
                bk_text_put(grid->text, heading && grid->text->colour ? "%*s\033[2m%s\033[0m" : "%*s%s", pad,
                            "", cell),
                    pad = 0;
            if (align != '>') pad += fill;
            pad += 2;
            rest[i] = skip_spaces(rest[i] + n);
            if (*rest[i]) more = true;
            free(cell);
        }
        bk_text_put(grid->text, "\n");
    }
}

static void print_block(const bk_grid *grid, block *b, bool notes)
{
    shrink(grid, b);
    for (size_t r = 0; r < grid->n; r++) {
        const char *note = grid->rows[r][grid->n_columns];
        print_row(grid, b, grid->rows[r], r == 0);
        if (notes && note) bk_text_wrap(grid->text, grid->note_indent, grid->note_indent, note);
    }
}

/* All columns beside one another where they fit, if need be with the flexible ones narrow; else the table
 * goes on below itself, with the columns that name its rows again, and its notes at the end. */
static void print_grid(const bk_grid *grid)
{
    block whole = {0}, names = {0};
    for (int c = 0; c < grid->n_columns; c++)
        add_column(grid, &whole, c);
    for (int c = 0; c < grid->n_columns && c < grid->n_names; c++)
        add_column(grid, &names, c);
    if (width_of_block(grid, &whole, FLEXIBLE_LEAST) <= grid->text->columns) {
        print_block(grid, &whole, true);
        return;
    }
    for (int c = grid->n_names, first = c; c < grid->n_columns; first = c) {
        block b = names;
        for (; c < grid->n_columns; c++) {
            add_column(grid, &b, c);
            if (width_of_block(grid, &b, FLEXIBLE_USUAL) > grid->text->columns && c > first) {
                b.n--;
                break;
            }
        }
        if (first > grid->n_names) bk_text_put(grid->text, "\n");
        print_block(grid, &b, c == grid->n_columns);
    }
}

void bk_grid_close(bk_grid *grid)
{
    if (grid->failed)
        grid->text->failed = true;
    else
        print_grid(grid);
    for (size_t r = 0; r < grid->n; r++) {
        for (int c = 0; c <= grid->n_columns; c++)
            free(grid->rows[r][c]);
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

const char *bk_cell_used(bk_cells *cells, double utilisation)
{
    return bk_cell_percent(cells, bk_shown_utilisation(utilisation));
}
