/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <wedgework/start.h>

ww_status ww_start(void) {
    gsl_set_error_handler_off();
    return WW_OK;
}

const char *ww_version(void) {
    return WW_VERSION;
}
