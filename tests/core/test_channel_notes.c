/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/channel_notes.h"
#include "support/support.h"

/* Source: definition. */
static void channels_share_a_sentence(void **state) {
    (void)state;
    ww_notes notes = WW_NOTES_INIT;
    static const char *const given[] = {"no base row",
                                        "no D-max (red): add steps",
                                        "no D-max (green): take steps",
                                        "step 7 (blue) reads 0.31",
                                        "no D-max (blue): add steps",
                                        "no curve (blue)",
                                        "no curve (visual)"};
    static const char *const wanted[] = {"no base row", "no D-max (red, blue): add steps",
                                         "no D-max (green): take steps", "step 7 (blue) reads 0.31",
                                         "no curve (blue, visual)"};
    const size_t n = sizeof given / sizeof *given, want = sizeof wanted / sizeof *wanted;
    for (size_t i = 0; i < n; i++)
        assert_int_equal(ww_notes_add(&notes, NULL, "%s", given[i]), WW_OK);
    assert_int_equal(ww__channel_notes_merge(&notes, NULL), WW_OK);
    assert_int_equal(notes.n, want);
    for (size_t i = 0; i < want; i++)
        test_text("note", notes.text[i], wanted[i]);
    ww_notes_release(&notes);
    assert_int_equal(ww__channel_notes_merge(&notes, NULL), WW_OK);
    assert_int_equal(notes.n, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(channels_share_a_sentence)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
