/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <math.h>

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
static void set_wet(print_case *c) {
    c->paper[0].meta.read = WW_READ_WET;
}
static void set_wet_percent(print_case *c) {
    set_wet(c);
    c->request.dry_down_percent = 8.0;
}
static void set_dry_percent(print_case *c) {
    c->request.dry_down_percent = 8.0;
}
static void set_size(print_case *c) {
    c->request.from_scale = (ww_optional){true, 2.0};
    c->request.scale = (ww_optional){true, 4.0};
}
static void set_aperture(print_case *c) {
    c->request.from_aperture = (ww_optional){true, 8.0};
    c->request.aperture = (ww_optional){true, 5.6};
}
static void set_wedge_unknown(print_case *c) {
    c->paper[0].meta.wedge = WW_WEDGE_UNKNOWN;
}
static void set_wedge_doubtful(print_case *c) {
    c->paper[0].meta.wedge = WW_WEDGE_NOMINAL;
    c->paper[0].meta.wedge_sd = (ww_optional){true, 0.2};
}
static void set_test(print_case *c) {
    c->request.test[0] = (ww_print_test){11.0, "cloud", 0.14};
    c->request.n_tests = 1;
}
static void set_odd_test(print_case *c) {
    set_test(c);
    c->request.test[0].time_s = 0.9;
}
static void set_odd_papers(print_case *c) {
    set_odd_test(c);
    print_case_paper(c, "egret", 1.45, 0.0);
}
static void set_odder_test(print_case *c) {
    set_test(c);
    c->request.test[0].time_s = 0.01;
}

static void set_no_test_there(print_case *c) {
    set_test(c);
    c->request.test[0].density = 5.0;
}
static void set_two(print_case *c) { /* by the logistic paper the times are 1.41 apart */
    set_test(c);
    c->request.test[0].density = 0.07;
    c->request.test[1] = (ww_print_test){15.5, "cloud", 0.14};
    c->request.n_tests = 2;
}

static void set_wet_test(print_case *c) {
    set_test(c);
    set_wet(c);
}
static void set_dry_test(print_case *c) {
    set_test(c);
    set_dry_percent(c);
}

static char cloud[] = "cloud", heron[] = "heron", other[] = "egret", lot_b[] = "B";
static ww_print_offset taught;

static void set_darker(print_case *c) {
    taught = (ww_print_offset){.paper = heron, .log_h = 0.0753, .sd = 0.0301, .prints = 3};
    c->request.offset = &taught;
    c->request.n_offsets = 1;
}
/* A print without a test came out as much darker as the test took less, but for so much. */
static void set_witness(print_case *c, double apart) {
    set_odd_papers(c);
    set_darker(c);
    taught.sd = 0.01;
    taught.log_h = apart + print_case_log_h(1.05, 0.0, 0.14) + 1.35 - log10(0.9);
    c->request.n_offsets = 1;
}
static void set_borne_out(print_case *c) {
    set_witness(c, 0.0);
}
static void set_denied(print_case *c) {
    set_witness(c, 0.2);
}
static void set_confirmed_test(print_case *c) {
    set_odd_papers(c);
    set_darker(c);
    taught.tested = true;
    taught.tone = cloud;
    taught.negative = 1.35;
    taught.density = 0.14;
    taught.test_s = (ww_optional){true, 0.9};
    taught.test_density = (ww_optional){true, 0.14};
}
static void set_wedge_after_print(print_case *c) {
    set_wedge_doubtful(c);
    set_darker(c);
}
static void set_lighter_and_harder(print_case *c) {
    set_darker(c);
    taught.log_h = -0.0753;
    taught.range = 0.06;
}
static void set_softer(print_case *c) {
    set_darker(c);
    taught.range = -0.06;
}
static void set_other_paper(print_case *c) {
    set_darker(c);
    taught.paper = other;
}
static void set_other_contrast(print_case *c) {
    static char soft[] = "1", hard[] = "4";
    set_darker(c);
    taught.contrast = soft;
    c->paper[0].meta.contrast = hard;
}
/* The contrast that was printed is the choice, and the other stands in the table. */
static void set_contrast_beside(print_case *c) {
    static char two[] = "2", five[] = "5";
    set_darker(c);
    taught.contrast = two;
    c->paper[0].meta.contrast = two;
    print_case_paper(c, "heron", 0.62, 0.0)->meta.contrast = five;
}
static void set_other_lot(print_case *c) {
    set_darker(c);
    taught.lot = lot_b;
}
static void set_unknown_lot(print_case *c) {
    set_darker(c);
    c->paper[0].meta.lot = lot_b;
}
static void set_other_size(print_case *c) {
    set_darker(c);
    set_size(c);
    taught.scale = (ww_optional){true, 2.0};
}
static void set_reciprocity(print_case *c) {
    set_test(c);
    c->request.reciprocity = (ww_optional){true, 1.1};
}
static void set_reciprocity_from_nothing(print_case *c) {
    c->request.reciprocity = (ww_optional){true, 1.1};
}
static void set_far(print_case *c) {
    set_test(c);
    set_size(c);
    c->request.scale.value = 9.0;
}
static void set_half(print_case *c) {
    static char one[] = "filter 1", two[] = "filter 2";
    c->paper[0].meta.contrast = two;
    print_case_paper(c, "heron", 1.45, 0.0)->meta.contrast = one;
    c->row[0].cell[WW_COLUMN_VISUAL].value = 0.29; /* to 90 % of black from 0.10: 1.06 */
}

static void set_labelled_test(print_case *c) {
    set_half(c);
    set_test(c);
}
static void set_nominal_test(print_case *c) {
    set_test(c);
    c->request.n_papers = 0;
}

/* What must be told of a time. Source of each: conventions, and the trade's pitfalls. */
static const struct {
    const char *name;
    void (*set)(print_case *c);
    const char *words;
    bool said;
} rows[] = {
    {"wet, no dry-down", set_wet, "will be darker than foretold", true},
    {"wet", set_wet_percent, "8.0 % shorter for dry-down", true},
    {"dry-down of a dry paper", set_dry_percent, "Dry-down was not applied", true},
    {"nothing on drying", set_nothing, "ry-down", false},
    {"size", set_size, "(m+1) squared", true},
    {"taught on no lot that is known", set_unknown_lot, "On which lot is not known", true},
    {"taught on this paper", set_darker, "On which lot is not known", false},
    {"aperture", set_aperture,
     "from f/8 to f/5.6 by the marks of the lens, each full stop a factor of 2", true},
    {"wedge", set_wedge_unknown, "does not say whether its wedge was certified", true},
    {"certified", set_nothing, "whether its wedge was certified", false},
    {"test print", set_test,
     "The time rests on the test print, taken as read dry and made on 'heron'.", true},
    {"test print of a wet paper", set_wet_test, "test print, taken as read wet and made", true},
    {"of several papers, which", set_labelled_test,
     "dry and made on 'heron', contrast filter 1.5; in the table each other paper's is what it "
     "would "
     "be with the test on that one. Where it was on another",
     true},
    {"of nominal ones", set_nominal_test, "made on 'nominal grade 2'; in the table", true},
    {"test print and dry-down", set_dry_test, "taken as read dry, too. Read it dry.", true},
    {"test at odds", set_odd_test, "a slip of typing is not in them", true},
    {"test at odds, several papers", set_odd_papers, "until then the doubt holds all", true},
    {"test and print agree", set_borne_out, "the test print bears that out", true},
    {"test and print agree", set_borne_out, " apart, where ", false},
    {"test and print do not", set_denied, "which the time goes by, says otherwise", true},
    {"test and print do not", set_denied,
     "'heron', put right by earlier prints, are 0.66 stop apart, where 0.",
     true}, /* of 0.2 log H */
    {"a print since, by the test", set_confirmed_test, "made by that test has shown since", true},
    {"a print since, by the test", set_confirmed_test, "until then the doubt holds", false},
    {"another contrast in the table", set_contrast_beside, "contrasts of 'heron' without prints",
     true},
    {"no other contrast in the table", set_darker, "contrasts of 'heron' without prints", false},
    {"two at odds that agree", set_two, "it is the curve's seconds that are off", true},
    {"so far that no timer has the time", set_odder_test, "were the same.", true},
    {"no test print", set_nothing, "rests on the test print", false},
    {"wedge, what helps", set_wedge_doubtful, "a test print, read and given with --test", true},
    {"wedge, a print was read", set_wedge_after_print, "the print that taught this takes most",
     true},
    {"wedge, and no other asked for", set_wedge_after_print, "a test print, read", false},
    {"no wedge to help", set_nothing, "a test print, read and given", false},
    {"doubt", set_nothing, "The largest part of the time's doubt is 'readings'", true},
    {"no test there", set_no_test_there, "No time: the test print's 5.00 above white", true},
    {"two", set_two, "The time rests on the test prints, taken as read dry and made on 'heron'.",
     true},
    {"two agree", set_two, "two test prints are", false},
    {"darker", set_darker,
     "Earlier prints on 'heron' (3) came out 0.25 stop darker than foretold, 1 sd 0.10", true},
    {"only darker", set_darker, "They came out", false},
    {"lighter", set_lighter_and_harder, "came out 0.25 stop lighter", true},
    {"harder", set_lighter_and_harder,
     "They came out harder, too: the range of 'heron' is taken as 0.06 log H shorter", true},
    {"softer", set_softer, "the range of 'heron' is taken as 0.06 log H longer", true},
    {"another paper", set_other_paper, "Earlier prints", false},
    {"another contrast, which is said", set_other_contrast,
     "In contrast '1' 'heron' came out 0.25 stop darker than foretold, which is not used on "
     "'4' but stands in its doubt.",
     true},
    {"another lot", set_other_lot, "Earlier prints", false},
    {"another lot, which is said", set_other_lot,
     "On another lot or at another size 'heron' came out 0.25 stop darker", true},
    {"another size", set_other_size,
     "On another lot or at another size 'heron' came out 0.25 stop darker", true},
    {"nothing of another paper", set_other_paper, "On another lot", false},
    {"stops and seconds", set_reciprocity, "Stops are of light; the seconds", true},
    {"reciprocity", set_reciprocity, "Times are from 11 s by an exponent of 1.10", true},
    {"from nothing", set_reciprocity_from_nothing, "Reciprocity was not applied", true},
    {"no exponent", set_test, "eciprocity", false},
    {"far", set_far, "paper may lose speed or contrast over that", true},
    {"a half's doubt", set_half, "carries no covariance", false},
};

static void test_remarks(void **state) {
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
    return cmocka_run_group_tests_name("print_remarks_time", tests, NULL, NULL);
}
