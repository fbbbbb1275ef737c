/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/curve_file.h"
#include "core/meta.h"
#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve_file.h>
#include <wedgework/output.h>

const char *const ww__curve_file_states[3] = {
    [WW_CELL_MISSING] = "missing", [WW_CELL_VALUE] = "value", [WW_CELL_OVER] = "over"};

/* Between the ends of exposure_range lies density_range too: both are there, or neither. */
static const ww__curve_file_end ends[] = {
    {"straight_run", WW_FIGURE_GAMMA, offsetof(ww_figure_set, run_from),
     offsetof(ww_figure_set, run_to)},
    {"straight_run_density", WW_FIGURE_GAMMA, offsetof(ww_figure_set, run_density_from), SIZE_MAX},
    {"contrast_index_centre", WW_FIGURE_CONTRAST_INDEX, offsetof(ww_figure_set, index_centre),
     SIZE_MAX},
    {"contrast_index_arcs", WW_FIGURE_CONTRAST_INDEX, offsetof(ww_figure_set, index_from),
     offsetof(ww_figure_set, index_to)},
    {"exposure_range", WW_FIGURE_EXPOSURE_RANGE, offsetof(ww_figure_set, range_from),
     offsetof(ww_figure_set, range_to)},
    {"iso_range", WW_FIGURE_ISO_RANGE, offsetof(ww_figure_set, iso_from),
     offsetof(ww_figure_set, iso_to)},
};

const ww__curve_file_end *ww__curve_file_ends(size_t *n) {
    *n = sizeof ends / sizeof ends[0];
    return ends;
}

const char *ww__curve_file_key(const char *meta_key, char text[WW__CURVE_FILE_KEY_SIZE]) {
    snprintf(text, WW__CURVE_FILE_KEY_SIZE, "%s", meta_key);
    for (char *at = text; *at; at++)
        if (*at == ' ')
            *at = '_';
    return text;
}

/* Keys that every curve file has, null where nothing is said; the others come where it is. */
static bool is_fixed(const char *key) {
    static const char *const fixed[] = {"name",          "material",         "process",
                                        "density",       "status",           "exposure_unit",
                                        "exposure_time", "development_time", "contrast"};
    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0]; i++)
        if (strcmp(key, fixed[i]) == 0)
            return true;
    return false;
}

/* An exposure unit that nobody stated is taken as relative everywhere, and here too. */
static const char *word_of(const ww_meta *meta, const ww__meta_field *field) {
    const unsigned word = ww__meta_word(meta, field);
    if (word == 0 && field->offset == offsetof(ww_meta, exposure_unit))
        return field->words[WW_UNIT_RELATIVE];
    return word == 0 ? NULL : field->words[word];
}

static void write_meta(ww__json_writer *writer, const ww_meta *meta) {
    ww_meta copy = *meta; /* the table reaches members of what may be written to */
    size_t n;
    const ww__meta_field *fields = ww__meta_fields(&n);
    for (size_t i = 0; i < n; i++) {
        const ww__meta_field *field = &fields[i];
        char text[WW__CURVE_FILE_KEY_SIZE];
        const char *key = ww__curve_file_key(field->key, text);
        if (field->kind == WW__META_NUMBER) {
            const ww_optional number = *ww__meta_number(&copy, field);
            if (number.set || is_fixed(key))
                ww__json_write_optional(writer, key, number);
        } else {
            const char *said =
                field->kind == WW__META_TEXT ? *ww__meta_text(&copy, field) : word_of(&copy, field);
            if (said || is_fixed(key))
                ww__json_write_text(writer, key, said);
        }
    }
}

static void write_shape(ww__json_writer *writer, const ww_shape *shape) {
    ww__json_write_text(writer, "model", ww_model_name(shape->model));
    ww__json_open_object(writer, "parameters", WW__JSON_FLAT);
    for (size_t i = 0; i < shape->n; i++) {
        char text[32];
        ww__json_write_number(writer, ww_model_parameter_name(shape, i, text), shape->parameter[i]);
    }
    ww__json_close(writer);
    ww__json_write_bool(writer, "falling", shape->falling);
    if (shape->model == WW_MODEL_SPLINE)
        ww__json_write_pair(writer, "knots", shape->knot_low, shape->knot_high);
    else
        ww__json_write_null(writer, "knots");
}

static void write_covariance(ww__json_writer *writer, const ww_channel_curve *channel) {
    const size_t n = channel->shape.n;
    if (!channel->covariance) {
        ww__json_write_null(writer, "covariance");
        return;
    }
    ww__json_open_array(writer, "covariance", WW__JSON_LINES);
    for (size_t i = 0; i < n; i++) {
        ww__json_open_array(writer, NULL, WW__JSON_FLAT);
        for (size_t j = 0; j < n; j++)
            ww__json_write_number(writer, NULL, channel->covariance[i * n + j]);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

/* Steps stand at their own exposures, unless one was skipped or read twice. */
static void write_moved(ww__json_writer *writer, const ww_channel_curve *channel) {
    bool any = false;
    for (size_t i = 0; i < channel->n_points; i++)
        any |= channel->point[i].moved != 0.0;
    if (!any)
        return;
    ww__json_open_array(writer, "moved", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_number(writer, NULL, channel->point[i].moved);
    ww__json_close(writer);
}

/* What has no place inside [logh, density, sd] stands beside it, item for item. */
static void write_points(ww__json_writer *writer, const ww_channel_curve *channel) {
    const ww_curve_point *point = channel->point;
    ww__json_open_array(writer, "points", WW__JSON_LINES);
    for (size_t i = 0; i < channel->n_points; i++) {
        const ww_optional density = {point[i].state == WW_CELL_VALUE, point[i].density};
        ww__json_open_array(writer, NULL, WW__JSON_FLAT);
        ww__json_write_number(writer, NULL, point[i].log_h);
        ww__json_write_optional(writer, NULL, density);
        ww__json_write_optional(writer, NULL, point[i].sd);
        ww__json_close(writer);
    }
    ww__json_close(writer);
    ww__json_open_array(writer, "steps", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_text(writer, NULL, point[i].step);
    ww__json_close(writer);
    ww__json_open_array(writer, "repeats", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_integer(writer, NULL, (long)point[i].n);
    ww__json_close(writer);
    ww__json_open_array(writer, "states", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_text(writer, NULL, ww__curve_file_states[point[i].state]);
    ww__json_close(writer);
    ww__json_open_array(writer, "cut", WW__JSON_FLAT);
    for (size_t i = 0; i < channel->n_points; i++)
        ww__json_write_bool(writer, NULL, point[i].cut);
    ww__json_close(writer);
    write_moved(writer, channel);
}

/* A label may stand on more than one step, so the point's number goes with it. */
static void write_suspects(ww__json_writer *writer, const ww_channel_curve *channel) {
    ww__json_open_array(writer, "suspect", WW__JSON_LINES);
    for (size_t i = 0; i < channel->n_suspects; i++) {
        const ww_suspect *suspect = &channel->suspect[i];
        assert(suspect->point < channel->n_points);
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "step", channel->point[suspect->point].step);
        ww__json_write_number(writer, "residual", suspect->residual);
        ww__json_write_text(writer, "cause", ww_cause_name(suspect->cause));
        ww__json_write_integer(writer, "point", (long)suspect->point);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static double member_at(const ww_figure_set *set, size_t offset) {
    double value;
    memcpy(&value, (const char *)set + offset, sizeof value);
    return value;
}

static void write_figures(ww__json_writer *writer, const ww_channel_curve *channel) {
    const ww_figure_set *set = &channel->construction;
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        const char *key = ww_figure_key((ww_figure)f);
        if (f != WW_FIGURE_AVERAGE_GRADIENT || !ww_quantity_present(channel->figure[f])) {
            ww__json_write_quantity(writer, key, channel->figure[f]);
            continue;
        }
        ww__json_open_object(writer, key, WW__JSON_FLAT);
        ww__json_write_quantity_keys(writer, channel->figure[f]);
        ww__json_write_pair(writer, "between", set->gradient_from, set->gradient_to);
        ww__json_close(writer);
    }
    ww__json_open_object(writer, "construction", WW__JSON_LINES);
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++) {
        if (!ww_quantity_present(channel->figure[ends[i].figure]))
            ww__json_write_null(writer, ends[i].key);
        else if (ends[i].to == SIZE_MAX)
            ww__json_write_number(writer, ends[i].key, member_at(set, ends[i].from));
        else
            ww__json_write_pair(writer, ends[i].key, member_at(set, ends[i].from),
                                member_at(set, ends[i].to));
    }
    ww__json_close(writer);
}

static void write_channel(ww__json_writer *writer, const char *key,
                          const ww_channel_curve *channel) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    if (channel->fitted) {
        write_shape(writer, &channel->shape);
        write_covariance(writer, channel);
    } else {
        ww__json_write_null(writer, "model");
        ww__json_write_null(writer, "parameters");
        ww__json_write_null(writer, "covariance");
    }
    if (channel->domain_low < channel->domain_high)
        ww__json_write_pair(writer, "domain", channel->domain_low, channel->domain_high);
    else
        ww__json_write_null(writer, "domain");
    write_points(writer, channel);
    if (channel->fitted) {
        ww__json_write_number(writer, "residual_sd", channel->residual_sd);
        ww__json_write_number(writer, "residual_rms", channel->residual_rms);
    } else {
        ww__json_write_null(writer, "residual_sd");
        ww__json_write_null(writer, "residual_rms");
    }
    write_suspects(writer, channel);
    write_figures(writer, channel);
    ww__json_close(writer);
}

static void write_speed(ww__json_writer *writer, const ww_speed *speed) {
    if (speed->standard == WW_SPEED_NONE || !ww_quantity_present(speed->exact)) {
        ww__json_write_null(writer, "speed");
        return;
    }
    ww__json_open_object(writer, "speed", WW__JSON_LINES);
    ww__json_write_text(writer, "standard", ww_speed_standard_name(speed->standard));
    ww__json_write_number(writer, "exact", speed->exact.value);
    ww__json_write_number(writer, "low", speed->exact.low);
    ww__json_write_number(writer, "high", speed->exact.high);
    ww__json_write_text(writer, "how", ww_quantity_how_name(speed->exact.how));
    if (speed->arithmetic > 0)
        ww__json_write_integer(writer, "arithmetic", speed->arithmetic);
    else
        ww__json_write_null(writer, "arithmetic");
    ww__json_write_integer(writer, "degrees", speed->degrees);
    if (speed->density_difference.set) {
        ww__json_open_object(writer, "condition", WW__JSON_FLAT);
        ww__json_write_number(writer, "density_difference", speed->density_difference.value);
        ww__json_write_bool(writer, "met", speed->condition_met);
        ww__json_close(writer);
    } else {
        ww__json_write_null(writer, "condition");
    }
    ww__json_write_optional(writer, "delta_x", speed->delta_x);
    ww__json_close(writer);
}

static void write_crossover(ww__json_writer *writer, const ww_crossover *crossover) {
    if (!ww_quantity_present(crossover->worst_cc)) {
        ww__json_write_null(writer, "crossover");
        return;
    }
    ww__json_open_object(writer, "crossover", WW__JSON_LINES);
    ww__json_write_bool(writer, "found", crossover->found);
    ww__json_write_quantity(writer, "worst_cc", crossover->worst_cc);
    ww__json_write_text(writer, "channel", ww_channel_name(crossover->channel));
    ww__json_write_number(writer, "at", crossover->at);
    ww__json_write_pair(writer, "between", crossover->from, crossover->to);
    ww__json_write_number(writer, "middle", crossover->middle);
    ww__json_close(writer);
}

void ww__curve_file_put(ww__json_writer *writer, const char *key, const ww_curve *curve) {
    ww__json_open_object(writer, key, WW__JSON_LINES);
    ww__json_write_integer(writer, "wedgework", WW__CURVE_FILE_VERSION);
    ww__json_write_text(writer, "kind", "curve");
    write_meta(writer, &curve->meta);
    if (curve->exposure == WW_EXPOSURE_NONE)
        ww__json_write_null(writer, "exposure_column");
    else
        ww__json_write_text(writer, "exposure_column", ww_exposure_column_name(curve->exposure));
    ww__json_open_object(writer, "channels", WW__JSON_LINES);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        if (curve->channel[c].present)
            write_channel(writer, ww_channel_name((ww_channel)c), &curve->channel[c]);
    ww__json_close(writer);
    write_speed(writer, &curve->speed);
    write_crossover(writer, &curve->crossover);
    ww__json_write_notes(writer, "notes", &curve->notes);
    ww__json_close(writer);
}

ww_status ww_curve_file_text(const ww_curve *curve, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(curve && text && n);
    ww__curve_file_put(&writer, NULL, curve);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_curve_file_write(const ww_curve *curve, const char *path, ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_curve_file_text(curve, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}
