/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/control.h>
#include <wedgework/control_table.h>

/* Any bytes are read as a log or refused with a message; a log that was read can be judged, and
 * written. */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_control_log log = WW_CONTROL_LOG_INIT;
    ww_control control = WW_CONTROL_INIT;
    const ww_control_request request = {.slow = WW_CONTROL_SLOW_CUSUM};
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t length;
    const ww_status status = ww_control_table_parse("fuzz", (const char *)bytes, n, &log, &err);
    if (status != WW_OK) {
        if (err.code != status || err.msg[0] == '\0') {
            fputs("refused without a message\n", stderr);
            abort();
        }
        return 0;
    }
    if (ww_control_judge(&log, &request, &control, &err) != WW_OK ||
        ww_control_table_text(&log, &text, &length, &err) != WW_OK)
        abort();
    free(text);
    ww_control_release(&control);
    ww_control_log_release(&log);
    return 0;
}
