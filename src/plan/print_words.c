/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "base/locale.h"
#include "base/text.h"
#include "plan/print_parts.h"
#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>

static void write_text(char text[], size_t size, const char *format, va_list args) WW_PRINTF(3, 0);

static void write_text(char text[], size_t size, const char *format, va_list args) {
    const ww__locale locale = ww__locale_plain();
    if (vsnprintf(text, size, format, args) < 0)
        snprintf(text, size, "%s", format);
    ww__locale_restore(locale);
}

char *ww__print_format(char text[], size_t size, const char *format, ...) {
    va_list args;
    va_start(args, format);
    write_text(text, size, format, args);
    va_end(args);
    return text;
}

const char *ww__print_stops(double stops) {
    return fabs(stops) < 1.95 ? "stop" : "stops";
}

double ww__print_net(double net) {
    return net > 0.0 ? net : 0.0;
}

ww__print_name ww__print_show(const char *name) {
    ww__print_name shown;
    ww__escape_message(name, shown.text, sizeof shown.text);
    return shown;
}

ww_status ww__print_say(ww_notes *notes, ww_error *err, const char *format, ...) {
    char text[WW__PRINT_TEXT_SIZE];
    va_list args;
    va_start(args, format);
    write_text(text, sizeof text, format, args);
    va_end(args);
    return ww_notes_add(notes, err, "%s", text);
}

/* " (to black)" or " (1.60)": where an end of the range goes. */
static void add_end(ww__text *text, const ww__print_spot *spot, ww_optional aim) {
    ww__text_add_format(text, "'%s'", ww__print_show(spot->name).text);
    if (aim.set)
        ww__text_add_format(text, " at %.*f", ww__text_decimals(aim.value), aim.value);
    else
        ww__text_add_format(text, " at %.0f %% of black", 100.0 * WW__PRINT_BLACK);
}

/* Why a paper says nothing of contrast. */
static void add_no_contrast(ww__text *text, const ww__print_negative *negative,
                            const ww__print_fate *fate) {
    const ww__print_spot *first = &negative->spot[negative->first];
    if (fate->past_black) {
        ww__text_add_format(text,
                            "'%s' at %.*f is to print darker than 90 %% of black, where the "
                            "thinnest tone goes, so no range is left to tell the contrast by: "
                            "place it lighter",
                            ww__print_show(first->name).text,
                            ww__text_decimals(negative->first_aim), negative->first_aim);
        return;
    }
    ww__text_add(text, "the contrast can't be told: this paper was not measured ");
    if (!negative->contrast)
        ww__text_add(text, "as dark as 90 % of black");
    else {
        ww__text_add(text, "where it would print ");
        add_end(text, &negative->spot[negative->other], negative->other_aim);
    }
}

static void add_contrast(ww__text *text, const ww__print_negative *negative,
                         const ww__print_fate *fate, const ww_print_paper *paper) {
    const ww__print_spot *first = &negative->spot[negative->first];
    const ww_optional first_aim = {true, negative->first_aim};
    if (!ww_quantity_present(paper->paper_range)) {
        add_no_contrast(text, negative, fate);
        return;
    }
    if (!negative->contrast) {
        ww__text_add_format(text,
                            "one tone sets no contrast; from it to black this paper takes "
                            "%.2f log H",
                            paper->paper_range.value);
        return;
    }
    ww__text_add_format(text, "it takes %.2f log H from ", paper->paper_range.value);
    add_end(text, first, first_aim);
    ww__text_add(text, " to ");
    add_end(text, &negative->spot[negative->other], negative->other_aim);
    ww__text_add_format(
        text, " and the negative gives %.2f: ", paper->paper_range.value - paper->mismatch);
    if (fabs(paper->mismatch) < 0.005)
        ww__text_add(text, "they match");
    else
        ww__text_add_format(text, "%.2f too %s", fabs(paper->mismatch),
                            paper->mismatch > 0.0 ? "soft" : "hard");
}

static void add_loss(ww__text *text, size_t count, const char *tone, const char *what) {
    if (count == 0)
        return;
    ww__text_add_format(text, "; '%s'", ww__print_show(tone).text);
    if (count > 1)
        ww__text_add_format(text, " and %zu more", count - 1);
    ww__text_add_format(text, ": %s", what);
}

/* "; 2 tones need 1.3 stops of local work in all" */
static void add_work(ww__text *text, const ww_print_paper *paper) {
    size_t n = 0;
    for (size_t i = 0; i < paper->n_tones; i++)
        n += !paper->tone[i].base && paper->tone[i].burn_stops.set ? 1 : 0;
    if (n == 1)
        ww__text_add_format(text, "; one tone needs %.1f %s of local work", paper->work_stops,
                            ww__print_stops(paper->work_stops));
    else if (n > 1)
        ww__text_add_format(text, "; %zu tones need %.1f %s of local work in all", n,
                            paper->work_stops, ww__print_stops(paper->work_stops));
}

/* A slip of typing is in no doubt, so what shows it stands beside the time. */
static void add_odds(ww__text *text, const ww__print_test *test) {
    if (ww__print_budget_at_odds(test))
        ww__text_add_format(text, "; the test print took %.1f %s %s light than this curve%s says",
                            fabs(test->against) / WW__PRINT_LOG_STOP,
                            ww__print_stops(test->against / WW__PRINT_LOG_STOP),
                            test->against > 0.0 ? "more" : "less",
                            test->put_right ? ", put right by earlier prints," : "");
}

ww_status ww__print_words_why(const ww__print_negative *negative, const ww__print_fate *fate,
                              const ww__print_test *test, ww_print_paper *paper, ww_error *err) {
    ww__text text = WW__TEXT_INIT;
    ww_status status;
    assert(!paper->why);
    add_contrast(&text, negative, fate, paper);
    add_work(&text, paper);
    add_loss(&text, fate->unreached, fate->unreached_tone, "its aim is not on this paper");
    add_loss(&text, fate->blocked, fate->blocked_tone,
             "blocked, there is no detail on the film to print");
    add_loss(&text, fate->lost, fate->lost_tone, "lost, its detail falls under 0.02 in the print");
    add_loss(&text, fate->overworked, fate->overworked_tone,
             "it asks for over 4 stops of burning or dodging, which no print takes; check its "
             "reading and its aim");
    add_loss(&text, fate->overdone, fate->overdone_tone,
             "with its moves by hand it gets over 4 stops, which no print takes; move it less");
    add_loss(&text, fate->held_back, fate->held_back_tone,
             "with its moves by hand it is held back the whole time; hold it back less");
    add_loss(&text, fate->merged, fate->merged_tone, "merges into black");
    add_loss(&text, fate->bare, fate->bare_tone,
             "sets the contrast and falls to paper white; place it where it matters");
    add_odds(&text, test);
    ww__text_add(&text, ".");
    status = ww__text_status(&text, err);
    if (status == WW_OK)
        paper->why = text.bytes;
    else
        ww__text_release(&text);
    return status;
}
