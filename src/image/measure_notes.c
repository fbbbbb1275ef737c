/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/measure_notes.h"

#include "image/density.h"
#include "image/density_notes.h"
#include "image/fault.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/number.h>

/* ------------------------------------------------------------------------------ the pixels */

static ww_status note_few(ww_measured *m, const char *what, ww_error *err) {
    ww__fault few = {.patches = 0};
    char words[WW__FAULT_WORDS];
    for (size_t i = 0; i < m->n; i++)
        if (m->patch[i].n < WW__NOTES_PIXELS)
            ww__fault_keep(&few, i, WW_CHANNEL_COUNT, (double)(WW__NOTES_PIXELS - m->patch[i].n));
    if (few.patches == 0)
        return WW_OK;
    return ww_notes_add(&m->notes, err,
                        "%s: only %zu pixel%s the code; scan with more pixels, or take a larger %s",
                        ww__fault_who(m, what, &few, words), m->patch[few.patch].n,
                        m->patch[few.patch].n == 1 ? " tells" : "s tell", what);
}

/* Step of the codes from where on it is worth a note, where it is not the same everywhere. */
static double coarse_of(unsigned bits) {
    return bits > 8 ? WW__DENSITY_COARSE : 1.0;
}

ww_status ww__measure_step_note(const char *who, unsigned bits, double white, double least,
                                double most, ww_notes *notes, ww_error *err) {
    char step[32];
    assert(who && notes);
    if (most > coarse_of(bits) && most > least)
        return ww_notes_add(notes, err,
                            "%s: codes come in uneven steps, %s apart in the mean: a curve or "
                            "levels went over fewer bits than the file has, and densities are the "
                            "more doubtful the wider; scan in 16 bit with curves and levels off",
                            who, ww_number_format(most, bits > 8 ? 0 : 1, step, sizeof step));
    if (!(least > WW__DENSITY_COARSE))
        return WW_OK;
    return ww_notes_add(notes, err,
                        "This %u bit file holds %ld bits: its codes come in steps of %ld, and "
                        "densities are the more doubtful the darker; scan in %u bit",
                        bits, lround(log2(white / least + 1.0)), lround(least), bits);
}

ww_status ww__measure_dim_note(unsigned bits, double white, double most, ww_notes *notes,
                               ww_error *err) {
    assert(notes);
    if (bits != 16 || !(most > 0.0) || most > white / 16.0)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "No code here is over %ld of %ld, a sixteenth of the scale: either 12 bits "
                        "were stored as they are in a file of 16, and what is clipped at their end "
                        "is not seen as such, or the exposure was far too short; export so that "
                        "the codes fill the scale, or scan with more exposure",
                        lround(most), lround(white));
}

/* Steps of the codes that differ from patch to patch: a comb that a curve made. */
static ww_status note_coarse(ww_measured *m, const char *what, ww_error *err) {
    double least = HUGE_VAL;
    ww__fault comb = {.patches = 0};
    char words[WW__FAULT_WORDS];
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            if (!m->has[c])
                continue;
            const double step = m->patch[i].channel[c].step;
            least = fmin(least, step);
            if (step > coarse_of(m->bits))
                ww__fault_keep(&comb, i, (ww_channel)c, step);
        }
    if (m->n == 0)
        return WW_OK;
    return ww__measure_step_note(ww__fault_who(m, what, &comb, words), m->bits, m->white, least,
                                 comb.value, &m->notes, err);
}

/* A line is one fault, however many steps it crosses: "a line across steps '4' to '9'". */
static ww_status note_lines(ww_measured *m, const char *what, ww_error *err) {
    ww_status status = WW_OK;
    size_t end;
    for (size_t i = 0; i < m->n && status == WW_OK; i = end) {
        double least = m->patch[i].rejected, greatest = least;
        char low[32], high[32];
        end = i + 1;
        if (m->patch[i].line == 0)
            continue;
        for (; end < m->n && m->patch[end].line == m->patch[i].line; end++) {
            least = fmin(least, m->patch[end].rejected);
            greatest = fmax(greatest, m->patch[end].rejected);
        }
        status = ww_notes_add(&m->notes, err,
                              "A line, scratch or hair, runs across %ss '%.40s' to '%.40s': it was "
                              "left out, with what else is unlike the rest %s to %s %% of each; "
                              "see measure --overlay, clean it and scan again",
                              what, m->patch[i].step, m->patch[end - 1].step,
                              ww__fault_percent(least, low, sizeof low),
                              ww__fault_percent(greatest, high, sizeof high));
    }
    return status;
}

static size_t most_no_number(const ww_measured *m, size_t i) {
    size_t most = 0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (m->has[c] && m->patch[i].channel[c].no_number > most)
            most = m->patch[i].channel[c].no_number;
    return most;
}

static ww_status note_no_number(ww_measured *m, const char *what, ww_error *err) {
    ww__fault hole = {.patches = 0};
    char words[WW__FAULT_WORDS];
    for (size_t i = 0; i < m->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            if (m->has[c] && m->patch[i].channel[c].no_number > 0)
                ww__fault_keep(&hole, i, (ww_channel)c, (double)m->patch[i].channel[c].no_number);
    if (hole.patches == 0)
        return WW_OK;
    const size_t n = (size_t)hole.value;
    return ww_notes_add(&m->notes, err,
                        "%s: %zu pixel%s (NaN or infinite) and %s left out; export the scan anew",
                        ww__fault_who(m, what, &hole, words), n,
                        n == 1 ? " is no number" : "s are no numbers", n == 1 ? "was" : "were");
}

/* Of the pixels that are numbers; the others have a note of their own. */
static double dirt_of(const ww_measured *m, size_t i) {
    const ww_patch *patch = &m->patch[i];
    const double seen = (double)patch->n / (1.0 - patch->rejected);
    return patch->rejected - (double)most_no_number(m, i) / seen;
}

static ww_status note_rejected(ww_measured *m, const char *what, ww_error *err) {
    ww__fault dirt = {.patches = 0};
    char words[WW__FAULT_WORDS], share[32];
    bool light;
    /* Where noise piles up at an end of the codes, what lies further off is the rest of it. */
    for (size_t i = 0; i < m->n; i++)
        if (dirt_of(m, i) > WW__NOTES_REJECTED && m->patch[i].line == 0 &&
            !ww__density_is_none(m, i) && !(ww__density_clipped(m, i, &light) > 0.0))
            ww__fault_keep(&dirt, i, WW_CHANNEL_COUNT, dirt_of(m, i));
    if (dirt.patches == 0)
        return WW_OK;
    return ww_notes_add(&m->notes, err,
                        "%s: %s %% of the pixels are unlike the rest (dust, hairs, scratches, or "
                        "detail) and were left out; see measure --overlay, clean it and scan again",
                        ww__fault_who(m, what, &dirt, words),
                        ww__fault_percent(dirt.value, share, sizeof share));
}

ww_status ww__measure_notes(ww_measured *measured, const char *what,
                            const ww_measure_request *request, ww_error *err) {
    assert(measured && what);
    ww_status status = note_coarse(measured, what, err);
    if (status == WW_OK)
        status = note_few(measured, what, err);
    if (status == WW_OK)
        status = note_lines(measured, what, err);
    if (status == WW_OK)
        status = note_no_number(measured, what, err);
    if (status == WW_OK)
        status = note_rejected(measured, what, err);
    return status == WW_OK ? ww__density_notes(measured, what, request, err) : status;
}

/* ------------------------------------------------------------------------------- the widths */

/* Of the part that was read, which is the same share of each step. */
static double length_of(const ww_patch *patch) {
    return hypot(patch->corner[1][0] - patch->corner[0][0],
                 patch->corner[1][1] - patch->corner[0][1]);
}

/* Sum of squared departures of shares of the whole. */
static double departure(const ww_measured *m, const double width[], bool turned) {
    double lengths = 0.0, widths = 0.0, sum = 0.0;
    for (size_t i = 0; i < m->n; i++) {
        lengths += length_of(&m->patch[i]);
        widths += width[i];
    }
    for (size_t i = 0; i < m->n; i++) {
        const double d =
            length_of(&m->patch[i]) / lengths - width[turned ? m->n - 1 - i : i] / widths;
        sum += d * d;
    }
    return sum;
}

ww_status ww__measure_width_note(ww_measured *measured, const double width[], bool known,
                                 ww_error *err) {
    assert(measured && width && measured->n > 0);
    const double as_given = departure(measured, width, false);
    const double least = WW__NOTES_WIDTH * WW__NOTES_WIDTH / (double)measured->n;
    if (!(as_given > least && departure(measured, width, true) < 0.5 * as_given))
        return WW_OK;
    return ww_notes_add(
        &measured->notes, err,
        "The steps are as wide as they were said to be from the other end: step "
        "'%.40s' may lie where '%.40s' was read; see measure --overlay, and check the "
        "widths, or %s",
        measured->patch[0].step, measured->patch[measured->n - 1].step,
        known ? "whether the densities of the wedge file stand in the same order"
              : "where numbering begins (--reverse)");
}

/* ------------------------------------------------------------------------------- their order */

/* D by which light surely rises from a step to the next, or falls where `sign` is -1. */
static double rise(const ww_measured *m, size_t i, int c, const ww_scanner *scanner, double sign) {
    const ww_patch *a = &m->patch[i], *b = &m->patch[i + 1];
    const ww_patch_channel *from = &a->channel[c], *to = &b->channel[c];
    const double noise = hypot(from->sd / sqrt((double)a->n), to->sd / sqrt((double)b->n));
    const double low = ww__density_light(scanner, m->white, from->code);
    const double high = ww__density_light(scanner, m->white, to->code);
    const bool surely = sign * (to->code - from->code) > fmax(6.0 * noise, to->step);
    return surely && low > 0.0 && high > 0.0 ? sign * log10(high / low) : 0.0;
}

ww_status ww__measure_order_note(ww_measured *measured, const ww_scanner *scanner, ww_error *err) {
    ww__fault order = {.patches = 0};
    char words[WW__FAULT_WORDS], density[32];
    assert(measured && measured->n > 1);
    for (size_t i = 0; i + 1 < measured->n; i++)
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const ww_patch *first = measured->patch, *last = &first[measured->n - 1];
            const double sign = first->channel[c].code > last->channel[c].code ? 1.0 : -1.0;
            const double by = measured->has[c] ? rise(measured, i, c, scanner, sign) : 0.0;
            if (by > WW__NOTES_ORDER && first[i].n > 0 && first[i + 1].n > 0)
                ww__fault_keep(&order, i + 1, (ww_channel)c, by);
        }
    if (order.patches == 0)
        return WW_OK;
    return ww_notes_add(&measured->notes, err,
                        "%s: out of order with the step before it, by %s D of light, and read as "
                        "it lies; see by measure --overlay whether the two were swapped, or one is "
                        "dirty or solarised",
                        ww__fault_who(measured, "step", &order, words),
                        ww_number_format(order.value, 2, density, sizeof density));
}

/* ----------------------------------------------------------------------- the same wedge again */

static const ww_patch *patch_of(const ww_measured *m, const char *step) {
    for (size_t i = 0; i < m->n; i++)
        if (strcmp(m->patch[i].step, step) == 0)
            return &m->patch[i];
    return NULL;
}

static bool is_of(const ww_readings *wedge, int c, const ww_scanner_step *step) {
    const int column = wedge->has[c] ? c : (int)WW_VISUAL;
    for (size_t i = 0; i < wedge->n; i++) {
        const ww_cell *cell = &wedge->row[i].cell[column];
        if (strcmp(wedge->row[i].step, step->step) == 0)
            return cell->state == WW_CELL_VALUE && fabs(cell->value - step->density) < 0.0005;
    }
    return false;
}

/* The thinnest step that was not clipped when the scanner was calibrated, if all are the
 * wedge's. */
static const ww_scanner_step *base_step(const ww_readings *wedge, int c,
                                        const ww_scanner_channel *channel) {
    const ww_scanner_step *thinnest = NULL;
    for (size_t i = 0; i < channel->n_steps; i++) {
        const ww_scanner_step *step = &channel->step[i];
        if (!is_of(wedge, c, step))
            return NULL;
        if (!step->clipped && !step->suspect && (!thinnest || step->density < thinnest->density))
            thinnest = step;
    }
    return thinnest;
}

/* Density now less that of the calibration, by the codes alone. */
static double moved(const ww_scanner *scanner, int c, const ww_patch *patch, double then) {
    const ww_scanner_channel *channel = &scanner->channel[c];
    const double flare = channel->k * channel->flare.value + channel->dark.value;
    const double now_light = ww_scanner_light(scanner, patch->channel[c].code) - flare;
    const double then_light = ww_scanner_light(scanner, then) - flare;
    return now_light > 0.0 && then_light > 0.0 ? log10(then_light / now_light) : 0.0;
}

ww_status ww__measure_base_note(ww_measured *measured, const ww_readings *wedge,
                                const ww_scanner *scanner, ww_error *err) {
    ww__fault base = {.patches = 0};
    char words[WW__FAULT_WORDS], density[32];
    assert(measured && wedge && scanner);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_step *step =
            measured->has[c] ? base_step(wedge, c, &scanner->channel[c]) : NULL;
        const ww_patch *patch = step ? patch_of(measured, step->step) : NULL;
        const double by = patch ? moved(scanner, c, patch, step->code) : 0.0;
        if (fabs(by) > WW__NOTES_BASE)
            ww__fault_keep(&base, (size_t)(patch - measured->patch), (ww_channel)c, by);
    }
    if (base.patches == 0)
        return WW_OK;
    base.patches = 1;
    ww__density_put_off(measured);
    ww_number_format(fabs(base.value), 2, density, sizeof density);
    return ww_notes_add(&measured->notes, err,
                        "%s reads %s D %s than when the scanner was calibrated on this wedge: "
                        "exposure or levels differ (automatic ones?), and so do all densities; "
                        "calibrate anew with the settings of this scan",
                        ww__fault_who(measured, "step", &base, words), density,
                        base.value > 0.0 ? "denser" : "thinner");
}
