/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/outcome.h"
#include "core/readings_made.h"

#include <stdio.h>
#include <wedgework/fit.h>
#include <wedgework/start.h>

/*
 * Source of every row: interface conventions, exit status of `fit`. A base that was read is a
 * result, whichever way the steps fail; neither a curve nor a base is none.
 */
typedef struct failing {
    const char *name;
    size_t steps;
    ww_cell_state state;
    double rise;      /* D a step */
    const char *word; /* of the reason, or of the remedy */
} failing;

static const failing rows[] = {
    {"no step at all", 0, WW_CELL_VALUE, 0.0, "at least 5"},
    {"one reading", 1, WW_CELL_VALUE, 0.11, "1 exposed reading,"},
    {"two readings", 2, WW_CELL_VALUE, 0.11, "at least 5"},
    {"four readings", 4, WW_CELL_VALUE, 0.11, "at least 5"},
    {"all empty", 21, WW_CELL_MISSING, 0.0, "at least 5"},
    {"all beyond the instrument", 21, WW_CELL_OVER, 0.0, "beyond the instrument"},
    {"all equal", 21, WW_CELL_VALUE, 0.0, "longer scale"},
};

static void made(const failing *row, ww_channel channel, bool base, ww_readings *r) {
    r->exposure = WW_EXPOSURE_LOG_H;
    r->has[channel] = true;
    if (base)
        made_step(r, "base", (ww_column)channel, 0.23);
    for (size_t i = 0; i < row->steps; i++) {
        char step[24];
        snprintf(step, sizeof step, "%zu", i + 1);
        ww_row *of = made_step(r, step, (ww_column)channel, 0.31 + row->rise * (double)i);
        of->exposure = (ww_optional){true, -2.17 + 0.15 * (double)i};
        of->cell[channel].state = row->state;
    }
}

static void neither_curve_nor_base(void **state) {
    (void)state;
    const ww_fit_options few = {.resamples = 20, .seed = 1};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings r = WW_READINGS_INIT;
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        made(&rows[i], WW_VISUAL, false, &r);
        r.file = made_text("little.csv");
        test_status(rows[i].name, ww_fit_readings(&r, &few, &curve, &err), WW_ENODATA, &err);
        test_text(rows[i].name, err.file, "little.csv");
        if (!strstr(err.msg, rows[i].word))
            fail_msg("%s: '%s' is not in: %s", rows[i].name, rows[i].word, err.msg);
        test_true("untouched", curve.notes.n == 0 && !curve.channel[WW_VISUAL].present);
        ww_readings_release(&r);
    }
}

static void a_base_alone_is_a_result(void **state) {
    (void)state;
    const ww_fit_options few = {.resamples = 20, .seed = 1};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_readings r = WW_READINGS_INIT;
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        made(&rows[i], WW_VISUAL, true, &r);
        test_status(rows[i].name, ww_fit_readings(&r, &few, &curve, &err), WW_OK, &err);
        const ww_channel_curve *c = &curve.channel[WW_VISUAL];
        test_true(rows[i].name, c->present && !c->fitted && curve.notes.n > 0);
        test_close(rows[i].name, c->figure[WW_FIGURE_BASE_FOG].value, 0.23, 1e-12);
        ww_curve_release(&curve);
        ww_readings_release(&r);
    }
}

/* The reason is told once for channels that fail alike; one channel with a base is enough. */
static void channels(void **state) {
    (void)state;
    const failing *flat = &rows[sizeof rows / sizeof rows[0] - 1];
    const ww_fit_options few = {.resamples = 20, .seed = 1};
    for (int base = 0; base < 2; base++) {
        ww_readings r = WW_READINGS_INIT;
        ww_curve curve = WW_CURVE_INIT;
        ww_error err = WW_ERROR_INIT;
        made(flat, WW_RED, base, &r);
        made(flat, WW_GREEN, false, &r);
        test_status("two", ww_fit_readings(&r, &few, &curve, &err), base ? WW_OK : WW_ENODATA,
                    &err);
        if (!base)
            test_true("both are named", strstr(err.msg, "red, green") != NULL);
        ww_curve_release(&curve);
        ww_readings_release(&r);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(neither_curve_nor_base),
        cmocka_unit_test(a_base_alone_is_a_result),
        cmocka_unit_test(channels),
    };
    if (ww_start() != WW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
