/* beams: the steel inside a body, such as a spreader or a lifting beam, under the forces of the solved rig.
 *
 * The member runs straight between two points of the body.  At a section all that acts on the body on one
 * side is added up: pulls of the lines at their points, wherever these lie beside the axis, and weight.  Of
 * the body's mass the steel's own (its section's mass per length, never more than the whole) is spread evenly
 * along the member, the rest acts at the body's centre of gravity, at the section beside it.
 *
 *        \ T1          T2 /         s  along the member, from its first point
 *         \              /          N  compression +, by the pulls along the member
 *      ════●═════●══════●════       M_y, M_z about the section's axes; its web stands along the body's own z
 *        first   │      second
 *                ▼ load
 *
 * Between two forces the shear is linear and the moment is taken at both ends and where the shear passes
 * nought. Every load factor is one: the rule set's factor for lifting, or that of a hoist above with its
 * dynamic factor where that is more.  Tolerances: all forces grow with the worst share by which a line on the
 * body does. The moment counts as uniform for lateral-torsional buckling, ends held against twist.  Torsion
 * is not rated: where there is any to speak of, the beam counts as not checked for it.
 */
#include "rig.h"
#include "strength.h"

#include <stdlib.h>

typedef struct pull {
    double s; /* of its point on the member, 0..L */
    bk_vec3 at, force;
} pull;

typedef struct section_forces {
    double s, N, V_y, V_z, M_y, M_z, T;
} section_forces;

typedef struct beam_job {
    const bk_check_input *in;
    bk_findings *out;
    const bk_body *body;
    const bk_beam_rules *rules;
    const char *part;
    bk_member steel;
    double L;
    bk_vec3 start, x, y, z; /* first point; section axes in the world */
    double own_N_m;         /* spread weight */
    pull *pulls;            /* rising s */
    size_t n_pulls;
    section_forces *sections;
    size_t n_sections;
    double growth; /* worst share of the tolerances */
} beam_job;

static bk_vec3 point_in_world(const beam_job *job, size_t point)
{
    const size_t b = (size_t)(job->body - job->in->plan->bodies);
    return bk_vec3_add(job->in->hang->origin_m[b],
                       bk_quat_turn(job->in->hang->turn[b], job->in->plan->points[point].at_m));
}

static int by_place(const void *a, const void *b)
{
    const double d = ((const pull *)a)->s - ((const pull *)b)->s;
    return (d > 0) - (d < 0);
}

static void add_pull(beam_job *job, bk_vec3 at, bk_vec3 force)
{
    const double s = bk_vec3_dot(bk_vec3_sub(at, job->start), job->x);
    job->pulls[job->n_pulls++] = (pull){fmin(fmax(0, s), job->L), at, force}; /* what lies beyond an end acts there */
}

/* All that acts on the body, in order along the member; the share by which tolerances raise the worst line.
 */
static bk_status collect(beam_job *job)
{
    const bk_plan *plan = job->in->plan;
    const bk_hang *hang = job->in->hang;
    const size_t b = (size_t)(job->body - plan->bodies);
    double greatest = 0;
    job->pulls = BK_NEW(job->out->arena, pull, 2 * plan->n_lines + 1);
    if (!job->pulls) return BK_E_NOMEM;
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_end ends[2] = {plan->lines[i].from, plan->lines[i].to};
        const bk_vec3 forces[2] = {hang->pull_from_N[i], hang->pull_to_N[i]};
        for (size_t e = 0; e < 2; e++) {
            if (ends[e].kind != BK_END_POINT || plan->points[ends[e].index].body != b) continue;
            add_pull(job, point_in_world(job, ends[e].index), forces[e]);
            greatest = fmax(greatest, hang->tension_N[i]);
        }
    }
    job->growth = 1;
    for (size_t i = 0; job->in->envelope && greatest > 0 && i < plan->n_lines; i++) {
        const bk_end ends[2] = {plan->lines[i].from, plan->lines[i].to};
        for (size_t e = 0; e < 2; e++) {
            if (ends[e].kind != BK_END_POINT || plan->points[ends[e].index].body != b) continue;
            /* a line that is slack as drawn has no share of its own: measure it by the greatest */
            const double base = fmax(hang->tension_N[i], 0.1 * greatest);
            job->growth = fmax(job->growth, job->in->envelope->tension_max[i].value / base);
        }
    }
    const double steel_kg = fmin(job->steel.section->mass_per_m_kg_m * job->L, job->body->mass_kg.v);
    job->own_N_m = steel_kg * BK_STANDARD_GRAVITY_M_PER_S2 / job->L;
    add_pull(job, hang->cog_m[b],
             bk_vec3_of(0, 0, -(job->body->mass_kg.v - steel_kg) * BK_STANDARD_GRAVITY_M_PER_S2));
    qsort(job->pulls, job->n_pulls, sizeof *job->pulls, by_place);
    return BK_OK;
}

/* Forces on the section at s by the first n pulls and the weight before it. */
static section_forces forces_at(const beam_job *job, double s, size_t n)
{
    const bk_vec3 here = bk_vec3_add(job->start, bk_vec3_scale(s, job->x));
    bk_vec3 force = bk_vec3_of(0, 0, -job->own_N_m * s);
    bk_vec3 moment = bk_vec3_cross(bk_vec3_scale(-s / 2, job->x), force);
    for (size_t i = 0; i < n; i++) {
        moment = bk_vec3_add(moment, bk_vec3_cross(bk_vec3_sub(job->pulls[i].at, here), job->pulls[i].force));
        force = bk_vec3_add(force, job->pulls[i].force);
    }
    return (section_forces){s,
                            bk_vec3_dot(force, job->x),
                            bk_vec3_dot(force, job->y),
                            bk_vec3_dot(force, job->z),
                            bk_vec3_dot(moment, job->y),
                            bk_vec3_dot(moment, job->z),
                            bk_vec3_dot(moment, job->x)};
}

/* Between pulls i - 1 and i: both ends, and where the shear passes nought. */
static bk_status cut(beam_job *job)
{
    job->sections = BK_NEW(job->out->arena, section_forces, 3 * job->n_pulls);
    if (!job->sections) return BK_E_NOMEM;
    for (size_t i = 1; i < job->n_pulls; i++) {
        const double from = job->pulls[i - 1].s, to = job->pulls[i].s;
        if (!(to - from > 1e-9 * job->L)) continue;
        const section_forces a = forces_at(job, from, i), b = forces_at(job, to, i);
        job->sections[job->n_sections++] = a;
        job->sections[job->n_sections++] = b;
        if (a.V_z * b.V_z < 0)
            job->sections[job->n_sections++] =
                forces_at(job, from + (to - from) * a.V_z / (a.V_z - b.V_z), i);
    }
    return BK_OK;
}

static bk_member member_at(const beam_job *job, const section_forces *f, double growth)
{
    bk_member m = job->steel;
    m.N_N = growth * f->N;
    m.M_Q_Nm = growth * f->M_y;
    m.M_z_Nm = growth * f->M_z;
    m.V_N = growth * hypot(f->V_y, f->V_z);
    return m;
}

static void add(const beam_job *job, const char *check, const char *what, bk_rate_member *rate)
{
    const section_forces *governs = NULL;
    double most = -INFINITY;
    for (size_t i = 0; i < job->n_sections; i++) {
        bk_calc c = {job->rules, NULL, BK_MARK_PUBLISHED};
        const bk_member m = member_at(job, &job->sections[i], job->growth);
        const double use = bk_rating_use(rate(&c, &m));
        if (bk_is_most(use, &most)) governs = &job->sections[i];
    }
    if (!governs) return;
    bk_calc nominal_calc = {job->rules, NULL, BK_MARK_PUBLISHED};
    const bk_member nominal = member_at(job, governs, 1), worst = member_at(job, governs, job->growth);
    const double nominal_demand = rate(&nominal_calc, &nominal).demand;
    bk_calc c = {job->rules, bk_findings_working(job->out), BK_MARK_PUBLISHED};
    const bk_rating rating = rate(&c, &worst);
    const bk_plan *plan = job->in->plan;
    char place[40], grown[40];
    const char *where = bk_arena_printf(
        job->out->arena, "%s from %s%s%s",
        bk_quantity_print(place, sizeof place, governs->s, BK_DIM_LENGTH, plan->units, BK_TOLD_DIGITS),
        plan->points[job->body->steel.from].name, job->growth > 1 ? ", forces as drawn times " : "",
        job->growth > 1 ? bk_plain_print(grown, sizeof grown, job->growth, 4) : "");
    if (!where) job->out->failed = true;
    bk_findings_add(job->out, (bk_finding){.check = check,
                                           .item = job->body->name,
                                           .part = job->part,
                                           .what = what,
                                           .demand = rating.demand,
                                           .nominal_demand = nominal_demand,
                                           .limit = rating.limit,
                                           .dim = rating.dim,
                                           .rule = job->in->rules->name,
                                           .source = rating.source,
                                           .mark = rating.mark,
                                           .where = where,
                                           .note = rating.note,
                                           .working = c.w});
}

/* The factor on all forces: the rule set's for lifting, or a hoist's dynamic factor with that of trolleys.  With people below
 * and in a critical lift gear has less of its rating left; so much more must this be good for. */
static void set_factor(beam_job *job)
{
    const bk_rule *lifting = job->rules->lifting_factor, *moving = job->rules->gamma_Q;
    const bk_plan *plan = job->in->plan;
    bk_member *m = &job->steel;
    double dynamic = fmax(1, plan->dynamic_factor.v + plan->dynamic_factor.tol); /* 1 where none is stated */
    for (size_t i = 0; job->in->hoists && i < plan->n_hoists; i++)
        dynamic = fmax(dynamic, job->in->hoists[i].dynamic_factor);
    const double rigging = plan->rigging_factor;
    const bool by_hoist = moving->value * dynamic > lifting->value;
    m->lifting_factor = rigging * fmax(lifting->value, moving->value * dynamic);
    m->lifting_by = by_hoist       ? "the hoist's dynamic factor times the partial factor of moving loads"
                    : rigging != 1 ? bk_arena_printf(job->out->arena, "%s; times the plan's rigging factor",
                                                     lifting->source)
                                   : lifting->source;
    bk_mark mark = BK_MARK_PUBLISHED;
    const double usable = bk_rig_usable(job->in, 1, "", &mark, NULL);
    if (usable < 1 && m->lifting_by) {
        m->lifting_factor /= usable;
        m->lifting_by = bk_arena_printf(job->out->arena, "%s; over the share that gear may be used to with people below or in a critical lift",
                                        m->lifting_by);
    }
    if (!m->lifting_by) job->out->failed = true;
}

static bk_status member_of(beam_job *job, bk_section *section, bk_errors *errors)
{
    const bk_plan *plan = job->in->plan;
    const bk_body_steel *own = &job->body->steel;
    const bk_section_in *shape = &plan->sections[own->section];
    const bk_steel *steel = own->steel == BK_NONE ? NULL : &plan->steels[own->steel];
    bk_member *m = &job->steel;
    char why[160];
    const bk_status status = bk_section_of(shape, section, why, sizeof why);
    if (status != BK_OK)
        return bk_fail(errors, shape->place, status, "section of %s: %s", job->body->name, why);
    job->part = shape->ref ? shape->ref : "section in the plan";
    job->start = point_in_world(job, own->from);
    const bk_vec3 along = bk_vec3_sub(point_in_world(job, own->to), job->start);
    job->L = bk_vec3_norm(along);
    if (!(job->L > 0))
        return bk_fail(errors, own->place, BK_E_VALUE, "%s: steel must run between two points that are apart",
                       job->body->name);
    job->x = bk_vec3_scale(1 / job->L, along);
    const bk_quat turn = job->in->hang->turn[job->body - plan->bodies];
    bk_vec3 up = bk_quat_turn(turn, bk_vec3_of(0, 0, 1));
    if (bk_vec3_norm(bk_vec3_cross(up, job->x)) < 1e-3)
        up = bk_quat_turn(turn, bk_vec3_of(1, 0, 0)); /* a post */
    const bk_vec3 aside = bk_vec3_cross(up, job->x);
    job->y = bk_vec3_scale(1 / bk_vec3_norm(aside), aside);
    job->z = bk_vec3_cross(job->x, job->y);
    *m = (bk_member){.section = section,
                     .section_from = job->part,
                     .section_mark =
                         !section->printed && shape->mark < BK_MARK_COMPUTED ? BK_MARK_COMPUTED : shape->mark,
                     .steel_from = steel && steel->ref ? steel->ref : "steel in the plan",
                     .steel_mark = steel ? steel->mark : BK_MARK_USER,
                     .fy_Pa = steel ? bk_steel_fy(steel, section->tf_m) : (double)NAN,
                     .fyw_Pa = steel ? bk_steel_fy(steel, section->tw_m) : (double)NAN,
                     .fu_Pa = steel ? bk_steel_fu(steel, section->tf_m) : (double)NAN,
                     .span_m = job->L,
                     .hold_m = job->L,
                     .buckling_y_m = isfinite(own->ky_m) ? own->ky_m : job->L,
                     .buckling_z_m = isfinite(own->kz_m) ? own->kz_m : job->L,
                     .hold = BK_HOLD_UNIFORM,
                     .state = BK_STATE_LIFTING};
    return BK_OK;
}

static void not_checked(const beam_job *job, const char *check, const char *what, double demand,
                        const char *note)
{
    bk_findings_add(job->out, (bk_finding){.check = check,
                                           .item = job->body->name,
                                           .part = job->part,
                                           .what = what,
                                           .demand = demand,
                                           .nominal_demand = demand,
                                           .limit = NAN,
                                           .dim = BK_DIM_MOMENT,
                                           .rule = job->in->rules->name,
                                           .source = "not checked",
                                           .mark = BK_MARK_USER,
                                           .note = note});
}

static bk_status check_one(beam_job *job, const bk_strength_method *method, bk_errors *errors)
{
    bk_section section;
    bk_status status = member_of(job, &section, errors);
    if (status != BK_OK) return status;
    set_factor(job);
    status = collect(job);
    if (status == BK_OK) status = cut(job);
    if (status != BK_OK) return status;
    double M = 0, T = 0;
    for (size_t i = 0; i < job->n_sections; i++) {
        M = fmax(M, hypot(job->sections[i].M_y, job->sections[i].M_z));
        T = fmax(T, fabs(job->sections[i].T));
    }
    if (!isfinite(job->steel.fy_Pa) || !isfinite(job->steel.fyw_Pa)) {
        not_checked(job, "beam.bending", "strength of the beam", M,
                    "no yield strength is known: the beam is not checked");
        return BK_OK;
    }
    bool compressed = false, pulled = false;
    for (size_t i = 0; i < job->n_sections; i++) {
        compressed = compressed || job->sections[i].N > 0;
        pulled = pulled || job->sections[i].N < 0;
    }
    if (compressed || pulled)
        add(job, "beam.buckling", compressed ? "axial force with buckling" : "axial tension",
            method->buckling);
    add(job, "beam.bending", "bending", method->bending);
    add(job, "beam.shear", "shear", method->shear);
    add(job, "beam.lateral_torsional_buckling", "lateral-torsional buckling", method->ltb);
    add(job, "beam.interaction", "compression with bending", method->strut_interaction);
    /* torque at which an open section yields in shear, T t / I_t = f_y / sqrt 3: far below its plastic moment */
    const bk_section *s = job->steel.section;
    const double T_yield = job->steel.fy_Pa / sqrt(3) * s->It_m4 / fmax(s->tf_m, s->tw_m);
    if (T > job->rules->torsion_ignored->value * T_yield)
        not_checked(job, "beam.torsion", "torsion", T,
                    "forces beside the web twist the beam; torsion is not rated");
    const double own_kg = section.mass_per_m_kg_m * job->L;
    if (own_kg > job->body->mass_kg.v + job->body->mass_kg.tol) {
        char own[40], stated[40];
        bk_findings_assume(
            job->out, "Beam %s: %s weighs %s over its length alone, more than the %s of the body: one of the two is wrong.",
            job->body->name, job->part, bk_quantity_print(own, sizeof own, own_kg, BK_DIM_MASS, job->in->plan->units, BK_TOLD_DIGITS),
            bk_quantity_print(stated, sizeof stated, job->body->mass_kg.v, BK_DIM_MASS, job->in->plan->units, BK_TOLD_DIGITS));
    }
    bk_findings_assume(
        job->out,
        "Beam %s: taken as held against twist at its ends and as under uniform moment for lateral-torsional "
        "buckling; fatigue is not checked.",
        job->body->name);
    bk_findings_assume(job->out,
                       "Beam %s: its web is taken to stand along the body's own z axis; points of the body "
                       "beside its axis load it "
                       "with their lever arm.",
                       job->body->name);
    bk_findings_assume(job->out,
                       "Beam %s: lugs, holes, welds and the web under its points are not checked: its maker or a qualified "
                       "person proves them.",
                       job->body->name);
    return BK_OK;
}

bk_status bk_check_beams(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    bk_beam_rules rules;
    const bk_strength_method *method = NULL;
    if (!in->hang) return BK_OK;
    for (size_t i = 0; i < in->plan->n_bodies; i++) {
        if (!in->plan->bodies[i].has_steel) continue;
        bk_status status = method ? BK_OK : bk_strength_of_rules(in, out->arena, &rules, &method, errors);
        if (status != BK_OK) return status;
        beam_job job = {.in = in, .out = out, .body = &in->plan->bodies[i], .rules = &rules};
        status = check_one(&job, method, errors);
        if (status == BK_E_NOMEM)
            return bk_fail(errors, job.body->place, status, "out of memory in the checks");
        if (status != BK_OK) return status;
    }
    return BK_OK;
}
