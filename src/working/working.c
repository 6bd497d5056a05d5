/* working: the recorder behind BK_GIVEN and BK_CALC, and the formula with its numbers put in.
 *
 * A formula is the text of a C expression.  It is cut into names, numbers and single characters; a
 * name that a step before it recorded, whole, gives way to its value and unit, and everything else
 * stays as it is written: numbers, signs, the functions of math.h.
 */
#include <becket/working.h>

#include <ctype.h>
#include <string.h>

bk_working *bk_working_new(bk_arena *arena)
{
    bk_working *w = BK_NEW(arena, bk_working, 1);
    if (w) w->arena = arena;
    return w;
}

double bk_working_add(bk_working *w, const char *symbol, const char *formula, double value, bk_dim dim,
                      const char *source)
{
    if (!w) return value;
    bk_step *step = bk_arena_push(w->arena, &w->steps, &w->n, &w->capacity, sizeof *w->steps);
    if (step)
        *step = (bk_step){symbol, formula, value, dim, source};
    else
        w->failed = true;
    return value;
}

static bool is_word(char c)
{
    return isalnum((unsigned char)c) || c == '_';
}

/* The piece of a formula at text: a name, a number, or one character that is neither. */
static size_t piece_length(const char *text)
{
    bool number = isdigit((unsigned char)text[0]) || (text[0] == '.' && isdigit((unsigned char)text[1]));
    size_t n = 1;
    if (number) /* 1e-3 is one piece: its e is no name */
        while (is_word(text[n]) || text[n] == '.' ||
               ((text[n] == '-' || text[n] == '+') && (text[n - 1] == 'e' || text[n - 1] == 'E')))
            n++;
    else if (is_word(text[0]))
        while (is_word(text[n]))
            n++;
    return n;
}

/* The latest step before i that has this name; NULL if none has. */
static const bk_step *find_symbol(const bk_working *w, size_t i, const char *name, size_t length)
{
    while (i-- > 0)
        if (strncmp(w->steps[i].symbol, name, length) == 0 && w->steps[i].symbol[length] == 0)
            return &w->steps[i];
    return NULL;
}

const char *bk_working_numbers(const bk_working *w, size_t i, bk_system system)
{
    enum { DIGITS = 4 };
    const char *formula = w->steps[i].formula;
    if (!formula) return NULL;
    char *text = NULL;
    size_t n = 0, capacity = 0;
    for (size_t length; *formula; formula += length) {
        length = piece_length(formula);
        const char *piece = formula;
        size_t piece_size = length;
        char value[64], enclosed[sizeof value + 2];
        bool function = formula[length] == '(';
        const bk_step *step = is_word(*formula) && !function ? find_symbol(w, i, formula, length) : NULL;
        if (step) {
            bk_quantity_print(value, sizeof value, step->value, step->dim, system, DIGITS);
            piece = value;
            piece_size = strlen(value);
            if (value[0] == '-' && value[1]) { /* a - -3 kN would be hard to read; "-" alone is no value */
                enclosed[0] = '(';
                memcpy(enclosed + 1, value, piece_size);
                enclosed[piece_size + 1] = ')';
                piece = enclosed;
                piece_size += 2;
            }
        }
        for (size_t k = 0; k < piece_size; k++) {
            char *at = bk_arena_push(w->arena, &text, &n, &capacity, 1);
            if (!at) return NULL;
            *at = piece[k];
        }
    }
    return bk_arena_push(w->arena, &text, &n, &capacity, 1) ? text : NULL; /* the zeroed byte ends it */
}
