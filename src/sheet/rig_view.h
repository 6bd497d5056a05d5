/* rig_view: one view of the rig, and what is drawn in it.  Internal to the sheet room. */
#ifndef BK_SHEET_RIG_VIEW_H
#define BK_SHEET_RIG_VIEW_H

#include "labels.h"
#include "sections.h"

#define BK_NAME_WIDTH  104.0 /* a name longer than this is cut */
#define BK_ANCHOR_HALF 5.5   /* of the sign for an anchor, from above */

typedef struct bk_view {
    bk_sheet *sheet;
    int u, v; /* axes shown, to the right and up: 0 x, 1 y, 2 z */
    bk_box cell;
    bk_spot middle; /* of the cell, where `centre` falls */
    bk_vec3 centre; /* of the rig */
    double scale;   /* points per metre */
    bool named;     /* full labels, not names alone */
    bk_field field;
} bk_view;

/* rig_scene.c: world axes, as it hangs */
bk_vec3 bk_rig_end(const bk_assessment *a, bk_end end);
bk_vec3 bk_rig_as_drawn(const bk_body *body, bk_vec3 own); /* a body's own point, before it hung */
void bk_rig_extent(const bk_assessment *a, bk_vec3 *low, bk_vec3 *high);
bool bk_rig_loaded(const bk_assessment *a, size_t anchor); /* something hangs from it */
bk_spot bk_view_spot(const bk_view *view, bk_vec3 at);

/* rig_signs.c */
extern const bk_pen bk_pen_slack, bk_pen_plumb, bk_pen_ghost;
/* hung: as it hangs, filled; else as drawn, dotted, where that differs by more than two points of paper. */
void bk_view_body(bk_view *view, size_t body, bool hung);
void bk_view_line(bk_view *view, size_t line);
void bk_view_plumb(bk_view *view, size_t anchor, double lowest_m);
void bk_sign_cog(bk_sheaf *paper, size_t page, bk_spot middle, double radius);
void bk_sign_anchor(bk_sheaf *paper, size_t page, bk_spot at);
void bk_sign_anchor_from_above(bk_sheaf *paper, size_t page, bk_spot at);

/* rig_labels.c */
bool bk_view_tells_lines_apart(const bk_view *view);
void bk_view_name_line(bk_view *view, size_t line);
void bk_view_name_anchor(bk_view *view, size_t anchor);
void bk_view_name_body(bk_view *view, size_t body);
void bk_view_name_ring(bk_view *view, size_t ring);
void bk_view_dimensions(bk_view *view);

/* rig_key.c */
void bk_view_key(bk_sheet *sheet, bk_box cell, double scale, double ratio);

#endif
