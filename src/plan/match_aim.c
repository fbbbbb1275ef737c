/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/match_parts.h"
#include <assert.h>
#include <math.h>

enum { ALIKE = 3 }; /* columns that stand for the same */

/* -------------------------------------------------------------------------------------- columns */

static bool has(const ww_match_request *request, bool aim, ww_column column) {
    if (!aim)
        return request->print->has[column];
    if (request->aim)
        return request->aim->has[column];
    return (size_t)column < WW_CHANNEL_COUNT && request->aim_curve->channel[column].present;
}

/* The first of these that a side has, one of those that stand for the same; WW_COLUMN_COUNT. */
static ww_column first_of(const ww_match_request *request, bool aim, const ww_column of[ALIKE]) {
    for (size_t i = 0; i < ALIKE; i++)
        if (has(request, aim, of[i]))
            return of[i];
    return WW_COLUMN_COUNT;
}

ww_status ww__match_pair(const ww_match_request *request, size_t i, size_t n, ww_column *aim,
                         ww_column *print, ww_error *err) {
    static const ww_column gray[][ALIKE] = {
        {WW_COLUMN_VISUAL, WW_COLUMN_LUMINANCE, WW_COLUMN_LAB_L},
        {WW_COLUMN_GREEN, WW_COLUMN_GREEN, WW_COLUMN_GREEN},
        {WW_COLUMN_RED, WW_COLUMN_RED, WW_COLUMN_RED},
        {WW_COLUMN_BLUE, WW_COLUMN_BLUE, WW_COLUMN_BLUE}};
    const ww_column own = (ww_column)((size_t)WW_COLUMN_RED + i);
    const ww_column colour[1][ALIKE] = {{own, own, own}};
    const size_t choices = n == 1 ? sizeof gray / sizeof gray[0] : 1;
    const bool any_aim = request->aim || request->aim_curve;
    for (size_t k = 0; k < choices; k++) {
        const ww_column *of = n == 1 ? gray[k] : colour[0];
        const ww_column b = first_of(request, false, of);
        const ww_column a = any_aim ? first_of(request, true, of) : b;
        if (a == WW_COLUMN_COUNT || b == WW_COLUMN_COUNT)
            continue;
        *aim = a;
        *print = b;
        return WW_OK;
    }
    return ww_error_set_at(err, WW_ENODATA, request->print->file, 0, "%s no density%s%s%s; read %s",
                           any_aim ? "aim and print have" : "this has", any_aim ? " in common" : "",
                           n > 1 ? " for " : "", n > 1 ? ww_column_name(own) : "",
                           n > 1     ? "both through red, green and blue"
                           : any_aim ? "both in one column: visual, L, Y, or green"
                                     : "it in one of the columns visual, L, Y and green");
}

/* ------------------------------------------------------------------------------------- checking */

static bool both_differ(unsigned a, unsigned b) {
    return a != 0 && b != 0 && a != b;
}

static ww_status check_meta(const ww_meta *aim, const ww_meta *print, const char *file,
                            ww_error *err) {
    if (both_differ(aim->status, print->status))
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "this is read in status %s, the other in %s, and no constant makes "
                               "one of the other; read both alike",
                               ww_density_status_name(print->status),
                               ww_density_status_name(aim->status));
    if (both_differ(aim->density, print->density))
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "this is read by %s, the other by %s; match prints with prints",
                               ww_density_kind_name(print->density),
                               ww_density_kind_name(aim->density));
    return WW_OK;
}

bool ww__match_display(const ww_readings *readings) {
    return readings->meta.material == WW_MATERIAL_SCREEN || readings->has[WW_COLUMN_LUMINANCE];
}

static bool is_above_white(const ww_meta *meta) {
    return meta->relative == WW_RELATIVE_WHITE || meta->relative == WW_RELATIVE_BASE;
}

bool ww__match_above_white(const ww_match_request *request, bool aim) {
    const ww_readings *side = aim ? request->aim : request->print;
    if (side)
        return ww__match_display(side) || is_above_white(&side->meta);
    return aim && request->aim_curve && is_above_white(&request->aim_curve->meta);
}

/* Densities themselves are asked for. */
static ww_status check_zero(const ww_match_request *request, bool aim, const char *file,
                            ww_error *err) {
    if (!ww__match_above_white(request, aim))
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                           "densities are relative to white, and --white match needs absolute "
                           "ones; read them so, or leave --white match out");
}

/* What is sent must mean the same in both: a value, or per cent. */
static ww_status check_ramp(const ww_readings *readings, ww_ramp ramp, ww_error *err) {
    const ww_ramp own = ww_ramp_find(readings);
    const char *unit = ww_ramp_unit(ramp);
    if (own == WW_RAMP_NONE)
        return ww_error_set_at(err, WW_ENODATA, readings->file, 0,
                               "no column says what was sent; add value (0 black to 1 white) or "
                               "gray (0 to 100 %%, black ink), or value_red, value_green and "
                               "value_blue or cyan, magenta and yellow, alike in a row");
    if (ramp != WW_RAMP_NONE && (unit[0] == '\0') != (ww_ramp_unit(own)[0] == '\0'))
        return ww_error_set_at(err, WW_EMISMATCH, readings->file, 0,
                               "%s is sent here, %s to the print; give both as values or both in "
                               "per cent",
                               ww_ramp_name(own), ww_ramp_name(ramp));
    return ww_ramp_check(readings, own, err);
}

ww_status ww__match_check(const ww_match_request *request, ww_ramp ramp, ww_error *err) {
    const ww_readings *print = request->print;
    const ww_meta *aim = request->aim         ? &request->aim->meta
                         : request->aim_curve ? &request->aim_curve->meta
                                              : NULL;
    ww_status status = check_ramp(print, WW_RAMP_NONE, err);
    if (status == WW_OK && request->aim)
        status = check_ramp(request->aim, ramp, err);
    if (status == WW_OK && aim)
        status = check_meta(aim, &print->meta, print->file, err);
    if (status == WW_OK && request->absolute)
        status = check_zero(request, false, print->file, err);
    if (status == WW_OK && request->absolute && aim)
        status = check_zero(request, true, request->aim ? request->aim->file : NULL, err);
    if (status == WW_OK && !aim && (ramp == WW_RAMP_VALUES || ramp == WW_RAMP_COLOURANTS))
        status = ww_error_set_at(err, WW_EMISMATCH, print->file, 0,
                                 "equal steps of L* say nothing of red, green and blue one by one; "
                                 "give readings of a neutral print as --aim, or send one value");
    for (size_t i = 0; i < request->n_refine && status == WW_OK; i++) {
        const ww_readings *later = request->refine[i];
        status = check_ramp(later, ramp, err);
        if (status == WW_OK)
            status = check_meta(&print->meta, &later->meta, later->file, err);
        if (status == WW_OK && ww_ramp_find(later) != ramp)
            status = ww_error_set_at(err, WW_EMISMATCH, later->file, 0,
                                     "%s is sent here, %s to the print before; read the same scale",
                                     ww_ramp_name(ww_ramp_find(later)), ww_ramp_name(ramp));
    }
    return status;
}

/* ----------------------------------------------------------------------------------- other aims */

ww_status ww__match_curve(const ww_curve *curve, ww_column read, ww_tone_response *aim,
                          ww_error *err) {
    const ww_channel_curve *c = &curve->channel[read];
    ww_tone_response made = {.to = 1.0, .n = c->n_points, .noise = c->residual_sd};
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double share = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        const double along = c->shape.falling ? 1.0 - share : share;
        const double log_h =
            fmin(fmax(c->domain_low + along * (c->domain_high - c->domain_low), c->domain_low),
                 c->domain_high);
        const ww_status status = ww_curve_density(c, log_h, &made.density[i], NULL, err);
        if (status != WW_OK)
            return status;
        if (ww_curve_density_sd(c, log_h, &made.error[i], NULL) != WW_OK)
            made.error[i] = c->residual_sd;
    }
    *aim = made;
    return WW_OK;
}

ww_status ww__match_steps(const ww_tone_response *print, ww_tone_response *aim, ww_error *err) {
    const double white = ww_viewing_lightness(print->density[0]);
    const double black = ww_viewing_lightness(ww_tone_response_density(print, print->to));
    ww_tone_response made = {.to = 1.0};
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double share = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        const ww_status status =
            ww_viewing_density(white + share * (black - white), &made.density[i], err);
        if (status != WW_OK)
            return status;
    }
    *aim = made;
    return WW_OK;
}
