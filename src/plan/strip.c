/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <wedgework/strip.h>

const char *ww_strip_kind_name(ww_strip_kind kind) {
    switch (kind) {
    case WW_STRIP_PLAN:
        return "plan";
    case WW_STRIP_READ:
        return "read";
    case WW_STRIP_PROOF:
        return "proof";
    case WW_STRIP_SAFELIGHT:
        break;
    }
    return "safelight";
}

void ww_strip_release(ww_strip *strip) {
    if (!strip)
        return;
    for (size_t i = 0; i < strip->n_steps; i++)
        free(strip->step[i].step);
    free(strip->step);
    free(strip->line);
    free(strip->series.piece);
    ww_notes_release(&strip->notes);
    *strip = (ww_strip)WW_STRIP_INIT;
}
