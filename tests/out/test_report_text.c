/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/report.h"
#include "results.h"

/* Source of every expected text: the layout described in report.h and text_style.h, set by hand. */
static void say(ww__report *report, const char *act) {
    ww__text text = WW__TEXT_INIT;
    ww__text_add(&text, act);
    ww__report_act(report, &text);
}

static void expect(const char *row, ww__report *report, const ww_text_style *style,
                   const char *want) {
    char *text = NULL;
    test_status(row, ww__report_make_text(report, style, &text, NULL), WW_OK, NULL);
    test_text(row, text, want);
    free(text);
}

static void add_table(ww__report *report) {
    static const ww__heading heading[] = {
        {"tone", ""}, {"negative", "D"}, {"aim", ""}, {"fate", ""}};
    static const char *const cells[] = {"cloud",      "1.30 to 1.38", "0.10", "burn",
                                        "qu\xC3\xA9", "0.35",         "-",    "prints"};
    ww__report_table(report, "Tones", 4, "lrel");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        ww__report_item(report, cells[i]);
}

static void folds_sentences(void **state) {
    const ww_text_style narrow = {.width = 20}, wide = {.width = 0};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    say(&report, "Grade 2, 18.4 s; burn the cloud.");
    ww__report_list(&report, "Notes", false);
    ww__report_item(&report, "Nothing was placed, so the densest tone sets it.");
    expect("20 columns", &report, &narrow,
           "Grade 2, 18.4 s;\nburn the cloud.\n\nNotes\n  - Nothing was\n    placed, so the\n"
           "    densest tone\n    sets it.\n");
    say(&report, "Grade 2, 18.4 s; burn the cloud.");
    expect("no limit", &report, &wide, "Grade 2, 18.4 s; burn the cloud.\n");
}

static void aligns_tables(void **state) {
    const ww_text_style wide = {.width = 80}, narrow = {.width = 25};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    say(&report, "Act.");
    add_table(&report);
    expect("whole; a letter of two bytes is one wide", &report, &wide,
           "Act.\n\nTones\n"
           "tone       negative   aim  fate\n"
           "                  D\n"
           "cloud  1.30 to 1.38  0.10  burn\n"
           "qu\xC3\xA9            0.35     -  prints\n");
    say(&report, "Act.");
    add_table(&report);
    expect("in parts; aim stays beside negative", &report, &narrow,
           "Act.\n\nTones\n"
           "tone       negative   aim\n"
           "                  D\n"
           "cloud  1.30 to 1.38  0.10\n"
           "qu\xC3\xA9            0.35     -\n"
           "\n"
           "tone   fate\n"
           "cloud  burn\n"
           "qu\xC3\xA9    prints\n");
}

/* A cloud in two columns (U+96F2), and an e with its accent behind it (U+0301), which takes none.
 * Source: Unicode Standard Annex 11, wide and combining characters, from memory. */
static void aligns_wide_characters(void **state) {
    static const ww__heading heading[] = {{"tone", ""}, {"D", ""}};
    static const char *const cells[] = {"\xE9\x9B\xB2\xE9\x9B\xB2\xE9\x9B\xB2", "1.30",
                                        "que\xCC\x81", "0.35"};
    const ww_text_style wide = {.width = 80};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    say(&report, "Act.");
    ww__report_table(&report, "Tones", 2, "lr");
    ww__report_headings(&report, heading);
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        ww__report_item(&report, cells[i]);
    expect("wide", &report, &wide,
           "Act.\n\nTones\ntone       D\n\xE9\x9B\xB2\xE9\x9B\xB2\xE9\x9B\xB2  1.30\n"
           "que\xCC\x81     0.35\n");
}

static void leaves_out_what_is_empty(void **state) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    static const ww__heading heading[] = {{"tone", ""}, {"fate", ""}};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    say(&report, "Act.");
    ww__report_list(&report, "Notes", false);
    ww__report_table(&report, "Tones", 2, "ll");
    ww__report_headings(&report, heading);
    expect("empty", &report, &style, "Act.\n");
}

/* Bold and yellow: ECMA-48, SGR 1 and 33. */
static void colours_sparely(void **state) {
    const ww_text_style style = {.width = 80, .colour = true};
    ww__report report = WW__REPORT_INIT;
    (void)state;
    say(&report, "Act.");
    ww__report_list(&report, "Suspects", true);
    ww__report_item(&report, "step 7.");
    ww__report_list(&report, "Notes", false);
    ww__report_item(&report, "A note.");
    expect("colour", &report, &style,
           "\x1b[1mAct.\x1b[0m\n\nSuspects\n\x1b[33m  - step 7.\x1b[0m\n\nNotes\n  - A note.\n");
}

static void makes_names_harmless(void **state) {
    const ww_text_style style = {.width = 0};
    ww__report report = WW__REPORT_INIT;
    char *text = NULL;
    (void)state;
    say(&report, HOSTILE);
    ww__report_list(&report, "Notes", false);
    ww__report_item(&report, HOSTILE);
    add_table(&report);
    ww__report_item(&report, HOSTILE);
    for (int i = 0; i < 3; i++)
        ww__report_item(&report, "");
    test_status("hostile", ww__report_make_text(&report, &style, &text, NULL), WW_OK, NULL);
    for (const char *at = text; *at; at++)
        test_true("no control but line ends", (unsigned char)*at >= ' ' || *at == '\n');
    test_lacks("no line of its own", text, "\n!touch");
    free(text);
}

static void tells_of_no_memory(void **state) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww__report report = WW__REPORT_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    (void)state;
    report.failed = true;
    test_status("failed", ww__report_make_text(&report, &style, &text, &err), WW_EMEMORY, &err);
    assert_null(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(folds_sentences),        cmocka_unit_test(aligns_tables),
        cmocka_unit_test(aligns_wide_characters), cmocka_unit_test(leaves_out_what_is_empty),
        cmocka_unit_test(colours_sparely),        cmocka_unit_test(makes_names_harmless),
        cmocka_unit_test(tells_of_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
