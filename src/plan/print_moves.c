/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <wedgework/exposure.h>

static ww_status check_move(const ww_print_move *move, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (fabs(move->stops) <= WW_PRINT_MOVE_MOST) /* false for NAN */
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(text, sizeof text,
                                         "'%s' can't be given %g stops by hand; give %g to %g, "
                                         "negative for dodging",
                                         ww__print_show(move->tone).text, move->stops,
                                         -WW_PRINT_MOVE_MOST, WW_PRINT_MOVE_MOST));
}

/* Adds one move to those that its tone has already. */
static ww_status add_move(const ww_print_move *move, ww__print_negative *negative, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    double both[2] = {0.0, move->stops}, sum = 0.0;
    ww__print_spot *spot;
    size_t index = 0;
    ww_status status = check_move(move, err);
    if (status == WW_OK)
        status = ww__print_placing_find(negative, move->tone, "burn or dodge", &index, err);
    if (status != WW_OK)
        return status;
    spot = &negative->spot[index];
    if (spot->base)
        return ww_error_set(err, WW_EDOMAIN,
                            "'base' is the film's base+fog, which is no place in the picture; burn "
                            "or dodge a tone of it");
    both[0] = spot->hand.set ? spot->hand.value : 0.0;
    if (ww_exposure_moves(both, 2, &sum, NULL) != WW_OK) {
        ww__print_format(text, sizeof text,
                         "'%s' is held back %g stops and more besides, which add in seconds to the "
                         "whole time or over; hold back less",
                         ww__print_show(move->tone).text, -fmin(both[0], both[1]));
        return ww_error_set(err, WW_EDOMAIN, "%s", text);
    }
    spot->hand = (ww_optional){true, sum};
    return WW_OK;
}

/* Burns first: what they add can be held back again, in whichever order the moves were given. */
ww_status ww__print_moves_set(const ww_print_request *request, ww__print_negative *negative,
                              ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < request->n_moves && status == WW_OK; i++)
        if (!(request->move[i].stops < 0.0))
            status = add_move(&request->move[i], negative, err);
    for (size_t i = 0; i < request->n_moves && status == WW_OK; i++)
        if (request->move[i].stops < 0.0)
            status = add_move(&request->move[i], negative, err);
    return status;
}

double ww__print_moves_sum(ww_optional burn_stops, ww_optional hand_stops) {
    const double both[2] = {burn_stops.set ? burn_stops.value : 0.0,
                            hand_stops.set ? hand_stops.value : 0.0};
    double sum = 0.0;
    if (!hand_stops.set)
        return both[0] * WW__PRINT_LOG_STOP; /* as it is, without rounding */
    if (ww_exposure_moves(both, 2, &sum, NULL) != WW_OK)
        return -HUGE_VAL;
    return sum * WW__PRINT_LOG_STOP;
}
