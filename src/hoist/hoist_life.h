/* Used life from the log: apart from the duty, which it only takes the spectrum from. */
#ifndef BK_HOIST_LIFE_H
#define BK_HOIST_LIFE_H

#include "hoist_lookup.h"

/* km of n duty loads: sum of (load + hook)^3 over time; hook is 0 where it may be left out. */
double bk_hoist_km(const bk_duty_load *loads, size_t n, double hook, bk_working *w);

/* Fills the life of out, which must hold full_load_hours and the duty's own running hours already.
 * km: spectrum of the duty, for periods of the log without their own. */
bk_status bk_hoist_life_of(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, bk_arena *arena,
                           double km, double hook, bk_working *w, bk_hoist_duty *out, bk_errors *errors);

/* Inspections and service that fall due by the calendar or by use (hoist_intervals.c). */
bk_status bk_hoist_intervals_of(const bk_hoist *hoist, bk_tables *tables, bk_arena *arena, bk_hoist_duty *out,
                                bk_errors *errors);

#endif
