/* runways: may these trolleys run on this beam?  Bending, shear, buckling and lateral load of every runway,
 * each at its own worst position; then wheels.c (bottom flange, web), deflection.c and supports.c.
 *
 * Two cases: dynamic, and stalled (every hoist at the force its limiter allows where that is more).  The
 * worse one is reported, with the trolley's position.
 *
 *     worst positions ──► candidates (case x span x sagging/hogging/shear) ──► method ──► the one used most
 *
 * A check is first rated for every candidate without a working, then once more, with it, for the one that
 * governs.
 *
 * On the safe side: moment and greatest shear of a span are taken together; the lateral force of all trolleys
 * of the span stands at midspan.
 *
 * Left out, and said: fatigue, distortion of the web of a beam hung by its top flange.
 */
#include "rig.h"
#include "runways.h"

/* A moment below this share of the greatest does not make a case of its own. */
#define SMALL 1e-9

typedef enum extreme_kind { SAGGING, HOGGING, SHEAR, KINDS } extreme_kind;
typedef struct candidate {
    bk_member member;
    const bk_load_case *in;
    const bk_beam_extreme *at;
    extreme_kind kind;
    size_t span;
} candidate;
typedef struct candidates {
    candidate *at;
    size_t n;
} candidates;

/* ---- where -------------------------------------------------------------------------------------- */

const char *bk_runway_where(const bk_runway_job *job, const bk_load_case *in, const bk_beam_extreme *at)
{
    bk_arena *arena = job->out->arena;
    const char *text = "";
    for (size_t i = 0; text && at->train_m && i < job->runway->n_trolleys; i++) {
        char place[40];
        text = bk_arena_printf(
            arena, "%s%s%s%s at %s", text, *text ? ", " : "",
            at->train_loaded[i] ? "trolley " : "empty trolley ",
            job->plan->trolleys[job->runway->first_trolley + i].name,
            bk_quantity_print(place, sizeof place, at->train_m[i], BK_DIM_LENGTH, job->plan->units, 4));
    }
    if (text) text = bk_arena_printf(arena, "%s%s%s case", text, *text ? ", " : "", in->name);
    if (!text) job->out->failed = true;
    return text;
}

/* ---- findings ----------------------------------------------------------------------------------- */

void bk_runway_finding(const bk_runway_job *job, const char *check, const char *what, bk_rating rating,
                       bk_working *working, const char *where)
{
    bk_findings_add(job->out, (bk_finding){.check = check,
                                           .item = job->runway->name,
                                           .part = job->part,
                                           .what = what,
                                           .demand = rating.demand,
                                           .nominal_demand = rating.demand,
                                           .limit = rating.limit,
                                           .dim = rating.dim,
                                           .rule = job->in->rules->name,
                                           .source = rating.source,
                                           .mark = rating.mark,
                                           .where = where,
                                           .note = rating.note,
                                           .working = working});
}

static void worst_member(const bk_runway_job *job, const candidates *all, bool shear, const char *check,
                         const char *what, bk_rate_member *rate)
{
    const candidate *governs = NULL;
    double most = -INFINITY;
    for (size_t i = 0; i < all->n; i++) {
        const candidate *one = &all->at[i];
        if ((one->kind == SHEAR) != shear) continue;
        bk_calc c = {job->rules, NULL, BK_MARK_PUBLISHED};
        const double use = bk_rating_use(rate(&c, &one->member));
        if (bk_is_most(use, &most)) governs = one;
    }
    if (!governs) return;
    bk_calc c = {job->rules, bk_findings_working(job->out), BK_MARK_PUBLISHED};
    const bk_rating rating = rate(&c, &governs->member);
    bk_runway_finding(job, check, what, rating, c.w, bk_runway_where(job, governs->in, governs->at));
}

/* ---- candidates --------------------------------------------------------------------------------- */

/* Lateral share of what stands on the span, and the distance between its outermost wheels.  Returns whether
 * these stand about the middle of the span (true for none). */
static bool wheels_on_span(const bk_runway_job *job, const bk_load_case *in, const bk_beam_extreme *at,
                           double from, double to, bk_member *m)
{
    double first = INFINITY, last = -INFINITY;
    for (size_t i = 0; i < in->beam->n_trains; i++) {
        const bk_beam_train *train = &in->beam->trains[i];
        bool here = false;
        for (size_t k = 0; k < train->n_lines; k++) {
            const double x = at->train_m[i] + train->offset_m[k];
            if (x < from || x > to) continue;
            here = true;
            first = fmin(first, x);
            last = fmax(last, x);
        }
        if (here)
            m->lateral_N += job->lateral_share * (at->train_loaded[i] ? in->lateral_N[i] : train->empty_N);
    }
    m->spread_m = last > first ? last - first : 0;
    return last < first || fabs((first + last) / 2 - (from + to) / 2) <= 0.12 * (to - from);
}

static bk_status moments_of_span(const bk_load_case *in, const bk_beam *own, const bk_beam_extreme *at,
                                 double from, double to, bk_member *m, double ends_Nm[2])
{
    const double near = 1e-9 * (to - from); /* just inside: moments jump at a fixed support */
    const double x[6] = {from + near,          to - near, from + (to - from) / 4, (from + to) / 2,
                         to - (to - from) / 4, at->at_m};
    double M[6], M_own[6];
    bk_status status = bk_beam_state(in->beam, at->train_m, at->train_loaded, NULL, 6, x, M, NULL, NULL);
    if (status == BK_OK) status = bk_beam_state(own, NULL, NULL, NULL, 6, x, M_own, NULL, NULL);
    if (status != BK_OK) return status;
    m->M_G_Nm = M_own[5];
    m->M_Q_Nm = at->value - M_own[5];
    m->M_max_Nm = fabs(at->value);
    for (size_t i = 0; i < 5; i++)
        m->M_max_Nm = fmax(m->M_max_Nm, fabs(M[i]));
    m->M_quarter_Nm[0] = fabs(M[2]);
    m->M_quarter_Nm[1] = fabs(M[3]);
    m->M_quarter_Nm[2] = fabs(M[4]);
    ends_Nm[0] = M[0];
    ends_Nm[1] = M[1];
    return BK_OK;
}

static bk_status add_candidate(const bk_runway_job *job, const bk_load_case *in, const bk_beam *own,
                               size_t span, extreme_kind kind, candidates *all)
{
    const bk_beam_worst *worst = in->worst;
    const double from = worst->span_from_m[span], to = worst->span_to_m[span];
    const bk_beam_extreme *of_kind[KINDS] = {&worst->span_moment_max[span], &worst->span_moment_min[span],
                                             &worst->span_shear[span]};
    const bk_beam_extreme *at = of_kind[kind];
    const double greatest = fmax(fabs(worst->moment_max.value), fabs(worst->moment_min.value));
    if (kind != SHEAR && !(fabs(at->value) > SMALL * greatest)) return BK_OK;
    candidate *one = &all->at[all->n];
    *one = (candidate){.member = job->steel, .in = in, .at = at, .kind = kind, .span = span};
    bk_member *m = &one->member;
    m->state = in->state;
    m->span_m = to - from;
    m->hold_m = fmin(m->span_m, job->runway->restraint_m); /* fmin passes NaN over */
    m->V_N = fabs(worst->span_shear[span].value);
    const bool central = wheels_on_span(job, in, at, from, to, m);
    if (kind != SHEAR) {
        double ends[2];
        const bk_status status = moments_of_span(in, own, at, from, to, m, ends);
        if (status != BK_OK) return status;
        /* sagging under wheels about midspan that is the greatest moment, ends free or hogging: the span's
         * own moments are no worse than those of a single span (eigenvalues of many such spans) */
        const double slack = 1e-6 * m->M_max_Nm;
        const bool as_one_span = kind == SAGGING && central && in->beam->n_loads == 0 && ends[0] <= slack &&
                                 ends[1] <= slack && at->value >= m->M_max_Nm - slack;
        m->hold = worst->span_overhang[span]            ? BK_HOLD_OVERHANG
                  : m->hold_m < m->span_m               ? BK_HOLD_UNIFORM
                  : as_one_span                         ? BK_HOLD_SIMPLE
                                                        : BK_HOLD_ENDS;
        if (m->hold == BK_HOLD_OVERHANG) m->hold_m = m->span_m;
    }
    all->n++;
    return BK_OK;
}

static bk_status find_candidates(const bk_runway_job *job, candidates *all)
{
    size_t room = 0;
    for (size_t c = 0; c < job->n_cases; c++)
        room += job->cases[c].worst->n_spans * KINDS;
    *all = (candidates){BK_NEW(job->out->arena, candidate, room), 0};
    if (!all->at) return BK_E_NOMEM;
    for (size_t c = 0; c < job->n_cases; c++) {
        bk_beam own = *job->cases[c].beam;
        own.n_trains = 0;
        for (size_t span = 0; span < job->cases[c].worst->n_spans; span++)
            for (extreme_kind kind = SAGGING; kind < KINDS; kind++) {
                const bk_status status = add_candidate(job, &job->cases[c], &own, span, kind, all);
                if (status != BK_OK) return status;
            }
    }
    return BK_OK;
}

/* ---- one runway --------------------------------------------------------------------------------- */

static void say_assumptions(const bk_runway_job *job)
{
    bk_findings *out = job->out;
    const bk_runway *runway = job->runway;
    if (!isfinite(runway->load_height_m) && !runway->stabilising)
        bk_findings_assume(out,
                           "Runway %s: the load is taken at the height of the shear centre; a load hung "
                           "below it would steady "
                           "the beam (stabilising: yes counts that).",
                           runway->name);
    if (runway->stabilising)
        bk_findings_assume(out,
                           "Runway %s: the load below the shear centre is counted as steadying the beam, by "
                           "a choice in the plan. "
                           "It needs supports that hold the beam against twist.",
                           runway->name);
    else if (runway->load_height_m < 0)
        bk_findings_assume(
            out, "Runway %s: load_height below the shear centre is not counted without stabilising: yes.",
            runway->name);
    if (!isfinite(runway->restraint_m))
        bk_findings_assume(
            out, "Runway %s: lateral movement and twist are taken as held at the supports and nowhere else.",
            runway->name);
    else
        bk_findings_assume(out,
                           "Runway %s: lateral movement and twist are taken as held at the supports and at "
                           "the restraints stated.",
                           runway->name);
    char percent[24];
    if (!isfinite(runway->lateral_share) && runway->n_trolleys > 0)
        bk_findings_assume(
            out, "Runway %s: the lateral load is %s %% of the vertical (%s); `lateral` sets another.",
            runway->name, bk_plain_print(percent, sizeof percent, 100 * job->lateral_share, BK_TOLD_DIGITS),
            job->lateral_from);
    if (runway->n_trolleys > 1)
        bk_findings_assume(out,
                           "Runway %s: trolleys whose travels meet may stand wheel against wheel; nothing in "
                           "the plan keeps them apart.",
                           runway->name);
    if (runway->n_trolleys > 0 && !runway->end_stops)
        bk_findings_assume(out, "Runway %s: the plan tells of no end stops (end_stops: yes); without them a trolley runs off the beam.",
                           runway->name);
    bk_findings_assume(out, "Runway %s: fatigue is not checked. It can govern a beam that is used often.",
                       runway->name);
    bk_findings_assume(out,
                       "Runway %s: distortion of the web is not checked. A beam hung by its top flange alone "
                       "needs a qualified "
                       "person's view of it, for the twist that its supports do not hold.",
                       runway->name);
    bk_findings_assume(out,
                       "Runway %s: stresses of the lateral load are in the interaction check, not in the "
                       "local stress of the flange.",
                       runway->name);
    if (runway->n_trolleys > 0)
        bk_findings_assume(out,
                           "Runway %s: on the safe side, figures that need not come from one place are taken together: a wheel's "
                           "local stress with the greatest moment of the spans it reaches, the moment of a span with its greatest "
                           "shear, and the lateral force of all trolleys of a span at its middle.",
                           runway->name);
    if (job->method == &bk_strength_en && runway->n_trolleys > 0)
        bk_findings_assume(
            out,
            "Runway %s: at the edge of the bottom flange solid finite elements give more stress along the "
            "beam than the "
            "standard's coefficient (by 0.3 to 0.6 of the wheel load over the flange thickness squared).",
            runway->name);
}

/* ---- trolleys ----------------------------------------------------------------------------------- */

static bk_finding trolley_finding(const bk_runway_job *job, const bk_trolley *trolley, const char *check, const char *what,
                                  double demand)
{
    return (bk_finding){.check = check, .item = trolley->name, .what = what, .demand = demand, .nominal_demand = demand,
                        .dim = BK_DIM_FORCE, .rule = job->in->rules->name};
}

/* A trolley against its own row, and against a limit of the plan.  Its row states what its hook or its hoist may lift:
 * that is what it meets, at rest, and at least the rated capacity of a hoist that nothing of the plan hangs from.  A limit
 * meets all that it carries, as an anchor's does. */
static void trolley(const bk_runway_job *job, size_t t)
{
    const bk_plan *plan = job->plan;
    const bk_trolley *own = &plan->trolleys[job->runway->first_trolley + t];
    bool hung = false;
    for (size_t a = 0; a < plan->n_anchors; a++) hung = hung || plan->anchors[a].trolley == job->runway->first_trolley + t;
    if (own->n_parts == 0 && isnan(own->limit_N)) {
        if (!hung) /* else its anchor speaks for it */
            bk_findings_assume(job->out, "Runway %s: the beam is checked, trolley %s is not: its own plate must allow what it carries.",
                               job->runway->name, own->name);
        return;
    }
    const bk_runway_result *solved = job->solved;
    const double own_N = own->mass_kg * BK_STANDARD_GRAVITY_M_PER_S2;
    const bool bare_hoist = own->hoist != BK_NONE && !hung;
    const double hook_N = bare_hoist ? plan->hoists[own->hoist].rated_N : solved->payload_beam->trains[t].loaded_N;
    for (size_t k = 0; k < own->n_parts; k++) {
        const bk_part *part = &plan->parts[own->first_part + k];
        bk_finding f = trolley_finding(job, own, "trolley.wll", "working load limit", hook_N);
        bk_working *w = bk_findings_working(job->out);
        BK_GIVEN(w, F, hook_N, FORCE, bare_hoist ? "rated capacity of its hoist" : "what hangs on it, at rest");
        const bk_rig_capacity capacity = bk_rig_piece_capacity(job->in, job->out, own->name, part, w);
        f.demand = f.nominal_demand = F;
        f.setting = bare_hoist; /* plate against plate */
        f.working = w;
        f.part = part->ref ? part->ref : part->what;
        f.limit = capacity.tag_N;
        f.source = part->source;
        f.mark = capacity.mark;
        if (own->hoist != BK_NONE)
            bk_findings_assume(job->out, "Runway %s: trolley %s is rated by the hoist it carries, whose own mass is not counted against "
                                         "it (common practice, no source).", job->runway->name, own->name);
        bk_findings_add(job->out, f);
    }
    if (isnan(own->limit_N)) return;
    const double stalled_N = solved->stalled_N[t];
    const bool by_stall = stalled_N > solved->dynamic_N[t]; /* NaN is not */
    bk_finding f = trolley_finding(job, own, "trolley.limit", "limit in the plan",
                                   (by_stall ? stalled_N : solved->dynamic_N[t]) - own_N);
    f.limit = own->limit_N;
    f.source = "stated in the plan";
    f.mark = BK_MARK_USER;
    f.where = by_stall ? "hoist stalled at its limiter" : NULL;
    f.note = by_stall ? NULL : "dynamic case";
    bk_findings_add(job->out, f);
}

/* The steel of the runway as a member without a span; false when it lacks a strength. */
static bool steel_of(bk_runway_job *job)
{
    const bk_runway_result *solved = job->solved;
    const bk_steel *steel = solved->steel;
    const bk_section_in *shape = &job->plan->sections[job->runway->section];
    const bk_section *s = &solved->section;
    bk_member *m = &job->steel;
    job->part = shape->ref ? shape->ref : "section in the plan";
    m->section = s;
    m->section_from = shape->ref ? shape->ref : "section in the plan";
    m->section_mark = shape->mark;
    if (!s->printed && m->section_mark < BK_MARK_COMPUTED) m->section_mark = BK_MARK_COMPUTED;
    /* a load above the shear centre always counts, one below only by choice */
    const double low = -(s->h_m / 2 - s->tf_m);
    const double height = isfinite(job->runway->load_height_m) ? job->runway->load_height_m
                          : job->runway->stabilising           ? low
                                                               : 0;
    m->load_height_m = job->runway->stabilising ? height : fmax(0, height);
    if (!steel) return false;
    m->steel_from = steel->ref ? steel->ref : "steel in the plan";
    m->steel_mark = steel->mark;
    m->fy_Pa = bk_steel_fy(steel, s->tf_m);
    m->fyw_Pa = bk_steel_fy(steel, s->tw_m);
    m->fu_Pa = bk_steel_fu(steel, s->tf_m);
    return isfinite(m->fy_Pa) && isfinite(m->fyw_Pa);
}

static bk_status check_one(bk_runway_job *job)
{
    const bool has_strength = steel_of(job);
    const bk_runway_result *solved = job->solved;
    const bool own_share = isfinite(job->runway->lateral_share);
    job->lateral_share = own_share ? job->runway->lateral_share : job->rules->lateral_share->value;
    job->lateral_from = own_share ? "lateral in the plan" : job->rules->lateral_share->source;
    job->cases[0] =
        (bk_load_case){BK_STATE_DYNAMIC, "dynamic", solved->beam, &solved->worst, solved->static_N};
    job->n_cases = 1;
    if (solved->stalled_beam) {
        double *lateral = BK_NEW(job->out->arena, double, job->runway->n_trolleys);
        if (!lateral) return BK_E_NOMEM;
        for (size_t i = 0; i < job->runway->n_trolleys; i++)
            lateral[i] = solved->stalled_beam->trains[i].loaded_N;
        job->cases[job->n_cases++] =
            (bk_load_case){BK_STATE_STALLED, "stalled", solved->stalled_beam, &solved->stalled, lateral};
    }
    say_assumptions(job);
    for (size_t t = 0; t < job->runway->n_trolleys; t++) trolley(job, t);
    if (has_strength) {
        const bk_strength_method *method = job->method;
        candidates all;
        bk_status status = find_candidates(job, &all);
        if (status != BK_OK) return status;
        worst_member(job, &all, false, "runway.bending", "bending", method->bending);
        worst_member(job, &all, true, "runway.shear", "shear", method->shear);
        worst_member(job, &all, false, "runway.lateral_torsional_buckling", "lateral-torsional buckling",
                     method->ltb);
        worst_member(job, &all, false, "runway.interaction", "with lateral load and torsion",
                     method->interaction);
        status = bk_check_wheels(job);
        if (status != BK_OK) return status;
    } else
        bk_runway_finding(
            job, "runway.bending", "strength of the beam",
            (bk_rating){fmax(fabs(solved->worst.moment_max.value), fabs(solved->worst.moment_min.value)), NAN,
                        BK_DIM_MOMENT, "not checked",
                        solved->steel
                            ? "the steel has no yield strength at this thickness: the beam is not checked"
                            : "no steel is given: the beam is not checked",
                        BK_MARK_USER},
            NULL, NULL);
    bk_check_deflection(job);
    return bk_check_supports(job);
}

bk_status bk_check_runways(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    if (in->plan->n_runways == 0) return BK_OK;
    bk_beam_rules rules;
    const bk_strength_method *method = NULL;
    bk_status status = bk_strength_of_rules(in, out->arena, &rules, &method, errors);
    for (size_t i = 0; status == BK_OK && i < in->plan->n_runways; i++) {
        bk_runway_job job = {.in = in,
                             .out = out,
                             .plan = in->plan,
                             .runway = &in->plan->runways[i],
                             .solved = &in->runways[i],
                             .rules = &rules,
                             .method = method};
        status = check_one(&job);
        if (status != BK_OK)
            return bk_fail(errors, job.runway->place, status, "runway %s: %s", job.runway->name,
                           bk_status_text(status));
    }
    return status;
}
