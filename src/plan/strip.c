/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <wedgework/strip.h>

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
