/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double step_cc = 5.0; /* [CC] finer than a direction is */
/* 95 % of 136 such prints, simulated by hand on drawn spectra: each direction led nearer, to a
 * print that could be balanced. */
static const double half_cc = 30.0;
static const double log_stop = 0.30102999566398119521; /* log10 2 */

/* How a print lies against its aim, each colour on its own curve, as if dyes were pure. */
typedef struct way {
    double change[COLOURS]; /* [log H] from the one to the other */
    double excess[COLOURS]; /* [D] of the print over its aim */
    bool off[COLOURS];      /* off the slope: taken for where it ends, at least so far */
    size_t n_off;
} way;

/* Where a density is on the slope, or the end of it that the density lies beyond. */
static bool find_end(const ww_channel_curve *curve, double density, double *log_h,
                     double *reached) {
    double low, high, at, at_low = 0.0, at_high = 0.0;
    if (!ww__balance_sloped(curve, &low, &high))
        return false;
    (void)ww_curve_density(curve, low, &at_low, NULL, NULL);
    (void)ww_curve_density(curve, high, &at_high, NULL, NULL);
    if (ww_curve_log_h(curve, density, &at, NULL) == WW_OK)
        *log_h = fmin(fmax(at, low), high);
    else
        *log_h = fabs(density - at_low) < fabs(density - at_high) ? low : high;
    return ww_curve_density(curve, *log_h, reached, NULL, NULL) == WW_OK;
}

static bool find_way(const ww_curve *paper, const ww_row *print, const ww_row *aim, way *found) {
    *found = (way){.n_off = 0};
    for (size_t c = 0; c < COLOURS; c++) {
        double from, to, slope, reached = print->cell[c].value;
        if (ww__balance_look(paper, c, aim->cell[c].value, &to, &slope, NULL) != WW_OK)
            return false;
        if (ww__balance_look(paper, c, reached, &from, &slope, NULL) != WW_OK) {
            if (!find_end(&paper->channel[c], reached, &from, &reached))
                return false;
            found->off[c] = true;
            found->n_off++;
        }
        found->change[c] = to - from;
        found->excess[c] = reached - aim->cell[c].value;
    }
    return true;
}

static void add(ww_error *why, const char *text) {
    const ww_error before = *why;
    (void)ww_error_set(why, WW_ENODATA, "%s. %s", before.msg, text);
}

/* "Against its aim it is too dark in red by 1.46 D at least (too cyan), right in green, ...". */
static void tell_colours(const way *found, ww_error *why) {
    char text[WW__PRINT_TEXT_SIZE] = "Against its aim it is ";
    for (size_t c = 0; c < COLOURS; c++) {
        const char *channel = ww_channel_name((ww_channel)c);
        const double by = found->excess[c];
        const size_t used = strlen(text);
        if (c > 0)
            ww__print_format(text + used, sizeof text - used, c == 1 ? ", " : " and ");
        if (!found->off[c] && fabs(by) < WW_BALANCE_WITHIN)
            ww__print_format(text + strlen(text), sizeof text - strlen(text), "right in %s",
                             channel);
        else
            ww__print_format(text + strlen(text), sizeof text - strlen(text),
                             "too %s in %s by %.2f D%s (too %s)", by > 0.0 ? "dark" : "light",
                             channel, fabs(by), found->off[c] ? " at least" : "",
                             ww_cast_name((ww_channel)c, by > 0.0));
    }
    add(why, text);
}

/* Colours that want the same of time want it alone where none wants over twice what another does:
 * then the cast can be told from that print. */
static bool is_of_time(const way *found) {
    double least = HUGE_VAL, most = 0.0;
    for (size_t c = 0; c < COLOURS; c++) {
        if (found->change[c] * found->change[0] <= 0.0)
            return false;
        least = fmin(least, fabs(found->change[c]));
        most = fmax(most, fabs(found->change[c]));
    }
    return most <= 2.0 * least;
}

/* Of 48 such prints of six papers, simulated by hand up to 2.5 stops off, 47 came within a
 * stop by it, the other within 1.1, and all could be balanced then. */
static void direct_time(const way *found, double time_s, ww_error *why) {
    const double *change = found->change;
    const double mean = (change[0] + change[1] + change[2]) / COLOURS;
    const double to_s = time_s * pow(10.0, mean);
    char text[WW__PRINT_TEXT_SIZE];
    if (!(to_s >= WW_BALANCE_TIME_LEAST && to_s <= WW_BALANCE_TIME_MOST))
        return;
    ww__print_format(text, sizeof text,
                     "As a direction, not a solution: every colour wants %s light, so print "
                     "again with the same filters and about %.2g s, %.1f %s %s (give or take 1 "
                     "stop%s), and balance that print",
                     mean < 0.0 ? "less" : "more", to_s, fabs(mean) / log_stop,
                     ww__print_stops(fabs(mean) / log_stop), mean < 0.0 ? "less" : "more",
                     found->n_off == COLOURS ? "; nothing tells how far it is beyond the slope"
                                             : "");
    add(why, text);
}

/* What an act is at least, by what it is for the light that is told and for more of it: nothing
 * where the two do not agree about its direction. */
static double at_least(double told, double more, double step) {
    return told * more <= 0.0
               ? 0.0
               : copysign(step * floor(fmin(fabs(told), fabs(more)) / step + 1e-9), told);
}

/* " take out at least 45 yellow and at least 45 magenta, add ...". */
static bool list_filters(const double by[WW_FILTER_COUNT], char *text, size_t size) {
    bool any = false;
    for (int out = 1; out >= 0; out--) {
        bool first = true;
        for (size_t f = 0; f < WW_FILTER_COUNT; f++) {
            const size_t used = strlen(text);
            if (out ? by[f] >= 0.0 : by[f] <= 0.0)
                continue;
            ww__print_format(text + used, size - used, "%s%s at least %.4g %s",
                             !first ? " and"
                             : any  ? ", "
                                    : "",
                             first ? out ? "take out" : "add" : "", fabs(by[f]),
                             ww_filter_name((ww_filter)f));
            first = false;
            any = true;
        }
    }
    return any;
}

/* Filters and time by the light that colours off the slope have too much or too little at least, so
 * that both are so much at least, too. Of 235 such prints of three papers, simulated by hand with
 * packs to 130 CC, all came nearer by it, and 213 could be balanced then. */
static void direct_cast(const way *found, const ww__balance_work *work, ww_error *why) {
    const double scale = work->request->head_scale;
    char text[WW__PRINT_TEXT_SIZE] = "As a direction, not a solution: ", time[64] = "";
    double act[2][WW_RESPONSE_ACTS], further[COLOURS], by[WW_FILTER_COUNT], stops;
    ww_pack pack[2];
    ww_response usual;
    ww_response_usual(&usual);
    for (size_t c = 0; c < COLOURS; c++)
        further[c] =
            found->change[c] + (found->off[c] ? copysign(log_stop, found->change[c]) : 0.0);
    if (ww_response_solve(&usual, found->change, &work->from_cc, act[0], &pack[0], NULL) != WW_OK ||
        ww_response_solve(&usual, further, &work->from_cc, act[1], &pack[1], NULL) != WW_OK)
        return;
    for (size_t f = 0; f < WW_FILTER_COUNT; f++)
        by[f] = scale * at_least(100.0 * act[0][f + 1], 100.0 * act[1][f + 1], step_cc);
    if (!list_filters(by, text, sizeof text))
        return;
    stops = at_least(act[0][0] / log_stop, act[1][0] / log_stop, 0.1);
    if (fabs(stops) > 0.0)
        ww__print_format(time, sizeof time, ", at least %.1f %s %s", fabs(stops),
                         ww__print_stops(fabs(stops)), stops > 0.0 ? "more" : "less");
    strncat(text, time, sizeof text - strlen(text) - 1);
    strncat(text, "; print so, and balance that print", sizeof text - strlen(text) - 1);
    add(why, text);
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
    if (found.n_off == 0) {
        direct_filters(&found, work, why);
        return;
    }
    tell_colours(&found, why);
    if (is_of_time(&found))
        direct_time(&found, work->request->from.time_s, why);
    else
        direct_cast(&found, work, why);
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
