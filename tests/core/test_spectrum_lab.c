/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <wedgework/spectrum.h>

enum { MOST = 64 };

typedef double formula(double nm);

static double perfect(double nm) {
    (void)nm;
    return 1.0;
}

static double half(double nm) {
    (void)nm;
    return 0.184187; /* Y of L* 50 */
}

/* A brownish dye on paper, smooth. */
static double brown(double nm) {
    return 0.83 * pow(10.0, -1.37 * exp(-pow((nm - 441.0) / 93.0, 2.0)) -
                                0.41 * exp(-pow((nm - 557.0) / 61.0, 2.0)));
}

static ww_status lab_of(formula *of, double from, double to, double step, ww_lab *lab,
                        ww_error *err) {
    ww_spectral_point point[MOST];
    size_t n = 0;
    for (double nm = from; nm <= to + 1e-9 && n < MOST; nm += step)
        point[n++] = (ww_spectral_point){nm, of(nm)};
    const ww_spectrum spectrum = {point, n, 0.0};
    return ww_spectrum_lab(&spectrum, lab, err);
}

/* Source: definition; a grey has no colour, whatever part of it was measured. */
static void greys(void **state) {
    (void)state;
    ww_lab lab;
    ww_error err = WW_ERROR_INIT;
    test_status("white", lab_of(perfect, 380, 730, 10, &lab, &err), WW_OK, &err);
    test_close("white", lab.l, 100.0, 1e-9);
    test_close("white", hypot(lab.a, lab.b), 0.0, 1e-9);
    test_status("grey", lab_of(half, 400, 700, 5, &lab, &err), WW_OK, &err);
    test_close("L* 50", lab.l, 50.0, 1e-4);
    test_close("grey", hypot(lab.a, lab.b), 0.0, 1e-9);
}

/* One column of CIE's tables at whole nanometres, straight lines between its rows; NULL: skip. */
static double *table_of(const char *name, size_t column) {
    char *path = test_data(name), line[200];
    FILE *file = path ? fopen(path, "r") : NULL;
    double *made = calloc(831, sizeof *made), before = 0.0;
    int at = 0;
    free(path);
    if (!file) {
        free(made);
        return NULL;
    }
    while (fgets(line, sizeof line, file)) {
        char *next;
        const int nm = (int)strtol(line, &next, 10);
        double value = 0.0;
        for (size_t k = 0; k < column && *next == ','; k++)
            value = strtod(next + 1, &next);
        if (nm < 300 || nm > 830)
            continue;
        for (int i = at > 0 ? at + 1 : nm; i <= nm; i++)
            made[i] = at > 0 ? before + (value - before) * (i - at) / (nm - at) : value;
        at = nm;
        before = value;
    }
    fclose(file);
    return made;
}

/* Source: sums at 1 nm over CIE's observer and D50 (shared data), L*a*b* by CIE 15 here. */
static void sums_at_1_nm(void **state) {
    (void)state;
    double *d50 = table_of("spectral/cie_iso/illuminant_D50.csv", 1), seen[3] = {0}, f[3];
    ww_error err = WW_ERROR_INIT;
    if (!d50)
        skip();
    for (size_t axis = 0; axis < 3; axis++) {
        double *observer = table_of("spectral/cie_iso/cie1931_2deg_1nm.csv", axis + 1), white = 0.0;
        assert_non_null(observer);
        for (int nm = 360; nm <= 780; nm++) {
            seen[axis] += d50[nm] * observer[nm] * brown(nm);
            white += d50[nm] * observer[nm];
        }
        f[axis] = cbrt(seen[axis] / white);
        free(observer);
    }
    static const struct {
        double from, to, step, within;
    } rows[] = {
        {360, 780, 10, 0.005}, {355, 785, 10, 0.01}, {360, 780, 7, 0.01}, {380, 730, 10, 0.02}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_lab lab = {0.0, 0.0, 0.0};
        test_status("brown", lab_of(brown, rows[i].from, rows[i].to, rows[i].step, &lab, &err),
                    WW_OK, &err);
        test_close("L*", lab.l, 116.0 * f[1] - 16.0, rows[i].within);
        test_close("a*", lab.a, 500.0 * (f[0] - f[1]), rows[i].within);
        test_close("b*", lab.b, 200.0 * (f[1] - f[2]), rows[i].within);
    }
    free(d50);
}

static void refuses(void **state) {
    (void)state;
    static const struct {
        double from, to, step;
        ww_status status;
        const char *words;
    } rows[] = {{380, 730, 20, WW_ENODATA, "380 and 400 nm are more than 10 nm apart"},
                {380, 730, 25, WW_EDOMAIN, "more than 20 nm apart"},
                {430, 730, 10, WW_ENODATA, "of the observer lies outside 430 to 730 nm"},
                {380, 620, 10, WW_ENODATA, "of X of the observer lies outside"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_lab lab = {.l = -1.0};
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].words,
                    lab_of(brown, rows[i].from, rows[i].to, rows[i].step, &lab, &err),
                    rows[i].status, &err);
        test_holds(rows[i].words, err.msg, rows[i].words);
        test_close("untouched", lab.l, -1.0, 0.0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(greys), cmocka_unit_test(sums_at_1_nm),
                                       cmocka_unit_test(refuses)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
