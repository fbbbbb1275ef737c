/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/control_gate.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/control.h>
#include <wedgework/control_log_file.h>
#include <wedgework/control_text.h>

void ww__control_gate_release(ww__control_gate *gate) {
    ww_notes_release(&gate->first);
    ww_notes_release(&gate->notes);
}

ww_status ww__control_gate_tell(const ww__control_gate *gate, ww_notes *first, ww_notes *notes,
                                ww_error *err) {
    const ww_status status = ww_notes_copy(&gate->first, first, err);
    return status == WW_OK ? ww_notes_copy(&gate->notes, notes, err) : status;
}

static ww_status say_state(const ww_control *control, ww__control_gate *gate, ww_error *err) {
    char *sentence = NULL;
    ww_status status = ww_control_sentence(control, &sentence, err);
    gate->out = control->state == WW_CONTROL_OUT;
    if (status == WW_OK && gate->out)
        status = ww_notes_add(&gate->first, err,
                              "The process comes first. %s As if it were in control, what follows "
                              "would be:",
                              sentence);
    else if (status == WW_OK)
        status = ww_notes_add(&gate->notes, err, "The control log: %s", sentence);
    free(sentence);
    return status;
}

static ww_status say_repeatability(const ww_arguments *arguments, const ww_control *control,
                                   bool colour, ww_optional *repeatability, ww__control_gate *gate,
                                   ww_error *err) {
    const ww_control_chart *measure = NULL;
    double sd = 0.0;
    ww_error why = WW_ERROR_INIT;
    const bool given = ww__arguments_has(arguments, "--repeatability");
    const ww_status status = ww_control_repeatability(control, colour, &sd, &measure, &why);
    if (status != WW_OK && status != WW_ENODATA) {
        *err = why;
        return status;
    }
    if (status == WW_ENODATA)
        return ww_notes_add(&gate->notes, err,
                            "How well the process repeats is not taken from the control log: %s.",
                            why.msg);
    if (given)
        return ww_notes_add(&gate->notes, err,
                            "The control log's own repeatability, %.3f D (1 sd, %s %s), gives way "
                            "to --repeatability.",
                            sd, measure->measure, ww_control_channel_name(measure));
    *repeatability = (ww_optional){true, sd};
    return ww_notes_add(&gate->notes, err,
                        "The process repeats to %.3f D (1 sd) by its control log (%s %s), which is "
                        "in the doubt.",
                        sd, measure->measure, ww_control_channel_name(measure));
}

static ww_status judge(const ww_arguments *arguments, const ww_control_log *log,
                       ww_control *control, ww_error *err) {
    ww_control_request request = {.process = ww__arguments_text(arguments, "--process"),
                                  .machine = ww__arguments_text(arguments, "--machine")};
    ww_status status = ww_control_choose(log, &request.process, &request.machine, err);
    if (status == WW_OK)
        status = ww_control_judge(log, &request, control, err);
    if (status == WW_OK && !control->any)
        status = ww_error_set_at(err, WW_EINPUT, log->file, 0,
                                 "no strip of this process counts in the control log; `control "
                                 "list` shows what is there");
    return status;
}

ww_status ww__control_gate_take(const ww_arguments *arguments, bool colour,
                                ww_optional *repeatability, ww__control_gate *gate, ww_error *err) {
    const char *path = ww__arguments_text(arguments, "--control");
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = WW_CONTROL_INIT;
    ww_status status;
    if (!path &&
        (ww__arguments_has(arguments, "--process") || ww__arguments_has(arguments, "--machine")))
        return ww_error_set(err, WW_EUSAGE,
                            "--process and --machine are of a control log; give --control LOG.db");
    if (!path)
        return WW_OK;
    if (strcmp(path, "-") == 0)
        return ww_error_set(err, WW_EUSAGE,
                            "a control log is a file; give --control its name in place of -");
    status = ww_control_log_read(path, &log, err);
    if (status == WW_OK)
        status = judge(arguments, &log, &control, err);
    if (status == WW_OK)
        status = say_state(&control, gate, err);
    if (status == WW_OK)
        status = say_repeatability(arguments, &control, colour, repeatability, gate, err);
    ww_control_release(&control);
    ww_control_log_release(&log);
    return status;
}
