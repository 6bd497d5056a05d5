/* duty: the hoist keeper's page.  Per hoist: what it pulls, what the work asks against what it is built for,
 * how much of its life is used and when the rest will be, what falls due.  Then what was assumed.
 */
#include "layout.h"

#include <string.h>

static const char *or_dash(const char *text)
{
    return text ? text : "-";
}

static const char *plain(bk_cells *c, double value, int digits)
{
    return bk_cell(c, value, BK_DIM_NONE, digits);
}

/* A source, and how sure it is where that is in doubt. */
static const char *sure(bk_text *t, bk_arena *arena, const char *source, bk_mark mark)
{
    if (mark == BK_MARK_PUBLISHED || mark == BK_MARK_USER) return source;
    const char *text = bk_arena_printf(arena, "%s (%s)", source,
                                       mark == BK_MARK_MEMORY ? "memory: not confirmed, check before use" : bk_mark_text(mark));
    if (text) return text;
    t->failed = true;
    return "";
}

/* ---- forces ------------------------------------------------------------------------------------ */

static void forces(bk_text *t, const bk_assessment *a, size_t i)
{
    const bk_hoist *hoist = &a->plan->hoists[i];
    const bk_hoist_forces *f = &a->hoists[i];
    bk_cells c = {.system = a->plan->units};
    bk_text_heading(t, "WHAT IT PULLS");
    bk_grid g;
    bk_grid_open(&g, t, "<>~");
    bk_grid_row(&g, (const char *[]){"", "force", ""});
    bool hangs = false;
    for (size_t l = 0; l < a->plan->n_lines; l++) hangs = hangs || a->plan->lines[l].hoist == i;
    for (size_t k = 0; k < a->plan->n_anchors; k++)
        hangs = hangs || (a->plan->anchors[k].trolley != BK_NONE && a->plan->trolleys[a->plan->anchors[k].trolley].hoist == i);
    bk_grid_row(&g, (const char *[]){"on the hook", bk_cell(&c, f->hook_load_N, BK_DIM_FORCE, 4),
                                     hangs ? "load, gear below the hook, hook block"
                                           : "rated capacity and hook block: the plan hangs nothing on it"});
    bk_grid_row(&g, (const char *[]){"rated capacity", bk_cell(&c, hoist->rated_N, BK_DIM_FORCE, 4), hoist->source});
    bk_grid_row(&g, (const char *[]){"suspension, at rest", bk_cell(&c, f->static_N, BK_DIM_FORCE, 4),
                                     "with hoist and load chain"});
    bk_grid_row(&g, (const char *[]){"suspension, dynamic", bk_cell(&c, f->dynamic_N, BK_DIM_FORCE, 4),
                                     bk_arena_printf(a->arena, "factor %s, %s%s", plain(&c, f->dynamic_factor, 4),
                                                     sure(t, a->arena, f->dynamic_by, f->dynamic_mark),
                                                     f->stalled_governs ? "" : ": governs")});
    if (isfinite(f->stalled_N))
        bk_grid_row(&g, (const char *[]){"suspension, stalled", bk_cell(&c, f->stalled_N, BK_DIM_FORCE, 4),
                                         bk_arena_printf(a->arena, "the hook is fast, the limiter acts at %s%s%s",
                                                         plain(&c, f->limiter_at, 4),
                                                         f->overshoot_counted ? ", and what it pulls on while stopping" : "",
                                                         f->stalled_governs ? ": governs" : "")});
    else
        bk_grid_row(&g, (const char *[]){"suspension, stalled", "not known", "no limiter is stated"});
    if (isfinite(f->sudden_stop_N))
        bk_grid_row(&g, (const char *[]){"suspension, sudden stop", bk_cell(&c, f->sudden_stop_N, BK_DIM_FORCE, 4),
                                         bk_arena_printf(a->arena, "lowering at full speed, %s", f->sudden_stop_by)});
    bk_grid_close(&g);
    if (isfinite(f->dynamic_13001))
        bk_text_put(t, "  lift-off factor: EN 13001-2 %s (%s, %s), EN 1991-3 %s; the greater acts. FEM 1.001 beside them: %s\n",
                    plain(&c, f->dynamic_13001, 4), f->hoisting_class, f->drive_class, plain(&c, f->dynamic_1991, 4),
                    plain(&c, f->dynamic_fem, 4));
    if (isfinite(f->dynamic_hoist_load))
        bk_text_put(t, "  impact: monorail %s, hoist load factor %s; the greater acts\n", plain(&c, f->dynamic_impact, 4),
                    plain(&c, f->dynamic_hoist_load, 4));
    if (isfinite(f->slack_lift_main) && isfinite(f->slack_lift_creep))
        bk_text_wrap(t, 2, 4,
                     bk_arena_printf(a->arena, "picked up with slack chain the load weighs %s times at full speed and %s times in "
                                               "creep (%s of static stretch): take up slack in creep",
                                     plain(&c, f->slack_lift_main, 3), plain(&c, f->slack_lift_creep, 3),
                                     bk_cell(&c, f->static_stretch_m, BK_DIM_LENGTH, 3)));
}

/* ---- duty -------------------------------------------------------------------------------------- */

static void compare(bk_grid *g, bk_cells *c, const char *what, double needed, double allowed, bool percent)
{
    if (isnan(needed) && isnan(allowed)) return;
    bk_grid_row(g, (const char *[]){what, percent ? bk_cell_percent(c, needed) : plain(c, needed, 4),
                                    percent ? bk_cell_percent(c, allowed) : plain(c, allowed, 4),
                                    bk_cell_used(c, needed / allowed)});
}

static void work(bk_text *t, const bk_assessment *a, size_t i)
{
    const bk_hoist_duty *d = &a->duties[i];
    bk_cells c = {.system = a->plan->units};
    bk_text_heading(t, "WHAT THE WORK ASKS");
    bk_grid g;
    bk_grid_open(&g, t, "<>>>");
    bk_grid_row(&g, (const char *[]){"", "asked", "built for", "used"});
    compare(&g, &c, "share of time the motor runs (cyclic duration factor)", d->cyclic_duration_factor, d->allowed_cdf, true);
    compare(&g, &c, "  main winding", d->main_cdf, d->allowed_main_cdf, true);
    compare(&g, &c, "  creep winding", d->creep_cdf, d->allowed_creep_cdf, true);
    compare(&g, &c, "motor starts in an hour", d->starts_per_hour, d->allowed_starts, false);
    compare(&g, &c, "  main winding", d->main_starts, d->allowed_main_starts, false);
    compare(&g, &c, "  creep winding", d->creep_starts, d->allowed_creep_starts, false);
    if (isfinite(d->starts_per_running_hour)) {
        const bk_rule *most = bk_rules_number(a->plan->rules, "duty.starts_per_running_hour", BK_DIM_NONE);
        compare(&g, &c, "starts in an hour of running, from the meters", d->starts_per_running_hour,
                most ? most->value : (double)NAN, false);
    }
    bk_grid_close(&g);
    if (isfinite(d->allowed_cdf))
        bk_text_wrap(t, 2, 4,
                     bk_arena_printf(a->arena, "built for %s: %s minutes on in ten, and after each minute of running %s minutes of "
                                               "rest%s; a share of every ten minutes, not leave to run as long at one go%s",
                                     bk_cell_percent(&c, d->allowed_cdf), plain(&c, d->on_min_in_10, 3),
                                     plain(&c, d->rest_per_run, 3),
                                     d->rest_per_run > 1 ? ", longer than the run" : "",
                                     d->allowed_of_group ? " (the group's figures, where the hoist states none)" : ""));
    if (isfinite(d->running_hours_per_day))
        bk_text_put(t, "  running time: %s hours a day%s; %s hours a year\n", plain(&c, d->running_hours_per_day, 3),
                    d->empty_return_assumed ? " (a cycle has no empty lift and lowering)" : "",
                    plain(&c, d->hours_per_year_by_duty, 4));

    bk_text_heading(t, "GROUP");
    bk_grid_open(&g, t, "<<<<");
    bk_grid_row(&g, (const char *[]){"", "ISO 4301-1:1986", "FEM 9.511", "US"});
    bk_grid_row(&g, (const char *[]){"load spectrum",
                                     bk_arena_printf(a->arena, "Km %s, %s", plain(&c, d->spectrum_factor, 3),
                                                     or_dash(d->spectrum_class)),
                                     bk_arena_printf(a->arena, "k %s, %s", plain(&c, d->cubic_mean_k, 3),
                                                     or_dash(d->spectrum_class_fem)),
                                     bk_arena_printf(a->arena, "mean load %s", bk_cell_percent(&c, d->mean_effective_load_factor))});
    bk_grid_row(&g, (const char *[]){"running time", or_dash(d->time_class_iso), or_dash(d->time_class_fem), "-"});
    const char *none = d->no_group_is_enough ? "beyond the heaviest" : "-";
    bk_grid_row(&g, (const char *[]){"needed", d->group_needed_iso ? d->group_needed_iso : none,
                                     d->group_needed_fem ? d->group_needed_fem : none, or_dash(d->us_class_needed)});
    bk_grid_row(&g, (const char *[]){"the hoist", or_dash(d->group_iso), or_dash(d->group_fem), or_dash(d->group_us)});
    bk_grid_close(&g);
    bk_text_put(t, "  each column by its own rule; none is converted into another\n");
}

/* ---- life -------------------------------------------------------------------------------------- */

static void until(bk_grid *g, bk_cells *c, const char *what, double years, const char *date)
{
    if (isfinite(years))
        bk_grid_row(g, (const char *[]){what, years > 0 ? plain(c, years, 4) : "reached", or_dash(date)});
}

static void life(bk_text *t, const bk_assessment *a, size_t i)
{
    const bk_hoist_duty *d = &a->duties[i];
    bk_cells c = {.system = a->plan->units};
    bk_text_heading(t, "LIFE USED");
    if (isnan(d->used_hours_fem)) {
        bk_text_put(t, "  not worked out: %s\n", d->incomplete ? d->incomplete : "nothing says how long it ran");
        return;
    }
    bk_grid g;
    bk_grid_open(&g, t, "<>>>>");
    bk_grid_row(&g, (const char *[]){"", "factor", "full-load hours", "of", "used"});
    bk_grid_row(&g, (const char *[]){"FEM 9.755:1993", plain(&c, d->factor_fem, 3), plain(&c, d->used_hours_fem, 4),
                                     plain(&c, d->full_load_hours, 5), bk_cell_percent(&c, d->life_used_fem)});
    bk_grid_row(&g, (const char *[]){"ISO 12482:2014", plain(&c, d->factor_iso, 3), plain(&c, d->used_hours_iso, 4),
                                     plain(&c, d->full_load_hours, 5), bk_cell_percent(&c, d->life_used_iso)});
    bk_grid_close(&g);
    bk_text_put(t, "  factor: how hours and loads were recorded, last period; the two schemes are not merged\n");
    bk_text_put(t, "  %s running hours, %s starts so far%s%s; %s hours a year%s\n", plain(&c, d->running_hours, 5),
                plain(&c, d->starts, 6), d->last_reading ? ", read on " : "", d->last_reading ? d->last_reading : "",
                plain(&c, d->hours_per_year, 4), d->hours_per_year != d->hours_per_year_by_duty ? " as metered" : "");
    if (isfinite(d->years_to_100)) {
        bk_grid_open(&g, t, "<><");
        bk_grid_row(&g, (const char *[]){"at this rate", "years", "date"});
        until(&g, &c, "80 %: put the general overhaul in the plan", d->years_to_80, d->date_80);
        until(&g, &c, "90 %: plan it now", d->years_to_90, d->date_90);
        until(&g, &c, "100 %: out of service until overhauled", d->years_to_100, d->date_100);
        bk_grid_close(&g);
    }
    if (d->life_source)
        bk_text_wrap(t, 2, 4, bk_arena_printf(a->arena, "theoretical life: %s. A failure can come earlier.",
                                              sure(t, a->arena, d->life_source, d->life_mark)));
}

/* A date that lies before the plan's, or, where that has none, before the last reading, says so. */
static const char *due_by(const bk_assessment *a, const bk_hoist_duty *d, const char *date)
{
    const char *today = a->plan->date ? a->plan->date : d->last_reading;
    if (!date || !today || strcmp(date, today) >= 0) return or_dash(date);
    const char *text = bk_arena_printf(a->arena, "%s OVERDUE", date); /* dates sort as text */
    return text ? text : date;
}

static void due(bk_text *t, const bk_assessment *a, size_t i)
{
    const bk_hoist_duty *d = &a->duties[i];
    bk_cells c = {.system = a->plan->units};
    bk_text_heading(t, "INSPECTION (* the tightest of its kind wins)");
    bk_grid g;
    bk_grid_open(&g, t, "<<~><~");
    bk_grid_row(&g, (const char *[]){"", "kind", "what", "months", "due", "source"});
    for (size_t k = 0; k < d->n_intervals; k++) {
        const bk_hoist_interval *v = &d->intervals[k];
        if (!v->regime) continue;
        bk_grid_row(&g, (const char *[]){v->tightest ? "*" : "", v->kind, v->what, v->months == 0 ? "each use" : plain(&c, v->months, 3),
                                         due_by(a, d, v->due), sure(t, a->arena, v->source, v->mark)});
    }
    bk_grid_close(&g);
    bk_text_heading(t, "SERVICE (whichever comes first)");
    bk_grid_open(&g, t, "~>>>>>~");
    bk_grid_row(&g, (const char *[]){"what", "hours", "next at", "starts", "next at", "months", "source"});
    for (size_t k = 0; k < d->n_intervals; k++) {
        const bk_hoist_interval *v = &d->intervals[k];
        if (v->regime) continue;
        bk_grid_row(&g, (const char *[]){v->what, plain(&c, v->hours, 4), plain(&c, v->next_hours, 5), plain(&c, v->starts, 7),
                                         plain(&c, v->next_starts, 7), plain(&c, v->months, 3),
                                         sure(t, a->arena, v->source, v->mark)});
    }
    bk_grid_close(&g);
}

/* ---- the page ---------------------------------------------------------------------------------- */

/* Findings of this hoist, and of the runways that carry it. */
static bool of_hoist(const bk_plan *p, size_t i, const bk_finding *f)
{
    if (!strncmp(f->check, "hoist.", 6)) return !strcmp(f->item, p->hoists[i].name);
    for (size_t r = 0; r < p->n_runways; r++)
        for (size_t n = 0; n < p->runways[r].n_trolleys; n++) {
            const bk_trolley *trolley = &p->trolleys[p->runways[r].first_trolley + n];
            if (trolley->hoist != i) continue;
            if (!strncmp(f->check, "runway.", 7) && !strcmp(f->item, p->runways[r].name)) return true;
            if (!strncmp(f->check, "trolley.", 8) && !strcmp(f->item, trolley->name)) return true;
        }
    return false;
}

static bool measured(const bk_finding *f)
{
    return !strncmp(f->check, "inspect.", 8);
}

bool bk_duty_passes(const bk_assessment *a)
{
    for (size_t k = 0; k < a->findings->n; k++) {
        const bk_finding *f = &a->findings->at[k];
        bool told = measured(f);
        for (size_t i = 0; i < a->plan->n_hoists && !told; i++)
            told = of_hoist(a->plan, i, f);
        if (told && !f->passes) return false;
    }
    return true;
}

/* The checks of hoist i and of its runway; BK_NONE: of the gear that was measured. */
static void verdicts(bk_text *t, const bk_assessment *a, size_t i)
{
    bk_cells c = {.system = a->plan->units};
    bk_text_heading(t, i == BK_NONE ? "MEASURED GEAR" : "CHECKS of the hoist and of the runway it runs on");
    bk_grid g;
    bk_grid_open(&g, t, "<><<~~");
    bk_grid_row(&g, (const char *[]){"", "used", "check", "item", "what", "note"});
    for (size_t k = 0; k < a->findings->n; k++) {
        const bk_finding *f = &a->findings->at[k];
        if (!(i == BK_NONE ? measured(f) : of_hoist(a->plan, i, f))) continue;
        bk_grid_row(&g, (const char *[]){!f->checked ? "not checked" : f->passes ? "ok" : "FAIL",
                                         bk_cell_used(&c, f->utilisation), f->check, f->item, f->what, f->note ? f->note : ""});
    }
    bk_grid_close(&g);
}

char *bk_report_duty(const bk_assessment *a, bk_style style)
{
    const bk_plan *p = a->plan;
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_text_put(&t, "HOIST DUTY  %s\n  plan %s, sha256 %.16s\n  rule set %s: %s\n", p->title && *p->title ? p->title : "(no title)",
                p->file, p->digest, p->rules->name, p->rules->table->title);
    for (size_t i = 0; i < p->n_hoists; i++) {
        const bk_hoist *hoist = &p->hoists[i];
        bk_text_put(&t, "\nHOIST  %s%s%s%s\n", hoist->name, hoist->ref ? ", " : "", hoist->ref ? hoist->ref : "",
                    hoist->mark == BK_MARK_DEMO ? " (demo: invented figures)" : "");
        forces(&t, a, i);
        if (a->duties[i].asked) {
            work(&t, a, i);
            life(&t, a, i);
            due(&t, a, i);
        } else {
            bk_text_put(&t, "\n  no duty: is given for it\n");
        }
        verdicts(&t, a, i);
    }
    if (p->n_inspections > 0) verdicts(&t, a, BK_NONE);
    bk_text_heading(&t, "ASSUMED");
    for (size_t k = 0; k < a->findings->n_assumptions; k++) {
        const char *sentence = a->findings->assumptions[k];
        if (!strncmp(sentence, "Hoist ", 6)) bk_text_wrap(&t, 2, 4, sentence);
    }
    bk_text_heading(&t, "CAUTIONS");
    bk_text_wrap(&t, 2, 4, "These figures plan inspection and service; they replace neither. The hoist's own manual, local codes and "
                           "a qualified person decide.");
    bk_text_wrap(&t, 2, 4, "A limiter protects the hoist; it is no scale and no lifting control. Take no more than the rated capacity, "
                           "and stop when a load sticks.");
    return bk_text_take(&t);
}
