/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_miss.h"
#include "base/escape.h"
#include "out/words.h"
#include <math.h>

static const double log_stop = 0.30102999566398119521; /* log10 2 */
static const double half_95 = 1.959963984540054;       /* half-width of 95 % of a normal, in sd */

/* "Kept for gloss, grade 2: +0.30 stop at the tone that sets the time (+-0.04), by 2 prints." */
static void say_learned(const ww_print_offset *offset, ww__report *report) {
    ww__text item = WW__TEXT_INIT;
    char shown[64];
    ww__text_add(&item, "Kept for ");
    ww__words_material(&item, offset->paper, offset->contrast, "this paper");
    if (offset->lot && *offset->lot)
        ww__text_add_format(&item, ", lot %s",
                            ww__escape_message(offset->lot, shown, sizeof shown));
    if (offset->scale.set) {
        ww__text_add(&item, ", magnification ");
        ww__text_add_exact(&item, offset->scale.value);
    }
    ww__text_add_format(&item, ": %+.2f stop at the tone that sets the time (+-%.2f)",
                        offset->log_h / log_stop, half_95 * offset->sd / log_stop);
    if (offset->range != 0.0)
        ww__text_add_format(&item, ", and a range %.2f log H %s", fabs(offset->range),
                            offset->range > 0.0 ? "shorter" : "longer");
    ww__text_add_format(&item, ", by %zu %s.", offset->prints,
                        offset->prints == 1 ? "print" : "prints");
    ww__report_take(report, &item);
}

void ww__print_miss_say(const ww_print_miss *miss, ww__report *report) {
    ww__text item = WW__TEXT_INIT;
    if (!miss)
        return;
    ww__report_list(report, "The last print", false);
    ww__text_add(&item, miss->why);
    ww__report_take(report, &item);
    if (miss->learned)
        say_learned(&miss->offset, report);
    for (size_t i = 0; i < miss->notes.n; i++)
        ww__report_item(report, miss->notes.text[i]);
}

static void add_density(double density, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    ww__text_add_number(&cell, density, 2);
    ww__report_take(report, &cell);
}

static void add_difference(double difference, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    const double shown = round(100.0 * difference) / 100.0;
    ww__text_add(&cell, shown > 0.0 ? "+" : "");
    ww__text_add_number(&cell, shown == 0.0 ? 0.0 : shown, 2);
    ww__report_take(report, &cell);
}

static void add_tones(const ww_print_miss *miss, ww__report *report) {
    static const ww__heading heading[] = {
        {"tone", ""},    {"foretold", "D above paper"}, {"came out", "D above paper"},
        {"off by", "D"}, {"error, 1 sd", "D"},          {"left then", "D"}};
    ww__report_table(report, "How the last print came out", sizeof heading / sizeof heading[0],
                     "lrrrrr");
    ww__report_headings(report, heading);
    for (size_t i = 0; i < miss->n_tones; i++) {
        const ww_miss_tone *tone = &miss->tone[i];
        ww__text cell = WW__TEXT_INIT;
        char shown[64];
        ww__text_add(&cell, ww__escape_message(tone->tone, shown, sizeof shown));
        if (tone->part != WW_PART_WHOLE)
            ww__text_add_format(&cell, ", %s", ww_part_name(tone->part));
        ww__report_take(report, &cell);
        ww__text_add_number(&cell, fmax(0.0, tone->foretold), 2);
        ww__text_add(&cell, tone->beyond ? " *" : "");
        ww__report_take(report, &cell);
        add_density(tone->came, report);
        add_difference(tone->came - tone->foretold, report);
        add_density(tone->error, report);
        add_difference(tone->left, report);
    }
}

/* What a cause would have to be: "+0.30 stop", "0.12 log H shorter", "up by 0.04 D", "'wall' 0.10 D
 * darker". */
static void add_size(const ww_miss_hypothesis *hypothesis, const char *odd, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    char shown[64];
    if (hypothesis->log_h.set)
        ww__text_add_format(&cell, "%+.2f stop", hypothesis->log_h.value / log_stop);
    if (hypothesis->range.set)
        ww__text_add_format(&cell, "%s%.2f log H %s", cell.n > 0 ? ", " : "",
                            fabs(hypothesis->range.value),
                            hypothesis->range.value > 0.0 ? "shorter" : "longer");
    if (hypothesis->lift.set)
        ww__text_add_format(&cell, "up by %.2f D", hypothesis->lift.value);
    if (hypothesis->off.set)
        ww__text_add_format(&cell, "'%s' %.2f D %s", ww__escape_message(odd, shown, sizeof shown),
                            fabs(hypothesis->off.value),
                            hypothesis->off.value > 0.0 ? "darker" : "lighter");
    ww__text_add(&cell, cell.n == 0 ? "-" : "");
    ww__report_take(report, &cell);
}

static void add_chance(double chance, ww__report *report) {
    ww__text cell = WW__TEXT_INIT;
    if (chance < 0.001)
        ww__text_add(&cell, "under 0.1");
    else
        ww__text_add_number(&cell, 100.0 * chance, chance < 0.1 ? 1 : 0);
    ww__report_take(report, &cell);
}

/* What fits and is not told has another before it that leaves less, or is simpler. */
static const char *say_fits(const ww_print_miss *miss, const ww_miss_hypothesis *hypothesis) {
    if (hypothesis->supported)
        return "yes";
    return hypothesis->fits && miss->n_supported > 0 ? "not needed" : "no";
}

static void add_causes(const ww_print_miss *miss, ww__report *report) {
    static const ww__heading heading[] = {{"cause", ""},      {"it would be", ""},
                                          {"chi-square", ""}, {"of", "freedoms"},
                                          {"chance", "%"},    {"fits", ""}};
    ww__report_table(report,
                     miss->besides ? "What could be the cause, but for the tone that does not go "
                                     "with it"
                                   : "What could be the cause",
                     sizeof heading / sizeof heading[0], "llrrrl");
    ww__report_headings(report, heading);
    for (size_t c = 0; c < WW_MISS_CAUSES; c++) {
        const ww_miss_hypothesis *hypothesis = &miss->hypothesis[c];
        ww__text cell = WW__TEXT_INIT;
        if (!hypothesis->tried)
            continue;
        ww__report_item(report, ww_miss_cause_name((ww_miss_cause)c));
        add_size(hypothesis, miss->odd, report);
        ww__text_add_number(&cell, hypothesis->chi_squared, 1);
        ww__report_take(report, &cell);
        ww__text_add_format(&cell, "%zu", hypothesis->freedom);
        ww__report_take(report, &cell);
        add_chance(hypothesis->chance, report);
        ww__report_item(report, say_fits(miss, hypothesis));
    }
}

void ww__print_miss_tables(const ww_print_miss *miss, ww__report *report) {
    if (!miss)
        return;
    add_tones(miss, report);
    add_causes(miss, report);
}
