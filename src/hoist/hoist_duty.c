/* hoist duty: what the work asks of motor, gear and brake, and what the hoist is built for.
 *
 *   running time     path of a cycle over the speed, times the cycles of an hour: the share of the hour
 *                    is the cyclic duration factor needed, times the hours of a day the mean daily
 *                    running time
 *   load spectrum    km = sum t (beta + gamma)^3, k its cube root: bearings and teeth wear with the cube
 *   group needed     time class and spectrum class give the group: M = T + L - 2, which is the whole
 *                    matrix of ISO 4301-1:1986; FEM 9.511 gives each cell its own name
 *   windings         a two-speed motor has two, each with a share of the duty: checked apart
 *   life             hoist_life.c
 *
 * The ISO time class is the twin of the FEM class in the same row of the table (mean daily hours);
 * total hours over a design life would need that life to be stated.  The 2016 edition of ISO 4301-1
 * counts cycles instead and is not mixed in.  US duty classes are set beside and never converted.
 * Limits: starts are counted per cycle, not simulated; a motor's heating is the group's affair.
 */
#include "hoist_life.h"

#include <string.h>

static const double HOUR_S = 3600.0;

/* A row of the table whose name or whose column reads so; its index, or BK_NONE. */
static size_t find_row(const bk_table *table, const char *column, const char *text)
{
    for (size_t i = 0; i < table->n_rows; i++) {
        const char *cell = column ? bk_hoist_text(&table->rows[i], column) : table->rows[i].name;
        if (cell && !strcmp(cell, text))
            return i;
    }
    return BK_NONE;
}

/* First row whose column is not below value; the last row when all are (an open top). */
static bk_status class_of(const bk_table *table, const char *column, bk_dim dim, double value,
                          const bk_row **row, bk_errors *errors)
{
    *row = NULL;
    for (size_t i = 0; i < table->n_rows; i++) {
        double up_to;
        const bk_status status = bk_hoist_number(&table->rows[i], column, dim, &up_to, errors);
        if (status)
            return status;
        *row = &table->rows[i];
        if (isnan(up_to) || value <= up_to * (1 + 1e-9)) /* 1e-9: 0.5 cubed is 0.125 to the last bit or so */
            return BK_OK;
    }
    if (*row)
        return BK_OK;
    return bk_fail(errors, (bk_place){table->path, 0, 0}, BK_E_TABLE_FORM, "table %s has no rows", table->name);
}

/* The hoist's own group under all its names, and the duty that belongs to it. */
static bk_status own_group(const bk_hoist *hoist, bk_tables *tables, bk_hoist_duty *out, double *cdf,
                           double *starts, bk_errors *errors)
{
    const bk_table *groups, *us;
    bk_status status = bk_tables_table(tables, "hoist-group", hoist->place, &groups, errors);
    if (!status)
        status = bk_tables_table(tables, "hoist-us-duty", hoist->place, &us, errors);
    if (status || !hoist->group)
        return status;
    size_t i = find_row(groups, NULL, hoist->group);
    if (i == BK_NONE)
        i = find_row(groups, "fem", hoist->group);
    const bk_row *row = NULL;
    if (i != BK_NONE) {
        row = &groups->rows[i];
        out->group_iso = row->name;
        out->group_fem = bk_hoist_text(row, "fem");
        status = bk_hoist_number(row, "full_load_life", BK_DIM_TIME, &out->full_load_hours, errors);
        out->full_load_hours /= HOUR_S;
        out->life_source = row->source;
        out->life_mark = row->mark;
    } else if ((i = find_row(us, NULL, hoist->group)) != BK_NONE) {
        row = &us->rows[i];
        out->group_us = row->name;
    } else {
        return bk_fail(errors, hoist->place, BK_E_WORD,
                       "hoists.%s.group: want M1 to M8, 1Dm to 5m or H1 to H5, got \"%s\"", hoist->name,
                       hoist->group);
    }
    out->group_source = row->source;
    out->group_mark = row->mark;
    if (!status)
        status = bk_hoist_number(row, "cyclic_duration_factor", BK_DIM_NONE, cdf, errors);
    if (!status)
        status = bk_hoist_number(row, "starts_per_hour", BK_DIM_NONE, starts, errors);
    return status;
}

/* What the hoist may do: its own figures, else those of its group; a two-speed motor's split. */
static bk_status allowed(const bk_plan *plan, const bk_hoist *hoist, double group_cdf, double group_starts,
                         bk_working *w, bk_hoist_duty *out, bk_errors *errors)
{
    const bool own_cdf = !isnan(hoist->cyclic_duration_factor), own_starts = !isnan(hoist->starts_per_hour);
    out->allowed_of_group = !own_cdf || !own_starts;
    out->allowed_cdf = own_cdf ? hoist->cyclic_duration_factor : group_cdf;
    out->allowed_starts = own_starts ? hoist->starts_per_hour : group_starts;
    if (!isnan(out->allowed_cdf)) {
        BK_GIVEN(w, ED, out->allowed_cdf, NONE, own_cdf ? hoist->source : out->group_source);
        BK_CALC(w, on_min_in_10, 10 * ED, NONE, "minutes on in ten, S3 duty of IEC 60034-1");
        BK_CALC(w, rest_per_run, 1 / ED - 1, NONE, "rest for each minute of running");
        out->on_min_in_10 = on_min_in_10;
        out->rest_per_run = rest_per_run;
    }
    if (isnan(hoist->creep_m_s))
        return BK_OK;
    const bk_rule *share;
    const bk_status status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &share, errors, "duty.main_share");
    if (status)
        return status;
    /* main winding: this share of the running time and the rest of the starts; creep the other way round */
    out->allowed_main_cdf = share->value * out->allowed_cdf;
    out->allowed_creep_cdf = (1 - share->value) * out->allowed_cdf;
    out->allowed_main_starts = (1 - share->value) * out->allowed_starts;
    out->allowed_creep_starts = share->value * out->allowed_starts;
    return BK_OK;
}

/* Running time and starts that the work asks for. */
static bk_status work(const bk_plan *plan, const bk_hoist *hoist, bk_working *w, bk_hoist_duty *out,
                      bk_errors *errors)
{
    const bk_duty *duty = &hoist->duty;
    const bool two_speed = !isnan(hoist->creep_m_s);
    const bk_rule *per_cycle, *share, *year;
    bk_status status;
    if ((status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &per_cycle, errors, "duty.starts_per_cycle.%s",
                                two_speed ? "two_speed" : "one_speed")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &share, errors, "duty.main_share")) ||
        (status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &year, errors, "duty.days_per_year")))
        return status;
    if (isnan(duty->cycles_per_hour))
        return BK_OK;
    BK_GIVEN(w, N, duty->cycles_per_hour, NONE, "cycles in an hour");
    BK_GIVEN(w, pairs, duty->empty_return ? 2 : 1, NONE,
             duty->empty_return ? "a cycle has an empty pair too" : "a cycle is one lift and one lowering");
    if (isnan(duty->starts_per_cycle)) {
        BK_GIVEN(w, n_pair, per_cycle->value, NONE, per_cycle->source);
        BK_CALC(w, starts_per_hour, N * n_pair * pairs, NONE, "starts in an hour");
        out->starts_per_hour = starts_per_hour;
    } else {
        BK_GIVEN(w, n_cycle, duty->starts_per_cycle, NONE, "starts in a cycle, stated in the plan");
        BK_CALC(w, starts_per_hour, N * n_cycle, NONE, "starts in an hour");
        out->starts_per_hour = starts_per_hour;
    }
    if (two_speed) {
        const double creep = isnan(duty->creep_starts_share) ? share->value : duty->creep_starts_share;
        out->creep_starts = creep * out->starts_per_hour;
        out->main_starts = (1 - creep) * out->starts_per_hour;
    }
    if (isnan(duty->mean_lift_m) || !(hoist->speed_m_s > 0))
        return BK_OK;
    BK_GIVEN(w, H, duty->mean_lift_m, LENGTH, "mean lift");
    BK_GIVEN(w, V, hoist->speed_m_s, SPEED, hoist->source);
    double mean = V;
    if (two_speed && !isnan(duty->creep_share)) {
        BK_GIVEN(w, c, duty->creep_share, NONE, "share of the running time in creep");
        BK_GIVEN(w, V_creep, hoist->creep_m_s, SPEED, hoist->source);
        BK_CALC(w, V_both, (1 - c) * V + c * V_creep, SPEED, "mean speed");
        mean = V_both;
    }
    BK_GIVEN(w, V_mean, mean, SPEED, "speed that the path is run at");
    BK_GIVEN(w, hour, HOUR_S, TIME, "one hour");
    BK_CALC(w, ED_needed, N * pairs * 2 * H / (V_mean * hour), NONE, "running time in an hour: up and down");
    out->cyclic_duration_factor = ED_needed;
    if (two_speed) {
        const double creep = isnan(duty->creep_share) ? 1 - share->value : duty->creep_share;
        out->creep_cdf = creep * ED_needed;
        out->main_cdf = (1 - creep) * ED_needed;
    }
    if (isnan(duty->hours_per_day))
        return BK_OK;
    BK_GIVEN(w, T, duty->hours_per_day, NONE, "working hours in a day");
    BK_CALC(w, t_day, ED_needed * T, NONE, "mean daily running time in hours, FEM 9.511");
    out->running_hours_per_day = t_day;
    BK_GIVEN(w, days, isnan(duty->days_per_year) ? year->value : duty->days_per_year, NONE,
             isnan(duty->days_per_year) ? year->source : "working days in a year");
    BK_CALC(w, t_year, t_day * days, NONE, "running hours in a year");
    out->hours_per_year = out->hours_per_year_by_duty = t_year;
    return BK_OK;
}

/* Spectrum: km and its class.  No spectrum stated: full load all the time. */
static bk_status spectrum(const bk_plan *plan, const bk_hoist *hoist, const bk_table *classes, bk_working *w,
                          double *hook, const bk_row **l_iso, const bk_row **l_fem, bk_hoist_duty *out,
                          bk_errors *errors)
{
    static const bk_duty_load full = {1, 1};
    const bk_rule *ignored;
    bk_status status = bk_hoist_rule(plan, hoist, BK_DIM_NONE, &ignored, errors, "duty.hook_share_ignored");
    if (status)
        return status;
    *hook = hoist->hook_mass_kg * BK_STANDARD_GRAVITY_M_PER_S2 / hoist->rated_N;
    out->hook_block_counted = *hook > ignored->value;
    if (!out->hook_block_counted)
        *hook = 0;
    out->spectrum_assumed = !hoist->duty.n_loads;
    out->spectrum_factor = bk_hoist_km(out->spectrum_assumed ? &full : plan->duty_loads + hoist->duty.first_load,
                                       out->spectrum_assumed ? 1 : hoist->duty.n_loads, *hook, w);
    BK_GIVEN(w, k_m, out->spectrum_factor, NONE, "load spectrum factor");
    BK_CALC(w, k, cbrt(k_m), NONE, "cubic mean, FEM 9.511; mean effective load factor");
    out->cubic_mean_k = k;
    out->mean_effective_load_factor = k;
    if ((status = class_of(classes, "km", BK_DIM_NONE, out->spectrum_factor, l_iso, errors)) ||
        (status = class_of(classes, "k_to", BK_DIM_NONE, out->cubic_mean_k, l_fem, errors)))
        return status;
    out->spectrum_class = (*l_iso)->name;
    out->spectrum_class_fem = (*l_fem)->name;
    return BK_OK;
}

/* Beyond full load every doubling of km asks for one group more, as from class to class. */
static size_t beyond_classes(double km)
{
    size_t steps = 0;
    while (km > 1 + 1e-9 && steps < 16) km /= 2, steps++;
    return steps;
}

/* M = T + L - 2 with T0 the first time class and L1 the first spectrum class: as places in their tables,
 * counted from 0, t + l - 2.  Left of the matrix the lightest group is enough; right of it none. */
static const bk_row *group_of(const bk_table *groups, size_t t, size_t l)
{
    const size_t i = t + l < 2 ? 0 : t + l - 2;
    return i < groups->n_rows ? &groups->rows[i] : NULL;
}

static size_t place_of(const bk_row *row)
{
    return (size_t)(row - row->table->rows);
}

static bk_status needed_group(const bk_hoist *hoist, bk_tables *tables, const bk_row *l_iso,
                              const bk_row *l_fem, bk_hoist_duty *out, bk_errors *errors)
{
    const bk_table *times, *groups;
    const bk_row *t;
    bk_status status = bk_tables_table(tables, "hoist-time-class", hoist->place, &times, errors);
    if (!status)
        status = bk_tables_table(tables, "hoist-group", hoist->place, &groups, errors);
    if (!status)
        status = class_of(times, "daily_to", BK_DIM_TIME, out->running_hours_per_day * HOUR_S, &t, errors);
    if (status)
        return status;
    out->time_class_iso = t->name;
    out->time_class_fem = bk_hoist_text(t, "fem");
    out->time_source = t->source;
    const size_t over = beyond_classes(out->spectrum_factor);
    const bk_row *iso = group_of(groups, place_of(t), place_of(l_iso) + over),
                 *fem = group_of(groups, place_of(t), place_of(l_fem) + over);
    out->group_needed_iso = iso ? iso->name : NULL;
    out->group_needed_fem = fem ? bk_hoist_text(fem, "fem") : NULL;
    out->no_group_is_enough = !iso || !fem;
    return BK_OK;
}

/* The lightest US class whose time and starts cover the work; its table holds for a mean effective
 * load factor that must not be passed. */
static bk_status us_class(const bk_hoist *hoist, bk_tables *tables, bk_hoist_duty *out, bk_errors *errors)
{
    const bk_table *us;
    bk_status status = bk_tables_table(tables, "hoist-us-duty", hoist->place, &us, errors);
    for (size_t i = 0; !status && i < us->n_rows && !out->us_class_needed; i++) {
        double cdf, starts, load;
        const bk_row *row = &us->rows[i];
        if ((status = bk_hoist_number(row, "cyclic_duration_factor", BK_DIM_NONE, &cdf, errors)) ||
            (status = bk_hoist_number(row, "starts_per_hour", BK_DIM_NONE, &starts, errors)) ||
            (status = bk_hoist_number(row, "mean_load", BK_DIM_NONE, &load, errors)))
            break;
        if (out->cyclic_duration_factor <= cdf && out->starts_per_hour <= starts &&
            out->mean_effective_load_factor <= load)
            out->us_class_needed = row->name;
    }
    return status;
}

/* One sentence on what the plan leaves open. */
static const char *what_is_missing(const bk_hoist *hoist, const bk_hoist_duty *out)
{
    const bk_duty *duty = &hoist->duty;
    if (isnan(duty->cycles_per_hour) || isnan(duty->mean_lift_m) || isnan(duty->hours_per_day))
        return "cycles_per_hour, mean_lift and hours_per_day give the running time; one is not stated";
    if (isnan(hoist->speed_m_s))
        return "the running time needs the hoist's speed, which is not stated";
    if (!hoist->group)
        return "the hoist's group is not stated: its life and its duty cannot be compared";
    if (isnan(out->full_load_hours))
        return "a US duty class has no theoretical life: the used share is not worked out";
    if (isnan(out->life_used))
        return "the used life needs a reading of the meter, or in_service";
    return NULL;
}

bk_status bk_hoist_duty_of(const bk_plan *plan, const bk_hoist *hoist, bk_tables *tables, bk_arena *arena,
                           bk_working *working, bk_hoist_duty *out, bk_errors *errors)
{
    *out = (bk_hoist_duty){.asked = hoist->duty.given,
                           .running_hours_per_day = NAN, .cyclic_duration_factor = NAN, .starts_per_hour = NAN,
                           .main_cdf = NAN, .creep_cdf = NAN, .main_starts = NAN, .creep_starts = NAN,
                           .allowed_cdf = NAN, .allowed_starts = NAN, .allowed_main_cdf = NAN,
                           .allowed_creep_cdf = NAN, .allowed_main_starts = NAN, .allowed_creep_starts = NAN,
                           .on_min_in_10 = NAN, .rest_per_run = NAN, .starts_per_running_hour = NAN,
                           .cubic_mean_k = NAN, .spectrum_factor = NAN, .mean_effective_load_factor = NAN,
                           .full_load_hours = NAN, .used_hours_fem = NAN, .used_hours_iso = NAN,
                           .life_used_fem = NAN, .life_used_iso = NAN, .life_used = NAN,
                           .factor_fem = NAN, .factor_iso = NAN, .hours_per_year = NAN, .hours_per_year_by_duty = NAN,
                           .years_to_80 = NAN, .years_to_90 = NAN, .years_to_100 = NAN,
                           .running_hours = NAN, .starts = NAN};
    if (!out->asked)
        return BK_OK;
    out->empty_return_assumed = !hoist->duty.empty_return_given;

    const bk_table *classes;
    const bk_row *l_iso, *l_fem;
    double group_cdf = NAN, group_starts = NAN, hook;
    bk_status status;
    if ((status = bk_tables_table(tables, "hoist-spectrum", hoist->place, &classes, errors)) ||
        (status = own_group(hoist, tables, out, &group_cdf, &group_starts, errors)) ||
        (status = allowed(plan, hoist, group_cdf, group_starts, working, out, errors)) ||
        (status = work(plan, hoist, working, out, errors)) ||
        (status = spectrum(plan, hoist, classes, working, &hook, &l_iso, &l_fem, out, errors)))
        return status;
    if (!isnan(out->running_hours_per_day) &&
        ((status = needed_group(hoist, tables, l_iso, l_fem, out, errors)) ||
         (status = us_class(hoist, tables, out, errors))))
        return status;
    if ((status = bk_hoist_life_of(plan, hoist, tables, arena, out->spectrum_factor, hook, working, out, errors)) ||
        (status = bk_hoist_intervals_of(hoist, tables, arena, out, errors)))
        return status;
    out->incomplete = what_is_missing(hoist, out);
    return BK_OK;
}
