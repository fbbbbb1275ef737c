/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_PRINT_FLASH_H
#define WEDGEWORK_PLAN_PRINT_FLASH_H

#include "plan/print_parts.h"

/*
 * A flash of the whole sheet besides the picture: H adds to H. What it does on a paper is read from
 * a strip of flashes on bare paper (print_flash_strip.c) by that paper's curve (print_flash.c).
 */
#define WW__FLASH_GREY 0.01 /* [D] less on paper white is no visible grey; common practice */
#define WW__FLASH_TELLS                                                                            \
    0.02 /* [net D] less says too little of a log H: readings err by half that */

typedef struct ww__flash_step {
    double time_s;
    double net;   /* as read */
    double error; /* standard error of that [D] */
    double held;  /* the nearest that rises with time */
} ww__flash_step;

/* How a strip lies to the flash looked for. */
typedef enum ww__flash_finds {
    WW__FLASH_FOUND,
    WW__FLASH_ALL_WHITE, /* no step shows: longer ones are missing */
    WW__FLASH_ALL_GREY   /* every step shows: shorter ones are missing */
} ww__flash_finds;

typedef struct ww__flash_strip {
    ww__flash_step *step; /* by time, each once; owned */
    size_t n;
    ww__flash_finds finds;
    double time_s;          /* the longest that leaves less than a visible grey; where found */
    double under_s, over_s; /* the steps either side of it */
} ww__flash_strip;

void ww__flash_strip_release(ww__flash_strip *strip);

/* Densities of bare paper over white, by seconds of flash. WW_EMISMATCH where it is no such strip,
 * WW_ENODATA without white or steps. */
ww_status ww__flash_strip_read(const ww_readings *readings, ww__flash_strip *strip, ww_notes *notes,
                               ww_error *err);

/* Net density that so many seconds leave, between the strip's first and last, and its standard
 * error: between two steps theirs in proportion, since they have that of the white in common. */
double ww__flash_strip_net(const ww__flash_strip *strip, double time_s, double *error);

/* Log H of a second of flash, on a paper's scale, from what the strip's steps are on its curve. */
typedef struct ww__flash_worth {
    double log_h;
    double width;   /* 95 % half-width */
    double scatter; /* of the steps, over what their errors explain: 1 is as expected */
    size_t steps;   /* that could be used */
} ww__flash_worth;

/* False where no step of the strip lies on the curve. */
bool ww__flash_worth_find(const ww__flash_strip *strip, const ww__print_sheet *sheet,
                          ww__flash_worth *worth);

/* log10 of the sum of two exposures that are given as log10. */
double ww__flash_sum(double log_h, double other_log_h);

/* Whether the strip may be of this paper: names and labels that both give agree. */
bool ww__flash_is_of(const ww_readings *strip, const ww__print_sheet *sheet);

#endif
