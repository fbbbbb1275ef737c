/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/develop_words.h"
#include "support/develop_case.h"

/* Source: by hand, of numbers that the test sets; times on 5 s, intervals outwards. */

static const struct {
    const char *name;
    double minutes;
    int way;
    const char *words, *clock;
} times[] = {
    {"nearest", 7.26, 0, "7 min 15 s", "7:15"}, {"down", 7.24, -1, "7 min 10 s", "7:10"},
    {"up", 7.26, 1, "7 min 20 s", "7:20"},      {"whole", 8.0, 0, "8 min", "8:00"},
    {"whole, down", 8.0, -1, "8 min", "8:00"},  {"short", 0.75, 0, "45 s", "0:45"},
    {"carries over", 6.99, 0, "7 min", "7:00"},
};

static void clocks(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof times / sizeof times[0]; i++) {
        ww__text text = WW__TEXT_INIT;
        ww__words_develop_time(&text, times[i].minutes, times[i].way);
        test_text(times[i].name, ww__text_string(&text), times[i].words);
        ww__text_release(&text);
        ww__words_develop_clock(&text, times[i].minutes, times[i].way);
        test_text(times[i].name, ww__text_string(&text), times[i].clock);
        ww__text_release(&text);
    }
}

static void expect(const char *row, const ww_development *plan, const char *want) {
    ww__text text = WW__TEXT_INIT;
    ww__words_develop_act(&text, plan);
    test_text(row, ww__text_string(&text), want);
    ww__text_release(&text);
}

static ww_develop_row two[2];

static ww_development sample(void) {
    const ww_quantity first = {0.47, 0.46, 0.48, WW_FITTED}, last = {0.78, 0.77, 0.79, WW_FITTED};
    two[0] = (ww_develop_row){.time_min = 5.0, .contrast = {first}};
    two[1] = (ww_develop_row){.time_min = 12.0, .contrast = {last}};
    return (ww_development){
        .aimed = true,
        .holds = true,
        .aim = 0.56,
        .row = two,
        .n = 2,
        .time = {7.26, 6.86, 7.71, WW_FITTED},
        .answer = {.place = WW_TIME_GAMMA_INSIDE, .time = {7.26, 6.86, 7.71, WW_FITTED}},
        .temperature_c = {true, 20.0}};
}

static void acts(void **state) {
    (void)state;
    ww_development d = sample();
    expect("a time", &d,
           "Develop 7 min 15 s (6 min 50 s to 7 min 45 s) at 20 C for a contrast index of 0.56.");
    d.repeats = true;
    expect("nothing to see scatter by", &d,
           "Develop 7 min 15 s (6 min 50 s to 7 min 45 s) at 20 C for a contrast index of 0.56, if "
           "one development comes out like the next.");
    d.repeats = false;
    d.time.how = WW_EXTRAPOLATED;
    d.temperature_c.set = false;
    expect("extrapolated", &d,
           "Develop 7 min 15 s (6 min 50 s to 7 min 45 s) for a contrast index of 0.56, "
           "extrapolated.");
    d = sample();
    d.measure = WW_DEVELOP_OVER_RANGE;
    d.density_range = (ww_optional){true, 1.2};
    d.subject_range = (ww_optional){true, 2.1};
    d.aim = 1.2 / 2.1;
    expect("a range", &d,
           "Develop 7 min 15 s (6 min 50 s to 7 min 45 s) at 20 C for 1.20 D of a subject range "
           "of 2.10 (average gradient 0.57).");
    d = sample();
    d.exposure_index = (ww_quantity){84.6, 76.2, 93.9, WW_FITTED};
    d.index_time_min = (ww_optional){true, 7.26};
    expect("with an index", &d,
           "Develop 7 min 15 s (6 min 50 s to 7 min 45 s) at 20 C for a contrast index of 0.56. "
           "Expose at index 80 (85, 76 to 94).");
    d.index_time_min.value = 10.0;
    d.aimed = false;
    expect("an index alone", &d, "Expose at index 80 (85, 76 to 94) when developed 10 min.");
}

static void without_a_time(void **state) {
    (void)state;
    ww_development d = sample();
    d.time = d.answer.time = (ww_quantity)WW_QUANTITY_INIT;
    d.aim = 0.95;
    d.answer.place = WW_TIME_GAMMA_LONGER;
    d.next_min = (ww_optional){true, 16.7};
    expect("longer", &d,
           "No time for a contrast index of 0.95: the longest time, 12 min, gives 0.78, and it "
           "lies more than a quarter past that. Next, develop a strip for 16 min 30 s.");
    d.answer.place = WW_TIME_GAMMA_SHORTER;
    d.aim = 0.3;
    d.next_min.value = 3.1;
    expect("shorter", &d,
           "No time for a contrast index of 0.30: the shortest time, 5 min, gives 0.47, and it "
           "lies more than a quarter past that. Next, develop a strip for 3 min.");
    d.answer.place = WW_TIME_GAMMA_LEVEL;
    d.next_min.value = 18.0;
    expect("level", &d,
           "No time for a contrast index of 0.30: contrast does not grow with time in these "
           "curves. Next, develop a strip for 18 min.");
    d.answer.place = WW_TIME_GAMMA_NEVER;
    d.aim = 1.1;
    expect("never, hardly known", &d,
           "No time for a contrast index of 1.10: contrast levels off below it, as far as these "
           "times tell. Next, develop a strip for 18 min.");
    d.law[0].gamma_infinity = (ww_quantity){0.92, 0.88, 0.97, WW_FITTED};
    expect("never", &d,
           "No time for a contrast index of 1.10: contrast levels off at 0.92 (0.88 to 0.97) in "
           "this developer, at this temperature; what is to print harder needs a harder paper, or "
           "a more active developer.");
    d = sample();
    d.time = (ww_quantity)WW_QUANTITY_INIT;
    d.other_temperature = true;
    d.temperature_c.value = 24.0;
    d.by_temperature.reference_c = 20.0;
    expect("elsewhere", &d,
           "No time at 24 C for a contrast index of 0.56: these curves tell 20 C, where it is "
           "7 min 15 s. Next, develop a strip at 24 C.");
    d.aimed = false;
    expect("no index", &d,
           "No exposure index: no series in stops from a metered exposure reaches net 0.10.");
}

static void reasons(void **state) {
    (void)state;
    ww_development d = sample();
    ww__text text = WW__TEXT_INIT;
    d.speed_stops = (ww_quantity){-0.42, -0.55, -0.31, WW_FITTED};
    d.base_fog = (ww_quantity){0.22, 0.21, 0.23, WW_FITTED};
    ww__words_develop_why(&text, &d);
    test_text("why", ww__text_string(&text),
              "why: contrast index is 0.47 at 5 min and 0.78 at 12 min; the film is 0.4 (0.3 "
              "to 0.6) stop slower than after 12 min; base+fog 0.22 (0.21 to 0.23).");
    ww__text_release(&text);
    d.speed_stops = (ww_quantity){-0.02, -0.12, 0.08, WW_FITTED};
    ww__words_develop_why(&text, &d);
    test_holds("as fast", ww__text_string(&text),
               "; the film is as fast as after 12 min, give or take 0.1 stop;");
    ww__text_release(&text);
    d.aimed = false;
    d.exposure_index = (ww_quantity){80.0, 70.0, 90.0, WW_FITTED};
    d.metered_index = (ww_optional){true, 125.0};
    d.below_stops = 4.0;
    ww__words_develop_why(&text, &d);
    test_holds("index", ww__text_string(&text), "metered at index 125; net 0.10 is to lie 4.00");
    ww__text_release(&text);
    test_text("gamma", ww__words_develop_measure(WW_DEVELOP_GAMMA), "gamma");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(clocks), cmocka_unit_test(acts),
                                       cmocka_unit_test(without_a_time), cmocka_unit_test(reasons)};
    return cmocka_run_group_tests_name("words of a development plan", tests, NULL, NULL);
}
