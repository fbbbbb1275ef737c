/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "io/curve_document.h"
#include <wedgework/curve_file.h>
#include <wedgework/print_plan_file.h>

/* Source: definition (the Status lines of the headers). */

/* A failure that was borne has changed nothing: the longest texts and numbers are all there. */
static ww_status check_and_release(ww_curve *curve, ww_status status) {
    if (status == WW_OK) {
        test_text("note", curve->notes.text[0], "D-max is not reached: expose further steps.");
        test_text("name", curve->meta.name, "Lantern Hill, roll 3");
        test_close("number", curve->channel[WW_VISUAL].shape.parameter[3], 1.0 / 2.8, 0.0);
    }
    test_true("all or nothing", (curve->notes.n == 2) == (status == WW_OK));
    ww_curve_release(curve);
    return status;
}

static ww_status parse(void *context, ww_error *err) {
    ww_curve curve = WW_CURVE_INIT;
    (void)context;
    return check_and_release(&curve, ww_curve_file_parse("c.json", curve_document,
                                                         sizeof curve_document - 1, &curve, err));
}

static ww_status write(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_curve_file_text(context, &text, &n, err);
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

static ww_status read_file(void *context, ww_error *err) {
    ww_curve curve = WW_CURVE_INIT;
    return check_and_release(&curve, ww_curve_file_read(context, &curve, err));
}

static ww_status write_plan(void *context, ww_error *err) {
    char tone[] = "cloud", paper[] = "Millrace";
    ww_print_tone tones[] = {{.tone = tone, .negative = 1.34}};
    ww_print_paper papers[] = {{.paper = paper, .tone = tones, .n_tones = 1}};
    const ww_print_plan plan = {.paper = papers, .n_papers = 1};
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_print_plan_file_text(&plan, &text, &n, err);
    (void)context;
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

static void curve_files_bear_no_memory(void **state) {
    ww_curve curve = WW_CURVE_INIT;
    char *folder = test_folder_new(), *path = test_path(folder, "c.json");
    (void)state;
    test_file_write(path, curve_document);
    test_status(
        "parse",
        ww_curve_file_parse("c.json", curve_document, sizeof curve_document - 1, &curve, NULL),
        WW_OK, NULL);
    inject_each("parse", parse, NULL);
    inject_each("read", read_file, path);
    inject_each("text", write, &curve);
    ww_curve_release(&curve);
    free(path);
    test_folder_remove(folder);
}

static void print_plan_files_bear_no_memory(void **state) {
    (void)state;
    inject_each("plan", write_plan, NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(curve_files_bear_no_memory),
        cmocka_unit_test(print_plan_files_bear_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
