/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/lines.h"
#include "base/slips.h"
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

ww__lines ww__lines_of(const char *bytes, size_t n) {
    ww__lines lines = {bytes, bytes + n, 0};
    return lines;
}

bool ww__lines_next(ww__lines *lines, const char **start, size_t *n) {
    const char *at = lines->at;
    if (at == lines->end)
        return false;
    *start = at;
    while (at < lines->end && *at != '\n' && *at != '\r')
        at++;
    *n = (size_t)(at - *start);
    if (at < lines->end)
        at += *at == '\r' && at + 1 < lines->end && at[1] == '\n' ? 2 : 1;
    lines->at = at;
    lines->line++;
    return true;
}

static bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}

void ww__lines_trim(const char **start, size_t *n) {
    while (*n > 0 && is_blank((*start)[*n - 1]))
        (*n)--;
    while (*n > 0 && is_blank(**start)) {
        (*start)++;
        (*n)--;
    }
}

void ww__cells_clear(ww__cells *cells) {
    cells->used = 0;
    cells->n = 0;
}

/* Room for `more` beyond `used` elements of `size` bytes; NULL where there is no memory. */
static void *grow(void *block, size_t used, size_t more, size_t size, size_t *room) {
    size_t wanted = *room == 0 ? 64 : *room;
    void *grown;
    while (wanted - used < more) {
        if (wanted > SIZE_MAX / 2 / size)
            return NULL;
        wanted *= 2;
    }
    grown = realloc(block, wanted * size);
    if (grown)
        *room = wanted;
    return grown;
}

ww_status ww__cells_add(ww__cells *cells, const char *bytes, size_t n, ww_error *err) {
    if (cells->bytes == NULL || cells->room - cells->used < n + 1) {
        char *grown = grow(cells->bytes, cells->used, n + 1, 1, &cells->room);
        if (!grown)
            return ww_error_set(err, WW_EMEMORY, "no memory for a line of %zu bytes", n);
        cells->bytes = grown;
    }
    if (cells->n == cells->capacity) {
        size_t *grown = grow(cells->start, cells->n, 1, sizeof *grown, &cells->capacity);
        if (!grown)
            return ww_error_set(err, WW_EMEMORY, "no memory for %zu cells", cells->n + 1);
        cells->start = grown;
    }
    cells->start[cells->n++] = cells->used;
    if (n > 0)
        memcpy(cells->bytes + cells->used, bytes, n);
    cells->bytes[cells->used + n] = '\0';
    cells->used += n + 1;
    return WW_OK;
}

const char *ww__cells_at(const ww__cells *cells, size_t i) {
    return cells->bytes + cells->start[i];
}

void ww__cells_release(ww__cells *cells) {
    free(cells->bytes);
    free(cells->start);
    *cells = (ww__cells)WW__CELLS_INIT;
}

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool ww__words_equal(const char *a, const char *b) {
    while (*a != '\0' && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return lower(*a) == lower(*b);
}

bool ww__words_near(const char *a, const char *b) {
    const size_t slips = ww__slips(a, b);
    return slips <= 2 && 3 * slips <= strlen(b);
}

/* Length of the UTF-8 character at `s`, 0 where it is none. Surrogates and overlong forms are not.
 */
static size_t character_length(const unsigned char *s) {
    size_t n = *s < 0x80 ? 1 : *s < 0xc2 ? 0 : *s < 0xe0 ? 2 : *s < 0xf0 ? 3 : *s < 0xf5 ? 4 : 0;
    for (size_t i = 1; i < n; i++)
        if ((s[i] & 0xc0) != 0x80)
            return 0;
    if ((*s == 0xe0 && s[1] < 0xa0) || (*s == 0xed && s[1] > 0x9f) || (*s == 0xf0 && s[1] < 0x90) ||
        (*s == 0xf4 && s[1] > 0x8f))
        return 0;
    return n;
}

const char *ww__lines_text_problem(const char *text) {
    const unsigned char *at = (const unsigned char *)text;
    if (strlen(text) > WW__TEXT_MOST)
        return "is longer than 255 bytes; shorten it";
    while (*at != '\0') {
        size_t n = character_length(at);
        if (n == 0)
            return "is not UTF-8 text; save the file as UTF-8";
        if (*at < 0x20 || *at == 0x7f || (*at == 0xc2 && at[1] < 0xa0))
            return "holds a control character; type it anew";
        at += n;
    }
    return NULL;
}
