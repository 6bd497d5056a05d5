/* rows: tables down the page; see flow.h.  All rows are kept until the table is closed, so that columns know
 * their widths; a row stays on one page unless it is taller than a page.
 */
#include "flow.h"

#include <string.h>

enum { COLUMNS_MAX = 14 };
#define GAP          7.0   /* between columns, at the least */
#define GAP_WIDE     20.0  /* and at the most */
#define BAR          48.0  /* width of a bar at its limit */
#define BAR_OVER     10.0  /* what it may run on beyond */
#define NEVER_BROKEN 120.0 /* a figure or a bar this wide stays on one line */
#define BLANK        62.0  /* a place to write */
#define HEADS        50.0  /* heading and column heads, at the most */
#define LEADING      1.28  /* line to line, times the size */

typedef struct row {
    const char *cells[COLUMNS_MAX];
    const char *note;
    double share;
    bool passes, strong;
    bk_set sets[COLUMNS_MAX], note_set;
    size_t lines;
    double height;
} row;
struct bk_rows {
    bk_flow *flow;
    const char *title;
    char align[COLUMNS_MAX + 1];
    int n_columns;
    row head, *rows;
    size_t n, capacity;
    double x[COLUMNS_MAX], width[COLUMNS_MAX];
};

bk_rows *bk_rows_open(bk_flow *flow, const char *title, const char *align, const char *const *heads)
{
    bk_rows *rows = BK_NEW(flow->paper->arena, bk_rows, 1);
    if (!rows) {
        flow->paper->failed = true;
        return NULL;
    }
    rows->flow = flow;
    rows->title = title;
    rows->n_columns = (int)strlen(align);
    memcpy(rows->align, align, (size_t)rows->n_columns);
    for (int c = 0; c < rows->n_columns; c++)
        rows->head.cells[c] = heads[c];
    return rows;
}

void bk_rows_add(bk_rows *rows, const char *const *cells)
{
    if (!rows) return;
    row *r =
        bk_arena_push(rows->flow->paper->arena, &rows->rows, &rows->n, &rows->capacity, sizeof *rows->rows);
    if (!r) {
        rows->flow->paper->failed = true;
        return;
    }
    for (int c = 0; c < rows->n_columns; c++)
        r->cells[c] = cells[c] ? cells[c] : "";
    r->share = NAN;
}

static row *last(bk_rows *rows)
{
    return rows && rows->n > 0 ? &rows->rows[rows->n - 1] : NULL;
}

void bk_rows_bar(bk_rows *rows, double share, bool passes)
{
    row *r = last(rows);
    if (!r) return;
    r->share = share;
    r->passes = passes;
}

void bk_rows_note(bk_rows *rows, const char *note)
{
    row *r = last(rows);
    if (r) r->note = note;
}

void bk_rows_strong(bk_rows *rows)
{
    row *r = last(rows);
    if (r) r->strong = true;
}

static bk_face face_of(const bk_rows *rows, const row *r)
{
    if (r == &rows->head) return (bk_face){.size = 7, .italic = true, .grey = 0.25};
    return r->strong ? bk_face_bold : bk_face_text;
}

static double natural_width(const bk_rows *rows, const row *r, int c)
{
    const bk_set set = bk_set_text(rows->flow->paper, r->cells[c], face_of(rows, r), 0, 0);
    return set.width + 0.5; /* what rounding may add when it is set again at this width */
}

/* Every column gets what it needs; where that is too much, the widest columns of words are held to a common
 * width at which the sum fits, while figures stay whole. */
static void share_width(bk_rows *rows)
{
    const int n = rows->n_columns;
    const double room = bk_box_width(rows->flow->body);
    double need[COLUMNS_MAX], sum = 0, rigid = 0, cap;
    bool whole[COLUMNS_MAX];
    for (int c = 0; c < n; c++) {
        need[c] = natural_width(rows, &rows->head, c);
        for (size_t i = 0; i < rows->n; i++)
            need[c] = fmax(need[c], natural_width(rows, &rows->rows[i], c));
        if (rows->align[c] == '#') need[c] += BAR + BAR_OVER + 4;
        if (rows->align[c] == '_') need[c] = fmax(need[c], BLANK);
        whole[c] = rows->align[c] != '<' && need[c] < NEVER_BROKEN;
        sum += need[c];
        if (whole[c]) rigid += need[c];
    }
    const double words = fmax(room - GAP * (n - 1) - rigid, 1);
    const bool tight = sum > room - GAP * (n - 1);
    double step = words / 2;
    for (cap = step; tight && step > 1e-6;) {
        double total = 0;
        for (int c = 0; c < n; c++)
            total += whole[c] ? 0 : fmin(need[c], cap);
        step /= 2;
        cap += total > words ? -step : step;
    }
    const double gap = tight || n < 2 ? GAP : fmin(GAP_WIDE, (room - sum) / (n - 1));
    double x = rows->flow->body.x0;
    for (int c = 0; c < n; c++) {
        rows->x[c] = x;
        rows->width[c] = whole[c] || !tight ? need[c] : fmin(need[c], cap);
        x += rows->width[c] + gap;
    }
}

static void set_row(bk_rows *rows, row *r)
{
    const bk_flow *flow = rows->flow;
    r->lines = 1;
    for (int c = 0; c < rows->n_columns; c++) {
        const double beside = rows->align[c] == '#' && r != &rows->head ? BAR + BAR_OVER + 4 : 0;
        r->sets[c] = bk_set_text(flow->paper, r->cells[c], face_of(rows, r), rows->width[c] - beside, 0);
        if (r->sets[c].n > r->lines) r->lines = r->sets[c].n;
    }
    if (r->note) r->note_set = bk_set_text(flow->paper, r->note, bk_face_small, bk_box_width(flow->body) - 20, 0);
    r->height = face_of(rows, r).size * LEADING * (double)r->lines + r->note_set.leading * (double)r->note_set.n + 4;
}

/* A bar: its length is the share, its pattern and the word beside it say how it ends; a tick stands at the
 * limit. */
static void draw_bar(bk_rows *rows, const row *r, int c, double top)
{
    bk_sheaf *paper = rows->flow->paper;
    const size_t page = rows->flow->page;
    const double x0 = rows->x[c] + rows->width[c] - BAR - BAR_OVER, y0 = top + 2.2, y1 = top + 7.6;
    if (isnan(r->share)) return;
    const double length = fmin(r->share, 1 + BAR_OVER / BAR) * BAR;
    bk_ink_box(paper, page, (bk_box){x0, y0, x0 + BAR, y1}, bk_pen_hair, BK_NO_FILL);
    if (length > 0 && r->passes)
        bk_ink_box(paper, page, (bk_box){x0, y0, x0 + length, y1}, (bk_pen){0}, 0.55);
    if (length > 0 && !r->passes) {
        bk_ink_box(paper, page, (bk_box){x0, y0, x0 + length, y1}, bk_pen_thin, 1);
        bk_ink_hatch(paper, page, (bk_box){x0, y0, x0 + length, y1}, 1.7, (bk_pen){.width = 0.7});
    }
    bk_ink_line(paper, page, (bk_spot){x0 + BAR, y0 - 1.6}, (bk_spot){x0 + BAR, y1 + 1.6}, bk_pen_thin);
}

/* Lines first..end of a row, at the flow's place. */
static void draw_lines(bk_rows *rows, const row *r, size_t first, size_t end)
{
    bk_flow *flow = rows->flow;
    const double leading = face_of(rows, r).size * LEADING;
    for (int c = 0; c < rows->n_columns; c++) {
        const bk_set *set = &r->sets[c];
        if (first == 0 && r != &rows->head) {
            if (rows->align[c] == '#') draw_bar(rows, r, c, flow->y);
            if (rows->align[c] == '_' && !*r->cells[c])
                bk_ink_line(flow->paper, flow->page, (bk_spot){rows->x[c], flow->y + 9},
                            (bk_spot){rows->x[c] + rows->width[c], flow->y + 9}, bk_pen_hair);
        }
        for (size_t i = first; i < end && i < set->n; i++) {
            const double right = rows->x[c] + rows->width[c] - set->runs[i].width;
            bk_ink_run(flow->paper, flow->page, rows->align[c] == '>' ? right : rows->x[c],
                       bk_baseline(set, flow->y + leading * (double)(i - first)), &set->runs[i]);
        }
    }
    flow->y += leading * (double)(end - first);
}

static void draw_head(bk_rows *rows, bool again)
{
    bk_flow *flow = rows->flow;
    if (rows->title)
        bk_flow_heading(flow, again ? bk_tell(flow, "%s (continued)", rows->title) : rows->title);
    draw_lines(rows, &rows->head, 0, rows->head.lines);
    flow->y += 1;
    bk_ink_line(flow->paper, flow->page, (bk_spot){flow->body.x0, flow->y}, (bk_spot){flow->body.x1, flow->y},
                bk_pen_hair);
    flow->y += 1.5;
}

/* with: height of what must follow on the same page */
static void draw_row(bk_rows *rows, const row *r, double with)
{
    bk_flow *flow = rows->flow;
    const double leading = face_of(rows, r).size * LEADING;
    const double height = r->height + with, page_height = bk_box_height(flow->body) - HEADS;
    if (flow->y + height > flow->body.y1 && height < page_height) {
        bk_flow_page(flow);
        draw_head(rows, true);
    }
    flow->y += 1.2;
    for (size_t first = 0; first < r->lines;) { /* one round unless the row is taller than a page */
        const double left = (flow->body.y1 - flow->y) / leading + 1e-6;
        const size_t n = left >= (double)(r->lines - first) ? r->lines - first : left > 0 ? (size_t)left : 0;
        draw_lines(rows, r, first, first + n);
        first += n;
        if (first < r->lines) {
            bk_flow_page(flow);
            draw_head(rows, true);
        }
    }
    for (size_t i = 0; i < r->note_set.n; i++) {
        bk_flow_need(flow, r->note_set.leading);
        bk_ink_run(flow->paper, flow->page, flow->body.x0 + 20, bk_baseline(&r->note_set, flow->y), &r->note_set.runs[i]);
        flow->y += r->note_set.leading;
    }
    flow->y += 1.2;
    bk_ink_line(flow->paper, flow->page, (bk_spot){flow->body.x0, flow->y}, (bk_spot){flow->body.x1, flow->y},
                (bk_pen){.width = 0.25, .grey = 0.8});
}

/* A column with nothing in it tells nothing, unless it is there to be filled in. */
static void drop_empty_columns(bk_rows *rows)
{
    int kept = 0;
    for (int c = 0; c < rows->n_columns; c++) {
        bool empty = rows->align[c] != '_';
        for (size_t i = 0; i < rows->n && empty; i++)
            empty = !*rows->rows[i].cells[c];
        if (empty) continue;
        rows->align[kept] = rows->align[c];
        rows->head.cells[kept] = rows->head.cells[c];
        for (size_t i = 0; i < rows->n; i++)
            rows->rows[i].cells[kept] = rows->rows[i].cells[c];
        kept++;
    }
    rows->n_columns = kept;
}

void bk_rows_close(bk_rows *rows)
{
    if (!rows || rows->n == 0) return;
    drop_empty_columns(rows);
    share_width(rows);
    set_row(rows, &rows->head);
    for (size_t i = 0; i < rows->n; i++) set_row(rows, &rows->rows[i]);
    const double two = rows->rows[0].height + (rows->n > 1 ? rows->rows[1].height : 0);
    bk_flow_need(rows->flow, HEADS + fmin(two, bk_box_height(rows->flow->body) / 2));
    draw_head(rows, false);
    for (size_t i = 0; i < rows->n; i++) /* nor is the last row alone at the top of a page */
        draw_row(rows, &rows->rows[i], i + 2 == rows->n ? rows->rows[i + 1].height : 0);
    rows->flow->y += 3;
}
