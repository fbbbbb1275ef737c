/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_CLI_CONTROL_GATE_H
#define WEDGEWORK_CLI_CONTROL_GATE_H

#include "cli/forms.h"
#include "cli/options.h"
#include <wedgework/notes.h>
#include <wedgework/quantity.h>

/* What a control log says to a plan: whether the process may be trusted at all, and how well it
 * repeats. Begin with { .out = false }. */
typedef struct ww__control_gate {
    bool out;       /* of control */
    ww_notes first; /* to be said before any advice */
    ww_notes notes;
} ww__control_gate;

/* The rows of a plan's options that it is asked by. */
/* clang-format off */
#define WW__CONTROL_GATE_OPTIONS                                                                   \
    {.name = "--control",                                                                          \
     .value = "LOG.db",                                                                            \
     .brief = "the control log of the process: where it is out of control that is said first, "    \
              "and how well it repeats enters the doubt, unless --repeatability is given",         \
     .kind = WW_OPTION_INPUT},                                                                     \
    {.name = "--process",                                                                          \
     .value = "NAME",                                                                              \
     .brief = "which process of that log, where it has several",                                   \
     .kind = WW_OPTION_TEXT,                                                                       \
     .check = ww__forms_name_check},                                                               \
    {.name = "--machine",                                                                          \
     .value = "NAME",                                                                              \
     .brief = "which machine of that process, where it has several",                               \
     .kind = WW_OPTION_TEXT,                                                                       \
     .check = ww__forms_name_check}
/* clang-format on */

/*
 * ww__control_gate_take - the log of --control, if any.
 *
 * Given     colour          whether the plan is of red, green and blue
 * Returned  *repeatability  the process's, unless --repeatability is given, which then stands
 *           *gate           (release it)
 * Status    WW_OK; as ww_control_log_read, ww_control_choose, ww_control_judge
 */
ww_status ww__control_gate_take(const ww_arguments *arguments, bool colour,
                                ww_optional *repeatability, ww__control_gate *gate, ww_error *err);

/* ww__control_gate_tell - puts into a plan what is to be said. Status WW_OK; WW_EMEMORY */
ww_status ww__control_gate_tell(const ww__control_gate *gate, ww_notes *first, ww_notes *notes,
                                ww_error *err);

void ww__control_gate_release(ww__control_gate *gate);

#endif
