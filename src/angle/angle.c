/* angle: see the header; plain statics of a symmetric bridle.
 *
 * Seen from above, legs to a circle of radius R: the two farthest apart stand at phi, half a turn for an even number and
 * half a step less for an odd one, so their attachments are 2 R sin(phi / 2) apart and, with R = L sin beta,
 *     sin(included / 2) = sin beta sin(phi / 2).
 */
#include <becket/angle.h>

bk_leg bk_leg_at(double load_N, int n, double beta_rad)
{
    const double share = load_N / n;
    return (bk_leg){.from_vertical_rad = beta_rad,
                    .from_horizontal_rad = BK_PI / 2 - beta_rad,
                    .tension_N = share / cos(beta_rad),
                    .horizontal_N = share * tan(beta_rad),
                    .of_straight = 1 / cos(beta_rad)};
}

/* sin(phi / 2); 1 for an even number, and for a single leg */
static double farthest(int legs)
{
    return legs < 3 || legs % 2 == 0 ? 1 : sin(BK_PI * (legs / 2) / legs);
}

double bk_leg_included(int legs, double beta_rad)
{
    return 2 * asin(sin(beta_rad) * farthest(legs));
}

double bk_leg_angle_of_height(int legs, double height_m, double spread_m)
{
    if (!(height_m > 0) || !(spread_m >= 0)) return NAN;
    return atan2(spread_m / 2 / farthest(legs), height_m);
}

double bk_leg_angle_of_length(int legs, double length_m, double spread_m)
{
    const double radius_m = spread_m / 2 / farthest(legs);
    if (!(spread_m >= 0) || !(radius_m < length_m)) return NAN;
    return asin(radius_m / length_m);
}

double bk_leg_angle_used_up(double load_N, int n, double wll_N)
{
    const double cosine = load_N / n / wll_N;
    return cosine > 0 && cosine <= 1 + 1e-9 ? acos(fmin(cosine, 1)) : (double)NAN; /* upright at the limit to the last bits */
}
