/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_IO_SAME_H
#define WEDGEWORK_TESTS_IO_SAME_H

#include "core/meta.h"
#include <stdbool.h>
#include <string.h>
#include <wedgework/readings.h>

/*
 * Where two tables differ, to the bit, as a word for the message; NULL where they don't. File name,
 * line numbers and notes are no part of the readings.
 */
static inline bool same_number(double a, double b) {
    return memcmp(&a, &b, sizeof a) == 0;
}

static inline bool same_optional(ww_optional a, ww_optional b) {
    return a.set == b.set && (!a.set || same_number(a.value, b.value));
}

static inline bool same_cell(const ww_cell *a, const ww_cell *b) {
    return a->state == b->state && a->n == b->n && same_optional(a->sd, b->sd) &&
           (a->state != WW_CELL_VALUE || same_number(a->value, b->value));
}

static inline const char *meta_difference(const ww_meta *a, const ww_meta *b) {
    size_t n;
    const ww__meta_field *field = ww__meta_fields(&n);
    ww_meta left = *a, right = *b;
    for (size_t i = 0; i < n; i++, field++) {
        const char *x, *y;
        switch (field->kind) {
        case WW__META_WORD:
            if (ww__meta_word(&left, field) != ww__meta_word(&right, field))
                return field->key;
            break;
        case WW__META_NUMBER:
            if (!same_optional(*ww__meta_number(&left, field), *ww__meta_number(&right, field)))
                return field->key;
            break;
        default:
            x = *ww__meta_text(&left, field);
            y = *ww__meta_text(&right, field);
            if ((x == NULL) != (y == NULL) || (x != NULL && strcmp(x, y) != 0))
                return field->key;
        }
    }
    return NULL;
}

static inline const char *row_difference(const ww_row *a, const ww_row *b) {
    if (strcmp(a->step, b->step) != 0)
        return "step";
    if (strcmp(a->tone, b->tone) != 0)
        return "tone";
    if (strcmp(a->pack, b->pack) != 0)
        return "pack";
    if (a->part != b->part)
        return "part";
    if (a->is_base != b->is_base)
        return "base";
    if (!same_optional(a->exposure, b->exposure))
        return "exposure";
    if (!same_optional(a->width, b->width))
        return "width";
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++)
        if (!same_cell(&a->cell[c], &b->cell[c]))
            return ww_column_name((ww_column)c);
    return NULL;
}

static inline const char *difference(const ww_readings *a, const ww_readings *b) {
    const char *found = meta_difference(&a->meta, &b->meta);
    if (a->exposure != b->exposure)
        return "exposure column";
    if (memcmp(a->has, b->has, sizeof a->has) != 0)
        return "columns";
    if (a->n != b->n)
        return "number of rows";
    for (size_t i = 0; i < a->n && found == NULL; i++)
        found = row_difference(&a->row[i], &b->row[i]);
    return found;
}

#endif
