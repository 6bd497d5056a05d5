/* effects: what each tolerance alone is worth, so that a rigger knows what to measure first. */
#include <becket/advice.h>

#include <stdlib.h>

static int by_worth(const void *a, const void *b)
{
    const bk_effect *p = a, *q = b;
    if (p->worth != q->worth) return p->worth > q->worth ? -1 : 1;
    return p->order < q->order ? -1 : p->order > q->order;
}

bk_status bk_advise_effects(bk_assessment *a, const bk_effect **out, size_t *n, bk_errors *errors)
{
    const bk_plan *plan = a->plan;
    *out = NULL;
    *n = 0;
    if (!a->has_rig || a->envelope->n_parameters == 0) return BK_OK;
    const size_t parameters = a->envelope->n_parameters;
    bk_effect *all = BK_NEW(a->arena, bk_effect, 2 * parameters);
    bk_statics *statics = bk_statics_new(plan);
    bk_hang *hang = bk_hang_new(a->arena, plan);
    bk_status status = all && statics && hang ? BK_OK : BK_E_NOMEM;
    for (size_t i = 0; status == BK_OK && i < 2 * parameters; i++) {
        const bk_parameter *p = &a->envelope->parameters[i / 2];
        const bk_change change = {p->kind, p->index, i % 2 ? -p->size : p->size};
        const bk_case alone = {&change, 1};
        bk_effect *e = &all[i];
        *e = (bk_effect){.order = i, .gains = BK_NONE, .loses = BK_NONE, .say = bk_cases_say(plan, &alone, a->arena)};
        if (!e->say) {
            status = BK_E_NOMEM;
            break;
        }
        status = bk_statics_solve(statics, &alone, a->hang, hang);
        e->hangs = status == BK_OK;
        if (status != BK_E_NOMEM) status = BK_OK; /* a case that does not hang is an answer */
        for (size_t l = 0; e->hangs && l < plan->n_lines; l++) {
            const double grown = hang->tension_N[l] - a->hang->tension_N[l];
            if (grown > e->gain_N) e->gain_N = grown, e->gains = l;
            if (grown < e->loss_N) e->loss_N = grown, e->loses = l;
        }
        e->worth = e->hangs ? fmax(e->gain_N, -e->loss_N) : (double)INFINITY;
    }
    bk_statics_free(statics);
    if (status != BK_OK) return bk_fail(errors, (bk_place){plan->file, 0, 0}, status, "out of memory");
    qsort(all, 2 * parameters, sizeof *all, by_worth);
    *out = all;
    *n = 2 * parameters;
    return BK_OK;
}
