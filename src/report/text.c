/* text: the load check for a terminal and for an A4 page.  Order: what it is, the verdict, what hangs, how it
 * hangs, forces, checks by utilisation, what is not checked, what was assumed, tables, cautions, a place to sign.
 */
#include "advice_text.h"

#include <stdlib.h>
#include <string.h>

static void identity(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    bk_text_put(t, "LOAD CHECK  %s\n", p->title && *p->title ? p->title : "(no title)");
    bk_text_put(t, "  plan %s, sha256 %.16s\n", p->file, p->digest);
    const char *const said[] = {p->reference, p->site, p->author, p->date};
    size_t n_said = 0;
    for (size_t i = 0; i < sizeof said / sizeof *said; i++)
        if (said[i]) bk_text_put(t, "%s%s", n_said++ ? ", " : "  ", said[i]);
    if (n_said) bk_text_put(t, "\n");
    bk_text_put(t, "  rule set %s: %s\n", p->rules->name, p->rules->table->title);
    bk_text_put(t, "  weight = mass x 9.80665 m/s2\n");
    const char *on = "", *off = "";
    if (t->colour) {
        on = a->verdict == BK_VERDICT_PASS ? "\033[1;32m" : a->verdict == BK_VERDICT_FAIL ? "\033[1;31m" : "\033[1;33m";
        off = "\033[0m";
    }
    bk_text_put(t, "\n  VERDICT  %s%s: %s%s\n", on, bk_verdict_word(a->verdict), bk_verdict_sentence(a->verdict), off);
    if (a->governing != BK_NONE) {
        const bk_finding *f = &a->findings->at[a->governing];
        bk_cells c = {.system = p->units};
        bk_text_put(t, "  governs  %s %s%s%s, %s, %s of its limit\n", f->check, f->item, f->part ? ", " : "",
                    f->part ? f->part : "", f->what, bk_cell_used(&c, f->utilisation));
    }
}

/* A verdict is no surer than its limits: how many of them nobody has held against the standard. */
static void how_sure(bk_text *t, const bk_assessment *a)
{
    if (a->n_memory)
        bk_text_put(t, "  unsure   %zu of %zu limits are not confirmed against their standard (*)\n", a->n_memory, a->n_checked);
    if (a->n_demo) bk_text_put(t, "  demo     %zu of %zu limits are invented (d): not to be lifted by\n", a->n_demo, a->n_checked);
    const char *hoist = bk_invented_hoist(a->plan);
    if (hoist) bk_text_put(t, "  demo     the figures of hoist %s are invented: not to be lifted by\n", hoist);
}

/* ---- what hangs -------------------------------------------------------------------------------- */

static void mass_row(bk_grid *g, bk_cells *c, const char *what, double kg, double tol, const char *from)
{
    const char *mass = bk_cell(c, kg, BK_DIM_MASS, 4);
    const char *weight = bk_cell(c, kg * BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_FORCE, 4);
    const char *tolerance = tol > 0 ? bk_cell(c, tol, BK_DIM_MASS, 3) : "";
    bk_grid_row(g, (const char *[]){what, mass, *tolerance ? "+/-" : "", tolerance, weight, from});
}

static void what_hangs(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (!a->has_rig) return;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, "WHAT HANGS");
    bk_grid g;
    bk_grid_open(&g, t, "<><>>~");
    bk_grid_row(&g, (const char *[]){"", "mass", "", "", "weight", ""});
    double total = 0;
    for (size_t i = 0; i < p->n_bodies; i++) {
        const bk_body *b = &p->bodies[i];
        mass_row(&g, &c, b->name, b->mass_kg.v, b->mass_kg.tol,
                 b->mass_tol_assumed ? "tolerance of the rule set for its source" : bk_known_by_text(b->mass_by));
        total += b->mass_kg.v;
    }
    for (size_t i = 0; i < p->n_rings; i++) {
        if (!(p->rings[i].mass_kg > 0)) continue;
        mass_row(&g, &c, p->rings[i].name, p->rings[i].mass_kg, 0, "ring");
        total += p->rings[i].mass_kg;
    }
    for (size_t i = 0; i < p->n_lines; i++) {
        const bk_line *l = &p->lines[i];
        if (l->mass_kg > 0) mass_row(&g, &c, l->name, l->mass_kg, 0, l->hoist == BK_NONE ? "line" : "load chain of its hoist");
        if (l->from_mass_kg + l->to_mass_kg > 0)
            mass_row(&g, &c, l->hoist != BK_NONE ? p->hoists[l->hoist].name : l->name, l->from_mass_kg + l->to_mass_kg, 0,
                     "hoist and hook block");
        total += l->mass_kg + l->from_mass_kg + l->to_mass_kg;
    }
    mass_row(&g, &c, "total", total, 0, "");
    bk_grid_close(&g);
}

static void take_off(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (p->n_shapes == 0) return;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, "TAKE-OFF");
    bk_grid g;
    bk_grid_open(&g, t, "<<<>>>>>~");
    bk_grid_row(&g, (const char *[]){"body", "shape", "material", "density", "mass", "x", "y", "z", "source"});
    for (size_t b = 0; b < p->n_bodies; b++)
        for (size_t i = 0; i < p->bodies[b].n_shapes; i++) {
            const bk_shape *s = &p->shapes[p->bodies[b].first_shape + i];
            const char *source = bk_arena_printf(a->arena, "%s (%s)", s->source ? s->source : "stated", bk_mark_text(s->mark));
            bk_grid_row(&g, (const char *[]){p->bodies[b].name, s->what, s->material ? s->material : "",
                                             bk_cell(&c, s->density_kg_m3, BK_DIM_DENSITY, 4),
                                             bk_cell(&c, s->mass_kg.v, BK_DIM_MASS, 4),
                                             bk_cell(&c, s->cog_m.x, BK_DIM_LENGTH, 3),
                                             bk_cell(&c, s->cog_m.y, BK_DIM_LENGTH, 3),
                                             bk_cell(&c, s->cog_m.z, BK_DIM_LENGTH, 3), source});
        }
    bk_grid_close(&g);
}

/* ---- how it hangs ------------------------------------------------------------------------------ */

static void how_it_hangs(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (!a->has_rig) return;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, "HOW IT HANGS");
    bk_grid g;
    bk_grid_open(&g, t, "<>>>>>");
    bk_grid_row(&g, (const char *[]){"body", "tilt", "worst tilt", "cog x", "cog y", "cog z"});
    for (size_t i = 0; i < p->n_bodies; i++)
        bk_grid_row(&g, (const char *[]){p->bodies[i].name, bk_cell_unit(&c, a->hang->tilt_rad[i], "deg", 2),
                                         bk_cell_unit(&c, a->envelope->tilt_max[i].value, "deg", 2),
                                         bk_cell(&c, a->hang->cog_m[i].x, BK_DIM_LENGTH, 4),
                                         bk_cell(&c, a->hang->cog_m[i].y, BK_DIM_LENGTH, 4),
                                         bk_cell(&c, a->hang->cog_m[i].z, BK_DIM_LENGTH, 4)});
    bk_grid_close(&g);
    /* A single hook: everything hangs plumb below it, so its distance from the drawn cog is worth a line. */
    size_t hook;
    double off_m, above_m;
    if (bk_hangs_plumb(a, &hook, &off_m, &above_m))
        bk_text_put(t, "  %s stands %s from plumb over the centre of gravity as drawn, %s above it as it hangs\n",
                    p->anchors[hook].name, bk_cell(&c, off_m, BK_DIM_LENGTH, 3), bk_cell(&c, above_m, BK_DIM_LENGTH, 3));
    /* the figure itself is in the JSON: its last digits differ from machine to machine */
    bk_text_put(t, "  hangs stably%s; forces and moments balance to better than 1e-9 of the weight, proved from the poses\n",
                a->envelope->n_failed > 0 ? " as drawn, but not in every case looked at" : "");
}

/* ---- forces ------------------------------------------------------------------------------------ */

static void line_table(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (!a->has_rig || p->n_lines == 0) return;
    const bool si = p->units == BK_SI, worst = a->envelope->n_parameters > 0 || p->lose_a_line;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, !worst           ? "LINES"
                       : p->lose_a_line ? "LINES (as drawn, and the worst within the tolerances or with a line lost)"
                                        : "LINES (as drawn, and the worst within the tolerances)");
    bk_grid g;
    bk_grid_open(&g, t, worst ? "<>>>>>>" : "<>>>>>");
    bk_grid_row(&g, (const char *[]){"line", si ? "kN" : "kip", si ? "t" : "lbf", "length", "from vertical",
                                     "from horizontal", "worst"});
    for (size_t i = 0; i < p->n_lines; i++) {
        const double T = a->hang->tension_N[i], angle = a->hang->from_vertical_rad[i];
        const bk_extreme *x = &a->envelope->tension_max[i];
        bk_grid_row(&g, (const char *[]){
            p->lines[i].name, a->hang->slack[i] ? "slack" : bk_cell_unit(&c, T, si ? "kN" : "kip", 2),
            a->hang->slack[i] ? "" : bk_cell_unit(&c, T, si ? "tf" : "lbf", si ? 3 : 0),
            bk_cell(&c, a->hang->length_m[i], BK_DIM_LENGTH, 4), bk_cell_unit(&c, angle, "deg", 1),
            bk_cell_unit(&c, BK_PI / 2 - angle, "deg", 1), bk_cell(&c, x->value, BK_DIM_FORCE, 4)});
        if (worst && x->say) bk_grid_note(&g, 10, x->say);
    }
    bk_grid_close(&g);
    bk_text_put(t, "  angles in degrees, from the vertical and from the horizontal; %s\n",
                si ? "t: the mass that weighs as much" : "1 kip = 1000 lbf");
}

static void anchor_table(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (!a->has_rig || p->n_anchors == 0) return;
    const bool worst = a->envelope->n_parameters > 0 || p->lose_a_line;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, "ANCHORS (static force of the rig on the structure)");
    bk_grid g;
    bk_grid_open(&g, t, worst ? "<>>>>" : "<>>>");
    bk_grid_row(&g, (const char *[]){"anchor", "downward", "horizontal", "towards", "worst"});
    for (size_t i = 0; i < p->n_anchors; i++) {
        const bk_vec3 f = a->hang->anchor_N[i];
        const double flat = hypot(f.x, f.y);
        const bool straight = flat < 1e-6 * (1 + bk_vec3_norm(f));
        const char *bearing = "";
        if (!straight) {
            const char *degrees = bk_cell_unit(&c, atan2(f.y, f.x), "deg", 0);
            bearing = bk_arena_printf(a->arena, "%s deg from +x", degrees);
        }
        bk_grid_row(&g, (const char *[]){p->anchors[i].name, bk_cell(&c, -f.z, BK_DIM_FORCE, 4),
                                         bk_cell(&c, straight ? 0 : flat, BK_DIM_FORCE, 3), bearing,
                                         bk_cell(&c, a->envelope->anchor_max[i].value, BK_DIM_FORCE, 4)});
        if (worst && a->envelope->anchor_max[i].say) bk_grid_note(&g, 10, a->envelope->anchor_max[i].say);
    }
    bk_grid_close(&g);
}

static void hoist_table(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    if (p->n_hoists == 0) return;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, "HOISTS (forces on what the hoist hangs from)");
    bk_grid g;
    bk_grid_open(&g, t, "<>>>>>>~");
    bk_grid_row(&g, (const char *[]){"hoist", "on the hook", "rated", "factor", "static", "dynamic", "stalled", "factor by"});
    for (size_t i = 0; i < p->n_hoists; i++) {
        const bk_hoist_forces *f = &a->hoists[i];
        bk_grid_row(&g, (const char *[]){p->hoists[i].name, bk_cell(&c, f->hook_load_N, BK_DIM_FORCE, 4),
                                         bk_cell(&c, p->hoists[i].rated_N, BK_DIM_FORCE, 4),
                                         bk_cell(&c, f->dynamic_factor, BK_DIM_NONE, 4),
                                         bk_cell(&c, f->static_N, BK_DIM_FORCE, 4), bk_cell(&c, f->dynamic_N, BK_DIM_FORCE, 4),
                                         bk_cell(&c, f->stalled_N, BK_DIM_FORCE, 4), f->dynamic_by});
    }
    bk_grid_close(&g);
    for (size_t i = 0; i < p->n_hoists; i++) {
        const bk_hoist_forces *f = &a->hoists[i];
        if (isfinite(f->stalled_N))
            bk_text_put(t, "  %s: the %s case governs above the hook\n", p->hoists[i].name,
                        f->stalled_governs ? "stalled" : "dynamic");
        if (isfinite(f->slack_lift_main) && isfinite(f->slack_lift_creep))
            bk_text_put(t, "  %s: picking up with slack chain multiplies the load by %s at full speed, by %s at creep\n",
                        p->hoists[i].name, bk_cell(&c, f->slack_lift_main, BK_DIM_NONE, 3),
                        bk_cell(&c, f->slack_lift_creep, BK_DIM_NONE, 3));
        if (isfinite(f->sudden_stop_N))
            bk_text_put(t, "  %s: stopping a lowering load at full speed pulls %s (%s)\n", p->hoists[i].name,
                        bk_cell(&c, f->sudden_stop_N, BK_DIM_FORCE, 4), f->sudden_stop_by);
    }
}

static const char *trolley_state(const bk_assessment *a, bk_cells *c, const bk_runway *r, const bk_beam_extreme *x)
{
    const char *state = "";
    for (size_t i = 0; i < r->n_trolleys && x->train_m && state; i++)
        state = bk_arena_printf(a->arena, "%s%s%s at %s%s", state, i ? ", " : "",
                                a->plan->trolleys[r->first_trolley + i].name, bk_cell(c, x->train_m[i], BK_DIM_LENGTH, 4),
                                x->train_loaded && !x->train_loaded[i] ? " empty" : "");
    return state;
}

static void runway_table(bk_text *t, const bk_assessment *a)
{
    const bk_plan *p = a->plan;
    for (size_t r = 0; r < p->n_runways; r++) {
        const bk_runway *w = &p->runways[r];
        const bk_beam_worst *x = &a->runways[r].worst;
        bk_cells c = {.system = p->units};
        char heading[300];
        snprintf(heading, sizeof heading, "RUNWAY %.200s", w->name);
        bk_text_heading(t, heading);
        bk_text_put(t, "  section %s, dynamic factor %s (%s); self-weight %s\n",
                    w->section != BK_NONE && p->sections[w->section].ref ? p->sections[w->section].ref : "by its dimensions",
                    bk_cell(&c, a->runways[r].dynamic_factor, BK_DIM_NONE, 4),
                    a->runways[r].dynamic_by ? a->runways[r].dynamic_by : "", w->self_weight ? "in" : "left out");
        bk_grid g;
        bk_grid_open(&g, t, "<>>~");
        bk_grid_row(&g, (const char *[]){"worst", "", "at", "trolleys"});
        bk_grid_row(&g, (const char *[]){"moment, sagging", bk_cell(&c, x->moment_max.value, BK_DIM_MOMENT, 4),
                                         bk_cell(&c, x->moment_max.at_m, BK_DIM_LENGTH, 4),
                                         trolley_state(a, &c, w, &x->moment_max)});
        bk_grid_row(&g, (const char *[]){"moment, hogging", bk_cell(&c, x->moment_min.value, BK_DIM_MOMENT, 4),
                                         bk_cell(&c, x->moment_min.at_m, BK_DIM_LENGTH, 4),
                                         trolley_state(a, &c, w, &x->moment_min)});
        bk_grid_row(&g, (const char *[]){"shear", bk_cell(&c, fabs(x->shear.value), BK_DIM_FORCE, 4),
                                         bk_cell(&c, x->shear.at_m, BK_DIM_LENGTH, 4), trolley_state(a, &c, w, &x->shear)});
        bk_grid_row(&g, (const char *[]){"deflection", bk_cell(&c, fabs(x->deflection.value), BK_DIM_LENGTH, 3),
                                         bk_cell(&c, x->deflection.at_m, BK_DIM_LENGTH, 4),
                                         trolley_state(a, &c, w, &x->deflection)});
        for (size_t i = 0; i < w->n_supports; i++) {
            const bk_support *s = &p->supports[w->first_support + i];
            bk_grid_row(&g, (const char *[]){"reaction, most", bk_cell(&c, x->reaction_max[i].value, BK_DIM_FORCE, 4),
                                             bk_cell(&c, s->at_m, BK_DIM_LENGTH, 4),
                                             trolley_state(a, &c, w, &x->reaction_max[i])});
            bk_grid_row(&g, (const char *[]){x->reaction_min[i].value < 0 ? "reaction, UPLIFT" : "reaction, least",
                                             bk_cell(&c, x->reaction_min[i].value, BK_DIM_FORCE, 4),
                                             bk_cell(&c, s->at_m, BK_DIM_LENGTH, 4),
                                             trolley_state(a, &c, w, &x->reaction_min[i])});
        }
        bk_grid_close(&g);
        const char *stalled = bk_stalled_sentence(a, r);
        if (!stalled || *stalled) bk_text_wrap(t, 2, 4, stalled);
    }
}

/* ---- checks ------------------------------------------------------------------------------------ */

/* Signs of how sure a figure is, least sure first. */
static void legend(bk_text *t, const bk_findings *all)
{
    static const bk_mark marks[] = {BK_MARK_MEMORY, BK_MARK_PRACTICE, BK_MARK_DEMO, BK_MARK_COMPUTED};
    for (size_t m = 0; m < sizeof marks / sizeof *marks; m++)
        for (size_t i = 0; i < all->n; i++)
            if (all->at[i].mark == marks[m]) {
                bk_text_put(t, "  %s %s\n", bk_mark_sign(marks[m]), bk_mark_legend(marks[m]));
                break;
            }
}

/* "one; two", or the one there is; NULL for neither. */
static const char *both(bk_text *t, bk_arena *arena, const char *one, const char *two)
{
    if (!one || !two) return one ? one : two;
    const char *text = bk_arena_printf(arena, "%s; %s", one, two);
    if (!text) t->failed = true;
    return text;
}

static void check_table(bk_text *t, const bk_assessment *a, const bk_advice *advice)
{
    const bk_findings *all = a->findings;
    bk_cells c = {.system = a->plan->units};
    size_t n;
    const bk_finding **order = bk_findings_hardest_first(all, &n);
    if (!order) {
        t->failed = true;
        return;
    }
    bk_text_heading(t, "CHECKS, the hardest used first; > governs");
    bk_grid g;
    bk_grid_open(&g, t, "<<><~>>~");
    g.n_names = 4;
    bk_grid_row(&g, (const char *[]){"", "", "used", "item", "part, or what is checked", "demand", "limit", "source of the limit"});
    for (size_t i = 0; i < n; i++) {
        const bk_finding *f = order[i];
        const bool governs = (size_t)(f - all->at) == a->governing;
        const char *source = bk_arena_printf(a->arena, "%s%s%s", f->source, *bk_mark_sign(f->mark) ? " " : "", bk_mark_sign(f->mark));
        bk_grid_row(&g, (const char *[]){governs ? ">" : "", f->passes ? "ok" : "FAIL",
                                         bk_cell_used(&c, f->utilisation), f->item, bk_finding_subject(f, a->arena),
                                         bk_cell_figure(&c, f->demand, f->dim), bk_cell_figure(&c, f->limit, f->dim), source});
        /* the case of every other check is in the line table, the JSON, and `becket explain` */
        const bool tell = !f->passes || governs || f->utilisation > 0.9;
        const char *note = both(t, a->arena, tell ? f->where : NULL, f->note);
        note = both(t, a->arena, note, bk_advice_of_finding(a, advice, (size_t)(f - all->at)));
        if (note) bk_grid_note(&g, 10, note);
    }
    bk_grid_close(&g);
    free(order);
    legend(t, all);

    bool any = false;
    for (size_t i = 0; i < all->n; i++) {
        const bk_finding *f = &all->at[i];
        if (f->checked) continue;
        if (!any) bk_text_heading(t, "NOT CHECKED: no limit is known");
        any = true;
        const char *sees = bk_cell_figure(&c, f->demand, f->dim);
        const char *line = bk_arena_printf(a->arena, "%s %s%s%s, %s: sees %s%s%s", f->check, f->item, f->part ? ", " : "",
                                           f->part ? f->part : "", f->what, sees, f->note ? "; " : "", f->note ? f->note : "");
        bk_text_wrap(t, 2, 4, line);
    }
}

static void sentences(bk_text *t, const bk_assessment *a)
{
    if (a->plan->n_notes + a->findings->n_assumptions > 0) bk_text_heading(t, "ASSUMED");
    for (size_t i = 0; i < a->plan->n_notes; i++) bk_text_wrap(t, 2, 4, a->plan->notes[i]);
    for (size_t i = 0; i < a->findings->n_assumptions; i++) bk_text_wrap(t, 2, 4, a->findings->assumptions[i]);
    if (a->envelope && a->envelope->n_failed > 0) {
        bk_text_wrap(t, 2, 4,
                     bk_arena_printf(a->arena, "%zu of %zu cases within the tolerances do not hang stably; the first: %s",
                                     a->envelope->n_failed, a->envelope->n_solved,
                                     a->envelope->failed_say ? a->envelope->failed_say : ""));
    }
    size_t n;
    const bk_table *const *used = bk_tables_used(a->tables, &n);
    bk_text_heading(t, "TABLES USED");
    bk_grid g;
    bk_grid_open(&g, t, "<~<<");
    bk_grid_row(&g, (const char *[]){"table", "source", "mark", "sha256"});
    for (size_t i = 0; i < n; i++) {
        const char *source = bk_arena_printf(a->arena, "%s%s%s%s", used[i]->source, *used[i]->edition ? ", " : "",
                                             used[i]->edition, used[i]->shipped ? "" : " (user's table)");
        char digest[17];
        snprintf(digest, sizeof digest, "%.16s", used[i]->digest);
        bk_grid_row(&g, (const char *[]){used[i]->name, source, bk_mark_text(used[i]->mark), digest});
    }
    bk_grid_close(&g);
    bk_text_heading(t, "CAUTIONS");
    for (size_t i = 0; i < a->n_cautions; i++) bk_text_wrap(t, 2, 4, a->cautions[i]);
    bk_text_put(t, "\n  planned by ________________________  date ____________\n"
                   "\n  checked by ________________________  date ____________\n");
}

char *bk_report_text(const bk_assessment *a, const bk_advice *advice, bk_style style)
{
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    identity(&t, a);
    how_sure(&t, a);
    what_hangs(&t, a);
    take_off(&t, a);
    how_it_hangs(&t, a);
    line_table(&t, a);
    anchor_table(&t, a);
    bk_advice_effects(&t, a, advice);
    hoist_table(&t, a);
    runway_table(&t, a);
    check_table(&t, a, advice);
    bk_advice_largest(&t, a, advice);
    sentences(&t, a);
    return bk_text_take(&t);
}
