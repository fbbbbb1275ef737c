/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "plot_data.h"

static rows found;

static char *make(const struct made_plan *made, const ww_curve *paper, ww__plot_size *size) {
    ww__text script = WW__TEXT_INIT;
    test_status("data", ww__plot_print_data(&made->plan, paper, &script, size, NULL), WW_OK, NULL);
    return script.bytes;
}

/* Closed form: the logistic's inverse, x = middle - ln(range / D - 1) / slope. */
static double log_h_at(double net) {
    return 0.93 - log(1.97 / net - 1) / 5.7;
}

/* What a burn from one density to another takes. */
static ww_optional stops_between(double from, double to) {
    return given((log_h_at(to) - log_h_at(from)) / log10(2));
}

static void tones_drop_onto_the_curve(void **state) {
    static const double net[] = {0.0396, 0.0612, 1.25, 1.7049};
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    made.tone[1].burn_stops = stops_between(0.0481, 0.10);
    script = make(&made, &paper, &size);
    rows_of(script, "main_ticks", -1, &found);
    assert_int_equal(found.n, 4);
    for (size_t i = 0; i < 4; i++) {
        test_close("density", found.cell[i][1], net[i], 1e-8);
        test_close("log H", found.cell[i][0], log_h_at(net[i]), 1e-7);
    }
    test_holds("both ends", script, "main_name[1] = 'cloud dense 0.04'\n");
    test_holds("both ends", script, "main_name[2] = 'cloud thin 0.06'\n");
    test_holds("whole", script, "main_name[3] = 'jetty 1.25'\n");
    rows_of(script, "toe_ticks", -1, &found);
    assert_int_equal(found.n, 2);
    rows_of(script, "local", -1, &found);
    assert_int_equal(found.n, 1);
    test_close("from", found.cell[0][1], 0.0481, 1e-8);
    test_close("to the aim", found.cell[0][2], log_h_at(0.10), 1e-7);
    test_holds("title", script, "title_text = 'Quayside gloss, grade 2 1/2'\n");
    free(script);
    ww_curve_release(&paper);
}

/* From the tenth of log H before 0.005 D above paper, by the closed form above. */
static void the_toe_starts_where_the_curve_does(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    script = make(&made, &paper, &size);
    test_close("from", number_of(script, "toe_from"), floor(10.0 * log_h_at(0.005)) / 10.0, 1e-9);
    test_true("not all", number_of(script, "toe_from") > number_of(script, "x_from") + 0.09);
    free(script);
    ww_curve_release(&paper);
}

static void axes_are_equal(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    script = make(&made, &paper, &size);
    test_close("px a log unit",
               (number_of(script, "main_right") - number_of(script, "main_left")) * size.width /
                   (number_of(script, "x_to") - number_of(script, "x_from")),
               (number_of(script, "main_top") - number_of(script, "main_bottom")) * size.height /
                   number_of(script, "y_to"),
               1e-4);
    free(script);
    ww_curve_release(&paper);
}

/* Names of tones that fall on one place still stand 15 px apart, and inside the panel. */
static void names_do_not_overlap(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    double before = -HUGE_VAL, px;
    char *script;
    (void)state;
    make_plan(&made);
    for (int i = 0; i < 5; i++) {
        made.tone[i] = made.tone[2];
        made.tone[i].print = given(1.81 + 0.001 * i);
    }
    made.paper[0].n_tones = 5;
    script = make(&made, &paper, &size);
    px = (number_of(script, "main_right") - number_of(script, "main_left")) * size.width /
         (number_of(script, "x_to") - number_of(script, "x_from"));
    for (int i = 1; i <= 5; i++) {
        char name[32];
        double at;
        snprintf(name, sizeof name, "main_at[%d]", i);
        at = number_of(script, name);
        test_true("apart", (at - before) * px > 14.99);
        test_true("inside", at <= number_of(script, "x_to") + 1e-9);
        before = at;
    }
    free(script);
    ww_curve_release(&paper);
}

/* A panel of so many px has room for a name every 15 px; the two ends keep theirs. */
static void names_without_room_are_counted(void **state) {
    enum { MANY = 60 };
    static ww_print_tone many[MANY];
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    for (int i = 0; i < MANY; i++) {
        many[i] = made.tone[2];
        many[i].print = given(0.05 + 0.03 * i);
    }
    made.paper[0].tone = many;
    made.paper[0].n_tones = MANY;
    script = make(&made, &paper, &size);
    const double wide =
        (number_of(script, "main_right") - number_of(script, "main_left")) * size.width;
    const double room = floor(wide / 15) + 1;
    test_close("ticks", number_of(script, "n_main_ticks"), MANY, 0);
    test_close("unnamed", number_of(script, "n_unnamed"), MANY - room, 0);
    test_true("the left end", number_of(script, "main_at[1]") >= number_of(script, "x_from"));
    test_holds("the first", script, "main_name[1] = 'jetty 0.05'\n");
    test_holds("the last", script, "main_name[60] = 'jetty 1.82'\n");
    free(script);
    ww_curve_release(&paper);
}

/* One stop by hand doubles the exposure; with a planned one it is log2 3, as seconds add. */
static void moves_by_hand_are_drawn(void **state) {
    for (int planned = 0; planned < 2; planned++) {
        struct made_plan made;
        ww_curve paper = make_paper();
        ww__plot_size size;
        char *script;
        (void)state;
        make_plan(&made);
        made.tone[1].burn_stops = (ww_optional){planned, planned};
        made.tone[1].hand_stops = given(1.0);
        script = make(&made, &paper, &size);
        rows_of(script, "local", -1, &found);
        assert_int_equal(found.n, 1);
        test_close("from", found.cell[0][1], 0.0481, 1e-8);
        test_close("by", found.cell[0][2] - found.cell[0][0], log10(planned ? 3 : 2), 1e-7);
        free(script);
        ww_curve_release(&paper);
    }
}

static void tones_beyond_the_paper_are_counted(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    made.tone[2].print = given(2.4);
    made.tone[1].print_dense.set = false; /* as the plan leaves it beyond the paper's steps */
    script = make(&made, &paper, &size);
    test_close("the base, too", number_of(script, "n_beyond"), 3, 0);
    test_close("the rest", number_of(script, "n_main_ticks"), 2, 0);
    free(script);
    ww_curve_release(&paper);
}

static void unplaced_burns_go_to_the_first_tone(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    made.tone[1].aim.set = false;
    made.tone[1].print_dense = given(0.031);
    made.tone[1].burn_stops = stops_between(0.031, 0.04);
    script = make(&made, &paper, &size);
    rows_of(script, "local", -1, &found);
    assert_int_equal(found.n, 1);
    test_close("dense end", found.cell[0][1], 0.031, 1e-8);
    test_close("0.04 above paper", found.cell[0][3], 0.04, 1e-8);
    free(script);
    ww_curve_release(&paper);
}

/* A nominal curve is never taken for one that was measured, and its name is its grade. */
static void nominal_papers_say_so(void **state) {
    static char name[] = "nominal grade 2", grade[] = "2";
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    script = make(&made, &paper, &size);
    test_holds("measured", script, "curve_title = 'curve of the paper'\n");
    free(script);
    made.paper[0].paper = name;
    made.paper[0].contrast = grade;
    made.paper[0].nominal = true;
    script = make(&made, &paper, &size);
    test_holds("nominal", script, "curve_title = 'nominal curve, not measured'\n");
    test_holds("title", script, "title_text = 'nominal grade 2'\n");
    free(script);
    made.paper[0].nominal = false;
    made.paper[0].interpolated = true;
    script = make(&made, &paper, &size);
    test_holds("between two", script, "curve_title = 'curve half-way between two measured'\n");
    free(script);
    made.paper[0].split = (ww_print_split){true, 14.1, 4.2}; /* at a share of its own */
    script = make(&made, &paper, &size);
    test_holds("a share", script, "curve_title = 'curve between two measured splits'\n");
    free(script);
    ww_curve_release(&paper);
}

static void refusals(void **state) {
    struct made_plan made;
    ww_curve none = WW_CURVE_INIT, paper = make_paper();
    ww__text script = WW__TEXT_INIT;
    ww__plot_size size;
    ww_error err = WW_ERROR_INIT;
    (void)state;
    make_plan(&made);
    test_status("no channel", ww__plot_print_data(&made.plan, &none, &script, &size, &err),
                WW_ENODATA, &err);
    paper.channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG].how = WW_ABSENT;
    test_status("no white", ww__plot_print_data(&made.plan, &paper, &script, &size, &err),
                WW_ENODATA, &err);
    paper.channel[WW_VISUAL].figure[WW_FIGURE_BASE_FOG].how = WW_MEASURED;
    paper.channel[WW_VISUAL].shape.falling = true;
    test_status("falling", ww__plot_print_data(&made.plan, &paper, &script, &size, &err),
                WW_ENODATA, &err);
    ww_curve_release(&paper);
    ww__text_release(&script);
}

static void hostile_names_stay_in_quotes(void **state) {
    static char hostile[] = HOSTILE;
    struct made_plan made;
    ww_curve paper = make_paper();
    ww__plot_size size;
    char *script;
    (void)state;
    make_plan(&made);
    made.tone[0].tone = made.tone[1].tone = made.paper[0].paper = made.paper[0].contrast = hostile;
    script = make(&made, &paper, &size);
    test_holds("tone", script, "= '\xE2\x80\x99; system(");
    test_lacks("no line of its own", script, "\n!touch");
    free(script);
    ww_curve_release(&paper);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tones_drop_onto_the_curve),
        cmocka_unit_test(the_toe_starts_where_the_curve_does),
        cmocka_unit_test(axes_are_equal),
        cmocka_unit_test(names_do_not_overlap),
        cmocka_unit_test(names_without_room_are_counted),
        cmocka_unit_test(moves_by_hand_are_drawn),
        cmocka_unit_test(tones_beyond_the_paper_are_counted),
        cmocka_unit_test(unplaced_burns_go_to_the_first_tone),
        cmocka_unit_test(nominal_papers_say_so),
        cmocka_unit_test(refusals),
        cmocka_unit_test(hostile_names_stay_in_quotes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
