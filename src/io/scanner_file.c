/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/scanner_file.h"
#include "io/json.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/output.h>
#include <wedgework/scanner_file.h>

const ww__scanner_file_list ww__scanner_file_lists[WW__SCANNER_FILE_LISTS] = {
    {"clipped", offsetof(ww_scanner_step, clipped)},
    {"compressed", offsetof(ww_scanner_step, compressed)},
    {"suspect", offsetof(ww_scanner_step, suspect)},
};

bool *ww__scanner_file_flag(ww_scanner_step *step, const ww__scanner_file_list *list) {
    return (bool *)((char *)step + list->offset);
}

static void write_points(ww__json_writer *writer, const ww_scanner_channel *channel) {
    ww__json_open_array(writer, "curve", WW__JSON_LINES);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_pair(writer, NULL, channel->point[i].code, channel->point[i].density);
    ww__json_close(writer);
    ww__json_open_array(writer, "doubt", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_number(writer, NULL, channel->point[i].doubt);
    ww__json_close(writer);
}

static void write_noise(ww__json_writer *writer, const ww_scanner_noise *noise) {
    ww__json_open_object(writer, "noise", WW__JSON_FLAT);
    ww__json_write_number(writer, "read", noise->read);
    ww__json_write_number(writer, "shot", noise->shot);
    ww__json_write_number(writer, "fixed", noise->fixed);
    ww__json_close(writer);
}

static void write_steps(ww__json_writer *writer, const ww_scanner_channel *channel) {
    for (size_t l = 0; l < WW__SCANNER_FILE_LISTS; l++) {
        ww__json_open_array(writer, ww__scanner_file_lists[l].key, WW__JSON_FLAT);
        for (size_t i = 0; i < channel->n_steps; i++)
            if (*ww__scanner_file_flag(&channel->step[i], &ww__scanner_file_lists[l]))
                ww__json_write_text(writer, NULL, channel->step[i].step);
        ww__json_close(writer);
    }
    ww__json_open_array(writer, "steps", WW__JSON_LINES);
    for (size_t i = 0; i < channel->n_steps; i++) {
        const ww_scanner_step *step = &channel->step[i];
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "step", step->step);
        ww__json_write_number(writer, "density", step->density);
        ww__json_write_number(writer, "code", step->code);
        ww__json_write_number(writer, "sd", step->sd);
        ww__json_write_number(writer, "fitted", step->fitted);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_channel(ww__json_writer *writer, const char *key,
                          const ww_scanner_channel *channel) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    write_points(writer, channel);
    ww__json_write_number(writer, "k", channel->k);
    ww__json_write_optional(writer, "surround", channel->surround);
    if (channel->clips.set)
        ww__json_write_number(writer, "clips", channel->clips.value);
    write_noise(writer, &channel->noise);
    ww__json_write_quantity(writer, "dark", channel->dark);
    ww__json_write_quantity(writer, "flare", channel->flare);
    ww__json_write_quantity(writer, "dmax", channel->dmax);
    write_steps(writer, channel);
    ww__json_write_number(writer, "residual_sd", channel->residual_sd);
    ww__json_write_number(writer, "worst_residual", channel->worst_residual);
    ww__json_close(writer);
}

static void write_encoding(ww__json_writer *writer, const ww_scanner *scanner) {
    const ww_quantity gamma = scanner->gamma;
    ww__json_open_object(writer, "encoding", WW__JSON_FLAT);
    ww__json_write_number(writer, "gamma", gamma.value);
    ww__json_write_number(writer, "low", gamma.low);
    ww__json_write_number(writer, "high", gamma.high);
    ww__json_write_text(writer, "how", ww_quantity_how_name(gamma.how));
    ww__json_write_text(writer, "curve", ww_encoding_name(scanner->encoding));
    ww__json_close(writer);
}

ww_status ww_scanner_file_text(const ww_scanner *scanner, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(scanner && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", WW__SCANNER_FILE_VERSION);
    ww__json_write_text(&writer, "kind", "scanner");
    ww__json_write_text(&writer, "name", scanner->name);
    ww__json_write_text(&writer, "profile", scanner->profile);
    ww__json_write_integer(&writer, "bits", (long)scanner->bits);
    ww__json_write_number(&writer, "white", scanner->white);
    ww__json_write_number(&writer, "step", scanner->step);
    write_encoding(&writer, scanner);
    ww__json_write_text(&writer, "wedge",
                        scanner->wedge == WW_WEDGE_UNKNOWN ? NULL
                                                           : ww_wedge_kind_name(scanner->wedge));
    ww__json_write_optional(&writer, "wedge_sd", scanner->wedge_sd);
    ww__json_write_text(
        &writer, "density",
        scanner->density == WW_DENSITY_UNKNOWN ? NULL : ww_density_kind_name(scanner->density));
    ww__json_write_bool(&writer, "dark_scan", scanner->dark_scan);
    ww__json_write_bool(&writer, "misfit", scanner->misfit);
    ww__json_open_object(&writer, "channels", WW__JSON_LINES);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (scanner->channel[c].present)
            write_channel(&writer, ww_channel_name((ww_channel)c), &scanner->channel[c]);
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &scanner->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_scanner_file_write(const ww_scanner *scanner, const char *path, ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_scanner_file_text(scanner, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}
