/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/exposure.h>

/* What a test print says of a second: log t less log H and the density seen. */
static double worth_of(const ww_print_request *request, const ww__print_negative *negative,
                       const ww__print_test *test, size_t which, double log_h) {
    return log10(request->test[which].time_s) - log_h - negative->spot[test->spot_of[which]].seen;
}

/*
 * Two test prints: what a second is worth goes in a straight line of print density from one to the
 * other, and stays that of the nearer one beside both. On a straight curve that is the time between
 * two prints in proportion to their densities, whatever the slope of the curve was taken for.
 */
static void weigh_tests(const ww_print_request *request, const ww__print_negative *negative,
                        const double log_h[WW_PRINT_TESTS_MOST], ww__print_test *test) {
    const double aim = negative->first_aim, one = request->test[0].density;
    const double apart = request->test[1].density - one;
    const double share = fabs(apart) > 0.0 ? (aim - one) / apart : 0.5;
    const double worth[] = {worth_of(request, negative, test, 0, log_h[0]),
                            worth_of(request, negative, test, 1, log_h[1])};
    const double held = fmin(fmax(share, 0.0), 1.0);
    test->both = true;
    test->which = held > 0.5 ? 1 : 0;
    test->disagree = worth[1] - worth[0];
    test->other_log_h = log_h[1 - test->which];
    test->outside = share < 0.0 || share > 1.0;
    test->moved = worth[0] + held * test->disagree - worth[test->which];
}

/* Finds the tests on the curve; false where none of them lies on it. */
static bool place_tests(const ww_print_request *request, const ww__print_negative *negative,
                        const ww__print_sheet *sheet, ww__print_test *test) {
    double log_h[WW_PRINT_TESTS_MOST] = {0.0};
    size_t on = 0;
    for (size_t i = 0; i < request->n_tests; i++)
        if (ww__print_papers_log_h(sheet, request->test[i].density, &log_h[i]))
            on++, test->which = i;
    test->used = on > 0;
    if (on == WW_PRINT_TESTS_MOST)
        weigh_tests(request, negative, log_h, test);
    test->spot = test->spot_of[test->which];
    test->log_h = log_h[test->which];
    return test->used;
}

/* log10 of the seconds that put the first tone at its aim, before size, aperture and drying. */
static bool find_log_time(const ww_print_request *request, const ww__print_negative *negative,
                          const ww__print_sheet *sheet, const ww__print_fate *fate,
                          ww__print_test *test, double *log_time) {
    const double wanted = fate->first_log_h + negative->spot[negative->first].seen;
    if (request->n_tests > 0) {
        if (!place_tests(request, negative, sheet, test))
            return false;
        *log_time =
            wanted + worth_of(request, negative, test, test->which, test->log_h) + test->moved;
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

/* The time of the exposure that the plan goes by: the test print's, or that of the paper's curve. */
ww_optional ww__print_time_reference(const ww_print_request *request, const ww__print_sheet *sheet,
                                     const ww__print_test *test) {
    if (test->used)
        return (ww_optional){true, request->test[test->which].time_s};
    return sheet->curve->meta.exposure_time_s;
}

/* Long and dim does less than short and bright: t = t0 (t'/t0)^P, t' by the exposure alone. */
static double reciprocal(const ww_print_request *request, ww_optional reference, double time_s) {
    if (!request->reciprocity.set || !reference.set || !(reference.value > 0.0))
        return time_s;
    return reference.value * pow(time_s / reference.value, request->reciprocity.value);
}

/* Why there is no time, for the plan. */
static ww_status set_no_time(ww_print_paper *paper, const char *why, ww_error *err) {
    const size_t size = strlen(why) + 1;
    paper->no_time = malloc(size);
    if (!paper->no_time)
        return ww_error_set(err, WW_EMEMORY, "no memory for a sentence");
    memcpy(paper->no_time, why, size);
    return WW_OK;
}

static ww_status tell_outside(const ww_print_request *request, const ww__print_negative *negative,
                              const ww__print_sheet *sheet, ww_print_paper *paper, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    return set_no_time(
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

static bool is_settable(const ww_print_request *request, double time_s) {
    return time_s >= 0.5 * request->timer_step_s && time_s <= WW_PRINT_TEST_MOST;
}

static ww_status tell_unsettable(const ww_print_request *request, double time_s,
                                 ww_print_paper *paper, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (time_s > WW_PRINT_TEST_MOST)
        ww__print_format(text, sizeof text,
                         "it comes out at %.3g s, more than any timer or patience has; open the "
                         "lens, or check the densities and what was given",
                         time_s);
    else
        ww__print_format(text, sizeof text,
                         "it comes out at %.3g s, under half a step of the timer, %g s; stop the "
                         "lens down, or give the --timer-step that it has",
                         time_s, request->timer_step_s);
    return set_no_time(paper, text, err);
}

ww_status ww__print_time_set(const ww_print_request *request, const ww__print_negative *negative,
                             const ww__print_sheet *sheet, const ww__print_fate *fate,
                             ww__print_test *test, ww_print_paper *paper, ww_error *err) {
    const double reciprocity = request->reciprocity.set ? request->reciprocity.value : 1.0;
    double log_time = 0.0, factor = 1.0, time_s;
    ww_status status;
    if (!find_log_time(request, negative, sheet, fate, test, &log_time))
        return request->n_tests > 0 ? tell_outside(request, negative, sheet, paper, err) : WW_OK;
    status = find_factor(request, sheet, &factor, err);
    time_s = reciprocal(request, ww__print_time_reference(request, sheet, test),
                        factor * pow(10.0, log_time));
    if (status == WW_OK && (!isfinite(time_s) || !(time_s > 0.0)))
        status =
            ww_error_set(err, WW_EDOMAIN,
                         "the time for '%s' comes out beyond any clock; check the log H of the "
                         "paper and the test print",
                         ww__print_show(sheet->name).text);
    if (status == WW_OK && !is_settable(request, time_s))
        return tell_unsettable(request, time_s, paper, err);
    if (status != WW_OK)
        return status;
    paper->time_s = (ww_optional){true, time_s};
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        ww_print_tone *tone = &paper->tone[i];
        tone->burn_seconds.set = tone->burn_stops.set;
        if (tone->burn_stops.set)
            status = ww_exposure_burn_seconds(time_s, reciprocity * tone->burn_stops.value,
                                              &tone->burn_seconds.value, err);
    }
    return status;
}
