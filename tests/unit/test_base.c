/* base: arena, errors, files, YAML, turns. */
#include <becket/base.h>

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bk_arena *arena;
static bk_errors *errors;

static void set_up(void)
{
    arena = bk_arena_new();
    errors = bk_errors_new();
    ck_assert(arena && errors);
}

static void tear_down(void)
{
    bk_arena_free(arena);
    bk_errors_free(errors);
}

/* ---- arena -------------------------------------------------------------------------------------- */

START_TEST(arena_hands_out_zeroed_aligned_blocks)
{
    for (size_t i = 0; i < 2000; i++) {
        unsigned char *block = bk_arena_alloc(arena, i % 37, 3);
        ck_assert_ptr_nonnull(block);
        ck_assert_uint_eq((uintptr_t)block % sizeof(double), 0);
        for (size_t k = 0; k < i % 37 * 3; k++) {
            ck_assert_uint_eq(block[k], 0);
            block[k] = 0xAA;
        }
    }
    ck_assert_ptr_nonnull(bk_arena_alloc(arena, 1, 3 << 20));
    ck_assert_ptr_null(bk_arena_alloc(arena, SIZE_MAX / 2, 3));
    ck_assert_ptr_null(bk_arena_alloc(arena, 3, SIZE_MAX / 2));
    ck_assert_str_eq(bk_arena_strndup(arena, "abc\0def", 7), "abc");
    ck_assert_str_eq(bk_arena_strndup(arena, "abc", 2), "ab");
    ck_assert_str_eq(bk_arena_printf(arena, "%d-%s", 42, "x"), "42-x");
    bk_arena_free(NULL);
}
END_TEST

START_TEST(push_keeps_what_was_there)
{
    double *items = NULL;
    size_t n = 0, capacity = 0;
    for (int i = 0; i < 1000; i++) {
        double *item = bk_arena_push(arena, &items, &n, &capacity, sizeof *items);
        ck_assert_double_eq(*item, 0);
        *item = i;
    }
    ck_assert_uint_eq(n, 1000);
    for (int i = 0; i < 1000; i++)
        ck_assert_double_eq(items[i], i);
}
END_TEST

/* ---- errors ------------------------------------------------------------------------------------- */

START_TEST(message_has_place_number_and_text)
{
    ck_assert_int_eq(
        bk_fail(errors, (bk_place){"hall.yaml", 14, 11}, BK_E_UNIT, "want a force, got \"%s\"", "240 m"),
        BK_E_UNIT);
    bk_fail(errors, (bk_place){NULL, 0, 0}, BK_E_USAGE, "no plan");
    bk_fail(errors, (bk_place){"a\nb.yaml", 3, 0}, BK_E_YAML, "x");
    static const char *const want[] = {"hall.yaml:14:11: BK-132 want a force, got \"240 m\"",
                                       "BK-401 no plan", "a\\nb.yaml:3: BK-104 x"};
    for (size_t i = 0; i < 3; i++) {
        char *line = bk_message_print(&errors->at[i]);
        ck_assert_str_eq(line, want[i]);
        free(line);
    }
    ck_assert_int_eq(errors->first, BK_E_UNIT);
    ck_assert_int_eq(bk_fail(NULL, (bk_place){NULL, 0, 0}, BK_E_ROW, "nobody listens"), BK_E_ROW);
    ck_assert_str_eq(bk_status_text(BK_E_TON), "a bare ton is ambiguous");
    ck_assert_str_eq(bk_status_text((bk_status)999), "unknown status");
}
END_TEST

START_TEST(every_number_has_a_text_of_its_own)
{
    for (int number = 1; number < 1000; number++) {
        const char *text = bk_status_text((bk_status)number);
        ck_assert_uint_gt(strlen(text), 5);
        for (int other = 0; strcmp(text, "unknown status") != 0 && other < number; other++)
            ck_assert_str_ne(text, bk_status_text((bk_status)other));
    }
}
END_TEST

START_TEST(message_is_one_line_of_plain_text)
{
    static const struct {
        const char *text, *shown;
    } cases[] = {
        {"a\nb\tc\rd", "a\\nb\\tc\\x0dd"},
        {"\x1b[31mred", "\\x1b[31mred"},
        {"\x7f", "\\x7f"},
        {"\xC2\x9B"
         "31m",
         "\\u009b31m"}, /* C1 control sequence introducer */
        {"\xE2\x80\xAE"
         "evil",
         "\\u202eevil"},                                  /* right-to-left override */
        {"\xE2\x81\xA6x\xE2\x81\xA9", "\\u2066x\\u2069"}, /* isolates */
        {"\xE2\x80\xA8", "\\u2028"},                      /* line separator */
        {"\xFF\xC3", "\\xff\\xc3"},                       /* not UTF-8 */
        {"M\xC3\xBCnze \xC2\xB1 5 \xC2\xB0", "M\xC3\xBCnze \xC2\xB1 5 \xC2\xB0"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bk_fail(errors, (bk_place){NULL, 0, 0}, BK_E_WORD, "%s", cases[i].text);
        ck_assert_str_eq(errors->at[i].text, cases[i].shown);
    }
}
END_TEST

START_TEST(long_words_are_cut)
{
    char word[5001];
    memset(word, 'a', 5000);
    word[5000] = 0;
    bk_fail(errors, (bk_place){NULL, 0, 0}, BK_E_WORD, "no %s here", word);
    const char *text = errors->at[0].text;
    ck_assert_uint_eq(strlen(text), 3 + 80 + 3 + 5); /* "no ", the word, an ellipsis, " here" */
    ck_assert_ptr_nonnull(strstr(text, "aaa\xE2\x80\xA6 here"));
    for (size_t i = 1; i < 5000; i += 3)
        word[i] = ' ';
    bk_fail(errors, (bk_place){NULL, 0, 0}, BK_E_WORD, "%s", word);
    ck_assert_uint_lt(strlen(errors->at[1].text), 700);
}
END_TEST

START_TEST(errors_are_bounded_and_sorted)
{
    for (int i = 0; i < 250; i++)
        bk_fail(errors, (bk_place){i % 2 ? "b" : "a", 250 - i, i % 3}, BK_E_WORD, "%d", i);
    ck_assert_uint_eq(errors->n, BK_ERRORS_MAX);
    ck_assert_uint_eq(errors->dropped, 150);
    bk_fail(errors, (bk_place){"a", 1, 1}, BK_E_ROW, "past the bound");
    ck_assert_int_eq(errors->first, BK_E_WORD);
    bk_errors_sort(errors);
    for (size_t i = 1; i < errors->n; i++) {
        const bk_place *p = &errors->at[i - 1].place, *q = &errors->at[i].place;
        int order = strcmp(p->file, q->file);
        ck_assert(order < 0 || (order == 0 && p->line <= q->line));
    }
}
END_TEST

START_TEST(nearest_word)
{
    static const char *const known[] = {"mass", "cog", "points", "hoist", "hoisting_class", "length", "part", "parts"};
    const size_t n = sizeof known / sizeof *known;
    static const struct {
        const char *word, *near;
    } cases[] = {
        {"mas", "mass"},      {"MASS", "mass"},   {"msas", "mass"},     {"point", "points"},
        {"pionts", "points"}, {"hoits", "hoist"}, {"lenght", "length"}, {"hosting_clas", "hoisting_class"},
        {"gear", NULL},       {"x", NULL},        {"", NULL},           {"cg", "cog"},
        {"lnth", NULL},       {"parst", "parts"}, {"prat", "part"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const char *near = bk_nearest(cases[i].word, known, n);
        if (cases[i].near)
            ck_assert_msg(near && strcmp(near, cases[i].near) == 0, "%s: %s", cases[i].word,
                          near ? near : "none");
        else
            ck_assert_msg(!near, "%s: %s", cases[i].word, near);
    }
    char huge[1000];
    memset(huge, 'm', sizeof huge - 1);
    huge[sizeof huge - 1] = 0;
    const char *const long_known[] = {huge};
    ck_assert_ptr_null(bk_nearest(huge, known, n));
    ck_assert_ptr_null(bk_nearest("mass", long_known, 1));
}
END_TEST

/* ---- files -------------------------------------------------------------------------------------- */

START_TEST(files)
{
    char path[] = "/tmp/becket-test-XXXXXX";
    int fd = mkstemp(path);
    ck_assert_int_ge(fd, 0);
    ck_assert_int_eq(write(fd, "abc\0def", 7), 7);
    close(fd);
    const char *bytes;
    size_t n;
    ck_assert_int_eq(bk_file_read(arena, path, 7, &bytes, &n, errors), BK_OK);
    ck_assert_uint_eq(n, 7);
    ck_assert_mem_eq(bytes, "abc\0def", 8); /* and a NUL behind it */
    ck_assert_int_eq(bk_file_read(arena, path, 6, &bytes, &n, errors), BK_E_TOO_LARGE);
    ck_assert_str_eq(errors->at[0].place.file, path);
    unlink(path);
    ck_assert_int_eq(bk_file_read(arena, path, 6, &bytes, &n, errors), BK_E_READ);
    ck_assert_int_eq(bk_file_read(arena, "/", 6, &bytes, &n, errors), BK_E_READ);
    ck_assert_int_eq(bk_file_read(arena, "/dev/zero", 100000, &bytes, &n, errors), BK_E_TOO_LARGE);
    ck_assert_int_eq(bk_file_read(arena, "/dev/null", 100000, &bytes, &n, errors), BK_OK);
    ck_assert_uint_eq(n, 0);
}
END_TEST

START_TEST(fifo_and_standard_input)
{
    int ends[2];
    ck_assert_int_eq(pipe(ends), 0);
    ck_assert_int_eq(write(ends[1], "becket: 1\n", 10), 10);
    close(ends[1]);
    int saved = dup(STDIN_FILENO);
    ck_assert_int_eq(dup2(ends[0], STDIN_FILENO), STDIN_FILENO);
    close(ends[0]);
    const char *bytes;
    size_t n;
    bk_status status = bk_file_read(arena, "-", 100, &bytes, &n, errors);
    dup2(saved, STDIN_FILENO);
    close(saved);
    ck_assert_int_eq(status, BK_OK);
    ck_assert_uint_eq(n, 10);
    ck_assert_str_eq(bytes, "becket: 1\n");
}
END_TEST

START_TEST(reads_no_more_than_it_must)
{
    int ends[2];
    char path[64], rest[200];
    ck_assert_int_eq(pipe(ends), 0);
    memset(rest, 'x', sizeof rest);
    ck_assert_int_eq(write(ends[1], rest, 100), 100);
    close(ends[1]);
    snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
    const char *bytes;
    size_t n;
    ck_assert_int_eq(bk_file_read(arena, path, 10, &bytes, &n, errors), BK_E_TOO_LARGE);
    ck_assert_int_eq(read(ends[0], rest, sizeof rest), 89);
    close(ends[0]);
}
END_TEST

/* FIPS 180-2, appendix B.1: the SHA-256 of "abc" (memory). */
START_TEST(digest_of_abc)
{
    char hex[65];
    bk_digest("abc", 3, hex);
    ck_assert_str_eq(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}
END_TEST

/* ---- yaml --------------------------------------------------------------------------------------- */

static const bk_yaml *parse(const char *text)
{
    const bk_yaml *root = NULL;
    bk_status status = bk_yaml_read(arena, "plan.yaml", text, strlen(text), &root, errors);
    ck_assert_msg(status == BK_OK, "%d %s", (int)status, errors->n ? errors->at[0].text : "");
    return root;
}

static void refuse_bytes(const char *text, size_t n, bk_status wanted, int line, int column)
{
    bk_errors *own = bk_errors_new();
    const bk_yaml *root = (const bk_yaml *)1;
    bk_status status = bk_yaml_read(arena, "plan.yaml", text, n, &root, own);
    const bk_place place = own->n ? own->at[0].place : (bk_place){NULL, 0, 0};
    ck_assert_msg(status == wanted, "%.60s: want %d, got %d %s", text, (int)wanted, (int)status,
                  own->n ? own->at[0].text : "");
    ck_assert_ptr_null(root);
    ck_assert_int_eq(own->first, wanted);
    ck_assert_msg(place.line == line && place.column == column, "%.60s: %d:%d %s", text, place.line,
                  place.column, own->at[0].text);
    bk_errors_free(own);
}

static void refuse(const char *text, bk_status wanted, int line, int column)
{
    refuse_bytes(text, strlen(text), wanted, line, column);
}

START_TEST(yaml_tree_with_places)
{
    const bk_yaml *root = parse("\xEF\xBB\xBF"
                                "becket: 1\n"
                                "m\xC3\xBC: {a: '1', b: [x, \"y\", !!str z]}\n"
                                "long: >\n  folded\n  text\n"
                                "none:\n");
    ck_assert_int_eq(root->kind, BK_YAML_MAP);
    ck_assert_uint_eq(root->n, 4);
    ck_assert_uint_eq(root->weight, 1 + 1 + (1 + 1 + (1 + 3)) + 1 + 1);
    const bk_yaml *becket = bk_yaml_get(root, "becket");
    ck_assert_str_eq(becket->text, "1");
    ck_assert(!becket->quoted);
    ck_assert_int_eq(becket->place.line, 1);
    ck_assert_int_eq(becket->place.column, 9);
    ck_assert_int_eq(root->pairs[1].place.line, 2);
    ck_assert_int_eq(root->pairs[1].place.column, 1);
    const bk_yaml *m = bk_yaml_get(root, "m\xC3\xBC");
    ck_assert_int_eq(m->place.column, 5); /* characters, not bytes */
    ck_assert(bk_yaml_get(m, "a")->quoted);
    const bk_yaml *b = bk_yaml_get(m, "b");
    ck_assert_int_eq(b->kind, BK_YAML_LIST);
    ck_assert_uint_eq(b->n, 3);
    ck_assert_int_eq(b->items[1]->place.column, 21);
    ck_assert(!b->items[0]->quoted && b->items[1]->quoted && b->items[2]->quoted);
    ck_assert(bk_yaml_get(root, "long")->quoted);
    ck_assert_str_eq(bk_yaml_get(root, "long")->text, "folded text\n");
    ck_assert_str_eq(bk_yaml_get(root, "none")->text, "");
    ck_assert_ptr_null(bk_yaml_get(root, "absent"));
    ck_assert_ptr_null(bk_yaml_get(becket, "absent"));
    ck_assert_ptr_null(bk_yaml_get(NULL, "absent"));
}
END_TEST

START_TEST(yaml_aliases_share)
{
    const bk_yaml *root = parse("a: &x [1, 2]\nb: *x\nc: &x 7\nd: *x\n");
    ck_assert_ptr_eq(bk_yaml_get(root, "a"), bk_yaml_get(root, "b"));
    ck_assert_str_eq(bk_yaml_get(root, "d")->text, "7");
    ck_assert_uint_eq(root->weight, 1 + 3 + 3 + 1 + 1);
    refuse("a: *x\n", BK_E_ALIAS, 1, 4);
    refuse("a: &x [1, *x]\n", BK_E_ALIAS, 1, 11);
    refuse("a: &x {b: {c: *x}}\n", BK_E_ALIAS, 1, 15);
}
END_TEST

START_TEST(yaml_duplicates_all_reported)
{
    static const char text[] = "a: 1\nb: {c: 1, c: 2, d: 3, c: 4}\na: 2\nb: 3\n";
    const bk_yaml *root;
    ck_assert_int_eq(bk_yaml_read(arena, "p", text, strlen(text), &root, errors), BK_E_DUPLICATE);
    ck_assert_str_eq(bk_yaml_get(root, "b")->pairs[2].key, "d"); /* the tree is there for other mistakes */
    bk_errors_sort(errors);
    ck_assert_uint_eq(errors->n, 4);
    static const int places[][2] = {{2, 11}, {2, 23}, {3, 1}, {4, 1}};
    for (size_t i = 0; i < 4; i++) {
        ck_assert_int_eq(errors->at[i].place.line, places[i][0]);
        ck_assert_int_eq(errors->at[i].place.column, places[i][1]);
    }
    ck_assert_ptr_nonnull(strstr(errors->at[2].text, "\"a\""));
    ck_assert_ptr_nonnull(strstr(errors->at[2].text, "line 1"));
}
END_TEST

START_TEST(yaml_refusals)
{
    refuse("", BK_E_YAML, 1, 1);
    refuse("# nothing\n", BK_E_YAML, 1, 1);
    refuse("---\n", BK_E_YAML, 1, 1);
    refuse("a: 1\n---\nb: 2\n", BK_E_YAML, 2, 1);
    refuse("a: 1\n b: 2\n", BK_E_YAML, 2, 3);
    refuse("a: [1, 2\n", BK_E_YAML, 2, 1);
    refuse("a: 'x\n", BK_E_YAML, 2, 1);
    refuse("a:\n\t- b\n", BK_E_YAML, 2, 1);
    refuse("[a]: b\n", BK_E_YAML, 1, 1);
    refuse("{a: b}: c\n", BK_E_YAML, 1, 1);
    refuse("a: &x b\n*x : c\n", BK_E_YAML, 2, 1);
    refuse("&x a: b\n", BK_E_YAML, 1, 1);
    refuse("<<: b\n", BK_E_YAML, 1, 1);
    refuse(": b\n", BK_E_YAML, 1, 1);
    refuse("a: !!set {b: c}\n", BK_E_YAML, 1, 4);
    refuse("a: !!int 3\n", BK_E_YAML, 1, 4);
    refuse("a: !other b\n", BK_E_YAML, 1, 4);
    refuse("%OTHER x\n---\na: b\n", BK_E_YAML, 1, 7);
    refuse("%TAG !e! x\n---\na: b\n", BK_E_YAML, 1, 1);
    refuse("a: \"x\\0y\"\n", BK_E_ENCODING, 1, 4);
    refuse("a: \"\\e[31m\"\n", BK_E_ENCODING, 1, 4);
    refuse_bytes("a: 1\nb: x\0y\n", 12, BK_E_ENCODING, 2, 5);
    refuse("a: \xC3\xBC\xFF\n", BK_E_ENCODING, 1, 5);
    refuse("a: \xC0\x80\n", BK_E_ENCODING, 1, 4);     /* overlong NUL */
    refuse("a: \xED\xA0\x80\n", BK_E_ENCODING, 1, 4); /* surrogate */
    refuse("a: \xF4\x90\x80\x80\n", BK_E_ENCODING, 1, 4);
    refuse("a: \xE2\x82", BK_E_ENCODING, 1, 4); /* cut off */
    refuse("a: \x1b[31m\n", BK_E_ENCODING, 1, 4);
    refuse_bytes("\xFF\xFE"
                 "a\0:\0",
                 6, BK_E_ENCODING, 1, 1); /* UTF-16 */
}
END_TEST

START_TEST(yaml_messages_are_ours)
{
    const bk_yaml *root;
    static const char text[] = "title: a: b\n";
    bk_yaml_read(arena, "p", text, strlen(text), &root, errors);
    ck_assert_ptr_nonnull(strstr(errors->at[0].text, "quotes"));
}
END_TEST

START_TEST(yaml_bounds)
{
    char *text = malloc(6u << 20);
    memset(text, '[', 20000);
    refuse_bytes(text, 20000, BK_E_TOO_LARGE, 1, 33);
    for (size_t i = 0; i < 20000; i++)
        memcpy(text + 4 * i, "{a: ", 4);
    refuse_bytes(text, 80000, BK_E_TOO_LARGE, 1, 129);
    for (size_t i = 0; i < 20000; i++)
        memcpy(text + 2 * i, "- ", 2);
    refuse_bytes(text, 40000, BK_E_TOO_LARGE, 1, 65);

    size_t n = (size_t)sprintf(text, "a0: &a0 [x,x,x,x,x,x,x,x,x,x]\n");
    for (int i = 1; i < 20; i++)
        n += (size_t)sprintf(text + n, "a%d: &a%d [*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d,*a%d]\n", i,
                             i, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1, i - 1);
    bk_errors *own = bk_errors_new();
    const bk_yaml *root;
    ck_assert_int_eq(bk_yaml_read(arena, "p", text, n, &root, own), BK_E_ALIAS);
    ck_assert_int_eq(own->at[0].place.line, 6);
    bk_errors_free(own);

    text[0] = '[';
    for (size_t i = 0; i < 1000000; i++)
        memcpy(text + 1 + 2 * i, "x,", 2);
    refuse_bytes(text, 2000001, BK_E_TOO_LARGE, 1, 2 + 2 * 199999);
    memset(text, ' ', 6u << 20);
    refuse_bytes(text, BK_YAML_MAX_BYTES + 1, BK_E_TOO_LARGE, 0, 0);
    free(text);
}
END_TEST

/* ---- vectors and turns -------------------------------------------------------------------------- */

START_TEST(turns)
{
    /* a quarter turn about z brings x to y */
    bk_vec3 y = bk_quat_turn(bk_quat_exp(bk_vec3_of(0, 0, BK_PI / 2)), bk_vec3_of(2.5, 0, 0.3));
    ck_assert_double_eq_tol(y.x, 0, 1e-15);
    ck_assert_double_eq_tol(y.y, 2.5, 1e-15);
    ck_assert_double_eq_tol(y.z, 0.3, 1e-15);
    /* first about z, then about x: x to y to z */
    bk_quat both =
        bk_quat_mul(bk_quat_exp(bk_vec3_of(BK_PI / 2, 0, 0)), bk_quat_exp(bk_vec3_of(0, 0, BK_PI / 2)));
    bk_vec3 z = bk_quat_turn(both, bk_vec3_of(1, 0, 0));
    ck_assert_double_eq_tol(z.z, 1, 1e-15);
    /* a product is one turn after the other, whatever the axes */
    bk_quat p = bk_quat_exp(bk_vec3_of(0.3, -1.1, 0.7)), q = bk_quat_exp(bk_vec3_of(-0.9, 0.2, 1.6));
    bk_vec3 once = bk_quat_turn(bk_quat_mul(p, q), bk_vec3_of(1.7, -0.4, 2.9));
    bk_vec3 twice = bk_quat_turn(p, bk_quat_turn(q, bk_vec3_of(1.7, -0.4, 2.9)));
    ck_assert_double_eq_tol(bk_vec3_norm(bk_vec3_sub(once, twice)), 0, 1e-14);
    bk_quat small = bk_quat_exp(bk_vec3_of(1e-9, 0, 0));
    ck_assert_double_eq_tol(small.x, 5e-10, 1e-24);
    bk_quat still = bk_quat_exp(bk_vec3_of(0, 0, 0));
    ck_assert(still.w == 1 && still.x == 0);
    bk_quat unit = bk_quat_normalise((bk_quat){0, 3, 0, 4});
    ck_assert_double_eq_tol(unit.x, 0.6, 1e-16);
    ck_assert(bk_quat_normalise((bk_quat){0, 0, 0, 0}).w == 1);
    ck_assert_double_eq_tol(bk_vec3_angle(bk_vec3_of(1, 0, 0), bk_vec3_of(1, 1e-9, 0)), 1e-9, 1e-24);
    ck_assert_double_eq_tol(bk_vec3_angle(bk_vec3_of(3, 0, 0), bk_vec3_of(-1, 0, 0)), BK_PI, 1e-15);
    ck_assert(bk_vec3_angle(bk_vec3_of(0, 0, 0), bk_vec3_of(-1, 0, 0)) == 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("base");
    TCase *all = tcase_create("all");
    tcase_add_checked_fixture(all, set_up, tear_down);
    tcase_add_test(all, arena_hands_out_zeroed_aligned_blocks);
    tcase_add_test(all, push_keeps_what_was_there);
    tcase_add_test(all, message_has_place_number_and_text);
    tcase_add_test(all, message_is_one_line_of_plain_text);
    tcase_add_test(all, long_words_are_cut);
    tcase_add_test(all, errors_are_bounded_and_sorted);
    tcase_add_test(all, nearest_word);
    tcase_add_test(all, files);
    tcase_add_test(all, fifo_and_standard_input);
    tcase_add_test(all, reads_no_more_than_it_must);
    tcase_add_test(all, digest_of_abc);
    tcase_add_test(all, yaml_tree_with_places);
    tcase_add_test(all, yaml_aliases_share);
    tcase_add_test(all, yaml_duplicates_all_reported);
    tcase_add_test(all, yaml_refusals);
    tcase_add_test(all, yaml_messages_are_ours);
    tcase_add_test(all, yaml_bounds);
    tcase_add_test(all, turns);
    tcase_add_test(all, every_number_has_a_text_of_its_own);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
