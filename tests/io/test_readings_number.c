/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_number.h"
#include "support/support.h"
#include <string.h>

static const ww__field density = {WW__ROLE_CELL, WW_COLUMN_GREEN, "green"};
static const ww__field seconds = {WW__ROLE_EXPOSURE, WW_EXPOSURE_TIME, "time"};
static const ww__field number = {WW__ROLE_N_ALL, 0, "n"};
static const ww__field spread = {WW__ROLE_SD, WW_COLUMN_RED, "sd_red"};

enum layout { COMMAS, SEMICOLONS };

/* Source: definition of the readings file, and the ways in which handwritten numbers go wrong that
 * the trade knows (common practice). */
static const struct {
    const char *name;
    enum layout layout;
    const ww__field *field;
    const char *text;
    ww_status status;
    double value;
    const char *says;
} rows[] = {
    {"point", COMMAS, &density, "2.731", WW_OK, 2.731, ""},
    {"no leading digit", COMMAS, &density, ".5", WW_OK, 0.5, ""},
    {"decimal comma", SEMICOLONS, &density, "2,731", WW_OK, 2.731, ""},
    {"point between semicolons", SEMICOLONS, &density, "2.731", WW_OK, 2.731, ""},
    {"highest", COMMAS, &density, "6", WW_OK, 6.0, ""},
    {"lowest", COMMAS, &density, "-0.1", WW_OK, -0.1, ""},
    {"above 6", COMMAS, &density, "6.01", WW_EINPUT, 0, "above 6"},
    {"point forgotten", COMMAS, &density, "123", WW_EINPUT, 0, "decimal point"},
    {"below -0.1", COMMAS, &density, "-0.11", WW_EINPUT, 0, "below -0.1"},
    {"letter O", COMMAS, &density, "1.O5", WW_EINPUT, 0, "letter O"},
    {"letter l", COMMAS, &density, "l.05", WW_EINPUT, 0, "digit 1"},
    {"two points", COMMAS, &density, "1.2.3", WW_EINPUT, 0, "decimal point"},
    {"letter inside", COMMAS, &density, "3.x4", WW_EINPUT, 0, "'3.x4'"},
    {"nan", COMMAS, &density, "nan", WW_EINPUT, 0, "missing"},
    {"inf", COMMAS, &density, "inf", WW_EINPUT, 0, "not a number"},
    {"hexadecimal", COMMAS, &density, "0x1", WW_EINPUT, 0, "not a number"},
    {"too large for a double", COMMAS, &density, "1e999", WW_EINPUT, 0, "not a number"},
    {"beyond the instrument, in other words", COMMAS, &density, "HI", WW_EINPUT, 0, "over"},
    {"beyond, as a relation", COMMAS, &density, ">4.0", WW_EINPUT, 0, "over"},
    {"bar logarithm, -1 + 0.05 = -0.95", COMMAS, &density, "1\xcc\x84.05", WW_EINPUT, 0, "-0.95"},
    {"dashes", COMMAS, &density, "---", WW_EINPUT, 0, "over"},
    {"quoted comma", COMMAS, &density, "1,234", WW_EINPUT, 0, "thousands"},
    {"half a decimal comma", COMMAS, &density, "05", WW_EINPUT, 0, "decimal comma"},
    {"05 is 5 where commas are free", SEMICOLONS, &density, "05", WW_OK, 5.0, ""},
    {"0 and 0.5 begin with 0 well", COMMAS, &density, "0.05", WW_OK, 0.05, ""},
    {"comma and point", SEMICOLONS, &density, "1.234,5", WW_EINPUT, 0, "both"},
    {"time 0", COMMAS, &seconds, "0", WW_EINPUT, 0, "not above 0"},
    {"time below 0", COMMAS, &seconds, "-3", WW_EINPUT, 0, "not above 0"},
    {"time", COMMAS, &seconds, "1.5e3", WW_OK, 1500.0, ""},
    {"sd below 0", COMMAS, &spread, "-0.01", WW_EINPUT, 0, "below 0"},
    {"sd", COMMAS, &spread, "0", WW_OK, 0.0, ""},
    {"over where it is no use", COMMAS, &seconds, "over", WW_EINPUT, 0, "no use"},
};

static void numbers(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__number_rules rules = {.file = "film.csv",
                                  .decimal_comma = rows[i].layout == SEMICOLONS,
                                  .comma_separated = rows[i].layout == COMMAS};
        ww_error err = WW_ERROR_INIT;
        double value = 77.0;
        test_status(rows[i].name,
                    ww__number_read(&rules, rows[i].field, rows[i].text, 12, &value, &err),
                    rows[i].status, &err);
        test_close(rows[i].name, value, rows[i].status == WW_OK ? rows[i].value : 77.0, 0.0);
        if (rows[i].status == WW_OK)
            continue;
        if (!strstr(err.msg, rows[i].says))
            fail_msg("%s: '%s' is not in: %s", rows[i].name, rows[i].says, err.msg);
        test_true(rows[i].name, err.line == 12 && strcmp(err.file, "film.csv") == 0);
        test_true("names the column", strstr(err.msg, rows[i].field->name) != NULL);
    }
}

static void counts(void **state) {
    ww__number_rules rules = {.file = "film.csv"};
    size_t n = 77;
    (void)state;
    assert_int_equal(ww__number_count(&rules, &number, "5", 1, &n, NULL), WW_OK);
    assert_int_equal(n, 5);
    assert_int_equal(ww__number_count(&rules, &number, "2.5", 1, &n, NULL), WW_EINPUT);
    assert_int_equal(ww__number_count(&rules, &number, "0", 1, &n, NULL), WW_EINPUT);
    assert_int_equal(ww__number_count(&rules, &number, "-1", 1, &n, NULL), WW_EINPUT);
    assert_int_equal(n, 5);
}

static void one_mark_a_file(void **state) {
    ww__number_rules points = {.file = "f", .decimal_comma = true};
    ww__number_rules commas = {.file = "f", .decimal_comma = true};
    double value;
    (void)state;
    assert_int_equal(ww__number_read(&points, &density, "1", 2, &value, NULL), WW_OK);
    assert_int_equal(ww__number_read(&points, &density, "1.5", 3, &value, NULL), WW_OK);
    assert_int_equal(ww__number_read(&points, &density, "1,5", 4, &value, NULL), WW_EINPUT);
    assert_int_equal(ww__number_read(&commas, &density, "1,5", 3, &value, NULL), WW_OK);
    assert_int_equal(ww__number_read(&commas, &density, "1.5", 4, &value, NULL), WW_EINPUT);
}

/* "1,234" s is 1.234 s or 20 minutes; densities can't be a thousand, and "4,5" s tells for all. */
static void thousands_are_refused_where_nothing_tells(void **state) {
    ww__number_rules alone = {.file = "f", .decimal_comma = true};
    ww__number_rules told = {.file = "f", .decimal_comma = true};
    ww__number_rules narrow = {.file = "f", .decimal_comma = true};
    ww_error err = WW_ERROR_INIT;
    double value;
    (void)state;
    assert_int_equal(ww__number_read(&alone, &seconds, "1,234", 5, &value, NULL), WW_OK);
    assert_int_equal(ww__number_finish(&alone, &err), WW_EINPUT);
    assert_int_equal(err.line, 5);
    assert_non_null(strstr(err.msg, "'1,234'"));
    assert_int_equal(ww__number_read(&told, &seconds, "1,234", 5, &value, NULL), WW_OK);
    assert_int_equal(ww__number_read(&told, &seconds, "4,5", 6, &value, NULL), WW_OK);
    assert_int_equal(ww__number_finish(&told, NULL), WW_OK);
    assert_int_equal(ww__number_read(&narrow, &density, "1,234", 5, &value, NULL), WW_OK);
    assert_int_equal(ww__number_finish(&narrow, NULL), WW_OK);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(numbers), cmocka_unit_test(counts),
                                       cmocka_unit_test(one_mark_a_file),
                                       cmocka_unit_test(thousands_are_refused_where_nothing_tells)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
