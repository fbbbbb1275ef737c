/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/scan_end.h"
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>

/* Bits of scanners whose codes are stored as they are in files of 16. */
static const unsigned fewer[] = {10, 12, 14};

static double greatest_seen(const ww_scanner_channel *channel) {
    double most = channel->surround.set ? channel->surround.value : 0.0;
    for (size_t i = 0; i < channel->n_steps; i++)
        most = fmax(most, channel->step[i].code);
    return most;
}

/* Bits that would hold all codes of the wedge's scan, and not the base's as planned; 0: none. */
static unsigned may_have(const ww_scanner *scanner, const ww_scan_channel *channel, ww_channel c) {
    const double seen = greatest_seen(&scanner->channel[c]);
    for (size_t i = 0; i < sizeof fewer / sizeof fewer[0]; i++)
        if (seen > 0.0 && seen <= exp2(fewer[i]) - 1.0 && channel->base_code >= exp2(fewer[i]))
            return fewer[i];
    return 0;
}

ww_status ww__scan_end_note(const ww_scan_request *request, ww_scan_plan *plan, ww_error *err) {
    assert(request && plan);
    const ww_scan_channel *worst = &plan->channel[plan->weakest];
    if (worst->ends < plan->white)
        return ww__print_say(&plan->notes, err,
                             "The scanner's codes (%s) end at %.0f of %.0f, as bare glass or thin "
                             "steps showed when it was calibrated: stops are counted to there.",
                             ww_channel_name(plan->weakest), worst->ends, plan->white);
    const unsigned bits = may_have(request->scanner, worst, plan->weakest);
    if (request->scanner->bits != 16 || request->scanner->step > 1.0 || bits == 0)
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "No code of the wedge's scan (%s) is over %.0f, and stops are counted to "
                         "%.0f. A scanner of %u bits whose codes are stored as they are clips at "
                         "%.0f: see that a scan of bare glass has codes over that, or calibrate "
                         "with bare glass clipped beside the wedge.",
                         ww_channel_name(plan->weakest), exp2(bits) - 1.0, plan->white, bits,
                         exp2(bits) - 1.0);
}
