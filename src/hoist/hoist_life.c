/* hoist life: how much of the theoretical life is used, and when the rest will be.
 *
 * Each period of the log counts S_i = km_i * T_i * f, with its own spectrum and its own way of
 * recording; the used share is sum S_i over D, the full-load life of the group.  FEM 9.755 and ISO 12482
 * give different f for one and the same way of recording: two sums are kept and never mixed.
 *
 *   log     reading 1     reading 2   (swapped: a new meter starts here)    reading 3
 *   |----T_1----|----T_2----|                                  |----T_3--------|
 *
 * A meter counts from 0 at the start of the hoist's life, and from the figures of a swap after it.
 * With no meter at all the hours are those of the duty over the time in service.
 *
 * Invariants: hours never fall within one meter, dates never fall in the log.  Limits: a failure can
 * come earlier than the theoretical life; both standards say so.
 */
#include "hoist_life.h"

#include "calendar.h"

#include <stdio.h>
#include <string.h>

#define RECORDING "hoist-recording"

static const double HOUR_S = 3600.0;
static const double YEAR_S = BK_DAYS_PER_YEAR * 86400.0;

double bk_hoist_km(const bk_duty_load *loads, size_t n, double hook, bk_working *w)
{
    double sum = 0, time = 0;
    BK_GIVEN(w, gamma, hook, NONE, hook > 0 ? "hook block over rated capacity" : "hook block: light, left out");
    for (size_t i = 0; i < n; i++) {
        BK_GIVEN(w, beta, loads[i].of_rated, NONE, "load over rated capacity");
        BK_GIVEN(w, t, loads[i].time, NONE, "share of the running time");
        BK_CALC(w, part, t * pow(beta + gamma, 3), NONE, "cube law");
        sum += part;
        time += t;
    }
    BK_GIVEN(w, sum_part, sum, NONE, "sum of the parts");
    BK_GIVEN(w, sum_t, time, NONE, "sum of the shares of time");
    BK_CALC(w, k_m, sum_part / sum_t, NONE, "load spectrum factor, ISO 4301-1:1986; k cubed of FEM 9.511");
    return k_m;
}

/* How the hours and loads came to be known sets f: rows fem-HOW and iso-HOW of the table. */
static bk_status recording(bk_tables *tables, const bk_hoist *hoist, const char *how, double *f_fem,
                           double *f_iso, bk_mark *mark, bk_errors *errors)
{
    static const char *const scheme[] = {"fem", "iso"};
    double *const factor[] = {f_fem, f_iso};
    const bk_table *table;
    const bk_status listed = bk_tables_table(tables, RECORDING, hoist->duty.place, &table, errors);
    if (listed)
        return listed;
    char words[160] = "";
    bool known = false;
    for (size_t i = 0; i < table->n_rows; i++) {
        const char *name = table->rows[i].name;
        if (strncmp(name, "iso-", 4) != 0)
            continue;
        known = known || strcmp(name + 4, how) == 0;
        snprintf(words + strlen(words), sizeof words - strlen(words), "%s%s", *words ? ", " : "", name + 4);
    }
    if (!known)
        return bk_fail(errors, hoist->duty.place, BK_E_WORD, "recorded: want one of %s, found \"%s\"", words, how);
    for (int i = 0; i < 2; i++) {
        char ref[120];
        const bk_row *row;
        snprintf(ref, sizeof ref, RECORDING "/%s-%s", scheme[i], how);
        bk_status status = bk_tables_row(tables, ref, hoist->duty.place, &row, errors);
        if (!status)
            status = bk_hoist_number(row, "factor", BK_DIM_NONE, factor[i], errors);
        if (status)
            return status;
        *mark = bk_hoist_less_sure(*mark, row->mark);
    }
    return BK_OK;
}

typedef struct tally {
    double hours, starts, fem, iso; /* fem, iso: sum of km T f, full-load hours */
} tally;

/* One period of the log into the sums. */
static void count(tally *sum, double hours, double km, double f_fem, double f_iso, bk_working *w)
{
    BK_GIVEN(w, T, hours * HOUR_S, TIME, "running time of the period");
    BK_GIVEN(w, k_m, km, NONE, "its load spectrum factor");
    BK_GIVEN(w, f, f_fem, NONE, "recording factor, FEM 9.755");
    BK_GIVEN(w, f_1, f_iso, NONE, "recording factor f1, ISO 12482");
    BK_CALC(w, S_fem, k_m * T * f, TIME, "FEM 9.755");
    BK_CALC(w, S_iso, k_m * T * f_1, TIME, "ISO 12482");
    sum->hours += hours;
    sum->fem += S_fem / HOUR_S;
    sum->iso += S_iso / HOUR_S;
}

/* Walks the log.  total: all of it; dated: what lies between the first and the last date. */
static bk_status walk(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, double km, double hook,
                      const char *how, bk_working *w, tally *total, tally *dated, long *first, long *last,
                      bool *has_date, bk_hoist_duty *out, bk_errors *errors)
{
    double hours_before = 0, starts_before = 0;
    for (size_t i = 0; i < hoist->duty.n_meters; i++) {
        const bk_meter *m = &plan->meters[hoist->duty.first_meter + i];
        const bool was_dated = *has_date;
        if (m->date) {
            long day;
            if (!bk_calendar_read(m->date, &day))
                return bk_fail(errors, m->place, BK_E_VALUE, "date: want YYYY-MM-DD, got \"%s\"", m->date);
            if (*has_date && day < *last)
                return bk_fail(errors, m->place, BK_E_VALUE, "readings go back in time at %s", m->date);
            if (!*has_date)
                *first = day;
            else if (m->swapped)
                out->swap_gap_days += (double)(day - *last);
            /* a day more, since the hour of a reading is not known */
            else if (m->on_time_s / HOUR_S - hours_before > 24 * (double)(day - *last + 1))
                return bk_fail(errors, m->place, BK_E_VALUE,
                               "%.0f running hours since the reading before, in %ld days: no meter runs more than 24 a day",
                               m->on_time_s / HOUR_S - hours_before, day - *last);
            *last = day;
            *has_date = true;
            out->last_reading = m->date;
        }
        const double hours = m->on_time_s / HOUR_S;
        if (!m->swapped) {
            if (hours < hours_before || m->starts < starts_before)
                return bk_fail(errors, m->place, BK_E_VALUE,
                               "a meter reads less than before; say `swapped: yes` where a new meter starts");
            if (!isnan(hours)) {
                double own = km, f_fem, f_iso;
                if (m->n_loads)
                    own = bk_hoist_km(plan->duty_loads + m->first_load, m->n_loads, hook, w);
                const bk_status status = recording(tables, hoist, m->recorded ? m->recorded : how, &f_fem,
                                                   &f_iso, &out->life_mark, errors);
                if (status)
                    return status;
                count(total, hours - hours_before, own, f_fem, f_iso, w);
                if (was_dated)
                    count(dated, hours - hours_before, own, f_fem, f_iso, NULL);
                out->factor_fem = f_fem;
                out->factor_iso = f_iso;
            }
            if (!isnan(m->starts))
                total->starts += m->starts - starts_before;
        }
        if (!isnan(hours))
            hours_before = hours;
        if (!isnan(m->starts))
            starts_before = m->starts;
    }
    return BK_OK;
}

/* Whether the first reading of the log tells nothing of what was before: a swapped meter, or one that shows 0. */
static bool begins_at_nought(const bk_plan *plan, const bk_duty *duty)
{
    const bk_meter *m = &plan->meters[duty->first_meter];
    return m->swapped || !(m->on_time_s > 0);
}

/* Years until a share of the life is used, from the last reading on: 0 when it is already. */
static double years_to(double share, double full_load_hours, double used, double used_per_year)
{
    return fmax(0.0, share * full_load_hours - used) / used_per_year;
}

static const char *date_after(bk_arena *arena, bool dated, long from, double years)
{
    const double days = years * BK_DAYS_PER_YEAR;
    return dated && days < 3e6 ? bk_calendar_print(arena, from + (long)floor(days)) : NULL;
}

bk_status bk_hoist_life_of(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, bk_arena *arena,
                           double km, double hook, bk_working *w, bk_hoist_duty *out, bk_errors *errors)
{
    const bk_duty *duty = &hoist->duty;
    bool metered = false, counted_starts = false;
    for (size_t i = 0; i < duty->n_meters; i++) {
        metered = metered || !isnan(plan->meters[duty->first_meter + i].on_time_s);
        counted_starts = counted_starts || !isnan(plan->meters[duty->first_meter + i].starts);
    }
    const char *how = duty->history_unknown ? "unknown" : duty->recorded ? duty->recorded : metered ? "counters" : "undocumented";

    if (duty->recorded) { /* a slip of the pen is told before there is anything to record */
        double f_fem, f_iso;
        bk_mark mark = BK_MARK_PUBLISHED;
        const bk_status told = recording(tables, hoist, duty->recorded, &f_fem, &f_iso, &mark, errors);
        if (told)
            return told;
    }

    tally total = {0}, dated = {0};
    long first = 0, last = 0;
    bool has_date = false;
    bk_status status =
        walk(plan, hoist, tables, km, hook, how, w, &total, &dated, &first, &last, &has_date, out, errors);
    if (status)
        return status;

    long today = 0;
    if (out->last_reading && plan->date && bk_calendar_read(plan->date, &today))
        out->days_since_reading = (double)(today - last);

    const double in_service_years = duty->in_service_s / YEAR_S;
    const double by_duty = out->hours_per_year_by_duty;
    /* a log that begins at nought later than the hoist did leaves what came before on no meter; a year is no discovery,
     * since a time in service is seldom stated to the day */
    const double logged_years = (double)(last - first) / BK_DAYS_PER_YEAR;
    if (has_date && metered && in_service_years > logged_years + 1 && begins_at_nought(plan, duty))
        out->unlogged_years = in_service_years - logged_years;
    if (!metered && !isnan(in_service_years) && !isnan(by_duty)) {
        if ((status = recording(tables, hoist, how, &out->factor_fem, &out->factor_iso, &out->life_mark, errors)))
            return status;
        count(&total, by_duty * in_service_years, km, out->factor_fem, out->factor_iso, w);
    } else if (!metered) {
        return BK_OK; /* nothing says how long it ran */
    }
    out->running_hours = total.hours;
    if (counted_starts) {
        out->starts = total.starts;
        if (total.hours > 0) {
            BK_GIVEN(w, n_starts, total.starts, NONE, "starts counted");
            BK_GIVEN(w, n_hours, total.hours, NONE, "running hours counted");
            BK_CALC(w, starts_per_running_hour, n_starts / n_hours, NONE, "from the two meters");
            out->starts_per_running_hour = starts_per_running_hour;
        }
    }
    out->used_hours_fem = total.fem;
    out->used_hours_iso = total.iso;

    /* the rate: between dates where there are two, else over the time in service, else the duty's */
    tally per_year = {.hours = NAN};
    /* days between the last reading of an old meter and the first of its successor were worked, but not metered */
    const double metered_years = logged_years - out->swap_gap_days / BK_DAYS_PER_YEAR;
    if (metered_years > 0)
        per_year = (tally){dated.hours / metered_years, 0, dated.fem / metered_years, dated.iso / metered_years};
    else if (in_service_years > 0)
        per_year = (tally){total.hours / in_service_years, 0, total.fem / in_service_years,
                           total.iso / in_service_years};
    else if (!isnan(by_duty))
        per_year = (tally){by_duty, 0, by_duty * km * out->factor_fem, by_duty * km * out->factor_iso};
    if (!isnan(per_year.hours))
        out->hours_per_year = per_year.hours;

    if (isnan(out->full_load_hours))
        return BK_OK;
    BK_GIVEN(w, D, out->full_load_hours * HOUR_S, TIME, out->life_source);
    BK_GIVEN(w, S_fem, total.fem * HOUR_S, TIME, "sum over the log, FEM 9.755");
    BK_GIVEN(w, S_iso, total.iso * HOUR_S, TIME, "sum over the log, ISO 12482");
    BK_CALC(w, used_fem, S_fem / D, NONE, "FEM 9.755");
    BK_CALC(w, used_iso, S_iso / D, NONE, "ISO 12482");
    BK_CALC(w, life_used, fmax(used_fem, used_iso), NONE, "the greater; the two are not merged");
    out->life_used_fem = used_fem;
    out->life_used_iso = used_iso;
    out->life_used = life_used;

    const bool fem_governs = used_fem >= used_iso;
    const double rate = fem_governs ? per_year.fem : per_year.iso, used = fem_governs ? total.fem : total.iso;
    if (isnan(per_year.hours) || !(rate > 0))
        return BK_OK;
    const bk_rule *warn, *act, *stop;
    if ((status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &warn, errors, "duty.warn")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &act, errors, "duty.act")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &stop, errors, "duty.stop")))
        return status;
    out->years_to_80 = years_to(warn->value, out->full_load_hours, used, rate);
    out->years_to_90 = years_to(act->value, out->full_load_hours, used, rate);
    out->years_to_100 = years_to(stop->value, out->full_load_hours, used, rate);
    if (!has_date && plan->date && bk_calendar_read(plan->date, &last))
        has_date = true;
    out->date_80 = date_after(arena, has_date, last, out->years_to_80);
    out->date_90 = date_after(arena, has_date, last, out->years_to_90);
    out->date_100 = date_after(arena, has_date, last, out->years_to_100);
    return BK_OK;
}
