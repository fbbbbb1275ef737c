/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_scene.h"

#include <math.h>

static const double pi = 3.14159265358979323846;

static double *at(scan_scene *s, size_t x, size_t y) {
    return &s->density[y * s->width * SCAN_FINE + x];
}

/* Fine pixels from low to high (px) that lie in the picture. */
static void span(double low, double high, size_t size, size_t *from, size_t *to) {
    const double most = (double)(size * SCAN_FINE);
    *from = (size_t)fmin(fmax(floor(low * SCAN_FINE), 0.0), most);
    *to = (size_t)fmin(fmax(ceil(high * SCAN_FINE) + 1.0, 0.0), most);
}

static double place(size_t fine) {
    return ((double)fine + 0.5) / SCAN_FINE;
}

void scan_draw_fill(scan_scene *s, double density) {
    for (size_t i = 0; i < s->width * s->height * SCAN_FINE * SCAN_FINE; i++)
        s->density[i] = density;
}

void scan_draw_strip(scan_scene *s, const double box[5], const double density[], size_t n,
                     bool fade) {
    const double x = box[0], y = box[1], length = box[2], breadth = box[3];
    const double c = cos(box[4] * pi / 180.0), sine = sin(box[4] * pi / 180.0);
    const double half_x = 0.5 * (length * fabs(c) + breadth * fabs(sine));
    const double half_y = 0.5 * (length * fabs(sine) + breadth * fabs(c));
    size_t x0, x1, y0, y1;
    span(x - half_x, x + half_x, s->width, &x0, &x1);
    span(y - half_y, y + half_y, s->height, &y0, &y1);
    for (size_t j = y0; j < y1; j++)
        for (size_t i = x0; i < x1; i++) {
            const double dx = place(i) - x, dy = place(j) - y;
            const double along = (dx * c + dy * sine) / length + 0.5;
            const double across = (dy * c - dx * sine) / breadth + 0.5;
            if (along < 0.0 || along >= 1.0 || across < 0.0 || across >= 1.0)
                continue;
            *at(s, i, j) = fade ? density[0] + along * (density[1] - density[0])
                                : density[(size_t)(along * (double)n)];
        }
}

/* A box for each step, one beside the other along the length. */
void scan_draw_uneven(scan_scene *s, const double box[5], const double pair[], size_t n) {
    const double c = cos(box[4] * pi / 180.0), sine = sin(box[4] * pi / 180.0);
    double sum = 0.0, from = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += pair[2 * i];
    for (size_t i = 0; i < n; i++) {
        const double length = box[2] * pair[2 * i] / sum;
        const double u = from + 0.5 * length - 0.5 * box[2];
        const double step[5] = {box[0] + u * c, box[1] + u * sine, length, box[3], box[4]};
        scan_draw_strip(s, step, &pair[2 * i + 1], 1, false);
        from += length;
    }
}

/* Adds to what lies there, or takes its place. */
static void disc(scan_scene *s, double x, double y, double radius, double density, bool add) {
    size_t x0, x1, y0, y1;
    span(x - radius, x + radius, s->width, &x0, &x1);
    span(y - radius, y + radius, s->height, &y0, &y1);
    for (size_t j = y0; j < y1; j++)
        for (size_t i = x0; i < x1; i++)
            if (hypot(place(i) - x, place(j) - y) <= radius)
                *at(s, i, j) = add ? *at(s, i, j) + density : density;
}

void scan_draw_disc(scan_scene *s, double x, double y, double radius, double density) {
    disc(s, x, y, radius, density, false);
}

void scan_draw_dust(scan_scene *s, size_t n) {
    for (size_t i = 0; i < n; i++)
        disc(s, dice_even(&s->d, 0.0, (double)s->width), dice_even(&s->d, 0.0, (double)s->height),
             dice_even(&s->d, 0.5, 1.5), dice_even(&s->d, 0.4, 1.5), true);
}

/* A line that bends as it goes. Each fine pixel is told its density once, by the last disc. */
void scan_draw_hairs(scan_scene *s, size_t n, bool scratches) {
    for (size_t i = 0; i < n; i++) {
        double x = dice_even(&s->d, 0.2, 0.8) * (double)s->width;
        double y = dice_even(&s->d, 0.2, 0.8) * (double)s->height;
        double angle = dice_even(&s->d, 0.0, 2.0 * pi);
        const double bend = scratches ? 0.0 : dice_even(&s->d, -0.02, 0.02);
        for (size_t step = 0; step < 200; step++) {
            if (x < 0.0 || y < 0.0 || x >= (double)s->width || y >= (double)s->height)
                break;
            double *here = at(s, (size_t)(x * SCAN_FINE), (size_t)(y * SCAN_FINE));
            if (scratches)
                *here = fmax(*here - 0.3, 0.0);
            else
                disc(s, x, y, 0.6, fmax(*here, 1.6), false);
            x += 0.7 * cos(angle);
            y += 0.7 * sin(angle);
            angle += bend;
        }
    }
}

/* Light of a pixel in a channel, through what lies on it and, by the blur, beside it. */
static double light(const scan_scene *s, size_t x, size_t y, double factor) {
    const size_t reach = (size_t)lround(s->blur * SCAN_FINE);
    const size_t wide = s->width * SCAN_FINE, high = s->height * SCAN_FINE;
    const size_t x0 = x * SCAN_FINE > reach ? x * SCAN_FINE - reach : 0;
    const size_t y0 = y * SCAN_FINE > reach ? y * SCAN_FINE - reach : 0;
    const size_t x1 = (x + 1) * SCAN_FINE + reach, y1 = (y + 1) * SCAN_FINE + reach;
    double sum = 0.0, last = 0.0, share = 1.0; /* most neighbours are alike */
    size_t n = 0;
    for (size_t j = y0; j < y1 && j < high; j++)
        for (size_t i = x0; i < x1 && i < wide; i++, n++) {
            const double density = s->density[j * wide + i];
            if (density != last)
                share = pow(10.0, -factor * density);
            last = density;
            sum += share;
        }
    return sum / (double)n;
}

void scan_draw_row(scan_scene *s, size_t y, uint16_t code[]) {
    const double white = s->bits == 8 ? 255.0 : 65535.0;
    for (size_t x = 0; x < s->width; x++)
        for (size_t c = 0; c < s->channels; c++) {
            const double beyond = s->k * (light(s, x, y, s->factor[c]) + s->flare);
            const double sd = sqrt(s->read * s->read + s->shot * s->shot * beyond +
                                   s->fixed * s->fixed * beyond * beyond);
            const double seen = s->dark + beyond + dice_normal(&s->d, sd);
            const double share = pow(fmin(fmax(seen, 0.0), 1.0), 1.0 / s->gamma);
            code[x * s->channels + c] = (uint16_t)lround(white * share);
        }
}
