/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/lesson.h>

static const double net_film = 0.10, net_paper = 0.60; /* speed points above base [D] */
static const double net_white = 0.04, share_black = 0.9;
static const double gradient_over = 1.50; /* [log H] */
static const double arc_near = 0.2, arc_far = 2.2;
static const double speed_film = 0.8;
static const double within = 0.95;      /* of the steepest local slope */
static const double sweep = 0.01;       /* of the arcs' centre [log H] */
static const double hidden_step = 1e-3; /* [log H] */

/* --- lines between points --------------------------------------------------------------------- */

typedef struct crossing {
    bool there;
    double x1, d1, x2, d2; /* the readings to either side */
    double log_h;
} crossing;

/* Where density first rises through a level. */
static crossing rise_through(const ww_lesson_points *points, double level) {
    for (size_t i = 1; i < points->n; i++) {
        const double d1 = points->density[i - 1], d2 = points->density[i];
        if (d1 > level || d2 < level || d1 >= d2)
            continue;
        const double x1 = points->log_h[i - 1], x2 = points->log_h[i];
        return (crossing){true, x1, d1, x2, d2, x1 + (level - d1) / (d2 - d1) * (x2 - x1)};
    }
    return (crossing){.there = false};
}

/* Density at a log H; false outside of the points. */
static bool density_at(const ww_lesson_points *points, double log_h, double *density) {
    size_t i = 1;
    if (log_h < points->log_h[0] || log_h > points->log_h[points->n - 1])
        return false;
    while (points->log_h[i] < log_h)
        i++;
    const double x1 = points->log_h[i - 1], x2 = points->log_h[i];
    *density = points->density[i - 1] +
               (log_h - x1) / (x2 - x1) * (points->density[i] - points->density[i - 1]);
    return true;
}

typedef struct line {
    double slope, mean_x, mean_d, sxd, sxx;
} line;

/* Least squares through the points from a to b. */
static line line_through(const ww_lesson_points *points, size_t a, size_t b) {
    line l = {.mean_x = 0.0};
    const double n = (double)(b - a + 1);
    for (size_t i = a; i <= b; i++) {
        l.mean_x += points->log_h[i] / n;
        l.mean_d += points->density[i] / n;
    }
    for (size_t i = a; i <= b; i++) {
        const double x = points->log_h[i] - l.mean_x;
        l.sxd += x * (points->density[i] - l.mean_d);
        l.sxx += x * x;
    }
    l.slope = l.sxd / l.sxx;
    return l;
}

/* --- figures ---------------------------------------------------------------------------------- */

static ww_lesson_result none(const char *why_not) {
    return (ww_lesson_result){.why_not = why_not};
}

static const char *const not_reached = "the readings don't rise through that density: more "
                                       "exposure, or the right order, would show it";

static ww_lesson_result speed_point(const ww_lesson_points *points, double base, double net) {
    const crossing at = rise_through(points, base + net);
    if (!at.there)
        return none(not_reached);
    return (ww_lesson_result){true, at.log_h, {base, at.x1, at.d1, at.x2, at.d2}, NULL};
}

static ww_lesson_result speed(const ww_lesson_result *point) {
    if (!point->there)
        return none("there is no speed point");
    const double hm = pow(10.0, point->value);
    return (ww_lesson_result){true, speed_film / hm, {point->value, hm}, NULL};
}

/* `from` and `to` are the outermost steps that its local slopes are made of. */
static ww_lesson_result gamma_of(const ww_lesson_points *points, size_t beside, double doubt) {
    size_t steepest = beside, from, to;
    double most = 0.0;
    if (points->n < 2 * beside + 1)
        return none("too few readings for a local slope");
    for (size_t i = beside; i + beside < points->n; i++) {
        const double slope = line_through(points, i - beside, i + beside).slope;
        if (slope > most) {
            most = slope;
            steepest = i;
        }
    }
    if (!(most > 0.0))
        return none("density does not rise with exposure: the wedge's order, or the sign of its "
                    "densities, is wrong");
    const double least = within * most - doubt;
    from = to = steepest;
    while (from > beside &&
           line_through(points, from - 1 - beside, from - 1 + beside).slope >= least)
        from--;
    while (to + 1 + beside < points->n &&
           line_through(points, to + 1 - beside, to + 1 + beside).slope >= least)
        to++;
    from -= beside;
    to += beside;
    const line l = line_through(points, from, to);
    return (ww_lesson_result){true,
                              l.slope,
                              {most, points->log_h[from], points->log_h[to],
                               (double)(to - from + 1), l.mean_x, l.mean_d, l.sxd, l.sxx},
                              NULL};
}

static ww_lesson_result gradient(const ww_lesson_points *points, const ww_lesson_result *point,
                                 double base) {
    double far;
    if (!point->there)
        return none("there is no speed point to begin at");
    if (!density_at(points, point->value + gradient_over, &far))
        return none("the readings end before 1.50 log H above the speed point");
    const double near = base + net_film;
    return (ww_lesson_result){true,
                              (far - near) / gradient_over,
                              {point->value, near, point->value + gradient_over, far},
                              NULL};
}

/* Where an arc about a centre on the base+fog line first meets the readings, to the right. */
static bool arc_meets(const ww_lesson_points *points, double centre, double base, double radius,
                      double *x, double *d) {
    for (size_t i = 1; i < points->n; i++) {
        const double x1 = points->log_h[i - 1] - centre, d1 = points->density[i - 1] - base;
        const double dx = points->log_h[i] - centre - x1;
        const double dd = points->density[i] - base - d1;
        const double a = dx * dx + dd * dd, b = x1 * dx + d1 * dd;
        const double c = x1 * x1 + d1 * d1 - radius * radius;
        const double root = b * b - a * c;
        if (x1 + dx <= 0.0 || root < 0.0)
            continue;
        const double t = (-b + sqrt(root)) / a; /* from inside of the arc to its outside */
        if (t < 0.0 || t > 1.0 || x1 + t * dx <= 0.0)
            continue;
        *x = x1 + t * dx + centre;
        *d = d1 + t * dd + base;
        return true;
    }
    return false;
}

/* Slope from the centre to the near crossing less that to the far one. */
static bool arcs_apart(const ww_lesson_points *points, double centre, double base, double *apart) {
    double xn, dn, xf, df;
    if (!arc_meets(points, centre, base, arc_near, &xn, &dn) ||
        !arc_meets(points, centre, base, arc_far, &xf, &df))
        return false;
    *apart = (dn - base) / (xn - centre) - (df - base) / (xf - centre);
    return true;
}

static ww_lesson_result contrast_index(const ww_lesson_points *points, double base) {
    const double first = points->log_h[0], last = points->log_h[points->n - 1];
    double low = first, high, apart, mid;
    bool below = false;
    for (high = first; high < last; high += sweep) {
        if (!arcs_apart(points, high, base, &apart))
            continue;
        if (apart >= 0.0 && below)
            break;
        if (apart < 0.0) {
            below = true;
            low = high;
        }
    }
    if (!(high < last))
        return none("no centre has both arcs' crossings among the readings");
    for (int i = 0; i < 50; i++) {
        mid = (low + high) / 2.0;
        if (arcs_apart(points, mid, base, &apart) && apart < 0.0)
            low = mid;
        else
            high = mid;
    }
    double x1 = 0.0, d1 = 0.0, x2 = 0.0, d2 = 0.0;
    if (!arc_meets(points, low, base, arc_near, &x1, &d1) ||
        !arc_meets(points, low, base, arc_far, &x2, &d2))
        return none("no centre has both arcs' crossings among the readings");
    return (ww_lesson_result){true, (d2 - base) / (x2 - low), {base, low, x1, d1, x2, d2}, NULL};
}

/* R and the gradient between the same ends. */
static void paper_range(const ww_lesson_points *points, double base, double black,
                        ww_lesson_working *working) {
    const double d_t = base + net_white, d_s = base + share_black * (black - base);
    const crossing t = rise_through(points, d_t), s = rise_through(points, d_s);
    if (!t.there || !s.there || s.log_h <= t.log_h) {
        working->result[WW_LESSON_RANGE] = none(not_reached);
        working->result[WW_LESSON_GRADIENT] = none(not_reached);
        return;
    }
    working->result[WW_LESSON_RANGE] = (ww_lesson_result){
        true, 100.0 * (s.log_h - t.log_h), {base, black, d_t, t.log_h, d_s, s.log_h}, NULL};
    working->result[WW_LESSON_GRADIENT] = (ww_lesson_result){
        true, (d_s - d_t) / (s.log_h - t.log_h), {t.log_h, d_t, s.log_h, d_s}, NULL};
}

void ww_lesson_work(const ww_lesson_points *points, bool paper, size_t beside, double doubt,
                    ww_lesson_working *working) {
    ww_lesson_result *result = working->result;
    assert(points && points->n >= 2 && beside >= 1 && working);
    *working = (ww_lesson_working){.result = {{.there = false}}};
    result[WW_LESSON_GAMMA] = gamma_of(points, beside, doubt);
    if (!points->base.set) {
        for (size_t f = 0; f < WW_LESSON_FIGURES; f++)
            if (f != WW_LESSON_GAMMA)
                result[f] = none("there is no reading of the base");
        return;
    }
    const double base = points->base.value;
    result[WW_LESSON_BASE] = (ww_lesson_result){true, base, {base}, NULL};
    result[WW_LESSON_SPEED_POINT] = speed_point(points, base, paper ? net_paper : net_film);
    if (paper) {
        double black = points->density[0];
        for (size_t i = 1; i < points->n; i++)
            black = fmax(black, points->density[i]);
        result[WW_LESSON_BLACK] = (ww_lesson_result){true, black, {black}, NULL};
        paper_range(points, base, black, working);
        return;
    }
    result[WW_LESSON_SPEED] = speed(&result[WW_LESSON_SPEED_POINT]);
    result[WW_LESSON_GRADIENT] = gradient(points, &result[WW_LESSON_SPEED_POINT], base);
    result[WW_LESSON_INDEX] = contrast_index(points, base);
}

ww_status ww_lesson_work_hidden(const ww_lesson_strip *strip, ww_lesson_working *working,
                                ww_error *err) {
    const double low = strip->row[WW_LESSON_STEPS].log_h, high = strip->row[1].log_h;
    const size_t n = (size_t)lround((high - low) / hidden_step) + 1;
    double *made = malloc(2 * n * sizeof *made);
    if (!made)
        return ww_error_set(err, WW_EMEMORY, "no memory for a lesson's answers");
    for (size_t i = 0; i < n; i++) {
        made[i] = low + (high - low) * (double)i / (double)(n - 1);
        made[n + i] = ww_lesson_density(&strip->curve, made[i], NULL);
    }
    const ww_lesson_points points = {made, made + n, n, {true, strip->curve.base_fog}};
    ww_lesson_work(&points, strip->paper, 1, 0.0, working);
    free(made);
    return WW_OK;
}

/* --- how they come about ---------------------------------------------------------------------- */

static const ww_lesson_rule film_rules[WW_LESSON_FIGURES] = {
    [WW_LESSON_BASE] = {"base_fog",
                        "base+fog",
                        "D",
                        2,
                        "read it in the row base",
                        "D of the base",
                        {"D", NULL},
                        "definition",
                        0.02},
    [WW_LESSON_SPEED_POINT] = {"speed_point",
                               "speed point",
                               "log H",
                               2,
                               "where density first rises through 0.10 above base+fog, on a "
                               "straight line between the two readings beside it",
                               "log Hm = x1 + (base + 0.10 - D1) / (D2 - D1) (x2 - x1)",
                               {"base", "x1", "D1", "x2", "D2", NULL},
                               "ISO 6:1993, from secondary texts",
                               0.05},
    [WW_LESSON_SPEED] = {"speed",
                         "exposure index",
                         "",
                         0,
                         "0.8 over the exposure in lux seconds at the speed point; an ISO speed "
                         "only where development meets that standard's condition",
                         "S = 0.8 / Hm, Hm = 10^(log Hm)",
                         {"log Hm", "Hm", NULL},
                         "ISO 6:1993, from secondary texts",
                         0.0},
    [WW_LESSON_GAMMA] = {"gamma",
                         "gamma",
                         "",
                         2,
                         "least-squares slope over the longest run of steps whose local slope, of "
                         "five steps, is within 5 % of the steepest, and its doubt",
                         "gamma = sum (x - mean x)(D - mean D) / sum (x - mean x)^2",
                         {"steepest", "x from", "x to", "steps", "mean x", "mean D", "sum xD",
                          "sum xx"},
                         "common practice",
                         0.03},
    [WW_LESSON_GRADIENT] = {"average_gradient",
                            "average gradient",
                            "",
                            2,
                            "from the speed point over 1.50 log H",
                            "G = (D2 - D1) / (x2 - x1)",
                            {"x1", "D1", "x2", "D2", NULL},
                            "definition, from secondary texts",
                            0.02},
    [WW_LESSON_INDEX] = {"contrast_index",
                         "contrast index",
                         "",
                         2,
                         "slope of the line from a centre on the base+fog line through the "
                         "crossings of arcs with radius 0.2 and 2.2 about it",
                         "CI = (D2 - base) / (x2 - x0)",
                         {"base", "x0", "x1", "D1", "x2", "D2", NULL},
                         "three-point rule, from secondary texts",
                         0.02}};

static const ww_lesson_rule paper_rules[WW_LESSON_FIGURES] = {
    [WW_LESSON_BASE] = {"base_fog",
                        "paper white",
                        "D",
                        2,
                        "read it in the row base",
                        "D of the base",
                        {"D", NULL},
                        "definition",
                        0.02},
    [WW_LESSON_BLACK] = {"dmax",
                         "D-max",
                         "D",
                         2,
                         "the greatest reading",
                         "greatest D",
                         {"D", NULL},
                         "definition",
                         0.03},
    [WW_LESSON_SPEED_POINT] = {"speed_point",
                               "speed point",
                               "log H",
                               2,
                               "where density first rises through 0.60 above paper white, on a "
                               "straight line between the two readings beside it",
                               "log Hm = x1 + (base + 0.60 - D1) / (D2 - D1) (x2 - x1)",
                               {"base", "x1", "D1", "x2", "D2", NULL},
                               "ISO 6846:1992, from a secondary text",
                               0.02},
    [WW_LESSON_GAMMA] = {"gamma",
                         "gamma",
                         "",
                         2,
                         "least-squares slope over the longest run of steps whose local slope, of "
                         "three steps, is within 5 % of the steepest, and its doubt",
                         "gamma = sum (x - mean x)(D - mean D) / sum (x - mean x)^2",
                         {"steepest", "x from", "x to", "steps", "mean x", "mean D", "sum xD",
                          "sum xx"},
                         "common practice",
                         0.15},
    [WW_LESSON_GRADIENT] = {"average_gradient",
                            "average gradient",
                            "",
                            2,
                            "between the ends of the exposure range",
                            "G = (D2 - D1) / (x2 - x1)",
                            {"x1", "D1", "x2", "D2", NULL},
                            "definition",
                            0.10},
    [WW_LESSON_RANGE] = {"iso_range",
                         "R",
                         "",
                         0,
                         "100 times the log H between net 0.04 and 90 % of net D-max",
                         "R = 100 (x2 - x1)",
                         {"white", "D-max", "D1", "x1", "D2", "x2", NULL},
                         "ISO 6846:1992, from secondary texts; of the net D-max: from memory",
                         6.0}};

const ww_lesson_rule *ww_lesson_rule_of(ww_lesson_figure figure, bool paper) {
    const ww_lesson_rule *rule = paper ? &paper_rules[figure] : &film_rules[figure];
    assert((int)figure >= 0 && figure < WW_LESSON_FIGURES);
    return rule->key ? rule : NULL;
}
