/* cases: small changes to a plan.  A case is a delta; the plan itself is never copied or changed.
 * Knows how a plan can vary, not how a rig is solved.
 */
#ifndef BECKET_CASES_H
#define BECKET_CASES_H

#include <becket/plan.h>

BK_C_BEGIN

typedef enum bk_change_kind {
    BK_CHANGE_MASS,      /* body index: adds kg */
    BK_CHANGE_COG_X,     /* body index: adds m, own axes */
    BK_CHANGE_COG_Y,
    BK_CHANGE_COG_Z,
    BK_CHANGE_LENGTH,    /* line index: adds m to the unstretched length */
    BK_CHANGE_ANCHOR_X,  /* anchor index: adds m */
    BK_CHANGE_ANCHOR_Y,
    BK_CHANGE_ANCHOR_Z,
    BK_CHANGE_LOSE_LINE, /* line index: the line is gone; amount ignored */
    BK_CHANGE_WIND_X,    /* body index: adds N at the centre of gravity, world axes */
    BK_CHANGE_WIND_Y
} bk_change_kind;
typedef struct bk_change {
    bk_change_kind kind;
    size_t index;
    double amount; /* SI */
} bk_change;
typedef struct bk_case {
    const bk_change *changes;
    size_t n;
} bk_case;

/* A tolerance as a range of a change: amount may be anything from -size to +size. */
typedef struct bk_parameter {
    bk_change_kind kind;
    size_t index;
    double size; /* SI, > 0 */
} bk_parameter;
/* Every tolerance of the plan, in the plan's order: masses, centres of gravity by axis, line lengths,
 * anchors by axis, wind on each body by axis (its whole force).  *out belongs to the arena. */
bk_status bk_cases_parameters(const bk_plan *plan, bk_arena *arena, const bk_parameter **out, size_t *n);
/* "load 5 % heavy, centre of gravity 100 mm towards +x, leg sw 10 mm long": a sentence for a rigger,
 * in the plan's units.  Of very many changes the first are named and the others counted.  Arena text; "as drawn" for an empty case; NULL when memory is out. */
const char *bk_cases_say(const bk_plan *plan, const bk_case *which, bk_arena *arena);

BK_C_END

#endif
