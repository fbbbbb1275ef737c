/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include <wedgework/strip.h>

const ww_option ww__strip_options[] = {
    {.name = "--centre",
     .value = "S",
     .brief = "seconds in the middle of the strip to plan: the best guess so far",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_STRIP_CENTRE_LEAST, WW_STRIP_CENTRE_MOST, false}},
    {.name = "--step",
     .value = "STOPS",
     .brief = "stops from piece to piece, as 1/3 or 0.5 (otherwise 1/3): 1/2 to 1/3 to find, 1/6 "
              "to settle, 1/12 to finish",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_stops_check},
    {.name = "--count",
     .value = "N",
     .brief = "pieces (otherwise 7); an odd number has the centre on a piece of its own",
     .kind = WW_OPTION_WHOLE,
     .limits = {WW_STRIP_COUNT_LEAST, WW_STRIP_COUNT_MOST, false}},
    {.name = "--aim",
     .value = "DENSITY",
     .brief = "the density above paper white that the tone under the strip shall print at",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_STRIP_AIM_LEAST, WW_STRIP_AIM_MOST, false},
     .above = WW_STRIP_AIM_ABOVE},
    {.name = "--timer-step",
     .value = "S",
     .brief = "seconds between two settings of the timer (otherwise 0.1)",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_STRIP_TIMER_LEAST, WW_STRIP_TIMER_MOST, false}},
    {.name = "-o",
     .value = "PLAN.json",
     .brief =
         "write the exposure plan; - is standard output; a plan as FILE.csv: the table that its "
         "densities will go into, or that `measure --through` fills from a scan",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};

static const char *const plan_options[] = {"--centre",     "--step", "--count",
                                           "--timer-step", "-o",     NULL};
static const char *const read_options[] = {"--aim", "--timer-step", "-o", NULL};
static const char *const proof_options[] = {"--timer-step", "-o", NULL};
static const char *const safelight_options[] = {"-o", NULL};

const ww_verb ww__strip_verbs[] = {
    {"plan", "", "exposures in equal stops around a centre, and the seconds that a hand gives", 0,
     plan_options},
    {"read", "STRIP.csv",
     "the time for a density, with its interval, and whether another strip is "
     "needed",
     1, read_options},
    {"proof", "STRIP.csv",
     "of a strip printed through clear film: the standard proof time, the "
     "least that prints within 0.05 of maximum black",
     1, proof_options},
    {"safelight", "STRIP.csv",
     "of paper pre-exposed to a light grey that lay under the safelight for stepped times: how "
     "long "
     "it stayed as it was; the row covered, without a time, is the piece that was never under it",
     1, safelight_options},
    {.name = NULL}};
