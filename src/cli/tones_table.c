/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"
#include <wedgework/print.h>
#include <wedgework/tones.h>

#define BETWEEN(least, most)                                                                       \
    { least, most, false }

const ww_option ww__tones_options[] = {
    {.name = "--film",
     .value = "F.json",
     .brief = "curve file of a film, as `fit` writes it; once for each film or time to lay over "
              "each other; needed, but for a wanted print",
     .kind = WW_OPTION_INPUT,
     .repeats = true},
    {.name = "--paper",
     .value = "P.json",
     .brief = "curve file of a paper; once for each paper or grade; needed",
     .kind = WW_OPTION_INPUT,
     .repeats = true},
    {.name = "--subject-range",
     .value = "X",
     .brief = "log10 of luminance from the scene's white to its darkest tone (otherwise 2.2, the "
              "average subject)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_TONES_RANGE_LEAST, WW_TONES_RANGE_MOST)},
    {.name = "--flare",
     .value = "F",
     .brief = "stray light in the camera, as a fraction of that of the scene's white (otherwise 0)",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, 1.0, true}},
    {.name = "--enlarger-flare",
     .value = "F",
     .brief = "stray light on the easel, as a fraction of open light (otherwise 0)",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, 1.0, true}},
    {.name = "--callier",
     .value = "Q",
     .brief = "density that this enlarger sees, divided by the density read (otherwise 1); of "
              "silver, not of dye",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_PRINT_CALLIER_LEAST, WW_PRINT_CALLIER_MOST)},
    {.name = "--viewing-flare",
     .value = "F",
     .brief = "light of the room on the print, as a fraction of that of a perfect white (otherwise "
              "0)",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, 1.0, true}},
    {.name = "--expose",
     .value = "STOPS",
     .brief = "exposure of the film in stops, + more, from the one that puts the darkest tone on "
              "its speed point (otherwise 0)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(-WW_TONES_STOPS_MOST, WW_TONES_STOPS_MOST)},
    {.name = "--place",
     .value = "STOPS=DENSITY",
     .brief = "exposure of the print: the tone so many stops below the scene's white prints at "
              "this density above paper white (otherwise 0=0.04)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_stop_place_check},
    {.name = "--detail",
     .value = "GRADIENT",
     .brief = "least gradient of the whole chain at which detail counts as kept (otherwise 0.2: a "
              "third of a stop makes 0.02 D)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_TONES_DETAIL_LEAST, WW_TONES_DETAIL_MOST)},
    {.name = "--wanted",
     .value = "PRINT.csv",
     .brief = "the way back: readings of a wanted print by stop or logh of the scene, white 0, or "
              "the word straight; the film, or the file, that gives it on the paper",
     .kind = WW_OPTION_INPUT},
    {.name = "--slope",
     .value = "X",
     .brief = "of --wanted straight: density for each log10 of the scene (otherwise 1)",
     .kind = WW_OPTION_NUMBER,
     .limits = BETWEEN(WW_TONES_SLOPE_LEAST, WW_TONES_SLOPE_MOST)},
    {.name = "-o",
     .value = "FILE",
     .brief = "write the result as .json; or, of a wanted print, the film as readings for `fit` "
              "(.csv); - is standard output, as JSON",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};

const char *const ww__tones_args[] = {"--wanted PRINT.csv|straight --paper P.json", NULL};
