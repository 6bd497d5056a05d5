/* module: what the drawing module hands to the loader.  Internal to the sheet room. */
#ifndef BK_SHEET_MODULE_H
#define BK_SHEET_MODULE_H

#include <becket/sheet.h>

#define BK_SHEET_MODULE_SYMBOL "bk_sheet_drawing"
typedef struct bk_sheet_module {
    const char *version; /* both sides must be of one build: they share structs */
    bk_status (*draw)(const bk_assessment *, const bk_sheet_options *, char **, size_t *, bk_errors *);
    bk_status (*draw_angle)(const bk_leg_question *, const bk_sheet_options *, char **, size_t *,
                            bk_errors *);
} bk_sheet_module;

#endif
