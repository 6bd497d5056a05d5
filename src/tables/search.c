/* search: which file a name leads to.
 *
 * Every directory is listed once, before the first name is looked for, and a name is compared with the
 * files that were found.  No path is ever made from a name, so no name can leave the directories.  A
 * symbolic link is taken only where it leads to a file below the directory it stands in; linked folders
 * and folders that begin with a dot are passed by.
 *
 * A user's directory may be any folder at all (the one the plan stands in), so the walk is bounded: a
 * tree of more than WALK_ENTRIES entries is not a shelf of tables, and then only the folder itself and
 * its folder `rules` count.  The same tree always gives the same answer.
 */
#define _XOPEN_SOURCE 700 /* realpath is of the XSI part of POSIX 2008 */
#include "shelf.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define WALK_ENTRIES 2000
#define WALK_DEPTH   4
#define SNIFF_BYTES  16384

typedef struct walk {
    bk_tables *tables;
    size_t dir;
    char *real; /* the directory, with no links in it */
    size_t seen;
    bool shallow; /* only the folder itself and its folder `rules` */
    bool too_large;
    bk_status status;
} walk;

static bool ends_in_yaml(const char *name)
{
    const size_t n = strlen(name);
    return n > 5 && strcmp(name + n - 5, ".yaml") == 0;
}

static bool below(const char *path, const char *dir)
{
    const size_t n = strlen(dir);
    if (strcmp(dir, "/") == 0) return true;
    return strncmp(path, dir, n) == 0 && path[n] == '/';
}

/* A plan cannot write such a name, and no list should print it. */
static bool unprintable(const char *entry)
{
    for (; *entry; entry++)
        if ((unsigned char)*entry < 0x20 || *entry == 0x7F) return true;
    return false;
}

static void keep(walk *w, const char *path, const char *entry, bool rules, bool link)
{
    bk_tables *t = w->tables;
    bool outside = false;
    if (link) {
        char *real = realpath(path, NULL);
        struct stat to;
        if (!real || stat(real, &to) != 0 || !S_ISREG(to.st_mode)) {
            if (!real && errno == ENOMEM) w->status = BK_E_NOMEM;
            free(real);
            return;
        }
        outside = !below(real, w->real);
        free(real);
    }
    bk_shelf_file *file = BK_NEW(t->arena, bk_shelf_file, 1);
    bk_shelf_file **place =
        file ? bk_arena_push(t->arena, &t->files, &t->n_files, &t->files_capacity, sizeof *t->files) : NULL;
    if (!place) {
        w->status = BK_E_NOMEM;
        return;
    }
    *file = (bk_shelf_file){.name = bk_arena_strndup(t->arena, entry, strlen(entry) - 5),
                            .path = path,
                            .dir = w->dir,
                            .rules = rules,
                            .outside = outside};
    *place = file;
    if (!file->name) w->status = BK_E_NOMEM;
}

/* A folder that is not there or not ours to read holds no tables.  What any other holds is not known: going on without
 * it might take another table of the same name. */
static void unlisted(walk *w, const char *folder, int why)
{
    if (why == 0 || why == ENOENT || why == ENOTDIR || why == EACCES) return;
    w->status = why == ENOMEM ? BK_E_NOMEM : BK_E_READ;
    w->tables->unlisted = bk_arena_strndup(w->tables->arena, folder, strlen(folder));
    w->tables->why = why;
}

static void look(walk *w, const char *folder, size_t depth, bool rules)
{
    DIR *dir = opendir(folder);
    if (!dir) {
        unlisted(w, folder, errno);
        return;
    }
    for (;;) {
        errno = 0;
        const struct dirent *e = readdir(dir);
        if (!e) unlisted(w, folder, errno);
        if (!e || w->status != BK_OK || w->too_large) break;
        if (e->d_name[0] == '.') continue;
        if (++w->seen > WALK_ENTRIES && !w->shallow) {
            w->too_large = true;
            break;
        }
        const bool yaml = ends_in_yaml(e->d_name) && !unprintable(e->d_name);
        const bool rules_folder = depth == 0 && strcmp(e->d_name, "rules") == 0;
        if (w->shallow && !yaml && !rules_folder) continue;
        const char *path = bk_arena_printf(w->tables->arena, "%s%s%s", folder,
                                           folder[strlen(folder) - 1] == '/' ? "" : "/", e->d_name);
        struct stat at;
        if (!path) {
            w->status = BK_E_NOMEM;
        } else if (lstat(path, &at) == 0) {
            if (S_ISDIR(at.st_mode) && depth + 1 < WALK_DEPTH)
                look(w, path, depth + 1, rules || rules_folder);
            else if (yaml && (S_ISREG(at.st_mode) || S_ISLNK(at.st_mode)))
                keep(w, path, e->d_name, rules, S_ISLNK(at.st_mode));
        }
    }
    closedir(dir);
}

static int by_path(const void *a, const void *b)
{
    const bk_shelf_file *const *x = a, *const *y = b;
    return strcmp((*x)->path, (*y)->path);
}

bk_status bk_shelf_search(bk_tables *t, bk_place where, bk_errors *errors)
{
    for (size_t i = 0; !t->searched && i < t->n_dirs && t->search_status == BK_OK; i++) {
        walk w = {.tables = t, .dir = i, .real = realpath(t->dirs[i], NULL)};
        if (!w.real) {
            unlisted(&w, t->dirs[i], errno);
            t->search_status = w.status;
            continue;
        }
        const size_t first = t->n_files;
        look(&w, t->dirs[i], 0, false);
        if (w.too_large) {
            t->n_files = first;
            w = (walk){.tables = t, .dir = i, .real = w.real, .shallow = true};
            look(&w, t->dirs[i], 0, false);
        }
        free(w.real);
        t->search_status = w.status;
        if (t->n_files > first) qsort(t->files + first, t->n_files - first, sizeof *t->files, by_path);
    }
    t->searched = true;
    if (t->search_status == BK_E_READ)
        return bk_fail(errors, where, BK_E_READ, "the folder of tables %s cannot be listed: %s",
                       t->unlisted ? t->unlisted : "", strerror(t->why));
    if (t->search_status != BK_OK)
        return bk_fail(errors, where, t->search_status, "the tables cannot be listed: out of memory");
    return BK_OK;
}

/* A line that begins with the key of a table or rule set, near the top of the file. */
bool bk_shelf_marked(bk_shelf_file *file)
{
    if (file->sniffed) return file->marked;
    file->sniffed = true;
    FILE *stream = fopen(file->path, "rb");
    if (!stream) return file->marked = true; /* reading it will say why it cannot be read */
    char line[32];
    bool at_start = true;
    for (size_t n = 0; n < SNIFF_BYTES && !file->marked && fgets(line, sizeof line, stream);
         n += sizeof line) {
        const char *text = at_start && strncmp(line, "\xEF\xBB\xBF", 3) == 0 ? line + 3 : line;
        if (at_start && (strncmp(text, "becket_table", 12) == 0 || strncmp(text, "becket_rules", 12) == 0))
            file->marked = true;
        at_start = strchr(line, '\n');
    }
    fclose(stream);
    return file->marked;
}

bk_status bk_shelf_find(bk_tables *t, const char *name, bool rules, size_t dir, const char *not_path,
                        bk_place where, bk_shelf_file **out, bk_errors *errors)
{
    *out = NULL;
    const bk_status status = bk_shelf_search(t, where, errors);
    if (status != BK_OK) return status;
    for (size_t i = 0; i < t->n_files; i++) {
        bk_shelf_file *file = t->files[i];
        if (file->dir < dir || file->rules != rules || strcmp(file->name, name) != 0) continue;
        if (*out && file->dir > (*out)->dir) break;
        if (not_path && strcmp(file->path, not_path) == 0) continue;
        if (file->outside)
            return bk_fail(errors, where, BK_E_READ,
                           "%s is a symbolic link that leads out of %s: put the file itself there",
                           file->path, t->dirs[file->dir]);
        if (!bk_shelf_marked(file)) continue;
        if (*out)
            return bk_fail(errors, where, BK_E_AMBIGUOUS, "%s is both %s and %s: rename one", name,
                           (*out)->path, file->path);
        *out = file;
    }
    return BK_OK;
}
