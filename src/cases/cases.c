/* How a plan can vary, and how to say one variation to a rigger. */
#include <becket/cases.h>

#include <string.h>

#define SAID_MOST 24 /* changes that one sentence names: who could read on? */

/* ---- every tolerance of the plan --------------------------------------------------------------- */

typedef struct ranges {
    bk_arena *arena;
    bk_parameter *at;
    size_t n, capacity;
    bool failed;
} ranges;

static void add(ranges *all, bk_change_kind kind, size_t index, double size)
{
    if (!(size > 0) || all->failed)
        return;
    bk_parameter *one = bk_arena_push(all->arena, &all->at, &all->n, &all->capacity, sizeof *one);
    if (one)
        *one = (bk_parameter){kind, index, size};
    else
        all->failed = true;
}

/* Force of the wind on a body (N); 0 where the plan has none, or not what it needs. */
static double wind_on(const bk_plan *plan, const bk_body *body)
{
    if (!(body->wind_area_m2 > 0)) return 0;
    const bk_rule *air = bk_rules_number(plan->rules, "wind.half_air_density", BK_DIM_DENSITY),
                  *drag = bk_rules_number(plan->rules, "wind.drag", BK_DIM_NONE);
    const double pressure = isfinite(plan->wind.pressure_Pa) ? plan->wind.pressure_Pa
                            : air ? air->value * plan->wind.speed_m_s * plan->wind.speed_m_s : (double)NAN;
    const double coefficient = isfinite(body->drag) ? body->drag : drag ? drag->value : (double)NAN;
    const double force = pressure * coefficient * body->wind_area_m2;
    return isfinite(force) ? force : 0;
}

bk_status bk_cases_parameters(const bk_plan *plan, bk_arena *arena, const bk_parameter **out, size_t *n)
{
    ranges all = {.arena = arena};
    for (size_t i = 0; i < plan->n_bodies; i++)
        add(&all, BK_CHANGE_MASS, i, plan->bodies[i].mass_kg.tol);
    for (size_t i = 0; i < plan->n_bodies; i++) {
        add(&all, BK_CHANGE_COG_X, i, plan->bodies[i].cog_m.tol.x);
        add(&all, BK_CHANGE_COG_Y, i, plan->bodies[i].cog_m.tol.y);
        add(&all, BK_CHANGE_COG_Z, i, plan->bodies[i].cog_m.tol.z);
    }
    for (size_t i = 0; i < plan->n_lines; i++)
        add(&all, BK_CHANGE_LENGTH, i, plan->lines[i].length_m.tol);
    for (size_t i = 0; i < plan->n_anchors; i++) {
        add(&all, BK_CHANGE_ANCHOR_X, i, plan->anchors[i].at_m.tol.x);
        add(&all, BK_CHANGE_ANCHOR_Y, i, plan->anchors[i].at_m.tol.y);
        add(&all, BK_CHANGE_ANCHOR_Z, i, plan->anchors[i].at_m.tol.z);
    }
    /* from any direction: both axes on their own, which is more than any one wind, and so on the safe side */
    for (size_t i = 0; i < plan->n_bodies; i++) {
        const double force = wind_on(plan, &plan->bodies[i]);
        const bool any = isnan(plan->wind.from_rad);
        add(&all, BK_CHANGE_WIND_X, i, any ? force : fabs(force * cos(plan->wind.from_rad)));
        add(&all, BK_CHANGE_WIND_Y, i, any ? force : fabs(force * sin(plan->wind.from_rad)));
    }
    *out = all.at;
    *n = all.n;
    return all.failed ? BK_E_NOMEM : BK_OK;
}

/* ---- in words ---------------------------------------------------------------------------------- */

static const char *axis(bk_change change)
{
    const bool back = change.amount < 0;
    switch (change.kind) {
    case BK_CHANGE_COG_X:
    case BK_CHANGE_ANCHOR_X:
    case BK_CHANGE_WIND_X: return back ? "-x" : "+x";
    case BK_CHANGE_COG_Y:
    case BK_CHANGE_ANCHOR_Y:
    case BK_CHANGE_WIND_Y: return back ? "-y" : "+y";
    default: return back ? "down" : "up";
    }
}

/* What the change is made to, said once for all its axes: "centre of gravity of load". */
static const char *subject(const bk_plan *plan, bk_change change, bk_arena *arena)
{
    switch (change.kind) {
    case BK_CHANGE_MASS: return plan->bodies[change.index].name;
    case BK_CHANGE_COG_X:
    case BK_CHANGE_COG_Y:
    case BK_CHANGE_COG_Z: return bk_arena_printf(arena, "centre of gravity of %s", plan->bodies[change.index].name);
    case BK_CHANGE_LENGTH:
    case BK_CHANGE_LOSE_LINE: return bk_arena_printf(arena, "line %s", plan->lines[change.index].name);
    case BK_CHANGE_ANCHOR_X:
    case BK_CHANGE_ANCHOR_Y:
    case BK_CHANGE_ANCHOR_Z: return bk_arena_printf(arena, "anchor %s", plan->anchors[change.index].name);
    case BK_CHANGE_WIND_X:
    case BK_CHANGE_WIND_Y: return bk_arena_printf(arena, "wind on %s", plan->bodies[change.index].name);
    }
    return "";
}

/* A tolerance is a round figure: "10 mm", not "10.0 mm". */
static const char *round_print(const bk_plan *plan, char text[64], double size, bk_dim dim)
{
    bk_quantity_print(text, 64, size, dim, plan->units, 3);
    char *point = strchr(text, '.'), *unit = strchr(text, ' ');
    if (!point || !unit || point > unit)
        return text;
    char *end = unit;
    while (end[-1] == '0')
        end--;
    if (end[-1] == '.')
        end--;
    memmove(end, unit, strlen(unit) + 1);
    return text;
}

/* "5 % heavy", "100 mm towards +x", "10 mm long"; NULL when memory is out. */
static const char *amount(const bk_plan *plan, bk_change change, bk_arena *arena)
{
    char number[64];
    const double size = fabs(change.amount);
    const bool more = change.amount > 0;
    switch (change.kind) {
    case BK_CHANGE_MASS: {
        const double mass_kg = plan->bodies[change.index].mass_kg.v;
        if (mass_kg > 0)
            bk_plain_print(number, sizeof number, 100 * size / mass_kg, 3);
        else
            round_print(plan, number, size, BK_DIM_MASS);
        return bk_arena_printf(arena, "%s%s %s", number, mass_kg > 0 ? " %" : "", more ? "heavy" : "light");
    }
    case BK_CHANGE_LENGTH:
        return bk_arena_printf(arena, "%s %s", round_print(plan, number, size, BK_DIM_LENGTH), more ? "long" : "short");
    case BK_CHANGE_LOSE_LINE: return "lost";
    case BK_CHANGE_COG_Z:
    case BK_CHANGE_ANCHOR_Z:
        return bk_arena_printf(arena, "%s %s", round_print(plan, number, size, BK_DIM_LENGTH), axis(change));
    case BK_CHANGE_WIND_X:
    case BK_CHANGE_WIND_Y:
        return bk_arena_printf(arena, "%s towards %s", round_print(plan, number, size, BK_DIM_FORCE), axis(change));
    default:
        return bk_arena_printf(arena, "%s towards %s", round_print(plan, number, size, BK_DIM_LENGTH), axis(change));
    }
}

static bool same_subject(bk_change a, bk_change b)
{
    static const int group[] = {[BK_CHANGE_MASS] = 0,     [BK_CHANGE_COG_X] = 1,    [BK_CHANGE_COG_Y] = 1,
                                [BK_CHANGE_COG_Z] = 1,    [BK_CHANGE_LENGTH] = 2,   [BK_CHANGE_ANCHOR_X] = 3,
                                [BK_CHANGE_ANCHOR_Y] = 3, [BK_CHANGE_ANCHOR_Z] = 3, [BK_CHANGE_LOSE_LINE] = 4,
                                [BK_CHANGE_WIND_X] = 5,   [BK_CHANGE_WIND_Y] = 5};
    return group[a.kind] == group[b.kind] && a.index == b.index;
}

/* A sentence that grows by doubling: there may be a thousand tolerances. */
typedef struct sentence {
    bk_arena *arena;
    char *text; /* NULL when memory was out */
    size_t n, room;
} sentence;

static void say(sentence *s, const char *words)
{
    const size_t more = strlen(words);
    if (!s->text) return;
    if (s->n + more >= s->room) {
        char *wider = bk_arena_alloc(s->arena, 2 * (s->n + more) + 1, 1);
        if (wider) memcpy(wider, s->text, s->n);
        s->text = wider;
        s->room = 2 * (s->n + more) + 1;
        if (!wider) return;
    }
    memcpy(s->text + s->n, words, more + 1);
    s->n += more;
}

const char *bk_cases_say(const bk_plan *plan, const bk_case *which, bk_arena *arena)
{
    sentence s = {.arena = arena, .text = bk_arena_strndup(arena, "", 0), .room = 1};
    const bk_change *last = NULL;
    size_t n = 0;
    for (size_t i = 0; which && i < which->n; i++) {
        const bk_change *change = &which->changes[i];
        if ((change->amount == 0 && change->kind != BK_CHANGE_LOSE_LINE) || ++n > SAID_MOST)
            continue;
        const bool again = last && same_subject(*last, *change);
        const char *how_much = amount(plan, *change, arena), *of = again ? "" : subject(plan, *change, arena);
        if (!how_much || !of)
            return NULL;
        if (last) say(&s, again ? " and " : ", ");
        say(&s, of);
        if (!again) say(&s, " ");
        say(&s, how_much);
        last = change;
    }
    if (n > SAID_MOST) {
        const char *others = bk_arena_printf(arena, ", and %zu more", n - SAID_MOST);
        if (!others)
            return NULL;
        say(&s, others);
    }
    return last ? s.text : "as drawn";
}
