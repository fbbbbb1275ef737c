/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_labels.h"
#include <limits.h>
#include <math.h>

/* Where a label may stand: beside its disc, then further and further away by its own height. */
static const double direction[][2] = {{1, 0},   {-1, 0},   {0, -1},  {0, 1},  {1, -1},  {-1, -1},
                                      {1, 1},   {-1, 1},   {1, -.5}, {1, .5}, {-1, .5}, {-1, -.5},
                                      {.5, -1}, {-.5, -1}, {.5, 1},  {-.5, 1}};
enum { DIRECTIONS = sizeof direction / sizeof direction[0], RINGS = 8 };

/* How bad a place is: what can be read all the same, over what cannot. Up to three lines that cross
 * something, a label is better shown than left away. */
enum { LINE = 1, ON_DISC = 4, ON_LABEL = 8, OVER_THE_EDGE = 16, BEARABLE = 3 };

struct board {
    const ww__plot_label *label;
    size_t n;
    double width, height;
};

static void stand(ww__plot_label *label, int ring, const double to[2]) {
    const bool askew = fabs(to[0]) + fabs(to[1]) > 1.75;
    const double out = label->radius * (askew ? sqrt(0.5) : 1.0) + ring * label->height;
    label->at_x = label->x + to[0] * (out + 0.5 * label->width);
    label->at_y = label->y + to[1] * (out + 0.5 * label->height);
    label->led = ring > 0;
}

static bool on_label(const ww__plot_label *a, const ww__plot_label *b) {
    return fabs(a->at_x - b->at_x) < 0.5 * (a->width + b->width) &&
           fabs(a->at_y - b->at_y) < 0.5 * (a->height + b->height);
}

/* A label that touches its disc is not on it. */
static bool on_disc(const ww__plot_label *label, const ww__plot_label *disc) {
    const double dx = fmax(fabs(disc->x - label->at_x) - 0.5 * label->width, 0.0);
    const double dy = fmax(fabs(disc->y - label->at_y) - 0.5 * label->height, 0.0);
    return hypot(dx, dy) < disc->radius - 1e-6;
}

static bool line_crosses(const ww__plot_label *label, const ww__plot_label *disc) {
    if (!label->led)
        return false;
    const double x = label->at_x - label->x, y = label->at_y - label->y;
    const double along = ((disc->x - label->x) * x + (disc->y - label->y) * y) / (x * x + y * y);
    const double at = fmax(0.0, fmin(1.0, along));
    return hypot(label->x + at * x - disc->x, label->y + at * y - disc->y) < disc->radius;
}

static bool over_the_edge(const struct board *board, const ww__plot_label *label) {
    return fabs(label->at_x - 0.5 * board->width) > 0.5 * (board->width - label->width) ||
           fabs(label->at_y - 0.5 * board->height) > 0.5 * (board->height - label->height);
}

static bool line_on_label(const ww__plot_label *led, const ww__plot_label *label) {
    enum { POINTS = 32 };
    for (int i = 0; led->led && i <= POINTS; i++) {
        const double share = (double)i / POINTS;
        const double x = led->x + share * (led->at_x - led->x);
        const double y = led->y + share * (led->at_y - led->y);
        if (fabs(x - label->at_x) < 0.5 * label->width &&
            fabs(y - label->at_y) < 0.5 * label->height)
            return true;
    }
    return false;
}

/* How bad the place of label i is among those that have one. */
static int trouble(const struct board *board, size_t i, const ww__plot_label *label) {
    int n = over_the_edge(board, label) ? OVER_THE_EDGE : 0;
    for (size_t k = 0; k < board->n; k++) {
        const ww__plot_label *other = &board->label[k];
        n += on_disc(label, other) ? ON_DISC : 0;
        if (k == i)
            continue;
        n += on_label(label, other) ? ON_LABEL : 0;
        n += line_on_label(label, other) || line_on_label(other, label) ? LINE : 0;
        n += line_crosses(label, other) ? LINE : 0;
    }
    return n;
}

/* The least bad place in the first so many rings, the first of several; how bad it is. */
static int find_place(const struct board *board, size_t i, int rings, ww__plot_label *found) {
    int least = INT_MAX;
    for (int k = 0; k < rings * DIRECTIONS && least > 0; k++) {
        ww__plot_label tried = *found;
        stand(&tried, k / DIRECTIONS, direction[k % DIRECTIONS]);
        const int bad = trouble(board, i, &tried);
        if (bad < least) {
            *found = tried;
            least = bad;
        }
    }
    return least;
}

/* First those that find a place beside their discs. What has none yet is out of everybody's way. */
void ww__plot_labels_place(ww__plot_label label[], size_t n, size_t fixed, double width,
                           double height) {
    const struct board board = {label, n + fixed, width, height};
    for (size_t i = 0; i < n; i++) {
        label[i].at_x = label[i].at_y = HUGE_VAL;
        label[i].led = label[i].shown = false;
    }
    for (size_t i = 0; i < n; i++) {
        ww__plot_label beside = label[i];
        beside.shown = true;
        if (find_place(&board, i, 1, &beside) == 0)
            label[i] = beside;
    }
    for (size_t i = 0; i < n; i++)
        if (!label[i].shown) {
            ww__plot_label away = label[i];
            away.shown = true;
            if (find_place(&board, i, RINGS, &away) <= BEARABLE)
                label[i] = away;
        }
}
