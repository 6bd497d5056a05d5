/* Dates as day numbers, so that a log can be counted through and a forecast be given a date. */
#ifndef BK_CALENDAR_H
#define BK_CALENDAR_H

#include <becket/base.h>

#define BK_DAYS_PER_YEAR 365.25 /* the year of quantity: Julian */

/* Days from 1970-01-01 (Gregorian, also before its time) to a date YYYY-MM-DD; false if it is none. */
bool bk_calendar_read(const char *text, long *day);
/* "YYYY-MM-DD"; arena text; NULL when memory is out, or the year is not 0001 to 9999. */
const char *bk_calendar_print(bk_arena *arena, long day);

#endif
