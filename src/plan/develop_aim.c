/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/develop_parts.h"
#include <math.h>

static const double next_most = 1.5; /* of the longest time: how far the next strip goes */
static const double next_least = 0.6;

static ww_time_gamma_point point_of(double time_min, ww_quantity contrast) {
    return (ww_time_gamma_point){
        time_min, contrast.value,
        fmax((contrast.high - contrast.low) / (2.0 * WW__DEVELOP_95), WW__DEVELOP_SD_LEAST)};
}

static size_t points_of(const ww_development *plan, ww_develop_measure measure,
                        ww_time_gamma_point point[]) {
    size_t n = 0;
    for (size_t i = 0; i < plan->n; i++) {
        const ww_quantity contrast = plan->row[i].contrast[measure];
        if (!plan->row[i].other_temperature && ww_quantity_present(contrast) &&
            contrast.value > 0.0)
            point[n++] = point_of(plan->row[i].time_min, contrast);
    }
    return n;
}

static bool is_nominal(const ww_curve *curve) {
    return curve->exposure == WW_EXPOSURE_WEDGE && !curve->meta.wedge_sd.set &&
           curve->meta.wedge != WW_WEDGE_CERTIFIED;
}

/* 95 %, relative: a wedge that nobody certified is off alike for all of the curves. */
static double wedge_doubt(const ww_develop_input input[], size_t n) {
    for (size_t i = 0; i < n; i++)
        if (is_nominal(input[i].curve))
            return WW__DEVELOP_NOMINAL;
    return 0.0;
}

/* Repeatability in density as relative scatter of a contrast measured over so much log H. */
static double scatter_of(const ww_develop_request *request, double over, double contrast) {
    return request->repeatability / (over * contrast);
}

/* [log H]; the contrast index is close to a gradient over so much from net 0.10. */
static double measured_over(const ww_development *plan, ww_develop_measure measure) {
    return measure == WW_DEVELOP_OVER_RANGE       ? plan->film_range.value
           : measure == WW_DEVELOP_CONTRAST_INDEX ? 2.0
                                                  : 1.5;
}

static ww_quantity widen(ww_quantity time, double half) {
    time.low = time.value - hypot(time.value - time.low, half);
    time.high = time.value + hypot(time.high - time.value, half);
    time.low = fmax(time.low, 0.0);
    return time;
}

static ww_quantity with_wedge(const ww_time_gamma_answer *answer, double contrast, double wedge) {
    if (answer->place != WW_TIME_GAMMA_INSIDE)
        return (ww_quantity)WW_QUANTITY_INIT;
    return widen(answer->time, wedge * contrast / answer->slope);
}

static void add_doubt(const char *from, double minutes, ww_development *plan) {
    if (minutes > 0.0)
        plan->doubt[plan->n_doubts++] = (ww_develop_doubt){from, minutes};
}

/* What the interval has besides curves and scatter is the law's. */
static void find_doubts(double wedge, ww_development *plan) {
    const ww_time_gamma_answer *a = &plan->answer;
    const double half = (a->time.high - a->time.low) / 2.0;
    const double known = hypot(a->curves_half, a->scatter_half);
    add_doubt("curve fits", a->curves_half, plan);
    add_doubt("one development to the next", a->scatter_half, plan);
    add_doubt("growth between the times", sqrt(fmax(half * half - known * known, 0.0)), plan);
    add_doubt("wedge", wedge * plan->aim / a->slope, plan);
}

static void find_next(ww_development *plan) {
    const ww_time_gamma *law = &plan->law[plan->measure];
    const double first = law->point[0].time_min, last = law->point[law->n - 1].time_min;
    const ww_optional foreseen = plan->answer.foreseen;
    switch (plan->answer.place) {
    case WW_TIME_GAMMA_INSIDE:
        plan->next_min = (ww_optional){plan->answer.time.how == WW_EXTRAPOLATED, foreseen.value};
        return;
    case WW_TIME_GAMMA_SHORTER:
        plan->next_min = (ww_optional){true, fmax(foreseen.value, next_least * first)};
        return;
    case WW_TIME_GAMMA_LONGER:
        plan->next_min = (ww_optional){true, fmin(foreseen.value, next_most * last)};
        return;
    case WW_TIME_GAMMA_NEVER:
    case WW_TIME_GAMMA_LEVEL:
        plan->next_min = (ww_optional){true, next_most * last};
        return;
    }
}

/* Contrast less the law's, and curves that have less of it than a shorter time gave. */
static void find_off(ww_development *plan) {
    const ww_develop_row *before = NULL;
    for (size_t i = 0; i < plan->n; i++) {
        ww_develop_row *row = &plan->row[i];
        const ww_quantity contrast = row->contrast[plan->measure];
        ww_quantity by_law;
        if (row->other_temperature || !ww_quantity_present(contrast))
            continue;
        if (ww_time_gamma_contrast(&plan->law[plan->measure], row->time_min, &by_law, NULL) ==
            WW_OK)
            row->off = (ww_optional){true, contrast.value - by_law.value};
        row->falls = before && row->time_min > before->time_min &&
                     contrast.high < before->contrast[plan->measure].low;
        before = row;
    }
}

/* --- N and its neighbours --------------------------------------------------------------------- */

static ww_status find_range(const ww_develop_input input[], const size_t order[], int n,
                            const ww_develop_request *request, double wedge, ww_development *plan,
                            ww_error *err) {
    ww_develop_range *range = &plan->range[plan->n_ranges];
    ww_time_gamma_point point[WW_TIME_GAMMA_MOST];
    ww_time_gamma law;
    size_t points = 0;
    *range = (ww_develop_range){.n = n};
    range->subject_range = request->subject_range.value - n * WW__DEVELOP_LOG_STOP;
    if (range->subject_range < WW_DEVELOP_SUBJECT_RANGE_LEAST)
        return WW_OK;
    plan->n_ranges++;
    range->film_range = ww_develop_film_range(range->subject_range, request->flare);
    range->gradient = request->density_range.value / range->film_range;
    for (size_t i = 0; i < plan->n; i++) {
        const ww_develop_row *row = &plan->row[i];
        ww_quantity gradient;
        if (row->other_temperature)
            continue;
        if (ww_curve_gradient_over(&input[order[i]].curve->channel[row->channel], range->film_range,
                                   &gradient, NULL) == WW_OK &&
            gradient.value > 0.0)
            point[points++] = point_of(row->time_min, gradient);
        else
            range->short_of++;
    }
    const double scatter = scatter_of(request, range->film_range, range->gradient);
    if (points < 2 || ww_time_gamma_fit(point, points, scatter, &law, NULL) != WW_OK)
        return WW_OK;
    range->known = true;
    const ww_status status = ww_time_gamma_time(&law, range->gradient, &range->answer, err);
    range->time = with_wedge(&range->answer, range->gradient, wedge);
    return status;
}

/* --- the aim ---------------------------------------------------------------------------------- */

static ww_status refuse(const ww_develop_input input[], const size_t order[],
                        const ww_development *plan, ww_error *err) {
    for (size_t i = 0; i < plan->n; i++) {
        const ww_channel_curve *channel = &input[order[i]].curve->channel[plan->row[i].channel];
        ww_error why = WW_ERROR_INIT;
        ww_quantity gradient;
        if (ww_quantity_present(plan->row[i].contrast[plan->measure]))
            continue;
        if (plan->measure != WW_DEVELOP_OVER_RANGE)
            return ww_error_set_at(err, WW_ENODATA, input[order[i]].file, 0,
                                   "this curve has no contrast index, and without it there are "
                                   "fewer than two times; its own notes say which steps would "
                                   "give it");
        (void)ww_curve_gradient_over(channel, plan->film_range.value, &gradient, &why);
        return ww_error_set_at(err, WW_ENODATA, input[order[i]].file, 0,
                               "%s; without this curve there are fewer than two times", why.msg);
    }
    return ww_error_set_at(err, WW_ENODATA, input[order[0]].file, 0,
                           "all curves at one temperature were developed for %g min; how contrast "
                           "grows takes two times at least: develop one more strip",
                           plan->row[0].time_min);
}

ww_status ww__develop_aim(const ww_develop_input input[], const size_t order[],
                          const ww_develop_request *request, ww_development *plan, ww_error *err) {
    const double wedge = wedge_doubt(input, plan->n);
    ww_status status = WW_OK;
    for (int m = 0; m < WW_DEVELOP_MEASURES; m++) {
        ww_time_gamma_point point[WW_TIME_GAMMA_MOST];
        const ww_develop_measure measure = (ww_develop_measure)m;
        const size_t n = points_of(plan, measure, point);
        const double scatter = scatter_of(request, measured_over(plan, measure), plan->aim);
        plan->has_law[m] =
            n >= 2 && ww_time_gamma_fit(point, n, scatter, &plan->law[m], NULL) == WW_OK;
    }
    if (!plan->has_law[plan->measure])
        return refuse(input, order, plan, err);
    const ww_time_gamma *law = &plan->law[plan->measure];
    plan->repeats = law->n_times > 2 && law->freedom == 0 && !(request->repeatability > 0.0);
    find_off(plan);
    status = ww_time_gamma_time(law, plan->aim, &plan->answer, err);
    if (status != WW_OK)
        return status;
    if (plan->answer.place == WW_TIME_GAMMA_INSIDE)
        find_doubts(wedge, plan);
    plan->time = with_wedge(&plan->answer, plan->aim, wedge);
    find_next(plan);
    for (int n = -WW_DEVELOP_N; n <= WW_DEVELOP_N && status == WW_OK && request->subject_range.set;
         n++)
        status = find_range(input, order, n, request, wedge, plan, err);
    return status;
}
