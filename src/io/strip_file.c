/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/output.h>
#include <wedgework/strip_file.h>

enum { STRIP_PLAN_VERSION = 1 };

static const char *place_word(const ww_strip *strip) {
    if (strip->kind == WW_STRIP_PLAN ||
        (strip->kind == WW_STRIP_SAFELIGHT && strip->place != WW_STRIP_DISORDER))
        return NULL;
    switch (strip->place) {
    case WW_STRIP_INSIDE:
        return "inside";
    case WW_STRIP_LIGHT:
        return "light";
    case WW_STRIP_DARK:
        return "dark";
    case WW_STRIP_DISORDER:
        return "disorder";
    case WW_STRIP_TURNED:
        return "turned";
    case WW_STRIP_NO_REACH:
        break;
    }
    return "no reach";
}

static void write_series(ww__json_writer *writer, const ww_strip_series *series) {
    const ww_optional centre = {series->n > 0, series->centre_s};
    const ww_optional step = {series->n > 0, series->step_stops};
    ww__json_open_array(writer, "exposures", WW__JSON_FLAT);
    for (size_t i = 0; i < series->n; i++)
        ww__json_write_number(writer, NULL, series->piece[i].time_s);
    ww__json_close(writer);
    ww__json_write_optional(writer, "centre", centre);
    ww__json_write_optional(writer, "step_stops", step);
    ww__json_open_array(writer, "pieces", WW__JSON_LINES);
    for (size_t i = 0; i < series->n; i++) {
        const ww_strip_piece *piece = &series->piece[i];
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_number(writer, "time", piece->time_s);
        ww__json_write_number(writer, "set", piece->set_s);
        ww__json_write_number(writer, "add", piece->add_s);
        ww__json_write_number(writer, "off_stops", piece->off_stops);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_best(ww__json_writer *writer, const ww_strip *strip) {
    const char *both = strip->low_open && strip->high_open ? "both" : NULL;
    const char *one = strip->low_open ? "low" : strip->high_open ? "high" : NULL;
    if (!ww_quantity_present(strip->best)) {
        ww__json_write_null(writer, "best");
        return;
    }
    ww__json_open_object(writer, "best", WW__JSON_FLAT);
    ww__json_write_number(writer, "time", strip->best.value);
    ww__json_write_number(writer, "low", strip->best.low);
    ww__json_write_number(writer, "high", strip->best.high);
    ww__json_write_text(writer, "open", both ? both : one);
    ww__json_close(writer);
}

static void write_marks(ww__json_writer *writer, const ww_strip_step *step) {
    const struct {
        bool is;
        const char *word;
    } marks[] = {
        {step->state == WW_CELL_OVER, "over"},
        {step->covered, "covered"},
        {step->out_of_order, "out of order"},
        {step->evened, "evened out"},
        {step->suspect, "suspect"},
        {step->black, "black"},
        {step->changed, "changed"},
    };
    ww__json_open_array(writer, "marks", WW__JSON_FLAT);
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (marks[i].is)
            ww__json_write_text(writer, NULL, marks[i].word);
    ww__json_close(writer);
}

static void write_steps(ww__json_writer *writer, const ww_strip *strip) {
    ww__json_open_array(writer, "steps", WW__JSON_LINES);
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        const bool read = step->state == WW_CELL_VALUE;
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "step", step->step);
        ww__json_write_number(writer, "time", step->time_s);
        ww__json_write_optional(writer, "density", (ww_optional){read, step->density});
        ww__json_write_optional(writer, "error", (ww_optional){read, step->error});
        ww__json_write_integer(writer, "n", (long)step->n);
        write_marks(writer, step);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_verdict(ww__json_writer *writer, const ww_strip *strip) {
    const bool safelight = strip->kind == WW_STRIP_SAFELIGHT;
    write_best(writer, strip);
    ww__json_write_text(writer, "place", place_word(strip));
    ww__json_write_optional(writer, "aim", strip->aim);
    ww__json_write_optional(writer, "white", strip->white);
    if (strip->plateau)
        ww__json_write_pair(writer, "plateau", strip->plateau_from_s, strip->plateau_to_s);
    else
        ww__json_write_null(writer, "plateau");
    ww__json_write_optional(writer, "black", strip->black);
    ww__json_write_optional(writer, "grey", strip->grey);
    ww__json_write_bool(writer, "insensitive", strip->insensitive);
    ww__json_write_optional(writer, "changed", strip->changed_s);
    ww__json_write_optional(writer, "least_change", (ww_optional){safelight, strip->least_change});
}

ww_status ww_strip_file_text(const ww_strip *strip, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(strip && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", STRIP_PLAN_VERSION);
    ww__json_write_text(&writer, "kind", "strip plan");
    ww__json_write_text(&writer, "act", ww_strip_kind_name(strip->kind));
    ww__json_write_bool(&writer, "holds", strip->holds);
    write_series(&writer, &strip->series);
    write_verdict(&writer, strip);
    write_steps(&writer, strip);
    ww__json_write_notes(&writer, "notes", &strip->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_strip_file_write(const ww_strip *strip, const char *path, ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_strip_file_text(strip, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}
