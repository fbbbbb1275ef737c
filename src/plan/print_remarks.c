/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

typedef ww__print_subject subject;

/* Where nothing holds: what the nearest plan costs, and what the next one would. */
static ww_status say_compromise(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_candidate *choice = s->choice, *next = s->next;
    ww_status status = WW_OK;
    if (choice->paper.holds)
        return WW_OK;
    if (next && next->fate.given_up + choice->fate.given_up > 0)
        status = ww__print_say(
            notes, err,
            "The choice gives up %zu tone%s, with %.1f %s of local work; next, '%s'%s%s would give "
            "up %zu, with %.1f %s.",
            choice->fate.given_up, choice->fate.given_up == 1 ? "" : "s", choice->paper.work_stops,
            ww__print_stops(choice->paper.work_stops), ww__print_show(next->sheet->name).text,
            *next->paper.contrast ? ", " : "", ww__print_show(next->paper.contrast).text,
            next->fate.given_up, next->paper.work_stops, ww__print_stops(next->paper.work_stops));
    if (status == WW_OK && choice->fate.given_up > 0 &&
        fabs(choice->paper.mismatch) >= WW__PRINT_NEAR_RANGE)
        status = ww__print_say(
            notes, err,
            "To hold more, the negative wants a paper or filter about %.2f log H "
            "%s than this.",
            fabs(choice->paper.mismatch), choice->paper.mismatch > 0.0 ? "harder" : "softer");
    return status;
}

/* The range and its ends stand in the plan; what was done to the readings does not. */
static ww_status say_correction(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_request *request = s->request;
    if (request->callier == 1.0 && request->enlarger_flare == 0.0)
        return WW_OK;
    return ww__print_say(
        notes, err,
        "The negative is taken as the paper sees it: Callier factor %.2f, enlarger "
        "flare %.1f %% of open light.",
        request->callier, 100.0 * request->enlarger_flare);
}

/* Callier effect and flare are inside a curve that this enlarger printed, and in no contact print.
 */
static ww_status say_geometry(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_meta *meta = &s->choice->sheet->curve->meta;
    const ww_print_request *request = s->request;
    const bool corrected = request->callier != 1.0 || request->enlarger_flare > 0.0;
    ww_status status = WW_OK;
    if (meta->exposed_by == WW_EXPOSED_CONTACT && !corrected)
        status =
            ww__print_say(notes, err,
                          "'%s' was exposed by contact, which leaves out the enlarger's Callier "
                          "effect and flare; none was given.",
                          s->paper.text);
    if (meta->exposed_by == WW_EXPOSED_PROJECTION && corrected)
        status = ww__print_say(notes, err,
                               "'%s' was exposed by projection, so that this enlarger's Callier "
                               "effect and flare are in its curve already; they were counted once "
                               "more, as asked.",
                               s->paper.text);
    if (status == WW_OK && !s->negative->absolute && request->enlarger_flare > 0.0)
        status = ww__print_say(notes, err,
                               "Flare was counted from the film base, not from open "
                               "light, for want of the base density.");
    if (status == WW_OK && request->callier != 1.0 &&
        s->negative->pooled.meta.grain == WW_GRAIN_DYE)
        status = ww__print_say(notes, err,
                               "A dye image scatters next to no light: its Callier "
                               "factor is near 1.");
    return status;
}

static ww_status say_one_beyond(const subject *s, const ww__print_spot *spot, ww_notes *notes,
                                ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const double shift = s->choice->fate.first_log_h + ww__print_tones_first(s->negative)->seen;
    const ww__print_name name = ww__print_show(spot->name);
    double light = spot->seen, dark = spot->seen;
    if (spot->judged) {
        light = fmax(light, spot->end[WW_PART_DENSE].seen);
        dark = fmin(dark, spot->end[WW_PART_THIN].seen);
    }
    if (shift - light < sheet->low)
        return ww__print_say(notes, err,
                             "Straight, '%s' gets %.2f log H less than the lightest step measured "
                             "on '%s': it prints at most %.3f above white there.",
                             name.text, sheet->low - shift + light, s->paper.text,
                             ww__print_net(sheet->lightest));
    if (shift - dark > sheet->high)
        return ww__print_say(notes, err,
                             "Straight, '%s' gets %.2f log H more than the darkest step measured "
                             "on '%s': it prints at least %.2f above white there.",
                             name.text, shift - dark - sheet->high, s->paper.text, sheet->darkest);
    return WW_OK;
}

static ww_status say_beyond(const subject *s, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < s->choice->paper.n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &s->choice->paper.tone[i];
        const ww__print_spot *spot = ww__print_tones_named(s->negative, tone->tone);
        if (spot && !tone->base && tone->falls != WW_FALLS_GLINT)
            status = say_one_beyond(s, spot, notes, err);
    }
    return status;
}

/* After local work the dense end of a tone may still not show. */
static ww_status say_thin_lights(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const double shift = s->choice->fate.first_log_h + ww__print_tones_first(s->negative)->seen;
    double threshold = 0.0;
    ww_status status = WW_OK;
    if (!ww__print_papers_log_h(sheet, WW__PRINT_FIRST_TONE, &threshold))
        return WW_OK;
    for (size_t i = 0; i < s->choice->paper.n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &s->choice->paper.tone[i];
        const ww__print_spot *spot = ww__print_tones_named(s->negative, tone->tone);
        const double work = ww__print_moves_sum(tone->burn_stops, tone->hand_stops);
        double seen, log_h;
        if (!spot || tone->base || tone->falls == WW_FALLS_GLINT)
            continue;
        seen = tone->negative_dense.set ? spot->end[WW_PART_DENSE].seen : spot->seen;
        log_h = shift - seen + work;
        /* Less than a move that a hand would make is no shortfall. */
        if (log_h < threshold - WW__PRINT_LEAST_MOVE * WW__PRINT_LOG_STOP)
            status = ww__print_say(notes, err,
                                   "%s of '%s' prints under %.2f above paper white, the first tone "
                                   "that shows.",
                                   tone->negative_dense.set ? "The dense end" : "The whole",
                                   ww__print_show(tone->tone).text, WW__PRINT_FIRST_TONE);
    }
    return status;
}

/* By how much a nominal curve may part two ends otherwise: half a grade of the slope, and where the
 * toe lies; about 0 where it was not measured there. */
static double nominal_doubt(const ww__print_sheet *sheet, double first, double thin, double dense) {
    double net[2] = {0.0}, slope[2] = {0.0};
    if (!ww__print_papers_net(sheet, thin, &net[0], &slope[0]) ||
        !ww__print_papers_net(sheet, dense, &net[1], &slope[1]))
        return 0.0;
    return hypot(WW__PRINT_NOMINAL_DOUBT * (net[0] - net[1]),
                 ww__print_budget_nominal_width(fabs(dense - first)) * (slope[0] - slope[1]));
}

/* Whether a curve that nobody measured leaves it open if the detail of a tone shows on it. */
static bool is_open(const ww__print_negative *negative, const ww__print_candidate *candidate,
                    const ww_print_tone *tone, double *doubt) {
    const ww__print_spot *spot = ww__print_tones_named(negative, tone->tone);
    const double first = candidate->fate.first_log_h;
    const double work = ww__print_moves_sum(tone->burn_stops, tone->hand_stops);
    const double shift = first + ww__print_tones_first(negative)->seen + work;
    if (!candidate->sheet->nominal || !spot || !spot->judged || !tone->separation.set ||
        tone->verdict == WW_VERDICT_BLOCKED)
        return false;
    *doubt = nominal_doubt(candidate->sheet, first, shift - spot->end[WW_PART_THIN].seen,
                           shift - spot->end[WW_PART_DENSE].seen);
    return fabs(tone->separation.value - WW__PRINT_DETAIL) < *doubt;
}

/* A verdict that such a curve can't carry, of every paper in the table: tones are in one order on
 * all of them. */
static ww_status say_nominal_detail(const ww__print_negative *negative,
                                    const ww__print_candidate candidate[], size_t n,
                                    ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < candidate[0].paper.n_tones && status == WW_OK; i++) {
        ww__text open = WW__TEXT_INIT;
        double doubt = 0.0;
        for (size_t k = 0; k < n; k++)
            if (is_open(negative, &candidate[k], &candidate[k].paper.tone[i], &doubt))
                ww__text_add_format(&open, "%s%d (%.3f within %.3f)", open.n > 0 ? ", " : "",
                                    candidate[k].sheet->grade,
                                    candidate[k].paper.tone[i].separation.value, doubt);
        status = ww__text_status(&open, err);
        if (status == WW_OK && open.n > 0)
            status = ww__print_say(
                notes, err,
                "Whether the detail of '%s' reaches the %.2f that shows is open until the paper is "
                "measured, or a print on it is read, on nominal grade %s.",
                ww__print_show(candidate[0].paper.tone[i].tone).text, WW__PRINT_DETAIL, open.bytes);
        ww__text_release(&open);
    }
    return status;
}

static ww_status say_burns(const subject *s, ww_notes *notes, ww_error *err) {
    for (size_t i = 0; i < s->choice->paper.n_tones; i++)
        if (s->choice->paper.tone[i].burn_stops.set)
            return ww__print_say(notes, err,
                                 "Burns and dodges are through %s; several on one place add in "
                                 "seconds, not in stops.",
                                 s->choice->sheet->splits
                                     ? "both filters, in their share, if nothing else is said"
                                     : "the filter of the main exposure");
    return WW_OK;
}

/* Why a move was left out. Without detail on the film there is nothing for it to bring out. */
static const char *refusal(const ww_print_tone *tone) {
    if (tone->verdict != WW_VERDICT_BLOCKED)
        return "that is more than a print takes";
    return tone->refused_stops.value > 0.0
               ? "without detail on the film it would only turn grey"
               : "without detail on the film it would only print lighter";
}

static ww_status say_refused(const subject *s, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < s->choice->paper.n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &s->choice->paper.tone[i];
        if (tone->refused_stops.set)
            status = ww__print_say(notes, err, "Left out of the plan: %.1f %s of %s for '%s': %s.",
                                   fabs(tone->refused_stops.value),
                                   ww__print_stops(tone->refused_stops.value),
                                   tone->refused_stops.value > 0.0 ? "burning" : "dodging",
                                   ww__print_show(tone->tone).text, refusal(tone));
    }
    return status;
}

/* Whether moves by hand are what keeps a placed tone from its aim on this paper; that they hold
 * back the whole time stands in the why. */
static bool is_off_aim(const subject *s, const ww_print_tone *tone) {
    const double work = ww__print_moves_sum(tone->burn_stops, tone->hand_stops);
    double log_h = 0.0;
    if (!tone->aim.set || !tone->hand_stops.set || tone->refused_stops.set || isinf(work) ||
        fabs(tone->hand_stops.value) < WW__PRINT_LEAST_MOVE ||
        !ww__print_papers_log_h(s->choice->sheet, tone->aim.value, &log_h))
        return false;
    return !tone->print_after.set ||
           fabs(tone->print_after.value - tone->aim.value) >= WW__PRINT_DETAIL;
}

/* A move by hand is as the printer wants it, but comes on top of what the plan gives. */
static ww_status say_off_aim(const subject *s, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < s->choice->paper.n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &s->choice->paper.tone[i];
        char print[64] = "beyond what was measured of this paper";
        if (!is_off_aim(s, tone))
            continue;
        if (tone->print_after.set)
            ww__print_format(print, sizeof print, "%.2f above white", tone->print_after.value);
        status = ww__print_say(notes, err,
                               "By hand '%s' is taken off its aim, %.*f: it prints %s. Where the "
                               "aim is meant, take its moves out of the recipe.",
                               ww__print_show(tone->tone).text, ww__text_decimals(tone->aim.value),
                               tone->aim.value, print);
    }
    return status;
}

static const char *label_of(const ww__print_sheet *sheet) {
    return sheet->curve->meta.contrast ? sheet->curve->meta.contrast : "";
}

static ww_status say_half(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    if (!sheet->beside[0])
        return WW_OK;
    if (sheet->splits)
        return ww__print_say(notes, err,
                             "'%s' was not measured: it is drawn between '%s' and '%s', as the "
                             "seconds of both filters add up there.",
                             ww__print_show(label_of(sheet)).text,
                             ww__print_show(label_of(sheet->beside[0])).text,
                             ww__print_show(label_of(sheet->beside[1])).text);
    return ww__print_say(notes, err,
                         "'%s' was not measured: its curve is taken half-way between '%s' and "
                         "'%s'. Where the dial or the box has no halves, take the nearest of those "
                         "measured.",
                         ww__print_show(label_of(sheet)).text,
                         ww__print_show(label_of(sheet->beside[0])).text,
                         ww__print_show(label_of(sheet->beside[1])).text);
}

/* The thinnest tone that could be placed besides; NULL where none is thinner than both ends. */
static const ww__print_spot *find_dark(const ww__print_negative *negative) {
    const ww__print_spot *thinnest = NULL;
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_spot *spot = &negative->spot[i];
        if (spot->known && !spot->base && !spot->over &&
            spot->density < negative->spot[negative->first].density &&
            spot->density < negative->spot[negative->other].density &&
            (!thinnest || spot->density < thinnest->density))
            thinnest = spot;
    }
    return thinnest;
}

/* Two light tones lie close together on the negative, and on the toe of the paper: what is read a
 * little wrong there turns the contrast far. */
static ww_status say_light_ends(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_negative *negative = s->negative;
    const ww__print_spot *first = &negative->spot[negative->first], *other, *dark;
    const ww_quantity range = s->choice->paper.paper_range;
    const double half = 0.5 * s->choice->sheet->dmax;
    if (!negative->contrast || !negative->spot[negative->other].aim.set ||
        !ww_quantity_present(range) || negative->first_aim >= half ||
        negative->other_aim.value >= half)
        return WW_OK;
    other = &negative->spot[negative->other];
    dark = find_dark(negative);
    return ww__print_say(
        notes, err,
        "The contrast hangs on two light tones close together: '%s' and '%s' are %.2f log H "
        "(+-%.2f) apart on the negative, and their aims %.2f (+-%.2f) on '%s'. %s%s%s would settle "
        "it.",
        ww__print_show(first->name).text, ww__print_show(other->name).text,
        fabs(first->seen - other->seen), ww__print_tones_range_width(negative), range.value,
        0.5 * (range.high - range.low), s->paper.text,
        dark ? "Placing '" : "Reading and placing a dark tone too",
        dark ? ww__print_show(dark->name).text : "", dark ? "' too" : "");
}

/* Papers stand by what the header calls order: where that is not by their misses alone, it is said.
 */
static ww_status say_order(const ww__print_candidate candidate[], size_t n, ww_notes *notes,
                           ww_error *err) {
    for (size_t i = 1; i < n; i++) {
        const ww__print_candidate *a = &candidate[i - 1], *b = &candidate[i];
        const double near = a->fate.given_up > 0 ? WW__PRINT_NEAR_RANGE : WW__PRINT_LIKE_RANGE;
        if (a->paper.holds != b->paper.holds || a->fate.given_up != b->fate.given_up ||
            fabs(a->paper.mismatch) < fabs(b->paper.mismatch) + 0.005)
            continue;
        return ww__print_say(notes, err,
                             "Papers that hold as much and miss by like amounts, in steps of %.2f "
                             "log H, count as alike: of those, what was measured comes before what "
                             "lies between, then what asks for less burning and dodging.",
                             near);
    }
    return WW_OK;
}

static ww_status say_paper(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const double black = WW__PRINT_BLACK * sheet->dmax;
    double dark = 0.0, light = 0.0;
    ww_status status = WW_OK;
    if (!sheet->black_measured)
        status = ww__print_say(notes, err,
                               "'%s' was not exposed to its black: its darkest step, %.2f above "
                               "white, stands in for D-max.",
                               s->paper.text, sheet->dmax);
    /* R 65 is where the table of grades begins to call a paper extra hard. */
    if (status == WW_OK && s->negative->contrast && ww__print_papers_log_h(sheet, black, &dark) &&
        ww__print_papers_log_h(sheet, WW__PRINT_FIRST_TONE, &light) && dark - light < 0.65)
        status =
            ww__print_say(notes, err,
                          "So short a range needs paper this hard, which raises grain, dust and "
                          "fog with the picture.");
    return status;
}

ww_status ww__print_remarks_add(const ww_print_request *request, const ww__print_negative *negative,
                                const ww__print_candidate candidate[], size_t n, ww_notes *notes,
                                ww_error *err) {
    static const ww__print_remark before[] = {say_compromise, say_light_ends, say_correction,
                                              say_half};
    static const ww__print_remark after[] = {say_beyond, say_thin_lights, say_refused, say_off_aim,
                                             say_burns,  say_geometry,    say_paper};
    const subject s = {request, negative, &candidate[0], n > 1 ? &candidate[1] : NULL,
                       ww__print_show(candidate[0].sheet->name)};
    ww_status status = ww__print_remarks_negative(&s, candidate, n, notes, err);
    for (size_t i = 0; i < sizeof before / sizeof before[0] && status == WW_OK; i++)
        status = before[i](&s, notes, err);
    if (status == WW_OK)
        status = say_order(candidate, n, notes, err);
    if (status == WW_OK)
        status = ww__print_remarks_time(&s, candidate, n, notes, err);
    for (size_t i = 0; i < sizeof after / sizeof after[0] && status == WW_OK; i++)
        status = after[i](&s, notes, err);
    if (status == WW_OK)
        status = say_nominal_detail(negative, candidate, n, notes, err);
    return status;
}
