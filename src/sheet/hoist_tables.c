/* hoist_tables: forces of each hoist on what it hangs from; its duty and life. */
#include "sections.h"

static void hoists(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    const bk_plan *p = a->plan;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows =
        bk_rows_open(flow, "HOISTS: forces on what the hoist hangs from", "<>>>>>><",
                     (const char *[]){"hoist", bk_tell(flow, "on the hook, %s", flow->force.unit), "rated",
                                      "factor", "static", "dynamic", "stalled", "factor by"});
    for (size_t i = 0; i < p->n_hoists; i++) {
        const bk_hoist_forces *f = &a->hoists[i];
        bk_rows_add(rows, (const char *[]){p->hoists[i].name, bk_tell_bare(flow, f->hook_load_N, flow->force),
                                           bk_tell_bare(flow, p->hoists[i].rated_N, flow->force),
                                           bk_tell_quantity(flow, f->dynamic_factor, BK_DIM_NONE, 4),
                                           bk_tell_bare(flow, f->static_N, flow->force),
                                           bk_tell_bare(flow, f->dynamic_N, flow->force),
                                           bk_tell_bare(flow, f->stalled_N, flow->force), f->dynamic_by});
        if (isfinite(f->stalled_N))
            bk_rows_note(rows, f->stalled_governs ? "the stalled case governs above the hook"
                                                  : "the dynamic case governs above the hook");
    }
    bk_rows_close(rows);
}

static void duty(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows =
        bk_rows_open(flow, "HOIST DUTY AND LIFE", "<>>><<>>",
                     (const char *[]){"hoist", "running a day", "duration factor", "starts an hour", "group",
                                      "needed", "life used", "all used up"});
    for (size_t i = 0; i < a->plan->n_hoists; i++) {
        const bk_hoist_duty *d = &a->duties[i];
        if (!d->asked) continue;
        bk_rows_add(
            rows,
            (const char *[]){
                a->plan->hoists[i].name,
                bk_tell(flow, "%s h", bk_tell_quantity(flow, d->running_hours_per_day, BK_DIM_NONE, 3)),
                bk_tell_percent(flow, d->cyclic_duration_factor),
                bk_tell_quantity(flow, d->starts_per_hour, BK_DIM_NONE, 3), d->group_iso ? d->group_iso : "-",
                d->group_needed_iso ? d->group_needed_iso : "-", bk_tell_percent(flow, d->life_used),
                d->date_100 ? d->date_100
                : isfinite(d->years_to_100)
                    ? bk_tell(flow, "in %s years", bk_tell_quantity(flow, d->years_to_100, BK_DIM_NONE, 3))
                    : "-"});
        bk_rows_note(rows, d->incomplete);
    }
    bk_rows_close(rows);
}

void bk_sheet_hoists(bk_sheet *sheet)
{
    hoists(sheet);
    duty(sheet);
}
