/* tackles: what hauls a line over blocks, and what the blocks' own fastenings feel.
 *
 * Every sheave the line runs over takes a share: hauled over N sheaves onto N falls the pulls in the falls are P/k, P/k2 ...
 * P/kN, so that W = P (1/k + ... + 1/kN) and
 *     P = W kN (k - 1) / (kN - 1),   times k for each further sheave on the way to the winch.
 * Fibre line: the seaman's rule, a tenth of the load for each sheave: P = W (1 + 0.1 n) / falls.
 * The standing block hangs the load and the lead line's pull; a redirecting block feels the resultant of its two lines,
 * 2 P cos(angle / 2), twice the pull where they are parallel.
 */
#include "rig.h"

static void against(const bk_check_input *in, bk_findings *out, const bk_tackle *t, const char *check, const char *what,
                    double demand, double limit, const char *source, bk_mark mark, const char *part, bk_working *w)
{
    bk_findings_add(out, (bk_finding){.check = check, .item = t->name, .part = part, .what = what, .demand = demand,
                                      .nominal_demand = demand, .limit = limit, .dim = BK_DIM_FORCE, .rule = in->rules->name,
                                      .source = source, .mark = mark, .working = w});
}

static void against_part(const bk_check_input *in, bk_findings *out, const bk_tackle *t, const char *check, const char *what,
                         double demand, bk_mark mark, size_t part, bk_working *w)
{
    if (part == BK_NONE) {
        against(in, out, t, check, what, demand, NAN, "no rating given", BK_MARK_USER, NULL, w);
        return;
    }
    const bk_part *p = &in->plan->parts[part];
    const bk_rig_capacity capacity = bk_rig_piece_capacity(in, out, t->name, p, w);
    against(in, out, t, check, what, demand, capacity.tag_N, p->source, bk_rig_less_sure(mark, capacity.mark),
            p->ref ? p->ref : p->what, w);
}

static void tackle(const bk_check_input *in, bk_findings *out, const bk_tackle *t)
{
    bk_working *w = bk_findings_working(out);
    bk_mark mark = BK_MARK_PUBLISHED;
    const char *source = NULL;
    BK_GIVEN(w, W, t->load_N, FORCE, "load on the moving block");
    BK_GIVEN(w, N, t->falls, NONE, "parts of line at the moving block");
    BK_GIVEN(w, n_lead, t->lead_sheaves, NONE, "sheaves behind the tackle");
    double pull;
    if (t->bearing == BK_BEARING_FIBRE) {
        BK_GIVEN(w, mu, bk_rig_rule(in, "block.tackle_friction", BK_DIM_NONE, &mark, &source), NONE, source ? source : "rule set");
        BK_CALC(w, P, W * (1 + mu * (N + n_lead)) / N, FORCE, "a share of the load for each sheave");
        pull = P;
    } else {
        const char *rule = t->bearing == BK_BEARING_ROLLING ? "block.loss.rolling" : "block.loss.plain";
        BK_GIVEN(w, k, bk_rig_rule(in, rule, BK_DIM_NONE, &mark, &source), NONE, source ? source : "rule set");
        BK_CALC(w, P_tackle, W * pow(k, N) * (k - 1) / (pow(k, N) - 1), FORCE, "hauled over N sheaves onto N falls");
        BK_CALC(w, P, P_tackle * pow(k, n_lead), FORCE, "each further sheave takes its share");
        pull = P;
    }
    BK_GIVEN(w, P_lead, pull, FORCE, "pull in the lead line");
    against_part(in, out, t, "tackle.line", "pull in the lead line", P_lead, mark, t->line_part, w);
    if (isfinite(t->pull_limit_N))
        against(in, out, t, "tackle.pull", "pull of winch or crew", P_lead, t->pull_limit_N, "limit in the plan", mark, NULL, w);

    bk_working *standing = bk_findings_working(out);
    BK_GIVEN(standing, W_load, t->load_N, FORCE, "load on the moving block");
    BK_GIVEN(standing, P_line, pull, FORCE, "pull in the lead line");
    BK_CALC(standing, F_standing, W_load + P_line, FORCE, "the standing block hangs the load and the lead line's pull");
    against_part(in, out, t, "tackle.block", "standing block", F_standing, mark, t->block_part, standing);
    against(in, out, t, "tackle.anchor", "what holds the standing block", F_standing, t->limit_N,
            isfinite(t->limit_N) ? "limit in the plan" : "no limit given", mark, NULL, standing);
    if (t->lead_sheaves < 1) return;

    bk_working *lead = bk_findings_working(out);
    if (isnan(t->angle_rad))
        bk_findings_assume(out, "%s: the angle at the redirecting block is not stated: its lines are taken as parallel, the worst.",
                           t->name);
    BK_GIVEN(lead, P_over, pull, FORCE, "pull in the lead line");
    BK_GIVEN(lead, theta, isfinite(t->angle_rad) ? t->angle_rad : 0, ANGLE, "between the lines at the redirecting block");
    BK_CALC(lead, F_lead, 2 * P_over * cos(theta / 2), FORCE, "resultant of the two lines");
    against_part(in, out, t, "tackle.lead_block", "redirecting block", F_lead, mark, t->lead_part, lead);
    against(in, out, t, "tackle.lead_anchor", "what holds the redirecting block", F_lead, t->lead_limit_N,
            isfinite(t->lead_limit_N) ? "limit in the plan" : "no limit given", mark, NULL, lead);
}

bk_status bk_check_tackles(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    (void)errors;
    for (size_t i = 0; i < in->plan->n_tackles; i++) tackle(in, out, &in->plan->tackles[i]);
    return BK_OK;
}
