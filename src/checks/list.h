/* The list of checks, one function a subject; checks.c calls them in this order.
 * Each adds its findings to out and fails only for BK_E_NOMEM, BK_E_RULE or a table's own mistakes. */
#ifndef BK_CHECKS_LIST_H
#define BK_CHECKS_LIST_H

#include <becket/checks.h>

enum { BK_TOLD_DIGITS = 3 }; /* of a figure in a sentence */

/* Whether the value is above the greatest so far, which it then is: of equals the first stays, NaN never counts. */
static inline bool bk_is_most(double value, double *most)
{
    if (!(value > *most)) return false;
    *most = value;
    return true;
}

bk_status bk_check_lines(const bk_check_input *in, bk_findings *out, bk_errors *errors);   /* lines.c */
bk_status bk_check_legs(const bk_check_input *in, bk_findings *out, bk_errors *errors);    /* legs.c */
bk_status bk_check_flexible(const bk_check_input *in, bk_findings *out, bk_errors *errors); /* flexible.c */
bk_status bk_check_joints(const bk_check_input *in, bk_findings *out, bk_errors *errors);  /* joints.c: rings, points, anchors */
bk_status bk_check_bodies(const bk_check_input *in, bk_findings *out, bk_errors *errors);  /* bodies.c: stability within the tolerances, tilt */
bk_status bk_check_beams(const bk_check_input *in, bk_findings *out, bk_errors *errors);   /* beams.c: steel inside a body */
bk_status bk_check_hoists(const bk_check_input *in, bk_findings *out, bk_errors *errors);  /* hoists.c */
bk_status bk_check_suspended(const bk_check_input *in, bk_findings *out, bk_errors *errors); /* suspended.c: room, travel, several hoists, wind */
bk_status bk_check_runways(const bk_check_input *in, bk_findings *out, bk_errors *errors); /* runways.c and the strength rules */
bk_status bk_check_tackles(const bk_check_input *in, bk_findings *out, bk_errors *errors); /* tackles.c */
bk_status bk_check_inspection(const bk_check_input *in, bk_findings *out, bk_errors *errors); /* inspection.c */

#endif
