/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "plan/print_result_parts.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double log_e = 0.43429448190325182765; /* log10 e */

/* ------------------------------------------------------------------- what was foretold */

static const ww_print_tone *planned(const ww__result *result, const ww__print_spot *spot) {
    const ww_print_paper *paper = &result->candidate->paper;
    for (size_t i = 0; i < paper->n_tones; i++)
        if (strcmp(paper->tone[i].tone, spot->name) == 0)
            return &paper->tone[i];
    return NULL;
}

double ww__result_work(const ww__result *result, const ww__print_spot *spot) {
    const ww_print_tone *tone = planned(result, spot);
    return tone ? ww__print_moves_sum(tone->burn_stops, tone->hand_stops) : 0.0;
}

static double exponent_of(const ww__result *result) {
    const ww__print_candidate *at = result->candidate;
    return ww__print_time_exponent(
        result->request,
        ww__print_time_reference(result->request, at->sheet, &at->fate, &at->test));
}

/* Log H by which the print got more than the plan's time gives, and what drying adds: a wet curve's
 * plan has less time by it, so that the dry print comes out as foretold and the wet one lighter. */
static double extra(const ww__result *result) {
    const double time = log10(result->time_s / result->candidate->paper.time_s.value);
    const bool wet = result->candidate->sheet->curve->meta.read == WW_READ_WET &&
                     result->print->meta.read == WW_READ_WET;
    return time / exponent_of(result) +
           (wet ? log10(1.0 - result->request->dry_down_percent / 100.0) : 0.0);
}

double ww__result_log_h(const ww__result *result, const ww__print_spot *spot, double seen) {
    return result->candidate->fate.first_log_h + ww__print_tones_first(result->negative)->seen -
           seen + ww__result_work(result, spot) + extra(result);
}

/* --------------------------------------------------------------------------- the points */

/* Of one tone of the print: its parts, where they were read. */
static void gather(const ww__result *result, const char *tone, ww__print_end end[3]) {
    for (size_t i = 0; i < result->print->n; i++) {
        const ww_row *row = &result->print->row[i];
        const ww_cell *cell = &row->cell[result->channel];
        if (!row->is_base && strcmp(row->tone, tone) == 0 && cell->state != WW_CELL_MISSING)
            ww__print_tones_add(&end[row->part], cell, row->line);
    }
}

static void add_point(ww__result *result, const ww__print_spot *spot, ww_part part, double seen,
                      double net, double sd) {
    ww__result_point *point = &result->point[result->n++];
    int end = 0;
    *point = (ww__result_point){.spot = spot,
                                .part = part,
                                .log_h = ww__result_log_h(result, spot, seen),
                                .came = net,
                                .sd = sd};
    (void)ww__result_foretell(result, WW_MISS_NOTHING, false, NULL, point->log_h, &point->foretold,
                              &end);
    point->beyond = end != 0;
}

static ww_status refuse_part(const ww__result *result, const ww__print_spot *spot, ww_part part,
                             size_t line, ww_error *err) {
    return ww_error_set_at(err, WW_ENODATA, result->print->file, line,
                           "the print's '%s' was read at its %s part, and the negative's was not; "
                           "read it there, or the whole tone here",
                           ww__print_show(spot->name).text, ww_part_name(part));
}

/* No print is lighter than its paper. */
static ww_status check_net(const ww__result *result, const ww__print_spot *spot,
                           const ww__print_end *read, ww_error *err) {
    const double under = result->white - read->density;
    char text[WW__PRINT_TEXT_SIZE];
    if (read->state != WW_CELL_VALUE ||
        under <= fmax(WW__RESULT_WHITE, 2.0 * hypot(read->error, result->white_sd)))
        return WW_OK;
    ww__print_format(text, sizeof text,
                     "the print's '%s' reads %.2f, which is lighter than its paper white of %.2f; "
                     "no tone is: read both again",
                     ww__print_show(spot->name).text, read->density, result->white);
    return ww_error_set_at(err, WW_EDOMAIN, result->print->file, read->line, "%s", text);
}

/* Like is set beside like: the whole beside the middle, an end beside the end, and both ends of the
 * print, where the negative lacks one, by their mean. */
static ww_status add_tone(ww__result *result, const ww__print_spot *spot, ww_error *err) {
    ww__print_end out[3] = {{.rows = 0}};
    const ww__print_end *whole = &out[WW_PART_WHOLE], *thin = &out[WW_PART_THIN],
                        *dense = &out[WW_PART_DENSE];
    gather(result, spot->name, out);
    for (ww_part part = WW_PART_WHOLE; part <= WW_PART_DENSE; part++) {
        const ww_status status = check_net(result, spot, &out[part], err);
        if (status != WW_OK)
            return status;
    }
    if (whole->state == WW_CELL_VALUE && spot->known) {
        add_point(result, spot, WW_PART_WHOLE, spot->seen, whole->density - result->white,
                  whole->error);
    } else if (thin->state == WW_CELL_VALUE && dense->state == WW_CELL_VALUE && !spot->judged &&
               spot->known) {
        add_point(result, spot, WW_PART_WHOLE, spot->seen,
                  0.5 * (thin->density + dense->density) - result->white,
                  0.5 * hypot(thin->error, dense->error));
        return WW_OK;
    }
    for (ww_part part = WW_PART_THIN; part <= WW_PART_DENSE; part++) {
        if (out[part].state != WW_CELL_VALUE)
            continue;
        if (spot->end[part].state != WW_CELL_VALUE)
            return refuse_part(result, spot, part, out[part].line, err);
        add_point(result, spot, part, spot->end[part].seen, out[part].density - result->white,
                  out[part].error);
    }
    return WW_OK;
}

/* ------------------------------------------------------------------------ their errors */

double ww__result_place(const ww__result *result, size_t i) {
    return result->point[i].log_h + result->moved;
}

double ww__result_slope(const ww__result *result, size_t i) {
    double net = 0.0, slope = 0.0;
    return ww__print_papers_net(result->candidate->sheet, ww__result_place(result, i), &net, &slope)
               ? slope
               : 0.0;
}

double ww__result_curve_sd(const ww__result *result, double log_h, double slope) {
    const ww__print_candidate *at = result->candidate;
    double sd = 0.0, from;
    if (at->sheet->nominal) {
        from = at->test.used ? at->test.log_h : at->fate.first_log_h;
        return slope * ww__print_budget_nominal_width(fabs(log_h - from)) / WW__PRINT_95;
    }
    if (at->sheet->beside[0])
        return slope * ww__print_halves_width(at->sheet, log_h) / WW__PRINT_95;
    return ww__print_papers_sd(at->sheet, log_h, &sd) ? sd : 0.0;
}

/* Standard error of the negative's density, as the paper sees it. */
static double negative_sd(const ww__result_point *point) {
    const double error =
        point->part == WW_PART_WHOLE ? point->spot->error : point->spot->end[point->part].error;
    return error * point->spot->seen_slope;
}

/* 1 sd in log H of what the hand adds or holds back of a tone. */
static double hand_sd(const ww__result *result, const ww__result_point *point) {
    const ww_print_tone *tone = planned(result, point->spot);
    const double work = ww__result_work(result, point->spot);
    if (!tone || (!tone->burn_stops.set && !tone->hand_stops.set) || !isfinite(work))
        return 0.0;
    return log_e * WW__RESULT_HAND / (result->time_s * pow(10.0, work));
}

/* What two points share, by the sd of each. */
typedef struct errors {
    double slope, curve, hand;
} errors;

static double steepest(const errors e[], size_t n) {
    double most = 1e-6;
    for (size_t i = 0; i < n; i++)
        most = fmax(most, e[i].slope);
    return most;
}

static void fill_covariance(ww__result *result, const errors e[]) {
    const ww_optional process = result->request->repeatability;
    const size_t n = result->n;
    const double log_h_sd = process.set ? process.value / steepest(e, n) : 0.0;
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < n; k++) {
            const ww__result_point *a = &result->point[i], *b = &result->point[k];
            const double apart = isfinite(a->log_h) && isfinite(b->log_h)
                                     ? fabs(a->log_h - b->log_h) / WW__RESULT_ALIKE
                                     : (i == k ? 0.0 : 1.0);
            double own = result->white_sd * result->white_sd;
            double shared = e[i].curve * e[k].curve * fmax(0.0, 1.0 - apart);
            own += e[i].slope * e[k].slope * log_h_sd * log_h_sd;
            if (a->spot == b->spot)
                own += e[i].slope * e[i].hand * e[k].slope * e[k].hand;
            if (i == k) {
                const double negative = e[i].slope * negative_sd(a);
                own += a->sd * a->sd;
                shared += negative * negative;
            }
            result->own[i * n + k] = own;
            result->shared[i * n + k] = shared;
            result->factor[i * n + k] = own + shared;
        }
    }
}

static ww_status fill(ww__result *result, ww_error *err) {
    errors e[WW_PRINT_RESULT_TONES_MOST];
    assert(result->n <= WW_PRINT_RESULT_TONES_MOST);
    for (size_t i = 0; i < result->n; i++) {
        const double slope = ww__result_slope(result, i);
        e[i] = (errors){slope, ww__result_curve_sd(result, ww__result_place(result, i), slope),
                        hand_sd(result, &result->point[i])};
    }
    fill_covariance(result, e);
    if (ww__gls_factor(result->factor, result->n))
        return WW_OK;
    assert(false); /* every reading has an error of its own, so that can't be */
    return ww_error_set(err, WW_EDOMAIN,
                        "the errors of the print's readings contradict each other; check its sd "
                        "column");
}

static ww_status weigh(ww__result *result, ww_error *err) {
    const size_t n = result->n;
    result->own = calloc(n * n, sizeof *result->own);
    result->shared = calloc(n * n, sizeof *result->shared);
    result->factor = calloc(n * n, sizeof *result->factor);
    if (!result->own || !result->shared || !result->factor)
        return ww_error_set(err, WW_EMEMORY, "no memory for the errors of %zu readings", n);
    return fill(result, err);
}

ww_status ww__result_points_move(ww__result *result, double log_h, ww_error *err) {
    result->moved = log_h;
    return fill(result, err);
}

ww_status ww__result_points_set(ww__result *result, ww_error *err) {
    const size_t room = 3 * result->negative->n;
    ww_status status = WW_OK;
    result->point = calloc(room + 1, sizeof *result->point);
    if (!result->point)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu readings", room);
    for (size_t i = 0; i < result->negative->n && status == WW_OK; i++)
        if (!result->negative->spot[i].base)
            status = add_tone(result, &result->negative->spot[i], err);
    if (status == WW_OK && result->n == 0)
        status = ww_error_set_at(err, WW_ENODATA, result->print->file, 0,
                                 "no tone of the print has a density; read the tones that the "
                                 "negative has");
    if (status == WW_OK && result->n > WW_PRINT_RESULT_TONES_MOST)
        status = ww_error_set_at(err, WW_EDOMAIN, result->print->file, 0,
                                 "%zu readings of the print are more than are weighed, %d; give "
                                 "those of the tones that matter",
                                 result->n, WW_PRINT_RESULT_TONES_MOST);
    return status == WW_OK ? weigh(result, err) : status;
}

void ww__result_release(ww__result *result) {
    free(result->point);
    free(result->own);
    free(result->shared);
    free(result->factor);
}
