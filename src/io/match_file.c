/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/icc.h"
#include "io/json.h"
#include <assert.h>
#include <math.h>
#include <wedgework/match_file.h>

enum { CORRECTION_VERSION = 1, VALUE_DECIMALS = 6 };

/* The i-th point by rising control. */
static void point_of(const ww_match *match, size_t channel, size_t i, double *in, double *out) {
    const bool falls = ww_ramp_control(match->ramp, 1.0) < ww_ramp_control(match->ramp, 0.0);
    const size_t at = falls ? WW_MATCH_POINTS - 1 - i : i;
    *in = ww_ramp_control(match->ramp, (double)at / (WW_MATCH_POINTS - 1));
    *out = ww_ramp_control(match->ramp, match->channel[channel].out[at]);
}

/* ----------------------------------------------------------------------------------------- JSON */

static void write_points(ww__json_writer *writer, const ww_match *match, size_t channel) {
    ww__json_open_array(writer, match->channel[channel].name, WW__JSON_LINES);
    for (size_t i = 0; i < WW_MATCH_POINTS; i++) {
        double in, out;
        point_of(match, channel, i, &in, &out);
        ww__json_write_pair(writer, NULL, in, out);
    }
    ww__json_close(writer);
}

static void write_regions(ww__json_writer *writer, const ww_match_miss region[]) {
    ww__json_open_object(writer, "regions", WW__JSON_FLAT);
    for (int r = 0; r < WW_REGION_COUNT; r++)
        ww__json_write_optional(writer, ww_viewing_region_word((ww_region_name)r),
                                (ww_optional){region[r].any, region[r].density});
    ww__json_close(writer);
}

static void write_codes(ww__json_writer *writer, const ww_match *match,
                        const ww_match_codes *codes) {
    ww__json_open_object(writer, "eight_bits", WW__JSON_FLAT);
    ww__json_write_integer(writer, "merged", (long)codes->merged);
    ww__json_write_integer(writer, "left_out", (long)codes->left_out);
    ww__json_write_number(writer, "step", codes->density);
    ww__json_write_number(writer, "step_lightness", codes->lightness);
    ww__json_write_number(writer, "at", ww_ramp_control(match->ramp, codes->drive));
    ww__json_write_bool(writer, "enough", codes->lightness <= WW_MATCH_BAND);
    ww__json_close(writer);
}

static void write_details(ww__json_writer *writer, const ww_match *match, size_t channel) {
    const ww_match_channel *c = &match->channel[channel];
    ww__json_open_object(writer, c->name, WW__JSON_LINES);
    ww__json_write_text(writer, "read", ww_column_name(c->read));
    ww__json_write_pair(writer, "aim_ends", c->aim.density[0],
                        ww_tone_response_density(&c->aim, c->aim.to));
    ww__json_write_pair(writer, "print_ends", c->white, c->black);
    ww__json_write_pair(writer, "kept", ww_ramp_control(match->ramp, c->kept_from),
                        ww_ramp_control(match->ramp, c->kept));
    ww__json_write_number(writer, "kept_density", c->kept_density);
    ww__json_write_number(writer, "kept_doubt", c->kept_miss.doubt);
    ww__json_write_number(writer, "worst", c->worst.density);
    ww__json_write_number(writer, "worst_in", ww_ramp_control(match->ramp, c->worst.drive));
    ww__json_write_number(writer, "doubt", c->worst.doubt);
    write_regions(writer, c->region);
    ww__json_write_number(writer, "sent_at_most", ww_ramp_control(match->ramp, c->print.to));
    write_codes(writer, match, &c->codes);
    ww__json_close(writer);
}

static void write_slip(ww__json_writer *writer, const ww_match *match) {
    const ww_tone_slip *slip = &match->slip;
    if (slip->moved == 0)
        return;
    ww__json_open_object(writer, "slip", WW__JSON_FLAT);
    ww__json_write_text(writer, "step", slip->moved > 0 ? "skipped" : "read twice");
    ww__json_write_outside(writer, "file", match->slip_in);
    ww__json_write_number(writer, "from", slip->control);
    ww__json_write_bool(writer, "taken", slip->taken);
    ww__json_close(writer);
}

ww_status ww_match_file_text(const ww_match *match, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(match && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", CORRECTION_VERSION);
    ww__json_write_text(&writer, "kind", "correction");
    ww__json_write_outside(&writer, "aim", match->aim);
    ww__json_write_outside(&writer, "print", match->print);
    ww__json_write_text(&writer, "control", ww_ramp_name(match->ramp));
    ww__json_write_text(&writer, "white", match->absolute ? "match" : "keep");
    ww__json_write_bool(&writer, "holds", match->holds);
    write_slip(&writer, match);
    ww__json_write_integer(&writer, "passes", (long)match->passes);
    ww__json_open_object(&writer, "channels", WW__JSON_LINES);
    for (size_t c = 0; c < match->n; c++)
        write_points(&writer, match, c);
    ww__json_close(&writer);
    ww__json_write_number(&writer, "worst", match->worst.density);
    ww__json_open_object(&writer, "worst_at", WW__JSON_FLAT);
    ww__json_write_text(&writer, "channel", match->channel[match->worst_channel].name);
    ww__json_write_number(&writer, "in", ww_ramp_control(match->ramp, match->worst.drive));
    ww__json_close(&writer);
    ww__json_write_number(&writer, "doubt", match->worst.doubt);
    write_regions(&writer, match->region);
    ww__json_open_object(&writer, "details", WW__JSON_LINES);
    for (size_t c = 0; c < match->n; c++)
        write_details(&writer, match, c);
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &match->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

/* ------------------------------------------------------------------------------- tables of text */

static ww_status finish(ww__text *made, char **text, size_t *n, ww_error *err) {
    const ww_status status = ww__text_status(made, err);
    if (status != WW_OK) {
        ww__text_release(made);
        return status;
    }
    *text = made->bytes; /* the caller's now */
    *n = made->n;
    return WW_OK;
}

ww_status ww_match_file_csv(const ww_match *match, char **text, size_t *n, ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    assert(match && text && n);
    ww__text_add_format(&made, "# correction of %s: what to send (out) in place of in\n",
                        ww_ramp_name(match->ramp));
    ww__text_add(&made, ww_ramp_unit(match->ramp)[0] ? "# in per cent\nin" : "# 1 is white\nin");
    for (size_t c = 0; c < match->n; c++)
        ww__text_add_format(&made, ",%s", match->n == 1 ? "out" : match->channel[c].name);
    ww__text_add(&made, "\n");
    for (size_t i = 0; i < WW_MATCH_POINTS; i++) {
        for (size_t c = 0; c < match->n; c++) {
            double in, out;
            point_of(match, c, i, &in, &out);
            if (c == 0)
                ww__text_add_number(&made, in, VALUE_DECIMALS);
            ww__text_add(&made, ",");
            ww__text_add_number(&made, out, VALUE_DECIMALS);
        }
        ww__text_add(&made, "\n");
    }
    return finish(&made, text, n, err);
}

ww_status ww_match_file_cube(const ww_match *match, char **text, size_t *n, ww_error *err) {
    ww__text made = WW__TEXT_INIT;
    assert(match && text && n);
    ww__text_add_format(&made,
                        "# values from 0, black, to 1, white\nTITLE \"tone correction\"\n"
                        "LUT_1D_SIZE %d\nDOMAIN_MIN 0.0 0.0 0.0\nDOMAIN_MAX 1.0 1.0 1.0\n",
                        WW_MATCH_POINTS);
    for (size_t i = 0; i < WW_MATCH_POINTS; i++)
        for (size_t c = 0; c < WW_MATCH_CHANNELS; c++) {
            ww__text_add_number(&made, ww_match_value(match, c, (double)i / (WW_MATCH_POINTS - 1)),
                                VALUE_DECIMALS);
            ww__text_add(&made, c + 1 < WW_MATCH_CHANNELS ? " " : "\n");
        }
    return finish(&made, text, n, err);
}

/* ------------------------------------------------------------------------------------------ ICC */

ww_status ww_match_file_icc(const ww_match *match, char **text, size_t *n, ww_error *err) {
    uint16_t code[WW_MATCH_CHANNELS][WW_MATCH_POINTS];
    const uint16_t *table[WW_MATCH_CHANNELS] = {code[0], code[1], code[2]};
    assert(match && text && n);
    for (size_t c = 0; c < match->n; c++)
        for (size_t i = 0; i < WW_MATCH_POINTS; i++)
            code[c][i] = (uint16_t)lround(
                65535.0 * ww_match_value(match, c, (double)i / (WW_MATCH_POINTS - 1)));
    return ww__icc_link(table, match->n, WW_MATCH_POINTS,
                        match->n == 1 ? "tone correction, gray" : "tone correction, RGB", text, n,
                        err);
}
