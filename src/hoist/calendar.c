/* calendar: proleptic Gregorian day numbers.
 *
 * Years are counted from March, so that the leap day is the last of its year: then the days before a
 * month are floor((153 m + 2) / 5), m counted from March, and the leap rule touches whole years only.
 * Valid for the years 0001 to 9999.
 */
#include "calendar.h"

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Days from 0000-03-01. */
static long from_march(long year, long month, long day)
{
    const long y = month < 3 ? year - 1 : year, m = month < 3 ? month + 9 : month - 3;
    return 365 * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + day - 1;
}

bool bk_calendar_read(const char *text, long *day)
{
    for (int i = 0; i < 10; i++)
        if (i == 4 || i == 7 ? text[i] != '-' : !is_digit(text[i]))
            return false;
    if (text[10])
        return false;
    const long year = (text[0] - '0') * 1000L + (text[1] - '0') * 100L + (text[2] - '0') * 10L + (text[3] - '0');
    const long month = (text[5] - '0') * 10L + (text[6] - '0'), of_month = (text[8] - '0') * 10L + (text[9] - '0');
    if (year < 1 || month < 1 || month > 12 || of_month < 1)
        return false;
    const long first = from_march(year, month, 1);
    const long next = month == 12 ? from_march(year + 1, 1, 1) : from_march(year, month + 1, 1);
    if (of_month > next - first)
        return false;
    *day = first + of_month - 1 - from_march(1970, 1, 1);
    return true;
}

const char *bk_calendar_print(bk_arena *arena, long day)
{
    const long n = day + from_march(1970, 1, 1);
    if (n < from_march(1, 1, 1))
        return NULL;
    long year = n / 365; /* never too early; at most a few years late */
    while (from_march(year, 3, 1) > n)
        year--;
    const long in_year = n - from_march(year, 3, 1);
    const long m = (5 * in_year + 2) / 153;
    const long of_month = in_year - (153 * m + 2) / 5 + 1;
    const long month = m < 10 ? m + 3 : m - 9;
    if (month < 3)
        year++;
    return year > 9999 ? NULL : bk_arena_printf(arena, "%04ld-%02ld-%02ld", year, month, of_month);
}
