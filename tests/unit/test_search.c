/* The search for the worst, on figures that are no rig: every place it goes to is known, and the greatest value by
 * hand. */
#include "../../src/statics/chance.h"
#include "../../src/statics/search.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 101, GOES = 6000 };

static double half[MOST], been[GOES][MOST];
static int n_goes, last_go; /* goes counted; goes beyond last_go have no answer */
static bool was_near[GOES];
static bool folds;
static double here[MOST];
static size_t n;
static size_t n_gaps;
static void (*gaps_of)(double x, double *gap); /* of the first parameter */
static double (*figures[2])(const double *x, double *slope);
static bk_arena *arena;
static bk_search s;

static bool go(void *of, const double *at, bool near_last)
{
    (void)of;
    if (n_goes >= last_go) return false;
    ck_assert_int_lt(n_goes, GOES);
    was_near[n_goes] = near_last;
    memcpy(been[n_goes++], at, n * sizeof *at);
    memcpy(here, at, n * sizeof *at);
    for (size_t i = 0; i < n; i++)
        ck_assert_double_le(fabs(at[i]), half[i]);
    return true;
}
static double value(const void *of, size_t figure)
{
    (void)of;
    double slope[MOST];
    return figures[figure](here, slope);
}
static void slopes(void *of, size_t figure, double *slope)
{
    (void)of;
    figures[figure](here, slope);
}

static void gaps(const void *of, double *gap)
{
    (void)of;
    if (n_gaps > 0) gaps_of(here[0], gap);
}

/* n parameters, each from -its half to +it. */
static void open_box(size_t parameters, size_t n_figures)
{
    n = parameters;
    bk_arena_free(arena);
    arena = bk_arena_new();
    n_goes = 0;
    last_go = GOES;
    folds = false;
    memset(here, 0, sizeof here);
    memset(half, 0, sizeof half);
    for (size_t i = 0; i < n; i++)
        half[i] = 1;
    const bk_ground ground = {n, n_figures, half, NULL, go, value, slopes, n_gaps, gaps, &folds};
    ck_assert(bk_search_new(&s, arena, &ground));
    for (size_t i = 0; i < n_figures; i++)
        s.peak[i].unit = 1;
}
static void sized(size_t i, double size)
{
    half[i] = s.summit.size[i] = size;
}
static void setup(void)
{
    n_gaps = 0;
    arena = NULL;
}
static void teardown(void)
{
    bk_arena_free(arena);
}

/* ---- figures ----------------------------------------------------------------------------------- */

static double straight(const double *x, double *slope) /* x + 2 y + 4 z, and nothing of the others */
{
    for (size_t i = 0; i < n; i++)
        slope[i] = i < 3 ? (double)(1 << i) : 0;
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += slope[i] * x[i];
    return sum;
}
static double minus(const double *x, double *slope)
{
    const double v = straight(x, slope);
    for (size_t i = 0; i < n; i++)
        slope[i] = -slope[i];
    return -v;
}
static double level(const double *x, double *slope)
{
    (void)x;
    memset(slope, 0, n * sizeof *slope);
    return 3;
}
static double never(const double *x, double *slope)
{
    (void)x;
    memset(slope, 0, n * sizeof *slope);
    return -(double)INFINITY;
}
/* A roof: the lower of 1 + x and 2 - 3 x + y. */
static double roof(const double *x, double *slope)
{
    memset(slope, 0, n * sizeof *slope);
    const double a = 1 + x[0], b = 2 - 3 * x[0] + x[1];
    slope[0] = a < b ? 1 : -3;
    slope[1] = a < b ? 0 : 1;
    return fmin(a, b);
}
/* A valley whose floor is at `floor_at`, 1 deep a unit. */
static double floor_at;
static double valley(const double *x, double *slope)
{
    memset(slope, 0, n * sizeof *slope);
    slope[0] = x[0] < floor_at ? -1 : 1;
    return fabs(x[0] - floor_at);
}
/* Slopes that mislead: at 0 a plane that rises to 1 at x = 1, where the figure is 3; there one that rises to 23 at
 * x = -1, where it is 5. */
static double misleading(const double *x, double *slope)
{
    slope[0] = x[0] < -0.5 ? -1 : x[0] < 0.5 ? 1 : -10;
    return x[0] < -0.5 ? 5 : x[0] < 0.5 ? x[0] : 3;
}
static double top_at[MOST];

/* ---- corners ----------------------------------------------------------------------------------- */

START_TEST(every_corner_from_its_neighbour)
{
    figures[0] = straight;
    figures[1] = minus;
    open_box(3, 2);
    sized(1, 0.5);
    bk_search_corners(&s);
    ck_assert_int_eq(n_goes, 8);
    for (int a = 0; a < 8; a++) {
        ck_assert(was_near[a] == (a > 0));
        for (size_t i = 0; i < n; i++)
            ck_assert_double_eq(fabs(been[a][i]), half[i]);
        for (int b = 0; b < a; b++)
            ck_assert(memcmp(been[a], been[b], n * sizeof(double)) != 0);
        int changed = 0;
        for (size_t i = 0; a > 0 && i < n; i++)
            changed += been[a][i] != been[a - 1][i];
        ck_assert(a == 0 || changed == 1);
    }
    /* of x + 2 y + 4 z at x, z = +-1 and y = +-0.5: 6, then 4 (x or y at its least; the first of equals), twice */
    const bk_peak *peak = &s.peak[0];
    ck_assert_double_eq(peak->best, 6);
    ck_assert_uint_eq(peak->n_top, 3);
    ck_assert(peak->top[0] == 6 && peak->top[1] == 4 && peak->top[2] == 4);
    for (int t = 0; t < 3; t++)
        ck_assert_double_eq(peak->top_at[t][0] + 2 * peak->top_at[t][1] + 4 * peak->top_at[t][2], peak->top[t]);
    ck_assert(memcmp(peak->top_at[1], peak->top_at[2], n * sizeof(double)) != 0);
    ck_assert_double_eq(s.peak[1].best, 6);
    ck_assert(s.peak[1].where[0] == -1 && s.peak[1].where[1] == -0.5 && s.peak[1].where[2] == -1);
}
END_TEST

START_TEST(best_corners_come_best_first)
{
    figures[0] = straight;
    figures[1] = minus;
    open_box(3, 2);
    bk_search_corners(&s);
    for (int f = 0; f < 2; f++) {
        const bk_peak *peak = &s.peak[f];
        ck_assert(peak->top[0] == 7 && peak->top[1] == 5 && peak->top[2] == 3);
        for (int t = 0; t < 3; t++)
            ck_assert_double_eq((f ? -1 : 1) * (peak->top_at[t][0] + 2 * peak->top_at[t][1] + 4 * peak->top_at[t][2]),
                                peak->top[t]);
    }
    open_box(1, 1); /* fewer corners than starts */
    bk_search_corners(&s);
    ck_assert_uint_eq(s.peak[0].n_top, 2);
    ck_assert(s.peak[0].top[0] == 1 && s.peak[0].top[1] == -1);
}
END_TEST

START_TEST(all_corners_of_twelve_and_some_of_more)
{
    const struct {
        size_t n;
        int goes;
    } all[] = {{11, 2048}, {12, 4096}, {13, 1024}, {40, 1024}, {41, 256}, {100, 256}, {101, 0}};
    figures[0] = straight;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        open_box(all[i].n, 1);
        bk_search_corners(&s);
        ck_assert_int_eq(n_goes, all[i].goes);
        ck_assert_uint_eq(s.peak[0].n_top, all[i].goes > 0 ? 3 : 0);
        if (all[i].n <= 12 || all[i].goes == 0) continue;
        for (int a = 0; a < n_goes; a++)
            ck_assert(!was_near[a]); /* neighbours of nobody */
        for (int a = 0; a < n_goes; a++)
            for (int b = 0; b < a && n > 50; b++)
                ck_assert(memcmp(been[a], been[b], n * sizeof(double)) != 0);
        uint64_t state = BK_CHANCE_START; /* a number for every parameter of every case */
        for (int a = 0; a < n_goes; a++)
            for (size_t k = 0; k < n; k++)
                ck_assert_double_eq(been[a][k], bk_chance(&state) > 0 ? 1 : -1);
        for (size_t k = 0; k < n; k++) { /* both ends alike: half, and five times the root of a quarter of them */
            int ups = 0;
            for (int a = 0; a < n_goes; a++) {
                ck_assert_double_eq(fabs(been[a][k]), 1);
                ups += been[a][k] > 0;
            }
            ck_assert_double_le(fabs(ups - n_goes / 2.0), 5 * sqrt(n_goes / 4.0));
        }
    }
}
END_TEST

START_TEST(no_answer_is_no_corner)
{
    figures[0] = straight;
    open_box(3, 1);
    last_go = 0;
    bk_search_corners(&s);
    ck_assert_uint_eq(s.peak[0].n_top, 0);
    ck_assert(s.peak[0].best == -(double)INFINITY);
}
END_TEST

/* ---- climbing ---------------------------------------------------------------------------------- */

START_TEST(straight_figure_takes_two_cases)
{
    figures[0] = straight;
    open_box(4, 1);
    sized(2, 0.25);
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 2); /* the middle, and the corner its slopes point to */
    ck_assert(!was_near[0] && was_near[1]);
    ck_assert_double_eq(been[0][0], 0);
    ck_assert_double_eq(s.peak[0].best, 4);
    ck_assert(s.peak[0].where[0] == 1 && s.peak[0].where[1] == 1 && s.peak[0].where[2] == 0.25);
}
END_TEST

/* By hand: 1 + x = 2 - 3 x + y with y at its most, 0.5: x = 0.375, height 1.375. */
START_TEST(roof_is_climbed_to_its_ridge)
{
    figures[0] = roof;
    open_box(2, 1);
    sized(1, 0.5);
    bk_search_climb(&s, 0);
    ck_assert_double_eq_tol(s.peak[0].best, 1.375, 1e-12);
    ck_assert_double_eq_tol(s.peak[0].where[0], 0.375, 1e-12);
    ck_assert_int_le(n_goes, 4);
}
END_TEST

START_TEST(plane_below_what_was_found_is_dropped)
{
    figures[0] = misleading;
    open_box(1, 1);
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 3);
    ck_assert(been[0][0] == 0 && been[1][0] == 1 && been[2][0] == -1);
    ck_assert_double_eq(s.peak[0].best, 5);
}
END_TEST

static double restless(const double *x, double *slope) /* promises more at the other end, for ever */
{
    slope[0] = x[0] > 0 ? -100 : 100;
    return (double)n_goes;
}
START_TEST(climb_ends)
{
    figures[0] = restless;
    open_box(1, 1);
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 16);
    open_box(1, 1);
    last_go = 1;
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 1);
    figures[0] = never;
    open_box(1, 1);
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 1);
}
END_TEST

static double ridge_before_a_cliff(const double *x, double *slope) /* a ridge at 0.3, and the foot of a cliff behind it */
{
    slope[0] = x[0] <= 0.3 ? 1 : x[0] <= 0.6 ? -4 : 0;
    return x[0] <= 0.3 ? x[0] : x[0] <= 0.6 ? 1.5 - 4 * x[0] : -1;
}
START_TEST(climb_turns_back_from_the_foot_of_a_cliff)
{
    figures[0] = ridge_before_a_cliff;
    open_box(1, 1);
    bk_search_climb(&s, 0);
    ck_assert_double_eq_tol(s.peak[0].best, 0.3, 1e-12);
    ck_assert_int_le(n_goes, 5); /* the middle, the foot, half way back, the ridge */
}
END_TEST

/* From a corner that looks best, over the floor of a valley, to the end that is higher. */
static void over_the_floor(double at, double size, double better)
{
    figures[0] = valley;
    floor_at = at;
    open_box(2, 1);
    sized(0, size);
    s.at[0] = at > 0 ? size : -size;
    ck_assert(go(NULL, s.at, false));
    bk_search_consider(&s, 0, s.at);
    ck_assert_double_eq_tol(s.peak[0].best, size - fabs(at), 1e-12);
    const int before = n_goes;
    bk_search_better(&s);
    ck_assert_double_eq_tol(s.peak[0].best, better, 1e-12);
    ck_assert_double_eq(s.peak[0].where[0], at > 0 ? -size : size);
    /* where it is, twice, its other end; once more, since that gained.  The parameter that is not felt is left alone.  A
     * climb from an end is one case: its plane rises no further. */
    ck_assert_int_eq(n_goes - before, 5);
}
START_TEST(flipped_to_the_end_that_is_higher)
{
    over_the_floor(0.2, 1, 1.2);
    over_the_floor(-0.2, 1, 1.2);
    over_the_floor(0.1, 0.5, 0.6);
    over_the_floor(-0.1, 0.5, 0.6);
    over_the_floor(0.3, 7, 7.3);
}
END_TEST

START_TEST(flips_of_forty_and_no_more)
{
    for (size_t most = 40; most < 42; most++) {
        figures[0] = valley;
        floor_at = 0.2;
        open_box(most, 1);
        s.at[0] = 1;
        ck_assert(go(NULL, s.at, false));
        bk_search_consider(&s, 0, s.at);
        bk_search_better(&s);
        ck_assert_double_eq_tol(s.peak[0].best, most == 40 ? 1.2 : 0.8, 1e-12);
    }
}
END_TEST

START_TEST(better_begins_at_the_best_corners)
{
    figures[0] = level;
    open_box(3, 1);
    bk_search_corners(&s);
    const int before = n_goes;
    bk_search_better(&s);
    ck_assert_int_eq(n_goes - before, 3 + 2); /* three corners, and the best, at which nothing is felt, twice */
    for (int t = 0; t < 3; t++)
        ck_assert(memcmp(been[before + t], s.peak[0].top_at[t], n * sizeof(double)) == 0);
}
END_TEST

/* ---- sweeping ---------------------------------------------------------------------------------- */

/* ---- crossing ---------------------------------------------------------------------------------- */

/* What is not above its greatest possible value is not searched for. */
START_TEST(nothing_is_sought_above_the_greatest)
{
    figures[0] = valley;
    floor_at = 0.2;
    open_box(1, 1);
    s.peak[0].most = 0.75;
    s.at[0] = 1;
    ck_assert(go(NULL, s.at, false));
    bk_search_consider(&s, 0, s.at); /* 0.8 */
    bk_search_better(&s);
    bk_search_climb(&s, 0);
    ck_assert_int_eq(n_goes, 1);
    s.peak[0].most = 0.85;
    s.peak[0].sought = -(double)INFINITY;
    bk_search_better(&s);
    ck_assert_double_eq_tol(s.peak[0].best, 1.2, 1e-12);
}
END_TEST

/* A figure that is worth something only below x = 0.6, and rises up to there: half the way back each time. */
static double cliff(const double *x, double *slope)
{
    slope[0] = 1;
    return x[0] <= 0.6 ? x[0] : -(double)INFINITY;
}
START_TEST(climb_turns_back_from_where_there_is_no_figure)
{
    figures[0] = cliff;
    open_box(1, 1);
    bk_search_climb(&s, 0);
    /* 0, 1, 0.5, then 1, 0.75, 0.625, 0.5625: each time that it is found the bound leads to the end */
    const double way[] = {0, 1, 0.5, 1, 0.75, 0.625, 0.5625, 1};
    for (size_t i = 0; i < sizeof way / sizeof *way; i++)
        ck_assert_double_eq(been[i][0], way[i]);
    ck_assert_int_eq(n_goes, 16);
    ck_assert_double_eq(s.peak[0].best, 0.5625 + (1 - 0.5625) / 16); /* the last that was found, by hand */
    ck_assert(!was_near[0] && was_near[1] && was_near[2]);
}
END_TEST

/* Tops between hollows: a tent at `top_at` that is felt only within a thousandth of a size of it, on a plain of 0: its ground
 * folds where it begins, at its top and where it ends. */
static double tents_size;
static double hidden(const double *x, double *slope)
{
    const double from = (x[0] - top_at[0]) / (0.001 * tents_size);
    for (size_t i = 0; i < n; i++)
        slope[i] = 0;
    slope[0] = fabs(from) < 1 ? (from < 0 ? 1 : -1) / (0.001 * tents_size) : 0;
    return fmax(1 - fabs(from), 0);
}
static void folds_of_hidden(double x, double *gap)
{
    for (int i = -1; i <= 1; i++)
        gap[i + 1] = 7 * (top_at[0] + 0.001 * tents_size * i - x);
}
static bool was_at(double first, double second)
{
    for (int g = 0; g < n_goes; g++)
        if (fabs(been[g][0] - first) < 1e-12 && been[g][1] == second) return true;
    return false;
}
START_TEST(crossing_goes_from_fold_to_fold)
{
    figures[0] = hidden;
    n_gaps = 3;
    gaps_of = folds_of_hidden;
    const double sizes[] = {1, 0.02, 30};
    for (int z = 0; z < 3; z++)
        for (int p = -3; p <= 3; p++) {
            open_box(2, 1);
            folds = true;
            sized(0, tents_size = sizes[z]);
            top_at[0] = 0.31 * p * tents_size;
            bk_search_consider(&s, 0, s.at);
            s.peak[0].best = 0;
            bk_search_better(&s);
            ck_assert_double_eq_tol(s.peak[0].best, 1, 1e-6);
            ck_assert_double_eq_tol(s.peak[0].where[0], top_at[0], 1e-9 * tents_size);
            /* both ends, and nowhere a longer step than half of the range */
            ck_assert(was_at(-tents_size, 0) && was_at(tents_size, 0));
            for (int k = -1; k <= 1; k++)
                ck_assert(was_at(s.peak[0].where[0], k));
            ck_assert_int_le(n_goes, 110);
        }
    /* and not where the ground has no folds */
    open_box(2, 1);
    tents_size = 1;
    top_at[0] = 0.28;
    bk_search_consider(&s, 0, s.at);
    bk_search_better(&s);
    ck_assert_double_eq(s.peak[0].best, 0);
}
END_TEST

/* Without a fold in sight: -1, 0, each with a place a millionth farther on, and 1; the last step ends there. */
START_TEST(crossing_without_folds_takes_halves)
{
    figures[0] = level;
    open_box(1, 1);
    folds = true;
    bk_search_consider(&s, 0, s.at);
    bk_search_better(&s);
    const double way[] = {0, 0, -1, -1 + 1e-6, 0, 1e-6, 1};
    ck_assert_int_eq(n_goes, 7);
    for (int i = 0; i < 7; i++)
        ck_assert_double_eq_tol(been[i][0], way[i], 1e-12);
    ck_assert(s.peak[0].crossed);
}
END_TEST

/* Where there is always another fold close by, and where nothing has an answer, it ends all the same. */
static void fold_ahead(double x, double *gap)
{
    gap[0] = 1e-7 - fmod(x + 2, 1e-7);
}
START_TEST(crossing_ends)
{
    figures[0] = level;
    gaps_of = fold_ahead;
    n_gaps = 1;
    open_box(1, 1);
    folds = true;
    bk_search_consider(&s, 0, s.at);
    bk_search_better(&s);
    ck_assert_int_le(n_goes, 2 * 64 + 2);
    for (int answers = 1; answers < 12; answers++) {
        open_box(1, 1);
        folds = true;
        last_go = answers;
        bk_search_consider(&s, 0, s.at);
        bk_search_better(&s);
        ck_assert_double_eq(s.peak[0].best, 3);
    }
}
END_TEST

/* What one figure was crossed for was seen by all: another one whose best case is the same is not crossed again.  One that
 * is bettered on the way is sought once more. */
START_TEST(one_crossing_serves_all_figures_there)
{
    gaps_of = folds_of_hidden;
    n_gaps = 3;
    tents_size = 1;
    top_at[0] = 0;
    figures[0] = level;
    int goes[3];
    for (int what = 0; what < 3; what++) { /* one figure; a tent too, that stands in the middle; and one that stands elsewhere */
        figures[1] = hidden;
        top_at[0] = what == 2 ? 0.4 : 0;
        open_box(1, what == 0 ? 1 : 2);
        folds = true;
        for (size_t i = 0; i < (what == 0 ? 1 : 2); i++)
            bk_search_consider(&s, i, s.at);
        bk_search_better(&s);
        goes[what] = n_goes;
        if (what > 0) ck_assert_double_eq_tol(s.peak[1].best, 1, 1e-9);
        for (size_t i = 0; i < (what == 0 ? 1 : 2); i++)
            ck_assert_double_eq(s.peak[i].sought, s.peak[i].best);
    }
    ck_assert_int_gt(goes[0], 8);
    ck_assert_int_le(goes[1] - goes[0], 16); /* its climb, which finds nothing, and the ends that slopes point to */
    ck_assert_int_gt(goes[2] - goes[0], 20);
}
END_TEST

/* The first figure's top lies where only the second one's search leads: it is climbed from there all the same. */
static double far_slope(const double *x, double *slope) /* up to the far corner, and past that it is the first one's turn */
{
    slope[0] = slope[1] = 1;
    return x[0] + x[1];
}
static double spot(const double *x, double *slope) /* felt in the last hundredth of both, highest on a ridge in it */
{
    const double a = (x[0] - 0.99) / 0.01, b = (x[1] - 0.99) / 0.01;
    slope[0] = slope[1] = 0;
    if (a <= 0 || b <= 0) return 0;
    slope[0] = a < 0.5 ? 1 : -1;
    return 1 + 0.01 * (a < 0.5 ? a : 1 - a);
}
START_TEST(bettered_figures_are_sought_again)
{
    figures[0] = spot;
    figures[1] = far_slope;
    open_box(2, 2);
    bk_search_consider(&s, 0, s.at);
    bk_search_consider(&s, 1, s.at);
    bk_search_better(&s);
    ck_assert_double_eq_tol(s.peak[0].best, 1.005, 1e-9);
}
END_TEST

/* Two parameters that gain only together: at their ends, the other way. */
static double together(const double *x, double *slope)
{
    for (size_t i = 0; i < n; i++)
        slope[i] = 0;
    return x[3] > 0.9 && x[8] < -0.9 ? 2 : 1;
}
START_TEST(pairs_are_crossed_where_asked)
{
    for (int what = 0; what < 5; what++) {
        figures[0] = together;
        open_box(what == 4 ? 12 : 13, 1);
        folds = what != 3;
        s.peak[0].pairs = what != 2;
        bk_search_consider(&s, 0, s.at);
        if (what == 1) last_go = 0;
        bk_search_better(&s);
        /* with 12 parameters too */
        ck_assert_double_eq(s.peak[0].best, what == 0 || what == 4 ? 2 : 1);
        if (what == 0 || what == 4) ck_assert(s.peak[0].where[3] == 1 && s.peak[0].where[8] == -1);
        /* The middle, twice, five places for each of 13, four ends of each of 78 pairs; from the eighth with the third on, which
         * gains, less its last end and two ends of each of the 4 + 8 pairs that still come with either; a climb.  Then
         * again, with two ends for the 22 pairs with either, and one for both. */
        if (what == 0) ck_assert_int_eq(n_goes, 2 + 65 + 312 - 1 - 2 * 12 + 1 + 1 + 65 + 4 * 55 + 2 * 22 + 1);
    }
}
END_TEST

/* To the middle of both where parameters are few. */
START_TEST(pairs_of_twelve_meet_in_the_middle)
{
    for (size_t many = 12; many <= 13; many++) {
        figures[0] = level;
        open_box(many, 1);
        folds = true;
        s.peak[0].pairs = true;
        for (size_t i = 0; i < many; i++)
            s.at[i] = 1;
        bk_search_consider(&s, 0, s.at);
        bk_search_better(&s);
        int middles = 0, ends = 0;
        for (int g = 0; g < n_goes; g++) {
            middles += been[g][2] == 0 && been[g][7] == 0 && been[g][0] == 1;
            ends += been[g][2] == -1 && been[g][7] == -1 && been[g][0] == 1;
        }
        ck_assert_int_eq(middles, many == 12);
        ck_assert_int_eq(ends, 1);
    }
}
END_TEST

/* ---- what matters ------------------------------------------------------------------------------ */

static double weight[MOST];
static double weighed(const double *x, double *slope)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += (slope[i] = weight[i]) * x[i];
    return sum;
}

START_TEST(what_is_worth_little_is_forgotten_until_it_adds_up)
{
    figures[0] = weighed;
    open_box(6, 1);
    s.peak[0].unit = 5; /* 1e-4 of it: 5e-4 */
    const double w[] = {2, 3e-4, -1.9e-4, 3e-4, 6e-4, 0};
    memcpy(weight, w, sizeof w);
    sized(2, 0.5); /* worth half of its slope */
    bk_search_climb(&s, 0);
    const double best = s.peak[0].best;
    ck_assert_double_eq_tol(best, 2 + 3e-4 + 0.95e-4 + 3e-4 + 6e-4, 1e-12);
    bk_search_forget_idle(&s, 0);
    const double *at = s.peak[0].where;
    ck_assert_double_eq(s.peak[0].best, best); /* the figure stays */
    ck_assert(at[0] == 1 && at[4] == 1);       /* worth more than 5e-4 */
    ck_assert(at[1] == 0 && at[2] == 0);       /* 3e-4 and 0.95e-4 */
    ck_assert(at[3] == 1);                     /* 3e-4 more would be too much */
}
END_TEST

/* Its slope at the place says nothing: a step in the figure does. */
static double stepped(const double *x, double *slope)
{
    slope[0] = 0;
    return x[0] > 0.5 ? 1 : 0;
}
START_TEST(one_case_decides_what_matters)
{
    figures[0] = stepped;
    open_box(1, 1);
    s.at[0] = 0.9;
    ck_assert(go(NULL, s.at, false));
    bk_search_consider(&s, 0, s.at);
    bk_search_forget_idle(&s, 0);
    ck_assert_double_eq(s.peak[0].where[0], 0.9);
    ck_assert_int_eq(n_goes, 3);
    s.peak[0].best = -(double)INFINITY; /* never seen: nothing to ask */
    bk_search_forget_idle(&s, 0);
    ck_assert_int_eq(n_goes, 3);
    open_box(41, 1);
    figures[0] = weighed;
    s.peak[0].best = 0;
    bk_search_forget_idle(&s, 0);
    ck_assert_int_eq(n_goes, 0);
    open_box(40, 1);
    s.peak[0].best = 0;
    bk_search_forget_idle(&s, 0);
    ck_assert_int_eq(n_goes, 1);
}
END_TEST

START_TEST(the_first_of_equals_is_named)
{
    figures[0] = straight;
    open_box(1, 1);
    s.peak[0].unit = 1000; /* rounding: 1e-6 */
    const double all[] = {0.5, 0.5 + 1e-9 * 1000, 0.5 + 1.2e-6, 0.4}, where[] = {1, 2, 3, 4};
    for (int i = 0; i < 4; i++) {
        here[0] = all[i];
        bk_search_consider(&s, 0, &where[i]);
        ck_assert_double_eq(s.peak[0].best, i < 2 ? 0.5 : all[2]);
        ck_assert_double_eq(s.peak[0].where[0], i < 2 ? 1 : 3);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("search");
    TCase *tc = tcase_create("search");
    tcase_add_checked_fixture(tc, setup, teardown);
    tcase_add_test(tc, every_corner_from_its_neighbour);
    tcase_add_test(tc, best_corners_come_best_first);
    tcase_add_test(tc, all_corners_of_twelve_and_some_of_more);
    tcase_add_test(tc, no_answer_is_no_corner);
    tcase_add_test(tc, straight_figure_takes_two_cases);
    tcase_add_test(tc, roof_is_climbed_to_its_ridge);
    tcase_add_test(tc, plane_below_what_was_found_is_dropped);
    tcase_add_test(tc, climb_ends);
    tcase_add_test(tc, climb_turns_back_from_the_foot_of_a_cliff);
    tcase_add_test(tc, flipped_to_the_end_that_is_higher);
    tcase_add_test(tc, flips_of_forty_and_no_more);
    tcase_add_test(tc, better_begins_at_the_best_corners);
    tcase_add_test(tc, nothing_is_sought_above_the_greatest);
    tcase_add_test(tc, climb_turns_back_from_where_there_is_no_figure);
    tcase_add_test(tc, crossing_goes_from_fold_to_fold);
    tcase_add_test(tc, crossing_without_folds_takes_halves);
    tcase_add_test(tc, crossing_ends);
    tcase_add_test(tc, one_crossing_serves_all_figures_there);
    tcase_add_test(tc, bettered_figures_are_sought_again);
    tcase_add_test(tc, pairs_are_crossed_where_asked);
    tcase_add_test(tc, pairs_of_twelve_meet_in_the_middle);
    tcase_add_test(tc, what_is_worth_little_is_forgotten_until_it_adds_up);
    tcase_add_test(tc, one_case_decides_what_matters);
    tcase_add_test(tc, the_first_of_equals_is_named);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
