/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/meta.h"

#include "core/readings.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* Indexed by enumerator. */
static const char *const material_words[] = {"unknown", "film",     "paper", "print",
                                             "strip",   "negative", "wedge", "screen"};
static const char *const process_words[] = {"unknown", "negative", "reversal"};
static const char *const kind_words[] = {"unknown", "transmission", "reflection"};
static const char *const status_words[] = {"unknown", "A",      "M",        "T",
                                           "E",       "visual", "printing", "scanner"};
static const char *const relative_words[] = {"unknown", "absolute", "base", "white"};
static const char *const unit_words[] = {"unknown", "lux second", "second", "relative"};
static const char *const emulsion_words[] = {"unknown", "black-and-white", "colour negative",
                                             "colour reversal"};
static const char *const grain_words[] = {"unknown", "silver", "dye", "stained"};
static const char *const wedge_words[] = {"unknown", "certified", "nominal"};
static const char *const exposed_words[] = {"unknown", "contact", "projection"};
static const char *const read_words[] = {"unknown", "wet", "dry"};
static const char *const part_words[] = {"whole", "thin", "dense"};
static const char *const channel_words[] = {"red", "green", "blue", "visual"};
static const char *const exposure_words[] = {"none", "wedge", "logh", "stop", "time"};
static const char *const column_words[] = {"red",
                                           "green",
                                           "blue",
                                           "visual",
                                           "value",
                                           "value_red",
                                           "value_green",
                                           "value_blue",
                                           "gray",
                                           "cyan",
                                           "magenta",
                                           "yellow",
                                           "soft",
                                           "hard",
                                           "L",
                                           "a",
                                           "b",
                                           "Y",
                                           "x",
                                           "y",
                                           "correction_red",
                                           "correction_green",
                                           "correction_blue",
                                           "correction_visual"};

#define COUNT(words) (sizeof(words) / sizeof((words)[0]))
#define WORD(words, index) word_at((words), COUNT(words), (size_t)(index))

static const char *word_at(const char *const words[], size_t n, size_t index) {
    return index < n ? words[index] : words[0];
}

const char *ww_channel_name(ww_channel channel) {
    return WORD(channel_words, channel);
}

const char *ww_column_name(ww_column column) {
    return WORD(column_words, column);
}

const char *ww_exposure_column_name(ww_exposure_column column) {
    return WORD(exposure_words, column);
}

const char *ww_material_name(ww_material material) {
    return WORD(material_words, material);
}

const char *ww_process_name(ww_process process) {
    return WORD(process_words, process);
}

const char *ww_density_kind_name(ww_density_kind kind) {
    return WORD(kind_words, kind);
}

const char *ww_density_status_name(ww_density_status status) {
    return WORD(status_words, status);
}

const char *ww_relative_name(ww_relative relative) {
    return WORD(relative_words, relative);
}

const char *ww_exposure_unit_name(ww_exposure_unit unit) {
    return WORD(unit_words, unit);
}

const char *ww_emulsion_name(ww_emulsion emulsion) {
    return WORD(emulsion_words, emulsion);
}

const char *ww_grain_name(ww_grain grain) {
    return WORD(grain_words, grain);
}

const char *ww_wedge_kind_name(ww_wedge_kind kind) {
    return WORD(wedge_words, kind);
}

const char *ww_exposed_by_name(ww_exposed_by by) {
    return WORD(exposed_words, by);
}

const char *ww_read_state_name(ww_read_state state) {
    return WORD(read_words, state);
}

const char *ww_part_name(ww_part part) {
    return WORD(part_words, part);
}

/*
 * The table reaches every enumerator of ww_meta through an unsigned int. C leaves the size of an
 * enumeration to the compiler, so the sizes are pinned here.
 */
#define PIN(type) _Static_assert(sizeof(type) == sizeof(unsigned), #type " is not an unsigned int")
PIN(ww_material);
PIN(ww_process);
PIN(ww_density_kind);
PIN(ww_density_status);
PIN(ww_relative);
PIN(ww_exposure_unit);
PIN(ww_emulsion);
PIN(ww_grain);
PIN(ww_wedge_kind);
PIN(ww_exposed_by);
PIN(ww_read_state);

#define TEXT(name, member)                                                                         \
    { .key = (name), .kind = WW__META_TEXT, .offset = offsetof(ww_meta, member) }
#define CHOICE(name, member, list)                                                                 \
    {                                                                                              \
        .key = (name), .kind = WW__META_WORD, .offset = offsetof(ww_meta, member),                 \
        .words = (list), .n_words = COUNT(list)                                                    \
    }
#define NUMBER(name, member, from, to, from_excluded)                                              \
    {                                                                                              \
        .key = (name), .kind = WW__META_NUMBER, .offset = offsetof(ww_meta, member),               \
        .low = (from), .high = (to), .above = (from_excluded)                                      \
    }

/* Limits are wide: they catch slips of unit and of decimal point, not unusual practice. */
static const ww__meta_field fields[] = {
    TEXT("name", name),
    CHOICE("material", material, material_words),
    CHOICE("process", process, process_words),
    CHOICE("density", density, kind_words),
    CHOICE("status", status, status_words),
    CHOICE("relative to", relative, relative_words),
    NUMBER("log h0", log_h0, -20.0, 20.0, false),
    NUMBER("log h0 sd", log_h0_sd, 0.0, 6.0, false),
    CHOICE("exposure unit", exposure_unit, unit_words),
    NUMBER("exposure time", exposure_time_s, 0.0, 1e9, true),
    CHOICE("emulsion", emulsion, emulsion_words),
    NUMBER("development time", development_time_min, 0.0, 1e5, true),
    NUMBER("temperature", temperature_c, -50.0, 200.0, false),
    TEXT("contrast", contrast),
    CHOICE("grain", grain, grain_words),
    CHOICE("wedge", wedge, wedge_words),
    NUMBER("wedge sd", wedge_sd, 0.0, 6.0, false),
    CHOICE("exposed by", exposed_by, exposed_words),
    NUMBER("aperture", aperture, 0.0, 1000.0, true),
    NUMBER("scale", scale, 0.0, 1000.0, true),
    TEXT("pack", pack),
    CHOICE("read", read, read_words),
    TEXT("lot", lot),
    TEXT("date", date),
};

const ww__meta_field *ww__meta_fields(size_t *n) {
    *n = COUNT(fields);
    return fields;
}

char **ww__meta_text(ww_meta *meta, const ww__meta_field *field) {
    assert(field->kind == WW__META_TEXT);
    return (char **)(void *)((char *)meta + field->offset);
}

ww_optional *ww__meta_number(ww_meta *meta, const ww__meta_field *field) {
    assert(field->kind == WW__META_NUMBER);
    return (ww_optional *)(void *)((char *)meta + field->offset);
}

unsigned ww__meta_word(const ww_meta *meta, const ww__meta_field *field) {
    unsigned word = 0;
    assert(field->kind == WW__META_WORD);
    memcpy(&word, (const char *)meta + field->offset, sizeof word);
    return word;
}

void ww__meta_set_word(ww_meta *meta, const ww__meta_field *field, unsigned word) {
    assert(field->kind == WW__META_WORD && word < field->n_words);
    memcpy((char *)meta + field->offset, &word, sizeof word);
}

void ww_meta_release(ww_meta *meta) {
    if (meta == NULL)
        return;
    for (size_t i = 0; i < COUNT(fields); i++)
        if (fields[i].kind == WW__META_TEXT)
            free(*ww__meta_text(meta, &fields[i]));
    memset(meta, 0, sizeof *meta);
}

ww_status ww_meta_copy(const ww_meta *from, ww_meta *to, ww_error *err) {
    assert(from != NULL && to != NULL);
    ww_meta source = *from;
    ww_meta copy = *from;
    for (size_t i = 0; i < COUNT(fields); i++)
        if (fields[i].kind == WW__META_TEXT)
            *ww__meta_text(&copy, &fields[i]) = NULL;
    for (size_t i = 0; i < COUNT(fields); i++) {
        if (fields[i].kind != WW__META_TEXT)
            continue;
        const char *text = *ww__meta_text(&source, &fields[i]);
        if (text == NULL)
            continue;
        ww_status status = ww__readings_text_copy(text, ww__meta_text(&copy, &fields[i]), err);
        if (status != WW_OK) {
            ww_meta_release(&copy);
            return status;
        }
    }
    *to = copy;
    return WW_OK;
}
