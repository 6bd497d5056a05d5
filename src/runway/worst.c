/* worst.c: the extremes of a beam's figures over every place of every trolley and every section, exactly.
 *
 * One section.  A figure at a section is the standing loads' share plus one share a trolley, and trolleys
 * are free of each other, so each takes its own worst place: the greatest of
 *     force * mean over its wheels of influence(place + offset)
 * The influence line is a cubic between neighbouring nodes, cut once more at the section.  Between two
 * places where a wheel crosses such a cut (a cell) the mean is one cubic: its extremes are roots of a
 * quadratic.  Cells are taken outward from the section, until the Bernstein ordinates of all further cubics
 * (which bound them, and die away) cannot beat what is already found.
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
 *     moment, least       -w
 *     shear               as for the moment, w apart
 *     deflection          greatest moment of the segment / EI, since EI v'' = -M; found just before.  It has
 *                         no kinks, so it needs no breaks
 * Where nothing presses upward, moments bend down and shear falls along x: the least moment, both moments of
 * an overhang and the shear are then worst at an end, and nothing is searched.  Shear beside a wheel or a
 * force is taken on the side that makes it greater.
 */
#include "beam.h"

#include <gsl/gsl_poly.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST, LEAST };

/* A trolley's travel, cut wherever a wheel crosses a node. */
typedef struct run {
    double loaded, empty; /* of one wheel line */
    size_t n_lines;
    double offset[BK_WHEEL_LINES_MAX]; /* rising */
    size_t n_cells;
    double *cut;           /* (n_cells + 1) place of the trolley's middle */
    size_t *segment;       /* (n_cells * n_lines) where each wheel is */
    double *local;         /* (n_cells * n_lines) its place there when the trolley is at cut */
    size_t *within, *past; /* (n_segments) in the cells from within to past either all wheels are in it, or,
                              of a long trolley, some left of it and some right of it */
} run;

/* A shape of the beam, and what bounds its ordinates. */
typedef struct curve {
    double *y, *c; /* (4 n_segments) v, slope at the left end, at the right end; the cubics through them */
    double (*before)[2], (*after)[2]; /* (n_segments) greatest and least Bernstein ordinate of it and all
                                         before or after it */
} curve;

/* Of an influence line or a sum of them. */
typedef struct height {
    double sum, slope;
} height;

typedef struct search {
    bk_beam_model *m;
    bk_beam_solution standing;
    run *runs; /* (n_trains) */
    /* The influence line in hand is takes * shapes: for a section four shapes, of the end values of its
     * segment, plus its own; for a reaction one. */
    curve shapes[4];
    double takes[4];
    size_t n_takes;
    size_t segment;    /* the section's, or one beside the support */
    double x;          /* the section's place in it; -INFINITY: no section */
    double own[4];     /* of the section, on its segment right of it */
    double left[4];    /* the line on its segment left of it */
    height jump;       /* of the line at the section */
    double slack;      /* what counts as on the section */
    double reach;      /* greatest length of a trolley */
    double near[2][2]; /* bounds of the line in its segment within reach of its left end, of its right end */
    struct stretch {
        size_t of; /* the line it belongs to */
        double c[4];
    } * line;       /* (n_segments) its cubics, right of the section, as far as they were asked for */
    size_t in_hand; /* counts the lines */
    /* at the greatest and the least value found last: where the trolleys stand, and what each adds to it */
    struct stand {
        double *at, *adds;
        bool *loaded;
    } stand[2];
    bool goes_on;           /* the segment in hand is a span behind another: */
    bk_beam_extreme *M_end; /* (2) worst moments at the support between */
} search;

static inline double larger(double a, double b)
{
    return a > b ? a : b;
}

static inline double smaller(double a, double b)
{
    return a < b ? a : b;
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
    r->within = BK_NEW(m->arena, size_t, m->n_segments);
    r->past = BK_NEW(m->arena, size_t, m->n_segments);
    if (!r->cut || !r->within || !r->past) return BK_E_NOMEM;
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
    r->local = BK_NEW(m->arena, double, r->n_cells * r->n_lines);
    if (!r->segment || !r->local) return BK_E_NOMEM;
    for (size_t i = 0, w = 0; i < r->n_cells; i++)
        for (size_t k = 0; k < r->n_lines; k++, w++) {
            r->segment[w] = bk_beam_segment_at(m, (r->cut[i] + r->cut[i + 1]) / 2 + r->offset[k]);
            r->local[w] = r->cut[i] + r->offset[k] - m->node_m[r->segment[w]];
        }
    for (size_t s = 0, within = 0, past = 0; s < m->n_segments; s++) {
        while (within < r->n_cells && r->segment[within * r->n_lines] < s)
            within++;
        while (past < r->n_cells && r->segment[past * r->n_lines + r->n_lines - 1] <= s)
            past++;
        r->within[s] = within < past ? within : past;
        r->past[s] = within < past ? past : within;
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

/* The line in hand on a segment, right of the section; worked out when first asked. */
static inline const double *line_cubic(search *s, size_t segment)
{
    struct stretch *line = &s->line[segment];
    if (line->of == s->in_hand) return line->c;
    line->of = s->in_hand;
    for (size_t i = 0; i < 4; i++)
        line->c[i] = segment == s->segment ? s->own[i] : 0;
    for (size_t d = 0; d < s->n_takes; d++)
        for (size_t i = 0; i < 4; i++)
            line->c[i] += s->takes[d] * s->shapes[d].c[4 * segment + i];
    return line->c;
}

/* Of the sum of the lines under n wheels, when they stand t further than at. */
static inline height height_at(const double *const line[], const double *at, size_t n, double t)
{
    height h = {0, 0};
    for (size_t k = 0; k < n; k++) {
        const double *c = line[k];
        double x = at[k] + t;
        h.sum += c[0] + x * (c[1] + x * (c[2] + x * c[3]));
        h.slope += c[1] + x * (2 * c[2] + x * 3 * c[3]);
    }
    return h;
}

/* Greatest and least Bernstein ordinate between two points w apart. */
static void bound_between(height a, height b, double w, double bound[2])
{
    double third = w * (1.0 / 3), inner[2] = {a.sum + third * a.slope, b.sum - third * b.slope};
    bound[MOST] = larger(larger(a.sum, b.sum), larger(inner[0], inner[1]));
    bound[LEAST] = smaller(smaller(a.sum, b.sum), smaller(inner[0], inner[1]));
}

static void widen(double bound[2], const double by[2])
{
    bound[MOST] = larger(bound[MOST], by[MOST]);
    bound[LEAST] = smaller(bound[LEAST], by[LEAST]);
}

/* The greatest and least sum so far, and where the trolley stands. */
typedef struct peaks {
    double value[2], at[2];
} peaks;

static inline void reach(peaks *p, double value, double at)
{
    if (value > p->value[MOST]) {
        p->value[MOST] = value;
        p->at[MOST] = at;
    }
    if (value < p->value[LEAST]) {
        p->value[LEAST] = value;
        p->at[LEAST] = at;
    }
}

/* A trolley goes on by w. */
static inline void reach_between(peaks *p, height a, height b, double from, double w)
{
    reach(p, a.sum, from);
    reach(p, b.sum, from + w);
    double c[4], root[2], bound[2];
    bound_between(a, b, w, bound);
    if (bound[MOST] <= p->value[MOST] && bound[LEAST] >= p->value[LEAST]) return;
    cubic_through((double[]){a.sum, a.slope, b.sum, b.slope}, w, c);
    int n = gsl_poly_solve_quadratic(3 * c[3], 2 * c[2], c[1], &root[0], &root[1]);
    for (int i = 0; i < n; i++) {
        double t = root[i];
        if (t > 0 && t < w) reach(p, c[0] + t * (c[1] + t * (c[2] + t * c[3])), from + t);
    }
}

/* A cell is cut where a wheel stands on the section, which counts on both sides of it.  Also at the ends of
 * the cell, where one of the parts has no width: the section beside the wheel is reached in the limit from
 * that side.  Only a trolley that never moves and stands on a node puts no shear beside it at all. */
static void try_cell(search *s, const run *r, size_t cell, peaks *p)
{
    size_t n = r->n_lines;
    const size_t *segment = r->segment + cell * n;
    const double *local = r->local + cell * n, *line[BK_WHEEL_LINES_MAX] = {NULL};
    double cut = r->cut[cell], width = r->cut[cell + 1] - cut, t = 0;
    bool stands = r->cut[0] == r->cut[r->n_cells];
    for (size_t k = 0; k < n; k++) {
        bool left = segment[k] == s->segment && s->x - local[k] >= -s->slack;
        line[k] = left ? s->left : line_cubic(s, segment[k]);
    }
    height a = height_at(line, local, n, 0);
    for (size_t k = n; k-- > 0;) {
        if (line[k] != s->left || s->x - local[k] > width + s->slack) continue;
        double meets = smaller(larger(s->x - local[k], t), width);
        height b = height_at(line, local, n, meets);
        if (!stands || s->x < s->m->length_m[s->segment] - s->slack)
            reach_between(p, a, b, cut + t, meets - t);
        if (stands && s->x <= s->slack) return;
        line[k] = line_cubic(s, s->segment);
        a = (height){b.sum + s->jump.sum, b.slope + s->jump.slope};
        t = meets;
    }
    reach_between(p, a, height_at(line, local, n, width), cut + t, width - t);
}

/* Whether the sum may be beaten, either way, in a cell with wheels left of the section's segment (or right of
 * it), or further outward.  wheel: its wheel that is nearest to the section. */
static bool beats_outward(const search *s, const run *r, size_t wheel, bool right, const peaks *p)
{
    size_t segment = r->segment[wheel];
    bool near = segment == s->segment;
    double bound[2] = {0, 0}, n = (double)r->n_lines;
    if (near) segment = right ? segment + 1 : segment - 1;
    for (size_t d = 0; d < s->n_takes; d++) {
        const double *of = (right ? s->shapes[d].after : s->shapes[d].before)[segment];
        double a = s->takes[d] * of[MOST], b = s->takes[d] * of[LEAST];
        bound[MOST] += larger(a, b);
        bound[LEAST] += smaller(a, b);
    }
    if (near) widen(bound, s->near[right]);
    return n * bound[MOST] > p->value[MOST] || n * bound[LEAST] < p->value[LEAST];
}

/* Greatest and least sum over the wheels of the influence line in hand; of a side that is not sought
 * anything. */
static peaks run_peaks(search *s, const run *r, const bool sought[2])
{
    peaks p = {{sought[MOST] ? -INFINITY : INFINITY, sought[LEAST] ? INFINITY : -INFINITY}, {0, 0}};
    size_t within = r->within[s->segment], past = r->past[s->segment], n = r->n_lines;
    for (size_t i = within; i < past; i++)
        try_cell(s, r, i, &p);
    for (size_t i = within; i-- > 0 && beats_outward(s, r, i * n + n - 1, false, &p);)
        try_cell(s, r, i, &p);
    for (size_t i = past; i < r->n_cells && beats_outward(s, r, i * n, true, &p); i++)
        try_cell(s, r, i, &p);
    return p;
}

/* What follows from a shape that was put into y. */
static void bound_curve(const bk_beam_model *m, curve *shape)
{
    size_t n = m->n_segments;
    for (size_t i = 0; i < n; i++) {
        const double *y = shape->y + 4 * i;
        cubic_through(y, m->length_m[i], shape->c + 4 * i);
        bound_between((height){y[0], y[1]}, (height){y[2], y[3]}, m->length_m[i], shape->after[i]);
        memcpy(shape->before[i], shape->after[i], sizeof shape->before[i]);
        if (i > 0) widen(shape->before[i], shape->before[i - 1]);
    }
    for (size_t i = n - 1; i-- > 0;)
        widen(shape->after[i], shape->after[i + 1]);
}

/* Whether a trolley is worse loaded, where its weight does harm or where it helps. */
static bool is_loaded(const run *r, bool harms)
{
    return harms == (r->loaded >= r->empty);
}

/* Each trolley at its own worst, loaded or empty. */
static void trains_worst(search *s, const bool sought[2], double sum[2])
{
    sum[MOST] = sum[LEAST] = 0;
    for (size_t i = 0; i < s->m->beam->n_trains; i++) {
        const run *r = &s->runs[i];
        peaks p = run_peaks(s, r, sought);
        for (size_t side = 0; side < 2; side++) {
            if (!sought[side]) continue;
            bool loaded = is_loaded(r, (p.value[side] > 0) == (side == MOST));
            s->stand[side].at[i] = smaller(p.at[side], r->cut[r->n_cells]);
            s->stand[side].loaded[i] = loaded;
            s->stand[side].adds[i] = p.value[side] * (loaded ? r->loaded : r->empty);
            sum[side] += s->stand[side].adds[i];
        }
    }
}

/* bound: of the line from `from` on, as far as a trolley reaches; across the section there is none. */
static void bound_near(const search *s, const double *line, double from, bool across, double bound[2])
{
    const double zero = 0;
    height a = height_at(&line, &zero, 1, from), b = height_at(&line, &zero, 1, from + s->reach);
    bound_between(a, b, s->reach, bound);
    if (across) widen(bound, (const double[]){INFINITY, -INFINITY});
}

static void take_section(search *s, bk_beam_figure figure, double x)
{
    double left[4];
    s->n_takes = bk_beam_section_takes(s->m, figure, s->segment, x, s->takes);
    bk_beam_section_own(s->m, figure, s->segment, x, s->own, left);
    s->x = x;
    s->in_hand++;
    const double *right = line_cubic(s, s->segment);
    for (size_t i = 0; i < 4; i++)
        s->left[i] = right[i] + left[i];
    s->jump.sum = -(left[0] + x * (left[1] + x * (left[2] + x * left[3])));
    s->jump.slope = -(left[1] + x * (2 * left[2] + x * 3 * left[3]));
    bound_near(s, s->left, 0, x < s->reach, s->near[0]);
    bound_near(s, right, s->m->length_m[s->segment] - s->reach, s->m->length_m[s->segment] - x < s->reach,
               s->near[1]);
}

static void take_reaction(search *s)
{
    s->n_takes = 1;
    s->takes[0] = 1;
    s->x = -INFINITY;
    s->near[0][MOST] = s->near[1][MOST] = INFINITY;
    s->near[0][LEAST] = s->near[1][LEAST] = -INFINITY;
    s->in_hand++;
    memset(s->own, 0, sizeof s->own);
}

/* ---- all sections of a segment ----------------------------------------------------------------- */

/* One extreme that is sought. */
typedef struct quarry {
    bk_beam_figure figure;
    double sign;  /* +1 greatest, -1 least */
    double *best; /* sign * value of the best found: what has to be beaten.  Two that share it seek the one
                     further from 0 */
    bk_beam_extreme *out;
} quarry;

static void keep(const search *s, const struct stand *stand, double value, double at_m, bk_beam_extreme *out)
{
    out->value = value;
    out->at_m = at_m;
    for (size_t i = 0; i < s->m->beam->n_trains; i++) {
        out->train_m[i] = stand->at[i];
        out->train_loaded[i] = stand->loaded[i];
    }
}

/* n extremes with their places; NULL when memory is out. */
static bk_beam_extreme *new_extremes(bk_arena *arena, size_t n, size_t n_trains)
{
    bk_beam_extreme *all = BK_NEW(arena, bk_beam_extreme, n);
    double *at = BK_NEW(arena, double, n *n_trains);
    bool *loaded = BK_NEW(arena, bool, n *n_trains);
    if (!all || !at || !loaded) return NULL;
    for (size_t i = 0; i < n && n_trains > 0; i++) {
        all[i].train_m = at + i * n_trains;
        all[i].train_loaded = loaded + i * n_trains;
    }
    return all;
}

static void copy_extreme(const bk_beam_extreme *from, size_t n_trains, bk_beam_extreme *to)
{
    to->value = from->value;
    to->at_m = from->at_m;
    if (n_trains == 0) return;
    memcpy(to->train_m, from->train_m, n_trains * sizeof *to->train_m);
    memcpy(to->train_loaded, from->train_loaded, n_trains * sizeof *to->train_loaded);
}

/* Looks at one section for one or two extremes of a figure; f: sign * value of each. */
static void look(search *s, quarry *q, size_t n, double x, double *f)
{
    bool sought[2] = {false, false};
    double sum[2], standing = bk_beam_solution_at(s->m, &s->standing, q->figure, s->segment, x);
    for (size_t i = 0; i < n; i++)
        sought[q[i].sign < 0 ? LEAST : MOST] = true;
    take_section(s, q->figure, x);
    trains_worst(s, sought, sum);
    for (size_t i = 0; i < n; i++) {
        size_t side = q[i].sign < 0 ? LEAST : MOST;
        double value = standing + sum[side];
        f[i] = q[i].sign * value;
        if (f[i] <= *q[i].best) continue;
        *q[i].best = f[i];
        keep(s, &s->stand[side], value, s->m->node_m[s->segment] + x, q[i].out);
    }
}

/* How strongly the figure of a section in a span bends along x for one newton that keeps its distance u from
 * the section.  With A and B the moments at the segment's ends, cubics in xi on each segment, D = B - A, the
 * newton's own kink apart:
 *     M = A(xi) + (x/L) D(xi), xi = x + u:  M'' = 2 D' / L + A'' + (x/L) D''
 *     V = D / L:                            V'' = D'' / L
 * This is the least of sign * that from..to: it lies in the hull of its Bernstein ordinates. */
static double bend(const search *s, const quarry *q, size_t segment, double u, double from, double to)
{
    const double *A = s->shapes[0].c + 4 * segment, *B = s->shapes[1].c + 4 * segment;
    double L = s->m->length_m[s->segment], by = s->m->node_m[s->segment] + u - s->m->node_m[segment];
    double D1 = (B[1] - A[1]) / L, D2 = (B[2] - A[2]) / L, D3 = (B[3] - A[3]) / L;
    double c0 = q->sign * (2 * D2 + 6 * D3 * by), c1 = q->sign * 6 * D3, c2 = 0; /* of V'' in x */
    if (q->figure == BK_FIGURE_MOMENT) {
        if (segment == s->segment) D1 -= 1 / L; /* its own in a simple beam: (x/L) (L - xi) */
        c0 = 2 * A[2] + 6 * A[3] * by + 2 * (D1 + by * (2 * D2 + by * 3 * D3));
        c1 = 6 * A[3] + 6 * D2 + 18 * D3 * by;
        c2 = 12 * D3;
    }
    return smaller(c0 + (from + to) / 2 * c1 + from * to * c2,
                   smaller(c0 + from * (c1 + from * c2), c0 + to * (c1 + to * c2)));
}

/* The most that a wheel at distance u bends the figure downward, while the section goes from..to. */
static double wheel_bends(const search *s, const quarry *q, double u, double from, double to)
{
    const double *node = s->m->node_m;
    double start = node[s->segment], least = INFINITY;
    size_t i = s->segment;
    while (i > 0 && node[i] > start + from + u)
        i--;
    for (; i < s->m->n_segments && node[i] < start + to + u; i++) {
        double a = larger(from, node[i] - start - u), b = smaller(to, node[i + 1] - start - u);
        if (a < b) least = smaller(least, bend(s, q, i, u, a, b));
    }
    return -least;
}

/* The same of a trolley that goes along with the section, one of its wheels on it; 0 where it stands still.
 */
static double run_bends(const search *s, const quarry *q, const run *r, double from, double to, double on_it)
{
    double most = 0;
    for (size_t k = 0; k < r->n_lines; k++) {
        double sum = 0;
        for (size_t i = 0; i < r->n_lines; i++)
            sum += i == k ? on_it : wheel_bends(s, q, r->offset[i] - r->offset[k], from, to);
        most = larger(most, sum);
    }
    return most * larger(r->loaded, r->empty);
}

typedef struct gap {
    double from, f_from, to, f_to;
} gap;

/* What the figure may bend downward as the section goes from..to: K.  steady holds throughout; ride: trolleys
 * may go along with the section. */
static double curvature(const search *s, const quarry *q, const gap *g, double steady, bool ride)
{
    double K = steady, on_it = ride ? wheel_bends(s, q, 0, g->from, g->to) : 0;
    for (size_t i = 0; ride && i < s->m->beam->n_trains; i++)
        K += run_bends(s, q, &s->runs[i], g->from, g->to, on_it);
    return larger(K, 0);
}

/* Whether the parabola of curvature -K through both ends rises above what is found already; *x where its top
 * is. K L2 / 8 is what the figure is of the order of: it ends the search where f is flat and 0, and before a
 * gap is narrower than the root of the tolerance. */
static bool is_open(const search *s, const quarry *q, const gap *g, double K, double *x)
{
    double w = g->to - g->from, rise = g->f_to - g->f_from, L = s->m->length_m[s->segment];
    if (!(K * w * w > 2 * fabs(rise))) return false; /* it has no top inside */
    double t = w / 2 + rise / (K * w), tolerance = q->figure == BK_FIGURE_DEFLECTION ? 1e-8 : 1e-10;
    *x = g->from + t;
    return g->f_from + K * t * t / 2 > *q->best + tolerance * (fabs(*q->best) + K * L * L / 8);
}

static void search_gap(search *s, quarry *q, gap g, double steady, bool ride)
{
    double x, K = curvature(s, q, &g, steady, ride);
    if (!is_open(s, q, &g, K, &x)) return;
    double f, unused;
    look(s, q, 1, x, &f);
    gap half[2] = {{x, f, g.to, g.f_to}, {g.from, g.f_from, x, f}};
    for (size_t i = 0; i < 2; i++)
        if (is_open(s, q, &half[i], K, &unused)) search_gap(s, q, half[i], steady, ride);
}

/* Where a segment is cut, and what acts between. */
typedef struct breaks {
    size_t n;
    double *x, (*f)[2]; /* (n) rising, local; values of two extremes there */
    bool lifts;         /* something presses upward in the segment */
} breaks;

static void segment_breaks(const search *s, breaks *b)
{
    const bk_beam *beam = s->m->beam;
    double L = s->m->length_m[s->segment], start = s->m->node_m[s->segment], *x = b->x;
    size_t n = 0;
    b->lifts = false;
    x[n++] = 0;
    for (size_t i = s->standing.first_piece[s->segment]; i < s->standing.first_piece[s->segment + 1]; i++) {
        const bk_beam_piece *p = &s->standing.pieces[i];
        b->lifts = b->lifts || p->force < 0 || p->per_metre < 0;
        if (p->from > 0) x[n++] = p->from;
        if (p->to > p->from && p->to < L) x[n++] = p->to;
    }
    for (size_t i = 0; i < beam->n_trains; i++)
        for (size_t k = 0; k < beam->trains[i].n_lines; k++)
            for (size_t end = 0; end < 2; end++) {
                double at = (end ? beam->trains[i].to_m : beam->trains[i].from_m) +
                            beam->trains[i].offset_m[k] - start;
                if (at > 0 && at < L) x[n++] = at;
            }
    x[n++] = L;
    qsort(x, n, sizeof *x, rising);
    b->n = n;
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

static void search_moment(search *s, quarry q[2], const breaks *b)
{
    bool span = bk_beam_is_span(s->m, s->segment);
    double L = s->m->length_m[s->segment], *f0 = b->f[0], *fL = b->f[b->n - 1];
    for (size_t side = 0; side < 2 && s->goes_on; side++) {
        copy_extreme(&s->M_end[side], s->m->beam->n_trains, q[side].out);
        *q[side].best = f0[side] = q[side].sign * q[side].out->value;
    }
    if (!s->goes_on) look(s, q, 2, 0, f0);
    look(s, q, 2, L, fL);
    for (size_t side = 0; side < 2; side++)
        keep(s, &s->stand[side], q[side].sign * fL[side], s->m->node_m[s->segment + 1], &s->M_end[side]);
    if (!b->lifts && !span) return;
    for (size_t i = 1; i + 1 < b->n; i++)
        look(s, q, b->lifts ? 2 : 1, b->x[i], b->f[i]);
    for (size_t i = 0; i + 1 < b->n; i++) {
        double from = b->x[i], to = b->x[i + 1], w = uniform_over(s, (from + to) / 2);
        search_gap(s, &q[MOST], (gap){from, b->f[i][MOST], to, b->f[i + 1][MOST]}, w, span);
        if (b->lifts)
            search_gap(s, &q[LEAST], (gap){from, b->f[i][LEAST], to, b->f[i + 1][LEAST]}, -w, false);
    }
}

static void search_shear(search *s, quarry q[2], const breaks *b)
{
    double L = s->m->length_m[s->segment], f[2][2];
    if (!b->lifts) {
        look(s, &q[MOST], 1, 0, f[0]);
        look(s, &q[LEAST], 1, L, f[0]);
        return;
    }
    for (size_t i = 0; i + 1 < b->n; i++) {
        double from = b->x[i], to = b->x[i + 1];
        look(s, q, 2, from, f[0]);
        look(s, q, 2, to * (1 - 1e-15), f[1]); /* just left of what stands there */
        for (size_t side = 0; side < 2; side++)
            search_gap(s, &q[side], (gap){from, f[0][side], to, f[1][side]}, 0,
                       bk_beam_is_span(s->m, s->segment));
    }
}

/* In the middle first: where one way is flat at 0 there is then nothing left to search, and supports that
 * stand still need no look. */
static void search_deflection(search *s, quarry q[2], double M_most, double M_least)
{
    double EI = s->m->beam->EI_Nm2, L = s->m->length_m[s->segment], f[3][2] = {{0, 0}, {0, 0}, {0, 0}};
    double K[2] = {larger(M_most, 0) / EI, larger(-M_least, 0) / EI};
    look(s, q, 2, L / 2, f[1]);
    if (!bk_beam_stands_still(s->m, s->segment)) look(s, q, 2, 0, f[0]);
    if (!bk_beam_stands_still(s->m, s->segment + 1)) look(s, q, 2, L, f[2]);
    for (size_t side = 0; side < 2; side++) {
        search_gap(s, &q[side], (gap){0, f[0][side], L / 2, f[1][side]}, K[side], false);
        search_gap(s, &q[side], (gap){L / 2, f[1][side], L, f[2][side]}, K[side], false);
    }
}

static void search_figures(search *s, breaks *b, bk_beam_worst *out)
{
    size_t at = s->segment;
    double most = -INFINITY, least = -INFINITY, shear = -INFINITY, deflection = -INFINITY;
    bk_beam_extreme *M_most = &out->span_moment_max[at], *M_least = &out->span_moment_min[at],
                    *V = &out->span_shear[at], *v = &out->span_deflection[at];
    segment_breaks(s, b);
    search_moment(
        s, (quarry[]){{BK_FIGURE_MOMENT, 1, &most, M_most}, {BK_FIGURE_MOMENT, -1, &least, M_least}}, b);
    search_shear(s, (quarry[]){{BK_FIGURE_SHEAR, 1, &shear, V}, {BK_FIGURE_SHEAR, -1, &shear, V}}, b);
    V->value = fabs(V->value);
    search_deflection(
        s, (quarry[]){{BK_FIGURE_DEFLECTION, 1, &deflection, v}, {BK_FIGURE_DEFLECTION, -1, &deflection, v}},
        most, -least);
}

static void search_segments(search *s, breaks *b, bk_beam_worst *out)
{
    const bk_beam_model *m = s->m;
    for (size_t at = 0; at < m->n_segments; at++) {
        s->goes_on = at > 0 && bk_beam_is_span(m, at - 1) && bk_beam_is_span(m, at);
        for (size_t i = 0; i < 4; i++) {
            if (s->goes_on && i % 2 == 0) { /* this support was at the right end of the last span */
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

/* Over the wheels of a trolley that stands there. */
static double stands_at(const search *s, const run *r, double at)
{
    double sum = 0;
    for (size_t k = 0; k < r->n_lines; k++) {
        size_t segment = bk_beam_segment_at(s->m, at + r->offset[k]);
        const double *c = s->shapes[0].c + 4 * segment;
        double x = at + r->offset[k] - s->m->node_m[segment];
        sum += c[0] + x * (c[1] + x * (c[2] + x * c[3]));
    }
    return sum;
}

/* The greatest reaction while a wheel stands on the support: one trolley is put there, the others go where
 * they will.  free: with all of them where they will. */
static void reaction_at_trolley(search *s, size_t support, double free, bk_beam_extreme *out)
{
    const bk_beam *beam = s->m->beam;
    struct stand *stand = &s->stand[MOST];
    out->value = NAN;
    out->at_m = beam->supports[support].at_m;
    for (size_t i = 0; i < beam->n_trains; i++) {
        const run *r = &s->runs[i];
        double free_at = stand->at[i];
        bool free_loaded = stand->loaded[i];
        for (size_t k = 0; k < r->n_lines; k++) {
            double at = out->at_m - r->offset[k];
            if (!(at >= beam->trains[i].from_m && at <= beam->trains[i].to_m)) continue;
            double sum = stands_at(s, r, at);
            bool loaded = is_loaded(r, sum > 0);
            double value = free - stand->adds[i] + sum * (loaded ? r->loaded : r->empty);
            if (value <= out->value) continue;
            stand->at[i] = at;
            stand->loaded[i] = loaded;
            keep(s, stand, value, out->at_m, out);
        }
        stand->at[i] = free_at;
        stand->loaded[i] = free_loaded;
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
    for (size_t i = 0; i < s->m->beam->n_supports; i++) {
        size_t node = s->m->first_support + i;
        double standing = s->standing.up[i], at_m = s->m->beam->supports[i].at_m;
        s->segment = node < s->m->n_segments ? node : node - 1;
        bk_beam_reaction_shape(s->m, i, s->shapes[0].y);
        bound_curve(s->m, &s->shapes[0]);
        for (size_t j = 0; j < 4 * s->m->n_segments; j++)
            sum[j] += s->shapes[0].y[j];
        double moved[2];
        take_reaction(s);
        trains_worst(s, (const bool[]){true, true}, moved);
        keep(s, &s->stand[MOST], standing + moved[MOST], at_m, &out->reaction_max[i]);
        keep(s, &s->stand[LEAST], standing + moved[LEAST], at_m, &out->reaction_min[i]);
        reaction_at_trolley(s, i, standing + moved[MOST], &out->reaction_at_trolley_max[i]);
    }
    return lines_balance(s->m, sum) ? BK_OK : BK_E_NO_CONVERGE;
}

/* ---- all --------------------------------------------------------------------------------------- */

static bk_status new_worst(const bk_beam_model *m, bk_arena *arena, bk_beam_worst *out)
{
    size_t n_trains = m->beam->n_trains, n = m->n_segments;
    bk_beam_extreme **of_supports[] = {&out->reaction_max, &out->reaction_min, &out->reaction_at_trolley_max};
    bk_beam_extreme **of_spans[] = {&out->span_moment_max, &out->span_moment_min, &out->span_shear,
                                    &out->span_deflection};
    bk_beam_extreme *of_all[] = {&out->moment_max, &out->moment_min, &out->shear, &out->deflection};
    for (size_t i = 0; i < sizeof of_supports / sizeof *of_supports; i++) {
        *of_supports[i] = new_extremes(arena, m->beam->n_supports, n_trains);
        if (!*of_supports[i]) return BK_E_NOMEM;
    }
    for (size_t i = 0; i < sizeof of_spans / sizeof *of_spans; i++) {
        bk_beam_extreme *one = new_extremes(arena, 1, n_trains);
        *of_spans[i] = new_extremes(arena, n, n_trains);
        if (!one || !*of_spans[i]) return BK_E_NOMEM;
        *of_all[i] = *one;
    }
    out->span_from_m = BK_NEW(arena, double, n);
    out->span_to_m = BK_NEW(arena, double, n);
    out->span_overhang = BK_NEW(arena, bool, n);
    if (!out->span_from_m || !out->span_to_m || !out->span_overhang) return BK_E_NOMEM;
    out->n_spans = n;
    for (size_t i = 0; i < n; i++) {
        out->span_from_m[i] = m->node_m[i];
        out->span_to_m[i] = m->node_m[i + 1];
        out->span_overhang[i] = !bk_beam_is_span(m, i);
    }
    return BK_OK;
}

static bk_status new_search(search *s)
{
    const bk_beam_model *m = s->m;
    const bk_beam *beam = m->beam;
    bk_arena *arena = m->arena;
    s->slack = 1e-12 * (beam->to_m - beam->from_m);
    s->runs = BK_NEW(arena, run, beam->n_trains);
    s->M_end = new_extremes(arena, 2, beam->n_trains);
    s->line = bk_arena_alloc(arena, m->n_segments, sizeof *s->line);
    if (!s->runs || !s->M_end || !s->line) return BK_E_NOMEM;
    for (size_t side = 0; side < 2; side++) {
        s->stand[side] =
            (struct stand){BK_NEW(arena, double, beam->n_trains), BK_NEW(arena, double, beam->n_trains),
                           BK_NEW(arena, bool, beam->n_trains)};
        if (!s->stand[side].at || !s->stand[side].adds || !s->stand[side].loaded) return BK_E_NOMEM;
    }
    for (size_t i = 0; i < beam->n_trains; i++) {
        bk_status status = cut_run(m, &beam->trains[i], &s->runs[i]);
        if (status != BK_OK) return status;
        const run *r = &s->runs[i];
        s->reach = larger(s->reach, r->offset[r->n_lines - 1] - r->offset[0]);
    }
    for (size_t i = 0; i < 4; i++) {
        curve *shape = &s->shapes[i];
        shape->y = BK_NEW(arena, double, 4 * m->n_segments);
        shape->c = BK_NEW(arena, double, 4 * m->n_segments);
        shape->before = bk_arena_alloc(arena, m->n_segments, sizeof *shape->before);
        shape->after = bk_arena_alloc(arena, m->n_segments, sizeof *shape->after);
        if (!shape->y || !shape->c || !shape->before || !shape->after) return BK_E_NOMEM;
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
        b.x = BK_NEW(m.arena, double, room);
        b.f = bk_arena_alloc(m.arena, room, sizeof *b.f);
        if (!b.x || !b.f) status = BK_E_NOMEM;
    }
    if (status == BK_OK) status = search_reactions(&s, out);
    if (status == BK_OK) search_segments(&s, &b, out);
    if (status == BK_E_NO_CONVERGE && why && why_size)
        snprintf(why, why_size,
                 "the stiffnesses of the beam and its supports lie too far apart for a sound answer");
    bk_arena_free(m.arena);
    return status;
}
