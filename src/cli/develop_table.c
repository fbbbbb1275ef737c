/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include <wedgework/develop.h>

const ww_option ww__develop_options[] = {
    {.name = "--contrast-index",
     .value = "X",
     .brief = "the contrast index that is wanted",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_CONTRAST_LEAST, WW_DEVELOP_CONTRAST_MOST, false}},
    {.name = "--density-range",
     .value = "X",
     .brief = "the density range of the negative that is wanted, from net 0.10 up, for a subject "
              "of --subject-range",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_DENSITY_RANGE_LEAST, WW_DEVELOP_DENSITY_RANGE_MOST, false}},
    {.name = "--subject-range",
     .value = "Y",
     .brief =
         "the subject's range of luminance, log10 (a stop is 0.30); N-2 to N+2 are told as well",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_SUBJECT_RANGE_LEAST, WW_DEVELOP_SUBJECT_RANGE_MOST, false}},
    {.name = "--flare",
     .value = "X",
     .brief = "camera flare, as a fraction of the light of the brightest tone (otherwise 0); it "
              "shortens the subject's range on the film",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, WW_DEVELOP_FLARE_MOST, false}},
    {.name = "--temperature",
     .value = "C",
     .brief = "the temperature that the time is wanted for, degrees Celsius (otherwise that of the "
              "curves); it takes curves at two temperatures",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_TEMPERATURE_LEAST, WW_DEVELOP_TEMPERATURE_MOST, false}},
    {.name = "--repeatability",
     .value = "D",
     .brief = "how far the same negative's density range comes out different from one development "
              "to the next, as a standard deviation (otherwise what the curves tell)",
     .kind = WW_OPTION_NUMBER,
     .limits = {0.0, WW_DEVELOP_REPEATABILITY_MOST, false}},
    {.name = "--metered-index",
     .value = "N",
     .brief = "the index set on the meter at whose reading stop 0 of a series was exposed; asks "
              "for the film's own exposure index",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_INDEX_LEAST, WW_DEVELOP_INDEX_MOST, false}},
    {.name = "--below",
     .value = "STOPS",
     .brief = "how far under a metered exposure that index is to put net 0.10 (otherwise 3.32, ten "
              "times less light, as film speed and meters have it; 4 for a shadow placed so)",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_DEVELOP_BELOW_LEAST, WW_DEVELOP_BELOW_MOST, false}},
    {.name = "-o",
     .value = "PLAN.json",
     .brief = "write the development plan; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
