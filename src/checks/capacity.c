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

const bk_bands *bk_rig_bands(const bk_check_input *in, const char *name, bk_dim dim)
{
    const bk_bands *bands = bk_rules_bands(in->rules, name);
    return bands && bands->dim == dim ? bands : NULL;
}

double bk_rig_rule(const bk_check_input *in, const char *name, bk_dim dim, bk_mark *mark, const char **source)
{
    const bk_rule *rule = bk_rules_number(in->rules, name, dim);
    if (!rule) return NAN;
    if (mark) *mark = bk_rig_less_sure(*mark, rule->mark);
    if (source) *source = rule->source;
    return rule->value;
}

static bool has_word(const char *text, const char *word)
{
    return text && strstr(text, word);
}

static bool named_sling(const bk_part *part)
{
    return has_word(part->what, "sling") || has_word(part->what, "chain") || has_word(part->what, "rope") ||
           has_word(part->what, "web");
}

bool bk_rig_is_sling(const bk_part *part)
{
    static const char *const fittings[] = {"shackle", "hook",  "link",  "ring", "swivel",  "turnbuckle", "eye", "clamp",
                                           "block",   "hoist", "bolt",  "rod",  "trolley", "clip",       "lug", "socket"};
    if (named_sling(part)) return true;
    for (size_t i = 0; i < sizeof fittings / sizeof *fittings; i++)
        if (has_word(part->what, fittings[i])) return false;
    return true;
}

static const char *family(const bk_part *part)
{
    if (has_word(part->material, "chain") || has_word(part->what, "chain")) return "chain";
    if (has_word(part->material, "natural-fibre") || has_word(part->what, "fibre rope")) return "fibre_rope";
    if (has_word(part->material, "rope") || has_word(part->what, "rope")) return "rope";
    if (has_word(part->what, "shackle")) return "shackle";
    return named_sling(part) || has_word(part->material, "poly") ? "textile" : "metal";
}

/* A factor from bands: 0 where they allow nothing, NaN when the rule set has no such bands. */
static double band_factor(const bk_check_input *in, const char *name, bk_dim dim, double x, bk_mark *mark,
                          const char **source)
{
    const bk_bands *bands = bk_rig_bands(in, name, dim);
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
        band_factor(in, name_of(out, "temperature.", part->material), BK_DIM_TEMPERATURE, temperature_K, mark, source);
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

/* One part, where it hangs, and the working and mark of its limit. */
typedef struct job {
    const bk_check_input *in;
    bk_findings *out;
    const char *item;
    const bk_line *line; /* NULL: in no line */
    const bk_part *part;
    bk_working *w;
    const char *kind;    /* family of the part */
    bool sling;          /* the hitch, edges and bends of the line act on it */
    bk_hitch hitch;
    bk_mark mark;        /* least sure figure so far */
    double straight_N;   /* rating for a straight pull; NaN not known */
} job;

static const char *name_of_part(const job *j)
{
    return j->part->ref ? j->part->ref : j->part->what;
}

/* The rating of the tag for a straight pull: as stated, or the least breaking force over its design factor. */
static double tag_rating(job *j)
{
    const bk_part *part = j->part;
    bk_working *w = j->w;
    if (isnan(part->wll_N) && isfinite(part->breaking_load_N)) {
        BK_GIVEN(w, F_break, part->breaking_load_N, FORCE, part->source);
        const char *source = part->source;
        double factor = part->design_factor;
        if (isnan(factor)) factor = bk_rig_rule(j->in, name_of(j->out, "design_factor.", j->kind), BK_DIM_NONE, &j->mark, &source);
        BK_GIVEN(w, Z, factor, NONE, source);
        BK_GIVEN(w, eta, isfinite(part->efficiency) ? part->efficiency : 1, NONE, "termination efficiency");
        BK_CALC(w, F_rated, F_break * eta / Z, FORCE, "least breaking force over design factor");
        return F_rated;
    }
    if (isnan(part->wll_N) || isnan(part->efficiency)) return part->wll_N;
    BK_GIVEN(w, F_tag, part->wll_N, FORCE, part->source);
    BK_GIVEN(w, eta, part->efficiency, NONE, "termination efficiency");
    BK_CALC(w, F_rated, F_tag * eta, FORCE, "rating times termination efficiency");
    return F_rated;
}

/* Factor of the hitch on *rating, which gives way to the tag's own rating for that hitch where there is one. */
static double hitch_factor(job *j, double *rating, const char **source)
{
    double factor = 1;
    *source = "straight pull";
    if (j->hitch == BK_HITCH_CHOKER && isfinite(j->part->choker_wll_N)) {
        *rating = j->part->choker_wll_N;
        *source = "choker rating of the tag";
    } else if (j->hitch == BK_HITCH_CHOKER) {
        factor = bk_rig_rule(j->in, name_of(j->out, "hitch.choker.", j->kind), BK_DIM_NONE, &j->mark, source);
        if (isnan(factor)) factor = bk_rig_rule(j->in, "hitch.choker", BK_DIM_NONE, &j->mark, source);
    } else if (j->hitch == BK_HITCH_BASKET && isfinite(j->part->basket_wll_N)) {
        *rating = j->part->basket_wll_N;
        *source = "basket rating of the tag, upright legs";
    } else if (j->hitch == BK_HITCH_BASKET) {
        factor = bk_rig_rule(j->in, "hitch.basket", BK_DIM_NONE, &j->mark, source);
    }
    return factor;
}

/* Legs of a basket that spread: share of the rating of upright legs, of the narrowest of the rule set's steps that holds
 * their angle; 0 past the last. */
static double spread_factor(job *j, const char **source)
{
    static const struct {
        const char *rule, *limit;
    } steps[] = {{"hitch.basket", "legs.vertical_within"}, {"hitch.basket_30", "legs.mode.limit_0"},
                 {"hitch.basket_45", "legs.mode.limit_1"}, {"hitch.basket_60", "legs.mode.limit_2"}};
    if (j->hitch != BK_HITCH_BASKET) return 1;
    const double angle = j->line->basket_angle_rad;
    if (isnan(angle)) {
        bk_findings_assume(j->out, "%s: both legs of the basket are taken to hang side by side; where they spread its rating falls "
                                   "with their angle: state it as `basket_angle`.", j->item);
        return 1;
    }
    const double upright = bk_rig_rule(j->in, "hitch.basket", BK_DIM_NONE, &j->mark, NULL);
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (!(angle <= bk_rig_rule(j->in, steps[i].limit, BK_DIM_ANGLE, NULL, NULL) * (1 + 1e-12))) continue;
        const double factor = bk_rig_rule(j->in, steps[i].rule, BK_DIM_NONE, &j->mark, source);
        if (isfinite(factor)) return factor / upright;
    }
    *source = "no rating for legs so flat";
    return 0;
}

/* A straight leg meets an edge only where the line itself says so.  NaN where an edge is stated and nothing tells what it is
 * to the sling. */
static double edge_factor(job *j, const char **source)
{
    const bk_part *part = j->part;
    const bool own = j->line && isfinite(j->line->edge_radius_m);
    const double edge_m = own ? j->line->edge_radius_m : j->in->plan->edge_radius_m;
    const double thick_m = isfinite(part->diameter_m) ? part->diameter_m : part->thickness_m;
    *source = "no edge in the way";
    if (!j->sling || (j->hitch == BK_HITCH_STRAIGHT && !own)) return 1;
    if (isnan(edge_m)) {
        bk_findings_assume(j->out, "%s: edge radius is not stated: no sharp edge, or an edge protector, is assumed.", j->item);
        return 1;
    }
    if (isnan(thick_m)) {
        bk_findings_assume(j->out, "%s: the thickness of %s is not known, so neither is its rating over the edge that the plan states: "
                                   "state `thickness` (or `diameter`).", j->item, name_of_part(j));
        return NAN;
    }
    return band_factor(j->in, strcmp(j->kind, "textile") == 0 ? "edge.radius.textile" : "edge.radius", BK_DIM_NONE,
                       edge_m / thick_m, &j->mark, source);
}

static double choker_rating(job *j, double F_limit)
{
    bk_working *w = j->w;
    const char *source = NULL;
    double angle = j->line->choke_angle_rad;
    if (isnan(angle)) {
        char by[40];
        angle = bk_rig_rule(j->in, "choke.natural", BK_DIM_ANGLE, &j->mark, &source);
        bk_findings_assume(j->out, "%s: choke angle is not stated: %s (a sling left to settle) is assumed.", j->item,
                           bk_quantity_print(by, sizeof by, angle, BK_DIM_ANGLE, j->in->plan->units, BK_TOLD_DIGITS));
    }
    const double factor = band_factor(j->in, "choke.angle", BK_DIM_ANGLE, angle, &j->mark, &source);
    BK_GIVEN(w, alpha, angle, ANGLE, isnan(j->line->choke_angle_rad) ? "taken, not stated" : "choke angle in the plan");
    (void)alpha;
    BK_GIVEN(w, k_choke, factor, NONE, source);
    BK_CALC(w, F_choker, F_limit * k_choke, FORCE, "choker rating at its choke angle");
    return F_choker;
}

/* Factor of a bend whose diameter is that many of the sling's; NaN where the rule set has none for such a sling.  Rope by
 * its curve; chain over a lug or pin of few pitches, a pitch being three diameters of a lifting chain (EN 818-2, memory). */
static double bend_factor(job *j, double ratio, const char **source)
{
    if (strcmp(j->kind, "rope") == 0) return band_factor(j->in, "bend.ratio", BK_DIM_NONE, ratio, &j->mark, source);
    if (strcmp(j->kind, "chain") != 0) return NAN;
    const double pitches = bk_rig_rule(j->in, "bend.chain_lug.pitches", BK_DIM_NONE, &j->mark, source);
    return ratio < 3 * pitches ? bk_rig_rule(j->in, "bend.chain_lug", BK_DIM_NONE, &j->mark, source) : 1;
}

static void basket_bend_assumed(job *j)
{
    char least[40];
    const double full = bk_rig_rule(j->in, "bend.basket_full", BK_DIM_NONE, NULL, NULL) * j->part->diameter_m;
    if (strcmp(j->kind, "rope") == 0 && isfinite(full))
        bk_findings_assume(j->out, "%s: bend diameter of the basket is not stated: %s or more is assumed, which its full rating "
                                   "needs.", j->item,
                           bk_quantity_print(least, sizeof least, full, BK_DIM_LENGTH, j->in->plan->units, BK_TOLD_DIGITS));
    else
        bk_findings_assume(j->out, "%s: bend diameter of the basket is not stated: large enough for the full rating is assumed.",
                           j->item);
}

/* Over a pin or the load; NaN where no bend is stated, or nothing is known of it. */
static double bend_rating(job *j, double F_limit)
{
    bk_working *w = j->w;
    const bk_part *part = j->part;
    const char *source = NULL;
    if (!j->sling) return NAN;
    if (isnan(j->line->bend_diameter_m)) {
        if (j->hitch == BK_HITCH_BASKET) basket_bend_assumed(j);
        return NAN;
    }
    if (isnan(part->diameter_m)) {
        if (isnan(part->width_m)) /* webbing: lines.c */
            bk_findings_assume(j->out, "%s: the diameter of %s is not known: the bend is not checked.", j->item, name_of_part(j));
        return NAN;
    }
    BK_GIVEN(w, D, j->line->bend_diameter_m, LENGTH, "bend diameter in the plan");
    BK_GIVEN(w, d, part->diameter_m, LENGTH, part->source);
    BK_CALC(w, ratio, D / d, NONE, "bend diameter over sling diameter");
    const double factor = bend_factor(j, ratio, &source);
    if (isnan(factor)) {
        bk_findings_assume(j->out, "%s: the rule set has no factor for the bend of %s: the bend is not checked.", j->item,
                           name_of_part(j));
        return NAN;
    }
    BK_GIVEN(w, k_bend, factor, NONE, source);
    BK_CALC(w, F_bend, F_limit * k_bend, FORCE, "rating over the bend");
    return F_bend;
}

/* Share of the rating with people below; less where the breaking force is known and its own factor asks for that. */
static double people_share(job *j, const char **source)
{
    const double share = bk_rig_rule(j->in, "people.factor", BK_DIM_NONE, &j->mark, source);
    const double breaking = j->part->breaking_load_N * (isfinite(j->part->efficiency) ? j->part->efficiency : 1);
    if (isnan(breaking) || isnan(j->straight_N)) return share;
    const char *asked_by = NULL;
    bk_mark mark = j->mark;
    const double factor = bk_rig_rule(j->in, name_of(j->out, "people.design_factor.", j->kind), BK_DIM_NONE, &mark, &asked_by);
    const double asked = breaking / factor / j->straight_N;
    if (!(asked < share * (1 - 1e-9))) return share;
    j->mark = mark;
    *source = asked_by;
    return asked;
}

static bk_rig_capacity capacity(const bk_check_input *in, bk_findings *out, const char *item, const bk_line *line,
                                const bk_part *part, bk_working *w)
{
    const bool sling = line && bk_rig_is_sling(part);
    job j = {in, out, item, line, part, w, family(part), sling, sling ? line->hitch : BK_HITCH_STRAIGHT, part->mark,
             NAN};
    bk_rig_capacity result = {NAN, NAN, NAN, part->mark};
    double rating = j.straight_N = tag_rating(&j);
    const char *hitch_source, *temperature_source, *edge_source;
    double hitch = hitch_factor(&j, &rating, &hitch_source);
    hitch *= spread_factor(&j, &hitch_source);
    if (isnan(rating)) return result;

    const double temperature_K = line && isfinite(line->temperature_K) ? line->temperature_K : in->plan->temperature_K;
    const double heat = temperature_factor(in, out, item, part, temperature_K, &j.mark, &temperature_source);
    const double edge = edge_factor(&j, &edge_source);
    double people = 1, critical = 1;
    const char *people_source = "nobody below", *critical_source = "not a critical lift";
    if (in->plan->people_below) people = people_share(&j, &people_source);
    if (in->plan->critical) critical = bk_rig_rule(in, "critical.share", BK_DIM_NONE, &j.mark, &critical_source);

    BK_GIVEN(w, WLL, rating, FORCE, part->source);
    BK_GIVEN(w, k_hitch, hitch, NONE, hitch_source);
    BK_GIVEN(w, k_temp, heat, NONE, temperature_source);
    BK_GIVEN(w, k_edge, edge, NONE, edge_source);
    BK_GIVEN(w, k_people, people, NONE, people_source);
    BK_GIVEN(w, k_critical, critical, NONE, critical_source);
    BK_CALC(w, F_limit, WLL * k_hitch * k_temp * k_edge * k_people * k_critical, FORCE,
            "rating in this hitch and these surroundings");
    result.tag_N = F_limit;
    if (sling) chemical_note(in, out, part);
    if (isnan(F_limit)) return result;
    if (j.hitch == BK_HITCH_CHOKER) result.choker_N = choker_rating(&j, F_limit);
    result.bend_N = bend_rating(&j, F_limit);
    result.mark = j.mark;
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
    *part = NULL;
    for (size_t i = 0; i < l->n_parts; i++) {
        const bk_part *p = &in->plan->parts[l->first_part + i];
        const bk_rig_capacity c = bk_rig_part_capacity(in, out, l, p, NULL);
        const double tag = l->hitch == BK_HITCH_CHOKER && bk_rig_is_sling(p) ? c.choker_N : c.tag_N; /* the lesser */
        const double limit = fmin(tag, c.bend_N); /* fmin passes NaN over: no bend */
        if (isnan(tag)) return NAN;
        *mark = bk_rig_less_sure(*mark, c.mark);
        if (limit < least) {
            least = limit;
            *part = p;
        }
    }
    return isfinite(least) ? least : (double)NAN;
}
