/* Hoists and their duty. */
#include "reader.h"

#include <string.h>

/* Shares of time must make a whole; a printed 33.3 % three times is one. */
#define SHARE_SLACK 0.005

static void read_loads(reader *r, const bk_yaml *list, size_t *first, size_t *n)
{
    size_t back = path_to(r, ".", "loads");
    double sum = 0;
    *first = r->plan->n_duty_loads;
    for (size_t i = 0; i < list->n; i++) {
        bk_duty_load load;
        size_t item = path_to_item(r, i);
        map_to_nan(&duty_load_keys, &load);
        read_map(r, list->items[i], &duty_load_keys, list->items[i]->place, &load);
        path_back(r, item);
        sum += load.time;
        bk_duty_load *at = PUSH(r, duty_loads);
        if (at) *at = load;
    }
    *n = r->plan->n_duty_loads - *first;
    if (!list->n)
        complain(r, list->place, BK_E_VALUE, "want at least one load, found none");
    else if (fabs(sum - 1) > SHARE_SLACK) { /* a share that could not be read makes it NaN: told already */
        char got[64];
        complain(r, list->place, BK_E_VALUE, "the shares of time must add to 100 %%, found %s %%",
                 bk_plain_print(got, sizeof got, 100 * sum, 4));
    }
    path_back(r, back);
}

static void read_meters(reader *r, const bk_yaml *node, bk_duty *duty)
{
    size_t back = path_to(r, ".", "meter");
    bool many = node->kind == BK_YAML_LIST;
    const bk_meter *last = NULL;
    duty->first_meter = r->plan->n_meters;
    if (many && !node->n) complain(r, node->place, BK_E_VALUE, "want at least one reading, found none");
    for (size_t i = 0; i < (many ? node->n : 1); i++) {
        const bk_yaml *map = many ? node->items[i] : node;
        bk_meter meter = {.place = map->place};
        size_t item = many ? path_to_item(r, i) : r->path_n;
        map_to_nan(&meter_keys, &meter);
        if (read_map(r, map, &meter_keys, map->place, &meter)) {
            const bk_yaml *loads = map_item(map, &meter_keys, "loads");
            if (loads) read_loads(r, loads, &meter.first_load, &meter.n_loads);
            if (!bk_yaml_get(map, "starts") && !misspelt(r, map, &meter_keys, "starts"))
                missing(r, map, &meter_keys, map->place, "on_time", " (or \"starts\")");
            if (many && node->n > 1) missing(r, map, &meter_keys, map->place, "date", "");
        }
        /* a meter may be read for the last time and swapped on one day */
        if (last && last->date && meter.date && strcmp(meter.date, last->date) < (meter.swapped ? 0 : 1))
            complain(r, bk_yaml_get(map, "date")->place, BK_E_VALUE,
                     "readings must stand in order of their days: %s after %s", meter.date, last->date);
        if (last && !meter.swapped && meter.on_time_s < last->on_time_s)
            complain(r, bk_yaml_get(map, "on_time")->place, BK_E_VALUE,
                     "the hour meter runs backwards; a new meter is told by `swapped: yes`");
        if (last && !meter.swapped && meter.starts < last->starts)
            complain(r, bk_yaml_get(map, "starts")->place, BK_E_VALUE,
                     "the start counter runs backwards; a new meter is told by `swapped: yes`");
        path_back(r, item);
        bk_meter *at = PUSH(r, meters);
        if (at) *at = meter;
        last = at;
    }
    duty->n_meters = r->plan->n_meters - duty->first_meter;
    path_back(r, back);
}

static void read_duty(reader *r, const bk_yaml *map, bk_duty *duty)
{
    size_t back = path_to(r, ".", "duty");
    if (read_map(r, map, &duty_keys, map->place, duty)) {
        const bk_yaml *loads = map_item(map, &duty_keys, "loads"),
                      *meter = map_item(map, &duty_keys, "meter");
        const bk_yaml *history = map_item(map, &duty_keys, "history");
        duty->given = true;
        duty->place = map->place;
        duty->empty_return_given = bk_yaml_get(map, "empty_return") != NULL;
        duty->history_unknown = history && !strcmp(history->text, "unknown");
        if (loads) read_loads(r, loads, &duty->first_load, &duty->n_loads);
        if (meter) read_meters(r, meter, duty);
    }
    path_back(r, back);
}

/* "0.3 m over 2.1 m" */
static void read_clear(reader *r, const bk_yaml *node, bk_hoist *hoist)
{
    static const bk_key length = {.name = "clear",
                                  .kind = BK_KEY_NUMBER,
                                  .dim = BK_DIM_LENGTH,
                                  .low = -1e4,
                                  .high = 1e4,
                                  .about = "what the load must clear"};
    size_t back = path_to(r, ".", "clear");
    const char *over = strstr(node->text, " over ");
    if (!over) {
        complain(r, node->place, BK_E_VALUE,
                 "want a height and what it is over, such as `0.3 m over 2.1 m`, found %s", shown(r, node));
    } else {
        bk_yaml part = *node;
        part.text = bk_arena_strndup(r->arena, node->text, (size_t)(over - node->text));
        if (!part.text)
            out_of_memory(r);
        else
            read_value(r, &length, &part, &hoist->clear_m);
        part.text = over + strlen(" over ");
        read_value(r, &length, &part, &hoist->clear_over_m);
    }
    path_back(r, back);
}

/* What a list of keys cannot say: nested maps, from the row first and then from the plan. */
static void read_nested(reader *r, const bk_yaml *map, bk_hoist *hoist)
{
    const bk_yaml *speeds = map_item(map, &hoist_keys, "speeds"),
                  *limiter = map_item(map, &hoist_keys, "limiter");
    const bk_yaml *clear = map_item(map, &hoist_keys, "clear"), *duty = map_item(map, &hoist_keys, "duty");
    if (speeds) {
        double v[2];
        size_t n, back = path_to(r, ".", "speeds");
        if (read_numbers(r, key_of(&hoist_keys, "speeds"), speeds, 1, 2, v, &n)) {
            hoist->speed_m_s = v[0];
            hoist->creep_m_s = n == 2 ? v[1] : nan_value();
            if (n == 2 && v[1] > v[0])
                complain(r, speeds->items[1]->place, BK_E_VALUE,
                         "creep is faster than the main speed: want [main, creep]");
        }
        path_back(r, back);
    }
    if (limiter) {
        size_t back = path_to(r, ".", "limiter");
        read_map(r, limiter, &limiter_keys, limiter->place, hoist);
        path_back(r, back);
    }
    if (clear) read_clear(r, clear, hoist);
    if (duty) read_duty(r, duty, &hoist->duty);
}

static void read_hoist(reader *r, const bk_yaml_pair *pair)
{
    bk_hoist hoist = {.name = pair->key, .place = pair->place};
    origin from;
    path_back(r, 0);
    path_to(r, "", "hoists");
    path_to(r, ".", pair->key);
    map_to_nan(&hoist_keys, &hoist);
    map_to_nan(&duty_keys, &hoist.duty);
    hoist.clear_m = hoist.clear_over_m = nan_value();
    name_ok(r, pair->key, pair->place, true);
    if (pair->value->kind == BK_YAML_LIST) {
        complain(r, pair->value->place, BK_E_KIND, "want TABLE/ROW or a map (a hoist), found a list");
    } else if (read_row(r, pair->value, &hoist_keys, pair->place, &hoist, &from)) {
        hoist.ref = from.ref;
        hoist.row = from.row;
        hoist.source = from.source;
        hoist.mark = from.mark;
        if (from.row) read_nested(r, from.row->map, &hoist);
        if (from.inline_map) read_nested(r, from.inline_map, &hoist);
        if (isnan(hoist.rated_N) && !misspelt(r, pair->value, &hoist_keys, "part"))
            missing(r, pair->value, &hoist_keys, pair->place, "rated", " (or \"part\")");
        if (hoist.creep_m_s > hoist.speed_m_s && !bk_yaml_get(pair->value, "speeds"))
            complain(r, pair->place, BK_E_VALUE, "creep is faster than the main speed");
        if (hoist.limiter == BK_LIMITER_NONE && bk_yaml_get(pair->value, "limiter_at"))
            missing(r, pair->value, &hoist_keys, pair->place, "limiter_kind", "");
        const bk_yaml *lift = bk_yaml_get(bk_yaml_get(pair->value, "duty"), "mean_lift");
        if (lift && hoist.duty.mean_lift_m > hoist.height_of_lift_m) {
            path_to(r, ".", "duty.mean_lift");
            complain(r, lift->place, BK_E_VALUE, "the mean lift is higher than the hoist can lift");
        }
    }
    if (isnan(hoist.falls)) hoist.falls = 1;
    bk_hoist *at = PUSH(r, hoists);
    if (at) *at = hoist;
}

void read_hoists(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++)
        read_hoist(r, &map->pairs[i]);
}
