/* matrix: a symmetric matrix in blocks, one block a pair of linked nodes, and its factor.
 *
 * Of a node's own block only the lower half is read.  Small matrices are factored dense; large ones by LDL of
 * SuiteSparse in the order that AMD finds on the graph of nodes (ordering nodes, not freedoms, is ten times
 * cheaper and loses nothing).
 */
#ifndef BK_STATICS_MATRIX_H
#define BK_STATICS_MATRIX_H

#include <becket/base.h>

typedef struct bk_matrix {
    size_t n; /* freedoms */
    size_t n_nodes;
    size_t n_values;  /* of all blocks together */
    size_t *first;    /* first freedom of a node                           (n_nodes) */
    size_t *freedoms; /* of a node                                         (n_nodes) */
    size_t *diagonal; /* where a node's own block begins in the values     (n_nodes) */
    /* the lower half of the matrix, entry by entry, in the order of elimination */
    size_t n_entries;
    size_t *entry;       /* index in the values                               (n_entries) */
    int *row, *column;   /*                                                   (n_entries) */
    double *diagonal_of; /* the matrix' diagonal, before factoring                  (n) */
    double cost;         /* of one factor, in multiplications */
    bool dense;
    double *factor; /* dense: lower triangle by rows, inverse on the diagonal (n*n) */
    double *turned; /* right side in the order of elimination                  (n) */
    int *place;     /* freedom -> its place in the order                       (n) */
    /* sparse: as in the manual of LDL */
    int *Ap, *Ai, *Lp, *Li, *Parent, *Lnz, *Flag, *Pattern;
    double *Ax, *Lx, *D, *Y;
} bk_matrix;

/* freedoms[i]: of node i.  pairs[k]: two different nodes with a block between them, each pair once;
 * pair_at[k] becomes the place of that block, freedoms[pairs[k][0]] rows by freedoms[pairs[k][1]]
 * columns, row by row.  False when memory is out. */
bool bk_matrix_shape(bk_matrix *matrix, bk_arena *arena, size_t n_nodes, const size_t *freedoms,
                     size_t n_pairs, const size_t (*pairs)[2], size_t *pair_at);
/* values: blocks as laid out above.  False when the matrix is not positive definite. */
bool bk_matrix_factor(bk_matrix *matrix, const double *values);
/* x becomes the solution of the factored matrix times solution = x. */
void bk_matrix_solve(const bk_matrix *matrix, double *x);
/* y = matrix x. */
void bk_matrix_times(const bk_matrix *matrix, const double *values, const double *x, double *y);

#endif
