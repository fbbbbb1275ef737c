/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

static const double most_reciprocal = 2.0; /* [stops] common practice */

/* What the remarks are about. */
typedef struct subject {
    const ww_print_request *request;
    const ww__print_negative *negative;
    const ww__print_candidate *choice;
    ww__print_name paper;
} subject;

typedef ww_status (*remark)(const subject *s, ww_notes *notes, ww_error *err);

static const ww__print_spot *first_of(const subject *s) {
    return &s->negative->spot[s->negative->first];
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
    const double shift = s->choice->fate.first_log_h + first_of(s)->seen;
    const ww__print_name name = ww__print_show(spot->name);
    double light = spot->seen, dark = spot->seen;
    if (spot->judged) {
        light = fmax(light, spot->end[WW_PART_DENSE].seen);
        dark = fmin(dark, spot->end[WW_PART_THIN].seen);
    }
    if (shift - light < sheet->channel->domain_low)
        return ww__print_say(notes, err,
                             "Straight, '%s' gets %.2f log H less than the lightest step measured "
                             "on '%s': it prints at most %.3f above white there.",
                             name.text, sheet->channel->domain_low - shift + light, s->paper.text,
                             ww__print_net(sheet->lightest));
    if (shift - dark > sheet->channel->domain_high)
        return ww__print_say(notes, err,
                             "Straight, '%s' gets %.2f log H more than the darkest step measured "
                             "on '%s': it prints at least %.2f above white there.",
                             name.text, shift - dark - sheet->channel->domain_high, s->paper.text,
                             sheet->darkest);
    return WW_OK;
}

static ww_status say_beyond(const subject *s, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < s->negative->n && status == WW_OK; i++)
        if (s->negative->spot[i].known && !s->negative->spot[i].base)
            status = say_one_beyond(s, &s->negative->spot[i], notes, err);
    return status;
}

static const ww__print_spot *spot_named(const subject *s, const char *name) {
    for (size_t i = 0; i < s->negative->n; i++)
        if (strcmp(s->negative->spot[i].name, name) == 0)
            return &s->negative->spot[i];
    return NULL;
}

/* After local work the dense end of a tone may still not show. */
static ww_status say_thin_lights(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const double shift = s->choice->fate.first_log_h + first_of(s)->seen;
    double threshold = 0.0;
    ww_status status = WW_OK;
    if (!ww__print_papers_log_h(sheet, WW__PRINT_FIRST_TONE, &threshold))
        return WW_OK;
    for (size_t i = 0; i < s->choice->paper.n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &s->choice->paper.tone[i];
        const ww__print_spot *spot = spot_named(s, tone->tone);
        const double move = tone->burn_stops.set ? tone->burn_stops.value : 0.0;
        double seen, log_h;
        if (!spot || tone->base)
            continue;
        seen = tone->negative_dense.set ? spot->end[WW_PART_DENSE].seen : spot->seen;
        log_h = shift - seen + move * WW__PRINT_LOG_STOP;
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

static ww_status say_burns(const subject *s, ww_notes *notes, ww_error *err) {
    for (size_t i = 0; i < s->choice->paper.n_tones; i++)
        if (s->choice->paper.tone[i].burn_stops.set)
            return ww__print_say(notes, err,
                                 "Burns and dodges are through the filter of the main exposure; "
                                 "several on one place add in seconds, not in stops.");
    return WW_OK;
}

/* Repeats of one place that disagree are averaged, and that is said. */
static ww_status say_repeats(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_readings *pooled = &s->negative->pooled;
    ww_status status = WW_OK;
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++) {
        const ww_row *row = &pooled->row[i];
        const ww_cell *cell = &row->cell[s->negative->channel];
        if (cell->state != WW_CELL_VALUE || cell->n < 2 || !cell->sd.set ||
            cell->sd.value < WW__PRINT_REPEATS_APART)
            continue;
        status = ww__print_say(
            notes, err,
            "'%s' was read %zu times with a spread of %.2f (1 sd): their mean %.2f is used; one "
            "of them is probably wrong, so read it again.",
            ww__print_show(row->is_base ? "base" : row->tone).text, cell->n, cell->sd.value,
            cell->value);
    }
    return status;
}

/* Names the one test print that would give the time. */
static ww_status say_time(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const ww__print_name tone = ww__print_show(first_of(s)->name);
    const char *why;
    if (s->choice->paper.time_s.set && s->request->n_tests > 0)
        return ww__print_say(notes, err,
                             "The time rests on the test print: it is that of the paper that the "
                             "test was made on, and each paper's is figured as if it was made on "
                             "that.");
    if (s->choice->paper.time_s.set)
        return WW_OK;
    if (s->choice->paper.no_time)
        return ww_notes_add(notes, err, "No time: %s.", s->choice->paper.no_time);
    why = sheet->nominal ? "a nominal paper has no speed"
          : sheet->curve->meta.exposure_unit != WW_UNIT_SECOND
              ? "the paper's exposures are not seconds under this enlarger"
          : !ww_curve_origin_given(sheet->curve)
              ? "the paper's readings give no exposure time, so its seconds have no zero"
              : "the negative's base density is not known";
    return ww__print_say(notes, err,
                         "No time: %s. Make one test print, read '%s' above paper white, and give "
                         "--test SECONDS:%s=DENSITY.",
                         why, tone.text, tone.text);
}

/* The paper's own seconds and the test's may not both be right. */
static ww_status say_odds(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_test *test = &s->choice->test;
    const ww_print_test *made = &s->request->test[test->which];
    if (!ww__print_budget_at_odds(test))
        return WW_OK;
    return ww__print_say(
        notes, err,
        "The test print and the curve of '%s' are %.1f stops apart, where %.1f could be explained: "
        "by the curve %.3g s, not %.3g s, give '%s' %.2f. Check the time as typed, and whether "
        "paper, enlarger height, aperture and filter were the same%s.",
        s->paper.text, fabs(test->against) / WW__PRINT_LOG_STOP, test->margin / WW__PRINT_LOG_STOP,
        made->time_s * pow(10.0, -test->against), made->time_s, ww__print_show(made->tone).text,
        made->density, s->choice->paper.time_s.set ? "; until then the doubt holds all of it" : "");
}

static bool has_line(const ww_print_paper *paper, const char *from) {
    for (size_t i = 0; i < paper->n_budget; i++)
        if (strcmp(paper->budget[i].from, from) == 0)
            return true;
    return false;
}

static ww_status say_doubt(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_paper *paper = &s->choice->paper;
    const ww__print_sheet *sheet = s->choice->sheet;
    const ww_budget_line *largest = ww__print_budget_largest(paper);
    const ww_meta *meta = &sheet->curve->meta;
    ww_status status;
    if (!largest)
        return WW_OK;
    status = ww__print_say(notes, err,
                           "The largest part of the time's doubt is '%s': %.2f of %.2f stop, 95 %% "
                           "half-widths%s.",
                           largest->from, largest->stops, paper->doubt_stops.value,
                           strcmp(largest->from, "wedge") == 0 && s->request->n_tests == 0
                               ? "; a test print, read and given with --test, takes most of it out"
                               : "");
    if (status == WW_OK && !s->request->repeatability.set)
        status = ww__print_say(notes, err,
                               "How well the process repeats is not in the doubt; give "
                               "--repeatability.");
    if (status == WW_OK && !sheet->nominal && !has_line(paper, "paper fit"))
        status = ww__print_say(notes, err,
                               "The curve of '%s' carries no covariance, so its fit is not in the "
                               "doubt.",
                               s->paper.text);
    const bool through =
        sheet->curve->exposure != WW_EXPOSURE_TIME && sheet->curve->exposure != WW_EXPOSURE_STOP;
    if (status == WW_OK && !sheet->nominal && through && !meta->wedge_sd.set &&
        meta->wedge == WW_WEDGE_UNKNOWN)
        status = ww__print_say(notes, err,
                               "'%s' does not say whether its wedge was certified; it counts as "
                               "nominal, 0.01 to 0.10.",
                               s->paper.text);
    return status;
}

static ww_status say_drying(const subject *s, ww_notes *notes, ww_error *err) {
    const bool wet = s->choice->sheet->curve->meta.read == WW_READ_WET;
    const double percent = s->request->dry_down_percent;
    if (wet && percent > 0.0)
        return s->choice->paper.time_s.set
                   ? ww__print_say(notes, err,
                                   "'%s' was read wet: the time is %.1f %% shorter for dry-down.",
                                   s->paper.text, percent)
                   : WW_OK;
    if (wet)
        return ww__print_say(notes, err,
                             "'%s' was read wet and no dry-down was given: the dry print will be "
                             "darker than foretold.",
                             s->paper.text);
    if (percent > 0.0)
        return ww__print_say(notes, err,
                             "Dry-down was not applied: '%s' was not read wet, so it is in the "
                             "curve already.",
                             s->paper.text);
    return WW_OK;
}

static ww_status say_size(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_request *request = s->request;
    ww_status status = WW_OK;
    if (!s->choice->paper.time_s.set)
        return WW_OK;
    if (request->scale.set)
        status = ww__print_say(notes, err,
                               "Time from magnification %.2f to %.2f by (m+1) squared, which holds "
                               "for diffuse light.",
                               request->from_scale.value, request->scale.value);
    if (status == WW_OK && request->aperture.set)
        status = ww__print_say(notes, err, "Time from f/%.1f to f/%.1f by the marks of the lens.",
                               request->from_aperture.value, request->aperture.value);
    return status;
}

static const char *label_of(const ww__print_sheet *sheet) {
    return sheet->curve->meta.contrast ? sheet->curve->meta.contrast : "";
}

static ww_status say_half(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    if (!sheet->beside[0])
        return WW_OK;
    return ww__print_say(notes, err,
                         "'%s' was not measured: its curve is taken half-way between '%s' and "
                         "'%s'. Where the dial or the box has no halves, take the nearest of those "
                         "measured.",
                         ww__print_show(label_of(sheet)).text,
                         ww__print_show(label_of(sheet->beside[0])).text,
                         ww__print_show(label_of(sheet->beside[1])).text);
}

/* What two test prints say of each other. */
static ww_status say_tests(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_test *test = &s->choice->test;
    ww_status status = WW_OK;
    if (!test->both)
        return WW_OK;
    if (test->outside)
        status = ww__print_say(notes, err,
                               "The aim of '%s', %.2f, lies beside both test prints, not between "
                               "them: the time goes by the nearer one and the curve.",
                               ww__print_show(first_of(s)->name).text, s->negative->first_aim);
    if (status == WW_OK && ww__print_budget_tests_apart(test))
        status = ww__print_say(
            notes, err,
            "The two test prints are %.1f stop apart by the curve, where %.1f could be explained; "
            "half of that is in the doubt. Check both times and densities.",
            fabs(test->disagree) / WW__PRINT_LOG_STOP, test->tests_margin / WW__PRINT_LOG_STOP);
    return status;
}

/* A lamp at a tenth of the light works longer than in proportion. */
static ww_status say_reciprocity(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_request *request = s->request;
    const ww_optional reference =
        ww__print_time_reference(request, s->choice->sheet, &s->choice->test);
    const ww_optional time = s->choice->paper.time_s;
    if (!time.set)
        return WW_OK;
    if (request->reciprocity.set && !reference.set)
        return ww_notes_add(notes, err,
                            "Reciprocity was not applied: neither a test print nor the paper's "
                            "curve says at which time it was exposed.");
    if (request->reciprocity.set)
        return ww__print_say(notes, err,
                             "Times are from %.3g s by an exponent of %.2f for reciprocity.",
                             reference.value, request->reciprocity.value);
    if (!reference.set || fabs(log2(time.value / reference.value)) <= most_reciprocal)
        return WW_OK;
    return ww__print_say(notes, err,
                         "The time is %.1f stops from the %.3g s that it was figured from: paper "
                         "may lose speed or contrast over that. Measure it, give --reciprocity, or "
                         "make a test print near it.",
                         fabs(log2(time.value / reference.value)), reference.value);
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
                                const ww__print_candidate *choice, ww_notes *notes, ww_error *err) {
    static const remark remarks[] = {say_repeats, say_correction,  say_half,        say_time,
                                     say_odds,    say_tests,       say_reciprocity, say_doubt,
                                     say_beyond,  say_thin_lights, say_burns,       say_drying,
                                     say_size,    say_geometry,    say_paper};
    const subject s = {request, negative, choice, ww__print_show(choice->sheet->name)};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0] && status == WW_OK; i++)
        status = remarks[i](&s, notes, err);
    return status;
}
