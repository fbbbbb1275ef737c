/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/tone_response_end.h"
#include "support/support.h"
#include <math.h>

static ww_tone_response response; /* large */

/* Straight from 0 to 2 D, by hand. */
static void straight(void) {
    response = (ww_tone_response){.to = 1.0};
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        response.density[i] = (double)i / 512.0;
        response.error[i] = (double)i / 102400.0;
    }
}

static void asked(void **state) {
    (void)state;
    straight();
    test_close("density", ww_tone_response_density(&response, 0.3333), 0.6666, 1e-12);
    test_close("error", ww_tone_response_error(&response, 0.3333), 0.003333, 1e-12);
    test_close("drive", ww_tone_response_drive(&response, 0.6666), 0.3333, 1e-12);
    test_close("lighter than paper", ww_tone_response_drive(&response, -0.1), 0.0, 0.0);
    test_close("denser than black", ww_tone_response_drive(&response, 2.1), 1.0, 0.0);
}

/* Density stays from three quarters on: there it ends, less what comes within 0.01 D. */
static void ends(void **state) {
    (void)state;
    straight();
    ww__tone_response_end(&response);
    test_close("no plateau", response.to, 1.0, 0.0);
    for (size_t i = 768; i < WW_TONE_RESPONSE_POINTS; i++)
        response.density[i] = 1.5;
    ww__tone_response_end(&response);
    test_close("a plateau", response.to, 0.745, 1e-9);
    test_close("no more", ww_tone_response_drive(&response, 1.6), 0.745, 1e-9);
}

/* Averaged by their errors where they agree; the later counts where the output has moved. */
static void learning(void **state) {
    (void)state;
    static ww_tone_response first, later;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        first.density[i] = (double)i / 512.0;
        later.density[i] = first.density[i] + 0.004;
        first.error[i] = 0.006;
        later.error[i] = 0.003;
    }
    first.to = later.to = 1.0;
    response = first;
    test_close("of one mind", ww_tone_response_learn(&response, &later), 0.8,
               1e-9); /* 36 / (36 + 9) */
    test_close("of one mind", response.density[500], first.density[500] + 0.8 * 0.004, 1e-9);
    test_close("error", response.error[500], sqrt(0.04 * 36.0 + 0.64 * 9.0) * 1e-3, 1e-9);
    later.missed[300] = 0.03; /* by hand: 0.03 + 0.2 x 0.004 beside the result */
    response = first;
    ww_tone_response_learn(&response, &later);
    test_close("what is read is off", response.missed[300], 0.0308, 1e-9);
    test_close("and in doubt", response.error[300], 0.0308 / 1.96, 1e-9);
    later.missed[300] = 0.0;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        later.density[i] = first.density[i] + 0.08;
    response = first;
    test_true("moved", ww_tone_response_learn(&response, &later) > 0.99);
    test_close("moved", response.density[500], first.density[500] + 0.08, 0.001);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(asked), cmocka_unit_test(ends),
                                       cmocka_unit_test(learning)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
