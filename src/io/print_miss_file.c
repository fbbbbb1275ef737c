/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/print_recipe_parts.h"

static void write_hypothesis(ww__json_writer *writer, ww_miss_cause cause,
                             const ww_miss_hypothesis *hypothesis) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_text(writer, "cause", ww_miss_cause_name(cause));
    ww__json_write_bool(writer, "supported", hypothesis->supported);
    ww__json_write_optional(writer, "log_h", hypothesis->log_h);
    ww__json_write_optional(writer, "log_h_sd", hypothesis->log_h_sd);
    ww__json_write_optional(writer, "range", hypothesis->range);
    ww__json_write_optional(writer, "range_sd", hypothesis->range_sd);
    ww__json_write_optional(writer, "lift", hypothesis->lift);
    ww__json_write_optional(writer, "off", hypothesis->off);
    ww__json_write_number(writer, "chi_squared", hypothesis->chi_squared);
    ww__json_write_integer(writer, "freedom", (long)hypothesis->freedom);
    ww__json_write_number(writer, "chance", hypothesis->chance);
    ww__json_close(writer);
}

static void write_tone(ww__json_writer *writer, const ww_miss_tone *tone) {
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_text(writer, "tone", tone->tone);
    ww__json_write_text(writer, "part", ww_part_name(tone->part));
    ww__json_write_number(writer, "foretold", tone->foretold);
    ww__json_write_bool(writer, "beyond", tone->beyond);
    ww__json_write_number(writer, "came", tone->came);
    ww__json_write_number(writer, "error", tone->error);
    ww__json_write_number(writer, "left", tone->left);
    ww__json_close(writer);
}

static void write_causes(ww__json_writer *writer, const ww_print_miss *miss) {
    ww__json_write_text(writer, "cause",
                        miss->n_supported == 1 ? ww_miss_cause_name(miss->best) : NULL);
    ww__json_open_array(writer, "supported", WW__JSON_FLAT);
    for (size_t c = 0; c < WW_MISS_CAUSES; c++)
        if (miss->hypothesis[c].supported)
            ww__json_write_text(writer, NULL, ww_miss_cause_name((ww_miss_cause)c));
    ww__json_close(writer);
}

void ww__print_miss_file_put(ww__json_writer *writer, const char *key, const ww_print_miss *miss) {
    if (!miss) {
        ww__json_write_null(writer, key);
        return;
    }
    ww__json_open_object(writer, key, WW__JSON_LINES);
    write_causes(writer, miss);
    ww__json_write_text(writer, "why", miss->why);
    ww__json_write_text(writer, "paper", miss->paper);
    ww__json_write_name(writer, "contrast", miss->contrast);
    ww__json_write_number(writer, "time", miss->time_s);
    ww__json_write_name(writer, "telling", miss->telling);
    ww__json_write_name(writer, "odd", miss->odd);
    ww__json_write_name(writer, "besides", miss->besides);
    if (miss->learned)
        ww__print_recipe_put_offset(writer, "learned", &miss->offset);
    else
        ww__json_write_null(writer, "learned");
    ww__json_open_array(writer, "hypotheses", WW__JSON_LINES);
    for (size_t c = 0; c < WW_MISS_CAUSES; c++)
        if (miss->hypothesis[c].tried)
            write_hypothesis(writer, (ww_miss_cause)c, &miss->hypothesis[c]);
    ww__json_close(writer);
    ww__json_open_array(writer, "tones", WW__JSON_LINES);
    for (size_t i = 0; i < miss->n_tones; i++)
        write_tone(writer, &miss->tone[i]);
    ww__json_close(writer);
    ww__json_write_notes(writer, "notes", &miss->notes);
    ww__json_close(writer);
}
