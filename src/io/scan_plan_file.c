/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/scan_plan_file.h>

enum { SCAN_PLAN_VERSION = 1 };

/* A scanner without noise has no end to its signal-to-noise: that is null. */
static ww_optional where(bool set, double value) {
    return (ww_optional){set && isfinite(value), value};
}

static void write_tones(ww__json_writer *writer, const ww_scan_channel *channel) {
    ww__json_open_array(writer, "tones", WW__JSON_LINES);
    for (size_t i = 0; i < channel->n_tones; i++) {
        const ww_scan_tone *tone = &channel->tone[i];
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "tone", tone->tone);
        ww__json_write_bool(writer, "base", tone->base);
        ww__json_write_bool(writer, "kept", tone->kept);
        ww__json_write_optional(writer, "density", where(!tone->over, tone->density));
        ww__json_write_optional(writer, "thin", tone->thin);
        ww__json_write_optional(writer, "code", where(!tone->over, tone->code));
        ww__json_write_optional(writer, "snr", where(!tone->over, tone->snr));
        ww__json_write_optional(writer, "noise", where(!tone->over, tone->noise));
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_stops(ww__json_writer *writer, const ww_scan_channel *channel) {
    ww__json_write_number(writer, "stops", channel->stops.value);
    ww__json_write_number(writer, "low", channel->stops.low);
    ww__json_write_number(writer, "high", channel->stops.high);
    ww__json_open_object(writer, "budget", WW__JSON_FLAT);
    ww__json_write_number(writer, "readings", channel->doubt.readings);
    ww__json_write_number(writer, "calibration", channel->doubt.calibration);
    ww__json_write_number(writer, "dark", channel->doubt.dark);
    ww__json_close(writer);
    ww__json_write_number(writer, "light", channel->light);
    ww__json_write_text(writer, "read_as", ww_channel_name(channel->read));
    ww__json_write_text(writer, "base", channel->tone[channel->base].tone);
    ww__json_write_bool(writer, "base_is_film", !channel->stands_in);
    ww__json_write_number(writer, "base_density", channel->base_density);
    ww__json_write_number(writer, "base_code", channel->base_code);
}

static void write_steps(ww__json_writer *writer, const ww_scan_channel *channel, bool known) {
    ww__json_open_object(writer, "code_steps", WW__JSON_FLAT);
    for (size_t i = 0; i < WW_SCAN_BITS; i++) {
        char key[16];
        snprintf(key, sizeof key, "%u", ww_scan_bits[i]);
        ww__json_write_optional(writer, key, where(known, channel->step[i]));
    }
    ww__json_close(writer);
    ww__json_write_optional(writer, "code_step",
                            where(known && channel->own_step > 0.0, channel->own_step));
}

static void write_highlight(ww__json_writer *writer, const ww_scan_channel *channel) {
    const ww_scan_tone *tone = &channel->tone[channel->highlight];
    const bool known = !tone->over;
    ww__json_write_text(writer, "highlight", tone->tone);
    ww__json_write_optional(writer, "highlight_density", where(known, tone->density));
    ww__json_write_optional(writer, "highlight_detail",
                            where(known && tone->thin.set, tone->density - tone->thin.value));
    ww__json_write_optional(writer, "highlight_code", where(known, tone->code));
    ww__json_write_optional(writer, "highlight_snr", where(known, tone->snr));
    ww__json_write_optional(writer, "snr_before",
                            where(channel->snr_before.set, channel->snr_before.value));
    ww__json_write_optional(writer, "snr_together",
                            where(channel->snr_together.set, channel->snr_together.value));
    ww__json_write_optional(writer, "separable", where(known, channel->separable));
    ww__json_write_integer(writer, "n", 1);
    ww__json_open_object(writer, "told", WW__JSON_FLAT);
    ww__json_write_number(writer, "n", WW_SCAN_PATCH);
    ww__json_write_optional(writer, "density", where(known, channel->told));
    ww__json_close(writer);
    ww__json_write_bool(writer, "seen", channel->seen);
    ww__json_write_quantity(writer, "sees_to", channel->sees);
    ww__json_write_optional(writer, "contrast", where(known, channel->contrast));
    write_steps(writer, channel, known);
}

static void write_more(ww__json_writer *writer, const ww_scan_channel *channel) {
    const bool second = channel->second_stops > 0.0;
    ww__json_write_number(writer, "second_pass_stops", channel->second_stops);
    ww__json_write_optional(writer, "switch_density", where(second, channel->switch_at));
    ww__json_write_optional(writer, "second_told", where(second, channel->second_told));
    ww__json_write_optional(writer, "second_gain", where(second, channel->gain));
    ww__json_write_optional(writer, "between_told", where(second, channel->between));
    ww__json_write_optional(writer, "average", where(channel->average > 0, channel->average));
}

static void write_throughout(ww__json_writer *writer, const ww_scan_plan *plan) {
    if (plan->throughout_first == 0) {
        ww__json_write_null(writer, "throughout");
        return;
    }
    ww__json_open_object(writer, "throughout", WW__JSON_FLAT);
    ww__json_write_integer(writer, "first_passes", (long)plan->throughout_first);
    ww__json_write_integer(writer, "second_passes", (long)plan->throughout_second);
    ww__json_write_number(writer, "second_pass_stops", plan->throughout_stops);
    ww__json_close(writer);
}

static void write_channels(ww__json_writer *writer, const ww_scan_plan *plan) {
    ww__json_open_object(writer, "channels", WW__JSON_LINES);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (!channel->present)
            continue;
        ww__json_open_object(writer, ww_channel_name((ww_channel)c), WW__JSON_LINES);
        write_stops(writer, channel);
        write_highlight(writer, channel);
        write_more(writer, channel);
        write_tones(writer, channel);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

ww_status ww_scan_plan_file_text(const ww_scan_plan *plan, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(plan && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", SCAN_PLAN_VERSION);
    ww__json_write_text(&writer, "kind", "scan plan");
    ww__json_write_bool(&writer, "holds", plan->holds);
    ww__json_write_text(&writer, "way", ww_scan_way_name(plan->way));
    ww__json_write_integer(&writer, "passes", (long)plan->passes);
    ww__json_write_integer(&writer, "first_passes", (long)plan->first);
    ww__json_write_integer(&writer, "second_passes", (long)plan->second);
    ww__json_write_number(&writer, "separate", plan->separate);
    ww__json_write_optional(&writer, "least", where(!plan->holds, plan->least));
    ww__json_write_number(&writer, "stops", plan->stops);
    ww__json_write_number(&writer, "second_pass_stops", plan->second_stops);
    write_throughout(&writer, plan);
    ww__json_write_integer(&writer, "bits", (long)plan->bits);
    ww__json_write_integer(&writer, "bits_held", (long)plan->held);
    ww__json_write_text(&writer, "weakest", ww_channel_name(plan->weakest));
    write_channels(&writer, plan);
    ww__json_write_notes(&writer, "notes", &plan->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
