/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/match_parts.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/number.h>

enum { FEW_GRAYS = 11, SHOWN = 32 };
static const double normal_95 = 1.96; /* sd of a normal distribution */

/* "62 %", "0.38": what the files call a drive. */
static const char *control(const ww_match *match, double drive, char text[SHOWN]) {
    const bool percent = ww_ramp_unit(match->ramp)[0] != '\0';
    char number[SHOWN - 4];
    ww_number_format(ww_ramp_control(match->ramp, drive), percent ? 0 : 2, number, sizeof number);
    snprintf(text, SHOWN, "%s%s", number, percent ? " %" : "");
    return text;
}

static const char *density(double value, char text[SHOWN]) {
    return ww_number_format(value, 2, text, SHOWN);
}

/* "red: " where there are several channels. */
static const char *lead_in(const ww_match *match, const ww_match_channel *c, char text[SHOWN]) {
    text[0] = '\0';
    if (match->n > 1)
        snprintf(text, SHOWN, "%s: ", c->name);
    return text;
}

/* From which drive on the print leaves the aim by more than is told; 1: nowhere. */
static double leaves(const ww_match_channel *c) {
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        if (drive > c->kept && fabs(c->target[i] - c->wanted[i]) > WW_MATCH_TOLD)
            return drive;
    }
    return 1.0;
}

static ww_status remark_black(ww_match *match, const ww_match_channel *c, ww_error *err) {
    const double apart = c->black - c->wanted[WW_TONE_RESPONSE_POINTS - 1], from = leaves(c);
    char who[SHOWN], a[SHOWN], b[SHOWN], d[SHOWN], at[SHOWN];
    if (match->lightness || from >= 1.0 || fabs(apart) <= c->worst.doubt)
        return WW_OK;
    lead_in(match, c, who);
    density(c->black, a);
    density(fabs(apart), d);
    control(match, from, at);
    density(ww_tone_response_at(c->wanted, from), b);
    if (apart < 0.0)
        return ww_notes_add(&match->notes, err,
                            "%sThe blacks cannot match: this output's %s is %s D short of the "
                            "aim's. From %s (%s D) on tones are lighter than the aim by over 0.02 "
                            "D, led smoothly into this black; no curve can do more.",
                            who, a, d, at, b);
    return ww_notes_add(&match->notes, err,
                        "%sThis output's black, %s, is %s D denser than the aim's. From %s (%s D) "
                        "on tones are darker than the aim by over 0.02 D, led smoothly into this "
                        "black; --white match stays with the aim's densities.",
                        who, a, d, at, b);
}

static ww_status remark_white(ww_match *match, const ww_match_channel *c, ww_error *err) {
    const double apart = c->white - c->aim.density[0];
    const double doubt = normal_95 * hypot(c->print.error[0], c->aim.error[0]);
    char who[SHOWN], d[SHOWN], at[SHOWN];
    if (match->lightness || match->above_white || fabs(apart) <= doubt)
        return WW_OK;
    if (!match->absolute)
        return ww_notes_add(&match->notes, err,
                            "%sThis paper is %s D %s than the aim's; tones are matched above each "
                            "one's own white. --white match matches densities themselves.",
                            lead_in(match, c, who), density(fabs(apart), d),
                            apart > 0.0 ? "darker" : "lighter");
    if (apart > 0.0)
        return ww_notes_add(&match->notes, err,
                            "%sThis paper is %s D darker than the aim's white, which no curve "
                            "lightens: tones up to %s are led away from it.",
                            lead_in(match, c, who), density(apart, d),
                            control(match, c->kept_from, at));
    return ww_notes_add(&match->notes, err,
                        "%sThis paper is %s D lighter than the aim's: white is printed as a tint, "
                        "and bare edges of the sheet show it.",
                        lead_in(match, c, who), density(-apart, d));
}

/* Decimals of a step in L*, so that one beside the limit is seen to be on its side of it. */
static int decimals_of(double lightness) {
    const double off = fabs(lightness - WW_MATCH_BAND);
    return off < 0.005 ? 3 : off < 0.05 ? 2 : 1;
}

static ww_status remark_codes(ww_match *match, const ww_match_channel *c, ww_error *err) {
    char who[SHOWN], d[SHOWN], l[SHOWN], at[SHOWN];
    const bool few = c->codes.lightness > WW_MATCH_BAND;
    ww_number_format(c->codes.density, 3, d, sizeof d);
    ww_number_format(c->codes.lightness, decimals_of(c->codes.lightness), l, sizeof l);
    return ww_notes_add(
        &match->notes, err,
        "%sIn 8 bits %zu of 256 codes %s neighbour and %zu %s left out; the greatest step between "
        "neighbours is %s D (%s L*), at %s: %s.",
        lead_in(match, c, who), c->codes.merged,
        c->codes.merged == 1 ? "falls together with its" : "fall together with their",
        c->codes.left_out, c->codes.left_out == 1 ? "is" : "are", d, l,
        control(match, c->codes.drive, at),
        few ? "that can show as bands in smooth tones; give the curve 16 bits, or light noise"
            : "under 1 L*, which an eye hardly tells");
}

static ww_status remark_end(ww_match *match, const ww_match_channel *c, ww_error *err) {
    char who[SHOWN], at[SHOWN];
    if (c->print.to >= 1.0)
        return WW_OK;
    return ww_notes_add(&match->notes, err,
                        "%sBeyond %s this output gains no density (under 0.01 D): no more is sent.",
                        lead_in(match, c, who), control(match, c->print.to, at));
}

static ww_status remark_learnt(ww_match *match, const ww_match_channel *c, ww_error *err) {
    char who[SHOWN], moved[SHOWN], share[SHOWN];
    double most = 0.0;
    if (match->passes == 0)
        return WW_OK;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double here = c->print.density[i] - c->first.density[i];
        most = fabs(here) > fabs(most) ? here : most;
    }
    return ww_notes_add(&match->notes, err,
                        "%sThe corrected print moved what is known of this output by %s D at most; "
                        "it counts with %s %%, the first readings with the rest, by their noise.",
                        lead_in(match, c, who), density(most, moved),
                        ww_number_format(100.0 * c->gain, 0, share, sizeof share));
}

static ww_status remark_channel(ww_match *match, const ww_match_channel *c, ww_error *err) {
    ww_status status = remark_white(match, c, err);
    if (status == WW_OK)
        status = remark_black(match, c, err);
    if (status == WW_OK)
        status = remark_end(match, c, err);
    if (status == WW_OK)
        status = remark_learnt(match, c, err);
    return status == WW_OK ? remark_codes(match, c, err) : status;
}

static ww_status remark_inputs(const ww_match_request *request, ww_match *match, ww_error *err) {
    const ww_match_channel *c = &match->channel[0];
    ww_status status = WW_OK;
    if (c->print.n < FEW_GRAYS || (request->aim && c->aim.n < FEW_GRAYS))
        status = ww_notes_add(&match->notes, err,
                              "A scale of %zu greys is few; 11 and more, with paper and black, "
                              "tell its bends.",
                              request->aim && c->aim.n < c->print.n ? c->aim.n : c->print.n);
    if (status == WW_OK && c->read == WW_COLUMN_LAB_L)
        status = ww_notes_add(&match->notes, err, "Densities are those of L*: -log10 of Y.");
    if (status == WW_OK && (match->display || (request->aim && ww__match_display(request->aim))))
        status =
            ww_notes_add(&match->notes, err,
                         "A display's densities begin at its own white; light of the room that "
                         "falls on it, or on the print beside it, counts only as far as it was "
                         "read with it.");
    if (status == WW_OK && request->aim_curve)
        status = ww_notes_add(&match->notes, err,
                              "The aim is a curve: equal steps of what is sent are equal steps of "
                              "log H, from the one end that was measured to the other.");
    if (status == WW_OK && match->n == 1 && request->print->has[WW_COLUMN_RED] &&
        request->print->has[WW_COLUMN_BLUE])
        status = ww_notes_add(&match->notes, err,
                              "One curve steers all three colours alike: what greys drift in hue "
                              "stays. Send and read value_red, value_green and value_blue for a "
                              "curve each.");
    if (status == WW_OK && ww_ramp_unit(match->ramp)[0] != '\0')
        status = ww_notes_add(&match->notes, err,
                              "100 %% is full ink, black, here and in a .csv; a .cube and an .icc "
                              "hold the same curve for a picture's values, 0 black to 1 white.");
    if (status == WW_OK && match->n > 1)
        status = ww_notes_add(&match->notes, err,
                              "Each curve steers one density; what inks share is not in them.");
    return status;
}

ww_status ww__match_tell(const ww_readings *readings, const ww_notes *found, ww_notes *notes,
                         ww_error *err) {
    const char *name = readings->file ? readings->file : readings->meta.name;
    char shown[200], of[sizeof shown + 2];
    if (name)
        snprintf(of, sizeof of, "'%s'", ww__escape_message(name, shown, sizeof shown));
    return ww_notes_copy_of(found, name ? of : NULL, notes, err);
}

ww_status ww__match_remarks(const ww_match_request *request, ww_match *match, ww_error *err) {
    ww_status status = remark_inputs(request, match, err);
    for (size_t i = 0; i < match->n && status == WW_OK; i++)
        status = remark_channel(match, &match->channel[i], err);
    if (status == WW_OK && match->passes == 0)
        status = ww_notes_add(&match->notes, err,
                              "All this is foretold: send the scale of greys through the curve, "
                              "read it, and give it as --refine.");
    if (status == WW_OK)
        status = ww__match_tell(request->print, &request->print->notes, &match->notes, err);
    if (status == WW_OK && request->aim)
        status = ww__match_tell(request->aim, &request->aim->notes, &match->notes, err);
    return status;
}
