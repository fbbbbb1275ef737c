/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "support/compare_case.h"
#include "support/print_case.h"
#include "support/texture_case.h"
#include <wedgework/compare_file.h>
#include <wedgework/compare_text.h>
#include <wedgework/texture_file.h>
#include <wedgework/texture_text.h>

/* Source: definition (the Status lines of the headers). */

static ww_status shown(const ww_comparison *made, ww_error *err) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_compare_text(made, &style, &text, err);
    if (status == WW_OK)
        status = ww_compare_file_text(made, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static ww_status compare(void *context, ww_error *err) {
    ww_comparison made = WW_COMPARISON_INIT;
    ww_status status = ww_compare_make(context, 2, NULL, &made, err);
    test_true("all or nothing", (made.n == 2) == (status == WW_OK));
    if (status == WW_OK)
        status = shown(&made, err);
    ww_comparison_release(&made);
    return status;
}

static ww_status textures(void *context, ww_error *err) {
    const texture_case *c = context;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *text = NULL, *document = NULL;
    size_t n;
    ww_status status = ww_texture_text(c->scan, 2, &style, &text, err);
    if (status == WW_OK)
        status = ww_texture_file_text(c->scan, 2, &document, &n, err);
    free(text);
    free(document);
    return status;
}

static void comparisons(void **state) {
    (void)state;
    ww_readings gloss = compare_case_print("Gloss", compare_case_gloss, 0.0, 1.5);
    ww_readings rag = compare_case_print("Rag", compare_case_rag, 0.5, 5.0);
    ww_compare_input input[] = {{.readings = &gloss, .file = "gloss.csv"},
                                {.readings = &rag, .file = "rag.csv"}};
    print_case c;
    texture_case t;
    inject_each("tables", compare, input);
    print_case_start(&c);
    input[0] = (ww_compare_input){.curve = print_case_paper(&c, "Soft", 1.3, 0.2)};
    input[1] = (ww_compare_input){.curve = print_case_paper(&c, "Hard", 0.8, 0.2)};
    inject_each("curves", compare, input);
    texture_case_make(&t);
    inject_each("textures", textures, &t);
    ww_readings_release(&gloss);
    ww_readings_release(&rag);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(comparisons)};
    return cmocka_run_group_tests_name("comparisons without memory", tests, NULL, NULL);
}
