/* A solver that lies: the assessment refuses every answer that does not prove itself.
 *
 * The program's own solver is wrapped (linked with --wrap=bk_statics_solve): it solves, and then tells something
 * else.  Nothing of that may reach a reader. */
#include "assess.h"

typedef enum lie {
    HONEST,
    PLACE,       /* the load 0.1 mm higher */
    RING,        /* a ring 0.1 mm aside */
    TURN,        /* the load turned by 0.1 mrad */
    TENSION,     /* of one line, a thousandth more */
    SLACK,       /* a line that pulls, told to be slack */
    PULL_FROM,   /* a line's force on its ends */
    PULL_TO,
    ANCHOR,      /* an anchor's force, a thousandth less */
    COG,         /* a centre of gravity off its body by 0.1 mm */
    TILT,        /* the load told to be level */
    UNSTABLE,    /* a balance that the smallest push would end */
    LIES
} lie;

static lie told;

bk_status __real_bk_statics_solve(bk_statics *, const bk_case *, const bk_hang *, bk_hang *);
bk_status __wrap_bk_statics_solve(bk_statics *, const bk_case *, const bk_hang *, bk_hang *);

bk_status __wrap_bk_statics_solve(bk_statics *s, const bk_case *which, const bk_hang *start, bk_hang *out)
{
    if (told == UNSTABLE) return bk_statics_solve_near(s, which, start, out);
    const bk_status status = __real_bk_statics_solve(s, which, start, out);
    switch (told) {
    case PLACE:
        out->origin_m[0].z += 1e-4;
        out->cog_m[0].z += 1e-4;
        break;
    case RING:
        out->ring_m[0].y += 1e-4;
        break;
    case TURN:
        out->turn[0] = bk_quat_mul(bk_quat_exp(bk_vec3_of(1e-4, 0, 0)), out->turn[0]);
        break;
    case TENSION:
        out->tension_N[1] *= 1.001;
        break;
    case SLACK:
        out->slack[1] = true;
        break;
    case PULL_FROM:
        out->pull_from_N[1].x *= 1.001;
        break;
    case PULL_TO:
        out->pull_to_N[2].y *= 1.001;
        break;
    case ANCHOR:
        out->anchor_N[0].z *= 0.999;
        break;
    case COG:
        out->cog_m[0].x += 1e-4;
        break;
    case TILT:
        out->tilt_rad[0] = 0;
        break;
    default:
        break;
    }
    return status;
}

/* A load with its centre of gravity to one side, on three legs from a ring: it leans, and every leg pulls. */
#define RIG                                                                                                   \
    "becket: 1\n"                                                                                            \
    "bodies: {load: {mass: 910 kg, cog: 0.05 -0.08 0.1 m, points: {a: 0.9 0 0.5 m, b: -0.5 0.8 0.5 m, c: -0.4 -0.7 0.5 m}}}\n" \
    "anchors: {hook: {at: 0 0 3 m, limit: 20 kN}}\n"                                                        \
    "rings: {master: {at: 0 0 2.6 m, mass: 4 kg}}\n"                                                        \
    "lines: {drop: {from: hook, to: master, ea: 5 MN, mass: 3 kg}, a: {from: master, to: load.a, ea: 2 MN, mass: 1 kg},\n" \
    "        b: {from: master, to: load.b, ea: 2 MN, mass: 1 kg}, c: {from: load.c, to: master, ea: 2 MN, mass: 1 kg}}\n"
/* A drum balanced on one line below its centre of gravity. */
#define DRUM                                                                                                  \
    "becket: 1\n"                                                                                            \
    "bodies: {drum: {mass: 400 kg, cog: 0 0 1.5 m, points: {a: 0 0 0 m}}}\n"                                \
    "anchors: {hook: {at: 0 0 3 m, limit: 20 kN}}\n"                                                        \
    "lines: {a: {from: hook, to: drum.a, ea: 1 MN, mass: 0 kg}}\n"

static bk_status answer(const char *plan_text)
{
    bench b;
    bench_open(&b, plan_text);
    const bk_status status = b.status;
    if (status == BK_E_NO_CONVERGE) {
        ck_assert_ptr_null(b.a); /* no figure at all */
        ck_assert_uint_eq(b.errors->n, 1);
        ck_assert_ptr_nonnull(strstr(b.errors->at[0].text, "no balance was found"));
    }
    bench_close(&b);
    return status;
}

START_TEST(an_honest_answer_passes)
{
    told = HONEST;
    ck_assert_int_eq(answer(RIG), BK_OK);
}
END_TEST

START_TEST(no_lie_passes)
{
    told = (lie)_i;
    ck_assert_int_eq(answer(told == UNSTABLE ? DRUM : RIG), BK_E_NO_CONVERGE);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("liar");
    TCase *tc = tcase_create("liar");
    tcase_add_test(tc, an_honest_answer_passes);
    tcase_add_loop_test(tc, no_lie_passes, PLACE, LIES);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
