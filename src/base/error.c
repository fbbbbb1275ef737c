/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/error.h>

/* The name is kept from its end, which tells more of a long path than its beginning. */
static void keep_file(ww_error *err, const char *file) {
    const size_t length = file ? strlen(file) : 0;
    const size_t room = sizeof err->file - 1;
    const char *from = length > room ? file + (length - room) : file;
    snprintf(err->file, sizeof err->file, "%s", from ? from : "");
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
    assert(code != WW_OK);
    assert(format);
    if (!err)
        return;
    if (vsnprintf(text, sizeof text, format, args) < 0)
        snprintf(text, sizeof text, "%s", format);
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
