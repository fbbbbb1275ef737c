/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/scanner_common.h"
#include "core/scanner_model.h"
#include "scanner_made.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static const double ln_10 = 2.302585092994045684;

/* A strip of some densities; the wedge is certified to `sd`. */
static void strip_of(ww__scanner_strips *strips, ww__scanner_row row[], const double density[],
                     size_t n, double sd) {
    *strips = (ww__scanner_strips)WW__SCANNER_STRIPS_INIT;
    strips->wedge = (ww__scanner_wedge){sd, false, density[0], density[n - 1]};
    strips->n = 1;
    strips->strip[0] = (ww__scanner_strip){.channel = WW_VISUAL, .row = row, .n = n};
    for (size_t i = 0; i < n; i++)
        row[i] = (ww__scanner_row){.density = density[i]};
}

/* Inverse of a symmetric 3 x 3 by its adjugate, or of 2 x 2 where p is 2. */
static void invert(const double m[3][3], size_t p, double out[]) {
    if (p == 2) {
        const double det = m[0][0] * m[1][1] - m[0][1] * m[1][0];
        const double inverse[] = {m[1][1] / det, -m[0][1] / det, -m[0][1] / det, m[0][0] / det};
        memcpy(out, inverse, sizeof inverse);
        return;
    }
    double det = 0.0;
    for (size_t j = 0; j < 3; j++)
        det += m[0][j] *
               (m[1][(j + 1) % 3] * m[2][(j + 2) % 3] - m[1][(j + 2) % 3] * m[2][(j + 1) % 3]);
    for (size_t i = 0; i < 3; i++)
        for (size_t j = 0; j < 3; j++)
            out[3 * j + i] = (m[(i + 1) % 3][(j + 1) % 3] * m[(i + 2) % 3][(j + 2) % 3] -
                              m[(i + 1) % 3][(j + 2) % 3] * m[(i + 2) % 3][(j + 1) % 3]) /
                             det;
}

/* (J' W J)^-1 of a strip: what a fit says of its p parameters. */
static void fitted(const ww__scanner_strip *strip, const ww__scanner_light *light,
                   const double weight[], size_t p, double out[]) {
    double m[3][3] = {{0.0}};
    for (size_t i = 0; i < strip->n; i++) {
        double g[3];
        ww__scanner_model_gradient(light, strip->row[i].density, g);
        for (size_t a = 0; a < p; a++)
            for (size_t b = 0; b < p; b++)
                m[a][b] += weight[i] * g[a] * g[b];
    }
    invert((const double(*)[3])m, p, out);
}

static void added(const char *what, const double before[], const double after[], size_t p,
                  const double offset[], const double tilt[]) {
    for (size_t i = 0; i < p; i++)
        for (size_t j = 0; j < p; j++)
            test_close(what, after[i * p + j] - before[i * p + j],
                       offset[i] * offset[j] + tilt[i] * tilt[j], 1e-9);
}

/*
 * Source: closed form. Without constant light ln code = (ln k - ln 10 D) / gamma; densities that
 * are all a + b (D - thin) / range too great give it again by gamma (1 + b / range) and by ln k of
 * (1 + b / range) ln k + ln 10 (a - b thin / range), whatever the weights.
 */
static void a_power_takes_up_all_that_a_wedge_is_off(void **state) {
    const double density[] = {0.07, 0.55, 0.91, 1.6, 2.3, 3.07}, sd = 0.004;
    const double weight[] = {1e6, 3e6, 2e6, 7e6, 2e7, 5e7};
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.9, 0.83, 0.0};
    ww__scanner_strips strips;
    ww__scanner_row row[6];
    double before[9], after[9];
    (void)state;
    strip_of(&strips, row, density, 6, sd);
    fitted(&strips.strip[0], &light, weight, 3, before);
    memcpy(after, before, sizeof after);
    ww__scanner_common_add(&strips, &light, true, weight, after);
    const double offset[] = {ln_10 * sd, 0.0, 0.0};
    const double tilt[] = {sd / 3.0 * (log(0.83) - ln_10 * 0.07), 0.0, 1.9 * sd / 3.0};
    added("power", before, after, 3, offset, tilt);
}

/* Source: closed form. Two steps decide k and constant light; the dense one, D2, is b off:
 * dk (10^-D2 - 10^-D1) = b ln 10 k 10^-D2, dk 10^-D1 + d constant = 0. */
static void light_takes_up_what_it_can(void **state) {
    const double density[] = {0.1, 1.7}, weight[] = {4e6, 9e6}, sd = 0.01;
    const ww__scanner_light light = {WW_ENCODING_POWER, 1.0, 0.9, 0.003};
    const double thin = pow(10.0, -0.1), dense = pow(10.0, -1.7);
    ww__scanner_strips strips;
    ww__scanner_row row[2];
    double before[4], after[4];
    (void)state;
    strip_of(&strips, row, density, 2, sd);
    fitted(&strips.strip[0], &light, weight, 2, before);
    memcpy(after, before, sizeof after);
    ww__scanner_common_add(&strips, &light, false, weight, after);
    const double ln_k = sd * ln_10 * dense / (dense - thin);
    const double offset[] = {ln_10 * sd, 0.0}, tilt[] = {ln_k, -0.9 * ln_k * thin};
    added("light", before, after, 2, offset, tilt);
}

/* Source: definition. No row has a say here; of two channels that share a column gamma has twice
 * the variance, and what follows it by half its covariance moves along. */
static void channels_of_one_column_are_one_witness(void **state) {
    const double fit[25] = {4, 0, 0, 0, 1, 0, 4, 0, 0, 0, 0, 0, 4,
                            0, 0, 0, 0, 0, 4, 0, 1, 0, 0, 0, 2};
    const ww__scanner_light light[2] = {{WW_ENCODING_POWER, 2.0, 1.0, 0.0},
                                        {WW_ENCODING_POWER, 2.0, 1.0, 0.0}};
    const double weight[1] = {0.0};
    (void)state;
    for (int own = 0; own < 2; own++) {
        ww__scanner_strips strips = WW__SCANNER_STRIPS_INIT;
        double covariance[25];
        strips.n = 2;
        strips.wedge = (ww__scanner_wedge){0.005, false, 0.0, 3.0};
        strips.strip[0].column = WW_COLUMN_RED;
        strips.strip[1].column = own ? WW_COLUMN_GREEN : WW_COLUMN_RED;
        memcpy(covariance, fit, sizeof covariance);
        ww__scanner_common_add(&strips, light, true, weight, covariance);
        test_close("gamma", covariance[24], own ? 2.0 : 4.0, 1e-12);
        test_close("with k", covariance[4], own ? 1.0 : 2.0, 1e-12);
        test_close("k", covariance[0], own ? 4.0 : 4.5, 1e-12);
        test_close("another", covariance[12], 4.0, 1e-12);
    }
}

/* How often three channels that read one wedge hold what is true of them, and doubt its file. */
typedef struct tally {
    size_t gamma, flare, doubted;
} tally;

static void add_fit(const made_scan *s, const made_truth *truth, tally *t) {
    char spot[] = "dark";
    ww_patch patch = {.step = spot, .n = 5000};
    ww_measured dark = {.bits = 16, .white = 65535.0, .patch = &patch, .n = 1};
    const ww_scanner_options options = {.dark = &dark};
    ww_scanner scanner = WW_SCANNER_INIT;
    ww_error err = WW_ERROR_INIT;
    for (int c = WW_RED; c <= WW_BLUE; c++) {
        dark.has[c] = true;
        patch.channel[c].code = 65535.0 * made_encode(truth, truth->dark);
        patch.channel[c].sd = 5.0;
    }
    test_status("fit", ww_scanner_fit(&s->measured, &s->wedge, &options, &scanner, &err), WW_OK,
                &err);
    const ww_quantity *flare = &scanner.channel[WW_GREEN].flare;
    t->gamma += scanner.gamma.low <= truth->gamma && truth->gamma <= scanner.gamma.high;
    t->flare += flare->low <= truth->flare && truth->flare <= flare->high;
    t->doubted += test_noted(&scanner.notes, "no export encodes so");
    ww_scanner_release(&scanner);
}

/* Source: definition of a 95 % interval, by simulation. The wedge is off as its certificate says,
 * each step on its own or all of them one way, and the channels read one and the same. */
static void one_wedge_is_one_wedge_in_three_channels(void **state) {
    static const struct {
        const char *row;
        double gamma, own, all, tilt;
    } rows[] = {{"each its own", 1.0, 0.005, 0.0, 0.0},
                {"all one way", 1.0, 0.0, 0.005, 0.0},
                {"more and more", 1.0, 0.0, 0.0, 0.005},
                {"each its own, 2.2", 2.2, 0.005, 0.0, 0.0},
                {"more and more, 2.2", 2.2, 0.0, 0.0, 0.005}};
    const double n = 100.0;
    (void)state;
    if (test_quick())
        skip();
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        uint64_t seed = made_seed(41 + r);
        tally t = {0, 0, 0};
        for (int k = 0; k < (int)n; k++) {
            made_truth truth = made_usual(rows[r].gamma);
            made_scan s;
            const double all = rows[r].all * made_normal(&seed);
            const double tilt = rows[r].tilt * made_normal(&seed);
            truth.dark = 0.002;
            made_wedge(&s, 21, 0.05, 0.15, 16);
            s.wedge.meta.wedge_sd = (ww_optional){true, 0.005};
            for (size_t i = 0; i < s.wedge.n; i++)
                s.row[i].cell[WW_COLUMN_VISUAL].value +=
                    all + tilt * (double)i / 20.0 + rows[r].own * made_normal(&seed);
            for (int c = WW_RED; c <= WW_BLUE; c++)
                made_scan_channel(&s, (ww_channel)c, &truth, 0.0, &seed);
            for (size_t i = 0; i < s.wedge.n; i++)
                s.row[i].cell[WW_COLUMN_VISUAL].value = 0.05 + 0.15 * (double)i;
            add_fit(&s, &truth, &t);
        }
        print_message("%s: gamma held in %zu, flare in %zu, doubted in vain %zu of %g\n",
                      rows[r].row, t.gamma, t.flare, t.doubted, n);
        test_true(rows[r].row, (double)t.gamma >= 0.93 * n && (double)t.flare >= 0.93 * n);
        test_true(rows[r].row, (double)t.doubted <= 0.01 * n);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_power_takes_up_all_that_a_wedge_is_off),
        cmocka_unit_test(light_takes_up_what_it_can),
        cmocka_unit_test(channels_of_one_column_are_one_witness),
        cmocka_unit_test(one_wedge_is_one_wedge_in_three_channels),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
