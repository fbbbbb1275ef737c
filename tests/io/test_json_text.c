/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include "support/support.h"
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char RFC[] = "RFC 8259";
static const char IEEE[] = "IEEE 754 binary64; fewest digits by hand";

/* A document of one array with one item, without the brackets around it. */
static char *written(void (*write)(ww__json_writer *writer, const void *what), const void *what,
                     ww_status *status, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    char *text = NULL;
    size_t n = 0;
    ww__json_open_array(&writer, NULL, WW__JSON_FLAT);
    write(&writer, what);
    ww__json_close(&writer);
    *status = ww__json_finish(&writer, &text, &n);
    if (*status != WW_OK)
        return NULL;
    assert_int_equal(n, strlen(text));
    assert_true(n >= 3 && text[0] == '[' && strcmp(text + n - 2, "]\n") == 0);
    text[n - 2] = '\0';
    memmove(text, text + 1, n - 2);
    return text;
}

static void write_number(ww__json_writer *writer, const void *what) {
    ww__json_write_number(writer, NULL, *(const double *)what);
}

static void write_text(ww__json_writer *writer, const void *what) {
    ww__json_write_text(writer, NULL, what);
}

static const struct {
    const char *text;
    const char *source;
    double value;
} numbers[] = {
    {"2.731", IEEE, 0x1.5d916872b020cp+1},
    {"0.1", IEEE, 0x1.999999999999ap-4},
    {"0.30000000000000004", IEEE, 0x1.3333333333334p-2}, /* 0.1 + 0.2 */
    {"0.3", IEEE, 0x1.3333333333333p-2},
    {"3", IEEE, 3.0},
    {"0", IEEE, 0.0},
    {"-0.0", RFC, -0.0}, /* "-0" is an integer to most readers */
    {"1e+300", IEEE, 1e300},
    {"1.7976931348623157e+308", "largest binary64", DBL_MAX},
};

static void writes_the_fewest_digits(void **state) {
    (void)state;
    for (int comma = 0; comma <= 1; comma++) {
        if (comma && !test_comma_locale())
            continue;
        for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
            ww_status status;
            char *text = written(write_number, &numbers[i].value, &status, NULL);
            test_text(numbers[i].source, text, numbers[i].text);
            free(text);
        }
    }
}

/* Reads back to the same bits through jansson, in whatever locale the test before has left. */
static void numbers_survive(void **state) {
    uint64_t bits = 0x9e3779b97f4a7c15u;
    (void)state;
    for (int i = 0; i < 20000; i++) {
        double value, back;
        ww_status status;
        char *text, document[64];
        json_t *array;
        bits ^= bits << 13, bits ^= bits >> 7, bits ^= bits << 17; /* xorshift, Marsaglia 2003 */
        memcpy(&value, &bits, sizeof value);
        if (i % 2)
            value = (double)(bits >> 40) / 1000.0 - 3000.0; /* as readings are */
        if (!isfinite(value))
            continue;
        text = written(write_number, &value, &status, NULL);
        assert_non_null(text);
        snprintf(document, sizeof document, "[%s]", text);
        array = json_loads(document, 0, NULL);
        assert_non_null(array);
        back = json_number_value(json_array_get(array, 0));
        assert_memory_equal(&back, &value, sizeof value);
        json_decref(array);
        free(text);
    }
}

static void refuses_what_is_not_finite(void **state) {
    static const double values[] = {(double)NAN, (double)INFINITY, -(double)INFINITY};
    (void)state;
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        ww_status status;
        assert_null(written(write_number, &values[i], &status, &err));
        test_status("not finite", status, WW_EDOMAIN, &err);
    }
}

static const struct {
    const char *name;
    const char *text;
    const char *written; /* NULL: refused */
} texts[] = {
    {"plain", "Grade 2", "\"Grade 2\""},
    {"empty", "", "\"\""},
    {"quote and backslash", "a\"b\\c/", "\"a\\\"b\\\\c/\""},
    {"control characters", "\t\n\x1b\x1f", "\"\\u0009\\u000a\\u001b\\u001f\""},
    {"two bytes", "\xC2\xB5", "\"\xC2\xB5\""},
    {"three bytes", "2\xE2\x85\x93", "\"2\xE2\x85\x93\""},
    {"four bytes", "\xF0\x9F\x8E\x9E", "\"\xF0\x9F\x8E\x9E\""},
    {"highest", "\xF4\x8F\xBF\xBF", "\"\xF4\x8F\xBF\xBF\""},
    {"Latin-1",
     "Gr\xFC"
     "n",
     NULL},
    {"alone in the middle", "\x80", NULL},
    {"overlong two", "\xC0\xAF", NULL},
    {"overlong three", "\xE0\x9F\xBF", NULL},
    {"overlong four", "\xF0\x8F\xBF\xBF", NULL},
    {"surrogate", "\xED\xA0\x80", NULL},
    {"beyond U+10FFFF", "\xF4\x90\x80\x80", NULL},
    {"no such lead", "\xF5\x80\x80\x80", NULL},
    {"cut after one", "a\xE2", NULL},
    {"cut after two", "a\xE2\x85", NULL},
    {"cut after three", "a\xF0\x9F\x8E", NULL},
};

/* Source: RFC 8259 section 7; Unicode Standard, table 3-7, well-formed UTF-8. */
static void escapes_texts(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        ww_status status;
        char *text = written(write_text, texts[i].text, &status, &err);
        test_status(texts[i].name, status, texts[i].written ? WW_OK : WW_EDOMAIN, &err);
        if (texts[i].written) {
            json_t *array;
            char document[128];
            test_text(texts[i].name, text, texts[i].written);
            snprintf(document, sizeof document, "[%s]", text);
            array = json_loads(document, 0, NULL);
            test_text(texts[i].name, json_string_value(json_array_get(array, 0)), texts[i].text);
            json_decref(array);
        }
        free(text);
    }
}

/* Source: definition, the layout that json.h describes. */
static void lays_out_a_document(void **state) {
    static const char *expected = "{\n"
                                  "  \"kind\": \"test\",\n"
                                  "  \"none\": [],\n"
                                  "  \"empty\": {},\n"
                                  "  \"rows\": [\n"
                                  "    [1, 2.5],\n"
                                  "    {\"deep\": [true, {\"x\": null}], \"y\": -7}\n"
                                  "  ],\n"
                                  "  \"q\": {\"value\": 0.21, \"low\": 0.2, \"high\": 0.22, "
                                  "\"how\": \"extrapolated\"},\n"
                                  "  \"absent\": null,\n"
                                  "  \"unset\": null,\n"
                                  "  \"set\": 0.78,\n"
                                  "  \"unsaid\": null,\n"
                                  "  \"notes\": [\n"
                                  "    \"one\",\n"
                                  "    \"two\"\n"
                                  "  ]\n"
                                  "}\n";
    const ww_quantity quantity = {0.21, 0.20, 0.22, WW_EXTRAPOLATED}, absent = WW_QUANTITY_INIT;
    ww__json_writer writer = WW__JSON_WRITER_INIT(NULL);
    ww_notes notes = WW_NOTES_INIT;
    char *text = NULL;
    size_t n = 0;
    (void)state;
    ww_notes_add(&notes, NULL, "one");
    ww_notes_add(&notes, NULL, "two");
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_text(&writer, "kind", "test");
    ww__json_open_array(&writer, "none", WW__JSON_LINES);
    ww__json_close(&writer);
    ww__json_open_object(&writer, "empty", WW__JSON_FLAT);
    ww__json_close(&writer);
    ww__json_open_array(&writer, "rows", WW__JSON_LINES);
    ww__json_write_pair(&writer, NULL, 1.0, 2.5);
    ww__json_open_object(&writer, NULL, WW__JSON_FLAT);
    ww__json_open_array(&writer, "deep", WW__JSON_LINES); /* flat inside flat, whatever is asked */
    ww__json_write_bool(&writer, NULL, true);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_null(&writer, "x");
    ww__json_close(&writer);
    ww__json_close(&writer);
    ww__json_write_integer(&writer, "y", -7);
    ww__json_close(&writer);
    ww__json_close(&writer);
    ww__json_write_quantity(&writer, "q", quantity);
    ww__json_write_quantity(&writer, "absent", absent);
    ww__json_write_optional(&writer, "unset", (ww_optional){false, 1.0});
    ww__json_write_optional(&writer, "set", (ww_optional){true, 0.78});
    ww__json_write_text(&writer, "unsaid", NULL);
    ww__json_write_notes(&writer, "notes", &notes);
    ww__json_close(&writer);
    test_status("document", ww__json_finish(&writer, &text, &n), WW_OK, NULL);
    test_text("document", text, expected);
    assert_int_equal(n, strlen(expected));
    free(text);
    ww_notes_release(&notes);
}

/* Source: ww__escape_terminal: what is no UTF-8 becomes U+FFFD, what would steer a terminal a
 * space. */
static void names_from_outside_are_always_text(void **state) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(NULL);
    char *text = NULL;
    size_t n = 0;
    (void)state;
    ww__json_open_object(&writer, NULL, WW__JSON_FLAT);
    ww__json_write_outside(&writer, "file", "a\xFC\x1b.tif");
    ww__json_write_outside(&writer, "profile", NULL);
    ww__json_close(&writer);
    test_status("written", ww__json_finish(&writer, &text, &n), WW_OK, NULL);
    test_text("written", text, "{\"file\": \"a\xEF\xBF\xBD .tif\", \"profile\": null}\n");
    free(text);
}

static void keeps_the_first_failure(void **state) {
    ww_error err = WW_ERROR_INIT;
    ww__json_writer writer = WW__JSON_WRITER_INIT(&err);
    char *text = NULL;
    size_t n = 77;
    (void)state;
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_number(&writer, "gamma", (double)NAN);
    ww__json_write_text(&writer, "name", "\xFC");
    ww__json_close(&writer);
    test_status("first", ww__json_finish(&writer, &text, &n), WW_EDOMAIN, &err);
    test_text("first", err.msg, "the number for 'gamma' is not finite; it cannot be written");
    assert_null(text);
    assert_int_equal(n, 77);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_the_fewest_digits),
        cmocka_unit_test(numbers_survive),
        cmocka_unit_test(refuses_what_is_not_finite),
        cmocka_unit_test(escapes_texts),
        cmocka_unit_test(lays_out_a_document),
        cmocka_unit_test(keeps_the_first_failure),
        cmocka_unit_test(names_from_outside_are_always_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
