/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include "plan/strip_parts.h"
#include <assert.h>
#include <math.h>

/* What the pieces that were never under the safelight read, as one. */
typedef struct covered {
    double density, error;
    size_t n;
} covered;

static covered find_covered(const ww_strip *strip) {
    covered c = {0.0, 0.0, 0};
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!step->covered || step->state != WW_CELL_VALUE)
            continue;
        c.n++;
        c.density += (step->density - c.density) / (double)c.n;
        c.error = hypot(c.error * ((double)c.n - 1.0), step->error) / (double)c.n;
    }
    return c;
}

static double least_change(const ww_strip_step *step, const covered *c) {
    return fmax(WW_STRIP_CHANGE, 2.0 * hypot(step->error, c->error));
}

/* A limit that readings to 0.01 can meet is met within their last digit. */
static bool over(double difference, double limit) {
    return difference > limit + 1e-9;
}

/* What is beyond the instrument is surely no light grey any more. */
static void mark_changes(const covered *c, ww_strip *strip) {
    for (size_t i = 0; i < strip->n_steps; i++) {
        ww_strip_step *step = &strip->step[i];
        if (step->covered)
            continue;
        if (step->state == WW_CELL_VALUE)
            strip->least_change = fmax(strip->least_change, least_change(step, c));
        step->changed =
            step->state == WW_CELL_OVER || over(step->density - c->density, least_change(step, c));
        if (step->changed && (!strip->changed_s.set || step->time_s < strip->changed_s.value))
            strip->changed_s = (ww_optional){true, step->time_s};
    }
}

/* The longest time before the first change. */
static void find_safe(ww_strip *strip) {
    ww_optional safe = {false, 0.0};
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!step->covered && !step->changed &&
            (!strip->changed_s.set || step->time_s < strip->changed_s.value) &&
            (!safe.set || step->time_s > safe.value))
            safe = (ww_optional){true, step->time_s};
    }
    if (!safe.set || strip->insensitive || strip->place == WW_STRIP_DISORDER)
        return;
    strip->holds = true;
    strip->high_open = !strip->changed_s.set;
    strip->best =
        (ww_quantity){safe.value, safe.value,
                      strip->changed_s.set ? strip->changed_s.value : safe.value, WW_MEASURED};
}

static ww_status check_grey(const covered *c, ww_strip *strip, ww_error *err) {
    if (!strip->white.set)
        return ww_notes_add(&strip->notes, err,
                            "Paper white was not read, so nobody can tell whether this grey is one "
                            "that shows a change, 0.15 to 0.40 above paper: the verdict stands on "
                            "that. Add a row base.");
    strip->grey = (ww_optional){true, c->density};
    strip->insensitive =
        over(WW_STRIP_GREY_LEAST, c->density) || over(c->density, WW_STRIP_GREY_MOST);
    if (!strip->insensitive)
        return WW_OK;
    return ww__print_say(&strip->notes, err,
                         "The covered piece is %.2f above paper; only a grey of 0.15 to 0.40 shows "
                         "a change soon enough. Bare paper stays white under light that greys a "
                         "cloud. Expose the paper to such a grey first, then lay it under the "
                         "safelight.",
                         ww__print_net(c->density));
}

/* Beside a piece that is lighter than the covered one there is no verdict: had the covered one got
 * light, or were rows changed over, no change would show where there is one. */
static ww_status find_lighter(const covered *c, ww_strip *strip, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < strip->n_steps && status == WW_OK; i++) {
        ww_strip_step *step = &strip->step[i];
        if (step->covered || step->state != WW_CELL_VALUE ||
            !over(c->density - step->density, least_change(step, c)))
            continue;
        step->out_of_order = true;
        strip->place = WW_STRIP_DISORDER;
        status = ww__print_say(&strip->notes, err,
                               "Step '%s' is %.2f lighter than the covered piece, and no light "
                               "does that: read both again.",
                               ww__print_show(step->step).text, c->density - step->density);
    }
    return status;
}

/* Whether `b` lay longer under the safelight than `a` and is lighter (`sign` -1: darker). */
static bool differs(const ww_strip_step *a, const ww_strip_step *b, double sign) {
    const covered other = {a->density, a->error, 1};
    return b->time_s > a->time_s && over(sign * (a->density - b->density), least_change(b, &other));
}

/* What the lighter pieces look like. */
static ww_status note_lighter(ww_strip *strip, ww_error *err) {
    bool falls = false, rises = false;
    if (strip->place != WW_STRIP_DISORDER)
        return WW_OK;
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *a = &strip->step[i];
        for (size_t k = 0; k < strip->n_steps; k++) {
            const ww_strip_step *b = &strip->step[k];
            const bool both = !a->covered && !b->covered && a->state == WW_CELL_VALUE &&
                              b->state == WW_CELL_VALUE;
            falls |= both && differs(a, b, 1.0);
            rises |= both && differs(a, b, -1.0);
        }
    }
    if (falls && !rises)
        return ww_notes_add(&strip->notes, err,
                            "The longer a piece lay there, the lighter it reads: it looks as if "
                            "the rows were typed from the other end. Check which piece was the "
                            "covered one.");
    return ww_notes_add(&strip->notes, err,
                        "Unless a reading is off, the covered piece got light itself. Where it "
                        "reads the same again, make the strip anew and keep a piece of it in its "
                        "box.");
}

static ww_status note_late(ww_strip *strip, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < strip->n_steps && status == WW_OK; i++) {
        ww_strip_step *step = &strip->step[i];
        if (step->covered || step->state != WW_CELL_VALUE || step->out_of_order || step->changed ||
            !strip->changed_s.set || step->time_s <= strip->changed_s.value)
            continue;
        step->out_of_order = true;
        status = ww__print_say(&strip->notes, err,
                               "Step '%s' shows no change after a shorter one did: one of the "
                               "two was misread, or lay in shadow. The shorter one counts.",
                               ww__print_show(step->step).text);
    }
    return status;
}

static ww_status note_verdict(ww_strip *strip, ww_error *err) {
    ww_status status = WW_OK;
    if (strip->least_change > WW_STRIP_CHANGE + 1e-9)
        status = ww__print_say(&strip->notes, err,
                               "A change of less than %.2f D would not have shown in these "
                               "readings; read each piece several times.",
                               strip->least_change);
    if (status == WW_OK && strip->holds && strip->high_open)
        status = ww_notes_add(&strip->notes, err,
                              "Nothing is known beyond the longest time that was tested.");
    if (status == WW_OK && strip->place != WW_STRIP_DISORDER)
        status = ww_notes_add(&strip->notes, err,
                              "It holds for this paper, this lamp and filter at this distance. "
                              "Count all the time that a sheet is out of its box, wet or dry.");
    return status;
}

static ww_status judge(const ww_readings *readings, ww_strip *strip, ww_error *err) {
    const covered c = find_covered(strip);
    size_t tested = 0;
    ww_status status;
    for (size_t i = 0; i < strip->n_steps; i++)
        tested += !strip->step[i].covered;
    if (c.n == 0)
        return ww_error_set_at(err, WW_ENODATA, readings->file, 0,
                               "no piece of the strip was kept from the safelight; name its row "
                               "covered, without a time, or make the strip again with one");
    if (tested == 0)
        return ww_error_set_at(err, WW_ENODATA, readings->file, 0,
                               "no piece lay under the safelight; give the seconds of those that "
                               "did");
    status = check_grey(&c, strip, err);
    if (status == WW_OK) {
        mark_changes(&c, strip);
        status = find_lighter(&c, strip, err);
    }
    if (status == WW_OK)
        status = note_lighter(strip, err);
    if (status == WW_OK) {
        find_safe(strip);
        status = note_late(strip, err);
    }
    return status == WW_OK ? note_verdict(strip, err) : status;
}

ww_status ww_strip_safelight(const ww_readings *readings, ww_strip *strip, ww_error *err) {
    ww_strip made = {.kind = WW_STRIP_SAFELIGHT};
    ww_status status;
    assert(readings && strip);
    status = ww__strip_steps_read(readings, false, &made, err);
    if (status == WW_OK)
        status = judge(readings, &made, err);
    if (status != WW_OK) {
        ww_strip_release(&made);
        return status;
    }
    *strip = made;
    return WW_OK;
}
