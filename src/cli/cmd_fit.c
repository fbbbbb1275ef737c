/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/outputs.h"
#include <wedgework/curve_file.h>
#include <wedgework/curve_text.h>
#include <wedgework/fit.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

static ww_status document(const void *curve, char **text, size_t *n, ww_error *err) {
    return ww_curve_file_text(curve, text, n, err);
}

static ww_status text(const void *curve, const ww_text_style *style, char **made, ww_error *err) {
    return ww_curve_text(curve, style, made, err);
}

static ww_status plot(const void *curve, const char *path, ww_error *err) {
    return ww_plot_curve(curve, path, err);
}

static ww_status page(const void *curve, const char *path, ww_error *no_plot, ww_error *err) {
    return ww_page_curve(curve, path, no_plot, err);
}

static ww_status read_through(const char *path, ww_readings *readings, ww_error *err) {
    ww_readings wedge = WW_READINGS_INIT;
    ww_status status = path ? ww_readings_file_read(path, &wedge, err) : WW_OK;
    if (path && status == WW_OK)
        status = ww_readings_through(readings, &wedge, err);
    ww_readings_release(&wedge);
    return status;
}

static ww_status options_from(const ww_arguments *arguments, ww_fit_options *options,
                              ww_error *err) {
    const char *model = ww__arguments_text(arguments, "--model");
    const ww_optional resamples = ww__arguments_number(arguments, "--resamples");
    const ww_optional seed = ww__arguments_number(arguments, "--seed");
    options->log_h0 = ww__arguments_number(arguments, "--log-h0");
    if (resamples.set)
        options->resamples = (size_t)resamples.value;
    if (seed.set)
        options->seed = (unsigned long)seed.value;
    options->model_given = model != NULL;
    return model ? ww_model_find(model, &options->model, err) : WW_OK;
}

ww_status ww__cmd_fit(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    ww_readings readings = WW_READINGS_INIT;
    ww_curve curve = WW_CURVE_INIT;
    ww_fit_options options = WW_FIT_OPTIONS_INIT;
    const ww_result result = {
        .of = &curve, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = options_from(arguments, &options, err);
    if (status == WW_OK)
        status = ww_readings_file_read(arguments->file[0], &readings, err);
    if (status == WW_OK)
        status = read_through(ww__arguments_text(arguments, "--through"), &readings, err);
    if (status == WW_OK)
        status = ww_fit_readings(&readings, &options, &curve, err);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    ww_curve_release(&curve);
    ww_readings_release(&readings);
    outcome->holds = true;
    return status;
}
