/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/compare_scans.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <wedgework/compare.h>
#include <wedgework/compare_file.h>
#include <wedgework/compare_text.h>
#include <wedgework/curve_file.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

/* All that one run owns. The inputs point into the rest. */
typedef struct job {
    ww_readings readings[WW_COMPARE_MOST];
    ww_curve curve[WW_COMPARE_MOST];
    ww_compare_input input[WW_COMPARE_MOST];
    ww_compare_limits limits;
    ww_comparison comparison;
} job;

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_compare_file_text(&((const job *)of)->comparison, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_compare_text(&((const job *)of)->comparison, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    return ww_plot_compare(&((const job *)of)->comparison, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_compare(&j->comparison, j->input, j->comparison.n, path, no_plot, err);
}

static ww_status read_input(const char *path, job *j, size_t i, ww_error *err) {
    bool curve;
    ww_status status = ww__inputs_either(path, &j->readings[i], &j->curve[i], &curve, err);
    if (status == WW_OK)
        j->input[i] = (ww_compare_input){.readings = curve ? NULL : &j->readings[i],
                                         .curve = curve ? &j->curve[i] : NULL,
                                         .file = path};
    return status;
}

static void release(job *j) {
    for (size_t i = 0; i < WW_COMPARE_MOST; i++) {
        ww_readings_release(&j->readings[i]);
        ww_curve_release(&j->curve[i]);
    }
    ww_comparison_release(&j->comparison);
    free(j);
}

static ww_status start(job **made, ww_error *err) {
    job *j = calloc(1, sizeof *j);
    if (!j)
        return ww_error_set(err, WW_EMEMORY, "no memory for the prints");
    for (size_t i = 0; i < WW_COMPARE_MOST; i++) {
        j->readings[i] = (ww_readings)WW_READINGS_INIT;
        j->curve[i] = (ww_curve)WW_CURVE_INIT;
    }
    j->comparison = (ww_comparison)WW_COMPARISON_INIT;
    *made = j;
    return WW_OK;
}

static ww_status compare(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *limits = ww__arguments_text(arguments, "--limits");
    ww_status status = limits ? ww_compare_limits_read(limits, &j->limits, err) : WW_OK;
    for (size_t i = 0; i < arguments->n_files && status == WW_OK; i++)
        status = read_input(arguments->file[i], j, i, err);
    if (status == WW_OK)
        status = ww_compare_make(j->input, arguments->n_files, limits ? &j->limits : NULL,
                                 &j->comparison, err);
    return status;
}

static ww_status check_no_scan(const ww_arguments *arguments, ww_error *err) {
    static const char *const of_scans[] = {"--scanner", "--page"};
    for (size_t i = 0; i < sizeof of_scans / sizeof of_scans[0]; i++)
        if (ww__arguments_has(arguments, of_scans[i]))
            return ww_error_set(err, WW_EUSAGE,
                                "%s goes with scans; say with --spot or --strip what is to be read "
                                "of them, or leave it out",
                                of_scans[i]);
    return ww__outputs_check(arguments, err);
}

ww_status ww__cmd_compare(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job *j = NULL;
    if (ww__arguments_has(arguments, "--spot") || ww__arguments_has(arguments, "--strip"))
        return ww__compare_scans(arguments, err);
    ww_status status = check_no_scan(arguments, err);
    if (status == WW_OK)
        status = start(&j, err);
    if (status != WW_OK)
        return status;
    status = compare(arguments, j, err);
    outcome->holds = status != WW_OK || j->comparison.holds;
    if (status == WW_OK) {
        const ww_result result = {
            .of = j, .document = document, .text = text, .plot = plot, .page = page};
        status = ww__outputs_deliver(arguments, &result, err);
    }
    release(j);
    return status;
}
