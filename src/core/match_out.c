/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <wedgework/match.h>

double ww_match_out(const ww_match_channel *channel, double drive) {
    assert(channel);
    const double place = fmin(fmax(drive, 0.0), 1.0) * (WW_MATCH_POINTS - 1);
    const size_t i = (size_t)fmin(place, WW_MATCH_POINTS - 2);
    const double share = place - (double)i;
    return channel->out[i] + share * (channel->out[i + 1] - channel->out[i]);
}

double ww_match_value(const ww_match *match, size_t channel, double value) {
    assert(match && channel < WW_MATCH_CHANNELS);
    return 1.0 - ww_match_out(&match->channel[match->n > 1 ? channel : 0], 1.0 - value);
}
