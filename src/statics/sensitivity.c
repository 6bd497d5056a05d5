/* How fast a figure changes with the plan's numbers, at the balance just found: the adjoint way.
 *
 * A figure f(x, p) of the pose x and a number p of the plan moves by
 *
 *   df/dp = @f/@p - m . @g/@p,      H m = @f/@x
 *
 * where g(x, p) = 0 is the balance and H its slope in x, whose factor is still there from the test of
 * stability (with its trace: what that holds, free yaw, moves no figure).  One back-substitution serves all
 * p.
 *
 * Figures here hang on the lines' vectors d (end 0 to end 1), on their unstretched lengths, and on the lean
 * of a body; @f/@x is then a set of forces at the lines' ends, as if f were an energy.
 */
#include "sensitivity.h"

#include <string.h>

#define GRAVITY BK_STANDARD_GRAVITY_M_PER_S2
static const bk_vec3 UP = {0, 0, 1};

static bool pulls(const bk_rig_line *line)
{
    return !line->lost && line->stretch_m > 0;
}

/* Change of a line's pull (tension times direction) when its vector changes by v. */
static bk_vec3 pull_change(const bk_rig_line *line, bk_vec3 v)
{
    if (!pulls(line)) return bk_vec3_of(0, 0, 0);
    const double pendulum = bk_rig_tension(line) / line->length_m;
    return bk_vec3_add(
        bk_vec3_scale(pendulum, v),
        bk_vec3_scale((line->stiffness_N_m - pendulum) * bk_vec3_dot(line->along, v), line->along));
}

/* Change of EA (L / L0 - 1) with the unstretched length L0: the tension where the line pulls. */
static double stretch_per_rest(const bk_rig_line *line)
{
    return -line->ea_N * line->length_m / (line->rest_m * line->rest_m);
}

static double tension_per_rest(const bk_rig_line *line)
{
    return pulls(line) ? stretch_per_rest(line) : 0;
}

/* ---- what a figure hangs on -------------------------------------------------------------------- */

void bk_probe_clear(bk_statics *s)
{
    memset(s->probe, 0, s->n_lines * sizeof *s->probe);
    memset(s->step, 0, s->matrix.n * sizeof *s->step);
}

void bk_probe_stretch(bk_statics *s, size_t i, double sign)
{
    const bk_rig_line *line = &s->line[i];
    s->probe[i].vector =
        bk_vec3_add(s->probe[i].vector, bk_vec3_scale(sign * line->stiffness_N_m, line->along));
    s->probe[i].rest += sign * stretch_per_rest(line);
}

void bk_probe_tension(bk_statics *s, size_t i, double sign)
{
    if (pulls(&s->line[i])) bk_probe_stretch(s, i, sign);
}

/* The part along `way` of the pull of line i on its plan's from (or to) end. */
void bk_probe_pull(bk_statics *s, size_t i, bool on_to, bk_vec3 way)
{
    const bk_rig_line *line = &s->line[i];
    const bk_vec3 signed_way = bk_vec3_scale(on_to != line->flipped ? -1 : 1, way);
    s->probe[i].vector = bk_vec3_add(s->probe[i].vector, pull_change(line, signed_way));
    s->probe[i].rest += bk_vec3_dot(line->along, signed_way) * tension_per_rest(line);
}

/* The angle of line i from the vertical. */
void bk_probe_from_vertical(bk_statics *s, size_t i)
{
    const bk_rig_line *line = &s->line[i];
    const bk_vec3 u = line->along;
    const double across = hypot(u.x, u.y);
    if (!(across > 0)) return;
    const bk_vec3 turn =
        bk_vec3_of(u.x / across * fabs(u.z), u.y / across * fabs(u.z), u.z < 0 ? across : -across);
    s->probe[i].vector = bk_vec3_add(s->probe[i].vector, bk_vec3_scale(1 / line->length_m, turn));
}

/* The angle of body i's own z from the vertical. */
void bk_probe_tilt(bk_statics *s, size_t i)
{
    const bk_rig_node *node = &s->node[i];
    const bk_vec3 z = bk_vec3_of(node->turn[0][2], node->turn[1][2], node->turn[2][2]);
    const bk_vec3 about = bk_vec3_cross(UP, z); /* horizontal */
    const double sine = bk_vec3_norm(about);
    double *x = s->step + s->matrix.first[i];
    if (!(sine > 0)) return;
    x[3] += about.x / sine / node->size_m;
    x[4] += about.y / sine / node->size_m;
}

/* ---- the adjoint ------------------------------------------------------------------------------- */

/* Adds a force at an end to the freedoms of its node. */
static void add_force(const bk_statics *s, const bk_rig_end *end, bk_vec3 force, double *to)
{
    if (end->node == BK_HELD) return;
    double *x = to + s->matrix.first[end->node];
    x[0] += force.x;
    x[1] += force.y;
    x[2] += force.z;
    if (s->node[end->node].freedoms == 3) return;
    const bk_vec3 moment = bk_vec3_scale(1 / s->node[end->node].size_m, bk_vec3_cross(end->arm_m, force));
    x[3] += moment.x;
    x[4] += moment.y;
    x[5] += moment.z;
}

/* The travel of an end in the adjoint pose s->step. */
static bk_vec3 travel(const bk_statics *s, const bk_rig_end *end)
{
    if (end->node == BK_HELD) return bk_vec3_of(0, 0, 0);
    const bk_rig_node *node = &s->node[end->node];
    const double *x = s->step + s->matrix.first[end->node];
    const bk_vec3 t = bk_vec3_of(x[0], x[1], x[2]);
    if (node->freedoms == 3) return t;
    return bk_vec3_add(
        t, bk_vec3_cross(bk_vec3_scale(1 / node->size_m, bk_vec3_of(x[3], x[4], x[5])), end->arm_m));
}

static bk_vec3 turning(const bk_statics *s, size_t body)
{
    const double *x = s->step + s->matrix.first[body];
    return bk_vec3_scale(1 / s->node[body].size_m, bk_vec3_of(x[3], x[4], x[5]));
}

static double slope_of(const bk_statics *s, bk_parameter p)
{
    switch (p.kind) {
    case BK_CHANGE_MASS: { /* @g/@p: g0 upward at the centre of gravity */
        const bk_vec3 turned = bk_vec3_cross(turning(s, p.index), s->node[p.index].shift_now_m);
        return -GRAVITY * (s->step[s->matrix.first[p.index] + 2] + turned.z);
    }
    case BK_CHANGE_COG_X:
    case BK_CHANGE_COG_Y:
    case BK_CHANGE_COG_Z: {
        const bk_rig_node *node = &s->node[p.index];
        const bk_vec3 own =
            bk_vec3_of(p.kind == BK_CHANGE_COG_X, p.kind == BK_CHANGE_COG_Y, p.kind == BK_CHANGE_COG_Z);
        const bk_vec3 moved = bk_vec3_cross(turning(s, p.index), bk_rig_turned(node, own));
        return -(GRAVITY * fmax(node->mass_kg, 0) * moved.z - bk_vec3_dot(node->wind_N, moved));
    }
    case BK_CHANGE_LENGTH: {
        const bk_rig_line *line = &s->line[p.index];
        const bk_vec3 d = bk_vec3_sub(travel(s, &line->end[1]), travel(s, &line->end[0]));
        return s->probe[p.index].rest - bk_vec3_dot(line->along, d) * tension_per_rest(line);
    }
    case BK_CHANGE_ANCHOR_X:
    case BK_CHANGE_ANCHOR_Y:
    case BK_CHANGE_ANCHOR_Z: {
        const bk_vec3 way = bk_vec3_of(p.kind == BK_CHANGE_ANCHOR_X, p.kind == BK_CHANGE_ANCHOR_Y,
                                       p.kind == BK_CHANGE_ANCHOR_Z);
        double sum = 0;
        for (size_t i = 0; i < s->n_lines; i++)
            for (int e = 0; e < 2; e++) {
                const bk_rig_line *line = &s->line[i];
                if (line->end[e].node != BK_HELD || line->end[e].anchor != p.index) continue;
                const bk_vec3 v = bk_vec3_scale(e ? 1 : -1, way); /* of the line's vector */
                const bk_vec3 d = bk_vec3_sub(travel(s, &line->end[1]), travel(s, &line->end[0]));
                sum += bk_vec3_dot(s->probe[i].vector, v) - bk_vec3_dot(pull_change(line, v), d);
            }
        return sum;
    }
    case BK_CHANGE_WIND_X:
    case BK_CHANGE_WIND_Y: {
        const bk_vec3 turned = bk_vec3_cross(turning(s, p.index), s->node[p.index].shift_now_m);
        const double *moved = s->step + s->matrix.first[p.index];
        return p.kind == BK_CHANGE_WIND_X ? moved[0] + turned.x : moved[1] + turned.y;
    }
    case BK_CHANGE_LOSE_LINE:
        break;
    }
    return 0;
}

void bk_probe_slopes(bk_statics *s, const bk_parameter *parameters, size_t n, double *slope)
{
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (line->inert) continue;
        add_force(s, &line->end[0], bk_vec3_scale(-1, s->probe[i].vector), s->step);
        add_force(s, &line->end[1], s->probe[i].vector, s->step);
    }
    bk_matrix_solve(&s->matrix, s->step);
    for (size_t k = 0; k < n; k++)
        slope[k] = slope_of(s, parameters[k]);
}

void bk_tension_slopes(bk_statics *statics, const bk_parameter *parameters, size_t n, size_t line,
                       double *slope)
{
    bk_probe_clear(statics);
    bk_probe_tension(statics, line, 1);
    bk_probe_slopes(statics, parameters, n, slope);
}
