/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/print_flash.h"
#include "support/support.h"
#include <math.h>
#include <string.h>

enum { STEPS_MOST = 8 };

typedef struct strip_case {
    ww_row row[STEPS_MOST + 1];
    ww_readings readings;
} strip_case;

static char empty[] = "", base[] = "base";

static void add(strip_case *c, double time_s, double density) {
    ww_row *row = &c->row[c->readings.n++];
    *row = (ww_row){.step = time_s > 0.0 ? empty : base, .tone = empty, .pack = empty};
    row->is_base = !(time_s > 0.0);
    row->exposure = (ww_optional){time_s > 0.0, time_s};
    row->cell[WW_COLUMN_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = density, .n = 1};
}

/* White 0.05, then net densities by seconds; a time of 0 ends them. */
static void start(strip_case *c, const double time_s[], const double net[]) {
    *c = (strip_case){.readings = {.exposure = WW_EXPOSURE_TIME}};
    c->readings.meta.material = WW_MATERIAL_PAPER;
    c->readings.row = c->row;
    c->readings.has[WW_COLUMN_VISUAL] = true;
    add(c, 0.0, 0.05);
    for (size_t i = 0; i < STEPS_MOST && time_s[i] > 0.0; i++)
        add(c, time_s[i], 0.05 + net[i]);
}

/* Sources: linear interpolation over log time by hand; means of readings that fall by hand. */
static const struct {
    const char *name;
    double time_s[STEPS_MOST], net[STEPS_MOST];
    ww__flash_finds finds;
    double flash_s, under_s, over_s;
    bool noted;
} rows[] = {
    {"half-way over log time", {1, 2, 4}, {0.0, 0.005, 0.015}, WW__FLASH_FOUND, 2.8284271, 2, 4, 0},
    {"in any order", {4, 1, 2}, {0.015, 0.0, 0.005}, WW__FLASH_FOUND, 2.8284271, 2, 4, 0},
    {"0.01 is grey", {1, 2, 4}, {0.0, 0.01, 0.03}, WW__FLASH_FOUND, 2.0, 1, 2, 0},
    {"falls by a reading's error",
     {1, 2, 4, 8},
     {0.004, 0.0, 0.022, 0.05},
     WW__FLASH_FOUND,
     2.6390158,
     2,
     4,
     0},
    {"falls by far more",
     {1, 2, 4, 8},
     {0.0, 0.044, 0.0, 0.05},
     WW__FLASH_FOUND,
     1.3703510,
     1,
     2,
     1},
    {"one time twice",
     {1, 2, 2, 4},
     {0.0, 0.002, 0.008, 0.015},
     WW__FLASH_FOUND,
     2.8284271,
     2,
     4,
     0},
    {"all white", {1, 2, 4}, {0.0, 0.001, 0.004}, WW__FLASH_ALL_WHITE, 0, 0, 0, 0},
    {"all grey", {1, 2, 4}, {0.02, 0.03, 0.08}, WW__FLASH_ALL_GREY, 0, 0, 0, 0},
    {"one step, white", {1}, {0.001}, WW__FLASH_ALL_WHITE, 0, 0, 0, 0},
    {"one step, grey", {1}, {0.1}, WW__FLASH_ALL_GREY, 0, 0, 0, 0},
    {"whiter than white", {1, 2}, {-0.01, -0.02}, WW__FLASH_ALL_WHITE, 0, 0, 0, 0},
};

static void test_finds(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        strip_case c;
        ww__flash_strip strip = {.step = NULL};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        double error = 0.0;
        start(&c, rows[i].time_s, rows[i].net);
        test_status(rows[i].name, ww__flash_strip_read(&c.readings, &strip, &notes, &err), WW_OK,
                    &err);
        test_true(rows[i].name, strip.finds == rows[i].finds);
        test_close(rows[i].name, strip.time_s, rows[i].flash_s, 1e-6);
        test_close(rows[i].name, strip.under_s, rows[i].under_s, 0.0);
        test_close(rows[i].name, strip.over_s, rows[i].over_s, 0.0);
        test_true(rows[i].name, (notes.n > 0) == rows[i].noted);
        if (strip.finds == WW__FLASH_FOUND)
            test_close(rows[i].name, ww__flash_strip_net(&strip, strip.time_s, &error), 0.01,
                       1e-12);
        for (size_t k = 1; k < strip.n; k++)
            test_true("rising", strip.step[k].held >= strip.step[k - 1].held &&
                                    strip.step[k].time_s > strip.step[k - 1].time_s);
        test_close("held at the ends", ww__flash_strip_net(&strip, 1e-3, &error),
                   strip.step[0].held, 0.0);
        test_close("held at the ends", ww__flash_strip_net(&strip, 1e3, &error),
                   strip.step[strip.n - 1].held, 0.0);
        ww__flash_strip_release(&strip);
        ww_notes_release(&notes);
    }
}

static void relative(strip_case *c) {
    c->readings.meta.relative = WW_RELATIVE_WHITE;
    c->row[0].is_base = true;
    for (size_t i = 0; i < c->readings.n; i++)
        c->row[i].cell[WW_COLUMN_VISUAL].value -= 0.05;
}
static void base_is_not_zero(strip_case *c) {
    relative(c);
    c->row[0].cell[WW_COLUMN_VISUAL].value = 0.05;
}
static void no_base_relative(strip_case *c) {
    relative(c);
    c->row[0] = c->row[--c->readings.n];
}
static void no_base(strip_case *c) {
    c->row[0] = c->row[--c->readings.n];
}
static void base_over(strip_case *c) {
    c->row[0].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER;
}
static void no_steps(strip_case *c) {
    c->readings.n = 1;
}
static void all_over(strip_case *c) {
    for (size_t i = 1; i < c->readings.n; i++)
        c->row[i].cell[WW_COLUMN_VISUAL].state = WW_CELL_OVER;
}
static void film(strip_case *c) {
    c->readings.meta.material = WW_MATERIAL_FILM;
}
static void transmission(strip_case *c) {
    c->readings.meta.density = WW_DENSITY_TRANSMISSION;
}
static void over_film(strip_case *c) {
    c->readings.meta.relative = WW_RELATIVE_BASE;
}
static void wedge(strip_case *c) {
    c->readings.exposure = WW_EXPOSURE_WEDGE;
}
static void no_density(strip_case *c) {
    c->readings.has[WW_COLUMN_VISUAL] = false;
}
static void no_seconds(strip_case *c) {
    c->row[1].exposure.value = 0.0;
}
static void nothing(strip_case *c) {
    (void)c;
}

static void test_statuses(void **state) {
    static const struct {
        const char *name;
        void (*spoil)(strip_case *c);
        ww_status status;
    } cases[] = {
        {"as it should be", nothing, WW_OK},
        {"relative to white", relative, WW_OK},
        {"relative, no base", no_base_relative, WW_OK},
        {"relative, base not 0", base_is_not_zero, WW_EMISMATCH},
        {"absolute, no base", no_base, WW_ENODATA},
        {"base beyond the instrument", base_over, WW_ENODATA},
        {"no steps", no_steps, WW_ENODATA},
        {"steps beyond the instrument", all_over, WW_ENODATA},
        {"film", film, WW_EMISMATCH},
        {"transmission", transmission, WW_EMISMATCH},
        {"over film base", over_film, WW_EMISMATCH},
        {"by wedge", wedge, WW_EMISMATCH},
        {"no density column", no_density, WW_ENODATA},
        {"0 s", no_seconds, WW_EDOMAIN},
    };
    static const double time_s[STEPS_MOST] = {1, 2, 4}, net[STEPS_MOST] = {0.0, 0.005, 0.015};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        strip_case c;
        ww__flash_strip strip = {.step = NULL};
        ww_notes notes = WW_NOTES_INIT;
        ww_error err = WW_ERROR_INIT;
        start(&c, time_s, net);
        cases[i].spoil(&c);
        test_status(cases[i].name, ww__flash_strip_read(&c.readings, &strip, &notes, &err),
                    cases[i].status, &err);
        if (cases[i].status == WW_OK)
            test_close(cases[i].name, strip.time_s, sqrt(8.0), 1e-9);
        else
            test_true(cases[i].name, strip.step == NULL);
        ww__flash_strip_release(&strip);
        ww_notes_release(&notes);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_finds),
        cmocka_unit_test(test_statuses),
    };
    return cmocka_run_group_tests_name("print_flash_strip", tests, NULL, NULL);
}
