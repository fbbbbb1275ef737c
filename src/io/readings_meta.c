/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_meta.h"
#include "base/escape.h"
#include "core/meta.h"
#include "core/readings.h"
#include "io/lines.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

enum { KEY_SIZE = 41 };

/* "Log_H0" and "log  h0" are the key "log h0". False where it is too long for a key. */
static bool tidy_key(const char *at, size_t n, char key[KEY_SIZE]) {
    size_t used = 0;
    ww__lines_trim(&at, &n);
    for (size_t i = 0; i < n; i++) {
        char c = at[i] == '_' || at[i] == '\t' ? ' ' : at[i];
        if (c == ' ' && used > 0 && key[used - 1] == ' ')
            continue;
        if (used + 1 == KEY_SIZE)
            return false;
        key[used++] = c;
    }
    key[used] = '\0';
    return used > 0;
}

/* The value without white space, a spreadsheet's trailing separators, and quotes around it. */
static ww_status tidy_value(const char *at, size_t n, ww__text *value, ww_error *err) {
    ww__lines_trim(&at, &n);
    while (n > 0 && (at[n - 1] == ',' || at[n - 1] == ';' || at[n - 1] == '\t' || at[n - 1] == ' '))
        n--;
    if (n >= 2 && at[0] == '"' && at[n - 1] == '"') {
        for (size_t i = 1; i + 1 < n; i++) {
            ww__text_add_bytes(value, at + i, 1);
            if (at[i] == '"' && at[i + 1] == '"' && i + 2 < n)
                i++;
        }
    } else {
        ww__text_add_bytes(value, at, n);
    }
    return ww__text_status(value, err);
}

static void list_words(const ww__meta_field *field, char list[], size_t size) {
    size_t used = 0;
    (void)size; /* for the assertion alone */
    list[0] = '\0';
    for (size_t i = 1; i < field->n_words; i++) {
        size_t n = strlen(field->words[i]);
        const char *joint = i == 1 ? "" : i + 1 == field->n_words ? " or " : ", ";
        size_t joint_n = strlen(joint);
        assert(used + joint_n + n < size);
        memcpy(list + used, joint, joint_n);
        memcpy(list + used + joint_n, field->words[i], n + 1);
        used += joint_n + n;
    }
}

/* What a key and its value come to, before they go into the metadata. */
typedef struct entry {
    const ww__meta_field *field;
    const char *value;
    size_t line;
    double number;
    unsigned word;
} entry;

static ww_status parse_word(const ww__meta_reader *reader, entry *at, ww_error *err) {
    char shown[64], list[160];
    for (unsigned i = 1; i < at->field->n_words; i++) {
        if (ww__words_equal(at->value, at->field->words[i])) {
            at->word = i;
            return WW_OK;
        }
    }
    list_words(at->field, list, sizeof list);
    ww__escape_message(at->value, shown, sizeof shown);
    return ww_error_set_at(err, WW_EINPUT, reader->file, at->line, "%s '%s' is not known; write %s",
                           at->field->key, shown, list);
}

static ww_status parse_number(const ww__meta_reader *reader, entry *at, ww_error *err) {
    const ww__meta_field *field = at->field;
    char shown[64];
    bool comma = strchr(at->value, ',') != NULL && strchr(at->value, '.') == NULL;
    char mark = comma && reader->decimal_comma ? ',' : '.';
    ww__escape_message(at->value, shown, sizeof shown);
    if (ww_number_parse(at->value, mark, &at->number, NULL) != WW_OK)
        return ww_error_set_at(err, WW_EINPUT, reader->file, at->line,
                               "%s '%s' is not a number; write the bare number%s", field->key,
                               shown, comma ? " with a decimal point" : "");
    if (at->number < field->low || at->number > field->high ||
        (field->above && at->number <= field->low))
        return ww_error_set_at(
            err, WW_EINPUT, reader->file, at->line,
            "%s %s lies outside %s%g to %g; check the unit and the decimal point", field->key,
            shown, field->above ? "above " : "", field->low, field->high);
    return WW_OK;
}

static ww_status parse_entry(const ww__meta_reader *reader, entry *at, ww_error *err) {
    const char *problem;
    char shown[64];
    switch (at->field->kind) {
    case WW__META_WORD:
        return parse_word(reader, at, err);
    case WW__META_NUMBER:
        return parse_number(reader, at, err);
    default:
        problem = ww__lines_text_problem(at->value);
        if (!problem)
            return WW_OK;
        ww__escape_message(at->value, shown, sizeof shown);
        return ww_error_set_at(err, WW_EINPUT, reader->file, at->line, "%s '%s' %s", at->field->key,
                               shown, problem);
    }
}

static bool agrees(const ww__meta_reader *reader, const entry *at) {
    switch (at->field->kind) {
    case WW__META_WORD:
        return ww__meta_word(reader->meta, at->field) == at->word;
    case WW__META_NUMBER: {
        double known = ww__meta_number(reader->meta, at->field)->value;
        return !(known < at->number) && !(known > at->number);
    }
    default:
        return strcmp(*ww__meta_text(reader->meta, at->field), at->value) == 0;
    }
}

static ww_status store(ww__meta_reader *reader, const entry *at, size_t index, ww_error *err) {
    size_t *first = &reader->line[index];
    char shown[64];
    if (*first > 0) {
        if (agrees(reader, at))
            return WW_OK;
        ww__escape_message(at->value, shown, sizeof shown);
        return ww_error_set_at(err, WW_EINPUT, reader->file, at->line,
                               "%s is '%s' here and something else in line %zu; keep the true one",
                               at->field->key, shown, *first);
    }
    if (at->field->kind == WW__META_WORD)
        ww__meta_set_word(reader->meta, at->field, at->word);
    else if (at->field->kind == WW__META_NUMBER)
        *ww__meta_number(reader->meta, at->field) = (ww_optional){true, at->number};
    else {
        char *copy = NULL;
        ww_status status = ww__readings_text_copy(at->value, &copy, err);
        if (status != WW_OK)
            return status;
        free(*ww__meta_text(reader->meta, at->field));
        *ww__meta_text(reader->meta, at->field) = copy;
    }
    *first = at->line;
    return WW_OK;
}

static ww_status take(ww__meta_reader *reader, const ww__meta_field *field, size_t index,
                      const char *value, size_t line, ww_error *err) {
    entry at = {field, value, line, 0.0, 0};
    ww_error local = WW_ERROR_INIT;
    ww_status status;
    if (value[0] == '\0')
        return WW_OK; /* a form with nothing filled in */
    status = parse_entry(reader, &at, &local);
    if (status == WW_OK)
        status = store(reader, &at, index, &local);
    if (status == WW_EINPUT && reader->foreign) {
        if (reader->noted++ >= WW__META_NOTES_MOST)
            return WW_OK;
        return ww_notes_add(reader->notes, err, "line %zu is taken as a mere comment: %s", line,
                            local.msg);
    }
    if (status != WW_OK && err)
        *err = local;
    return status;
}

/* A comment that is nearly metadata deserves a word. */
static ww_status note_slip(ww__meta_reader *reader, const char *key, char mark, size_t line,
                           ww_error *err) {
    size_t n;
    char shown[64];
    const ww__meta_field *fields = ww__meta_fields(&n);
    ww__escape_message(key, shown, sizeof shown);
    if (reader->noted >= WW__META_NOTES_MOST)
        return WW_OK;
    for (size_t i = 0; i < n; i++) {
        bool equals = mark == '=' && ww__words_equal(key, fields[i].key);
        if (!equals && !(mark == ':' && ww__words_near(key, fields[i].key)))
            continue;
        reader->noted++;
        return ww_notes_add(
            reader->notes, err,
            "line %zu, '%s', is taken as a mere comment; write '%s:' if it is to count", line,
            shown, fields[i].key);
    }
    return WW_OK;
}

ww_status ww__readings_meta_line(ww__meta_reader *reader, const char *comment, size_t n,
                                 size_t line, bool *taken, ww_error *err) {
    size_t n_fields, colon = 0;
    char key[KEY_SIZE];
    char mark;
    const ww__meta_field *fields = ww__meta_fields(&n_fields);
    assert(n_fields <= WW__META_MOST);
    if (taken)
        *taken = false;
    while (colon < n && comment[colon] != ':' && comment[colon] != '=')
        colon++;
    if (colon == n || !tidy_key(comment, colon, key))
        return WW_OK;
    mark = comment[colon];
    for (size_t i = 0; i < n_fields; i++) {
        if (mark == ':' && ww__words_equal(key, fields[i].key)) {
            ww__text value = WW__TEXT_INIT;
            ww_status status = tidy_value(comment + colon + 1, n - colon - 1, &value, err);
            if (status == WW_OK)
                status = take(reader, &fields[i], i, ww__text_string(&value), line, err);
            ww__text_release(&value);
            if (taken)
                *taken = true;
            return status;
        }
    }
    return note_slip(reader, key, mark, line, err);
}

/* Quotes keep what tidy_value would take off. */
static void write_value(ww__text *text, const char *value) {
    size_t n = strlen(value);
    bool quoted = value[0] == '"' || value[0] == ' ' || strchr(" ,;", value[n - 1]) != NULL;
    if (!quoted) {
        ww__text_add(text, value);
        return;
    }
    ww__text_add(text, "\"");
    for (const char *at = value; *at != '\0'; at++) {
        ww__text_add_bytes(text, at, 1);
        if (*at == '"')
            ww__text_add_bytes(text, at, 1);
    }
    ww__text_add(text, "\"");
}

void ww__readings_meta_write(ww__text *text, const ww_meta *meta) {
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    ww_meta view = *meta;
    for (size_t i = 0; i < n; i++) {
        const ww__meta_field *field = &fields[i];
        const char *words = field->kind == WW__META_TEXT ? *ww__meta_text(&view, field) : NULL;
        bool is_text = words != NULL && words[0] != '\0';
        bool is_number = field->kind == WW__META_NUMBER && ww__meta_number(&view, field)->set;
        bool is_word = field->kind == WW__META_WORD && ww__meta_word(&view, field) > 0;
        if (!is_text && !is_number && !is_word)
            continue;
        ww__text_add(text, "# ");
        ww__text_add(text, field->key);
        ww__text_add(text, ": ");
        if (is_text)
            write_value(text, words);
        else if (is_number)
            ww__text_add_exact(text, ww__meta_number(&view, field)->value);
        else
            ww__text_add(text, field->words[ww__meta_word(&view, field)]);
        ww__text_add(text, "\n");
    }
}

ww_status ww__readings_meta_check(const ww_meta *meta, const char *file, ww_error *err) {
    size_t n;
    char shown[64];
    const ww__meta_field *fields = ww__meta_fields(&n);
    ww_meta view = *meta;
    for (size_t i = 0; i < n; i++) {
        const char *text =
            fields[i].kind == WW__META_TEXT ? *ww__meta_text(&view, &fields[i]) : NULL;
        const char *problem = text ? ww__lines_text_problem(text) : NULL;
        if (problem) {
            ww__escape_message(text, shown, sizeof shown);
            return ww_error_set_at(err, WW_EDOMAIN, file, 0, "%s '%s' %s", fields[i].key, shown,
                                   problem);
        }
    }
    return WW_OK;
}
