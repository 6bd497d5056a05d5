/* json_print: jansson walks the tree, the text is kept here.  jansson's own json_dumps does not look at everything that
 * it writes: where memory runs out for a piece, it hands out a text without that piece.
 */
#include "json_print.h"
#include "layout.h"

static int keep(const char *bytes, size_t n, void *to)
{
    bk_text *text = to;
    if (fwrite(bytes, 1, n, text->stream) != n) text->failed = true;
    return text->failed ? -1 : 0;
}

char *bk_json_print(json_t *tree)
{
    bk_text text;
    if (!tree || !bk_text_open_raw(&text)) {
        json_decref(tree);
        return NULL;
    }
    if (json_dump_callback(tree, keep, &text, JSON_INDENT(2) | JSON_REAL_PRECISION(17)) != 0) text.failed = true;
    json_decref(tree);
    bk_text_put(&text, "\n");
    return bk_text_take(&text);
}
