/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"

/* Paper of range 1.05: net 0.10 lies (ln 49 - ln 19) 1.05 / (ln 49 + ln 9) = 0.163 log H over net
 * 0.04, so that 4 stops beyond that begin at 1.35 + 0.163 + 1.204 = 2.72 D. */
static void start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(c, "cloud", WW_PART_THIN, 1.25);
    print_case_tone(c, "cloud", WW_PART_DENSE, 1.45);
    print_case_place(c, "cloud", 0.10);
    print_case_paper(c, "heron", 1.05, 0.0);
}

static void set_nothing(print_case *c) {
    (void)c;
}
static void set_repeats(print_case *c) { /* 1.08 and 1.80: mean 1.44, sd 0.72 / sqrt 2 */
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.08);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.80);
}
static void set_close_repeats(print_case *c) {
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.06);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.09);
}
/* (3.90 - 1.35 - 0.163) / 0.301 = 7.9 stops. */
static void set_sun(print_case *c) {
    print_case_tone(c, "sun", WW_PART_WHOLE, 3.90);
}
static void set_near_sun(print_case *c) {
    print_case_tone(c, "sun", WW_PART_WHOLE, 2.70);
}
static void set_far_sun(print_case *c) {
    print_case_tone(c, "sun", WW_PART_WHOLE, 2.74);
}
static void set_sun_with_detail(print_case *c) {
    print_case_tone(c, "sun", WW_PART_THIN, 3.70);
    print_case_tone(c, "sun", WW_PART_DENSE, 3.90);
}
static void set_placed_sun(print_case *c) {
    set_sun(c);
    print_case_place(c, "sun", 0.02);
}
static void set_sun_alone(print_case *c) {
    set_sun(c);
    c->request.n_places = 0;
}
static void set_densest(print_case *c) {
    print_case_tone(c, "sail", WW_PART_WHOLE, 2.50);
    c->request.n_places = 0;
}
/* The one placed is the thinnest, so that the densest sets the contrast. */
static void set_sun_contrast(print_case *c) {
    set_sun(c);
    c->request.n_places = 0;
    print_case_place(c, "shadow", 1.60);
}
static void set_base(print_case *c) {
    print_case_tone(c, "base", WW_PART_WHOLE, 0.30);
}
static void set_fog(print_case *c) {
    for (int i = 0; i < 3; i++)
        c->row[i].cell[WW_COLUMN_VISUAL].value += 0.70;
    print_case_tone(c, "base", WW_PART_WHOLE, 0.90);
}
static void set_mask(print_case *c) {
    set_fog(c);
    c->negative.meta.emulsion = WW_EMULSION_COLOUR_NEGATIVE;
}
static void set_stain(print_case *c) {
    set_fog(c);
    c->negative.meta.grain = WW_GRAIN_STAINED;
}
/* On paper of range 1.05 from net 0.10 to 90 % of black: (ln 19 + ln 9) 1.05 / 6.089 = 0.887; the
 * negative gives 0.50. */
static void set_flat(print_case *c) {
    c->row[0].cell[WW_COLUMN_VISUAL].value = 0.85;
}
static void set_flat_choice(print_case *c) { /* that very negative on two papers */
    set_flat(c);
    print_case_paper(c, "reed", 1.30, 0.0);
}
static void set_harder(print_case *c) { /* ... of which one is as hard as it takes */
    set_flat(c);
    print_case_paper(c, "reed", 0.60, 0.0);
}
static void set_flat_nominal(print_case *c) {
    c->row[0].cell[WW_COLUMN_VISUAL].value = 1.08;
    c->request.n_papers = 0;
}

/* What a printer must be told of a negative, and when not. Source of each: the trade's pitfalls;
 * glints and fog: common practice. */
static void test_remarks(void **state) {
    static const struct {
        const char *name;
        void (*set)(print_case *c);
        const char *words;
        bool said;
    } rows[] = {
        {"repeats apart", set_repeats,
         "'wall' was read 2 times with a spread of 0.51 (1 sd): their mean 1.44", true},
        {"repeats", set_close_repeats, "was read 2 times", false},
        {"sun", set_sun, "'sun' lies 7.9 stops beyond the first tone that shows: a glint", true},
        {"sun, once", set_sun, "The whole of 'sun'", false},
        {"sun, at all", set_sun, "less than the lightest step", false},
        {"4 stops beyond", set_far_sun, "a glint", true},
        {"under 4 stops beyond", set_near_sun, "a glint", false},
        {"read at both ends", set_sun_with_detail, "a glint", false},
        {"placed", set_placed_sun, "a glint", false},
        {"sets the time", set_sun_alone, "sets the time only because it is the densest", true},
        {"what instead", set_sun_alone, "place 'cloud' instead, with --place cloud=0.08", true},
        {"only the densest", set_densest, "only because", false},
        {"sets the contrast", set_sun_contrast, "sets the contrast only because", true},
        {"sets neither", set_sun, "only because", false},
        {"base", set_base, "base+fog reads", false},
        {"fog", set_fog, "The film's base+fog reads 0.90", true},
        {"mask", set_mask, "base+fog reads", false},
        {"stain", set_stain, "base+fog reads", false},
        {"flat", set_flat, "too flat for the hardest paper at hand: 'shadow' misses", true},
        {"by how much", set_flat, "by 1.3 stop", true},
        {"what would match", set_flat, "one that takes about 0.50 log H, would hold more", true},
        {"the harder of two", set_flat_choice, "too flat for the hardest paper", true},
        {"hard enough", set_harder, "too flat", false},
        {"flat beyond all grades", set_flat_nominal, "too flat for the hardest paper", true},
        {"as it should be", set_nothing, "too flat", false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        print_case c;
        start(&c);
        rows[i].set(&c);
        print_case_says(rows[i].name, &c, rows[i].words, rows[i].said);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_remarks)};
    return cmocka_run_group_tests_name("print_remarks_negative", tests, NULL, NULL);
}
