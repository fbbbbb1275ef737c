/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"

static const char *white_word(size_t i) {
    static const char *const word[] = {"keep", "match", NULL};
    return word[i];
}

const ww_option ww__match_options[] = {
    {.name = "--aim",
     .value = "A.csv",
     .brief = "what is to be matched: readings of a print, a curve file, or the word lightness for "
              "equal steps of L*; needed",
     .kind = WW_OPTION_INPUT},
    {.name = "--print",
     .value = "B.csv",
     .brief = "readings of the output that is to match it; needed",
     .kind = WW_OPTION_INPUT},
    {.name = "--white",
     .value = "WORD",
     .brief = "keep matches above each one's own white, match the densities themselves "
              "(otherwise keep)",
     .kind = WW_OPTION_WORD,
     .word = white_word},
    {.name = "--refine",
     .value = "PRINT2.csv",
     .brief = "readings of the same scale printed through the correction, which then follows them; "
              "once for each pass, in their order",
     .kind = WW_OPTION_INPUT,
     .repeats = true},
    {.name = "--apply",
     .value = "IN.tif",
     .brief = "a picture to send through the correction, into -o OUT.tif",
     .kind = WW_OPTION_INPUT},
    {.name = "--page",
     .value = "N",
     .brief = "the page of a picture that has several (otherwise 1)",
     .kind = WW_OPTION_WHOLE,
     .limits = {1, 65535, false}},
    {.name = "-o",
     .value = "FILE",
     .brief = "write the curve, by the end of the name as .csv, .cube, .icc (a device link) or "
              ".json, - being standard output; or the TIFF file of --apply, which needs it",
     .kind = WW_OPTION_OUTPUT,
     .to_stdout = true},
    {.name = NULL}};
