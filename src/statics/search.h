/* search: where in a box each of several figures is greatest.  Private to statics; knows nothing of rigs. */
#ifndef BK_STATICS_SEARCH_H
#define BK_STATICS_SEARCH_H

#include "summit.h"

/* What is searched.  The middle of the box is the nominal case. */
typedef struct bk_ground {
    size_t n, n_figures;
    const double *size; /* the box: -size..size (n) */
    void *of;           /* handed to the functions */
    /* Goes to a place, from the last one gone to or from the middle.  False where there is no answer. */
    bool (*go)(void *of, const double *at, bool near_last);
    double (*value)(const void *of, size_t figure); /* there; -INFINITY where it has none */
    void (*slopes)(void *of, size_t figure, double *slope); /* there (n) */
    size_t n_gaps;
    void (*gaps)(const void *of, double *gap); /* there (n_gaps): the ground folds where one changes its sign */
    const bool *folds; /* some place gone to lies beyond a fold of the ground */
} bk_ground;

#define BK_STARTS 3 /* corners to climb from */

typedef struct bk_peak {
    double best;   /* greatest value so far; -INFINITY when there was none */
    double sought; /* best when it was last sought for its own sake; -INFINITY when it never was */
    double *where; /* the parameters there (n) */
    double unit;   /* what it is measured by: gains are shares of it */
    double most;   /* nothing is greater */
    bool crossed;  /* the box was crossed from there along every parameter */
    bool pairs;    /* worth crossing along two parameters at once */
    double top[BK_STARTS]; /* of the corners, best first */
    double *top_at[BK_STARTS];
    size_t n_top;
} bk_peak;

typedef struct bk_search {
    bk_ground ground;
    bk_peak *peak; /* (n_figures) */
    double *at;    /* the case being tried (n) */
    double *top;   /* of a climb: where it was highest (n) */
    bk_plane *planes; /* that touch a figure at a case of a climb */
    bk_plane felt; /* at a figure's best case */
    double *gap;   /* at two places of a crossing (2 n_gaps) */
    bk_summit summit;
} bk_search;

/* False when memory is out.  Sets best to -INFINITY, most to INFINITY and where to the middle. */
bool bk_search_new(bk_search *search, bk_arena *arena, const bk_ground *ground);
/* Keeps the values of the place just gone to where they are worse than all before; where: its parameters. */
void bk_search_consider(bk_search *search, size_t figure, const double *where);
void bk_search_corners(bk_search *search);
void bk_search_climb(bk_search *search, size_t figure); /* from the middle */
/* Every figure from its best corners, and across the box along one parameter after the other; again where another
 * figure's search has bettered it. */
void bk_search_better(bk_search *search);
/* Takes out of a figure's case what does not matter to it.  The figure stays. */
void bk_search_forget_idle(bk_search *search, size_t figure);

#endif
