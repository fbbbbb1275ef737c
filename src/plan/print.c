/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_split.h"
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/print_result.h>

static void release_paper(ww_print_paper *paper) {
    for (size_t i = 0; i < paper->n_tones; i++)
        free(paper->tone[i].tone);
    free(paper->tone);
    free(paper->paper);
    free(paper->contrast);
    free(paper->why);
    free(paper->no_time);
    if (paper->own_curve)
        ww_curve_release(paper->own_curve);
    free(paper->own_curve);
}

void ww_print_plan_release(ww_print_plan *plan) {
    if (!plan)
        return;
    for (size_t i = 0; i < plan->n_papers; i++)
        release_paper(&plan->paper[i]);
    free(plan->paper);
    free(plan->dense_tone);
    free(plan->thin_tone);
    ww_print_miss_release(plan->miss);
    free(plan->miss);
    ww_notes_release(&plan->first);
    ww_notes_release(&plan->notes);
    *plan = (ww_print_plan)WW_PRINT_PLAN_INIT;
}

/* Also false for NAN. */
static ww_status check_within(double value, double least, double most, const char *what,
                              ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (value >= least && value <= most)
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s",
                        ww__print_format(text, sizeof text, "the %s can't be %g; give %g to %g",
                                         what, value, least, most));
}

/* Two sizes, or two apertures: both or neither. */
static ww_status check_pair(ww_optional from, ww_optional to, double least, double most,
                            const char *what, ww_error *err) {
    ww_status status = WW_OK;
    if (from.set != to.set)
        return ww_error_set(err, WW_EDOMAIN, "one %s without the other; give both or neither",
                            what);
    if (from.set)
        status = check_within(from.value, least, most, what, err);
    return status == WW_OK && to.set ? check_within(to.value, least, most, what, err) : status;
}

static ww_status check_tests(const ww_print_request *request, ww_error *err) {
    ww_status status = WW_OK;
    assert(request->n_tests <= WW_PRINT_TESTS_MOST);
    for (size_t i = 0; i < request->n_tests && status == WW_OK; i++) {
        const ww_print_test *test = &request->test[i];
        status = check_within(test->time_s, WW_PRINT_TEST_LEAST, WW_PRINT_TEST_MOST,
                              "test print's seconds", err);
        if (status == WW_OK)
            status = check_within(test->density, WW_PRINT_AIM_LEAST, WW_PRINT_AIM_MOST,
                                  "test print's density above its paper white", err);
    }
    return status;
}

static ww_status check_request(const ww_print_request *request, ww_error *err) {
    const ww_optional repeatability = request->repeatability;
    char text[WW__PRINT_TEXT_SIZE];
    ww_status status = check_pair(request->from_scale, request->scale, WW_PRINT_SCALE_LEAST,
                                  WW_PRINT_SCALE_MOST, "magnification", err);
    if (status == WW_OK)
        status = check_pair(request->from_aperture, request->aperture, WW_PRINT_APERTURE_LEAST,
                            WW_PRINT_APERTURE_MOST, "aperture", err);
    if (status == WW_OK)
        status = check_within(request->callier, WW_PRINT_CALLIER_LEAST, WW_PRINT_CALLIER_MOST,
                              "Callier factor", err);
    if (status == WW_OK && !(request->enlarger_flare >= 0.0 && request->enlarger_flare < 1.0))
        status = ww_error_set(err, WW_EDOMAIN, "%s",
                              ww__print_format(text, sizeof text,
                                               "%g is no flare; give a fraction of open light, "
                                               "under 1",
                                               request->enlarger_flare));
    if (status == WW_OK)
        status = check_within(request->dry_down_percent, 0.0, WW_PRINT_DRY_DOWN_MOST,
                              "dry-down in per cent", err);
    if (status == WW_OK)
        status = check_within(request->timer_step_s, WW_PRINT_STEP_LEAST, WW_PRINT_STEP_MOST,
                              "timer step", err);
    if (status == WW_OK && repeatability.set)
        status = check_within(repeatability.value, 0.0, WW_PRINT_REPEATABILITY_MOST,
                              "repeatability", err);
    if (status == WW_OK && request->reciprocity.set)
        status = check_within(request->reciprocity.value, WW_PRINT_RECIPROCITY_LEAST,
                              WW_PRINT_RECIPROCITY_MOST, "reciprocity exponent", err);
    return status == WW_OK ? check_tests(request, err) : status;
}

/* An aim that no paper has is a wish that can't be held by any choice. */
static ww_status check_aim(const ww__print_spot *spot, const ww__print_sheets *sheets,
                           ww_error *err) {
    const ww__print_sheet *dark = &sheets->sheet[0], *light = &sheets->sheet[0];
    bool black = true; /* all were measured as far as they go */
    char text[WW__PRINT_TEXT_SIZE];
    const ww__print_name name = ww__print_show(spot->name);
    double log_h = 0.0;
    for (size_t i = 0; i < sheets->n; i++) {
        const ww__print_sheet *sheet = &sheets->sheet[i];
        if (ww__print_papers_log_h(sheet, spot->aim.value, &log_h))
            return WW_OK;
        dark = sheet->darkest > dark->darkest ? sheet : dark;
        light = sheet->lightest < light->lightest ? sheet : light;
        black &= sheet->black_measured;
    }
    if (spot->aim.value > dark->darkest && !black)
        return ww_error_set(
            err, WW_EDOMAIN, "%s",
            ww__print_format(
                text, sizeof text,
                "no paper was measured at '%s's aim, %.3f above white; the "
                "darkest step, of '%s', has %.3f, and %s to its black: measure darker "
                "steps or aim lighter",
                name.text, spot->aim.value, ww__print_show(dark->name).text, dark->darkest,
                sheets->n == 1 ? "the paper was not measured" : "not every paper was measured"));
    if (spot->aim.value > dark->darkest)
        return ww_error_set(
            err, WW_EDOMAIN, "%s",
            ww__print_format(text, sizeof text,
                             "no paper prints '%s' at %.3f above white; the darkest, "
                             "'%s', goes to %.3f: aim lower",
                             name.text, spot->aim.value, ww__print_show(dark->name).text,
                             dark->darkest));
    return ww_error_set(
        err, WW_EDOMAIN, "%s",
        ww__print_format(text, sizeof text,
                         "no paper was measured at '%s's aim, %.3f above white; the "
                         "lightest step, of '%s', has %.3f: measure lighter steps or "
                         "aim darker",
                         name.text, spot->aim.value, ww__print_show(light->name).text,
                         ww__print_net(light->lightest)));
}

static ww_status check_aims(const ww__print_negative *negative, const ww__print_sheets *sheets,
                            ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < negative->n && status == WW_OK; i++)
        if (negative->spot[i].aim.set)
            status = check_aim(&negative->spot[i], sheets, err);
    return status;
}

static char *copy_text(const char *text, ww_status *status, ww_error *err) {
    const size_t size = strlen(text) + 1;
    char *copy = *status == WW_OK ? malloc(size) : NULL;
    if (copy)
        memcpy(copy, text, size);
    else if (*status == WW_OK)
        *status = ww_error_set(err, WW_EMEMORY, "no memory for a name");
    return copy;
}

static ww_status plan_paper(const ww_print_request *request, const ww__print_negative *negative,
                            ww__print_candidate *candidate, ww_error *err) {
    const ww__print_sheet *sheet = candidate->sheet;
    const char *contrast = sheet->curve->meta.contrast;
    ww_print_paper *paper = &candidate->paper;
    ww_status status = WW_OK;
    paper->nominal = sheet->nominal;
    paper->interpolated = sheet->beside[0] != NULL;
    paper->paper = copy_text(sheet->name, &status, err);
    paper->contrast = copy_text(contrast ? contrast : "", &status, err);
    if (status == WW_OK)
        status = ww__print_fate_tell(negative, sheet, &candidate->fate, paper, err);
    if (status == WW_OK)
        status = ww__print_time_set(request, negative, sheet, &candidate->fate, &candidate->test,
                                    paper, err);
    if (status == WW_OK)
        status = ww__print_budget_set(request, negative, sheet, &candidate->fate, &candidate->test,
                                      paper, err);
    return status == WW_OK
               ? ww__print_words_why(negative, &candidate->fate, &candidate->test, paper, err)
               : status;
}

/* Every paper that has the first aim; the others are named in a note. */
static ww_status plan_papers(const ww_print_request *request, const ww__print_negative *negative,
                             ww__print_sheets *sheets, ww__print_candidate candidate[], size_t *n,
                             ww_notes *notes, ww_error *err) {
    ww__print_test test = {.used = false};
    ww_status status = WW_OK;
    for (size_t i = 0; i < request->n_tests && status == WW_OK; i++)
        status =
            ww__print_placing_find(negative, request->test[i].tone, "test", &test.spot_of[i], err);
    if (status == WW_OK)
        status = ww__print_tests_check(request, negative, &test, err);
    for (size_t i = 0; i < sheets->n && status == WW_OK; i++) {
        ww__print_sheet *sheet = &sheets->sheet[i];
        ww__print_candidate *next = &candidate[*n];
        *next = (ww__print_candidate){.sheet = sheet, .test = test, .order = i};
        if (ww__print_papers_log_h(sheet, negative->first_aim, &next->fate.first_log_h)) {
            ++*n;
            status = ww__print_offset_apply(request, next->fate.first_log_h, sheet, err);
            if (status == WW_OK)
                status = plan_paper(request, negative, next, err);
        } else {
            status = ww__print_say(notes, err,
                                   "'%s' was left out: it was measured from %.2f to %.2f above "
                                   "white, and %.*f is asked for.",
                                   ww__print_show(sheet->name).text, ww__print_net(sheet->lightest),
                                   sheet->darkest, ww__text_decimals(negative->first_aim),
                                   negative->first_aim);
        }
    }
    if (status == WW_OK)
        qsort(candidate, *n, sizeof *candidate, ww__print_order);
    return status;
}

/* The range between the two ends, and their names. */
static ww_status set_range(const ww__print_negative *negative, ww_print_plan *plan, ww_error *err) {
    const ww__print_spot *first = &negative->spot[negative->first], *other;
    ww_status status = WW_OK;
    double range, width;
    if (!negative->contrast) {
        plan->dense_tone = copy_text(first->name, &status, err);
        plan->thin_tone = copy_text("", &status, err);
        return status;
    }
    other = &negative->spot[negative->other];
    range = first->seen - other->seen;
    width = ww__print_tones_range_width(negative);
    plan->negative_range =
        (ww_quantity){fabs(range), fabs(range) - width, fabs(range) + width, WW_MEASURED};
    plan->dense_tone = copy_text(range > 0.0 ? first->name : other->name, &status, err);
    plan->thin_tone = copy_text(range > 0.0 ? other->name : first->name, &status, err);
    return status;
}

/* Notes come last, when the papers are in order; then the plan takes the papers over. */
static ww_status fill_plan(const ww_print_request *request, const ww__print_negative *negative,
                           ww__print_candidate candidate[], size_t n, ww_print_plan *plan,
                           ww_error *err) {
    ww_status status = set_range(negative, plan, err);
    if (status == WW_OK)
        status = ww__print_remarks_add(request, negative, candidate, n, &plan->notes, err);
    if (status != WW_OK)
        return status;
    plan->paper = calloc(n, sizeof *plan->paper);
    if (!plan->paper)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu papers", n);
    for (size_t i = 0; i < n; i++) {
        plan->paper[i] = candidate[i].paper;
        plan->paper[i].own_curve = candidate[i].sheet->own;
        candidate[i].sheet->own = NULL;
        candidate[i].paper = (ww_print_paper){.paper = NULL};
    }
    plan->n_papers = n;
    plan->holds = plan->paper[0].holds;
    return WW_OK;
}

static ww_status plan_all(const ww_print_request *request, ww__print_desk *desk, ww_notes *notes,
                          ww_error *err) {
    ww_status status = check_aims(&desk->negative, &desk->sheets, err);
    if (status != WW_OK)
        return status;
    desk->candidate = calloc(desk->sheets.n, sizeof *desk->candidate);
    if (!desk->candidate)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu papers", desk->sheets.n);
    status =
        plan_papers(request, &desk->negative, &desk->sheets, desk->candidate, &desk->n, notes, err);
    if (status == WW_OK)
        status =
            ww__print_flash_add(request, &desk->negative, desk->candidate, desk->n, notes, err);
    return status;
}

ww_status ww__print_desk_fill(const ww_print_request *request, ww__print_desk *desk,
                              ww_notes *notes, ww_error *err) {
    ww_status status = check_request(request, err);
    if (status == WW_OK)
        status = ww__print_papers_read(request, &desk->sheets, notes, err);
    if (status == WW_OK)
        status = ww__print_tones_read(request, &desk->negative, notes, err);
    if (status == WW_OK)
        status = ww__print_moves_set(request, &desk->negative, err);
    if (status == WW_OK)
        status = ww__print_split_choose(&desk->negative, &desk->sheets, notes, err);
    return status == WW_OK ? plan_all(request, desk, notes, err) : status;
}

void ww__print_desk_release(ww__print_desk *desk) {
    for (size_t i = 0; i < desk->n; i++)
        release_paper(&desk->candidate[i].paper);
    free(desk->candidate);
    ww__print_negative_release(&desk->negative);
    ww__print_sheets_release(&desk->sheets);
    *desk = (ww__print_desk)WW__PRINT_DESK_INIT;
}

ww_status ww_print_plan_make(const ww_print_request *request, ww_print_plan *plan, ww_error *err) {
    ww__print_desk desk = WW__PRINT_DESK_INIT;
    ww_print_plan made = WW_PRINT_PLAN_INIT;
    ww_status status;
    assert(request && request->negative && plan);
    status = ww__print_desk_fill(request, &desk, &made.notes, err);
    if (status == WW_OK)
        status = fill_plan(request, &desk.negative, desk.candidate, desk.n, &made, err);
    ww__print_desk_release(&desk);
    if (status == WW_OK)
        *plan = made;
    else
        ww_print_plan_release(&made);
    return status;
}
