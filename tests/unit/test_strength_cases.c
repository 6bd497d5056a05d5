/* Runways and beams in a rig, case by case: what is looked at, where, and what is told.
 *
 * Figures beside the cases are worked by hand from the statics of determinate beams and the tables of any handbook.  The
 * strength formulae themselves are held by the reference tests.  Section values: EN 10365 as printed.
 */
#include "assess.h"

#include <becket/working.h>

#define BEAM(more, section, steel, rest) "becket: 1\n" more "dynamic: {factor: 1}\nrunways:\n  bay:\n    section: " section "\n    steel: " steel "\n" rest

static double step(const bk_finding *f, const char *symbol)
{
    ck_assert_ptr_nonnull(f->working);
    for (size_t i = f->working->n; i-- > 0;)
        if (strcmp(f->working->steps[i].symbol, symbol) == 0) return f->working->steps[i].value;
    ck_abort_msg("%s: no step %s", f->check, symbol);
    return 0;
}

static bool has_step(const bk_finding *f, const char *symbol)
{
    for (size_t i = f->working ? f->working->n : 0; i-- > 0;)
        if (strcmp(f->working->steps[i].symbol, symbol) == 0) return true;
    return false;
}

static const char *source_of(const bk_finding *f, const char *symbol)
{
    for (size_t i = f->working->n; i-- > 0;)
        if (strcmp(f->working->steps[i].symbol, symbol) == 0) return f->working->steps[i].source;
    ck_abort_msg("%s: no step %s", f->check, symbol);
    return NULL;
}

static const bk_finding *nth(const bench *b, const char *check, size_t n)
{
    ck_assert_int_eq(b->status, BK_OK);
    for (size_t i = 0; i < b->a->findings->n; i++)
        if (strcmp(b->a->findings->at[i].check, check) == 0 && n-- == 0) return &b->a->findings->at[i];
    ck_abort_msg("no finding %s", check);
    return NULL;
}

#define NEAR(have, wanted) ck_assert_double_eq_tol((have), (wanted), 1e-3 * fabs((double)(wanted)) + 1e-9)

/* ---- moments of a span -------------------------------------------------------------------------- */

/* A load at the tip of an overhang of 1 m behind a span of 9 m: 20 kNm at the support, falling evenly to nought: 15, 10 and 5 at
 * the quarters.  The span buckles first: it is 4.5 times as long as twice the overhang. */
START_TEST(moments_of_a_span_behind_an_overhang)
{
    bench b;
    bench_open(&b, BEAM("", "heb/200", "en10025-2/S235",
                        "    ends: [-1 m, 9 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 9 m, limit: 90 kN, uplift_limit: 9 kN}]\n"
                        "    trolleys: {t: {travel: [-1 m, -1 m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.lateral_torsional_buckling", 0);
    NEAR(step(f, "M_max"), 20e3);
    NEAR(step(f, "M_A"), 15e3);
    NEAR(step(f, "M_B"), 10e3);
    NEAR(step(f, "M_C"), 5e3);
    NEAR(step(f, "L_LT"), 9);
    ck_assert_ptr_nonnull(strstr(source_of(f, "L_LT"), "between lateral holds"));
    NEAR(step(f, "M_Q"), -20e3);
    NEAR(step(f, "M_G"), 0);
    bench_close(&b);
    /* the other way round, with the beam's own weight: HEB 200, 61.3 kg/m: w/2 at the support of the overhang */
    bench_open(&b, BEAM("", "heb/200", "en10025-2/S235",
                        "    ends: [0 m, 10 m]\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 9 kN}, {at: 9 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [10 m, 10 m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"));
    f = nth(&b, "runway.lateral_torsional_buckling", 0);
    const double w = 61.3 * G;
    NEAR(step(f, "M_G"), -w / 2);
    NEAR(step(f, "M_Q"), -20e3);
    /* own weight in the span: w x (L - x) / 2 up, against what the overhang's 0.5 w leaves of it */
    for (int i = 0; i < 3; i++) {
        const char *const at[] = {"M_A", "M_B", "M_C"};
        const double x = 9.0 * (i + 1) / 4;
        NEAR(step(f, at[i]), fabs(w * x * (9 - x) / 2 - (w / 2 + 20e3) * x / 9));
    }
    bench_close(&b);
}
END_TEST

/* Built in at the left, carried at the right, a load P at midspan: 3/16 P L at the wall, 5/32 P L under it (any handbook).
 * Quarter points: P L (-3/16 + 11/64, 5/32, 5/64). */
START_TEST(moments_of_a_span_that_is_built_in)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 8 m]\n    self_weight: no\n    supports: [{at: 0 m, fixed: yes, limit: 90 kN}, {at: 8 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [4 m, 4 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.lateral_torsional_buckling", 0);
    const double PL = 9e3 * 8;
    NEAR(step(f, "M_max"), PL * 3 / 16);
    NEAR(step(f, "M_A"), PL / 64);
    NEAR(step(f, "M_B"), PL * 5 / 32);
    NEAR(step(f, "M_C"), PL * 5 / 64);
    ck_assert(bench_assumes(&b, "holds the beam's slope"));
    bench_close(&b);
    /* the same seen in a mirror */
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 8 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 8 m, fixed: yes, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [4 m, 4 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    f = nth(&b, "runway.lateral_torsional_buckling", 0);
    NEAR(step(f, "M_max"), PL * 3 / 16);
    NEAR(step(f, "M_A"), PL * 5 / 64);
    NEAR(step(f, "M_C"), PL / 64);
    bench_close(&b);
}
END_TEST

/* Wheels about midspan on a beam without other loads count as those of a single span; a trolley that comes no nearer to the middle than
 * 0.12 of the span, or a load that stands there for good, has the span's own moments.  Restraints within the span: uniform moment. */
START_TEST(which_picture_of_a_span_is_taken)
{
    const struct { const char *travel, *more; bool one_span; } cases[] = {
        {"[0.3 m, 4.7 m]", "", true}, {"[0.3 m, 1.95 m]", "", true},  {"[0.3 m, 1.85 m]", "", false}, {"[3.05 m, 4.7 m]", "", true},
        {"[3.15 m, 4.7 m]", "", false}, {"[0.3 m, 4.7 m]", "    loads: [{at: 2.4 m, force: 1 kN}]\n", false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[1200];
        bench b;
        snprintf(text, sizeof text, BEAM("", "ipe/300", "en10025-2/S235",
                 "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n%s"
                 "    trolleys: {t: {travel: %s, wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"), cases[i].more, cases[i].travel);
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.lateral_torsional_buckling", 0);
        ck_assert_msg(has_step(f, "share_G") == cases[i].one_span && has_step(f, "M_A") != cases[i].one_span, "case %zu", i);
        if (cases[i].one_span) NEAR(step(f, "C_1_Q"), 1.348); /* NCCI SN003, one point load: the wheels stand at one place */
        bench_close(&b);
    }
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    self_weight: no\n    restraint: 1.25 m\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0.3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.lateral_torsional_buckling", 0);
    NEAR(step(f, "L_LT"), 1.25);
    NEAR(step(f, "C_1"), 1);
    ck_assert(!has_step(f, "share_G") && !has_step(f, "M_A"));
    bench_close(&b);
}
END_TEST

/* Two trolleys on two spans: the lateral load of a span is that of what stands on it, and the wheels that count are its own; where they stand
 * is told by name.  The heavier one, 4 wheels on a base of 0.4 m, governs in the second span. */
START_TEST(lateral_load_of_a_span)
{
    bench b;
    bench_open(&b, BEAM("", "heb/200", "en10025-2/S235",
                        "    ends: [0 m, 12 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 9 kN}, {at: 6 m, limit: 90 kN}, {at: 12 m, limit: 90 kN}]\n"
                        "    trolleys:\n      light: {travel: [1 m, 5 m], wheels: 2, wheel_to_edge: 30 mm, load: 4 kN, mass: 50 kg}\n"
                        "      heavy: {travel: [7 m, 11 m], wheels: 4, wheel_base: 0.4 m, wheel_to_edge: 30 mm, load: 20 kN, mass: 100 kg}\n"));
    const bk_finding *f = nth(&b, "runway.interaction", 0);
    NEAR(step(f, "H_k"), 0.05 * (20e3 + 100 * G)); /* EN 1991-3, 2.5 (memory) */
    ck_assert_ptr_nonnull(strstr(f->where, "empty trolley light at "));
    ck_assert_ptr_nonnull(strstr(f->where, ", trolley heavy at "));
    bench_close(&b);
}
END_TEST

/* ---- what is said ------------------------------------------------------------------------------- */

START_TEST(what_a_runway_says_and_leaves_unsaid)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    lateral: 10 %\n    end_stops: yes\n    load_height: 0.1 m\n    restraint: 1 m\n"
                        "    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0.3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    const char *const unsaid[] = {"the lateral load is", "no end stops", "height of the shear centre", "nowhere else", "wheel against wheel", "without stabilising",
                                  "holds the beam's slope", "share it equally", "steadying the beam"};
    for (size_t i = 0; i < sizeof unsaid / sizeof *unsaid; i++) ck_assert_msg(!bench_assumes(&b, unsaid[i]), "%s", unsaid[i]);
    ck_assert(bench_assumes(&b, "at the restraints stated"));
    ck_assert(bench_assumes(&b, "trolley t is not"));
    ck_assert(bench_assumes(&b, "solid finite elements"));
    bench_close(&b);
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    load_height: -0.1 m\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    loads: [{at: 2 m, force: 3 kN}]\n"));
    const char *const no_trolley[] = {"the lateral load is", "no end stops", "wheel against wheel", "solid finite elements"};
    for (size_t i = 0; i < sizeof no_trolley / sizeof *no_trolley; i++) ck_assert_msg(!bench_assumes(&b, no_trolley[i]), "%s", no_trolley[i]);
    ck_assert(bench_assumes(&b, "load_height below the shear centre is not counted without stabilising"));
    bench_close(&b);
    /* an anchor speaks for its trolley */
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys:\n      t: {travel: [0.3 m, 2 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}\n      u: {travel: [3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm}\n"
                        "bodies: {load: {mass: 500 kg, cog: 0 0 0 m, at: 4 0 0 m, points: {a: 0 0 1 m}}}\n"
                        "anchors: {eye: {at: 4 0 3 m, on: bay.u}}\nlines: {l: {from: eye, to: load.a, ea: 5 MN, mass: 0 kg, parts: [{what: sling, wll: 9 kN}]}}\n"));
    ck_assert(bench_assumes(&b, "trolley t is not"));
    ck_assert(!bench_assumes(&b, "trolley u is not"));
    ck_assert(bench_assumes(&b, "wheel against wheel"));
    ck_assert(bench_assumes(&b, "no end stops"));
    ck_assert(bench_assumes(&b, "eye hangs on trolley u"));
    bench_close(&b);
}
END_TEST

/* Nothing is known of the steel: the moment is told, P L / 4 of a simple span, or P c of an overhang where that is more. */
START_TEST(a_beam_of_unknown_steel)
{
    const char *const travel[] = {"[0.3 m, 4.7 m]", "[5 m, 6.5 m]"};
    const double moment[] = {9e3 * 5 / 4, 9e3 * 1.5};
    for (int i = 0; i < 2; i++) {
        char text[900];
        bench b;
        snprintf(text, sizeof text, "becket: 1\ndynamic: {factor: 1}\nrunways:\n  bay:\n    section: ipe/300\n    ends: [0 m, 6.5 m]\n    self_weight: no\n"
                 "    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 9 kN}, {at: 5 m, limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: %s, wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n", travel[i]);
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.bending", 0);
        NEAR(f->demand, moment[i]);
        ck_assert(!f->checked);
        bench_close(&b);
    }
}
END_TEST

/* ---- wheels ------------------------------------------------------------------------------------- */

/* Two trolleys on HEA 200, whose wheels within 1.5 b = 300 mm of each other load the flange together (EN 1993-6, 5.8).  Which of them is the
 * heavier, and on which side the other stands, makes no difference; nor that other's load. */
START_TEST(wheels_that_come_near)
{
    const struct { const char *heavy, *light, *more_heavy, *more_light; double wheels, next; } cases[] = {
        /* travels meet: heavy has two axles 0.2 apart, light one axle, two, or two more than 0.3 m apart */
        {"[0.5 m, 4 m]", "[3 m, 6 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 2", 3, 0},
        {"[0.5 m, 4 m]", "[3 m, 6 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 4, wheel_base: 250 mm", 4, 0},
        {"[0.5 m, 4 m]", "[3 m, 6 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 4, wheel_base: 350 mm", 3, 0},
        {"[0.5 m, 4 m]", "[3 m, 6 m]", "wheels: 4, wheel_base: 350 mm", "wheels: 4, wheel_base: 350 mm", 2, 0},
        {"[0.5 m, 4 m]", "[3 m, 6 m]", "wheels: 2", "wheels: 2", 2, 0},
        {"[0.5 m, 4 m]", "[6 m, 6.5 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 2", 2, 0.2},
        {"[0.5 m, 4 m]", "[6 m, 6.5 m]", "wheels: 2", "wheels: 2", 1, 2},
        {"[0.5 m, 4 m]", "[6 m, 6.5 m]", "wheels: 4, wheel_base: 350 mm", "wheels: 2", 1, 0.35},
        /* 0.3 m between the travels, 0.1 to the first wheel of each: 0.1 between wheels; light's second axle 0.1 + 0.2 off */
        {"[0.5 m, 3 m]", "[3.3 m, 6 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 4, wheel_base: 199 mm", 4, 0.1005},
        {"[0.5 m, 3 m]", "[3.3 m, 6 m]", "wheels: 4, wheel_base: 200 mm", "wheels: 4, wheel_base: 220 mm", 3, 0.09},
        /* 0.301 apart: by themselves; 0.299: not */
        {"[0.5 m, 3 m]", "[3.301 m, 6 m]", "wheels: 2", "wheels: 2", 1, 0.301},
        {"[0.5 m, 3 m]", "[3.299 m, 6 m]", "wheels: 2", "wheels: 2", 2, 0.299},
    };
    for (size_t i = 0; i < 4 * (sizeof cases / sizeof *cases); i++) {
        const size_t k = i / 4;
        const bool second = i % 2, mirrored = i / 2 % 2; /* heavy after light; heavy on the right */
        char heavy[300], light[300], text[1500], travel[2][40];
        for (int j = 0; j < 2; j++) {
            double from, to;
            ck_assert_int_eq(sscanf(j ? cases[k].light : cases[k].heavy, "[%lf m, %lf m]", &from, &to), 2);
            snprintf(travel[j], sizeof travel[j], "[%.4f m, %.4f m]", mirrored ? 7 - to : from, mirrored ? 7 - from : to);
        }
        snprintf(heavy, sizeof heavy, "      heavy: {travel: %s, %s, wheel_to_edge: 22 mm, load: 12 kN}\n", travel[0], cases[k].more_heavy);
        snprintf(light, sizeof light, "      light: {travel: %s, %s, wheel_to_edge: 35 mm, load: 0.3 kN}\n", travel[1], cases[k].more_light);
        snprintf(text, sizeof text, BEAM("", "hea/200", "en10025-2/S355",
                 "    ends: [-2 m, 9 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 7 m, limit: 90 kN}]\n    trolleys:\n%s%s"),
                 second ? light : heavy, second ? heavy : light);
        bench b;
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.flange_stress", 0);
        ck_assert_msg(step(f, "wheels") == cases[k].wheels, "case %zu: %g wheels, not %g", i, step(f, "wheels"), cases[k].wheels);
        NEAR(step(f, "n"), 0.022);
        NEAR(step(f, "F_z"), 12e3 / (strstr(cases[k].more_heavy, "wheels: 4") ? 4 : 2));
        f = nth(&b, "runway.flange_resistance", 0);
        ck_assert_double_eq_tol(step(f, "x_w"), cases[k].next, 1e-9);
        bench_close(&b);
    }
}
END_TEST

/* Exactly 1.5 b away is within: a flange of 250 mm, wheels 375 mm apart on one trolley, on two, and the second axle of the other. */
START_TEST(wheels_just_within_reach)
{
    const struct { const char *one, *other; double wheels; } cases[] = {
        {"[0.5 m, 3 m], wheels: 4, wheel_base: 375 mm", "[6 m, 6.5 m], wheels: 2", 2}, {"[0.5 m, 3 m], wheels: 2", "[3.375 m, 6.5 m], wheels: 2", 2},
        {"[0.5 m, 3 m], wheels: 2", "[3.25 m, 6.5 m], wheels: 4, wheel_base: 250 mm", 3}};
    for (int i = 0; i < 3; i++) {
        char text[1200];
        bench b;
        snprintf(text, sizeof text, BEAM("", "{h: 250 mm, b: 250 mm, tw: 7 mm, tf: 12 mm, r: 15 mm}", "en10025-2/S355",
                 "    ends: [-2 m, 9 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 7 m, limit: 90 kN}]\n    trolleys:\n"
                 "      one: {travel: %s, wheel_to_edge: 22 mm, load: 12 kN}\n      other: {travel: %s, wheel_to_edge: 22 mm, load: 0.3 kN}\n"),
                 cases[i].one, cases[i].other);
        bench_open(&b, text);
        ck_assert_msg(step(nth(&b, "runway.flange_stress", 0), "wheels") == cases[i].wheels, "case %d", i);
        bench_close(&b);
    }
}
END_TEST

/* The moment beside a wheel is the greatest of the spans that it reaches.  A load of 60 kN stands at the middle of the first of two spans of
 * 6 m: 13/64 P L under it, 3/32 P L over the middle support (any handbook), P L / 4 less half of that hogging in the second.  A light trolley
 * that stops short of the support sees the hogging alone; one that comes to it stands on both spans. */
START_TEST(the_moment_that_a_wheel_meets)
{
    const double PL = 60e3 * 6;
    const struct { const char *travel; double share; } cases[] = {
        {"[7 m, 11 m]", 3.0 / 32}, {"[6 m, 11 m]", 13.0 / 64}, {"[5.9 m, 11 m]", 13.0 / 64}, {"[1 m, 6 m]", 13.0 / 64},
        {"[6.2 m, 11 m], wheel_base: 0.3 m", 3.0 / 32}, {"[6.2 m, 11 m], wheel_base: 0.5 m", 13.0 / 64}};
    for (int i = 0; i < 12; i++) {
        char text[1200];
        double from, to;
        bench b;
        ck_assert_int_eq(sscanf(cases[i % 6].travel, "[%lf m, %lf m]", &from, &to), 2);
        const char *base = strstr(cases[i % 6].travel, ", wheel_base");
        if (i >= 6) { /* in a mirror */
            const double swap = 12 - from;
            from = 12 - to;
            to = swap;
        }
        snprintf(text, sizeof text, BEAM("", "heb/300", "en10025-2/S235",
                 "    ends: [0 m, 12 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 6 m, limit: 90 kN}, {at: 12 m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                 "    loads: [{at: %d m, force: 60 kN}]\n"
                 "    trolleys: {t: {travel: [%g m, %g m], wheels: %d, wheel_to_edge: 40 mm, load: 10 N%s}}\n"), i < 6 ? 3 : 9, from, to, base ? 4 : 2, base ? base : "");
        bench_open(&b, text);
        ck_assert_double_eq_tol(step(nth(&b, "runway.flange_stress", 0), "M_ser"), PL * cases[i % 6].share, 2e-3 * PL);
        bench_close(&b);
    }
}
END_TEST

/* Two trolleys, of which either may carry a hoist for 1 t that stalls at 1.6 t (its own mass, block and chain nought): the flange
 * sees a quarter of 1.6 t under each of its four wheels. */
START_TEST(a_stalled_hoist_on_either_trolley)
{
    for (int second = 0; second < 2; second++) {
        char text[1200];
        bench b;
        snprintf(text, sizeof text, BEAM("", "ipe/300", "en10025-2/S235",
                 "    ends: [-1 m, 9 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 8 m, limit: 90 kN}]\n    trolleys:\n"
                 "      t: {travel: [1 m, 3 m], wheels: 4, wheel_base: 0.5 m, wheel_to_edge: 20 mm, %s}\n      u: {travel: [5 m, 7 m], wheels: 4, wheel_base: 0.5 m, wheel_to_edge: 20 mm, %s}\n"
                 "hoists: {h: {rated: 1 t, self_mass: 0 kg, hook_mass: 0 kg, limiter: {kind: direct, at: 1.6}, speeds: [4 m/min]}}\n"),
                 second ? "load: 2 kN" : "hoist: h", second ? "hoist: h" : "load: 2 kN");
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.flange_stress", 0);
        NEAR(step(f, "F_z"), 1600 * G / 4);
        bench_close(&b);
    }
}
END_TEST

/* A wheel at the end of its travel near the free end of the beam has less flange to lean on, and less moment: no more than the greatest shear times
 * its way to the end, a moment that is nought there. */
START_TEST(a_wheel_near_the_end_of_the_beam)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [-0.02 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0.09 m, 4.8 m], wheels: 4, wheel_base: 100 mm, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.flange_resistance", 0);
    NEAR(step(f, "x_e"), 0.06); /* the first wheel of the pair, at the left */
    NEAR(step(f, "x_w"), 0.1);
    NEAR(step(f, "M_k"), 9e3 * (1 - 0.09 / 5) * 0.06);
    ck_assert_ptr_nonnull(strstr(f->where, "wheel at the end of its travel, dynamic case"));
    bench_close(&b);
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5.03 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0.3 m, 4.93 m], wheels: 4, wheel_base: 100 mm, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    f = nth(&b, "runway.flange_resistance", 0);
    NEAR(step(f, "x_e"), 0.05);
    bench_close(&b);
    /* built in at that end, the moment does not fall to nought there: an overhang whose only support holds its slope, P (L - 0.1) */
    for (int mirrored = 0; mirrored < 2; mirrored++) {
        bench_open(&b, mirrored ? BEAM("", "ipe/300", "en10025-2/S235",
                                       "    ends: [0 m, 3 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 3 m, fixed: yes, limit: 90 kN}]\n"
                                       "    trolleys: {t: {travel: [1 m, 2.95 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n")
                                : BEAM("", "ipe/300", "en10025-2/S235",
                                       "    ends: [0 m, 3 m]\n    self_weight: no\n    supports: [{at: 0 m, fixed: yes, limit: 90 kN}, {at: 3 m, limit: 90 kN}]\n"
                                       "    trolleys: {t: {travel: [0.05 m, 2 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
        f = nth(&b, "runway.flange_resistance", 0);
        NEAR(step(f, "x_e"), 0.05);
        /* the greatest of a propped cantilever under a moving load: P L / (3 sqrt 3) at the wall, with the load 0.577 L from the prop */
        NEAR(step(f, "M_k"), 9e3 * 3 / (3 * sqrt(3)));
        bench_close(&b);
    }
}
END_TEST

/* The web over the middle support of two spans, far from any end: the reaction of a trolley that stands there, with the greatest moment there at any
 * time, 0.0962 P L (continuous beam under a moving load, any handbook).  Near an end of the beam: nothing but its distance. */
START_TEST(the_web_over_a_support)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [-3 m, 15 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 6 m, limit: 90 kN}, {at: 12 m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [1 m, 11 m], wheels: 2, wheel_to_edge: 20 mm, load: 130 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.web", 0);
    NEAR(step(f, "R_k"), 130e3);
    NEAR(step(f, "d_e"), 9);
    ck_assert_double_eq_tol(step(f, "M_k"), 0.09623 * 130e3 * 6, 100);
    bench_close(&b);
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [-0.2 m, 6.7 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 6 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [1 m, 4.9 m], wheels: 2, wheel_to_edge: 20 mm, load: 12 kN}}\n"));
    f = nth(&b, "runway.web", 0);
    NEAR(step(f, "R_k"), 10e3);
    NEAR(step(f, "d_e"), 0.2);
    NEAR(step(f, "M_k") + 1, 1);
    bench_close(&b);
    /* built in at the only span's beginning, 180 kN at its middle: 11/16 P and 3/16 P L at the wall (any handbook) */
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 3 m]\n    self_weight: no\n    supports: [{at: 0 m, fixed: yes, limit: 90 kN}, {at: 3 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [1.5 m, 1.5 m], wheels: 2, wheel_to_edge: 20 mm, load: 180 kN}}\n"));
    f = nth(&b, "runway.web", 0);
    NEAR(step(f, "R_k"), 180e3 * 11 / 16);
    NEAR(step(f, "M_k"), 180e3 * 3 * 3 / 16);
    bench_close(&b);
}
END_TEST

/* On the second of two runways a trolley whose wheels stand nowhere in particular leaves the flange unchecked, and is named. */
START_TEST(a_trolley_that_hides_its_wheels)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0.3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"
                        "  yard:\n    section: ipe/300\n    steel: en10025-2/S235\n    ends: [0 m, 5 m]\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys:\n      u: {travel: [0.3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}\n      v: {travel: [0.3 m, 4.7 m], wheels: 2, load: 7 kN}\n"));
    int unknown = 0;
    for (size_t i = 0; i < b.a->findings->n; i++) {
        const bk_finding *f = &b.a->findings->at[i];
        if (strncmp(f->check, "runway.flange", 13) != 0 || f->checked) continue;
        ck_assert_str_eq(f->item, "yard");
        ck_assert_str_eq(f->where, "v");
        unknown++;
    }
    ck_assert_int_eq(unknown, 2);
    ck_assert(nth(&b, "runway.flange_stress", 1)->checked); /* by the wheels that are known */
    ck_assert_ptr_nonnull(strstr(nth(&b, "runway.bending", 1)->where, "trolley u at"));
    ck_assert_ptr_nonnull(strstr(nth(&b, "runway.bending", 1)->where, "trolley v at"));
    bench_close(&b);
}
END_TEST

/* ---- deflection --------------------------------------------------------------------------------- */

/* A limit of the plan holds for an overhang too; without one an overhang has 1/250 of its length (practice).  A load P at its tip moves it by
 * P c2 (c + L) / (3 E I) (beam overhanging one support, any handbook); HEB 200: I 5696 cm4, I_z 2003 cm4 (EN 10365). */
START_TEST(deflection_of_an_overhang)
{
    const struct { const char *more; double limit; bk_mark mark; } cases[] = {
        {"", 1.6 / 250, BK_MARK_MEMORY}, {"    deflection_limit: L/300\n", 1.6 / 300, BK_MARK_USER}, {"    deflection_limit: 7 mm\n", 7e-3, BK_MARK_USER}};
    for (int i = 0; i < 6; i++) {
        const bool right = i >= 3;
        char text[1000];
        bench b;
        snprintf(text, sizeof text, BEAM("", "heb/200", "en10025-2/S235",
                 "    ends: [%s]\n    self_weight: no\n%s    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 5 m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                 "    trolleys:\n      t: {travel: [%s], wheels: 2, wheel_to_edge: 30 mm, load: 5 kN}\n      u: {travel: [2 m, 3 m], wheels: 2, wheel_to_edge: 30 mm, load: 1 kN}\n"),
                 right ? "0 m, 6.6 m" : "-1.6 m, 5 m", cases[i % 3].more, right ? "6.6 m, 6.6 m" : "-1.6 m, -1.6 m");
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.deflection", 0);
        /* the one kilonewton turns the support the other way, and is empty there: it weighs nothing */
        NEAR(f->demand, 5e3 * 1.6 * 1.6 * (1.6 + 5) / (3 * 210e9 * 5696e-8));
        NEAR(f->limit, cases[i % 3].limit);
        ck_assert_int_eq(f->mark, cases[i % 3].mark);
        f = nth(&b, "runway.lateral_deflection", 0);
        NEAR(f->demand, 0.05 * 6e3 * 1.6 * 1.6 * (1.6 + 5) / (3 * 210e9 * 2003e-8 / 2));
        NEAR(f->limit, 2 * 1.6 / 600);
        bench_close(&b);
    }
}
END_TEST

/* An overhang counts once something comes onto it, be it the last wheel of a trolley or a load past the support; what stops at the support
 * leaves it bare.  Its limit is 1/250 of 1 m, that of the span 1/600 of 5 m: a load at midspan moves the end of the beam by 3/5 as much as the
 * span, so that the overhang governs where it counts at all. */
START_TEST(what_comes_onto_an_overhang)
{
    const struct { double to; const char *base, *load; bool counts; } cases[] = {
        {4.8, "375 mm", "", false}, {4.75, "500 mm", "", false}, {4.8, "500 mm", "", true},
        {4, "500 mm", "{at: %g m, force: 10 N}", false}, {4, "500 mm", "{at: %g m, force: 10 N}", true}};
    for (int i = 0; i < 10; i++) {
        const int k = i % 5;
        const bool left = i >= 5;
        char load[80], text[1200];
        bench b;
        const double at = k == 3 ? 5 : 5.5;
        snprintf(load, sizeof load, *cases[k].load ? "    loads: [{at: %g m, force: 10 N}]\n" : "", left ? 5 - at : at);
        snprintf(text, sizeof text, BEAM("", "ipe/300", "en10025-2/S235",
                 "    ends: [%s]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 5 m, limit: 90 kN, uplift_limit: 90 kN}]\n%s"
                 "    trolleys: {t: {travel: [%g m, %g m], wheels: 4, wheel_base: %s, wheel_to_edge: 20 mm, load: 20 kN}}\n"),
                 left ? "-1 m, 5 m" : "0 m, 6 m", load, left ? 5 - cases[k].to : 1, left ? 4 : cases[k].to, cases[k].base);
        bench_open(&b, text);
        ck_assert_msg((strstr(nth(&b, "runway.deflection", 0)->what, "overhang") != NULL) == cases[k].counts, "case %d", i);
        bench_close(&b);
    }
}
END_TEST

/* A beam that carries no trolley has nothing that pushes it sideways, runs off it or meets; with one there is none to meet. */
START_TEST(a_runway_without_trolleys)
{
    for (int n = 0; n < 2; n++)
        for (int us = 0; us < 2; us++) {
            char text[1200];
            bench b;
            snprintf(text, sizeof text, BEAM("%s", "ipe/300", "en10025-2/S235",
                     "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                     "    loads: [{at: 2 m, force: 3 kN}]\n%s"), us ? "rules: us\n" : "",
                     n ? "    trolleys: {t: {travel: [1 m, 4 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n" : "");
            bench_open(&b, text);
            ck_assert_int_eq(b.status, BK_OK);
            ck_assert_int_eq(bench_has(&b, "runway.lateral_deflection"), n);
            ck_assert_int_eq(bench_has(&b, "runway.flange_stress"), n);
            ck_assert_int_eq(bench_assumes(&b, "the lateral load is"), n);
            ck_assert_int_eq(bench_assumes(&b, "the plan tells of no end stops"), n);
            ck_assert_int_eq(bench_assumes(&b, "on the safe side, figures"), n);
            ck_assert(!bench_assumes(&b, "may stand wheel against wheel"));
            bench_close(&b);
        }
    bench b; /* nothing at all lies on it: nothing lifts */
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"));
    for (size_t i = 0; i < b.a->findings->n; i++) ck_assert_ptr_null(strstr(b.a->findings->at[i].what, "uplift"));
    bench_close(&b);
}
END_TEST

/* A rod stated by its areas, with the strength of its class: EN 1993-1-8, 3.6.1, takes the stress area, AISC 360, J3.6, that of the shank. */
START_TEST(a_rod_by_its_areas)
{
    const struct { const char *rules, *area; double limit; } cases[] = {
        {"", "stress_area: 157 mm2", 0.9 * 400e6 * 157e-6 / 1.25}, {"rules: us\n", "shank_area: 201 mm2", 0.75 * 400e6 * 201e-6 / 2}};
    for (int i = 0; i < 2; i++) {
        char text[1000];
        bench b;
        snprintf(text, sizeof text, BEAM("%s", "ipe/300", "en10025-2/S235",
                 "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, parts: [{what: rod, %s}, {what: steel, fub: 400 MPa}]}, {at: 5 m, limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: [0 m, 5 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"), cases[i].rules, cases[i].area);
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.support", 0);
        NEAR(f->limit, cases[i].limit);
        NEAR(nth(&b, "runway.support", 1)->limit, 90e3); /* one finding a support */
        bench_close(&b);
    }
}
END_TEST

/* Which of a span and an overhang the side thrust bends more for what is allowed there: a trolley 1 m out on an overhang of 2 m behind a span
 * of 8 m, 1 * 9 / 3 over twice 2 m, against 8 * 8 / 48 of the span, which is more; on an overhang of 1 m it is less. */
START_TEST(side_thrust_on_span_or_overhang)
{
    for (int i = 0; i < 2; i++) {
        char text[1000];
        bench b;
        snprintf(text, sizeof text, BEAM("", "heb/300", "en10025-2/S235",
                 "    ends: [0 m, %d m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 8 m, limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: [1 m, 9 m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"), i ? 9 : 10);
        bench_open(&b, text);
        NEAR(nth(&b, "runway.lateral_deflection", 0)->limit, (i ? 2 * 1 : 8) / 600.0);
        bench_close(&b);
    }
}
END_TEST

/* The lesser of 1/600 of the span and 25 mm (EN 1993-6, Table 7.2, memory): 14 m, 23.3 mm; 16 m, 25 mm.  Under an upward load that relieves the trolley the
 * payload alone moves the beam more, and has 1/500. */
START_TEST(deflection_of_a_span)
{
    const struct { double span; const char *more; double load, limit; } cases[] = {
        {14, "", 20e3, 14.0 / 600}, {16, "", 20e3, 0.025}, {6, "    loads: [{at: 3 m, force: -12 kN}]\n", 20e3, 6.0 / 500}};
    for (int i = 0; i < 3; i++) {
        char text[1000];
        bench b;
        snprintf(text, sizeof text, BEAM("", "heb/300", "en10025-2/S235",
                 "    ends: [0 m, %g m]\n    self_weight: no\n%s    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: %g m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: [1 m, %g m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"), cases[i].span, cases[i].more, cases[i].span, cases[i].span - 1);
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "runway.deflection", 0);
        NEAR(f->limit, cases[i].limit);
        ck_assert_double_eq_tol(f->demand, cases[i].load * pow(cases[i].span, 3) / (48 * 210e9 * 25170e-8), 2e-3 * f->demand);
        f = nth(&b, "runway.lateral_deflection", 0);
        NEAR(f->demand, 0.05 * 20e3 * pow(cases[i].span, 3) / (48 * 210e9 * 8563e-8 / 2));
        NEAR(f->limit, cases[i].span / 600);
        bench_close(&b);
    }
    /* between restraints; the longest of two spans */
    bench b;
    bench_open(&b, BEAM("", "heb/300", "en10025-2/S235",
                        "    ends: [0 m, 11 m]\n    self_weight: no\n    restraint: 2.5 m\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 6 m, limit: 90 kN, uplift_limit: 90 kN}, {at: 11 m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [1 m, 10 m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.lateral_deflection", 0);
    NEAR(f->demand, 0.05 * 20e3 * pow(2.5, 3) / (48 * 210e9 * 8563e-8 / 2));
    NEAR(f->limit, 2.5 / 600);
    bench_close(&b);
    for (int i = 0; i < 2; i++) {
        char text[900];
        snprintf(text, sizeof text, BEAM("", "heb/300", "en10025-2/S235",
                 "    ends: [0 m, 11 m]\n    self_weight: no\n    supports: [{at: 0 m, limit: 90 kN, uplift_limit: 90 kN}, {at: %d m, limit: 90 kN, uplift_limit: 90 kN}, {at: 11 m, limit: 90 kN, uplift_limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: [1 m, 10 m], wheels: 2, wheel_to_edge: 30 mm, load: 20 kN}}\n"), i ? 6 : 5);
        bench_open(&b, text);
        f = nth(&b, "runway.lateral_deflection", 0);
        NEAR(f->limit, 6.0 / 600);
        NEAR(f->demand, 0.05 * 20e3 * 216 / (48 * 210e9 * 8563e-8 / 2));
        bench_close(&b);
    }
}
END_TEST

/* Two clamps of 6 kN share a support, by the plan's choice: half the reaction of 9 kN each. */
START_TEST(hangers_that_share_a_support)
{
    bench b;
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, count: 2, parts: [{what: beam clamp, wll: 6 kN}]}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0 m, 5 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    const bk_finding *f = nth(&b, "runway.support", 0);
    NEAR(f->demand, 4.5e3);
    NEAR(f->limit, 6e3);
    NEAR(nth(&b, "runway.support", 1)->demand, 9e3);
    ck_assert_str_eq(source_of(f, "hangers"), "equal hangers, a choice in the plan");
    ck_assert(bench_assumes(&b, "share it equally"));
    bench_close(&b);
    /* a clamp by itself; one bolt of M16 8.8, and two: 0.9 times 800 N/mm2 over 1.25 (EN 1993-1-8, Table 3.4), 1.35 on the reaction */
    bench_open(&b, BEAM("", "ipe/300", "en10025-2/S235",
                        "    ends: [0 m, 5 m]\n    self_weight: no\n    supports: [{at: 0 m, parts: [{what: beam clamp, wll: 6 kN}]}, {at: 5 m, limit: 90 kN}]\n"
                        "    trolleys: {t: {travel: [0 m, 5 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"
                        "  yard:\n    section: ipe/300\n    steel: en10025-2/S235\n    ends: [0 m, 5 m]\n    self_weight: no\n"
                        "    supports: [{at: 0 m, parts: [bolt-metric/M16, bolt-class/8.8]}, {at: 5 m, count: 2, parts: [bolt-metric/M16, bolt-class/8.8]}]\n"
                        "    trolleys: {u: {travel: [0 m, 5 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n"));
    f = nth(&b, "runway.support", 0);
    NEAR(f->demand, 9e3);
    ck_assert_str_eq(source_of(f, "hangers"), "one hanger");
    for (size_t i = 2; i < 4; i++) {
        f = nth(&b, "runway.support", i);
        ck_assert_double_eq_tol(f->limit, 90.24e3, 30); /* of 156.7 mm2, as ISO 898-1 computes it (memory) */
        NEAR(f->demand, 1.35 * 9e3 / (double)(i - 1));
        ck_assert_str_eq(source_of(f, "hangers"), i == 2 ? "one hanger" : "equal hangers, a choice in the plan");
    }
    bench_close(&b);
}
END_TEST

/* ---- marks -------------------------------------------------------------------------------------- */

/* How sure a beam is, with rules that are all read: AISC 360 bending of a compact section rests on its section and its steel alone.
 * Properties that are printed, computed from printed dimensions, or stated in the plan; a printed steel, a recalled one. */
START_TEST(a_beam_is_as_sure_as_its_section_and_steel)
{
    const struct { const char *section, *steel; bk_mark mark; } cases[] = {
        {"w/12x26", "en10025-2/S275", BK_MARK_PUBLISHED},
        {"ipe/300", "en10025-2/S275", BK_MARK_COMPUTED},
        {"w/12x26", "astm-steel/A992", BK_MARK_MEMORY},
        {"w/12x26", "{fy: 345 MPa, fu: 448 MPa}", BK_MARK_USER},
        {"{h: 310 mm, b: 165 mm, tw: 5.8 mm, tf: 9.7 mm, r: 9 mm}", "en10025-2/S275", BK_MARK_USER},
    };
    for (size_t i = 0; i < 2 * (sizeof cases / sizeof *cases); i++) {
        const bool in_a_rig = i % 2;
        char text[1500];
        bench b;
        snprintf(text, sizeof text, in_a_rig ?
                 "becket: 1\nrules: us\nbodies:\n  bar: {mass: 100 kg, cog: 0 0 0 m, points: {l: -1 0 0 m, r: 1 0 0 m, m: 0 0 0.001 m}, wll: 9 t, steel: {section: %s, steel: %s, between: [l, r]}}\n"
                 "  p: {mass: 1 t, cog: 0 0 0 m, at: 0 0 -2 m, points: {l: -1 0 0.5 m, r: 1 0 0.5 m}}\n"
                 "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                 "lines: {a: {from: one, to: bar.m, ea: 900 MN, mass: 0 kg}, c: {from: bar.l, to: p.l, ea: 900 MN, mass: 0 kg}, d: {from: bar.r, to: p.r, ea: 900 MN, mass: 0 kg}}\n" :
                 "becket: 1\nrules: us\ndynamic: {factor: 1}\nrunways:\n  bay:\n    section: %s\n    steel: %s\n"
                 "    ends: [0 m, 5 m]\n    supports: [{at: 0 m, limit: 90 kN}, {at: 5 m, limit: 90 kN}]\n"
                 "    trolleys: {t: {travel: [0.3 m, 4.7 m], wheels: 2, wheel_to_edge: 20 mm, load: 9 kN}}\n", cases[i / 2].section, cases[i / 2].steel);
        bench_open(&b, text);
        ck_assert_int_eq(b.status, BK_OK);
        bk_assessment_free(b.a);
        bk_rules sure = *b.plan->rules;
        bk_rule *all = calloc(sure.n, sizeof *all);
        ck_assert_ptr_nonnull(all);
        for (size_t k = 0; k < sure.n; k++) all[k] = sure.at[k], all[k].mark = BK_MARK_PUBLISHED;
        sure.at = all;
        b.plan->rules = &sure;
        b.status = bk_assess_plan(b.plan, b.tables, &b.options, &b.a, b.errors);
        const bk_mark mark = nth(&b, in_a_rig ? "beam.bending" : "runway.bending", 0)->mark;
        ck_assert_msg(mark == cases[i / 2].mark, "case %zu: %d", i, (int)mark);
        bench_close(&b);
        free(all);
    }
}
END_TEST

/* ---- beams in a rig ----------------------------------------------------------------------------- */

/* A bar of nothing but its own steel, HEB 300 (117 kg/m), 6 m, hung plumb at 1.2 m and at its end: R = w L (L/2 - 0) over the way between.  The
 * shear passes nought where the far line's pull is used up: M = R^2 / (2 w); 2.0 of lifting (EN 13155, memory). */
START_TEST(own_weight_between_two_lines)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  bar: {mass: 703 kg, cog: 3 0 0 m, points: {l: 0 0 0 m, r: 6 0 0 m, m: 1.2 0 0 m}, wll: 9 t,\n"
                   "        steel: {section: heb/300, steel: en10025-2/S235, between: [l, r]}}\n"
                   "anchors: {one: {at: 6 0 3 m, limit: 90 kN}, two: {at: 1.2 0 3 m, limit: 90 kN}}\n"
                   "lines: {a: {from: one, to: bar.r, ea: 900 MN, mass: 0 kg}, b: {from: two, to: bar.m, ea: 900 MN, mass: 0 kg}}\n");
    const double w = 117 * G, R = w * 6 * (3 - 1.2) / 4.8;
    const bk_finding *f = nth(&b, "beam.bending", 0);
    ck_assert_double_eq_tol(f->demand, 2 * R * R / (2 * w), 5e-3 * f->demand);
    ck_assert_double_eq_tol(nth(&b, "beam.shear", 0)->demand, 2 * (6 * w - R - 1.2 * w), 2e-3 * 12 * w);
    ck_assert(!bench_assumes(&b, "one of the two is wrong"));
    bench_close(&b);
}
END_TEST

/* A lifting beam with a line beyond each end of its steel: what acts there keeps its lever arm.  P a at the middle, a = 2 m on steel of 3 m;
 * its lines are listed in no order of place, four of them within a metre. */
START_TEST(lines_beyond_the_steel_and_in_no_order)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  bar: {mass: 1 kg, cog: 0 0 0 m, points: {l: -1.5 0 0 m, r: 1.5 0 0 m, m: 0 0 0.001 m, ol: -2 0 0 m, or: 2 0 0 m, il: -0.3 0 0 m, ir: 0.3 0 0 m}, wll: 9 t,\n"
                   "        steel: {section: heb/200, steel: en10025-2/S235, between: [l, r]}}\n"
                   "  p: {mass: 500 kg, cog: 0 0 0 m, at: 2 0 -2 m, points: {a: 0 0 0.5 m}}\n  q: {mass: 500 kg, cog: 0 0 0 m, at: -2 0 -2 m, points: {a: 0 0 0.5 m}}\n"
                   "  s: {mass: 300 kg, cog: 0 0 0 m, at: 0.3 0 -2 m, points: {a: 0 0 0.5 m}}\n  u: {mass: 300 kg, cog: 0 0 0 m, at: -0.3 0 -2 m, points: {a: 0 0 0.5 m}}\n"
                   "anchors: {hook: {at: 0 0 3 m, limit: 90 kN}}\n"
                   "lines: {a: {from: bar.or, to: p.a, ea: 900 MN, mass: 0 kg}, b: {from: bar.il, to: u.a, ea: 900 MN, mass: 0 kg}, top: {from: hook, to: bar.m, ea: 900 MN, mass: 0 kg},\n"
                   "        c: {from: bar.ol, to: q.a, ea: 900 MN, mass: 0 kg}, d: {from: bar.ir, to: s.a, ea: 900 MN, mass: 0 kg}}\n");
    const bk_finding *f = nth(&b, "beam.bending", 0);
    ck_assert_double_eq_tol(f->demand, 2 * (500 * G * 2 + 300 * G * 0.3), 2e-3 * f->demand);
    ck_assert_double_eq_tol(nth(&b, "beam.shear", 0)->demand, 2 * 800 * G, 2e-3 * 1600 * G);
    bench_close(&b);
}
END_TEST

/* A bar that slopes by 3 in 4, hung plumb at its ends with 1 t below its middle: the part of the load across the bar, 4/5 of it, bends; P L / 4 with L 5 m is
 * P times the level way of 4 m over 4; half of 3/5 P each presses and pulls along it. */
START_TEST(a_sloping_bar)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  bar: {mass: 1 kg, cog: 2 0 1.5 m, points: {l: 0 0 0 m, r: 4 0 3 m, m: 2 0 1.5 m}, wll: 9 t, tilt_limit: 80 deg,\n"
                   "        steel: {section: heb/200, steel: en10025-2/S235, between: [l, r]}}\n"
                   "  p: {mass: 1 t, cog: 0 0 0 m, at: 2 0 -2 m, points: {a: 0 0 0.5 m}}\n"
                   "anchors: {one: {at: 0 0 6 m, limit: 90 kN}, two: {at: 4 0 6 m, limit: 90 kN}}\n"
                   "lines: {a: {from: one, to: bar.l, ea: 900 MN, mass: 0 kg}, b: {from: two, to: bar.r, ea: 900 MN, mass: 0 kg}, c: {from: bar.m, to: p.a, ea: 900 MN, mass: 0 kg}}\n");
    const double P = 1000 * G;
    ck_assert_double_eq_tol(nth(&b, "beam.bending", 0)->demand, 2 * P, 4e-3 * P);
    ck_assert_double_eq_tol(nth(&b, "beam.shear", 0)->demand, 2 * P / 2 * 4 / 5, 4e-3 * P);
    ck_assert_double_eq_tol(nth(&b, "beam.buckling", 0)->demand, 2 * P / 2 * 3 / 5, 4e-3 * P);
    ck_assert_str_eq(nth(&b, "beam.buckling", 0)->what, "axial force with buckling");
    bench_close(&b);
}
END_TEST

/* A post: no bending, 1 t below it pulls it along. */
START_TEST(a_post_that_is_pulled)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  post: {mass: 1 kg, cog: 0 0 1 m, points: {l: 0 0 0 m, u: 0 0 2 m}, wll: 9 t, steel: {section: heb/100, steel: en10025-2/S235, between: [l, u]}}\n"
                   "  p: {mass: 1 t, cog: 0 0 0 m, at: 0 0 -2 m, points: {a: 0 0 0.5 m}}\n"
                   "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                   "lines: {a: {from: one, to: post.u, ea: 900 MN, mass: 0 kg}, c: {from: post.l, to: p.a, ea: 900 MN, mass: 0 kg}}\n");
    const bk_finding *f = nth(&b, "beam.buckling", 0);
    ck_assert_double_eq_tol(f->demand, 2 * 1001 * G, 20);
    ck_assert_str_eq(f->what, "axial tension");
    ck_assert_double_eq_tol(nth(&b, "beam.bending", 0)->demand, 0, 1);
    bench_close(&b);
}
END_TEST

/* What multiplies: 2.0 of lifting (EN 13155, memory), the plan's own factor of 1.8 with its tolerance times 1.35 (EN 1993-6) where that is more, and the plan's
 * factor for rigging on top. */
START_TEST(the_factor_on_a_spreader)
{
    const struct { const char *more; double factor; const char *by; } cases[] = {
        {"", 2, "EN 13155"},
        {"dynamic: {factor: 1.4}\n", 2, "EN 13155"},
        {"dynamic: {factor: 1.6}\n", 1.35 * 1.6, "the hoist's dynamic factor"},
        {"dynamic: {factor: 1.4 ± 0.2}\n", 1.35 * 1.6, "the hoist's dynamic factor"},
        {"dynamic: {rigging: 1.3}\n", 2 * 1.3, "times the plan's rigging factor"},
        {"dynamic: {factor: 1.6, rigging: 1.3}\n", 1.35 * 1.6 * 1.3, "the hoist's dynamic factor"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[1200];
        bench b;
        snprintf(text, sizeof text, "becket: 1\n%sbodies:\n  bar: {mass: 1 kg, cog: 0 0 0 m, points: {l: -1 0 0 m, r: 1 0 0 m, m: 0 0 0.001 m}, wll: 9 t, steel: {section: heb/200, steel: en10025-2/S235, between: [l, r]}}\n"
                 "  p: {mass: 1 t, cog: 0 0 0 m, at: 0 0 -2 m, points: {l: -1 0 0.5 m, r: 1 0 0.5 m}}\n"
                 "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                 "lines: {a: {from: one, to: bar.m, ea: 900 MN, mass: 0 kg}, c: {from: bar.l, to: p.l, ea: 900 MN, mass: 0 kg}, d: {from: bar.r, to: p.r, ea: 900 MN, mass: 0 kg}}\n", cases[i].more);
        bench_open(&b, text);
        const bk_finding *f = nth(&b, "beam.bending", 0);
        ck_assert_msg(fabs(f->demand - cases[i].factor * 500 * G) < 20, "case %zu: %g", i, f->demand / 500 / G);
        ck_assert_ptr_nonnull(strstr(source_of(f, "gamma"), cases[i].by));
        ck_assert(!strstr(source_of(f, "gamma"), "rigging") == !strstr(cases[i].by, "rigging"));
        ck_assert_ptr_null(strstr(f->where, "times")); /* nothing grows without tolerances */
        bench_close(&b);
    }
}
END_TEST

/* A spare line of the first to be listed, slack as drawn, takes the load within the tolerances: all forces grow by what it then pulls over a tenth of the greatest
 * pull, at most; a line whose pull grows by a fifth raises them by a fifth. */
START_TEST(tolerances_on_a_spreader)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  bar: {mass: 1 kg, cog: 0 0 0 m, points: {l: -1 0 0 m, r: 1 0 0 m, m: 0 0 0.001 m}, wll: 9 t, steel: {section: heb/200, steel: en10025-2/S235, between: [l, r]}}\n"
                   "  p: {mass: 1 t ± 20 %, cog: 0 0 0 m, at: 0 0 -2 m, points: {l: -1 0 0.5 m, r: 1 0 0.5 m}}\n"
                   "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                   "lines: {c: {from: bar.l, to: p.l, ea: 900 MN, mass: 0 kg}, d: {from: bar.r, to: p.r, ea: 900 MN, mass: 0 kg}, a: {from: one, to: bar.m, ea: 900 MN, mass: 0 kg}}\n");
    const bk_finding *f = nth(&b, "beam.bending", 0);
    ck_assert_double_eq_tol(f->demand, 1.2 * 2 * 500 * G, 20);
    ck_assert_double_eq_tol(f->nominal_demand, 2 * 500 * G, 20);
    ck_assert_ptr_nonnull(strstr(f->where, "forces as drawn times 1.2"));
    bench_close(&b);
}
END_TEST

/* Torsion is told from a fiftieth of the torque at which the section yields, f_y / sqrt 3 times I_t over the thickest wall: HEB 200 (59.28 cm4, 15 mm, EN 10365), S235, 5362 N m.
 * 500 kg at each end, one 20 or 24 mm to the left, the other to the right. */
START_TEST(torsion_that_is_told)
{
    for (int i = 0; i < 2; i++) {
        const int aside = i ? 24 : 20;
        char text[1200];
        bench b;
        snprintf(text, sizeof text, "becket: 1\nbodies:\n  bar: {mass: 1 kg, cog: 0 0 0 m, points: {l: -1 0 0 m, r: 1 0 0 m, m: 0 0 0.3 m, dl: -1 0.0%d 0 m, dr: 1 -0.0%d 0 m}, wll: 9 t, steel: {section: heb/200, steel: en10025-2/S235, between: [l, r]}}\n"
                 "  p: {mass: 500 kg, cog: 0 0 0 m, at: -1 0.0%d -2 m, points: {a: 0 0 0.5 m}}\n  q: {mass: 500 kg, cog: 0 0 0 m, at: 1 -0.0%d -2 m, points: {a: 0 0 0.5 m}}\n"
                 "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                 "lines: {a: {from: one, to: bar.m, ea: 900 MN, mass: 0 kg}, c: {from: bar.dl, to: p.a, ea: 900 MN, mass: 0 kg}, d: {from: bar.dr, to: q.a, ea: 900 MN, mass: 0 kg}}\n", aside, aside, aside, aside);
        bench_open(&b, text);
        ck_assert_int_eq(b.status, BK_OK);
        ck_assert_msg(bench_has(&b, "beam.torsion") == (i == 1), "%d mm", aside);
        if (i) NEAR(nth(&b, "beam.torsion", 0)->demand, 500 * G * 0.024);
        bench_close(&b);
    }
}
END_TEST

/* Thick flanges of which nothing is known beside a web of which it is: the beam is not checked. */
START_TEST(a_flange_without_a_yield_strength)
{
    bench b;
    bench_open(&b, "becket: 1\nbodies:\n  bar: {mass: 4 t, cog: 0 0 0 m, points: {l: -1 0 0 m, r: 1 0 0 m, m: 0 0 0.001 m}, wll: 9 t,\n"
                   "        steel: {section: {h: 1.2 m, b: 0.4 m, tw: 20 mm, tf: 300 mm, welded: yes, a_weld: 8 mm}, steel: en10025-2/S235, between: [l, r]}}\n"
                   "  p: {mass: 1 t, cog: 0 0 0 m, at: 0 0 -2 m, points: {l: -1 0 0.5 m, r: 1 0 0.5 m}}\n"
                   "anchors: {one: {at: 0 0 6 m, limit: 90 kN}}\n"
                   "lines: {a: {from: one, to: bar.m, ea: 900 MN, mass: 0 kg}, c: {from: bar.l, to: p.l, ea: 900 MN, mass: 0 kg}, d: {from: bar.r, to: p.r, ea: 900 MN, mass: 0 kg}}\n");
    const bk_finding *f = nth(&b, "beam.bending", 0);
    ck_assert(!f->checked);
    ck_assert(!bench_has(&b, "beam.shear"));
    ck_assert_ptr_nonnull(strstr(f->note, "no yield strength"));
    bench_close(&b);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("strength, case by case");
    TCase *t = tcase_create("cases");
    tcase_add_test(t, moments_of_a_span_behind_an_overhang);
    tcase_add_test(t, moments_of_a_span_that_is_built_in);
    tcase_add_test(t, which_picture_of_a_span_is_taken);
    tcase_add_test(t, lateral_load_of_a_span);
    tcase_add_test(t, what_a_runway_says_and_leaves_unsaid);
    tcase_add_test(t, a_beam_of_unknown_steel);
    tcase_add_test(t, wheels_that_come_near);
    tcase_add_test(t, wheels_just_within_reach);
    tcase_add_test(t, what_comes_onto_an_overhang);
    tcase_add_test(t, a_rod_by_its_areas);
    tcase_add_test(t, side_thrust_on_span_or_overhang);
    tcase_add_test(t, a_runway_without_trolleys);
    tcase_add_test(t, the_moment_that_a_wheel_meets);
    tcase_add_test(t, a_stalled_hoist_on_either_trolley);
    tcase_add_test(t, a_wheel_near_the_end_of_the_beam);
    tcase_add_test(t, the_web_over_a_support);
    tcase_add_test(t, a_trolley_that_hides_its_wheels);
    tcase_add_test(t, deflection_of_an_overhang);
    tcase_add_test(t, deflection_of_a_span);
    tcase_add_test(t, hangers_that_share_a_support);
    tcase_add_test(t, a_beam_is_as_sure_as_its_section_and_steel);
    tcase_add_test(t, own_weight_between_two_lines);
    tcase_add_test(t, lines_beyond_the_steel_and_in_no_order);
    tcase_add_test(t, a_sloping_bar);
    tcase_add_test(t, a_post_that_is_pulled);
    tcase_add_test(t, the_factor_on_a_spreader);
    tcase_add_test(t, tolerances_on_a_spreader);
    tcase_add_test(t, torsion_that_is_told);
    tcase_add_test(t, a_flange_without_a_yield_strength);
    suite_add_tcase(s, t);
    SRunner *r = srunner_create(s);
    srunner_run_all(r, CK_NORMAL);
    const int failed = srunner_ntests_failed(r);
    srunner_free(r);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
