/* An arena whose every piece ends where memory ends: one element past it is a fault, in any build.  Stands in for src/base/arena.c where a
 * test program is linked with it.  An array that grows is always exactly as long as it is full. */
#define _DEFAULT_SOURCE
#include <becket/base.h>

#include <stdalign.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

typedef struct piece {
    struct piece *next;
    void *pages; /* NULL: text, in the piece itself */
    size_t size;
    alignas(max_align_t) char text[];
} piece;

struct bk_arena {
    piece *pieces;
};

bk_arena *bk_arena_new(void)
{
    return calloc(1, sizeof(bk_arena));
}

void bk_arena_free(bk_arena *arena)
{
    if (!arena) return;
    for (piece *p = arena->pieces, *next; p; p = next) {
        next = p->next;
        if (p->pages) munmap(p->pages, p->size);
        free(p);
    }
    free(arena);
}

static void *alloc(bk_arena *arena, size_t n, size_t size, bool plain)
{
    const size_t page = (size_t)sysconf(_SC_PAGESIZE);
    if (size && n > (SIZE_MAX / 4) / size) return NULL;
    const size_t bytes = n * size, room = (bytes + page - 1) / page * page;
    piece *p = calloc(1, sizeof *p + (plain ? bytes : 0));
    if (!p) return NULL;
    if (plain) {
        p->next = arena->pieces;
        arena->pieces = p;
        return p->text;
    }
    p->size = room + page;
    p->pages = mmap(NULL, p->size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (p->pages == MAP_FAILED || mprotect((char *)p->pages + room, page, PROT_NONE) != 0) {
        free(p);
        return NULL;
    }
    p->next = arena->pieces;
    arena->pieces = p;
    return (char *)p->pages + room - bytes; /* sizes of C's types keep their alignment */
}

/* Text and single things, of which there are too many for the kernel's count of maps, have ordinary memory. */
void *bk_arena_alloc(bk_arena *arena, size_t n, size_t size)
{
    return alloc(arena, n, size, size == 1 || n == 1);
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
    va_list again;
    va_copy(again, args);
    const int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    char *text = length < 0 ? NULL : bk_arena_alloc(arena, (size_t)length + 1, 1);
    if (text) vsnprintf(text, (size_t)length + 1, format, args);
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
    unsigned char *array, *larger = alloc(arena, *n + 1, size, false);
    if (!larger) return NULL;
    memcpy(&array, items, sizeof array);
    if (*n) memcpy(larger, array, *n * size);
    memcpy(items, &larger, sizeof larger);
    *capacity = ++*n;
    return larger + (*n - 1) * size;
}
