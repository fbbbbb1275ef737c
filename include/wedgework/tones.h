/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_TONES_H
#define WEDGEWORK_TONES_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/readings.h>
#include <wedgework/tone_chain.h>

/*
 * How the tones of a scene travel through film and paper to the eye, stop by stop: where their
 * detail dies, and which link kills it. Or the other way: the film, or the file, that would give a
 * wanted print on a paper.
 */

enum {
    WW_TONES_MOST = 12,
    WW_TONES_ROWS_MOST = 24,
    WW_TONES_RUNS_MOST = 24
}; /* chains at once;
                                                          rows and stretches of each */

/* What a request may hold; beyond lies a slip of typing. */
#define WW_TONES_RANGE_LEAST 0.3 /* [log10] */
#define WW_TONES_RANGE_MOST 6.0
#define WW_TONES_STOPS_MOST 10.0 /* of exposure, either way */
#define WW_TONES_DETAIL_LEAST 0.01
#define WW_TONES_DETAIL_MOST 2.0
#define WW_TONES_SLOPE_LEAST 0.1
#define WW_TONES_SLOPE_MOST 5.0

/* What is made of a stretch of the scene. */
typedef enum ww_tones_fate {
    WW_TONES_KEPT,
    WW_TONES_CAMERA_FLARE,
    WW_TONES_FILM_TOE,
    WW_TONES_FILM_SHOULDER,
    WW_TONES_ENLARGER_FLARE,
    WW_TONES_PAPER_TOE,
    WW_TONES_PAPER_SHOULDER,
    WW_TONES_VIEWING_FLARE,
    WW_TONES_CONTRAST, /* no link is weaker than the others: film and paper are soft as a whole */
    WW_TONES_BEYOND_FILM, /* beyond what was measured of the film, or of the paper: not known */
    WW_TONES_BEYOND_PAPER
} ww_tones_fate;

/* "kept", "camera flare", "toe of the film", ... */
const char *ww_tones_fate_name(ww_tones_fate fate);

/* A stretch of one fate, from light to dark [log10 luminance over white]. */
typedef struct ww_tones_run {
    double from, to;
    ww_tones_fate fate;
} ww_tones_run;

/* A tone of the scene. Intervals are of 95 %; without them where a curve carries no covariance. */
typedef struct ww_tones_row {
    ww_tone_point point;
    ww_quantity negative;  /* [D] as read */
    ww_quantity print;     /* [D] */
    ww_quantity viewed;    /* [D] */
    ww_quantity lightness; /* L* of `viewed` */
    ww_quantity gradient;
    ww_tones_fate fate;
} ww_tones_row;

/* One film on one paper, in one channel. */
typedef struct ww_tones_chain {
    char *film, *paper;       /* what they are called, owned */
    size_t film_at, paper_at; /* of the request */
    ww_channel film_channel, paper_channel;
    ww_tone_chain chain;          /* borrows the request's curves */
    bool by_speed_point;          /* the film is exposed by it; else by its first measured step */
    double paper_white;           /* [D], 0 where densities are above it */
    double film_best, paper_best; /* steepest slopes within what was measured */
    double film_middle, paper_middle; /* densities there: thinner is the toe, denser the shoulder */
    ww_tones_row row[WW_TONES_ROWS_MOST]; /* white first, one a stop, the darkest tone last */
    size_t n;
    ww_tones_row grey;                    /* of 18 % of white */
    ww_tones_run run[WW_TONES_RUNS_MOST]; /* the whole range from white on, neighbours unlike */
    size_t n_runs;
    ww_quantity kept_stops; /* of the range */
    bool doubted;           /* both curves carry a covariance */
} ww_tones_chain;

/* Whether a tone of a wanted print can be had. */
typedef enum ww_tones_want {
    WW_TONES_HAD,
    WW_TONES_TOO_LIGHT, /* lighter than the paper was measured */
    WW_TONES_TOO_DARK,  /* darker than it was measured, or than its black */
    WW_TONES_VEILED,    /* nothing looks so dark in this light */
    WW_TONES_FLARED,    /* no film is so dense that the enlarger's flare lets it print so light */
    WW_TONES_REVERSED   /* the print is lighter than at the tone before, which is lighter in the
                           scene: density would have to fall where exposure rises */
} ww_tones_want;
const char *ww_tones_want_name(ww_tones_want want);

typedef struct ww_tones_wanted_row {
    double scene;  /* log10 luminance over white */
    double viewed; /* [D] that the print is to look to have */
    double error;  /* of it, 1 sd; 0 where nobody read it */
    ww_tones_want want;
    double film_log_h;       /* on the film; of a film that is not there yet, of white 0 */
    ww_optional paper_log_h; /* that the paper needs */
    ww_optional light;       /* the same as a share of the most: what a file of light gives */
    ww_quantity negative;    /* [D] that the film needs there */
    ww_optional slope;       /* of the film there, between the rows on either side */
    ww_optional film;        /* [D] that the given film has there */
} ww_tones_wanted_row;

/* The film, or the file, that gives a wanted print on a paper. */
typedef struct ww_tones_wanted {
    bool given;
    char *paper; /* owned */
    ww_channel paper_channel;
    double paper_white;
    bool reversal; /* the paper's density falls with exposure, and so must the film's */
    bool straight; /* of this slope: */
    double slope;
    ww_tones_wanted_row *row; /* white first, owned */
    size_t n, n_had;
    size_t thinnest;                     /* row of the thinnest film */
    ww_optional slope_least, slope_most; /* of the film that it takes */
    ww_optional range;                   /* density range of that film */
    bool doubted;                        /* the paper's curve carries a covariance */
    ww_optional worst;                   /* the given film's density less the one needed */
    size_t worst_at;
} ww_tones_wanted;

typedef struct ww_tones {
    double subject_range, detail, place_stops, place_density, film_stops;
    double flare, enlarger_flare, callier, viewing_flare;
    ww_tones_chain *chain;
    size_t n;
    ww_tones_wanted wanted;
    bool holds; /* a wanted print can be had in all its tones; true where none was asked for */
    ww_notes notes;
} ww_tones;

#define WW_TONES_INIT                                                                              \
    { .chain = NULL, .holds = true }

void ww_tones_release(ww_tones *tones);

/* ww_tones_main - the chain that tones are told by: the first, of colours the green one. */
size_t ww_tones_main(const ww_tones *tones);

typedef struct ww_tones_request {
    const ww_curve *const *film;
    const char *const *film_file; /* for messages; NULL where none are known */
    size_t n_films;
    const ww_curve *const *paper;
    const char *const *paper_file;
    size_t n_papers;
    double subject_range;  /* log10 luminance from the scene's white to its darkest tone */
    double flare;          /* camera: fraction of the light of the scene's white */
    double enlarger_flare; /* fraction of open light */
    double callier;
    double viewing_flare;            /* fraction of a perfect white's light */
    double film_stops;               /* more exposure of the film than its speed asks for */
    double place_stops;              /* the tone so far below white ... */
    double place_density;            /* ... prints at this density above paper white */
    double detail;                   /* least gradient at which detail counts as kept */
    bool wanted;                     /* the other way: what gives a print such as this: */
    const ww_readings *wanted_print; /* densities by scene; NULL: a straight print of this slope */
    double wanted_slope;
} ww_tones_request;

#define WW_TONES_REQUEST_INIT                                                                      \
    {                                                                                              \
        .subject_range = 2.2, .callier = 1.0, .place_density = 0.04, .detail = 0.2,                \
        .wanted_slope = 1.0                                                                        \
    }

/*
 * ww_tones_make - follow the tones of a scene through each film on each paper; or find the film
 *                 that gives a wanted print.
 *
 *   Film exposed so that the darkest tone, `subject_range` below white, would fall on its speed
 *   point without flare (of a reversal film: white), `film_stops` more; where the curve has no
 *   speed point, on its first measured step. The layers of a colour film get one exposure, by the
 *   slowest (of a reversal film by the fastest). The print gets the exposure that gives the placed
 *   tone its density; a colour print in each channel, as filters would. Chain and gradients as in
 *   tone_chain.h; L* as ww_viewing_lightness of what the print looks to have.
 *
 * Detail    is kept where the chain's gradient is `detail` or more: at 0.2 a third of a stop (0.10)
 *           of the scene makes 0.02 D in the print, the least that is seen as detail. Elsewhere the
 *           weakest link is named: the one with the least share of the best that it could do (1 of
 *           flares, the steepest measured slope of a curve); of a curve its toe or its shoulder, by
 *           the side of its steepest point. Where the best of all links together falls short, it is
 *           contrast as a whole.
 * Doubt     of all figures: every curve's parameters are moved along each direction of their
 *           covariance, and the densities that film and print are exposed by (the speed point's,
 *           the placed tone's) by the error of a base or white that was read and half of what
 *           single steps are off by (residual rms); each time the whole chain is made again with
 *           its placing, and the squares are added. To densities that half is added besides, of
 *           the film as the chain carries it on from the tone and from the placed one. The layers
 *           of a colour film that do not set its exposure count as exposed without error.
 *           Of the stops that are kept, those at an end of the range whose gradient is within its
 *           doubt of `detail` may be lost besides.
 * Wanted    the print's densities (or L*, or CIE luminance) by scene: column `logh`, log10
 *           luminance over white, or `stop`; rows from white on. Each is taken back through viewing
 *           flare, paper, enlarger and camera. The exposure of the print is free: of the film that
 *           results, the thinnest density is 0.30, or that of a given film at that tone. A straight
 *           print falls by `wanted_slope` for each log10, from net 0.04 at white.
 *
 * Source    four-quadrant tone reproduction as taught; that 0.02 D is seen: common practice
 * Given     request  its curves outlive the tones
 * Returned  tones    (release it)
 * Status    WW_OK;
 *           WW_EDOMAIN a number of the request lies outside its limits; no paper, neither film nor
 *           wanted print, more than WW_TONES_MOST chains;
 *           WW_EMISMATCH a film's curve where a paper's belongs or the other way, reversal with
 *           negative material, a colour film on a black-and-white paper, films or papers of unlike
 *           status, Callier's factor on a dye image; a wanted table that is none of a print, whose
 *           rows are not in order from light to dark;
 *           WW_ENODATA a channel without a curve; the placed tone falls outside what was measured,
 *           or the paper does not reach its density; no tone of a wanted print can be had;
 *           WW_EMEMORY. On failure tones is untouched.
 */
ww_status ww_tones_make(const ww_tones_request *request, ww_tones *tones, ww_error *err);

#endif
