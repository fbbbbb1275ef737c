/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/texture_file.h>

enum { VERSION = 1 };

static void write_spot(ww__json_writer *writer, const ww_texture_spot *spot) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "name", spot->name);
    ww__json_write_integer(writer, "n", (long)spot->n);
    ww__json_write_number(writer, "left_out", spot->left_out);
    ww__json_write_number(writer, "density", spot->density);
    ww__json_write_number(writer, "sd", spot->sd);
    ww__json_write_number(writer, "scanner_sd", spot->scanner);
    ww__json_write_quantity(writer, "rms", spot->rms);
    ww__json_write_number(writer, "scanner_rms", spot->scanner_rms);
    ww__json_write_quantity(writer, "selwyn", spot->selwyn);
    ww__json_close(writer);
}

static void write_edge(ww__json_writer *writer, const ww_texture_scan *scan) {
    if (!scan->has_edge) {
        ww__json_write_null(writer, "edge");
        return;
    }
    ww__json_open_object(writer, "edge", WW__JSON_LINES);
    ww__json_write_number(writer, "angle", scan->edge.angle_deg);
    ww__json_write_quantity(writer, "width_um", scan->width_um);
    ww__json_write_quantity(writer, "mtf50", scan->mtf50_per_mm);
    ww__json_close(writer);
}

static void write_scan(ww__json_writer *writer, const ww_texture_scan *scan) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "name", scan->file);
    ww__json_write_text(writer, "channel", ww_channel_name(scan->channel));
    ww__json_write_number(writer, "pixel_um", scan->px_um);
    ww__json_open_array(writer, "spots", WW__JSON_LINES);
    for (size_t i = 0; i < scan->n; i++)
        write_spot(writer, &scan->spot[i]);
    ww__json_close(writer);
    write_edge(writer, scan);
    ww__json_write_notes(writer, "notes", &scan->notes);
    ww__json_close(writer);
}

ww_status ww_texture_file_text(const ww_texture_scan scan[], size_t n, char **text, size_t *n_text,
                               ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(scan && text && n_text);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", VERSION);
    ww__json_write_text(&writer, "kind", "comparison");
    ww__json_open_array(&writer, "scans", WW__JSON_LINES);
    for (size_t i = 0; i < n; i++)
        write_scan(&writer, &scan[i]);
    ww__json_close(&writer);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n_text);
}
