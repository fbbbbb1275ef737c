/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/develop_case.h"
#include <wedgework/develop_text.h>

/* Source: the interface: the act first, then why, tables, notes, cautions. */

static void begins_with_the_act(void **state) {
    (void)state;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    develop_case c;
    ww_develop_request request = WW_DEVELOP_REQUEST_INIT;
    ww_development plan = WW_DEVELOPMENT_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    develop_case_start(&c, 1.0, 0.1386294361, 0.0);
    for (int i = 1; i <= 3; i++)
        develop_case_add(&c, 5.0 * i, 0.004, 1.0);
    c.input[1].file = HOSTILE;
    request.contrast_index = (ww_optional){true, 0.6};
    test_status("plan", ww_develop_plan(c.input, c.n, &request, &plan, NULL), WW_OK, NULL);
    plan.row[1].falls = true;
    test_status("text", ww_develop_text(&plan, &style, &text, &err), WW_OK, &err);
    /* -ln(0.4) / 0.1386 = 6.61 min, on 5 s: 6 min 35 s */
    test_true("act first", strncmp(text, "Develop 6 min 35 s (", 20) == 0);
    test_holds("why", text, "\nWhy: contrast index is 0.50 at 5 min and 0.8");
    test_holds("cautions", text, "developers irritate skin and eyes");
    test_lacks("escape", text, "\x1b");
    free(text);
    ww_development_release(&plan);
    develop_case_end(&c);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(begins_with_the_act)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
