/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/control_parts.h"
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { SHOWN = 200 };

/* Which series a sentence is of, where there are several: "of 'prints': ". */
typedef struct speaker {
    char of[SHOWN];
    ww_notes *notes;
} speaker;

static speaker speaker_of(ww_control *control, const ww_control_series *series) {
    speaker s = {"", &control->notes};
    char process[SHOWN / 3], machine[SHOWN / 3];
    if (control->n < 2)
        return s;
    ww__escape_message(series->process, process, sizeof process);
    ww__escape_message(series->machine, machine, sizeof machine);
    snprintf(s.of, sizeof s.of, "%s%s%s: ", process, *machine ? ", " : "", machine);
    return s;
}

static bool has_user_limits(const ww_control_lot *lot) {
    for (size_t c = 0; c < lot->n_charts; c++)
        if (lot->chart[c].below.set || lot->chart[c].above.set)
            return true;
    return false;
}

static ww_status say_baseline(const speaker *s, const ww_control_lot *lot, ww_error *err) {
    if (lot->found >= lot->wanted)
        return WW_OK;
    return ww_notes_add(
        s->notes, err, "%sNo limits from history yet: %zu of the %zu strips that make them. %s",
        s->of, lot->found, lot->wanted,
        has_user_limits(lot) ? "Your own limits decide until then, and after."
                             : "Until then deviations from the aim are told and not judged; limits "
                               "of your own (--limits) would judge them now.");
}

/* A baseline that lies beyond the limits that it makes was no quiet time. */
static ww_status say_unquiet(const speaker *s, const ww_control_lot *lot, ww_error *err) {
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_chart *chart = &lot->chart[c];
        for (size_t i = 0; i < lot->n && chart->has_history; i++)
            if (lot->in_baseline[i] &&
                (chart->point[i].rules & (WW_CONTROL_RULE_HISTORY | WW_CONTROL_RULE_LIMIT)) &&
                (chart->point[i].value < chart->history.lower ||
                 chart->point[i].value > chart->history.upper))
                return ww_notes_add(s->notes, err,
                                    "%sStrip %ld is one of the baseline and lies beyond the limits "
                                    "that it makes: find its cause; if there is one, take it out "
                                    "(control delete).",
                                    s->of, lot->strip[i]->number);
    }
    return WW_OK;
}

static ww_status say_least(const speaker *s, const ww_control_lot *lot, ww_error *err) {
    size_t n = 0;
    for (size_t c = 0; c < lot->n_charts; c++)
        n += lot->chart[c].has_history && lot->chart[c].history.least;
    if (n == 0)
        return WW_OK;
    return ww_notes_add(s->notes, err,
                        "%sOn %zu of %zu charts the baseline scatters less than readings to 0.01 "
                        "can: their sigma is taken as %.3f D.",
                        s->of, n, lot->n_charts, WW_CONTROL_SIGMA_LEAST);
}

/* One strip in how many alarms on one of n charts, where on each one in `one` does. */
static double of_all(double one, size_t n) {
    return 1.0 / (1.0 - pow(1.0 - 1.0 / one, (double)n));
}

static ww_status say_false(const speaker *s, const ww_control_lot *lot, ww_error *err) {
    double limit, runs;
    char all[200] = "";
    size_t n = 0;
    for (size_t c = 0; c < lot->n_charts; c++)
        n += lot->chart[c].has_history;
    if (n == 0)
        return WW_OK;
    ww_control_false(lot->found, &limit, &runs);
    if (n > 1)
        snprintf(
            all, sizeof all,
            "; where each goes its own way, one strip in %.0f is falsely beyond a limit on one "
            "or more of them, and one in %.1f completes a run",
            of_all(limit, n), of_all(runs, n));
    return ww_notes_add(
        s->notes, err,
        "%sFalse alarms: of a process that does not change, with limits made of "
        "%zu strips, about one strip in %.0f is beyond a limit on one chart and "
        "one in %.0f completes a run; were they known for sure, one in 370 and one in "
        "60. Charts here: %zu%s. A warning alone is a reason to look, not to act, and a limit "
        "passed on one chart asks for a second strip first.",
        s->of, lot->found, limit, runs, n, all);
}

static ww_status say_roles(const speaker *s, const ww_control_lot *lot, ww_error *err) {
    if (lot->role[WW_CONTROL_LD] && lot->role[WW_CONTROL_HD])
        return WW_OK;
    return ww_notes_add(s->notes, err,
                        "%sThe reference does not say which steps are LD and HD, so that speed and "
                        "contrast are not told apart: label its steps so, or name them in its "
                        "column tone (D-min, LD, HD, D-max).",
                        s->of);
}

static ww_status say_limits(const speaker *s, const ww_control *control,
                            const ww_control_series *series, const ww_control_lot *lot,
                            ww_error *err) {
    const ww_control_limits *set = NULL;
    char shown[SHOWN];
    for (size_t i = 0; i < control->log->n_limits; i++)
        if (strcmp(control->log->limits[i].process, series->process) == 0)
            set = &control->log->limits[i];
    for (size_t i = 0; set && i < set->n; i++) {
        const ww_control_limit *limit = &set->limit[i];
        bool used = false;
        for (size_t c = 0; c < lot->n_charts; c++)
            used =
                used ||
                (strcasecmp(lot->chart[c].measure, limit->measure) == 0 &&
                 (limit->channel == WW_CHANNEL_COUNT || limit->channel == lot->chart[c].channel));
        if (!used)
            return ww_notes_add(s->notes, err,
                                "%sYour limit of '%s' is of nothing that is charted here.", s->of,
                                ww__escape_message(limit->measure, shown, sizeof shown));
    }
    return WW_OK;
}

/* --- one lot after another ------------------------------------------------------------------- */

/* The day of a date, which may have a time. */
static bool same_day(const char *a, const char *b) {
    enum { DAY = 10 };
    return strncmp(a, b, DAY) == 0;
}

static const ww_control_chart *same_chart(const ww_control_lot *lot,
                                          const ww_control_chart *chart) {
    for (size_t c = 0; c < lot->n_charts; c++)
        if (strcmp(lot->chart[c].measure, chart->measure) == 0 &&
            lot->chart[c].channel == chart->channel)
            return &lot->chart[c];
    return NULL;
}

/* Mean and scatter of the new lot's deviation less the old one's, of strips of one day. */
static size_t compare_lots(const ww_control_lot *old, const ww_control_chart *a,
                           const ww_control_lot *new, const ww_control_chart *b, double *mean,
                           double *sd) {
    double sum = 0.0, squares = 0.0;
    size_t n = 0, from = 0;
    for (size_t i = 0; i < new->n; i++)
        for (size_t k = from; k < old->n; k++) {
            double difference;
            if (!same_day(old->strip[k]->date, new->strip[i]->date) || !a->point[k].read ||
                !b->point[i].read)
                continue;
            difference = b->point[i].deviation - a->point[k].deviation;
            sum += difference;
            squares += difference * difference;
            n++;
            from = k + 1; /* each strip in one pair */
            break;
        }
    *mean = n > 0 ? sum / (double)n : 0.0;
    *sd = n > 1 ? sqrt(fmax(0.0, squares - sum * *mean) / (double)(n - 1)) : 0.0;
    return n;
}

/*
 * Strips of both lots that ran on the same days tell how far the two references are apart: what
 * the new lot reads besides is not the process.
 */
static ww_status say_crossover(const speaker *s, const ww_control_lot *old,
                               const ww_control_lot *new, ww_error *err) {
    enum { PAIRS = 2 };
    const double confidence = 1.96, least = 0.01;
    ww_status status = WW_OK;
    size_t most = 0, told = 0;
    for (size_t c = 0; c < new->n_charts &&status == WW_OK; c++) {
        const ww_control_chart *b = &new->chart[c], *a = same_chart(old, b);
        double mean, sd, doubt;
        const size_t n = a ? compare_lots(old, a, new, b, &mean, &sd) : 0;
        most = n > most ? n : most;
        if (n < PAIRS || b->kind == WW_CONTROL_SPREAD)
            continue;
        doubt = confidence * fmax(sd, WW_CONTROL_SIGMA_LEAST) / sqrt((double)n);
        if (fabs(mean) < least || fabs(mean) < doubt)
            continue;
        told++;
        status = ww_notes_add(
            s->notes, err,
            "%sWhere both lots ran together, on %zu days, the new one reads %s %+.3f +-%.3f D more "
            "off its aim in %s: that much is the reference's, not the process's.",
            s->of, n, b->measure, mean, ww_doubt_shown(doubt, 0.001), ww_channel_name(b->channel));
    }
    if (status == WW_OK && told == 0)
        status = most < PAIRS
                     ? ww_notes_add(s->notes, err,
                                    "%sA new lot's centre stands by itself. Strips of both lots "
                                    "run together on some days would tell whether their references "
                                    "agree.",
                                    s->of)
                     : ww_notes_add(s->notes, err,
                                    "%sWhere both lots ran together, on up to %zu days, their "
                                    "references agree within what the strips can tell.",
                                    s->of, most);
    return status;
}

static ww_status say_deleted(const speaker *s, const ww_control_series *series, ww_error *err) {
    size_t n = 0;
    for (size_t i = 0; i < series->n_rows; i++)
        n += series->row[i].strip->deleted != NULL;
    if (n == 0)
        return WW_OK;
    return ww_notes_add(s->notes, err,
                        "%s%zu strip%s taken out and do%s not count; `control list --deleted` "
                        "says why.",
                        s->of, n, n == 1 ? " was" : "s were", n == 1 ? "es" : "");
}

static ww_status say_series(ww_control *control, const ww_control_series *series, ww_error *err) {
    const speaker s = speaker_of(control, series);
    size_t at;
    const ww_control_lot *lot = ww_control_focus(series, &at);
    ww_status status = say_deleted(&s, series, err);
    if (!lot)
        return status;
    if (status == WW_OK)
        status = say_baseline(&s, lot, err);
    if (status == WW_OK)
        status = say_unquiet(&s, lot, err);
    if (status == WW_OK && lot > series->lot)
        status = say_crossover(&s, lot - 1, lot, err);
    if (status == WW_OK)
        status = say_roles(&s, lot, err);
    if (status == WW_OK)
        status = say_limits(&s, control, series, lot, err);
    if (status == WW_OK)
        status = say_least(&s, lot, err);
    return status == WW_OK ? say_false(&s, lot, err) : status;
}

ww_status ww__control_notes(ww_control *control, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < control->n && status == WW_OK; i++)
        status = say_series(control, &control->series[i], err);
    return status;
}
