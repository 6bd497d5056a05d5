/* The balance again, from the printed poses alone.
 *
 * Nothing here is shared with the solver: the case is looked up change by change, points are placed
 * with quaternions, tensions follow from Hooke's law, and forces and moments are summed body by body.
 * A mistake in the solver's arithmetic shows here as a residual, one in its report as a figure that does not
 * follow from the poses.
 */
#include "proof.h"

#include <stdlib.h>
#include <string.h>

#include "chance.h"

#define GRAVITY      BK_STANDARD_GRAVITY_M_PER_S2
#define MOVE_MIDDLE  -3.5 /* moves, of the longest line or in rad: powers of ten about which they lie */
#define MOVE_SPREAD  1.5
#define ROUNDING     1e-12 /* of an energy */
#define FIGURES_MOST 1e-6 /* of the weight, the longest line, or rad: figures may be off by no more than rounding */

bool bk_proof_open(bk_proof *proof, const bk_plan *plan, bk_arena *arena)
{
    double **const of_bodies[] = {&proof->mass,  &proof->cog_x,  &proof->cog_y,
                                  &proof->cog_z, &proof->wind_x, &proof->wind_y};
    double **const of_lines[] = {&proof->length, &proof->lost};
    double **const of_anchors[] = {&proof->anchor_x, &proof->anchor_y, &proof->anchor_z};
    proof->n_changes = 6 * plan->n_bodies + 2 * plan->n_lines + 3 * plan->n_anchors;
    proof->acting = BK_NEW(arena, bk_acting, plan->n_bodies + plan->n_rings);
    double *at = BK_NEW(arena, double, proof->n_changes);
    if (!proof->acting || !at) return false;
    for (size_t i = 0; i < 6; i++, at += plan->n_bodies)
        *of_bodies[i] = at;
    for (size_t i = 0; i < 2; i++, at += plan->n_lines)
        *of_lines[i] = at;
    for (size_t i = 0; i < 3; i++, at += plan->n_anchors)
        *of_anchors[i] = at;
    return true;
}

/* Adds the case's changes up, thing by thing. */
static void look_up(const bk_case *which, bk_proof *proof)
{
    double *const sum[] = {[BK_CHANGE_MASS] = proof->mass,         [BK_CHANGE_COG_X] = proof->cog_x,
                           [BK_CHANGE_COG_Y] = proof->cog_y,       [BK_CHANGE_COG_Z] = proof->cog_z,
                           [BK_CHANGE_WIND_X] = proof->wind_x,     [BK_CHANGE_WIND_Y] = proof->wind_y,
                           [BK_CHANGE_LENGTH] = proof->length,     [BK_CHANGE_LOSE_LINE] = proof->lost,
                           [BK_CHANGE_ANCHOR_X] = proof->anchor_x, [BK_CHANGE_ANCHOR_Y] = proof->anchor_y,
                           [BK_CHANGE_ANCHOR_Z] = proof->anchor_z};
    proof->wide = false;
    memset(proof->mass, 0, proof->n_changes * sizeof *proof->mass);
    for (size_t i = 0; which && i < which->n; i++)
        sum[which->changes[i].kind][which->changes[i].index] +=
            which->changes[i].kind == BK_CHANGE_LOSE_LINE ? 1 : which->changes[i].amount;
}

static bk_vec3 place(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, bk_end end)
{
    if (end.kind == BK_END_RING) return hang->ring_m[end.index];
    if (end.kind == BK_END_POINT) {
        const bk_point *point = &plan->points[end.index];
        return bk_vec3_add(hang->origin_m[point->body], bk_quat_turn(hang->turn[point->body], point->at_m));
    }
    return bk_vec3_add(
        plan->anchors[end.index].at_m.v,
        bk_vec3_of(changed->anchor_x[end.index], changed->anchor_y[end.index], changed->anchor_z[end.index]));
}

/* The distance from one end to the other, to the rounding of the pose alone. */
static long double wide_length(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, const bk_line *line)
{
    const bk_end ends[2] = {line->from, line->to};
    const bk_vec3 none = {0, 0, 0};
    long double at[2][3], square = 0;
    for (int e = 0; e < 2; e++) {
        if (ends[e].kind == BK_END_POINT) {
            const bk_point *point = &plan->points[ends[e].index];
            bk_quat_place_wide(hang->turn[point->body], hang->origin_m[point->body], none, point->at_m, at[e]);
        } else bk_quat_place_wide(bk_quat_identity(), place(plan, changed, hang, ends[e]), none, none, at[e]);
    }
    for (int k = 0; k < 3; k++)
        square += (at[1][k] - at[0][k]) * (at[1][k] - at[0][k]);
    return sqrtl(square);
}

static double mass_of(const bk_plan *plan, const bk_proof *changed, size_t body)
{
    return fmax(plan->bodies[body].mass_kg.v + changed->mass[body], 0);
}

static bk_vec3 cog_of(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, size_t body)
{
    const bk_vec3 own =
        bk_vec3_add(plan->bodies[body].cog_m.v,
                    bk_vec3_of(changed->cog_x[body], changed->cog_y[body], changed->cog_z[body]));
    return bk_vec3_add(hang->origin_m[body], bk_quat_turn(hang->turn[body], own));
}

static void pull(const bk_plan *plan, bk_acting *all, bk_end end, bk_vec3 at_m, bk_vec3 force_N)
{
    if (end.kind == BK_END_ANCHOR) return;
    bk_acting *on =
        end.kind == BK_END_POINT ? &all[plan->points[end.index].body] : &all[plan->n_bodies + end.index];
    on->force_N = bk_vec3_add(on->force_N, force_N);
    if (end.kind == BK_END_RING) return;
    const bk_vec3 arm = bk_vec3_sub(at_m, on->about_m);
    on->moment_Nm = bk_vec3_add(on->moment_Nm, bk_vec3_cross(arm, force_N));
    on->size_m = fmax(on->size_m, bk_vec3_norm(arm));
}

static double stretch(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, size_t i,
                      double *stiffness_N_m, bk_vec3 at_m[2], bk_vec3 *way)
{
    const bk_line *line = &plan->lines[i];
    const double rest = line->length_m.v + changed->length[i];
    at_m[0] = place(plan, changed, hang, line->from);
    at_m[1] = place(plan, changed, hang, line->to);
    const bk_vec3 d = bk_vec3_sub(at_m[1], at_m[0]);
    const double length = bk_vec3_norm(d);
    *way = length > 0 ? bk_vec3_scale(1 / length, d) : d;
    *stiffness_N_m = line->ea_N / rest;
    return fmax(changed->wide ? (double)(wide_length(plan, changed, hang, line) - rest) : length - rest, 0);
}

/* Of a line, acting at one of its ends. */
static double weight_at(const bk_line *line, bool to)
{
    return GRAVITY * (line->mass_kg / 2 + (to ? line->to_mass_kg : line->from_mass_kg));
}

/* The ends of a line that is there, and its forces on them, own weight in; returns its tension. */
static double pulls_of(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, size_t i,
                       bk_vec3 at_m[2], bk_vec3 pull_N[2])
{
    double stiffness_N_m;
    bk_vec3 way;
    const double tension = stretch(plan, changed, hang, i, &stiffness_N_m, at_m, &way) * stiffness_N_m;
    pull_N[0] = bk_vec3_sub(bk_vec3_scale(tension, way), bk_vec3_of(0, 0, weight_at(&plan->lines[i], false)));
    pull_N[1] = bk_vec3_sub(bk_vec3_scale(-tension, way), bk_vec3_of(0, 0, weight_at(&plan->lines[i], true)));
    return tension;
}

static double left_over(const bk_plan *plan, const bk_hang *hang, bk_proof *changed)
{
    bk_acting *all = changed->acting;
    const size_t n = plan->n_bodies + plan->n_rings;
    double weight_N = 0;
    memset(all, 0, n * sizeof *all);
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const double w = GRAVITY * mass_of(plan, changed, i);
        weight_N += w;
        all[i].about_m = cog_of(plan, changed, hang, i);
        all[i].force_N = bk_vec3_of(changed->wind_x[i], changed->wind_y[i], -w);
    }
    for (size_t i = 0; i < plan->n_rings; i++) {
        const double w = GRAVITY * plan->rings[i].mass_kg;
        weight_N += w;
        all[plan->n_bodies + i].force_N.z = -w;
    }
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_line *line = &plan->lines[i];
        if (changed->lost[i] != 0) continue;
        bk_vec3 at_m[2], pull_N[2];
        pulls_of(plan, changed, hang, i, at_m, pull_N);
        weight_N += weight_at(line, false) + weight_at(line, true);
        pull(plan, all, line->from, at_m[0], pull_N[0]);
        pull(plan, all, line->to, at_m[1], pull_N[1]);
    }
    double worst = 0;
    for (size_t i = 0; i < n; i++) {
        const double force = bk_vec3_norm(all[i].force_N), moment = bk_vec3_norm(all[i].moment_Nm);
        if (!isfinite(force + moment)) worst = (double)INFINITY;
        worst = fmax(worst, fmax(force, all[i].size_m > 0 ? moment / all[i].size_m : 0));
    }
    return worst / weight_N;
}

/* Where the rounding of lengths alone might be what is left, once more without it. */
double bk_proof_residual(const bk_plan *plan, const bk_case *which, const bk_hang *hang, bk_proof *changed)
{
    look_up(which, changed);
    const double residual = left_over(plan, hang, changed);
    if (residual <= BK_RESIDUAL_MOST) return residual;
    changed->wide = true;
    return left_over(plan, hang, changed);
}

double bk_statics_residual(const bk_plan *plan, const bk_case *which, const bk_hang *hang)
{
    bk_proof proof;
    bk_arena *arena = bk_arena_new();
    const bool open = arena && bk_proof_open(&proof, plan, arena);
    const double residual =
        open ? bk_proof_residual(plan, which, hang, &proof) : (double)INFINITY; /* not proved */
    bk_arena_free(arena);
    return residual;
}

static double energy_of(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang)
{
    double energy = 0;
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const bk_vec3 cog = cog_of(plan, changed, hang, i);
        energy += GRAVITY * mass_of(plan, changed, i) * cog.z - changed->wind_x[i] * cog.x -
                  changed->wind_y[i] * cog.y;
    }
    for (size_t i = 0; i < plan->n_rings; i++)
        energy += GRAVITY * plan->rings[i].mass_kg * hang->ring_m[i].z;
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_line *line = &plan->lines[i];
        if (changed->lost[i] != 0) continue;
        bk_vec3 at_m[2], way;
        double k;
        const double d = stretch(plan, changed, hang, i, &k, at_m, &way);
        energy += k * d * d / 2 + weight_at(line, false) * at_m[0].z + weight_at(line, true) * at_m[1].z;
    }
    return energy;
}

double bk_statics_energy(const bk_plan *plan, const bk_case *which, const bk_hang *hang)
{
    bk_proof proof;
    bk_arena *arena = bk_arena_new();
    double energy = (double)NAN;
    if (arena && bk_proof_open(&proof, plan, arena)) {
        look_up(which, &proof);
        energy = energy_of(plan, &proof, hang);
    }
    bk_arena_free(arena);
    return energy;
}

static bk_vec3 any_way(uint64_t *state, double size)
{
    const double x = bk_chance(state), y = bk_chance(state), z = bk_chance(state);
    return bk_vec3_scale(size, bk_vec3_of(x, y, z));
}

static bool near(bk_vec3 a, bk_vec3 b, double most)
{
    return bk_vec3_norm(bk_vec3_sub(a, b)) <= most;
}

/* Whether a force told of a line's end is the one there.  left_N: every anchor's force, less those of its lines. */
static bool end_follows(bk_end end, bk_vec3 told_N, bk_vec3 pull_N, double most_N, bk_vec3 *left_N)
{
    if (end.kind == BK_END_ANCHOR) left_N[end.index] = bk_vec3_sub(left_N[end.index], pull_N);
    return near(told_N, pull_N, most_N);
}

/* Whether the figures beside the poses follow from them.  left_N: scratch (n_anchors). */
static bool figures_follow(const bk_plan *plan, const bk_proof *changed, const bk_hang *hang, double extent_m,
                           bk_vec3 *left_N)
{
    const double most_N = FIGURES_MOST * hang->total_weight_N, most_m = FIGURES_MOST * extent_m;
    bool follow = true;
    memcpy(left_N, hang->anchor_N, plan->n_anchors * sizeof *left_N);
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const bk_vec3 up = bk_quat_turn(hang->turn[i], bk_vec3_of(0, 0, 1));
        follow = follow && near(hang->cog_m[i], cog_of(plan, changed, hang, i), most_m) &&
                 fabs(hang->tilt_rad[i] - atan2(hypot(up.x, up.y), up.z)) <= FIGURES_MOST;
    }
    for (size_t i = 0; i < plan->n_lines; i++) {
        bk_vec3 at_m[2], pull_N[2] = {{0, 0, 0}, {0, 0, 0}};
        const double tension = changed->lost[i] != 0 ? 0 : pulls_of(plan, changed, hang, i, at_m, pull_N);
        const bool from = end_follows(plan->lines[i].from, hang->pull_from_N[i], pull_N[0], most_N, left_N),
                   to = end_follows(plan->lines[i].to, hang->pull_to_N[i], pull_N[1], most_N, left_N);
        follow = follow && from && to && fabs(hang->tension_N[i] - tension) <= most_N &&
                 hang->slack[i] == !(hang->tension_N[i] > 0);
    }
    for (size_t i = 0; i < plan->n_anchors; i++)
        follow = follow && near(left_N[i], bk_vec3_of(0, 0, 0), most_N);
    return follow;
}

bk_status bk_statics_prove(const bk_plan *plan, const bk_case *which, const bk_hang *hang, int moves)
{
    bk_proof proof;
    bk_arena *arena = bk_arena_new();
    bk_hang *moved = arena ? bk_hang_new(arena, plan) : NULL;
    if (!moved || !bk_proof_open(&proof, plan, arena)) {
        bk_arena_free(arena);
        return BK_E_NOMEM;
    }
    double extent_m = 0;
    for (size_t i = 0; i < plan->n_lines; i++)
        extent_m = fmax(extent_m, plan->lines[i].length_m.v);
    bool proved = bk_proof_residual(plan, which, hang, &proof) <= BK_RESIDUAL_MOST &&
                  figures_follow(plan, &proof, hang, extent_m, moved->anchor_N);
    const double least = energy_of(plan, &proof, hang);
    const double rounding = ROUNDING * (hang->total_weight_N * extent_m + fabs(least));
    uint64_t state = BK_CHANCE_START;
    for (int move = 0; move < moves && proved; move++) {
        const double size = pow(10, MOVE_MIDDLE + MOVE_SPREAD * bk_chance(&state));
        bk_hang_copy(plan, moved, hang);
        for (size_t i = 0; i < plan->n_bodies; i++) {
            moved->origin_m[i] = bk_vec3_add(moved->origin_m[i], any_way(&state, size * extent_m));
            moved->turn[i] = bk_quat_mul(bk_quat_exp(any_way(&state, size)), moved->turn[i]);
        }
        for (size_t i = 0; i < plan->n_rings; i++)
            moved->ring_m[i] = bk_vec3_add(moved->ring_m[i], any_way(&state, size * extent_m));
        proved = energy_of(plan, &proof, moved) >= least - rounding;
    }
    bk_arena_free(arena);
    return proved ? BK_OK : BK_E_NO_CONVERGE;
}
