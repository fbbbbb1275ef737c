/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/balance_parts.h"
#include "plan/print_parts.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { COLOURS = WW_BALANCE_COLOURS, PLACES = 400, RANGE_SIZE = 64 };

static const double view_own = 0.2, view_other = 0.1; /* from memory */

const char *ww__balance_label(const ww_row *row) {
    return row->tone[0] ? row->tone : row->step;
}

size_t ww__balance_find(const ww_balance *plan, const char *name) {
    size_t i = 0;
    while (i < plan->n_tones && strcmp(plan->tone[i].tone, name) != 0)
        i++;
    return i;
}

bool ww__balance_has_all(const ww_row *row) {
    for (int c = 0; c < COLOURS; c++)
        if (row->cell[c].state != WW_CELL_VALUE)
            return false;
    return true;
}

/* --- on the paper ----------------------------------------------------------------------------- */

bool ww__balance_sloped(const ww_channel_curve *curve, double *low, double *high) {
    *low = HUGE_VAL;
    *high = -HUGE_VAL;
    for (int i = 0; i <= PLACES; i++) {
        const double log_h =
            curve->domain_low + (curve->domain_high - curve->domain_low) * ((double)i / PLACES);
        double density, slope;
        if (ww_curve_density(curve, log_h, &density, &slope, NULL) != WW_OK ||
            fabs(slope) < WW_BALANCE_SLOPE_LEAST)
            continue;
        *low = fmin(*low, log_h);
        *high = fmax(*high, log_h);
    }
    return *low < *high;
}

/* Rounded inwards, for a reading that was refused must not seem to lie within. */
static double up(double density) {
    return ceil(100.0 * density - 1e-6) / 100.0;
}

static double down(double density) {
    return floor(100.0 * density + 1e-6) / 100.0;
}

/* " between 0.31 and 2.04": where the channel has a slope that readings can be told by. */
static void sloped_range(const ww_channel_curve *curve, char text[RANGE_SIZE]) {
    double low, high, at_low = 0.0, at_high = 0.0;
    text[0] = '\0';
    if (!ww__balance_sloped(curve, &low, &high))
        return;
    (void)ww_curve_density(curve, low, &at_low, NULL, NULL);
    (void)ww_curve_density(curve, high, &at_high, NULL, NULL);
    ww__print_format(text, RANGE_SIZE, " between %.2f and %.2f", up(fmin(at_low, at_high)),
                     down(fmax(at_low, at_high)));
}

static ww_status no_slope(const ww_curve *paper, size_t colour, double density, double slope,
                          ww_error *err) {
    char text[WW__PRINT_TEXT_SIZE], range[RANGE_SIZE];
    sloped_range(&paper->channel[colour], range);
    ww__print_format(text, sizeof text,
                     "no slope at %s %.3f: the paper's curve rises by %.2f D a log H there, where "
                     "0.01 D is over 2.5 CC; take a grey that reads%s",
                     ww_channel_name((ww_channel)colour), density, fabs(slope),
                     range[0] ? range : " on the slope of the curve");
    return ww_error_set(err, WW_ENODATA, "%s", text);
}

static ww_status off_curve(const ww_curve *paper, size_t colour, double density, ww_error *err) {
    const ww_channel_curve *curve = &paper->channel[colour];
    char text[WW__PRINT_TEXT_SIZE], range[RANGE_SIZE];
    double low = 0.0, high = 0.0;
    (void)ww_curve_density(curve, curve->domain_low, &low, NULL, NULL);
    (void)ww_curve_density(curve, curve->domain_high, &high, NULL, NULL);
    sloped_range(curve, range);
    ww__print_format(text, sizeof text,
                     "no slope at %s %.3f: the paper's measured curve runs from %.2f to %.2f; take "
                     "a grey that reads%s",
                     ww_channel_name((ww_channel)colour), density, up(fmin(low, high)),
                     down(fmax(low, high)), range[0] ? range : " on the slope of the curve");
    return ww_error_set(err, WW_ENODATA, "%s", text);
}

ww_status ww__balance_look(const ww_curve *paper, size_t colour, double density, double *log_h,
                           double *slope, ww_error *err) {
    const ww_channel_curve *curve = &paper->channel[colour];
    double at, reached;
    if (ww_curve_log_h(curve, density, &at, NULL) != WW_OK ||
        ww_curve_density(curve, at, &reached, slope, NULL) != WW_OK)
        return off_curve(paper, colour, density, err);
    if (fabs(*slope) < WW_BALANCE_SLOPE_LEAST)
        return no_slope(paper, colour, density, *slope, err);
    *log_h = at;
    return WW_OK;
}

/* --- a grey ----------------------------------------------------------------------------------- */

/* 95 % half-widths at two places become the error between them: a nominal wedge is off all along,
 * so that the difference counts; a measured one's steps are on their own where they lie apart. */
static double wedge_between(const ww_curve *paper, size_t colour, double a, double b) {
    const ww_channel_curve *curve = &paper->channel[colour];
    const ww__print_sheet sheet = {
        .curve = paper, .low = curve->domain_low, .high = curve->domain_high};
    const double at_a = ww__print_budget_wedge(&sheet, a), at_b = ww__print_budget_wedge(&sheet, b);
    const double half = ww__print_budget_wedge_nominal(&sheet)
                            ? fabs(at_a - at_b)
                            : hypot(at_a, at_b) * fmin(fabs(a - b) / WW__PRINT_APART, 1.0);
    return half / WW__BALANCE_95;
}

ww_status ww__balance_place(const ww_curve *paper, const ww_row *row, ww__balance_at *at,
                            ww_error *err) {
    double density[COLOURS], turn[COLOURS][COLOURS], alone;
    ww_status status = WW_OK;
    for (size_t c = 0; c < COLOURS && status == WW_OK; c++) {
        density[c] = row->cell[c].value;
        status = ww__balance_look(paper, c, density[c], &alone, &at->slope[c], err);
    }
    if (status == WW_OK)
        status = ww_layers_log_h(paper, density, at->log_h, turn, err);
    for (size_t k = 0; k < COLOURS && status == WW_OK; k++) {
        at->error[k] = at->per_d[k] = 0.0;
        for (size_t c = 0; c < COLOURS; c++) {
            at->error[k] = hypot(at->error[k], turn[k][c] * ww_readings_error(&row->cell[c]));
            at->per_d[k] = hypot(at->per_d[k], turn[k][c]);
        }
    }
    return status;
}

/* The aim first: where no print can come to it, the print is not to blame. */
static ww_status look_up(const ww__balance_work *work, ww_balance_tone *tone,
                         ww__balance_spot *spot, ww__balance_refused *refused) {
    const ww_curve *paper = work->request->paper;
    ww__balance_at from, to;
    ww_status status = ww__balance_place(paper, refused->aim, &to, &refused->why);
    if (status != WW_OK)
        return ww__balance_blame_aim(refused);
    status = ww__balance_place(paper, refused->print, &from, &refused->why);
    if (status != WW_OK)
        return status;
    memcpy(spot->log_h, from.log_h, sizeof spot->log_h);
    memcpy(spot->error, from.error, sizeof spot->error);
    memcpy(spot->per_d, from.per_d, sizeof spot->per_d);
    memcpy(spot->aim_log_h, to.log_h, sizeof spot->aim_log_h);
    memcpy(spot->aim_error, to.error, sizeof spot->aim_error);
    memcpy(tone->slope, to.slope, sizeof tone->slope);
    ww_layers_dye_sd(paper, from.log_h, to.log_h, spot->dye_sd);
    for (size_t c = 0; c < COLOURS; c++) {
        if (ww_curve_between_sd(&paper->channel[c], spot->log_h[c], spot->aim_log_h[c],
                                &spot->curve_sd[c], NULL) != WW_OK)
            spot->curve_sd[c] = 0.0; /* a note says so */
        spot->wedge_sd[c] = wedge_between(paper, c, spot->log_h[c], spot->aim_log_h[c]);
    }
    return status;
}

/* A status' filters are narrower than a paper's layers and lie beside them: the paper sees a fifth
 * more or less of a difference in the same channel, a tenth of that in another. */
static void doubt_view(const ww_balance_tone *tone, double sd[COLOURS]) {
    for (size_t c = 0; c < COLOURS; c++) {
        sd[c] = 0.0;
        for (size_t k = 0; k < COLOURS; k++)
            sd[c] =
                hypot(sd[c], (k == c ? view_own : view_other) * (tone->aim[k] - tone->print[k]));
    }
}

/* What a negative holds back more, it is given more; log H of the light behind it. */
static void compare_negatives(const ww__balance_work *work, const ww_row *standard,
                              const ww_row *other, ww_balance_tone *tone, ww__balance_spot *spot) {
    if (work->print.meta.status != WW_STATUS_PRINTING)
        doubt_view(tone, spot->dye_sd);
    for (size_t c = 0; c < COLOURS; c++) {
        spot->log_h[c] = -tone->aim[c];
        spot->error[c] = ww_readings_error(&other->cell[c]);
        spot->aim_log_h[c] = -tone->print[c];
        spot->aim_error[c] = ww_readings_error(&standard->cell[c]);
    }
}

/* The print itself does not wait for a tone that no burn can be told for. */
static ww_status no_burn(ww_balance *plan, const char *name, const ww_error *why, ww_error *err) {
    plan->burn.set = true;
    plan->holds = false;
    return ww__print_say(&plan->notes, err,
                         "'%s' was left out, and no burn is given for it: %s. Find its time by "
                         "strips.",
                         ww__print_show(name).text, why->msg);
}

static ww_status take(ww__balance_work *work, const ww_row *print, const ww_row *aim,
                      ww_error *err) {
    ww_balance *plan = work->plan;
    const ww_balance_request *request = work->request;
    ww__balance_spot spot = {.grey = 0};
    ww_balance_tone tone = {.solved = true};
    const char *name = ww__balance_label(print);
    ww__balance_refused refused = {.print = print, .aim = aim, .why = WW_ERROR_INIT};
    const bool wanted = request->tone && strcmp(request->tone, name) == 0;
    for (size_t c = 0; c < COLOURS; c++) {
        tone.print[c] = print->cell[c].value;
        tone.aim[c] = aim->cell[c].value;
    }
    if (plan->kind == WW_BALANCE_NEGATIVE) {
        compare_negatives(work, print, aim, &tone, &spot);
    } else if (look_up(work, &tone, &spot, &refused) != WW_OK) {
        if (request->burn && strcmp(request->burn, name) == 0)
            return no_burn(plan, name, &refused.why, err);
        if (wanted)
            return ww__balance_refuse(work, &refused, err);
        if (!work->refused.print)
            work->refused = refused;
        return ww__print_say(&plan->notes, err, "The grey '%s' was not used: %s.",
                             ww__print_show(name).text, refused.why.msg);
    }
    if (ww__balance_find(plan, name) < plan->n_tones)
        return ww_error_set_at(err, WW_EMISMATCH, work->print.file, print->line,
                               "the grey '%s' stands twice, with two packs, times or parts; give "
                               "the readings of one print (others go into --ring)",
                               ww__print_show(name).text);
    if (plan->n_tones == WW__BALANCE_TONES_MOST)
        return ww_error_set_at(err, WW_EDOMAIN, work->print.file, print->line,
                               "there are over %d greys; give the %d that matter",
                               (int)WW__BALANCE_TONES_MOST, (int)WW__BALANCE_TONES_MOST);
    tone.tone = strdup(name);
    if (!tone.tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for a tone");
    spot.grey = plan->n_tones;
    work->spot[plan->n_tones] = spot;
    plan->tone[plan->n_tones++] = tone;
    return WW_OK;
}

/* --- print and aim ---------------------------------------------------------------------------- */

static size_t count_greys(const ww_readings *readings) {
    size_t n = 0;
    for (size_t i = 0; i < readings->n; i++)
        n += !readings->row[i].is_base;
    return n;
}

/* What the reader of spectra said of a colour that it could not make: "there are no red densities:
 * ... lies outside ...". NULL where it said nothing. */
static const char *why_missing(const ww_readings *readings, ww_channel channel) {
    char begin[48];
    snprintf(begin, sizeof begin, "there are no %s densities: ", ww_channel_name(channel));
    for (size_t i = 0; i < readings->notes.n && !readings->has[channel]; i++)
        if (strncmp(readings->notes.text[i], begin, strlen(begin)) == 0)
            return readings->notes.text[i];
    return NULL;
}

static ww_status check_row(const ww_readings *readings, const ww_row *row, ww_error *err) {
    for (int c = 0; c < COLOURS; c++) {
        const char *why = why_missing(readings, (ww_channel)c);
        if (row->cell[c].state == WW_CELL_VALUE)
            continue;
        if (why)
            return ww_error_set_at(err, WW_ENODATA, readings->file, row->line, "%s", why);
        return ww_error_set_at(err, WW_ENODATA, readings->file, row->line,
                               "the %s density is %s; read this grey through red, green and blue",
                               ww_channel_name((ww_channel)c),
                               row->cell[c].state == WW_CELL_OVER ? "beyond the instrument"
                                                                  : "missing");
    }
    return WW_OK;
}

/* The same grey: the name, and the end of the tone. Single greys go together where one of them has
 * no name. */
static bool same_grey(const ww_row *a, const ww_row *b, bool single) {
    const char *x = ww__balance_label(a), *y = ww__balance_label(b);
    return a->part == b->part && (strcmp(x, y) == 0 || (single && (!*x || !*y)));
}

static const ww_row *find_aim(const ww__balance_work *work, const ww_row *print, bool single) {
    for (size_t i = 0; i < work->aim.n; i++)
        if (!work->aim.row[i].is_base && same_grey(print, &work->aim.row[i], single))
            return &work->aim.row[i];
    return NULL;
}

static ww_status check_unnamed(const ww_readings *readings, size_t n, ww_error *err) {
    for (size_t i = 0; i < readings->n; i++)
        if (n > 1 && !readings->row[i].is_base && !*ww__balance_label(&readings->row[i]))
            return ww_error_set_at(err, WW_ENODATA, readings->file, readings->row[i].line,
                                   "of several greys each needs a name; give it in the column "
                                   "tone, the same in print and aim");
    return WW_OK;
}

static ww_status no_grey(const ww__balance_work *work, const char *name, ww_error *err) {
    const bool print = work->plan->kind == WW_BALANCE_PRINT;
    return ww_error_set_at(err, WW_ENODATA, work->aim.file, 0,
                           "the %s has no reading of the %s grey '%s'; name the same grey in "
                           "the column tone of both",
                           print ? "aim" : "new negative",
                           print ? "print's" : "standard negative's", ww__print_show(name).text);
}

static ww_status check_wanted(ww__balance_work *work, const char *name, const char *option,
                              size_t *index, ww_error *err) {
    *index = ww__balance_find(work->plan, name);
    if (*index < work->plan->n_tones)
        return WW_OK;
    return ww_error_set_at(err, WW_ENODATA, work->print.file, 0,
                           "%s: '%s' is no grey of both print and aim; name one that was read in "
                           "both",
                           option, ww__print_show(name).text);
}

/* Which greys have a say in the pack. */
static ww_status choose(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    const ww_balance_request *request = work->request;
    size_t solved = 0, at;
    ww_status status = WW_OK;
    if (request->tone) {
        status = check_wanted(work, request->tone, "--tone", &at, err);
        for (size_t i = 0; i < plan->n_tones; i++)
            plan->tone[i].solved = i == at;
    }
    if (status == WW_OK && request->burn && !plan->burn.set) {
        status = check_wanted(work, request->burn, "--burn", &at, err);
        if (status == WW_OK) {
            plan->tone[at].solved = false;
            plan->tone[at].burnt = true;
        }
    }
    for (size_t i = 0; i < plan->n_tones; i++)
        solved += plan->tone[i].solved;
    if (status == WW_OK && solved == 0 && work->refused.print)
        return ww__balance_refuse(work, &work->refused, err);
    if (status == WW_OK && solved == 0)
        return ww_error_set_at(err, WW_ENODATA, work->print.file, 0,
                               plan->n_tones == 0
                                   ? "no grey of this print can be used; read a middle grey that "
                                     "the aim has too"
                                   : "only the burnt tone was read; read a grey that the base "
                                     "exposure prints, too");
    return status;
}

ww_status ww__balance_tones(ww__balance_work *work, ww_error *err) {
    ww_balance *plan = work->plan;
    const size_t n = count_greys(&work->print), n_aims = count_greys(&work->aim);
    ww_status status = check_unnamed(&work->print, n, err);
    if (status == WW_OK)
        status = check_unnamed(&work->aim, n_aims, err);
    if (status != WW_OK)
        return status;
    if (n == 0)
        return ww_error_set_at(err, WW_ENODATA, work->print.file, 0,
                               "there is no reading of a grey; read one through red, green and "
                               "blue");
    plan->tone = calloc(WW__BALANCE_TONES_MOST, sizeof *plan->tone);
    if (!plan->tone)
        return ww_error_set(err, WW_EMEMORY, "no memory for tones");
    for (size_t i = 0; i < work->print.n && status == WW_OK; i++) {
        const ww_row *print = &work->print.row[i], *aim;
        if (print->is_base)
            continue;
        aim = find_aim(work, print, n == 1 && n_aims == 1);
        if (!aim && n == 1)
            return no_grey(work, ww__balance_label(print), err);
        if (!aim) {
            status = ww__print_say(&plan->notes, err,
                                   "The grey '%s' has no aim of that name and was not used.",
                                   ww__print_show(ww__balance_label(print)).text);
            continue;
        }
        status = check_row(&work->print, print, err);
        if (status == WW_OK)
            status = check_row(&work->aim, aim, err);
        if (status == WW_OK)
            status = take(work, print, aim, err);
    }
    return status == WW_OK ? choose(work, err) : status;
}
