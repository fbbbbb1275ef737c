/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SCAN_CASE_H
#define WEDGEWORK_TESTS_SCAN_CASE_H

#include <math.h>
#include <stdio.h>
#include <wedgework/measure.h>
#include <wedgework/scanner.h>

/*
 * Results of scans made by hand, for tests that show or write them. All names and numbers are
 * invented. They stand on storage that the caller keeps; nothing of it is to be released.
 */
enum { SCAN_CASE_STEPS = 21 };

#define SCAN_CASE_WHITE 65535.0
#define SCAN_CASE_K 0.93
#define SCAN_CASE_DARK 0.0007
#define SCAN_CASE_FLARE 0.0041

struct scan_case {
    ww_measured measured;
    ww_patch patch[SCAN_CASE_STEPS];
    char label[SCAN_CASE_STEPS][8];
};

static inline double scan_case_density(size_t step) {
    return 0.05 + 0.1485 * (double)step;
}

/* code = white (dark + k (10^-D + flare)), as the header of scanners defines it for gamma 1. */
static inline double scan_case_code(double density) {
    return SCAN_CASE_WHITE *
           (SCAN_CASE_DARK + SCAN_CASE_K * (pow(10.0, -density) + SCAN_CASE_FLARE));
}

/* A strip of 21 steps in a scan of 1200 x 900 px, turned clockwise by 1.7 degrees, in the channels
 * given; the last step lies beyond the scanner. */
static inline void scan_case_strip(struct scan_case *made, bool colour) {
    static char file[] = "wedge.tif", profile[] = "Linear grey";
    const double angle = 1.7 * 3.14159265358979323846 / 180.0, pitch = 50.0;
    *made = (struct scan_case){.measured = {.file = file,
                                            .width = 1200,
                                            .height = 900,
                                            .page = 1,
                                            .bits = 16,
                                            .white = SCAN_CASE_WHITE,
                                            .px_per_mm = {true, 47.25},
                                            .profile = profile,
                                            .calibrated = true,
                                            .n = SCAN_CASE_STEPS,
                                            .angle_deg = 1.7}};
    made->measured.patch = made->patch;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        made->measured.has[c] = colour == (c != WW_VISUAL);
    for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
        ww_patch *patch = &made->patch[i];
        const double along = ((double)i - 10.0) * pitch;
        snprintf(made->label[i], sizeof made->label[i], "%zu", i + 1);
        *patch = (ww_patch){.step = made->label[i],
                            .centre_x = 600.0 + along * cos(angle),
                            .centre_y = 450.0 + along * sin(angle),
                            .n = 2980 - i,
                            .rejected = i == 7 ? 0.0123 : 0.0004};
        for (int k = 0; k < 4; k++) {
            const double u = (k == 0 || k == 3 ? -0.3 : 0.3) * pitch, v = k < 2 ? -50.0 : 50.0;
            patch->corner[k][0] = patch->centre_x + u * cos(angle) - v * sin(angle);
            patch->corner[k][1] = patch->centre_y + u * sin(angle) + v * cos(angle);
        }
        patch->x = patch->corner[3][0];
        patch->y = patch->corner[0][1];
        patch->width = patch->corner[1][0] - patch->x;
        patch->height = patch->corner[2][1] - patch->y;
        for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
            const double density = scan_case_density(i) + 0.013 * c;
            const double code = scan_case_code(density);
            if (!made->measured.has[c])
                continue;
            patch->channel[c] = (ww_patch_channel){
                .code = code,
                .all = code,
                .sd = 12.0 + 0.004 * code,
                .low = code * 0.98,
                .high = code * 1.02,
                .drift = 0.002 * code,
                .clipped = 0.0,
                .density = {WW_CELL_VALUE, density, {true, 0.004 + 0.0004 * (double)i}, 1}};
        }
    }
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (made->measured.has[c]) {
            made->patch[20].channel[c].density = (ww_cell){.state = WW_CELL_OVER};
            made->patch[20].channel[c].reach = WW_REACH_DARK;
        }
}

/* Three spots of a negative, grey, without a scanner file. */
static inline void scan_case_spots(struct scan_case *made) {
    static char file[] = "jetty.tif";
    static const char *const names[] = {"cloud", "shadow", "base"};
    static const double density[] = {1.34, 0.352, 0.231};
    *made = (struct scan_case){.measured = {.file = file,
                                            .width = 900,
                                            .height = 1200,
                                            .page = 2,
                                            .bits = 16,
                                            .white = SCAN_CASE_WHITE,
                                            .n_spots = 3,
                                            .n = 3}};
    made->measured.patch = made->patch;
    made->measured.has[WW_VISUAL] = true;
    for (size_t i = 0; i < 3; i++) {
        ww_patch *patch = &made->patch[i];
        const double code = scan_case_code(density[i]), radius = 12.5 + 10.0 * (double)i;
        snprintf(made->label[i], sizeof made->label[i], "%s", names[i]);
        *patch = (ww_patch){.step = made->label[i],
                            .centre_x = 200.5 + 230.0 * (double)i,
                            .centre_y = 310.5 + 270.0 * (double)i,
                            .radius = radius,
                            .width = 2 * radius,
                            .height = 2 * radius,
                            .n = (size_t)(3.14 * radius * radius),
                            .rejected = 0.001};
        patch->x = patch->centre_x - radius;
        patch->y = patch->centre_y - radius;
        patch->channel[WW_VISUAL] =
            (ww_patch_channel){.code = code, .sd = 80.25, .low = code - 400, .high = code + 400};
    }
}

/* A whole negative, in colour. Densities stand beside the codes that they belong to. */
static inline ww_whole scan_case_whole(bool calibrated) {
    static char file[] = "harbour.tif";
    static const double density[WW_WHOLE_COUNT] = {3.2, 1.72, 1.61, 0.87, 0.33, 0.31, 0.24};
    ww_whole whole = {.file = file,
                      .bits = 16,
                      .white = SCAN_CASE_WHITE,
                      .pixels = 24000000,
                      .has = {true, true, true, false},
                      .calibrated = calibrated};
    for (int c = 0; c < 3; c++) {
        for (int i = 0; i < WW_WHOLE_COUNT; i++) {
            whole.code[c][i] = scan_case_code(density[i] + 0.21 * c);
            if (calibrated && i > 0)
                whole.density[c][i] =
                    (ww_cell){WW_CELL_VALUE, density[i] + 0.21 * c, {true, 0.01}, 1};
            else if (calibrated)
                whole.density[c][i].state = WW_CELL_OVER;
        }
        whole.mean[c] = 1.1 * whole.code[c][WW_WHOLE_MEDIAN];
        whole.clipped_low[c] = 0.0;
        whole.clipped_high[c] = 0.00031 * c;
    }
    return whole;
}

struct scanner_case {
    ww_scanner scanner;
    ww_scanner_step step[3][SCAN_CASE_STEPS];
    ww_scanner_point point[3][SCAN_CASE_STEPS];
    char label[SCAN_CASE_STEPS][8];
};

static inline ww_quantity scan_case_quantity(double value, double half, ww_how how) {
    return (ww_quantity){value, value - half, value + half, how};
}

/* Calibrated on 21 steps, grey or in colour. Step 1 clipped, the last three compressed, step 9
 * suspect. What the model leaves is a closed form: 0.004 sin(3 D). */
static inline void scan_case_scanner(struct scanner_case *made, bool colour) {
    static char name[] = "wedge.tif";
    *made = (struct scanner_case){.scanner = {.name = name,
                                              .bits = 16,
                                              .white = SCAN_CASE_WHITE,
                                              .gamma = {1.0, 0.998, 1.002, WW_FITTED},
                                              .wedge = WW_WEDGE_NOMINAL,
                                              .wedge_sd = {false, 0.0}}};
    for (int c = 0; c < 3; c++) {
        ww_scanner_channel *channel = &made->scanner.channel[colour ? c : (int)WW_VISUAL];
        if (c > 0 && !colour)
            break;
        *channel = (ww_scanner_channel){
            .present = true,
            .k = SCAN_CASE_K,
            .dark = scan_case_quantity(SCAN_CASE_DARK, 4e-5, WW_FITTED),
            .flare = scan_case_quantity(SCAN_CASE_FLARE, 3e-4, WW_FITTED),
            .noise = {0.0011, 0.0017, 0.002},
            .dmax = scan_case_quantity(2.91 + 0.04 * (c == 1 ? -1 : c), 0.05, WW_FITTED),
            .step = made->step[c],
            .n_steps = SCAN_CASE_STEPS,
            .residual_sd = 0.0062,
            .worst_residual = 0.031};
        channel->point = made->point[c];
        for (size_t i = 0; i < SCAN_CASE_STEPS; i++) {
            const double density = scan_case_density(i), left = 0.004 * sin(3.0 * density);
            const double code = scan_case_code(density - left);
            snprintf(made->label[i], sizeof made->label[i], "%zu", i + 1);
            made->step[c][i] = (ww_scanner_step){.step = made->label[i],
                                                 .density = density,
                                                 .code = code,
                                                 .sd = 70.0 + 0.002 * code,
                                                 .fitted = density - left,
                                                 .clipped = i == 0,
                                                 .compressed = i >= 18,
                                                 .suspect = i == 8};
            if (i == 8)
                made->step[c][i].fitted -= 0.031;
            /* Falling density: the densest comes first. */
            if (i > 0)
                channel->point[SCAN_CASE_STEPS - 1 - i] =
                    (ww_scanner_point){code, density, 0.006 + 0.001 * (double)i};
        }
        channel->n_points = SCAN_CASE_STEPS - 1;
    }
}

#endif
