/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double step_cc = 5.0; /* [CC] finer than a direction is */
/* 95 % of 136 such prints, simulated by hand on drawn spectra: each direction led nearer, to a
 * print that could be balanced. */
static const double half_cc = 30.0;

/* From the print's densities to the aim's, each colour on its own curve, as if dyes were pure. */
static bool find_change(const ww_curve *paper, const ww_row *print, const ww_row *aim,
                        double change[COLOURS]) {
    for (size_t c = 0; c < COLOURS; c++) {
        double from, to, slope;
        if (ww__balance_look(paper, c, print->cell[c].value, &from, &slope, NULL) != WW_OK ||
            ww__balance_look(paper, c, aim->cell[c].value, &to, &slope, NULL) != WW_OK)
            return false;
        change[c] = to - from;
    }
    return true;
}

void ww__balance_direct(const ww__balance_work *work, const ww_row *print, const ww_row *aim,
                        ww_error *why) {
    const ww_balance_request *request = work->request;
    char text[WW__PRINT_TEXT_SIZE], set[WW_PACK_TEXT_SIZE];
    double change[COLOURS], act[WW_RESPONSE_ACTS];
    ww_response usual;
    ww_pack pack;
    if (!find_change(request->paper, print, aim, change))
        return;
    ww_response_usual(&usual);
    if (ww_response_solve(&usual, change, &work->from_cc, act, &pack, NULL) != WW_OK)
        return;
    pack = ww__balance_dial(&pack, request->head_scale);
    ww_pack_round(&pack, step_cc * request->head_scale);
    ww__print_format(text, sizeof text,
                     "the cast is too strong for so dark a print: no light of the paper's three "
                     "layers within its measured curves gives these densities. As a direction, "
                     "not a solution: print again with about %s and %.2g s (give or take %.0f %s "
                     "and 1/3 stop), and balance that print",
                     ww_pack_format(&pack, set), request->from.time_s * pow(10.0, act[0]),
                     half_cc * request->head_scale,
                     fabs(request->head_scale - 1.0) < 1e-9 ? "CC" : "dial units");
    (void)ww_error_set(why, WW_ENODATA, "%s", text);
}
