/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/input.h"
#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve_file.h>
#include <wedgework/match_aim.h>
#include <wedgework/readings_file.h>

enum { FILE_MOST = 64 * 1024 * 1024 };
static const char correction[] = "# correction of "; /* as ww_match_file_csv begins */

ww_status ww_match_aim_read(const char *path, ww_readings *readings, ww_curve *curve,
                            bool *is_curve, ww_error *err) {
    char *bytes = NULL;
    size_t n = 0;
    assert(path && readings && curve && is_curve);
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    const char *name = ww__input_name(path);
    if (strncmp(bytes, correction, sizeof correction - 1) == 0) {
        free(bytes);
        return ww_error_set_at(
            err, WW_EMISMATCH, name, 0,
            "this is a correction that match wrote, no readings of a print; give "
            "the readings of the print that is to be matched");
    }
    *is_curve = bytes[strspn(bytes, " \t\r\n")] == '{';
    status = *is_curve ? ww_curve_file_parse(name, bytes, n, curve, err)
                       : ww_readings_file_parse(name, bytes, n, readings, err);
    free(bytes);
    return status;
}
