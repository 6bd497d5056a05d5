/* Tackles: a load on a line over blocks. */
#include "reader.h"

/* The part under a key as an index in parts; BK_NONE when it is not there or was complained of. */
static size_t read_one(reader *r, const bk_yaml *map, const char *key)
{
    const bk_yaml *node = bk_yaml_get(map, key);
    if (!node) return BK_NONE;
    const size_t before = r->plan->n_parts, back = path_to(r, ".", key);
    read_part(r, node, node->place);
    path_back(r, back);
    return r->plan->n_parts > before ? before : BK_NONE;
}

void read_tackles(reader *r, const bk_yaml *map)
{
    for (size_t i = 0; map && i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        bk_tackle tackle = {.name = pair->key, .place = pair->place};
        path_to(r, "", "tackles");
        path_to(r, ".", pair->key);
        map_to_nan(&tackle_keys, &tackle);
        tackle.lead_sheaves = 0;
        tackle.line_part = tackle.block_part = tackle.lead_part = BK_NONE;
        name_ok(r, pair->key, pair->place, true);
        if (read_map(r, pair->value, &tackle_keys, pair->place, &tackle)) {
            tackle.line_part = read_one(r, pair->value, "line");
            tackle.block_part = read_one(r, pair->value, "block");
            tackle.lead_part = read_one(r, pair->value, "lead_block");
            if (tackle.lead_sheaves == 0 && (tackle.lead_part != BK_NONE || !isnan(tackle.lead_limit_N)))
                complain(r, pair->place, BK_E_VALUE, "a redirecting block is described, but \"lead_sheaves\" counts none");
        }
        path_back(r, 0);
        bk_tackle *at = PUSH(r, tackles);
        if (at) *at = tackle;
    }
}
