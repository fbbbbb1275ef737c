/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/text.h"
#include "plan/print_split.h"
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/paper.h>

/* A model is not the paper: what its curve may be off by all along a stretch of steps, 1 sd, as a
 * share of what single steps are off by. Simulated papers of other shapes bear it out. */
static const double misfit = 0.5;

void ww__print_sheets_release(ww__print_sheets *sheets) {
    if (!sheets)
        return;
    for (size_t i = 0; i < sheets->n; i++) {
        if (sheets->sheet[i].own)
            ww_curve_release(sheets->sheet[i].own);
        free(sheets->sheet[i].own);
    }
    free(sheets->sheet);
    *sheets = (ww__print_sheets)WW__PRINT_SHEETS_INIT;
}

static bool is_reversal(const ww_curve *curve) {
    bool falling = false;
    for (size_t c = 0; c < WW_CHANNEL_COUNT; c++)
        falling = falling || (curve->channel[c].fitted && curve->channel[c].shape.falling);
    return falling || curve->meta.process == WW_PROCESS_REVERSAL ||
           curve->meta.emulsion == WW_EMULSION_COLOUR_REVERSAL;
}

static ww_status check_curve(const ww_curve *curve, const char *file, ww_error *err) {
    const ww_material material = curve->meta.material;
    const bool named = curve->meta.name && curve->meta.name[0];
    const ww__print_name name = ww__print_show(named ? curve->meta.name : "");
    char what[sizeof name.text + 8] = "this";
    if (named)
        snprintf(what, sizeof what, "'%s'", name.text);
    if (material != WW_MATERIAL_UNKNOWN && material != WW_MATERIAL_PAPER &&
        material != WW_MATERIAL_PRINT && material != WW_MATERIAL_STRIP)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "%s is the curve of a %s; --paper takes curves of papers", what,
                               ww_material_name(material));
    if (is_reversal(curve))
        return ww_error_set_at(
            err, WW_EMISMATCH, file, 0,
            "%s is a reversal material, whose density falls with exposure; grades "
            "and this plan are for papers that print negatives",
            what);
    if (curve->meta.relative == WW_RELATIVE_BASE)
        return ww_error_set_at(err, WW_EMISMATCH, file, 0,
                               "%s is relative to a film base; a paper is absolute or relative to "
                               "white",
                               what);
    return WW_OK;
}

/* Densities through different filters are not one scale. */
static ww_status check_alike(const ww_print_request *request, ww_error *err) {
    const ww_meta *known = request->split && request->split->meta.status != WW_STATUS_UNKNOWN
                               ? &request->split->meta
                               : NULL;
    for (size_t i = 0; i < request->n_papers; i++) {
        const ww_meta *meta = &request->paper[i]->meta;
        const char *file = request->paper_file ? request->paper_file[i] : NULL;
        const ww_status status = check_curve(request->paper[i], file, err);
        if (status != WW_OK)
            return status;
        if (meta->status == WW_STATUS_UNKNOWN)
            continue;
        if (known && known->status != meta->status)
            return ww_error_set(err, WW_EMISMATCH,
                                "papers read in status %s and in status %s can't be compared; read "
                                "them alike",
                                ww_density_status_name(known->status),
                                ww_density_status_name(meta->status));
        known = meta;
    }
    return WW_OK;
}

/* From the curve's own log H to that of the sheet, which may be harder or softer. */
static double on_sheet(const ww__print_sheet *sheet, double curve_log_h) {
    return sheet->pivot + sheet->stretch * (curve_log_h - sheet->pivot);
}

bool ww__print_papers_log_h(const ww__print_sheet *sheet, double net, double *log_h) {
    double curve_log_h = 0.0;
    if (ww_curve_log_h(sheet->channel, sheet->white + net, &curve_log_h, NULL) != WW_OK)
        return false;
    *log_h = on_sheet(sheet, curve_log_h);
    return true;
}

/* Where on the curve a log H of the sheet lies; false where the paper was not measured there. */
static bool find_on_curve(const ww__print_sheet *sheet, double log_h, double *at) {
    const double curve_log_h = sheet->pivot + (log_h - sheet->pivot) / sheet->stretch;
    *at = fmin(fmax(curve_log_h, sheet->channel->domain_low), sheet->channel->domain_high);
    return log_h >= sheet->low && log_h <= sheet->high;
}

bool ww__print_papers_net(const ww__print_sheet *sheet, double log_h, double *net, double *slope) {
    double at = 0.0, density = 0.0, steep = 0.0;
    if (!find_on_curve(sheet, log_h, &at) ||
        ww_curve_density(sheet->channel, at, &density, &steep, NULL) != WW_OK)
        return false;
    *net = density - sheet->white;
    if (slope)
        *slope = steep / sheet->stretch;
    return true;
}

bool ww__print_papers_sd(const ww__print_sheet *sheet, double log_h, double *sd) {
    double at = 0.0, fit = 0.0;
    if (!find_on_curve(sheet, log_h, &at) ||
        ww_curve_density_sd(sheet->channel, at, &fit, NULL) != WW_OK)
        return false;
    *sd = hypot(hypot(fit, sheet->white_sd), misfit * sheet->channel->residual_rms);
    return true;
}

double ww__print_papers_width(const ww__print_sheet *sheet, double log_h) {
    double sd = 0.0, net = 0.0, slope = 0.0;
    if (!ww__print_papers_sd(sheet, log_h, &sd) ||
        !ww__print_papers_net(sheet, log_h, &net, &slope) || !(slope > 0.0))
        return 0.0;
    return WW__PRINT_95 * sd / slope;
}

void ww__print_papers_harden(ww__print_sheet *sheet, double pivot, double stretch) {
    assert(stretch > 0.0);
    sheet->pivot = pivot;
    sheet->stretch = stretch;
    sheet->low = on_sheet(sheet, sheet->channel->domain_low);
    sheet->high = on_sheet(sheet, sheet->channel->domain_high);
}

/* Paper white is the base row's or the fitted one. */
ww_status ww__print_papers_measure(ww__print_sheet *sheet, ww_error *err) {
    const ww_channel_curve *channel = sheet->channel;
    const ww_quantity base = channel->figure[WW_FIGURE_BASE_FOG];
    const ww_quantity dmax = channel->figure[WW_FIGURE_DMAX];
    double low, high;
    ww_status status;
    ww__print_papers_harden(sheet, 0.0, 1.0);
    status = ww_curve_density(channel, channel->domain_low, &low, NULL, err);
    if (status == WW_OK)
        status = ww_curve_density(channel, channel->domain_high, &high, NULL, err);
    if (status != WW_OK)
        return status;
    if (ww_quantity_present(base))
        sheet->white = base.value;
    else
        sheet->white = channel->shape.parameter[0]; /* the shape's own density of no exposure */
    /* A white that was read has an error of its own, beside that of the curve above it. */
    sheet->white_sd = base.how == WW_MEASURED ? 0.5 * (base.high - base.low) / WW__PRINT_95 : 0.0;
    if (sheet->curve->meta.relative == WW_RELATIVE_WHITE)
        sheet->white = sheet->white_sd = 0.0;
    sheet->black_measured = ww_quantity_present(dmax);
    sheet->dmax = (sheet->black_measured ? dmax.value : high) - sheet->white;
    sheet->lightest = low - sheet->white;
    sheet->darkest = high - sheet->white;
    return WW_OK;
}

static ww_status add_sheet(const ww_curve *curve, bool nominal, ww__print_sheets *sheets,
                           ww_notes *notes, ww_error *err) {
    ww__print_sheet *sheet = &sheets->sheet[sheets->n];
    ww_channel channel = WW_VISUAL;
    ww__print_name name;
    *sheet = (ww__print_sheet){.curve = curve, .nominal = nominal};
    snprintf(sheet->label, sizeof sheet->label, "paper %zu", sheets->n + 1);
    sheet->name = curve->meta.name && curve->meta.name[0] ? curve->meta.name : sheet->label;
    name = ww__print_show(sheet->name);
    if (ww_curve_black_and_white_channel(curve, &channel, NULL) != WW_OK ||
        !curve->channel[channel].fitted)
        return ww_notes_add(
            notes, err,
            "'%s' was left out: it has no curve by which a black-and-white print is "
            "judged.",
            name.text);
    sheet->channel = &curve->channel[channel];
    if (ww__print_papers_measure(sheet, NULL) != WW_OK || !(sheet->dmax > 0.0))
        return ww_notes_add(notes, err, "'%s' was left out: its curve has no density range.",
                            name.text);
    sheets->n++;
    if (channel == WW_VISUAL)
        return WW_OK;
    return ww_notes_add(notes, err, "The %s densities of '%s' stand in for visual ones.",
                        ww_channel_name(channel), name.text);
}

/*
 * Nominal papers. D = 0.05 + 2.0/(1 + e^(-s x)): net 0.04 and 90 % of net D-max then lie
 * (ln 49 + ln 9)/s = 6.089045/s apart, which is to be R/100. Source: the closed form; white and
 * D-max are those of a usual glossy paper, from memory. Speeds mean nothing: x is relative.
 */
static const double nominal_white = 0.05, nominal_range = 2.0;

/* Where nothing tells the papers apart the first in the list stands, so the normal grade does. */
static const int nominal_order[] = {2, 3, 1, 4, 0, 5};
enum { NOMINAL_COUNT = sizeof nominal_order / sizeof nominal_order[0] };

static char *copy_text(const char *text) {
    const size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    return copy ? memcpy(copy, text, size) : NULL;
}

static ww_status make_nominal(int grade, ww_curve *curve, ww_error *err) {
    ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    char text[64];
    double iso_range = 0.0, steepness;
    const ww_status status = ww_paper_nominal_range(grade, &iso_range, err);
    if (status != WW_OK)
        return status;
    steepness = (log(49.0) + log(9.0)) / (iso_range / 100.0);
    *curve = (ww_curve)WW_CURVE_INIT;
    channel->present = channel->fitted = true;
    channel->shape = (ww_shape){.model = WW_MODEL_LOGISTIC,
                                .n = 5,
                                .parameter = {nominal_white, nominal_range, steepness, 0.0, 1.0}};
    channel->domain_high = log(999.0) / steepness; /* from net 0.002 to 0.002 under D-max */
    channel->domain_low = -channel->domain_high;
    channel->figure[WW_FIGURE_BASE_FOG] =
        (ww_quantity){nominal_white, nominal_white, nominal_white, WW_GIVEN};
    channel->figure[WW_FIGURE_DMAX] =
        (ww_quantity){nominal_white + nominal_range, nominal_white + nominal_range,
                      nominal_white + nominal_range, WW_GIVEN};
    channel->figure[WW_FIGURE_ISO_RANGE] = (ww_quantity){iso_range, iso_range, iso_range, WW_GIVEN};
    curve->meta.material = WW_MATERIAL_PAPER;
    curve->meta.exposure_unit = WW_UNIT_RELATIVE;
    snprintf(text, sizeof text, "nominal grade %d", grade);
    curve->meta.name = copy_text(text);
    snprintf(text, sizeof text, "%d", grade);
    curve->meta.contrast = copy_text(text);
    if (curve->meta.name && curve->meta.contrast)
        return WW_OK;
    ww_curve_release(curve);
    return ww_error_set(err, WW_EMEMORY, "no memory for a nominal paper");
}

static ww_status add_nominal(int grade, ww__print_sheets *sheets, ww_notes *notes, ww_error *err) {
    ww_curve *curve = malloc(sizeof *curve);
    if (!curve)
        return ww_error_set(err, WW_EMEMORY, "no memory for a nominal paper");
    ww_status status = make_nominal(grade, curve, err);
    if (status == WW_OK) {
        status = add_sheet(curve, true, sheets, notes, err);
        assert(status != WW_OK || sheets->n > 0); /* a logistic curve has all that a sheet needs */
        if (status == WW_OK) {
            sheets->sheet[sheets->n - 1].grade = grade;
            sheets->sheet[sheets->n - 1].own = curve;
            return WW_OK;
        }
        ww_curve_release(curve);
    }
    free(curve);
    return status;
}

static ww_status say_nominal(ww_notes *notes, ww_error *err) {
    return ww__print_say(
        notes, err,
        "No paper was given: NOMINAL papers of grades 0 to 5 stand in, by the usual table of the "
        "negative's range from first tone to black: grade 0 from %.2f log H on, 1 from %.2f, 2 "
        "from %.2f, 3 from %.2f, 4 from %.2f, 5 from %.2f. Makers' grades differ by half a grade "
        "and more, and these have no speed; fit your own paper's curve.",
        ww_paper_grade_least(0), ww_paper_grade_least(1), ww_paper_grade_least(2),
        ww_paper_grade_least(3), ww_paper_grade_least(4), ww_paper_grade_least(5));
}

static ww_status read_nominal(ww__print_sheets *sheets, ww_notes *notes, ww_error *err) {
    ww_status status = say_nominal(notes, err);
    sheets->sheet = calloc(NOMINAL_COUNT, sizeof *sheets->sheet);
    if (!sheets->sheet)
        return ww_error_set(err, WW_EMEMORY, "no memory for nominal papers");
    for (size_t i = 0; i < NOMINAL_COUNT && status == WW_OK; i++)
        status = add_nominal(nominal_order[i], sheets, notes, err);
    return status;
}

static const char *name_of(const ww_curve *curve) {
    return curve->meta.name ? curve->meta.name : "";
}

/* Whether a paper is one of those before it, word for word and number for number. */
static bool is_twice(const ww_print_request *request, size_t i) {
    const ww_curve *paper = request->paper[i];
    for (size_t k = 0; k < i; k++) {
        const ww_curve *other = request->paper[k];
        bool same = ww__text_same(paper->meta.name, other->meta.name) &&
                    ww__text_same(paper->meta.contrast, other->meta.contrast) &&
                    ww__text_same(paper->meta.lot, other->meta.lot);
        for (size_t c = 0; same && c < WW_CHANNEL_COUNT; c++) {
            const ww_channel_curve *a = &paper->channel[c], *b = &other->channel[c];
            same = a->fitted == b->fitted;
            if (same && a->fitted)
                same = a->shape.model == b->shape.model && a->shape.n == b->shape.n &&
                       memcmp(a->shape.parameter, b->shape.parameter,
                              a->shape.n * sizeof a->shape.parameter[0]) == 0;
        }
        if (same)
            return true;
    }
    return false;
}

/* The measured pairs of a split table, each a paper; their curves are the sheets' from here on. */
static ww_status add_splits(ww__split_table *table, ww__print_sheets *sheets, ww_notes *notes,
                            ww_error *err) {
    const size_t first = sheets->n;
    ww_status status = WW_OK;
    for (size_t i = 0; i < table->n && status == WW_OK; i++) {
        const size_t n = sheets->n;
        status = add_sheet(table->pair[i].curve, false, sheets, notes, err);
        if (sheets->n == n)
            continue;
        sheets->sheet[n].own = table->pair[i].curve;
        sheets->sheet[n].soft = table->pair[i].soft;
        sheets->sheet[n].white_sd = table->white_error;
        table->pair[i].curve = NULL;
    }
    ww__print_split_join(&sheets->sheet[first], sheets->n - first);
    return status;
}

/* There is room for what lies half-way between papers, and for one share between two pairs. */
static ww_status read_given(const ww_print_request *request, ww__split_table *table,
                            ww__print_sheets *sheets, ww_notes *notes, ww_error *err) {
    ww_status status = check_alike(request, err);
    if (status != WW_OK)
        return status;
    sheets->sheet = calloc(2 * request->n_papers + table->n + 1, sizeof *sheets->sheet);
    if (!sheets->sheet)
        return ww_error_set(err, WW_EMEMORY, "no memory for %zu papers", request->n_papers);
    for (size_t i = 0; i < request->n_papers && status == WW_OK; i++) {
        if (is_twice(request, i))
            status = ww_notes_add(notes, err, "'%s' was given twice and is listed once.",
                                  ww__print_show(name_of(request->paper[i])).text);
        else
            status = add_sheet(request->paper[i], false, sheets, notes, err);
    }
    if (status == WW_OK)
        status = ww__print_halves_add(sheets, notes, err);
    if (status == WW_OK)
        status = add_splits(table, sheets, notes, err);
    if (status == WW_OK && sheets->n == 0)
        status = ww_error_set(err, WW_ENODATA,
                              "no paper has a fitted curve; fit one from at least 5 exposed steps, "
                              "or leave --paper out for nominal grades");
    return status;
}

ww_status ww__print_papers_read(const ww_print_request *request, ww__print_sheets *sheets,
                                ww_notes *notes, ww_error *err) {
    ww__print_sheets made = WW__PRINT_SHEETS_INIT;
    ww__split_table table = {.pair = NULL};
    ww_status status = WW_OK;
    assert(sheets);
    if (request->split)
        status = ww__split_table_read(request->split, &table, notes, err);
    if (status == WW_OK && request->n_papers == 0 && !request->split)
        status = read_nominal(&made, notes, err);
    else if (status == WW_OK)
        status = read_given(request, &table, &made, notes, err);
    ww__split_table_release(&table);
    if (status == WW_OK)
        *sheets = made;
    else
        ww__print_sheets_release(&made);
    return status;
}
