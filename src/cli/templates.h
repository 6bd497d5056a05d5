/* templates: plans to start from.  @name@ stands for a question's answer: a length as a number of metres, so that sums
 * can be made of it (@length*2/3@, @height+0.2@, @drop+height@), all else as it was typed. */
#ifndef BK_CLI_TEMPLATES_H
#define BK_CLI_TEMPLATES_H

#include <becket/quantity.h>

typedef struct cli_question {
    const char *name, *ask, *usual; /* usual: the answer of an empty line, and without --ask */
    bk_dim dim;                     /* BK_DIM_NONE with text set: any text */
    bool text, above_zero;
} cli_question;
typedef struct cli_template {
    const char *name, *text;
    const cli_question *questions; /* ends with a NULL name */
} cli_template;
extern const cli_template cli_templates[]; /* ends with a NULL name */

#endif
