/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <wedgework/filter_plan_file.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* Any input is refused with a message, or gives a plan that can be carried to a new size, or is
 * told why not. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_balance_request request = WW_BALANCE_REQUEST_INIT;
    ww_balance balance = WW_BALANCE_INIT;
    ww_filter_plan plan;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    size_t length = 0;
    if (ww_filter_plan_file_parse("fuzz", (const char *)bytes, n, &plan, &err) != WW_OK) {
        if (err.code == WW_OK || err.msg[0] == '\0')
            abort();
        return 0;
    }
    const ww_balance_offset offset = {plan.change, plan.stops, 2.0,      plan.doubt,
                                      plan.doubt,  plan.grey,  plan.grey};
    request.from = plan.exact;
    request.head_scale = plan.head_scale;
    request.filter_step = plan.filter_step;
    request.timer_step_s = plan.timer_step_s;
    if (ww_balance_carry(&request, &offset, &balance, &err) == WW_OK) {
        if (!isfinite(balance.exact.time_s) ||
            ww_filter_plan_file_text(&balance, &text, &length, &err) != WW_OK)
            abort();
    } else if (err.msg[0] == '\0') {
        abort();
    }
    free(text);
    ww_balance_release(&balance);
    return 0;
}
