/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/text.h"
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* What was read, written exactly, reads back as the same double. */
static void check_parse(const char *string, char mark) {
    double value = (double)NAN, back = (double)NAN;
    ww_error err = WW_ERROR_INIT;
    ww__text text = WW__TEXT_INIT;
    if (ww_number_parse(string, mark, &value, &err) != WW_OK) {
        if (!isnan(value) || err.code != WW_EINPUT || !err.msg[0])
            abort();
        return;
    }
    ww__text_add_exact(&text, value);
    if (!isfinite(value) || ww_number_parse(ww__text_string(&text), '.', &back, NULL) != WW_OK ||
        back < value || back > value)
        abort();
    ww__text_release(&text);
}

static void check_escapes(const char *string) {
    ww__text text = WW__TEXT_INIT;
    ww__escape_gnuplot(&text, string);
    if (strpbrk(ww__text_string(&text), "\n\r"))
        abort();
    ww__text_release(&text);
    ww__escape_html(&text, string);
    if (strpbrk(ww__text_string(&text), "<>\"'"))
        abort();
    ww__text_release(&text);
    ww__escape_csv(&text, string);
    if (strpbrk(ww__text_string(&text), "\n\r"))
        abort();
    ww__text_release(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    char *string = malloc(n + 1);
    if (!string)
        return 0;
    if (n > 0)
        memcpy(string, bytes, n);
    string[n] = '\0';
    check_parse(string, '.');
    check_parse(string, ',');
    check_escapes(string);
    free(string);
    return 0;
}
