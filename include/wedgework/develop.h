/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_DEVELOP_H
#define WEDGEWORK_DEVELOP_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/curve.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/quantity.h>
#include <wedgework/time_gamma.h>

/*
 * Development for a contrast: curves of one film, developed for several times, tell how its
 * contrast grows with time, and so the time for the contrast that is wanted.
 */
enum { WW_DEVELOP_MOST = WW_TIME_GAMMA_MOST };

/* What is called contrast. */
typedef enum ww_develop_measure {
    WW_DEVELOP_CONTRAST_INDEX,
    WW_DEVELOP_AVERAGE_GRADIENT, /* from net 0.10 over 1.50 log H */
    WW_DEVELOP_GAMMA,
    WW_DEVELOP_OVER_RANGE, /* average gradient from net 0.10 over the subject's range on the film */
    WW_DEVELOP_MEASURES
} ww_develop_measure;

/* "contrast_index", "average_gradient", "gamma", "range_gradient". */
const char *ww_develop_measure_key(ww_develop_measure measure);

/* Limits of what may be asked for; beyond lies a slip of typing. */
#define WW_DEVELOP_CONTRAST_LEAST 0.1
#define WW_DEVELOP_CONTRAST_MOST 4.0
#define WW_DEVELOP_DENSITY_RANGE_LEAST 0.2 /* [D] */
#define WW_DEVELOP_DENSITY_RANGE_MOST 3.0
#define WW_DEVELOP_SUBJECT_RANGE_LEAST 0.5 /* [log10] */
#define WW_DEVELOP_SUBJECT_RANGE_MOST 4.0
#define WW_DEVELOP_FLARE_MOST 0.2
#define WW_DEVELOP_TEMPERATURE_LEAST 5.0 /* [C] */
#define WW_DEVELOP_TEMPERATURE_MOST 60.0
#define WW_DEVELOP_INDEX_LEAST 0.1
#define WW_DEVELOP_INDEX_MOST 100000.0
#define WW_DEVELOP_BELOW_LEAST 1.0 /* [stops] */
#define WW_DEVELOP_BELOW_MOST 6.0
#define WW_DEVELOP_REPEATABILITY_MOST 0.5 /* [D] */

/* Stops from the metered exposure down to net 0.10: a film of speed S = 0.8 / Hm whose meter puts
 * 8 / S lux seconds on it, ten times Hm. Source of 0.8: ISO 6, from a secondary text; of 8: an
 * exposure meter's K = 12.5 cd/m2 times the camera's 0.65, both from memory. */
#define WW_DEVELOP_BELOW_METERED 3.321928094887362

/* A curve, and the file that messages call it by. */
typedef struct ww_develop_input {
    const ww_curve *curve;
    const char *file;
} ww_develop_input;

typedef struct ww_develop_request {
    ww_optional contrast_index; /* wanted; or, both together: */
    ww_optional density_range;  /* [D] of the negative, from net 0.10 up */
    ww_optional subject_range;  /* [log10] luminance */
    double flare;               /* of the camera: its share of the brightest tone's light */
    ww_optional temperature_c;  /* for which the time is wanted; not set: that of the curves */
    double repeatability;       /* of the density range, one development to the next, 1 sd [D] */
    ww_optional metered_index;  /* set on the meter at whose reading stop 0 was exposed */
    double below_stops;         /* where net 0.10 is to lie under a metered exposure */
} ww_develop_request;

#define WW_DEVELOP_REQUEST_INIT                                                                    \
    { .below_stops = WW_DEVELOP_BELOW_METERED }

/* One curve. */
typedef struct ww_develop_row {
    char *name; /* last part of its file, owned, never NULL */
    double time_min;
    ww_optional temperature_c;
    bool other_temperature; /* no part of the law: it tells how temperature counts */
    ww_channel channel;
    ww_quantity contrast[WW_DEVELOP_MEASURES];
    ww_quantity base_fog;
    ww_quantity speed_point; /* log H */
    ww_speed_standard standard;
    ww_quantity speed;          /* exact; absent where exposures are not in lux seconds */
    ww_optional speed_stops;    /* gained over the curve of the longest time */
    ww_quantity exposure_index; /* of a series in stops from a metered exposure */
    ww_optional off;            /* contrast less the law's, of the measure that is aimed at */
    bool falls; /* has less contrast than the next shorter time, beyond both intervals */
} ww_develop_row;

/* A subject whose range is some stops less (N+) or more (N-) than the one asked for. */
typedef struct ww_develop_range {
    int n;                /* +1: one stop less to begin with, and so more development */
    double subject_range; /* [log10] */
    double film_range;    /* [log H] on the film, less flare */
    double gradient;      /* wanted over that */
    bool known;           /* two times or more reach over that range */
    size_t short_of;      /* curves whose steps end before it, and which are not used for it */
    ww_time_gamma_answer answer;
    ww_quantity time; /* [min] with every doubt, at the temperature wanted; absent: place says */
} ww_develop_range;
enum { WW_DEVELOP_N = 2, WW_DEVELOP_RANGES = 2 * WW_DEVELOP_N + 1 };

/* What the doubt is made of: 95 % half-widths [min]. */
typedef struct ww_develop_doubt {
    const char *from; /* constant */
    double minutes;
} ww_develop_doubt;
enum { WW_DEVELOP_DOUBTS = 5 };

/* The time at a temperature that was developed at. */
typedef struct ww_develop_at {
    double temperature_c;
    ww_quantity time; /* [min] */
} ww_develop_at;
enum { WW_DEVELOP_TEMPERATURES = 8 };

/* How temperature counts, by the user's own curves. */
typedef struct ww_develop_temperature {
    bool known;
    double reference_c;     /* of the curves that the law is made of */
    double least_c, most_c; /* measured */
    size_t pairs;
    ww_quantity factor_10;  /* how many times as fast 10 degrees above the reference */
    double slope, slope_sd; /* d ln t / d(1/T) [K] */
    ww_develop_at at[WW_DEVELOP_TEMPERATURES]; /* rising; none where there is no time */
    size_t n;
} ww_develop_temperature;

typedef struct ww_develop_point {
    double log_h, density;
} ww_develop_point;

typedef struct ww_development {
    bool holds;
    bool aimed; /* a contrast was asked for; else only the exposure index */
    ww_develop_measure measure;
    double aim; /* contrast wanted, of that measure */
    ww_optional density_range, subject_range, film_range;
    double flare;
    double below_stops;
    ww_optional metered_index;
    ww_develop_row *row; /* in order of time, owned */
    size_t n;
    bool has_law[WW_DEVELOP_MEASURES];
    ww_time_gamma law[WW_DEVELOP_MEASURES];
    bool repeats; /* the time's interval is of developments that repeat exactly: three times leave
                     nothing to see their scatter by, and no repeatability was given */
    ww_time_gamma_answer answer; /* by the law of the measure, at the curves' temperature */
    ww_quantity time;            /* [min] with every doubt, at `temperature` */
    ww_optional temperature_c;   /* that the time is for; not set: the curves do not say */
    bool other_temperature;      /* it was asked for one that the curves cannot tell */
    ww_develop_temperature by_temperature;
    ww_optional next_min; /* the time to develop next, where there is none or it is extrapolated */
    ww_develop_doubt doubt[WW_DEVELOP_DOUBTS];
    size_t n_doubts;
    ww_develop_range range[WW_DEVELOP_RANGES]; /* N-2 ... N+2; where a subject's range was given */
    size_t n_ranges;
    bool speeds_alike;       /* exposures of the curves are on one scale */
    ww_quantity base_fog;    /* foretold for the time */
    ww_quantity speed_point; /* the same, log H */
    ww_quantity speed_stops; /* gained over the longest time */
    ww_quantity exposure_index;
    ww_optional index_time_min; /* that the index is for */
    ww_develop_point *foretold; /* the curve for the time, made of its neighbours; owned */
    size_t n_foretold;
    ww_notes notes;
} ww_development;

#define WW_DEVELOPMENT_INIT                                                                        \
    { .holds = false }

void ww_development_release(ww_development *development);

/*
 * ww_develop_film_range - the range of light on the film of a subject's range, less the camera's
 *                         flare.
 *
 *   -log10((10^-range + flare) / (1 + flare))
 *
 * Source    definition of flare as a share of the brightest tone's light
 * Given     subject_range  [log10]  > 0;  flare  0 to 0.2
 * Accuracy  1e-15
 */
double ww_develop_film_range(double subject_range, double flare);

/*
 * ww_develop_plan - the time for a contrast, and what else changes with it.
 *
 *   Aim         a contrast index, or the average gradient that turns a subject's range on the film
 *               into a density range from net 0.10 up: G = density range / film range, measured on
 *               each curve over that very range (ww_curve_gradient_over).
 *   Time        by the law of development (time_gamma.h), within a quarter past the times that were
 *               developed; its interval holds the curves' own doubt, the scatter of developments
 *               (what curves show of it, or repeatability over the log H that contrast is measured
 *               over: 2.0 for the contrast index, common practice),
 *               what the times leave open of the law, and 3 % of contrast where the wedge is not
 *               certified: 0.01 D at the thin to 0.10 D at the dense end over 3.0 D.
 *   Temperature t(T) = t e^(B (1/T - 1/T_ref)), T in kelvin, B by weighted least squares from the
 *               user's own curves at other temperatures, each set against the time that gives its
 *               contrast at the reference, which is the temperature of most times. Told from a
 *               quarter of the measured range below it to a quarter above.
 *   Speed       log H of the speed point, base+fog and exposure index between two times lie
 *               straight against log time.
 *   Index       E = E_metered 2^(-below - s), s the stop at which net density reaches 0.10, stop 0
 *               having been exposed as metered at E_metered.
 *   Foretold    net densities of the two neighbouring curves, laid over each other by their speed
 *               points, mixed as their contrasts are to the wanted one.
 *
 * Source    law: see time_gamma.h; temperature: Arrhenius' law (textbook); nominal wedge:
 *           tolerance of uncalibrated step tablets, from a secondary text; the rest definitions
 * Given     input    n curves of one negative film, each with its development time: two
 *                    times at one temperature at least where a contrast is wanted
 *           request
 * Returned  *development  (release it). holds is false where a time or an index was asked for and
 *                         is not there; next_min says what to develop then.
 * Status    WW_OK; WW_EDOMAIN a condition above does not hold, or a number of the request is beyond
 *           its limits; WW_ENODATA a curve without development time, without a channel to judge it
 *           by, or fewer than two times with the contrast that is wanted; nothing was asked for;
 *           WW_EMISMATCH no film, reversal, two films, two statuses, a temperature said of some
 *           curves only; WW_EINPUT one file twice; WW_EMEMORY. err names the file.
 */
ww_status ww_develop_plan(const ww_develop_input input[], size_t n,
                          const ww_develop_request *request, ww_development *development,
                          ww_error *err);

#endif
