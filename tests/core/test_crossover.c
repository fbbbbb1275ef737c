/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/model.h"
#include "support/support.h"

#include <math.h>
#include <wedgework/crossover.h>

#define LINE(base, gamma, toe)                                                                     \
    {                                                                                              \
        .model = WW_MODEL_TOE_LINE, .n = WW__TOE_LINE_COUNT, .parameter = {                        \
            base,                                                                                  \
            gamma,                                                                                 \
            toe,                                                                                   \
            1e-5                                                                                   \
        }                                                                                          \
    }
#define LOGISTIC(base, range, slope, middle)                                                       \
    {                                                                                              \
        .model = WW_MODEL_LOGISTIC, .n = WW__LOGISTIC_COUNT, .parameter = {                        \
            base,                                                                                  \
            range,                                                                                 \
            slope,                                                                                 \
            middle,                                                                                \
            1.0                                                                                    \
        }                                                                                          \
    }

static const ww_figure_rules film = {.emulsion = WW_EMULSION_COLOUR_NEGATIVE};
static const ww_figure_rules paper = {.paper = true};
static const ww_figure_rules slide = {.reversal = true, .emulsion = WW_EMULSION_COLOUR_REVERSAL};

/* Channels from shapes over one range; base+fog is each shape's own. */
static void take(const ww_shape shape[3], double low, double high,
                 ww_channel_shape channel[WW_CHANNEL_COUNT]) {
    for (int i = 0; i < WW_CHANNEL_COUNT; i++)
        channel[i] = (ww_channel_shape){0};
    for (int i = 0; i < 3; i++)
        channel[i] = (ww_channel_shape){
            .shape = &shape[i], .low = low, .high = high, .base_fog = shape[i].parameter[0]};
}

static ww_crossover compute(const char *row, const ww_channel_shape channel[],
                            const ww_figure_rules *rules) {
    ww_crossover crossover = {0};
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_crossover_compute(channel, rules, &crossover, &err), WW_OK, &err);
    test_close(row, crossover.worst_cc.low, crossover.worst_cc.value, 0.0);
    test_true(row, crossover.worst_cc.how == WW_FITTED && !crossover.found);
    return crossover;
}

/* The same course at other densities: a filter's work, no crossover (definition). */
static void parallel_films(void **state) {
    (void)state;
    const ww_shape shape[3] = {
        {.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.21, 0.61, -2.3, 0.2}},
        {.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.66, 0.61, -2.3, 0.2}},
        {.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.93, 0.61, -2.3, 0.2}}};
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    take(shape, -4, 1, channel);
    test_close("parallel", compute("parallel", channel, &film).worst_cc.value, 0.0, 1e-10);
}

/*
 * Straight lines of gamma 0.60 and 0.66: cc = 100 (0.66 - 0.60)(x - m), closed form. The picture
 * begins where the slowest layer has net 0.15, middle grey is 1.00 and the end 1.90 above that.
 */
static void diverging_films(void **state) {
    (void)state;
    const ww_shape shape[3] = {LINE(0.21, 0.66, -2.40), LINE(0.66, 0.60, -2.31),
                               LINE(0.93, 0.61, -2.33)};
    const double from = -2.31 + 0.15 / 0.60;
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    take(shape, -4, 1, channel);
    const ww_crossover all = compute("lines", channel, &film);
    test_close("worst", all.worst_cc.value, -6.0, 1e-6);
    test_true("channel", all.channel == WW_RED);
    test_close("at", all.at, from, 1e-9);
    test_close("from", all.from, from, 1e-9);
    test_close("middle", all.middle, from + 1.00, 1e-9);
    test_close("to", all.to, from + 1.90, 1e-9);
    channel[WW_RED].shape = NULL;
    const ww_crossover blue = compute("blue alone", channel, &film);
    test_close("worst", blue.worst_cc.value, -1.0, 1e-6);
    test_true("channel", blue.channel == WW_BLUE);

    /* Steps that end before middle grey: the middle of what there is. */
    take(shape, -4, from + 0.70, channel);
    const ww_crossover cut = compute("cut", channel, &film);
    test_close("to", cut.to, from + 0.70, 1e-9);
    test_close("middle", cut.middle, from + 0.35, 1e-9);
    test_close("worst", fabs(cut.worst_cc.value), 2.1, 1e-6);
}

/* Papers that differ by a shift of log H and by D-min: a filter's work again. */
static void shifted_papers(void **state) {
    (void)state;
    const ww_shape shape[3] = {LOGISTIC(0.09, 2.3, 5.1, 0.31), LOGISTIC(0.11, 2.3, 5.1, 0.77),
                               LOGISTIC(0.10, 2.3, 5.1, 1.13)};
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    take(shape, -3, 5, channel);
    test_close("shifted", compute("shifted", channel, &paper).worst_cc.value, 0.0, 1e-6);
}

static double logit(double share) {
    return log(share / (1.0 - share));
}

/* Logistics of one range R: log H = x0 + logit(d / R) / slope at net d, closed form. */
static void unequal_papers(void **state) {
    (void)state;
    const ww_shape shape[3] = {LOGISTIC(0.09, 2.2, 5.1, 0.31), LOGISTIC(0.12, 2.2, 5.9, 0.77),
                               LOGISTIC(0.10, 2.2, 5.8, 1.13)};
    const double middle = 0.745 - 0.12;
    const double worst = 100.0 * (1 / 5.1 - 1 / 5.9) * (logit(0.9) - logit(middle / 2.2));
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    take(shape, -4, 6, channel);
    const ww_crossover c = compute("unequal", channel, &paper);
    test_close("worst", c.worst_cc.value, worst, 1e-6);
    test_true("channel", c.channel == WW_RED);
    /* 90 % lies further from middle grey than net 0.04 does: 3.12 against 3.06 in the logit. */
    test_close("at, density of green", c.at, 0.12 + 0.9 * 2.2, 1e-6);
    test_close("from", c.from, 0.16, 1e-12);
    test_close("middle", c.middle, 0.745, 1e-12);
    test_close("to", c.to, 0.12 + 0.9 * 2.2, 1e-6);

    /* The place of that crossover on other shapes: 5.3 in place of 5.1. */
    ww_shape other[3];
    double cc = 7;
    ww_error err = WW_ERROR_INIT;
    for (int i = 0; i < 3; i++)
        other[i] = shape[i];
    other[WW_RED].parameter[WW__LOGISTIC_SLOPE] = 5.3;
    take(other, -4, 6, channel);
    test_status("at", ww_crossover_at(channel, &paper, &c, &cc, &err), WW_OK, &err);
    test_close("at", cc, worst * (1 / 5.3 - 1 / 5.9) / (1 / 5.1 - 1 / 5.9), 1e-6);
}

/* Reversal: from net 0.20 to 2.00, zero halfway; slopes k r / 4 alike at one middle. */
static void slides(void **state) {
    (void)state;
    ww_shape shape[3] = {LOGISTIC(0.12, 3.1, 3.3, 0.9), LOGISTIC(0.13, 3.1, 3.3, 0.9),
                         LOGISTIC(0.10, 3.3, 3.3, 0.9)};
    const double thin = -(0.9 + logit(0.20 / 3.1) / 3.3), dense = -(0.9 + logit(2.00 / 3.3) / 3.3);
    const double middle = 0.5 * (thin + dense);
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    for (int i = 0; i < 3; i++)
        shape[i].falling = true;
    take(shape, -3, 2, channel);
    const ww_crossover c = compute("slide", channel, &slide);
    test_close("thin end, more exposure", c.to, thin, 1e-9);
    test_close("dense end", c.from, dense, 1e-9);
    test_close("middle", c.middle, middle, 1e-9);
    test_true("channel", c.channel == WW_BLUE);
    /* 0.2 of a unit logistic more at every place, closed form; the dense end departs most. */
    const double share = 1 / (1 + exp(3.3 * (middle + 0.9)));
    test_close("at", c.at, dense, 1e-9);
    test_close("worst", c.worst_cc.value, 100 * 0.2 * (2.00 / 3.3 - share), 1e-6);
    double cc = 7;
    test_status("at", ww_crossover_at(channel, &slide, &c, &cc, NULL), WW_OK, NULL);
    test_close("same place, same shapes", cc, c.worst_cc.value, 1e-9);
}

static void refusals(void **state) {
    (void)state;
    ww_shape shape[3] = {LINE(0.21, 0.66, -2.40), LINE(0.66, 0.60, -2.31), LINE(0.93, 0.61, -2.33)};
    ww_channel_shape channel[WW_CHANNEL_COUNT];
    ww_crossover c = {.at = 2.731};
    ww_error err = WW_ERROR_INIT;
    take(shape, -4, 1, channel);
    channel[WW_GREEN].shape = NULL;
    test_status("no green", ww_crossover_compute(channel, &film, &c, &err), WW_ENODATA, &err);
    take(shape, -4, 1, channel);
    channel[WW_RED].shape = channel[WW_BLUE].shape = NULL;
    test_status("green alone", ww_crossover_compute(channel, &film, &c, &err), WW_ENODATA, &err);
    take(shape, -4, 1, channel);
    channel[WW_BLUE].low = 2;
    test_status("backwards", ww_crossover_compute(channel, &film, &c, &err), WW_EDOMAIN, &err);
    take(shape, -4, 1, channel);
    channel[WW_RED].base_fog = (double)NAN;
    test_status("no base", ww_crossover_compute(channel, &film, &c, &err), WW_EDOMAIN, &err);
    take(shape, -4, 1, channel);
    channel[WW_RED].high = -2.3;
    test_status("steps end in the toe", ww_crossover_compute(channel, &film, &c, &err), WW_ENODATA,
                &err);
    channel[WW_RED].high = -2.1;
    test_status("no shared range", ww_crossover_compute(channel, &film, &c, &err), WW_ENODATA,
                &err);
    take(shape, -4, 1, channel);
    shape[WW_RED].falling = true;
    test_status("opposite ways", ww_crossover_compute(channel, &film, &c, &err), WW_ENODATA, &err);
    shape[WW_RED].falling = false;
    test_close("untouched", c.at, 2.731, 0.0);

    double cc = 7;
    take(shape, -4, 1, channel);
    c = compute("lines", channel, &film);
    channel[WW_RED].high = c.middle - 0.1;
    test_status("shorter", ww_crossover_at(channel, &film, &c, &cc, &err), WW_ENODATA, &err);
    channel[WW_RED].shape = NULL;
    test_status("gone", ww_crossover_at(channel, &film, &c, &cc, &err), WW_ENODATA, &err);
    channel[WW_GREEN].shape = NULL;
    test_status("green gone", ww_crossover_at(channel, &film, &c, &cc, NULL), WW_ENODATA, NULL);
    test_close("untouched", cc, 7, 0.0);
}

static void judged_by_its_interval(void **state) {
    (void)state;
    static const struct {
        double low, high;
        bool found;
    } rows[] = {{-7.1, -2.3, true}, {0.4, 3.1, true}, {-0.2, 3.1, false}, {-3.0, 0.1, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_crossover c = {.worst_cc = {1.0, 1.0, 1.0, WW_FITTED}};
        ww_crossover_judge(&c, rows[i].low, rows[i].high);
        test_true("found", c.found == rows[i].found);
        test_close("low", c.worst_cc.low, rows[i].low, 0.0);
        test_close("high", c.worst_cc.high, rows[i].high, 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parallel_films),
        cmocka_unit_test(diverging_films),
        cmocka_unit_test(shifted_papers),
        cmocka_unit_test(unequal_papers),
        cmocka_unit_test(slides),
        cmocka_unit_test(refusals),
        cmocka_unit_test(judged_by_its_interval),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
