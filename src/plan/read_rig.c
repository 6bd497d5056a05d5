/* The rig: bodies with their points, rings, anchors, lines.  References are kept as text until all names are
 * known (resolve.c). */
#include "reader.h"

#include <string.h>

/* cosine of the angle between the axis of an eye and the normal of its plane: 90 degrees but for sloppy
 * figures */
#define PARALLEL 0.5

/* Sets the path to one named thing.  A thing with mistakes is kept under its name all the same, so that what
 * refers to it does not complain as well. */
static void open_named(reader *r, const char *group, const char *name)
{
    path_back(r, 0);
    path_to(r, "", group);
    path_to(r, ".", name);
}

static void read_point(reader *r, const bk_yaml_pair *pair, size_t body)
{
    bk_point point = {.name = pair->key, .body = body, .place = pair->place};
    map_to_nan(&point_keys, &point);
    name_ok(r, pair->key, pair->place, false);
    if (pair->value->kind == BK_YAML_MAP) {
        read_map(r, pair->value, &point_keys, pair->place, &point);
        if (fabs(bk_vec3_dot(point.axis, point.plane)) > PARALLEL)
            complain(r, bk_yaml_get(pair->value, "plane")->place, BK_E_VALUE,
                     "the normal of the eye's plane lies along its axis: it stands across it");
        read_parts_of(r, pair->value, &point_keys, &point.first_part, &point.n_parts);
    } else {
        read_value(r, key_of(&point_keys, "at"), pair->value, &point.at_m);
    }
    bk_point *at = PUSH(r, points);
    if (at) *at = point;
}

/* Index of the point that a node names within a body, BK_NONE after a complaint. */
static size_t point_of_body(reader *r, const bk_body *body, const bk_yaml *node)
{
    if (node->kind != BK_YAML_SCALAR) {
        complain(r, node->place, BK_E_KIND, "want the name of a point of this body, found %s",
                 shown(r, node));
        return BK_NONE;
    }
    const char *name = node->text;
    size_t n = strlen(body->name);
    if (!strncmp(name, body->name, n) && name[n] == '.') name += n + 1;
    for (size_t i = 0; i < body->n_points; i++)
        if (!strcmp(r->points[body->first_point + i].name, name)) return body->first_point + i;
    const char **known = BK_NEW(r->arena, const char *, body->n_points + 1);
    if (!known) {
        out_of_memory(r);
        return BK_NONE;
    }
    for (size_t i = 0; i < body->n_points; i++)
        known[i] = r->points[body->first_point + i].name;
    complain(r, node->place, BK_E_REFERENCE, "this body has no point %s; %s", shown(r, node),
             hint(r, name, known, body->n_points));
    return BK_NONE;
}

static void read_body_steel(reader *r, const bk_yaml *map, bk_body *body)
{
    bk_body_steel steel = {
        .section = BK_NONE, .steel = BK_NONE, .from = BK_NONE, .to = BK_NONE, .place = map->place};
    size_t back = path_to(r, ".", "steel");
    map_to_nan(&body_steel_keys, &steel);
    if (read_map(r, map, &body_steel_keys, map->place, &steel)) {
        const bk_yaml *section = map_item(map, &body_steel_keys, "section");
        const bk_yaml *grade = map_item(map, &body_steel_keys, "steel");
        const bk_yaml *between = map_item(map, &body_steel_keys, "between");
        size_t here;
        if (section) {
            here = path_to(r, ".", "section");
            steel.section = read_section(r, section, section->place);
            path_back(r, here);
        }
        if (grade) {
            here = path_to(r, ".", "steel");
            steel.steel = read_steel(r, grade, grade->place);
            path_back(r, here);
        }
        here = path_to(r, ".", "between");
        if (between && between->n != 2) {
            complain(r, between->place, BK_E_KIND, "want two points of the body, found %zu", between->n);
        } else if (between) {
            steel.from = point_of_body(r, body, between->items[0]);
            steel.to = point_of_body(r, body, between->items[1]);
            if (steel.from != BK_NONE && steel.from == steel.to)
                complain(r, between->items[1]->place, BK_E_VALUE,
                         "want two different points, found one twice");
        }
        path_back(r, here);
    }
    body->has_steel = true;
    body->steel = steel;
    path_back(r, back);
}

/* A default tolerance of the rule set for a figure known in that way: a share of it, or in its own dimension. */
static double rule_tolerance(reader *r, const char *of, bk_dim dim, bk_known_by by, bk_place place, bool *share)
{
    static const char *const words[] = {"", "weighed", "drawing", "estimated"};
    *share = false;
    if (!r->rules) return 0;
    const char *name = bk_arena_printf(r->arena, "tolerance.%s.%s", of, words[by]);
    if (!name) {
        out_of_memory(r);
        return 0;
    }
    const bk_rule *rule = bk_rules_number(r->rules, name, BK_DIM_NONE);
    *share = rule != NULL;
    if (!rule) rule = bk_rules_number(r->rules, name, dim);
    if (!rule) complain(r, place, BK_E_RULE, "rule set \"%s\" has no share and no %s %s", r->rules->name, bk_dim_name(dim), name);
    return rule ? rule->value : 0;
}

/* Size of a body as its points show it: what a share of the centre of gravity's place is a share of. */
static bk_vec3 extent(const reader *r, const bk_body *body)
{
    bk_vec3 low = {0, 0, 0}, high = {0, 0, 0};
    for (size_t i = 0; i < body->n_points; i++) {
        bk_vec3 p = r->points[body->first_point + i].at_m;
        if (i == 0) low = high = p;
        low = bk_vec3_of(fmin(low.x, p.x), fmin(low.y, p.y), fmin(low.z, p.z));
        high = bk_vec3_of(fmax(high.x, p.x), fmax(high.y, p.y), fmax(high.z, p.z));
    }
    return bk_vec3_sub(high, low);
}

static void default_tolerances(reader *r, const bk_yaml *map, bk_body *body)
{
    bool share;
    if (body->mass_by != BK_BY_NOTHING && body->mass_kg.tol <= 0) {
        double tol = rule_tolerance(r, "mass", BK_DIM_MASS, body->mass_by, bk_yaml_get(map, "mass_source")->place, &share);
        body->mass_kg.tol = share ? tol * body->mass_kg.v : tol;
        if (body->mass_kg.tol >= body->mass_kg.v)
            complain(r, bk_yaml_get(map, "mass_source")->place, BK_E_RULE,
                     "the rule set's tolerance of a mass so known is as large as the mass itself");
        body->mass_tol_assumed = true;
    }
    bk_vec3 t = body->cog_m.tol;
    if (body->cog_by != BK_BY_NOTHING && t.x <= 0 && t.y <= 0 && t.z <= 0) {
        double tol = rule_tolerance(r, "cog", BK_DIM_LENGTH, body->cog_by, bk_yaml_get(map, "cog_source")->place, &share);
        body->cog_m.tol = share ? bk_vec3_scale(tol, extent(r, body)) : bk_vec3_of(tol, tol, tol);
        body->cog_tol_assumed = true;
    }
}

static void read_body(reader *r, const bk_yaml_pair *pair)
{
    const bk_yaml *map = pair->value;
    bk_body body = {.name = pair->key, .place = pair->place, .first_point = r->plan->n_points};
    open_named(r, "bodies", pair->key);
    map_to_nan(&body_keys, &body);
    body.stated_mass_kg.v = nan_value();
    body.at_m = bk_vec3_of(0, 0, 0);
    name_ok(r, pair->key, pair->place, false);
    bool is_map = read_map(r, map, &body_keys, pair->place, &body);
    const bk_yaml *points = is_map ? map_item(map, &body_keys, "points") : NULL;
    /* its points are not known, and that is told */
    if (!points && (!is_map || bk_yaml_get(map, "points") || misspelt(r, map, &body_keys, "points")))
        r->unread_ends = true;
    if (is_map) {
        const bk_yaml *steel = map_item(map, &body_keys, "steel");
        const bk_yaml *made_of = map_item(map, &body_keys, "made_of");
        for (size_t i = 0; points && i < points->n; i++) {
            size_t back = path_to(r, ".points.", points->pairs[i].key);
            read_point(r, &points->pairs[i], r->plan->n_bodies);
            path_back(r, back);
        }
        body.n_points = r->plan->n_points - body.first_point;
        if (steel) read_body_steel(r, steel, &body);
        if (made_of)
            read_made_of(r, made_of, &body, bk_yaml_get(map, "cog") != NULL);
        else if (!bk_yaml_get(map, "made_of") && !misspelt(r, map, &body_keys, "made_of")) {
            missing(r, map, &body_keys, pair->place, "mass", " (or \"made_of\")");
            missing(r, map, &body_keys, pair->place, "cog", " (or \"made_of\")");
        }
        default_tolerances(r, map, &body);
    }
    bk_body *at = PUSH(r, bodies);
    if (at) *at = body;
}

void read_bodies(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++)
        read_body(r, &map->pairs[i]);
}

void read_rings(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        bk_ring ring = {.name = pair->key, .place = pair->place};
        open_named(r, "rings", pair->key);
        map_to_nan(&ring_keys, &ring);
        name_ok(r, pair->key, pair->place, false);
        if (read_map(r, pair->value, &ring_keys, pair->place, &ring)) {
            read_parts_of(r, pair->value, &ring_keys, &ring.first_part, &ring.n_parts);
            if (ring.n_parts > 1)
                complain(r, pair->place, BK_E_VALUE, "a ring is one part, found %zu", ring.n_parts);
        }
        if (isnan(ring.mass_kg)) {
            double of_part = ring.n_parts ? r->parts[ring.first_part].mass_kg : 0;
            ring.mass_kg = isnan(of_part) ? 0 : of_part;
        }
        bk_ring *at = PUSH(r, rings);
        if (at) *at = ring;
    }
}

void read_anchors(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        bk_anchor anchor = {.name = pair->key, .place = pair->place, .runway = BK_NONE, .trolley = BK_NONE};
        open_named(r, "anchors", pair->key);
        map_to_nan(&anchor_keys, &anchor);
        name_ok(r, pair->key, pair->place, false);
        if (read_map(r, pair->value, &anchor_keys, pair->place, &anchor)) {
            if (!bk_yaml_get(pair->value, "on") && !misspelt(r, pair->value, &anchor_keys, "on"))
                missing(r, pair->value, &anchor_keys, pair->place, "at", " (or \"on\")");
            const bk_yaml *level = map_item(pair->value, &anchor_keys, "level");
            size_t back = path_to(r, ".", "level");
            double off;
            if (level && read_value(r, key_of(&anchor_keys, "level"), level, &off)) anchor.at_m.tol.z += off;
            path_back(r, back);
            read_parts_of(r, pair->value, &anchor_keys, &anchor.first_part, &anchor.n_parts);
        }
        bk_anchor *at = PUSH(r, anchors);
        if (at) *at = anchor;
    }
}

void read_lines(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        bk_line line = {.name = pair->key,
                        .place = pair->place,
                        .hoist = BK_NONE,
                        .from.index = BK_NONE,
                        .to.index = BK_NONE};
        open_named(r, "lines", pair->key);
        map_to_nan(&line_keys, &line);
        name_ok(r, pair->key, pair->place, true);
        if (read_map(r, pair->value, &line_keys, pair->place, &line)) {
            line.length_given = !isnan(line.length_m.v);
            read_parts_of(r, pair->value, &line_keys, &line.first_part, &line.n_parts);
        }
        bk_line *at = PUSH(r, lines);
        if (at) *at = line;
    }
}
