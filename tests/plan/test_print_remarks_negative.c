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
static void set_densest(print_case *c) { /* 1.8 stops over the cloud's middle, 1.35 */
    print_case_tone(c, "sail", WW_PART_WHOLE, 1.90);
    c->request.n_places = 0;
}
/* 3.8 stops over it. Without it the negative gives 0.95, with it 2.10, and the paper takes
 * (ln 24 + ln 9) 1.05 / 6.089 = 0.93 from net 0.08 to 90 % of black. */
static void set_glint_alone(print_case *c) {
    print_case_tone(c, "sail", WW_PART_WHOLE, 2.50);
    c->request.n_places = 0;
}
static void set_glint_held(print_case *c) { /* the same on paper that takes 2.40 */
    set_glint_alone(c);
    c->request.n_papers = 0;
    print_case_paper(c, "reed", 2.40, 0.0);
}
static void set_glint_of_many(print_case *c) { /* the rest would not fit either: 1.60 */
    set_glint_alone(c);
    print_case_tone(c, "deep", WW_PART_WHOLE, -0.20);
}
/* Its dense end lies 2.45 - 1.35 - 0.163 = 0.937 log H, 3.1 stops, short of the first tone: a burn
 * adds 2^3.11 - 1 = 7.7 times. Its thin end, 0.75 thinner, then stands 0.587 log H further on than
 * net 0.10, where the shadow, 0.95 on, is darker and a wall of 1.05, 0.30 on, is not. */
static void set_two_ended_sun(print_case *c) {
    print_case_tone(c, "sun", WW_PART_THIN, 1.70);
    print_case_tone(c, "sun", WW_PART_DENSE, 2.45);
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.05);
}
static void set_two_ended_cloud(print_case *c) { /* 2.9 stops */
    print_case_tone(c, "sun", WW_PART_THIN, 1.70);
    print_case_tone(c, "sun", WW_PART_DENSE, 2.38);
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
static void set_flat_fogged(print_case *c) { /* net 0.30 */
    set_flat(c);
    print_case_tone(c, "base", WW_PART_WHOLE, 0.55);
}
static void set_flat_thin(print_case *c) { /* net 0.06 */
    set_flat(c);
    for (int i = 0; i < 3; i++)
        c->row[i].cell[WW_COLUMN_VISUAL].value -= 0.49;
    print_case_tone(c, "base", WW_PART_WHOLE, 0.30);
}
/* On paper of range 0.74 they are 0.887 x 0.74 / 1.05 = 0.625: 0.125 over what the negative gives.
 */
static void set_little_flat(print_case *c) {
    set_flat(c);
    c->request.n_papers = 0;
    print_case_paper(c, "reed", 0.74, 0.0);
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
        {"placed, and refused", set_placed_sun, "a glint", true},
        {"sets the time", set_sun_alone, "sets the time only because it is the densest", true},
        {"what instead", set_sun_alone, "place 'cloud' instead, with --place cloud=0.08", true},
        {"only the densest", set_densest, "only because", false},
        {"the paper would hold the rest", set_glint_alone,
         "'sail' lets 3.8 stops less light through than 'cloud', the next tone, and sets the time "
         "only because",
         true},
        {"a paper that holds both", set_glint_held, "only because", false},
        {"nothing holds the rest", set_glint_of_many, "only because", false},
        {"two ends of a sun", set_two_ended_sun, "Burning 'sun' adds 8 times the base exposure",
         true},
        {"what overtakes what", set_two_ended_sun, ", darker than 'wall', which is thinner", true},
        {"a burn of a cloud", set_two_ended_cloud, "times the base exposure", false},
        {"sets the contrast", set_sun_contrast, "sets the contrast only because", true},
        {"sets neither", set_sun, "only because", false},
        {"base", set_base, "base+fog reads", false},
        {"fog", set_fog, "The film's base+fog reads 0.90", true},
        {"mask", set_mask, "base+fog reads", false},
        {"stain", set_stain, "base+fog reads", false},
        {"flat", set_flat, "too flat for the hardest paper at hand: 'shadow' misses", true},
        {"by how much", set_flat, "by 1.3 stop", true},
        {"what would match", set_flat, "one that takes about 0.50 log H, would hold more", true},
        {"the next film", set_flat, "Give the next film more development.", true},
        {"flat by fog", set_flat_fogged,
         "More development would raise the fog as well: look for its cause.", true},
        {"no more of it", set_flat_fogged, "Give the next film more development.", false},
        {"flat by want of light", set_flat_thin,
         "'shadow' is only 0.06 over the film's base: give the next film more exposure.", true},
        {"too little light", set_flat_thin, "more development", false},
        {"flat by a third of a stop", set_little_flat, "by 0.4 stop", true},
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
