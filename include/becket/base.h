/* base: what every room stands on, and nothing of rigging.
 *
 *   status and errors   every mistake has a permanent number (BK-nnn), a place and a sentence
 *   arena               one owner for everything a plan, a table or a result reaches
 *   file, digest        bounded reading of a whole file; SHA-256 of its bytes
 *   yaml                a bounded tree with line marks; the only user of libyaml
 *   vec, quat           three-vectors, turns
 *
 * Frame: right-handed, z up.  All numbers SI.  No function here writes to a terminal.
 */
#ifndef BECKET_BASE_H
#define BECKET_BASE_H

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What stands between these in a public header is what libbecket shows, all else of it is hidden (meson.build); names
 * are those of C, for C++ too. */
#ifdef __cplusplus
#define BK_C_BEGIN _Pragma("GCC visibility push(default)") extern "C" {
#define BK_C_END   } _Pragma("GCC visibility pop")
#else
#define BK_C_BEGIN _Pragma("GCC visibility push(default)")
#define BK_C_END   _Pragma("GCC visibility pop")
#endif
BK_C_BEGIN

/* ---- status ------------------------------------------------------------------------------------ */

/* Printed as BK-nnn; never renumbered, never reused; the manual lists them.
 * 1xx the text of a file, 2xx what a plan or table says, 3xx the rig has no answer, 4xx the command,
 * 5xx the machine. */
#define BK_STATUS_LIST(X)                                                                          \
    X(BK_OK, 0, "success")                                                                         \
    X(BK_E_READ, 101, "file cannot be read")                                                       \
    X(BK_E_TOO_LARGE, 102, "file, nesting or number of entries over the bound")                    \
    X(BK_E_ENCODING, 103, "not UTF-8 text")                                                        \
    X(BK_E_YAML, 104, "not well-formed YAML")                                                      \
    X(BK_E_DUPLICATE, 105, "key given twice")                                                      \
    X(BK_E_ALIAS, 106, "alias without anchor, within itself, or growing past the bound")           \
    X(BK_E_NUMBER, 130, "not a number, or out of range")                                           \
    X(BK_E_NO_UNIT, 131, "a value that needs a unit has none")                                     \
    X(BK_E_UNIT, 132, "unit has the wrong dimension")                                              \
    X(BK_E_UNKNOWN_UNIT, 133, "unknown unit")                                                      \
    X(BK_E_TON, 134, "a bare ton is ambiguous")                                                    \
    X(BK_E_TOLERANCE, 135, "tolerance not understood")                                             \
    X(BK_E_VECTOR, 136, "want three numbers and one unit")                                         \
    X(BK_E_UNKNOWN_KEY, 201, "unknown key")                                                        \
    X(BK_E_MISSING_KEY, 202, "a key that is needed is missing")                                    \
    X(BK_E_KIND, 203, "value of the wrong kind")                                                   \
    X(BK_E_REFERENCE, 204, "name refers to nothing")                                               \
    X(BK_E_AMBIGUOUS, 205, "name refers to more than one thing")                                   \
    X(BK_E_VALUE, 206, "value makes no sense")                                                     \
    X(BK_E_WORD, 207, "word is not one of those allowed")                                          \
    X(BK_E_VERSION, 208, "format version not known")                                               \
    X(BK_E_TABLE, 220, "table not found")                                                          \
    X(BK_E_ROW, 221, "row not found in the table")                                                 \
    X(BK_E_TABLE_FORM, 222, "table is not of the table form")                                      \
    X(BK_E_RULE, 223, "rule set lacks a value")                                                    \
    X(BK_E_UNHELD, 301, "nothing holds it")                                                        \
    X(BK_E_UNSTABLE, 302, "does not stay as drawn")                                                \
    X(BK_E_NO_CONVERGE, 303, "no balance found")                                                   \
    X(BK_E_USAGE, 401, "command not understood")                                                   \
    X(BK_E_WRITE, 402, "result cannot be written")                                                 \
    X(BK_E_NOMEM, 501, "out of memory")

typedef enum bk_status {
#define X(name, number, text) name = number,
    BK_STATUS_LIST(X)
#undef X
} bk_status;

/* The short text of BK_STATUS_LIST; "unknown status" for a number that is not there. */
const char *bk_status_text(bk_status status);

/* ---- arena ------------------------------------------------------------------------------------- */

/* Owns every block it handed out; bk_arena_free(NULL) is allowed and frees all at once.
 * Every allocation returns zeroed memory, or NULL when memory is out (also on n*size overflow). */
typedef struct bk_arena bk_arena;
bk_arena *bk_arena_new(void);
void bk_arena_free(bk_arena *arena);
void *bk_arena_alloc(bk_arena *arena, size_t n, size_t size);
char *bk_arena_strndup(bk_arena *arena, const char *text, size_t length);
char *bk_arena_printf(bk_arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *bk_arena_vprintf(bk_arena *arena, const char *format, va_list args) __attribute__((format(printf, 2, 0)));

/* n elements of a type, zeroed */
#define BK_NEW(arena, type, n) ((type *)bk_arena_alloc((arena), (n), sizeof(type)))

/* A growing array inside an arena: items doubles, old copies stay in the arena until it is freed.
 * Makes room for one more element and returns its address (zeroed), NULL when memory is out.
 *   items  address of the array pointer, n address of its count, capacity address of its room */
void *bk_arena_push(bk_arena *arena, void *items, size_t *n, size_t *capacity, size_t size);

/* ---- errors ------------------------------------------------------------------------------------ */

/* Where a thing stands in a file.  line and column count from 1 (columns in characters);
 * 0 = not known; file NULL = not from a file.  The file name belongs to the arena of whoever read it. */
typedef struct bk_place {
    const char *file;
    int line, column;
} bk_place;

typedef struct bk_message {
    bk_status status;
    bk_place place;
    const char *text; /* one sentence: what was wanted, what was found; control characters escaped */
} bk_message;

/* A bounded list of mistakes, so that one run can report all mistakes of a file.
 * Messages past the bound are counted in dropped.  Owns its texts. */
typedef struct bk_errors {
    bk_arena *arena;
    bk_message *at; /* n messages, in the order found */
    size_t n, capacity, dropped;
    bk_status first; /* BK_OK while empty; BK_E_NOMEM also when a message could not be stored */
} bk_errors;

#define BK_ERRORS_MAX 100
bk_errors *bk_errors_new(void); /* NULL when memory is out */
void bk_errors_free(bk_errors *errors);
/* Adds a message and returns its status, so that a caller can `return bk_fail(...)`.
 * errors may be NULL: then only the status travels.  Whatever the text quotes, it becomes one line:
 * controls and characters that turn the direction of writing are escaped, long words are cut.
 * The place's file name is copied. */
bk_status bk_fail(bk_errors *errors, bk_place place, bk_status status, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* Puts messages in order of file, line, column (stable). */
void bk_errors_sort(bk_errors *errors);
/* "file:line:column: BK-132 text"; parts that are not known are left out.  Caller frees with free();
 * NULL when memory is out. */
char *bk_message_print(const bk_message *message);
/* A copy that is one line of plain text whatever the text holds, with escapes as in messages and nothing cut: for names
 * of files, which are not checked as their contents are.  NULL when memory is out. */
const char *bk_text_safe(bk_arena *arena, const char *text);
/* The word of known[0..n) nearest to word by edit distance, NULL when none is near (more than a
 * third of its letters differ, at least 2).  Case is folded for ASCII. */
const char *bk_nearest(const char *word, const char *const *known, size_t n);

/* ---- files ------------------------------------------------------------------------------------- */

/* Reads a whole regular file, FIFO or "-" (standard input), at most max bytes.  The bytes belong to
 * the arena and are followed by a NUL that is not counted.  BK_E_READ, BK_E_TOO_LARGE, BK_E_NOMEM.
 * Refuses directories and endless devices; never reads more than max + 1 bytes. */
bk_status bk_file_read(bk_arena *arena, const char *path, size_t max, const char **bytes, size_t *n,
                       bk_errors *errors);
/* SHA-256 of n bytes as 64 hexadecimal digits and a NUL. */
void bk_digest(const void *bytes, size_t n, char hex[65]);

/* ---- yaml -------------------------------------------------------------------------------------- */

typedef enum bk_yaml_kind { BK_YAML_SCALAR, BK_YAML_LIST, BK_YAML_MAP } bk_yaml_kind;
typedef struct bk_yaml bk_yaml;
typedef struct bk_yaml_pair {
    const char *key;
    bk_place place; /* of the key */
    const bk_yaml *value;
} bk_yaml_pair;
struct bk_yaml {
    bk_yaml_kind kind;
    bk_place place;
    const char *text;             /* scalar: its text, NUL-terminated, no NUL inside; else "" */
    bool quoted;                  /* scalar was quoted or a block scalar, or carried a ! tag */
    size_t n;                     /* list items or map pairs */
    const bk_yaml *const *items;  /* list (n) */
    const bk_yaml_pair *pairs;    /* map (n), in file order, keys unique unless BK_E_DUPLICATE was told */
    size_t weight;                /* nodes this node stands for with aliases written out */
};

#define BK_YAML_MAX_BYTES  ((size_t)4 << 20)
#define BK_YAML_MAX_DEPTH  32
#define BK_YAML_MAX_WEIGHT 200000
/* Reads exactly one document.  file_name is used in places only.  The tree belongs to the arena.
 * Aliases share the node they name; a tree whose weight passes the bound is refused (so is an alias
 * inside its own anchor).  Duplicate keys are refused, all of them reported; with BK_E_DUPLICATE the
 * tree is handed out all the same, so that its other mistakes can be told too (after any other error
 * *root is NULL).  A byte order mark is allowed; control characters (raw or escaped, save tab and line
 * break), invalid UTF-8, a second document and an empty one are errors, and so are merge keys, keys
 * that are not text, tags on lists and maps and %TAG directives. */
bk_status bk_yaml_read(bk_arena *arena, const char *file_name, const char *bytes, size_t n,
                       const bk_yaml **root, bk_errors *errors);
/* The value of a key of a map, NULL if it is not there (or node is not a map). */
const bk_yaml *bk_yaml_get(const bk_yaml *map, const char *key);

/* ---- vectors and turns ------------------------------------------------------------------------- */

typedef struct bk_vec3 {
    double x, y, z;
} bk_vec3;
typedef struct bk_quat { /* unit: turns own axes into the world's */
    double w, x, y, z;
} bk_quat;

#define BK_PI 3.14159265358979323846
/* 3rd CGPM, 1901: the conventional value of standard gravity */
#define BK_STANDARD_GRAVITY_M_PER_S2 9.80665

static inline bk_vec3 bk_vec3_of(double x, double y, double z)
{
    const bk_vec3 v = {x, y, z};
    return v;
}
static inline bk_vec3 bk_vec3_add(bk_vec3 a, bk_vec3 b)
{
    return bk_vec3_of(a.x + b.x, a.y + b.y, a.z + b.z);
}
static inline bk_vec3 bk_vec3_sub(bk_vec3 a, bk_vec3 b)
{
    return bk_vec3_of(a.x - b.x, a.y - b.y, a.z - b.z);
}
static inline bk_vec3 bk_vec3_scale(double s, bk_vec3 a)
{
    return bk_vec3_of(s * a.x, s * a.y, s * a.z);
}
static inline double bk_vec3_dot(bk_vec3 a, bk_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
static inline bk_vec3 bk_vec3_cross(bk_vec3 a, bk_vec3 b)
{
    return bk_vec3_of(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}
static inline double bk_vec3_norm(bk_vec3 a)
{
    return sqrt(bk_vec3_dot(a, a));
}
/* Angle between two vectors, 0..pi, exact near 0 and pi; 0 if either is null. */
double bk_vec3_angle(bk_vec3 a, bk_vec3 b);

static inline bk_quat bk_quat_identity(void)
{
    const bk_quat q = {1, 0, 0, 0};
    return q;
}
bk_quat bk_quat_mul(bk_quat a, bk_quat b);       /* first b, then a */
bk_quat bk_quat_exp(bk_vec3 rotation_rad);       /* rotation vector, world axes */
bk_quat bk_quat_normalise(bk_quat q);
bk_vec3 bk_quat_turn(bk_quat q, bk_vec3 v);      /* q v q* */
/* Where `own` is, of a thing turned by q whose own place `ref` is at `at`: at + q (own - ref) q*, in the widest
 * arithmetic there is, for lengths whose last digits count. */
void bk_quat_place_wide(bk_quat q, bk_vec3 at, bk_vec3 ref, bk_vec3 own, long double place[3]);

BK_C_END

#endif
