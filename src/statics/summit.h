/* summit: where in a box the lowest of some planes is highest.  Private to statics; knows nothing of rigs. */
#ifndef BK_STATICS_SUMMIT_H
#define BK_STATICS_SUMMIT_H

#include <becket/base.h>

typedef struct bk_plane {
    double constant; /* height at the middle of the box */
    double *slope;   /* (n) */
} bk_plane;

typedef struct bk_summit {
    size_t n, most;       /* parameters; planes at most */
    double *size;         /* the box: -size..size (n) */
    double *reach;        /* of a variable, from 0 up (n + most) */
    double *profit, *row; /* of the columns (n + 1) */
    double *table;        /* (most - 1 rows, n + 1 columns) */
    double *value;        /* of every variable (n + most) */
    size_t *basic;        /* variable of a row (most) */
    size_t *column;       /* variable of a column (n + 1) */
} bk_summit;

/* The plane's height at a place. */
double bk_plane_height(const bk_plane *plane, size_t n, const double *at);
/* False when memory is out. */
bool bk_summit_new(bk_summit *summit, bk_arena *arena, size_t n, size_t most);
/* m planes, 1 <= m <= most.  at: where to begin (any point of the box), and what comes out.  Returns the
 * height there. */
double bk_summit_find(bk_summit *summit, size_t m, const bk_plane *planes, double *at);

#endif
