/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/split_case.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>

const split_paper split_papers[SPLIT_PAPERS] = {
    {{1.0 / 10, 1.0 / 45}, {1.0 / 12, 1.0 / 12}, {1.0, 1.05}, {0.085, 0.085}},
    {{1.0 / 10, 1.0 / 80}, {1.0 / 12, 1.0 / 12}, {1.0, 1.05}, {0.085, 0.085}},
    {{1.0 / 10, 1.0 / 45}, {1.0 / 5, 1.0 / 5}, {1.0, 1.05}, {0.085, 0.085}},
    {{1.0 / 10, 1.0 / 45}, {1.0 / 30, 1.0 / 30}, {1.0, 1.05}, {0.085, 0.085}},
};

static char empty[] = "", base[] = "base", name[] = "invented";

double split_net(const split_paper *paper, double soft_s, double hard_s) {
    double net = 0.0;
    for (int k = 0; k < 2; k++) {
        const double log_h = log10(paper->soft[k] * soft_s + paper->hard[k] * hard_s);
        net += paper->range[k] / (1.0 + exp(-log_h / paper->width[k]));
    }
    return net;
}

double split_log_h(const split_paper *paper, double soft, double net) {
    double low = -6.0, high = 6.0;
    for (int i = 0; i < 80; i++) {
        const double middle = 0.5 * (low + high), seconds = pow(10.0, middle);
        if (split_net(paper, soft * seconds, (1.0 - soft) * seconds) < net)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

static ww_row *add_row(split_case *c, char *step, double density) {
    ww_row *row = &c->row[c->table.n++];
    assert(c->table.n <= sizeof c->row / sizeof c->row[0]);
    *row = (ww_row){.step = step, .tone = empty, .pack = empty};
    row->cell[WW_COLUMN_VISUAL] =
        (ww_cell){.state = WW_CELL_VALUE, .value = 0.01 * floor(100.0 * density + 0.5), .n = 1};
    return row;
}

void split_case_add(split_case *c, double soft, double seconds, dice *d, double sd) {
    for (int i = 0; i < SPLIT_STEPS; i++) {
        const double wedge = 0.05 + 0.1 * i, off = d ? dice_normal(d, 0.004) : 0.0;
        const double light = seconds * pow(10.0, -wedge - off);
        const double net = split_net(c->paper, soft * light, (1.0 - soft) * light);
        ww_row *row = add_row(c, c->step[i + 1], 0.06 + net + (d ? dice_normal(d, sd) : 0.0));
        row->exposure = (ww_optional){true, wedge};
        row->cell[WW_COLUMN_SOFT] =
            (ww_cell){.state = WW_CELL_VALUE, .value = soft * seconds, .n = 1};
        row->cell[WW_COLUMN_HARD] =
            (ww_cell){.state = WW_CELL_VALUE, .value = (1.0 - soft) * seconds, .n = 1};
    }
}

void split_case_start(split_case *c, const split_paper *paper, double seconds) {
    *c = (split_case){.paper = paper, .table = {.exposure = WW_EXPOSURE_WEDGE}};
    for (int i = 0; i <= SPLIT_STEPS; i++)
        snprintf(c->step[i], sizeof c->step[i], "%u", (unsigned)i % 100U);
    c->table.row = c->row;
    c->table.meta.name = name;
    c->table.meta.material = WW_MATERIAL_PAPER;
    c->table.meta.density = WW_DENSITY_REFLECTION;
    c->table.meta.wedge = WW_WEDGE_CERTIFIED;
    c->table.has[WW_COLUMN_VISUAL] = c->table.has[WW_COLUMN_SOFT] = true;
    c->table.has[WW_COLUMN_HARD] = true;
    add_row(c, base, 0.06)->is_base = true;
    for (int i = 4; seconds > 0.0 && i >= 0; i--)
        split_case_add(c, 0.25 * i, seconds, NULL, 0.0);
    print_case_start(&c->print);
    c->print.request.split = &c->table;
}
