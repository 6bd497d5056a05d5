/* fence.h: arenas whose pieces end at a page that kills who touches it.
 *
 * Included by one test program, before anything is linked: nothing beyond an array is then read or written, nor anything left
 * of its start, where no numbers stand.  What a user would notice of that is nothing, until it is a wrong figure.  unfence()
 * gives all pieces back.  The rest of the arena is the library's own.
 */
#ifndef BECKET_TESTS_FENCE_H
#define BECKET_TESTS_FENCE_H

#include <becket/base.h>

void *in_chunks(bk_arena *arena, size_t n, size_t size);
#define bk_arena_alloc in_chunks
#include "../src/base/arena.c"
#undef bk_arena_alloc

#include <check.h>
#include <sys/mman.h>
#include <unistd.h>

static struct fenced {
    void *pages, *fence;
} blocks[4000];
static size_t n_blocks;

void *bk_arena_alloc(bk_arena *arena, size_t n, size_t size)
{
    (void)arena;
    size_t page = (size_t)sysconf(_SC_PAGESIZE), bytes = n * size, room = (bytes / page + 2) * page;
    void *pages;
    ck_assert(posix_memalign(&pages, page, room) == 0 && n_blocks < sizeof blocks / sizeof *blocks);
    unsigned char *fence = (unsigned char *)pages + room - page;
    memset(pages, 0xff, room - page - bytes);
    memset(fence - bytes, 0, bytes);
    ck_assert_int_eq(mprotect(fence, page, PROT_NONE), 0);
    blocks[n_blocks++] = (struct fenced){pages, fence};
    return fence - bytes;
}

/* A copy behind a fence. */
static void *fenced(const void *from, size_t bytes)
{
    return bytes ? memcpy(bk_arena_alloc(NULL, bytes, 1), from, bytes) : NULL;
}

static void unfence(void)
{
    while (n_blocks > 0) {
        n_blocks--;
        mprotect(blocks[n_blocks].fence, (size_t)sysconf(_SC_PAGESIZE), PROT_READ | PROT_WRITE);
        free(blocks[n_blocks].pages);
    }
}

#endif
