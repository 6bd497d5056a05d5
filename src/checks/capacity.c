/* capacity: what a part is good for in its hitch, place and surroundings.
 *
 * The rating of the tag (or least breaking force over design factor), times one factor for each thing that
 * lowers it: hitch, choke angle, bend, edge, temperature, people below, critical lift.  Every factor is a rule
 * of the rule set; a factor that does not act is 1 and is shown as such.  Where something matters and is not
 * stated, the assumption is a sentence of the report.
 */
#include "rig.h"

#include <string.h>

bk_mark bk_rig_less_sure(bk_mark a, bk_mark b)
{
    return a > b ? a : b;
}

double bk_rig_rule(const bk_check_input *in, const char *name, bk_mark *mark, const char **source)
{
    const bk_rule *rule = bk_rules_find(in->rules, name);
    if (!rule) return NAN;
    if (mark) *mark = bk_rig_less_sure(*mark, rule->mark);
    if (source) *source = rule->source;
    return rule->value;
}

static bool has_word(const char *text, const char *word)
{
    return text && strstr(text, word);
}

bool bk_rig_is_sling(const bk_part *part)
{
    return has_word(part->what, "sling") || has_word(part->what, "chain") || has_word(part->what, "rope") ||
           has_word(part->what, "web");
}

static const char *family(const bk_part *part)
{
    if (has_word(part->material, "chain") || has_word(part->what, "chain")) return "chain";
    if (has_word(part->material, "natural-fibre") || has_word(part->what, "fibre rope")) return "fibre_rope";
    if (has_word(part->material, "rope") || has_word(part->what, "rope")) return "rope";
    if (has_word(part->what, "shackle")) return "shackle";
    return bk_rig_is_sling(part) ? "textile" : "metal";
}

/* A factor from bands; 1 and no effect when the rule set has no such bands. */
static double band_factor(const bk_check_input *in, const char *name, double x, bk_mark *mark, const char **source)
{
    const bk_bands *bands = bk_rules_bands(in->rules, name);
    if (!bands) return NAN;
    *mark = bk_rig_less_sure(*mark, bands->mark);
    *source = bands->source;
    const double factor = bk_bands_factor(bands, x);
    return isfinite(factor) ? factor : 0;
}

static const char *name_of(bk_findings *out, const char *prefix, const char *tail)
{
    const char *name = bk_arena_printf(out->arena, "%s%s", prefix, tail);
    if (!name) out->failed = true;
    return name ? name : prefix;
}

/* Temperature: the part's own bounds first, then the bands of its material. */
static double temperature_factor(const bk_check_input *in, bk_findings *out, const char *item, const bk_part *part,
                                 double temperature_K, bk_mark *mark, const char **source)
{
    *source = "within the range of the rating";
    if (isnan(temperature_K)) {
        bk_findings_assume(out, "Temperature is not stated: ordinary weather is assumed, within the range of every tag.");
        return 1;
    }
    if (temperature_K < part->min_temperature_K || temperature_K > part->max_temperature_K) {
        *source = part->source;
        return 0;
    }
    if (!part->material) {
        if (isnan(part->max_temperature_K))
            bk_findings_assume(out, "%s: the material of %s is not stated, so its temperature limit is not checked.",
                               item, part->ref ? part->ref : part->what);
        return 1;
    }
    const double factor =
        band_factor(in, name_of(out, "temperature.", part->material), temperature_K, mark, source);
    if (isnan(factor)) {
        if (isnan(part->max_temperature_K))
            bk_findings_assume(out, "%s: no temperature limit is known for %s.", item, part->material);
        return 1;
    }
    return factor;
}

/* What harms the material goes into the report as it stands in the rule set. */
static void chemical_note(const bk_check_input *in, bk_findings *out, const bk_part *part)
{
    if (!part->material) return;
    const bk_rule *rule = bk_rules_find(in->rules, name_of(out, "chemical.", part->material));
    if (rule) bk_findings_assume(out, "%s: %s (%s).", part->material, rule->text, rule->source);
}

static bk_rig_capacity capacity(const bk_check_input *in, bk_findings *out, const char *item, const bk_line *line,
                                const bk_part *part, bk_working *w)
{
    bk_mark mark = part->mark;
    const char *tag_source = part->source;
    const char *const kind = family(part);
    bk_rig_capacity result = {NAN, NAN, NAN, mark, part->source, NULL, NULL};
    const bool sling = line && bk_rig_is_sling(part);
    const bk_hitch hitch = sling ? line->hitch : BK_HITCH_STRAIGHT;

    /* --- the rating of the tag, in this hitch --- */
    double rating = part->wll_N;
    if (isnan(rating) && isfinite(part->breaking_load_N)) {
        BK_GIVEN(w, F_break, part->breaking_load_N, FORCE, part->source);
        const char *factor_source = part->source;
        double factor = part->design_factor;
        if (isnan(factor)) factor = bk_rig_rule(in, name_of(out, "design_factor.", kind), &mark, &factor_source);
        BK_GIVEN(w, Z, factor, NONE, factor_source ? factor_source : "design factor");
        BK_GIVEN(w, eta, isfinite(part->efficiency) ? part->efficiency : 1, NONE, "termination efficiency");
        BK_CALC(w, F_rated, F_break * eta / Z, FORCE, "least breaking force over design factor");
        rating = F_rated;
    } else if (isfinite(rating) && isfinite(part->efficiency)) {
        BK_GIVEN(w, F_tag, rating, FORCE, part->source);
        BK_GIVEN(w, eta, part->efficiency, NONE, "termination efficiency");
        BK_CALC(w, F_rated, F_tag * eta, FORCE, "rating times termination efficiency");
        rating = F_rated;
    }
    double k_hitch_value = 1;
    const char *hitch_source = "straight pull";
    if (hitch == BK_HITCH_CHOKER) {
        if (isfinite(part->choker_wll_N)) {
            rating = part->choker_wll_N;
            hitch_source = "choker rating of the tag";
        } else {
            k_hitch_value = bk_rig_rule(in, name_of(out, "hitch.choker.", kind), &mark, &hitch_source);
            if (isnan(k_hitch_value)) k_hitch_value = bk_rig_rule(in, "hitch.choker", &mark, &hitch_source);
        }
    } else if (hitch == BK_HITCH_BASKET) {
        if (isfinite(part->basket_wll_N)) {
            rating = part->basket_wll_N;
            hitch_source = "basket rating of the tag, upright legs";
        } else {
            k_hitch_value = bk_rig_rule(in, "hitch.basket", &mark, &hitch_source);
        }
        if (isnan(line->bend_diameter_m))
            bk_findings_assume(out, "%s: bend diameter of the basket is not stated: large enough for the full rating "
                                    "is assumed.", item);
    }
    if (isnan(rating)) return result;

    /* --- surroundings --- */
    const double temperature_K =
        line && isfinite(line->temperature_K) ? line->temperature_K : in->plan->temperature_K;
    const char *temperature_source;
    const double k_temp_value = temperature_factor(in, out, item, part, temperature_K, &mark, &temperature_source);

    double k_edge_value = 1;
    const char *edge_source = "no edge in the way";
    const double edge_m = line && isfinite(line->edge_radius_m) ? line->edge_radius_m : in->plan->edge_radius_m;
    const double thick_m = isfinite(part->diameter_m) ? part->diameter_m : part->thickness_m;
    if (sling && hitch != BK_HITCH_STRAIGHT) {
        if (isfinite(edge_m) && isfinite(thick_m) && thick_m > 0) {
            const bool textile = strcmp(kind, "textile") == 0;
            const double factor = band_factor(in, textile ? "edge.radius.textile" : "edge.radius", edge_m / thick_m, &mark,
                                              &edge_source);
            if (isfinite(factor)) k_edge_value = factor;
        } else if (isnan(edge_m)) {
            bk_findings_assume(out, "%s: edge radius is not stated: no sharp edge, or an edge protector, is assumed.", item);
        } else {
            bk_findings_assume(out, "%s: thickness of %s is not known, so the edge is not checked.", item,
                               part->ref ? part->ref : part->what);
        }
    }
    double k_people_value = 1, k_critical_value = 1;
    const char *people_source = "nobody below", *critical_source = "not a critical lift";
    if (in->plan->people_below) {
        k_people_value = bk_rig_rule(in, "people.factor", &mark, &people_source);
        if (isnan(k_people_value)) k_people_value = 0.5, people_source = "design factor doubled";
    }
    if (in->plan->critical) {
        k_critical_value = bk_rig_rule(in, "critical.share", &mark, &critical_source);
        if (isnan(k_critical_value)) k_critical_value = 1;
    }

    BK_GIVEN(w, WLL, rating, FORCE, tag_source);
    BK_GIVEN(w, k_hitch, k_hitch_value, NONE, hitch_source ? hitch_source : "hitch");
    BK_GIVEN(w, k_temp, k_temp_value, NONE, temperature_source);
    BK_GIVEN(w, k_edge, k_edge_value, NONE, edge_source);
    BK_GIVEN(w, k_people, k_people_value, NONE, people_source);
    BK_GIVEN(w, k_critical, k_critical_value, NONE, critical_source);
    BK_CALC(w, F_limit, WLL * k_hitch * k_temp * k_edge * k_people * k_critical, FORCE,
            "rating in this hitch and these surroundings");
    result.tag_N = F_limit;
    if (sling) chemical_note(in, out, part);
    result.hitch_source = hitch_source;

    /* --- choke angle --- */
    if (hitch == BK_HITCH_CHOKER) {
        const char *choke_source = "choke angle of 120 degrees or more";
        double k_choke_value = 1;
        if (isnan(line->choke_angle_rad)) {
            bk_findings_assume(out, "%s: choke angle is not stated: 120 degrees or more (a sling left to settle) is "
                                    "assumed.", item);
        } else {
            const double factor = band_factor(in, "choke.angle", line->choke_angle_rad, &mark, &choke_source);
            if (isfinite(factor)) k_choke_value = factor;
        }
        BK_GIVEN(w, k_choke, k_choke_value, NONE, choke_source);
        BK_CALC(w, F_choker, F_limit * k_choke, FORCE, "choker rating at its choke angle");
        result.choker_N = F_choker;
    }

    /* --- bend over a pin or the load --- */
    if (sling && isfinite(line->bend_diameter_m) && isfinite(part->diameter_m) && part->diameter_m > 0) {
        const char *bend_source = "no rule for this sling";
        BK_GIVEN(w, D, line->bend_diameter_m, LENGTH, "bend diameter in the plan");
        BK_GIVEN(w, d, part->diameter_m, LENGTH, part->source);
        BK_CALC(w, ratio, D / d, NONE, "bend diameter over sling diameter");
        double factor = NAN;
        if (strcmp(kind, "rope") == 0) factor = band_factor(in, "bend.ratio", ratio, &mark, &bend_source);
        if (isfinite(factor)) {
            BK_GIVEN(w, k_bend, factor, NONE, bend_source);
            BK_CALC(w, F_bend, F_limit * k_bend, FORCE, "rating over the bend");
            result.bend_N = F_bend;
        }
    }
    result.mark = mark;
    return result;
}

bk_rig_capacity bk_rig_part_capacity(const bk_check_input *in, bk_findings *out, const bk_line *line,
                                     const bk_part *part, bk_working *w)
{
    return capacity(in, out, line->name, line, part, w);
}

bk_rig_capacity bk_rig_piece_capacity(const bk_check_input *in, bk_findings *out, const char *item,
                                      const bk_part *part, bk_working *w)
{
    return capacity(in, out, item, NULL, part, w);
}

double bk_rig_line_capacity(const bk_check_input *in, bk_findings *out, size_t line, const bk_part **part,
                            bk_mark *mark)
{
    const bk_line *l = &in->plan->lines[line];
    double least = INFINITY;
    if (part) *part = NULL;
    for (size_t i = 0; i < l->n_parts; i++) {
        const bk_part *p = &in->plan->parts[l->first_part + i];
        const bk_rig_capacity c = bk_rig_part_capacity(in, out, l, p, NULL);
        double limit = c.tag_N;
        if (isfinite(c.choker_N)) limit = fmin(limit, c.choker_N);
        if (isfinite(c.bend_N)) limit = fmin(limit, c.bend_N);
        if (isnan(c.tag_N)) return NAN;
        if (mark) *mark = bk_rig_less_sure(*mark, c.mark);
        if (limit < least) {
            least = limit;
            if (part) *part = p;
        }
    }
    return isfinite(least) ? least : (double)NAN;
}
