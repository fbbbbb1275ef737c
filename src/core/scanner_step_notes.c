/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scanner_step_notes.h"
#include "base/text.h"

#include <assert.h>
#include <math.h>
#include <wedgework/number.h>

static const double swapped_misfit = 1.0 / 3.0; /* of the difference of two steps, at most */

enum { RUN_LEAST = 3 /* steps that are told as "1 to 3" */ };

typedef bool step_test(const ww_scanner *scanner, const ww_scanner_step *step);

static bool is_bright(const ww_scanner *scanner, const ww_scanner_step *step) {
    return step->clipped && step->code > 0.5 * scanner->white;
}

static bool is_dark(const ww_scanner *scanner, const ww_scanner_step *step) {
    return step->clipped && !is_bright(scanner, step);
}

static bool is_compressed(const ww_scanner *scanner, const ww_scanner_step *step) {
    (void)scanner;
    return step->compressed;
}

/* "Step 3", "Steps 1, 2" or "Steps 1, 14 to 21"; NULL where there is none. */
static const char *name_steps(const ww_scanner *scanner, const ww_scanner_channel *channel,
                              step_test *test, ww__text *list) {
    size_t n = 0;
    for (size_t i = 0; i < channel->n_steps; i++)
        n += test(scanner, &channel->step[i]);
    *list = (ww__text)WW__TEXT_INIT;
    if (n == 0)
        return NULL;
    ww__text_add(list, n > 1 ? "Steps" : "Step");
    for (size_t i = 0, named = 0; i < channel->n_steps; i++) {
        size_t last = i;
        if (!test(scanner, &channel->step[i]))
            continue;
        while (last + 1 < channel->n_steps && test(scanner, &channel->step[last + 1]))
            last++;
        if (last < i + RUN_LEAST - 1)
            last = i;
        ww__text_add(list, named++ > 0 ? ", " : " ");
        ww__text_add(list, channel->step[i].step);
        if (last > i) {
            ww__text_add(list, " to ");
            ww__text_add(list, channel->step[last].step);
        }
        i = last;
    }
    return ww__text_string(list);
}

/* One sentence about some steps of a channel: "Steps 1, 2 (red) " and what is the matter. */
static ww_status add_steps(ww_scanner *scanner, ww_channel channel, step_test *test,
                           const char *what, ww_error *err) {
    ww__text list;
    const char *named = name_steps(scanner, &scanner->channel[channel], test, &list);
    ww_status status = ww__text_status(&list, err);
    if (named && status == WW_OK)
        status =
            ww_notes_add(&scanner->notes, err, "%s (%s) %s", named, ww_channel_name(channel), what);
    ww__text_release(&list);
    return status;
}

/* Whether each of two suspects reads the other's density. */
static bool are_swapped(const ww_scanner_step *a, const ww_scanner_step *b) {
    const double limit = swapped_misfit * fabs(a->density - b->density);
    return a->suspect && b->suspect && fabs(a->fitted - b->density) < limit &&
           fabs(b->fitted - a->density) < limit;
}

/* The step that it was swapped with; NULL: none. */
static const ww_scanner_step *partner_of(const ww_scanner_channel *channel,
                                         const ww_scanner_step *step) {
    for (size_t i = 0; i < channel->n_steps; i++)
        if (are_swapped(&channel->step[i], step))
            return &channel->step[i];
    return NULL;
}

static ww_status add_suspect(ww_scanner *scanner, ww_channel channel, const ww_scanner_step *step,
                             ww_error *err) {
    const double off = step->fitted - step->density;
    char text[24];
    ww_number_format(fabs(off), 2, text, sizeof text);
    return ww_notes_add(&scanner->notes, err,
                        "Step %s (%s) reads %s D %s than its density in the wedge file and all "
                        "other steps say; it was left out. Look for dust or a scratch, and at that "
                        "density.",
                        step->step, ww_channel_name(channel), text,
                        off > 0.0 ? "denser" : "thinner");
}

static ww_status add_suspects(ww_scanner *scanner, ww_channel channel, ww_error *err) {
    const ww_scanner_channel *c = &scanner->channel[channel];
    ww_status status = WW_OK;
    for (size_t i = 0; i < c->n_steps && status == WW_OK; i++) {
        const ww_scanner_step *step = &c->step[i];
        const ww_scanner_step *partner = step->suspect ? partner_of(c, step) : NULL;
        if (partner && partner > step)
            status = ww_notes_add(&scanner->notes, err,
                                  "Steps %s and %s (%s) look swapped, in the wedge file or on the "
                                  "glass: each reads the density of the other. Both were left out; "
                                  "see which is wrong, put it right and calibrate again.",
                                  step->step, partner->step, ww_channel_name(channel));
        else if (step->suspect && !partner)
            status = add_suspect(scanner, channel, step, err);
    }
    return status;
}

ww_status ww__scanner_step_notes_add(ww_scanner *scanner, ww_channel channel, ww_error *err) {
    assert(scanner && scanner->channel[channel].present);
    ww_status status = add_steps(scanner, channel, is_bright,
                                 "clipped at the bright end: no part in the calibration. Scan with "
                                 "less exposure.",
                                 err);
    if (status == WW_OK)
        status = add_steps(scanner, channel, is_dark,
                           "clipped at the dark end: no part in the calibration. The scanner, or "
                           "its black correction, ends before them.",
                           err);
    if (status == WW_OK)
        status = add_steps(scanner, channel, is_compressed,
                           "compressed: over half of the light there is flare and dark, and "
                           "densities are read with growing doubt. Mask all clear glass.",
                           err);
    return status == WW_OK ? add_suspects(scanner, channel, err) : status;
}
