/* angle: see the header; plain statics of a symmetric bridle. */
#include <becket/angle.h>

bk_leg bk_leg_at(double load_N, int n, double beta_rad)
{
    const double share = load_N / n;
    return (bk_leg){.from_vertical_rad = beta_rad,
                    .from_horizontal_rad = BK_PI / 2 - beta_rad,
                    .included_rad = 2 * beta_rad,
                    .tension_N = share / cos(beta_rad),
                    .horizontal_N = share * tan(beta_rad),
                    .of_straight = 1 / cos(beta_rad)};
}

double bk_leg_angle_of_height(double height_m, double spread_m)
{
    if (!(height_m > 0) || !(spread_m >= 0)) return NAN;
    return atan2(spread_m / 2, height_m);
}

double bk_leg_angle_of_length(double length_m, double spread_m)
{
    if (!(length_m > 0) || !(spread_m >= 0) || !(spread_m / 2 < length_m)) return NAN;
    return asin(spread_m / 2 / length_m);
}

double bk_leg_angle_used_up(double load_N, int n, double wll_N)
{
    const double cosine = load_N / n / wll_N;
    return cosine > 0 && cosine <= 1 ? acos(cosine) : (double)NAN;
}
