/* Does it stay as drawn?
 *
 * Three questions, in this order:
 *   held      does a chain of lines lead from everything heavy to an anchor?
 *   as drawn  has no body leaned past 60 degrees, and has nothing fallen past a line that was drawn
 *             pulling it down?  The drawn arrangement did not hold if so, whatever hangs in the end.
 *   stable    does every small move raise the energy?
 *
 * The last is asked of the exact second slope H of the energy at the balance.  T, diagonal, is what counts as
 * no stiffness: a trace of what each node carries over the rig's size, so that a gram and a tonne are judged
 * alike, and the rounding of H there.
 *   H + T positive definite          no move lowers the energy;
 *   H + pins - T positive definite   and no move leaves it as it is, save those pinned: a body's yaw about
 *                                    the vertical, a body's spin about the one axis all its lines pull on (a
 *                                    bare spreader), and what is weightless.
 * In wind a load turns about the line of all weights and wind together, much as it yaws in still air: the few newtons of
 * its lines alone would have it this way round or that.  There the pins stand about that line, stiffer, and in the first
 * question too where it fails without.
 * Two factorisations; a mode is looked for only when one fails, by inverse iteration, which reuses the
 * same factor and so costs nothing new for rigs of any size.
 */
#include "rig.h"

#include <float.h>
#include <string.h>

#include "chance.h"

#define NEUTRAL 1e-9 /* of a node's own stiffness: below is no stiffness */
#define PIN     1e-3 /* far above a trace, far below any stiffness that matters */
#define PIN_IN_WIND 0.05 /* far above what lines can do to the yaw */
#define DRAWN_ABOVE                                                                                          \
    0.05             /* sine of the angle (3 degrees) from which a line as drawn points up or down: flat     \
                        bridles are drawn carelessly */
#define CARRIES 0.05 /* share of what a node carries that makes a line one of its supports */

/* ---- held -------------------------------------------------------------------------------------- */

static size_t root(size_t *parent, size_t i)
{
    while (parent[i] != i)
        i = parent[i] = parent[parent[i]];
    return i;
}

static const char *node_name(const bk_statics *s, size_t node)
{
    const bk_plan *plan = s->plan;
    return node < plan->n_bodies ? plan->bodies[node].name : plan->rings[node - plan->n_bodies].name;
}

static bk_status fails(const bk_statics *s, bk_hang *out, bk_status status, size_t node, bk_vec3 towards)
{
    const size_t n_bodies = s->plan->n_bodies;
    out->unstable_body = node < n_bodies ? node : BK_NONE;
    out->unstable_ring = node >= n_bodies ? node - n_bodies : BK_NONE;
    out->goes_towards = towards;
    return out->why ? status : BK_E_NOMEM;
}

bk_status bk_stability_held(bk_statics *s, bk_hang *out)
{
    size_t *parent = s->reach;
    const size_t ground = s->n_nodes;
    for (size_t i = 0; i <= ground; i++)
        parent[i] = i;
    for (size_t i = 0; i < s->n_lines; i++) {
        const size_t a = s->line[i].end[0].node, b = s->line[i].end[1].node;
        if (!s->line[i].lost)
            parent[root(parent, a == BK_HELD ? ground : a)] = root(parent, b == BK_HELD ? ground : b);
    }
    for (size_t i = 0; i < s->n_nodes; i++) {
        if (!(s->node[i].weight_N > 0) || root(parent, i) == root(parent, ground)) continue;
        out->why = bk_arena_printf(out->arena,
                                   "nothing holds %s: no line leads from it, through others, to an anchor",
                                   node_name(s, i));
        return fails(s, out, BK_E_UNHELD, i, bk_vec3_of(0, 0, -1));
    }
    if (!(s->weight_N > 0)) {
        out->why = "nothing in the rig has any weight, so nothing says how it hangs";
        return BK_E_UNHELD;
    }
    return BK_OK;
}

/* ---- words ------------------------------------------------------------------------------------- */

/* "+x", "-y" or "37 degrees from +x to -y"; towards is horizontal. */
static const char *way(bk_arena *arena, bk_vec3 towards)
{
    const double along = fabs(towards.x), across = fabs(towards.y);
    const char *x = towards.x < 0 ? "-x" : "+x", *y = towards.y < 0 ? "-y" : "+y";
    const double degrees = atan2(across, along) * 180 / BK_PI;
    if (degrees < 0.5) return x;
    if (degrees > 89.5) return y;
    return bk_arena_printf(arena, "%.0f degrees from %s to %s", degrees, x, y);
}

/* A line's end on a thing that it can move, NULL where it has none there; sense: of its pull along the line. */
static const bk_rig_end *end_on(const bk_rig_line *line, size_t node, double *sense)
{
    const bool first = line->end[0].node == node;
    *sense = first ? 1 : -1;
    if (line->inert || line->lost) return NULL;
    return first ? &line->end[0] : line->end[1].node == node ? &line->end[1] : NULL;
}

/* How far a body's centre of gravity lies above (and beside) the points it hangs by, as the pose is:
 * the points of lines that go up from it, weighed by their upward pull where there is one. */
static double above_support(const bk_statics *s, size_t body, double *beside)
{
    const bk_rig_node *node = &s->node[body];
    bk_vec3 sum = bk_vec3_of(0, 0, 0);
    double pulls = 0;
    for (int weighed = 1; weighed >= 0 && pulls == 0; weighed--)
        for (size_t i = 0; i < s->n_lines; i++) {
            const bk_rig_line *line = &s->line[i];
            double sense;
            const bk_rig_end *end = end_on(line, body, &sense);
            if (!end || sense * line->along.z <= 0) continue;
            const double pull = weighed ? bk_rig_tension(line) * fabs(line->along.z) : 1;
            sum = bk_vec3_add(sum, bk_vec3_scale(pull, end->arm_m));
            pulls += pull;
        }
    const bk_vec3 cog = node->shift_now_m;
    if (pulls == 0) return *beside = 0;
    *beside = hypot(cog.x - sum.x / pulls, cog.y - sum.y / pulls);
    return cog.z - sum.z / pulls;
}

static const char *quantity(const bk_statics *s, bk_hang *out, double value, bk_dim dim)
{
    char text[64];
    bk_quantity_print(text, sizeof text, value, dim, s->plan->units, 3);
    return bk_arena_strndup(out->arena, text, strlen(text));
}

/* Unit; any way will do for what is exactly upright. */
static bk_vec3 horizontal(bk_vec3 v)
{
    const double length = hypot(v.x, v.y);
    return length > 0 ? bk_vec3_of(v.x / length, v.y / length, 0) : bk_vec3_of(1, 0, 0);
}

/* ---- as drawn ---------------------------------------------------------------------------------- */

/* Says how a body stands as drawn; leaves the solver at the drawn pose. */
static bk_status left_attitude(bk_statics *s, bk_hang *out, size_t body, bk_vec3 towards)
{
    const double leans = out->tilt_rad[body] * 180 / BK_PI;
    double beside;
    bk_rig_start(s, NULL);
    bk_rig_measure(s);
    const double above = above_support(s, body, &beside);
    towards = horizontal(towards);
    const double lever = above > 0 ? above : beside;
    const double moment = s->node[body].weight_N * lever * (above > 0 ? BK_PI / 180 : 1);
    if (above > 0) out->stiffness_Nm_per_rad = -s->node[body].weight_N * above;
    out->why = bk_arena_printf(
        out->arena,
        "%s turns over towards %s and leans %.0f degrees: as drawn its centre of gravity is %s %s the "
        "points it hangs by, which overturns it with %s%s",
        node_name(s, body), way(out->arena, towards), leans, quantity(s, out, lever, BK_DIM_LENGTH),
        above > 0 ? "above" : "beside", quantity(s, out, moment, BK_DIM_MOMENT),
        above > 0 ? " for each degree it leans" : "");
    return fails(s, out, BK_E_UNSTABLE, body, towards);
}

bk_status bk_stability_as_drawn(bk_statics *s, bk_hang *out)
{
    const bk_plan *plan = s->plan;
    size_t worst = BK_NONE;
    for (size_t i = 0; i < plan->n_bodies; i++)
        if (out->tilt_rad[i] > BK_TILT_LIMIT_RAD &&
            (worst == BK_NONE || out->tilt_rad[i] > out->tilt_rad[worst]))
            worst = i;
    if (worst == BK_NONE && !out->converged) worst = s->tipped;
    if (worst != BK_NONE) {
        const bk_vec3 lean = bk_vec3_of(s->node[worst].turn[0][2], s->node[worst].turn[1][2], 0);
        return left_attitude(s, out, worst, worst == s->tipped ? s->tipped_to : lean);
    }
    if (!out->converged) return BK_OK;
    /* where rings are drawn between other things says little, so only what an anchor or a body did counts */
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        const bk_vec3 drawn =
            bk_vec3_sub(bk_plan_end_at(plan, plan->lines[i].to), bk_plan_end_at(plan, plan->lines[i].from));
        const double was = bk_vec3_norm(drawn), up = line->flipped ? -line->along.z : line->along.z;
        const size_t lower = line->end[line->along.z > 0 ? 0 : 1].node,
                     upper = line->end[line->along.z > 0 ? 1 : 0].node;
        if (line->inert || lower == BK_HELD || (lower >= plan->n_bodies && upper != BK_HELD) ||
            up * drawn.z >= 0 || was < line->rest_m / 2 || fabs(drawn.z) < DRAWN_ABOVE * was ||
            bk_rig_tension(line) * fabs(up) < CARRIES * s->scale_N_m[lower] * s->size_m)
            continue;
        const bool body = lower < plan->n_bodies;
        const size_t ring = lower - plan->n_bodies;
        const double fall_m = body ? plan->bodies[lower].at_m.z - out->origin_m[lower].z
                                   : plan->rings[ring].at_m.z - out->ring_m[ring].z;
        out->why = bk_arena_printf(
            out->arena,
            "nothing holds %s where it is drawn: it %s%s, past line %s, which as drawn pulls it down",
            node_name(s, lower), fall_m > 0 ? "falls by " : "turns over",
            fall_m > 0 ? quantity(s, out, fall_m, BK_DIM_LENGTH) : "", plan->lines[i].name);
        return fails(s, out, BK_E_UNSTABLE, lower, bk_vec3_of(0, 0, -1));
    }
    return BK_OK;
}

/* ---- stable ------------------------------------------------------------------------------------ */

/* Adds to the diagonal `factor` of what is no stiffness at a node: a trace of its own, or the rounding of its
 * stiffest freedom in H. */
static void add_trace(const bk_statics *s, double *values, double factor)
{
    for (size_t i = 0; i < s->n_nodes; i++) {
        const size_t d = s->node[i].freedoms;
        for (size_t f = 0; f < d; f++)
            values[s->matrix.diagonal[i] + f * (d + 1)] += factor * s->trace_N_m[i];
    }
}

static void find_traces(bk_statics *s)
{
    for (size_t i = 0; i < s->n_nodes; i++) {
        double stiffest = 0;
        for (size_t f = 0, d = s->node[i].freedoms; f < d; f++)
            stiffest = fmax(stiffest, s->values[s->matrix.diagonal[i] + f * (d + 1)]);
        s->trace_N_m[i] = NEUTRAL * s->scale_N_m[i] + 64 * DBL_EPSILON * stiffest;
    }
}

static void add_pins(const bk_statics *s, double *values)
{
    for (size_t i = 0; i < s->n_nodes; i++) {
        const bk_rig_node *node = &s->node[i];
        double *block = values + s->matrix.diagonal[i];
        const double pin = PIN * s->scale_N_m[i] + 4 * s->trace_N_m[i];
        if (!(node->weight_N > 0)) {
            for (size_t f = 0; f < node->freedoms; f++)
                block[f * (node->freedoms + 1)] += pin;
        } else if (node->freedoms == 6) {
            bk_rig_add_spin(block, s->windy ? pin + PIN_IN_WIND * s->scale_N_m[i] : pin, s->yaw);
            if (bk_rig_rolls(node)) bk_rig_add_spin(block, pin, bk_rig_turned(node, node->axis));
        }
    }
}

/* The mode of least stiffness of values, as far as the rig's size, into s->step; returns its form there.
 * Inverse iteration on values lifted until positive definite; base is scratch here. */
static double weakest(bk_statics *s)
{
    const size_t n = s->matrix.n;
    double *x = s->step, lift = 1;
    uint64_t state = BK_CHANCE_START;
    for (size_t f = 0; f < n; f++)
        x[f] = bk_chance(&state); /* in no plane of symmetry */
    do {
        lift *= 4;
        memcpy(s->base, s->values, s->matrix.n_values * sizeof *s->base);
        add_trace(s, s->base, lift);
    } while (!bk_matrix_factor(&s->matrix, s->base) && lift < 1e18);
    for (int round = 0; round < 200; round++) {
        double square = 0;
        for (size_t i = 0, f = 0; i < s->n_nodes; i++)
            for (size_t k = 0; k < s->node[i].freedoms; k++, f++)
                x[f] *= s->trace_N_m[i];
        bk_matrix_solve(&s->matrix, x);
        for (size_t i = 0, f = 0; i < s->n_nodes; i++)
            for (size_t k = 0; k < s->node[i].freedoms; k++, f++)
                square += s->trace_N_m[i] * x[f] * x[f];
        for (size_t f = 0; f < n; f++)
            x[f] /= sqrt(square);
    }
    double farthest = 0, least = 0;
    for (size_t f = 0; f < n; f++)
        farthest = fmax(farthest, fabs(x[f]));
    for (size_t f = 0; f < n; f++)
        x[f] *= s->size_m / farthest;
    bk_matrix_times(&s->matrix, s->values, x, s->scratch);
    for (size_t f = 0; f < n; f++)
        least += x[f] * s->scratch[f];
    return least;
}

/* How a body's attitude changes in the mode: its rotation vector without yaw. */
static bk_vec3 tilting(const bk_statics *s, size_t body)
{
    const bk_rig_node *node = &s->node[body];
    const double *x = s->step + s->matrix.first[body];
    return bk_vec3_scale(node->per_size, bk_vec3_of(x[3], x[4], 0));
}

/* Restoring moment per angle of a body that turns about a horizontal axis through its reference, all forces
 * on it keeping size and direction: sum f . a - (f . axis)(a . axis).  The lever arms as a rigger sees them.
 */
static double turning_stiffness(const bk_statics *s, size_t body, bk_vec3 axis)
{
    const bk_rig_node *node = &s->node[body];
    const double weight_N = BK_STANDARD_GRAVITY_M_PER_S2 * fmax(node->mass_kg, 0);
    double sum = -weight_N * node->shift_now_m.z;
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        double sense;
        const bk_rig_end *end = end_on(line, body, &sense);
        if (!end) continue;
        bk_vec3 f = bk_vec3_scale(sense * bk_rig_tension(line), line->along);
        f.z -= end->weight_N;
        sum += bk_vec3_dot(f, end->arm_m) - bk_vec3_dot(f, axis) * bk_vec3_dot(end->arm_m, axis);
    }
    return sum;
}

/* Names what goes in the mode in s->step of stiffness `least`; the mode then points the way it goes. */
static bk_status name_mode(bk_statics *s, bk_hang *out, double least, bool neutral)
{
    size_t node = 0, body = BK_NONE;
    double farthest = 0, most = 0;
    for (size_t i = 0; i < s->n_nodes; i++) {
        const double *x = s->step + s->matrix.first[i];
        const double far = hypot(hypot(x[0], x[1]), x[2]);
        if (far > farthest) {
            farthest = far;
            node = i;
        }
        const double tilt = i < s->plan->n_bodies ? bk_vec3_norm(tilting(s, i)) : 0;
        if (tilt > most) {
            most = tilt;
            body = i;
        }
    }
    const bool turns = body != BK_NONE && most * s->node[body].size_m > 1e-3 * farthest;
    bk_vec3 towards;
    double beside, above = 0, stiffness = (double)NAN;
    if (turns) {
        const bk_vec3 turn = tilting(s, node = body);
        towards = horizontal(bk_vec3_cross(turn, bk_vec3_of(0, 0, 1)));
        above = above_support(s, body, &beside);
        /* in the mode other things may move along and hide most of it */
        stiffness = least / bk_vec3_dot(turn, turn);
        if (!neutral)
            stiffness = fmin(stiffness, turning_stiffness(s, body, bk_vec3_of(-towards.y, towards.x, 0)));
    } else {
        const double *x = s->step + s->matrix.first[node];
        towards = bk_vec3_scale(1 / farthest, bk_vec3_of(x[0], x[1], x[2]));
    }
    /* the mode goes both ways: the drawn pose leans to one, or else +x, +y is as good as any */
    bk_rig_keep(s);
    bk_rig_start(s, NULL);
    bk_rig_measure(s);
    bk_rig_weights(s);
    bk_rig_gradient(s);
    double lean = 0, size = 0;
    for (size_t f = 0; f < s->matrix.n; f++) {
        lean -= s->gradient[f] * s->step[f];
        size += s->step[f] * s->step[f];
    }
    bk_rig_restore(s);
    bk_rig_measure(s);
    const bool clear = fabs(lean) > 1e-9 * s->weight_N * sqrt(size);
    if (clear ? lean < 0 : towards.x < -1e-6 || (fabs(towards.x) <= 1e-6 && towards.y < 0)) {
        towards = bk_vec3_scale(-1, towards);
        for (size_t f = 0; f < s->matrix.n; f++)
            s->step[f] = -s->step[f];
    }

    out->stiffness_Nm_per_rad = stiffness;
    const char *name = node_name(s, node);
    if (!turns)
        out->why = bk_arena_printf(
            out->arena, "%s does not stay where it is drawn: nothing keeps it from moving towards %s", name,
            way(out->arena, towards));
    else if (neutral)
        out->why =
            bk_arena_printf(out->arena,
                            "%s does not stay as drawn: it hangs at the height of its centre of gravity, and "
                            "nothing turns it back when it leans towards %s",
                            name, way(out->arena, towards));
    else
        out->why = bk_arena_printf(
            out->arena, "%s topples towards %s: %s%s%s, and each degree it leans turns it further with %s",
            name, way(out->arena, towards),
            above > 0 ? "its centre of gravity is " : "its lines do not right it",
            above > 0 ? quantity(s, out, above, BK_DIM_LENGTH) : "",
            above > 0 ? " above the points it hangs by" : "",
            quantity(s, out, -out->stiffness_Nm_per_rad * BK_PI / 180, BK_DIM_MOMENT));
    return fails(s, out, BK_E_UNSTABLE, node, towards);
}

bk_status bk_stability_test(bk_statics *s, bk_hang *out, bool *falling)
{
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        line->pull_N = line->inert ? 0 : bk_rig_tension(line);
        line->taut = line->pull_N > 0;
    }
    bk_rig_scale(s);
    bk_rig_base(s, 0);
    bk_rig_values(s);
    find_traces(s);
    memcpy(s->base, s->values, s->matrix.n_values * sizeof *s->base); /* free now */
    add_pins(s, s->base);
    add_trace(s, s->base, -1);
    const bool neutral = !bk_matrix_factor(&s->matrix, s->base);
    add_trace(s, s->values, 1);
    *falling = !bk_matrix_factor(&s->matrix, s->values); /* this factor stays, for slopes */
    if (*falling && s->windy) {
        bk_rig_base(s, 0);
        bk_rig_values(s);
        add_pins(s, s->values);
        add_trace(s, s->values, 1);
        *falling = !bk_matrix_factor(&s->matrix, s->values);
    }
    if (!*falling && !neutral) return BK_OK;
    bk_rig_base(s, 0);
    bk_rig_values(s);
    if (!*falling || s->windy) add_pins(s, s->values);
    return name_mode(s, out, weakest(s), !*falling);
}
