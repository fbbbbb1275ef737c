/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/curve_file.h"
#include "io/print_recipe_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_recipe.h>
#include <wedgework/readings_file.h>

static const ww__print_recipe_number numbers[] = {
    {"callier", offsetof(ww_print_request, callier), false, WW_PRINT_CALLIER_LEAST,
     WW_PRINT_CALLIER_MOST},
    {"enlarger_flare", offsetof(ww_print_request, enlarger_flare), false, 0.0, 1.0},
    {"dry_down", offsetof(ww_print_request, dry_down_percent), false, 0.0, WW_PRINT_DRY_DOWN_MOST},
    {"from_scale", offsetof(ww_print_request, from_scale), true, WW_PRINT_SCALE_LEAST,
     WW_PRINT_SCALE_MOST},
    {"scale", offsetof(ww_print_request, scale), true, WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST},
    {"from_aperture", offsetof(ww_print_request, from_aperture), true, WW_PRINT_APERTURE_LEAST,
     WW_PRINT_APERTURE_MOST},
    {"aperture", offsetof(ww_print_request, aperture), true, WW_PRINT_APERTURE_LEAST,
     WW_PRINT_APERTURE_MOST},
    {"reciprocity", offsetof(ww_print_request, reciprocity), true, WW_PRINT_RECIPROCITY_LEAST,
     WW_PRINT_RECIPROCITY_MOST},
    {"timer_step", offsetof(ww_print_request, timer_step_s), false, WW_PRINT_STEP_LEAST,
     WW_PRINT_STEP_MOST},
    {"repeatability", offsetof(ww_print_request, repeatability), true, 0.0,
     WW_PRINT_REPEATABILITY_MOST},
    {"lift", offsetof(ww_print_request, lift), true, 0.0, WW_PRINT_LIFT_MOST},
};

const ww__print_recipe_number *ww__print_recipe_numbers(size_t *n) {
    *n = sizeof numbers / sizeof numbers[0];
    return numbers;
}

static void write_numbers(ww__json_writer *writer, const ww_print_request *request) {
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        const char *at = (const char *)request + numbers[i].offset;
        ww_optional number = {true, 0.0};
        if (numbers[i].optional)
            memcpy(&number, at, sizeof number);
        else
            memcpy(&number.value, at, sizeof number.value);
        ww__json_write_optional(writer, numbers[i].key, number);
    }
}

/* The lines of a table's CSV, which a hand can read and correct. */
static void write_lines(ww__json_writer *writer, const char *key, char *text) {
    ww__json_open_array(writer, key, WW__JSON_LINES);
    for (char *line = text, *end; *line; line = end + 1) {
        end = strchr(line, '\n');
        assert(end); /* each of our lines has its end */
        *end = '\0';
        ww__json_write_text(writer, NULL, line);
    }
    ww__json_close(writer);
}

static ww_status write_table(ww__json_writer *writer, const char *key, const ww_readings *readings,
                             ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    ww_status status;
    if (!readings) {
        ww__json_write_null(writer, key);
        return WW_OK;
    }
    status = ww_readings_file_text(readings, &text, &n, err);
    if (status == WW_OK)
        write_lines(writer, key, text);
    free(text);
    return status;
}

static void write_papers(ww__json_writer *writer, const ww_print_request *request) {
    if (request->n_papers == 0) {
        ww__json_write_text(writer, "papers", "nominal");
        return;
    }
    ww__json_open_array(writer, "papers", WW__JSON_LINES);
    for (size_t i = 0; i < request->n_papers; i++)
        ww__curve_file_put(writer, NULL, request->paper[i]);
    ww__json_close(writer);
}

static void write_tone(ww__json_writer *writer, const char *tone, const char *key, double value) {
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_text(writer, "tone", tone);
    ww__json_write_number(writer, key, value);
    ww__json_close(writer);
}

static void write_wishes(ww__json_writer *writer, const ww_print_request *request) {
    ww__json_open_array(writer, "places", WW__JSON_LINES);
    for (size_t i = 0; i < request->n_places; i++)
        write_tone(writer, request->place[i].tone, "aim", request->place[i].aim);
    ww__json_close(writer);
    ww__json_open_array(writer, "tests", WW__JSON_LINES);
    for (size_t i = 0; i < request->n_tests; i++) {
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_number(writer, "time", request->test[i].time_s);
        ww__json_write_text(writer, "tone", request->test[i].tone);
        ww__json_write_number(writer, "density", request->test[i].density);
        ww__json_close(writer);
    }
    ww__json_close(writer);
    ww__json_open_array(writer, "moves", WW__JSON_LINES);
    for (size_t i = 0; i < request->n_moves; i++)
        write_tone(writer, request->move[i].tone, "stops", request->move[i].stops);
    ww__json_close(writer);
}

/* Where the last of the prints stands for a test print. */
static void write_place(ww__json_writer *writer, const ww_print_offset *offset) {
    const bool read = offset->tone && *offset->tone;
    ww__json_write_text(writer, "tone", read ? offset->tone : "");
    ww__json_write_optional(writer, "negative", (ww_optional){read, offset->negative});
    ww__json_write_optional(writer, "density", (ww_optional){read, offset->density});
    ww__json_write_optional(writer, "test_time", offset->test_s);
    ww__json_write_optional(writer, "test_density", offset->test_density);
}

void ww__print_recipe_put_offset(ww__json_writer *writer, const char *key,
                                 const ww_print_offset *offset) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    ww__json_write_text(writer, "paper", offset->paper ? offset->paper : "");
    ww__json_write_text(writer, "contrast", offset->contrast ? offset->contrast : "");
    ww__json_write_text(writer, "lot", offset->lot ? offset->lot : "");
    ww__json_write_optional(writer, "scale", offset->scale);
    ww__json_write_bool(writer, "tested", offset->tested);
    ww__json_write_number(writer, "log_h", offset->log_h);
    ww__json_write_number(writer, "range", offset->range);
    ww__json_write_number(writer, "sd", offset->sd);
    ww__json_write_integer(writer, "prints", (long)offset->prints);
    write_place(writer, offset);
    ww__json_close(writer);
}

static ww_status write_inputs(ww__json_writer *writer, const ww_print_request *request,
                              ww_error *err) {
    ww_status status;
    ww__json_open_object(writer, "inputs", WW__JSON_LINES);
    status = write_table(writer, "negative", request->negative, err);
    write_papers(writer, request);
    if (status == WW_OK)
        status = write_table(writer, "flash", request->flash, err);
    if (status == WW_OK)
        status = write_table(writer, "split", request->split, err);
    write_wishes(writer, request);
    write_numbers(writer, request);
    ww__json_open_array(writer, "offsets", WW__JSON_LINES);
    for (size_t i = 0; i < request->n_offsets; i++)
        ww__print_recipe_put_offset(writer, NULL, &request->offset[i]);
    ww__json_close(writer);
    ww__json_close(writer);
    return status;
}

ww_status ww_print_recipe_text(const ww_print_plan *plan, const ww_print_request *request,
                               char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    char *made = NULL;
    size_t n_made = 0;
    ww_status status, finished;
    assert(plan && request && request->negative && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__print_plan_file_put(&writer, plan);
    status = write_inputs(&writer, request, err);
    ww__json_close(&writer);
    /* A table that can't be written is told as such, whatever the writer met. */
    finished = ww__json_finish(&writer, &made, &n_made);
    if (status != WW_OK) {
        if (finished == WW_OK)
            free(made);
        return status;
    }
    if (finished != WW_OK)
        return finished;
    *text = made;
    *n = n_made;
    return WW_OK;
}
