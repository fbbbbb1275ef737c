/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_RESPONSE_H
#define WEDGEWORK_RESPONSE_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/pack.h>

/*
 * What time and filters do to a colour print. A print's densities stand for the log exposures of
 * the paper's three layers (wedgework/layers.h); in these the acts at the enlarger are linear as
 * far as a ring-around reaches, whatever the curves do:
 *
 *   log H_c = r_c + b_c1 log10(t/t0) + b_c2 dY + b_c3 dM + b_c4 dC,   dY = (Y - Y0) / 100, ...
 *
 * for each of red, green and blue, r_c being that of the print that acts are counted from. Ideal
 * filters have b = 1 for the time, -1 for a filter in its own channel, 0 elsewhere; real ones hold
 * back light of the others, too.
 */
enum {
    WW_RESPONSE_COLOURS = 3, /* red, green, blue, as ww_channel */
    WW_RESPONSE_ACTS = 4,    /* log10 time ratio; yellow, magenta, cyan in hundredths of CC */
    WW_RESPONSE_TERMS = WW_RESPONSE_COLOURS * WW_RESPONSE_ACTS,
    WW_RESPONSE_GREYS_MOST = 16,
    WW_RESPONSE_ROWS_MOST = 400
};

/* A move of m hundredths of CC is not quite linear: of what the usual filter does in a channel,
 * b m, BEND b m and BEND_FAR b m^2 of log H are left open there, for a layer sees the edges of a
 * filter, too, and dichroic filters that slide into the light do less the further they are in;
 * tried in tests/plan/test_balance_trial.c. */
#define WW_RESPONSE_BEND 0.013
#define WW_RESPONSE_BEND_FAR 0.13

/* Standard deviation, as a share, of how much all filters of a head do of their number: of heads
 * that nobody measured. From memory: two thirds are as common as all of it. */
#define WW_RESPONSE_STRENGTH 0.18

/* One grey of one print of a ring-around. */
typedef struct ww_response_row {
    size_t grey;                  /* which grey: each has an r_c of its own */
    double act[WW_RESPONSE_ACTS]; /* against the print that acts are counted from */
    double log_h[WW_RESPONSE_COLOURS];
    double error[WW_RESPONSE_COLOURS]; /* standard errors [log H]   > 0 */
    bool left_out;
} ww_response_row;

/* The response and its doubt, term [colour][act], the covariance of all terms row by row. */
typedef struct ww_response {
    double term[WW_RESPONSE_COLOURS][WW_RESPONSE_ACTS];
    double covariance[WW_RESPONSE_TERMS * WW_RESPONSE_TERMS];
    size_t rows;        /* that it was learned from */
    double chi_squared; /* of the rows and of what was thought before */
    size_t freedom;     /* 3 (rows - greys) */
} ww_response;

/*
 * ww_response_usual - what is thought of the response before any print was read: that of a usual
 *                     head, give or take what heads, and the dyes of papers, are off by.
 *
 *     filter holds back of   red    green  blue
 *     cyan                   0.95   0.17   0.05   of its number; three equal filters are grey
 *     magenta                0.05   0.75   0.20
 *     yellow                 0      0.08   0.75
 *
 *   A dye that is none of the usual ones takes a share of a channel from its own light and gives it
 *   to another, the shares of a channel being 1 together, for by the paper's own curve all light
 *   together does what it does. All filters of a head may be weaker or stronger than their numbers
 *   by one share (18 %), each by a share of its own (6 %), in every channel; what one holds back of
 *   another channel is open by up to 0.12 (cyan in green), time by 5 %.
 *
 * Source    common practice: magenta filters hold back some blue, yellow ones some green; 10Y + 10M
 *           + 10C are a density of 0.10; amounts and standard deviations from memory
 */
void ww_response_usual(ww_response *response);

/*
 * ww_response_fit - the response by a ring-around: least squares in which what is thought of it
 *                   beforehand counts as so many readings.
 *
 *   What a move of filters may bend is added to a row's error. Where rows and response agree worse
 *   than their errors say, the covariance is widened by chi^2 / freedom.
 *
 * Source    Gaussian prior and likelihood (textbook)
 * Given     row      those left out do not count; each grey below n_greys is in one that does
 *           n        1 to 400
 *           n_greys  1 to 16
 * Returned  *response
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold, an error that is not > 0, a number
 *           that is not finite; WW_EMEMORY
 * Accuracy  1e-9 of its doubt, against the closed form of one row and one act
 */
ww_status ww_response_fit(const ww_response_row row[], size_t n, size_t n_greys,
                          ww_response *response, ww_error *err);

/*
 * ww_response_suspect - the row that does not go with the others.
 *
 *   Each is left out in turn. The one without which chi^2 falls most is suspect where a fall so
 *   large has a chance below 1 in 1000 among the rows, and leaving out no other row helps
 *   as much, by 9.
 *
 * Source    outlier by deletion, chi-square law with 3 degrees of freedom (textbook); the limits
 *           are common practice
 * Returned  *suspect  index of the row; n where there is none
 * Status    as ww_response_fit
 */
ww_status ww_response_suspect(const ww_response_row row[], size_t n, size_t n_greys,
                              size_t *suspect, ww_error *err);

/*
 * ww_response_scatter - by how much prints made alike scatter besides their rows' errors: what
 *                       makes chi^2 of the rows' fit its freedom; 0 where it is no more without.
 *
 * Source    method of moments (textbook); Student's t for few prints
 * Given     row, n, n_greys  as ww_response_fit
 *           per_d    error of log H by one of 1 D in every colour, of each row     >= 0
 * Returned  *sd      [D] 0.2 at most
 *           *wide    that, as much wider as t at 95 % is: a degree of freedom a print beyond the
 *                    first of its grey, three at least, for it tells in three colours
 * Status    as ww_response_fit
 */
ww_status ww_response_scatter(const ww_response_row row[],
                              const double per_d[][WW_RESPONSE_COLOURS], size_t n, size_t n_greys,
                              double *sd, double *wide, ww_error *err);

/* ww_response_chance - chance of a chi^2 so large or larger; chi-square law. */
double ww_response_chance(double chi_squared, size_t freedom);

/*
 * ww_response_change - what acts change in each channel [log H].
 * ww_response_change_covariance - the covariance of that, 3 x 3, the bend in it.
 */
void ww_response_change(const ww_response *response, const double act[WW_RESPONSE_ACTS],
                        double change[WW_RESPONSE_COLOURS]);
void ww_response_change_covariance(const ww_response *response, const double act[WW_RESPONSE_ACTS],
                                   double covariance[WW_RESPONSE_COLOURS * WW_RESPONSE_COLOURS]);

/* ww_response_told - share of what was open beforehand of a filter in its own channel, or of time
 *                    in all three, that still is: standard deviations, 1 where nothing is told. */
double ww_response_told(const ww_response *response, size_t act);

/*
 * ww_response_solve - the pack of two filters at most, none below 0, and the time, that change the
 *                     three log exposures by so much.
 *
 *   Filters are solved for at the same time; then neutral density, as this response has it, is
 *   added or taken out, and the time goes with it, until the least filter is 0.
 *
 * Source    definition
 * Given     response
 *           change    of red, green, blue                            [log H]   finite
 *           from      pack that acts are counted from                [CC]
 * Returned  act       log10 time ratio, and filters as changes from `from` in hundredths of CC
 *           *to       the pack
 * Status    WW_OK; WW_EDOMAIN the response is none of three filters: they do not tell the channels
 *           apart, or no mixture of them is grey
 */
ww_status ww_response_solve(const ww_response *response, const double change[WW_RESPONSE_COLOURS],
                            const ww_pack *from, double act[WW_RESPONSE_ACTS], ww_pack *to,
                            ww_error *err);

/*
 * ww_response_time - the time that comes nearest with filters that are set.
 *
 *   least sum of weight_c (change_c - b_c1 E - filters)^2
 *
 * Given     weight  of each channel   >= 0, one > 0
 *           act     filters in [1] to [3]
 * Returned  act[0]
 */
void ww_response_time(const ww_response *response, const double change[WW_RESPONSE_COLOURS],
                      const double weight[WW_RESPONSE_COLOURS], double act[WW_RESPONSE_ACTS]);

/*
 * ww_response_doubt - standard errors of acts that were solved for, by those of the log exposures
 *                     that they have to make; the filter that is 0 stays so.
 *
 * Given     to          the pack solved for
 *           covariance  of the three log exposures, 3 x 3
 * Returned  doubt in the units of acts, 0 for the filter that is 0
 * Status    as ww_response_solve
 */
ww_status ww_response_doubt(const ww_response *response, const ww_pack *to,
                            const double covariance[WW_RESPONSE_COLOURS * WW_RESPONSE_COLOURS],
                            double doubt[WW_RESPONSE_ACTS], ww_error *err);

/*
 * ww_response_lean - how many times wider than to first order an interval of a filter is that has
 *                    to make a change, where its strength b is in doubt by h of itself at 95 %.
 *
 *   (1 / (1 - h) - 1 / (1 + h)) / 2 = h / (1 - h^2)
 *
 * so that of a head weaker than thought more is asked than a stronger one needs less.
 *
 * Source    definition: the ends of b turned round; h of the filter in its own channel, 0.8 at most
 * Given     filter  as ww_filter
 */
double ww_response_lean(const ww_response *response, size_t filter);

#endif
