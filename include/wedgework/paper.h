/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PAPER_H
#define WEDGEWORK_PAPER_H

#include <wedgework/error.h>

/* Nominal paper grades, for printers without curves of their own. Makers' grades differ. */
enum { WW_PAPER_GRADES = 6 }; /* 0 very soft ... 5 extra hard */

/*
 * ww_paper_grade_of_range - the grade for a negative's density range.
 *
 *   1.41-1.60: 0   1.15-1.40: 1   0.95-1.14: 2   0.80-0.94: 3   0.65-0.79: 4   0.50-0.64: 5
 *
 * Source    exposure and development lab sheet of a university course (RIT), for diffuse light
 * Given     range    density range of the negative, rounded here to the table's 0.01
 * Returned  *grade   0 to 5
 * Status    WW_OK; WW_EDOMAIN range not finite or not > 0; WW_ENODATA outside 0.50 to 1.60
 */
ww_status ww_paper_grade_of_range(double range, int *grade, ww_error *err);

/* ww_paper_grade_least - the least range that the table gives a grade, 0 to 5. */
double ww_paper_grade_least(int grade);

/*
 * ww_paper_nominal_range - ISO range R that stands for a grade: 155, 128, 105, 88, 73, 58 for
 *                          grades 0 to 5, in a straight line between neighbours.
 *
 * Source    middles of the ranges that ANSI PH2.2-1966 gave to six grades: its ends 0.50 and 1.70
 *           from a handbook, the inner edges from memory
 * Given     grade      0 to 5, halves and whatever lies between
 * Returned  *iso_range R, that is 100 times the range in log H
 * Status    WW_OK; WW_EDOMAIN grade outside 0 to 5
 */
ww_status ww_paper_nominal_range(double grade, double *iso_range, ww_error *err);

/* ww_paper_grade_word - "very soft", "soft", "medium", "hard", "very hard", "extra hard"; NULL for
 * any other grade.                                                        Source: from memory. */
const char *ww_paper_grade_word(int grade);

/*
 * ww_paper_aim_index - contrast index to develop to, so that a subject fits a paper.
 *
 *   CI = negative_range / (subject_range - flare)
 *
 * Source    formula from memory; it gives back published pairs (0.56 for 2.20, one stop and 1.03)
 * Given     negative_range  density range that the paper takes                  > 0
 *           subject_range   log luminance range, 2.20 for the average subject   > flare
 *           flare           what camera flare takes from it [log H]             >= 0
 * Returned  *index
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold
 */
ww_status ww_paper_aim_index(double negative_range, double subject_range, double flare,
                             double *index, ww_error *err);

#endif
