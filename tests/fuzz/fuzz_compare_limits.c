/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/compare_file.h>

/* Any bytes are read as limits or refused with a message; limits that were read are in range. */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_compare_limits limits = WW_COMPARE_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_status status = ww_compare_limits_parse("fuzz", (const char *)bytes, n, &limits, &err);
    if (status != WW_OK) {
        if (err.code != status || err.msg[0] == '\0') {
            fputs("refused without a message\n", stderr);
            abort();
        }
        return 0;
    }
    for (int k = 0; k < WW_LIMIT_COUNT; k++)
        if (limits.most[k].set && !(limits.most[k].value > 0.0 && limits.most[k].value <= 100.0))
            abort();
    return 0;
}
