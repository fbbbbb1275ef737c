/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/control_words.h"
#include "base/escape.h"
#include <math.h>
#include <string.h>

enum { SHOWN = 200 };
#define READING_95 0.02 /* [D] 1.96 of one reading's 0.01, common practice */

/* --- numbers and names ----------------------------------------------------------------------- */

static int decimals_of(double density) {
    const double hundredths = 100.0 * density;
    return fabs(hundredths - round(hundredths)) < 0.001 ? 2 : 3;
}

void ww__words_control_density(ww__text *text, double density) {
    ww__text_add_number(text, density, decimals_of(density));
}

void ww__words_control_deviation(ww__text *text, double deviation) {
    const int decimals = decimals_of(deviation);
    if (deviation > 0.5 * pow(10.0, -decimals))
        ww__text_add(text, "+");
    ww__text_add_number(text, deviation, decimals);
}

static void add_name(ww__text *text, const char *name) {
    char shown[SHOWN];
    ww__text_add(text, ww__escape_message(name, shown, sizeof shown));
}

void ww__words_control_chart(ww__text *text, const ww_control_chart *chart) {
    add_name(text, chart->measure);
    if (chart->kind != WW_CONTROL_SPREAD)
        ww__text_add_format(text, " %s", ww_control_channel_name(chart));
}

void ww__words_control_series(ww__text *text, const ww_control_series *series) {
    add_name(text, series->process);
    if (!*series->machine)
        return;
    ww__text_add(text, ", ");
    add_name(text, series->machine);
}

static void add_rules(ww__text *text, unsigned rules, const char *(*name)(size_t i)) {
    bool first = true;
    for (size_t i = 0; i < WW_CONTROL_RULES; i++) {
        if (!(rules & 1U << i))
            continue;
        ww__text_add_format(text, "%s%s", first ? "" : ", ", name(i));
        first = false;
    }
}

void ww__words_control_rules(ww__text *text, unsigned rules) {
    add_rules(text, rules, ww_control_rule_name);
}

void ww__words_control_marks(ww__text *text, unsigned rules) {
    const unsigned out = WW_CONTROL_RULE_LIMIT;
    add_rules(text, rules & out ? out : rules, ww_control_rule_short);
}

void ww__words_control_steps(ww__text *text, const ww_control_lot *lot) {
    static const char *const of[WW_CONTROL_ROLES] = {"stain and fog", "speed", "", "black"};
    ww__text_add(text, "Measures:");
    for (int i = 0; i < WW_CONTROL_ROLES; i++) {
        const ww_control_role role = (ww_control_role)i;
        if (!lot->role[role])
            continue;
        ww__text_add_format(text, " %s is step ", ww_control_role_name(role));
        add_name(text, lot->role[role]->step);
        ww__text_add_format(text, *of[i] ? " (%s);" : ";%s", of[i]);
    }
    if (lot->role[WW_CONTROL_LD] && lot->role[WW_CONTROL_HD])
        ww__text_add(text, " HD-LD is their difference (contrast); a spread is how far red, green "
                           "and blue are apart in their deviations;");
    ww__text_add(text, " a deviation is the strip less its aim, and the aim is the reference strip "
                       "plus its correction.");
}

/* --- which chart tells most ------------------------------------------------------------------ */

/* Where a point lies between its limits: 0 in their middle, 1 at one of them; 0 without any. */
static double reach_of(const ww_control_chart *chart, const ww_control_point *point) {
    ww_optional lower, upper;
    double reach = 0.0, centre;
    bool user;
    ww_control_limits_of(chart, &lower, &upper, &user);
    centre = user || !chart->has_history ? chart->aim : chart->history.centre;
    if (upper.set && upper.value > centre)
        reach = fmax(reach, (point->value - centre) / (upper.value - centre));
    if (lower.set && lower.value < centre)
        reach = fmax(reach, (centre - point->value) / (centre - lower.value));
    return reach;
}

/* The further down this list, the less it matters; ties go by how far. */
static double weight_of(const ww_control_chart *chart, const ww_control_point *point) {
    const double reach = reach_of(chart, point);
    const double rank = point->rules & WW_CONTROL_RULE_LIMIT                                ? 4e6
                        : point->rules & (WW_CONTROL_RULE_ACTION | WW_CONTROL_RULE_HISTORY) ? 3e6
                        : point->rules                                                      ? 2e6
                        : reach > 0.0                                                       ? 1e6
                                                                                            : 0.0;
    return rank + (rank > 0.0 ? fmin(reach, 1e5) : fabs(point->deviation));
}

const ww_control_chart *ww__words_control_first(const ww_control_lot *lot, size_t at) {
    const ww_control_chart *first = NULL;
    double most = -1.0;
    for (size_t c = 0; c < lot->n_charts; c++) {
        const ww_control_point *point = &lot->chart[c].point[at];
        const double weight = point->read ? weight_of(&lot->chart[c], point) : -1.0;
        if (weight > most) {
            most = weight;
            first = &lot->chart[c];
        }
    }
    return first;
}

/* --- the sentence ---------------------------------------------------------------------------- */

static void add_strip(ww__text *text, const ww_control *control, const ww_control_series *series) {
    const ww_control_strip *strip = series->row[series->row_at].strip;
    ww__text_add_format(text, "strip %ld of %s", strip->number, strip->date);
    if (control->n == 1 && strcmp(series->process, "main") == 0 && !*series->machine)
        return;
    ww__text_add(text, " (");
    ww__words_control_series(text, series);
    ww__text_add(text, ")");
}

static void add_off(ww__text *text, const ww_control_chart *chart, const ww_control_point *point) {
    ww__words_control_chart(text, chart);
    ww__text_add(text, " ");
    ww__words_control_deviation(text, point->deviation);
    ww__text_add(text, chart->kind == WW_CONTROL_SPREAD ? " D" : " D off its aim");
}

/* The limit on the side where the point lies, from the aim. */
static void add_limit(ww__text *text, const ww_control_chart *chart,
                      const ww_control_point *point) {
    ww_optional lower, upper;
    bool user;
    double centre;
    ww_control_limits_of(chart, &lower, &upper, &user);
    centre = user || !chart->has_history ? chart->aim : chart->history.centre;
    const ww_optional one = (upper.set && point->value >= centre) || !lower.set ? upper : lower;
    if (!one.set)
        return;
    ww__text_add(text, ", its limit ");
    ww__words_control_deviation(text, one.value - chart->aim);
}

static void act_of_one(ww__text *text, const ww_control *control, const ww_control_series *series) {
    const ww_control_row *row = &series->row[series->row_at];
    const ww_control_lot *lot = &series->lot[row->lot];
    const ww_control_chart *first = ww__words_control_first(lot, row->at);
    const ww_control_point *point = first ? &first->point[row->at] : NULL;
    if (!first) {
        ww__text_add(text, "Not judged: nothing of ");
        add_strip(text, control, series);
        ww__text_add(text, " was read.");
        return;
    }
    ww__text_add(text, row->state == WW_CONTROL_OUT       ? "Out of control: "
                       : row->state == WW_CONTROL_WARNING ? "Warning: "
                       : row->judged                      ? "In control: "
                                                          : "Not judged yet: ");
    add_strip(text, control, series);
    ww__text_add(text, row->state != WW_CONTROL_IN ? " reads "
                       : row->judged               ? " is within all limits; nearest to one is "
                                                   : " has no limits; furthest is ");
    add_off(text, first, point);
    if (row->judged && (row->state == WW_CONTROL_OUT || !point->rules))
        add_limit(text, first, point);
    if (row->state == WW_CONTROL_WARNING) {
        ww__text_add(text, ": ");
        ww__words_control_rules(text, point->rules);
    }
    ww__text_add(text, ".");
    if (row->state == WW_CONTROL_OUT)
        ww__text_add(text, series->again
                               ? " The strip before it says so too: stop, and find the cause."
                               : " Stop, and confirm with a second strip before you change "
                                 "anything.");
    else if (row->state == WW_CONTROL_WARNING)
        ww__text_add(text, row->judged ? " Within limits: go on, and run the next strip soon."
                                       : " There are no limits yet: run another strip soon.");
}

/* "Out of control: prints. In control: film." */
static void act_of_many(ww__text *text, const ww_control *control) {
    static const char *const word[] = {"In control", "Warning", "Out of control"};
    for (int state = WW_CONTROL_OUT; state >= WW_CONTROL_IN; state--) {
        bool any = false;
        for (size_t i = 0; i < control->n; i++) {
            const ww_control_series *series = &control->series[i];
            const ww_control_row *row = series->any ? &series->row[series->row_at] : NULL;
            if (!row || (int)row->state != state)
                continue;
            if (any)
                ww__text_add(text, "; ");
            else
                ww__text_add_format(text, "%s%s: ", text->n > 0 ? " " : "", word[state]);
            ww__words_control_series(text, series);
            ww__text_add(text, row->judged ? "" : " (no limits yet)");
            any = true;
        }
        if (any)
            ww__text_add(text, ".");
    }
    if (control->state == WW_CONTROL_OUT)
        ww__text_add(text, " Stop what is out, and confirm with a second strip before you change "
                           "anything.");
}

void ww__words_control_act(ww__text *text, const ww_control *control) {
    const ww_control_series *worst = ww_control_worst(control);
    if (!worst)
        ww__text_add(text, "Nothing to judge: no strip counts in this log. Enter one with "
                           "`control add`.");
    else if (control->n > 1)
        act_of_many(text, control);
    else
        act_of_one(text, control, worst);
}

/* --- why ------------------------------------------------------------------------------------- */

static void add_limits(ww__text *text, const ww_control_lot *lot, const ww_control_chart *chart) {
    ww_optional lower, upper;
    bool user;
    ww_control_limits_of(chart, &lower, &upper, &user);
    if (!lower.set && !upper.set) {
        ww__text_add(text, "there are no limits yet");
        return;
    }
    ww__text_add(text, user ? "your limits are " : "limits are ");
    if (lower.set)
        ww__words_control_density(text, lower.value);
    ww__text_add(text, lower.set && upper.set ? " to " : lower.set ? " at least" : "up to ");
    if (upper.set)
        ww__words_control_density(text, upper.value);
    if (!user)
        ww__text_add_format(text, " (the mean of %zu strips +-3 sigma)", lot->found);
}

/* What a reading's own error leaves of it. */
static void add_error(ww__text *text, const ww_control_chart *chart,
                      const ww_control_point *point) {
    ww_optional lower, upper;
    bool user;
    double over = 0.0;
    ww_control_limits_of(chart, &lower, &upper, &user);
    if (upper.set)
        over = fmax(over, point->value - upper.value);
    if (lower.set)
        over = fmax(over, lower.value - point->value);
    if (!(point->rules & WW_CONTROL_RULE_LIMIT) || over >= READING_95)
        return;
    ww__text_add(text, "; it is beyond by ");
    ww__text_add_number(text, over, 3);
    ww__text_add(text, ", which one reading's error (+-0.02) may be: read it again first");
}

void ww__words_control_why(ww__text *text, const ww_control *control) {
    const ww_control_series *worst = ww_control_worst(control);
    size_t at = 0;
    const ww_control_lot *lot = worst ? ww_control_focus(worst, &at) : NULL;
    const ww_control_chart *first = lot ? ww__words_control_first(lot, at) : NULL;
    const ww_control_point *point;
    if (!first)
        return;
    point = &first->point[at];
    if (control->n > 1) {
        ww__words_control_series(text, worst);
        ww__text_add(text, ", ");
        add_strip(text, control, worst);
        ww__text_add(text, ": ");
    }
    ww__words_control_chart(text, first);
    ww__text_add(text, " is ");
    ww__words_control_density(text, point->value);
    ww__text_add(text, " D; ");
    if (first->kind != WW_CONTROL_SPREAD) {
        ww__text_add(text, "its aim is ");
        ww__words_control_density(text, first->aim);
        ww__text_add(text, ", ");
    }
    add_limits(text, lot, first);
    add_error(text, first, point);
    ww__text_add(text, ".");
}
