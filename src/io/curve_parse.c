/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/meta.h"
#include "io/curve_file.h"
#include "io/input.h"
#include <assert.h>
#include <float.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve_file.h>

enum { FILE_MOST = 64 * 1024 * 1024 };

static void read_head(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place version = ww__json_key(root, "wedgework");
    const ww__json_place kind = ww__json_key(root, "kind");
    const long given = ww__json_read_integer(reader, &version, 1, LONG_MAX);
    const char *text;
    char quote[200];
    if (reader->status == WW_OK && given > WW__CURVE_FILE_VERSION)
        ww__json_refuse(reader, &version,
                        "is %ld, but this program knows files up to version %d; use a newer one",
                        given, WW__CURVE_FILE_VERSION);
    text = ww__json_read_text(reader, &kind);
    if (text && strcmp(text, "curve") != 0)
        ww__json_refuse(reader, &kind,
                        "is '%s', not 'curve'; give a curve file as `fit -o` writes it",
                        ww__escape_message(text, quote, sizeof quote));
}

static void read_meta(ww__json_reader *reader, const ww__json_place *root, ww_meta *meta) {
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    for (size_t i = 0; i < n; i++) {
        const ww__meta_field *field = &fields[i];
        char key[WW__CURVE_FILE_KEY_SIZE];
        const ww__json_place place = ww__json_key(root, ww__curve_file_key(field->key, key));
        if (!ww__json_said(&place))
            continue;
        if (field->kind == WW__META_TEXT)
            *ww__meta_text(meta, field) = ww__json_copy_text(reader, &place);
        else if (field->kind == WW__META_NUMBER)
            *ww__meta_number(meta, field) = ww__json_read_optional(
                reader, &place, field->above ? DBL_MIN : field->low, field->high);
        else
            ww__meta_set_word(
                meta, field,
                (unsigned)ww__json_read_word(reader, &place, field->words, 1, field->n_words));
    }
}

static void read_exposure(ww__json_reader *reader, const ww__json_place *root,
                          ww_exposure_column *column) {
    enum { COLUMNS = WW_EXPOSURE_TIME + 1 };
    const ww__json_place place = ww__json_key(root, "exposure_column");
    const char *words[COLUMNS];
    if (!ww__json_said(&place))
        return;
    for (size_t i = 0; i < COLUMNS; i++)
        words[i] = ww_exposure_column_name((ww_exposure_column)i);
    *column = (ww_exposure_column)ww__json_read_word(reader, &place, words, 1, COLUMNS);
}

/* What the standard's printed scale has no step for is null in the file and 0 here. */
static void read_arithmetic(ww__json_reader *reader, const ww__json_place *up, ww_speed *speed) {
    const ww__json_place arithmetic = ww__json_key(up, "arithmetic");
    const ww__json_place degrees = ww__json_key(up, "degrees");
    if (ww__json_said(&arithmetic))
        speed->arithmetic = (int)ww__json_read_integer(reader, &arithmetic, 1, 10000000);
    speed->degrees = (int)ww__json_read_integer(reader, &degrees, -1000, 1000);
}

static void read_speed(ww__json_reader *reader, const ww__json_place *root, ww_speed *speed) {
    const ww__json_place place = ww__json_key(root, "speed");
    const ww__json_place standard = ww__json_key(&place, "standard");
    const ww__json_place exact = ww__json_key(&place, "exact");
    const ww__json_place condition = ww__json_key(&place, "condition");
    const ww__json_place delta_x = ww__json_key(&place, "delta_x");
    const char *words[WW_SPEED_EXPOSURE_INDEX + 1];
    if (!ww__json_said(&place) || !ww__json_read_object(reader, &place))
        return;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        words[i] = ww_speed_standard_name((ww_speed_standard)i);
    speed->standard = (ww_speed_standard)ww__json_read_word(
        reader, &standard, words, WW_SPEED_ISO_6, sizeof words / sizeof words[0]);
    speed->exact = ww__json_read_interval(reader, &place, "exact");
    if (reader->status == WW_OK && !(speed->exact.value > 0.0))
        ww__json_refuse(reader, &exact, "is not above 0; fit the readings again");
    read_arithmetic(reader, &place, speed);
    if (ww__json_said(&condition)) {
        const ww__json_place met = ww__json_key(&condition, "met");
        speed->density_difference.value =
            ww__json_number_of(reader, &condition, "density_difference", -10.0, 10.0);
        speed->density_difference.set = true;
        speed->condition_met = ww__json_read_bool(reader, &met);
    }
    speed->delta_x = ww__json_read_optional(reader, &delta_x, -DBL_MAX, DBL_MAX);
}

static void read_crossover(ww__json_reader *reader, const ww__json_place *root,
                           ww_crossover *crossover) {
    const ww__json_place place = ww__json_key(root, "crossover");
    const ww__json_place found = ww__json_key(&place, "found");
    const ww__json_place worst = ww__json_key(&place, "worst_cc");
    const ww__json_place channel = ww__json_key(&place, "channel");
    const ww__json_place between = ww__json_key(&place, "between");
    const char *words[WW_CHANNEL_COUNT];
    if (!ww__json_said(&place) || !ww__json_read_object(reader, &place))
        return;
    for (size_t i = 0; i < WW_CHANNEL_COUNT; i++)
        words[i] = ww_channel_name((ww_channel)i);
    crossover->found = ww__json_read_bool(reader, &found);
    ww__json_read_object(reader, &worst); /* null would pass as absent */
    crossover->worst_cc = ww__json_read_quantity(reader, &worst);
    crossover->channel =
        (ww_channel)ww__json_read_word(reader, &channel, words, 0, WW_CHANNEL_COUNT);
    crossover->at =
        ww__json_number_of(reader, &place, "at", -WW__CURVE_FILE_LOG_H, WW__CURVE_FILE_LOG_H);
    crossover->middle =
        ww__json_number_of(reader, &place, "middle", -WW__CURVE_FILE_LOG_H, WW__CURVE_FILE_LOG_H);
    if (!ww__json_read_pair(reader, &between, WW__CURVE_FILE_LOG_H, false, &crossover->from,
                            &crossover->to))
        ww__json_read_array(reader, &between, 2, 2);
}

static void read_channels(ww__json_reader *reader, const ww__json_place *root, ww_curve *curve) {
    const ww__json_place channels = ww__json_key(root, "channels");
    size_t n = 0;
    if (!ww__json_read_object(reader, &channels))
        return;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww__json_place place = ww__json_key(&channels, ww_channel_name((ww_channel)c));
        if (!place.value)
            continue;
        ww__curve_file_channel(reader, &place, &curve->channel[c]);
        n++;
    }
    if (n < json_object_size(channels.value))
        ww__json_refuse(reader, &channels,
                        "has a channel that is not red, green, blue or visual; name it so");
    else if (n == 0)
        ww__json_refuse(reader, &channels, "is empty; fit readings with a density column");
}

void ww__curve_file_take(ww__json_reader *reader, const ww__json_place *place, ww_curve *curve) {
    const ww__json_place notes = ww__json_key(place, "notes");
    if (!ww__json_read_object(reader, place))
        return;
    read_head(reader, place);
    read_meta(reader, place, &curve->meta);
    read_exposure(reader, place, &curve->exposure);
    read_channels(reader, place, curve);
    read_speed(reader, place, &curve->speed);
    read_crossover(reader, place, &curve->crossover);
    ww__json_read_notes(reader, &notes, &curve->notes);
}

ww_status ww_curve_file_parse(const char *name, const char bytes[], size_t n, ww_curve *curve,
                              ww_error *err) {
    ww__json_reader reader = {.file = name, .err = err, .status = WW_OK};
    ww_curve fresh = WW_CURVE_INIT;
    ww__json_place root;
    json_t *document;
    assert(name && curve);
    reader.status = ww__json_parse(name, bytes, n, &document, err);
    if (reader.status != WW_OK)
        return reader.status;
    root = ww__json_root(document);
    ww__curve_file_take(&reader, &root, &fresh);
    json_decref(document);
    if (reader.status == WW_OK)
        *curve = fresh;
    else
        ww_curve_release(&fresh);
    return reader.status;
}

ww_status ww_curve_file_read(const char *path, ww_curve *curve, ww_error *err) {
    char *bytes;
    size_t n;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_curve_file_parse(ww__input_name(path), bytes, n, curve, err);
    free(bytes);
    return status;
}
