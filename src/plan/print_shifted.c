/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>

/* A paper's steps may stand where `fit` moved them, as if one had been skipped or read twice. What
 * lies there is as far off as they were moved, should that be wrong. */

static const double unmoved = 1e-9; /* [log H] the rounding of exposures in a file */

static double moved_near(const ww__print_sheet *sheet, double log_h) {
    const ww_channel_curve *channel = sheet->channel;
    const double at = sheet->pivot + (log_h - sheet->pivot) / sheet->stretch;
    double moved = 0.0, nearest = HUGE_VAL;
    for (size_t i = 0; i < channel->n_points; i++) {
        const double away = fabs(channel->point[i].log_h - at);
        if (away < nearest) {
            nearest = away;
            moved = channel->point[i].moved;
        }
    }
    return sheet->stretch * moved;
}

double ww__print_shifted(const ww__print_sheet *sheet, double log_h) {
    double net = 0.0, sum = 0.0;
    if (!sheet->beside[0])
        return moved_near(sheet, log_h);
    if (!ww__print_papers_net(sheet, log_h, &net, NULL))
        return 0.0;
    for (int i = 0; i < 2; i++) {
        const ww__print_sheet *beside = sheet->beside[i];
        double at = 0.0;
        if (ww__print_papers_log_h(beside, net / sheet->dmax * beside->dmax, &at))
            sum += moved_near(beside, at);
    }
    return 0.5 * sum;
}

double ww__print_shifted_time(const ww_print_request *request, const ww__print_sheet *sheet,
                              double log_h, const ww__print_test *test) {
    double shift = ww__print_shifted(sheet, log_h), place = 0.0;
    if (ww__print_offset_place(request, sheet, test, &place)) {
        shift -= ww__print_shifted(sheet, place);
        return fabs(shift) > unmoved ? shift : 0.0;
    }
    if (test->used)
        shift -= (1.0 - test->share) * ww__print_shifted(sheet, test->log_h);
    if (test->both)
        shift -= test->share * ww__print_shifted(sheet, test->other_log_h);
    if (sheet->offset && !test->used)
        shift = 0.0; /* prints have it in them */
    return fabs(shift) > unmoved ? shift : 0.0;
}

/* The first point that was moved; NULL where none was. */
static const ww_curve_point *first_moved(const ww__print_sheet *sheet) {
    for (size_t i = 0; i < sheet->channel->n_points; i++)
        if (fabs(sheet->channel->point[i].moved) > unmoved)
            return &sheet->channel->point[i];
    return NULL;
}

static ww_status say_sheet(const ww__print_sheet *sheet, ww_notes *notes, ww_error *err) {
    const ww_curve_point *first = first_moved(sheet);
    const char *contrast = sheet->curve->meta.contrast;
    if (!first)
        return WW_OK;
    return ww__print_say(notes, err,
                         "Of '%s'%s%s, step '%s' and those after it stand %.2f log H off their own "
                         "exposures: the fit moved them, as if a step had been skipped or read "
                         "twice. Read that strip again from there.",
                         ww__print_show(sheet->name).text, contrast ? ", " : "",
                         ww__print_show(contrast ? contrast : "").text,
                         ww__print_show(first->step).text, fabs(first->moved));
}

ww_status ww__print_shifted_say(const ww__print_subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_candidate *choice = s->choice;
    const ww__print_sheet *sheet = choice->sheet;
    const double log_h = choice->fate.first_log_h;
    const double shift = ww__print_shifted_time(s->request, sheet, log_h, &choice->test);
    const double exponent = ww__print_time_exponent(
        s->request, ww__print_time_reference(s->request, sheet, &choice->fate, &choice->test));
    ww_status status = WW_OK;
    for (int i = 0; i < 2 && sheet->beside[i] && status == WW_OK; i++)
        status = say_sheet(sheet->beside[i], notes, err);
    if (!sheet->beside[0])
        status = say_sheet(sheet, notes, err);
    if (status != WW_OK || !choice->paper.time_s.set || shift == 0.0)
        return status;
    return ww__print_say(notes, err,
                         "Without that move of the steps the time would be %.3g s; the doubt "
                         "holds it.",
                         choice->paper.time_s.value * pow(10.0, -exponent * shift));
}
