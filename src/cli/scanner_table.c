/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/forms.h"

const ww_option ww__scanner_options[] = {
    {.name = "--wedge",
     .value = "WEDGE.csv",
     .brief = "the densities of the wedge in the scan, a row a step; needed. A column width tells "
              "how wide its steps are, where they are not alike",
     .kind = WW_OPTION_INPUT},
    {.name = "--strip",
     .value = "X,Y,W,H",
     .brief = "where to look for the wedge: a rectangle in pixels from the top left corner "
              "(otherwise everywhere)",
     .kind = WW_OPTION_TEXT,
     .check = ww__forms_region_check},
    {.name = "--page",
     .value = "N",
     .brief = "the page of a file that has several (otherwise 1)",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 65535, false}},
    {.name = "--dark",
     .value = "SCAN",
     .brief = "a scan without light, with the same settings: it parts dark from flare",
     .kind = WW_OPTION_INPUT},
    {.name = "-o",
     .value = "S.json",
     .brief = "write the scanner file; - is standard output",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
