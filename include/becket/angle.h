/* angle: leg tension against leg angle for equal legs from one hook, with no plan.
 *
 * beta is the angle of a leg from the vertical, 0 to below pi/2.  n legs that carry share the load evenly:
 *     tension = load / (n cos beta),   horizontal pull = tension sin beta          (statics of the hook)
 * Not modelled: stretch, unequal legs, a centre of gravity off the middle: that is what a plan is for.
 */
#ifndef BECKET_ANGLE_H
#define BECKET_ANGLE_H

#include <becket/quantity.h>

BK_C_BEGIN

typedef struct bk_leg {
    double from_vertical_rad, from_horizontal_rad;
    double tension_N, horizontal_N;
    double of_straight; /* tension over that of an upright leg */
} bk_leg;

/* One leg of n that carry at beta; everything infinite at pi/2. */
bk_leg bk_leg_at(double load_N, int n, double beta_rad);
/* Legs stand evenly round the hook.  The two farthest apart of them are opposite ones of an even number; of three, any two.
 * Angle between those two at beta (rad). */
double bk_leg_included(int legs, double beta_rad);
/* beta from the hook's height over the attachments and the spread between the two farthest apart; NaN unless both > 0
 * (a spread of 0 is an upright leg). */
double bk_leg_angle_of_height(int legs, double height_m, double spread_m);
/* beta from the leg's length and that spread; NaN when the legs are too short to meet. */
double bk_leg_angle_of_length(int legs, double length_m, double spread_m);
/* The beta at which n legs of this working load limit are used up; NaN when they cannot lift the load at all. */
double bk_leg_angle_used_up(double load_N, int n, double wll_N);

BK_C_END

#endif
