/* Feeds every file of a directory to a fuzz target, in the order of names: `replay DIRECTORY`. */
#include <becket/base.h>

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static int plain_files(const struct dirent *entry)
{
    return entry->d_name[0] != '.';
}

int main(int argc, char **argv)
{
    struct dirent **entries;
    int n = argc == 2 ? scandir(argv[1], &entries, plain_files, alphasort) : -1;
    if (n <= 0) {
        fprintf(stderr, "replay: want a directory with files\n");
        return EXIT_FAILURE;
    }
    for (int i = 0; i < n; i++) {
        bk_arena *arena = bk_arena_new();
        const char *path = bk_arena_printf(arena, "%s/%s", argv[1], entries[i]->d_name);
        const char *bytes;
        size_t size;
        if (bk_file_read(arena, path, (size_t)16 << 20, &bytes, &size, NULL) != BK_OK) {
            fprintf(stderr, "replay: cannot read %s\n", path);
            return EXIT_FAILURE;
        }
        LLVMFuzzerTestOneInput((const uint8_t *)bytes, size);
        bk_arena_free(arena);
        free(entries[i]);
    }
    free(entries);
    printf("%d files\n", n);
    return EXIT_SUCCESS;
}
