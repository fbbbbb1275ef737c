/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include <stdint.h>
#include <wedgework/control.h>

static const char *slow_word(size_t i) {
    return i < WW_CONTROL_SLOW_CUSUM ? ww_control_slow_name((ww_control_slow_kind)(i + 1)) : NULL;
}

const ww_option ww__control_options[] = {
    {.name = "--log",
     .value = "FILE.db",
     .brief = "the control log, one file; `control add` begins it; needed",
     .kind = WW_OPTION_INPUT},
    {.name = "--reference",
     .value = "REF.csv",
     .brief = "the readings of the reference strip that came with the strips, with what is to be "
              "added to make the aim in correction_visual, or correction_red, correction_green, "
              "correction_blue (otherwise the reference used last)",
     .kind = WW_OPTION_INPUT},
    {.name = "--limits",
     .value = "LIMITS.csv",
     .brief = "your own limits, with the columns measure, channel, action and control, as "
              "deviations from the aim; they hold for the process from then on",
     .kind = WW_OPTION_INPUT},
    {.name = "--process",
     .value = "NAME",
     .brief = "which process (otherwise the only one in the log, or main)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_name_check},
    {.name = "--machine",
     .value = "NAME",
     .brief = "which machine or tank, where a process has several",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_name_check},
    {.name = "--lot",
     .value = "NAME",
     .brief = "the strip's lot (otherwise as its readings say, or as its reference)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_name_check},
    {.name = "--date",
     .value = "DATE",
     .brief = "when the strip was processed, as 2026-11-30 or 2026-11-30T08:15 (otherwise as its "
              "readings say, or today)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_date_check},
    {.name = "--baseline",
     .value = "N",
     .brief = "strips that limits are made of (otherwise 10)",
     .kind = WW_OPTION_WHOLE,
     .limits = {WW_CONTROL_BASELINE_LEAST, WW_CONTROL_BASELINE_MOST, false}},
    {.name = "--slow",
     .value = "KIND",
     .brief = "look for slow drift too: ewma, a weighted mean, or cusum, a sum of deviations; from "
              "the baseline on",
     .kind = WW_OPTION_WORD,
     .word = slow_word},
    {.name = "--strip",
     .value = "N",
     .brief = "the strip's number in the log",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, INT32_MAX, false}},
    {.name = "--text",
     .value = "TEXT",
     .brief = "what was done or seen; needed",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_name_check},
    {.name = "--why",
     .value = "TEXT",
     .brief = "why; to take a strip out it is needed",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_name_check},
    {.name = "--deleted",
     .brief = "show the strips that were taken out, too, and why",
     .kind = WW_OPTION_SWITCH},
    {.name = "-o",
     .value = "FILE",
     .brief = "write the result, as --json prints it; of export the table; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};

static const char *const add_options[] = {"--log",     "--reference", "--limits", "--process",
                                          "--machine", "--lot",       "--date",   "--baseline",
                                          "--slow",    "-o",          NULL};
static const char *const list_options[] = {"--log",      "--process", "--machine", "--deleted",
                                           "--baseline", "--slow",    "-o",        NULL};
static const char *const chart_options[] = {
    "--log", "--process", "--machine", "--strip", "--deleted", "--slow", "--baseline", "-o", NULL};
static const char *const baseline_options[] = {"--log", "--process", "--machine", "--baseline",
                                               "--why", "--slow",    "-o",        NULL};
static const char *const note_options[] = {"--log",     "--text", "--strip", "--process",
                                           "--machine", "--date", "-o",      NULL};
static const char *const export_options[] = {"--log", "-o", NULL};
static const char *const import_options[] = {"--log", "-o", NULL};
static const char *const delete_options[] = {"--log", "--strip", "--why", "-o", NULL};

const ww_verb ww__control_verbs[] = {
    {"add", "STRIP.csv", "enter a strip, and judge it", 1, add_options},
    {"list", "", "all strips, and where each process stands", 0, list_options},
    {"chart", "", "one process: its measures, limits and strips, to be drawn with --plot", 0,
     chart_options},
    {"baseline", "",
     "make the limits anew of the last strips, once a change is wanted or a new "
     "bath has settled",
     0, baseline_options},
    {"note", "", "write down what was done", 0, note_options},
    {"delete", "", "take a strip out of the charts; it stays in the log, with the reason", 0,
     delete_options},
    {"export", "", "the whole log as one table, to be kept or looked at in a spreadsheet", 0,
     export_options},
    {"import", "FILE.csv", "enter what such a table holds and the log does not", 1, import_options},
    {.name = NULL}};
