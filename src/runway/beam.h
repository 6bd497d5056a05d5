/* beam.h: inside of the runway room: the beam cut into segments and solved once for all loads.
 *
 * Nodes are the supports and the free ends; segments lie between neighbours: spans, and overhangs at either
 * end.  Local x runs from a segment's left node.  Method and sources: top of beam.c.
 */
#ifndef BECKET_RUNWAY_BEAM_H
#define BECKET_RUNWAY_BEAM_H

#include <becket/runway.h>

/* What may be out of balance, as a share of what acts. */
#define BALANCE_SHARE 1e-9

/* A load cut to one segment, local x: a force at from, or per_metre from from to to. */
typedef struct bk_beam_piece {
    size_t segment;
    double from, to, force, per_metre;
} bk_beam_piece;

typedef struct bk_beam_model {
    const bk_beam *beam;
    bk_arena *arena; /* scratch; owns all below */
    size_t n_nodes, n_segments;
    size_t first_support; /* node of support 0, and segment of span 0: 1 behind a left overhang, else 0 */
    double *node_m;       /* (n_nodes) */
    double *length_m;     /* (n_segments) */
    size_t first_unknown; /* supports from here on have an unknown moment */
    int n_unknowns;
    int *Lp, *Li;         /* LDL' of the flexibility matrix */
    double *Lx, *D, *row; /* row: work, (n_unknowns) */
    /* One state of the supports, (n_supports) each.  Set: base (downward, of what a support stands on), kink
     * (change of slope put into the beam), hung (force down on the support, spans simply supported), and M
     * where it is known.  Found: M (on the span's side), up (reaction), v. */
    double *base, *kink, *hung, *M, *up, *v;
} bk_beam_model;

/* One standing state; start: moment, shear, deflection and slope just right of each segment's left node. */
typedef struct bk_beam_solution {
    struct bk_beam_start {
        double M, V, v, slope;
    } * start;             /* (n_segments) */
    double *up;            /* (n_supports) reactions */
    bk_beam_piece *pieces; /* rising by segment */
    size_t n_pieces, room;
    size_t *first_piece; /* (n_segments + 1) */
} bk_beam_solution;

typedef enum bk_beam_figure { BK_FIGURE_MOMENT, BK_FIGURE_SHEAR, BK_FIGURE_DEFLECTION } bk_beam_figure;

/* Checks the beam and factors it; m->arena must be set.  BK_E_VALUE (why); BK_E_NO_CONVERGE: stiffnesses too
 * far apart for the equations; BK_E_NOMEM. */
bk_status bk_beam_model_build(bk_beam_model *m, const bk_beam *beam, char *why, size_t why_size);
size_t bk_beam_segment_at(const bk_beam_model *m, double x_m);

/* The beam's own standing loads, self-weight and settlements, with n more forces at x_m.  BK_E_NO_CONVERGE:
 * does not balance; BK_E_NOMEM. */
bk_status bk_beam_stand(bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                        bk_beam_solution *out);
/* A figure at local x of a segment, just right of a force that stands there; at its right end just left of it. */
double bk_beam_solution_at(const bk_beam_model *m, const bk_beam_solution *s, bk_beam_figure figure,
                           size_t segment, double x);

/* Influence lines: a figure for one newton at xi is the deflected shape of the same beam under another cause
 * (Müller-Breslau), so v and slope at both ends of each segment carry all of it, save in the section's own
 * segment.  y (4 n_segments): v, slope left; v, slope right.
 * A section takes its figures from four shapes of its segment.  Span: moments at its left and right end, v
 * there.  Overhang: nothing, nothing, v and slope at its support. */
void bk_beam_segment_shape(bk_beam_model *m, size_t segment, size_t which, double *y);
void bk_beam_reaction_shape(bk_beam_model *m, size_t support, double *y);
bool bk_beam_is_span(const bk_beam_model *m, size_t segment);
/* A rigid support that has not settled. */
bool bk_beam_stands_still(const bk_beam_model *m, size_t node);
/* How much of each of the four shapes; returns how many of them count. */
size_t bk_beam_section_takes(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                             double takes[4]);
/* Cubics in xi (local, powers rising) of a newton in the section's own segment: `own` anywhere, and
 * `left` on top of it where xi < x. */
void bk_beam_section_own(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                         double own[4], double left[4]);

#endif
