/* advice_text: pieces of advice that the load check prints among its own.  Internal to the report room. */
#ifndef BK_REPORT_ADVICE_TEXT_H
#define BK_REPORT_ADVICE_TEXT_H

#include "layout.h"

/* "chain-en818-4/13 ... would pass"; NULL when there is none for that finding. */
const char *bk_advice_of_finding(const bk_assessment *a, const bk_advice *advice, size_t finding);
void bk_advice_largest(bk_text *text, const bk_assessment *a, const bk_advice *advice);

void bk_advice_effects(bk_text *text, const bk_assessment *a, const bk_advice *advice);

#endif
