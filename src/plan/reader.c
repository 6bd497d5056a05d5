/* Reading a map by its list of keys, and the messages that come of it.
 *
 * Every complaint carries the place of the offending key or value, the path to it ("lines.nw.length"), what
 * was wanted, what was found, and the nearest known word.  Reading goes on after a mistake, so that one run
 * tells them all; whatever could not be read keeps its missing value (NaN, NULL, BK_NONE).
 */
#include "reader.h"

#include <stdio.h>
#include <string.h>

#define SHOWN_MAX 60    /* bytes of the user's own text in a message */
#define HINTS_MAX 50000 /* words looked through in one run for the nearest one */

/* ---- messages ---------------------------------------------------------------------------------- */

bk_status out_of_memory(reader *r)
{
    if (r->first != BK_E_NOMEM) {
        r->first = BK_E_NOMEM;
        bk_fail(r->errors, (bk_place){.file = r->file}, BK_E_NOMEM, "out of memory");
    }
    return BK_E_NOMEM;
}

bk_status complain(reader *r, bk_place place, bk_status status, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *text = bk_arena_vprintf(r->arena, format, args);
    va_end(args);
    if (!text) return out_of_memory(r);
    if (r->first == BK_OK) r->first = status;
    if (!r->errors) return status;
    /* A node that an alias uses again has the same mistake at the same place. */
    for (size_t i = 0; i < r->n_told; i++)
        if (r->told[i].place.line == place.line && r->told[i].place.column == place.column &&
            r->told[i].place.file == place.file && !strcmp(text, r->told[i].text))
            return status;
    if (r->n_told < BK_ERRORS_MAX) {
        bk_message *told = bk_arena_push(r->arena, &r->told, &r->n_told, &r->told_room, sizeof *r->told);
        if (!told) return out_of_memory(r);
        *told = (bk_message){status, place, text};
    }
    return bk_fail(r->errors, place, status, "%s%s%s", r->path, r->path_n ? ": " : "", text);
}

void note(reader *r, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = bk_arena_vprintf(r->arena, format, args);
    va_end(args);
    const char **at = text ? PUSH(r, notes) : NULL;
    if (at) *at = text;
    if (!text) out_of_memory(r);
}

const char *short_text(reader *r, const char *text)
{
    size_t n = strlen(text);
    if (n <= SHOWN_MAX) return text;
    n = SHOWN_MAX;
    while (n && ((unsigned char)text[n] & 0xC0) == 0x80)
        n--;
    const char *cut = bk_arena_printf(r->arena, "%.*s...", (int)n, text);
    if (!cut) out_of_memory(r);
    return cut ? cut : "";
}

const char *shown(reader *r, const bk_yaml *node)
{
    if (node->kind == BK_YAML_LIST) return "a list";
    if (node->kind == BK_YAML_MAP) return "a map";
    if (!node->quoted && !*node->text) return "nothing";
    const char *text = bk_arena_printf(r->arena, "\"%s\"", short_text(r, node->text));
    if (!text) out_of_memory(r);
    return text ? text : "";
}

const char *hint(reader *r, const char *word, const char *const *known, size_t n)
{
    /* enough for any honest file; a file of thousands of slips learns the rest in its next run */
    if (n > HINTS_MAX - r->hints) return "look at the first messages";
    r->hints += n;
    const char *nearest = bk_nearest(word, known, n);
    const char *text = NULL;
    if (nearest) {
        text = bk_arena_printf(r->arena, "nearest is \"%s\"", short_text(r, nearest));
    } else if (!n) {
        return "none is defined";
    } else {
        text = "known:";
        for (size_t i = 0; i < n && text; i++) {
            if (i == 24) {
                text = bk_arena_printf(r->arena, "%s, ... (%zu in all)", text, n);
                break;
            }
            text = bk_arena_printf(r->arena, "%s%s %s", text, i ? "," : "", short_text(r, known[i]));
        }
    }
    if (!text) out_of_memory(r);
    return text ? text : "";
}

/* ---- path -------------------------------------------------------------------------------------- */

size_t path_to(reader *r, const char *separator, const char *word)
{
    size_t old = r->path_n;
    size_t room = sizeof r->path - old;
    int n = snprintf(r->path + old, room, "%s%s", old ? separator : "", short_text(r, word));
    /* Too deep to show: the place still tells where. */
    if (n > 0) r->path_n = (size_t)n < room ? old + (size_t)n : sizeof r->path - 1;
    return old;
}

size_t path_to_item(reader *r, size_t i)
{
    char index[32];
    snprintf(index, sizeof index, "[%zu]", i + 1);
    return path_to(r, "", index);
}

void path_back(reader *r, size_t length)
{
    r->path_n = length;
    r->path[length] = '\0';
}

/* ---- texts ------------------------------------------------------------------------------------- */

/* Why a text may not be shown on a sheet, NULL when it may: control characters and line separators.
 * The bytes are known to be UTF-8. */
static const char *not_printable(const char *text)
{
    for (const unsigned char *p = (const unsigned char *)text; *p; p++) {
        if (*p == '\n') return "a line break";
        if (*p < 0x20 || *p == 0x7F) return "a control character";
        if (*p == 0xC2 && p[1] >= 0x80 && p[1] < 0xA0) return "a control character";
        if (*p == 0xE2 && p[1] == 0x80 && (p[2] == 0xA8 || p[2] == 0xA9)) return "a line separator";
    }
    return NULL;
}

bool name_ok(reader *r, const char *name, bk_place place, bool dots)
{
    const char *why = not_printable(name);
    if (!*name)
        complain(r, place, BK_E_VALUE, "a name is empty");
    else if (strlen(name) > NAME_MAX_BYTES)
        complain(r, place, BK_E_VALUE, "name \"%s\" is longer than %d bytes", short_text(r, name),
                 NAME_MAX_BYTES);
    else if (why)
        complain(r, place, BK_E_VALUE, "name \"%s\" has %s in it", short_text(r, name), why);
    else if (name[0] == ' ' || name[strlen(name) - 1] == ' ')
        complain(r, place, BK_E_VALUE, "name \"%s\" begins or ends with a space", short_text(r, name));
    else if (!dots && strchr(name, '.'))
        complain(r, place, BK_E_VALUE,
                 "name \"%s\" has a dot in it: the dot parts BODY.POINT and RUNWAY.TROLLEY",
                 short_text(r, name));
    else
        return true;
    return false;
}

static bool read_text(reader *r, const bk_yaml *node, const char **out)
{
    const char *why = not_printable(node->text);
    if (!node->quoted && !*node->text)
        complain(r, node->place, BK_E_KIND, "want a text, found nothing");
    else if (why)
        complain(r, node->place, BK_E_VALUE, "the text has %s in it", why);
    else if (strlen(node->text) > TEXT_MAX_BYTES)
        complain(r, node->place, BK_E_TOO_LARGE, "the text is longer than %d bytes", TEXT_MAX_BYTES);
    else {
        *out = node->text;
        return true;
    }
    return false;
}

static bool read_date(reader *r, const bk_yaml *node, const char **out)
{
    static const int days[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const char *t = node->text;
    bool form = strlen(t) == 10 && t[4] == '-' && t[7] == '-';
    int part[3] = {0, 0, 0};
    for (int i = 0, k = 0; form && i < 10; i++) {
        if (i == 4 || i == 7) {
            k++;
            continue;
        }
        form = t[i] >= '0' && t[i] <= '9';
        part[k] = part[k] * 10 + (t[i] - '0');
    }
    int year = part[0], month = part[1], day = part[2];
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    if (!form)
        complain(r, node->place, BK_E_VALUE, "want a date as YYYY-MM-DD, found %s", shown(r, node));
    else if (year < 1800 || month < 1 || month > 12 || day < 1 || day > days[month - 1] ||
             (month == 2 && day == 29 && !leap))
        complain(r, node->place, BK_E_VALUE, "there is no such day: %s", shown(r, node));
    else {
        *out = t;
        return true;
    }
    return false;
}

static size_t count_words(const char *const *words)
{
    size_t n = 0;
    while (words[n])
        n++;
    return n;
}

/* Place of the node's text among words, -1 after a complaint. */
static int read_word(reader *r, const char *const *words, const bk_yaml *node)
{
    size_t n = count_words(words);
    for (size_t i = 0; i < n; i++)
        if (!strcmp(words[i], node->text)) return (int)i;
    const char *all = words[0], *nearest = bk_nearest(node->text, words, n);
    for (size_t i = 1; i < n && all; i++)
        all = bk_arena_printf(r->arena, "%s, %s", all, words[i]);
    if (!all) {
        out_of_memory(r);
        return -1;
    }
    complain(r, node->place, BK_E_WORD, "want one of %s, found %s%s%s%s", all, shown(r, node),
             nearest ? "; nearest is \"" : "", nearest ? nearest : "", nearest ? "\"" : "");
    return -1;
}

/* ---- numbers ----------------------------------------------------------------------------------- */

static const char *bound_text(char *buf, size_t size, const bk_key *key, double v)
{
    bk_quantity_print(buf, size, v, key->dim, BK_SI, 3);
    return buf;
}

static bool in_bounds(reader *r, const bk_key *key, const bk_yaml *node, double v)
{
    double low, high;
    bool whole;
    char bound[64];
    key_bounds(key, &low, &high, &whole);
    const char *found = shown(r, node);
    if (v <= 0 && low > 0)
        complain(r, node->place, BK_E_VALUE, "want more than 0, found %s", found);
    else if (v < 0 && low >= 0)
        complain(r, node->place, BK_E_VALUE, "want 0 or more, found %s", found);
    else if (v < low)
        complain(r, node->place, BK_E_VALUE, "want at least %s, found %s",
                 bound_text(bound, sizeof bound, key, low), found);
    else if (v > high && key->dim == BK_DIM_NONE && high <= 2) /* a share: the % is what was forgotten */
        complain(r, node->place, BK_E_VALUE, "want at most %s %%, found %s",
                 bk_plain_print(bound, sizeof bound, 100 * high, 4), found);
    else if (v > high)
        complain(r, node->place, BK_E_VALUE, "want at most %s, found %s",
                 bound_text(bound, sizeof bound, key, high), found);
    else if (whole && (v < floor(v) || v > floor(v)))
        complain(r, node->place, BK_E_VALUE, "want a whole number, found %s", found);
    else
        return true;
    return false;
}

static bk_status quantity_of(const char *text, bk_dim dim, bool vector, bk_vec3_value *out, char *why,
                             size_t size)
{
    bk_value value = {0, 0};
    if (vector) return bk_vector_read(text, dim, out, why, size);
    bk_status status = bk_quantity_read(text, dim, &value, why, size);
    out->v.x = value.v;
    out->tol.x = value.tol;
    return status;
}

/* Reads a quantity (into x) or a vector.  What is wrong is told of the tolerance where the value before it is
 * sound. */
static bool read_si(reader *r, const bk_key *key, const bk_yaml *node, bool vector, bk_vec3_value *out)
{
    static const char *const marks[] = {"±", "+/-", "+-"};
    char why[400] = "", unused[400];
    bk_status status = quantity_of(node->text, key->dim, vector, out, why, sizeof why);
    if (status == BK_OK) return true;
    const char *part = status == BK_E_NUMBER ? "not a number, or out of range: " : "", *mark = NULL;
    for (size_t i = 0; i < sizeof marks / sizeof *marks && !mark; i++)
        mark = strstr(node->text, marks[i]);
    char *value = mark ? bk_arena_strndup(r->arena, node->text, (size_t)(mark - node->text)) : NULL;
    if (value && quantity_of(value, key->dim, vector, out, unused, sizeof unused) == BK_OK)
        part = "in the tolerance: ";
    complain(r, node->place, status, "%s%s (%s)", part, why, key->about);
    return false;
}

static bool read_quantity(reader *r, const bk_key *key, const bk_yaml *node, bool tolerance, bk_value *out)
{
    bk_vec3_value read = {{0, 0, 0}, {0, 0, 0}};
    if (!read_si(r, key, node, false, &read)) return false;
    bk_value value = {read.v.x, read.tol.x};
    if (!in_bounds(r, key, node, value.v)) return false;
    if (value.tol > 0 && !tolerance) {
        complain(r, node->place, BK_E_TOLERANCE,
                 "a tolerance has no use here; want the value alone, found %s", shown(r, node));
        return false;
    }
    if (value.tol > 0 && value.tol >= fabs(value.v)) {
        complain(r, node->place, BK_E_TOLERANCE, "the tolerance is as large as the value itself: %s",
                 shown(r, node));
        return false;
    }
    *out = value;
    return true;
}

static double largest(bk_vec3 v)
{
    return fmax(fabs(v.x), fmax(fabs(v.y), fabs(v.z)));
}

static bool read_vector(reader *r, const bk_key *key, const bk_yaml *node, bool tolerance, bk_vec3_value *out)
{
    bk_vec3_value value = {{0, 0, 0}, {0, 0, 0}};
    if (!read_si(r, key, node, true, &value)) return false;
    if (largest(value.v) > 1e6)
        complain(r, node->place, BK_E_VALUE, "want places within 1000 km, found %s", shown(r, node));
    else if (largest(value.tol) > 0 && !tolerance)
        complain(r, node->place, BK_E_TOLERANCE,
                 "a tolerance has no use here; want the vector alone, found %s", shown(r, node));
    else if (largest(value.tol) > 1e4)
        complain(r, node->place, BK_E_TOLERANCE, "want a tolerance within 10 km, found %s", shown(r, node));
    else {
        *out = value;
        return true;
    }
    return false;
}

static bool read_direction(reader *r, const bk_yaml *node, bk_vec3 *out)
{
    double v[3] = {0, 0, 0};
    const char *p = node->text;
    for (int i = 0; i < 3 && p; i++)
        p = bk_number_read(p, &v[i]);
    while (p && *p == ' ')
        p++;
    bk_vec3 d = bk_vec3_of(v[0], v[1], v[2]);
    double norm = bk_vec3_norm(d);
    if (!p || *p)
        complain(r, node->place, BK_E_VECTOR, "want a direction: three numbers without a unit, found %s",
                 shown(r, node));
    else if (!(norm > 1e-12) || !(norm < 1e12))
        complain(r, node->place, BK_E_VALUE, "want a direction, found %s that points nowhere",
                 shown(r, node));
    else {
        *out = bk_vec3_scale(1 / norm, d);
        return true;
    }
    return false;
}

/* "± 50 mm", the sign may be left out */
static bool read_tolerance(reader *r, const bk_key *key, const bk_yaml *node, double *out)
{
    static const char *const signs[] = {"±", "+/-", "+-"};
    const char *text = node->text;
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (!strncmp(text, signs[i], strlen(signs[i]))) {
            text += strlen(signs[i]);
            break;
        }
    while (*text == ' ')
        text++;
    bk_yaml rest = *node;
    rest.text = text;
    bk_value value;
    bk_key positive = *key;
    positive.low = 1e-9;
    positive.high = 1e3;
    if (!read_quantity(r, &positive, &rest, false, &value)) return false;
    *out = value.v;
    return true;
}

/* ---- one value --------------------------------------------------------------------------------- */

/* Whether a node is of the kind that the key asks for; complains if not. */
static bool kind_ok(reader *r, const bk_key *key, const bk_yaml *node)
{
    const char *want = "a single value";
    bool nothing = node->kind == BK_YAML_SCALAR && !node->quoted && !*node->text;
    bool ok = node->kind == BK_YAML_SCALAR;
    if (key->kind == BK_KEY_MAP || key->kind == BK_KEY_NAMED) {
        want = key->kind == BK_KEY_NAMED ? "a map of NAME: ..."
               : key->scalar             ? "TABLE/ROW or a map"
                                         : "a map";
        ok = node->kind == BK_YAML_MAP ||
             (node->kind == BK_YAML_SCALAR && key->kind == BK_KEY_MAP && key->scalar);
    } else if (key->kind == BK_KEY_LIST) {
        want = key->single ? "a list, or one item" : "a list";
        ok = node->kind == BK_YAML_LIST ||
             (key->single && node->kind == (key->map ? BK_YAML_MAP : BK_YAML_SCALAR));
    } else if (key->kind == BK_KEY_REFERENCES) {
        want = "a list of names";
        ok = node->kind == BK_YAML_LIST;
    } else if (key->kind == BK_KEY_VECTOR || key->kind == BK_KEY_VECTOR_VALUE) {
        want = "three numbers and one unit, such as `1.10 0.05 0.70 m`";
    } else if (key->kind == BK_KEY_REFERENCE) {
        want = "a name";
    }
    if (ok && nothing && key->kind != BK_KEY_TEXT && key->kind != BK_KEY_WORD && key->kind != BK_KEY_DATE)
        ok = false;
    if (!ok) complain(r, node->place, BK_E_KIND, "want %s (%s), found %s", want, key->about, shown(r, node));
    return ok;
}

bool read_value(reader *r, const bk_key *key, const bk_yaml *node, void *out)
{
    if (!kind_ok(r, key, node)) return false;
    switch (key->kind) {
    case BK_KEY_NUMBER: {
        bk_value value;
        if (!read_quantity(r, key, node, false, &value)) return false;
        *(double *)out = value.v;
        return true;
    }
    case BK_KEY_VALUE:
        return read_quantity(r, key, node, true, out);
    case BK_KEY_TOLERANCE:
        return read_tolerance(r, key, node, out);
    case BK_KEY_VECTOR: {
        bk_vec3_value value;
        if (!read_vector(r, key, node, false, &value)) return false;
        *(bk_vec3 *)out = value.v;
        return true;
    }
    case BK_KEY_VECTOR_VALUE:
        return read_vector(r, key, node, true, out);
    case BK_KEY_DIRECTION:
        return read_direction(r, node, out);
    case BK_KEY_YESNO: {
        static const char *const words[] = {"no", "yes", "false", "true", NULL};
        int i = read_word(r, words, node);
        if (i >= 0) *(bool *)out = i % 2 == 1;
        return i >= 0;
    }
    case BK_KEY_TEXT:
        if (key->words && read_word(r, key->words, node) < 0) return false;
        return read_text(r, node, out);
    case BK_KEY_DATE:
        return read_date(r, node, out);
    case BK_KEY_WORD: {
        /* enums of plan.h are kept by number, in the order of their words */
        int i = read_word(r, key->words, node);
        if (i < 0) return false;
        i += (int)key->low;
        memcpy(out, &i, sizeof i);
        return true;
    }
    case BK_KEY_REFERENCE:
    case BK_KEY_REFERENCES:
    case BK_KEY_OTHER:
    case BK_KEY_MAP:
    case BK_KEY_NAMED:
    case BK_KEY_LIST:
        break;
    }
    return true;
}

/* ---- maps -------------------------------------------------------------------------------------- */

const bk_key *key_of(const bk_key_map *keys, const char *name)
{
    for (size_t i = 0; i < keys->n; i++)
        if (!strcmp(keys->keys[i].name, name)) return &keys->keys[i];
    return NULL;
}

/* Names of the keys of a list, NULL when memory is out. */
static const char **names_of(reader *r, const bk_key_map *keys)
{
    const char **names = BK_NEW(r->arena, const char *, keys->n);
    if (!names) out_of_memory(r);
    for (size_t i = 0; names && i < keys->n; i++)
        names[i] = keys->keys[i].name;
    return names;
}

static void unknown_key(reader *r, const bk_key_map *keys, const bk_yaml_pair *pair)
{
    const char **names = names_of(r, keys);
    if (names)
        complain(r, pair->place, BK_E_UNKNOWN_KEY, "unknown key \"%s\" in %s; %s", short_text(r, pair->key),
                 keys->about, hint(r, pair->key, names, keys->n));
}

bool misspelt(reader *r, const bk_yaml *map, const bk_key_map *keys, const char *name)
{
    const char **names = NULL;
    for (size_t i = 0; map && map->kind == BK_YAML_MAP && i < map->n && i < 1000; i++) {
        if (key_of(keys, map->pairs[i].key)) continue;
        if (!names) names = names_of(r, keys);
        const char *nearest = names ? bk_nearest(map->pairs[i].key, names, keys->n) : NULL;
        if (nearest && !strcmp(nearest, name)) return true;
    }
    return false;
}

bool missing(reader *r, const bk_yaml *map, const bk_key_map *keys, bk_place place, const char *name,
             const char *or_else)
{
    if (bk_yaml_get(map, name)) return false;
    if (misspelt(r, map, keys, name)) return true;
    complain(r, place, BK_E_MISSING_KEY, "\"%s\" is missing%s: %s", name, or_else, key_of(keys, name)->about);
    return true;
}

/* row: a row of a table, whose further columns are documentation and whose citation is known */
static bool read_map_as(reader *r, const bk_yaml *map, const bk_key_map *keys, bk_place place, void *out,
                        bool row)
{
    if (map->kind != BK_YAML_MAP) {
        complain(r, map->place, BK_E_KIND, "want a map (%s), found %s", keys->about, shown(r, map));
        return false;
    }
    for (size_t i = 0; i < map->n; i++) {
        const bk_yaml_pair *pair = &map->pairs[i];
        const bk_key *key = key_of(keys, pair->key);
        if (!key) {
            if (!row && !keys->open) unknown_key(r, keys, pair);
            continue;
        }
        if (row && (!strcmp(key->name, "part") || !strcmp(key->name, "source") || !strcmp(key->name, "mark")))
            continue;
        size_t back = path_to(r, ".", key->name);
        if (key->offset == SIZE_MAX) {
            double number;
            const char *text;
            if (key->kind == BK_KEY_NUMBER)
                read_value(r, key, pair->value, &number);
            else if (key->kind == BK_KEY_TEXT)
                read_value(r, key, pair->value, &text);
            else
                kind_ok(r, key, pair->value);
        } else {
            read_value(r, key, pair->value, (char *)out + key->offset);
        }
        path_back(r, back);
    }
    for (size_t i = 0; !row && i < keys->n; i++)
        if (keys->keys[i].required) missing(r, map, keys, place, keys->keys[i].name, "");
    return true;
}

bool read_map(reader *r, const bk_yaml *map, const bk_key_map *keys, bk_place place, void *out)
{
    return read_map_as(r, map, keys, place, out, false);
}

const bk_yaml *map_item(const bk_yaml *map, const bk_key_map *keys, const char *name)
{
    const bk_yaml *node = bk_yaml_get(map, name);
    if (!node) return NULL;
    const bk_key *key = key_of(keys, name);
    bool scalar = node->kind == BK_YAML_SCALAR && (node->quoted || *node->text);
    switch (key->kind) {
    case BK_KEY_MAP:
        return node->kind == BK_YAML_MAP || (scalar && key->scalar) ? node : NULL;
    case BK_KEY_NAMED:
        return node->kind == BK_YAML_MAP ? node : NULL;
    case BK_KEY_REFERENCES:
        return node->kind == BK_YAML_LIST ? node : NULL;
    case BK_KEY_LIST:
        if (key->single && (key->map ? node->kind == BK_YAML_MAP : scalar)) return node;
        return node->kind == BK_YAML_LIST ? node : NULL;
    default:
        return scalar ? node : NULL;
    }
}

double nan_value(void)
{
    return (double)NAN;
}

void map_to_nan(const bk_key_map *keys, void *out)
{
    const bk_vec3 nowhere = {nan_value(), nan_value(), nan_value()};
    for (size_t i = 0; i < keys->n; i++) {
        const bk_key *key = &keys->keys[i];
        if (key->offset == SIZE_MAX) continue;
        void *at = (char *)out + key->offset;
        if (key->kind == BK_KEY_NUMBER) *(double *)at = nan_value();
        if (key->kind == BK_KEY_VALUE) *(bk_value *)at = (bk_value){nan_value(), 0};
        if (key->kind == BK_KEY_VECTOR || key->kind == BK_KEY_DIRECTION) *(bk_vec3 *)at = nowhere;
        if (key->kind == BK_KEY_VECTOR_VALUE) *(bk_vec3_value *)at = (bk_vec3_value){nowhere, {0, 0, 0}};
    }
}

bool read_numbers(reader *r, const bk_key *key, const bk_yaml *list, size_t n_min, size_t n_max, double *out,
                  size_t *n)
{
    bk_key number = *key;
    number.kind = BK_KEY_NUMBER;
    bool ok = true;
    const bk_yaml *one[1] = {list};
    const bk_yaml *const *items = list->kind == BK_YAML_LIST ? list->items : one;
    *n = list->kind == BK_YAML_LIST ? list->n : 1;
    if (*n < n_min || *n > n_max) {
        if (n_min == n_max)
            complain(r, list->place, BK_E_KIND, "want %zu values (%s), found %zu", n_min, key->about, *n);
        else
            complain(r, list->place, BK_E_KIND, "want %zu to %zu values (%s), found %zu", n_min, n_max,
                     key->about, *n);
        return false;
    }
    for (size_t i = 0; i < *n; i++) {
        size_t back = path_to_item(r, i);
        ok &= read_value(r, &number, items[i], &out[i]);
        path_back(r, back);
    }
    return ok;
}

/* ---- rows -------------------------------------------------------------------------------------- */

/* The row that a scalar names and its figures; false after a complaint. */
static bool take_row(reader *r, const bk_yaml *ref, const bk_key_map *keys, void *out, origin *from)
{
    const bk_row *row = NULL;
    if (!strchr(ref->text, '/')) {
        complain(r, ref->place, BK_E_TABLE, "want TABLE/ROW (%s), found %s", keys->about, shown(r, ref));
        return false;
    }
    bk_status status = bk_tables_row(r->tables, ref->text, ref->place, &row, r->errors);
    if (status != BK_OK) {
        if (r->first == BK_OK || status == BK_E_NOMEM) r->first = status;
        return false;
    }
    from->ref = row->ref;
    from->row = row;
    from->source = row->source;
    from->mark = row->mark;
    char kept[sizeof r->path];
    memcpy(kept, r->path, sizeof kept);
    size_t kept_n = r->path_n;
    path_back(r, 0);
    path_to(r, "", row->ref);
    read_map_as(r, row->map, keys, row->map->place, out, true);
    memcpy(r->path, kept, sizeof kept);
    r->path_n = kept_n;
    for (size_t i = 0; i < keys->n; i++)
        if (keys->keys[i].kind == BK_KEY_NUMBER && bk_yaml_get(row->map, keys->keys[i].name)) return true;
    complain(r, ref->place, BK_E_ROW, "%s has none of the figures of %s", shown(r, ref), keys->about);
    return false;
}

bool read_row(reader *r, const bk_yaml *node, const bk_key_map *keys, bk_place place, void *out, origin *from)
{
    *from = (origin){.place = node->place, .source = "stated in the plan", .mark = BK_MARK_USER};
    if (node->kind == BK_YAML_SCALAR) return take_row(r, node, keys, out, from);
    bool ok = true;
    const bk_yaml *base = node->kind == BK_YAML_MAP ? map_item(node, keys, "part") : NULL;
    if (base) ok = take_row(r, base, keys, out, from);
    if (!read_map(r, node, keys, place, out)) return false;
    from->inline_map = node;
    /* these say whose figures they are, or what the piece does here; all else changes what the row states */
    static const char *const beside[] = {"part", "source", "mark", "duty", "level", "clear"};
    bool changed = false;
    for (size_t i = 0; i < node->n; i++) {
        bool is_beside = !key_of(keys, node->pairs[i].key);
        for (size_t k = 0; k < sizeof beside / sizeof *beside; k++)
            is_beside |= !strcmp(node->pairs[i].key, beside[k]);
        changed |= !is_beside;
    }
    if (from->row && changed) {
        const char *source = bk_arena_printf(r->arena, "%s, changed in the plan", from->source);
        from->source = source ? source : "";
        if (from->mark < BK_MARK_USER) from->mark = BK_MARK_USER; /* the least sure of the two */
        if (!source) out_of_memory(r);
    }
    const bk_yaml *source = bk_yaml_get(node, "source"), *mark = bk_yaml_get(node, "mark");
    if (source && source->kind == BK_YAML_SCALAR && *source->text) from->source = source->text;
    if (mark && mark->kind == BK_YAML_SCALAR && !bk_mark_read(mark->text, &from->mark)) {
        size_t back = path_to(r, ".", "mark");
        complain(r, mark->place, BK_E_WORD,
                 "%s does not say how sure a figure is; known: published, computed, memory, ...",
                 shown(r, mark));
        path_back(r, back);
        ok = false;
    }
    return ok;
}
