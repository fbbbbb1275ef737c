/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/scan_made.h"
#include "base/escape.h"
#include "cli/hold.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include "cli/progress.h"
#include <wedgework/page.h>
#include <wedgework/picture_write.h>
#include <wedgework/plot.h>
#include <wedgework/scan_densities.h>
#include <wedgework/scan_densities_file.h>
#include <wedgework/scan_densities_text.h>
#include <wedgework/scan_merge.h>
#include <wedgework/scan_merge_file.h>
#include <wedgework/scan_merge_text.h>
#include <wedgework/scanner_file.h>

/* All that one run owns: one or two scans, what became of them, and the file that is made. */
typedef struct job {
    ww_picture picture[2];
    ww_scanner scanner;
    ww_scan_merge merge;
    ww_scan_densities densities;
    ww_picture_writer *writer;
    ww_progress progress;
} job;

#define JOB_INIT                                                                                   \
    {                                                                                              \
        .picture = {WW_PICTURE_INIT, WW_PICTURE_INIT}, .scanner = WW_SCANNER_INIT,                 \
        .merge = WW_SCAN_MERGE_INIT, .densities = WW_SCAN_DENSITIES_INIT                           \
    }

static void release(job *j) {
    ww_picture_write_free(j->writer);
    ww_scan_merge_release(&j->merge);
    ww_scan_densities_release(&j->densities);
    ww_scanner_release(&j->scanner);
    for (size_t i = 0; i < 2; i++)
        ww_picture_release(&j->picture[i]);
}

/* The output alone is what a plan can do without. */
ww_status ww__scan_made_check(const ww_arguments *arguments, ww_error *err) {
    const char *out = ww__arguments_text(arguments, "-o");
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK && !out)
        status = ww_error_set(err, WW_EUSAGE,
                              "no -o says where the TIFF file goes; give -o "
                              "OUT.tif");
    if (status == WW_OK && ww__outputs_to_stdout(out))
        status = ww_error_set(err, WW_EUSAGE,
                              "a TIFF file cannot go to standard output; name a file, -o OUT.tif");
    return status;
}

static ww_status open_scans(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_optional page = ww__arguments_number(arguments, "--page");
    const char *scanner = ww__arguments_text(arguments, "--scanner");
    ww_status status = scanner ? ww_scanner_file_read(scanner, &j->scanner, err) : WW_OK;
    for (size_t i = 0; i < arguments->n_files && status == WW_OK; i++)
        status = ww__inputs_picture(arguments->file[i], page, &j->picture[i], err);
    return status;
}

ww_status ww__scan_made_begin(const ww_arguments *arguments, const ww_picture_form *form,
                              ww_picture_writer **writer, ww_error *err) {
    ww__hold_begin();
    const ww_status status =
        ww_picture_write_begin(ww__arguments_text(arguments, "-o"), form, writer, err);
    ww__hold_end();
    return status;
}

static ww_status finish(const void *of, ww_error *err) {
    return ww_picture_write_finish(((const job *)of)->writer, err);
}

/* --- two exposures ---------------------------------------------------------------------------- */

static ww_status merge_document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_scan_merge_file_text(&((const job *)of)->merge, text, n, err);
}

static ww_status merge_text(const void *of, const ww_text_style *style, char **made,
                            ww_error *err) {
    return ww_scan_merge_text(&((const job *)of)->merge, style, made, err);
}

static ww_status merge_plot(const void *of, const char *path, ww_error *err) {
    return ww_plot_scan_merge(&((const job *)of)->merge, path, err);
}

static ww_status merge_page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    return ww_page_scan_merge(&((const job *)of)->merge, path, no_plot, err);
}

static ww_status check_two(const ww_arguments *arguments, ww_error *err) {
    char shown[200];
    if (!ww__outputs_same(arguments->file[0], arguments->file[1]))
        return ww__scan_made_check(arguments, err);
    return ww_error_set(err, WW_EUSAGE,
                        "'%s' is given twice; give two scans of the negative, one exposed longer",
                        ww__escape_message(arguments->file[1], shown, sizeof shown));
}

static ww_status merge(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_picture *a = &j->picture[0], *b = &j->picture[1];
    const ww_scanner *scanner = ww__arguments_has(arguments, "--scanner") ? &j->scanner : NULL;
    ww_status status = open_scans(arguments, j, err);
    ww__progress_watch(&j->progress, &j->picture[0], 1, 1);
    if (status == WW_OK)
        status = ww_scan_merge_measure(a, b, scanner, &j->merge, err);
    if (status == WW_OK) {
        const ww_picture_form form = ww_picture_form_of(j->merge.longer_first ? b : a);
        status = ww__scan_made_begin(arguments, &form, &j->writer, err);
    }
    if (status == WW_OK)
        status =
            ww_scan_merge_rows(a, b, scanner, &j->merge, ww_picture_write_sink(j->writer), err);
    ww__progress_clear(&j->progress);
    return status;
}

ww_status ww__scan_made_merge(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = JOB_INIT;
    const ww_result result = {.of = &j,
                              .document = merge_document,
                              .text = merge_text,
                              .plot = merge_plot,
                              .page = merge_page,
                              .finish = finish};
    ww_status status = check_two(arguments, err);
    ww__progress_begin(&j.progress, arguments);
    if (status == WW_OK)
        status = merge(arguments, &j, err);
    outcome->holds = status != WW_OK || j.merge.holds;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}

/* --- densities -------------------------------------------------------------------------------- */

static ww_status densities_document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_scan_densities_file_text(&((const job *)of)->densities, text, n, err);
}

static ww_status densities_text(const void *of, const ww_text_style *style, char **made,
                                ww_error *err) {
    return ww_scan_densities_text(&((const job *)of)->densities, style, made, err);
}

/* By what codes became densities. */
static ww_status densities_plot(const void *of, const char *path, ww_error *err) {
    return ww_plot_scanner(&((const job *)of)->scanner, path, err);
}

static ww_status densities_page(const void *of, const char *path, ww_error *no_plot,
                                ww_error *err) {
    const job *j = of;
    return ww_page_scan_densities(&j->densities, &j->scanner, path, no_plot, err);
}

static ww_status densities(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_picture *picture = &j->picture[0];
    ww_status status = open_scans(arguments, j, err);
    ww__progress_watch(&j->progress, picture, 1, 1);
    if (status == WW_OK) {
        const ww_picture_form form = ww_scan_densities_form(picture);
        status = ww__scan_made_begin(arguments, &form, &j->writer, err);
    }
    if (status == WW_OK)
        status = ww_scan_densities_rows(picture, &j->scanner, ww_picture_write_sink(j->writer),
                                        &j->densities, err);
    ww__progress_clear(&j->progress);
    return status;
}

ww_status ww__scan_made_densities(const ww_arguments *arguments, ww_outcome *outcome,
                                  ww_error *err) {
    job j = JOB_INIT;
    const ww_result result = {.of = &j,
                              .document = densities_document,
                              .text = densities_text,
                              .plot = densities_plot,
                              .page = densities_page,
                              .finish = finish};
    ww_status status = ww__scan_made_check(arguments, err);
    ww__progress_begin(&j.progress, arguments);
    if (status == WW_OK)
        status = densities(arguments, &j, err);
    outcome->holds = !j.densities.off;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}
