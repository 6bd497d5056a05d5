/* json_print: a tree as text.  Internal to the report room. */
#ifndef BK_REPORT_JSON_PRINT_H
#define BK_REPORT_JSON_PRINT_H

#include <jansson.h>

/* Gives up its hold on the tree, which may be NULL.  Ends in a line break; the caller's, to be freed with free().
 * NULL without a tree or without memory. */
char *bk_json_print(json_t *tree);

#endif
