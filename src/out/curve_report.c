/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "out/curve_words.h"
#include "out/words.h"
#include <math.h>

typedef struct part {
    const ww_curve *curve;
    bool paper;
    ww__report *report;
} part;

static bool has(const ww_channel_curve *channel, ww_figure figure) {
    return channel->present && ww_quantity_present(channel->figure[figure]);
}

static bool any_has(const ww_curve *curve, ww_figure figure) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (has(&curve->channel[c], figure))
            return true;
    return false;
}

/* ----------------------------------------------------------------------------------- tables */

/* Log H of the two points that a figure lies between; false for figures of one point. */
static bool find_ends(const ww_figure_set *set, ww_figure figure, double *from, double *to) {
    switch (figure) {
    case WW_FIGURE_GAMMA:
        *from = set->run_from;
        *to = set->run_to;
        return true;
    case WW_FIGURE_AVERAGE_GRADIENT:
        *from = set->gradient_from;
        *to = set->gradient_to;
        return true;
    case WW_FIGURE_CONTRAST_INDEX:
        *from = set->index_from;
        *to = set->index_to;
        return true;
    case WW_FIGURE_DENSITY_RANGE:
    case WW_FIGURE_EXPOSURE_RANGE:
        *from = set->range_from;
        *to = set->range_to;
        return true;
    case WW_FIGURE_ISO_RANGE:
        *from = set->iso_from;
        *to = set->iso_to;
        return true;
    default:
        return false;
    }
}

static bool has_ends(ww_figure figure) {
    const ww_figure_set none = {.gradient_from = 0.0};
    double from, to;
    return find_ends(&none, figure, &from, &to);
}

/* A range that the last measured step ends is a least value. */
static bool is_least(const ww_channel_curve *channel, ww_figure figure) {
    return (figure == WW_FIGURE_EXPOSURE_RANGE || figure == WW_FIGURE_DENSITY_RANGE) &&
           channel->figure[figure].how == WW_MEASURED;
}

static void add_cells(const part *p, const ww_channel_curve *channel, ww_figure figure) {
    const ww_quantity quantity = channel->figure[figure];
    ww__text cell = WW__TEXT_INIT;
    double from, to;
    if (figure == WW_FIGURE_ISO_RANGE && ww_quantity_present(quantity))
        ww__words_iso_range(&cell, quantity);
    else
        ww__words_interval(&cell, quantity, figure == WW_FIGURE_PAPER_SPEED ? 0 : 2);
    if (quantity.how == WW_EXTRAPOLATED)
        ww__text_add(&cell, " *");
    else if (is_least(channel, figure))
        ww__text_add(&cell, " +");
    ww__report_take(p->report, &cell);
    if (!has_ends(figure))
        return;
    if (ww_quantity_present(quantity) && find_ends(&channel->construction, figure, &from, &to))
        ww__words_range(&cell, from, to, 2);
    else
        ww__text_add(&cell, "-");
    ww__report_take(p->report, &cell);
}

enum { TABLE_FIGURES = 4 };

static bool has_one(const ww_channel_curve *channel, const ww_figure figure[TABLE_FIGURES]) {
    for (int i = 0; i < TABLE_FIGURES && figure[i] != WW_FIGURE_COUNT; i++)
        if (has(channel, figure[i]))
            return true;
    return false;
}

/* One table of a row a channel; figures that no channel has take no column, channels without a
 * curve that have none of them no row. */
static void add_table(const part *p, const char *title, const ww_figure figure[TABLE_FIGURES]) {
    char align[1 + 2 * TABLE_FIGURES + 1] = "l";
    ww__heading heading[1 + 2 * TABLE_FIGURES] = {{"", ""}};
    size_t columns = 1;
    for (int i = 0; i < TABLE_FIGURES && figure[i] != WW_FIGURE_COUNT; i++) {
        if (!any_has(p->curve, figure[i]))
            continue;
        align[columns] = 'r';
        heading[columns++] =
            (ww__heading){ww_figure_heading(figure[i], p->paper), ww_figure_unit(figure[i])};
        if (has_ends(figure[i])) {
            align[columns] = 'e';
            heading[columns++] = (ww__heading){"between", "log H"};
        }
    }
    if (columns == 1)
        return;
    ww__report_table(p->report, title, columns, align);
    ww__report_headings(p->report, heading);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &p->curve->channel[c];
        if (!channel->present || !(channel->fitted || has_one(channel, figure)))
            continue;
        ww__report_item(p->report, ww_channel_name((ww_channel)c));
        for (int i = 0; i < TABLE_FIGURES && figure[i] != WW_FIGURE_COUNT; i++)
            if (any_has(p->curve, figure[i]))
                add_cells(p, channel, figure[i]);
    }
}

static void add_tables(const part *p) {
    static const ww_figure slopes[] = {WW_FIGURE_GAMMA, WW_FIGURE_AVERAGE_GRADIENT,
                                       WW_FIGURE_CONTRAST_INDEX, WW_FIGURE_COUNT};
    static const ww_figure densities[] = {WW_FIGURE_BASE_FOG, WW_FIGURE_DMAX,
                                          WW_FIGURE_DENSITY_RANGE, WW_FIGURE_COUNT};
    static const ww_figure film[] = {WW_FIGURE_SPEED_POINT, WW_FIGURE_TOE, WW_FIGURE_SHOULDER,
                                     WW_FIGURE_EXPOSURE_RANGE};
    static const ww_figure paper[] = {WW_FIGURE_ISO_RANGE, WW_FIGURE_PAPER_SPEED,
                                      WW_FIGURE_SPEED_POINT, WW_FIGURE_COUNT};
    static const ww_figure paper_parts[] = {WW_FIGURE_TOE, WW_FIGURE_SHOULDER,
                                            WW_FIGURE_EXPOSURE_RANGE, WW_FIGURE_COUNT};
    add_table(p, "Contrast (95 % intervals)", slopes);
    add_table(p, "Densities", densities);
    if (p->paper) {
        add_table(p, "Range and speed", paper);
        add_table(p, "Parts of the curve", paper_parts);
    } else {
        add_table(p, "Exposures", film);
    }
}

/* Meaning of the marks that stand in the tables. */
static void add_marks(const part *p) {
    bool extrapolated = false, least = false;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        for (int f = 0; f < WW_FIGURE_COUNT; f++) {
            const ww_channel_curve *channel = &p->curve->channel[c];
            if (!has(channel, (ww_figure)f))
                continue;
            extrapolated |= channel->figure[f].how == WW_EXTRAPOLATED;
            least |= is_least(channel, (ww_figure)f);
        }
    ww__report_list(p->report, "Marks", false);
    if (extrapolated)
        ww__report_item(p->report, "What is marked * is extrapolated beyond the measured steps.");
    if (least)
        ww__report_item(p->report,
                        "What is marked + is at least that: the last measured step ends it.");
}

/* ------------------------------------------------------------------------------------- lists */

static void add_speed(const part *p) {
    const ww_speed *speed = &p->curve->speed;
    ww__text item = WW__TEXT_INIT;
    ww__report_list(p->report, "Speed", false);
    if (speed->standard == WW_SPEED_NONE)
        return;
    ww__text_add_format(&item, "%s, exactly ", ww_speed_standard_name(speed->standard));
    ww__words_interval(&item, speed->exact, 1);
    ww__text_add(&item, ".");
    ww__report_take(p->report, &item);
    if (speed->density_difference.set) {
        ww__text_add(&item, "Density gains ");
        ww__text_add_number(&item, speed->density_difference.value, 2);
        ww__text_add(&item,
                     " D over 1.30 log H from the speed point; ISO 6 asks for 0.75 to 0.85 D: ");
        ww__text_add(&item, speed->condition_met
                                ? "met."
                                : "not met, so this is an exposure index, not an ISO speed.");
        ww__report_take(p->report, &item);
    }
    if (speed->delta_x.set) {
        ww__text_add(&item, "By the Delta-X criterion, which asks for no one contrast: ");
        ww__text_add_number(&item, speed->delta_x.value, 0);
        ww__text_add(&item, ".");
        ww__report_take(p->report, &item);
    }
}

/* "log H -0.35" on film, "0.74 D" on paper. */
static void add_place(const part *p, ww__text *text, double from, double to) {
    ww__text_add(text, p->paper ? "" : "log H ");
    ww__words_range(text, from, to, 2);
    ww__text_add(text, p->paper ? " D" : "");
}

static void add_crossover(const part *p) {
    const ww_crossover *crossover = &p->curve->crossover;
    ww__text item = WW__TEXT_INIT;
    ww__report_list(p->report, "Crossover", crossover->found);
    if (!ww_quantity_present(crossover->worst_cc))
        return;
    ww__text_add_format(&item, "%s departs from a course parallel to green by ",
                        ww_channel_name(crossover->channel));
    ww__words_interval(&item, crossover->worst_cc, 1);
    ww__text_add(&item, " CC at most, at ");
    add_place(p, &item, crossover->at, crossover->at);
    ww__text_add(&item, "; over the picture range, ");
    add_place(p, &item, crossover->from, crossover->to);
    ww__text_add(&item, ", with middle grey at ");
    add_place(p, &item, crossover->middle, crossover->middle);
    ww__text_add(&item, crossover->found ? ". No filter takes this away."
                                         : ". That is within its doubt: no crossover was found.");
    ww__report_take(p->report, &item);
}

static const char *moved_phrase(ww_cause cause) {
    return cause == WW_CAUSE_SKIPPED
               ? "likely a step was skipped, so that all later readings moved up; the curve has "
                 "them one step further on"
               : "likely the step before it was read twice, so that all later readings moved "
                 "down; the curve has them one step back";
}

static const char *cause_phrase(ww_cause cause) {
    switch (cause) {
    case WW_CAUSE_SLIP:
        return "likely misread or mistyped, density or exposure";
    case WW_CAUSE_SWAPPED:
        return "likely swapped with its neighbour";
    case WW_CAUSE_SKIPPED:
        return "likely a step was skipped, so that all later readings moved up";
    case WW_CAUSE_DECIMAL_POINT:
        return "likely a misplaced decimal point";
    case WW_CAUSE_DUST:
        return "likely dust or a scratch";
    case WW_CAUSE_UNKNOWN:
        break;
    }
    return "cause unknown";
}

/* Readings that were moved along log H are in the curve: of these it is not said that they did not
 * move it. */
static const char *suspects_title(const ww_curve *curve) {
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &curve->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_suspects; i++)
            if (ww__curve_suspect_moved(channel, &channel->suspect[i]))
                return "Suspect readings: read them again";
    }
    return "Suspect readings, which did not move the result: read them again";
}

static void add_suspect(const part *p, ww_channel name, const ww_suspect *suspect) {
    const ww_channel_curve *channel = &p->curve->channel[name];
    const ww_curve_point *point = &channel->point[suspect->point];
    const bool moved = ww__curve_suspect_moved(channel, suspect);
    char step[64];
    ww__text item = WW__TEXT_INIT;
    ww__text_add(&item, "step ");
    ww__text_add(&item, ww__escape_message(point->step, step, sizeof step));
    ww__text_add_format(&item, ", %s: %.2f D read, %.2f D %s the curve%s; %s.",
                        ww_channel_name(name), point->density, fabs(suspect->residual),
                        suspect->residual < 0 ? "under" : "above",
                        moved ? " at its own exposure" : "",
                        moved ? moved_phrase(suspect->cause) : cause_phrase(suspect->cause));
    ww__report_take(p->report, &item);
}

static void add_suspects(const part *p) {
    ww__report_list(p->report, suspects_title(p->curve), true);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &p->curve->channel[c];
        for (size_t i = 0; channel->present && i < channel->n_suspects; i++)
            add_suspect(p, (ww_channel)c, &channel->suspect[i]);
    }
}

static void add_left_out(const part *p) {
    ww__report_list(p->report, "Left out of the curve", false);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++) {
        const ww_channel_curve *channel = &p->curve->channel[c];
        ww__text item = WW__TEXT_INIT;
        size_t over = 0, cut = 0;
        for (size_t i = 0; channel->present && i < channel->n_points; i++) {
            over += channel->point[i].state == WW_CELL_OVER;
            cut += channel->point[i].state == WW_CELL_VALUE && channel->point[i].cut;
        }
        if (over > 0) {
            ww__text_add_format(&item, "%s: %zu %s beyond the instrument.",
                                ww_channel_name((ww_channel)c), over,
                                over == 1 ? "reading" : "readings");
            ww__report_take(p->report, &item);
        }
        if (cut > 0) {
            ww__text_add_format(&item, "%s: %zu %s past the exposure at which density falls again.",
                                ww_channel_name((ww_channel)c), cut,
                                cut == 1 ? "reading" : "readings");
            ww__report_take(p->report, &item);
        }
    }
}

void ww__curve_report(const ww_curve *curve, ww__report *report) {
    const part p = {curve, ww__curve_is_paper(curve), report};
    ww__text sentence = WW__TEXT_INIT;
    ww__words_curve_act(&sentence, curve);
    ww__report_act(report, &sentence);
    ww__words_curve_why(&sentence, curve);
    ww__report_why(report, &sentence);
    add_suspects(&p);
    add_tables(&p);
    add_marks(&p);
    add_speed(&p);
    add_crossover(&p);
    add_left_out(&p);
    ww__report_notes(report, &curve->notes);
}
