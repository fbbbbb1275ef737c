/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/control_file.h>

/* Any bytes are read as limits or refused with a message; limits that were read are in range. */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_control_limits limits = WW_CONTROL_LIMITS_INIT;
    ww_error err = WW_ERROR_INIT;
    const ww_status status =
        ww_control_limits_parse("fuzz", (const char *)bytes, n, "", &limits, &err);
    if (status != WW_OK) {
        if (err.code != status || err.msg[0] == '\0') {
            fputs("refused without a message\n", stderr);
            abort();
        }
        return 0;
    }
    for (size_t k = 0; k < limits.n; k++) {
        const ww_control_limit *limit = &limits.limit[k];
        if ((limit->above.set && !(limit->above.value > 0.0 && limit->above.value <= 2.0)) ||
            (limit->below.set && !(limit->below.value < 0.0 && limit->below.value >= -2.0)) ||
            (!limit->above.set && !limit->below.set))
            abort();
    }
    ww_control_limits_release(&limits);
    return 0;
}
