/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/scan_words.h"
#include "base/escape.h"
#include "out/words.h"
#include <math.h>
#include <string.h>

static const double normal_95 = 1.959963984540054; /* two-sided 95 % of the normal distribution */

ww_channel ww__scan_main_channel(const bool has[WW_CHANNEL_COUNT]) {
    static const ww_channel order[] = {WW_VISUAL, WW_GREEN, WW_RED, WW_BLUE};
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++)
        if (has[order[i]])
            return order[i];
    return WW_CHANNEL_COUNT;
}

ww_channel ww__scan_scanner_channel(const ww_scanner *scanner) {
    bool has[WW_CHANNEL_COUNT];
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        has[c] = scanner->channel[c].present;
    return ww__scan_main_channel(has);
}

const char *ww__words_patches(const ww_measured *measured) {
    if (measured->n_spots == 0)
        return "step";
    return measured->n_spots == measured->n ? "spot" : "step, spot";
}

void ww__words_file(ww__text *text, const char *file, const char *otherwise) {
    const char *slash = file ? strrchr(file, '/') : NULL;
    char shown[64];
    if (slash && slash[1])
        file = slash + 1;
    ww__text_add(text, ww__escape_message(file && *file ? file : otherwise, shown, sizeof shown));
}

void ww__words_file_quoted(ww__text *text, const char *file, const char *otherwise) {
    const char *quote = file && *file ? "'" : "";
    ww__text_add(text, quote);
    ww__words_file(text, file, otherwise);
    ww__text_add(text, quote);
}

void ww__words_turn(ww__text *text, double angle_deg) {
    const double shown = round(10.0 * fabs(angle_deg)) / 10.0;
    if (shown == 0.0) {
        ww__text_add(text, "lying straight");
        return;
    }
    ww__text_add(text, "turned ");
    ww__text_add_number(text, shown, 1);
    ww__text_add_format(text, " degrees %s", angle_deg > 0.0 ? "clockwise" : "anticlockwise");
}

void ww__words_found(ww__text *text, const ww_measured *measured) {
    const size_t spots = measured->n_spots, steps = measured->n - spots;
    if (steps > 0) {
        ww__text_add_format(text, "%zu step%s found, ", steps, steps == 1 ? "" : "s");
        ww__words_turn(text, measured->angle_deg);
        ww__text_add(text, spots > 0 ? ", and " : "");
    }
    if (spots > 0)
        ww__text_add_format(text, "%zu spot%s read", spots, spots == 1 ? "" : "s");
}

static int decimals_of(double white) {
    return white <= 1.0 ? 5 : white <= 255.0 ? 1 : 0;
}

void ww__words_code(ww__text *text, double code, double white) {
    ww__text_add_number(text, code, decimals_of(white));
}

void ww__words_codes(ww__text *text, double a, double b, double white) {
    ww__text_add(text, "code ");
    ww__words_range(text, a, b, decimals_of(white));
}

void ww__words_scan(ww__text *text, unsigned bits, ww_optional px_per_mm, const char *profile) {
    char shown[96];
    ww__text_add_format(text, " The file has %u bits", bits);
    if (px_per_mm.set)
        ww__text_add_format(text, ", %.0f px an inch", 25.4 * px_per_mm.value);
    else
        ww__text_add(text, ", no resolution");
    if (profile)
        ww__text_add_format(text, " and the profile '%s'.",
                            ww__escape_message(profile, shown, sizeof shown));
    else
        ww__text_add(text, " and no colour profile.");
}

void ww__words_share(ww__text *text, double share) {
    const double percent = 100.0 * share;
    ww__text_add_number(text, percent, percent > 0.0 && percent < 0.995 ? 2 : 1);
}

void ww__words_share_cell(ww__text *text, double share) {
    ww__text_add_number(text, 100.0 * share, 2);
}

void ww__words_trust(ww__text *text, double half_width) {
    ww__text_add_number(text, ww_doubt_shown(half_width, 0.01), 2);
}

void ww__words_trust_ends(ww__text *text, double thin, double dense) {
    ww__text end = WW__TEXT_INIT;
    const size_t start = text->n;
    ww__words_trust(text, thin);
    ww__words_trust(&end, dense);
    if (strcmp(ww__text_string(text) + start, ww__text_string(&end)) != 0)
        ww__text_add_format(text, " at the thin end, +-%s at the dense end", ww__text_string(&end));
    text->failed |= end.failed;
    ww__text_release(&end);
}

void ww__words_density(ww__text *text, const ww_cell *cell) {
    switch (cell->state) {
    case WW_CELL_LESS:
        ww__text_add(text, "<");
        /* fall through */
    case WW_CELL_VALUE:
        ww__text_add_number(text, cell->value, 2);
        return;
    case WW_CELL_OVER:
        ww__text_add(text, "over");
        return;
    case WW_CELL_MISSING:
        ww__text_add(text, "-");
        return;
    }
}

void ww__words_cell(ww__text *text, const ww_cell *cell) {
    if (cell->state == WW_CELL_LESS)
        ww__text_add(text, "less than ");
    if (cell->state == WW_CELL_VALUE || cell->state == WW_CELL_LESS) {
        ww__text_add_number(text, cell->value, 2);
        ww__text_add(text, " D");
    } else {
        ww__text_add(text, cell->state == WW_CELL_OVER ? "beyond the scanner's wedge" : "not read");
    }
}

double ww__scan_trust(const ww_cell *cell) {
    return cell->state == WW_CELL_VALUE && cell->sd.set ? normal_95 * cell->sd.value : 0.0;
}
