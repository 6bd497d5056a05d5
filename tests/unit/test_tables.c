/* The tables room alone: search, form, figures, rule sets.  Files are written to a folder of the test's own.
 */
#define _XOPEN_SOURCE 700 /* nftw, mkdtemp */
#include <becket/tables.h>

#include <check.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char home[64], user[96], shipped[96];
static bk_errors *errors;
static bk_tables *tables;

static int drop(const char *path, const struct stat *at, int kind, struct FTW *walk)
{
    (void)at, (void)kind, (void)walk;
    return remove(path);
}

static void setup(void)
{
    strcpy(home, "/tmp/becket-tables-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(home));
    snprintf(user, sizeof user, "%s/user", home);
    snprintf(shipped, sizeof shipped, "%s/shipped", home);
    ck_assert_int_eq(mkdir(user, 0700), 0);
    ck_assert_int_eq(mkdir(shipped, 0700), 0);
    errors = bk_errors_new();
    tables = bk_tables_new((const char *const[]){user, shipped}, 2, 1);
    ck_assert_ptr_nonnull(errors);
    ck_assert_ptr_nonnull(tables);
}

static void teardown(void)
{
    bk_tables_free(tables);
    bk_errors_free(errors);
    nftw(home, drop, 8, FTW_DEPTH | FTW_PHYS);
}

static const char *path_in(const char *dir, const char *name)
{
    static char path[200];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    return path;
}

static void put(const char *dir, const char *name, const char *text)
{
    FILE *stream = fopen(path_in(dir, name), "wb");
    ck_assert_ptr_nonnull(stream);
    fputs(text, stream);
    fclose(stream);
}

static void folder(const char *dir, const char *name)
{
    ck_assert_int_eq(mkdir(path_in(dir, name), 0700), 0);
}

static const bk_row *row(const char *ref)
{
    const bk_row *found = NULL;
    if (bk_tables_row(tables, ref, (bk_place){"plan.yaml", 7, 3}, &found, errors) != BK_OK) return NULL;
    ck_assert_ptr_nonnull(found);
    return found;
}

static const char *cell(const bk_row *r, const char *key)
{
    const bk_yaml *value = bk_yaml_get(r->map, key);
    return value ? value->text : NULL;
}

static bool told(bk_status status, const char *words)
{
    for (size_t i = 0; i < errors->n; i++)
        if (errors->at[i].status == status && strstr(errors->at[i].text, words)) return true;
    for (size_t i = 0; i < errors->n; i++) {
        char *text = bk_message_print(&errors->at[i]);
        fprintf(stderr, "told instead: %s\n", text);
        free(text);
    }
    return false;
}

static const char slings[] =
    "becket_table: 1\n"
    "title: Test slings\n"
    "source: test standard\n"
    "clause: table 9\n"
    "mark: memory\n"
    "columns: {size: name, diameter: mm, wll: t, colour: text, factor: number, mark: mark, source: source}\n"
    "notes: {wll: one leg}\n"
    "all: {what: chain sling, design_factor: 4, colour: none}\n"
    "rows:\n"
    "  - [7,   7,  1.5,  ~,   0.25, ~,        ~]\n"
    "  - [1/2, 13, 5.3,  red, ~,    computed, another]\n";

/* the key `colour` means nothing to a plan, so it may be a column but not stand under `all` */
static const char slings_good[] =
    "becket_table: 1\n"
    "title: Test slings\n"
    "source: test standard\n"
    "clause: table 9\n"
    "mark: memory\n"
    "columns: {size: name, diameter: mm, wll: t, colour: text, factor: number, mark: mark, source: source}\n"
    "notes: {wll: one leg}\n"
    "all: {what: chain sling, design_factor: 4, diameter: 30 mm}\n"
    "rows:\n"
    "  - [7,   7,  1.5,  ~,   0.25, ~,        ~]\n"
    "  - [1/2, ~,  5.3,  red, ~,    computed, another]\n";

START_TEST(a_row_carries_units_places_and_citation)
{
    put(shipped, "slings.yaml", slings_good);
    const bk_row *seven = row("slings/7");
    ck_assert_ptr_nonnull(seven);
    ck_assert_str_eq(seven->ref, "slings/7");
    ck_assert_str_eq(cell(seven, "wll"), "1.5 t");
    ck_assert_str_eq(cell(seven, "diameter"), "7 mm");
    ck_assert_str_eq(cell(seven, "factor"), "0.25");
    ck_assert_str_eq(cell(seven, "what"), "chain sling");
    ck_assert_ptr_null(cell(seven, "colour"));
    ck_assert_ptr_null(cell(seven, "mark"));
    ck_assert_str_eq(seven->source, "test standard, table 9");
    ck_assert_int_eq(seven->mark, BK_MARK_MEMORY);
    const bk_yaml *wll = bk_yaml_get(seven->map, "wll");
    ck_assert_int_eq(wll->place.line, 10);
    ck_assert_int_eq(wll->place.column, 15);
    ck_assert_ptr_nonnull(strstr(wll->place.file, "shipped/slings.yaml"));

    /* TABLE/ROW is split at the first slash only; a null cell leaves the value of `all` */
    const bk_row *half = row("slings/1/2");
    ck_assert_ptr_nonnull(half);
    ck_assert_str_eq(cell(half, "diameter"), "30 mm");
    ck_assert_str_eq(half->source, "another");
    ck_assert_int_eq(half->mark, BK_MARK_COMPUTED);

    const bk_table *t = half->table;
    ck_assert_str_eq(t->title, "Test slings");
    ck_assert_uint_eq(t->n_columns, 4);
    ck_assert_str_eq(t->columns[1].name, "wll");
    ck_assert_str_eq(t->columns[1].unit, "t");
    ck_assert_str_eq(t->columns[1].note, "one leg");
    ck_assert_str_eq(t->columns[2].unit, "");
    ck_assert(t->shipped);
    ck_assert_uint_eq(errors->n, 0);
}
END_TEST

START_TEST(a_digest_is_that_of_the_file)
{
    put(shipped, "abc.yaml",
        "becket_table: 1\ntitle: a\nsource: b\ncolumns: {n: name, wll: t}\nrows: [[x, 1]]\n");
    const bk_table *t;
    ck_assert_int_eq(bk_tables_table(tables, "abc", (bk_place){0}, &t, errors), BK_OK);
    /* by sha256sum of GNU coreutils */
    ck_assert_str_eq(t->digest, "9b63f703b9168b331a120ea7ab91767ae96e6d577684d813a7e37d7f2ddcfffe");
}
END_TEST

START_TEST(unknown_names_say_the_nearest)
{
    put(shipped, "slings.yaml", slings_good);
    put(shipped, "beams.yaml", "becket_table: 1\ntitle: Beams\nsource: test\nmark: published\n"
                               "columns: {size: name, wll: t}\nrows:\n  - [120, 1]\n  - [200, 2]\n  - [300, 3]\n");
    ck_assert_ptr_null(row("slingz/7"));
    ck_assert(told(BK_E_TABLE, "nearest \"slings\""));
    ck_assert_str_eq(errors->at[0].place.file, "plan.yaml");
    ck_assert_int_eq(errors->at[0].place.line, 7);
    ck_assert_ptr_null(row("slings/8"));
    ck_assert(told(BK_E_ROW, "no row \"8\" in table slings"));
    ck_assert_ptr_null(row("slings"));
    ck_assert(told(BK_E_ROW, "want a row of table slings, such as slings/7"));
    ck_assert_ptr_null(row("beams/210")); /* by size, not by spelling: 120 and 210 differ by one swap */
    ck_assert(told(BK_E_ROW, "nearest \"200\""));
}
END_TEST

START_TEST(a_users_table_comes_before_a_shipped_one)
{
    put(shipped, "slings.yaml", slings_good);
    put(user, "slings.yaml",
        "becket_table: 1\ntitle: ours\nsource: tag\ncolumns: {n: name, wll: kN}\nrows: [[7, 20]]\n");
    const bk_row *seven = row("slings/7");
    ck_assert_str_eq(cell(seven, "wll"), "20 kN");
    ck_assert(!seven->table->shipped);
    ck_assert_int_eq(seven->mark, BK_MARK_USER); /* none stated */
    ck_assert_ptr_null(row("slings/1/2"));       /* hidden as a whole */
}
END_TEST

START_TEST(a_users_table_may_extend_a_shipped_one)
{
    folder(shipped, "chain");
    put(shipped, "chain/slings.yaml", slings_good);
    put(user, "slings.yaml",
        "becket_table: 1\ntitle: ours\nsource: tag\nextends: slings\n"
        "columns: {n: name, wll: t, bag: text}\nrows: [[9, 2.5, x], [7, 1.4, x]]\n");
    const bk_row *seven = row("slings/7"), *half = row("slings/1/2"), *nine = row("slings/9");
    ck_assert_str_eq(cell(seven, "wll"), "1.4 t");
    ck_assert_str_eq(seven->source, "tag");
    ck_assert_str_eq(cell(nine, "wll"), "2.5 t");
    ck_assert_str_eq(cell(half, "wll"), "5.3 t");
    ck_assert(half->table->shipped); /* each row names the file it came from */
    ck_assert(!nine->table->shipped);
    const bk_table *t = nine->table;
    ck_assert_uint_eq(t->n_rows, 3);
    ck_assert_str_eq(t->rows[0].name, "7");
    ck_assert_str_eq(t->rows[2].name, "9");
    size_t n;
    const bk_table *const *used = bk_tables_used(tables, &n);
    ck_assert_uint_eq(n, 2);
    ck_assert(used[0]->shipped);
    ck_assert(!used[1]->shipped);
    ck_assert_uint_eq(t->n_columns, 5); /* wll, bag, then diameter, colour, factor */
    ck_assert_str_eq(t->columns[1].name, "bag");

    put(user, "other.yaml",
        "becket_table: 1\ntitle: o\nsource: tag\nextends: slings\ncolumns: {n: name, wll: t}\nrows: [[1, "
        "1]]\n");
    bk_tables_free(tables);
    tables = bk_tables_new((const char *const[]){user, shipped}, 2, 1);
    const bk_row *under = row("other/9");
    ck_assert_ptr_nonnull(under);
    ck_assert_str_eq(under->ref, "other/9");
}
END_TEST

START_TEST(a_circle_of_tables_is_refused)
{
    put(user, "a.yaml",
        "becket_table: 1\ntitle: a\nsource: s\nextends: b\ncolumns: {n: name, wll: t}\nrows: [[1, 1]]\n");
    put(user, "b.yaml",
        "becket_table: 1\ntitle: b\nsource: s\nextends: a\ncolumns: {n: name, wll: t}\nrows: [[1, 1]]\n");
    put(user, "c.yaml",
        "becket_table: 1\ntitle: c\nsource: s\nextends: c\ncolumns: {n: name, wll: t}\nrows: [[1, 1]]\n");
    ck_assert_ptr_null(row("a/1"));
    ck_assert(told(BK_E_REFERENCE, "a.yaml is being extended by this very table"));
    ck_assert_ptr_null(row("c/1"));
    ck_assert(told(BK_E_TABLE, "no table \"c\" after this one"));
}
END_TEST

START_TEST(a_table_is_read_once_and_its_mistakes_are_told_once)
{
    put(shipped, "bad.yaml",
        "becket_table: 1\ntitle: a\nsource: s\ncolumns: {n: name, wll: t}\nrows: [[1, x]]\n");
    put(shipped, "slings.yaml", slings_good);
    size_t n;
    bk_tables_used(tables, &n);
    ck_assert_uint_eq(n, 0);
    ck_assert_ptr_null(row("bad/1"));
    ck_assert_ptr_null(row("bad/1"));
    ck_assert_uint_eq(errors->n, 1);
    const bk_row *one = row("slings/7");
    put(shipped, "slings.yaml", "changed under our feet");
    ck_assert_ptr_eq(row("slings/7"), one);
    bk_tables_used(tables, &n);
    ck_assert_uint_eq(n, 1);
    bk_errors *later = bk_errors_new();
    const bk_row *none;
    ck_assert_int_eq(bk_tables_row(tables, "bad/1", (bk_place){0}, &none, later), BK_E_NUMBER);
    ck_assert_uint_eq(later->n, 1);
    bk_errors_free(later);
}
END_TEST

START_TEST(no_name_leads_out_of_the_directories)
{
    put(home, "secret.yaml", slings_good);
    put(shipped, "inner.yaml", slings_good);
    ck_assert_int_eq(symlink("../secret.yaml", path_in(user, "out.yaml")), 0);
    ck_assert_int_eq(symlink("inner.yaml", path_in(shipped, "alias.yaml")), 0);
    ck_assert_int_eq(symlink("nowhere.yaml", path_in(shipped, "dangling.yaml")), 0);
    ck_assert_int_eq(symlink(home, path_in(user, "folder")), 0);
    char absolute[128];
    snprintf(absolute, sizeof absolute, "%s/secret/7", home);
    const char *const names[] = {"../secret/7", "..",       "/",          "",         "./inner/7",
                                 absolute,      "secret/7", "dangling/7", ".hidden/7"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        ck_assert_ptr_null(row(names[i]));
    ck_assert_ptr_null(row("out/7"));
    ck_assert(told(BK_E_READ, "symbolic link that leads out of"));
    ck_assert_ptr_nonnull(row("alias/7")); /* a link that stays inside is an ordinary file */
}
END_TEST

START_TEST(a_plan_beside_the_tables_is_not_a_table)
{
    put(user, "slings.yaml", "becket: 1\ntitle: a plan that happens to be called slings\n");
    put(shipped, "slings.yaml", slings_good);
    ck_assert_ptr_nonnull(row("slings/7"));
    put(user, "mine.yaml", "title: forgot the first line\n");
    bk_tables_free(tables);
    tables = bk_tables_new((const char *const[]){user, shipped}, 2, 1);
    ck_assert_ptr_null(row("mine/7"));
    ck_assert(told(BK_E_TABLE, "has no line \"becket_table: 1\""));
}
END_TEST

START_TEST(two_files_of_one_name_in_one_directory_are_ambiguous)
{
    folder(shipped, "a");
    folder(shipped, "b");
    put(shipped, "a/slings.yaml", slings_good);
    put(shipped, "b/slings.yaml", slings_good);
    ck_assert_ptr_null(row("slings/7"));
    ck_assert(told(BK_E_AMBIGUOUS, "a/slings.yaml and"));
}
END_TEST

START_TEST(a_folder_that_is_no_shelf_counts_only_itself)
{
    folder(user, "deep");
    put(user, "deep/below.yaml", slings_good);
    put(user, "slings.yaml", slings_good);
    ck_assert_ptr_nonnull(row("below/7"));
    for (int i = 0; i < 2050; i++) {
        char name[40];
        snprintf(name, sizeof name, "deep/%d.txt", i);
        ck_assert_int_eq(symlink("below.yaml", path_in(user, name)), 0);
    }
    bk_tables_free(tables);
    tables = bk_tables_new((const char *const[]){user, shipped}, 2, 1);
    ck_assert_ptr_null(row("below/7"));
    ck_assert_ptr_nonnull(row("slings/7"));
}
END_TEST

START_TEST(the_list_is_sorted_and_has_no_plans_and_no_rules)
{
    folder(shipped, "rules");
    put(shipped, "rules/en.yaml", "becket_rules: 1\ntitle: t\nsource: s\nvalues: {a: 1}\n");
    put(shipped, "zinc.yaml", slings_good);
    put(shipped, "copper.yaml", slings_good);
    put(user, "zinc.yaml", slings_good);
    put(user, "plan.yaml", "becket: 1\n");
    const char *const *names;
    size_t n;
    ck_assert_int_eq(bk_tables_list(tables, &names, &n, errors), BK_OK);
    ck_assert_uint_eq(n, 2);
    ck_assert_str_eq(names[0], "copper");
    ck_assert_str_eq(names[1], "zinc");
    ck_assert_ptr_null(row("en/a")); /* a rule set is no table */
    ck_assert_int_eq(bk_tables_list_rules(tables, &names, &n, errors), BK_OK);
    ck_assert_uint_eq(n, 1);
    ck_assert_str_eq(names[0], "en");
}
END_TEST

/* ---- mistakes, each with its place ------------------------------------------------------------- */

#define HEAD "becket_table: 1\ntitle: T\nsource: S\n" /* 3 lines */
static const struct {
    const char *text;
    bk_status status;
    int line, column;
    const char *words;
} mistakes[] = {
    {"becket_table: 2\ntitle: T\nsource: S\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_VERSION, 1, 15,
     "want 1"},
    {"title: T\nsource: S\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_MISSING_KEY, 1, 1, "becket_table: 1"},
    {"becket_table: 1\ntitle: T\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_MISSING_KEY, 1, 1, "want source"},
    {"becket_table: 1\ntitle: T\nsource:\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_MISSING_KEY, 3, 8,
     "want source"},
    {"becket_table: 1\nsource: S\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_MISSING_KEY, 1, 1, "want title"},
    {HEAD "columns: {n: name}\nrows: [[a]]\ntitel: x\n", BK_E_UNKNOWN_KEY, 6, 1, "nearest \"title\""},
    {HEAD "mark: certain\ncolumns: {n: name}\nrows: [[a]]\n", BK_E_WORD, 4, 7, "want published"},
    {HEAD "rows: [[a]]\n", BK_E_MISSING_KEY, 1, 1, "want columns"},
    {HEAD "columns: [n]\nrows: [[a]]\n", BK_E_KIND, 4, 10, "want a map"},
    {HEAD "columns: {n: name}\n", BK_E_MISSING_KEY, 1, 1, "want rows"},
    {HEAD "columns: {n: name}\nrows: []\n", BK_E_KIND, 5, 7, "want rows"},
    {HEAD "columns: {n: text}\nrows: [[a]]\n", BK_E_TABLE_FORM, 4, 10, "exactly one that names the rows"},
    {HEAD "columns: {n: name, m: name}\nrows: [[a, b]]\n", BK_E_TABLE_FORM, 4, 10, "found 2"},
    {HEAD "columns: {n: name, wll: }\nrows: [[a, 1]]\n", BK_E_NO_UNIT, 4, 25, "column wll: want a unit"},
    {HEAD "columns: {n: name, wll: kg2}\nrows: [[a, 1]]\n", BK_E_UNIT, 4, 25, "want a unit of force"},
    {HEAD "columns: {n: name, wll: tonnne}\nrows: [[a, 1]]\n", BK_E_UNKNOWN_UNIT, 4, 25, "nearest is tonne"},
    {HEAD "columns: {n: name, wll: ton}\nrows: [[a, 1]]\n", BK_E_TON, 4, 25, "short_ton"},
    {HEAD "columns: {n: name, wll: number}\nrows: [[a, 1]]\n", BK_E_NO_UNIT, 4, 25, "want a unit of force"},
    {HEAD "columns: {n: name, wll: text}\nrows: [[a, 1]]\n", BK_E_UNIT, 4, 25, "want a unit of force"},
    {HEAD "columns: {n: name, fy_40: mm}\nrows: [[a, 1]]\n", BK_E_UNIT, 4, 27, "want a unit of stress"},
    {HEAD "columns: {n: name, a b: t}\nrows: [[a, 1]]\n", BK_E_TABLE_FORM, 4, 20, "letters, digits"},
    {HEAD "columns: {n: name, wll: t}\nnotes: {wlll: x}\nrows: [[a, 1]]\n", BK_E_REFERENCE, 5, 9,
     "no column \"wlll\""},
    {HEAD "columns: {n: name, wll: t}\nall: {waht: x}\nrows: [[a, 1]]\n", BK_E_UNKNOWN_KEY, 5, 7,
     "nearest \"what\""},
    {HEAD "columns: {n: name, wll: t}\nall: {stretch_at_wll: 3 mm}\nrows: [[a, 1]]\n", BK_E_UNIT, 5, 23,
     "found a length"},
    {HEAD "columns: {n: name, wll: t}\nall: {design_factor: 0}\nrows: [[a, 1]]\n", BK_E_VALUE, 5, 22,
     "above zero"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1]\n  - [b]\n", BK_E_TABLE_FORM, 7, 5,
     "want 2 cells, one for each column, found 1"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1, 2]\n", BK_E_TABLE_FORM, 6, 12, "found 3"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - {n: a}\n", BK_E_KIND, 6, 5, "want a row of 2 cells"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [~, 1]\n", BK_E_MISSING_KEY, 6, 6, "no name"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [\"\", 1]\n", BK_E_MISSING_KEY, 6, 6, "no name"},
    {HEAD "columns: {n: name, wll: tt}\nrows: [[a, 1]]\n", BK_E_UNKNOWN_UNIT, 4, 25, "nearest is t"},
    {HEAD "columns: {n: name, wll: tt}\nrows: [[\"\", 1]]\n", BK_E_MISSING_KEY, 5, 9, "no name"},
    {HEAD "columns: {n: name, wll: t}\nnotes: {wl: x}\nrows: [[a, 1]]\n", BK_E_REFERENCE, 5, 9, "nearest \"wll\""},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1]\n  - [b, 1]\n  - [a, 2]\n", BK_E_DUPLICATE, 8, 5,
     "in line 6"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1 t]\n", BK_E_NUMBER, 6, 9,
     "a number alone, the column says it is in t"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1,5]\n", BK_E_TABLE_FORM, 6, 11, "found 3"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 1e999]\n", BK_E_NUMBER, 6, 9, "wll"},
    {HEAD "columns: {n: name, wll: t}\nrows:\n  - [a, 0]\n", BK_E_VALUE, 6, 9, "above zero, found 0 t"},
    {HEAD "columns: {n: name, mass: kg}\nrows:\n  - [a, -2]\n", BK_E_VALUE, 6, 9, "not below zero"},
    {HEAD "columns: {n: name, wll: t, k: mark}\nrows:\n  - [a, 1, memry]\n", BK_E_WORD, 6, 12,
     "nearest \"memory\""},
    {HEAD
     "columns: {n: name, diameter: mm, wll: t}\nrows:\n  - [a, 16, 8]\n  - [b, 10, 3.15]\n  - [c, 13, 3]\n",
     BK_E_VALUE, 8, 13, "wll falls to 3 t where diameter rises to 13 mm: row \"b\" in line 7"},
    {HEAD "columns: {n: name, diameter: in, wll_4_leg_45: lb}\nrows:\n  - [a, 3/8, 900]\n  - [b, 1/2, 899]\n",
     BK_E_VALUE, 7, 14, "wll_4_leg_45 falls"},
    {HEAD "columns: {n: name, diameter: mm, wll: t}\nformula: {column: wll, of: diameter, power: 2, times: "
          "[200 MPa, 1.570796326794897], round: R40}\n"
          "rows:\n  - [8, 8, 2]\n  - [10, 10, 3.2]\n",
     BK_E_VALUE, 8, 14, "wll of row \"10\" is 3.2 t, but the table's formula gives 3.15 t"},
    {HEAD "columns: {n: name, diameter: mm, wll: t}\nformula: {column: wll, of: diameter, times: [200 "
          "MPa]}\nrows: [[8, 8, 2]]\n",
     BK_E_UNIT, 5, 10, "column wll holds a force"},
    {HEAD "columns: {n: name, wll: t}\nformula: {column: wll, of: wl, times: [2]}\nrows: [[8, 8]]\n",
     BK_E_REFERENCE, 5, 28, "there is no column \"wl\" with figures, nearest \"wll\""},
    {HEAD "columns: {n: name, wll: t}\nformula: {column: wll, of: wll}\nrows: [[8, 8]]\n", BK_E_MISSING_KEY,
     5, 10, "want times"},
    {HEAD
     "columns: {n: name, wll: t}\nformula: {column: wll, of: wll, times: [1], roundd: R40}\nrows: [[8, 8]]\n",
     BK_E_UNKNOWN_KEY, 5, 45, "nearest \"round\""},
    {HEAD
     "columns: {n: name, wll: t}\nformula: {column: wll, of: wll, times: [1], round: R20}\nrows: [[8, 8]]\n",
     BK_E_WORD, 5, 52, "want round: R40"},
    {HEAD
     "columns: {n: name, wll: t}\nformula: {column: wll, of: wll, times: [1], power: 7}\nrows: [[8, 8]]\n",
     BK_E_VALUE, 5, 52, "want power from 1 to 3"},
    {HEAD "columns: {n: name, wll: t}\nextends: nothing\nrows: [[8, 8]]\n", BK_E_TABLE, 5, 10,
     "no table \"nothing\""},
    {HEAD "columns: {n: name, wll: t, wll: kN}\nrows: [[8, 8, 8]]\n", BK_E_DUPLICATE, 4, 28, "wll"},
    {"[1, 2]\n", BK_E_TABLE_FORM, 1, 1, "want the keys"},
    {"becket_rules: 1\ntitle: T\nsource: S\nvalues: {a: {value: 60 dge}}\n", BK_E_UNKNOWN_UNIT, 4, 21,
     "nearest is deg"},
    {"becket_rules: 1\ntitle: T\nsource: S\nvalues: {a: {source: x}}\n", BK_E_MISSING_KEY, 4, 13,
     "want value"},
    {"becket_rules: 1\ntitle: T\nsource: S\nvalues: {a: -3}\n", BK_E_VALUE, 4, 13, "want no value below zero"},
    {"becket_rules: 1\ntitle: T\nsource: S\nvalues: {a: {value: 1, sorce: x}}\n", BK_E_UNKNOWN_KEY, 4, 24,
     "nearest \"source\""},
    {"becket_rules: 1\ntitle: T\nsource: S\nbands: {a: {of: angel, rows: [[0 deg, 1 deg, 1]]}}\n", BK_E_WORD,
     4, 17, "want of: angle"},
    {"becket_rules: 1\ntitle: T\nsource: S\nbands: {a: {of: angle, rows: [[0 deg, 45, 1]]}}\n", BK_E_NO_UNIT,
     4, 39, "angle"},
    {"becket_rules: 1\ntitle: T\nsource: S\nbands: {a: {of: angle, rows: [[0 deg, 45 deg, 1], [40 deg, 50 "
     "deg, 1]]}}\n",
     BK_E_VALUE, 4, 51, "do not overlap"},
    {"becket_rules: 1\ntitle: T\nsource: S\nbands: {a: {of: number, points: [[1, 1], [2, ~]]}}\n", BK_E_VALUE,
     4, 46, "wants a factor"},
    {"becket_rules: 1\ntitle: T\nsource: S\nbands: {a: {of: number, rows: [[1, 2, -1]]}}\n", BK_E_VALUE, 4,
     39, "not below zero"},
};

START_TEST(a_mistake_is_told_with_its_place)
{
    put(user, "mine.yaml", mistakes[_i].text);
    const bk_table *t;
    ck_assert_int_ne(bk_tables_check_file(tables, path_in(user, "mine.yaml"), &t, errors), BK_OK);
    ck_assert_ptr_null(t);
    ck_assert_msg(told(mistakes[_i].status, mistakes[_i].words), "no such message for %s", mistakes[_i].text);
    bool placed = false;
    for (size_t i = 0; i < errors->n; i++) {
        const bk_message *m = &errors->at[i];
        if (m->status == mistakes[_i].status && strstr(m->text, mistakes[_i].words))
            placed = placed || (m->place.line == mistakes[_i].line && m->place.column == mistakes[_i].column);
    }
    ck_assert_msg(placed, "not at %d:%d but %d:%d: %s", mistakes[_i].line, mistakes[_i].column,
                  errors->at[0].place.line, errors->at[0].place.column, mistakes[_i].text);
}
END_TEST

START_TEST(all_mistakes_of_a_table_are_told_in_one_run)
{
    put(user, "mine.yaml",
        "becket_table: 1\ntitle: T\ncolumns: {n: name, diameter: mm, wll: t}\nrows:\n"
        "  - [a, 10, x]\n  - [b, 12]\n  - [a, 13, 2]\nhue: red\n");
    const bk_table *t;
    bk_tables_check_file(tables, path_in(user, "mine.yaml"), &t, errors);
    ck_assert_uint_eq(errors->n, 5); /* no source, hue, x, two cells, twin */
}
END_TEST

START_TEST(a_flood_is_refused)
{
    FILE *stream = fopen(path_in(user, "flood.yaml"), "wb");
    ck_assert_ptr_nonnull(stream);
    fputs(HEAD "columns: {n: name", stream);
    for (int i = 0; i < 20000; i++)
        fprintf(stream, ", c%d: t", i);
    fputs("}\nall: {what: x", stream);
    for (int i = 0; i < 20000; i++)
        fprintf(stream, ", k%d: 1", i);
    fputs("}\nrows: [[a]]\n", stream);
    fclose(stream);
    const bk_table *t;
    ck_assert_int_eq(bk_tables_check_file(tables, path_in(user, "flood.yaml"), &t, errors), BK_E_TOO_LARGE);
    ck_assert_uint_eq(errors->n, 2);
}
END_TEST

START_TEST(a_key_under_all_must_mean_something)
{
    put(shipped, "slings.yaml", slings);
    ck_assert_ptr_null(row("slings/7"));
    ck_assert(told(BK_E_UNKNOWN_KEY, "all: unknown key \"colour\""));
}
END_TEST

START_TEST(a_good_table_of_ones_own_passes)
{
    put(user, "mine.yaml",
        "becket_table: 1\ntitle: Our slings\nsource: tag on the sling\ncolumns: {size: name, wll: "
        "t}\nrows:\n  - [A1, 2.0]\n");
    const bk_table *t;
    ck_assert_int_eq(bk_tables_check_file(tables, path_in(user, "mine.yaml"), &t, errors), BK_OK);
    ck_assert_str_eq(t->name, "mine");
    ck_assert_uint_eq(t->n_rows, 1);
    ck_assert(!t->shipped);
    /* ratings are compared within one kind: a fibre core may be rated below a thinner steel core */
    put(user, "ropes.yaml",
        HEAD "columns: {n: name, material: text, diameter: mm, wll: t}\nrows:\n"
             "  - [a, wire-rope-steel-core, 10, 1.15]\n  - [b, wire-rope-fibre-core, 11, 1.1]\n");
    ck_assert_int_eq(bk_tables_check_file(tables, path_in(user, "ropes.yaml"), &t, errors), BK_OK);
    ck_assert_int_eq(bk_tables_check_file(tables, path_in(user, "none.yaml"), &t, errors), BK_E_READ);
    ck_assert_int_eq(bk_tables_check_file(tables, user, &t, errors), BK_E_READ);
}
END_TEST

/* ---- rule sets --------------------------------------------------------------------------------- */

static const char base_rules[] =
    "becket_rules: 1\ntitle: Base\nsource: a standard\nmark: memory\n"
    "values:\n"
    "  angle.max: {value: 60 deg, source: clause 3, mark: published, note: n}\n"
    "  share: 2 %\n"
    "  word: {value: on the safe side}\n"
    "  reach: {value: 3/8 in}\n"
    "bands:\n"
    "  side: {of: angle, rows: [[0 deg, 5 deg, 1], [5 deg, 45 deg, 0.7], [45 deg, 90 deg, ~]]}\n"
    "  edge: {of: number, rows: [[0, 1, 0.5], [1, 2, 0.7], [2, ~, 1]]}\n"
    "  cold: {of: temperature, rows: [[~, 100 degC, 1]]}\n"
    "  bend: {of: number, points: [[1, 0.5], [3, 0.9], [3, 0.7], [5, 0.8]]}\n"
    "  heat: {of: temperature, points: [[0 degC, 1], [100 degC, 0.5]]}\n";

static const bk_rules *rules(const char *name)
{
    const bk_rules *set = NULL;
    bk_tables_rules(tables, name, (bk_place){0}, &set, errors);
    return set;
}

START_TEST(a_rule_has_a_value_a_source_and_a_mark)
{
    folder(shipped, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    const bk_rules *set = rules("base");
    ck_assert_ptr_nonnull(set);
    ck_assert_str_eq(set->name, "base");
    ck_assert_str_eq(set->table->name, "rules/base");
    ck_assert_str_eq(set->table->title, "Base");
    const bk_rule *angle = bk_rules_find(set, "angle.max");
    ck_assert_double_eq_tol(angle->value, BK_PI / 3, 1e-15);
    ck_assert_uint_eq(angle->dim, BK_DIM_ANGLE);
    ck_assert_str_eq(angle->source, "clause 3");
    ck_assert_int_eq(angle->mark, BK_MARK_PUBLISHED);
    const bk_rule *share = bk_rules_find(set, "share");
    ck_assert_double_eq_tol(share->value, 0.02, 1e-16);
    ck_assert_str_eq(share->source, "a standard");
    ck_assert_int_eq(share->mark, BK_MARK_MEMORY);
    ck_assert_double_eq_tol(bk_rules_find(set, "reach")->value, 0.009525, 1e-15);
    const bk_rule *word = bk_rules_find(set, "word");
    ck_assert(isnan(word->value));
    ck_assert_str_eq(word->text, "on the safe side");
    ck_assert_ptr_eq(bk_rules_number(set, "angle.max", BK_DIM_ANGLE), angle);
    ck_assert_ptr_eq(bk_rules_number(set, "share", BK_DIM_NONE), share);
    ck_assert_ptr_null(bk_rules_number(set, "angle.max", BK_DIM_NONE)); /* 60 degrees are not 1.05 of anything */
    ck_assert_ptr_null(bk_rules_number(set, "share", BK_DIM_ANGLE));
    ck_assert_ptr_null(bk_rules_number(set, "word", BK_DIM_NONE));
    ck_assert_ptr_null(bk_rules_find(set, "angle"));
    ck_assert_ptr_null(bk_rules_bands(set, "angle.max"));
    ck_assert_ptr_null(rules("bas"));
    ck_assert(told(BK_E_TABLE, "nearest \"base\""));
}
END_TEST

START_TEST(bands_take_the_lower_factor_on_a_boundary)
{
    folder(shipped, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    const bk_rules *set = rules("base");
    const bk_bands *side = bk_rules_bands(set, "side"), *edge = bk_rules_bands(set, "edge");
    const double deg = BK_PI / 180;
    ck_assert_double_eq(bk_bands_factor(side, 0), 1);
    ck_assert_double_eq(bk_bands_factor(side, 4.9 * deg), 1);
    ck_assert_double_eq(bk_bands_factor(side, 5 * deg), 0.7);
    ck_assert_double_eq(bk_bands_factor(side, 44.9 * deg), 0.7);
    ck_assert(isnan(bk_bands_factor(side, 45 * deg)));
    ck_assert(isnan(bk_bands_factor(side, 60 * deg)));
    ck_assert(isnan(bk_bands_factor(side, 91 * deg)));
    ck_assert(isnan(bk_bands_factor(side, NAN)));
    ck_assert_double_eq(bk_bands_factor(edge, 1e6), 1);
    ck_assert_double_eq(bk_bands_factor(edge, 2), 0.7);
    ck_assert_double_eq(bk_bands_factor(edge, -1e-12), 0.5); /* on the bound but for its last bits */
    const bk_bands *cold = bk_rules_bands(set, "cold");
    ck_assert_double_eq(bk_bands_factor(cold, 4), 1);
    ck_assert_double_eq(bk_bands_factor(cold, 373.15), 1);
    ck_assert(isnan(bk_bands_factor(cold, 373.2)));
}
END_TEST

START_TEST(a_curve_is_straight_between_its_points)
{
    folder(shipped, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    const bk_rules *set = rules("base");
    const bk_bands *bend = bk_rules_bands(set, "bend"), *heat = bk_rules_bands(set, "heat");
    ck_assert(bend->points);
    ck_assert_double_eq_tol(bk_bands_factor(bend, 1.5), 0.6, 1e-15);
    ck_assert_double_eq_tol(bk_bands_factor(bend, 3), 0.7, 1e-15); /* lower side of the jump */
    ck_assert_double_eq_tol(bk_bands_factor(bend, 4), 0.75, 1e-15);
    ck_assert_double_eq_tol(bk_bands_factor(bend, 70), 0.8, 1e-15);
    ck_assert(isnan(bk_bands_factor(bend, 0.9)));
    ck_assert_double_eq_tol(bk_bands_factor(heat, 273.15 + 37), 0.815, 1e-12);
    ck_assert(isnan(bk_bands_factor(heat, 400)));
}
END_TEST

START_TEST(a_rule_set_may_extend_another)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    put(user, "rules/works.yaml",
        "becket_rules: 1\ntitle: Works\nsource: works rule 12\nextends: base\n"
        "values: {angle.max: 45 deg}\nbands: {edge: {of: number, rows: [[1, ~, 1]]}}\n");
    const bk_rules *set = rules("works");
    ck_assert_ptr_nonnull(set);
    ck_assert_double_eq_tol(bk_rules_find(set, "angle.max")->value, BK_PI / 4, 1e-15);
    ck_assert_str_eq(bk_rules_find(set, "angle.max")->source, "works rule 12");
    ck_assert_double_eq_tol(bk_rules_find(set, "share")->value, 0.02, 1e-16);
    ck_assert_uint_eq(bk_rules_bands(set, "edge")->n, 1);
    ck_assert_uint_eq(bk_rules_bands(set, "side")->n, 3);
    ck_assert_uint_eq(set->n, 4);
    ck_assert_uint_eq(set->n_bands, 5);
}
END_TEST

START_TEST(a_rule_without_a_value_in_a_set_that_replaces_it)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    put(user, "rules/works.yaml",
        "becket_rules: 1\ntitle: Works\nsource: works rule 12\nextends: base\nvalues: {angle.max: {source: x}}\n");
    ck_assert_ptr_null(rules("works"));
    ck_assert(told(BK_E_MISSING_KEY, "angle.max: want value"));
    ck_assert_uint_eq(errors->n, 1);
}
END_TEST

/* Nothing asks for angle.mx: without a word the 60 degrees of the other set would stay in force. */
START_TEST(a_rule_that_no_set_knows_is_a_slip_of_the_pen)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    put(user, "rules/works.yaml",
        "becket_rules: 1\ntitle: Works\nsource: works rule 12\nextends: base\n"
        "values: {angle.mx: 45 deg, chemical.hemp: rots}\nbands: {sied: {of: angle, rows: [[0 deg, 9 deg, 1]]}}\n");
    const bk_rules *set = rules("works");
    ck_assert_ptr_nonnull(set);
    ck_assert_int_eq(bk_tables_hold_rules(tables, set, true, errors), BK_E_UNKNOWN_KEY);
    ck_assert(told(BK_E_UNKNOWN_KEY, "unknown rule \"angle.mx\", nearest \"angle.max\""));
    ck_assert(told(BK_E_UNKNOWN_KEY, "unknown rule \"sied\", nearest \"side\""));
    ck_assert_uint_eq(errors->n, 2);
    ck_assert_int_eq(errors->at[0].place.line, 5);
    ck_assert_int_eq(bk_tables_hold_rules(tables, rules("base"), true, errors), BK_OK);
}
END_TEST

/* A set that stands alone and leaves a rule out would make the check that asks for it fall silent. */
START_TEST(a_rule_set_of_its_own_has_what_every_shipped_one_has)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/one.yaml",
        "becket_rules: 1\ntitle: One\nsource: s\nabove_hook: upper\nvalues: {tilt: 5 deg, both: 3, mine: 1}\n");
    put(shipped, "rules/two.yaml", "becket_rules: 1\ntitle: Two\nsource: s\nabove_hook: upper\nvalues: {tilt: 5 deg, both: 3}\n");
    put(shipped, "rules/upper.yaml", "becket_rules: 1\ntitle: Upper\nsource: s\nvalues: {beam.E: 190 GPa}\n");
    put(user, "rules/works.yaml", "becket_rules: 1\ntitle: Works\nsource: s\nvalues: {tilt: 5 deg}\n");
    const bk_rules *set = NULL;
    ck_assert_int_eq(bk_tables_rig_rules(tables, "works", (bk_place){0}, &set, errors), BK_OK);
    ck_assert_int_eq(bk_tables_hold_rules(tables, set, false, errors), BK_E_RULE);
    ck_assert(told(BK_E_RULE, "lacks 1 rule that checks ask for, such as both"));
    ck_assert_int_eq(errors->at[0].place.line, 1);
    ck_assert_int_eq(bk_tables_hold_rules(tables, set, true, errors), BK_E_RULE);
    ck_assert(told(BK_E_RULE, "lacks 2 rules"));
    size_t n_used;
    (void)bk_tables_used(tables, &n_used);
    ck_assert_uint_eq(n_used, 1); /* looking for names is no use of a set */
}
END_TEST

/* 45 for 45 deg would be 45 radians: an angle that no leg exceeds. */
START_TEST(what_replaces_a_rule_is_of_its_kind)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml", base_rules);
    put(user, "rules/works.yaml",
        "becket_rules: 1\ntitle: Works\nsource: works rule 12\nextends: base\n"
        "values: {angle.max: 45, share: 3 mm, word: 2, new: 7}\n"
        "bands:\n  side: {of: number, rows: [[0, ~, 1]]}\n");
    ck_assert_ptr_null(rules("works"));
    ck_assert(told(BK_E_UNIT, "angle.max: want another angle in place of \"60 deg\", found \"45\""));
    ck_assert(told(BK_E_UNIT, "share: want another"));
    ck_assert(told(BK_E_UNIT, "word: want another word in place of \"on the safe side\", found \"2\""));
    ck_assert(told(BK_E_UNIT, "side: want bands by angle"));
    ck_assert_uint_eq(errors->n, 4);
    ck_assert_int_eq(errors->at[0].place.line, 5);
    ck_assert_int_eq(errors->at[0].place.column, 21);
}
END_TEST

/* The file above the hook: read for the whole set alone, behind what is stated below it, and taken over by `extends`. */
START_TEST(a_rule_set_goes_on_above_the_hook)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml",
        "becket_rules: 1\ntitle: Base\nsource: s\nabove_hook: upper\nvalues: {tilt: 5 deg, both: 3}\n");
    put(shipped, "rules/upper.yaml",
        "becket_rules: 1\ntitle: Upper\nsource: s\nvalues: {both: 4, beam.E: 190 GPa}\n"
        "bands: {spread: {of: number, rows: [[1, ~, 1]]}}\n");
    put(user, "rules/works.yaml",
        "becket_rules: 1\ntitle: Works\nsource: s\nextends: base\nvalues: {tilt: 7 deg}\n");
    const bk_rules *rig = NULL;
    size_t n_used;
    ck_assert_int_eq(bk_tables_rig_rules(tables, "works", (bk_place){0}, &rig, errors), BK_OK);
    ck_assert_ptr_null(bk_rules_find(rig, "beam.E"));
    bk_tables_used(tables, &n_used);
    ck_assert_uint_eq(n_used, 2);
    const bk_rules *set = rules("works");
    ck_assert_ptr_nonnull(set);
    ck_assert_double_eq_tol(bk_rules_find(set, "tilt")->value, 7 * BK_PI / 180, 1e-15);
    ck_assert_double_eq(bk_rules_find(set, "both")->value, 3);
    ck_assert_double_eq_tol(bk_rules_find(set, "beam.E")->value, 190e9, 1);
    ck_assert_ptr_nonnull(bk_rules_bands(set, "spread"));
    bk_tables_used(tables, &n_used);
    ck_assert_uint_eq(n_used, 3);
    ck_assert_ptr_eq(set, rules("works"));
    ck_assert_ptr_null(bk_rules_find(rig, "beam.E"));
}
END_TEST

/* A name that leads nowhere is told where it stands, and only when the whole is wanted. */
START_TEST(a_rule_set_above_the_hook_that_is_not_there)
{
    folder(shipped, "rules");
    put(shipped, "rules/base.yaml",
        "becket_rules: 1\ntitle: Base\nsource: s\nabove_hook: uper\nvalues: {tilt: 5 deg}\n");
    const bk_rules *set = NULL;
    ck_assert_int_eq(bk_tables_rig_rules(tables, "base", (bk_place){0}, &set, errors), BK_OK);
    ck_assert_int_eq(bk_tables_rules(tables, "base", (bk_place){0}, &set, errors), BK_E_TABLE);
    ck_assert_ptr_null(set);
    ck_assert_int_eq(errors->at[0].place.line, 4);
}
END_TEST

/* 210 for 210 GPa would be a beam of rubber, in whichever file the rule stands that it replaces. */
START_TEST(what_replaces_a_rule_above_the_hook_is_of_its_kind)
{
    folder(shipped, "rules");
    folder(user, "rules");
    put(shipped, "rules/base.yaml", "becket_rules: 1\ntitle: Base\nsource: s\nabove_hook: upper\nvalues: {tilt: 5 deg}\n");
    put(shipped, "rules/upper.yaml", "becket_rules: 1\ntitle: Upper\nsource: s\nvalues: {beam.E: 190 GPa}\n");
    put(user, "rules/works.yaml", "becket_rules: 1\ntitle: Works\nsource: s\nextends: base\nvalues: {beam.E: 210}\n");
    ck_assert_ptr_null(rules("works"));
    ck_assert(told(BK_E_UNIT, "beam.E: want another stress in place of \"190 GPa\", found \"210\""));
    ck_assert_int_eq(errors->at[0].place.line, 5);
    ck_assert_int_eq(errors->at[0].place.column, 18);
    ck_assert_ptr_null(rules("works"));
}
END_TEST

START_TEST(marks_are_read_as_they_are_printed)
{
    for (bk_mark mark = BK_MARK_PUBLISHED; mark <= BK_MARK_MEMORY; mark++) {
        bk_mark read;
        ck_assert(bk_mark_read(bk_mark_text(mark), &read));
        ck_assert_int_eq(read, mark);
    }
    bk_mark read;
    ck_assert(!bk_mark_read("certain", &read));
    ck_assert_str_eq(bk_mark_text(BK_MARK_PRACTICE), "common practice, no source");
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("tables");
    TCase *c = tcase_create("tables");
    tcase_add_checked_fixture(c, setup, teardown);
    tcase_set_timeout(c, 60); /* a busy disk */
    tcase_add_test(c, a_row_carries_units_places_and_citation);
    tcase_add_test(c, a_digest_is_that_of_the_file);
    tcase_add_test(c, unknown_names_say_the_nearest);
    tcase_add_test(c, a_users_table_comes_before_a_shipped_one);
    tcase_add_test(c, a_users_table_may_extend_a_shipped_one);
    tcase_add_test(c, a_circle_of_tables_is_refused);
    tcase_add_test(c, a_table_is_read_once_and_its_mistakes_are_told_once);
    tcase_add_test(c, no_name_leads_out_of_the_directories);
    tcase_add_test(c, a_plan_beside_the_tables_is_not_a_table);
    tcase_add_test(c, two_files_of_one_name_in_one_directory_are_ambiguous);
    tcase_add_test(c, a_folder_that_is_no_shelf_counts_only_itself);
    tcase_add_test(c, the_list_is_sorted_and_has_no_plans_and_no_rules);
    tcase_add_loop_test(c, a_mistake_is_told_with_its_place, 0, (int)(sizeof mistakes / sizeof *mistakes));
    tcase_add_test(c, all_mistakes_of_a_table_are_told_in_one_run);
    tcase_add_test(c, a_flood_is_refused);
    tcase_add_test(c, a_key_under_all_must_mean_something);
    tcase_add_test(c, a_good_table_of_ones_own_passes);
    tcase_add_test(c, a_rule_has_a_value_a_source_and_a_mark);
    tcase_add_test(c, bands_take_the_lower_factor_on_a_boundary);
    tcase_add_test(c, a_curve_is_straight_between_its_points);
    tcase_add_test(c, a_rule_set_may_extend_another);
    tcase_add_test(c, what_replaces_a_rule_is_of_its_kind);
    tcase_add_test(c, a_rule_without_a_value_in_a_set_that_replaces_it);
    tcase_add_test(c, a_rule_that_no_set_knows_is_a_slip_of_the_pen);
    tcase_add_test(c, a_rule_set_of_its_own_has_what_every_shipped_one_has);
    tcase_add_test(c, a_rule_set_goes_on_above_the_hook);
    tcase_add_test(c, a_rule_set_above_the_hook_that_is_not_there);
    tcase_add_test(c, what_replaces_a_rule_above_the_hook_is_of_its_kind);
    tcase_add_test(c, marks_are_read_as_they_are_printed);
    suite_add_tcase(suite, c);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
