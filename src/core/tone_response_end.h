/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WW_CORE_TONE_RESPONSE_END_H
#define WW_CORE_TONE_RESPONSE_END_H

#include <wedgework/tone_response.h>

#define WW__PLATEAU_DENSITY 0.01 /* [D] what readings repeat to: common practice */

/* ww__tone_response_end - finds `to`: no more is sent than adds to the density. */
void ww__tone_response_end(ww_tone_response *response);

#endif
