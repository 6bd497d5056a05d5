/* beam.h: inside of the runway room: the beam cut into segments and solved once for all loads.
 *
 * Nodes are the supports and the free ends; segments lie between neighbours, so an overhang is a segment
 * like any other.  Unknowns are the deflection v (down +) and slope v' of the nodes, as far as no support
 * holds them.  Local x runs from a segment's left node.  Method and sources: top of beam.c.
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
    size_t first_support; /* node of support 0: 1 behind a left overhang, else 0 */
    double *node_m;       /* (n_nodes) */
    double *length_m;     /* (n_segments) */
    int *unknown;         /* (2 n_nodes) row of v and slope of each node, -1 where held */
    int n_unknowns;
    int *Lp, *Li;         /* LDL' of the stiffness matrix */
    double *Lx, *D, *row; /* row: work, (n_unknowns) */
} bk_beam_model;

/* One standing state.  u: v and slope of each node; M0, V0: moment and shear just right of each segment's
 * left node. */
typedef struct bk_beam_solution {
    double *u, *M0, *V0;   /* (2 n_nodes), (n_segments), (n_segments) */
    bk_beam_piece *pieces; /* rising by segment */
    size_t n_pieces;
    size_t *first_piece; /* (n_segments + 1) */
} bk_beam_solution;

typedef enum bk_beam_figure { BK_FIGURE_MOMENT, BK_FIGURE_SHEAR, BK_FIGURE_DEFLECTION } bk_beam_figure;

/* Checks the beam and factors it; m->arena must be set.  BK_E_VALUE (why), BK_E_NOMEM. */
bk_status bk_beam_model_build(bk_beam_model *m, const bk_beam *beam, char *why, size_t why_size);
size_t bk_beam_segment_at(const bk_beam_model *m, double x_m);

/* The beam's own standing loads, self-weight and settlements, with n more forces at x_m.  BK_E_NO_CONVERGE:
 * does not balance, stiffnesses too far apart; BK_E_NOMEM. */
bk_status bk_beam_stand(bk_beam_model *m, size_t n, const double *x_m, const double *force_N,
                        bk_beam_solution *out);
/* A figure at local x of a segment.  Forces up to local x `split` count as left of the section: the same
 * as x, save for the shear beside a force, where it says which side is meant. */
double bk_beam_solution_at(const bk_beam_model *m, const bk_beam_solution *s, bk_beam_figure figure,
                           size_t segment, double x, double split);
double bk_beam_solution_reaction(const bk_beam_model *m, const bk_beam_solution *s, size_t support);

/* Influence lines: the figure for one newton at xi is the deflected shape of the same beam under another
 * load (Müller-Breslau), so nodal values and slopes carry all of it, save inside the section's segment.
 * shape (2 n_nodes): response of the nodes to a unit force (slope false) or moment at a node. */
void bk_beam_node_shape(bk_beam_model *m, size_t node, bool slope, double *shape);
/* Influence line of a support's reaction. */
void bk_beam_reaction_shape(bk_beam_model *m, size_t support, double *shape);
/* What a section takes from its segment's four end values (v, slope left; v, slope right). */
void bk_beam_section_takes(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                           double takes[4]);
/* Cubics in xi (local, powers rising) of a newton in the section's own segment: `own` anywhere, and
 * `left` on top of it where xi < x. */
void bk_beam_section_own(const bk_beam_model *m, bk_beam_figure figure, size_t segment, double x,
                         double own[4], double left[4]);

#endif
