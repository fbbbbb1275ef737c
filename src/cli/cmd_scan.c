/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/outputs.h"
#include "cli/scan_made.h"
#include <stdio.h>
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
    ww_status status =
        ww_scanner_file_read(ww__arguments_text(arguments, "--scanner"), &j->scanner, err);
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

typedef struct task {
    const char *option;      /* that asks for it; NULL: a plan, which none does */
    const char *what, *form; /* the act, and operands with what goes with them: for messages */
    size_t files;
    const char *surplus;         /* what to do with a file too many */
    const char *const *needless; /* options that say nothing to it, NULL at the end */
    bool scanner;                /* without a scanner file it cannot be done */
    ww_status (*run)(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err);
} task;

static const char *const not_of_plans[] = {"--page", NULL};
static const char *const not_of_scans[] = {"--keep", "--separate", NULL};

enum { TASKS = 3 };
static const task tasks[TASKS] = {
    {NULL, "a plan", "NEG.csv --scanner S.json", 1, "plan for one negative at a time", not_of_plans,
     true, plan},
    {"--merge", "merging", "--merge A.tif B.tif -o OUT.tif", 2, "merge two scans at a time",
     not_of_scans, false, ww__scan_made_merge},
    {"--densities", "densities", "--densities IN.tif --scanner S.json -o OUT.tif", 1,
     "make densities of one scan at a time", not_of_scans, true, ww__scan_made_densities},
};

/* "scan", "scan --merge" */
static const char *name_of(const task *t, char name[32]) {
    snprintf(name, 32, "scan%s%s", t->option ? " " : "", t->option ? t->option : "");
    return name;
}

static ww_status check_files(const ww_arguments *arguments, const task *t, ww_error *err) {
    char name[32], shown[200];
    if (arguments->n_files < t->files)
        return ww_error_set(err, WW_EUSAGE, "%s needs %s; write wedgework scan %s",
                            name_of(t, name), t->files == 2 ? "two scans" : "a file", t->form);
    if (arguments->n_files > t->files)
        return ww_error_set(err, WW_EUSAGE, "'%s' is one too many for %s; %s",
                            ww__escape_message(arguments->file[t->files], shown, sizeof shown),
                            name_of(t, name), t->surplus);
    return WW_OK;
}

static ww_status check_options(const ww_arguments *arguments, const task *t, ww_error *err) {
    for (const char *const *option = t->needless; *option; option++)
        if (ww__arguments_has(arguments, *option))
            return ww_error_set(err, WW_EUSAGE, "%s plays no part in %s; leave it out", *option,
                                t->what);
    if (t->scanner && !ww__arguments_has(arguments, "--scanner"))
        return ww_error_set(err, WW_EUSAGE,
                            "no --scanner is given; give the scanner file that `scanner -o` wrote");
    return WW_OK;
}

ww_status ww__cmd_scan(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    const task *t = &tasks[0];
    for (size_t i = 1; i < TASKS; i++) {
        if (!ww__arguments_has(arguments, tasks[i].option))
            continue;
        if (t->option)
            return ww_error_set(err, WW_EUSAGE, "%s and %s are two tasks; give one of them",
                                t->option, tasks[i].option);
        t = &tasks[i];
    }
    ww_status status = check_files(arguments, t, err);
    if (status == WW_OK)
        status = check_options(arguments, t, err);
    return status == WW_OK ? t->run(arguments, outcome, err) : status;
}
