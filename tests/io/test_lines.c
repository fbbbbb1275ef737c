/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/lines.h"
#include "support/support.h"
#include <string.h>

/* Source: definition; the three line ends of the readings file. */
static const struct {
    const char *name;
    const char *text;
    const char *lines[5];
} line_rows[] = {
    {"LF", "a\nbc\n", {"a", "bc"}},
    {"CRLF", "a\r\nbc\r\n", {"a", "bc"}},
    {"CR", "a\rbc\r", {"a", "bc"}},
    {"no end", "a\nbc", {"a", "bc"}},
    {"blank lines count", "\n\r\n\rx", {"", "", "", "x"}},
    {"mixed", "a\rb\nc\r\nd", {"a", "b", "c", "d"}},
    {"nothing", "", {NULL}},
};

static void splits_lines(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof line_rows / sizeof *line_rows; i++) {
        ww__lines lines = ww__lines_of(line_rows[i].text, strlen(line_rows[i].text));
        const char *start;
        size_t n, count = 0;
        while (ww__lines_next(&lines, &start, &n)) {
            const char *want = line_rows[i].lines[count++];
            test_true(line_rows[i].name, want && n == strlen(want) && strncmp(start, want, n) == 0);
            test_true(line_rows[i].name, lines.line == count);
        }
        test_true(line_rows[i].name, line_rows[i].lines[count] == NULL);
    }
}

static void trims(void **state) {
    const char *text = " \t a b\t ", *blank = "  \t";
    size_t n = strlen(text), m = strlen(blank);
    (void)state;
    ww__lines_trim(&text, &n);
    assert_int_equal(n, 3);
    assert_memory_equal(text, "a b", 3);
    ww__lines_trim(&blank, &m);
    assert_int_equal(m, 0);
}

static void cells_keep_many_and_empty_ones(void **state) {
    ww__cells cells = WW__CELLS_INIT;
    (void)state;
    for (int i = 0; i < 300; i++)
        assert_int_equal(ww__cells_add(&cells, "density", (size_t)(i % 8), NULL), WW_OK);
    assert_int_equal(cells.n, 300);
    assert_string_equal(ww__cells_at(&cells, 0), "");
    assert_string_equal(ww__cells_at(&cells, 7), "density");
    assert_string_equal(ww__cells_at(&cells, 299), "den");
    ww__cells_clear(&cells);
    assert_int_equal(cells.n, 0);
    ww__cells_release(&cells);
    ww__cells_release(&cells);
}

/* Source: definition in the header. */
static void words_alike(void **state) {
    (void)state;
    assert_true(ww__words_near("materail", "material"));
    assert_true(ww__words_near("log h", "log h0"));
    assert_false(ww__words_near("note", "name"));
    assert_false(ww__words_near("rod", "lot"));
    assert_false(ww__words_near("an unreasonably long word, over forty letters", "red"));
    assert_true(ww__words_equal("Over", "oVER"));
    assert_false(ww__words_equal("over", "overs"));
}

/* Source: RFC 3629, UTF-8: well-formed sequences, and its examples of what is not. */
static const struct {
    const char *name;
    const char *text;
    const char *says;
} text_rows[] = {
    {"plain", "cloud, left", NULL},
    {"two bytes", "Gr\xc3\xbcn", NULL},
    {"three bytes", "\xe6\x9a\x97", NULL},
    {"four bytes", "\xf0\x9f\x93\xb7", NULL},
    {"Latin-1", "Gr\xfcn", "UTF-8"},
    {"overlong slash", "\xc0\xaf", "UTF-8"},
    {"overlong in three", "\xe0\x80\xaf", "UTF-8"},
    {"surrogate", "\xed\xa0\x80", "UTF-8"},
    {"beyond U+10FFFF", "\xf4\x90\x80\x80", "UTF-8"},
    {"cut short", "a\xe6\x9a", "UTF-8"},
    {"escape", "red\x1b[31m", "control"},
    {"tab", "a\tb", "control"},
    {"C1 control", "a\xc2\x85", "control"},
    {"no-break space is text",
     "a\xc2\xa0"
     "b",
     NULL},
};

static void texts_that_can_be_labels(void **state) {
    char longest[WW__TEXT_MOST + 2];
    (void)state;
    for (size_t i = 0; i < sizeof text_rows / sizeof *text_rows; i++) {
        const char *problem = ww__lines_text_problem(text_rows[i].text);
        test_true(text_rows[i].name, (problem == NULL) == (text_rows[i].says == NULL));
        if (problem)
            test_true(text_rows[i].name, strstr(problem, text_rows[i].says) != NULL);
    }
    memset(longest, 'x', sizeof longest);
    longest[WW__TEXT_MOST] = '\0';
    assert_null(ww__lines_text_problem(longest));
    longest[WW__TEXT_MOST] = 'x';
    longest[WW__TEXT_MOST + 1] = '\0';
    assert_non_null(ww__lines_text_problem(longest));
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(splits_lines), cmocka_unit_test(trims),
                                       cmocka_unit_test(cells_keep_many_and_empty_ones),
                                       cmocka_unit_test(words_alike),
                                       cmocka_unit_test(texts_that_can_be_labels)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
