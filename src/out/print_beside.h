/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_OUT_PRINT_BESIDE_H
#define WEDGEWORK_OUT_PRINT_BESIDE_H

#include "out/report.h"

/*
 * What stands beside the choice in a print plan, each nothing where the plan has none of it: the
 * two exposures of every split; what every tone would become on the next softer and the next harder
 * paper; what "*" means, under each table that has it; what a flash, and burning through the softer
 * filter, would do in place of burning.
 */
void ww__print_beside_splits(const ww_print_plan *plan, double step_s, ww__report *report);
void ww__print_beside_papers(const ww_print_plan *plan, ww__report *report);
void ww__print_beside_mark(bool beyond, ww__report *report);
void ww__print_beside_flash(const ww_print_paper *paper, double step_s, ww__report *report);
void ww__print_beside_soft_burn(const ww_print_paper *paper, double step_s, ww__report *report);

#endif
