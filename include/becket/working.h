/* working: a figure and its working come from the same line of code.
 *
 *     const double F = ...;
 *     BK_GIVEN(w, Q, 9806.65, FORCE, "hook load");
 *     BK_CALC(w, F_Ed, gamma_Q * phi_2 * Q, FORCE, "EN 1991-3, 2.6");
 *
 * Both declare a `const double` of that name.  BK_CALC evaluates the C expression and hands the same
 * text to the recorder, which later shows symbol, formula, numbers put in, value, unit and source.
 * With w NULL nothing is recorded and nothing but the arithmetic is done.
 * Symbols are the source's own letters; expressions use + - * / and the functions of math.h only,
 * so that a reader who does not write C can follow them.
 */
#ifndef BECKET_WORKING_H
#define BECKET_WORKING_H

#include <becket/quantity.h>

BK_C_BEGIN

typedef struct bk_step {
    const char *symbol;  /* "F_Ed" */
    const char *formula; /* "gamma_Q * phi_2 * Q"; NULL for a given value */
    double value;        /* SI */
    bk_dim dim;
    const char *source;  /* clause, table, or what the value is; never NULL */
} bk_step;

/* Steps of one figure, in order.  Owned by its arena; symbols and formulas are string literals,
 * sources are literals or arena text. */
typedef struct bk_working {
    bk_arena *arena;
    bk_step *steps;
    size_t n, capacity;
    bool failed; /* memory ran out: the working is incomplete and must not be shown */
} bk_working;

/* NULL when memory is out. */
bk_working *bk_working_new(bk_arena *arena);
/* Records a step; returns value.  w may be NULL. */
double bk_working_add(bk_working *w, const char *symbol, const char *formula, double value, bk_dim dim,
                      const char *source);
/* The formula of step i with every symbol recorded before it replaced by its number and unit:
 * "1.35 * 1.15 * 9.81 kN".  Arena text; NULL when memory is out or the step is a given value. */
const char *bk_working_numbers(const bk_working *w, size_t i, bk_system system);

#define BK_GIVEN(w, name, value, dim, source)                                                      \
    const double name = bk_working_add((w), #name, NULL, (value), BK_DIM_##dim, (source))
#define BK_CALC(w, name, expression, dim, source)                                                  \
    const double name = bk_working_add((w), #name, #expression, (expression), BK_DIM_##dim, (source))

BK_C_END

#endif
