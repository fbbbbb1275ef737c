/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "image/fault.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

void ww__fault_keep(ww__fault *f, size_t patch, ww_channel channel, double value) {
    const bool first = f->last == 0;
    if (f->last != patch + 1)
        f->patches++, f->channels = 0;
    f->last = patch + 1;
    f->channels |= 1u << channel;
    if (first || fabs(value) > fabs(f->value)) {
        f->patch = patch;
        f->channel = channel;
        f->value = value;
    }
    if (f->patch == patch)
        f->with = f->channels;
}

/* Whether the patch that is named has it in some channels of those that were read. */
static bool is_of_some(const ww_measured *m, const ww__fault *f) {
    for (int c = 0; c < WW_CHANNEL_COUNT && f->channel != WW_CHANNEL_COUNT; c++)
        if (m->has[c] && !(f->with >> c & 1u))
            return true;
    return false;
}

const char *ww__fault_who(const ww_measured *m, const char *what, const ww__fault *f,
                          char words[WW__FAULT_WORDS]) {
    char others[40] = "", channel[24] = "";
    if (is_of_some(m, f))
        snprintf(channel, sizeof channel, " (%s)", ww_channel_name(f->channel));
    if (f->patches == 2)
        snprintf(others, sizeof others, " and another one");
    else if (f->patches > 2)
        snprintf(others, sizeof others, " and %zu others", f->patches - 1);
    snprintf(words, WW__FAULT_WORDS, "%s '%.40s'%s%s", what, m->patch[f->patch].step, channel,
             others);
    words[0] = (char)toupper((unsigned char)words[0]);
    return words;
}

const char *ww__fault_percent(double share, char text[], size_t size) {
    return ww_number_format(100.0 * share, share < 0.0995 ? 1 : 0, text, size);
}
