/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/match_case.h"
#include <stdlib.h>
#include <wedgework/match_text.h>

static void text(void **state) {
    (void)state;
    ww_match *match = match_case(1, WW_RAMP_GRAY);
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    char *made = NULL;
    test_status("text", ww_match_text(match, &style, &made, NULL), WW_OK, NULL);
    test_true("the act comes first", strncmp(made, "Send gray through this curve:", 29) == 0);
    test_holds("notes", made, "An invented note.");
    free(made);
    ww_notes_release(&match->notes);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
