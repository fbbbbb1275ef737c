/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <wedgework/strip.h>

static void release(void **state) {
    ww_strip strip = WW_STRIP_INIT;
    (void)state;
    ww_strip_release(NULL);
    ww_strip_release(&strip);
    test_status("plan", ww_strip_plan(16.0, 0.5, 5, 0.1, &strip, NULL), WW_OK, NULL);
    ww_strip_release(&strip);
    test_true("empty", strip.series.n == 0 && strip.series.piece == NULL && strip.notes.n == 0);
    ww_strip_release(&strip);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(release),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
