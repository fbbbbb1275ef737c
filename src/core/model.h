/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_MODEL_H
#define WW_CORE_MODEL_H

#include <wedgework/model.h>

/*
 * Positions of the parameters inside ww_shape.parameter. Base+fog is parameter 0 of every model.
 * Logistic:            D = p0 + p1 / (1 + e^(-p2 (x - p3)))^p4
 * Toe-line(-shoulder): p0 base+fog, p1 gamma, p2 toe position, p3 toe softness,
 *                      p4 length of the straight part, p5 shoulder softness
 * Spline:              p0 base+fog, p1... the rises
 */
enum {
    WW__LOGISTIC_RANGE = 1,
    WW__LOGISTIC_SLOPE,
    WW__LOGISTIC_MIDDLE,
    WW__LOGISTIC_ASYMMETRY,
    WW__LOGISTIC_COUNT
};
enum {
    WW__LINE_GAMMA = 1,
    WW__LINE_TOE,
    WW__LINE_TOE_SOFTNESS,
    WW__LINE_LENGTH,
    WW__LINE_SHOULDER_SOFTNESS,
    WW__LINE_COUNT,
    WW__TOE_LINE_COUNT = WW__LINE_LENGTH
};

/*
 * ww__model_gradient - dD/dparameter i for i < shape->n.
 * ww__model_positive - whether parameter i must be > 0 (a fit then works in its logarithm).
 */
void ww__model_gradient(const ww_shape *shape, double log_h,
                        double gradient[WW_MODEL_PARAMETERS_MAX]);
bool ww__model_positive(const ww_shape *shape, size_t i);

/* ww__model_valid - whether the parameters lie where the model is strictly rising. */
bool ww__model_valid(const ww_shape *shape);

/* ww__model_limit - density that the shape tends to at either end; false where it grows
 *                   for ever. */
bool ww__model_limit(const ww_shape *shape, bool dense_end, double *density);

#endif
