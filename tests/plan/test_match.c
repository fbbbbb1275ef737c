/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/readings_made.h"
#include "support/printers.h"
#include "support/support.h"
#include <math.h>
#include <stdio.h>
#include <wedgework/curve_file.h>
#include <wedgework/match.h>
#include <wedgework/readings_file.h>
#include <wedgework/start.h>

enum { GRAYS = 21 };

static ww_match match; /* large */

static ww_readings read_of(printer which, double noise, unsigned seed) {
    return printer_read(which, WW_RAMP_GRAY, GRAYS, noise, seed, NULL, NULL);
}

/* Drives that are kept and where the real printers differ by over `limit`. */
static size_t misses(const ww_match_channel *c, printer a, printer b, bool absolute, double limit,
                     double *worst) {
    const double shift = absolute ? 0.0 : printer_density(b, 0.0) - printer_density(a, 0.0);
    size_t n = 0;
    *worst = 0.0;
    for (int i = 0; i <= 1000; i++) {
        const double drive = i / 1000.0;
        if (drive < c->kept_from || drive > c->kept)
            continue;
        const double miss =
            fabs(printer_density(b, ww_match_out(c, drive)) - (printer_density(a, drive) + shift));
        n += miss > limit;
        *worst = fmax(*worst, miss);
    }
    return n;
}

/* Rises, and no step of 1/255 of the picture moves the print by over `most` L*. */
static void check_curve(const char *row, const ww_match_channel *c, double most) {
    test_close(row, c->out[0], 0.0, 1e-12);
    test_close(row, c->out[WW_MATCH_POINTS - 1], c->print.to, 1e-12);
    for (size_t i = 1; i < WW_MATCH_POINTS; i++) {
        test_true(row, c->out[i] >= c->out[i - 1]);
        test_true(row,
                  ww_viewing_lightness(ww_tone_response_density(&c->print, c->out[i - 1])) -
                          ww_viewing_lightness(ww_tone_response_density(&c->print, c->out[i])) <
                      most);
    }
}

/* The greatest miss of all tones that are kept lies within the doubt told of it. */
static void doubts_hold(void **state) {
    (void)state;
    static const double noises[] = {0.005, 0.01, 0.02};
    size_t held = 0, all = 0;
    for (unsigned seed = 1; seed <= (test_quick() ? 1 : 72); seed++, all++) {
        const printer a = (printer)(seed % 3), b = (printer)(seed / 3 % PRINTER_COUNT);
        const double noise = noises[seed / 12 % 3];
        ww_readings aim = read_of(a, noise, 7001 * seed), print = read_of(b, noise, 9001 * seed);
        const ww_match_request request = {.aim = &aim, .print = &print};
        double worst;
        test_status("match", ww_match_make(&request, &match, NULL), WW_OK, NULL);
        misses(&match.channel[0], a, b, false, 0.0, &worst);
        held += worst <= ceil(100.0 * match.kept_miss.doubt) / 100.0;
        ww_match_release(&match);
        ww_readings_release(&aim);
        ww_readings_release(&print);
    }
    print_message("of %zu the doubt as told holds the greatest miss in %zu\n", all, held);
    if (!test_quick())
        test_true("doubts hold", (double)held >= 0.95 * (double)all);
}

/* Closed forms: every printer made to print as every other. */
static void known_printers(void **state) {
    (void)state;
    static const struct {
        double noise, worst, steep, share; /* steep: worst where a white is left steeply */
    } rows[] = {{0.0, 0.01, 0.01, 0.0}, {0.005, 0.02, 0.02, 0.0}, {0.01, 0.045, 0.06, 0.06}};
    for (size_t r = 0; r < sizeof rows / sizeof rows[0]; r++) {
        double most = 0.0;
        size_t off = 0, pairs = 0;
        for (int a = 0; a < (test_quick() ? 1 : PRINTER_COUNT); a++)
            for (int b = 0; b < PRINTER_COUNT; b++, pairs++) {
                ww_readings aim = read_of((printer)a, rows[r].noise, 104729);
                ww_readings print = read_of((printer)b, rows[r].noise, 7919);
                const ww_match_request request = {.aim = &aim, .print = &print};
                ww_error err = WW_ERROR_INIT;
                double worst;
                test_status(printer_name[b], ww_match_make(&request, &match, &err), WW_OK, &err);
                /* A white left steeply is followed, up to errors of reading. */
                const double own = ww_viewing_lightness(printer_density((printer)a, 0.0)) -
                                   ww_viewing_lightness(printer_density((printer)a, 1.0 / 255.0));
                check_curve(printer_name[b], &match.channel[0], fmax(2.0, 1.25 * own));
                off += misses(&match.channel[0], (printer)a, (printer)b, false, 0.02, &worst);
                most = fmax(most, worst);
                test_true("worst",
                          worst <= (a == PRINTER_STEEP || b == PRINTER_STEEP ? rows[r].steep
                                                                             : rows[r].worst));
                test_true("holds", match.holds);
                ww_match_release(&match);
                ww_readings_release(&aim);
                ww_readings_release(&print);
            }
        print_message("noise %.3f: worst of %zu pairs %.4f D, %.2f %% off by over 0.02 D\n",
                      rows[r].noise, pairs, most, (double)off / 10.01 / (double)pairs);
        test_true("share", (double)off <= rows[r].share * 1001.0 * (double)pairs);
    }
}

/* Densities themselves: out of reach of a paper that prints less, within that of one that prints
 * more, whose black is then left unused. */
static void absolute(void **state) {
    (void)state;
    static const struct {
        printer aim, print;
        bool holds;
        double black;
    } rows[] = {{PRINTER_LIGHT, PRINTER_DOTS, false, 1.62},
                {PRINTER_DOTS, PRINTER_LIGHT, true, 1.62}};
    for (size_t i = 0; i < 2; i++) {
        ww_readings aim = read_of(rows[i].aim, 0.0, 1), print = read_of(rows[i].print, 0.0, 1);
        const ww_match_request request = {.aim = &aim, .print = &print, .absolute = true};
        ww_error err = WW_ERROR_INIT;
        double worst;
        test_status("absolute", ww_match_make(&request, &match, &err), WW_OK, &err);
        const ww_match_channel *c = &match.channel[0];
        test_true("holds", match.holds == rows[i].holds);
        misses(c, rows[i].aim, rows[i].print, true, 0.02, &worst);
        test_true("kept", worst <= 0.01);
        test_close("black", printer_density(rows[i].print, ww_match_out(c, 1.0)), rows[i].black,
                   0.01);
        test_true("white", match.holds || test_noted(&match.notes, "darker than the aim's white"));
        ww_match_release(&match);
        ww_readings_release(&aim);
        ww_readings_release(&print);
    }
}

/* CIE 15: L* of -log10 Y, in equal steps from paper to black. */
static void lightness(void **state) {
    (void)state;
    ww_readings print = printer_read(PRINTER_DOTS, WW_RAMP_VALUE, GRAYS, 0.0, 1, NULL, NULL);
    const ww_match_request request = {.print = &print};
    const double white = ww_viewing_lightness(0.07), black = ww_viewing_lightness(1.62);
    ww_error err = WW_ERROR_INIT;
    test_status("lightness", ww_match_make(&request, &match, &err), WW_OK, &err);
    for (int i = 0; i <= 10; i++) {
        const double send = 1.0 - ww_match_value(&match, 0, i / 10.0);
        test_close("equal steps", ww_viewing_lightness(printer_density(PRINTER_DOTS, send)),
                   black + i / 10.0 * (white - black), 0.1);
    }
    ww_match_release(&match);
    ww_readings_release(&print);
}

static double through(void *of, double drive) {
    return ww_match_out(of, drive);
}

/* A second print, made with the correction by an output that has moved since: what its readings
 * show is followed. */
static void refine(void **state) {
    (void)state;
    static ww_match before;
    ww_readings aim = read_of(PRINTER_LIGHT, 0.005, 3), print = read_of(PRINTER_PAPER, 0.005, 5);
    ww_match_request request = {.aim = &aim, .print = &print};
    ww_error err = WW_ERROR_INIT;
    double worst;
    test_status("first", ww_match_make(&request, &before, &err), WW_OK, &err);
    misses(&before.channel[0], PRINTER_LIGHT, PRINTER_DOTS, false, 0.02, &worst);
    test_true("the output has moved", worst > 0.1);
    ww_readings later =
        printer_read(PRINTER_DOTS, WW_RAMP_GRAY, GRAYS, 0.005, 9, through, &before.channel[0]);
    const ww_readings *const pass[] = {&later};
    request.refine = pass;
    request.n_refine = 1;
    test_status("second", ww_match_make(&request, &match, &err), WW_OK, &err);
    misses(&match.channel[0], PRINTER_LIGHT, PRINTER_DOTS, false, 0.02, &worst);
    print_message("after a second print of another output: worst %.4f D\n", worst);
    test_true("followed", worst <= 0.03);
    test_true("told", test_noted(&match.notes, "The corrected print moved"));
    ww_match_release(&before);
    ww_match_release(&match);
    ww_readings_release(&aim);
    ww_readings_release(&print);
    ww_readings_release(&later);
}

/* The same print read again as its own second pass was not sent through the curve; where the curve
 * does nothing (an output made to print as itself), nothing tells whether it was. */
static void not_corrected(void **state) {
    (void)state;
    ww_readings aim = read_of(PRINTER_LIGHT, 0.005, 3), print = read_of(PRINTER_DOTS, 0.005, 5);
    ww_readings again = read_of(PRINTER_DOTS, 0.005, 11);
    const ww_readings *const same[] = {&print}, *const anew[] = {&again}, *const aims[] = {&aim};
    ww_match_request request = {.aim = &aim, .print = &print, .n_refine = 1};
    ww_error err = WW_ERROR_INIT;
    request.refine = same;
    test_status("the same file", ww_match_make(&request, &match, &err), WW_EMISMATCH, &err);
    test_holds("asks", err.msg, "was it sent through the curve?");
    request.refine = anew;
    test_status("another print", ww_match_make(&request, &match, &err), WW_EMISMATCH, &err);
    test_holds("how near", err.msg, "reads as the output without the curve (0.0");
    request.refine = aims;
    test_status("the aim itself", ww_match_make(&request, &match, &err), WW_EMISMATCH, &err);
    test_holds("the output's most", err.msg, "is this the corrected print?");
    request.refine = anew;
    request.aim = &print;
    test_status("a curve of nothing", ww_match_make(&request, &match, &err), WW_OK, &err);
    ww_match_release(&match);
    ww_readings_release(&aim);
    ww_readings_release(&print);
    ww_readings_release(&again);
}

/* Readings of three channels: values alike, densities of their own. */
static ww_readings colours(const printer which[3]) {
    ww_readings readings = WW_READINGS_INIT;
    for (int i = 0; i < GRAYS; i++) {
        const double drive = (double)i / (GRAYS - 1);
        ww_row *row = made_row(&readings, "", "");
        for (int c = 0; c < 3; c++) {
            made_value(&readings, row, (ww_column)(WW_COLUMN_VALUE_RED + c), 1.0 - drive);
            made_value(&readings, row, (ww_column)(WW_COLUMN_RED + c),
                       printer_density(which[c], drive));
        }
    }
    return readings;
}

static void three_curves(void **state) {
    (void)state;
    static const printer one[] = {PRINTER_DOTS, PRINTER_LIGHT, PRINTER_PAPER},
                         other[] = {PRINTER_PAPER, PRINTER_DOTS, PRINTER_LIGHT};
    ww_readings aim = colours(one), print = colours(other);
    const ww_match_request request = {.aim = &aim, .print = &print};
    ww_error err = WW_ERROR_INIT;
    test_status("colours", ww_match_make(&request, &match, &err), WW_OK, &err);
    test_true("three", match.n == 3);
    for (size_t c = 0; c < 3; c++) {
        double worst;
        test_true(match.channel[c].name,
                  misses(&match.channel[c], one[c], other[c], false, 0.02, &worst) == 0);
    }
    test_text("green", match.channel[1].name, "green");
    ww_match_release(&match);
    ww_readings_release(&aim);
    ww_readings_release(&print);
}

/* Readings of a real, published colour paper, as of a laser whose log exposure runs with what is
 * sent over all that was published of a channel. */
static ww_readings paper_of(const char *file) {
    static const char *const names[] = {"r", "g", "b"};
    ww_readings readings = WW_READINGS_INIT;
    char *path = test_data(file), line[128], channel[16];
    FILE *in = path ? fopen(path, "r") : NULL;
    double least[3] = {HUGE_VAL, HUGE_VAL, HUGE_VAL}, most[3] = {-HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    double log_h, density;
    free(path);
    if (!in)
        return readings;
    for (int pass = 0; pass < 2; pass++) {
        rewind(in);
        while (fgets(line, sizeof line, in)) {
            if (sscanf(line, "%15[a-z],%lf,%lf", channel, &log_h, &density) != 3)
                continue;
            for (int c = 0; c < 3; c++) {
                if (strcmp(channel, names[c]) != 0)
                    continue;
                const double drive = (log_h - least[c]) / (most[c] - least[c]);
                if (pass == 0) {
                    least[c] = fmin(least[c], log_h);
                    most[c] = fmax(most[c], log_h);
                    continue;
                }
                ww_row *row = made_row(&readings, "", "");
                for (int k = 0; k < 3; k++)
                    made_value(&readings, row, (ww_column)(WW_COLUMN_VALUE_RED + k), 1.0 - drive);
                made_value(&readings, row, (ww_column)(WW_COLUMN_RED + c), density);
            }
        }
    }
    fclose(in);
    return readings;
}

/* One published colour paper made to print as another, where both were digitised: in between
 * readings nobody knows more than the 0.02 D by which two digitisations differ. */
static void real_papers(void **state) {
    (void)state;
    ww_readings aim = paper_of("curves/fuji_crystal_archive_pro_pdii.csv");
    ww_readings print = paper_of("curves/kodak_supra_endura_paper.csv");
    if (aim.n == 0 || print.n == 0)
        skip();
    const ww_match_request request = {.aim = &aim, .print = &print};
    ww_error err = WW_ERROR_INIT;
    test_status("papers", ww_match_make(&request, &match, &err), WW_OK, &err);
    for (size_t k = 0; k < match.n; k++) {
        const ww_match_channel *c = &match.channel[k];
        print_message("%s: %.2f to %.2f D as %.2f to %.2f, noise %.4f %.4f, worst %.3f\n", c->name,
                      c->white, c->black, c->aim.density[0],
                      ww_tone_response_density(&c->aim, c->aim.to), c->aim.noise, c->print.noise,
                      c->worst.density);
        check_curve(c->name, c, 2.0);
        test_true(c->name, c->aim.noise < 0.02 && c->print.noise < 0.02);
        for (size_t i = 0; i < WW_TONE_RESPONSE_POINTS; i++) {
            const double drive = (double)i / (WW_TONE_RESPONSE_POINTS - 1);
            if (drive <= c->kept)
                test_close(c->name, ww_tone_response_density(&c->print, ww_match_out(c, drive)),
                           c->wanted[i], 0.005);
        }
    }
    ww_match_release(&match);
    ww_readings_release(&aim);
    ww_readings_release(&print);
}

/* ISO 28178 text of somebody's ink ramps: the cyan one in red light is the scale of an output. */
static void real_ramp(void **state) {
    (void)state;
    char *path = test_data("cgats/density_ramps_DRGBV_LAB.txt");
    ww_readings all = WW_READINGS_INIT, print = WW_READINGS_INIT;
    ww_error err = WW_ERROR_INIT;
    if (!path)
        skip();
    test_status("ramps", ww_readings_file_read(path, &all, &err), WW_OK, &err);
    for (size_t i = 0; i <= 20; i++) { /* samples 0 to 20: 0 to 100 % */
        ww_row *row = made_row(&print, "", "");
        made_value(&print, row, WW_COLUMN_GRAY, 5.0 * (double)i);
        made_value(&print, row, WW_COLUMN_RED, all.row[i].cell[WW_COLUMN_RED].value);
    }
    ww_readings aim = read_of(PRINTER_DOTS, 0.0, 1);
    for (size_t i = 0; i < aim.n; i++)
        made_value(&aim, &aim.row[i], WW_COLUMN_RED, aim.row[i].cell[WW_COLUMN_VISUAL].value);
    const ww_match_request request = {.aim = &aim, .print = &print};
    test_status("ramp", ww_match_make(&request, &match, &err), WW_OK, &err);
    test_close("white", match.channel[0].white, 0.062, 0.01); /* as read */
    test_close("black", match.channel[0].black, 1.48, 0.02);
    check_curve("ramp", &match.channel[0], 2.0);
    ww_match_release(&match);
    ww_readings_release(&all);
    ww_readings_release(&print);
    ww_readings_release(&aim);
    free(path);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(doubts_hold),  cmocka_unit_test(known_printers),
        cmocka_unit_test(absolute),     cmocka_unit_test(lightness),
        cmocka_unit_test(refine),       cmocka_unit_test(not_corrected),
        cmocka_unit_test(three_curves), cmocka_unit_test(real_papers),
        cmocka_unit_test(real_ramp)};
    ww_start();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
