/* quantity_print: SI to text for people.
 *
 * Each dimension has a short ladder of units in each system; the largest unit that leaves a figure of
 * at least one is taken, counted after rounding (999.7 N in three digits is 1.00 kN).  Figures keep
 * their trailing zeros, which tell how many digits count; pure numbers do not.
 */
#include "text.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

typedef struct rung {
    bk_dim dim;
    const char *unit; /* as bk_unit_read reads it */
    double from;      /* least figure in this unit for which it is taken */
} rung;
enum { LAST = 0 }; /* of a ladder: whatever is left */

static const rung si_rungs[] = {
    {BK_DIM_FORCE, "MN", 1},
    {BK_DIM_FORCE, "kN", 1},
    {BK_DIM_FORCE, "N", LAST},
    {BK_DIM_MASS, "t", 1},
    {BK_DIM_MASS, "kg", LAST},
    {BK_DIM_LENGTH, "m", 1},
    {BK_DIM_LENGTH, "mm", LAST},
    {BK_DIM_AREA, "m2", 1},
    {BK_DIM_AREA, "cm2", 1},
    {BK_DIM_AREA, "mm2", LAST},
    {BK_DIM_VOLUME, "m3", 1},
    {BK_DIM_VOLUME, "cm3", LAST},
    {BK_DIM_INERTIA, "cm4", LAST},
    {BK_DIM_WARPING, "cm6", LAST},
    {BK_DIM_STRESS, "MPa", LAST},
    {BK_DIM_MOMENT, "kN m", 1},
    {BK_DIM_MOMENT, "N m", LAST},
    {BK_DIM_BIMOMENT, "kN m2", LAST},
    {BK_DIM_LINE_FORCE, "kN/m", 1},
    {BK_DIM_LINE_FORCE, "N/m", LAST},
    {BK_DIM_LINE_MASS, "kg/m", LAST},
    {BK_DIM_DENSITY, "kg/m3", LAST},
    {BK_DIM_SPEED, "m/s", 3}, /* wind, not hoisting */
    {BK_DIM_SPEED, "m/min", LAST},
    {BK_DIM_ACCELERATION, "m/s2", LAST},
    {BK_DIM_TEMPERATURE, BK_DEGREE "C", LAST},
};
static const rung us_rungs[] = {
    {BK_DIM_FORCE, "kip", 1},
    {BK_DIM_FORCE, "lbf", LAST},
    {BK_DIM_MASS, "lb", LAST},
    {BK_DIM_LENGTH, "ft", 1},
    {BK_DIM_LENGTH, "in", LAST},
    {BK_DIM_AREA, "in2", LAST},
    {BK_DIM_VOLUME, "in3", LAST},
    {BK_DIM_INERTIA, "in4", LAST},
    {BK_DIM_WARPING, "in6", LAST},
    {BK_DIM_STRESS, "ksi", 1},
    {BK_DIM_STRESS, "psi", LAST},
    {BK_DIM_MOMENT, "kip ft", 1},
    {BK_DIM_MOMENT, "lbf ft", LAST},
    {BK_DIM_BIMOMENT, "kip ft2", LAST},
    {BK_DIM_LINE_FORCE, "kip/ft", 1},
    {BK_DIM_LINE_FORCE, "lbf/ft", LAST},
    {BK_DIM_LINE_MASS, "lb/ft", LAST},
    {BK_DIM_DENSITY, "lb/ft3", LAST},
    {BK_DIM_SPEED, "mph", 6},
    {BK_DIM_SPEED, "ft/min", LAST},
    {BK_DIM_ACCELERATION, "ft/s2", LAST},
    {BK_DIM_TEMPERATURE, BK_DEGREE "F", LAST},
};
static const rung common_rungs[] = {
    {BK_DIM_TIME, "h", 1},        {BK_DIM_TIME, "min", 1},      {BK_DIM_TIME, "s", LAST},
    {BK_DIM_FREQUENCY, "1/h", LAST}, {BK_DIM_ANGLE, BK_DEGREE, LAST},
};

/* SI to the figure in a unit of the list. */
static double in_unit(double si, const char *unit)
{
    double factor = 1, offset = 0;
    bk_dim dim;
    bk_status status = bk_unit_read(unit, &factor, &offset, &dim, NULL, 0);
    assert(status == BK_OK);
    (void)status;
    return (si - offset) / factor;
}

static const rung *choose(const rung *rungs, size_t n, double si, bk_dim dim, int digits)
{
    double slack = 1 - 0.5 * pow(10, -digits); /* what rounds up to a full unit */
    for (size_t i = 0; i < n; i++)
        if (rungs[i].dim == dim &&
            (rungs[i].from == LAST || fabs(in_unit(si, rungs[i].unit)) >= rungs[i].from * slack))
            return &rungs[i];
    return NULL;
}

/* A figure to so many significant digits, with its trailing zeros, without an exponent where it can
 * be read so. */
static void print_figure(char *buf, size_t size, double figure, int digits)
{
    double magnitude = fabs(figure);
    if (!isfinite(figure) || (magnitude > 0 && magnitude < 1e-4) || magnitude >= 1e15) {
        bk_plain_print(buf, size, figure, digits);
        return;
    }
    int decimals = 0;
    if (magnitude > 0) {
        int before = (int)floor(log10(magnitude) + 1e-15) + 1; /* digits before the point, after rounding; negative for zeros behind it */
        if (magnitude >= pow(10, before) * (1 - 0.5 * pow(10, -digits))) before++;
        decimals = (int)fmax(0, digits - before);
    }
    bk_fixed_print(buf, size, figure, decimals);
}

#define N(array) (sizeof(array) / sizeof *(array))

static const rung *rung_for(double si, bk_dim dim, bk_system system, int digits)
{
    const rung *r = system == BK_US ? choose(us_rungs, N(us_rungs), si, dim, digits)
                                    : choose(si_rungs, N(si_rungs), si, dim, digits);
    return r ? r : choose(common_rungs, N(common_rungs), si, dim, digits);
}

const char *bk_quantity_unit(double si, bk_dim dim, bk_system system, int digits)
{
    const rung *r = rung_for(si, dim, system, digits);
    return r ? r->unit : bk_dim_symbol(dim);
}

static bool among(const rung *rungs, size_t n, bk_dim dim, double factor, double offset)
{
    for (size_t i = 0; i < n; i++) {
        double f, o;
        bk_dim d;
        if (rungs[i].dim == dim && bk_unit_read(rungs[i].unit, &f, &o, &d, NULL, 0) == BK_OK &&
            fabs(f - factor) <= 1e-12 * factor && o == offset)
            return true;
    }
    return false;
}

bool bk_unit_of_system(const char *unit, bk_system system)
{
    double factor, offset;
    bk_dim dim;
    if (bk_unit_read(unit, &factor, &offset, &dim, NULL, 0) != BK_OK) return false;
    return among(common_rungs, N(common_rungs), dim, factor, offset) ||
           (system == BK_US ? among(us_rungs, N(us_rungs), dim, factor, offset)
                            : among(si_rungs, N(si_rungs), dim, factor, offset));
}

char *bk_quantity_print(char *buf, size_t size, double si, bk_dim dim, bk_system system, int digits)
{
    if (size == 0) return buf;
    if (isnan(si) || dim == BK_DIM_NONE) {
        /* 12500 hours, not 1.25e+04 */
        const bool whole = fabs(si) >= pow(10, digits) && fabs(si) < 1e15;
        return whole ? bk_fixed_print(buf, size, si, 0) : bk_plain_print(buf, size, si, digits);
    }
    const rung *r = rung_for(si, dim, system, digits);
    print_figure(buf, size, r ? in_unit(si, r->unit) : si, digits);
    size_t n = strlen(buf);
    const char *unit = r ? r->unit : bk_dim_symbol(dim);
    /* the degree sign of an angle stands close, all other units after a space: SI brochure, 5.4.3 (memory) */
    snprintf(buf + n, size - n, "%s%s", dim == BK_DIM_ANGLE ? "" : " ", unit);
    return buf;
}

char *bk_number_print(char *buf, size_t size, double si, const char *unit, int decimals)
{
    return bk_fixed_print(buf, size, in_unit(si, unit), decimals);
}
