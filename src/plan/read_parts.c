/* Parts, sections and steels: a row of a table, the same keys inline, or a row with some keys replaced. */
#include "reader.h"

#include <string.h>

void read_part(reader *r, const bk_yaml *node, bk_place place)
{
    bk_part part = {0};
    origin from;
    map_to_nan(&part_keys, &part);
    read_row(r, node, &part_keys, place, &part, &from);
    part.ref = from.ref;
    part.row = from.row;
    part.source = from.source;
    part.mark = from.mark;
    part.place = node->place;
    if (!part.what) part.what = "part";
    const bk_yaml *stretch = from.row ? NULL : bk_yaml_get(node, "stretch_at_wll");
    if (stretch && !bk_yaml_get(node, "wll") && !misspelt(r, node, &part_keys, "wll") && isnan(part.wll_N)) {
        size_t back = path_to(r, ".", "stretch_at_wll");
        complain(r, stretch->place, BK_E_MISSING_KEY,
                 "a stretch at the working load limit needs \"wll\" beside it");
        path_back(r, back);
    }
    bk_part *at = PUSH(r, parts);
    if (at) *at = part;
}

void read_parts_of(reader *r, const bk_yaml *map, const bk_key_map *keys, size_t *first, size_t *n)
{
    const bk_yaml *one = map_item(map, keys, "part"), *list = map_item(map, keys, "parts");
    *first = r->plan->n_parts;
    if (one && list) complain(r, list->place, BK_E_VALUE, "give \"part\" or \"parts\", not both");
    if (one) {
        size_t back = path_to(r, ".", "part");
        read_part(r, one, one->place);
        path_back(r, back);
    }
    if (list) {
        size_t back = path_to(r, ".", "parts");
        for (size_t i = 0; i < list->n; i++) {
            size_t item = path_to_item(r, i);
            if (list->items[i]->kind == BK_YAML_LIST)
                complain(r, list->items[i]->place, BK_E_KIND, "want TABLE/ROW or a map, found a list");
            else
                read_part(r, list->items[i], list->items[i]->place);
            path_back(r, item);
        }
        path_back(r, back);
    }
    *n = r->plan->n_parts - *first;
}

size_t read_section(reader *r, const bk_yaml *node, bk_place place)
{
    bk_section_in section = {0};
    origin from;
    map_to_nan(&section_keys, &section);
    if (!read_row(r, node, &section_keys, place, &section, &from)) return BK_NONE;
    section.ref = from.ref;
    section.row = from.row;
    section.source = from.source;
    section.mark = from.mark;
    section.place = node->place;
    section.welded |= section.a_weld_m > 0;

    const struct {
        const char *key;
        double value;
    } needed[] = {{"h", section.h_m}, {"b", section.b_m}, {"tw", section.tw_m}, {"tf", section.tf_m}};
    bool whole = true;
    for (size_t i = 0; i < sizeof needed / sizeof *needed; i++) {
        if (!isnan(needed[i].value)) continue;
        whole = false;
        missing(r, node, &section_keys, place, needed[i].key, "");
    }
    if (!whole) return BK_NONE;
    bool shape = section.h_m > 2 * section.tf_m && section.b_m > section.tw_m;
    if (!shape) {
        complain(r, node->place, BK_E_VALUE,
                 "these dimensions make no I shape: h must be more than 2 tf, and b more than tw");
        return BK_NONE;
    }
    bk_section_in *at = PUSH(r, sections);
    if (!at) return BK_NONE;
    *at = section;
    return r->plan->n_sections - 1;
}

size_t read_steel(reader *r, const bk_yaml *node, bk_place place)
{
#define X(mm) mm / 1000.0,
    static const double thickness_m[] = {STEEL_STEPS(X)};
#undef X
    steel_in in = {0};
    bk_steel steel = {0};
    origin from;
    map_to_nan(&steel_keys, &in);
    if (!read_row(r, node, &steel_keys, place, &in, &from)) return BK_NONE;
    steel.ref = from.ref;
    steel.source = from.source;
    steel.mark = from.mark;
    steel.place = node->place;
    /* A step ends where either strength changes; the plain figure holds beyond all steps. */
    for (int i = 0; i <= N_STEEL_STEPS; i++) {
        double t = i < N_STEEL_STEPS ? thickness_m[i] : (double)INFINITY;
        double fy = in.fy, fu = in.fu;
        for (int k = N_STEEL_STEPS - 1; k >= i; k--) {
            if (!isnan(in.fy_to[k])) fy = in.fy_to[k];
            if (!isnan(in.fu_to[k])) fu = in.fu_to[k];
        }
        bool step = i == N_STEEL_STEPS ? !isnan(in.fy) : !isnan(in.fy_to[i]) || !isnan(in.fu_to[i]);
        if (!step || isnan(fy)) continue;
        if (fu < fy) {
            complain(r, node->place, BK_E_VALUE, "the tensile strength fu is below the yield strength fy");
            return BK_NONE;
        }
        steel.t_max_m[steel.n] = t;
        steel.fy_Pa[steel.n] = fy;
        steel.fu_Pa[steel.n++] = fu;
    }
    if (!steel.n) {
        missing(r, node, &steel_keys, place, "fy", "");
        return BK_NONE;
    }
    bk_steel *at = PUSH(r, steels);
    if (!at) return BK_NONE;
    *at = steel;
    return r->plan->n_steels - 1;
}
