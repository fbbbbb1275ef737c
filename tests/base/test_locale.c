/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/locale.h"
#include "support/support.h"
#include <stdio.h>

/* Source: POSIX uselocale; de_DE writes a decimal comma. */
static void plain_between_and_restored_after(void **state) {
    char text[16];
    ww__locale locale;
    (void)state;
    if (!test_comma_locale())
        skip();
    snprintf(text, sizeof text, "%.2f", 2.5);
    assert_string_equal(text, "2,50");
    locale = ww__locale_plain();
    snprintf(text, sizeof text, "%.2f", 2.5);
    assert_string_equal(text, "2.50");
    ww__locale_restore(locale);
    snprintf(text, sizeof text, "%.2f", 2.5);
    assert_string_equal(text, "2,50");
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(plain_between_and_restored_after)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
