/* nearest: the known word that was most likely meant.
 *
 * Distance: optimal string alignment, that is Levenshtein's insertions, deletions and substitutions
 * and also the swap of two neighbours (F. J. Damerau, "A technique for computer detection and
 * correction of spelling errors", Communications of the ACM 7, 1964; memory).  Three rows of the
 * table suffice.  Bytes are compared, ASCII letters without regard to case.
 */
#include <becket/base.h>

#include <string.h>

enum { LONGEST = 64 }; /* a longer word is nobody's spelling mistake */

static unsigned char fold(char c)
{
    return (unsigned char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* a and b are at most LONGEST bytes long. */
static size_t distance(const char *a, size_t n_a, const char *b, size_t n_b)
{
    size_t rows[3][LONGEST + 1];
    size_t *before = rows[0], *last = rows[1], *now = rows[2];
    for (size_t j = 0; j <= n_b; j++)
        last[j] = j;
    for (size_t i = 1; i <= n_a; i++) {
        now[0] = i;
        for (size_t j = 1; j <= n_b; j++) {
            size_t substituted = last[j - 1] + (fold(a[i - 1]) != fold(b[j - 1]));
            now[j] = least(substituted, least(last[j], now[j - 1]) + 1);
            if (i > 1 && j > 1 && fold(a[i - 1]) == fold(b[j - 2]) && fold(a[i - 2]) == fold(b[j - 1]))
                now[j] = least(now[j], before[j - 2] + 1);
        }
        size_t *spare = before;
        before = last;
        last = now;
        now = spare;
    }
    return last[n_b];
}

const char *bk_nearest(const char *word, const char *const *known, size_t n)
{
    size_t length = strlen(word);
    if (length == 0 || length > LONGEST) return NULL;
    /* one slip is always near, more only in a longer word; but something of the word must remain */
    size_t bound = length / 3 > 1 ? length / 3 : 1;
    bound = least(bound, length - 1);
    const char *best = NULL;
    size_t best_gap = SIZE_MAX;
    for (size_t i = 0; i < n; i++) {
        size_t other = strnlen(known[i], LONGEST + 1);
        size_t gap = other > length ? other - length : length - other;
        if (other > LONGEST || gap > bound) continue;
        size_t d = distance(word, length, known[i], other);
        /* of equals the one as long as the word, a swap of neighbours before a letter lost; else the first */
        if (d > bound || (best && d == bound && gap >= best_gap)) continue;
        best = known[i];
        best_gap = gap;
        bound = d;
        if (d == 0) break;
    }
    return best;
}
