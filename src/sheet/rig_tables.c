/* rig_tables: what hangs, how it hangs, forces in lines and on anchors, the gear to be found. */
#include "sections.h"

#include <string.h>

const char *bk_sheet_case(bk_sheet *sheet, const char *say)
{
    if (!say || strcmp(say, "as drawn") == 0) return "";
    size_t i = 0;
    while (i < sheet->n_cases && strcmp(sheet->cases[i], say) != 0)
        i++;
    if (i == sheet->n_cases) {
        const char **slot = bk_arena_push(sheet->flow.paper->arena, &sheet->cases, &sheet->n_cases,
                                          &sheet->cases_capacity, sizeof *slot);
        if (!slot) {
            sheet->flow.paper->failed = true;
            return "";
        }
        *slot = say;
    }
    return bk_tell(&sheet->flow, "%zu", i + 1);
}

/* ---- what hangs -------------------------------------------------------------------------------- */

static void mass_row(bk_flow *flow, bk_rows *rows, const char *what, double kg, double tol, const char *from)
{
    bk_rows_add(
        rows, (const char *[]){what, bk_tell_bare(flow, kg, flow->mass),
                               tol > 0 ? bk_tell(flow, "\u00b1 %s", bk_tell_bare(flow, tol, flow->mass)) : "",
                               bk_tell_bare(flow, kg * BK_STANDARD_GRAVITY_M_PER_S2, flow->force), from});
}

static void mass(bk_sheet *sheet)
{
    const bk_plan *p = sheet->a->plan;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows =
        bk_rows_open(flow, "WHAT HANGS", "<>>><",
                     (const char *[]){"item", bk_tell(flow, "mass, %s", flow->mass.unit), "tolerance",
                                      bk_tell(flow, "weight, %s", flow->force.unit), "from"});
    double total = 0;
    for (size_t i = 0; i < p->n_bodies; i++) {
        const bk_body *b = &p->bodies[i];
        const char *from = b->mass_tol_assumed ? bk_tell(flow, "%s; tolerance of the rule set for that",
                                                         bk_known_by_text(b->mass_by))
                                               : bk_known_by_text(b->mass_by);
        mass_row(flow, rows, b->name, b->mass_kg.v, b->mass_kg.tol, from);
        total += b->mass_kg.v;
    }
    for (size_t i = 0; i < p->n_rings; i++) {
        if (!(p->rings[i].mass_kg > 0)) continue;
        mass_row(flow, rows, p->rings[i].name, p->rings[i].mass_kg, 0, "ring");
        total += p->rings[i].mass_kg;
    }
    for (size_t i = 0; i < p->n_lines; i++) {
        const bk_line *l = &p->lines[i];
        const double ends = l->from_mass_kg + l->to_mass_kg;
        if (l->mass_kg > 0)
            mass_row(flow, rows, l->name, l->mass_kg, 0,
                     l->hoist == BK_NONE ? "line" : "load chain of its hoist");
        if (ends > 0)
            mass_row(flow, rows, l->hoist != BK_NONE ? p->hoists[l->hoist].name : l->name, ends, 0,
                     "hoist and hook block");
        total += l->mass_kg + ends;
    }
    mass_row(flow, rows, "total", total, 0, "");
    bk_rows_strong(rows);
    bk_rows_close(rows);
}

static void take_off(bk_sheet *sheet)
{
    const bk_plan *p = sheet->a->plan;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows = bk_rows_open(
        flow, "TAKE-OFF", "<<<>>>>><",
        (const char *[]){"body", "shape", "material", "density", bk_tell(flow, "mass, %s", flow->mass.unit),
                         bk_tell(flow, "x, %s", flow->length.unit), "y", "z", "source"});
    for (size_t b = 0; b < p->n_bodies; b++)
        for (size_t i = 0; i < p->bodies[b].n_shapes; i++) {
            const bk_shape *s = &p->shapes[p->bodies[b].first_shape + i];
            bk_rows_add(
                rows, (const char *[]){
                          p->bodies[b].name, s->name ? bk_tell(flow, "%s, %s", s->name, s->what) : s->what,
                          s->material, bk_tell_quantity(flow, s->density_kg_m3, BK_DIM_DENSITY, 4),
                          bk_tell_bare(flow, s->mass_kg.v, flow->mass),
                          bk_tell_bare(flow, s->cog_m.x, flow->length),
                          bk_tell_bare(flow, s->cog_m.y, flow->length),
                          bk_tell_bare(flow, s->cog_m.z, flow->length),
                          bk_tell(flow, "%s (%s)", s->source ? s->source : "stated", bk_mark_text(s->mark))});
        }
    bk_rows_close(rows);
}

/* ---- how it hangs ------------------------------------------------------------------------------ */

static void attitude(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    const bk_plan *p = a->plan;
    bk_flow *flow = &sheet->flow;
    bk_rows *rows = bk_rows_open(
        flow, "HOW IT HANGS", "<>>>>>",
        (const char *[]){"body", "tilt", "worst tilt",
                         bk_tell(flow, "centre of gravity, %s: x", flow->length.unit), "y", "z"});
    for (size_t i = 0; i < p->n_bodies; i++)
        bk_rows_add(
            rows, (const char *[]){
                      p->bodies[i].name,
                      bk_tell(flow, "%s\u00b0", bk_tell_unit(flow, a->hang->tilt_rad[i], "deg", 2)),
                      bk_tell(flow, "%s\u00b0", bk_tell_unit(flow, a->envelope->tilt_max[i].value, "deg", 2)),
                      bk_tell_bare(flow, a->hang->cog_m[i].x, flow->length),
                      bk_tell_bare(flow, a->hang->cog_m[i].y, flow->length),
                      bk_tell_bare(flow, a->hang->cog_m[i].z, flow->length)});
    bk_rows_close(rows);
    size_t hook;
    double off_m, above_m;
    if (bk_hangs_plumb(a, &hook, &off_m, &above_m))
        bk_flow_text(flow,
                     bk_tell(flow, "%s stands %s from plumb over the centre of gravity as drawn, %s above it as it hangs.",
                             p->anchors[hook].name, bk_tell_quantity(flow, off_m, BK_DIM_LENGTH, 3),
                             bk_tell_quantity(flow, above_m, BK_DIM_LENGTH, 3)),
                     bk_face_text, 0);
    bk_flow_text(flow, "Hangs stably; forces and moments balance to better than 1e-9 of the weight, proved from the poses.",
                 bk_face_text, 0);
}

/* ---- lines, gear, anchors ---------------------------------------------------------------------- */

static void lines(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    const bk_plan *p = a->plan;
    bk_flow *flow = &sheet->flow;
    const bool worst = a->envelope->n_parameters > 0;
    const char *const heads[] = {"no.",
                                 "line",
                                 "from",
                                 "to",
                                 bk_tell(flow, "pull, %s", flow->force.unit),
                                 bk_tell(flow, "as a mass, %s", flow->mass.unit),
                                 bk_tell(flow, "length, %s", flow->length.unit),
                                 "from vertical",
                                 "from horizontal",
                                 bk_tell(flow, "worst, %s", flow->force.unit),
                                 "case"};
    bk_rows *rows =
        bk_rows_open(flow, worst ? "LINES, as drawn and at the worst within the tolerances" : "LINES",
                     worst ? "><<<>>>>>>>" : "><<<>>>>>", heads);
    for (size_t i = 0; i < p->n_lines; i++) {
        const bk_line *l = &p->lines[i];
        const double T = a->hang->tension_N[i], angle = a->hang->from_vertical_rad[i];
        const bool slack = a->hang->slack[i];
        const char *from = bk_told(flow, bk_plan_end_name(p, l->from));
        const char *to = bk_told(flow, bk_plan_end_name(p, l->to));
        const bk_extreme *x = &a->envelope->tension_max[i];
        bk_rows_add(rows, (const char *[]){
                              bk_tell(flow, "%zu", i + 1), l->name, from, to,
                              slack ? "slack" : bk_tell_bare(flow, T, flow->force),
                              slack ? "" : bk_tell_bare(flow, T / BK_STANDARD_GRAVITY_M_PER_S2, flow->mass),
                              bk_tell_bare(flow, a->hang->length_m[i], flow->length),
                              bk_tell(flow, "%s\u00b0", bk_tell_unit(flow, angle, "deg", 1)),
                              bk_tell(flow, "%s\u00b0", bk_tell_unit(flow, BK_PI / 2 - angle, "deg", 1)),
                              bk_tell_bare(flow, x->value, flow->force),
                              worst ? bk_sheet_case(sheet, x->say) : ""});
    }
    bk_rows_close(rows);
}

/* What is to be fetched: each row of a table once, with the places it goes to; tag and examination are for
 * the hand. */
typedef struct gear_group {
    const bk_part *part;
    size_t n;
    const char *where;
} gear_group;
typedef struct gear_list {
    bk_sheet *sheet;
    gear_group *at;
    size_t n, capacity;
} gear_list;

static bool same_gear(const bk_part *a, const bk_part *b)
{
    if (a->ref || b->ref) return a->ref && b->ref && strcmp(a->ref, b->ref) == 0;
    return strcmp(a->what, b->what) == 0 && (a->wll_N == b->wll_N || (isnan(a->wll_N) && isnan(b->wll_N)));
}

static void add_gear(gear_list *list, const char *owner, size_t first, size_t n)
{
    bk_flow *flow = &list->sheet->flow;
    for (size_t i = first; i < first + n; i++) {
        const bk_part *part = &list->sheet->a->plan->parts[i];
        size_t g = 0;
        while (g < list->n && !same_gear(list->at[g].part, part))
            g++;
        if (g == list->n) {
            gear_group *group =
                bk_arena_push(flow->paper->arena, &list->at, &list->n, &list->capacity, sizeof *group);
            if (!group) {
                flow->paper->failed = true;
                return;
            }
            *group = (gear_group){.part = part, .where = owner};
        } else {
            list->at[g].where = bk_tell(flow, "%s, %s", list->at[g].where, owner);
        }
        list->at[g].n++;
    }
}

static void gear(bk_sheet *sheet)
{
    const bk_plan *p = sheet->a->plan;
    bk_flow *flow = &sheet->flow;
    gear_list list = {.sheet = sheet};
    for (size_t i = 0; i < p->n_anchors; i++)
        add_gear(&list, p->anchors[i].name, p->anchors[i].first_part, p->anchors[i].n_parts);
    for (size_t i = 0; i < p->n_rings; i++)
        add_gear(&list, p->rings[i].name, p->rings[i].first_part, p->rings[i].n_parts);
    for (size_t i = 0; i < p->n_lines; i++)
        add_gear(&list, p->lines[i].name, p->lines[i].first_part, p->lines[i].n_parts);
    for (size_t i = 0; i < p->n_points; i++) {
        if (p->points[i].n_parts == 0) continue;
        add_gear(&list, bk_tell(flow, "%s.%s", p->bodies[p->points[i].body].name, p->points[i].name),
                 p->points[i].first_part, p->points[i].n_parts);
    }
    bk_rows *rows =
        bk_rows_open(flow, "GEAR: tag and last examination to be filled in", "><<><__",
                     (const char *[]){"pieces", "part", "what", bk_tell(flow, "limit, %s", flow->force.unit),
                                      "where", "tag", "examined"});
    for (size_t g = 0; g < list.n; g++) {
        const bk_part *part = list.at[g].part;
        bk_rows_add(rows,
                    (const char *[]){bk_tell(flow, "%zu", list.at[g].n),
                                     part->ref ? part->ref : "stated in the plan", part->what,
                                     bk_tell_bare(flow, part->wll_N, flow->force), list.at[g].where, "", ""});
    }
    bk_rows_close(rows);
}

static void anchors(bk_sheet *sheet)
{
    const bk_assessment *a = sheet->a;
    const bk_plan *p = a->plan;
    bk_flow *flow = &sheet->flow;
    const bool worst = a->envelope->n_parameters > 0;
    bk_rows *rows =
        bk_rows_open(flow, "ANCHORS: static force of the rig on the structure", worst ? "<>><>>" : "<>><",
                     (const char *[]){"anchor", bk_tell(flow, "downward, %s", flow->force.unit), "horizontal",
                                      "towards", "worst", "case"});
    for (size_t i = 0; i < p->n_anchors; i++) {
        const bk_vec3 f = a->hang->anchor_N[i];
        const double flat = hypot(f.x, f.y);
        const bool straight = flat < 1e-6 * (1 + bk_vec3_norm(f));
        bk_rows_add(rows,
                    (const char *[]){p->anchors[i].name, bk_tell_bare(flow, -f.z, flow->force),
                                     bk_tell_bare(flow, straight ? 0 : flat, flow->force),
                                     straight ? ""
                                              : bk_tell(flow, "%s\u00b0 from +x",
                                                        bk_tell_unit(flow, atan2(f.y, f.x), "deg", 0)),
                                     bk_tell_bare(flow, a->envelope->anchor_max[i].value, flow->force),
                                     worst ? bk_sheet_case(sheet, a->envelope->anchor_max[i].say) : ""});
    }
    bk_rows_close(rows);
}

void bk_sheet_rig_tables(bk_sheet *sheet)
{
    if (sheet->a->has_rig && sheet->a->hang) {
        mass(sheet);
        take_off(sheet);
        attitude(sheet);
        lines(sheet);
        gear(sheet);
        anchors(sheet);
    }
}
