/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/compare_words.h"
#include "base/escape.h"
#include "out/scan_words.h"
#include <math.h>

static void add_name(ww__text *text, const ww_compare_print *print) {
    char shown[200];
    ww__text_add_format(text, "'%s'", ww__escape_message(print->name, shown, sizeof shown));
}

void ww__words_darker(ww__text *text, double difference) {
    if (fabs(difference) < 0.005) {
        ww__text_add(text, "no different");
        return;
    }
    ww__text_add_number(text, fabs(difference), 2);
    ww__text_add(text, difference > 0.0 ? " D darker" : " D lighter");
}

const char *ww__words_compare_tone(const ww_comparison *comparison, const ww_compare_pair *pair,
                                   size_t at) {
    return comparison->print[pair->a].tone[pair->tone[at].a].label;
}

static void add_tone(ww__text *text, const ww_comparison *comparison, const ww_compare_pair *pair,
                     size_t at) {
    char shown[200];
    ww__text_add_format(
        text, "%s%s", comparison->print[pair->a].curve ? "log H " : "tone ",
        ww__escape_message(ww__words_compare_tone(comparison, pair, at), shown, sizeof shown));
}

/* --- the act ---------------------------------------------------------------------------------- */

static bool some_out_of_reach(const ww_compare_pair *pair) {
    for (size_t i = 0; i < pair->n; i++)
        if (pair->tone[i].density[pair->main].set && !pair->tone[i].reached)
            return true;
    return false;
}

static void add_worst(ww__text *text, const ww_comparison *comparison, const ww_compare_pair *pair,
                      const ww_compare_worst *worst) {
    const ww_compare_difference *tone = &pair->tone[worst->at];
    const bool small = fabs(worst->value) < 0.005, all = fabs(pair->worst.value) < 0.005;
    if (pair->reached.there && !(small && all) && some_out_of_reach(pair))
        ww__text_add_format(text, "of the tones that it can %s, ",
                            comparison->print[pair->b].screen ? "show" : "print");
    if (small) {
        ww__text_add(text, all ? "no tone differs by 0.01 D, trust +-"
                               : "none differs by 0.01 D, trust +-");
        ww__words_trust(text, worst->half);
        ww__text_add(text, " D");
        return;
    }
    ww__text_add(text, "at most ");
    ww__words_darker(text, worst->value);
    ww__text_add(text, " at ");
    add_tone(text, comparison, pair, worst->at);
    if (tone->density[pair->main].set)
        ww__text_add_format(text, " (%s, %s)", ww_viewing_region_word(tone->region),
                            ww_channel_name(worst->channel));
    ww__text_add(text, ", trust +-");
    ww__words_trust(text, worst->half);
    ww__text_add(text, fabs(worst->value) <= worst->half ? " D: within its doubt" : " D");
}

/* What densities do not tell. */
static void add_worst_colour(ww__text *text, const ww_comparison *comparison,
                             const ww_compare_pair *pair) {
    if (pair->n_de2000 == 0 || pair->de2000_max <= pair->de2000_max_half)
        return;
    ww__text_add(text, "; in colour at most CIEDE2000 ");
    ww__text_add_number(text, pair->de2000_max, 1);
    ww__text_add(text, " at ");
    add_tone(text, comparison, pair, pair->de2000_at);
    ww__text_add(text, ", trust +-");
    ww__text_add_number(text, ceil(10.0 * pair->de2000_max_half) / 10.0, 1);
}

/* Of a scale that ends before full tone. */
static void add_unread_black(ww__text *text, const ww_comparison *comparison,
                             const ww_compare_pair *pair) {
    const ww_compare_print *a = &comparison->print[pair->a], *b = &comparison->print[pair->b];
    if (!b->black_known)
        ww__text_add(text, a->black_known ? "black not read; " : "blacks not read; ");
    else if (!a->black_known)
        ww__text_add(text, "black of the first not read; ");
}

static void add_difference(ww__text *text, const ww_comparison *comparison,
                           const ww_compare_pair *pair) {
    const ww_compare_worst *worst = pair->reached.there ? &pair->reached : &pair->worst;
    if (pair->never_black) {
        ww__text_add(text, "black ");
        ww__words_darker(text, pair->black.value);
        ww__text_add(text, ", which no curve takes away; ");
    } else if (!ww_quantity_present(pair->black)) {
        add_unread_black(text, comparison, pair);
    }
    if (worst->there)
        add_worst(text, comparison, pair, worst);
    else
        ww__text_add(text, "no densities in common");
    add_worst_colour(text, comparison, pair);
}

static size_t count(const ww_compare_pair *pair, ww_compare_verdict verdict) {
    size_t n = 0;
    for (int k = 0; k < WW_LIMIT_COUNT; k++)
        n += verdict == WW_COMPARE_NOT_ASKED ? pair->check[k].verdict != WW_COMPARE_NOT_ASKED
                                             : pair->check[k].verdict == verdict;
    return n;
}

static size_t count_doubtful(const ww_compare_pair *pair) {
    size_t n = 0;
    for (int k = 0; k < WW_LIMIT_COUNT; k++)
        n += pair->check[k].doubtful;
    return n;
}

static void add_beyond(ww__text *text, const ww_compare_pair *pair) {
    bool first = true;
    for (int k = 0; k < WW_LIMIT_COUNT; k++) {
        const ww_compare_check *check = &pair->check[k];
        const bool colour = k > WW_LIMIT_DRIFT;
        if (check->verdict != WW_COMPARE_BEYOND)
            continue;
        ww__text_add_format(text, "%s%s ", first ? "" : ", ",
                            ww_compare_limit_name((ww_compare_limit)k));
        if (!colour && check->value > 0.0)
            ww__text_add(text, "+");
        ww__text_add_number(text, check->value, colour ? 1 : 2);
        ww__text_add_format(text, "%s (limit ", colour ? "" : " D");
        ww__text_add_number(text, check->limit, colour ? 1 : ww__text_decimals(check->limit));
        ww__text_add(text, check->doubtful ? ", in doubt)" : ")");
        first = false;
    }
}

/* "2 of 3 limits", "the one limit" */
static void add_share(ww__text *text, size_t part, size_t of) {
    if (of == 1)
        ww__text_add(text, "the one limit");
    else
        ww__text_add_format(text, "%zu of %zu limits", part, of);
}

void ww__words_compare_offset(ww__text *text, const ww_compare_pair *pair) {
    bool first = true;
    for (int r = 0; r < WW_REGION_COUNT; r++) {
        if (!pair->offset[r].set || fabs(pair->offset[r].value) < 0.005)
            continue;
        if (!first)
            ww__text_add(text, ", ");
        ww__words_darker(text, pair->offset[r].value);
        ww__text_add_format(text, " in the %s tones", ww_viewing_region_word((ww_region_name)r));
        first = false;
    }
}

static void add_verdict(ww__text *text, const ww_compare_pair *pair) {
    const size_t asked = count(pair, WW_COMPARE_NOT_ASKED), doubtful = count_doubtful(pair);
    ww__text offset = WW__TEXT_INIT;
    switch (pair->within) {
    case WW_COMPARE_WITHIN:
        if (asked == 1)
            ww__text_add(text,
                         doubtful ? "within the one limit, in doubt" : "within the one limit");
        else
            ww__text_add_format(text, "within all %zu limits", asked);
        if (asked > 1 && doubtful > 0)
            ww__text_add_format(text, ", %zu of them in doubt", doubtful);
        return;
    case WW_COMPARE_UNKNOWN:
        ww__text_add(text, "not shown to be within ");
        add_share(text, count(pair, WW_COMPARE_UNKNOWN), asked);
        return;
    default:
        break;
    }
    ww__text_add(text, "beyond ");
    add_share(text, count(pair, WW_COMPARE_BEYOND), asked);
    ww__text_add(text, ": ");
    add_beyond(text, pair);
    ww__words_compare_offset(&offset, pair);
    if (offset.n > 0)
        ww__text_add_format(text, "; carry to the next run %s", ww__text_string(&offset));
    text->failed |= offset.failed;
    ww__text_release(&offset);
}

void ww__words_compare_act(ww__text *text, const ww_comparison *comparison) {
    for (size_t i = 0; i < comparison->n_pairs; i++) {
        const ww_compare_pair *pair = &comparison->pair[i];
        if (i > 0)
            ww__text_add(text, " ");
        add_name(text, &comparison->print[pair->b]);
        if (pair->within == WW_COMPARE_NOT_ASKED) {
            ww__text_add(text, " against ");
            add_name(text, &comparison->print[pair->a]);
            ww__text_add(text, ": ");
            add_difference(text, comparison, pair);
        } else {
            ww__text_add(text, " is ");
            add_verdict(text, pair);
        }
        ww__text_add(text, ".");
    }
}

/* --- why -------------------------------------------------------------------------------------- */

static void add_ends(ww__text *text, const ww_compare_print *print) {
    add_name(text, print);
    if (!ww_quantity_present(print->range)) {
        ww__text_add(text, " has no white or black that was read");
        return;
    }
    ww__text_add(text, " runs from ");
    ww__text_add_number(text, print->white.value, 2);
    ww__text_add(text, print->black_known ? " to " : " to at least ");
    ww__text_add_number(text, print->black.value, 2);
    ww__text_add(text, " D");
    if (print->main != WW_VISUAL)
        ww__text_add_format(text, " in %s", ww_channel_name(print->main));
}

static void add_colours(ww__text *text, const ww_comparison *comparison,
                        const ww_compare_pair *pair) {
    if (pair->n_de2000 == 0)
        return;
    ww__text_add_format(text, "; CIEDE2000 of %zu tone%s is ", pair->n_de2000,
                        pair->n_de2000 == 1 ? "" : "s");
    ww__text_add_number(text, pair->de2000_mean, 1);
    ww__text_add(text, " on average and at most ");
    ww__text_add_number(text, pair->de2000_max, 1);
    ww__text_add(text, ", at ");
    add_tone(text, comparison, pair, pair->de2000_at);
}

void ww__words_compare_why(ww__text *text, const ww_comparison *comparison) {
    ww__text_add(text, "Why: ");
    for (size_t i = 0; i < comparison->n; i++) {
        if (i > 0)
            ww__text_add(text, i + 1 < comparison->n ? ", " : " and ");
        add_ends(text, &comparison->print[i]);
    }
    for (size_t i = 0; i < comparison->n_pairs; i++) {
        const ww_compare_pair *pair = &comparison->pair[i];
        ww__text_add_format(text, "; %zu tone%s compared", pair->n,
                            pair->n == 1 ? " was" : "s were");
        if (comparison->n_pairs > 1) {
            ww__text_add(text, " with ");
            add_name(text, &comparison->print[pair->b]);
        }
        add_colours(text, comparison, pair);
    }
    ww__text_add(text, ".");
}

/* --- what no curve takes away ----------------------------------------------------------------- */

static void add_white(ww__text *text, const ww_compare_pair *pair) {
    ww__text_add(text, " has a white ");
    ww__words_darker(text, pair->white.value);
    ww__text_add(text, ", and nothing prints lighter than its paper.");
}

static void add_black(ww__text *text, const ww_compare_pair *pair) {
    ww__text_add(text, " has a black ");
    ww__words_darker(text, pair->black.value);
    ww__text_add(text, ": tones over ");
    ww__text_add_number(text, pair->black_from, 2);
    ww__text_add(text, pair->above_white ? " D above white" : " D");
    ww__text_add(text, " merge in it. With 1 % of white from the room upon both, the blacks are ");
    ww__text_add_number(text, fabs(pair->seen_black[WW_VIEWING_VEILS - 1]), 2);
    ww__text_add(text, " D apart.");
}

static void add_drift(ww__text *text, const ww_comparison *comparison,
                      const ww_compare_pair *pair) {
    bool first = true;
    ww__text_add(text, " has greys of another hue through the scale than its white: ");
    for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++) {
        const ww_compare_drift *drift = &pair->drift[d];
        if (!drift->there || fabs(drift->value) <= drift->half)
            continue;
        ww__text_add_format(text, "%s%s %s", first ? "" : ", ", ww_compare_drift_name(d),
                            drift->value > 0.0 ? "+" : "");
        ww__text_add_number(text, drift->value, d < WW_COMPARE_A ? 2 : 1);
        ww__text_add(text, d < WW_COMPARE_A ? " D at " : " at ");
        add_tone(text, comparison, pair, drift->at);
        first = false;
    }
    ww__text_add(text, comparison->print[pair->b].curve
                           ? "; no filter takes that away."
                           : "; one curve for all colours does not take that away, three can.");
}

static void add_shift(ww__text *text, double shift, const char *more, const char *fewer,
                      const char *axis) {
    ww__text_add_number(text, fabs(shift), 1);
    ww__text_add_format(text, " %s (%s)", shift > 0.0 ? more : fewer, axis);
}

static void add_hue(ww__text *text, const ww_comparison *comparison, const ww_compare_pair *pair) {
    const bool screen = comparison->print[pair->a].screen != comparison->print[pair->b].screen;
    const bool cooler = comparison->print[pair->b].screen == (pair->white_b < 0.0);
    ww__text_add(text, " has a white of another hue: ");
    add_shift(text, pair->white_b, "yellower", "bluer", "b*");
    ww__text_add(text, ", ");
    add_shift(text, pair->white_a, "redder", "greener", "a*");
    ww__text_add(text, ", trust +-");
    ww__text_add_number(text, pair->white_ab_half, 1);
    ww__text_add(text, ".");
    if (screen)
        ww__text_add(text,
                     cooler ? " Side by side the eye takes the display for too cool, or the print "
                              "for too warm: set the display's white to the light by which prints "
                              "are judged before anything is matched."
                            : " Side by side the eye takes the display for too warm, or the print "
                              "for too cool: set the display's white to the light by which prints "
                              "are judged before anything is matched.");
}

bool ww__words_compare_never(ww__text *text, const ww_comparison *comparison,
                             const ww_compare_pair *pair, size_t which) {
    const bool there[WW__COMPARE_NEVER] = {pair->never_white, pair->never_black, pair->never_hue,
                                           pair->never_drift};
    if (which >= WW__COMPARE_NEVER || !there[which])
        return false;
    add_name(text, &comparison->print[pair->b]);
    switch (which) {
    case 0:
        add_white(text, pair);
        break;
    case 1:
        add_black(text, pair);
        break;
    case 2:
        add_hue(text, comparison, pair);
        break;
    default:
        add_drift(text, comparison, pair);
        break;
    }
    return true;
}
