/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/lsq.h"
#include "fault/inject.h"
#include "refs/nist_nonlinear.h"
#include <math.h>
#include <string.h>
#include <wedgework/start.h>

/* Source: definition (the Status lines of the header); data of NIST StRD, BoxBOD. */

/* Seen with GSL 2.7: the most that one failing constructor leaves behind. */
enum { GSL_LOSES = 60 };

static const nist_set *set;

/* y = b1 (1 - e^(-b2 x)) */
static bool residual(const void *self, const double b[], double f[]) {
    (void)self;
    for (size_t i = 0; i < set->n; i++)
        f[i] = b[0] * (1.0 - exp(-b[1] * set->data[2 * i + 1])) - set->data[2 * i];
    return true;
}

static bool jacobian(const void *self, const double b[], double j[]) {
    (void)self;
    for (size_t i = 0; i < set->n; i++) {
        const double x = set->data[2 * i + 1], e = exp(-b[1] * x);
        j[2 * i] = 1.0 - e;
        j[2 * i + 1] = b[0] * x * e;
    }
    return true;
}

/* From the first start point both settings run, so every workspace is asked for. */
static ww_status fit(void *context, ww_error *err) {
    (void)context;
    const ww__lsq_problem problem = {
        .n = set->n, .p = set->p, .residual = residual, .jacobian = jacobian};
    ww__lsq *lsq = NULL;
    double b[2] = {set->start[0][0], set->start[0][1]};
    ww_status status = ww__lsq_new(set->n, set->p, &lsq, err);
    if (status == WW_OK)
        status = ww__lsq_solve(lsq, &problem, b, NULL, err);
    if (status == WW_OK) {
        double covariance[4];
        ww__lsq_covariance(lsq, covariance);
        test_close("BoxBOD b2", b[1], set->certified[1], 1e-6);
        test_true("BoxBOD covariance", covariance[3] > 0.0);
    }
    ww__lsq_free(lsq);
    return status;
}

static void no_memory(void **state) {
    (void)state;
    ww_start();
    for (size_t i = 0; i < sizeof nist_sets / sizeof *nist_sets; i++)
        if (strcmp(nist_sets[i].name, "BoxBOD") == 0)
            set = &nist_sets[i];
    assert_non_null(set);
    inject_each_but("ww__lsq", fit, NULL, GSL_LOSES);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_memory)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
