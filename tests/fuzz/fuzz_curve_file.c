/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve_file.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* What another command would ask of a curve that it has just read. */
static void use(const ww_curve *curve) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        const double middle = 0.5 * (channel->domain_low + channel->domain_high);
        double density = 0.0, slope = 0.0, log_h = 0.0, sd = 0.0;
        if (ww_curve_density(channel, middle, &density, &slope, NULL) != WW_OK)
            continue;
        (void)ww_curve_log_h(channel, density, &log_h, NULL);
        (void)ww_curve_density_sd(channel, middle, &sd, NULL);
    }
}

/* Any input is refused with a message, or is written, read and written again to the same bytes. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_curve curve = WW_CURVE_INIT, again = WW_CURVE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *first = NULL, *second = NULL;
    size_t n_first = 0, n_second = 0;
    if (ww_curve_file_parse("fuzz", (const char *)bytes, n, &curve, &err) != WW_OK) {
        if (err.code == WW_OK || err.msg[0] == '\0')
            abort();
        return 0;
    }
    use(&curve);
    if (ww_curve_file_text(&curve, &first, &n_first, &err) != WW_OK ||
        ww_curve_file_parse("fuzz", first, n_first, &again, &err) != WW_OK ||
        ww_curve_file_text(&again, &second, &n_second, &err) != WW_OK || n_first != n_second ||
        memcmp(first, second, n_first) != 0)
        abort();
    free(first);
    free(second);
    ww_curve_release(&again);
    ww_curve_release(&curve);
    return 0;
}
