/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double step_cc = 5.0; /* [CC] finer than a direction is */
/* 95 % of 136 such prints, simulated by hand on drawn spectra: each direction led nearer, to a
 * print that could be balanced. */
static const double half_cc = 30.0;
static const double log_stop = 0.30102999566398119521; /* log10 2 */

/* How a print lies against its aim, each colour on its own curve, as if dyes were pure. */
typedef struct way {
    double change[COLOURS]; /* [log H] from the one to the other */
    size_t
        n_off; /* of the print's colours off the slope: taken for where it ends, at least so far */
} way;

/* Where a density is on the slope, or the end of it that the density lies beyond. */
static bool find_end(const ww_channel_curve *curve, double density, double *log_h) {
    double low, high, at, at_low = 0.0, at_high = 0.0;
    if (!ww__balance_sloped(curve, &low, &high))
        return false;
    if (ww_curve_log_h(curve, density, &at, NULL) == WW_OK) {
        *log_h = fmin(fmax(at, low), high);
        return true;
    }
    (void)ww_curve_density(curve, low, &at_low, NULL, NULL);
    (void)ww_curve_density(curve, high, &at_high, NULL, NULL);
    *log_h = fabs(density - at_low) < fabs(density - at_high) ? low : high;
    return true;
}

static bool find_way(const ww_curve *paper, const ww_row *print, const ww_row *aim, way *found) {
    found->n_off = 0;
    for (size_t c = 0; c < COLOURS; c++) {
        double from, to, slope;
        if (ww__balance_look(paper, c, aim->cell[c].value, &to, &slope, NULL) != WW_OK)
            return false;
        if (ww__balance_look(paper, c, print->cell[c].value, &from, &slope, NULL) != WW_OK) {
            if (!find_end(&paper->channel[c], print->cell[c].value, &from))
                return false;
            found->n_off++;
        }
        found->change[c] = to - from;
    }
    return true;
}

/* Of filters a colour off the slope tells nothing; of time it does where all colours want the same
 * of it. Of 48 such prints of six papers, simulated by hand up to 2.5 stops off, 47 came within a
 * stop by it, the other within 1.1, and all could be balanced then. */
static void direct_time(const way *found, double time_s, ww_error *why) {
    const ww_error off = *why;
    const double *change = found->change;
    const double mean = (change[0] + change[1] + change[2]) / COLOURS;
    const double to_s = time_s * pow(10.0, mean);
    char text[WW__PRINT_TEXT_SIZE];
    for (size_t c = 0; c < COLOURS; c++)
        if (change[c] * mean <= 0.0)
            return;
    if (!(to_s >= WW_BALANCE_TIME_LEAST && to_s <= WW_BALANCE_TIME_MOST))
        return;
    ww__print_format(text, sizeof text,
                     "%s. As a direction, not a solution: every colour wants %s light, so print "
                     "again with the same filters and about %.2g s, %.1f %s %s (give or take 1 "
                     "stop%s), and balance that print",
                     off.msg, mean < 0.0 ? "less" : "more", to_s, fabs(mean) / log_stop,
                     ww__print_stops(fabs(mean) / log_stop), mean < 0.0 ? "less" : "more",
                     found->n_off == COLOURS ? "; nothing tells how far it is beyond the slope"
                                             : "");
    (void)ww_error_set(why, WW_ENODATA, "%s", text);
}

static void direct_filters(const way *found, const ww__balance_work *work, ww_error *why) {
    const ww_balance_request *request = work->request;
    char text[WW__PRINT_TEXT_SIZE], set[WW_PACK_TEXT_SIZE];
    double act[WW_RESPONSE_ACTS];
    ww_response usual;
    ww_pack pack;
    ww_response_usual(&usual);
    if (ww_response_solve(&usual, found->change, &work->from_cc, act, &pack, NULL) != WW_OK)
        return;
    pack = ww__balance_dial(&pack, request->head_scale);
    ww_pack_round(&pack, step_cc * request->head_scale);
    ww__print_format(text, sizeof text,
                     "the cast is too strong for so dark a print: no light of the paper's three "
                     "layers within its measured curves gives these densities. As a direction, "
                     "not a solution: print again with about %s and %.2g s (give or take %.0f %s "
                     "and 1/3 stop), and balance that print",
                     ww_pack_format(&pack, set), request->from.time_s * pow(10.0, act[0]),
                     half_cc * request->head_scale, ww__balance_unit(request->head_scale));
    (void)ww_error_set(why, WW_ENODATA, "%s", text);
}

static void direct(const ww__balance_work *work, const ww__balance_refused *refused,
                   ww_error *why) {
    way found;
    if (!find_way(work->request->paper, refused->print, refused->aim, &found))
        return;
    if (found.n_off > 0)
        direct_time(&found, work->request->from.time_s, why);
    else
        direct_filters(&found, work, why);
}

/* --- whose fault it is ------------------------------------------------------------------------ */

ww_status ww__balance_blame_aim(ww__balance_refused *refused) {
    const ww_cell *cell = refused->aim->cell;
    const ww_error why = refused->why;
    char text[WW__PRINT_TEXT_SIZE];
    refused->of_aim = true;
    ww__print_format(text, sizeof text,
                     "no print comes to the aim %.2f, %.2f, %.2f in red, green and blue: %s, or "
                     "read the approved print again",
                     cell[0].value, cell[1].value, cell[2].value, why.msg);
    return ww_error_set(&refused->why, why.code, "%s", text);
}

ww_status ww__balance_refuse(const ww__balance_work *work, const ww__balance_refused *refused,
                             ww_error *err) {
    const ww_readings *readings = refused->of_aim ? &work->aim : &work->print;
    const ww_row *row = refused->of_aim ? refused->aim : refused->print;
    ww_error why = refused->why;
    if (!refused->of_aim)
        direct(work, refused, &why);
    return ww_error_set_at(err, why.code, readings->file, row->line, "%s", why.msg);
}
