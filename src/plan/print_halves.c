/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_parts.h"
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/number.h>

/*
 * Between two measured neighbours, filter 2 and filter 3 say, a paper is taken to reach each share
 * of its range at the mean of their log exposures.
 */

bool ww__print_halves_number(const char *label, char word[], size_t size, double *number) {
    const char *at = label + strcspn(label, "0123456789");
    const char *end = at + strspn(at, "0123456789");
    char whole[16];
    size_t length = (size_t)(at - label);
    double half = 0.0;
    while (length > 0 && label[length - 1] == ' ')
        length--;
    if (end == at || (size_t)(end - at) >= sizeof whole || length >= size)
        return false;
    snprintf(word, size, "%.*s", (int)length, label);
    snprintf(whole, sizeof whole, "%.*s", (int)(end - at), at);
    if (strcmp(end, " 1/2") == 0 || strcmp(end, ".5") == 0 || strcmp(end, "\xC2\xBD") == 0)
        half = 0.5;
    else if (*end != '\0')
        return false;
    if (ww_number_parse(whole, '.', number, NULL) != WW_OK)
        return false;
    *number = strcmp(whole, "00") == 0 ? -1.0 : *number + half;
    return true;
}

static const char *text_of(const char *text) {
    return text ? text : "";
}

/* Whether two papers are one material through two filters, or in two grades. */
static bool are_kin(const ww__print_sheet *a, const ww__print_sheet *b, double number[2]) {
    const ww_meta *one = &a->curve->meta, *two = &b->curve->meta;
    char word[2][48];
    return one->name && two->name && strcmp(one->name, two->name) == 0 &&
           strcmp(text_of(one->lot), text_of(two->lot)) == 0 &&
           one->exposure_unit == two->exposure_unit && one->read == two->read &&
           ww__print_halves_number(text_of(one->contrast), word[0], sizeof word[0], &number[0]) &&
           ww__print_halves_number(text_of(two->contrast), word[1], sizeof word[1], &number[1]) &&
           strcmp(word[0], word[1]) == 0;
}

/* Whether another paper of the kind lies between two numbers. */
static bool is_between(const ww__print_sheets *sheets, size_t n, const ww__print_sheet *a,
                       double low, double high) {
    for (size_t i = 0; i < n; i++) {
        double number[2];
        if (&sheets->sheet[i] != a && are_kin(a, &sheets->sheet[i], number) && number[1] > low &&
            number[1] < high)
            return true;
    }
    return false;
}

/* ------------------------------------------------------------------------------ one of them */

static bool half_way(const ww__print_between *between, double share, double *log_h) {
    double one = 0.0, two = 0.0;
    if (!ww__print_papers_log_h(between->one, share * between->one->dmax, &one) ||
        !ww__print_papers_log_h(between->two, share * between->two->dmax, &two))
        return false;
    *log_h = 0.5 * (one + two);
    return true;
}

static char *copy_of(const char *text) {
    const size_t size = strlen(text) + 1;
    char *copy = malloc(size);
    return copy ? memcpy(copy, text, size) : NULL;
}

/* "filter 2.5": what both are called, and the number between. */
static ww_status name_half(const ww__print_sheet *a, double number, ww_curve *curve,
                           ww_error *err) {
    char word[48], label[80];
    double own = 0.0;
    (void)ww__print_halves_number(a->curve->meta.contrast, word, sizeof word, &own);
    const double whole = floor(number);
    if (number == whole)
        snprintf(label, sizeof label, "%s%s%.0f", word, *word ? " " : "", number);
    else if (number < 0.0)
        snprintf(label, sizeof label, "%s%s00 to 0", word, *word ? " " : "");
    else
        snprintf(label, sizeof label, "%s%s%.0f.5", word, *word ? " " : "", whole);
    curve->meta.name = copy_of(a->curve->meta.name);
    curve->meta.contrast = copy_of(label);
    curve->meta.lot = a->curve->meta.lot ? copy_of(a->curve->meta.lot) : NULL;
    return curve->meta.name && curve->meta.contrast
               ? WW_OK
               : ww_error_set(err, WW_EMEMORY, "no memory for a paper's name");
}

/* The curve half-way; false where the two share no range, or no curve follows the points. */
static ww_status make_half(const ww__print_sheet *a, const ww__print_sheet *b, double number,
                           ww_curve *curve, bool *made, ww_error *err) {
    const ww__print_between between = {a, b, 0.5, half_way};
    ww_status status = ww__print_between_fit(&between, curve, made, err);
    if (status != WW_OK || !*made)
        return status;
    status = name_half(a, number, curve, err);
    *made = status == WW_OK;
    if (status != WW_OK)
        ww_curve_release(curve);
    return status;
}

static ww_status add_half(ww__print_sheets *sheets, const ww__print_sheet *a,
                          const ww__print_sheet *b, const double number[2], ww_notes *notes,
                          ww_error *err) {
    ww_curve *curve = malloc(sizeof *curve);
    ww__print_sheet *sheet = &sheets->sheet[sheets->n];
    bool made = false;
    if (!curve)
        return ww_error_set(err, WW_EMEMORY, "no memory for a paper between two");
    *curve = (ww_curve)WW_CURVE_INIT;
    const ww_status status = make_half(a, b, 0.5 * (number[0] + number[1]), curve, &made, err);
    if (made) {
        *sheet = (ww__print_sheet){.curve = curve,
                                   .own = curve,
                                   .channel = &curve->channel[WW_VISUAL],
                                   .name = curve->meta.name,
                                   .beside = {a, b}};
        made = ww__print_papers_measure(sheet, NULL) == WW_OK;
        if (!made)
            ww_curve_release(curve);
    }
    if (!made) {
        free(curve);
        return status == WW_OK
                   ? ww__print_say(notes, err,
                                   "Nothing was taken half-way between '%s' and '%s' of '%s': no "
                                   "curve follows both.",
                                   ww__print_show(a->curve->meta.contrast).text,
                                   ww__print_show(b->curve->meta.contrast).text,
                                   ww__print_show(a->name).text)
                   : status;
    }
    /* Where white and black lie is known of the neighbours better than of the fit. */
    sheet->white = 0.5 * (a->white + b->white);
    sheet->dmax = 0.5 * (a->dmax + b->dmax);
    sheet->black_measured = a->black_measured && b->black_measured;
    sheets->n++;
    return WW_OK;
}

ww_status ww__print_halves_add(ww__print_sheets *sheets, ww_notes *notes, ww_error *err) {
    const size_t n = sheets->n;
    ww_status status = WW_OK;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n && status == WW_OK && sheets->n < 2 * n; k++) {
            const ww__print_sheet *a = &sheets->sheet[i], *b = &sheets->sheet[k];
            double number[2];
            if (i != k && are_kin(a, b, number) && fabs(number[1] - number[0] - 1.0) < 1e-9 &&
                !is_between(sheets, n, a, number[0], number[1]))
                status = add_half(sheets, a, b, number, notes, err);
        }
    return status;
}

/*
 * What is known of both, and a tenth of the way from the one to the other for what is not known of
 * the way between. The tenth is common practice.
 */
double ww__print_halves_width(const ww__print_sheet *sheet, double log_h) {
    double net = 0.0, at[2] = {0.0}, width[2] = {0.0};
    if (!ww__print_papers_net(sheet, log_h, &net, NULL))
        return 0.0;
    const double share = net / sheet->dmax;
    for (int i = 0; i < 2; i++) {
        const ww__print_sheet *beside = sheet->beside[i];
        if (!ww__print_papers_log_h(beside, share * beside->dmax, &at[i]))
            return 0.0;
        width[i] = ww__print_papers_width(beside, at[i]);
    }
    return hypot(0.5 * hypot(width[0], width[1]), WW__PRINT_BETWEEN * fabs(at[1] - at[0]));
}
