/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/cgats_fields.h"
#include "io/lines.h"
#include <string.h>

/* Names of CGATS.17; underscores and case are not looked at, for "SampleID" is met too. */
static const struct {
    const char *name;
    ww__role role;
    unsigned which;
} fields[] = {
    {"SAMPLE_ID", WW__ROLE_STEP, 0},
    {"SAMPLE_NAME", WW__ROLE_TONE, 0},
    {"D_RED", WW__ROLE_CELL, WW_COLUMN_RED},
    {"D_GREEN", WW__ROLE_CELL, WW_COLUMN_GREEN},
    {"D_BLUE", WW__ROLE_CELL, WW_COLUMN_BLUE},
    {"D_VIS", WW__ROLE_CELL, WW_COLUMN_VISUAL},
    {"LAB_L", WW__ROLE_CELL, WW_COLUMN_LAB_L},
    {"LAB_A", WW__ROLE_CELL, WW_COLUMN_LAB_A},
    {"LAB_B", WW__ROLE_CELL, WW_COLUMN_LAB_B},
    {"XYY_CAPY", WW__ROLE_CELL, WW_COLUMN_LUMINANCE},
    {"XYY_X", WW__ROLE_CELL, WW_COLUMN_CHROMATICITY_X},
    {"XYY_Y", WW__ROLE_CELL, WW_COLUMN_CHROMATICITY_Y},
    {"CMYK_C", WW__ROLE_CELL, WW_COLUMN_CYAN},
    {"CMYK_M", WW__ROLE_CELL, WW_COLUMN_MAGENTA},
    {"CMYK_Y", WW__ROLE_CELL, WW_COLUMN_YELLOW},
    {"CMYK_K", WW__ROLE_CELL, WW_COLUMN_GRAY},
    {"SPECTRAL_NM", WW__ROLE_WAVELENGTH, 0},
};

static char plain(char c) {
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static bool same_name(const char *a, const char *b) {
    for (;;) {
        while (*a == '_')
            a++;
        while (*b == '_')
            b++;
        if (plain(*a) != plain(*b))
            return false;
        if (*a == '\0')
            return true;
        a++;
        b++;
    }
}

/* A spectral field by what stands before the wavelength, which there must be unless `alone`. */
static const struct {
    const char *beginning;
    ww__role role;
    bool alone;
} spectral[] = {
    {"SPECTRAL_NM", WW__ROLE_SPECTRAL, false},
    {"SPECTRAL_DEC", WW__ROLE_SPECTRAL_PART, true},
    {"SPECTRAL_PCT", WW__ROLE_SPECTRAL_PERCENT, true},
    {"SPECTRAL", WW__ROLE_SPECTRAL, false},
    {"SPEC", WW__ROLE_SPECTRAL, false},
    {"NM", WW__ROLE_SPECTRAL, false},
    {"R", WW__ROLE_SPECTRAL, false},
};

/* A wavelength as names have it: three or four digits to the end. */
static bool read_wavelength(const char *digits, unsigned *nm) {
    const size_t n = strspn(digits, "0123456789");
    if (n < 3 || n > 4 || digits[n] != '\0')
        return false;
    *nm = 0;
    for (size_t i = 0; i < n; i++)
        *nm = 10 * *nm + (unsigned)(digits[i] - '0');
    return true;
}

static bool find_spectral(const char *name, ww__field *field) {
    for (size_t i = 0; i < sizeof spectral / sizeof *spectral; i++) {
        char beginning[16];
        const size_t n = strcspn(name, "0123456789");
        unsigned nm = 0;
        if (n >= sizeof beginning)
            return false;
        memcpy(beginning, name, n);
        beginning[n] = '\0';
        if (!same_name(beginning, spectral[i].beginning))
            continue;
        if (!read_wavelength(name + n, &nm) && !(spectral[i].alone && name[n] == '\0'))
            return false;
        *field = (ww__field){spectral[i].role, nm, name};
        return true;
    }
    return false;
}

bool ww__cgats_field_find(const char *name, ww__field *field) {
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++) {
        if (same_name(name, fields[i].name)) {
            *field = (ww__field){fields[i].role, fields[i].which, name};
            return true;
        }
    }
    return find_spectral(name, field);
}

const char *ww__cgats_field_name(ww_column column) {
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
        if (fields[i].role == WW__ROLE_CELL && fields[i].which == (unsigned)column)
            return fields[i].name;
    return NULL;
}

int ww__cgats_field_rank(const ww__field *field) {
    if (field->role >= WW__ROLE_SPECTRAL)
        return 3;
    if (field->role != WW__ROLE_CELL)
        return 0;
    if (field->which < WW_CHANNEL_COUNT)
        return 3;
    return field->which >= WW_COLUMN_LAB_L && field->which <= WW_COLUMN_CHROMATICITY_Y ? 2 : 1;
}

/* ---- density status ---- */

enum { WORD_SIZE = 24 };

/* The next run of letters, in capitals; false at the end. Longer words are cut: none of ours is. */
static bool next_word(const char **at, char word[WORD_SIZE]) {
    size_t n = 0;
    while (**at != '\0' && !(plain(**at) >= 'A' && plain(**at) <= 'Z'))
        (*at)++;
    while (plain(**at) >= 'A' && plain(**at) <= 'Z') {
        if (n + 1 < WORD_SIZE)
            word[n++] = plain(**at);
        (*at)++;
    }
    word[n] = '\0';
    return n > 0;
}

static ww_density_status status_of(const char *word) {
    for (int i = WW_STATUS_A; i <= WW_STATUS_SCANNER; i++)
        if (ww__words_equal(word, ww_density_status_name((ww_density_status)i)))
            return (ww_density_status)i;
    return WW_STATUS_UNKNOWN;
}

/*
 * The word after "status" counts, also grown together with it. A keyword that is about nothing else
 * may name the status alone. WEIGHTING_FUNCTION may put "value" between ("name,density;value,A").
 */
ww_density_status ww__cgats_field_status(const char *key, const char *value, bool *known) {
    static const char status[] = "STATUS";
    bool alone = same_name(key, "DENSITY_STATUS") || same_name(key, "STATUS");
    bool expected = alone;
    char word[WORD_SIZE];
    *known = true;
    while (next_word(&value, word)) {
        size_t prefix = sizeof status - 1;
        if (strcmp(word, status) == 0 || strcmp(word, "DENSITY") == 0) {
            expected = true;
        } else if (strncmp(word, status, prefix) == 0) {
            ww_density_status found = status_of(word + prefix);
            *known = found != WW_STATUS_UNKNOWN;
            return found;
        } else if (expected && strcmp(word, "VALUE") != 0 && strcmp(word, "NAME") != 0) {
            ww_density_status found = status_of(word);
            *known = found != WW_STATUS_UNKNOWN;
            return found;
        }
    }
    return WW_STATUS_UNKNOWN;
}
