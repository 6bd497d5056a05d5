/* labels: greedy placement.  Candidates stand around each target in twelve directions at growing distances;
 * one that leaves the frame or touches what is taken is out; of the others the least cost wins, distance plus
 * what it and its leader cross.  First come, first placed: the caller begins with what matters most.
 */
#include "labels.h"

#define PAD_X        2.0
#define PAD_Y        0.8
#define LEADER_FROM  5.0  /* a label this far from its target has a leader */
#define CROSSING     24.0 /* points of distance that crossing a stroke is worth */
#define OTHER_TARGET 3.0  /* the same for each target after the first */

void bk_field_open(bk_field *field, bk_sheaf *paper, size_t page, bk_box frame)
{
    *field = (bk_field){.paper = paper, .page = page, .frame = frame};
}

void bk_field_take(bk_field *field, bk_box box)
{
    bk_box *slot = bk_arena_push(field->paper->arena, &field->taken, &field->n_taken, &field->taken_capacity,
                                 sizeof *slot);
    if (slot)
        *slot = box;
    else
        field->paper->failed = true;
}

void bk_field_stroke(bk_field *field, bk_spot a, bk_spot b)
{
    bk_spot(*slot)[2] = bk_arena_push(field->paper->arena, &field->strokes, &field->n_strokes,
                                      &field->strokes_capacity, sizeof *slot);
    if (slot)
        (*slot)[0] = a, (*slot)[1] = b;
    else
        field->paper->failed = true;
}

/* Whether the segment passes through the box: its part within each pair of sides, as shares of its length. */
static bool crosses(bk_spot a, bk_spot b, bk_box box)
{
    double from = 0, to = 1;
    const double start[2] = {a.x, a.y}, step[2] = {b.x - a.x, b.y - a.y};
    const double low[2] = {box.x0, box.y0}, high[2] = {box.x1, box.y1};
    for (int i = 0; i < 2; i++) {
        if (fabs(step[i]) < 1e-12) {
            if (start[i] < low[i] || start[i] > high[i]) return false;
            continue;
        }
        double in = (low[i] - start[i]) / step[i], out = (high[i] - start[i]) / step[i];
        if (in > out) {
            const double swap = in;
            in = out;
            out = swap;
        }
        from = fmax(from, in);
        to = fmin(to, out);
        if (from > to) return false;
    }
    return true;
}

static bool overlap(bk_box a, bk_box b)
{
    return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

static double clamp(double x, double low, double high)
{
    return x < low ? low : x > high ? high : x;
}

/* Nearest point of the box to the target: where a leader starts. */
static bk_spot nearest(bk_box box, bk_spot target)
{
    return (bk_spot){clamp(target.x, box.x0, box.x1), clamp(target.y, box.y0, box.y1)};
}

/* Cost of standing at the box; INFINITY when it may not. */
static double cost_of(const bk_field *field, bk_box box, bk_spot target, double at_most)
{
    const bk_box f = field->frame;
    if (box.x0 < f.x0 || box.x1 > f.x1 || box.y0 < f.y0 || box.y1 > f.y1) return INFINITY;
    for (size_t i = 0; i < field->n_taken; i++)
        if (overlap(box, field->taken[i])) return INFINITY;
    const bk_spot foot = nearest(box, target);
    const double distance = hypot(target.x - foot.x, target.y - foot.y);
    const bool leader = distance > LEADER_FROM;
    /* a little short of the target, so that what stands at the target itself does not count */
    const double keep = leader ? 1 - 3 / distance : 0;
    const bk_spot tip = {foot.x + keep * (target.x - foot.x), foot.y + keep * (target.y - foot.y)};
    for (size_t i = 0; leader && i < field->n_taken; i++)
        if (crosses(foot, tip, field->taken[i])) return INFINITY;
    double cost = distance;
    for (size_t i = 0; i < field->n_strokes && cost < at_most; i++)
        if (crosses(field->strokes[i][0], field->strokes[i][1], box)) cost += CROSSING;
    return cost;
}

static void write(bk_field *field, const bk_label *label, bk_box box, bk_spot target)
{
    bk_sheaf *paper = field->paper;
    const bk_spot foot = nearest(box, target);
    if (hypot(target.x - foot.x, target.y - foot.y) > LEADER_FROM) {
        bk_spot start = foot;
        const bk_spot middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
        if (label->balloon) { /* from the circle's rim */
            const double d = hypot(target.x - middle.x, target.y - middle.y), r = bk_box_width(box) / 2;
            start =
                (bk_spot){middle.x + (target.x - middle.x) * r / d, middle.y + (target.y - middle.y) * r / d};
        }
        bk_ink_line(paper, field->page, start, target, (bk_pen){.width = 0.35, .grey = 0.35});
        bk_ink_disc(paper, field->page, target, 0.9, (bk_pen){0}, 0.35);
        bk_field_stroke(field, start, target);
    }
    if (label->balloon) {
        const bk_spot middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
        bk_ink_disc(paper, field->page, middle, bk_box_width(box) / 2, (bk_pen){.width = 0.5}, 1);
        bk_ink_set_middle(paper, field->page, middle.x, middle.y - label->lines[0].leading / 2 + 0.2,
                          &label->lines[0]);
    } else {
        bk_ink_box(paper, field->page, box, (bk_pen){0}, 1);
        double top = box.y0 + PAD_Y;
        for (int i = 0; i < label->n_lines; i++)
            top = bk_ink_set(paper, field->page, box.x0 + PAD_X, top, &label->lines[i]);
    }
    bk_field_take(field, box);
}

bool bk_field_label(bk_field *field, const bk_label *label, const bk_spot *targets, size_t n_targets)
{
    static const double distances[] = {2, 8, 15, 24, 36, 52, 72, 100};
    double width = 0, height = 0;
    for (int i = 0; i < label->n_lines; i++) {
        width = fmax(width, label->lines[i].width);
        height += label->lines[i].leading * (double)label->lines[i].n;
    }
    if (label->balloon)
        width = height = fmax(width + 4, height + 1.5);
    else
        width += 2 * PAD_X, height += 2 * PAD_Y;
    bk_box best = {0};
    bk_spot at = {0};
    double least = INFINITY;
    for (size_t d = 0; d < sizeof distances / sizeof *distances; d++) {
        if (distances[d] > least) break;
        for (size_t t = 0; t < n_targets; t++)
            for (int k = 0; k < 12; k++) {
                /* the middle stands so that the box's rim is about the distance off, right hand first */
                const double angle = k * BK_PI / 6, cx = cos(angle), cy = -sin(angle);
                const double reach =
                    distances[d] + fmin(width / 2 / fmax(fabs(cx), 1e-9), height / 2 / fmax(fabs(cy), 1e-9));
                const double x = targets[t].x + cx * reach, y = targets[t].y + cy * reach;
                const bk_box box = {x - width / 2, y - height / 2, x + width / 2, y + height / 2};
                const double more = OTHER_TARGET * (double)t;
                const double cost = cost_of(field, box, targets[t], least - more) + more;
                if (cost < least - 1e-9) {
                    least = cost;
                    best = box;
                    at = targets[t];
                }
            }
    }
    if (!isfinite(least)) return false;
    write(field, label, best, at);
    return true;
}
