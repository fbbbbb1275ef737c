/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TESTS_COLOUR_PAPER_H
#define WEDGEWORK_TESTS_COLOUR_PAPER_H

#include "support/emulsion.h"
#include <stdbool.h>
#include <wedgework/balance.h>

/*
 * Simulated colour paper under an enlarger, invented, with no code of the program. Light of three
 * channels makes three dyes, each by two Gaussian integrals, which are none of the program's
 * models; every dye absorbs in every channel; every filter holds back some light of every channel.
 */
typedef struct colour_paper {
    double white[3];
    double most[3], middle[3], width[3]; /* of each dye: cyan, magenta, yellow */
    double dye[3][3];                    /* [channel][dye] */
    double time[3];                      /* exponent of the time */
    double filter[3][3];                 /* [channel][yellow, magenta, cyan], log H by 100 CC */
    double bend[3];                      /* [filter] what a square of 100 CC does less of itself */
    double lamp[3];                      /* log light of each channel at the easel */
} colour_paper;

/* One that stands for many, and one drawn at random about it. */
colour_paper colour_paper_typical(void);
colour_paper colour_paper_draw(dice *d);
/* One of another kind than the program expects, dyes and filters as spectra make them: clean
 * sheets, impure ones, weak ones, dichroic filters, and a paper with reciprocity failure. */
enum { COLOUR_PAPER_KINDS = 5 };
colour_paper colour_paper_of_kind(unsigned kind, dice *d);

/* Density of three log exposures; exposures of time and pack under a negative. */
void colour_paper_density(const colour_paper *p, const double log_h[3], double density[3]);
void colour_paper_expose(const colour_paper *p, const double negative[3],
                         const ww_balance_setting *setting, double log_h[3]);
void colour_paper_print(const colour_paper *p, const double negative[3],
                        const ww_balance_setting *setting, double density[3]);

/* Any paper under an enlarger. */
typedef struct colour_maker {
    const void *paper;
    void (*expose)(const void *paper, const double negative[3], const ww_balance_setting *setting,
                   double log_h[3]);
    void (*density)(const void *paper, const double log_h[3], double density[3]);
} colour_maker;

colour_maker colour_paper_maker(const colour_paper *p);
void colour_maker_print(const colour_maker *m, const double negative[3],
                        const ww_balance_setting *setting, double density[3]);

/* The program's curves of it, printed through a grey wedge of 0.10 and read with that error.
 * Release it. */
void colour_maker_fit(const colour_maker *m, dice *d, double sd, ww_curve *curve);
void colour_paper_fit(const colour_paper *p, dice *d, double sd, ww_curve *curve);

/* The curves of a straight paper: D = 0.1 + slope (log H + 1) in every channel, up to 2.3; no doubt
 * of its own, and no wedge behind it. Release it. */
void colour_paper_straight(double slope, ww_curve *curve);

/* What a change of the layers' log H adds to a print on the straight paper of slope 2.6 [D]: by
 * hand, the dyes' table of wedgework/layers.h, in amounts that make each channel's shares 1
 * together. And what acts add there, through the filters' table of wedgework/response.h. */
void colour_paper_seen(const double light[3], double change[3]);
void colour_paper_moved(double log_time, const ww_pack *by, double change[3]);

/* Readings of colour prints. Everything lies in the struct. */
enum { COLOUR_ROWS = 48 };
typedef struct colour_readings {
    ww_row row[COLOUR_ROWS];
    char pack[COLOUR_ROWS][32];
    ww_readings readings;
} colour_readings;

void colour_readings_start(colour_readings *r, ww_density_status status);
/* A grey read n times; `tone` must outlive it. The row is there to be changed. */
ww_row *colour_readings_add(colour_readings *r, const char *tone, const double density[3],
                            size_t n);
/* The same as a row of a ring-around. */
ww_row *colour_readings_ring(colour_readings *r, const char *tone,
                             const ww_balance_setting *setting, const double density[3], size_t n);

/* A balance to be made: print and aim without rows, the paper for the caller to give. */
typedef struct balance_case {
    colour_readings print, aim, ring;
    ww_curve paper;
    ww_balance_request request;
} balance_case;

void balance_case_start(balance_case *c);
void balance_case_grey(balance_case *c, const char *tone, double red, double green, double blue,
                       double aim_red, double aim_green, double aim_blue);
void balance_case_ring(balance_case *c, const char *tone, double y, double m, double cyan,
                       double time_s, double red, double green, double blue);
/* Every reading of print and aim an average of 100. */
void balance_case_sure(balance_case *c);
/* The plan, which must come; release both. */
void balance_case_make(const char *row, const balance_case *c, ww_balance *balance);
/* A refusal with these words in its message. */
void balance_case_refused(const char *row, const balance_case *c, ww_status status,
                          const char *words);
/* Begins with a card that 1.5Y, 4.6M and 1.018 times the time bring to 0.70. */
void balance_case_near(balance_case *c);
/* Whether a note with these words is there, or not. */
void balance_case_noted(const char *row, const balance_case *c, const char *words, bool there);
void balance_case_end(balance_case *c);

#endif
