/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/readings_made.h"
#include "fault/inject.h"
#include "support/tones_case.h"
#include <stdlib.h>
#include <wedgework/tones_file.h>
#include <wedgework/tones_text.h>

/* Source: definition (the Status lines of the headers). */

static ww_status make(void *context, ww_error *err) {
    const tones_case *c = context;
    ww_tones tones = WW_TONES_INIT;
    const ww_status status = ww_tones_make(&c->request, &tones, err);
    test_true("all or nothing", (tones.n > 0 || tones.wanted.given) == (status == WW_OK));
    ww_tones_release(&tones);
    return status;
}

static ww_status document(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_tones_file_text(context, &text, &n, err);
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

static ww_status table(void *context, ww_error *err) {
    char *text = NULL;
    size_t n = 0;
    const ww_status status = ww_tones_file_csv(context, &text, &n, err);
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    free(text);
    return status;
}

static ww_status text(void *context, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *made = NULL;
    const ww_status status = ww_tones_text(context, &style, &made, err);
    free(made);
    return status;
}

static void start(tones_case *c) {
    tones_case_start(c);
    tones_case_doubt(c, 0.0, 0.006, 0.0, 0.09);
    c->paper[1] = c->paper[0];
}

static void forward(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    start(&c);
    c.request.n_papers = 2;
    inject_each("two papers", make, &c);
    tones_case_make("tones", &c, &tones);
    inject_each("a document", document, &tones);
    inject_each("a text", text, &tones);
    ww_tones_release(&tones);
}

static void back(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    ww_readings print = WW_READINGS_INIT;
    start(&c);
    print.exposure = WW_EXPOSURE_LOG_H;
    for (int i = 0; i < 3; i++) {
        ww_row *row =
            made_step(&print, (char[]){(char)('1' + i), '\0'}, WW_COLUMN_LAB_L, 90.0 - 25.0 * i);
        row->exposure = (ww_optional){true, -0.7 * i};
    }
    c.request.wanted = true;
    inject_each("a straight print", make, &c);
    c.request.wanted_print = &print;
    inject_each("a table", make, &c);
    tones_case_make("wanted", &c, &tones);
    inject_each("a document", document, &tones);
    inject_each("its film", table, &tones);
    inject_each("a text", text, &tones);
    ww_tones_release(&tones);
    ww_readings_release(&print);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(forward), cmocka_unit_test(back)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
