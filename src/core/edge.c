/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <wedgework/edge.h>

#define PI 3.14159265358979323846

enum { LEAST = 16, FINER = 4, SHARES = 4, PASSES = 4, FREQUENCIES = 800 };
static const double least_shift = 2.0;     /* px that the edge moves along its length */
static const double most_angle_deg = 30.0; /* beyond it a row's differences are no line profile */
static const double least_reach = 8.0;     /* px from the edge to a side */
static const double least_signal = 8.0;    /* of noise */
static const double surely = 3.0;          /* errors */
static const double widths = 4.0;          /* to either side, beyond which only noise is left */
static const double highest = 1.0;         /* cycles/px */
static const double grid = 1.0 / 48.0;     /* px by which straight lines between quarters of a pixel
                                              put a width off: a twelfth of them, by trial */
static const double student[SHARES + 1] = {0.0, 0.0, 12.706, 4.303, 3.182}; /* 95 %, n - 1 */

/* The picture with its edge upright, and where that lies: x = at + slope y. */
typedef struct scene {
    double *light;
    size_t width, height;
    double at, slope;
    double reach; /* px across the edge that every row has on both sides */
} scene;

/* --- the edge's line -------------------------------------------------------------------------- */

static ww_status lay_upright(const double light[], size_t width, size_t height, scene *s,
                             ww_error *err) {
    double along_x = 0.0, along_y = 0.0;
    for (size_t y = 0; y < height; y++)
        for (size_t x = 0; x < width; x++) {
            const double here = light[y * width + x];
            if (!isfinite(here))
                return ww_error_set(err, WW_EDOMAIN,
                                    "pixel %zu, %zu holds no number; choose another place", x, y);
            along_x += x < width / 2 ? here : -here;
            along_y += y < height / 2 ? here : -here;
        }
    const bool lies = fabs(along_y) > fabs(along_x);
    s->width = lies ? height : width;
    s->height = lies ? width : height;
    s->light = malloc(width * height * sizeof *s->light);
    if (!s->light)
        return ww_error_set(err, WW_EMEMORY, "no memory for an edge");
    for (size_t y = 0; y < s->height; y++)
        for (size_t x = 0; x < s->width; x++)
            s->light[y * s->width + x] = lies ? light[x * width + y] : light[y * width + x];
    return WW_OK;
}

/* Centre of a row's differences under a bell that stands at `about`; false where there are none. */
static bool centre_of_row(const scene *s, size_t y, double about, double half, double *centre) {
    const double *row = s->light + y * s->width;
    double sum = 0.0, weighted = 0.0;
    for (size_t x = 1; x + 1 < s->width; x++) {
        const double off = ((double)x - about) / half;
        if (fabs(off) >= 1.0)
            continue;
        const double weight = 0.5 + 0.5 * cos(PI * off);
        const double step = weight * (row[x + 1] - row[x - 1]);
        sum += step;
        weighted += step * (double)x;
    }
    *centre = weighted / sum;
    return sum != 0.0 && isfinite(*centre) && *centre > 0.0 && *centre < (double)s->width;
}

/* The line through all rows' centres; each pass looks closer about the last one's. */
static bool fit_line(scene *s) {
    double half = (double)s->width;
    s->at = ((double)s->width - 1.0) / 2.0;
    s->slope = 0.0;
    for (int pass = 0; pass < PASSES; pass++) {
        double n = 0.0, sy = 0.0, sx = 0.0, syy = 0.0, sxy = 0.0;
        for (size_t y = 0; y < s->height; y++) {
            double x;
            if (!centre_of_row(s, y, s->at + s->slope * (double)y, half, &x))
                continue;
            n += 1.0;
            sy += (double)y;
            sx += x;
            syy += (double)y * (double)y;
            sxy += (double)y * x;
        }
        const double under = n * syy - sy * sy;
        if (n < 2.0 || under <= 0.0)
            return false;
        s->slope = (n * sxy - sy * sx) / under;
        s->at = (sx - s->slope * sy) / n;
        half = fmax(half / 2.0, 2.0 * least_reach);
    }
    return true;
}

static ww_status check_line(scene *s, ww_error *err) {
    const double last = s->at + s->slope * (double)(s->height - 1);
    const double right = (double)(s->width - 1);
    const double angle = atan(fabs(s->slope)) * 180.0 / PI;
    const double beside = fmin(fmin(s->at, last), fmin(right - s->at, right - last));
    s->reach = beside * cos(atan(s->slope));
    if (fabs(s->slope) * (double)(s->height - 1) < least_shift)
        return ww_error_set(err, WW_EDOMAIN,
                            "the edge stands too straight: it moves by less than %.0f px along its "
                            "length; lay it askew by some 5 degrees",
                            least_shift);
    if (angle > most_angle_deg)
        return ww_error_set(err, WW_EDOMAIN,
                            "the edge is askew by %.0f degrees, over %.0f; lay it askew by some 5",
                            angle, most_angle_deg);
    if (s->reach < least_reach)
        return ww_error_set(err, WW_EDOMAIN,
                            "the edge comes nearer than %.0f px to a side of the rectangle; give "
                            "one in whose middle it runs",
                            least_reach);
    return WW_OK;
}

/* --- profiles --------------------------------------------------------------------------------- */

typedef struct profile {
    double *value;  /* of the edge, a quarter of a pixel apart */
    double *weight; /* pixels gathered */
    size_t n;
} profile;

static void gather(const scene *s, size_t from, size_t to, profile *edge) {
    const double across = cos(atan(s->slope)), middle = (double)edge->n / 2.0;
    for (size_t i = 0; i < edge->n; i++)
        edge->value[i] = edge->weight[i] = 0.0;
    for (size_t y = from; y < to; y++)
        for (size_t x = 0; x < s->width; x++) {
            const double off = ((double)x - s->at - s->slope * (double)y) * across;
            const double bin = floor(off * FINER + middle);
            if (bin < 0.0 || bin >= (double)edge->n)
                continue;
            edge->value[(size_t)bin] += s->light[y * s->width + x];
            edge->weight[(size_t)bin] += 1.0;
        }
    /* A place without a pixel is as the one before it, at the very end as the one after. */
    double last = 0.0;
    for (size_t i = edge->n; i-- > 0;)
        last = edge->weight[i] > 0.0 ? edge->value[i] / edge->weight[i] : last;
    for (size_t i = 0; i < edge->n; i++)
        last = edge->value[i] = edge->weight[i] > 0.0 ? edge->value[i] / edge->weight[i] : last;
}

static double mean(const double value[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    return sum / (double)n;
}

/* Where the profile crosses a level, nearest to its middle. */
static double crossing(const profile *edge, double level) {
    const double middle = (double)(edge->n - 1) / 2.0;
    double found = middle, nearest = (double)edge->n;
    for (size_t i = 0; i + 1 < edge->n; i++) {
        const double here = edge->value[i] - level, next = edge->value[i + 1] - level;
        if (here * next > 0.0 || here == next)
            continue;
        const double at = (double)i + here / (here - next);
        if (fabs(at - middle) < nearest) {
            nearest = fabs(at - middle);
            found = at;
        }
    }
    return found;
}

static double width_of(const profile *edge) {
    const size_t far = edge->n / 8;
    const double first = mean(edge->value, far), last = mean(edge->value + edge->n - far, far);
    return fabs(crossing(edge, first + 0.9 * (last - first)) -
                crossing(edge, first + 0.1 * (last - first))) /
           FINER;
}

/* Flat over the middle half, and down to 0 at either end as a cosine. */
static double taper(size_t i, size_t n) {
    const double off = fabs(2.0 * (double)i / (double)(n - 1) - 1.0);
    return off <= 0.5 ? 1.0 : 0.5 + 0.5 * cos(PI * (off - 0.5) / 0.5);
}

/* Size of the line profile's transform at a frequency, less what gathering takes. */
static double transform(const profile *edge, double frequency) {
    const double step = 1.0 / FINER;
    double re = 0.0, im = 0.0;
    for (size_t i = 1; i + 1 < edge->n; i++) {
        const double line = taper(i, edge->n) * (edge->value[i + 1] - edge->value[i - 1]);
        const double phase = 2.0 * PI * frequency * step * (double)i;
        re += line * cos(phase);
        im += line * sin(phase);
    }
    const double a = 2.0 * PI * frequency * step, b = PI * frequency * step;
    const double taken = frequency > 0.0 ? sin(a) / a * (sin(b) / b) : 1.0;
    return hypot(re, im) / taken;
}

static bool find_mtf50(const profile *edge, double *found) {
    const double whole = transform(edge, 0.0);
    double before = 1.0;
    for (int k = 1; k <= FREQUENCIES; k++) {
        const double frequency = highest * k / FREQUENCIES;
        const double here = transform(edge, frequency) / whole;
        if (here < 0.5) {
            *found = highest * (k - 1 + (before - 0.5) / (before - here)) / FREQUENCIES;
            return true;
        }
        before = here;
    }
    return false;
}

static void take_mtf(const profile *edge, double mtf[WW_EDGE_FREQUENCIES]) {
    const double whole = transform(edge, 0.0);
    for (size_t i = 0; i < WW_EDGE_FREQUENCIES; i++)
        mtf[i] = transform(edge, highest * (double)i / (WW_EDGE_FREQUENCIES - 1)) / whole;
}

/* --- the whole and its shares ----------------------------------------------------------------- */

/* `besides` is off the same way in every share. */
static ww_quantity with_doubt(double value, const double of[], size_t n, double besides) {
    double squares = 0.0;
    for (size_t i = 0; i < n; i++)
        squares += (of[i] - mean(of, n)) * (of[i] - mean(of, n));
    const double half = student[n] * sqrt(squares / (double)(n - 1) / (double)n) + besides;
    return (ww_quantity){value, value - half, value + half, WW_MEASURED};
}

/* Of a pixel, by its differences along the rows of one side. */
static double noise_of(const scene *s) {
    double noise = 0.0, n = 0.0;
    for (size_t y = 0; y < s->height; y++)
        for (size_t x = 1; x < s->width / 8; x++) {
            const double step = s->light[y * s->width + x] - s->light[y * s->width + x - 1];
            noise += step * step / 2.0;
            n += 1.0;
        }
    return sqrt(noise / fmax(n, 1.0));
}

static ww_status check_signal(const scene *s, const profile *edge, ww_edge *made, ww_error *err) {
    const size_t far = edge->n / 8;
    const double first = mean(edge->value, far), last = mean(edge->value + edge->n - far, far);
    made->light = fmax(first, last);
    made->dark = fmin(first, last);
    if (made->light - made->dark > least_signal * noise_of(s) && made->light > made->dark)
        return WW_OK;
    return ww_error_set(err, WW_ENODATA,
                        "no edge lies there: both sides are alike within the noise; give a "
                        "rectangle with an edge in its middle");
}

static double overshoot_of(const profile *edge, const ww_edge *made, double noise) {
    double above = 0.0, below = 0.0;
    for (size_t i = 0; i < edge->n; i++) {
        const double error = surely * noise / sqrt(fmax(edge->weight[i], 1.0));
        above = fmax(above, edge->value[i] - error - made->light);
        below = fmax(below, made->dark - edge->value[i] - error);
    }
    return fmin(above, below) / (made->light - made->dark);
}

/* Places of the profile that the edge itself takes: what lies further off adds noise alone. */
static size_t near_edge(const profile *edge) {
    const double reach = fmax(widths * width_of(edge), least_reach);
    return (size_t)fmin(2.0 * reach * FINER, (double)edge->n);
}

static ww_status measure(const scene *s, profile *edge, ww_edge *made, ww_error *err) {
    const size_t room = (size_t)(fabs(s->slope) * (double)(s->height - 1));
    const size_t n = room < SHARES ? room : SHARES;
    double width[SHARES], mtf50[SHARES], whole = 0.0;
    bool all;
    gather(s, 0, s->height, edge);
    const ww_status status = check_signal(s, edge, made, err);
    if (status != WW_OK)
        return status;
    edge->n = near_edge(edge);
    gather(s, 0, s->height, edge);
    const double width_px = width_of(edge);
    all = find_mtf50(edge, &whole);
    take_mtf(edge, made->mtf);
    made->overshoot = overshoot_of(edge, made, noise_of(s));
    for (size_t i = 0; i < n; i++) {
        gather(s, i * s->height / n, (i + 1) * s->height / n, edge);
        width[i] = width_of(edge);
        all = find_mtf50(edge, &mtf50[i]) && all;
    }
    made->angle_deg = atan(fabs(s->slope)) * 180.0 / PI;
    made->width_px = with_doubt(width_px, width, n, grid);
    if (all)
        made->mtf50 = with_doubt(whole, mtf50, n, 0.0);
    return WW_OK;
}

ww_status ww_edge_measure(const double light[], size_t width, size_t height, ww_edge *edge,
                          ww_error *err) {
    scene s = {.light = NULL};
    profile gathered = {NULL, NULL, 0};
    ww_edge made = {.width_px = WW_QUANTITY_INIT};
    ww_status status;
    assert(light && edge);
    if (width < LEAST || height < LEAST)
        return ww_error_set(err, WW_EDOMAIN,
                            "an edge needs %d x %d px at least, and this is %zu x %zu", LEAST,
                            LEAST, width, height);
    status = lay_upright(light, width, height, &s, err);
    if (status == WW_OK && !fit_line(&s))
        status = ww_error_set(err, WW_ENODATA,
                              "no edge lies there: nothing differs along its rows; give a "
                              "rectangle with an edge in its middle");
    if (status == WW_OK)
        status = check_line(&s, err);
    if (status == WW_OK) {
        gathered.n = (size_t)(2.0 * s.reach * FINER);
        gathered.value = calloc(2 * gathered.n, sizeof *gathered.value);
        gathered.weight = gathered.value ? gathered.value + gathered.n : NULL;
        status = gathered.value ? measure(&s, &gathered, &made, err)
                                : ww_error_set(err, WW_EMEMORY, "no memory for an edge");
    }
    free(gathered.value);
    free(s.light);
    if (status == WW_OK)
        *edge = made;
    return status;
}
