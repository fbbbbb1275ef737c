/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/tones_parts.h"
#include "support/tones_case.h"

/* Source: definition: without flare the darkest tone lies on the speed point, white 2.2 above. */
static void at_the_speed_point(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    c.request.flare = 0.0;
    tones_case_make("film", &c, &tones);
    const ww_tones_chain *chain = &tones.chain[0];
    test_true("so", chain->by_speed_point);
    test_close("darkest", chain->row[chain->n - 1].point.film_log_h, TONES_CASE_SPEED, 1e-9);
    test_close("white", chain->chain.white_log_h, TONES_CASE_SPEED + 2.2, 1e-9);
    ww_tones_release(&tones);
    c.film[0].channel[WW_VISUAL].figure[WW_FIGURE_SPEED_POINT] = (ww_quantity)WW_QUANTITY_INIT;
    c.request.film_stops = 2.0;
    tones_case_make("no speed point", &c, &tones);
    test_true("told", test_noted(&tones.notes, "no speed point") && !tones.chain[0].by_speed_point);
    test_close("first step, two stops more", tones.chain[0].row[8].point.film_log_h,
               -4.0 + 2.0 * log10(2.0), 1e-9);
    ww_tones_release(&tones);
}

/* A placed tone prints at its density, of every paper white. */
static void placed(void **state) {
    (void)state;
    tones_case c;
    ww_tone_point p;
    tones_case_start(&c);
    c.request.place_stops = 2.731;
    c.request.place_density = 0.63;
    const struct {
        ww_relative relative;
        ww_quantity base;
        double white;
    } rows[] = {{WW_RELATIVE_UNKNOWN, tones_case_given(0.05), 0.05},
                {WW_RELATIVE_ABSOLUTE, tones_case_given(0.07), 0.07},
                {WW_RELATIVE_UNKNOWN, WW_QUANTITY_INIT, 0.05}, /* the shape's own */
                {WW_RELATIVE_WHITE, tones_case_given(0.05), 0.0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_tones tones = WW_TONES_INIT;
        c.paper[0].meta.relative = rows[i].relative;
        c.paper[0].channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG] = rows[i].base;
        tones_case_make("placed", &c, &tones);
        ww_tone_chain_follow(&tones.chain[0].chain, -2.731 * log10(2.0), &p);
        test_close("print", p.print.value, rows[i].white + 0.63, 1e-9);
        test_close("white", tones.chain[0].paper_white, rows[i].white, 0.0);
        ww_tones_release(&tones);
    }
    c.request.place_density = 2.3;
    tones_case_refuses("darker than black", &c, WW_ENODATA, "never reaches");
}

/* The file that a complaint is about: the paper's where it is too light, the film's where the
 * placed tone falls beside what was measured of it. */
static void files(void **state) {
    (void)state;
    static const char *const film[] = {"film.json"}, *const paper[] = {"paper.json"};
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww_error err = WW_ERROR_INIT;
    tones_case_start(&c);
    c.request.film_file = film;
    c.request.paper_file = paper;
    c.request.place_density = 2.3;
    test_status("paper", ww_tones_make(&c.request, &tones, &err), WW_ENODATA, &err);
    test_text("named", err.file, "paper.json");
    c.request.place_density = 0.04;
    c.film[0].channel[WW_VISUAL].domain_high = 0.1;
    test_status("film", ww_tones_make(&c.request, &tones, &err), WW_ENODATA, &err);
    test_text("named", err.file, "film.json");
    test_holds("words", err.msg, "falls on the film at log H 0.20, outside its measured range");
}

/* Slides on reversal paper: white on the film's speed point, and light tones still print light. */
static void reversal(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    tones_case_start(&c);
    ww_channel_curve *film = &c.film[0].channel[WW_VISUAL];
    film->shape = tones_case_paper_shape(2.7, 1.0);
    film->shape.falling = true; /* along -log H: middle at log H -1 */
    film->figure[WW_FIGURE_SPEED_POINT] = tones_case_given(-0.4);
    c.paper[0].channel[WW_VISUAL].shape.falling = true;
    tones_case_make("reversal", &c, &tones);
    const ww_tones_chain *chain = &tones.chain[0];
    test_close("white", chain->row[0].point.film_log_h, -0.4, 1e-9);
    test_close("its print", chain->row[0].print.value, 0.09, 1e-9);
    test_true("darker", chain->row[3].print.value > chain->row[1].print.value);
    test_true("gradient", chain->row[3].gradient.value > 0.0);
    ww_tones_release(&tones);
}

static void errors_of_white(void **state) {
    (void)state;
    tones_case c;
    double sd;
    tones_case_start(&c);
    c.paper[0].channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){0.06, 0.0404, 0.0796, WW_MEASURED};
    test_close("white", ww__tones_white(&c.paper[0], WW_VISUAL, &sd), 0.06, 0.0);
    test_close("its error", sd, 0.01, 1e-6);
    c.paper[0].meta.relative = WW_RELATIVE_WHITE;
    test_close("zero", ww__tones_white(&c.paper[0], WW_VISUAL, &sd), 0.0, 0.0);
    test_close("by definition", sd, 0.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_the_speed_point), cmocka_unit_test(placed), cmocka_unit_test(files),
        cmocka_unit_test(reversal), cmocka_unit_test(errors_of_white)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
