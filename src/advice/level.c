/* level: what hangs the load level or shares it evenly, how much margin is left, and how several hooks share.
 *
 * Levelling is Gauss-Newton on the solved rig: the residual (tilt of the heaviest body, or tensions against their mean) is
 * driven to zero by the smallest step in the free lengths or hook heights, slopes by differences, steps by the pseudo-inverse
 * (singular values, GSL).  Every answer is the state solved with the step in it.
 */
#include <becket/advice.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

#define PROBE_M     1e-5 /* difference for slopes */
#define ROUNDS_MAX  40
#define LEVEL_RAD   1e-7
#define FREE_MOST   200  /* lengths or hooks that are driven together: each costs a case in every round */
#define STEP_MAX_M  0.25 /* of one round */

/* ---- driving a residual to zero ---------------------------------------------------------------- */

typedef struct drive {
    const bk_assessment *a;
    bk_statics *statics;
    bk_hang *hang, *probe;
    size_t body;              /* the one to be levelled */
    bool even;                /* share evenly instead of level */
    size_t n;                 /* free changes */
    bk_change *changes;       /* (n) amounts are the answer */
    size_t n_residuals;
    const size_t *legs;       /* lines shared evenly (n_residuals) */
    double *residual, *residual_probe, *slope, *step; /* (m) (m) (m*n) (n) */
    bool out_of_memory;
} drive;

static size_t heaviest_body(const bk_plan *plan)
{
    size_t best = 0;
    for (size_t i = 1; i < plan->n_bodies; i++)
        if (plan->bodies[i].mass_kg.v > plan->bodies[best].mass_kg.v) best = i;
    return best;
}

static void residual_of(const drive *d, const bk_hang *hang, double *residual)
{
    if (!d->even) {
        const bk_vec3 up = bk_quat_turn(hang->turn[d->body], bk_vec3_of(0, 0, 1));
        residual[0] = up.x;
        residual[1] = up.y;
        return;
    }
    double mean = 0;
    for (size_t i = 0; i < d->n_residuals; i++) mean += hang->tension_N[d->legs[i]] / (double)d->n_residuals;
    for (size_t i = 0; i < d->n_residuals; i++)
        residual[i] = (hang->tension_N[d->legs[i]] - mean) / hang->total_weight_N;
}

static bool solve(drive *d, const bk_hang *start, bk_hang *out)
{
    const bk_case now = {d->changes, d->n};
    const bk_status status = bk_statics_solve(d->statics, &now, start, out);
    if (status == BK_E_NOMEM) d->out_of_memory = true;
    return status == BK_OK;
}

static double size_of(const double *x, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) sum += x[i] * x[i];
    return sqrt(sum);
}

/* Smallest step that takes the residual to zero in the linear view: step = -slope^+ residual. */
static bool least_step(drive *d)
{
    const size_t m = d->n_residuals, n = d->n, rows = m > n ? m : n;
    gsl_matrix *u = gsl_matrix_calloc(rows, n), *v = gsl_matrix_alloc(n, n);
    gsl_vector *s = gsl_vector_alloc(n), *work = gsl_vector_alloc(n), *b = gsl_vector_calloc(rows), *x = gsl_vector_alloc(n);
    bool good = u && v && s && work && b && x;
    if (!good) d->out_of_memory = true;
    if (good) {
        for (size_t i = 0; i < m; i++) {
            gsl_vector_set(b, i, -d->residual[i]);
            for (size_t k = 0; k < n; k++) gsl_matrix_set(u, i, k, d->slope[i * n + k]);
        }
        /* of GSL's ways the one that allocates nothing: the others take no notice when memory is out */
        good = gsl_linalg_SV_decomp_jacobi(u, v, s) == GSL_SUCCESS;
        const double least = good ? gsl_vector_get(s, 0) * 1e-9 : 0;
        good = good && gsl_blas_dgemv(CblasTrans, 1, u, b, 0, work) == GSL_SUCCESS;
        for (size_t k = 0; good && k < n; k++) {
            const double value = gsl_vector_get(s, k);
            gsl_vector_set(work, k, value > least ? gsl_vector_get(work, k) / value : 0);
        }
        good = good && gsl_blas_dgemv(CblasNoTrans, 1, v, work, 0, x) == GSL_SUCCESS;
        for (size_t k = 0; good && k < n; k++) d->step[k] = gsl_vector_get(x, k);
    }
    gsl_matrix_free(u);
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(work);
    gsl_vector_free(b);
    gsl_vector_free(x);
    return good;
}

/* True when the residual went to zero; the amounts of d->changes are the answer and d->hang the state. */
static bool run(drive *d)
{
    if (!solve(d, NULL, d->hang)) return false;
    const double enough = d->even ? 1e-7 : LEVEL_RAD;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        residual_of(d, d->hang, d->residual);
        if (size_of(d->residual, d->n_residuals) < enough) return true;
        for (size_t k = 0; k < d->n; k++) {
            d->changes[k].amount += PROBE_M;
            const bool hangs = solve(d, d->hang, d->probe);
            d->changes[k].amount -= PROBE_M;
            if (!hangs) return false;
            residual_of(d, d->probe, d->residual_probe);
            for (size_t i = 0; i < d->n_residuals; i++)
                d->slope[i * d->n + k] = (d->residual_probe[i] - d->residual[i]) / PROBE_M;
        }
        if (!least_step(d)) return false;
        const double length = size_of(d->step, d->n), before = size_of(d->residual, d->n_residuals);
        double scale = fmin(1, STEP_MAX_M / length);
        bool better = false;
        for (int half = 0; half < 12 && !better; half++, scale /= 2) {
            for (size_t k = 0; k < d->n; k++) d->changes[k].amount += scale * d->step[k];
            if (solve(d, d->hang, d->probe)) {
                residual_of(d, d->probe, d->residual_probe);
                better = size_of(d->residual_probe, d->n_residuals) < before;
            }
            if (!better)
                for (size_t k = 0; k < d->n; k++) d->changes[k].amount -= scale * d->step[k];
        }
        if (!better) return false;
        bk_hang_copy(d->a->plan, d->hang, d->probe);
    }
    return false;
}

static bool pulls_on(const bk_plan *plan, const bk_line *line, size_t body)
{
    return (line->from.kind == BK_END_POINT && plan->points[line->from.index].body == body) ||
           (line->to.kind == BK_END_POINT && plan->points[line->to.index].body == body);
}

static bk_status drive_new(bk_assessment *a, drive *d, size_t n, size_t n_residuals)
{
    bk_arena *arena = a->arena;
    *d = (drive){.a = a, .body = heaviest_body(a->plan), .n = n, .n_residuals = n_residuals};
    d->statics = bk_statics_new(a->plan);
    d->hang = bk_hang_new(arena, a->plan);
    d->probe = bk_hang_new(arena, a->plan);
    d->changes = BK_NEW(arena, bk_change, n);
    d->residual = BK_NEW(arena, double, n_residuals);
    d->residual_probe = BK_NEW(arena, double, n_residuals);
    d->slope = BK_NEW(arena, double, n * n_residuals);
    d->step = BK_NEW(arena, double, n);
    if (d->statics && d->hang && d->probe && d->changes && d->residual && d->residual_probe && d->slope && d->step)
        return BK_OK;
    bk_statics_free(d->statics);
    return BK_E_NOMEM;
}

/* Runs with GSL's handler off: a matrix it cannot take is an answer here, not an abort. */
static bool run_guarded(drive *d)
{
    gsl_error_handler_t *old = gsl_set_error_handler_off();
    const bool done = run(d);
    gsl_set_error_handler(old);
    return done;
}

static bk_status level_new(bk_assessment *a, bk_level *out, bk_errors *errors)
{
    const size_t n = a->plan->n_lines;
    *out = (bk_level){.tilt_before_rad = NAN, .tilt_after_rad = NAN};
    out->length_step_m = BK_NEW(a->arena, double, n);
    out->tension_before_N = BK_NEW(a->arena, double, n);
    out->tension_after_N = BK_NEW(a->arena, double, n);
    out->hook_step_m = BK_NEW(a->arena, double, a->plan->n_anchors);
    if (!out->length_step_m || !out->tension_before_N || !out->tension_after_N || !out->hook_step_m)
        return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    if (!a->has_rig || a->plan->n_bodies == 0) out->why_not = "the plan has no load to level";
    return BK_OK;
}

static void fill(const bk_assessment *a, const drive *d, bk_level *out)
{
    out->possible = true;
    out->body = d->body;
    out->tilt_before_rad = a->hang->tilt_rad[d->body];
    out->tilt_after_rad = d->hang->tilt_rad[d->body];
    for (size_t i = 0; i < a->plan->n_lines; i++) {
        out->tension_before_N[i] = a->hang->tension_N[i];
        out->tension_after_N[i] = d->hang->tension_N[i];
    }
    for (size_t k = 0; k < d->n; k++) {
        if (d->changes[k].kind == BK_CHANGE_LENGTH) out->length_step_m[d->changes[k].index] = d->changes[k].amount;
        else out->hook_step_m[d->changes[k].index] = d->changes[k].amount;
    }
}

/* An even share is no help to a load that it turns past its limit. */
static const char *too_steep(const bk_assessment *a, const drive *d)
{
    const bk_plan *plan = a->plan;
    const bk_rule *rule = bk_rules_number(plan->rules, "body.tilt_limit", BK_DIM_ANGLE);
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const double own = plan->bodies[i].tilt_limit_rad, limit = isfinite(own) ? own : rule ? rule->value : (double)NAN;
        if (!(d->hang->tilt_rad[i] > limit)) continue;
        char tilt[40], most[40];
        const char *text = bk_arena_printf(a->arena, "it would hang %s %s degrees off level, and its limit is %s", plan->bodies[i].name,
                                           bk_number_print(tilt, sizeof tilt, d->hang->tilt_rad[i], "deg", 1),
                                           bk_number_print(most, sizeof most, limit, "deg", 1));
        return text ? text : "it would hang too far off level";
    }
    return NULL;
}

/* Rounds each length to whole steps and solves once more. */
static bool round_to_steps(drive *d, double step_m)
{
    if (!(step_m > 0)) return true;
    for (size_t k = 0; k < d->n; k++) d->changes[k].amount = round(d->changes[k].amount / step_m) * step_m;
    return solve(d, NULL, d->hang);
}

static bk_status drive_end(const drive *d, bk_errors *errors)
{
    bk_statics_free(d->statics);
    return d->out_of_memory ? bk_fail(errors, (bk_place){d->a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory") : BK_OK;
}

bk_status bk_advise_level_by_lengths(bk_assessment *a, double step_m, double travel_m, bool even, bk_level *out,
                                     bk_errors *errors)
{
    bk_status status = level_new(a, out, errors);
    if (status != BK_OK || out->why_not) return status;
    const bk_plan *plan = a->plan;
    const size_t body = heaviest_body(plan);
    size_t *legs = BK_NEW(a->arena, size_t, plan->n_lines), n = 0;
    for (size_t i = 0; legs && i < plan->n_lines; i++)
        if (plan->lines[i].hoist == BK_NONE && pulls_on(plan, &plan->lines[i], body)) legs[n++] = i;
    if (n > FREE_MOST) {
        out->why_not = "more than 200 lines hold the load: too many to change at once";
        return BK_OK;
    }
    drive d;
    if (!legs || drive_new(a, &d, n, even ? n : 2) != BK_OK)
        return bk_fail(errors, (bk_place){plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    d.even = even;
    d.legs = legs;
    for (size_t i = 0; i < n; i++) d.changes[i] = (bk_change){BK_CHANGE_LENGTH, legs[i], 0};
    if (n < 2) {
        out->why_not = "the load hangs on fewer than two lines without a hoist: there is no length to change";
    } else if (!run_guarded(&d) || !round_to_steps(&d, step_m)) {
        out->why_not = even ? "no set of lengths shares the load evenly and still hangs stably"
                            : "no set of lengths hangs the load level and stable";
    } else {
        fill(a, &d, out);
        for (size_t i = 0; i < n; i++)
            if (travel_m > 0 && fabs(d.changes[i].amount) > travel_m * (1 + 1e-9)) {
                out->possible = false;
                out->why_not = "a length would have to change by more than the travel allowed";
            }
        const char *steep = too_steep(a, &d);
        if (steep) {
            out->possible = false;
            out->why_not = steep;
        }
    }
    return drive_end(&d, errors);
}

bk_status bk_advise_level_by_hooks(bk_assessment *a, bk_level *out, bk_errors *errors)
{
    bk_status status = level_new(a, out, errors);
    if (status != BK_OK || out->why_not) return status;
    const bk_plan *plan = a->plan;
    size_t n = 0;
    for (size_t i = 0; i < plan->n_anchors; i++) n += bk_vec3_norm(a->hang->anchor_N[i]) > 0;
    if (n < 2) {
        out->why_not = "under one hook the load hangs the same wherever the hook stands: change lengths";
        return BK_OK;
    }
    if (n > FREE_MOST) {
        out->why_not = "the load hangs on more than 200 hooks: too many to change at once";
        return BK_OK;
    }
    drive d;
    if (drive_new(a, &d, n, 2) != BK_OK) return bk_fail(errors, (bk_place){plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    size_t k = 0;
    for (size_t i = 0; i < plan->n_anchors; i++)
        if (bk_vec3_norm(a->hang->anchor_N[i]) > 0) d.changes[k++] = (bk_change){BK_CHANGE_ANCHOR_Z, i, 0};
    if (run_guarded(&d)) fill(a, &d, out);
    else out->why_not = "no height of the hooks hangs the load level and stable";
    return drive_end(&d, errors);
}

/* ---- margin ------------------------------------------------------------------------------------ */

static double reach_of(const bk_plan *plan, const bk_body *body)
{
    double reach = 0.1;
    for (size_t i = 0; i < body->n_points; i++)
        reach = fmax(reach, bk_vec3_norm(bk_vec3_sub(plan->points[body->first_point + i].at_m, body->cog_m.v)));
    return 2 * reach;
}

typedef struct shift {
    bk_statics *statics;
    const bk_assessment *a;
    bk_hang *hang;
    size_t body;
    double cosine, sine;
    bool out_of_memory;
} shift;

/* What happens with the centre of gravity shifted by s: 0 nothing, 1 a line is slack that pulled, 2 it does not stay. */
static int happens(shift *q, double s, size_t *slack_line)
{
    const bk_change changes[] = {{BK_CHANGE_COG_X, q->body, s * q->cosine}, {BK_CHANGE_COG_Y, q->body, s * q->sine}};
    const bk_case moved = {changes, 2};
    const bk_status status = bk_statics_solve(q->statics, &moved, q->a->hang, q->hang);
    if (status == BK_E_NOMEM) q->out_of_memory = true;
    if (status != BK_OK) return 2;
    for (size_t i = 0; i < q->a->plan->n_lines; i++)
        if (q->hang->slack[i] && !q->a->hang->slack[i]) {
            *slack_line = i;
            return 1;
        }
    return 0;
}

/* Smallest shift at which `what` or worse happens, found by marching and halving; INFINITY past `most`. */
static double first_shift(shift *q, int what, double most, size_t *slack_line)
{
    const int steps = 64;
    double good = 0;
    for (int i = 1; i <= steps; i++) {
        double bad = most * i / steps;
        if (happens(q, bad, slack_line) < what) {
            good = bad;
            continue;
        }
        for (int half = 0; half < 24; half++) {
            const double middle = (good + bad) / 2;
            if (happens(q, middle, slack_line) >= what) bad = middle;
            else good = middle;
        }
        happens(q, bad, slack_line);
        return bad;
    }
    return INFINITY;
}

bk_status bk_advise_margin(bk_assessment *a, size_t body, size_t n, bk_margin *out, bk_errors *errors)
{
    *out = (bk_margin){.body = body, .n = n};
    out->towards_rad = BK_NEW(a->arena, double, n);
    out->to_slack_m = BK_NEW(a->arena, double, n);
    out->to_topple_m = BK_NEW(a->arena, double, n);
    out->slack_line = BK_NEW(a->arena, size_t, n);
    shift q = {.a = a, .body = body, .statics = bk_statics_new(a->plan), .hang = bk_hang_new(a->arena, a->plan)};
    if (!out->towards_rad || !out->to_slack_m || !out->to_topple_m || !out->slack_line || !q.statics || !q.hang) {
        bk_statics_free(q.statics);
        return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    }
    const double most = reach_of(a->plan, &a->plan->bodies[body]);
    for (size_t i = 0; i < n; i++) {
        const double bearing = 2 * BK_PI * (double)i / (double)n;
        q.cosine = cos(bearing);
        q.sine = sin(bearing);
        out->towards_rad[i] = bearing;
        out->slack_line[i] = BK_NONE;
        size_t ignored = BK_NONE;
        out->to_slack_m[i] = first_shift(&q, 1, most, &out->slack_line[i]);
        out->to_topple_m[i] = first_shift(&q, 2, most, &ignored);
        if (out->to_topple_m[i] <= out->to_slack_m[i]) out->slack_line[i] = BK_NONE;
    }
    bk_statics_free(q.statics);
    return q.out_of_memory ? bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory") : BK_OK;
}

/* ---- several hooks ----------------------------------------------------------------------------- */

bk_status bk_advise_running_ahead(bk_assessment *a, size_t anchor, double most_m, size_t n_steps, bk_lift_share *out,
                                  bk_errors *errors)
{
    const size_t n = a->plan->n_anchors;
    *out = (bk_lift_share){.n_steps = n_steps, .n_anchors = n};
    out->ahead_m = BK_NEW(a->arena, double, n_steps);
    out->force_N = BK_NEW(a->arena, double, n_steps * n);
    out->tilt_rad = BK_NEW(a->arena, double, n_steps);
    bk_statics *statics = bk_statics_new(a->plan);
    bk_hang *hang = bk_hang_new(a->arena, a->plan);
    if (!out->ahead_m || !out->force_N || !out->tilt_rad || !statics || !hang) {
        bk_statics_free(statics);
        return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    }
    bk_status status = BK_OK;
    for (size_t i = 0; i < n_steps; i++) {
        out->ahead_m[i] = n_steps > 1 ? most_m * (double)i / (double)(n_steps - 1) : 0;
        const bk_change up = {BK_CHANGE_ANCHOR_Z, anchor, out->ahead_m[i]};
        const bk_case ahead = {&up, 1};
        status = bk_statics_solve(statics, &ahead, i ? hang : NULL, hang);
        if (status != BK_OK) break;
        for (size_t k = 0; k < n; k++) out->force_N[i * n + k] = bk_vec3_norm(hang->anchor_N[k]);
        for (size_t b = 0; b < a->plan->n_bodies; b++) out->tilt_rad[i] = fmax(out->tilt_rad[i], hang->tilt_rad[b]);
        out->n_good = i + 1;
    }
    bk_statics_free(statics);
    return status == BK_E_NOMEM ? bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory") : BK_OK;
}

/* The first two points of a body that lines pull on; false when there are not two apart along it. */
static bool two_picks(const bk_plan *plan, size_t body, bk_vec3 pick[2], const char *name[2])
{
    size_t found = 0;
    for (size_t p = 0; p < plan->n_points && found < 2; p++) {
        if (plan->points[p].body != body) continue;
        for (size_t l = 0; l < plan->n_lines; l++) {
            const bk_end here = {BK_END_POINT, p};
            const bk_line *line = &plan->lines[l];
            if ((line->from.kind == here.kind && line->from.index == p) || (line->to.kind == here.kind && line->to.index == p)) {
                pick[found] = plan->points[p].at_m;
                name[found++] = plan->points[p].name;
                break;
            }
        }
    }
    return found == 2 && hypot(pick[1].x - pick[0].x, pick[1].y - pick[0].y) > 1e-6;
}

bk_status bk_advise_turning(bk_assessment *a, size_t body, size_t n, bk_turning *out, bk_errors *errors)
{
    *out = (bk_turning){0};
    bk_vec3 pick[2];
    if (!two_picks(a->plan, body, pick, out->pick)) return BK_OK;
    out->angle_rad = BK_NEW(a->arena, double, n);
    out->share_a = BK_NEW(a->arena, double, n);
    out->share_b = BK_NEW(a->arena, double, n);
    if (!out->angle_rad || !out->share_a || !out->share_b)
        return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    out->n = n;
    /* in the upright plane through both picks: u along them, z up; b goes up by the angle */
    const double dx = pick[1].x - pick[0].x, dy = pick[1].y - pick[0].y, length = hypot(dx, dy);
    const bk_vec3 cog = bk_vec3_sub(a->plan->bodies[body].cog_m.v, pick[0]);
    const double gu = (cog.x * dx + cog.y * dy) / length, gz = cog.z, bz = pick[1].z - pick[0].z;
    for (size_t i = 0; i < n; i++) {
        const double angle = n > 1 ? BK_PI / 2 * (double)i / (double)(n - 1) : 0, c = cos(angle), s = sin(angle);
        const double of_b = length * c - bz * s, of_cog = gu * c - gz * s; /* level distances from pick a */
        out->angle_rad[i] = angle;
        /* standing, the upper pick carries it all unless both hang on one plumb line */
        out->share_b[i] = fabs(of_b) > 1e-9 * length ? of_cog / of_b : (double)NAN;
        out->share_a[i] = 1 - out->share_b[i];
    }
    return BK_OK;
}
