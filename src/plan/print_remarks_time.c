/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

typedef ww__print_subject subject;

static const double most_reciprocal = 2.0; /* [stops] common practice */

/* A test print names no paper: what it is taken for is said, with the one it does not hold for. */
static ww_status say_tested(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const bool both = s->choice->test.both;
    const bool labelled = !sheet->nominal && *s->choice->paper.contrast;
    const char *read = sheet->curve->meta.read == WW_READ_WET ? "wet" : "dry";
    if (!s->next)
        return ww__print_say(notes, err,
                             "The time rests on the test print%s, taken as read %s and made on "
                             "'%s'.",
                             both ? "s" : "", read, s->paper.text);
    return ww__print_say(
        notes, err,
        "The time rests on the test print%s, taken as read %s and made on '%s'%s%s; in the table "
        "each other paper's is what it would be with the %s on that one. Where %s on another, this "
        "time does not hold: take that paper's, or make a test print on this one.",
        both ? "s" : "", read, s->paper.text, labelled ? ", contrast " : "",
        labelled ? ww__print_show(s->choice->paper.contrast).text : "", both ? "tests" : "test",
        both ? "they were" : "it was");
}

/* Names the one test print that would give the time. */
static ww_status say_time(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const ww__print_name tone = ww__print_show(ww__print_tones_first(s->negative)->name);
    const char *why;
    if (s->choice->paper.time_s.set && s->request->n_tests > 0)
        return say_tested(s, notes, err);
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

/* What the paper's own seconds and the test's, which can't both be right, are to be checked for. */
static const char *odds_remedy(const subject *s) {
    const ww__print_test *test = &s->choice->test;
    const bool time = s->choice->paper.time_s.set;
    double log_h = 0.0;
    if (time && ww__print_offset_place(s->request, s->choice->sheet, test, &log_h))
        return "A print made by that test has shown since what the time needs: time and doubt go "
               "by that print.";
    if (!ww__print_budget_test_stands(s->request, test))
        return time ? "Check the time as typed, and whether paper, enlarger height, aperture and "
                      "filter were the same; until then the doubt holds all of it."
                    : "Check the time as typed, and whether paper, enlarger height, aperture and "
                      "filter were the same.";
    if (test->both)
        return "The two tests agree with each other, so that it is the curve's seconds that are "
               "off: lamp, enlarger height, aperture, filter or lot of paper changed since it was "
               "measured. Time and doubt go by the tests.";
    return time
               ? "Check the time as typed. If it is right, lamp, enlarger height, aperture, filter "
                 "or lot of paper changed since the curve was measured; time and doubt go by the "
                 "test, and a slip of typing is not in them: a second --test tells."
               : "Check the time as typed, and whether paper, enlarger height, aperture and "
                 "filter were the same.";
}

static ww_status say_odds(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_test *test = &s->choice->test;
    const ww_print_test *made = &s->request->test[test->which];
    if (!ww__print_budget_at_odds(test))
        return WW_OK;
    return ww__print_say(
        notes, err,
        "The test print and the curve of '%s'%s are %.2f %s apart, where %.2f could be explained: "
        "by the curve %.3g s, not %.3g s, give '%s' %.2f. %s",
        s->paper.text, test->put_right ? ", put right by earlier prints," : "",
        fabs(test->against) / WW__PRINT_LOG_STOP,
        ww__print_stops(test->against / WW__PRINT_LOG_STOP), test->margin / WW__PRINT_LOG_STOP,
        made->time_s * pow(10.0, -test->against), made->time_s, ww__print_show(made->tone).text,
        made->density, odds_remedy(s));
}

static bool has_line(const ww_print_paper *paper, const char *from) {
    for (size_t i = 0; i < paper->n_budget; i++)
        if (strcmp(paper->budget[i].from, from) == 0)
            return true;
    return false;
}

/* A print that was read for --result will do for a test print, if its first tone was. */
static const char *wedge_remedy(const subject *s) {
    double log_h = 0.0;
    const ww__print_candidate *choice = s->choice;
    if (s->request->n_tests > 0 ||
        ww__print_offset_place(s->request, choice->sheet, &choice->test, &log_h))
        return "";
    return choice->sheet->offset
               ? "; the print that taught this takes most of it out where the tone that sets the "
                 "time is read on it, too"
               : "; a test print, read and given with --test, takes most of it out";
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
                           strcmp(largest->from, "wedge") == 0 ? wedge_remedy(s) : "");
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

/* What one contrast taught may have been the lamp, which lights them all, or its filter. */
static ww_status say_sister(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const ww_print_offset *offset = ww__print_offset_sister(s->request, sheet);
    if (!offset)
        return WW_OK;
    return ww__print_say(notes, err,
                         "In contrast '%s' '%s' came out %.2f stop %s than foretold, which is not "
                         "used on '%s' but stands in its doubt. If it was the lamp or the timer, "
                         "it holds here as well: make a test print.",
                         ww__print_show(offset->contrast).text, s->paper.text,
                         fabs(offset->log_h) / WW__PRINT_LOG_STOP,
                         offset->log_h < 0.0 ? "lighter" : "darker",
                         ww__print_show(sheet->curve->meta.contrast).text);
}

/* A lamp may have been off at every size, and a lot is its own: the next print tells. */
static ww_status say_elsewhere(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_offset *offset = ww__print_offset_elsewhere(s->request, s->choice->sheet);
    if (!offset)
        return say_sister(s, notes, err);
    return ww__print_say(notes, err,
                         "On another lot or at another size '%s' came out %.2f stop %s than "
                         "foretold. The time does not have that in it: whether it holds here, the "
                         "next print tells, with --result.",
                         s->paper.text, fabs(offset->log_h) / WW__PRINT_LOG_STOP,
                         offset->log_h < 0.0 ? "lighter" : "darker");
}

/* Whether the time has in it what prints taught: by itself, or by a test print. */
static const char *offset_use(const subject *s) {
    if (s->choice->sheet->offset)
        return ": the time has that in it";
    return ww__print_budget_at_odds(&s->choice->test)
               ? "; the test print, which the time goes by, says otherwise"
               : ", and the test print bears that out: the time has it from there";
}

/* What earlier prints taught moves every time on that paper, so it is never left unsaid. */
static ww_status say_offset(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *sheet = s->choice->sheet;
    const bool witness = !sheet->offset && s->choice->test.compared;
    const ww_print_offset *offset = witness ? sheet->witness : sheet->offset;
    ww_status status;
    if (!offset)
        return say_elsewhere(s, notes, err);
    status = ww__print_say(
        notes, err,
        "Earlier prints on '%s' (%zu) came out %.2f stop %s than foretold, 1 sd %.2f%s.",
        s->paper.text, offset->prints, fabs(offset->log_h) / WW__PRINT_LOG_STOP,
        offset->log_h < 0.0 ? "lighter" : "darker", offset->sd / WW__PRINT_LOG_STOP, offset_use(s));
    if (status == WW_OK && sheet->curve->meta.lot && !(offset->lot && *offset->lot))
        status = ww__print_say(notes, err,
                               "On which lot is not known; this one is '%s', and its time may be "
                               "another.",
                               ww__print_show(sheet->curve->meta.lot).text);
    if (status == WW_OK && sheet->stretch != 1.0)
        status = ww__print_say(
            notes, err, "They came out %s, too: the range of '%s' is taken as %.2f log H %s.",
            sheet->stretch < 1.0 ? "harder" : "softer", s->paper.text, fabs(sheet->taught_range),
            sheet->stretch < 1.0 ? "shorter" : "longer");
    return status;
}

/* What two test prints say of each other. */
static ww_status say_tests(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_test *test = &s->choice->test;
    ww_status status = WW_OK;
    if (test->used && !test->both && s->request->n_tests > 1) {
        const ww_print_test *off = &s->request->test[1 - test->which];
        return ww__print_say(notes, err,
                             "The test print of %.3g s was not used: its %.2f above white lies "
                             "outside what was measured on '%s', %.2f to %.2f.",
                             off->time_s, off->density, s->paper.text,
                             ww__print_net(s->choice->sheet->lightest), s->choice->sheet->darkest);
    }
    if (!test->both)
        return WW_OK;
    if (test->outside)
        status = ww__print_say(notes, err,
                               "The aim of '%s', %.2f, lies beside both test prints, not between "
                               "them: the time goes by the nearer one and the curve.",
                               ww__print_show(ww__print_tones_first(s->negative)->name).text,
                               s->negative->first_aim);
    if (status == WW_OK && ww__print_budget_tests_apart(test))
        status = ww__print_say(
            notes, err,
            "The two test prints are %.2f %s apart by the curve, where %.2f could be explained; "
            "half of that is in the doubt. Check both times and densities.",
            fabs(test->disagree) / WW__PRINT_LOG_STOP,
            ww__print_stops(test->disagree / WW__PRINT_LOG_STOP),
            test->tests_margin / WW__PRINT_LOG_STOP);
    return status;
}

/* A lamp at a tenth of the light works longer than in proportion. */
static ww_status say_reciprocity(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_request *request = s->request;
    const ww_optional reference =
        ww__print_time_reference(request, s->choice->sheet, &s->choice->fate, &s->choice->test);
    const ww_optional time = s->choice->paper.time_s;
    if (!time.set)
        return WW_OK;
    if (request->reciprocity.set && !reference.set)
        return ww_notes_add(notes, err,
                            "Reciprocity was not applied: neither a test print nor the paper's "
                            "curve says at which time it was exposed.");
    if (request->reciprocity.set)
        return ww__print_say(notes, err,
                             "Times are from %.3g s by an exponent of %.2f for reciprocity. Stops "
                             "are of light; the seconds beside them hold reciprocity, and so are "
                             "more or fewer than the stops alone would make them.",
                             reference.value, request->reciprocity.value);
    if (!reference.set || fabs(log2(time.value / reference.value)) <= most_reciprocal)
        return WW_OK;
    return ww__print_say(notes, err,
                         "The time is %.1f stops from the %.3g s that it was figured from: paper "
                         "may lose speed or contrast over that. Measure it, give --reciprocity, or "
                         "make a test print near it.",
                         fabs(log2(time.value / reference.value)), reference.value);
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
    if (percent > 0.0 && s->choice->test.used)
        return ww__print_say(notes, err,
                             "Dry-down was not applied: '%s' was not read wet, and the test print "
                             "is taken as read dry, too. Read it dry.",
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
        status = ww__print_say(notes, err,
                               "Time from f/%g to f/%g by the marks of the lens, each full "
                               "stop a factor of 2.",
                               request->from_aperture.value, request->aperture.value);
    return status;
}

/* What is known of the choice alone, where the table shows its paper in other contrasts. */
static ww_status say_others(const ww__print_candidate candidate[], size_t n, ww_notes *notes,
                            ww_error *err) {
    for (size_t i = 1; i < n; i++)
        if (candidate[0].sheet->offset && has_line(&candidate[i].paper, "another contrast"))
            return ww__print_say(notes, err,
                                 "In the table, contrasts of '%s' without prints of their own do "
                                 "not have that in their times, but in their doubt: if it was the "
                                 "lamp or the timer, it holds there as well. A test print tells.",
                                 ww__print_show(candidate[i].sheet->name).text);
    return WW_OK;
}

ww_status ww__print_remarks_time(const ww__print_subject *s, const ww__print_candidate candidate[],
                                 size_t n, ww_notes *notes, ww_error *err) {
    static const ww__print_remark remarks[] = {
        say_time,  ww__print_shifted_say, say_offset, say_odds,
        say_tests, say_reciprocity,       say_doubt,  say_drying,
        say_size};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0] && status == WW_OK; i++)
        status = remarks[i](s, notes, err);
    return status == WW_OK ? say_others(candidate, n, notes, err) : status;
}
