/* checks: the list of checks, and the collecting of findings.
 *
 * Utilisation is demand over limit; what is at its limit to within the balance of a rig (1e-9) is on it, and
 * passes.  A finding without a limit is "not checked": it never passes.
 * Findings live in one arena; nothing is removed once added.
 */
#include "list.h"

#include <string.h>

bk_working *bk_findings_working(bk_findings *findings)
{
    if (!findings->record) return NULL;
    bk_working *working = bk_working_new(findings->arena);
    if (!working) findings->failed = true;
    return working;
}

void bk_findings_add(bk_findings *findings, bk_finding finding)
{
    if (finding.working && finding.working->failed) findings->failed = true;
    finding.checked = isfinite(finding.demand) && isfinite(finding.limit);
    if (!finding.checked) {
        finding.utilisation = NAN;
        finding.passes = false;
    } else if (finding.utilisation == 0) {
        if (finding.limit > 0)
            finding.utilisation = finding.demand / finding.limit;
        else
            finding.utilisation = finding.demand > finding.limit ? (double)INFINITY : 0;
        if (fabs(finding.utilisation - 1) < 1e-9) finding.utilisation = 1;
        finding.passes = finding.utilisation <= 1;
    }
    if (!isfinite(finding.nominal_demand)) finding.nominal_demand = finding.demand;
    bk_finding *slot = bk_arena_push(findings->arena, &findings->at, &findings->n, &findings->capacity,
                                     sizeof *findings->at);
    if (!slot) {
        findings->failed = true;
        return;
    }
    *slot = finding;
}

void bk_findings_assume(bk_findings *findings, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = bk_arena_vprintf(findings->arena, format, args);
    va_end(args);
    if (!text) {
        findings->failed = true;
        return;
    }
    for (size_t i = 0; i < findings->n_assumptions; i++)
        if (strcmp(findings->assumptions[i], text) == 0) return;
    const char **slot = bk_arena_push(findings->arena, &findings->assumptions, &findings->n_assumptions,
                                      &findings->assumptions_capacity, sizeof *findings->assumptions);
    if (!slot) {
        findings->failed = true;
        return;
    }
    *slot = text;
}

bk_status bk_checks_run(const bk_check_input *in, bk_findings *out, bk_errors *errors)
{
    static bk_status (*const list[])(const bk_check_input *, bk_findings *, bk_errors *) = {
        bk_check_lines,  bk_check_legs,      bk_check_joints,  bk_check_bodies,     bk_check_flexible, bk_check_beams,
        bk_check_hoists, bk_check_suspended, bk_check_runways, bk_check_tackles, bk_check_inspection,
    };
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        const bk_status status = list[i](in, out, errors);
        if (status != BK_OK) return status;
        if (out->failed)
            return bk_fail(errors, (bk_place){in->plan->file, 0, 0}, BK_E_NOMEM, "out of memory in the checks");
    }
    return BK_OK;
}
