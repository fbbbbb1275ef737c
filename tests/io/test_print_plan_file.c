/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_plan_file.h>

/*
 * Source of every expectation: the description of the `print` document, whose keys are fixed. The
 * negative, the papers and all their numbers are invented.
 */
static char cloud_name[] = "cloud", rock_name[] = "rock \"wet\"", base_name[] = "base";
static char first_paper[] = "Millrace matt", second_paper[] = "grade 5", grade[] = "2\xC2\xBD";
static char why[] = "it takes 1.08 log H; the negative gives 1.05.";

static ww_print_tone tones[] = {
    {.tone = cloud_name,
     .negative = 1.34,
     .negative_thin = {true, 1.30},
     .negative_dense = {true, 1.38},
     .print = {true, 0.03},
     .print_thin = {true, 0.04},
     .print_dense = {true, 0.02},
     .aim = {true, 0.1},
     .separation = {true, 0.05},
     .separation_straight = {true, 0.01},
     .verdict = WW_VERDICT_BURN,
     .burn_stops = {true, 0.8},
     .burn_seconds = {true, 10.5},
     .hand_stops = {true, 0.25},
     .hand_seconds = {true, 2.67},
     .print_after = {true, 0.11},
     .flash_print = {true, 0.06},
     .flash_separation = {true, 0.03},
     .flash_burn_stops = {true, 0.3},
     .soft_seconds = {true, 8.1},
     .soft_separation = {true, 0.04}},
    {.tone = rock_name,
     .negative = 0.1 + 0.2,
     .print = {true, 1.731},
     .verdict = WW_VERDICT_PRINTS,
     .burn_stops = {true, -1.0 / 3.0},
     .beyond = true},
    {.tone = base_name, .base = true, .negative = 0.21, .verdict = WW_VERDICT_PRINTS},
};

static ww_print_tone other_tones[] = {
    {.tone = cloud_name, .negative = 1.34, .verdict = WW_VERDICT_LOST},
    {.tone = rock_name, .negative = 0.35, .verdict = WW_VERDICT_BLOCKED},
};

static ww_print_paper papers[] = {
    {.paper = first_paper,
     .contrast = grade,
     .holds = true,
     .why = why,
     .time_s = {true, 14.1},
     .doubt_stops = {true, 0.17},
     .paper_range = {1.08, 1.05, 1.11, WW_FITTED},
     .mismatch = 0.03,
     .split = {true, 8.0, 6.1},
     .flash = {true, 1.2, {-1.1, -1.2, -1.0, WW_FITTED}, {0.008, 0.0, 0.028, WW_MEASURED}, 0.2},
     .work_stops = 1.25,
     .tone = tones,
     .n_tones = 3,
     .budget = {{"readings", 0.05}, {"paper fit", 0.08}},
     .n_budget = 2},
    {.paper = second_paper, .nominal = true, .tone = other_tones, .n_tones = 2},
};

static ww_print_plan plan_of(size_t n_papers) {
    return (ww_print_plan){.holds = true,
                           .paper = papers,
                           .n_papers = n_papers,
                           .negative_range = {1.05, 1.02, 1.07, WW_MEASURED},
                           .dense_tone = cloud_name,
                           .thin_tone = rock_name};
}

static json_t *document_of(const ww_print_plan *plan) {
    char *text = NULL;
    size_t n = 0;
    json_t *document;
    ww_error err = WW_ERROR_INIT;
    test_status("text", ww_print_plan_file_text(plan, &text, &n, &err), WW_OK, &err);
    assert_int_equal(n, strlen(text));
    assert_int_equal(text[n - 1], '\n');
    document = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(document);
    free(text);
    return document;
}

/* Every key is there; what should be null is null, and nothing else. */
static void has_keys(const json_t *object, const char *const keys[], size_t n,
                     const char *null_keys) {
    assert_true(json_is_object(object));
    for (size_t i = 0; i < n; i++) {
        const json_t *value = json_object_get(object, keys[i]);
        const char *at = strstr(null_keys, keys[i]);
        const size_t length = strlen(keys[i]);
        const bool null =
            at && (at == null_keys || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0');
        test_true(keys[i], value != NULL && json_is_null(value) == null);
    }
}

static double number_of(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    test_true(key, json_is_number(value));
    return json_number_value(value);
}

static const char *text_of(const json_t *object, const char *key) {
    return json_string_value(json_object_get(object, key));
}

static const char *const top_keys[] = {"kind", "choice", "papers", "negative_range", "notes"};
static const char *const paper_keys[] = {"paper", "contrast",    "time",  "doubt_stops",
                                         "holds", "paper_range", "tones", "budget"};
static const char *const tone_keys[] = {
    "tone",    "negative", "print",      "aim",         "separation", "separation_straight",
    "verdict", "burn",     "hand_stops", "print_after", "flash",      "soft_burn"};
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void writes_every_key(void **state) {
    ww_print_plan plan = plan_of(2);
    const json_t *list, *paper, *tone;
    json_t *document;
    (void)state;
    ww_notes_add(&plan.notes, NULL, "Invented.");
    document = document_of(&plan);
    has_keys(document, top_keys, COUNT(top_keys), "");
    test_text("kind", text_of(document, "kind"), "print plan");
    test_text("note", json_string_value(json_array_get(json_object_get(document, "notes"), 0)),
              "Invented.");
    list = json_object_get(document, "papers");
    assert_int_equal(json_array_size(list), 2);
    assert_true(json_equal(json_array_get(list, 0), json_object_get(document, "choice")));
    has_keys(json_array_get(list, 0), paper_keys, COUNT(paper_keys), "");
    has_keys(json_array_get(list, 1), paper_keys, COUNT(paper_keys),
             "contrast time doubt_stops paper_range");

    paper = json_array_get(list, 0);
    list = json_object_get(paper, "tones");
    assert_int_equal(json_array_size(list), 3);
    tone = json_array_get(list, 0);
    has_keys(tone, tone_keys, COUNT(tone_keys), "");
    has_keys(json_array_get(list, 1), tone_keys, COUNT(tone_keys),
             "aim separation separation_straight hand_stops print_after flash soft_burn");
    has_keys(json_array_get(list, 2), tone_keys, COUNT(tone_keys),
             "print aim separation separation_straight verdict burn hand_stops print_after flash "
             "soft_burn");
    json_decref(document);
    ww_notes_release(&plan.notes);
}

static void writes_what_the_plan_says(void **state) {
    const ww_print_plan plan = plan_of(2);
    json_t *document = document_of(&plan);
    const json_t *range = json_object_get(document, "negative_range");
    const json_t *paper = json_object_get(document, "choice");
    const json_t *list = json_object_get(paper, "tones"), *tone = json_array_get(list, 0), *line;
    (void)state;
    test_close("range", number_of(range, "value"), 1.05, 0.0);
    test_close("range", number_of(range, "low"), 1.02, 0.0);
    test_text("range", text_of(range, "how"), "measured");
    test_text("paper", text_of(paper, "paper"), "Millrace matt");
    test_text("contrast", text_of(paper, "contrast"), "2\xC2\xBD");
    test_close("time", number_of(paper, "time"), 14.1, 0.0);
    test_close("doubt", number_of(paper, "doubt_stops"), 0.17, 0.0);
    assert_true(json_is_true(json_object_get(paper, "holds")));
    test_close("paper range", number_of(json_object_get(paper, "paper_range"), "high"), 1.11, 0.0);

    test_text("tone", text_of(tone, "tone"), "cloud");
    test_close("negative", number_of(tone, "negative"), 1.34, 0.0);
    test_close("print", number_of(tone, "print"), 0.03, 0.0);
    test_close("aim", number_of(tone, "aim"), 0.1, 0.0);
    test_close("separation", number_of(tone, "separation"), 0.05, 0.0);
    test_close("straight", number_of(tone, "separation_straight"), 0.01, 0.0);
    test_text("verdict", text_of(tone, "verdict"), "burn");
    test_close("stops", number_of(json_object_get(tone, "burn"), "stops"), 0.8, 0.0);
    test_close("seconds", number_of(json_object_get(tone, "burn"), "seconds"), 10.5, 0.0);
    line = json_object_get(tone, "negative_ends");
    test_close("thin", json_number_value(json_array_get(line, 0)), 1.30, 0.0);
    test_close("dense", json_number_value(json_array_get(line, 1)), 1.38, 0.0);

    tone = json_array_get(list, 1);
    test_text("tone", text_of(tone, "tone"), "rock \"wet\"");
    test_close("full precision", number_of(tone, "negative"), 0.1 + 0.2, 0.0);
    test_text("verdict", text_of(tone, "verdict"), "prints");
    test_close("dodging", number_of(json_object_get(tone, "burn"), "stops"), -1.0 / 3.0, 0.0);
    assert_true(json_is_null(json_object_get(json_object_get(tone, "burn"), "seconds")));

    list = json_object_get(paper, "budget");
    assert_int_equal(json_array_size(list), 2);
    line = json_array_get(list, 1);
    test_text("from", text_of(line, "from"), "paper fit");
    test_close("stops", number_of(line, "stops"), 0.08, 0.0);

    list = json_object_get(json_array_get(json_object_get(document, "papers"), 1), "tones");
    test_text("verdict", text_of(json_array_get(list, 0), "verdict"), "lost");
    test_text("verdict", text_of(json_array_get(list, 1), "verdict"), "blocked");
    json_decref(document);
}

static void writes_what_else_could_be_done(void **state) {
    const ww_print_plan plan = plan_of(2);
    json_t *document = document_of(&plan);
    const json_t *paper = json_object_get(document, "choice");
    const json_t *tone = json_array_get(json_object_get(paper, "tones"), 0);
    const json_t *flash = json_object_get(paper, "flash");
    (void)state;
    test_close("soft", number_of(json_object_get(paper, "split"), "soft"), 8.0, 0.0);
    test_close("hard", number_of(json_object_get(paper, "split"), "hard"), 6.1, 0.0);
    test_close("work", number_of(paper, "work_stops"), 1.25, 0.0);
    test_close("flash", number_of(flash, "time"), 1.2, 0.0);
    test_close("flash", number_of(json_object_get(flash, "log_h"), "low"), -1.2, 0.0);
    test_close("white", number_of(flash, "white"), 0.008, 0.0);
    test_close("white", number_of(json_object_get(flash, "white_interval"), "high"), 0.028, 0.0);
    test_close("lift", number_of(flash, "lift"), 0.2, 0.0);
    test_close("by hand", number_of(tone, "hand_stops"), 0.25, 0.0);
    test_close("by hand", number_of(tone, "hand_seconds"), 2.67, 0.0);
    test_close("after", number_of(tone, "print_after"), 0.11, 0.0);
    flash = json_object_get(tone, "flash");
    test_close("flashed", number_of(flash, "print"), 0.06, 0.0);
    test_close("flashed", number_of(flash, "separation"), 0.03, 0.0);
    test_close("burn besides", number_of(flash, "burn_stops"), 0.3, 0.0);
    test_close("soft", number_of(json_object_get(tone, "soft_burn"), "seconds"), 8.1, 0.0);
    test_close("soft", number_of(json_object_get(tone, "soft_burn"), "separation"), 0.04, 0.0);
    paper = json_array_get(json_object_get(document, "papers"), 1);
    assert_true(json_is_null(json_object_get(paper, "flash")));
    assert_true(json_is_null(json_object_get(paper, "split")));
    json_decref(document);
}

static void writes_a_plan_without_papers(void **state) {
    const ww_print_plan plan = WW_PRINT_PLAN_INIT;
    json_t *document = document_of(&plan);
    (void)state;
    has_keys(document, top_keys, COUNT(top_keys), "choice negative_range");
    assert_int_equal(json_array_size(json_object_get(document, "papers")), 0);
    assert_int_equal(json_array_size(json_object_get(document, "notes")), 0);
    json_decref(document);
}

/* One tone sets no contrast: neither a range of the negative nor what a paper misses it by. */
static void writes_null_for_a_contrast_that_is_not_set(void **state) {
    ww_print_plan plan = plan_of(2);
    char none[] = "";
    json_t *document = document_of(&plan);
    const json_t *paper = json_object_get(document, "choice");
    (void)state;
    test_close("mismatch", number_of(paper, "mismatch"), 0.03, 0.0);
    test_text("dense", text_of(document, "dense_tone"), "cloud");
    test_text("thin", text_of(document, "thin_tone"), "rock \"wet\"");
    paper = json_array_get(json_object_get(document, "papers"), 1);
    assert_true(json_is_null(json_object_get(paper, "mismatch")));
    json_decref(document);

    plan.negative_range = (ww_quantity)WW_QUANTITY_INIT;
    plan.thin_tone = none;
    document = document_of(&plan);
    paper = json_object_get(document, "choice");
    has_keys(document, top_keys, COUNT(top_keys), "negative_range");
    assert_true(json_is_null(json_object_get(document, "thin_tone")));
    assert_true(json_is_null(json_object_get(paper, "mismatch")));
    test_close("paper range", number_of(json_object_get(paper, "paper_range"), "value"), 1.08, 0.0);
    json_decref(document);
}

static void refuses_what_cannot_be_written(void **state) {
    ww_print_plan plan = plan_of(1);
    char *text = NULL, latin[] = "Gr\xFCn";
    size_t n = 77;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    plan.negative_range.high = (double)NAN;
    test_status("NaN", ww_print_plan_file_text(&plan, &text, &n, &err), WW_EDOMAIN, &err);
    plan = plan_of(1);
    plan.thin_tone = latin;
    test_status("Latin-1", ww_print_plan_file_text(&plan, &text, &n, &err), WW_EDOMAIN, &err);
    assert_null(text);
    assert_int_equal(n, 77);
}

static void writes_files_whole_or_not_at_all(void **state) {
    char *folder = test_folder_new(), *path = test_path(folder, "plan.json");
    char *nowhere = test_path(folder, "no/folder.json"), *text, *bytes;
    ww_print_plan plan = plan_of(2);
    size_t n, n_bytes;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("nowhere", ww_print_plan_file_write(&plan, nowhere, &err), WW_ESYSTEM, &err);
    test_status("write", ww_print_plan_file_write(&plan, path, &err), WW_OK, &err);
    test_status("text", ww_print_plan_file_text(&plan, &text, &n, &err), WW_OK, &err);
    plan.negative_range.value = (double)INFINITY;
    test_status("infinite", ww_print_plan_file_write(&plan, path, &err), WW_EDOMAIN, &err);
    bytes = test_file_read(path, &n_bytes); /* still the one before */
    assert_int_equal(n_bytes, n);
    assert_memory_equal(bytes, text, n);
    assert_int_equal(test_folder_count(folder), 1);
    free(bytes);
    free(text);
    free(nowhere);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(writes_every_key),
        cmocka_unit_test(writes_what_the_plan_says),
        cmocka_unit_test(writes_what_else_could_be_done),
        cmocka_unit_test(writes_a_plan_without_papers),
        cmocka_unit_test(writes_null_for_a_contrast_that_is_not_set),
        cmocka_unit_test(refuses_what_cannot_be_written),
        cmocka_unit_test(writes_files_whole_or_not_at_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
