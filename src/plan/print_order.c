/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <wedgework/paper.h>

/* One exposure through a filter that was measured; what lies half-way, and two exposures, come
 * after it. Any share of those can be set, so that none of them was measured worse. */
static bool is_plain(const ww__print_candidate *candidate) {
    return !candidate->paper.interpolated && !candidate->sheet->splits;
}

/* Whether the table of grades gives the negative this nominal paper. Its ranges are those between
 * first tone and black; other aims take the same share of that on every nominal paper. */
static bool is_by_table(const ww__print_candidate *candidate) {
    const ww_print_paper *paper = &candidate->paper;
    double iso_range = 0.0, range; /* of the negative */
    int grade = 0;
    if (!candidate->sheet->nominal || !(paper->paper_range.value > 0.0) ||
        ww_paper_nominal_range(candidate->sheet->grade, &iso_range, NULL) != WW_OK)
        return false;
    range = iso_range / 100.0 * (1.0 - paper->mismatch / paper->paper_range.value);
    return ww_paper_grade_of_range(range, &grade, NULL) == WW_OK &&
           grade == candidate->sheet->grade;
}

/* Papers whose range misses the negative's by a like amount are told apart by other things. */
static double class_of(const ww__print_candidate *candidate) {
    const double width = candidate->fate.given_up > 0 ? WW__PRINT_NEAR_RANGE : WW__PRINT_LIKE_RANGE;
    return is_by_table(candidate) ? -1.0 : floor(fabs(candidate->paper.mismatch) / width);
}

static int sign_of(double difference) {
    return (difference > 0.0) - (difference < 0.0);
}

/*
 * First those that hold everything; where none does, those that give up the fewest tones. Then the
 * nominal grade that the table gives the negative's range, and the nearest in range; of those as
 * near as each other (to a grade where tones are given up) what was measured, what asks for the
 * least local work, and what is nearest.
 */
int ww__print_order(const void *left, const void *right) {
    const ww__print_candidate *a = left, *b = right;
    const double work = floor(a->paper.work_stops / WW__PRINT_LIKE_WORK) -
                        floor(b->paper.work_stops / WW__PRINT_LIKE_WORK);
    const double away = fabs(a->paper.mismatch) - fabs(b->paper.mismatch);
    if (a->paper.holds != b->paper.holds)
        return a->paper.holds ? -1 : 1;
    if (a->fate.given_up != b->fate.given_up)
        return a->fate.given_up < b->fate.given_up ? -1 : 1;
    if (a->fate.contrast_reached != b->fate.contrast_reached)
        return a->fate.contrast_reached ? -1 : 1;
    if (class_of(a) != class_of(b))
        return sign_of(class_of(a) - class_of(b));
    if (is_plain(a) != is_plain(b))
        return is_plain(a) ? -1 : 1;
    if (work != 0.0)
        return sign_of(work);
    if (away != 0.0)
        return sign_of(away);
    return (a->order > b->order) - (a->order < b->order);
}
