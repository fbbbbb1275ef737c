/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/scan_made_case.h"

/* Source of the figures: the case by hand: 0.0009 10^3 / ln 10 = 0.3909, over the root of 17
 * 0.0948; at its darkest, 2.5 D, 0.1236 and 0.0300. */
static void sentences_and_tables(void **state) {
    static const char where[] = "Exposures, and where pixels come from",
                      noise[] = "Noise, one standard deviation";
    ww_scan_merge merge = scan_made_merge("folder/long.tif", "short.tif");
    ww__report report = WW__REPORT_INIT;
    (void)state;
    ww__scan_merge_report(&merge, &report);
    test_text(
        "act", ww__text_string(&report.act),
        "Merged, 2.00 stops apart: noise of a pixel 2.50 D below full scale, its darkest, falls "
        "from 0.1236 to 0.0300 D (green); trust the ratio to +-0.10 stop.");
    test_text("why", ww__text_string(&report.why),
              "Why: 'long.tif' got more light than 'short.tif', measured at 1734 places that both "
              "hold, and lies on it within 0.5 px (7 of 9 places had detail enough); 20.0 % of "
              "pixels, clipped there, are from the shorter one alone.");
    expect_row("exposures", &report, where, 3, "green|2.00|0.10|-0.150|75.00|5.00|20.00");
    expect_row("both clip", &report, noise, 6, "green|0.50|0.0012|0.0012|100");
    expect_row("noise, at the darkest", &report, noise, 9, "green|2.50|0.1236|0.0300|24");
    test_holds("offset", find_block(&report, "Marks")->item[0], "Merging takes it off");
    /* b - r b of one black b: below 0 for r > 1 */
    test_holds("offset", find_block(&report, "Marks")->item[0], "below 0 where both are alike");
    test_true("notes", find_block(&report, "Notes")->n == 1);
    ww__report_release(&report);
    ww_scan_merge_release(&merge);
}

/* Noise of 12 times as much hides all at 2 D (0.0009 x 12 x 10^2 > 1), not at 1.9 D; the same
 * exposure, no names, nothing to see. */
static void other_pairs(void **state) {
    ww_scan_merge merge = scan_made_merge(NULL, NULL);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    merge.channel[WW_GREEN].stops.value = 0.01;
    merge.shift.places = 0;
    for (size_t i = 0; i < WW_SCAN_MERGE_GAINS; i++)
        merge.channel[WW_GREEN].gain[i].shorter *= 12.0;
    ww__scan_merge_report(&merge, &report);
    test_holds("where it sees", ww__text_string(&report.act), "1.90 D below full scale falls");
    test_holds("unchecked", ww__text_string(&report.act),
               "Merged, 0.01 stops apart and not checked to lie on each other: noise");
    test_holds("alike", ww__text_string(&report.why),
               "the longer scan got as much light as the shorter one, measured at 1734 places that "
               "both hold; 20.0 %");
    ww__report_release(&report);
    merge.taken_as_light = true;
    merge.channel[WW_GREEN].shorter = 0.0;
    ww__scan_merge_report(&merge, &report);
    test_holds("nothing says that they are", ww__text_string(&report.act),
               "Merged, 0.01 stops apart if codes are light and not checked");
    test_holds("nothing clipped", ww__text_string(&report.why), "1734 places that both hold.");
    ww__report_release(&report);
    ww_scan_merge_release(&merge);
}

static void flaws_are_in_the_first_sentence(void **state) {
    static const struct {
        ww_scan_merge_flaw flaw;
        const char *act, *why;
    } rows[] = {
        {WW_SCAN_MERGE_AMPLIFIED, "stops apart, but the longer scan counted no more light: noise",
         "has higher codes than"},
        {WW_SCAN_MERGE_DECODED, "apart, if the scanner file holds for them, which the scans deny: ",
         "got more light than"},
        {WW_SCAN_MERGE_UNEVEN, "apart, but not in one proportion at all levels: noise",
         "got more light than"},
        {WW_SCAN_MERGE_SHARPENED,
         "stops apart, but one was sharpened, smoothed or a mean of more scans: noise",
         "got more light than"},
        {WW_SCAN_MERGE_NOISIER, "stops apart, but noisier than the scanner file holds: noise",
         "got more light than"}};
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_scan_merge merge = scan_made_merge(NULL, NULL);
        ww__report report = WW__REPORT_INIT;
        merge.channel[WW_GREEN].flaw = rows[i].flaw;
        ww__scan_merge_report(&merge, &report);
        test_holds("act", ww__text_string(&report.act), rows[i].act);
        test_holds("why", ww__text_string(&report.why), rows[i].why);
        ww__report_release(&report);
        ww_scan_merge_release(&merge);
    }
}

/* Noise is the scanner file's, and the scans have less. */
static void whose_noise_it_is_is_in_the_first_sentence(void **state) {
    ww_scan_merge merge = scan_made_merge(NULL, NULL);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    merge.channel[WW_GREEN].quieter = true;
    ww__scan_merge_report(&merge, &report);
    test_holds("act", ww__text_string(&report.act),
               " D (green) by the scanner file, which holds more than they have; trust the ratio");
    ww__report_release(&report);
    ww_scan_merge_release(&merge);
}

static void what_the_ratio_rests_on_is_in_the_first_sentence(void **state) {
    ww_scan_merge merge = scan_made_merge(NULL, NULL);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    merge.channel[WW_GREEN].black_taken = true;
    ww__scan_merge_report(&merge, &report);
    test_holds("act", ww__text_string(&report.act), " stop if black is the scanner file's.");
    ww__report_release(&report);
    ww_scan_merge_release(&merge);
}

static void what_differs_is_in_the_first_sentence(void **state) {
    ww_scan_merge merge = scan_made_merge(NULL, NULL);
    ww__report report = WW__REPORT_INIT;
    (void)state;
    merge.differ = (ww_scan_merge_differ){2, 90, 32.0, 96.0};
    ww__scan_merge_report(&merge, &report);
    test_holds("act", ww__text_string(&report.act),
               "stops apart, but the scans are not alike everywhere: noise");
    ww__report_release(&report);
    ww_scan_merge_release(&merge);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sentences_and_tables),
        cmocka_unit_test(other_pairs),
        cmocka_unit_test(flaws_are_in_the_first_sentence),
        cmocka_unit_test(whose_noise_it_is_is_in_the_first_sentence),
        cmocka_unit_test(what_the_ratio_rests_on_is_in_the_first_sentence),
        cmocka_unit_test(what_differs_is_in_the_first_sentence)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
