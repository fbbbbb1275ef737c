/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_tokens.h"
#include "support/support.h"
#include <string.h>

/* Source: CGATS.17's rules of text as its readers restate them: white space separates, strings
 * stand in double quotes, # begins a comment. Doubled quotes inside strings: our own writer's need.
 */
static const struct {
    const char *name;
    const char *line;
    const char *tokens[6];
} blank_rows[] = {
    {"spaces and tabs", "D_RED  D_GREEN\tD_VIS", {"D_RED", "D_GREEN", "D_VIS"}},
    {"strings", "\"a b\" 0.5 \"\"", {"a b", "0.5", ""}},
    {"doubled quotes", "\"say \"\"when\"\"\" 1", {"say \"when\"", "1"}},
    {"strings side by side", "\"a\"\tb\"c", {"a", "b\"c"}},
    {"nothing", "   ", {NULL}},
};

static const struct {
    const char *name;
    const char *line;
    const char *cells[6];
} tab_rows[] = {
    {"spaces inside", "grey patch\t0,5\t1", {"grey patch", "0,5", "1"}},
    {"empty inside", "1\t\t0.5", {"1", "", "0.5"}},
    {"empty at the end", "1\t0.5\t\t", {"1", "0.5"}},
    {"strings", "\"a b\"\t\"\"\t1", {"a b", "", "1"}},
    {"padding", " 1 \t 0.5 ", {"1", "0.5"}},
};

static void check(const char *row, const ww__cells *got, const char *const want[]) {
    size_t n = 0;
    while (want[n] != NULL) {
        test_true(row, n < got->n);
        test_text(row, ww__cells_at(got, n), want[n]);
        n++;
    }
    test_true(row, got->n == n);
}

static void splits_at_blanks(void **state) {
    ww__cells cells = WW__CELLS_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof blank_rows / sizeof *blank_rows; i++) {
        const char *line = blank_rows[i].line;
        test_status(blank_rows[i].name,
                    ww__cgats_split_blanks(&cells, "f", line, strlen(line), 3, &err), WW_OK, &err);
        check(blank_rows[i].name, &cells, blank_rows[i].tokens);
    }
    test_status("open quote", ww__cgats_split_blanks(&cells, "f", "1 \"a", 4, 3, &err), WW_EINPUT,
                &err);
    assert_int_equal(err.line, 3);
    ww__cells_release(&cells);
}

static void splits_at_tabs(void **state) {
    ww__cells cells = WW__CELLS_INIT;
    (void)state;
    for (size_t i = 0; i < sizeof tab_rows / sizeof *tab_rows; i++) {
        const char *line = tab_rows[i].line;
        assert_int_equal(ww__cgats_split_tabs(&cells, line, strlen(line), NULL), WW_OK);
        check(tab_rows[i].name, &cells, tab_rows[i].cells);
    }
    ww__cells_release(&cells);
}

static void finds_comments(void **state) {
    (void)state;
    assert_int_equal(ww__cgats_comment("1 2 # three", 11), 4);
    assert_int_equal(ww__cgats_comment("\"#1\" # two", 10), 5);
    assert_int_equal(ww__cgats_comment("# \"open", 7), 0);
    assert_int_equal(ww__cgats_comment("1 2", 3), 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(splits_at_blanks),
                                       cmocka_unit_test(splits_at_tabs),
                                       cmocka_unit_test(finds_comments)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
