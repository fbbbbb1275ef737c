/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/slips.h"
#include "support/support.h"
#include <stdint.h>
#include <string.h>

/* Source: definition of the optimal string alignment distance; kitten to sitting is the textbooks'
 * example, and so is ca to abc, which takes 3 where no letter may be moved twice. */
static const struct {
    const char *a, *b;
    size_t want;
} rows[] = {
    {"", "", 0},
    {"", "red", 3},
    {"red", "", 3},
    {"red", "red", 0},
    {"GREEN", "green", 0},
    {"gren", "green", 1},
    {"greeen", "green", 1},
    {"grean", "green", 1},
    {"stpe", "step", 1},
    {"PRITN", "print", 1},
    {"kitten", "sitting", 3},
    {"ca", "abc", 3},
    {"\xc3\x84", "\xc3\xa4", 1},
    {"ab", "ba", 1},
    {"abcd", "badc", 2},
};

static void slips_are_counted(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        test_close(rows[i].a, (double)ww__slips(rows[i].a, rows[i].b), (double)rows[i].want, 0);
        test_close(rows[i].b, (double)ww__slips(rows[i].b, rows[i].a), (double)rows[i].want, 0);
    }
}

static void long_words_are_like_none(void **state) {
    char word[WW__SLIPS_LONGEST + 2];
    (void)state;
    memset(word, 'x', sizeof word);
    word[WW__SLIPS_LONGEST + 1] = '\0';
    assert_true(ww__slips(word, "red") == SIZE_MAX && ww__slips("red", word) == SIZE_MAX);
    word[WW__SLIPS_LONGEST] = '\0';
    assert_int_equal(ww__slips(word, "red"), WW__SLIPS_LONGEST);
    assert_int_equal(ww__slips(word, word), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(slips_are_counted),
                                       cmocka_unit_test(long_words_are_like_none)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
