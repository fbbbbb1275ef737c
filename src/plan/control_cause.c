/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/control_parts.h"
#include <math.h>
#include <string.h>

/* Where a measure has gone, by all its channels that are off together. */
typedef enum way { DOWN = -1, STAYS = 0, UP = 1, EITHER = 2 } way;

/* Beside a measure that breaks a rule another that is nearly so far off belongs to the picture. */
static bool is_off(const ww_control_chart *chart, const ww_control_point *point) {
    static const double sigmas = 2.0;
    if (!point->read)
        return false;
    return point->rules || (chart->has_history && fabs(point->value - chart->history.centre) >
                                                      sigmas * chart->history.sigma);
}

/* Channels that have gone opposite ways have gone nowhere together. */
static way way_of(const ww_control_lot *lot, size_t at, const char *name) {
    int up = 0, down = 0;
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_chart *chart = &lot->chart[c];
        const ww_control_point *point = &chart->point[at];
        const double centre = chart->has_history ? chart->history.centre : chart->aim;
        if (!name || strcmp(chart->measure, name) != 0 || !is_off(chart, point))
            continue;
        up += point->value > centre;
        down += point->value < centre;
    }
    return up > down ? UP : down > up ? DOWN : STAYS;
}

/* Whether every step that was read is off to one side, D-min among them, thin and dense alike. */
static bool all_alike(const ww_control_lot *lot, size_t at) {
    const double least = 0.02; /* [D] beyond a reading's error */
    double side = 0.0;
    size_t n = 0;
    if (way_of(lot, at, "D-min") == STAYS)
        return false;
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_point *point = &lot->chart[c].point[at];
        if (lot->chart[c].kind != WW_CONTROL_DENSITY || !point->read)
            continue;
        if (fabs(point->deviation) < least || point->deviation * side < 0.0)
            return false;
        side = point->deviation;
        n++;
    }
    return n > 2;
}

static const struct {
    way d_min, ld, contrast, d_max;
    const char *cause;
} causes[] = {
    {EITHER, UP, UP, EITHER,
     "More development than before: the developer too warm, its time too long, too strong or "
     "replenished too much."},
    {EITHER, DOWN, DOWN, EITHER,
     "Less development than before: the developer too cold, its time too short, exhausted, diluted "
     "or replenished too little."},
    {EITHER, UP, STAYS, EITHER,
     "More speed alone: the strip got light besides, or the developer changed in kind."},
    {EITHER, DOWN, STAYS, EITHER,
     "Less speed alone: a strip that lay warm or beyond its date, or a developer that changed in "
     "kind."},
    {EITHER, STAYS, UP, EITHER,
     "More contrast alone: more agitation, or a developer that is "
     "stronger or warmer."},
    {EITHER, STAYS, DOWN, EITHER,
     "Less contrast alone: less agitation, or a developer that is "
     "weaker or colder."},
    {EITHER, UP, DOWN, EITHER,
     "Speed up and contrast down: fog, or another bath carried into the "
     "developer."},
    {EITHER, DOWN, UP, EITHER,
     "Speed down and contrast up: another bath carried into the "
     "developer, or a developer mixed wrongly."},
    {UP, EITHER, EITHER, EITHER,
     "D-min higher: light or heat on the strip, an unsafe light, a contaminated developer, or too "
     "little fixing, bleaching or washing."},
    {EITHER, EITHER, EITHER, UP,
     "D-max higher: in colour, silver that was left: a bleach that is exhausted, too cold or too "
     "short."},
    {EITHER, EITHER, EITHER, DOWN,
     "D-max lower: too little development, or in colour a dye that did not form in full."},
};

static bool fits(way wanted, way found) {
    return wanted == EITHER || wanted == found;
}

static bool is_silent(way d_min, way ld, way contrast, way d_max) {
    return d_min == STAYS && ld == STAYS && contrast == STAYS && d_max == STAYS;
}

/* On reversal material more of the first development leaves less density. */
static ww_status reversal_causes(way ld, ww_notes *notes, ww_error *err) {
    if (ld == STAYS)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "%s first development than before, by warmth, time or strength.",
                        ld == DOWN ? "More" : "Less");
}

static ww_status table_causes(const ww_control_lot *lot, size_t at, ww_notes *notes,
                              ww_error *err) {
    const way d_min = way_of(lot, at, "D-min"), ld = way_of(lot, at, "LD");
    const way contrast = way_of(lot, at, "HD-LD"), d_max = way_of(lot, at, "D-max");
    ww_status status = WW_OK;
    if (is_silent(d_min, ld, contrast, d_max))
        return WW_OK;
    if (lot->reference->reversal)
        return reversal_causes(ld, notes, err);
    for (size_t i = 0; i < sizeof causes / sizeof *causes && status == WW_OK; i++)
        if (fits(causes[i].d_min, d_min) && fits(causes[i].ld, ld) &&
            fits(causes[i].contrast, contrast) && fits(causes[i].d_max, d_max))
            status = ww_notes_add(notes, err, "%s", causes[i].cause);
    return status;
}

static ww_status lot_causes(const ww_control_lot *lot, size_t at, ww_notes *notes, ww_error *err) {
    const bool spread = way_of(lot, at, "LD spread") == UP || way_of(lot, at, "HD spread") == UP;
    ww_status status = WW_OK;
    if (all_alike(lot, at))
        status = ww_notes_add(notes, err,
                              "Every step alike: the densitometer's zero or calibration, the "
                              "reference of another lot, or light on the whole strip.");
    else
        status = table_causes(lot, at, notes, err);
    if (status == WW_OK && spread)
        status = ww_notes_add(notes, err,
                              "The colours apart: a contaminated bath, a strip that lay warm, or "
                              "the densitometer's filters.");
    if (status == WW_OK)
        status = ww_notes_add(notes, err,
                              "The strip itself, or its reading: fogged, warm, beyond its date, "
                              "wet, dirty, or a figure mistyped. That is why a second one comes "
                              "first.");
    return status;
}

ww_status ww__control_causes(ww_control *control, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < control->n && status == WW_OK; i++) {
        const ww_control_series *series = &control->series[i];
        size_t at;
        const ww_control_lot *lot = ww_control_focus(series, &at);
        if (lot && series->row[series->row_at].state != WW_CONTROL_IN)
            status = lot_causes(lot, at, &control->causes, err);
    }
    return status;
}
