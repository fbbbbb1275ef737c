/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <wedgework/number.h>
#include <wedgework/pack.h>

#include "base/escape.h"

enum { AMOUNT_SIZE = 32 };

/* A letter of a pack and the filters that it stands for. */
static const struct {
    char letter;
    double of[WW_FILTER_COUNT];
} kinds[] = {{'Y', {1, 0, 0}}, {'M', {0, 1, 0}}, {'C', {0, 0, 1}},
             {'R', {1, 1, 0}}, {'G', {1, 0, 1}}, {'B', {0, 1, 1}}};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

const char *ww_filter_name(ww_filter filter) {
    static const char *const names[] = {"yellow", "magenta", "cyan"};
    assert((unsigned)filter < WW_FILTER_COUNT);
    return names[filter];
}

const char *ww_cast_name(ww_channel channel, bool much) {
    static const char *const names[][2] = {
        {"red", "cyan"}, {"green", "magenta"}, {"blue", "yellow"}};
    assert((unsigned)channel <= WW_BLUE);
    return names[channel][much];
}

ww_channel ww_filter_channel(ww_filter filter) {
    static const ww_channel channels[] = {WW_BLUE, WW_GREEN, WW_RED};
    assert((unsigned)filter < WW_FILTER_COUNT);
    return channels[filter];
}

static ww_status refuse(const char *text, const char *why, ww_error *err) {
    char shown[64];
    return ww_error_set(err, WW_EINPUT,
                        "'%s' is no filter pack: %s; write yellow, magenta and cyan in CC as "
                        "60Y45M, or 0 for none",
                        ww__escape_message(text, shown, sizeof shown), why);
}

static const char *skip_joint(const char *at) {
    while (*at == ' ' || *at == '\t' || *at == '+')
        at++;
    return at;
}

/* The amount at `at`; where it ends. NULL where there is none, or it is beyond what a pack has. */
static const char *take_amount(const char *at, double *amount) {
    char digits[AMOUNT_SIZE];
    const size_t n = strspn(at, "0123456789.");
    if (n == 0 || n >= sizeof digits)
        return NULL;
    memcpy(digits, at, n);
    digits[n] = '\0';
    if (ww_number_parse(digits, '.', amount, NULL) != WW_OK || *amount > WW_PACK_MOST)
        return NULL;
    return skip_joint(at + n);
}

static size_t find_kind(char letter) {
    size_t k = 0;
    while (k < KINDS && kinds[k].letter != toupper((unsigned char)letter))
        k++;
    return k;
}

ww_status ww_pack_parse(const char *text, ww_pack *pack, ww_error *err) {
    ww_pack made = {{0.0, 0.0, 0.0}};
    bool seen[KINDS] = {false};
    const char *at;
    assert(text && pack);
    at = skip_joint(text);
    if (!*at)
        return refuse(text, "it is empty", err);
    while (*at) {
        double amount;
        const char *letter = take_amount(at, &amount);
        size_t k;
        if (!letter)
            return refuse(text,
                          strchr(at, ',') ? "it holds a comma, and decimals stand behind a point"
                                          : "an amount of 0 to 300 must stand before each letter",
                          err);
        if (!*letter && at == skip_joint(text) && amount <= 0.0)
            break; /* "0" */
        k = find_kind(*letter);
        if (k == KINDS)
            return refuse(text,
                          *letter == ',' ? "it holds a comma, and decimals stand behind a point"
                                         : "an amount is followed by Y, M or C (or R, G, B)",
                          err);
        if (seen[k])
            return refuse(text, "a letter stands twice", err);
        seen[k] = true;
        for (int f = 0; f < WW_FILTER_COUNT; f++)
            made.cc[f] += amount * kinds[k].of[f];
        at = skip_joint(letter + 1);
    }
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        if (made.cc[f] > WW_PACK_MOST)
            return refuse(text, "a filter comes to over 300", err);
    *pack = made;
    return WW_OK;
}

char *ww_pack_format(const ww_pack *pack, char text[WW_PACK_TEXT_SIZE]) {
    size_t used = 0;
    assert(pack && text);
    text[0] = '\0';
    for (int f = 0; f < WW_FILTER_COUNT; f++) {
        char amount[AMOUNT_SIZE];
        size_t n;
        if (fabs(pack->cc[f]) < 0.005)
            continue;
        ww_number_format(pack->cc[f], 2, amount, sizeof amount);
        n = strlen(amount);
        while (amount[n - 1] == '0')
            n--;
        if (amount[n - 1] == '.')
            n--;
        if (used + n + 2 > WW_PACK_TEXT_SIZE)
            break;
        memcpy(text + used, amount, n);
        text[used + n] = kinds[f].letter;
        used += n + 1;
        text[used] = '\0';
    }
    if (used == 0)
        strcpy(text, "0");
    return text;
}

double ww_pack_reduce(ww_pack *pack) {
    double least;
    assert(pack);
    least = fmin(pack->cc[WW_YELLOW], fmin(pack->cc[WW_MAGENTA], pack->cc[WW_CYAN]));
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        pack->cc[f] -= least;
    return least;
}

void ww_pack_round(ww_pack *pack, double step) {
    assert(pack && step > 0.0);
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        pack->cc[f] = step * floor(pack->cc[f] / step + 0.5);
}

void ww_pack_view(const ww_pack *pack, const ww_pack *viewing, ww_pack *changed) {
    ww_pack made;
    assert(pack && viewing && changed);
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        made.cc[f] = pack->cc[f] - 0.5 * viewing->cc[f];
    (void)ww_pack_reduce(&made);
    *changed = made;
}
