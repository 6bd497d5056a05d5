/* Memory runs out at the first allocation of a runway's analysis, at the second, and so on until it succeeds:
 * each time the answer is BK_E_NOMEM, nothing crashes and, under the address sanitizer, nothing leaks.  The
 * linker sends the allocations of Becket's own code through here (--wrap). */
#include <becket/runway.h>

#include <stdio.h>
#include <stdlib.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);

static long left = -1; /* allocations until one fails; below 0: none does */

static bool fails(void)
{
    return left >= 0 && left-- == 0;
}
void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}
void *__wrap_calloc(size_t n, size_t size)
{
    return fails() ? NULL : __real_calloc(n, size);
}

/* Enough supports that one block of the arena does not hold it all. */
enum { SUPPORTS = 120 };
static bk_beam_support supports[SUPPORTS];
static bk_beam_train trains[2] = {{0.4, 90, 2, {-0.3, 0.3}, 17300, 520}, {7, 7, 1, {0}, 4100, 0}};
static bk_beam_load load = {3, 44, 900, 210};

static bk_status analyse(const bk_beam *beam)
{
    bk_beam_worst worst;
    bk_arena *arena = bk_arena_new();
    bk_status status = arena ? bk_beam_find_worst(beam, arena, &worst, NULL, 0) : BK_E_NOMEM;
    bk_arena_free(arena);
    return status;
}

static bk_status one_state(const bk_beam *beam)
{
    double at[2] = {33, 7}, reaction[SUPPORTS], x = 12, moment;
    bool loaded[2] = {true, false};
    return bk_beam_state(beam, at, loaded, reaction, 1, &x, &moment, NULL, NULL);
}

static int run_out(const bk_beam *beam, bk_status (*work)(const bk_beam *), const char *name)
{
    for (long n = 0; n < 10000; n++) {
        left = n;
        bk_status status = work(beam);
        left = -1;
        if (status == BK_OK) return n > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
        if (status != BK_E_NOMEM) {
            fprintf(stderr, "%s, allocation %ld: status %d\n", name, n, (int)status);
            return EXIT_FAILURE;
        }
    }
    return EXIT_FAILURE;
}

int main(void)
{
    for (size_t i = 0; i < SUPPORTS; i++)
        supports[i] = (bk_beam_support){0.9 + 3.3 * (double)i, false, i % 3 ? (double)INFINITY : 4e7, 0};
    bk_beam beam = {0, 3.3 * SUPPORTS, 8e6, 400, SUPPORTS, 1, 2, supports, &load, trains};
    int worst = run_out(&beam, analyse, "worst"), state = run_out(&beam, one_state, "state");
    return worst == EXIT_SUCCESS ? state : worst;
}
