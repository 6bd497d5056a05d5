/* What follows from what was written: places of anchors on trolleys, drawn lengths, masses and stiffnesses of
 * lines.
 *
 * A line's parts hang in series: part i of length l_i has EA_i = wll / stretch, so that
 *     EA = L0 / sum(l_i / EA_i).
 * Slings without a length of their own share what is left of the line; parts that state no stretch are rigid.
 * A line of which nothing is known stretches by a share of the rule set under the weight of the whole plan; the plan says
 * so in a note. A hoist's body and the whole of its load chain hang at one end of its line, its hook block at the
 * other, as in the forces of the hoist itself; a line's own mass is that of its gear.
 */
#include "reader.h"

#include <string.h>

/* A line whose ends are drawn nearer than this has no direction. */
#define NO_LENGTH_M 1e-9
/* How much longer than the line its parts may be before it is a slip. */
#define PARTS_SLACK 0.01

static void path_of_line(reader *r, const bk_line *line)
{
    path_back(r, 0);
    path_to(r, "", "lines");
    path_to(r, ".", line->name);
}

static bool known(const bk_line *line)
{
    return line->from.index != BK_NONE && line->to.index != BK_NONE;
}

static bool finite(bk_vec3 v)
{
    return isfinite(v.x) && isfinite(v.y) && isfinite(v.z);
}

static bool ends_at_anchor(bk_end end, size_t anchor)
{
    return end.kind == BK_END_ANCHOR && end.index == anchor;
}

/* An anchor that only says which trolley holds it: plumb above the other end of its first line, at the line's
 * length, else the hoist's headroom, else 1 m. */
static void place_anchors(reader *r)
{
    for (size_t a = 0; a < r->plan->n_anchors; a++) {
        bk_anchor *anchor = &r->anchors[a];
        if (anchor->trolley == BK_NONE || !isnan(anchor->at_m.v.x)) continue;
        for (size_t i = 0; i < r->plan->n_lines; i++) {
            const bk_line *line = &r->lines[i];
            bool first = ends_at_anchor(line->from, a);
            if (!known(line) || (!first && !ends_at_anchor(line->to, a))) continue;
            bk_vec3 below = bk_plan_end_at(r->plan, first ? line->to : line->from);
            double up = line->length_m.v;
            if (isnan(up) && line->hoist != BK_NONE) up = r->hoists[line->hoist].headroom_m;
            if (isnan(up)) up = 1;
            anchor->at_m.v = bk_vec3_add(below, bk_vec3_of(0, 0, up));
            break;
        }
    }
}

static void draw_line(reader *r, bk_line *line)
{
    if (!known(line)) return;
    bk_vec3 from = bk_plan_end_at(r->plan, line->from), to = bk_plan_end_at(r->plan, line->to);
    if (!finite(from) || !finite(to)) return;
    double distance = bk_vec3_norm(bk_vec3_sub(to, from));
    line->upper_is_from = from.z >= to.z;
    if (distance < NO_LENGTH_M)
        complain(r, line->place, BK_E_VALUE,
                 "its ends are drawn in the same place: a line without direction");
    else if (!line->length_given)
        line->length_m = (bk_value){distance, 0};
}

static void check_parts_length(reader *r, const bk_line *line)
{
    double sum = 0;
    for (size_t i = 0; i < line->n_parts; i++) {
        double l = r->parts[line->first_part + i].length_m;
        if (!isnan(l)) sum += l;
    }
    char a[64], b[64];
    bk_quantity_print(a, sizeof a, sum, BK_DIM_LENGTH, r->plan->units, 4);
    bk_quantity_print(b, sizeof b, line->length_m.v, BK_DIM_LENGTH, r->plan->units, 4);
    if (!(sum > line->length_m.v * (1 + PARTS_SLACK) + line->length_m.tol)) return;
    if (line->length_given)
        complain(r, line->place, BK_E_VALUE,
                 "its parts are %s long together, more than the line's length of %s", a, b);
    else
        note(r,
             "line %s: its parts are %s long together, its ends are drawn %s apart; the drawn distance is "
             "used",
             line->name, a, b);
}

/* Slings take length: a part that stretches or weighs by the metre.  Shackles and hooks do not, unless they
 * say so. */
static bool takes_length(const bk_part *part)
{
    return part->stretch_at_wll > 0 || part->mass_per_m_kg_m > 0;
}

/* Length of part i within the line: its own, or, of a sling, an equal share of what the others leave. */
static double part_length(const reader *r, const bk_line *line, size_t i)
{
    double own = r->parts[line->first_part + i].length_m, left = line->length_m.v;
    size_t without = 0;
    if (!isnan(own)) return own;
    if (!takes_length(&r->parts[line->first_part + i])) return 0;
    for (size_t k = 0; k < line->n_parts; k++) {
        double l = r->parts[line->first_part + k].length_m;
        if (!isnan(l))
            left -= l;
        else if (takes_length(&r->parts[line->first_part + k]))
            without++;
    }
    return left > 0 ? left / (double)without : 0;
}

static double zero_if_nan(double v)
{
    return isnan(v) ? 0 : v;
}

static void line_masses(reader *r, bk_line *line)
{
    if (isnan(line->mass_kg)) {
        line->mass_kg = 0;
        for (size_t i = 0; i < line->n_parts; i++) {
            const bk_part *part = &r->parts[line->first_part + i];
            double of_piece = zero_if_nan(part->mass_kg);
            double by_length = zero_if_nan(part->mass_per_m_kg_m);
            /* a sling that states its mass weighs that, also where its table prints one per length */
            line->mass_kg += of_piece > 0 ? of_piece : by_length * part_length(r, line, i);
        }
    }
    if (line->hoist == BK_NONE) return;
    const bk_hoist *hoist = &r->hoists[line->hoist];
    double chain =
        zero_if_nan(hoist->chain_mass_per_m_kg_m) * hoist->falls * zero_if_nan(hoist->height_of_lift_m);
    double body = zero_if_nan(hoist->self_mass_kg) + chain, hook = zero_if_nan(hoist->hook_mass_kg);
    bool body_at_from = line->upper_is_from == (hoist->hung == BK_BODY_UP);
    line->from_mass_kg = body_at_from ? body : hook;
    line->to_mass_kg = body_at_from ? hook : body;
}

static double total_weight(const reader *r)
{
    double mass = 0;
    for (size_t i = 0; i < r->plan->n_bodies; i++)
        mass += r->bodies[i].mass_kg.v;
    for (size_t i = 0; i < r->plan->n_rings; i++)
        mass += r->rings[i].mass_kg;
    for (size_t i = 0; i < r->plan->n_lines; i++)
        mass += r->lines[i].mass_kg + r->lines[i].from_mass_kg + r->lines[i].to_mass_kg;
    return mass * BK_STANDARD_GRAVITY_M_PER_S2;
}

static void line_stiffness(reader *r, bk_line *line, double weight_N, double assumed_stretch)
{
    if (!isnan(line->ea_N)) {
        line->ea_by = "ea in the plan";
        return;
    }
    double give = 0; /* elongation per force */
    for (size_t i = 0; i < line->n_parts; i++) {
        const bk_part *part = &r->parts[line->first_part + i];
        if (part->stretch_at_wll > 0 && part->wll_N > 0)
            give += part_length(r, line, i) * part->stretch_at_wll / part->wll_N;
    }
    if (give > 0) {
        line->ea_N = line->length_m.v / give;
        line->ea_by = "stretch_at_wll of its parts";
        return;
    }
    line->ea_N = (weight_N > 0 ? weight_N : 1) / assumed_stretch;
    line->ea_by = "assumed stretch of the rule set under the weight of the whole plan";
    line->ea_assumed = true;
}

/* Names of things, each once, and no more than a reader wants to see. */
#define NAMES_MAX 6
typedef struct names {
    const char *at[NAMES_MAX];
    size_t n;
    bool more;
} names;

static void add_name(names *all, const char *name)
{
    for (size_t i = 0; i < all->n; i++)
        if (strcmp(all->at[i], name) == 0) return;
    if (all->n < NAMES_MAX)
        all->at[all->n++] = name;
    else
        all->more = true;
}

static const char *joined(reader *r, const names *all)
{
    const char *text = all->at[0];
    for (size_t i = 1; i < all->n && text; i++)
        text = bk_arena_printf(r->arena, "%s, %s", text, all->at[i]);
    if (all->more && text) text = bk_arena_printf(r->arena, "%s and others", text);
    return text ? text : "";
}

static void weighs_nothing(const reader *r, names *all, size_t first_part, size_t n_parts)
{
    for (size_t i = 0; i < n_parts; i++) {
        const bk_part *part = &r->parts[first_part + i];
        if (isnan(part->mass_kg) && isnan(part->mass_per_m_kg_m)) add_name(all, part->ref ? part->ref : part->what);
    }
}

static void hoist_notes(reader *r)
{
    for (size_t h = 0; h < r->plan->n_hoists; h++) {
        size_t uses = 0;
        for (size_t i = 0; i < r->plan->n_lines; i++)
            uses += r->lines[i].hoist == h;
        if (uses > 1)
            note(r, "hoist %s is named by %zu lines: each is taken to have a hoist of its own of that kind",
                 r->hoists[h].name, uses);
        for (size_t i = 0; i < r->plan->n_trolleys; i++)
            uses += r->trolleys[i].hoist == h;
        if (!uses) continue;
        if (isnan(r->hoists[h].self_mass_kg))
            note(r, "hoist %s: its own mass is not given and taken as 0", r->hoists[h].name);
        if (isnan(r->hoists[h].hook_mass_kg))
            note(r, "hoist %s: the mass of its hook block is not given and taken as 0", r->hoists[h].name);
        if (r->hoists[h].chain_mass_per_m_kg_m > 0 && isnan(r->hoists[h].height_of_lift_m))
            note(r, "hoist %s: its height of lift is not given, so its chain's mass is taken as 0",
                 r->hoists[h].name);
        if (isnan(r->hoists[h].chain_mass_per_m_kg_m))
            note(r, "hoist %s: the mass of its chain is not given and taken as 0", r->hoists[h].name);
    }
    /* From here on a mass that is not known is none. */
    for (size_t h = 0; h < r->plan->n_hoists; h++) {
        r->hoists[h].self_mass_kg = zero_if_nan(r->hoists[h].self_mass_kg);
        r->hoists[h].hook_mass_kg = zero_if_nan(r->hoists[h].hook_mass_kg);
        r->hoists[h].chain_mass_per_m_kg_m = zero_if_nan(r->hoists[h].chain_mass_per_m_kg_m);
    }
}

/* A hook that may stand off makes its line so much longer or shorter. */
static void level_of_hook(reader *r, bk_line *line)
{
    const bk_hoist *hoist = &r->hoists[line->hoist];
    line->length_m.tol += hoist->level_m;
    if (line->length_m.tol > 0 && line->length_m.tol >= line->length_m.v)
        complain(r, line->place, BK_E_TOLERANCE, "the level of hoist \"%s\" and the line's own tolerance are as much as its length",
                 hoist->name);
}

void derive(reader *r)
{
    place_anchors(r);
    for (size_t i = 0; i < r->plan->n_lines; i++) {
        bk_line *line = &r->lines[i];
        path_of_line(r, line);
        draw_line(r, line);
        check_parts_length(r, line);
    }
    path_back(r, 0);
    if (r->first != BK_OK) return;
    hoist_notes(r);
    names weightless = {.n = 0}, assumed = {.n = 0};
    for (size_t i = 0; i < r->plan->n_rings; i++)
        if (r->rings[i].mass_kg == 0) weighs_nothing(r, &weightless, r->rings[i].first_part, r->rings[i].n_parts);
    for (size_t i = 0; i < r->plan->n_lines; i++) {
        bk_line *line = &r->lines[i];
        if (isnan(line->mass_kg)) weighs_nothing(r, &weightless, line->first_part, line->n_parts);
        line_masses(r, line);
        if (line->hoist != BK_NONE) level_of_hook(r, line);
    }
    double weight = total_weight(r), stretch = needed_rule(r, "stretch.assumed", 1e-6);
    for (size_t i = 0; i < r->plan->n_lines; i++) {
        line_stiffness(r, &r->lines[i], weight, stretch);
        if (r->lines[i].ea_assumed) add_name(&assumed, r->lines[i].name);
    }
    char percent[24];
    if (assumed.n)
        note(r,
             "stretch of %s is not known (no ea, no stretch_at_wll) and assumed: %s %% under the weight of the whole plan; "
             "where more legs carry than balance alone decides, their shares rest on it",
             joined(r, &assumed), bk_plain_print(percent, sizeof percent, 100 * stretch, 3));
    if (weightless.n)
        note(r, "no mass is known of %s: none is counted here; state `mass`, or allow for it in the load",
             joined(r, &weightless));
    for (size_t a = 0; a < r->plan->n_anchors; a++)
        if (isnan(r->anchors[a].at_m.v.x)) r->anchors[a].at_m.v = bk_vec3_of(0, 0, 0);
}
