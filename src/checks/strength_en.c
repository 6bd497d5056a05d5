/* strength, European method: EN 1993-1-1, EN 1993-1-5 and EN 1993-6 for a doubly symmetric I section.
 *
 * Choices where the standard leaves one, all on the safe side:
 *   - lateral-torsional buckling takes the lesser of the general case (6.3.2.2) and of rolled sections
 * (6.3.2.3);
 *   - the elastic critical moment is that of the three-factor formula (NCCI SN003), k = k_w = 1.  Its C2 for
 * a load below the shear centre is 0.553, not 0.630: own eigenvalues show 0.630 to overestimate by up to 5 %;
 *   - one span: C1 by the distance between the outermost wheels, blended with that of the uniform load in the
 *     share each has in the moment, 1/C1 = sum(share/C1): a lower bound (Dunkerley);
 *   - end moments: the lesser of two formulae with the moments at the quarter points; a low load does not
 * count;
 *   - holds closer than the span, beams in a rig: uniform moment, C1 = 1;
 *   - overhang c, held at the support only: a span of 2 c, C1 = 1, C2 = 1 for a load above the shear centre,
 * 0 below; eigenvalues of the whole beam lie above it;
 *   - interaction with lateral load and torsion: the greater of EN 1993-6, Annex A, and of the bottom flange
 * taken by itself for the lateral load;
 *   - compression with bending: 6.3.3 with the interaction factors of Annex B at their upper bounds, C_m = 1.
 *   - a strut whose web alone is class 4 has the effective area of EN 1993-1-5, 4.4.
 * Not covered, and then said instead of rated: class 4 otherwise, webs that need a shear buckling check, a
 * wheel on the root.
 */
#include "strength.h"

static const double pi = BK_PI;

/* ---- the section -------------------------------------------------------------------------------- */

/* EN 1993-1-1, Table 5.2, in bending about the strong axis; with `flange_only` the web is left to the caller.
 * Compression beside the bending lowers what is plastic to class 3, no further: class 4 under it has its effective area
 * and, in bending alone, its whole modulus (6.3.3).  Slendernesses are recorded as outstand and web. */
static int section_class(bk_calc *c, const bk_member *m, bool flange_only)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_TAKE(c, f_235, 235e6, STRESS, "reference yield strength");
    BK_TAKE(c, f_y, m->fy_Pa, STRESS, m->steel_from);
    BK_CALC(w, epsilon, sqrt(f_235 / f_y), NONE, "EN 1993-1-1, Table 5.2");
    BK_TAKE(c, b, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, h, s->h_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_TAKE(c, r, s->welded ? sqrt(2.0) * s->a_weld_m : s->r_m, LENGTH, m->section_from);
    BK_CALC(w, outstand, ((b - t_w) / 2 - r) / t_f, NONE, "c/t of the flange");
    BK_CALC(w, web, (h - 2 * t_f - 2 * r) / t_w, NONE, "c/t of the web");
    BK_TAKE(c, f_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_CALC(w, epsilon_w, sqrt(f_235 / f_yw), NONE, "EN 1993-1-1, Table 5.2, of the web");
    double web_limit[3] = {72, 83, 124};
    static const double flange_limit[3] = {9, 10, 14};
    if (!flange_only && m->N_N > 0) {
        const double gamma = bk_design_factor(c, m);
        BK_TAKE(c, N_k, m->N_N, FORCE, "axial force in the solved rig, compression positive");
        BK_CALC(w, alpha_w, fmin(1, 0.5 * (1 + gamma * N_k / (web * pow(t_w, 2) * f_yw))), NONE,
                "share of the web in compression, EN 1993-1-1, Table 5.2");
        web_limit[0] = 396 / (13 * alpha_w - 1);
        web_limit[1] = 456 / (13 * alpha_w - 1);
    }
    int class = 1;
    while (class < 4 && (outstand > flange_limit[class - 1] * epsilon ||
                         (!flange_only && web > web_limit[class - 1] * epsilon_w)))
        class ++;
    (void)bk_working_add(w, "class", NULL, class, BK_DIM_NONE,
                         flange_only ? "EN 1993-1-1, Table 5.2, of the flange"
                                     : "EN 1993-1-1, Table 5.2, in bending");
    return class;
}

static const char class_4[] = "class 4 section: effective widths are not covered";

static double modulus_y(bk_calc *c, const bk_member *m, int class)
{
    BK_TAKE(c, W_y, class <= 2 ? m->section->Wply_m3 : m->section->Wely_m3, VOLUME, m->section_from);
    return W_y;
}

static double modulus_z(bk_calc *c, const bk_member *m, int class)
{
    BK_TAKE(c, W_z, class <= 2 ? m->section->Wplz_m3 : m->section->Welz_m3, VOLUME, m->section_from);
    return W_z;
}

/* V_pl,Rd; NaN where the web needs a shear buckling check. */
static double shear_resistance(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_RULE(c, eta, NONE);
    BK_RULE(c, gamma_M0, NONE);
    BK_TAKE(c, f_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_TAKE(c, A_v, s->Avz_m2, AREA, m->section_from);
    if ((s->h_m - 2 * s->tf_m) / s->tw_m > 72 * sqrt(235e6 / f_yw) / eta) return NAN;
    BK_CALC(w, V_pl_Rd, A_v * (f_yw / sqrt(3)) / gamma_M0, FORCE, "EN 1993-1-1, 6.2.6 (6.18)");
    return V_pl_Rd;
}

/* M_c,Rd, reduced where the shear of the span is high (6.2.8). */
static double bending_resistance(bk_calc *c, const bk_member *m, int class)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double W_y = modulus_y(c, m, class);
    const double f_y = m->fy_Pa;
    BK_RULE(c, gamma_M0, NONE);
    BK_CALC(w, M_c_Rd, W_y * f_y / gamma_M0, MOMENT, "EN 1993-1-1, 6.2.5");
    bk_calc quiet = *c;
    quiet.w = NULL;
    const double V_Rd = shear_resistance(&quiet, m), V_Ed = bk_design_shear(&quiet, m);
    if (!(V_Ed > 0.5 * V_Rd)) return M_c_Rd;
    BK_TAKE(c, V_z, V_Ed, FORCE, "design shear of the same span");
    BK_TAKE(c, V_pl_Rd, V_Rd, FORCE, "EN 1993-1-1, 6.2.6");
    BK_TAKE(c, A_w, (s->h_m - 2 * s->tf_m) * s->tw_m, AREA, "web between the flanges");
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_CALC(w, rho, fmin(1, pow(2 * V_z / V_pl_Rd - 1, 2)), NONE, "EN 1993-1-1, 6.2.8");
    BK_CALC(w, M_V_Rd, fmin(M_c_Rd, (W_y - rho * A_w * A_w / (4 * t_w)) * f_y / gamma_M0), MOMENT,
            "EN 1993-1-1, 6.2.8 (6.30)");
    return M_V_Rd;
}

static bk_rating bending(bk_calc *c, const bk_member *m)
{
    static const char source[] = "EN 1993-1-1, 6.2.5 and 6.2.8";
    const double M_y = bk_design_moment(c, m);
    const int class = section_class(c, m, false);
    if (class > 3) return bk_rating_not_covered(c, BK_DIM_MOMENT, M_y, source, class_4);
    const double M_Rd = bending_resistance(c, m, class);
    return (bk_rating){M_y, M_Rd, BK_DIM_MOMENT, source, NULL, c->mark};
}

static bk_rating shear(bk_calc *c, const bk_member *m)
{
    static const char source[] = "EN 1993-1-1, 6.2.6";
    const double V_z = bk_design_shear(c, m);
    const double V_Rd = shear_resistance(c, m);
    if (isnan(V_Rd))
        return bk_rating_not_covered(c, BK_DIM_FORCE, V_z, source,
                                     "slender web: its shear buckling check is not covered");
    return (bk_rating){V_z, V_Rd, BK_DIM_FORCE, source, NULL, c->mark};
}

/* ---- lateral-torsional buckling ------------------------------------------------------------------ */

/* One span held at its ends only, no end moments. */
static double C1_of_loads(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const double all = m->M_G_Nm + m->M_Q_Nm, part = fmin(1, fmax(0, m->M_G_Nm / all)); /* fmax passes NaN over */
    const double by_spread = bk_bands_factor(c->rules->C1_spread, m->spread_m / m->span_m);
    bk_calc_mark(c, c->rules->C1_spread->mark);
    BK_TAKE(c, share_G, part, NONE, "own weight and standing loads in the moment");
    BK_TAKE(c, C_1_Q, isnan(by_spread) ? 1 : by_spread, NONE, c->rules->C1_spread->source);
    BK_RULE(c, C1_uniform, NONE);
    BK_CALC(w, C_1, 1 / ((1 - share_G) / C_1_Q + share_G / fmin(C1_uniform, C_1_Q)), NONE,
            "loads together, lower bound (Dunkerley)");
    return C_1;
}

/* Any moments with the greatest M_max and M_A, M_B, M_C at the quarter points.  Neither formula is safe for
 * every diagram: over hundreds of continuous spans under wheels the lesser came out at most 9 % above the
 * eigenvalue of the span, hence the 0.9. */
static double C1_of_moments(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    bk_calc_mark(c, BK_MARK_MEMORY);
    BK_TAKE(c, M_max, m->M_max_Nm, MOMENT, "greatest of the span in this position");
    BK_TAKE(c, M_A, m->M_quarter_Nm[0], MOMENT, "at a quarter of the span");
    BK_TAKE(c, M_B, m->M_quarter_Nm[1], MOMENT, "at midspan");
    BK_TAKE(c, M_C, m->M_quarter_Nm[2], MOMENT, "at three quarters");
    BK_CALC(w, C_a, 12.5 * M_max / (2.5 * M_max + 3 * M_A + 4 * M_B + 3 * M_C), NONE, "AISC 360, F1");
    BK_CALC(w, C_b,
            sqrt(35 * pow(M_max, 2) / (pow(M_max, 2) + 9 * pow(M_A, 2) + 16 * pow(M_B, 2) + 9 * pow(M_C, 2))),
            NONE, "moment gradient by quarter points");
    BK_CALC(w, C_1, fmax(1, 0.9 * fmin(C_a, C_b)), NONE,
            "the lesser, less a tenth: own eigenvalues of many spans");
    return C_1;
}

/* M_cr and C_1 for the member's holds and moments. */
typedef struct critical {
    double M_cr_Nm, C_1;
} critical;

static critical critical_moment(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double up = m->load_height_m;
    double C_1 = 1, C_2 = 0, length = fmin(m->hold_m, m->span_m);
    const bk_rule *of_C_2 = NULL;
    switch (m->hold) {
    case BK_HOLD_SIMPLE:
        C_1 = C1_of_loads(c, m);
        if (up > 0) of_C_2 = c->rules->C2_above, C_2 = bk_calc_rule(c, of_C_2);
        if (up < 0)
            of_C_2 = c->rules->C2_below, C_2 = bk_calc_rule(c, of_C_2) * C_1 / bk_bands_factor(c->rules->C1_spread, 0);
        break;
    case BK_HOLD_ENDS:
        C_1 = C1_of_moments(c, m);
        if (up > 0) of_C_2 = c->rules->C2_ends_held, C_2 = bk_calc_rule(c, of_C_2);
        break;
    case BK_HOLD_UNIFORM:
        if (up > 0) of_C_2 = c->rules->C2_above, C_2 = bk_calc_rule(c, of_C_2);
        (void)bk_working_add(w, "C_1", NULL, C_1, BK_DIM_NONE, "moment taken as uniform between the holds");
        break;
    case BK_HOLD_OVERHANG:
        length = 2 * m->span_m;
        if (up > 0) C_2 = 1;
        (void)bk_working_add(w, "C_1", NULL, C_1, BK_DIM_NONE, "overhang as a span of twice its length");
        break;
    }
    (void)bk_working_add(w, "C_2", NULL, C_2, BK_DIM_NONE,
                         of_C_2    ? of_C_2->source
                         : C_2 > 0 ? "overhang, safe side"
                                   : "no effect of the load's height counted");
    bk_calc_mark(c, m->section_mark);
    BK_RULE(c, E, STRESS);
    BK_RULE(c, G, STRESS);
    BK_TAKE(c, L_LT, length, LENGTH,
            m->hold == BK_HOLD_OVERHANG ? "twice the overhang" : "between lateral holds, k = k_w = 1");
    BK_TAKE(c, z_g, C_2 > 0 ? up : 0, LENGTH, "load above the shear centre");
    BK_TAKE(c, I_z, s->Iz_m4, INERTIA, m->section_from);
    BK_TAKE(c, I_t, s->It_m4, INERTIA, m->section_from);
    BK_TAKE(c, I_w, s->Iw_m6, WARPING, m->section_from);
    BK_CALC(w, N_cr_z, pow(pi, 2) * E * I_z / pow(L_LT, 2), FORCE, "Euler load about the weak axis");
    BK_CALC(w, M_cr, C_1 * N_cr_z * (sqrt(I_w / I_z + G * I_t / N_cr_z + pow(C_2 * z_g, 2)) - C_2 * z_g),
            MOMENT, "NCCI SN003b, Eq. (1)");
    return (critical){M_cr, C_1};
}

/* chi of EN 1993-1-1, 6.3: Phi with plateau and beta, bounded by 1 and 1/lambda^2; recorded as chi. */
static double reduction(bk_calc *c, double slenderness, double imperfection, double plateau, double weight)
{
    bk_working *w = c->w;
    BK_TAKE(c, lambda_0, plateau, NONE, "length of the plateau");
    BK_TAKE(c, beta, weight, NONE, "EN 1993-1-1, 6.3");
    const double lambda = slenderness, alpha = imperfection;
    BK_CALC(w, Phi, 0.5 * (1 + alpha * (lambda - lambda_0) + beta * pow(lambda, 2)), NONE,
            "EN 1993-1-1, 6.3");
    BK_CALC(w, chi,
            fmin(fmin(1, 1 / pow(lambda, 2)), 1 / (Phi + sqrt(fmax(0, pow(Phi, 2) - beta * pow(lambda, 2))))),
            NONE, "EN 1993-1-1, 6.3");
    return chi;
}

typedef struct ltb_result {
    double M_cr_Nm, M_Rd_Nm;
    int class;
} ltb_result;

/* M_b,Rd; class 4 leaves it NaN. */
static ltb_result ltb_resistance(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const bk_beam_rules *r = c->rules;
    const int class = section_class(c, m, false);
    if (class > 3) return (ltb_result){NAN, NAN, class};
    const critical cr = critical_moment(c, m);
    const double M_cr = cr.M_cr_Nm, C_1 = cr.C_1, f_y = m->fy_Pa;
    const double W_y = modulus_y(c, m, class);
    const bool stocky = s->h_m <= 2 * s->b_m;
    const bk_rule *general =
        s->welded ? (stocky ? r->alpha_c : r->alpha_d) : (stocky ? r->alpha_a : r->alpha_b);
    const bk_rule *rolled =
        s->welded ? (stocky ? r->alpha_c : r->alpha_d) : (stocky ? r->alpha_b : r->alpha_c);
    BK_RULE(c, gamma_M1, NONE);
    BK_CALC(w, lambda, sqrt(W_y * f_y / M_cr), NONE, "EN 1993-1-1, 6.3.2.2");
    double chi;
    {
        BK_TAKE(c, alpha, bk_calc_rule(c, general), NONE, general->source);
        chi = reduction(c, lambda, alpha, 0.2, 1);
    }
    BK_CALC(w, M_b_general, chi * W_y * f_y / gamma_M1, MOMENT, "EN 1993-1-1, 6.3.2.2 (6.56), general case");
    {
        BK_TAKE(c, alpha, bk_calc_rule(c, rolled), NONE, rolled->source);
        chi = reduction(c, lambda, alpha, bk_calc_rule(c, r->lambda_LT_0), bk_calc_rule(c, r->beta_LT));
    }
    BK_CALC(w, f, fmin(1, 1 - 0.5 * (1 - 1 / sqrt(C_1)) * (1 - 2 * pow(lambda - 0.8, 2))), NONE,
            "EN 1993-1-1, 6.3.2.3 (6.58)");
    BK_CALC(w, M_b_rolled, fmin(fmin(1, 1 / pow(lambda, 2)), chi / f) * W_y * f_y / gamma_M1, MOMENT,
            "EN 1993-1-1, 6.3.2.3 (6.57), rolled sections");
    BK_CALC(w, M_b_Rd, fmin(M_b_general, M_b_rolled), MOMENT,
            "EN 1993-1-1, 6.3.2.1 (6.55), the lesser of both cases");
    return (ltb_result){M_cr, M_b_Rd, class};
}

static bk_rating ltb(bk_calc *c, const bk_member *m)
{
    static const char source[] = "EN 1993-1-1, 6.3.2; M_cr by NCCI SN003b";
    const double M_y = bk_design_moment(c, m);
    const ltb_result b = ltb_resistance(c, m);
    if (b.class > 3) return bk_rating_not_covered(c, BK_DIM_MOMENT, M_y, source, class_4);
    return (bk_rating){M_y, b.M_Rd_Nm, BK_DIM_MOMENT, source, NULL, c->mark};
}

/* ---- lateral load and torsion ------------------------------------------------------------------- */

static bk_rating interaction(bk_calc *c, const bk_member *m)
{
    static const char source[] = "EN 1993-6, Annex A (A.1)";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double M_y = bk_design_moment(c, m);
    const ltb_result resistance = ltb_resistance(c, m);
    if (resistance.class > 3) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, class_4);
    const bool plastic = resistance.class <= 2;
    const double M_b_Rd = resistance.M_Rd_Nm, M_cr = resistance.M_cr_Nm, f_y = m->fy_Pa;
    const bk_lateral lateral = bk_lateral_effects(c, m);
    const double M_z = lateral.M_z_Nm, B = lateral.B_Nm2;
    const double W_z = modulus_z(c, m, resistance.class);
    BK_RULE(c, gamma_M0, NONE);
    BK_RULE(c, gamma_M1, NONE);
    BK_TAKE(c, b, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_TAKE(c, h, s->h_m, LENGTH, m->section_from);
    BK_TAKE(c, shape, plastic ? 1.5 : 1, NONE, "plastic over elastic modulus of one flange");
    BK_CALC(w, M_z_Rd, W_z * f_y / gamma_M1, MOMENT, "EN 1993-1-1, 6.2.5");
    BK_CALC(w, B_Rd, shape * f_y / gamma_M1 * t_f * pow(b, 2) * (h - t_f) / 6, BIMOMENT,
            "bending of the flanges in their planes");
    BK_CALC(w, M_fl_Rd, shape * f_y / gamma_M0 * t_f * pow(b, 2) / 6, MOMENT, "bottom flange by itself");
    const int class = resistance.class;
    const double W_y = modulus_y(c, m, class);
    BK_CALC(w, M_c_Rd, W_y * f_y / gamma_M0, MOMENT, "EN 1993-1-1, 6.2.5");
    BK_CALC(w, flange_alone, M_y / M_c_Rd + M_z / M_fl_Rd, NONE, "lateral load on the bottom flange alone");
    if (M_y >= M_cr) {
        BK_CALC(w, buckled, fmax(M_y / M_b_Rd, flange_alone), NONE, "moment beyond the elastic critical one");
        return (bk_rating){buckled, 1, BK_DIM_NONE, source, "the beam buckles under the vertical load alone",
                           c->mark};
    }
    BK_RULE(c, C_mz, NONE);
    BK_CALC(w, k_w, 0.7 - 0.2 * B / B_Rd, NONE, "EN 1993-6, Annex A");
    BK_CALC(w, k_zw, 1 - M_z / M_z_Rd, NONE, "EN 1993-6, Annex A");
    BK_CALC(w, k_alpha, 1 / (1 - M_y / M_cr), NONE, "EN 1993-6, Annex A");
    BK_CALC(w, annex_A,
            M_y / M_b_Rd + C_mz * M_z / M_z_Rd + fmax(0, k_w) * fmax(0, k_zw) * k_alpha * B / B_Rd, NONE,
            "EN 1993-6, Annex A (A.1)");
    BK_CALC(w, utilisation, fmax(annex_A, flange_alone), NONE, "the greater");
    return (bk_rating){utilisation, 1, BK_DIM_NONE, source, NULL, c->mark};
}

/* ---- bottom flange under the wheels -------------------------------------------------------------- */

static bk_rating flange_stress(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    static const char source[] = "EN 1993-6, 5.8 and 7.5";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_RULE(c, gamma_Mser, NONE);
    BK_RULE(c, local_share, NONE);
    BK_TAKE(c, f_y, m->fy_Pa, STRESS, m->steel_from);
    BK_TAKE(c, F_z, wheel->force_N, FORCE, "one wheel, no partial factor");
    BK_TAKE(c, M_ser, wheel->M_Nm, MOMENT, "greatest moment of the span, no partial factor");
    BK_TAKE(c, W_el, s->Wely_m3, VOLUME, m->section_from);
    BK_TAKE(c, n, wheel->edge_m, LENGTH, "flange edge to wheel centre line");
    BK_TAKE(c, b, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_CALC(w, mu, 2 * n / (b - t_w), NONE, "EN 1993-6, 5.8");
    const double t_1 = bk_flange_thickness_at(c, s, wheel->edge_m);
    double coefficient[BK_FLANGE_CURVES];
    bk_flange_coefficients(c, s, mu, coefficient);
    const double c_x0 = coefficient[BK_CX0], c_x1 = coefficient[BK_CX1], c_x2 = coefficient[BK_CX2];
    const double c_y0 = coefficient[BK_CY0], c_y1 = coefficient[BK_CY1];
    BK_TAKE(c, wheels, wheel->superposed, NONE, "wheels whose local stress is counted in full");
    BK_CALC(w, sigma, M_ser / W_el, STRESS, "global bending, extreme fibre");
    BK_CALC(w, s_F, local_share * wheels * F_z / pow(t_1, 2), STRESS, "EN 1993-6, 5.8");
    BK_CALC(w, s_x0, sigma + c_x0 * s_F, STRESS, "along the beam, at the web");
    BK_CALC(w, s_y0, c_y0 * s_F, STRESS, "across, at the web");
    BK_CALC(w, s_x1, sigma + c_x1 * s_F, STRESS, "along, under the wheel");
    BK_CALC(w, s_y1, c_y1 * s_F, STRESS, "across, under the wheel");
    BK_CALC(w, s_x2, sigma + c_x2 * s_F, STRESS, "along, at the edge");
    BK_CALC(w, s_0, sqrt(pow(s_x0, 2) + pow(s_y0, 2) - s_x0 * s_y0), STRESS, "equivalent, at the web");
    BK_CALC(w, s_1, sqrt(pow(s_x1, 2) + pow(s_y1, 2) - s_x1 * s_y1), STRESS, "equivalent, under the wheel");
    BK_CALC(w, s_x3, sigma - c_x1 * s_F, STRESS, "along, under the wheel, upper side");
    BK_CALC(w, s_3, sqrt(pow(s_x3, 2) + pow(s_y1, 2) + s_x3 * s_y1), STRESS, "equivalent, under the wheel, upper side");
    BK_CALC(w, s_2, fabs(s_x2), STRESS, "equivalent, at the edge");
    BK_TAKE(c, near_end, wheel->end_m < s->b_m ? 1 : 0, NONE,
            "1: wheel within b of the beam's unstiffened end");
    BK_CALC(w, s_end, near_end * (5.6 - 3.225 * mu - 2.8 * pow(mu, 3)) * s_F, STRESS,
            "EN 1993-6, 5.8, across, at the end");
    BK_CALC(w, s_most,
            fmax(fmax(fmax(s_0, fmax(s_1, s_3)), fmax(s_2, s_end)),
                 fmax(fmax(fabs(s_x0), fabs(s_y0)), fmax(fabs(s_x1), fabs(s_y1)))),
            STRESS, "EN 1993-6, 7.5, the greatest");
    BK_CALC(w, s_Rd, f_y / gamma_Mser, STRESS, "EN 1993-6, 7.5");
    return (bk_rating){s_most, s_Rd, BK_DIM_STRESS, source, NULL, c->mark};
}

static bk_rating flange_resistance(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    static const char source[] = "EN 1993-6, 6.7 (6.2)";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_TAKE(c, F_k, wheel->force_N, FORCE, "one wheel, no partial factor");
    BK_TAKE(c, M_k, wheel->M_Nm, MOMENT, "moment there, no partial factor");
    const double gamma = bk_design_factor(c, m);
    BK_CALC(w, F_z, gamma * F_k, FORCE, "design value");
    BK_CALC(w, M_y, gamma * M_k, MOMENT, "design value");
    BK_RULE(c, gamma_M0, NONE);
    BK_TAKE(c, f_y, m->fy_Pa, STRESS, m->steel_from);
    BK_TAKE(c, b, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, root, s->welded ? sqrt(2.0) * s->a_weld_m : s->r_m, LENGTH,
            s->welded ? "leg of the weld" : "root radius");
    BK_TAKE(c, n, wheel->edge_m, LENGTH, "flange edge to wheel centre line");
    BK_CALC(w, m_l, 0.5 * (b - t_w) - 0.8 * root - n, LENGTH, "EN 1993-6, 6.7");
    if (!(m_l > 0))
        return bk_rating_not_covered(c, BK_DIM_FORCE, F_z, source,
                                     "the wheel stands on the root of the flange");
    const double l_eff = bk_flange_effective_length(c, m_l, wheel->edge_m, wheel->next_m, wheel->end_m);
    const double t_1 = bk_flange_thickness_at(c, s, wheel->edge_m);
    BK_TAKE(c, h, s->h_m, LENGTH, m->section_from);
    BK_TAKE(c, I_y, s->Iy_m4, INERTIA, m->section_from);
    BK_CALC(w, sigma_f, M_y * (h - t_1) / 2 / I_y, STRESS, "at mid-thickness of the flange");
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_CALC(w, F_f_Rd,
            l_eff * pow(fmin(t_1, t_f), 2) * (f_y / gamma_M0) / (4 * m_l) *
                fmax(0, 1 - pow(sigma_f / (f_y / gamma_M0), 2)),
            FORCE, "EN 1993-6, 6.7 (6.2)");
    return (bk_rating){F_z, F_f_Rd, BK_DIM_FORCE, source, NULL, c->mark};
}

/* The pair of wheels across the web pulls it down over a width that spreads at 30 degrees. */
static bk_rating web_tension(bk_calc *c, const bk_member *m, const bk_wheel *wheel)
{
    static const char source[] = "web in tension above a wheel pair, AISC Steel Interchange 12/1999";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_TAKE(c, F_k, wheel->force_N, FORCE, "one wheel, no partial factor");
    const double gamma = bk_design_factor(c, m);
    BK_RULE(c, gamma_M0, NONE);
    BK_TAKE(c, k, s->tf_m + (s->welded ? s->a_weld_m : s->r_m), LENGTH,
            "face of the flange to the toe of the root");
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, f_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_CALC(w, F_pair, gamma * 2 * F_k, FORCE, "both wheels");
    BK_CALC(w, F_t_Rd, 3.5 * k * t_w * f_yw / gamma_M0, FORCE, "30 degree spread over 3.5 k");
    return (bk_rating){F_pair, F_t_Rd, BK_DIM_FORCE, source, NULL, c->mark};
}

/* ---- web at a support ---------------------------------------------------------------------------- */

static bk_rating web(bk_calc *c, const bk_member *m, const bk_bearing *bearing)
{
    static const char source[] = "EN 1993-1-5, 6 and 7.2";
    bk_working *w = c->w;
    const bk_section *s = m->section;
    bk_calc_mark(c, BK_MARK_MEMORY);
    bk_calc_mark(c, m->section_mark);
    bk_calc_mark(c, m->steel_mark);
    BK_TAKE(c, R_k, bearing->force_N, FORCE, "greatest reaction, no partial factor");
    BK_TAKE(c, M_k, bearing->M_Nm, MOMENT, "moment at the support, no partial factor");
    const double gamma = bk_design_factor(c, m);
    BK_CALC(w, F_Ed, gamma * R_k, FORCE, "design value");
    BK_RULE(c, gamma_M0, NONE);
    BK_RULE(c, gamma_M1, NONE);
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, f_yf, m->fy_Pa, STRESS, m->steel_from);
    BK_TAKE(c, f_yw, m->fyw_Pa, STRESS, m->steel_from);
    BK_TAKE(c, b_f, s->b_m, LENGTH, m->section_from);
    BK_TAKE(c, t_f, s->tf_m, LENGTH, m->section_from);
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, h_w, s->h_m - 2 * s->tf_m, LENGTH, "web between the flanges");
    BK_TAKE(c, d_e, fmax(0, bearing->end_m), LENGTH, "support to the beam's end; bearing length taken as 0");
    BK_CALC(w, k_F, fmin(6, 2 + 6 * d_e / h_w), NONE, "EN 1993-1-5, Figure 6.1");
    BK_CALC(w, m_1, f_yf * b_f / (f_yw * t_w), NONE, "EN 1993-1-5, 6.5; m_2 left out");
    BK_CALC(w, l_e, fmin(d_e, k_F * E * pow(t_w, 2) / (2 * f_yw * h_w)), LENGTH, "EN 1993-1-5, 6.5 (6.13)");
    BK_CALC(w, l_y,
            fmin(2 * t_f * (1 + sqrt(m_1)), l_e + t_f * fmin(sqrt(m_1), sqrt(m_1 / 2 + pow(l_e / t_f, 2)))),
            LENGTH, "EN 1993-1-5, 6.5 (6.10) to (6.12)");
    BK_CALC(w, F_cr, 0.9 * k_F * E * pow(t_w, 3) / h_w, FORCE, "EN 1993-1-5, 6.4 (6.5)");
    BK_CALC(w, lambda_F, sqrt(l_y * t_w * f_yw / F_cr), NONE, "EN 1993-1-5, 6.4 (6.4)");
    BK_CALC(w, chi_F, fmin(1, 0.5 / lambda_F), NONE, "EN 1993-1-5, 6.4 (6.3)");
    BK_CALC(w, F_Rd, f_yw * chi_F * l_y * t_w / gamma_M1, FORCE, "EN 1993-1-5, 6.2 (6.1)");
    BK_TAKE(c, W_el, s->Wely_m3, VOLUME, m->section_from);
    BK_CALC(w, eta_1, gamma * M_k / (W_el * f_yf / gamma_M0), NONE, "EN 1993-1-5, 4.6");
    BK_CALC(w, F_with_M, F_Rd * fmax(0, fmin(1, 1.4 - 0.8 * eta_1)), FORCE, "EN 1993-1-5, 7.2 (7.2)");
    return (bk_rating){F_Ed, F_with_M, BK_DIM_FORCE, source, NULL, c->mark};
}

/* ---- struts ------------------------------------------------------------------------------------- */

typedef struct strut {
    double N_Ed, n_y, n_z, N_b_Rd; /* n: N over the resistance about each axis */
    int class;
} strut;

/* The area that carries compression: less where the web buckles locally, evenly compressed (EN
 * 1993-1-5, 4.4). */
static double effective_area(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const double epsilon = sqrt(235e6 / m->fyw_Pa), root = s->welded ? sqrt(2.0) * s->a_weld_m : s->r_m;
    const double d = s->h_m - 2 * s->tf_m - 2 * root;
    BK_TAKE(c, A, s->area_m2, AREA, m->section_from);
    if (d / s->tw_m <= 42 * epsilon) {
        BK_CALC(w, A_eff, A, AREA, "web not above class 3 in compression, EN 1993-1-1, Table 5.2");
        return A_eff;
    }
    BK_TAKE(c, t_w, s->tw_m, LENGTH, m->section_from);
    BK_TAKE(c, d_w, d, LENGTH, "flat part of the web");
    BK_CALC(w, lambda_p, d_w / t_w / (28.4 * epsilon * 2), NONE, "EN 1993-1-5, 4.4(2), k_sigma = 4");
    BK_CALC(w, rho_w, fmin(1, (lambda_p - 0.22) / pow(lambda_p, 2)), NONE, "EN 1993-1-5, 4.4 (4.2), psi = 1");
    BK_CALC(w, A_eff, A - (1 - rho_w) * d_w * t_w, AREA, "EN 1993-1-5, 4.4");
    return A_eff;
}

/* Euler load about one axis; recorded as N_cr. */
static double euler_load(bk_calc *c, double length_m, double inertia_m4, const char *axis)
{
    bk_working *w = c->w;
    BK_RULE(c, E, STRESS);
    BK_TAKE(c, L_cr, length_m, LENGTH, axis);
    BK_TAKE(c, I, inertia_m4, INERTIA, axis);
    BK_CALC(w, N_cr, pow(pi, 2) * E * I / pow(L_cr, 2), FORCE, axis);
    return N_cr;
}

/* Critical load of twisting, held against twist at the ends; recorded as N_cr. */
static double twist_load(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    BK_RULE(c, E, STRESS);
    BK_RULE(c, G, STRESS);
    BK_TAKE(c, L_T, m->hold_m, LENGTH, "between holds against twist");
    BK_TAKE(c, I_t, s->It_m4, INERTIA, m->section_from);
    BK_TAKE(c, I_w, s->Iw_m6, WARPING, m->section_from);
    BK_TAKE(c, i_02, (s->Iy_m4 + s->Iz_m4) / s->area_m2, AREA, "polar radius, squared");
    BK_CALC(w, N_cr, (G * I_t + pow(pi, 2) * E * I_w / pow(L_T, 2)) / i_02, FORCE, "twist, EN 1993-1-1, 6.3.1.4");
    return N_cr;
}

/* N_b,Rd of one way to buckle, by its critical load and imperfection. */
static double buckling_of(bk_calc *c, double N_cr, const bk_rule *imperfection, double N_Rk, const char *way)
{
    bk_working *w = c->w;
    BK_RULE(c, gamma_M1, NONE);
    BK_TAKE(c, alpha, bk_calc_rule(c, imperfection), NONE, imperfection->source);
    BK_CALC(w, lambda, sqrt(N_Rk / N_cr), NONE, way);
    const double chi = reduction(c, lambda, alpha, 0.2, 1);
    BK_CALC(w, N_b, chi * N_Rk / gamma_M1, FORCE, "EN 1993-1-1, 6.3.1.1 (6.47)");
    return N_b;
}

static strut strut_of(bk_calc *c, const bk_member *m)
{
    bk_working *w = c->w;
    const bk_section *s = m->section;
    const bk_beam_rules *r = c->rules;
    strut out = {.class = section_class(c, m, true)};
    const double f_y = m->fy_Pa;
    BK_TAKE(c, N_k, m->N_N, FORCE, "axial force in the solved rig, compression positive");
    const double gamma = bk_design_factor(c, m);
    BK_CALC(w, N, gamma * fabs(N_k), FORCE, "design value");
    out.N_Ed = N;
    if (m->N_N <= 0) {
        BK_RULE(c, gamma_M0, NONE);
        BK_TAKE(c, A, s->area_m2, AREA, m->section_from);
        BK_CALC(w, N_t_Rd, A * f_y / gamma_M0, FORCE, "EN 1993-1-1, 6.2.3");
        out.N_b_Rd = N_t_Rd;
        out.n_y = out.n_z = N / N_t_Rd;
        return out;
    }
    const bool narrow = s->h_m > 1.2 * s->b_m, thick = s->tf_m > (s->welded || narrow ? 0.040 : 0.100);
    const bk_rule *about_y = s->welded ? (thick ? r->alpha_c : r->alpha_b)
                             : narrow  ? (thick ? r->alpha_b : r->alpha_a)
                                       : (thick ? r->alpha_d : r->alpha_b);
    const bk_rule *about_z = s->welded ? (thick ? r->alpha_d : r->alpha_c)
                             : narrow  ? (thick ? r->alpha_c : r->alpha_b)
                                       : (thick ? r->alpha_d : r->alpha_c);
    const double A_eff = effective_area(c, m);
    BK_CALC(w, N_Rk, A_eff * f_y, FORCE, "EN 1993-1-1, 6.2.4");
    const double of_y = euler_load(c, m->buckling_y_m, s->Iy_m4, "strong axis");
    BK_TAKE(c, N_b_y, buckling_of(c, of_y, about_y, N_Rk, "EN 1993-1-1, 6.3.1.3, strong axis"), FORCE,
            "N_b of the strong axis");
    const double of_z = euler_load(c, m->buckling_z_m, s->Iz_m4, "weak axis");
    const double of_z_or_twist = fmin(of_z, twist_load(c, m));
    BK_TAKE(c, N_b_z, buckling_of(c, of_z_or_twist, about_z, N_Rk, "EN 1993-1-1, 6.3.1.3 and 6.3.1.4, weak axis or twist"),
            FORCE, "N_b of the weak axis, or of twist");
    BK_CALC(w, N_b_Rd, fmin(N_b_y, N_b_z), FORCE, "the lesser");
    out.n_y = N / N_b_y;
    out.n_z = N / N_b_z;
    out.N_b_Rd = N_b_Rd;
    return out;
}

static bk_rating buckling(bk_calc *c, const bk_member *m)
{
    const strut s = strut_of(c, m);
    const char *source = m->N_N > 0 ? "EN 1993-1-1, 6.3.1" : "EN 1993-1-1, 6.2.3";
    if (s.class > 3) return bk_rating_not_covered(c, BK_DIM_FORCE, s.N_Ed, source, class_4);
    return (bk_rating){s.N_Ed, s.N_b_Rd, BK_DIM_FORCE, source, NULL, c->mark};
}

static bk_rating strut_interaction(bk_calc *c, const bk_member *m)
{
    static const char source[] = "EN 1993-1-1, 6.3.3, factors of Annex B at their bounds";
    bk_working *w = c->w;
    const strut s = strut_of(c, m);
    if (s.class > 3) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, class_4);
    const double M_y = bk_design_moment(c, m);
    const ltb_result resistance = ltb_resistance(c, m);
    if (resistance.class > 3) return bk_rating_not_covered(c, BK_DIM_NONE, NAN, source, class_4);
    const double W_z = modulus_z(c, m, resistance.class);
    const double gamma = bk_design_factor(c, m), f_y = m->fy_Pa, M_b_Rd = resistance.M_Rd_Nm;
    BK_TAKE(c, M_z_k, m->M_z_Nm, MOMENT, "moment about the weak axis in the solved rig, static");
    BK_CALC(w, M_z, gamma * fabs(M_z_k), MOMENT, "design value");
    BK_RULE(c, gamma_M1, NONE);
    BK_CALC(w, M_z_Rd, W_z * f_y / gamma_M1, MOMENT, "EN 1993-1-1, 6.2.5");
    BK_TAKE(c, n_y, s.n_y, NONE, "N over the resistance about the strong axis");
    BK_TAKE(c, n_z, s.n_z, NONE, "N over the resistance about the weak axis");
    BK_CALC(w, k_yy, 1 + 0.8 * n_y, NONE, "EN 1993-1-1, Table B.1, upper bound, C_my = 1");
    BK_CALC(w, k_zz, 1 + 1.4 * n_z, NONE, "EN 1993-1-1, Table B.1, upper bound, C_mz = 1");
    BK_TAKE(c, k_yz, (resistance.class <= 2 ? 0.6 : 1) * k_zz, NONE, "EN 1993-1-1, Table B.1");
    BK_CALC(w, about_y, n_y + k_yy * M_y / M_b_Rd + k_yz * M_z / M_z_Rd, NONE, "EN 1993-1-1, 6.3.3 (6.61)");
    BK_CALC(w, about_z, n_z + M_y / M_b_Rd + k_zz * M_z / M_z_Rd, NONE,
            "EN 1993-1-1, 6.3.3 (6.62), k_zy = 1");
    BK_CALC(w, utilisation, fmax(about_y, about_z), NONE, "the greater");
    return (bk_rating){utilisation, 1, BK_DIM_NONE, source, NULL, c->mark};
}

const bk_strength_method bk_strength_en = {
    .name = "EN 1993",
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
