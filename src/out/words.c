/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/words.h"
#include "base/escape.h"
#include <math.h>
#include <string.h>
#include <wedgework/number.h>

enum { TWELFTHS = 12 };

/* Beyond this no exposure is meant any more, and a long holds it with room to spare. */
static const double stops_max = 1e6;

static long to_twelfths(double stops) {
    return lround(fmax(-stops_max, fmin(stops_max, stops)) * TWELFTHS);
}

/* n > 0 twelfths, as "2", "1/3" or "1 1/3". */
static void add_twelfths(ww__text *text, long n) {
    const long whole = n / TWELFTHS;
    long part = n % TWELFTHS, of = TWELFTHS;
    for (long divisor = 2; divisor <= 3; divisor++) /* 12 = 2 2 3: reduce by 2 twice, by 3 once */
        while (part % divisor == 0 && of % divisor == 0 && part > 0) {
            part /= divisor;
            of /= divisor;
        }
    if (whole > 0)
        ww__text_add_format(text, "%ld", whole);
    if (part > 0)
        ww__text_add_format(text, "%s%ld/%ld", whole > 0 ? " " : "", part, of);
}

void ww__words_stops(ww__text *text, double stops, bool sign) {
    const long n = to_twelfths(stops);
    if (n == 0) {
        ww__text_add(text, "0 stop");
        return;
    }
    if (n < 0 || sign)
        ww__text_add(text, n < 0 ? "-" : "+");
    add_twelfths(text, n < 0 ? -n : n);
    ww__text_add(text, n >= 2 * TWELFTHS || n <= -2 * TWELFTHS ? " stops" : " stop");
}

void ww__words_doubt(ww__text *text, double stops) {
    ww__words_stops(text, ww_doubt_shown(stops, 1.0 / TWELFTHS), false);
}

/* Decimals that write every multiple of the step, 4 at most: 0 for 1, 1 for 0.1, 2 for 0.25. */
static int step_decimals(double step) {
    int decimals = 0;
    for (double scaled = step; decimals < 4 && fabs(scaled - round(scaled)) > 1e-6 * scaled;
         scaled *= 10)
        decimals++;
    return decimals;
}

void ww__words_seconds(ww__text *text, double seconds, double step_s) {
    const double steps = round(seconds / step_s), half = 0.5 * step_s;
    if (steps == 0.0 && seconds != 0.0) { /* a time that nobody can set is not "0 s" */
        ww__text_add(text, "under ");
        ww__text_add_number(text, half, step_decimals(half));
    } else {
        ww__text_add_number(text, steps * step_s, step_decimals(step_s));
    }
    ww__text_add(text, " s");
}

void ww__words_interval(ww__text *text, ww_quantity quantity, int decimals) {
    if (!ww_quantity_present(quantity)) {
        ww__text_add(text, "-");
        return;
    }
    ww__text_add_number(text, quantity.value, decimals);
    if (!(quantity.low < quantity.high))
        return;
    ww__text_add(text, " (");
    ww__text_add_number(text, quantity.low, decimals);
    ww__text_add(text, " to ");
    ww__text_add_number(text, quantity.high, decimals);
    ww__text_add(text, ")");
}

void ww__words_range(ww__text *text, double a, double b, int decimals) {
    char low[64], high[64];
    ww_number_format(fmin(a, b), decimals, low, sizeof low);
    ww_number_format(fmax(a, b), decimals, high, sizeof high);
    ww__text_add(text, low);
    if (strcmp(low, high) != 0) {
        ww__text_add(text, " to ");
        ww__text_add(text, high);
    }
}

void ww__words_optional(ww__text *text, ww_optional value) {
    if (value.set)
        ww__text_add_number(text, value.value, 2);
    else
        ww__text_add(text, "-");
}

void ww__words_tens(ww__text *text, double value) {
    ww__text_add_number(text, round(value / 10) * 10, 0);
}

void ww__words_contrast(ww__text *text, const char *label) {
    double grade;
    if (!label || !*label)
        return;
    if (label[0] < '0' || label[0] > '9') {
        ww__text_add(text, label);
        return;
    }
    ww__text_add(text, "grade ");
    if (strchr(label, '.') && ww_number_parse(label, '.', &grade, NULL) == WW_OK && grade < 100 &&
        grade * 2 == floor(grade * 2)) {
        if (grade != 0.5)
            ww__text_add_format(text, "%.0f", floor(grade));
        if (grade != floor(grade))
            ww__text_add(text, grade == 0.5 ? "1/2" : " 1/2");
    } else {
        ww__text_add(text, label);
    }
}

void ww__words_material(ww__text *text, const char *name, const char *contrast,
                        const char *otherwise) {
    char shown[64];
    ww__text_add(text, ww__escape_message(name && *name ? name : otherwise, shown, sizeof shown));
    if (!contrast || !*contrast)
        return;
    ww__text_add(text, ", ");
    ww__words_contrast(text, ww__escape_message(contrast, shown, sizeof shown));
}
