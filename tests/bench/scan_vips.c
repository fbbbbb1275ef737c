/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * scan_vips FILE patches|whole - the same questions put to libvips: mean, sd and median of the
 * middle 60 % of 21 steps, or percentiles of the whole scan by its histogram; each channel by
 * itself.
 */
#include <stdbool.h>
#include <string.h>
#include <vips/vips.h>

enum { STEPS = 21, CHANNELS = 3 };

/* Least code that at least `share` of the counts do not exceed. */
static int quantile(const guint *count, int bins, int bands, int band, double share) {
    double all = 0.0, so_far = 0.0;
    for (int i = 0; i < bins; i++)
        all += count[i * bands + band];
    for (int i = 0; i < bins; i++) {
        so_far += count[i * bands + band];
        if (so_far >= share * all)
            return i;
    }
    return bins - 1;
}

static int tell_counts(VipsImage *part, const double share[], int n_shares) {
    VipsImage *counts;
    if (vips_hist_find(part, &counts, NULL))
        return -1;
    size_t size;
    guint *count = vips_image_write_to_memory(counts, &size);
    for (int c = 0; count && c < CHANNELS; c++)
        for (int i = 0; i < n_shares; i++)
            printf(" %d", quantile(count, counts->Xsize, counts->Bands, c, share[i]));
    printf("\n");
    g_free(count);
    g_object_unref(counts);
    return count ? 0 : -1;
}

static int tell_moments(VipsImage *part) {
    VipsImage *stats;
    if (vips_stats(part, &stats, NULL))
        return -1;
    for (int c = 0; c < CHANNELS; c++)
        printf(" %g %g", *VIPS_MATRIX(stats, 4, c + 1), *VIPS_MATRIX(stats, 5, c + 1));
    g_object_unref(stats);
    return 0;
}

int main(int argc, char **argv) {
    static const double median[] = {0.5}, shares[] = {0.001, 0.01, 0.5, 0.99, 0.999};
    if (argc != 3 || VIPS_INIT(argv[0]))
        return 1;
    const bool whole = strcmp(argv[2], "whole") == 0;
    VipsImage *scan = vips_image_new_from_file(
        argv[1], "access", whole ? VIPS_ACCESS_SEQUENTIAL : VIPS_ACCESS_RANDOM, NULL);
    if (!scan)
        vips_error_exit(NULL);
    if (whole)
        return tell_counts(scan, shares, 5) ? 1 : 0;
    const double from = scan->Xsize / 50, step = (scan->Xsize * 49 / 50 - from) / STEPS;
    const int top = scan->Ysize * 2 / 5, high = scan->Ysize / 5;
    for (int i = 0; i < STEPS; i++) {
        VipsImage *part;
        if (vips_extract_area(scan, &part, (int)(from + step * (i + 0.2)), top + high / 5,
                              (int)(0.6 * step), high * 3 / 5, NULL) ||
            tell_moments(part) || tell_counts(part, median, 1))
            vips_error_exit(NULL);
        g_object_unref(part);
    }
    return 0;
}
