/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"

static const char *const films[] = {"film.json", "second.json"};
static const char *const papers[] = {"paper.json", "second.json"};

static void start(tones_case *c) {
    tones_case_start(c);
    c->request.film_file = films;
    c->request.paper_file = papers;
}

static void numbers(void **state) {
    (void)state;
    tones_case c;
    start(&c);
    const struct {
        const char *name;
        double *number, value;
        const char *words;
    } rows[] = {{"range", &c.request.subject_range, 0.1, "a subject range of 0.1"},
                {"flare", &c.request.flare, 1.0, "a camera flare of 1 is not within 0 to under 1"},
                {"enlarger", &c.request.enlarger_flare, -0.1, "an enlarger flare"},
                {"viewing", &c.request.viewing_flare, (double)NAN, "a viewing flare"},
                {"callier", &c.request.callier, 3.5, "a Callier factor"},
                {"exposure", &c.request.film_stops, 11.0, "an exposure of 11"},
                {"tone", &c.request.place_stops, 7.5, "a placed tone of 7.5"},
                {"density", &c.request.place_density, 0.0, "a placed density of 0"},
                {"detail", &c.request.detail, 0.0, "a detail of 0"},
                {"slope", &c.request.wanted_slope, 9.0, "a wanted slope of 9"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double kept = *rows[i].number;
        *rows[i].number = rows[i].value;
        tones_case_refuses(rows[i].name, &c, WW_EDOMAIN, rows[i].words);
        *rows[i].number = kept;
    }
}

static void counts(void **state) {
    (void)state;
    tones_case c;
    start(&c);
    c.request.n_papers = 0;
    tones_case_refuses("paper", &c, WW_EDOMAIN, "no paper");
    c.request.n_papers = 1;
    c.request.n_films = 0;
    tones_case_refuses("film", &c, WW_EDOMAIN, "no film");
    c.request.wanted = true;
    c.request.n_papers = 2;
    tones_case_refuses("wanted on two", &c, WW_EDOMAIN, "one paper");
}

static void kinds(void **state) {
    (void)state;
    tones_case c;
    start(&c);
    c.film[0].meta.material = WW_MATERIAL_PAPER;
    tones_case_refuses("a paper for a film", &c, WW_EMISMATCH, "curve of a paper; --film");
    start(&c);
    c.paper[0].meta.material = WW_MATERIAL_FILM;
    tones_case_refuses("a film for a paper", &c, WW_EMISMATCH, "curve of a film; --paper");
    start(&c);
    c.film[0].meta.density = WW_DENSITY_REFLECTION;
    tones_case_refuses("reflection", &c, WW_EMISMATCH, "of reflection");
    start(&c);
    c.paper[0].meta.density = WW_DENSITY_TRANSMISSION;
    tones_case_refuses("transmission", &c, WW_EMISMATCH, "of transmission");
    start(&c);
    c.paper[0].meta.relative = WW_RELATIVE_BASE;
    tones_case_refuses("base", &c, WW_EMISMATCH, "relative to a film base");
    start(&c);
    c.film[0].channel[WW_VISUAL].shape.falling = true;
    tones_case_refuses("a slide on paper for negatives", &c, WW_EMISMATCH, "reversal film");
    start(&c);
    c.film[1] = c.film[0];
    c.request.n_films = 2;
    c.film[0].meta.status = WW_STATUS_M;
    c.film[1].meta.status = WW_STATUS_A;
    tones_case_refuses("status", &c, WW_EMISMATCH, "status M and in status A");
    start(&c);
    c.paper[1] = c.paper[0];
    c.request.n_papers = 2;
    c.paper[0].meta.status = WW_STATUS_VISUAL;
    c.paper[1].meta.status = WW_STATUS_A;
    tones_case_refuses("status of papers", &c, WW_EMISMATCH, "papers read in status visual");
}

static void channels(void **state) {
    (void)state;
    tones_case c;
    ww_error err = WW_ERROR_INIT;
    ww_tones tones = WW_TONES_INIT;
    start(&c);
    c.film[0].meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
    tones_case_refuses("a colour film in one channel", &c, WW_ENODATA, "red, green and blue");
    for (int k = WW_RED; k <= WW_BLUE; k++)
        c.film[0].channel[k] = c.film[0].channel[WW_VISUAL];
    test_status("on black-and-white paper", ww_tones_make(&c.request, &tones, &err), WW_EMISMATCH,
                &err);
    test_holds("words", err.msg, "which of its colours the paper sees is not known");
    test_text("names the paper", err.file, "paper.json");
    start(&c);
    c.film[0].channel[WW_VISUAL].fitted = false;
    tones_case_refuses("no curve", &c, WW_ENODATA, "visual channel has no curve");
    c.film[0].channel[WW_VISUAL].present = false;
    tones_case_refuses("no channel", &c, WW_ENODATA, "no channel");
    /* Silver read in three colours goes by its green. */
    start(&c);
    c.film[0].meta.emulsion = WW_EMULSION_BLACK_AND_WHITE;
    for (int k = WW_RED; k <= WW_BLUE; k++)
        c.film[0].channel[k] = c.film[0].channel[WW_VISUAL];
    c.film[0].channel[WW_VISUAL].present = c.film[0].channel[WW_VISUAL].fitted = false;
    tones_case_says("green", &c, "The green densities of 'Heron film' stand in", true);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(numbers), cmocka_unit_test(counts),
                                       cmocka_unit_test(kinds), cmocka_unit_test(channels)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
