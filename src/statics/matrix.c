/* Symmetric block matrices: layout, factor, solve.
 *
 * The values are blocks, so that whoever assembles them needs no search and no index arithmetic
 * beyond a block's place.  `entry`, `row` and `column` list the lower triangle once, in the order of
 * elimination; both factorisations read that list.  Positive definite or nothing: a pivot that is not
 * clearly above its rounding error fails, which is the test of stability as well as of the step.
 */
#include "matrix.h"

#include <float.h>
#include <string.h>
#include <suitesparse/amd.h>
#include <suitesparse/ldl.h>

/* From here on the sparse factor is faster (a chain of bodies; see the bench). */
#define DENSE_MAX ((size_t)36)
/* Pivots below this share of the diagonal they came from are rounding. */
#define PIVOT_FLOOR (8 * DBL_EPSILON)

/* Order of elimination of the nodes: order[k] = k-th node to go. */
static bool order_nodes(bk_arena *arena, size_t n_nodes, size_t n_pairs, const size_t (*pairs)[2], int *order)
{
    int *Ap = BK_NEW(arena, int, n_nodes + 1), *Ai = BK_NEW(arena, int, 2 * n_pairs);
    int *fill = BK_NEW(arena, int, n_nodes + 1);
    if (!Ap || !Ai || !fill) return false;
    for (size_t k = 0; k < n_pairs; k++) {
        Ap[pairs[k][0] + 1]++;
        Ap[pairs[k][1] + 1]++;
    }
    for (size_t i = 0; i < n_nodes; i++)
        Ap[i + 1] += Ap[i];
    memcpy(fill, Ap, n_nodes * sizeof *fill);
    for (size_t k = 0; k < n_pairs; k++) {
        Ai[fill[pairs[k][0]]++] = (int)pairs[k][1];
        Ai[fill[pairs[k][1]]++] = (int)pairs[k][0];
    }
    return amd_order((int)n_nodes, Ap, Ai, order, NULL, NULL) >= AMD_OK;
}

static void add_entry(bk_matrix *m, size_t value, size_t freedom_a, size_t freedom_b)
{
    const int a = m->place[freedom_a], b = m->place[freedom_b];
    m->entry[m->n_entries] = value;
    m->row[m->n_entries] = a > b ? a : b;
    m->column[m->n_entries] = a > b ? b : a;
    m->n_entries++;
}

/* Ap, Ai: the upper triangle by columns, which is the lower one by rows; entries sorted to match. */
static bool shape_sparse(bk_matrix *m, bk_arena *arena)
{
    const size_t n = m->n, nz = m->n_entries;
    m->Ap = BK_NEW(arena, int, n + 1);
    m->Ai = BK_NEW(arena, int, nz);
    m->Ax = BK_NEW(arena, double, nz);
    m->Lp = BK_NEW(arena, int, n + 1);
    m->Parent = BK_NEW(arena, int, n);
    m->Lnz = BK_NEW(arena, int, n);
    m->Flag = BK_NEW(arena, int, n);
    m->Pattern = BK_NEW(arena, int, n);
    m->D = BK_NEW(arena, double, n);
    m->Y = BK_NEW(arena, double, n);
    size_t *sorted = BK_NEW(arena, size_t, nz);
    int *fill = BK_NEW(arena, int, n + 1);
    if (!m->Ap || !m->Ai || !m->Ax || !m->Lp || !m->Parent || !m->Lnz || !m->Flag || !m->Pattern || !m->D ||
        !m->Y || !sorted || !fill)
        return false;
    for (size_t e = 0; e < nz; e++)
        m->Ap[m->row[e] + 1]++;
    for (size_t i = 0; i < n; i++)
        m->Ap[i + 1] += m->Ap[i];
    memcpy(fill, m->Ap, n * sizeof *fill);
    for (size_t e = 0; e < nz; e++) {
        const int at = fill[m->row[e]]++;
        m->Ai[at] = m->column[e];
        sorted[at] = m->entry[e];
    }
    for (size_t i = 0; i < n; i++)
        for (int e = m->Ap[i]; e < m->Ap[i + 1]; e++) {
            m->row[e] = (int)i;
            m->column[e] = m->Ai[e];
        }
    memcpy(m->entry, sorted, nz * sizeof *sorted);
    ldl_symbolic((int)n, m->Ap, m->Ai, m->Lp, m->Parent, m->Lnz, m->Flag, NULL, NULL);
    const size_t lnz = (size_t)m->Lp[n];
    for (size_t i = 0; i < n; i++)
        m->cost += (double)m->Lnz[i] * m->Lnz[i];
    m->Li = BK_NEW(arena, int, lnz);
    m->Lx = BK_NEW(arena, double, lnz);
    return m->Li && m->Lx;
}

bool bk_matrix_shape(bk_matrix *m, bk_arena *arena, size_t n_nodes, const size_t *freedoms, size_t n_pairs,
                     const size_t (*pairs)[2], size_t *pair_at)
{
    *m = (bk_matrix){.n_nodes = n_nodes};
    m->first = BK_NEW(arena, size_t, n_nodes);
    m->freedoms = BK_NEW(arena, size_t, n_nodes);
    m->diagonal = BK_NEW(arena, size_t, n_nodes);
    int *order = BK_NEW(arena, int, n_nodes);
    if (!m->first || !m->freedoms || !m->diagonal || !order) return false;
    size_t n_lower = 0;
    for (size_t i = 0; i < n_nodes; i++) {
        const size_t d = m->freedoms[i] = freedoms[i];
        m->first[i] = m->n;
        m->n += d;
        m->diagonal[i] = m->n_values;
        m->n_values += d * d;
        n_lower += d * (d + 1) / 2;
    }
    for (size_t k = 0; k < n_pairs; k++) {
        pair_at[k] = m->n_values;
        m->n_values += freedoms[pairs[k][0]] * freedoms[pairs[k][1]];
        n_lower += freedoms[pairs[k][0]] * freedoms[pairs[k][1]];
    }
    m->dense = m->n <= DENSE_MAX;
    m->place = BK_NEW(arena, int, m->n);
    m->turned = BK_NEW(arena, double, m->n);
    m->diagonal_of = BK_NEW(arena, double, m->n);
    m->entry = BK_NEW(arena, size_t, n_lower);
    m->row = BK_NEW(arena, int, n_lower);
    m->column = BK_NEW(arena, int, n_lower);
    if (!m->place || !m->turned || !m->diagonal_of || !m->entry || !m->row || !m->column) return false;
    if (m->dense)
        for (size_t i = 0; i < n_nodes; i++)
            order[i] = (int)i;
    else if (!order_nodes(arena, n_nodes, n_pairs, pairs, order))
        return false;
    int next = 0;
    for (size_t k = 0; k < n_nodes; k++)
        for (size_t i = 0, node = (size_t)order[k]; i < freedoms[node]; i++)
            m->place[m->first[node] + i] = next++;

    for (size_t i = 0; i < n_nodes; i++)
        for (size_t r = 0; r < freedoms[i]; r++)
            for (size_t c = 0; c <= r; c++)
                add_entry(m, m->diagonal[i] + r * freedoms[i] + c, m->first[i] + r, m->first[i] + c);
    for (size_t k = 0; k < n_pairs; k++) {
        const size_t i = pairs[k][0], j = pairs[k][1];
        for (size_t r = 0; r < freedoms[i]; r++)
            for (size_t c = 0; c < freedoms[j]; c++)
                add_entry(m, pair_at[k] + r * freedoms[j] + c, m->first[i] + r, m->first[j] + c);
    }
    if (m->dense) {
        m->cost = (double)(m->n * m->n * m->n) / 6;
        return (m->factor = BK_NEW(arena, double, m->n * m->n)) != NULL;
    }
    return shape_sparse(m, arena);
}

/* L: the matrix' lower half by rows, which becomes its factor. */
static inline bool factor_of(double *restrict L, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        double *Li = L + i * n, pivot = Li[i];
        const double floor = PIVOT_FLOOR * fabs(pivot);
        for (size_t j = 0; j < i; j++) {
            const double *Lj = L + j * n;
            double sum = Li[j];
            for (size_t k = 0; k < j; k++)
                sum -= Li[k] * Lj[k];
            Li[j] = sum * Lj[j];
            pivot -= Li[j] * Li[j];
        }
        if (!(pivot > floor)) return false;
        Li[i] = 1 / sqrt(pivot);
    }
    return true;
}

/* A body alone is the commonest rig, and all loops over its six freedoms are unrolled. */
static bool factor_dense(bk_matrix *m, const double *values)
{
    const size_t n = m->n;
    double *L = m->factor;
    if (m->n_nodes == 1) {
        memcpy(L, values, n * n * sizeof *L);
    } else {
        memset(L, 0, n * n * sizeof *L);
        for (size_t e = 0; e < m->n_entries; e++)
            L[(size_t)m->row[e] * n + (size_t)m->column[e]] = values[m->entry[e]];
    }
    return n == 6 ? factor_of(L, 6) : factor_of(L, n);
}

/* x becomes the solution of L L' solution = x. */
static inline void solve_of(const double *restrict L, size_t n, double *restrict x)
{
    for (size_t i = 0; i < n; i++) {
        double sum = x[i];
        for (size_t k = 0; k < i; k++)
            sum -= L[i * n + k] * x[k];
        x[i] = sum * L[i * n + i];
    }
    for (size_t i = n; i-- > 0;) {
        x[i] *= L[i * n + i];
        for (size_t k = 0; k < i; k++)
            x[k] -= L[i * n + k] * x[i];
    }
}

static bool factor_sparse(bk_matrix *m, const double *values)
{
    const int n = (int)m->n;
    for (size_t e = 0; e < m->n_entries; e++) {
        m->Ax[e] = values[m->entry[e]];
        if (m->row[e] == m->column[e]) m->diagonal_of[m->row[e]] = fabs(m->Ax[e]);
    }
    if (ldl_numeric(n, m->Ap, m->Ai, m->Ax, m->Lp, m->Parent, m->Lnz, m->Li, m->Lx, m->D, m->Y, m->Pattern,
                    m->Flag, NULL, NULL) != n)
        return false;
    for (size_t i = 0; i < m->n; i++)
        if (!(m->D[i] > PIVOT_FLOOR * m->diagonal_of[i])) return false;
    return true;
}

bool bk_matrix_factor(bk_matrix *m, const double *values)
{
    return m->dense ? factor_dense(m, values) : factor_sparse(m, values);
}

void bk_matrix_solve(const bk_matrix *m, double *x)
{
    const size_t n = m->n;
    if (m->dense) { /* the order is the plan's */
        if (n == 6)
            solve_of(m->factor, 6, x);
        else
            solve_of(m->factor, n, x);
        return;
    }
    for (size_t i = 0; i < n; i++)
        m->turned[m->place[i]] = x[i];
    ldl_lsolve((int)n, m->turned, m->Lp, m->Li, m->Lx);
    ldl_dsolve((int)n, m->turned, m->D);
    ldl_ltsolve((int)n, m->turned, m->Lp, m->Li, m->Lx);
    for (size_t i = 0; i < n; i++)
        x[i] = m->turned[m->place[i]];
}

void bk_matrix_times(const bk_matrix *m, const double *values, const double *x, double *y)
{
    /* through the entries, so in the order of elimination; Y and turned are free here */
    double *in = m->turned;
    for (size_t i = 0; i < m->n; i++) {
        in[m->place[i]] = x[i];
        m->diagonal_of[i] = 0;
    }
    for (size_t e = 0; e < m->n_entries; e++) {
        const double v = values[m->entry[e]];
        m->diagonal_of[m->row[e]] += v * in[m->column[e]];
        if (m->row[e] != m->column[e]) m->diagonal_of[m->column[e]] += v * in[m->row[e]];
    }
    for (size_t i = 0; i < m->n; i++)
        y[i] = m->diagonal_of[m->place[i]];
}
