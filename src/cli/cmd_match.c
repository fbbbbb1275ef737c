/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/forms.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include "cli/progress.h"
#include "cli/scan_made.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/match_aim.h>
#include <wedgework/match_apply.h>
#include <wedgework/match_file.h>
#include <wedgework/match_text.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>

/* All that one run owns. The request points into the rest. */
typedef struct job {
    ww_readings aim, print;
    ww_curve aim_curve;
    ww_readings *refine;
    const ww_readings **pass;
    size_t n_refine;
    ww_match_request request;
    ww_match match;
    ww_picture picture;
    ww_picture_writer *writer;
    ww_progress progress;
} job;

static void release(job *j) {
    ww_picture_write_free(j->writer);
    ww_picture_release(&j->picture);
    ww_match_release(&j->match);
    for (size_t i = 0; j->refine && i < j->n_refine; i++)
        ww_readings_release(&j->refine[i]);
    free(j->refine);
    free(j->pass);
    ww_readings_release(&j->aim);
    ww_readings_release(&j->print);
    ww_curve_release(&j->aim_curve);
    free(j);
}

/* --- what can be made of it ------------------------------------------------------------------- */

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_match_file_text(&((const job *)of)->match, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_match_text(&((const job *)of)->match, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    return ww_plot_match(&((const job *)of)->match, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_match(&j->match, &j->request, path, no_plot, err);
}

static ww_status csv(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_match_file_csv(&((const job *)of)->match, text, n, err);
}

static ww_status cube(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_match_file_cube(&((const job *)of)->match, text, n, err);
}

static ww_status icc(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_match_file_icc(&((const job *)of)->match, text, n, err);
}

static ww_status finish(const void *of, ww_error *err) {
    return ww_picture_write_finish(((const job *)of)->writer, err);
}

/* What -o writes, by the end of its name. */
static const struct kind {
    const char *ending;
    ww_status (*make)(const void *of, char **text, size_t *n, ww_error *err);
} kinds[] = {{".csv", csv}, {".cube", cube}, {".icc", icc}, {".json", document}};

static bool is_tiff(const char *path) {
    return ww__forms_ends_in(path, ".tif") || ww__forms_ends_in(path, ".tiff");
}

static ww_status choose_kind(const ww_arguments *arguments, ww_result *result, ww_error *err) {
    const char *out = ww__arguments_text(arguments, "-o");
    char shown[200];
    result->file = csv;
    if (!out || ww__outputs_to_stdout(out))
        return WW_OK;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (ww__forms_ends_in(out, kinds[i].ending)) {
            result->file = kinds[i].make;
            return WW_OK;
        }
    return ww_error_set(err, WW_EUSAGE,
                        "a correction cannot be written as '%s'; give a name that ends in .csv, "
                        ".cube, .icc or .json%s",
                        ww__escape_message(out, shown, sizeof shown),
                        is_tiff(out) ? ", or the picture too: --apply IN.tif" : "");
}

static ww_status check_apply(const ww_arguments *arguments, ww_error *err) {
    const char *out = ww__arguments_text(arguments, "-o");
    char shown[200];
    const ww_status status = ww__scan_made_check(arguments, err);
    if (status == WW_OK && !is_tiff(out))
        return ww_error_set(err, WW_EUSAGE,
                            "--apply makes a TIFF file, and -o says '%s'; give -o OUT.tif, and the "
                            "curve by a run without --apply",
                            ww__escape_message(out, shown, sizeof shown));
    return status;
}

/* --- what goes in ----------------------------------------------------------------------------- */

static ww_status read_aim(const char *path, job *j, ww_error *err) {
    if (strcmp(path, "lightness") == 0)
        return WW_OK;
    bool is_curve = false;
    const ww_status status = ww_match_aim_read(path, &j->aim, &j->aim_curve, &is_curve, err);
    j->request.aim = is_curve ? NULL : &j->aim;
    j->request.aim_curve = is_curve ? &j->aim_curve : NULL;
    return status;
}

static ww_status read_inputs(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *white = ww__arguments_text(arguments, "--white");
    const size_t n = ww__arguments_count(arguments, "--refine");
    j->request.absolute = white && strcmp(white, "match") == 0;
    j->request.print = &j->print;
    j->refine = calloc(n + 1, sizeof *j->refine);
    j->pass = calloc(n + 1, sizeof *j->pass);
    if (!j->refine || !j->pass)
        return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
    ww_status status = read_aim(ww__arguments_text(arguments, "--aim"), j, err);
    if (status == WW_OK)
        status = ww_readings_file_read(ww__arguments_text(arguments, "--print"), &j->print, err);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        j->pass[i] = &j->refine[i];
        j->n_refine++;
        status = ww_readings_file_read(ww__arguments_text_at(arguments, "--refine", i),
                                       &j->refine[i], err);
    }
    j->request.refine = j->pass;
    j->request.n_refine = j->n_refine;
    return status;
}

static ww_status check(const ww_arguments *arguments, ww_result *result, ww_error *err) {
    static const char *const needed[][2] = {
        {"--aim", "readings of the print to be matched, a curve file, or the word lightness"},
        {"--print", "readings of the output that is to match it"}};
    for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++)
        if (!ww__arguments_has(arguments, needed[i][0]))
            return ww_error_set(err, WW_EUSAGE, "no %s is given; give %s", needed[i][0],
                                needed[i][1]);
    if (ww__arguments_has(arguments, "--apply"))
        return check_apply(arguments, err);
    if (ww__arguments_has(arguments, "--page"))
        return ww_error_set(err, WW_EUSAGE, "--page plays no part without --apply; leave it out");
    const ww_status status = ww__outputs_check(arguments, err);
    return status == WW_OK ? choose_kind(arguments, result, err) : status;
}

/* --- a picture -------------------------------------------------------------------------------- */

static ww_status apply(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_status status =
        ww__inputs_picture(ww__arguments_text(arguments, "--apply"),
                           ww__arguments_number(arguments, "--page"), &j->picture, err);
    if (status == WW_OK && j->picture.pages > 1 && !ww__arguments_has(arguments, "--page"))
        status = ww_error_set_at(err, WW_EUSAGE, j->picture.file, 0,
                                 "the file has %zu pages, and one is sent through the curve; say "
                                 "which with --page",
                                 j->picture.pages);
    if (status != WW_OK)
        return status;
    ww__progress_watch(&j->progress, &j->picture, 1, 1);
    const ww_picture_form form = ww_picture_form_of(&j->picture);
    status = ww__scan_made_begin(arguments, &form, &j->writer, err);
    if (status == WW_OK)
        status = ww_match_apply_rows(&j->picture, &j->match, ww_picture_write_sink(j->writer),
                                     &j->match.notes, err);
    ww__progress_clear(&j->progress);
    return status;
}

ww_status ww__cmd_match(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job *j = calloc(1, sizeof *j);
    if (!j)
        return ww_error_set(err, WW_EMEMORY, "no memory for a correction");
    *j = (job){.aim = WW_READINGS_INIT,
               .print = WW_READINGS_INIT,
               .aim_curve = WW_CURVE_INIT,
               .match = WW_MATCH_INIT,
               .picture = WW_PICTURE_INIT};
    ww_result result = {.of = j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = check(arguments, &result, err);
    ww__progress_begin(&j->progress, arguments);
    if (status == WW_OK)
        status = read_inputs(arguments, j, err);
    if (status == WW_OK)
        status = ww_match_make(&j->request, &j->match, err);
    outcome->holds = status != WW_OK || j->match.holds;
    if (status == WW_OK && ww__arguments_has(arguments, "--apply")) {
        result.finish = finish;
        status = apply(arguments, j, err);
    }
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(j);
    return status;
}
