/* Random runways: the exact worst against an independent beam solver on a grid of places.
 *
 * The solver here shares nothing with the library's: Macaulay's method (one expression for the whole beam,
 * unknown reactions and integration constants, Gaussian elimination in long double) against displacements
 * of nodes.  Three things are held, for every extreme:
 *   attained     the state the library names gives the value it names
 *   never below  no place on the grid, and none that a random climb from the grid's best finds, beats it
 *   near         the grid comes close to it
 * Plus: mirror image, scale, superposition of trains.  Random numbers are the same in every run.
 */
#include <becket/runway.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- random beams ------------------------------------------------------------------------------ */

static uint64_t seed;
static double uniform(double low, double high)
{
    uint64_t z = (seed += 0x9e3779b97f4a7c15u); /* splitmix64 */
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return low + (high - low) * (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}
static size_t pick(size_t n)
{
    return (size_t)uniform(0, (double)n);
}

enum { MAX_SUPPORTS = 8, MAX_LOADS = 5, MAX_TRAINS = 3 };
typedef struct sample {
    bk_beam beam;
    bk_beam_support supports[MAX_SUPPORTS];
    bk_beam_load loads[MAX_LOADS];
    bk_beam_train trains[MAX_TRAINS];
} sample;

static void random_supports(sample *s)
{
    s->beam.n_supports = 1 + pick(6);
    double x = uniform(-3, 3);
    s->beam.from_m = x;
    if (pick(2)) x += uniform(0.1, 2);
    bool elastic = pick(3) == 0, settled = pick(4) == 0;
    for (size_t i = 0; i < s->beam.n_supports; i++) {
        bk_beam_support *support = &s->supports[i];
        *support = (bk_beam_support){x, false, INFINITY, 0};
        if (elastic && pick(3)) support->stiffness_N_m = exp(uniform(log(2e5), log(2e8)));
        if (settled) support->settlement_m = uniform(-3e-3, 3e-3);
        if (i + 1 < s->beam.n_supports) x += uniform(0.6, 7);
    }
    if (s->beam.n_supports == 1) x += uniform(0.5, 3);
    s->supports[0].fixed = s->beam.n_supports == 1 || pick(5) == 0;
    s->supports[s->beam.n_supports - 1].fixed |= pick(5) == 0;
    s->beam.to_m = pick(2) || s->beam.n_supports == 1 ? x + uniform(0.1, 2) : x;
}

static void random_loads(sample *s, bool upward)
{
    double from = s->beam.from_m, to = s->beam.to_m;
    s->beam.self_N_m = pick(4) ? uniform(50, 900) : 0;
    s->beam.n_loads = pick(MAX_LOADS);
    for (size_t i = 0; i < s->beam.n_loads; i++) {
        bk_beam_load *l = &s->loads[i];
        double sign = upward && pick(2) ? -1 : 1;
        *l = (bk_beam_load){uniform(from, to), 0, 0, 0};
        l->to_m = uniform(l->from_m, to);
        if (pick(2))
            l->force_N = sign * uniform(500, 9000);
        else
            l->per_metre_N_m = sign * uniform(100, 3000);
    }
}

static void random_trains(sample *s)
{
    s->beam.n_trains = 1 + pick(MAX_TRAINS);
    for (size_t i = 0; i < s->beam.n_trains; i++) {
        bk_beam_train *t = &s->trains[i];
        t->n_lines = 1 + pick(BK_WHEEL_LINES_MAX);
        double base = uniform(0, 0.2 * (s->beam.to_m - s->beam.from_m));
        for (size_t k = 0; k < t->n_lines; k++)
            t->offset_m[k] = uniform(-base, base);
        t->from_m = uniform(s->beam.from_m + base, s->beam.to_m - base);
        t->to_m = pick(5) ? uniform(t->from_m, s->beam.to_m - base) : t->from_m;
        if (pick(2)) {
            t->from_m = s->beam.from_m + base;
            t->to_m = s->beam.to_m - base;
        }
        t->loaded_N = uniform(5e3, 4e4);
        t->empty_N = pick(3) ? uniform(0, 3e3) : 0;
    }
}

/* A stiff beam hung from soft lines near together: lifting beams, trusses on hoists. */
static void make_stiff(sample *s)
{
    s->beam.EI_Nm2 = exp(uniform(log(1e7), log(3e9)));
    for (size_t i = 0; i < s->beam.n_supports; i++)
        s->supports[i].stiffness_N_m = exp(uniform(log(2e4), log(2e7)));
}

static void random_sample(sample *s, bool upward)
{
    memset(s, 0, sizeof *s);
    s->beam.supports = s->supports;
    s->beam.loads = s->loads;
    s->beam.trains = s->trains;
    s->beam.EI_Nm2 = uniform(1e6, 3e7);
    random_supports(s);
    random_loads(s, upward);
    random_trains(s);
}

/* ---- Macaulay's method ------------------------------------------------------------------------- */

typedef long double real;
enum { MAX_UNKNOWNS = MAX_SUPPORTS + 4 };
/* unknowns: v and slope at the left end, n reactions, fixing moments of the first and last support */
typedef struct macaulay {
    const bk_beam *beam;
    size_t n, first_moment, last_moment; /* 0: that support holds no slope */
    real inverse[MAX_UNKNOWNS][MAX_UNKNOWNS];
} macaulay;
/* A response: unknowns and the forces it belongs to. */
typedef struct response {
    real unknown[MAX_UNKNOWNS];
    size_t n_forces;
    real at[MAX_LOADS + MAX_TRAINS * 4], force[MAX_LOADS + MAX_TRAINS * 4];
    bool standing; /* uniform parts and settlements in */
} response;

static real ramp(real x, int power)
{
    if (x < 0) return 0;
    real r = 1;
    for (int i = 0; i < power; i++)
        r *= x / (i + 1);
    return r; /* x^n / n! */
}

/* Derivative d (0: EI v, 1: EI v', 2: -M, 3: -V) at x of what the loads alone do. */
static real loads_do(const macaulay *m, const response *r, real x, int d)
{
    const bk_beam *b = m->beam;
    real sum = 0;
    for (size_t i = 0; i < r->n_forces; i++)
        sum += r->force[i] * ramp(x - r->at[i], 3 - d);
    if (!r->standing) return sum;
    sum += (real)b->self_N_m * ramp(x - b->from_m, 4 - d);
    for (size_t i = 0; i < b->n_loads; i++)
        sum += (real)b->loads[i].per_metre_N_m *
               (ramp(x - b->loads[i].from_m, 4 - d) - ramp(x - b->loads[i].to_m, 4 - d));
    return sum;
}
/* What unknown j does. */
static real unknown_does(const macaulay *m, size_t j, real x, int d)
{
    const bk_beam *b = m->beam;
    if (j == 0) return d == 0 ? b->EI_Nm2 : 0;
    if (j == 1) return d == 0 ? b->EI_Nm2 * (x - b->from_m) : d == 1 ? b->EI_Nm2 : 0;
    if (j < 2 + b->n_supports) return -ramp(x - b->supports[j - 2].at_m, 3 - d);
    if (d == 3) return 0;
    return -ramp(x - b->supports[j == m->first_moment ? 0 : b->n_supports - 1].at_m, 2 - d);
}

static void macaulay_build(macaulay *m, const bk_beam *b)
{
    real a[MAX_UNKNOWNS][2 * MAX_UNKNOWNS] = {{0}};
    m->beam = b;
    m->n = 2 + b->n_supports;
    m->first_moment = b->supports[0].fixed ? m->n++ : 0;
    m->last_moment = b->n_supports > 1 && b->supports[b->n_supports - 1].fixed ? m->n++ : 0;
    size_t n = m->n, row = 0;
    for (size_t i = 0; i < b->n_supports; i++, row++) {
        for (size_t j = 0; j < n; j++)
            a[row][j] = unknown_does(m, j, b->supports[i].at_m, 0) / b->EI_Nm2;
        if (isfinite(b->supports[i].stiffness_N_m)) a[row][2 + i] -= 1 / (real)b->supports[i].stiffness_N_m;
    }
    for (size_t e = 0; e < 2; e++) {
        if (!(e ? m->last_moment : m->first_moment)) continue;
        for (size_t j = 0; j < n; j++)
            a[row][j] = unknown_does(m, j, b->supports[e ? b->n_supports - 1 : 0].at_m, 1) / b->EI_Nm2;
        row++;
    }
    for (int d = 2; d <= 3; d++, row++)
        for (size_t j = 0; j < n; j++)
            a[row][j] = unknown_does(m, j, b->to_m, d);
    for (size_t i = 0; i < n; i++)
        a[i][n + i] = 1;
    for (size_t c = 0; c < n; c++) {
        size_t p = c;
        for (size_t i = c; i < n; i++)
            if (fabsl(a[i][c]) > fabsl(a[p][c])) p = i;
        for (size_t j = 0; j < 2 * n; j++) {
            real t = a[c][j];
            a[c][j] = a[p][j];
            a[p][j] = t;
        }
        ck_assert(a[c][c] != 0);
        for (size_t i = 0; i < n; i++) {
            if (i == c) continue;
            real f = a[i][c] / a[c][c];
            for (size_t j = 0; j < 2 * n; j++)
                a[i][j] -= f * a[c][j];
        }
    }
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            m->inverse[i][j] = a[i][n + j] / a[i][i];
}

static void respond(const macaulay *m, response *r)
{
    const bk_beam *b = m->beam;
    real rhs[MAX_UNKNOWNS];
    size_t row = 0;
    for (size_t i = 0; i < b->n_supports; i++)
        rhs[row++] = (r->standing ? b->supports[i].settlement_m : 0) -
                     loads_do(m, r, b->supports[i].at_m, 0) / b->EI_Nm2;
    if (m->first_moment) rhs[row++] = -loads_do(m, r, b->supports[0].at_m, 1) / b->EI_Nm2;
    if (m->last_moment) rhs[row++] = -loads_do(m, r, b->supports[b->n_supports - 1].at_m, 1) / b->EI_Nm2;
    rhs[row++] = -loads_do(m, r, b->to_m, 2);
    rhs[row++] = -loads_do(m, r, b->to_m, 3);
    for (size_t i = 0; i < m->n; i++) {
        r->unknown[i] = 0;
        for (size_t j = 0; j < m->n; j++)
            r->unknown[i] += m->inverse[i][j] * rhs[j];
    }
}

static real figure(const macaulay *m, const response *r, real x, int d)
{
    real sum = loads_do(m, r, x, d);
    for (size_t j = 0; j < m->n; j++)
        sum += r->unknown[j] * unknown_does(m, j, x, d);
    return d == 0 ? sum / m->beam->EI_Nm2 : -sum;
}

static void put_train(const bk_beam_train *t, double at, double force, response *r)
{
    for (size_t k = 0; k < t->n_lines; k++, r->n_forces++) {
        r->at[r->n_forces] = at + t->offset_m[k];
        r->force[r->n_forces] = force / (double)t->n_lines;
    }
}

static void put_standing(const bk_beam *b, response *r)
{
    r->standing = true;
    for (size_t i = 0; i < b->n_loads; i++) {
        r->at[r->n_forces] = b->loads[i].from_m;
        r->force[r->n_forces++] = b->loads[i].force_N;
    }
}

static void put_state(const macaulay *m, const double *train_m, const bool *loaded, response *r)
{
    memset(r, 0, sizeof *r);
    put_standing(m->beam, r);
    for (size_t i = 0; i < m->beam->n_trains; i++)
        put_train(&m->beam->trains[i], train_m[i],
                  loaded[i] ? m->beam->trains[i].loaded_N : m->beam->trains[i].empty_N, r);
    respond(m, r);
}

/* ---- comparison -------------------------------------------------------------------------------- */

/* Figures: derivative for figure(), or the reaction of a support. */
enum { DEFLECTION = 0, MOMENT = 2, SHEAR = 3, REACTION = 4 };

static real state_figure(const macaulay *m, const response *r, int what, size_t support, real x)
{
    return what == REACTION ? r->unknown[2 + support] : figure(m, r, x, what);
}

/* A value of `sign * figure` with trolleys near `at`, section near x; keeps what improves it. */
static real climb(const macaulay *m, int what, size_t support, double sign, double low, double high,
                  double *x, double *at, bool *loaded, real value)
{
    const bk_beam *b = m->beam;
    double step = 0.1 * (b->to_m - b->from_m);
    for (int i = 0; i < 100; i++, step *= 0.9) {
        double next[MAX_TRAINS], section = fmin(fmax(*x + uniform(-step, step) * (double)pick(2), low), high);
        bool full[MAX_TRAINS];
        double shift = section - *x;
        for (size_t t = 0; t < b->n_trains; t++) {
            double move = pick(3) == 0 ? shift : uniform(-step, step) * (double)pick(2);
            next[t] = fmin(fmax(at[t] + move, b->trains[t].from_m), b->trains[t].to_m);
            full[t] = pick(8) ? loaded[t] : !loaded[t];
        }
        response r;
        put_state(m, next, full, &r);
        real v = sign * state_figure(m, &r, what, support, section);
        if (v <= value) continue;
        value = v;
        *x = section;
        memcpy(at, next, sizeof next);
        memcpy(loaded, full, sizeof full);
    }
    return value;
}

enum { PLACES = 41, SECTIONS = 13 };

/* Greatest of sign * figure over the grid: each trolley for itself, at each section for itself. */
static real grid_worst(const macaulay *m, int what, size_t support, double sign, double low, double high,
                       double *x, double *at, bool *loaded)
{
    const bk_beam *b = m->beam;
    real worst = -INFINITY;
    response none = {.standing = false};
    memset(&none, 0, sizeof none);
    put_standing(b, &none);
    respond(m, &none);
    static real moved[MAX_TRAINS][PLACES][SECTIONS];
    for (size_t t = 0; t < b->n_trains; t++)
        for (size_t p = 0; p < PLACES; p++) {
            response r;
            memset(&r, 0, sizeof r);
            double place =
                b->trains[t].from_m + (b->trains[t].to_m - b->trains[t].from_m) * (double)p / (PLACES - 1);
            put_train(&b->trains[t], place, 1, &r);
            respond(m, &r);
            for (size_t s = 0; s < SECTIONS; s++)
                moved[t][p][s] =
                    sign * state_figure(m, &r, what, support, low + (high - low) * (real)s / (SECTIONS - 1));
        }
    for (size_t s = 0; s < SECTIONS; s++) {
        double section = low + (high - low) * (double)s / (SECTIONS - 1), to[MAX_TRAINS];
        bool full[MAX_TRAINS];
        real sum = sign * state_figure(m, &none, what, support, section);
        for (size_t t = 0; t < b->n_trains; t++) {
            real best = -INFINITY;
            for (size_t p = 0; p < PLACES; p++)
                for (int l = 0; l < 2; l++) {
                    real v = moved[t][p][s] * (l ? b->trains[t].loaded_N : b->trains[t].empty_N);
                    if (v <= best) continue;
                    best = v;
                    full[t] = l;
                    to[t] = b->trains[t].from_m +
                            (b->trains[t].to_m - b->trains[t].from_m) * (double)p / (PLACES - 1);
                }
            sum += best;
        }
        if (sum <= worst) continue;
        worst = sum;
        *x = section;
        memcpy(at, to, sizeof to);
        memcpy(loaded, full, sizeof full);
    }
    return worst;
}

/* What the figures of this beam are measured in: tolerance of zero. */
static double unit_of(const bk_beam *b, int what)
{
    double force = b->self_N_m * (b->to_m - b->from_m), L = b->to_m - b->from_m;
    for (size_t i = 0; i < b->n_trains; i++)
        force += b->trains[i].loaded_N;
    for (size_t i = 0; i < b->n_supports; i++)
        force += fabs(b->supports[i].settlement_m) * b->EI_Nm2 / (0.6 * 0.6 * 0.6);
    return what == MOMENT ? force * L : what == DEFLECTION ? force * L * L * L / b->EI_Nm2 : force;
}

static double worst_gap; /* of the grid's climbed best under the exact value, for the eye */

static void hold(const macaulay *m, int what, size_t support, double sign, double low, double high,
                 const bk_beam_extreme *e, const char *name)
{
    const bk_beam *b = m->beam;
    double x = low, at[MAX_TRAINS] = {0}, unit = unit_of(b, what);
    bool loaded[MAX_TRAINS] = {0};
    double exact = sign * e->value, tolerance = 1e-9 * fabs(e->value) + 1e-12 * unit;
    ck_assert_msg(isfinite(e->value), "%s is no number", name);
    ck_assert_msg(e->at_m >= low - 1e-9 && e->at_m <= high + 1e-9, "%s at %g, not in [%g, %g]", name, e->at_m,
                  low, high);
    for (size_t i = 0; i < b->n_trains; i++)
        ck_assert_msg(e->train_m[i] >= b->trains[i].from_m && e->train_m[i] <= b->trains[i].to_m,
                      "%s: train off its travel", name);

    response r;
    real attained = -INFINITY;
    put_state(m, e->train_m, e->train_loaded, &r);
    if (what == SHEAR || what == MOMENT) {
        /* limits beside a wheel or a fixed support: look a hair to either side, with the trolleys a hair off
         */
        double hair = 1e-9;
        for (int side = -1; side <= 1; side++)
            for (int code = 0; code < 27; code++) {
                double moved[MAX_TRAINS] = {0};
                int c = code;
                for (size_t i = 0; i < b->n_trains; i++, c /= 3)
                    moved[i] = e->train_m[i] + hair * (c % 3 - 1);
                put_state(m, moved, e->train_loaded, &r);
                real v = sign * figure(m, &r, fmin(fmax(e->at_m + side * hair / 2, low), high), what);
                if (fabsl(v - exact) < fabsl(attained - exact)) attained = v;
            }
        tolerance += 1e-8 * unit;
    } else {
        attained = sign * state_figure(m, &r, what, support, e->at_m);
    }
    ck_assert_msg(fabsl(attained - exact) <= tolerance,
                  "%s: named state gives %.12Lg, value is %.12g (unit %g)", name, attained, exact, unit);
    tolerance =
        (what == DEFLECTION ? 2e-8 : 1e-9) * fabs(e->value) + (what == DEFLECTION ? 1e-10 : 1e-12) * unit;
    real grid = grid_worst(m, what, support, sign, low, high, &x, at, loaded);
    real climbed = climb(m, what, support, sign, low, high, &x, at, loaded, grid);
    ck_assert_msg(climbed <= exact + tolerance, "%s: exact %.12g, grid finds %.12Lg, at %g", name, exact,
                  climbed, x);
    double gap = (double)((exact - climbed) / unit);
    if (gap > worst_gap) worst_gap = gap;
    ck_assert_msg(what == SHEAR || gap < 0.02, "%s: exact %.12g, grid only %.12Lg (unit %g)", name, exact,
                  climbed, unit);
}

/* The sign of the shear in the state that an extreme names, on its greater side. */
static double shear_sign(const macaulay *m, const bk_beam_extreme *e, double low, double high)
{
    real best = -INFINITY;
    double sign = 1;
    for (int side = -1; side <= 1; side++)
        for (int move = -1; move <= 1; move++) {
            double moved[MAX_TRAINS] = {0};
            for (size_t i = 0; i < m->beam->n_trains; i++)
                moved[i] = e->train_m[i] + 1e-9 * move;
            response r;
            put_state(m, moved, e->train_loaded, &r);
            real v = figure(m, &r, fmin(fmax(e->at_m + side * 5e-10, low), high), SHEAR);
            if (fabsl(v) <= best) continue;
            best = fabsl(v);
            sign = v < 0 ? -1 : 1;
        }
    return sign;
}

static void hold_all(const sample *s)
{
    const bk_beam *b = &s->beam;
    macaulay m;
    macaulay_build(&m, b);
    bk_arena *arena = bk_arena_new();
    bk_beam_worst w;
    char why[160] = "";
    bk_status status = bk_beam_find_worst(b, arena, &w, why, sizeof why);
    ck_assert_msg(status == BK_OK, "%s", why);
    for (size_t i = 0; i < b->n_supports; i++) {
        double at = b->supports[i].at_m;
        hold(&m, REACTION, i, 1, at, at, &w.reaction_max[i], "greatest reaction");
        hold(&m, REACTION, i, -1, at, at, &w.reaction_min[i], "least reaction");
        const bk_beam_extreme *held = &w.reaction_at_trolley_max[i];
        if (isnan(held->value)) continue;
        response r;
        put_state(&m, held->train_m, held->train_loaded, &r);
        ck_assert(fabsl(r.unknown[2 + i] - held->value) <=
                  1e-9 * fabs(held->value) + 1e-12 * unit_of(b, REACTION));
        ck_assert(held->value <=
                  w.reaction_max[i].value + 1e-11 * (fabs(held->value) + unit_of(b, REACTION)));
    }
    for (size_t i = 0; i < w.n_spans; i++) {
        /* a hair inside: shear jumps at a support, moment at a fixed one */
        double low = w.span_from_m[i], high = w.span_to_m[i], hair = 1e-12 * (b->to_m - b->from_m);
        hold(&m, MOMENT, 0, 1, low + hair, high - hair, &w.span_moment_max[i], "greatest moment");
        hold(&m, MOMENT, 0, -1, low + hair, high - hair, &w.span_moment_min[i], "least moment");
        bk_beam_extreme e = w.span_deflection[i];
        hold(&m, DEFLECTION, 0, e.value < 0 ? -1 : 1, low, high, &e, "deflection");
        /* a magnitude: what the grid finds of either sign stays below it, the named state has one of them */
        e = w.span_shear[i];
        ck_assert(e.value >= 0);
        double sign = shear_sign(&m, &e, low + hair, high - hair);
        hold(&m, SHEAR, 0, sign, low + hair, high - hair,
             &(bk_beam_extreme){sign * e.value, e.at_m, e.train_m, e.train_loaded}, "shear");
        double x = 0, at[MAX_TRAINS];
        bool loaded[MAX_TRAINS];
        real other = grid_worst(&m, SHEAR, 0, -sign, low + hair, high - hair, &x, at, loaded);
        ck_assert(other <= e.value * (1 + 1e-9) + 1e-12 * unit_of(b, SHEAR));
    }
    ck_assert(w.shear.value >= 0);
    bk_arena_free(arena);
}

START_TEST(exact_beats_grid_downward)
{
    seed = 20240611u + (uint64_t)_i;
    sample s;
    for (int i = 0; i < 20; i++) {
        random_sample(&s, false);
        hold_all(&s);
    }
}
END_TEST

START_TEST(exact_beats_grid_upward_loads)
{
    seed = 977u + (uint64_t)_i;
    sample s;
    for (int i = 0; i < 20; i++) {
        random_sample(&s, true);
        hold_all(&s);
    }
}
END_TEST

START_TEST(exact_beats_grid_stiff_on_soft)
{
    seed = 41u + (uint64_t)_i;
    sample s;
    for (int i = 0; i < 10; i++) {
        random_sample(&s, false);
        make_stiff(&s);
        hold_all(&s);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("runway property");
    TCase *grid = tcase_create("grid");
    tcase_set_timeout(grid, 120);
    tcase_add_loop_test(grid, exact_beats_grid_downward, 0, 12);
    tcase_add_loop_test(grid, exact_beats_grid_upward_loads, 0, 8);
    tcase_add_loop_test(grid, exact_beats_grid_stiff_on_soft, 0, 8);
    suite_add_tcase(suite, grid);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
