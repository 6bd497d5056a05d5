/* supports: every reaction of a runway against what holds it.
 *
 *     limit, uplift_limit   stated in the plan: meets the reaction without partial factors
 *     any other part        its rating as of a part in the rig (its design factor is in the rating)
 *     a thread and its steel (a part with stress_area and one with fub or fu): rod or bolts in tension by the
 *                           rule set's method, with its partial factors
 *
 * Reactions are the greater of the dynamic and the stalled case.  `count` equal hangers share a support in
 * equal parts, by the plan's own choice.  Parts that only pull hold nothing down: uplift needs an
 * uplift_limit. What has none of these carries load without a limit, and the finding says so.
 */
#include "rig.h"
#include "runways.h"

typedef struct reaction {
    double force_N;
    const bk_load_case *in;
    const bk_beam_extreme *at;
} reaction;

static reaction greatest(const bk_runway_job *job, size_t k, bool up)
{
    reaction out = {-INFINITY, NULL, NULL};
    for (size_t c = 0; c < job->n_cases; c++) {
        const bk_beam_worst *worst = job->cases[c].worst;
        const bk_beam_extreme *at = up ? &worst->reaction_max[k] : &worst->reaction_min[k];
        const double force_N = up ? at->value : -at->value;
        if (bk_is_most(force_N, &out.force_N)) out.in = &job->cases[c], out.at = at;
    }
    return out;
}

static double strength_of(const bk_part *part)
{
    return isfinite(part->fub_Pa) ? part->fub_Pa : part->fu_Pa;
}

static const char *name_of(const bk_part *part)
{
    return part->ref ? part->ref : part->what;
}

static bk_finding finding_of(const bk_runway_job *job, const reaction *r, const char *what)
{
    return (bk_finding){.check = "runway.support",
                        .item = job->runway->name,
                        .what = what,
                        .demand = r->force_N,
                        .nominal_demand = NAN,
                        .limit = NAN,
                        .dim = BK_DIM_FORCE,
                        .rule = job->in->rules->name,
                        .source = "not checked",
                        .mark = BK_MARK_USER,
                        .where = bk_runway_where(job, r->in, r->at)};
}

static void stated(const bk_runway_job *job, const reaction *r, const char *what, double limit_N,
                   const char *source)
{
    bk_finding finding = finding_of(job, r, what);
    bk_working *w = bk_findings_working(job->out);
    BK_GIVEN(w, R, r->force_N, FORCE, "from the runway analysis, no partial factor");
    BK_GIVEN(w, limit, limit_N, FORCE, source);
    finding.demand = R;
    finding.limit = limit;
    finding.source = source;
    finding.working = w;
    bk_findings_add(job->out, finding);
}

static void rated(const bk_runway_job *job, const reaction *r, const char *what, const bk_part *part,
                  double count)
{
    bk_finding finding = finding_of(job, r, what);
    bk_working *w = bk_findings_working(job->out);
    BK_GIVEN(w, R, r->force_N, FORCE, "from the runway analysis, no partial factor");
    BK_GIVEN(w, hangers, count, NONE, count > 1 ? "equal hangers, a choice in the plan" : "one hanger");
    BK_CALC(w, F, R / hangers, FORCE, "each");
    finding.part = name_of(part);
    finding.demand = F;
    const bk_rig_capacity capacity = bk_rig_piece_capacity(job->in, job->out, job->runway->name, part, w);
    finding.limit = capacity.tag_N;
    finding.source = part->source;
    finding.mark = capacity.mark;
    finding.working = w;
    bk_findings_add(job->out, finding);
}

/* Rod or bolts in tension: EN 1993-1-8, 3.6.1, or AISC 360, J3.6. */
static void in_tension(const bk_runway_job *job, const reaction *r, const char *what, const bk_part *thread,
                       const bk_part *steel, double count)
{
    const bool en = job->method == &bk_strength_en;
    bk_finding finding = finding_of(job, r, what);
    bk_working *w = bk_findings_working(job->out);
    bk_calc c = {job->rules, w, BK_MARK_PUBLISHED};
    bk_member m = job->steel;
    bk_calc_mark(&c, thread->mark);
    bk_calc_mark(&c, steel->mark);
    m.state = r->in->state;
    BK_TAKE(&c, R, r->force_N, FORCE, "from the runway analysis, no partial factor");
    BK_TAKE(&c, hangers, count, NONE, count > 1 ? "equal hangers, a choice in the plan" : "one hanger");
    const double gamma = bk_design_factor(&c, &m);
    BK_CALC(w, F_t, gamma * R / hangers, FORCE, "design value, each");
    BK_TAKE(&c, f_u, strength_of(steel), STRESS, name_of(steel));
    finding.part = name_of(thread);
    finding.demand = F_t;
    finding.working = w;
    if (en) {
        BK_RULE(&c, k_2, NONE);
        BK_TAKE(&c, A_s, thread->stress_area_m2, AREA, name_of(thread));
        BK_RULE(&c, gamma_M2, NONE);
        BK_CALC(w, F_t_Rd, k_2 * f_u * A_s / gamma_M2, FORCE, "EN 1993-1-8, 3.6.1");
        finding.limit = F_t_Rd;
        finding.source = "EN 1993-1-8, 3.6.1, Table 3.4";
    } else {
        BK_RULE(&c, Omega_bolt, NONE);
        BK_TAKE(&c, A_b, thread->shank_area_m2, AREA, name_of(thread));
        BK_CALC(w, R_c, 0.75 * f_u * A_b / Omega_bolt, FORCE, "AISC 360, J3.6");
        bk_calc_mark(&c, BK_MARK_MEMORY);
        finding.limit = R_c;
        finding.source = "AISC 360, J3.6";
    }
    finding.mark = c.mark;
    bk_findings_add(job->out, finding);
}

static void check_up(const bk_runway_job *job, const bk_support *support, const reaction *r, const char *what)
{
    const bk_part *thread = NULL, *steel = NULL;
    bool checked = isfinite(support->limit_N);
    if (checked) stated(job, r, what, support->limit_N, "limit in the plan");
    for (size_t i = 0; i < support->n_parts; i++) {
        const bk_part *part = &job->plan->parts[support->first_part + i];
        const bool is_thread = isfinite(part->stress_area_m2) || isfinite(part->shank_area_m2);
        if (is_thread) thread = part;
        if (isfinite(strength_of(part))) steel = part;
        if (is_thread || steel == part) continue;
        rated(job, r, what, part, support->count);
        checked = true;
    }
    if (thread && steel) in_tension(job, r, what, thread, steel, support->count);
    if (thread ? (bool)steel : checked) return;
    bk_finding finding = finding_of(job, r, what);
    finding.part = thread ? name_of(thread) : NULL;
    finding.note = thread ? "the thread has no strength class beside it (bolt-class/8.8)"
                          : "no limit and no part with a rating is given";
    bk_findings_add(job->out, finding);
}

static void check_uplift(const bk_runway_job *job, const bk_support *support, const reaction *r,
                         const char *what)
{
    if (isfinite(support->uplift_limit_N)) {
        stated(job, r, what, support->uplift_limit_N, "uplift_limit in the plan");
        return;
    }
    bk_finding finding = finding_of(job, r, what);
    finding.note =
        "the beam lifts here and no uplift_limit is given; a hanger that only pulls does not hold it down";
    bk_findings_add(job->out, finding);
}

bk_status bk_check_supports(const bk_runway_job *job)
{
    bk_arena *arena = job->out->arena;
    double most = 0;
    for (size_t k = 0; k < job->runway->n_supports; k++)
        most = fmax(most, fabs(greatest(job, k, true).force_N));
    for (size_t k = 0; k < job->runway->n_supports; k++) {
        const bk_support *support = &job->plan->supports[job->runway->first_support + k];
        char place[40];
        bk_quantity_print(place, sizeof place, support->at_m, BK_DIM_LENGTH, job->plan->units, 4);
        const char *up_what = bk_arena_printf(arena, "reaction of the support at %s", place);
        const char *down_what = bk_arena_printf(arena, "uplift at the support at %s", place);
        if (!up_what || !down_what) return BK_E_NOMEM;
        const reaction up = greatest(job, k, true), down = greatest(job, k, false);
        check_up(job, support, &up, up_what);
        if (down.force_N > 1e-9 * most) check_uplift(job, support, &down, down_what);
        if (support->fixed)
            bk_findings_assume(job->out,
                               "Runway %s: the support at %s holds the beam's slope; its moment on the "
                               "structure is not checked.",
                               job->runway->name, place);
        if (support->count > 1)
            bk_findings_assume(job->out,
                               "Runway %s: the hangers of the support at %s are taken to share it equally, "
                               "by a choice in the plan.",
                               job->runway->name, place);
    }
    if (job->runway->n_supports > 0)
        bk_findings_assume(
            job->out, "Runway %s: a support's limit is compared with the reaction without partial factors.",
            job->runway->name);
    return BK_OK;
}
