/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include "support/support.h"
#include <stdlib.h>
#include <string.h>

static const char RFC[] = "RFC 8259";

static ww_status parse(const char *text, size_t n, ww_error *err) {
    json_t *root = NULL;
    const ww_status status = ww__json_parse("c.json", text, n, &root, err);
    test_true("root only on success", (root != NULL) == (status == WW_OK));
    json_decref(root);
    return status;
}

static const struct {
    const char *name;
    const char *source;
    const char *text;
    ww_status status;
    size_t line;
    const char *column; /* how the message begins */
} documents[] = {
    {"an object", RFC, "{\"a\": [1, 2.5e-3, null, true, \"\\u00b5\"]}\n", WW_OK, 0, ""},
    {"white space", RFC, " \r\n\t{ } ", WW_OK, 0, ""},
    {"empty", RFC, "", WW_EINPUT, 0, "the file is empty"},
    {"white space alone", RFC, " \n\n", WW_EINPUT, 0, "the file is empty"},
    {"a byte order mark", "RFC 8259, 8.1: may be ignored", "\xef\xbb\xbf{}", WW_OK, 0, ""},
    {"nothing but that", RFC, "\xef\xbb\xbf", WW_EINPUT, 0, "the file is empty"},
    {"truncated", RFC, "{\"a\": [1,\n 2", WW_EINPUT, 2, "column 2: "},
    {"truncated text", RFC, "{\"a\": \"b", WW_EINPUT, 1, "column "},
    {"trailing comma", RFC, "{\n  \"a\": 1,\n}", WW_EINPUT, 3, "column 1: "},
    {"more after the end", RFC, "{}\n{}", WW_EINPUT, 2, "column "},
    {"nan", RFC, "{\"a\": nan}", WW_EINPUT, 1, "column "},
    {"NaN", RFC, "{\"a\": NaN}", WW_EINPUT, 1, "column "},
    {"Infinity", RFC, "{\"a\": -Infinity}", WW_EINPUT, 1, "column "},
    {"beyond a double", "IEEE 754", "{\"a\":\n1e999}", WW_EINPUT, 2, "column "},
    {"decimal comma", RFC, "{\"a\": [1,5,]}", WW_EINPUT, 1, "column "},
    {"leading zero", RFC, "{\"a\": 01}", WW_EINPUT, 1, "column "},
    {"hexadecimal", RFC, "{\"a\": 0x1p3}", WW_EINPUT, 1, "column "},
    {"single quotes", RFC, "{'a': 1}", WW_EINPUT, 1, "column "},
    {"comment", RFC, "{} // said", WW_EINPUT, 1, "column "},
    {"key twice", "definition", "{\"a\": 1,\n\"a\": 2}", WW_EINPUT, 2, "column "},
    {"control character", RFC, "{\"a\": \"\x1b[31m\"}", WW_EINPUT, 1, "column "},
    {"not UTF-8", RFC, "{\"a\": \"Gr\xFCn\"}", WW_EINPUT, 1, "column "},
    {"lone surrogate", RFC, "{\"a\": \"\\ud800\"}", WW_EINPUT, 1, "column "},
    {"array at the root", "definition", "[1, 2]", WW_EINPUT, 1, "the document is not an object"},
    {"readings", "definition", "# name: x\nstep,wedge,visual\n", WW_EINPUT, 1, "column "},
};

static void says_where_a_document_breaks(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof documents / sizeof documents[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        const char *row = documents[i].name;
        test_status(row, parse(documents[i].text, strlen(documents[i].text), &err),
                    documents[i].status, &err);
        if (documents[i].status == WW_OK)
            continue;
        test_text(row, err.file, "c.json");
        assert_int_equal(err.line, documents[i].line);
        test_true(row, strncmp(err.msg, documents[i].column, strlen(documents[i].column)) == 0);
        test_true("remedy", strstr(err.msg, "; give a file as wedgework wrote it") != NULL);
        for (const char *at = err.msg; *at; at++)
            test_true("harmless on a terminal", (unsigned char)*at >= 0x20 && *at != 0x7f);
    }
}

static void refuses_bytes_that_no_text_has(void **state) {
    static const char nul[] = "{\"a\": \"b\0c\"}";
    char deep[20001];
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("NUL", parse(nul, sizeof nul - 1, &err), WW_EINPUT, &err);
    test_status("NUL after the end", parse("{}\0", 3, &err), WW_EINPUT, &err);
    test_status("escaped NUL", parse("{\"a\": \"\\u0000\"}", 15, &err), WW_EINPUT, &err);
    memset(deep, '[', sizeof deep);
    memcpy(deep, "{\"a\":", 5);
    test_status("deep arrays", parse(deep, sizeof deep - 1, &err), WW_EINPUT, &err);
    for (size_t i = 0; i + 5 <= sizeof deep; i += 5)
        memcpy(deep + i, "{\"a\":", 5);
    test_status("deep objects", parse(deep, sizeof deep - 1, &err), WW_EINPUT, &err);
    test_status("no bytes", parse(NULL, 0, NULL), WW_EINPUT, NULL);
}

/* One document whose keys hold every type; each read asks for something of one of them. */
static const char types[] = "{\"number\": 2.731, \"whole\": 21, \"text\": \"red\", \"yes\": true,"
                            " \"null\": null, \"array\": [1, [2, \"x\"]], \"object\": {\"in\": {}},"
                            " \"huge\": 9223372036854775807,"
                            " \"q\": {\"value\": 0.21, \"low\": 0.2, \"high\": 0.22,"
                            " \"how\": \"measured\"},"
                            " \"turned\": {\"value\": 0.21, \"low\": 0.3, \"high\": 0.22,"
                            " \"how\": \"measured\"},"
                            " \"how\": {\"value\": 0.21, \"low\": 0.2, \"high\": 0.22,"
                            " \"how\": \"absent\"},"
                            " \"pair\": [-1.5, 2.5], \"back\": [2.5, -1.5], \"triple\": [1, 2, 3]}";

static const char *const words[] = {"unknown", "red", "green"};

typedef enum ask { NUMBER, WHOLE, YES, TEXT, WORD, OBJECT, PAIR, RISING, QUANTITY, OPTIONAL } ask;

static void answer(ww__json_reader *reader, const ww__json_place *place, ask asked) {
    double a = 7, b = 7;
    switch (asked) {
    case NUMBER:
        ww__json_read_number(reader, place, -0.1, 6.0);
        break;
    case WHOLE:
        ww__json_read_integer(reader, place, 1, 99);
        break;
    case YES:
        ww__json_read_bool(reader, place);
        break;
    case TEXT:
        ww__json_read_text(reader, place);
        break;
    case WORD:
        ww__json_read_word(reader, place, words, 1, 3);
        break;
    case OBJECT:
        ww__json_read_object(reader, place);
        break;
    case PAIR:
    case RISING:
        if (!ww__json_read_pair(reader, place, 3.0, asked == RISING, &a, &b))
            test_true("untouched", a == 7 && b == 7);
        break;
    case QUANTITY:
        ww__json_read_quantity(reader, place);
        break;
    case OPTIONAL:
        ww__json_read_optional(reader, place, 0.0, 6.0);
        break;
    }
}

/* Source: definition. NULL: no complaint. */
static const struct {
    const char *key;
    ask asked;
    const char *complaint;
} asks[] = {
    {"number", NUMBER, NULL},
    {"whole", WHOLE, NULL},
    {"yes", YES, NULL},
    {"text", TEXT, NULL},
    {"text", WORD, NULL},
    {"object", OBJECT, NULL},
    {"pair", RISING, NULL},
    {"back", PAIR, NULL},
    {"q", QUANTITY, NULL},
    {"null", QUANTITY, NULL},
    {"missing", QUANTITY, NULL},
    {"null", OPTIONAL, NULL},
    {"missing", OPTIONAL, NULL},
    {"missing", PAIR, NULL},
    {"missing", NUMBER, "key 'missing' is missing; write the file anew with wedgework"},
    {"text", NUMBER, "key 'text' is the text 'red' where a number must stand"},
    {"null", NUMBER, "key 'null' is null where a number must stand"},
    {"array", NUMBER, "key 'array' is an array where a number must stand"},
    {"whole", NUMBER, "key 'whole' is 21; it must lie between -0.1 and 6"},
    {"number", WHOLE, "key 'number' is a number where a whole number must stand"},
    {"huge", WHOLE, "key 'huge' is 9223372036854775807; it must lie between 1 and 99"},
    {"whole", YES, "key 'whole' is a number where true or false must stand"},
    {"yes", TEXT, "key 'yes' is true or false where a text must stand"},
    {"object", WORD, "key 'object' is an object where a text must stand"},
    {"array", OBJECT, "key 'array' is an array where an object must stand"},
    {"triple", PAIR, "key 'triple' has 3 items where 2 must stand"},
    {"array", PAIR, "key 'array[1]' is an array where a number must stand"},
    {"back", RISING, "key 'back' does not run from low to high; write the file anew"},
    {"object", PAIR, "key 'object' is an object where an array must stand"},
    {"number", QUANTITY, "key 'number' is a number where an object must stand"},
    {"object", QUANTITY, "key 'object.value' is missing; write the file anew with wedgework"},
    {"turned", QUANTITY, "key 'turned.low' lies above the high end; write the file anew"},
    {"how", QUANTITY,
     "key 'how.how' is 'absent'; it must be one of 'measured', 'fitted', 'extrapolated', 'given'"},
    {"text", OPTIONAL, "key 'text' is the text 'red' where a number must stand"},
    {"whole", OPTIONAL, "key 'whole' is 21; it must lie between 0 and 6"},
};

static void names_the_key_and_what_is_wrong_with_it(void **state) {
    json_t *document = NULL;
    (void)state;
    assert_int_equal(ww__json_parse("c.json", types, sizeof types - 1, &document, NULL), WW_OK);
    for (size_t i = 0; i < sizeof asks / sizeof asks[0]; i++) {
        ww_error err = WW_ERROR_INIT;
        ww__json_reader reader = {.file = "c.json", .err = &err, .status = WW_OK};
        const ww__json_place root = ww__json_root(document);
        const ww__json_place place = ww__json_key(&root, asks[i].key);
        answer(&reader, &place, asks[i].asked);
        test_status(asks[i].key, reader.status, asks[i].complaint ? WW_EINPUT : WW_OK, &err);
        if (asks[i].complaint) {
            test_text(asks[i].key, err.msg, asks[i].complaint);
            test_text(asks[i].key, err.file, "c.json");
        }
    }
    json_decref(document);
}

static void reads_what_is_there(void **state) {
    json_t *document = NULL;
    ww__json_reader reader = {.file = "c.json", .err = NULL, .status = WW_OK};
    ww__json_place root, place;
    ww_quantity quantity;
    double low = 0, high = 0;
    char *copy;
    (void)state;
    assert_int_equal(ww__json_parse("c.json", types, sizeof types - 1, &document, NULL), WW_OK);
    root = ww__json_root(document);
    test_close("number", ww__json_number_of(&reader, &root, "number", 2.731, 2.731), 2.731, 0.0);
    place = ww__json_key(&root, "whole");
    assert_int_equal(ww__json_read_integer(&reader, &place, 21, 21), 21);
    test_close("a whole number is a number", ww__json_read_number(&reader, &place, 0, 99), 21, 0);
    place = ww__json_key(&root, "yes");
    assert_true(ww__json_read_bool(&reader, &place));
    place = ww__json_key(&root, "text");
    assert_int_equal(ww__json_read_word(&reader, &place, words, 0, 3), 1);
    copy = ww__json_copy_text(&reader, &place);
    test_text("text", copy, "red");
    free(copy);
    place = ww__json_key(&root, "array");
    assert_int_equal(ww__json_read_array(&reader, &place, 0, 9), 2);
    place = ww__json_key(&root, "pair");
    assert_true(ww__json_read_pair(&reader, &place, 3.0, true, &low, &high));
    test_close("pair", low, -1.5, 0.0);
    test_close("pair", high, 2.5, 0.0);
    place = ww__json_key(&root, "q");
    quantity = ww__json_read_quantity(&reader, &place);
    assert_int_equal(quantity.how, WW_MEASURED);
    test_close("q", quantity.value, 0.21, 0.0);
    test_close("q", quantity.low, 0.2, 0.0);
    test_close("q", quantity.high, 0.22, 0.0);
    place = ww__json_key(&root, "null");
    assert_false(ww__json_said(&place));
    assert_null(ww__json_copy_text(&reader, &place));
    assert_int_equal(reader.status, WW_OK);
    json_decref(document);
}

static void keeps_the_first_complaint(void **state) {
    json_t *document = NULL;
    ww_error err = WW_ERROR_INIT;
    ww__json_reader reader = {.file = "c.json", .err = &err, .status = WW_OK};
    ww__json_place root, missing;
    (void)state;
    assert_int_equal(ww__json_parse("c.json", types, sizeof types - 1, &document, NULL), WW_OK);
    root = ww__json_root(document);
    missing = ww__json_key(&root, "missing");
    ww__json_read_text(&reader, &missing);
    test_close("after a failure", ww__json_number_of(&reader, &root, "number", 0, 6), 0.0, 0.0);
    ww__json_refuse(&reader, &root, "is a second complaint");
    ww__json_no_memory(&reader);
    test_status("first", reader.status, WW_EINPUT, &err);
    test_text("first", err.msg, "key 'missing' is missing; write the file anew with wedgework");
    json_decref(document);
}

static void reads_notes(void **state) {
    static const char text[] = "{\"notes\": [\"one\", \"100 % sure\"], \"wrong\": [\"one\", 2]}";
    json_t *document = NULL;
    ww_error err = WW_ERROR_INIT;
    ww__json_reader reader = {.file = "c.json", .err = &err, .status = WW_OK};
    ww_notes notes = WW_NOTES_INIT;
    ww__json_place root, place;
    (void)state;
    assert_int_equal(ww__json_parse("c.json", text, sizeof text - 1, &document, NULL), WW_OK);
    root = ww__json_root(document);
    place = ww__json_key(&root, "notes");
    ww__json_read_notes(&reader, &place, &notes);
    test_status("notes", reader.status, WW_OK, &err);
    assert_int_equal(notes.n, 2);
    test_text("no format", notes.text[1], "100 % sure");
    place = ww__json_key(&root, "wrong");
    ww__json_read_notes(&reader, &place, &notes);
    test_text("wrong", err.msg, "key 'wrong[1]' is a number where a text must stand");
    ww_notes_release(&notes);
    json_decref(document);
}

/* Source: definition. */
static void refuses_keys_that_are_not_known(void **state) {
    static const char *const known[] = {"tone", "stops"};
    static const char text[] =
        "{\"good\": {\"stops\": 1}, \"slip\": {\"tone\": 1, \"st\\u0007op\": 2}, "
        "\"none\": 3}";
    ww_error err = WW_ERROR_INIT;
    ww__json_reader reader = {.file = "c.json", .err = &err, .status = WW_OK};
    ww__json_place root, at;
    json_t *document = NULL;
    (void)state;
    assert_int_equal(ww__json_parse("c.json", text, strlen(text), &document, &err), WW_OK);
    root = ww__json_root(document);
    at = ww__json_key(&root, "good");
    ww__json_refuse_others(&reader, &at, known, 2);
    at = ww__json_key(&root, "none");
    ww__json_refuse_others(&reader, &at, known, 2);
    at = ww__json_key(&root, "missing");
    ww__json_refuse_others(&reader, &at, known, 2);
    test_status("all known, or no object", reader.status, WW_OK, &err);
    at = ww__json_key(&root, "slip");
    ww__json_refuse_others(&reader, &at, known, 2);
    test_status("slip", reader.status, WW_EINPUT, &err);
    test_true("named, and harmless",
              strstr(err.msg, "'slip' has a key 'st") != NULL && strchr(err.msg, '\a') == NULL);
    json_decref(document);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(says_where_a_document_breaks),
        cmocka_unit_test(refuses_bytes_that_no_text_has),
        cmocka_unit_test(names_the_key_and_what_is_wrong_with_it),
        cmocka_unit_test(reads_what_is_there),
        cmocka_unit_test(keeps_the_first_complaint),
        cmocka_unit_test(reads_notes),
        cmocka_unit_test(refuses_keys_that_are_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
