/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "out/results.h"
#include "support/scan_case.h"
#include <wedgework/measure_file.h>
#include <wedgework/measure_text.h>
#include <wedgework/overlay.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/scanner_text.h>

/* Source: definition (the Status lines of the headers). */
static const ww_text_style style = {.width = 80, .timer_step_s = 0.1};

static ww_status check_and_free(ww_status status, char *text, const char *end) {
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    if (text)
        test_holds("the end is there", text, end);
    free(text);
    return status;
}

static ww_status measured_json(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_measure_file_text(context, &text, &n, err);
    return check_and_free(status, text, "\n}\n");
}

static ww_status whole_json(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_measure_file_whole_line(context, &text, &n, err);
    return check_and_free(status, text, "}\n");
}

static ww_status measured_text(void *context, ww_error *err) {
    char *text = NULL;
    const ww_status status = ww_measure_text(context, &style, &text, err);
    return check_and_free(status, text, "  - Invented.\n");
}

static ww_status whole_text(void *context, ww_error *err) {
    char *text = NULL;
    const ww_status status = ww_measure_whole_text(context, &style, &text, err);
    return check_and_free(status, text, "\nblue ");
}

static ww_status scanner_text(void *context, ww_error *err) {
    char *text = NULL;
    const ww_status status = ww_scanner_text(context, &style, &text, err);
    return check_and_free(status, text, "  - Invented.\n");
}

static void texts_bear_no_memory(void **state) {
    struct scan_case scan;
    struct scanner_case scanner;
    ww_whole whole = scan_case_whole(true);
    (void)state;
    scan_case_strip(&scan, true);
    scan_case_scanner(&scanner, true);
    assert_int_equal(ww_notes_add(&scan.measured.notes, NULL, "Invented."), WW_OK);
    assert_int_equal(ww_notes_add(&scanner.scanner.notes, NULL, "Invented."), WW_OK);
    inject_each("JSON of a scan", measured_json, &scan.measured);
    inject_each("JSON of a whole scan", whole_json, &whole);
    inject_each("text of a scan", measured_text, &scan.measured);
    inject_each("text of a whole scan", whole_text, &whole);
    inject_each("text of a scanner", scanner_text, &scanner.scanner);
    ww_notes_release(&scan.measured.notes);
    ww_notes_release(&scanner.scanner.notes);
}

/* gnuplot is out of reach here, so that the plot ends in WW_ETOOL where memory lasts. */
static ww_status without_plot(ww_status status) {
    return status == WW_ETOOL ? WW_OK : status;
}

static ww_status scanner_plot(void *context, ww_error *err) {
    return without_plot(ww_plot_scanner(context, "/dev/null.svg", err));
}

static ww_status measured_plot(void *context, ww_error *err) {
    return without_plot(ww_plot_measured(context, "/dev/null.svg", err));
}

static ww_status whole_plot(void *context, ww_error *err) {
    return without_plot(ww_plot_whole(context, "/dev/null.svg", err));
}

static ww_status overlay_plot(void *context, ww_error *err) {
    char *png = NULL;
    size_t n;
    return without_plot(ww_overlay_draw(context, &png, &n, err));
}

static ww_status measured_page(void *context, ww_error *err) {
    return ww_page_measured(context, "/dev/null", NULL, err);
}

static ww_status scanner_page(void *context, ww_error *err) {
    return ww_page_scanner(context, "/dev/null", NULL, err);
}

static void plots_and_pages_bear_no_memory(void **state) {
    static unsigned char rgb[3 * 4 * 3], rejected[4 * 3];
    struct scan_case scan;
    struct scanner_case scanner;
    ww_whole whole = scan_case_whole(false);
    ww_overlay overlay = {4, 3, 300, rgb, rejected, &scan.measured};
    (void)state;
    setenv("PATH", "/nowhere", 1);
    scan_case_strip(&scan, true);
    scan_case_scanner(&scanner, true);
    inject_each("plot of a scanner", scanner_plot, &scanner.scanner);
    inject_each("plot of a scan", measured_plot, &scan.measured);
    inject_each("plot of a whole scan", whole_plot, &whole);
    inject_each("overlay", overlay_plot, &overlay);
    inject_each("page of a scan", measured_page, &scan.measured);
    inject_each("page of a scanner", scanner_page, &scanner.scanner);
}

/* One block holds the whole picture. */
static const uint8_t codes[6] = {10, 60, 110, 160, 210, 255};

static ww_status show(const ww_picture *picture, const ww_region region[], size_t n_regions,
                      size_t threads, ww_block_visit *visit, void *context, ww_error *err) {
    const ww_block block = {.width = picture->width,
                            .height = picture->height,
                            .channels = 1,
                            .kind = WW_SAMPLE_8,
                            .sample = codes,
                            .next_x = 1,
                            .next_y = 3};
    (void)region;
    (void)n_regions;
    (void)threads;
    return visit(&block, 0, context, err);
}

static ww_status preview(void *context, ww_error *err) {
    static const ww_measured none = WW_MEASURED_INIT;
    const ww_overlay_request request = WW_OVERLAY_REQUEST_INIT;
    ww_overlay overlay = WW_OVERLAY_INIT;
    const ww_status status = ww_overlay_preview(context, &none, &request, &overlay, err);
    test_true("all or nothing", (overlay.rgb != NULL) == (status == WW_OK));
    ww_overlay_release(&overlay);
    return status;
}

static void previews_bear_no_memory(void **state) {
    static const ww_picture_source source = {show, NULL};
    ww_picture picture = {.width = 3,
                          .height = 2,
                          .channels = 1,
                          .sample = WW_SAMPLE_8,
                          .white = 255,
                          .source = &source};
    (void)state;
    inject_each("preview", preview, &picture);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_bear_no_memory),
        cmocka_unit_test(plots_and_pages_bear_no_memory),
        cmocka_unit_test(previews_bear_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
