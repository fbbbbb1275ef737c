/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <float.h>
#include <string.h>
#include <wedgework/number.h>

static const char SPEC[] = "grammar in number.h";
static const char IEEE[] = "IEEE 754 binary64, round to nearest even";

/* Exact: hexadecimal constants are the source's own doubles. */
static const struct {
    const char *text;
    char mark;
    const char *source;
    ww_status status;
    double value;
} rows[] = {
    {"2.731", '.', IEEE, WW_OK, 0x1.5d916872b020cp+1},
    {"0.1", '.', IEEE, WW_OK, 0x1.999999999999ap-4},
    {"2,731", ',', IEEE, WW_OK, 0x1.5d916872b020cp+1},
    {"9007199254740993", '.', "2^53 + 1: a tie, to even", WW_OK, 0x1p53},
    {"9007199254740995", '.', "2^53 + 3: a tie, to even", WW_OK, 0x1.0000000000002p53},
    {"1.7976931348623157e308", '.', "largest binary64", WW_OK, 0x1.fffffffffffffp1023},
    {"1.7976931348623159e308", '.', "beyond the halfway point to 2^1024", WW_EINPUT, 0},
    {"4.9406564584124654e-324", '.', "smallest binary64", WW_OK, 0x1p-1074},
    {"1e-400", '.', "below half the smallest", WW_OK, 0.0},
    {"1e400", '.', IEEE, WW_EINPUT, 0},
    {"1e99999999999999999999", '.', IEEE, WW_EINPUT, 0},
    {"+3", '.', SPEC, WW_OK, 3.0},
    {"-0.04", '.', SPEC, WW_OK, -0x1.47ae147ae147bp-5},
    {".5", '.', SPEC, WW_OK, 0.5},
    {"-,25", ',', SPEC, WW_OK, -0.25},
    {"00012", '.', SPEC, WW_OK, 12.0},
    {" \t 1.5e+2 \r\n", '.', SPEC, WW_OK, 150.0},
    {"1.5E-1", '.', IEEE, WW_OK, 0x1.3333333333333p-3},
    {"", '.', SPEC, WW_EINPUT, 0},
    {"  ", '.', SPEC, WW_EINPUT, 0},
    {".", '.', SPEC, WW_EINPUT, 0},
    {"-", '.', SPEC, WW_EINPUT, 0},
    {"5.", '.', SPEC, WW_OK, 5.0}, /* strtod, C17 7.22.1.3: a digit on either side is enough */
    {"-5.", '.', SPEC, WW_OK, -5.0},
    {"+.", '.', SPEC, WW_EINPUT, 0},
    {"1.e3", '.', SPEC, WW_OK, 1e3},
    {"1e", '.', SPEC, WW_EINPUT, 0},
    {"1e+", '.', SPEC, WW_EINPUT, 0},
    {"e5", '.', SPEC, WW_EINPUT, 0},
    {"1..2", '.', SPEC, WW_EINPUT, 0},
    {"1.2.3", '.', SPEC, WW_EINPUT, 0},
    {"1,2", '.', SPEC, WW_EINPUT, 0},
    {"1.2", ',', SPEC, WW_EINPUT, 0},
    {"1,234,5", ',', SPEC, WW_EINPUT, 0},
    {"+-1", '.', SPEC, WW_EINPUT, 0},
    {"- 1", '.', SPEC, WW_EINPUT, 0},
    {"1 2", '.', SPEC, WW_EINPUT, 0},
    {"3.x4", '.', SPEC, WW_EINPUT, 0},
    {"1.O5", '.', SPEC, WW_EINPUT, 0},
    {"l.05", '.', SPEC, WW_EINPUT, 0},
    {"nan", '.', SPEC, WW_EINPUT, 0},
    {"inf", '.', SPEC, WW_EINPUT, 0},
    {"-Infinity", '.', SPEC, WW_EINPUT, 0},
    {"0x1p3", '.', SPEC, WW_EINPUT, 0},
    {"1.5d", '.', SPEC, WW_EINPUT, 0},
    {"\xE2\x88\x92"
     "1.5",
     '.', SPEC, WW_EINPUT, 0},
};

static void check_rows(void) {
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww_error err = WW_ERROR_INIT;
        double value = -77.25;
        const ww_status status = ww_number_parse(rows[i].text, rows[i].mark, &value, &err);
        test_status(rows[i].text, status, rows[i].status, &err);
        test_close(rows[i].text, value, rows[i].status == WW_OK ? rows[i].value : -77.25, 0.0);
    }
}

static void parses_rows(void **state) {
    (void)state;
    check_rows();
}

static void names_the_text(void **state) {
    ww_error err = WW_ERROR_INIT;
    double value = 0;
    (void)state;
    ww_number_parse("3.x4", '.', &value, &err);
    assert_string_equal(err.msg, "'3.x4' is not a number");
    ww_number_parse("1\x1b[31m", '.', &value, &err);
    assert_string_equal(err.msg, "'1?[31m' is not a number");
    assert_int_equal(ww_number_parse("x", '.', &value, NULL), WW_EINPUT);
}

static void takes_every_digit_and_refuses_floods(void **state) {
    static char digits[5000];
    ww_error err = WW_ERROR_INIT;
    double value = 0;
    (void)state;
    /* 0.1000...0001 with 1000 zeros lies above 0.1: still the nearest double of 0.1. */
    strcpy(digits, "0.1");
    memset(digits + 3, '0', 1000);
    strcpy(digits + 1003, "1");
    assert_int_equal(ww_number_parse(digits, '.', &value, &err), WW_OK);
    test_close("long", value, 0.1, 0.0);
    memset(digits, '1', sizeof digits - 1);
    test_status("flood", ww_number_parse(digits, '.', &value, &err), WW_EINPUT, &err);
}

/* Source: C17 7.21.6.1 (exact decimal value, rounded), and number.h for zero. */
static const struct {
    double value;
    int decimals;
    const char *text;
} formats[] = {{2.731, 2, "2.73"},
               {-2.731, 1, "-2.7"},
               {-0.004, 2, "0.00"},
               {-0.0, 0, "0"},
               {-0.006, 2, "-0.01"},
               {0.5, 0, "0"},
               {1.5, 0, "2"},
               {-0.5, 0, "0"},
               {1e15, 0, "1000000000000000"},
               {0.1, 17, "0.10000000000000001"},
               {-1e-20, 17, "0.00000000000000000"},
               {123.456, 3, "123.456"}};

static void check_formats(void) {
    for (size_t i = 0; i < sizeof formats / sizeof *formats; i++) {
        char text[64];
        test_text(formats[i].text,
                  ww_number_format(formats[i].value, formats[i].decimals, text, sizeof text),
                  formats[i].text);
    }
}

static void formats_rows(void **state) {
    (void)state;
    check_formats();
}

static void format_cuts(void **state) {
    char text[4];
    (void)state;
    assert_string_equal(ww_number_format(-123.5, 1, text, sizeof text), "-12");
    assert_string_equal(ww_number_format(-0.001, 2, text, sizeof text), "0.0");
    assert_string_equal(ww_number_format(7.0, 2, text, 1), "");
}

/* Last: the locale stays. */
static void comma_locale_changes_nothing(void **state) {
    (void)state;
    if (!test_comma_locale())
        skip();
    check_rows();
    check_formats();
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(parses_rows),
                                       cmocka_unit_test(names_the_text),
                                       cmocka_unit_test(takes_every_digit_and_refuses_floods),
                                       cmocka_unit_test(formats_rows),
                                       cmocka_unit_test(format_cuts),
                                       cmocka_unit_test(comma_locale_changes_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
