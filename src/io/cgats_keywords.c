/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_keywords.h"
#include "base/escape.h"
#include "core/readings.h"
#include "io/cgats_fields.h"
#include "io/lines.h"
#include <stdbool.h>
#include <string.h>

static ww_status set_text(char **text, const char *value, ww_error *err) {
    if (*text != NULL || value[0] == '\0' || ww__lines_text_problem(value) != NULL)
        return WW_OK;
    return ww__readings_text_copy(value, text, err);
}

static ww_status read_status(const char *file, size_t line, const char *key, const char *value,
                             ww_readings *made, ww_error *err) {
    bool known;
    char shown[64];
    ww_density_status found = ww__cgats_field_status(key, value, &known);
    ww__escape_message(value, shown, sizeof shown);
    if (!known && (ww__words_equal(key, "DENSITY_STATUS") || ww__words_equal(key, "STATUS")))
        return ww_error_set_at(err, WW_EINPUT, file, line,
                               "density status '%s' is not known; write A, M, T, E, visual, "
                               "printing or scanner, or take the line out if it was another",
                               shown);
    if (!known) /* what else a maker writes there */
        return ww_notes_add(
            &made->notes, err,
            "density status '%s' in line %zu is not one of A, M, T, E, visual, printing, scanner "
            "and is taken as unknown",
            shown, line);
    if (found == WW_STATUS_UNKNOWN)
        return WW_OK;
    if (made->meta.status != WW_STATUS_UNKNOWN && made->meta.status != found)
        return ww_error_set_at(err, WW_EINPUT, file, line,
                               "density status '%s' contradicts status %s given before; keep the "
                               "true one",
                               shown, ww_density_status_name(made->meta.status));
    made->meta.status = found;
    return WW_OK;
}

static void read_geometry(ww_meta *meta, const char *value) {
    if (meta->density != WW_DENSITY_UNKNOWN)
        return;
    if (strstr(value, "ransmission") || strstr(value, "RANSMISSION") || strstr(value, "opal"))
        meta->density = WW_DENSITY_TRANSMISSION;
    else if (strstr(value, "eflection") || strstr(value, "45/0") || strstr(value, "0/45"))
        meta->density = WW_DENSITY_REFLECTION;
}

static bool is_one(const char *key, const char *const words[]) {
    for (size_t i = 0; words[i]; i++)
        if (ww__words_equal(key, words[i]))
            return true;
    return false;
}

ww_status ww__cgats_keyword(const char *file, size_t line, const char *key, const char *value,
                            ww_readings *made, ww_error *err) {
    static const char *const names[] = {"FILE_DESCRIPTOR", "DESCRIPTOR", NULL};
    static const char *const statuses[] = {"WEIGHTING_FUNCTION", "DENSITY_STATUS", "STATUS",
                                           "FILTER", NULL};
    if (is_one(key, names))
        return set_text(&made->meta.name, value, err);
    if (ww__words_equal(key, "CREATED"))
        return set_text(&made->meta.date, value, err);
    if (ww__words_equal(key, "MEASUREMENT_GEOMETRY"))
        read_geometry(&made->meta, value);
    if (is_one(key, statuses))
        return read_status(file, line, key, value, made, err);
    return WW_OK;
}
