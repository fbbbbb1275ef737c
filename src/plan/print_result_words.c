/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_result_parts.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double other_time = 0.6;  /* [log s] two stops off the plan is hardly meant */
static const double same_stops = 0.02; /* no timer and no reading tells them apart */

static double stops(double log_h) {
    return log_h / WW__PRINT_LOG_STOP;
}

static const char *more(double log_h) {
    return log_h > 0.0 ? "more" : "less";
}

static void add_exposure(ww__text *text, const ww_miss_hypothesis *h) {
    ww__text_add_format(text,
                        "every tone got %.2f stop %s than foretold (+-%.2f): the lamp, its "
                        "voltage, the lens stop, the timer, or the paper's speed",
                        fabs(stops(h->log_h.value)), more(h->log_h.value),
                        WW__PRINT_95 * stops(h->log_h_sd.value));
}

static void add_range(ww__text *text, const ww_miss_hypothesis *h) {
    ww__text_add_format(text,
                        "the range came out %.2f log H %s than foretold (+-%.2f), so %s: the "
                        "filter, the developer, or another paper",
                        fabs(h->range.value), h->range.value > 0.0 ? "shorter" : "longer",
                        WW__PRINT_95 * h->range_sd.value,
                        h->range.value > 0.0 ? "harder" : "softer");
}

/* Seconds that the tone got beyond its plan, by what came out; not where the paper is level. */
static void add_seconds(ww__text *text, const ww__result *result, const ww__print_spot *spot) {
    const double work = ww__result_work(result, spot);
    const double planned = result->time_s * (pow(10.0, work) - 1.0);
    for (size_t i = 0; i < result->n; i++) {
        const ww__result_point *point = &result->point[i];
        double log_h = 0.0, net = 0.0, slope = 0.0, s;
        if (point->spot != spot ||
            !ww__print_papers_log_h(result->candidate->sheet, point->came, &log_h) ||
            !ww__print_papers_net(result->candidate->sheet, log_h, &net, &slope) ||
            slope < WW__RESULT_LEVEL)
            continue;
        s = result->time_s * pow(10.0, work) * (pow(10.0, log_h - point->log_h) - 1.0);
        if (s * planned < 0.0 && fabs(s) >= fabs(planned)) { /* none is shorter than nothing */
            ww__text_add(text, ", as if it had not been made");
            return;
        }
        ww__text_add_format(text, ", %.2g s too %s", fabs(s),
                            (s > 0.0) == (work > 0.0) ? "long" : "short");
        return;
    }
}

/* Its reading that is darker than the paper's black, which no light is; NULL for none. */
static const ww__result_point *find_past_black(const ww__result *result,
                                               const ww__print_spot *spot) {
    const ww__print_sheet *sheet = result->candidate->sheet;
    for (size_t i = 0; i < result->n && sheet->black_measured; i++) {
        const ww__result_point *point = &result->point[i];
        const double sd = hypot(hypot(point->sd, result->white_sd), sheet->white_sd);
        if (point->spot == spot && point->came > sheet->dmax + fmax(WW__PRINT_MERGED, 3.0 * sd))
            return point;
    }
    return NULL;
}

/* What may be wrong with one tone alone. */
static void add_suspects(ww__text *text, const ww__result *result, const ww__print_spot *spot) {
    const double work = ww__result_work(result, spot);
    const ww__result_point *past = find_past_black(result, spot);
    if (past) {
        ww__text_add_format(text,
                            "its reading on the print, as %.2f above white is darker than the "
                            "paper's black, %.2f, and no light does that",
                            past->came, result->candidate->sheet->dmax);
        return;
    }
    if (work == 0.0 || !isfinite(work)) {
        ww__text_add(text, "its reading, on print or negative, or light that fell there alone");
        return;
    }
    ww__text_add_format(text, "its %s", work > 0.0 ? "burn" : "dodge");
    add_seconds(text, result, spot);
    ww__text_add(text, ", or its reading");
}

static void add_one(ww__text *text, const ww__result *result, const ww__print_spot *spot,
                    double off) {
    ww__text_add_format(
        text, "'%s' alone is off, %.2f %s than foretold: ", ww__print_show(spot->name).text,
        fabs(off), off > 0.0 ? "darker" : "lighter");
    add_suspects(text, result, spot);
}

/* By how much the light tones came up: the lightest that was read, and the one that most did. */
static void add_lift(ww__text *text, const ww__result *result, const ww__result_fit *fit) {
    const double *added = fit->parameter[WW_MISS_LIGHT_END];
    size_t lightest = 0, most = 0;
    double lift[2] = {0.0, 0.0};
    for (size_t i = 0; i < result->n; i++) {
        const ww__result_point *point = &result->point[i];
        double net = point->foretold;
        int end = 0;
        (void)ww__result_foretell(result, WW_MISS_LIGHT_END, fit->fog, added, point->log_h, &net,
                                  &end);
        if (point->log_h <= result->point[lightest].log_h)
            lightest = i, lift[0] = net - point->foretold;
        if (net - point->foretold > lift[1])
            most = i, lift[1] = net - point->foretold;
    }
    ww__text_add_format(text, "the light tones came up, '%s' by %.2f",
                        ww__print_show(result->point[lightest].spot->name).text, lift[0]);
    if (lift[1] >= lift[0] + 0.005)
        ww__text_add_format(text, " and '%s' by %.2f",
                            ww__print_show(result->point[most].spot->name).text, lift[1]);
}

static void add_cause(ww__text *text, ww_miss_cause cause, const ww__result *result,
                      const ww__result_fit *fit, const ww_miss_hypothesis *h) {
    const char *first = ww__print_tones_first(result->negative)->name;
    switch (cause) {
    case WW_MISS_EXPOSURE:
        add_exposure(text, h);
        break;
    case WW_MISS_CONTRAST:
        ww__text_add_format(text, "'%s' is right and ", ww__print_show(first).text);
        add_range(text, h);
        break;
    case WW_MISS_BOTH:
        add_exposure(text, h);
        ww__text_add(text, "; and ");
        add_range(text, h);
        break;
    case WW_MISS_LIGHT_END:
        add_lift(text, result, fit);
        ww__text_add_format(text,
                            ", and the dark ones %s: fog (safelight, light leak, old paper or "
                            "developer) or flare",
                            fit->dark_stands ? "stand" : "less, if at all");
        break;
    case WW_MISS_ONE:
        add_one(text, result, fit->one.spot, h->off.value);
        break;
    default:
        ww__text_add(text, "nothing beyond the errors of reading");
    }
}

static void add_one_consequence(ww__text *text, const ww__result *result,
                                const ww__print_spot *spot) {
    ww__text_add(text, ". The other tones came out as foretold");
    if (spot == ww__print_tones_first(result->negative))
        ww__text_add_format(text,
                            ", and '%s' sets the time: read it again, on print and negative. "
                            "Nothing was learned, and the plan stands.",
                            ww__print_show(spot->name).text);
    else
        ww__text_add_format(text,
                            ". Read '%s' again; nothing was learned from it, and the plan stands.",
                            ww__print_show(spot->name).text);
}

/* The tone that is off besides sets the time, which hangs on where it was misread. */
static bool is_first_besides(const ww__result *result, const ww_print_miss *miss) {
    return miss->besides &&
           strcmp(miss->besides, ww__print_tones_first(result->negative)->name) == 0;
}

/* By how much plans without another test move: what all tones say, but for what the tone that sets
 * the time says itself, and prints before. */
static void add_learned(ww__text *text, const ww__result *result, const ww_print_miss *miss) {
    const ww_print_offset *known = result->candidate->sheet->offset;
    const ww_optional told = miss->hypothesis[miss->best].log_h;
    const double moved = stops(miss->offset.log_h - (known ? known->log_h : 0.0));
    if (!told.set || fabs(moved - stops(told.value)) < same_stops) {
        ww__text_add(text, ". That was learned.");
        return;
    }
    ww__text_add_format(text,
                        ". Learned was %.2f stop %s: '%s' sets the time, and what it "
                        "reads itself%s counts for more there.",
                        fabs(moved), more(moved),
                        ww__print_show(ww__print_tones_first(result->negative)->name).text,
                        miss->offset.prints > 1 ? ", as prints before," : "");
}

/* What follows from it. */
static void add_consequence(ww__text *text, const ww__result *result, const ww__result_fit *fit,
                            const ww_print_miss *miss) {
    if (miss->best == WW_MISS_ONE)
        add_one_consequence(text, result, fit->one.spot);
    else if (miss->best == WW_MISS_LIGHT_END)
        ww__text_add(text, ". Find where the light comes from; the plan stands, for a print "
                           "without it.");
    else if (is_first_besides(result, miss))
        ww__text_add_format(text,
                            ". '%s', which sets the time, says otherwise: nothing was learned, and "
                            "the plan stands. Read it again, on print and negative.",
                            ww__print_show(miss->besides).text);
    else if (miss->learned && miss->best != WW_MISS_NOTHING)
        add_learned(text, result, miss);
    else
        ww__text_add(text, ".");
}

static void add_nothing(ww__text *text, const ww__result *result, const ww_print_miss *miss) {
    const ww_miss_hypothesis *exposure = &miss->hypothesis[WW_MISS_EXPOSURE];
    ww__text_add_format(text, "it came out as foretold, within the errors of reading (%zu %s)",
                        result->n, result->n == 1 ? "reading" : "readings");
    if (exposure->tried)
        ww__text_add_format(text, "; an exposure off by less than %.2f stop would not show",
                            WW__PRINT_95 * stops(exposure->log_h_sd.value));
    ww__text_add(text, ".");
}

/* Whatever the cause: by how much the tone that sets the time is to be put right. */
static void add_fact(ww__text *text, const ww__result *result, const ww_print_miss *miss) {
    const ww__print_spot *first = ww__print_tones_first(result->negative);
    if (!miss->learned && ww__result_lit_again(result, miss)) {
        ww__text_add(text, "The print before was told to have fog or flare, and this may be the "
                           "same: nothing was learned, and the plan stands.");
        return;
    }
    if (!miss->learned) {
        ww__text_add(text, "Nothing was learned, and the plan stands.");
        return;
    }
    for (size_t i = 0; i < result->n; i++) {
        const double off = result->point[i].came - result->point[i].foretold;
        if (result->point[i].spot != first || result->point[i].part != WW_PART_WHOLE)
            continue;
        ww__text_add_format(text,
                            "Whatever it was, '%s' came out %.2f %s than foretold: that was "
                            "learned, and counts until a print tells more.",
                            ww__print_show(first->name).text, fabs(off),
                            off > 0.0 ? "darker" : "lighter");
    }
}

/* A tone that the cause leaves off by more than its error explains, of so many tones. */
static void add_odd(ww__text *text, const ww__result *result, const ww__result_fit *fit,
                    const ww_print_miss *miss) {
    size_t odd = miss->n_tones;
    if (!fit->odd.spot || miss->best == WW_MISS_ONE ||
        ww__result_odd_chance(&fit->odd) >= WW__RESULT_ODD)
        return;
    for (size_t i = 0; i < miss->n_tones; i++)
        if (result->point[i].spot == fit->odd.spot &&
            (odd == miss->n_tones || fabs(miss->tone[i].left) > fabs(miss->tone[odd].left)))
            odd = i;
    ww__text_add_format(text,
                        " '%s' does not go with that, %.2f %s, with an error of %.2f (1 sd): ",
                        ww__print_show(fit->odd.spot->name).text, fabs(miss->tone[odd].left),
                        miss->tone[odd].left > 0.0 ? "darker" : "lighter", miss->tone[odd].error);
    add_suspects(text, result, fit->odd.spot);
    ww__text_add(text, ".");
}

/* Two and more fit: both are named. */
static void add_undecided(ww__text *text, const ww__result *result, const ww__result_fit *fit,
                          const ww_print_miss *miss) {
    const ww__print_spot *spot = ww__print_tones_named(result->negative, miss->telling);
    size_t n = 0;
    ww__text_add(text, "these readings leave it open. Either ");
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++) {
        if (!miss->hypothesis[c].supported)
            continue;
        ww__text_add(text, n++ > 0 ? "; or " : "");
        add_cause(text, c, result, fit, &miss->hypothesis[c]);
    }
    ww__text_add(text, ". ");
    add_fact(text, result, miss);
    if (!spot) {
        ww__text_add(text, " No other tone of this negative would tell: read each tone of the "
                           "print three times, or make another.");
        return;
    }
    ww__text_add(text, " ");
    ww__text_add_format(text, "Read '%s' on the print: it is at", ww__print_show(spot->name).text);
    n = 0;
    for (ww_miss_cause c = WW_MISS_NOTHING; c < WW_MISS_CAUSES; c++) {
        double net = 0.0;
        int end = 0;
        if (!miss->hypothesis[c].supported ||
            !ww__result_foretell(result, c, fit->fog, fit->parameter[c],
                                 ww__result_log_h(result, spot, spot->seen), &net, &end))
            continue;
        ww__text_add_format(text, "%s %.2f by %s", n++ > 0 ? "," : "", ww__print_net(net),
                            ww_miss_cause_name(c));
    }
    ww__text_add(text, ".");
}

static void add_unexplained(ww__text *text, const ww__result *result, const ww_print_miss *miss) {
    const char *odd = miss->telling;
    const double planned = result->candidate->paper.time_s.value;
    double left = 0.0;
    for (size_t i = 0; i < miss->n_tones; i++)
        if (strcmp(miss->tone[i].tone, odd) == 0 && fabs(miss->tone[i].left) > fabs(left))
            left = miss->tone[i].left;
    ww__text_add_format(
        text,
        "nothing tried explains it: not one exposure, nor contrast, nor fog or "
        "flare, nor one tone alone. Read '%s' again, on print and negative: it is %.2f %s than the "
        "best of these has it. ",
        ww__print_show(odd).text, fabs(left), left > 0.0 ? "darker" : "lighter");
    if (fabs(log10(result->time_s / planned)) > other_time)
        ww__text_add_format(text,
                            "See whether its exposure time, %.4g s, is right: planned were "
                            "%.4g s. ",
                            result->time_s, planned);
    add_fact(text, result, miss);
}

/* All at one end of the paper: a bound. */
static void add_bound(ww__text *text, const ww__result *result, const ww_print_miss *miss) {
    const bool white = miss->sight == WW_MISS_ALL_WHITE;
    ww__text_add_format(text,
                        "every tone that was read is at the paper's %s: it got at least %.1f "
                        "stops %s than foretold, and by how much more these readings can't tell. "
                        "Nothing was learned, and the plan stands. ",
                        white ? "white" : "black", stops(miss->least), white ? "less" : "more");
    if (*miss->telling)
        ww__text_add_format(text, "Read '%s' on the print, which goes %s last. ",
                            ww__print_show(miss->telling).text, white ? "white" : "black");
    ww__text_add_format(
        text,
        "Check timer, lens stop, lamp, developer and the exposure time, %.4g s, and "
        "make another print with %s time.",
        result->time_s, white ? "more" : "less");
}

static const ww_miss_tone *find_tone(const ww_print_miss *miss, const char *name) {
    size_t i = 0;
    while (strcmp(miss->tone[i].tone, name) != 0)
        i++;
    return &miss->tone[i];
}

static void add_swapped(ww__text *text, const ww_print_miss *miss) {
    const ww_miss_tone *one = find_tone(miss, miss->telling), *two = find_tone(miss, miss->other);
    ww__text_add_format(text,
                        "'%s' and '%s' look swapped: they read %.2f and %.2f above white, foretold "
                        "were %.2f and %.2f, and exchanged they fit. Nothing was learned, and the "
                        "plan stands. Exchange the two readings, or read both tones again.",
                        ww__print_show(one->tone).text, ww__print_show(two->tone).text,
                        ww__print_net(one->came), ww__print_net(two->came),
                        ww__print_net(one->foretold), ww__print_net(two->foretold));
}

ww_status ww__result_words(const ww__result *result, const ww__result_fit *fit, ww_print_miss *miss,
                           ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww_status status;
    if (miss->sight == WW_MISS_SWAPPED) {
        add_swapped(&text, miss);
    } else if (miss->sight != WW_MISS_SEEN) {
        add_bound(&text, result, miss);
    } else if (miss->n_supported > 1) {
        add_undecided(&text, result, fit, miss);
    } else if (miss->n_supported == 0) {
        add_unexplained(&text, result, miss);
    } else if (miss->best == WW_MISS_NOTHING) {
        add_nothing(&text, result, miss);
        add_odd(&text, result, fit, miss);
    } else {
        add_cause(&text, miss->best, result, fit, &miss->hypothesis[miss->best]);
        add_consequence(&text, result, fit, miss);
        add_odd(&text, result, fit, miss);
    }
    status = ww__text_status(&text, err);
    if (status == WW_OK) {
        miss->why = strdup(ww__text_string(&text));
        if (!miss->why)
            status = ww_error_set(err, WW_EMEMORY, "no memory for a sentence");
    }
    ww__text_release(&text);
    return status;
}
