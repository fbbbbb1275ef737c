/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/real_paper.h"
#include "support/support.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/fit.h>

bool real_paper_read(const char *name, const char *channel, real_paper *p) {
    char *path = test_data(name);
    FILE *in = path ? fopen(path, "r") : NULL;
    char line[128], of[8];
    free(path);
    if (!in)
        return false;
    p->n = 0;
    while (fgets(line, sizeof line, in) && p->n < REAL_PAPER_MOST)
        if (sscanf(line, "%7[a-z],%lf,%lf", of, &p->log_h[p->n], &p->density[p->n]) == 3 &&
            strcmp(of, channel) == 0)
            p->n++;
    fclose(in);
    return p->n > 4;
}

void real_paper_fit(const real_paper *p, ww_curve *curve) {
    static char label[REAL_PAPER_MOST + 1][4], none[] = "";
    const ww_fit_options options = {.resamples = 0, .seed = 1, .threads = 1};
    ww_row row[REAL_PAPER_MOST + 1] = {{.step = none}};
    ww_readings readings = {.row = row, .n = p->n + 1, .exposure = WW_EXPOSURE_LOG_H};
    readings.meta.material = WW_MATERIAL_PAPER;
    readings.meta.exposure_unit = WW_UNIT_SECOND;
    readings.has[WW_COLUMN_VISUAL] = true;
    for (size_t i = 0; i <= p->n; i++) {
        snprintf(label[i], sizeof label[i], "%u", (unsigned)i % 100u);
        row[i] = (ww_row){.step = label[i], .tone = none, .pack = none, .is_base = i == 0};
        row[i].exposure = (ww_optional){i > 0, i > 0 ? p->log_h[i - 1] : 0.0};
        row[i].cell[WW_COLUMN_VISUAL] =
            (ww_cell){.state = WW_CELL_VALUE, .value = p->density[i > 0 ? i - 1 : 0], .n = 1};
    }
    assert_int_equal(ww_fit_readings(&readings, &options, curve, NULL), WW_OK);
}

double real_paper_density(const real_paper *p, double log_h) {
    size_t i = 1;
    while (i + 1 < p->n && p->log_h[i] < log_h)
        i++;
    return p->density[i - 1] + (p->density[i] - p->density[i - 1]) * (log_h - p->log_h[i - 1]) /
                                   (p->log_h[i] - p->log_h[i - 1]);
}
