/* form: what tables and rule sets have in common: the head of the file, marks, citations, mistakes.
 *
 * Every mistake is noted with its line and column and reading goes on, so that one run names them all.
 */
#include "shelf.h"

#include <string.h>

static const struct {
    bk_mark mark;
    const char *text;
} marks[] = {
    {BK_MARK_PUBLISHED, "published"},
    {BK_MARK_COMPUTED, "computed"},
    {BK_MARK_PRACTICE, "common practice, no source"},
    {BK_MARK_USER, "user"},
    {BK_MARK_DEMO, "demo"},
    {BK_MARK_MEMORY, "memory"},
};
#define N_MARKS (sizeof marks / sizeof *marks)

const char *bk_mark_text(bk_mark mark)
{
    for (size_t i = 0; i < N_MARKS; i++)
        if (marks[i].mark == mark) return marks[i].text;
    return "unknown mark";
}

bool bk_mark_read(const char *text, bk_mark *mark)
{
    for (size_t i = 0; i < N_MARKS; i++)
        if (strcmp(text, marks[i].text) == 0) {
            *mark = marks[i].mark;
            return true;
        }
    return false;
}

void bk_form_fail(bk_form *form, bk_place place, bk_status status, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const char *text = bk_arena_vprintf(form->arena, format, args);
    va_end(args);
    if (!text) status = BK_E_NOMEM;
    bk_fail(form->errors, place, status, "%s", text ? text : "out of memory");
    if (!form->failed || status == BK_E_NOMEM) form->status = status;
    form->failed = true;
}

const char *bk_near_text(bk_arena *arena, const char *word, const char *const *known, size_t n_known)
{
    enum { FEW = 8 };
    const char *near = bk_nearest(word, known, n_known);
    const char *text = near ? bk_arena_printf(arena, ", nearest \"%s\"", near) : "";
    for (size_t i = 0; !near && n_known <= FEW && i < n_known && text; i++)
        text = bk_arena_printf(arena, "%s%s%s", text, i ? ", " : "; known: ", known[i]);
    return text ? text : "";
}

bool bk_form_is_null(const bk_yaml *node)
{
    return node->kind == BK_YAML_SCALAR && !node->quoted &&
           (!*node->text || strcmp(node->text, "~") == 0 || strcmp(node->text, "null") == 0);
}

const char *bk_form_text(bk_form *form, const bk_yaml *node, const char *what)
{
    if (node->kind != BK_YAML_SCALAR) {
        bk_form_fail(form, node->place, BK_E_KIND, "%s: want a text, found a %s", what,
                     node->kind == BK_YAML_LIST ? "list" : "map");
        return NULL;
    }
    return bk_form_is_null(node) ? NULL : node->text;
}

bool bk_form_mark(bk_form *form, const bk_yaml *node, bk_mark *mark)
{
    const char *text = bk_form_text(form, node, "mark");
    if (!text) return false;
    if (bk_mark_read(text, mark)) return true;
    const char *known[N_MARKS];
    for (size_t i = 0; i < N_MARKS; i++)
        known[i] = marks[i].text;
    const char *near = bk_nearest(text, known, N_MARKS);
    bk_form_fail(form, node->place, BK_E_WORD,
                 "mark: want published, computed, memory, demo, user or \"common practice, no source\", "
                 "found \"%s\"%s",
                 text, near ? bk_near_text(form->arena, text, known, N_MARKS) : "");
    return false;
}

void bk_form_keys(bk_form *form, const bk_yaml *map, const char *const *known, size_t n_known,
                  const char *where)
{
    for (size_t i = 0; i < map->n; i++) {
        bool found = false;
        for (size_t k = 0; k < n_known; k++)
            found = found || strcmp(map->pairs[i].key, known[k]) == 0;
        if (found) continue;
        bk_form_fail(form, map->pairs[i].place, BK_E_UNKNOWN_KEY, "%sunknown key \"%s\"%s", where, map->pairs[i].key,
                     bk_near_text(form->arena, map->pairs[i].key, known, n_known));
    }
}

static const char *head_text(bk_form *form, const bk_yaml *root, const char *key)
{
    const bk_yaml *node = bk_yaml_get(root, key);
    const char *text = node ? bk_form_text(form, node, key) : NULL;
    return text ? text : "";
}

void bk_form_head(bk_form *form, const bk_yaml *root, const char *version_key, const char *const *known,
                  size_t n_known, bk_table *table)
{
    if (root->kind != BK_YAML_MAP) {
        bk_form_fail(form, root->place, BK_E_TABLE_FORM, "want the keys %s, title, source, ...", version_key);
        return;
    }
    bk_form_keys(form, root, known, n_known, "");
    const bk_yaml *version = bk_yaml_get(root, version_key);
    if (!version)
        bk_form_fail(form, root->place, BK_E_MISSING_KEY, "want %s: 1 (version of the form)", version_key);
    else if (version->kind != BK_YAML_SCALAR || strcmp(version->text, "1") != 0)
        bk_form_fail(form, version->place, BK_E_VERSION, "%s: want 1, the only version there is",
                     version_key);

    table->title = head_text(form, root, "title");
    table->source = head_text(form, root, "source");
    table->edition = head_text(form, root, "edition");
    table->clause = head_text(form, root, "clause");
    table->note = head_text(form, root, "note");
    const bk_yaml *title = bk_yaml_get(root, "title"), *source = bk_yaml_get(root, "source");
    if (!*table->title)
        bk_form_fail(form, title ? title->place : root->place, BK_E_MISSING_KEY,
                     "want title: what these figures are");
    if (!*table->source)
        bk_form_fail(form, source ? source->place : root->place, BK_E_MISSING_KEY,
                     "want source: where the figures are from, if only the tag on the gear");
    table->mark = BK_MARK_USER;
    const bk_yaml *mark = bk_yaml_get(root, "mark");
    if (mark) bk_form_mark(form, mark, &table->mark);
}

const char *bk_form_citation(bk_form *form, const bk_table *table)
{
    if (!*table->clause) return table->source;
    const char *text = bk_arena_printf(form->arena, "%s, %s", table->source, table->clause);
    if (!text) bk_form_fail(form, (bk_place){0}, BK_E_NOMEM, "out of memory");
    return text ? text : table->source;
}

bk_yaml *bk_form_scalar(bk_form *form, const char *text, bk_place place)
{
    bk_yaml *node = text ? BK_NEW(form->arena, bk_yaml, 1) : NULL;
    if (!node) {
        bk_form_fail(form, place, BK_E_NOMEM, "out of memory");
        return NULL;
    }
    *node = (bk_yaml){.kind = BK_YAML_SCALAR, .place = place, .text = text, .weight = 1};
    return node;
}
