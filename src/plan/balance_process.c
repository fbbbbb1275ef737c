/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS, OTHERS_SIZE = 128 };

static const double white_apart = 0.03; /* [D] of two bare papers; common practice */

/* The paper's curve may know its own: it cannot speak for the readings of another day. */
static ww_status note_status(const ww__balance_work *work, ww_error *err) {
    const bool print = work->print.meta.status == WW_STATUS_UNKNOWN;
    const bool aim = work->aim.meta.status == WW_STATUS_UNKNOWN;
    if (!print && !aim)
        return WW_OK;
    return ww__print_say(&work->plan->notes, err,
                         "The status of the %s is unknown, and it must be one and the same for "
                         "print, aim and curve: add a line as '# status: A' to what was read so.",
                         print && aim ? "print's and the aim's densities"
                         : print      ? "print's densities"
                                      : "aim's densities");
}

/* --- bare paper ------------------------------------------------------------------------------- */

typedef struct white {
    const char *of;
    bool known[COLOURS];
    double value[COLOURS], error[COLOURS];
} white;

static white read_white(const char *of, const ww_readings *readings) {
    white made = {.of = of};
    for (size_t c = 0; c < COLOURS; c++)
        made.known[c] =
            ww__print_readings_white(readings, (ww_channel)c, &made.value[c], &made.error[c]);
    return made;
}

/* A base row of the paper's wedge, else what was fitted. */
static white curve_white(const ww_curve *paper) {
    white made = {.of = "paper's file"};
    for (size_t c = 0; c < COLOURS; c++) {
        const ww_quantity base = paper->channel[c].figure[WW_FIGURE_BASE_FOG];
        made.known[c] = ww_quantity_present(base) && paper->meta.relative != WW_RELATIVE_WHITE;
        made.value[c] = base.value;
        made.error[c] = 0.5 * (base.high - base.low) / WW__BALANCE_95;
    }
    return made;
}

/* What the print has more than another; 0 where that is no more than two papers may differ by. */
static double apart(const white *print, const white *other, size_t c) {
    const double by = print->value[c] - other->value[c];
    if (!print->known[c] || !other->known[c] ||
        fabs(by) < fmax(white_apart, WW__BALANCE_95 * hypot(print->error[c], other->error[c])))
        return 0.0;
    return by;
}

/* In the colour that is worst, every white that the print's does not go with, as " 0.09 in the aim,
 * 0.10 in the ring-around". */
static ww_status note_white(const ww__balance_work *work, ww_error *err) {
    const white print = read_white("print", &work->print);
    const white other[] = {read_white("aim", &work->aim), curve_white(work->request->paper),
                           read_white("ring-around", &work->ring)};
    enum { OTHERS = sizeof other / sizeof *other };
    char others[OTHERS_SIZE] = "";
    double worst = 0.0;
    size_t at = 0;
    for (size_t i = 0; i < OTHERS; i++)
        for (size_t c = 0; c < COLOURS; c++)
            if (fabs(apart(&print, &other[i], c)) > fabs(worst)) {
                worst = apart(&print, &other[i], c);
                at = c;
            }
    if (fabs(worst) <= 0.0)
        return WW_OK;
    for (size_t i = 0; i < OTHERS; i++) {
        const size_t used = strlen(others);
        if (fabs(apart(&print, &other[i], at)) > 0.0)
            ww__print_format(others + used, sizeof others - used, "%s %.2f in the %s",
                             used ? "," : "", other[i].value[at], other[i].of);
    }
    return ww__print_say(&work->plan->notes, err,
                         "Bare paper reads %.2f in %s in this print, against%s: another paper, "
                         "stain or fog, which no pack cures. See to the process and read bare "
                         "paper again first; of another paper give its own curve, aim and ring.",
                         print.value[at], ww_channel_name((ww_channel)at), others);
}

/* --- doubt ------------------------------------------------------------------------------------ */

static ww_status note_paper(const ww__balance_work *work, ww_error *err) {
    const ww_curve *paper = work->request->paper;
    for (size_t c = 0; c < COLOURS; c++)
        if (!paper->channel[c].covariance)
            return ww__print_say(&work->plan->notes, err,
                                 "The paper's curve carries no covariance, so its own doubt is "
                                 "left out; fit its readings again.");
    return WW_OK;
}

/* Without a ring-around what filters do is mostly in so much doubt that no print's scatter adds to
 * it. */
static ww_status note_repeatability(const ww__balance_work *work, ww_error *err) {
    const ww_balance *plan = work->plan;
    const ww_balance_tone *tone = &plan->tone[plan->solved_for];
    double usual[COLOURS * COLOURS] = {0.0};
    ww_balance_doubt of;
    ww_status status;
    if (work->request->repeatability.set || work->scatter > 0.0)
        return WW_OK;
    for (size_t c = 0; c < COLOURS; c++)
        usual[c * COLOURS + c] = pow(WW_BALANCE_REPEATABILITY_USUAL / tone->slope[c], 2);
    status = ww__balance_doubt(plan, &plan->exact.pack, usual, &of, err);
    if (status != WW_OK || (plan->ring_rows == 0 && plan->doubt_cc > of.filter))
        return status;
    return ww__print_say(&work->plan->notes, err,
                         "How much two prints of one setting differ is not in the doubt: give "
                         "--repeatability the standard deviation of the same grey on several "
                         "prints made alike. The usual %.2f D (common practice) alone would make "
                         "+-%.1f %s of it.",
                         WW_BALANCE_REPEATABILITY_USUAL, of.filter,
                         ww__balance_unit(plan->head_scale));
}

ww_status ww__balance_note_process(const ww__balance_work *work, ww_error *err) {
    ww_status status = note_status(work, err);
    if (status == WW_OK)
        status = note_white(work, err);
    if (status == WW_OK)
        status = note_paper(work, err);
    return status == WW_OK ? note_repeatability(work, err) : status;
}
