/* letters: text measured and broken into lines by pango.
 *
 * Positions are not rounded to pixels, so that a page measures the same at every size, and the language is
 * fixed, so that the user's locale changes nothing.  GLib ends the program when memory is out: nothing has
 * been written by then.
 */
#include "ink.h"

#include <fribidi.h>
#include <string.h>

#define LEADING 1.28 /* line to line, times the size */

/* A text in a face, and how it is set on one line. */
typedef struct words {
    const char *text;
    bk_face face;
    bk_set set;
} words;

static guint hash_words(gconstpointer key)
{
    const words *w = key;
    return g_str_hash(w->text) ^ ((guint)lround(w->face.size * 100) << 3) ^
           (guint)(2 * w->face.bold + w->face.italic);
}

static gboolean same_words(gconstpointer x, gconstpointer y)
{
    const words *a = x, *b = y;
    return a->face.size == b->face.size && a->face.bold == b->face.bold && a->face.italic == b->face.italic &&
           a->face.grey == b->face.grey && strcmp(a->text, b->text) == 0;
}

static PangoFontDescription *font_of(bk_face face)
{
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, BK_FAMILIES);
    pango_font_description_set_size(font, (int)lround(face.size * PANGO_SCALE));
    if (face.bold) pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
    if (face.italic) pango_font_description_set_style(font, PANGO_STYLE_ITALIC);
    return font;
}

bool bk_sheaf_open(bk_sheaf *paper, double width, double height)
{
    *paper = (bk_sheaf){.width = width, .height = height, .arena = bk_arena_new()};
    if (!paper->arena) return false;
    paper->fonts = pango_cairo_font_map_new();
    pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(paper->fonts), 72); /* a point is a unit */
    paper->context = pango_font_map_create_context(paper->fonts);
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(paper->context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(paper->context, FALSE);
    pango_context_set_language(paper->context, pango_language_from_string("en"));
    pango_context_set_base_dir(paper->context, PANGO_DIRECTION_LTR);
    paper->layouts = g_ptr_array_new_with_free_func(g_object_unref);
    paper->known = g_hash_table_new(hash_words, same_words);
    paper->whole = pango_attr_list_new();
    pango_attr_list_insert(paper->whole, pango_attr_insert_hyphens_new(FALSE));
    /* with no font at all pango would leave every text out without a word */
    PangoFontDescription *wanted = font_of((bk_face){.size = 8});
    PangoFont *font = pango_font_map_load_font(paper->fonts, paper->context, wanted);
    pango_font_description_free(wanted);
    if (font) g_object_unref(font);
    return font != NULL;
}

void bk_sheaf_close(bk_sheaf *paper)
{
    if (paper->known) g_hash_table_destroy(paper->known);
    if (paper->whole) pango_attr_list_unref(paper->whole);
    if (paper->layouts) g_ptr_array_free(paper->layouts, TRUE);
    if (paper->context) g_object_unref(paper->context);
    if (paper->fonts) g_object_unref(paper->fonts);
    bk_arena_free(paper->arena);
    *paper = (bk_sheaf){0};
}

/* ---- what may stand on a page ------------------------------------------------------------------ */

/* Controls, and characters that show a text in another order than it has or not at all. */
static bool unsafe(gunichar c)
{
    return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0xAD || c == 0x061C || (c >= 0x200B && c <= 0x200F) ||
           (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F) || c == 0xFEFF ||
           (c & 0xFFFE) == 0xFFFE || (c >= 0xFDD0 && c <= 0xFDEF);
}

/* End of the group that starts with a letter written from right to left: up to the last such letter before a
 * figure or a letter of the other direction. */
static const char *group_end(const char *at)
{
    const char *end = at;
    for (; *at; at = g_utf8_next_char(at)) {
        const FriBidiCharType type = fribidi_get_bidi_type(g_utf8_get_char(at));
        if (type == FRIBIDI_TYPE_LTR || FRIBIDI_IS_NUMBER(type)) break;
        if (FRIBIDI_IS_RTL(type) || (type == FRIBIDI_TYPE_NSM && end == at)) end = g_utf8_next_char(at);
    }
    return end;
}

static void add_safe(GString *out, const char *at, const char *end)
{
    for (; at < end; at = g_utf8_next_char(at)) {
        const gunichar c = g_utf8_get_char(at);
        if (c == '\n' || c == '\t')
            g_string_append_c(out, ' ');
        else if (unsafe(c))
            g_string_append_printf(out, "\\u%04x", (unsigned)c);
        else
            g_string_append_unichar(out, c);
    }
}

/* Beside words written from right to left a figure would be carried along ("6 t NAME" for "NAME 6 t"): each
 * group of such words is put between the isolates U+2068 and U+2069, and all else keeps its order. */
static char *made_safe(const char *raw)
{
    char *valid = g_utf8_make_valid(raw, -1);
    GString *out = g_string_sized_new(strlen(valid) + 8);
    for (const char *at = valid; *at;) {
        const char *end;
        if (FRIBIDI_IS_RTL(fribidi_get_bidi_type(g_utf8_get_char(at))) && !unsafe(g_utf8_get_char(at))) {
            end = group_end(at);
            g_string_append_unichar(out, 0x2068);
            add_safe(out, at, end);
            g_string_append_unichar(out, 0x2069);
        } else {
            end = g_utf8_next_char(at);
            add_safe(out, at, end);
        }
        at = end;
    }
    g_free(valid);
    return g_string_free(out, FALSE);
}

const char *bk_safe_text(bk_sheaf *paper, const char *text)
{
    if (!text) return NULL;
    char *safe = made_safe(text);
    const char *kept = bk_arena_strndup(paper->arena, safe, strlen(safe));
    g_free(safe);
    if (!kept) paper->failed = true;
    return kept;
}

/* ---- setting ----------------------------------------------------------------------------------- */

static PangoLayout *lay_out(bk_sheaf *paper, const char *text, bk_face face, double width)
{
    PangoLayout *layout = pango_layout_new(paper->context);
    PangoFontDescription *font = font_of(face);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_auto_dir(layout, FALSE);
    char *safe = made_safe(text);
    pango_layout_set_text(layout, safe, -1);
    g_free(safe);
    if (width > 0) {
        pango_layout_set_width(layout, (int)ceil(width * PANGO_SCALE));
        pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
        pango_layout_set_attributes(layout, paper->whole);
    }
    return layout;
}

/* The longest beginning of the text that takes no more than max_lines with an ellipsis behind it.  Cut here
 * and not by pango, so that the characters of a run are those that are seen. */
static PangoLayout *lay_out_cut(bk_sheaf *paper, const char *text, bk_face face, double width, int max_lines)
{
    enum { LONGEST = 2000 }; /* characters; no place on a sheet holds more */
    char *valid = g_utf8_make_valid(text, -1);
    long fits = 0, too_long = g_utf8_strlen(valid, -1);
    if (too_long > LONGEST) too_long = LONGEST;
    PangoLayout *best = NULL;
    while (too_long - fits > 1 || !best) {
        const long n = (fits + too_long) / 2;
        char *head = g_strndup(valid, (gsize)(g_utf8_offset_to_pointer(valid, n) - valid));
        g_strchomp(head);
        char *cut = g_strconcat(head, "\u2026", NULL);
        PangoLayout *layout = lay_out(paper, cut, face, width);
        g_free(head);
        g_free(cut);
        const bool good = pango_layout_get_line_count(layout) <= max_lines;
        if (good || (n == 0 && !best)) {
            if (best) g_object_unref(best);
            best = layout;
            fits = n;
        } else {
            g_object_unref(layout);
            too_long = n;
        }
    }
    g_free(valid);
    return best;
}

/* The lines of a layout, which the paper keeps. */
static bk_set lines_of(bk_sheaf *paper, PangoLayout *layout, bk_face face)
{
    bk_set set = {.leading = LEADING * face.size};
    g_ptr_array_add(paper->layouts, layout);
    const int n = pango_layout_get_line_count(layout);
    set.runs = BK_NEW(paper->arena, bk_run, (size_t)n);
    if (!set.runs) {
        paper->failed = true;
        return set;
    }
    for (int i = 0; i < n; i++) {
        PangoLayoutLine *line = pango_layout_get_line_readonly(layout, i);
        PangoRectangle logical;
        pango_layout_line_get_extents(line, NULL, &logical);
        bk_run *run = &set.runs[set.n++];
        *run = (bk_run){.line = line,
                        .text = pango_layout_get_text(layout) + line->start_index,
                        .bytes = (size_t)line->length,
                        .width = (double)logical.width / PANGO_SCALE,
                        .face = face};
        if (run->width > set.width) set.width = run->width;
    }
    return set;
}

/* On one line.  Most texts of a sheet come more than once, to be measured and to be drawn: they are set once.
 */
static bk_set on_one_line(bk_sheaf *paper, const char *text, bk_face face)
{
    const words *known = g_hash_table_lookup(paper->known, &(words){.text = text, .face = face});
    if (known) return known->set;
    const bk_set set = lines_of(paper, lay_out(paper, text, face, 0), face);
    words *fresh = BK_NEW(paper->arena, words, 1);
    const char *copy = bk_arena_strndup(paper->arena, text, strlen(text));
    if (!fresh || !copy) {
        paper->failed = true;
        return set;
    }
    *fresh = (words){copy, face, set};
    g_hash_table_add(paper->known, fresh);
    return set;
}

bk_set bk_set_text(bk_sheaf *paper, const char *text, bk_face face, double width, int max_lines)
{
    enum { CERTAINLY_BROKEN = 150 }; /* bytes; not worth setting on one line first */
    if (!text || !*text) return (bk_set){.leading = LEADING * face.size};
    if (width <= 0 || strlen(text) < CERTAINLY_BROKEN) {
        const bk_set set = on_one_line(paper, text, face);
        if (width <= 0 || set.width <= width) return set;
    }
    PangoLayout *layout = lay_out(paper, text, face, width);
    const bool cut = max_lines > 0 && pango_layout_get_line_count(layout) > max_lines;
    if (cut) {
        g_object_unref(layout);
        layout = lay_out_cut(paper, text, face, width, max_lines);
    }
    bk_set set = lines_of(paper, layout, face);
    set.cut = cut;
    return set;
}
