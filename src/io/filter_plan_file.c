/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "io/input.h"
#include "io/json.h"
#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/filter_plan_file.h>
#include <wedgework/output.h>

static const double sd_of_95 = 1.959963984540054;
static const double doubt_most = 1e6; /* of a plan that a person could have made */
enum { FILTER_PLAN_VERSION = 1, QUOTE_SIZE = 64, FILE_MOST = 4 * 1024 * 1024 };

static const char kind_word[] = "filter plan";

/* ------------------------------------------------------------------------------ writing */

static void write_filters(ww__json_writer *writer, const ww_pack *pack) {
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        ww__json_write_number(writer, ww_filter_name((ww_filter)f), pack->cc[f]);
}

static void write_pack(ww__json_writer *writer, const char *key, const ww_pack *pack) {
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    write_filters(writer, pack);
    ww__json_close(writer);
}

/* A pack and one number more. */
static void write_with(ww__json_writer *writer, const char *key, const ww_pack *pack,
                       const char *other, double value) {
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    write_filters(writer, pack);
    ww__json_write_number(writer, other, value);
    ww__json_close(writer);
}

static void write_colours(ww__json_writer *writer, const char *key,
                          const double value[WW_BALANCE_COLOURS], bool known) {
    if (!known) {
        ww__json_write_null(writer, key);
        return;
    }
    ww__json_open_object(writer, key, WW__JSON_FLAT);
    for (int c = 0; c < WW_BALANCE_COLOURS; c++)
        ww__json_write_number(writer, ww_channel_name((ww_channel)c), value[c]);
    ww__json_close(writer);
}

static void write_crossover(ww__json_writer *writer, const ww_balance *balance) {
    const ww_balance_crossover *x = &balance->crossover;
    const bool known = x->known;
    ww__json_open_object(writer, "crossover", WW__JSON_FLAT);
    ww__json_write_bool(writer, "found", x->found);
    ww__json_write_optional(writer, "worst_cc", (ww_optional){known, x->worst_cc});
    ww__json_write_optional(writer, "doubt_cc", (ww_optional){known, x->doubt_cc});
    ww__json_write_text(writer, "tone", known ? balance->tone[x->tone].tone : NULL);
    ww__json_write_text(writer, "middle", known ? balance->tone[x->middle].tone : NULL);
    ww__json_write_text(writer, "channel", known ? ww_channel_name(x->channel) : NULL);
    ww__json_close(writer);
}

static void write_tones(ww__json_writer *writer, const ww_balance *balance) {
    const bool carried = balance->kind == WW_BALANCE_CARRIED; /* no print was read */
    ww__json_open_array(writer, "tones", WW__JSON_LINES);
    for (size_t i = 0; i < balance->n_tones; i++) {
        const ww_balance_tone *tone = &balance->tone[i];
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_name(writer, "tone", tone->tone);
        ww__json_write_bool(writer, "solved", tone->solved);
        write_colours(writer, "print", tone->print, !carried);
        write_colours(writer, "aim", tone->aim, true);
        write_colours(writer, "predicted", tone->predicted, tone->foretold);
        write_colours(writer, "predicted_doubt", tone->predicted_half, tone->foretold);
        write_colours(writer, "left_cc", tone->left_cc, !carried);
        if (carried)
            ww__json_write_null(writer, "within");
        else
            ww__json_write_bool(writer, "within", tone->within);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

static void write_doubt(ww__json_writer *writer, bool known, double filter, double stops) {
    if (!known) {
        ww__json_write_null(writer, "doubt");
        return;
    }
    ww__json_open_object(writer, "doubt", WW__JSON_FLAT);
    ww__json_write_number(writer, "cc", filter);
    ww__json_write_number(writer, "stops", stops);
    ww__json_close(writer);
}

static void write_burn(ww__json_writer *writer, const ww_balance *balance) {
    const ww_balance_burn *burn = &balance->burn;
    if (!burn->set || !burn->possible) {
        ww__json_write_null(writer, "burn");
        return;
    }
    ww__json_open_object(writer, "burn", WW__JSON_FLAT);
    ww__json_write_text(writer, "tone", balance->tone[burn->tone].tone);
    write_pack(writer, "pack", &burn->exact.pack);
    ww__json_write_number(writer, "time", burn->exact.time_s);
    ww__json_write_number(writer, "stops", burn->stops);
    write_with(writer, "settable", &burn->settable.pack, "time", burn->settable.time_s);
    write_doubt(writer, burn->doubt.known, burn->doubt.filter, burn->doubt.stops);
    ww__json_close(writer);
}

static void write_budget(ww__json_writer *writer, const ww_balance *balance) {
    ww__json_open_array(writer, "budget", WW__JSON_LINES);
    for (size_t i = 0; i < balance->n_budget; i++) {
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "from", balance->budget[i].from);
        ww__json_write_number(writer, "cc", balance->budget[i].cc);
        ww__json_close(writer);
    }
    ww__json_close(writer);
}

/* Terms of the response, or the 95 % half-widths of these. */
static void write_terms(ww__json_writer *writer, const ww_response *response, bool doubt) {
    static const char *const act[] = {"time", "yellow", "magenta", "cyan"};
    for (int c = 0; c < WW_RESPONSE_COLOURS; c++) {
        ww__json_open_object(writer, ww_channel_name((ww_channel)c), WW__JSON_FLAT);
        for (size_t a = 0; a < WW_RESPONSE_ACTS; a++) {
            const size_t term = (size_t)c * WW_RESPONSE_ACTS + a;
            const double variance = response->covariance[term * (WW_RESPONSE_TERMS + 1)];
            ww__json_write_number(writer, act[a],
                                  doubt ? sd_of_95 * sqrt(variance) : response->term[c][a]);
        }
        ww__json_close(writer);
    }
}

static void write_response(ww__json_writer *writer, const ww_balance *balance) {
    ww__json_open_object(writer, "response", WW__JSON_LINES);
    ww__json_write_integer(writer, "rows", (long)balance->ring_rows);
    write_terms(writer, &balance->response, false);
    ww__json_open_object(writer, "doubt", WW__JSON_LINES);
    write_terms(writer, &balance->response, true);
    ww__json_close(writer);
    ww__json_close(writer);
}

static void write_inputs(ww__json_writer *writer, const ww_balance *balance) {
    ww__json_open_object(writer, "inputs", WW__JSON_FLAT);
    write_pack(writer, "pack", &balance->from.pack);
    ww__json_write_number(writer, "time", balance->from.time_s);
    ww__json_write_number(writer, "filter_step", balance->filter_step);
    ww__json_write_number(writer, "head_scale", balance->head_scale);
    ww__json_write_number(writer, "timer_step", balance->timer_step_s);
    ww__json_close(writer);
}

static void write_setting(ww__json_writer *writer, const ww_balance *balance) {
    write_pack(writer, "pack", &balance->exact.pack);
    ww__json_write_number(writer, "time", balance->exact.time_s);
    write_with(writer, "settable", &balance->settable.pack, "time", balance->settable.time_s);
    write_with(writer, "change", &balance->change, "stops", balance->stops);
}

ww_status ww_filter_plan_file_text(const ww_balance *balance, char **text, size_t *n,
                                   ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    const bool carried = balance->kind == WW_BALANCE_CARRIED;
    const ww_balance_tone *tone = balance->n_tones > 0 ? &balance->tone[balance->solved_for] : NULL;
    assert(text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", FILTER_PLAN_VERSION);
    ww__json_write_text(&writer, "kind", kind_word);
    ww__json_write_text(&writer, "from", ww_balance_kind_name(balance->kind));
    ww__json_write_bool(&writer, "holds", balance->holds);
    write_setting(&writer, balance);
    write_doubt(&writer, balance->doubt_known, balance->doubt_cc, balance->doubt_stops);
    write_colours(&writer, "predicted", tone ? tone->predicted : NULL, tone && tone->foretold);
    if (tone && tone->foretold && !carried)
        ww__json_write_bool(&writer, "within", tone->within);
    else
        ww__json_write_null(&writer, "within");
    write_crossover(&writer, balance);
    write_tones(&writer, balance);
    write_burn(&writer, balance);
    write_budget(&writer, balance);
    if (carried)
        ww__json_write_null(&writer, "response");
    else
        write_response(&writer, balance);
    write_inputs(&writer, balance);
    ww__json_write_notes(&writer, "first", &balance->first);
    ww__json_write_notes(&writer, "notes", &balance->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_filter_plan_file_write(const ww_balance *balance, const char *path, ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_filter_plan_file_text(balance, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}

/* ------------------------------------------------------------------------------ reading */

static void read_head(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place version = ww__json_key(root, "wedgework");
    const ww__json_place kind = ww__json_key(root, "kind");
    const long given = ww__json_read_integer(reader, &version, 1, LONG_MAX);
    char quote[QUOTE_SIZE];
    const char *text;
    if (reader->status == WW_OK && given > FILTER_PLAN_VERSION)
        ww__json_refuse(reader, &version,
                        "is %ld, but this program knows files up to version %d; use a newer one",
                        given, FILTER_PLAN_VERSION);
    text = ww__json_read_text(reader, &kind);
    if (text && strcmp(text, kind_word) != 0)
        ww__json_refuse(reader, &kind, "is '%s', not '%s'; give a plan as `balance -o` writes it",
                        ww__escape_message(text, quote, sizeof quote), kind_word);
}

static void read_pack(ww__json_reader *reader, const ww__json_place *place, double low,
                      ww_pack *pack) {
    if (!ww__json_read_object(reader, place))
        return;
    for (int f = 0; f < WW_FILTER_COUNT; f++)
        pack->cc[f] = ww__json_number_of(reader, place, ww_filter_name((ww_filter)f), low,
                                         WW_PACK_MOST * WW_BALANCE_HEAD_MOST);
}

static ww_balance_doubt read_doubt(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place place = ww__json_key(root, "doubt");
    ww_balance_doubt doubt = {.known = false};
    if (!ww__json_said(&place) || !ww__json_read_object(reader, &place))
        return doubt;
    doubt.known = true;
    doubt.filter = ww__json_number_of(reader, &place, "cc", 0.0, doubt_most);
    doubt.stops = ww__json_number_of(reader, &place, "stops", 0.0, doubt_most);
    return doubt;
}

static void read_colours(ww__json_reader *reader, const ww__json_place *place,
                         double value[WW_BALANCE_COLOURS]) {
    static const double most = 10.0; /* [D] */
    for (int c = 0; c < WW_BALANCE_COLOURS; c++)
        value[c] = ww__json_number_of(reader, place, ww_channel_name((ww_channel)c), 0.0, most);
}

static ww_balance_grey read_grey(ww__json_reader *reader, const ww__json_place *root) {
    const ww__json_place tones = ww__json_key(root, "tones");
    ww_balance_grey grey = {.known = false};
    for (size_t i = 0; i < json_array_size(tones.value) && !grey.known; i++) {
        const ww__json_place tone = ww__json_item(&tones, i);
        const ww__json_place aim = ww__json_key(&tone, "aim");
        const ww__json_place half = ww__json_key(&tone, "predicted_doubt");
        if (!json_is_true(json_object_get(tone.value, "solved")) || !ww__json_said(&half))
            continue;
        grey.known = true;
        read_colours(reader, &aim, grey.aim);
        read_colours(reader, &half, grey.half);
    }
    return grey;
}

ww_status ww_filter_plan_file_parse(const char *name, const char bytes[], size_t n,
                                    ww_filter_plan *plan, ww_error *err) {
    static const double stops_most = 30.0;
    ww__json_reader reader = {.file = name, .err = err, .status = WW_OK};
    ww_filter_plan made = {.stops = 0.0};
    ww__json_place root, pack, change, inputs;
    json_t *document;
    assert(name && plan);
    reader.status = ww__json_parse(name, bytes, n, &document, err);
    if (reader.status != WW_OK)
        return reader.status;
    root = ww__json_root(document);
    pack = ww__json_key(&root, "pack");
    change = ww__json_key(&root, "change");
    inputs = ww__json_key(&root, "inputs");
    read_head(&reader, &root);
    read_pack(&reader, &pack, 0.0, &made.exact.pack);
    made.exact.time_s =
        ww__json_number_of(&reader, &root, "time", WW_BALANCE_TIME_LEAST, WW_BALANCE_TIME_MOST);
    read_pack(&reader, &change, -WW_PACK_MOST * WW_BALANCE_HEAD_MOST, &made.change);
    made.stops = ww__json_number_of(&reader, &change, "stops", -stops_most, stops_most);
    made.doubt = read_doubt(&reader, &root);
    made.grey = read_grey(&reader, &root);
    if (ww__json_read_object(&reader, &inputs)) {
        made.head_scale = ww__json_number_of(&reader, &inputs, "head_scale", WW_BALANCE_HEAD_LEAST,
                                             WW_BALANCE_HEAD_MOST);
        made.filter_step = ww__json_number_of(&reader, &inputs, "filter_step",
                                              WW_BALANCE_STEP_LEAST, WW_BALANCE_STEP_MOST);
        made.timer_step_s = ww__json_number_of(&reader, &inputs, "timer_step",
                                               WW_BALANCE_TIMER_LEAST, WW_BALANCE_TIMER_MOST);
    }
    json_decref(document);
    if (reader.status == WW_OK)
        *plan = made;
    return reader.status;
}

ww_status ww_filter_plan_file_read(const char *path, ww_filter_plan *plan, ww_error *err) {
    char *bytes;
    size_t n;
    ww_status status = ww__input_read(path, FILE_MOST, &bytes, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_filter_plan_file_parse(ww__input_name(path), bytes, n, plan, err);
    free(bytes);
    return status;
}
