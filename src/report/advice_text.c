/* advice_text: what would pass, how to level it, how several hooks share: text for people. */
#include "advice_text.h"

#include <stdlib.h>
#include <string.h>

#define HOOKS_AT_ONCE (BK_TABLE_COLUMNS_MAX - 2) /* beside how far one is ahead, and the tilt */

const char *bk_advice_of_finding(const bk_assessment *a, const bk_advice *advice, size_t finding)
{
    if (!advice) return NULL;
    for (size_t i = 0; i < advice->n_would_pass; i++) {
        const bk_would_pass *w = &advice->would_pass[i];
        if (w->finding != finding) continue;
        if (!w->ref) return "no row of that table is enough";
        bk_cells c = {.system = a->plan->units};
        return bk_arena_printf(a->arena, "%s in place of every %s would pass: %s used, solved again", w->ref,
                               a->findings->at[finding].part, bk_cell_used(&c, w->utilisation));
    }
    return NULL;
}

/* A mass in words that never says more than it is. */
static const char *at_most(bk_cells *c, double mass_kg)
{
    bk_value told;
    char why[200];
    double shown = mass_kg;
    const char *text = bk_cell(c, shown, BK_DIM_MASS, 4);
    while (bk_quantity_read(text, BK_DIM_MASS, &told, why, sizeof why) == BK_OK && told.v > mass_kg * (1 + 1e-6)) {
        shown -= 1e-4 * mass_kg;
        text = bk_cell(c, shown, BK_DIM_MASS, 4);
    }
    return text;
}

void bk_advice_largest(bk_text *t, const bk_assessment *a, const bk_advice *advice)
{
    if (!advice || !advice->has_largest) return;
    bk_cells c = {.system = a->plan->units};
    const bk_largest_load *l = &advice->largest;
    bk_text_heading(t, "LARGEST LOAD, with the rig as it stands");
    const char *before = l->anyway_check ? bk_arena_printf(a->arena, "none: %s %s fails, whatever the load weighs. That mended: ",
                                                           l->anyway_check, l->anyway_item)
                                         : "";
    const char *text = NULL;
    if (!a->has_rig)
        text = "none is sought: nothing hangs in this plan; what a hoist or a runway carries is stated in it";
    else if (before && isnan(l->factor))
        text = l->check ? bk_arena_printf(a->arena, "%snone, %s %s fails at any load", before, l->check, l->item)
                        : bk_arena_printf(a->arena, "%snothing in the plan limits it", before);
    else if (before)
        text = bk_arena_printf(a->arena, "%s%s (%s of the load planned), with its centre of gravity where it is; then %s %s stops it",
                               before, at_most(&c, l->mass_kg), bk_cell_percent(&c, l->factor),
                               l->check ? l->check : "", l->item ? l->item : "");
    bk_text_wrap(t, 2, 4, text);
}

/* "+11 % on sw": against the line's own pull as drawn. */
static const char *on_line(const bk_assessment *a, bk_cells *c, size_t line, double change_N)
{
    if (line == BK_NONE || fabs(change_N) < 1e-4 * a->hang->total_weight_N) return "";
    const double own = a->hang->tension_N[line];
    const char *sign = change_N > 0 ? "+" : "-";
    const char *text = own > 1e-3 * a->hang->total_weight_N
                           ? bk_arena_printf(a->arena, "%s%s on %s", sign, bk_cell_percent(c, fabs(change_N) / own),
                                             a->plan->lines[line].name)
                           : bk_arena_printf(a->arena, "%s%s on %s", sign, bk_cell(c, fabs(change_N), BK_DIM_FORCE, 3),
                                             a->plan->lines[line].name);
    return text ? text : "";
}

void bk_advice_effects(bk_text *t, const bk_assessment *a, const bk_advice *advice)
{
    if (!advice || advice->n_effects == 0) return;
    bk_cells c = {.system = a->plan->units};
    const size_t shown = advice->all_effects || advice->n_effects < 4 ? advice->n_effects : 4;
    bk_text_heading(t, advice->all_effects ? "CASES: each tolerance alone, what matters most first"
                                           : "WHAT MATTERS MOST: each tolerance alone");
    bk_grid g;
    bk_grid_open(&g, t, "~<<");
    bk_grid_row(&g, (const char *[]){"case", "gains most", "loses most"});
    for (size_t i = 0; i < shown; i++) {
        const bk_effect *e = &advice->effects[i];
        bk_grid_row(&g, (const char *[]){e->say, e->hangs ? on_line(a, &c, e->gains, e->gain_N) : "DOES NOT HANG STABLY",
                                         e->hangs ? on_line(a, &c, e->loses, e->loss_N) : ""});
    }
    bk_grid_close(&g);
    if (!advice->all_effects) return;
    const bk_envelope *e = a->envelope;
    bk_text_put(t, "\n");
    bk_grid_open(&g, t, "<>~");
    bk_grid_row(&g, (const char *[]){"worst of", "pull", "all of the tolerances together"});
    for (size_t i = 0; i < a->plan->n_lines; i++) {
        const char *most = bk_arena_printf(a->arena, "%s, most", a->plan->lines[i].name);
        const char *least = bk_arena_printf(a->arena, "%s, least", a->plan->lines[i].name);
        bk_grid_row(&g, (const char *[]){most, bk_cell(&c, e->tension_max[i].value, BK_DIM_FORCE, 4), e->tension_max[i].say});
        bk_grid_row(&g, (const char *[]){least, bk_cell(&c, e->tension_min[i].value, BK_DIM_FORCE, 4), e->tension_min[i].say});
    }
    for (size_t i = 0; i < a->plan->n_anchors; i++)
        bk_grid_row(&g, (const char *[]){a->plan->anchors[i].name, bk_cell(&c, e->anchor_max[i].value, BK_DIM_FORCE, 4),
                                         e->anchor_max[i].say});
    bk_grid_close(&g);
    bk_text_put(t, "  %zu cases solved, %zu of them do not hang stably\n", e->n_solved, e->n_failed);
}

/* ---- becket level ------------------------------------------------------------------------------ */

static void level(bk_text *t, const bk_assessment *a, const bk_level *l, const char *heading, bool hooks)
{
    const bk_plan *p = a->plan;
    bk_cells c = {.system = p->units};
    bk_text_heading(t, heading);
    if (!l->possible) {
        bk_text_put(t, "  not so: %s\n", l->why_not ? l->why_not : "");
        return;
    }
    bk_text_put(t, "  %s hangs %s degrees off level now, %s then\n", p->bodies[l->body].name,
                bk_cell_unit(&c, l->tilt_before_rad, "deg", 2), bk_cell_unit(&c, l->tilt_after_rad, "deg", 2));
    bk_grid g;
    if (hooks) {
        bk_grid_open(&g, t, "<>");
        bk_grid_row(&g, (const char *[]){"hook", "raise by"});
        for (size_t i = 0; i < p->n_anchors; i++)
            bk_grid_row(&g, (const char *[]){p->anchors[i].name, bk_cell(&c, l->hook_step_m[i], BK_DIM_LENGTH, 3)});
        bk_grid_close(&g);
    }
    bk_grid_open(&g, t, hooks ? "<>>" : "<>>>>");
    bk_grid_row(&g, hooks ? (const char *[]){"line", "pull now", "then", NULL, NULL}
                          : (const char *[]){"line", "pull now", "then", "longer by", "length"});
    for (size_t i = 0; i < p->n_lines; i++)
        bk_grid_row(&g, (const char *[]){p->lines[i].name, bk_cell(&c, l->tension_before_N[i], BK_DIM_FORCE, 4),
                                         bk_cell(&c, l->tension_after_N[i], BK_DIM_FORCE, 4),
                                         l->length_step_m[i] == 0 ? "" : bk_cell(&c, l->length_step_m[i], BK_DIM_LENGTH, 3),
                                         bk_cell(&c, p->lines[i].length_m.v + l->length_step_m[i], BK_DIM_LENGTH, 4)});
    bk_grid_close(&g);
}

static void margin(bk_text *t, const bk_assessment *a, const bk_margin *m)
{
    const bk_plan *p = a->plan;
    bk_cells c = {.system = p->units};
    char heading[300];
    snprintf(heading, sizeof heading, "MARGIN of %.200s: its centre of gravity may shift this far, as it is rigged now",
             p->bodies[m->body].name);
    bk_text_heading(t, heading);
    bk_grid g;
    bk_grid_open(&g, t, ">>><");
    bk_grid_row(&g, (const char *[]){"towards", "before a line goes slack", "before it does not stay", "slack line"});
    for (size_t i = 0; i < m->n; i++) {
        const char *bearing = bk_arena_printf(a->arena, "%s deg from +x", bk_cell_unit(&c, m->towards_rad[i], "deg", 0));
        bk_grid_row(&g, (const char *[]){bearing, isinf(m->to_slack_m[i]) ? "-" : bk_cell(&c, m->to_slack_m[i], BK_DIM_LENGTH, 3),
                                         isinf(m->to_topple_m[i]) ? "-" : bk_cell(&c, m->to_topple_m[i], BK_DIM_LENGTH, 3),
                                         m->slack_line[i] == BK_NONE ? "" : p->lines[m->slack_line[i]].name});
    }
    bk_grid_close(&g);
    bk_text_put(t, "  -: not within twice its size\n");
}

char *bk_report_level(const bk_assessment *a, const bk_level *lengths, const bk_level *hooks, const bk_margin *m, bool even,
                      bk_style style)
{
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_text_put(&t, "LEVEL  %s\n", a->plan->title && *a->plan->title ? a->plan->title : "(no title)");
    if (lengths) level(&t, a, lengths, even ? "BY LENGTHS, shared evenly" : "BY LENGTHS", false);
    if (hooks) level(&t, a, hooks, "BY HEIGHT OF THE HOOKS", true);
    if (m) margin(&t, a, m);
    bk_text_put(&t, "\n");
    bk_text_wrap(&t, 2, 2, "Change the plan to these figures and run `becket check` before anything is lifted; a qualified "
                           "person decides.");
    return bk_text_take(&t);
}

/* ---- becket hooks ------------------------------------------------------------------------------ */

/* Some of the hooks, from one on, step by step. */
static void running_ahead(bk_text *t, const bk_assessment *a, const bk_lift_share *s, size_t from)
{
    const bk_plan *p = a->plan;
    bk_cells c = {.system = p->units};
    const double weight = a->hang->total_weight_N;
    const size_t shown = p->n_anchors - from < HOOKS_AT_ONCE ? p->n_anchors - from : HOOKS_AT_ONCE;
    char align[BK_TABLE_COLUMNS_MAX + 1] = "";
    const char *row[BK_TABLE_COLUMNS_MAX] = {"ahead by", "tilt"};
    memset(align, '>', 2 + shown);
    for (size_t i = 0; i < shown; i++) row[2 + i] = p->anchors[from + i].name;
    bk_grid g;
    bk_grid_open(&g, t, align);
    g.n_names = 2;
    bk_grid_row(&g, row);
    for (size_t i = 0; i < s->n_good; i++) {
        /* in the arena: the cells' ring is too small for a row of many hooks */
        row[0] = bk_arena_printf(a->arena, "%s", bk_cell(&c, s->ahead_m[i], BK_DIM_LENGTH, 3));
        row[1] = bk_arena_printf(a->arena, "%s", bk_cell_unit(&c, s->tilt_rad[i], "deg", 1));
        for (size_t n = 0; n < shown; n++) {
            const double f = s->force_N[i * s->n_anchors + from + n];
            row[2 + n] = bk_arena_printf(a->arena, "%s  %s", bk_cell(&c, f, BK_DIM_FORCE, 4), bk_cell_percent(&c, f / weight));
        }
        bk_grid_row(&g, row);
    }
    bk_grid_close(&g);
}

char *bk_report_hooks(const bk_assessment *a, const bk_lift_share *shares, const bk_turning *turning, bk_style style)
{
    const bk_plan *p = a->plan;
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_cells c = {.system = p->units};
    bk_text_put(&t, "SEVERAL HOOKS  %s\n", p->title && *p->title ? p->title : "(no title)");
    for (size_t k = 0; k < p->n_anchors; k++) {
        const bk_lift_share *s = &shares[k];
        char heading[300];
        snprintf(heading, sizeof heading, "%.200s RUNS AHEAD: pull on each hook, and share of the weight", p->anchors[k].name);
        bk_text_heading(&t, heading);
        for (size_t from = 0; from < p->n_anchors; from += HOOKS_AT_ONCE) running_ahead(&t, a, s, from);
        if (s->n_good < s->n_steps)
            bk_text_put(&t, "  from %s on it does not hang stably\n", bk_cell(&c, s->ahead_m[s->n_good], BK_DIM_LENGTH, 3));
    }
    if (turning && turning->n > 0) {
        bk_text_heading(&t, "TURNING OVER between two hooks with upright lines, from lying to standing");
        bk_grid g;
        bk_grid_open(&g, &t, ">>><");
        bk_grid_row(&g, (const char *[]){"angle", turning->pick[0], turning->pick[1], ""});
        for (size_t i = 0; i < turning->n; i++) {
            char bar[41] = "";
            const double b = turning->share_b[i];
            if (b >= 0 && b <= 1) {
                const int n = (int)lround(40 * b);
                memset(bar, '#', (size_t)n);
                bar[n] = '\0';
            }
            bk_grid_row(&g, (const char *[]){bk_cell_unit(&c, turning->angle_rad[i], "deg", 0),
                                             bk_cell_percent(&c, turning->share_a[i]), bk_cell_percent(&c, b), bar});
        }
        bk_grid_close(&g);
        bk_text_put(&t, "  # share of %s, which goes up; a share past 100 %% or below 0 means the load swings over\n",
                    turning->pick[1]);
    }
    bk_text_put(&t, "\n");
    bk_text_wrap(&t, 2, 2, "Like hoists, one person directing, level watched all the way; with three hooks and more, measure the "
                           "load on each. A qualified person decides.");
    return bk_text_take(&t);
}
