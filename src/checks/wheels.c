/* wheels: what a trolley's wheels do to the bottom flange and the web, and what the supports do to the web.
 *
 * Two places for each trolley and case: a wheel where the greatest moment within its reach is, and the wheel
 * nearest to an end of the beam.  On the safe side: wheels of trolleys whose travels meet may touch.
 */
#include "runways.h"

/* A wheel under one case. */
typedef struct candidate {
    bk_wheel wheel;
    bk_member member;
    const bk_load_case *in;
    const bk_beam_extreme *at;
} candidate;

/* Distance from the trolley's wheels to the nearest wheel of another that may come near; INFINITY when none
 * may.  Adds to *n_within those of the other that may stand within that distance. */
static double nearest_neighbour(const bk_beam *beam, size_t train, double within, double *n_within)
{
    double nearest = INFINITY;
    const bk_beam_train *own = &beam->trains[train];
    for (size_t i = 0; i < beam->n_trains; i++) {
        if (i == train) continue;
        const bk_beam_train *other = &beam->trains[i];
        const double apart =
            fmax(other->from_m + other->offset_m[0] - (own->to_m + own->offset_m[own->n_lines - 1]),
                 own->from_m + own->offset_m[0] - (other->to_m + other->offset_m[other->n_lines - 1]));
        const double first = fmax(0, apart);
        nearest = fmin(nearest, first);
        if (first <= within) *n_within += 1;
        if (other->n_lines > 1 && first + other->offset_m[1] - other->offset_m[0] <= within) *n_within += 1;
    }
    return nearest;
}

/* Greatest moment of the spans that the trolley can reach; the extreme with its position in *at. */
static double moment_in_reach(const bk_load_case *in, const bk_beam_train *train, const bk_beam_extreme **at)
{
    double most = 0;
    for (size_t span = 0; span < in->worst->n_spans; span++) {
        if (in->worst->span_to_m[span] < train->from_m + train->offset_m[0] ||
            in->worst->span_from_m[span] > train->to_m + train->offset_m[train->n_lines - 1])
            continue;
        const bk_beam_extreme *both[2] = {&in->worst->span_moment_max[span],
                                          &in->worst->span_moment_min[span]};
        for (size_t i = 0; i < 2; i++)
            if (bk_is_most(fabs(both[i]->value), &most)) *at = both[i];
    }
    return most;
}

static void wheels_of(const bk_runway_job *job, const bk_load_case *in, size_t train, candidate out[2])
{
    const bk_beam_train *t = &in->beam->trains[train];
    const bk_trolley *trolley = &job->plan->trolleys[job->runway->first_trolley + train];
    const double within = job->rules->superpose_within->value * job->steel.section->b_m;
    double superposed = 1, next = INFINITY;
    if (t->n_lines > 1) {
        next = t->offset_m[1] - t->offset_m[0];
        if (next <= within) superposed += 1;
    }
    next = fmin(next, nearest_neighbour(in->beam, train, within, &superposed));
    candidate one = {.member = job->steel, .in = in, .at = &in->worst->moment_max};
    one.member.state = in->state;
    one.wheel = (bk_wheel){.force_N = fmax(t->loaded_N, t->empty_N) / trolley->wheels,
                           .edge_m = trolley->wheel_to_edge_m,
                           .next_m = next,
                           .end_m = INFINITY,
                           .superposed = superposed};
    one.wheel.M_Nm = moment_in_reach(in, t, &one.at);
    out[0] = out[1] = one;
    const bk_beam_support *supports = in->beam->supports;
    const double left = t->from_m + t->offset_m[0] - in->beam->from_m;
    const double right = in->beam->to_m - (t->to_m + t->offset_m[t->n_lines - 1]);
    out[1].wheel.end_m = fmin(left, right);
    /* the moment is nought at an end that is free or rests on a hinge, and rises no faster than the shear
     * lets it */
    if (!supports[0].fixed && !supports[in->beam->n_supports - 1].fixed)
        out[1].wheel.M_Nm = fmin(one.wheel.M_Nm, fabs(in->worst->shear.value) * out[1].wheel.end_m);
}

/* All wheels that are fit for a check: with by_edge those whose place on the flange is known. */
static void worst_wheel(const bk_runway_job *job, const candidate *all, size_t n, bool by_edge,
                        const char *check, const char *what, bk_rate_wheel *rate)
{
    const candidate *governs = NULL;
    double most = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (by_edge && !isfinite(all[i].wheel.edge_m)) continue;
        bk_calc c = {job->rules, NULL, BK_MARK_PUBLISHED};
        const double use = bk_rating_use(rate(&c, &all[i].member, &all[i].wheel));
        if (bk_is_most(use, &most)) governs = &all[i];
    }
    if (!governs) return;
    bk_calc c = {job->rules, bk_findings_working(job->out), BK_MARK_PUBLISHED};
    const bk_rating rating = rate(&c, &governs->member, &governs->wheel);
    const char *where = bk_runway_where(job, governs->in, governs->at);
    if (isfinite(governs->wheel.end_m))
        where =
            bk_arena_printf(job->out->arena, "wheel at the end of its travel, %s case", governs->in->name);
    if (!where) job->out->failed = true;
    bk_runway_finding(job, check, what, rating, c.w, where);
}

static void say_unknown_edges(const bk_runway_job *job, const char *check, const char *what)
{
    for (size_t i = 0; i < job->runway->n_trolleys; i++) {
        const bk_trolley *trolley = &job->plan->trolleys[job->runway->first_trolley + i];
        if (isfinite(trolley->wheel_to_edge_m)) continue;
        bk_runway_finding(job, check, what,
                          (bk_rating){NAN, NAN, BK_DIM_STRESS, "not checked",
                                      "the trolley's wheel_to_edge is not given: bottom flange not checked",
                                      BK_MARK_USER},
                          NULL, trolley->name);
    }
}

static void worst_bearing(const bk_runway_job *job)
{
    bk_bearing governs = {NAN, NAN, NAN};
    bk_member member = job->steel;
    const bk_load_case *in = NULL;
    const bk_beam_extreme *at = NULL;
    double most = -INFINITY;
    for (size_t c = 0; c < job->n_cases; c++)
        for (size_t k = 0; k < job->runway->n_supports; k++) {
            const bk_load_case *one = &job->cases[c];
            const bk_beam_worst *worst = one->worst;
            const double x = one->beam->supports[k].at_m;
            bk_bearing bearing = {.end_m = fmin(x - one->beam->from_m, one->beam->to_m - x)};
            const bool down = fabs(worst->reaction_min[k].value) > worst->reaction_max[k].value;
            const bk_beam_extreme *reaction = down ? &worst->reaction_min[k] : &worst->reaction_max[k];
            bearing.force_N = fabs(reaction->value);
            for (size_t span = 0; span < worst->n_spans; span++)
                if (fabs(worst->span_from_m[span] - x) < 1e-6 || fabs(worst->span_to_m[span] - x) < 1e-6)
                    bearing.M_Nm = fmax(bearing.M_Nm, fabs(worst->span_moment_min[span].value));
            member.state = one->state;
            bk_calc calc = {job->rules, NULL, BK_MARK_PUBLISHED};
            const double use = bk_rating_use(job->method->web(&calc, &member, &bearing));
            if (bk_is_most(use, &most)) governs = bearing, in = one, at = reaction;
        }
    if (!in) return;
    member.state = in->state;
    bk_calc calc = {job->rules, bk_findings_working(job->out), BK_MARK_PUBLISHED};
    const bk_rating rating = job->method->web(&calc, &member, &governs);
    bk_runway_finding(job, "runway.web", "web at a support", rating, calc.w, bk_runway_where(job, in, at));
}

bk_status bk_check_wheels(const bk_runway_job *job)
{
    static const char stress[] = "local stress of the bottom flange",
                      resistance[] = "bottom flange under a wheel";
    const size_t n_trains = job->runway->n_trolleys, n = 2 * n_trains * job->n_cases;
    candidate *all = BK_NEW(job->out->arena, candidate, n);
    if (!all) return BK_E_NOMEM;
    for (size_t c = 0; c < job->n_cases; c++)
        for (size_t train = 0; train < n_trains; train++)
            wheels_of(job, &job->cases[c], train, &all[2 * (c * n_trains + train)]);
    worst_wheel(job, all, n, true, "runway.flange_stress", stress, job->method->flange_stress);
    say_unknown_edges(job, "runway.flange_stress", stress);
    worst_wheel(job, all, n, true, "runway.flange_resistance", resistance, job->method->flange_resistance);
    say_unknown_edges(job, "runway.flange_resistance", resistance);
    worst_bearing(job);
    worst_wheel(job, all, n, false, "runway.web", "web above a wheel pair", job->method->web_tension);
    return BK_OK;
}
