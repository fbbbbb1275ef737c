/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include <assert.h>
#include <stdbool.h>
#include <string.h>

/*
 * Length of the UTF-8 character at `at`, which is not the end; 0 where the bytes are none. The
 * bounds on the second byte shut out overlong forms, surrogates and what lies above U+10FFFF
 * (Unicode Standard, table 3-7).
 */
static size_t character_length(const char *at) {
    const unsigned char *b = (const unsigned char *)at;
    unsigned char low = 0x80, high = 0xBF;
    size_t length;
    if (b[0] < 0x80)
        return 1;
    if (b[0] < 0xC2 || b[0] > 0xF4)
        return 0;
    length = b[0] < 0xE0 ? 2 : b[0] < 0xF0 ? 3 : 4;
    if (b[0] == 0xE0)
        low = 0xA0;
    else if (b[0] == 0xED)
        high = 0x9F;
    else if (b[0] == 0xF0)
        low = 0x90;
    else if (b[0] == 0xF4)
        high = 0x8F;
    if (b[1] < low || b[1] > high)
        return 0;
    for (size_t i = 2; i < length; i++)
        if (b[i] < 0x80 || b[i] > 0xBF)
            return 0;
    return length;
}

/* Turns the order of what stands beside it: U+061C, U+200E to F, U+202A to E, U+2066 to 9 (Unicode
 * Standard Annex 9, table 1). */
static bool is_direction(const unsigned char b[]) {
    if (b[0] == 0xD8)
        return b[1] == 0x9C;
    if (b[0] != 0xE2)
        return false;
    return b[1] == 0x80 ? b[2] == 0x8E || b[2] == 0x8F || (b[2] >= 0xAA && b[2] <= 0xAE)
                        : b[1] == 0x81 && b[2] >= 0xA6 && b[2] <= 0xA9;
}

/* C0, DEL and C1, and those of direction. */
static bool is_control(const char *at) {
    const unsigned char *b = (const unsigned char *)at;
    return b[0] < 0x20 || b[0] == 0x7F || (b[0] == 0xC2 && b[1] < 0xA0) || is_direction(b);
}

/* Adds the string; `special` gives a character's replacement, or NULL to keep it. */
static void add_escaped(ww__text *text, const char *string,
                        const char *(*special)(const char *at)) {
    while (*string) {
        const size_t length = character_length(string);
        const char *instead = length == 0 ? "\xEF\xBF\xBD" : special(string);
        if (instead)
            ww__text_add(text, instead);
        else
            ww__text_add_bytes(text, string, length);
        string += length > 0 ? length : 1;
    }
}

/*
 * gnuplot's manual has '' stand for a quote in single quotes, but its scanner (5.4) ends the string
 * at one that comes first or after another; what follows would be run. So no quote is let through.
 */
static const char *special_in_gnuplot(const char *at) {
    if (*at == '\'')
        return "\xE2\x80\x99"; /* U+2019 */
    return is_control(at) ? " " : NULL;
}

void ww__escape_gnuplot(ww__text *text, const char *string) {
    ww__text_add(text, "'");
    add_escaped(text, string, special_in_gnuplot);
    ww__text_add(text, "'");
}

static const char *special_in_terminal(const char *at) {
    return is_control(at) ? " " : NULL;
}

void ww__escape_terminal(ww__text *text, const char *string) {
    add_escaped(text, string, special_in_terminal);
}

static const char *special_in_html(const char *at) {
    switch (*at) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    case '\t':
    case '\n':
    case '\r':
        return NULL;
    default:
        return is_control(at) ? "\xEF\xBF\xBD" : NULL;
    }
}

void ww__escape_html(ww__text *text, const char *string) {
    add_escaped(text, string, special_in_html);
}

static const char *special_in_csv(const char *at) {
    if (*at == '"')
        return "\"\"";
    return is_control(at) ? " " : NULL;
}

void ww__escape_csv(ww__text *text, const char *string) {
    /* '#' first would make the line a comment; spaces at the ends may be trimmed by a reader. */
    const size_t n = strlen(string);
    const bool quoted = n > 0 && (strpbrk(string, ",;\"\t\r\n") || string[0] == '#' ||
                                  string[0] == ' ' || string[n - 1] == ' ');
    if (quoted)
        ww__text_add(text, "\"");
    add_escaped(text, string, special_in_csv);
    if (quoted)
        ww__text_add(text, "\"");
}

char *ww__escape_message(const char *string, char shown[], size_t size) {
    const size_t room = size - sizeof "...";
    size_t used = 0;
    assert(string && shown && size >= 8);
    for (int count = 0; *string; count++) {
        const size_t length = character_length(string);
        const bool plain = length > 0 && !is_control(string);
        const size_t needed = plain ? length : 1;
        if (count == 40 || used + needed > room) {
            memcpy(shown + used, "...", 3);
            used += 3;
            break;
        }
        memcpy(shown + used, plain ? string : "?", needed);
        used += needed;
        string += length > 0 ? length : 1;
    }
    shown[used] = '\0';
    return shown;
}
