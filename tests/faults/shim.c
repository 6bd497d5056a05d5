/* Loaded before the C library's own (LD_PRELOAD): the n-th call fails, as the environment says.
 *
 *     BECKET_FAIL_ALLOC=n     the n-th allocation, counted from 1; with a + behind, every one from there on
 *     BECKET_FAIL_READ=n      the n-th read of a file, with EIO
 *     BECKET_FAIL_OPEN=n      the n-th opening of a file, with EMFILE
 *     BECKET_COUNT=FILE       how many of each were asked for, and how many blocks were still held at the end
 *
 * Counting begins in main's process after the loader has done its work.  Only the calls of libraries and program
 * are seen: what the C library calls inside itself goes past, save allocations.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* the allocator itself, under the names that glibc keeps for this purpose */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *block, size_t size);
void __libc_free(void *block);

typedef struct counter {
    long n, at; /* calls so far; the one that fails, 0 for none */
    bool and_after;
} counter;

static counter allocations, reads, opens;
static long held;
static bool running;

static bool fails(counter *c)
{
    if (!running) return false;
    c->n++;
    return c->at > 0 && (c->n == c->at || (c->and_after && c->n > c->at));
}

static void *kept(void *block)
{
    if (running && block) held++;
    return block;
}

void *malloc(size_t size)
{
    if (fails(&allocations)) return errno = ENOMEM, NULL;
    return kept(__libc_malloc(size));
}

void *calloc(size_t n, size_t size)
{
    if (fails(&allocations)) return errno = ENOMEM, NULL;
    return kept(__libc_calloc(n, size));
}

void *realloc(void *block, size_t size)
{
    if (fails(&allocations)) return errno = ENOMEM, NULL;
    void *larger = __libc_realloc(block, size);
    return block ? larger : kept(larger);
}

void free(void *block)
{
    if (running && block) held--;
    __libc_free(block);
}

ssize_t read(int fd, void *bytes, size_t n)
{
    static ssize_t (*real)(int, void *, size_t);
    if (!real) *(void **)&real = dlsym(RTLD_NEXT, "read");
    if (fails(&reads)) return errno = EIO, -1;
    return real(fd, bytes, n);
}

int open(const char *path, int flags, ...)
{
    static int (*real)(const char *, int, ...);
    if (!real) *(void **)&real = dlsym(RTLD_NEXT, "open");
    va_list args;
    va_start(args, flags);
    const int mode = flags & O_CREAT ? va_arg(args, int) : 0;
    va_end(args);
    if (fails(&opens)) return errno = EMFILE, -1;
    return real(path, flags, mode);
}

static void arm(counter *c, const char *name)
{
    const char *text = getenv(name);
    if (!text) return;
    char *end;
    c->at = strtol(text, &end, 10);
    c->and_after = *end == '+';
}

__attribute__((constructor)) static void begin(void)
{
    arm(&allocations, "BECKET_FAIL_ALLOC");
    arm(&reads, "BECKET_FAIL_READ");
    arm(&opens, "BECKET_FAIL_OPEN");
    running = true;
}

__attribute__((destructor)) static void end(void)
{
    running = false;
    const char *path = getenv("BECKET_COUNT");
    FILE *file = path ? fopen(path, "w") : NULL;
    if (!file) return;
    fprintf(file, "%ld %ld %ld %ld\n", allocations.n, reads.n, opens.n, held);
    fclose(file);
}
