/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "core/gls.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double contradicts = 2.0; /* sd of a difference that chance gives 1 time in 20 */

/* The offset that one print teaches, and its variances: what it does not share with other prints,
 * and what it does. */
typedef struct lesson {
    double log_h, range;
    double own, shared;
    bool plain; /* nobody knows why, nor whether it will be so again */
} lesson;

/* Whitened derivatives of a cause, square to each other; the first is that of log H alone, with
 * what contrast could do taken out of it. */
typedef struct slopes {
    double log_h[WW_PRINT_RESULT_TONES_MOST], range[WW_PRINT_RESULT_TONES_MOST];
    bool both;
} slopes;

static double quadratic(const double matrix[], const double v[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
            sum += v[i] * matrix[i * n + k] * v[k];
    return sum;
}

static bool find_slopes(const ww__result *result, const ww__result_fit *fit, ww_miss_cause cause,
                        slopes *s) {
    double *row[] = {s->log_h, s->range};
    const size_t n = result->n;
    s->both = ww__result_slopes(result, cause, fit->fog, fit->parameter[cause], row) == 2;
    if (cause == WW_MISS_BOTH && (!s->both || !(ww__gls_dot(s->range, s->range, n) > 0.0)))
        return false;
    if (s->both)
        ww__gls_make_square(s->log_h, s->range, n);
    return ww__gls_dot(s->log_h, s->log_h, n) > 0.0;
}

/* The point of the tone that sets the time; n where it was not read. */
static size_t find_first(const ww__result *result) {
    const ww__print_spot *first = ww__print_tones_first(result->negative);
    size_t i = 0;
    while (i < result->n &&
           !(result->point[i].spot == first && result->point[i].part == WW_PART_WHOLE))
        i++;
    return i;
}

/* The paper's slope at a log H, where it says anything of log H. */
static bool find_slope(const ww__print_sheet *sheet, double log_h, double *slope) {
    double net = 0.0;
    return ww__print_papers_net(sheet, log_h, &net, slope) && *slope > WW__RESULT_LEVEL;
}

/* Of two places of the curve, the share of their errors that is one. */
static double alike(double one, double other) {
    return fmax(0.0, 1.0 - fabs(one - other) / WW__RESULT_ALIKE);
}

/*
 * A wedge's error is in no covariance here, as it is not told from contrast; where it is off at
 * the aim of the tone that sets the time by another amount than at the tones that weighed, the
 * lesson is off by that: variance of sum of w_i slope_i e_i - e_aim.
 */
static double wedge_variance(const ww__result *result, const double weight[], double aim) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    const bool nominal = ww__print_budget_wedge_nominal(sheet);
    const size_t n = result->n;
    double part[WW_PRINT_RESULT_TONES_MOST + 1], place[WW_PRINT_RESULT_TONES_MOST + 1], sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        place[i] = ww__result_place(result, i);
        part[i] = weight[i] * ww__result_slope(result, i);
    }
    place[n] = aim;
    part[n] = -1.0;
    for (size_t i = 0; i <= n; i++)
        part[i] *= ww__print_budget_wedge(sheet, place[i]) / WW__PRINT_95;
    for (size_t i = 0; i <= n; i++)
        for (size_t k = 0; k <= n; k++)
            sum += part[i] * part[k] * (nominal || i == k ? 1.0 : alike(place[i], place[k]));
    return sum;
}

/* Covariances of the readings with what the tone that sets the time, `first` of them, is off at its
 * aim [log H], and the variance of that: its reading on the negative, and the curve there. */
static double aim_covariance(const ww__result *result, size_t first, double aim, double to[]) {
    const double negative =
        result->point[first].spot->error * result->point[first].spot->seen_slope;
    double slope = 0.0, curve = 0.0;
    if (find_slope(result->candidate->sheet, aim, &slope))
        curve = ww__result_curve_sd(result, aim, slope) / slope;
    for (size_t i = 0; i < result->n; i++) {
        const double place = ww__result_place(result, i), there = ww__result_slope(result, i);
        to[i] = curve * ww__result_curve_sd(result, place, there) * alike(place, aim);
        if (i == first)
            to[i] += there * negative * negative;
    }
    return negative * negative + curve * curve;
}

/*
 * What counts is the offset at the tone that sets the time: that of all tones, and as much of what
 * this one is off besides as its errors on the negative and on the curve at its aim account for,
 * which the next print has again (best linear prediction, T = a + u):
 *
 *   weights  w = F^-T J / (J^T J)  +  F^-T (1 - projection on J) F^-1 c,  c = cov(readings, u)
 *   variance w^T own w  +  w^T shared w - 2 w^T c + var u
 *
 * A print that fell far from its plan says little of the curve at the aim: c is small, and what all
 * tones say is kept.
 */
static void find_lesson_at(const ww__result *result, const slopes *s, const double left[],
                           lesson *taught) {
    const size_t n = result->n;
    const double squares = ww__gls_dot(s->log_h, s->log_h, n);
    const double aim = result->candidate->fate.first_log_h;
    double weight[WW_PRINT_RESULT_TONES_MOST], besides[WW_PRINT_RESULT_TONES_MOST];
    double covariance[WW_PRINT_RESULT_TONES_MOST] = {0.0}, variance = 0.0;
    const size_t first = find_first(result);
    if (first < n)
        variance = aim_covariance(result, first, aim, covariance);
    for (size_t i = 0; i < n; i++)
        weight[i] = s->log_h[i] / squares;
    memcpy(besides, covariance, n * sizeof *besides);
    ww__gls_whiten(result->factor, n, besides);
    if (s->both)
        ww__gls_make_square(besides, s->range, n);
    ww__gls_make_square(besides, s->log_h, n);
    ww__gls_whiten_transposed(result->factor, n, weight);
    ww__gls_whiten_transposed(result->factor, n, besides);
    taught->log_h += ww__gls_dot(besides, left, n);
    for (size_t i = 0; i < n; i++)
        weight[i] += besides[i];
    taught->own = quadratic(result->own, weight, n);
    taught->shared = fmax(0.0, quadratic(result->shared, weight, n) -
                                   2.0 * ww__gls_dot(weight, covariance, n) + variance);
    if (first < n)
        taught->shared += wedge_variance(result, weight, aim);
}

/* Contrast that a print shows beside exposure where the cause is open; fog looks much like it, and
 * so does one tone that is off. */
static double plain_range(const ww_print_miss *miss) {
    const ww_miss_hypothesis *h = miss->hypothesis;
    if ((miss->n_supported == 0 && miss->best != WW_MISS_BOTH) || h[WW_MISS_LIGHT_END].supported ||
        h[WW_MISS_ONE].supported || !h[WW_MISS_EXPOSURE].tried || !h[WW_MISS_BOTH].tried ||
        h[WW_MISS_EXPOSURE].chi_squared - h[WW_MISS_BOTH].chi_squared < WW__RESULT_BETTER)
        return 0.0;
    return h[WW_MISS_BOTH].range.value;
}

/* Whether it is the tone that sets the time that does not go with the others. */
static bool is_first_odd(const ww__result *result, const ww__result_fit *fit,
                         const ww_print_miss *miss) {
    const ww__print_spot *first = ww__print_tones_first(result->negative);
    return miss->n_supported == 0
               ? fit->odd.spot == first
               : miss->hypothesis[WW_MISS_ONE].supported && fit->one.spot == first;
}

/*
 * Where no one cause is told, the tone that sets the time is off all the same, and made again it
 * would be again: what puts it right is its own log H between what came out and what was foretold.
 * The rest of the picture being over a stop away from that, it was misread.
 */
static bool find_plain_lesson(const ww__result *result, const ww__result_fit *fit,
                              const ww_print_miss *miss, lesson *taught) {
    const ww_miss_hypothesis *all = &miss->hypothesis[WW_MISS_EXPOSURE];
    const ww__print_sheet *sheet = result->candidate->sheet;
    const size_t first = find_first(result);
    double slope = 0.0, slope_there = 0.0, log_h = 0.0;
    if (first == result->n || is_first_odd(result, fit, miss) || ww__result_lit_again(result, miss))
        return false;
    if (!find_slope(sheet, result->point[first].log_h, &slope) ||
        !ww__print_papers_log_h(sheet, result->point[first].came, &log_h) ||
        !find_slope(sheet, log_h, &slope_there))
        return false;
    log_h -= result->point[first].log_h;
    if (all->tried && fabs(all->log_h.value - log_h) > WW__PRINT_LOG_STOP)
        return false;
    slope = fmin(slope, slope_there);
    *taught = (lesson){.log_h = log_h,
                       .range = plain_range(miss),
                       .own = result->own[first * result->n + first] / (slope * slope),
                       .plain = true};
    return true;
}

static bool find_lesson(const ww__result *result, const ww__result_fit *fit,
                        const ww_print_miss *miss, lesson *taught) {
    const ww_miss_hypothesis *h = miss->hypothesis;
    const bool both = miss->best == WW_MISS_CONTRAST || miss->best == WW_MISS_BOTH;
    const ww_miss_cause by = both ? WW_MISS_BOTH : WW_MISS_EXPOSURE;
    const double spread = ww__result_spread(&h[by]);
    double left[WW_PRINT_RESULT_TONES_MOST];
    slopes s;
    if (miss->sight != WW_MISS_SEEN)
        return false;
    if (miss->n_supported != 1)
        return find_plain_lesson(result, fit, miss, taught);
    if (miss->best == WW_MISS_LIGHT_END || miss->best == WW_MISS_ONE || !h[by].tried ||
        !find_slopes(result, fit, by, &s))
        return false;
    for (size_t i = 0; i < result->n; i++) {
        double net = result->point[i].came;
        int end = 0;
        (void)ww__result_foretell(result, by, fit->fog, fit->parameter[by], result->point[i].log_h,
                                  &net, &end);
        left[i] = end == 0 ? result->point[i].came - net : 0.0;
    }
    *taught = (lesson){.log_h = h[by].log_h.value, .range = both ? h[by].range.value : 0.0};
    find_lesson_at(result, &s, left, taught);
    taught->own *= spread * spread;
    taught->shared *= spread * spread;
    return true;
}

static bool is_same_entry(const ww_print_offset *a, const ww_print_offset *b) {
    return ww__text_same(a->paper, b->paper) && ww__text_same(a->contrast, b->contrast) &&
           ww__text_same(a->lot, b->lot) && a->tested == b->tested &&
           a->scale.set == b->scale.set && (!a->scale.set || a->scale.value == b->scale.value);
}

static char *copy_text(const char *text) {
    return strdup(text ? text : "");
}

/* What makes the print as good as a test print: where the tone that sets the time came out. */
static void name_place(const ww__result *result, ww_print_offset *entry) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    const ww__print_test *test = &result->candidate->test;
    const ww_print_test *made = &result->request->test[test->which];
    double log_h = 0.0, slope = 0.0;
    const size_t first = find_first(result);
    const bool read = first < result->n && result->point[first].came >= WW_PRINT_AIM_LEAST &&
                      ww__print_papers_log_h(sheet, result->point[first].came, &log_h) &&
                      find_slope(sheet, log_h, &slope);
    entry->tone = copy_text(read ? result->point[first].spot->name : "");
    if (!read)
        return;
    entry->negative = result->point[first].spot->density;
    entry->density = result->point[first].came;
    entry->test_s = (ww_optional){test->used, made->time_s};
    entry->test_density = (ww_optional){test->used, made->density};
}

static ww_status name_entry(const ww__result *result, ww_print_offset *entry, ww_error *err) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    entry->paper = copy_text(sheet->name);
    entry->contrast = copy_text(sheet->curve->meta.contrast);
    entry->lot = copy_text(sheet->curve->meta.lot);
    entry->scale = result->request->scale;
    entry->tested = result->request->n_tests > 0;
    name_place(result, entry);
    if (entry->paper && entry->contrast && entry->lot && entry->tone)
        return WW_OK;
    return ww_error_set(err, WW_EMEMORY, "no memory for what the print taught");
}

/*
 * What was known of this very paper, lot and size counts by its weight. Of that sd the part that
 * this print shares is no ground for weight; what is left is no less than so many prints of this
 * kind leave. Where the two contradict each other something has changed since, and the old is taken
 * to be off by as much as that takes.
 */
static ww_status weigh(const ww_print_offset *known, const lesson *taught, ww_print_offset *entry,
                       ww_notes *notes, ww_error *err) {
    double old = fmax(known->sd * known->sd - taught->shared,
                      taught->own / (double)(known->prints > 0 ? known->prints : 1));
    const double apart = fabs(taught->log_h), doubt = sqrt(old + taught->own);
    const bool changed = apart > contradicts * doubt;
    double share;
    ww_status status = WW_OK;
    if (changed) {
        old = apart * apart - taught->own;
        status = ww__print_say(notes, err,
                               "Earlier prints on this paper had taught %+.3f log H; this one is "
                               "%.3f off that, %.1f times what their doubts explain. Something has "
                               "changed since, and the last print counts for most.",
                               known->log_h, apart, apart / doubt);
    }
    share = old / (old + taught->own);
    entry->log_h = known->log_h + share * taught->log_h;
    entry->sd = sqrt(share * taught->own + taught->shared);
    entry->prints = changed ? 1 : known->prints + 1;
    return status;
}

ww_status ww__result_learn(const ww__result *result, const ww__result_fit *fit, ww_print_miss *miss,
                           ww_error *err) {
    const ww_print_offset *known = result->candidate->sheet->offset;
    ww_print_offset *entry = &miss->offset;
    lesson taught;
    ww_status status;
    if (!find_lesson(result, fit, miss, &taught))
        return WW_OK;
    status = name_entry(result, entry, err);
    if (status != WW_OK)
        return status;
    entry->range = taught.range + result->candidate->sheet->taught_range;
    entry->log_h = taught.log_h + (known ? known->log_h : 0.0);
    entry->sd = sqrt(taught.own + taught.shared);
    entry->prints = 1;
    if (known && is_same_entry(known, entry))
        status = weigh(known, &taught, entry, &miss->notes, err);
    if (taught.plain) /* half of it, 1 sd, that it will not be so again */
        entry->sd = hypot(entry->sd, 0.5 * taught.log_h);
    miss->learned = status == WW_OK && fabs(entry->log_h) <= WW_PRINT_OFFSET_MOST &&
                    entry->sd <= WW_PRINT_OFFSET_MOST;
    return status;
}

/* ------------------------------------------------------------------------- all of them */

static bool copy_entry(const ww_print_offset *from, ww_print_offset *to) {
    *to = *from;
    to->paper = copy_text(from->paper);
    to->contrast = copy_text(from->contrast);
    to->lot = copy_text(from->lot);
    to->tone = copy_text(from->tone);
    return to->paper && to->contrast && to->lot && to->tone;
}

ww_status ww_print_offsets_learn(const ww_print_miss *miss, const ww_print_offset offset[],
                                 size_t n, ww_print_offset **learned, size_t *n_learned,
                                 ww_error *err) {
    ww_print_offset *all = calloc(n + 1, sizeof *all);
    size_t count = 0;
    bool placed = !miss->learned, whole = all != NULL;
    assert(miss && learned && n_learned);
    for (size_t i = 0; i < n && whole; i++) {
        const bool this_one = miss->learned && is_same_entry(&offset[i], &miss->offset);
        if (this_one && placed)
            continue; /* said twice; one is enough from here on */
        whole = copy_entry(this_one ? &miss->offset : &offset[i], &all[count++]);
        placed = placed || this_one;
    }
    if (whole && !placed)
        whole = copy_entry(&miss->offset, &all[count++]);
    if (!whole) {
        ww_print_offsets_release(all, count);
        return ww_error_set(err, WW_EMEMORY, "no memory for what the print taught");
    }
    *learned = all;
    *n_learned = count;
    return WW_OK;
}
