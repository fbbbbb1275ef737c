/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <wedgework/scan.h>
#include <wedgework/scan_negative.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* A grey scanner and one in colour, 16 bits, D 0 to 3. */
static void make_scanner(ww_scanner *scanner, ww_scanner_point point[4]) {
    *scanner = (ww_scanner){.bits = 16, .white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_GIVEN}};
    for (int i = 0; i < 4; i++)
        point[i] = (ww_scanner_point){58981.5 * pow(10.0, i - 3.0), 3.0 - i, 0.01};
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        scanner->channel[c] = (ww_scanner_channel){
            .present = true, .k = 0.9, .noise = {3e-4, 2e-3, 3e-3}, .point = point, .n_points = 4};
}

/* Any input is refused with a message, or is a negative that can be planned for or not. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_scanner scanner;
    ww_scanner_point point[4];
    ww_readings negative = WW_READINGS_INIT;
    ww_scan_request request = WW_SCAN_REQUEST_INIT;
    ww_scan_plan plan = WW_SCAN_PLAN_INIT;
    ww_error err = WW_ERROR_INIT;
    make_scanner(&scanner, point);
    if (ww_scan_negative_parse("fuzz", (const char *)bytes, n, &scanner, &negative, &err) !=
        WW_OK) {
        if (err.code == WW_OK || err.msg[0] == '\0')
            abort();
        return 0;
    }
    for (int grey = 0; grey < 2; grey++) {
        for (int c = 0; c < WW_CHANNEL_COUNT; c++)
            scanner.channel[c].present = (c == WW_VISUAL) == (grey == 1);
        request.negative = &negative;
        request.scanner = &scanner;
        (void)ww_scan_plan_make(&request, &plan, &err);
        ww_scan_plan_release(&plan);
    }
    ww_readings_release(&negative);
    return 0;
}
