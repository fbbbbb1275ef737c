/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <wedgework/lesson.h>

static const struct words {
    const char *name, *what, *sign;
} words[WW_LESSON_FAULTS] = {
    {"none", "nothing was spoilt", "the errors of reading alone"},
    {"swapped-rows", "the densities of two neighbouring steps were written into each other's rows",
     "a density falls where it should rise, and the two are off the curve to opposite sides"},
    {"missed-step",
     "one step was passed over while reading, so that every reading after it stands a row too "
     "early",
     "a row is missing at the thin end; where the curve is straight one rise is about twice "
     "that of its neighbours, in toe and shoulder and among larger errors nothing else shows it"},
    {"flare", "stray light in the densitometer makes dense steps read too thin",
     "none in the curve itself: it looks like a shoulder; a wedge whose densities are known, read "
     "on the same instrument, shows it"},
    {"decimal-comma", "one density was typed with a comma, which parts it in two in such a table",
     "a row has a cell more than the others"},
    {"wrong-zero", "the densitometer was set to zero on the base in place of on no film or paper",
     "the base reads 0, which no base does"},
    {"reversed-wedge", "the wedge's densities were written down from its other end",
     "density falls as exposure grows"}};

const char *ww_lesson_fault_name(size_t fault) {
    return fault < WW_LESSON_FAULTS ? words[fault].name : NULL;
}

const char *ww_lesson_fault_what(ww_lesson_fault fault) {
    assert(fault < WW_LESSON_FAULTS);
    return words[fault].what;
}

const char *ww_lesson_fault_sign(ww_lesson_fault fault) {
    assert(fault < WW_LESSON_FAULTS);
    return words[fault].sign;
}
