/* angle_picture: leg tension against leg angle on one page.  Internal to the sheet room. */
#ifndef BK_SHEET_ANGLE_PICTURE_H
#define BK_SHEET_ANGLE_PICTURE_H

#include "flow.h"

#include <becket/report.h>

void bk_angle_picture(bk_sheaf *paper, const bk_leg_question *question);

#endif
