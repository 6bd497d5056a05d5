/* How the rig hangs: from a drawn pose to the balance next to it.
 *
 * The rig hangs where its potential energy is least.  Two ways down:
 *
 * 1. The mixed step, which nearly always does.  Each line's tension is an unknown beside the pose:
 *    the slope of the energy is taken from true lengths, the stiffness of the line's direction
 *    (tension over length) from the tension of the step before, so that a swing is not mistaken for a
 *    stretch and the number of steps does not grow with stiffness.  A step d is where
 *
 *        1/2 d' B d + weights' d + sum 1/2 k (stretch + J d)+^2           (B: all but k J J')
 *
 *    is least.  It is convex when B is, and piecewise quadratic; which lines pull in it is settled
 *    inside the step, by Newton's method with an exact search along each direction, which ends after
 *    finitely many.  Left to the next step, slack and taut would take turns for ever.
 *    B is lifted by a trace of each node's own stiffness (free yaw, slack rings), and by more only
 *    while it is not positive definite; then the step leads away from an unstable pose, downhill.
 *    Steps are cut so that no line swings by more than half its length and no body turns by more than
 *    0.4 rad: the branch that was drawn is followed, not jumped from.
 *
 * 2. Plain Newton on the energy with Armijo's rule, from the drawn pose, should the first way circle.
 *
 * The answer counts only by its true residual.  Limits: lines as stiff as 1e7 times the weight meet
 * the rounding of their lengths, and then BK_E_NO_CONVERGE is the answer.
 */
#include "rig.h"

#include <float.h>
#include <string.h>

#define RESIDUAL_GOAL   1e-13  /* stop here */
#define RESIDUAL_FINE   1e-11  /* from here on, or from rounding on, stop when steps no longer gain */
#define RESIDUAL_REPORT 1e-9   /* nothing worse is ever an answer */
#define SHIFT_TRACE     1e-7   /* of a node's own stiffness */
#define SHIFT_FIRST     0.3    /* of a cold start, when no line has a tension to hold its direction */
#define LIFT_FIRST      1e-3   /* of a node's own stiffness */
#define LIFT_MOST       1e12
#define PATIENCE        8      /* steps without gain */
#define MERIT_SLACK     1e-14  /* of weight times size: rounding of the merit */
#define TURN_MOST_RAD   0.4
#define SWING_MOST      0.5    /* of a line's length */
#define MIXED_STEPS     400
#define ENERGY_STEPS    3000

static double growth(const bk_statics *s, const bk_rig_line *line, const double *step)
{
    double sum = 0;
    for (int e = 0; e < 2; e++) {
        const bk_rig_end *end = &line->end[e];
        if (end->node == BK_HELD)
            continue;
        const double *d = step + s->matrix.first[end->node];
        sum += end->slope[0] * d[0] + end->slope[1] * d[1] + end->slope[2] * d[2];
        if (s->node[end->node].freedoms == 6)
            sum += end->slope[3] * d[3] + end->slope[4] * d[4] + end->slope[5] * d[5];
    }
    return sum;
}

static void add_slope(const bk_statics *s, const bk_rig_line *line, double scale, double *to)
{
    for (int e = 0; e < 2; e++) {
        const bk_rig_end *end = &line->end[e];
        if (end->node == BK_HELD)
            continue;
        double *g = to + s->matrix.first[end->node];
        for (size_t f = 0; f < s->node[end->node].freedoms; f++)
            g[f] += scale * end->slope[f];
    }
}

/* ---- the mixed step ---------------------------------------------------------------------------- */

/* to: where the linearised energy is least if the lines marked taut act as springs both ways. */
static bool solve_marked(bk_statics *s, double *to)
{
    bk_rig_values(s);
    if (!bk_matrix_factor(&s->matrix, s->values))
        return false;
    for (size_t f = 0; f < s->matrix.n; f++)
        to[f] = -s->weights[f];
    for (size_t i = 0; i < s->n_lines; i++)
        if (s->line[i].taut)
            add_slope(s, &s->line[i], -s->line[i].stiffness_N_m * s->line[i].stretch_m, to);
    bk_matrix_solve(&s->matrix, to);
    return true;
}

/* Marks the lines that pull at the end of the step; true when none changed by more than rounding. */
static bool mark(bk_statics *s)
{
    bool same = true;
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost)
            continue;
        line->growth_m = line->stretch_m + growth(s, line, s->step);
        const bool taut = line->growth_m > 0;
        if (taut != line->taut && line->stiffness_N_m * fabs(line->growth_m) > 1e-14 * s->weight_N)
            same = false;
        line->taut = taut;
    }
    return same;
}

/* From step along `trial`: how far the linearised energy falls.  Its slope along the way is
 * continuous, rising and made of straight pieces; Newton's method between brackets ends on one. */
static double search(bk_statics *s)
{
    double rise = 0, bend = 0; /* slope without the lines: rise + bend * part */
    bk_matrix_times(&s->matrix, s->base, s->trial, s->scratch);
    for (size_t f = 0; f < s->matrix.n; f++) {
        rise += s->scratch[f] * s->step[f] + s->weights[f] * s->trial[f];
        bend += s->scratch[f] * s->trial[f];
    }
    double low = 0, high = (double)INFINITY, part = 1;
    for (int round = 0; round < 50; round++) {
        double slope = rise + bend * part, curve = bend;
        for (size_t i = 0; i < s->n_lines; i++) {
            const bk_rig_line *line = &s->line[i];
            if (line->inert || line->lost)
                continue;
            const double along = growth(s, line, s->trial), end = line->growth_m + part * along;
            if (end > 0) {
                slope += line->stiffness_N_m * end * along;
                curve += line->stiffness_N_m * along * along;
            }
        }
        if (slope > 0)
            high = part;
        else
            low = part;
        double next = part - slope / curve;
        if (!(curve > 0) || !(next > low && next < high))
            next = isfinite(high) ? (low + high) / 2 : 2 * part;
        if (fabs(next - part) <= 1e-12 * part || next > 1e6)
            return part;
        part = next;
    }
    return part;
}

/* step: where the linearised energy is least.  False when it has no least value. */
static bool settle(bk_statics *s)
{
    if (!solve_marked(s, s->step))
        return false;
    for (size_t round = 0; round < 2 * s->n_lines + 10; round++) {
        if (mark(s))
            return true;
        if (!solve_marked(s, s->trial))
            return false;
        for (size_t f = 0; f < s->matrix.n; f++)
            s->trial[f] -= s->step[f];
        const double part = search(s);
        for (size_t f = 0; f < s->matrix.n; f++)
            s->step[f] += part * s->trial[f];
    }
    mark(s);
    return true; /* a step that is not the very best still leads on */
}

/* The part of the step that keeps to the branch. */
static double trusted(const bk_statics *s)
{
    double worst = 1;
    for (size_t i = 0; i < s->plan->n_bodies; i++) {
        const double *d = s->step + s->matrix.first[i];
        worst = fmax(worst, sqrt(d[3] * d[3] + d[4] * d[4] + d[5] * d[5]) / (TURN_MOST_RAD * s->node[i].size_m));
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost)
            continue;
        bk_vec3 travel = bk_vec3_of(0, 0, 0);
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &line->end[e];
            if (end->node == BK_HELD)
                continue;
            const double *d = s->step + s->matrix.first[end->node];
            bk_vec3 t = bk_vec3_of(d[0], d[1], d[2]);
            if (s->node[end->node].freedoms == 6)
                t = bk_vec3_add(t, bk_vec3_cross(bk_vec3_scale(1 / s->node[end->node].size_m,
                                                               bk_vec3_of(d[3], d[4], d[5])),
                                                 end->arm_m));
            travel = e ? bk_vec3_sub(t, travel) : t;
        }
        const double most = SWING_MOST * fmax(line->length_m, line->rest_m);
        worst = fmax(worst, bk_vec3_norm(bk_vec3_cross(line->along, travel)) / most);
    }
    return 1 / worst;
}

/* The first body whose own z axis leans past the limit, and where it leans. */
static void watch_tilt(bk_statics *s)
{
    const double limit = cos(BK_TILT_LIMIT_RAD);
    for (size_t i = 0; i < s->plan->n_bodies && s->tipped == BK_NONE; i++) {
        const bk_rig_node *node = &s->node[i];
        if (node->turn[2][2] < limit) {
            s->tipped = i;
            s->tipped_to = bk_vec3_of(node->turn[0][2], node->turn[1][2], 0);
        }
    }
}

static double look(bk_statics *s)
{
    bk_rig_measure(s);
    watch_tilt(s);
    bk_rig_weights(s);
    bk_rig_gradient(s);
    return bk_rig_residual(s);
}

/* What the rounding of lengths and places alone may leave as residual. */
static double rounding(const bk_statics *s)
{
    double most = 0;
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost || line->stretch_m <= 0)
            continue;
        const bk_vec3 a = line->end[0].at_m, b = line->end[1].at_m;
        const double places = fabs(a.x) + fabs(a.y) + fabs(a.z) + fabs(b.x) + fabs(b.y) + fabs(b.z);
        most = fmax(most, line->stiffness_N_m * (line->length_m + places));
    }
    return DBL_EPSILON * most / s->weight_N;
}

/* What a step must not raise: the energy, with lines that yield at yield_N.  Its least is that of the
 * energy while no line pulls harder, and a swing that overstretches a stiff line for one step costs no
 * more than it can give back. */
static double merit(const bk_statics *s, double yield_N)
{
    double sum = bk_rig_potential(s);
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        const double tension = line->inert ? 0 : bk_rig_tension(line);
        if (tension > yield_N)
            sum += yield_N * (line->stretch_m - yield_N / line->stiffness_N_m / 2);
        else if (tension > 0)
            sum += tension * line->stretch_m / 2;
    }
    return sum;
}

/* The step, lifted as far as convexity asks for. */
static bool find_step(bk_statics *s, double trace, double *lift)
{
    bk_rig_scale(s);
    for (bk_rig_base(s, trace + *lift); !settle(s); bk_rig_base(s, trace + *lift))
        if ((*lift = fmax(10 * *lift, LIFT_FIRST)) > LIFT_MOST)
            return false;
    return true;
}

/* Free steps, as long as one in PATIENCE of them gains on the best pose so far; else back to that and on
 * with smaller swings.  A swing overstretches lines, and the step after it mends that: judging every
 * step alone would forbid both. */
static bool mixed_steps(bk_statics *s, bool cold, bk_hang *out)
{
    double residual = look(s), before = (double)INFINITY, best_residual = 0, best_merit = 0;
    double lift = 0, yield_N = s->weight_N;
    int vain = 0;
    for (size_t i = 0; i < s->n_lines; i++)
        s->line[i].taut = !s->line[i].inert && !s->line[i].lost && (cold || s->line[i].stretch_m > 0);
    for (int i = 0; i < MIXED_STEPS; i++, out->iterations++) {
        if (residual <= RESIDUAL_GOAL)
            return true;
        if (residual > before / 4 && (before <= RESIDUAL_FINE || (before <= 1e-7 && before <= 4 * rounding(s)))) {
            if (best_residual < residual) {
                bk_rig_restore(s);
                look(s);
            }
            return true;
        }
        const double here = merit(s, yield_N);
        if (i == 0 || residual <= best_residual / 2 || here < best_merit - MERIT_SLACK * s->weight_N * s->size_m) {
            best_residual = residual;
            best_merit = here;
            bk_rig_keep(s);
            vain = 0;
            lift = lift > LIFT_FIRST ? lift / 10 : 0;
        } else if (++vain >= PATIENCE) {
            bk_rig_restore(s);
            residual = look(s);
            lift = fmax(100 * lift, LIFT_FIRST);
            vain = 0;
        }
        if (!find_step(s, cold && i == 0 ? SHIFT_FIRST : SHIFT_TRACE, &lift))
            return false;
        double strongest = 0;
        for (size_t l = 0; l < s->n_lines; l++) {
            bk_rig_line *line = &s->line[l];
            if (line->inert || line->lost)
                continue;
            line->pull_N = line->stiffness_N_m * fmax(line->growth_m, 0);
            strongest = fmax(strongest, line->pull_N);
        }
        if (strongest > yield_N) { /* the merit changes: what was best before counts no more */
            yield_N = 2 * strongest;
            best_merit = merit(s, yield_N);
            bk_rig_keep(s);
        }
        bk_rig_move(s, s->step, trusted(s));
        before = residual;
        residual = look(s);
    }
    return residual <= RESIDUAL_REPORT;
}

/* ---- plain Newton on the energy ---------------------------------------------------------------- */

static bool energy_steps(bk_statics *s, bk_hang *out)
{
    double residual = look(s), energy = bk_rig_energy(s);
    for (int i = 0; i < ENERGY_STEPS; i++, out->iterations++) {
        if (residual <= RESIDUAL_GOAL)
            return true;
        for (size_t l = 0; l < s->n_lines; l++) {
            bk_rig_line *line = &s->line[l];
            line->pull_N = line->inert ? 0 : bk_rig_tension(line);
            line->taut = line->pull_N > 0;
        }
        bk_rig_scale(s);
        double lift = 0;
        for (;;) {
            bk_rig_base(s, SHIFT_TRACE + lift);
            bk_rig_values(s);
            if (bk_matrix_factor(&s->matrix, s->values))
                break;
            if ((lift = fmax(10 * lift, LIFT_FIRST)) > LIFT_MOST)
                return false;
        }
        double fall = 0;
        for (size_t f = 0; f < s->matrix.n; f++)
            s->step[f] = -s->gradient[f];
        bk_matrix_solve(&s->matrix, s->step);
        for (size_t f = 0; f < s->matrix.n; f++)
            fall += s->gradient[f] * s->step[f];
        bk_rig_keep(s);
        const double before = residual, start = energy;
        double part = trusted(s);
        for (;;) {
            bk_rig_move(s, s->step, part);
            residual = look(s);
            energy = bk_rig_energy(s);
            /* near the end the energy's own rounding hides the fall: there the residual decides */
            if (energy <= start + 1e-4 * part * fall || (before < 1e-6 && residual < before))
                break;
            bk_rig_restore(s);
            bk_rig_measure(s);
            if ((part /= 2) < 1e-12) {
                residual = look(s);
                return residual <= RESIDUAL_REPORT;
            }
        }
    }
    return residual <= RESIDUAL_REPORT;
}

/* ---- the whole --------------------------------------------------------------------------------- */

bk_status bk_statics_solve_near(bk_statics *s, const bk_case *which, const bk_hang *start, bk_hang *out)
{
    bk_rig_apply(s, which);
    out->converged = out->stable = false;
    out->iterations = 0;
    out->unstable_body = s->tipped = BK_NONE;
    out->goes_towards = bk_vec3_of(0, 0, 0);
    out->stiffness_Nm_per_rad = (double)NAN;
    out->why = NULL;
    bk_rig_start(s, start);
    const bk_status held = bk_stability_held(s, out);
    if (held != BK_OK) {
        bk_rig_measure(s);
        bk_rig_report(s, out);
        return held;
    }
    if (!mixed_steps(s, start == NULL, out)) {
        bk_rig_start(s, NULL);
        s->tipped = BK_NONE;
        energy_steps(s, out);
    }
    bk_rig_report(s, out);
    out->residual = bk_statics_residual(s->plan, which, out);
    out->converged = out->residual <= RESIDUAL_REPORT;
    return out->converged ? BK_OK : BK_E_NO_CONVERGE;
}

bk_status bk_statics_solve(bk_statics *s, const bk_case *which, const bk_hang *start, bk_hang *out)
{
    bk_status status = bk_statics_solve_near(s, which, start, out);
    if (status == BK_E_UNHELD)
        return status;
    const bk_status drawn = bk_stability_as_drawn(s, out);
    if (drawn != BK_OK)
        return drawn;
    if (status == BK_OK)
        status = bk_stability_test(s, out);
    out->stable = status == BK_OK;
    return status;
}
