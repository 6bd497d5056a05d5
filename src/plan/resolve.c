/* Names to indices.
 *
 * A line's end is BODY.POINT, a ring or an anchor.  A ring and an anchor of one name are refused, where they
 * are named and where they are used: nobody should have to know which one the program would have taken.  A
 * body never clashes with them: it is only ever named with a point.
 */
#include "reader.h"

#include <string.h>

/* ---- lists of names for hints, each made once ---------------------------------------------------- */

/* "GROUP.NAME" in the arena */
static const char *dotted(reader *r, const char *group, const char *name)
{
    const char *text = bk_arena_printf(r->arena, "%s.%s", group, name);
    if (!text) out_of_memory(r);
    return text ? text : "";
}

/* Whether the list is yet to be filled, with room for most names. */
static bool to_fill(reader *r, name_list *list, size_t most)
{
    if (list->at) return false;
    list->at = BK_NEW(r->arena, const char *, most + 1);
    if (!list->at) out_of_memory(r);
    return list->at != NULL;
}

/* Everything that a line may end at; points in the order of the plan's. */
static const name_list *names_of_ends(reader *r)
{
    const bk_plan *p = r->plan;
    name_list *list = &r->end_names;
    if (!to_fill(r, list, p->n_points + p->n_rings + p->n_anchors)) return list;
    for (size_t i = 0; i < p->n_points; i++)
        list->at[list->n++] = dotted(r, r->bodies[r->points[i].body].name, r->points[i].name);
    for (size_t i = 0; i < p->n_rings; i++)
        list->at[list->n++] = r->rings[i].name;
    for (size_t i = 0; i < p->n_anchors; i++)
        list->at[list->n++] = r->anchors[i].name;
    return list;
}

/* In the order of the plan's trolleys. */
static const name_list *names_of_trolleys(reader *r)
{
    name_list *list = &r->trolley_names;
    if (!to_fill(r, list, r->plan->n_trolleys)) return list;
    for (size_t i = 0; i < r->plan->n_runways; i++)
        for (size_t k = 0; k < r->runways[i].n_trolleys; k++)
            list->at[list->n++] =
                dotted(r, r->runways[i].name, r->trolleys[r->runways[i].first_trolley + k].name);
    return list;
}

static const name_list *names_of_hoists(reader *r)
{
    name_list *list = &r->hoist_names;
    if (!to_fill(r, list, r->plan->n_hoists)) return list;
    for (size_t i = 0; i < r->plan->n_hoists; i++)
        list->at[list->n++] = r->hoists[i].name;
    return list;
}

size_t find_hoist(reader *r, const bk_yaml *node)
{
    for (size_t i = 0; i < r->plan->n_hoists; i++)
        if (!strcmp(r->hoists[i].name, node->text)) return i;
    if (r->unread_hoists) return BK_NONE;
    const name_list *known = names_of_hoists(r);
    if (!known->at) return BK_NONE;
    complain(r, node->place, BK_E_REFERENCE, "there is no hoist %s; %s", shown(r, node),
             hint(r, node->text, known->at, known->n));
    return BK_NONE;
}

/* Whether text is GROUP.NAME; *name is then the part after the dot. */
static bool is_in(const char *text, const char *group, const char **name)
{
    size_t n = strlen(group);
    if (strncmp(text, group, n) || text[n] != '.') return false;
    *name = text + n + 1;
    return true;
}

/* ---- ends of lines ----------------------------------------------------------------------------- */

static void unknown_end(reader *r, const bk_yaml *node)
{
    const char *name;
    if (r->unread_ends) return;
    const name_list *known = names_of_ends(r);
    if (!known->at) return;
    for (size_t b = 0; b < r->plan->n_bodies; b++) {
        const bk_body *body = &r->bodies[b];
        if (!is_in(node->text, body->name, &name)) continue;
        complain(r, node->place, BK_E_REFERENCE, "body \"%s\" has no point \"%s\"; %s",
                 short_text(r, body->name), short_text(r, name),
                 hint(r, node->text, known->at + body->first_point, body->n_points));
        return;
    }
    complain(r, node->place, BK_E_REFERENCE, "%s is no BODY.POINT, ring or anchor of this plan; %s",
             shown(r, node), hint(r, node->text, known->at, known->n));
}

static void bare_body(reader *r, const bk_yaml *node, const bk_body *body)
{
    const name_list *known = names_of_ends(r);
    if (!known->at) return;
    if (!body->n_points)
        complain(r, node->place, BK_E_REFERENCE, "%s is a body without points: a line needs a point of it",
                 shown(r, node));
    else
        complain(r, node->place, BK_E_AMBIGUOUS, "%s is a body: say which of its points; %s", shown(r, node),
                 hint(r, "", known->at + body->first_point, body->n_points));
}

/* False after a complaint; end->index is then BK_NONE. */
static bool find_end(reader *r, const bk_yaml *node, bk_end *end)
{
    const bk_plan *p = r->plan;
    const char *text = node->text, *name;
    size_t ring = BK_NONE, anchor = BK_NONE;
    *end = (bk_end){BK_END_POINT, BK_NONE};
    for (size_t i = 0; i < p->n_points; i++)
        if (is_in(text, r->bodies[r->points[i].body].name, &name) && !strcmp(name, r->points[i].name)) {
            end->index = i;
            return true;
        }
    for (size_t i = 0; i < p->n_rings; i++)
        if (!strcmp(text, r->rings[i].name)) ring = i;
    for (size_t i = 0; i < p->n_anchors; i++)
        if (!strcmp(text, r->anchors[i].name)) anchor = i;
    if (ring != BK_NONE && anchor != BK_NONE) {
        complain(r, node->place, BK_E_AMBIGUOUS, "%s is a ring and an anchor: give them different names",
                 shown(r, node));
        return false;
    }
    if (ring != BK_NONE || anchor != BK_NONE) {
        *end = ring != BK_NONE ? (bk_end){BK_END_RING, ring} : (bk_end){BK_END_ANCHOR, anchor};
        return true;
    }
    for (size_t i = 0; i < p->n_bodies; i++)
        if (!strcmp(text, r->bodies[i].name)) {
            bare_body(r, node, &r->bodies[i]);
            return false;
        }
    unknown_end(r, node);
    return false;
}

static void resolve_line(reader *r, const bk_yaml *map, bk_line *line)
{
    const bk_yaml *from = map_item(map, &line_keys, "from"), *to = map_item(map, &line_keys, "to");
    const bk_yaml *hoist = map_item(map, &line_keys, "hoist");
    size_t back = path_to(r, ".", "from");
    bool ok = from && find_end(r, from, &line->from);
    path_back(r, back);
    back = path_to(r, ".", "to");
    ok &= to && find_end(r, to, &line->to);
    path_back(r, back);
    if (hoist) {
        back = path_to(r, ".", "hoist");
        line->hoist = find_hoist(r, hoist);
        path_back(r, back);
    }
    if (!ok) return;
    bool self = line->from.kind == line->to.kind && line->from.index == line->to.index;
    if (self)
        complain(r, to->place, BK_E_VALUE, "the line runs from %s to itself", shown(r, from));
    else if (line->from.kind == BK_END_ANCHOR && line->to.kind == BK_END_ANCHOR)
        complain(r, to->place, BK_E_VALUE,
                 "the line runs between two anchors: nothing of the load hangs in it");
    else if (line->from.kind == BK_END_POINT && line->to.kind == BK_END_POINT &&
             r->points[line->from.index].body == r->points[line->to.index].body)
        complain(r, to->place, BK_E_VALUE,
                 "both ends are on \"%s\": a line within one rigid body carries nothing",
                 short_text(r, r->bodies[r->points[line->to.index].body].name));
    if (self) line->to.index = BK_NONE; /* it has no length to complain of as well */
}

/* ---- anchors on trolleys ----------------------------------------------------------------------- */

static void resolve_trolley(reader *r, const bk_yaml *on, bk_anchor *anchor)
{
    const bk_plan *p = r->plan;
    const char *name = "";
    const bk_runway *in = NULL; /* the runway that is named, if any */
    bool bare = false;
    for (size_t i = 0; i < p->n_runways && !in; i++) {
        const bk_runway *runway = &r->runways[i];
        bare = !strcmp(on->text, runway->name);
        if (!bare && !is_in(on->text, runway->name, &name)) continue;
        in = runway;
        for (size_t k = runway->first_trolley; !bare && k < runway->first_trolley + runway->n_trolleys; k++)
            if (!strcmp(name, r->trolleys[k].name)) {
                anchor->runway = i;
                anchor->trolley = k;
                return;
            }
    }
    if (r->unread_runways) return;
    const name_list *all = names_of_trolleys(r);
    if (!all->at) return;
    const char *const *known = in ? all->at + in->first_trolley : all->at;
    size_t n = in ? in->n_trolleys : all->n;
    if (bare)
        complain(r, on->place, BK_E_AMBIGUOUS,
                 "%s is a runway: say which of its trolleys, RUNWAY.TROLLEY; %s", shown(r, on),
                 hint(r, "", known, n));
    else if (in)
        complain(r, on->place, BK_E_REFERENCE, "runway \"%s\" has no trolley \"%s\"; %s",
                 short_text(r, in->name), short_text(r, name), hint(r, on->text, known, n));
    else
        complain(r, on->place, BK_E_REFERENCE, "%s is no RUNWAY.TROLLEY of this plan; %s", shown(r, on),
                 hint(r, on->text, known, n));
}

/* Every trolley carries one thing: what hangs from anchors on it, a hoist's rated capacity, or a plain load. */
static void loaded_trolley(reader *r, const bk_yaml *map, size_t trolley)
{
    const bk_trolley *t = &r->trolleys[trolley];
    const bk_yaml *hoist = bk_yaml_get(map, "hoist"), *load = bk_yaml_get(map, "load");
    bool hangs = false;
    for (size_t a = 0; a < r->plan->n_anchors; a++)
        hangs |= r->anchors[a].trolley == trolley;
    if (!hoist && !load && !hangs)
        complain(r, t->place, BK_E_MISSING_KEY,
                 "\"hoist\" or \"load\" is missing: nothing hangs on this trolley, and no anchor is `on` it");
    else if (load && (hoist || hangs))
        complain(r, load->place, BK_E_VALUE, "a plain load stands in place of %s: name one of the two",
                 hangs ? "what hangs from the anchor on this trolley" : "a hoist at its rated capacity");
}

static void loaded_trolleys(reader *r, const bk_yaml *runways)
{
    for (size_t i = 0; i < r->plan->n_runways; i++)
        for (size_t k = 0; k < r->runways[i].n_trolleys; k++) {
            const size_t trolley = r->runways[i].first_trolley + k;
            const char *name = r->trolleys[trolley].name;
            const bk_yaml *map = bk_yaml_get(bk_yaml_get(bk_yaml_get(runways, r->runways[i].name), "trolleys"), name);
            if (!map || map->kind != BK_YAML_MAP) continue;
            path_back(r, 0);
            path_to(r, "", "runways");
            path_to(r, ".", r->runways[i].name);
            path_to(r, ".trolleys.", name);
            loaded_trolley(r, map, trolley);
        }
}

void resolve(reader *r, const bk_yaml *root)
{
    const bk_yaml *anchors = map_item(root, &plan_keys, "anchors"),
                  *lines = map_item(root, &plan_keys, "lines");
    for (size_t i = 0; i < r->plan->n_anchors; i++) {
        path_back(r, 0);
        path_to(r, "", "anchors");
        path_to(r, ".", r->anchors[i].name);
        for (size_t k = 0; k < r->plan->n_rings; k++)
            if (!strcmp(r->rings[k].name, r->anchors[i].name))
                complain(r, r->anchors[i].place, BK_E_AMBIGUOUS,
                         "a ring has this name already (line %d): give them different names",
                         r->rings[k].place.line);
        const bk_yaml *on = map_item(anchors->pairs[i].value, &anchor_keys, "on");
        path_to(r, ".", "on");
        if (on) resolve_trolley(r, on, &r->anchors[i]);
    }
    for (size_t i = 0; i < r->plan->n_lines; i++) {
        path_back(r, 0);
        path_to(r, "", "lines");
        path_to(r, ".", r->lines[i].name);
        resolve_line(r, lines->pairs[i].value, &r->lines[i]);
    }
    loaded_trolleys(r, map_item(root, &plan_keys, "runways"));
}
