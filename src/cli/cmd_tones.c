/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/forms.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>
#include <wedgework/tones_file.h>
#include <wedgework/tones_text.h>

/* Curve files of one option. */
typedef struct curves {
    ww_curve *curve;
    const ww_curve **of;
    const char **file;
    size_t n;
} curves;

/* All that one run owns. The request points into the rest. */
typedef struct job {
    curves film, paper;
    ww_readings wanted;
    ww_tones_request request;
    ww_tones tones;
} job;

#define JOB_INIT                                                                                   \
    { .wanted = WW_READINGS_INIT, .request = WW_TONES_REQUEST_INIT, .tones = WW_TONES_INIT }

static void release_curves(curves *c) {
    for (size_t i = 0; i < c->n; i++)
        ww_curve_release(&c->curve[i]);
    free(c->curve);
    free(c->of);
    free(c->file);
}

static void release(job *j) {
    ww_tones_release(&j->tones);
    ww_readings_release(&j->wanted);
    release_curves(&j->film);
    release_curves(&j->paper);
}

/* --- what can be made of it ------------------------------------------------------------------- */

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_tones_file_text(&((const job *)of)->tones, text, n, err);
}

static ww_status csv(const void *of, char **text, size_t *n, ww_error *err) {
    return ww_tones_file_csv(&((const job *)of)->tones, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_tones_text(&((const job *)of)->tones, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    return ww_plot_tones(&((const job *)of)->tones, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_tones(&j->tones, &j->request, path, no_plot, err);
}

/* --- what goes in ----------------------------------------------------------------------------- */

static ww_status read_curves(const ww_arguments *arguments, const char *option, curves *c,
                             ww_error *err) {
    const size_t n = ww__arguments_count(arguments, option);
    ww_status status = WW_OK;
    c->curve = calloc(n + 1, sizeof *c->curve);
    c->of = calloc(n + 1, sizeof *c->of);
    c->file = calloc(n + 1, sizeof *c->file);
    if (!c->curve || !c->of || !c->file)
        return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        const char *path = ww__arguments_text_at(arguments, option, i);
        c->curve[i] = (ww_curve)WW_CURVE_INIT;
        c->of[i] = &c->curve[i];
        c->file[i] = strcmp(path, "-") == 0 ? "standard input" : path;
        status = ww__inputs_curve(path, &c->curve[i], err);
        if (status == WW_OK)
            c->n = i + 1;
    }
    return status;
}

static void take_number(const ww_arguments *arguments, const char *name, double *number) {
    const ww_optional given = ww__arguments_number(arguments, name);
    if (given.set)
        *number = given.value;
}

static ww_status take_options(const ww_arguments *arguments, ww_tones_request *r, ww_error *err) {
    const char *place = ww__arguments_text(arguments, "--place");
    take_number(arguments, "--subject-range", &r->subject_range);
    take_number(arguments, "--flare", &r->flare);
    take_number(arguments, "--enlarger-flare", &r->enlarger_flare);
    take_number(arguments, "--callier", &r->callier);
    take_number(arguments, "--viewing-flare", &r->viewing_flare);
    take_number(arguments, "--expose", &r->film_stops);
    take_number(arguments, "--detail", &r->detail);
    take_number(arguments, "--slope", &r->wanted_slope);
    return place ? ww__forms_stop_place(place, &r->place_stops, &r->place_density, err) : WW_OK;
}

static ww_status read_wanted(const ww_arguments *arguments, job *j, ww_error *err) {
    const char *path = ww__arguments_text(arguments, "--wanted");
    j->request.wanted = path != NULL;
    if (!path || strcmp(path, "straight") == 0)
        return WW_OK;
    j->request.wanted_print = &j->wanted;
    return ww_readings_file_read(path, &j->wanted, err);
}

static ww_status read_request(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_tones_request *r = &j->request;
    ww_status status = take_options(arguments, r, err);
    if (status == WW_OK)
        status = read_curves(arguments, "--film", &j->film, err);
    if (status == WW_OK)
        status = read_curves(arguments, "--paper", &j->paper, err);
    r->film = j->film.of, r->film_file = j->film.file, r->n_films = j->film.n;
    r->paper = j->paper.of, r->paper_file = j->paper.file, r->n_papers = j->paper.n;
    return status == WW_OK ? read_wanted(arguments, j, err) : status;
}

/* --- the run ---------------------------------------------------------------------------------- */

static ww_status check_wanted(const ww_arguments *arguments, ww_error *err) {
    static const char *const forward[] = {"--place", "--detail"};
    const char *wanted = ww__arguments_text(arguments, "--wanted");
    if (ww__arguments_has(arguments, "--slope") && (!wanted || strcmp(wanted, "straight") != 0))
        return ww_error_set(err, WW_EUSAGE,
                            "--slope plays no part without --wanted straight; leave it out");
    for (size_t i = 0; wanted && i < sizeof forward / sizeof forward[0]; i++)
        if (ww__arguments_has(arguments, forward[i]))
            return ww_error_set(err, WW_EUSAGE, "%s plays no part with --wanted; leave it out",
                                forward[i]);
    if (wanted && (ww__arguments_count(arguments, "--film") > 1 ||
                   ww__arguments_count(arguments, "--paper") > 1))
        return ww_error_set(err, WW_EUSAGE,
                            "a wanted print is worked back through one paper, and held against one "
                            "film at most; give --paper once");
    return WW_OK;
}

static ww_status choose_kind(const ww_arguments *arguments, ww_result *result, ww_error *err) {
    const char *out = ww__arguments_text(arguments, "-o");
    if (!out || !ww__forms_ends_in(out, ".csv"))
        return WW_OK;
    if (!ww__arguments_has(arguments, "--wanted"))
        return ww_error_set(err, WW_EUSAGE,
                            "only the film of a wanted print is written as a table (.csv); give a "
                            "name that ends in .json");
    result->file = csv;
    return WW_OK;
}

static ww_status check(const ww_arguments *arguments, ww_result *result, ww_error *err) {
    ww_status status;
    if (!ww__arguments_has(arguments, "--paper"))
        return ww_error_set(err, WW_EUSAGE,
                            "no --paper is given; give the curve file of a paper, as `fit` writes "
                            "it");
    if (!ww__arguments_has(arguments, "--film") && !ww__arguments_has(arguments, "--wanted"))
        return ww_error_set(err, WW_EUSAGE,
                            "no --film is given; give the curve file of a film, or --wanted with "
                            "the print that a film is looked for");
    status = check_wanted(arguments, err);
    if (status == WW_OK)
        status = ww__outputs_check(arguments, err);
    return status == WW_OK ? choose_kind(arguments, result, err) : status;
}

ww_status ww__cmd_tones(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = JOB_INIT;
    ww_result result = {.of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = check(arguments, &result, err);
    if (status == WW_OK)
        status = read_request(arguments, &j, err);
    if (status == WW_OK)
        status = ww_tones_make(&j.request, &j.tones, err);
    outcome->holds = status != WW_OK || j.tones.holds;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}
