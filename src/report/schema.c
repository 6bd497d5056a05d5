/* schema: the plan's keys as a JSON Schema (2020-12), for editors that complete and validate, and as a manual
 * page. Both are printed from the reader's own lists of keys: there is no second list.
 */
#include "json_print.h"
#include "layout.h"

#include <stdlib.h>
#include <string.h>

/* jansson's constructors and json_pack give NULL when memory is out, and NULL in what they are given makes them give
 * NULL in turn; appending and setting tell by their value, and so do these. */
static json_t *with(json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) == 0) return object;
    json_decref(object);
    return NULL;
}

static json_t *and(json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) == 0) return array;
    json_decref(array);
    return NULL;
}

static json_t *typed(const char *type)
{
    return json_pack("{s:s}", "type", type);
}

/* A scalar that YAML may read as a number or as a text. */
static json_t *number_or_text(void)
{
    return json_pack("{s:[s,s]}", "type", "number", "string");
}

static json_t *reference(const char *map)
{
    return json_pack("{s:o}", "$ref", json_sprintf("#/$defs/%s", map));
}

static json_t *words(const bk_key *key)
{
    json_t *all = json_array();
    for (const char *const *word = key->words; *word; word++) all = and(all, json_string(*word));
    return json_pack("{s:o}", "enum", all);
}

static json_t *quantity(bk_dim dim)
{
    return dim == BK_DIM_NONE ? number_or_text() : typed("string");
}

static json_t *either(json_t *a, json_t *b)
{
    return json_pack("{s:[o,o]}", "anyOf", a, b);
}

/* One item of a map, a list or a named set. */
static json_t *item(const bk_key *key)
{
    if (!key->map) return quantity(key->dim);
    return key->scalar ? either(quantity(key->dim), reference(key->map)) : reference(key->map);
}

static json_t *of_kind(const bk_key *key)
{
    switch (key->kind) {
    case BK_KEY_NUMBER:
    case BK_KEY_VALUE:
        return quantity(key->dim);
    case BK_KEY_TOLERANCE:
    case BK_KEY_VECTOR:
    case BK_KEY_VECTOR_VALUE:
    case BK_KEY_DIRECTION:
    case BK_KEY_DATE:
        return typed("string");
    case BK_KEY_YESNO:
        return json_pack("{s:[b,b,s,s]}", "enum", 1, 0, "yes", "no");
    case BK_KEY_WORD:
        return words(key);
    case BK_KEY_TEXT:
        return key->words ? words(key) : number_or_text();
    case BK_KEY_REFERENCE:
    case BK_KEY_OTHER:
        return number_or_text();
    case BK_KEY_REFERENCES:
        return json_pack("{s:s, s:o}", "type", "array", "items", number_or_text());
    case BK_KEY_MAP:
        return item(key);
    case BK_KEY_NAMED:
        return json_pack("{s:s, s:o}", "type", "object", "additionalProperties", item(key));
    case BK_KEY_LIST:
        break;
    }
    json_t *list = json_pack("{s:s, s:o}", "type", "array", "items", item(key));
    return key->single ? either(item(key), list) : list;
}

static json_t *of_map(const bk_key_map *map)
{
    json_t *properties = json_object(), *required = json_array();
    for (size_t i = 0; i < map->n; i++) {
        const bk_key *key = &map->keys[i];
        const bool with_unit = key->dim != BK_DIM_NONE && !key->map;
        json_t *about = with_unit ? json_sprintf("%s (%s, with its unit)", key->about, bk_dim_name(key->dim))
                                  : json_string(key->about);
        properties = with(properties, key->name, with(of_kind(key), "description", about));
        if (key->required) required = and(required, json_string(key->name));
    }
    const bool none = required && json_array_size(required) == 0;
    json_t *whole = json_pack("{s:s, s:s, s:o, s:b}", "type", "object", "description", map->about, "properties", properties,
                              "additionalProperties", map->open);
    if (!none) return with(whole, "required", required);
    json_decref(required);
    return whole;
}

char *bk_report_schema(void)
{
    json_t *defs = json_object(), *root = of_map(bk_plan_keys_at(0));
    for (size_t i = 1; bk_plan_keys_at(i); i++) defs = with(defs, bk_plan_keys_at(i)->name, of_map(bk_plan_keys_at(i)));
    json_t *whole = json_pack("{s:s, s:s}", "$schema", "https://json-schema.org/draft/2020-12/schema", "title", "Becket plan");
    const bool updated = json_object_update(whole, root) == 0;
    whole = with(whole, "$defs", defs);
    json_decref(root);
    if (updated) return bk_json_print(whole);
    json_decref(whole);
    return NULL;
}

/* ---- the manual page --------------------------------------------------------------------------- */

static const char *form_of(const bk_key *key)
{
    switch (key->kind) {
    case BK_KEY_NUMBER:
        return key->dim == BK_DIM_NONE ? "number" : bk_dim_name(key->dim);
    case BK_KEY_VALUE:
        return key->dim == BK_DIM_NONE ? "number, tolerance allowed" : bk_dim_name(key->dim);
    case BK_KEY_TOLERANCE:
        return "tolerance";
    case BK_KEY_VECTOR:
    case BK_KEY_VECTOR_VALUE:
        return "three lengths";
    case BK_KEY_DIRECTION:
        return "direction";
    case BK_KEY_YESNO:
        return "yes or no";
    case BK_KEY_DATE:
        return "date";
    case BK_KEY_WORD:
        return "word";
    case BK_KEY_TEXT:
        return key->words ? "word" : "text";
    case BK_KEY_REFERENCE:
        return "name";
    case BK_KEY_REFERENCES:
        return "names";
    case BK_KEY_OTHER:
        return "see there";
    case BK_KEY_MAP:
        return "keys";
    case BK_KEY_NAMED:
        return "names, each with keys";
    case BK_KEY_LIST:
        break;
    }
    return "list";
}

/* Text with roff's own signs made harmless. */
static void roff(bk_text *t, const char *s)
{
    for (; *s; s++) {
        if (*s == '\\')
            bk_text_put(t, "\\\\");
        else if (*s == '-')
            bk_text_put(t, "\\-");
        else
            bk_text_put(t, "%c", *s);
    }
}

char *bk_report_keys_manual(const char *version)
{
    bk_text t;
    if (!bk_text_open_raw(&t)) return NULL;
    bk_text_put(&t,
                ".TH BECKET\\-PLAN 5 \"\" \"becket %s\" \"File formats\"\n.SH NAME\nbecket\\-plan \\- plan "
                "of a lift for becket(1)\n"
                ".SH DESCRIPTION\n"
                "A plan is one YAML document in UTF\\-8. Axes are right\\-handed, z up. A quantity is a "
                "scalar with its unit:\n"
                ".BR \"2.5 m\" , \" 8 ft 6 in\" , \" 3/8 in\" , \" 3.6 t\" , \" 12 kN\" , \" 35 deg\" .\n"
                "A vector is three numbers and one unit. A tolerance follows: \\(+- 5 %%, +/\\- 0.1 m.\n"
                "Where a force is meant a mass is read as its weight, and the other way round; a bare ton is "
                "refused.\n"
                "A part is TABLE/ROW of a table (see\n.BR \"becket tables\" )\nor the same keys inline.\n",
                version);
    for (size_t i = 0; bk_plan_keys_at(i); i++) {
        const bk_key_map *map = bk_plan_keys_at(i);
        bk_text_put(&t, ".SH \"KEYS OF: ");
        roff(&t, map->name);
        bk_text_put(&t, "\"\n");
        for (size_t k = 0; k < map->n; k++) {
            const bk_key *key = &map->keys[k];
            bk_text_put(&t, ".TP\n.BR ");
            roff(&t, key->name);
            bk_text_put(&t, " \" (%s%s%s%s)\"\n", form_of(key), key->map ? " of: " : "",
                        key->map ? key->map : "", key->required ? "; needed" : "");
            /* a line of roff must not begin with its control signs */
            bk_text_put(&t, "\\&");
            roff(&t, key->about);
            for (const char *const *word = key->words; word && *word; word++) {
                bk_text_put(&t, word == key->words ? ": " : ", ");
                roff(&t, *word);
            }
            bk_text_put(&t, "\n");
        }
    }
    bk_text_put(
        &t,
        ".SH EXAMPLE\n.nf\n"
        "becket: 1\ntitle: Pump onto its plinth\nrules: en\nbodies:\n  load:\n    mass: 1.2 t +/\\- 5 %%\n"
        "    cog: 0.95 0 \\-0.5 m +/\\- 20 mm\n    points: {a: 0 0 0 m, b: 2 0 0 m}\n"
        "anchors:\n  hook: {at: 0.95 0 1.8 m, limit: 5 t}\nlines:\n"
        "  a: {from: hook, to: load.a, parts: [chain\\-en818\\-4/10]}\n"
        "  b: {from: hook, to: load.b, parts: [chain\\-en818\\-4/10]}\n.fi\n"
        ".SH SEE ALSO\n.BR becket (1),\n.BR becket\\-table (5)\n");
    return bk_text_take(&t);
}
