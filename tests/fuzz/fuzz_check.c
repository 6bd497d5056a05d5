/* Any bytes as a plan, through the whole check: a refusal, or figures that prove themselves (whole_check.h).  Tables come
 * from the directory in BECKET_TABLES (the shipped ones). */
#include "whole_check.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const char *dirs[] = {getenv("BECKET_TABLES")};
    MUST(dirs[0]);
    /* names that a plan looks for in vain stay in the tables' arena: begun anew now and then */
    static bk_tables *tables;
    static unsigned runs;
    if (runs++ % 500 == 0) {
        bk_tables_free(tables);
        tables = bk_tables_new(dirs, 1, 0);
    }
    MUST(tables);
    bk_plan *plan = NULL;
    if (bk_plan_parse("f", (const char *)data, size, tables, &plan, NULL) == BK_OK) check_whole(plan, tables, size);
    bk_plan_free(plan);
    return 0;
}
