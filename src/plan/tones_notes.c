/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include "plan/tones_parts.h"
#include <math.h>
#include <string.h>
#include <wedgework/exposure.h>

typedef ww_status remark(const ww_tones_request *r, ww_tones *tones, ww_error *err);

static ww_status say_detail(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    return ww__print_say(
        &tones->notes, err,
        "Detail counts as kept where the gradient of the whole chain is %.2f or "
        "more: there a third of a stop of the scene makes %.3f D in the print. "
        "Elsewhere the weakest link is named, the one with the least share of what "
        "it does at its best.",
        r->detail, 0.1 * r->detail);
}

/* Followed in red, green and blue. */
static bool is_colour(const ww_tones *tones) {
    for (size_t i = 0; i < tones->n; i++)
        if (tones->chain[i].film_channel == WW_RED && tones->chain[i].paper_channel == WW_RED)
            return true;
    return false;
}

static ww_status say_film_exposed(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    const bool falling = tones->chain[0].chain.film->shape.falling;
    char more[80] = "";
    if (fabs(r->film_stops) > 1e-9)
        ww__print_format(more, sizeof more, ", and %.2f %s %s", fabs(r->film_stops),
                         ww__print_stops(r->film_stops), r->film_stops > 0.0 ? "more" : "less");
    if (!tones->chain[0].by_speed_point)
        return ww__print_say(
            &tones->notes, err,
            "'%s' has no speed point: it is exposed so that %s falls on its thinnest "
            "measured step, log H %.2f%s. Read steps down to its base, or shift it "
            "with --expose.",
            tones->chain[0].film, falling ? "white" : "the darkest tone",
            falling ? tones->chain[0].chain.film->domain_high
                    : tones->chain[0].chain.film->domain_low,
            more);
    return ww__print_say(
        &tones->notes, err,
        "%s exposed so that %s falls on the speed point%s%s%s; --expose shifts it.",
        r->n_films > 1 ? "Each film is" : "The film is",
        falling ? "the scene's white" : "the darkest tone",
        !is_colour(tones) ? ""
        : falling         ? " of its fastest layer"
                          : " of its slowest layer",
        r->flare > 0.0 ? " but for flare" : "", more);
}

static ww_status say_placed(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    char tone[80] = "the scene's white";
    if (r->place_stops > 0.0)
        ww__print_format(tone, sizeof tone, "the tone %.2f %s below white", r->place_stops,
                         ww__print_stops(r->place_stops));
    return ww__print_say(
        &tones->notes, err,
        "The print is exposed so that %s comes out %.*f above paper white; --place "
        "sets another.",
        tone, ww__text_decimals(r->place_density), r->place_density);
}

static ww_status say_flare(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    double seen = 0.0;
    if (!(r->flare > 0.0))
        return WW_OK;
    (void)ww_exposure_flare(r->subject_range, r->flare, &seen, NULL);
    return ww__print_say(&tones->notes, err,
                         "A camera flare of %.4g of white leaves %.2f of the scene's %.2f log H on "
                         "the film: %.1f of %.1f stops.",
                         r->flare, seen, r->subject_range, seen / WW__TONES_STOP,
                         r->subject_range / WW__TONES_STOP);
}

static ww_status say_none(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    const struct {
        bool none;
        const char *what;
    } of[] = {{!(r->flare > 0.0), "camera (--flare)"},
              {!(r->enlarger_flare > 0.0), "enlarger (--enlarger-flare)"},
              {!(r->viewing_flare > 0.0), "viewing light (--viewing-flare)"}};
    ww__text list = WW__TEXT_INIT;
    ww_status status;
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++)
        if (of[i].none)
            ww__text_add_format(&list, "%s%s", list.n > 0 ? ", " : "", of[i].what);
    status = ww__text_status(&list, err);
    if (status == WW_OK && list.n > 0)
        status = ww__print_say(&tones->notes, err,
                               "Taken as without flare: %s. No real one is: a few tenths of a per "
                               "cent of white tell in the darkest tones.",
                               list.bytes);
    ww__text_release(&list);
    return status;
}

static ww_status say_colour(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    (void)r;
    if (!is_colour(tones))
        return WW_OK;
    return ww_notes_add(
        &tones->notes, err,
        "Colour is followed in each channel by itself, as if dyes were pure, and the print is "
        "exposed in each as filters would; L* is that of a grey of the same density.");
}

/* Read by what is neither an eye nor a paper. */
static bool is_other(const ww_curve *curve, ww_channel channel, bool film) {
    const ww_density_status status = curve->meta.status;
    return status != WW_STATUS_UNKNOWN && status != WW_STATUS_SCANNER &&
           status != (film ? WW_STATUS_PRINTING : WW_STATUS_VISUAL) && channel != WW_VISUAL;
}

static ww_status say_stands_in(const ww_curve *curve, ww_channel channel, const char *what,
                               bool colour, ww_notes *notes, ww_error *err) {
    const ww__print_name name = ww__print_show(curve->meta.name ? curve->meta.name : what);
    const bool film = strcmp(what, "film") == 0;
    ww_status status = WW_OK;
    if (channel != WW_VISUAL && !colour)
        status = ww__print_say(notes, err, "The %s densities of '%s' stand in for %s.",
                               ww_channel_name(channel), name.text,
                               film ? "what the paper sees of it" : "what the eye sees of it");
    if (status == WW_OK && curve->meta.status == WW_STATUS_SCANNER)
        status =
            ww__print_say(notes, err,
                          "'%s' was read by a scanner, whose densities stand in for those that "
                          "%s.",
                          name.text, film ? "the enlarger sees" : "the eye sees");
    if (status == WW_OK && is_other(curve, channel, film))
        status =
            ww__print_say(notes, err,
                          "'%s' was read in status %s, which stands in for %s; dyes and stains "
                          "can differ.",
                          name.text, ww_density_status_name(curve->meta.status),
                          film ? "the paper's own view of it" : "the eye's");
    if (status == WW_OK && curve->meta.wedge == WW_WEDGE_NOMINAL)
        status =
            ww__print_say(notes, err,
                          "'%s' was exposed through a nominal wedge, whose tolerance is not in "
                          "the doubts: its gradients may be off by some per cent.",
                          name.text);
    return status;
}

static ww_status say_relative(const ww_curve *curve, bool film, const ww_tones_request *r,
                              ww_notes *notes, ww_error *err) {
    const ww__print_name name = ww__print_show(curve->meta.name ? curve->meta.name : "");
    if (film && curve->meta.relative == WW_RELATIVE_BASE && r->enlarger_flare > 0.0)
        return ww__print_say(notes, err,
                             "'%s' is relative to its base: flare of the enlarger is counted from "
                             "the light through that base.",
                             name.text);
    if (!film && curve->meta.relative == WW_RELATIVE_WHITE)
        return ww__print_say(notes, err,
                             "'%s' is relative to its white: so are print densities, L* and the "
                             "viewing flare here.",
                             name.text);
    return WW_OK;
}

static ww_status say_doubt(const ww_curve *curve, ww_channel channel, const char *what,
                           ww_notes *notes, ww_error *err) {
    if (curve->channel[channel].covariance)
        return WW_OK;
    return ww__print_say(notes, err,
                         "The curve of '%s' carries no covariance, so that doubts are not known; "
                         "fit its readings again.",
                         ww__print_show(curve->meta.name ? curve->meta.name : what).text);
}

/* One material, in a channel that it is followed in. */
typedef struct subject {
    const ww_curve *curve;
    ww_channel channel;
    bool film;
    bool colour; /* one of three: nothing stands in for it */
} subject;

static ww_status say_material(const ww_tones_request *r, const subject *of, ww_notes *notes,
                              ww_error *err) {
    const char *what = of->film ? "film" : "paper";
    ww_status status = say_stands_in(of->curve, of->channel, what, of->colour, notes, err);
    if (status == WW_OK)
        status = say_relative(of->curve, of->film, r, notes, err);
    return status == WW_OK ? say_doubt(of->curve, of->channel, what, notes, err) : status;
}

static ww_status say_materials(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    const bool colour = is_colour(tones);
    ww_status status = WW_OK;
    for (size_t i = 0; i < tones->n && status == WW_OK; i++) {
        const ww_tones_chain *c = &tones->chain[i];
        const subject film = {r->film[c->film_at], c->film_channel, true, colour};
        const subject paper = {r->paper[c->paper_at], c->paper_channel, false, colour};
        status = say_material(r, &film, &tones->notes, err);
        if (status == WW_OK)
            status = say_material(r, &paper, &tones->notes, err);
    }
    if (status == WW_OK && tones->n == 0)
        status = say_material(r, &(subject){r->paper[0], tones->wanted.paper_channel, false, false},
                              &tones->notes, err);
    return status;
}

static ww_status say_wanted(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    const ww_tones_wanted *w = &tones->wanted;
    ww_status status = WW_OK;
    if (r->wanted_print)
        status = ww_notes_copy(&r->wanted_print->notes, &tones->notes, err);
    if (status == WW_OK)
        status = ww__print_say(&tones->notes, err,
                               "The print's exposure is free, and so is the level of the film: its "
                               "thinnest density is "
                               "taken as %.2f%s. log H is that of the scene's white at %s.",
                               w->row[w->thinnest].negative.value,
                               tones->n > 0 ? ", which the given film has there"
                                            : ", net 0.10 over a base of 0.20",
                               tones->n > 0 ? "the given film's" : "0");
    if (status == WW_OK)
        status = ww__print_say(
            &tones->notes, err,
            "'light' is what the paper must get, as a share of the most: the file curve of an "
            "exposing device that gives light in proportion to its values.");
    return status;
}

ww_status ww__tones_notes(const ww_tones_request *r, ww_tones *tones, ww_error *err) {
    static remark *const forward[] = {say_detail, say_film_exposed, say_placed, say_colour};
    static remark *const always[] = {say_flare, say_none, say_materials};
    ww_status status = WW_OK;
    if (tones->wanted.given)
        status = say_wanted(r, tones, err);
    for (size_t i = 0; tones->n > 0 && !tones->wanted.given && status == WW_OK &&
                       i < sizeof forward / sizeof forward[0];
         i++)
        status = forward[i](r, tones, err);
    for (size_t i = 0; i < sizeof always / sizeof always[0] && status == WW_OK; i++)
        status = always[i](r, tones, err);
    return status;
}
