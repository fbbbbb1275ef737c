/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"

enum { DRAWS = 3000 };

/* Marsaglia's xorshift and Box and Muller's normal: the same on every machine. */
static uint64_t seed = 88172645463325252u;

static double uniform(void) {
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return ((double)(seed >> 11) + 0.5) / 9007199254740992.0;
}

static double normal(void) {
    return sqrt(-2.0 * log(uniform())) * cos(6.283185307179586 * uniform());
}

typedef struct spread {
    double sum, square;
} spread;

static void count(spread *s, double value) {
    s->sum += value;
    s->square += value * value;
}

static double sd_of(const spread *s) {
    return sqrt(s->square / DRAWS - s->sum * s->sum / DRAWS / DRAWS);
}

static double half_of(ww_quantity q) {
    return 0.5 * (q.high - q.low);
}

/* Source: films and papers drawn at random from the covariance, each exposed and placed anew: 95 %
 * half-widths are 1.96 of their standard deviations, within what 3000 draws tell. */
static void drawn_at_random(void **state) {
    (void)state;
    tones_case c, drawn;
    ww_tones tones = WW_TONES_INIT;
    spread negative = {0.0, 0.0}, print = {0.0, 0.0}, gradient = {0.0, 0.0};
    size_t held = 0;
    tones_case_start(&c);
    c.request.place_stops = 1.0;
    c.request.place_density = 0.17;
    tones_case_doubt(&c, 0.0, 0.006, 0.0, 0.09);
    tones_case_make("doubt", &c, &tones);
    test_true("known", tones.chain[0].doubted);
    /* The film's zero is its own base, given: the level of its speed point stands. */
    const double level =
        ww_model_density(&c.film[0].channel[WW_VISUAL].shape, TONES_CASE_SPEED, NULL);
    for (int i = 0; i < DRAWS; i++) {
        ww_tones made = WW_TONES_INIT;
        double speed = 0.0;
        tones_case_start(&drawn);
        drawn.request = c.request;
        drawn.request.film = drawn.films;
        drawn.request.paper = drawn.papers;
        ww_channel_curve *film = &drawn.film[0].channel[WW_VISUAL];
        film->shape.parameter[1] += 0.006 * normal();
        drawn.paper[0].channel[WW_VISUAL].shape.parameter[2] += 0.09 * normal();
        test_status("speed", ww_curve_log_h(film, level, &speed, NULL), WW_OK, NULL);
        film->figure[WW_FIGURE_SPEED_POINT] = tones_case_given(speed);
        tones_case_make("drawn", &drawn, &made);
        count(&negative, made.chain[0].row[0].negative.value);
        count(&print, made.chain[0].row[4].print.value);
        count(&gradient, made.chain[0].row[4].gradient.value);
        held += made.chain[0].kept_stops.value >= tones.chain[0].kept_stops.low &&
                made.chain[0].kept_stops.value <= tones.chain[0].kept_stops.high;
        ww_tones_release(&made);
    }
    const ww_tones_chain *chain = &tones.chain[0];
    test_close("negative", half_of(chain->row[0].negative) / (1.96 * sd_of(&negative)), 1.0, 0.06);
    test_close("print", half_of(chain->row[4].print) / (1.96 * sd_of(&print)), 1.0, 0.06);
    test_close("gradient", half_of(chain->row[4].gradient) / (1.96 * sd_of(&gradient)), 1.0, 0.06);
    test_true("kept", held > 0.94 * DRAWS && held < 0.99 * DRAWS);
    /* The placed tone is where it was placed, whatever the curves. */
    test_close("placed", half_of(chain->row[1].print), 0.0, 1e-4);
    ww_tones_release(&tones);
}

/* White is kept by a hair: nothing more can be kept, and as much may be lost as its doubt says. */
static void kept_to_the_end(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.006, 0.0, 0.3);
    c.request.detail = 0.12; /* 0.126 at white: 0.56 x 2 s 0.02 0.98, less the veil */
    tones_case_make("kept", &c, &tones);
    const ww_quantity kept = tones.chain[0].kept_stops;
    test_close("all", kept.value, 2.2 / log10(2.0), 1e-6);
    test_close("no more", kept.high, kept.value, 1e-9);
    test_true("perhaps less", kept.low < kept.value - 0.02);
    ww_tones_release(&tones);
}

/* A base that was read, and residuals: by hand. Half of the residuals, 0.01, are off at the tone;
 * at the speed point they shift the exposure, on a straight film by as much; in the print they come
 * from the tone and from the placed one, and what shifts both is none. */
static void what_is_added(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.0, 0.0, 0.0);
    c.film[0].channel[WW_VISUAL].residual_rms = 0.02;
    tones_case_make("residuals", &c, &tones);
    const ww_tones_row *row = &tones.chain[0].row[3];
    test_close("film", half_of(row->negative), 1.959964 * 0.01 * sqrt(2.0), 1e-5);
    test_close("carried by the paper", half_of(row->print),
               1.959964 * 0.01 * sqrt(2.0) * row->point.slope[WW_TONE_PAPER].value, 1e-5);
    /* More L* is less density. */
    test_true("L*", row->lightness.low < row->lightness.value &&
                        row->lightness.value < row->lightness.high);
    ww_tones_release(&tones);
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.0, 0.0, 0.0);
    c.paper[0].channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.05, 0.05 - 0.0098, 0.05 + 0.0098, WW_MEASURED};
    tones_case_make("white", &c, &tones);
    test_close("no film's", half_of(tones.chain[0].row[0].negative), 0.0, 1e-9);
    test_close("white's own error, 0.005", half_of(tones.chain[0].row[0].print), 0.0098, 1e-5);
    ww_tones_release(&tones);
    /* The speed point stands above a base that was read. */
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.0, 0.0, 0.0);
    c.film[0].channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.10, 0.10 - 0.0098, 0.10 + 0.0098, WW_MEASURED};
    tones_case_make("base", &c, &tones);
    test_close("base's own error, 0.005", half_of(tones.chain[0].row[0].negative), 0.0098, 1e-5);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(drawn_at_random),
                                       cmocka_unit_test(kept_to_the_end),
                                       cmocka_unit_test(what_is_added)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
