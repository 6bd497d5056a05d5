/* keys: the keys of a row that the plan reader knows, with their dimension.
 *
 * The numbers come from the lists of tables.h.  Keys of steels are fy, fu (one strength) and fy_T, fu_T
 * (strength up to a thickness of T millimetres).
 */
#include "shelf.h"

#include <ctype.h>
#include <string.h>

typedef struct known_key {
    const char *name;
    bk_dim dim;
} known_key;

static const known_key numbers[] = {
#define X(key, field, dimension, text) {#key, BK_DIM_##dimension},
    BK_PART_NUMBERS(X) BK_HOIST_NUMBERS(X) BK_SECTION_NUMBERS(X)
#undef X
        {"speed", BK_DIM_SPEED}, /* of a hoist: main and slow */
    {"creep", BK_DIM_SPEED},
    {"limiter_at", BK_DIM_NONE}, /* multiple of the rated capacity */
    {"density", BK_DIM_DENSITY}, /* of a material */
};
static const char *const words[] = {"what",  "material",     "family",         "welded",
                                    "group", "limiter_kind", "hoisting_class", "drive_class",
                                    "hung",  "chain_grade",  "manual"};

#define N(array) (sizeof(array) / sizeof *(array))

static bool is_strength(const char *key)
{
    if (key[0] != 'f' || (key[1] != 'y' && key[1] != 'u')) return false;
    if (!key[2]) return true;
    if (key[2] != '_' || !key[3]) return false;
    for (const char *c = key + 3; *c; c++)
        if (!isdigit((unsigned char)*c)) return false;
    return true;
}

bool bk_key_dimension(const char *key, bk_dim *dim)
{
    for (size_t i = 0; i < N(numbers); i++)
        if (strcmp(key, numbers[i].name) == 0) {
            *dim = numbers[i].dim;
            return true;
        }
    *dim = BK_DIM_STRESS;
    return is_strength(key);
}

bool bk_key_known(const char *key, const char **nearest)
{
    bk_dim dim;
    *nearest = NULL;
    if (bk_key_dimension(key, &dim)) return true;
    const char *all[N(numbers) + N(words)];
    for (size_t i = 0; i < N(numbers); i++)
        all[i] = numbers[i].name;
    for (size_t i = 0; i < N(words); i++) {
        if (strcmp(key, words[i]) == 0) return true;
        all[N(numbers) + i] = words[i];
    }
    *nearest = bk_nearest(key, all, N(all));
    return false;
}
