/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include <wedgework/scan.h>

const ww_option ww__scan_options[] = {
    {.name = "--scanner",
     .value = "S.json",
     .brief =
         "the scanner, as `scanner -o` writes it; needed, but for --merge of scans whose codes "
         "are light",
     .kind = WW_OPTION_INPUT},
    {.name = "--keep",
     .value = "TONE",
     .brief = "a tone whose detail is to be kept, once for each (otherwise the densest)",
     .kind = WW_OPTION_TEXT,
     .repeats = true},
    {.name = "--separate",
     .value = "D",
     .brief = "the difference of density that is to be told apart there, over 3 x 3 pixels "
              "(otherwise 0.01)",
     .kind = WW_OPTION_NUMBER,
     .limits = {WW_SCAN_SEPARATE_LEAST, WW_SCAN_SEPARATE_MOST, false}},
    {.name = "--merge",
     .brief = "make one scan of two, of different exposure, that lie on each other",
     .kind = WW_OPTION_SWITCH},
    {.name = "--densities",
     .brief = "make a picture of densities of a scan, for those who invert it there",
     .kind = WW_OPTION_SWITCH},
    {.name = "--page",
     .value = "N",
     .brief = "the page of scans that have several (otherwise 1)",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 65535, false}},
    {.name = "-o",
     .value = "P.json|OUT.tif",
     .brief = "write the scan plan, - being standard output; or the TIFF file of --merge and "
              "--densities, which need it",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
