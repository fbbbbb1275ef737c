/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/control_gate.h"
#include "cli/forms.h"
#include <wedgework/print.h>

#define BETWEEN(least, most)                                                                       \
    { least, most, false }

const ww_option ww__print_options[] = {
    {.name = "--paper",
     .value = "P.json",
     .brief = "curve file of a paper, as `fit` writes it; once for each paper at hand (otherwise "
              "nominal papers of grades 0 to 5 stand in)",
     .kind = WW_OPTION_INPUT,
     .repeats = true},
    {.name = "--place",
     .value = "TONE=DENSITY",
     .brief = "print this tone of the negative at this density above paper white; the first sets "
              "the time (without any, the densest tone goes to 0.08)",
     .kind = WW_OPTION_TEXT,
     .repeats = true},
    {.name = "--test",
     .value = "SECONDS:TONE=DENSITY",
     .brief = "a test print: this time gave this tone that density above paper white; twice for "
              "two prints, best on either side of the aim",
     .kind = WW_OPTION_TEXT,
     .repeats = true},
    {.name = "--flash",
     .value = "FLASH.csv",
     .brief = "readings of a strip of flashes on bare paper, seconds in the column time: what the "
              "longest that leaves white does, beside burning",
     .kind = WW_OPTION_INPUT},
    {.name = "--split",
     .value = "SPLIT.csv",
     .brief = "readings of prints of a wedge through a soft and a hard filter, seconds of each in "
              "the columns soft and hard: the two exposures that this negative wants",
     .kind = WW_OPTION_INPUT},
    {.name = "--reciprocity",
     .value = "P",
     .brief = "measured on this paper: for an exposure n times as long, n to the power of P times "
              "the time (otherwise 1)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_RECIPROCITY_LEAST, WW_PRINT_RECIPROCITY_MOST)},
    {.name = "--from-scale",
     .value = "M",
     .brief = "magnification that the papers or the test print were exposed at",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST)},
    {.name = "--scale",
     .value = "M",
     .brief = "magnification of the print to be made",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_SCALE_LEAST, WW_PRINT_SCALE_MOST)},
    {.name = "--from-aperture",
     .value = "N",
     .brief = "f-number that the papers or the test print were exposed at",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_APERTURE_LEAST, WW_PRINT_APERTURE_MOST)},
    {.name = "--aperture",
     .value = "N",
     .brief = "f-number of the print to be made",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_APERTURE_LEAST, WW_PRINT_APERTURE_MOST)},
    {.name = "--callier",
     .value = "Q",
     .brief = "density that this enlarger sees, divided by the density read (otherwise 1)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_CALLIER_LEAST, WW_PRINT_CALLIER_MOST)},
    {.name = "--enlarger-flare",
     .value = "F",
     .brief = "stray light on the easel, as a fraction of open light (otherwise 0)",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, 1.0, true}},
    {.name = "--dry-down",
     .value = "PERCENT",
     .brief = "less time, in per cent, because prints darken as they dry; for plans made from wet "
              "readings (otherwise 0)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(0.0, WW_PRINT_DRY_DOWN_MOST)},
    {.name = "--timer-step",
     .value = "S",
     .brief = "seconds between two settings of the timer (otherwise 0.1)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_STEP_LEAST, WW_PRINT_STEP_MOST)},
    {.name = "--repeatability",
     .value = "D",
     .brief = "how far the same print comes out different, as a standard deviation in density; it "
              "enters the doubt of the time",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(0.0, WW_PRINT_REPEATABILITY_MOST)},
    WW__CONTROL_GATE_OPTIONS,
    {.name = "--result",
     .value = "PRINT.csv",
     .brief = "densities of the print that came out: its miss is explained, and the next plan "
              "corrected by what it teaches",
     .kind = WW_OPTION_INPUT},
    {.name = "--recipe",
     .value = "OLD.json",
     .brief = "make a stored plan again, with what is given here in place of what it was made "
              "from; NEG.csv may then be left out",
     .kind = WW_OPTION_INPUT},
    {.name = "-o",
     .value = "RECIPE.json",
     .brief = "write the print plan with all that it was made from; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
