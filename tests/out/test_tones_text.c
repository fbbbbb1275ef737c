/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/tones_case.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/tones_text.h>

static void text(void **state) {
    (void)state;
    tones_case c;
    ww_tones tones = WW_TONES_INIT;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *made = NULL;
    tones_case_start(&c);
    tones_case_make("tones", &c, &tones);
    test_status("text", ww_tones_text(&tones, &style, &made, NULL), WW_OK, NULL);
    test_true("the act comes first", strncmp(made, "Of the scene's 7.3 stops ", 25) == 0);
    test_holds("why", made, "\nWhy: middle grey");
    test_holds("notes", made, "\nNotes\n");
    free(made);
    ww_tones_release(&tones);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
