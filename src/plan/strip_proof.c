/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>

#define NEXT_STEP (1.0 / 3.0) /* [stops] of the strip that looks for black */

static ww_status no_black(const ww__strip_line *line, ww_strip *strip, ww_error *err) {
    const ww__strip_point *end = &line->point[line->n - 1];
    ww_status status;
    strip->place = WW_STRIP_LIGHT;
    status = ww__print_say(&strip->notes, err,
                           "Maximum black was not reached, or not shown to be: the darkest steps "
                           "must stay within 0.02 for a stop, at 1.0 or more. The longest "
                           "here, %.4g s, reads %.2f; the next strip goes on from there.",
                           pow(10.0, end->log_t), end->density);
    if (status != WW_OK)
        return status;
    return ww__strip_next_beyond(strip, pow(10.0, end->log_t), false, NEXT_STEP, err);
}

static ww_status find_time(ww__strip_line *line, ww_strip *strip, ww_error *err) {
    ww__strip_found found;
    ww_status status;
    double black, error;
    size_t first;
    if (line->n == 0) {
        if (strip->place != WW_STRIP_TURNED)
            strip->place = WW_STRIP_DISORDER;
        return ww__strip_next_plan(strip, line, NULL, 0.0, err);
    }
    if (!ww__strip_find_black(line, &black, &error, &first))
        return no_black(line, strip, err);
    strip->black = (ww_optional){true, black};
    for (size_t i = 0; i < strip->n_steps; i++) {
        ww_strip_step *step = &strip->step[i];
        step->black = step->state == WW_CELL_VALUE && !step->out_of_order &&
                      log10(step->time_s) >= line->point[first].log_t;
    }
    line->level_error = error;
    ww__strip_look_up(strip, line, black - WW_STRIP_BLACK, &found);
    status = ww__strip_look_up_notes(strip, err);
    if (status == WW_OK)
        status = ww__strip_next_plan(strip, line, &found, black - WW_STRIP_BLACK, err);
    return status;
}

ww_status ww_strip_proof(const ww_readings *readings, double timer_step_s, ww_strip *strip,
                         ww_error *err) {
    ww_strip made = {.kind = WW_STRIP_PROOF, .timer_step_s = timer_step_s};
    ww__strip_line line = WW__STRIP_LINE_INIT;
    ww_status status = ww__strip_timer_check(timer_step_s, err);
    assert(readings && strip);
    if (status == WW_OK)
        status = ww__strip_steps_read(readings, false, &made, err);
    if (status == WW_OK)
        status = ww__strip_line_make(&made, &line, err);
    if (status == WW_OK)
        status = find_time(&line, &made, err);
    if (status == WW_OK)
        status = ww__strip_line_show(&line, &made, err);
    if (status == WW_OK)
        status = ww_notes_add(&made.notes, err,
                              "It holds for clear film of the kind that was printed through, and "
                              "for this size, aperture, filter, paper and developer.");
    ww__strip_line_release(&line);
    if (status != WW_OK) {
        ww_strip_release(&made);
        return status;
    }
    *strip = made;
    return WW_OK;
}
