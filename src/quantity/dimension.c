/* dimension: names, symbols and exponents of the dimensions that Becket speaks of. */
#include "text.h"

#include <string.h>

typedef struct dimension {
    bk_dim dim;
    const char *article, *name, *symbol, *example;
} dimension;

static const dimension dimensions[] = {
    {BK_DIM_NONE, "a", "number", "1", "1"},
    {BK_DIM_LENGTH, "a", "length", "m", "m"},
    {BK_DIM_AREA, "an", "area", "m2", "cm2"},
    {BK_DIM_VOLUME, "a", "volume", "m3", "cm3"},
    {BK_DIM_INERTIA, "a", "second moment of area", "m4", "cm4"},
    {BK_DIM_WARPING, "a", "warping constant", "m6", "cm6"},
    {BK_DIM_MASS, "a", "mass", "kg", "kg"},
    {BK_DIM_DENSITY, "a", "density", "kg/m3", "kg/m3"},
    {BK_DIM_LINE_MASS, "a", "mass per length", "kg/m", "kg/m"},
    {BK_DIM_FORCE, "a", "force", "N", "kN"},
    {BK_DIM_LINE_FORCE, "a", "force per length", "N/m", "kN/m"},
    {BK_DIM_STRESS, "a", "stress", "Pa", "MPa"},
    {BK_DIM_MOMENT, "a", "moment", "N m", "kN m"},
    {BK_DIM_BIMOMENT, "a", "bimoment", "N m2", "kN m2"},
    {BK_DIM_TIME, "a", "time", "s", "h"},
    {BK_DIM_FREQUENCY, "a", "frequency", "1/s", "1/h"},
    {BK_DIM_SPEED, "a", "speed", "m/s", "m/min"},
    {BK_DIM_PER_SPEED, "a", "share per speed", "s/m", "s/m"},
    {BK_DIM_ACCELERATION, "an", "acceleration", "m/s2", "m/s2"},
    {BK_DIM_TEMPERATURE, "a", "temperature", "K", "degC"},
    {BK_DIM_ANGLE, "an", "angle", "deg", "deg"},
};

static const dimension *find(bk_dim dim)
{
    for (size_t i = 0; i < sizeof dimensions / sizeof *dimensions; i++)
        if (dimensions[i].dim == dim) return &dimensions[i];
    return NULL;
}

const char *bk_dim_name(bk_dim dim)
{
    const dimension *d = find(dim);
    return d ? d->name : "quantity";
}

const char *bk_dim_symbol(bk_dim dim)
{
    const dimension *d = find(dim);
    return d ? d->symbol : "SI";
}

const char *bk_dim_article(bk_dim dim)
{
    const dimension *d = find(dim);
    return d ? d->article : "a";
}

const char *bk_dim_example(bk_dim dim)
{
    const dimension *d = find(dim);
    return d ? d->example : "m";
}

double bk_dim_symbol_value(double si, bk_dim dim)
{
    if (dim != BK_DIM_ANGLE) return si;
    /* 60 deg in must be 60 deg out: what the way through radians leaves in the last digits is not an angle */
    const double degrees = si * (180 / BK_PI), nearest = round(degrees * 1e9) / 1e9;
    return nearest * (BK_PI / 180) == si ? nearest : degrees;
}

void bk_dim_unpack(bk_dim dim, int exponents[BK_BASES])
{
    for (int i = 0; i < BK_BASES; i++)
        exponents[i] = (int)(dim >> (4 * (BK_BASES - 1 - i)) & 15U) - 8;
}

bool bk_dim_pack(const int exponents[BK_BASES], bk_dim *dim)
{
    bk_dim packed = 0;
    for (int i = 0; i < BK_BASES; i++) {
        if (exponents[i] < -8 || exponents[i] > 7) return false;
        packed = packed << 4 | (bk_dim)(exponents[i] + 8);
    }
    *dim = packed;
    return true;
}
