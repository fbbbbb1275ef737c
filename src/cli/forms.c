/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/forms.h"
#include "base/escape.h"
#include "io/lines.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <wedgework/control_log.h>
#include <wedgework/number.h>
#include <wedgework/pack.h>

enum { SHOWN_SIZE = 200, TOKEN_SIZE = 64 };

/* n numbers between commas, no more and no less. */
static ww_status numbers(const char *text, double number[], size_t n, ww_error *err) {
    for (size_t i = 0; i < n; i++) {
        char token[TOKEN_SIZE];
        const size_t length = strcspn(text, ",");
        if ((text[length] == ',') != (i + 1 < n) || length >= sizeof token)
            return ww_error_set(err, WW_EUSAGE, "there are not %zu numbers between commas", n);
        snprintf(token, sizeof token, "%.*s", (int)length, text);
        if (ww_number_parse(token, '.', &number[i], err) != WW_OK)
            return WW_EUSAGE;
        text += length + 1;
    }
    return WW_OK;
}

ww_status ww__forms_region(const char *text, ww_region *region, ww_error *err) {
    static const char example[] = "write X,Y,W,H in whole pixels, for instance 100,50,2400,600";
    double v[4];
    char shown[SHOWN_SIZE];
    ww_error why = WW_ERROR_INIT;
    if (numbers(text, v, 4, &why) != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "'%s' is no region: %s; %s",
                            ww__escape_message(text, shown, sizeof shown), why.msg, example);
    for (size_t i = 0; i < 4; i++)
        if (!(v[i] >= (i < 2 ? 0.0 : 1.0) && v[i] <= 4294967295.0 && trunc(v[i]) == v[i]))
            return ww_error_set(err, WW_EUSAGE, "'%s' is no region; %s",
                                ww__escape_message(text, shown, sizeof shown), example);
    *region = (ww_region){(size_t)v[0], (size_t)v[1], (size_t)v[2], (size_t)v[3]};
    return WW_OK;
}

ww_status ww__forms_spot(const char *text, ww_spot *spot, size_t *name_length, ww_error *err) {
    static const char example[] = "write NAME=X,Y,R in pixels, for instance cloud=1210,344,20";
    const char *mark = strrchr(text, '=');
    double v[3];
    char shown[SHOWN_SIZE];
    ww_error why = WW_ERROR_INIT;
    ww__escape_message(text, shown, sizeof shown);
    if (!mark || mark == text)
        return ww_error_set(err, WW_EUSAGE, "'%s' is no spot with a name; %s", shown, example);
    if (numbers(mark + 1, v, 3, &why) != WW_OK)
        return ww_error_set(err, WW_EUSAGE, "'%s' is no spot: %s; %s", shown, why.msg, example);
    if (!(v[0] >= 0.0 && v[1] >= 0.0 && v[2] > 0.0))
        return ww_error_set(err, WW_EUSAGE, "'%s' lies outside, or has a radius not above 0; %s",
                            shown, example);
    *spot = (ww_spot){NULL, v[0], v[1], v[2]};
    *name_length = (size_t)(mark - text);
    return WW_OK;
}

ww_status ww__forms_stops(const char *text, double *stops, ww_error *err) {
    char token[TOKEN_SIZE], shown[SHOWN_SIZE];
    const size_t length = strcspn(text, "/");
    double over = 0.0, under = 1.0;
    ww_status status = WW_EUSAGE;
    if (length < sizeof token) {
        snprintf(token, sizeof token, "%.*s", (int)length, text);
        status = ww_number_parse(token, '.', &over, NULL);
        if (status == WW_OK && text[length])
            status = ww_number_parse(text + length + 1, '.', &under, NULL);
    }
    if (status != WW_OK || !(over > 0.0) || !(under > 0.0))
        return ww_error_set(err, WW_EUSAGE, "'%s' is no number of stops; write 1/3, or 0.5",
                            ww__escape_message(text, shown, sizeof shown));
    *stops = over / under;
    return WW_OK;
}

ww_status ww__forms_stops_check(const char *text, ww_error *err) {
    double stops;
    return ww__forms_stops(text, &stops, err);
}

ww_status ww__forms_stop_place(const char *text, double *stops, double *density, ww_error *err) {
    char token[TOKEN_SIZE], shown[SHOWN_SIZE];
    const size_t length = strcspn(text, "=");
    double below = -1.0, above = 0.0;
    ww_status status = WW_EUSAGE;
    if (length < sizeof token && text[length]) {
        snprintf(token, sizeof token, "%.*s", (int)length, text);
        status = ww_number_parse(token, '.', &below, NULL);
        if (status == WW_OK)
            status = ww_number_parse(text + length + 1, '.', &above, NULL);
    }
    if (status != WW_OK || !(below >= 0.0) || !(above > 0.0))
        return ww_error_set(err, WW_EUSAGE,
                            "'%s' is not STOPS=DENSITY; write for instance 2.5=0.70, middle grey "
                            "2.5 stops below white at 0.70 above paper white",
                            ww__escape_message(text, shown, sizeof shown));
    *stops = below;
    *density = above;
    return WW_OK;
}

ww_status ww__forms_stop_place_check(const char *text, ww_error *err) {
    double stops, density;
    return ww__forms_stop_place(text, &stops, &density, err);
}

ww_status ww__forms_pack_check(const char *text, ww_error *err) {
    ww_pack pack;
    return ww_pack_parse(text, &pack, err) == WW_OK ? WW_OK : WW_EUSAGE;
}

ww_status ww__forms_name_check(const char *text, ww_error *err) {
    const char *problem = ww__lines_text_problem(text);
    char shown[SHOWN_SIZE];
    return problem ? ww_error_set(err, WW_EUSAGE, "'%s' %s",
                                  ww__escape_message(text, shown, sizeof shown), problem)
                   : WW_OK;
}

ww_status ww__forms_date_check(const char *text, ww_error *err) {
    char date[WW_CONTROL_DATE_SIZE];
    return ww_control_date_check(text, date, err) == WW_OK ? WW_OK : WW_EUSAGE;
}

bool ww__forms_ends_in(const char *path, const char *ending) {
    const size_t n = strlen(path), m = strlen(ending);
    return n >= m && strcasecmp(path + n - m, ending) == 0;
}

ww_status ww__forms_region_check(const char *text, ww_error *err) {
    ww_region region;
    return ww__forms_region(text, &region, err);
}

ww_status ww__forms_spot_check(const char *text, ww_error *err) {
    ww_spot spot;
    size_t length;
    return ww__forms_spot(text, &spot, &length, err);
}
