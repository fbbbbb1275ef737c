/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "channel_notes.h"

#include <assert.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/readings.h>

/* A note taken apart at its " (channel)"; `channel` WW_CHANNEL_COUNT where it has none. */
typedef struct taken {
    size_t before; /* characters up to and with " (" */
    const char *after;
    size_t channel;
} taken;

static taken take_apart(const char *note) {
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++) {
        char mark[24];
        snprintf(mark, sizeof mark, " (%s)", ww_channel_name((ww_channel)c));
        const char *at = strstr(note, mark);
        if (at)
            return (taken){(size_t)(at - note) + 2, at + strlen(mark) - 1, c};
    }
    return (taken){0, note, WW_CHANNEL_COUNT};
}

static bool says_the_same(const char *a, const char *b) {
    const taken x = take_apart(a), y = take_apart(b);
    return x.channel < WW_CHANNEL_COUNT && y.channel < WW_CHANNEL_COUNT && x.before == y.before &&
           strncmp(a, b, x.before) == 0 && strcmp(x.after, y.after) == 0;
}

/* Note i with the channels of all later notes that say the same; `gone` marks those. */
static ww_status add_merged(const ww_notes *from, size_t i, bool gone[], ww_notes *to,
                            ww_error *err) {
    const taken first = take_apart(from->text[i]);
    if (first.channel == WW_CHANNEL_COUNT)
        return ww_notes_add(to, err, "%s", from->text[i]);
    char channels[64];
    size_t n = (size_t)snprintf(channels, sizeof channels, "%s",
                                ww_channel_name((ww_channel)first.channel));
    for (size_t k = i + 1; k < from->n; k++) {
        if (gone[k] || !says_the_same(from->text[i], from->text[k]))
            continue;
        gone[k] = true;
        const ww_channel other = (ww_channel)take_apart(from->text[k]).channel;
        if (n < sizeof channels)
            n +=
                (size_t)snprintf(channels + n, sizeof channels - n, ", %s", ww_channel_name(other));
    }
    return ww_notes_add(to, err, "%.*s%s%s", (int)first.before, from->text[i], channels,
                        first.after);
}

ww_status ww__channel_notes_merge(ww_notes *notes, ww_error *err) {
    assert(notes);
    enum { MOST = 512 }; /* more are left as they are */
    bool gone[MOST] = {false};
    if (notes->n > MOST)
        return WW_OK;
    ww_notes merged = WW_NOTES_INIT;
    for (size_t i = 0; i < notes->n; i++) {
        if (gone[i])
            continue;
        const ww_status status = add_merged(notes, i, gone, &merged, err);
        if (status != WW_OK) {
            ww_notes_release(&merged);
            return status;
        }
    }
    ww_notes_release(notes);
    *notes = merged;
    return WW_OK;
}
