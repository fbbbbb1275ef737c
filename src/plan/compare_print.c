/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/compare_parts.h"
#include <math.h>

static const double flat = 0.01;      /* D: what readings repeat to, common practice */
static const double end_reach = 0.02; /* of the scale, within which an end was read */
static const double quarter = 0.25;   /* of the range: ends of its middle, from either end */

double ww__compare_above(const ww_compare_print *print, const ww_compare_tone *tone,
                         ww_channel channel) {
    return tone->density[channel].value - print->white_of[channel].value;
}

/* Cube roots of X, Y, Z fall by one factor where a tone dims them alike, and L* + 16 with them. */
double ww__compare_off_hue(const ww_compare_print *print, const ww_compare_tone *tone,
                           size_t drift) {
    const double dimmed = (tone->lab.l + 16.0) / (print->white_lab.l + 16.0);
    return drift == WW_COMPARE_A ? tone->lab.a - dimmed * print->white_lab.a
                                 : tone->lab.b - dimmed * print->white_lab.b;
}

static ww_quantity measured(double value, double error) {
    const double half = WW__COMPARE_95 * error;
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

static double half_of(ww_quantity quantity) {
    return (quantity.high - quantity.low) / 2.0;
}

/* --- white and black -------------------------------------------------------------------------- */

static ww_status choose_main(ww_compare_print *print, ww_error *err) {
    static const ww_channel order[] = {WW_VISUAL, WW_GREEN, WW_RED, WW_BLUE};
    char shown[200];
    for (size_t k = 0; k < sizeof order / sizeof order[0]; k++)
        if (print->has[order[k]]) {
            print->main = order[k];
            return WW_OK;
        }
    return ww_error_set(
        err, WW_ENODATA,
        "'%s' has neither a density, nor L*, nor luminance that was read; add such a "
        "column",
        ww__escape_message(print->name, shown, sizeof shown));
}

/* The base row, else the lightest grey; the densest grey. */
static ww_status find_ends(ww_compare_print *print, ww_error *err) {
    const ww_channel main = print->main;
    bool based = false;
    char shown[200];
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!tone->neutral || !tone->density[main].set)
            continue;
        const double here = tone->density[main].value;
        if (!print->black_at.set ||
            here > print->tone[(size_t)print->black_at.value].density[main].value)
            print->black_at = (ww_optional){true, (double)i};
        if (tone->base && !based) {
            based = true;
            print->white_at = (ww_optional){true, (double)i};
        } else if (!based &&
                   (!print->white_at.set ||
                    here < print->tone[(size_t)print->white_at.value].density[main].value))
            print->white_at = (ww_optional){true, (double)i};
    }
    return print->white_at.set
               ? WW_OK
               : ww_error_set(err, WW_ENODATA,
                              "'%s' has no grey whose %s density was read; read its scale of greys",
                              ww__escape_message(print->name, shown, sizeof shown),
                              ww_channel_name(main));
}

/* Whether any grey was read that is as light (0) or as dark (1) as can be sent. */
static bool was_sent(const ww_compare_print *print, double end) {
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (tone->neutral && tone->sent.set && tone->density[print->main].set &&
            fabs(tone->sent.value - end) <= end_reach)
            return true;
    }
    return false;
}

/* A tone of a picture that is its lightest is no bare paper; nor is the last of a scale that was
 * read in part. Exposures have no ends. */
static void know_ends(ww_compare_print *print, const ww_compare_tone *white) {
    const bool ramp = print->control == WW_COMPARE_RAMP;
    print->white_known = white->base || print->above_white || print->control == WW_COMPARE_LOG_H ||
                         (ramp && was_sent(print, 0.0));
    print->black_known = ramp ? was_sent(print, 1.0) : print->white_known;
}

static ww_status tell_white(const ww_compare_print *print, const ww_compare_tone *white,
                            ww_notes *notes, ww_error *err) {
    char shown[200], label[200];
    if (white->base || print->above_white)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "'%s' has no row base: its lightest tone, '%s', stands for its white%s.",
                        ww__escape_message(print->name, shown, sizeof shown),
                        ww__escape_message(white->label, label, sizeof label),
                        print->white_known ? ""
                                           : ", though its paper may be lighter; read bare paper "
                                             "too, as base");
}

/* Where a scale ends before full tone, nobody knows how dark it goes on. */
static ww_status tell_black(const ww_compare_print *print, const ww_compare_tone *black,
                            ww_notes *notes, ww_error *err) {
    char shown[200], label[200];
    if (print->black_known || print->control != WW_COMPARE_RAMP)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "The black of '%s' was not read: its darkest grey is '%s', %.2f D, and "
                        "what is said of its black is of that; read the black that it prints too.",
                        ww__escape_message(print->name, shown, sizeof shown),
                        ww__escape_message(black->label, label, sizeof label), print->black.value);
}

static ww_status take_ends(ww_compare_print *print, ww_notes *notes, ww_error *err) {
    const ww_compare_tone *white = &print->tone[(size_t)print->white_at.value];
    const ww_compare_tone *black = &print->tone[(size_t)print->black_at.value];
    const ww_channel main = print->main;
    char shown[200];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        print->white_of[c] = white->density[c];
        print->white_error[c] = white->error[c];
    }
    print->white = measured(white->density[main].value, white->error[main]);
    print->black = measured(black->density[main].value, black->error[main]);
    know_ends(print, white);
    print->has_lab = white->has_lab;
    print->white_lab = white->lab;
    ww_status status = WW_OK;
    if (print->n > 1 && print->black.value - print->white.value < flat)
        status = ww_notes_add(notes, err,
                              "'%s' is flat: %.2f D (%s) in every grey. Look whether that is the "
                              "right column, or read the greys again.",
                              ww__escape_message(print->name, shown, sizeof shown),
                              print->white.value, ww_channel_name(main));
    if (status == WW_OK)
        status = tell_white(print, white, notes, err);
    return status == WW_OK ? tell_black(print, black, notes, err) : status;
}

ww_quantity ww__compare_white(const ww_compare_print *print, ww_channel channel) {
    const ww_quantity none = WW_QUANTITY_INIT;
    if (channel == print->main)
        return print->white;
    return print->white_of[channel].set
               ? measured(print->white_of[channel].value, print->white_error[channel])
               : none;
}

ww_quantity ww__compare_black(const ww_compare_print *print, ww_channel channel) {
    const ww_quantity none = WW_QUANTITY_INIT;
    if (channel == print->main)
        return print->black;
    if (!print->black_at.set)
        return none;
    const ww_compare_tone *black = &print->tone[(size_t)print->black_at.value];
    return black->density[channel].set
               ? measured(black->density[channel].value, black->error[channel])
               : none;
}

/* --- gradient --------------------------------------------------------------------------------- */

static bool counts(const ww_compare_print *print, const ww_compare_tone *tone) {
    return tone->neutral && tone->sent.set && tone->density[print->main].set;
}

/* The grey that follows one in what was sent; NULL at the end. */
static const ww_compare_tone *next_of(const ww_compare_print *print, const ww_compare_tone *from) {
    const ww_compare_tone *next = NULL;
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!counts(print, tone) || (from && tone->sent.value <= from->sent.value))
            continue;
        if (!next || tone->sent.value < next->sent.value)
            next = tone;
    }
    return next;
}

typedef struct place {
    double at, error; /* what was sent, as darkness */
} place;

/* Where the scale first crosses a density, on a straight line. */
static bool cross(const ww_compare_print *print, double density, place *found) {
    const ww_channel main = print->main;
    const ww_compare_tone *from = next_of(print, NULL), *to;
    for (; from && (to = next_of(print, from)); from = to) {
        const double a = from->density[main].value, b = to->density[main].value;
        if ((a - density) * (b - density) > 0.0 || a == b)
            continue;
        const double share = (density - a) / (b - a);
        const double step = to->sent.value - from->sent.value;
        found->at = from->sent.value + share * step;
        found->error =
            hypot((1.0 - share) * from->error[main], share * to->error[main]) * step / fabs(b - a);
        return true;
    }
    return false;
}

static void find_gradient(ww_compare_print *print) {
    const double range = print->range.value, white = print->white.value;
    place light, dark;
    if (print->control == WW_COMPARE_LABEL || !(range > 0.0) ||
        !cross(print, white + quarter * range, &light) ||
        !cross(print, white + (1.0 - quarter) * range, &dark) || dark.at == light.at)
        return;
    const double run = fabs(dark.at - light.at), gradient = (1.0 - 2.0 * quarter) * range / run;
    print->gradient = measured(gradient, gradient * hypot(light.error, dark.error) / run);
}

/* --- the rest --------------------------------------------------------------------------------- */

static void find_drift(ww_compare_print *print, size_t which) {
    const ww_channel colour = which == WW_COMPARE_RED_GREEN ? WW_RED : WW_BLUE;
    ww_compare_drift *drift = &print->drift[which];
    if (!print->white_of[colour].set || !print->white_of[WW_GREEN].set)
        return;
    const double white = hypot(print->white_error[colour], print->white_error[WW_GREEN]);
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!tone->neutral || !tone->density[colour].set || !tone->density[WW_GREEN].set)
            continue;
        const double value =
            ww__compare_above(print, tone, colour) - ww__compare_above(print, tone, WW_GREEN);
        if (drift->there && fabs(value) <= fabs(drift->value))
            continue;
        *drift = (ww_compare_drift){
            true, value,
            WW__COMPARE_95 * hypot(white, hypot(tone->error[colour], tone->error[WW_GREEN])), i};
    }
}

static void find_lab_drift(ww_compare_print *print, size_t which) {
    ww_compare_drift *drift = &print->drift[which];
    if (!print->has_lab)
        return;
    const double white = print->tone[(size_t)print->white_at.value].lab_error;
    for (size_t i = 0; i < print->n; i++) {
        const ww_compare_tone *tone = &print->tone[i];
        if (!tone->neutral || !tone->has_lab)
            continue;
        const double value = ww__compare_off_hue(print, tone, which);
        if (!drift->there || fabs(value) > fabs(drift->value))
            *drift = (ww_compare_drift){true, value,
                                        WW__COMPARE_GREATEST * hypot(white, tone->lab_error), i};
    }
}

static void look(ww_compare_print *print) {
    for (size_t i = 0; i < WW_VIEWING_VEILS; i++) {
        ww_compare_seen *seen = &print->seen[i];
        seen->veil = ww_viewing_veils[i];
        seen->white = ww_viewing_veil(print->white.value, seen->veil);
        seen->black = ww_viewing_veil(print->black.value, seen->veil);
        seen->range = seen->black - seen->white;
    }
}

/* Read from white, it is 0 there; what a table says of its white beside that is rounding. A
 * display's white was read as its other tones were. */
static void begin_at_white(ww_compare_print *print) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        print->white_of[c] = (ww_optional){print->has[c], 0.0};
    print->white = (ww_quantity){0.0, 0.0, 0.0, WW_GIVEN};
}

ww_status ww__compare_print_fill(ww_compare_print *print, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    if (print->curve) {
        print->white_known = print->black_known = true;
    } else {
        status = choose_main(print, err);
        if (status == WW_OK)
            status = find_ends(print, err);
        if (status == WW_OK)
            status = take_ends(print, notes, err);
    }
    if (status != WW_OK)
        return status;
    if (print->above_white && !print->curve && !print->screen)
        begin_at_white(print);
    if (ww_quantity_present(print->white) && ww_quantity_present(print->black)) {
        const double range = print->black.value - print->white.value;
        const double half = hypot(half_of(print->white), half_of(print->black));
        print->range = (ww_quantity){range, range - half, range + half, print->black.how};
        look(print);
    }
    if (!print->curve)
        find_gradient(print);
    find_drift(print, WW_COMPARE_RED_GREEN);
    find_drift(print, WW_COMPARE_BLUE_GREEN);
    find_lab_drift(print, WW_COMPARE_A);
    find_lab_drift(print, WW_COMPARE_B);
    return WW_OK;
}
