/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/scan_case.h"
#include "support/support.h"
#include "support/wedge_picture.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <wedgework/measure.h>

enum { STEPS = 21 };

/* A wedge file for a scene: labels as they stand on the wedge, the densities drawn. */
typedef struct wedge_file {
    ww_readings readings;
    ww_row row[STEPS + 2];
    char label[STEPS + 2][24];
} wedge_file;

static void wedge_of(const wedge_scene *s, wedge_file *made) {
    *made = (wedge_file){.readings = {.file = (char *)"wedge.csv", .row = made->row}};
    made->readings.has[WW_VISUAL] = true;
    for (size_t i = 0; i < s->steps; i++) {
        snprintf(made->label[i], sizeof made->label[i], "a%zu", i + 1);
        made->row[i] = (ww_row){.step = made->label[i], .tone = (char *)"", .pack = (char *)""};
        made->row[i].cell[WW_VISUAL] =
            (ww_cell){.state = WW_CELL_VALUE,
                      .value = s->density ? s->density[i] : s->first + s->gap * (double)i,
                      .n = 1};
    }
    made->readings.n = s->steps;
}

/* Light of a step as the mean of the channels that were read. */
static double light_of(const ww_measured *m, const ww_patch *patch) {
    double sum = 0.0, n = 0.0;
    for (int c = 0; c < WW_CHANNEL_COUNT; c++)
        if (m->has[c])
            sum += patch->channel[c].code / m->white, n += 1.0;
    return sum / n;
}

/* ----------------------------------------------------------------------------------- truth */

static wedge_scene changed(const char *how) {
    wedge_scene s = wedge_scene_plain();
    if (strstr(how, "colour"))
        s.channels = 3;
    if (strstr(how, "reversed"))
        s.reversed = true;
    if (strstr(how, "upright"))
        s.upright = true, s.x = 300.2, s.y = 213.7, s.length = 380.0;
    if (strstr(how, "askew"))
        s.angle_deg = 3.3;
    if (strstr(how, "noise"))
        s.read_noise = 0.0003, s.shot_noise = 0.006;
    if (strstr(how, "dust"))
        s.dust = 150, s.hairs = 3, s.scratches = 1;
    if (strstr(how, "8 bit"))
        s.bits = 8, s.steps = 11;
    return s;
}

/*
 * Source: the scene's own closed form (wedge_picture.h), which knows nothing of the program. Light
 * down to density 2.5 within 0.002 D where there is no noise, 0.01 D (the limit) else; 8
 * bit codes are rounded: half a code more.
 */
static const struct {
    const char *how;
    double tolerance;
} scenes[] = {
    {"plain", 0.002},
    {"reversed", 0.002},
    {"upright, askew", 0.002},
    {"upright, reversed", 0.002},
    {"colour, askew", 0.002},
    {"colour, noise, dust", 0.01},
    {"reversed, noise, dust, askew", 0.01},
    {"8 bit", 0.002},
};

static void check_light(const char *name, const wedge_scene *s, const ww_measured *m,
                        double tolerance) {
    for (size_t i = 0; i < s->steps; i++) {
        const double truth = wedge_scene_light(s, i);
        const double rounding = s->bits == 8 ? 0.5 / 255.0 : 0.0;
        if (s->first + s->gap * (double)i <= 2.5)
            test_close(name, log10(light_of(m, &m->patch[i]) / truth), 0.0,
                       tolerance + log10(1.0 + rounding / truth));
    }
}

static void reads_what_was_drawn(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof scenes / sizeof scenes[0]; i++) {
        const char *name = scenes[i].how;
        const wedge_scene s = changed(name);
        ww_picture p = wedge_picture_new(&s);
        wedge_file wedge;
        wedge_of(&s, &wedge);
        const ww_measure_request by_wedge = {.wedge = &wedge.readings, .threads = 1};
        const ww_measure_request by_number = {.steps = s.steps, .threads = 1};
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(name, ww_measure_strip(&p, &by_wedge, &m, &err), WW_OK, &err);
        if (err.code != WW_OK)
            print_error("%s\n", err.msg);
        test_true(name, m.n == s.steps && m.reversed == s.reversed && m.upright == s.upright);
        test_close(name, m.angle_deg, s.angle_deg, 0.3);
        for (size_t k = 0; k < s.steps; k++)
            test_text(name, m.patch[k].step, wedge.label[k]);
        check_light(name, &s, &m, scenes[i].tolerance);
        const double first = m.patch[0].channel[s.channels == 1 ? WW_VISUAL : WW_GREEN].code;
        ww_measured_release(&m);
        /* By number, step 1 lies at the left or at the top. */
        test_status(name, ww_measure_strip(&p, &by_number, &m, &err), WW_OK, &err);
        test_text(name, m.patch[0].step, "1");
        test_text(name, m.patch[s.steps - 1].step, s.steps == STEPS ? "21" : "11");
        const size_t same = s.reversed ? s.steps - 1 : 0;
        test_true(name,
                  !m.reversed &&
                      m.patch[same].channel[s.channels == 1 ? WW_VISUAL : WW_GREEN].code == first);
        ww_measured_release(&m);
        ww_picture_release(&p);
    }
}

/* Source: geometry of the scene. The middle 60 % of each step, along and across. */
static void reads_the_middle_of_a_step(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    const ww_measure_request request = {.steps = STEPS, .threads = 1};
    ww_measured m = WW_MEASURED_INIT;
    double edge[STEPS + 1];
    (void)state;
    wedge_scene_edges(&s, edge);
    assert_int_equal(ww_measure_strip(&p, &request, &m, NULL), WW_OK);
    for (size_t i = 0; i < STEPS; i++) {
        const ww_patch *patch = &m.patch[i];
        const double pitch = edge[i + 1] - edge[i];
        test_close("x", patch->centre_x, s.x + 0.5 * (edge[i] + edge[i + 1]), 0.1 * pitch);
        test_close("y", patch->centre_y, s.y, 0.05 * s.breadth);
        test_close("along", patch->corner[1][0] - patch->corner[0][0], 0.6 * pitch, 0.1 * pitch);
        test_close("across", patch->corner[2][1] - patch->corner[1][1], 0.6 * s.breadth,
                   0.05 * s.breadth);
        test_true("box", patch->x <= patch->corner[0][0] + 0.5 && patch->width > 0.0 &&
                             patch->x + patch->width >= patch->corner[2][0] - 0.5);
        test_true("pixels", patch->radius == 0.0 && patch->n > 100);
    }
    ww_measured_release(&m);
    ww_picture_release(&p);
}

static void reverse_numbers_from_the_other_end(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    wedge_file wedge;
    ww_measured m = WW_MEASURED_INIT;
    (void)state;
    wedge_of(&s, &wedge);
    const ww_measure_request back = {.steps = STEPS, .reverse = true, .threads = 1};
    const ww_measure_request known = {.wedge = &wedge.readings, .reverse = true, .threads = 1};
    assert_int_equal(ww_measure_strip(&p, &back, &m, NULL), WW_OK);
    test_true("dense first",
              m.reversed && m.patch[0].centre_x > m.patch[1].centre_x &&
                  m.patch[0].channel[WW_VISUAL].code < m.patch[20].channel[WW_VISUAL].code);
    test_text("label", m.patch[0].step, "1");
    ww_measured_release(&m);
    assert_int_equal(ww_measure_strip(&p, &known, &m, NULL), WW_OK);
    test_true("a wedge decides by itself", !m.reversed);
    ww_measured_release(&m);
    ww_picture_release(&p);
}

/* Repeats of a step count once, base rows do not; the order is that of the first of each. */
static void repeats_and_base_rows_are_no_steps(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    wedge_file wedge;
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    wedge_of(&s, &wedge);
    wedge.row[STEPS] = wedge.row[4];
    wedge.row[STEPS].cell[WW_VISUAL].value += 0.004;
    wedge.row[STEPS + 1] =
        (ww_row){.step = (char *)"base", .tone = (char *)"", .pack = (char *)"", .is_base = true};
    wedge.readings.n = STEPS + 2;
    const ww_measure_request request = {.wedge = &wedge.readings, .threads = 1};
    test_status("repeats", ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
    test_true("steps", m.n == STEPS);
    test_text("order", m.patch[4].step, "a5");
    ww_measured_release(&m);
    ww_picture_release(&p);
}

static void threads_change_nothing(void **state) {
    const wedge_scene s = changed("colour, noise, dust");
    static const size_t threads[] = {1, 2, 7};
    ww_picture p = wedge_picture_new(&s);
    ww_measured m[3] = {WW_MEASURED_INIT, WW_MEASURED_INIT, WW_MEASURED_INIT};
    (void)state;
    for (size_t t = 0; t < 3; t++) {
        const ww_measure_request request = {.steps = STEPS, .threads = threads[t]};
        assert_int_equal(ww_measure_strip(&p, &request, &m[t], NULL), WW_OK);
        for (size_t i = 0; i < STEPS; i++) {
            assert_memory_equal(m[t].patch[i].corner, m[0].patch[i].corner,
                                sizeof m[0].patch[i].corner);
            for (int c = WW_RED; c <= WW_BLUE; c++) {
                const ww_patch_channel *a = &m[t].patch[i].channel[c],
                                       *b = &m[0].patch[i].channel[c];
                assert_true(a->code == b->code && a->sd == b->sd && a->drift == b->drift);
            }
        }
    }
    for (size_t t = 0; t < 3; t++)
        ww_measured_release(&m[t]);
    ww_picture_release(&p);
}

/* ------------------------------------------------------------------------------- densities */

/* Source: the model that the scene and the calibration share: code = white (k (10^-D + flare)),
 * k = 0.9 / (1 + flare) (wedge_draw.h). */
static void gives_densities_with_a_scanner(void **state) {
    wedge_scene s = wedge_scene_plain();
    ww_scanner_point point[51];
    ww_scanner scanner = {.bits = 16, .white = 65535.0, .gamma = {1.0, 1.0, 1.0, WW_FITTED}};
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    s.flare = 0.002;
    for (size_t i = 0; i < 51; i++) {
        const double density = 2.55 - 0.05 * (double)i;
        point[i] = (ww_scanner_point){
            65535.0 * 0.9 * (pow(10.0, -density) + s.flare) / (1.0 + s.flare), density, 0.0098};
    }
    scanner.channel[WW_VISUAL] =
        (ww_scanner_channel){.present = true,
                             .k = 0.9 / (1.0 + s.flare),
                             .flare = {s.flare, s.flare, s.flare, WW_FITTED},
                             .point = point,
                             .n_points = 51};
    ww_picture p = wedge_picture_new(&s);
    const ww_measure_request request = {.steps = STEPS, .scanner = &scanner, .threads = 1};
    test_status("densities", ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
    test_true("calibrated", m.calibrated);
    for (size_t i = 0; i < STEPS; i++) {
        const ww_cell *cell = &m.patch[i].channel[WW_VISUAL].density;
        const double density = 0.05 + 0.15 * (double)i;
        if (density > 2.56) {
            test_true("over", cell->state == WW_CELL_OVER);
        } else if (density < 2.5) {
            test_close("density", cell->value, density, 0.002);
            /* The file's, and 1 % of the light, flare and all (95 %). */
            const double level = 0.434294 * 0.01 / 1.96 * (1.0 + s.flare * pow(10.0, density));
            test_close("doubt", cell->sd.value, hypot(0.005, level), 0.0007);
        }
    }
    test_true("noted", test_noted(&m.notes, "denser than"));
    test_true("of one kind", !m.off && !strstr(m.notes.text[0], "reflection densities"));
    ww_measured_release(&m);
    const ww_measure_request print = {
        .steps = STEPS, .scanner = &scanner, .density = WW_DENSITY_REFLECTION, .threads = 1};
    scanner.density = WW_DENSITY_TRANSMISSION;
    test_status("print", ww_measure_strip(&p, &print, &m, &err), WW_OK, &err);
    test_true("of another kind", strstr(m.notes.text[0], "reflection densities") != NULL);
    test_true("off", m.off && !m.patch[3].channel[WW_VISUAL].density.sd.set);
    ww_measured_release(&m);
    ww_picture_release(&p);
}

/* ------------------------------------------------------------------------------- refusals */

static void densities_must_tell_the_direction(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    wedge_file wedge;
    (void)state;
    const ww_measure_request request = {.wedge = &wedge.readings, .threads = 1};
    wedge_of(&s, &wedge);
    for (size_t i = 0; i < STEPS; i++)
        wedge.row[i].cell[WW_VISUAL].value = 0.1;
    test_status("alike", ww_measure_strip(&p, &request, &m, &err), WW_EMISMATCH, &err);
    test_true("alike", strstr(err.msg, "alike") && strstr(err.msg, "--reverse"));
    wedge_of(&s, &wedge);
    for (size_t i = 0; i < STEPS; i++)
        wedge.row[i].cell[WW_VISUAL].value = 0.1 * (double)(i < 10 ? i : 20 - i);
    test_status("neither way", ww_measure_strip(&p, &request, &m, &err), WW_EMISMATCH, &err);
    test_true("neither way", strstr(err.msg, "either way") && strstr(err.msg, "wedge.csv"));
    wedge_of(&s, &wedge);
    wedge.readings.has[WW_VISUAL] = false;
    test_status("no density", ww_measure_strip(&p, &request, &m, &err), WW_ENODATA, &err);
    test_text("no density", err.file, "wedge.csv");
    test_true("untouched", !m.patch && !m.file && m.n == 0);
    ww_picture_release(&p);
}

/* A wedge of 0.05 to 3.05 whose ten darkest steps a black point took away. */
static void clipped_steps_tell_no_direction(void **state) {
    double seen[STEPS];
    wedge_scene s = wedge_scene_plain();
    wedge_file wedge;
    wedge_of(&s, &wedge);
    for (size_t i = 0; i < STEPS; i++)
        seen[i] = i < STEPS - 10 ? s.first + s.gap * (double)i : 9.0; /* 65535 10^-9 is no code */
    s.density = seen;
    ww_picture p = wedge_picture_new(&s);
    ww_measured m = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    const ww_measure_request request = {.wedge = &wedge.readings, .threads = 1};
    test_status("ten at code 0", ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
    test_true("the right way round", !m.reversed && m.patch[0].channel[WW_VISUAL].code > 50000.0);
    ww_measured_release(&m);
    for (size_t i = 0; i < STEPS; i++)
        wedge.row[i].cell[WW_VISUAL].value = 0.1 * (double)(i < 6 ? i : 12 - i);
    test_status("neither way", ww_measure_strip(&p, &request, &m, &err), WW_EMISMATCH, &err);
    test_true("says what is clipped", strstr(err.msg, "10 of them are clipped at code 0 and 0 at"));
    ww_picture_release(&p);
}

static void what_is_no_such_strip_is_refused(void **state) {
    struct scanner_case scanner;
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s), none = wedge_none_new(0, 1);
    static const double bad_widths[STEPS] = {1.0, -1.0, 1.0};
    (void)state;
    scan_case_scanner(&scanner, true);
    const struct {
        const char *name;
        const ww_picture *picture;
        ww_measure_request request;
        ww_status status;
    } rows[] = {
        {"no strip", &none, {.steps = STEPS, .threads = 1}, WW_ENODATA},
        {"other number", &p, {.steps = 17, .threads = 1}, WW_EMISMATCH},
        {"too few steps", &p, {.steps = 2, .threads = 1}, WW_EDOMAIN},
        {"too many steps", &p, {.steps = 251, .threads = 1}, WW_EDOMAIN},
        {"far too many", &p, {.steps = SIZE_MAX, .threads = 1}, WW_EDOMAIN},
        {"no steps", &p, {.steps = 0, .threads = 1}, WW_EDOMAIN},
        {"widths", &p, {.steps = STEPS, .widths = bad_widths, .threads = 1}, WW_EDOMAIN},
        {"outside", &p, {.steps = STEPS, .strip = {600, 0, 41, 9}, .threads = 1}, WW_EDOMAIN},
        {"elsewhere", &p, {.steps = STEPS, .strip = {0, 0, 640, 90}, .threads = 1}, WW_ENODATA},
        {"settings", &p, {.steps = STEPS, .scanner = &scanner.scanner, .threads = 1}, WW_EMISMATCH},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ww_measured m = WW_MEASURED_INIT;
        ww_error err = WW_ERROR_INIT;
        test_status(rows[i].name, ww_measure_strip(rows[i].picture, &rows[i].request, &m, &err),
                    rows[i].status, &err);
        test_true(rows[i].name, !m.patch && !m.file && m.n == 0);
    }
    ww_picture_release(&p);
    ww_picture_release(&none);
}

/* A spot beside the strip is read as it is alone; what a note says of it is told. */
static void spots_beside_it_are_read(void **state) {
    const wedge_scene s = wedge_scene_plain();
    ww_picture p = wedge_picture_new(&s);
    const ww_spot spot[] = {{"base", 20.0, 20.0, 8.0}, {"outside", 2.0, 20.0, 8.0}};
    ww_measure_request request = {.steps = STEPS, .spot = spot, .n_spots = 1, .threads = 1};
    ww_measured m = WW_MEASURED_INIT, alone = WW_MEASURED_INIT;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    test_status("alone", ww_measure_spots(&p, spot, 1, &request, &alone, &err), WW_OK, &err);
    test_status("beside", ww_measure_strip(&p, &request, &m, &err), WW_OK, &err);
    test_true("behind the steps", m.n == STEPS + 1 && m.n_spots == 1);
    test_text("last step", m.patch[STEPS - 1].step, "21");
    test_text("spot", m.patch[STEPS].step, "base");
    test_close("code", m.patch[STEPS].channel[WW_VISUAL].code,
               alone.patch[0].channel[WW_VISUAL].code, 0.0);
    ww_measured_release(&alone);
    ww_measured_release(&m);
    request.n_spots = 2;
    test_status("outside", ww_measure_strip(&p, &request, &m, &err), WW_EDOMAIN, &err);
    test_true("untouched", !m.patch && m.n == 0);
    ww_picture_release(&p);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_what_was_drawn),
        cmocka_unit_test(reads_the_middle_of_a_step),
        cmocka_unit_test(reverse_numbers_from_the_other_end),
        cmocka_unit_test(repeats_and_base_rows_are_no_steps),
        cmocka_unit_test(threads_change_nothing),
        cmocka_unit_test(gives_densities_with_a_scanner),
        cmocka_unit_test(densities_must_tell_the_direction),
        cmocka_unit_test(clipped_steps_tell_no_direction),
        cmocka_unit_test(what_is_no_such_strip_is_refused),
        cmocka_unit_test(spots_beside_it_are_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
