/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_flash.h"
#include <math.h>
#include <string.h>

static const double outlier = 1.5; /* [sd] from where a step's say is cut short; textbook (Huber) */
enum { ROUNDS = 20 };

double ww__flash_sum(double log_h, double other_log_h) {
    const double more = fmax(log_h, other_log_h), less = fmin(log_h, other_log_h);
    return more + log10(1.0 + pow(10.0, less - more));
}

static bool agree(const char *a, const char *b) {
    return !a || !*a || !b || !*b || strcmp(a, b) == 0;
}

bool ww__flash_is_of(const ww_readings *strip, const ww__print_sheet *sheet) {
    return agree(strip->meta.name, sheet->curve->meta.name) &&
           agree(strip->meta.lot, sheet->curve->meta.lot);
}

/* ------------------------------------------------------------------- what a second is worth */

typedef struct say {
    double log_h; /* of a second, by one step */
    double sd;
} say;

/* What one step says; false where it says nothing: too light, or not on the curve. */
static bool hear(const ww__flash_step *step, const ww__print_sheet *sheet, say *heard) {
    double log_h = 0.0, net = 0.0, slope = 0.0, sd = 0.0;
    if (step->net < WW__FLASH_TELLS || !ww__print_papers_log_h(sheet, step->net, &log_h) ||
        !ww__print_papers_net(sheet, log_h, &net, &slope) || !(slope > 0.0))
        return false;
    if (!ww__print_papers_sd(sheet, log_h, &sd))
        sd = 0.0;
    *heard = (say){log_h - log10(step->time_s), hypot(step->error, sd) / slope};
    return true;
}

/* The step that says most; false where none says anything. */
static bool find_best(const ww__flash_strip *strip, const ww__print_sheet *sheet, say *best) {
    bool found = false;
    say heard;
    for (size_t i = 0; i < strip->n; i++) {
        if (!hear(&strip->step[i], sheet, &heard) || (found && heard.sd >= best->sd))
            continue;
        *best = heard;
        found = true;
    }
    return found;
}

/* Weighted mean in which steps far off count less; its doubt is no less than their scatter. */
bool ww__flash_worth_find(const ww__flash_strip *strip, const ww__print_sheet *sheet,
                          ww__flash_worth *worth) {
    double weights = 0.0, squares = 0.0;
    say heard;
    if (!find_best(strip, sheet, &heard))
        return false;
    *worth = (ww__flash_worth){.log_h = heard.log_h};
    for (int round = 0; round < ROUNDS; round++) {
        double sum = 0.0;
        weights = squares = 0.0;
        worth->steps = 0;
        for (size_t i = 0; i < strip->n; i++) {
            if (!hear(&strip->step[i], sheet, &heard))
                continue;
            const double off = fabs(heard.log_h - worth->log_h) / heard.sd;
            const double weight = (off > outlier ? outlier / off : 1.0) / (heard.sd * heard.sd);
            weights += weight;
            sum += weight * heard.log_h;
            squares += off * off;
            worth->steps++;
        }
        worth->log_h = sum / weights;
    }
    worth->scatter = worth->steps > 1 ? sqrt(squares / (double)(worth->steps - 1)) : 1.0;
    worth->width = WW__PRINT_95 * fmax(worth->scatter, 1.0) / sqrt(weights);
    return true;
}

/* ------------------------------------------------------------------------ what it does there */

typedef struct flashed {
    const ww__print_negative *negative;
    const ww__print_sheet *sheet;
    double shift; /* log H on the paper = shift - density seen */
    double log_h; /* of the flash */
} flashed;

static ww_optional print_of(const flashed *f, double seen) {
    ww_optional print = {false, 0.0};
    print.set = ww__print_papers_net(f->sheet, ww__flash_sum(f->shift - seen, f->log_h),
                                     &print.value, NULL);
    return print;
}

/* What is left to burn: the flash has brought part of what the tone is to get. */
static ww_optional burn_left(const flashed *f, const ww__print_spot *spot, double burn_stops) {
    const bool whole = spot->aim.set || !spot->judged;
    const double straight = f->shift - (whole ? spot->seen : spot->end[WW_PART_DENSE].seen);
    const double target = straight + burn_stops * WW__PRINT_LOG_STOP;
    const double left = pow(10.0, target - straight) - pow(10.0, f->log_h - straight);
    double stops;
    if (!(left > 0.0))
        return (ww_optional){false, 0.0};
    stops = log2(left);
    if (fabs(stops) < WW__PRINT_LEAST_MOVE || (burn_stops > 0.0 && stops < 0.0))
        stops = 0.0;
    return (ww_optional){true, stops};
}

static void tell_tone(const flashed *f, ww_print_tone *tone) {
    const ww__print_spot *spot = ww__print_tones_named(f->negative, tone->tone);
    if (!spot)
        return;
    tone->flash_print = print_of(f, spot->seen);
    if (spot->judged && !spot->base) {
        const ww_optional thin = print_of(f, spot->end[WW_PART_THIN].seen);
        const ww_optional dense = print_of(f, spot->end[WW_PART_DENSE].seen);
        tone->flash_separation = (ww_optional){
            thin.set && dense.set, thin.set && dense.set ? thin.value - dense.value : 0.0};
    }
    if (tone->burn_stops.set && !spot->base)
        tone->flash_burn_stops = burn_left(f, spot, tone->burn_stops.value);
}

/* Whole steps of the timer, never over the longest. */
static double set_on_timer(double time_s, double step_s) {
    return floor(time_s / step_s + 1e-9) * step_s;
}

/* No paper is lighter than its white. */
static ww_quantity white_of(const ww__flash_strip *strip, double time_s) {
    double error = 0.0;
    const double net = ww__flash_strip_net(strip, time_s, &error);
    return (ww_quantity){fmax(0.0, net), fmax(0.0, net - WW__PRINT_95 * error),
                         fmax(0.0, net + WW__PRINT_95 * error), WW_MEASURED};
}

static void tell_paper(const ww_print_request *request, const ww__print_negative *negative,
                       const ww__flash_strip *strip, ww__print_candidate *candidate,
                       ww__flash_worth *worth) {
    const double time_s = set_on_timer(strip->time_s, request->timer_step_s);
    const ww__print_sheet *sheet = candidate->sheet;
    ww_print_paper *paper = &candidate->paper;
    flashed f = {negative, sheet,
                 candidate->fate.first_log_h + negative->spot[negative->first].seen, 0.0};
    double threshold = 0.0;
    if (strip->finds != WW__FLASH_FOUND || !(time_s > 0.0) ||
        !ww__flash_is_of(request->flash, sheet) || !ww__flash_worth_find(strip, sheet, worth))
        return;
    f.log_h = worth->log_h + log10(time_s);
    if (!ww__print_papers_log_h(sheet, WW__PRINT_FIRST_TONE, &threshold) || f.log_h >= threshold)
        return;
    paper->flash = (ww_print_flash){
        .set = true,
        .time_s = time_s,
        .log_h = {f.log_h, f.log_h - worth->width, f.log_h + worth->width, WW_FITTED},
        .white = white_of(strip, time_s),
        .lift = threshold - log10(pow(10.0, threshold) - pow(10.0, f.log_h))};
    for (size_t i = 0; i < paper->n_tones; i++)
        tell_tone(&f, &paper->tone[i]);
}

/* ----------------------------------------------------------------------------- what is said */

/* Which strip to expose where this one does not tell. */
static ww_status say_next_strip(const ww__flash_strip *strip, const ww_print_request *request,
                                ww_notes *notes, ww_error *err) {
    const ww__flash_step *last = &strip->step[strip->n - 1];
    if (strip->finds == WW__FLASH_ALL_WHITE)
        return ww__print_say(notes, err,
                             "No flash: up to its longest, %g s, the flash strip stays under %.2f "
                             "above white. Expose the next in half stops from %g to %g s.",
                             last->time_s, WW__FLASH_GREY, last->time_s, 8.0 * last->time_s);
    if (strip->finds == WW__FLASH_ALL_GREY)
        return ww__print_say(notes, err,
                             "No flash: from its shortest, %g s, the flash strip is grey, %.2f "
                             "above white. Expose the next in half stops from %g to %g s, or as "
                             "long with the lens 3 stops down.",
                             strip->step[0].time_s, strip->step[0].held,
                             strip->step[0].time_s / 8.0, strip->step[0].time_s);
    return ww__print_say(notes, err,
                         "No flash: it would take %.2g s, under a step of the timer, %g s; expose "
                         "the flash strip with less light.",
                         strip->time_s, request->timer_step_s);
}

/* Why a strip that tells of a flash tells nothing of this paper. */
static ww_status say_no_worth(const ww__print_candidate *choice, const ww_print_request *request,
                              const ww__flash_strip *strip, ww_notes *notes, ww_error *err) {
    const ww__print_name paper = ww__print_show(choice->sheet->name);
    ww__flash_worth worth;
    if (!ww__flash_is_of(request->flash, choice->sheet))
        return ww__print_say(notes, err,
                             "No flash is foretold: the flash strip is of another paper or lot "
                             "than '%s'.",
                             paper.text);
    if (!ww__flash_worth_find(strip, choice->sheet, &worth))
        return ww__print_say(notes, err,
                             "No flash is foretold: no step of the flash strip from %.2f above "
                             "white lies on the curve of '%s', which would say what a second is "
                             "worth there; let the strip go on to %.1f above white.",
                             WW__FLASH_TELLS, paper.text, 0.3);
    return ww__print_say(notes, err,
                         "No flash is foretold: by the curve of '%s' the flash of %.2g s would be "
                         "over the first tone that shows, by the strip under it; the two do not "
                         "go together.",
                         paper.text, strip->time_s);
}

static ww_status say_flash(const ww__print_candidate *choice, const ww_print_request *request,
                           const ww__flash_strip *strip, const ww__flash_worth *worth,
                           ww_notes *notes, ww_error *err) {
    const ww_print_flash *flash = &choice->paper.flash;
    const char *label = choice->sheet->curve->meta.contrast, *own = request->flash->meta.contrast;
    ww_status status = ww__print_say(
        notes, err,
        "Flash of %g s: the strip reaches %.2f above white between %g and %g s. It is worth log H "
        "%.2f, %.2f to %.2f, on '%s'.",
        flash->time_s, WW__FLASH_GREY, strip->under_s, strip->over_s, flash->log_h.value,
        flash->log_h.low, flash->log_h.high, ww__print_show(choice->sheet->name).text);
    if (status == WW_OK && worth->scatter > 2.0)
        status = ww__print_say(notes, err,
                               "The flash strip does not follow the curve of '%s': its steps "
                               "scatter %.1f times as much as readings err. Was it of this paper, "
                               "through this filter, developed alike?",
                               ww__print_show(choice->sheet->name).text, worth->scatter);
    if (status == WW_OK && !agree(own, label))
        status = ww__print_say(notes, err,
                               "The flash strip was exposed as '%s' and the print is as '%s': what "
                               "two filters give together was not measured, and the flash is "
                               "counted as though through the print's.",
                               ww__print_show(own).text, ww__print_show(label).text);
    return status;
}

/* One tone that falls short: straight, burned, flashed. */
static ww_status say_compared(const ww_print_tone *tone, ww_notes *notes, ww_error *err) {
    const char *better = "they come to the same";
    const double burned = tone->separation.value, greyed = tone->flash_separation.value;
    const ww__print_name name = ww__print_show(tone->tone);
    char straight[32] = "under what was measured";
    if (!tone->separation.set || !tone->flash_separation.set)
        return WW_OK;
    if (fabs(burned - greyed) >= 0.005)
        better = burned > greyed ? "burning parts them more" : "the flash parts them more";
    if (tone->separation_straight.set)
        ww__print_format(straight, sizeof straight, "%.3f", tone->separation_straight.value);
    return ww__print_say(notes, err,
                         "Detail of '%s' in D: straight %s, burned by %.2g stop %.3f, flashed and "
                         "not burned %.3f: %s.",
                         name.text, straight, tone->burn_stops.value, burned, greyed, better);
}

/* What the flash does to the tone that sets the time. */
static ww_status say_darkened(const ww_print_paper *paper, const ww__print_spot *first,
                              ww_notes *notes, ww_error *err) {
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (strcmp(tone->tone, first->name) == 0 && tone->print.set && tone->flash_print.set)
            return ww__print_say(notes, err,
                                 "With the flash and the same time, '%s' prints at %.2f, not at "
                                 "%.2f; a test print with the flash gives the time that keeps it.",
                                 ww__print_show(tone->tone).text, tone->flash_print.value,
                                 tone->print.value);
    }
    return WW_OK;
}

static ww_status say_comparison(const ww_print_paper *paper, const ww__print_spot *first,
                                ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    size_t short_of = 0;
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (tone->base || !tone->burn_stops.set || !(tone->burn_stops.value > 0.0))
            continue;
        short_of++;
        status = say_compared(tone, notes, err);
    }
    if (status != WW_OK)
        return status;
    if (short_of == 0)
        return ww_notes_add(notes, err,
                            "No tone needs burning: a flash would only take contrast from the "
                            "highlights.");
    status = ww_notes_add(notes, err,
                          "A flash brings weak highlights over the threshold and takes contrast "
                          "from them, all over the sheet; what is blocked on the film it brings "
                          "back no more than a burn does.");
    return status == WW_OK ? say_darkened(paper, first, notes, err) : status;
}

ww_status ww__print_flash_add(const ww_print_request *request, const ww__print_negative *negative,
                              ww__print_candidate candidate[], size_t n, ww_notes *notes,
                              ww_error *err) {
    ww__flash_strip strip = {.step = NULL};
    ww__flash_worth worth = {.steps = 0};
    ww_status status;
    if (!request->flash)
        return WW_OK;
    status = ww__flash_strip_read(request->flash, &strip, notes, err);
    if (status != WW_OK)
        return status;
    for (size_t i = n; i-- > 0;) /* the choice comes last, and its worth stays */
        tell_paper(request, negative, &strip, &candidate[i], &worth);
    if (strip.finds != WW__FLASH_FOUND ||
        !(set_on_timer(strip.time_s, request->timer_step_s) > 0.0))
        status = say_next_strip(&strip, request, notes, err);
    else if (!candidate[0].paper.flash.set)
        status = say_no_worth(&candidate[0], request, &strip, notes, err);
    else
        status = say_flash(&candidate[0], request, &strip, &worth, notes, err);
    if (status == WW_OK && candidate[0].paper.flash.set)
        status = say_comparison(&candidate[0].paper, ww__print_tones_first(negative), notes, err);
    ww__flash_strip_release(&strip);
    return status;
}
