/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_JSON_H
#define WEDGEWORK_IO_JSON_H

#include "base/text.h"
#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>

/*
 * Reading. A place is a value together with the way that leads to it, so that a complaint can name
 * the key: "channels.red.points[3][1]". Places live on the caller's stack; the one above must
 * outlive the one below. A reader keeps the first complaint and makes all later calls harmless:
 * they give 0, false, NULL or absence, and the caller looks at reader.status where it suits.
 */
typedef struct ww__json_reader {
    const char *file;
    ww_error *err;
    ww_status status;
} ww__json_reader;

typedef struct ww__json_place {
    const struct ww__json_place *up;
    const char *key; /* NULL: item `index` of an array, or the root */
    size_t index;
    const json_t *value; /* NULL: not there */
} ww__json_place;

/* Parses a whole document whose root is an object; release *root with json_decref. */
ww_status ww__json_parse(const char *file, const char bytes[], size_t n, json_t **root,
                         ww_error *err);

ww__json_place ww__json_root(const json_t *root);
ww__json_place ww__json_key(const ww__json_place *up, const char *key);
ww__json_place ww__json_item(const ww__json_place *up, size_t index);
bool ww__json_said(const ww__json_place *place); /* there, and not null */

/* WW_EINPUT with file and key; the format says what is wrong, then what to do. */
void ww__json_refuse(ww__json_reader *reader, const ww__json_place *place, const char *format, ...)
    WW_PRINTF(3, 4);
void ww__json_no_memory(ww__json_reader *reader);

/* All of these refuse a place that is not there, of another type or outside the limits. */
double ww__json_read_number(ww__json_reader *reader, const ww__json_place *place, double low,
                            double high);
long ww__json_read_integer(ww__json_reader *reader, const ww__json_place *place, long low,
                           long high);
/* The number at a key of `up`. */
double ww__json_number_of(ww__json_reader *reader, const ww__json_place *up, const char *key,
                          double low, double high);
bool ww__json_read_bool(ww__json_reader *reader, const ww__json_place *place);
const char *ww__json_read_text(ww__json_reader *reader, const ww__json_place *place);
/* The index of the word in words[first] to words[n - 1]. */
size_t ww__json_read_word(ww__json_reader *reader, const ww__json_place *place,
                          const char *const words[], size_t first, size_t n);
bool ww__json_read_object(ww__json_reader *reader, const ww__json_place *place);
/* Refuses a key that is none of these; where there is no object, nothing. */
void ww__json_refuse_others(ww__json_reader *reader, const ww__json_place *place,
                            const char *const known[], size_t n);
size_t ww__json_read_array(ww__json_reader *reader, const ww__json_place *place, size_t least,
                           size_t most);

/* What is not said (no such key, or null) is absent here: unset, NULL, WW_ABSENT. */
ww_optional ww__json_read_optional(ww__json_reader *reader, const ww__json_place *place, double low,
                                   double high);
char *ww__json_copy_text(ww__json_reader *reader, const ww__json_place *place);
/* Two numbers within +-limit, rising where `ordered`; false, and nothing changed, where there are
 * none. */
bool ww__json_read_pair(ww__json_reader *reader, const ww__json_place *place, double limit,
                        bool ordered, double *first, double *second);
/* The value, low, high and how that stand as keys of `up`, the value under a name of its own. */
ww_quantity ww__json_read_interval(ww__json_reader *reader, const ww__json_place *up,
                                   const char *value_key);
ww_quantity ww__json_read_quantity(ww__json_reader *reader, const ww__json_place *place);
void ww__json_read_notes(ww__json_reader *reader, const ww__json_place *place, ww_notes *notes);

/*
 * Writing. Keys come out in the order of the calls, one a line, or all in one line inside a flat
 * container. Numbers have the fewest digits that read back to the same bits, whatever the locale.
 * The first failure is kept and handed over by ww__json_finish: WW_EDOMAIN for a number that is not
 * finite or a text that is not UTF-8, WW_EMEMORY.
 */
enum { WW__JSON_DEPTH_MAX = 12 };

typedef enum ww__json_layout { WW__JSON_LINES, WW__JSON_FLAT } ww__json_layout;

typedef struct ww__json_level {
    char close;
    bool flat;
    bool used;
} ww__json_level;

typedef struct ww__json_writer {
    ww__text text;
    ww_error *err;
    ww_status status;
    size_t depth;
    ww__json_level level[WW__JSON_DEPTH_MAX];
} ww__json_writer;

#define WW__JSON_WRITER_INIT(error)                                                                \
    { .text = WW__TEXT_INIT, .err = (error) }

/* key is NULL for the root and for items of arrays. */
void ww__json_open_object(ww__json_writer *writer, const char *key, ww__json_layout layout);
void ww__json_open_array(ww__json_writer *writer, const char *key, ww__json_layout layout);
void ww__json_close(ww__json_writer *writer);
void ww__json_write_number(ww__json_writer *writer, const char *key, double value);
void ww__json_write_integer(ww__json_writer *writer, const char *key, long value);
void ww__json_write_bool(ww__json_writer *writer, const char *key, bool value);
void ww__json_write_null(ww__json_writer *writer, const char *key);

/* NULL, unset and absent are written as null. */
void ww__json_write_text(ww__json_writer *writer, const char *key, const char *text);

/* The same where "" stands for none. */
void ww__json_write_name(ww__json_writer *writer, const char *key, const char *name);

/* The name of a file, a profile, a spot: whatever bytes the system or the user gave. */
void ww__json_write_outside(ww__json_writer *writer, const char *key, const char *name);
void ww__json_write_optional(ww__json_writer *writer, const char *key, ww_optional value);
void ww__json_write_pair(ww__json_writer *writer, const char *key, double first, double second);
void ww__json_write_quantity(ww__json_writer *writer, const char *key, ww_quantity quantity);
/* The keys of a present quantity alone, into an object that is open. */
void ww__json_write_quantity_keys(ww__json_writer *writer, ww_quantity quantity);
void ww__json_write_notes(ww__json_writer *writer, const char *key, const ww_notes *notes);

/* Ends the document with a line feed; *text is the caller's to free. Frees everything on failure.
 */
ww_status ww__json_finish(ww__json_writer *writer, char **text, size_t *n);

#endif
