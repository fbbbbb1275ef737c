/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_log.h>
#include <wedgework/wedgework.h>

static int log_of_nothing(void *context) {
    gsl_sf_result result;
    if (*(const bool *)context && ww_start() != WW_OK)
        return 2;
    return gsl_sf_log_e(-1.0, &result) == GSL_EDOM ? 0 : 1;
}

/* Source: GSL reference manual, 'Error Handlers': the default one calls abort. */
static void gsl_errors_become_statuses(void **state) {
    bool started = true;
    (void)state;
    assert_int_equal(test_in_child(log_of_nothing, &started), 0);
}

static void version_is_that_of_the_headers(void **state) {
    (void)state;
    assert_string_equal(ww_version(), WW_VERSION);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(gsl_errors_become_statuses),
                                       cmocka_unit_test(version_is_that_of_the_headers)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
