/* What hoists carry and put on lines and runways; for assessment.c. */
#ifndef BK_ASSESSMENT_LOADS_H
#define BK_ASSESSMENT_LOADS_H

#include <becket/assessment.h>

/* Forces and duty of every hoist, from what hangs on it. */
bk_status bk_loads_of_hoists(bk_assessment *a, bk_errors *errors);
/* line_dynamic and line_stalled of the checks (n_lines each, cleared). */
bk_status bk_loads_above_hooks(bk_assessment *a, double *dynamic, double *stalled);
/* The runway under what its trolleys carry as drawn, or at the worst of the plan's tolerances.  One dynamic factor serves
 * it: the greatest of its trolleys. */
bk_status bk_loads_on_runway(bk_assessment *a, size_t runway, bool worst, bk_runway_result *out, bk_errors *errors);
/* Do tolerances of the plan make what stands on a runway worse? */
bool bk_loads_worsen(const bk_assessment *a);

#endif
