/* sheet: finds and loads the drawing module.
 *
 * cairo and pango take longer to load than a whole load check, so they live in a module of their own that is
 * loaded when something is drawn.  It is looked for beside the running program (a build that is not
 * installed), below the program's own prefix (an installed tree may be moved), below the folder of this
 * library (the same, from another program), and where it was installed.  It stays loaded.
 */
#define _GNU_SOURCE /* dladdr, in POSIX since 2024 */
#include "module.h"

#include <dlfcn.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define MODULE_FILE "becket-sheet.so"
enum { PLACES = 4, PATH_SIZE = 4096 };

/* Takes the last so many parts off a path; "" when it has fewer. */
static void up(char *path, int parts)
{
    for (int i = 0; i < parts; i++) {
        char *slash = strrchr(path, '/');
        *(slash ? slash : path) = '\0';
    }
}

/* Where the module may be, best first; "" when the place is not known. */
static void module_path(int place, char *path, size_t size)
{
    static const char *const tails[PLACES] = {"", "/" BK_MODULE_TAIL, "/becket", BK_MODULE_DIR};
    char from[PATH_SIZE] = "";
    Dl_info own;
    if (place < 2) {
        const ssize_t n = readlink("/proc/self/exe", from, sizeof from - 1);
        from[n > 0 ? n : 0] = '\0';
        up(from, 1 + place);
    } else if (place == 2 && dladdr(tails, &own) != 0 && own.dli_fname && *own.dli_fname == '/') {
        snprintf(from, sizeof from, "%s", own.dli_fname);
        up(from, 1);
    }
    snprintf(path, size, "%s%s/" MODULE_FILE, from, tails[place]);
    if (!*from && place < PLACES - 1) *path = '\0';
}

static bk_status load(const bk_sheet_module **module, bk_errors *errors)
{
    char path[PATH_SIZE + 256], why[400] = "";
    for (int place = 0; place < PLACES; place++) {
        module_path(place, path, sizeof path);
        if (access(path, F_OK) != 0) continue;
        void *loaded = dlopen(path, RTLD_NOW | RTLD_LOCAL);
        const bk_sheet_module *found = loaded ? dlsym(loaded, BK_SHEET_MODULE_SYMBOL) : NULL;
        if (found && strcmp(found->version, BK_VERSION) == 0) {
            *module = found;
            return BK_OK;
        }
        const char *reason = found ? "it belongs to another version" : dlerror();
        snprintf(why, sizeof why, ": %.*s", (int)(sizeof why - 3), reason ? reason : "unknown reason");
    }
    return bk_fail(errors, (bk_place){0}, BK_E_WRITE, "the drawing module " MODULE_FILE " %s%s",
                   *why ? "cannot be loaded" : "is not installed", why);
}

bk_status bk_sheet_draw(const bk_assessment *assessment, const bk_sheet_options *options, char **bytes,
                        size_t *n, bk_errors *errors)
{
    const bk_sheet_module *module = NULL;
    const bk_status status = load(&module, errors);
    return status == BK_OK ? module->draw(assessment, options, bytes, n, errors) : status;
}

bk_status bk_sheet_draw_angle(const bk_leg_question *question, const bk_sheet_options *options, char **bytes,
                              size_t *n, bk_errors *errors)
{
    const bk_sheet_module *module = NULL;
    const bk_status status = load(&module, errors);
    return status == BK_OK ? module->draw_angle(question, options, bytes, n, errors) : status;
}
