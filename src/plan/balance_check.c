/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <string.h>

/* --- numbers ---------------------------------------------------------------------------------- */

static ww_status check_number(double value, double least, double most, const char *what,
                              const char *remedy, ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE];
    if (value >= least && value <= most)
        return WW_OK;
    ww__print_format(text, sizeof text, "%s %g is not within %g to %g; %s", what, value, least,
                     most, remedy);
    return ww_error_set(err, WW_EDOMAIN, "%s", text);
}

ww_status ww__balance_check(const ww_balance_request *request, ww_error *err) {
    const double most = WW_PACK_MOST * fmax(request->head_scale, 1.0);
    ww_status status =
        check_number(request->head_scale, WW_BALANCE_HEAD_LEAST, WW_BALANCE_HEAD_MOST,
                     "a head scale of", "give its dial units per CC", err);
    for (int f = 0; f < WW_FILTER_COUNT && status == WW_OK; f++)
        status = check_number(request->from.pack.cc[f], 0.0, most, "a filter of",
                              "give the pack that the print was made with", err);
    if (status == WW_OK)
        status = check_number(request->from.time_s, WW_BALANCE_TIME_LEAST, WW_BALANCE_TIME_MOST,
                              "a time of", "give the seconds that the print had", err);
    if (status == WW_OK)
        status = check_number(request->filter_step, WW_BALANCE_STEP_LEAST, WW_BALANCE_STEP_MOST,
                              "a filter step of", "give the step that filters are set in", err);
    if (status == WW_OK)
        status = check_number(request->timer_step_s, WW_BALANCE_TIMER_LEAST, WW_BALANCE_TIMER_MOST,
                              "a timer step of", "give the seconds that the timer is set in", err);
    if (status == WW_OK && request->repeatability.set)
        status = check_number(request->repeatability.value, 0.0, WW_BALANCE_REPEATABILITY_MOST,
                              "a repeatability of", "give a standard deviation in density", err);
    return status;
}

/* --- what goes together ----------------------------------------------------------------------- */

typedef struct source {
    const ww_meta *meta;
    const char *file, *what;
} source;

static ww_status mismatch(const source *s, ww_error *err, const char *why) {
    return ww_error_set_at(err, WW_EMISMATCH, s->file, 0, "%s %s", s->what, why);
}

/* Visual densities alone, as spectra of no known status give them, tell of no colour. */
static ww_status check_colour(const ww_readings *readings, const source *s, const char *status,
                              ww_error *err) {
    if (readings->has[WW_RED] || readings->has[WW_GREEN] || readings->has[WW_BLUE])
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, s->file, 0,
                           "%s has no red, green and blue densities; read it through the three "
                           "filters, or, if spectra were read, add a line '# status: %s' to the "
                           "file",
                           s->what, status);
}

/* Densities through different filters are not one scale, and no constant makes them one. */
static ww_status check_alike(const source *a, const source *b, ww_error *err) {
    const ww_meta *x = a->meta, *y = b->meta;
    if (x->status == WW_STATUS_UNKNOWN || y->status == WW_STATUS_UNKNOWN || x->status == y->status)
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, b->file, 0,
                           "%s was read in status %s and %s in status %s, which no constant makes "
                           "alike; read both in one status",
                           b->what, ww_density_status_name(y->status), a->what,
                           ww_density_status_name(x->status));
}

static ww_status check_reflection(const source *s, ww_error *err) {
    const ww_meta *meta = s->meta;
    const ww_material m = meta->material;
    if (m != WW_MATERIAL_UNKNOWN && m != WW_MATERIAL_PAPER && m != WW_MATERIAL_PRINT &&
        m != WW_MATERIAL_STRIP)
        return ww_error_set_at(err, WW_EMISMATCH, s->file, 0,
                               "%s is of a %s, and balance compares prints on paper; give "
                               "densities read from paper",
                               s->what, ww_material_name(m));
    if (meta->density == WW_DENSITY_TRANSMISSION || meta->relative == WW_RELATIVE_BASE)
        return mismatch(s, err,
                        "was read by transmission or from a film's base; read paper by reflection");
    if (meta->relative == WW_RELATIVE_WHITE)
        return mismatch(s, err,
                        "is relative to white, and a cast hides in each paper's own white; give "
                        "densities as read, absolute");
    return WW_OK;
}

static ww_status check_dry(const source *paper, const source *s, ww_error *err) {
    if (s->meta->read != WW_READ_WET || paper->meta->read == WW_READ_WET)
        return WW_OK;
    return mismatch(s, err,
                    "was read wet and the paper's curve is of dry paper, and wet colour prints "
                    "look bluish; read it when it is dry");
}

static ww_status check_lot(const source *against, const source *s, const char *remedy,
                           ww_error *err) {
    const char *a = against->meta->lot, *b = s->meta->lot;
    if (!a || !*a || !b || !*b || strcmp(a, b) == 0)
        return WW_OK;
    return ww_error_set_at(err, WW_EMISMATCH, s->file, 0,
                           "%s is on lot '%s' and %s is of lot '%s'; %s", s->what,
                           ww__print_show(b).text, against->what, ww__print_show(a).text, remedy);
}

static bool is_colour_curve(const ww_curve *paper) {
    for (int c = 0; c < WW_BALANCE_COLOURS; c++)
        if (!paper->channel[c].present || !paper->channel[c].fitted)
            return false;
    return true;
}

static ww_status check_paper(const ww_balance_request *request, source *paper, ww_error *err) {
    *paper = (source){&request->paper->meta, NULL, "the paper's curve"};
    if (!is_colour_curve(request->paper))
        return ww_error_set(err, WW_ENODATA,
                            "the paper's curve lacks red, green or blue; read its steps through "
                            "all three filters and fit them");
    return check_reflection(paper, err);
}

/* The status that readings of this paper should have. */
static const char *paper_status(const ww_curve *paper) {
    const ww_density_status status = paper->meta.status;
    return ww_density_status_name(status == WW_STATUS_UNKNOWN ? WW_STATUS_A : status);
}

/* Without a print, of negatives, the ring-around has the paper alone to go with. */
static ww_status check_ring(const ww_balance_request *request, const source *paper,
                            const source *print, ww_error *err) {
    static const char ring_of_lot[] = "give prints of one lot, or leave --ring out";
    source ring;
    ww_status status;
    if (!request->ring)
        return WW_OK;
    ring = (source){&request->ring->meta, request->ring->file, "the ring-around"};
    status = check_colour(request->ring, &ring, paper_status(request->paper), err);
    if (status == WW_OK)
        status = check_reflection(&ring, err);
    if (status == WW_OK)
        status = check_alike(paper, &ring, err);
    if (status == WW_OK)
        status = check_dry(paper, &ring, err);
    if (status == WW_OK)
        status = check_lot(paper, &ring, ring_of_lot, err);
    return status == WW_OK && print ? check_lot(print, &ring, ring_of_lot, err) : status;
}

ww_status ww__balance_check_print(const ww_balance_request *request, ww_error *err) {
    const source print = {&request->print->meta, request->print->file, "the print"};
    const source aim = {&request->aim->meta, request->aim->file, "the aim"};
    source paper;
    ww_status status = check_paper(request, &paper, err);
    if (status == WW_OK)
        status = check_colour(request->print, &print, paper_status(request->paper), err);
    if (status == WW_OK)
        status = check_colour(request->aim, &aim, paper_status(request->paper), err);
    if (status == WW_OK)
        status = check_reflection(&print, err);
    if (status == WW_OK)
        status = check_reflection(&aim, err);
    if (status == WW_OK)
        status = check_alike(&print, &aim, err);
    if (status == WW_OK)
        status = check_alike(&paper, &print, err);
    if (status == WW_OK)
        status = check_alike(&paper, &aim, err);
    if (status == WW_OK)
        status = check_dry(&paper, &print, err);
    if (status == WW_OK)
        status = check_dry(&paper, &aim, err);
    if (status == WW_OK)
        status = check_lot(&paper, &print, "give the curve of that lot", err);
    return status == WW_OK ? check_ring(request, &paper, &print, err) : status;
}

static ww_status check_film(const source *s, ww_error *err) {
    const ww_meta *meta = s->meta;
    const ww_material m = meta->material;
    if ((m != WW_MATERIAL_UNKNOWN && m != WW_MATERIAL_FILM && m != WW_MATERIAL_NEGATIVE) ||
        meta->density == WW_DENSITY_REFLECTION)
        return mismatch(s, err,
                        "is not of a film; give densities of negatives read by transmission");
    if (meta->relative == WW_RELATIVE_BASE || meta->relative == WW_RELATIVE_WHITE)
        return mismatch(s, err,
                        "is relative to its base, whose mask the paper sees too; give densities "
                        "as read, absolute");
    return WW_OK;
}

ww_status ww__balance_check_negative(const ww_balance_request *request, ww_error *err) {
    const source from = {&request->print->meta, request->print->file, "the standard negative"};
    const source to = {&request->aim->meta, request->aim->file, "the new negative"};
    const char *const film = ww_density_status_name(WW_STATUS_M);
    source paper;
    ww_status status = check_colour(request->print, &from, film, err);
    if (status == WW_OK)
        status = check_colour(request->aim, &to, film, err);
    if (status == WW_OK)
        status = check_film(&from, err);
    if (status == WW_OK)
        status = check_film(&to, err);
    if (status == WW_OK)
        status = check_alike(&from, &to, err);
    if (status == WW_OK && request->paper)
        status = check_paper(request, &paper, err);
    return status == WW_OK && request->paper ? check_ring(request, &paper, NULL, err) : status;
}
