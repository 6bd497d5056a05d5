/* section: properties of a steel shape and yield by thickness.  Knows nothing of spans or rules.
 * y-y strong axis, z-z weak axis, x along the beam.  SI.
 */
#ifndef BECKET_SECTION_H
#define BECKET_SECTION_H

#include <becket/plan.h>

BK_C_BEGIN

typedef struct bk_section {
    bool taper, welded;
    double h_m, b_m, tw_m, tf_m, r_m, r2_m, slope, a_weld_m; /* r 0 and a_weld 0 where absent */
    double area_m2, Iy_m4, Iz_m4, It_m4, Iw_m6;
    double Wely_m3, Wply_m3, Welz_m3, Wplz_m3;
    double Avz_m2;           /* EN 1993-1-1, 6.2.6: A - 2 b tf + (tw + 2 r) tf, not under hw tw */
    double iy_m, iz_m;
    double mass_per_m_kg_m;
    bool printed;            /* properties are the table's printed values, not computed */
} bk_section;

/* Properties from dimensions by the closed formulae (stated with their source in section.c).  Where the
 * table prints a value and says so is to be preferred (S shapes), the printed one is used.
 * BK_E_VALUE (why) when the dimensions make no shape. */
bk_status bk_section_of(const bk_section_in *in, bk_section *out, char *why, size_t why_size);
/* Computed from dimensions alone, whatever is printed: for the comparison beside each other. */
bk_status bk_section_computed(const bk_section_in *in, bk_section *out, char *why, size_t why_size);

/* Yield and tensile strength (Pa) at thickness t; NaN beyond the last step. */
double bk_steel_fy(const bk_steel *steel, double t_m);
double bk_steel_fu(const bk_steel *steel, double t_m);

BK_C_END

#endif
