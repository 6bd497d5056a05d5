/* Feeds every file of some directories to a fuzz target, in the order of names: `replay DIRECTORY ...`. */
#include <becket/base.h>

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int plain_files(const struct dirent *entry)
{
    return entry->d_name[0] != '.';
}

static bool replay(const char *directory)
{
    struct dirent **entries;
    const int n = scandir(directory, &entries, plain_files, alphasort);
    if (n <= 0) {
        fprintf(stderr, "replay: %s: want a directory with files\n", directory);
        return false;
    }
    for (int i = 0; i < n; i++) {
        bk_arena *arena = bk_arena_new();
        const char *path = bk_arena_printf(arena, "%s/%s", directory, entries[i]->d_name);
        const char *bytes;
        size_t size;
        if (bk_file_read(arena, path, (size_t)16 << 20, &bytes, &size, NULL) == BK_OK) /* not a folder in between */
            LLVMFuzzerTestOneInput((const uint8_t *)bytes, size);
        bk_arena_free(arena);
        free(entries[i]);
    }
    free(entries);
    printf("%s: %d files\n", directory, n);
    return true;
}

int main(int argc, char **argv)
{
    bool good = argc > 1;
    for (int i = 1; i < argc; i++) good = replay(argv[i]) && good;
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
