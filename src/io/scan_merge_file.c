/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/scan_merge_file.h>

enum { SCAN_MERGE_VERSION = 1 };

static void write_shift(ww__json_writer *writer, const ww_scan_merge_shift *shift) {
    const bool known = shift->places > 0;
    ww__json_open_object(writer, "shift", WW__JSON_FLAT);
    ww__json_write_integer(writer, "places", (long)shift->places);
    ww__json_write_integer(writer, "unlike", (long)shift->unlike);
    ww__json_write_optional(writer, "x", (ww_optional){known, shift->x});
    ww__json_write_optional(writer, "y", (ww_optional){known, shift->y});
    ww__json_close(writer);
}

static void write_differ(ww__json_writer *writer, const ww_scan_merge_differ *differ) {
    const bool any = differ->places > 0;
    ww__json_open_object(writer, "differ", WW__JSON_FLAT);
    ww__json_write_integer(writer, "places", (long)differ->places);
    ww__json_write_integer(writer, "of", (long)differ->of);
    ww__json_write_optional(writer, "x", (ww_optional){any, differ->x});
    ww__json_write_optional(writer, "y", (ww_optional){any, differ->y});
    ww__json_close(writer);
}

static void write_noise(ww__json_writer *writer, const ww_scan_merge_channel *channel) {
    ww__json_open_array(writer, "noise", WW__JSON_LINES);
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++) {
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_number(writer, "below", channel->gain[i].below);
        ww__json_write_number(writer, "shorter", channel->gain[i].shorter);
        ww__json_write_number(writer, "merged", channel->gain[i].merged);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_channel(ww__json_writer *writer, const ww_scan_merge_channel *channel) {
    static const char *const flaw[] = {"none",   "amplified", "decoded",
                                       "uneven", "sharpened", "noisier"};
    ww__json_write_text(writer, "flaw", flaw[channel->flaw]);
    ww__json_write_quantity(writer, "stops", channel->stops);
    ww__json_write_quantity(writer, "ratio", channel->ratio);
    ww__json_write_number(writer, "offset", channel->offset);
    ww__json_write_number(writer, "darkest", channel->darkest);
    ww__json_write_integer(writer, "places", (long)channel->places);
    ww__json_write_number(writer, "read", channel->read);
    ww__json_write_number(writer, "shot", channel->shot);
    ww__json_write_number(writer, "flicker", channel->flicker);
    ww__json_open_object(writer, "shares", WW__JSON_FLAT);
    ww__json_write_number(writer, "longer", channel->longer);
    ww__json_write_number(writer, "blended", channel->blended);
    ww__json_write_number(writer, "shorter", channel->shorter);
    ww__json_close(writer);
    write_noise(writer, channel);
}

ww_status ww_scan_merge_file_text(const ww_scan_merge *merge, char **text, size_t *n,
                                  ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(merge && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", SCAN_MERGE_VERSION);
    ww__json_write_text(&writer, "kind", "scan merge");
    ww__json_write_outside(&writer, "longer", merge->longer_file);
    ww__json_write_outside(&writer, "shorter", merge->shorter_file);
    ww__json_write_text(&writer, "sample", merge->real ? "float" : "16 bit");
    ww__json_write_text(&writer, "noise_from", merge->noise_measured ? "pair" : "scanner file");
    ww__json_write_bool(&writer, "holds", merge->holds);
    ww__json_write_number(&writer, "clips", merge->clips);
    write_shift(&writer, &merge->shift);
    write_differ(&writer, &merge->differ);
    ww__json_open_object(&writer, "channels", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (merge->channel[c].present) {
            ww__json_open_object(&writer, ww_channel_name((ww_channel)c), WW__JSON_LINES);
            write_channel(&writer, &merge->channel[c]);
            ww__json_close(&writer);
        }
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &merge->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
