/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <wedgework/tones.h>

/* What tones are called: files and pages show the same, and neither room knows the plan's. */

const char *ww_tones_fate_name(ww_tones_fate fate) {
    static const char *const word[] = {"kept",
                                       "camera flare",
                                       "toe of the film",
                                       "shoulder of the film",
                                       "enlarger flare",
                                       "toe of the paper",
                                       "shoulder of the paper",
                                       "viewing flare",
                                       "contrast of film and paper",
                                       "beyond the film's measured range",
                                       "beyond the paper's measured range"};
    assert(fate <= WW_TONES_BEYOND_PAPER);
    return word[fate];
}

const char *ww_tones_want_name(ww_tones_want want) {
    static const char *const word[] = {"can be had",
                                       "lighter than the paper was measured",
                                       "darker than the paper was measured",
                                       "darker than anything looks in this light",
                                       "lighter than the enlarger's flare lets any film print",
                                       "lighter than the tone before it"};
    assert(want <= WW_TONES_REVERSED);
    return word[want];
}

size_t ww_tones_main(const ww_tones *tones) {
    const bool colour = tones->n >= 3 && tones->chain[0].film_channel == WW_RED &&
                        tones->chain[0].paper_channel == WW_RED &&
                        tones->chain[1].paper_channel == WW_GREEN;
    return colour ? WW_GREEN : 0;
}
