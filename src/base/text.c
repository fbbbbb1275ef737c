/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "base/locale.h"
#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

enum { FIRST_ROOM = 256, NUMBER_SIZE = 352 /* -DBL_MAX with 17 decimals */ };

/* Makes room for n bytes more and the NUL. */
static bool grow(ww__text *text, size_t n) {
    size_t room = text->room ? text->room : FIRST_ROOM;
    char *bytes;
    if (text->failed)
        return false;
    if (n >= SIZE_MAX / 2 - text->n) {
        text->failed = true;
        return false;
    }
    while (room <= text->n + n)
        room *= 2;
    if (room == text->room)
        return true;
    bytes = realloc(text->bytes, room);
    if (!bytes) {
        text->failed = true;
        return false;
    }
    text->bytes = bytes;
    text->room = room;
    return true;
}

void ww__text_add_bytes(ww__text *text, const char *bytes, size_t n) {
    assert(text && (bytes || n == 0));
    if (!grow(text, n))
        return;
    if (n > 0)
        memcpy(text->bytes + text->n, bytes, n);
    text->n += n;
    text->bytes[text->n] = '\0';
}

void ww__text_add(ww__text *text, const char *string) {
    ww__text_add_bytes(text, string, strlen(string));
}

void ww__text_add_format(ww__text *text, const char *format, ...) {
    const ww__locale locale = ww__locale_plain();
    va_list args;
    int length;
    va_start(args, format);
    length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length < 0) {
        text->failed = true;
    } else if (grow(text, (size_t)length)) {
        va_start(args, format);
        vsnprintf(text->bytes + text->n, (size_t)length + 1, format, args);
        va_end(args);
        text->n += (size_t)length;
    }
    ww__locale_restore(locale);
}

int ww__text_decimals(double density) {
    const double hundredths = 100.0 * density;
    return fabs(hundredths - round(hundredths)) < 1e-6 ? 2 : 3;
}

void ww__text_add_number(ww__text *text, double value, int decimals) {
    char number[NUMBER_SIZE];
    ww__text_add(text, ww_number_format(value, decimals, number, sizeof number));
}

void ww__text_add_exact(ww__text *text, double value) {
    const ww__locale locale = ww__locale_plain();
    char number[32];
    for (int digits = 15; digits <= 17; digits++) {
        snprintf(number, sizeof number, "%.*g", digits, value);
        if (strtod(number, NULL) == value)
            break;
    }
    ww__locale_restore(locale);
    ww__text_add(text, number);
}

ww_status ww__text_status(const ww__text *text, ww_error *err) {
    return text->failed ? ww_error_set(err, WW_EMEMORY, "no memory for a text") : WW_OK;
}

const char *ww__text_string(const ww__text *text) {
    return text->bytes ? text->bytes : "";
}

void ww__text_release(ww__text *text) {
    if (!text)
        return;
    free(text->bytes);
    *text = (ww__text)WW__TEXT_INIT;
}

bool ww__text_same(const char *a, const char *b) {
    return strcmp(a ? a : "", b ? b : "") == 0;
}
