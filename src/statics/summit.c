/* The highest point under some planes: a small linear program.
 *
 * Greatest t with t <= constant_i + slope_i . q for every plane i and -size <= q <= size.  Variables: y = q +
 * size, from 0 to 2 size, and for every plane its clearance w >= 0.  The plane that is lowest at the start
 * gives t; the clearances of the others are the first basic variables, so that the start is feasible.  Then
 * the simplex method with bounded variables on a table of (planes - 1) rows: a column goes to its other
 * bound, or changes places with the row that stops it.  Limits: some ten planes, some hundred parameters.
 */
#include "summit.h"

#include <string.h>

#define TINY 1e-12 /* of the largest profit: no more to be gained */

bool bk_summit_new(bk_summit *s, bk_arena *arena, size_t n, size_t most)
{
    *s = (bk_summit){.n = n, .most = most};
    s->size = BK_NEW(arena, double, n + 1);
    s->reach = BK_NEW(arena, double, n + most);
    s->profit = BK_NEW(arena, double, n + 1);
    s->row = BK_NEW(arena, double, n + 1);
    s->table = BK_NEW(arena, double, most *(n + 1));
    s->value = BK_NEW(arena, double, n + most);
    s->basic = BK_NEW(arena, size_t, most);
    s->column = BK_NEW(arena, size_t, n + 1);
    return s->size && s->reach && s->profit && s->row && s->table && s->value && s->basic && s->column;
}

double bk_plane_height(const bk_plane *plane, size_t n, const double *at)
{
    double sum = plane->constant;
    for (size_t j = 0; j < n; j++)
        sum += plane->slope[j] * at[j];
    return sum;
}

/* Column k enters, the variable of row i leaves. */
static void pivot(bk_summit *s, size_t rows, size_t i, size_t k)
{
    const size_t width = s->n + 1;
    double *own = s->table + i * width;
    const double at = own[k];
    for (size_t l = 0; l < width; l++)
        s->row[l] = l == k ? 1 / at : -own[l] / at;
    memcpy(own, s->row, width * sizeof *own);
    for (size_t r = 0; r <= rows; r++) {
        double *other = r < rows ? s->table + r * width : s->profit;
        const double factor = other[k];
        if (other == own) continue;
        other[k] = 0;
        for (size_t l = 0; l < width; l++)
            other[l] += factor * s->row[l];
    }
    const size_t entering = s->column[k];
    s->column[k] = s->basic[i];
    s->basic[i] = entering;
}

double bk_summit_find(bk_summit *s, size_t m, const bk_plane *planes, double *at)
{
    const size_t n = s->n, width = n + 1;
    size_t lowest = 0;
    for (size_t j = 0; j < n; j++) /* columns start at a bound */
        at[j] = at[j] < 0 ? -s->size[j] : s->size[j];
    for (size_t i = 1; i < m; i++)
        if (bk_plane_height(&planes[i], n, at) < bk_plane_height(&planes[lowest], n, at)) lowest = i;
    const double start = bk_plane_height(&planes[lowest], n, at);
    double most = 0;
    for (size_t j = 0; j < n; j++) {
        s->column[j] = j;
        s->value[j] = at[j] + s->size[j];
        s->reach[j] = 2 * s->size[j];
        s->profit[j] = planes[lowest].slope[j];
        most = fmax(most, fabs(s->profit[j]) * s->size[j]);
    }
    s->column[n] = n + lowest;
    s->profit[n] = -1;
    size_t rows = 0;
    for (size_t i = 0; i < m; i++) {
        s->value[n + i] = bk_plane_height(&planes[i], n, at) - start;
        s->reach[n + i] = (double)INFINITY;
        if (i == lowest) continue;
        double *row = s->table + rows * width;
        for (size_t j = 0; j < n; j++)
            row[j] = planes[i].slope[j] - planes[lowest].slope[j];
        row[n] = 1;
        s->basic[rows++] = n + i;
    }

    for (size_t round = 0; round < 20 * (n + m); round++) {
        size_t enters = SIZE_MAX;
        double best = TINY * most;
        bool rises = false;
        for (size_t k = 0; k < width; k++) {
            const size_t v = s->column[k];
            const bool up = s->profit[k] > 0;
            const double room = up ? s->reach[v] - s->value[v] : s->value[v];
            const double worth = fabs(s->profit[k]) * (v < n ? s->size[v] : 1);
            if (room > 0 && worth > best) {
                best = worth;
                enters = k;
                rises = up;
            }
        }
        if (enters == SIZE_MAX) break;
        const size_t v = s->column[enters];
        const double way = rises ? 1 : -1;
        double step = rises ? s->reach[v] - s->value[v] : s->value[v];
        size_t leaves = SIZE_MAX;
        for (size_t i = 0; i < rows; i++) {
            const double change = way * s->table[i * width + enters];
            const size_t b = s->basic[i];
            const double room = change < 0 ? s->value[b] : s->reach[b] - s->value[b];
            if (change != 0 && fmax(room, 0) < step * fabs(change)) {
                step = fmax(room, 0) / fabs(change);
                leaves = i;
            }
        }
        if (!isfinite(step)) break;
        s->value[v] += way * step;
        for (size_t i = 0; i < rows; i++)
            s->value[s->basic[i]] += way * step * s->table[i * width + enters];
        if (leaves == SIZE_MAX) {
            s->value[v] = rises ? s->reach[v] : 0;
            continue;
        }
        const size_t b = s->basic[leaves];
        s->value[b] = way * s->table[leaves * width + enters] < 0 ? 0 : s->reach[b];
        pivot(s, rows, leaves, enters);
    }
    double lowest_there = (double)INFINITY;
    for (size_t j = 0; j < n; j++)
        at[j] = fmin(fmax(s->value[j] - s->size[j], -s->size[j]), s->size[j]);
    for (size_t i = 0; i < m; i++)
        lowest_there = fmin(lowest_there, bk_plane_height(&planes[i], n, at));
    return lowest_there;
}
