/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/notes.h>

static bool has(const ww_notes *notes, const char *sentence) {
    for (size_t i = 0; i < notes->n; i++)
        if (strcmp(notes->text[i], sentence) == 0)
            return true;
    return false;
}

/* Takes over `sentence`, also when it fails. */
static ww_status append(ww_notes *notes, char *sentence, ww_error *err) {
    char **grown;
    if (has(notes, sentence)) {
        free(sentence);
        return WW_OK;
    }
    grown = notes->n < SIZE_MAX / sizeof *grown - 1
                ? realloc(notes->text, (notes->n + 1) * sizeof *grown)
                : NULL;
    if (!grown) {
        free(sentence);
        return ww_error_set(err, WW_EMEMORY, "no memory for a note");
    }
    notes->text = grown;
    notes->text[notes->n++] = sentence;
    return WW_OK;
}

ww_status ww_notes_add(ww_notes *notes, ww_error *err, const char *format, ...) {
    va_list args;
    int length;
    char *sentence;
    assert(notes && format);
    va_start(args, format);
    length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length < 0)
        return ww_error_set(err, WW_EINTERNAL, "a note could not be formatted: '%s'", format);
    sentence = malloc((size_t)length + 1);
    if (!sentence)
        return ww_error_set(err, WW_EMEMORY, "no memory for a note");
    va_start(args, format);
    vsnprintf(sentence, (size_t)length + 1, format, args);
    va_end(args);
    return append(notes, sentence, err);
}

ww_status ww_notes_copy(const ww_notes *from, ww_notes *to, ww_error *err) {
    return ww_notes_copy_of(from, NULL, to, err);
}

ww_status ww_notes_copy_of(const ww_notes *from, const char *of, ww_notes *to, ww_error *err) {
    const size_t before = to->n;
    assert(from && to);
    for (size_t i = 0; i < from->n; i++) {
        const ww_status status =
            ww_notes_add(to, err, "%s%s%s", of ? of : "", of ? ": " : "", from->text[i]);
        if (status != WW_OK) {
            while (to->n > before)
                free(to->text[--to->n]);
            return status;
        }
    }
    return WW_OK;
}

void ww_notes_release(ww_notes *notes) {
    if (!notes)
        return;
    for (size_t i = 0; i < notes->n; i++)
        free(notes->text[i]);
    free(notes->text);
    notes->text = NULL;
    notes->n = 0;
}
