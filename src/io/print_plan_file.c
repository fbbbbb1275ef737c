/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "io/print_recipe_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/output.h>
#include <wedgework/print_plan_file.h>

static void write_ends(ww__json_writer *writer, const char *key, ww_optional thin,
                       ww_optional dense) {
    if (thin.set && dense.set)
        ww__json_write_pair(writer, key, thin.value, dense.value);
    else
        ww__json_write_null(writer, key);
}

static void write_burn(ww__json_writer *writer, const ww_print_tone *tone) {
    if (!tone->burn_stops.set) {
        ww__json_write_null(writer, "burn");
        return;
    }
    ww__json_open_object(writer, "burn", WW__JSON_FLAT);
    ww__json_write_optional(writer, "stops", tone->burn_stops);
    ww__json_write_optional(writer, "seconds", tone->burn_seconds);
    ww__json_close(writer);
}

/* What a flash would do in place of burning, and a burn through the softer filter. */
static void write_instead(ww__json_writer *writer, const ww_print_tone *tone) {
    if (tone->flash_print.set) {
        ww__json_open_object(writer, "flash", WW__JSON_FLAT);
        ww__json_write_optional(writer, "print", tone->flash_print);
        ww__json_write_optional(writer, "separation", tone->flash_separation);
        ww__json_write_optional(writer, "burn_stops", tone->flash_burn_stops);
        ww__json_close(writer);
    } else {
        ww__json_write_null(writer, "flash");
    }
    if (tone->soft_seconds.set) {
        ww__json_open_object(writer, "soft_burn", WW__JSON_FLAT);
        ww__json_write_optional(writer, "seconds", tone->soft_seconds);
        ww__json_write_optional(writer, "separation", tone->soft_separation);
        ww__json_close(writer);
    } else {
        ww__json_write_null(writer, "soft_burn");
    }
}

static void write_tone(ww__json_writer *writer, const ww_print_tone *tone) {
    ww__json_open_object(writer, NULL, WW__JSON_LINES);
    ww__json_write_text(writer, "tone", tone->tone);
    ww__json_write_bool(writer, "base", tone->base);
    ww__json_write_number(writer, "negative", tone->negative);
    write_ends(writer, "negative_ends", tone->negative_thin, tone->negative_dense);
    ww__json_write_optional(writer, "print", tone->print);
    write_ends(writer, "print_ends", tone->print_thin, tone->print_dense);
    ww__json_write_optional(writer, "aim", tone->aim);
    ww__json_write_optional(writer, "separation", tone->separation);
    ww__json_write_optional(writer, "separation_straight", tone->separation_straight);
    ww__json_write_text(writer, "verdict", tone->base ? NULL : ww_verdict_name(tone->verdict));
    write_burn(writer, tone);
    ww__json_write_optional(writer, "refused_stops", tone->refused_stops);
    ww__json_write_optional(writer, "hand_stops", tone->hand_stops);
    ww__json_write_optional(writer, "hand_seconds", tone->hand_seconds);
    ww__json_write_optional(writer, "print_after", tone->print_after);
    write_instead(writer, tone);
    ww__json_write_bool(writer, "beyond", tone->beyond);
    ww__json_close(writer);
}

static void write_split(ww__json_writer *writer, const ww_print_split *split) {
    if (!split->set) {
        ww__json_write_null(writer, "split");
        return;
    }
    ww__json_open_object(writer, "split", WW__JSON_FLAT);
    ww__json_write_number(writer, "soft", split->soft_s);
    ww__json_write_number(writer, "hard", split->hard_s);
    ww__json_close(writer);
}

static void write_flash(ww__json_writer *writer, const ww_print_flash *flash) {
    if (!flash->set) {
        ww__json_write_null(writer, "flash");
        return;
    }
    ww__json_open_object(writer, "flash", WW__JSON_LINES);
    ww__json_write_number(writer, "time", flash->time_s);
    ww__json_write_quantity(writer, "log_h", flash->log_h);
    ww__json_write_number(writer, "white", flash->white.value);
    ww__json_write_quantity(writer, "white_interval", flash->white);
    ww__json_write_number(writer, "lift", flash->lift);
    ww__json_close(writer);
}

/* A mismatch is the difference of two ranges: without both there is none. */
static void write_paper(ww__json_writer *writer, const char *key, const ww_print_plan *plan,
                        const ww_print_paper *paper) {
    const ww_optional mismatch = {ww_quantity_present(paper->paper_range) &&
                                      ww_quantity_present(plan->negative_range),
                                  paper->mismatch};
    ww__json_open_object(writer, key, WW__JSON_LINES);
    ww__json_write_text(writer, "paper", paper->paper);
    ww__json_write_text(writer, "contrast", paper->contrast);
    ww__json_write_bool(writer, "nominal", paper->nominal);
    ww__json_write_bool(writer, "interpolated", paper->interpolated);
    write_split(writer, &paper->split);
    ww__json_write_optional(writer, "time", paper->time_s);
    ww__json_write_optional(writer, "doubt_stops", paper->doubt_stops);
    ww__json_write_bool(writer, "holds", paper->holds);
    ww__json_write_text(writer, "why", paper->why);
    ww__json_write_quantity(writer, "paper_range", paper->paper_range);
    ww__json_write_optional(writer, "mismatch", mismatch);
    ww__json_write_number(writer, "work_stops", paper->work_stops);
    write_flash(writer, &paper->flash);
    ww__json_open_array(writer, "tones", WW__JSON_LINES);
    for (size_t i = 0; i < paper->n_tones; i++)
        write_tone(writer, &paper->tone[i]);
    ww__json_close(writer);
    assert(paper->n_budget <= WW_BUDGET_MAX);
    ww__json_open_array(writer, "budget", WW__JSON_LINES);
    for (size_t i = 0; i < paper->n_budget; i++) {
        ww__json_open_object(writer, NULL, WW__JSON_FLAT);
        ww__json_write_text(writer, "from", paper->budget[i].from);
        ww__json_write_number(writer, "stops", paper->budget[i].stops);
        ww__json_close(writer);
    }
    ww__json_close(writer);
    ww__json_close(writer);
}

void ww__print_plan_file_put(ww__json_writer *writer, const ww_print_plan *plan) {
    ww__json_write_integer(writer, "wedgework", WW__PRINT_PLAN_VERSION);
    ww__json_write_text(writer, "kind", "print plan");
    ww__json_write_bool(writer, "holds", plan->holds);
    if (plan->n_papers > 0)
        write_paper(writer, "choice", plan, &plan->paper[0]);
    else
        ww__json_write_null(writer, "choice");
    ww__json_open_array(writer, "papers", WW__JSON_LINES);
    for (size_t i = 0; i < plan->n_papers; i++)
        write_paper(writer, NULL, plan, &plan->paper[i]);
    ww__json_close(writer);
    ww__json_write_quantity(writer, "negative_range", plan->negative_range);
    ww__json_write_name(writer, "dense_tone", plan->dense_tone);
    ww__json_write_name(writer, "thin_tone", plan->thin_tone);
    ww__print_miss_file_put(writer, "miss", plan->miss);
    ww__json_write_notes(writer, "first", &plan->first);
    ww__json_write_notes(writer, "notes", &plan->notes);
}

ww_status ww_print_plan_file_text(const ww_print_plan *plan, char **text, size_t *n,
                                  ww_error *err) {
    ww__json_writer writer = WW__JSON_WRITER_INIT(err);
    assert(plan && text && n);
    ww__json_open_object(&writer, NULL, WW__JSON_LINES);
    ww__print_plan_file_put(&writer, plan);
    ww__json_close(&writer);
    return ww__json_finish(&writer, text, n);
}

ww_status ww_print_plan_file_write(const ww_print_plan *plan, const char *path, ww_error *err) {
    char *text;
    size_t n;
    ww_status status = ww_print_plan_file_text(plan, &text, &n, err);
    if (status != WW_OK)
        return status;
    status = ww_output_write(path, text, n, err);
    free(text);
    return status;
}
