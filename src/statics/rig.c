/* The rig as numbers: geometry, energy, its slope and its second slope.
 *
 *   energy   E = sum 1/2 k (L - L0)+^2 + sum w z - sum F . c
 *
 * over lines (stiffness k = EA / L0, length L, unstretched L0), weights w at height z, and wind F on
 * centres of gravity c.  With u the unit vector of a line from end 0 to end 1, and a its arms from the
 * bodies' references, the line's length grows by
 *
 *   dL = u . (dc1 + t1 x a1) - u . (dc0 + t0 x a0)             (t: rotation vectors)
 *   d2L = |d - u (u . d)|^2 / L + turning of the ends,           d: relative travel of the ends
 *
 * and a force g that keeps its direction and acts at arm a of a body turned by t adds to second order
 *
 *   1/2 g . (t x (t x a)) = 1/2 t' [ (g a' + a g')/2 - (g . a) I ] t.
 *
 * The last term is that of weights, wind, and of the pull of lines at both ends.  All of it is exact:
 * no small angles in the pose, only in a step.
 */
#include "rig.h"

#include <string.h>

#define GRAVITY BK_STANDARD_GRAVITY_M_PER_S2
#define ON_AXIS        1e-9 /* of a body's size: what is no farther off an axis lies on it */
#define UPRIGHT        1e-6 /* sine of an axis' lean up to which to roll about it is to yaw */
#define SCALE_LEAST    1e-9 /* of the weight: what a node carries at the least */
#define PENDULUM_LEAST 0.01 /* of a line's own length: one drawn with none, or nearly, turns freely, but is no shorter pendulum */
static const bk_vec3 UP = {0, 0, 1};

/* ---- making it from the plan ------------------------------------------------------------------- */

static void make_end(const bk_statics *s, bk_end from, double weight_N, bk_rig_end *end)
{
    const bk_plan *plan = s->plan;
    end->weight_N = weight_N;
    if (from.kind == BK_END_POINT) {
        end->node = plan->points[from.index].body;
        end->own_m = bk_vec3_sub(plan->points[from.index].at_m, plan->bodies[end->node].cog_m.v);
    } else if (from.kind == BK_END_RING) {
        end->node = plan->n_bodies + from.index;
    } else {
        end->node = BK_HELD;
        end->anchor = from.index;
    }
}

static void make_lines(bk_statics *s)
{
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_line *given = &s->plan->lines[i];
        bk_rig_line *line = &s->line[i];
        make_end(s, given->from, GRAVITY * (given->mass_kg / 2 + given->from_mass_kg), &line->end[0]);
        make_end(s, given->to, GRAVITY * (given->mass_kg / 2 + given->to_mass_kg), &line->end[1]);
        line->ea_N = given->ea_N;
        line->flipped = line->end[0].node > line->end[1].node;
        if (line->flipped) {
            const bk_rig_end other = line->end[0];
            line->end[0] = line->end[1];
            line->end[1] = other;
        }
        line->inert = line->end[0].node == line->end[1].node;
        s->size_m = fmax(s->size_m, given->length_m.v);
    }
    const bk_rig_end *first = NULL;
    s->one_hook = true;
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_end *end = &s->line[i].end[1];
        if (end->node != BK_HELD) continue;
        if (!first) first = end;
        s->one_hook = s->one_hook && end->anchor == first->anchor;
    }
}

/* Sizes, and whether the lines of a body pull on one axis through its centre of gravity. */
static void make_bodies(bk_statics *s)
{
    for (size_t i = 0; i < s->n_nodes; i++) {
        bk_rig_node *node = &s->node[i];
        node->freedoms = i < s->plan->n_bodies ? 6 : 3;
        node->size_m = i < s->plan->n_bodies ? 0 : 1;
        if (i < s->plan->n_bodies) node->ref_m = s->plan->bodies[i].cog_m.v;
    }
    for (size_t i = 0; i < s->n_lines; i++)
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &s->line[i].end[e];
            if (end->node >= s->plan->n_bodies) continue;
            bk_rig_node *node = &s->node[end->node];
            const double far = bk_vec3_norm(end->own_m);
            if (far > node->size_m) {
                node->size_m = far;
                node->axis = bk_vec3_scale(1 / far, end->own_m);
            }
        }
    for (size_t i = 0; i < s->plan->n_bodies; i++) {
        bk_rig_node *node = &s->node[i];
        node->rod_like = node->size_m > 0;
        node->point_like = !node->rod_like;
        s->size_m = fmax(s->size_m, node->size_m);
    }
    for (size_t i = 0; i < s->n_lines; i++)
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &s->line[i].end[e];
            if (end->node >= s->plan->n_bodies) continue;
            bk_rig_node *node = &s->node[end->node];
            if (bk_vec3_norm(bk_vec3_cross(node->axis, end->own_m)) > ON_AXIS * node->size_m)
                node->rod_like = false;
        }
    for (size_t i = 0; i < s->n_nodes; i++) {
        bk_rig_node *node = &s->node[i];
        if (node->point_like) node->size_m = s->size_m;
        node->per_size = 1 / node->size_m;
    }
}

static bool make_matrix(bk_statics *s)
{
    size_t *freedoms = BK_NEW(s->arena, size_t, s->n_nodes);
    size_t(*pairs)[2] = bk_arena_alloc(s->arena, s->n_lines, sizeof *pairs);
    size_t *pair_at = BK_NEW(s->arena, size_t, s->n_lines),
           *pair_of = BK_NEW(s->arena, size_t, s->n_lines);
    size_t *newest = BK_NEW(s->arena, size_t, s->n_nodes),
           *older = BK_NEW(s->arena, size_t, s->n_lines);
    if (!freedoms || !pairs || !pair_at || !pair_of || !newest || !older) return false;
    for (size_t i = 0; i < s->n_nodes; i++) {
        freedoms[i] = s->node[i].freedoms;
        newest[i] = BK_NONE;
    }
    size_t n_pairs = 0;
    for (size_t i = 0; i < s->n_lines; i++) {
        const size_t a = s->line[i].end[0].node, b = s->line[i].end[1].node;
        if (b == BK_HELD || s->line[i].inert) continue;
        size_t p = newest[a]; /* the pairs of a, newest first */
        while (p != BK_NONE && pairs[p][1] != b)
            p = older[p];
        if (p == BK_NONE) {
            p = n_pairs++;
            pairs[p][0] = a;
            pairs[p][1] = b;
            older[p] = newest[a];
            newest[a] = p;
        }
        pair_of[i] = p;
    }
    if (!bk_matrix_shape(&s->matrix, s->arena, s->n_nodes, freedoms, n_pairs, (const size_t(*)[2])pairs,
                         pair_at))
        return false;
    for (size_t i = 0; i < s->n_lines; i++)
        s->line[i].block = pair_at[pair_of[i]];
    return true;
}

bk_statics *bk_statics_new(const bk_plan *plan)
{
    bk_arena *arena = bk_arena_new();
    bk_statics *s = arena ? BK_NEW(arena, bk_statics, 1) : NULL;
    if (!s) {
        bk_arena_free(arena);
        return NULL;
    }
    s->arena = arena;
    s->plan = plan;
    s->n_nodes = plan->n_bodies + plan->n_rings;
    s->n_lines = plan->n_lines;
    s->node = BK_NEW(arena, bk_rig_node, s->n_nodes);
    s->line = BK_NEW(arena, bk_rig_line, s->n_lines);
    if (!s->node || !s->line) goto no_memory;
    make_lines(s);
    make_bodies(s);
    if (!make_matrix(s)) goto no_memory;
    const size_t n = s->matrix.n, nodes = s->n_nodes;
    const struct {
        double **at;
        size_t n;
    } doubles[] = {{&s->base, s->matrix.n_values}, {&s->values, s->matrix.n_values}, {&s->weights, n}, {&s->gradient, n}, {&s->step, n},
                   {&s->trial, n}, {&s->scratch, n}, {&s->scale_N_m, nodes}, {&s->trace_N_m, nodes}};
    for (size_t i = 0; i < sizeof doubles / sizeof *doubles; i++)
        if (!(*doubles[i].at = BK_NEW(arena, double, doubles[i].n))) goto no_memory;
    if (!(s->anchor_m = BK_NEW(arena, bk_vec3, plan->n_anchors)) || !(s->at_m = BK_NEW(arena, bk_vec3, nodes)) ||
        !(s->kept_at_m = BK_NEW(arena, bk_vec3, nodes)) || !(s->quat = BK_NEW(arena, bk_quat, nodes)) ||
        !(s->kept_quat = BK_NEW(arena, bk_quat, nodes)) || !(s->probe = BK_NEW(arena, bk_rig_probe, s->n_lines)) ||
        !(s->reach = BK_NEW(arena, size_t, nodes + 1)) || !bk_proof_open(&s->proof, s->plan, arena))
        goto no_memory;
    return s;
no_memory:
    bk_arena_free(arena);
    return NULL;
}

void bk_statics_free(bk_statics *statics)
{
    if (statics) bk_arena_free(statics->arena);
}

/* ---- the case ---------------------------------------------------------------------------------- */

static void change(bk_statics *s, bk_change c)
{
    switch (c.kind) {
    case BK_CHANGE_MASS:
        s->node[c.index].mass_kg += c.amount;
        break;
    case BK_CHANGE_COG_X:
        s->node[c.index].shift_m.x += c.amount;
        break;
    case BK_CHANGE_COG_Y:
        s->node[c.index].shift_m.y += c.amount;
        break;
    case BK_CHANGE_COG_Z:
        s->node[c.index].shift_m.z += c.amount;
        break;
    case BK_CHANGE_LENGTH:
        s->line[c.index].rest_m += c.amount;
        break;
    case BK_CHANGE_ANCHOR_X:
        s->anchor_m[c.index].x += c.amount;
        break;
    case BK_CHANGE_ANCHOR_Y:
        s->anchor_m[c.index].y += c.amount;
        break;
    case BK_CHANGE_ANCHOR_Z:
        s->anchor_m[c.index].z += c.amount;
        break;
    case BK_CHANGE_LOSE_LINE:
        s->line[c.index].lost = true;
        break;
    case BK_CHANGE_WIND_X:
        s->node[c.index].wind_N.x += c.amount;
        break;
    case BK_CHANGE_WIND_Y:
        s->node[c.index].wind_N.y += c.amount;
        break;
    }
}

void bk_rig_apply(bk_statics *s, const bk_case *which)
{
    const bk_plan *plan = s->plan;
    for (size_t i = 0; i < s->n_nodes; i++) {
        bk_rig_node *node = &s->node[i];
        node->mass_kg =
            i < plan->n_bodies ? plan->bodies[i].mass_kg.v : plan->rings[i - plan->n_bodies].mass_kg;
        node->shift_m = node->wind_N = bk_vec3_of(0, 0, 0);
    }
    for (size_t i = 0; i < plan->n_anchors; i++)
        s->anchor_m[i] = plan->anchors[i].at_m.v;
    for (size_t i = 0; i < s->n_lines; i++) {
        s->line[i].rest_m = plan->lines[i].length_m.v;
        s->line[i].lost = false;
    }
    for (size_t i = 0; which && i < which->n; i++)
        change(s, which->changes[i]);

    s->weight_N = 0;
    bk_vec3 wind = {0, 0, 0};
    s->windy = false;
    for (size_t i = 0; i < s->n_nodes; i++) {
        bk_rig_node *node = &s->node[i];
        wind = bk_vec3_add(wind, node->wind_N);
        s->windy = s->windy || node->wind_N.x != 0 || node->wind_N.y != 0;
        node->weight_N = GRAVITY * fmax(node->mass_kg, 0);
        node->moment_Nm = bk_vec3_scale(node->weight_N, node->shift_m);
        s->weight_N += node->weight_N;
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        line->stiffness_N_m = line->ea_N / line->rest_m;
        if (line->lost) continue;
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &line->end[e];
            s->weight_N += end->weight_N;
            if (end->node == BK_HELD || end->weight_N == 0) continue;
            bk_rig_node *node = &s->node[end->node];
            node->weight_N += end->weight_N;
            if (node->freedoms == 6)
                node->moment_Nm = bk_vec3_add(node->moment_Nm, bk_vec3_scale(end->weight_N, end->own_m));
        }
    }
    const bk_vec3 all = bk_vec3_of(-wind.x, -wind.y, s->weight_N);
    s->yaw = s->windy ? bk_vec3_scale(1 / bk_vec3_norm(all), all) : UP;
}

void bk_rig_add_spin(double *block, double stiffness, bk_vec3 about)
{
    const bk_vec3 s = bk_vec3_scale(stiffness, about);
    double *x = block + 3 * 6 + 3, *y = x + 6, *z = y + 6; /* the lower half */
    x[0] += s.x * about.x;
    y[0] += s.y * about.x;
    y[1] += s.y * about.y;
    z[0] += s.z * about.x;
    z[1] += s.z * about.y;
    z[2] += s.z * about.z;
}

bool bk_rig_soften(bk_statics *s, double most_N)
{
    bool softened = false;
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        softened = softened || line->ea_N > most_N;
        line->stiffness_N_m = fmin(line->ea_N, most_N) / line->rest_m;
    }
    return softened;
}

/* ---- the pose ---------------------------------------------------------------------------------- */

void bk_rig_start(bk_statics *s, const bk_hang *start)
{
    const bk_plan *plan = s->plan;
    for (size_t i = 0; i < plan->n_bodies; i++) {
        s->at_m[i] = start ? bk_vec3_add(start->origin_m[i], bk_quat_turn(start->turn[i], s->node[i].ref_m))
                           : bk_vec3_add(plan->bodies[i].at_m, s->node[i].ref_m);
        s->quat[i] = start ? start->turn[i] : bk_quat_identity();
    }
    for (size_t i = 0; i < plan->n_rings; i++)
        s->at_m[plan->n_bodies + i] = start ? start->ring_m[i] : plan->rings[i].at_m;
    for (size_t i = 0; i < s->n_lines; i++)
        s->line[i].pull_N = start && !s->line[i].lost ? start->tension_N[i] : 0;
}

static void turn_of(bk_quat q, double m[3][3])
{
    m[0][0] = 1 - 2 * (q.y * q.y + q.z * q.z);
    m[0][1] = 2 * (q.x * q.y - q.w * q.z);
    m[0][2] = 2 * (q.x * q.z + q.w * q.y);
    m[1][0] = 2 * (q.x * q.y + q.w * q.z);
    m[1][1] = 1 - 2 * (q.x * q.x + q.z * q.z);
    m[1][2] = 2 * (q.y * q.z - q.w * q.x);
    m[2][0] = 2 * (q.x * q.z - q.w * q.y);
    m[2][1] = 2 * (q.y * q.z + q.w * q.x);
    m[2][2] = 1 - 2 * (q.x * q.x + q.y * q.y);
}

bool bk_rig_rolls(const bk_rig_node *node)
{
    return node->rod_like && bk_vec3_norm(bk_vec3_cross(node->axis, node->shift_m)) <= ON_AXIS * node->size_m;
}

static void place_end(const bk_statics *s, bk_rig_end *end)
{
    if (end->node == BK_HELD) {
        end->at_m = s->anchor_m[end->anchor];
        return;
    }
    end->at_m = s->at_m[end->node];
    const bk_rig_node *node = &s->node[end->node];
    if (node->freedoms == 3) return;
    end->arm_m = bk_rig_turned(node, end->own_m);
    end->at_m = bk_vec3_add(end->at_m, end->arm_m);
}

static void set_slope(const bk_statics *s, bk_rig_end *end, bk_vec3 u)
{
    if (end->node == BK_HELD) return;
    const bk_rig_node *node = &s->node[end->node];
    end->slope[0] = u.x;
    end->slope[1] = u.y;
    end->slope[2] = u.z;
    if (node->freedoms == 3) return;
    const bk_vec3 turn = bk_vec3_scale(node->per_size, bk_vec3_cross(end->arm_m, u));
    end->slope[3] = turn.x;
    end->slope[4] = turn.y;
    end->slope[5] = turn.z;
}

/* A line's stretch by its exact length, so that nothing but the rounding of the pose itself is left in it. */
static double wide_stretch(const bk_statics *s, size_t i)
{
    const bk_plan *plan = s->plan;
    const bk_rig_line *line = &s->line[i];
    long double at[2][3], square = 0;
    for (int e = 0; e < 2; e++) {
        const bk_end given = (e == 1) != line->flipped ? plan->lines[i].to : plan->lines[i].from;
        const size_t node = line->end[e].node;
        const bk_vec3 none = {0, 0, 0};
        if (given.kind == BK_END_POINT)
            bk_quat_place_wide(s->quat[node], s->at_m[node], s->node[node].ref_m, plan->points[given.index].at_m, at[e]);
        else bk_quat_place_wide(bk_quat_identity(), node == BK_HELD ? s->anchor_m[given.index] : s->at_m[node], none, none, at[e]);
    }
    for (int k = 0; k < 3; k++)
        square += (at[1][k] - at[0][k]) * (at[1][k] - at[0][k]);
    return (double)(sqrtl(square) - line->rest_m);
}

void bk_rig_measure(bk_statics *s)
{
    for (size_t i = 0; i < s->plan->n_bodies; i++) {
        bk_rig_node *node = &s->node[i];
        turn_of(s->quat[i], node->turn);
        node->moment_now_Nm = bk_rig_turned(node, node->moment_Nm);
        node->shift_now_m = bk_rig_turned(node, node->shift_m);
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        place_end(s, &line->end[0]);
        place_end(s, &line->end[1]);
        const bk_vec3 d = bk_vec3_sub(line->end[1].at_m, line->end[0].at_m);
        line->length_m = bk_vec3_norm(d);
        line->stretch_m = s->wide ? wide_stretch(s, i) : line->length_m - line->rest_m;
        /* ends in one place have no direction: whatever moves them apart, it will be weight */
        line->along = line->length_m > 0 ? bk_vec3_scale(1 / line->length_m, d) : UP;
        set_slope(s, &line->end[0], bk_vec3_scale(-1, line->along));
        set_slope(s, &line->end[1], line->along);
    }
}

void bk_rig_keep(bk_statics *s)
{
    memcpy(s->kept_at_m, s->at_m, s->n_nodes * sizeof *s->at_m);
    memcpy(s->kept_quat, s->quat, s->n_nodes * sizeof *s->quat);
}

void bk_rig_restore(bk_statics *s)
{
    memcpy(s->at_m, s->kept_at_m, s->n_nodes * sizeof *s->at_m);
    memcpy(s->quat, s->kept_quat, s->n_nodes * sizeof *s->quat);
}

void bk_rig_move(bk_statics *s, const double *step, double part)
{
    for (size_t i = 0; i < s->n_nodes; i++, step += 3) {
        const bk_rig_node *node = &s->node[i];
        s->at_m[i] = bk_vec3_add(s->at_m[i], bk_vec3_scale(part, bk_vec3_of(step[0], step[1], step[2])));
        if (node->freedoms == 3) continue;
        step += 3;
        const bk_vec3 turn = bk_vec3_scale(part * node->per_size, bk_vec3_of(step[0], step[1], step[2]));
        s->quat[i] = bk_quat_normalise(bk_quat_mul(bk_quat_exp(turn), s->quat[i]));
    }
}

/* ---- the energy's slopes --------------------------------------------------------------------- */

void bk_rig_weights(bk_statics *s)
{
    double *g = s->weights;
    for (size_t i = 0; i < s->n_nodes; i++) {
        const bk_rig_node *node = &s->node[i];
        g[0] = -node->wind_N.x;
        g[1] = -node->wind_N.y;
        g[2] = node->weight_N;
        g += 3;
        if (node->freedoms == 3) continue;
        const bk_vec3 turn =
            bk_vec3_scale(node->per_size, bk_vec3_sub(bk_vec3_cross(node->moment_now_Nm, UP),
                                                      bk_vec3_cross(node->shift_now_m, node->wind_N)));
        g[0] = turn.x;
        g[1] = turn.y;
        g[2] = turn.z;
        g += 3;
    }
}

void bk_rig_gradient(bk_statics *s)
{
    memcpy(s->gradient, s->weights, s->matrix.n * sizeof *s->gradient);
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (!line->inert) bk_rig_add_slope(s, line, bk_rig_tension(line), s->gradient);
    }
}

double bk_rig_residual(const bk_statics *s, size_t *node)
{
    double worst = 0;
    *node = 0;
    for (size_t f = 0, i = 0; f < s->matrix.n; f += 3) {
        const double *g = s->gradient + f, square = g[0] * g[0] + g[1] * g[1] + g[2] * g[2];
        if (f == s->matrix.first[i] + s->node[i].freedoms) i++;
        if (square <= worst) continue;
        *node = i;
        if (!isfinite(square)) return INFINITY;
        worst = square;
    }
    return sqrt(worst) / s->weight_N;
}

/* What a node carries: its own weight, or half of what pulls at it.  Sets what counts as a small
 * stiffness there, so that a gram and a tonne in one rig are judged alike. */
void bk_rig_scale(bk_statics *s)
{
    double *scale = s->scale_N_m;
    memset(scale, 0, s->n_nodes * sizeof *scale);
    for (size_t i = 0; i < s->n_lines; i++)
        for (int e = 0; e < 2; e++)
            if (s->line[i].end[e].node != BK_HELD) scale[s->line[i].end[e].node] += s->line[i].pull_N / 2;
    for (size_t i = 0; i < s->n_nodes; i++)
        scale[i] = fmax(fmax(scale[i], s->node[i].weight_N), SCALE_LEAST * s->weight_N) / s->size_m;
}

/* Of a node's own block only the lower half counts (matrix.h), and only that is written: this is where time
 * goes. */

/* Adds (force arm' + arm force')/2 - (force . arm) I to the turning part of a body's block. */
static inline void add_turning(double *restrict block, bk_vec3 force, bk_vec3 arm)
{
    double *restrict x = block + 3 * 6 + 3, *restrict y = x + 6, *restrict z = y + 6;
    const bk_vec3 half = bk_vec3_scale(0.5, force);
    x[0] -= force.y * arm.y + force.z * arm.z;
    y[0] += half.y * arm.x + arm.y * half.x;
    y[1] -= force.z * arm.z + force.x * arm.x;
    z[0] += half.z * arm.x + arm.z * half.x;
    z[1] += half.z * arm.y + arm.z * half.y;
    z[2] -= force.x * arm.x + force.y * arm.y;
}

/* Adds to a node's own block what a pull at `arm` does that keeps its direction, and scale * T'T, T the
 * travel of that point: |travel|^2 as a form.  travel = dc + t x arm, so T = [I, -[arm x]/size], and its
 * turning part is that of a force -arm. */
static inline void add_end(double *restrict block, double scale, bk_vec3 pull, const bk_rig_node *node,
                           bk_vec3 arm)
{
    const size_t columns = node->freedoms;
    for (size_t i = 0; i < 3; i++)
        block[i * columns + i] += scale;
    if (columns == 3) return;
    const double per_size = node->per_size;
    const bk_vec3 s = bk_vec3_scale(scale * per_size, arm);
    double *restrict x = block + 3 * 6, *restrict y = x + 6, *restrict z = y + 6;
    x[1] -= s.z;
    x[2] += s.y;
    y[0] += s.z;
    y[2] -= s.x;
    z[0] -= s.y;
    z[1] += s.x;
    const bk_vec3 turning = bk_vec3_scale(per_size, bk_vec3_sub(bk_vec3_scale(per_size, pull), s));
    add_turning(block, turning, arm);
}

/* Between two nodes: scale * T'T of a's travel and b's. */
static void add_travel_between(double *block, double scale, const bk_rig_node *a, bk_vec3 arm_a,
                               const bk_rig_node *b, bk_vec3 arm_b)
{
    const size_t columns = b->freedoms;
    for (size_t i = 0; i < 3; i++)
        block[i * columns + i] += scale;
    if (b->freedoms == 6) {
        const double t = scale * b->per_size;
        block[0 * columns + 4] += t * arm_b.z;
        block[0 * columns + 5] -= t * arm_b.y;
        block[1 * columns + 3] -= t * arm_b.z;
        block[1 * columns + 5] += t * arm_b.x;
        block[2 * columns + 3] += t * arm_b.y;
        block[2 * columns + 4] -= t * arm_b.x;
    }
    if (a->freedoms == 3) return;
    const double s = scale * a->per_size;
    block[4 * columns + 0] += s * arm_a.z;
    block[5 * columns + 0] -= s * arm_a.y;
    block[3 * columns + 1] -= s * arm_a.z;
    block[5 * columns + 1] += s * arm_a.x;
    block[3 * columns + 2] += s * arm_a.y;
    block[4 * columns + 2] -= s * arm_a.x;
    if (b->freedoms == 3) return;
    const double x[3] = {arm_a.x, arm_a.y, arm_a.z}, y[3] = {arm_b.x, arm_b.y, arm_b.z};
    const double both = bk_vec3_dot(arm_a, arm_b);
    for (size_t r = 0; r < 3; r++)
        for (size_t c = 0; c < 3; c++)
            block[(3 + r) * 6 + 3 + c] += s * b->per_size * ((r == c ? both : 0) - y[r] * x[c]);
}

/* Adds scale * a b'.  The sizes are written out so that the compiler unrolls them. */
static inline void add_outer_of(double *restrict block, size_t rows, size_t columns, double scale,
                                const double *restrict a, const double *restrict b)
{
    for (size_t r = 0; r < rows; r++) {
        const double sa = scale * a[r];
        for (size_t c = 0; c < columns; c++)
            block[r * columns + c] += sa * b[c];
    }
}

static void add_outer(double *block, size_t rows, size_t columns, double scale, const double *a,
                      const double *b)
{
    if (rows == 6 && columns == 6)
        add_outer_of(block, 6, 6, scale, a, b);
    else if (rows == 6)
        add_outer_of(block, 6, 3, scale, a, b);
    else if (columns == 6)
        add_outer_of(block, 3, 6, scale, a, b);
    else
        add_outer_of(block, 3, 3, scale, a, b);
}

/* Adds scale * a a' to a node's own block. */
static inline void add_square_of(double *restrict block, size_t n, double scale, const double *restrict a)
{
    for (size_t r = 0; r < n; r++) {
        const double sa = scale * a[r];
        for (size_t c = 0; c <= (r | 1) && c < n; c++) /* in pairs, as the processor adds them */
            block[r * n + c] += sa * a[c];
    }
}

static void add_square(double *block, size_t n, double scale, const double *a)
{
    if (n == 6)
        add_square_of(block, 6, scale, a);
    else
        add_square_of(block, 3, scale, a);
}

/* k J J' of a line. */
static void add_pull(bk_statics *s, const bk_rig_line *line, double k)
{
    double *blocks = s->values;
    const bk_rig_end *a = &line->end[0], *b = &line->end[1];
    const size_t da = s->node[a->node].freedoms;
    add_square(blocks + s->matrix.diagonal[a->node], da, k, a->slope);
    if (b->node == BK_HELD) return;
    const size_t db = s->node[b->node].freedoms;
    add_square(blocks + s->matrix.diagonal[b->node], db, k, b->slope);
    add_outer(blocks + line->block, da, db, k, a->slope, b->slope);
}

void bk_rig_base(bk_statics *s, double lift)
{
    double *base = s->base;
    memset(base, 0, s->matrix.n_values * sizeof *base);
    for (size_t i = 0; i < s->n_nodes; i++) {
        const bk_rig_node *node = &s->node[i];
        double *block = base + s->matrix.diagonal[i];
        for (size_t f = 0; f < node->freedoms; f++)
            block[f * (node->freedoms + 1)] = lift * s->scale_N_m[i];
        if (node->freedoms == 3) continue;
        const double per_size2 = node->per_size * node->per_size;
        add_turning(block, bk_vec3_scale(per_size2, UP), node->moment_now_Nm);
        if (node->wind_N.x != 0 || node->wind_N.y != 0)
            add_turning(block, bk_vec3_scale(-per_size2, node->wind_N), node->shift_now_m);
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        line->pendulum_N_m = 0;
        if (line->pull_N == 0 || line->inert) continue;
        const double pendulum = line->pull_N / fmax(line->length_m, PENDULUM_LEAST * line->rest_m);
        line->pendulum_N_m = pendulum;
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &line->end[e];
            if (end->node == BK_HELD) continue;
            add_end(base + s->matrix.diagonal[end->node], pendulum,
                    bk_vec3_scale(e ? line->pull_N : -line->pull_N, line->along), &s->node[end->node],
                    end->arm_m);
        }
        if (line->end[1].node != BK_HELD)
            add_travel_between(base + line->block, -pendulum, &s->node[line->end[0].node], line->end[0].arm_m,
                               &s->node[line->end[1].node], line->end[1].arm_m);
    }
}

void bk_rig_values(bk_statics *s)
{
    memcpy(s->values, s->base, s->matrix.n_values * sizeof *s->base);
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        const double along = (line->taut ? line->stiffness_N_m : 0) - line->pendulum_N_m;
        if (along != 0) add_pull(s, line, along);
    }
}

/* ---- results ----------------------------------------------------------------------------------- */

/* A body that may roll about an axis (world) turned back about it to stand as upright as it was drawn.  Nothing says how far
 * it has rolled, and a start from one pose to the next would let it wander. */
static bk_quat unrolled(bk_quat q, bk_vec3 axis)
{
    const bk_vec3 z = bk_quat_turn(q, UP);
    const double roll = atan2(bk_vec3_dot(bk_vec3_cross(z, UP), axis), z.z - bk_vec3_dot(z, axis) * axis.z);
    return bk_quat_normalise(bk_quat_mul(bk_quat_exp(bk_vec3_scale(roll, axis)), q));
}

static bk_vec3 origin_of(const bk_statics *s, size_t body, bk_quat turn)
{
    const bk_vec3 ref_m = s->node[body].ref_m;
    if (!s->wide) return bk_vec3_sub(s->at_m[body], bk_quat_turn(turn, ref_m));
    long double place[3];
    bk_quat_place_wide(turn, s->at_m[body], ref_m, bk_vec3_of(0, 0, 0), place);
    return bk_vec3_of((double)place[0], (double)place[1], (double)place[2]);
}

void bk_rig_report(bk_statics *s, bk_hang *out)
{
    const bk_plan *plan = s->plan;
    out->total_weight_N = s->weight_N;
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const bk_rig_node *node = &s->node[i];
        out->cog_m[i] = bk_vec3_add(s->at_m[i], node->shift_now_m);
        const bk_vec3 axis = bk_rig_turned(node, node->axis);
        out->rolls_freely[i] = bk_rig_rolls(node) && hypot(axis.x, axis.y) > UPRIGHT;
        out->turn[i] = out->rolls_freely[i] ? unrolled(s->quat[i], axis) : s->quat[i];
        out->origin_m[i] = origin_of(s, i, out->turn[i]);
        const bk_vec3 z = bk_quat_turn(out->turn[i], UP);
        out->tilt_rad[i] = atan2(hypot(z.x, z.y), z.z);
    }
    for (size_t i = 0; i < plan->n_rings; i++)
        out->ring_m[i] = s->at_m[plan->n_bodies + i];
    for (size_t i = 0; i < plan->n_anchors; i++)
        out->anchor_N[i] = bk_vec3_of(0, 0, 0);
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        const bk_vec3 u = line->along;
        const double tension = bk_rig_tension(line);
        out->tension_N[i] = tension;
        out->length_m[i] = line->length_m;
        out->from_vertical_rad[i] = atan2(hypot(u.x, u.y), fabs(u.z));
        out->slack[i] = !(tension > 0);
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &line->end[e];
            bk_vec3 pull = bk_vec3_scale(e ? -tension : tension, u);
            pull.z -= line->lost ? 0 : end->weight_N;
            *((e == 1) != line->flipped ? &out->pull_to_N[i] : &out->pull_from_N[i]) = pull;
            if (end->node == BK_HELD)
                out->anchor_N[end->anchor] = bk_vec3_add(out->anchor_N[end->anchor], pull);
        }
    }
}
