/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/scanner_file.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* What `measure` would ask of a scanner that it has just read. */
static void use(const ww_scanner *scanner) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scanner_channel *channel = &scanner->channel[c];
        for (size_t i = 0; i <= 16; i++) {
            const double code = scanner->white * (double)i / 16.0;
            ww_quantity density;
            (void)ww_scanner_density(scanner, (ww_channel)c, code, &density, NULL);
            (void)ww_scanner_code(scanner, ww_scanner_light(scanner, code));
        }
        for (size_t i = 0; i < channel->n_points; i++) {
            ww_quantity density;
            (void)ww_scanner_density(scanner, (ww_channel)c, channel->point[i].code, &density,
                                     NULL);
        }
    }
}

/* Any input is refused with a message, or is written, read and written again to the same bytes. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_scanner scanner = WW_SCANNER_INIT, again = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    char *first = NULL, *second = NULL;
    size_t n_first = 0, n_second = 0;
    if (ww_scanner_file_parse("fuzz", (const char *)bytes, n, &scanner, &err) != WW_OK) {
        if (err.code == WW_OK || err.msg[0] == '\0')
            abort();
        return 0;
    }
    use(&scanner);
    if (ww_scanner_file_text(&scanner, &first, &n_first, &err) != WW_OK ||
        ww_scanner_file_parse("fuzz", first, n_first, &again, &err) != WW_OK ||
        ww_scanner_file_text(&again, &second, &n_second, &err) != WW_OK || n_first != n_second ||
        memcmp(first, second, n_first) != 0)
        abort();
    free(first);
    free(second);
    ww_scanner_release(&again);
    ww_scanner_release(&scanner);
    return 0;
}
