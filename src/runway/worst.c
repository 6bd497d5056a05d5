/* worst.c: the extremes of a beam's figures over every place of every trolley and every section, exactly.
 *
 * One section.  A figure at a section is the standing loads' share plus one share a trolley, and trolleys
 * are free of each other, so each takes its own worst place: the greatest of
 *     force * mean over its wheels of influence(place + offset)
 * The influence line is a cubic between neighbouring nodes, cut once more at the section.  Between two
 * places where a wheel crosses such a cut (a cell) the mean is one cubic: its extremes are roots of a
 * quadratic.  A cell is passed over when the Bernstein ordinates of its cubics (which bound them) cannot
 * beat what is already found; those ordinates die away from the section, so few cells are looked at.
 *
 * All sections.  f(x) = worst of the figure at section x is maximised segment by segment.  Between the
 * breaks of a segment (its ends, standing forces, ends of uniform parts, and where a wheel stands when its
 * trolley is at a limit of travel) f'' >= -K with a known K, kinks included, because through every point
 * of f passes a smooth function that stays below it: everything standing still, or, when a wheel stands on
 * the section, its trolley moving along with the section.  (The greatest of several functions only adds
 * kinks that open upward.)  So between two known values f lies below the parabola of curvature -K through
 * them; the gap is cut at the top of that parabola until the parabola is no higher than the best value
 * found.  What is left out is at most the tolerance of the figure: a proof, not a sweep.  K:
 *     moment, greatest    w + trolley forces * greatest bending of M(x, x + u), u fixed; from the cubics
 *     moment, least       -w: none under downward loads, the least is then at a break
 *     shear               as for the moment where w < 0, else none: V falls along x, breaks suffice
 *     deflection          greatest moment of the segment / EI, since EI v'' = -M; found just before
 * Shear beside a wheel or a force is taken on the side that makes it greater.
 */
#include "beam.h"

#include <gsl/gsl_poly.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NARROWEST 1e-8 /* share of a segment: K w2 / 8 is then below rounding */
#define OPEN_GAPS 512  /* each cut leaves at least a twentieth on either side: depth < 360 */

/* A trolley's travel, cut wherever a wheel crosses a node. */
typedef struct run {
    double loaded, empty; /* of one wheel line */
    size_t n_lines;
    double offset[BK_WHEEL_LINES_MAX]; /* rising */
    size_t n_cells;
    double *cut;                 /* (n_cells + 1) place of the trolley's middle */
    size_t *segment;             /* (n_cells * n_lines) where each wheel is */
    size_t *home_from, *home_to; /* (n_segments) cells with a wheel in the segment lie in [from, to) */
} run;

/* A shape of the beam, and what bounds its ordinates. */
typedef struct curve {
    double *y;              /* (4 n_segments) v, slope at the left end, at the right end */
    double *before, *after; /* (n_segments) greatest Bernstein ordinate, either sign, of it and all before
                               or after it */
} curve;

typedef struct search {
    bk_beam_model *m;
    bk_beam_solution standing;
    run *runs;    /* (n_trains) */
    double reach; /* greatest length of a trolley */
    /* The influence line in hand is takes * shapes, with the sign of the extreme that is sought: for a
     * section four shapes, of the end values of its segment, plus its own; for a reaction one. */
    curve shapes[4];
    double takes[4];
    size_t n_takes;
    size_t segment; /* the section's, or one beside the support */
    double x, own[4], left[4];
    bool has_section;
    struct stretch {
        size_t of; /* the line it belongs to */
        double c[4];
    } * line;                   /* (n_segments) its cubics, as far as they were asked for */
    size_t in_hand;             /* counts the lines */
    double (*end_moment)[2][4]; /* (n_segments) cubics of the moments at both ends of the segment in hand */
    size_t near_from, near_to;  /* segments that matter when a wheel is in it */
    /* where the trolleys stand at the value found last */
    double *at;
    bool *loaded;
} search;

static inline double larger(double a, double b)
{
    return a > b ? a : b;
}

/* ---- trolleys ---------------------------------------------------------------------------------- */

static int rising(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static bk_status cut_run(const bk_beam_model *m, const bk_beam_train *train, run *r)
{
    r->n_lines = train->n_lines;
    r->loaded = train->loaded_N / (double)r->n_lines;
    r->empty = train->empty_N / (double)r->n_lines;
    memcpy(r->offset, train->offset_m, r->n_lines * sizeof *r->offset);
    qsort(r->offset, r->n_lines, sizeof *r->offset, rising);
    r->cut = BK_NEW(m->arena, double, r->n_lines * m->n_nodes + 2);
    r->home_from = BK_NEW(m->arena, size_t, m->n_segments);
    r->home_to = BK_NEW(m->arena, size_t, m->n_segments);
    if (!r->cut || !r->home_from || !r->home_to) return BK_E_NOMEM;
    size_t n = 0;
    r->cut[n++] = train->from_m;
    for (size_t i = 1; i + 1 < m->n_nodes; i++)
        for (size_t k = 0; k < r->n_lines; k++) {
            double at = m->node_m[i] - r->offset[k];
            if (at > train->from_m && at < train->to_m) r->cut[n++] = at;
        }
    r->cut[n++] = train->to_m;
    qsort(r->cut, n, sizeof *r->cut, rising);
    r->n_cells = n - 1;
    r->segment = BK_NEW(m->arena, size_t, r->n_cells * r->n_lines);
    if (!r->segment) return BK_E_NOMEM;
    for (size_t i = 0; i < r->n_cells; i++)
        for (size_t k = 0; k < r->n_lines; k++)
            r->segment[i * r->n_lines + k] =
                bk_beam_segment_at(m, (r->cut[i] + r->cut[i + 1]) / 2 + r->offset[k]);
    for (size_t s = 0; s < m->n_segments; s++) {
        /* the last wheel reaches s first, the first wheel leaves it last */
        size_t from = 0, to = 0;
        while (from < r->n_cells && r->segment[from * r->n_lines + r->n_lines - 1] < s)
            from++;
        for (to = from; to < r->n_cells && r->segment[to * r->n_lines] <= s; to++)
            ;
        r->home_from[s] = from;
        r->home_to[s] = to;
    }
    return BK_OK;
}

/* ---- one section ------------------------------------------------------------------------------- */

/* Cubic through the values and slopes y at the ends of a segment, local powers. */
static void cubic_through(const double y[4], double L, double c[4])
{
    double over_L = 1 / L, chord = (y[2] - y[0]) * over_L;
    c[0] = y[0];
    c[1] = y[1];
    c[2] = (3 * chord - 2 * y[1] - y[3]) * over_L;
    c[3] = (y[1] + y[3] - 2 * chord) * over_L * over_L;
}

/* sum(t) += sign * c(t + d) */
static inline void add_shifted(double sum[4], const double c[4], double d, double sign)
{
    sum[0] += sign * (c[0] + d * (c[1] + d * (c[2] + d * c[3])));
    sum[1] += sign * (c[1] + d * (2 * c[2] + 3 * d * c[3]));
    sum[2] += sign * (c[2] + 3 * d * c[3]);
    sum[3] += sign * c[3];
}

/* The line in hand on a segment, for a wheel that is not left of the section; worked out when first asked. */
static const double *line_cubic(search *s, size_t segment)
{
    struct stretch *line = &s->line[segment];
    if (line->of == s->in_hand) return line->c;
    double y[4] = {0, 0, 0, 0};
    for (size_t d = 0; d < s->n_takes; d++)
        for (size_t i = 0; i < 4; i++)
            y[i] += s->takes[d] * s->shapes[d].y[4 * segment + i];
    cubic_through(y, s->m->length_m[segment], line->c);
    for (size_t i = 0; s->has_section && segment == s->segment && i < 4; i++)
        line->c[i] += s->own[i];
    line->of = s->in_hand;
    return line->c;
}

/* Greatest of p(t), 0 <= t <= to - from, if above *best; *at is from + t. */
static void cubic_peak(const double p[4], double from, double to, double *best, double *at)
{
    double width = to - from, end = p[0] + width * (p[1] + width * (p[2] + width * p[3]));
    if (p[0] > *best) {
        *best = p[0];
        *at = from;
    }
    if (end > *best) {
        *best = end;
        *at = to;
    }
    double third = width * (1.0 / 3), b1 = p[0] + third * p[1], b2 = b1 + third * (p[1] + width * p[2]);
    if (b1 <= *best && b2 <= *best) return; /* Bernstein ordinates: nothing between the ends is higher */
    double root[2];
    int n = gsl_poly_solve_quadratic(3 * p[3], 2 * p[2], p[1], &root[0], &root[1]);
    for (int i = 0; i < n; i++) {
        double t = root[i];
        if (!(t > 0 && t < width)) continue;
        double value = p[0] + t * (p[1] + t * (p[2] + t * p[3]));
        if (value > *best) {
            *best = value;
            *at = fmin(from + t, to);
        }
    }
}

/* Sum over the wheels of the influence line as they move through a cell, powers of place - cut[cell]. */
static void cell_cubic(search *s, const run *r, size_t cell, double p[4])
{
    for (size_t i = 0; i < 4; i++)
        p[i] = 0;
    for (size_t k = 0; k < r->n_lines; k++) {
        size_t segment = r->segment[cell * r->n_lines + k];
        add_shifted(p, line_cubic(s, segment), r->cut[cell] + r->offset[k] - s->m->node_m[segment], 1);
    }
}

static void try_cell(search *s, const run *r, size_t cell, double *best, double *at)
{
    double p[4];
    cell_cubic(s, r, cell, p);
    cubic_peak(p, r->cut[cell], r->cut[cell + 1], best, at);
}

/* A cell with wheels in the section's own segment: cut where one of them stands on the section, which
 * counts on both sides of it.  Also at the ends of the cell, where one of the parts has no width: the
 * section beside the wheel is reached in the limit from that side.  Only a trolley that never moves and
 * stands on a node puts no shear beside it at all. */
static void try_home(search *s, const run *r, size_t cell, double *best, double *at)
{
    double from = r->cut[cell], to = r->cut[cell + 1], start = from, p[4];
    double node = s->m->node_m[s->segment], slack = 1e-12 * (s->m->beam->to_m - s->m->beam->from_m);
    bool left[BK_WHEEL_LINES_MAX], stands = r->cut[0] == r->cut[r->n_cells];
    cell_cubic(s, r, cell, p);
    for (size_t k = 0; k < r->n_lines; k++) {
        left[k] =
            r->segment[cell * r->n_lines + k] == s->segment && node + s->x - r->offset[k] >= from - slack;
        if (left[k]) add_shifted(p, s->left, from + r->offset[k] - node, 1);
    }
    for (size_t k = r->n_lines; k-- > 0;) {
        double meets = node + s->x - r->offset[k], part[4] = {0, 0, 0, 0};
        if (!left[k] || meets > to + slack) continue;
        meets = fmin(larger(meets, start), to);
        if (!stands || s->x < s->m->length_m[s->segment]) {
            add_shifted(part, p, start - from, 1);
            cubic_peak(part, start, meets, best, at);
        }
        if (stands && s->x <= 0) return;
        add_shifted(p, s->left, from + r->offset[k] - node, -1);
        start = meets;
    }
    double part[4] = {0, 0, 0, 0};
    add_shifted(part, p, start - from, 1);
    cubic_peak(part, start, to, best, at);
}

/* No cell from this one on outward has a greater sum than this. */
static double outward_bound(const search *s, const run *r, size_t cell, bool before)
{
    double sum = 0;
    for (size_t k = 0; k < r->n_lines; k++) {
        size_t segment = r->segment[cell * r->n_lines + k];
        if (s->has_section && (before ? segment >= s->segment : segment <= s->segment)) return INFINITY;
        for (size_t d = 0; d < s->n_takes; d++)
            sum += fabs(s->takes[d]) * (before ? s->shapes[d].before[segment] : s->shapes[d].after[segment]);
    }
    return sum;
}

/* Greatest sum over the wheels of the influence line in hand, and where. */
static double run_peak(search *s, const run *r, double *at)
{
    double best = -INFINITY;
    size_t home_from = r->home_from[s->segment], home_to = r->home_to[s->segment];
    for (size_t i = home_from; i < home_to; i++) {
        if (s->has_section)
            try_home(s, r, i, &best, at);
        else
            try_cell(s, r, i, &best, at);
    }
    for (size_t i = home_from; i-- > 0 && outward_bound(s, r, i, true) > best;)
        try_cell(s, r, i, &best, at);
    for (size_t i = home_to; i < r->n_cells && outward_bound(s, r, i, false) > best; i++)
        try_cell(s, r, i, &best, at);
    return best;
}

static void bound_curve(const bk_beam_model *m, curve *shape)
{
    size_t n = m->n_segments;
    for (size_t i = 0; i < n; i++) {
        const double *y = shape->y + 4 * i;
        double third = m->length_m[i] / 3;
        double ends = larger(fabs(y[0]), fabs(y[2]));
        shape->after[i] = larger(ends, larger(fabs(y[0] + third * y[1]), fabs(y[2] - third * y[3])));
        shape->before[i] = i > 0 ? larger(shape->before[i - 1], shape->after[i]) : shape->after[i];
    }
    for (size_t i = n - 1; i-- > 0;)
        shape->after[i] = larger(shape->after[i], shape->after[i + 1]);
}

/* Each trolley at its own worst, loaded or empty. */
static double trains_worst(search *s)
{
    double sum = 0;
    for (size_t i = 0; i < s->m->beam->n_trains; i++) {
        const run *r = &s->runs[i];
        double peak = run_peak(s, r, &s->at[i]);
        s->loaded[i] = peak > 0 ? r->loaded >= r->empty : r->loaded < r->empty;
        sum += peak * (s->loaded[i] ? r->loaded : r->empty);
    }
    return sum;
}

static void take_section(search *s, bk_beam_figure figure, double sign, double x)
{
    s->n_takes = bk_beam_section_takes(s->m, figure, s->segment, x, s->takes);
    bk_beam_section_own(s->m, figure, s->segment, x, s->own, s->left);
    for (size_t i = 0; i < 4; i++) {
        s->takes[i] *= sign;
        s->own[i] *= sign;
        s->left[i] *= sign;
    }
    s->x = x;
    s->has_section = true;
    s->in_hand++;
}

/* ---- all sections of a segment ----------------------------------------------------------------- */

/* One extreme that is sought. */
typedef struct quarry {
    bk_beam_figure figure;
    double sign;      /* +1 greatest, -1 least */
    double tolerance; /* of the value found */
    double *best; /* sign * value of the best found: what has to be beaten.  Two that share it seek the one
                     further from 0 */
    bk_beam_extreme *out;
} quarry;

static void keep(const search *s, double value, double at_m, bk_beam_extreme *out)
{
    out->value = value;
    out->at_m = at_m;
    for (size_t i = 0; i < s->m->beam->n_trains; i++) {
        out->train_m[i] = s->at[i];
        out->train_loaded[i] = s->loaded[i];
    }
}

static void copy_extreme(const bk_beam_extreme *from, size_t n_trains, bk_beam_extreme *to)
{
    to->value = from->value;
    to->at_m = from->at_m;
    if (n_trains == 0) return;
    memcpy(to->train_m, from->train_m, n_trains * sizeof *to->train_m);
    memcpy(to->train_loaded, from->train_loaded, n_trains * sizeof *to->train_loaded);
}

static double look(search *s, quarry *q, double x, double split)
{
    take_section(s, q->figure, q->sign, x);
    double f =
        q->sign * bk_beam_solution_at(s->m, &s->standing, q->figure, s->segment, x, split) + trains_worst(s);
    if (f > *q->best) {
        *q->best = f;
        keep(s, q->sign * f, s->m->node_m[s->segment] + x, q->out);
    }
    return f;
}

/* How strongly a section's figure for one newton can bend along x, from..to, when the newton keeps its
 * distance u from the section, |u| <= reach: the moment downward, the shear either way.  With A and B the
 * moments at the segment's ends, cubics in xi on each segment, the newton's own kink apart:
 *     M = (1 - x/L) A(xi) + (x/L) B(xi), xi = x + u:  M'' = 2 (B' - A') / L + (1 - x/L) A'' + (x/L) B''
 *     V = (B - A) / L:                                V'' = (B'' - A'') / L
 * A quadratic lies in the hull of its Bernstein ordinates, the rest is linear in x and in xi. */
static void take_end_moments(search *s)
{
    double start = s->m->node_m[s->segment], L = s->m->length_m[s->segment];
    s->near_from = bk_beam_segment_at(s->m, start - s->reach);
    s->near_to = bk_beam_segment_at(s->m, start + L + s->reach);
    for (size_t end = 0; end < 2; end++) {
        take_section(s, BK_FIGURE_MOMENT, 1, end ? L : 0);
        for (size_t i = s->near_from; i <= s->near_to; i++)
            memcpy(s->end_moment[i][end], line_cubic(s, i), sizeof s->end_moment[i][end]);
    }
}

static double bending(const search *s, bk_beam_figure figure, double from, double to)
{
    double L = s->m->length_m[s->segment], start = s->m->node_m[s->segment], most = 0;
    for (size_t i = s->near_from; i <= s->near_to; i++) {
        const double *A = s->end_moment[i][0], *B = s->end_moment[i][1];
        double a = larger(start + from - s->reach - s->m->node_m[i], 0);
        double b = fmin(start + to + s->reach - s->m->node_m[i], s->m->length_m[i]);
        if (!(a <= b)) continue;
        double d1 = B[1] - A[1], d2 = B[2] - A[2], d3 = B[3] - A[3];
        if (figure == BK_FIGURE_SHEAR) {
            most = larger(most, larger(fabs(2 * d2 + 6 * a * d3), fabs(2 * d2 + 6 * b * d3)) / L);
            continue;
        }
        double middle = d1 + (a + b) * d2 + 3 * a * b * d3;
        double slope = fmin(middle, fmin(d1 + a * (2 * d2 + 3 * a * d3), d1 + b * (2 * d2 + 3 * b * d3)));
        double hollow = INFINITY;
        for (size_t e = 0; e < 4; e++) {
            double t = (e < 2 ? from : to) / L, xi = e % 2 ? b : a;
            hollow = fmin(hollow, (1 - t) * (2 * A[2] + 6 * xi * A[3]) + t * (2 * B[2] + 6 * xi * B[3]));
        }
        most = larger(most, -2 * slope / L - hollow);
    }
    return most;
}

typedef struct gap {
    double from, f_from, to, f_to;
} gap;

/* Top of the parabola of curvature -K through both ends; *x where. */
static double gap_bound(const gap *g, double K, double *x)
{
    double w = g->to - g->from, rise = g->f_to - g->f_from;
    *x = (g->from + g->to) / 2;
    if (!(K * w * w > 2 * fabs(rise))) return fmax(g->f_from, g->f_to); /* it has no top inside */
    double t = w / 2 + rise / (K * w);
    *x = g->from + t;
    return g->f_from + K * t * t / 2;
}

/* steady: the part of K that holds throughout; per newton of wheels N it is added what bending() allows. */
static void search_gap(search *s, quarry *q, gap whole, double steady, double wheels_N)
{
    gap open[OPEN_GAPS];
    size_t n = 0;
    double L = s->m->length_m[s->segment];
    open[n++] = whole;
    while (n > 0) {
        gap g = open[--n];
        double K = steady, x, w = g.to - g.from;
        if (wheels_N > 0) K += wheels_N * bending(s, q->figure, g.from, g.to);
        K = larger(K, 0);
        /* K L2 / 8 is what the figure is of the order of: it ends the search where f is flat and 0 */
        double enough = *q->best + q->tolerance * (fabs(*q->best) + K * L * L / 8);
        if (gap_bound(&g, K, &x) <= enough || w <= NARROWEST * L || n + 2 > OPEN_GAPS) continue;
        x = fmin(larger(x, g.from + w / 20), g.to - w / 20);
        double f = look(s, q, x, x);
        open[n++] = (gap){g.from, g.f_from, x, f};
        open[n++] = (gap){x, f, g.to, g.f_to};
    }
}

/* Rising breaks of the segment in hand, local. */
static size_t segment_breaks(const search *s, double *x)
{
    const bk_beam *beam = s->m->beam;
    double L = s->m->length_m[s->segment], start = s->m->node_m[s->segment];
    size_t n = 0, kept = 1;
    x[n++] = 0;
    for (size_t i = s->standing.first_piece[s->segment]; i < s->standing.first_piece[s->segment + 1]; i++) {
        x[n++] = s->standing.pieces[i].from;
        x[n++] = s->standing.pieces[i].to;
    }
    for (size_t i = 0; i < beam->n_trains; i++)
        for (size_t k = 0; k < beam->trains[i].n_lines; k++) {
            x[n++] = beam->trains[i].from_m + beam->trains[i].offset_m[k] - start;
            x[n++] = beam->trains[i].to_m + beam->trains[i].offset_m[k] - start;
        }
    x[n++] = L;
    qsort(x, n, sizeof *x, rising);
    size_t first = 0;
    while (x[first] < 0)
        first++;
    x[0] = x[first];
    for (size_t i = first + 1; i < n && x[i] <= L; i++)
        if (x[i] > x[kept - 1]) x[kept++] = x[i];
    return kept;
}

static double uniform_over(const search *s, double middle)
{
    double w = 0;
    for (size_t i = s->standing.first_piece[s->segment]; i < s->standing.first_piece[s->segment + 1]; i++) {
        const bk_beam_piece *p = &s->standing.pieces[i];
        if (p->from < middle && p->to > middle) w += p->per_metre;
    }
    return w;
}

/* Forces of the trolleys that can put a wheel between two places of the segment. */
static double wheels_between(const search *s, double from, double to)
{
    double start = s->m->node_m[s->segment], sum = 0;
    for (size_t i = 0; i < s->m->beam->n_trains; i++) {
        const bk_beam_train *t = &s->m->beam->trains[i];
        const run *r = &s->runs[i];
        bool any = false;
        for (size_t k = 0; k < r->n_lines; k++)
            any = any || (t->from_m + r->offset[k] < start + to && t->to_m + r->offset[k] > start + from);
        if (any) sum += fmax(t->loaded_N, t->empty_N);
    }
    return sum;
}

/* An upward force at a break: the shear can start anew there. */
static bool upward_at(const search *s, double x)
{
    for (size_t i = s->standing.first_piece[s->segment]; i < s->standing.first_piece[s->segment + 1]; i++)
        if (s->standing.pieces[i].force < 0 && s->standing.pieces[i].from == x) return true;
    return false;
}

/* The breaks of a segment and its stretches between them. */
typedef struct breaks {
    size_t n;
    double *x, *f[2]; /* (n) places, and values of one or two figures there */
} breaks;

static void look_breaks(search *s, quarry *q, const breaks *b, double *f)
{
    for (size_t i = 0; i < b->n; i++)
        f[i] = look(s, q, b->x[i], b->x[i]);
}

static void search_moment(search *s, quarry *q, const breaks *b)
{
    double *f = b->f[0];
    look_breaks(s, q, b, f);
    for (size_t i = 0; i + 1 < b->n; i++) {
        gap g = {b->x[i], f[i], b->x[i + 1], f[i + 1]};
        double w = uniform_over(s, (g.from + g.to) / 2);
        search_gap(s, q, g, q->sign * w, q->sign > 0 ? wheels_between(s, g.from, g.to) : 0);
    }
}

static void search_shear(search *s, quarry *q, const breaks *b)
{
    for (size_t i = 0; i + 1 < b->n; i++) {
        gap g = {b->x[i], -INFINITY, b->x[i + 1], -INFINITY};
        double middle = (g.from + g.to) / 2;
        bool falls = uniform_over(s, middle) >= 0;
        /* a shear that falls along x is greatest at the left end of all and least at the right end */
        if (!falls || (q->sign > 0 && (i == 0 || upward_at(s, g.from))))
            g.f_from = look(s, q, g.from, middle);
        if (!falls || (q->sign < 0 && (i + 2 == b->n || upward_at(s, g.to))))
            g.f_to = look(s, q, g.to, middle);
        if (!falls) search_gap(s, q, g, 0, wheels_between(s, g.from, g.to));
    }
}

static void search_deflection(search *s, double M_most, double M_least, const breaks *b, bk_beam_extreme *out)
{
    double best = -INFINITY, EI = s->m->beam->EI_Nm2, middle = s->m->length_m[s->segment] / 2;
    quarry sag = {BK_FIGURE_DEFLECTION, 1, 1e-8, &best, out},
           rise = {BK_FIGURE_DEFLECTION, -1, 1e-8, &best, out};
    look_breaks(s, &sag, b, b->f[0]);
    look_breaks(s, &rise, b, b->f[1]);
    /* a start for both: where one way is flat at 0 there is then nothing left to search */
    look(s, &sag, middle, middle);
    look(s, &rise, middle, middle);
    for (size_t i = 0; i + 1 < b->n; i++) {
        search_gap(s, &sag, (gap){b->x[i], b->f[0][i], b->x[i + 1], b->f[0][i + 1]}, larger(M_most, 0) / EI,
                   0);
        search_gap(s, &rise, (gap){b->x[i], b->f[1][i], b->x[i + 1], b->f[1][i + 1]},
                   larger(-M_least, 0) / EI, 0);
    }
}

static void search_figures(search *s, breaks *b, bk_beam_worst *out)
{
    size_t at = s->segment;
    double most = -INFINITY, least = -INFINITY, shear = -INFINITY;
    b->n = segment_breaks(s, b->x);
    take_end_moments(s);
    search_moment(s, &(quarry){BK_FIGURE_MOMENT, 1, 1e-10, &most, &out->span_moment_max[at]}, b);
    search_moment(s, &(quarry){BK_FIGURE_MOMENT, -1, 1e-10, &least, &out->span_moment_min[at]}, b);
    search_shear(s, &(quarry){BK_FIGURE_SHEAR, 1, 1e-10, &shear, &out->span_shear[at]}, b);
    search_shear(s, &(quarry){BK_FIGURE_SHEAR, -1, 1e-10, &shear, &out->span_shear[at]}, b);
    out->span_shear[at].value = fabs(out->span_shear[at].value);
    search_deflection(s, most, -least, b, &out->span_deflection[at]);
}

static void search_segments(search *s, breaks *b, bk_beam_worst *out)
{
    const bk_beam_model *m = s->m;
    for (size_t at = 0; at < m->n_segments; at++) {
        bool goes_on = at > 0 && bk_beam_is_span(m, at - 1) && bk_beam_is_span(m, at);
        for (size_t i = 0; i < 4; i++) {
            if (goes_on && i % 2 == 0) { /* what is at the left end was at the right end of the last span */
                curve last = s->shapes[i];
                s->shapes[i] = s->shapes[i + 1];
                s->shapes[i + 1] = last;
                continue;
            }
            bk_beam_segment_shape(s->m, at, i, s->shapes[i].y);
            bound_curve(m, &s->shapes[i]);
        }
        s->segment = at;
        search_figures(s, b, out);
        const bk_beam_extreme *of[] = {&out->span_moment_max[at], &out->span_moment_min[at],
                                       &out->span_shear[at], &out->span_deflection[at]};
        bk_beam_extreme *all[] = {&out->moment_max, &out->moment_min, &out->shear, &out->deflection};
        bool better[] = {of[0]->value > all[0]->value,
                         of[1]->value<all[1]->value, of[2]->value> all[2]->value,
                         fabs(of[3]->value) > fabs(all[3]->value)};
        for (size_t i = 0; i < 4; i++)
            if (at == 0 || better[i]) copy_extreme(of[i], m->beam->n_trains, all[i]);
    }
}

/* ---- reactions --------------------------------------------------------------------------------- */

static double shape_at(search *s, double x_m)
{
    size_t segment = bk_beam_segment_at(s->m, x_m);
    double x = x_m - s->m->node_m[segment];
    const double *c = line_cubic(s, segment);
    return c[0] + x * (c[1] + x * (c[2] + x * c[3]));
}

/* The greatest reaction while a wheel stands on the support: one trolley is put there, the others go where
 * they will. */
static void reaction_at_trolley(search *s, size_t support, double standing, bk_beam_extreme *out)
{
    const bk_beam *beam = s->m->beam;
    out->value = NAN;
    out->at_m = beam->supports[support].at_m;
    double free = standing + trains_worst(s);
    for (size_t i = 0; i < beam->n_trains; i++) {
        const run *r = &s->runs[i];
        double best_at = s->at[i], of_best = run_peak(s, r, &best_at);
        bool best_loaded = s->loaded[i];
        of_best *= best_loaded ? r->loaded : r->empty;
        for (size_t k = 0; k < r->n_lines; k++) {
            double at = out->at_m - r->offset[k], sum = 0;
            if (!(at >= beam->trains[i].from_m && at <= beam->trains[i].to_m)) continue;
            for (size_t j = 0; j < r->n_lines; j++)
                sum += shape_at(s, at + r->offset[j]);
            bool loaded = sum > 0 ? r->loaded >= r->empty : r->loaded < r->empty;
            double value = free - of_best + sum * (loaded ? r->loaded : r->empty);
            if (value <= out->value) continue;
            s->at[i] = at;
            s->loaded[i] = loaded;
            keep(s, value, out->at_m, out);
            s->at[i] = best_at;
            s->loaded[i] = best_loaded;
        }
    }
}

/* sum of all reactions' lines: one newton wherever it stands, if the beam is in balance. */
static bool lines_balance(const bk_beam_model *m, const double *sum)
{
    for (size_t i = 0; i < m->n_segments; i++) {
        const double *y = sum + 4 * i;
        double turned = larger(fabs(y[1]), fabs(y[3])) * m->length_m[i];
        if (!(larger(fabs(y[0] - 1), fabs(y[2] - 1)) <= BALANCE_SHARE && turned <= BALANCE_SHARE))
            return false;
    }
    return true;
}

static bk_status search_reactions(search *s, bk_beam_worst *out)
{
    double *sum = s->shapes[1].y;
    s->has_section = false;
    s->n_takes = 1;
    for (size_t i = 0; i < s->m->beam->n_supports; i++) {
        size_t node = s->m->first_support + i;
        double standing = s->standing.up[i], at_m = s->m->beam->supports[i].at_m;
        s->segment = node < s->m->n_segments ? node : node - 1;
        bk_beam_reaction_shape(s->m, i, s->shapes[0].y);
        bound_curve(s->m, &s->shapes[0]);
        for (size_t j = 0; j < 4 * s->m->n_segments; j++)
            sum[j] += s->shapes[0].y[j];
        s->takes[0] = 1;
        s->in_hand++;
        keep(s, standing + trains_worst(s), at_m, &out->reaction_max[i]);
        reaction_at_trolley(s, i, standing, &out->reaction_at_trolley_max[i]);
        s->takes[0] = -1;
        s->in_hand++;
        keep(s, standing - trains_worst(s), at_m, &out->reaction_min[i]);
    }
    return lines_balance(s->m, sum) ? BK_OK : BK_E_NO_CONVERGE;
}

/* ---- all --------------------------------------------------------------------------------------- */

/* n extremes with their places; NULL when memory is out. */
static bk_beam_extreme *new_extremes(bk_arena *arena, size_t n, size_t n_trains)
{
    bk_beam_extreme *all = BK_NEW(arena, bk_beam_extreme, n);
    double *at = BK_NEW(arena, double, n *n_trains + 1);
    bool *loaded = BK_NEW(arena, bool, n *n_trains + 1);
    if (!all || !at || !loaded) return NULL;
    for (size_t i = 0; i < n && n_trains > 0; i++) {
        all[i].train_m = at + i * n_trains;
        all[i].train_loaded = loaded + i * n_trains;
    }
    return all;
}

static bk_status new_worst(const bk_beam_model *m, bk_arena *arena, bk_beam_worst *out)
{
    size_t n_supports = m->beam->n_supports, n = m->n_segments;
    bk_beam_extreme *all = new_extremes(arena, 3 * n_supports + 4 * n + 4, m->beam->n_trains);
    out->span_from_m = BK_NEW(arena, double, n);
    out->span_to_m = BK_NEW(arena, double, n);
    out->span_overhang = BK_NEW(arena, bool, n);
    if (!all || !out->span_from_m || !out->span_to_m || !out->span_overhang) return BK_E_NOMEM;
    out->reaction_max = all;
    out->reaction_min = all + n_supports;
    out->reaction_at_trolley_max = all + 2 * n_supports;
    all += 3 * n_supports;
    out->span_moment_max = all;
    out->span_moment_min = all + n;
    out->span_shear = all + 2 * n;
    out->span_deflection = all + 3 * n;
    all += 4 * n;
    out->moment_max = all[0];
    out->moment_min = all[1];
    out->shear = all[2];
    out->deflection = all[3];
    out->n_spans = n;
    for (size_t i = 0; i < n; i++) {
        out->span_from_m[i] = m->node_m[i];
        out->span_to_m[i] = m->node_m[i + 1];
        out->span_overhang[i] = i < m->first_support || i - m->first_support + 1 >= n_supports;
    }
    return BK_OK;
}

static bk_status new_search(search *s)
{
    const bk_beam_model *m = s->m;
    const bk_beam *beam = m->beam;
    bk_arena *arena = m->arena;
    s->runs = BK_NEW(arena, run, beam->n_trains + 1);
    s->end_moment = bk_arena_alloc(arena, m->n_segments, sizeof *s->end_moment);
    s->line = bk_arena_alloc(arena, m->n_segments, sizeof *s->line);
    s->at = BK_NEW(arena, double, beam->n_trains + 1);
    s->loaded = BK_NEW(arena, bool, beam->n_trains + 1);
    if (!s->runs || !s->end_moment || !s->line || !s->at || !s->loaded) return BK_E_NOMEM;
    for (size_t i = 0; i < 4; i++) {
        s->shapes[i] = (curve){BK_NEW(arena, double, 4 * m->n_segments), BK_NEW(arena, double, m->n_segments),
                               BK_NEW(arena, double, m->n_segments)};
        if (!s->shapes[i].y || !s->shapes[i].before || !s->shapes[i].after) return BK_E_NOMEM;
    }
    for (size_t i = 0; i < beam->n_trains; i++) {
        bk_status status = cut_run(m, &beam->trains[i], &s->runs[i]);
        if (status != BK_OK) return status;
        const run *r = &s->runs[i];
        s->reach = fmax(s->reach, r->offset[r->n_lines - 1] - r->offset[0]);
    }
    return bk_beam_stand(s->m, 0, NULL, NULL, &s->standing);
}

bk_status bk_beam_find_worst(const bk_beam *beam, bk_arena *arena, bk_beam_worst *out, char *why,
                             size_t why_size)
{
    bk_beam_model m = {.arena = bk_arena_new()};
    if (!m.arena) return BK_E_NOMEM;
    search s = {.m = &m};
    breaks b = {0};
    bk_status status = bk_beam_model_build(&m, beam, why, why_size);
    if (status == BK_OK) status = new_search(&s);
    if (status == BK_OK) status = new_worst(&m, arena, out);
    if (status == BK_OK) {
        size_t room = 2 * s.standing.n_pieces + 2 * BK_WHEEL_LINES_MAX * beam->n_trains + 2;
        b = (breaks){
            0, BK_NEW(m.arena, double, room), {BK_NEW(m.arena, double, room), BK_NEW(m.arena, double, room)}};
        if (!b.x || !b.f[0] || !b.f[1]) status = BK_E_NOMEM;
    }
    if (status == BK_OK) status = search_reactions(&s, out);
    if (status == BK_OK) search_segments(&s, &b, out);
    if (status == BK_E_NO_CONVERGE && why && why_size)
        snprintf(why, why_size,
                 "the stiffnesses of the beam and its supports lie too far apart for a sound answer");
    bk_arena_free(m.arena);
    return status;
}
