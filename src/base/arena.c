/* arena: memory that is handed out piece by piece and taken back all at once.
 *
 * Chunks grow from a few kilobytes; a large request gets a chunk of its own.  Everything is zeroed,
 * because chunks come from calloc and no byte is handed out twice.  With BK_ARENA_PIECES (tests) every piece is a
 * chunk of its own: any of them can fail, and the sanitizers see a step past its end.
 */
#include <becket/base.h>

#include <stdalign.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef BK_ARENA_PIECES
enum { CHUNK_FIRST = 1, CHUNK_LARGEST = 1 };
#else
enum { CHUNK_FIRST = 4096, CHUNK_LARGEST = 256 * 1024 };
#endif

typedef struct chunk {
    struct chunk *next;
    size_t used, size; /* bytes of data */
    alignas(max_align_t) unsigned char data[];
} chunk;

struct bk_arena {
    chunk *chunks; /* the one in use first */
    size_t next_size;
};

bk_arena *bk_arena_new(void)
{
    bk_arena *arena = calloc(1, sizeof *arena);
    if (arena) arena->next_size = CHUNK_FIRST;
    return arena;
}

void bk_arena_free(bk_arena *arena)
{
    if (!arena) return;
    for (chunk *c = arena->chunks, *next; c; c = next) {
        next = c->next;
        free(c);
    }
    free(arena);
}

void *bk_arena_alloc(bk_arena *arena, size_t n, size_t size)
{
    const size_t align = alignof(max_align_t);
    if (size && n > (SIZE_MAX / 2) / size) return NULL;
    size_t bytes = n * size;
    bytes = bytes ? (bytes + align - 1) / align * align : align;

    chunk *c = arena->chunks;
    if (!c || c->size - c->used < bytes) {
        size_t room = bytes > arena->next_size ? bytes : arena->next_size;
        c = calloc(1, sizeof *c + room);
        if (!c) return NULL;
        c->size = room;
        c->next = arena->chunks;
        arena->chunks = c;
        if (arena->next_size < CHUNK_LARGEST) arena->next_size *= 2;
    }
    void *block = c->data + c->used;
    c->used += bytes;
    return block;
}

char *bk_arena_strndup(bk_arena *arena, const char *text, size_t length)
{
    length = strnlen(text, length);
    char *copy = bk_arena_alloc(arena, length + 1, 1);
    if (copy) memcpy(copy, text, length);
    return copy;
}

char *bk_arena_vprintf(bk_arena *arena, const char *format, va_list args)
{
    char most[256]; /* nearly every text fits and is formatted once */
    va_list again;
    va_copy(again, args);
    int length = vsnprintf(most, sizeof most, format, again);
    va_end(again);
    char *text = length < 0 ? NULL : bk_arena_alloc(arena, (size_t)length + 1, 1);
    if (!text) return NULL;
    if ((size_t)length < sizeof most)
        memcpy(text, most, (size_t)length);
    else
        vsnprintf(text, (size_t)length + 1, format, args);
    return text;
}

char *bk_arena_printf(bk_arena *arena, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *text = bk_arena_vprintf(arena, format, args);
    va_end(args);
    return text;
}

void *bk_arena_push(bk_arena *arena, void *items, size_t *n, size_t *capacity, size_t size)
{
    unsigned char *array; /* items is the address of a pointer of any type: copied, never dereferenced */
    memcpy(&array, items, sizeof array);
    if (*n == *capacity) {
        size_t more = *capacity ? *capacity * 2 : 4;
        unsigned char *larger = more > *capacity ? bk_arena_alloc(arena, more, size) : NULL;
        if (!larger) return NULL;
        if (*n) memcpy(larger, array, *n * size);
        array = larger;
        memcpy(items, &array, sizeof array);
        *capacity = more;
    }
    return array + (*n)++ * size;
}
