/* strength, US method: AISC 360 (allowable strength design) for a doubly symmetric I section, with the
 * wheel-load formulae of crane practice for the bottom flange.
 *
 * Forces carry no partial factor; every strength is divided by its Omega.  Impact and side thrust come with
 * the forces. Choices on the safe side:
 *   - C_b from the moments at the quarter points; 1 between holds closer than the span and for an overhang;
 *   - AISC has no load height: a load above the shear centre has C_b = 1 / 1.4^(2 z_g / h); a low load does
 * not count;
 *   - lateral load on the bottom flange: half of the section resists it (M_cy / 2);
 *   - bearing length at a support 0.
 *   - a strut whose web alone is slender has the effective area of E7.
 * Not covered, and then said instead of rated: slender flanges, webs that are noncompact in bending.
 */
#include "strength.h"

static const double pi = BK_PI;

static void marks_of(bk_calc *c, const bk_member *m)
{
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
}

static double web_slenderness(const bk_section *s)
{
    return (s->h_m - 2 * (s->tf_m + s->r_m)) / s->tw_m;
}

/* k_c of Table B4.1, by which a slender web weakens the flange of a welded section; recorded. */
static double web_support(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    bk_calc_mark(c, BK_MARK_MEMORY);
    BK_TAKE(c, h_t, web_slenderness(m->section), NONE, "h / t_w");
    BK_CALC(w, k_c, fmin(0.76, fmax(0.35, 4 / sqrt(h_t))), NONE, "AISC 360, Table B4.1, welded section");
    return k_c;
}

/* Slenderness of a flange that is slender in bending; recorded as lambda_rf. */
static double slender_flange(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const double E = c->rules->E->value, F_y = m->fy_Pa;
    if (!m->section->welded) {
        BK_CALC(w, lambda_rf, 1.0 * sqrt(E / F_y), NONE, "AISC 360, Table B4.1b");
        return lambda_rf;
    }
    const double k_c = web_support(c, m);
    BK_CALC(w, lambda_rf, 0.95 * sqrt(k_c * E / (0.7 * F_y)), NONE, "AISC 360, Table B4.1b, welded section");
    return lambda_rf;
}

static const char slender[] = "slender flange or noncompact web: not covered";
static const char f_source[] = "AISC 360, F2 and F3";

/* ---- bending about the strong axis --------------------------------------------------------------- */

/* M_n of yielding and flange local buckling; NaN where flange or web are beyond F2 and F3. */
static double local_moment(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    marks_of(c, m);
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, F_y, m->fy_Pa, STRESS, m->steel_from);
    BK_TAKE(c, Z_x, s->Wply_m3, VOLUME, m->section_from);
    BK_TAKE(c, S_x, s->Wely_m3, VOLUME, m->section_from);
    BK_TAKE(c, b_t, s->b_m / (2 * s->tf_m), NONE, "b_f / (2 t_f)");
    BK_TAKE(c, h_t, web_slenderness(s), NONE, "h / t_w");
    BK_CALC(w, lambda_pf, 0.38 * sqrt(E / F_y), NONE, "AISC 360, Table B4.1b");
    const double lambda_rf = slender_flange(c, m);
    BK_TAKE(c, F_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_CALC(w, lambda_pw, 3.76 * sqrt(E / F_yw), NONE, "AISC 360, Table B4.1b");
    if (b_t > lambda_rf || h_t > lambda_pw) return NAN;
    BK_CALC(w, M_p, F_y * Z_x, MOMENT, "AISC 360, F2.1");
    if (b_t <= lambda_pf) {
        BK_CALC(w, M_local, M_p, MOMENT, "compact flange");
        return M_local;
    }
    bk_calc_mark(c, BK_MARK_MEMORY);
    BK_CALC(w, M_local, M_p - (M_p - 0.7 * F_y * S_x) * (b_t - lambda_pf) / (lambda_rf - lambda_pf), MOMENT,
            "AISC 360, F3.2");
    return M_local;
}

static bk_rating bending(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const double M_y = bk_design_moment(c, m);
    BK_RULE(c, Omega_b, NONE);
    const double M = local_moment(c, m);
    if (isnan(M)) return bk_rating_not_covered(c, BK_DIM_MOMENT, M_y, f_source, slender);
    BK_TAKE(c, M_n, M, MOMENT, "yielding, flange local buckling");
    BK_CALC(w, M_c, M_n / Omega_b, MOMENT, "AISC 360, F1");
    return (bk_rating){M_y, M_c, BK_DIM_MOMENT, f_source, NULL, c->mark};
}

/* C_b, recorded. */
static double moment_shape(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const double up = m->load_height_m;
    if (up > 0) {
        bk_calc_mark(c, BK_MARK_MEMORY);
        BK_TAKE(c, z_g, up, LENGTH, "load above the shear centre");
        BK_TAKE(c, d, m->section->h_m, LENGTH, m->section_from);
        BK_CALC(w, C_b, 1 / pow(1.4, 2 * z_g / d), NONE, "load above the shear centre, uniform moment");
        return C_b;
    }
    if (m->hold == BK_HOLD_UNIFORM || m->hold == BK_HOLD_OVERHANG) {
        BK_TAKE(c, C_b, 1, NONE,
                m->hold == BK_HOLD_OVERHANG ? "AISC 360, F1, free end"
                                            : "moment taken as uniform between the holds");
        return C_b;
    }
    BK_TAKE(c, M_max, m->M_max_Nm, MOMENT, "greatest of the span in this position");
    BK_TAKE(c, M_A, m->M_quarter_Nm[0], MOMENT, "at a quarter of the span");
    BK_TAKE(c, M_B, m->M_quarter_Nm[1], MOMENT, "at midspan");
    BK_TAKE(c, M_C, m->M_quarter_Nm[2], MOMENT, "at three quarters");
    BK_CALC(w, C_b, 12.5 * M_max / (2.5 * M_max + 3 * M_A + 4 * M_B + 3 * M_C), NONE, "AISC 360, F1 (F1-1)");
    return C_b;
}

/* M_n of F2 and F3; NaN where they do not apply. */
static double nominal_moment(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double M_local = local_moment(c, m);
    if (isnan(M_local)) return NAN;
    const double E = c->rules->E->value, F_y = m->fy_Pa, M_p = m->fy_Pa * s->Wply_m3, S_x = s->Wely_m3;
    const double C_b = moment_shape(c, m);
    BK_TAKE(c, L_b, fmin(m->hold_m, m->span_m), LENGTH,
            m->hold == BK_HOLD_OVERHANG ? "overhang" : "between lateral holds");
    BK_TAKE(c, r_y, s->iz_m, LENGTH, m->section_from);
    BK_TAKE(c, I_y, s->Iz_m4, INERTIA, m->section_from);
    BK_TAKE(c, J, s->It_m4, INERTIA, m->section_from);
    BK_TAKE(c, C_w, s->Iw_m6, WARPING, m->section_from);
    BK_TAKE(c, h_o, s->h_m - s->tf_m, LENGTH, "between flange centroids");
    BK_CALC(w, L_p, 1.76 * r_y * sqrt(E / F_y), LENGTH, "AISC 360, F2.2 (F2-5)");
    BK_CALC(w, r_ts, sqrt(sqrt(I_y * C_w) / S_x), LENGTH, "AISC 360, F2.2 (F2-7)");
    BK_CALC(w, L_r,
            1.95 * r_ts * E / (0.7 * F_y) *
                sqrt(J / (S_x * h_o) + sqrt(pow(J / (S_x * h_o), 2) + 6.76 * pow(0.7 * F_y / E, 2))),
            LENGTH, "AISC 360, F2.2 (F2-6)");
    if (L_b <= L_p) {
        BK_CALC(w, M_n, fmin(M_local, C_b * M_p), MOMENT, "AISC 360, F2.1");
        return M_n;
    }
    if (L_b <= L_r) {
        BK_CALC(w, M_n, fmin(M_local, C_b * (M_p - (M_p - 0.7 * F_y * S_x) * (L_b - L_p) / (L_r - L_p))),
                MOMENT, "AISC 360, F2.2 (F2-2)");
        return M_n;
    }
    BK_CALC(w, F_cr,
            C_b * pow(pi, 2) * E / pow(L_b / r_ts, 2) *
                sqrt(1 + 0.078 * J / (S_x * h_o) * pow(L_b / r_ts, 2)),
            STRESS, "AISC 360, F2.2 (F2-4)");
    BK_CALC(w, M_n, fmin(M_local, F_cr * S_x), MOMENT, "AISC 360, F2.2 (F2-3)");
    return M_n;
}

static bk_rating ltb(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const double M_y = bk_design_moment(c, m);
    BK_RULE(c, Omega_b, NONE);
    const double M_n = nominal_moment(c, m);
    if (isnan(M_n)) return bk_rating_not_covered(c, BK_DIM_MOMENT, M_y, f_source, slender);
    BK_CALC(w, M_c, M_n / Omega_b, MOMENT, "AISC 360, F1");
    return (bk_rating){M_y, M_c, BK_DIM_MOMENT, f_source, NULL, c->mark};
}

static bk_rating shear(bk_calc *c, const bk_member *m)
{
    static const char source[] = "AISC 360, G2";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    marks_of(c, m);
    const double V_z = bk_design_shear(c, m);
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, F_y, m->fyw_Pa, STRESS, m->steel_from);
    BK_TAKE(c, d, s->h_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, h_t, web_slenderness(s), NONE, "h / t_w");
    BK_CALC(w, A_w, d * t_w, AREA, "AISC 360, G2.1");
    if (!s->welded && h_t <= 2.24 * sqrt(E / F_y)) {
        BK_RULE(c, Omega_v, NONE);
        BK_CALC(w, V_c, 0.6 * F_y * A_w / Omega_v, FORCE, "AISC 360, G2.1(a), C_v1 = 1");
        return (bk_rating){V_z, V_c, BK_DIM_FORCE, source, NULL, c->mark};
    }
    BK_RULE(c, Omega_v_slender, NONE);
    BK_CALC(w, C_v1, fmin(1, 1.10 * sqrt(5.34 * E / F_y) / h_t), NONE, "AISC 360, G2.1(b), k_v = 5.34");
    BK_CALC(w, V_c, 0.6 * F_y * A_w * C_v1 / Omega_v_slender, FORCE, "AISC 360, G2.1(b)");
    return (bk_rating){V_z, V_c, BK_DIM_FORCE, source, NULL, c->mark};
}

/* M_n about the weak axis; flanges are compact or noncompact here (F6). */
static double weak_moment(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    const double F_y = m->fy_Pa, E = c->rules->E->value;
    BK_TAKE(c, Z_y, s->Wplz_m3, VOLUME, m->section_from);
    BK_TAKE(c, S_y, s->Welz_m3, VOLUME, m->section_from);
    BK_CALC(w, M_py, fmin(F_y * Z_y, 1.6 * F_y * S_y), MOMENT, "AISC 360, F6.1");
    const double b_t = s->b_m / (2 * s->tf_m), lambda_pf = 0.38 * sqrt(E / F_y), lambda_rf = sqrt(E / F_y);
    if (b_t <= lambda_pf) return M_py;
    BK_CALC(w, M_ny, M_py - (M_py - 0.7 * F_y * S_y) * (b_t - lambda_pf) / (lambda_rf - lambda_pf), MOMENT,
            "AISC 360, F6.2");
    return M_ny;
}

static bk_rating interaction(bk_calc *c, const bk_member *m)
{
    static const char source[] = "AISC 360, H1-1b";
    bk_working *w = c->w;
    const double M_y = bk_design_moment(c, m);
    BK_RULE(c, Omega_b, NONE);
    const double M_n = nominal_moment(c, m);
    if (isnan(M_n)) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, slender);
    const double H = bk_design_lateral(c, m);
    const bool overhang = m->hold == BK_HOLD_OVERHANG;
    BK_TAKE(c, L_z, fmin(m->span_m, m->hold_m), LENGTH, overhang ? "overhang" : "between lateral holds");
    BK_TAKE(c, share, overhang ? 1 : 0.25, NONE, overhang ? "H at the tip" : "H at midspan");
    BK_CALC(w, M_z, share * H * L_z, MOMENT, "side thrust on the bottom flange");
    const double M_n_weak = weak_moment(c, m);
    BK_TAKE(c, M_nz, M_n_weak, MOMENT, "AISC 360, F6");
    BK_CALC(w, M_cx, M_n / Omega_b, MOMENT, "AISC 360, F1");
    BK_CALC(w, M_cz, M_nz / Omega_b / 2, MOMENT, "half of the section: the bottom flange");
    BK_CALC(w, utilisation, M_y / M_cx + M_z / M_cz, NONE, "AISC 360, H1-1b");
    return (bk_rating){utilisation, 1, BK_DIM_NONE, source, NULL, c->mark};
}

/* ---- bottom flange under the wheels -------------------------------------------------------------- */

static bk_rating flange_stress(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    static const char source[] = "wheel loads on a bottom flange, crane practice (CMAA 74, 3.3.2.6)";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    marks_of(c, m);
    BK_RULE(c, local_share, NONE);
    BK_RULE(c, flange_stress_share, NONE);
    BK_TAKE(c, F_y, m->fy_Pa, STRESS, m->steel_from);
    BK_TAKE(c, P_w, wheel->force_N, FORCE, "one wheel, impact in");
    BK_TAKE(c, M, wheel->M_Nm, MOMENT, "greatest moment of the span");
    BK_TAKE(c, S_x, s->Wely_m3, VOLUME, m->section_from);
    BK_TAKE(c, n, wheel->edge_m, LENGTH, "flange edge to wheel contact point");
    BK_TAKE(c, b, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_CALC(w, lambda, 2 * n / (b - t_w), NONE, source);
    const double t_1 = bk_flange_thickness_at(c, s, wheel->edge_m);
    double coefficient[BK_FLANGE_CURVES];
    bk_flange_coefficients(c, s, lambda, coefficient);
    const double c_x0 = coefficient[BK_CX0], c_x1 = coefficient[BK_CX1];
    const double c_y0 = coefficient[BK_CY0], c_y1 = coefficient[BK_CY1];
    BK_TAKE(c, wheels, wheel->superposed, NONE, "wheels whose local stress is counted in full");
    BK_CALC(w, f_b, M / S_x, STRESS, "global bending");
    BK_CALC(w, f_w, local_share * wheels * P_w / pow(t_1, 2), STRESS, "local share times P_w / t^2");
    BK_CALC(w, f_0, sqrt(pow(f_b + c_x0 * f_w, 2) + pow(c_y0 * f_w, 2) - (f_b + c_x0 * f_w) * c_y0 * f_w),
            STRESS, "equivalent, at the web, underside");
    BK_CALC(w, f_1, sqrt(pow(f_b + c_x1 * f_w, 2) + pow(c_y1 * f_w, 2) - (f_b + c_x1 * f_w) * c_y1 * f_w),
            STRESS, "equivalent, under the wheel, underside");
    BK_CALC(w, f_2, sqrt(pow(f_b - c_x0 * f_w, 2) + pow(c_y0 * f_w, 2) + (f_b - c_x0 * f_w) * c_y0 * f_w),
            STRESS, "equivalent, at the web, upper side");
    BK_CALC(w, f_3, sqrt(pow(f_b - c_x1 * f_w, 2) + pow(c_y1 * f_w, 2) + (f_b - c_x1 * f_w) * c_y1 * f_w),
            STRESS, "equivalent, under the wheel, upper side");
    BK_CALC(w, f_most, fmax(fmax(f_0, f_1), fmax(f_2, f_3)), STRESS, "the greatest");
    BK_CALC(w, f_allow, flange_stress_share * F_y, STRESS, "allowable stress");
    return (bk_rating){f_most, f_allow, BK_DIM_STRESS, source, NULL, c->mark};
}

/* AISC 360, J10.1 for the pair of wheels, and the yield-line check of one wheel: the one that is used more.
 */
static bk_rating flange_resistance(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    marks_of(c, m);
    BK_TAKE(c, F_k, wheel->force_N, FORCE, "one wheel, impact in");
    const double gamma = bk_design_factor(c, m);
    BK_RULE(c, Omega_flange, NONE);
    BK_RULE(c, flange_bending_share, NONE);
    BK_TAKE(c, F_y, m->fy_Pa, STRESS, m->steel_from);
    const double t_1 = bk_flange_thickness_at(c, s, wheel->edge_m);
    BK_TAKE(c, end, wheel->end_m < 10 * s->tf_m ? 0.5 : 1, NONE, "half within 10 t_f of the beam's end");
    BK_CALC(w, P_w, gamma * F_k, FORCE, "design value");
    BK_CALC(w, pair, 2 * P_w / (end * 6.25 * F_y * pow(t_1, 2) / Omega_flange), NONE,
            "AISC 360, J10.1, both wheels");
    BK_CALC(w, f_b, 3 * P_w / (end * pow(t_1, 2)), STRESS,
            "bending of the flange over 2 e, AISC Steel Interchange 12/1999");
    BK_CALC(w, f_allow, flange_bending_share * F_y, STRESS, "AISC Steel Interchange 12/1999");
    if (pair > f_b / f_allow) {
        bk_calc_mark(c, BK_MARK_MEMORY);
        BK_CALC(w, R_c, end * 6.25 * F_y * pow(t_1, 2) / Omega_flange, FORCE, "AISC 360, J10.1");
        return (bk_rating){2 * P_w, R_c, BK_DIM_FORCE, "AISC 360, J10.1", NULL, c->mark};
    }
    return (bk_rating){f_b, f_allow, BK_DIM_STRESS, "AISC Steel Interchange 12/1999", NULL, c->mark};
}

static bk_rating web_tension(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    static const char source[] = "web in tension above a wheel pair, AISC Steel Interchange 12/1999";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    marks_of(c, m);
    BK_TAKE(c, F_k, wheel->force_N, FORCE, "one wheel, impact in");
    const double gamma = bk_design_factor(c, m);
    BK_RULE(c, Omega_yielding, NONE);
    BK_TAKE(c, k, s->tf_m + s->r_m, LENGTH, "face of the flange to the toe of the root");
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, F_y, m->fyw_Pa, STRESS, m->steel_from);
    BK_CALC(w, P_pair, gamma * 2 * F_k, FORCE, "both wheels");
    BK_CALC(w, R_c, 3.5 * k * t_w * F_y / Omega_yielding, FORCE, "30 degree spread over 3.5 k");
    return (bk_rating){P_pair, R_c, BK_DIM_FORCE, source, NULL, c->mark};
}

/* ---- web at a support ---------------------------------------------------------------------------- */

static bk_rating web(bk_calc *c, const bk_member *m, const bk_bearing *bearing)
{
    static const char source[] = "AISC 360, J10.2 and J10.3";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    marks_of(c, m);
    BK_TAKE(c, R_k, bearing->force_N, FORCE, "greatest reaction");
    const double gamma = bk_design_factor(c, m);
    BK_CALC(w, R, gamma * R_k, FORCE, "design value");
    BK_RULE(c, Omega_yielding, NONE);
    BK_RULE(c, Omega_crippling, NONE);
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, F_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_TAKE(c, k, s->tf_m + (s->welded ? s->a_weld_m : s->r_m), LENGTH,
            "face of the flange to the toe of the root");
    BK_TAKE(c, widths, bearing->end_m > s->h_m ? 5 : 2.5, NONE,
            "AISC 360, J10.2: 5 k, or 2.5 k within d of the end");
    BK_TAKE(c, place, bearing->end_m >= s->h_m / 2 ? 0.8 : 0.4, NONE,
            "AISC 360, J10.3: 0.8, or 0.4 within d/2 of the end");
    BK_CALC(w, R_yielding, F_yw * t_w * widths * k / Omega_yielding, FORCE,
            "AISC 360, J10.2, bearing length 0");
    BK_CALC(w, R_crippling, place * pow(t_w, 2) * sqrt(E * F_yw * t_f / t_w) / Omega_crippling, FORCE,
            "AISC 360, J10.3, bearing length 0");
    BK_CALC(w, R_c, fmin(R_yielding, R_crippling), FORCE, "the lesser");
    return (bk_rating){R, R_c, BK_DIM_FORCE, source, NULL, c->mark};
}

/* ---- struts ------------------------------------------------------------------------------------- */

typedef struct strut {
    double P_r, P_c;
    bool slender; /* its flange */
} strut;

/* F_cr of E3 and E4, held against twist at its ends. */
static double buckling_stress(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double F_y = m->fy_Pa;
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, L_x, m->buckling_y_m, LENGTH, "buckling length about the strong axis");
    BK_TAKE(c, L_y, m->buckling_z_m, LENGTH, "buckling length about the weak axis");
    BK_TAKE(c, r_x, s->iy_m, LENGTH, m->section_from);
    BK_TAKE(c, r_y, s->iz_m, LENGTH, m->section_from);
    BK_TAKE(c, L_T, m->hold_m, LENGTH, "between holds against twist");
    BK_TAKE(c, I_p, s->Iy_m4 + s->Iz_m4, INERTIA, m->section_from);
    BK_TAKE(c, C_w, s->Iw_m6, WARPING, m->section_from);
    BK_TAKE(c, J, s->It_m4, INERTIA, m->section_from);
    BK_RULE(c, G, STRESS);
    BK_CALC(w, slenderness, fmax(L_x / r_x, L_y / r_y), NONE, "AISC 360, E2");
    BK_CALC(w, F_e_flexure, pow(pi, 2) * E / pow(slenderness, 2), STRESS, "AISC 360, E3 (E3-4)");
    BK_CALC(w, F_e_twist, (pow(pi, 2) * E * C_w / pow(L_T, 2) + G * J) / I_p, STRESS, "AISC 360, E4 (E4-2)");
    BK_CALC(w, F_e, fmin(F_e_flexure, F_e_twist), STRESS, "AISC 360, E3 and E4, the lesser");
    if (F_y / F_e <= 2.25) {
        BK_CALC(w, F_cr, pow(0.658, F_y / F_e) * F_y, STRESS, "AISC 360, E3 (E3-2)");
        return F_cr;
    }
    BK_CALC(w, F_cr, 0.877 * F_e, STRESS, "AISC 360, E3 (E3-3)");
    return F_cr;
}

/* Area that carries compression, less where the web is slender (E7). */
static double effective_area(bk_calc *c, const bk_member *m, double F_cr)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double F_y = m->fy_Pa, E = c->rules->E->value;
    BK_TAKE(c, A_g, s->area_m2, AREA, m->section_from);
    BK_TAKE(c, h_t, web_slenderness(s), NONE, "h / t_w");
    BK_CALC(w, lambda_r, 1.49 * sqrt(E / F_y), NONE, "AISC 360, Table B4.1a");
    if (h_t <= lambda_r * sqrt(F_y / F_cr)) {
        BK_CALC(w, A_e, A_g, AREA, "AISC 360, E7.1 (E7-2)");
        return A_e;
    }
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_CALC(w, F_el, pow(1.31 * lambda_r / h_t, 2) * F_y, STRESS, "AISC 360, E7.1 (E7-5)");
    BK_CALC(w, h_e, h_t * t_w * (1 - 0.18 * sqrt(F_el / F_cr)) * sqrt(F_el / F_cr), LENGTH,
            "AISC 360, E7.1 (E7-3)");
    BK_CALC(w, A_e, A_g - (h_t * t_w - h_e) * t_w, AREA, "AISC 360, E7");
    return A_e;
}

static strut strut_of(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    marks_of(c, m);
    BK_TAKE(c, P, m->N_N, FORCE, "axial force in the solved rig, compression positive");
    const double gamma = bk_design_factor(c, m);
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, F_y, m->fy_Pa, STRESS, m->steel_from);
    BK_CALC(w, P_r, gamma * fabs(P), FORCE, "design value");
    if (m->N_N <= 0) {
        BK_RULE(c, Omega_t, NONE);
        BK_TAKE(c, A_g, s->area_m2, AREA, m->section_from);
        BK_CALC(w, P_c, F_y * A_g / Omega_t, FORCE, "AISC 360, D2(a)");
        return (strut){P_r, P_c, false};
    }
    BK_RULE(c, Omega_c, NONE);
    const double F_cr = buckling_stress(c, m), A_e = effective_area(c, m, F_cr);
    BK_CALC(w, P_c, F_cr * A_e / Omega_c, FORCE, "AISC 360, E1");
    const double most = s->welded ? 0.64 * sqrt(web_support(c, m) * E / F_y) : 0.56 * sqrt(E / F_y); /* Table B4.1a */
    return (strut){P_r, P_c, s->b_m / (2 * s->tf_m) > most};
}

static const char slender_strut[] = "slender flange in compression: not covered";

static bk_rating buckling(bk_calc *c, const bk_member *m)
{
    const char *source = m->N_N > 0 ? "AISC 360, E3 and E4" : "AISC 360, D2";
    const strut s = strut_of(c, m);
    if (s.slender) return bk_rating_not_covered(c, BK_DIM_FORCE, s.P_r, source, slender_strut);
    return (bk_rating){s.P_r, s.P_c, BK_DIM_FORCE, source, NULL, c->mark};
}

/* Growth of the moments in a strut, C_m = 1, with the lesser Euler load for both axes; recorded as B_1. */
static double growth(bk_calc *c, const bk_member *m, double P_r)
{
    bk_working *w = c->w;
    if (m->N_N <= 0) {
        BK_TAKE(c, B_1, 1, NONE, "no compression");
        return B_1;
    }
    const double E = c->rules->E->value;
    BK_TAKE(c, I_x, m->section->Iy_m4, INERTIA, m->section_from);
    BK_TAKE(c, I_y, m->section->Iz_m4, INERTIA, m->section_from);
    BK_TAKE(c, L_x, m->buckling_y_m, LENGTH, "buckling length about the strong axis");
    BK_TAKE(c, L_y, m->buckling_z_m, LENGTH, "buckling length about the weak axis");
    BK_CALC(w, P_e, pow(pi, 2) * E * fmin(I_x / pow(L_x, 2), I_y / pow(L_y, 2)), FORCE, "AISC 360, Appendix 8 (A-8-5)");
    BK_CALC(w, B_1, 1 / (1 - fmin(0.99, 1.6 * P_r / P_e)), NONE, "AISC 360, Appendix 8 (A-8-3), C_m = 1");
    return B_1;
}

static bk_rating strut_interaction(bk_calc *c, const bk_member *m)
{
    static const char source[] = "AISC 360, H1-1";
    bk_working *w = c->w;
    const strut s = strut_of(c, m);
    if (s.slender) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, slender_strut);
    const double M_y = bk_design_moment(c, m), P_r = s.P_r, P_c = s.P_c;
    BK_RULE(c, Omega_b, NONE);
    const double M_n = nominal_moment(c, m);
    if (isnan(M_n)) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, slender);
    const double gamma = bk_design_factor(c, m), M_n_weak = weak_moment(c, m);
    BK_TAKE(c, M_z_k, m->M_z_Nm, MOMENT, "moment about the weak axis in the solved rig, static");
    BK_CALC(w, M_z, gamma * fabs(M_z_k), MOMENT, "design value");
    BK_CALC(w, M_cx, M_n / Omega_b, MOMENT, "AISC 360, F1");
    BK_CALC(w, M_cz, M_n_weak / Omega_b, MOMENT, "AISC 360, F6");
    const double B_1 = growth(c, m, P_r);
    if (P_r / P_c >= 0.2) {
        BK_CALC(w, utilisation, P_r / P_c + 8.0 / 9 * B_1 * (M_y / M_cx + M_z / M_cz), NONE,
                "AISC 360, H1 (H1-1a)");
        return (bk_rating){utilisation, 1, BK_DIM_NONE, source, NULL, c->mark};
    }
    BK_CALC(w, utilisation, P_r / (2 * P_c) + B_1 * (M_y / M_cx + M_z / M_cz), NONE, "AISC 360, H1 (H1-1b)");
    return (bk_rating){utilisation, 1, BK_DIM_NONE, source, NULL, c->mark};
}

const bk_strength_method bk_strength_us = {
    .name = "AISC 360",
    .bending = bending,
    .shear = shear,
    .ltb = ltb,
    .interaction = interaction,
    .buckling = buckling,
    .strut_interaction = strut_interaction,
    .flange_stress = flange_stress,
    .flange_resistance = flange_resistance,
    .web_tension = web_tension,
    .web = web,
};
