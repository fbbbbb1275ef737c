/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/error.h>

/* Bytes that continue a UTF-8 character. */
static bool continues(char c) {
    return ((unsigned char)c & 0xC0) == 0x80;
}

/* The name is kept from its end, which tells more of a long path than its beginning. */
static void keep_file(ww_error *err, const char *file) {
    const size_t length = file ? strlen(file) : 0;
    const size_t room = sizeof err->file - 1;
    const char *from = length > room ? file + (length - room) : file;
    while (from && length > room && continues(*from))
        from++;
    snprintf(err->file, sizeof err->file, "%s", from ? from : "");
}

/* Where text was cut to fit, no part of a character stays at its end. */
static void trim_cut(char text[], size_t size, int wanted) {
    const size_t n = size - 1;
    size_t first = n, whole;
    unsigned char lead;
    if (wanted < 0 || (size_t)wanted <= n)
        return;
    while (first > 0 && continues(text[first - 1]))
        first--;
    lead = first > 0 ? (unsigned char)text[first - 1] : 0;
    whole = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC0 ? 2 : 1;
    if (n - (first - 1) < whole)
        text[first - 1] = '\0';
}

/*
 * Arguments may point into *err itself (a message that wraps the one below it), so the text is made
 * in a buffer of its own first.
 */
static void keep(ww_error *err, ww_status code, int sys, const char *file, size_t line,
                 const char *format, va_list args) WW_PRINTF(6, 0);

static void keep(ww_error *err, ww_status code, int sys, const char *file, size_t line,
                 const char *format, va_list args) {
    char text[WW_ERROR_MESSAGE_SIZE];
    int wanted;
    assert(code != WW_OK);
    assert(format);
    if (!err)
        return;
    wanted = vsnprintf(text, sizeof text, format, args);
    if (wanted < 0)
        wanted = snprintf(text, sizeof text, "%s", format);
    trim_cut(text, sizeof text, wanted);
    if (file != err->file)
        keep_file(err, file);
    memcpy(err->msg, text, sizeof text);
    err->code = code;
    err->sys = sys;
    err->line = line;
}

ww_status ww_error_set(ww_error *err, ww_status code, const char *format, ...) {
    va_list args;
    va_start(args, format);
    keep(err, code, 0, NULL, 0, format, args);
    va_end(args);
    return code;
}

ww_status ww_error_set_at(ww_error *err, ww_status code, const char *file, size_t line,
                          const char *format, ...) {
    va_list args;
    va_start(args, format);
    keep(err, code, 0, file, line, format, args);
    va_end(args);
    return code;
}

ww_status ww_error_set_system(ww_error *err, ww_status code, int sys, const char *file,
                              const char *format, ...) {
    va_list args;
    va_start(args, format);
    keep(err, code, sys, file, 0, format, args);
    va_end(args);
    if (err && sys != 0) {
        char words[128];
        const size_t used = strlen(err->msg);
        if (strerror_r(sys, words, sizeof words) != 0)
            snprintf(words, sizeof words, "system error %d", sys);
        snprintf(err->msg + used, sizeof err->msg - used, ": %s", words);
    }
    return code;
}
