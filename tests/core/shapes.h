/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_TESTS_SHAPES_H
#define WW_TESTS_SHAPES_H

#include <wedgework/model.h>

/* Every model with awkward (invented) numbers, rising and falling. */
typedef struct named_shape {
    const char *name;
    double low, high; /* of log H, where the curve bends */
    ww_shape shape;
} named_shape;

static const named_shape shapes[] = {
    {"logistic",
     -4.1,
     0.9,
     {WW_MODEL_LOGISTIC, false, 5, {0.217, 2.731, 1.87, -1.33, 0.437}, 0, 0}},
    {"logistic, long toe",
     -0.2,
     2.0,
     {WW_MODEL_LOGISTIC, false, 5, {0.05, 2.013, 5.79, 0.31, 7.77}, 0, 0}},
    {"logistic, falling",
     -2.2,
     1.7,
     {WW_MODEL_LOGISTIC, true, 5, {0.117, 3.19, 2.31, 0.413, 1.719}, 0, 0}},
    {"toe-line-shoulder",
     -3.9,
     1.1,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.25, 0.613, -2.31, 0.271, 2.313, 0.117}, 0, 0}},
    {"toe-line-shoulder, all soft",
     -3.0,
     3.0,
     {WW_MODEL_TOE_LINE_SHOULDER, false, 6, {0.031, 2.91, 0.117, 1.731, 0.213, 2.37}, 0, 0}},
    {"toe-line-shoulder, falling",
     -1.3,
     2.9,
     {WW_MODEL_TOE_LINE_SHOULDER, true, 6, {0.19, 1.913, -1.07, 0.137, 1.271, 0.319}, 0, 0}},
    {"toe-line", -4.0, 0.5, {WW_MODEL_TOE_LINE, false, 4, {0.25, 0.7, -2.0, 0.3571}, 0, 0}},
    {"toe-line, falling",
     -0.5,
     4.0,
     {WW_MODEL_TOE_LINE, true, 4, {0.07, 1.37, -1.9, 0.0713}, 0, 0}},
    {"spline",
     -3.3,
     0.4,
     {WW_MODEL_SPLINE,
      false,
      9,
      {0.213, 0.000669, 0.1451, 0.4185, 0.5417, 0.2541, 0.7334, 0.0545, 1.24e-5},
      -3.07,
      0.13}},
    {"spline, falling",
     -0.2,
     3.2,
     {WW_MODEL_SPLINE, true, 6, {0.09, 0.4916, 0.2725, 1.1241, 0.3942, 0.6617}, -2.731, 0.031}},
};

enum { POSITIONS = 61 };
static double position(const named_shape *s, int k) {
    return s->low + (s->high - s->low) * (k + 0.317) / POSITIONS;
}

#endif
