/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_MERGE_MADE_H
#define WEDGEWORK_TESTS_MERGE_MADE_H

#include "image/array_picture.h"
#include <math.h>

/* A scene scanned at two exposures by a scanner of known noise: all invented. */
typedef struct made_pair {
    const char *name;
    size_t width, height, channels;
    ww_sample kind;
    double white;       /* 0: the kind's own */
    double ratio;       /* of the second scan to the first, first channel; others 5 % less */
    double dark;        /* share of full scale, of both */
    double read, shot;  /* noise as light */
    double gamma;       /* codes are light^(1 / gamma) */
    double right, down; /* px by which the second is displaced */
    double turned;      /* degrees by which it is, about the middle */
    double larger;      /* share by which it is, from the middle */
    double flat;        /* 1: no detail, one level; 0: a scene */
    double falls;       /* D by which what is flat falls in 100 px to the right, and half as much
                           down */
    double extra;       /* offset of the second alone */
    double ends;        /* share of white at which codes end; 0: at white */
} made_pair;

static inline double made_random(uint64_t *seed) {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return ((double)(*seed >> 11) + 0.5) / 9007199254740992.0;
}

static inline double made_normal_of(uint64_t *seed) {
    const double length = sqrt(-2.0 * log(made_random(seed)));
    return length * cos(6.283185307179586 * made_random(seed));
}

/* Light of the scene in the shorter scan, dark not in it: two decades from left to right, with
 * waves of 14 to 150 px in both directions. */
static inline double made_scene(const made_pair *m, double x, double y) {
    if (m->flat > 0.0)
        return 0.2 * pow(10.0, -m->falls * (x + 0.5 * y) / 100.0);
    const double wave = sin(x / 2.9 + y / 7.0) + sin(y / 2.3 - x / 11.0) + sin(x / 5.0 + 1.0) +
                        1.5 * sin(x / 13.0 + y / 17.0) + 1.5 * sin(y / 21.0 - x / 27.0);
    return 0.9 * pow(10.0, -2.2 * x / (double)m->width + 0.03 * wave - 0.2);
}

/* Where the scene that the second scan has at a place is in the first. */
static inline double made_second(const made_pair *m, double x, double y) {
    const double middle_x = (double)m->width / 2.0, middle_y = (double)m->height / 2.0;
    const double angle = m->turned * 0.017453292519943295, scale = 1.0 + m->larger;
    const double u = (x - m->right - middle_x) / scale, v = (y - m->down - middle_y) / scale;
    return made_scene(m, middle_x + cos(angle) * u + sin(angle) * v,
                      middle_y - sin(angle) * u + cos(angle) * v);
}

static inline double made_ratio(const made_pair *m, size_t c) {
    return m->ratio * (c == 0 ? 1.0 : 0.95);
}

static inline double made_code_of(const made_pair *m, const ww_picture *p, double light) {
    const double held = fmin(fmax(light, 0.0), m->ends > 0.0 ? m->ends : 1.0);
    const double code = p->white * (m->gamma > 0.0 ? pow(held, 1.0 / m->gamma) : held);
    return p->sample == WW_SAMPLE_FLOAT ? code : floor(code + 0.5);
}

static inline ww_picture made_scan(const made_pair *m, bool second, uint64_t seed) {
    ww_picture p = array_picture_new(m->width, m->height, m->channels, m->kind,
                                     m->channels == 3 && second ? ARRAY_PLANES : ARRAY_ROWS);
    if (m->white > 0.0) {
        p.white = m->white;
        p.bits = (unsigned)(log2(m->white + 1.0) + 0.5);
    }
    p.rows_together = 1;
    seed = (seed + 1u) * 0x9e3779b97f4a7c15u;
    for (size_t y = 0; y < m->height; y++)
        for (size_t x = 0; x < m->width; x++)
            for (size_t c = 0; c < m->channels; c++) {
                const double scene = second ? made_second(m, (double)x, (double)y)
                                            : made_scene(m, (double)x, (double)y);
                const double beyond = scene * (second ? made_ratio(m, c) : 1.0);
                const double sd = sqrt(m->read * m->read + m->shot * m->shot * beyond);
                array_set(&p, x, y, c,
                          made_code_of(m, &p,
                                       beyond + m->dark + (second ? m->extra : 0.0) +
                                           sd * made_normal_of(&seed)));
            }
    return p;
}

/* Moves a part of a grey scan of 16 bits to the right: what it uncovers stays as it was. */
static inline void made_move(ww_picture *p, ww_region part, size_t px) {
    uint16_t *code = (uint16_t *)(void *)((array_pixels *)p->handle)->sample;
    for (size_t y = part.y; y < part.y + part.height; y++)
        for (size_t x = part.x + part.width; x-- > part.x + px;)
            code[y * p->width + x] = code[y * p->width + x - px];
}

/* A square that no light comes through. */
static inline void made_speck(ww_picture *p, size_t left, size_t top, size_t side) {
    uint16_t *code = (uint16_t *)(void *)((array_pixels *)p->handle)->sample;
    for (size_t i = 0; i < side * side; i++)
        code[(top + i / side) * p->width + left + i % side] = 1;
}

/* Rows that a merge gave. */
typedef struct made_rows {
    unsigned char *bytes;
    size_t row_bytes, n;
    ww_status refuse; /* what is returned in place of taking them */
} made_rows;

static inline ww_status made_take(void *context, const void *rows, size_t n, ww_error *err) {
    made_rows *to = context;
    if (to->refuse != WW_OK)
        return ww_error_set(err, to->refuse, "the sink refuses");
    memcpy(to->bytes + to->n * to->row_bytes, rows, n * to->row_bytes);
    to->n += n;
    return WW_OK;
}

#endif
