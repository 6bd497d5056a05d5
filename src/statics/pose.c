/* How the rig hangs: from a drawn pose to the balance next to it.
 *
 * The rig hangs where its potential energy is least.  The way down is the mixed step: each line's tension is
 * an unknown beside the pose.  The slope of the energy is taken from true lengths, the stiffness of a line's
 * direction (tension over length) from the tension of the step before, so that a swing is not mistaken for a
 * stretch and the number of steps does not grow with stiffness.  A step d is where
 *
 *        1/2 d' B d + weights' d + sum 1/2 k (stretch + J d)+^2           (B: all but k J J')
 *
 * is least.  It is convex when B is, and piecewise quadratic; which lines pull in it is settled inside the
 * step, by Newton's method with an exact search along each direction, which ends after finitely many.  Left
 * to the next step, slack and taut would take turns for ever.  B is lifted by a trace of each node's own
 * stiffness (free yaw, slack rings), and by more only while it is not positive definite; then the step leads
 * away from an unstable pose, downhill.  In wind yaw is not quite free: the least lift that will do, on it alone.  Steps are cut so that no line swings by more than half its length
 * and no body turns by more than 0.4 rad: the branch that was drawn is followed, not jumped from.
 *
 * Stiff lines that almost go slack can make even these steps circle.  Then the rig is hung on softer lines,
 * which are hardened stage by stage, each beginning next to the answer of the one before.
 *
 * The answer counts only by its true residual.  Lines as stiff as 1e7 times the weight meet the rounding of their
 * lengths; then lengths are computed in wide arithmetic.  Limits: the pose itself is in doubles, so that lines of
 * 1e9 times the weight, and of 1e7 times at a ring some metres from the origin, meet its rounding, and then
 * BK_E_NO_CONVERGE is the answer.
 */
#include "rig.h"

#include <float.h>
#include <string.h>

#define RESIDUAL_GOAL  1e-13 /* stop here */
#define RESIDUAL_NEAR  1e-8  /* from here on a step needs no slopes of its own ... */
#define RESIDUAL_LEAP  1e-3  /* ... where those of the one before led so far */
#define RESIDUAL_CREEP 0.25  /* a step that leaves more than this of it creeps */
#define RESIDUAL_FINE  1e-11 /* from here on, or from rounding on, stop when steps no longer gain */
#define SHIFT_TRACE    1e-7  /* of a node's own stiffness */
#define SHIFT_FIRST    1.0   /* of a cold start, when no line has a tension: the whole weight holds its direction */
#define SHIFT_IN_WIND  1e-12 /* below what the lines' weight turns a load by */
#define SPIN_FIRST     1e-12 /* of a body's own stiffness, for its turning in wind */
#define SPIN_MOST      1e-2
#define SPIN_MORE      3
#define LIFT_FIRST     1e-3  /* of a node's own stiffness */
#define LIFT_LEAST     1e-8  /* where the way on is a mode hardly below neutral: on two hooks almost in one place */
#define LIFT_MOST      1e12
#define LIFT_MORE      10
#define SOFT           30 /* EA of the softest stage, as a multiple of the weight */
#define HARDER         4
#define RESIDUAL_STAGE 1e-6
#define FIRST_MOVE     0.05 /* of a trusted step: out of an unstable balance */
#define LET_GO_MOST    4
#define TURN_MOST_RAD  0.4
#define SWING_MOST     0.5   /* of a line's length */
#define WORK_MOST      1e10  /* multiplications for one case: some seconds */
#define WORK_OF_LINE   100.0 /* of one line in one step */
#define WORK_OF_NODE   500.0
#define MIXED_STEPS    60
#define MARK_LEAST     1e-14 /* of the weight: a pull that is rounding */
#define PART_FINE      1e-12
#define PART_MOST      1e6
#define PART_ROUNDS    20    /* Newton takes few; halving would take twice as many */
#define FAR            20 /* lengths of a line from the origin */
#define ROUNDINGS_FEW  4
#define ROUNDINGS      64 /* a residual of so many roundings may be nothing else */

static double growth(const bk_statics *s, const bk_rig_line *line, const double *step)
{
    double sum = 0;
    for (int e = 0; e < 2; e++) {
        const bk_rig_end *end = &line->end[e];
        if (end->node == BK_HELD) continue;
        const double *d = step + s->matrix.first[end->node];
        sum += end->slope[0] * d[0] + end->slope[1] * d[1] + end->slope[2] * d[2];
        if (s->node[end->node].freedoms == 6)
            sum += end->slope[3] * d[3] + end->slope[4] * d[4] + end->slope[5] * d[5];
    }
    return sum;
}

/* Lines that tie everything to everything make the factor as costly as it can be: a rig may be too large
 * although every count in it is allowed. */
static bool tired(const bk_statics *s)
{
    return s->work > WORK_MOST;
}

/* ---- the mixed step ---------------------------------------------------------------------------- */

/* to: where the linearised energy is least if the lines marked taut act as springs both ways. */
static bool solve_marked(bk_statics *s, double *to)
{
    bk_rig_values(s);
    s->work += s->matrix.cost + WORK_OF_LINE * (double)s->n_lines + WORK_OF_NODE * (double)s->n_nodes;
    if (!bk_matrix_factor(&s->matrix, s->values)) return false;
    for (size_t f = 0; f < s->matrix.n; f++)
        to[f] = -s->weights[f];
    for (size_t i = 0; i < s->n_lines; i++)
        if (s->line[i].taut)
            bk_rig_add_slope(s, &s->line[i], -s->line[i].stiffness_N_m * s->line[i].stretch_m, to);
    bk_matrix_solve(&s->matrix, to);
    return true;
}

/* Marks the lines that pull at the end of the step; true when none changed by more than rounding. */
static bool mark(bk_statics *s)
{
    bool same = true;
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost) continue;
        line->growth_m = line->stretch_m + growth(s, line, s->step);
        const bool taut = line->growth_m > 0;
        if (taut != line->taut && line->stiffness_N_m * fabs(line->growth_m) > MARK_LEAST * s->weight_N)
            same = false;
        line->taut = taut;
    }
    return same;
}

/* The slope along the way is continuous, rising and made of straight pieces; Newton's method between brackets
 * ends on one. */
double bk_rig_least_along(const bk_rig_line *line, size_t n, double rise, double bend)
{
    double low = 0, high = (double)INFINITY, part = 1;
    for (int round = 0; round < PART_ROUNDS; round++) {
        double slope = rise + bend * part, curve = bend;
        for (size_t i = 0; i < n; i++) {
            const double along = line[i].trial_m, end = line[i].growth_m + part * along;
            if (end > 0) {
                slope += line[i].stiffness_N_m * end * along;
                curve += line[i].stiffness_N_m * along * along;
            }
        }
        if (fabs(slope) <= PART_FINE * part * curve) return part;
        *(slope > 0 ? &high : &low) = part;
        double next = part - slope / curve; /* nowhere between the brackets where there is no curve */
        if (!(next > low && next < high)) next = isfinite(high) ? (low + high) / 2 : 2 * part;
        if (next > PART_MOST) return part;
        part = next;
    }
    return part;
}

/* From step along `trial`: how far the linearised energy falls. */
static double search(bk_statics *s)
{
    double rise = 0, bend = 0; /* slope without the lines' stretch: rise + bend * part */
    bk_matrix_times(&s->matrix, s->base, s->trial, s->scratch);
    for (size_t f = 0; f < s->matrix.n; f++) {
        rise += s->scratch[f] * s->step[f] + s->weights[f] * s->trial[f];
        bend += s->scratch[f] * s->trial[f];
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        line->trial_m = line->inert || line->lost ? 0 : growth(s, line, s->trial);
        if (line->pendulum_N_m == 0) continue;
        rise -= line->pendulum_N_m * growth(s, line, s->step) * line->trial_m;
        bend -= line->pendulum_N_m * line->trial_m * line->trial_m;
    }
    return bk_rig_least_along(s->line, s->n_lines, rise, bend);
}

/* step: where the linearised energy is least.  False when it has no least value. */
static bool settle(bk_statics *s)
{
    if (!solve_marked(s, s->step)) return false;
    for (size_t round = 0; round < 2 * s->n_lines + 10 && !tired(s); round++) {
        if (mark(s)) return true;
        if (!solve_marked(s, s->trial)) return false;
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
        worst =
            fmax(worst, sqrt(d[3] * d[3] + d[4] * d[4] + d[5] * d[5]) / (TURN_MOST_RAD * s->node[i].size_m));
    }
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost) continue;
        bk_vec3 travel = bk_vec3_of(0, 0, 0);
        for (int e = 0; e < 2; e++) {
            const bk_rig_end *end = &line->end[e];
            if (end->node == BK_HELD) continue;
            const double *d = s->step + s->matrix.first[end->node];
            bk_vec3 t = bk_vec3_of(d[0], d[1], d[2]);
            if (s->node[end->node].freedoms == 6)
                t = bk_vec3_add(
                    t, bk_vec3_cross(bk_vec3_scale(s->node[end->node].per_size, bk_vec3_of(d[3], d[4], d[5])),
                                     end->arm_m));
            travel = e ? bk_vec3_sub(t, travel) : t;
        }
        const double most = SWING_MOST * (line->length_m > line->rest_m ? line->length_m : line->rest_m);
        if (bk_vec3_dot(travel, travel) > most * most)
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
    size_t at;
    return bk_rig_residual(s, &at);
}

/* What the rounding of lengths and places alone may leave as residual; *at: the line that it comes from. */
static double rounding(const bk_statics *s, size_t *at)
{
    double most = 0;
    *at = BK_NONE;
    for (size_t i = 0; i < s->n_lines; i++) {
        const bk_rig_line *line = &s->line[i];
        if (line->inert || line->lost) continue;
        const bk_vec3 a = line->end[0].at_m, b = line->end[1].at_m;
        const double places = line->length_m + fabs(a.x) + fabs(a.y) + fabs(a.z) + fabs(b.x) + fabs(b.y) + fabs(b.z);
        if (line->stretch_m <= -DBL_EPSILON * places || line->stiffness_N_m * places <= most) continue;
        most = line->stiffness_N_m * places;
        *at = i;
    }
    return DBL_EPSILON * most / s->weight_N;
}

/* The step, every body's turning about the line of weights and wind held by `spin` of its own stiffness. */
static bool held_step(bk_statics *s, double damp, double spin)
{
    bk_rig_base(s, damp);
    for (size_t i = 0; i < s->plan->n_bodies; i++)
        bk_rig_add_spin(s->base + s->matrix.diagonal[i], spin * s->scale_N_m[i], s->yaw);
    return settle(s);
}

/* The step, with as much more lift as convexity asks for. */
static bool lifted_step(bk_statics *s, double damp, double *lift)
{
    for (bk_rig_base(s, damp + *lift); !settle(s); bk_rig_base(s, damp + *lift))
        if ((*lift *= LIFT_MORE) > LIFT_MOST) return false;
    return true;
}

/* What is out of balance by some share of the weight turns a load under one hook by as much, hither or thither: so its
 * turning is held by that share, which vanishes as the answer comes near.  In wind the weight of lines alone turns it;
 * so weak a slope, where it is no valley, is lifted by as little as it asks for, or the load would creep.
 * A step that too few lines pull in may not be convex where the right one is: so once the pulling lines are
 * known, less lift is tried again. */
static bool find_step(bk_statics *s, double residual, double damp, double least)
{
    double lift = LIFT_FIRST, spin = s->one_hook ? residual : 0;
    bk_rig_scale(s);
    if (held_step(s, damp, spin)) return true;
    for (spin = fmax(spin, SPIN_FIRST); s->windy && spin <= SPIN_MOST; spin *= SPIN_MORE)
        if (held_step(s, damp, spin)) return true;
    if (!lifted_step(s, damp, &lift)) return false;
    while (lift > 0) {
        const double less = lift > least ? lift / LIFT_MORE : 0;
        bk_rig_base(s, damp + less);
        if (!settle(s)) return lifted_step(s, damp, &lift);
        lift = less;
    }
    return true;
}

/* What the lines pull at the end of the step. */
static void keep_pulls(bk_statics *s)
{
    for (size_t i = 0; i < s->n_lines; i++) {
        bk_rig_line *line = &s->line[i];
        if (!line->inert && !line->lost) line->pull_N = line->taut ? line->stiffness_N_m * line->growth_m : 0;
    }
}

/* One more step by the factor of the one just taken: so near the answer it leads as far, at a quarter of the cost. */
static void step_again(bk_statics *s)
{
    for (size_t f = 0; f < s->matrix.n; f++)
        s->step[f] = -s->gradient[f];
    bk_matrix_solve(&s->matrix, s->step);
    bk_rig_move(s, s->step, trusted(s));
}

/* At the goal, or at what rounding allows. */
static bool there(const bk_statics *s, double residual, double goal)
{
    size_t at;
    return residual <= goal || (residual <= RESIDUAL_FINE && residual <= rounding(s, &at));
}

/* Mixed steps from the pose as it is; cold: with no tensions to begin with.  True when they led to a balance. */
static bool mixed_steps(bk_statics *s, bool cold, double goal, bk_hang *out)
{
    double residual = look(s), best = (double)INFINITY;
    size_t at;
    for (size_t i = 0; i < s->n_lines; i++)
        s->line[i].taut = !s->line[i].inert && !s->line[i].lost && (cold || s->line[i].stretch_m > 0);
    for (int i = 0; i < MIXED_STEPS && !tired(s); i++, out->iterations++) {
        if (there(s, residual, goal)) return true;
        const bool creeps = residual > RESIDUAL_CREEP * best;
        const double enough = fmax(RESIDUAL_FINE, fmin(ROUNDINGS_FEW * rounding(s, &at), RESIDUAL_CREEP * BK_RESIDUAL_MOST));
        const bool ends = creeps && best <= enough;
        if (residual <= best) {
            best = residual;
            bk_rig_keep(s);
        }
        if (ends) break;
        const double shift = cold && i == 0 ? SHIFT_FIRST : s->windy ? SHIFT_IN_WIND : SHIFT_TRACE;
        if (!find_step(s, residual, shift, creeps && best < RESIDUAL_STAGE ? LIFT_LEAST : LIFT_FIRST)) break;
        keep_pulls(s);
        bk_rig_move(s, s->step, trusted(s));
        residual = look(s);
        if (residual < fmin(RESIDUAL_NEAR, RESIDUAL_LEAP * best) && !there(s, residual, goal)) {
            step_again(s);
            residual = look(s);
            out->iterations++;
        }
    }
    bk_rig_restore(s);
    return look(s) <= BK_RESIDUAL_MOST;
}

/* ---- where they circle ------------------------------------------------------------------------- */

/* Soft lines first, then harder and harder: with lines that give way there is nothing to circle about, and
 * each stage begins next to the answer of the one before. */
static void harden(bk_statics *s, bk_hang *out)
{
    bool last = false;
    for (double most_N = SOFT * s->weight_N; !last; most_N *= HARDER) {
        last = !bk_rig_soften(s, most_N);
        const double goal = last ? RESIDUAL_GOAL : RESIDUAL_STAGE;
        mixed_steps(s, false, goal, out);
    }
}

/* ---- the whole --------------------------------------------------------------------------------- */

static void clear_evidence(bk_statics *s, bk_hang *out)
{
    out->stable = false;
    out->unstable_body = out->unstable_ring = s->tipped = BK_NONE;
    out->goes_towards = bk_vec3_of(0, 0, 0);
    out->stiffness_Nm_per_rad = (double)NAN;
    out->why = NULL;
}

/* Reports the pose and says whether it balances. */
static bk_status prove(bk_statics *s, const bk_case *which, bk_hang *out)
{
    bk_rig_report(s, out);
    out->residual = bk_proof_residual(s->plan, which, out, &s->proof);
    out->converged = out->residual <= BK_RESIDUAL_MOST;
    return out->converged ? BK_OK : BK_E_NO_CONVERGE;
}

static bool only_rounding(const bk_statics *s)
{
    size_t at;
    return bk_rig_residual(s, &at) <= ROUNDINGS * rounding(s, &at);
}

static const char *printed(const bk_statics *s, const bk_hang *out, double value, bk_dim dim)
{
    char text[64];
    bk_quantity_print(text, sizeof text, value, dim, s->plan->units, 2);
    return bk_arena_strndup(out->arena, text, strlen(text));
}

/* Why a line is too stiff to be computed, and what would do. */
static const char *too_stiff(const bk_statics *s, bk_hang *out, size_t at, double share)
{
    const bk_rig_line *line = &s->line[at];
    const double enough_N = line->ea_N * BK_RESIDUAL_MOST / (8 * share);
    const double far = fmax(bk_vec3_norm(line->end[0].at_m), bk_vec3_norm(line->end[1].at_m));
    if (far > FAR * line->rest_m)
        return bk_arena_printf(out->arena,
                               "line %s is %s long and drawn %s from the origin, where places are computed more coarsely than it stretches: "
                               "put the origin of the plan near it",
                               s->plan->lines[at].name, printed(s, out, line->rest_m, BK_DIM_LENGTH), printed(s, out, far, BK_DIM_LENGTH));
    return bk_arena_printf(out->arena,
                           "line %s (ea: %s) is so stiff for its length and this weight that its stretch is less than lengths can be "
                           "computed to; ea: %s would do, with which all of the weight stretches it by %s",
                           s->plan->lines[at].name, printed(s, out, line->ea_N, BK_DIM_FORCE), printed(s, out, enough_N, BK_DIM_FORCE),
                           printed(s, out, s->weight_N * line->rest_m / enough_N, BK_DIM_LENGTH));
}

/* Where most is left over. */
static const char *left_over(const bk_statics *s, bk_hang *out)
{
    size_t worst;
    bk_rig_residual(s, &worst);
    return bk_arena_printf(out->arena, "most of it at %s: draw it nearer to how it will hang, with lines as long as drawn",
                           worst < s->plan->n_bodies ? s->plan->bodies[worst].name : s->plan->rings[worst - s->plan->n_bodies].name);
}

static bk_status no_balance(const bk_statics *s, bk_hang *out)
{
    if (tired(s)) {
        out->why = "no balance was found in the time allowed: its lines tie too many things to each other; "
                   "check it in parts";
        return BK_E_NO_CONVERGE;
    }
    char left[32];
    size_t at;
    const double share = rounding(s, &at);
    bk_plain_print(left, sizeof left, out->residual, 2);
    const char *why = share > BK_RESIDUAL_MOST / 4 ? too_stiff(s, out, at, share) : left_over(s, out);
    out->why = why ? bk_arena_printf(out->arena, "no balance was found: %s of the weight stays out of balance; %s", left, why) : NULL;
    return out->why ? BK_E_NO_CONVERGE : BK_E_NOMEM;
}

bk_status bk_statics_solve_near(bk_statics *s, const bk_case *which, const bk_hang *start, bk_hang *out)
{
    bk_rig_apply(s, which);
    bk_rig_start(s, start);
    clear_evidence(s, out);
    out->iterations = 0;
    s->work = 0;
    s->wide = false;
    const bk_status held = bk_stability_held(s, out);
    if (held != BK_OK) {
        bk_rig_measure(s);
        bk_rig_report(s, out);
        out->converged = false;
        return held;
    }
    if (!mixed_steps(s, start == NULL, RESIDUAL_GOAL, out) && !only_rounding(s)) {
        bk_rig_start(s, NULL);
        s->tipped = BK_NONE;
        harden(s, out);
    }
    if (prove(s, which, out) == BK_OK) return BK_OK;
    if (only_rounding(s)) {
        s->wide = true;
        mixed_steps(s, false, RESIDUAL_GOAL, out);
        if (prove(s, which, out) == BK_OK) return BK_OK;
    }
    return no_balance(s, out);
}

/* From a balance that does not last, the way it goes (in s->step): to the next one. */
static bk_status let_go(bk_statics *s, const bk_case *which, bk_hang *out)
{
    bk_rig_move(s, s->step, FIRST_MOVE * trusted(s));
    clear_evidence(s, out);
    if (!mixed_steps(s, false, RESIDUAL_GOAL, out)) return BK_E_NO_CONVERGE;
    const bk_status status = prove(s, which, out);
    return status == BK_OK ? bk_stability_as_drawn(s, out) : status;
}

/* A balance that a move would leave may be one from which the load leans a little, until a slack line catches
 * it: so it is let go, and what counts is where it comes to rest.  Should that not be as drawn, the
 * evidence is that of the balance it left. */
bk_status bk_statics_solve(bk_statics *s, const bk_case *which, const bk_hang *start, bk_hang *out)
{
    bk_status status = bk_statics_solve_near(s, which, start, out);
    if (status == BK_OK || status == BK_E_NO_CONVERGE) {
        const bk_status drawn = bk_stability_as_drawn(s, out);
        status = drawn != BK_OK ? drawn : status;
    }
    if (status != BK_OK) return status;
    bool falling;
    bk_status first = bk_stability_test(s, out, &falling);
    if (first == BK_OK) {
        out->stable = true;
        return BK_OK;
    }
    const bk_hang evidence = *out;
    for (int i = 0; i < LET_GO_MOST && falling && first != BK_E_NOMEM; i++) {
        status = let_go(s, which, out);
        if (status == BK_E_NOMEM) return status;
        if (status != BK_OK) break;
        if (bk_stability_test(s, out, &falling) == BK_OK) {
            out->stable = true;
            return BK_OK;
        }
    }
    out->stable = false;
    out->unstable_body = evidence.unstable_body;
    out->unstable_ring = evidence.unstable_ring;
    out->goes_towards = evidence.goes_towards;
    out->stiffness_Nm_per_rad = evidence.stiffness_Nm_per_rad;
    out->why = evidence.why;
    return first;
}
