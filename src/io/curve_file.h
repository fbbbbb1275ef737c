/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_IO_CURVE_FILE_H
#define WEDGEWORK_IO_CURVE_FILE_H

#include "io/json.h"
#include <stddef.h>
#include <wedgework/curve.h>

/* No exposure on a log H axis lies beyond plus or minus this. */
#define WW__CURVE_FILE_LOG_H 20.0

enum { WW__CURVE_FILE_VERSION = 1, WW__CURVE_FILE_KEY_SIZE = 32 };

/* The key in the document for a metadata key of readings: "log h0" is "log_h0". */
const char *ww__curve_file_key(const char *meta_key, char text[WW__CURVE_FILE_KEY_SIZE]);

/* Words for the state of a point's density, by ww_cell_state. */
extern const char *const ww__curve_file_states[3];

/*
 * End-points behind the figures, one row for each key inside "construction". Where `figure` is
 * absent its end-points have no meaning and are written as null.
 */
typedef struct ww__curve_file_end {
    const char *key;
    ww_figure figure;
    size_t from; /* offset in ww_figure_set of a double */
    size_t to;   /* the same of the other end; SIZE_MAX: a single number */
} ww__curve_file_end;

const ww__curve_file_end *ww__curve_file_ends(size_t *n);

/* A whole curve as an object, which may stand inside another document. */
void ww__curve_file_put(ww__json_writer *writer, const char *key, const ww_curve *curve);

/* Fills an empty curve from its object; what it holds by then is released with it. */
void ww__curve_file_take(ww__json_reader *reader, const ww__json_place *place, ww_curve *curve);

/* Fills an empty channel from its object; what it holds by then is released with the curve. */
void ww__curve_file_channel(ww__json_reader *reader, const ww__json_place *place,
                            ww_channel_curve *channel);

#endif
