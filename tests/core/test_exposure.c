/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <wedgework/exposure.h>

typedef ww_status (*rule)(double a, double b, double *result, ww_error *err);

typedef struct row {
    const char *name;
    const char *source;
    rule rule;
    double a, b;
    ww_status status;
    double value;
    double tolerance;
} row;

static const row rows[] = {
    /* stops */
    {"one stop", "definition", ww_exposure_stops, 7.3, 14.6, WW_OK, 1.0, 1e-14},
    {"quarter stop", "closed form: 2^(1/4) = 1.189207", ww_exposure_stops, 1.0, 1.189207115002721,
     WW_OK, 0.25, 1e-14},
    {"factor 2.5", "filter factors of a maker's data book: 1 1/3 stop", ww_exposure_stops, 1.0, 2.5,
     WW_OK, 4.0 / 3.0, 0.02},
    {"base times at D 1.5 and 1.9", "textbook: 12 s -> 30 s, 0.40/log10 2", ww_exposure_stops, 12.0,
     30.142637177, WW_OK, 0.4 / 0.301029995663981, 1e-9},
    {"very short to very long", "closed form", ww_exposure_stops, 0x1p-1000, 0x1p1000, WW_OK,
     2000.0, 1e-9},
    {"no old time", "contract", ww_exposure_stops, 0.0, 10.0, WW_EDOMAIN, 0, 0},
    {"negative new time", "contract", ww_exposure_stops, 10.0, -1.0, WW_EDOMAIN, 0, 0},
    {"infinite time", "contract", ww_exposure_stops, INFINITY, 1.0, WW_EDOMAIN, 0, 0},
    {"not a time", "contract", ww_exposure_stops, NAN, 1.0, WW_EDOMAIN, 0, 0},

    /* burning and dodging */
    {"16 s and half a stop", "printers' forum, as quoted: 22.63 s", ww_exposure_burn_seconds, 16.0,
     0.5, WW_OK, 6.63, 0.005},
    {"12 s and 1.5 stop", "closed form: 12 (2^1.5 - 1)", ww_exposure_burn_seconds, 12.0, 1.5, WW_OK,
     21.941125497, 1e-8},
    {"25.4 s, dodge of 1/3 stop", "printer's handbook example: 5.2 s", ww_exposure_burn_seconds,
     25.4, -1.0 / 3.0, WW_OK, -5.2, 0.05},
    {"25.4 s, burn of 1/2 stop", "printer's handbook example: 10.5 s", ww_exposure_burn_seconds,
     25.4, 0.5, WW_OK, 10.5, 0.05},
    {"no move", "closed form", ww_exposure_burn_seconds, 2.731, 0.0, WW_OK, 0.0, 0.0},
    {"a hair", "closed form: ln 2 per stop", ww_exposure_burn_seconds, 1.0, 1e-12, WW_OK,
     6.931471805599e-13, 1e-24},
    {"no base", "contract", ww_exposure_burn_seconds, 0.0, 1.0, WW_EDOMAIN, 0, 0},
    {"beyond numbers", "contract", ww_exposure_burn_seconds, 10.0, 2000.0, WW_EDOMAIN, 0, 0},
    {"endless dodge", "contract", ww_exposure_burn_seconds, 10.0, -INFINITY, WW_EDOMAIN, 0, 0},
    {"not a move", "contract", ww_exposure_burn_seconds, 10.0, NAN, WW_EDOMAIN, 0, 0},
    {"doubling", "definition", ww_exposure_burn_stops, 11.3, 11.3, WW_OK, 1.0, 1e-14},
    {"half held back", "definition", ww_exposure_burn_stops, 11.3, -5.65, WW_OK, -1.0, 1e-14},
    {"all held back", "contract", ww_exposure_burn_stops, 11.3, -11.3, WW_EDOMAIN, 0, 0},
    {"no base for seconds", "contract", ww_exposure_burn_stops, -1.0, 3.0, WW_EDOMAIN, 0, 0},
    {"endless burn", "contract", ww_exposure_burn_stops, 11.3, INFINITY, WW_EDOMAIN, 0, 0},

    /* size and aperture */
    {"2x to 4x", "Kingslake and Ray, as quoted: 25/9", ww_exposure_scale, 2.0, 4.0, WW_OK, 2.7778,
     1e-4},
    {"2x to 3x", "Clerc, section 771: 9 to 16", ww_exposure_scale, 2.0, 3.0, WW_OK, 16.0 / 9.0,
     1e-15},
    {"2x to 5x", "Clerc, section 771: 9 to 36", ww_exposure_scale, 2.0, 5.0, WW_OK, 4.0, 1e-15},
    {"5x to 4x", "Clerc, section 771: 36 to 25", ww_exposure_scale, 5.0, 4.0, WW_OK, 25.0 / 36.0,
     1e-15},
    {"8x10 to 11x14 in, 24 mm side", "closed form of (m+1)^2: 21 s -> 37.4 s", ww_exposure_scale,
     203.2 / 24.0, 279.4 / 24.0, WW_OK, 37.4 / 21.0, 0.005},
    {"no magnification", "contract", ww_exposure_scale, 0.0, 4.0, WW_EDOMAIN, 0, 0},
    {"negative magnification", "contract", ww_exposure_scale, 2.0, -4.0, WW_EDOMAIN, 0, 0},
    {"a size beyond numbers", "contract", ww_exposure_scale, 1.0, 1e300, WW_EDOMAIN, 0, 0},
    {"f/8 to f/11.3137", "closed form", ww_exposure_aperture, 8.0, 11.313708498984761, WW_OK, 2.0,
     1e-14},
    {"f/11 to f/5.6", "two full stops", ww_exposure_aperture, 11.0, 5.6, WW_OK, 0.25, 1e-15},
    {"f/8 to f/11", "a full stop", ww_exposure_aperture, 8.0, 11.0, WW_OK, 2.0, 1e-15},
    {"f/1.4 to f/90", "twelve stops", ww_exposure_aperture, 1.4, 90.0, WW_OK, 4096.0, 1e-12},
    {"f/6.3 to f/7.1", "closed form", ww_exposure_aperture, 6.3, 7.1, WW_OK, 50.41 / 39.69, 1e-14},
    {"no aperture", "contract", ww_exposure_aperture, 8.0, 0.0, WW_EDOMAIN, 0, 0},
    {"an infinite aperture", "contract", ww_exposure_aperture, INFINITY, 8.0, WW_EDOMAIN, 0, 0},

    /* flare */
    {"1 % at D 1", "closed form", ww_exposure_flare, 1.0, 0.01, WW_OK, 0.9629, 5e-5},
    {"1 % at D 1.5", "closed form", ww_exposure_flare, 1.5, 0.01, WW_OK, 1.3850, 5e-5},
    {"1 % at D 2", "closed form", ww_exposure_flare, 2.0, 0.01, WW_OK, 1.7033, 5e-5},
    {"1 % at D 2.3", "closed form", ww_exposure_flare, 2.3, 0.01, WW_OK, 1.8279, 5e-5},
    {"0.5 % at D 2", "closed form", ww_exposure_flare, 2.0, 0.005, WW_OK, 1.8261, 5e-5},
    {"2 % at D 2", "closed form", ww_exposure_flare, 2.0, 0.02, WW_OK, 1.5315, 5e-5},
    {"no flare", "definition", ww_exposure_flare, 2.731, 0.0, WW_OK, 2.731, 0.0},
    {"open light stays 0", "definition", ww_exposure_flare, 0.0, 0.3, WW_OK, 0.0, 1e-15},
    {"endless density", "closed form: the flare's own density", ww_exposure_flare, 1e6, 0.01, WW_OK,
     2.0043213737826426, 1e-12},
    {"negative flare", "contract", ww_exposure_flare, 1.0, -0.01, WW_EDOMAIN, 0, 0},
    {"flare in percent", "contract", ww_exposure_flare, 1.0, 2.0, WW_EDOMAIN, 0, 0},
    {"flare NAN", "contract", ww_exposure_flare, 1.0, NAN, WW_EDOMAIN, 0, 0},
    {"density NAN", "contract", ww_exposure_flare, NAN, 0.01, WW_EDOMAIN, 0, 0},
    {"density of a lamp", "contract", ww_exposure_flare, -1e6, 0.01, WW_EDOMAIN, 0, 0},

    {"1 % back at D 2", "closed form", ww_exposure_unflare, 1.7033, 0.01, WW_OK, 2.0, 2e-4},
    {"2 % back at D 2", "closed form", ww_exposure_unflare, 1.5315, 0.02, WW_OK, 2.0, 2e-4},
    {"back without flare", "definition", ww_exposure_unflare, 2.731, 0.0, WW_OK, 2.731, 0.0},
    {"open light back", "definition", ww_exposure_unflare, 0.0, 0.3, WW_OK, 0.0, 1e-15},
    {"denser than flare looks", "closed form: log10 of 1.01 / 0.01", ww_exposure_unflare, 2.0044,
     0.01, WW_ENODATA, 0, 0},
    {"back through negative flare", "contract", ww_exposure_unflare, 1.0, -0.01, WW_EDOMAIN, 0, 0},
    {"back from NAN", "contract", ww_exposure_unflare, NAN, 0.01, WW_EDOMAIN, 0, 0},

    /* the timer */
    {"18.37 s on 0.1 s", "definition", ww_exposure_round, 18.37, 0.1, WW_OK, 18.4, 1e-12},
    {"10.08 s on 0.1 s, to the digit", "definition", ww_exposure_round, 10.08, 0.1, WW_OK, 10.1,
     0.0},
    {"18.5 s on whole seconds", "definition: halves up", ww_exposure_round, 18.5, 1.0, WW_OK, 19.0,
     0.0},
    {"less than a step", "definition: at least one step", ww_exposure_round, 0.01, 0.25, WW_OK,
     0.25, 0.0},
    {"no time", "contract", ww_exposure_round, 0.0, 0.1, WW_EDOMAIN, 0, 0},
    {"no step", "contract", ww_exposure_round, 10.0, 0.0, WW_EDOMAIN, 0, 0},
    {"too fine a step", "contract", ww_exposure_round, 1e300, 1e-300, WW_EDOMAIN, 0, 0},
};

static void test_rows(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const row *r = &rows[i];
        const double untouched = -77.25;
        double value = untouched;
        ww_error err = WW_ERROR_INIT;
        const ww_status status = r->rule(r->a, r->b, &value, &err);
        if (status != r->status || (status == WW_OK && !(fabs(value - r->value) <= r->tolerance)) ||
            (status != WW_OK && (value != untouched || err.code != status || err.msg[0] == '\0')))
            fail_msg("%s (%s): status %d, value %.17g, expected %d, %.17g +- %g; %s", r->name,
                     r->source, (int)status, value, (int)r->status, r->value, r->tolerance,
                     err.msg);
        /* The record is optional. */
        assert_int_equal(r->rule(r->a, r->b, &value, NULL), r->status);
    }
}

/*
 * Moves on one area add in seconds. Source: printers' figures as quoted (two dodges of half a stop
 * are -1.27 stop, two such burns +0.87), to more digits by the closed forms log2(sqrt 2 - 1) and
 * log2(2 sqrt 2 - 1); the others by hand.
 */
static void test_moves_add_in_seconds(void **state) {
    static const struct {
        const char *name;
        size_t n;
        double stops[3];
        ww_status status;
        double together;
    } moves[] = {
        {"none", 0, {0.0}, WW_OK, 0.0},
        {"one", 1, {0.731}, WW_OK, 0.731},
        {"two dodges", 2, {-0.5, -0.5}, WW_OK, -1.271553303163612},
        {"two burns", 2, {0.5, 0.5}, WW_OK, 0.870603126617780},
        {"a stop more, half the time less", 2, {1.0, -1.0}, WW_OK, 0.584962500721156},
        {"a burn lets dodges go further", 3, {-1.0, -1.0, 1.0}, WW_OK, 0.0},
        {"all held back", 2, {-1.0, -1.0}, WW_EDOMAIN, 0.0},
        {"more than all", 3, {-1.0, -1.0, -0.3}, WW_EDOMAIN, 0.0},
        {"not a move", 2, {0.5, NAN}, WW_EDOMAIN, 0.0},
        {"endless", 2, {0.5, INFINITY}, WW_EDOMAIN, 0.0},
        {"beyond numbers together", 2, {1023.5, 1023.5}, WW_EDOMAIN, 0.0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof moves / sizeof moves[0]; i++) {
        double sum = -77.25;
        ww_error err = WW_ERROR_INIT;
        test_status(moves[i].name, ww_exposure_moves(moves[i].stops, moves[i].n, &sum, &err),
                    moves[i].status, &err);
        test_close(moves[i].name, sum, moves[i].status == WW_OK ? moves[i].together : -77.25,
                   1e-12);
    }
}

/* Seconds and stops close on each other. */
static void test_burn_closes(void **state) {
    (void)state;
    for (double stops = -6.3; stops < 7.0; stops += 0.37) {
        double seconds = 0, back = 0;
        assert_int_equal(ww_exposure_burn_seconds(17.3, stops, &seconds, NULL), WW_OK);
        assert_int_equal(ww_exposure_burn_stops(17.3, seconds, &back, NULL), WW_OK);
        assert_true(fabs(back - stops) < 1e-12);
    }
}

/*
 * Range of a negative through enlarger flare. Source: printers' worked figures, 1.20 with 1 % flare
 * and a mean transmittance of 0.2 gives 1.18, with 2 % 1.16; thin end taken at D 0.20.
 */
static void test_effective_range(void **state) {
    static const struct { double flare, range; } cases[] = {{0.01 * 0.2, 1.18}, {0.02 * 0.2, 1.16}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double thin = 0, dense = 0;
        assert_int_equal(ww_exposure_flare(0.20, cases[i].flare, &thin, NULL), WW_OK);
        assert_int_equal(ww_exposure_flare(1.40, cases[i].flare, &dense, NULL), WW_OK);
        assert_true(fabs(dense - thin - cases[i].range) < 0.005);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_moves_add_in_seconds),
        cmocka_unit_test(test_burn_closes),
        cmocka_unit_test(test_effective_range),
    };
    return cmocka_run_group_tests_name("exposure", tests, NULL, NULL);
}
