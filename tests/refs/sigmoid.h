/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_TESTS_SIGMOID_H
#define WW_TESTS_SIGMOID_H

#include "support/support.h"
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/*
 * Dose-response fits by other programs: response = c + (d - c) / (1 + e^(b (ln dose - ln e)))^f.
 * The data are read from the folder sigmoid/ of the outside data.
 *
 * R        R 4.2.2 nls, run on the same data (R_nls_reference.txt beside them).
 * drc      published estimates of the R package drc (Ritz et al., PLoS ONE 10, 2015), as quoted
 *          beside the data. Its standard errors come from the observed Hessian: none given here.
 * gnuplot  gnuplot 5.4 `fit`, run on the same data. Its derivatives are differences, so that it
 *          stops about 1/1000 of a standard error away from the minimum.
 */
enum { SIGMOID_PARAMETERS = 5 };

typedef struct sigmoid_row {
    const char *name;
    const char *source;
    const char *file;
    const char *only;                    /* lines that hold this text, or NULL for all */
    size_t dose, response;               /* columns, from 0 */
    bool asymmetric;                     /* f is fitted, else 1 */
    double start[SIGMOID_PARAMETERS];    /* b, c, d, ln e, f */
    double estimate[SIGMOID_PARAMETERS]; /* b, c, d, e, f */
    double se[SIGMOID_PARAMETERS];       /* 0: not stated */
    double rss;                          /* 0: not stated */
    double tolerance;    /* of an estimate, in its error where stated, else relative */
    double se_tolerance; /* relative */
} sigmoid_row;

/* clang-format off */
static const sigmoid_row sigmoid_rows[] = {
    {"ryegrass, 4 parameters", "R; e = exp(1.1177464355), its error e times that of ln e",
     "sigmoid/ryegrass.csv", NULL, 1, 0, false,
     {2.0, 0.1, 8.0, 1.5, 1.0},
     {2.9822287846, 0.4814099839, 7.7929623219, 3.0579551333, 1.0},
     {0.45842884546, 0.20950603665, 0.18973326019, 0.18582889314, 0.0},
     5.400214628, 1e-5, 2e-6},
    {"ryegrass, 4 parameters, published", "drc",
     "sigmoid/ryegrass.csv", NULL, 1, 0, false,
     {5.0, 0.3, 9.0, 0.5, 1.0},
     {2.98222, 0.48141, 7.79296, 3.05795, 1.0},
     {0.0}, 0.0, 4e-6, 0.0},
    {"ryegrass, 5 parameters", "R",
     "sigmoid/ryegrass.csv", NULL, 1, 0, true,
     {2.0, 0.1, 8.0, 1.5, 1.0},
     {3.9301288001, 0.3214548452, 7.7605123725, 2.2147558742, 0.4679419559},
     {2.1533393201, 0.3649597140, 0.1940772498, 0.8770649043, 0.5092978521},
     5.277047271, 1e-5, 1e-4},
    {"ryegrass, 5 parameters, published", "drc, which stopped within 0.1 % of the minimum",
     "sigmoid/ryegrass.csv", NULL, 1, 0, true,
     {2.0, 0.1, 8.0, 1.5, 0.7},
     {3.92870, 0.32165, 7.76054, 2.21539, 0.46831},
     {0.0}, 0.0, 1e-3, 0.0},
    {"secalonic acid", "gnuplot",
     "sigmoid/secalonic.csv", NULL, 0, 1, false,
     {2.0, 0.1, 5.0, -2.0, 1.0},
     {2.654426783, 0.09182145226, 5.529699681, 0.08035595678, 1.0},
     {0.67931314, 0.40471161, 0.18941867, 0.0085285389, 0.0},
     0.262403626349, 2e-3, 5e-3},
    {"white mustard, glyphosate", "gnuplot",
     "sigmoid/s_alba.csv", "Glyphosate", 0, 2, false,
     {2.0, 0.3, 4.0, 4.5, 1.0},
     {2.716155773, 0.8918481099, 3.875879777, 62.04610716, 1.0},
     {0.71595423, 0.20118086, 0.11352382, 7.1484534, 0.0},
     4.53743568638, 2e-3, 5e-3},
    {"white mustard, bentazone", "gnuplot",
     "sigmoid/s_alba.csv", "Bentazone", 0, 2, false,
     {2.0, 0.3, 4.0, 4.5, 1.0},
     {5.125435616, 0.6817578987, 3.806287773, 29.26444527, 1.0},
     {1.019437, 0.08787433, 0.10182539, 2.0726438, 0.0},
     3.81049824338, 2e-3, 5e-3},
};
/* clang-format on */

enum { DOSES_MAX = 80 };
typedef struct doses {
    const sigmoid_row *row;
    size_t n;
    double log_dose[DOSES_MAX], response[DOSES_MAX];
} doses;

static double field(const char *line, size_t column) {
    for (; column > 0 && line; column--) {
        line = strchr(line, ',');
        line += line != NULL;
    }
    return line ? strtod(line, NULL) : (double)NAN;
}

/* A dose of zero lies at the very end of the curve. */
static void read_doses(char *text, doses *d) {
    strtok(text, "\n"); /* the column names */
    for (char *line = strtok(NULL, "\n"); line; line = strtok(NULL, "\n")) {
        if (d->row->only && !strstr(line, d->row->only))
            continue;
        assert_true(d->n < DOSES_MAX);
        const double dose = field(line, d->row->dose);
        d->log_dose[d->n] = dose > 0.0 ? log(dose) : -1e6;
        d->response[d->n++] = field(line, d->row->response);
    }
}

#endif
