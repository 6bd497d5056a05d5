/* bytes: a whole file, bounded, and its digest.
 *
 * A named file is opened without waiting, so that a FIFO that nobody writes into ends in a message and not in a
 * program that hangs.  Where there is a writer, reading waits for it as long as it takes.
 */
#include <becket/base.h>

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <sha2.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* How long a FIFO may stay without a writer: two commands started together find each other. */
#define WRITER_WAIT_MS 1000

/* Waits for something to read; false when nothing came in time.  milliseconds < 0: as long as it takes. */
static bool wait_for_bytes(int fd, int milliseconds)
{
    struct pollfd what = {.fd = fd, .events = POLLIN};
    int ready;
    do
        ready = poll(&what, 1, milliseconds);
    while (ready < 0 && errno == EINTR);
    return ready > 0;
}

/* Reads descriptor to its end, or to max + 1 bytes, into memory that doubles.  fifo: an end before the first byte
 * may only mean that no writer has come yet. */
static bk_status read_all(bk_arena *arena, int fd, bool fifo, size_t max, size_t expected, const char **bytes,
                          size_t *n)
{
    bool waited = !fifo;
    size_t capacity = expected < max ? expected + 1 : max + 1;
    size_t used = 0;
    char *buffer = bk_arena_alloc(arena, capacity + 1, 1);
    while (buffer) {
        ssize_t got = read(fd, buffer + used, capacity - used);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0 && (errno == EAGAIN || errno == EWOULDBLOCK) && wait_for_bytes(fd, -1)) continue;
        if (got < 0) return BK_E_READ;
        if (got == 0 && used == 0 && !waited) {
            waited = true;
            wait_for_bytes(fd, WRITER_WAIT_MS);
            continue;
        }
        if (got == 0) {
            buffer[used] = 0;
            *bytes = buffer;
            *n = used;
            return BK_OK;
        }
        used += (size_t)got;
        if (used > max) return BK_E_TOO_LARGE;
        if (used == capacity) {
            capacity = capacity > max / 2 ? max + 1 : capacity * 2;
            char *larger = bk_arena_alloc(arena, capacity + 1, 1);
            if (larger) memcpy(larger, buffer, used);
            buffer = larger;
        }
    }
    return BK_E_NOMEM;
}

bk_status bk_file_read(bk_arena *arena, const char *path, size_t max, const char **bytes, size_t *n,
                       bk_errors *errors)
{
    bool standard_input = strcmp(path, "-") == 0;
    bk_place place = {standard_input ? "standard input" : path, 0, 0};
    int fd = standard_input ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
    struct stat info;
    if (fd < 0 || fstat(fd, &info) != 0) {
        int why = errno;
        if (fd >= 0 && !standard_input) close(fd);
        return bk_fail(errors, place, BK_E_READ, "cannot be opened: %s", strerror(why));
    }

    bk_status status;
    size_t expected = 64 * 1024;
    if (S_ISDIR(info.st_mode)) {
        status = bk_fail(errors, place, BK_E_READ, "is a directory, want a file");
    } else if (S_ISREG(info.st_mode) && info.st_size >= 0 && (uintmax_t)info.st_size > max) {
        status = bk_fail(errors, place, BK_E_TOO_LARGE, "has %jd bytes, more than the %zu allowed",
                         (intmax_t)info.st_size, max);
    } else {
        if (S_ISREG(info.st_mode)) expected = (size_t)info.st_size;
        const bool fifo = S_ISFIFO(info.st_mode) && !standard_input;
        status = read_all(arena, fd, fifo, max, expected, bytes, n);
        if (status == BK_E_READ)
            bk_fail(errors, place, status, "cannot be read: %s", strerror(errno));
        else if (status == BK_E_TOO_LARGE)
            bk_fail(errors, place, status, "has more than the %zu bytes allowed", max);
        else if (status == BK_E_NOMEM)
            bk_fail(errors, place, status, "out of memory");
        else if (fifo && *n == 0)
            status = bk_fail(errors, place, BK_E_READ, "is a pipe that nothing was written into");
    }
    if (!standard_input) close(fd);
    return status;
}

void bk_digest(const void *bytes, size_t n, char hex[65])
{
    SHA2_CTX context;
    SHA256Init(&context);
    SHA256Update(&context, bytes, n);
    SHA256End(&context, hex);
}
