/* Memory runs out at the first allocation, at the second, and so on until the work succeeds: each time
 * the answer is BK_E_NOMEM (or NULL), nothing crashes and, under the address sanitizer, nothing leaks.
 * The linker sends the allocations of Becket's own code through here (--wrap); those of Check would
 * come along, so this program does without it. */
#include <becket/plan.h>
#include <becket/working.h>

#include "../rig_kit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);

static long left = -1; /* allocations until one fails; below 0: none does */

#define MUST(condition)                                                                                      \
    do {                                                                                                     \
        if (!(condition)) {                                                                                  \
            fprintf(stderr, "%s:%d: %s\n", __FILE__, __LINE__, #condition);                                  \
            exit(EXIT_FAILURE);                                                                              \
        }                                                                                                    \
    } while (0)

static bool fails(void)
{
    return left >= 0 && left-- == 0;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t n, size_t size)
{
    return fails() ? NULL : __real_calloc(n, size);
}

/* Does the work with the k-th allocation failing, k = 0, 1, ..., and returns how often it failed. */
static long until_it_works(bool (*work)(void))
{
    for (long k = 0; k < 10000; k++) {
        left = k;
        bool done = work();
        bool untouched = left >= 0; /* fewer than k allocations were asked for */
        left = -1;
        if (untouched) {
            MUST(done);
            return k;
        }
        MUST(!done); /* else the failure went by unnoticed */
    }
    return -1;
}

static bool read_plan(void)
{
    char text[40000];
    size_t n = 0;
    for (int i = 0; i < 700; i++) {
        static const char entry[] = "k000: &a000 [1 m, {b: \"x\"}]\n";
        memcpy(text + n, entry, sizeof entry);
        const char digits[] = {(char)('0' + i / 100), (char)('0' + i / 10 % 10), (char)('0' + i % 10)};
        memcpy(text + n + 1, digits, 3);
        if (i < 200)
            memcpy(text + n + 8, digits, 3);
        else
            memcpy(text + n + 5, "      ", 6);
        n += sizeof entry - 1;
    }
    bk_errors *errors = bk_errors_new();
    bk_arena *arena = bk_arena_new();
    const bk_yaml *root = NULL;
    bk_status status = BK_E_NOMEM;
    if (errors && arena) status = bk_yaml_read(arena, "plan.yaml", text, n, &root, errors);
    bool done = status == BK_OK;
    if (!done) MUST(status == BK_E_NOMEM);
    MUST(done == (root != NULL));
    bk_arena_free(arena);
    bk_errors_free(errors);
    return done;
}

static bool report_mistakes(void)
{
    char text[600];
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = 0;
    bk_errors *errors = bk_errors_new();
    if (!errors) return false;
    bool done = true;
    for (int i = 0; i < 60; i++) {
        const bk_place place = {"plan.yaml", i, 1};
        MUST(bk_fail(errors, place, BK_E_WORD, "%s %d", text, i) == BK_E_WORD);
        MUST(errors->first != BK_OK);
    }
    if (errors->n < 60) {
        MUST(errors->n + errors->dropped == 60);
        done = false;
    } else {
        char *line = bk_message_print(&errors->at[59]);
        done = line != NULL;
        free(line);
    }
    bk_errors_free(errors);
    return done;
}

static bool read_endless_device(void)
{
    bk_arena *arena = bk_arena_new();
    if (!arena) return false;
    const char *bytes;
    size_t n;
    bk_status status = bk_file_read(arena, "/dev/zero", 1000000, &bytes, &n, NULL);
    bk_arena_free(arena);
    MUST(status == BK_E_TOO_LARGE || status == BK_E_NOMEM);
    return status == BK_E_TOO_LARGE;
}

static bool show_working(void)
{
    bk_arena *arena = bk_arena_new();
    bk_working *w = arena ? bk_working_new(arena) : NULL;
    bool done = w != NULL;
    for (int i = 0; w && i < 400; i++)
        bk_working_add(w, "F", i ? "1.2 * F + F + F + F + F + F" : NULL, i, BK_DIM_FORCE, "given");
    done = done && !w->failed;
    for (size_t i = 1; done && i < 400; i++)
        done = bk_working_numbers(w, i, BK_SI) != NULL;
    bk_arena_free(arena);
    return done;
}

/* A plan with most of what a plan has, its tables among it. */
static bool read_rig(void)
{
    static const char text[] =
        "becket: 1\n"
        "bodies:\n"
        "  load:\n"
        "    points: {a: 0 0 1 m, b: {at: 1 0 1 m, part: {what: eyebolt, wll: 3 t}}}\n"
        "    mass_source: weighed\n"
        "    mass: 3 t\n"
        "    made_of: [{shape: box, size: 1 1 1 m, material: steel, at: 0 0 0 m}]\n"
        "rings: {top: {at: 0 0 3 m, part: chain/8}}\n"
        "anchors: {hook: {on: bay.t1}}\n"
        "lines:\n"
        "  drop: {from: hook, to: top, hoist: main}\n"
        "  one: {from: top, to: load.a, parts: [chain/10, {part: chain/8, length: 0.5 m}]}\n"
        "  two: {from: top, to: load.b}\n"
        "hoists:\n"
        "  main: {part: hoist/2t, duty: {loads: [{of_rated: 1, time: 1}], meter: {on_time: 3 h}}}\n"
        "runways:\n"
        "  bay:\n"
        "    section: beam/300\n"
        "    steel: steel/S1\n"
        "    ends: [0 m, 5 m]\n"
        "    supports: [0 m, 5 m]\n"
        "    trolleys: {t1: {travel: [0 m, 5 m], wheels: 4, wheel_base: 0.2 m}}\n"
        "wind: {speed: 3 m/s}\n";
    const char *dirs[] = {getenv("BECKET_FUZZ_TABLES")};
    MUST(dirs[0]);
    bk_errors *errors = bk_errors_new();
    bk_tables *tables = errors ? bk_tables_new(dirs, 1, 0) : NULL;
    bk_plan *plan = NULL;
    bool done = false;
    if (tables) {
        bk_status status = bk_plan_parse("plan.yaml", text, strlen(text), tables, &plan, errors);
        for (size_t i = 0; i < errors->n && status != BK_E_NOMEM; i++) fprintf(stderr, "%s\n", errors->at[i].text);
        MUST(status == BK_OK || status == BK_E_NOMEM);
        MUST((status == BK_OK) == (plan != NULL));
        done = status == BK_OK && bk_plan_end_name(plan, plan->lines[1].to);
    }
    bk_plan_free(plan);
    bk_tables_free(tables);
    bk_errors_free(errors);
    return done;
}

/* Mistakes by the dozen: every one is told, or memory is out; never a crash. */
static bool read_broken_rig(void)
{
    static char text[20000];
    size_t n = (size_t)snprintf(text, sizeof text, "becket: 1\nlines:\n");
    for (int i = 0; i < 20; i++) n += (size_t)snprintf(text + n, sizeof text - n, "  l%d: {from: a%d, t: b, parts: [chain/x%d]}\n", i, i, i);
    const char *dirs[] = {getenv("BECKET_FUZZ_TABLES")};
    bk_errors *errors = bk_errors_new();
    bk_tables *tables = errors ? bk_tables_new(dirs, 1, 0) : NULL;
    bk_plan *plan = NULL;
    bk_status status = tables ? bk_plan_parse("plan.yaml", text, n, tables, &plan, errors) : BK_E_NOMEM;
    MUST(status != BK_OK && !plan);
    bool done = status != BK_E_NOMEM && errors->dropped == 0;
    if (done) MUST(errors->n == 80); /* key, missing key, end and row of each */
    bk_tables_free(tables);
    bk_errors_free(errors);
    return done;
}

/* A shipped table with a formula, and a shipped rule set. */
static bool read_tables(void)
{
    const char *dir = getenv("BECKET_TABLES");
    MUST(dir);
    bk_tables *tables = bk_tables_new(&dir, 1, 0);
    bk_errors *errors = bk_errors_new();
    const bk_row *row = NULL;
    const bk_rules *rules = NULL;
    bk_status status = BK_E_NOMEM;
    if (tables && errors)
        status = bk_tables_row(tables, "chain-en818-4/10", (bk_place){0}, &row, errors);
    if (status == BK_OK)
        status = bk_tables_rules(tables, "en", (bk_place){0}, &rules, errors);
    bool done = status == BK_OK && row && rules;
    if (!done)
        MUST(status == BK_E_NOMEM);
    bk_errors_free(errors);
    bk_tables_free(tables);
    return done;
}

/* A load that leans and one that topples, each with tolerances and every line lost once. */
static kit *rig;

static bool hang_rig(void)
{
    bk_arena *arena = bk_arena_new();
    bk_hang *hang = arena ? bk_hang_new(arena, &rig->plan) : NULL;
    bk_statics *statics = bk_statics_new(&rig->plan);
    bk_envelope *envelope = NULL;
    bool done = hang && statics;
    if (done) {
        const bk_status status = bk_statics_solve(statics, NULL, NULL, hang);
        done = status == BK_E_UNSTABLE ? hang->why != NULL
                                       : status == BK_OK && bk_statics_prove(&rig->plan, NULL, hang, 3) == BK_OK &&
                                             bk_envelope_find(statics, &rig->plan, hang, arena, &envelope) == BK_OK;
    }
    bk_statics_free(statics);
    bk_arena_free(arena);
    return done;
}

static void hang_rigs(void)
{
    for (int below = 0; below < 2; below++) {
        rig = kit_new();
        const size_t load = kit_body(rig, "load", 900, bk_vec3_of(0, 0, below ? 0.7 : -0.4), bk_vec3_of(0, 0, 0));
        for (int i = 0; i < 30; i++) /* enough of them to outgrow a chunk of the arena */
            kit_line(rig, kit_anchor(rig, i - 14.5, 0, 3), kit_point(rig, load, i - 14.5, 0, 0), 1e7, 0);
        rig->bodies[load].mass_kg.tol = 30;
        rig->bodies[load].cog_m.tol = bk_vec3_of(0.2, 0, 0);
        rig->plan.lose_a_line = true;
        MUST(until_it_works(hang_rig) > 3);
        free(rig);
    }
}

int main(void)
{
    /* each outgrows the arena's first chunk, so that there is more than one allocation to fail */
    MUST(until_it_works(read_plan) > 5);
    MUST(until_it_works(report_mistakes) > 5);
    MUST(until_it_works(read_endless_device) > 3);
    MUST(until_it_works(show_working) > 5);
    MUST(until_it_works(read_tables) > 5);
    MUST(until_it_works(read_rig) > 10);
    MUST(until_it_works(read_broken_rig) > 10);
    hang_rigs();
    return EXIT_SUCCESS;
}
