/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "support/tones_case.h"
#include <wedgework/viewing.h>

/* A wanted print by log10 luminance. */
static ww_readings table(ww_column column) {
    ww_readings made = WW_READINGS_INIT;
    made.meta.material = WW_MATERIAL_PRINT;
    made.exposure = WW_EXPOSURE_LOG_H;
    made.has[column] = true;
    made.file = made_text("wanted.csv");
    return made;
}

static void add(ww_readings *print, double scene, ww_column column, double value) {
    char step[24];
    snprintf(step, sizeof step, "%zu", print->n + 1);
    ww_row *row = made_step(print, step, column, value);
    row->exposure = (ww_optional){true, scene};
}

/* What a chain prints, wanted again. */
static ww_readings wanted_again(const ww_tones_chain *chain) {
    ww_readings print = table(WW_COLUMN_VISUAL);
    for (size_t i = 0; i < chain->n; i++)
        add(&print, chain->row[i].point.scene, WW_COLUMN_VISUAL, chain->row[i].viewed.value);
    return print;
}

static void start_closing(tones_case *c, double enlarger_flare) {
    tones_case_start(c);
    c->request.callier = 1.23;
    c->request.enlarger_flare = enlarger_flare;
    c->request.viewing_flare = 0.007;
}

/* The film that it takes is the chain's own, through every flare. Source: the chain, forward. */
static void closes(void **state) {
    (void)state;
    tones_case c;
    ww_tones forward = WW_TONES_INIT, back = WW_TONES_INIT;
    start_closing(&c, 0.003);
    tones_case_make("forward", &c, &forward);
    ww_readings print = wanted_again(&forward.chain[0]);
    c.request.wanted = true;
    c.request.wanted_print = &print;
    tones_case_make("back", &c, &back);
    const ww_tones_wanted *w = &back.wanted;
    assert_int_equal(w->n, forward.chain[0].n);
    assert_int_equal(w->n_had, w->n);
    test_true("holds", back.holds);
    for (size_t i = 0; i < w->n; i++) {
        test_close("film", w->row[i].negative.value, forward.chain[0].row[i].negative.value, 1e-6);
        test_close("log H", w->row[i].film_log_h, forward.chain[0].row[i].point.film_log_h, 1e-9);
    }
    test_close("slope", w->slope_most.value, 0.56, 1e-4);
    test_close("nothing off", w->worst.value, 0.0, 1e-6);
    ww_tones_release(&back);
    ww_tones_release(&forward);
    ww_readings_release(&print);
}

/* Without the film all but its level comes out; where flare lies on the easel, a thinner film needs
 * another range, so there is none here. */
static void closes_but_for_the_level(void **state) {
    (void)state;
    tones_case c;
    ww_tones forward = WW_TONES_INIT, back = WW_TONES_INIT;
    start_closing(&c, 0.0);
    tones_case_make("forward", &c, &forward);
    ww_readings print = wanted_again(&forward.chain[0]);
    const ww_tones_row *row = forward.chain[0].row;
    c.request.wanted = true;
    c.request.wanted_print = &print;
    c.request.n_films = 0;
    tones_case_make("alone", &c, &back);
    test_close("thinnest", back.wanted.row[8].negative.value, 0.30, 1e-12);
    test_close("light", back.wanted.row[8].light.value, 1.0, 1e-12);
    for (size_t i = 0; i < back.wanted.n; i++)
        test_close("film", back.wanted.row[i].negative.value,
                   row[i].negative.value - row[8].negative.value + 0.30, 1e-6);
    test_close("range", back.wanted.range.value, row[0].negative.value - row[8].negative.value,
               1e-6);
    ww_tones_release(&back);
    ww_tones_release(&forward);
    ww_readings_release(&print);
}

/* A straight print: the paper's closed form gives the film. */
static void straight(void **state) {
    (void)state;
    tones_case c;
    ww_tones made = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.n_films = 0;
    c.request.flare = 0.0;
    c.request.wanted = true;
    c.request.wanted_slope = 1.1;
    tones_case_make("straight", &c, &made);
    const ww_tones_wanted *w = &made.wanted;
    assert_int_equal(w->n, 23);
    test_true("not all", w->n_had < w->n && !made.holds);
    double dark = 0.0;
    for (size_t i = 0; i < w->n; i++) {
        const double net = 0.04 + 1.1 * 0.1 * (double)i;
        test_close("wanted", w->row[i].viewed, 0.05 + net, 1e-12);
        const double log_h = -log(2.0 / net - 1.0) / 5.799090;
        if (net < 2.0 && log_h < 1.6) {
            test_close("log H", w->row[i].paper_log_h.value, log_h, 1e-6);
            dark = log_h;
        } else
            test_text("too dark", ww_tones_want_name(w->row[i].want),
                      "darker than the paper was measured");
    }
    for (size_t i = 0; i < w->n_had; i++) {
        const double net = 0.04 + 1.1 * 0.1 * (double)i;
        test_close("film", w->row[i].negative.value, 0.30 + dark + log(2.0 / net - 1.0) / 5.799090,
                   1e-6);
    }
    ww_tones_release(&made);
}

static void what_cannot_be_had(void **state) {
    (void)state;
    tones_case c;
    ww_tones made = WW_TONES_INIT;
    ww_readings print = table(WW_COLUMN_VISUAL);
    static const struct {
        double scene, density;
        ww_tones_want want;
    } rows[] = {{0.0, 0.04, WW_TONES_TOO_LIGHT}, {-0.3, 0.5, WW_TONES_HAD},
                {-0.6, 0.4, WW_TONES_REVERSED},  {-0.9, 1.3, WW_TONES_HAD},
                {-1.2, 1.60, WW_TONES_TOO_DARK}, {-1.5, 1.9, WW_TONES_VEILED}};
    tones_case_start(&c);
    c.request.viewing_flare = 0.02; /* looks 1.7076 at most */
    c.request.n_films = 0;
    c.request.wanted = true;
    c.request.wanted_print = &print;
    c.paper[0].channel[WW_VISUAL].domain_high = 0.2;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        add(&print, rows[i].scene, WW_COLUMN_VISUAL, rows[i].density);
    tones_case_make("some", &c, &made);
    for (size_t i = 0; i < made.wanted.n; i++)
        test_text("want", ww_tones_want_name(made.wanted.row[i].want),
                  ww_tones_want_name(rows[i].want));
    assert_int_equal(made.wanted.n_had, 2);
    test_true("a film that falls", made.wanted.slope_least.value < 0.0);
    ww_tones_release(&made);
    /* So much light on the easel that no film is dense enough for the light tones. */
    c.request.viewing_flare = 0.0;
    c.request.enlarger_flare = 0.5;
    print.row[0].cell[WW_COLUMN_VISUAL].value = 0.06;
    tones_case_make("flared", &c, &made);
    test_text("flared", ww_tones_want_name(made.wanted.row[0].want),
              "lighter than the enlarger's flare lets any film print");
    ww_tones_release(&made);
    c.request.enlarger_flare = 0.0;
    for (size_t i = 0; i < print.n; i++)
        print.row[i].cell[WW_COLUMN_VISUAL].value = 2.4 + 0.1 * (double)i;
    tones_case_refuses("none", &c, WW_ENODATA, "no tone of the wanted print");
    ww_readings_release(&print);
}

/* L* of CIE 15: 50 is D 0.734742, 95 is 0.057405. Above white, paper white comes on top. */
static void other_columns(void **state) {
    (void)state;
    tones_case c;
    ww_tones made = WW_TONES_INIT;
    ww_readings print = table(WW_COLUMN_LAB_L);
    tones_case_start(&c);
    c.request.n_films = 0;
    c.request.wanted = true;
    c.request.wanted_print = &print;
    add(&print, 0.0, WW_COLUMN_LAB_L, 95.0);
    add(&print, -0.74, WW_COLUMN_LAB_L, 50.0);
    tones_case_make("L*", &c, &made);
    test_close("95", made.wanted.row[0].viewed, 0.057405, 1e-6);
    test_close("50", made.wanted.row[1].viewed, 0.734742, 1e-6);
    ww_tones_release(&made);
    ww_readings_release(&print);
    print = table(WW_COLUMN_VISUAL);
    print.meta.relative = WW_RELATIVE_WHITE;
    add(&print, 0.0, WW_COLUMN_VISUAL, 0.04);
    add(&print, -0.74, WW_COLUMN_VISUAL, 0.7);
    tones_case_make("above white", &c, &made);
    test_close("white", made.wanted.row[0].viewed, 0.09, 1e-12);
    ww_tones_release(&made);
    ww_readings_release(&print);
}

static void tables_refused(void **state) {
    (void)state;
    tones_case c;
    ww_readings print = table(WW_COLUMN_VISUAL);
    tones_case_start(&c);
    c.request.n_films = 0;
    c.request.wanted = true;
    c.request.wanted_print = &print;
    add(&print, -1.0, WW_COLUMN_VISUAL, 0.9);
    tones_case_refuses("one tone", &c, WW_ENODATA, "two tones at least");
    add(&print, -0.5, WW_COLUMN_VISUAL, 0.5);
    tones_case_refuses("order", &c, WW_EMISMATCH, "no darker than the one before it");
    print.exposure = WW_EXPOSURE_NONE;
    tones_case_refuses("no scene", &c, WW_EMISMATCH, "which tone of the scene");
    print.exposure = WW_EXPOSURE_LOG_H;
    print.meta.material = WW_MATERIAL_NEGATIVE;
    tones_case_refuses("a negative", &c, WW_EMISMATCH, "readings of a negative");
    print.meta.material = WW_MATERIAL_PRINT;
    print.has[WW_COLUMN_VISUAL] = false;
    tones_case_refuses("no densities", &c, WW_ENODATA, "");
    ww_readings_release(&print);
}

/* One parameter in doubt: the film's range hangs on the paper's steepness as 1/s. */
static void doubt(void **state) {
    (void)state;
    tones_case c;
    ww_tones made = WW_TONES_INIT;
    ww_readings print = table(WW_COLUMN_VISUAL);
    tones_case_start(&c);
    tones_case_doubt(&c, 0.0, 0.0, 0.0, 0.09);
    c.request.n_films = 0;
    c.request.wanted = true;
    c.request.wanted_print = &print;
    add(&print, 0.0, WW_COLUMN_VISUAL, 0.15);
    add(&print, -2.0, WW_COLUMN_VISUAL, 1.85);
    for (size_t i = 0; i < 2; i++) /* many readings: rounding is left, 0.0029 D */
        print.row[i].cell[WW_COLUMN_VISUAL].n = 1000000;
    tones_case_make("doubt", &c, &made);
    const ww_quantity film = made.wanted.row[0].negative;
    const double range = film.value - 0.30, s = 5.799090;
    const double slope = 2.0 * s * 0.05 * 0.95, dark = 2.0 * s * 0.9 * 0.1;
    const double by_steepness = range * 0.09 / s;
    const double read = 0.0029 * hypot(1.0 / slope, 1.0 / dark);
    test_close("half", 0.5 * (film.high - film.low), 1.959964 * hypot(by_steepness, read), 1e-4);
    ww_tones_release(&made);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(closes),
                                       cmocka_unit_test(closes_but_for_the_level),
                                       cmocka_unit_test(straight),
                                       cmocka_unit_test(doubt),
                                       cmocka_unit_test(what_cannot_be_had),
                                       cmocka_unit_test(other_columns),
                                       cmocka_unit_test(tables_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
