/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <string.h>
#include <wedgework/tones.h>

static void words(void **state) {
    (void)state;
    test_text("first", ww_tones_fate_name(WW_TONES_KEPT), "kept");
    test_text("last", ww_tones_fate_name(WW_TONES_BEYOND_PAPER),
              "beyond the paper's measured range");
    for (int i = WW_TONES_KEPT; i < WW_TONES_BEYOND_PAPER; i++)
        test_true("unlike", strcmp(ww_tones_fate_name((ww_tones_fate)i),
                                   ww_tones_fate_name((ww_tones_fate)(i + 1))) != 0);
    test_text("had", ww_tones_want_name(WW_TONES_HAD), "can be had");
    test_text("reversed", ww_tones_want_name(WW_TONES_REVERSED), "lighter than the tone before it");
}

/* Source: the header: the first chain, of colours the green one. */
static void main_chain(void **state) {
    (void)state;
    ww_tones_chain chain[3] = {{.film = NULL}};
    ww_tones tones = {.chain = chain, .n = 3};
    for (size_t i = 0; i < 3; i++)
        chain[i].film_channel = chain[i].paper_channel = WW_VISUAL;
    assert_int_equal(ww_tones_main(&tones), 0);
    for (size_t i = 0; i < 3; i++)
        chain[i].film_channel = chain[i].paper_channel = (ww_channel)i;
    assert_int_equal(ww_tones_main(&tones), WW_GREEN);
    tones.n = 1;
    assert_int_equal(ww_tones_main(&tones), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(words), cmocka_unit_test(main_chain)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
