/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/scan_densities_file.h>

enum { SCAN_DENSITIES_VERSION = 1 };

static void write_channel(ww__json_writer *writer, const ww_scan_densities_channel *channel) {
    ww__json_write_number(writer, "thin", channel->thin);
    ww__json_write_number(writer, "thin_doubt", channel->thin_doubt);
    ww__json_write_number(writer, "dense", channel->dense);
    ww__json_write_number(writer, "dense_doubt", channel->dense_doubt);
    ww__json_write_number(writer, "wedge", channel->wedge);
    ww__json_write_number(writer, "thinner", channel->thinner);
    ww__json_write_number(writer, "denser", channel->denser);
}

ww_status ww_scan_densities_file_text(const ww_scan_densities *densities, char **text, size_t *n,
                                      ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(densities && text && n);
    const bool scaled = densities->scaled;
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", SCAN_DENSITIES_VERSION);
    ww__json_write_text(&writer, "kind", "scan densities");
    ww__json_write_outside(&writer, "file", densities->file);
    ww__json_write_text(&writer, "sample", scaled ? "16 bit" : "float");
    ww__json_write_number(&writer, "scale", scaled ? WW_SCAN_DENSITIES_SCALE : 1.0);
    ww__json_write_number(&writer, "zero", scaled ? WW_SCAN_DENSITIES_ZERO : 0.0);
    ww__json_open_object(&writer, "channels", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (densities->channel[c].present) {
            ww__json_open_object(&writer, ww_channel_name((ww_channel)c), WW__JSON_FLAT);
            write_channel(&writer, &densities->channel[c]);
            ww__json_close(&writer);
        }
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &densities->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
