/* yaml: a bounded tree with line marks, from libyaml's events.  No other room sees libyaml.
 *
 * The bounds are checked while reading, never after, so that a hostile file costs no more than an
 * honest one: the size before anything else, the encoding in one pass (which also gives places for
 * mistakes that libyaml reports without one), the depth when a list or map opens, the weight as each
 * node or alias arrives.  The running weight of the file is the weight of its root: an alias adds
 * all that its node stands for, so a bomb is refused at the alias that would pass the bound.
 *
 * Narrower than YAML where a plan has no use for it: no %TAG directives, no tags but that of a text,
 * no merge keys, keys are text without anchor or tag.  Duplicate keys do not stop the reading, so
 * that all of them are reported.
 */
#include <becket/base.h>

#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include "utf8.h"

enum { ANCHORS_MAX = 256 }; /* looked up one by one */
static const size_t NO_ANCHOR = SIZE_MAX;

typedef struct frame { /* a list or map that is still open */
    bk_yaml *node;
    size_t weight_before, anchor;
    const bk_yaml **items;
    bk_yaml_pair *pairs;
    size_t n, capacity;
    const char *key; /* of the value that comes next; NULL while a key is wanted */
    bk_place key_place;
} frame;

typedef struct anchor {
    const char *name;
    const bk_yaml *node;
    bool open; /* its node is not complete: an alias to it would be a circle */
} anchor;

typedef struct reader {
    bk_arena *arena;
    bk_errors *errors;
    const char *file;
    frame frames[BK_YAML_MAX_DEPTH];
    size_t depth;
    anchor *anchors;
    size_t n_anchors, anchors_capacity;
    size_t weight;
    const bk_yaml *root;
    size_t documents;
    bool duplicates;
} reader;

static bk_place place_of(const reader *r, yaml_mark_t mark)
{
    return (bk_place){r->file, (int)mark.line + 1, (int)mark.column + 1}; /* marks count from 0 */
}

static bk_status no_memory(const reader *r)
{
    return bk_fail(r->errors, (bk_place){r->file, 0, 0}, BK_E_NOMEM, "out of memory");
}

/* ---- the text, before any parsing -------------------------------------------------------------- */

/* Characters that YAML 1.2, section 5.1, allows in a stream, less those that make a text look other than it
 * is: whoever reads a plan sees what the program sees. */
static bool is_printable(uint32_t c)
{
    if (c == '\t' || c == '\n' || c == '\r') return true;
    return !bk_utf8_is_unsafe(c) && c != 0xFFFE && c != 0xFFFF;
}

static bk_status check_text(const reader *r, const char *bytes, size_t n)
{
    bk_place at = {r->file, 1, 1};
    for (size_t i = 0; i < n;) {
        uint32_t c;
        size_t length = bk_utf8_next(bytes + i, n - i, &c);
        if (length == 0)
            return bk_fail(r->errors, at, BK_E_ENCODING, "byte 0x%02X is not UTF-8 text",
                           (unsigned)(unsigned char)bytes[i]);
        if (!is_printable(c))
            return bk_fail(r->errors, at, BK_E_ENCODING, "character U+%04X has no place in a text file",
                           (unsigned)c);
        /* libyaml compares every %TAG with every other: a file of them would take minutes */
        if (at.column == 1 && c == '%' && n - i >= 4 && memcmp(bytes + i, "%TAG", 4) == 0)
            return bk_fail(r->errors, at, BK_E_YAML, "%%TAG directives are not read");
        i += length;
        bool crlf = c == '\r' && i < n && bytes[i] == '\n';
        if ((c == '\n' || c == '\r') && !crlf) {
            at.line++;
            at.column = 1;
        } else if (!crlf) {
            const size_t plain = bk_ascii_span(bytes + i, n - i);
            at.column += 1 + (int)plain;
            i += plain;
        }
    }
    return BK_OK;
}

/* ---- building ---------------------------------------------------------------------------------- */

static bk_status add_weight(reader *r, size_t weight, bk_place place, bool alias)
{
    if (weight <= BK_YAML_MAX_WEIGHT - r->weight) {
        r->weight += weight;
        return BK_OK;
    }
    if (alias)
        return bk_fail(r->errors, place, BK_E_ALIAS,
                       "with its aliases written out the file has more than %d entries", BK_YAML_MAX_WEIGHT);
    return bk_fail(r->errors, place, BK_E_TOO_LARGE, "more than %d entries", BK_YAML_MAX_WEIGHT);
}

/* Hangs a node where the file has it: at the root, in the open list, under the key that waits. */
static bk_status attach(reader *r, const bk_yaml *node)
{
    if (r->depth == 0) {
        r->root = node;
        return BK_OK;
    }
    frame *f = &r->frames[r->depth - 1];
    if (f->node->kind == BK_YAML_LIST) {
        const bk_yaml **item = bk_arena_push(r->arena, &f->items, &f->n, &f->capacity, sizeof *f->items);
        if (!item) return no_memory(r);
        *item = node;
        return BK_OK;
    }
    bk_yaml_pair *pair = bk_arena_push(r->arena, &f->pairs, &f->n, &f->capacity, sizeof *f->pairs);
    if (!pair) return no_memory(r);
    *pair = (bk_yaml_pair){f->key, f->key_place, node};
    f->key = NULL;
    return BK_OK;
}

static bk_status add_anchor(reader *r, const yaml_char_t *name, const bk_yaml *node, bool open, size_t *index)
{
    *index = NO_ANCHOR;
    if (!name) return BK_OK;
    if (r->n_anchors >= ANCHORS_MAX)
        return bk_fail(r->errors, node->place, BK_E_TOO_LARGE, "more than %d anchors", ANCHORS_MAX);
    char *copy = bk_arena_strndup(r->arena, (const char *)name, strlen((const char *)name));
    *index = r->n_anchors;
    anchor *a =
        copy ? bk_arena_push(r->arena, &r->anchors, &r->n_anchors, &r->anchors_capacity, sizeof *r->anchors)
             : NULL;
    if (!a) return no_memory(r);
    *a = (anchor){copy, node, open};
    return BK_OK;
}

static bk_status take_alias(reader *r, const yaml_event_t *event)
{
    bk_place place = place_of(r, event->start_mark);
    const char *name = (const char *)event->data.alias.anchor;
    for (size_t i = r->n_anchors; i-- > 0;) { /* the latest of a name holds */
        const anchor *a = &r->anchors[i];
        if (strcmp(a->name, name) != 0) continue;
        if (a->open)
            return bk_fail(r->errors, place, BK_E_ALIAS, "alias *%s stands within its own anchor", name);
        bk_status status = add_weight(r, a->node->weight, place, true);
        return status ? status : attach(r, a->node);
    }
    return bk_fail(r->errors, place, BK_E_ALIAS, "alias *%s names no anchor before it", name);
}

/* The text of a scalar as one C string. */
static bk_status scalar_text(reader *r, const yaml_event_t *event, const char **text)
{
    const char *value = (const char *)event->data.scalar.value;
    size_t length = event->data.scalar.length;
    bk_place place = place_of(r, event->start_mark);
    /* escapes can bring in what check_text kept out */
    for (size_t i = bk_ascii_span(value, length); i < length; i += bk_ascii_span(value + i, length - i)) {
        uint32_t c = 0;
        size_t step = bk_utf8_next(value + i, length - i, &c);
        if (step == 0 || !is_printable(c) || c == '\r')
            return bk_fail(r->errors, place, BK_E_ENCODING,
                           "the escape of character U+%04X has no place in a text", (unsigned)c);
        i += step;
    }
    *text = bk_arena_strndup(r->arena, value, length);
    return *text ? BK_OK : no_memory(r);
}

static bk_status take_key(reader *r, const yaml_event_t *event)
{
    bk_place place = place_of(r, event->start_mark);
    frame *f = &r->frames[r->depth - 1];
    if (event->type != YAML_SCALAR_EVENT)
        return bk_fail(r->errors, place, BK_E_YAML, "want a word as key, found %s",
                       event->type == YAML_ALIAS_EVENT            ? "an alias"
                       : event->type == YAML_SEQUENCE_START_EVENT ? "a list"
                                                                  : "a map");
    if (event->data.scalar.anchor || event->data.scalar.tag)
        return bk_fail(r->errors, place, BK_E_YAML, "a key can carry no anchor and no tag");
    if (event->data.scalar.length == 0) return bk_fail(r->errors, place, BK_E_YAML, "a key is empty");
    f->key_place = place;
    bk_status status = scalar_text(r, event, &f->key);
    if (!status && event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE && strcmp(f->key, "<<") == 0)
        status = bk_fail(r->errors, place, BK_E_YAML, "the merge key << is not read: write the keys out");
    return status;
}

static bk_status take_scalar(reader *r, const yaml_event_t *event)
{
    const char *tag = (const char *)event->data.scalar.tag;
    if (tag && strcmp(tag, "!") != 0 && strcmp(tag, YAML_STR_TAG) != 0)
        return bk_fail(r->errors, place_of(r, event->start_mark), BK_E_YAML,
                       "a tag other than !!str has no meaning here: what a value is follows from its key");
    bk_yaml *node = BK_NEW(r->arena, bk_yaml, 1);
    if (!node) return no_memory(r);
    node->kind = BK_YAML_SCALAR;
    node->place = place_of(r, event->start_mark);
    node->quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE || tag;
    node->weight = 1;
    size_t anchor_index;
    bk_status status = add_weight(r, 1, node->place, false);
    if (!status) status = scalar_text(r, event, &node->text);
    if (!status) status = add_anchor(r, event->data.scalar.anchor, node, false, &anchor_index);
    return status ? status : attach(r, node);
}

static bk_status open_node(reader *r, const yaml_event_t *event, bk_yaml_kind kind)
{
    bool list = kind == BK_YAML_LIST;
    const yaml_char_t *tag = list ? event->data.sequence_start.tag : event->data.mapping_start.tag;
    const yaml_char_t *name = list ? event->data.sequence_start.anchor : event->data.mapping_start.anchor;
    bk_place place = place_of(r, event->start_mark);
    if (tag)
        return bk_fail(r->errors, place, BK_E_YAML, "a tag has no meaning on a %s", list ? "list" : "map");
    if (r->depth >= BK_YAML_MAX_DEPTH)
        return bk_fail(r->errors, place, BK_E_TOO_LARGE, "lists and maps are nested more than %d deep",
                       BK_YAML_MAX_DEPTH);
    bk_yaml *node = BK_NEW(r->arena, bk_yaml, 1);
    if (!node) return no_memory(r);
    *node = (bk_yaml){.kind = kind, .place = place, .text = ""};
    frame opened = {.node = node, .weight_before = r->weight};
    bk_status status = add_weight(r, 1, place, false);
    if (!status) status = add_anchor(r, name, node, true, &opened.anchor);
    if (!status) status = attach(r, node);
    if (!status) r->frames[r->depth++] = opened;
    return status;
}

static int compare_pairs(const void *left, const void *right)
{
    const bk_yaml_pair *a = *(const bk_yaml_pair *const *)left, *b = *(const bk_yaml_pair *const *)right;
    int order = strcmp(a->key, b->key);
    return order ? order : (a > b) - (a < b); /* both in one array: equal keys stay in file order */
}

static bk_status find_duplicates(reader *r, const frame *f)
{
    if (f->node->kind != BK_YAML_MAP || f->n < 2) return BK_OK;
    const bk_yaml_pair **sorted = BK_NEW(r->arena, const bk_yaml_pair *, f->n);
    if (!sorted) return no_memory(r);
    for (size_t i = 0; i < f->n; i++)
        sorted[i] = &f->pairs[i];
    qsort(sorted, f->n, sizeof(const bk_yaml_pair *), compare_pairs);
    size_t first = 0;
    for (size_t i = 1; i < f->n; i++) {
        if (strcmp(sorted[i]->key, sorted[first]->key) != 0) {
            first = i;
            continue;
        }
        r->duplicates = true;
        bk_fail(r->errors, sorted[i]->place, BK_E_DUPLICATE, "key \"%s\" is given twice, first on line %d",
                sorted[i]->key, sorted[first]->place.line);
    }
    return BK_OK;
}

static bk_status close_node(reader *r)
{
    frame *f = &r->frames[--r->depth];
    f->node->n = f->n;
    f->node->items = f->items;
    f->node->pairs = f->pairs;
    f->node->weight = r->weight - f->weight_before;
    if (f->anchor != NO_ANCHOR) r->anchors[f->anchor].open = false;
    return find_duplicates(r, f);
}

static bk_status take(reader *r, const yaml_event_t *event)
{
    bool node = event->type == YAML_SCALAR_EVENT || event->type == YAML_ALIAS_EVENT ||
                event->type == YAML_SEQUENCE_START_EVENT || event->type == YAML_MAPPING_START_EVENT;
    if (node && r->depth > 0) {
        const frame *f = &r->frames[r->depth - 1];
        if (f->node->kind == BK_YAML_MAP && !f->key) return take_key(r, event);
    }
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        if (r->documents++ == 0) return BK_OK;
        return bk_fail(r->errors, place_of(r, event->start_mark), BK_E_YAML,
                       "a second document begins here: want one document in a file");
    case YAML_SCALAR_EVENT:
        return take_scalar(r, event);
    case YAML_ALIAS_EVENT:
        return take_alias(r, event);
    case YAML_SEQUENCE_START_EVENT:
        return open_node(r, event, BK_YAML_LIST);
    case YAML_MAPPING_START_EVENT:
        return open_node(r, event, BK_YAML_MAP);
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        return close_node(r);
    default:
        return BK_OK;
    }
}

/* ---- libyaml's own complaints, in our words ----------------------------------------------------- */

static bk_status syntax_error(const reader *r, const yaml_parser_t *parser)
{
    static const struct {
        const char *theirs, *ours;
    } words[] = {
        {"mapping values are not allowed",
         "a colon stands where no key can be: check the indentation, and put "
         "quotes round a text that has \": \" in it"},
        {"did not find expected key",
         "want a key here: check the indentation of this line and of those before it"},
        {"did not find expected '-'", "want a list entry that begins with \"- \": check the indentation"},
        {"did not find expected ',' or ']'", "want a comma or a closing ] in the list"},
        {"did not find expected ',' or '}'", "want a comma or a closing } in the map"},
        {"could not find expected ':'", "want a colon and a space after the key"},
        {"cannot start any token",
         "no value can begin with this character: indent with spaces, not tabs, and put "
         "quotes round a text that begins with @, % or a backquote"},
        {"tab character", "a tab stands where spaces must indent"},
        {"found unexpected end of stream", "the file ends inside a quoted text"},
        {"found unexpected document indicator", "a document mark (--- or ...) stands inside a quoted text"},
        {"block sequence entries are not allowed",
         "a list entry (\"- \") cannot stand here: begin it on a line of "
         "its own"},
        {"mapping keys are not allowed", "a key cannot stand here"},
        {"unknown escape character",
         "unknown escape after a backslash: use single quotes for a plain backslash"},
        {"hexdecimal number", "want hexadecimal digits in the escape"},
        {"invalid Unicode character escape code", "the escape is no Unicode character"},
        {"directive", "want no directive but %YAML 1.1 or 1.2"},
        {"comment or line break", "want the end of the line, or a blank and then a comment"},
        {"whitespace or line break", "want a blank or the end of the line after a tag"},
        {"alphabetic or numeric character", "want a name of letters and digits after & or *"},
        {"indentation indicator", "want 1 to 9 as the indentation after | or >"},
        {"expected <document start>", "want the end of the file, or a key in line with the first one"},
        {"expected node content", "want a value here"},
        {"undefined tag handle", "unknown tag"},
        {"incompatible YAML document", "want YAML 1.1 or 1.2"},
        {"Maximum nesting level", "nested too deep"},
    };
    if (parser->error == YAML_MEMORY_ERROR) return no_memory(r);
    const char *problem = parser->problem ? parser->problem : "";
    const char *ours = "not well-formed YAML";
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strstr(problem, words[i].theirs)) {
            ours = words[i].ours;
            break;
        }
    bk_place place = place_of(r, parser->problem_mark);
    if (parser->context && parser->context_mark.line < parser->problem_mark.line)
        return bk_fail(r->errors, place, BK_E_YAML, "%s (in what begins on line %d)", ours,
                       (int)parser->context_mark.line + 1);
    return bk_fail(r->errors, place, BK_E_YAML, "%s", ours);
}

/* ---- the door ----------------------------------------------------------------------------------- */

static bk_status read_events(reader *r, yaml_parser_t *parser)
{
    for (bool more = true; more;) {
        yaml_event_t event;
        if (!yaml_parser_parse(parser, &event)) return syntax_error(r, parser);
        more = event.type != YAML_STREAM_END_EVENT;
        bk_status status = take(r, &event);
        yaml_event_delete(&event);
        if (status) return status;
    }
    if (!r->root || (r->root->kind == BK_YAML_SCALAR && !r->root->quoted && !r->root->text[0]))
        return bk_fail(r->errors, (bk_place){r->file, 1, 1}, BK_E_YAML, "the file is empty");
    return r->duplicates ? BK_E_DUPLICATE : BK_OK;
}

bk_status bk_yaml_read(bk_arena *arena, const char *file_name, const char *bytes, size_t n,
                       const bk_yaml **root, bk_errors *errors)
{
    *root = NULL;
    reader r = {.arena = arena, .errors = errors};
    if (file_name) {
        r.file = bk_arena_strndup(arena, file_name, strlen(file_name));
        if (!r.file) return no_memory(&r);
    }
    if (n > BK_YAML_MAX_BYTES)
        return bk_fail(errors, (bk_place){r.file, 0, 0}, BK_E_TOO_LARGE,
                       "has %zu bytes, more than the %zu allowed", n, BK_YAML_MAX_BYTES);
    if (n >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) { /* a byte order mark says nothing in UTF-8 */
        bytes += 3;
        n -= 3;
    }
    bk_status status = check_text(&r, bytes, n);
    if (status) return status;

    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) return no_memory(&r);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, n);
    status = read_events(&r, &parser);
    yaml_parser_delete(&parser);
    if (status == BK_OK || status == BK_E_DUPLICATE) *root = r.root;
    return status;
}

const bk_yaml *bk_yaml_get(const bk_yaml *map, const char *key)
{
    if (!map || map->kind != BK_YAML_MAP) return NULL;
    for (size_t i = 0; i < map->n; i++)
        if (strcmp(map->pairs[i].key, key) == 0) return map->pairs[i].value;
    return NULL;
}
