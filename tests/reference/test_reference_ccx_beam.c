/* Three spans with an overhang against CalculiX (Debian calculix-ccx): a general-purpose finite-element
 * program, solid elements, one newton at every quarter metre in turn.  The input is kept in ccx/.
 *
 * Every influence ordinate of reaction and deflection is compared, and the exact extremes under two trolleys
 * with the sweep that those ordinates allow.  Solids bend with shear strain, which the beam leaves out: with
 * spans of 60 to 90 depths that is 0.1 % of the deflection, and what the bands below are for.
 * Skipped (77) where ccx is not installed.
 */
#include <becket/runway.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NODES = 79, SUPPORTS = 4 };
#define STEP_M 0.25
static const double support_m[SUPPORTS] = {0, 6, 11, 18};
static double reaction[NODES][SUPPORTS]; /* of a newton at node i */
static double deflection[NODES][NODES];  /* at node j */

static bool run_calculix(const char *input)
{
    char folder[] = "/tmp/becket-ccx-XXXXXX", command[1200], line[256];
    if (!mkdtemp(folder)) return false;
    snprintf(command, sizeof command,
             "cp '%s' '%s/beam.inp' && cd '%s' && OMP_NUM_THREADS=1 ccx beam >/dev/null 2>&1", input, folder,
             folder);
    bool ran = system(command) == 0;
    snprintf(command, sizeof command, "%s/beam.dat", folder);
    FILE *f = ran ? fopen(command, "r") : NULL;
    size_t load = 0, supports = 0, nodes = 0;
    while (f && load < NODES && fgets(line, sizeof line, f)) {
        double node, x, y, z;
        if (sscanf(line, "%lf %lf %lf %lf", &node, &x, &y, &z) != 4) continue;
        if (supports < SUPPORTS) {
            /* a force on a held node never reaches the reactions that are printed */
            bool on_it = load == (size_t)(support_m[supports] / STEP_M);
            reaction[load][supports++] = on_it ? 1 : y;
        } else {
            deflection[load][nodes++] = -y;
        }
        if (nodes < NODES) continue;
        load++;
        supports = nodes = 0;
    }
    if (f) fclose(f);
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    return system(command) == 0 && load == NODES;
}

static const bk_beam_support supports[SUPPORTS] = {
    {0, false, INFINITY, 0}, {6, false, INFINITY, 0}, {11, false, INFINITY, 0}, {18, false, INFINITY, 0}};
/* 210 GPa, 50 x 80 mm: as in the input */
static const double EI = 210e9 * 0.05 * 0.08 * 0.08 * 0.08 / 12;

START_TEST(influence_ordinates)
{
    bk_beam_train one = {0, 19.5, 1, {0}, 1, 0};
    bk_beam beam = {0, 19.5, EI, 0, SUPPORTS, 0, 1, supports, NULL, &one};
    double greatest = 0;
    for (size_t i = 0; i < NODES; i++)
        for (size_t j = 0; j < NODES; j++)
            greatest = fmax(greatest, fabs(deflection[i][j]));
    for (size_t i = 0; i < NODES; i++) {
        double x[NODES], R[SUPPORTS], v[NODES], at = STEP_M * (double)i;
        bool loaded = true;
        for (size_t j = 0; j < NODES; j++)
            x[j] = STEP_M * (double)j;
        ck_assert_int_eq(bk_beam_state(&beam, &at, &loaded, R, NODES, x, NULL, NULL, v), BK_OK);
        for (size_t s = 0; s < SUPPORTS; s++)
            ck_assert_double_eq_tol(R[s], reaction[i][s], 1e-3);
        for (size_t j = 0; j < NODES; j++)
            ck_assert_double_eq_tol(v[j], deflection[i][j], 2e-3 * greatest);
    }
}
END_TEST

/* Two trolleys, two wheel lines half a metre apart and one line; loaded or empty. */
static const bk_beam_train trains[2] = {{0.25, 19.25, 2, {-0.25, 0.25}, 1370, 110}, {3, 16, 1, {0}, 820, 45}};

/* Greatest of sign * figure, each trolley swept over the nodes. */
static double sweep(double sign, const double *ordinate)
{
    double sum = 0;
    for (size_t t = 0; t < 2; t++) {
        double best = -INFINITY;
        for (size_t i = 0; i < NODES; i++) {
            double at = STEP_M * (double)i, mean = 0;
            if (at < trains[t].from_m || at > trains[t].to_m) continue;
            for (size_t k = 0; k < trains[t].n_lines; k++)
                mean +=
                    ordinate[i + (size_t)lround(trains[t].offset_m[k] / STEP_M)] / (double)trains[t].n_lines;
            best = fmax(best, fmax(sign * mean * trains[t].loaded_N, sign * mean * trains[t].empty_N));
        }
        sum += best;
    }
    return sum;
}

static void between(double exact, double swept)
{
    ck_assert_msg(exact >= swept * (1 - 2e-3), "exact %g, CalculiX' sweep finds %g", exact, swept);
    ck_assert_msg(exact <= swept * (1 + 6e-3), "exact %g, CalculiX' sweep only %g", exact, swept);
}

START_TEST(extremes)
{
    bk_beam beam = {0, 19.5, EI, 0, SUPPORTS, 0, 2, supports, NULL, trains};
    bk_arena *arena = bk_arena_new();
    bk_beam_worst worst;
    ck_assert_int_eq(bk_beam_find_worst(&beam, arena, &worst, NULL, 0), BK_OK);
    double ordinate[NODES], most = 0, least = 0, sag = 0;
    for (size_t s = 0; s < SUPPORTS; s++) {
        for (size_t i = 0; i < NODES; i++)
            ordinate[i] = reaction[i][s];
        between(worst.reaction_max[s].value, sweep(1, ordinate));
        between(-worst.reaction_min[s].value, sweep(-1, ordinate));
    }
    for (size_t j = 0; j < NODES; j++) {
        /* moment from CalculiX' reactions by statics */
        double x = STEP_M * (double)j;
        for (size_t i = 0; i < NODES; i++) {
            ordinate[i] = -fmax(x - STEP_M * (double)i, 0);
            for (size_t s = 0; s < SUPPORTS; s++)
                ordinate[i] += reaction[i][s] * fmax(x - support_m[s], 0);
        }
        most = fmax(most, sweep(1, ordinate));
        least = fmax(least, sweep(-1, ordinate));
        for (size_t i = 0; i < NODES; i++)
            ordinate[i] = deflection[i][j];
        sag = fmax(sag, fmax(sweep(1, ordinate), sweep(-1, ordinate)));
    }
    between(worst.moment_max.value, most);
    between(-worst.moment_min.value, least);
    between(fabs(worst.deflection.value), sag);
    bk_arena_free(arena);
}
END_TEST

int main(void)
{
    const char *input = getenv("BECKET_CCX_BEAM");
    if (!input || system("command -v ccx >/dev/null 2>&1") != 0) return 77;
    if (!run_calculix(input)) {
        fputs("ccx did not solve the beam\n", stderr);
        return EXIT_FAILURE;
    }
    Suite *suite = suite_create("runway against CalculiX");
    TCase *c = tcase_create("three spans and overhang");
    tcase_add_test(c, influence_ordinates);
    tcase_add_test(c, extremes);
    suite_add_tcase(suite, c);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
