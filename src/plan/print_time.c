/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/exposure.h>

static const double clock_least =
    1e-6; /* [s] no shutter is as fast; keeps ratios of times finite */

double ww__print_time_exponent(const ww_print_request *request, ww_optional reference) {
    return request->reciprocity.set && reference.set ? request->reciprocity.value : 1.0;
}

double ww__print_time_reciprocal(double exponent, ww_optional reference, double time_s) {
    if (exponent == 1.0)
        return time_s;
    return reference.value * pow(time_s / reference.value, exponent);
}

/* log10 of the seconds that put the first tone at its aim, before size, aperture and drying. */
static bool find_log_time(const ww_print_request *request, const ww__print_negative *negative,
                          const ww__print_sheet *sheet, const ww__print_fate *fate,
                          ww__print_test *test, double *log_time) {
    const double taught = sheet->offset ? sheet->offset->log_h : 0.0;
    const double wanted = fate->first_log_h + negative->spot[negative->first].seen - taught;
    if (request->n_tests > 0) {
        if (!ww__print_tests_place(request, negative, sheet, test))
            return false;
        *log_time = wanted + test->worth;
        return true;
    }
    *log_time = wanted;
    return negative->absolute && sheet->curve->meta.exposure_unit == WW_UNIT_SECOND &&
           ww_curve_origin_given(sheet->curve);
}

/* Size and aperture come after; paper read wet dries darker, so it gets less. */
static ww_status find_factor(const ww_print_request *request, const ww__print_sheet *sheet,
                             double *factor, ww_error *err) {
    double scale = 1.0, aperture = 1.0;
    ww_status status = WW_OK;
    if (request->scale.set)
        status = ww_exposure_scale(request->from_scale.value, request->scale.value, &scale, err);
    if (status == WW_OK && request->aperture.set)
        status = ww_exposure_aperture(request->from_aperture.value, request->aperture.value,
                                      &aperture, err);
    *factor = scale * aperture;
    if (sheet->curve->meta.read == WW_READ_WET)
        *factor *= 1.0 - request->dry_down_percent / 100.0;
    return status;
}

/* A strip that was exposed second by second has its reciprocity in it: what counts is the time that
 * gave the aim there. */
ww_optional ww__print_time_reference(const ww_print_request *request, const ww__print_sheet *sheet,
                                     const ww__print_fate *fate, const ww__print_test *test) {
    const ww_meta *meta = &sheet->curve->meta;
    const double zero = meta->log_h0.set ? meta->log_h0.value : 0.0;
    if (test->used)
        return (ww_optional){true, request->test[test->which].time_s};
    if (sheet->curve->exposure == WW_EXPOSURE_TIME)
        return (ww_optional){true, fmax(pow(10.0, fate->first_log_h - zero), clock_least)};
    return (ww_optional){meta->exposure_time_s.set && meta->exposure_time_s.value > clock_least,
                         meta->exposure_time_s.value};
}

ww_status ww__print_time_refuse(ww_print_paper *paper, const char *why, ww_error *err) {
    const size_t size = strlen(why) + 1;
    paper->holds = false;
    paper->time_s.set = paper->doubt_stops.set = false;
    paper->n_budget = 0;
    paper->split.set = false;
    for (size_t i = 0; i < paper->n_tones; i++) {
        ww_print_tone *tone = &paper->tone[i];
        tone->burn_seconds.set = tone->hand_seconds.set = false;
        tone->soft_seconds.set = tone->soft_separation.set = false;
    }
    paper->no_time = malloc(size);
    if (!paper->no_time)
        return ww_error_set(err, WW_EMEMORY, "no memory for a sentence");
    memcpy(paper->no_time, why, size);
    return WW_OK;
}

static ww_status tell_outside(const ww_print_request *request, const ww__print_negative *negative,
                              const ww__print_sheet *sheet, ww_print_paper *paper, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    return ww__print_time_refuse(
        paper,
        ww__print_format(text, sizeof text,
                         "the test print's %.2f above white lies outside what was measured on "
                         "'%s', %.2f to %.2f; make one where '%s' is near %.2f",
                         request->test[0].density, ww__print_show(sheet->name).text,
                         ww__print_net(sheet->lightest), sheet->darkest,
                         ww__print_show(negative->spot[negative->first].name).text,
                         negative->first_aim),
        err);
}

/* The shorter of the exposures that the timer is set to. */
static double shortest(const ww__print_sheet *sheet, double time_s) {
    const double soft = sheet->soft;
    const bool mixed = sheet->splits && soft > WW__SPLIT_SAME && soft < 1.0 - WW__SPLIT_SAME;
    return mixed ? fmin(soft, 1.0 - soft) * time_s : time_s;
}

static bool is_settable(const ww_print_request *request, const ww__print_sheet *sheet,
                        double time_s) {
    return shortest(sheet, time_s) >= 0.5 * request->timer_step_s && time_s <= WW_PRINT_TEST_MOST;
}

static ww_status tell_unsettable(const ww_print_request *request, const ww__print_sheet *sheet,
                                 double time_s, ww_print_paper *paper, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    const double least = shortest(sheet, time_s);
    if (time_s > WW_PRINT_TEST_MOST)
        ww__print_format(text, sizeof text,
                         "it comes out at %.3g s, more than any timer or patience has; open the "
                         "lens, or check the densities and what was given",
                         time_s);
    else
        ww__print_format(text, sizeof text,
                         "%s comes out at %.3g s, under half a step of the timer, %g s; stop the "
                         "lens down, or give the --timer-step that it has",
                         least < time_s ? "one of its two exposures" : "it", least,
                         request->timer_step_s);
    return ww__print_time_refuse(paper, text, err);
}

/* What a burn or dodge of so many stops takes. */
static ww_status move_seconds(double time_s, double exponent, ww_optional stops,
                              ww_optional *seconds, ww_error *err) {
    seconds->set = stops.set;
    if (!stops.set)
        return WW_OK;
    return ww_exposure_burn_seconds(time_s, exponent * stops.value, &seconds->value, err);
}

ww_status ww__print_time_set(const ww_print_request *request, const ww__print_negative *negative,
                             const ww__print_sheet *sheet, const ww__print_fate *fate,
                             ww__print_test *test, ww_print_paper *paper, ww_error *err) {
    double log_time = 0.0, factor = 1.0, exponent, time_s;
    ww_optional reference;
    ww_status status;
    if (!find_log_time(request, negative, sheet, fate, test, &log_time))
        return request->n_tests > 0 ? tell_outside(request, negative, sheet, paper, err) : WW_OK;
    status = find_factor(request, sheet, &factor, err);
    reference = ww__print_time_reference(request, sheet, fate, test);
    exponent = ww__print_time_exponent(request, reference);
    time_s = ww__print_time_reciprocal(exponent, reference, factor * pow(10.0, log_time));
    if (status == WW_OK && (!isfinite(time_s) || !(time_s > 0.0)))
        status =
            ww_error_set(err, WW_EDOMAIN,
                         "the time for '%s' comes out beyond any clock; check the log H of the "
                         "paper and the test print",
                         ww__print_show(sheet->name).text);
    if (status == WW_OK && !is_settable(request, sheet, time_s))
        return tell_unsettable(request, sheet, time_s, paper, err);
    if (status != WW_OK)
        return status;
    paper->time_s = (ww_optional){true, time_s};
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        ww_print_tone *tone = &paper->tone[i];
        status = move_seconds(time_s, exponent, tone->burn_stops, &tone->burn_seconds, err);
        if (status == WW_OK)
            status = move_seconds(time_s, exponent, tone->hand_stops, &tone->hand_seconds, err);
    }
    if (status == WW_OK && sheet->splits)
        status = ww__print_split_tell(negative, sheet, fate, exponent, paper, err);
    return status;
}
