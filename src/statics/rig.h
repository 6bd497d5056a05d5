/* rig: the numbers the solver works on, made once from the plan, and what one case changes in them.
 *
 * Nodes are what can move: first the bodies (6 freedoms), then the rings (3).  A body's freedoms are
 * the travel of its centre of gravity as drawn and a rotation vector about it times the body's size,
 * so that all freedoms are lengths; the update turns from the left: q <- exp(rotation) q.
 * Private to the statics room.
 */
#ifndef BK_STATICS_RIG_H
#define BK_STATICS_RIG_H

#include <becket/statics.h>

#include "matrix.h"
#include "proof.h"

#define BK_HELD SIZE_MAX /* in place of a node: the end is at an anchor */

typedef struct bk_rig_node {
    size_t freedoms;
    double size_m;   /* body: farthest point that a line pulls, from ref_m; ring: 1 */
    double per_size; /* 1 / size_m */
    bk_vec3 ref_m;   /* body: centre of gravity as drawn, own axes */
    bool point_like; /* body: every line pulls at ref_m */
    bool rod_like;   /* body: every line pulls on one axis through ref_m */
    bk_vec3 axis;    /* of a rod-like body, own axes, unit */
    /* the case */
    double mass_kg;    /* of the thing itself */
    bk_vec3 shift_m;   /* centre of gravity off ref_m, own axes */
    double weight_N;   /* with its share of the lines' */
    bk_vec3 moment_Nm; /* sum of weight times arm from ref_m, own axes */
    bk_vec3 wind_N;    /* at the centre of gravity, world axes */
    /* the pose */
    double turn[3][3];
    bk_vec3 moment_now_Nm, shift_now_m; /* world axes */
} bk_rig_node;

typedef struct bk_rig_end {
    size_t node;     /* or BK_HELD */
    size_t anchor;   /* when held */
    bk_vec3 own_m;   /* body: the point, from its reference, own axes */
    double weight_N; /* of the line, acting here */
    /* the pose */
    bk_vec3 at_m;    /* world */
    bk_vec3 arm_m;   /* body: from its reference, world axes */
    double slope[6]; /* how the line's length grows with the node's freedoms */
} bk_rig_end;

typedef struct bk_rig_line {
    bk_rig_end end[2]; /* ordered so that end[0].node < end[1].node */
    bool flipped;      /* end[0] is the plan's `to` */
    bool inert;        /* between two anchors, or on one node: cannot move anything */
    size_t block;      /* of the pair of nodes, when both can move */
    double ea_N;
    /* the case */
    double rest_m, stiffness_N_m;
    bool lost;
    /* the pose */
    bk_vec3 along;              /* unit, end[0] to end[1] */
    double length_m, stretch_m; /* stretch below 0: slack by so much */
    /* the linearised step */
    double pull_N;       /* its tension there, >= 0 */
    double pendulum_N_m; /* that over its length */
    double growth_m;     /* stretch at the end of the step */
    double trial_m;      /* what that grows by along the way that is searched */
    bool taut;
} bk_rig_line;

/* What a figure hangs on: how it grows with a line's vector (end 0 to 1) and its unstretched length. */
typedef struct bk_rig_probe {
    bk_vec3 vector;
    double rest;
} bk_rig_probe;

struct bk_statics {
    const bk_plan *plan;
    bk_arena *arena;
    size_t n_nodes, n_lines;
    bk_rig_node *node;
    bk_rig_line *line;
    bk_vec3 *anchor_m; /* as the case has them (n_anchors) */
    double size_m;     /* of the rig: longest line or body */
    bool one_hook;     /* all lines that are held are held at one anchor */
    double weight_N;   /* of the case, all of it */
    bool windy;        /* the case has wind */
    bk_vec3 yaw;       /* unit vector up along all weights and wind: what a load under one hook turns about freely */
    /* pose */
    bk_vec3 *at_m;      /* body: its reference; ring: itself (n_nodes) */
    bk_quat *quat;      /*                                (n_nodes) */
    bk_vec3 *kept_at_m; /* best pose, and that before a step */
    bk_quat *kept_quat;
    /* linear algebra, all of n freedoms or n_values of the matrix */
    bk_matrix matrix;
    double *base, *values; /* without and with what acts along lines */
    double *weights;       /* slope of the potential energy of weights and wind */
    double *gradient;      /* slope of the whole energy */
    double *step, *trial, *scratch;
    double *scale_N_m;   /* natural stiffness of a node: what it carries over the rig's size (n_nodes) */
    double *trace_N_m;   /* below this there is no stiffness (n_nodes) */
    bk_rig_probe *probe; /* see sensitivity.h (n_lines) */
    bk_proof proof;      /* scratch */
    size_t *reach;       /* scratch of the search for what holds what    (n_nodes) */
    bool wide;           /* lengths are computed in wide arithmetic: too slow until nothing else will do */
    double work;         /* done for the case so far, in multiplications or the like */
    /* leaving the drawn attitude */
    size_t tipped; /* first body to pass the limit of tilt; BK_NONE */
    bk_vec3 tipped_to;
};

/* rig.c */
void bk_rig_apply(bk_statics *s, const bk_case *which); /* the case's numbers */
bool bk_rig_soften(bk_statics *s, double most_N);       /* no line's EA above that; true if one was */
void bk_rig_start(bk_statics *s, const bk_hang *start); /* the drawn pose, or that of start */
void bk_rig_measure(bk_statics *s);                     /* all that follows from the pose */
void bk_rig_weights(bk_statics *s);
void bk_rig_gradient(bk_statics *s);         /* from true lengths */
double bk_rig_residual(const bk_statics *s, size_t *node); /* of gradient; node: where it is */
void bk_rig_scale(bk_statics *s);            /* scale_N_m from pull_N */
/* base: second slope from weights and from lines' pull_N, with lift * scale_N_m, as if lines were pendulums
 * in their own direction too */
void bk_rig_base(bk_statics *s, double lift);
void bk_rig_add_spin(double *block, double stiffness, bk_vec3 about); /* to the block of a body, for turning about that axis */
void bk_rig_values(bk_statics *s); /* values: all of it, the lines marked taut being springs */
void bk_rig_move(bk_statics *s, const double *step, double part);
void bk_rig_keep(bk_statics *s);
void bk_rig_restore(bk_statics *s);
void bk_rig_report(bk_statics *s, bk_hang *out); /* poses, tensions, forces into out */

/* Adds scale times the slope of a line's length to `to`. */
static inline void bk_rig_add_slope(const bk_statics *s, const bk_rig_line *line, double scale,
                                    double *restrict to)
{
    for (int e = 0; e < 2; e++) {
        const bk_rig_end *end = &line->end[e];
        if (end->node == BK_HELD) continue;
        double *restrict g = to + s->matrix.first[end->node];
        for (size_t f = 0; f < 3; f++)
            g[f] += scale * end->slope[f];
        if (s->node[end->node].freedoms == 6)
            for (size_t f = 3; f < 6; f++)
                g[f] += scale * end->slope[f];
    }
}
/* Hooke's law */
static inline double bk_rig_tension(const bk_rig_line *line)
{
    return line->lost || line->stretch_m <= 0 ? 0 : line->stiffness_N_m * line->stretch_m;
}
/* Own axes to world. */
static inline bk_vec3 bk_rig_turned(const bk_rig_node *node, bk_vec3 own)
{
    const double *x = node->turn[0], *y = node->turn[1], *z = node->turn[2];
    return bk_vec3_of(x[0] * own.x + x[1] * own.y + x[2] * own.z, y[0] * own.x + y[1] * own.y + y[2] * own.z,
                      z[0] * own.x + z[1] * own.y + z[2] * own.z);
}
/* Nothing keeps a rod-like body from rolling about its axis. */
bool bk_rig_rolls(const bk_rig_node *node);

/* pose.c */
/* The part p > 0 of a way at which an energy is least whose slope is rise + bend p, and that of lines which pull where
 * growth + p trial > 0; at most 1e6. */
double bk_rig_least_along(const bk_rig_line *line, size_t n, double rise, double bend);

/* stability.c */
#define BK_TILT_LIMIT_RAD (BK_PI / 3) /* beyond this a body has left its drawn attitude */
/* BK_E_UNHELD with out->why when something heavy hangs on no chain of lines. */
bk_status bk_stability_held(bk_statics *s, bk_hang *out);
/* At the pose just solved and reported in out: BK_OK or BK_E_UNSTABLE with the evidence in out.  Where a move
 * lowers the energy *falling becomes true and s->step is that move. */
bk_status bk_stability_test(bk_statics *s, bk_hang *out, bool *falling);
/* Has the rig left the arrangement that was drawn: turned over, or fallen past its lines? */
bk_status bk_stability_as_drawn(bk_statics *s, bk_hang *out);

#endif
