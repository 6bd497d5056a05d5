/* strength: what both methods share: the rule values, design forces, lateral load and torsion.
 *
 * Partial factors act on the parts of a moment: own weight and standing loads (gamma_G, or gamma_G_inf where
 * they relieve), trolleys (gamma_Q).  The stalled state is exceptional and has one factor of its own on all.
 * A rule set that works with safety factors on the resistance has 1 for all of them: one path for both.
 *
 * Lateral load and torsion, for a span held against lateral movement and twist at both ends and free to warp
 * there: the lateral force H of all trolleys at midspan, on the bottom flange, e = h/2 - t_f under the shear
 * centre: M_z = H L / 4,  T = H e,  B = T a / 2 tanh(L / (2 a)),  a^2 = E I_w / (G I_t) (Vlasov's torsion,
 * closed form of any text on thin-walled beams).  An overhang is taken as held rigidly at its support,
 * warping too, with H at its tip: M_z = H L, B = T a tanh(L / a), both on the safe side.
 */
#include "strength.h"

#include <float.h>
#include <stdio.h>
#include <string.h>

/* ---- rule values -------------------------------------------------------------------------------- */

static bk_place place_of(const bk_rules *rules)
{
    return (bk_place){rules->table ? rules->table->path : NULL, 0, 0};
}

/* NULL when the set lacks it; a message, and *missing, where it is needed or is no number of that dimension. */
static const bk_rule *find(const bk_rules *rules, const char *name, bk_dim dim, bool needed, bool *missing,
                           bk_errors *errors)
{
    char full[80];
    (void)snprintf(full, sizeof full, "beam.%s", name);
    const bk_rule *rule = bk_rules_number(rules, full, dim);
    if (!rule && (needed || bk_rules_find(rules, full))) {
        *missing = true;
        (void)bk_fail(errors, place_of(rules), BK_E_RULE, "rule set %s has no %s %s, which the strength of beams needs",
                      rules->name, bk_dim_name(dim), full);
    }
    return rule;
}

static bk_status curve(bk_tables *tables, bk_place where, const char *shape, const char *which,
                       bk_flange_curve *out, bk_errors *errors)
{
    char ref[80], why[160];
    (void)snprintf(ref, sizeof ref, "flange-coefficients/%s-%s", shape, which);
    const bk_row *row = NULL;
    const bk_status status = bk_tables_row(tables, ref, where, &row, errors);
    if (status != BK_OK) return status;
    double *const to[] = {&out->constant, &out->linear, &out->factor, &out->exponent};
    static const char *const keys[] = {"constant", "linear", "factor", "exponent"};
    for (size_t i = 0; i < 4; i++) {
        const bk_yaml *cell = bk_yaml_get(row->map, keys[i]);
        bk_value value;
        if (!cell)
            return bk_fail(errors, row->map->place, BK_E_TABLE_FORM, "%s: column %s is missing", ref,
                           keys[i]);
        const bk_status read = bk_quantity_read(cell->text, BK_DIM_NONE, &value, why, sizeof why);
        if (read != BK_OK) return bk_fail(errors, cell->place, read, "%s: %s: %s", ref, keys[i], why);
        *to[i] = value.v;
    }
    out->source = row->source;
    out->mark = row->mark;
    return BK_OK;
}

bk_status bk_strength_of_rules(const bk_check_input *in, bk_arena *arena, bk_beam_rules *rules,
                               const bk_strength_method **method, bk_errors *errors)
{
    static const bk_strength_method *const methods[] = {&bk_strength_en, &bk_strength_us};
    static const char *const curves[BK_FLANGE_CURVES] = {"cx0", "cx1", "cx2", "cy0", "cy1"};
    const bk_place place = {in->plan->file, 0, 0};
    bool missing = false;
    memset(rules, 0, sizeof *rules);
    const bk_rule *name = bk_rules_find(in->rules, "beam.method");
    *method = NULL;
    for (size_t i = 0; name && i < sizeof methods / sizeof *methods; i++)
        if (strcmp(name->text, methods[i]->name) == 0) *method = methods[i];
    if (!*method)
        return bk_fail(errors, place_of(in->rules), BK_E_RULE, "beam.method: want %s or %s, got \"%s\"", methods[0]->name,
                       methods[1]->name, name ? name->text : "");
    const bool en = *method == &bk_strength_en, us = *method == &bk_strength_us;
#define X(field, text, dim) rules->field = find(in->rules, text, BK_DIM_##dim, NEEDED, &missing, errors);
#define NEEDED         true
    BK_BEAM_RULES(X)
#undef NEEDED
#define NEEDED en
    BK_BEAM_RULES_EN(X)
#undef NEEDED
#define NEEDED us
    BK_BEAM_RULES_US(X)
#undef NEEDED
#define NEEDED false
    BK_BEAM_RULES_OPTIONAL(X)
#undef NEEDED
#undef X
    rules->C1_spread = bk_rules_bands(in->rules, "beam.C1_spread");
    if (en && !(rules->C1_spread && rules->C1_spread->dim == BK_DIM_NONE)) {
        missing = true;
        (void)bk_fail(errors, place, BK_E_RULE, "rule set %s lacks the bands beam.C1_spread",
                      in->rules->name);
    }
    if (missing) return BK_E_RULE;
    bk_flange_curve *c = BK_NEW(arena, bk_flange_curve, (size_t)2 * BK_FLANGE_CURVES);
    if (!c) return bk_fail(errors, place, BK_E_NOMEM, "out of memory in the checks");
    for (size_t i = 0; i < BK_FLANGE_CURVES; i++) {
        bk_status status = curve(in->tables, place, "parallel", curves[i], &c[i], errors);
        if (status == BK_OK)
            status = curve(in->tables, place, "taper", curves[i], &c[BK_FLANGE_CURVES + i], errors);
        if (status != BK_OK) return status;
    }
    rules->parallel = c;
    rules->taper = c + BK_FLANGE_CURVES;
    return BK_OK;
}

bk_rating bk_rating_not_covered(const bk_calc *c, bk_dim dim, double demand, const char *source,
                                const char *why)
{
    return (bk_rating){demand, NAN, dim, source, why, c->mark};
}

double bk_rating_use(bk_rating rating)
{
    if (isnan(rating.limit) || isnan(rating.demand)) return 1 + DBL_EPSILON;
    return rating.limit > 0 ? rating.demand / rating.limit : rating.demand > 0 ? (double)INFINITY : 0;
}

double bk_calc_given(bk_calc *c, const char *symbol, double value, bk_dim dim, const char *source)
{
    for (size_t i = c->w ? c->w->n : 0; i-- > 0;)
        if (strcmp(c->w->steps[i].symbol, symbol) == 0) {
            if (c->w->steps[i].value == value) return value;
            break;
        }
    return bk_working_add(c->w, symbol, NULL, value, dim, source);
}

/* ---- design forces ------------------------------------------------------------------------------ */

double bk_design_factor(bk_calc *c, const bk_member *m)
{
    const bk_rule *rule = m->state == BK_STATE_STALLED   ? c->rules->gamma_stalled
                          : m->state == BK_STATE_LIFTING ? c->rules->lifting_factor
                                                         : c->rules->gamma_Q;
    const bool lifting = m->state == BK_STATE_LIFTING;
    bk_calc_mark(c, rule->mark);
    BK_TAKE(c, gamma, lifting ? m->lifting_factor : rule->value, NONE,
            lifting ? m->lifting_by : rule->source);
    return gamma;
}

double bk_design_moment(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    BK_TAKE(c, M_G, m->M_G_Nm, MOMENT, "moment of own weight and standing loads, at the governing section");
    BK_TAKE(c, M_Q, m->M_Q_Nm, MOMENT,
            m->state == BK_STATE_LIFTING ? "moment in the solved rig, static"
                                         : "moment of the trolleys in this position");
    if (m->state != BK_STATE_DYNAMIC) {
        const double gamma = bk_design_factor(c, m);
        BK_CALC(w, M_y, gamma * fabs(M_G + M_Q), MOMENT, "design value");
        return M_y;
    }
    const bool relieves = m->M_G_Nm * m->M_Q_Nm < 0;
    const bk_rule *on_G = relieves ? c->rules->gamma_G_inf : c->rules->gamma_G;
    BK_TAKE(c, gamma_G, bk_calc_rule(c, on_G), NONE, on_G->source);
    BK_RULE(c, gamma_Q, NONE);
    BK_CALC(w, M_y, fabs(gamma_G * M_G + gamma_Q * M_Q), MOMENT, "design value");
    return M_y;
}

double bk_design_shear(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    BK_TAKE(c, V, m->V_N, FORCE,
            m->state == BK_STATE_LIFTING ? "shear in the solved rig, static"
                                         : "greatest shear of the span, from the runway analysis");
    if (m->state != BK_STATE_DYNAMIC) {
        const double gamma = bk_design_factor(c, m);
        BK_CALC(w, V_z, gamma * V, FORCE, "design value");
        return V_z;
    }
    BK_RULE(c, gamma_G, NONE);
    BK_RULE(c, gamma_Q, NONE);
    BK_CALC(w, V_z, fmax(gamma_G, gamma_Q) * V, FORCE, "design value");
    return V_z;
}

double bk_design_lateral(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    BK_TAKE(c, H_k, m->lateral_N, FORCE, "lateral share of the trolleys on this span");
    const double gamma = bk_design_factor(c, m);
    BK_CALC(w, H, gamma * H_k, FORCE, "design value");
    return H;
}

bk_lateral bk_lateral_effects(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double H = bk_design_lateral(c, m);
    BK_RULE(c, E, STRESS);
    BK_RULE(c, G, STRESS);
    BK_TAKE(c, L_z, fmin(m->span_m, m->hold_m), LENGTH,
            m->hold == BK_HOLD_OVERHANG ? "overhang" : "between lateral holds");
    BK_TAKE(c, h, s->h_m, LENGTH, m->section_from);
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_TAKE(c, I_t, s->It_m4, INERTIA, m->section_from);
    BK_TAKE(c, I_w, s->Iw_m6, WARPING, m->section_from);
    BK_CALC(w, T, H * (h / 2 - t_f), MOMENT, "lateral force on the bottom flange, about the shear centre");
    BK_CALC(w, a_t, sqrt(E * I_w / (G * I_t)), LENGTH,
            "length over which torsion turns from warping to twisting");
    if (m->hold == BK_HOLD_OVERHANG) {
        BK_CALC(w, M_z, H * L_z, MOMENT, "H at the tip");
        BK_CALC(w, B, T * a_t * tanh(L_z / a_t), BIMOMENT, "warping held at the support");
        return (bk_lateral){M_z, T, B};
    }
    BK_CALC(w, M_z, H * L_z / 4, MOMENT, "H at midspan");
    BK_CALC(w, B, T * a_t / 2 * tanh(L_z / (2 * a_t)), BIMOMENT,
            "torque at midspan, ends held against twist");
    return (bk_lateral){M_z, T, B};
}
