/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"

const ww_option ww__measure_options[] = {
    {.name = "--wedge",
     .value = "WEDGE.csv",
     .brief = "a known wedge lies on the glass; its densities decide which end is which, and a "
              "column width tells how wide its steps are, where they are not alike",
     .kind = WW_OPTION_INPUT},
    {.name = "--steps",
     .value = "N",
     .brief = "a strip of so many steps lies there, numbered from the left (upright: from the top)",
     .kind = WW_OPTION_WHOLE,
     .limits = {3, 250, false}},
    {.name = "--spot",
     .value = "NAME=X,Y,R",
     .brief = "read a disc: its centre and radius in pixels; once for each place. The name base is "
              "the film's base (beside --steps or --wedge a row of the strip's readings); "
              "cloud/thin and cloud/dense are the two ends of one tone's detail; glass is bare "
              "glass, whose density must be 0",
     .kind = WW_OPTION_TEXT,
     .repeats = true,
     .check = ww__forms_spot_check},
    {.name = "--whole",
     .brief = "count every pixel: range and percentiles of the whole scan",
     .kind = WW_OPTION_SWITCH},
    {.name = "--through",
     .value = "WEDGE.csv",
     .brief = "the wedge that the film or paper in the scan was exposed through; its densities "
              "become the column wedge, and its column width tells how wide the steps are; or a "
              "table of what each step got, as `strip plan -o PLAN.csv` writes it",
     .kind = WW_OPTION_INPUT},
    {.name = "--scanner",
     .value = "S.json",
     .brief = "the scanner file, as `scanner` writes it (otherwise there are code values only)",
     .kind = WW_OPTION_INPUT},
    {.name = "--strip",
     .value = "X,Y,W,H",
     .brief = "where to look: a rectangle in pixels from the top left corner (otherwise "
              "everywhere)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_region_check},
    {.name = "--reverse",
     .brief = "number the steps of --steps from the other end",
     .kind = WW_OPTION_SWITCH},
    {.name = "--page",
     .value = "N",
     .brief = "the page of a file that has several (otherwise 1)",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 65535, false}},
    {.name = "--jobs",
     .value = "N",
     .brief = "threads to work with (otherwise one a processor); the result is the same",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 256, false}},
    {.name = "--overlay",
     .value = "FILE.png",
     .brief = "draw what was read where over a small copy of the scan, with gnuplot; of several "
              "scans: a folder",
     .kind = WW_OPTION_OUTPUT},
    {.name = "-o",
     .value = "R.csv",
     .brief = "write the readings (with --whole, or as FILE.json, the JSON document); - is "
              "standard output; of several scans: a folder",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
