/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_OUT_PLOT_DATA_H
#define WEDGEWORK_TESTS_OUT_PLOT_DATA_H

#include "results.h"

/* Reads back what was made for gnuplot. */

/* The number of "name = number". */
static inline double number_of(const char *script, const char *name) {
    char line[64];
    const char *at;
    snprintf(line, sizeof line, "\n%s = ", name);
    if (strncmp(script, line + 1, strlen(line + 1)) == 0)
        return strtod(script + strlen(line + 1), NULL);
    at = strstr(script, line);
    if (!at)
        fail_msg("'%s' is not set in:\n%s", name, script);
    return at ? strtod(at + strlen(line), NULL) : 0.0;
}

enum { ROWS_MAX = 2000, COLUMNS_MAX = 6 };

typedef struct rows {
    size_t n;
    double cell[ROWS_MAX][COLUMNS_MAX];
} rows;

/* The rows of a table whose first column is `key`; all of them where key is negative. */
static inline void rows_of(const char *script, const char *table, double key, rows *found) {
    char line[64];
    const char *at;
    found->n = 0;
    snprintf(line, sizeof line, "$%s << END_OF_TABLE\n", table);
    at = strstr(script, line);
    if (!at)
        fail_msg("there is no table '%s' in:\n%s", table, script);
    for (at += strlen(line); strncmp(at, "END_OF_TABLE", 12) != 0; at += strcspn(at, "\n") + 1) {
        double *cell = found->cell[found->n];
        if (*at == '\n')
            continue;
        assert_true(found->n + 1 < ROWS_MAX);
        assert_true(sscanf(at, "%lf %lf %lf %lf %lf %lf", &cell[0], &cell[1], &cell[2], &cell[3],
                           &cell[4], &cell[5]) >= 2);
        if (key < 0 || cell[0] == key)
            found->n++;
    }
}

#endif
