/* beam.c: a straight beam of constant EI on any supports by the three-moment equations, factored once.
 *
 *      M_i-1          M_i          M_i+1
 *        |---- L_i-1 --|---- L_i ----|          EI v'' = -M,  M' = V,  V' = -w
 *        ^             ^             ^          v, loads down +; reactions up +; M sagging +
 *
 * Unknown are the moments over the inner supports and at fixed ends; slopes agree at each (Clapeyron):
 *     (v_i+1 - v_i)/L_i - (v_i - v_i-1)/L_i-1
 *       + (L_i-1 (M_i-1 + 2 M_i) + L_i (2 M_i + M_i+1)) / 6EI + slopes of the loads = kink
 * and where supports give, v_i = base_i + up_i / k_i with the reactions up = hung + D' M, D the second
 * differences of the first line: five moments in an equation, F = T + D k^-1 D', symmetric, positive, banded.
 * Nothing in it grows when a stiff beam hangs on soft lines or an overhang is short, as the stiffness matrix
 * of nodes does: there the moments would be small differences of large numbers.
 *
 * Formulae of a simple span and a cantilever: AISC Manual, table 3-23 and AWC Design Aid 6 (the list of cases
 * read, formulae from memory, confirmed by the tests).  Inside a segment: M = M0 + V0 x - sum P (x - a)+ -
 * ..., and v by integrating that twice (Macaulay).
 *
 * Limits: bending only (no shear strain); supports hold down as well as up, so an uplift is a negative
 * reaction and not a lost support.
 */
#include "beam.h"

#include <suitesparse/ldl.h>
#include <stdio.h>
#include <string.h>

/* Two nodes nearer than this share of the beam's length are a mistake (supports), or one (an overhang). */
#define NEAREST_SHARE 1e-6
/* Rounding of a sum of two lengths, as a share of the beam's length. */
#define ROUNDING_SHARE 1e-9

static bk_status unsound(char *why, size_t why_size, const char *text, size_t index)
{
    if (why && why_size) snprintf(why, why_size, text, index + 1);
    return BK_E_VALUE;
}

static bool on_beam(const bk_beam *beam, double x_m)
{
    double slack = ROUNDING_SHARE * (beam->to_m - beam->from_m);
    return x_m >= beam->from_m - slack && x_m <= beam->to_m + slack;
}

static bk_status check_supports(const bk_beam *beam, char *why, size_t why_size)
{
    double length = beam->to_m - beam->from_m;
    bool holds_slope = false;
    for (size_t i = 0; i < beam->n_supports; i++) {
        const bk_beam_support *s = &beam->supports[i];
        if (!isfinite(s->at_m) || !isfinite(s->settlement_m) || !(s->stiffness_N_m > 0))
            return unsound(why, why_size, "support %zu: place, settlement or stiffness is no usable number",
                           i);
        if (!on_beam(beam, s->at_m))
            return unsound(why, why_size, "support %zu stands outside the beam's ends", i);
        if (i > 0 && !(s->at_m - beam->supports[i - 1].at_m > NEAREST_SHARE * length))
            return unsound(why, why_size, "support %zu does not stand clear beyond the one before it", i);
        if (s->fixed && i > 0 && i + 1 < beam->n_supports)
            return unsound(why, why_size, "support %zu: only the first or the last support can be fixed", i);
        holds_slope = holds_slope || s->fixed;
    }
    if (beam->n_supports == 0 || (beam->n_supports == 1 && !holds_slope))
        return unsound(why, why_size, "the beam needs two supports, or one that is fixed", 0);
    return BK_OK;
}

static bk_status check_loads(const bk_beam *beam, char *why, size_t why_size)
{
    for (size_t i = 0; i < beam->n_loads; i++) {
        const bk_beam_load *l = &beam->loads[i];
        if (!isfinite(l->force_N) || !isfinite(l->per_metre_N_m) || !on_beam(beam, l->from_m))
            return unsound(why, why_size, "standing load %zu: no number, or outside the beam's ends", i);
        if (l->per_metre_N_m != 0 && !(l->to_m >= l->from_m && on_beam(beam, l->to_m)))
            return unsound(why, why_size, "standing load %zu ends before it starts, or outside the beam", i);
    }
    for (size_t i = 0; i < beam->n_trains; i++) {
        const bk_beam_train *t = &beam->trains[i];
        if (!(t->from_m <= t->to_m) || !isfinite(t->from_m) || !isfinite(t->to_m))
            return unsound(why, why_size, "trolley %zu: travel ends before it starts", i);
        if (!(t->loaded_N >= 0) || !(t->empty_N >= 0) || !isfinite(t->loaded_N) || !isfinite(t->empty_N))
            return unsound(why, why_size, "trolley %zu: force is no number from 0 up", i);
        if (t->n_lines < 1 || t->n_lines > BK_WHEEL_LINES_MAX)
            return unsound(why, why_size, "trolley %zu: number of wheel lines", i);
        for (size_t k = 0; k < t->n_lines; k++)
            if (!on_beam(beam, t->from_m + t->offset_m[k]) || !on_beam(beam, t->to_m + t->offset_m[k]))
                return unsound(why, why_size,
                               "trolley %zu: a wheel runs off the end of the beam within its travel", i);
    }
    return BK_OK;
}

static bk_status check_sound(const bk_beam *beam, char *why, size_t why_size)
{
    if (!isfinite(beam->from_m) || !isfinite(beam->to_m) || !(beam->from_m < beam->to_m))
        return unsound(why, why_size, "the beam's ends make no length", 0);
    if (!(beam->EI_Nm2 > 0) || !isfinite(beam->EI_Nm2) || !isfinite(beam->self_N_m))
        return unsound(why, why_size, "the beam's bending stiffness or own weight is no usable number", 0);
    if (beam->n_supports > BK_BEAM_SUPPORTS_MAX || beam->n_loads > BK_BEAM_LOADS_MAX ||
        beam->n_trains > BK_BEAM_TRAINS_MAX)
        return unsound(why, why_size, "more supports, standing loads or trolleys than a beam may have", 0);
    bk_status status = check_supports(beam, why, why_size);
    return status == BK_OK ? check_loads(beam, why, why_size) : status;
}

size_t bk_beam_segment_at(const bk_beam_model *m, double x_m)
{
    size_t low = 0, high = m->n_segments; /* node_m[low] <= x_m < node_m[high], the ends apart */
    while (high - low > 1) {
        size_t middle = low + (high - low) / 2;
        if (m->node_m[middle] <= x_m)
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* ---- equations --------------------------------------------------------------------------------- */

bool bk_beam_is_span(const bk_beam_model *m, size_t segment)
{
    return segment >= m->first_support && segment - m->first_support + 1 < m->beam->n_supports;
}

static double span_length(const bk_beam_model *m, size_t span)
{
    return m->length_m[m->first_support + span];
}

static void place_nodes(bk_beam_model *m)
{
    const bk_beam *beam = m->beam;
    double nearest = NEAREST_SHARE * (beam->to_m - beam->from_m);
    size_t n = 0, last = beam->n_supports - 1;
    m->first_support = 0;
    if (beam->supports[0].at_m - beam->from_m > nearest) {
        m->node_m[n++] = beam->from_m;
        m->first_support = 1;
    }
    for (size_t i = 0; i < beam->n_supports; i++)
        m->node_m[n++] = beam->supports[i].at_m;
    if (beam->to_m - beam->supports[last].at_m > nearest) m->node_m[n++] = beam->to_m;
    m->n_nodes = n;
    m->n_segments = n - 1;
    for (size_t i = 0; i + 1 < n; i++)
        m->length_m[i] = m->node_m[i + 1] - m->node_m[i];
    m->first_unknown = beam->supports[0].fixed ? 0 : 1;
    size_t end = beam->supports[last].fixed ? last + 1 : last;
    m->n_unknowns = last > 0 && end > m->first_unknown ? (int)(end - m->first_unknown) : 0;
}

/* Row of D at support i: factors of v at i - 1, i, i + 1. */
static void differences(const bk_beam_model *m, size_t i, double d[3])
{
    double before = i > 0 ? 1 / span_length(m, i - 1) : 0;
    double after = i + 1 < m->beam->n_supports ? 1 / span_length(m, i) : 0;
    d[0] = before;
    d[1] = -before - after;
    d[2] = after;
}

static double give(const bk_beam_model *m, size_t support)
{
    return 1 / m->beam->supports[support].stiffness_N_m; /* 0 where rigid */
}

bool bk_beam_stands_still(const bk_beam_model *m, size_t node)
{
    size_t support = node - m->first_support; /* past the last at both tips */
    return support < m->beam->n_supports && give(m, support) == 0 &&
           m->beam->supports[support].settlement_m == 0;
}

/* band[3 c + d]: entry in column c, d rows above the diagonal. */
static void assemble(const bk_beam_model *m, double *band)
{
    double EI = m->beam->EI_Nm2;
    for (int c = 0; c < m->n_unknowns; c++) {
        size_t i = m->first_unknown + (size_t)c, last = m->beam->n_supports - 1;
        double here[3];
        differences(m, i, here);
        if (i > 0) band[3 * c] += span_length(m, i - 1) / (3 * EI);
        if (i < last) band[3 * c] += span_length(m, i) / (3 * EI);
        for (size_t s = 0; s < 3; s++)
            if (here[s] != 0) band[3 * c] += here[s] * here[s] * give(m, i + s - 1);
        for (int d = 1; d <= 2 && d <= c; d++) {
            double above[3]; /* row of D at support i - d */
            differences(m, i - (size_t)d, above);
            if (d == 1) {
                band[3 * c + 1] = span_length(m, i - 1) / (6 * EI) + here[0] * above[1] * give(m, i - 1) +
                                  here[1] * above[2] * give(m, i);
            } else {
                band[3 * c + 2] = here[0] * above[2] * give(m, i - 1);
            }
        }
    }
}

static bk_status factor(bk_beam_model *m)
{
    int n = m->n_unknowns;
    size_t room = (size_t)n + 1;
    double *band = BK_NEW(m->arena, double, 3 * room), *Ax = BK_NEW(m->arena, double, 3 * room);
    int *Ap = BK_NEW(m->arena, int, room), *Ai = BK_NEW(m->arena, int, 3 * room);
    int *work = BK_NEW(m->arena, int, 4 * room);
    m->Lp = BK_NEW(m->arena, int, room);
    m->Li = BK_NEW(m->arena, int, 3 * room);
    m->Lx = BK_NEW(m->arena, double, 3 * room);
    m->D = BK_NEW(m->arena, double, room);
    m->row = BK_NEW(m->arena, double, room);
    if (!band || !Ax || !Ap || !Ai || !work || !m->Lp || !m->Li || !m->Lx || !m->D || !m->row)
        return BK_E_NOMEM;
    assemble(m, band);
    int count = 0;
    for (int c = 0; c < n; c++) {
        Ap[c] = count;
        for (int d = c < 2 ? c : 2; d >= 0; d--) {
            Ai[count] = c - d;
            Ax[count++] = band[3 * c + d];
        }
    }
    Ap[n] = count;
    int *parent = work, *Lnz = work + n, *flag = work + 2 * n, *pattern = work + 3 * n;
    ldl_symbolic(n, Ap, Ai, m->Lp, parent, Lnz, flag, NULL, NULL);
    if (ldl_numeric(n, Ap, Ai, Ax, m->Lp, parent, Lnz, m->Li, m->Lx, m->D, m->row, pattern, flag, NULL,
                    NULL) != n)
        return BK_E_NO_CONVERGE;
    for (int c = 0; c < n; c++)
        if (!(m->D[c] > 0)) return BK_E_NO_CONVERGE;
    return BK_OK;
}

bk_status bk_beam_model_build(bk_beam_model *m, const bk_beam *beam, char *why, size_t why_size)
{
    bk_status status = check_sound(beam, why, why_size);
    if (status != BK_OK) return status;
    m->beam = beam;
    size_t n = beam->n_supports;
    double *all = BK_NEW(m->arena, double, 6 * n);
    m->node_m = BK_NEW(m->arena, double, n + 2);
    m->length_m = BK_NEW(m->arena, double, n + 1);
    if (!all || !m->node_m || !m->length_m) return BK_E_NOMEM;
    m->base = all, m->kink = all + n, m->hung = all + 2 * n;
    m->M = all + 3 * n, m->up = all + 4 * n, m->v = all + 5 * n;
    place_nodes(m);
    return factor(m);
}

static void nothing_set(bk_beam_model *m)
{
    memset(m->base, 0, 6 * m->beam->n_supports * sizeof *m->base);
}

/* Reactions and deflections of the supports from what is hung on them and the moments as they are. */
static void settle(bk_beam_model *m)
{
    size_t n = m->beam->n_supports;
    for (size_t i = 0; i < n; i++)
        m->up[i] = m->hung[i];
    for (size_t i = 0; i + 1 < n; i++) {
        double V = (m->M[i + 1] - m->M[i]) / span_length(m, i);
        m->up[i] += V;
        m->up[i + 1] -= V;
    }
    for (size_t i = 0; i < n; i++)
        m->v[i] = m->base[i] + m->up[i] * give(m, i);
}

/* Slope of a span at its ends without loads in it. */
static double slope_left(const bk_beam_model *m, size_t span)
{
    double L = span_length(m, span);
    return (m->v[span + 1] - m->v[span]) / L + L * (2 * m->M[span] + m->M[span + 1]) / (6 * m->beam->EI_Nm2);
}
static double slope_right(const bk_beam_model *m, size_t span)
{
    double L = span_length(m, span);
    return (m->v[span + 1] - m->v[span]) / L - L * (m->M[span] + 2 * m->M[span + 1]) / (6 * m->beam->EI_Nm2);
}

/* Finds M, up and v; M that is not unknown must be set, the rest of it 0. */
static void respond(bk_beam_model *m)
{
    settle(m);
    if (m->n_unknowns == 0) return;
    for (int r = 0; r < m->n_unknowns; r++) {
        size_t i = m->first_unknown + (size_t)r;
        m->row[r] = m->kink[i];
        if (i + 1 < m->beam->n_supports) m->row[r] -= slope_left(m, i);
        if (i > 0) m->row[r] += slope_right(m, i - 1);
    }
    ldl_lsolve(m->n_unknowns, m->row, m->Lp, m->Li, m->Lx);
    ldl_dsolve(m->n_unknowns, m->row, m->D);
    ldl_ltsolve(m->n_unknowns, m->row, m->Lp, m->Li, m->Lx);
    for (int r = 0; r < m->n_unknowns; r++)
        m->M[m->first_unknown + (size_t)r] = m->row[r];
    settle(m);
}

/* ---- one standing state ------------------------------------------------------------------------ */

static double within(double x, double low, double high)
{
    return x < low ? low : x > high ? high : x;
}

/* False when memory is out. */
static bool add_piece(const bk_beam_model *m, bk_beam_solution *s, bk_beam_piece piece)
{
    bk_beam_piece *p = bk_arena_push(m->arena, &s->pieces, &s->n_pieces, &s->room, sizeof *p);
    if (p) *p = piece;
    return p != NULL;
}

static bool cut_force(const bk_beam_model *m, bk_beam_solution *s, double x_m, double force)
{
    const size_t at = bk_beam_segment_at(m, x_m);
    const double x = within(x_m - m->node_m[at], 0, m->length_m[at]);
    return force == 0 || add_piece(m, s, (bk_beam_piece){at, x, x, force, 0});
}

static bool cut_uniform(const bk_beam_model *m, bk_beam_solution *s, double from_m, double to_m, double per_metre)
{
    bool ok = true;
    for (size_t at = bk_beam_segment_at(m, from_m); ok && at < m->n_segments && m->node_m[at] < to_m; at++) {
        const double L = m->length_m[at];
        const double from = within(from_m - m->node_m[at], 0, L), to = within(to_m - m->node_m[at], 0, L);
        ok = per_metre == 0 || to <= from || add_piece(m, s, (bk_beam_piece){at, from, to, 0, per_metre});
    }
    return ok;
}

/* Pieces by segment, else in the order they came in. */
static bool sort_pieces(const bk_beam_model *m, bk_beam_solution *s)
{
    bk_beam_piece *sorted = BK_NEW(m->arena, bk_beam_piece, s->n_pieces);
    if (!sorted) return false;
    for (size_t i = 0; i < s->n_pieces; i++)
        s->first_piece[s->pieces[i].segment]++;
    for (size_t at = 1; at <= m->n_segments; at++)
        s->first_piece[at] += s->first_piece[at - 1]; /* where a segment's pieces end */
    for (size_t i = s->n_pieces; i-- > 0;)
        sorted[--s->first_piece[s->pieces[i].segment]] = s->pieces[i];
    s->pieces = sorted;
    return true;
}

static bk_status cut_loads(const bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                           bk_beam_solution *s)
{
    const bk_beam *beam = m->beam;
    s->n_pieces = s->room = 0;
    s->first_piece = BK_NEW(m->arena, size_t, m->n_segments + 1);
    bool ok = s->first_piece && cut_uniform(m, s, beam->from_m, beam->to_m, beam->self_N_m);
    for (size_t i = 0; ok && i < beam->n_loads; i++) {
        const bk_beam_load *l = &beam->loads[i];
        ok = cut_force(m, s, l->from_m, l->force_N) && cut_uniform(m, s, l->from_m, l->to_m, l->per_metre_N_m);
    }
    for (size_t i = 0; ok && i < n; i++)
        ok = cut_force(m, s, x_m[i], force_N[i]);
    return ok && sort_pieces(m, s) ? BK_OK : BK_E_NOMEM;
}

static double cube(double x)
{
    return x * x * x;
}

/* What a load does to a simple span: its force on the left and right end, and EI times the slopes it makes
 * there, both as positive numbers.  A uniform part is the integral of the same over a force's place. */
static void load_span(double L, const bk_beam_piece *p, double force[2], double slope[2])
{
    if (p->per_metre != 0) {
        double a = p->from, b = p->to, w = p->per_metre;
        double square = b * b - a * a, fourth = square * (b * b + a * a);
        force[1] = w * square / (2 * L);
        force[0] = w * (b - a) - force[1];
        slope[0] = w * (L * L * square - L * (cube(b) - cube(a)) + fourth / 4) / (6 * L);
        slope[1] = w * (L * L * square / 2 - fourth / 4) / (6 * L);
        return;
    }
    double a = p->from, b = L - a;
    force[0] = p->force * b / L;
    force[1] = p->force * a / L;
    slope[0] = p->force * a * b * (L + b) / (6 * L);
    slope[1] = p->force * a * b * (L + a) / (6 * L);
}

/* Loads of the spans hang on the supports and kink the beam there; loads of an overhang hang on its support
 * and bend the beam over it, into the span unless the support holds the slope.  load_slope (2 n_segments):
 * slopes the loads make at each span's ends. */
static void put_loads(bk_beam_model *m, bk_beam_solution *s, double *load_slope)
{
    size_t last = m->beam->n_supports - 1;
    for (size_t i = 0; i < s->n_pieces; i++) {
        const bk_beam_piece *p = &s->pieces[i];
        double L = m->length_m[p->segment], force[2], slope[2];
        if (bk_beam_is_span(m, p->segment)) {
            size_t span = p->segment - m->first_support;
            load_span(L, p, force, slope);
            for (size_t e = 0; e < 2; e++) {
                m->hung[span + e] += force[e];
                m->kink[span + e] -= slope[e] / m->beam->EI_Nm2;
                load_slope[2 * p->segment + e] += slope[e] / m->beam->EI_Nm2;
            }
            s->start[p->segment].V += force[0];
            continue;
        }
        bool right = p->segment >= m->first_support;
        size_t support = right ? last : 0;
        double length = p->to - p->from, down = p->per_metre != 0 ? p->per_metre * length : p->force;
        double middle = p->from + length / 2, arm = right ? middle : L - middle;
        m->hung[support] += down;
        if (right) {
            s->start[p->segment].M -= down * arm;
            s->start[p->segment].V += down;
        }
        if (!m->beam->supports[support].fixed) m->M[support] -= down * arm;
    }
}

/* Moment and shear are known at the start of every segment; v and slope from the supports outward. */
static void start_segments(const bk_beam_model *m, bk_beam_solution *s, const double *load_slope)
{
    size_t n = m->beam->n_supports, last = n - 1;
    for (size_t span = 0; span + 1 < n; span++) {
        size_t at = m->first_support + span;
        struct bk_beam_start *start = &s->start[at];
        start->M = m->M[span];
        start->V += (m->M[span + 1] - m->M[span]) / span_length(m, span);
        start->v = m->v[span];
        start->slope = slope_left(m, span) + load_slope[2 * at];
    }
    if (m->first_support + last < m->n_segments) {
        struct bk_beam_start *start = &s->start[m->first_support + last];
        start->v = m->v[last];
        if (!m->beam->supports[last].fixed)
            start->slope = slope_right(m, last - 1) - load_slope[2 * (m->first_support + last - 1) + 1];
    }
    if (m->first_support > 0) {
        /* from the support back to the tip: what the loads between bend is known from v and slope 0 there */
        double L = m->length_m[0], slope = m->beam->supports[0].fixed ? 0 : s->start[1].slope;
        double bent = bk_beam_solution_at(m, s, BK_FIGURE_DEFLECTION, 0, L), turned = 0;
        for (size_t i = s->first_piece[0]; i < s->first_piece[1]; i++) {
            const bk_beam_piece *p = &s->pieces[i];
            double a = L - p->from, b = L - p->to;
            turned += p->per_metre != 0 ? p->per_metre * (cube(a) - cube(b)) / 6 : p->force * a * a / 2;
        }
        s->start[0].slope = slope - turned / m->beam->EI_Nm2;
        s->start[0].v = m->v[0] - s->start[0].slope * L - bent;
    }
}

/* A state is a state only if it balances: the reactions against all that presses down, to 1e-9 of what acts.
 */
static bool balances(const bk_beam_model *m, const bk_beam_solution *s)
{
    double sum = 0, acts = 0;
    for (size_t i = 0; i < s->n_pieces; i++) {
        double down = s->pieces[i].force + s->pieces[i].per_metre * (s->pieces[i].to - s->pieces[i].from);
        sum -= down;
        acts += fabs(down);
    }
    for (size_t i = 0; i < m->beam->n_supports; i++) {
        sum += s->up[i];
        acts += fabs(s->up[i]);
    }
    return fabs(sum) <= BALANCE_SHARE * acts;
}

bk_status bk_beam_stand(bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                        bk_beam_solution *out)
{
    size_t n_supports = m->beam->n_supports;
    out->start = bk_arena_alloc(m->arena, m->n_segments, sizeof *out->start);
    out->up = BK_NEW(m->arena, double, n_supports);
    double *load_slope = BK_NEW(m->arena, double, 2 * m->n_segments);
    if (!out->start || !out->up || !load_slope) return BK_E_NOMEM;
    bk_status status = cut_loads(m, n, x_m, force_N, out);
    if (status != BK_OK) return status;
    nothing_set(m);
    put_loads(m, out, load_slope);
    for (size_t i = 0; i < n_supports; i++)
        m->base[i] = m->beam->supports[i].settlement_m;
    respond(m);
    memcpy(out->up, m->up, n_supports * sizeof *out->up);
    start_segments(m, out, load_slope);
    return balances(m, out) ? BK_OK : BK_E_NO_CONVERGE;
}

double bk_beam_solution_at(const bk_beam_model *m, const bk_beam_solution *s, bk_beam_figure figure,
                           size_t segment, double x)
{
    const struct bk_beam_start *start = &s->start[segment];
    double M = start->M + start->V * x, V = start->V, bend = x * x * (start->M / 2 + start->V * x / 6);
    for (size_t i = s->first_piece[segment]; i < s->first_piece[segment + 1]; i++) {
        const bk_beam_piece *p = &s->pieces[i];
        if (p->per_metre != 0) {
            double a = fmax(x - p->from, 0), b = fmax(x - p->to, 0);
            V -= p->per_metre * (a - b);
            M -= p->per_metre * (a * a - b * b) / 2;
            bend -= p->per_metre * (a * cube(a) - b * cube(b)) / 24;
        } else if (p->from <= x && p->from < m->length_m[segment]) {
            double a = fmax(x - p->from, 0);
            V -= p->force;
            M -= p->force * a;
            bend -= p->force * cube(a) / 6;
        }
    }
    switch (figure) {
    case BK_FIGURE_MOMENT:
        return M;
    case BK_FIGURE_SHEAR:
        return V;
    case BK_FIGURE_DEFLECTION:
        break;
    }
    return start->v + start->slope * x - bend / m->beam->EI_Nm2;
}

/* ---- influence lines --------------------------------------------------------------------------- */

/* Deflected shape of the state that the supports are in, no loads between them. */
static void take_shape(const bk_beam_model *m, double *y)
{
    size_t n = m->beam->n_supports, last = n - 1;
    for (size_t span = 0; span + 1 < n; span++) {
        double *end = y + 4 * (m->first_support + span);
        end[0] = m->v[span];
        end[1] = slope_left(m, span);
        end[2] = m->v[span + 1];
        end[3] = slope_right(m, span);
    }
    if (m->first_support > 0) {
        y[1] = y[3] = m->beam->supports[0].fixed ? 0 : slope_left(m, 0);
        y[2] = m->v[0];
        y[0] = y[2] - y[1] * m->length_m[0];
    }
    if (m->first_support + last < m->n_segments) {
        double *end = y + 4 * (m->first_support + last);
        end[1] = end[3] = m->beam->supports[last].fixed ? 0 : slope_right(m, last - 1);
        end[0] = m->v[last];
        end[2] = end[0] + end[1] * m->length_m[m->first_support + last];
    }
}

/* Moment at a support, on the span's side.  Unknown: the beam kinked there by -1.  Known, over a hinged end:
 * only a newton on the overhang makes any, minus its arm. */
static void moment_shape(bk_beam_model *m, size_t support, double *y)
{
    size_t first = m->first_unknown, last = m->beam->n_supports - 1;
    if (support >= first && support < first + (size_t)m->n_unknowns) {
        m->kink[support] = -1;
        respond(m);
        take_shape(m, y);
    } else if (support == 0 && m->first_support > 0) {
        y[0] = -m->length_m[0];
        y[1] = y[3] = 1;
    } else if (support == last && m->first_support + last < m->n_segments) {
        double *end = y + 4 * (m->first_support + last);
        end[2] = -m->length_m[m->first_support + last];
        end[1] = end[3] = -1;
    }
}

/* Slope over an end support: the beam under a moment of 1 there, turning with it. */
static void slope_shape(bk_beam_model *m, size_t support, double *y)
{
    if (m->beam->supports[support].fixed) return;
    m->M[support] = support == 0 ? 1 : -1;
    respond(m);
    take_shape(m, y);
}

static void deflection_shape(bk_beam_model *m, size_t support, double *y)
{
    if (give(m, support) == 0) return;
    m->hung[support] = 1;
    respond(m);
    take_shape(m, y);
}

void bk_beam_segment_shape(bk_beam_model *m, size_t segment, size_t which, double *y)
{
    memset(y, 0, 4 * m->n_segments * sizeof *y);
    nothing_set(m);
    if (bk_beam_is_span(m, segment)) {
        size_t support = segment - m->first_support + which % 2;
        if (which < 2)
            moment_shape(m, support, y);
        else
            deflection_shape(m, support, y);
        return;
    }
    size_t support = segment < m->first_support ? 0 : m->beam->n_supports - 1;
    if (which == 2) deflection_shape(m, support, y);
    if (which == 3) slope_shape(m, support, y);
}

/* The beam when what the support stands on moves down by 1. */
void bk_beam_reaction_shape(bk_beam_model *m, size_t support, double *y)
{
    nothing_set(m);
    m->base[support] = 1;
    respond(m);
    take_shape(m, y);
}

size_t bk_beam_section_takes(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                             double takes[4])
{
    double L = m->length_m[segment], EI = m->beam->EI_Nm2, t = x / L;
    if (!bk_beam_is_span(m, segment)) {
        takes[0] = takes[1] = 0;
        takes[2] = 1;
        takes[3] = segment < m->first_support ? x - L : x;
        return figure == BK_FIGURE_DEFLECTION ? 4 : 0;
    }
    switch (figure) {
    case BK_FIGURE_MOMENT:
        takes[0] = 1 - t;
        takes[1] = t;
        return 2;
    case BK_FIGURE_SHEAR:
        takes[0] = -1 / L;
        takes[1] = 1 / L;
        return 2;
    case BK_FIGURE_DEFLECTION:
        break;
    }
    takes[0] = x * (1 - t) * (2 * L - x) / (6 * EI);
    takes[1] = x * (1 - t) * (L + x) / (6 * EI);
    takes[2] = 1 - t;
    takes[3] = t;
    size_t support = segment - m->first_support;
    return give(m, support) == 0 && give(m, support + 1) == 0 ? 2 : 4;
}

static void set4(double c[4], double c0, double c1, double c2, double c3)
{
    c[0] = c0;
    c[1] = c1;
    c[2] = c2;
    c[3] = c3;
}

/* Span: simple beam.  Overhang: cantilever. */
void bk_beam_section_own(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                         double own[4], double left[4])
{
    double L = m->length_m[segment], EI = m->beam->EI_Nm2;
    bool span = bk_beam_is_span(m, segment), left_overhang = segment < m->first_support;
    switch (figure) {
    case BK_FIGURE_MOMENT:
        if (span)
            set4(own, x, -x / L, 0, 0);
        else
            set4(own, left_overhang ? 0 : x, left_overhang ? 0 : -1, 0, 0);
        set4(left, -x, 1, 0, 0);
        return;
    case BK_FIGURE_SHEAR:
        set4(own, left_overhang ? 0 : 1, span ? -1 / L : 0, 0, 0);
        set4(left, -1, 0, 0, 0);
        return;
    case BK_FIGURE_DEFLECTION:
        break;
    }
    double unit = 1 / (6 * EI);
    if (span) {
        double by = x * unit / L;
        set4(own, -L * x * x * by, (2 * L * L + x * x) * by, -3 * L * by, by);
    } else if (left_overhang) {
        set4(own, L * L * (2 * L - 3 * x) * unit, (6 * L * x - 3 * L * L) * unit, -3 * x * unit, unit);
    } else {
        set4(own, -cube(x) * unit, 3 * x * x * unit, 0, 0);
    }
    set4(left, cube(x) * unit, -3 * x * x * unit, 3 * x * unit, -unit);
}

/* ---- one state, for the caller ----------------------------------------------------------------- */

static bk_status stand_with_trains(bk_beam_model *m, const double *train_m, const bool *train_loaded,
                                   bk_beam_solution *out)
{
    const bk_beam *beam = m->beam;
    size_t n = 0;
    double *x = BK_NEW(m->arena, double, beam->n_trains *BK_WHEEL_LINES_MAX);
    double *force = BK_NEW(m->arena, double, beam->n_trains *BK_WHEEL_LINES_MAX);
    if (!x || !force) return BK_E_NOMEM;
    for (size_t i = 0; i < beam->n_trains; i++) {
        const bk_beam_train *t = &beam->trains[i];
        for (size_t k = 0; k < t->n_lines; k++, n++) {
            x[n] = train_m[i] + t->offset_m[k];
            force[n] = (train_loaded[i] ? t->loaded_N : t->empty_N) / (double)t->n_lines;
            if (!on_beam(beam, x[n])) return BK_E_VALUE;
        }
    }
    return bk_beam_stand(m, n, x, force, out);
}

bk_status bk_beam_state(const bk_beam *beam, const double *train_m, const bool *train_loaded,
                        double *reaction_N, size_t n, const double *x_m, double *moment_Nm, double *shear_N,
                        double *deflection_m)
{
    bk_beam_model m = {.arena = bk_arena_new()};
    bk_beam_solution s;
    if (!m.arena) return BK_E_NOMEM;
    bk_status status = bk_beam_model_build(&m, beam, NULL, 0);
    if (status == BK_OK) status = stand_with_trains(&m, train_m, train_loaded, &s);
    for (size_t i = 0; status == BK_OK && reaction_N && i < beam->n_supports; i++)
        reaction_N[i] = s.up[i];
    for (size_t i = 0; status == BK_OK && i < n; i++) {
        if (!on_beam(beam, x_m[i])) {
            status = BK_E_VALUE;
            break;
        }
        size_t at = bk_beam_segment_at(&m, x_m[i]);
        double x = within(x_m[i] - m.node_m[at], 0, m.length_m[at]);
        if (moment_Nm) moment_Nm[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_MOMENT, at, x);
        if (shear_N) shear_N[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_SHEAR, at, x);
        if (deflection_m) deflection_m[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_DEFLECTION, at, x);
    }
    bk_arena_free(m.arena);
    return status;
}
