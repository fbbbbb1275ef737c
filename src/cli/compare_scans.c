/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/compare_scans.h"
#include "base/escape.h"
#include "cli/forms.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/compare.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/scanner_file.h>
#include <wedgework/texture_file.h>
#include <wedgework/texture_text.h>

/* All that one run owns. */
typedef struct job {
    ww_scanner scanner;
    ww_spot *spot;
    char **name; /* of the spots */
    size_t n_spots;
    ww_region edge;
    ww_texture_scan scan[WW_COMPARE_MOST];
    size_t n;
} job;

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    return ww_texture_file_text(j->scan, j->n, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    const job *j = of;
    return ww_texture_text(j->scan, j->n, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_texture(j->scan, j->n, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_texture(j->scan, j->n, path, no_plot, err);
}

static ww_status no_memory(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
}

static ww_status check_scans(const ww_arguments *arguments, ww_error *err) {
    if (ww__arguments_has(arguments, "--limits"))
        return ww_error_set(err, WW_EUSAGE,
                            "--limits goes with readings, not with --spot or --strip of scans; "
                            "leave it out");
    if (!ww__arguments_has(arguments, "--scanner"))
        return ww_error_set(err, WW_EUSAGE,
                            "no --scanner is given; give the scanner file that `scanner -o` wrote");
    return ww__outputs_check(arguments, err);
}

/* Places are told apart by their names. */
static ww_status check_name(const job *j, size_t last, ww_error *err) {
    char shown[200];
    for (size_t i = 0; i < last; i++)
        if (strcmp(j->name[i], j->name[last]) == 0)
            return ww_error_set(err, WW_EUSAGE,
                                "--spot names two places '%s'; give each a name of its own",
                                ww__escape_message(j->name[i], shown, sizeof shown));
    return WW_OK;
}

static ww_status take_places(const ww_arguments *arguments, job *j, ww_error *err) {
    const size_t n = ww__arguments_count(arguments, "--spot");
    const char *strip = ww__arguments_text(arguments, "--strip");
    ww_status status = strip ? ww__forms_region(strip, &j->edge, err) : WW_OK;
    j->spot = calloc(n + 1, sizeof *j->spot);
    j->name = calloc(n + 1, sizeof *j->name);
    if (!j->spot || !j->name)
        return no_memory(err);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        const char *given = ww__arguments_text_at(arguments, "--spot", i);
        size_t length = 0;
        status = ww__forms_spot(given, &j->spot[i], &length, err);
        if (status != WW_OK)
            return status;
        j->name[i] = strndup(given, length);
        if (!j->name[i])
            return no_memory(err);
        j->spot[i].name = j->name[i];
        j->n_spots++;
        status = check_name(j, i, err);
    }
    return status;
}

static ww_status read_scans(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_status status =
        ww_scanner_file_read(ww__arguments_text(arguments, "--scanner"), &j->scanner, err);
    for (size_t i = 0; i < arguments->n_files && status == WW_OK; i++) {
        ww_picture picture = WW_PICTURE_INIT;
        status = ww__inputs_picture(arguments->file[i], ww__arguments_number(arguments, "--page"),
                                    &picture, err);
        if (status == WW_OK)
            status = ww_texture_scan_read(&picture, &j->scanner, j->spot, j->n_spots, &j->edge,
                                          &j->scan[i], err);
        j->n += status == WW_OK;
        ww_picture_release(&picture);
    }
    return status;
}

static void release(job *j) {
    for (size_t i = 0; i < j->n; i++)
        ww_texture_scan_release(&j->scan[i]);
    for (size_t i = 0; i < j->n_spots; i++)
        free(j->name[i]);
    free(j->name);
    free(j->spot);
    ww_scanner_release(&j->scanner);
}

ww_status ww__compare_scans(const ww_arguments *arguments, ww_error *err) {
    job j = {.scanner = WW_SCANNER_INIT};
    const ww_result result = {
        .of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = check_scans(arguments, err);
    if (status == WW_OK)
        status = take_places(arguments, &j, err);
    if (status == WW_OK)
        status = read_scans(arguments, &j, err);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}
