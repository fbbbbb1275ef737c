/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "cli/commands.h"
#include "cli/control_add.h"
#include "cli/outputs.h"
#include <string.h>
#include <wedgework/control_file.h>
#include <wedgework/control_log_file.h>
#include <wedgework/control_table.h>
#include <wedgework/control_text.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>

/* All that one run owns. */
typedef struct job {
    ww_control_log log;
    ww_control control;
    bool exports; /* the log as a table */
    bool to_file; /* which goes to a file */
} job;

static ww_status document(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    return ww_control_file_text(&j->control, text, n, err);
}

static ww_status table(const void *of, char **text, size_t *n, ww_error *err) {
    const job *j = of;
    return ww_control_table_text(&j->log, text, n, err);
}

/* A table that goes to no file is what is printed. */
static ww_status text(const void *of, const ww_text_style *style, char **made, ww_error *err) {
    const job *j = of;
    size_t n;
    if (j->exports && !j->to_file)
        return table(of, made, &n, err);
    return ww_control_text(&j->control, style, made, err);
}

static ww_status plot(const void *of, const char *path, ww_error *err) {
    const job *j = of;
    return ww_plot_control(&j->control, path, err);
}

static ww_status page(const void *of, const char *path, ww_error *no_plot, ww_error *err) {
    const job *j = of;
    return ww_page_control(&j->control, path, no_plot, err);
}

/* --- what the acts need ---------------------------------------------------------------------- */

static ww_status check(const ww_arguments *arguments, ww_error *err) {
    const char *log = ww__arguments_text(arguments, "--log");
    const char *verb = arguments->verb->name;
    if (!log)
        return ww_error_set(err, WW_EUSAGE, "control %s needs a log; give --log FILE.db%s", verb,
                            strcmp(verb, "add") == 0 ? ", which is made where it is not there"
                                                     : "");
    if (strcmp(log, "-") == 0)
        return ww_error_set(err, WW_EUSAGE,
                            "a control log is kept in a file; give --log a name in place of -");
    return ww__outputs_check(arguments, err);
}

static ww_status need(const ww_arguments *arguments, const char *option, const char *what,
                      ww_error *err) {
    return ww__arguments_has(arguments, option)
               ? WW_OK
               : ww_error_set(err, WW_EUSAGE, "control %s needs %s; give %s", arguments->verb->name,
                              what, option);
}

static ww_control_slow_kind slow_of(const ww_arguments *arguments) {
    const char *word = ww__arguments_text(arguments, "--slow");
    for (int i = WW_CONTROL_SLOW_EWMA; word && i <= WW_CONTROL_SLOW_CUSUM; i++)
        if (strcmp(word, ww_control_slow_name((ww_control_slow_kind)i)) == 0)
            return (ww_control_slow_kind)i;
    return WW_CONTROL_SLOW_NONE;
}

static size_t whole(const ww_arguments *arguments, const char *option) {
    const ww_optional given = ww__arguments_number(arguments, option);
    return given.set ? (size_t)given.value : 0;
}

static ww_control_request request_of(const ww_arguments *arguments) {
    return (ww_control_request){.process = ww__arguments_text(arguments, "--process"),
                                .machine = ww__arguments_text(arguments, "--machine"),
                                .slow = slow_of(arguments),
                                .deleted = ww__arguments_has(arguments, "--deleted")};
}

/* A name that no strip has would show nothing, and not say why. */
static ww_status check_found(const job *j, const ww_control_request *request, ww_error *err) {
    char shown[200];
    if (j->control.n > 0 || (!request->process && !request->machine))
        return WW_OK;
    return ww_error_set_at(
        err, WW_EINPUT, j->log.file, 0,
        "no strip in this log is of %s '%s'; `control list` shows what is there",
        request->process ? "process" : "machine",
        ww__escape_message(request->process ? request->process : request->machine, shown,
                           sizeof shown));
}

/* Reads the log as it now is, and judges. */
static ww_status look(const ww_arguments *arguments, const ww_control_request *request, job *j,
                      ww_error *err) {
    ww_status status = ww_control_log_read(ww__arguments_text(arguments, "--log"), &j->log, err);
    if (status == WW_OK)
        status = ww_control_judge(&j->log, request, &j->control, err);
    return status == WW_OK ? check_found(j, request, err) : status;
}

/* --- the acts -------------------------------------------------------------------------------- */

static ww_status act_add(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_control_request request = request_of(arguments);
    ww__control_added added = WW__CONTROL_ADDED_INIT;
    ww_status status = ww__control_add(arguments, &added, err);
    request.process = added.process;
    request.machine = added.machine;
    request.strip = added.number;
    request.view = WW_CONTROL_VIEW_STRIP;
    if (status == WW_OK)
        status = look(arguments, &request, j, err);
    if (status == WW_OK)
        status = ww_notes_copy(&added.notes, &j->control.notes, err);
    ww__control_added_release(&added);
    return status;
}

static ww_status act_list(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_control_request request = request_of(arguments);
    request.view = WW_CONTROL_VIEW_LIST;
    request.baseline = whole(arguments, "--baseline");
    return look(arguments, &request, j, err);
}

static ww_status act_chart(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_control_request request = request_of(arguments);
    ww_status status = ww_control_log_read(ww__arguments_text(arguments, "--log"), &j->log, err);
    request.view = WW_CONTROL_VIEW_CHART;
    request.baseline = whole(arguments, "--baseline");
    request.strip = (long)whole(arguments, "--strip");
    if (status == WW_OK)
        status = ww_control_choose(&j->log, &request.process, &request.machine, err);
    if (status == WW_OK)
        status = ww_control_judge(&j->log, &request, &j->control, err);
    return status == WW_OK && j->log.n_strips > 0 ? check_found(j, &request, err) : status;
}

/* What was entered is shown at the end of the list. */
static ww_status show(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_control_request request = {.view = WW_CONTROL_VIEW_LIST, .deleted = true};
    return look(arguments, &request, j, err);
}

static ww_status act_note(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_status status = need(arguments, "--text", "what to write down", err);
    if (status == WW_OK)
        status = ww__control_note(arguments, err);
    return status == WW_OK ? show(arguments, j, err) : status;
}

static ww_status act_delete(const ww_arguments *arguments, job *j, ww_error *err) {
    ww__control_times now = ww__control_now();
    ww_status status = need(arguments, "--strip", "the number of a strip", err);
    if (status == WW_OK)
        status = need(arguments, "--why", "the reason, which stays in the log", err);
    if (status == WW_OK)
        status = ww_control_log_delete(ww__arguments_text(arguments, "--log"),
                                       (long)whole(arguments, "--strip"),
                                       ww__arguments_text(arguments, "--why"), now.entered, err);
    return status == WW_OK ? show(arguments, j, err) : status;
}

static ww_status act_baseline(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_control_request request = request_of(arguments);
    ww_status status = ww__control_baseline(arguments, err);
    request.view = WW_CONTROL_VIEW_CHART;
    if (status == WW_OK)
        status = ww_control_log_read(ww__arguments_text(arguments, "--log"), &j->log, err);
    if (status == WW_OK)
        status = ww_control_choose(&j->log, &request.process, &request.machine, err);
    return status == WW_OK ? ww_control_judge(&j->log, &request, &j->control, err) : status;
}

static ww_status act_export(const ww_arguments *arguments, job *j, ww_error *err) {
    const ww_control_request request = {.view = WW_CONTROL_VIEW_LIST, .deleted = true};
    j->exports = true;
    j->to_file = ww__arguments_has(arguments, "-o");
    return look(arguments, &request, j, err);
}

static ww_status act_import(const ww_arguments *arguments, job *j, ww_error *err) {
    ww_control_log from = WW_CONTROL_LOG_INIT;
    size_t added = 0, known = 0;
    ww_status status = ww_control_table_read(arguments->file[0], &from, err);
    if (status == WW_OK)
        status = ww_control_log_import(ww__arguments_text(arguments, "--log"), &from, &added,
                                       &known, err);
    ww_control_log_release(&from);
    if (status == WW_OK)
        status = show(arguments, j, err);
    return status == WW_OK
               ? ww_notes_add(&j->control.notes, err,
                              "Entered: %zu strips; %zu were in the log already.", added, known)
               : status;
}

/* What was written stays written, whatever comes after: it says so. */
static ww_status say_written(const ww_arguments *arguments, ww_status status, ww_error *err) {
    ww_error told = *err;
    if (status == WW_OK || status == WW_ETOOL || status == WW_ENODATA)
        return status;
    ww_error_set_at(err, told.code, told.file, told.line,
                    "%s. The log has been written all the same: do not repeat `control %s`",
                    told.msg, arguments->verb->name);
    err->sys = told.sys;
    return status;
}

ww_status ww__cmd_control(const ww_arguments *arguments, ww_outcome *outcome, ww_error *err) {
    static const struct {
        const char *verb;
        ww_status (*act)(const ww_arguments *arguments, job *j, ww_error *err);
        bool writes; /* the log */
        bool judges; /* the exit status is the process's */
    } acts[] = {{"add", act_add, true, true},        {"list", act_list, false, true},
                {"chart", act_chart, false, true},   {"baseline", act_baseline, true, true},
                {"note", act_note, true, false},     {"export", act_export, false, false},
                {"import", act_import, true, false}, {"delete", act_delete, true, false}};
    job j = {.log = WW_CONTROL_LOG_INIT, .control = WW_CONTROL_INIT};
    ww_result result = {.of = &j, .document = document, .text = text, .plot = plot, .page = page};
    ww_status status = check(arguments, err);
    size_t i = 0;
    while (strcmp(acts[i].verb, arguments->verb->name) != 0)
        i++;
    if (status == WW_OK)
        status = acts[i].act(arguments, &j, err);
    result.file = j.exports ? table : NULL;
    outcome->holds = !acts[i].judges || j.control.state != WW_CONTROL_OUT;
    if (status == WW_OK) {
        status = ww__outputs_deliver(arguments, &result, err);
        if (acts[i].writes)
            status = say_written(arguments, status, err);
    }
    ww_control_release(&j.control);
    ww_control_log_release(&j.log);
    return status;
}
