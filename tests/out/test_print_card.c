/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/print_card.h"
#include "results.h"

static char *make_card(const struct made_plan *made, const ww_print_request *request) {
    ww__text html = WW__TEXT_INIT;
    ww__print_card(&made->plan, request, &html);
    test_status("card", ww__text_status(&html, NULL), WW_OK, NULL);
    return html.bytes;
}

/* What hands set stands as they set it: to the timer's step, in twelfths of a stop. */
static void what_hands_do(void **state) {
    struct made_plan made;
    const ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    card = make_card(&made, &request);
    test_holds("time", card, "<p class=\"big\">18.4 s</p>");
    test_holds("paper", card, "Quayside gloss, grade 2 1/2; trust +-1/6 stop");
    test_holds("burn", card,
               "<td>burn cloud</td><td class=\"r\">+1 1/3 stop</td><td class=\"r\">+27.8 s</td>");
    test_holds("to check, after the burn", card,
               "<td>cloud</td><td class=\"r\">1.34</td><td class=\"r\">0.08 to 0.12</td>");
    test_lacks("the film's base is no tone of the print", card, "<td>base</td>");
    test_holds("room for what is not known", card, "paper lot <span class=\"blank\">");
    test_holds("and for a sketch", card, "class=\"sketch\"");
    free(card);
}

static void settings_come_from_the_request(void **state) {
    struct made_plan made;
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    request.aperture = given(8.0);
    request.scale = given(4.5);
    made.tone[1].burn_stops = given(-0.5);
    made.tone[1].burn_seconds = given(-5.38);
    made.paper[0].split = (ww_print_split){true, 8.165, 10.205}; /* 4 to 5 of 18.37 s */
    card = make_card(&made, &request);
    test_holds("aperture", card, "aperture f/8<br>");
    test_holds("size", card, "magnification 4.5<br>");
    test_holds("dodge", card,
               "<td>dodge cloud</td><td class=\"r\">-1/2 stop</td>"
               "<td class=\"r\">less: soft 2.4 s, hard 3.0 s</td>");
    test_holds("two exposures", card, "soft 8.2 s, hard 10.2 s");
    free(card);
}

/* A burn in both exposures is set in the seconds of each, in their share: 4 to 5 of 27.8 s. */
static void two_exposures(void **state) {
    struct made_plan made;
    const ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    made.paper[0].split = (ww_print_split){true, 8.165, 10.205};
    card = make_card(&made, &request);
    test_holds("each", card, "more: soft 12.4 s, hard 15.5 s</td>");
    free(card);
}

/* What the recipe's hand does besides stands on the card as well, and in what is checked. */
static void moves_by_hand(void **state) {
    struct made_plan made;
    const ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    made.tone[0].hand_stops = given(-1.2715); /* two dodges of half a stop */
    made.tone[0].hand_seconds = given(-10.76);
    made.tone[0].print_after = given(1.31);
    card = make_card(&made, &request);
    test_holds("planned", card, "<td>burn cloud</td>");
    test_holds("by hand", card,
               "<td>by hand dodge shadow</td><td class=\"r\">-1 1/4 stop</td><td "
               "class=\"r\">-10.8 s</td>");
    test_holds("to check", card,
               "<td>shadow</td><td class=\"r\">0.35</td><td class=\"r\">1.31</td>");
    free(card);
}

static void lot_is_that_of_the_paper_chosen(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    const ww_curve *papers[] = {&paper};
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    free(paper.meta.lot);
    paper.meta.lot = copy("L-7 <b>");
    request.paper = papers;
    request.n_papers = 1;
    free(paper.meta.name);
    paper.meta.name = copy("Quayside gloss");
    card = make_card(&made, &request);
    test_holds("lot, harmless", card, "paper lot L-7 &lt;b&gt;<br>");
    free(card);
    free(paper.meta.name);
    paper.meta.name = copy("another paper");
    card = make_card(&made, &request);
    test_lacks("not that of another paper", card, "L-7");
    free(card);
    ww_curve_release(&paper);
}

/* The time has dry-down in it where the paper was read wet, and only there. */
static void dry_down_stands_where_it_was_applied(void **state) {
    struct made_plan made;
    ww_curve paper = make_paper();
    const ww_curve *papers[] = {&paper};
    ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    request.paper = papers;
    request.n_papers = 1;
    request.dry_down_percent = 8.0;
    paper.meta.read = WW_READ_WET;
    card = make_card(&made, &request);
    test_holds("read wet", card, "dry-down % 8<br>");
    free(card);
    paper.meta.read = WW_READ_DRY;
    card = make_card(&made, &request);
    test_lacks("read dry", card, "dry-down");
    free(card);
    request.n_papers = 0;
    card = make_card(&made, &request);
    test_lacks("nominal paper", card, "dry-down");
    free(card);
    ww_curve_release(&paper);
}

/* The sheet on the wall tells what will not be seen. */
static void tells_what_is_given_up(void **state) {
    struct made_plan made;
    const ww_print_request request = WW_PRINT_REQUEST_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    made.tone[0].falls = WW_FALLS_BLACK;
    card = make_card(&made, &request);
    test_holds("black", card, "<td>shadow: merges into black</td>");
    test_holds("the other prints", card, "<td>cloud</td>");
    free(card);
}

static void without_time_or_paper(void **state) {
    struct made_plan made;
    const ww_print_request request = WW_PRINT_REQUEST_INIT;
    ww__text html = WW__TEXT_INIT;
    char *card;
    (void)state;
    make_plan(&made);
    made.paper[0].time_s.set = false;
    made.tone[1].burn_seconds.set = false;
    card = make_card(&made, &request);
    test_holds("no time", card, "<p class=\"big\">no time yet</p>");
    test_holds("stops stay", card, "<td class=\"r\">+1 1/3 stop</td><td class=\"r\"></td>");
    free(card);
    made.plan.n_papers = 0;
    ww__print_card(&made.plan, &request, &html);
    assert_int_equal(html.n, 0);
    ww__text_release(&html);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_hands_do),
        cmocka_unit_test(moves_by_hand),
        cmocka_unit_test(two_exposures),
        cmocka_unit_test(settings_come_from_the_request),
        cmocka_unit_test(lot_is_that_of_the_paper_chosen),
        cmocka_unit_test(dry_down_stands_where_it_was_applied),
        cmocka_unit_test(without_time_or_paper),
        cmocka_unit_test(tells_what_is_given_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
