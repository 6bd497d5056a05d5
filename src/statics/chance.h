/* chance: numbers that look like chance and are the same on every run and machine.  Private to statics. */
#ifndef BK_STATICS_CHANCE_H
#define BK_STATICS_CHANCE_H

#include <stdint.h>

#define BK_CHANCE_START UINT64_C(88172645463325252)

/* The next number in [-1, 1): xorshift with the shifts 13, 7, 17 (Marsaglia, Xorshift RNGs, 2003; memory). */
static inline double bk_chance(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return 2 * ((double)(*state >> 11) / 9007199254740992.0) - 1;
}

#endif
