/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <wedgework/develop.h>
#include <wedgework/develop_file.h>
#include <wedgework/develop_text.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

/* All that one run owns. The inputs point into the curves. */
typedef struct job {
    ww_curve *curve;
    ww_develop_input *input;
    size_t n;
    ww_development plan;
} job;

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_develop_file_text(&((const job *)of)->plan, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_develop_text(&((const job *)of)->plan, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_develop(&j->plan, j->input, j->n, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_develop(&j->plan, j->input, j->n, path, no_plot, err);
}

static ww_develop_request request_of(const ww_arguments *arguments) {
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    const ww_optional below = ww__arguments_number(arguments, "--below");
    request.contrast_index = ww__arguments_number(arguments, "--contrast-index");
    request.density_range = ww__arguments_number(arguments, "--density-range");
    request.subject_range = ww__arguments_number(arguments, "--subject-range");
    request.flare = ww__arguments_number(arguments, "--flare").value;
    request.temperature_c = ww__arguments_number(arguments, "--temperature");
    request.repeatability = ww__arguments_number(arguments, "--repeatability").value;
    request.metered_index = ww__arguments_number(arguments, "--metered-index");
    if (below.set)
        request.below_stops = below.value;
    return request;
}

/* What the options ask for together, before any file is read. */
static ww_status check(const ww_arguments *arguments, const ww_develop_request *r, ww_error *err) {
    const bool ranges = r->density_range.set || r->subject_range.set;
    const bool aimed = r->contrast_index.set || ranges;
    if (!aimed && !r->metered_index.set)
        return ww_error_set(err, WW_EUSAGE,
                            "develop needs a contrast to aim at; give --contrast-index X, or "
                            "--density-range X with --subject-range Y (or --metered-index N for "
                            "an exposure index alone)");
    if (r->contrast_index.set && ranges)
        return ww_error_set(err, WW_EUSAGE,
                            "--contrast-index and --density-range ask for two contrasts; give one "
                            "of them");
    if (r->density_range.set != r->subject_range.set)
        return ww_error_set(err, WW_EUSAGE,
                            "%s needs %s beside it: a density range is of a subject",
                            r->density_range.set ? "--density-range" : "--subject-range",
                            r->density_range.set ? "--subject-range" : "--density-range");
    if (!ranges && ww__arguments_has(arguments, "--flare"))
        return ww_error_set(err, WW_EUSAGE,
                            "--flare shortens a subject's range; give --density-range and "
                            "--subject-range, or leave it out");
    if (!aimed && (r->temperature_c.set || ww__arguments_has(arguments, "--repeatability")))
        return ww_error_set(err, WW_EUSAGE,
                            "%s is about the time; give a contrast to aim at, or leave it out",
                            r->temperature_c.set ? "--temperature" : "--repeatability");
    if (!r->metered_index.set && ww__arguments_has(arguments, "--below"))
        return ww_error_set(err, WW_EUSAGE,
                            "--below places the exposure index; give --metered-index N, or leave "
                            "it out");
    return ww__outputs_check(arguments, err);
}

static ww_status start(size_t n, job *j, ww_error *err) {
    j->curve = calloc(n, sizeof *j->curve);
    j->input = calloc(n, sizeof *j->input);
    if (!j->curve || !j->input)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu curves", n);
    for (size_t i = 0; i < n; i++)
        j->curve[i] = (ww_curve)WW_CURVE_INIT;
    j->n = n;
    return WW_OK;
}

static void release(job *j) {
    for (size_t i = 0; i < j->n; i++)
        ww_curve_release(&j->curve[i]);
    free(j->curve);
    free(j->input);
    ww_development_release(&j->plan);
}

static ww_status develop(const ww_arguments *arguments, const ww_develop_request *request, job *j,
                         ww_error *err) {
    ww_status status = start(arguments->n_files, j, err);
    for (size_t i = 0; i < j->n && status == WW_OK; i++) {
        status = ww__inputs_curve(arguments->file[i], &j->curve[i], err);
        j->input[i] = (ww_develop_input){&j->curve[i], arguments->file[i]};
    }
    return status == WW_OK ? ww_develop_plan(j->input, j->n, request, &j->plan, err) : status;
}

ww_status ww__cmd_develop(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = {.plan = WW_DEVELOPMENT_INIT};
    const ww_develop_request request = request_of(arguments);
    const ww_result result = {
        .of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = check(arguments, &request, err);
    if (status == WW_OK)
        status = develop(arguments, &request, &j, err);
    outcome->holds = status != WW_OK || j.plan.holds;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}
