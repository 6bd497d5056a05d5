/* json: the assessment for other programs.  SI base units, angles in degrees, arrays in the plan's order,
 * 17 significant digits so that the balance can be proved again; what does not exist is null.
 */
#include <becket/report.h>

#include "json_print.h"

/* jansson's own constructors fail with NULL when memory is out; setting NULL fails in turn, so one test at the
 * end of each object is enough: `ok` collects it. */
typedef struct maker {
    bool ok;
} maker;

static void set(maker *m, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0) m->ok = false;
}

static void push(maker *m, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0) m->ok = false;
}

static json_t *number(double x)
{
    return isfinite(x) ? json_real(x == 0 ? 0 : x) : json_null();
}

static json_t *text(const char *s)
{
    return s ? json_string(s) : json_null();
}

static json_t *degrees(double rad)
{
    return number(bk_dim_symbol_value(rad, BK_DIM_ANGLE));
}

static json_t *vector(maker *m, bk_vec3 v)
{
    json_t *a = json_array();
    push(m, a, number(v.x));
    push(m, a, number(v.y));
    push(m, a, number(v.z));
    return a;
}

/* ---- rig --------------------------------------------------------------------------------------- */

static json_t *lines(maker *m, const bk_assessment *a)
{
    json_t *all = json_array();
    for (size_t i = 0; i < a->plan->n_lines; i++) {
        const bk_line *line = &a->plan->lines[i];
        json_t *o = json_object();
        set(m, o, "name", text(line->name));
        set(m, o, "tension_N", number(a->hang->tension_N[i]));
        set(m, o, "length_m", number(a->hang->length_m[i]));
        set(m, o, "angle_from_vertical_deg", degrees(a->hang->from_vertical_rad[i]));
        set(m, o, "slack", json_boolean(a->hang->slack[i]));
        set(m, o, "unstretched_m", number(line->length_m.v));
        set(m, o, "ea_N", number(line->ea_N));
        set(m, o, "ea_assumed", json_boolean(line->ea_assumed));
        set(m, o, "mass_kg", number(line->mass_kg));
        push(m, all, o);
    }
    return all;
}

static json_t *bodies(maker *m, const bk_assessment *a)
{
    json_t *all = json_array();
    for (size_t i = 0; i < a->plan->n_bodies; i++) {
        json_t *o = json_object(), *q = json_array();
        const bk_quat turn = a->hang->turn[i];
        set(m, o, "name", text(a->plan->bodies[i].name));
        set(m, o, "origin_m", vector(m, a->hang->origin_m[i]));
        push(m, q, number(turn.w));
        push(m, q, number(turn.x));
        push(m, q, number(turn.y));
        push(m, q, number(turn.z));
        set(m, o, "quaternion", q);
        set(m, o, "cog_m", vector(m, a->hang->cog_m[i]));
        set(m, o, "tilt_deg", degrees(a->hang->tilt_rad[i]));
        set(m, o, "mass_kg", number(a->plan->bodies[i].mass_kg.v));
        push(m, all, o);
    }
    return all;
}

static json_t *worst(maker *m, const bk_assessment *a)
{
    const bk_envelope *e = a->envelope;
    json_t *o = json_object(), *all = json_array();
    for (size_t i = 0; i < a->plan->n_lines; i++) {
        json_t *l = json_object();
        set(m, l, "name", text(a->plan->lines[i].name));
        set(m, l, "tension_max_N", number(e->tension_max[i].value));
        set(m, l, "tension_min_N", number(e->tension_min[i].value));
        set(m, l, "max_case", text(e->tension_max[i].say));
        set(m, l, "min_case", text(e->tension_min[i].say));
        push(m, all, l);
    }
    set(m, o, "lines", all);
    all = json_array();
    for (size_t i = 0; i < a->plan->n_anchors; i++) {
        json_t *x = json_object();
        set(m, x, "name", text(a->plan->anchors[i].name));
        set(m, x, "force_max_N", number(e->anchor_max[i].value));
        set(m, x, "max_case", text(e->anchor_max[i].say));
        push(m, all, x);
    }
    set(m, o, "anchors", all);
    all = json_array();
    for (size_t i = 0; i < a->plan->n_bodies; i++) {
        json_t *x = json_object();
        set(m, x, "name", text(a->plan->bodies[i].name));
        set(m, x, "tilt_max_deg", degrees(e->tilt_max[i].value));
        set(m, x, "max_case", text(e->tilt_max[i].say));
        push(m, all, x);
    }
    set(m, o, "bodies", all);
    set(m, o, "cases_solved", json_integer((json_int_t)e->n_solved));
    set(m, o, "cases_failed", json_integer((json_int_t)e->n_failed));
    set(m, o, "first_failed_case", text(e->failed_say));
    return o;
}

static json_t *rig(maker *m, const bk_assessment *a)
{
    if (!a->has_rig || !a->hang) return json_null();
    json_t *o = json_object(), *all;
    set(m, o, "converged", json_boolean(a->hang->converged));
    set(m, o, "residual", number(a->hang->residual));
    set(m, o, "stable", json_boolean(a->hang->stable));
    set(m, o, "total_weight_N", number(a->hang->total_weight_N));
    set(m, o, "lines", lines(m, a));
    set(m, o, "bodies", bodies(m, a));
    all = json_array();
    for (size_t i = 0; i < a->plan->n_rings; i++) {
        json_t *r = json_object();
        set(m, r, "name", text(a->plan->rings[i].name));
        set(m, r, "at_m", vector(m, a->hang->ring_m[i]));
        push(m, all, r);
    }
    set(m, o, "rings", all);
    all = json_array();
    for (size_t i = 0; i < a->plan->n_anchors; i++) {
        const bk_vec3 f = a->hang->anchor_N[i];
        json_t *x = json_object();
        set(m, x, "name", text(a->plan->anchors[i].name));
        set(m, x, "force_N", vector(m, f));
        set(m, x, "at_m", vector(m, a->plan->anchors[i].at_m.v));
        set(m, x, "horizontal_N", number(hypot(f.x, f.y)));
        push(m, all, x);
    }
    set(m, o, "anchors", all);
    if (a->envelope && (a->envelope->n_parameters > 0 || a->plan->lose_a_line)) set(m, o, "worst", worst(m, a));
    return o;
}

/* ---- runways and hoists ------------------------------------------------------------------------ */

static json_t *positions(maker *m, const bk_beam_extreme *x, size_t n)
{
    json_t *all = json_array();
    for (size_t i = 0; i < n && x->train_m; i++) {
        json_t *o = json_object();
        set(m, o, "at_m", number(x->train_m[i]));
        set(m, o, "loaded", json_boolean(x->train_loaded && x->train_loaded[i]));
        push(m, all, o);
    }
    return all;
}

static json_t *runway(maker *m, const bk_assessment *a, size_t r)
{
    const bk_runway *plan = &a->plan->runways[r];
    const bk_runway_result *result = &a->runways[r];
    const bk_beam_worst *w = &result->worst;
    json_t *o = json_object(), *all = json_array(), *x;
    set(m, o, "name", text(plan->name));
    set(m, o, "dynamic_factor", number(result->dynamic_factor));
    set(m, o, "dynamic_by", text(result->dynamic_by));
    for (size_t i = 0; i < plan->n_supports; i++) {
        x = json_object();
        set(m, x, "at_m", number(a->plan->supports[plan->first_support + i].at_m));
        set(m, x, "max_N", number(w->reaction_max[i].value));
        set(m, x, "min_N", number(w->reaction_min[i].value));
        set(m, x, "max_trolleys", positions(m, &w->reaction_max[i], plan->n_trolleys));
        push(m, all, x);
    }
    set(m, o, "reactions", all);
    x = json_object();
    set(m, x, "max_Nm", number(w->moment_max.value));
    set(m, x, "max_at_m", number(w->moment_max.at_m));
    set(m, x, "min_Nm", number(w->moment_min.value));
    set(m, x, "min_at_m", number(w->moment_min.at_m));
    set(m, x, "max_trolleys", positions(m, &w->moment_max, plan->n_trolleys));
    set(m, x, "min_trolleys", positions(m, &w->moment_min, plan->n_trolleys));
    set(m, o, "moment", x);
    x = json_object();
    set(m, x, "max_abs_N", number(fabs(w->shear.value)));
    set(m, x, "at_m", number(w->shear.at_m));
    set(m, x, "trolleys", positions(m, &w->shear, plan->n_trolleys));
    set(m, o, "shear", x);
    x = json_object();
    set(m, x, "max_abs_m", number(fabs(w->deflection.value)));
    set(m, x, "at_m", number(w->deflection.at_m));
    set(m, x, "trolleys", positions(m, &w->deflection, plan->n_trolleys));
    set(m, o, "deflection", x);
    return o;
}

static json_t *duty(maker *m, const bk_hoist_duty *d)
{
    if (!d->asked) return json_null();
    json_t *o = json_object();
    set(m, o, "cyclic_duration_factor", number(d->cyclic_duration_factor));
    set(m, o, "starts_per_hour", number(d->starts_per_hour));
    set(m, o, "running_hours_per_day", number(d->running_hours_per_day));
    set(m, o, "spectrum_factor", number(d->spectrum_factor));
    set(m, o, "spectrum_class", text(d->spectrum_class));
    set(m, o, "cubic_mean", number(d->cubic_mean_k));
    set(m, o, "time_class", text(d->time_class_iso));
    set(m, o, "group_needed", text(d->group_needed_iso));
    set(m, o, "group_needed_fem", text(d->group_needed_fem));
    set(m, o, "group", text(d->group_iso));
    set(m, o, "us_class_needed", text(d->us_class_needed));
    set(m, o, "starts_per_running_hour", number(d->starts_per_running_hour));
    set(m, o, "full_load_hours", number(d->full_load_hours));
    set(m, o, "life_used", number(d->life_used));
    set(m, o, "life_used_fem_9_755", number(d->life_used_fem));
    set(m, o, "life_used_iso_12482", number(d->life_used_iso));
    set(m, o, "years_to_100_percent", number(d->years_to_100));
    set(m, o, "date_of_80_percent", text(d->date_80));
    set(m, o, "date_of_90_percent", text(d->date_90));
    set(m, o, "date_of_100_percent", text(d->date_100));
    set(m, o, "incomplete", text(d->incomplete));
    return o;
}

static json_t *hoist(maker *m, const bk_assessment *a, size_t h)
{
    const bk_hoist_forces *f = &a->hoists[h];
    json_t *o = json_object();
    set(m, o, "name", text(a->plan->hoists[h].name));
    set(m, o, "hook_load_N", number(f->hook_load_N));
    set(m, o, "suspension_load_N", number(f->dynamic_N));
    set(m, o, "static_N", number(f->static_N));
    set(m, o, "dynamic_N", number(f->dynamic_N));
    set(m, o, "stalled_N", number(f->stalled_N));
    set(m, o, "stalled_governs", json_boolean(f->stalled_governs));
    set(m, o, "dynamic_factor", number(f->dynamic_factor));
    set(m, o, "dynamic_by", text(f->dynamic_by));
    set(m, o, "force_limit_N", number(f->force_limit_N));
    set(m, o, "sudden_stop_N", number(f->sudden_stop_N));
    set(m, o, "duty", duty(m, &a->duties[h]));
    return o;
}

/* ---- checks ------------------------------------------------------------------------------------ */

static json_t *check(maker *m, const bk_finding *f)
{
    json_t *o = json_object();
    set(m, o, "check", text(f->check));
    set(m, o, "item", text(f->item));
    set(m, o, "part", text(f->part));
    set(m, o, "what", text(f->what));
    set(m, o, "demand", number(bk_dim_symbol_value(f->demand, f->dim)));
    set(m, o, "limit", number(bk_dim_symbol_value(f->limit, f->dim)));
    set(m, o, "unit", text(bk_dim_symbol(f->dim)));
    set(m, o, "utilisation", number(f->utilisation));
    set(m, o, "checked", json_boolean(f->checked));
    set(m, o, "passes", json_boolean(f->passes));
    set(m, o, "rule", text(f->rule));
    set(m, o, "source", text(f->source));
    set(m, o, "mark", text(bk_mark_text(f->mark)));
    set(m, o, "nominal_demand", number(bk_dim_symbol_value(f->nominal_demand, f->dim)));
    set(m, o, "case", text(f->where));
    set(m, o, "note", text(f->note));
    return o;
}

static json_t *tables(maker *m, const bk_assessment *a)
{
    json_t *all = json_array();
    size_t n;
    const bk_table *const *used = bk_tables_used(a->tables, &n);
    for (size_t i = 0; i < n; i++) {
        json_t *o = json_object();
        set(m, o, "name", text(used[i]->name));
        set(m, o, "title", text(used[i]->title));
        set(m, o, "source", text(used[i]->source));
        set(m, o, "edition", text(used[i]->edition));
        set(m, o, "mark", text(bk_mark_text(used[i]->mark)));
        set(m, o, "shipped", json_boolean(used[i]->shipped));
        set(m, o, "sha256", text(used[i]->digest));
        push(m, all, o);
    }
    return all;
}

/* ---- what was asked beside the checks ---------------------------------------------------------- */

static json_t *line_name(const bk_assessment *a, size_t line)
{
    return line == BK_NONE ? json_null() : text(a->plan->lines[line].name);
}

static json_t *cases(maker *m, const bk_assessment *a, const bk_advice *advice)
{
    json_t *all = json_array();
    for (size_t i = 0; i < advice->n_effects; i++) {
        const bk_effect *e = &advice->effects[i];
        json_t *o = json_object();
        set(m, o, "case", text(e->say));
        set(m, o, "hangs", json_boolean(e->hangs));
        set(m, o, "gains", line_name(a, e->hangs ? e->gains : BK_NONE));
        set(m, o, "gain_N", number(e->hangs ? e->gain_N : (double)NAN));
        set(m, o, "loses", line_name(a, e->hangs ? e->loses : BK_NONE));
        set(m, o, "loss_N", number(e->hangs ? e->loss_N : (double)NAN));
        push(m, all, o);
    }
    return all;
}

static json_t *largest(maker *m, const bk_largest_load *l)
{
    json_t *o = json_object();
    set(m, o, "factor", number(l->factor));
    set(m, o, "mass_kg", number(isnan(l->factor) ? l->factor : l->mass_kg));
    set(m, o, "stopped_by", text(l->check));
    set(m, o, "stopped_at", text(l->item));
    set(m, o, "fails_anyway", text(l->anyway_check));
    set(m, o, "fails_anyway_at", text(l->anyway_item));
    return o;
}

char *bk_report_json(const bk_assessment *a, const bk_advice *advice)
{
    maker made = {true}, *m = &made;
    json_t *o = json_object(), *all;
    set(m, o, "becket", json_integer(1));
    set(m, o, "title", text(a->plan->title ? a->plan->title : ""));
    set(m, o, "rules", text(a->plan->rules->name));
    set(m, o, "verdict", text(bk_verdict_text(a->verdict)));
    set(m, o, "plan_sha256", text(a->plan->digest));
    set(m, o, "rig", rig(m, a));
    all = json_array();
    for (size_t i = 0; i < a->plan->n_runways; i++) push(m, all, runway(m, a, i));
    set(m, o, "runways", all);
    all = json_array();
    for (size_t i = 0; i < a->plan->n_hoists; i++) push(m, all, hoist(m, a, i));
    set(m, o, "hoists", all);
    all = json_array();
    for (size_t i = 0; i < a->findings->n; i++) push(m, all, check(m, &a->findings->at[i]));
    set(m, o, "checks", all);
    all = json_array();
    for (size_t i = 0; i < a->plan->n_notes; i++) push(m, all, text(a->plan->notes[i]));
    for (size_t i = 0; i < a->findings->n_assumptions; i++) push(m, all, text(a->findings->assumptions[i]));
    set(m, o, "notes", all);
    if (advice && advice->all_effects) set(m, o, "cases", cases(m, a, advice));
    if (advice && advice->has_largest) set(m, o, "largest_load", largest(m, &advice->largest));
    set(m, o, "tables", tables(m, a));
    all = json_array();
    for (size_t i = 0; i < a->n_cautions; i++) push(m, all, text(a->cautions[i]));
    set(m, o, "cautions", all);
    if (made.ok) return bk_json_print(o);
    json_decref(o);
    return NULL;
}
