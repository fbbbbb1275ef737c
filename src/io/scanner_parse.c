/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "io/input.h"
#include "io/json.h"
#include "io/scanner_file.h"
#include <assert.h>
#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/scanner_file.h>

enum { FILE_MOST = 64 * 1024 * 1024, BITS_MOST = 64 };

/* Limits that catch slips and damage; densities as for readings. */
static const double density_low = -0.1, density_high = 6.0, sd_limit = 6.0;
static const double gamma_low = 0.1, gamma_high = 10.0, light_most = 1e3, k_least = 1e-9,
                    dmax_most = 12.0;
static const double code_room = 2.0; /* the model may reach a little beyond white */

static void read_head(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place version = ww__json_key(root, "wedgework");
    const ww__json_place kind = ww__json_key(root, "kind");
    const long given = ww__json_read_integer(reader, &version, 1, LONG_MAX);
    const char *text;
    char quote[200];
    if (reader->status == WW_OK && given > WW__SCANNER_FILE_VERSION)
        ww__json_refuse(reader, &version,
                        "is %ld, but this program knows files up to version %d; use a newer one",
                        given, WW__SCANNER_FILE_VERSION);
    text = ww__json_read_text(reader, &kind);
    if (text && strcmp(text, "scanner") != 0)
        ww__json_refuse(reader, &kind,
                        "is '%s', not 'scanner'; give a scanner file as `scanner -o` writes it",
                        ww__escape_message(text, quote, sizeof quote));
}

static void read_codes(ww__json_reader *reader, const ww__json_place *root, ww_scanner *scanner) {
    const ww__json_place bits = ww__json_key(root, "bits"), white = ww__json_key(root, "white"),
                         step = ww__json_key(root, "step");
    scanner->bits = (unsigned)ww__json_read_integer(reader, &bits, 1, BITS_MOST);
    scanner->white = ww__json_read_number(reader, &white, 1.0, DBL_MAX);
    if (reader->status == WW_OK && scanner->white != 1.0 &&
        scanner->white != ldexp(1.0, (int)scanner->bits) - 1.0)
        ww__json_refuse(reader, &white,
                        "is not the greatest code of %u bits; calibrate the scanner again",
                        scanner->bits);
    if (ww__json_said(&step))
        scanner->step = ww__json_read_number(reader, &step, 0.0, scanner->white);
}

static void read_encoding(ww__json_reader *reader, const ww__json_place *root,
                          ww_scanner *scanner) {
    const ww__json_place place = ww__json_key(root, "encoding");
    const ww__json_place curve = ww__json_key(&place, "curve");
    const ww__json_place gamma = ww__json_key(&place, "gamma");
    const char *words[WW_ENCODING_COUNT];
    if (!ww__json_read_object(reader, &place))
        return;
    scanner->gamma = ww__json_read_interval(reader, &place, "gamma");
    ww__json_read_number(reader, &gamma, gamma_low, gamma_high);
    for (size_t i = 0; i < WW_ENCODING_COUNT; i++)
        words[i] = ww_encoding_name((ww_encoding)i);
    if (ww__json_said(&curve))
        scanner->encoding =
            (ww_encoding)ww__json_read_word(reader, &curve, words, 0, WW_ENCODING_COUNT);
}

static void read_wedge(ww__json_reader *reader, const ww__json_place *root, ww_scanner *scanner) {
    const ww__json_place wedge = ww__json_key(root, "wedge"), sd = ww__json_key(root, "wedge_sd"),
                         dark = ww__json_key(root, "dark_scan"),
                         misfit = ww__json_key(root, "misfit");
    const ww__json_place density = ww__json_key(root, "density");
    const char *words[WW_WEDGE_NOMINAL + 1], *kinds[WW_DENSITY_REFLECTION + 1];
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        words[i] = ww_wedge_kind_name((ww_wedge_kind)i);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        kinds[i] = ww_density_kind_name((ww_density_kind)i);
    if (ww__json_said(&density))
        scanner->density = (ww_density_kind)ww__json_read_word(
            reader, &density, kinds, WW_DENSITY_TRANSMISSION, sizeof kinds / sizeof kinds[0]);
    if (ww__json_said(&wedge))
        scanner->wedge = (ww_wedge_kind)ww__json_read_word(
            reader, &wedge, words, WW_WEDGE_CERTIFIED, sizeof words / sizeof words[0]);
    scanner->wedge_sd = ww__json_read_optional(reader, &sd, 0.0, sd_limit);
    if (ww__json_said(&dark))
        scanner->dark_scan = ww__json_read_bool(reader, &dark);
    if (ww__json_said(&misfit))
        scanner->misfit = ww__json_read_bool(reader, &misfit);
}

/* --------------------------------------------------------------------------------- channels */

static void read_point(ww__json_reader *reader, const ww__json_place *place,
                       const ww__json_place *doubts, size_t i, double white,
                       ww_scanner_point point[]) {
    const ww__json_place code = ww__json_item(place, 0), density = ww__json_item(place, 1),
                         doubt = ww__json_item(doubts, i);
    if (ww__json_read_array(reader, place, 2, 2) != 2)
        return;
    point[i].code = ww__json_read_number(reader, &code, 0.0, code_room * white);
    point[i].density = ww__json_read_number(reader, &density, density_low, density_high);
    point[i].doubt = ww__json_read_number(reader, &doubt, 0.0, DBL_MAX);
    if (reader->status == WW_OK && i > 0 &&
        !(point[i].code > point[i - 1].code && point[i].density < point[i - 1].density))
        ww__json_refuse(reader, place,
                        "does not follow on the one before: codes must rise and densities fall; "
                        "calibrate the scanner again");
}

static void read_points(ww__json_reader *reader, const ww__json_place *up, double white,
                        ww_scanner_channel *channel) {
    const ww__json_place curve = ww__json_key(up, "curve"), doubt = ww__json_key(up, "doubt");
    const size_t n = ww__json_read_array(reader, &curve, 2, SIZE_MAX);
    ww__json_read_array(reader, &doubt, n, n);
    if (reader->status != WW_OK)
        return;
    channel->point = calloc(n, sizeof *channel->point);
    if (!channel->point) {
        ww__json_no_memory(reader);
        return;
    }
    channel->n_points = n;
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&curve, i);
        read_point(reader, &item, &doubt, i, white, channel->point);
    }
}

static void read_noise(ww__json_reader *reader, const ww__json_place *up, ww_scanner_noise *noise) {
    const ww__json_place place = ww__json_key(up, "noise");
    if (!ww__json_read_object(reader, &place))
        return;
    noise->read = ww__json_number_of(reader, &place, "read", 0.0, light_most);
    noise->shot = ww__json_number_of(reader, &place, "shot", 0.0, light_most);
    noise->fixed = ww__json_number_of(reader, &place, "fixed", 0.0, light_most);
}

static void read_list(ww__json_reader *reader, const ww__json_place *up,
                      const ww__scanner_file_list *list, ww_scanner_channel *channel) {
    const ww__json_place place = ww__json_key(up, list->key);
    if (!ww__json_said(&place))
        return;
    const size_t n = ww__json_read_array(reader, &place, 0, SIZE_MAX);
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&place, i);
        const char *label = ww__json_read_text(reader, &item);
        bool found = false;
        char quote[200];
        for (size_t k = 0; label && k < channel->n_steps; k++)
            if (strcmp(channel->step[k].step, label) == 0)
                found = *ww__scanner_file_flag(&channel->step[k], list) = true;
        if (label && !found)
            ww__json_refuse(reader, &item, "is '%s', which is none of the steps",
                            ww__escape_message(label, quote, sizeof quote));
    }
}

static void read_step(ww__json_reader *reader, const ww__json_place *place, ww_scanner_step *step) {
    const ww__json_place label = ww__json_key(place, "step");
    if (!ww__json_read_object(reader, place))
        return;
    ww__json_read_text(reader, &label); /* null would pass as "not said" */
    step->step = ww__json_copy_text(reader, &label);
    step->density = ww__json_number_of(reader, place, "density", density_low, density_high);
    step->code = ww__json_number_of(reader, place, "code", -DBL_MAX, DBL_MAX);
    step->sd = ww__json_number_of(reader, place, "sd", 0.0, DBL_MAX);
    step->fitted = ww__json_number_of(reader, place, "fitted", -DBL_MAX, DBL_MAX);
}

static void read_steps(ww__json_reader *reader, const ww__json_place *up,
                       ww_scanner_channel *channel) {
    const ww__json_place place = ww__json_key(up, "steps");
    const size_t n = ww__json_said(&place) ? ww__json_read_array(reader, &place, 0, SIZE_MAX) : 0;
    if (n > 0) {
        channel->step = calloc(n, sizeof *channel->step);
        if (!channel->step) {
            ww__json_no_memory(reader);
            return;
        }
        channel->n_steps = n;
    }
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&place, i);
        read_step(reader, &item, &channel->step[i]);
    }
    for (size_t l = 0; l < WW__SCANNER_FILE_LISTS && reader->status == WW_OK; l++)
        read_list(reader, up, &ww__scanner_file_lists[l], channel);
}

static ww_quantity quantity_of(ww__json_reader *reader, const ww__json_place *up, const char *key,
                               double low, double high) {
    const ww__json_place place = ww__json_key(up, key);
    const ww_quantity quantity = ww__json_read_quantity(reader, &place);
    if (ww_quantity_present(quantity))
        ww__json_number_of(reader, &place, "value", low, high);
    return quantity;
}

static void read_channel(ww__json_reader *reader, const ww__json_place *place, double white,
                         ww_scanner_channel *channel) {
    if (!ww__json_read_object(reader, place))
        return;
    channel->present = true;
    read_points(reader, place, white, channel);
    channel->k = ww__json_number_of(reader, place, "k", k_least, light_most);
    const ww__json_place surround = ww__json_key(place, "surround");
    channel->surround = ww__json_read_optional(reader, &surround, -DBL_MAX, DBL_MAX);
    const ww__json_place clips = ww__json_key(place, "clips");
    channel->clips = ww__json_read_optional(reader, &clips, white / 256.0, white);
    read_noise(reader, place, &channel->noise);
    channel->dark = quantity_of(reader, place, "dark", -1.0, 1.0);
    channel->flare = quantity_of(reader, place, "flare", 0.0, light_most);
    channel->dmax = quantity_of(reader, place, "dmax", -dmax_most, dmax_most);
    read_steps(reader, place, channel);
    channel->residual_sd = ww__json_number_of(reader, place, "residual_sd", 0.0, DBL_MAX);
    channel->worst_residual =
        ww__json_number_of(reader, place, "worst_residual", -DBL_MAX, DBL_MAX);
}

static void read_channels(ww__json_reader *reader, const ww__json_place *root,
                          ww_scanner *scanner) {
    const ww__json_place channels = ww__json_key(root, "channels");
    size_t n = 0;
    if (!ww__json_read_object(reader, &channels))
        return;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww__json_place place = ww__json_key(&channels, ww_channel_name((ww_channel)c));
        if (!place.value)
            continue;
        read_channel(reader, &place, scanner->white, &scanner->channel[c]);
        n++;
    }
    if (n < json_object_size(channels.value))
        ww__json_refuse(reader, &channels,
                        "has a channel that is not red, green, blue or visual; name it so");
    else if (n == 0)
        ww__json_refuse(reader, &channels, "is empty; calibrate the scanner again");
}

ww_status ww_scanner_file_parse(const char *name, const char bytes[], size_t n, ww_scanner *scanner,
                                ww_error *err) {
    ww__json_reader reader = {.file = name, .err = err, .status = WW_OK};
    ww_scanner fresh = WW_SCANNER_INIT;
    ww__json_place root, title, profile, notes;
    json_t *document;
    assert(name && scanner);
    reader.status = ww__json_parse(name, bytes, n, &document, err);
    if (reader.status != WW_OK)
        return reader.status;
    root = ww__json_root(document);
    title = ww__json_key(&root, "name");
    profile = ww__json_key(&root, "profile");
    notes = ww__json_key(&root, "notes");
    read_head(&reader, &root);
    fresh.name = ww__json_copy_text(&reader, &title);
    fresh.profile = ww__json_copy_text(&reader, &profile);
    read_codes(&reader, &root, &fresh);
    read_encoding(&reader, &root, &fresh);
    read_wedge(&reader, &root, &fresh);
    read_channels(&reader, &root, &fresh);
    ww__json_read_notes(&reader, &notes, &fresh.notes);
    json_decref(document);
    if (reader.status == WW_OK)
        *scanner = fresh;
    else
        ww_scanner_release(&fresh);
    return reader.status;
}

ww_status ww_scanner_file_read(const char *path, ww_scanner *scanner, ww_error *err) {
    char *bytes;
    size_t n;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_scanner_file_parse(ww__input_name(path), bytes, n, scanner, err);
    free(bytes);
    return status;
}
