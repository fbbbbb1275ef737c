/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_BALANCE_PARTS_H
#define WEDGEWORK_PLAN_BALANCE_PARTS_H

#include <wedgework/balance.h>
#include <wedgework/layers.h>

/*
 * A balance is made in this order: what was given is checked (balance_check.c), greys of print and
 * aim are matched and looked up on the paper (balance_tones.c), ring-around and print teach the
 * response (balance_ring.c), greys are compared (balance_crossover.c), pack and time are solved
 * for and set (balance_solve.c), the next print is foretold (balance_foretell.c), a tone is burnt
 * (balance_burn.c), and what must be told is told (balance_notes.c, balance_process.c).
 */
enum { WW__BALANCE_TONES_MOST = 8 }; /* a print's and a ring's greys are 16 at most */

#define WW__BALANCE_95 1.959963984540054

/* A grey of print and aim on the paper's curves; arrays are for red, green, blue. */
typedef struct ww__balance_spot {
    double log_h[WW_BALANCE_COLOURS]; /* of the print, as read */
    double error[WW_BALANCE_COLOURS]; /* of the reading [log H] */
    double per_d[WW_BALANCE_COLOURS]; /* error [log H] by one of 1 D a colour; 0 of negatives */
    double aim_log_h[WW_BALANCE_COLOURS];
    double aim_error[WW_BALANCE_COLOURS];
    double curve_sd[WW_BALANCE_COLOURS]; /* of the paper's fit between the two */
    double wedge_sd[WW_BALANCE_COLOURS]; /* of the wedge behind it, likewise */
    double dye_sd[WW_BALANCE_COLOURS];   /* of the paper's dyes, likewise; of its view of film */
    size_t grey;                         /* its index in the response */
} ww__balance_spot;

/* The first grey that the paper's curves tell nothing of. */
typedef struct ww__balance_refused {
    const ww_row *print, *aim; /* NULL for none */
    bool of_aim;               /* no print comes to that aim, whatever this one reads */
    ww_error why;
} ww__balance_refused;

typedef struct ww__balance_work {
    const ww_balance_request *request;
    ww_balance *plan;
    ww_readings print, aim, ring;                  /* replicates pooled */
    ww__balance_spot spot[WW__BALANCE_TONES_MOST]; /* one a tone of the plan */
    ww__balance_refused refused;
    double act[WW_RESPONSE_ACTS];      /* exact */
    double act_set[WW_RESPONSE_ACTS];  /* as it is set */
    double target[WW_BALANCE_COLOURS]; /* change of log H that was solved for */
    double weight[WW_BALANCE_COLOURS]; /* of an error of log H, as one of density counts */
    double scatter;  /* [D] sd from print to print, told or by the ring's prints; 0 for unknown */
    ww_pack from_cc; /* packs in CC, whatever the dial says */
} ww__balance_work;

/* Numbers of the request, and whether print, aim, ring and paper go together. */
ww_status ww__balance_check(const ww_balance_request *request, ww_error *err);
ww_status ww__balance_check_print(const ww_balance_request *request, ww_error *err);
ww_status ww__balance_check_negative(const ww_balance_request *request, ww_error *err);

/* What a row is called: its tone, else its step; "" for none. */
const char *ww__balance_label(const ww_row *row);
/* The plan's tone of that name; n_tones where there is none. */
size_t ww__balance_find(const ww_balance *plan, const char *name);
bool ww__balance_has_all(const ww_row *row);

/* Greys of print and aim; on the paper unless it is NULL (negatives). */
ww_status ww__balance_tones(ww__balance_work *work, ww_error *err);

/* A density on one channel of the paper. WW_ENODATA where it has no slope there. */
ww_status ww__balance_look(const ww_curve *paper, size_t colour, double density, double *log_h,
                           double *slope, ww_error *err);

/* A row with all three densities on the paper: log exposures of its layers, errors of these by its
 * readings and by one of 1 D in every colour, and slopes of the channels. */
typedef struct ww__balance_at {
    double log_h[WW_BALANCE_COLOURS], error[WW_BALANCE_COLOURS], per_d[WW_BALANCE_COLOURS];
    double slope[WW_BALANCE_COLOURS];
} ww__balance_at;

ww_status ww__balance_place(const ww_curve *paper, const ww_row *row, ww__balance_at *at,
                            ww_error *err);

/* Ends of the log exposures where a channel has a slope that readings can be told by; false where
 * it has none. */
bool ww__balance_sloped(const ww_channel_curve *curve, double *low, double *high);

/* Why an aim has no place on the paper becomes what is wrong with the aim, and what to do. */
ww_status ww__balance_blame_aim(ww__balance_refused *refused);
/* Without this grey there is no plan. Of a print that has no layers' light, or colours beyond the
 * slope, err also tells which way the next one is nearer, where that is known. */
ww_status ww__balance_refuse(const ww__balance_work *work, const ww__balance_refused *refused,
                             ww_error *err);

ww_status ww__balance_ring(ww__balance_work *work, ww_error *err);
ww_status ww__balance_solve(ww__balance_work *work, ww_error *err);
/* What a covariance of log exposures leaves open of a pack solved for, the worse filter, and of its
 * time. */
ww_status ww__balance_doubt(const ww_balance *plan, const ww_pack *exact, const double covariance[],
                            ww_balance_doubt *of, ww_error *err);
ww_status ww__balance_foretell(ww__balance_work *work, ww_error *err);
/* Greys against each other, once changes are known: balance_crossover.c. */
void ww__balance_crossover(ww__balance_work *work);
/* The densities of a tone at log exposures that it gets by a burn, sd being of these. */
void ww__balance_burnt(const ww__balance_work *work, size_t i, const double log_h[],
                       const double sd[]);
/* Standard deviations of a tone's log exposures as it is printed with the pack and time set, or
 * as these lie against its aim. */
void ww__balance_light_sd(const ww__balance_work *work, size_t i, bool against_aim,
                          double sd[WW_BALANCE_COLOURS]);
ww_status ww__balance_burn(ww__balance_work *work, ww_error *err);
ww_status ww__balance_note_readings(const ww__balance_work *work, ww_error *err);
ww_status ww__balance_note_slips(const ww__balance_work *work, ww_error *err);
ww_status ww__balance_notes(ww__balance_work *work, ww_error *err);
/* Of a print: notes on status, bare paper, the paper's curve, and prints made alike. */
ww_status ww__balance_note_process(const ww__balance_work *work, ww_error *err);
/* Notes on a pack and a time, whatever they were made from. */
ww_status ww__balance_note_setting(ww_balance *plan, ww_error *err);

/* "CC", or "dial units". */
const char *ww__balance_unit(double head_scale);
/* Dial units from CC, and back. */
ww_pack ww__balance_dial(const ww_pack *cc, double head_scale);
ww_pack ww__balance_cc(const ww_pack *dial, double head_scale);
/* The least of three filters, which the others share; WW_FILTER_COUNT of two at most. */
size_t ww__balance_third(const ww_pack *pack, double *shared);
/* Of the packs on filter steps around an exact one, each with the time that is best with it on
 * the timer's step, the one that comes nearest to a change of log H against `from`; act: what
 * that is. */
void ww__balance_set(const ww_balance *plan, const double change[WW_BALANCE_COLOURS],
                     const double weight[WW_BALANCE_COLOURS], const ww_balance_setting *from,
                     const ww_pack *exact, ww_balance_setting *settable,
                     double act[WW_RESPONSE_ACTS]);
/* The nearest setting, where no response is known to choose by. */
void ww__balance_round(const ww_balance *plan, const ww_balance_setting *exact,
                       ww_balance_setting *settable);

#endif
