/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_write.h"
#include "io/same.h"
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/readings_file.h>

/*
 * Any bytes are read or refused with a message; what was read can be written in both formats, and
 * reads back as the same table to the bit.
 */

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static void fail(const char *what, const char *detail, const ww__text *text) {
    fprintf(stderr, "%s: %s\n%s\n", what, detail, text ? ww__text_string(text) : "");
    abort();
}

static void round_trip(const ww_readings *read, void (*write)(ww__text *, const ww_readings *)) {
    ww__text text = WW__TEXT_INIT;
    ww_readings again = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    const char *where;
    if (ww__write_check(read, &err) != WW_OK)
        fail("read but cannot be written", err.msg, NULL);
    write(&text, read);
    if (ww_readings_file_parse("again", text.bytes, text.n, &again, &err) != WW_OK)
        fail("written but cannot be read", err.msg, &text);
    where = difference(read, &again);
    if (where)
        fail("differs when read again", where, &text);
    ww_readings_release(&again);
    ww__text_release(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
    ww_readings read = WW_READINGS_INIT, pooled = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    ww_status status = ww_readings_file_parse("fuzz", (const char *)bytes, n, &read, &err);
    if (status != WW_OK) {
        if (err.code != status || err.msg[0] == '\0')
            fail("refused without a message", "", NULL);
        return 0;
    }
    round_trip(&read, ww__write_csv);
    round_trip(&read, ww__write_cgats);
    if (ww_readings_pool(&read, &pooled, &err) != WW_OK)
        fail("cannot be pooled", err.msg, NULL);
    ww_readings_release(&pooled);
    ww_readings_release(&read);
    return 0;
}
