/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/inputs.h"
#include "io/input.h"
#include <stdlib.h>
#include <string.h>
#include <wedgework/curve_file.h>
#include <wedgework/picture_file.h>
#include <wedgework/readings_file.h>

enum { FILE_MOST = 64 << 20 }; /* of a table or a curve file */

/* Standard input cannot be read a second time. */
static bool are_readings(const char *path) {
    ww_readings readings = WW_READINGS_INIT;
    const bool yes =
        strcmp(path, "-") != 0 && ww_readings_file_read(path, &readings, NULL) == WW_OK;
    ww_readings_release(&readings);
    return yes;
}

ww_status ww__inputs_curve(const char *path, ww_curve *curve, ww_error *err) {
    const ww_status status = ww_curve_file_read(path, curve, err);
    if (status != WW_EINPUT || !are_readings(path))
        return status;
    return ww_error_set_at(err, WW_EINPUT, path, 0,
                           "these are readings, and a curve file is wanted here; run `wedgework "
                           "fit` on them first and give what its -o writes");
}

ww_status ww__inputs_either(const char *path, ww_readings *readings, ww_curve *curve,
                            bool *is_curve, ww_error *err) {
    char *bytes = NULL;
    size_t n = 0, at = 0;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    while (at < n && strchr(" \t\r\n", bytes[at]) && bytes[at])
        at++;
    *is_curve = at < n && bytes[at] == '{';
    status = *is_curve ? ww_curve_file_parse(ww__input_name(path), bytes, n, curve, err)
                       : ww_readings_file_parse(ww__input_name(path), bytes, n, readings, err);
    free(bytes);
    return status;
}

ww_status ww__inputs_picture(const char *path, ww_optional page, ww_picture *picture,
                             ww_error *err) {
    ww_status status = ww_picture_file_open(path, page.set ? (size_t)page.value : 1, picture, err);
    if (status != WW_OK || page.set || picture->pages < 2)
        return status;
    status = ww_notes_add(&picture->notes, err, "Page 1 of %zu was read; --page chooses another.",
                          picture->pages);
    if (status != WW_OK)
        ww_picture_release(picture);
    return status;
}
