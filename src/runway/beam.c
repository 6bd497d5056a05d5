/* beam.c: a straight beam of constant EI on any supports, by displacements, factored once.
 *
 * Why displacements and not the three-moment equations: rigid, elastic, settled and fixed supports and the
 * free ends of overhangs are one kind of node, with v and v' held or not; on rigid supports what is left is
 * the tridiagonal dual of the three-moment equations, as well conditioned for the most uneven spans.
 *
 *      v1,v1'                v2,v2'          EI v'' = -M,  M' = V,  V' = -w
 *        o---------------------o             v, loads down +; reactions up +; M sagging +
 *        0 ----> x             L
 *
 * Formulae (s = x/L; cubic beam element, in any text on matrix analysis of frames; common practice):
 *   v(x)   = N1 v1 + N2 v1' + N3 v2 + N4 v2'  (+ the clamped segment's own deflection)
 *   N1 = 1 - 3s2 + 2s3, N2 = L (s - 2s2 + s3), N3 = 3s2 - 2s3, N4 = L (s3 - s2)
 *   A force P at a in a clamped segment: RA = P N1(a), MA = -P N2(a), RB = P N3(a), MB = P N4(a)
 *   (so P puts P Ni(a) on the nodes); uniform parts are the integrals of the same.
 *   Inside a segment: M = M0 + V0 x - sum P (x - a)+ - ..., and v by integrating that twice.
 *
 * Limits: bending only (no shear strain); supports hold down as well as up, so an uplift is a negative
 * reaction and not a lost support.
 */
#include "beam.h"

#include <suitesparse/ldl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Two nodes nearer than this share of the beam's length are a mistake (supports), or one (an overhang):
 * a segment's stiffness grows with 1/L3 and would drown its neighbours'. */
#define NEAREST_SHARE 1e-6
/* Rounding of a sum of two lengths, as a share of the beam's length. */
#define ROUNDING_SHARE 1e-9

static bk_status unsound(char *why, size_t why_size, const char *text, size_t index)
{
    if (why && why_size) snprintf(why, why_size, text, index + 1);
    return BK_E_VALUE;
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
        if (s->at_m < beam->from_m - ROUNDING_SHARE * length ||
            s->at_m > beam->to_m + ROUNDING_SHARE * length)
            return unsound(why, why_size, "support %zu stands outside the beam's ends", i);
        if (i > 0 && !(s->at_m - beam->supports[i - 1].at_m > NEAREST_SHARE * length))
            return unsound(why, why_size, "support %zu does not stand clear beyond the one before it", i);
        if (s->fixed && i > 0 && i + 1 < beam->n_supports)
            return unsound(why, why_size, "support %zu: only the first or the last support can be fixed", i);
        holds_slope = holds_slope || s->fixed;
    }
    if (beam->n_supports == 0 || (beam->n_supports == 1 && !holds_slope))
        return unsound(why, why_size, "the beam needs two supports, or one that is fixed", 0);
    if (beam->n_supports > BK_BEAM_SUPPORTS_MAX)
        return unsound(why, why_size, "more supports than a beam may have", 0);
    return BK_OK;
}

static bk_status check_loads(const bk_beam *beam, char *why, size_t why_size)
{
    double slack = ROUNDING_SHARE * (beam->to_m - beam->from_m);
    double from = beam->from_m - slack, to = beam->to_m + slack;
    for (size_t i = 0; i < beam->n_loads; i++) {
        const bk_beam_load *l = &beam->loads[i];
        if (!isfinite(l->force_N) || !isfinite(l->per_metre_N_m) || !(l->from_m >= from && l->from_m <= to))
            return unsound(why, why_size, "standing load %zu: no number, or outside the beam's ends", i);
        if (l->per_metre_N_m != 0 && !(l->to_m >= l->from_m && l->to_m <= to))
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
            if (!(t->from_m + t->offset_m[k] >= from && t->to_m + t->offset_m[k] <= to))
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

/* ---- stiffness --------------------------------------------------------------------------------- */

static void segment_stiffness(double EI, double L, double k[4][4])
{
    double a = 12 * EI / (L * L * L), b = 6 * EI / (L * L), c = 4 * EI / L, d = 2 * EI / L;
    double full[4][4] = {{a, b, -a, b}, {b, c, -b, d}, {-a, -b, a, -b}, {b, d, -b, c}};
    memcpy(k, full, sizeof full);
}

static void place_nodes(bk_beam_model *m)
{
    const bk_beam *beam = m->beam;
    double nearest = NEAREST_SHARE * (beam->to_m - beam->from_m);
    size_t n = 0;
    m->first_support = 0;
    if (beam->supports[0].at_m - beam->from_m > nearest) {
        m->node_m[n++] = beam->from_m;
        m->first_support = 1;
    }
    for (size_t i = 0; i < beam->n_supports; i++)
        m->node_m[n++] = beam->supports[i].at_m;
    if (beam->to_m - beam->supports[beam->n_supports - 1].at_m > nearest) m->node_m[n++] = beam->to_m;
    m->n_nodes = n;
    m->n_segments = n - 1;
    for (size_t i = 0; i + 1 < n; i++)
        m->length_m[i] = m->node_m[i + 1] - m->node_m[i];
    m->n_unknowns = 0;
    for (size_t i = 0; i < n; i++) {
        bool held = false, fixed = false;
        if (i >= m->first_support && i - m->first_support < beam->n_supports) {
            held = isinf(beam->supports[i - m->first_support].stiffness_N_m);
            fixed = beam->supports[i - m->first_support].fixed;
        }
        m->unknown[2 * i] = held ? -1 : m->n_unknowns++;
        m->unknown[2 * i + 1] = fixed ? -1 : m->n_unknowns++;
    }
}

/* The unknowns of one segment are neighbours, so four diagonals hold the matrix: band[4 c + d] is the
 * entry in column c, d rows above its diagonal. */
static void assemble(const bk_beam_model *m, double *band)
{
    for (size_t s = 0; s < m->n_segments; s++) {
        double k[4][4];
        segment_stiffness(m->beam->EI_Nm2, m->length_m[s], k);
        for (size_t i = 0; i < 4; i++)
            for (size_t j = 0; j < 4; j++) {
                int row = m->unknown[2 * s + i], column = m->unknown[2 * s + j];
                if (row >= 0 && row <= column) band[4 * column + (column - row)] += k[i][j];
            }
    }
    for (size_t i = 0; i < m->beam->n_supports; i++) {
        int v = m->unknown[2 * (m->first_support + i)];
        if (v >= 0) band[4 * v] += m->beam->supports[i].stiffness_N_m;
    }
}

static bk_status factor(bk_beam_model *m)
{
    int n = m->n_unknowns;
    size_t room = (size_t)n + 1;
    double *band = BK_NEW(m->arena, double, 4 * room), *Ax = BK_NEW(m->arena, double, 4 * room);
    int *Ap = BK_NEW(m->arena, int, room), *Ai = BK_NEW(m->arena, int, 4 * room);
    int *work = BK_NEW(m->arena, int, 4 * room);
    m->Lp = BK_NEW(m->arena, int, room);
    m->Li = BK_NEW(m->arena, int, 4 * room);
    m->Lx = BK_NEW(m->arena, double, 4 * room);
    m->D = BK_NEW(m->arena, double, room);
    m->row = BK_NEW(m->arena, double, room);
    if (!band || !Ax || !Ap || !Ai || !work || !m->Lp || !m->Li || !m->Lx || !m->D || !m->row)
        return BK_E_NOMEM;
    assemble(m, band);
    int count = 0;
    for (int c = 0; c < n; c++) {
        Ap[c] = count;
        for (int d = c < 3 ? c : 3; d >= 0; d--) {
            Ai[count] = c - d;
            Ax[count++] = band[4 * c + d];
        }
    }
    Ap[n] = count;
    int *parent = work, *Lnz = work + n, *flag = work + 2 * n, *pattern = work + 3 * n;
    ldl_symbolic(n, Ap, Ai, m->Lp, parent, Lnz, flag, NULL, NULL);
    if (ldl_numeric(n, Ap, Ai, Ax, m->Lp, parent, Lnz, m->Li, m->Lx, m->D, m->row, pattern, flag, NULL,
                    NULL) != n)
        return BK_E_VALUE;
    for (int c = 0; c < n; c++)
        if (!(m->D[c] > 0) || !isfinite(m->D[c])) return BK_E_VALUE;
    return BK_OK;
}

bk_status bk_beam_model_build(bk_beam_model *m, const bk_beam *beam, char *why, size_t why_size)
{
    bk_status status = check_sound(beam, why, why_size);
    if (status != BK_OK) return status;
    m->beam = beam;
    m->node_m = BK_NEW(m->arena, double, beam->n_supports + 2);
    m->length_m = BK_NEW(m->arena, double, beam->n_supports + 1);
    m->unknown = BK_NEW(m->arena, int, 2 * (beam->n_supports + 2));
    if (!m->node_m || !m->length_m || !m->unknown) return BK_E_NOMEM;
    place_nodes(m);
    status = factor(m);
    if (status == BK_E_VALUE) return unsound(why, why_size, "the supports do not hold the beam", 0);
    return status;
}

/* m->row in, shape out: rows of what is held stay as the caller set them. */
static void solve(bk_beam_model *m, double *shape)
{
    ldl_lsolve(m->n_unknowns, m->row, m->Lp, m->Li, m->Lx);
    ldl_dsolve(m->n_unknowns, m->row, m->D);
    ldl_ltsolve(m->n_unknowns, m->row, m->Lp, m->Li, m->Lx);
    for (size_t i = 0; i < 2 * m->n_nodes; i++)
        if (m->unknown[i] >= 0) shape[i] = m->row[m->unknown[i]];
}

/* ---- one standing state ------------------------------------------------------------------------ */

static void force_shares(double L, double a, double share[4])
{
    double s = a / L;
    share[0] = 1 - s * s * (3 - 2 * s);
    share[1] = a * (1 - s) * (1 - s);
    share[2] = s * s * (3 - 2 * s);
    share[3] = -a * s * (1 - s);
}

/* Integrals of the same from 0 to a. */
static void uniform_shares(double L, double a, double share[4])
{
    double s = a / L;
    share[0] = a * (1 - s * s * (1 - s / 2));
    share[1] = a * a * (1.0 / 2 - s * (2.0 / 3 - s / 4));
    share[2] = a * s * s * (1 - s / 2);
    share[3] = a * a * s * (s / 4 - 1.0 / 3);
}

static int by_segment(const void *a, const void *b)
{
    const bk_beam_piece *p = a, *q = b;
    if (p->segment != q->segment) return p->segment < q->segment ? -1 : 1;
    return p->from < q->from ? -1 : p->from > q->from;
}

static double within(double x, double low, double high)
{
    return x < low ? low : x > high ? high : x;
}

static void cut_force(const bk_beam_model *m, bk_beam_solution *s, double x_m, double force)
{
    if (force == 0) return;
    size_t at = bk_beam_segment_at(m, x_m);
    double x = within(x_m - m->node_m[at], 0, m->length_m[at]);
    s->pieces[s->n_pieces++] = (bk_beam_piece){at, x, x, force, 0};
}

static void cut_uniform(const bk_beam_model *m, bk_beam_solution *s, double from_m, double to_m,
                        double per_metre)
{
    if (per_metre == 0) return;
    for (size_t at = bk_beam_segment_at(m, from_m); at < m->n_segments && m->node_m[at] < to_m; at++) {
        double L = m->length_m[at];
        double from = within(from_m - m->node_m[at], 0, L), to = within(to_m - m->node_m[at], 0, L);
        if (to > from) s->pieces[s->n_pieces++] = (bk_beam_piece){at, from, to, 0, per_metre};
    }
}

static bk_status cut_loads(const bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                           bk_beam_solution *s)
{
    const bk_beam *beam = m->beam;
    size_t uniform = beam->self_N_m != 0;
    for (size_t i = 0; i < beam->n_loads; i++)
        uniform += beam->loads[i].per_metre_N_m != 0;
    s->n_pieces = 0;
    s->pieces = BK_NEW(m->arena, bk_beam_piece, uniform * m->n_segments + beam->n_loads + n + 1);
    s->first_piece = BK_NEW(m->arena, size_t, m->n_segments + 1);
    if (!s->pieces || !s->first_piece) return BK_E_NOMEM;
    cut_uniform(m, s, m->node_m[0], m->node_m[m->n_nodes - 1], beam->self_N_m);
    for (size_t i = 0; i < beam->n_loads; i++) {
        const bk_beam_load *l = &beam->loads[i];
        cut_force(m, s, l->from_m, l->force_N);
        cut_uniform(m, s, l->from_m, l->to_m, l->per_metre_N_m);
    }
    for (size_t i = 0; i < n; i++)
        cut_force(m, s, x_m[i], force_N[i]);
    qsort(s->pieces, s->n_pieces, sizeof *s->pieces, by_segment);
    for (size_t at = 0, i = 0; at <= m->n_segments; at++) {
        while (i < s->n_pieces && s->pieces[i].segment < at)
            i++;
        s->first_piece[at] = i;
    }
    return BK_OK;
}

/* Loads on the nodes; M0 and V0 of each segment as if its ends were clamped. */
static void put_loads(const bk_beam_model *m, bk_beam_solution *s, double *on_nodes)
{
    for (size_t i = 0; i < s->n_pieces; i++) {
        const bk_beam_piece *p = &s->pieces[i];
        double L = m->length_m[p->segment], share[4], before[4];
        if (p->per_metre != 0) {
            uniform_shares(L, p->to, share);
            uniform_shares(L, p->from, before);
        } else {
            force_shares(L, p->from, share);
        }
        for (size_t k = 0; k < 4; k++) {
            double q = p->per_metre != 0 ? p->per_metre * (share[k] - before[k]) : p->force * share[k];
            on_nodes[2 * p->segment + k] += q;
            if (k == 0) s->V0[p->segment] += q;
            if (k == 1) s->M0[p->segment] -= q;
        }
    }
}

static void settle(const bk_beam_model *m, bk_beam_solution *s, double *on_nodes)
{
    for (size_t i = 0; i < m->beam->n_supports; i++) {
        const bk_beam_support *support = &m->beam->supports[i];
        size_t v = 2 * (m->first_support + i);
        if (m->unknown[v] < 0)
            s->u[v] = support->settlement_m;
        else
            on_nodes[v] += support->stiffness_N_m * support->settlement_m;
    }
    for (size_t at = 0; at < m->n_segments; at++) {
        double k[4][4];
        segment_stiffness(m->beam->EI_Nm2, m->length_m[at], k);
        for (size_t i = 0; i < 4; i++)
            for (size_t j = 0; j < 4; j++)
                if (m->unknown[2 * at + j] < 0) on_nodes[2 * at + i] -= k[i][j] * s->u[2 * at + j];
    }
}

/* A state is a state only if it balances: the reactions against all that presses down, to 1e-9 of what acts.
 * Supports and segments whose stiffnesses lie ten powers apart lose it to rounding. */
static bool balances(const bk_beam_model *m, const bk_beam_solution *s)
{
    double sum = 0, acts = 0;
    for (size_t i = 0; i < s->n_pieces; i++) {
        double down = s->pieces[i].force + s->pieces[i].per_metre * (s->pieces[i].to - s->pieces[i].from);
        sum -= down;
        acts += fabs(down);
    }
    for (size_t i = 0; i < m->beam->n_supports; i++) {
        double up = bk_beam_solution_reaction(m, s, i);
        sum += up;
        acts += fabs(up);
    }
    return fabs(sum) <= BALANCE_SHARE * acts;
}

bk_status bk_beam_stand(bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                        bk_beam_solution *out)
{
    out->u = BK_NEW(m->arena, double, 2 * m->n_nodes);
    out->M0 = BK_NEW(m->arena, double, m->n_segments);
    out->V0 = BK_NEW(m->arena, double, m->n_segments);
    double *on_nodes = BK_NEW(m->arena, double, 2 * m->n_nodes);
    if (!out->u || !out->M0 || !out->V0 || !on_nodes) return BK_E_NOMEM;
    bk_status status = cut_loads(m, n, x_m, force_N, out);
    if (status != BK_OK) return status;
    put_loads(m, out, on_nodes);
    settle(m, out, on_nodes);
    for (size_t i = 0; i < 2 * m->n_nodes; i++)
        if (m->unknown[i] >= 0) m->row[m->unknown[i]] = on_nodes[i];
    solve(m, out->u);
    for (size_t at = 0; at < m->n_segments; at++) {
        double moment[4], shear[4];
        bk_beam_section_takes(m, BK_FIGURE_MOMENT, at, 0, moment);
        bk_beam_section_takes(m, BK_FIGURE_SHEAR, at, 0, shear);
        for (size_t k = 0; k < 4; k++) {
            out->M0[at] += moment[k] * out->u[2 * at + k];
            out->V0[at] += shear[k] * out->u[2 * at + k];
        }
    }
    return balances(m, out) ? BK_OK : BK_E_NO_CONVERGE;
}

static double cube(double x)
{
    return x * x * x;
}

double bk_beam_solution_at(const bk_beam_model *m, const bk_beam_solution *s, bk_beam_figure figure,
                           size_t segment, double x, double split)
{
    double M = s->M0[segment] + s->V0[segment] * x, V = s->V0[segment];
    double bend = x * x * (s->M0[segment] / 2 + s->V0[segment] * x / 6);
    for (size_t i = s->first_piece[segment]; i < s->first_piece[segment + 1]; i++) {
        const bk_beam_piece *p = &s->pieces[i];
        if (p->per_metre != 0) {
            double a = fmax(x - p->from, 0), b = fmax(x - p->to, 0);
            V -= p->per_metre * (a - b);
            M -= p->per_metre * (a * a - b * b) / 2;
            bend -= p->per_metre * (a * cube(a) - b * cube(b)) / 24;
        } else if (p->from <= split) {
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
    return s->u[2 * segment] + s->u[2 * segment + 1] * x - bend / m->beam->EI_Nm2;
}

double bk_beam_solution_reaction(const bk_beam_model *m, const bk_beam_solution *s, size_t support)
{
    size_t node = m->first_support + support;
    double right = node < m->n_segments ? s->V0[node] : 0;
    if (node == 0) return right;
    double L = m->length_m[node - 1];
    return right - bk_beam_solution_at(m, s, BK_FIGURE_SHEAR, node - 1, L, L);
}

/* ---- influence lines --------------------------------------------------------------------------- */

void bk_beam_node_shape(bk_beam_model *m, size_t node, bool slope, double *shape)
{
    memset(shape, 0, 2 * m->n_nodes * sizeof *shape);
    int at = m->unknown[2 * node + slope];
    if (at < 0) return;
    memset(m->row, 0, (size_t)m->n_unknowns * sizeof *m->row);
    m->row[at] = 1;
    solve(m, shape);
}

/* Rigid: the shape of the beam when the support alone moves down by one (Müller-Breslau).  Elastic: the
 * spring's force, stiffness times how far the node goes down. */
void bk_beam_reaction_shape(bk_beam_model *m, size_t support, double *shape)
{
    size_t node = m->first_support + support;
    if (m->unknown[2 * node] >= 0) {
        bk_beam_node_shape(m, node, false, shape);
        for (size_t i = 0; i < 2 * m->n_nodes; i++)
            shape[i] *= m->beam->supports[support].stiffness_N_m;
        return;
    }
    memset(shape, 0, 2 * m->n_nodes * sizeof *shape);
    memset(m->row, 0, (size_t)m->n_unknowns * sizeof *m->row);
    for (size_t at = node > 0 ? node - 1 : 0; at <= node && at < m->n_segments; at++) {
        double k[4][4];
        segment_stiffness(m->beam->EI_Nm2, m->length_m[at], k);
        for (size_t i = 0; i < 4; i++)
            if (m->unknown[2 * at + i] >= 0) m->row[m->unknown[2 * at + i]] -= k[i][at == node ? 0 : 2];
    }
    solve(m, shape);
    shape[2 * node] = 1;
}

void bk_beam_section_takes(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                           double takes[4])
{
    double L = m->length_m[segment], EI = m->beam->EI_Nm2, s = x / L;
    switch (figure) {
    case BK_FIGURE_MOMENT: /* -EI N'' */
        takes[0] = EI * (6 - 12 * s) / (L * L);
        takes[1] = EI * (4 - 6 * s) / L;
        takes[2] = -takes[0];
        takes[3] = EI * (2 - 6 * s) / L;
        return;
    case BK_FIGURE_SHEAR: /* -EI N''' */
        takes[0] = -12 * EI / (L * L * L);
        takes[1] = -6 * EI / (L * L);
        takes[2] = -takes[0];
        takes[3] = takes[1];
        return;
    case BK_FIGURE_DEFLECTION:
        force_shares(L, x, takes);
        return;
    }
}

void bk_beam_section_own(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                         double own[4], double left[4])
{
    double L = m->length_m[segment], EI = m->beam->EI_Nm2;
    double RA[4] = {1, 0, -3 / (L * L), 2 / (L * L * L)}, MA[4] = {0, -1, 2 / L, -1 / (L * L)};
    double of_R = 0, of_M = 0;
    memset(left, 0, 4 * sizeof *left);
    switch (figure) {
    case BK_FIGURE_MOMENT:
        of_M = 1;
        of_R = x;
        left[0] = -x;
        left[1] = 1;
        break;
    case BK_FIGURE_SHEAR:
        of_R = 1;
        left[0] = -1;
        break;
    case BK_FIGURE_DEFLECTION:
        of_M = -x * x / (2 * EI);
        of_R = -cube(x) / (6 * EI);
        left[0] = cube(x) / (6 * EI);
        left[1] = -x * x / (2 * EI);
        left[2] = x / (2 * EI);
        left[3] = -1 / (6 * EI);
        break;
    }
    for (size_t i = 0; i < 4; i++)
        own[i] = of_M * MA[i] + of_R * RA[i];
}

/* ---- one state, for the caller ----------------------------------------------------------------- */

static bk_status stand_with_trains(bk_beam_model *m, const double *train_m, const bool *train_loaded,
                                   bk_beam_solution *out)
{
    const bk_beam *beam = m->beam;
    size_t n = 0;
    double *x = BK_NEW(m->arena, double, beam->n_trains *BK_WHEEL_LINES_MAX + 1);
    double *force = BK_NEW(m->arena, double, beam->n_trains *BK_WHEEL_LINES_MAX + 1);
    if (!x || !force) return BK_E_NOMEM;
    double slack = ROUNDING_SHARE * (beam->to_m - beam->from_m);
    for (size_t i = 0; i < beam->n_trains; i++) {
        const bk_beam_train *t = &beam->trains[i];
        for (size_t k = 0; k < t->n_lines; k++, n++) {
            x[n] = train_m[i] + t->offset_m[k];
            force[n] = (train_loaded[i] ? t->loaded_N : t->empty_N) / (double)t->n_lines;
            if (!(x[n] >= beam->from_m - slack && x[n] <= beam->to_m + slack)) return BK_E_VALUE;
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
        reaction_N[i] = bk_beam_solution_reaction(&m, &s, i);
    double slack = ROUNDING_SHARE * (beam->to_m - beam->from_m);
    for (size_t i = 0; status == BK_OK && i < n; i++) {
        if (!(x_m[i] >= beam->from_m - slack && x_m[i] <= beam->to_m + slack)) {
            status = BK_E_VALUE;
            break;
        }
        size_t at = bk_beam_segment_at(&m, x_m[i]);
        double L = m.length_m[at], x = within(x_m[i] - m.node_m[at], 0, L);
        double split = x < L ? x : L * (1 - 1e-15); /* at the beam's end: the side that is there */
        if (moment_Nm) moment_Nm[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_MOMENT, at, x, split);
        if (shear_N) shear_N[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_SHEAR, at, x, split);
        if (deflection_m) deflection_m[i] = bk_beam_solution_at(&m, &s, BK_FIGURE_DEFLECTION, at, x, split);
    }
    bk_arena_free(m.arena);
    return status;
}
