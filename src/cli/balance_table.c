/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/control_gate.h"
#include "cli/forms.h"
#include <wedgework/balance.h>
#include <wedgework/print.h>

#define BETWEEN(least, most)                                                                       \
    { least, most, false }

const ww_option ww__balance_options[] = {
    {.name = "--paper",
     .value = "P.json",
     .brief = "curve file of the colour paper, as `fit` writes it",
     .kind = WW_OPTION_INPUT},
    {.name = "--aim",
     .value = "AIM.csv",
     .brief = "densities of the same greys on the print that you approved",
     .kind = WW_OPTION_INPUT},
    {.name = "--pack",
     .value = "PACK",
     .brief = "the filters that the print was made with, as 60Y45M, 0 for none (otherwise what its "
              "line "
              "'# pack:' says)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_pack_check},
    {.name = "--time",
     .value = "S",
     .brief = "the seconds that the print was made with (otherwise what its line '# exposure "
              "time:' says)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_BALANCE_TIME_LEAST, WW_BALANCE_TIME_MOST)},
    {.name = "--ring",
     .value = "RING.csv",
     .brief = "a ring-around: prints with the columns pack, time, red, green, blue; each print so "
              "far is a row, and any number will do",
     .kind = WW_OPTION_INPUT},
    {.name = "--tone",
     .value = "NAME",
     .brief = "the grey to make neutral (otherwise all that were read, together)",
     .kind = WW_OPTION_TEXT},
    {.name = "--burn",
     .value = "NAME",
     .brief = "a tone that is burnt to its aim, as a sky: it gets a second exposure through a pack "
              "that keeps its colour",
     .kind = WW_OPTION_TEXT},
    {.name = "--filter-step",
     .value = "CC",
     .brief = "between two settings of a filter (otherwise 2.5), in the unit of the packs",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_BALANCE_STEP_LEAST, WW_BALANCE_STEP_MOST)},
    {.name = "--head-scale",
     .value = "X",
     .brief = "dial units of this head per CC (otherwise 1); packs then go in and come out in dial "
              "units",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_BALANCE_HEAD_LEAST, WW_BALANCE_HEAD_MOST)},
    {.name = "--timer-step",
     .value = "S",
     .brief = "seconds between two settings of the timer (otherwise 0.1)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_BALANCE_TIMER_LEAST, WW_BALANCE_TIMER_MOST)},
    {.name = "--repeatability",
     .value = "D",
     .brief = "how far the same print comes out different, as a standard deviation in density",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(0.0, WW_BALANCE_REPEATABILITY_MOST)},
    WW__CONTROL_GATE_OPTIONS,
    {.name = "--from",
     .value = "STANDARD.csv",
     .brief = "densities of the standard negative, which --pack and --time or --recipe print; with "
              "--to, and without a print",
     .kind = WW_OPTION_INPUT},
    {.name = "--to",
     .value = "NEW.csv",
     .brief = "densities of the new negative at the same grey",
     .kind = WW_OPTION_INPUT},
    {.name = "--recipe",
     .value = "OLD.json",
     .brief = "a stored plan, whose pack and time are carried on",
     .kind = WW_OPTION_INPUT},
    {.name = "--offset",
     .value = "LOT.json",
     .brief = "the plan that brought the standard negative to its own aim on a new paper lot: its "
              "change is applied to --recipe",
     .kind = WW_OPTION_INPUT},
    {.name = "--from-scale",
     .value = "M",
     .brief = "magnification of --recipe",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST)},
    {.name = "--scale",
     .value = "M",
     .brief = "magnification of the print to be made from it",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST)},
    {.name = "-o",
     .value = "PLAN.json",
     .brief = "write the filter plan; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
