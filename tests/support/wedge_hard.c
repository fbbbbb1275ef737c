/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/wedge_hard.h"
#include <math.h>

/* A masked colour film: each channel has its own base; gamma 2.2, with flare. */
void wedge_masked_film(wedge_scene *s, uint64_t seed, double own[21]) {
    static const double base[3] = {0.25, 0.6, 0.8};
    s->channels = 3, s->gamma = 2.2, s->base = base;
    s->flare = 0.003 + 0.0007 * (double)(seed % 11);
    for (size_t k = 0; k < 21; k++)
        own[k] = (0.05 + 0.1 * (double)(seed % 8) / 7.0) * (double)k;
}

/* A wedge in 8 bits, linear: the dense steps share few codes. */
void wedge_eight_bits(wedge_scene *s, uint64_t seed, double own[21]) {
    s->bits = 8, s->channels = seed % 4 < 2 ? 1 : 3;
    s->flare = seed % 3 == 0 ? 0.0 : 0.001 * (double)(seed % 10);
    for (size_t k = 0; k < 21; k++)
        own[k] = 0.05 + 0.15 * (double)k;
}

/* A print of a wedge: white over two to six steps, black over one to five, on black paper. */
void wedge_on_paper(wedge_scene *s, uint64_t seed, double own[21]) {
    const double white = (double)(2 + seed % 5), black = (double)(1 + seed / 2 % 5);
    s->bits = seed % 2 == 0 ? 8 : 16, s->gamma = seed % 3 == 0 ? 1.0 : 2.2, s->flare = 0.002;
    for (size_t k = 0; k < 21; k++) {
        const double x = fmin(1.0, fmax(0.0, ((double)k - white + 1.0) / (22.0 - white - black)));
        own[k] = 0.07 + 1.9 * x * x * (3.0 - 2.0 * x);
    }
    s->margin = 8.0 + (double)(seed * 7 % 30), s->margin_density = own[20];
}

/* The same on a white sheet: no edge tells where white begins. */
void wedge_on_white_paper(wedge_scene *s, uint64_t seed, double own[21]) {
    wedge_on_paper(s, seed, own);
    s->margin_density = own[0];
}

/* Somewhere on the glass with dirt of all kinds; `length` px, `breadth` a share of that. The sheet
 * around it may reach over the glass's edge. */
static wedge_scene laid(uint64_t seed, dice *d, size_t steps, const double own[], double length,
                        double breadth) {
    wedge_scene s = wedge_scene_plain();
    s.seed = seed, s.steps = steps, s.density = own;
    s.upright = seed % 2 == 1, s.reversed = seed / 2 % 2 == 1;
    s.surround = (wedge_surround)(seed / 4 % WEDGE_SURROUNDS);
    s.channels = seed % 4 == 0 ? 3 : 1, s.gamma = seed % 3 == 2 ? 2.2 : 1.0;
    s.read_noise = dice_even(d, 0.0, 3e-4), s.shot_noise = dice_even(d, 0.0, 0.006);
    s.dust = (size_t)dice_even(d, 0.0, 100.0), s.hairs = (size_t)dice_even(d, 0.0, 4.0);
    s.scratches = (size_t)dice_even(d, 0.0, 2.0), s.flare = dice_even(d, 0.0, 0.004);
    s.blur = dice_even(d, 0.0, 2.0), s.wobble = dice_even(d, 0.0, 0.08);
    s.length = length, s.breadth = breadth * length, s.angle_deg = dice_even(d, -8.0, 8.0);
    const double turn = fabs(s.angle_deg) * 0.01745;
    const double x = 0.5 * (s.length + s.breadth * turn) + 2.0;
    const double y = 0.5 * (s.length * turn + s.breadth) + 2.0;
    const double at_x = dice_even(d, x, 640.0 - x), at_y = dice_even(d, y, 420.0 - y);
    s.width = s.upright ? 420 : 640, s.height = s.upright ? 640 : 420;
    s.x = s.upright ? at_y : at_x, s.y = s.upright ? at_x : at_y;
    return s;
}

wedge_scene wedge_few_steps(uint64_t seed, double own[21]) {
    dice d = {seed * 104729 + 41};
    const size_t steps = 5 + seed % 5;
    const double gap = dice_even(&d, 0.25, 0.5), first = dice_even(&d, 0.04, 0.2);
    for (size_t k = 0; k < steps; k++)
        own[k] = first + gap * (double)k;
    const double length = dice_even(&d, 200.0, 500.0), breadth = dice_even(&d, 0.1, 0.35);
    return laid(seed, &d, steps, own, length, breadth);
}

/* The S of a paper's curve: densities of a logistic function of the step. */
static void fill_paper(dice *d, size_t steps, double slope, double middle, double own[]) {
    const double black = dice_even(d, 1.6, 2.1);
    for (size_t k = 0; k < steps; k++)
        own[k] = 0.06 + black / (1.0 + exp(-slope * ((double)k - middle)));
}

wedge_scene wedge_test_strip(uint64_t seed, double own[21]) {
    dice d = {seed * 1299709 + 41};
    const size_t steps = 5 + seed % 5;
    const double slope = dice_even(&d, 0.7, 1.6), middle = dice_even(&d, 0.35, 0.65);
    fill_paper(&d, steps, slope, middle * (double)(steps - 1), own);
    const double length = dice_even(&d, 200.0, 500.0), breadth = dice_even(&d, 0.12, 0.4);
    return laid(seed, &d, steps, own, length, breadth);
}

wedge_scene wedge_on_hard_paper(uint64_t seed, double own[21]) {
    dice d = {seed * 15485863 + 41};
    const double slope = dice_even(&d, 1.4, 2.5), middle = dice_even(&d, 3.5, 6.5);
    fill_paper(&d, 11, slope, middle, own);
    const double length = dice_even(&d, 300.0, 500.0), breadth = dice_even(&d, 0.08, 0.2);
    wedge_scene s = laid(seed, &d, 11, own, length, breadth);
    s.margin = seed / 2 % 3 > 0 ? dice_even(&d, 8.0, 40.0) : 0.0;
    s.margin_density = seed / 2 % 3 == 1 ? own[0] : own[10];
    return s;
}

wedge_scene wedge_on_clear_base(uint64_t seed, double own[21]) {
    dice d = {seed * 32452843 + 41};
    const double gamma = dice_even(&d, 0.5, 0.8), base = dice_even(&d, 0.15, 0.35);
    const double start = dice_even(&d, 2.0, 7.0), soft = dice_even(&d, 1.2, 2.5);
    for (size_t k = 0; k < 21; k++)
        own[k] = base + gamma * 0.1 * soft * log1p(exp(((double)k - start) / soft));
    const double length = dice_even(&d, 380.0, 500.0), breadth = dice_even(&d, 0.08, 0.16);
    wedge_scene s = laid(seed, &d, 21, own, length, breadth);
    s.surround = seed / 4 % 2 == 1 ? WEDGE_ON_DARK : WEDGE_ON_BRIGHT, s.gamma = 1.0;
    /* Over the whole glass, or about as far as a step is wide. */
    s.margin = seed % 3 == 0 ? 800.0 : length / 21.0 * dice_even(&d, 0.9, 1.2);
    s.margin_density = base;
    return s;
}
