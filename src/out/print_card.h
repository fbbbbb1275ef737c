/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PRINT_CARD_H
#define WEDGEWORK_OUT_PRINT_CARD_H

#include "base/text.h"
#include <wedgework/print.h>

/*
 * A plan as a card for the darkroom's wall, in HTML: what the hands do, in large type, the
 * densities to check the print against, room for what only the printer knows and for a sketch.
 * Nothing where the plan has no paper.
 */
void ww__print_card(const ww_print_plan *plan, const ww_print_request *request, ww__text *html);

#endif
