/* rig_scene: where everything of a hanging rig is, and where that falls in a view. */
#include "rig_view.h"

static double axis(bk_vec3 p, int i)
{
    return i == 0 ? p.x : i == 1 ? p.y : p.z;
}

static bk_vec3 point_at(const bk_assessment *a, size_t i)
{
    const bk_point *p = &a->plan->points[i];
    return bk_vec3_add(a->hang->origin_m[p->body], bk_quat_turn(a->hang->turn[p->body], p->at_m));
}

bk_vec3 bk_rig_end(const bk_assessment *a, bk_end end)
{
    switch (end.kind) {
    case BK_END_POINT:
        return point_at(a, end.index);
    case BK_END_RING:
        return a->hang->ring_m[end.index];
    case BK_END_ANCHOR:
        break;
    }
    return a->plan->anchors[end.index].at_m.v;
}

bk_vec3 bk_rig_as_drawn(const bk_body *b, bk_vec3 own)
{
    return bk_vec3_add(b->at_m, own);
}

static void grow(bk_vec3 *low, bk_vec3 *high, bk_vec3 p)
{
    *low = bk_vec3_of(fmin(low->x, p.x), fmin(low->y, p.y), fmin(low->z, p.z));
    *high = bk_vec3_of(fmax(high->x, p.x), fmax(high->y, p.y), fmax(high->z, p.z));
}

void bk_rig_extent(const bk_assessment *a, bk_vec3 *low, bk_vec3 *high)
{
    const bk_plan *p = a->plan;
    *low = bk_vec3_of(INFINITY, INFINITY, INFINITY);
    *high = bk_vec3_of(-INFINITY, -INFINITY, -INFINITY);
    for (size_t b = 0; b < p->n_bodies; b++) {
        grow(low, high, a->hang->cog_m[b]);
        for (size_t i = 0; i < p->bodies[b].n_points; i++) {
            grow(low, high, point_at(a, p->bodies[b].first_point + i));
            grow(low, high, bk_rig_as_drawn(&p->bodies[b], p->points[p->bodies[b].first_point + i].at_m));
        }
    }
    for (size_t i = 0; i < p->n_rings; i++)
        grow(low, high, a->hang->ring_m[i]);
    for (size_t i = 0; i < p->n_anchors; i++)
        grow(low, high, p->anchors[i].at_m.v);
}

bool bk_rig_loaded(const bk_assessment *a, size_t anchor)
{
    return bk_vec3_norm(a->hang->anchor_N[anchor]) > 1e-9 * a->hang->total_weight_N;
}

bk_spot bk_view_spot(const bk_view *w, bk_vec3 p)
{
    return (bk_spot){w->middle.x + (axis(p, w->u) - axis(w->centre, w->u)) * w->scale,
                     w->middle.y - (axis(p, w->v) - axis(w->centre, w->v)) * w->scale};
}
