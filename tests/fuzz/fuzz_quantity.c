/* Any text, read as every dimension: it is read or refused with a sentence, and what was read is a
 * finite number that can be printed and read again.  Run by fuzz.sh; the corpus is replayed by
 * `meson test`. */
#include <becket/quantity.h>

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const bk_dim dims[] = {
    BK_DIM_NONE,       BK_DIM_LENGTH, BK_DIM_AREA,         BK_DIM_VOLUME,      BK_DIM_INERTIA,
    BK_DIM_WARPING,    BK_DIM_MASS,   BK_DIM_DENSITY,      BK_DIM_LINE_MASS,   BK_DIM_FORCE,
    BK_DIM_LINE_FORCE, BK_DIM_STRESS, BK_DIM_MOMENT,       BK_DIM_BIMOMENT,    BK_DIM_TIME,
    BK_DIM_FREQUENCY,  BK_DIM_SPEED,  BK_DIM_ACCELERATION, BK_DIM_TEMPERATURE, BK_DIM_ANGLE,
};

static void must(bool condition)
{
    if (!condition) abort();
}

static bool in_range(double x)
{
    return isfinite(x) && fabs(x) <= 1e30;
}

static void read_again(double si, bk_dim dim, bk_system system)
{
    char text[400], why[400] = "";
    bk_value again;
    bk_quantity_print(text, sizeof text, si, dim, system, 12);
    bk_status status = bk_quantity_read(text, dim, &again, why, sizeof why);
    if (status == BK_E_NUMBER && fabs(si) > 1e17)
        return; /* 1e19 m6 is over the bound when it is printed in cm6 */
    must(status == BK_OK);
    double zero_point = dim == BK_DIM_TEMPERATURE ? 300 : 0; /* digits count from there */
    must(fabs(again.v - si) <= 1e-10 * (fabs(si) + zero_point) + 1e-300);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (!text) return 0;
    memcpy(text, data, size);
    text[size] = 0;
    for (size_t i = 0; i < sizeof dims / sizeof *dims; i++) {
        char why[300] = "";
        bk_value q;
        bk_vec3_value v;
        bk_status status = bk_quantity_read(text, dims[i], &q, why, sizeof why);
        must(status == BK_OK ? in_range(q.v) && q.tol >= 0 && isfinite(q.tol) : why[0] != 0);
        if (status == BK_OK) {
            read_again(q.v, dims[i], BK_SI);
            read_again(q.v, dims[i], BK_US);
        }
        why[0] = 0;
        status = bk_vector_read(text, dims[i], &v, why, sizeof why);
        must(status == BK_OK ? in_range(v.v.x) && in_range(v.v.z) && v.tol.y >= 0 : why[0] != 0);
    }
    double factor, offset;
    bk_dim dim;
    if (bk_unit_read(text, &factor, &offset, &dim, NULL, 0) == BK_OK) must(isfinite(factor) && factor > 0);
    free(text);
    return 0;
}
