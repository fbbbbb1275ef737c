/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include "cli/outputs.h"
#include <string.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/readings_file.h>
#include <wedgework/strip.h>
#include <wedgework/strip_file.h>
#include <wedgework/strip_text.h>

/* All that one run owns. */
typedef struct job {
    ww_readings readings;
    bool read; /* the strip comes of readings */
    ww_strip strip;
} job;

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    return ww_strip_file_text(&j->strip, text, n, err);
}

/* A plan can be written as the table that its densities will go into, too. */
static ww_status form(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    ww_readings table = WW_READINGS_INIT;
    ww_status status = ww_strip_form(&j->strip.series, &table, err);
    if (status == WW_OK)
        status = ww_readings_file_text(&table, text, n, err);
    ww_readings_release(&table);
    return status;
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    const job *j = of;
    return ww_strip_text(&j->strip, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_strip(&j->strip, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_strip(&j->strip, j->read ? &j->readings : NULL, path, no_plot, err);
}

static double number_or(const ww_arguments *arguments, const char *name, double otherwise) {
    const ww_optional given = ww__arguments_number(arguments, name);
    return given.set ? given.value : otherwise;
}

static ww_status plan(const ww_arguments *arguments, double timer_step_s, job *j, ww_error *err) {
    const char *given = ww__arguments_text(arguments, "--step");
    const ww_optional centre = ww__arguments_number(arguments, "--centre");
    double step = 1.0 / 3.0;
    ww_status status = given ? ww__forms_stops(given, &step, err) : WW_OK;
    if (status == WW_OK && !centre.set)
        return ww_error_set(err, WW_EUSAGE,
                            "strip plan needs a time to begin with; give --centre S, your best "
                            "guess in seconds");
    if (status == WW_OK)
        status = ww_strip_plan(centre.value, step, (size_t)number_or(arguments, "--count", 7.0),
                               timer_step_s, &j->strip, err);
    /* What cannot be planned was asked for on the command line. */
    return status == WW_EDOMAIN ? (err->code = WW_EUSAGE) : status;
}

static ww_status read_strip(const ww_arguments *arguments, double timer_step_s, job *j,
                            ww_error *err) {
    const char *verb = arguments->verb->name;
    const ww_optional aim = ww__arguments_number(arguments, "--aim");
    ww_status status;
    if (strcmp(verb, "read") == 0 && !aim.set)
        return ww_error_set(err, WW_EUSAGE,
                            "strip read needs the density to look for; give --aim DENSITY, above "
                            "paper white");
    status = ww_readings_file_read(arguments->file[0], &j->readings, err);
    j->read = true;
    if (status != WW_OK)
        return status;
    if (strcmp(verb, "read") == 0)
        return ww_strip_read(&j->readings, aim.value, timer_step_s, &j->strip, err);
    if (strcmp(verb, "proof") == 0)
        return ww_strip_proof(&j->readings, timer_step_s, &j->strip, err);
    return ww_strip_safelight(&j->readings, &j->strip, err);
}

ww_status ww__cmd_strip(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = {.readings = WW_READINGS_INIT, .strip = WW_STRIP_INIT};
    const double timer_step_s = number_or(arguments, "--timer-step", 0.1);
    const bool plans = strcmp(arguments->verb->name, "plan") == 0;
    const char *file = ww__arguments_text(arguments, "-o");
    const ww_result result = {.of = &j,
                              .file =
                                  plans && file && ww__forms_ends_in(file, ".csv") ? form : NULL,
                              .timer_step_s = timer_step_s,
                              .document = document,
                              .text = text,
                              .plot = plot,
                              .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = plans ? plan(arguments, timer_step_s, &j, err)
                       : read_strip(arguments, timer_step_s, &j, err);
    outcome->holds = status != WW_OK || j.strip.holds;
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    ww_strip_release(&j.strip);
    ww_readings_release(&j.readings);
    return status;
}
