/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats.h"
#include "io/csv.h"
#include "io/input.h"
#include <assert.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/readings_file.h>

/* A table of readings has a few kilobytes; 64 MiB is no table. */
enum { FILE_MOST = 64 << 20 };

/* Beginnings by which other kinds of file are known (from memory: each format's own signature). */
static const struct {
    const char *bytes;
    size_t n;
    const char *what;
} signatures[] = {
    {"II*\0", 4, "a TIFF picture; read its densities first, or export them as CSV"},
    {"MM\0*", 4, "a TIFF picture; read its densities first, or export them as CSV"},
    {"II+\0", 4, "a TIFF picture; read its densities first, or export them as CSV"},
    {"MM\0+", 4, "a TIFF picture; read its densities first, or export them as CSV"},
    {"%PDF", 4, "a PDF document; type the table into a text file, or export it as CSV"},
    {"PK\3\4", 4, "a zip archive or a spreadsheet; export the sheet as CSV"},
    {"\xd0\xcf\x11\xe0", 4, "a spreadsheet; export the sheet as CSV"},
    {"\x1f\x8b", 2, "compressed; unpack it first"},
    {"\x89PNG", 4, "a PNG picture; readings are a table, export them as CSV"},
    {"\xff\xd8\xff", 3, "a JPEG picture; readings are a table, export them as CSV"},
    {"SQLite format 3", 15, "a database; export the readings as CSV"},
    {"{\\rtf", 5, "a word processor's document; save it as plain text or CSV"},
    {"{", 1, "a JSON document (a curve file?), not readings; give the CSV that it was made from"},
    {"<", 1, "a web page or XML; export the readings as CSV"},
    {"\xff\xfe", 2, "UTF-16 text; save it anew as UTF-8"},
    {"\xfe\xff", 2, "UTF-16 text; save it anew as UTF-8"},
};

static ww_status check_kind(const char *name, const char bytes[], size_t n, ww_error *err) {
    const char *nul;
    if (n > FILE_MOST)
        return ww_error_set_at(err, WW_EINPUT, name, 0,
                               "longer than %d MiB; this is no table of readings",
                               FILE_MOST / (1 << 20));
    for (size_t i = 0; i < sizeof signatures / sizeof *signatures; i++)
        if (n >= signatures[i].n && memcmp(bytes, signatures[i].bytes, signatures[i].n) == 0)
            return ww_error_set_at(err, WW_EINPUT, name, 0, "this is %s", signatures[i].what);
    nul = n > 0 ? memchr(bytes, '\0', n) : NULL;
    if (nul) {
        size_t line = 1;
        for (const char *at = bytes; at < nul; at++)
            line += *at == '\n';
        return ww_error_set_at(
            err, WW_EINPUT, name, line,
            "a zero byte: this is binary, or UTF-16 text; export the readings as "
            "CSV in UTF-8");
    }
    return WW_OK;
}

ww_status ww_readings_file_parse(const char *name, const char bytes[], size_t n,
                                 ww_readings *readings, ww_error *err) {
    static const char mark[] = "\xef\xbb\xbf";
    ww_status status;
    assert((bytes != NULL || n == 0) && readings != NULL);
    if (n == 0)
        bytes = "";
    if (n >= 3 && memcmp(bytes, mark, 3) == 0) {
        bytes += 3;
        n -= 3;
    }
    status = check_kind(name, bytes, n, err);
    if (status != WW_OK)
        return status;
    if (ww__cgats_is(bytes, n))
        return ww__cgats_parse(name, bytes, n, readings, err);
    return ww__csv_parse(name, bytes, n, readings, err);
}

ww_status ww_readings_file_read(const char *path, ww_readings *readings, ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    ww_status status;
    assert(path != NULL && readings != NULL);
    status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status == WW_OK)
        status = ww_readings_file_parse(ww__input_name(path), bytes, n, readings, err);
    free(bytes);
    return status;
}
