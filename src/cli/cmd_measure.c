/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/complain.h"
#include "cli/measure_job.h"
#include "cli/outputs.h"
#include "cli/progress.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure_file.h>
#include <wedgework/measure_text.h>
#include <wedgework/overlay.h>
#include <wedgework/page.h>
#include <wedgework/picture_file.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

/* One scan. */
typedef struct scan {
    const ww_measure_job *job;
    ww_measured measured;
    ww_whole whole; /* in place of it where the job says so */
    bool below;     /* the text of another scan stands above */
} scan;

static bool of_several(const scan *s) {
    return s->job->arguments->n_files > 1;
}

static ww_status document(const void *of, char **made, size_t *n, ww_error *err) {
    const scan *s = of;
    if (s->job->whole)
        return ww_measure_file_whole_text(&s->whole, made, n, err);
    return ww_measure_file_text(&s->measured, made, n, err);
}

static ww_status line(const void *of, char **made, size_t *n, ww_error *err) {
    const scan *s = of;
    if (s->job->whole)
        return ww_measure_file_whole_line(&s->whole, made, n, err);
    return ww_measure_file_line(&s->measured, made, n, err);
}

static ww_status readings(const void *of, char **made, size_t *n, ww_error *err) {
    const scan *s = of;
    const ww_readings *through = s->job->has_through ? &s->job->through : NULL;
    ww_readings table = WW_READINGS_INIT;
    ww_status status = ww_measured_readings(&s->measured, through, &table, err);
    if (status == WW_OK)
        status = ww_readings_file_text(&table, made, n, err);
    ww_readings_release(&table);
    return status;
}

/* Texts below each other are parted by an empty line. */
static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    const scan *s = of;
    char *own = NULL, *apart;
    ww_status status = s->job->whole ? ww_measure_whole_text(&s->whole, style, &own, err)
                                     : ww_measure_text(&s->measured, style, &own, err);
    if (status != WW_OK || !s->below) {
        *made = own;
        return status;
    }
    apart = malloc(strlen(own) + 2);
    if (apart)
        sprintf(apart, "\n%s", own);
    free(own);
    *made = apart;
    return apart ? WW_OK : ww_error_set(err, WW_EMEMORY, "no memory for the text");
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const scan *s = of;
    return s->job->whole ? ww_plot_whole(&s->whole, path, err)
                         : ww_plot_measured(&s->measured, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const scan *s = of;
    return s->job->whole ? ww_page_whole(&s->whole, path, no_plot, err)
                         : ww_page_measured(&s->measured, path, no_plot, err);
}

/* --- one scan ------------------------------------------------------------------------------- */

static ww_status measure(scan *s, const ww_picture *picture, ww_error *err) {
    const ww_measure_job *job = s->job;
    if (job->whole)
        return ww_measure_whole(picture, &job->request, &s->whole, err);
    if (job->n_spots > 0)
        return ww_measure_spots(picture, job->spot, job->n_spots, &job->request, &s->measured, err);
    return ww_measure_strip(picture, &job->request, &s->measured, err);
}

/* A scan that nobody calibrated is drawn as if its codes were light. */
static ww_status overlay(const scan *s, const ww_picture *picture, const char *path,
                         ww_error *err) {
    ww_overlay_request request = WW_OVERLAY_REQUEST_INIT;
    ww_overlay made = WW_OVERLAY_INIT;
    request.threads = s->job->request.threads;
    if (s->job->has_scanner)
        request.gamma = s->job->scanner.gamma.value;
    ww_status status = ww_overlay_preview(picture, &s->measured, &request, &made, err);
    if (status == WW_OK)
        status = ww_overlay_draw(&made, path, err);
    ww_overlay_release(&made);
    return status;
}

/* A picture that gnuplot does not draw keeps nothing else back: its error waits in `no_plot`. */
static ww_status draw(const scan *s, const ww_picture *picture, const char *file, ww_error *no_plot,
                      ww_error *err) {
    const char *path = ww__arguments_text(s->job->arguments, "--overlay");
    char *own = NULL;
    if (!path)
        return WW_OK;
    if (s->job->overlays && !(own = ww__measure_job_path(s->job->overlays, file, ".png")))
        return ww_error_set(err, WW_EMEMORY, "no memory for a file name");
    ww_status status = overlay(s, picture, own ? own : path, no_plot);
    if (status == WW_ETOOL)
        status = WW_OK;
    else if (status != WW_OK)
        *err = *no_plot;
    free(own);
    return status;
}

static ww_status deliver(const scan *s, const char *file, ww_error *err) {
    const ww_measure_job *job = s->job;
    const bool json = ww__measure_job_writes_json(job);
    char *own = NULL;
    ww_result result = {.of = s,
                        .document = of_several(s) ? line : document,
                        .text = text,
                        .plot = plot,
                        .page = page,
                        .file = json ? document : readings};
    if (job->folder && !(own = ww__measure_job_path(job->folder, file, json ? ".json" : ".csv")))
        return ww_error_set(err, WW_EMEMORY, "no memory for a file name");
    result.path = own;
    const ww_status status = ww__outputs_deliver(job->arguments, &result, err);
    free(own);
    return status;
}

/* With --through and no file to write, labels are compared all the same. */
static ww_status check_through(const scan *s, ww_error *err) {
    char *made = NULL;
    size_t n;
    const ww_status status = s->job->has_through ? readings(s, &made, &n, err) : WW_OK;
    free(made);
    return status;
}

static ww_status one(const ww_measure_job *job, size_t i, bool below, ww_progress *progress,
                     ww_error *err) {
    const char *file = job->arguments->file[i];
    scan s = {.job = job, .measured = WW_MEASURED_INIT, .whole = WW_WHOLE_INIT, .below = below};
    ww_picture picture = WW_PICTURE_INIT;
    ww_error no_plot = WW_ERROR_INIT;
    ww_status status = ww_picture_file_open(file, job->page, &picture, err);
    if (status == WW_OK) {
        ww__progress_watch(progress, &picture, i + 1, job->arguments->n_files);
        status = measure(&s, &picture, err);
    }
    if (status == WW_OK)
        status = check_through(&s, err);
    if (status == WW_OK)
        status = draw(&s, &picture, file, &no_plot, err);
    ww__progress_clear(progress);
    ww_picture_release(&picture);
    if (status == WW_OK)
        status = deliver(&s, file, err);
    if (status == WW_OK && no_plot.code != WW_OK) {
        *err = no_plot;
        status = no_plot.code;
    }
    ww_measured_release(&s.measured);
    ww_whole_release(&s.whole);
    return status;
}

/* --- all of them ---------------------------------------------------------------------------- */

/* One bad scan does not stop the others: its error is told as it comes, the worst is returned. */
static ww_status several(const ww_measure_job *job, ww_progress *progress, ww_outcome *outcome,
                         ww_error *err) {
    ww_status worst = WW_OK;
    bool printed = false;
    outcome->told = true;
    for (size_t i = 0; i < job->arguments->n_files; i++) {
        ww_error own = WW_ERROR_INIT;
        const ww_status status = one(job, i, printed, progress, &own);
        printed |= status == WW_OK || status == WW_ETOOL;
        if (status == WW_OK)
            continue;
        ww__complain(&own);
        if (worst == WW_OK || ww__complain_status(&own) > ww__complain_status(err)) {
            *err = own;
            worst = status;
        }
    }
    return worst;
}

ww_status ww__cmd_measure(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    ww_measure_job job = WW_MEASURE_JOB_INIT;
    ww_progress progress;
    ww_status status = ww__measure_job_take(arguments, &job, err);
    outcome->holds = true;
    ww__progress_begin(&progress, arguments);
    if (status == WW_OK)
        status = arguments->n_files > 1 ? several(&job, &progress, outcome, err)
                                        : one(&job, 0, false, &progress, err);
    ww__measure_job_release(&job);
    return status;
}
