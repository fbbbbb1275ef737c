/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CORE_META_H
#define WEDGEWORK_CORE_META_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/readings.h>

/* What a metadata key holds. */
typedef enum ww__meta_kind { WW__META_TEXT, WW__META_NUMBER, WW__META_WORD } ww__meta_kind;

/* One metadata key, where it lives in ww_meta, and what it may hold. */
typedef struct ww__meta_field {
    const char *key;
    ww__meta_kind kind;
    size_t offset;
    const char *const *words; /* indexed by enumerator; the first is "unknown" and never in files */
    size_t n_words;
    double low; /* numbers: allowed range, the low end excluded where `above` */
    double high;
    bool above;
} ww__meta_field;

/* The table of keys, in the order in which they are written. */
const ww__meta_field *ww__meta_fields(size_t *n);

char **ww__meta_text(ww_meta *meta, const ww__meta_field *field);
ww_optional *ww__meta_number(ww_meta *meta, const ww__meta_field *field);
unsigned ww__meta_word(const ww_meta *meta, const ww__meta_field *field);
void ww__meta_set_word(ww_meta *meta, const ww__meta_field *field, unsigned word);

#endif
