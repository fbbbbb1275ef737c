/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/colour_paper.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/fit.h>
#include <wedgework/pack.h>

colour_paper colour_paper_typical(void) {
    return (colour_paper){
        .white = {0.09, 0.10, 0.11},
        .most = {2.05, 1.95, 1.85},
        .middle = {0.02, 0.00, -0.03},
        .width = {0.42, 0.40, 0.41},
        .dye = {{1.00, 0.06, 0.02}, {0.14, 1.00, 0.06}, {0.08, 0.20, 1.00}},
        .filter = {{-0.02, -0.07, -0.95}, {-0.08, -0.93, -0.12}, {-0.97, -0.14, -0.06}},
        .time = {1.0, 1.0, 1.0},
        .lamp = {0.70, 0.78, 0.75},
    };
}

/*
 * Source: after integrals over spectra outside the program, rounded, bends set by
 * hand to them: a lamp of 3200 K; layers at 695, 548 and
 * 472 nm, 45 to 70 nm wide; sheets whose dyes peak at 440, 545 and 680 nm at their number, dichroic
 * edges at 505, 495 to 605 and 600 nm; dyes of 60, 32 and 38 nm read in status A; invented shapes.
 */
static const struct {
    double dye[3][3], filter[3][3], bend[3], time[3];
} kinds[COLOUR_PAPER_KINDS] = {
    {{{1, 0.07, 0}, {0.22, 1, 0.13}, {0.14, 0.13, 1}},
     {{0, -0.02, -0.90}, {-0.12, -0.77, -0.31}, {-0.71, -0.26, -0.06}},
     {0.06, 0.06, 0.05},
     {1, 1, 1}},
    {{{1, 0.07, 0}, {0.23, 1, 0.10}, {0.14, 0.17, 1}},
     {{-0.01, -0.05, -0.90}, {-0.16, -0.78, -0.40}, {-0.74, -0.33, -0.10}},
     {0.06, 0.06, 0.05},
     {1, 1, 1}},
    {{{1, 0.07, 0}, {0.22, 1, 0.13}, {0.14, 0.13, 1}},
     {{0, -0.04, -0.68}, {-0.12, -0.51, -0.25}, {-0.52, -0.21, -0.07}},
     {0.04, 0.04, 0.04},
     {1, 1, 1}},
    {{{1, 0.05, 0}, {0.21, 1, 0.13}, {0.11, 0.10, 1}},
     {{-0.01, -0.02, -1.00}, {-0.05, -0.97, -0.08}, {-0.94, -0.32, -0.02}},
     {0.25, 0.15, 0.05},
     {1, 1, 1}},
    {{{1, 0.07, 0}, {0.22, 1, 0.13}, {0.14, 0.13, 1}},
     {{-0.01, -0.05, -0.90}, {-0.17, -0.77, -0.35}, {-0.72, -0.32, -0.10}},
     {0.06, 0.06, 0.05},
     {0.97, 0.94, 0.90}},
};

colour_paper colour_paper_of_kind(unsigned kind, dice *d) {
    colour_paper p = colour_paper_draw(d);
    memcpy(p.dye, kinds[kind].dye, sizeof p.dye);
    memcpy(p.filter, kinds[kind].filter, sizeof p.filter);
    memcpy(p.bend, kinds[kind].bend, sizeof p.bend);
    memcpy(p.time, kinds[kind].time, sizeof p.time);
    return p;
}

colour_paper colour_paper_draw(dice *d) {
    colour_paper p = colour_paper_typical();
    for (int c = 0; c < 3; c++) {
        p.middle[c] += dice_even(d, -0.05, 0.05);
        p.width[c] *= dice_even(d, 0.9, 1.1);
        p.most[c] *= dice_even(d, 0.95, 1.05);
        p.lamp[c] += dice_even(d, -0.1, 0.1);
        for (int k = 0; k < 3; k++) {
            p.dye[c][k] *= c == k ? 1.0 : dice_even(d, 0.3, 1.5);
            p.filter[c][k] *= c == 2 - k ? dice_even(d, 0.9, 1.1) : dice_even(d, 0.3, 1.5);
        }
    }
    return p;
}

static double integral(double x) {
    return 0.5 * erfc(-x / sqrt(2.0));
}

void colour_paper_density(const colour_paper *p, const double log_h[3], double density[3]) {
    double amount[3];
    for (int k = 0; k < 3; k++) {
        const double x = log_h[k] - p->middle[k];
        amount[k] = p->most[k] * (0.65 * integral(x / p->width[k]) +
                                  0.35 * integral((x + 0.15) / (0.8 * p->width[k])));
    }
    for (int c = 0; c < 3; c++) {
        density[c] = p->white[c];
        for (int k = 0; k < 3; k++)
            density[c] += p->dye[c][k] * amount[k];
    }
}

void colour_paper_expose(const colour_paper *p, const double negative[3],
                         const ww_balance_setting *setting, double log_h[3]) {
    for (int c = 0; c < 3; c++) {
        log_h[c] = p->lamp[c] + p->time[c] * (log10(setting->time_s) - 1.0) - negative[c];
        for (int k = 0; k < 3; k++) {
            const double cc = setting->pack.cc[k] / 100.0;
            log_h[c] += p->filter[c][k] * cc * (1.0 - p->bend[k] * cc);
        }
    }
}

void colour_paper_print(const colour_paper *p, const double negative[3],
                        const ww_balance_setting *setting, double density[3]) {
    double log_h[3];
    colour_paper_expose(p, negative, setting, log_h);
    colour_paper_density(p, log_h, density);
}

static void expose(const void *paper, const double negative[3], const ww_balance_setting *setting,
                   double log_h[3]) {
    colour_paper_expose(paper, negative, setting, log_h);
}

static void density_of(const void *paper, const double log_h[3], double density[3]) {
    colour_paper_density(paper, log_h, density);
}

colour_maker colour_paper_maker(const colour_paper *p) {
    return (colour_maker){p, expose, density_of};
}

void colour_maker_print(const colour_maker *m, const double negative[3],
                        const ww_balance_setting *setting, double density[3]) {
    double log_h[3];
    m->expose(m->paper, negative, setting, log_h);
    m->density(m->paper, log_h, density);
}

void colour_paper_fit(const colour_paper *p, dice *d, double sd, ww_curve *curve) {
    const colour_maker maker = colour_paper_maker(p);
    colour_maker_fit(&maker, d, sd, curve);
}

void colour_maker_fit(const colour_maker *m, dice *d, double sd, ww_curve *curve) {
    enum { STEPS = 28 };
    static char label[STEPS + 1][4], none[] = "";
    const ww_fit_options options = {.resamples = 0, .seed = 1, .threads = 1};
    ww_row row[STEPS + 1];
    ww_readings readings = {.row = row, .n = STEPS + 1, .exposure = WW_EXPOSURE_LOG_H};
    readings.meta.material = WW_MATERIAL_PAPER;
    readings.meta.status = WW_STATUS_A;
    readings.meta.exposure_unit = WW_UNIT_RELATIVE;
    for (unsigned i = 0; i <= STEPS; i++) {
        const double at = i == 0 ? -9.0 : -1.35 + 0.1 * (i - 1), log_h[3] = {at, at, at};
        double density[3];
        snprintf(label[i], sizeof label[i], "%u", i % 100u);
        m->density(m->paper, log_h, density);
        row[i] = (ww_row){.step = label[i], .tone = none, .pack = none, .is_base = i == 0};
        row[i].exposure = (ww_optional){i > 0, i > 0 ? at : 0.0};
        for (int c = 0; c < 3; c++) {
            readings.has[c] = true;
            row[i].cell[c] = (ww_cell){.state = WW_CELL_VALUE,
                                       .value = density[c] + (d ? dice_normal(d, sd) : 0.0),
                                       .n = 1};
        }
    }
    assert_int_equal(ww_fit_readings(&readings, &options, curve, NULL), WW_OK);
}

void colour_paper_straight(double slope, ww_curve *curve) {
    *curve = (ww_curve)WW_CURVE_INIT;
    curve->meta.material = WW_MATERIAL_PAPER;
    curve->meta.status = WW_STATUS_A;
    curve->exposure = WW_EXPOSURE_TIME;
    for (int c = 0; c < 3; c++) {
        ww_channel_curve *channel = &curve->channel[c];
        /* A toe so sharp that nothing of it is left 0.05 above it: D = 0.1 + slope (log H + 1). */
        channel->shape =
            (ww_shape){.model = WW_MODEL_TOE_LINE, .n = 4, .parameter = {0.1, slope, -1.0, 0.001}};
        channel->present = channel->fitted = true;
        channel->domain_low = -1.5;
        channel->domain_high = -1.0 + 2.2 / slope;
    }
}

void colour_paper_seen(const double light[3], double change[3]) {
    static const double dye[3][3] = {{1, 0.05, 0}, {0.15, 1, 0.05}, {0.10, 0.20, 1}};
    /* a magenta of 0.805 / 0.98275 leaves 1 - 0.05 of it to cyan, 0.9 - 0.195 of it to yellow */
    const double magenta = 0.805 / 0.98275;
    const double amount[3] = {1.0 - 0.05 * magenta, magenta, 0.9 - 0.195 * magenta};
    for (int c = 0; c < 3; c++) {
        change[c] = 0.0;
        for (int k = 0; k < 3; k++)
            change[c] += 2.6 * dye[c][k] * amount[k] * light[k];
    }
}

void colour_paper_moved(double log_time, const ww_pack *by, double change[3]) {
    static const double filter[3][3] = {{0, 0.05, 0.95}, {0.08, 0.75, 0.17}, {0.75, 0.20, 0.05}};
    double light[3];
    for (int k = 0; k < 3; k++) {
        light[k] = log_time;
        for (int f = 0; f < 3; f++)
            light[k] -= filter[k][f] * by->cc[f] / 100.0;
    }
    colour_paper_seen(light, change);
}

void colour_readings_start(colour_readings *r, ww_density_status status) {
    memset(r, 0, sizeof *r);
    r->readings.file = (char *)"print.csv";
    r->readings.row = r->row;
    r->readings.meta.status = status;
    for (int c = 0; c < 3; c++)
        r->readings.has[c] = true;
}

ww_row *colour_readings_add(colour_readings *r, const char *tone, const double density[3],
                            size_t n) {
    static char none[] = "";
    ww_row *row = &r->row[r->readings.n++];
    assert_true(r->readings.n <= COLOUR_ROWS);
    *row = (ww_row){.step = none, .tone = (char *)tone, .pack = none, .line = r->readings.n + 1};
    for (int c = 0; c < 3; c++)
        row->cell[c] = (ww_cell){.state = WW_CELL_VALUE, .value = density[c], .n = n};
    return row;
}

ww_row *colour_readings_ring(colour_readings *r, const char *tone,
                             const ww_balance_setting *setting, const double density[3], size_t n) {
    char *pack = r->pack[r->readings.n];
    ww_row *row = colour_readings_add(r, tone, density, n);
    snprintf(pack, sizeof r->pack[0], "%.3fY%.3fM%.3fC", setting->pack.cc[0], setting->pack.cc[1],
             setting->pack.cc[2]);
    r->readings.exposure = WW_EXPOSURE_TIME;
    row->pack = pack;
    row->exposure = (ww_optional){true, setting->time_s};
    return row;
}

void balance_case_start(balance_case *c) {
    colour_readings_start(&c->print, WW_STATUS_A);
    colour_readings_start(&c->aim, WW_STATUS_A);
    colour_readings_start(&c->ring, WW_STATUS_A);
    c->aim.readings.file = (char *)"aim.csv";
    c->ring.readings.file = (char *)"ring.csv";
    colour_paper_straight(2.6, &c->paper);
    c->request = (ww_balance_request)WW_BALANCE_REQUEST_INIT;
    c->request.print = &c->print.readings;
    c->request.aim = &c->aim.readings;
    c->request.paper = &c->paper;
    c->request.from = (ww_balance_setting){{{60, 45, 0}}, 11.0};
}

void balance_case_grey(balance_case *c, const char *tone, double red, double green, double blue,
                       double aim_red, double aim_green, double aim_blue) {
    colour_readings_add(&c->print, tone, (const double[]){red, green, blue}, 1);
    colour_readings_add(&c->aim, tone, (const double[]){aim_red, aim_green, aim_blue}, 1);
}

void balance_case_ring(balance_case *c, const char *tone, double y, double m, double cyan,
                       double time_s, double red, double green, double blue) {
    const ww_balance_setting setting = {{{y, m, cyan}}, time_s};
    colour_readings_ring(&c->ring, tone, &setting, (const double[]){red, green, blue}, 1);
    c->request.ring = &c->ring.readings;
}

void balance_case_sure(balance_case *c) {
    for (size_t i = 0; i < c->print.readings.n; i++)
        for (int k = 0; k < 3; k++)
            c->print.row[i].cell[k].n = c->aim.row[i].cell[k].n = 100;
}

void balance_case_make(const char *row, const balance_case *c, ww_balance *balance) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_balance_print(&c->request, balance, &err), WW_OK, &err);
}

void balance_case_refused(const char *row, const balance_case *c, ww_status status,
                          const char *words) {
    ww_balance balance = WW_BALANCE_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_balance_print(&c->request, &balance, &err), status, &err);
    test_holds(row, err.msg, words);
    test_true(row, balance.tone == NULL);
}

void balance_case_near(balance_case *c) {
    double by[3];
    balance_case_start(c);
    colour_paper_moved(0.02 / 2.6, &(ww_pack){{1.5, 4.6, 0}}, by);
    balance_case_grey(c, "card", 0.70 - by[0], 0.70 - by[1], 0.70 - by[2], 0.70, 0.70, 0.70);
}

void balance_case_noted(const char *row, const balance_case *c, const char *words, bool there) {
    ww_balance balance = WW_BALANCE_INIT;
    balance_case_make(row, c, &balance);
    if (test_noted(&balance.notes, words) != there)
        fail_msg("%s: '%s' is %s", row, words, there ? "not noted" : "noted in vain");
    ww_balance_release(&balance);
}

void balance_case_end(balance_case *c) {
    ww_curve_release(&c->paper);
}
