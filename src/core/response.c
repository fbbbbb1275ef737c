/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/gls.h"
#include "core/response_prior.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLOURS = WW_RESPONSE_COLOURS, ACTS = WW_RESPONSE_ACTS, TERMS = WW_RESPONSE_TERMS };

static const double suspect_chance = 0.001, suspect_lead = 9.0;

void ww_response_usual(ww_response *response) {
    assert(response);
    *response = (ww_response){.rows = 0};
    for (size_t c = 0; c < COLOURS; c++)
        for (size_t a = 0; a < ACTS; a++)
            response->term[c][a] = ww__response_prior_mean(c, a);
    ww__response_prior(response->covariance);
}

/* What a move of filters may bend in a channel: little of a small one, more of a large one, and no
 * more than the usual filter does there at all. */
static double bend_of(const double act[ACTS], size_t colour) {
    double sum = 0.0;
    for (size_t f = 1; f < ACTS; f++) {
        const double does = ww__response_prior_mean(colour, f) * act[f];
        sum = hypot(sum, does * hypot(WW_RESPONSE_BEND, WW_RESPONSE_BEND_FAR * act[f]));
    }
    return sum;
}

/* --- least squares ---------------------------------------------------------------------------- */

/*
 * All terms, then an r_c of each grey and channel: p unknowns. The normal equations N t = v hold
 * the prior as so many readings more.
 */
typedef struct equations {
    size_t p;
    double *n; /* p x p; later its factor */
    double *v;
    double *x; /* p, for one row */
} equations;

static bool start(equations *e, size_t greys) {
    e->p = TERMS + COLOURS * greys;
    e->n = calloc(e->p * e->p, sizeof *e->n);
    e->v = calloc(e->p, sizeof *e->v);
    e->x = calloc(e->p, sizeof *e->x);
    return e->n && e->v && e->x;
}

static void end(equations *e) {
    free(e->n);
    free(e->v);
    free(e->x);
}

/* x becomes N^-1 x. */
static void solve(const equations *e, double x[]) {
    ww__gls_whiten(e->n, e->p, x);
    ww__gls_whiten_transposed(e->n, e->p, x);
}

/* The inverse of the prior's covariance. */
static void invert_prior(double weight[TERMS * TERMS]) {
    double factor[TERMS * TERMS];
    bool regular;
    ww__response_prior(factor);
    regular = ww__gls_factor(factor, TERMS);
    assert(regular);
    (void)regular;
    for (size_t j = 0; j < TERMS; j++) {
        double unit[TERMS] = {0.0};
        unit[j] = 1.0;
        ww__gls_whiten(factor, TERMS, unit);
        ww__gls_whiten_transposed(factor, TERMS, unit);
        memcpy(weight + j * TERMS, unit, sizeof unit);
    }
}

static void add_prior(equations *e, const double weight[TERMS * TERMS]) {
    for (size_t j = 0; j < TERMS; j++)
        for (size_t k = 0; k < TERMS; k++) {
            e->n[j * e->p + k] = weight[j * TERMS + k];
            e->v[j] += weight[j * TERMS + k] * ww__response_prior_mean(k / ACTS, k % ACTS);
        }
}

static double variance_of(const ww_response_row *row, size_t colour) {
    const double bend = bend_of(row->act, colour);
    return row->error[colour] * row->error[colour] + bend * bend;
}

static void design(const equations *e, const ww_response_row *row, size_t colour) {
    memset(e->x, 0, e->p * sizeof *e->x);
    memcpy(e->x + colour * ACTS, row->act, sizeof row->act);
    e->x[TERMS + row->grey * COLOURS + colour] = 1.0;
}

static void add_row(equations *e, const ww_response_row *row) {
    for (size_t c = 0; c < COLOURS; c++) {
        const double weight = 1.0 / variance_of(row, c);
        design(e, row, c);
        for (size_t j = 0; j < e->p; j++) {
            if (e->x[j] == 0.0)
                continue;
            e->v[j] += weight * e->x[j] * row->log_h[c];
            for (size_t k = 0; k < e->p; k++)
                e->n[j * e->p + k] += weight * e->x[j] * e->x[k];
        }
    }
}

/* Row `skip` is left out besides those that are; n for none. */
static bool counts(const ww_response_row row[], size_t i, size_t skip) {
    return i != skip && !row[i].left_out;
}

/* What rows and prior together leave, in squared errors; t are all unknowns. */
static double misfit(const equations *e, const double weight[TERMS * TERMS],
                     const ww_response_row row[], size_t n, size_t skip, const double t[]) {
    double off[TERMS], sum = 0.0;
    for (size_t k = 0; k < TERMS; k++)
        off[k] = t[k] - ww__response_prior_mean(k / ACTS, k % ACTS);
    for (size_t k = 0; k < TERMS; k++)
        sum += off[k] * ww__gls_dot(weight + k * TERMS, off, TERMS);
    for (size_t i = 0; i < n; i++)
        for (size_t c = 0; c < COLOURS && counts(row, i, skip); c++) {
            double left;
            design(e, &row[i], c);
            left = row[i].log_h[c] - ww__gls_dot(e->x, t, e->p);
            sum += left * left / variance_of(&row[i], c);
        }
    return sum;
}

/* Terms and their covariance out of the factored equations. */
static void take(equations *e, ww_response *response) {
    solve(e, e->v);
    memcpy(response->term, e->v, TERMS * sizeof *e->v);
    for (size_t j = 0; j < TERMS; j++) {
        memset(e->x, 0, e->p * sizeof *e->x);
        e->x[j] = 1.0;
        solve(e, e->x);
        memcpy(response->covariance + j * TERMS, e->x, TERMS * sizeof *e->x);
    }
}

static ww_status fit_without(const ww_response_row row[], size_t n, size_t n_greys, size_t skip,
                             ww_response *response, ww_error *err) {
    ww_response made = {.rows = 0};
    double weight[TERMS * TERMS];
    equations e;
    ww_status status = WW_OK;
    invert_prior(weight);
    if (!start(&e, n_greys)) {
        end(&e);
        return ww_error_set(err, WW_EMEMORY, "no memory for a ring-around");
    }
    add_prior(&e, weight);
    for (size_t i = 0; i < n; i++)
        if (counts(row, i, skip)) {
            add_row(&e, &row[i]);
            made.rows++;
        }
    if (ww__gls_factor(e.n, e.p)) {
        take(&e, &made);
        made.chi_squared = misfit(&e, weight, row, n, skip, e.v);
        made.freedom = COLOURS * (made.rows - n_greys);
        *response = made;
    } else { /* nothing tells the r_c of that grey */
        status = ww_error_set(
            err, WW_EDOMAIN, "a grey of the ring-around is in none of its rows; give its readings");
    }
    end(&e);
    return status;
}

static ww_status check_row(const ww_response_row *row, size_t n_greys, ww_error *err) {
    bool good = row->grey < n_greys;
    for (size_t a = 0; a < ACTS; a++)
        good = good && isfinite(row->act[a]);
    for (size_t c = 0; c < COLOURS; c++)
        good = good && isfinite(row->log_h[c]) && row->error[c] > 0.0 && isfinite(row->error[c]);
    if (good)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN,
                        "a row of the ring-around has no finite number or no error; check its "
                        "pack, time and densities");
}

ww_status ww_response_fit(const ww_response_row row[], size_t n, size_t n_greys,
                          ww_response *response, ww_error *err) {
    ww_response made;
    ww_status status = WW_OK;
    assert(row && response);
    if (n < 1 || n > WW_RESPONSE_ROWS_MOST || n_greys < 1 || n_greys > WW_RESPONSE_GREYS_MOST)
        return ww_error_set(err, WW_EDOMAIN,
                            "a ring-around of %zu rows and %zu greys is none; give 1 to %d rows "
                            "of at most %d greys",
                            n, n_greys, (int)WW_RESPONSE_ROWS_MOST, (int)WW_RESPONSE_GREYS_MOST);
    for (size_t i = 0; i < n && status == WW_OK; i++)
        status = check_row(&row[i], n_greys, err);
    if (status == WW_OK)
        status = fit_without(row, n, n_greys, n, &made, err);
    if (status != WW_OK)
        return status;
    if (made.freedom > 0 && made.chi_squared > (double)made.freedom)
        for (size_t k = 0; k < TERMS * TERMS; k++)
            made.covariance[k] *= made.chi_squared / (double)made.freedom;
    *response = made;
    return WW_OK;
}

/* Whether another row that counts has the same grey. */
static bool has_company(const ww_response_row row[], size_t n, size_t i) {
    for (size_t k = 0; k < n; k++)
        if (k != i && !row[k].left_out && row[k].grey == row[i].grey)
            return true;
    return false;
}

ww_status ww_response_suspect(const ww_response_row row[], size_t n, size_t n_greys,
                              size_t *suspect, ww_error *err) {
    ww_response whole, without;
    double most = 0.0, next = 0.0;
    size_t which = n;
    ww_status status;
    assert(suspect);
    status = ww_response_fit(row, n, n_greys, &whole, err);
    for (size_t i = 0; i < n && status == WW_OK; i++) {
        double fall;
        if (row[i].left_out || !has_company(row, n, i))
            continue;
        status = fit_without(row, n, n_greys, i, &without, err);
        if (status != WW_OK)
            return status;
        fall = whole.chi_squared - without.chi_squared;
        next = fmax(next, fmin(fall, most));
        which = fall > most ? i : which;
        most = fmax(most, fall);
    }
    if (status != WW_OK)
        return status;
    *suspect = which < n && most - next > suspect_lead &&
                       (double)whole.rows * ww__gls_chance(most, COLOURS) < suspect_chance
                   ? which
                   : n;
    return WW_OK;
}

double ww_response_chance(double chi_squared, size_t freedom) {
    return ww__gls_chance(chi_squared, freedom);
}

/* --- what it foretells ------------------------------------------------------------------------ */

void ww_response_change(const ww_response *response, const double act[ACTS],
                        double change[COLOURS]) {
    assert(response && act && change);
    for (size_t c = 0; c < COLOURS; c++)
        change[c] = ww__gls_dot(response->term[c], act, ACTS);
}

void ww_response_change_covariance(const ww_response *response, const double act[ACTS],
                                   double covariance[COLOURS * COLOURS]) {
    assert(response && act && covariance);
    for (size_t c = 0; c < COLOURS; c++) {
        const double bend = bend_of(act, c);
        for (size_t d = 0; d < COLOURS; d++) {
            double sum = c == d ? bend * bend : 0.0;
            for (size_t a = 0; a < ACTS; a++)
                sum +=
                    act[a] * ww__gls_dot(response->covariance + (c * ACTS + a) * TERMS + d * ACTS,
                                         act, ACTS);
            covariance[c * COLOURS + d] = sum;
        }
    }
}

double ww_response_told(const ww_response *response, size_t act) {
    ww_response before;
    double most = 0.0;
    assert(response && act < ACTS);
    ww_response_usual(&before);
    for (size_t c = 0; c < COLOURS; c++) {
        const size_t k = (c * ACTS + act) * (TERMS + 1);
        if (act == 0 || act == ww__response_prior_own(c))
            most = fmax(most, sqrt(response->covariance[k] / before.covariance[k]));
    }
    return most;
}
