/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/report.h"
#include <stdlib.h>
#include <string.h>

enum { GAP = 2 };

static const char bold[] = "\x1b[1m", warning[] = "\x1b[33m", plain[] = "\x1b[0m";

/* Characters that a terminal sets over the one before, or in two columns: blocks of the Unicode
 * Standard's Annex 11 that names are written in, from memory. */
static const struct {
    unsigned long from, to;
    size_t columns;
} blocks[] = {
    {0x0300, 0x036F, 0},   {0x1100, 0x115F, 2},   {0x200B, 0x200F, 0}, {0x2E80, 0x303E, 2},
    {0x3041, 0xA4CF, 2},   {0xAC00, 0xD7A3, 2},   {0xF900, 0xFAFF, 2}, {0xFE00, 0xFE0F, 0},
    {0xFE30, 0xFE6F, 2},   {0xFF00, 0xFF60, 2},   {0xFFE0, 0xFFE6, 2}, {0x1F300, 0x1F64F, 2},
    {0x1F900, 0x1F9FF, 2}, {0x20000, 0x3FFFD, 2},
};

static size_t columns_of(unsigned long character) {
    for (size_t i = 0; i < sizeof blocks / sizeof blocks[0]; i++)
        if (character >= blocks[i].from && character <= blocks[i].to)
            return blocks[i].columns;
    return 1;
}

/* Columns on a terminal of a text in UTF-8. */
static size_t width_of(const char *string) {
    const unsigned char *at = (const unsigned char *)string;
    size_t n = 0;
    while (*at) {
        unsigned long character = *at;
        if (*at >= 0xC0)
            character = *at & (*at >= 0xF0 ? 0x07u : *at >= 0xE0 ? 0x0Fu : 0x1Fu);
        for (at++; (*at & 0xC0) == 0x80; at++)
            character = character << 6 | (*at & 0x3Fu);
        n += columns_of(character);
    }
    return n;
}

static void add_spaces(ww__text *text, size_t n) {
    while (n-- > 0)
        ww__text_add(text, " ");
}

/* A sentence folded at spaces; lines after the first are indented. Its own line ends are spaces. */
static void add_folded(ww__text *text, const char *string, size_t width, size_t indent) {
    size_t used = 0;
    ww__text word = WW__TEXT_INIT;
    while (*string) {
        const size_t length = strcspn(string, " \n\t\r");
        size_t wide;
        ww__text raw = WW__TEXT_INIT;
        ww__text_add_bytes(&raw, string, length);
        ww__escape_terminal(&word, ww__text_string(&raw));
        wide = width_of(ww__text_string(&word));
        if (used > 0 && width > 0 && indent + used + 1 + wide > width) {
            ww__text_add(text, "\n");
            add_spaces(text, indent);
            used = 0;
        } else if (used > 0 && length > 0) {
            ww__text_add(text, " ");
            used++;
        }
        ww__text_add(text, ww__text_string(&word));
        used += wide;
        text->failed |= raw.failed || word.failed;
        ww__text_release(&raw);
        ww__text_release(&word);
        string += length + (string[length] != '\0');
    }
}

static void add_cell(ww__text *text, const char *string, size_t width, bool right, bool last) {
    const size_t used = width_of(string);
    if (right)
        add_spaces(text, width - used);
    ww__text_add(text, string);
    if (!right && !last)
        add_spaces(text, width - used);
}

/* Rows of the columns [first, last), after column 0, which every part of a split table repeats. */
static void add_part(ww__text *text, const ww__block *block, char *const cell[],
                     const size_t width[], size_t first, size_t last) {
    const size_t columns = block->columns;
    for (size_t row = 0; row < block->n / columns; row++) {
        char *const *in_row = cell + row * columns;
        bool any = row != 1; /* a row of units without any is left out */
        for (size_t i = 0; row == 1 && i < columns; i++)
            any |= *in_row[i] != '\0' && (i == 0 || (i >= first && i < last));
        if (!any)
            continue;
        add_cell(text, in_row[0], width[0], block->align[0] != 'l', first == last);
        for (size_t i = first; i < last; i++) {
            add_spaces(text, GAP);
            add_cell(text, in_row[i], width[i], block->align[i] != 'l', i + 1 == last);
        }
        while (text->n > 0 && text->bytes[text->n - 1] == ' ')
            text->bytes[--text->n] = '\0';
        ww__text_add(text, "\n");
    }
}

/* Width of a column with those that must stay beside it; *next is the first that need not. */
static size_t bundle(const ww__block *block, const size_t width[], size_t column, size_t *next) {
    size_t used = 0;
    do {
        used += GAP + width[column++];
    } while (column < block->columns && block->align[column] == 'e');
    *next = column;
    return used;
}

/* A table too wide is set in parts below each other, each with the first column. */
static void add_parts(ww__text *text, const ww__block *block, char *const cell[],
                      const size_t width[], size_t limit) {
    size_t first = 1;
    while (first < block->columns) {
        size_t last, used = width[0] + bundle(block, width, first, &last), next;
        while (last < block->columns) {
            used += bundle(block, width, last, &next);
            if (limit > 0 && used > limit)
                break;
            last = next;
        }
        if (first > 1)
            ww__text_add(text, "\n");
        add_part(text, block, cell, width, first, last);
        first = last;
    }
}

static void add_table(ww__text *text, const ww__block *block, size_t limit) {
    char **cell = calloc(block->n, sizeof *cell);
    size_t *width = calloc(block->columns, sizeof *width);
    bool whole = cell && width;
    for (size_t i = 0; whole && i < block->n; i++) {
        ww__text clean = WW__TEXT_INIT;
        const size_t column = i % block->columns;
        ww__escape_terminal(&clean, block->item[i]);
        ww__text_add(&clean, ""); /* there are bytes, even for an empty cell */
        whole = !clean.failed;
        cell[i] = clean.bytes;
        if (whole && width_of(cell[i]) > width[column])
            width[column] = width_of(cell[i]);
    }
    if (whole)
        add_parts(text, block, cell, width, limit);
    else
        text->failed = true;
    for (size_t i = 0; cell && i < block->n; i++)
        free(cell[i]);
    free(cell);
    free(width);
}

static void add_list(ww__text *text, const ww__block *block, const ww_text_style *style) {
    for (size_t i = 0; i < block->n; i++) {
        ww__text_add(text, style->colour && block->warning ? warning : "");
        ww__text_add(text, "  - ");
        add_folded(text, block->item[i], style->width, 4);
        ww__text_add(text, style->colour && block->warning ? plain : "");
        ww__text_add(text, "\n");
    }
}

void ww__report_set_text(const ww__report *report, const ww_text_style *style, ww__text *text) {
    ww__text_add(text, style->colour ? bold : "");
    add_folded(text, ww__text_string(&report->act), style->width, 0);
    ww__text_add(text, style->colour ? plain : "");
    ww__text_add(text, "\n");
    if (report->why.n > 0) {
        add_folded(text, ww__text_string(&report->why), style->width, 0);
        ww__text_add(text, "\n");
    }
    for (size_t i = 0; i < report->n; i++) {
        const ww__block *block = &report->block[i];
        if (block->n <= 2 * block->columns)
            continue;
        ww__text_add_format(text, "\n%s\n", block->title);
        if (block->kind == WW__TABLE)
            add_table(text, block, style->width);
        else
            add_list(text, block, style);
    }
}

ww_status ww__report_make_text(ww__report *report, const ww_text_style *style, char **text,
                               ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    ww_status status = ww__report_status(report, err);
    if (status == WW_OK) {
        ww__report_set_text(report, style, &made);
        status = ww__text_status(&made, err);
    }
    ww__report_release(report);
    if (status == WW_OK)
        *text = made.bytes;
    else
        ww__text_release(&made);
    return status;
}
