/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PLAN_TONES_PARTS_H
#define WEDGEWORK_PLAN_TONES_PARTS_H

#include <wedgework/tones.h>

/*
 * Tones are followed in this order: what may be combined, and in which channels (tones_check.c);
 * film and print exposed (tones_set.c), stretches of the scene and their fates (tones_fate.c),
 * doubts (tones_doubt.c); or the way back (tones_wanted.c). tones_notes.c says what was assumed,
 * tones.c puts it together.
 */
#define WW__TONES_95 1.959963984540054        /* half-width of 95 % of a normal, in sd */
#define WW__TONES_STOP 0.30102999566398119521 /* log10 2 */
#define WW__TONES_GREY -0.74472749489669399   /* log10 0.18: middle grey, common practice */
#define WW__TONES_MISFIT 0.5 /* of residual rms: a model is not the paper; as print plans have it */
#define WW__TONES_FIRST_TONE 0.04 /* [net D] first tone that shows; ISO 6846 as quoted */
#define WW__TONES_THINNEST                                                                         \
    0.30 /* [D] of a film that is not there yet: net 0.10 over a base of 0.20,
                                     common practice */

/* Channels of one film on one paper: 1, or 3 in colour. */
typedef struct ww__tones_pair {
    size_t n;
    ww_channel film[3], paper[3];
} ww__tones_pair;

/* Numbers of the request, kinds of material and status. */
ww_status ww__tones_check(const ww_tones_request *request, ww_error *err);

/* Channels of a film on a paper; film NULL: those of the paper alone. */
ww_status ww__tones_channels(const ww_tones_request *request, size_t film, size_t paper,
                             ww__tones_pair *pair, ww_error *err);

/* The file of a curve, NULL where none is known. */
const char *ww__tones_file(const char *const file[], size_t i);

/* Error of a base (paper white) that was read by itself, 1 sd; 0 where it was not. */
double ww__tones_base_error(const ww_channel_curve *curve);

/* Paper white on the curve's own zero, and its own error where it was read, 1 sd. */
double ww__tones_white(const ww_curve *paper, ww_channel channel, double *sd);

/* What a material is called: "Heron 100, 8 min", "Heron gloss, 3". */
ww_status ww__tones_name(const ww_curve *curve, const char *file, const char *otherwise,
                         char **name, ww_error *err);

/* Film and print exposed, for curves as they are or as they may be. The layers of a colour film get
 * one exposure, by the one that needs most. */
typedef struct ww__tones_setting {
    const ww_tones_request *request;
    const ww_channel_curve *metered; /* the layer that the film is exposed by */
    double film_level;               /* its density at its speed point */
    bool by_speed_point;
    double white; /* of the paper */
} ww__tones_setting;

/* `film` is the curve that the chain's own may be a moved one of. */
ww_status ww__tones_set(const ww__tones_setting *setting, const ww_channel_curve *film,
                        ww_tone_chain *chain, ww_error *err);

/* What the k-th pair of channels is made of, all but rows. */
ww_status ww__tones_begin(const ww_tones_request *request, size_t film, size_t paper,
                          const ww__tones_pair *pair, size_t k, ww__tones_setting *setting,
                          ww_tones_chain *chain, ww_error *err);

ww_tones_fate ww__tones_fate(const ww_tones_chain *chain, const ww_tone_point *point,
                             double detail);
/* Stretches of the range; how many of the range's stops keep their detail. */
void ww__tones_runs(ww_tones_chain *chain, double range, double detail);
double ww__tones_kept(const ww_tone_chain *chain, double range, double detail);

/* Rows and their doubts. */
void ww__tones_rows(const ww__tones_setting *setting, ww_tones_chain *chain);

ww_status ww__tones_wanted(const ww_tones_request *request, ww_tones *tones, ww_error *err);

ww_status ww__tones_notes(const ww_tones_request *request, ww_tones *tones, ww_error *err);

#endif
