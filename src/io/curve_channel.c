/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "core/model.h"
#include "io/curve_file.h"
#include <float.h>
#include <limits.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Limits that catch slips and damage, not unusual practice; densities as for readings. */
static const double density_low = -0.1, density_high = 6.0, sd_limit = 6.0;

/* A shape of ones is a rising curve of any model, if there are as many as the model has. */
static bool count_is_right(const ww_shape *shape) {
    ww_shape ones = *shape;
    for (size_t i = 0; i < ones.n; i++)
        ones.parameter[i] = 1.0;
    return ww__model_valid(&ones);
}

static void read_parameters(ww__json_reader *reader, const ww__json_place *up, ww_shape *shape) {
    const ww__json_place place = ww__json_key(up, "parameters");
    if (!ww__json_read_object(reader, &place))
        return;
    shape->n = json_object_size(place.value);
    if (shape->n == 0 || shape->n > WW_MODEL_PARAMETERS_MAX) {
        ww__json_refuse(reader, &place, "has %zu parameters; a model has 1 to %d", shape->n,
                        WW_MODEL_PARAMETERS_MAX);
        return;
    }
    if (!count_is_right(shape)) {
        ww__json_refuse(reader, &place, "has %zu parameters, which the model %s has not; %s",
                        shape->n, ww_model_name(shape->model), "fit the readings again");
        return;
    }
    for (size_t i = 0; i < shape->n && reader->status == WW_OK; i++) {
        char text[32];
        shape->parameter[i] = ww__json_number_of(
            reader, &place, ww_model_parameter_name(shape, i, text), -DBL_MAX, DBL_MAX);
    }
}

static void read_shape(ww__json_reader *reader, const ww__json_place *up, ww_shape *shape) {
    const ww__json_place model = ww__json_key(up, "model");
    const ww__json_place falling = ww__json_key(up, "falling");
    const ww__json_place knots = ww__json_key(up, "knots");
    const char *words[WW_MODEL_COUNT];
    for (size_t i = 0; i < WW_MODEL_COUNT; i++)
        words[i] = ww_model_name((ww_model_kind)i);
    shape->model = (ww_model_kind)ww__json_read_word(reader, &model, words, 0, WW_MODEL_COUNT);
    if (ww__json_said(&falling))
        shape->falling = ww__json_read_bool(reader, &falling);
    if (!ww__json_read_pair(reader, &knots, WW__CURVE_FILE_LOG_H, true, &shape->knot_low,
                            &shape->knot_high) &&
        shape->model == WW_MODEL_SPLINE)
        ww__json_read_array(reader, &knots, 2, 2); /* a spline must have them */
    read_parameters(reader, up, shape);
    if (reader->status == WW_OK && !ww__model_valid(shape)) {
        const ww__json_place parameters = ww__json_key(up, "parameters");
        ww__json_refuse(reader, &parameters,
                        "describes no rising curve of the model %s; fit the readings again",
                        ww_model_name(shape->model));
    }
}

static void read_covariance(ww__json_reader *reader, const ww__json_place *up,
                            ww_channel_curve *channel) {
    const ww__json_place place = ww__json_key(up, "covariance");
    const size_t n = channel->shape.n;
    if (place.value && json_is_null(place.value))
        return;
    if (ww__json_read_array(reader, &place, n, n) != n || n == 0)
        return;
    channel->covariance = calloc(n * n, sizeof *channel->covariance);
    if (!channel->covariance) {
        ww__json_no_memory(reader);
        return;
    }
    for (size_t i = 0; i < n; i++) {
        const ww__json_place row = ww__json_item(&place, i);
        ww__json_read_array(reader, &row, n, n);
        for (size_t j = 0; j < n && reader->status == WW_OK; j++) {
            const ww__json_place item = ww__json_item(&row, j);
            channel->covariance[i * n + j] =
                ww__json_read_number(reader, &item, i == j ? 0.0 : -DBL_MAX, DBL_MAX);
        }
    }
}

/* Arrays beside "points" that a file may leave out; where there, item for item. */
typedef struct beside {
    ww__json_place steps, repeats, states, cut, moved;
} beside;

static beside find_beside(ww__json_reader *reader, const ww__json_place *up, size_t n) {
    const beside there = {ww__json_key(up, "steps"), ww__json_key(up, "repeats"),
                          ww__json_key(up, "states"), ww__json_key(up, "cut"),
                          ww__json_key(up, "moved")};
    const ww__json_place *all[] = {&there.steps, &there.repeats, &there.states, &there.cut,
                                   &there.moved};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        if (ww__json_said(all[i]))
            ww__json_read_array(reader, all[i], n, n);
    return there;
}

/* Steps without labels are counted from 1, as a person would call them. */
static char *read_step(ww__json_reader *reader, const ww__json_place *steps, size_t i) {
    if (!ww__json_said(steps)) {
        json_t *label = json_sprintf("%zu", i + 1);
        const ww__json_place place = ww__json_root(label);
        char *step = label ? ww__json_copy_text(reader, &place) : NULL;
        if (!label)
            ww__json_no_memory(reader);
        json_decref(label);
        return step;
    }
    const ww__json_place item = ww__json_item(steps, i);
    ww__json_read_text(reader, &item); /* null would pass as "not said" */
    return ww__json_copy_text(reader, &item);
}

static void read_point(ww__json_reader *reader, const ww__json_place *place, const beside *there,
                       size_t i, ww_curve_point *point) {
    const ww__json_place log_h = ww__json_item(place, 0), density = ww__json_item(place, 1),
                         sd = ww__json_item(place, 2), state = ww__json_item(&there->states, i),
                         repeats = ww__json_item(&there->repeats, i),
                         cut = ww__json_item(&there->cut, i),
                         moved = ww__json_item(&there->moved, i);
    if (ww__json_read_array(reader, place, 3, 3) != 3)
        return;
    point->log_h =
        ww__json_read_number(reader, &log_h, -WW__CURVE_FILE_LOG_H, WW__CURVE_FILE_LOG_H);
    point->state = WW_CELL_VALUE;
    if (ww__json_said(&there->states))
        point->state = (ww_cell_state)ww__json_read_word(reader, &state, ww__curve_file_states, 0,
                                                         WW_CELL_OVER + 1);
    if (point->state == WW_CELL_VALUE)
        point->density = ww__json_read_number(reader, &density, density_low, density_high);
    else if (ww__json_said(&density))
        ww__json_refuse(reader, &density, "is a value, but its state is '%s'; write null here",
                        ww__curve_file_states[point->state]);
    point->sd = ww__json_read_optional(reader, &sd, 0.0, sd_limit);
    point->n = point->state == WW_CELL_VALUE;
    if (ww__json_said(&there->repeats))
        point->n = (size_t)ww__json_read_integer(reader, &repeats, 0, LONG_MAX);
    if (ww__json_said(&there->cut))
        point->cut = ww__json_read_bool(reader, &cut);
    if (ww__json_said(&there->moved))
        point->moved =
            ww__json_read_number(reader, &moved, -WW__CURVE_FILE_LOG_H, WW__CURVE_FILE_LOG_H);
    point->step = read_step(reader, &there->steps, i);
}

static void read_points(ww__json_reader *reader, const ww__json_place *up,
                        ww_channel_curve *channel) {
    const ww__json_place place = ww__json_key(up, "points");
    const size_t n = ww__json_read_array(reader, &place, 0, SIZE_MAX);
    const beside there = find_beside(reader, up, n);
    if (n == 0 || reader->status != WW_OK)
        return;
    channel->point = calloc(n, sizeof *channel->point);
    if (!channel->point) {
        ww__json_no_memory(reader);
        return;
    }
    channel->n_points = n;
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&place, i);
        read_point(reader, &item, &there, i, &channel->point[i]);
    }
}

/* The point's number where the file gives it, else the first step of that label. */
static size_t find_point(ww__json_reader *reader, const ww__json_place *suspect,
                         const ww_channel_curve *channel) {
    const ww__json_place step = ww__json_key(suspect, "step");
    const ww__json_place point = ww__json_key(suspect, "point");
    const char *label = ww__json_read_text(reader, &step);
    size_t first = 0, n = channel->n_points;
    char quote[200];
    if (!label)
        return 0;
    if (ww__json_said(&point)) {
        first = (size_t)ww__json_read_integer(reader, &point, 0, LONG_MAX);
        n = first < n ? first + 1 : n;
    }
    for (size_t i = first; i < n; i++)
        if (strcmp(channel->point[i].step, label) == 0)
            return i;
    ww__json_refuse(reader, &step, "is '%s', which is no step among the points",
                    ww__escape_message(label, quote, sizeof quote));
    return 0;
}

static void read_suspects(ww__json_reader *reader, const ww__json_place *up,
                          ww_channel_curve *channel) {
    const ww__json_place place = ww__json_key(up, "suspect");
    const char *words[WW_CAUSE_DUST + 1];
    size_t n;
    if (!ww__json_said(&place))
        return;
    n = ww__json_read_array(reader, &place, 0, SIZE_MAX);
    if (n == 0)
        return;
    channel->suspect = calloc(n, sizeof *channel->suspect);
    if (!channel->suspect) {
        ww__json_no_memory(reader);
        return;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        words[i] = ww_cause_name((ww_cause)i);
    channel->n_suspects = n;
    for (size_t i = 0; i < n && reader->status == WW_OK; i++) {
        const ww__json_place item = ww__json_item(&place, i);
        const ww__json_place cause = ww__json_key(&item, "cause");
        if (!ww__json_read_object(reader, &item))
            break;
        channel->suspect[i].point = find_point(reader, &item, channel);
        channel->suspect[i].residual =
            ww__json_number_of(reader, &item, "residual", -DBL_MAX, DBL_MAX);
        channel->suspect[i].cause =
            (ww_cause)ww__json_read_word(reader, &cause, words, 0, sizeof words / sizeof words[0]);
    }
}

static void set_member(ww_figure_set *set, size_t offset, double value) {
    memcpy((char *)set + offset, &value, sizeof value);
}

static void read_ends(ww__json_reader *reader, const ww__json_place *up, ww_figure_set *set) {
    const ww__json_place construction = ww__json_key(up, "construction");
    size_t n;
    const ww__curve_file_end *ends = ww__curve_file_ends(&n);
    if (!ww__json_said(&construction) || !ww__json_read_object(reader, &construction))
        return;
    for (size_t i = 0; i < n; i++) {
        const ww__json_place place = ww__json_key(&construction, ends[i].key);
        double from, to;
        if (!ww__json_said(&place))
            continue;
        if (ends[i].to == SIZE_MAX) {
            set_member(set, ends[i].from, ww__json_read_number(reader, &place, -DBL_MAX, DBL_MAX));
        } else if (ww__json_read_pair(reader, &place, WW__CURVE_FILE_LOG_H, false, &from, &to)) {
            set_member(set, ends[i].from, from);
            set_member(set, ends[i].to, to);
        }
    }
}

static void read_figures(ww__json_reader *reader, const ww__json_place *up,
                         ww_channel_curve *channel) {
    ww_figure_set *set = &channel->construction;
    for (size_t f = 0; f < WW_FIGURE_COUNT; f++) {
        const ww__json_place place = ww__json_key(up, ww_figure_key((ww_figure)f));
        channel->figure[f] = ww__json_read_quantity(reader, &place);
        set->value[f] = channel->figure[f].value;
        set->how[f] = channel->figure[f].how;
        if (f == WW_FIGURE_AVERAGE_GRADIENT && ww__json_said(&place)) {
            const ww__json_place between = ww__json_key(&place, "between");
            ww__json_read_pair(reader, &between, WW__CURVE_FILE_LOG_H, false, &set->gradient_from,
                               &set->gradient_to);
        }
    }
    read_ends(reader, up, set);
}

void ww__curve_file_channel(ww__json_reader *reader, const ww__json_place *place,
                            ww_channel_curve *channel) {
    const ww__json_place model = ww__json_key(place, "model");
    const ww__json_place domain = ww__json_key(place, "domain");
    const ww__json_place rms = ww__json_key(place, "residual_rms");
    if (!ww__json_read_object(reader, place))
        return;
    channel->present = true;
    channel->fitted = !(model.value && json_is_null(model.value));
    if (!ww__json_read_pair(reader, &domain, WW__CURVE_FILE_LOG_H, true, &channel->domain_low,
                            &channel->domain_high) &&
        channel->fitted)
        ww__json_read_array(reader, &domain, 2, 2); /* a fitted curve must have one */
    if (channel->fitted) {
        read_shape(reader, place, &channel->shape);
        read_covariance(reader, place, channel);
        channel->residual_sd = ww__json_number_of(reader, place, "residual_sd", 0.0, sd_limit);
        channel->residual_rms = ww__json_said(&rms)
                                    ? ww__json_read_number(reader, &rms, 0.0, sd_limit)
                                    : channel->residual_sd;
    }
    read_points(reader, place, channel);
    read_suspects(reader, place, channel);
    read_figures(reader, place, channel);
}
