/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_STRIP_CASE_H
#define WEDGEWORK_TESTS_STRIP_CASE_H

#include "plan/strip_parts.h"
#include <stdio.h>
#include <wedgework/strip.h>

/*
 * Readings of a strip for tests. Everything lies in the struct itself, so there is nothing to
 * release but the strip that is made of it.
 */
enum { STRIP_CASE_ROWS = 32 };
typedef struct strip_case {
    ww_row row[STRIP_CASE_ROWS];
    char label[STRIP_CASE_ROWS][24];
    ww_readings readings;
} strip_case;

#define STRIP_CASE_WHITE 0.06

/* A strip without rows: reflection, visual, times; `based`: with paper white, surely known. */
void strip_case_start(strip_case *c, bool based);

/* A step; its label is its number, from 1. The row is there to be changed. */
ww_row *strip_case_step(strip_case *c, double time_s, double density);
void strip_case_label(strip_case *c, ww_row *row, const char *label);

/*
 * The paper of closed form: net D = 2 / (1 + 10^(-k log10(t / middle))), and where it gives a net
 * density. Its steepest slope is k ln 10 / 2.
 */
double strip_case_net(double k, double middle_s, double time_s);
double strip_case_time(double k, double middle_s, double net);

/* n steps of that paper from a time on, `stops` apart, above STRIP_CASE_WHITE. */
void strip_case_paper(strip_case *c, double k, double middle_s, double from_s, double stops,
                      size_t n);

/* Whether a note holds these words. */
bool strip_case_noted(const ww_strip *strip, const char *words);

/* The line through n steps of these densities and this error, one log10 time apart, from 1 s on. */
void strip_case_line(const double density[], size_t n, double error, ww_strip *strip,
                     ww__strip_line *line);
void strip_case_drop(ww_strip *strip, ww__strip_line *line);

/* A next strip from the first to the last time, `stops` apart; none where n is 0. */
void strip_case_next(const char *row, const ww_strip *strip, double from_s, double stops, size_t n);

#endif
