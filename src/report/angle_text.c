/* angle_text: what a flat leg costs, for someone who has to see it: table, chart, lesson. */
#include "layout.h"

#include <stdlib.h>
#include <string.h>

#define CHART_TOP 12.0 /* times the straight lift: 85 degrees is 11.5 */

static const char *remark(const bk_leg_question *q, double beta)
{
    if (beta > q->max_from_vertical_rad * (1 + 1e-9)) return "not to be used";
    if (beta > q->warn_from_vertical_rad * (1 + 1e-9)) return "with care";
    return "";
}

static void table(bk_text *t, const bk_leg_question *q)
{
    bk_cells c = {.system = q->units};
    bk_text_heading(t, "ONE LEG, by its angle");
    bk_grid g;
    bk_grid_open(&g, t, "<>>>>>><");
    bk_grid_row(&g, (const char *[]){"", "from vertical", "from horizontal", "between legs", "pull in the leg", "sideways pull",
                                     "of upright", ""});
    for (int degrees = 0; degrees <= 85; degrees += 5) {
        const bk_leg leg = bk_leg_at(q->load_N, q->carrying, degrees * BK_PI / 180);
        bk_grid_row(&g, (const char *[]){"", bk_cell_unit(&c, leg.from_vertical_rad, "deg", 0),
                                         bk_cell_unit(&c, leg.from_horizontal_rad, "deg", 0),
                                         bk_cell_unit(&c, leg.included_rad, "deg", 0),
                                         q->load_given ? bk_cell(&c, leg.tension_N, BK_DIM_FORCE, 4)
                                                       : bk_cell_percent(&c, leg.tension_N / q->load_N),
                                         q->load_given ? bk_cell(&c, leg.horizontal_N, BK_DIM_FORCE, 4)
                                                       : bk_cell_percent(&c, leg.horizontal_N / q->load_N),
                                         bk_cell_percent(&c, leg.of_straight), remark(q, leg.from_vertical_rad)});
    }
    bk_grid_close(&g);
    if (!q->load_given) bk_text_put(t, "  pulls as a share of the load (no load was given)\n");
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
        const char mark = beta > q->max_from_vertical_rad * (1 + 1e-9) ? '!'
                          : beta > q->warn_from_vertical_rad * (1 + 1e-9) ? '=' : '#';
        bk_text_put(t, "  %2d from vertical |", degrees);
        for (int i = 0; i < bar; i++) bk_text_put(t, "%c", mark);
        bk_text_put(t, " %s\n", figure);
    }
    bk_text_put(t, "  # in use   = with care   ! not to be used\n");
}

static void asked(bk_text *t, const bk_leg_question *q)
{
    if (isnan(q->from_vertical_rad)) return;
    bk_cells c = {.system = q->units};
    bk_text_heading(t, "AT YOUR ANGLE");
    const bk_leg leg = bk_leg_at(q->load_N, q->carrying, q->from_vertical_rad);
    bk_text_put(t, "  %s degrees from the vertical, %s from the horizontal, %s between opposite legs\n",
                bk_cell_unit(&c, leg.from_vertical_rad, "deg", 1), bk_cell_unit(&c, leg.from_horizontal_rad, "deg", 1),
                bk_cell_unit(&c, leg.included_rad, "deg", 1));
    bk_grid g;
    bk_grid_open(&g, t, "<>>>");
    bk_grid_row(&g, (const char *[]){"legs that carry", "pull in each", "sideways pull", "of upright"});
    const int counts[] = {1, 2, 3, 4};
    for (size_t i = 0; i < 4; i++) {
        if (counts[i] > q->legs || (counts[i] == 1 && q->legs > 1)) continue;
        const bk_leg each = bk_leg_at(q->load_N, counts[i], q->from_vertical_rad);
        const char *label[] = {"1", "2", "3", "4, equalised"};
        char mine[40];
        snprintf(mine, sizeof mine, "%s%s", label[counts[i] - 1],
                 counts[i] == q->carrying && q->legs >= 4 ? "  (counted here)" : "");
        bk_grid_row(&g, (const char *[]){mine, q->load_given ? bk_cell(&c, each.tension_N, BK_DIM_FORCE, 4)
                                                             : bk_cell_percent(&c, each.tension_N / q->load_N),
                                         q->load_given ? bk_cell(&c, each.horizontal_N, BK_DIM_FORCE, 4)
                                                       : bk_cell_percent(&c, each.horizontal_N / q->load_N),
                                         bk_cell_percent(&c, each.of_straight)});
    }
    bk_grid_close(&g);
    if (q->legs >= 4)
        bk_text_wrap(t, 2, 2, "A stiff load on four legs hangs on two or three of them: a leg a finger's breadth long is idle.");
    if (isfinite(q->wll_N)) {
        const double used = leg.tension_N / q->wll_N;
        bk_text_put(t, "  a sling of %s is %s used: %s\n", bk_cell(&c, q->wll_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4), bk_cell_percent(&c, used),
                    used <= 1 ? "within its limit" : "OVER ITS LIMIT");
    }
    if (q->from_vertical_rad > q->max_from_vertical_rad * (1 + 1e-9))
        bk_text_put(t, "  FLATTER THAN THE RULE SET ALLOWS (%s degrees from the vertical): use longer legs or a spreader.\n",
                    bk_cell_unit(&c, q->max_from_vertical_rad, "deg", 0));
}

static void used_up(bk_text *t, const bk_leg_question *q)
{
    if (isnan(q->wll_N)) return;
    bk_cells c = {.system = q->units};
    const double beta = bk_leg_angle_used_up(q->load_N, q->carrying, q->wll_N);
    if (isnan(beta)) {
        bk_text_put(t, "\n  Legs of %s do not lift this load at any angle.\n", bk_cell(&c, q->wll_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4));
        return;
    }
    bk_text_put(t, "\n  Legs of %s are used up at %s degrees from the vertical (%s from the horizontal).\n",
                bk_cell(&c, q->wll_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4), bk_cell_unit(&c, beta, "deg", 1),
                bk_cell_unit(&c, BK_PI / 2 - beta, "deg", 1));
    if (beta > q->max_from_vertical_rad)
        bk_text_put(t, "  The rule set stops them before that, at %s degrees from the vertical.\n",
                    bk_cell_unit(&c, q->max_from_vertical_rad, "deg", 0));
}

static void caution(bk_text *t)
{
    bk_text_put(t, "\n");
    bk_text_wrap(t, 2, 2, "Equal legs, load centred, sling weight left out. The tag on the sling, local codes and a qualified "
                          "person decide; for a real load make a plan and run `becket check`.");
}

char *bk_report_angle(const bk_leg_question *q, bk_style style)
{
    bk_text t;
    if (!bk_text_open(&t, style)) return NULL;
    bk_cells c = {.system = q->units};
    bk_text_put(&t, "LEG ANGLE  %d leg%s", q->legs, q->legs == 1 ? "" : "s");
    if (q->carrying != q->legs) bk_text_put(&t, ", %d counted as carrying (rule set %s)", q->carrying, q->rules);
    if (q->load_given) bk_text_put(&t, ", load %s = %s", bk_cell(&c, q->load_N, BK_DIM_FORCE, 4),
                                   bk_cell(&c, q->load_N / BK_STANDARD_GRAVITY_M_PER_S2, BK_DIM_MASS, 4));
    bk_text_put(&t, "\n");
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
        "1. A sling can only pull along itself. To hold a load up it must pull upward, and a leg that leans pulls upward "
        "with only a part of its strength. The rest pulls sideways, against the other leg, and squeezes the load.",
        "2. Two legs, load of 1000. Upright, each pulls 500. Lean each 30 degrees from the vertical and each pulls 577. "
        "At 45 degrees it is 707. At 60 degrees each leg pulls 1000: as much as the whole load. At 80 degrees it is 2879.",
        "3. The rule behind it: pull = share of the load / cos(angle from the vertical). Height helps: the same as length "
        "of leg over height of hook. Measure both with a tape and you need no protractor.",
        "4. Say which angle you mean. 30 degrees from the vertical and 30 degrees from the horizontal are different slings: "
        "the first pulls 1.15 times its share, the second 2 times. Ask \"from what?\" every time.",
        "5. Quick test: if the distance between the attachment points is no more than the length of a leg, the legs stand "
        "within 30 degrees of the vertical. If it is 1.7 times a leg or more, stop: that is 60 degrees.",
        "6. Four legs are not four. A stiff load sits on two or three; the others are there to steady it. Count two or "
        "three, as your rule set says, unless something in the rig evens them out.",
        "7. A load off centre loads the near leg more. Then no table helps: draw it in a plan and let `becket check` solve it.",
    };
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        bk_text_put(&t, "\n");
        bk_text_wrap(&t, 2, 5, steps[i]);
    }
    chart(&t, q);
    caution(&t);
    return bk_text_take(&t);
}
