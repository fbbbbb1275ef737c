/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/strip_parts.h"
#include "support/emulsion.h"
#include "support/strip_case.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/start.h>

static void read_paper(double from_s, double stops, size_t n, double aim, ww_strip *strip) {
    strip_case c;
    *strip = (ww_strip)WW_STRIP_INIT;
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, from_s, stops, n);
    test_status("read", ww_strip_read(&c.readings, aim, 0.1, strip, NULL), WW_OK, NULL);
}

/* Source: common practice of the ladder: 1/3 stop to find, 1/6 to settle, 1/12 to finish; a strip
 * that does not bracket goes on where it ends. */
static void ladder(void **state) {
    ww_strip strip;
    (void)state;
    read_paper(5.0, 1.0, 4, 0.62, &strip);
    test_true("whole stops: finer",
              strip.holds && strip.series.n >= 5 && strip.series.step_stops < 0.7);
    test_close("around the time", strip.series.centre_s, strip.best.value, 1e-9);
    test_true("holds the interval",
              strip.series.piece[0].time_s <= strip.best.low &&
                  strip.series.piece[strip.series.n - 1].time_s >= strip.best.high);
    ww_strip_release(&strip);
    read_paper(8.0, 1.0 / 3.0, 7, 0.62, &strip);
    test_true("settled where the paper is steep", strip.holds);
    strip_case_next("settled", &strip, 0.0, 0.0, 0);
    test_true("says when to stop", strip_case_noted(&strip, "settles it to 1/12 stop"));
    ww_strip_release(&strip);
    read_paper(4.0, 1.0 / 12.0, 9, 0.04, &strip);
    test_true("on the toe the readings' error is left", strip.holds);
    strip_case_next("read again", &strip, 0.0, 0.0, 0);
    test_true("says so", strip_case_noted(&strip, "error of the readings"));
    ww_strip_release(&strip);
    read_paper(4.0, 1.0 / 3.0, 5, 1.20, &strip);
    test_true("goes on from the end", strip.series.n == 7);
    test_close("overlaps", strip.series.piece[0].time_s, 4.0 * exp2(4.0 / 3.0), 1e-6);
    ww_strip_release(&strip);
    read_paper(30.0, 1.0 / 3.0, 5, 0.10, &strip);
    test_close("goes back from the end", strip.series.piece[strip.series.n - 1].time_s, 30.0, 1e-6);
    ww_strip_release(&strip);
}

/* Where the timer or an hour ends it, pieces are left out, or it is said that there is none. */
static void ends(void **state) {
    ww_strip strip = {.kind = WW_STRIP_READ, .timer_step_s = 0.1};
    (void)state;
    test_status("long", ww__strip_next_beyond(&strip, 1000.0, false, 0.5, NULL), WW_OK, NULL);
    strip_case_next("shorter", &strip, 1000.0, 0.5, 4); /* 1000, 1414, 2000, 2828 s */
    ww_strip_release(&strip);
    strip = (ww_strip){.kind = WW_STRIP_READ, .timer_step_s = 0.1};
    test_status("none", ww__strip_next_beyond(&strip, 3500.0, false, 0.5, NULL), WW_OK, NULL);
    strip_case_next("none", &strip, 0.0, 0.0, 0);
    test_true("says so", strip_case_noted(&strip, "No next strip can be set"));
    ww_strip_release(&strip);
}

static void beyond_the_instrument(void **state) {
    strip_case c;
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    strip_case_start(&c, true);
    strip_case_paper(&c, 3.0, 20.0, 8.0, 1.0, 3); /* to 32 s */
    strip_case_step(&c, 64.0, 0.0)->cell[WW_VISUAL].state = WW_CELL_OVER;
    test_status("read", ww_strip_read(&c.readings, 1.80, 0.1, &strip, NULL), WW_OK, NULL);
    test_true("no time", !strip.holds && strip.place == WW_STRIP_LIGHT);
    test_true("told", strip_case_noted(&strip, "Step '4' (64 s) is beyond the instrument"));
    test_close("the next begins before it", strip.series.piece[0].time_s, 32.0, 1e-6);
    ww_strip_release(&strip);
}

/* From a first guess that may be three stops off, strips find the aim and stop: read with an error
 * of 0.01. Source: the truth is the paper's closed form. */
static void finds_its_way(void **state) {
    dice d = {731};
    size_t strips = 0, n = 0, good = 0;
    (void)state;
    if (test_quick())
        skip();
    for (; n < 200; n++) {
        const double k = dice_even(&d, 2.0, 4.0), aim = exp(dice_even(&d, log(0.08), log(1.6)));
        const double truth = strip_case_time(k, 20.0, aim);
        double centre = truth * exp2(dice_even(&d, -3.0, 3.0)), step = 1.0 / 2.0;
        size_t count = 7;
        for (int i = 0; i < 6; i++) {
            const double from = centre / exp2(0.5 * step * (double)(count - 1));
            strip_case c;
            ww_strip strip = WW_STRIP_INIT;
            bool done;
            strip_case_start(&c, true);
            strip_case_paper(&c, k, 20.0, from, step, count);
            for (size_t r = 1; r < c.readings.n; r++)
                c.row[r].cell[WW_VISUAL].value += dice_normal(&d, 0.01);
            test_status("read", ww_strip_read(&c.readings, aim, 0.01, &strip, NULL), WW_OK, NULL);
            strips++;
            done = strip.series.n == 0;
            if (done)
                good += strip.holds && fabs(log2(strip.best.value / truth)) < 0.25;
            centre = strip.series.centre_s;
            step = strip.series.step_stops;
            count = strip.series.n;
            ww_strip_release(&strip);
            if (done)
                break;
        }
    }
    print_message("%zu of %zu found, %.2f strips each\n", good, n, (double)strips / (double)n);
    test_true("found", good >= 190);
    test_true("in three strips or less", strips <= 3 * n);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ladder),
        cmocka_unit_test(ends),
        cmocka_unit_test(beyond_the_instrument),
        cmocka_unit_test(finds_its_way),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
