/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "core/lsq.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Readings move by so many sd for a log H, or a density, at least; where it is less, a cause would
 * not show before half a stop and more. */
static const double least_effect = 2.0;
static const double step = 1e-5;         /* of parameters, for derivatives; all are of order 0.1 */
static const double most_log_h = 2.0;    /* WW_PRINT_OFFSET_MOST; more is another paper */
static const double least_stretch = 0.5; /* as for what prints can teach */

static size_t parameters_of(ww_miss_cause cause) {
    return cause == WW_MISS_NOTHING || cause == WW_MISS_ONE ? 0 : cause == WW_MISS_BOTH ? 2 : 1;
}

/* Net density of the sheet, held at its ends. */
static double net_of(const ww__print_sheet *sheet, double log_h, int *end) {
    double net = 0.0;
    *end = (log_h > sheet->high) - (log_h < sheet->low);
    if (*end < 0)
        return sheet->lightest;
    if (*end > 0 || !ww__print_papers_net(sheet, log_h, &net, NULL))
        return sheet->darkest;
    return net;
}

/* log H of the first tone: what is added as exposure counts in that. */
static double log_h_of_first_tone(const ww__print_sheet *sheet) {
    double log_h = sheet->low;
    (void)ww__print_papers_log_h(sheet, fmax(WW__PRINT_FIRST_TONE, sheet->lightest), &log_h);
    return log_h;
}

static bool harden(const ww__result *result, double shorter, double *log_h) {
    const double pivot = result->candidate->fate.first_log_h;
    const double stretch = (result->range - shorter) / result->range; /* not above 0 without any */
    if (!(stretch >= least_stretch && stretch <= 1.0 / least_stretch))
        return false;
    *log_h = pivot + (*log_h - pivot) / stretch;
    return true;
}

bool ww__result_foretell(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double log_h, double *net, int *end) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    if (cause == WW_MISS_EXPOSURE || cause == WW_MISS_BOTH) {
        if (!(fabs(parameter[0]) <= most_log_h))
            return false;
        log_h += parameter[0];
    }
    if (cause == WW_MISS_CONTRAST && !harden(result, parameter[0], &log_h))
        return false;
    if (cause == WW_MISS_BOTH && !harden(result, parameter[1], &log_h))
        return false;
    if (cause == WW_MISS_LIGHT_END && !fog) {
        const double first = log_h_of_first_tone(sheet);
        const double light = pow(10.0, log_h - first) + parameter[0];
        if (!(light > 0.0))
            return false;
        log_h = first + log10(light);
    }
    *net = net_of(sheet, log_h, end);
    if (cause == WW_MISS_LIGHT_END && fog)
        *net += parameter[0] * (1.0 - fmin(*net / sheet->dmax, 1.0));
    return true;
}

/* ------------------------------------------------------------------------------ fitting */

typedef struct problem {
    const ww__result *result;
    ww_miss_cause cause;
    bool fog;
} problem;

/* Foretold less came out; where the paper was not measured so far, only what is left of it there.
 */
static bool differ(const problem *p, const double parameter[], double r[]) {
    for (size_t i = 0; i < p->result->n; i++) {
        const ww__result_point *point = &p->result->point[i];
        double net = 0.0;
        int end = 0;
        if (!ww__result_foretell(p->result, p->cause, p->fog, parameter, point->log_h, &net, &end))
            return false;
        r[i] = net - point->came;
        if (end > 0)
            r[i] = fmax(r[i], 0.0);
        else if (end < 0) /* lighter than the end by no more than there is of it */
            r[i] -= fmin(fmax(r[i], 0.0), p->result->candidate->sheet->lightest);
    }
    return true;
}

static bool residual(const void *self, const double parameter[], double r[]) {
    const problem *p = self;
    if (!differ(p, parameter, r))
        return false;
    ww__gls_whiten(p->result->factor, p->result->n, r);
    return true;
}

bool ww__result_residual(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double r[]) {
    return residual(&(problem){result, cause, fog}, parameter, r);
}

/* d r / d parameter, by differences either side; false where one of them cannot be. */
static bool derive(const problem *p, const double parameter[], size_t k, double low[],
                   double column[]) {
    const size_t n = p->result->n;
    double moved[WW__RESULT_PARAMETERS] = {parameter[0],
                                           p->cause == WW_MISS_BOTH ? parameter[1] : 0.0};
    moved[k] = parameter[k] + step;
    if (!residual(p, moved, column))
        return false;
    moved[k] = parameter[k] - step;
    if (!residual(p, moved, low))
        return false;
    for (size_t i = 0; i < n; i++)
        column[i] = (column[i] - low[i]) / (2.0 * step);
    return true;
}

static bool jacobian(const void *self, const double parameter[], double j[]) {
    const problem *p = self;
    const size_t n = p->result->n, count = parameters_of(p->cause);
    double low[WW_PRINT_RESULT_TONES_MOST], column[WW_PRINT_RESULT_TONES_MOST];
    assert(n <= WW_PRINT_RESULT_TONES_MOST);
    for (size_t k = 0; k < count; k++) {
        if (!derive(p, parameter, k, low, column))
            return false;
        for (size_t i = 0; i < n; i++)
            j[i * count + k] = column[i];
    }
    return true;
}

size_t ww__result_slopes(const ww__result *result, ww_miss_cause cause, bool fog,
                         const double parameter[], double *row[]) {
    const problem p = {result, cause, fog};
    const size_t count = parameters_of(cause);
    double low[WW_PRINT_RESULT_TONES_MOST];
    for (size_t k = 0; k < count; k++)
        if (!derive(&p, parameter, k, low, row[k]))
            return 0;
    return count;
}

/* Whether the readings would show each parameter. */
static bool shows(const problem *p) {
    static const double zero[WW__RESULT_PARAMETERS] = {0.0, 0.0};
    const size_t n = p->result->n, count = parameters_of(p->cause);
    double low[WW_PRINT_RESULT_TONES_MOST], column[WW_PRINT_RESULT_TONES_MOST];
    if (count > n)
        return false;
    for (size_t k = 0; k < count; k++)
        if (!derive(p, zero, k, low, column) ||
            !(sqrt(ww__gls_dot(column, column, n)) > least_effect))
            return false;
    return true;
}

/* Least squares from where nothing is the matter, and from half a stop either side. What does not
 * settle does not fit. */
static ww_status fit_problem(const problem *p, double best[], double sd[], double *chi_squared,
                             ww_error *err) {
    static const double start[] = {0.0, 0.15, -0.15};
    const size_t count = parameters_of(p->cause);
    const ww__lsq_problem lsq = {
        .n = p->result->n, .p = count, .residual = residual, .jacobian = jacobian, .self = p};
    ww__lsq *work = NULL;
    ww_status status = ww__lsq_new(lsq.n, lsq.p, &work, err);
    *chi_squared = HUGE_VAL;
    for (size_t i = 0; i < sizeof start / sizeof start[0] && status == WW_OK; i++) {
        double parameter[WW__RESULT_PARAMETERS] = {start[i], 0.0}, covariance[4] = {0.0};
        ww__lsq_result found = {.chi_squared = HUGE_VAL};
        if (ww__lsq_solve(work, &lsq, parameter, &found, NULL) == WW_EMEMORY)
            status = ww_error_set(err, WW_EMEMORY, "no memory for a least-squares fit");
        if (!(found.chi_squared < *chi_squared - 1e-9))
            continue;
        *chi_squared = found.chi_squared;
        memcpy(best, parameter, count * sizeof *best);
        ww__lsq_covariance(work, covariance);
        for (size_t k = 0; k < count; k++)
            sd[k] = sqrt(covariance[k * count + k]);
    }
    ww__lsq_free(work);
    return status;
}

/* Whether the size of a cause is found at all: where the readings lie at an end of the paper by it,
 * any size beyond does as well. */
static bool is_found(const double sd[], size_t count) {
    for (size_t k = 0; k < count; k++)
        if (!(sd[k] > 0.0 && WW__PRINT_95 * sd[k] <= WW__PRINT_MOST_DOUBT * WW__PRINT_LOG_STOP))
            return false;
    return true;
}

/* Fog and flare only add. */
static ww_status try_light_end(const ww__result *result, ww__result_fit *fit,
                               ww_miss_hypothesis *hypothesis, ww_error *err) {
    double *parameter = fit->parameter[WW_MISS_LIGHT_END];
    hypothesis->chi_squared = HUGE_VAL;
    for (int fog = 0; fog < 2; fog++) {
        const problem p = {result, WW_MISS_LIGHT_END, fog != 0};
        double found[1] = {0.0}, sd[1] = {0.0}, chi_squared = HUGE_VAL;
        ww_status status;
        if (!shows(&p))
            continue;
        hypothesis->tried = true;
        status = fit_problem(&p, found, sd, &chi_squared, err);
        if (status != WW_OK)
            return status;
        if (!(found[0] > 0.0) || !(chi_squared < hypothesis->chi_squared))
            continue;
        parameter[0] = found[0];
        fit->fog = fog != 0;
        hypothesis->chi_squared = chi_squared;
    }
    return WW_OK;
}

/* How far the lightest tone read comes up by what was added. */
static ww_optional lift_of(const ww__result *result, const ww__result_fit *fit) {
    const ww__result_point *lightest = &result->point[0];
    double net = 0.0;
    int end = 0;
    for (size_t i = 1; i < result->n; i++)
        if (result->point[i].log_h < lightest->log_h)
            lightest = &result->point[i];
    if (!ww__result_foretell(result, WW_MISS_LIGHT_END, fit->fog, fit->parameter[WW_MISS_LIGHT_END],
                             lightest->log_h, &net, &end))
        return (ww_optional){false, 0.0};
    return (ww_optional){true, net - lightest->foretold};
}

/* What was added fades in the dark tones: whether the darkest one read is such, and stands. */
static void see_dark(const ww__result *result, ww__result_fit *fit, double lift) {
    const ww__result_point *darkest = &result->point[0];
    const double most = fmax(WW__RESULT_TELLS, WW__RESULT_STANDS * lift);
    double net = 0.0;
    int end = 0;
    for (size_t i = 1; i < result->n; i++)
        if (result->point[i].log_h > darkest->log_h)
            darkest = &result->point[i];
    fit->dark_read =
        ww__result_foretell(result, WW_MISS_LIGHT_END, fit->fog, fit->parameter[WW_MISS_LIGHT_END],
                            darkest->log_h, &net, &end) &&
        net - darkest->foretold <= most;
    fit->dark_stands = fit->dark_read && fabs(darkest->came - darkest->foretold) <= most;
}

double ww__result_spread(const ww_miss_hypothesis *hypothesis) {
    if (hypothesis->freedom == 0 || !(hypothesis->chi_squared < HUGE_VAL))
        return 1.0;
    return sqrt(fmax(1.0, hypothesis->chi_squared / (double)hypothesis->freedom));
}

static ww_status try_cause(const ww__result *result, ww_miss_cause cause, ww__result_fit *fit,
                           ww_miss_hypothesis *hypothesis, ww_error *err) {
    const problem p = {result, cause, false};
    double sd[WW__RESULT_PARAMETERS] = {0.0}, *found = fit->parameter[cause];
    ww_status status = WW_OK;
    double spread;
    if (cause == WW_MISS_LIGHT_END) {
        status = try_light_end(result, fit, hypothesis, err);
        if (hypothesis->chi_squared < HUGE_VAL)
            hypothesis->lift = lift_of(result, fit);
        if (hypothesis->lift.set)
            see_dark(result, fit, hypothesis->lift.value);
    } else if (shows(&p)) {
        status = fit_problem(&p, found, sd, &hypothesis->chi_squared, err);
        hypothesis->tried = is_found(sd, parameters_of(cause));
    }
    spread = ww__result_spread(hypothesis);
    if (cause == WW_MISS_EXPOSURE || cause == WW_MISS_BOTH) {
        hypothesis->log_h = (ww_optional){hypothesis->tried, found[0]};
        hypothesis->log_h_sd = (ww_optional){hypothesis->tried, spread * sd[0]};
    }
    if (cause == WW_MISS_CONTRAST || cause == WW_MISS_BOTH) {
        const size_t k = cause == WW_MISS_BOTH ? 1 : 0;
        hypothesis->range = (ww_optional){hypothesis->tried, found[k]};
        hypothesis->range_sd = (ww_optional){hypothesis->tried, spread * sd[k]};
    }
    return status;
}

static void try_nothing(const ww__result *result, ww_miss_hypothesis *hypothesis) {
    const problem p = {result, WW_MISS_NOTHING, false};
    double r[WW_PRINT_RESULT_TONES_MOST];
    hypothesis->tried = residual(&p, NULL, r);
    hypothesis->chi_squared = ww__gls_dot(r, r, result->n);
}

ww_status ww__result_causes_try(const ww__result *result, ww__result_fit *fit, ww_print_miss *miss,
                                ww_error *err) {
    ww_status status = WW_OK;
    *fit = (ww__result_fit){.fog = false};
    memset(miss->hypothesis, 0, sizeof miss->hypothesis);
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES && status == WW_OK; c++) {
        ww_miss_hypothesis *hypothesis = &miss->hypothesis[c];
        const size_t count = parameters_of(c);
        hypothesis->freedom = result->n > count ? result->n - count : 0;
        if (c == WW_MISS_ONE)
            status = ww__result_one_try(result, fit, miss, err);
        else if (c == WW_MISS_NOTHING)
            try_nothing(result, hypothesis);
        else
            status = try_cause(result, c, fit, hypothesis, err);
        /* What only adds, and would have to take away, explains no more than nothing does. */
        if (hypothesis->tried && !(hypothesis->chi_squared < HUGE_VAL))
            hypothesis->chi_squared = miss->hypothesis[WW_MISS_NOTHING].chi_squared;
        hypothesis->chance =
            hypothesis->tried
                ? ww__gls_chance(hypothesis->chi_squared,
                                 hypothesis->freedom > 0 ? hypothesis->freedom : 1)
                : 0.0; /* as many sizes as readings leave nothing, where the cause can be */
        hypothesis->fits = hypothesis->tried && hypothesis->chance >= WW__RESULT_RARE;
    }
    if (status != WW_OK)
        return status;
    ww__result_causes_judge(fit, miss);
    ww__result_odd_mark(result, fit, miss);
    return WW_OK;
}
