/* errors: mistakes with a permanent number, a place and one sentence.
 *
 * Messages quote what a file says, and a file can say anything.  A message is therefore one line of
 * plain text whatever it quotes: controls, ESC, line separators, bytes that are not UTF-8 and the
 * characters that turn the direction of writing are shown as escapes, a word longer than WORD_MAX
 * characters and a text longer than TEXT_MAX are cut with an ellipsis.
 */
#include <becket/base.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "utf8.h"

enum { WORD_MAX = 80, TEXT_MAX = 600 };

const char *bk_status_text(bk_status status)
{
    switch (status) {
#define X(name, number, text)                                                                                \
    case name:                                                                                               \
        return text;
        BK_STATUS_LIST(X)
#undef X
    }
    return "unknown status";
}

/* Bounded writing that goes on counting, as snprintf does. */
typedef struct sink {
    char *at;
    size_t size, n;
} sink;

static void put(sink *out, const char *bytes, size_t n)
{
    for (size_t i = 0; i < n; i++, out->n++)
        if (out->n + 1 < out->size) out->at[out->n] = bytes[i];
}

/* Writes text made safe to out (size bytes with the NUL; 0 to count only) and returns the length that
 * the whole has.  word_max and text_max count characters. */
static size_t make_safe(char *out, size_t size, const char *text, size_t word_max, size_t text_max)
{
    static const char ellipsis[] = "\xE2\x80\xA6";
    sink to = {out, size, 0};
    size_t left = strlen(text), in_word = 0, in_text = 0;
    while (left) {
        uint32_t c = 0;
        size_t length = bk_utf8_next(text, left, &c);
        bool valid = length > 0;
        if (!valid) {
            length = 1;
            c = (unsigned char)text[0];
        }
        in_word = c == ' ' ? 0 : in_word + 1;
        if (in_word == word_max + 1) put(&to, ellipsis, strlen(ellipsis));
        if (in_word <= word_max) {
            if (in_text++ == text_max) {
                put(&to, ellipsis, strlen(ellipsis));
                break;
            }
            char code[16];
            if (valid && !bk_utf8_is_unsafe(c))
                put(&to, text, length);
            else if (c == '\n' || c == '\t')
                put(&to, c == '\n' ? "\\n" : "\\t", 2);
            else
                put(&to, code,
                    (size_t)snprintf(code, sizeof code, c < 0x80 || !valid ? "\\x%02x" : "\\u%04x",
                                     (unsigned)c));
        }
        text += length;
        left -= length;
    }
    if (size) out[to.n < size ? to.n : size - 1] = 0;
    return to.n;
}

const char *bk_text_safe(bk_arena *arena, const char *text)
{
    const size_t length = make_safe(NULL, 0, text, SIZE_MAX - 1, SIZE_MAX);
    char *safe = bk_arena_alloc(arena, length + 1, 1);
    if (safe) make_safe(safe, length + 1, text, SIZE_MAX - 1, SIZE_MAX);
    return safe;
}

bk_errors *bk_errors_new(void)
{
    bk_arena *arena = bk_arena_new();
    bk_errors *errors = arena ? BK_NEW(arena, bk_errors, 1) : NULL;
    if (!errors) {
        bk_arena_free(arena);
        return NULL;
    }
    errors->arena = arena;
    return errors;
}

void bk_errors_free(bk_errors *errors)
{
    if (errors) bk_arena_free(errors->arena); /* which holds errors itself */
}

/* One message into the list; false when it is full or memory is out. */
static bool store(bk_errors *errors, bk_place place, bk_status status, const char *format, va_list args)
{
    if (errors->n >= BK_ERRORS_MAX) return false;
    char *raw = bk_arena_vprintf(errors->arena, format, args);
    if (!raw) return false;
    size_t length = make_safe(NULL, 0, raw, WORD_MAX, TEXT_MAX);
    char *text = bk_arena_alloc(errors->arena, length + 1, 1);
    if (!text) return false;
    make_safe(text, length + 1, raw, WORD_MAX, TEXT_MAX);
    if (place.file) { /* a copy, so that messages outlive the file that they are about */
        place.file = bk_arena_strndup(errors->arena, place.file, strlen(place.file));
        if (!place.file) return false;
    }
    bk_message *message =
        bk_arena_push(errors->arena, &errors->at, &errors->n, &errors->capacity, sizeof *errors->at);
    if (!message) return false;
    *message = (bk_message){status, place, text};
    return true;
}

bk_status bk_fail(bk_errors *errors, bk_place place, bk_status status, const char *format, ...)
{
    if (!errors) return status;
    bool full = errors->n >= BK_ERRORS_MAX;
    va_list args;
    va_start(args, format);
    bool stored = store(errors, place, status, format, args);
    va_end(args);
    if (!stored) errors->dropped++;
    if (errors->first == BK_OK) errors->first = stored || full ? status : BK_E_NOMEM;
    return status;
}

static int compare_places(const bk_place *a, const bk_place *b)
{
    int order = strcmp(a->file ? a->file : "", b->file ? b->file : "");
    if (order) return order;
    if (a->line != b->line) return a->line < b->line ? -1 : 1;
    return (a->column > b->column) - (a->column < b->column);
}

void bk_errors_sort(bk_errors *errors)
{
    for (size_t i = 1; i < errors->n; i++) { /* insertion: stable, and the list is short */
        bk_message moving = errors->at[i];
        size_t to = i;
        for (; to > 0 && compare_places(&errors->at[to - 1].place, &moving.place) > 0; to--)
            errors->at[to] = errors->at[to - 1];
        errors->at[to] = moving;
    }
}

char *bk_message_print(const bk_message *message)
{
    const bk_place *place = &message->place;
    size_t file_length = place->file ? make_safe(NULL, 0, place->file, SIZE_MAX - 1, SIZE_MAX) : 0;
    size_t size = file_length + strlen(message->text) + 64; /* 64: two integers, the number, punctuation */
    char *line = malloc(size);
    if (!line) return NULL;
    size_t n = 0;
    if (place->file) {
        n = make_safe(line, size, place->file, SIZE_MAX - 1, SIZE_MAX);
        if (place->line > 0) n += (size_t)snprintf(line + n, size - n, ":%d", place->line);
        if (place->line > 0 && place->column > 0)
            n += (size_t)snprintf(line + n, size - n, ":%d", place->column);
        n += (size_t)snprintf(line + n, size - n, ": ");
    }
    snprintf(line + n, size - n, "BK-%03d %s", (int)message->status, message->text);
    return line;
}
