/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <assert.h>
#include <math.h>
#include <string.h>

/*
 * Every line is the 95 % half-width of the time, in stops. Errors in log H and in the density seen
 * count one for one; errors of print density count by the paper's local slope where it is used: at
 * the aim, and at the test print's density where there is one.
 */

/* Tolerance of a wedge that carries no certificate, thin and dense end; interface conventions. */
static const double nominal_thin = 0.01, nominal_dense = 0.10;
/* How far laboratories agree on a certified one [D]: published comparison of step tablets. */
static const double certified = 0.01;
static const double independent = WW__PRINT_APART;

/* The place that the time is tied to, by a test print or by the last of the earlier ones: what is
 * the same there and at the aim cancels. */
typedef struct tie {
    bool set;
    bool taught; /* by an earlier print, whose own readings are in the sd of what it taught */
    double log_h;
} tie;

typedef struct doubt {
    const ww_print_request *request;
    const ww__print_negative *negative;
    const ww__print_sheet *sheet;
    const ww__print_test *test;
    double log_h;      /* of the aim */
    double slope;      /* there */
    double test_slope; /* at the test print's density */
    tie tie;
} doubt;

static double slope_at(const ww__print_sheet *sheet, double log_h) {
    double net = 0.0, slope = 0.0;
    /* Both places were found on the curve, so they lie on it; a level curve has no inverse. */
    if (!ww__print_papers_net(sheet, log_h, &net, &slope))
        return 1e-6;
    return fmax(slope, 1e-6);
}

static tie find_tie(const ww_print_request *request, const ww__print_sheet *sheet,
                    const ww__print_test *test) {
    tie t = {.set = test->used, .log_h = test->log_h};
    if (ww__print_offset_place(request, sheet, test, &t.log_h))
        t.set = t.taught = true;
    return t;
}

/* Of two errors of the curve, the part that does not cancel. */
static double difference_of(const doubt *d, double at_aim, double at_tie) {
    const double apart = fmin(fabs(d->log_h - d->tie.log_h) / independent, 1.0);
    return d->tie.set ? hypot(at_aim, at_tie) * apart : at_aim;
}

/* The paper's slope where the test print was read beside which an offset was learned: of that print
 * the offset has the error of reading in it, and beside another test it is one more. Where it lay
 * is not known of a print whose first tone was not read; the present one stands in for it. */
static double learned_slope(const doubt *d) {
    const ww_print_offset *offset = d->sheet->offset;
    double log_h = 0.0;
    return offset->test_density.set &&
                   ww__print_papers_log_h(d->sheet, offset->test_density.value, &log_h)
               ? slope_at(d->sheet, log_h)
               : d->test_slope;
}

/* 1 sd in log H of densities of one sd, at the aim and on the test prints. */
static double print_sd(const doubt *d, double one) {
    const ww__print_test *test = d->test;
    double sd = one / d->slope;
    if (d->tie.taught)
        return sd;
    if (test->used)
        sd = hypot(sd, (1.0 - test->share) * one / d->test_slope);
    if (test->both)
        sd = hypot(sd, test->share * one / slope_at(d->sheet, test->other_log_h));
    if (test->used && d->sheet->offset)
        sd = hypot(sd, one / learned_slope(d));
    return sd;
}

/* The same of the negative between the tone that sets the time and the one that did on an earlier
 * print: a reading that is still the same is what that print taught the paper by. */
static double taught_negative_sd(const doubt *d) {
    const ww__print_spot *first = &d->negative->spot[d->negative->first];
    const ww_print_offset *offset = d->sheet->offset;
    if (strcmp(first->name, offset->tone) == 0 && first->density == offset->negative)
        return 0.0;
    return hypot(first->error, WW_READING_SD) * first->seen_slope;
}

/* The same of those on the negative. What is the same place on aim and test cancels. */
static double negative_sd(const doubt *d) {
    const ww__print_test *test = d->test;
    const size_t spot[] = {d->negative->first, test->spot, test->spot_of[1 - test->which]};
    double part[] = {1.0, test->used ? test->share - 1.0 : 0.0, test->both ? -test->share : 0.0};
    double sd = 0.0;
    if (d->tie.taught)
        return taught_negative_sd(d);
    for (size_t i = 0; i < sizeof part / sizeof part[0]; i++) {
        const ww__print_spot *at = &d->negative->spot[spot[i]];
        for (size_t k = i + 1; k < sizeof part / sizeof part[0]; k++)
            if (spot[k] == spot[i])
                part[i] += part[k], part[k] = 0.0;
        sd = hypot(sd, part[i] * at->error * at->seen_slope);
    }
    return sd;
}

double ww__print_budget_nominal_width(double apart) {
    return fmax(WW__PRINT_NOMINAL_DOUBT * apart, fmin(apart, WW__PRINT_NOMINAL_LEAST));
}

/* 95 % half-width in log H of the paper's own curve; below 0 where the curve does not say. */
static double fit_width(const doubt *d) {
    double at_aim = 0.0, at_tie = 0.0;
    if (d->sheet->nominal)
        return ww__print_budget_nominal_width(fabs(d->log_h - d->tie.log_h));
    if (d->sheet->beside[0] && d->tie.taught)
        return difference_of(d, ww__print_between_width(d->sheet, d->log_h),
                             ww__print_between_width(d->sheet, d->tie.log_h));
    if (d->sheet->beside[0])
        return ww__print_between_width(d->sheet, d->log_h) +
               (d->test->used ? ww__print_between_width(d->sheet, d->test->log_h) : 0.0);
    if (!ww__print_papers_sd(d->sheet, d->log_h, &at_aim))
        return -1.0;
    if (d->tie.set && !ww__print_papers_sd(d->sheet, d->tie.log_h, &at_tie))
        return -1.0;
    return WW__PRINT_95 *
           difference_of(d, at_aim / d->slope,
                         d->tie.set ? at_tie / slope_at(d->sheet, d->tie.log_h) : 0.0);
}

/* Tolerance at a log H: the wedge is dense where the paper got least. */
static double nominal_at(const ww__print_sheet *sheet, double log_h) {
    const double dense = (sheet->high - log_h) / (sheet->high - sheet->low);
    return nominal_thin + (nominal_dense - nominal_thin) * fmin(fmax(dense, 0.0), 1.0);
}

bool ww__print_budget_wedge_nominal(const ww__print_sheet *sheet) {
    const ww_meta *meta = &sheet->curve->meta;
    return !meta->wedge_sd.set && meta->wedge != WW_WEDGE_CERTIFIED;
}

double ww__print_budget_wedge(const ww__print_sheet *sheet, double log_h) {
    const ww_meta *meta = &sheet->curve->meta;
    if (sheet->nominal || sheet->curve->exposure == WW_EXPOSURE_TIME ||
        sheet->curve->exposure == WW_EXPOSURE_STOP)
        return 0.0; /* no wedge had a part in it */
    if (ww__print_budget_wedge_nominal(sheet))
        return nominal_at(sheet, log_h);
    return meta->wedge_sd.set ? WW__PRINT_95 * meta->wedge_sd.value : certified;
}

/* The same of the time. */
static double wedge_width(const doubt *d) {
    const double width = ww__print_budget_wedge(d->sheet, d->log_h);
    if (d->tie.set && ww__print_budget_wedge_nominal(d->sheet))
        return fabs(width - ww__print_budget_wedge(d->sheet, d->tie.log_h));
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
    if (!ww__print_papers_sd(d->sheet, d->test->log_h, &fit))
        fit = 0.0;
    sd = hypot(hypot(fit, WW_READING_SD), process.set ? process.value : 0.0);
    sd = hypot(sd / d->test_slope, tested->error * tested->seen_slope);
    sd = hypot(sd, h0.set ? h0.value : 0.0);
    return hypot(hypot(WW__PRINT_95 * sd, ww__print_budget_wedge(d->sheet, d->test->log_h)),
                 timer_width(d->request, d->request->test[d->test->which].time_s));
}

/* A paper in seconds says itself how long the test print should have taken, and earlier prints by
 * how much it is off. */
static void compare_test(const doubt *d, ww__print_test *test) {
    const ww_print_offset *witness = d->sheet->witness;
    test->compared = test->used && d->negative->absolute && !d->sheet->nominal &&
                     d->sheet->curve->meta.exposure_unit == WW_UNIT_SECOND &&
                     ww_curve_origin_given(d->sheet->curve);
    if (!test->compared)
        return;
    test->against = log10(d->request->test[test->which].time_s) - test->log_h -
                    d->negative->spot[test->spot].seen;
    test->margin = margin_of(d);
    test->put_right = witness != NULL;
    if (witness) {
        test->against += witness->log_h;
        test->margin = hypot(test->margin, WW__PRINT_95 * witness->sd);
    }
}

/* Two tests on one curve: what their readings, the curve and the process leave between them. */
static void compare_tests(const doubt *d, ww__print_test *test) {
    const ww_optional process = d->request->repeatability;
    const double read = hypot(WW_READING_SD, process.set ? process.value : 0.0);
    double slope[2], fit = 0.0;
    if (!test->both || d->sheet->nominal)
        return; /* a curve that nobody measured may be any amount off */
    slope[0] = d->test_slope;
    slope[1] = slope_at(d->sheet, test->other_log_h);
    if (!d->sheet->beside[0] && !ww__print_papers_sd(d->sheet, test->other_log_h, &fit))
        fit = 0.0;
    test->tests_margin =
        WW__PRINT_95 * hypot(read / slope[0], hypot(read / slope[1], 1.4 * fit / slope[1])) +
        (d->sheet->beside[0] ? ww__print_between_width(d->sheet, test->other_log_h) : 0.0);
}

bool ww__print_budget_tests_apart(const ww__print_test *test) {
    return test->tests_margin > 0.0 && fabs(test->disagree) > test->tests_margin;
}

bool ww__print_budget_at_odds(const ww__print_test *test) {
    return test->compared && fabs(test->against) > test->margin;
}

bool ww__print_budget_test_stands(const ww_print_request *request, const ww__print_test *test) {
    return request->n_papers == 1 && !request->split && !ww__print_budget_tests_apart(test);
}

/*
 * The test stands against the curve: the curve is of another day, and what of it lies between test
 * and aim is known no better than that of a paper nobody measured. Between two tests none is used:
 * half of what they differ by is what a line from one to the other may be off.
 */
static void add_against(const doubt *d, ww_print_paper *paper) {
    const ww__print_test *test = d->test;
    const double way = fabs(d->log_h - test->log_h);
    const bool bracketed = test->both && test->share > 0.0;
    if (!ww__print_budget_at_odds(test))
        return;
    if (d->tie.taught) /* which of them was right is in what the print taught */
        add_line(paper, "test against curve",
                 ww__print_budget_nominal_width(fabs(d->log_h - d->tie.log_h)));
    else if (!ww__print_budget_test_stands(d->request, test))
        add_line(paper, "test against curve", fabs(test->against)); /* nobody can tell which */
    else if (!bracketed)
        add_line(paper, "test against curve", ww__print_budget_nominal_width(way));
    else
        add_line(paper, "tests apart", 0.5 * fabs(test->disagree));
}

static void add_lines(const doubt *d, ww_print_paper *paper) {
    const ww_print_request *request = d->request;
    const ww__print_sheet *sheet = d->sheet;
    const ww_meta *meta = &sheet->curve->meta;
    const double fit = fit_width(d);
    const double shift = fabs(ww__print_shifted_time(request, sheet, d->log_h, d->test));
    const ww_print_offset *sister = ww__print_offset_sister(request, sheet);
    add_line(paper, "readings", WW__PRINT_95 * hypot(print_sd(d, WW_READING_SD), negative_sd(d)));
    if (!sheet->nominal)
        add_line(paper, "wedge", wedge_width(d));
    if (!d->test->used && !sheet->offset && meta->log_h0_sd.set) /* prints have it in them */
        add_line(paper, "log h0", WW__PRINT_95 * meta->log_h0_sd.value);
    if (fit >= 0.0)
        add_line(paper, sheet->nominal ? "nominal curve" : "paper fit", fit);
    if (shift > 0.0) /* skipped or not, nobody can tell */
        add_line(paper, "moved steps", shift);
    if (request->repeatability.set)
        add_line(paper, "process", WW__PRINT_95 * print_sd(d, request->repeatability.value));
    add_line(paper, "timer",
             sheet->splits ? ww__print_split_timer(sheet, d->negative->first_aim,
                                                   request->timer_step_s, paper->time_s.value)
                           : timer_width(request, paper->time_s.value));
    if (sheet->offset)
        add_line(paper, "earlier prints", WW__PRINT_95 * sheet->offset->sd);
    else if (sister) /* whether it was the lamp, which lights this contrast too, nobody can tell */
        add_line(paper, "another contrast", fabs(sister->log_h));
    add_against(d, paper);
    if (ww__print_budget_tests_apart(d->test) && !d->tie.taught)
        add_line(paper, "tests apart", 0.5 * fabs(d->test->disagree));
}

/* A time in so much doubt is no recommendation. Where a test print and the curve, or two test
 * prints, contradict each other the time stays: it was given on one of them, and that is said. */
static ww_status weigh(const doubt *d, ww_print_paper *paper, ww_error *err) {
    const ww_budget_line *largest = ww__print_budget_largest(paper);
    const double stops = paper->doubt_stops.value;
    const bool fit = strcmp(largest->from, "paper fit") == 0;
    char text[WW__PRINT_TEXT_SIZE];
    if (stops <= WW__PRINT_MOST_DOUBT || strcmp(largest->from, "test against curve") == 0 ||
        strcmp(largest->from, "tests apart") == 0)
        return WW_OK;
    ww__print_format(
        text, sizeof text,
        "its doubt would be %.1f stops, most of it '%s'%s; %s where '%s' is near %.2f", stops,
        largest->from, fit ? ": the curve's fit does not determine the time" : "",
        d->test->used ? "make a test print" : "make one test print, and give it with --test,",
        ww__print_show(d->negative->spot[d->negative->first].name).text, d->negative->first_aim);
    return ww__print_time_refuse(paper, text, err);
}

ww_status ww__print_budget_set(const ww_print_request *request, const ww__print_negative *negative,
                               const ww__print_sheet *sheet, const ww__print_fate *fate,
                               ww__print_test *test, ww_print_paper *paper, ww_error *err) {
    const doubt d = {request,
                     negative,
                     sheet,
                     test,
                     fate->first_log_h,
                     slope_at(sheet, fate->first_log_h),
                     test->used ? slope_at(sheet, test->log_h) : 1.0,
                     find_tie(request, sheet, test)};
    double squares = 0.0;
    compare_test(&d, test);
    compare_tests(&d, test);
    if (!paper->time_s.set)
        return WW_OK;
    add_lines(&d, paper);
    for (size_t i = 0; i < paper->n_budget; i++)
        squares += paper->budget[i].stops * paper->budget[i].stops;
    paper->doubt_stops = (ww_optional){true, sqrt(squares)};
    return weigh(&d, paper, err);
}

const ww_budget_line *ww__print_budget_largest(const ww_print_paper *paper) {
    const ww_budget_line *largest = NULL;
    for (size_t i = 0; i < paper->n_budget; i++)
        if (!largest || paper->budget[i].stops > largest->stops)
            largest = &paper->budget[i];
    return largest;
}
