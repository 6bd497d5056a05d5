/* Loaded before the C library's own (LD_PRELOAD): the n-th call fails, as the environment says.
 *
 *     BECKET_FAIL_ALLOC=n     the n-th allocation, counted from 1; with a + behind, every one from there on
 *     BECKET_FAIL_READ=n      the n-th read of a file, with EIO
 *     BECKET_FAIL_OPEN=n      the n-th opening of a file or folder, with EMFILE
 *     BECKET_FAIL_WRITE=n     the n-th step of keeping a file, with ENOSPC: its first name, a write, its rights, its way to the
 *                             disk, its end, its last name
 *     BECKET_SIGNAL=s         there the signal s comes instead
 *     BECKET_SHORT            a read or write takes 1000 bytes at most, and a signal comes between any two
 *     BECKET_OWN              count allocations only that Becket's own code asks for, and what the C library asks for it
 *     BECKET_COUNT=FILE       how many of each were asked for, how many blocks were still held at the end; then each
 *                             allocation that was reached by another way through the program than all before, and
 *                             a sum of that way: the last BECKET_DEPTH places called from (3)
 *
 * Counted is from main to its return.  Only the calls of libraries and program are seen: what the C library calls
 * inside itself goes past, save allocations.
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
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

static counter allocations, reads, opens, writes;
static long held;
static bool running, own, shortly, counted;
static int comes; /* a signal */
static _Thread_local bool looking; /* at the way to an allocation, which may allocate itself */

/* ways to an allocation: the places called from, as many as are asked for; a table of their sums */
enum { DEPTH = 40, WAYS = 1 << 18 };
static uint64_t ways[WAYS];
static int depth = 3;
static struct first {
    long n;
    uint64_t way;
} firsts[WAYS / 2];
static size_t n_firsts;

static bool fails(counter *c)
{
    if (!running) return false;
    c->n++;
    return c->at > 0 && (c->n == c->at || (c->and_after && c->n > c->at));
}

/* Is the allocation one that is counted?  Remembers the way to it. */
__attribute__((noinline)) static bool fails_alloc(void)
{
    if (looking) return false;
    if (!running || !(own || counted)) return fails(&allocations);
    looking = true;
    void *from[DEPTH];
    const int n = backtrace(from, own ? DEPTH : depth + 2);
    bool ours = !own;
    for (int i = 2; own && i < n; i++) {
        Dl_info where;
        if (!dladdr(from[i], &where) || strstr(where.dli_fname, "/libc.so")) continue;
        ours = strstr(where.dli_fname, "becket") != NULL;
        break;
    }
    if (counted && ours) {
        uint64_t sum = 14695981039346656037u; /* FNV-1a */
        for (int i = 2; i < n && i < depth + 2; i++) {
            Dl_info image = {0}; /* the same in every run, wherever the images are loaded */
            (void)dladdr(from[i], &image);
            sum = (sum ^ ((uintptr_t)from[i] - (uintptr_t)image.dli_fbase)) * 1099511628211u;
        }
        size_t at = sum % WAYS;
        while (ways[at] && ways[at] != sum) at = (at + 1) % WAYS;
        if (!ways[at] && n_firsts < WAYS / 2) {
            ways[at] = sum;
            firsts[n_firsts++] = (struct first){allocations.n + 1, sum};
        }
    }
    looking = false;
    return ours && fails(&allocations);
}

static void *kept(void *block)
{
    if (running && block) held++;
    return block;
}

void *malloc(size_t size)
{
    if (fails_alloc()) return errno = ENOMEM, NULL;
    return kept(__libc_malloc(size));
}

void *calloc(size_t n, size_t size)
{
    if (fails_alloc()) return errno = ENOMEM, NULL;
    return kept(__libc_calloc(n, size));
}

void *realloc(void *block, size_t size)
{
    if (fails_alloc()) return errno = ENOMEM, NULL;
    void *larger = __libc_realloc(block, size);
    return block ? larger : kept(larger);
}

void free(void *block)
{
    if (running && block) held--;
    __libc_free(block);
}

/* ---- files ------------------------------------------------------------------------------------ */

#define REAL(type, name, ...)                                                                                \
    static type (*real)(__VA_ARGS__);                                                                        \
    if (!real) *(void **)&real = dlsym(RTLD_NEXT, name)

/* Bytes come in pieces, and every other call is interrupted. */
static bool between(size_t *n)
{
    static bool interrupted;
    if (!running || !shortly) return false;
    if (*n > 1000) *n = 1000;
    return interrupted = !interrupted;
}

ssize_t read(int fd, void *bytes, size_t n)
{
    REAL(ssize_t, "read", int, void *, size_t);
    if (between(&n)) return errno = EINTR, -1;
    if (fails(&reads)) return errno = EIO, -1;
    return real(fd, bytes, n);
}

int open(const char *path, int flags, ...)
{
    REAL(int, "open", const char *, int, ...);
    va_list args;
    va_start(args, flags);
    const int mode = flags & O_CREAT ? va_arg(args, int) : 0;
    va_end(args);
    if (fails(&opens)) return errno = EMFILE, -1;
    return real(path, flags, mode);
}

FILE *fopen(const char *path, const char *mode)
{
    REAL(FILE *, "fopen", const char *, const char *);
    if (fails(&opens)) return errno = EMFILE, NULL;
    return real(path, mode);
}

DIR *opendir(const char *path)
{
    REAL(DIR *, "opendir", const char *);
    if (fails(&opens)) return errno = EMFILE, NULL;
    return real(path);
}

/* ---- keeping a file --------------------------------------------------------------------------- */

static bool fails_write(void)
{
    if (!fails(&writes)) return false;
    if (comes) raise(comes);
    return !comes;
}

ssize_t write(int fd, const void *bytes, size_t n)
{
    REAL(ssize_t, "write", int, const void *, size_t);
    if (between(&n)) return errno = EINTR, -1;
    if (fails_write()) return errno = ENOSPC, -1;
    return real(fd, bytes, n);
}

static int keeping = -1; /* the file under a name of its own */

int mkstemp(char *name)
{
    REAL(int, "mkstemp", char *);
    if (fails_write()) return errno = ENOSPC, -1;
    return keeping = real(name);
}

int close(int fd)
{
    REAL(int, "close", int);
    const bool kept_here = fd == keeping && fd >= 0;
    if (kept_here) keeping = -1;
    const int closed = real(fd);
    if (kept_here && fails_write()) return errno = EDQUOT, -1; /* as a file system in a network says it, at the end */
    return closed;
}

int fchmod(int fd, mode_t mode)
{
    REAL(int, "fchmod", int, mode_t);
    if (fails_write()) return errno = ENOSPC, -1;
    return real(fd, mode);
}

int fsync(int fd)
{
    REAL(int, "fsync", int);
    if (fails_write()) return errno = ENOSPC, -1;
    return real(fd);
}

int rename(const char *old, const char *new)
{
    REAL(int, "rename", const char *, const char *);
    if (fails_write()) return errno = ENOSPC, -1;
    return real(old, new);
}

/* ---- from main to its return ------------------------------------------------------------------ */

static void arm(counter *c, const char *name)
{
    const char *text = getenv(name);
    if (!text) return;
    char *end;
    c->at = strtol(text, &end, 10);
    c->and_after = *end == '+';
}

static int (*real_main)(int, char **, char **);

static int counted_main(int argc, char **argv, char **env)
{
    arm(&allocations, "BECKET_FAIL_ALLOC");
    arm(&reads, "BECKET_FAIL_READ");
    arm(&opens, "BECKET_FAIL_OPEN");
    arm(&writes, "BECKET_FAIL_WRITE");
    shortly = getenv("BECKET_SHORT") != NULL;
    if (getenv("BECKET_SIGNAL")) comes = (int)strtol(getenv("BECKET_SIGNAL"), NULL, 10);
    own = getenv("BECKET_OWN") != NULL;
    const char *path = getenv("BECKET_COUNT");
    counted = path != NULL;
    if (getenv("BECKET_DEPTH")) depth = (int)strtol(getenv("BECKET_DEPTH"), NULL, 10);
    if (depth > DEPTH - 2) depth = DEPTH - 2;
    void *first[1];
    backtrace(first, 1); /* loads what it needs */
    running = true;
    const int status = real_main(argc, argv, env);
    running = false;
    FILE *file = path ? fopen(path, "w") : NULL;
    if (!file) return status;
    fprintf(file, "%ld %ld %ld %ld %ld\n", allocations.n, reads.n, opens.n, writes.n, held);
    for (size_t i = 0; i < n_firsts; i++) fprintf(file, "%ld %jx\n", firsts[i].n, (uintmax_t)firsts[i].way);
    fclose(file);
    return status;
}

int __libc_start_main(int (*main)(int, char **, char **), int argc, char **argv, void (*init)(void), void (*fini)(void),
                      void (*rtld_fini)(void), void *stack_end);
int __libc_start_main(int (*main)(int, char **, char **), int argc, char **argv, void (*init)(void), void (*fini)(void),
                      void (*rtld_fini)(void), void *stack_end)
{
    REAL(int, "__libc_start_main", int (*)(int, char **, char **), int, char **, void (*)(void), void (*)(void), void (*)(void),
         void *);
    real_main = main;
    return real(counted_main, argc, argv, init, fini, rtld_fini, stack_end);
}
