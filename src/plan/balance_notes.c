/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS };

static const double slip_sd = 0.04;  /* [D] four times what a reading errs; common practice */
static const double long_way = 1.0;  /* [stops] beyond it reciprocity is not to be left out */
static const double nothing = 0.25;  /* [CC] no change of a filter */
static const double told_move = 5.0; /* [CC] of which a weak head leaves a step of filters */

/* --- readers of files ------------------------------------------------------------------------- */

static bool is_noted(const ww_readings *readings, const char *text) {
    for (size_t i = 0; i < readings->notes.n; i++)
        if (strcmp(readings->notes.text[i], text) == 0)
            return true;
    return false;
}

/* What the readers of the files found worth saying: once, and of which files. */
ww_status ww__balance_note_readings(const ww__balance_work *work, ww_error *err) {
    const bool print = work->plan->kind == WW_BALANCE_PRINT;
    const ww_readings *const file[] = {&work->print, &work->aim, &work->ring};
    const char *const what[] = {print ? "print" : "standard negative",
                                print ? "aim" : "new negative", "ring-around"};
    enum { FILES = sizeof file / sizeof *file };
    ww_status status = WW_OK;
    for (size_t f = 0; f < FILES; f++)
        for (size_t i = 0; i < file[f]->notes.n && status == WW_OK; i++) {
            const char *text = file[f]->notes.text[i];
            char of[64] = "";
            bool told = false;
            for (size_t k = 0; k < FILES; k++) {
                const size_t used = strlen(of);
                if (!is_noted(file[k], text))
                    continue;
                told = told || k < f;
                snprintf(of + used, sizeof of - used, "%s%s", used ? ", " : "", what[k]);
            }
            if (!told)
                status = ww_notes_add(&work->plan->notes, err, "Readings of %s: %s%s", of, text,
                                      text[strlen(text) - 1] == '.' ? "" : ".");
        }
    return status;
}

/* A grey read several times whose readings lie further apart than any instrument's: a mean with a
 * slip is no grey. */
ww_status ww__balance_note_slips(const ww__balance_work *work, ww_error *err) {
    const ww_readings *const file[] = {&work->print, &work->aim};
    ww_status status = WW_OK;
    for (size_t f = 0; f < sizeof file / sizeof *file; f++)
        for (size_t i = 0; i < file[f]->n && status == WW_OK; i++)
            for (size_t c = 0; c < COLOURS && status == WW_OK; c++) {
                const ww_row *row = &file[f]->row[i];
                const ww_cell *cell = &row->cell[c];
                if (cell->state != WW_CELL_VALUE || cell->n < 2 || !cell->sd.set ||
                    cell->sd.value <= slip_sd)
                    continue;
                status = ww__print_say(
                    &work->plan->notes, err,
                    "The %zu readings of '%s' in %s that were averaged scatter by %.2f D (one "
                    "standard deviation), where readings of one place differ by %.2f: look for a "
                    "slip among them, and read it again.",
                    cell->n, ww__print_show(ww__balance_label(row)).text,
                    ww_channel_name((ww_channel)c), cell->sd.value, WW_READING_SD);
            }
    return status;
}

/* --- setting ---------------------------------------------------------------------------------- */

ww_status ww__balance_note_setting(ww_balance *plan, ww_error *err) {
    const double most = WW_PACK_MOST * fmax(plan->head_scale, 1.0);
    const double time_s = plan->settable.time_s;
    ww_status status = WW_OK;
    for (int f = 0; f < WW_FILTER_COUNT && status == WW_OK; f++) {
        if (plan->exact.pack.cc[f] <= most)
            continue;
        plan->holds = false;
        status = ww__print_say(&plan->notes, err,
                               "%.0f of %s is more than a head gives: look for what else turned "
                               "the colour, as another filter left in the light.",
                               plan->exact.pack.cc[f], ww_filter_name((ww_filter)f));
    }
    if (status == WW_OK && !(time_s >= WW_BALANCE_TIME_LEAST && time_s <= WW_BALANCE_TIME_MOST)) {
        plan->holds = false;
        status = ww__print_say(
            &plan->notes, err,
            "A time of %.3g s cannot be given, %g to %g s can: change the "
            "aperture, a full stop halves or doubles it%s.",
            time_s, WW_BALANCE_TIME_LEAST, WW_BALANCE_TIME_MOST,
            plan->kind == WW_BALANCE_CARRIED ? ", and look at the magnifications given" : "");
    }
    if (status == WW_OK && fabs(plan->stops) > long_way)
        status = ww__print_say(&plan->notes, err,
                               "The time changes by over a stop, where paper does not answer all "
                               "colours alike: keep the time and change the aperture if you can.");
    return status;
}

/* A right print keeps its three filters; the same light through two of them is pure arithmetic. */
static ww_status note_two_filters(const ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    char pack[WW_PACK_TEXT_SIZE];
    ww_balance_setting two = plan->from, rounded;
    double shared;
    if (!plan->left_alone || ww__balance_third(&work->from_cc, &shared) == WW_FILTER_COUNT)
        return WW_OK;
    ww_pack_reduce(&two.pack);
    two.time_s *= pow(10.0, -shared / 100.0);
    ww__balance_round(plan, &two, &rounded);
    return ww__print_say(&plan->notes, err,
                         "The same in two filters, if you want them: %s, %.4g s. What all three "
                         "share only holds back light.",
                         ww_pack_format(&two.pack, pack), rounded.time_s);
}

/* --- filters ---------------------------------------------------------------------------------- */

static bool is_used(const ww_balance *plan, size_t f) {
    return plan->exact.pack.cc[f] > 0.0 || fabs(plan->change.cc[f]) > nothing;
}

/* The filters of this pack whose effect no print has shown yet: "yellow and magenta". */
static size_t not_told(const ww_balance *plan, char names[], size_t size, size_t *first) {
    size_t n = 0;
    names[0] = '\0';
    for (size_t f = 0; f < WW_FILTER_COUNT; f++) {
        const size_t used = strlen(names);
        if (!is_used(plan, f) || plan->told[f + 1])
            continue;
        if (n++ == 0)
            *first = f;
        snprintf(names + used, size - used, "%s%s", used ? " and " : "",
                 ww_filter_name((ww_filter)f));
    }
    return n;
}

/* Of a head that nobody measured, whose packs are moved by what it may do less than usual. */
static ww_status note_head(const ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    double most = 0.0;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        most = fmax(most, fabs(plan->change.cc[f]));
    if (work->request->ring || strcmp(ww__balance_unit(plan->head_scale), "CC") != 0 ||
        most <= told_move)
        return WW_OK;
    return ww__print_say(&plan->notes, err,
                         "How strong this head's filters are nobody told: the doubt is for all of "
                         "them doing up to %.0f %% more or less than usual. A head that does less "
                         "needs more change than it says: --head-scale gives its factor, where you "
                         "know it, and this print and the next one, given with --ring, tell it.",
                         100.0 * WW__BALANCE_95 * WW_RESPONSE_STRENGTH);
}

static ww_status note_response(const ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    char names[48], pack[WW_PACK_TEXT_SIZE];
    ww_pack more = plan->settable.pack;
    size_t first = WW_MAGENTA, n;
    ww_status status = WW_OK;
    if (!work->request->ring)
        status = ww__print_say(
            &plan->notes, err,
            "Dyes and filters are taken for usual ones, for want of a ring-around: of a filter's "
            "number its own colour loses 75 to 95 %% give or take 20, the others 0 to 20 %% give "
            "or take 12. %s",
            plan->kind == WW_BALANCE_PRINT
                ? "Add this print to a ring-around and give it with --ring next time."
                : "Prints with known packs, given with --ring and --paper, would tell.");
    else if ((n = not_told(plan, names, sizeof names, &first)) > 0) {
        more.cc[first] += 10.0 * plan->head_scale;
        status = ww__print_say(&plan->notes, err,
                               "The ring-around does not tell yet what %s %s in this head and on "
                               "this paper. A print with %s, all else as here, would.",
                               names, n > 1 ? "do" : "does", ww_pack_format(&more, pack));
    }
    if (status == WW_OK)
        status = note_head(work, err);
    if (status == WW_OK)
        status = ww__print_say(&plan->notes, err,
                               "Filters and time were solved for together, from readings: apply no "
                               "filter factor besides.");
    return status;
}

static ww_status note_negative(const ww__balance_work *work, ww_error *err) {
    const ww_density_status status = work->print.meta.status;
    if (status == WW_STATUS_PRINTING)
        return WW_OK;
    return ww__print_say(&work->plan->notes, err,
                         "Densities of status %s stand in for what this paper sees of the "
                         "negatives, which is a fifth more or less in each colour%s: a start for "
                         "the first print, whose readings then decide.",
                         ww_density_status_name(status),
                         work->request->ring ? "; a ring-around tells of filters, not of that"
                                             : "");
}

/* --- greys ------------------------------------------------------------------------------------ */

static ww_status note_crossover(ww_balance *plan, ww_error *err) {
    const ww_balance_crossover *x = &plan->crossover;
    const ww_balance_parting *two = &x->surest;
    if (!x->known)
        return WW_OK;
    if (!x->found)
        return ww__print_say(&plan->notes, err,
                             "No crossover was found; these readings would tell one of %.0f CC "
                             "between the lightest and the darkest grey.",
                             ceil(x->would_tell_cc));
    return ww__print_say(
        &plan->notes, err,
        "Crossover: '%s' wants %.1f CC %s %s than '%s' (+-%.1f), and no filtration cures this. "
        "Pack and time are those of '%s'; --tone makes another grey neutral. Else look at paper, "
        "process or film.",
        ww__print_show(plan->tone[two->tone].tone).text, fabs(two->cc),
        two->cc > 0.0 ? "less" : "more",
        two->of == WW_RED     ? "cyan"
        : two->less == WW_RED ? "yellow" /* as of a pack without cyan */
                              : "yellow against magenta",
        ww__print_show(plan->tone[two->other].tone).text, two->half_cc,
        ww__print_show(plan->tone[plan->solved_for].tone).text);
}

/* What the next print tells of the largest part of the doubt. */
static const char *what_is_taught(const ww_balance *plan) {
    size_t most = 0;
    for (size_t i = 1; i < plan->n_budget; i++)
        most = plan->budget[i].cc > plan->budget[most].cc ? i : most;
    if (strcmp(plan->budget[most].from, "filters and time") == 0)
        return "what these filters do here: give both prints with --ring";
    if (strcmp(plan->budget[most].from, "paper's dyes") == 0)
        return "where this one's cast stood, being nearer to the aim itself";
    return "less than more readings of each grey would: read each several times";
}

static ww_status note_reach(ww_balance *plan, ww_error *err) {
    const ww_balance_tone *tone = &plan->tone[plan->solved_for];
    if (plan->kind != WW_BALANCE_PRINT || tone->within || plan->crossover.found || plan->left_alone)
        return WW_OK;
    if (!tone->foretold)
        return ww__print_say(&plan->notes, err,
                             "The next print is not foretold: it leaves the paper's measured "
                             "curve.");
    for (size_t c = 0; c < COLOURS; c++)
        if (fabs(tone->predicted[c] - tone->aim[c]) > WW_BALANCE_WITHIN ||
            fabs(tone->left_cc[c]) > WW_BALANCE_WITHIN_CC)
            return ww__print_say(
                &plan->notes, err,
                "As it can be set, the next print is off by more than %.2f D or %.1f CC: finer "
                "steps of filters or timer come nearer.",
                WW_BALANCE_WITHIN, WW_BALANCE_WITHIN_CC);
    return ww__print_say(&plan->notes, err,
                         "The doubt is wider than a hand's tolerance (%.2f D and %.1f CC), so a "
                         "further print will be needed. It will teach %s.",
                         WW_BALANCE_WITHIN, WW_BALANCE_WITHIN_CC, what_is_taught(plan));
}

/* --- the ring's next rows --------------------------------------------------------------------- */

/* A grey of the print as WW_BALANCE_RING_COLUMNS has it, n and sd of its worst channel. */
static ww_status write_ring_row(ww_balance *plan, const ww_row *row, ww_error *err) {
    const char *tone = ww__balance_label(row);
    char pack[WW_PACK_TEXT_SIZE], sd[32] = "-";
    const bool plain = strlen(tone) < 48 && !strpbrk(tone, ",;\"\t");
    double most = 0.0;
    size_t n = row->cell[0].n;
    for (size_t c = 0; c < COLOURS; c++) {
        n = row->cell[c].n < n ? row->cell[c].n : n;
        most = row->cell[c].sd.set ? fmax(most, row->cell[c].sd.value) : most;
    }
    if (most > 0.0)
        ww__print_format(sd, sizeof sd, "%.4f", most);
    return ww__print_say(&plan->ring_row, err, "%s,%.10g,%s,%zu,%s,%.3f,%.3f,%.3f",
                         ww_pack_format(&plan->from.pack, pack), plan->from.time_s,
                         plain ? ww__print_show(tone).text : "", n, sd, row->cell[0].value,
                         row->cell[1].value, row->cell[2].value);
}

static ww_status write_ring_rows(const ww__balance_work *work, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < work->print.n && status == WW_OK; i++) {
        const ww_row *row = &work->print.row[i];
        if (!row->is_base &&
            ww__balance_find(work->plan, ww__balance_label(row)) < work->plan->n_tones)
            status = write_ring_row(work->plan, row, err);
    }
    return status;
}

ww_status ww__balance_notes(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    ww_status status = note_two_filters(work, err);
    if (status == WW_OK)
        status = note_crossover(plan, err);
    if (status == WW_OK)
        status = ww__balance_note_setting(plan, err);
    if (status == WW_OK)
        status = note_reach(plan, err);
    if (status == WW_OK && plan->kind == WW_BALANCE_NEGATIVE)
        status = note_negative(work, err);
    if (status == WW_OK)
        status = note_response(work, err);
    if (status == WW_OK && plan->kind == WW_BALANCE_PRINT) {
        status = ww__balance_note_process(work, err);
        if (status == WW_OK)
            status = write_ring_rows(work, err);
    }
    return status;
}
