/* section.c: properties of rolled and welded I shapes from their dimensions.
 *
 * Parallel flanges: the closed formulae that section tables are computed with (standard for EN 10365 and
 * ASTM A6 shapes; memory, confirmed against printed tables: within 0.6 % for A, I and W).
 * Taper flanges: A, I and W by integrating around the true outline of a quarter (Green's theorem), fillets
 * and toes as arcs:
 *
 *      z ^   b/2
 *        o-------.        z = h/2
 *        |       |
 *        |  tm   ) r2     toe
 *        |  _.--'         inner face, slope = rise over run
 *        | ( r            root fillet
 *        | |
 *        o-'------> y     z = 0, half of the web: tw/2
 *
 * tf of a taper flange is measured half way between axis and edge (b/4, DIN 1025-1), or, for the US slope of
 * 1:6, half way between web and edge ((b - tw)/4 from the edge, ASTM A6 practice).
 * Torsion of taper flanges is approximate; see taper_torsion.  Against a finite-element solution of the
 * true outline It comes out 1 to 4.5 % low, Iw 0 to 3 % high (up to 6 % for S3 and S4); for flanges that
 * stubby lateral buckling does not govern.
 * Web-flange welds of welded shapes are left out of all properties (less than a hundredth, safe side).
 */
#include <becket/section.h>

#include <stdio.h>

#define PI          3.14159265358979323846
#define STEEL_KG_M3 7850.0 /* EN 1991-1-1, table A.4: 77 to 78.5 kN/m3 (memory); section tables use 7850 */
#define US_SLOPE    0.15   /* above: 1:6 of S shapes; below: 14 % or 8 % of European ones */

static double square(double x)
{
    return x * x;
}
static double cube(double x)
{
    return x * x * x;
}

/* ---- parallel flanges -------------------------------------------------------------------------- */

static void parallel(bk_section *s)
{
    double h = s->h_m, b = s->b_m, tw = s->tw_m, tf = s->tf_m, r = s->r_m, hw = h - 2 * tf;
    s->area_m2 = 2 * b * tf + hw * tw + (4 - PI) * r * r;
    s->Iy_m4 = (b * cube(h) - (b - tw) * cube(hw)) / 12 + 0.03 * square(r * r) +
               0.2146 * r * r * square(hw - 0.4468 * r);
    s->Iz_m4 = (2 * tf * cube(b) + hw * cube(tw)) / 12 + 0.03 * square(r * r) +
               0.2146 * r * r * square(tw + 0.4468 * r);
    s->Wply_m3 =
        tw * h * h / 4 + (b - tw) * (h - tf) * tf + (4 - PI) / 2 * r * r * hw + (3 * PI - 10) / 3 * cube(r);
    s->Wplz_m3 = b * b * tf / 2 + hw * tw * tw / 4 + cube(r) * (10.0 / 3 - PI) + (2 - PI / 2) * tw * r * r;
    /* flanges and web as strips, and what the joint adds: the circle that fits into it */
    double circle = (square(r + tw / 2) + square(r + tf) - r * r) / (2 * r + tf);
    s->It_m4 = 2.0 / 3 * (b - 0.63 * tf) * cube(tf) + hw * cube(tw) / 3 +
               2 * (tw / tf) * (0.145 + 0.1 * r / tf) * square(circle * circle);
    s->Iw_m6 = tf * cube(b) * square(h - tf) / 24;
}

/* ---- taper flanges ----------------------------------------------------------------------------- */

/* Integrals over a quarter: 1, z, z2, y, y2. */
typedef struct quarter {
    double area, Sy, Iy, Sz, Iz;
} quarter;

/* Five-point Gauss nodes and weights on 0..1, exact to the ninth power. */
static void gauss5(double node[5], double weight[5])
{
    double near = sqrt(5 - 2 * sqrt(10.0 / 7)) / 3, far = sqrt(5 + 2 * sqrt(10.0 / 7)) / 3;
    double at[5] = {-far, -near, 0, near, far};
    double of[5] = {(322 - 13 * sqrt(70)) / 900, (322 + 13 * sqrt(70)) / 900, 128.0 / 225,
                    (322 + 13 * sqrt(70)) / 900, (322 - 13 * sqrt(70)) / 900};
    for (size_t i = 0; i < 5; i++) {
        node[i] = (1 + at[i]) / 2;
        weight[i] = of[i] / 2;
    }
}

/* One point of the outline, run counter-clockwise: integral over the area = sum of (f dy-primitive) dz. */
static void add_outline(quarter *q, double y, double z, double dz)
{
    q->area += y * dz;
    q->Sy += y * z * dz;
    q->Iy += y * z * z * dz;
    q->Sz += y * y / 2 * dz;
    q->Iz += cube(y) / 3 * dz;
}

static void add_line(quarter *q, double y0, double z0, double y1, double z1)
{
    double node[5], weight[5];
    gauss5(node, weight);
    for (size_t i = 0; i < 5; i++)
        add_outline(q, y0 + node[i] * (y1 - y0), z0 + node[i] * (z1 - z0), weight[i] * (z1 - z0));
}

/* Angles from the y axis; at most a right angle, in two halves: error below 1e-12. */
static void add_arc(quarter *q, double yc, double zc, double r, double from, double to)
{
    double node[5], weight[5], half = (to - from) / 2;
    gauss5(node, weight);
    for (int part = 0; part < 2; part++)
        for (size_t i = 0; i < 5; i++) {
            double angle = from + (part + node[i]) * half;
            add_outline(q, yc + r * cos(angle), zc + r * sin(angle), weight[i] * r * cos(angle) * half);
        }
}

static double taper_thickness(const bk_section *s, double y)
{
    double middle = s->slope > US_SLOPE ? s->b_m / 2 - (s->b_m - s->tw_m) / 4 : s->b_m / 4;
    return s->tf_m + s->slope * (middle - y);
}

/* Depth of the root fillet's centre below the outer face. */
static double fillet_depth(const bk_section *s)
{
    return taper_thickness(s, s->tw_m / 2 + s->r_m) + s->r_m * sqrt(1 + square(s->slope));
}

static quarter taper_quarter(const bk_section *s)
{
    quarter q = {0};
    double top = s->h_m / 2, edge = s->b_m / 2, web = s->tw_m / 2, tilt = atan(s->slope);
    double root_y = web + s->r_m, root_z = top - fillet_depth(s);
    double toe_y = edge - s->r2_m,
           toe_z = top - taper_thickness(s, toe_y) + s->r2_m * sqrt(1 + square(s->slope));
    add_line(&q, web, 0, web, root_z);
    add_arc(&q, root_y, root_z, s->r_m, PI, PI / 2 + tilt);
    add_line(&q, root_y - s->r_m * sin(tilt), root_z + s->r_m * cos(tilt), toe_y + s->r2_m * sin(tilt),
             toe_z - s->r2_m * cos(tilt));
    add_arc(&q, toe_y, toe_z, s->r2_m, tilt - PI / 2, 0);
    add_line(&q, edge, toe_z, edge, top);
    return q; /* the other edges have dz = 0 or y = 0 */
}

/* It: strips of linearly varying thickness, joint and ends after El Darwish and Johnston, Torsion of
 * structural shapes, Journal of the Structural Division, ASCE, 1965 (memory).
 * Iw: sectorial coordinate along the sloping centre lines of the flanges is w = y (h - t0) / 2 with t0 the
 * thickness extrapolated to the web's axis, so Iw = Iz (h - t0)2 / 4 (derived here). */
static void taper_torsion(bk_section *s)
{
    double tw = s->tw_m, r = s->r_m, slope = s->slope;
    double t1 = taper_thickness(s, s->b_m / 2), t2 = taper_thickness(s, tw / 2), depth = fillet_depth(s);
    double circle = (square(tw / 2 + r) + square(depth) - r * r) / (depth + r);
    double joint = -0.0836 + 0.2536 * tw / t2 + 0.1268 * r / t2 - 0.0806 * tw * r / square(t2) -
                   0.0858 * square(tw / t2);
    double end = 0.10504 - slope * (0.1 - slope * (0.0848 - slope * (0.06746 - slope * 0.05153)));
    s->It_m4 = (s->b_m - tw) / 6 * (t1 + t2) * (t1 * t1 + t2 * t2) + 2.0 / 3 * tw * cube(t2) +
               (s->h_m - 2 * t2) * cube(tw) / 3 + 2 * fmax(joint, 0) * square(circle * circle) -
               4 * end * square(t1 * t1);
    s->Iw_m6 = s->Iz_m4 * square(s->h_m - taper_thickness(s, 0)) / 4;
}

static void taper(bk_section *s)
{
    quarter q = taper_quarter(s);
    s->area_m2 = 4 * q.area;
    s->Iy_m4 = 4 * q.Iy;
    s->Iz_m4 = 4 * q.Iz;
    s->Wply_m3 = 4 * q.Sy;
    s->Wplz_m3 = 4 * q.Sz;
    taper_torsion(s);
}

/* ---- both -------------------------------------------------------------------------------------- */

static double or_zero(double value)
{
    return isnan(value) ? 0 : value;
}

static bk_status no_shape(char *why, size_t why_size, const char *text)
{
    if (why && why_size) snprintf(why, why_size, "%s", text);
    return BK_E_VALUE;
}

static bk_status read_dimensions(const bk_section_in *in, bk_section *s, char *why, size_t why_size)
{
    *s = (bk_section){.h_m = in->h_m, .b_m = in->b_m, .tw_m = in->tw_m, .tf_m = in->tf_m};
    s->r_m = or_zero(in->r_m);
    s->r2_m = or_zero(in->r2_m);
    s->slope = or_zero(in->slope);
    s->a_weld_m = or_zero(in->a_weld_m);
    s->welded = in->welded;
    s->taper = s->slope > 0;
    if (!(s->h_m > 0) || !isfinite(s->h_m))
        return no_shape(why, why_size, "depth h is missing or not above 0");
    if (!(s->b_m > 0) || !isfinite(s->b_m))
        return no_shape(why, why_size, "flange width b is missing or not above 0");
    if (!(s->tw_m > 0) || !(s->tw_m < s->b_m))
        return no_shape(why, why_size,
                        "web thickness tw is missing, not above 0, or not less than the flange width");
    if (!(s->tf_m > 0) || !(2 * s->tf_m < s->h_m))
        return no_shape(why, why_size, "flange thickness tf is missing, not above 0, or leaves no web");
    if (!(s->r_m >= 0) || !(s->r2_m >= 0) || !(s->a_weld_m >= 0) || !(s->slope >= 0) || !(s->slope <= 0.5))
        return no_shape(why, why_size,
                        "radii, weld throat and slope must not be negative, the slope at most 1:2");
    if (!(s->tw_m / 2 + s->r_m + s->r2_m <= s->b_m / 2) || !(fillet_depth(s) <= s->h_m / 2))
        return no_shape(why, why_size,
                        "radii do not fit between web and flange edge, or between the flanges");
    if (!(taper_thickness(s, s->b_m / 2 - s->r2_m) - s->r2_m * sqrt(1 + square(s->slope)) >= 0) ||
        !(taper_thickness(s, s->b_m / 2) > 0))
        return no_shape(why, why_size, "the flange tapers to nothing before its edge");
    return BK_OK;
}

static void derive(bk_section *s)
{
    double hw = s->h_m - 2 * s->tf_m;
    s->iy_m = sqrt(s->Iy_m4 / s->area_m2);
    s->iz_m = sqrt(s->Iz_m4 / s->area_m2);
    /* EN 1993-1-1, 6.2.6(3), eta 1 (memory) */
    double rolled = s->area_m2 - 2 * s->b_m * s->tf_m + (s->tw_m + 2 * s->r_m) * s->tf_m;
    s->Avz_m2 = s->welded ? hw * s->tw_m : fmax(rolled, hw * s->tw_m);
}

bk_status bk_section_computed(const bk_section_in *in, bk_section *out, char *why, size_t why_size)
{
    bk_status status = read_dimensions(in, out, why, why_size);
    if (status != BK_OK) return status;
    if (out->taper)
        taper(out);
    else
        parallel(out);
    out->Wely_m3 = out->Iy_m4 / (out->h_m / 2);
    out->Welz_m3 = out->Iz_m4 / (out->b_m / 2);
    out->mass_per_m_kg_m = STEEL_KG_M3 * out->area_m2;
    derive(out);
    return BK_OK;
}

/* The printed values are a table's own only where all are there and it read them in its source, or a user
 * stated them: a mixture of printed and computed figures would not be of one shape. */
static bool all_printed(const bk_section_in *in)
{
    const double values[] = {in->area_m2, in->Iy_m4,   in->Iz_m4,   in->It_m4,   in->Iw_m6,
                             in->Wely_m3, in->Wply_m3, in->Welz_m3, in->Wplz_m3, in->mass_per_m_kg_m};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (!(values[i] > 0) || !isfinite(values[i])) return false;
    return in->mark == BK_MARK_PUBLISHED || in->mark == BK_MARK_USER;
}

bk_status bk_section_of(const bk_section_in *in, bk_section *out, char *why, size_t why_size)
{
    bk_status status = bk_section_computed(in, out, why, why_size);
    if (status != BK_OK || !all_printed(in)) return status;
    out->area_m2 = in->area_m2;
    out->Iy_m4 = in->Iy_m4;
    out->Iz_m4 = in->Iz_m4;
    out->It_m4 = in->It_m4;
    out->Iw_m6 = in->Iw_m6;
    out->Wely_m3 = in->Wely_m3;
    out->Wply_m3 = in->Wply_m3;
    out->Welz_m3 = in->Welz_m3;
    out->Wplz_m3 = in->Wplz_m3;
    out->mass_per_m_kg_m = in->mass_per_m_kg_m;
    out->printed = true;
    derive(out);
    return BK_OK;
}

/* ---- steel ------------------------------------------------------------------------------------- */

/* A thickness on a step belongs to the thinner range ("up to and including 16 mm"). */
static double step_of(const bk_steel *steel, const double *strength, double t_m)
{
    if (!(t_m > 0)) return NAN;
    for (size_t i = 0; i < steel->n; i++)
        if (t_m <= steel->t_max_m[i] * (1 + 1e-9)) return strength[i];
    return NAN;
}

double bk_steel_fy(const bk_steel *steel, double t_m)
{
    return step_of(steel, steel->fy_Pa, t_m);
}

double bk_steel_fu(const bk_steel *steel, double t_m)
{
    return step_of(steel, steel->fu_Pa, t_m);
}
