/* runway: each refusal provoked, degenerate beams, and the beams made of a plan's runway.  Values against
 * handbooks are in tests/reference/test_reference_runway.c, random beams in tests/property.
 */
#include "../fence.h"
#include <becket/runway.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

static bk_arena *arena;
static void start(void)
{
    arena = bk_arena_new();
    ck_assert_ptr_nonnull(arena);
}
static void stop(void)
{
    bk_arena_free(arena);
    unfence();
}

/* Two spans, overhangs, a trolley, a force and a uniform part: a sound beam to be spoilt. */
typedef struct parts {
    bk_beam_support supports[3];
    bk_beam_load loads[2];
    bk_beam_train train;
    bk_beam beam;
} parts;

static void sound(parts *p)
{
    *p = (parts){
        .supports = {{0.7, false, INFINITY, 0}, {5.9, false, INFINITY, 0}, {9.1, false, INFINITY, 0}},
        .loads = {{2.2, 0, 830, 0}, {3.1, 8.8, 0, 120}},
        .train = {0.4, 9.6, 2, {-0.15, 0.15}, 21300, 690},
    };
    p->beam = (bk_beam){0, 10, 9.3e6, 310, 3, 2, 1, p->supports, p->loads, &p->train};
}

static bk_beam_worst worst_of(const bk_beam *beam)
{
    bk_beam_worst worst;
    char why[160] = "";
    ck_assert_msg(bk_beam_find_worst(beam, arena, &worst, why, sizeof why) == BK_OK, "%s", why);
    return worst;
}

static void refused(const parts *p, const char *word)
{
    bk_beam_worst worst;
    char why[160] = "";
    bool loaded = true;
    ck_assert_int_eq(bk_beam_find_worst(&p->beam, arena, &worst, why, sizeof why), BK_E_VALUE);
    ck_assert_msg(strstr(why, word) != NULL, "\"%s\" does not speak of \"%s\"", why, word);
    ck_assert_int_eq(bk_beam_find_worst(&p->beam, arena, &worst, NULL, 0), BK_E_VALUE);
    ck_assert_int_eq(bk_beam_state(&p->beam, &p->train.from_m, &loaded, NULL, 0, NULL, NULL, NULL, NULL),
                     BK_E_VALUE);
}

START_TEST(refusals)
{
    parts p;
#define REFUSED(change, word)                                                                                \
    do {                                                                                                     \
        sound(&p);                                                                                           \
        change;                                                                                              \
        refused(&p, word);                                                                                   \
    } while (0)
    REFUSED(p.beam.from_m = 10, "length");
    REFUSED(p.beam.to_m = NAN, "length");
    REFUSED(p.beam.from_m = -INFINITY, "length");
    REFUSED(p.beam.EI_Nm2 = 0, "stiffness");
    REFUSED(p.beam.EI_Nm2 = INFINITY, "stiffness");
    REFUSED(p.beam.self_N_m = NAN, "weight");
    REFUSED(p.beam.n_supports = 0, "two supports");
    REFUSED(p.beam.n_supports = 1, "two supports");
    REFUSED(p.beam.n_supports = BK_BEAM_SUPPORTS_MAX + 1, "more supports");
    REFUSED(p.beam.n_loads = BK_BEAM_LOADS_MAX + 1, "standing loads");
    REFUSED(p.beam.n_trains = BK_BEAM_TRAINS_MAX + 1, "trolleys");
    REFUSED(p.supports[0].at_m = -0.2, "support 1 stands outside");
    REFUSED(p.supports[2].at_m = 10.3, "support 3 stands outside");
    REFUSED(p.supports[1].at_m = NAN, "support 2");
    REFUSED(p.supports[1].at_m = 0.7, "support 2 does not stand clear");
    REFUSED(p.supports[1].at_m = 0.7 + 0.95e-5, "support 2 does not stand clear");
    REFUSED(p.supports[2].at_m = 3, "support 3 does not stand clear");
    REFUSED(p.supports[1].stiffness_N_m = 0, "support 2");
    REFUSED(p.supports[1].stiffness_N_m = NAN, "support 2");
    REFUSED(p.supports[1].settlement_m = INFINITY, "support 2");
    REFUSED(p.supports[1].fixed = true, "support 2: only the first or the last");
    REFUSED(p.loads[0].force_N = NAN, "load 1");
    REFUSED(p.loads[0].from_m = -0.1, "load 1");
    REFUSED(p.loads[0].from_m = NAN, "load 1");
    REFUSED(p.loads[1].to_m = 3, "load 2");
    REFUSED(p.loads[1].to_m = NAN, "load 2");
    REFUSED(p.loads[1].to_m = 10.1, "load 2");
    REFUSED(p.train.to_m = 0.3, "trolley 1: travel");
    REFUSED(p.train.to_m = NAN, "trolley 1: travel");
    REFUSED(p.train.to_m = INFINITY, "trolley 1");
    REFUSED(p.train.loaded_N = -1, "trolley 1: force");
    REFUSED(p.train.empty_N = NAN, "trolley 1: force");
    REFUSED(p.train.n_lines = 0, "wheel lines");
    REFUSED(p.train.n_lines = 5, "wheel lines");
    REFUSED(p.train.from_m = 0.1, "trolley 1: a wheel runs off");
    REFUSED(p.train.to_m = 9.9, "trolley 1: a wheel runs off");
    REFUSED(p.train.offset_m[1] = NAN, "trolley 1: a wheel runs off");
#undef REFUSED
}
END_TEST

START_TEST(state_off_the_beam)
{
    parts p;
    sound(&p);
    double at = 9.86, x = 3, moment;
    bool loaded = true;
    ck_assert_int_eq(bk_beam_state(&p.beam, &at, &loaded, NULL, 0, NULL, NULL, NULL, NULL), BK_E_VALUE);
    at = 5;
    ck_assert_int_eq(bk_beam_state(&p.beam, &at, &loaded, NULL, 1, &x, &moment, NULL, NULL), BK_OK);
    x = 10.01;
    ck_assert_int_eq(bk_beam_state(&p.beam, &at, &loaded, NULL, 1, &x, &moment, NULL, NULL), BK_E_VALUE);
    x = NAN;
    ck_assert_int_eq(bk_beam_state(&p.beam, &at, &loaded, NULL, 1, &x, &moment, NULL, NULL), BK_E_VALUE);
}
END_TEST

static void finite(const bk_beam *beam, const bk_beam_extreme *e)
{
    ck_assert(isfinite(e->value) && e->at_m >= beam->from_m - 1e-9 && e->at_m <= beam->to_m + 1e-9);
    for (size_t i = 0; i < beam->n_trains; i++)
        ck_assert(e->train_m[i] >= beam->trains[i].from_m && e->train_m[i] <= beam->trains[i].to_m);
}

/* No figure is NaN, and the whole is the worst of its parts. */
static bk_beam_worst all_finite(const bk_beam *beam)
{
    bk_beam_worst w = worst_of(beam);
    double most = -INFINITY, least = INFINITY, shear = 0, deflection = 0;
    for (size_t i = 0; i < beam->n_supports; i++) {
        finite(beam, &w.reaction_max[i]);
        finite(beam, &w.reaction_min[i]);
        ck_assert(w.reaction_max[i].value >= w.reaction_min[i].value - 1e-6);
        ck_assert(w.reaction_max[i].at_m == beam->supports[i].at_m);
    }
    for (size_t i = 0; i < w.n_spans; i++) {
        finite(beam, &w.span_moment_max[i]);
        finite(beam, &w.span_moment_min[i]);
        finite(beam, &w.span_shear[i]);
        finite(beam, &w.span_deflection[i]);
        ck_assert(w.span_from_m[i] < w.span_to_m[i]);
        most = fmax(most, w.span_moment_max[i].value);
        least = fmin(least, w.span_moment_min[i].value);
        shear = fmax(shear, w.span_shear[i].value);
        deflection = fmax(deflection, fabs(w.span_deflection[i].value));
    }
    ck_assert_double_eq(w.moment_max.value, most);
    ck_assert_double_eq(w.moment_min.value, least);
    ck_assert_double_eq(w.shear.value, shear);
    ck_assert_double_eq(fabs(w.deflection.value), deflection);
    return w;
}

START_TEST(degenerate_beams)
{
    parts p;
    bk_beam_worst w;
    sound(&p);
    w = all_finite(&p.beam);
    ck_assert_uint_eq(w.n_spans, 4);
    ck_assert(w.span_overhang[0] && !w.span_overhang[1] && !w.span_overhang[2] && w.span_overhang[3]);

    sound(&p); /* nothing on it at all */
    p.beam.n_trains = p.beam.n_loads = 0;
    p.beam.self_N_m = 0;
    w = all_finite(&p.beam);
    ck_assert_double_eq(w.moment_max.value, 0);
    ck_assert_double_eq(w.shear.value, 0);
    ck_assert_double_eq(w.deflection.value, 0);

    sound(&p); /* supports as near together as may be, a millionth of the beam */
    p.supports[1].at_m = 0.7 + 1.05e-5;
    all_finite(&p.beam);

    sound(&p); /* a trolley that weighs nothing */
    p.train.loaded_N = p.train.empty_N = 0;
    all_finite(&p.beam);

    sound(&p); /* supports at the very ends */
    p.supports[0].at_m = 0;
    p.supports[2].at_m = 10;
    w = all_finite(&p.beam);
    ck_assert_uint_eq(w.n_spans, 2);

    sound(&p); /* an overhang of rounding error */
    p.supports[0].at_m = 1e-9;
    p.supports[2].at_m = 10 - 1e-9;
    w = all_finite(&p.beam);
    ck_assert_uint_eq(w.n_spans, 2);

    sound(&p); /* a trolley that stands, on a support and at the end of the beam */
    p.train.from_m = p.train.to_m = 5.9;
    all_finite(&p.beam);
    p.train.from_m = p.train.to_m = 9.85;
    all_finite(&p.beam);
    p.train.n_lines = 1;
    p.train.offset_m[0] = 0;
    p.train.from_m = p.train.to_m = 5.9;
    w = all_finite(&p.beam);
    ck_assert_double_eq(w.reaction_at_trolley_max[1].value, w.reaction_max[1].value);
    ck_assert_double_nan(w.reaction_at_trolley_max[0].value);

    sound(&p); /* wheels all on one line, and wheels further apart than a span */
    p.train.offset_m[0] = p.train.offset_m[1] = 0;
    all_finite(&p.beam);
    p.train = (bk_beam_train){4.4, 5.6, 4, {4.4, -4.4, 4.4, -4.4}, 21300, 690};
    all_finite(&p.beam);

    sound(&p); /* empty heavier than loaded */
    p.train.loaded_N = 120;
    all_finite(&p.beam);

    sound(&p); /* one fixed support in the middle: two cantilevers */
    p.supports[0] = (bk_beam_support){4, true, INFINITY, 0};
    p.beam.n_supports = 1;
    w = all_finite(&p.beam);
    ck_assert_uint_eq(w.n_spans, 2);
    ck_assert(w.span_overhang[0] && w.span_overhang[1]);

    sound(&p); /* very soft and very stiff lines */
    p.supports[0].stiffness_N_m = 1e3;
    p.supports[1].stiffness_N_m = 1e12;
    p.supports[2].stiffness_N_m = 1e5;
    w = all_finite(&p.beam);
}
END_TEST

/* Shear of a simple span by the lever rule, on both sides of the load and under it: P b / L before, - P a / L after.  The tip of an overhang bears the load
 * that stands on it. */
START_TEST(shear_beside_a_load)
{
    const bk_beam_support supports[2] = {{0, false, INFINITY, 0}, {8, false, INFINITY, 0}};
    const bk_beam_train train = {0, 9, 1, {0}, 21300, 0};
    const bk_beam beam = {0, 9, 9.3e6, 0, 2, 0, 1, supports, NULL, &train};
    double at = 3;
    const bool loaded = true;
    const double x[] = {0, 1, 2.999, 3, 3.001, 7, 8.5, 9}, before = 21300 * 5.0 / 8, after = -21300 * 3.0 / 8;
    double shear[8], moment[8];
    ck_assert_int_eq(bk_beam_state(&beam, &at, &loaded, NULL, 8, x, moment, shear, NULL), BK_OK);
    for (int i = 0; i < 8; i++) {
        ck_assert_double_eq_tol(shear[i], i < 3 ? before : i < 6 ? after : 0, 1e-6);
        ck_assert_double_eq_tol(moment[i], x[i] <= 3 ? before * x[i] : x[i] <= 8 ? before * 3 + after * (x[i] - 3) : 0, 1e-3);
    }
    at = 9;
    ck_assert_int_eq(bk_beam_state(&beam, &at, &loaded, NULL, 8, x, moment, shear, NULL), BK_OK);
    ck_assert_double_eq_tol(shear[7], 21300, 1e-6); /* what the tip hands on */
    ck_assert_double_eq_tol(shear[6], 21300, 1e-6);
    ck_assert_double_eq_tol(shear[1], -21300 / 8.0, 1e-6);
}
END_TEST

/* Places that are sums of lengths may be off by a billionth of the beam, 1e-7 m of 100, and no more. */
START_TEST(rounding_at_the_ends)
{
    for (int i = 0; i < 12; i++) {
        bool refused = i % 2;
        double off = refused ? 1.05e-7 : 0.95e-7, at = 5, x = 50, moment;
        const bool loaded = true;
        bk_beam_support s[2] = {{0, false, INFINITY, 0}, {100, false, INFINITY, 0}};
        bk_beam_load load = {0, 100, 0, 12};
        bk_beam_train train = {2, 98, 2, {-2, 2}, 21300, 690};
        const bk_beam beam = {0, 100, 9.3e9, 310, 2, 1, 1, s, &load, &train};
        if (i / 2 == 0) s[0].at_m = -off;
        if (i / 2 == 1) s[1].at_m = 100 + off;
        if (i / 2 == 2) load.from_m = -off;
        if (i / 2 == 3) load.to_m = 100 + off;
        if (i / 2 == 4) train.from_m = 2 - off;
        if (i / 2 == 5) train.to_m = 98 + off;
        bk_beam_worst worst;
        ck_assert_int_eq(bk_beam_find_worst(&beam, arena, &worst, NULL, 0), refused ? BK_E_VALUE : BK_OK);
        if (i / 2 > 1) continue;
        s[0].at_m = 0, s[1].at_m = 100;
        x = i / 2 ? 100 + off : -off;
        ck_assert_int_eq(bk_beam_state(&beam, &at, &loaded, NULL, 1, &x, &moment, NULL, NULL), refused ? BK_E_VALUE : BK_OK);
        x = 50, at = i / 2 ? 98 + off : 2 - off;
        ck_assert_int_eq(bk_beam_state(&beam, &at, &loaded, NULL, 1, &x, &moment, NULL, NULL), refused ? BK_E_VALUE : BK_OK);
    }
}
END_TEST

/* A support as soft as half a newton a metre still carries its share of a beam on two; an end of a hundredth of a millimetre beyond a support is no overhang. */
START_TEST(soft_supports_and_no_overhang)
{
    const bk_beam_support soft[2] = {{0, false, 0.5, 0}, {4, false, INFINITY, 0}};
    const bk_beam_load load = {1, 0, 12, 0};
    const bk_beam beam = {0, 4, 9.3e6, 0, 2, 1, 0, soft, &load, NULL};
    double reaction[2];
    ck_assert_int_eq(bk_beam_state(&beam, NULL, NULL, reaction, 0, NULL, NULL, NULL, NULL), BK_OK);
    ck_assert_double_eq_tol(reaction[0], 9, 1e-6);
    ck_assert_double_eq_tol(reaction[1], 3, 1e-6);
    const bk_beam_support stiff[2] = {{0, false, INFINITY, 0}, {99.99999, false, INFINITY, 0}};
    const bk_beam longer = {0, 100, 9.3e9, 310, 2, 0, 0, stiff, NULL, NULL};
    ck_assert_uint_eq(worst_of(&longer).n_spans, 1);
}
END_TEST

/* A wheel that stands over a support loads that support alone: no shear, no moment from it. */
START_TEST(standing_over_a_support)
{
    parts p;
    sound(&p);
    p.train = (bk_beam_train){5.9, 5.9, 1, {0}, 21300, 0};
    p.beam.self_N_m = 0;
    p.beam.n_loads = 0;
    bk_beam_worst w = worst_of(&p.beam);
    ck_assert_double_eq_tol(w.shear.value, 0, 1e-6);
    ck_assert_double_eq_tol(w.moment_max.value, 0, 1e-6);
    ck_assert_double_eq_tol(w.reaction_max[1].value, 21300, 1e-6);
    /* moving past it, the shear beside it is that of the whole wheel */
    p.train.from_m = 5.8;
    p.train.to_m = 6.0;
    ck_assert_double_eq_tol(worst_of(&p.beam).shear.value, 21300, 21300 * 0.05);
}
END_TEST

/* Trolleys are free of each other: two on the beam are the sum, at every support, of each alone. */
START_TEST(trolleys_add_up)
{
    parts p;
    sound(&p);
    p.beam.self_N_m = 0;
    p.beam.n_loads = 0;
    bk_beam_train two[2] = {p.train, {2, 8, 1, {0}, 9400, 410}};
    bk_beam_worst first = worst_of(&p.beam);
    p.beam.trains = &two[1];
    bk_beam_worst second = worst_of(&p.beam);
    p.beam.trains = two;
    p.beam.n_trains = 2;
    bk_beam_worst both = worst_of(&p.beam);
    for (size_t i = 0; i < 3; i++) {
        ck_assert_double_eq_tol(both.reaction_max[i].value,
                                first.reaction_max[i].value + second.reaction_max[i].value, 1e-6);
        ck_assert_double_eq_tol(both.reaction_min[i].value,
                                first.reaction_min[i].value + second.reaction_min[i].value, 1e-6);
    }
    ck_assert_double_gt(both.moment_max.value, first.moment_max.value);
    ck_assert_double_lt(both.moment_max.value, first.moment_max.value + second.moment_max.value + 1e-6);
}
END_TEST

/* Hundreds of supports: no overflow, still quick; more than the bound is refused. */
START_TEST(many_supports)
{
    size_t n = BK_BEAM_SUPPORTS_MAX + 1;
    bk_beam_support *supports = calloc(n, sizeof *supports);
    ck_assert_ptr_nonnull(supports);
    for (size_t i = 0; i < n; i++)
        supports[i] = (bk_beam_support){3.7 * (double)i, false, INFINITY, 0};
    bk_beam_train train = {1, 500, 2, {-0.2, 0.2}, 18000, 500};
    bk_beam beam = {0, 3.7 * (double)(n - 1), 9e6, 300, n, 0, 1, supports, NULL, &train};
    bk_beam_worst worst;
    ck_assert_int_eq(bk_beam_find_worst(&beam, arena, &worst, NULL, 0), BK_E_VALUE);
    /* as many of each as may be: a state of it stands */
    static const bk_beam_load loads[BK_BEAM_LOADS_MAX] = {{3, 44, 900, 210}};
    static bk_beam_train trains[BK_BEAM_TRAINS_MAX];
    static double at[BK_BEAM_TRAINS_MAX], up;
    static bool loaded[BK_BEAM_TRAINS_MAX];
    for (size_t i = 0; i < BK_BEAM_TRAINS_MAX; i++) {
        trains[i] = train;
        at[i] = 7;
    }
    bk_beam most = {0, 3.7 * (double)(n - 2), 9e6, 300, n - 1, BK_BEAM_LOADS_MAX, BK_BEAM_TRAINS_MAX, supports, loads, trains};
    ck_assert_int_eq(bk_beam_state(&most, at, loaded, NULL, 1, &most.to_m, &up, NULL, NULL), BK_OK);
    beam.n_supports = 200;
    beam.to_m = supports[199].at_m;
    all_finite(&beam);
    free(supports);
}
END_TEST

/* ---- every array fenced ------------------------------------------------------------------------ */

#define COUNT(a) (sizeof(a) / sizeof *(a))

static void is_number(const bk_beam_extreme *e, size_t n)
{
    for (size_t i = 0; i < n; i++)
        ck_assert(isfinite(e[i].value) && isfinite(e[i].at_m));
}

/* All of a beam: its worst, and states with the trolleys at both limits of their travel. */
static void walk(bk_beam beam)
{
    bk_beam_worst w;
    beam.supports = fenced(beam.supports, beam.n_supports * sizeof *beam.supports);
    beam.loads = fenced(beam.loads, beam.n_loads * sizeof *beam.loads);
    beam.trains = fenced(beam.trains, beam.n_trains * sizeof *beam.trains);
    ck_assert_int_eq(bk_beam_find_worst(&beam, arena, &w, NULL, 0), BK_OK);
    is_number(w.reaction_max, beam.n_supports);
    is_number(w.reaction_min, beam.n_supports);
    is_number(w.span_moment_max, w.n_spans);
    is_number(w.span_moment_min, w.n_spans);
    is_number(w.span_shear, w.n_spans);
    is_number(w.span_deflection, w.n_spans);
    double x[3] = {beam.from_m, 0.3 * beam.from_m + 0.7 * beam.to_m, beam.to_m};
    for (int end = 0; end < 2; end++) {
        double *at = bk_arena_alloc(arena, beam.n_trains, sizeof *at), *up = bk_arena_alloc(arena, beam.n_supports, sizeof *up);
        bool *loaded = bk_arena_alloc(arena, beam.n_trains, sizeof *loaded);
        double *figures[3], *places = fenced(x, sizeof x), sum = 0;
        for (size_t i = 0; i < 3; i++)
            figures[i] = bk_arena_alloc(arena, COUNT(x), sizeof *figures[i]);
        for (size_t i = 0; i < beam.n_trains; i++) {
            at[i] = end ? beam.trains[i].to_m : beam.trains[i].from_m;
            loaded[i] = end == 0;
        }
        ck_assert_int_eq(bk_beam_state(&beam, at, loaded, up, COUNT(x), places, figures[0], figures[1], figures[2]), BK_OK);
        for (size_t i = 0; i < COUNT(x); i++)
            ck_assert(isfinite(figures[0][i]) && isfinite(figures[1][i]) && isfinite(figures[2][i]));
        for (size_t i = 0; i < beam.n_supports; i++)
            sum += up[i];
        ck_assert(isfinite(sum));
    }
}

static const bk_beam_support rigid[] = {{0.7, false, INFINITY, 0}, {5.9, false, INFINITY, 0}, {9.1, false, INFINITY, 2e-3}};
static const bk_beam_support soft[] = {{0.7, true, 2e6, 0}, {4.1, false, 7e5, 0}, {6.2, false, 3e6, 0}, {9.6, true, 9e5, 1e-3}};
static const bk_beam_load down[] = {{2.2, 0, 830, 0}, {3.1, 8.8, 0, 120}};
static const bk_beam_load up_too[] = {{1.2, 2.3, 0, 95}, {1.9, 8.8, 0, -260}, {7.7, 0, -1900, 0}};
static const bk_beam_train trains[] = {{1.3, 8.6, 4, {-0.4, -0.1, 0.2, 0.35}, 21300, 690}, {2, 7, 1, {0}, 9400, 410}};

START_TEST(fenced_overhangs)
{
    walk((bk_beam){0, 10, 9.3e6, 310, COUNT(rigid), COUNT(down), COUNT(trains), rigid, down, trains});
    walk((bk_beam){0, 10, 9.3e6, 310, COUNT(soft), COUNT(up_too), COUNT(trains), soft, up_too, trains});
    walk((bk_beam){0, 10, 9.3e6, 0, COUNT(rigid), 0, 0, rigid, NULL, NULL});
}
END_TEST

START_TEST(fenced_ends_at_supports)
{
    walk((bk_beam){0.7, 9.1, 9.3e6, 0, COUNT(rigid), COUNT(down), COUNT(trains), rigid, down, trains});
    walk((bk_beam){0.7, 9.6, 9.3e6, 310, COUNT(soft), COUNT(up_too), COUNT(trains), soft, up_too, trains});
}
END_TEST

/* One segment that is cut wherever it can be: by parts that begin and end inside it, and by every wheel at both limits. */
START_TEST(fenced_segment)
{
    const bk_beam_load inside[] = {{1.2, 2.3, 0, 95}, {1.9, 8.8, 0, -260}};
    const bk_beam_train four[] = {trains[0], {2.1, 7.3, 4, {-0.3, 0, 0.15, 0.27}, 9400, 410}};
    walk((bk_beam){0.7, 9.1, 9.3e6, 0, 2, COUNT(inside), COUNT(four), (const bk_beam_support[]){rigid[0], rigid[2]}, inside, four});
    walk((bk_beam){0.7, 9.1, 9.3e6, 0, 1, COUNT(inside), COUNT(four), (const bk_beam_support[]){soft[0]}, inside, four});
    walk((bk_beam){0, 4.1, 9.3e6, 0, 1, 1, 0, (const bk_beam_support[]){{4.1, true, INFINITY, 0}}, down, NULL});
}
END_TEST

/* ---- a runway of a plan ------------------------------------------------------------------------ */

typedef struct small_plan {
    bk_plan plan;
    bk_rule E;
    bk_rules rules;
    bk_section_in section;
    bk_steel steel;
    bk_runway runway;
    bk_support supports[2];
    bk_trolley trolleys[2];
    bk_standing_load standing;
    double static_N[2], dynamic_N[2], stalled_N[2], empty_N[2], payload_N[2];
    bk_trolley_forces forces;
} small_plan;

static void small(small_plan *s)
{
    memset(s, 0, sizeof *s);
#define X(key, field, dim, text) s->section.field = NAN;
    BK_SECTION_NUMBERS(X)
#undef X
    s->section.h_m = 0.3;
    s->section.b_m = 0.15;
    s->section.tw_m = 0.0071;
    s->section.tf_m = 0.0107;
    s->section.r_m = 0.015;
    s->E = (bk_rule){.name = "beam.E", .value = 210e9, .dim = BK_DIM_STRESS};
    s->rules = (bk_rules){.name = "works", .at = &s->E, .n = 1};
    s->supports[0] = (bk_support){.at_m = 0, .limit_N = NAN};
    s->supports[1] = (bk_support){.at_m = 6.4, .limit_N = NAN};
    s->trolleys[0] = (bk_trolley){"t1", BK_NONE, 0.1, 6.3, 4, 0.2, 0.02, 45, NAN, NAN, 0, 0, {NULL, 0, 0}};
    s->trolleys[1] = (bk_trolley){"t2", BK_NONE, 0, 6.4, 2, NAN, 0.02, 30, NAN, NAN, 0, 0, {NULL, 0, 0}};
    s->standing = (bk_standing_load){2, NAN, 1500, NAN, {NULL, 0, 0}};
    s->runway = (bk_runway){
        .name = "bay", .to_m = 6.4, .n_supports = 2, .n_trolleys = 2, .n_loads = 1, .self_weight = true};
    s->plan = (bk_plan){.rules = &s->rules,
                        .runways = &s->runway,
                        .n_runways = 1,
                        .supports = s->supports,
                        .trolleys = s->trolleys,
                        .standing = &s->standing,
                        .sections = &s->section,
                        .steels = &s->steel};
    for (size_t i = 0; i < 2; i++) {
        s->static_N[i] = 12000 - 3000 * (double)i;
        s->dynamic_N[i] = 14000 - 3000 * (double)i;
        s->stalled_N[i] = i ? NAN : 21000;
        s->empty_N[i] = 900;
        s->payload_N[i] = 11000 - 3000 * (double)i;
    }
    s->forces =
        (bk_trolley_forces){s->static_N, s->dynamic_N, s->stalled_N, s->empty_N, s->payload_N, 1.17, "limit"};
}

START_TEST(four_beams_of_a_runway)
{
    small_plan s;
    bk_runway_result r;
    small(&s);
    ck_assert_int_eq(bk_runway_solve(&s.plan, 0, &s.forces, arena, &r, NULL), BK_OK);
    ck_assert_double_eq(r.dynamic_factor, 1.17);
    ck_assert_str_eq(r.dynamic_by, "limit");
    ck_assert_double_eq_tol(r.beam->EI_Nm2, 210e9 * 8356e-8, 1e4); /* IPE 300: 8356 cm4 (EN 10365 tables) */
    ck_assert_double_eq_tol(r.beam->self_N_m, 42.2 * 9.80665, 1);  /* 42.2 kg/m (the same) */
    ck_assert_uint_eq(r.beam->trains[0].n_lines, 2);
    ck_assert_double_eq(r.beam->trains[0].offset_m[1], 0.1);
    ck_assert_uint_eq(r.beam->trains[1].n_lines, 1);
    ck_assert_double_eq(r.beam->trains[0].loaded_N, 14000);
    ck_assert_double_eq(r.service_beam->trains[1].loaded_N, 9000);
    ck_assert_double_eq(r.payload_beam->trains[0].loaded_N, 11000);
    ck_assert_double_eq(r.payload_beam->trains[0].empty_N, 0);
    ck_assert_double_eq(r.payload_beam->self_N_m, 0);
    ck_assert_uint_eq(r.payload_beam->n_loads, 0);
    ck_assert_double_eq(r.stalled_beam->trains[0].loaded_N, 21000);
    ck_assert_double_eq(r.stalled_beam->trains[1].loaded_N, 11000); /* not limited: dynamic */
    ck_assert_double_eq(r.wheel_max_N, 5500); /* t2: 11 000 on two wheels, over t1's 21 000 on four */
    ck_assert_double_eq(r.stalled_N[0], 21000);
    ck_assert_double_nan(r.stalled_N[1]);
    /* left support, by hand: own weight and force there, t1 with its first wheels over it, t2 over it */
    double w = r.beam->self_N_m, by_hand = w * 3.2 + 1500 * 4.4 / 6.4 + 14000 * (6.4 - 0.1) / 6.4 + 11000;
    ck_assert_double_eq_tol(r.worst.reaction_max[0].value, by_hand, 1e-6);
    ck_assert_double_gt(r.stalled.moment_max.value, r.worst.moment_max.value);
    ck_assert_double_lt(r.payload.deflection.value, r.service.deflection.value);
    ck_assert_double_lt(r.service.deflection.value, r.worst.deflection.value);
}
END_TEST

/* The second runway of a plan is the same one that stood alone: what belongs to others, before and behind its own, is
 * left alone. */
START_TEST(second_runway)
{
    small_plan s;
    bk_runway_result alone, second;
    small(&s);
    const bk_standing_load loads[2] = {s.standing, {1.1, 4.3, NAN, 260, {NULL, 0, 0}}};
    s.plan.standing = loads;
    s.runway.n_loads = 2;
    ck_assert_int_eq(bk_runway_solve(&s.plan, 0, &s.forces, arena, &alone, NULL), BK_OK);
    const bk_support ghost = {.at_m = 3.3, .limit_N = NAN}, supports[5] = {ghost, ghost, s.supports[0], s.supports[1], ghost};
    const bk_trolley stray = {.name = "stray", .from_m = 1, .to_m = 2, .wheels = 2},
                     trolleys[4] = {stray, s.trolleys[0], s.trolleys[1], stray};
    const bk_standing_load heavy = {2.2, NAN, 99000, NAN, {NULL, 0, 0}},
                           standing[6] = {heavy, heavy, heavy, loads[0], loads[1], heavy};
    bk_runway both[2] = {s.runway, s.runway};
    both[1].first_support = 2;
    both[1].first_trolley = 1;
    both[1].first_load = 3;
    s.plan.runways = both;
    s.plan.n_runways = 2;
    s.plan.supports = supports;
    s.plan.trolleys = trolleys;
    s.plan.standing = standing;
    ck_assert_int_eq(bk_runway_solve(&s.plan, 1, &s.forces, arena, &second, NULL), BK_OK);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq(second.worst.reaction_max[i].value, alone.worst.reaction_max[i].value);
        ck_assert_double_eq(second.worst.reaction_min[i].value, alone.worst.reaction_min[i].value);
    }
    ck_assert_double_eq(second.worst.moment_max.value, alone.worst.moment_max.value);
    ck_assert_double_eq(second.service.deflection.value, alone.service.deflection.value);
    ck_assert_double_eq(second.wheel_max_N, alone.wheel_max_N);
    /* by hand: left support, both trolleys over it, own weight, 1500 N at 2 m, 260 N/m from 1.1 m to 4.3 m, of 6.4 m */
    double w = alone.beam->self_N_m, by_hand = w * 3.2 + 1500 * 4.4 / 6.4 + 260 * 3.2 * 3.7 / 6.4 + 14000 * 6.3 / 6.4 + 11000;
    ck_assert_double_eq_tol(alone.worst.reaction_max[0].value, by_hand, 1e-6);
}
END_TEST

/* Sums of lengths may be off by a billionth of the runway, 1e-8 m of 10; past that the trolley is named. */
START_TEST(trolleys_at_the_ends)
{
    for (int i = 0; i < 4; i++) {
        bool refused = i % 2;
        double off = refused ? 1.05e-8 : 0.95e-8;
        small_plan s;
        bk_runway_result r;
        bk_errors *errors = bk_errors_new();
        small(&s);
        s.runway.from_m = -5, s.runway.to_m = 5;
        s.supports[0].at_m = -4.5, s.supports[1].at_m = 4.5;
        s.trolleys[0].from_m = -4.9 - (i / 2 == 0) * off;
        s.trolleys[0].to_m = 4.9 + (i / 2 == 1) * off;
        s.trolleys[1].from_m = -5, s.trolleys[1].to_m = 5;
        ck_assert_int_eq(bk_runway_solve(&s.plan, 0, &s.forces, arena, &r, errors), refused ? BK_E_VALUE : BK_OK);
        if (refused) ck_assert_ptr_nonnull(strstr(errors->at[0].text, "trolley t1: a wheel runs off"));
        bk_errors_free(errors);
    }
}
END_TEST

START_TEST(plain_runways)
{
    small_plan s;
    bk_runway_result r;
    small(&s);
    s.stalled_N[0] = 14000; /* not above the dynamic force: no stalled beam */
    s.runway.self_weight = false;
    s.runway.steel = BK_NONE;
    s.E.value = 70e9;
    s.trolleys[1].wheel_base_m = 0.3; /* of two wheels: a base says nothing of lines along the beam */
    ck_assert_int_eq(bk_runway_solve(&s.plan, 0, &s.forces, arena, &r, NULL), BK_OK);
    ck_assert_uint_eq(r.beam->trains[1].n_lines, 1);
    ck_assert_ptr_null(r.stalled_beam);
    ck_assert_ptr_null(r.steel);
    ck_assert_double_eq(r.beam->self_N_m, 0);
    ck_assert_double_eq(r.beam->EI_Nm2, 70e9 * r.section.Iy_m4);
    s.runway.n_trolleys = 0; /* no trolley: the beam alone */
    ck_assert_int_eq(bk_runway_solve(&s.plan, 0, &s.forces, arena, &r, NULL), BK_OK);
    ck_assert_double_eq(r.wheel_max_N, 0);
}
END_TEST

START_TEST(runways_refused)
{
    small_plan s;
    bk_runway_result r;
    static const char *const words[] = {"no section",
                                        "section of runway bay",
                                        "2 or 4 wheels",
                                        "trolley t1: a wheel runs off",
                                        "trolley t2: a wheel runs off",
                                        "runway bay: the beam needs two supports",
                                        "rule set works has no stress beam.E, which runway bay needs",
                                        "rule set works has no stress beam.E, which runway bay needs"};
    for (size_t i = 0; i < 8; i++) {
        bk_errors *errors = bk_errors_new();
        small(&s);
        if (i == 0) s.runway.section = BK_NONE;
        if (i == 1) s.section.tf_m = NAN;
        if (i == 2) s.trolleys[0].wheels = 3;
        if (i == 3) s.trolleys[0].from_m = 0.05;
        if (i == 4) s.trolleys[1].to_m = 6.5;
        if (i == 5) s.runway.n_supports = 1;
        if (i == 6) s.rules.n = 0;
        if (i == 7) s.E.dim = BK_DIM_NONE;
        ck_assert_int_ne(bk_runway_solve(&s.plan, 0, &s.forces, arena, &r, errors), BK_OK);
        ck_assert_uint_eq(errors->n, 1);
        ck_assert_msg(strstr(errors->at[0].text, words[i]) != NULL, "\"%s\"", errors->at[0].text);
        bk_errors_free(errors);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("runway");
    TCase *c = tcase_create("runway");
    tcase_add_checked_fixture(c, start, stop);
    tcase_add_test(c, refusals);
    tcase_add_test(c, state_off_the_beam);
    tcase_add_test(c, degenerate_beams);
    tcase_add_test(c, standing_over_a_support);
    tcase_add_test(c, shear_beside_a_load);
    tcase_add_test(c, soft_supports_and_no_overhang);
    tcase_add_test(c, rounding_at_the_ends);
    tcase_add_test(c, trolleys_add_up);
    tcase_add_test(c, many_supports);
    tcase_add_test(c, fenced_overhangs);
    tcase_add_test(c, fenced_ends_at_supports);
    tcase_add_test(c, fenced_segment);
    tcase_add_test(c, four_beams_of_a_runway);
    tcase_add_test(c, second_runway);
    tcase_add_test(c, trolleys_at_the_ends);
    tcase_add_test(c, plain_runways);
    tcase_add_test(c, runways_refused);
    suite_add_tcase(suite, c);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
