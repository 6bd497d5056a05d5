/* save: a file is written whole or not at all.  The bytes go to a new file beside it, reach the disk, and
 * only then take its name: a full disk, a lost connection or a kill leaves what was there before.  A signal that
 * would end the program waits until the file is kept or taken away.
 */
#define _XOPEN_SOURCE 700 /* realpath */
#include "cli.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int failed(const char *path, int why)
{
    return cli_failed(path, why == ENOMEM ? BK_E_NOMEM : BK_E_WRITE, strerror(why));
}

static bool write_all(int file, const char *bytes, size_t n)
{
    while (n > 0) {
        const ssize_t written = write(file, bytes, n);
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes += written;
        n -= (size_t)written;
    }
    return true;
}

/* Where the name leads: a link stays a link. */
static char *target_of(const char *path)
{
    char *real = realpath(path, NULL);
    return real || errno != ENOENT ? real : strdup(path);
}

static int save(const char *path, const void *bytes, size_t n, int code, bool replace)
{
    char *target = target_of(path);
    if (!target) return failed(path, errno);
    struct stat old;
    const bool there = stat(target, &old) == 0;
    char *fresh = NULL;
    int file = -1;
    if (there && !replace) {
        failed(path, EEXIST);
        goto wrong;
    }
    if (there && !S_ISREG(old.st_mode)) {
        cli_failed(path, BK_E_WRITE, "is not a plain file");
        goto wrong;
    }
    const size_t size = strlen(target) + sizeof ".XXXXXX";
    fresh = malloc(size);
    if (!fresh) {
        failed(path, ENOMEM);
        goto wrong;
    }
    snprintf(fresh, size, "%s.XXXXXX", target);
    file = mkstemp(fresh);
    if (file < 0) {
        failed(path, errno);
        goto wrong;
    }
    const mode_t mask = umask(0);
    umask(mask);
    const mode_t mode = there ? old.st_mode & 0777 : 0666 & ~mask;
    bool good = write_all(file, bytes, n) && fchmod(file, mode) == 0 && fsync(file) == 0;
    int why = errno;
    if (close(file) != 0 && good) good = false, why = errno;
    if (good && rename(fresh, target) != 0) good = false, why = errno;
    if (!good) {
        unlink(fresh);
        failed(path, why);
        goto wrong;
    }
    free(fresh);
    free(target);
    return code;
wrong:
    free(fresh);
    free(target);
    return CLI_WRONG;
}

int cli_save(const char *path, const void *bytes, size_t n, int code, bool replace)
{
    sigset_t ending, before;
    sigemptyset(&ending);
    sigaddset(&ending, SIGHUP);
    sigaddset(&ending, SIGINT);
    sigaddset(&ending, SIGTERM);
    sigprocmask(SIG_BLOCK, &ending, &before);
    code = save(path, bytes, n, code, replace);
    sigprocmask(SIG_SETMASK, &before, NULL);
    return code;
}
