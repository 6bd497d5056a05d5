/* runway_view: each runway with its trolleys at their worst, moment and shear of that state, and what the
 * supports see.
 *
 * Bold curves are the standing states in which the beam sags and hogs most (moment) or shears most; the thin
 * ones are the worst states of every span, so that the outline of all of them is near the envelope.  Moment
 * is drawn on the side in tension: sagging below the line.  Values come from the beam solver at the sections
 * drawn; extremes are the exact ones.
 */
#include "labels.h"
#include "sections.h"

#include <stdlib.h>

#define SECTIONS       240  /* along the beam, besides supports, wheels and forces */
#define SIDE           30.0 /* left and right of the beam */
#define ELEVATION      114.0
#define DIAGRAM        98.0
#define STATES_MOST    26 /* thin curves */
#define SUPPORTS_NAMED 9  /* with values; beyond, numbers as in the table */

typedef struct beam_view {
    bk_sheet *sheet;
    const bk_runway *runway;
    const bk_runway_result *result;
    const bk_beam *beam;
    double x0, scale; /* points: left end of the beam; per metre */
    double *section;  /* rising, with both sides of every jump (n) */
    size_t n;
} beam_view;

static double across(const beam_view *v, double at_m)
{
    return v->x0 + (at_m - v->beam->from_m) * v->scale;
}

/* ---- sections ---------------------------------------------------------------------------------- */

static int by_value(const void *x, const void *y)
{
    const double a = *(const double *)x, b = *(const double *)y;
    return a < b ? -1 : a > b;
}

/* Places at which moment and shear are asked for in one state. */
static bool find_sections(beam_view *v, const bk_beam_extreme *state)
{
    const bk_beam *beam = v->beam;
    size_t n =
        SECTIONS + 1 + 2 * (beam->n_supports + 2 * beam->n_loads + BK_WHEEL_LINES_MAX * beam->n_trains);
    v->section = BK_NEW(v->sheet->flow.paper->arena, double, n);
    if (!v->section) {
        v->sheet->flow.paper->failed = true;
        return false;
    }
    const double length = beam->to_m - beam->from_m, beside = 1e-9 * length;
    n = 0;
    for (int i = 0; i <= SECTIONS; i++)
        v->section[n++] = beam->from_m + length * i / SECTIONS;
    size_t jumps = n;
    for (size_t i = 0; i < beam->n_supports; i++)
        v->section[n++] = beam->supports[i].at_m;
    for (size_t i = 0; i < beam->n_loads; i++)
        v->section[n++] = beam->loads[i].from_m, v->section[n++] = beam->loads[i].to_m;
    for (size_t i = 0; i < beam->n_trains && state->train_m; i++)
        for (size_t k = 0; k < beam->trains[i].n_lines; k++)
            v->section[n++] = state->train_m[i] + beam->trains[i].offset_m[k];
    for (const size_t end = n; jumps < end; jumps++)
        v->section[n++] = v->section[jumps] - beside;
    size_t kept = 0;
    for (size_t i = 0; i < n; i++)
        if (v->section[i] >= beam->from_m && v->section[i] <= beam->to_m) v->section[kept++] = v->section[i];
    qsort(v->section, kept, sizeof *v->section, by_value);
    v->n = kept;
    return true;
}

/* Moment or shear along the beam in one state; NULL when it cannot be had. */
static double *along(beam_view *v, const bk_beam_extreme *state, bool moment)
{
    if (!isfinite(state->value) || !find_sections(v, state)) return NULL;
    double *value = BK_NEW(v->sheet->flow.paper->arena, double, v->n);
    if (!value) {
        v->sheet->flow.paper->failed = true;
        return NULL;
    }
    const bk_status status = bk_beam_state(v->beam, state->train_m, state->train_loaded, NULL, v->n,
                                           v->section, moment ? value : NULL, moment ? NULL : value, NULL);
    return status == BK_OK ? value : NULL;
}

/* ---- elevation --------------------------------------------------------------------------------- */

static void arrow(bk_flow *flow, bk_spot tail, bk_spot tip)
{
    const double way = tip.y > tail.y ? 1 : -1;
    bk_ink_line(flow->paper, flow->page, tail, (bk_spot){tip.x, tip.y - 3 * way}, (bk_pen){.width = 0.8});
    bk_ink_path(flow->paper, flow->page,
                (bk_spot[]){tip, {tip.x - 2.2, tip.y - 6 * way}, {tip.x + 2.2, tip.y - 6 * way}}, 3, true,
                (bk_pen){0}, 0);
}

static void label_at(bk_field *field, bk_spot target, const char *first, const char *second)
{
    bk_label label = {0};
    label.lines[label.n_lines++] =
        bk_set_text(field->paper, first, (bk_face){.size = 7, .bold = true}, 130, 1);
    if (second) label.lines[label.n_lines++] = bk_set_text(field->paper, second, bk_face_small, 130, 1);
    bk_field_label(field, &label, &target, 1);
}

static void dimension(bk_flow *flow, double x0, double x1, double y, const char *text)
{
    for (int end = 0; end < 2; end++) {
        const double x = end ? x1 : x0;
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, y - 3}, (bk_spot){x, y + 3}, bk_pen_thin);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x - 2, y + 2}, (bk_spot){x + 2, y - 2}, bk_pen_thin);
    }
    bk_ink_line(flow->paper, flow->page, (bk_spot){x0, y}, (bk_spot){x1, y}, bk_pen_hair);
    const bk_set set = bk_set_text(flow->paper, text, (bk_face){.size = 6.5}, 0, 0);
    if (set.width + 4 < x1 - x0)
        bk_ink_set_middle(flow->paper, flow->page, (x0 + x1) / 2, y - set.leading - 0.5, &set);
}

static void elevation(beam_view *v, const bk_beam_extreme *state)
{
    bk_flow *flow = &v->sheet->flow;
    const bk_beam *beam = v->beam;
    const bk_plan *plan = v->sheet->a->plan;
    const double top = flow->y + 44, bottom = top + 8;
    bk_field field;
    bk_field_open(&field, flow->paper, flow->page,
                  (bk_box){flow->body.x0, flow->y, flow->body.x1, flow->y + ELEVATION - 20});

    /* the beam: top and bottom edge, flanges */
    const double left = across(v, beam->from_m), right = across(v, beam->to_m);
    bk_ink_box(flow->paper, flow->page, (bk_box){left, top, right, bottom}, bk_pen_thin, 1);
    bk_ink_line(flow->paper, flow->page, (bk_spot){left, top + 1.6}, (bk_spot){right, top + 1.6},
                bk_pen_hair);
    bk_ink_line(flow->paper, flow->page, (bk_spot){left, bottom - 1.6}, (bk_spot){right, bottom - 1.6},
                bk_pen_hair);
    bk_field_take(&field, (bk_box){left, top, right, bottom});

    for (size_t i = 0; i < beam->n_supports;
         i++) { /* held from the building: a point on the top flange, strokes behind */
        const double x = across(v, beam->supports[i].at_m);
        bk_ink_path(flow->paper, flow->page, (bk_spot[]){{x, top}, {x - 4, top - 7}, {x + 4, top - 7}}, 3,
                    true, bk_pen_thin, 1);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x - 7, top - 7}, (bk_spot){x + 7, top - 7},
                    bk_pen_bold);
        bk_ink_hatch(flow->paper, flow->page, (bk_box){x - 7, top - 11, x + 7, top - 7}, 1.9,
                     (bk_pen){.width = 0.4});
        if (beam->supports[i].fixed)
            bk_ink_box(flow->paper, flow->page, (bk_box){x - 2, top - 7, x + 2, top}, bk_pen_thin, 0);
        bk_field_take(&field, (bk_box){x - 7, top - 11, x + 7, top});
    }
    for (size_t i = 0; i < beam->n_loads; i++) {
        const bk_beam_load *load = &beam->loads[i];
        const double x = across(v, load->from_m), end = across(v, load->to_m);
        if (load->force_N != 0 && isfinite(load->force_N))
            arrow(flow, (bk_spot){x, top - 20}, (bk_spot){x, top});
        if (end - x > 1) /* spread: a strip above the beam */
            bk_ink_box(flow->paper, flow->page, (bk_box){x, top - 3, end, top}, bk_pen_hair, 0.8);
    }
    for (size_t i = 0; i < beam->n_trains && state->train_m; i++) {
        const bk_beam_train *train = &beam->trains[i];
        const double x = across(v, state->train_m[i]);
        double reach = 4;
        for (size_t k = 0; k < train->n_lines; k++) {
            const double wheel = across(v, state->train_m[i] + train->offset_m[k]);
            bk_ink_disc(flow->paper, flow->page, (bk_spot){wheel, bottom + 2.3}, 2.1, bk_pen_thin, 1);
            reach = fmax(reach, fabs(wheel - x) + 2);
        }
        bk_ink_box(flow->paper, flow->page, (bk_box){x - reach, bottom + 4.4, x + reach, bottom + 7},
                   bk_pen_thin, 0.93);
        arrow(flow, (bk_spot){x, bottom + 7}, (bk_spot){x, bottom + 25});
        bk_field_take(&field, (bk_box){x - reach, bottom, x + reach, bottom + 7});
        bk_field_take(&field, (bk_box){x - 2.4, bottom + 7, x + 2.4, bottom + 25});
        /* the bounds of its travel */
        for (int end = 0; end < 2; end++) {
            const double stop = across(v, end ? train->to_m : train->from_m);
            bk_ink_line(flow->paper, flow->page, (bk_spot){stop, bottom}, (bk_spot){stop, bottom + 5},
                        (bk_pen){.width = 0.6, .dash = {1, 1}});
        }
    }
    const bk_beam_worst *worst = &v->result->worst;
    for (size_t i = 0; i < beam->n_supports; i++) {
        const bk_spot at = {across(v, beam->supports[i].at_m), top - 11};
        const char *number = bk_tell(flow, "S%zu", i + 1);
        if (beam->n_supports <= SUPPORTS_NAMED)
            label_at(&field, at,
                     bk_tell(flow, "%s most %s", number,
                             bk_tell_in(flow, worst->reaction_max[i].value, flow->force)),
                     bk_tell(flow, "%s %s", worst->reaction_min[i].value < 0 ? "UPLIFT" : "least",
                             bk_tell_in(flow, fabs(worst->reaction_min[i].value), flow->force)));
        else
            label_at(&field, at, number, NULL);
    }
    for (size_t i = 0; i < beam->n_trains && state->train_m; i++) {
        const bool full = state->train_loaded && state->train_loaded[i];
        const double force = full ? beam->trains[i].loaded_N : beam->trains[i].empty_N;
        label_at(&field, (bk_spot){across(v, state->train_m[i]) + 2.6, bottom + 18},
                 bk_tell(flow, "%s %s", plan->trolleys[v->runway->first_trolley + i].name,
                         bk_tell_in(flow, force, flow->force)),
                 bk_tell(flow, "%s at %s", full ? "loaded" : "empty",
                         bk_tell_in(flow, state->train_m[i], flow->length)));
    }
    flow->y += ELEVATION;
    for (size_t i = 0; i + 1 < beam->n_supports; i++)
        dimension(flow, across(v, beam->supports[i].at_m), across(v, beam->supports[i + 1].at_m),
                  flow->y - 10,
                  bk_tell_in(flow, beam->supports[i + 1].at_m - beam->supports[i].at_m, flow->length));
}

/* ---- diagrams ---------------------------------------------------------------------------------- */

typedef struct curve {
    const bk_beam_extreme *state;
    bk_pen pen;
    const char *label; /* of the state's extreme, NULL for none */
} curve;

static void diagram(beam_view *v, const char *heading, bool moment, const curve *curves, size_t n)
{
    bk_flow *flow = &v->sheet->flow;
    bk_arena *arena = flow->paper->arena;
    double **values = BK_NEW(arena, double *, n), **sections = BK_NEW(arena, double *, n);
    size_t *count = BK_NEW(arena, size_t, n);
    if (!values || !sections || !count) {
        flow->paper->failed = true;
        return;
    }
    double most = 0, least = 0;
    for (size_t c = 0; c < n; c++) {
        values[c] = along(v, curves[c].state, moment);
        sections[c] = v->section;
        count[c] = values[c] ? v->n : 0;
        for (size_t i = 0; i < count[c]; i++) {
            most = fmax(most, values[c][i]);
            least = fmin(least, values[c][i]);
        }
    }
    if (most - least <= 0) return;
    const double down = moment ? 1 : -1; /* points on paper go down */
    const double up_most = moment ? -least : most, down_most = moment ? most : -least;
    const double head = 11, room = DIAGRAM - head - 26, scale = room / (up_most + down_most);
    const double axis = flow->y + head + 13 + up_most * scale;
    const bk_set set =
        bk_set_text(flow->paper, heading, (bk_face){.size = 7, .bold = true}, bk_box_width(flow->body), 1);
    bk_ink_set(flow->paper, flow->page, flow->body.x0, flow->y, &set);
    bk_field field;
    bk_field_open(&field, flow->paper, flow->page,
                  (bk_box){flow->body.x0, flow->y + head, flow->body.x1, flow->y + DIAGRAM - 1});
    for (size_t i = 0; i < v->beam->n_supports; i++) {
        const double x = across(v, v->beam->supports[i].at_m);
        bk_ink_line(flow->paper, flow->page, (bk_spot){x, flow->y + head},
                    (bk_spot){x, flow->y + DIAGRAM - 4}, (bk_pen){.width = 0.3, .grey = 0.6, .dash = {1, 2}});
    }
    for (size_t c = 0; c < n; c++) {
        bk_spot *at = BK_NEW(arena, bk_spot, count[c] + 2);
        if (!at) {
            flow->paper->failed = true;
            return;
        }
        size_t k = 0;
        if (count[c] > 0) at[k++] = (bk_spot){across(v, sections[c][0]), axis};
        for (size_t i = 0; i < count[c]; i++)
            at[k++] = (bk_spot){across(v, sections[c][i]), axis + down * values[c][i] * scale};
        if (count[c] > 0) at[k++] = (bk_spot){across(v, sections[c][count[c] - 1]), axis};
        bk_ink_path(flow->paper, flow->page, at, k, false, curves[c].pen, BK_NO_FILL);
        for (size_t i = 1; i < k && curves[c].label; i++)
            bk_field_stroke(&field, at[i - 1], at[i]);
    }
    bk_ink_line(flow->paper, flow->page, (bk_spot){across(v, v->beam->from_m), axis},
                (bk_spot){across(v, v->beam->to_m), axis}, bk_pen_thin);
    bk_field_stroke(&field, (bk_spot){across(v, v->beam->from_m), axis},
                    (bk_spot){across(v, v->beam->to_m), axis});
    for (size_t c = 0; c < n; c++) {
        if (!curves[c].label || count[c] == 0) continue;
        const bk_beam_extreme *x = curves[c].state;
        size_t near = 0; /* the section drawn that is nearest to the extreme, on its worse side */
        for (size_t i = 1; i < count[c]; i++) {
            const double a = fabs(sections[c][i] - x->at_m), b = fabs(sections[c][near] - x->at_m);
            if (a < b - 1e-6 || (a < b + 1e-6 && fabs(values[c][i]) > fabs(values[c][near]))) near = i;
        }
        const bk_spot at = {across(v, x->at_m), axis + down * values[c][near] * scale};
        bk_ink_disc(flow->paper, flow->page, at, 1.5, (bk_pen){0}, 0);
        label_at(&field, at, curves[c].label,
                 bk_tell(flow, "at %s", bk_tell_in(flow, x->at_m, flow->length)));
    }
    flow->y += DIAGRAM;
}

/* ---- table ------------------------------------------------------------------------------------- */

static const char *trolleys(beam_view *v, const bk_beam_extreme *x)
{
    bk_flow *flow = &v->sheet->flow;
    const char *text = "";
    for (size_t i = 0; i < v->runway->n_trolleys && x->train_m; i++)
        text = bk_tell(flow, "%s%s%s at %s%s", text, i ? ", " : "",
                       v->sheet->a->plan->trolleys[v->runway->first_trolley + i].name,
                       bk_tell_in(flow, x->train_m[i], flow->length),
                       x->train_loaded && !x->train_loaded[i] ? " empty" : "");
    return text;
}

static void table(beam_view *v)
{
    bk_flow *flow = &v->sheet->flow;
    const bk_beam_worst *x = &v->result->worst;
    bk_rows *rows = bk_rows_open(
        flow, bk_tell(flow, "RUNWAY %s: worst figures and where the trolleys then stand", v->runway->name),
        "<>><", (const char *[]){"figure", "", bk_tell(flow, "at, %s", flow->length.unit), "trolleys"});
    const struct {
        const char *what;
        const bk_beam_extreme *x;
        bk_dim dim;
        bool size;
    } figures[] = {{"moment, sagging", &x->moment_max, BK_DIM_MOMENT, false},
                   {"moment, hogging", &x->moment_min, BK_DIM_MOMENT, false},
                   {"shear", &x->shear, BK_DIM_FORCE, true},
                   {"deflection", &x->deflection, BK_DIM_LENGTH, true}};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        bk_rows_add(
            rows,
            (const char *[]){
                figures[i].what,
                bk_tell_quantity(flow, figures[i].size ? fabs(figures[i].x->value) : figures[i].x->value,
                                 figures[i].dim, 4),
                bk_tell_bare(flow, figures[i].x->at_m, flow->length), trolleys(v, figures[i].x)});
    for (size_t i = 0; i < v->beam->n_supports; i++)
        for (int least = 0; least < 2; least++) {
            const bk_beam_extreme *r = least ? &x->reaction_min[i] : &x->reaction_max[i];
            bk_rows_add(rows, (const char *[]){bk_tell(flow, "reaction S%zu, %s", i + 1,
                                                       !least         ? "most"
                                                       : r->value < 0 ? "UPLIFT"
                                                                      : "least"),
                                               bk_tell_in(flow, r->value, flow->force),
                                               bk_tell_bare(flow, v->beam->supports[i].at_m, flow->length),
                                               trolleys(v, r)});
        }
    const char *stalled = bk_stalled_sentence(v->sheet->a, (size_t)(v->runway - v->sheet->a->plan->runways));
    if (!stalled) flow->paper->failed = true;
    if (stalled && *stalled) bk_rows_note(rows, stalled);
    bk_rows_close(rows);
}

/* ---- a runway ---------------------------------------------------------------------------------- */

static void runway(bk_sheet *sheet, size_t r)
{
    bk_flow *flow = &sheet->flow;
    const bk_plan *plan = sheet->a->plan;
    beam_view v = {.sheet = sheet, .runway = &plan->runways[r], .result = &sheet->a->runways[r]};
    v.beam = v.result->beam;
    if (!v.beam) return;
    const bk_beam_worst *worst = &v.result->worst;
    bk_flow_need(flow, 40 + ELEVATION + 2 * DIAGRAM);
    bk_flow_heading(flow, bk_tell(flow, "RUNWAY %s, trolley where the beam bends most", v.runway->name));
    const bool named = v.runway->section != BK_NONE && plan->sections[v.runway->section].ref;
    bk_flow_text(flow,
                 bk_tell(flow, "Section %s, dynamic factor %s%s%s%s; self-weight %s; no partial factors.",
                         named ? plan->sections[v.runway->section].ref : "by its dimensions",
                         bk_tell_quantity(flow, v.result->dynamic_factor, BK_DIM_NONE, 4),
                         v.result->dynamic_by ? " (" : "", v.result->dynamic_by ? v.result->dynamic_by : "",
                         v.result->dynamic_by ? ")" : "", v.runway->self_weight ? "in" : "left out"),
                 bk_face_text, 0);
    v.x0 = flow->body.x0 + SIDE;
    v.scale = (bk_box_width(flow->body) - 2 * SIDE) / (v.beam->to_m - v.beam->from_m);
    const bool hogs = fabs(worst->moment_min.value) > fabs(worst->moment_max.value);
    elevation(&v, hogs ? &worst->moment_min : &worst->moment_max);

    curve curves[STATES_MOST + 2];
    const bk_pen thin = {.width = 0.35, .grey = 0.5}, bold = {.width = 1.1},
                 dashed = {.width = 1.1, .dash = {4, 2}};
    size_t n = 0;
    for (size_t i = 0; i < worst->n_spans && n + 2 <= STATES_MOST; i++) {
        curves[n++] = (curve){.state = &worst->span_moment_max[i], .pen = thin};
        curves[n++] = (curve){.state = &worst->span_moment_min[i], .pen = thin};
    }
    curves[n++] =
        (curve){&worst->moment_max, bold, bk_tell_quantity(flow, worst->moment_max.value, BK_DIM_MOMENT, 4)};
    curves[n++] = (curve){&worst->moment_min, dashed,
                          bk_tell_quantity(flow, worst->moment_min.value, BK_DIM_MOMENT, 4)};
    diagram(&v,
            "MOMENT, on the side in tension   bold: sags most   dashed: hogs most   thin: worst states of "
            "each span",
            true, curves, n);
    n = 0;
    for (size_t i = 0; i < worst->n_spans && n + 1 <= STATES_MOST; i++)
        curves[n++] = (curve){.state = &worst->span_shear[i], .pen = thin};
    curves[n++] = (curve){&worst->shear, bold, bk_tell_in(flow, fabs(worst->shear.value), flow->force)};
    diagram(&v, "SHEAR   bold: the greatest   thin: worst states of each span", false, curves, n);
    table(&v);
}

void bk_sheet_runways(bk_sheet *sheet)
{
    for (size_t r = 0; r < sheet->a->plan->n_runways; r++)
        runway(sheet, r);
}
