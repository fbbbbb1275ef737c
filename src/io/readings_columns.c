/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/readings_columns.h"
#include "io/lines.h"
#include <string.h>

static const struct {
    const char *name;
    ww__role role;
    unsigned which;
} plain[] = {
    {"step", WW__ROLE_STEP, 0},
    {"tone", WW__ROLE_TONE, 0},
    {"part", WW__ROLE_PART, 0},
    {"pack", WW__ROLE_PACK, 0},
    {"width", WW__ROLE_WIDTH, 0},
    {"wedge", WW__ROLE_EXPOSURE, WW_EXPOSURE_WEDGE},
    {"logh", WW__ROLE_EXPOSURE, WW_EXPOSURE_LOG_H},
    {"stop", WW__ROLE_EXPOSURE, WW_EXPOSURE_STOP},
    {"time", WW__ROLE_EXPOSURE, WW_EXPOSURE_TIME},
    {"sd", WW__ROLE_SD_ALL, 0},
    {"n", WW__ROLE_N_ALL, 0},
};

/* Names that people write and that no edit distance leads from. */
/* The pair for X is there for its case: X would be a tristimulus value, which has no column. */
static const struct {
    const char *written;
    const char *meant;
} habits[] = {
    {"r", "red"},
    {"g", "green"},
    {"k", "gray"},
    {"black", "gray"},
    {"v", "visual"},
    {"vis", "visual"},
    {"d", "visual"},
    {"density", "visual"},
    {"dens", "visual"},
    {"d_red", "red"},
    {"d_green", "green"},
    {"d_blue", "blue"},
    {"d_vis", "visual"},
    {"c", "cyan"},
    {"m", "magenta"},
    {"log h", "logh"},
    {"log_h", "logh"},
    {"log e", "logh"},
    {"exposure", "logh, stop or time"},
    {"seconds", "time"},
    {"stops", "stop"},
    {"patch", "step"},
    {"sample", "step"},
    {"sample_id", "step"},
    {"label", "step"},
    {"name", "step or tone"},
    {"x", "x"},
    {"lab_l", "L"},
    {"lab_a", "a"},
    {"lab_b", "b"},
    {"grey", "gray"},
    {"stdev", "sd"},
    {"count", "n"},
    {"filter", "pack"},
    {"correction", "correction_visual"},
};

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* Y is luminance and y a chromaticity, so Y, x and y are told apart by case; no other name is. */
static bool find_column(const char *name, unsigned *which) {
    for (unsigned c = 0; c < WW_COLUMN_COUNT; c++) {
        const char *known = ww_column_name((ww_column)c);
        bool same = c >= WW_COLUMN_LUMINANCE && c <= WW_COLUMN_CHROMATICITY_Y
                        ? strcmp(name, known) == 0
                        : ww__words_equal(name, known);
        if (same) {
            *which = c;
            return true;
        }
    }
    return false;
}

static bool has_prefix(const char *name, const char *prefix, const char **rest) {
    while (*prefix != '\0') {
        if (*name != *prefix && *name != *prefix - 'a' + 'A')
            return false;
        name++;
        prefix++;
    }
    if (*name != '_')
        return false;
    *rest = name + 1;
    return true;
}

bool ww__columns_find(const char *name, ww__field *field) {
    ww__field found = {WW__ROLE_SKIP, 0, name};
    const char *rest;
    for (size_t i = 0; i < COUNT(plain); i++) {
        if (ww__words_equal(name, plain[i].name)) {
            found.role = plain[i].role;
            found.which = plain[i].which;
        }
    }
    if (found.role == WW__ROLE_SKIP && find_column(name, &found.which))
        found.role = WW__ROLE_CELL;
    else if (has_prefix(name, "sd", &rest) && find_column(rest, &found.which))
        found.role = WW__ROLE_SD;
    else if (has_prefix(name, "n", &rest) && find_column(rest, &found.which))
        found.role = WW__ROLE_N;
    if (found.role == WW__ROLE_SKIP)
        return false;
    *field = found;
    return true;
}

const char *ww__columns_suggest(const char *name) {
    for (size_t i = 0; i < COUNT(habits); i++)
        if (ww__words_equal(name, habits[i].written))
            return habits[i].meant;
    for (size_t i = 0; i < COUNT(plain); i++)
        if (strlen(plain[i].name) > 2 && ww__words_near(name, plain[i].name))
            return plain[i].name;
    for (unsigned c = 0; c <= WW_COLUMN_HARD; c++)
        if (ww__words_near(name, ww_column_name((ww_column)c)))
            return ww_column_name((ww_column)c);
    for (unsigned c = WW_COLUMN_CORRECTION_RED; c < WW_COLUMN_COUNT; c++)
        if (ww__words_near(name, ww_column_name((ww_column)c)))
            return ww_column_name((ww_column)c);
    return NULL;
}

static ww__range cell_range(unsigned column) {
    switch ((ww_column)column) {
    case WW_COLUMN_VALUE:
    case WW_COLUMN_VALUE_RED:
    case WW_COLUMN_VALUE_GREEN:
    case WW_COLUMN_VALUE_BLUE:
        return (ww__range){0.0, 1.0, "code value", false, false};
    case WW_COLUMN_GRAY:
    case WW_COLUMN_CYAN:
    case WW_COLUMN_MAGENTA:
    case WW_COLUMN_YELLOW:
        return (ww__range){0.0, 100.0, "percentage", false, false};
    case WW_COLUMN_SOFT:
    case WW_COLUMN_HARD:
        return (ww__range){0.0, 1e5, "time in seconds", false, true};
    case WW_COLUMN_LAB_L:
        return (ww__range){-1.0, 150.0, "lightness", false, false};
    case WW_COLUMN_LAB_A:
    case WW_COLUMN_LAB_B:
        return (ww__range){-300.0, 300.0, "CIELAB coordinate", false, false};
    case WW_COLUMN_LUMINANCE:
        return (ww__range){0.0, 1e6, "luminance", false, true};
    case WW_COLUMN_CHROMATICITY_X:
    case WW_COLUMN_CHROMATICITY_Y:
        return (ww__range){0.0, 1.0, "chromaticity", false, false};
    case WW_COLUMN_CORRECTION_RED:
    case WW_COLUMN_CORRECTION_GREEN:
    case WW_COLUMN_CORRECTION_BLUE:
    case WW_COLUMN_CORRECTION_VISUAL:
        return (ww__range){-1.0, 1.0, "correction in D", false, false};
    default:
        return (ww__range){-0.1, 6.0, "density", false, false};
    }
}

static ww__range spectral_range(ww__role role) {
    if (role == WW__ROLE_WAVELENGTH)
        return (ww__range){200.0, 2500.0, "wavelength in nm", false, false};
    if (role == WW__ROLE_SPECTRAL_PART)
        return (ww__range){-0.1, 2.0, "part of 1", false, false};
    return (ww__range){-10.0, 300.0, "spectral value", false, false};
}

ww__range ww__columns_range(const ww__field *field) {
    if (field->role == WW__ROLE_CELL)
        return cell_range(field->which);
    if (field->role >= WW__ROLE_WAVELENGTH)
        return spectral_range(field->role);
    if (field->role == WW__ROLE_EXPOSURE) {
        switch ((ww_exposure_column)field->which) {
        case WW_EXPOSURE_LOG_H:
            return (ww__range){-20.0, 20.0, "log exposure", false, false};
        case WW_EXPOSURE_STOP:
            return (ww__range){-60.0, 60.0, "exposure in stops", false, false};
        case WW_EXPOSURE_TIME:
            return (ww__range){0.0, 1e9, "time in seconds", true, true};
        default:
            return (ww__range){-0.1, 6.0, "wedge density", false, false};
        }
    }
    if (field->role == WW__ROLE_WIDTH)
        return (ww__range){0.0, 1e6, "width", true, true};
    if (field->role == WW__ROLE_SD || field->role == WW__ROLE_SD_ALL)
        return (ww__range){0.0, 1e6, "standard deviation", false, false};
    return (ww__range){1.0, 1e9, "number of readings", false, true};
}
