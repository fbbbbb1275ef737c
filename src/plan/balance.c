/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double log_stop = 0.30102999566398119521; /* log10 2 */
static const double cc = 0.01;                         /* [log H] of 1 CC */
static const double usual_slope =
    3.0; /* [D per log H] of colour paper at a grey; common practice */
static const double told_stops = 0.25; /* a change of time that reciprocity is told of from */

void ww_balance_release(ww_balance *balance) {
    if (!balance)
        return;
    for (size_t i = 0; i < balance->n_tones; i++)
        free(balance->tone[i].tone);
    free(balance->tone);
    ww_notes_release(&balance->ring_row);
    ww_notes_release(&balance->first);
    ww_notes_release(&balance->notes);
    *balance = (ww_balance)WW_BALANCE_INIT;
}

static void start(const ww_balance_request *request, ww_balance_kind kind, ww_balance *plan) {
    *plan = (ww_balance){.kind = kind,
                         .holds = true,
                         .doubt_known = true,
                         .head_scale = request->head_scale,
                         .filter_step = request->filter_step,
                         .timer_step_s = request->timer_step_s,
                         .from = request->from,
                         .stored = request->stored};
}

/* Whatever came of it goes to the caller, or nothing does. */
static ww_status finish(ww_status status, ww_balance *plan, ww_balance *balance) {
    if (status == WW_OK)
        *balance = *plan;
    else
        ww_balance_release(plan);
    return status;
}

static ww_status pool(const ww_balance_request *request, ww__balance_work *work, ww_error *err) {
    ww_status status = ww_readings_pool(request->print, &work->print, err);
    if (status == WW_OK)
        status = ww_readings_pool(request->aim, &work->aim, err);
    if (status == WW_OK && request->ring)
        status = ww_readings_pool(request->ring, &work->ring, err);
    return status;
}

/* Beside a ring-around, a response that cannot be solved is that file's. */
static ww_status blame_ring(const ww_readings *ring, ww_error *err) {
    const ww_error why = err ? *err : (ww_error)WW_ERROR_INIT;
    return why.file[0] ? WW_EDOMAIN
                       : ww_error_set_at(err, WW_EDOMAIN, ring->file, 0, "%s", why.msg);
}

static ww_status make(const ww_balance_request *request, ww_balance_kind kind, ww_balance *balance,
                      ww_error *err) {
    ww_balance plan;
    ww__balance_work work = {.request = request,
                             .plan = &plan,
                             .print = WW_READINGS_INIT,
                             .aim = WW_READINGS_INIT,
                             .ring = WW_READINGS_INIT,
                             .scatter =
                                 request->repeatability.set ? request->repeatability.value : 0.0,
                             .from_cc = ww__balance_cc(&request->from.pack, request->head_scale)};
    ww_status status;
    start(request, kind, &plan);
    status = pool(request, &work, err);
    if (status == WW_OK)
        status = ww__balance_note_readings(&work, err);
    if (status == WW_OK)
        status = ww__balance_note_slips(&work, err);
    if (status == WW_OK)
        status = ww__balance_tones(&work, err);
    if (status == WW_OK)
        status = ww__balance_ring(&work, err);
    if (status == WW_OK)
        status = ww__balance_solve(&work, err);
    if (status == WW_OK)
        status = ww__balance_foretell(&work, err);
    if (status == WW_OK && request->burn && !plan.burn.set) /* set where it was left out */
        status = ww__balance_burn(&work, err);
    if (status == WW_OK)
        status = ww__balance_notes(&work, err);
    if (status == WW_EDOMAIN && request->ring)
        status = blame_ring(&work.ring, err);
    ww_readings_release(&work.print);
    ww_readings_release(&work.aim);
    ww_readings_release(&work.ring);
    return finish(status, &plan, balance);
}

ww_status ww_balance_print(const ww_balance_request *request, ww_balance *balance, ww_error *err) {
    ww_status status;
    assert(request && request->print && request->aim && request->paper && balance);
    status = ww__balance_check(request, err);
    if (status == WW_OK)
        status = ww__balance_check_print(request, err);
    return status == WW_OK ? make(request, WW_BALANCE_PRINT, balance, err) : status;
}

ww_status ww_balance_negative(const ww_balance_request *request, ww_balance *balance,
                              ww_error *err) {
    ww_status status;
    assert(request && request->print && request->aim && balance);
    assert(!request->ring || request->paper);
    status = ww__balance_check(request, err);
    if (status == WW_OK)
        status = ww__balance_check_negative(request, err);
    return status == WW_OK ? make(request, WW_BALANCE_NEGATIVE, balance, err) : status;
}

/* What paper may answer a size's other time otherwise in each colour, by what is thought of time
 * before prints tell (wedgework/response.h): of the pack and time, and of the light [log H]. */
static ww_status find_reciprocity(const ww_balance *plan, ww_balance_doubt *of,
                                  double light_sd[WW_BALANCE_COLOURS], ww_error *err) {
    const double act[WW_RESPONSE_ACTS] = {log10(plan->carried.factor)};
    const ww_pack pack = ww__balance_cc(&plan->exact.pack, plan->head_scale);
    double covariance[WW_BALANCE_COLOURS * WW_BALANCE_COLOURS], sd[WW_RESPONSE_ACTS];
    ww_response usual;
    ww_status status;
    ww_response_usual(&usual);
    ww_response_change_covariance(&usual, act, covariance);
    status = ww_response_doubt(&usual, &pack, covariance, sd, err);
    if (status != WW_OK)
        return status;
    *of = (ww_balance_doubt){.known = true, .stops = WW__BALANCE_95 * sd[0] / log_stop};
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        of->filter = fmax(of->filter, WW__BALANCE_95 * sd[f + 1] / cc * plan->head_scale);
    for (int c = 0; c < WW_BALANCE_COLOURS; c++)
        light_sd[c] = sqrt(covariance[c * WW_BALANCE_COLOURS + c]);
    return WW_OK;
}

static ww_status note_reciprocity(ww_balance *plan, const ww_balance_doubt *of, ww_error *err) {
    if (fabs(log2(plan->carried.factor)) <= told_stops)
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "Paper does not answer all colours alike to %.2g times the time: for "
                         "reciprocity +-%.1f %s and +-%.2f stop are within the doubt (common "
                         "practice). What it is here, the standard negative printed at the new "
                         "size tells: balance its readings.",
                         plan->carried.factor, of->filter, ww__balance_unit(plan->head_scale),
                         of->stops);
}

static void add_doubts(const ww_balance_doubt *reciprocity, ww_balance *plan) {
    const ww_balance_offset *by = &plan->carried;
    const ww_balance_part part[] = {{"stored plan", by->recipe.filter},
                                    {"offset", by->lot.filter},
                                    {"reciprocity", reciprocity->filter}};
    plan->doubt_known = by->recipe.known && by->lot.known;
    plan->doubt_cc = hypot(hypot(by->recipe.filter, by->lot.filter), reciprocity->filter);
    plan->doubt_stops = hypot(hypot(by->recipe.stops, by->lot.stops), reciprocity->stops);
    for (size_t i = 0; i < sizeof part / sizeof *part && plan->doubt_known; i++)
        plan->budget[plan->n_budget++] = part[i];
}

/* What the stored plan aimed at stays the aim. */
static ww_status foretell_carried(ww_balance *plan, const double light_sd[WW_BALANCE_COLOURS],
                                  ww_error *err) {
    const ww_balance_offset *by = &plan->carried;
    ww_balance_tone *tone;
    if (!by->grey.known || !by->lot_grey.known)
        return WW_OK;
    plan->tone = calloc(1, sizeof *plan->tone);
    tone = plan->tone;
    if (tone)
        tone->tone = strdup("");
    plan->n_tones = tone ? 1 : 0;
    if (!tone || !tone->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for a tone");
    tone->solved = tone->foretold = true;
    for (int c = 0; c < WW_BALANCE_COLOURS; c++) {
        tone->aim[c] = tone->predicted[c] = by->grey.aim[c];
        tone->predicted_half[c] = hypot(hypot(by->grey.half[c], by->lot_grey.half[c]),
                                        WW__BALANCE_95 * usual_slope * light_sd[c]);
    }
    return WW_OK;
}

static ww_status note_carried(ww_balance *plan, ww_error *err) {
    if (plan->n_tones > 0)
        return ww_notes_add(&plan->notes, err,
                            "No print was read for this: that the grey comes to the stored plan's "
                            "aim holds where paper or size change light alone, and but for steps "
                            "of filters and timer. Print the grey, and balance its readings.");
    return ww_notes_add(&plan->notes, err,
                        "No print of this negative was read for it, so that none is foretold%s. "
                        "Print a grey, and balance its readings.",
                        plan->doubt_known ? ""
                                          : ", nor is its doubt known: a plan behind it has "
                                            "none");
}

ww_status ww_balance_carry(const ww_balance_request *request, const ww_balance_offset *offset,
                           ww_balance *balance, ww_error *err) {
    ww_balance plan;
    ww_balance_doubt reciprocity;
    ww_status status;
    double neutral, light_sd[WW_BALANCE_COLOURS];
    assert(request && offset && balance);
    status = ww__balance_check(request, err);
    if (status != WW_OK)
        return status;
    if (!(offset->factor > 0.0) || !isfinite(offset->factor) || !isfinite(offset->stops))
        return ww_error_set(err, WW_EDOMAIN,
                            "a time %g times as long is none; give sizes and an offset above 0",
                            offset->factor);
    start(request, WW_BALANCE_CARRIED, &plan);
    plan.carried = *offset;
    plan.stored = true;
    plan.exact.pack = request->from.pack;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        plan.exact.pack.cc[f] += offset->change.cc[f];
    neutral = ww_pack_reduce(&plan.exact.pack) / request->head_scale;
    plan.stops = offset->stops + log2(offset->factor) - neutral * cc / log_stop;
    plan.exact.time_s = request->from.time_s * exp2(plan.stops);
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        plan.change.cc[f] = plan.exact.pack.cc[f] - request->from.pack.cc[f];
    ww__balance_round(&plan, &plan.exact, &plan.settable);
    status = find_reciprocity(&plan, &reciprocity, light_sd, err);
    if (status == WW_OK) {
        add_doubts(&reciprocity, &plan);
        status = foretell_carried(&plan, light_sd, err);
    }
    if (status == WW_OK)
        status = ww__balance_note_setting(&plan, err);
    if (status == WW_OK)
        status = note_reciprocity(&plan, &reciprocity, err);
    if (status == WW_OK)
        status = note_carried(&plan, err);
    return finish(status, &plan, balance);
}
