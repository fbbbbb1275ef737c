/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/json.h"
#include <assert.h>
#include <wedgework/lesson_class.h>

enum { VERSION = 1 };

static void write_spread(ww__json_writer *writer, const ww_lesson_rule *rule,
                         const ww_lesson_spread *spread) {
    const bool there = spread->n > 0;
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_write_text(writer, "figure", rule->key);
    ww__json_write_text(writer, "unit", rule->unit);
    ww__json_write_integer(writer, "n", (long)spread->n);
    ww__json_write_optional(writer, "median", (ww_optional){there, spread->median});
    ww__json_write_optional(writer, "sd", (ww_optional){there, spread->sd});
    ww__json_write_optional(writer, "least", (ww_optional){there, spread->least});
    ww__json_write_optional(writer, "greatest", (ww_optional){there, spread->greatest});
    ww__json_close(writer);
}

static void write_member(ww__json_writer *writer, const ww_lesson_member *member, bool paper) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_outside(writer, "file", member->file);
    ww__json_write_optional(writer, "base", member->base);
    ww__json_open_array(writer, "readings", WW__JSON_FLAT);
    for (size_t i = 0; i < member->n; i++)
        ww__json_write_pair(writer, NULL, member->log_h[i], member->density[i]);
    ww__json_close(writer);
    ww__json_open_object(writer, "figures", WW__JSON_FLAT);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, paper);
        const ww_lesson_result *result = &member->working.result[f];
        if (rule)
            ww__json_write_optional(writer, rule->key, (ww_optional){result->there, result->value});
    }
    ww__json_close(writer);
    ww__json_open_array(writer, "departs", WW__JSON_FLAT);
    for (int f = 0; f < WW_LESSON_FIGURES; f++)
        if (member->departs[f])
            ww__json_write_text(writer, NULL, ww_lesson_rule_of((ww_lesson_figure)f, paper)->key);
    ww__json_close(writer);
    ww__json_close(writer);
}

static void write_pair(ww__json_writer *writer, const ww_lesson_class *made,
                       const ww_lesson_pair *pair) {
    ww__json_open_object(writer, NULL, WW__JSON_FLAT);
    ww__json_open_array(writer, "files", WW__JSON_FLAT);
    ww__json_write_outside(writer, NULL, made->member[pair->a].file);
    ww__json_write_outside(writer, NULL, made->member[pair->b].file);
    ww__json_close(writer);
    ww__json_write_integer(writer, "rows", (long)pair->rows);
    ww__json_write_integer(writer, "alike", (long)pair->alike);
    ww__json_write_number(writer, "shift", pair->shift);
    ww__json_write_number(writer, "chance", pair->chance);
    ww__json_close(writer);
}

ww_status ww_lesson_class_file_text(const ww_lesson_class *made, char **text, size_t *n,
                                    ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(made && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__json_write_integer(&writer, "wedgework", VERSION);
    ww__json_write_text(&writer, "kind", "lesson class");
    ww__json_write_text(&writer, "material", made->paper ? "paper" : "film");
    ww__json_open_array(&writer, "figures", WW__JSON_LINES);
    for (int f = 0; f < WW_LESSON_FIGURES; f++) {
        const ww_lesson_rule *rule = ww_lesson_rule_of((ww_lesson_figure)f, made->paper);
        if (rule)
            write_spread(&writer, rule, &made->spread[f]);
    }
    ww__json_close(&writer);
    ww__json_open_array(&writer, "students", WW__JSON_LINES);
    for (size_t i = 0; i < made->n; i++)
        write_member(&writer, &made->member[i], made->paper);
    ww__json_close(&writer);
    ww__json_open_array(&writer, "copied", WW__JSON_LINES);
    for (size_t i = 0; i < made->n_copied; i++)
        write_pair(&writer, made, &made->copied[i]);
    ww__json_close(&writer);
    ww__json_write_notes(&writer, "notes", &made->notes);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}
