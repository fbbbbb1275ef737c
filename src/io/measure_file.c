/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/measure_file.h>

enum { MEASURE_VERSION = 1 };

static void write_head(ww__json_writer *writer, const char *kind, const char *file,
                       ww__json_layout layout) {
    ww__json_open_object(writer, NULL, layout);
    ww__json_write_integer(writer, "wedgework", MEASURE_VERSION);
    ww__json_write_text(writer, "kind", kind);
    ww__json_write_outside(writer, "file", file);
}

static void write_channels(ww__json_writer *writer, const char *key, const bool listed[]) {
    ww__json_open_array(writer, key, WW__JSON_FLAT);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (listed[c])
            ww__json_write_text(writer, NULL, ww_channel_name((ww_channel)c));
    ww__json_close(writer);
}

/* ------------------------------------------------------------------------- steps and spots */

static ww_optional is(double value) {
    return (ww_optional){true, value};
}

static ww_optional code_of(const ww_patch_channel *channel) {
    return is(channel->code);
}

static ww_optional sd_of(const ww_patch_channel *channel) {
    return is(channel->sd);
}

static ww_optional low_of(const ww_patch_channel *channel) {
    return is(channel->low);
}

static ww_optional high_of(const ww_patch_channel *channel) {
    return is(channel->high);
}

static ww_optional drift_of(const ww_patch_channel *channel) {
    return is(channel->drift);
}

static ww_optional no_number_of(const ww_patch_channel *channel) {
    return is((double)channel->no_number);
}

static ww_optional clipped_of(const ww_patch_channel *channel) {
    return is(channel->clipped);
}

static ww_optional density_of(const ww_patch_channel *channel) {
    return (ww_optional){channel->density.state == WW_CELL_VALUE, channel->density.value};
}

static ww_optional error_of(const ww_patch_channel *channel) {
    const ww_optional sd = channel->density.sd;
    return (ww_optional){channel->density.state == WW_CELL_VALUE && sd.set, sd.value};
}

static ww_optional limit_of(const ww_patch_channel *channel) {
    return (ww_optional){channel->density.state == WW_CELL_LESS, channel->density.value};
}

/* One number a channel. */
typedef struct column {
    const char *key;
    ww_optional (*of)(const ww_patch_channel *channel);
} column;

static void write_columns(ww__json_writer *writer, const ww_measured *measured,
                          const ww_patch *patch, const column columns[], size_t n) {
    for (size_t i = 0; i < n; i++) {
        ww__json_open_object(writer, columns[i].key, WW__JSON_FLAT);
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (measured->has[c])
                ww__json_write_optional(writer, ww_channel_name((ww_channel)c),
                                        columns[i].of(&patch->channel[c]));
        ww__json_close(writer);
    }
}

static void write_reach(ww__json_writer *writer, const ww_measured *measured, const ww_patch *patch,
                        const char *key, ww_reach reach) {
    bool listed[WW_CHANNEL_COUNT];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        listed[c] = measured->has[c] && patch->channel[c].reach == reach;
    write_channels(writer, key, listed);
}

static void write_place(ww__json_writer *writer, const ww_patch *patch, bool spot) {
    ww__json_write_number(writer, "x", patch->x);
    ww__json_write_number(writer, "y", patch->y);
    ww__json_write_number(writer, "width", patch->width);
    ww__json_write_number(writer, "height", patch->height);
    if (spot) {
        ww__json_write_null(writer, "corners");
    } else {
        ww__json_open_array(writer, "corners", WW__JSON_FLAT);
        for (int i = 0; i < 4; i++)
            ww__json_write_pair(writer, NULL, patch->corner[i][0], patch->corner[i][1]);
        ww__json_close(writer);
    }
    ww__json_write_pair(writer, "centre", patch->centre_x, patch->centre_y);
    ww__json_write_optional(writer, "radius", (ww_optional){spot, patch->radius});
}

static void write_row(ww__json_writer *writer, const ww_measured *measured, const ww_patch *patch) {
    static const column values[] = {{"code", code_of},
                                    {"sd", sd_of},
                                    {"density", density_of},
                                    {"standard_error", error_of},
                                    {"less_than", limit_of}};
    static const column more[] = {{"low", low_of},
                                  {"high", high_of},
                                  {"drift", drift_of},
                                  {"clipped", clipped_of},
                                  {"no_number", no_number_of}};
    const bool spot = patch->radius > 0.0;
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_outside(writer, "step", patch->step);
    ww__json_write_outside(writer, "tone", spot ? patch->step : NULL);
    write_place(writer, patch, spot);
    write_columns(writer, measured, patch, values, sizeof values / sizeof values[0]);
    write_reach(writer, measured, patch, "over", WW_REACH_DARK);
    write_reach(writer, measured, patch, "mixed", WW_REACH_NONE);
    ww__json_write_integer(writer, "n", (long)patch->n);
    ww__json_write_number(writer, "rejected", patch->rejected);
    write_columns(writer, measured, patch, more, sizeof more / sizeof more[0]);
    ww__json_close(writer);
}

static void write_wedge(ww__json_writer *writer, const ww_measured *measured) {
    const size_t steps = measured->n - measured->n_spots;
    const bool found = steps > 0;
    ww__json_open_object(writer, "wedge", WW__JSON_FLAT);
    ww__json_write_integer(writer, "steps", (long)steps);
    ww__json_write_optional(writer, "angle", (ww_optional){found, measured->angle_deg});
    ww__json_write_bool(writer, "found", found);
    if (found) {
        ww__json_write_bool(writer, "upright", measured->upright);
        ww__json_write_bool(writer, "reversed", measured->reversed);
    }
    ww__json_close(writer);
}

static ww_status make(const ww_measured *measured, ww__json_layout layout, char **text, size_t *n,
                      ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(measured && text && n);
    write_head(&writer, "readings", measured->file, layout);
    ww__json_write_integer(&writer, "page", (long)measured->page);
    ww__json_write_integer(&writer, "width", (long)measured->width);
    ww__json_write_integer(&writer, "height", (long)measured->height);
    ww__json_write_integer(&writer, "bits", (long)measured->bits);
    ww__json_write_number(&writer, "white", measured->white);
    ww__json_write_optional(&writer, "px_per_mm", measured->px_per_mm);
    ww__json_write_outside(&writer, "profile", measured->profile);
    ww__json_write_bool(&writer, "calibrated", measured->calibrated);
    write_channels(&writer, "channels", measured->has);
    ww__json_open_array(&writer, "rows", WW__JSON_LINES);
    for (size_t i = 0; i < measured->n; i++)
        write_row(&writer, measured, &measured->patch[i]);
    ww__json_close(&writer);
    write_wedge(&writer, measured);
    ww__json_write_notes(&writer, "notes", &measured->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_measure_file_text(const ww_measured *measured, char **text, size_t *n, ww_error *err) {
    return make(measured, WW__JSON_LINES, text, n, err);
}

ww_status ww_measure_file_line(const ww_measured *measured, char **text, size_t *n, ww_error *err) {
    return make(measured, WW__JSON_FLAT, text, n, err);
}

/* --------------------------------------------------------------------------- the whole scan */

static const char *const whole_key[WW_WHOLE_COUNT] = {
    [WW_WHOLE_MIN] = "min",       [WW_WHOLE_P0_1] = "p0.1", [WW_WHOLE_P1] = "p1",
    [WW_WHOLE_MEDIAN] = "median", [WW_WHOLE_P99] = "p99",   [WW_WHOLE_P99_9] = "p99.9",
    [WW_WHOLE_MAX] = "max"};

/* Densities fall where codes rise: the least density is that of the greatest code. */
static ww_optional density_at(const ww_whole *whole, int channel, int key) {
    const ww_cell *cell = &whole->density[channel][WW_WHOLE_COUNT - 1 - key];
    return (ww_optional){cell->state == WW_CELL_VALUE, cell->value};
}

static ww_optional error_at(const ww_whole *whole, int channel, int key) {
    const ww_cell *cell = &whole->density[channel][WW_WHOLE_COUNT - 1 - key];
    return (ww_optional){cell->state == WW_CELL_VALUE && cell->sd.set, cell->sd.value};
}

static void write_errors(ww__json_writer *writer, const ww_whole *whole, int channel) {
    ww__json_open_object(writer, ww_channel_name((ww_channel)channel), WW__JSON_FLAT);
    for (int i = 0; i < WW_WHOLE_COUNT; i++)
        ww__json_write_optional(writer, whole_key[i], error_at(whole, channel, i));
    ww__json_close(writer);
}

static void write_values(ww__json_writer *writer, const ww_whole *whole, int channel) {
    ww__json_open_object(writer, ww_channel_name((ww_channel)channel), WW__JSON_FLAT);
    for (int i = 0; i < WW_WHOLE_COUNT; i++)
        ww__json_write_optional(writer, whole_key[i],
                                whole->calibrated ? density_at(whole, channel, i)
                                                  : is(whole->code[channel][i]));
    ww__json_close(writer);
}

static void write_codes(ww__json_writer *writer, const ww_whole *whole, int channel) {
    ww__json_open_object(writer, ww_channel_name((ww_channel)channel), WW__JSON_FLAT);
    for (int i = 0; i < WW_WHOLE_COUNT; i++)
        ww__json_write_number(writer, whole_key[i], whole->code[channel][i]);
    ww__json_write_number(writer, "mean", whole->mean[channel]);
    ww__json_write_number(writer, "clipped_low", whole->clipped_low[channel]);
    ww__json_write_number(writer, "clipped_high", whole->clipped_high[channel]);
    ww__json_write_integer(writer, "left_out", (long)whole->left_out[channel]);
    ww__json_close(writer);
}

/* Only as many bins as hold something: empty ones beyond are not written. */
static void write_bins(ww__json_writer *writer, const ww_whole *whole, int channel) {
    const ww_whole_bins *bins = &whole->bins;
    ww__json_open_object(writer, ww_channel_name((ww_channel)channel), WW__JSON_LINES);
    ww__json_write_integer(writer, "lighter", (long)bins->lighter[channel]);
    ww__json_write_integer(writer, "darker", (long)bins->darker[channel]);
    ww__json_open_array(writer, "counts", WW__JSON_FLAT);
    for (size_t i = 0; i < bins->n; i++)
        ww__json_write_integer(writer, NULL, (long)bins->count[channel][i]);
    ww__json_close(writer);
    ww__json_close(writer);
}

static ww_status make_whole(const ww_whole *whole, ww__json_layout layout, char **text, size_t *n,
                            ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(whole && text && n);
    write_head(&writer, "histogram", whole->file, layout);
    ww__json_write_integer(&writer, "bits", (long)whole->bits);
    ww__json_write_number(&writer, "white", whole->white);
    ww__json_write_optional(&writer, "px_per_mm", whole->px_per_mm);
    ww__json_write_outside(&writer, "profile", whole->profile);
    ww__json_write_integer(&writer, "pixels", (long)whole->pixels);
    ww__json_write_text(&writer, "unit", whole->calibrated ? "density" : "code");
    ww__json_open_object(&writer, "channels", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c])
            write_values(&writer, whole, c);
    ww__json_close(&writer);
    ww__json_open_object(&writer, "standard_error", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c])
            write_errors(&writer, whole, c);
    ww__json_close(&writer);
    ww__json_open_object(&writer, "codes", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c])
            write_codes(&writer, whole, c);
    ww__json_close(&writer);
    ww__json_open_object(&writer, "bins", WW__JSON_LINES);
    ww__json_write_text(&writer, "unit",
                        whole->calibrated ? "density" : "log10 of white over code");
    ww__json_write_number(&writer, "from", whole->bins.from);
    ww__json_write_number(&writer, "width", whole->bins.width);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (whole->has[c])
            write_bins(&writer, whole, c);
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &whole->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_measure_file_whole_text(const ww_whole *whole, char **text, size_t *n, ww_error *err) {
    return make_whole(whole, WW__JSON_LINES, text, n, err);
}

ww_status ww_measure_file_whole_line(const ww_whole *whole, char **text, size_t *n, ww_error *err) {
    return make_whole(whole, WW__JSON_FLAT, text, n, err);
}
