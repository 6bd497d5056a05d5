/* angle_text: what a flat leg costs, for someone who has to see it: table, chart, lesson. */
#include "layout.h"

#include <stdlib.h>
#include <string.h>

#define CHART_TOP 12.0 /* times the straight lift: 85 degrees is 11.5 */

/* How a leg at this angle stands with the rule set: in use, with care, not to be used. */
typedef enum standing { IN_USE, WITH_CARE, NOT_TO_BE_USED } standing;
static const struct {
    char sign;
    const char *words;
} standings[] = {{'#', ""}, {'=', "with care"}, {'!', "not to be used"}};

static standing standing_of(const bk_leg_question *q, double beta)
{
    if (beta > q->max_from_vertical_rad * (1 + 1e-9)) return NOT_TO_BE_USED;
    return beta > q->warn_from_vertical_rad * (1 + 1e-9) ? WITH_CARE : IN_USE;
}

/* Pull over the sling's limit; on the limit where only the last bits are beside it, as at 60 degrees. */
static double used(const bk_leg_question *q, double tension_N)
{
    const double share = tension_N / q->wll_N;
    return fabs(share - 1) < 1e-9 ? 1 : share;
}

/* A pull: a force, or a share of the load where none was given. */
static const char *pull(bk_cells *c, const bk_leg_question *q, double force_N)
{
    return q->load_given ? bk_cell(c, force_N, BK_DIM_FORCE, 4) : bk_cell_percent(c, force_N / q->load_N);
}

static const char *mass_of(bk_cells *c, double force_N)
{
    return bk_cell(c, force_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4);
}

/* Degrees to a tenth; near level to what still tells the angle from level. */
static const char *degrees_of(bk_cells *c, double angle, double from_horizontal)
{
    const double degree = BK_PI / 180;
    return bk_cell_unit(c, angle, "deg",
                        from_horizontal < 0.0095 * degree ? 4
                        : from_horizontal < degree        ? 2
                                                          : 1);
}

static void table(bk_text *t, const bk_leg_question *q)
{
    bk_cells c = {.system = q->units};
    const bool wide = t->columns >= 80; /* room for the angle between legs, and for words instead of signs */
    bk_text_heading(t, "ONE LEG, by its angle");
    bk_grid g;
    bk_grid_open(&g, t, wide ? ">>>>>><" : ">>>>><");
    if (wide) {
        bk_grid_row(&g, (const char *[]){"from", "from", "between", "pull in", "sideways", "of an", ""});
        bk_grid_row(&g, (const char *[]){"vertical", "horizontal", "legs", "the leg", "pull", "upright", ""});
    } else {
        bk_grid_row(&g, (const char *[]){"from", "from", "pull in", "sideways", "of an", ""});
        bk_grid_row(&g, (const char *[]){"vertical", "horizontal", "the leg", "pull", "upright", ""});
    }
    for (int degrees = 0; degrees <= 85; degrees += 5) {
        const bk_leg leg = bk_leg_at(q->load_N, q->carrying, degrees * BK_PI / 180);
        const standing how = standing_of(q, leg.from_vertical_rad);
        const char sign[2] = {standings[how].sign, '\0'};
        const char *cells[7];
        size_t n = 0;
        cells[n++] = bk_cell_unit(&c, leg.from_vertical_rad, "deg", 0);
        cells[n++] = bk_cell_unit(&c, leg.from_horizontal_rad, "deg", 0);
        if (wide) cells[n++] = bk_cell_unit(&c, bk_leg_included(q->legs, leg.from_vertical_rad), "deg", 0);
        cells[n++] = pull(&c, q, leg.tension_N);
        cells[n++] = pull(&c, q, leg.horizontal_N);
        cells[n++] = bk_cell_percent(&c, leg.of_straight);
        cells[n++] = wide ? standings[how].words : sign;
        bk_grid_row(&g, cells);
    }
    bk_grid_close(&g);
    bk_text_wrap(t, 2, 2,
                 q->load_given ? "angles in degrees"
                               : "angles in degrees, pulls as a share of the load (no load was given)");
}

static void chart(bk_text *t, const bk_leg_question *q)
{
    const int room = t->columns - 34 > 100 ? 100 : t->columns - 34;
    bk_text_heading(t, "THE SAME AS A PICTURE: pull in a leg, upright leg = 1");
    for (int degrees = 0; degrees <= 85; degrees += 5) {
        const double beta = degrees * BK_PI / 180, times = 1 / cos(beta);
        const int bar = (int)lround(times / CHART_TOP * room);
        char figure[32];
        bk_number_print(figure, sizeof figure, times, "1", 2);
        bk_text_put(t, "  %2d from vertical |", degrees);
        for (int i = 0; i < bar; i++)
            bk_text_put(t, "%c", standings[standing_of(q, beta)].sign);
        bk_text_put(t, " %s\n", figure);
    }
    bk_text_put(t, "  # in use   = with care   ! not to be used\n");
}

/* A paragraph of its own, made like printf. */
static void say(bk_text *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void say(bk_text *t, const char *format, ...)
{
    char line[500];
    va_list args;
    va_start(args, format);
    vsnprintf(line, sizeof line, format, args);
    va_end(args);
    bk_text_wrap(t, 2, 2, line);
}

static void asked(bk_text *t, const bk_leg_question *q)
{
    if (isnan(q->from_vertical_rad)) return;
    bk_cells c = {.system = q->units};
    bk_text_heading(t, "AT YOUR ANGLE");
    const bk_leg leg = bk_leg_at(q->load_N, q->carrying, q->from_vertical_rad);
    const double level = leg.from_horizontal_rad;
    const char *which = q->legs < 3        ? "the legs"
                        : q->legs % 2 == 0 ? "opposite legs"
                        : q->legs == 3     ? "neighbouring legs"
                                           : "the legs farthest apart";
    say(t, "%s degrees from the vertical, %s from the horizontal, %s between %s",
        degrees_of(&c, leg.from_vertical_rad, level), degrees_of(&c, level, level),
        degrees_of(&c, bk_leg_included(q->legs, leg.from_vertical_rad), level), which);
    bk_grid g;
    bk_grid_open(&g, t, "~>>>>");
    bk_grid_row(
        &g, (const char *[]){"legs", "pull each", q->load_given ? "as mass" : "", "sideways", "of upright"});
    for (int n = q->legs == 1 ? 1 : 2; n <= q->legs; n++) {
        const bk_leg each = bk_leg_at(q->load_N, n, q->from_vertical_rad);
        char legs[40];
        snprintf(legs, sizeof legs, "%d%s%s", n, n == q->legs && n >= 4 ? ", equalised" : "",
                 n == q->carrying && q->legs >= 4 ? ", counted" : "");
        bk_grid_row(&g,
                    (const char *[]){legs, pull(&c, q, each.tension_N),
                                     q->load_given ? mass_of(&c, each.tension_N) : "",
                                     pull(&c, q, each.horizontal_N), bk_cell_percent(&c, each.of_straight)});
    }
    bk_grid_close(&g);
    if (q->legs >= 4)
        say(t, "A stiff load on four legs hangs on two or three of them: a leg a finger's breadth long is "
               "idle.");
    if (isfinite(q->wll_N))
        say(t, "A sling of %s is %s used: %s.", mass_of(&c, q->wll_N),
            bk_cell_used(&c, used(q, leg.tension_N)), used(q, leg.tension_N) <= 1 ? "within its limit" : "OVER ITS LIMIT");
    if (standing_of(q, q->from_vertical_rad) == NOT_TO_BE_USED)
        say(t,
            "FLATTER THAN THE RULE SET ALLOWS (%s degrees from the vertical): use longer legs or a spreader.",
            bk_cell_unit(&c, q->max_from_vertical_rad, "deg", 0));
}

static void used_up(bk_text *t, const bk_leg_question *q)
{
    if (isnan(q->wll_N)) return;
    bk_cells c = {.system = q->units};
    const double beta = bk_leg_angle_used_up(q->load_N, q->carrying, q->wll_N);
    bk_text_put(t, "\n");
    if (isnan(beta)) {
        say(t, "LEGS OF %s DO NOT LIFT THIS LOAD at any angle.", mass_of(&c, q->wll_N));
        return;
    }
    say(t, "Legs of %s are used up at %s degrees from the vertical (%s from the horizontal).",
        mass_of(&c, q->wll_N), bk_cell_unit(&c, beta, "deg", 1),
        bk_cell_unit(&c, BK_PI / 2 - beta, "deg", 1));
    if (standing_of(q, beta) == NOT_TO_BE_USED)
        say(t, "The rule set stops them before that, at %s degrees from the vertical.",
            bk_cell_unit(&c, q->max_from_vertical_rad, "deg", 0));
}

bool bk_leg_answer_good(const bk_leg_question *q)
{
    const double beta = isnan(q->from_vertical_rad) ? 0 : q->from_vertical_rad;
    const bool lifts = isnan(q->wll_N) || used(q, bk_leg_at(q->load_N, q->carrying, beta).tension_N) <= 1;
    return lifts && standing_of(q, beta) != NOT_TO_BE_USED;
}

static void caution(bk_text *t)
{
    bk_text_put(t, "\n");
    bk_text_wrap(
        t, 2, 2,
        "Equal legs, load centred, sling weight left out. The tag on the sling, local codes and a qualified "
        "person decide; for a real load make a plan and run `becket check`.");
}

char *bk_report_angle(const bk_leg_question *q, bk_style style)
{
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_cells c = {.system = q->units};
    char counted[100] = "", load[160] = "", title[400];
    if (q->carrying != q->legs)
        snprintf(counted, sizeof counted, ", %d counted as carrying (rule set %.40s)", q->carrying, q->rules);
    if (q->load_given)
        snprintf(load, sizeof load, ", load %s = %s", bk_cell(&c, q->load_N, BK_DIM_FORCE, 4),
                 mass_of(&c, q->load_N));
    snprintf(title, sizeof title, "LEG ANGLE  %d leg%s%s%s", q->legs, q->legs == 1 ? "" : "s", counted, load);
    bk_text_wrap(&t, 0, 11, title);
    asked(&t, q);
    table(&t, q);
    chart(&t, q);
    used_up(&t, q);
    caution(&t);
    return bk_text_take(&t);
}

char *bk_report_angle_lesson(const bk_leg_question *q, bk_style style)
{
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_text_put(&t, "WHY A FLAT LEG BREAKS: one page for the apprentice\n");
    static const char *const steps[] = {
        "1. A sling can only pull along itself. To hold a load up it must pull upward, and a leg that leans "
        "pulls upward "
        "with only a part of its strength. The rest pulls sideways, against the other leg, and squeezes the "
        "load.",
        "2. Two legs, load of 1000. Upright, each pulls 500. Lean each 30 degrees from the vertical and each "
        "pulls 577. "
        "At 45 degrees it is 707. At 60 degrees each leg pulls 1000: as much as the whole load. At 80 "
        "degrees it is 2879.",
        "3. The rule behind it: pull = share of the load / cos(angle from the vertical). Height helps: the "
        "same as length "
        "of leg over height of hook. Measure both with a tape and you need no protractor.",
        "4. Say which angle you mean. 30 degrees from the vertical and 30 degrees from the horizontal are "
        "different slings: "
        "the first pulls 1.15 times its share, the second 2 times. Ask \"from what?\" every time.",
        "5. Quick test for two legs: if the distance between the attachment points is no more than the length of a leg, "
        "the legs stand "
        "within 30 degrees of the vertical. If it is 1.7 times a leg or more, stop: that is 60 degrees.",
        "6. Four legs are not four. A stiff load sits on two or three; the others are there to steady it. "
        "Count two or "
        "three, as your rule set says, unless something in the rig evens them out.",
        "7. A load off centre loads the near leg more. Then no table helps: draw it in a plan and let "
        "`becket check` solve it.",
    };
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        bk_text_put(&t, "\n");
        bk_text_wrap(&t, 2, 5, steps[i]);
    }
    chart(&t, q);
    caution(&t);
    return bk_text_take(&t);
}
