/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_RESPONSE_MADE_H
#define WEDGEWORK_TESTS_RESPONSE_MADE_H

#include <wedgework/response.h>

/* An enlarger that is none of the ideal one, invented: [colour][act]. */
static const double made_truth[WW_RESPONSE_COLOURS][WW_RESPONSE_ACTS] = {
    {1.00, -0.03, -0.09, -0.81}, {1.01, -0.11, -0.79, -0.14}, {0.99, -0.84, -0.19, -0.06}};

/* A print of it, of a grey whose log exposures without acts are given. */
static inline ww_response_row made_row(size_t grey, const double at[WW_RESPONSE_COLOURS],
                                       const double act[WW_RESPONSE_ACTS], double error) {
    ww_response_row row = {.grey = grey};
    for (size_t a = 0; a < WW_RESPONSE_ACTS; a++)
        row.act[a] = act[a];
    for (size_t c = 0; c < WW_RESPONSE_COLOURS; c++) {
        row.log_h[c] = at[c];
        row.error[c] = error;
        for (size_t a = 0; a < WW_RESPONSE_ACTS; a++)
            row.log_h[c] += made_truth[c][a] * act[a];
    }
    return row;
}

/* Ideal filters: each holds back its own light alone. Source: definition. */
static inline ww_response made_ideal(void) {
    return (ww_response){.term = {{1, 0, 0, -1}, {1, 0, -1, 0}, {1, -1, 0, 0}}};
}

/* The response itself, surely known. */
static inline ww_response made_response(void) {
    ww_response response = {.rows = 0};
    for (size_t c = 0; c < WW_RESPONSE_COLOURS; c++)
        for (size_t a = 0; a < WW_RESPONSE_ACTS; a++)
            response.term[c][a] = made_truth[c][a];
    return response;
}

#endif
