/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/plateau.h"

#include "base/text.h"
#include "core/scanner_steps.h"
#include <assert.h>
#include <math.h>

static const double one_code = 0.5; /* steps of the codes, of an sd */
static const double noisy = 4.0;    /* the same, of a step's */
static const double near = 0.5;     /* of the plateau */

static double step_of(const ww_measured *m, const ww_patch_channel *p) {
    return ww__scanner_steps_code(p->step, m->white);
}

/* A step that is darker, but not by much, and has noise. */
static bool has_noise_below(const ww_measured *m, int c, double code) {
    for (size_t i = 0; i < m->n - m->n_spots; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        const double step = step_of(m, p);
        if (p->code >= near * code && p->code < code - step && p->sd >= noisy * step)
            return true;
    }
    return false;
}

static ww_optional find(const ww_measured *m, int c) {
    const ww_surround *beside = &m->surround[c];
    double code = beside->seen ? beside->code : 0.0, sd = beside->sd, step = 0.0;
    for (size_t i = 0; i < m->n - m->n_spots; i++) {
        const ww_patch_channel *p = &m->patch[i].channel[c];
        step = fmax(step, step_of(m, p));
        if (p->code > code)
            code = p->code, sd = p->sd;
    }
    const bool ends = sd < one_code * step && code < m->white - step && has_noise_below(m, c, code);
    return ends ? (ww_optional){true, round(code)} : (ww_optional){.set = false};
}

/* Where half the pixels and more have that code. */
static void mark(ww_measured *m, int c) {
    const double end = m->clips[c].value;
    for (size_t i = 0; i < m->n; i++) {
        ww_patch_channel *p = &m->patch[i].channel[c];
        if (p->code >= end - one_code * step_of(m, p))
            p->clipped = fmax(p->clipped, 1.0 - m->patch[i].rejected);
    }
    if (m->surround[c].seen && m->surround[c].code >= end - one_code)
        m->surround[c].clipped = 1.0;
}

ww_status ww__plateau_find(ww_measured *m, ww_error *err) {
    ww__text ends = WW__TEXT_INIT;
    assert(m);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        if (!m->has[c] || m->clips[c].set)
            continue;
        m->clips[c] = find(m, c);
        if (!m->clips[c].set)
            continue;
        mark(m, c);
        ww__text_add_format(&ends, "%s%ld (%s)", ends.n > 0 ? ", " : "", lround(m->clips[c].value),
                            ww_channel_name((ww_channel)c));
    }
    ww_status status = ww__text_status(&ends, err);
    if (status == WW_OK && ends.n > 0)
        status =
            ww_notes_add(&m->notes, err,
                         "Codes end at %s of %ld: the lightest has that code alone, and darker "
                         "steps have noise. Either the scanner has fewer bits than its file, or "
                         "codes were scaled after they clipped; what lies there is clipped, and "
                         "more exposure makes more of it so",
                         ww__text_string(&ends), lround(m->white));
    ww__text_release(&ends);
    return status;
}
