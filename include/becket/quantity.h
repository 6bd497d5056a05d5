/* quantity: text with a unit to SI numbers with a dimension, and back in the reader's units.
 *
 * Inside Becket every number is SI (N, m, kg, s, K, rad), always double.  Conversion happens at two
 * doors only: when a plan or table is read, and when a report is written.  Knows nothing of files.
 * All number reading and printing here is independent of the process locale.
 */
#ifndef BECKET_QUANTITY_H
#define BECKET_QUANTITY_H

#include <becket/base.h>

BK_C_BEGIN

/* A dimension: exponents of kg, m, s, K, rad, packed so that equal dimensions are equal integers.
 * rad is kept as a dimension of its own so that a length is never taken for an angle. */
typedef uint32_t bk_dim;
#define BK_DIM(kg, m, s, K, rad)                                                                   \
    ((bk_dim)(((uint32_t)((kg) + 8) << 16) | ((uint32_t)((m) + 8) << 12) | ((uint32_t)((s) + 8) << 8) | \
              ((uint32_t)((K) + 8) << 4) | (uint32_t)((rad) + 8)))
enum {
    BK_DIM_NONE = BK_DIM(0, 0, 0, 0, 0),
    BK_DIM_LENGTH = BK_DIM(0, 1, 0, 0, 0),
    BK_DIM_AREA = BK_DIM(0, 2, 0, 0, 0),
    BK_DIM_VOLUME = BK_DIM(0, 3, 0, 0, 0),         /* also section modulus */
    BK_DIM_INERTIA = BK_DIM(0, 4, 0, 0, 0),        /* second moment of area, m4 */
    BK_DIM_WARPING = BK_DIM(0, 6, 0, 0, 0),        /* warping constant, m6 */
    BK_DIM_MASS = BK_DIM(1, 0, 0, 0, 0),
    BK_DIM_DENSITY = BK_DIM(1, -3, 0, 0, 0),
    BK_DIM_LINE_MASS = BK_DIM(1, -1, 0, 0, 0),     /* kg/m */
    BK_DIM_FORCE = BK_DIM(1, 1, -2, 0, 0),
    BK_DIM_LINE_FORCE = BK_DIM(1, 0, -2, 0, 0),    /* N/m: load per length, stiffness */
    BK_DIM_STRESS = BK_DIM(1, -1, -2, 0, 0),
    BK_DIM_MOMENT = BK_DIM(1, 2, -2, 0, 0),        /* N m; also energy */
    BK_DIM_BIMOMENT = BK_DIM(1, 3, -2, 0, 0),      /* N m2; also bending stiffness E I */
    BK_DIM_TIME = BK_DIM(0, 0, 1, 0, 0),
    BK_DIM_FREQUENCY = BK_DIM(0, 0, -1, 0, 0),
    BK_DIM_SPEED = BK_DIM(0, 1, -1, 0, 0),
    BK_DIM_PER_SPEED = BK_DIM(0, -1, 1, 0, 0),     /* s/m: what a factor gains with the speed */
    BK_DIM_ACCELERATION = BK_DIM(0, 1, -2, 0, 0),
    BK_DIM_TEMPERATURE = BK_DIM(0, 0, 0, 1, 0),    /* K, from degC or degF with their zero points */
    BK_DIM_ANGLE = BK_DIM(0, 0, 0, 0, 1)
};

typedef enum bk_system { BK_SI, BK_US } bk_system;

/* A value and what may be off it.  tol is absolute, SI, >= 0; 0 when none was given. */
typedef struct bk_value {
    double v, tol;
} bk_value;
typedef struct bk_vec3_value {
    bk_vec3 v, tol;
} bk_vec3_value;

/* One number, plain or as a fraction: 2.5, -3, 1e3, 3/8, "1 3/8", "1-3/8".  Finite, |x| <= 1e30.
 * Returns the text after it, NULL if there is no number. */
const char *bk_number_read(const char *text, double *value);

/* The readers below turn a whole text into SI.  want: the dimension asked for.
 *   "2.5 m"  "8 ft 6 1/2 in"  "3.6 t ± 5 %"  "3 m +/- 10 mm"  "12 kN/m"  "7850 kg/m3"  "20 degC"
 * A pure number is read when want is BK_DIM_NONE; so is a percentage ("0.5 %" is 0.005).
 * Where a force is meant a mass unit is read as that mass's weight (g = 9.80665 m/s2) and the other
 * way round; the same for dimensions that differ by that factor (kg/m and N/m).
 * On failure: BK_E_NUMBER, _NO_UNIT, _UNIT, _UNKNOWN_UNIT, _TON, _TOLERANCE or _VECTOR, and why holds
 * one sentence (what was wanted, what was found, nearest unit). */
bk_status bk_quantity_read(const char *text, bk_dim want, bk_value *out, char *why, size_t why_size);
/* "1.10 0.05 0.70 m ± 0.10 m", one tolerance for all axes or three. */
bk_status bk_vector_read(const char *text, bk_dim want, bk_vec3_value *out, char *why, size_t why_size);

/* Factor and dimension of a unit expression ("kN/m", "N/mm2", "lbf*ft"): SI = factor * number + offset.
 * BK_E_UNKNOWN_UNIT or BK_E_TON with why.  offset is 0 save for degC and degF. */
bk_status bk_unit_read(const char *text, double *factor, double *offset, bk_dim *dim, char *why,
                       size_t why_size);

/* "force", "length", ... for messages; "quantity" if it has no name here. */
const char *bk_dim_name(bk_dim dim);
/* "N", "m", "N m", "Pa", "1", ... ; "deg" for angles, which leave Becket in degrees. */
const char *bk_dim_symbol(bk_dim dim);
/* An SI value in the unit of bk_dim_symbol (radians become degrees, all else unchanged). */
double bk_dim_symbol_value(double si, bk_dim dim);

/* Every unit that can be read, for tests and documentation; NULL past the end. */
typedef struct bk_unit_info {
    const char *symbol, *origin; /* origin of the factor */
    bk_dim dim;
    double factor, offset;
} bk_unit_info;
const bk_unit_info *bk_unit_info_at(size_t i);

/* SI to text for people, in the usual unit of the system and a fitting size ("35.3 kN", "7.94 kip",
 * "12.4 mm", "1/2 in" is never made: decimals only).  digits: significant digits, 3 is usual.
 * Never "-0"; NaN prints as "-".  Returns buf. */
char *bk_quantity_print(char *buf, size_t size, double si, bk_dim dim, bk_system system, int digits);
/* The unit that it takes for this value, as bk_unit_read reads it. */
const char *bk_quantity_unit(double si, bk_dim dim, bk_system system, int digits);
/* Is it, by whatever name, a unit that it may take in this system? */
bool bk_unit_of_system(const char *unit, bk_system system);
/* An SI value in a named unit ("t", "lbf", "kN"), fixed decimals, without the unit's name.
 * The unit must be known (assert). */
char *bk_number_print(char *buf, size_t size, double si, const char *unit, int decimals);
/* Locale-proof %.*g of a bare number. */
char *bk_plain_print(char *buf, size_t size, double value, int digits);

BK_C_END

#endif
