/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_split.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a split is to do: log H from one net density to another. */
typedef struct wish {
    const ww__print_sheet *of;
    double first, other; /* net D */
    double range;        /* log H */
} wish;

/* How far a share's range is over the one wanted, + too soft; false where it was not measured. */
static bool find_miss(const wish *w, double soft, double *miss) {
    double first = 0.0, other = 0.0;
    if (!ww__print_split_log_h(w->of, soft, w->first, &first) ||
        !ww__print_split_log_h(w->of, soft, w->other, &other))
        return false;
    *miss = fabs(other - first) - w->range;
    return true;
}

/* The share between two pairs, one of them too soft and one too hard. */
static double find_share(const wish *w, double one, double two, bool one_too_soft) {
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (one + two);
        double miss = 0.0;
        if (find_miss(w, middle, &miss) && (miss > 0.0) == one_too_soft)
            one = middle;
        else
            two = middle;
    }
    return 0.5 * (one + two);
}

static bool reach(const ww__print_between *between, double share, double *log_h) {
    const ww__print_sheet *one = between->one, *two = between->two;
    return ww__print_split_log_h(one, one->soft + between->way * (two->soft - one->soft),
                                 share * one->dmax, log_h);
}

static ww_status name_split(const ww_meta *like, double soft, ww_curve *curve, ww_error *err) {
    char label[WW__SPLIT_LABEL];
    ww_meta given = *like, copied;
    ww_status status;
    given.contrast = ww__split_label(soft, label);
    status = ww_meta_copy(&given, &copied, err);
    if (status != WW_OK)
        return status;
    ww_meta_release(&curve->meta);
    curve->meta = copied;
    return WW_OK;
}

/* Its curve, in the place after the last sheet; made is false where no curve follows it. */
static ww_status make_split(const ww__print_sheet *one, const ww__print_sheet *two, double soft,
                            ww__print_sheet *sheet, bool *made, ww_error *err) {
    const ww__print_between between = {one, two, (soft - one->soft) / (two->soft - one->soft),
                                       reach};
    ww_curve *curve = malloc(sizeof *curve);
    ww_status status;
    *made = false;
    if (!curve)
        return ww_error_set(err, WW_EMEMORY, "no memory for a paper between two");
    *curve = (ww_curve)WW_CURVE_INIT;
    status = ww__print_between_fit(&between, curve, made, err);
    if (*made)
        status = name_split(&one->curve->meta, soft, curve, err);
    if (!*made || status != WW_OK) {
        ww_curve_release(curve);
        free(curve);
        *made = false;
        return status;
    }
    curve->meta.exposure_time_s.value += between.way * (two->curve->meta.exposure_time_s.value -
                                                        one->curve->meta.exposure_time_s.value);
    *sheet = (ww__print_sheet){.curve = curve,
                               .own = curve,
                               .channel = &curve->channel[WW_VISUAL],
                               .name = curve->meta.name ? curve->meta.name : one->name,
                               .beside = {one, two},
                               .splits = one->splits,
                               .n_splits = one->n_splits,
                               .soft = soft};
    return WW_OK;
}

static ww_status add_split(const ww__print_sheet *one, const ww__print_sheet *two, double soft,
                           ww__print_sheets *sheets, ww_notes *notes, ww_error *err) {
    ww__print_sheet *sheet = &sheets->sheet[sheets->n];
    bool made = false;
    ww_status status = make_split(one, two, soft, sheet, &made, err);
    if (status != WW_OK)
        return status;
    if (!made)
        return ww__print_say(notes, err,
                             "No share of soft was taken between '%s' and '%s': no curve follows "
                             "both.",
                             one->curve->meta.contrast, two->curve->meta.contrast);
    sheets->n++; /* from here on the sheets own its curve */
    status = ww__print_papers_measure(sheet, err);
    sheet->white = one->white;
    sheet->dmax = one->dmax;
    sheet->black_measured = one->black_measured;
    return status;
}

/* Where the negative's range is beyond both ends of the table. */
static ww_status say_outside(const wish *w, ww_notes *notes, ww_error *err) {
    const ww__print_sheet *end[] = {&w->of->splits[0], &w->of->splits[w->of->n_splits - 1]};
    double miss[2] = {0.0};
    size_t near;
    for (size_t i = 0; i < 2; i++)
        if (!find_miss(w, end[i]->soft, &miss[i]))
            return WW_OK;
    near = fabs(miss[0]) < fabs(miss[1]) ? 0 : 1;
    return ww__print_say(notes, err,
                         "The negative's %.2f log H are %s than any share of the split table "
                         "takes: '%s' takes %.2f, and nothing is taken from beyond what was "
                         "measured.",
                         w->range, miss[near] > 0.0 ? "less" : "more",
                         end[near]->curve->meta.contrast, w->range + miss[near]);
}

ww_status ww__print_split_choose(const ww__print_negative *negative, ww__print_sheets *sheets,
                                 ww_notes *notes, ww_error *err) {
    const ww__print_sheet *pair = NULL;
    wish w = {.first = negative->first_aim};
    double miss = 0.0, next = 0.0;
    for (size_t i = 0; i < sheets->n && !pair; i++)
        pair = sheets->sheet[i].splits;
    if (!pair || !negative->contrast)
        return WW_OK;
    w.of = pair;
    w.other = negative->other_aim.set ? negative->other_aim.value : WW__PRINT_BLACK * pair->dmax;
    w.range = fabs(negative->spot[negative->other].seen - negative->spot[negative->first].seen);
    for (size_t i = 0; i < pair->n_splits; i++)
        if (find_miss(&w, pair[i].soft, &miss) && fabs(miss) < WW__SPLIT_MATCH)
            return WW_OK; /* a measured one is what was wanted */
    for (size_t i = 0; i + 1 < pair->n_splits; i++)
        if (find_miss(&w, pair[i].soft, &miss) && find_miss(&w, pair[i + 1].soft, &next) &&
            (miss > 0.0) != (next > 0.0))
            return add_split(&pair[i], &pair[i + 1],
                             find_share(&w, pair[i].soft, pair[i + 1].soft, miss > 0.0), sheets,
                             notes, err);
    return say_outside(&w, notes, err);
}
