/* Runway: all exact extremes against a sweep of 1000 places a trolley, in the same run; and against
 * CalculiX on the same beam where it is installed.  Processor time, medians; the exact ones, being short, in
 * batches.
 *
 * The sweep is a good one: support moments by the three-moment equations (one tridiagonal solve a wheel and
 * place), 20 sections a span, each trolley swept for itself since the beam is linear (three trolleys at once
 * would be 1000^3 states).  It finds reactions, moments, shear; with deflection counted apart.  The exact
 * extremes always have all four in, overhangs, own weight, and the states they occur in: the second ratio is
 * like for like. CalculiX (B32 elements, 10 a span) gets one state a step; its time is per state, start-up
 * taken off.
 *
 *     ninja -C build && build/tests/bench/bench_runway
 */
#include <becket/runway.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

enum { MAX_SPANS = 30, PLACES = 1000, PER_SPAN = 20, MAX_TRAINS = 3, REPEATS = 15, BATCH = 20 };

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double of_children(void)
{
    struct rusage used;
    getrusage(RUSAGE_CHILDREN, &used);
    return (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

typedef struct problem {
    bk_beam beam;
    bk_beam_support supports[MAX_SPANS + 1];
    bk_beam_train trains[MAX_TRAINS];
} problem;

/* Uneven spans around 6 m with overhangs at both ends; trolleys of two wheel lines. */
static void make(problem *p, size_t n_spans, size_t n_trains)
{
    static const double load[MAX_TRAINS] = {32000, 21500, 12700}, base[MAX_TRAINS] = {0.2, 0.35, 0.16};
    memset(p, 0, sizeof *p);
    double x = 0;
    for (size_t i = 0; i <= n_spans; i++) {
        p->supports[i] = (bk_beam_support){x, false, INFINITY, 0};
        if (i < n_spans) x += 6 + 0.7 * (double)((i * 5) % 4);
    }
    p->beam = (bk_beam){-0.8, x + 0.65, 210e9 * 8.356e-5, 42.2 * 9.80665, n_spans + 1,
                        0,    n_trains, p->supports,      NULL,           p->trains};
    for (size_t i = 0; i < n_trains; i++)
        p->trains[i] = (bk_beam_train){-0.6, x + 0.45, 2, {-base[i] / 2, base[i] / 2}, load[i] + 441, 441};
}

/* ---- the sweep --------------------------------------------------------------------------------- */

typedef struct sweep {
    size_t n;                                   /* spans */
    double L[MAX_SPANS + 2], x0[MAX_SPANS + 2]; /* segments: overhang, spans, overhang */
    double c[MAX_SPANS + 1], d[MAX_SPANS + 1];  /* Thomas factors of the support moments */
    double M[MAX_SPANS + 1];
} sweep;

static void sweep_build(sweep *w, const bk_beam *b)
{
    w->n = b->n_supports - 1;
    for (size_t i = 0; i < w->n; i++)
        w->L[i + 1] = b->supports[i + 1].at_m - b->supports[i].at_m;
    for (size_t i = 0; i <= w->n; i++)
        w->x0[i + 1] = b->supports[i].at_m;
    w->x0[0] = b->from_m;
    w->L[0] = b->supports[0].at_m - b->from_m;
    w->L[w->n + 1] = b->to_m - b->supports[w->n].at_m;
    for (size_t i = 1; i < w->n; i++) {
        double below = i > 1 ? w->L[i] * w->c[i - 1] : 0;
        w->d[i] = 2 * (w->L[i] + w->L[i + 1]) - below;
        w->c[i] = w->L[i + 1] / w->d[i];
    }
}

/* Support moments for one newton at x. */
static void sweep_solve(sweep *w, double x, size_t *span, double *local)
{
    double rhs[MAX_SPANS + 1] = {0};
    size_t s = 0;
    while (s < w->n + 1 && x >= w->x0[s + 1])
        s++;
    double a = x - w->x0[s];
    memset(w->M, 0, sizeof w->M);
    if (s == 0) {
        w->M[0] = -(w->L[0] - a);
    } else if (s == w->n + 1) {
        w->M[w->n] = -a;
    } else {
        double L = w->L[s], b = L - a;
        rhs[s - 1] -= a * b * (L + b) / L;
        rhs[s] -= a * b * (L + a) / L;
    }
    rhs[1] -= w->M[0] * w->L[1];
    rhs[w->n - 1] -= w->M[w->n] * w->L[w->n];
    for (size_t i = 1; i < w->n; i++)
        w->M[i] = (rhs[i] - (i > 1 ? w->L[i] * w->M[i - 1] : 0)) / w->d[i];
    for (size_t i = w->n - 1; i-- > 1;)
        w->M[i] -= w->c[i] * w->M[i + 1];
    *span = s;
    *local = a;
}

static double above(double best, double v)
{
    return v > best ? v : best;
}

/* Greatest moment found, so that nothing is optimised away and the figures can be compared. */
static double sweep_run(const bk_beam *b, bool with_deflection, double *deflection)
{
    static double worst[MAX_TRAINS][MAX_SPANS][PER_SPAN + 1][8], row[MAX_SPANS][PER_SPAN + 1][3];
    static double reaction[MAX_TRAINS][MAX_SPANS + 1][2];
    sweep w;
    sweep_build(&w, b);
    memset(worst, 0, sizeof worst);
    memset(reaction, 0, sizeof reaction);
    for (size_t t = 0; t < b->n_trains; t++) {
        const bk_beam_train *train = &b->trains[t];
        for (size_t p = 0; p < PLACES; p++) {
            double at = train->from_m + (train->to_m - train->from_m) * (double)p / (PLACES - 1),
                   R[MAX_SPANS + 1] = {0};
            for (size_t k = 0; k < train->n_lines; k++) {
                size_t s;
                double a, P = train->loaded_N / (double)train->n_lines;
                sweep_solve(&w, at + train->offset_m[k], &s, &a);
                for (size_t i = 0; i <= w.n; i++) {
                    double r = (i > 0 ? (w.M[i - 1] - w.M[i]) / w.L[i] : 0) +
                               (i < w.n ? (w.M[i + 1] - w.M[i]) / w.L[i + 1] : 0);
                    if (s == i + 1 && i < w.n) r += 1 - a / w.L[s];
                    if (s == i && i > 0) r += a / w.L[s];
                    if ((s == 0 && i == 0) || (s == w.n + 1 && i == w.n)) r += 1;
                    R[i] += P * r;
                }
                for (size_t i = 0; i < w.n; i++) {
                    double L = w.L[i + 1], b_ = L - a;
                    for (size_t j = 0; j <= PER_SPAN; j++) {
                        double x = L * (double)j / PER_SPAN, left = x / L;
                        double M = w.M[i] * (1 - left) + w.M[i + 1] * left, V = (w.M[i + 1] - w.M[i]) / L;
                        double v = 0;
                        if (with_deflection)
                            v = x * (L - x) / (6 * L) * (w.M[i] * (2 * L - x) + w.M[i + 1] * (L + x));
                        if (s == i + 1) {
                            M += x < a ? b_ * left : a * (1 - left);
                            V += x < a ? b_ / L : -a / L;
                            if (with_deflection)
                                v += x < a ? b_ * x * (L * L - b_ * b_ - x * x) / (6 * L)
                                           : a * (L - x) * (L * L - a * a - (L - x) * (L - x)) / (6 * L);
                        }
                        if (k == 0) row[i][j][0] = row[i][j][1] = row[i][j][2] = 0;
                        row[i][j][0] += P * M;
                        row[i][j][1] += P * V;
                        row[i][j][2] += P * v;
                    }
                }
            }
            for (size_t i = 0; i <= w.n; i++) {
                reaction[t][i][0] = above(reaction[t][i][0], R[i]);
                reaction[t][i][1] = above(reaction[t][i][1], -R[i]);
            }
            for (size_t i = 0; i < w.n; i++)
                for (size_t j = 0; j <= PER_SPAN; j++)
                    for (size_t f = 0; f < (with_deflection ? 3 : 2); f++) {
                        worst[t][i][j][2 * f] = above(worst[t][i][j][2 * f], row[i][j][f]);
                        worst[t][i][j][2 * f + 1] = above(worst[t][i][j][2 * f + 1], -row[i][j][f]);
                    }
        }
    }
    double moment = 0;
    *deflection = 0;
    for (size_t i = 0; i < w.n; i++)
        for (size_t j = 0; j <= PER_SPAN; j++) {
            double sum = 0, v = 0;
            for (size_t t = 0; t < b->n_trains; t++) {
                sum += worst[t][i][j][0];
                v += worst[t][i][j][4];
            }
            moment = above(moment, sum);
            *deflection = above(*deflection, v / b->EI_Nm2);
        }
    return moment;
}

/* ---- CalculiX ---------------------------------------------------------------------------------- */

/* Seconds of a whole run with n states, one trolley at n places; below 0 when it did not run. */
static double calculix(const bk_beam *b, const char *folder, size_t states)
{
    char name[400], command[500];
    snprintf(name, sizeof name, "%s/bench.inp", folder);
    FILE *f = fopen(name, "w");
    if (!f) return -1;
    size_t n_spans = b->n_supports - 1, per_span = 10, node = 1;
    fprintf(f, "*NODE\n");
    for (size_t i = 0; i < n_spans; i++)
        for (size_t j = 0; j < 2 * per_span; j++)
            fprintf(f, "%zu, %.9f, 0, 0\n", node++,
                    b->supports[i].at_m +
                        (b->supports[i + 1].at_m - b->supports[i].at_m) * (double)j / (double)(2 * per_span));
    fprintf(f, "%zu, %.9f, 0, 0\n*ELEMENT, TYPE=B32, ELSET=E\n", node, b->supports[n_spans].at_m);
    for (size_t i = 0; i < n_spans * per_span; i++)
        fprintf(f, "%zu, %zu, %zu, %zu\n", i + 1, 2 * i + 1, 2 * i + 2, 2 * i + 3);
    fprintf(f, "*MATERIAL, NAME=S\n*ELASTIC\n210e9, 0.3\n*BEAM SECTION, ELSET=E, MATERIAL=S, SECTION=RECT\n"
               "0.2, 0.1\n0, 1, 0\n*BOUNDARY\n1, 1, 1\n1, 4, 4\n");
    for (size_t i = 0; i <= n_spans; i++)
        fprintf(f, "%zu, 2, 3\n", 2 * per_span * i + 1);
    for (size_t s = 0; s < states; s++)
        fprintf(f,
                "*STEP\n*STATIC\n*CLOAD, OP=NEW\n%zu, 2, -10000\n*NODE PRINT, NSET=Nall, "
                "TOTALS=ONLY\nRF\n*END STEP\n",
                2 + (s * 37) % (node - 2));
    fclose(f);
    snprintf(command, sizeof command, "cd '%s' && OMP_NUM_THREADS=1 ccx bench >/dev/null 2>&1", folder);
    double start = of_children();
    int status = system(command);
    double took = of_children() - start;
    return status == 0 ? took : -1;
}

/* ---- */

static double median(double *t, size_t n)
{
    for (size_t i = 1; i < n; i++)
        for (size_t j = i; j > 0 && t[j] < t[j - 1]; j--) {
            double x = t[j];
            t[j] = t[j - 1];
            t[j - 1] = x;
        }
    return t[n / 2];
}

int main(void)
{
    static const struct {
        size_t spans, trains;
        const char *goal;
    } cases[] = {{2, 1, "5 us"}, {5, 1, "-"}, {10, 1, "50 us"}, {30, 1, "-"}, {20, 3, "80x"}};
    char folder[] = "/tmp/bench-runway-XXXXXX";
    bool have_folder = mkdtemp(folder) != NULL;
    printf("%5s %8s %11s %12s %14s %7s %7s %6s  %s\n", "spans", "trolleys", "exact us", "sweep us",
           "+ deflect. us", "ratio", "ratio", "goal", "sweep short of exact: moment, deflection");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        problem p;
        make(&p, cases[i].spans, cases[i].trains);
        double exact[REPEATS], plain[REPEATS], full[REPEATS], moment = 0, deflection = 0, found = 0,
                                                              found_v = 0;
        for (size_t r = 0; r < REPEATS; r++) { /* interleaved, so that a busy machine hits all alike */
            double start = now();
            for (size_t k = 0; k < BATCH; k++) {
                bk_arena *arena = bk_arena_new();
                bk_beam_worst worst;
                if (!arena || bk_beam_find_worst(&p.beam, arena, &worst, NULL, 0) != BK_OK)
                    return EXIT_FAILURE;
                bk_arena_free(arena);
            }
            exact[r] = (now() - start) / BATCH;
            start = now();
            sweep_run(&p.beam, false, &found_v);
            plain[r] = now() - start;
            start = now();
            sweep_run(&p.beam, true, &found_v);
            full[r] = now() - start;
        }
        p.beam.self_N_m = 0; /* the sweep leaves the own weight out */
        bk_arena *arena = bk_arena_new();
        bk_beam_worst worst;
        if (!arena || bk_beam_find_worst(&p.beam, arena, &worst, NULL, 0) != BK_OK) return EXIT_FAILURE;
        found = sweep_run(&p.beam, true, &found_v);
        moment = 0;
        for (size_t s = 0; s < worst.n_spans; s++) {
            if (worst.span_overhang[s]) continue;
            moment = fmax(moment, worst.span_moment_max[s].value);
            deflection = fmax(deflection, worst.span_deflection[s].value);
        }
        double e = median(exact, REPEATS), a = median(plain, REPEATS), f = median(full, REPEATS);
        printf("%5zu %8zu %11.1f %12.0f %14.0f %6.0fx %6.0fx %6s  %.1e %.1e\n", cases[i].spans,
               cases[i].trains, 1e6 * e, 1e6 * a, 1e6 * f, a / e, f / e, cases[i].goal, 1 - found / moment,
               1 - found_v / deflection);
        bk_arena_free(arena);
        if (i + 1 == sizeof cases / sizeof *cases && have_folder &&
            system("command -v ccx >/dev/null 2>&1") == 0) {
            double one = calculix(&p.beam, folder, 1), many = calculix(&p.beam, folder, 41);
            if (one > 0 && many > one)
                printf("CalculiX, the same beam: %.0f ms a run of one state, %.2f ms a further state; exact "
                       "extremes take %.4f "
                       "of one state's run (%.0fx), 1000 states would take %.0fx\n",
                       1e3 * one, 1e3 * (many - one) / 40, e / one, one / e,
                       (one + 999 * (many - one) / 40) / e);
        } else if (i + 1 == sizeof cases / sizeof *cases) {
            puts("CalculiX is not installed: not compared");
        }
    }
    char command[80];
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    return have_folder && system(command) != 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
