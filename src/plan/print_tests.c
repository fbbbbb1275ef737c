/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>

/* Log of the light that a test print's tone got, on no scale in particular: log t less the density
 * seen; t as if it had been exposed for as long as the other, where reciprocity is known. */
static double light_of(const ww_print_request *request, const ww__print_negative *negative,
                       const ww__print_test *test, size_t which) {
    const ww_optional reference = {true, request->test[test->which].time_s};
    const double power = request->reciprocity.set ? 1.0 / request->reciprocity.value : 1.0;
    const double time_s = ww__print_time_reciprocal(power, reference, request->test[which].time_s);
    return log10(time_s) - negative->spot[test->spot_of[which]].seen;
}

/* What a test print says of a second. */
static double worth_of(const ww_print_request *request, const ww__print_negative *negative,
                       const ww__print_test *test, size_t which, double log_h) {
    return light_of(request, negative, test, which) - log_h;
}

/* 95 % half-width of the difference of what two tones let through; one and the same cancels. */
static double light_margin(const ww__print_negative *negative, const size_t spot[]) {
    const ww__print_spot *one = &negative->spot[spot[0]], *two = &negative->spot[spot[1]];
    if (one == two)
        return 0.0;
    return WW__PRINT_95 * hypot(one->error * one->seen_slope, two->error * two->seen_slope);
}

ww_status ww__print_tests_check(const ww_print_request *request, const ww__print_negative *negative,
                                const ww__print_test *test, ww_error *err) {
    const ww_optional process = request->repeatability;
    const double reading = hypot(WW_READING_SD, process.set ? process.value : 0.0);
    const double margin = WW__PRINT_95 * hypot(reading, reading);
    const ww_print_test *more, *less;
    char text[WW__PRINT_TEXT_SIZE];
    double light;
    if (request->n_tests < WW_PRINT_TESTS_MOST)
        return WW_OK;
    light = light_of(request, negative, test, 0) - light_of(request, negative, test, 1);
    more = &request->test[light > 0.0 ? 0 : 1];
    less = &request->test[light > 0.0 ? 1 : 0];
    if (fabs(light) <= light_margin(negative, test->spot_of) ||
        less->density - more->density <= margin)
        return WW_OK;
    ww__print_format(
        text, sizeof text,
        "the test prints contradict each other: %.3g s gave '%s' %.2f above white, and "
        "%.3g s gave '%s' %.2f though it got %.2f stop less light; more light can't "
        "print lighter by more than the %.2f that readings are off by. Check both "
        "times and densities, perhaps they are changed over, or make the tests anew",
        more->time_s, ww__print_show(more->tone).text, more->density, less->time_s,
        ww__print_show(less->tone).text, less->density, fabs(light) / WW__PRINT_LOG_STOP, margin);
    return ww_error_set(err, WW_EMISMATCH, "%s", text);
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
    const double held = fmin(fmax(share, 0.0), 1.0);
    const double beside = fabs(share - held) * fabs(apart);
    double worth[WW_PRINT_TESTS_MOST];
    test->both = true;
    test->which = held > 0.5 ? 1 : 0;
    for (size_t i = 0; i < WW_PRINT_TESTS_MOST; i++)
        worth[i] = worth_of(request, negative, test, i, log_h[i]);
    test->disagree = worth[1] - worth[0];
    test->other_log_h = log_h[1 - test->which];
    test->share = test->which == 1 ? 1.0 - held : held;
    test->outside =
        beside > WW__PRINT_BESIDE || (!(fabs(apart) > 0.0) && fabs(aim - one) > WW__PRINT_BESIDE);
    test->worth = worth[0] + held * test->disagree;
}

bool ww__print_tests_place(const ww_print_request *request, const ww__print_negative *negative,
                           const ww__print_sheet *sheet, ww__print_test *test) {
    double log_h[WW_PRINT_TESTS_MOST] = {0.0};
    size_t on = 0;
    for (size_t i = 0; i < request->n_tests; i++)
        if (ww__print_papers_log_h(sheet, request->test[i].density, &log_h[i]))
            on++, test->which = i;
    test->used = on > 0;
    if (on == WW_PRINT_TESTS_MOST)
        weigh_tests(request, negative, log_h, test);
    else if (test->used)
        test->worth = worth_of(request, negative, test, test->which, log_h[test->which]);
    test->spot = test->spot_of[test->which];
    test->log_h = log_h[test->which];
    return test->used;
}

/* Whether each paper of the request is one that was stored, by name and lot. */
static bool are_stored(const ww_print_request *request, const ww_print_request *stored) {
    for (size_t i = 0; i < request->n_papers; i++) {
        const ww_meta *meta = &request->paper[i]->meta;
        bool found = false;
        for (size_t k = 0; k < stored->n_papers && !found; k++)
            found = ww__text_same(meta->name, stored->paper[k]->meta.name) &&
                    ww__text_same(meta->lot, stored->paper[k]->meta.lot);
        if (!found)
            return false;
    }
    return true;
}

ww_status ww_print_tests_carry(const ww_print_request *stored, bool read_anew,
                               ww_print_request *request, ww_notes *notes, ww_error *err) {
    assert(stored && request && notes);
    if (stored->n_tests == 0)
        return WW_OK;
    if (stored->n_papers > 0 && !are_stored(request, stored)) {
        request->n_tests = 0;
        return ww_notes_add(notes, err,
                            "The recipe's test print was made on another paper or lot and says "
                            "nothing of this one; it was left out.");
    }
    if (!read_anew)
        return WW_OK;
    if (!ww__text_same(request->negative->meta.name, stored->negative->meta.name)) {
        request->n_tests = 0;
        return ww_notes_add(notes, err,
                            "The recipe's test print was made from another negative; it was left "
                            "out.");
    }
    return ww_notes_add(notes, err,
                        "The recipe's test print is taken to be of this negative, read anew; "
                        "where it was of another, give --test.");
}
