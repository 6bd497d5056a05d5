/* Any bytes: a tree within its bounds, or a refusal with a message of one line.  Run by fuzz.sh; the
 * corpus is replayed by `meson test`. */
#include <becket/base.h>

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool condition)
{
    if (!condition) abort();
}

/* Walks the tree and returns its weight, aliases written out. */
static size_t walk(const bk_yaml *node, int depth)
{
    must(node && depth <= BK_YAML_MAX_DEPTH + 1 && node->text);
    must(node->place.line >= 1 && node->place.column >= 1);
    size_t weight = 1;
    for (size_t i = 0; node->kind == BK_YAML_LIST && i < node->n; i++)
        weight += walk(node->items[i], depth + 1);
    for (size_t i = 0; node->kind == BK_YAML_MAP && i < node->n; i++) {
        must(node->pairs[i].key[0] != 0);
        weight += walk(node->pairs[i].value, depth + 1);
        if (i < 50) must(bk_yaml_get(node, node->pairs[i].key) == node->pairs[i].value);
    }
    must(weight == node->weight && weight <= BK_YAML_MAX_WEIGHT);
    return weight;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    bk_arena *arena = bk_arena_new();
    bk_errors *errors = bk_errors_new();
    const bk_yaml *root;
    if (arena && errors) {
        bk_status status = bk_yaml_read(arena, "f", (const char *)data, size, &root, errors);
        must((status == BK_OK || status == BK_E_DUPLICATE) == (root != NULL));
        must((status == BK_OK) == (errors->n == 0));
        if (status == BK_OK) walk(root, 1);
        bk_errors_sort(errors);
        for (size_t i = 0; i < errors->n; i++) {
            char *line = bk_message_print(&errors->at[i]);
            must(line && !strchr(line, '\n') && !strchr(line, '\x1b'));
            free(line);
        }
    }
    bk_errors_free(errors);
    bk_arena_free(arena);
    return 0;
}
