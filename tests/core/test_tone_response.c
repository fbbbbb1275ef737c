/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings_made.h"
#include "support/printers.h"
#include "support/support.h"
#include <math.h>
#include <wedgework/readings_light.h>
#include <wedgework/start.h>
#include <wedgework/tone_response.h>
#include <wedgework/viewing.h>

static ww_tone_response response; /* large */

static ww_status fit(const ww_readings *readings, ww_column density, ww_notes *notes,
                     ww_error *err) {
    return ww_tone_response_fit(readings, ww_ramp_find(readings), density, NULL, "", &response,
                                notes, err);
}

/* Points of the scale that is used that are off by over `limit`; *worst of them. */
static size_t off_by(printer which, double limit, double *worst, size_t *points) {
    size_t n = 0;
    *points = 0;
    *worst = 0.0;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
        const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
        if (drive > response.to)
            break;
        const double off = fabs(response.density[i] - printer_density(which, drive));
        n += off > limit;
        ++*points;
        *worst = fmax(*worst, off);
    }
    return n;
}

/* Closed forms. 21 greys; readings without error, and with what one reading has. */
static void known_printers(void **state) {
    (void)state;
    static const struct {
        double noise, within, worst, share; /* share of drives that may be off by more */
        unsigned runs;
    } rows[] = {
        {0.005, 0.02, 0.03, 0.01, 5}, {0.0, 0.01, 0.02, 0.05, 1}, {0.01, 0.02, 0.05, 0.05, 5}};
    for (size_t r = 0; r < (test_quick() ? 1 : sizeof rows / sizeof rows[0]); r++)
        for (int which = 0; which < PRINTER_COUNT; which++) {
            size_t off = 0, points = 0, all = 0;
            double most = 0.0;
            for (unsigned seed = 1; seed <= (test_quick() ? 1 : rows[r].runs); seed++) {
                ww_readings readings = printer_read((printer)which, WW_RAMP_GRAY, 21, rows[r].noise,
                                                    7919 * seed, NULL, NULL);
                ww_notes notes = WW_NOTES_INIT;
                ww_error err = WW_ERROR_INIT;
                double worst;
                test_status(printer_name[which], fit(&readings, WW_COLUMN_VISUAL, &notes, &err),
                            WW_OK, &err);
                for (size_t i = 1; i < WW_TONE_RESPONSE_POINTS; i++)
                    test_true("never falls", response.density[i] >= response.density[i - 1]);
                off += off_by((printer)which, rows[r].within, &worst, &points);
                all += points;
                most = fmax(most, worst);
                ww_notes_release(&notes);
                ww_readings_release(&readings);
            }
            print_message("%s, noise %.3f: worst %.4f, %.1f %% off by over %.2f D\n",
                          printer_name[which], rows[r].noise, most,
                          100.0 * (double)off / (double)all, rows[r].within);
            test_true(printer_name[which], most <= rows[r].worst);
            if (!test_quick())
                test_true(printer_name[which], (double)off <= rows[r].share * (double)all);
        }
}

/* What a table holds can be told of with an interval: 95 % of the truth lies in it. */
static void errors(void **state) {
    (void)state;
    size_t inside = 0, all = 0;
    for (unsigned seed = 1; seed <= (test_quick() ? 1 : 12); seed++) {
        const printer which = seed % 2 ? PRINTER_DOTS : PRINTER_PAPER;
        ww_readings readings = printer_read(which, WW_RAMP_GRAY, 21, 0.01, 31 * seed, NULL, NULL);
        ww_notes notes = WW_NOTES_INIT;
        test_status("errors", fit(&readings, WW_COLUMN_VISUAL, &notes, NULL), WW_OK, NULL);
        for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i += 64, all++)
            inside += fabs(response.density[i] -
                           printer_density(which, (double)i / (WW_TONE_RESPONSE_POINTS - 1))) <=
                      1.96 * response.error[i];
        ww_notes_release(&notes);
        ww_readings_release(&readings);
    }
    print_message("intervals hold %.1f %%\n", 100.0 * (double)inside / (double)all);
    if (!test_quick())
        test_true("intervals", (double)inside >= 0.93 * (double)all);
}

/* Read one by one from a printer with an error of 0.012 D (invented): no step was skipped,
 * though it may look so. Of a printer of closed form the twelfth step was. */
static void moved_readings(void **state) {
    (void)state;
    static const double honest[] = {0.05, 0.09, 0.16, 0.20, 0.37, 0.45, 0.52,
                                    0.65, 0.75, 0.85, 1.00, 1.10, 1.23, 1.35,
                                    1.51, 1.63, 1.78, 1.90, 2.06, 2.18, 2.37};
    for (int skipped = 0; skipped < 2; skipped++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        for (int i = 0; i <= 20; i++) {
            const double share = fmin(i < 11 ? i : i + 1, 20.0) / 20.0;
            ww_row *row = made_row(&readings, "", "");
            made_value(&readings, row, WW_COLUMN_GRAY, 5.0 * i);
            made_value(&readings, row, WW_COLUMN_VISUAL,
                       skipped ? 0.01 * round(100.0 * printer_density(PRINTER_PAPER, share))
                               : honest[i]);
        }
        test_status("fit", fit(&readings, WW_COLUMN_VISUAL, &notes, &err), WW_OK, &err);
        test_true("moved", test_noted(&notes, "as if one step had been") == (skipped == 1));
        test_close("moved", response.slip.moved, skipped, 0.0);
        test_true("taken", response.slip.taken == (skipped == 1));
        if (skipped)
            test_close("from", response.slip.control, 55.0, 1e-9);
        ww_notes_release(&notes);
        ww_readings_release(&readings);
    }
}

/* Read in order with an error of 0.005 D, but for grey `at`, which is left out (1) or read again in
 * place of the next one (-1); a row that is left at the end has the last patch once more. */
static ww_readings read_slipped(printer which, int at, int moved, unsigned *seed) {
    ww_readings readings = WW_READINGS_INIT;
    for (int i = 0; i <= 20; i++) {
        const int patch = i < at ? i : i + moved < 20 ? i + moved : 20;
        ww_row *row = made_row(&readings, "", "");
        made_value(&readings, row, WW_COLUMN_GRAY, 5.0 * i);
        made_value(&readings, row, WW_COLUMN_VISUAL,
                   0.01 * round(100.0 * (printer_density(which, patch / 20.0) +
                                         0.005 * printer_noise(seed))));
    }
    return readings;
}

/* Slips are found with their place, and what is moved or not is in doubt by as much as it matters;
 * honest scales are left alone. */
static void slipped_rows(void **state) {
    (void)state;
    size_t told[3] = {0, 0, 0}, taken[3] = {0, 0, 0}, runs = 0, placed = 0, held = 0, all = 0;
    unsigned seed = 90001;
    for (int at = 3; at <= (test_quick() ? 3 : 17); at += 2)
        for (int which = 0; which < PRINTER_FLOOD; which++, runs++)
            for (int moved = -1; moved <= 1; moved++) {
                ww_readings readings = read_slipped((printer)which, at, moved, &seed);
                ww_notes notes = WW_NOTES_INIT;
                test_status("fit", fit(&readings, WW_COLUMN_VISUAL, &notes, NULL), WW_OK, NULL);
                const ww_tone_slip *slip = &response.slip;
                told[moved + 1] += slip->moved != 0;
                taken[moved + 1] += slip->taken;
                placed += slip->moved == moved && moved != 0 &&
                          fabs(slip->control - 5.0 * at) <= 5.0 + 1e-9;
                for (int i = 0; slip->moved != 0 && moved != 0 && i <= 20; i++, all++)
                    held += fabs(ww_tone_response_density(&response, i / 20.0) -
                                 printer_density((printer)which, i / 20.0)) <=
                            1.96 * ww_tone_response_error(&response, i / 20.0) + 0.005;
                ww_notes_release(&notes);
                ww_readings_release(&readings);
            }
    print_message("of %zu scales each: skipped told %zu, taken %zu; read twice %zu, %zu; honest "
                  "%zu, %zu; %zu placed; doubts hold %.1f %%\n",
                  runs, told[2], taken[2], told[0], taken[0], told[1], taken[1], placed,
                  100.0 * (double)held / (double)all);
    if (test_quick())
        return;
    test_true("told", 10 * (told[0] + told[2]) >= 17 * runs);
    test_true("placed", 10 * placed >= 9 * (told[0] + told[2]));
    test_true("honest", told[1] <= 1 && taken[1] == 0);
    test_true("held", (double)held >= 0.95 * (double)all);
}

/* What goes where, and what is said of it. */
static void ends(void **state) {
    (void)state;
    ww_readings readings = printer_read(PRINTER_FLOOD, WW_RAMP_GRAY, 41, 0.0, 1, NULL, NULL);
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    test_status("flood", fit(&readings, WW_COLUMN_VISUAL, &notes, &err), WW_OK, &err);
    test_true("a fall is told", test_noted(&notes, "Density falls again from"));
    test_true("no more than gives its most", response.to > 0.68 && response.to < 0.79);
    test_close("inverse",
               ww_tone_response_density(&response, ww_tone_response_drive(&response, 0.731)), 0.731,
               1e-9);
    test_close("lighter than paper", ww_tone_response_drive(&response, -0.5), 0.0, 0.0);
    test_close("denser than black", ww_tone_response_drive(&response, 2.5), response.to, 0.0);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
}

/* Ink that makes less density from 70 % on, by 0.25 D at last, read with an error of 0.01 D: a
 * reading beyond the densest may well be denser than its neighbour. */
static double flooded(double u) {
    return u < 0.7 ? 0.08 + 1.6 * (1.0 - pow(1.0 - u / 0.7, 2.0))
                   : 1.68 - 0.25 * pow((u - 0.7) / 0.3, 2.0);
}

static void a_noisy_fall(void **state) {
    (void)state;
    for (unsigned run = 1; run <= (test_quick() ? 1 : 8); run++) {
        ww_readings readings = WW_READINGS_INIT;
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        unsigned seed = 613 * run;
        for (int i = 0; i <= 20; i++) {
            ww_row *row = made_row(&readings, "", "");
            made_value(&readings, row, WW_COLUMN_GRAY, 5.0 * i);
            made_value(&readings, row, WW_COLUMN_VISUAL,
                       flooded(i / 20.0) + 0.01 * printer_noise(&seed));
        }
        test_status("fall", fit(&readings, WW_COLUMN_VISUAL, &notes, &err), WW_OK, &err);
        test_true("told", test_noted(&notes, "Density falls again from"));
        test_true("its most", response.to > 0.55 && response.to < 0.75);
        for (int i = 0; i <= 12; i++)
            test_close("fall", ww_tone_response_density(&response, i / 20.0), flooded(i / 20.0),
                       0.03);
        ww_notes_release(&notes);
        ww_readings_release(&readings);
    }
}

/* One reading typed wrong is named, and moves nothing. */
static void slip(void **state) {
    (void)state;
    ww_readings readings = printer_read(PRINTER_DOTS, WW_RAMP_VALUE, 21, 0.005, 77, NULL, NULL);
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    double worst;
    size_t points;
    readings.row[9].cell[WW_COLUMN_VISUAL].value += 0.18;
    test_status("slip", fit(&readings, WW_COLUMN_VISUAL, &notes, &err), WW_OK, &err);
    test_true("named", test_noted(&notes, "at 0.55 is"));
    test_true("left out", off_by(PRINTER_DOTS, 0.02, &worst, &points) == 0);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
}

/* L* says density (CIE 15); base is bare paper; drives may be others than the table's. */
static void columns(void **state) {
    (void)state;
    static double sent[WW_TONE_RESPONSE_POINTS];
    ww_readings readings = WW_READINGS_INIT;
    ww_notes notes = WW_NOTES_INIT;
    ww_error err = WW_ERROR_INIT;
    for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++)
        sent[i] = pow((double)i / (WW_TONE_RESPONSE_POINTS - 1), 1.5);
    for (int i = 0; i <= 20; i++) {
        ww_row *row = made_row(&readings, i == 0 ? "base" : "", "");
        made_value(&readings, row, WW_COLUMN_LAB_L,
                   ww_viewing_lightness(printer_density(PRINTER_DOTS, pow(i / 20.0, 1.5))));
        if (i > 0)
            made_value(&readings, row, WW_COLUMN_GRAY, 5.0 * i);
    }
    ww_readings_light(&readings);
    test_status("L*",
                ww_tone_response_fit(&readings, WW_RAMP_GRAY, WW_COLUMN_VISUAL, sent, "", &response,
                                     &notes, &err),
                WW_OK, &err);
    for (int i = 0; i <= 10; i++)
        test_close("L*", ww_tone_response_density(&response, i / 10.0),
                   printer_density(PRINTER_DOTS, i / 10.0), 0.005);
    ww_notes_release(&notes);
    ww_readings_release(&readings);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_printers), cmocka_unit_test(errors),
        cmocka_unit_test(moved_readings), cmocka_unit_test(ends),
        cmocka_unit_test(slip),           cmocka_unit_test(a_noisy_fall),
        cmocka_unit_test(columns),        cmocka_unit_test(slipped_rows)};
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
