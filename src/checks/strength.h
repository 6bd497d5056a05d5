/* strength: is a steel member strong enough?  One piece of code for runways and for beams inside a body.
 *
 * A member is a section, a steel, a length between holds and the moments of one state; a rule set's method
 * (strength_en.c, strength_us.c) rates it.  Every rate returns demand and limit and records its working.
 * y-y strong axis, z-z weak axis, x along the beam; SI; moments and shears as magnitudes unless said.
 *
 *     runways.c, beams.c ──► bk_member, bk_wheel, bk_bearing ──► bk_strength_method ──► bk_rating ──► finding
 */
#ifndef BK_CHECKS_STRENGTH_H
#define BK_CHECKS_STRENGTH_H

#include "list.h"

/* ---- rule values -------------------------------------------------------------------------------- */

/* Field, name in the rule set after "beam.", dimension.  Those of BK_BEAM_RULES are needed by both methods. */
#define BK_BEAM_RULES(X)                                                                                     \
    X(E, "E", STRESS)                                                                                        \
    X(G, "G", STRESS)                                                                                        \
    X(gamma_G, "gamma_G", NONE)                                                                              \
    X(gamma_G_inf, "gamma_G_inf", NONE)                                                                      \
    X(gamma_Q, "gamma_Q", NONE)                                                                              \
    X(gamma_stalled, "gamma_stalled", NONE)                                                                  \
    X(lifting_factor, "lifting_factor", NONE)                                                                \
    X(lateral_share, "lateral_share", NONE)                                                                  \
    X(torsion_ignored, "torsion_ignored", NONE)                                                              \
    X(local_share, "flange.local_share", NONE)                                                               \
    X(superpose_within, "flange.superpose_within", NONE)
#define BK_BEAM_RULES_EN(X)                                                                                  \
    X(gamma_M0, "gamma_M0", NONE)                                                                            \
    X(gamma_M1, "gamma_M1", NONE)                                                                            \
    X(gamma_M2, "gamma_M2", NONE)                                                                            \
    X(gamma_Mser, "gamma_Mser", NONE)                                                                        \
    X(alpha_a, "alpha_a", NONE)                                                                              \
    X(alpha_b, "alpha_b", NONE)                                                                              \
    X(alpha_c, "alpha_c", NONE)                                                                              \
    X(alpha_d, "alpha_d", NONE)                                                                              \
    X(lambda_LT_0, "lambda_LT_0", NONE)                                                                      \
    X(beta_LT, "beta_LT", NONE)                                                                              \
    X(C1_uniform, "C1_uniform", NONE)                                                                        \
    X(C2_above, "C2_above", NONE)                                                                            \
    X(C2_below, "C2_below", NONE)                                                                            \
    X(C2_ends_held, "C2_ends_held", NONE)                                                                    \
    X(C_mz, "C_mz", NONE)                                                                                    \
    X(eta, "eta", NONE)                                                                                      \
    X(k_2, "k_2", NONE)
#define BK_BEAM_RULES_US(X)                                                                                  \
    X(Omega_b, "Omega_b", NONE)                                                                              \
    X(Omega_c, "Omega_c", NONE)                                                                              \
    X(Omega_t, "Omega_t", NONE)                                                                              \
    X(Omega_v, "Omega_v", NONE)                                                                              \
    X(Omega_v_slender, "Omega_v_slender", NONE)                                                              \
    X(Omega_flange, "Omega_flange", NONE)                                                                    \
    X(Omega_yielding, "Omega_yielding", NONE)                                                                \
    X(Omega_crippling, "Omega_crippling", NONE)                                                              \
    X(Omega_bolt, "Omega_bolt", NONE)                                                                        \
    X(flange_stress_share, "flange.stress_share", NONE)                                                      \
    X(flange_bending_share, "flange.bending_share", NONE)
/* Deflection limits: a rule set need not have them all. */
#define BK_BEAM_RULES_OPTIONAL(X)                                                                            \
    X(deflection_payload, "deflection.payload", NONE)                                                        \
    X(deflection_total, "deflection.total", NONE)                                                            \
    X(deflection_total_most, "deflection.total_most", LENGTH)                                                \
    X(deflection_overhang, "deflection.overhang", NONE)                                                      \
    X(deflection_lateral, "deflection.lateral", NONE)                                                        \
    X(deflection_lateral_share, "deflection.lateral_share", NONE)

/* Coefficient = constant + linear mu + factor e^(exponent mu): along the beam at 0 web, 1 wheel, 2 edge;
 * across at 0 and 1. */
typedef struct bk_flange_curve {
    double constant, linear, factor, exponent;
    const char *source;
    bk_mark mark;
} bk_flange_curve;
enum { BK_CX0, BK_CX1, BK_CX2, BK_CY0, BK_CY1, BK_FLANGE_CURVES };

typedef struct bk_beam_rules {
#define X(field, name, dim) const bk_rule *field;
    BK_BEAM_RULES(X)
    BK_BEAM_RULES_EN(X) BK_BEAM_RULES_US(X) BK_BEAM_RULES_OPTIONAL(X)
#undef X
        const bk_bands *C1_spread; /* EN: C1 by distance between the outermost wheels over the span */
    const bk_flange_curve *parallel, *taper; /* (BK_FLANGE_CURVES) */
} bk_beam_rules;

/* ---- what is rated ------------------------------------------------------------------------------ */

/* What multiplies the forces of a state. */
typedef enum bk_state_kind { BK_STATE_DYNAMIC, BK_STATE_STALLED, BK_STATE_LIFTING } bk_state_kind;

/* Where the lateral restraints of a member are, and so which moment shape stands between them. */
typedef enum bk_hold {
    BK_HOLD_SIMPLE,  /* held at both ends, greatest moment between them under loads about midspan */
    BK_HOLD_ENDS,    /* held at both ends, any moments: those at the quarter points give the shape */
    BK_HOLD_UNIFORM, /* the moment is taken as uniform between the holds: safe whatever it is */
    BK_HOLD_OVERHANG /* held at the support only */
} bk_hold;

typedef struct bk_member {
    const bk_section *section;
    const char *section_from, *steel_from; /* sources */
    bk_mark section_mark, steel_mark;
    double fy_Pa, fyw_Pa, fu_Pa;       /* flange, web, tensile */
    double span_m;                     /* support to support, or the overhang's length */
    double hold_m;                     /* distance between lateral holds; the overhang's length */
    double buckling_y_m, buckling_z_m; /* of a strut */
    bk_hold hold;
    double load_height_m; /* z_g: of the load above the shear centre */
    double spread_m;      /* distance between the outermost wheels that load it */
    bk_state_kind state;
    double lifting_factor; /* BK_STATE_LIFTING: on all forces */
    const char *lifting_by;
    double M_G_Nm, M_Q_Nm;  /* parts of the moment, signed: own weight and standing loads, trolleys */
    double M_quarter_Nm[3]; /* |M| at the quarter points of the span, in the same state */
    double M_max_Nm;        /* greatest |M| of the span in that state */
    double V_N;             /* greatest shear of the span, no partial factor */
    double lateral_N;       /* lateral force on the bottom flange, no partial factor */
    double M_z_Nm, N_N;     /* beams: given; N compression + */
} bk_member;

/* One wheel on the bottom flange. */
typedef struct bk_wheel {
    double force_N;    /* no partial factor */
    double edge_m;     /* n: flange edge to wheel centre line */
    double next_m;     /* x_w: to the next wheel along the beam; INFINITY for one alone */
    double end_m;      /* x_e: to the beam's free end; INFINITY when far from it */
    double M_Nm;       /* global moment there, no partial factor, magnitude */
    double superposed; /* wheels whose full local stress meets here, itself included */
} bk_wheel;

/* A reaction carried into the web. */
typedef struct bk_bearing {
    double force_N; /* no partial factor */
    double end_m;   /* to the nearer end of the beam */
    double M_Nm;    /* moment there, no partial factor, magnitude */
} bk_bearing;

/* ---- rating ------------------------------------------------------------------------------------- */

typedef struct bk_calc {
    const bk_beam_rules *rules;
    bk_working *w; /* NULL: no working wanted */
    bk_mark mark;  /* least sure number used so far */
} bk_calc;

typedef struct bk_rating {
    double demand, limit; /* limit NaN: not covered by the method, note says why */
    bk_dim dim;
    const char *source, *note;
    bk_mark mark;
} bk_rating;

/* What a method does not rate: no limit, and why. */
bk_rating bk_rating_not_covered(const bk_calc *c, bk_dim dim, double demand, const char *source,
                                const char *why);
/* Demand over limit, to find what governs.  Where the method does not cover it, it comes before all that passes and after
 * all that fails. */
double bk_rating_use(bk_rating rating);

typedef bk_rating bk_rate_member(bk_calc *c, const bk_member *m);
typedef bk_rating bk_rate_wheel(bk_calc *c, const bk_member *m, const bk_wheel *wheel);
typedef bk_rating bk_rate_bearing(bk_calc *c, const bk_member *m, const bk_bearing *bearing);

typedef struct bk_strength_method {
    const char *name; /* value of the rule beam.method */
    bk_rate_member *bending, *shear, *ltb, *interaction, *buckling, *strut_interaction;
    bk_rate_wheel *flange_stress, *flange_resistance, *web_tension;
    bk_rate_bearing *web;
} bk_strength_method;

extern const bk_strength_method bk_strength_en, bk_strength_us;

/* The method of the rule set and all its values.  BK_E_RULE names what is missing. */
bk_status bk_strength_of_rules(const bk_check_input *in, bk_arena *arena, bk_beam_rules *rules,
                               const bk_strength_method **method, bk_errors *errors);

/* ---- shared by the methods ---------------------------------------------------------------------- */

static inline void bk_calc_mark(bk_calc *c, bk_mark mark)
{
    if (mark > c->mark) c->mark = mark; /* bk_mark rises from sure to unsure */
}
static inline double bk_calc_rule(bk_calc *c, const bk_rule *rule)
{
    bk_calc_mark(c, rule->mark);
    return rule->value;
}
/* Records a given value unless the last one of that symbol is the same; returns it. */
double bk_calc_given(bk_calc *c, const char *symbol, double value, bk_dim dim, const char *source);
/* Declares and records a given value; a value of the rule set under its own symbol. */
#define BK_TAKE(c, name, value, dim, source)                                                                 \
    const double name = bk_calc_given((c), #name, (value), BK_DIM_##dim, (source))
#define BK_RULE(c, symbol, dim)                                                                              \
    BK_TAKE((c), symbol, bk_calc_rule((c), (c)->rules->symbol), dim, (c)->rules->symbol->source)

/* Design values with the partial factors of the member's state; recorded as M_y, V_z, H. */
double bk_design_moment(bk_calc *c, const bk_member *m);
double bk_design_shear(bk_calc *c, const bk_member *m);
double bk_design_lateral(bk_calc *c, const bk_member *m);
/* Partial factor on a wheel, a reaction or an axial force of that state, recorded as gamma. */
double bk_design_factor(bk_calc *c, const bk_member *m);

/* Moment about the weak axis, torque and bimoment of the design lateral force H; recorded as M_z, T, B. */
typedef struct bk_lateral {
    double M_z_Nm, T_Nm, B_Nm2;
} bk_lateral;
bk_lateral bk_lateral_effects(bk_calc *c, const bk_member *m);

/* Flange thickness under the wheel, exact geometry of a taper flange; recorded as t_1. */
double bk_flange_thickness_at(bk_calc *c, const bk_section *s, double edge_m);
/* The five coefficients at mu; recorded as c_x0 ... c_y1. */
void bk_flange_coefficients(bk_calc *c, const bk_section *s, double mu, double out[BK_FLANGE_CURVES]);

/* Effective length of the bottom flange for one wheel, m and n as in EN 1993-6, 6.7; recorded as l_eff. */
double bk_flange_effective_length(bk_calc *c, double lever_m, double edge_m, double next_m, double end_m);

#endif
