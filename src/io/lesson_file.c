/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/lesson_file.h>
#include <wedgework/number.h>
#include <wedgework/readings_file.h>

enum { VERSION = 1, CELL_SIZE = 32, LABEL_SIZE = 24 };

/* --- the table -------------------------------------------------------------------------------- */

/* A density as it stands in the table. */
static const char *density_text(const ww_lesson *lesson, size_t i, char text[CELL_SIZE]) {
    const bool comma = lesson->fault == WW_LESSON_DECIMAL_COMMA && i == lesson->at;
    ww_number_format(comma ? lesson->size : lesson->given[i].density, 2, text, CELL_SIZE);
    char *point = strchr(text, '.');
    if (comma && point)
        *point = ',';
    return text;
}

static void add_rows(const ww_lesson *lesson, ww__text *text) {
    char cell[CELL_SIZE];
    ww__text_add(text, "step,wedge,visual\n");
    for (size_t i = 0; i < lesson->n; i++) {
        const ww_lesson_given *given = &lesson->given[i];
        if (given->base)
            ww__text_add(text, "base,");
        else {
            ww__text_add_format(text, "%zu,", i);
            ww__text_add_number(text, given->wedge, 2);
        }
        ww__text_add_format(text, ",%s\n", density_text(lesson, i, cell));
    }
}

ww_status ww_lesson_file_table(const ww_lesson *lesson, char **text, size_t *n, ww_error *err) {
    ww_readings table = WW_READINGS_INIT;
    ww__text made = WW__TEXT_INIT;
    char *bytes = NULL;
    size_t n_bytes = 0;
    assert(lesson && text && n);
    ww_status status = ww_lesson_table(lesson, &table, err);
    if (status == WW_OK)
        status = ww_readings_file_text(&table, &bytes, &n_bytes, err);
    /* What the table says of itself is as every table says it; its cells are a student's own. */
    for (const char *line = bytes; status == WW_OK && line && *line == '#';) {
        const char *end = strchr(line, '\n') + 1;
        ww__text_add_bytes(&made, line, (size_t)(end - line));
        line = end;
    }
    if (status == WW_OK) {
        add_rows(lesson, &made);
        status = ww__text_status(&made, err);
    }
    free(bytes);
    ww_readings_release(&table);
    if (status != WW_OK) {
        ww__text_release(&made);
        return status;
    }
    *text = made.bytes;
    *n = made.n;
    return WW_OK;
}

/* --- what is handed out, as JSON -------------------------------------------------------------- */

static const char *label_of(size_t i, char label[LABEL_SIZE]) {
    if (i == 0)
        snprintf(label, LABEL_SIZE, "base");
    else
        snprintf(label, LABEL_SIZE, "%zu", i);
    return label;
}

static void write_head(ww__json_writer *writer, const ww_lesson *lesson, const char *kind) {
    ww__json_write_integer(writer, "wedgework", VERSION);
    ww__json_write_text(writer, "kind", kind);
    ww__json_write_text(writer, "material", lesson->strip.paper ? "paper" : "film");
}

static void write_rule(ww__json_writer *writer, const ww_lesson_rule *rule) {
    ww__json_write_text(writer, "figure", rule->key);
    ww__json_write_text(writer, "unit", rule->unit);
    ww__json_write_text(writer, "rule", rule->rule);
    ww__json_write_text(writer, "formula", rule->formula);
    ww__json_write_text(writer, "source", rule->source);
}

static void write_result(ww__json_writer *writer, const char *key, const ww_lesson_rule *rule,
                         const ww_lesson_result *result) {
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    ww__json_write_optional(writer, "value", (ww_optional){result->there, result->value});
    ww__json_open_object(writer, "numbers", WW__JSON_FLAT);
    for (size_t i = 0; result->there && i < WW_LESSON_NUMBERS && rule->number[i]; i++)
        ww__json_write_number(writer, rule->number[i], result->number[i]);
    ww__json_close(writer);
    ww__json_write_text(writer, "why_not", result->why_not);
    ww__json_close(writer);
}

/* How each figure comes about, and what it comes to where that is no secret. */
static void write_figures(ww__json_writer *writer, const ww_lesson *lesson, bool answers) {
    ww__json_open_array(writer, "figures", WW__JSON_LINES);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, lesson->strip.paper);
        if (!rule)
            continue;
        ww__json_open_object(writer, NULL, WW__JSON_LINES);
        write_rule(writer, rule);
        if (answers) {
            write_result(writer, "hidden", rule, &lesson->hidden.result[f]);
            write_result(writer, "sound", rule, &lesson->sound.result[f]);
            write_result(writer, "given", rule, &lesson->spoilt.result[f]);
        }
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_given(ww__json_writer *writer, const ww_lesson *lesson, size_t i) {
    char label[LABEL_SIZE], cell[CELL_SIZE];
    const ww_lesson_given *given = &lesson->given[i];
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_text(writer, "step", label_of(i, label));
    ww__json_write_optional(writer, "wedge", (ww_optional){!given->base, given->wedge});
    ww__json_write_text(writer, "density", density_text(lesson, i, cell));
    ww__json_close(writer);
}

ww_status ww_lesson_file_text(const ww_lesson *lesson, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(lesson && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    write_head(&writer, lesson, "lesson");
    ww__json_write_text(&writer, "exposure_unit", lesson->strip.paper ? "second" : "lux second");
    ww__json_write_number(&writer, "log_h0", lesson->strip.log_h0);
    ww__json_open_array(&writer, "rows", WW__JSON_LINES);
    for (size_t i = 0; i < lesson->n; i++)
        write_given(&writer, lesson, i);
    ww__json_close(&writer);
    write_figures(&writer, lesson, false);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

/* --- the answers ------------------------------------------------------------------------------ */

static void write_fault(ww__json_writer *writer, const ww_lesson *lesson) {
    char label[LABEL_SIZE];
    ww__json_open_object(writer, "fault", WW__JSON_LINES);
    ww__json_write_text(writer, "name", ww_lesson_fault_name((size_t)lesson->fault));
    ww__json_write_text(writer, "step", lesson->at > 0 ? label_of(lesson->at, label) : NULL);
    ww__json_write_optional(writer, "size", (ww_optional){lesson->size != 0.0, lesson->size});
    ww__json_write_text(writer, "what", ww_lesson_fault_what(lesson->fault));
    ww__json_write_text(writer, "sign", ww_lesson_fault_sign(lesson->fault));
    ww__json_close(writer);
}

static void write_hidden(ww__json_writer *writer, const ww_lesson_strip *strip) {
    const ww_lesson_curve *curve = &strip->curve;
    ww__json_open_object(writer, "hidden", WW__JSON_LINES);
    ww__json_write_number(writer, "base_fog", curve->base_fog);
    ww__json_write_number(writer, "gamma", curve->gamma);
    ww__json_write_number(writer, "toe", curve->toe);
    ww__json_write_number(writer, "toe_half", curve->toe_half);
    ww__json_write_number(writer, "shoulder", curve->shoulder);
    ww__json_write_number(writer, "shoulder_half", curve->shoulder_half);
    ww__json_write_number(writer, "reading_sd", strip->sd);
    ww__json_close(writer);
}

static void write_row(ww__json_writer *writer, const ww_lesson *lesson, size_t i) {
    char label[LABEL_SIZE];
    const ww_lesson_row *row = &lesson->strip.row[i];
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_text(writer, "step", label_of(i, label));
    ww__json_write_optional(writer, "wedge", (ww_optional){i > 0, row->wedge});
    ww__json_write_optional(writer, "log_h", (ww_optional){i > 0, row->log_h});
    ww__json_write_number(writer, "hidden", row->hidden);
    ww__json_write_number(writer, "read", row->read);
    ww__json_write_optional(
        writer, "given",
        (ww_optional){i < lesson->n, i < lesson->n ? lesson->given[i].density : 0.0});
    ww__json_close(writer);
}

ww_status ww_lesson_file_answers(const ww_lesson *lesson, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(lesson && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    write_head(&writer, lesson, "lesson answers");
    ww__json_write_integer(&writer, "seed", (long)lesson->strip.seed);
    ww__json_write_integer(&writer, "student", (long)lesson->strip.student);
    write_fault(&writer, lesson);
    write_hidden(&writer, &lesson->strip);
    ww__json_open_array(&writer, "rows", WW__JSON_LINES);
    for (size_t i = 0; i <= WW_LESSON_STEPS; i++)
        write_row(&writer, lesson, i);
    ww__json_close(&writer);
    write_figures(&writer, lesson, true);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
