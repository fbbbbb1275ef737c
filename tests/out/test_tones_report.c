/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blocks.h"
#include "support/tones_case.h"

/* Source: the synthetic chain: white at 1.46495 (0.40 + 0.56 x 1.9017)
 * and 0.0900, darkest 0.4000 and 1.8651; L* by CIE 15's
 * formula; paper slope at net 0.04: 2 s 0.02 0.98 = 0.22732, 0.56 of it 0.127, less the veil. */
static void tables(void **state) {
    (void)state;
    static const char tones_title[] = "The scene, stop by stop";
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__report report = WW__REPORT_INIT;
    tones_case_start(&c);
    tones_case_make("tones", &c, &tones);
    ww__tones_report(&tones, &report);
    expect_row("headings", &report, tones_title, 0,
               "scene|film|film|trust|print|trust|looks|gradient|detail");
    expect_row("white", &report, tones_title, 2,
               "white|0.20|1.46|-|0.09|-|92.3|0.13|toe of the paper");
    expect_row("darkest", &report, tones_title, 10, "-7.3|-1.70|0.40|-|1.87|-|11.7|0.27|kept");
    expect_row("links", &report, "Gradients, link by link", 10,
               "-7.3|0.50|0.56|1.00|0.97|1.00|0.27|-");
    expect_row("losses", &report, "Where detail dies", 0, "from|to|over|dies in");
    test_true("alone", find_block(&report, "Beside each other") == NULL);
    test_true("not asked", find_block(&report, "What cannot be had") == NULL);
    ww__report_release(&report);
    ww_tones_release(&tones);
}

static void beside_each_other(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__report report = WW__REPORT_INIT;
    tones_case_start(&c);
    c.paper[1] = c.paper[0];
    c.paper[1].meta.contrast = (char[]){"4"};
    c.request.n_papers = 2;
    tones_case_make("two papers", &c, &tones);
    ww__tones_report(&tones, &report);
    expect_row("which", &report, "Beside each other", 0,
               "paper|kept|trust|white|grey|grey|gradient|darkest");
    test_text("named", find_block(&report, "Beside each other")->item[3 * 8], "Heron paper, 4");
    expect_row("losses, too", &report, "Where detail dies", 0, "paper|from|to|over|dies in");
    ww__report_release(&report);
    ww_tones_release(&tones);
}

static void wanted(void **state) {
    (void)state;
    static const char film[] = "The film, or the file, that gives it";
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww__report report = WW__REPORT_INIT;
    tones_case_start(&c);
    c.request.wanted = true;
    tones_case_make("wanted", &c, &tones);
    ww__tones_report(&tones, &report);
    expect_row("headings", &report, film, 0, "scene|print|film|film|trust|slope|paper|light|given");
    expect_row("refused", &report, "What cannot be had", 2,
               "-6.6|2.09|darker than the paper was measured");
    test_true("each tone", find_block(&report, film)->n == 9 * (2 + tones.wanted.n));
    test_true("no scene", find_block(&report, "The scene, stop by stop") == NULL);
    ww__report_release(&report);
    ww_tones_release(&tones);
    c.request.n_films = 0;
    tones_case_make("no film", &c, &tones);
    ww__tones_report(&tones, &report);
    expect_row("none given", &report, film, 0, "scene|print|film|film|trust|slope|paper|light");
    ww__report_release(&report);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tables), cmocka_unit_test(beside_each_other), cmocka_unit_test(wanted)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
