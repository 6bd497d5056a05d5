/* Where in a box figures are greatest, at a few cases each.
 *
 * Corners first: up to CORNERS_MOST parameters every corner of the box is solved, each from its neighbour (in
 * Gray's order one parameter changes at a time); with more, as many as there is time for.  But corners do not
 * bound the box: where a line just goes slack a tension has a ridge, and its greatest value may lie on it,
 * inside.
 *
 * So every figure then climbs, from the middle and from its best corners, by cutting planes.  At each case
 * solved the figure's value and slopes make a plane that touches it; the next case is where in the box the
 * lowest of the planes is highest (summit.c).  On a figure made of nearly straight faces that is its top
 * after a few cases; with one plane it is the corner its slopes point to.  Where the figure is hollow a plane
 * can run below it: one that does at the best case so far is dropped, and the search turns
 * half way back.
 *
 * Where the figure is hollow planes see only one way up.  So from the best case of every figure each
 * parameter is moved to its other end, and up again from there.  Where the ground folds (lines go slack
 * within the tolerances) a figure can have several tops with hollows between them (a truss on many hooks: one
 * hook in the middle of its range, its neighbours at an end): then the whole range of each parameter is
 * crossed, from fold to fold: where the next one is follows from how fast the gaps close that decide it (of slack
 * lines, how far they are from pulling).
 *
 * Limits: hollows are searched only as well as the several starts and the crossings do it, along one
 * parameter or two at a time.
 */
#include "search.h"

#include <string.h>

#include "chance.h"

#define CORNERS_MOST 12  /* parameters up to which every corner is solved */
#define CHANCE_MOST  100 /* and up to which some are, CHANCES of them */
#define CHANCES      256
#define CHANCES_MORE 1024 /* where the box is crossed */
#define PLANES_MOST  16   /* cases of one climb, a plane each */
#define CROSSED_MOST 40   /* parameters up to which the box is crossed along each */
#define FOLDS_MOST   64   /* of one crossing */
#define LITTLE       1e-6 /* of half a parameter's range: a step beyond a fold */
#define BLIND        0.05 /* of the same: one where nothing hangs that could tell of folds */
#define GAIN         1e-6 /* of the unit: less is not climbed for */
#define TIE          1e-9 /* the same: nothing within rounding is worse, so the first of equals is named */
#define IDLE         1e-4 /* of the unit: what parameters may be worth together and stay unsaid */

bool bk_search_new(bk_search *s, bk_arena *arena, const bk_ground *ground)
{
    const size_t n = ground->n;
    *s = (bk_search){.ground = *ground};
    s->peak = BK_NEW(arena, bk_peak, ground->n_figures);
    s->at = BK_NEW(arena, double, n);
    s->top = BK_NEW(arena, double, n);
    s->planes = BK_NEW(arena, bk_plane, PLANES_MOST);
    s->gap = bk_arena_alloc(arena, ground->n_gaps, 2 * sizeof *s->gap);
    double *slopes = bk_arena_alloc(arena, n, (PLANES_MOST + 1) * sizeof *slopes);
    if (!s->peak || !s->at || !s->top || !s->planes || !s->gap || !slopes) return false;
    if (!bk_summit_new(&s->summit, arena, n, PLANES_MOST)) return false;
    s->felt.slope = slopes;
    for (size_t i = 0; i < PLANES_MOST; i++)
        s->planes[i].slope = slopes += n;
    memcpy(s->summit.size, ground->size, n * sizeof *ground->size);
    const size_t starts = n <= CHANCE_MOST ? BK_STARTS : 0;
    for (size_t i = 0; i < ground->n_figures; i++) {
        bk_peak *peak = &s->peak[i];
        double *places = bk_arena_alloc(arena, n, (starts + 1) * sizeof *places);
        if (!places) return false;
        peak->best = peak->sought = -(double)INFINITY;
        peak->most = (double)INFINITY;
        peak->where = places;
        for (size_t t = 0; t < starts; t++)
            peak->top_at[t] = places += n;
    }
    return true;
}

static void copy(const bk_search *s, double *to, const double *from)
{
    memcpy(to, from, s->ground.n * sizeof *to);
}

static double value(const bk_search *s, size_t figure)
{
    return s->ground.value(s->ground.of, figure);
}

void bk_search_consider(bk_search *s, size_t figure, const double *where)
{
    bk_peak *peak = &s->peak[figure];
    const double v = value(s, figure);
    if (!(v > peak->best + TIE * peak->unit)) return;
    peak->best = v;
    peak->crossed = false;
    copy(s, peak->where, where);
}

/* Goes to s->at; keeps the worst of every figure.  False where there is no answer. */
static bool try(bk_search *s, bool near_last)
{
    if (!s->ground.go(s->ground.of, s->at, near_last)) return false;
    for (size_t i = 0; i < s->ground.n_figures; i++)
        bk_search_consider(s, i, s->at);
    return true;
}

/* The plane that touches the figure at the case just solved. */
static void touch(bk_search *s, size_t figure, bk_plane *plane)
{
    s->ground.slopes(s->ground.of, figure, plane->slope);
    plane->constant = value(s, figure);
    for (size_t i = 0; i < s->ground.n; i++)
        plane->constant -= plane->slope[i] * s->at[i];
}

/* ---- corners ----------------------------------------------------------------------------------- */

/* Keeps the best corners, best first. */
static void rank(const bk_search *s, bk_peak *peak, double v)
{
    size_t at = peak->n_top;
    while (at > 0 && v > peak->top[at - 1])
        at--;
    if (at == BK_STARTS) return;
    if (peak->n_top < BK_STARTS) peak->n_top++;
    double *place = peak->top_at[peak->n_top - 1];
    for (size_t i = peak->n_top - 1; i > at; i--) {
        peak->top[i] = peak->top[i - 1];
        peak->top_at[i] = peak->top_at[i - 1];
    }
    peak->top[at] = v;
    peak->top_at[at] = place;
    copy(s, place, s->at);
}

void bk_search_corners(bk_search *s)
{
    const size_t parameters = s->ground.n;
    const bool all = parameters <= CORNERS_MOST;
    const size_t n = all                          ? (size_t)1 << parameters
                     : parameters <= CROSSED_MOST ? CHANCES_MORE
                     : parameters <= CHANCE_MOST  ? CHANCES
                                                  : 0;
    uint64_t state = BK_CHANCE_START;
    bool hangs = false;
    for (size_t corner = 0; corner < n; corner++) {
        const size_t gray = corner ^ corner >> 1; /* neighbours differ in one parameter */
        for (size_t k = 0; k < parameters; k++)
            s->at[k] = (all ? gray >> k & 1 : bk_chance(&state) > 0) ? s->ground.size[k] : -s->ground.size[k];
        hangs = try(s, all && hangs);
        for (size_t i = 0; i < s->ground.n_figures && hangs; i++)
            rank(s, &s->peak[i], value(s, i));
    }
}

/* ---- climbing ---------------------------------------------------------------------------------- */

/* A plane that runs below a value that was found bounds nothing: the figure is hollow there. */
static size_t drop_false(bk_search *s, size_t m, double best, double gain)
{
    size_t kept = 0;
    for (size_t i = 0; i < m; i++) {
        const bk_plane plane = s->planes[i];
        if (bk_plane_height(&plane, s->ground.n, s->top) < best - gain) continue;
        s->planes[i] = s->planes[kept];
        s->planes[kept++] = plane;
    }
    return kept;
}

static bool at_its_end(const bk_peak *peak)
{
    return peak->best >= peak->most;
}

static void half_way_back(bk_search *s)
{
    for (size_t k = 0; k < s->ground.n; k++)
        s->at[k] = (s->at[k] + s->top[k]) / 2;
}

/* From s->at upward. */
static void climb(bk_search *s, size_t figure)
{
    const bk_peak *peak = &s->peak[figure];
    const double gain = GAIN * peak->unit;
    double best = -(double)INFINITY;
    size_t m = 0;
    for (int i = 0; i < PLANES_MOST && !at_its_end(peak) && try(s, i > 0); i++) {
        const double here = value(s, figure);
        if (!isfinite(here)) {
            if (!isfinite(best)) return;
            half_way_back(s);
            continue;
        }
        touch(s, figure, &s->planes[m++]);
        if (here > best) {
            best = here;
            copy(s, s->top, s->at);
        }
        const bool over_a_hollow = bk_plane_height(&s->planes[m - 1], s->ground.n, s->top) < best - gain;
        m = drop_false(s, m, best, gain);
        if (over_a_hollow) /* the planes that are left would lead here again */
            half_way_back(s);
        else if (bk_summit_find(&s->summit, m, s->planes, s->at) < best + gain)
            return;
    }
}

void bk_search_climb(bk_search *s, size_t figure)
{
    memset(s->at, 0, s->ground.n * sizeof *s->at);
    climb(s, figure);
}

/* ---- crossing ---------------------------------------------------------------------------------- */

/* How far along parameter i the next fold is, as far as can be seen from the place just gone to and from a little farther
 * on, which it goes to. */
static double to_next_fold(bk_search *s, size_t i, double little)
{
    double next = (double)INFINITY, *here = s->gap, *on = s->gap + s->ground.n_gaps;
    s->ground.gaps(s->ground.of, here);
    s->at[i] += little;
    if (!try(s, true)) return little;
    s->ground.gaps(s->ground.of, on);
    for (size_t k = 0; k < s->ground.n_gaps; k++) {
        const double ahead = little * here[k] / (here[k] - on[k]);
        if (ahead > 0) next = fmin(next, ahead);
    }
    return next;
}

/* Up from the figure's best case, if it was bettered. */
static bool climb_on(bk_search *s, size_t figure, double before)
{
    const bk_peak *peak = &s->peak[figure];
    if (!(peak->best > before + GAIN * peak->unit)) return false;
    copy(s, s->at, peak->where);
    climb(s, figure);
    return true;
}

/* All along parameter i from the figure's best case, from fold to fold: between them figures are nearly straight, so that
 * a top, be it ever so narrow, stands on one. */
static void cross(bk_search *s, size_t figure, size_t i)
{
    const double size = s->ground.size[i], little = LITTLE * size, before = s->peak[figure].best;
    double x = -size;
    copy(s, s->at, s->peak[figure].where);
    for (int k = 0; k < FOLDS_MOST && x < size; k++) {
        const double on = fmin(little, size - x);
        s->at[i] = x;
        if (try(s, true))
            x += fmin(to_next_fold(s, i, on) + on, size); /* not so far that a fold could be foretold wrongly */
        else
            x += BLIND * size;
    }
    s->at[i] = size;
    try(s, true);
    climb_on(s, figure, before);
}

/* Any two parameters at once to their ends: a truss that rests on one hook comes to rest on another.  And to
 * their middles, where there are few: a top may lie inside along both. */
static bool cross_pairs(bk_search *s, size_t figure)
{
    const bk_peak *peak = &s->peak[figure];
    const double before = peak->best;
    if (!*s->ground.folds || !peak->pairs) return false;
    for (size_t i = 1; i < s->ground.n; i++)
        for (size_t j = 0; j < i; j++)
            for (int places = 0; places < 9; places++) {
                const int way_i = places % 3 - 1, way_j = places / 3 - 1;
                const double at_i = way_i * s->ground.size[i], at_j = way_j * s->ground.size[j];
                if (s->ground.n > CORNERS_MOST && way_i * way_j == 0) continue;
                if (at_i == peak->where[i] || at_j == peak->where[j]) continue;
                copy(s, s->at, peak->where);
                s->at[i] = at_i;
                s->at[j] = at_j;
                try(s, true);
            }
    return climb_on(s, figure, before);
}

/* Whether the box was crossed from a figure's best case for the sake of another one: all were looked at on the way. */
static bool crossed(const bk_search *s, size_t figure)
{
    for (size_t i = 0; i < s->ground.n_figures; i++)
        if (s->peak[i].crossed && memcmp(s->peak[i].where, s->peak[figure].where, s->ground.n * sizeof *s->at) == 0)
            return true;
    return false;
}

/* One parameter after the other, as long as that gains.  To its other end only what the figure feels. */
static void cross_all(bk_search *s, size_t figure)
{
    bk_peak *peak = &s->peak[figure];
    const double gain = GAIN * peak->unit;
    double felt = (double)INFINITY;
    for (bool gained = true; gained && !at_its_end(peak);) {
        gained = false;
        const bool crossing = *s->ground.folds && !crossed(s, figure);
        for (size_t i = 0; i < s->ground.n; i++) {
            const double before = peak->best, size = s->ground.size[i];
            if (felt != before) {
                copy(s, s->at, peak->where);
                if (!try(s, false)) return;
                touch(s, figure, &s->felt);
                felt = before;
            }
            if (crossing) cross(s, figure, i);
            if (fabs(s->felt.slope[i]) * size >= gain) {
                copy(s, s->at, peak->where);
                s->at[i] = s->at[i] > 0 ? -size : size;
                climb(s, figure);
            }
            gained = gained || peak->best > before + gain;
        }
        peak->crossed = crossing && !gained;
        gained = gained || cross_pairs(s, figure);
    }
}

static bool bettered(const bk_peak *peak)
{
    return peak->best > peak->sought + GAIN * peak->unit;
}

static void better(bk_search *s, size_t figure)
{
    bk_peak *peak = &s->peak[figure];
    for (size_t t = 0; t < peak->n_top; t++) {
        copy(s, s->at, peak->top_at[t]);
        climb(s, figure);
    }
    peak->n_top = 0;
    copy(s, s->at, peak->where); /* to where another figure's search may have led */
    climb(s, figure);
    if (s->ground.n <= CROSSED_MOST) cross_all(s, figure);
    peak->sought = peak->best;
}

void bk_search_better(bk_search *s)
{
    for (bool again = true; again;) {
        again = false;
        for (size_t i = 0; i < s->ground.n_figures; i++) {
            if (!bettered(&s->peak[i])) continue;
            better(s, i);
            again = true;
        }
    }
}

/* ---- what matters ------------------------------------------------------------------------------ */

/* Slopes say what is worth a try, one case each decides. */
void bk_search_forget_idle(bk_search *s, size_t figure)
{
    bk_peak *peak = &s->peak[figure];
    const double enough = IDLE * peak->unit;
    if (s->ground.n > CROSSED_MOST || !isfinite(peak->best)) return;
    copy(s, s->at, peak->where);
    if (!try(s, false)) return;
    touch(s, figure, &s->felt);
    for (size_t i = 0; i < s->ground.n; i++) {
        const double was = s->at[i];
        if (was == 0 || fabs(s->felt.slope[i] * was) > enough) continue;
        s->at[i] = 0;
        if (!try(s, false) || value(s, figure) < peak->best - enough) s->at[i] = was;
    }
    copy(s, peak->where, s->at);
}
