/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double contradicts = 2.0; /* sd of a difference that chance gives 1 time in 20 */

/* Variances of the offset that one print teaches: what it does not share with others, and what it
 * does. */
typedef struct lesson {
    double log_h, range;
    double own, shared;
} lesson;

static double quadratic(const double matrix[], const double v[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
            sum += v[i] * matrix[i * n + k] * v[k];
    return sum;
}

static double dot(const double a[], const double b[], size_t n) {
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/*
 * The weights by which the readings make log H: w = F^-T J (J^T J)^-1, its first row, J whitened.
 * With contrast, exposure at the tone that sets the time is as doubtful as where both are fitted.
 */
static bool find_weights(const ww__result *result, const ww__result_fit *fit, ww_miss_cause cause,
                         double weight[]) {
    double first[WW_PRINT_RESULT_TONES_MOST], second[WW_PRINT_RESULT_TONES_MOST];
    double *row[] = {first, second};
    const size_t n = result->n;
    const size_t count = ww__result_slopes(result, cause, fit->fog, fit->parameter[cause], row);
    double ff, fs = 0.0, ss = 1.0, determinant;
    if (count == 0)
        return false;
    ff = dot(first, first, n);
    if (count > 1)
        fs = dot(first, second, n), ss = dot(second, second, n);
    determinant = ff * ss - fs * fs;
    if (!(determinant > 0.0))
        return false;
    for (size_t i = 0; i < n; i++)
        weight[i] = (ss * first[i] - (count > 1 ? fs * second[i] : 0.0)) / determinant;
    ww__gls_whiten_transposed(result->factor, n, weight);
    return true;
}

static bool find_lesson(const ww__result *result, const ww__result_fit *fit,
                        const ww_print_miss *miss, lesson *taught) {
    const ww_miss_hypothesis *h = miss->hypothesis;
    const bool both = miss->best == WW_MISS_CONTRAST || miss->best == WW_MISS_BOTH;
    const ww_miss_cause by = both ? WW_MISS_BOTH : WW_MISS_EXPOSURE;
    double weight[WW_PRINT_RESULT_TONES_MOST];
    if (miss->n_supported != 1 || miss->best == WW_MISS_LIGHT_END || !h[by].tried ||
        !find_weights(result, fit, by, weight))
        return false;
    *taught = (lesson){.log_h = miss->best == WW_MISS_CONTRAST ? 0.0 : h[by].log_h.value,
                       .range = both ? h[miss->best].range.value : 0.0,
                       .own = quadratic(result->own, weight, result->n),
                       .shared = quadratic(result->shared, weight, result->n)};
    return true;
}

static bool same_text(const char *a, const char *b) {
    return strcmp(a ? a : "", b ? b : "") == 0;
}

static bool is_same_entry(const ww_print_offset *a, const ww_print_offset *b) {
    return same_text(a->paper, b->paper) && same_text(a->contrast, b->contrast) &&
           same_text(a->lot, b->lot) && a->tested == b->tested && a->scale.set == b->scale.set &&
           (!a->scale.set || a->scale.value == b->scale.value);
}

static char *copy_text(const char *text) {
    return strdup(text ? text : "");
}

static ww_status name_entry(const ww__result *result, ww_print_offset *entry, ww_error *err) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    entry->paper = copy_text(sheet->name);
    entry->contrast = copy_text(sheet->curve->meta.contrast);
    entry->lot = copy_text(sheet->curve->meta.lot);
    entry->scale = result->request->scale;
    entry->tested = result->request->n_tests > 0;
    if (entry->paper && entry->contrast && entry->lot)
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
    entry->range = taught.range + (known ? known->range : 0.0);
    entry->log_h = taught.log_h + (known ? known->log_h : 0.0);
    entry->sd = sqrt(taught.own + taught.shared);
    entry->prints = 1;
    if (known && is_same_entry(known, entry))
        status = weigh(known, &taught, entry, &miss->notes, err);
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
    return to->paper && to->contrast && to->lot;
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
