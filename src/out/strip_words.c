/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/strip_words.h"
#include "base/escape.h"
#include "out/words.h"
#include <math.h>

static const double minute_s = 60.0, hour_s = 3600.0;

double ww__words_strip_timer(const ww_strip *strip) {
    return strip->timer_step_s > 0.0 ? strip->timer_step_s : 1.0;
}

/* "300 s (5 min)": under a safelight minutes are counted, and of any time hours. */
static void add_time(ww__text *text, const ww_strip *strip, double time_s, const char *before,
                     const char *after) {
    const bool hours = time_s >= 2.0 * hour_s;
    const double unit_s = hours ? hour_s : minute_s;
    ww__words_seconds(text, time_s, ww__words_strip_timer(strip));
    if (!hours && (strip->kind != WW_STRIP_SAFELIGHT || time_s < 2.0 * minute_s))
        return;
    ww__text_add(text, before);
    ww__text_add_number(text, time_s / unit_s, fmod(time_s, unit_s) == 0.0 ? 0 : 1);
    ww__text_add_format(text, " %s%s", hours ? "h" : "min", after);
}

void ww__words_strip_time(ww__text *text, const ww_strip *strip, double time_s) {
    add_time(text, strip, time_s, " (", ")");
}

void ww__words_strip_bare(ww__text *text, const ww_strip *strip, double time_s) {
    ww__words_seconds(text, time_s, ww__words_strip_timer(strip));
    if (text->n > 2)
        text->bytes[text->n -= 2] = '\0';
}

/* An aim stands as it was given, a reading as readings do. */
static void add_aim(ww__text *text, const ww_strip *strip) {
    ww__text_add_number(text, strip->aim.value, ww__text_decimals(strip->aim.value));
}

static void add_density(ww__text *text, double density) {
    ww__text_add_number(text, density, 2);
}

/* --- the act ---------------------------------------------------------------------------------- */

/* "; trust +-1/6 stop (12.9 to 15.8 s)" */
static void add_trust(ww__text *text, const ww_strip *strip) {
    const ww_quantity best = strip->best;
    ww__text_add(text, "; ");
    if (strip->low_open || strip->high_open) {
        ww__text_add(text, "the interval runs from ");
        if (strip->low_open)
            ww__text_add(text, "the strip's lighter end, or beyond,");
        else
            ww__words_strip_time(text, strip, best.low);
        ww__text_add(text, " to ");
        if (strip->high_open)
            ww__text_add(text, "its darker end, or beyond");
        else
            ww__words_strip_time(text, strip, best.high);
        return;
    }
    ww__text_add(text, "trust +-");
    ww__words_doubt(text, fmax(log2(best.high / best.value), log2(best.value / best.low)));
    ww__text_add(text, " (");
    ww__words_strip_bare(text, strip, best.low);
    ww__text_add(text, " to ");
    ww__words_strip_time(text, strip, best.high);
    ww__text_add(text, ")");
}

static const ww_strip_step *find_end(const ww_strip *strip, bool darkest) {
    const ww_strip_step *end = NULL;
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (step->state == WW_CELL_VALUE && !step->out_of_order && !step->covered &&
            (!end || (darkest ? step->time_s > end->time_s : step->time_s < end->time_s)))
            end = step;
    }
    return end;
}

static void add_end(ww__text *text, const ww_strip *strip, bool darkest, const char *what) {
    const ww_strip_step *end = find_end(strip, darkest);
    ww__text_add(text, what);
    if (!end)
        return;
    ww__text_add(text, ", ");
    add_density(text, end->density);
    ww__text_add(text, " at ");
    ww__words_strip_time(text, strip, end->time_s);
}

/* Of the whole strip, whatever was asked of it. */
static const char turned[] =
    "this strip lightens with time throughout: turned round? Give the times "
    "from its other end";

static void add_no_time(ww__text *text, const ww_strip *strip) {
    ww__text_add(text, "No time: ");
    if (strip->place == WW_STRIP_TURNED) {
        ww__text_add(text, turned);
        return;
    }
    add_aim(text, strip);
    ww__text_add(text, " above paper ");
    switch (strip->place) {
    case WW_STRIP_LIGHT:
        add_end(text, strip, true, "is darker than the darkest step");
        break;
    case WW_STRIP_DARK:
        add_end(text, strip, false, "is lighter than the lightest step");
        break;
    case WW_STRIP_NO_REACH:
        add_end(text, strip, true, "is darker than this paper's black");
        break;
    case WW_STRIP_INSIDE: /* and one piece alone */
        add_end(text, strip, true, "is what the one piece reads, as far as can be told");
        ww__text_add(text, ", and one does not tell how density rises");
        break;
    case WW_STRIP_DISORDER:
        ww__text_add(text, "lies among steps that are out of order; read those again");
        break;
    case WW_STRIP_TURNED: /* said above */
        break;
    }
}

/* The step at the strip's end, where the aim lies beyond it and within error. */
static const ww_strip_step *find_nearest(const ww_strip *strip) {
    if (strip->lighter.set == strip->darker.set)
        return NULL;
    return &strip->step[(size_t)(strip->lighter.set ? strip->lighter.value : strip->darker.value)];
}

/* "14.3 s prints 0.10 above paper" */
static void add_reading(ww__text *text, const ww_strip *strip) {
    const ww_strip_step *nearest = find_nearest(strip);
    ww__words_strip_time(text, strip, strip->best.value);
    if (nearest) {
        ww__text_add(text, " reads ");
        add_density(text, nearest->density);
        ww__text_add(text, ", the nearest to ");
    } else {
        ww__text_add(text, " prints ");
    }
}

static void add_read(ww__text *text, const ww_strip *strip) {
    if (!strip->holds) {
        add_no_time(text, strip);
    } else {
        if (strip->enough) {
            ww__words_strip_time(text, strip, strip->best.value);
            ww__text_add(text, " is enough: ");
        }
        if (strip->plateau) {
            ww__words_strip_bare(text, strip, strip->plateau_from_s);
            ww__text_add(text, " to ");
            ww__words_strip_time(text, strip, strip->plateau_to_s);
            ww__text_add(text, " all print ");
        } else {
            add_reading(text, strip);
        }
        add_aim(text, strip);
        ww__text_add(text, " above paper");
        ww__text_add(text, strip->plateau ? ", as far as can be told" : "");
        add_trust(text, strip);
    }
    ww__words_strip_next(text, strip);
}

static void add_proof(ww__text *text, const ww_strip *strip) {
    if (strip->holds) {
        ww__text_add(text, "Standard proof time ");
        ww__words_strip_time(text, strip, strip->best.value);
        ww__text_add(text, ", the least that prints clear film within 0.05 of maximum black");
        add_trust(text, strip);
    } else if (strip->place == WW_STRIP_DARK) {
        add_end(text, strip, false, "No proof time: the lightest step is black already");
    } else if (strip->place == WW_STRIP_TURNED) {
        ww__text_add_format(text, "No proof time: %s", turned);
    } else if (strip->place == WW_STRIP_DISORDER) {
        ww__text_add(text, "No proof time: it lies among steps that are out of order; read those "
                           "again");
    } else {
        add_end(text, strip, true, "No proof time: maximum black was not reached");
    }
    ww__words_strip_next(text, strip);
}

/* Why a safelight strip tells nothing, and what it shows all the same. */
static void add_no_verdict(ww__text *text, const ww_strip *strip) {
    if (strip->insensitive) {
        ww__text_add(text, "No verdict: the covered grey, ");
        add_density(text, fmax(0.0, strip->grey.value));
        ww__text_add(text, " above paper, is not one that shows a change");
    } else {
        ww__text_add(text, "No verdict: a piece that lay under the safelight is lighter than the "
                           "covered one, so one of the two is not what it is told to be");
    }
    if (strip->changed_s.set) {
        ww__text_add(text, "; even so, ");
        ww__words_strip_time(text, strip, strip->changed_s.value);
        ww__text_add(text, strip->insensitive ? " left one" : " left a change");
    }
}

static void add_safelight(ww__text *text, const ww_strip *strip) {
    const ww_optional changed = strip->changed_s;
    if (strip->holds) {
        ww__words_strip_time(text, strip, strip->best.value);
        ww__text_add(text, " under this safelight left no change");
        ww__text_add(text, changed.set ? "; one shows at " : ", and that is the longest tested");
        if (changed.set) {
            ww__words_strip_time(text, strip, changed.value);
            ww__text_add(text, " and begins somewhere between");
        }
    } else if (strip->insensitive || strip->place == WW_STRIP_DISORDER) {
        add_no_verdict(text, strip);
    } else {
        ww__text_add(text, "This safelight is not safe: the shortest time tested, ");
        ww__words_strip_time(text, strip, changed.value);
        ww__text_add(text, ", left a change");
    }
    ww__text_add(text, ".");
}

void ww__words_strip_act(ww__text *text, const ww_strip *strip) {
    switch (strip->kind) {
    case WW_STRIP_PLAN:
        ww__words_strip_series(text, strip);
        break;
    case WW_STRIP_READ:
        add_read(text, strip);
        break;
    case WW_STRIP_PROOF:
        add_proof(text, strip);
        break;
    case WW_STRIP_SAFELIGHT:
        add_safelight(text, strip);
        break;
    }
}

/* --- why -------------------------------------------------------------------------------------- */

static void add_step(ww__text *text, const ww_strip *strip, const ww_strip_step *step) {
    char shown[64];
    ww__text_add_format(text, "step %s (", ww__escape_message(step->step, shown, sizeof shown));
    add_time(text, strip, step->time_s, ", ", "");
    ww__text_add(text, ") reads ");
    if (step->state == WW_CELL_VALUE)
        add_density(text, step->density);
    else
        ww__text_add(text, "over");
}

static void add_neighbours(ww__text *text, const ww_strip *strip) {
    const ww_strip_step *nearest = find_nearest(strip);
    if (!strip->lighter.set && !strip->darker.set)
        return;
    ww__text_add(text, ww__text_string(text)[0] ? "; " : "Why: ");
    ww__text_add(text, strip->white.set && !strip->black.set ? "above paper, " : "");
    if (nearest) {
        add_step(text, strip, nearest);
        ww__text_add_format(text, ", the %s, and the aim is that within error",
                            strip->lighter.set ? "darkest" : "lightest");
        return;
    }
    add_step(text, strip, &strip->step[(size_t)strip->lighter.value]);
    ww__text_add(text, ", ");
    add_step(text, strip, &strip->step[(size_t)strip->darker.value]);
}

static void add_black(ww__text *text, const ww_strip *strip) {
    size_t n = 0;
    for (size_t i = 0; i < strip->n_steps; i++)
        n += strip->step[i].black;
    ww__text_add(text, "Why: maximum black is ");
    add_density(text, strip->black.value);
    ww__text_add(text, strip->white.set ? " above paper, " : " D, ");
    ww__text_add_format(text, n == 1 ? "the darkest step" : "the mean of the %zu darkest steps", n);
    ww__text_add(text, strip->reversed ? ", before reversal (solarised)" : "");
}

/* The piece that lay under the safelight so long, changed or not. */
static const ww_strip_step *find_lain(const ww_strip *strip, double time_s, bool changed) {
    for (size_t i = 0; i < strip->n_steps; i++) {
        const ww_strip_step *step = &strip->step[i];
        if (!step->covered && step->changed == changed && step->time_s == time_s)
            return step;
    }
    return NULL;
}

/* What the verdict hangs on: the piece that it names as safe, and the first that changed. */
static void add_changes(ww__text *text, const ww_strip *strip) {
    const ww_strip_step *covered = NULL, *safe = NULL, *changed = NULL;
    for (size_t i = 0; i < strip->n_steps && !covered; i++)
        if (strip->step[i].covered && strip->step[i].state == WW_CELL_VALUE)
            covered = &strip->step[i];
    if (!covered)
        return;
    if (strip->holds)
        safe = find_lain(strip, strip->best.value, false);
    if (strip->changed_s.set)
        changed = find_lain(strip, strip->changed_s.value, true);
    if (!safe && !changed)
        safe = find_end(strip, true);
    ww__text_add_format(text, "Why: %sthe covered piece reads ",
                        strip->white.set ? "above paper, " : "");
    add_density(text, covered->density);
    if (safe) {
        ww__text_add(text, ", ");
        add_step(text, strip, safe);
    }
    if (changed) {
        ww__text_add(text, ", ");
        add_step(text, strip, changed);
    }
    ww__text_add(text, "; over ");
    ww__text_add_number(text, fmax(strip->least_change, WW_STRIP_CHANGE), 2);
    ww__text_add(text, " more counts as a change");
}

void ww__words_strip_why(ww__text *text, const ww_strip *strip) {
    const ww_strip_series *series = &strip->series;
    if (strip->kind == WW_STRIP_PLAN) {
        ww__text_add(text, "Why: equal stops are equal steps in the print, and these span ");
        ww__words_stops(text, series->step_stops * (double)(series->n - 1), false);
        ww__text_add(text, ".");
        return;
    }
    if (strip->kind == WW_STRIP_SAFELIGHT)
        add_changes(text, strip);
    if (strip->black.set)
        add_black(text, strip);
    if (strip->kind == WW_STRIP_READ && strip->enough)
        ww__text_add(text, "Why: from there on one black cannot be told from another");
    add_neighbours(text, strip);
    if (ww__text_string(text)[0])
        ww__text_add(text, ".");
}

void ww__words_strip_remark(ww__text *text, const ww_strip_step *step) {
    const struct {
        bool is;
        const char *word;
    } remarks[] = {
        {step->covered, "covered"},   {step->out_of_order, "out of order"},
        {step->evened, "evened out"}, {step->suspect, "suspect"},
        {step->black, "black"},       {step->changed, "changed"},
    };
    bool any = false;
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0]; i++)
        if (remarks[i].is) {
            ww__text_add_format(text, "%s%s", any ? ", " : "", remarks[i].word);
            any = true;
        }
}
