/* The load check from a program of your own: reads a plan, prints the verdict and the check that is used hardest.
 *
 *     cc assess.c -o assess $(pkg-config --cflags --libs becket)
 *     ./assess two-leg-bridle.yaml "$(pkg-config --variable=tablesdir becket)"
 *
 * Exit status as that of `becket check`.
 */
#include <becket/becket.h>

#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    if (argc != 3) {
        fprintf(stderr, "assess: want a plan and the folder of the tables\n");
        return 2;
    }
    const char *tables[] = {argv[2]};
    bk_errors *errors = bk_errors_new();
    bk_assessment *a = NULL;
    const bk_status status = bk_assess(argv[1], &(bk_options){.shipped_dirs = tables, .n_shipped_dirs = 1}, &a, errors);
    for (size_t i = 0; errors && i < errors->n; i++) {
        char *line = bk_message_print(&errors->at[i]);
        fprintf(stderr, "%s\n", line ? line : "out of memory");
        free(line);
    }
    int code = status == BK_E_UNHELD || status == BK_E_UNSTABLE || status == BK_E_NO_CONVERGE ? 3 : 2;
    if (status == BK_OK) {
        code = a->verdict == BK_VERDICT_PASS ? 0 : 1;
        printf("%s\n", bk_verdict_text(a->verdict));
        if (a->governing != BK_NONE) {
            const bk_finding *worst = &a->findings->at[a->governing];
            printf("%s %s: %.1f %% of its limit\n", worst->check, worst->item, 100 * worst->utilisation);
        }
    }
    bk_assessment_free(a);
    bk_errors_free(errors);
    return code;
}
