/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_made.h"
#include <wedgework/balance_text.h>

/* Source: the interface's order of a text: the act, why, tables, notes; 80 columns. */
static void comes_in_the_readers_order(void **state) {
    static const char *const order[] = {"Too dark and too green",
                                        "\nWhy: ",
                                        "\nPack and time",
                                        "\nGreys",
                                        "\nWhat acts do here",
                                        "\nWhat the doubt",
                                        "\nThis print as rows",
                                        "60Y45M,11,card,1,-,0.880",
                                        "\nNotes",
                                        "  - Invented.\n",
                                        "\nCautions"};
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_balance balance = balance_made();
    char *text = NULL;
    const char *at;
    (void)state;
    assert_int_equal(ww_notes_add(&balance.notes, NULL, "Invented."), WW_OK);
    test_status("text", ww_balance_text(&balance, &style, &text, NULL), WW_OK, NULL);
    at = text;
    for (size_t i = 0; at && i < sizeof order / sizeof *order; i++) {
        at = strstr(at, order[i]);
        if (!at)
            fail_msg("'%s' is not in its place in:\n%s", order[i], text);
    }
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        test_true("80 columns", strcspn(line, "\n") <= 80);
    free(text);
    ww_notes_release(&balance.notes);
}

static void survives_hostile_names(void **state) {
    static char hostile[] = HOSTILE;
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_balance balance = balance_made();
    char *text = NULL;
    (void)state;
    balance.tone[0].tone = hostile;
    test_status("hostile", ww_balance_text(&balance, &style, &text, NULL), WW_OK, NULL);
    test_lacks("escape sequence", text, "\x1b");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comes_in_the_readers_order),
        cmocka_unit_test(survives_hostile_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
