/* words: what text and sheet both say, said once. */
#include <becket/report.h>

#include <stdlib.h>
#include <string.h>

const char *bk_verdict_word(bk_verdict verdict)
{
    static const char *const words[] = {"PASS", "FAIL", "INCOMPLETE"};
    return words[verdict];
}

const char *bk_verdict_sentence(bk_verdict verdict)
{
    static const char *const sentences[] = {"every check made here passes", "do not lift as planned",
                                            "something that carries load is not checked"};
    return sentences[verdict];
}

const char *bk_known_by_text(bk_known_by by)
{
    static const char *const words[] = {"source not stated", "weighed", "from a drawing", "estimated"};
    return words[by];
}

const char *bk_mark_sign(bk_mark mark)
{
    switch (mark) {
    case BK_MARK_MEMORY:
        return "(*)";
    case BK_MARK_PRACTICE:
        return "(p)";
    case BK_MARK_DEMO:
        return "(d)";
    case BK_MARK_COMPUTED:
        return "(c)";
    case BK_MARK_PUBLISHED:
    case BK_MARK_USER:
        break;
    }
    return "";
}

const char *bk_mark_legend(bk_mark mark)
{
    switch (mark) {
    case BK_MARK_MEMORY:
        return "rests on a figure from memory, not confirmed against the standard: check before use";
    case BK_MARK_PRACTICE:
        return "common practice, no source";
    case BK_MARK_DEMO:
        return "invented for demonstration: not to be lifted by";
    case BK_MARK_COMPUTED:
        return "computed from a stated formula";
    case BK_MARK_PUBLISHED:
    case BK_MARK_USER:
        break;
    }
    return "";
}

const char *bk_invented_hoist(const bk_plan *plan)
{
    for (size_t i = 0; i < plan->n_hoists; i++)
        if (plan->hoists[i].mark == BK_MARK_DEMO) return plan->hoists[i].name;
    return NULL;
}

const char *bk_stalled_sentence(const bk_assessment *a, size_t runway)
{
    const bk_runway_result *r = &a->runways[runway];
    char most[64], uplift[64];
    double up = 0, down = 0;
    if (!r->stalled_beam) return "";
    for (size_t i = 0; i < a->plan->runways[runway].n_supports; i++) {
        up = fmax(up, r->stalled.reaction_max[i].value);
        down = fmax(down, -r->stalled.reaction_min[i].value);
    }
    bk_quantity_print(most, sizeof most, up, BK_DIM_FORCE, a->plan->units, 4);
    bk_quantity_print(uplift, sizeof uplift, down, BK_DIM_FORCE, a->plan->units, 4);
    return bk_arena_printf(a->arena,
                           "A hoist that stalls at its limiter pulls harder than this: reactions to %s%s%s. The checks count that.",
                           most, down > 0 ? ", uplift to " : "", down > 0 ? uplift : "");
}

static int by_utilisation(const void *x, const void *y)
{
    const bk_finding *a = *(const bk_finding *const *)x, *b = *(const bk_finding *const *)y;
    if (a->utilisation != b->utilisation) return a->utilisation > b->utilisation ? -1 : 1;
    return a < b ? -1 : a > b;
}

const bk_finding **bk_findings_hardest_first(const bk_findings *all, size_t *n)
{
    const bk_finding **order = calloc(all->n + 1, sizeof *order);
    *n = 0;
    if (!order) return NULL;
    for (size_t i = 0; i < all->n; i++)
        if (all->at[i].checked) order[(*n)++] = &all->at[i];
    qsort(order, *n, sizeof *order, by_utilisation);
    return order;
}

double bk_shown_utilisation(double utilisation)
{
    return utilisation > 1 ? fmax(utilisation, 1.01) : utilisation;
}

const char *bk_finding_subject(const bk_finding *f, bk_arena *arena)
{
    static const char plain[] = "working load limit";
    const size_t n = sizeof plain - 1;
    if (!f->part || strncmp(f->what, plain, n) != 0) return f->what;
    return f->what[n] ? bk_arena_printf(arena, "%s%s", f->part, f->what + n) : f->part;
}

bool bk_hangs_plumb(const bk_assessment *a, size_t *hook, double *off_m, double *above_m)
{
    const bk_plan *p = a->plan;
    size_t hooks = 0;
    for (size_t i = 0; i < p->n_anchors; i++)
        if (bk_vec3_norm(a->hang->anchor_N[i]) > 0) hooks++, *hook = i;
    if (p->n_bodies != 1 || hooks != 1) return false;
    const bk_body *b = &p->bodies[0];
    const bk_vec3 at = p->anchors[*hook].at_m.v;
    const double off = hypot(at.x - (b->at_m.x + b->cog_m.v.x), at.y - (b->at_m.y + b->cog_m.v.y));
    *off_m = off > 1e-9 ? off : 0; /* a nanometre is what rounding leaves of plumb */
    *above_m = at.z - a->hang->cog_m[0].z;
    return true;
}
