/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_SPECTRAL_PAPER_H
#define WEDGEWORK_TESTS_SPECTRAL_PAPER_H

#include "support/colour_trial.h"

/*
 * A colour print from wavelength to wavelength, invented, with no code of the program but the
 * products of ISO 5-3: a lamp through filters and a masked negative, three layers that see more
 * than their own third, a curve for each, dyes that absorb beside their own third, and a surface
 * that adds its shine.
 *
 *   log H_k = p_k log t + log sum lamp 10^-filters 10^-negative layer_k
 *   D_c     = -log10 sum product_c R / sum product_c,  R = 10^-(white + sum a_k dye_k), and shine
 *
 * Source of the shapes: from memory of filters, dyes and papers, drawn at random about it. What
 * the program thinks beforehand of filters and dyes was not made of these; by how much heads
 * differ, and what layers do to each other, was set with both simulators in view.
 */
typedef enum spectral_kind {
    SPECTRAL_CLEAN,       /* sheets that hold back little but their own */
    SPECTRAL_IMPURE,      /* sheets and dyes that hold back much else */
    SPECTRAL_WEAK,        /* sheets that do 0.7 of their number */
    SPECTRAL_DICHROIC,    /* edges that slide into the light */
    SPECTRAL_SCALE,       /* the same, whose dial says more than they do, each its own */
    SPECTRAL_RECIPROCITY, /* layers that lose light of long times, each its own */
    SPECTRAL_INTERIMAGE,  /* layers that hold each other back in development */
    SPECTRAL_REAL_A,      /* with the curves of a maker's paper, where the outside data is here */
    SPECTRAL_REAL_B,
    SPECTRAL_KINDS
} spectral_kind;

const char *spectral_kind_name(spectral_kind kind);

enum { SPECTRAL_BANDS = 44, SPECTRAL_CURVE = 401 }; /* 340 to 770 nm by 10 */

typedef struct spectral_paper {
    double lamp[SPECTRAL_BANDS];
    double filter[3][SPECTRAL_BANDS]; /* yellow, magenta, cyan: density of 100 CC; where they are
                                         dichroic the transmittance of one that is all in */
    bool dichroic;
    double strength[3], clearest[3];      /* of a filter; its least transmittance */
    double mask[SPECTRAL_BANDS];          /* of the negative */
    double image[3][SPECTRAL_BANDS];      /* its cyan, magenta, yellow: density of 1 */
    double layer[3][SPECTRAL_BANDS];      /* of red, green, blue light */
    double dye[3][SPECTRAL_BANDS];        /* cyan, magenta, yellow */
    double white[SPECTRAL_BANDS];         /* of the paper's base */
    double shine;                         /* share of light that no dye takes */
    double curve[3][SPECTRAL_CURVE];      /* amounts of dye, by log H */
    double speed[3], time[3], interimage; /* log H; exponent of the time; log H by amount */
} spectral_paper;

/* One of a kind, in which the setting gives a grey of some 0.75 D of that negative. */
void spectral_paper_draw(spectral_paper *p, spectral_kind kind, dice *d, const double negative[3],
                         const ww_balance_setting *setting);

colour_maker spectral_paper_maker(const spectral_paper *p);

#endif
