/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/tones_words.h"
#include "base/escape.h"
#include "out/words.h"
#include <float.h>
#include <math.h>

enum { NAME_SIZE = 120 };

static const double log_stop = 0.30102999566398119521; /* log10 2 */
static const double least = 0.05; /* [stops] a stretch shorter than that is not told */

void ww__tones_stops(ww__text *text, double scene) {
    if (fabs(scene) < 1e-9)
        ww__text_add(text, "white");
    else
        ww__text_add_number(text, scene / log_stop, 1);
}

static double half_of(ww_quantity q) {
    return 0.5 * (q.high - q.low);
}

/* What tells a chain from the others: "'Heron 100' on 'Heron gloss, 3'", or the film, the paper,
 * the channel alone. */
static void add_chain(const ww_tones *tones, const ww_tones_chain *c, ww__text *text) {
    bool films = false, papers = false;
    char shown[NAME_SIZE];
    for (size_t i = 0; i < tones->n; i++) {
        films |= tones->chain[i].film_at != c->film_at;
        papers |= tones->chain[i].paper_at != c->paper_at;
    }
    if (films)
        ww__text_add_format(text, "'%s'", ww__escape_message(c->film, shown, sizeof shown));
    if (papers)
        ww__text_add_format(text, "%s'%s'", films ? " on " : "",
                            ww__escape_message(c->paper, shown, sizeof shown));
    if (c->film_channel == c->paper_channel && c->paper_channel != WW_VISUAL)
        ww__text_add_format(text, "%s%s", films || papers ? " in " : "",
                            ww_channel_name(c->paper_channel));
}

/* ", trust +-0.1" */
static void add_trust(ww_quantity kept, bool doubted, ww__text *text) {
    if (!doubted)
        return;
    ww__text_add(text, ", trust +-");
    ww__text_add_number(
        text, ww_doubt_shown(fmax(kept.high - kept.value, kept.value - kept.low), 0.1), 1);
}

/* --- where detail dies ------------------------------------------------------------------------ */

static bool is_flare(ww_tones_fate fate) {
    return fate == WW_TONES_CAMERA_FLARE || fate == WW_TONES_ENLARGER_FLARE ||
           fate == WW_TONES_VIEWING_FLARE;
}

static bool is_beyond(ww_tones_fate fate) {
    return fate == WW_TONES_BEYOND_FILM || fate == WW_TONES_BEYOND_PAPER;
}

/* "the darkest 1.2" */
static void add_stretch(const ww_tones *tones, const ww_tones_run *run, ww__text *text) {
    const bool light = run->from > -1e-9, dark = run->to < -tones->subject_range + 1e-9;
    ww__text_add(text, light && dark ? "all "
                       : light       ? "the lightest "
                       : dark        ? "the darkest "
                                     : "");
    ww__text_add_number(text, (run->from - run->to) / log_stop, 1);
    if (light || dark)
        return;
    ww__text_add(text, " from ");
    ww__text_add_number(text, -run->from / log_stop, 1);
    ww__text_add(text, " below white on");
}

static void add_losses(const ww_tones *tones, const ww_tones_chain *c, ww__text *text) {
    bool any = false, died = false;
    for (size_t i = 0; i < c->n_runs; i++) {
        const ww_tones_run *run = &c->run[i];
        const bool beyond = is_beyond(run->fate);
        if (run->fate == WW_TONES_KEPT || (run->from - run->to) / log_stop < least)
            continue;
        ww__text_add(text, any ? ", " : "; ");
        add_stretch(tones, run, text);
        ww__text_add(text, beyond ? " lie " : died ? " in " : " die in ");
        ww__text_add_format(text, "%s%s", beyond || is_flare(run->fate) ? "" : "the ",
                            ww_tones_fate_name(run->fate));
        any = true;
        died = died || !beyond;
    }
}

static void add_kept(const ww_tones *tones, const ww_tones_chain *c, ww__text *text) {
    const double all = tones->subject_range / log_stop;
    const bool whole = c->kept_stops.value > all - least;
    ww__text_add_format(text, whole ? "all " : "of the scene's ");
    ww__text_add_number(text, all, 1);
    ww__text_add(text, whole ? " stops of the scene keep their detail" : " stops ");
    if (!whole) {
        ww__text_add_number(text, c->kept_stops.value, 1);
        ww__text_add(text, " keep their detail");
    }
    add_trust(c->kept_stops, c->doubted, text);
    add_losses(tones, c, text);
}

/* One by one where there are two at most; else the table tells them. */
static void add_others(const ww_tones *tones, ww__text *text) {
    const size_t main = ww_tones_main(tones);
    double least_kept = DBL_MAX, most_kept = 0.0;
    bool any = false;
    if (tones->n < 2)
        return;
    ww__text_add(text, " Kept by the others: ");
    for (size_t i = 0; i < tones->n; i++) {
        const double kept = tones->chain[i].kept_stops.value;
        if (i == main)
            continue;
        least_kept = fmin(least_kept, kept);
        most_kept = fmax(most_kept, kept);
        if (tones->n > 3)
            continue;
        ww__text_add(text, any ? ", " : "");
        ww__text_add_number(text, kept, 1);
        ww__text_add(text, " by ");
        add_chain(tones, &tones->chain[i], text);
        any = true;
    }
    if (tones->n > 3)
        ww__words_range(text, least_kept, most_kept, 1);
    ww__text_add(text, ".");
}

static void act_forward(const ww_tones *tones, ww__text *text) {
    const ww_tones_chain *c = &tones->chain[ww_tones_main(tones)];
    if (tones->n > 1) {
        add_chain(tones, c, text);
        ww__text_add(text, ": ");
    }
    add_kept(tones, c, text);
    ww__text_add(text, ".");
    add_others(tones, text);
}

/* --- a wanted print --------------------------------------------------------------------------- */

static void add_slopes(const ww_tones_wanted *w, ww__text *text) {
    if (!w->slope_least.set)
        return;
    ww__text_add(text, " of slope ");
    ww__words_range(text, w->slope_least.value, w->slope_most.value, 2);
}

static double worst_doubt(const ww_tones_wanted *w) {
    double most = 0.0;
    for (size_t i = 0; i < w->n; i++)
        if (w->row[i].want == WW_TONES_HAD)
            most = fmax(most, half_of(w->row[i].negative));
    return most;
}

/* "; 3 are darker than the paper was measured" for each reason that there is. */
static void add_refusals(const ww_tones_wanted *w, ww__text *text) {
    for (int want = WW_TONES_TOO_LIGHT; want <= WW_TONES_REVERSED; want++) {
        size_t n = 0;
        for (size_t i = 0; i < w->n; i++)
            n += w->row[i].want == (ww_tones_want)want;
        if (n > 0)
            ww__text_add_format(text, "; %zu %s %s", n, n == 1 ? "is" : "are",
                                ww_tones_want_name((ww_tones_want)want));
    }
}

static void add_given(const ww_tones *tones, ww__text *text) {
    const ww_tones_wanted *w = &tones->wanted;
    char shown[NAME_SIZE];
    if (tones->n == 0 || !w->worst.set)
        return;
    ww__text_add_format(
        text, " '%s' is at most ",
        ww__escape_message(tones->chain[ww_tones_main(tones)].film, shown, sizeof shown));
    ww__text_add_number(text, fabs(w->worst.value), 2);
    ww__text_add_format(text, " D %s than that, ", w->worst.value < 0.0 ? "thinner" : "denser");
    ww__text_add_number(text, fabs(w->row[w->worst_at].scene) / log_stop, 1);
    ww__text_add(text, " stops below white.");
}

static void act_wanted(const ww_tones *tones, ww__text *text) {
    const ww_tones_wanted *w = &tones->wanted;
    char shown[NAME_SIZE];
    ww__text_add(text, "a film");
    add_slopes(w, text);
    ww__text_add(text, " over a range of ");
    ww__words_optional(text, w->range);
    ww__text_add_format(text, " D gives this print on '%s' in ",
                        ww__escape_message(w->paper, shown, sizeof shown));
    if (w->n_had == w->n)
        ww__text_add_format(text, "all its %zu tones", w->n);
    else
        ww__text_add_format(text, "%zu of its %zu tones", w->n_had, w->n);
    if (w->doubted) {
        ww__text_add(text, ", trust +-");
        ww__text_add_number(text, ww_doubt_shown(worst_doubt(w), 0.01), 2);
        ww__text_add(text, " D");
    }
    add_refusals(w, text);
    ww__text_add(text, ".");
    add_given(tones, text);
}

void ww__tones_act(const ww_tones *tones, ww__text *text) {
    if (tones->wanted.given)
        act_wanted(tones, text);
    else
        act_forward(tones, text);
}

/* --- why -------------------------------------------------------------------------------------- */

/* "camera 1.00 x film 0.60 x ..." */
static void add_links(const ww_tone_point *point, ww__text *text) {
    for (int k = 0; k < WW_TONE_LINKS; k++) {
        ww__text_add_format(text, "%s%s ", k > 0 ? " x " : "", ww_tone_link_name((ww_tone_link)k));
        ww__text_add_number(text, point->slope[k].value, 2);
    }
}

static void add_ends(const ww_tones_chain *c, ww__text *text) {
    const ww_tones_row *light = &c->row[0], *dark = &c->row[c->n - 1];
    if (!ww_quantity_present(light->print) || !ww_quantity_present(dark->print))
        return;
    ww__text_add(text, " The scene prints from ");
    ww__words_range(text, light->print.value, dark->print.value, 2);
    ww__text_add(text, " D, L* ");
    ww__text_add_number(text, light->lightness.value, 0);
    ww__text_add(text, " to ");
    ww__text_add_number(text, dark->lightness.value, 0);
    ww__text_add(text, ".");
}

static void why_forward(const ww_tones *tones, ww__text *text) {
    const ww_tones_chain *c = &tones->chain[ww_tones_main(tones)];
    const ww_tones_row *grey = &c->grey;
    if (!ww_quantity_present(grey->print)) {
        ww__text_add_format(text, "why: middle grey, 18 %% of white, lies %s.",
                            ww_tones_fate_name(grey->fate));
        add_ends(c, text);
        return;
    }
    ww__text_add(text, "why: middle grey, 18 % of white, prints at ");
    ww__text_add_number(text, grey->print.value, 2);
    ww__text_add(text, " D, L* ");
    ww__text_add_number(text, grey->lightness.value, 1);
    ww__text_add(text, ", with a gradient of ");
    ww__text_add_number(text, grey->gradient.value, 2);
    ww__text_add(text, ": ");
    add_links(&grey->point, text);
    ww__text_add(text, ".");
    add_ends(c, text);
}

static void why_wanted(const ww_tones *tones, ww__text *text) {
    const ww_tones_wanted *w = &tones->wanted;
    if (w->straight) {
        ww__text_add(text, "why: a straight print of slope ");
        ww__text_add_number(text, w->slope, 2);
        ww__text_add(text, " from net 0.04 at white was asked for; ");
    } else
        ww__text_add_format(text, "why: %zu tones of a print were asked for; ", w->n);
    ww__text_add(text, "each was taken back through viewing light, paper, enlarger and camera.");
}

void ww__tones_why(const ww_tones *tones, ww__text *text) {
    if (tones->wanted.given)
        why_wanted(tones, text);
    else
        why_forward(tones, text);
}
