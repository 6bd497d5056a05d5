/* A plan from its bytes: YAML tree, things by name, references, what follows.
 *
 * The order is that of need: rules and hoists before what refers to them, names before references, references
 * before drawn lengths.  Mistakes never stop the reading; they stop the plan from being handed out.
 */
#include "reader.h"

#include <string.h>

static void defaults(bk_plan *plan)
{
    map_to_nan(&plan_keys, plan);
    map_to_nan(&dynamic_keys, plan);
    map_to_nan(&wind_keys, &plan->wind);
    plan->dynamic_factor = (bk_value){nan_value(), 0};
    plan->title = "";
}

static void read_version(reader *r, const bk_yaml *root)
{
    const bk_yaml *node = map_item(root, &plan_keys, "becket");
    if (node && strcmp(node->text, "1")) {
        path_to(r, "", "becket");
        complain(r, node->place, BK_E_VERSION, "this program reads plans of version 1, found %s",
                 shown(r, node));
        path_back(r, 0);
    }
}

typedef bk_status rules_of(bk_tables *, const char *, bk_place, const bk_rules **, bk_errors *);

/* The plan's rule set, as much of it as `ask` gives. */
static void read_rules(reader *r, const bk_yaml *root, rules_of *ask)
{
    const bk_yaml *node = bk_yaml_get(root, "rules");
    const bk_yaml *name = map_item(root, &plan_keys, "rules");
    if (node && !name) return; /* told already */
    r->rules_at = name ? name->place : root->place;
    bk_status status = ask(r->tables, name ? name->text : "en", r->rules_at, &r->rules, r->errors);
    if (status == BK_OK && (status = bk_tables_hold_rules(r->tables, r->rules, ask == bk_tables_rules, r->errors)) != BK_OK) r->rules = NULL;
    if (status != BK_OK && (r->first == BK_OK || status == BK_E_NOMEM)) r->first = status;
    r->plan->rules = r->rules;
}

double needed_rule(reader *r, const char *name, double low)
{
    if (!r->rules) return low; /* told already */
    const bk_rule *rule = bk_rules_number(r->rules, name, BK_DIM_NONE);
    if (rule && rule->value >= low) return rule->value;
    complain(r, r->rules_at, BK_E_RULE, "rule set \"%s\" has no number %s that is usable", r->rules->name, name);
    return low;
}

static void read_dynamic(reader *r, const bk_yaml *map)
{
    path_to(r, "", "dynamic");
    if (read_map(r, map, &dynamic_keys, map->place, r->plan)) {
        const bk_yaml *factor = map_item(map, &dynamic_keys, "factor");
        bk_value value;
        path_to(r, ".", "factor");
        if (factor && read_value(r, key_of(&dynamic_keys, "factor"), factor, &value)) r->plan->dynamic_factor = value;
    }
    path_back(r, 0);
}

static void read_inspections(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        bk_inspection piece = {.name = pair->key, .map = pair->value, .place = pair->place};
        path_to(r, "", "inspect");
        path_to(r, ".", pair->key);
        name_ok(r, pair->key, pair->place, true);
        read_map(r, pair->value, &inspection_keys, pair->place, &piece);
        path_back(r, 0);
        bk_inspection *at = PUSH(r, inspections);
        if (at) *at = piece;
    }
}

/* More things than any rig has would only cost time later on. */
static bool bounded(reader *r, const bk_yaml *root)
{
    const bk_plan *p = r->plan;
    size_t n = p->n_bodies + p->n_points + p->n_rings + p->n_anchors + p->n_lines + p->n_parts + p->n_hoists +
               p->n_runways + p->n_supports + p->n_trolleys + p->n_standing + p->n_shapes + p->n_duty_loads +
               p->n_meters + p->n_inspections + p->n_tackles;
    if (n > THINGS_MAX) {
        complain(r, root->place, BK_E_TOO_LARGE, "%zu things in one plan; want at most %d", n, THINGS_MAX);
        return false;
    }
    if (!p->n_bodies && !p->n_runways && !p->n_hoists && !p->n_inspections && !p->n_tackles && r->first == BK_OK)
        complain(
            r, root->place, BK_E_MISSING_KEY,
            "nothing to look at: a plan has \"bodies\" and what they hang from, \"runways\" or \"hoists\"");
    return true;
}

static void hand_over(reader *r)
{
    bk_plan *p = r->plan;
    p->bodies = r->bodies;
    p->points = r->points;
    p->rings = r->rings;
    p->anchors = r->anchors;
    p->lines = r->lines;
    p->parts = r->parts;
    p->hoists = r->hoists;
    p->runways = r->runways;
    p->supports = r->supports;
    p->trolleys = r->trolleys;
    p->standing = r->standing;
    p->sections = r->sections;
    p->steels = r->steels;
    p->shapes = r->shapes;
    p->duty_loads = r->duty_loads;
    p->meters = r->meters;
    p->inspections = r->inspections;
    p->tackles = r->tackles;
}

/* Whether the plan has anything that the rules of hoists and beams are about. */
static bool above_hook(const bk_plan *p)
{
    bool steel = false;
    for (size_t i = 0; i < p->n_bodies; i++)
        steel |= p->bodies[i].has_steel;
    return steel || p->n_hoists || p->n_runways;
}

/* Whether a group of things may have been written without being read: under a wrong name, or not as a map. */
static bool unread(const bk_yaml *root, const char *group)
{
    bool unknown = false;
    for (size_t i = 0; i < root->n; i++)
        unknown |= !key_of(&plan_keys, root->pairs[i].key);
    return bk_yaml_get(root, group) ? !map_item(root, &plan_keys, group) : unknown;
}

static void read_root(reader *r, const bk_yaml *root)
{
    if (!read_map(r, root, &plan_keys, root->place, r->plan)) return;
    const bk_yaml *dynamic = map_item(root, &plan_keys, "dynamic"),
                  *wind = map_item(root, &plan_keys, "wind");
    r->unread_ends = unread(root, "bodies") || unread(root, "rings") || unread(root, "anchors");
    r->unread_hoists = unread(root, "hoists");
    r->unread_runways = unread(root, "runways");
    read_version(r, root);
    read_rules(r, root, bk_tables_rig_rules);
    if (dynamic) read_dynamic(r, dynamic);
    if (isnan(r->plan->rigging_factor)) r->plan->rigging_factor = needed_rule(r, "dynamic.rigging", 1);
    if (wind) {
        path_to(r, "", "wind");
        read_map(r, wind, &wind_keys, wind->place, &r->plan->wind);
        if (!bk_yaml_get(wind, "speed") == !bk_yaml_get(wind, "pressure"))
            complain(r, wind->place, BK_E_VALUE, "want either \"speed\" or \"pressure\"");
        path_back(r, 0);
    }
    read_hoists(r, map_item(root, &plan_keys, "hoists"));
    read_bodies(r, map_item(root, &plan_keys, "bodies"));
    read_rings(r, map_item(root, &plan_keys, "rings"));
    read_anchors(r, map_item(root, &plan_keys, "anchors"));
    read_lines(r, map_item(root, &plan_keys, "lines"));
    read_runways(r, map_item(root, &plan_keys, "runways"));
    path_back(r, 0);
    read_tackles(r, map_item(root, &plan_keys, "tackles"));
    read_inspections(r, map_item(root, &plan_keys, "inspect"));
    if (!bounded(r, root) || r->first == BK_E_NOMEM) return;
    hand_over(r);
    if (r->rules && above_hook(r->plan)) read_rules(r, root, bk_tables_rules);
    resolve(r, root);
    derive(r);
    r->plan->notes = r->notes;
}

bk_status bk_plan_parse(const char *name, const char *bytes, size_t n, bk_tables *tables, bk_plan **out,
                        bk_errors *errors)
{
    *out = NULL;
    bk_arena *arena = bk_arena_new();
    bk_plan *plan = arena ? BK_NEW(arena, bk_plan, 1) : NULL;
    const char *file = plan ? bk_text_safe(arena, name) : NULL;
    char *text = file ? bk_arena_alloc(arena, n + 1, 1) : NULL;
    reader *r = text ? BK_NEW(arena, reader, 1) : NULL;
    if (!r) {
        bk_arena_free(arena);
        return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "out of memory");
    }
    if (n > 0) memcpy(text, bytes, n);
    *plan = (bk_plan){.arena = arena, .file = file, .text = text, .text_n = n};
    *r = (reader){.arena = arena, .tables = tables, .errors = errors, .file = file, .plan = plan};
    bk_digest(bytes, n, plan->digest);
    defaults(plan);
    const bk_yaml *root = NULL;
    bk_status status = bk_yaml_read(arena, file, bytes, n, &root, errors);
    if (root) { /* also with duplicate keys: they are told, and so is the rest */
        r->first = status;
        read_root(r, root);
        status = r->first;
    }
    if (status == BK_OK) {
        *out = plan;
        return BK_OK;
    }
    if (errors) bk_errors_sort(errors);
    bk_arena_free(arena);
    return status;
}

bk_status bk_plan_read(const char *path, bk_tables *tables, bk_plan **out, bk_errors *errors)
{
    *out = NULL;
    bk_arena *arena = bk_arena_new();
    const char *bytes = NULL;
    size_t n = 0;
    if (!arena) return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "out of memory");
    bk_status status = bk_file_read(arena, path, BK_YAML_MAX_BYTES, &bytes, &n, errors);
    if (status == BK_OK)
        status = bk_plan_parse(strcmp(path, "-") ? path : "standard input", bytes, n, tables, out, errors);
    bk_arena_free(arena);
    return status;
}

void bk_plan_free(bk_plan *plan)
{
    if (plan) bk_arena_free(plan->arena);
}

bk_vec3 bk_plan_end_at(const bk_plan *plan, bk_end end)
{
    if (end.kind == BK_END_RING) return plan->rings[end.index].at_m;
    if (end.kind == BK_END_ANCHOR) return plan->anchors[end.index].at_m.v;
    const bk_point *point = &plan->points[end.index];
    return bk_vec3_add(plan->bodies[point->body].at_m, point->at_m);
}

const char *bk_plan_end_name(const bk_plan *plan, bk_end end)
{
    if (end.kind == BK_END_RING) return plan->rings[end.index].name;
    if (end.kind == BK_END_ANCHOR) return plan->anchors[end.index].name;
    const bk_point *point = &plan->points[end.index];
    return bk_arena_printf(plan->arena, "%s.%s", plan->bodies[point->body].name, point->name);
}
