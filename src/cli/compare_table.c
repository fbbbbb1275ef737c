/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"

const ww_option ww__compare_options[] = {
    {.name = "--limits",
     .value = "FILE.csv",
     .brief = "what was agreed for a re-run: a table limit,most of white, black, light, middle, "
              "dark, drift (D), de2000_mean, de2000_max and neutral_ab, each with the size of a "
              "difference that is allowed",
     .kind = WW_OPTION_INPUT},
    {.name = "--spot",
     .value = "NAME=X,Y,R",
     .brief = "of scans: spread of density in an even disc, its centre and radius in pixels, the "
              "same in each scan; once for each place",
     .kind = WW_OPTION_TEXT,
     .repeats = true,
     .check = ww__forms_spot_check},
    {.name = "--strip",
     .value = "X,Y,W,H",
     .brief = "of scans: sharpness of an edge that runs through a rectangle, askew by some 5 "
              "degrees, in pixels from the top left corner",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_region_check},
    {.name = "--scanner",
     .value = "S.json",
     .brief = "of scans: the scanner file, as `scanner` writes it; needed",
     .kind = WW_OPTION_INPUT},
    {.name = "--page",
     .value = "N",
     .brief = "of scans: the page of a file that has several (otherwise 1)",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 65535, false}},
    {.name = "-o",
     .value = "C.json",
     .brief = "write the comparison; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};

const char *const ww__compare_args[] = {"A.tif B.tif... --spot NAME=X,Y,R --scanner S.json", NULL};
