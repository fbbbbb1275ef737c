/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_tokens.h"
#include <stdbool.h>

static bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}

size_t ww__cgats_comment(const char *line, size_t n) {
    bool quoted = false;
    for (size_t i = 0; i < n; i++) {
        if (line[i] == '"')
            quoted = !quoted;
        else if (line[i] == '#' && !quoted)
            return i;
    }
    return n;
}

/* Adds what stands between quotes, doubled ones inside taken once, or the bare word. */
static ww_status add_token(ww__cells *tokens, const char *at, size_t n, ww_error *err) {
    char *text, *to;
    ww_status status;
    ww__lines_trim(&at, &n);
    if (n < 2 || at[0] != '"' || at[n - 1] != '"')
        return ww__cells_add(tokens, at, n, err);
    status = ww__cells_add(tokens, at + 1, n - 2, err);
    if (status != WW_OK)
        return status;
    text = to = tokens->bytes + tokens->start[tokens->n - 1];
    for (; *text != '\0'; text++) {
        if (text[0] == '"' && text[1] == '"')
            text++;
        *to++ = *text;
    }
    *to = '\0';
    return WW_OK;
}

/* Length of the token at `line`, n > 0; 0 where its quote is not closed. */
static size_t token_length(const char *line, size_t n) {
    size_t i = 1;
    if (line[0] != '"') {
        while (i < n && !is_space(line[i]))
            i++;
        return i;
    }
    for (; i < n; i++) {
        if (line[i] != '"')
            continue;
        if (i + 1 == n || line[i + 1] != '"')
            return i + 1;
        i++;
    }
    return 0;
}

ww_status ww__cgats_split_blanks(ww__cells *tokens, const char *file, const char *line, size_t n,
                                 size_t number, ww_error *err) {
    size_t i = 0;
    ww__cells_clear(tokens);
    while (i < n) {
        size_t length;
        ww_status status;
        if (is_space(line[i])) {
            i++;
            continue;
        }
        length = token_length(line + i, n - i);
        if (length == 0)
            return ww_error_set_at(err, WW_EINPUT, file, number,
                                   "a quote is opened and not closed in this line; close it");
        status = add_token(tokens, line + i, length, err);
        if (status != WW_OK)
            return status;
        i += length;
    }
    return WW_OK;
}

ww_status ww__cgats_split_tabs(ww__cells *cells, const char *line, size_t n, ww_error *err) {
    size_t start = 0;
    ww_status status = WW_OK;
    ww__cells_clear(cells);
    for (size_t i = 0; i <= n && status == WW_OK; i++) {
        if (i < n && line[i] != '\t')
            continue;
        status = add_token(cells, line + start, i - start, err);
        start = i + 1;
    }
    while (cells->n > 0 && ww__cells_at(cells, cells->n - 1)[0] == '\0')
        cells->n--;
    return status;
}
