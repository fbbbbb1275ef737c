/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>

/*
 * Every line is the 95 % half-width of the time, in stops. Errors in log H and in the density seen
 * count one for one; errors of print density count by the paper's local slope where it is used: at
 * the aim, and at the test print's density where there is one.
 */

/* Tolerance of a wedge that carries no certificate, thin and dense end; interface conventions. */
static const double nominal_thin = 0.01, nominal_dense = 0.10;
/* How far laboratories agree on a certified one [D]: published comparison of step tablets. */
static const double certified = 0.01;
/* Two places of one curve share their errors when they coincide; the usual wedge step apart [log H]
 * they are taken as independent, in proportion between. */
static const double independent = 0.15;

typedef struct doubt {
    const ww_print_request *request;
    const ww__print_negative *negative;
    const ww__print_sheet *sheet;
    const ww__print_test *test;
    double log_h;      /* of the aim */
    double slope;      /* there */
    double test_slope; /* at the test print's density */
} doubt;

static double slope_at(const ww__print_sheet *sheet, double log_h) {
    double density = 0.0, slope = 0.0;
    /* Both places were found on the curve, so they lie on it; a level curve has no inverse. */
    if (ww_curve_density(sheet->channel, log_h, &density, &slope, NULL) != WW_OK)
        return 1e-6;
    return fmax(slope, 1e-6);
}

/* Of two errors of the curve, the part that does not cancel. */
static double difference_of(const doubt *d, double at_aim, double at_test) {
    const double apart = fmin(fabs(d->log_h - d->test->log_h) / independent, 1.0);
    return d->test->used ? hypot(at_aim, at_test) * apart : at_aim;
}

/* 1 sd in log H of densities read: on the negative, at the aim and on the test print. */
static double readings_sd(const doubt *d) {
    const ww__print_spot *first = &d->negative->spot[d->negative->first];
    const ww__print_spot *tested = &d->negative->spot[d->test->spot];
    double sd = WW__PRINT_READING_SD / d->slope;
    if (d->test->used)
        sd = hypot(sd, WW__PRINT_READING_SD / d->test_slope);
    if (d->test->used && tested == first)
        return sd; /* the same place on the same negative: its density cancels */
    if (d->test->used)
        sd = hypot(sd, tested->error * tested->seen_slope);
    return hypot(sd, first->error * first->seen_slope);
}

static double process_sd(const doubt *d) {
    const double one = d->request->repeatability.value;
    const double sd = one / d->slope;
    return d->test->used ? hypot(sd, one / d->test_slope) : sd;
}

/*
 * Half-width of the log H between test and aim on a curve that nobody measured (without a test
 * print there is no time). Near the aim hardly any of the curve is used: the doubt is no more than
 * the way itself.
 */
static double nominal_curve_width(double apart) {
    return fmax(WW__PRINT_NOMINAL_DOUBT * apart, fmin(apart, WW__PRINT_NOMINAL_LEAST));
}

/* 95 % half-width in log H of the paper's own curve; below 0 where the curve does not say. */
static double fit_width(const doubt *d) {
    double at_aim = 0.0, at_test = 0.0;
    if (d->sheet->nominal)
        return nominal_curve_width(fabs(d->log_h - d->test->log_h));
    if (d->sheet->beside[0])
        return ww__print_halves_width(d->sheet, d->log_h) +
               (d->test->used ? ww__print_halves_width(d->sheet, d->test->log_h) : 0.0);
    if (ww_curve_density_sd(d->sheet->channel, d->log_h, &at_aim, NULL) != WW_OK)
        return -1.0;
    if (d->test->used &&
        ww_curve_density_sd(d->sheet->channel, d->test->log_h, &at_test, NULL) != WW_OK)
        return -1.0;
    return WW__PRINT_95 *
           difference_of(d, at_aim / d->slope, d->test->used ? at_test / d->test_slope : 0.0);
}

/* Tolerance at a log H: the wedge is dense where the paper got least. */
static double nominal_at(const doubt *d, double log_h) {
    const ww_channel_curve *channel = d->sheet->channel;
    const double dense =
        (channel->domain_high - log_h) / (channel->domain_high - channel->domain_low);
    return nominal_thin + (nominal_dense - nominal_thin) * fmin(fmax(dense, 0.0), 1.0);
}

static bool is_nominal_wedge(const ww_meta *meta) {
    return !meta->wedge_sd.set && meta->wedge != WW_WEDGE_CERTIFIED;
}

/* 95 % half-width in log H, at one place, of the wedge that the paper was exposed through. */
static double wedge_at(const doubt *d, double log_h) {
    const ww_meta *meta = &d->sheet->curve->meta;
    if (d->sheet->curve->exposure == WW_EXPOSURE_TIME ||
        d->sheet->curve->exposure == WW_EXPOSURE_STOP)
        return 0.0; /* no wedge had a part in it */
    if (is_nominal_wedge(meta))
        return nominal_at(d, log_h);
    return meta->wedge_sd.set ? WW__PRINT_95 * meta->wedge_sd.value : certified;
}

/* The same of the time. */
static double wedge_width(const doubt *d) {
    const double width = wedge_at(d, d->log_h);
    /* A wedge that is off is off all along: between two places only the difference counts. */
    if (d->test->used && is_nominal_wedge(&d->sheet->curve->meta))
        return fabs(width - wedge_at(d, d->test->log_h));
    return difference_of(d, width, width);
}

static void add_line(ww_print_paper *paper, const char *from, double log_h_width) {
    assert(paper->n_budget < WW_BUDGET_MAX);
    paper->budget[paper->n_budget++] = (ww_budget_line){from, log_h_width / WW__PRINT_LOG_STOP};
}

/* Half a step, in log H, of the time that the timer counts. */
static double timer_width(const ww_print_request *request, double time_s) {
    return log10(1.0 + 0.5 * request->timer_step_s / time_s);
}

/* 95 % half-width in log H between a test print's seconds and those of the curve for its density:
 * all that differs between them, at the one place. */
static double margin_of(const doubt *d) {
    const ww__print_spot *tested = &d->negative->spot[d->test->spot];
    const ww_optional h0 = d->sheet->curve->meta.log_h0_sd, process = d->request->repeatability;
    double fit = 0.0, sd;
    if (ww_curve_density_sd(d->sheet->channel, d->test->log_h, &fit, NULL) != WW_OK)
        fit = 0.0;
    sd = hypot(hypot(fit, WW__PRINT_READING_SD), process.set ? process.value : 0.0);
    sd = hypot(sd / d->test_slope, tested->error * tested->seen_slope);
    sd = hypot(sd, h0.set ? h0.value : 0.0);
    return hypot(hypot(WW__PRINT_95 * sd, wedge_at(d, d->test->log_h)),
                 timer_width(d->request, d->request->test[d->test->which].time_s));
}

/* A paper in seconds says itself how long the test print should have taken. */
static void compare_test(const doubt *d, ww__print_test *test) {
    test->compared = test->used && d->negative->absolute && !d->sheet->nominal &&
                     d->sheet->curve->meta.exposure_unit == WW_UNIT_SECOND &&
                     ww_curve_origin_given(d->sheet->curve);
    if (!test->compared)
        return;
    test->against = log10(d->request->test[test->which].time_s) - test->log_h -
                    d->negative->spot[test->spot].seen;
    test->margin = margin_of(d);
}

/* Two tests on one curve: what their readings, the curve and the process leave between them. */
static void compare_tests(const doubt *d, ww__print_test *test) {
    const ww_optional process = d->request->repeatability;
    const double read = hypot(WW__PRINT_READING_SD, process.set ? process.value : 0.0);
    double slope[2], fit = 0.0;
    if (!test->both || d->sheet->nominal)
        return; /* a curve that nobody measured may be any amount off */
    slope[0] = d->test_slope;
    slope[1] = slope_at(d->sheet, test->other_log_h);
    if (!d->sheet->beside[0] &&
        ww_curve_density_sd(d->sheet->channel, test->other_log_h, &fit, NULL) != WW_OK)
        fit = 0.0;
    test->tests_margin =
        WW__PRINT_95 * hypot(read / slope[0], hypot(read / slope[1], 1.4 * fit / slope[1])) +
        (d->sheet->beside[0] ? ww__print_halves_width(d->sheet, test->other_log_h) : 0.0);
}

bool ww__print_budget_tests_apart(const ww__print_test *test) {
    return test->tests_margin > 0.0 && fabs(test->disagree) > test->tests_margin;
}

bool ww__print_budget_at_odds(const ww__print_test *test) {
    return test->compared && fabs(test->against) > test->margin;
}

void ww__print_budget_set(const ww_print_request *request, const ww__print_negative *negative,
                          const ww__print_sheet *sheet, const ww__print_fate *fate,
                          ww__print_test *test, ww_print_paper *paper) {
    const doubt d = {request,
                     negative,
                     sheet,
                     test,
                     fate->first_log_h,
                     slope_at(sheet, fate->first_log_h),
                     test->used ? slope_at(sheet, test->log_h) : 1.0};
    const ww_meta *meta = &sheet->curve->meta;
    double squares = 0.0, fit;
    compare_test(&d, test);
    compare_tests(&d, test);
    if (!paper->time_s.set)
        return;
    fit = fit_width(&d);
    add_line(paper, "readings", WW__PRINT_95 * readings_sd(&d));
    if (!sheet->nominal)
        add_line(paper, "wedge", wedge_width(&d));
    if (!test->used && meta->log_h0_sd.set)
        add_line(paper, "log h0", WW__PRINT_95 * meta->log_h0_sd.value);
    if (fit >= 0.0)
        add_line(paper, sheet->nominal ? "nominal curve" : "paper fit", fit);
    if (request->repeatability.set)
        add_line(paper, "process", WW__PRINT_95 * process_sd(&d));
    add_line(paper, "timer", timer_width(request, paper->time_s.value));
    if (ww__print_budget_at_odds(test)) /* which of the two is wrong nobody can tell from here */
        add_line(paper, "test against curve", fabs(test->against));
    if (ww__print_budget_tests_apart(test))
        add_line(paper, "tests apart", 0.5 * fabs(test->disagree));
    for (size_t i = 0; i < paper->n_budget; i++)
        squares += paper->budget[i].stops * paper->budget[i].stops;
    paper->doubt_stops = (ww_optional){true, sqrt(squares)};
}

const ww_budget_line *ww__print_budget_largest(const ww_print_paper *paper) {
    const ww_budget_line *largest = NULL;
    for (size_t i = 0; i < paper->n_budget; i++)
        if (!largest || paper->budget[i].stops > largest->stops)
            largest = &paper->budget[i];
    return largest;
}
