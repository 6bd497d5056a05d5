/* flange: the bottom flange under a wheel, shared by both methods.
 *
 *      edge │<-n->│ wheel          n      edge to wheel centre line
 *           │     ▼     web        mu     2 n / (b - t_w), 0 at the edge, 1 at the web
 *      ═════╧═════╪══════╪═        m      lever arm of the yield line at the root
 *           2     1      0         places: 0 web-flange transition, 1 under the wheel, 2 edge
 *
 * Local elastic stress = coefficient(mu) F / t_1^2, coefficients constant + linear mu + factor e^(exponent
 * mu) from the table flange-coefficients (EN 1993-6, Table 5.2; the same numbers serve in crane practice of
 * the US). Plastic resistance by yield lines: m_p = f_y t_f^2 / 4, F = m_p l_eff / m; with B = m + n a fan at
 * a wheel far from any end has l_eff = 4 sqrt2 B (EN 1993-6, Table 6.2; every case was derived again by
 * minimising the work of the fan, and is tested against that).  Limits: an end stiffened by a closer plate is
 * not counted.
 */
#include "strength.h"

double bk_flange_thickness_at(bk_calc *c, const bk_section *s, double edge_m)
{
    bk_working *w = c->w;
    BK_TAKE(c, t_f, s->tf_m, LENGTH, "section");
    if (!s->taper) {
        BK_CALC(w, t_1, t_f, LENGTH, "parallel flange");
        return t_1;
    }
    BK_TAKE(c, slope, s->slope, NONE, "inner face of the taper flange");
    BK_TAKE(c, b, s->b_m, LENGTH, "section");
    BK_TAKE(c, n, edge_m, LENGTH, "flange edge to wheel centre line");
    BK_CALC(w, t_1, t_f - slope * (b / 4 - n), LENGTH,
            "thickness at the wheel; t_f stands at b/4 from the edge");
    return t_1;
}

static double coefficient(const bk_flange_curve *f, double mu)
{
    return f->constant + f->linear * mu + f->factor * exp(f->exponent * mu);
}

void bk_flange_coefficients(bk_calc *c, const bk_section *s, double mu, double out[BK_FLANGE_CURVES])
{
    static const char *const symbols[BK_FLANGE_CURVES] = {"c_x0", "c_x1", "c_x2", "c_y0", "c_y1"};
    const bk_flange_curve *curves = s->taper ? c->rules->taper : c->rules->parallel;
    for (size_t i = 0; i < BK_FLANGE_CURVES; i++) {
        bk_calc_mark(c, curves[i].mark);
        out[i] = bk_working_add(c->w, symbols[i], NULL, coefficient(&curves[i], mu), BK_DIM_NONE,
                                curves[i].source);
    }
}

/* m: wheel to yield line; B_f = m + n; x_w to the next wheel, INFINITY for one alone. */
static double far_from_ends(bk_working *w, double B_f, double x_w)
{
    if (isinf(x_w)) {
        BK_CALC(w, l_far, 4 * sqrt(2) * B_f, LENGTH, "EN 1993-6, Table 6.2, wheel by itself");
        return l_far;
    }
    BK_CALC(w, l_far, fmin(4 * sqrt(2) * B_f, 2 * sqrt(2) * B_f + 0.5 * x_w), LENGTH,
            "EN 1993-6, Table 6.2, wheels share the flange where that is less");
    return l_far;
}

static double near_an_end(bk_working *w, double m, double B_f, double x_w, double x_e)
{
    BK_CALC(w, l_fan, 2 * B_f * (x_e / m + sqrt(1 + pow(x_e / m, 2))), LENGTH,
            "EN 1993-6, Table 6.2, free end");
    if (isinf(x_w)) {
        BK_CALC(w, l_end, fmin(l_fan, 2 * sqrt(2) * B_f + x_e), LENGTH, "EN 1993-6, Table 6.2, free end");
        return l_end;
    }
    BK_CALC(w, l_end, fmin(fmin(l_fan, 2 * sqrt(2) * B_f + x_e), sqrt(2) * B_f + (x_w + x_e) / 2), LENGTH,
            "EN 1993-6, Table 6.2, free end");
    return l_end;
}

double bk_flange_effective_length(bk_calc *c, double lever_m, double edge_m, double next_m, double end_m)
{
    bk_working *w = c->w;
    bk_calc_mark(c, BK_MARK_MEMORY);
    BK_TAKE(c, m, lever_m, LENGTH, "wheel to yield line");
    BK_TAKE(c, n, edge_m, LENGTH, "flange edge to wheel centre line");
    BK_CALC(w, B_f, m + n, LENGTH, "edge to yield line");
    const double x_w = isfinite(next_m) ? bk_working_add(w, "x_w", NULL, next_m, BK_DIM_LENGTH,
                                                         "to the next wheel along the beam")
                                        : next_m;
    const double l_far = far_from_ends(w, B_f, x_w);
    if (isinf(end_m)) {
        BK_CALC(w, l_eff, l_far, LENGTH, "no free end near");
        return l_eff;
    }
    BK_TAKE(c, x_e, fmax(end_m, 0), LENGTH, "wheel to the free end of the beam");
    const double l_end = near_an_end(w, m, B_f, x_w, x_e);
    BK_CALC(w, l_eff, fmin(l_far, l_end), LENGTH, "the lesser");
    return l_eff;
}
