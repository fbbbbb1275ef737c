/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/measure_scan.h"
#include "base/escape.h"
#include "base/text.h"
#include "cli/hold.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include "core/picture.h"
#include <stdlib.h>
#include <wedgework/measure_file.h>
#include <wedgework/measure_text.h>
#include <wedgework/output.h>
#include <wedgework/overlay.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

/* --- what is made of it --------------------------------------------------------------------- */

static bool of_several(const ww_measure_scan *s) {
    return s->job->arguments->n_files > 1;
}

static ww_status document(const void *of, char **made, size_t *n, ww_error *err) {
    const ww_measure_scan *s = of;
    if (s->job->whole)
        return ww_measure_file_whole_text(&s->whole, made, n, err);
    return ww_measure_file_text(&s->measured, made, n, err);
}

static ww_status line(const void *of, char **made, size_t *n, ww_error *err) {
    const ww_measure_scan *s = of;
    if (s->job->whole)
        return ww_measure_file_whole_line(&s->whole, made, n, err);
    return ww_measure_file_line(&s->measured, made, n, err);
}

static ww_status readings(const void *of, char **made, size_t *n, ww_error *err) {
    const ww_measure_scan *s = of;
    const ww_readings *through = s->job->has_through ? &s->job->through : NULL;
    ww_readings table = WW_READINGS_INIT;
    ww_status status = ww_measured_readings(&s->measured, through, &table, err);
    if (status == WW_OK)
        status = ww_readings_file_text(&table, made, n, err);
    ww_readings_release(&table);
    return status;
}

/* Of several, each begins with its file's name; texts below each other are parted by an empty
 * line. */
static ww_status named(const ww_measure_scan *s, const char *own, char **made, ww_error *err) {
    ww__text text = WW__TEXT_INIT, name = WW__TEXT_INIT;
    ww__escape_terminal(&name, s->file);
    ww__text_add_format(&text, "%s%s:\n%s", s->below ? "\n" : "", ww__text_string(&name), own);
    text.failed |= name.failed;
    ww__text_release(&name);
    const ww_status status = ww__text_status(&text, err);
    if (status == WW_OK)
        *made = text.bytes;
    else
        ww__text_release(&text);
    return status;
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    const ww_measure_scan *s = of;
    char *own = NULL;
    ww_status status = s->job->whole ? ww_measure_whole_text(&s->whole, style, &own, err)
                                     : ww_measure_text(&s->measured, style, &own, err);
    if (status != WW_OK || !of_several(s)) {
        *made = own;
        return status;
    }
    status = named(s, own, made, err);
    free(own);
    return status;
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const ww_measure_scan *s = of;
    return s->job->whole ? ww_plot_whole(&s->whole, path, err)
                         : ww_plot_measured(&s->measured, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const ww_measure_scan *s = of;
    return s->job->whole ? ww_page_whole(&s->whole, path, no_plot, err)
                         : ww_page_measured(&s->measured, path, no_plot, err);
}

/* --- opening -------------------------------------------------------------------------------- */

ww_status ww__measure_scan_open(const ww_measure_job *job, const char *file, ww_measure_scan *scan,
                                ww_error *err) {
    *scan = (ww_measure_scan){.job = job, .file = file};
    return ww__inputs_picture(file, job->page, &scan->picture, err);
}

static uint64_t pixels(const ww_measure_scan *scan) {
    return (uint64_t)scan->picture.width * scan->picture.height;
}

uint64_t ww__measure_scan_size(const ww_measure_scan *scan) {
    return pixels(scan) * scan->picture.channels * ww__picture_sample_bytes(scan->picture.sample);
}

/* Measured on scans of 0.2 to 7 million pixels; looking for a strip keeps small copies of it. They
 * are gone when the overlay is made. */
uint64_t ww__measure_scan_memory(const ww_measure_scan *scan, size_t threads) {
    enum { MIB = 1024 * 1024, LEAST = 4 * MIB, COPIES_MOST = 32 * MIB, COPIES_A_PIXEL = 4 };
    const ww_overlay_request request = WW_OVERLAY_REQUEST_INIT;
    uint64_t copies = 0, overlay = 0;
    if (scan->job->strip)
        copies = COPIES_A_PIXEL * pixels(scan);
    if (copies > COPIES_MOST)
        copies = COPIES_MOST;
    if (ww__arguments_has(scan->job->arguments, "--overlay"))
        overlay = ww_overlay_memory(&scan->picture, &request);
    return LEAST + threads * scan->picture.reading_bytes + (copies > overlay ? copies : overlay);
}

/* --- reading -------------------------------------------------------------------------------- */

static ww_status measure(ww_measure_scan *s, size_t threads, ww_error *err) {
    const ww_measure_job *job = s->job;
    ww_measure_request request = job->request;
    ww_status status;
    request.threads = threads;
    if (job->whole)
        return ww_measure_whole(&s->picture, &request, &s->whole, err);
    if (!job->strip)
        return ww_measure_spots(&s->picture, job->spot, job->n_spots, &request, &s->measured, err);
    status = ww_measure_strip(&s->picture, &request, &s->measured, err);
    return status == WW_OK ? ww_notes_copy_of(&job->wedge.notes, "Readings of the wedge",
                                              &s->measured.notes, err)
                           : status;
}

/* With --through and no file to write, labels are compared all the same. */
static ww_status check_through(const ww_measure_scan *s, ww_error *err) {
    char *made = NULL;
    size_t n;
    const ww_status status = s->job->has_through ? readings(s, &made, &n, err) : WW_OK;
    free(made);
    return status;
}

/* A scan that nobody calibrated is drawn as if its codes were light. */
static ww_status overlay(const ww_measure_scan *s, size_t threads, const char *path,
                         ww_error *err) {
    ww_overlay_request request = WW_OVERLAY_REQUEST_INIT;
    ww_overlay made = WW_OVERLAY_INIT;
    char *png = NULL;
    size_t n = 0;
    request.threads = threads;
    if (s->job->has_scanner)
        request.gamma = s->job->scanner.gamma.value;
    ww_status status = ww_overlay_preview(&s->picture, &s->measured, &request, &made, err);
    if (status == WW_OK)
        status = ww_overlay_draw(&made, &png, &n, err);
    ww_overlay_release(&made);
    if (status == WW_OK) {
        ww__hold_begin();
        status = ww_output_write(path, png, n, err);
        ww__hold_end();
    }
    free(png);
    return status;
}

/* A picture that gnuplot does not draw keeps nothing else back: its error waits. */
static ww_status draw(ww_measure_scan *s, size_t threads, ww_error *err) {
    const char *path = ww__arguments_text(s->job->arguments, "--overlay");
    char *own = NULL;
    if (!path)
        return WW_OK;
    if (s->job->overlays && !(own = ww__measure_job_path(s->job->overlays, s->file, ".png")))
        return ww_error_set(err, WW_EMEMORY, "no memory for a file name");
    ww_status status = overlay(s, threads, own ? own : path, &s->no_plot);
    if (status == WW_ETOOL)
        status = WW_OK;
    else if (status != WW_OK)
        *err = s->no_plot;
    free(own);
    return status;
}

ww_status ww__measure_scan_read(ww_measure_scan *scan, size_t threads, ww_error *err) {
    ww_status status = measure(scan, threads, err);
    if (status == WW_OK)
        status = check_through(scan, err);
    if (status == WW_OK)
        status = draw(scan, threads, err);
    ww_picture_release(&scan->picture);
    return status;
}

/* --- delivery ------------------------------------------------------------------------------- */

ww_status ww__measure_scan_deliver(ww_measure_scan *scan, bool below, ww_error *err) {
    const ww_measure_job *job = scan->job;
    const bool json = ww__measure_job_writes_json(job);
    char *own = NULL;
    ww_result result = {.of = scan,
                        .document = of_several(scan) ? line : document,
                        .text = text,
                        .plot = plot,
                        .page = page,
                        .file = json ? document : readings};
    scan->below = below;
    if (job->folder &&
        !(own = ww__measure_job_path(job->folder, scan->file, json ? ".json" : ".csv")))
        return ww_error_set(err, WW_EMEMORY, "no memory for a file name");
    result.path = own;
    ww_status status = ww__outputs_deliver(job->arguments, &result, err);
    free(own);
    if (status == WW_OK && scan->no_plot.code != WW_OK) {
        *err = scan->no_plot;
        status = scan->no_plot.code;
    }
    return status;
}

void ww__measure_scan_release(ww_measure_scan *scan) {
    ww_picture_release(&scan->picture);
    ww_measured_release(&scan->measured);
    ww_whole_release(&scan->whole);
    *scan = (ww_measure_scan)WW_MEASURE_SCAN_INIT;
}
