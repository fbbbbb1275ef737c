/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include <assert.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/control.h>

enum { SHOWN = 200, LISTED = 6 };

/* The distinct names of a field of the strips, machines of one process alone; up to LISTED. */
static size_t names(const ww_control_log *log, const char *process, const char *name[LISTED]) {
    size_t n = 0;
    for (size_t i = 0; i < log->n_strips && n < LISTED; i++) {
        const ww_control_strip *strip = &log->strip[i];
        const char *one = process ? strip->machine : strip->process;
        bool new = !process || strcmp(strip->process, process) == 0;
        for (size_t k = 0; k < n; k++)
            new = new &&strcmp(name[k], one) != 0;
        if (new)
            name[n++] = one;
    }
    return n;
}

static const char *list(const char *const name[], size_t n, char text[SHOWN]) {
    size_t used = 0;
    for (size_t i = 0; i < n && used < SHOWN; i++) {
        char shown[SHOWN];
        used += (size_t)snprintf(text + used, SHOWN - used, "%s'%s'", i > 0 ? ", " : "",
                                 ww__escape_message(name[i], shown, sizeof shown));
    }
    return text;
}

ww_status ww_control_choose(const ww_control_log *log, const char **process, const char **machine,
                            ww_error *err) {
    const char *name[LISTED];
    char text[SHOWN] = "", shown[SHOWN];
    size_t n;
    assert(log && process && machine);
    if (!*process) {
        n = names(log, NULL, name);
        if (n > 1)
            return ww_error_set_at(err, WW_EUSAGE, log->file, 0,
                                   "the log has several processes, among them %s; say with "
                                   "--process which one",
                                   list(name, n, text));
        *process = n == 1 ? name[0] : "main";
    }
    if (!*machine) {
        n = names(log, *process, name);
        if (n > 1)
            return ww_error_set_at(err, WW_EUSAGE, log->file, 0,
                                   "process '%s' has several machines, among them %s; say with "
                                   "--machine which one",
                                   ww__escape_message(*process, shown, sizeof shown),
                                   list(name, n, text));
        *machine = n == 1 ? name[0] : "";
    }
    return WW_OK;
}

bool ww_control_reference_last(const ww_control_log *log, const char *process, const char *machine,
                               size_t *reference) {
    for (size_t i = log->n_strips; i > 0; i--) {
        const ww_control_strip *strip = &log->strip[i - 1];
        if (!strip->deleted && strcmp(strip->process, process) == 0 &&
            strcmp(strip->machine, machine) == 0) {
            *reference = strip->reference;
            return true;
        }
    }
    return false;
}
