/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <wedgework/lesson_class.h>

static const double same_exposure = 1e-6; /* [log H] */
static const double told = 0.001;         /* chance in a class below which a pair is named */

/* Hundredths that one is above the other, row by row of those that both have. */
static size_t differences(const ww_lesson_member *a, const ww_lesson_member *b, long apart[]) {
    size_t n = 0, k = 0;
    if (a->base.set && b->base.set)
        apart[n++] = lround(100.0 * (a->base.value - b->base.value));
    for (size_t i = 0; i < a->n; i++) {
        while (k < b->n && b->log_h[k] < a->log_h[i] - same_exposure)
            k++;
        if (k < b->n && fabs(b->log_h[k] - a->log_h[i]) <= same_exposure) {
            apart[n++] = lround(100.0 * (a->density[i] - b->density[k]));
            k++;
        }
    }
    return n;
}

/* The difference that most rows share, and how many do. */
static size_t most_common(const long apart[], size_t n, long *shift) {
    size_t most = 0;
    *shift = 0;
    for (size_t i = 0; i < n; i++) {
        size_t count = 0;
        for (size_t k = 0; k < n; k++)
            count += apart[k] == apart[i];
        if (count > most || (count == most && labs(apart[i]) < labs(*shift))) {
            most = count;
            *shift = apart[i];
        }
    }
    return most;
}

/* Binomial probability of `least` or more of n. */
static double at_least(size_t least, size_t n, double p) {
    double sum = 0.0;
    for (size_t k = least; k <= n; k++) {
        const double ln = lgamma((double)n + 1.0) - lgamma((double)k + 1.0) -
                          lgamma((double)(n - k) + 1.0) + (double)k * log(p) +
                          (double)(n - k) * log1p(-p);
        sum += exp(ln);
    }
    return fmin(sum, 1.0);
}

static ww_lesson_pair pair_of(const ww_lesson_class *made, size_t a, size_t b, long apart[]) {
    ww_lesson_pair pair = {.a = a, .b = b};
    long shift;
    pair.rows = differences(&made->member[a], &made->member[b], apart);
    pair.alike = most_common(apart, pair.rows, &shift);
    pair.shift = (double)shift / 100.0;
    return pair;
}

ww_status ww_lesson_class_copied(ww_lesson_class *made, ww_error *err) {
    assert(made && made->n <= WW_LESSON_CLASS_MOST);
    const size_t pairs = made->n * (made->n - 1) / 2;
    size_t longest = 1, n = 0, kept = 0;
    double rows = 0.0, alike = 0.0;
    for (size_t i = 0; i < made->n; i++)
        longest = made->member[i].n + 1 > longest ? made->member[i].n + 1 : longest;
    if (made->n < 3)
        return ww_notes_add(&made->notes, err,
                            "whether readings were copied cannot be told of two files; three show "
                            "how often rows agree by chance");
    ww_lesson_pair *pair = malloc(pairs * sizeof *pair);
    long *apart = malloc(longest * sizeof *apart);
    if (!pair || !apart) {
        free(pair);
        free(apart);
        return ww_error_set(err, WW_EMEMORY, "no memory for a class of %zu", made->n);
    }
    for (size_t a = 0; a < made->n; a++)
        for (size_t b = a + 1; b < made->n; b++, n++) {
            pair[n] = pair_of(made, a, b, apart);
            rows += (double)pair[n].rows;
            alike += (double)pair[n].alike;
        }
    for (size_t i = 0; i < n; i++) {
        /* one more on both sides: a share that was found of few rows is no certainty */
        const double p =
            (alike - (double)pair[i].alike + 1.0) / (rows - (double)pair[i].rows + 2.0);
        pair[i].chance = pair[i].rows > 0
                             ? fmin(1.0, (double)pairs * at_least(pair[i].alike, pair[i].rows, p))
                             : 1.0;
        if (pair[i].chance < told)
            pair[kept++] = pair[i];
    }
    free(apart);
    made->copied = pair;
    made->n_copied = kept;
    return WW_OK;
}
