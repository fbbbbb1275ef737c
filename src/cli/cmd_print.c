/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/control_gate.h"
#include "cli/inputs.h"
#include "cli/outputs.h"
#include "cli/print_again.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/print.h>
#include <wedgework/print_recipe.h>
#include <wedgework/print_text.h>
#include <wedgework/readings_file.h>

/* All that one run owns. The request points into the rest. */
typedef struct job {
    ww_readings negative;
    ww_readings flash, split;
    ww_curve *curve;
    size_t n_curves;
    const ww_curve **paper;
    const char **paper_file;
    ww_print_place *place;
    char **tone; /* of the places, then of the test */
    size_t n_tones;
    ww_print_request request;
    ww_print_plan plan;
    ww__print_again again;
    ww__control_gate gate;
} job;

#define JOB_INIT                                                                                   \
    {                                                                                              \
        .negative = WW_READINGS_INIT, .flash = WW_READINGS_INIT, .split = WW_READINGS_INIT,        \
        .request = WW_PRINT_REQUEST_INIT, .plan = WW_PRINT_PLAN_INIT,                              \
        .again = WW__PRINT_AGAIN_INIT                                                              \
    }

static void release(job *j) {
    ww_print_plan_release(&j->plan);
    for (size_t i = 0; i < j->n_curves; i++)
        ww_curve_release(&j->curve[i]);
    for (size_t i = 0; i < j->n_tones; i++)
        free(j->tone[i]);
    free(j->curve);
    free(j->paper);
    free(j->paper_file);
    free(j->place);
    free(j->tone);
    ww_readings_release(&j->negative);
    ww_readings_release(&j->flash);
    ww_readings_release(&j->split);
    ww__control_gate_release(&j->gate);
    ww__print_again_release(&j->again);
}

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    return ww_print_recipe_text(&j->plan, &j->request, text, n, err);
}

static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    return ww_print_text(&((const job *)of)->plan, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_print(&j->plan, j->request.paper, j->request.n_papers, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_print(&j->plan, &j->request, path, no_plot, err);
}

/* --- options -------------------------------------------------------------------------------- */

static ww_status no_memory(ww_error *err) {
    return ww_error_set(err, WW_EMEMORY, "no memory for the command line");
}

static const char *example(const char *option) {
    return strcmp(option, "--test") == 0 ? "--test 12:cloud=0.20" : "--place cloud=0.10";
}

/* "TONE=DENSITY"; a tone's own name may hold a '='. */
static ww_status take_place(job *j, const char *option, const char *given, ww_print_place *place,
                            ww_error *err) {
    const char *mark = strrchr(given, '=');
    ww_error why = WW_ERROR_INIT;
    char shown[200], *tone;
    if (!mark || mark == given)
        return ww_error_set(err, WW_EUSAGE, "%s: '%s' is not TONE=DENSITY; write for instance %s",
                            option, ww__escape_message(given, shown, sizeof shown),
                            example(option));
    if (ww_number_parse(mark + 1, '.', &place->aim, &why) != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "%s: %s; write for instance %s", option, why.msg,
                            example(option));
    tone = strndup(given, (size_t)(mark - given));
    if (!tone)
        return no_memory(err);
    j->tone[j->n_tones++] = tone;
    place->tone = tone;
    return WW_OK;
}

static ww_status take_places(const ww_arguments *arguments, job *j, ww_error *err) {
    const size_t n = ww__arguments_count(arguments, "--place");
    j->place = calloc(n + 1, sizeof *j->place);
    j->tone = calloc(n + WW_PRINT_TESTS_MOST, sizeof *j->tone);
    if (!j->place || !j->tone)
        return no_memory(err);
    for (size_t i = 0; i < n; i++) {
        const char *given = ww__arguments_text_at(arguments, "--place", i);
        const ww_status status = take_place(j, "--place", given, &j->place[i], err);
        if (status != WW_OK)
            return status;
        for (size_t k = 0; k < i; k++)
            if (strcmp(j->place[k].tone, j->place[i].tone) == 0)
                return ww_error_set(err, WW_EUSAGE, "--place: '%s' is placed twice; place it once",
                                    j->place[i].tone);
    }
    if (n > 0) {
        j->request.place = j->place;
        j->request.n_places = n;
    }
    return WW_OK;
}

/* "SECONDS:TONE=DENSITY" */
static ww_status take_test(job *j, const char *given, ww_print_test *test, ww_error *err) {
    const char *mark = strchr(given, ':');
    ww_error why = WW_ERROR_INIT;
    char shown[200], *seconds;
    ww_print_place place;
    ww_status status;
    if (!mark)
        return ww_error_set(err, WW_EUSAGE,
                            "--test: '%s' is not SECONDS:TONE=DENSITY; write for instance %s",
                            ww__escape_message(given, shown, sizeof shown), example("--test"));
    seconds = strndup(given, (size_t)(mark - given));
    if (!seconds)
        return no_memory(err);
    status = ww_number_parse(seconds, '.', &test->time_s, &why);
    free(seconds);
    if (status != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "--test: %s; write for instance %s", why.msg,
                            example("--test"));
    if (!(test->time_s >= WW_PRINT_TEST_LEAST && test->time_s <= WW_PRINT_TEST_MOST))
        return ww_error_set(err, WW_EUSAGE,
                            "--test: the time of '%s' is not within 0.01 to 100000 s; give the "
                            "seconds that the test print had",
                            ww__escape_message(given, shown, sizeof shown));
    status = take_place(j, "--test", mark + 1, &place, err);
    test->tone = place.tone, test->density = place.aim;
    return status;
}

static ww_status take_tests(const ww_arguments *arguments, job *j, ww_error *err) {
    const size_t n = ww__arguments_count(arguments, "--test");
    ww_status status = WW_OK;
    if (n > WW_PRINT_TESTS_MOST)
        return ww_error_set(err, WW_EUSAGE,
                            "--test is given %zu times; give one test print, or two on either side "
                            "of the aim",
                            n);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        status =
            take_test(j, ww__arguments_text_at(arguments, "--test", i), &j->request.test[i], err);
        j->request.n_tests = i + 1;
    }
    return status;
}

static void take_optional(const ww_arguments *arguments, const char *name, ww_optional *number) {
    const ww_optional given = ww__arguments_number(arguments, name);
    if (given.set)
        *number = given;
}

static void take_number(const ww_arguments *arguments, const char *name, double *number) {
    const ww_optional given = ww__arguments_number(arguments, name);
    if (given.set)
        *number = given.value;
}

static const char *const scale[] = {"--from-scale", "--scale"};
static const char *const aperture[] = {"--from-aperture", "--aperture"};

static ww_status take_options(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_print_request *request = &j->request;
    ww_status status = ww__print_again_pair(arguments, &j->again, scale, &request->from_scale,
                                            &request->scale, err);
    if (status == WW_OK)
        status = ww__print_again_pair(arguments, &j->again, aperture, &request->from_aperture,
                                      &request->aperture, err);
    if (status == WW_OK)
        status = take_places(arguments, j, err);
    if (status == WW_OK)
        status = take_tests(arguments, j, err);
    take_optional(arguments, "--repeatability", &request->repeatability);
    take_optional(arguments, "--reciprocity", &request->reciprocity);
    take_number(arguments, "--callier", &request->callier);
    take_number(arguments, "--enlarger-flare", &request->enlarger_flare);
    take_number(arguments, "--dry-down", &request->dry_down_percent);
    take_number(arguments, "--timer-step", &request->timer_step_s);
    return status;
}

/* --- the run -------------------------------------------------------------------------------- */

static ww_status read_papers(const ww_arguments *arguments, job *j, ww_error *err) {
    const size_t n = ww__arguments_count(arguments, "--paper");
    j->curve = calloc(n + 1, sizeof *j->curve);
    j->paper = calloc(n + 1, sizeof *j->paper);
    j->paper_file = calloc(n + 1, sizeof *j->paper_file);
    if (!j->curve || !j->paper || !j->paper_file)
        return no_memory(err);
    if (n == 0)
        return WW_OK; /* a recipe's, or nominal ones */
    j->request.paper = j->paper;
    j->request.paper_file = j->paper_file;
    for (size_t i = 0; i < n; i++) {
        const char *path = ww__arguments_text_at(arguments, "--paper", i);
        ww_status status;
        j->curve[i] = (ww_curve)WW_CURVE_INIT;
        status = ww__inputs_curve(path, &j->curve[i], err);
        if (status != WW_OK)
            return status;
        j->paper[i] = &j->curve[i];
        j->paper_file[i] = strcmp(path, "-") == 0 ? "standard input" : path;
        j->request.n_papers = j->n_curves = i + 1;
    }
    return WW_OK;
}

/* What the readers of tables found worth saying; the negative's goes with its readings. */
static ww_status tell_tables(const job *j, ww_print_plan *plan, ww_error *err) {
    ww_status status =
        ww_notes_copy_of(&j->flash.notes, "Readings of the flash", &plan->notes, err);
    if (status == WW_OK)
        status = ww_notes_copy_of(&j->split.notes, "Readings of the split", &plan->notes, err);
    return status;
}

/* A table where it is given; else a recipe's stands. */
static ww_status read_table(const ww_arguments *arguments, const char *option, ww_readings *table,
                            const ww_readings **given, ww_error *err) {
    const char *path = ww__arguments_text(arguments, option);
    const ww_status status = path ? ww_readings_file_read(path, table, err) : WW_OK;
    if (path && status == WW_OK)
        *given = table;
    return status;
}

static ww_status read_negative(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_status status;
    if (arguments->n_files == 0)
        return WW_OK;
    status = ww_readings_file_read(arguments->file[0], &j->negative, err);
    j->request.negative = &j->negative;
    return status;
}

/* What is asked for: a recipe's request, what the command line overrides, and what a print taught.
 */
static ww_status read_request(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_status status = ww__print_again_read(arguments, &j->again, &j->request, err);
    if (status == WW_OK)
        status = take_options(arguments, j, err);
    if (status == WW_OK)
        status = read_negative(arguments, j, err);
    if (status == WW_OK)
        status = read_papers(arguments, j, err);
    if (status == WW_OK)
        status = read_table(arguments, "--flash", &j->flash, &j->request.flash, err);
    if (status == WW_OK)
        status = read_table(arguments, "--split", &j->split, &j->request.split, err);
    if (status == WW_OK)
        status = ww__print_again_places(arguments, &j->again, &j->request, err);
    if (status == WW_OK)
        status = ww__print_again_tests(arguments, &j->again, &j->request, err);
    return status == WW_OK ? ww__print_again_learn(arguments, &j->again, &j->request, err) : status;
}

ww_status ww__cmd_print(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    job j = JOB_INIT;
    ww_result result = {.of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = ww__outputs_check(arguments, err);
    if (status == WW_OK)
        status = read_request(arguments, &j, err);
    result.timer_step_s = j.request.timer_step_s;
    if (status == WW_OK)
        status = ww__control_gate_take(arguments, false, &j.request.repeatability, &j.gate, err);
    if (status == WW_OK)
        status = ww_print_plan_make(&j.request, &j.plan, err);
    if (status == WW_OK)
        status = ww__control_gate_tell(&j.gate, &j.plan.first, &j.plan.notes, err);
    if (status == WW_OK)
        status = ww__print_again_tell(&j.again, &j.plan, err);
    if (status == WW_OK)
        status = tell_tables(&j, &j.plan, err);
    outcome->holds = status != WW_OK || (j.plan.holds && !j.gate.out);
    if (status == WW_OK)
        status = ww__outputs_deliver(arguments, &result, err);
    release(&j);
    return status;
}
