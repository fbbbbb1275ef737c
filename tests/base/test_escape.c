/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "support/support.h"
#include <stdio.h>
#include <string.h>

#define LOST "\xEF\xBF\xBD"  /* U+FFFD */
#define QUOTE "\xE2\x80\x99" /* U+2019: gnuplot 5.4 misreads '' first or twice */
#define MINUS "\xE2\x88\x92"

typedef void escape(ww__text *text, const char *string);

static const char GNUPLOT[] = "gnuplot manual, 'Quote Marks': only ' is special between '...'";
static const char HTML[] =
    "HTML Living Standard 13.1: attribute values, text, character references";
static const char CSV[] = "RFC 4180, section 2, rules 5 to 7";
static const char UTF8[] = "Unicode Standard, table 3-7";
static const char OURS[] = "definition (escape.h)";

static const struct {
    escape *escape;
    const char *source, *string, *want;
} rows[] = {
    {ww__escape_gnuplot, GNUPLOT, "", "''"},
    {ww__escape_gnuplot, GNUPLOT, "clouds' edge", "'clouds" QUOTE " edge'"},
    {ww__escape_gnuplot, GNUPLOT, "`rm x` @m $a \\n \" {/Bold b}_2",
     "'`rm x` @m $a \\n \" {/Bold b}_2'"},
    {ww__escape_gnuplot, OURS, "''; '", "'" QUOTE QUOTE "; " QUOTE "'"},
    {ww__escape_gnuplot, OURS, "a\nset output\r\x7f", "'a set output  '"},
    {ww__escape_gnuplot, OURS, "a\xC2\x85z", "'a z'"},
    {ww__escape_gnuplot, UTF8, "1\xC2\xB2\xE9", "'1\xC2\xB2" LOST "'"},
    {ww__escape_terminal, OURS, "a 'b' <c>\x1b[31m\t\xC2\x9Bz", "a 'b' <c> [31m  z"},
    {ww__escape_terminal, UTF8, "1\xC2\xBD\xFF", "1\xC2\xBD" LOST},
    {ww__escape_html, HTML, "<a href=\"x\">R&D's", "&lt;a href=&quot;x&quot;&gt;R&amp;D&#39;s"},
    {ww__escape_html, HTML, "a\tb\nc\x01", "a\tb\nc" LOST},
    {ww__escape_html, UTF8, MINUS "1.5 " MINUS, MINUS "1.5 " MINUS},
    {ww__escape_html, UTF8, "\xC0\xAF", LOST LOST},
    {ww__escape_html, UTF8, "\xED\xA0\x80", LOST LOST LOST},
    {ww__escape_html, UTF8, "\xF4\x90\x80\x80", LOST LOST LOST LOST},
    {ww__escape_html, UTF8, "\xF0\x9F\x8E\x9E", "\xF0\x9F\x8E\x9E"},
    {ww__escape_html, UTF8, "\xE2\x88", LOST LOST},
    {ww__escape_html, UTF8, "\xE2\x88<", LOST LOST "&lt;"},
    {ww__escape_csv, CSV, "cloud", "cloud"},
    {ww__escape_csv, CSV, "", ""},
    {ww__escape_csv, CSV, "a,b", "\"a,b\""},
    {ww__escape_csv, CSV, "say \"1\"", "\"say \"\"1\"\"\""},
    {ww__escape_csv, OURS, "1;2", "\"1;2\""},
    {ww__escape_csv, OURS, "# 1", "\"# 1\""},
    {ww__escape_csv, OURS, " a", "\" a\""},
    {ww__escape_csv, OURS, "a\nb", "\"a b\""},
    {ww__escape_csv, OURS, "a\x1b[0m", "a [0m"},
    /* What turns the order of letters, and its neighbours in the code that do not. */
    {ww__escape_terminal, OURS, "a\u202e\u202a\u2066\u2069\u200e\u200f\u061cz", "a       z"},
    {ww__escape_terminal, OURS, "\u200d\u2010\u2029\u202f\u2065\u206a\u061b",
     "\u200d\u2010\u2029\u202f\u2065\u206a\u061b"},
    {ww__escape_html, OURS, "a\u202ez", "a\xEF\xBF\xBDz"},
};

static void escapes_rows(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ww__text text = WW__TEXT_INIT;
        char row[256];
        snprintf(row, sizeof row, "row %zu (%s)", i, rows[i].source);
        rows[i].escape(&text, rows[i].string);
        test_text(row, ww__text_string(&text), rows[i].want);
        ww__text_release(&text);
    }
}

/* Source: definition (escape.h). */
static void messages(void **state) {
    char shown[64], small[8], longer[100];
    (void)state;
    assert_string_equal(ww__escape_message("3.x4", shown, sizeof shown), "3.x4");
    assert_string_equal(ww__escape_message("a\nb\xFF" MINUS, shown, sizeof shown), "a?b?" MINUS);
    memset(longer, 'x', 99);
    longer[99] = '\0';
    ww__escape_message(longer, shown, sizeof shown);
    assert_int_equal(strlen(shown), 43);
    assert_string_equal(shown + 38, "xx...");
    longer[40] = '\0';
    ww__escape_message(longer, shown, sizeof shown);
    assert_string_equal(shown, longer);
    assert_string_equal(ww__escape_message("abc" MINUS, small, sizeof small), "abc...");
    assert_string_equal(ww__escape_message("", small, sizeof small), "");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(escapes_rows), cmocka_unit_test(messages)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
