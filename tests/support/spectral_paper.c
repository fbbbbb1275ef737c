/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/spectral_paper.h"
#include "core/status_products.h"
#include "core/three.h"
#include "support/real_paper.h"
#include <math.h>
#include <string.h>

enum { BANDS = SPECTRAL_BANDS, CURVE = SPECTRAL_CURVE, ROUNDS = 60 };

static const double curve_low = -2.0, curve_gap = 0.01; /* [log H] of the tables */

const char *spectral_kind_name(spectral_kind kind) {
    static const char *const name[SPECTRAL_KINDS] = {"clean",      "impure", "weak",
                                                     "dichroic",   "dial",   "reciprocity",
                                                     "interimage", "real a", "real b"};
    return name[kind];
}

static double nm(int band) {
    return 340.0 + 10.0 * band;
}

/* A smooth band, flatter above and steeper beside than a normal curve. */
static double band(double at, double peak, double left, double right) {
    const double x = fabs(at - peak) / (at < peak ? left : right);
    return exp(-pow(x, 2.4));
}

static double edge(double at, double where, double width) {
    return 1.0 / (1.0 + exp(-(at - where) / width));
}

/* Planck's law, by wavelength, to a constant. */
static double black_body(double at, double kelvin) {
    return 1e14 * pow(at, -5.0) / (exp(1.4388e7 / (at * kelvin)) - 1.0);
}

/* --- spectra ---------------------------------------------------------------------------------- */

static void draw_sheets(spectral_paper *p, dice *d, double impure) {
    const double yellow = dice_even(d, 432, 448), magenta = dice_even(d, 538, 552),
                 cyan = dice_even(d, 668, 692);
    const double y_green = impure * dice_even(d, 0.02, 0.07);
    const double m_blue = impure * dice_even(d, 0.10, 0.20), m_red = impure * dice_even(d, 0, 0.05);
    const double c_green = impure * dice_even(d, 0.06, 0.15);
    const double c_blue = impure * dice_even(d, 0.03, 0.08);
    for (int i = 0; i < BANDS; i++) {
        const double x = nm(i);
        p->filter[0][i] = band(x, yellow, 65, 55) + y_green * band(x, 550, 50, 80);
        p->filter[1][i] =
            band(x, magenta, 52, 46) + m_blue * band(x, 430, 70, 55) + m_red * band(x, 670, 50, 60);
        p->filter[2][i] =
            band(x, cyan, 95, 85) + c_green * band(x, 550, 55, 60) + c_blue * band(x, 435, 70, 60);
    }
}

static void draw_dichroic(spectral_paper *p, dice *d) {
    const double yellow = dice_even(d, 498, 514), from = dice_even(d, 488, 503),
                 to = dice_even(d, 592, 612), cyan = dice_even(d, 592, 612);
    for (int i = 0; i < BANDS; i++) {
        const double x = nm(i);
        p->filter[0][i] = 0.02 + 0.94 * edge(x, yellow, 6);
        p->filter[1][i] = 0.95 * (1.0 - 0.97 * (edge(x, from, 5) - edge(x, to, 7)));
        p->filter[2][i] = 0.03 + 0.93 * (1.0 - edge(x, cyan, 7));
    }
    p->dichroic = true;
    for (int f = 0; f < 3; f++) {
        p->clearest[f] = 1.0;
        for (int i = 0; i < BANDS; i++)
            p->clearest[f] = fmin(p->clearest[f], p->filter[f][i]);
    }
}

static void draw_head(spectral_paper *p, spectral_kind kind, dice *d) {
    const double all = kind == SPECTRAL_WEAK ? 0.7 : dice_even(d, 0.85, 1.1);
    const double own = kind == SPECTRAL_SCALE ? 0.15 : 0.05;
    const double kelvin = dice_even(d, 2900, 3300);
    for (int i = 0; i < BANDS; i++) /* a glass against heat and ultraviolet */
        p->lamp[i] = black_body(nm(i), kelvin) * edge(nm(i), 405, 6) * (1 - edge(nm(i), 735, 15));
    for (int f = 0; f < 3; f++)
        p->strength[f] = fmin(fmax(all * (1.0 + dice_even(d, -own, own)), 0.7),
                              kind == SPECTRAL_WEAK ? 0.7 : 1.1);
    if (kind == SPECTRAL_DICHROIC || kind == SPECTRAL_SCALE)
        draw_dichroic(p, d);
    else
        draw_sheets(p, d, kind == SPECTRAL_IMPURE ? 1.6 : kind == SPECTRAL_CLEAN ? 0.3 : 1.0);
}

static void draw_negative(spectral_paper *p) {
    for (int i = 0; i < BANDS; i++) {
        const double x = nm(i);
        p->mask[i] = 0.08 + 0.55 * band(x, 445, 60, 60) + 0.35 * band(x, 540, 50, 50);
        p->image[0][i] = band(x, 695, 95, 70) + 0.12 * band(x, 450, 60, 60);
        p->image[1][i] = band(x, 552, 55, 48) + 0.15 * band(x, 440, 50, 50);
        p->image[2][i] = band(x, 450, 55, 55) + 0.03 * band(x, 550, 60, 60);
    }
}

static void draw_layers(spectral_paper *p, dice *d) {
    const double red = dice_even(d, 686, 704), green = dice_even(d, 542, 556),
                 blue = dice_even(d, 464, 480);
    const double green_blue = dice_even(d, 0.005, 0.04), red_green = dice_even(d, 0.002, 0.015);
    for (int i = 0; i < BANDS; i++) {
        const double x = nm(i);
        p->layer[0][i] = band(x, red, 42, 30) + red_green * band(x, 560, 50, 60);
        p->layer[1][i] = band(x, green, 44, 34) + green_blue * band(x, 470, 45, 35);
        p->layer[2][i] = band(x, blue, 60, 30);
    }
}

/* Each in amounts that make its own third's density, weak light, 1. */
static void draw_dyes(spectral_paper *p, dice *d, double impure) {
    const double cyan = dice_even(d, 645, 665), magenta = dice_even(d, 533, 547),
                 yellow = dice_even(d, 440, 452);
    const double c_green = impure * dice_even(d, 0.02, 0.07);
    const double c_blue = impure * dice_even(d, 0.06, 0.12);
    const double m_blue = impure * dice_even(d, 0.08, 0.20);
    const double m_red = impure * dice_even(d, 0.01, 0.05);
    const double y_green = impure * dice_even(d, 0.02, 0.07);
    for (int i = 0; i < BANDS; i++) {
        const double x = nm(i);
        p->dye[0][i] =
            band(x, cyan, 88, 65) + c_blue * band(x, 420, 80, 60) + c_green * band(x, 540, 50, 50);
        p->dye[1][i] =
            band(x, magenta, 46, 44) + m_blue * band(x, 430, 60, 50) + m_red * band(x, 650, 60, 80);
        p->dye[2][i] = band(x, yellow, 52, 54) + y_green * band(x, 545, 50, 60);
        p->white[i] = 0.07 + 0.03 * band(x, 420, 40, 50);
    }
    p->shine = dice_even(d, 0.002, 0.006);
    for (int k = 0; k < 3; k++) {
        double sum = 0.0, own = 0.0;
        for (size_t i = 0; i < BANDS; i++) {
            sum += ww__status_product(WW_STATUS_A, (ww_channel)k, i);
            own += ww__status_product(WW_STATUS_A, (ww_channel)k, i) * p->dye[k][i];
        }
        for (int i = 0; i < BANDS; i++)
            p->dye[k][i] *= sum / own;
    }
}

/* --- curves ----------------------------------------------------------------------------------- */

static double hits(double x, double steep, double other, double apart) {
    return 0.65 * (1.0 - exp(-pow(10.0, steep * x))) +
           0.35 * (1.0 - exp(-pow(10.0, other * (x - apart))));
}

/* Two kinds of grains that a first hit makes developable, invented; middle grey at log H 0. */
static void draw_curves(spectral_paper *p, dice *d) {
    for (int k = 0; k < 3; k++) {
        const double most = dice_even(d, 2.1, 2.5), steep = dice_even(d, 1.35, 1.75),
                     other = dice_even(d, 1.0, 1.3), apart = dice_even(d, 0.10, 0.30),
                     grey = dice_even(d, 0.61, 0.69);
        double place = -1.5;
        while (most * hits(place, steep, other, apart) < grey)
            place += 0.001;
        for (int i = 0; i < CURVE; i++)
            p->curve[k][i] = most * hits(curve_low + curve_gap * i + place, steep, other, apart);
    }
}

/* What a dye absorbs in a channel, of weak light. */
static double share(const spectral_paper *p, int channel, int dye) {
    double sum = 0.0, seen = 0.0;
    for (size_t i = 0; i < BANDS; i++) {
        const double product = ww__status_product(WW_STATUS_A, (ww_channel)channel, i);
        sum += product;
        seen += product * p->dye[dye][i];
    }
    return seen / sum;
}

static double above_white(const real_paper *p, double log_h) {
    const double within = fmin(fmax(log_h, p->log_h[0]), p->log_h[p->n - 1]);
    return real_paper_density(p, within) - p->density[0];
}

/* A maker's curves: densities above white, as the dyes share them, are amounts; green 0.8 D at
 * log H 0. False where they are not here. */
static bool take_curves(spectral_paper *p, const char *name) {
    static const char *const channel[] = {"r", "g", "b"};
    real_paper real[3];
    double shares[3][3], amount[3][3], place;
    for (int c = 0; c < 3; c++) {
        if (!real_paper_read(name, channel[c], &real[c]))
            return false;
        for (int k = 0; k < 3; k++)
            shares[c][k] = share(p, c, k);
    }
    (void)ww__three_invert(shares, amount);
    place = real[1].log_h[0];
    while (real_paper_density(&real[1], place) < 0.8)
        place += 0.001;
    for (int i = 0; i < CURVE; i++)
        for (int k = 0; k < 3; k++) {
            double made = 0.0;
            for (int c = 0; c < 3; c++)
                made += amount[k][c] * above_white(&real[c], curve_low + curve_gap * i + place);
            p->curve[k][i] = fmax(made, i > 0 ? p->curve[k][i - 1] : 0.0);
        }
    return true;
}

static double dye_of(const spectral_paper *p, int k, double log_h) {
    const double at = fmin(fmax((log_h - curve_low) / curve_gap, 0.0), CURVE - 1.001);
    const int i = (int)at;
    return p->curve[k][i] + (at - i) * (p->curve[k][i + 1] - p->curve[k][i]);
}

/* --- printing --------------------------------------------------------------------------------- */

/* A sheet is a density; a dichroic filter slides into part of the light. */
static double passed(const spectral_paper *p, const ww_pack *pack, int band) {
    double all = 1.0;
    for (int f = 0; f < 3; f++) {
        const double density = p->strength[f] * pack->cc[f] / 100.0;
        const double part = fmin((1.0 - pow(10.0, -density)) / (1.0 - p->clearest[f]), 1.0);
        all *= p->dichroic ? 1.0 - part + part * p->filter[f][band]
                           : pow(10.0, -density * p->filter[f][band]);
    }
    return all;
}

static void expose(const void *paper, const double negative[3], const ww_balance_setting *setting,
                   double log_h[3]) {
    const spectral_paper *p = paper;
    double light[3] = {0.0};
    for (int i = 0; i < BANDS; i++) {
        double density = p->mask[i], through;
        for (int k = 0; k < 3; k++)
            density += negative[k] * p->image[k][i];
        through = p->lamp[i] * passed(p, &setting->pack, i) * pow(10.0, -density);
        for (int k = 0; k < 3; k++)
            light[k] += through * p->layer[k][i];
    }
    for (int k = 0; k < 3; k++)
        log_h[k] = p->speed[k] + log10(light[k]) + p->time[k] * log10(setting->time_s);
}

/* Dye that the other layers make holds a layer back. */
static void develop(const spectral_paper *p, const double log_h[3], double amount[3]) {
    double held[3] = {0.0};
    for (int round = 0; round < (p->interimage > 0.0 ? ROUNDS : 1); round++) {
        for (int k = 0; k < 3; k++)
            amount[k] = dye_of(p, k, log_h[k] - held[k]);
        for (int k = 0; k < 3; k++)
            held[k] = p->interimage * (amount[(k + 1) % 3] + amount[(k + 2) % 3]);
    }
}

static void density_of(const void *paper, const double log_h[3], double density[3]) {
    const spectral_paper *p = paper;
    double amount[3], light[3] = {0.0}, sum[3] = {0.0};
    develop(p, log_h, amount);
    for (size_t i = 0; i < BANDS; i++) {
        double of = p->white[i], r;
        for (int k = 0; k < 3; k++)
            of += amount[k] * p->dye[k][i];
        r = p->shine + (1.0 - p->shine) * pow(10.0, -of);
        for (int c = 0; c < 3; c++) {
            const double product = ww__status_product(WW_STATUS_A, (ww_channel)c, i);
            sum[c] += product;
            light[c] += product * r;
        }
    }
    for (int c = 0; c < 3; c++)
        density[c] = -log10(light[c] / sum[c]);
}

colour_maker spectral_paper_maker(const spectral_paper *p) {
    return (colour_maker){p, expose, density_of};
}

/* --- a paper ---------------------------------------------------------------------------------- */

void spectral_paper_draw(spectral_paper *p, spectral_kind kind, dice *d, const double negative[3],
                         const ww_balance_setting *setting) {
    static const char *const real[] = {"curves/kodak_supra_endura_paper.csv",
                                       "curves/fuji_crystal_archive_pro_pdii.csv"};
    static const double grey_dyes = 1.3; /* of two layers in middle grey */
    double log_h[3];
    memset(p, 0, sizeof *p);
    draw_head(p, kind, d);
    draw_negative(p);
    draw_layers(p, d);
    draw_dyes(p, d, kind == SPECTRAL_IMPURE ? 1.6 : 1.0);
    for (int k = 0; k < 3; k++)
        p->time[k] = kind == SPECTRAL_RECIPROCITY ? dice_even(d, 0.88, 1.0) : 1.0;
    if (kind < SPECTRAL_REAL_A || !take_curves(p, real[kind - SPECTRAL_REAL_A]))
        draw_curves(p, d);
    p->interimage = kind == SPECTRAL_INTERIMAGE ? 0.04 : 0.0;
    expose(p, negative, setting, log_h);
    for (int k = 0; k < 3; k++) /* its grey is not quite that of the wedge */
        p->speed[k] = dice_even(d, -0.05, 0.05) + grey_dyes * p->interimage - log_h[k];
}
