/* would_pass: the smallest row of a table with which a failing check passes, and the largest load.
 *
 * Nothing is scaled: the plan's own text is read again with the row's name exchanged wherever it stands, or the plan is
 * solved again with every body heavier or lighter, and the same checks are asked.
 */
#include <becket/advice.h>

#include <stdlib.h>
#include <string.h>

#define ROWS_TRIED_MAX 60
#define WORK_MOST      4e9 /* as bk_envelope counts it */
#define LOAD_SURE      1e-5 /* the largest load is known to this share of itself */

/* Checks that a heavier load can fail, a lighter one pass. */
static bool grows_with_load(const char *check)
{
    static const char *const prefixes[] = {"line.wll",  "line.choker", "line.bend", "line.flexible_share",  "legs.",
                                           "ring.",     "body.wll",    "point.wll", "point.limit",          "anchor.",
                                           "runway.",   "beam.",       "hoist.rated_capacity", "hoist.multi_margin"};
    for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++)
        if (strncmp(check, prefixes[i], strlen(prefixes[i])) == 0) return true;
    return false;
}

/* ---- another row ------------------------------------------------------------------------------- */

/* Offset in the text of a place (lines and characters from 1); text_n when there is none. */
static size_t offset_of(const bk_plan *plan, bk_place place)
{
    size_t i = 0;
    for (int line = 1; line < place.line && i < plan->text_n; i++)
        if (plan->text[i] == '\n') line++;
    for (int column = 1; column < place.column && i < plan->text_n; column++) {
        i++;
        while (i < plan->text_n && ((unsigned char)plan->text[i] & 0xC0u) == 0x80u) i++;
    }
    return i;
}

/* The row's name at or shortly after a part's place ({part: TABLE/ROW, ...}); text_n when it is not there. */
static size_t find_ref(const bk_plan *plan, bk_place place, const char *ref)
{
    const size_t start = offset_of(plan, place), length = strlen(ref);
    for (size_t i = start; i + length <= plan->text_n && i < start + 400; i++)
        if (memcmp(plan->text + i, ref, length) == 0) return i;
    return plan->text_n;
}

/* The plan's text with every use of row `from` as a part exchanged for `to`; NULL when memory is out or when there is no
 * such use.  Free with free(). */
static char *exchanged(const bk_plan *plan, const char *from, const char *to, size_t *n)
{
    const size_t old = strlen(from), new = strlen(to);
    char *mark = calloc(plan->text_n + 1, 1); /* where a use begins */
    size_t uses = 0;
    for (size_t i = 0; mark && i < plan->n_parts; i++) {
        if (!plan->parts[i].ref || strcmp(plan->parts[i].ref, from) != 0) continue;
        const size_t at = find_ref(plan, plan->parts[i].place, from);
        if (at < plan->text_n && !mark[at]) mark[at] = 1, uses++;
    }
    char *text = uses ? malloc(plan->text_n + uses * new + 1) : NULL;
    *n = 0;
    for (size_t i = 0; text && i < plan->text_n;) {
        if (mark[i]) {
            memcpy(text + *n, to, new);
            *n += new;
            i += old;
        } else {
            text[(*n)++] = plan->text[i++];
        }
    }
    free(mark);
    return text;
}

static const bk_part *part_of_ref(const bk_plan *plan, const char *ref)
{
    for (size_t i = 0; i < plan->n_parts; i++)
        if (plan->parts[i].row && plan->parts[i].ref && strcmp(plan->parts[i].ref, ref) == 0) return &plan->parts[i];
    return NULL;
}

static double rating_of(const bk_row *row)
{
    const bk_yaml *wll = bk_yaml_get(row->map, "wll");
    bk_value value;
    char why[8];
    return wll && bk_quantity_read(wll->text, BK_DIM_FORCE, &value, why, sizeof why) == BK_OK ? value.v : (double)NAN;
}

/* The row of the table with the least rating above `above`; NULL when there is none. */
static const bk_row *next_row(const bk_table *table, double above)
{
    const bk_row *best = NULL;
    for (size_t i = 0; i < table->n_rows; i++) {
        const double rating = rating_of(&table->rows[i]);
        if (rating > above && (!best || rating < rating_of(best))) best = &table->rows[i];
    }
    return best;
}

/* Utilisation of the same check with another row in the plan; NaN when it fails or cannot be told. */
static bk_status try_row(bk_assessment *a, const bk_options *options, const bk_finding *finding, const char *ref,
                         double *utilisation)
{
    *utilisation = NAN;
    size_t n;
    char *text = exchanged(a->plan, finding->part, ref, &n);
    if (!text) return BK_OK;
    bk_plan *plan = NULL;
    bk_assessment *again = NULL;
    bk_options quiet = *options;
    quiet.record = false;
    bk_status status = bk_plan_parse(a->plan->file, text, n, a->tables, &plan, NULL);
    if (status == BK_OK) status = bk_assess_plan(plan, a->tables, &quiet, &again, NULL);
    for (size_t i = 0; status == BK_OK && i < again->findings->n; i++) {
        const bk_finding *f = &again->findings->at[i];
        if (strcmp(f->check, finding->check) != 0 || strcmp(f->item, finding->item) != 0) continue;
        /* the exchanged part's own finding, or one that speaks of the weakest of several */
        const bool same = f->part && strcmp(f->part, ref) == 0;
        if (!same && strncmp(f->check, "legs.", 5) != 0) continue;
        *utilisation = f->passes ? f->utilisation : (double)NAN;
        if (!f->passes) break;
    }
    bk_assessment_free(again);
    bk_plan_free(plan);
    free(text);
    return status == BK_E_NOMEM ? status : BK_OK;
}

/* A row costs a whole assessment: fewer are tried where that is long. */
static size_t tries_of(const bk_assessment *a)
{
    const double work = a->envelope ? a->envelope->work : 0;
    return work * ROWS_TRIED_MAX > WORK_MOST ? 1 + (size_t)(WORK_MOST / work) : ROWS_TRIED_MAX;
}

bk_status bk_advise_would_pass(bk_assessment *a, const bk_options *options, const bk_would_pass **out, size_t *n,
                               bk_errors *errors)
{
    *out = NULL;
    *n = 0;
    bk_would_pass *all = BK_NEW(a->arena, bk_would_pass, a->findings->n);
    if (!all) return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    size_t tried = 0;
    const size_t most = tries_of(a);
    for (size_t i = 0; i < a->findings->n; i++) {
        const bk_finding *f = &a->findings->at[i];
        if (!f->checked || f->passes || !f->part || !grows_with_load(f->check)) continue;
        const bk_part *part = part_of_ref(a->plan, f->part);
        if (!part) continue;
        bk_would_pass answer = {.finding = i, .utilisation = NAN};
        const bk_row *row = NULL;
        for (double above = part->wll_N; tried < most; tried++) {
            row = next_row(part->row->table, above);
            if (!row) break;
            above = rating_of(row);
            if (try_row(a, options, f, row->ref, &answer.utilisation) != BK_OK)
                return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
            if (isfinite(answer.utilisation)) {
                answer.ref = row->ref;
                break;
            }
        }
        if (answer.ref || !row) all[(*n)++] = answer; /* else rows are left untried, and nothing can be said */
    }
    *out = all;
    return BK_OK;
}

/* ---- the largest load -------------------------------------------------------------------------- */

/* Does that check fail with the load as planned? */
static bool fails_as_planned(const bk_assessment *a, const bk_finding *f)
{
    for (size_t i = 0; i < a->findings->n; i++) {
        const bk_finding *as_planned = &a->findings->at[i];
        if (as_planned->checked && !as_planned->passes && strcmp(as_planned->check, f->check) == 0 &&
            strcmp(as_planned->item, f->item) == 0 && strcmp(as_planned->what, f->what) == 0)
            return true;
    }
    return false;
}

/* The rig with every body's mass times a factor. */
typedef struct trial {
    bool carries;             /* no check fails, but those that no load mends, and it hangs as stably as before */
    double used;              /* of the hardest used of those checks; 0 where there is no answer */
    const char *check, *item; /* which that is */
} trial;

static size_t cases_that_fall(const bk_assessment *a)
{
    return a->envelope ? a->envelope->n_failed : 0;
}

static bk_status try_load(bk_assessment *a, const bk_options *options, bk_body *bodies, double factor, trial *out)
{
    bk_plan plan = *a->plan;
    for (size_t i = 0; i < plan.n_bodies; i++) {
        bodies[i] = a->plan->bodies[i];
        bodies[i].mass_kg.v *= factor;
        bodies[i].mass_kg.tol *= factor;
    }
    plan.bodies = bodies;
    bk_options quiet = *options;
    quiet.record = false;
    bk_assessment *again = NULL;
    const bk_status status = bk_assess_plan(&plan, a->tables, &quiet, &again, NULL);
    /* a case that no longer hangs stably is no load the rig may lift */
    *out = (trial){.carries = status == BK_OK && cases_that_fall(again) <= cases_that_fall(a)};
    const bk_finding *hardest = NULL;
    for (size_t i = 0; status == BK_OK && i < again->findings->n; i++) {
        const bk_finding *f = &again->findings->at[i];
        if (!f->checked || (!grows_with_load(f->check) && (f->passes || fails_as_planned(a, f)))) continue;
        if (!f->passes) out->carries = false;
        if (!hardest || f->utilisation > hardest->utilisation) hardest = f;
    }
    if (hardest) {
        out->used = hardest->utilisation;
        out->check = bk_arena_strndup(a->arena, hardest->check, strlen(hardest->check));
        out->item = bk_arena_strndup(a->arena, hardest->item, strlen(hardest->item));
    }
    const bool named = !hardest || (out->check && out->item);
    bk_assessment_free(again);
    return status == BK_E_NOMEM || !named ? BK_E_NOMEM : BK_OK;
}

/* The next factor between one that is carried and one that is not: where the hardest check would be all but used up if it
 * grew on in the straight line of the last two (from nothing, of the last); halfway where that leads outside. */
static double next_factor(double good, double bad, double factor, double used, double last_factor, double last_used)
{
    const double guess = factor + (1 - LOAD_SURE / 2 - used) * (factor - last_factor) / (used - last_used);
    if (guess > good && guess < bad) return guess;
    return good == 0 ? bad / 2 : isinf(bad) ? good * 32 : (good + bad) / 2;
}

bk_status bk_advise_largest_load(bk_assessment *a, const bk_options *options, bk_largest_load *out, bk_errors *errors)
{
    *out = (bk_largest_load){.factor = NAN, .mass_kg = NAN};
    if (!a->has_rig || a->plan->n_bodies == 0) return BK_OK;
    if (a->envelope && a->envelope->cut_short) { /* no load is known to be safe */
        out->check = "rig.tolerances";
        out->item = "rig";
        return BK_OK;
    }
    bk_body *bodies = BK_NEW(a->arena, bk_body, a->plan->n_bodies);
    if (!bodies) return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
    double hardest = 0;
    for (size_t i = 0; i < a->findings->n; i++) {
        const bk_finding *f = &a->findings->at[i];
        if (!f->checked || f->passes || grows_with_load(f->check) || f->utilisation <= hardest) continue;
        hardest = f->utilisation;
        out->anyway_check = f->check;
        out->anyway_item = f->item;
    }
    double good = 0, bad = INFINITY, factor = 1, last_factor = 0, last_used = 0;
    trial at_good = {0}, at_bad = {0};
    for (int i = 0; i < 60 && bad > good * (1 + LOAD_SURE) && at_good.used < 1 - LOAD_SURE && factor < 1e6 && factor > 1e-4; i++) {
        trial now;
        if (try_load(a, options, bodies, factor, &now) != BK_OK)
            return bk_fail(errors, (bk_place){a->plan->file, 0, 0}, BK_E_NOMEM, "out of memory");
        if (now.carries) good = factor, at_good = now;
        else bad = factor, at_bad = now;
        const double next = next_factor(good, bad, factor, now.used, last_factor, last_used);
        last_factor = factor, last_used = now.used;
        factor = next;
    }
    const bool used_up = at_good.used >= 1 - LOAD_SURE;
    if (used_up || isfinite(bad)) {
        out->check = used_up ? at_good.check : at_bad.check;
        out->item = used_up ? at_good.item : at_bad.item;
    }
    if (good == 0 || (isinf(bad) && !used_up)) return BK_OK; /* nothing passes, or nothing stops it */
    double mass = 0;
    for (size_t i = 0; i < a->plan->n_bodies; i++) mass += a->plan->bodies[i].mass_kg.v;
    out->factor = good;
    out->mass_kg = good * mass;
    return BK_OK;
}
