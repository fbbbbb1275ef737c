/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>

static ww_optional is(double value) {
    return (ww_optional){true, value};
}

/* --- where the aim lies ----------------------------------------------------------------------- */

/* Whether a step that is out of order might have had a say. */
static bool among_disorder(const ww_strip *strip, const ww__strip_line *line,
                           const ww__strip_found *found, double density) {
    const bool lighter = line->n > 0 && line->point[line->n - 1].density < density;
    double from = 0.0, to = 0.0;
    if (found->crossed && line->n > 1) {
        from = line->point[found->before].log_t;
        to = line->point[found->before + 1].log_t;
    }
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!step->out_of_order)
            continue;
        if (line->n == 0)
            return true;
        if (found->crossed
                ? log10(step->time_s) > from && log10(step->time_s) < to
                : !found->met && (lighter ? step->density >= density : step->density <= density))
            return true;
    }
    return false;
}

/* From the first to the last step that is the aim within error, and the crossing, which may lie
 * beside steps that were evened out. */
static void find_plateau(ww_strip *strip, const ww__strip_line *line, double density) {
    const double best_s = strip->best.value;
    size_t n = 0;
    for (size_t i = 0; i < line->n; i++) {
        const ww__strip_point *point = &line->point[i];
        if (fabs(point->density - density) > WW__STRIP_95 * hypot(point->error, line->level_error))
            continue;
        if (n++ == 0)
            strip->plateau_from_s = pow(10.0, point->log_t);
        strip->plateau_to_s = pow(10.0, point->log_t);
    }
    strip->plateau = n > 1;
    if (strip->plateau) {
        strip->plateau_from_s = fmin(strip->plateau_from_s, best_s);
        strip->plateau_to_s = fmax(strip->plateau_to_s, best_s);
    }
    strip->enough = strip->plateau && strip->high_open &&
                    line->point[line->n - 1].density >= WW__STRIP_BLACK_LEAST;
}

/* The aim is the lightest or the darkest step's density, within error, and beyond neither: the
 * step, of several alike the one next to the others. */
static const ww__strip_point *nearest_end(const ww__strip_line *line, double density) {
    size_t i = 0;
    if (line->point[0].density >= density) {
        while (i + 1 < line->n && line->point[i + 1].density <= line->point[0].density)
            i++;
        return &line->point[i];
    }
    i = line->n - 1;
    while (i > 0 && line->point[i - 1].density >= line->point[line->n - 1].density)
        i--;
    return &line->point[i];
}

static void set_best(ww_strip *strip, const ww__strip_line *line, double density,
                     const ww__strip_found *found) {
    const ww__strip_point *end = found->crossed ? NULL : nearest_end(line, density);
    const double log_t = end ? end->log_t : found->log_t;
    strip->best = (ww_quantity){pow(10.0, log_t), pow(10.0, fmin(found->low, log_t)),
                                pow(10.0, fmax(found->high, log_t)), WW_MEASURED};
    strip->low_open = found->low_open;
    strip->high_open = found->high_open;
    find_plateau(strip, line, density);
    /* Of times that all print the aim in black the least is wanted, wherever the line crosses it;
     * that of a proof is the least by its own definition. */
    if (strip->enough && strip->kind == WW_STRIP_READ) {
        strip->best.value = strip->plateau_from_s;
        strip->best.low = fmin(strip->best.low, strip->best.value);
    } else if (end && strip->kind == WW_STRIP_READ) {
        *(end->density < density ? &strip->lighter : &strip->darker) = is((double)end->step);
    } else if (found->crossed && line->n > 1) {
        strip->lighter = is((double)line->point[found->before].step);
        strip->darker = is((double)line->point[found->before + 1].step);
    }
}

void ww__strip_look_up(ww_strip *strip, const ww__strip_line *line, double density,
                       ww__strip_found *found) {
    double black, error;
    size_t first;
    strip->aim = is(density);
    *found = line->n > 0 ? ww__strip_find(line, density) : (ww__strip_found){.crossed = false};
    if (strip->place == WW_STRIP_TURNED)
        return;
    if (line->n == 0 || among_disorder(strip, line, found, density))
        strip->place = WW_STRIP_DISORDER;
    else if (found->crossed || found->met)
        strip->place = WW_STRIP_INSIDE;
    else if (line->point[0].density > density)
        strip->place = WW_STRIP_DARK;
    else if (ww__strip_find_black(line, &black, &error, &first))
        strip->place = WW_STRIP_NO_REACH;
    else
        strip->place = WW_STRIP_LIGHT;
    /* One piece does not tell how density rises with time. */
    strip->holds = strip->place == WW_STRIP_INSIDE && line->n > 1;
    if (strip->holds)
        set_best(strip, line, density, found);
}

static double to_tenths(double time_s) {
    return time_s < 1.0 ? time_s : round(10.0 * time_s) / 10.0;
}

static ww_status note_plateau(ww_strip *strip, ww_error *err) {
    if (!strip->plateau)
        return WW_OK;
    return ww__print_say(&strip->notes, err,
                         "Times from %.4g to %.4g s cannot be told from the aim within their "
                         "error: any time between them will do, as far as these readings go.",
                         to_tenths(strip->plateau_from_s), to_tenths(strip->plateau_to_s));
}

static ww_status note_open(ww_strip *strip, ww_error *err) {
    if (!strip->low_open && !strip->high_open)
        return WW_OK;
    return ww__print_say(
        &strip->notes, err,
        "The interval ends with the strip, at its %s end: the time may lie beyond, "
        "and nothing is foretold there.",
        strip->low_open && strip->high_open ? "lighter and darker"
        : strip->low_open                   ? "lighter"
                                            : "darker");
}

ww_status ww__strip_look_up_notes(ww_strip *strip, ww_error *err) {
    const ww_status status = note_plateau(strip, err);
    return status == WW_OK ? note_open(strip, err) : status;
}

/* --- an aim on a strip ------------------------------------------------------------------------ */

static ww_status check_aim(double aim, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (aim >= WW_STRIP_AIM_LEAST && aim <= WW_STRIP_AIM_MOST)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(text, sizeof text,
                                         "the aim can't be %g above paper white%s; give %g to %g",
                                         aim,
                                         aim > WW_STRIP_AIM_MOST ? ": " WW_STRIP_AIM_ABOVE : "",
                                         WW_STRIP_AIM_LEAST, WW_STRIP_AIM_MOST));
}

static ww_status read_aim(double aim, ww_strip *strip, ww_error *err) {
    ww__strip_line line = WW__STRIP_LINE_INIT;
    ww__strip_found found;
    ww_status status = ww__strip_line_make(strip, &line, err);
    if (status == WW_OK) {
        ww__strip_look_up(strip, &line, aim, &found);
        status = ww__strip_look_up_notes(strip, err);
    }
    if (status == WW_OK)
        status = ww__strip_next_plan(strip, &line, &found, aim, err);
    if (status == WW_OK)
        status = ww__strip_line_show(&line, strip, err);
    ww__strip_line_release(&line);
    return status;
}

ww_status ww_strip_read(const ww_readings *readings, double aim, double timer_step_s,
                        ww_strip *strip, ww_error *err) {
    ww_strip made = {.kind = WW_STRIP_READ, .timer_step_s = timer_step_s};
    ww_status status = check_aim(aim, err);
    assert(readings && strip);
    if (status == WW_OK)
        status = ww__strip_timer_check(timer_step_s, err);
    if (status == WW_OK)
        status = ww__strip_steps_read(readings, true, &made, err);
    if (status == WW_OK)
        status = read_aim(aim, &made, err);
    if (status != WW_OK) {
        ww_strip_release(&made);
        return status;
    }
    *strip = made;
    return WW_OK;
}
