/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"

static ww_curve *start(print_case *c) {
    print_case_start(c);
    print_case_tone(c, "shadow", WW_PART_WHOLE, 0.40);
    print_case_tone(c, "cloud", WW_PART_THIN, 1.25);
    print_case_tone(c, "cloud", WW_PART_DENSE, 1.45);
    print_case_place(c, "cloud", 0.10);
    return print_case_paper(c, "heron", 1.05, 0.0);
}

static void set_nothing(print_case *c) {
    (void)c;
}
static void set_contact(print_case *c) {
    c->paper[0].meta.exposed_by = WW_EXPOSED_CONTACT;
}
static void set_contact_corrected(print_case *c) {
    set_contact(c);
    c->request.callier = 1.2;
}
static void set_projection(print_case *c) {
    c->paper[0].meta.exposed_by = WW_EXPOSED_PROJECTION;
}
static void set_projection_corrected(print_case *c) {
    set_projection(c);
    c->request.enlarger_flare = 0.01;
}
static void set_dye(print_case *c) {
    c->negative.meta.grain = WW_GRAIN_DYE;
    c->request.callier = 1.2;
}
static void set_short_range(print_case *c) {
    c->row[0].cell[WW_COLUMN_VISUAL].value = 0.85;
    c->request.n_papers = 0;
    print_case_paper(c, "hard", 0.58, 0.0);
}
static void set_no_black(print_case *c) {
    c->paper[0].channel[WW_VISUAL].figure[WW_FIGURE_DMAX].how = WW_ABSENT;
    c->paper[0].channel[WW_VISUAL].domain_high = 0.4;
}
static void set_light_aim(print_case *c) {
    c->place[0].aim = 0.05;
}
/* 0.045 D on the film, where a nominal grade of R 80 to 105 has a slope of 0.3 to 0.5. */
static void set_near_detail(print_case *c) {
    c->row[1].cell[WW_COLUMN_VISUAL].value = 1.3275;
    c->row[2].cell[WW_COLUMN_VISUAL].value = 1.3725;
    c->place[0].aim = 0.07;
}
static void set_nominal_near_detail(print_case *c) {
    set_near_detail(c);
    c->request.n_papers = 0;
}
static void set_nominal(print_case *c) {
    c->request.n_papers = 0;
}
/* 1.15 denser than the cloud at 0.10, under the 4 stops that make a glint. */
static void set_light(print_case *c) {
    print_case_tone(c, "sail", WW_PART_WHOLE, 2.50);
}
static void set_dark(print_case *c) {
    print_case_tone(c, "hole", WW_PART_WHOLE, -0.05);
    c->paper[0].channel[WW_VISUAL].domain_high = 0.5;
    print_case_place(c, "shadow", 1.7);
}
static void set_burn(print_case *c) {
    print_case_place(c, "shadow", 1.50);
}
/* Source: closed form of the paper, (ln 19 - ln 7) 1.05 / (ln 49 + ln 9) = 0.172; 0.01 D a reading,
 * three of them: 1.96 hypot(0.01, 0.01 / sqrt 2) = 0.024. */
static void set_light_ends(print_case *c) {
    print_case_tone(c, "wall", WW_PART_WHOLE, 1.15);
    print_case_place(c, "wall", 0.25);
}
static void set_light_ends_alone(print_case *c) {
    set_light_ends(c);
    c->row[0].cell[WW_COLUMN_VISUAL].value = 1.60;
}
static void set_dark_end(print_case *c) {
    set_light_ends(c);
    print_case_place(c, "shadow", 1.10); /* over half of 2.0 */
}
/* The plan would burn or dodge the shadow to its aim. Two dodges of half a stop add in seconds. */
static void set_hand(print_case *c, double shadow_aim, double stops) {
    static ww_print_move moves[2];
    moves[0] = moves[1] = (ww_print_move){"shadow", stops};
    print_case_place(c, "shadow", shadow_aim);
    c->request.move = moves;
    c->request.n_moves = 2;
}
static void set_off_aim(print_case *c) {
    set_hand(c, 1.50, -0.25);
}
static void set_no_off_aim(print_case *c) {
    set_hand(c, 1.50, 0.0);
}
static void set_off_paper(print_case *c) {
    c->paper[0].channel[WW_VISUAL].domain_high = 0.4;
    set_hand(c, 1.70, 2.0);
}
/* 0.01 D on the film is no detail. Beside the cloud, 1.35 at 0.10, what is far denser falls under
 * 0.09 without a burn, and what is a little denser over 0.05 without a dodge. */
static void set_blocked(print_case *c, double density, double aim) {
    print_case_tone(c, "mist", WW_PART_THIN, density);
    print_case_tone(c, "mist", WW_PART_DENSE, density + 0.01);
    print_case_place(c, "mist", aim);
}
static void set_blocked_burn(print_case *c) {
    set_blocked(c, 1.65, 0.09);
}
static void set_blocked_dodge(print_case *c) {
    set_blocked(c, 1.40, 0.05);
}
/* What a printer must be told, and when not. Source of each: conventions, and the trade's pitfalls.
 */
static void test_remarks(void **state) {
    static const struct {
        const char *name;
        void (*set)(print_case *c);
        const char *words;
        bool said;
    } rows[] = {
        {"detail on a nominal paper", set_nominal_near_detail,
         "Whether the detail of 'cloud' reaches the 0.02 that shows is open until the paper is "
         "measured, or a print on it is read, on nominal grade 3 (0.0",
         true},
        {"and on the others of the table", set_nominal_near_detail, "), 2 (0.0", true},
        {"detail enough on all", set_nominal, "reaches the 0.02 that shows", false},
        {"detail on a measured one", set_near_detail, "reaches the 0.02 that shows", false},
        {"Callier", set_contact_corrected, "Callier factor 1.20, enlarger flare 0.0 %", true},
        {"flare", set_projection_corrected, "Callier factor 1.00, enlarger flare 1.0 %", true},
        {"no correction", set_nothing, "Callier factor", false},
        {"contact", set_contact, "leaves out the enlarger's Callier effect", true},
        {"contact, corrected", set_contact_corrected, "leaves out the enlarger", false},
        {"projection", set_projection, "counted once more", false},
        {"projection, corrected", set_projection_corrected, "counted once more", true},
        {"dye", set_dye, "dye image scatters", true},
        {"extra hard", set_short_range, "raises grain", true},
        {"not so hard", set_nothing, "raises grain", false},
        {"no black", set_no_black, "stands in for D-max", true},
        {"dense end unseen", set_light_aim, "The dense end of 'cloud' prints under 0.04", true},
        {"dense end seen", set_nothing, "prints under 0.04", false},
        {"light", set_light, "The whole of 'sail' prints under 0.04", true},
        {"lighter than measured", set_light, "'sail' gets 0.06 log H less than the lightest step",
         true},
        {"darker than measured", set_dark, "more than the darkest step measured on 'heron'", true},
        {"light ends", set_light_ends,
         "'cloud' and 'wall' are 0.20 log H (+-0.02) apart on the negative, and their aims 0.17 "
         "(+-",
         true},
        {"what settles it", set_light_ends, "Placing 'shadow' too would settle it", true},
        {"no dark tone", set_light_ends_alone, "Reading and placing a dark tone too", true},
        {"a dark end", set_dark_end, "two light tones", false},
        {"one light tone", set_nothing, "two light tones", false},
        {"blocked, burned", set_blocked_burn,
         "burning for 'mist': without detail on the film it would only turn grey", true},
        {"blocked, dodged", set_blocked_dodge,
         "dodging for 'mist': without detail on the film it would only print lighter", true},
        {"off its aim by hand", set_off_aim,
         "By hand 'shadow' is taken off its aim, 1.50: it prints ", true},
        {"off the paper", set_off_paper, "1.70: it prints beyond what was measured", true},
        {"moves of nothing", set_no_off_aim, "off its aim", false},
        {"burns", set_burn, "add in seconds, not in stops", true},
        {"no burns", set_nothing, "add in seconds", false},
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
    return cmocka_run_group_tests_name("print_remarks", tests, NULL, NULL);
}
