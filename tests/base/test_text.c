/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "support/support.h"
#include <float.h>
#include <math.h>
#include <string.h>
#include <wedgework/number.h>

/* Source: definition (text.h). WW_EMEMORY from malloc is provoked in tests/fault. */

static void empty_is_empty(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    assert_string_equal(ww__text_string(&text), "");
    assert_int_equal(ww__text_status(&text, NULL), WW_OK);
    ww__text_add(&text, "");
    ww__text_add_bytes(&text, NULL, 0);
    assert_int_equal(text.n, 0);
    assert_string_equal(ww__text_string(&text), "");
    ww__text_release(&text);
    ww__text_release(&text);
    ww__text_release(NULL);
}

static void grows(void **state) {
    ww__text text = WW__TEXT_INIT;
    (void)state;
    for (int i = 0; i < 10000; i++)
        ww__text_add_format(&text, "%04d;", i);
    assert_int_equal(text.n, 50000);
    assert_int_equal(strlen(ww__text_string(&text)), 50000);
    assert_memory_equal(text.bytes + 49995, "9999;", 6);
    ww__text_add_bytes(&text, "a\0b", 3);
    assert_int_equal(text.n, 50003);
    assert_int_equal(ww__text_status(&text, NULL), WW_OK);
    ww__text_release(&text);
}

static void refuses_impossible_sizes(void **state) {
    ww__text text = WW__TEXT_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    ww__text_add(&text, "kept");
    ww__text_add_bytes(&text, "", SIZE_MAX - 2);
    ww__text_add(&text, "not added");
    test_status("size", ww__text_status(&text, &err), WW_EMEMORY, &err);
    assert_string_equal(ww__text_string(&text), "kept");
    ww__text_release(&text);
}

static void add_numbers(void) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add_number(&text, -0.001, 2);
    ww__text_add(&text, " ");
    ww__text_add_number(&text, 2.731, 1);
    ww__text_add_format(&text, " %.2f ", 0.25);
    ww__text_add_exact(&text, 0.1);
    assert_string_equal(ww__text_string(&text), "0.00 2.7 0.25 0.1");
    ww__text_release(&text);
    ww__text_add_number(&text, -DBL_MAX, 17);
    assert_int_equal(text.n, 1 + 309 + 1 + 17);
    ww__text_release(&text);
}

/* Source: 17 significant digits always tell binary64 values apart (IEEE 754-2019, 5.12.2). */
static void exact_reads_back(void) {
    static const double values[] = {0.1,     1.0 / 3.0,
                                    5e-324,  DBL_MAX,
                                    -2.731,  1e23,
                                    0.0,     1e21,
                                    DBL_MIN, 123456789.123456789,
                                    -1e-300, 0x1.921fb54442d18p+1};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
        ww__text text = WW__TEXT_INIT;
        double back = (double)NAN;
        ww__text_add_exact(&text, values[i]);
        assert_int_equal(ww_number_parse(ww__text_string(&text), '.', &back, NULL), WW_OK);
        test_close(ww__text_string(&text), back, values[i], 0.0);
        ww__text_release(&text);
    }
}

/* Source: definition. */
static void decimals_of_what_was_asked_for(void **state) {
    static const struct {
        double density;
        int want;
    } rows[] = {{0.005, 3}, {0.01, 2}, {0.29, 2}, {0.285, 3}, {1.65, 2}, {2.0, 2}, {1.1175, 3}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_int_equal(ww__text_decimals(rows[i].density), rows[i].want);
}

/* Source: definition. */
static void what_is_the_same(void **state) {
    (void)state;
    test_true("letters", ww__text_same("lot 7", "lot 7") && !ww__text_same("lot 7", "lot 8"));
    test_true("none is empty", ww__text_same(NULL, "") && ww__text_same(NULL, NULL));
    test_true("but not some", !ww__text_same(NULL, "0") && !ww__text_same("0", NULL));
}

static void numbers(void **state) {
    (void)state;
    add_numbers();
    exact_reads_back();
}

static void numbers_in_a_comma_locale(void **state) {
    (void)state;
    if (!test_comma_locale())
        skip();
    add_numbers();
    exact_reads_back();
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(empty_is_empty),
                                       cmocka_unit_test(grows),
                                       cmocka_unit_test(refuses_impossible_sizes),
                                       cmocka_unit_test(numbers),
                                       cmocka_unit_test(what_is_the_same),
                                       cmocka_unit_test(decimals_of_what_was_asked_for),
                                       cmocka_unit_test(numbers_in_a_comma_locale)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
