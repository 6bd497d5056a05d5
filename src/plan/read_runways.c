/* Runways: a beam, its supports, trolleys and standing loads. */
#include "reader.h"

#include <string.h>

/* Places along a beam nearer than this are one. */
#define SAME_PLACE_M 1e-6

static const char *metres(reader *r, double v)
{
    char number[64];
    bk_plain_print(number, sizeof number, v, 6);
    const char *text = bk_arena_printf(r->arena, "%s m", number);
    if (!text) out_of_memory(r);
    return text ? text : "";
}

static bool outside(const bk_runway *runway, double at)
{
    return at < runway->from_m - SAME_PLACE_M || at > runway->to_m + SAME_PLACE_M;
}

/* The same place, told in other units, is a rounding beyond the end: it is on the beam. */
static double on_beam(const bk_runway *runway, double at)
{
    return isnan(at) || outside(runway, at) ? at : fmax(runway->from_m, fmin(at, runway->to_m));
}

static const bk_yaml *place_in(const bk_yaml *map, const char *key)
{
    const bk_yaml *node = bk_yaml_get(map, key);
    return node ? node : map;
}

static void read_supports(reader *r, const bk_yaml *list, bk_runway *runway)
{
    const bk_key *key = key_of(&runway_keys, "supports");
    size_t back = path_to(r, ".", "supports");
    double last = -(double)INFINITY;
    if (!list->n) complain(r, list->place, BK_E_VALUE, "want at least one support, found none");
    for (size_t i = 0; i < list->n; i++) {
        const bk_yaml *node = list->items[i];
        bk_support support = {.place = node->place};
        size_t item = path_to_item(r, i);
        map_to_nan(&support_keys, &support);
        support.count = 1;
        if (node->kind == BK_YAML_MAP) {
            read_map(r, node, &support_keys, node->place, &support);
            read_parts_of(r, node, &support_keys, &support.first_part, &support.n_parts);
        } else {
            bk_key place = *key;
            place.kind = BK_KEY_NUMBER;
            read_value(r, &place, node, &support.at_m);
        }
        const bk_yaml *at = place_in(node, "at");
        if (support.at_m <= last + SAME_PLACE_M)
            complain(r, at->place, BK_E_VALUE, "supports must rise along the beam: %s after %s",
                     metres(r, support.at_m), metres(r, last));
        if (outside(runway, support.at_m))
            complain(r, at->place, BK_E_VALUE, "the support is off the beam, which runs from %s to %s",
                     metres(r, runway->from_m), metres(r, runway->to_m));
        support.at_m = on_beam(runway, support.at_m);
        if (support.fixed && i > 0 && i + 1 < list->n)
            complain(r, place_in(node, "fixed")->place, BK_E_VALUE,
                     "only the first or the last support can be fixed");
        if (list->n == 1 && !support.fixed)
            complain(
                r, node->place, BK_E_VALUE,
                "one support holds no beam unless it is fixed: give a second one, or {at: %s, fixed: yes}",
                isnan(support.at_m) ? "..." : metres(r, support.at_m));
        if (!isnan(support.at_m)) last = support.at_m;
        path_back(r, item);
        bk_support *to = PUSH(r, supports);
        if (to) *to = support;
    }
    runway->n_supports = r->plan->n_supports - runway->first_support;
    path_back(r, back);
}

static void read_travel(reader *r, const bk_yaml *map, const bk_runway *runway, bk_trolley *trolley)
{
    const bk_yaml *travel = map_item(map, &trolley_keys, "travel");
    double v[2];
    size_t n;
    if (!travel) return;
    size_t back = path_to(r, ".", "travel");
    if (read_numbers(r, key_of(&trolley_keys, "travel"), travel, 2, 2, v, &n)) {
        double half = trolley->wheel_base_m / 2;
        trolley->from_m = on_beam(runway, v[0]);
        trolley->to_m = on_beam(runway, v[1]);
        if (v[1] < v[0])
            complain(r, travel->place, BK_E_VALUE, "the travel runs backwards: from %s to %s",
                     metres(r, v[0]), metres(r, v[1]));
        else if (outside(runway, v[0]) || outside(runway, v[1]))
            complain(r, travel->items[outside(runway, v[0]) ? 0 : 1]->place, BK_E_VALUE,
                     "the travel leaves the beam, which runs from %s to %s", metres(r, runway->from_m),
                     metres(r, runway->to_m));
        else if (outside(runway, v[0] - half) || outside(runway, v[1] + half))
            note(r,
                 "%s.%s: at the end of its travel a wheel stands %s beyond the beam; counted as if the beam "
                 "reached there",
                 runway->name, trolley->name,
                 metres(r, fmax(runway->from_m - v[0], v[1] - runway->to_m) + half));
    }
    path_back(r, back);
}

static void read_trolley(reader *r, const bk_yaml_pair *pair, const bk_runway *runway)
{
    bk_trolley trolley = {.name = pair->key, .hoist = BK_NONE, .place = pair->place};
    const bk_yaml *map = pair->value;
    map_to_nan(&trolley_keys, &trolley);
    trolley.from_m = trolley.to_m = nan_value();
    name_ok(r, pair->key, pair->place, false);
    if (read_map(r, map, &trolley_keys, pair->place, &trolley)) {
        if (trolley.wheels > 2 && trolley.wheels < 4)
            complain(r, bk_yaml_get(map, "wheels")->place, BK_E_VALUE, "want 2 or 4 wheels, found 3");
        if (trolley.wheels > 2) missing(r, map, &trolley_keys, pair->place, "wheel_base", "");
        if (!bk_yaml_get(map, "wheels")) {
            /* the whole load in one place is the worse for the beam */
            trolley.wheels = trolley.wheel_base_m > 0 ? 4 : 2;
            note(r, "%s.%s: the number of wheels is not given and taken as %s", runway->name, pair->key,
                 trolley.wheels > 2 ? "4, since it has a wheel base" : "2, the whole load in one place");
        }
        if (isnan(trolley.wheel_base_m)) trolley.wheel_base_m = 0;
        read_parts_of(r, map, &trolley_keys, &trolley.first_part, &trolley.n_parts);
        for (size_t i = 0; isnan(trolley.mass_kg) && i < trolley.n_parts; i++)
            trolley.mass_kg = r->parts[trolley.first_part + i].mass_kg;
        if (isnan(trolley.mass_kg)) {
            trolley.mass_kg = 0;
            note(r, "%s.%s: the trolley's own mass is not given and taken as 0", runway->name, pair->key);
        }
        const bk_section_in *section = runway->section != BK_NONE ? &r->sections[runway->section] : NULL;
        if (section && 2 * trolley.wheel_to_edge_m >= section->b_m - section->tw_m) {
            size_t back = path_to(r, ".", "wheel_to_edge");
            complain(r, bk_yaml_get(map, "wheel_to_edge")->place, BK_E_VALUE,
                     "the wheels would run in the web: its flange reaches %s from it",
                     metres(r, (section->b_m - section->tw_m) / 2));
            path_back(r, back);
        }
        read_travel(r, map, runway, &trolley);
        const bk_yaml *hoist = map_item(map, &trolley_keys, "hoist");
        size_t back = path_to(r, ".", "hoist");
        if (hoist) trolley.hoist = find_hoist(r, hoist);
        path_back(r, back);
    }
    bk_trolley *at = PUSH(r, trolleys);
    if (at) *at = trolley;
}

static void read_standing(reader *r, const bk_yaml *map, bk_runway *runway)
{
    bk_standing_load load = {.place = map->place};
    map_to_nan(&standing_keys, &load);
    if (read_map(r, map, &standing_keys, map->place, &load)) {
        static const char *const point[] = {"at", "force"}, *const spread[] = {"from", "to", "per_metre"};
        bool is_point = bk_yaml_get(map, "at") || bk_yaml_get(map, "force");
        bool is_spread = bk_yaml_get(map, "from") || bk_yaml_get(map, "to") || bk_yaml_get(map, "per_metre");
        if (is_point == is_spread) {
            complain(r, map->place, BK_E_VALUE, "want either {at, force} or {from, to, per_metre}, found %s",
                     is_point ? "both" : "neither");
        } else {
            for (size_t i = 0; i < (is_point ? 2 : 3); i++)
                missing(r, map, &standing_keys, map->place, is_point ? point[i] : spread[i], "");
            if (is_point) load.to_m = load.from_m;
            if (outside(runway, load.from_m) || outside(runway, load.to_m))
                complain(
                    r, place_in(map, outside(runway, load.from_m) ? (is_point ? "at" : "from") : "to")->place,
                    BK_E_VALUE, "the load is off the beam, which runs from %s to %s",
                    metres(r, runway->from_m), metres(r, runway->to_m));
            load.from_m = on_beam(runway, load.from_m);
            load.to_m = on_beam(runway, load.to_m);
            if (is_spread && load.to_m <= load.from_m)
                complain(r, place_in(map, "to")->place, BK_E_VALUE, "the spread load ends before it begins");
        }
    }
    bk_standing_load *at = PUSH(r, standing);
    if (at) *at = load;
}

/* "L/500", a share of the span, or a length */
static void read_deflection_limit(reader *r, const bk_yaml *node, bk_runway *runway)
{
    size_t back = path_to(r, ".", "deflection_limit");
    const char *text = node->text;
    double number = nan_value();
    bool of_span = (text[0] == 'L' || text[0] == 'l') && text[1] == '/';
    const char *end = bk_number_read(of_span ? text + 2 : text, &number);
    while (end && *end == ' ')
        end++;
    if (end && !*end) {
        /* A pure number: a share, or the n of L/n. */
        double share = of_span || number >= 1 ? 1 / number : number;
        if (share >= 1.0 / 5000 && share <= 1.0 / 50)
            runway->deflection_limit = share;
        else
            complain(r, node->place, BK_E_VALUE, "want a share of the span from L/5000 to L/50, found %s",
                     shown(r, node));
    } else if (of_span) {
        complain(r, node->place, BK_E_NUMBER, "want L/ and a number, such as L/500, found %s",
                 shown(r, node));
    } else {
        static const bk_key length = {.name = "deflection_limit",
                                      .kind = BK_KEY_NUMBER,
                                      .dim = BK_DIM_LENGTH,
                                      .low = 1e-5,
                                      .high = 10,
                                      .about = "greatest deflection"};
        read_value(r, &length, node, &runway->deflection_limit_m);
    }
    path_back(r, back);
}

static void read_beam(reader *r, const bk_yaml *map, bk_runway *runway)
{
    const bk_yaml *section = map_item(map, &runway_keys, "section"),
                  *steel = map_item(map, &runway_keys, "steel");
    const bk_yaml *ends = map_item(map, &runway_keys, "ends"),
                  *limit = map_item(map, &runway_keys, "deflection_limit");
    size_t back;
    if (section) {
        back = path_to(r, ".", "section");
        runway->section = read_section(r, section, section->place);
        path_back(r, back);
    }
    if (steel) {
        back = path_to(r, ".", "steel");
        runway->steel = read_steel(r, steel, steel->place);
        path_back(r, back);
    }
    if (ends) {
        double v[2];
        size_t n;
        back = path_to(r, ".", "ends");
        if (read_numbers(r, key_of(&runway_keys, "ends"), ends, 2, 2, v, &n)) {
            if (v[1] <= v[0] + SAME_PLACE_M)
                complain(r, ends->place, BK_E_VALUE, "want the ends rising, [FROM, TO], found %s to %s",
                         metres(r, v[0]), metres(r, v[1]));
            else {
                runway->from_m = v[0];
                runway->to_m = v[1];
            }
        }
        path_back(r, back);
    }
    if (limit) read_deflection_limit(r, limit, runway);
}

static void read_runway(reader *r, const bk_yaml_pair *pair)
{
    const bk_yaml *map = pair->value;
    bk_runway runway = {.name = pair->key,
                        .section = BK_NONE,
                        .steel = BK_NONE,
                        .place = pair->place,
                        .first_support = r->plan->n_supports,
                        .first_trolley = r->plan->n_trolleys,
                        .first_load = r->plan->n_standing,
                        .from_m = nan_value(),
                        .to_m = nan_value(),
                        .deflection_limit = nan_value(),
                        .deflection_limit_m = nan_value()};
    path_back(r, 0);
    path_to(r, "", "runways");
    path_to(r, ".", pair->key);
    map_to_nan(&runway_keys, &runway);
    runway.self_weight = true;
    name_ok(r, pair->key, pair->place, false);
    if (read_map(r, map, &runway_keys, pair->place, &runway)) {
        read_beam(r, map, &runway);
        const bk_yaml *supports = map_item(map, &runway_keys, "supports");
        const bk_yaml *trolleys = map_item(map, &runway_keys, "trolleys"),
                      *loads = map_item(map, &runway_keys, "loads");
        if (supports) read_supports(r, supports, &runway);
        for (size_t i = 0; trolleys && i < trolleys->n; i++) {
            size_t back = path_to(r, ".trolleys.", trolleys->pairs[i].key);
            read_trolley(r, &trolleys->pairs[i], &runway);
            path_back(r, back);
        }
        runway.n_trolleys = r->plan->n_trolleys - runway.first_trolley;
        size_t back = path_to(r, ".", "loads");
        for (size_t i = 0; loads && i < loads->n; i++) {
            size_t item = path_to_item(r, i);
            read_standing(r, loads->items[i], &runway);
            path_back(r, item);
        }
        path_back(r, back);
        runway.n_loads = r->plan->n_standing - runway.first_load;
    }
    bk_runway *at = PUSH(r, runways);
    if (at) *at = runway;
}

void read_runways(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++)
        read_runway(r, &map->pairs[i]);
}
