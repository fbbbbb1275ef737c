/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/scan.h>
#include <wedgework/scan_negative.h>
#include <wedgework/scan_plan_file.h>
#include <wedgework/scan_plan_text.h>
#include <wedgework/scanner_file.h>

/* --- a plan ----------------------------------------------------------------------------------- */

/* All that one run owns. The request points into the rest. */
typedef struct job {
    ww_readings negative;
    ww_scanner scanner;
    const char **keep;
    ww_scan_request request;
    ww_scan_plan plan;
} job;

static void release(job *j) {
    ww_scan_plan_release(&j->plan);
    ww_readings_release(&j->negative);
    ww_scanner_release(&j->scanner);
    free(j->keep);
}

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_scan_plan_file_text(&((const job *)of)->plan, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_scan_plan_text(&((const job *)of)->plan, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_scan_plan(&j->plan, &j->scanner, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_scan_plan(&j->plan, &j->request, path, no_plot, err);
}

static ww_status take_options(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_optional separate = ww__arguments_number(arguments, "--separate");
    const size_t n = ww__arguments_count(arguments, "--keep");
    if (separate.set)
        j->request.separate = separate.value;
    j->keep = calloc(n + 1, sizeof *j->keep);
    if (!j->keep)
        return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
    for (size_t i = 0; i < n; i++)
        j->keep[i] = ww__arguments_text_at(arguments, "--keep", i);
    j->request.keep = j->keep;
    j->request.n_keep = n;
    return WW_OK;
}

static ww_status read_inputs(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *scanner = ww__arguments_text(arguments, "--scanner");
    ww_status status;
    if (!scanner)
        return ww_error_set(err, WW_EUSAGE,
                            "no --scanner is given; give the scanner file that `scanner -o` wrote");
    status = ww_scanner_file_read(scanner, &j->scanner, err);
    if (status == WW_OK)
        status = ww_scan_negative_read(arguments->file[0], &j->scanner, &j->negative, err);
    j->request.scanner = &j->scanner;
    j->request.negative = &j->negative;
    return status;
}

static ww_status plan(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = {.negative = WW_READINGS_INIT,
             .scanner = WW_SCANNER_INIT,
             .request = WW_SCAN_REQUEST_INIT,
             .plan = WW_SCAN_PLAN_INIT};
    const ww_result result = {
        .of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = take_options(arguments, &j, err);
    if (status == WW_OK)
        status = read_inputs(arguments, &j, err);
    if (status == WW_OK)
        status = ww_scan_plan_make(&j.request, &j.plan, err);
    outcome->holds = status != WW_OK || j.plan.holds;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}

/* --- which of the things that the command does ------------------------------------------------ */

ww_status ww__cmd_scan(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    return plan(arguments, outcome, err);
}
