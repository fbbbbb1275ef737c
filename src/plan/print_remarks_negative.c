/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_parts.h"
#include <math.h>

typedef ww__print_subject subject;

static const double fogged = 0.50; /* [D] over what a silver film's base+fog has: common practice */
static const double speed_net = 0.10; /* [D] where film speed is measured: ISO 6 */
static const double too_flat = 0.10;  /* [log H] a third of a stop: our own */
static const double stands_out = 2.0; /* [stops] over the next tone: our own, if nothing holds */
static const double long_burn = 3.0;  /* [stops] over 7 x the base exposure: our own */

/* Repeats of one place that disagree are averaged, and that is said. */
static ww_status say_repeats(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_readings *pooled = &s->negative->pooled;
    ww_status status = WW_OK;
    for (size_t i = 0; i < pooled->n && status == WW_OK; i++) {
        const ww_row *row = &pooled->row[i];
        const ww_cell *cell = &row->cell[s->negative->channel];
        if (cell->state != WW_CELL_VALUE || cell->n < 2 || !cell->sd.set ||
            cell->sd.value < WW__PRINT_REPEATS_APART)
            continue;
        status = ww__print_say(
            notes, err,
            "'%s' was read %zu times with a spread of %.2f (1 sd): their mean %.2f is used; one "
            "of them is probably wrong, so read it again.",
            ww__print_show(row->is_base ? "base" : row->tone).text, cell->n, cell->sd.value,
            cell->value);
    }
    return status;
}

/* The densest tone of the picture other than `but`; NULL where there is none other. */
static const ww__print_spot *find_densest(const ww__print_negative *negative,
                                          const ww__print_spot *but) {
    const ww__print_spot *densest = NULL;
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_spot *spot = &negative->spot[i];
        if (spot != but && spot->known && !spot->base && (!densest || spot->seen > densest->seen))
            densest = spot;
    }
    return densest;
}

/* Whether the densest tone, `gap` over the next [D], may be a glint: no burn joins the two, or no
 * paper holds both and this one would hold the rest. */
static bool may_be_glint(const ww_print_paper *paper, double gap) {
    const bool fits = !paper->holds && ww_quantity_present(paper->paper_range) &&
                      paper->mismatch < 0.0 && gap >= -paper->mismatch - WW__PRINT_LIKE_RANGE;
    return gap > (fits ? stands_out : WW__PRINT_MOST_MOVE) * WW__PRINT_LOG_STOP;
}

/*
 * A sun or a lamp that nobody placed sets time or contrast where it is the densest tone: all that
 * matters goes to black for it.
 */
static ww_status say_glint_end(const subject *s, ww_notes *notes, ww_error *err) {
    const ww__print_negative *negative = s->negative;
    const ww__print_spot *glint = find_densest(negative, NULL), *next;
    const bool time = s->request->n_places == 0;
    const bool contrast =
        !time && negative->contrast && glint == &negative->spot[negative->other] && !glint->aim.set;
    if (!(time || contrast) || !ww__print_tones_whole(glint))
        return WW_OK;
    next = find_densest(negative, glint);
    if (!next || !may_be_glint(&s->choice->paper, glint->seen - next->seen))
        return WW_OK;
    return ww__print_say(
        notes, err,
        "'%s' lets %.1f stops less light through than '%s', the next tone, and sets the %s only "
        "because it is the densest. A sun, a lamp or a glint holds no detail and prints white on "
        "any paper: if it is one, place '%s' instead, with --place %s=%.2f.",
        ww__print_show(glint->name).text, (glint->seen - next->seen) / WW__PRINT_LOG_STOP,
        ww__print_show(next->name).text, time ? "time" : "contrast",
        ww__print_show(next->name).text, ww__print_show(next->name).text, WW__PRINT_DENSE_AIM);
}

/* How far a tone lies beyond the first tone that shows [stops]. */
static double stops_short(const subject *s, const ww__print_spot *spot) {
    const double shift = s->choice->fate.first_log_h + ww__print_tones_first(s->negative)->seen;
    double first_tone = 0.0;
    /* It was found there when the tone was taken for a glint. */
    (void)ww__print_papers_log_h(s->choice->sheet, WW__PRINT_FIRST_TONE, &first_tone);
    return (first_tone - shift + spot->seen) / WW__PRINT_LOG_STOP;
}

static ww_status say_glints(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_paper *paper = &s->choice->paper;
    ww_status status = WW_OK;
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (tone->falls != WW_FALLS_GLINT)
            continue;
        status = ww__print_say(
            notes, err,
            "'%s' lies %.1f stops beyond the first tone that shows: a glint, a sun or a lamp, "
            "which prints white on any paper. Leave it white, or give its rim a hint of tone; "
            "burned in it turns to a grey patch without detail. If there is detail in it, read "
            "both ends of that, as part thin and dense.",
            ww__print_show(tone->tone).text,
            stops_short(s, ww__print_tones_named(s->negative, tone->tone)));
    }
    return status;
}

/* The thinnest tone that lets more light through than this one and yet prints lighter than `print`;
 * NULL where there is none. */
static const ww_print_tone *find_overtaken(const ww_print_paper *paper, const ww_print_tone *burned,
                                           double print) {
    const ww_print_tone *thinnest = NULL;
    for (size_t i = 0; i < paper->n_tones; i++) {
        const ww_print_tone *tone = &paper->tone[i];
        if (!tone->base && tone->print_after.set && tone->print_after.value < print &&
            tone->negative < burned->negative_thin.value &&
            (!thinnest || tone->negative < thinnest->negative))
            thinnest = tone;
    }
    return thinnest;
}

/* The two ends of a glint were read as if they were detail: a burn brings them into the picture. */
static ww_status say_long_burns(const subject *s, ww_notes *notes, ww_error *err) {
    const ww_print_paper *paper = &s->choice->paper;
    ww_status status = WW_OK;
    for (size_t i = 0; i < paper->n_tones && status == WW_OK; i++) {
        const ww_print_tone *tone = &paper->tone[i], *other;
        double thin_end;
        if (tone->aim.set || !tone->separation.set || !tone->burn_stops.set ||
            tone->burn_stops.value <= long_burn)
            continue;
        thin_end = WW__PRINT_FIRST_TONE + tone->separation.value;
        other = find_overtaken(paper, tone, thin_end);
        status = ww__print_say(
            notes, err,
            "Burning '%s' adds %.0f times the base exposure, and its thin end then prints "
            "%.2f%s%s%s. If it is a sun, a lamp or a reflection, it needs none: give it one "
            "reading, without a part.",
            ww__print_show(tone->tone).text, exp2(tone->burn_stops.value) - 1.0, thin_end,
            other ? ", darker than '" : "", other ? ww__print_show(other->tone).text : "",
            other ? "', which is thinner on the film" : "");
    }
    return status;
}

/* Absolute density of a silver film's base+fog; a colour film's mask and a stain are no fog. */
static bool find_base_fog(const ww__print_negative *negative, double *base_fog) {
    const ww_meta *meta = &negative->pooled.meta;
    const bool silver = meta->grain == WW_GRAIN_SILVER ||
                        (meta->grain == WW_GRAIN_UNKNOWN && negative->channel == WW_VISUAL);
    const ww__print_spot *base = ww__print_tones_base(negative);
    if (!base || !negative->absolute || !silver || meta->emulsion == WW_EMULSION_COLOUR_NEGATIVE)
        return false;
    *base_fog = base->density;
    return true;
}

static ww_status say_fog(const subject *s, ww_notes *notes, ww_error *err) {
    double base_fog = 0.0;
    if (!find_base_fog(s->negative, &base_fog) || base_fog < fogged)
        return WW_OK;
    return ww__print_say(
        notes, err,
        "The film's base+fog reads %.2f, where a silver film has 0.1 to 0.4. Read it again on "
        "clear film, and the open light without film: if that is 0, the film is fogged, by age, "
        "light or development. Fog lies over every tone alike: it costs time, and the thin tones "
        "the detail that it covers. Place the thinnest tone that must show detail, and look for "
        "the cause before the next film.",
        base_fog);
}

/* What the next film wants. More development adds to contrast, and to fog, and brings nothing where
 * the film got too little light. */
static void write_remedy(const ww__print_negative *negative, ww__text *text) {
    const ww__print_spot *base = ww__print_tones_base(negative), *thinnest = NULL;
    double base_fog = 0.0;
    for (size_t i = 0; i < negative->n; i++) {
        const ww__print_spot *spot = &negative->spot[i];
        if (spot->known && !spot->base && (!thinnest || spot->density < thinnest->density))
            thinnest = spot;
    }
    if (find_base_fog(negative, &base_fog) && base_fog >= fogged)
        ww__text_add(text, " More development would raise the fog as well: look for its cause.");
    if (base && thinnest && thinnest->density - base->density < speed_net)
        ww__text_add_format(text,
                            " '%s' is only %.2f over the film's base: give the next film more "
                            "exposure.",
                            ww__print_show(thinnest->name).text,
                            ww__print_net(thinnest->density - base->density));
    if (text->n == 0)
        ww__text_add(text, " Give the next film more development.");
}

/* A negative that even the hardest paper at hand prints too soft: nothing is lost, and yet the
 * black is no black. */
static ww_status say_flat(const ww__print_negative *negative, const ww__print_candidate candidate[],
                          size_t n, ww_notes *notes, ww_error *err) {
    const ww_print_paper *choice = &candidate[0].paper;
    const ww__print_spot *other = &negative->spot[negative->other];
    ww__text remedy = WW__TEXT_INIT;
    ww_status status;
    if (!negative->contrast || !choice->holds || choice->mismatch < too_flat)
        return WW_OK;
    for (size_t i = 1; i < n; i++)
        if (ww_quantity_present(candidate[i].paper.paper_range) &&
            candidate[i].paper.paper_range.value < choice->paper_range.value)
            return WW_OK;
    write_remedy(negative, &remedy);
    status = ww__text_status(&remedy, err);
    if (status == WW_OK)
        status = ww__print_say(
            notes, err,
            "The negative is too flat for the hardest paper at hand: '%s' misses where it is to "
            "print by %.1f %s. A harder paper or filter, one that takes about %.2f log H, would "
            "hold more contrast; without one the print stays soft.%s",
            ww__print_show(other->name).text, choice->mismatch / WW__PRINT_LOG_STOP,
            ww__print_stops(choice->mismatch / WW__PRINT_LOG_STOP),
            choice->paper_range.value - choice->mismatch, remedy.bytes);
    ww__text_release(&remedy);
    return status;
}

ww_status ww__print_remarks_negative(const ww__print_subject *s,
                                     const ww__print_candidate candidate[], size_t n,
                                     ww_notes *notes, ww_error *err) {
    static const ww__print_remark remarks[] = {say_glint_end, say_repeats, say_fog, say_glints,
                                               say_long_burns};
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0] && status == WW_OK; i++)
        status = remarks[i](s, notes, err);
    return status == WW_OK ? say_flat(s->negative, candidate, n, notes, err) : status;
}
