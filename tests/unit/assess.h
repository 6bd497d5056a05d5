/* A plan in a string, assessed; for tests of what a user would read. */
#ifndef BK_TEST_ASSESS_H
#define BK_TEST_ASSESS_H

#include <becket/advice.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct bench {
    bk_tables *tables;
    bk_plan *plan;
    bk_assessment *a;
    bk_errors *errors;
    bk_status status;
    bk_options options;
} bench;

static inline void bench_open(bench *b, const char *yaml)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    ck_assert_msg(dirs[0] != NULL, "BECKET_TABLES is not set");
    *b = (bench){.tables = bk_tables_new(dirs, 1, 0), .errors = bk_errors_new(), .options = {.record = true}};
    b->status = bk_plan_parse("test.yaml", yaml, strlen(yaml), b->tables, &b->plan, b->errors);
    if (b->status == BK_OK) b->status = bk_assess_plan(b->plan, b->tables, &b->options, &b->a, b->errors);
    for (size_t i = 0; i < b->errors->n; i++) {
        char *line = bk_message_print(&b->errors->at[i]);
        fprintf(stderr, "%s\n", line);
        free(line);
    }
}

static inline void bench_close(bench *b)
{
    bk_assessment_free(b->a);
    bk_plan_free(b->plan);
    bk_tables_free(b->tables);
    bk_errors_free(b->errors);
}

/* The finding of that check and item (and part, where not NULL); fails the test when there is none. */
static inline const bk_finding *bench_find(const bench *b, const char *check, const char *item, const char *part)
{
    ck_assert_int_eq(b->status, BK_OK);
    for (size_t i = 0; i < b->a->findings->n; i++) {
        const bk_finding *f = &b->a->findings->at[i];
        if (strcmp(f->check, check) == 0 && strcmp(f->item, item) == 0 && (!part || (f->part && strcmp(f->part, part) == 0)))
            return f;
    }
    ck_abort_msg("no finding %s %s", check, item);
    return NULL;
}

static inline bool bench_has(const bench *b, const char *check)
{
    for (size_t i = 0; i < b->a->findings->n; i++)
        if (strcmp(b->a->findings->at[i].check, check) == 0) return true;
    return false;
}

static inline bool bench_assumes(const bench *b, const char *words)
{
    for (size_t i = 0; i < b->a->findings->n_assumptions; i++)
        if (strstr(b->a->findings->assumptions[i], words)) return true;
    return false;
}

#define G 9.80665 /* m/s2, 3rd CGPM, 1901 */

#endif
