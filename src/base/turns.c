/* turns: angles between vectors, and unit quaternions as turns of own axes into the world's.
 *
 * A quaternion is q = w + x i + y j + z k; a vector v turns to q v q*.  q and -q are one turn.
 */
#include <becket/base.h>

double bk_vec3_angle(bk_vec3 a, bk_vec3 b)
{
    /* not acos of the dot product: that loses half the digits near 0 and pi */
    return atan2(bk_vec3_norm(bk_vec3_cross(a, b)), bk_vec3_dot(a, b));
}

bk_quat bk_quat_mul(bk_quat a, bk_quat b)
{
    return (bk_quat){
        a.w * b.w - a.x * b.x - a.y * b.y - a.z * b.z, a.w * b.x + a.x * b.w + a.y * b.z - a.z * b.y,
        a.w * b.y - a.x * b.z + a.y * b.w + a.z * b.x, a.w * b.z + a.x * b.y - a.y * b.x + a.z * b.w};
}

bk_quat bk_quat_exp(bk_vec3 rotation_rad)
{
    double angle = bk_vec3_norm(rotation_rad);
    /* sin(angle/2) / angle is exact to rounding for every angle above 0, and 1/2 in the limit */
    double s = angle > 0 ? sin(angle / 2) / angle : 0.5;
    return (bk_quat){cos(angle / 2), s * rotation_rad.x, s * rotation_rad.y, s * rotation_rad.z};
}

bk_quat bk_quat_normalise(bk_quat q)
{
    double norm = sqrt(q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z);
    if (!(norm > 0)) return bk_quat_identity();
    return (bk_quat){q.w / norm, q.x / norm, q.y / norm, q.z / norm};
}

bk_vec3 bk_quat_turn(bk_quat q, bk_vec3 v)
{
    /* q v q* written out: v + 2 u x (u x v + w v), u the vector part; two cross products */
    bk_vec3 u = {q.x, q.y, q.z};
    bk_vec3 t = bk_vec3_add(bk_vec3_cross(u, v), bk_vec3_scale(q.w, v));
    return bk_vec3_add(v, bk_vec3_scale(2, bk_vec3_cross(u, t)));
}

void bk_quat_place_wide(bk_quat q, bk_vec3 at, bk_vec3 ref, bk_vec3 own, long double place[3])
{
    /* written as in bk_quat_turn: the nearer a turn is to none, the less does q's own rounding matter */
    const long double u[3] = {q.x, q.y, q.z}, w = q.w;
    const long double v[3] = {(long double)own.x - ref.x, (long double)own.y - ref.y, (long double)own.z - ref.z};
    const long double t[3] = {u[1] * v[2] - u[2] * v[1] + w * v[0], u[2] * v[0] - u[0] * v[2] + w * v[1],
                              u[0] * v[1] - u[1] * v[0] + w * v[2]};
    place[0] = at.x + (v[0] + 2 * (u[1] * t[2] - u[2] * t[1]));
    place[1] = at.y + (v[1] + 2 * (u[2] * t[0] - u[0] * t[2]));
    place[2] = at.z + (v[2] + 2 * (u[0] * t[1] - u[1] * t[0]));
}
