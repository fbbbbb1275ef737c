/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include "core/readings.h"
#include "plan/develop_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double same_temperature = 0.05; /* [C] */

/* --- what may stand beside what --------------------------------------------------------------- */

static ww_status check_film(const ww_develop_input *input, ww_error *err) {
    const ww_meta *meta = &input->curve->meta;
    if (meta->material != WW_MATERIAL_UNKNOWN && meta->material != WW_MATERIAL_FILM)
        return ww_error_set_at(err, WW_EMISMATCH, input->file, 0,
                               "this is a curve of %s; development for a contrast is planned from "
                               "curves of film",
                               ww_material_name(meta->material));
    if (meta->process == WW_PROCESS_REVERSAL || meta->emulsion == WW_EMULSION_COLOUR_REVERSAL)
        return ww_error_set_at(err, WW_EMISMATCH, input->file, 0,
                               "this film was reversed: its contrast does not grow with the first "
                               "development alone; give curves of negatives");
    if (!meta->development_time_min.set || !(meta->development_time_min.value > 0.0))
        return ww_error_set_at(err, WW_ENODATA, input->file, 0,
                               "this curve does not say how long its film was developed; write "
                               "'# development time: MINUTES' into its readings and fit them "
                               "again");
    return WW_OK;
}

static bool differ(int a, int b) {
    return a != 0 && b != 0 && a != b; /* 0 is not said, and goes with any */
}

static ww_status refuse_other(const char *file, const char *what, const char *one,
                              const char *other, ww_error *err) {
    char a[120], b[120];
    return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                           "%s here is '%s', and of the first curve '%s'; plan from curves that "
                           "have it in common",
                           what, ww__escape_message(other, a, sizeof a),
                           ww__escape_message(one, b, sizeof b));
}

static ww_status check_pair(const ww_develop_input *first, const ww_develop_input *input,
                            ww_error *err) {
    const ww_meta *a = &first->curve->meta, *b = &input->curve->meta;
    if (a->name && b->name && !ww__text_same(a->name, b->name))
        return refuse_other(input->file, "the film", a->name, b->name, err);
    if (differ((int)a->status, (int)b->status))
        return refuse_other(input->file, "the density status", ww_density_status_name(a->status),
                            ww_density_status_name(b->status), err);
    if (differ((int)a->emulsion, (int)b->emulsion))
        return refuse_other(input->file, "the emulsion", ww_emulsion_name(a->emulsion),
                            ww_emulsion_name(b->emulsion), err);
    if (a->temperature_c.set != b->temperature_c.set)
        return ww_error_set_at(err, WW_EMISMATCH, input->file, 0,
                               "this curve %s its temperature, and the first one %s; write "
                               "'# temperature: C' into the readings of all of them, or of none",
                               b->temperature_c.set ? "says" : "does not say",
                               a->temperature_c.set ? "does" : "does not");
    return WW_OK;
}

/* One strip is no two developments: it would make them look as alike as they never are. */
static ww_status check_once(const ww_develop_input input[], size_t i, ww_error *err) {
    for (size_t k = 0; k < i; k++)
        if (input[k].file && input[i].file && strcmp(input[k].file, input[i].file) == 0)
            return ww_error_set_at(err, WW_EINPUT, input[i].file, 0,
                                   "this curve is given twice; give each strip once, and a time "
                                   "developed twice as the two curves that it has");
    return WW_OK;
}

/* --- a row ------------------------------------------------------------------------------------ */

static ww_status take_name(const char *file, ww_develop_row *row, ww_error *err) {
    const char *slash = file ? strrchr(file, '/') : NULL;
    return ww__readings_text_copy(slash ? slash + 1 : file ? file : "", &row->name, err);
}

static ww_status take_row(const ww_develop_input *input, const ww_development *plan,
                          ww_develop_row *row, ww_error *err) {
    const ww_curve *curve = input->curve;
    ww_error why = WW_ERROR_INIT;
    const ww_status status = ww_curve_black_and_white_channel(curve, &row->channel, &why);
    if (status != WW_OK)
        return ww_error_set_at(err, status, input->file, 0, "%s", why.msg);
    const ww_channel_curve *channel = &curve->channel[row->channel];
    row->time_min = curve->meta.development_time_min.value;
    row->temperature_c = curve->meta.temperature_c;
    row->contrast[WW_DEVELOP_CONTRAST_INDEX] = channel->figure[WW_FIGURE_CONTRAST_INDEX];
    row->contrast[WW_DEVELOP_AVERAGE_GRADIENT] = channel->figure[WW_FIGURE_AVERAGE_GRADIENT];
    row->contrast[WW_DEVELOP_GAMMA] = channel->figure[WW_FIGURE_GAMMA];
    if (plan->film_range.set)
        (void)ww_curve_gradient_over(channel, plan->film_range.value,
                                     &row->contrast[WW_DEVELOP_OVER_RANGE], NULL);
    row->base_fog = channel->figure[WW_FIGURE_BASE_FOG];
    row->speed_point = channel->figure[WW_FIGURE_SPEED_POINT];
    row->standard = curve->speed.standard;
    row->speed = curve->speed.exact;
    return take_name(input->file, row, err);
}

/* In order of time, those of one time as they were given. */
static void sort(const ww_develop_input input[], size_t n, size_t order[]) {
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        const double time = input[i].curve->meta.development_time_min.value;
        for (; at > 0 && input[order[at - 1]].curve->meta.development_time_min.value > time; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

ww_status ww__develop_rows(const ww_develop_input input[], size_t n,
                           const ww_develop_request *request, ww_development *plan, size_t order[],
                           ww_error *err) {
    ww_status status = WW_OK;
    (void)request;
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        status = check_film(&input[i], err);
        if (status == WW_OK && i > 0)
            status = check_pair(&input[0], &input[i], err);
        if (status == WW_OK)
            status = check_once(input, i, err);
    }
    if (status != WW_OK)
        return status;
    plan->row = calloc(n, sizeof *plan->row);
    if (!plan->row)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu curves", n);
    sort(input, n, order);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = take_row(&input[order[i]], plan, &plan->row[plan->n++], err);
    return status;
}

/* --- the reference ---------------------------------------------------------------------------- */

static bool same(ww_optional a, ww_optional b) {
    return a.set == b.set && (!a.set || fabs(a.value - b.value) < same_temperature);
}

static size_t times_at(const ww_development *plan, ww_optional temperature) {
    size_t times = 0;
    double last = 0.0;
    for (size_t i = 0; i < plan->n; i++)
        if (same(plan->row[i].temperature_c, temperature) && plan->row[i].time_min > last) {
            last = plan->row[i].time_min;
            times++;
        }
    return times;
}

void ww__develop_find_reference(ww_development *plan) {
    ww_optional reference = plan->row[0].temperature_c;
    ww_develop_temperature *by = &plan->by_temperature;
    for (size_t i = 1; i < plan->n; i++)
        if (times_at(plan, plan->row[i].temperature_c) > times_at(plan, reference))
            reference = plan->row[i].temperature_c;
    plan->temperature_c = reference;
    by->reference_c = by->least_c = by->most_c = reference.value;
    for (size_t i = 0; i < plan->n; i++) {
        ww_develop_row *row = &plan->row[i];
        row->other_temperature = !same(row->temperature_c, reference);
        by->least_c = fmin(by->least_c, row->temperature_c.value);
        by->most_c = fmax(by->most_c, row->temperature_c.value);
    }
}
