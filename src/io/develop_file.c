/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/develop_file.h>
#include <wedgework/output.h>

enum { DEVELOPMENT_PLAN_VERSION = 1 };

static const char *const places[] = {"inside", "shorter", "longer", "never", "level"};
static const char *const forms[] = {"between", "at once", "free"};

static ww_optional value_of(ww_quantity q) {
    return (ww_optional){ww_quantity_present(q), q.value};
}

static void write_aim(ww__json_writer *writer, const ww_development *d) {
    if (!d->aimed) {
        ww__json_write_null(writer, "aim");
        return;
    }
    ww__json_open_object(writer, "aim", WW__JSON_FLAT);
    ww__json_write_text(writer, "measure", ww_develop_measure_key(d->measure));
    ww__json_write_number(writer, "value", d->aim);
    ww__json_write_optional(writer, "density_range", d->density_range);
    ww__json_write_optional(writer, "subject_range", d->subject_range);
    ww__json_write_optional(writer, "film_range", d->film_range);
    ww__json_write_number(writer, "flare", d->flare);
    ww__json_close(writer);
}

static void write_answer(ww__json_writer *writer, const ww_development *d) {
    const ww_time_gamma_answer *a = &d->answer;
    const char *both = a->low_open && a->high_open ? "both" : NULL;
    const char *one = a->low_open ? "low" : a->high_open ? "high" : NULL;
    ww__json_write_quantity(writer, "time", d->time);
    ww__json_write_optional(writer, "temperature", d->temperature_c);
    ww__json_write_text(writer, "place", d->aimed ? places[a->place] : NULL);
    ww__json_write_text(writer, "open", both ? both : one);
    ww__json_write_optional(writer, "next", d->next_min);
}

static void write_law(ww__json_writer *writer, const char *key, const ww_time_gamma *law) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    ww__json_write_text(writer, "form", forms[law->form]);
    ww__json_write_quantity(writer, "gamma_infinity", law->gamma_infinity);
    ww__json_write_quantity(writer, "rate", law->rate);
    ww__json_write_quantity(writer, "start", law->start);
    ww__json_write_number(writer, "chi_squared", law->chi_squared);
    ww__json_write_integer(writer, "freedom", (long)law->freedom);
    ww__json_write_number(writer, "scatter", law->scatter);
    ww__json_write_bool(writer, "scattered", law->scattered);
    ww__json_close(writer);
}

static void write_laws(ww__json_writer *writer, const ww_development *d) {
    const ww_time_gamma none = {.n = 0};
    const ww_time_gamma *gamma = d->has_law[WW_DEVELOP_GAMMA] ? &d->law[WW_DEVELOP_GAMMA] : &none;
    ww__json_write_quantity(writer, "gamma_infinity", gamma->gamma_infinity);
    ww__json_write_quantity(writer, "rate", gamma->rate);
    ww__json_write_quantity(writer, "start", gamma->start);
    ww__json_open_object(writer, "laws", WW__JSON_LINES);
    for (int m = 0; m < WW_DEVELOP_MEASURES; m++) {
        const char *key = ww_develop_measure_key((ww_develop_measure)m);
        if (d->has_law[m])
            write_law(writer, key, &d->law[m]);
        else
            ww__json_write_null(writer, key);
    }
    ww__json_close(writer);
}

static void write_interval(ww__json_writer *writer, const char *key, ww_quantity q) {
    if (ww_quantity_present(q))
        ww__json_write_pair(writer, key, q.low, q.high);
    else
        ww__json_write_null(writer, key);
}

static void write_intervals(ww__json_writer *writer, const ww_develop_row *row) {
    ww__json_open_object(writer, "intervals", WW__JSON_FLAT);
    for (int m = 0; m < WW_DEVELOP_MEASURES; m++)
        write_interval(writer, ww_develop_measure_key((ww_develop_measure)m), row->contrast[m]);
    write_interval(writer, "speed", row->speed);
    write_interval(writer, "speed_point", row->speed_point);
    write_interval(writer, "base_fog", row->base_fog);
    write_interval(writer, "exposure_index", row->exposure_index);
    ww__json_close(writer);
}

static void write_row(ww__json_writer *writer, const ww_develop_row *row) {
    const bool rated = ww_quantity_present(row->speed);
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "file", row->name);
    ww__json_write_number(writer, "time", row->time_min);
    ww__json_write_optional(writer, "temperature", row->temperature_c);
    for (int m = 0; m < WW_DEVELOP_MEASURES; m++)
        ww__json_write_optional(writer, ww_develop_measure_key((ww_develop_measure)m),
                                value_of(row->contrast[m]));
    ww__json_write_optional(writer, "speed", value_of(row->speed));
    ww__json_write_text(writer, "speed_standard",
                        rated ? ww_speed_standard_name(row->standard) : NULL);
    ww__json_write_optional(writer, "speed_point", value_of(row->speed_point));
    ww__json_write_optional(writer, "speed_stops", row->speed_stops);
    ww__json_write_optional(writer, "base_fog", value_of(row->base_fog));
    ww__json_write_optional(writer, "exposure_index", value_of(row->exposure_index));
    ww__json_write_optional(writer, "off", row->off);
    ww__json_write_bool(writer, "falls", row->falls);
    ww__json_write_bool(writer, "in_law", !row->other_temperature);
    write_intervals(writer, row);
    ww__json_close(writer);
}

static void write_range(ww__json_writer *writer, const ww_develop_range *range) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(writer, "n", range->n);
    ww__json_write_number(writer, "subject_range", range->subject_range);
    ww__json_write_number(writer, "film_range", range->film_range);
    ww__json_write_number(writer, "gradient", range->gradient);
    ww__json_write_quantity(writer, "time", range->time);
    ww__json_write_text(writer, "place", range->known ? places[range->answer.place] : NULL);
    ww__json_close(writer);
}

static void write_temperature(ww__json_writer *writer, const ww_develop_temperature *by) {
    if (!by->known) {
        ww__json_write_null(writer, "by_temperature");
        return;
    }
    ww__json_open_object(writer, "by_temperature", WW__JSON_LINES);
    ww__json_write_number(writer, "reference", by->reference_c);
    ww__json_write_integer(writer, "pairs", (long)by->pairs);
    ww__json_write_quantity(writer, "factor_10", by->factor_10);
    ww__json_open_array(writer, "times", WW__JSON_LINES);
    for (size_t i = 0; i < by->n; i++) {
        ww__json_open_object(writer, NULL, WW__JSON_LINES);
        ww__json_write_number(writer, "temperature", by->at[i].temperature_c);
        ww__json_write_quantity(writer, "time", by->at[i].time);
        ww__json_close(writer);
    }
    ww__json_close(writer);
    ww__json_close(writer);
}

static void write_goes_with(ww__json_writer *writer, const ww_development *d) {
    ww__json_write_quantity(writer, "base_fog", d->base_fog);
    ww__json_write_quantity(writer, "speed_point", d->speed_point);
    ww__json_write_quantity(writer, "speed_stops", d->speed_stops);
    ww__json_write_quantity(writer, "exposure_index", d->exposure_index);
    if (d->metered_index.set) {
        ww__json_open_object(writer, "index", WW__JSON_FLAT);
        ww__json_write_optional(writer, "metered", d->metered_index);
        ww__json_write_number(writer, "below_stops", d->below_stops);
        ww__json_write_optional(writer, "time", d->index_time_min);
        ww__json_close(writer);
    } else {
        ww__json_write_null(writer, "index");
    }
    ww__json_open_array(writer, "foretold", WW__JSON_LINES);
    for (size_t i = 0; i < d->n_foretold; i++)
        ww__json_write_pair(writer, NULL, d->foretold[i].log_h, d->foretold[i].density);
    ww__json_close(writer);
}

ww_status ww_develop_file_text(const ww_development *development, char **text, size_t *n,
                               ww_error *err) {
    const ww_development *d = development;
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(d && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", DEVELOPMENT_PLAN_VERSION);
    ww__json_write_text(&writer, "kind", "development plan");
    ww__json_write_bool(&writer, "holds", d->holds);
    write_aim(&writer, d);
    write_answer(&writer, d);
    write_laws(&writer, d);
    ww__json_open_array(&writer, "rows", WW__JSON_LINES);
    for (size_t i = 0; i < d->n; i++)
        write_row(&writer, &d->row[i]);
    ww__json_close(&writer);
    ww__json_open_array(&writer, "ranges", WW__JSON_LINES);
    for (size_t i = 0; i < d->n_ranges; i++)
        write_range(&writer, &d->range[i]);
    ww__json_close(&writer);
    ww__json_open_array(&writer, "budget", WW__JSON_LINES);
    for (size_t i = 0; i < d->n_doubts; i++) {
        ww__json_open_object(&writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(&writer, "from", d->doubt[i].from);
        ww__json_write_number(&writer, "minutes", d->doubt[i].minutes);
        ww__json_close(&writer);
    }
    ww__json_close(&writer);
    write_temperature(&writer, &d->by_temperature);
    write_goes_with(&writer, d);
    ww__json_write_notes(&writer, "notes", &d->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_develop_file_write(const ww_development *development, const char *path,
                                ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_develop_file_text(development, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}
