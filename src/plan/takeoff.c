/* Take-off: mass and centre of gravity of a body from the shapes it is made of.
 *
 * Mass of a shape: volume by the closed formula times density (a section: mass per length times length; a
 * known piece: its mass).  Its tolerance is the sum of what each dimension and the density may add, all the
 * same way: the worst case, not a mean.  Mass of the body: the sum, holes subtracted.  Centre of gravity: the
 * mean weighted by mass; its tolerance per axis sums what each mass and each place may move it.
 */
#include "reader.h"

#include <string.h>

/* Which dimensions a shape has, by key; the order is that of volume_of(). */
#define DIMENSIONS_MAX 3
static const struct {
    const char *word;
    const char *keys[DIMENSIONS_MAX + 1]; /* besides name, at, material, density, count, hole, source */
    bool dense;                           /* needs a density */
    bool axis;
} forms[] = {
    [SHAPE_BOX] = {"box", {"size"}, true, false},
    [SHAPE_CYLINDER] = {"cylinder", {"diameter", "length"}, true, true},
    [SHAPE_TUBE] = {"tube", {"diameter", "wall", "length"}, true, true},
    [SHAPE_PLATE] = {"plate", {"size"}, true, false},
    [SHAPE_SPHERE] = {"sphere", {"diameter"}, true, false},
    [SHAPE_CONE] = {"cone", {"diameter", "height"}, true, true},
    [SHAPE_SECTION] = {"section", {"section", "length"}, false, true},
    [SHAPE_MASS] = {"mass", {"mass"}, false, false},
};

/* Volume (section: length), from the dimensions in the order of the form. */
static double volume_of(int shape, const double d[DIMENSIONS_MAX])
{
    double inner;
    switch (shape) {
    case SHAPE_BOX:
    case SHAPE_PLATE:
        return d[0] * d[1] * d[2];
    case SHAPE_CYLINDER:
        return BK_PI / 4 * d[0] * d[0] * d[1];
    case SHAPE_TUBE:
        inner = d[0] - 2 * d[1];
        return BK_PI / 4 * (d[0] * d[0] - inner * inner) * d[2];
    case SHAPE_SPHERE:
        return BK_PI / 6 * d[0] * d[0] * d[0];
    case SHAPE_CONE:
        return BK_PI / 12 * d[0] * d[0] * d[1];
    default:
        return d[0];
    }
}

static bk_value volume_value(int shape, const bk_value d[DIMENSIONS_MAX])
{
    double at[DIMENSIONS_MAX], more[DIMENSIONS_MAX], less[DIMENSIONS_MAX];
    for (int i = 0; i < DIMENSIONS_MAX; i++)
        at[i] = d[i].v;
    bk_value volume = {volume_of(shape, at), 0};
    for (int i = 0; i < DIMENSIONS_MAX; i++) {
        memcpy(more, at, sizeof more);
        memcpy(less, at, sizeof less);
        more[i] += d[i].tol;
        less[i] -= d[i].tol;
        volume.tol += fmax(fabs(volume_of(shape, more) - volume.v), fabs(volume_of(shape, less) - volume.v));
    }
    return volume;
}

/* Keys that the shape needs and lacks, or has and does not know. */
static bool form_ok(reader *r, const bk_yaml *map, int shape)
{
    static const char *const all[] = {"size", "diameter", "wall", "length", "height", "section", "mass"};
    bool ok = true;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        bool needed = false;
        for (size_t k = 0; forms[shape].keys[k]; k++)
            needed |= !strcmp(all[i], forms[shape].keys[k]);
        bool given = bk_yaml_get(map, all[i]) != NULL;
        if (needed) missing(r, map, &shape_keys, map->place, all[i], "");
        for (size_t k = 0; !needed && given && k < map->n; k++)
            if (!strcmp(map->pairs[k].key, all[i]))
                complain(r, map->pairs[k].place, BK_E_UNKNOWN_KEY, "a %s has no \"%s\"", forms[shape].word,
                         all[i]);
        ok &= needed == given;
    }
    for (size_t k = 0; !forms[shape].axis && k < map->n; k++)
        if (!strcmp(map->pairs[k].key, "axis")) {
            complain(r, map->pairs[k].place, BK_E_UNKNOWN_KEY, "a %s has no \"axis\"", forms[shape].word);
            ok = false;
        }
    return ok;
}

/* Density by `density`, or by `material` from the table of densities; NaN after a complaint or where none is
 * given. */
static bk_value density_of(reader *r, const bk_yaml *map, const shape_in *in, bk_shape *shape)
{
    bk_value none = {nan_value(), 0};
    const bk_yaml *material = bk_yaml_get(map, "material"), *density = bk_yaml_get(map, "density");
    if (material && density) {
        complain(r, density->place, BK_E_VALUE, "give \"material\" or \"density\", not both");
        return none;
    }
    if (density || !in->material) return in->density;
    const bk_row *row = NULL;
    const char *ref = bk_arena_printf(r->arena, "density/%s", in->material);
    if (!ref) {
        out_of_memory(r);
        return none;
    }
    bk_status status = bk_tables_row(r->tables, ref, material->place, &row, r->errors);
    if (status != BK_OK) {
        if (r->first == BK_OK || status == BK_E_NOMEM) r->first = status;
        return none;
    }
    const bk_yaml *figure = bk_yaml_get(row->map, "density");
    bk_value value = none;
    if (!figure)
        complain(r, material->place, BK_E_ROW, "row %s has no density", ref);
    else if (!read_value(r, key_of(&shape_keys, "density"), figure, &value))
        return none;
    shape->material = in->material;
    shape->source = row->source;
    shape->mark = row->mark;
    return value;
}

/* Mass per length of a section: printed, or area times density. */
static bk_value mass_per_length(reader *r, const bk_yaml *map, bk_value density, bk_shape *shape)
{
    bk_value none = {nan_value(), 0};
    const bk_yaml *node = map_item(map, &shape_keys, "section");
    if (!node) return none;
    size_t back = path_to(r, ".", "section");
    size_t index = read_section(r, node, node->place);
    path_back(r, back);
    if (index == BK_NONE) return none;
    const bk_section_in *s = &r->sections[index];
    shape->source = s->source;
    shape->mark = s->mark;
    if (!isnan(s->mass_per_m_kg_m)) return (bk_value){s->mass_per_m_kg_m, 0};
    double area = s->area_m2;
    /* two flanges, web, four root fillets of a square less a quarter circle each */
    if (isnan(area) && !(s->slope > 0)) {
        double root = isnan(s->r_m) ? 0 : s->r_m;
        area = 2 * s->b_m * s->tf_m + (s->h_m - 2 * s->tf_m) * s->tw_m + (4 - BK_PI) * root * root;
    }
    if (isnan(area)) {
        complain(r, node->place, BK_E_MISSING_KEY,
                 "a taper flange shape needs \"mass_per_m\" or \"area\" here");
        return none;
    }
    if (isnan(density.v)) {
        if (!bk_yaml_get(map, "material") && !bk_yaml_get(map, "density"))
            complain(r, map->place, BK_E_MISSING_KEY,
                     "\"material\" is missing: this section states no mass per length");
        return none;
    }
    return (bk_value){area * density.v, area * density.tol};
}

static bk_vec3 axis_of(int axis, int otherwise)
{
    static const bk_vec3 axes[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {-1, 0, 0}, {0, -1, 0}, {0, 0, -1}};
    return axes[axis < 0 ? otherwise : axis];
}

/* False after a complaint. */
static bool read_shape(reader *r, const bk_yaml *map, bk_shape *shape, bk_vec3 *place_tol)
{
    shape_in in = {.shape = -1, .axis = -1};
    bk_status before = r->first;
    size_t wrong = r->n_told;
    map_to_nan(&shape_keys, &in);
    in.count = 1;
    if (!read_map(r, map, &shape_keys, map->place, &in)) return false;
    if (in.shape < 0) return false;
    if (!form_ok(r, map, in.shape)) return false;

    *shape = (bk_shape){.name = in.name,
                        .what = forms[in.shape].word,
                        .volume_m3 = nan_value(),
                        .density_kg_m3 = nan_value(),
                        .source = "stated in the plan",
                        .mark = BK_MARK_USER,
                        .place = map->place};
    bk_value density = density_of(r, map, &in, shape), mass;
    if (forms[in.shape].dense) {
        const bk_value v[][DIMENSIONS_MAX] = {
            [SHAPE_BOX] = {{in.size_m.v.x, in.size_m.tol.x},
                           {in.size_m.v.y, in.size_m.tol.y},
                           {in.size_m.v.z, in.size_m.tol.z}},
            [SHAPE_CYLINDER] = {in.diameter_m, in.length_m, {1, 0}},
            [SHAPE_TUBE] = {in.diameter_m, in.wall_m, in.length_m},
            [SHAPE_PLATE] = {{in.size_m.v.x, in.size_m.tol.x},
                             {in.size_m.v.y, in.size_m.tol.y},
                             {in.size_m.v.z, in.size_m.tol.z}},
            [SHAPE_SPHERE] = {in.diameter_m, {1, 0}, {1, 0}},
            [SHAPE_CONE] = {in.diameter_m, in.height_m, {1, 0}},
        };
        const bk_value *d = v[in.shape];
        const bk_yaml *size = bk_yaml_get(map, "size"), *wall = bk_yaml_get(map, "wall");
        if (!bk_yaml_get(map, "density") && !misspelt(r, map, &shape_keys, "density"))
            missing(r, map, &shape_keys, map->place, "material", " (or \"density\")");
        if (size && (d[0].v <= d[0].tol || d[1].v <= d[1].tol || d[2].v <= d[2].tol))
            complain(r, size->place, BK_E_VALUE,
                     "want three sizes above 0, also less their tolerance, found %s", shown(r, size));
        if (wall && 2 * in.wall_m.v > in.diameter_m.v)
            complain(r, wall->place, BK_E_VALUE, "the wall is thicker than half the diameter");
        bk_value volume = volume_value(in.shape, d);
        shape->volume_m3 = volume.v;
        shape->density_kg_m3 = density.v;
        mass = (bk_value){volume.v * density.v, volume.tol * density.v + volume.v * density.tol};
    } else if (in.shape == SHAPE_SECTION) {
        bk_value per_m = mass_per_length(r, map, density, shape);
        mass = (bk_value){per_m.v * in.length_m.v, per_m.v * in.length_m.tol + per_m.tol * in.length_m.v};
    } else {
        mass = in.mass_kg;
    }
    if (in.source) shape->source = in.source;
    double sign = in.hole ? -in.count : in.count;
    shape->mass_kg = (bk_value){sign * mass.v, in.count * mass.tol};
    shape->volume_m3 *= sign;
    shape->cog_m = in.at_m.v;
    /* centroid of a cone: a quarter of its height above the base */
    if (in.shape == SHAPE_CONE)
        shape->cog_m = bk_vec3_add(in.at_m.v, bk_vec3_scale(in.height_m.v / 4, axis_of(in.axis, 2)));
    *place_tol = in.at_m.tol;
    return r->n_told == wrong && r->first == before && !isnan(mass.v);
}

void read_made_of(reader *r, const bk_yaml *list, bk_body *body, bool cog_given)
{
    size_t back = path_to(r, ".", "made_of");
    bk_vec3 *place_tol = BK_NEW(r->arena, bk_vec3, list->n + 1);
    double mass = 0, mass_tol = 0;
    bk_vec3 moment = {0, 0, 0};
    bool ok = place_tol != NULL;
    if (!place_tol) out_of_memory(r);
    if (!list->n) complain(r, list->place, BK_E_VALUE, "want at least one shape, found none");
    body->first_shape = r->plan->n_shapes;
    for (size_t i = 0; place_tol && i < list->n; i++) {
        bk_shape shape;
        size_t item = path_to_item(r, i);
        bool good = read_shape(r, list->items[i], &shape, &place_tol[body->n_shapes]);
        path_back(r, item);
        bk_shape *at = good ? PUSH(r, shapes) : NULL;
        ok &= at != NULL;
        if (!at) continue;
        *at = shape;
        body->n_shapes++;
        mass += shape.mass_kg.v;
        mass_tol += shape.mass_kg.tol;
        moment = bk_vec3_add(moment, bk_vec3_scale(shape.mass_kg.v, shape.cog_m));
    }
    if (ok && list->n && !(mass > mass_tol)) {
        complain(r, list->place, BK_E_VALUE, "these shapes have no mass left: %s",
                 mass > 0 ? "their tolerances are as large" : "the holes take it all");
        ok = false;
    }
    bk_value stated = body->mass_kg;
    body->stated_mass_kg = stated;
    if (ok && list->n) {
        bk_vec3 cog = bk_vec3_scale(1 / mass, moment), tol = {0, 0, 0};
        for (size_t i = 0; i < body->n_shapes; i++) {
            const bk_shape *s = &r->shapes[body->first_shape + i];
            bk_vec3 arm = bk_vec3_sub(s->cog_m, cog);
            double share = fabs(s->mass_kg.v) / mass, shift = s->mass_kg.tol / mass;
            tol.x += shift * fabs(arm.x) + share * place_tol[i].x;
            tol.y += shift * fabs(arm.y) + share * place_tol[i].y;
            tol.z += shift * fabs(arm.z) + share * place_tol[i].z;
        }
        if (!cog_given) body->cog_m = (bk_vec3_value){cog, tol};
        if (isnan(stated.v)) {
            body->mass_kg = (bk_value){mass, mass_tol};
        } else if (fabs(stated.v - mass) > stated.tol + mass_tol) {
            char a[64], b[64];
            note(r,
                 "%s: the stated mass %s and its take-off %s differ by more than both tolerances; the stated "
                 "mass is used",
                 body->name, bk_quantity_print(a, sizeof a, stated.v, BK_DIM_MASS, r->plan->units, 4),
                 bk_quantity_print(b, sizeof b, mass, BK_DIM_MASS, r->plan->units, 4));
        }
    }
    path_back(r, back);
}
