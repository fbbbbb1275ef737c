/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/index.h"
#include "core/model.h"
#include "support/support.h"

#include <math.h>

#define TOE_LINE(gamma, toe, softness)                                                             \
    {                                                                                              \
        .model = WW_MODEL_TOE_LINE, .n = WW__TOE_LINE_COUNT, .parameter = {                        \
            0.25,                                                                                  \
            gamma,                                                                                 \
            toe,                                                                                   \
            softness                                                                               \
        }                                                                                          \
    }

typedef struct row {
    const char *name, *source;
    ww_shape shape;
    double low, high, base_fog, start;
    ww__reach reach;
    double slope, tolerance;
} row;

#define APART "three-point rule on a softplus, solved apart by bracketing"

static const row rows[] = {
    {"curve A", APART, TOE_LINE(0.7, -2.0, 1 / 2.8), -4, 1, 0.25, -2.25, WW__REACH_FOUND, 0.538500,
     6e-7},
    {"curve A, poor start", APART, TOE_LINE(0.7, -2.0, 1 / 2.8), -4, 1, 0.25, -3.99,
     WW__REACH_FOUND, 0.538500, 6e-7},
    {"curve A, start outside", APART, TOE_LINE(0.7, -2.0, 1 / 2.8), -4, 1, 0.25, 17.0,
     WW__REACH_FOUND, 0.538500, 6e-7},
    {"curve B", APART, TOE_LINE(0.184483 * 4, -2.014623, 0.25), -4, 1, 0.25, -2.1, WW__REACH_FOUND,
     0.649266, 6e-7},
    {"line 0.62", "closed form: its own slope", TOE_LINE(0.62, -2.3, 1e-7), -4, 1, 0.25, -2.1,
     WW__REACH_FOUND, 0.62, 1e-6},
    {"line 0.11", "closed form", TOE_LINE(0.11, -2.3, 1e-7), -4, 1, 0.25, -2.1, WW__REACH_FOUND,
     0.11, 1e-6},
    {"line 3.7", "closed form", TOE_LINE(3.7, -2.3, 1e-7), -4, 1, 0.25, -2.28, WW__REACH_FOUND, 3.7,
     1e-5},
    {"near arc missed", "definition", TOE_LINE(0.7, -2.0, 1 / 2.8), -2.27, 1, 0.25, -2.1,
     WW__REACH_BEFORE, 0, 0},
    {"all denser than the near arc", "definition", TOE_LINE(0.7, -2.0, 1 / 2.8), -1.0, 1, 0.25, 0,
     WW__REACH_BEFORE, 0, 0},
    {"far arc missed", "definition", TOE_LINE(0.7, -2.0, 1 / 2.8), -4, -0.516, 0.25, -2.25,
     WW__REACH_BEYOND, 0, 0},
    {"never as dense as the near arc", "definition", TOE_LINE(0.7, -2.0, 1 / 2.8), -4, -2.2, 0.25,
     -2.25, WW__REACH_BEYOND, 0, 0},
    {"base given above all toe readings", "definition: no toe below it is needed",
     TOE_LINE(0.7, -2.0, 1 / 2.8), -4, 1, 0.29, -2.2, WW__REACH_FOUND, -1, 0},
};

/* Whatever the curve: both points lie on it, on their arcs, and on one line through the centre. */
static void on_the_arcs(const row *r, const ww__trace *trace, const ww__index *index) {
    const double near = ww__trace_at(trace, index->near).density - r->base_fog;
    const double far = ww__trace_at(trace, index->far).density - r->base_fog;
    test_close(r->name, hypot(index->near - index->centre, near), 0.2, 1e-9);
    test_close(r->name, hypot(index->far - index->centre, far), 2.2, 1e-9);
    test_close(r->name, near / (index->near - index->centre), index->slope, 1e-7);
    test_close(r->name, far / (index->far - index->centre), index->slope, 1e-8);
}

static void each_row(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const row *const r = &rows[i];
        ww__trace trace;
        ww__index index = {.slope = 2.731};
        ww__trace_start(&trace, &r->shape, r->low, r->high);
        test_true(r->name, ww__index_find(&trace, r->base_fog, r->start, &index) == r->reach);
        if (r->reach != WW__REACH_FOUND) {
            test_close(r->name, index.slope, 2.731, 0.0);
            continue;
        }
        if (r->slope > 0.0)
            test_close(r->name, index.slope, r->slope, r->tolerance);
        on_the_arcs(r, &trace, &index);
    }
}

/* Curves with shoulders, of many gammas, either end of the axis: the geometry holds on all. */
static void geometry_of_many(void **state) {
    (void)state;
    for (int i = 0; i < 60; i++) {
        row r = {.name = "shouldered", .base_fog = 0.17};
        r.shape = (ww_shape){.model = WW_MODEL_TOE_LINE_SHOULDER,
                             .n = WW__LINE_COUNT,
                             .falling = i % 2 == 1,
                             .parameter = {0.17, 0.3 + 0.031 * i, -1.9, 0.05 + 0.013 * (i % 17),
                                           1.3 + 0.07 * (i % 13), 0.05 + 0.023 * (i % 11)}};
        ww__trace trace;
        ww__index index;
        const bool mirrored = r.shape.falling;
        ww__trace_start(&trace, &r.shape, mirrored ? -1.5 : -4.3, mirrored ? 4.3 : 1.5);
        test_true(r.name, ww__index_find(&trace, r.base_fog, -1.9, &index) == WW__REACH_FOUND);
        on_the_arcs(&r, &trace, &index);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row),
        cmocka_unit_test(geometry_of_many),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
