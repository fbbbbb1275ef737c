/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include "base/escape.h"
#include "base/locale.h"
#include <assert.h>
#include <float.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = 256, LIST_SIZE = 256, QUOTE_SIZE = 200, NUMBER_SIZE = 32 };

/* The parser quotes the input; what it quotes may end on a terminal. */
static void make_harmless(char *text) {
    for (; *text; text++)
        if ((unsigned char)*text < 0x20 || *text == 0x7f)
            *text = '?';
}

static ww_status no_memory(const char *file, ww_error *err) {
    return ww_error_set_at(err, WW_EMEMORY, file, 0, "no memory to read this file");
}

/*
 * Where memory fails it, jansson 2.14 drops characters of a long token without a word, so
 * that 2.731 may become 2.71; other failures it calls syntax errors. Hence two looks, believed
 * where they agree. Files are small.
 */
static json_t *load(const char bytes[], size_t n, json_error_t *trouble, bool *agreed) {
    const char *from = n > 0 ? bytes : "";
    json_error_t second_trouble;
    json_t *first = json_loadb(from, n, JSON_REJECT_DUPLICATES, trouble);
    json_t *second = json_loadb(from, n, JSON_REJECT_DUPLICATES, &second_trouble);
    *agreed = first ? json_equal(first, second)
                    : !second && trouble->position == second_trouble.position &&
                          trouble->text[0] != '\0' &&
                          json_error_code(trouble) != json_error_out_of_memory;
    json_decref(second);
    if (!*agreed) {
        json_decref(first);
        return NULL;
    }
    return first;
}

/* Nothing but RFC 8259's white space. */
static bool is_blank(const char bytes[], size_t n) {
    for (size_t i = 0; i < n; i++)
        if (!memchr(" \t\r\n", bytes[i], 4))
            return false;
    return true;
}

ww_status ww__json_parse(const char *file, const char bytes[], size_t n, json_t **root,
                         ww_error *err) {
    static const char mark[] = "\xef\xbb\xbf"; /* some editors begin a file of UTF-8 with it */
    json_error_t trouble;
    bool agreed;
    json_t *value;
    assert(file && root && (bytes || n == 0));
    if (n >= sizeof mark - 1 && memcmp(bytes, mark, sizeof mark - 1) == 0) {
        bytes += sizeof mark - 1;
        n -= sizeof mark - 1;
    }
    if (is_blank(bytes, n))
        return ww_error_set_at(err, WW_EINPUT, file, 0,
                               "the file is empty; give a file as wedgework wrote it");
    value = load(bytes, n, &trouble, &agreed);
    if (!agreed)
        return no_memory(file, err);
    if (!value) {
        make_harmless(trouble.text);
        return ww_error_set_at(err, WW_EINPUT, file, trouble.line > 0 ? (size_t)trouble.line : 0,
                               "column %d: not JSON: %s; give a file as wedgework wrote it",
                               trouble.column, trouble.text);
    }
    if (!json_is_object(value)) {
        json_decref(value);
        return ww_error_set_at(err, WW_EINPUT, file, 1,
                               "the document is not an object in braces; give a file as wedgework "
                               "wrote it");
    }
    *root = value;
    return WW_OK;
}

ww__json_place ww__json_root(const json_t *root) {
    return (ww__json_place){.value = root};
}

ww__json_place ww__json_key(const ww__json_place *up, const char *key) {
    return (ww__json_place){.up = up, .key = key, .value = json_object_get(up->value, key)};
}

ww__json_place ww__json_item(const ww__json_place *up, size_t index) {
    return (ww__json_place){.up = up, .index = index, .value = json_array_get(up->value, index)};
}

bool ww__json_said(const ww__json_place *place) {
    return place->value && !json_is_null(place->value);
}

/* Written from the last step back to the root, so that a path too long keeps its telling end. */
static const char *path_of(const ww__json_place *place, char text[PATH_SIZE]) {
    size_t at = PATH_SIZE - 1;
    text[at] = '\0';
    for (; place->up; place = place->up) {
        char step[64];
        size_t length;
        if (place->key)
            snprintf(step, sizeof step, "%s%s", place->up->up ? "." : "", place->key);
        else
            snprintf(step, sizeof step, "[%zu]", place->index);
        length = strlen(step);
        if (length > at)
            break;
        at -= length;
        memcpy(text + at, step, length);
    }
    return text + at;
}

void ww__json_refuse(ww__json_reader *reader, const ww__json_place *place, const char *format,
                     ...) {
    char path[PATH_SIZE], what[WW_ERROR_MESSAGE_SIZE];
    va_list args;
    if (reader->status != WW_OK)
        return;
    va_start(args, format);
    if (vsnprintf(what, sizeof what, format, args) < 0)
        snprintf(what, sizeof what, "%s", format);
    va_end(args);
    make_harmless(what);
    reader->status = ww_error_set_at(reader->err, WW_EINPUT, reader->file, 0, "key '%s' %s",
                                     path_of(place, path), what);
}

void ww__json_no_memory(ww__json_reader *reader) {
    if (reader->status == WW_OK)
        reader->status = no_memory(reader->file, reader->err);
}

static const char *type_of(const json_t *value) {
    switch (json_typeof(value)) {
    case JSON_OBJECT:
        return "an object";
    case JSON_ARRAY:
        return "an array";
    case JSON_STRING:
        return "a text";
    case JSON_INTEGER:
    case JSON_REAL:
        return "a number";
    case JSON_TRUE:
    case JSON_FALSE:
        return "true or false";
    case JSON_NULL:
        break;
    }
    return "null";
}

/* Whether the value is there and `fits`; complains otherwise. */
static bool expect(ww__json_reader *reader, const ww__json_place *place, bool fits,
                   const char *wanted) {
    char quote[QUOTE_SIZE];
    if (reader->status != WW_OK)
        return false;
    if (fits)
        return true;
    if (!place->value)
        ww__json_refuse(reader, place, "is missing; write the file anew with wedgework");
    else if (json_is_string(place->value))
        ww__json_refuse(reader, place, "is the text '%s' where %s must stand",
                        ww__escape_message(json_string_value(place->value), quote, sizeof quote),
                        wanted);
    else
        ww__json_refuse(reader, place, "is %s where %s must stand", type_of(place->value), wanted);
    return false;
}

static const char *show(double value, char text[NUMBER_SIZE]) {
    const ww__locale locale = ww__locale_plain();
    snprintf(text, NUMBER_SIZE, "%.10g", value);
    ww__locale_restore(locale);
    return text;
}

double ww__json_read_number(ww__json_reader *reader, const ww__json_place *place, double low,
                            double high) {
    char given[NUMBER_SIZE], least[NUMBER_SIZE], most[NUMBER_SIZE];
    double value;
    if (!expect(reader, place, json_is_number(place->value), "a number"))
        return 0.0;
    value = json_number_value(place->value);
    if (value >= low && value <= high)
        return value;
    ww__json_refuse(reader, place, "is %s; it must lie between %s and %s", show(value, given),
                    show(low, least), show(high, most));
    return 0.0;
}

long ww__json_read_integer(ww__json_reader *reader, const ww__json_place *place, long low,
                           long high) {
    json_int_t value;
    if (!expect(reader, place, json_is_integer(place->value), "a whole number"))
        return 0;
    value = json_integer_value(place->value);
    if (value >= low && value <= high)
        return (long)value;
    ww__json_refuse(reader, place, "is %lld; it must lie between %ld and %ld", (long long)value,
                    low, high);
    return 0;
}

bool ww__json_read_bool(ww__json_reader *reader, const ww__json_place *place) {
    return expect(reader, place, json_is_boolean(place->value), "true or false") &&
           json_is_true(place->value);
}

const char *ww__json_read_text(ww__json_reader *reader, const ww__json_place *place) {
    if (!expect(reader, place, json_is_string(place->value), "a text"))
        return NULL;
    return json_string_value(place->value);
}

size_t ww__json_read_word(ww__json_reader *reader, const ww__json_place *place,
                          const char *const words[], size_t first, size_t n) {
    char list[LIST_SIZE] = "", quote[QUOTE_SIZE];
    const char *text = ww__json_read_text(reader, place);
    if (!text)
        return first;
    for (size_t i = first; i < n; i++)
        if (strcmp(text, words[i]) == 0)
            return i;
    for (size_t i = first; i < n; i++) {
        const size_t used = strlen(list);
        snprintf(list + used, sizeof list - used, "%s'%s'", i > first ? ", " : "", words[i]);
    }
    ww__json_refuse(reader, place, "is '%s'; it must be one of %s",
                    ww__escape_message(text, quote, sizeof quote), list);
    return first;
}

bool ww__json_read_object(ww__json_reader *reader, const ww__json_place *place) {
    return expect(reader, place, json_is_object(place->value), "an object");
}

static bool is_among(const char *key, const char *const known[], size_t n) {
    for (size_t i = 0; i < n; i++)
        if (strcmp(key, known[i]) == 0)
            return true;
    return false;
}

void ww__json_refuse_others(ww__json_reader *reader, const ww__json_place *place,
                            const char *const known[], size_t n) {
    json_t *object = (json_t *)place->value; /* an iterator asks for it so, and changes nothing */
    char quote[QUOTE_SIZE];
    for (void *at = json_object_iter(object); at && reader->status == WW_OK;
         at = json_object_iter_next(object, at))
        if (!is_among(json_object_iter_key(at), known, n))
            ww__json_refuse(reader, place,
                            "has a key '%s', which is not known here; correct it, or take it out",
                            ww__escape_message(json_object_iter_key(at), quote, sizeof quote));
}

size_t ww__json_read_array(ww__json_reader *reader, const ww__json_place *place, size_t least,
                           size_t most) {
    size_t n;
    if (!expect(reader, place, json_is_array(place->value), "an array"))
        return 0;
    n = json_array_size(place->value);
    if (n >= least && n <= most)
        return n;
    if (least == most)
        ww__json_refuse(reader, place, "has %zu items where %zu must stand", n, least);
    else
        ww__json_refuse(reader, place, "has %zu items; it must have %zu to %zu", n, least, most);
    return 0;
}

ww_optional ww__json_read_optional(ww__json_reader *reader, const ww__json_place *place, double low,
                                   double high) {
    ww_optional optional = {false, 0.0};
    if (!ww__json_said(place))
        return optional;
    optional.value = ww__json_read_number(reader, place, low, high);
    optional.set = reader->status == WW_OK;
    return optional;
}

char *ww__json_copy_text(ww__json_reader *reader, const ww__json_place *place) {
    const char *text;
    char *copy;
    if (!ww__json_said(place) || !(text = ww__json_read_text(reader, place)))
        return NULL;
    copy = malloc(strlen(text) + 1);
    if (!copy) {
        ww__json_no_memory(reader);
        return NULL;
    }
    return strcpy(copy, text);
}

double ww__json_number_of(ww__json_reader *reader, const ww__json_place *up, const char *key,
                          double low, double high) {
    const ww__json_place place = ww__json_key(up, key);
    return ww__json_read_number(reader, &place, low, high);
}

bool ww__json_read_pair(ww__json_reader *reader, const ww__json_place *place, double limit,
                        bool ordered, double *first, double *second) {
    double end[2];
    if (!ww__json_said(place) || ww__json_read_array(reader, place, 2, 2) != 2)
        return false;
    for (size_t i = 0; i < 2; i++) {
        const ww__json_place item = ww__json_item(place, i);
        end[i] = ww__json_read_number(reader, &item, -limit, limit);
    }
    if (reader->status == WW_OK && ordered && !(end[0] < end[1]))
        ww__json_refuse(reader, place, "does not run from low to high; write the file anew");
    if (reader->status != WW_OK)
        return false;
    *first = end[0];
    *second = end[1];
    return true;
}

ww_quantity ww__json_read_interval(ww__json_reader *reader, const ww__json_place *up,
                                   const char *value_key) {
    const ww_quantity absent = WW_QUANTITY_INIT;
    const ww__json_place how = ww__json_key(up, "how");
    const char *words[WW_GIVEN + 1];
    ww_quantity quantity;
    for (size_t i = 0; i <= WW_GIVEN; i++)
        words[i] = ww_quantity_how_name((ww_how)i);
    quantity.value = ww__json_number_of(reader, up, value_key, -DBL_MAX, DBL_MAX);
    quantity.low = ww__json_number_of(reader, up, "low", -DBL_MAX, DBL_MAX);
    quantity.high = ww__json_number_of(reader, up, "high", -DBL_MAX, DBL_MAX);
    quantity.how = (ww_how)ww__json_read_word(reader, &how, words, WW_MEASURED, WW_GIVEN + 1);
    if (reader->status == WW_OK && quantity.low > quantity.high) {
        const ww__json_place low = ww__json_key(up, "low");
        ww__json_refuse(reader, &low, "lies above the high end; write the file anew");
    }
    return reader->status == WW_OK ? quantity : absent;
}

ww_quantity ww__json_read_quantity(ww__json_reader *reader, const ww__json_place *place) {
    const ww_quantity absent = WW_QUANTITY_INIT;
    if (!ww__json_said(place) || !ww__json_read_object(reader, place))
        return absent;
    return ww__json_read_interval(reader, place, "value");
}

void ww__json_read_notes(ww__json_reader *reader, const ww__json_place *place, ww_notes *notes) {
    size_t n;
    if (!ww__json_said(place))
        return;
    n = ww__json_read_array(reader, place, 0, SIZE_MAX);
    for (size_t i = 0; i < n; i++) {
        const ww__json_place item = ww__json_item(place, i);
        const char *text = ww__json_read_text(reader, &item);
        if (text && ww_notes_add(notes, NULL, "%s", text) != WW_OK)
            ww__json_no_memory(reader);
    }
}
