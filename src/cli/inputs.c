/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/inputs.h"
#include <string.h>
#include <wedgework/curve_file.h>
#include <wedgework/readings_file.h>

/* Standard input cannot be read a second time. */
static bool may_look_again(const char *path, ww_status status) {
    return status == WW_EINPUT && strcmp(path, "-") != 0;
}

ww_status ww__inputs_readings(const char *path, ww_readings *readings, ww_error *err) {
    const ww_status status = ww_readings_file_read(path, readings, err);
    ww_curve curve = WW_CURVE_INIT;
    if (!may_look_again(path, status) || ww_curve_file_read(path, &curve, NULL) != WW_OK)
        return status;
    ww_curve_release(&curve);
    return ww_error_set_at(err, WW_EINPUT, path, 0,
                           "this is a curve file, and readings are wanted here; give the readings "
                           "(a .csv table)");
}

ww_status ww__inputs_curve(const char *path, ww_curve *curve, ww_error *err) {
    const ww_status status = ww_curve_file_read(path, curve, err);
    ww_readings readings = WW_READINGS_INIT;
    if (!may_look_again(path, status) || ww_readings_file_read(path, &readings, NULL) != WW_OK)
        return status;
    ww_readings_release(&readings);
    return ww_error_set_at(err, WW_EINPUT, path, 0,
                           "these are readings, and a curve file is wanted here; run `wedgework "
                           "fit` on them first and give what its -o writes");
}
