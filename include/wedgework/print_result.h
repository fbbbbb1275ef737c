/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WEDGEWORK_PRINT_RESULT_H
#define WEDGEWORK_PRINT_RESULT_H

#include <stdbool.h>
#include <stddef.h>
#include <wedgework/error.h>
#include <wedgework/notes.h>
#include <wedgework/print.h>
#include <wedgework/readings.h>

/* What may have made a print come out otherwise than foretold. */
typedef enum ww_miss_cause {
    WW_MISS_NOTHING,   /* no more than the errors of reading */
    WW_MISS_EXPOSURE,  /* all tones got more or less by one log H: time or lamp */
    WW_MISS_CONTRAST,  /* the range is another about the tone that sets the time: filter, developer
                        */
    WW_MISS_LIGHT_END, /* exposure or density was added that fades in the dark tones: fog, flare */
    WW_MISS_ONE,       /* one tone alone: its burn or dodge, or its reading */
    WW_MISS_BOTH,      /* exposure and contrast together */
    WW_MISS_CAUSES
} ww_miss_cause;

/* "nothing", "exposure", "contrast", "light end", "one tone alone", "exposure and contrast". */
const char *ww_miss_cause_name(ww_miss_cause cause);

/* One cause put to the readings. */
typedef struct ww_miss_hypothesis {
    bool tried;                  /* there are readings enough that it would show in */
    bool fits;                   /* its chance is no rarer than 0.5 % */
    bool supported;              /* it fits, and no other fits better beyond chance */
    ww_optional log_h, log_h_sd; /* more than foretold, at the tone that sets the time */
    ww_optional range, range_sd; /* log H that the paper's range is shorter by, + harder */
    ww_optional lift;            /* [D] of the lightest tone read, by what was added */
    ww_optional off;             /* [D] that the one tone came out darker by */
    double chi_squared;
    size_t freedom;
    double chance; /* of so large a chi-square where this is the cause */
} ww_miss_hypothesis;

/* One reading of the print; densities are above paper white. */
typedef struct ww_miss_tone {
    char *tone; /* owned */
    ww_part part;
    double foretold; /* where `beyond`, the end of what was measured on the paper */
    bool beyond;
    double came;
    double error; /* of the difference of the two, 1 sd */
    double left;  /* came less what the best hypothesis makes of it */
} ww_miss_tone;

/* What there is to be seen before any cause is asked for. */
typedef enum ww_miss_sight {
    WW_MISS_SEEN,      /* causes are put to the readings */
    WW_MISS_ALL_WHITE, /* every reading is at the paper's white: it got less, by a bound alone */
    WW_MISS_ALL_BLACK, /* at its black: more */
    WW_MISS_SWAPPED    /* two tones are the other way round, and exchanged they fit */
} ww_miss_sight;

/* How a print came out, and what is made of it. */
typedef struct ww_print_miss {
    bool set;
    char *paper; /* that it was made on, owned */
    char *contrast;
    double time_s;
    ww_miss_sight sight; /* other than WW_MISS_SEEN: no cause was tried, nothing is learned */
    double least;        /* log H that it got less, or more, at least; where all white or black */
    char *other;         /* of two tones swapped the second, `telling` is the first; owned */
    ww_miss_hypothesis hypothesis[WW_MISS_CAUSES];
    size_t n_supported;
    ww_miss_cause best; /* of those supported the one that fits best; where none is, of all */
    char *odd;          /* the tone that one tone alone would be, where that was tried; owned */
    char *besides;      /* a tone that was taken out, as nothing explains it with the others: the
                           hypotheses are about the rest; owned, NULL where none was */
    ww_miss_tone *tone;
    size_t n_tones;
    char *telling; /* where not one cause alone is supported: the tone whose reading would tell,
                      owned; "" where none would */
    char *why;     /* what came out and why, in sentences; owned */
    bool learned;  /* the print teaches something about the paper: */
    ww_print_offset offset; /* all that is known then; owned texts */
    ww_optional lift;       /* [D] as ww_print_request has it: what the next print is to know */
    ww_notes notes;
} ww_print_miss;

#define WW_PRINT_MISS_INIT                                                                         \
    { .set = false }

void ww_print_miss_release(ww_print_miss *miss);

enum { WW_PRINT_RESULT_TONES_MOST = 200 };

/*
 * ww_print_result_explain - why a print that was made to a plan came out as it did.
 *
 *   foretold  D = P(log H),  log H = that of the plan, its local work, and the print's own time
 *   exposure  D = P(log H + a)
 *   contrast  D = P(p + (log H - p) R / (R - r)), p log H of the first tone's aim, R the paper's
 *             range
 *   light end D = P(log10(10^log H + h)) or D = P(log H) + d (1 - P / D-max), h, d > 0: the better
 *   one       D but for one tone, which is whatever it is: its burn or dodge, or its reading
 *   both      exposure and contrast
 *
 * Each is fitted by least squares, weighted by the covariance of (came out - foretold): errors of
 * the print's readings and of its white, of the negative's readings, a second's error of the hand
 * for each burn or dodge, the process; and the paper's curve, whose errors hang together within
 * 0.15 log H. A density beyond what was measured on the paper counts only where it falls short of
 * the end.
 *
 * Judged    By chi-square, and what nested models improve it by: "nothing" stands where it is no
 *           rarer than 0.5 % and no single cause betters it by 7.88 (0.5 %). Else, of the single
 *           causes no rarer than 0.5 %, those within 6 of the best are supported alike: where there
 *           are several, nobody can tell from these readings. Exposure and contrast together are
 *           named only where no single cause fits, or both better the best by 10.83 (0.1 %).
 *           A cause whose size the readings leave open by over 2 stops is not tried. Fog and flare
 *           are told only where the darkest tone read stands, off by no more than a third of the
 *           lift or 0.03 D; where no dark tone was read, beside another cause at most. Where
 *           exposure and contrast together fit as well (within 3), both are named.
 *           One tone alone counts with 2 ln of the tones read added to its chi-square, as it was
 *           picked of so many; one without local work is named only where it leaves least so.
 *           Where no cause is supported, the oddest tone is taken out, if no other would leave as
 *           little (within 6): exposure, contrast, fog or flare is told where it alone is supported
 *           by the rest, three readings at least, and the tone is named besides.
 *           A tone that the cause told leaves off, so that chance has the oddest of so many that
 *           odd in under 5 %, is named besides.
 *           Where every reading is at paper white (net under 0.04) or at black (within 0.05), that
 *           bounds the exposure and says no more. Where two tones lie the other way round, by over
 *           3 sd, and are exchanged, all without local work are in order and one cause fits; where
 *           that leaves less than any cause does without its oddest tone, they look swapped: by
 *           chi-square and 2 for each size (Akaike's criterion). A burn that went far too long
 *           puts its tone out of order as well.
 * Learned   Where one alone is supported, and it is nothing, exposure, contrast or both: the log H
 *           by which the next print lands the tone that sets the time on its aim, which has in it
 *           what that tone's reading on the negative and the curve there are likely to be off by.
 *           Where readings scatter more than their errors say, all sd grow by as much. What an
 *           entry for the same paper, contrast, lot and size knew counts by its weight; readings
 *           of the negative and the paper's curve are the same from print to print and do not
 *           average out. Where the new print contradicts the old ones by over 2 sd, they count for
 *           as little as that takes. Fog and flare teach nothing about a paper. Where one tone is
 *           off, alone or besides, the others teach, unless it is the one that sets the time. Where
 *           none or several causes are supported, what puts the tone that sets the time right is
 *           learned all the same, half of it (1 sd) being doubted; not where the other tones ask
 *           for over a stop more or less, nor where it may be the one that is off, nor where it may
 *           be fog or flare again that the print before was told to have.
 *
 * Source    the causes: common practice of printers; chi-square, likelihood ratio: their laws; hand
 *           error of a second: common practice
 * Given     request  of the plan that the print was made to
 *           print    readings of tones that the negative has; with `exposure time` or `contrast`
 *                    where the print had another time, or another paper than the plan's choice
 * Returned  *miss    (release it)
 * Status    WW_OK
 *           WW_EMISMATCH  no print, or one read in another status, zero, or state (wet, dry), on
 *                         another lot, at another size or aperture than the plan's; one whose
 *                         tones all lie the other way round than foretold
 *           WW_ENODATA    a tone or part that the negative lacks, none that both have; no density
 *                         in the paper's channel; no paper of that contrast; a plan without a time
 *           WW_EDOMAIN    over 200 readings; one that is lighter than its own paper white by more
 *                         than 0.03 and 2 sd
 *           WW_EMEMORY    and all of ww_print_plan_make
 */
ww_status ww_print_result_explain(const ww_print_request *request, const ww_readings *print,
                                  ww_print_miss *miss, ww_error *err);

/*
 * ww_print_offsets_learn - the offsets with what was learned in place of the entry for the same
 *                          paper, contrast, lot and size, or behind them.
 *
 * Returned  *learned, *n_learned  all of them; release them
 * Status    WW_OK; WW_EMEMORY
 */
ww_status ww_print_offsets_learn(const ww_print_miss *miss, const ww_print_offset offset[],
                                 size_t n, ww_print_offset **learned, size_t *n_learned,
                                 ww_error *err);

void ww_print_offsets_release(ww_print_offset offset[], size_t n);

#endif
