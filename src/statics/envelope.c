/* The worst anywhere within the plan's tolerances.
 *
 * What is searched for are figures of the rig: tensions, pulls, angles, tilts.  How, says search.c: corners of the
 * box of tolerances, climbing by the figures' slopes (adjoint, one back-substitution each), and crossing the box
 * along its parameters, from fold to fold where lines go slack within the tolerances.  Lost lines are cases of their own, as drawn in all
 * else.
 *
 * A bound is never reported, only what a solved case gave.
 */
#include <becket/envelope.h>

#include <string.h>

#include "search.h"
#include "sensitivity.h"

#define WORK_MOST      4e9  /* multiplications of all cases together: some seconds */
#define WORK_BETTER    1e9  /* the same, for what only betters figures that were found */
#define WORK_OF_FIGURE 10.0 /* or parameter, in one case */
#define KEPT_MOST      1000000 /* doubles of places kept, about */
#define PLACES_MOST    1e7  /* parameters times figures: memory for where each figure is worst */

/* ---- figures ----------------------------------------------------------------------------------- */

/* What the lines do at a ring: the resultant of those that pull it up, and the strongest single pull.  Those that pull it
 * down come to the same but for the ring's own weight, which is less. */
typedef struct at_ring {
    bk_vec3 up_N;
    double single_N;
    size_t single;  /* its line */
    bool single_to; /* at the line's `to` end */
} at_ring;

static void add_pull(at_ring *at, size_t line, bool to, bk_vec3 pull_N)
{
    if (pull_N.z > 0) at->up_N = bk_vec3_add(at->up_N, pull_N);
    const double size = bk_vec3_norm(pull_N);
    if (size > at->single_N) {
        at->single_N = size;
        at->single = line;
        at->single_to = to;
    }
}

static double ring_load(const at_ring *at)
{
    return fmax(at->single_N, bk_vec3_norm(at->up_N));
}

double bk_ring_load(const bk_plan *plan, const bk_hang *hang, size_t ring)
{
    at_ring at = {.single = 0};
    for (size_t i = 0; i < plan->n_lines; i++) {
        const bk_end from = plan->lines[i].from, to = plan->lines[i].to;
        if (from.kind == BK_END_RING && from.index == ring) add_pull(&at, i, false, hang->pull_from_N[i]);
        if (to.kind == BK_END_RING && to.index == ring) add_pull(&at, i, true, hang->pull_to_N[i]);
    }
    return ring_load(&at);
}

typedef enum figure_kind {
    TENSION_MAX,
    TENSION_MIN,
    FROM_VERTICAL,
    ANCHOR,
    ANCHOR_HORIZONTAL,
    RING,
    TILT
} figure_kind;
typedef struct figure {
    figure_kind kind;
    size_t index;
    bk_extreme *out;
    size_t lost; /* the line lost where it is worst; BK_NONE */
} figure;

/* A place in the box and how the rig hangs there. */
typedef struct kept_place {
    double *at;
    bk_hang *hang; /* NULL: none yet */
} kept_place;

typedef struct worst {
    bk_statics *statics;
    const bk_plan *plan;
    const bk_hang *nominal;
    bk_arena *arena;
    bk_envelope *out;
    size_t n, n_figures;
    const bk_parameter *parameters;
    double *size; /* theirs (n) */
    figure *figures;
    at_ring *rings;      /* of the case just solved (n_rings) */
    bk_change *changes;  /* of the case being solved (n) */
    bk_hang *hang;       /* of the case just solved */
    const kept_place *stands; /* where that is; NULL: nowhere, or in another case */
    kept_place *kept;    /* (n_kept) */
    size_t n_kept;
    bool slackens; /* some case has other lines slack than the drawn one */
    bool no_memory;
    double work, work_most; /* of all cases so far, and what may be */
} worst;

/* A line's tension; where it is slack, below nil, how far it is from pulling: so a search sees which way to go. */
static double stretch_N(const worst *s, size_t line)
{
    const bk_rig_line *at = &s->statics->line[line];
    return s->hang->slack[line] ? fmin(at->stiffness_N_m * at->stretch_m, 0) : s->hang->tension_N[line];
}

/* What is to be made as large as can be. */
static double value(const void *of, size_t i)
{
    const worst *s = of;
    const figure *f = &s->figures[i];
    const bk_hang *hang = s->hang;
    switch (f->kind) {
    case TENSION_MAX:
        return stretch_N(s, f->index);
    case TENSION_MIN:
        return -hang->tension_N[f->index];
    case FROM_VERTICAL:
        return hang->slack[f->index] ? -(double)INFINITY : hang->from_vertical_rad[f->index];
    case ANCHOR:
        return bk_vec3_norm(hang->anchor_N[f->index]);
    case ANCHOR_HORIZONTAL:
        return hypot(hang->anchor_N[f->index].x, hang->anchor_N[f->index].y);
    case RING:
        return ring_load(&s->rings[f->index]);
    case TILT:
        return hang->tilt_rad[f->index];
    }
    return 0;
}

static bk_vec3 unit(bk_vec3 v)
{
    const double size = bk_vec3_norm(v);
    return size > 0 ? bk_vec3_scale(1 / size, v) : v;
}

/* What a figure is measured by. */
static double unit_of(const worst *s, const figure *f)
{
    return f->kind == FROM_VERTICAL || f->kind == TILT ? 1 : s->nominal->total_weight_N;
}

/* The pull of a line's end along `way`, where that end is the one in question and, if so asked, pulls up. */
static void probe_end(const worst *s, size_t line, bool on_to, bk_end end, bk_vec3 way, bool up)
{
    const bk_end here = on_to ? s->plan->lines[line].to : s->plan->lines[line].from;
    const bk_vec3 pull_N = on_to ? s->hang->pull_to_N[line] : s->hang->pull_from_N[line];
    if (here.kind == end.kind && here.index == end.index && (!up || pull_N.z > 0))
        bk_probe_pull(s->statics, line, on_to, way);
}

/* The pulls of all lines at one ring or anchor along `way`; up: of those that pull up. */
static void probe_pulls(const worst *s, bk_end end, bk_vec3 way, bool up)
{
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        probe_end(s, i, false, end, way, up);
        probe_end(s, i, true, end, way, up);
    }
}

/* How fast the figure grows with every parameter, at the case just solved. */
static void slopes(void *of, size_t i, double *slope)
{
    const worst *s = of;
    const figure *f = &s->figures[i];
    bk_statics *statics = s->statics;
    const bk_vec3 anchor_N =
        f->kind == ANCHOR || f->kind == ANCHOR_HORIZONTAL ? s->hang->anchor_N[f->index] : (bk_vec3){0};
    bk_probe_clear(statics);
    switch (f->kind) {
    case TENSION_MAX:
        bk_probe_stretch(statics, f->index, 1);
        break;
    case TENSION_MIN:
        bk_probe_tension(statics, f->index, -1);
        break;
    case FROM_VERTICAL:
        bk_probe_from_vertical(statics, f->index);
        break;
    case ANCHOR:
        probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(anchor_N), false);
        break;
    case ANCHOR_HORIZONTAL:
        probe_pulls(s, (bk_end){BK_END_ANCHOR, f->index}, unit(bk_vec3_of(anchor_N.x, anchor_N.y, 0)), false);
        break;
    case RING: {
        const at_ring *at = &s->rings[f->index];
        if (at->single_N == ring_load(at))
            bk_probe_pull(
                statics, at->single, at->single_to,
                unit(at->single_to ? s->hang->pull_to_N[at->single] : s->hang->pull_from_N[at->single]));
        else
            probe_pulls(s, (bk_end){BK_END_RING, f->index}, unit(at->up_N), true);
        break;
    }
    case TILT:
        bk_probe_tilt(statics, f->index);
        break;
    }
    bk_probe_slopes(statics, s->parameters, s->n, slope);
}

/* By how much lines are stretched: the ground folds where one begins to pull. */
static void gaps(const void *of, double *gap)
{
    const worst *s = of;
    for (size_t i = 0; i < s->plan->n_lines; i++)
        gap[i] = s->statics->line[i].stretch_m;
}

/* ---- solving a case ---------------------------------------------------------------------------- */

static void weigh_rings(const worst *s)
{
    memset(s->rings, 0, s->plan->n_rings * sizeof *s->rings);
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_end from = s->plan->lines[i].from, to = s->plan->lines[i].to;
        if (from.kind == BK_END_RING) add_pull(&s->rings[from.index], i, false, s->hang->pull_from_N[i]);
        if (to.kind == BK_END_RING) add_pull(&s->rings[to.index], i, true, s->hang->pull_to_N[i]);
    }
}

static bool tired(const worst *s)
{
    return s->work > s->work_most;
}

static bool solve(worst *s, const bk_case *which, const bk_hang *start)
{
    s->stands = NULL;
    if (tired(s)) return false;
    s->out->n_solved++;
    const bk_status status = bk_statics_solve(s->statics, which, start, s->hang);
    s->work += s->statics->work + WORK_OF_FIGURE * (double)(s->n_figures + s->n);
    if (status == BK_OK) {
        weigh_rings(s);
        return true;
    }
    s->no_memory = s->no_memory || status == BK_E_NOMEM;
    if (s->out->n_failed++ == 0) {
        const char *say = bk_cases_say(s->plan, which, s->arena);
        s->out->failed_say =
            say && s->hang->why ? bk_arena_printf(s->arena, "%s: %s", say, s->hang->why) : say;
    }
    return false;
}

/* Figures lead to the same places again and again: where the rig hung there is kept, to start from.  Each place has its
 * own slot, by a hash (splitmix64; memory), which it may have to share: the latest stays. */
static kept_place *kept_at(const worst *s, const double *at)
{
    uint64_t hash = 0, bits;
    for (size_t i = 0; i < s->n; i++) {
        memcpy(&bits, &at[i], sizeof bits);
        hash = (hash ^ bits) * 0xBF58476D1CE4E5B9u;
        hash ^= hash >> 31;
    }
    return &s->kept[hash % s->n_kept];
}

static bool keep(worst *s, kept_place *place, const double *at)
{
    if (!place->at && !(place->at = BK_NEW(s->arena, double, s->n))) return false;
    if (!place->hang && !(place->hang = bk_hang_new(s->arena, s->plan))) return false;
    memcpy(place->at, at, s->n * sizeof *at);
    bk_hang_copy(s->plan, place->hang, s->hang);
    return true;
}

static bool go(void *of, const double *at, bool near_last)
{
    worst *s = of;
    kept_place *place = kept_at(s, at);
    const bool known = place->hang && memcmp(place->at, at, s->n * sizeof *at) == 0;
    if (known && place == s->stands) return true;
    for (size_t i = 0; i < s->n; i++)
        s->changes[i] = (bk_change){s->parameters[i].kind, s->parameters[i].index, at[i]};
    const bk_hang *start = known ? place->hang : near_last && s->hang->stable ? s->hang : s->nominal;
    if (!solve(s, &(bk_case){s->changes, s->n}, start)) return false;
    for (size_t i = 0; i < s->plan->n_lines; i++)
        s->slackens = s->slackens || s->hang->slack[i] != s->nominal->slack[i];
    s->no_memory = s->no_memory || (!known && !keep(s, place, at));
    s->stands = place;
    return !s->no_memory;
}

/* ---- one line lost ----------------------------------------------------------------------------- */

static void lose_lines(worst *s, bk_search *search, const double *as_drawn)
{
    for (size_t i = 0; i < s->plan->n_lines; i++) {
        const bk_change lost = {.kind = BK_CHANGE_LOSE_LINE, .index = i};
        if (!solve(s, &(bk_case){&lost, 1}, s->nominal)) continue;
        for (size_t k = 0; k < s->n_figures; k++) {
            const double best = search->peak[k].best;
            if (s->figures[k].kind == TENSION_MIN) continue;
            bk_search_consider(search, k, as_drawn);
            if (search->peak[k].best != best) s->figures[k].lost = i;
        }
    }
}

/* ---- the whole --------------------------------------------------------------------------------- */

static bk_extreme *add_figures(worst *s, figure_kind kind, size_t n)
{
    bk_extreme *out = BK_NEW(s->arena, bk_extreme, n);
    for (size_t i = 0; i < n; i++)
        s->figures[s->n_figures++] = (figure){.kind = kind, .index = i, .out = &out[i], .lost = BK_NONE};
    return out;
}

static bool report(const worst *s, const figure *f, const bk_peak *peak)
{
    bk_extreme e = {.value = f->kind == TENSION_MIN ? -peak->best : peak->best};
    if (!isfinite(peak->best)) /* a line that is slack in every case has no angle */
        e.value = 0;
    bk_change *changes = BK_NEW(s->arena, bk_change, s->n + 1);
    if (!changes) return false;
    const bool never_pulls = f->kind == TENSION_MAX && !(peak->best > 0);
    if (never_pulls)
        e.value = 0;
    else if (f->lost != BK_NONE)
        changes[e.where.n++] = (bk_change){.kind = BK_CHANGE_LOSE_LINE, .index = f->lost};
    for (size_t i = 0; i < s->n && !never_pulls; i++)
        if (peak->where[i] != 0)
            changes[e.where.n++] = (bk_change){s->parameters[i].kind, s->parameters[i].index, peak->where[i]};
    e.where.changes = changes;
    e.say = bk_cases_say(s->plan, &e.where, s->arena);
    *f->out = e;
    return e.say != NULL;
}

static size_t figures_of(const bk_plan *plan)
{
    return 3 * plan->n_lines + 2 * plan->n_anchors + plan->n_rings + plan->n_bodies;
}

static bool prepare(worst *s, bk_search *search)
{
    const bk_plan *plan = s->plan;
    bk_envelope *e = s->out;
    s->figures = BK_NEW(s->arena, figure, figures_of(plan));
    s->rings = BK_NEW(s->arena, at_ring, plan->n_rings);
    s->changes = BK_NEW(s->arena, bk_change, s->n);
    s->size = BK_NEW(s->arena, double, s->n);
    s->n_kept = 1 + KEPT_MOST / (s->n + 30 * (plan->n_lines + plan->n_bodies) + 3 * (plan->n_anchors + plan->n_rings));
    s->kept = BK_NEW(s->arena, kept_place, s->n_kept);
    s->hang = bk_hang_new(s->arena, plan);
    if (!s->figures || !s->rings || !s->changes || !s->size || !s->hang || !s->kept) return false;
    if (!(e->tension_max = add_figures(s, TENSION_MAX, plan->n_lines)) ||
        !(e->tension_min = add_figures(s, TENSION_MIN, plan->n_lines)) ||
        !(e->from_vertical_max = add_figures(s, FROM_VERTICAL, plan->n_lines)) ||
        !(e->anchor_max = add_figures(s, ANCHOR, plan->n_anchors)) ||
        !(e->anchor_horizontal_max = add_figures(s, ANCHOR_HORIZONTAL, plan->n_anchors)) ||
        !(e->ring_max = add_figures(s, RING, plan->n_rings)) ||
        !(e->tilt_max = add_figures(s, TILT, plan->n_bodies)))
        return false;
    for (size_t i = 0; i < s->n; i++)
        s->size[i] = s->parameters[i].size;
    const bk_ground ground = {s->n, s->n_figures, s->size, s, go, value, slopes, s->plan->n_lines, gaps, &s->slackens};
    if (!bk_search_new(search, s->arena, &ground)) return false;
    bk_hang_copy(plan, s->hang, s->nominal);
    weigh_rings(s);
    for (size_t i = 0; i < s->n_figures; i++) {
        bk_peak *peak = &search->peak[i];
        peak->unit = unit_of(s, &s->figures[i]);
        if (s->figures[i].kind == TENSION_MIN) peak->most = 0; /* no tension is less than that of a slack line */
        peak->pairs = s->figures[i].kind == TENSION_MAX;       /* from tensions most else follows */
        bk_search_consider(search, i, peak->where);
    }
    return true;
}

static void search_box(worst *s, bk_search *search)
{
    bk_search_corners(search);
    for (size_t i = 0; i < s->n_figures; i++)
        bk_search_climb(search, i);
    s->out->cut_short = tired(s);
    /* what comes now betters few figures, and by little: no harm where time has run out */
    s->work_most = fmin(s->work + WORK_BETTER, WORK_MOST);
    bk_search_better(search);
}

bk_status bk_envelope_find(bk_statics *statics, const bk_plan *plan, const bk_hang *nominal, bk_arena *arena,
                           bk_envelope **out)
{
    bk_envelope *e = *out = BK_NEW(arena, bk_envelope, 1);
    if (!e || bk_cases_parameters(plan, arena, &e->parameters, &e->n_parameters) != BK_OK) return BK_E_NOMEM;
    worst s = {.statics = statics, .plan = plan, .nominal = nominal, .arena = arena, .out = e, .work_most = WORK_MOST};
    bk_search search;
    s.parameters = e->parameters;
    const bool too_many = (double)e->n_parameters * (double)figures_of(plan) > PLACES_MOST;
    if (!too_many) s.n = e->n_parameters;
    if (!prepare(&s, &search)) return BK_E_NOMEM;
    if (s.n > 0) search_box(&s, &search);
    e->work = s.work;
    s.work = 0;
    s.work_most = WORK_MOST;
    double *as_drawn = BK_NEW(arena, double, s.n);
    if (!as_drawn) return BK_E_NOMEM;
    if (plan->lose_a_line) lose_lines(&s, &search, as_drawn);
    e->work += s.work;
    e->cut_short = e->cut_short || too_many || tired(&s);
    for (size_t i = 0; i < s.n_figures; i++) {
        if (s.n > 0 && s.figures[i].lost == BK_NONE) bk_search_forget_idle(&search, i);
        if (!report(&s, &s.figures[i], &search.peak[i])) return BK_E_NOMEM;
    }
    return s.no_memory || (e->n_failed > 0 && !e->failed_say) ? BK_E_NOMEM : BK_OK;
}
