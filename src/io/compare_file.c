/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/compare_file.h>

enum { VERSION = 1 };

static ww_optional value_of(ww_quantity quantity) {
    return (ww_optional){ww_quantity_present(quantity), quantity.value};
}

static ww_optional doubt_of(ww_quantity quantity) {
    return (ww_optional){ww_quantity_present(quantity), (quantity.high - quantity.low) / 2.0};
}

/* --- prints ----------------------------------------------------------------------------------- */

static void write_drift(ww__json_writer *writer, const ww_compare_drift drift[],
                        const char *(*label)(const void *of, size_t at), const void *of) {
    ww__json_open_object(writer, "drift", WW__JSON_FLAT);
    for (size_t d = 0; d < WW_COMPARE_DRIFTS; d++) {
        if (!drift[d].there) {
            ww__json_write_null(writer, ww_compare_drift_name(d));
            continue;
        }
        ww__json_open_object(writer, ww_compare_drift_name(d), WW__JSON_FLAT);
        ww__json_write_number(writer, "value", drift[d].value);
        ww__json_write_number(writer, "doubt", drift[d].half);
        ww__json_write_outside(writer, "tone", label(of, drift[d].at));
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static const char *label_of_print(const void *of, size_t at) {
    return ((const ww_compare_print *)of)->tone[at].label;
}

static void write_doubts(ww__json_writer *writer, const ww_compare_print *print) {
    ww__json_open_object(writer, "doubt", WW__JSON_FLAT);
    ww__json_write_optional(writer, "white", doubt_of(print->white));
    ww__json_write_optional(writer, "black", doubt_of(print->black));
    ww__json_write_optional(writer, "range", doubt_of(print->range));
    ww__json_write_optional(writer, "gradient", doubt_of(print->gradient));
    ww__json_close(writer);
}

static void write_white(ww__json_writer *writer, const ww_compare_print *print) {
    if (!print->has_lab) {
        ww__json_write_null(writer, "paper_white");
        return;
    }
    ww__json_open_object(writer, "paper_white", WW__JSON_FLAT);
    ww__json_write_number(writer, "L", print->white_lab.l);
    ww__json_write_number(writer, "a", print->white_lab.a);
    ww__json_write_number(writer, "b", print->white_lab.b);
    ww__json_close(writer);
}

static void write_seen(ww__json_writer *writer, const ww_compare_print *print) {
    ww__json_open_array(writer, "seen", WW__JSON_FLAT);
    for (size_t i = 0; i < WW_VIEWING_VEILS && ww_quantity_present(print->range); i++) {
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_number(writer, "veil", print->seen[i].veil);
        ww__json_write_number(writer, "white", print->seen[i].white);
        ww__json_write_number(writer, "black", print->seen[i].black);
        ww__json_write_number(writer, "range", print->seen[i].range);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_print(ww__json_writer *writer, const ww_compare_print *print) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "name", print->name);
    ww__json_write_bool(writer, "curve", print->curve);
    ww__json_write_bool(writer, "screen", print->screen);
    ww__json_write_text(writer, "status",
                        print->status == WW_STATUS_UNKNOWN ? NULL
                                                           : ww_density_status_name(print->status));
    ww__json_write_text(writer, "channel", ww_channel_name(print->main));
    ww__json_write_text(writer, "control", ww_compare_control_name(print));
    ww__json_write_optional(writer, "white", value_of(print->white));
    ww__json_write_optional(writer, "black", value_of(print->black));
    ww__json_write_optional(writer, "range", value_of(print->range));
    ww__json_write_optional(writer, "gradient", value_of(print->gradient));
    write_doubts(writer, print);
    write_drift(writer, print->drift, label_of_print, print);
    write_white(writer, print);
    if (print->white_luminance.set)
        ww__json_write_pair(writer, "luminance", print->black_luminance.value,
                            print->white_luminance.value);
    else
        ww__json_write_null(writer, "luminance");
    ww__json_write_optional(writer, "temperature", print->temperature);
    write_seen(writer, print);
    ww__json_close(writer);
}

/* --- pairs ------------------------------------------------------------------------------------ */

/* A pair with the prints that its tones are of. */
typedef struct beside {
    const ww_compare_print *a, *b;
    const ww_compare_pair *pair;
} beside;

static const char *label_of_pair(const void *of, size_t at) {
    const beside *both = of;
    return both->a->tone[both->pair->tone[at].a].label;
}

static void write_worst(ww__json_writer *writer, const char *key, const beside *both,
                        const ww_compare_worst *worst) {
    if (!worst->there) {
        ww__json_write_null(writer, key);
        return;
    }
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    ww__json_write_number(writer, "value", worst->value);
    ww__json_write_number(writer, "doubt", worst->half);
    ww__json_write_text(writer, "channel", ww_channel_name(worst->channel));
    ww__json_write_outside(writer, "tone", label_of_pair(both, worst->at));
    ww__json_close(writer);
}

static void write_regions(ww__json_writer *writer, const ww_compare_pair *pair) {
    ww__json_open_object(writer, "regions", WW__JSON_FLAT);
    for (int r = 0; r < WW_REGION_COUNT; r++)
        ww__json_write_optional(
            writer, ww_viewing_region_word((ww_region_name)r),
            (ww_optional){pair->region[r].worst.there, pair->region[r].worst.value});
    ww__json_close(writer);
    ww__json_open_object(writer, "means", WW__JSON_FLAT);
    for (int r = 0; r < WW_REGION_COUNT; r++)
        ww__json_write_optional(writer, ww_viewing_region_word((ww_region_name)r),
                                (ww_optional){pair->region[r].n > 0, pair->region[r].mean});
    ww__json_close(writer);
}

static void write_colours(ww__json_writer *writer, const beside *both) {
    const ww_compare_pair *pair = both->pair;
    if (pair->n_de2000 > 0) {
        ww__json_open_object(writer, "de2000", WW__JSON_FLAT);
        ww__json_write_number(writer, "mean", pair->de2000_mean);
        ww__json_write_number(writer, "max", pair->de2000_max);
        ww__json_write_outside(writer, "tone", label_of_pair(both, pair->de2000_at));
        ww__json_write_number(writer, "doubt", pair->de2000_max_half);
        ww__json_close(writer);
    } else {
        ww__json_write_null(writer, "de2000");
    }
    if (pair->has_lab)
        ww__json_write_pair(writer, "white_ab", pair->white_a, pair->white_b);
    else
        ww__json_write_null(writer, "white_ab");
}

static void write_never(ww__json_writer *writer, const ww_compare_pair *pair) {
    const struct {
        bool is;
        const char *word;
    } marks[] = {{pair->never_white, "white"},
                 {pair->never_black, "black"},
                 {pair->never_drift, "drift"},
                 {pair->never_hue, "hue"}};
    ww__json_open_array(writer, "seen_black", WW__JSON_FLAT);
    for (size_t i = 0; i < WW_VIEWING_VEILS; i++)
        ww__json_write_optional(
            writer, NULL, (ww_optional){ww_quantity_present(pair->black), pair->seen_black[i]});
    ww__json_close(writer);
    ww__json_open_array(writer, "never", WW__JSON_FLAT);
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
        if (marks[i].is)
            ww__json_write_text(writer, NULL, marks[i].word);
    ww__json_close(writer);
    ww__json_write_optional(writer, "black_from",
                            (ww_optional){pair->never_black, pair->black_from});
}

static void write_verdict(ww__json_writer *writer, const char *key, ww_compare_verdict verdict) {
    if (verdict == WW_COMPARE_WITHIN || verdict == WW_COMPARE_BEYOND)
        ww__json_write_bool(writer, key, verdict == WW_COMPARE_WITHIN);
    else
        ww__json_write_null(writer, key);
}

static void write_limits(ww__json_writer *writer, const ww_compare_pair *pair) {
    write_verdict(writer, "within", pair->within);
    ww__json_open_array(writer, "limits", WW__JSON_LINES);
    for (int k = 0; k < WW_LIMIT_COUNT; k++) {
        const ww_compare_check *check = &pair->check[k];
        const bool known =
            check->verdict == WW_COMPARE_WITHIN || check->verdict == WW_COMPARE_BEYOND;
        if (check->verdict == WW_COMPARE_NOT_ASKED)
            continue;
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "limit", ww_compare_limit_name((ww_compare_limit)k));
        ww__json_write_number(writer, "most", check->limit);
        ww__json_write_optional(writer, "value", (ww_optional){known, check->value});
        ww__json_write_optional(writer, "doubt", (ww_optional){known, check->half});
        write_verdict(writer, "within", check->verdict);
        ww__json_write_bool(writer, "doubtful", check->doubtful);
        ww__json_close(writer);
    }
    ww__json_close(writer);
    ww__json_open_object(writer, "offset", WW__JSON_FLAT);
    for (int r = 0; r < WW_REGION_COUNT; r++)
        ww__json_write_optional(writer, ww_viewing_region_word((ww_region_name)r), pair->offset[r]);
    ww__json_close(writer);
}

static void write_lab(ww__json_writer *writer, const beside *both,
                      const ww_compare_difference *tone) {
    const ww_lab *a = &both->a->tone[tone->a].lab, *b = &both->b->tone[tone->b].lab;
    if (!tone->de2000.set) {
        ww__json_write_null(writer, "lab");
        return;
    }
    ww__json_open_array(writer, "lab", WW__JSON_FLAT);
    ww__json_write_number(writer, NULL, b->l - a->l);
    ww__json_write_number(writer, NULL, b->a - a->a);
    ww__json_write_number(writer, NULL, b->b - a->b);
    ww__json_close(writer);
}

static void write_tone(ww__json_writer *writer, const beside *both, size_t i) {
    const ww_compare_difference *tone = &both->pair->tone[i];
    const bool placed = tone->density[both->pair->main].set;
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_outside(writer, "tone", label_of_pair(both, i));
    ww__json_write_text(writer, "region", placed ? ww_viewing_region_word(tone->region) : NULL);
    ww__json_write_bool(writer, "between", tone->between);
    ww__json_write_bool(writer, "reached", tone->reached);
    ww__json_open_object(writer, "difference", WW__JSON_FLAT);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (both->pair->has[c])
            ww__json_write_optional(writer, ww_channel_name((ww_channel)c), tone->density[c]);
    ww__json_close(writer);
    ww__json_open_object(writer, "doubt", WW__JSON_FLAT);
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (both->pair->has[c])
            ww__json_write_optional(writer, ww_channel_name((ww_channel)c),
                                    (ww_optional){tone->density[c].set, tone->half[c]});
    ww__json_close(writer);
    ww__json_write_optional(writer, "de2000", tone->de2000);
    write_lab(writer, both, tone);
    ww__json_close(writer);
}

static void write_pair(ww__json_writer *writer, const beside *both) {
    const ww_compare_pair *pair = both->pair;
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "a", both->a->name);
    ww__json_write_outside(writer, "b", both->b->name);
    ww__json_write_text(writer, "channel", ww_channel_name(pair->main));
    ww__json_write_bool(writer, "above_white", pair->above_white);
    ww__json_write_optional(writer, "worst", (ww_optional){pair->worst.there, pair->worst.value});
    write_worst(writer, "worst_at", both, &pair->worst);
    write_worst(writer, "in_reach", both, &pair->reached);
    write_regions(writer, pair);
    ww__json_write_quantity(writer, "white", pair->white);
    ww__json_write_quantity(writer, "black", pair->black);
    ww__json_write_quantity(writer, "range", pair->range);
    ww__json_write_quantity(writer, "gradient", pair->gradient);
    write_drift(writer, pair->drift, label_of_pair, both);
    write_colours(writer, both);
    write_never(writer, pair);
    write_limits(writer, pair);
    ww__json_open_array(writer, "tones", WW__JSON_LINES);
    for (size_t i = 0; i < pair->n; i++)
        write_tone(writer, both, i);
    ww__json_close(writer);
    ww__json_close(writer);
}

ww_status ww_compare_file_text(const ww_comparison *comparison, char **text, size_t *n,
                               ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(comparison && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", VERSION);
    ww__json_write_text(&writer, "kind", "comparison");
    ww__json_write_bool(&writer, "holds", comparison->holds);
    ww__json_open_array(&writer, "prints", WW__JSON_LINES);
    for (size_t i = 0; i < comparison->n; i++)
        write_print(&writer, &comparison->print[i]);
    ww__json_close(&writer);
    ww__json_open_array(&writer, "pairs", WW__JSON_LINES);
    for (size_t i = 0; i < comparison->n_pairs; i++) {
        const ww_compare_pair *pair = &comparison->pair[i];
        const beside both = {&comparison->print[pair->a], &comparison->print[pair->b], pair};
        write_pair(&writer, &both);
    }
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &comparison->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
