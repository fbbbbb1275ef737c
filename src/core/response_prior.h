/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_RESPONSE_PRIOR_H
#define WW_CORE_RESPONSE_PRIOR_H

#include <wedgework/response.h>

/* Term [colour][act] of the usual response, its place among all terms, and the act that is the
 * filter of the channel's own light. */
double ww__response_prior_mean(size_t colour, size_t act);
size_t ww__response_prior_own(size_t colour);

/* The covariance of all terms beforehand, row by row. */
void ww__response_prior(double covariance[WW_RESPONSE_TERMS * WW_RESPONSE_TERMS]);

#endif
