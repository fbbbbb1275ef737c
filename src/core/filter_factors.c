/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>
#include <wedgework/filter_factors.h>

/* Kodak Publication E-142: a row an amount, a column a colour. */
static const char colours[] = "YMCRGB";
enum { COLOURS = sizeof colours - 1 };
static const struct {
    double cc;
    double factor[COLOURS];
} table[] = {
    {5, {1.1, 1.2, 1.1, 1.2, 1.1, 1.1}},  {10, {1.1, 1.3, 1.2, 1.3, 1.2, 1.3}},
    {20, {1.1, 1.5, 1.3, 1.5, 1.3, 1.6}}, {30, {1.1, 1.7, 1.4, 1.7, 1.4, 2.0}},
    {40, {1.1, 1.9, 1.5, 1.9, 1.5, 2.4}}, {50, {1.1, 2.1, 1.6, 2.2, 1.7, 2.9}},
};

ww_status ww_filter_factor(ww_sheet sheet, double *factor, ww_error *err) {
    const char *column = sheet.colour ? strchr(colours, sheet.colour) : NULL;
    assert(factor);
    for (size_t i = 0; column && i < sizeof table / sizeof table[0]; i++)
        if (fabs(table[i].cc - sheet.cc) < 1e-9) {
            *factor = table[i].factor[column - colours];
            return WW_OK;
        }
    return ww_error_set(err, WW_ENODATA,
                        "there is no published factor for a sheet of %g CC; take sheets of 5, 10, "
                        "20, 30, 40 or 50 of Y, M, C, R, G or B",
                        sheet.cc);
}

/* Of all sheets together. */
static ww_status product(const ww_sheet sheet[], size_t n, double *factor, ww_error *err) {
    *factor = 1.0;
    for (size_t i = 0; i < n; i++) {
        double one;
        const ww_status status = ww_filter_factor(sheet[i], &one, err);
        if (status != WW_OK)
            return status;
        *factor *= one;
    }
    return WW_OK;
}

static ww_status check_time(double time_s, ww_error *err) {
    if (time_s > 0.0 && isfinite(time_s))
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "a time of %g s is none; give seconds above 0", time_s);
}

ww_status ww_filter_time(double time_s, const ww_sheet out[], size_t n_out, const ww_sheet in[],
                         size_t n_in, double *new_time_s, ww_error *err) {
    double gone, come;
    ww_status status = check_time(time_s, err);
    assert((out || n_out == 0) && (in || n_in == 0) && new_time_s);
    if (status == WW_OK)
        status = product(out, n_out, &gone, err);
    if (status == WW_OK)
        status = product(in, n_in, &come, err);
    if (status == WW_OK)
        *new_time_s = time_s * come / gone;
    return status;
}

ww_status ww_filter_dichroic_time(double time_s, double magenta_cc, double *new_time_s,
                                  ww_error *err) {
    const ww_status status = check_time(time_s, err);
    assert(new_time_s);
    if (status != WW_OK)
        return status;
    if (!(fabs(magenta_cc) < 100.0))
        return ww_error_set(err, WW_EDOMAIN,
                            "a change of %g CC is beyond what 1 %% a unit was published for; keep "
                            "it under 100",
                            magenta_cc);
    *new_time_s = magenta_cc >= 0.0 ? time_s * (1.0 + magenta_cc / 100.0)
                                    : time_s / (1.0 - magenta_cc / 100.0);
    return WW_OK;
}
