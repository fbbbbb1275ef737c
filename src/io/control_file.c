/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <string.h>
#include <wedgework/control_file.h>

enum { CONTROL_VERSION = 1 };

static void write_rules(ww__json_writer *writer, const ww_control_lot *lot, size_t at) {
    ww__json_open_array(writer, "rules", WW__JSON_LINES);
    for (size_t c = 0; lot && c < lot->n_charts; c++) {
        const ww_control_chart *chart = &lot->chart[c];
        for (size_t i = 0; i < WW_CONTROL_RULES; i++) {
            if (!(chart->point[at].rules & 1U << i))
                continue;
            ww__json_open_object(writer, NULL, WW__JSON_FLAT);
            ww__json_write_text(writer, "rule", ww_control_rule_name(i));
            ww__json_write_text(writer, "measure", chart->measure);
            ww__json_write_text(writer, "channel", ww_control_channel_name(chart));
            ww__json_close(writer);
        }
    }
    ww__json_close(writer);
}

static void write_limit(ww__json_writer *writer, const ww_control_lot *lot,
                        const ww_control_chart *chart) {
    ww_optional lower, upper;
    bool user;
    const bool history = chart->has_history;
    ww_control_limits_of(chart, &lower, &upper, &user);
    ww__json_open_object(writer, ww_control_channel_name(chart), WW__JSON_FLAT);
    ww__json_write_number(writer, "aim", chart->aim);
    ww__json_write_number(writer, "centre", history && !user ? chart->history.centre : chart->aim);
    ww__json_write_optional(writer, "lower", lower);
    ww__json_write_optional(writer, "upper", upper);
    ww__json_write_text(writer, "from", user ? "user" : history ? "history" : NULL);
    ww__json_write_optional(writer, "sigma", (ww_optional){history, chart->history.sigma});
    ww__json_write_integer(writer, "strips", (long)lot->found);
    ww__json_close(writer);
}

static void write_value(ww__json_writer *writer, const ww_control_chart *chart, size_t at) {
    const ww_control_point *point = &chart->point[at];
    ww__json_open_object(writer, ww_control_channel_name(chart), WW__JSON_FLAT);
    ww__json_write_optional(writer, "value", (ww_optional){point->read, point->value});
    ww__json_write_optional(writer, "deviation", (ww_optional){point->read, point->deviation});
    ww__json_write_optional(writer, "slow", (ww_optional){point->has_slow, point->slow});
    ww__json_close(writer);
}

/* By measure, then by channel: charts of one measure stand together. */
static void write_charts(ww__json_writer *writer, const char *key, const ww_control_lot *lot,
                         const size_t *at) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    for (size_t c = 0; lot && c < lot->n_charts; c++) {
        const ww_control_chart *chart = &lot->chart[c];
        if (c == 0 || strcmp(chart->measure, chart[-1].measure) != 0)
            ww__json_open_object(writer, chart->measure, WW__JSON_LINES);
        if (at)
            write_value(writer, chart, *at);
        else
            write_limit(writer, lot, chart);
        if (c + 1 == lot->n_charts || strcmp(chart->measure, chart[1].measure) != 0)
            ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_verdict(ww__json_writer *writer, const ww_control_row *row) {
    ww__json_write_text(writer, "state", ww_control_state_name(row->state));
    ww__json_write_bool(writer, "judged", row->judged);
}

static void write_names(ww__json_writer *writer, const ww_control_series *series) {
    ww__json_write_text(writer, "process", series->process);
    ww__json_write_text(writer, "machine", series->machine);
}

static void write_row(ww__json_writer *writer, const ww_control_series *series,
                      const ww_control_row *row) {
    const ww_control_strip *strip = row->strip;
    const ww_control_lot *lot = strip->deleted ? NULL : &series->lot[row->lot];
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(writer, "strip", strip->number);
    ww__json_write_text(writer, "date", strip->date);
    write_names(writer, series);
    ww__json_write_text(writer, "lot", strip->lot);
    if (strip->deleted) {
        ww__json_write_null(writer, "state");
        ww__json_write_bool(writer, "judged", false);
        ww__json_open_object(writer, "deleted", WW__JSON_FLAT);
        ww__json_write_text(writer, "entered", strip->deleted);
        ww__json_write_text(writer, "why", strip->why);
        ww__json_close(writer);
    } else {
        write_verdict(writer, row);
        ww__json_write_null(writer, "deleted");
    }
    write_rules(writer, lot, row->at);
    write_charts(writer, "values", lot, &row->at);
    ww__json_close(writer);
}

static void write_rows(ww__json_writer *writer, const ww_control *control) {
    ww__json_open_array(writer, "rows", WW__JSON_LINES);
    for (size_t i = 0; i < control->n; i++) {
        const ww_control_series *series = &control->series[i];
        for (size_t r = 0; r < series->n_rows; r++)
            if (!series->row[r].strip->deleted || control->deleted)
                write_row(writer, series, &series->row[r]);
    }
    ww__json_close(writer);
}

static void write_series(ww__json_writer *writer, const ww_control *control) {
    ww__json_open_array(writer, "series", WW__JSON_LINES);
    for (size_t i = 0; i < control->n; i++) {
        const ww_control_series *series = &control->series[i];
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        write_names(writer, series);
        if (series->any) {
            write_verdict(writer, &series->row[series->row_at]);
            ww__json_write_integer(writer, "strip", series->row[series->row_at].strip->number);
        }
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_worst(ww__json_writer *writer, const ww_control *control) {
    const ww_control_series *worst = ww_control_worst(control);
    size_t at = 0;
    const ww_control_lot *lot = worst ? ww_control_focus(worst, &at) : NULL;
    ww__json_write_text(writer, "state", ww_control_state_name(control->state));
    ww__json_write_bool(writer, "judged", control->judged);
    if (worst) {
        write_names(writer, worst);
        ww__json_write_integer(writer, "strip", worst->row[worst->row_at].strip->number);
        ww__json_write_bool(writer, "confirmed", worst->again);
    }
    write_rules(writer, lot, at);
    write_charts(writer, "limits", lot, NULL);
}

ww_status ww_control_file_text(const ww_control *control, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(control && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", CONTROL_VERSION);
    ww__json_write_text(&writer, "kind", "control");
    write_worst(&writer, control);
    write_rows(&writer, control);
    write_series(&writer, control);
    ww__json_write_text(&writer, "slow", ww_control_slow_name(control->slow));
    ww__json_write_notes(&writer, "causes", &control->causes);
    ww__json_write_notes(&writer, "notes", &control->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
