/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "io/json.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static void put(ww__json_writer *writer, const char *text) {
    ww__text_add(&writer->text, text);
}

static void fail(ww__json_writer *writer, const char *what, const char *remedy) {
    if (writer->status == WW_OK)
        writer->status = ww_error_set(writer->err, WW_EDOMAIN, "%s; %s", what, remedy);
}

/* Length of the UTF-8 sequence at `text`, 0 where there is none. The bounds of the second byte keep
 * out overlong forms, surrogates and what lies beyond U+10FFFF. */
static size_t sequence_length(const unsigned char *text) {
    const unsigned char first = text[0];
    const size_t length = first < 0x80                    ? 1
                          : first >= 0xc2 && first < 0xe0 ? 2
                          : first >= 0xe0 && first < 0xf0 ? 3
                          : first >= 0xf0 && first < 0xf5 ? 4
                                                          : 0;
    const unsigned char low = first == 0xe0 ? 0xa0 : first == 0xf0 ? 0x90 : 0x80;
    const unsigned char high = first == 0xed ? 0x9f : first == 0xf4 ? 0x8f : 0xbf;
    if (length > 1 && (text[1] < low || text[1] > high))
        return 0;
    for (size_t i = 2; i < length; i++)
        if (text[i] < 0x80 || text[i] > 0xbf)
            return 0;
    return length;
}

static void put_string(ww__json_writer *writer, const char *text) {
    const unsigned char *at = (const unsigned char *)text;
    put(writer, "\"");
    while (*at) {
        const size_t length = sequence_length(at);
        if (length == 0) {
            char quote[200], what[300];
            snprintf(what, sizeof what, "the text '%s' is not UTF-8",
                     ww__escape_message(text, quote, sizeof quote));
            fail(writer, what, "convert the readings to UTF-8");
            return;
        }
        if (*at == '"' || *at == '\\')
            put(writer, "\\");
        if (*at < 0x20) {
            char escape[8];
            snprintf(escape, sizeof escape, "\\u%04x", (unsigned)*at);
            put(writer, escape);
        } else {
            ww__text_add_bytes(&writer->text, (const char *)at, length);
        }
        at += length;
    }
    put(writer, "\"");
}

/* Comma, line and key: everything that comes before a value. */
static void begin(ww__json_writer *writer, const char *key) {
    ww__json_level *level = writer->depth > 0 ? &writer->level[writer->depth - 1] : NULL;
    if (level) {
        assert((key != NULL) == (level->close == '}'));
        if (level->used)
            put(writer, level->flat ? ", " : ",");
        if (!level->flat) {
            put(writer, "\n");
            for (size_t i = 0; i < writer->depth; i++)
                put(writer, "  ");
        }
        level->used = true;
    }
    if (key) {
        put_string(writer, key);
        put(writer, ": ");
    }
}

static void open_level(ww__json_writer *writer, const char *key, const char *brackets,
                       ww__json_layout layout) {
    const bool inside_flat = writer->depth > 0 && writer->level[writer->depth - 1].flat;
    assert(writer->depth < WW__JSON_DEPTH_MAX);
    begin(writer, key);
    ww__text_add_bytes(&writer->text, brackets, 1);
    writer->level[writer->depth++] = (ww__json_level){
        .close = brackets[1], .flat = inside_flat || layout == WW__JSON_FLAT, .used = false};
}

void ww__json_open_object(ww__json_writer *writer, const char *key, ww__json_layout layout) {
    open_level(writer, key, "{}", layout);
}

void ww__json_open_array(ww__json_writer *writer, const char *key, ww__json_layout layout) {
    open_level(writer, key, "[]", layout);
}

void ww__json_close(ww__json_writer *writer) {
    const ww__json_level *level;
    assert(writer->depth > 0);
    level = &writer->level[--writer->depth];
    if (level->used && !level->flat) {
        put(writer, "\n");
        for (size_t i = 0; i < writer->depth; i++)
            put(writer, "  ");
    }
    ww__text_add_bytes(&writer->text, &level->close, 1);
}

void ww__json_write_number(ww__json_writer *writer, const char *key, double value) {
    begin(writer, key);
    if (!isfinite(value)) {
        char what[80];
        snprintf(what, sizeof what, "the number for '%.40s' is not finite", key ? key : "an array");
        fail(writer, what, "it cannot be written");
    } else if (value == 0.0 && signbit(value)) {
        put(writer, "-0.0"); /* "-0" would read back as the integer 0 */
    } else {
        ww__text_add_exact(&writer->text, value);
    }
}

void ww__json_write_integer(ww__json_writer *writer, const char *key, long value) {
    char text[32];
    begin(writer, key);
    snprintf(text, sizeof text, "%ld", value);
    put(writer, text);
}

void ww__json_write_bool(ww__json_writer *writer, const char *key, bool value) {
    begin(writer, key);
    put(writer, value ? "true" : "false");
}

void ww__json_write_null(ww__json_writer *writer, const char *key) {
    begin(writer, key);
    put(writer, "null");
}

void ww__json_write_text(ww__json_writer *writer, const char *key, const char *text) {
    if (!text) {
        ww__json_write_null(writer, key);
        return;
    }
    begin(writer, key);
    put_string(writer, text);
}

void ww__json_write_name(ww__json_writer *writer, const char *key, const char *name) {
    ww__json_write_text(writer, key, name && name[0] ? name : NULL);
}

void ww__json_write_outside(ww__json_writer *writer, const char *key, const char *name) {
    ww__text clean = WW__TEXT_INIT;
    if (name)
        ww__escape_terminal(&clean, name);
    ww__json_write_text(writer, key, name ? ww__text_string(&clean) : NULL);
    writer->text.failed |= clean.failed;
    ww__text_release(&clean);
}

void ww__json_write_optional(ww__json_writer *writer, const char *key, ww_optional value) {
    if (value.set)
        ww__json_write_number(writer, key, value.value);
    else
        ww__json_write_null(writer, key);
}

void ww__json_write_pair(ww__json_writer *writer, const char *key, double first, double second) {
    ww__json_open_array(writer, key, WW__JSON_FLAT);
    ww__json_write_number(writer, NULL, first);
    ww__json_write_number(writer, NULL, second);
    ww__json_close(writer);
}

void ww__json_write_quantity_keys(ww__json_writer *writer, ww_quantity quantity) {
    ww__json_write_number(writer, "value", quantity.value);
    ww__json_write_number(writer, "low", quantity.low);
    ww__json_write_number(writer, "high", quantity.high);
    ww__json_write_text(writer, "how", ww_quantity_how_name(quantity.how));
}

void ww__json_write_quantity(ww__json_writer *writer, const char *key, ww_quantity quantity) {
    if (!ww_quantity_present(quantity)) {
        ww__json_write_null(writer, key);
        return;
    }
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    ww__json_write_quantity_keys(writer, quantity);
    ww__json_close(writer);
}

void ww__json_write_notes(ww__json_writer *writer, const char *key, const ww_notes *notes) {
    ww__json_open_array(writer, key, WW__JSON_LINES);
    for (size_t i = 0; i < notes->n; i++)
        ww__json_write_text(writer, NULL, notes->text[i]);
    ww__json_close(writer);
}

ww_status ww__json_finish(ww__json_writer *writer, char **text, size_t *n) {
    assert(writer->depth == 0);
    put(writer, "\n");
    if (writer->status == WW_OK)
        writer->status = ww__text_status(&writer->text, writer->err);
    if (writer->status != WW_OK) {
        ww__text_release(&writer->text);
        return writer->status;
    }
    *text = writer->text.bytes;
    *n = writer->text.n;
    writer->text = (ww__text)WW__TEXT_INIT;
    return WW_OK;
}
