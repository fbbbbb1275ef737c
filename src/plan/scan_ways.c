/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/scan_parts.h"
#include <math.h>
#include <wedgework/number.h>

/* What it takes, and what else would do. */

/* Scans alike whose mean does for all channels; 0 where none does. */
static unsigned average_of(const ww_scan_plan *plan) {
    unsigned most = 1;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (channel->present && channel->average == 0)
            return 0;
        if (channel->present && channel->average > most)
            most = channel->average;
    }
    return most;
}

/* What it could tell, where it cannot tell what was asked for. */
static ww_status note_no_way(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const ww__print_name name = ww__print_show(ww__scan_highlight(worst)->tone);
    if (plan->way != WW_SCAN_NO_WAY || ww__scan_highlight(worst)->over)
        return WW_OK;
    if (plan->least > WW_SCAN_SEPARATE_MOST)
        return ww__print_say(&plan->notes, err,
                             "Nor does it by %d scans, or with %d stops more: '%s' (%s) wants a "
                             "scanner with less noise and flare.",
                             WW_SCAN_PASSES, WW_SCAN_SECOND_MOST, name.text,
                             ww_channel_name(plan->weakest));
    if (!worst->seen)
        return ww__print_say(&plan->notes, err,
                             "By %d scans, some with up to %d stops more, it would tell %.2g D "
                             "apart at '%s' over 3 x 3 pixels: ask for that with --separate, or "
                             "use a scanner with less noise and flare.",
                             WW_SCAN_PASSES, WW_SCAN_SECOND_MOST, ww_scan_asked(plan->least),
                             name.text);
    return ww__print_say(&plan->notes, err,
                         "%d scans, averaged and some with up to %d stops more, do not tell %.2g D "
                         "apart at '%s' (%s) either, but %.2g D over 3 x 3 pixels; one scan tells "
                         "%.2g D. Ask for one of these with --separate, or use a scanner with less "
                         "noise and flare.",
                         WW_SCAN_PASSES, WW_SCAN_SECOND_MOST, plan->separate, name.text,
                         ww_channel_name(plan->weakest), ww_scan_asked(plan->least),
                         ww_scan_asked(worst->told));
}

/* Other ways than the one that was taken, and what one scan would do. */
static ww_status note_ways(ww_scan_plan *plan, ww_error *err) {
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    ww_status status = WW_OK;
    if (plan->second > 0 && average_of(plan) > 0)
        status = ww__print_say(&plan->notes, err,
                               "The mean of %u scans alike would do, too; it takes nothing off a "
                               "pattern that is the same in each.",
                               average_of(plan));
    if (status != WW_OK || plan->way == WW_SCAN_ONE || plan->way == WW_SCAN_NO_WAY)
        return status;
    return ww__print_say(&plan->notes, err,
                         "One scan tells %.2g D apart at '%s' over 3 x 3 pixels: if that is "
                         "enough, ask for it with --separate.",
                         ww_scan_asked(worst->told),
                         ww__print_show(ww__scan_highlight(worst)->tone).text);
}

/* The channel whose tones between the base and the highlight are told least; NULL: as asked for. */
static const ww_scan_channel *least_between(const ww_scan_plan *plan, ww_channel *name) {
    const ww_scan_channel *least = NULL;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_scan_channel *channel = &plan->channel[c];
        if (channel->between > (least ? least->between : plan->separate)) {
            least = channel;
            *name = (ww_channel)c;
        }
    }
    return least;
}

static const char *mean_of(unsigned scans) {
    return scans > 1 ? "the mean of " : "";
}

/* Nobody asked for tones that are thinner than those to be kept; what would tell them, too. */
static ww_status note_between(ww_scan_plan *plan, ww_error *err) {
    ww_channel name;
    const ww_scan_channel *least = least_between(plan, &name);
    const unsigned first = plan->throughout_first, second = plan->throughout_second;
    char stops[32];
    ww_status status;
    if (!least)
        return WW_OK;
    status = ww__print_say(&plan->notes, err,
                           "Thinner tones than '%s' that clip in the second exposure, or nearly "
                           "so, are told to %.2g D at worst (%s).",
                           ww__print_show(ww__scan_highlight(least)->tone).text,
                           ww_scan_asked(least->between), ww_channel_name(name));
    if (status != WW_OK || first == 0)
        return status;
    if (second == 0)
        return ww__print_say(&plan->notes, err, "The mean of %u scans alike would tell them, too.",
                             first);
    return ww__print_say(&plan->notes, err,
                         "To tell %.2g D there, too, merge %s%u of the first exposure with %s%u of "
                         "one with %s stop%s more.",
                         plan->separate, mean_of(first), first, mean_of(second), second,
                         ww_number_format(plan->throughout_stops, 1, stops, sizeof stops),
                         plan->throughout_stops < 1.05 ? "" : "s");
}

/* Means that are rounded to 8 bits again are worth less, where noise is under a code by then. */
static ww_status note_bits(ww_scan_plan *plan, ww_error *err) {
    enum { FEW = 8 };
    const ww_scan_channel *worst = ww__scan_weakest(plan);
    const unsigned alike = plan->second > 0 ? average_of(plan) : plan->first;
    const unsigned scans = alike > plan->second ? alike : plan->second;
    const double codes = ww__scan_highlight(worst)->noise / worst->own_step;
    if (plan->bits > FEW || scans < 2 || !(codes / sqrt(scans) < 1.0))
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "Keep a mean of scans in more than %u bits (`scan --merge` writes 16): "
                         "rounded to %u again, it has steps that its noise no longer hides, and "
                         "tells less than is said.",
                         plan->bits, plan->bits);
}

/* `scan --merge` takes both exposures for scans alike, with the scanner file's noise where it is
 * given, and that was made from one scan. */
static ww_status note_noise_of_means(ww_scan_plan *plan, ww_error *err) {
    const unsigned scans = plan->first > plan->second ? plan->first : plan->second;
    const double less = sqrt(scans);
    if (scans < 2)
        return WW_OK;
    if (plan->second > 0 && plan->first != plan->second)
        return ww__print_say(&plan->notes, err,
                             "A mean of %u scans has %.1f times less noise than one. `scan "
                             "--merge` tells so with --scanner, but the noise that it foretells "
                             "is that of single scans, more than there is%s. The pixels that it "
                             "makes are right all the same.",
                             scans, less,
                             plan->first > plan->second
                                 ? ", and may hold that the second exposure counted no more light"
                                 : "");
    return ww__print_say(
        &plan->notes, err,
        plan->encoded
            ? "A mean of %u scans has %.1f times less noise than the scanner file holds, if that "
              "was made from one. `scan --merge` needs --scanner for codes that are no light, and "
              "tells more noise than there is; a file made from a mean of as many scans of the "
              "wedge has the right one."
            : "A mean of %u scans has %.1f times less noise than the scanner file holds, if that "
              "was made from one: leave --scanner out of `scan --merge`, which then measures the "
              "noise of what it merges.",
        scans, less);
}

static ww_status note_merging(ww_scan_plan *plan, ww_error *err) {
    ww_status status = WW_OK;
    if (plan->first > 1 || plan->second > 1)
        status = ww_notes_add(&plan->notes, err,
                              "Averaging takes off what differs from scan to scan. Leave the film "
                              "where it is: scans that lie a pixel apart are blurred. Let the "
                              "scanner take the mean of so many passes if it can, or make it of "
                              "2, 4 or 8 scans alike with `scan --merge`: of two, then of two such "
                              "means, and so on; more scans than planned do no harm.");
    if (status != WW_OK || plan->second == 0)
        return status;
    return ww__print_say(&plan->notes, err,
                         "Leave the film where it is between both exposures, and merge them%s with "
                         "`scan --merge`: it goes by the ratio measured where both see, not by "
                         "the stops that were set.",
                         plan->passes > 2 ? ", once each is averaged," : "");
}

ww_status ww__scan_ways(ww_scan_plan *plan, ww_error *err) {
    ww_status (*const about[])(ww_scan_plan *, ww_error *) = {
        note_no_way, note_ways, note_between, note_bits, note_merging, note_noise_of_means};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof about / sizeof about[0] && status == WW_OK; i++)
        status = about[i](plan, err);
    return status;
}
