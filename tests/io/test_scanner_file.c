/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_made.h"
#include "io/scanner_document.h"
#include "support/support.h"
#include <jansson.h>
#include <wedgework/start.h>

/* Source of every expectation: definition (the format that scanner_file.h describes). */

static void same_text(const char *row, const char *a, const char *b) {
    test_true(row, (a == NULL) == (b == NULL));
    if (a)
        test_text(row, a, b);
}

static void same_quantity(const char *row, ww_quantity a, ww_quantity b) {
    test_close(row, a.value, b.value, 0.0);
    test_close(row, a.low, b.low, 0.0);
    test_close(row, a.high, b.high, 0.0);
    assert_int_equal(a.how, b.how);
}

static void same_channel(const char *row, const ww_scanner_channel *a,
                         const ww_scanner_channel *b) {
    assert_int_equal(a->present, b->present);
    assert_int_equal(a->n_points, b->n_points);
    assert_int_equal(a->n_steps, b->n_steps);
    for (size_t i = 0; i < a->n_points; i++)
        assert_memory_equal(&a->point[i], &b->point[i], sizeof a->point[i]);
    for (size_t i = 0; i < a->n_steps; i++) {
        same_text(row, a->step[i].step, b->step[i].step);
        test_close(row, a->step[i].density, b->step[i].density, 0.0);
        test_close(row, a->step[i].code, b->step[i].code, 0.0);
        test_close(row, a->step[i].sd, b->step[i].sd, 0.0);
        test_close(row, a->step[i].fitted, b->step[i].fitted, 0.0);
        assert_int_equal(a->step[i].clipped, b->step[i].clipped);
        assert_int_equal(a->step[i].compressed, b->step[i].compressed);
        assert_int_equal(a->step[i].suspect, b->step[i].suspect);
    }
    test_close(row, a->k, b->k, 0.0);
    assert_int_equal(a->surround.set, b->surround.set);
    test_close(row, a->surround.value, b->surround.value, 0.0);
    assert_int_equal(a->clips.set, b->clips.set);
    test_close(row, a->clips.value, b->clips.value, 0.0);
    assert_memory_equal(&a->noise, &b->noise, sizeof a->noise);
    same_quantity(row, a->dark, b->dark);
    same_quantity(row, a->flare, b->flare);
    same_quantity(row, a->dmax, b->dmax);
    test_close(row, a->residual_sd, b->residual_sd, 0.0);
    test_close(row, a->worst_residual, b->worst_residual, 0.0);
}

static void same(const char *row, const ww_scanner *a, const ww_scanner *b) {
    same_text(row, a->name, b->name);
    same_text(row, a->profile, b->profile);
    assert_int_equal(a->bits, b->bits);
    test_close(row, a->white, b->white, 0.0);
    test_close(row, a->step, b->step, 0.0);
    assert_int_equal(a->encoding, b->encoding);
    same_quantity(row, a->gamma, b->gamma);
    assert_int_equal(a->wedge, b->wedge);
    assert_int_equal(a->wedge_sd.set, b->wedge_sd.set);
    test_close(row, a->wedge_sd.value, b->wedge_sd.value, 0.0);
    assert_int_equal(a->density, b->density);
    assert_int_equal(a->dark_scan, b->dark_scan);
    assert_int_equal(a->misfit, b->misfit);
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        same_channel(row, &a->channel[c], &b->channel[c]);
    assert_int_equal(a->notes.n, b->notes.n);
    for (size_t i = 0; i < a->notes.n; i++)
        test_text(row, a->notes.text[i], b->notes.text[i]);
}

/* Into a file and back, and a second time to the same bytes. */
static void round_trip(const char *row, const ww_scanner *scanner) {
    char *folder = test_folder_new(), *path = test_path(folder, "s.json"), *text = NULL;
    ww_scanner again = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    size_t n = 0, n_file = 0;
    test_status(row, ww_scanner_file_write(scanner, path, &err), WW_OK, &err);
    test_status(row, ww_scanner_file_read(path, &again, &err), WW_OK, &err);
    same(row, scanner, &again);
    test_status(row, ww_scanner_file_text(&again, &text, &n, &err), WW_OK, &err);
    char *file = test_file_read(path, &n_file);
    assert_int_equal(n, n_file);
    assert_memory_equal(text, file, n);
    free(file);
    free(text);
    ww_scanner_release(&again);
    free(path);
    test_folder_remove(folder);
}

static void fitted_scanners_come_back(void **state) {
    static const double gammas[] = {1.0, 2.2, 0.0};
    (void)state;
    (void)test_comma_locale(); /* numbers have a point all the same */
    for (size_t i = 0; i < 3; i++) {
        const made_truth truth = made_usual(gammas[i]);
        made_scan s;
        ww_scanner scanner = WW_SCANNER_INIT;
        ww_error err = WW_ERROR_INIT;
        uint64_t seed = made_seed(i);
        made_wedge(&s, 21, 0.05, 0.15, 16);
        made_scan_channel(&s, WW_RED, &truth, 0.004, &seed);
        made_scan_channel(&s, WW_BLUE, &truth, 0.004, &seed);
        s.measured.surround[WW_BLUE] = (ww_surround){true, 61234.5, 0.0, 0.0};
        s.patch[0].channel[WW_RED].clipped = 0.3;
        s.patch[7].channel[WW_BLUE].code *= 0.7;
        test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, &err), WW_OK,
                    &err);
        scanner.channel[WW_RED].clips = (ww_optional){true, 16383.0};
        round_trip("fitted", &scanner);
        ww_scanner_release(&scanner);
    }
}

static void documents_come_back(void **state) {
    ww_scanner scanner = WW_SCANNER_INIT;
    (void)state;
    test_status("parse",
                ww_scanner_file_parse("s.json", scanner_document, sizeof scanner_document - 1,
                                      &scanner, NULL),
                WW_OK, NULL);
    round_trip("document", &scanner);
    ww_scanner_release(&scanner);
}

/* The keys of the interface, as any reader of JSON finds them. */
static void keys_are_those_of_the_interface(void **state) {
    const made_truth truth = made_usual(1.0);
    made_scan s;
    ww_scanner scanner = WW_SCANNER_INIT;
    char *text = NULL;
    size_t n = 0;
    double gamma, low, high, code, density, read, shot, fixed, dark, flare, dmax;
    int bits;
    const char *kind, *clipped;
    (void)state;
    made_wedge(&s, 21, 0.05, 0.15, 16);
    made_scan_channel(&s, WW_RED, &truth, 0.0, NULL);
    s.patch[0].channel[WW_RED].clipped = 0.3;
    test_status("fit", ww_scanner_fit(&s.measured, &s.wedge, NULL, &scanner, NULL), WW_OK, NULL);
    test_status("text", ww_scanner_file_text(&scanner, &text, &n, NULL), WW_OK, NULL);
    json_t *root = json_loadb(text, n, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    assert_int_equal(
        json_unpack(root,
                    "{s:s, s:i, s:{s:F, s:F, s:F}, s:{s:{s:[[F, F]], s:{s:F, s:F, s:F}, s:{s:F}, "
                    "s:{s:F}, s:{s:F}, s:[s]}}}",
                    "kind", &kind, "bits", &bits, "encoding", "gamma", &gamma, "low", &low, "high",
                    &high, "channels", "red", "curve", &code, &density, "noise", "read", &read,
                    "shot", &shot, "fixed", &fixed, "dark", "value", &dark, "flare", "value",
                    &flare, "dmax", "value", &dmax, "clipped", &clipped),
        0);
    test_text("kind", kind, "scanner");
    test_text("clipped", clipped, "1");
    assert_int_equal(bits, 16);
    test_close("densest first", density, 3.05, 1e-9);
    test_close("flare", flare, 0.002, 1e-6);
    json_decref(root);
    free(text);
    ww_scanner_release(&scanner);
}

static void what_cannot_be_written(void **state) {
    ww_scanner scanner = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t n = 77;
    static char latin[] = "w\xe4sche";
    (void)state;
    scanner.white = (double)NAN;
    test_status("not finite", ww_scanner_file_text(&scanner, &text, &n, &err), WW_EDOMAIN, &err);
    scanner.white = 255.0;
    scanner.name = latin;
    test_status("not UTF-8", ww_scanner_file_text(&scanner, &text, &n, &err), WW_EDOMAIN, &err);
    test_status("nor into a file", ww_scanner_file_write(&scanner, "s.json", &err), WW_EDOMAIN,
                &err);
    assert_null(text);
    assert_int_equal(n, 77);
    scanner.name = NULL;
    char *folder = test_folder_new(), *path = test_path(folder, "none/s.json");
    test_status("no folder", ww_scanner_file_write(&scanner, path, &err), WW_ESYSTEM, &err);
    free(path);
    test_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fitted_scanners_come_back),
        cmocka_unit_test(documents_come_back),
        cmocka_unit_test(keys_are_those_of_the_interface),
        cmocka_unit_test(what_cannot_be_written),
    };
    (void)ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
