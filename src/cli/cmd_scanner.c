/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include "cli/progress.h"
#include <stdlib.h>
#include <wedgework/measure.h>
#include <wedgework/page.h>
#include <wedgework/picture_file.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>
#include <wedgework/scanner_file.h>
#include <wedgework/scanner_text.h>

static ww_status document(const void *scanner, char **text, size_t *n, ww_error *err) {
    return ww_scanner_file_text(scanner, text, n, err);
}

static ww_status text(const void *scanner, const ww_text_style *style, char **made, ww_error *err) {
    return ww_scanner_text(scanner, style, made, err);
}

static ww_status plot(const void *scanner, const char *path, ww_error *err) {
    return ww_plot_scanner(scanner, path, err);
}

static ww_status page(const void *scanner, const char *path, ww_error *no_plot, ww_error *err) {
    return ww_page_scanner(scanner, path, no_plot, err);
}

/* All that one run owns. */
typedef struct job {
    ww_readings wedge;
    ww_measured steps, dark;
    ww_scanner scanner;
    ww_progress progress;
    double *width; /* of the wedge's steps, NULL: alike */
} job;

static void release(job *j) {
    ww_readings_release(&j->wedge);
    ww_measured_release(&j->steps);
    ww_measured_release(&j->dark);
    ww_scanner_release(&j->scanner);
    free(j->width);
}

static ww_status read_steps(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *strip = ww__arguments_text(arguments, "--strip");
    ww_measure_request request = {.wedge = &j->wedge, .calibrates = true};
    ww_picture picture = WW_PICTURE_INIT;
    size_t n_widths = 0;
    ww_status status = strip ? ww__forms_region(strip, &request.strip, err) : WW_OK;
    if (status == WW_OK)
        status = ww_readings_widths(&j->wedge, &j->width, &n_widths, err);
    request.widths = j->width;
    if (status == WW_OK)
        status = ww__inputs_picture(arguments->file[0], ww__arguments_number(arguments, "--page"),
                                    &picture, err);
    if (status == WW_OK) {
        ww__progress_watch(&j->progress, &picture, 1, 1);
        status = ww_measure_strip(&picture, &request, &j->steps, err);
    }
    ww_picture_release(&picture);
    return status;
}

/* Without light every place is alike; the middle keeps clear of frames and lids. */
static ww_status read_dark(const char *path, job *j, ww_error *err) {
    const ww_measure_request request = {.threads = 0};
    ww_picture picture = WW_PICTURE_INIT;
    ww_status status = ww_picture_file_open(path, 1, &picture, err);
    if (status == WW_OK) {
        const double width = (double)picture.width, height = (double)picture.height;
        const ww_spot middle = {"dark", 0.5 * width, 0.5 * height,
                                0.25 * (width < height ? width : height)};
        ww__progress_watch(&j->progress, &picture, 1, 1);
        status = ww_measure_spots(&picture, &middle, 1, &request, &j->dark, err);
        if (status == WW_OK && picture.pages > 1)
            status = ww_notes_add(&j->steps.notes, err,
                                  "Of the scan without light, page 1 of %zu was read; save another "
                                  "as a file of its own.",
                                  picture.pages);
    }
    ww_picture_release(&picture);
    return status;
}

static ww_status calibrate(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *wedge = ww__arguments_text(arguments, "--wedge");
    const char *dark = ww__arguments_text(arguments, "--dark");
    const ww_scanner_options options = {.dark = dark ? &j->dark : NULL};
    ww_status status = ww_readings_file_read(wedge, &j->wedge, err);
    if (status == WW_OK)
        status = ww_readings_check_wedge(&j->wedge, err);
    if (status == WW_OK)
        status = read_steps(arguments, j, err);
    if (status == WW_OK)
        status = ww_notes_copy_of(&j->wedge.notes, "Readings of the wedge", &j->steps.notes, err);
    if (status == WW_OK && dark)
        status = read_dark(dark, j, err);
    ww__progress_clear(&j->progress);
    if (status == WW_OK)
        status = ww_scanner_fit(&j->steps, &j->wedge, &options, &j->scanner, err);
    return status;
}

ww_status ww__cmd_scanner(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = {.wedge = WW_READINGS_INIT, .scanner = WW_SCANNER_INIT};
    const ww_result result = {
        .of = &j.scanner, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    outcome->holds = true;
    ww__progress_begin(&j.progress, arguments);
    if (status == WW_OK && !ww__arguments_has(arguments, "--wedge"))
        status = ww_error_set(err, WW_EUSAGE,
                              "scanner needs the densities of the wedge in the scan; give --wedge "
                              "WEDGE.csv");
    if (status == WW_OK)
        status = calibrate(arguments, &j, err);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    outcome->holds = !j.scanner.misfit;
    release(&j);
    return status;
}
