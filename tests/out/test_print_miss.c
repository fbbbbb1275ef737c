/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "out/print_miss.h"

/* Source: the interface's rules for text (densities to 0.01, units in the headings, a doubt with
 * what is told); numbers are invented. */

static char cloud[] = "cloud", wall[] = "wall", gloss[] = "Millrace gloss", two[] = "2",
            lot[] = "B7", why[] = "every tone got 0.30 stop more.", note[] = "Invented.";
static ww_miss_tone tones[] = {
    {cloud, WW_PART_DENSE, -0.001, true, 0.03, 0.0213, 0.004},
    {wall, WW_PART_WHOLE, 0.9, false, 0.8149, 0.0281, -0.006},
};

static ww_print_miss sample(void) {
    static char *notes[] = {note};
    ww_print_miss miss = {.set = true,
                          .n_supported = 1,
                          .best = WW_MISS_EXPOSURE,
                          .tone = tones,
                          .n_tones = 2,
                          .why = why,
                          .learned = true,
                          .offset = {.paper = gloss,
                                     .contrast = two,
                                     .lot = lot,
                                     .scale = {true, 3.5},
                                     .log_h = 0.0903,
                                     .range = -0.124,
                                     .sd = 0.0061,
                                     .prints = 2},
                          .notes = {notes, 1}};
    miss.hypothesis[WW_MISS_NOTHING] =
        (ww_miss_hypothesis){.tried = true, .chi_squared = 30.04, .freedom = 2, .chance = 3e-7};
    miss.hypothesis[WW_MISS_EXPOSURE] = (ww_miss_hypothesis){.tried = true,
                                                             .supported = true,
                                                             .log_h = {true, 0.0903},
                                                             .chi_squared = 0.41,
                                                             .freedom = 1,
                                                             .chance = 0.522};
    miss.hypothesis[WW_MISS_LIGHT_END] = (ww_miss_hypothesis){
        .tried = true, .lift = {true, 0.041}, .chi_squared = 9.0, .freedom = 1, .chance = 0.0027};
    miss.hypothesis[WW_MISS_BOTH] = (ww_miss_hypothesis){.tried = true,
                                                         .log_h = {true, -0.1505},
                                                         .range = {true, -0.124},
                                                         .chi_squared = 0.0,
                                                         .freedom = 0,
                                                         .chance = 1.0,
                                                         .fits = true};
    miss.odd = wall;
    miss.hypothesis[WW_MISS_ONE] = (ww_miss_hypothesis){
        .tried = true, .off = {true, -0.09}, .chi_squared = 11.3, .freedom = 1, .chance = 8e-4};
    return miss;
}

static void in_sentences(void **state) {
    const ww_print_miss miss = sample();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__print_miss_say(&miss, &report);
    expect_row("why", &report, "The last print", 0, why);
    /* 0.0903 / log10 2, 1.96 0.0061 / log10 2 */
    expect_row(
        "learned", &report, "The last print", 1,
        "Kept for Millrace gloss, grade 2, lot B7, magnification 3.5: +0.30 stop at the tone "
        "that sets the time (+-0.04), and a range 0.12 log H longer, by 2 prints.");
    expect_row("note", &report, "The last print", 2, note);
    ww__report_release(&report);
}

static void in_tables(void **state) {
    const ww_print_miss miss = sample();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__print_miss_tables(&miss, &report);
    expect_row("beyond", &report, "How the last print came out", 2,
               "cloud, dense|0.00 *|0.03|+0.03|0.02|0.00");
    expect_row("whole", &report, "How the last print came out", 3,
               "wall|0.90|0.81|-0.09|0.03|-0.01");
    expect_row("nothing", &report, "What could be the cause", 2, "nothing|-|30.0|2|under 0.1|no");
    expect_row("exposure", &report, "What could be the cause", 3,
               "exposure|+0.30 stop|0.4|1|52|yes");
    expect_row("light end", &report, "What could be the cause", 4,
               "light end|up by 0.04 D|9.0|1|0.3|no");
    expect_row("one", &report, "What could be the cause", 5,
               "one tone alone|'wall' 0.09 D lighter|11.3|1|under 0.1|no");
    /* It fits, and the one told leaves as little with a size fewer. */
    expect_row("both", &report, "What could be the cause", 6,
               "exposure and contrast|-0.50 stop, 0.12 log H longer|0.0|0|100|not needed");
    ww__report_release(&report);
}

/* Chi-squares are of what is left where a tone was taken out, which the heading says. */
static void without_a_tone(void **state) {
    ww_print_miss miss = sample();
    ww__report report = WW__REPORT_INIT;
    (void)state;
    miss.besides = wall;
    ww__print_miss_tables(&miss, &report);
    expect_row("exposure", &report,
               "What could be the cause, but for the tone that does not go with it", 3,
               "exposure|+0.30 stop|0.4|1|52|yes");
    ww__report_release(&report);
}

static void no_print_no_words(void **state) {
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__print_miss_say(NULL, &report);
    ww__print_miss_tables(NULL, &report);
    assert_int_equal(report.n, 0);
    ww__report_release(&report);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(in_sentences),
        cmocka_unit_test(in_tables),
        cmocka_unit_test(without_a_tone),
        cmocka_unit_test(no_print_no_words),
    };
    return cmocka_run_group_tests_name("print_miss", tests, NULL, NULL);
}
