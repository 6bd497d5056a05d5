/* What every reader of this room shares: where it is in the file, how it complains, how a map is read
 * by its list of keys, and the plan's arrays while they grow. */
#ifndef BK_PLAN_READER_H
#define BK_PLAN_READER_H

#include "plan_keys.h"

/* A sane plan is far below both. */
#define THINGS_MAX     10000
#define NAME_MAX_BYTES 200
#define TEXT_MAX_BYTES 2000

typedef struct array_room {
    size_t bodies, points, rings, anchors, lines, parts, hoists, runways, supports, trolleys, standing,
        sections, steels, shapes, duty_loads, meters, inspections, tackles, notes;
} array_room;

typedef struct name_list {
    const char **at;
    size_t n;
} name_list;

typedef struct reader {
    bk_arena *arena;
    bk_tables *tables;
    bk_errors *errors;
    bk_status first; /* of the mistakes found here */
    const char *file;
    /* groups that may have been written without being read: what they hold is not known, and that is told */
    bool unread_ends, unread_hoists, unread_runways;
    const bk_rules *rules; /* NULL when they could not be read */
    bk_place rules_at;     /* where the plan names them */
    char path[512];        /* "lines.nw.length": what a message is about */
    size_t path_n;
    bk_plan *plan; /* arrays below are handed to it at the end */
    bk_body *bodies;
    bk_point *points;
    bk_ring *rings;
    bk_anchor *anchors;
    bk_line *lines;
    bk_part *parts;
    bk_hoist *hoists;
    bk_runway *runways;
    bk_support *supports;
    bk_trolley *trolleys;
    bk_standing_load *standing;
    bk_section_in *sections;
    bk_steel *steels;
    bk_shape *shapes;
    bk_duty_load *duty_loads;
    bk_meter *meters;
    bk_inspection *inspections;
    bk_tackle *tackles;
    const char **notes;
    array_room room;
    bk_message *told; /* mistakes found here, without their paths */
    size_t n_told, told_room;
    size_t hints;                                    /* words looked through for nearest ones */
    name_list end_names, trolley_names, hoist_names; /* made when first needed */
} reader;

/* Room for one more in an array of the reader; its address (zeroed), NULL when memory is out. */
#define PUSH(r, array)                                                                                       \
    (bk_arena_push((r)->arena, &(r)->array, &(r)->plan->n_##array, &(r)->room.array, sizeof *(r)->array)     \
         ? &(r)->array[(r)->plan->n_##array - 1]                                                             \
         : (out_of_memory(r), NULL))

bk_status out_of_memory(reader *r);
/* Adds a mistake with the path in front; the same at the same place is told once (shared YAML nodes). */
bk_status complain(reader *r, bk_place place, bk_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* A sentence for the report: what reading assumed. */
void note(reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* "nearest is `x`" or "known: a, b, c" for a word that is not one of known; arena text. */
const char *hint(reader *r, const char *word, const char *const *known, size_t n);
/* What stands at a node, short enough for a message. */
const char *shown(reader *r, const bk_yaml *node);
const char *short_text(reader *r, const char *text);

/* The path grows by separator and word; the old length comes back and path_back() restores it. */
size_t path_to(reader *r, const char *separator, const char *word);
size_t path_to_item(reader *r, size_t i);
void path_back(reader *r, size_t length);

/* One value by its key into *out (type by the kind: double, bk_value, bk_vec3, bk_vec3_value, bool,
 * const char *, int for a word by its place in words).  False after a complaint; *out is then as it was. */
bool read_value(reader *r, const bk_key *key, const bk_yaml *node, void *out);
/* A map by its list into a struct.  Unknown, missing and wrong keys are told.  Keys of kinds MAP, NAMED and
 * LIST are only looked at for their kind: the caller fetches them with map_item().  place: for missing keys.
 * False when it is no map at all. */
bool read_map(reader *r, const bk_yaml *map, const bk_key_map *keys, bk_place place, void *out);
/* Complains of a key that is not there, with or_else behind its name, unless a key of the map that is unknown
 * was meant to be it: that one is told already.  Whether it is not there. */
bool missing(reader *r, const bk_yaml *map, const bk_key_map *keys, bk_place place, const char *name,
             const char *or_else);
/* Whether an unknown key of the map is nearest to that name. */
bool misspelt(reader *r, const bk_yaml *map, const bk_key_map *keys, const char *name);
/* The value of a key if it is there and of the key's kind, else NULL. */
const bk_yaml *map_item(const bk_yaml *map, const bk_key_map *keys, const char *key);
/* The key of a list by its name; the name must be in the list. */
const bk_key *key_of(const bk_key_map *keys, const char *name);
/* A user's own name for a thing: not empty, printable, no dot where dotted references are used. */
bool name_ok(reader *r, const char *name, bk_place place, bool dots);
/* Exactly n numbers in a list (n_min..n_max) by the key's dimension and bounds. */
bool read_numbers(reader *r, const bk_key *key, const bk_yaml *list, size_t n_min, size_t n_max, double *out,
                  size_t *n);
double nan_value(void);
/* A number of the rule set that no plan can be read without; complains, and gives low, where it is not there or lower. */
double needed_rule(reader *r, const char *name, double low);
/* Every number of out that the list names becomes NaN (vectors too), all else is left alone. */
void map_to_nan(const bk_key_map *keys, void *out);

/* A row of a table or the same keys inline, into *out by one list (keys `part`, `source`, `mark` are
 * understood).  ref, row: what it came from, NULL when inline; source, mark: citation.  False when nothing
 * usable was found. */
typedef struct origin {
    const char *ref, *source;
    bk_mark mark;
    const bk_row *row;
    const bk_yaml *inline_map; /* keys that stand in the plan, NULL when it only names a row */
    bk_place place;
} origin;
bool read_row(reader *r, const bk_yaml *node, const bk_key_map *keys, bk_place place, void *out,
              origin *from);

/* ---- one function a thing; each pushes into the arrays of the reader ---- */

void read_part(reader *r, const bk_yaml *node, bk_place place);
void read_tackles(reader *r, const bk_yaml *map);
/* `part` and `parts` of a map: pushes them, gives the first and the count. */
void read_parts_of(reader *r, const bk_yaml *map, const bk_key_map *keys, size_t *first, size_t *n);
/* Index in sections or steels, BK_NONE after a complaint. */
size_t read_section(reader *r, const bk_yaml *node, bk_place place);
size_t read_steel(reader *r, const bk_yaml *node, bk_place place);
void read_bodies(reader *r, const bk_yaml *map);
/* Shapes of `made_of` into the body: mass and centre of gravity. */
void read_made_of(reader *r, const bk_yaml *list, bk_body *body, bool cog_given);
void read_rings(reader *r, const bk_yaml *map);
void read_anchors(reader *r, const bk_yaml *map);
void read_lines(reader *r, const bk_yaml *map);
void read_hoists(reader *r, const bk_yaml *map);
void read_runways(reader *r, const bk_yaml *map);

/* ---- after everything has its name ---- */

/* Index of a hoist by the text of a node, BK_NONE after a complaint. */
size_t find_hoist(reader *r, const bk_yaml *node);
/* References of lines, anchors and trolleys to indices. */
void resolve(reader *r, const bk_yaml *root);
/* Drawn lengths, stiffnesses, masses, places of anchors that follow from the rest. */
void derive(reader *r);

#endif
