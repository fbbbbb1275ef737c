/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <math.h>
#include <wedgework/exposure.h>

/* The base exposure of a split, in the table's own seconds, and what is added through the soft
 * filter alone: the share goes up with it. */
typedef struct base {
    const ww__print_sheet *sheet;
    double total; /* [s] at seen density 0 */
} base;

/* Share and log H of a place with so much soft light besides. */
static double share_with(const base *b, double more) {
    return (b->sheet->soft * b->total + more) / (b->total + more);
}

static double log_h_with(const base *b, double more, double seen) {
    return log10(b->total + more) - seen;
}

/* Whether a place gets at least a net density; `known` is false beyond what was measured. */
static bool is_there(const base *b, double more, double seen, double net, bool *known) {
    double wanted = 0.0;
    *known = ww__print_split_log_h(b->sheet, share_with(b, more), net, &wanted);
    return *known && log_h_with(b, more, seen) >= wanted;
}

/* Soft seconds that bring a place to a net density; false where none are known to. */
static bool find_more(const base *b, double seen, double net, double *more) {
    double low = 0.0, high = b->total * (pow(2.0, WW__PRINT_MOST_MOVE) - 1.0);
    bool known = false;
    if (!is_there(b, high, seen, net, &known) || is_there(b, 0.0, seen, net, &known) || !known)
        return false;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        if (is_there(b, middle, seen, net, &known))
            high = middle;
        else
            low = middle;
        if (!known)
            return false;
    }
    *more = high;
    return true;
}

/* Where the burn brings a tone, and by which of its places that is judged. */
static bool find_target(const base *b, const ww__print_spot *spot, double burn_stops, double *seen,
                        double *net) {
    const bool whole = spot->aim.set || !spot->judged;
    *seen = whole ? spot->seen : spot->end[WW_PART_DENSE].seen;
    return ww__print_split_net(b->sheet, b->sheet->soft,
                               log_h_with(b, 0.0, *seen) + burn_stops * WW__PRINT_LOG_STOP, net);
}

static ww_status tell_tone(const base *b, const ww__print_spot *spot, double time_s,
                           double exponent, ww_print_tone *tone, ww_error *err) {
    double seen = 0.0, net = 0.0, more = 0.0, thin = 0.0, dense = 0.0;
    ww_status status;
    if (!tone->burn_stops.set || !(tone->burn_stops.value > 0.0) || spot->base ||
        !find_target(b, spot, tone->burn_stops.value, &seen, &net) ||
        !find_more(b, seen, net, &more))
        return WW_OK;
    status = ww_exposure_burn_seconds(time_s, exponent * log2(1.0 + more / b->total),
                                      &tone->soft_seconds.value, err);
    tone->soft_seconds.set = status == WW_OK;
    if (status != WW_OK || !spot->judged)
        return status;
    tone->soft_separation.set =
        ww__print_split_net(b->sheet, share_with(b, more),
                            log_h_with(b, more, spot->end[WW_PART_THIN].seen), &thin) &&
        ww__print_split_net(b->sheet, share_with(b, more),
                            log_h_with(b, more, spot->end[WW_PART_DENSE].seen), &dense);
    tone->soft_separation.value = thin - dense;
    return WW_OK;
}

ww_status ww__print_split_tell(const ww__print_negative *negative, const ww__print_sheet *sheet,
                               const ww__print_fate *fate, double exponent, ww_print_paper *paper,
                               ww_error *err) {
    const double shift = fate->first_log_h + negative->spot[negative->first].seen;
    const base b = {sheet, pow(10.0, shift)};
    ww_status status = WW_OK;
    paper->split = (ww_print_split){true, sheet->soft * paper->time_s.value,
                                    (1.0 - sheet->soft) * paper->time_s.value};
    /* There is no softer light than the softest measured, and what earlier prints taught of a
     * range was taught of one share. */
    if (sheet->soft > sheet->splits[0].soft - WW__SPLIT_SAME || sheet->stretch != 1.0)
        return WW_OK;
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        const ww__print_spot *spot = ww__print_tones_named(negative, paper->tone[i].tone);
        if (spot)
            status = tell_tone(&b, spot, paper->time_s.value, exponent, &paper->tone[i], err);
    }
    return status;
}
