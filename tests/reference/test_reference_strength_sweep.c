/* Beam strength of both methods against the clauses written a second time, over members drawn by lot.
 *
 * The clauses stand beside each formula; all of EN 1993 and of AISC 360 here are from memory unless another test of this folder
 * holds them to a printed figure (test_reference_strength_en.c, test_reference_strength_us.c).  Sections are no real ones:
 * every property is drawn by itself, so that none can stand for another; the values of the rule set are drawn too, as a national annex
 * may set them, so that either of two clauses may govern.  Slendernesses run over every class, lengths over every range of the curves.  What rests on a choice of this
 * program (which case is taken, C1 of loads and moments, load height in the US method) is written from the list of choices
 * at the top of both methods.
 */
#include "strength_cases.h"

#define MANY 4000

static uint64_t state;
static double lot(double from, double to)
{
    state = state * 6364136223846793005u + 1442695040888963407u; /* Knuth, MMIX */
    return from + (to - from) * (double)(state >> 11) / 9007199254740992.0;
}
static bool coin(void)
{
    return lot(0, 1) < 0.5;
}

#define SAME(have, wanted, what)                                                                            \
    do {                                                                                                    \
        const double have_ = (have), wanted_ = (wanted);                                                    \
        ck_assert_msg((isnan(have_) && isnan(wanted_)) || fabs(have_ - wanted_) <= 1e-9 * fabs(wanted_),    \
                      "%s, member %d: %.12g, not %.12g", what, number, have_, wanted_);                         \
    } while (0)

/* ---- a member by lot ---------------------------------------------------------------------------- */

static bk_rule drawn[60];
static size_t n_drawn;
#define DRAW(field, from, to) (drawn[n_drawn] = *rules.field, drawn[n_drawn].value = lot(from, to), rules.field = &drawn[n_drawn++])

static int number; /* of the member */
static bk_section section;
static bk_member member;
static bk_wheel wheel;
static bk_bearing bearing;

static bk_flange_curve lotted[BK_FLANGE_CURVES]; /* of another table, by lot, so that every place of the flange may govern */
static const bk_flange_curve *of_table[2];

static void draw(void)
{
    if (number == 0) of_table[0] = rules.parallel, of_table[1] = rules.taper;
    rules.parallel = number % 3 ? of_table[0] : lotted;
    rules.taper = number % 3 ? of_table[1] : lotted;
    state = (uint64_t)number * 7919u + 17u;
    (void)lot(0, 1);
    n_drawn = 0;
    for (size_t i = 0; i < BK_FLANGE_CURVES; i++)
        lotted[i] = (bk_flange_curve){lot(-3, 3), lot(-2, 2), lot(-1, 1), lot(-3, 2), "by lot", BK_MARK_COMPUTED};
    DRAW(gamma_G, 1.1, 1.6), DRAW(gamma_G_inf, 0.7, 1), DRAW(gamma_Q, 1.1, 1.6), DRAW(gamma_stalled, 1, 1.2);
    DRAW(local_share, 0.6, 1);
    if (method == &bk_strength_en)
        DRAW(gamma_M0, 1, 1.2), DRAW(gamma_M1, 1, 1.2), DRAW(gamma_Mser, 1, 1.2), DRAW(eta, 1, 1.2), DRAW(alpha_a, 0.1, 0.8), DRAW(alpha_b, 0.1, 0.8),
            DRAW(alpha_c, 0.1, 0.8), DRAW(alpha_d, 0.1, 0.8), DRAW(lambda_LT_0, 0.1, 0.4), DRAW(beta_LT, 0.7, 1), DRAW(C1_uniform, 1, 1.4),
            DRAW(C2_above, 0.3, 1.7), DRAW(C2_below, 0.3, 0.7), DRAW(C2_ends_held, 0.3, 1.7), DRAW(C_mz, 0.6, 1), DRAW(E, 190e9, 220e9), DRAW(G, 70e9, 90e9);
    else
        DRAW(E, 190e9, 220e9), DRAW(G, 70e9, 90e9), DRAW(Omega_b, 1.3, 1.9), DRAW(Omega_c, 1.3, 1.9), DRAW(Omega_t, 1.3, 1.9), DRAW(Omega_v, 1.3, 1.9),
            DRAW(Omega_v_slender, 1.3, 1.9), DRAW(Omega_flange, 1.3, 1.9), DRAW(Omega_yielding, 1.3, 1.9), DRAW(Omega_crippling, 1.3, 2.2),
            DRAW(flange_stress_share, 0.5, 0.8), DRAW(flange_bending_share, 0.5, 12); /* so that either check of the flange may govern */
    const double h = lot(0.1, 0.9), b = h * lot(0.3, 1.1), tf = b / lot(9, 40), tw = h / lot(15, 110);
    section = (bk_section){.h_m = h, .b_m = b, .tw_m = tw, .tf_m = tf, .welded = lot(0, 1) < 0.3};
    if (section.welded) section.a_weld_m = lot(0.003, 0.008);
    else section.r_m = tf * lot(0.4, 1.2);
    if (lot(0, 1) < 0.06 && h > 0.4) section.tf_m = lot(0.035, fmin(0.12, h / 4)), section.b_m = lot(0.5, 1) * h; /* thick ones have other curves */
    section.taper = !section.welded && lot(0, 1) < 0.3;
    section.slope = section.taper ? lot(0.08, 0.17) : 0;
    const double A = 2 * b * tf + (h - 2 * tf) * tw;
    section.area_m2 = A * lot(0.9, 1.1);
    section.Iy_m4 = b * tf * pow(h, 2) / 2 * lot(0.9, 1.3);
    section.Iz_m4 = tf * pow(b, 3) / 6 * lot(0.9, 1.1);
    section.It_m4 = (2 * b * pow(tf, 3) + h * pow(tw, 3)) / 3 * lot(0.9, 1.4);
    section.Iw_m6 = section.Iz_m4 * pow(h, 2) / 4 * lot(0.8, 1.1);
    section.Wely_m3 = b * tf * h * lot(0.95, 1.1);
    section.Wply_m3 = section.Wely_m3 * lot(1.1, 1.2);
    section.Welz_m3 = tf * pow(b, 2) / 3 * lot(0.95, 1.05);
    section.Wplz_m3 = section.Welz_m3 * lot(1.4, 1.8);
    section.Avz_m2 = h * tw * lot(0.9, 1.2);
    section.iy_m = h * lot(0.38, 0.44);
    section.iz_m = b * lot(0.22, 0.27);
    const double fy = lot(200e6, 480e6);
    member = member_of(&section, fy, 1);
    member.fyw_Pa = fy * lot(1, 1.1);
    member.span_m = h * lot(3, 45);
    member.hold_m = member.span_m * lot(0.3, 1.2);
    member.buckling_y_m = member.span_m * lot(0.5, 3);
    member.buckling_z_m = member.span_m * lot(0.2, 1.2);
    member.hold = (bk_hold)(int)lot(0, 3.999);
    member.state = (bk_state_kind)(int)lot(0, 2.999);
    member.lifting_factor = lot(1.5, 2.5);
    member.lifting_by = "test";
    member.load_height_m = h / 2 * (coin() ? lot(-1, 1) : 0);
    member.spread_m = member.span_m * lot(0, 1.1);
    const double M = section.Wely_m3 * fy;
    member.M_Q_Nm = M * lot(-0.6, 0.6);
    member.M_G_Nm = M * lot(-0.2, 0.2);
    if (lot(0, 1) < 0.05) member.M_G_Nm = member.M_Q_Nm = 0;
    if (lot(0, 1) < 0.05) member.M_G_Nm = lot(-1, 1), member.M_Q_Nm = lot(-1, 1); /* newton metres */
    member.M_max_Nm = M * lot(0.3, 1);
    for (int i = 0; i < 3; i++) member.M_quarter_Nm[i] = member.M_max_Nm * lot(0, 1);
    const double V = section.Avz_m2 * fy / sqrt(3);
    member.V_N = V * lot(0, 0.9);
    member.lateral_N = M / member.span_m * lot(0, 0.1);
    member.M_z_Nm = section.Welz_m3 * fy * lot(-0.3, 0.3);
    member.N_N = A * fy * lot(-0.4, 0.6);
    if (lot(0, 1) < 0.03) member.N_N = coin() ? 0 : lot(-1, 1);
    wheel = (bk_wheel){.force_N = pow(tf, 2) * fy * lot(0, 1), .edge_m = b / 2 * lot(0.02, 0.75), .next_m = coin() ? b * lot(0, 6) : (double)INFINITY,
                       .end_m = coin() ? b * lot(0, 4) : (double)INFINITY, .M_Nm = M * lot(0, 0.6), .superposed = (double)(int)lot(1, 4.999)};
    bearing = (bk_bearing){.force_N = h * tw * fy * lot(0, 0.3), .end_m = h * lot(-0.02, 3), .M_Nm = M * lot(0, 0.9)};
}

static double gamma_of(void)
{
    return member.state == BK_STATE_STALLED ? rules.gamma_stalled->value : member.state == BK_STATE_LIFTING ? member.lifting_factor : rules.gamma_Q->value;
}

/* EN 1990, 6.10: the unfavourable factor on what adds, the favourable one on what relieves; one factor in accidental and proof states. */
static double design_moment(void)
{
    if (member.state != BK_STATE_DYNAMIC) return gamma_of() * fabs(member.M_G_Nm + member.M_Q_Nm);
    const bool adds = (member.M_G_Nm >= 0) == (member.M_Q_Nm >= 0) || member.M_Q_Nm == 0;
    return fabs((adds ? rules.gamma_G->value : rules.gamma_G_inf->value) * member.M_G_Nm + rules.gamma_Q->value * member.M_Q_Nm);
}

static double design_shear(void)
{
    return member.V_N * (member.state == BK_STATE_DYNAMIC ? fmax(rules.gamma_G->value, rules.gamma_Q->value) : gamma_of());
}

/* Thickness under the wheel of a flange that is t_f thick a quarter of its width from the edge. */
static double thickness(void)
{
    return section.tf_m + section.slope * (wheel.edge_m - section.b_m / 4);
}

static double by_lot(int which, double mu)
{
    const bk_flange_curve *c = &lotted[which];
    return c->constant + c->linear * mu + c->factor * exp(c->exponent * mu);
}

/* EN 1993-6, Table 5.2 (memory). */
static void coefficients(double mu, double *x0, double *x1, double *x2, double *y0, double *y1)
{
    if (rules.parallel == lotted) {
        *x0 = by_lot(BK_CX0, mu), *x1 = by_lot(BK_CX1, mu), *x2 = by_lot(BK_CX2, mu), *y0 = by_lot(BK_CY0, mu), *y1 = by_lot(BK_CY1, mu);
        return;
    }
    if (!section.taper) {
        *x0 = 0.050 - 0.580 * mu + 0.148 * exp(3.015 * mu);
        *x1 = 2.230 - 1.490 * mu + 1.390 * exp(-18.33 * mu);
        *x2 = 0.730 - 1.580 * mu + 2.910 * exp(-6.0 * mu);
        *y0 = -2.110 + 1.977 * mu + 0.0076 * exp(6.53 * mu);
        *y1 = 10.108 - 7.408 * mu - 10.108 * exp(-1.364 * mu);
    } else {
        *x0 = -0.981 - 1.479 * mu + 1.120 * exp(1.322 * mu);
        *x1 = 1.810 - 1.150 * mu + 1.060 * exp(-7.70 * mu);
        *x2 = 1.990 - 2.810 * mu + 0.840 * exp(-4.69 * mu);
        *y0 = -1.096 + 1.095 * mu + 0.192 * exp(-6.0 * mu);
        *y1 = 3.965 - 4.835 * mu - 3.965 * exp(-2.675 * mu);
    }
}

static double mises(double x, double y)
{
    return sqrt(x * x - x * y + y * y);
}

/* ---- EN 1993 ------------------------------------------------------------------------------------ */

static double weld_or_root(void)
{
    return section.welded ? section.a_weld_m * sqrt(2) : section.r_m;
}

/* Table 5.2 of EN 1993-1-1: 9, 10, 14 epsilon of a flange; 72, 83, 124 of a web in bending, 396 and 456 over 13 alpha - 1 of one with compression. */
static int en_class(bool web_too)
{
    const double e_f = sqrt(235e6 / member.fy_Pa), e_w = sqrt(235e6 / member.fyw_Pa);
    const double flange = ((section.b_m - section.tw_m) / 2 - weld_or_root()) / section.tf_m;
    const double c = section.h_m - 2 * (section.tf_m + weld_or_root()), web = c / section.tw_m;
    double w1 = 72, w2 = 83;
    if (member.N_N > 0) {
        const double alpha = fmin(1, (1 + gamma_of() * member.N_N / (c * section.tw_m * member.fyw_Pa)) / 2);
        w1 = 396 / (13 * alpha - 1);
        w2 = 456 / (13 * alpha - 1);
    }
    const int of_flange = flange <= 9 * e_f ? 1 : flange <= 10 * e_f ? 2 : flange <= 14 * e_f ? 3 : 4;
    const int of_web = web <= w1 * e_w ? 1 : web <= w2 * e_w ? 2 : web <= 124 * e_w ? 3 : 4;
    return web_too && of_web > of_flange ? of_web : of_flange;
}

/* 6.2.6; the web needs its own check past 72 epsilon / eta. */
static double en_shear(void)
{
    if ((section.h_m - 2 * section.tf_m) / section.tw_m > 72 * sqrt(235e6 / member.fyw_Pa) / rules.eta->value) return NAN;
    return section.Avz_m2 * member.fyw_Pa / sqrt(3) / rules.gamma_M0->value;
}

static double en_modulus(int class)
{
    return class < 3 ? section.Wply_m3 : section.Wely_m3;
}

/* 6.2.5, and 6.2.8 where the shear is more than half of its resistance. */
static double en_bending(void)
{
    const int class = en_class(true);
    if (class == 4) return NAN;
    double W = en_modulus(class);
    const double V = design_shear(), V_Rd = en_shear();
    if (V > V_Rd / 2) {
        const double rho = fmin(1, pow(2 * V / V_Rd - 1, 2)), A_w = (section.h_m - 2 * section.tf_m) * section.tw_m;
        W = fmin(W, W - rho * pow(A_w, 2) / (4 * section.tw_m));
    }
    return W * member.fy_Pa / rules.gamma_M0->value;
}

/* 6.3: chi of a curve. */
static double en_chi(double lambda, double imperfection, double lambda_0, double beta)
{
    const double phi = (1 + imperfection * (lambda - lambda_0) + beta * lambda * lambda) / 2;
    const double root = phi * phi - beta * lambda * lambda;
    return fmin(fmin(1, 1 / (lambda * lambda)), 1 / (phi + sqrt(root > 0 ? root : 0)));
}

/* Imperfections of the curves a b c d, Table 6.1. */
static double alpha(int curve)
{
    return (const bk_rule *[]){rules.alpha_a, rules.alpha_b, rules.alpha_c, rules.alpha_d}[curve]->value;
}

/* NCCI SN003 with the choices of this program: C1 by loads or by moments, C2 for a high or a low load. */
static double en_M_cr(double *C1)
{
    const double z = member.load_height_m, E = rules.E->value, G = rules.G->value;
    double C2 = 0, L = fmin(member.hold_m, member.span_m);
    *C1 = 1;
    if (member.hold == BK_HOLD_SIMPLE) {
        const double all = member.M_G_Nm + member.M_Q_Nm, of_G = all == 0 ? 0 : fmin(1, fmax(0, member.M_G_Nm / all));
        double spread = bk_bands_factor(rules.C1_spread, member.spread_m / member.span_m);
        if (isnan(spread)) spread = 1;
        *C1 = 1 / (of_G / fmin(rules.C1_uniform->value, spread) + (1 - of_G) / spread);
        C2 = z > 0 ? rules.C2_above->value : z < 0 ? rules.C2_below->value * *C1 / 1.348 : 0;
    } else if (member.hold == BK_HOLD_ENDS) {
        const double a = member.M_quarter_Nm[0], b = member.M_quarter_Nm[1], c = member.M_quarter_Nm[2], x = member.M_max_Nm;
        const double of_F1 = 12.5 * x / (2.5 * x + 3 * a + 4 * b + 3 * c), squares = sqrt(35 * x * x / (x * x + 9 * a * a + 16 * b * b + 9 * c * c));
        *C1 = fmax(1, 0.9 * fmin(of_F1, squares));
        C2 = z > 0 ? rules.C2_ends_held->value : 0;
    } else if (member.hold == BK_HOLD_UNIFORM) {
        C2 = z > 0 ? rules.C2_above->value : 0;
    } else {
        L = 2 * member.span_m;
        C2 = z > 0 ? 1 : 0;
    }
    const double N = BK_PI * BK_PI * E * section.Iz_m4 / (L * L), high = C2 * z;
    return *C1 * N * (sqrt(section.Iw_m6 / section.Iz_m4 + G * section.It_m4 / N + high * high) - high);
}

/* 6.3.2.2 and 6.3.2.3, the lesser; Tables 6.4 and 6.5. */
static double en_ltb(void)
{
    const int class = en_class(true);
    if (class == 4) return NAN;
    double C1;
    const double M = en_modulus(class) * member.fy_Pa, lambda = sqrt(M / en_M_cr(&C1));
    const bool stocky = section.h_m / section.b_m <= 2;
    const double general = section.welded ? alpha(stocky ? 2 : 3) : alpha(stocky ? 0 : 1);
    const double rolled = section.welded ? alpha(stocky ? 2 : 3) : alpha(stocky ? 1 : 2);
    const double f = fmin(1, 1 - 0.5 * (1 - 1 / sqrt(C1)) * (1 - 2 * pow(lambda - 0.8, 2)));
    const double modified = fmin(fmin(1, 1 / (lambda * lambda)), en_chi(lambda, rolled, rules.lambda_LT_0->value, rules.beta_LT->value) / f);
    return fmin(en_chi(lambda, general, 0.2, 1), modified) * M / rules.gamma_M1->value;
}

/* Lateral force at midspan, or at the tip of an overhang, on the bottom flange: bimoment of a bar that may warp, or may not, at its ends. */
static void lateral(double *M_z, double *B)
{
    const double H = gamma_of() * member.lateral_N, L = fmin(member.span_m, member.hold_m), T = H * (section.h_m / 2 - section.tf_m);
    const double E = rules.E->value, G = rules.G->value, a = sqrt(E * section.Iw_m6 / (G * section.It_m4));
    const bool tip = member.hold == BK_HOLD_OVERHANG;
    *M_z = tip ? H * L : H * L / 4;
    *B = tip ? T * a * tanh(L / a) : T * a / 2 * tanh(L / a / 2);
}

/* EN 1993-6, Annex A, or the bottom flange alone under the lateral load. */
static double en_interaction(void)
{
    const int class = en_class(true);
    if (class == 4) return NAN;
    double M_z, B, C1;
    lateral(&M_z, &B);
    const double M = design_moment(), fy = member.fy_Pa, M_cr = en_M_cr(&C1), g0 = rules.gamma_M0->value, g1 = rules.gamma_M1->value;
    const double flange = (class < 3 ? 0.25 : 1.0 / 6) * section.tf_m * pow(section.b_m, 2) * fy;
    const double alone = M / (en_modulus(class) * fy / g0) + M_z / (flange / g0);
    if (M >= M_cr) return fmax(M / en_ltb(), alone);
    const double of_z = M_z / ((class < 3 ? section.Wplz_m3 : section.Welz_m3) * fy / g1);
    const double of_B = B / (flange / g1 * (section.h_m - section.tf_m));
    const double k_w = fmax(0, 0.7 - 0.2 * of_B), k_zw = fmax(0, 1 - of_z), k_alpha = 1 / (1 - M / M_cr);
    return fmax(alone, M / en_ltb() + rules.C_mz->value * of_z + k_w * k_zw * k_alpha * of_B);
}

/* 6.3.1, Table 6.2, twist 6.3.1.4; EN 1993-1-5, 4.4 for a web of class 4 under even compression. */
static void en_strut(double *N_y, double *N_z)
{
    const double E = rules.E->value, G = rules.G->value, fy = member.fy_Pa;
    if (member.N_N <= 0) {
        *N_y = *N_z = section.area_m2 * fy / rules.gamma_M0->value;
        return;
    }
    int y, z;
    if (section.welded) {
        y = section.tf_m <= 0.040 ? 1 : 2;
        z = y + 1;
    } else if (section.h_m / section.b_m > 1.2) {
        y = section.tf_m <= 0.040 ? 0 : 1;
        z = y + 1;
    } else {
        y = section.tf_m <= 0.100 ? 1 : 3;
        z = section.tf_m <= 0.100 ? 2 : 3;
    }
    const double epsilon = sqrt(235e6 / member.fyw_Pa), c = section.h_m - 2 * section.tf_m - 2 * weld_or_root();
    double A = section.area_m2;
    if (c / section.tw_m > 42 * epsilon) {
        const double lambda_p = c / section.tw_m / (28.4 * epsilon * sqrt(4));
        A -= (1 - fmin(1, (lambda_p - 0.055 * (3 + 1)) / pow(lambda_p, 2))) * c * section.tw_m;
    }
    const double i_0 = (section.Iy_m4 + section.Iz_m4) / section.area_m2;
    const double Euler_y = pow(BK_PI / member.buckling_y_m, 2) * E * section.Iy_m4, Euler_z = pow(BK_PI / member.buckling_z_m, 2) * E * section.Iz_m4;
    const double twist = (G * section.It_m4 + pow(BK_PI / member.hold_m, 2) * E * section.Iw_m6) / i_0;
    *N_y = en_chi(sqrt(A * fy / Euler_y), alpha(y), 0.2, 1) * A * fy / rules.gamma_M1->value;
    *N_z = en_chi(sqrt(A * fy / fmin(Euler_z, twist)), alpha(z), 0.2, 1) * A * fy / rules.gamma_M1->value;
}

/* 6.3.3, Annex B at its bounds: k_yy 1 + 0.8 n_y, k_zz 1 + 1.4 n_z, k_yz 0.6 k_zz (class 3: k_zz), k_zy 1. */
static double en_strut_interaction(void)
{
    const int class = en_class(true);
    if (en_class(false) == 4 || class == 4) return NAN;
    double N_y, N_z;
    en_strut(&N_y, &N_z);
    const double N = gamma_of() * fabs(member.N_N), y = N / N_y, z = N / N_z, m_y = design_moment() / en_ltb();
    const double m_z = gamma_of() * fabs(member.M_z_Nm) / ((class < 3 ? section.Wplz_m3 : section.Welz_m3) * member.fy_Pa / rules.gamma_M1->value);
    const double k_zz = 1 + 1.4 * z, k_yz = class < 3 ? 0.6 * k_zz : k_zz;
    return fmax(y + (1 + 0.8 * y) * m_y + k_yz * m_z, z + m_y + k_zz * m_z);
}

/* EN 1993-6, 5.8 and 7.5: equivalent stresses of the underside at web, wheel and edge, of the upper side under the wheel, across at an end. */
static double en_flange_stress(void)
{
    double x0, x1, x2, y0, y1;
    const double mu = 2 * wheel.edge_m / (section.b_m - section.tw_m);
    coefficients(mu, &x0, &x1, &x2, &y0, &y1);
    const double s = rules.local_share->value * wheel.superposed * wheel.force_N / pow(thickness(), 2), along = wheel.M_Nm / section.Wely_m3;
    double most = mises(along + x0 * s, y0 * s);
    most = fmax(most, mises(along + x1 * s, y1 * s));
    most = fmax(most, mises(along - x1 * s, -y1 * s));
    most = fmax(most, fabs(along + x2 * s));
    most = fmax(most, fmax(fmax(fabs(along + x0 * s), fabs(y0 * s)), fmax(fabs(along + x1 * s), fabs(y1 * s))));
    if (wheel.end_m < section.b_m) most = fmax(most, (5.6 - 3.225 * mu - 2.8 * pow(mu, 3)) * s);
    return most;
}

/* EN 1993-6, 6.7 and Table 6.2. */
static double en_flange_resistance(void)
{
    const double m = (section.b_m - section.tw_m) / 2 - 0.8 * weld_or_root() - wheel.edge_m, B = m + wheel.edge_m;
    if (m <= 0) return NAN;
    const double x = wheel.next_m, e = wheel.end_m, w2 = sqrt(2);
    double l = x >= 4 * w2 * B ? 4 * w2 * B : 2 * w2 * B + x / 2;
    if (e <= 2 * w2 * B) {
        const double fan = 2 * B * (e / m + sqrt(1 + pow(e / m, 2)));
        l = fmin(l, fmin(fan, x >= 2 * w2 * B + e ? 2 * w2 * B + e : w2 * B + (x + e) / 2));
    }
    const double t = thickness(), f = member.fy_Pa / rules.gamma_M0->value;
    const double sigma = gamma_of() * wheel.M_Nm * (section.h_m - t) / 2 / section.Iy_m4;
    return l * pow(fmin(t, section.tf_m), 2) * f / (4 * m) * fmax(0, 1 - pow(sigma / f, 2));
}

/* EN 1993-1-5, 6 with a bearing length of nought, m_2 left out, and 7.2. */
static double en_web(void)
{
    const double h = section.h_m - 2 * section.tf_m, d = fmax(0, bearing.end_m), k = fmin(6, 2 + 6 * d / h), E = rules.E->value, t = section.tw_m, f = member.fyw_Pa;
    const double m_1 = member.fy_Pa * section.b_m / (f * t), l_e = fmin(d, k * E * t * t / (2 * f * h));
    const double inner = 2 * section.tf_m * (1 + sqrt(m_1)), end_1 = l_e + section.tf_m * sqrt(m_1 / 2 + pow(l_e / section.tf_m, 2)),
                 end_2 = l_e + section.tf_m * sqrt(m_1);
    const double l = fmin(inner, fmin(end_1, end_2)), F_cr = 0.9 * k * E * pow(t, 3) / h;
    const double F = fmin(1, 0.5 / sqrt(l * t * f / F_cr)) * l * t * f / rules.gamma_M1->value;
    const double eta = gamma_of() * bearing.M_Nm / (section.Wely_m3 * member.fy_Pa / rules.gamma_M0->value);
    return F * fmax(0, fmin(1, 1.4 - 0.8 * eta));
}

static void setup_en(void)
{
    open_rules("en");
}

static void en_member(void)
{
    draw();
    bk_calc c = {&rules, NULL, BK_MARK_PUBLISHED};
    bk_calc told = new_calc();
    bk_rating r = method->bending(&told, &member);
    SAME(r.demand, design_moment(), "bending, demand");
    SAME(r.limit, en_bending(), "bending");
    SAME(step(&told, "class"), en_class(true), "class");
    r = method->shear(&c, &member);
    SAME(r.demand, design_shear(), "shear, demand");
    SAME(r.limit, en_shear(), "shear");
    r = method->ltb(&c, &member);
    SAME(r.demand, design_moment(), "lateral-torsional buckling, demand");
    SAME(r.limit, en_ltb(), "lateral-torsional buckling");
    r = method->interaction(&c, &member);
    SAME(r.demand, en_interaction(), "interaction");
    SAME(r.limit, isnan(r.demand) ? (double)NAN : 1, "limit of a utilisation");
    double N_y, N_z;
    en_strut(&N_y, &N_z);
    r = method->buckling(&c, &member);
    SAME(r.demand, gamma_of() * fabs(member.N_N), "buckling, demand");
    SAME(r.limit, en_class(false) == 4 ? (double)NAN : fmin(N_y, N_z), "buckling");
    ck_assert_str_eq(r.source, member.N_N > 0 ? "EN 1993-1-1, 6.3.1" : "EN 1993-1-1, 6.2.3");
    r = method->strut_interaction(&c, &member);
    SAME(r.demand, en_strut_interaction(), "strut");
    SAME(r.limit, isnan(r.demand) ? (double)NAN : 1, "limit of a utilisation");
    r = method->flange_stress(&c, &member, &wheel);
    SAME(r.demand, en_flange_stress(), "flange stress, demand");
    SAME(r.limit, member.fy_Pa / rules.gamma_Mser->value, "flange stress");
    r = method->flange_resistance(&c, &member, &wheel);
    SAME(r.demand, gamma_of() * wheel.force_N, "flange resistance, demand");
    SAME(r.limit, en_flange_resistance(), "flange resistance");
    r = method->web_tension(&c, &member, &wheel);
    SAME(r.demand, 2 * gamma_of() * wheel.force_N, "web tension, demand");
    SAME(r.limit, 3.5 * (section.tf_m + (section.welded ? section.a_weld_m : section.r_m)) * section.tw_m * member.fyw_Pa / rules.gamma_M0->value, "web tension");
    r = method->web(&c, &member, &bearing);
    SAME(r.demand, gamma_of() * bearing.force_N, "web at a support, demand");
    SAME(r.limit, en_web(), "web at a support");
}

START_TEST(en_by_lot)
{
    for (number = 0; number < MANY; number++) en_member();
}
END_TEST

/* ---- AISC 360 ----------------------------------------------------------------------------------- */


static double us_web(void)
{
    return (section.h_m - 2 * section.tf_m - 2 * section.r_m) / section.tw_m;
}
static double us_k_c(void)
{
    return fmax(0.35, fmin(0.76, 4 / sqrt(us_web())));
}

/* Table B4.1b, F2.1 and F3.2. */
static double us_local(void)
{
    const double E = rules.E->value, F_y = member.fy_Pa, flange = section.b_m / 2 / section.tf_m, p = 0.38 * sqrt(E / F_y);
    const double r = section.welded ? 0.95 * sqrt(us_k_c() * E / (0.7 * F_y)) : sqrt(E / F_y);
    if (flange > r || us_web() > 3.76 * sqrt(E / member.fyw_Pa)) return NAN;
    const double M_p = F_y * section.Wply_m3;
    return flange <= p ? M_p : M_p + (0.7 * F_y * section.Wely_m3 - M_p) * (flange - p) / (r - p);
}

/* F2; C_b by F1, 1 for an overhang and between close holds, 1 / 1.4^(2 z / d) for a load above the shear centre. */
static double us_moment(void)
{
    const double local = us_local(), E = rules.E->value, F_y = member.fy_Pa, S = section.Wely_m3, M_p = F_y * section.Wply_m3;
    if (isnan(local)) return NAN;
    double C_b = 1;
    if (member.load_height_m > 0) C_b = pow(1.4, -2 * member.load_height_m / section.h_m);
    else if (member.hold == BK_HOLD_SIMPLE || member.hold == BK_HOLD_ENDS)
        C_b = 12.5 * member.M_max_Nm / (2.5 * member.M_max_Nm + 3 * member.M_quarter_Nm[0] + 4 * member.M_quarter_Nm[1] + 3 * member.M_quarter_Nm[2]);
    const double L = fmin(member.span_m, member.hold_m), h_o = section.h_m - section.tf_m, r_ts = sqrt(sqrt(section.Iz_m4 * section.Iw_m6) / S);
    const double L_p = 1.76 * section.iz_m * sqrt(E / F_y), j = section.It_m4 / (S * h_o);
    const double L_r = 1.95 * r_ts * E / (0.7 * F_y) * sqrt(j + sqrt(j * j + 6.76 * pow(0.7 * F_y / E, 2)));
    if (L <= L_p) return fmin(local, M_p * fmin(1, C_b));
    if (L <= L_r) return fmin(local, C_b * (M_p + (0.7 * F_y * S - M_p) * (L - L_p) / (L_r - L_p)));
    const double F_cr = C_b * BK_PI * BK_PI * E / pow(L / r_ts, 2) * sqrt(1 + 0.078 * j * pow(L / r_ts, 2));
    return fmin(local, F_cr * S);
}

/* G2.1. */
static double us_shear(void)
{
    const double E = rules.E->value, F_y = member.fyw_Pa, V = 0.6 * F_y * section.h_m * section.tw_m;
    if (!section.welded && us_web() <= 2.24 * sqrt(E / F_y)) return V / rules.Omega_v->value;
    const double most = 1.10 * sqrt(5.34 * E / F_y);
    return V * (us_web() <= most ? 1 : most / us_web()) / rules.Omega_v_slender->value;
}

/* F6. */
static double us_weak(void)
{
    const double E = rules.E->value, F_y = member.fy_Pa, flange = section.b_m / 2 / section.tf_m, p = 0.38 * sqrt(E / F_y), r = sqrt(E / F_y);
    const double M_p = F_y * fmin(section.Wplz_m3, 1.6 * section.Welz_m3);
    return flange <= p ? M_p : M_p + (0.7 * F_y * section.Welz_m3 - M_p) * (flange - p) / (r - p);
}

/* H1-1b with half of the section for the side thrust. */
static double us_interaction(void)
{
    const double M = us_moment(), H = gamma_of() * member.lateral_N, L = fmin(member.span_m, member.hold_m);
    if (isnan(M)) return NAN;
    return design_moment() / (M / rules.Omega_b->value) + H * L / (member.hold == BK_HOLD_OVERHANG ? 1 : 4) / (us_weak() / rules.Omega_b->value / 2);
}

/* E3, E4, E7, D2. */
static double us_strut(void)
{
    const double E = rules.E->value, G = rules.G->value, F_y = member.fy_Pa;
    if (member.N_N <= 0) return F_y * section.area_m2 / rules.Omega_t->value;
    const double slenderness = fmax(member.buckling_y_m / section.iy_m, member.buckling_z_m / section.iz_m);
    const double flexure = BK_PI * BK_PI * E / pow(slenderness, 2);
    const double twist = (BK_PI * BK_PI * E * section.Iw_m6 / pow(member.hold_m, 2) + G * section.It_m4) / (section.Iy_m4 + section.Iz_m4);
    const double F_e = fmin(flexure, twist), F_cr = F_y / F_e <= 2.25 ? pow(0.658, F_y / F_e) * F_y : 0.877 * F_e;
    double A = section.area_m2;
    const double r = 1.49 * sqrt(E / F_y), h = us_web() * section.tw_m;
    if (us_web() > r * sqrt(F_y / F_cr)) {
        const double F_el = F_y * pow(1.31 * r / us_web(), 2), k = sqrt(F_el / F_cr);
        A -= (h - h * k * (1 - 0.18 * k)) * section.tw_m;
    }
    return F_cr * A / rules.Omega_c->value;
}

/* Table B4.1a. */
static bool us_slender_flange(void)
{
    const double E = rules.E->value;
    return member.N_N > 0 && section.b_m / 2 / section.tf_m > (section.welded ? 0.64 * sqrt(us_k_c() * E / member.fy_Pa) : 0.56 * sqrt(E / member.fy_Pa));
}

/* H1-1, moments grown by Appendix 8 with C_m = 1 and the lesser Euler load, no further than a hundredfold. */
static double us_strut_interaction(void)
{
    const double M = us_moment(), E = rules.E->value, P = gamma_of() * fabs(member.N_N), P_c = us_strut();
    if (us_slender_flange() || isnan(M)) return NAN;
    double B_1 = 1;
    if (member.N_N > 0) {
        const double P_e = BK_PI * BK_PI * E * fmin(section.Iy_m4 / pow(member.buckling_y_m, 2), section.Iz_m4 / pow(member.buckling_z_m, 2));
        B_1 = 1 / (1 - fmin(0.99, 1.6 * P / P_e));
    }
    const double m = B_1 * (design_moment() / M + gamma_of() * fabs(member.M_z_Nm) / us_weak()) * rules.Omega_b->value;
    return P / P_c >= 0.2 ? P / P_c + m * 8 / 9 : P / P_c / 2 + m;
}

/* Crane practice (CMAA 74, 3.3.2.6): both sides of the flange at the web and under the wheel. */
static double us_flange_stress(void)
{
    double x0, x1, x2, y0, y1;
    coefficients(2 * wheel.edge_m / (section.b_m - section.tw_m), &x0, &x1, &x2, &y0, &y1);
    const double s = rules.local_share->value * wheel.superposed * wheel.force_N / pow(thickness(), 2), along = wheel.M_Nm / section.Wely_m3;
    return fmax(fmax(mises(along + x0 * s, y0 * s), mises(along - x0 * s, -y0 * s)), fmax(mises(along + x1 * s, y1 * s), mises(along - x1 * s, -y1 * s)));
}

static void setup_us(void)
{
    open_rules("us");
}

static void us_member(void)
{
    draw();
    bk_calc c = {&rules, NULL, BK_MARK_PUBLISHED};
    const double Omega = rules.Omega_b->value;
    bk_rating r = method->bending(&c, &member);
    SAME(r.demand, design_moment(), "bending, demand");
    SAME(r.limit, us_local() / Omega, "bending");
    r = method->shear(&c, &member);
    SAME(r.demand, design_shear(), "shear, demand");
    SAME(r.limit, us_shear(), "shear");
    r = method->ltb(&c, &member);
    SAME(r.demand, design_moment(), "lateral-torsional buckling, demand");
    SAME(r.limit, us_moment() / Omega, "lateral-torsional buckling");
    r = method->interaction(&c, &member);
    SAME(r.demand, us_interaction(), "interaction");
    SAME(r.limit, isnan(r.demand) ? (double)NAN : 1, "limit of a utilisation");
    r = method->buckling(&c, &member);
    SAME(r.demand, gamma_of() * fabs(member.N_N), "buckling, demand");
    SAME(r.limit, us_slender_flange() ? (double)NAN : us_strut(), "buckling");
    ck_assert_str_eq(r.source, member.N_N > 0 ? "AISC 360, E3 and E4" : "AISC 360, D2");
    r = method->strut_interaction(&c, &member);
    SAME(r.demand, us_strut_interaction(), "strut");
    SAME(r.limit, isnan(r.demand) ? (double)NAN : 1, "limit of a utilisation");
    r = method->flange_stress(&c, &member, &wheel);
    SAME(r.demand, us_flange_stress(), "flange stress, demand");
    SAME(r.limit, rules.flange_stress_share->value * member.fy_Pa, "flange stress");
    r = method->flange_resistance(&c, &member, &wheel);
    /* J10.1 for both wheels, or the bending of the flange over a width of 2 e (AISC Steel Interchange 12/1999) */
    const double end = wheel.end_m < 10 * section.tf_m ? 0.5 : 1, P = gamma_of() * wheel.force_N, t2 = pow(thickness(), 2);
    const double R = end * 6.25 * t2 * member.fy_Pa / rules.Omega_flange->value, f = 3 * P / (end * t2), allowed = rules.flange_bending_share->value * member.fy_Pa;
    const bool pair = 2 * P / R > f / allowed;
    SAME(r.demand, pair ? 2 * P : f, "flange resistance, demand");
    SAME(r.limit, pair ? R : allowed, "flange resistance");
    ck_assert_int_eq(r.dim, pair ? BK_DIM_FORCE : BK_DIM_STRESS);
    r = method->web_tension(&c, &member, &wheel);
    SAME(r.demand, 2 * P, "web tension, demand");
    SAME(r.limit, 3.5 * (section.tf_m + section.r_m) * section.tw_m * member.fyw_Pa / rules.Omega_yielding->value, "web tension");
    r = method->web(&c, &member, &bearing);
    /* J10.2 and J10.3 */
    const double k = section.tf_m + (section.welded ? section.a_weld_m : section.r_m), tw = section.tw_m, F = member.fyw_Pa;
    const double yields = (bearing.end_m > section.h_m ? 5 : 2.5) * k * tw * F / rules.Omega_yielding->value;
    const double cripples = (bearing.end_m >= section.h_m / 2 ? 0.80 : 0.40) * tw * tw * sqrt(rules.E->value * F * section.tf_m / tw) / rules.Omega_crippling->value;
    SAME(r.demand, gamma_of() * bearing.force_N, "web at a support, demand");
    SAME(r.limit, fmin(yields, cripples), "web at a support");
}

START_TEST(us_by_lot)
{
    for (number = 0; number < MANY; number++) us_member();
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("strength by lot");
    TCase *en = tcase_create("EN 1993"), *us = tcase_create("AISC 360");
    tcase_add_checked_fixture(en, setup_en, close_rules);
    tcase_add_test(en, en_by_lot);
    tcase_add_checked_fixture(us, setup_us, close_rules);
    tcase_add_test(us, us_by_lot);
    suite_add_tcase(suite, en);
    suite_add_tcase(suite, us);
    return run(suite);
}
