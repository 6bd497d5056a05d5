/* The elastic critical moment of spans under wheels against eigenvalues of the span itself.
 *
 * Independent means: Rayleigh-Ritz with sine series for lateral deflection and twist (GSL's eigenvalues),
 * ends held against both and free to warp: exact for the differential equations of Vlasov's beam as terms
 * grow; 12 terms of each here. U = 1/2 int (E I_z v''^2 + E I_w phi''^2 + G I_t phi'^2) dx + lambda (int M
 * v'' phi dx - 1/2 sum P z_g phi^2) It is itself held against the cubic elements of another program first.
 * Then hundreds of continuous spans: end moments, one or two wheels, own weight, load at the shear centre and
 * above it.  The method's figure may not exceed the eigenvalue by more than the bound stated at each test.
 */
#include "strength_cases.h"

#include <gsl/gsl_eigen.h>

enum { TERMS = 12, POINTS = 200 };

static bk_section sections[3];

static void setup(void)
{
    open_rules("en");
    sections[0] = mm_section(300, 150, 7.1, 10.7, 15, 53.812, 8356.1, 603.78, 20.118, 125934, 557.07, 628.36,
                             80.504, 125.22, 25.682);
    sections[1] = mm_section(300, 300, 11, 19, 27, 149.08, 25166, 8562.8, 185.05, 1687791, 1677.7, 1868.7,
                             570.85, 870.14, 47.428);
    sections[2] = mm_section(600, 220, 12, 19, 24, 155.98, 92083, 3387.3, 165.42, 2845527, 3069.4, 3512.4,
                             307.94, 485.65, 83.784);
}

/* A span: end moments (hogging +), wheels of W/2 at two places, uniform load q; unit span, M in any unit. */
typedef struct span {
    double m_a, m_b, W, x[2], q;
} span;

static double moment(const span *s, double z)
{
    double M = -s->m_a * (1 - z) - s->m_b * z + s->q * z * (1 - z) / 2;
    for (int i = 0; i < 2; i++)
        M += s->W / 2 * (z < s->x[i] ? z * (1 - s->x[i]) : s->x[i] * (1 - z));
    return M;
}

static double greatest(const span *s, double *most_sagging)
{
    double most = 0;
    *most_sagging = 0;
    for (int i = 0; i <= 1000; i++) {
        const double M = moment(s, i / 1000.0);
        most = fmax(most, fabs(M));
        *most_sagging = fmax(*most_sagging, M);
    }
    return most;
}

/* Least positive factor on the moments (already in N m) at which the span buckles, by a sign of the twist
 * that is free. */
static double eigenvalue(const bk_section *section, double L, const span *s, double z_g)
{
    const size_t n = 2 * TERMS;
    gsl_matrix *A = gsl_matrix_calloc(n, n), *K = gsl_matrix_calloc(n, n);
    gsl_vector *values = gsl_vector_alloc(n);
    gsl_eigen_gensymm_workspace *work = gsl_eigen_gensymm_alloc(n);
    const double E = 210e9, G = 81e9;
    for (size_t i = 0; i < TERMS; i++) {
        const double k = (double)(i + 1) * BK_PI / L;
        gsl_matrix_set(K, i, i, E * section->Iz_m4 * pow(k, 4) * L / 2);
        gsl_matrix_set(K, TERMS + i, TERMS + i,
                       (G * section->It_m4 * k * k + E * section->Iw_m6 * pow(k, 4)) * L / 2);
        for (size_t j = 0; j < TERMS; j++) {
            double sum = 0; /* int M sin_i'' sin_j, midpoint rule */
            for (int p = 0; p < POINTS; p++) {
                const double z = (p + 0.5) / POINTS;
                sum += moment(s, z) * -k * k * sin((double)(i + 1) * BK_PI * z) *
                       sin((double)(j + 1) * BK_PI * z) * L / POINTS;
            }
            gsl_matrix_set(A, i, TERMS + j, -sum);
            gsl_matrix_set(A, TERMS + j, i, -sum);
            double height = 0;
            for (int w = 0; w < 2; w++)
                height += s->W / 2 / L * z_g * sin((double)(i + 1) * BK_PI * s->x[w]) *
                          sin((double)(j + 1) * BK_PI * s->x[w]);
            gsl_matrix_set(A, TERMS + i, TERMS + j, height);
        }
    }
    gsl_eigen_gensymm(A, K, values, work);
    double most = 0;
    for (size_t i = 0; i < n; i++)
        most = fmax(most, gsl_vector_get(values, i));
    gsl_eigen_gensymm_free(work);
    gsl_vector_free(values);
    gsl_matrix_free(K);
    gsl_matrix_free(A);
    return 1 / most;
}

/* M_cr of the method over that of the eigenvalue, referred to the greatest moment of the span. */
static double ratio(const bk_section *section, double L, const span *s, bk_hold hold, double z_g)
{
    double sagging;
    const double most = greatest(s, &sagging);
    bk_calc c;
    bk_member m = member_of(section, 235e6, L);
    m.hold = hold;
    m.load_height_m = z_g;
    m.spread_m = (s->x[1] - s->x[0]) * L;
    m.M_max_Nm = most;
    m.M_G_Nm = fmin(s->q / 8, most);
    m.M_Q_Nm = most - m.M_G_Nm;
    for (int i = 0; i < 3; i++)
        m.M_quarter_Nm[i] = fabs(moment(s, 0.25 * (i + 1)));
    (void)rate(method->ltb, &m, &c);
    return step(&c, "M_cr") / most / eigenvalue(section, L, s, z_g);
}

START_TEST(the_means_agree_with_cubic_elements)
{
    /* IPE 300, G 80.77 there and 81 GPa here: 3 m 341.9243, 6 m 123.0066 kNm; top flange 217.5199, 89.0846;
     * bottom 533.8997 */
    const span middle = {0, 0, 4, {0.5, 0.5}, 0};
    NEAR(eigenvalue(&sections[0], 3, &middle, 0) / 341.9243e3, 1, 0.002);
    NEAR(eigenvalue(&sections[0], 6, &middle, 0) / 123.0066e3, 1, 0.002);
    NEAR(eigenvalue(&sections[0], 3, &middle, 0.15) / 217.5199e3, 1, 0.002);
    NEAR(eigenvalue(&sections[0], 6, &middle, 0.15) / 89.0846e3, 1, 0.002);
    NEAR(eigenvalue(&sections[0], 3, &middle, -0.15) / 533.8997e3, 1, 0.002);
}
END_TEST

static const double spans_m[] = {3, 6, 10};
static const double ends[][2] = {{0, 0}, {0.5, 0}, {0, 0.8}, {0.4, 0.4}, {1, 0.3}, {0.9, 0.9}, {1.6, 0.2}};

/* Any diagram: never over the eigenvalue. */
START_TEST(any_moments_stay_under_the_eigenvalue)
{
    const bk_section *section = &sections[_i];
    double worst = 0, sum = 0;
    int n = 0;
    for (size_t l = 0; l < 3; l++)
        for (size_t e = 0; e < sizeof ends / sizeof *ends; e++)
            for (int p = 0; p < 5; p++)
                for (int a = 0; a < 2; a++)
                    for (int q = 0; q < 2; q++) {
                        const double x = 0.17 + 0.165 * p, half = 0.06 * a;
                        const span s = {ends[e][0], ends[e][1], 5.3, {x - half, x + half}, q * 1.7};
                        const double r = ratio(section, spans_m[l], &s, BK_HOLD_ENDS, 0);
                        worst = fmax(worst, r);
                        sum += r;
                        n++;
                    }
    ck_assert_msg(worst < 1.005, "up to %.3f of the eigenvalue", worst);
    ck_assert_msg(sum / n > 0.75, "%.3f of the eigenvalue on average", sum / n); /* safe, and still of use */
}
END_TEST

/* A load on the top flange of a span with end moments. */
START_TEST(high_loads_stay_under_the_eigenvalue)
{
    const bk_section *section = &sections[_i];
    double worst = 0;
    for (size_t l = 0; l < 3; l++)
        for (size_t e = 0; e < sizeof ends / sizeof *ends; e++)
            for (int p = 0; p < 3; p++) {
                const double x = 0.3 + 0.2 * p;
                const span s = {ends[e][0], ends[e][1], 5.3, {x - 0.02, x + 0.02}, 0};
                worst = fmax(worst, ratio(section, spans_m[l], &s, BK_HOLD_ENDS, section->h_m / 2));
            }
    ck_assert_msg(worst < 0.95, "up to %.3f of the eigenvalue", worst);
}
END_TEST

/* Sagging greatest, wheels about midspan (their middle within 0.12 of the span from it), ends free or
 * hogging: as one span. Up to 2 % over where the wheels are apart by up to a twentieth, the trade's bound for
 * one load (3.7 % at the twentieth itself); otherwise not by more than 0.5 %. */
START_TEST(wheels_about_midspan_as_one_span)
{
    const bk_section *section = &sections[_i];
    double close = 0, apart = 0;
    for (size_t l = 0; l < 3; l++)
        for (size_t e = 0; e < sizeof ends / sizeof *ends; e++)
            for (int p = 0; p < 5; p++)
                for (int a = 0; a < 4; a++) {
                    static const double spread[] = {0, 0.03, 0.12, 0.3};
                    const double x = 0.38 + 0.06 * p, half = spread[a] / 2;
                    const span s = {ends[e][0], ends[e][1], 7.1, {x - half, x + half}, 0};
                    double sagging;
                    if (greatest(&s, &sagging) > sagging * 1.000001) continue;
                    const double r = ratio(section, spans_m[l], &s, BK_HOLD_SIMPLE, 0);
                    if (spread[a] > 0.05)
                        apart = fmax(apart, r);
                    else
                        close = fmax(close, r);
                }
    ck_assert_msg(close < 1.025, "close wheels: %.3f of the eigenvalue", close);
    ck_assert_msg(apart < 1.005, "wheels apart: %.3f of the eigenvalue", apart);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("ltb");
    TCase *t = tcase_create("ltb");
    tcase_add_checked_fixture(t, setup, close_rules);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, the_means_agree_with_cubic_elements);
    tcase_add_loop_test(t, any_moments_stay_under_the_eigenvalue, 0, 3);
    tcase_add_loop_test(t, high_loads_stay_under_the_eigenvalue, 0, 3);
    tcase_add_loop_test(t, wheels_about_midspan_as_one_span, 0, 3);
    suite_add_tcase(suite, t);
    return run(suite);
}
