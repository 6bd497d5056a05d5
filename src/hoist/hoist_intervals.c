/* hoist intervals: what is to be looked at, and when.
 *
 * Inspection rows that apply to a hoist, each regime on its own line; within a kind (each use, frequent,
 * periodic, assessment) the shortest is marked, for the tightest that applies wins.  Where a row is for
 * one severity of service only, it is left out for another; where the plan states none, severe counts.
 * Service rows follow: by running hours, starts or months, whichever comes first.
 * Limits: which regime binds is for the keeper to know; none is left out because of the rule set.
 */
#include "hoist_life.h"

#include "calendar.h"

#include <string.h>

static const double HOUR_S = 3600.0;

static bool is(const char *a, const char *b)
{
    return a && !strcmp(a, b);
}

/* The next multiple of every that lies above so far. */
static double next_after(double so_far, double every)
{
    return (floor(so_far / every) + 1) * every;
}

/* Mean months after a day, rounded down. */
static const char *months_after(bk_arena *arena, const char *date, double months)
{
    long day;
    if (!date || !(months > 0) || !bk_calendar_read(date, &day))
        return NULL;
    return bk_calendar_print(arena, day + (long)floor(months * BK_DAYS_PER_YEAR / 12));
}

static bk_status inspection(const bk_row *row, const bk_duty *duty, bk_arena *arena, bk_hoist_interval *out,
                            bool *applies, bk_errors *errors)
{
    const char *service = bk_hoist_text(row, "service");
    *applies = is(bk_hoist_text(row, "applies_to"), "hoist") &&
               (!service || is(service, duty->service ? duty->service : "severe"));
    if (!*applies)
        return BK_OK;
    const char *item = bk_hoist_text(row, "item"), *interval = bk_hoist_text(row, "interval");
    *out = (bk_hoist_interval){.regime = bk_hoist_text(row, "regime"), .kind = bk_hoist_text(row, "kind"),
                               .hours = NAN, .starts = NAN, .next_hours = NAN, .next_starts = NAN,
                               .source = row->source, .mark = row->mark};
    out->what = bk_arena_printf(arena, "%s%s%s, %s", item ? item : row->name, service ? ", " : "",
                                service ? service : "", interval ? interval : "as stated there");
    if (!out->what)
        return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "out of memory");
    const bk_status status = bk_hoist_number(row, "months", BK_DIM_NONE, &out->months, errors);
    /* the last inspection was a full one: it says nothing of the daily look, nor of the first day of service */
    if (is(out->kind, "periodic") || is(out->kind, "assessment"))
        out->due = months_after(arena, duty->inspected, out->months);
    return status;
}

static bk_status service(const bk_row *row, const bk_hoist_duty *duty, bk_arena *arena, bk_hoist_interval *out,
                         bk_errors *errors)
{
    const char *action = bk_hoist_text(row, "action");
    *out = (bk_hoist_interval){.kind = "service", .next_hours = NAN, .next_starts = NAN, .source = row->source,
                               .mark = row->mark};
    out->what = bk_arena_printf(arena, "%s%s%s", row->name, action ? ": " : "", action ? action : "");
    if (!out->what)
        return bk_fail(errors, (bk_place){0}, BK_E_NOMEM, "out of memory");
    bk_status status = bk_hoist_number(row, "running_time", BK_DIM_TIME, &out->hours, errors);
    if (!status)
        status = bk_hoist_number(row, "starts", BK_DIM_NONE, &out->starts, errors);
    if (!status)
        status = bk_hoist_number(row, "months", BK_DIM_NONE, &out->months, errors);
    out->hours /= HOUR_S;
    out->next_hours = next_after(duty->running_hours, out->hours);
    out->next_starts = next_after(duty->starts, out->starts);
    return status;
}

bk_status bk_hoist_intervals_of(const bk_hoist *hoist, bk_tables *tables, bk_arena *arena, bk_hoist_duty *out,
                                bk_errors *errors)
{
    const bk_table *inspections, *services;
    bk_status status = bk_tables_table(tables, "hoist-inspection", hoist->place, &inspections, errors);
    if (!status)
        status = bk_tables_table(tables, "hoist-service-demo", hoist->place, &services, errors);
    if (status)
        return status;
    bk_hoist_interval *at = BK_NEW(arena, bk_hoist_interval, inspections->n_rows + services->n_rows);
    if (!at)
        return bk_fail(errors, hoist->place, BK_E_NOMEM, "out of memory");
    size_t n = 0;
    for (size_t i = 0; !status && i < inspections->n_rows; i++) {
        bool applies;
        status = inspection(&inspections->rows[i], &hoist->duty, arena, &at[n], &applies, errors);
        n += applies;
    }
    for (size_t i = 0; i < n; i++) {
        bool tightest = !isnan(at[i].months);
        for (size_t j = 0; tightest && j < n; j++)
            tightest = !is(at[j].kind, at[i].kind ? at[i].kind : "") || !(at[j].months < at[i].months);
        at[i].tightest = tightest;
    }
    for (size_t i = 0; !status && i < services->n_rows; i++)
        status = service(&services->rows[i], out, arena, &at[n++], errors);
    out->intervals = at;
    out->n_intervals = n;
    return status;
}
