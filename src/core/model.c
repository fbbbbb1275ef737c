/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "model.h"
#include "spline.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/*
 * Each model works on the axis u along which density rises (log H, or -log H for reversal). One
 * function gives density, slope and, where asked, the gradient by parameter, since they share every
 * exponential.
 */
typedef double (*model_function)(const ww_shape *shape, double u, double *slope, double gradient[]);

/* ln(1 + e^z) and its derivative 1 / (1 + e^-z), from one exponential that cannot overflow. */
static double softplus(double z, double *bend) {
    const double e = exp(-fabs(z));
    *bend = (z > 0.0 ? 1.0 : e) / (1.0 + e);
    return (z > 0.0 ? z : 0.0) + log1p(e);
}

static double logistic(const ww_shape *shape, double u, double *slope, double gradient[]) {
    const double *p = shape->parameter;
    const double range = p[WW__LOGISTIC_RANGE], steep = p[WW__LOGISTIC_SLOPE];
    const double asymmetry = p[WW__LOGISTIC_ASYMMETRY];
    const double z = steep * (u - p[WW__LOGISTIC_MIDDLE]);
    double rest;                                      /* 1 / (1 + e^z) */
    const double log_fraction = -softplus(-z, &rest); /* ln(1 / (1 + e^-z)) */
    const double fraction = exp(asymmetry * log_fraction);
    const double by_z = range * asymmetry * fraction * rest;

    if (slope)
        *slope = by_z * steep;
    if (gradient) {
        gradient[0] = 1.0;
        gradient[WW__LOGISTIC_RANGE] = fraction;
        gradient[WW__LOGISTIC_SLOPE] = by_z * (u - p[WW__LOGISTIC_MIDDLE]);
        gradient[WW__LOGISTIC_MIDDLE] = -by_z * steep;
        gradient[WW__LOGISTIC_ASYMMETRY] = range * fraction * log_fraction;
    }
    return p[0] + range * fraction;
}

static double toe_line(const ww_shape *shape, double u, double *slope, double gradient[]) {
    const double *p = shape->parameter;
    const double gamma = p[WW__LINE_GAMMA], softness = p[WW__LINE_TOE_SOFTNESS];
    const double z = (u - p[WW__LINE_TOE]) / softness;
    double bend;
    const double rise = softplus(z, &bend);

    if (slope)
        *slope = gamma * bend;
    if (gradient) {
        gradient[0] = 1.0;
        gradient[WW__LINE_GAMMA] = softness * rise;
        gradient[WW__LINE_TOE] = -gamma * bend;
        gradient[WW__LINE_TOE_SOFTNESS] = gamma * (rise - bend * z);
    }
    return p[0] + gamma * softness * rise;
}

/*
 * With v = a softplus((u - x_t) / a) the shoulder turns v into
 *   b [ln(1 + e^(-L/b)) - ln(e^(-v/b) + e^(-L/b))],
 * whose slope by v is 1 / (1 + e^((v - L)/b)). With w = (v - L)/b the second logarithm is
 * -v/b + softplus(w) = -L/b + softplus(-w): the first form where w < 0, the second above, so that
 * nothing overflows and nothing cancels at either end. For v below b all of it is small beside b:
 *   v - b ln(1 + (e^(v/b) - 1) / (1 + e^(L/b))).
 */
static double toe_line_shoulder(const ww_shape *shape, double u, double *slope, double gradient[]) {
    const double *p = shape->parameter;
    const double gamma = p[WW__LINE_GAMMA], a = p[WW__LINE_TOE_SOFTNESS];
    const double length = p[WW__LINE_LENGTH], b = p[WW__LINE_SHOULDER_SOFTNESS];
    const double z = (u - p[WW__LINE_TOE]) / a;
    double bend, start_bend, end_bend;
    const double rise = softplus(z, &bend);
    const double v = a * rise, w = (v - length) / b;
    const double start = softplus(-length / b, &start_bend), end = softplus(-fabs(w), &end_bend);
    const double by_v = w > 0.0 ? end_bend : 1.0 - end_bend;
    const double shouldered =
        v < b ? v - b * log1p(start_bend * expm1(v / b)) : fmin(v, length) + b * (start - end);

    if (slope)
        *slope = gamma * by_v * bend;
    if (gradient) {
        gradient[0] = 1.0;
        gradient[WW__LINE_GAMMA] = shouldered;
        gradient[WW__LINE_TOE] = -gamma * by_v * bend;
        gradient[WW__LINE_TOE_SOFTNESS] = gamma * by_v * (rise - bend * z);
        gradient[WW__LINE_LENGTH] = gamma * (1.0 - by_v - start_bend);
        gradient[WW__LINE_SHOULDER_SOFTNESS] =
            gamma * (start - end + start_bend * length / b - end_bend * fabs(w));
    }
    return p[0] + gamma * shouldered;
}

static double spline(const ww_shape *shape, double u, double *slope, double gradient[]) {
    const size_t n = shape->n - 1;
    if (gradient) {
        gradient[0] = 1.0;
        ww__spline_rise(shape->knot_low, shape->knot_high, n, u, gradient + 1, NULL);
    }
    return shape->parameter[0] + ww__spline_sum(shape->knot_low, shape->knot_high,
                                                shape->parameter + 1, n, u, slope);
}

/* The table: one row a model. `positive` has a bit for each parameter that must be > 0. */
static const struct model_row {
    const char *name;
    const char *brief;
    model_function function;
    size_t n; /* 0: as many as the shape says */
    const char *parameter[WW__LINE_COUNT];
    unsigned positive;
} models[WW_MODEL_COUNT] = {
    [WW_MODEL_LOGISTIC] = {"logistic",
                           "five-parameter logistic: toe and shoulder of one sigmoid, asymmetric",
                           logistic,
                           WW__LOGISTIC_COUNT,
                           {"base_fog", "range", "slope", "middle", "asymmetry"},
                           1u << WW__LOGISTIC_RANGE | 1u << WW__LOGISTIC_SLOPE |
                               1u << WW__LOGISTIC_ASYMMETRY},
    [WW_MODEL_TOE_LINE_SHOULDER] = {"toe-line-shoulder",
                                    "toe, straight line and shoulder, each with its own softness",
                                    toe_line_shoulder,
                                    WW__LINE_COUNT,
                                    {"base_fog", "gamma", "toe_position", "toe_softness",
                                     "straight_length", "shoulder_softness"},
                                    1u << WW__LINE_GAMMA | 1u << WW__LINE_TOE_SOFTNESS |
                                        1u << WW__LINE_LENGTH | 1u << WW__LINE_SHOULDER_SOFTNESS},
    [WW_MODEL_TOE_LINE] = {"toe-line",
                           "toe and straight line, for readings that reach no shoulder",
                           toe_line,
                           WW__TOE_LINE_COUNT,
                           {"base_fog", "gamma", "toe_position", "toe_softness"},
                           1u << WW__LINE_GAMMA | 1u << WW__LINE_TOE_SOFTNESS},
    [WW_MODEL_SPLINE] = {"spline",
                         "monotone penalised spline, for shapes that the others do not follow",
                         spline,
                         0,
                         {"base_fog"},
                         0},
};

const char *ww_model_name(ww_model_kind model) {
    assert(model < WW_MODEL_COUNT);
    return models[model].name;
}

const char *ww_model_brief(ww_model_kind model) {
    assert(model < WW_MODEL_COUNT);
    return models[model].brief;
}

ww_status ww_model_find(const char *name, ww_model_kind *model, ww_error *err) {
    assert(name && model);
    for (size_t i = 0; i < WW_MODEL_COUNT; i++) {
        if (strcmp(name, models[i].name) == 0) {
            *model = (ww_model_kind)i;
            return WW_OK;
        }
    }
    return ww_error_set(err, WW_EDOMAIN, "'%s' is not a curve model; choose one of %s, %s, %s, %s",
                        name, models[0].name, models[1].name, models[2].name, models[3].name);
}

const char *ww_model_parameter_name(const ww_shape *shape, size_t i, char text[32]) {
    assert(shape && i < shape->n && text);
    if (shape->model == WW_MODEL_SPLINE && i > 0)
        snprintf(text, 32, "rise_%zu", i);
    else
        snprintf(text, 32, "%s", models[shape->model].parameter[i]);
    return text;
}

double ww_model_density(const ww_shape *shape, double log_h, double *slope) {
    assert(shape && shape->model < WW_MODEL_COUNT);
    const double u = shape->falling ? -log_h : log_h;
    const double density = models[shape->model].function(shape, u, slope, NULL);
    if (slope && shape->falling)
        *slope = -*slope;
    return density;
}

void ww__model_gradient(const ww_shape *shape, double log_h,
                        double gradient[WW_MODEL_PARAMETERS_MAX]) {
    assert(shape && shape->model < WW_MODEL_COUNT && gradient);
    (void)models[shape->model].function(shape, shape->falling ? -log_h : log_h, NULL, gradient);
}

bool ww__model_positive(const ww_shape *shape, size_t i) {
    if (shape->model == WW_MODEL_SPLINE)
        return i > 0;
    return (models[shape->model].positive >> i & 1u) != 0;
}

static bool count_is_right(const ww_shape *shape) {
    if (shape->model != WW_MODEL_SPLINE)
        return shape->n == models[shape->model].n;
    return shape->n > WW__SPLINE_ORDER && shape->n <= WW_MODEL_PARAMETERS_MAX &&
           isfinite(shape->knot_low) && isfinite(shape->knot_high) &&
           shape->knot_low < shape->knot_high;
}

bool ww__model_valid(const ww_shape *shape) {
    if (shape->model >= WW_MODEL_COUNT || !count_is_right(shape))
        return false;
    for (size_t i = 0; i < shape->n; i++) {
        if (!isfinite(shape->parameter[i]))
            return false;
        if (ww__model_positive(shape, i) && !(shape->parameter[i] > 0.0))
            return false;
    }
    return true;
}

bool ww__model_limit(const ww_shape *shape, bool dense_end, double *density) {
    const double *p = shape->parameter;
    if (!dense_end) {
        *density = p[0];
        return true;
    }
    switch (shape->model) {
    case WW_MODEL_LOGISTIC:
        *density = p[0] + p[WW__LOGISTIC_RANGE];
        return true;
    case WW_MODEL_TOE_LINE_SHOULDER: {
        const double length = p[WW__LINE_LENGTH], b = p[WW__LINE_SHOULDER_SOFTNESS];
        double unused;
        *density = p[0] + p[WW__LINE_GAMMA] * (length + b * softplus(-length / b, &unused));
        return true;
    }
    case WW_MODEL_SPLINE: /* four knot intervals out, every spline has risen to 1 */
        *density = spline(shape, 5.0 * shape->knot_high - 4.0 * shape->knot_low, NULL, NULL);
        return true;
    case WW_MODEL_TOE_LINE:
    case WW_MODEL_COUNT:
        break;
    }
    return false;
}

/* Smaller and larger of the two ends' densities decide reachability; then bisection with Newton. */
ww_status ww_model_log_h(const ww_shape *shape, double density, double low, double high,
                         double *log_h, ww_error *err) {
    assert(shape && log_h && low < high);
    double a = low, b = high;
    const double at_low = ww_model_density(shape, low, NULL) - density;
    const double at_high = ww_model_density(shape, high, NULL) - density;
    if (!(at_low * at_high <= 0.0))
        return ww_error_set(err, WW_ENODATA,
                            "the curve runs from %.3f to %.3f D there and never reaches %.3f D",
                            at_low + density, at_high + density, density);
    const double rising = at_high >= at_low ? 1.0 : -1.0;
    double x = 0.5 * (a + b);
    for (int i = 0; i < 200; i++) {
        double slope;
        const double miss = ww_model_density(shape, x, &slope) - density;
        if (rising * miss > 0.0)
            b = x;
        else
            a = x;
        if (fabs(miss) <= 1e-12 || b - a <= 1e-15 * fmax(1.0, fabs(x)))
            break;
        const double step = x - miss / slope;
        x = step > a && step < b ? step : 0.5 * (a + b);
    }
    *log_h = x;
    return WW_OK;
}
