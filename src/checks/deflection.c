/* deflection: of a runway, against the limits of the rule set or of the plan.
 *
 * Vertical: the payload alone and all loads, both without dynamic factor, each against its own limit; the one
 * used more is reported.  A limit in the plan replaces them and meets all loads.  An overhang has a limit of
 * its own; one that nothing comes onto has none, for it carries nothing.
 *
 * Lateral: the lateral share of all trolleys at midspan of the longest span or as far out on an overhang as they go, on
 * the bottom flange by itself, I_z / 2.  An overhang moves by its own bend and by the turn of the span behind it, which
 * is taken as hinged at its far end: P a2 (a + L) / (3 E I), the handbooks' beam overhanging one support.  Its limit, that of
 * a span of twice its length, has no source, and the finding says so.
 */
#include "runways.h"

typedef struct deflection_limit {
    const char *what;
    const bk_beam_worst *worst;
    double share, most_m; /* of the span; absolute; NaN */
    const char *source, *most_source;
    bk_mark mark;
} deflection_limit;

static double limit_of(const bk_runway_job *job, const deflection_limit *limit, const bk_beam_worst *worst,
                       size_t span, bk_working *w, const char **source, bk_mark *mark)
{
    const bk_rule *overhang_rule = job->rules->deflection_overhang;
    const double length = worst->span_to_m[span] - worst->span_from_m[span];
    const bool own_limit =
        isfinite(job->runway->deflection_limit) || isfinite(job->runway->deflection_limit_m);
    const bool overhang = worst->span_overhang[span] && overhang_rule && !own_limit;
    *source = overhang ? overhang_rule->source : limit->source;
    *mark = overhang ? overhang_rule->mark : limit->mark;
    double least = limit->most_m;
    if (overhang || isfinite(limit->share)) {
        BK_GIVEN(w, L, length, LENGTH, worst->span_overhang[span] ? "overhang" : "span");
        BK_GIVEN(w, share, overhang ? overhang_rule->value : limit->share, NONE, *source);
        BK_CALC(w, of_span, share * L, LENGTH, "share of the length");
        if (!(of_span > least)) return of_span;
    }
    BK_GIVEN(w, at_most, least, LENGTH, limit->most_source);
    *source = limit->most_source;
    return at_most;
}

/* Whether anything comes onto an overhang: a bare end of a beam past its support only follows the slope there. */
static bool loaded(const bk_runway_job *job, const bk_beam_worst *worst, size_t overhang)
{
    const bool left = overhang == 0; /* past the support at its root, or before it */
    const double root = left ? worst->span_to_m[overhang] : worst->span_from_m[overhang];
    const bk_beam *beam = job->solved->service_beam;
    for (size_t i = 0; i < beam->n_trains; i++) {
        const bk_beam_train *t = &beam->trains[i];
        if (left ? t->from_m + t->offset_m[0] < root : t->to_m + t->offset_m[t->n_lines - 1] > root) return true;
    }
    for (size_t i = 0; i < beam->n_loads; i++)
        if (left ? beam->loads[i].from_m < root : beam->loads[i].to_m > root) return true;
    return false;
}

static void vertical(const bk_runway_job *job)
{
    const bk_runway *runway = job->runway;
    const bk_beam_rules *r = job->rules;
    deflection_limit limits[2];
    size_t n = 0;
    if (isfinite(runway->deflection_limit) || isfinite(runway->deflection_limit_m))
        limits[n++] = (deflection_limit){"deflection under all loads, no dynamic factor",
                                         &job->solved->service,
                                         runway->deflection_limit,
                                         runway->deflection_limit_m,
                                         "deflection_limit in the plan",
                                         "deflection_limit in the plan",
                                         BK_MARK_USER};
    else {
        if (r->deflection_payload)
            limits[n++] = (deflection_limit){"deflection under the payload", &job->solved->payload,
                                             r->deflection_payload->value,   NAN,
                                             r->deflection_payload->source,  NULL,
                                             r->deflection_payload->mark};
        if (r->deflection_total)
            limits[n++] =
                (deflection_limit){"deflection under all loads, no dynamic factor",
                                   &job->solved->service,
                                   r->deflection_total->value,
                                   r->deflection_total_most ? r->deflection_total_most->value : (double)NAN,
                                   r->deflection_total->source,
                                   r->deflection_total_most ? r->deflection_total_most->source : NULL,
                                   r->deflection_total->mark};
    }
    const deflection_limit *governs = NULL;
    size_t at_span = 0;
    double most = -INFINITY;
    for (size_t i = 0; i < n; i++)
        for (size_t span = 0; span < limits[i].worst->n_spans; span++) {
            if (limits[i].worst->span_overhang[span] && !loaded(job, limits[i].worst, span)) continue;
            const char *source;
            bk_mark mark;
            const double limit = limit_of(job, &limits[i], limits[i].worst, span, NULL, &source, &mark);
            const double use = fabs(limits[i].worst->span_deflection[span].value) / limit;
            if (bk_is_most(use, &most)) governs = &limits[i], at_span = span;
        }
    const bk_load_case service = {.name = "service"};
    if (!governs) {
        bk_runway_finding(job, "runway.deflection", "deflection",
                          (bk_rating){fabs(job->solved->service.deflection.value), NAN, BK_DIM_LENGTH,
                                      "the rule set has no limit", NULL, BK_MARK_USER},
                          NULL, bk_runway_where(job, &service, &job->solved->service.deflection));
        return;
    }
    bk_working *w = bk_findings_working(job->out);
    const bk_beam_extreme *at = &governs->worst->span_deflection[at_span];
    BK_GIVEN(w, delta, fabs(at->value), LENGTH, "greatest deflection of the span, from the runway analysis");
    const char *source = NULL;
    bk_mark mark = BK_MARK_USER;
    const double limit = limit_of(job, governs, governs->worst, at_span, w, &source, &mark);
    const char *what = governs->what;
    if (governs->worst->span_overhang[at_span]) what = bk_arena_printf(job->out->arena, "%s, overhang", governs->what);
    if (!what) job->out->failed = true;
    bk_runway_finding(job, "runway.deflection", what ? what : governs->what,
                      (bk_rating){delta, limit, BK_DIM_LENGTH, source, NULL, mark}, w,
                      bk_runway_where(job, &service, at));
}

/* How far past the support at its root a trolley may stand on an overhang. */
static double reach_on(const bk_runway_job *job, const bk_beam_worst *worst, size_t overhang)
{
    double reach = 0;
    for (size_t i = 0; i < job->runway->n_trolleys; i++) {
        const bk_trolley *t = &job->plan->trolleys[job->runway->first_trolley + i];
        reach = fmax(reach, overhang == 0 ? worst->span_to_m[0] - t->from_m : t->to_m - worst->span_from_m[overhang]);
    }
    return reach;
}

/* The lateral force where it bends the bottom flange most for what is allowed there, by itself: half of I_z. */
static void lateral(const bk_runway_job *job)
{
    const bk_rule *limit_rule = job->rules->deflection_lateral;
    if (!limit_rule) return;
    const bk_rule *share_rule = job->rules->deflection_lateral_share;
    const bk_beam_worst *worst = job->cases[0].worst;
    double force = 0, length = NAN, reach = NAN, back = NAN, most = -INFINITY;
    bool overhang = false;
    for (size_t i = 0; i < job->runway->n_trolleys; i++)
        force += job->solved->static_N[i];
    for (size_t span = 0; span < worst->n_spans; span++) {
        const double own = worst->span_to_m[span] - worst->span_from_m[span];
        const bool out = worst->span_overhang[span];
        const size_t beside = span == 0 ? 1 : span - 1;
        const double held = out ? own : fmin(own, job->runway->restraint_m);
        /* an overhang with no span beside it stands on a support that holds its slope */
        const bool turns = out && worst->n_spans > 1 && !worst->span_overhang[beside];
        const double behind = turns ? fmin(worst->span_to_m[beside] - worst->span_from_m[beside], job->runway->restraint_m) : 0;
        const double a = out ? reach_on(job, worst, span) : 0;
        const double use = out ? a * a * (a + behind) / 3 / (2 * own) : held * held / 48;
        if (bk_is_most(use, &most)) length = held, reach = a, back = behind, overhang = out;
    }
    bk_working *w = bk_findings_working(job->out);
    bk_calc c = {job->rules, w, limit_rule->mark};
    bk_calc_mark(&c, job->steel.section_mark);
    BK_GIVEN(w, F, force, FORCE, "all trolleys, no dynamic factor");
    BK_GIVEN(w, share, share_rule ? share_rule->value : job->lateral_share, NONE,
             share_rule ? share_rule->source : job->lateral_from);
    BK_RULE(&c, E, STRESS);
    BK_GIVEN(w, I_z, job->steel.section->Iz_m4, INERTIA, job->steel.section_from);
    BK_GIVEN(w, L, length, LENGTH, overhang ? "overhang" : "longest between lateral holds");
    bk_rating rating = {NAN, NAN, BK_DIM_LENGTH, limit_rule->source, NULL, c.mark};
    if (overhang) {
        BK_GIVEN(w, a, reach, LENGTH, "farthest trolley past the support");
        BK_GIVEN(w, L_b, back, LENGTH, "span behind it, which turns at the support");
        BK_CALC(w, delta, share * F * pow(a, 2) * (a + L_b) / (3 * E * I_z / 2), LENGTH, "bottom flange by itself");
        rating.demand = delta;
    } else {
        BK_CALC(w, delta, share * F * pow(L, 3) / (48 * E * I_z / 2), LENGTH, "bottom flange by itself");
        rating.demand = delta;
    }
    BK_GIVEN(w, limit_share, limit_rule->value, NONE, limit_rule->source);
    BK_GIVEN(w, n, overhang ? 2 : 1, NONE, overhang ? "an overhang counts as a span of twice its length" : "span");
    BK_CALC(w, limit, limit_share * n * L, LENGTH, "share of the length");
    rating.limit = limit;
    if (overhang) {
        rating.source = bk_arena_printf(job->out->arena, "practice: as a span of twice the overhang by %s", limit_rule->source);
        rating.mark = rating.mark > BK_MARK_PRACTICE ? rating.mark : BK_MARK_PRACTICE;
        rating.note = "the limit of an overhang has no source: common practice";
        if (!rating.source) {
            job->out->failed = true;
            rating.source = limit_rule->source;
        }
    }
    bk_runway_finding(job, "runway.lateral_deflection", "lateral deflection of the bottom flange", rating, w, NULL);
}

void bk_check_deflection(const bk_runway_job *job)
{
    vertical(job);
    if (job->runway->n_trolleys > 0) lateral(job);
}
