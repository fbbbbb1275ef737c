/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <math.h>
#include <wedgework/tones_file.h>

enum { TONES_VERSION = 1, VALUE_DECIMALS = 4 };

static const double log_stop = 0.30102999566398119521; /* log10 2 */

static const char *channel_of(ww_channel channel) {
    return ww_channel_name(channel);
}

/* The value alone, null where it is absent. */
static void write_value(ww__json_writer *w, const char *key, ww_quantity q) {
    ww__json_write_optional(w, key, (ww_optional){ww_quantity_present(q), q.value});
}

static void write_doubt(ww__json_writer *w, const char *key, ww_quantity q, bool known) {
    ww__json_write_optional(w, key,
                            (ww_optional){known && ww_quantity_present(q), 0.5 * (q.high - q.low)});
}

static void write_row(ww__json_writer *w, const char *key, const ww_tones_row *row, bool doubted) {
    const ww_tone_point *p = &row->point;
    ww__json_open_object(w, key, WW__JSON_FLAT);
    ww__json_write_number(w, "scene", p->scene);
    ww__json_write_number(w, "stops", p->scene / log_stop);
    ww__json_write_number(w, "film_logh", p->film_log_h);
    write_value(w, "negative", row->negative);
    write_value(w, "print", row->print);
    write_value(w, "lightness", row->lightness);
    write_value(w, "gradient", row->gradient);
    write_value(w, "viewed", row->viewed);
    ww__json_write_optional(w, "paper_logh", p->paper_log_h);
    ww__json_open_object(w, "links", WW__JSON_FLAT);
    for (int k = 0; k < WW_TONE_LINKS; k++)
        ww__json_write_optional(w, ww_tone_link_name((ww_tone_link)k), p->slope[k]);
    ww__json_close(w);
    ww__json_write_text(w, "fate", ww_tones_fate_name(row->fate));
    ww__json_open_object(w, "doubt", WW__JSON_FLAT);
    write_doubt(w, "negative", row->negative, doubted);
    write_doubt(w, "print", row->print, doubted);
    write_doubt(w, "lightness", row->lightness, doubted);
    write_doubt(w, "gradient", row->gradient, doubted);
    ww__json_close(w);
    ww__json_close(w);
}

static void write_rows(ww__json_writer *w, const ww_tones_chain *chain) {
    ww__json_open_array(w, "rows", WW__JSON_LINES);
    for (size_t i = 0; chain && i < chain->n; i++)
        write_row(w, NULL, &chain->row[i], chain->doubted);
    ww__json_close(w);
}

static void write_chain(ww__json_writer *w, const ww_tones_chain *chain) {
    ww__json_open_object(w, NULL, WW__JSON_LINES);
    ww__json_write_outside(w, "film", chain->film);
    ww__json_write_text(w, "film_channel", channel_of(chain->film_channel));
    ww__json_write_outside(w, "paper", chain->paper);
    ww__json_write_text(w, "paper_channel", channel_of(chain->paper_channel));
    ww__json_write_text(w, "exposed_by", chain->by_speed_point ? "speed point" : "first step");
    ww__json_write_number(w, "white_log_h", chain->chain.white_log_h);
    ww__json_write_number(w, "print_log_h", chain->chain.print_log_h);
    ww__json_write_number(w, "paper_white", chain->paper_white);
    ww__json_write_quantity(w, "kept_stops", chain->kept_stops);
    write_rows(w, chain);
    write_row(w, "grey", &chain->grey, chain->doubted);
    ww__json_open_array(w, "detail", WW__JSON_LINES);
    for (size_t i = 0; i < chain->n_runs; i++) {
        ww__json_open_object(w, NULL, WW__JSON_FLAT);
        ww__json_write_number(w, "from", chain->run[i].from);
        ww__json_write_number(w, "to", chain->run[i].to);
        ww__json_write_text(w, "fate", ww_tones_fate_name(chain->run[i].fate));
        ww__json_close(w);
    }
    ww__json_close(w);
    ww__json_close(w);
}

static void write_wanted_row(ww__json_writer *w, const ww_tones_wanted_row *row, bool doubted) {
    ww__json_open_object(w, NULL, WW__JSON_FLAT);
    ww__json_write_number(w, "scene", row->scene);
    ww__json_write_number(w, "viewed", row->viewed);
    ww__json_write_text(w, "want", ww_tones_want_name(row->want));
    ww__json_write_number(w, "film_logh", row->film_log_h);
    write_value(w, "film", row->negative);
    write_doubt(w, "doubt", row->negative, doubted);
    ww__json_write_optional(w, "slope", row->slope);
    ww__json_write_optional(w, "paper_logh", row->paper_log_h);
    ww__json_write_optional(w, "light", row->light);
    ww__json_write_optional(w, "given", row->film);
    ww__json_close(w);
}

static void write_wanted(ww__json_writer *w, const ww_tones_wanted *wanted) {
    if (!wanted->given) {
        ww__json_write_null(w, "wanted");
        return;
    }
    ww__json_open_object(w, "wanted", WW__JSON_LINES);
    ww__json_write_outside(w, "paper", wanted->paper);
    ww__json_write_text(w, "paper_channel", channel_of(wanted->paper_channel));
    ww__json_write_optional(w, "slope", (ww_optional){wanted->straight, wanted->slope});
    ww__json_write_integer(w, "had", (long)wanted->n_had);
    ww__json_write_optional(w, "slope_least", wanted->slope_least);
    ww__json_write_optional(w, "slope_most", wanted->slope_most);
    ww__json_write_optional(w, "range", wanted->range);
    ww__json_write_optional(w, "worst", wanted->worst);
    ww__json_write_optional(w, "worst_scene",
                            (ww_optional){wanted->worst.set, wanted->row[wanted->worst_at].scene});
    ww__json_open_array(w, "rows", WW__JSON_LINES);
    for (size_t i = 0; i < wanted->n; i++)
        write_wanted_row(w, &wanted->row[i], wanted->doubted);
    ww__json_close(w);
    ww__json_close(w);
}

/* Of a colour film on a colour paper the first three are red, green and blue. */
static const ww_tones_chain *main_of(const ww_tones *tones) {
    return tones->n == 0 ? NULL : &tones->chain[ww_tones_main(tones)];
}

ww_status ww_tones_file_text(const ww_tones *tones, char **text, size_t *n, ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err), *w = &writer;
    assert(tones && text && n);
    const ww_tones_chain *first = main_of(tones);
    ww__json_open_object(w, NULL, WW__JSON_LINES);
    ww__json_write_integer(w, "wedgework", TONES_VERSION);
    ww__json_write_text(w, "kind", "tones");
    ww__json_write_number(w, "subject_range", tones->subject_range);
    ww__json_write_number(w, "detail", tones->detail);
    ww__json_write_number(w, "flare", tones->flare);
    ww__json_write_number(w, "enlarger_flare", tones->enlarger_flare);
    ww__json_write_number(w, "callier", tones->callier);
    ww__json_write_number(w, "viewing_flare", tones->viewing_flare);
    ww__json_write_number(w, "film_stops", tones->film_stops);
    ww__json_open_object(w, "place", WW__JSON_FLAT);
    ww__json_write_number(w, "stops", tones->place_stops);
    ww__json_write_number(w, "density", tones->place_density);
    ww__json_close(w);
    ww__json_write_bool(w, "holds", tones->holds);
    ww__json_write_quantity(w, "kept_stops",
                            first ? first->kept_stops : (ww_quantity)WW_QUANTITY_INIT);
    write_rows(w, first);
    ww__json_open_array(w, "chains", WW__JSON_LINES);
    for (size_t i = 0; i < tones->n; i++)
        write_chain(w, &tones->chain[i]);
    ww__json_close(w);
    write_wanted(w, &tones->wanted);
    ww__json_write_notes(w, "notes", &tones->notes);
    ww__json_close(w);
    return ww__json_finish(w, text, n);
}

ww_status ww_tones_file_csv(const ww_tones *tones, char **text, size_t *n, ww_error *err) {
    const ww_tones_wanted *wanted = &tones->wanted;
    ww__text made = WW__TEXT_INIT;
    assert(tones && text && n);
    if (!wanted->given)
        return ww_error_set(err, WW_ENODATA,
                            "a film as a table is made of a wanted print; give --wanted, or a name "
                            "that ends in .json");
    ww__text_add_format(&made,
                        "# name: film for a wanted print\n# material: film\n# process: %s\n"
                        "# density: transmission\n# exposure unit: relative\nstep,logh,visual\n",
                        wanted->reversal ? "reversal" : "negative");
    for (size_t i = wanted->n, step = 0; i-- > 0;) {
        const ww_tones_wanted_row *row = &wanted->row[i];
        if (!ww_quantity_present(row->negative) || row->want != WW_TONES_HAD)
            continue;
        ww__text_add_format(&made, "%zu,", ++step);
        ww__text_add_number(&made, row->film_log_h, VALUE_DECIMALS);
        ww__text_add(&made, ",");
        ww__text_add_number(&made, row->negative.value, VALUE_DECIMALS);
        ww__text_add(&made, "\n");
    }
    const ww_status status = ww__text_status(&made, err);
    if (status != WW_OK) {
        ww__text_release(&made);
        return status;
    }
    *text = made.bytes; /* the caller's now */
    *n = made.n;
    return WW_OK;
}
