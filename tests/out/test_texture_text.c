/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results.h"
#include "support/texture_case.h"
#include <wedgework/texture_text.h>

/* Source: the case; doubts of differences by hand: 0.132 sqrt 2, 0.11 sqrt 2, rounded up. */

static char *made(const texture_case *c) {
    const ww_text_style style = WW_TEXT_STYLE_INIT;
    ww_error err = WW_ERROR_INIT;
    char *text = NULL;
    test_status("text", ww_texture_text(c->scan, 2, &style, &text, &err), WW_OK, &err);
    for (char *at = text; *at; at++) /* lines are set by the terminal's width */
        if (*at == '\n')
            *at = ' ';
    return text;
}

static void grainier_and_softer(void **state) {
    (void)state;
    texture_case c;
    texture_case_make(&c);
    char *text = made(&c);
    test_holds("act", text,
               "'rag.tif' beside 'gloss.tif' is grainier: 11.6 against 4.2, trust +-0.2 (1000 sd "
               "of D through 48 um, 'grey'); softer: 3.1 against 6.4, trust +-0.2 cycles/mm "
               "(MTF50).");
    free(text);
}

static void within_the_doubt(void **state) {
    (void)state;
    texture_case c;
    texture_case_make(&c);
    c.spot[1].rms = c.spot[0].rms;
    c.scan[1].mtf50_per_mm.how = WW_ABSENT;
    char *text = made(&c);
    test_holds("act", text, "is no different within the doubt: 4.2 against 4.2, trust");
    test_holds("by its width", text, "softer: 161 against 78, trust +-5 um (edge, 10 to 90 %).");
    free(text);
}

static void an_edge_alone(void **state) {
    (void)state;
    texture_case c;
    texture_case_make(&c);
    c.scan[0].n = c.scan[1].n = 0;
    char *text = made(&c);
    test_holds("act", text, "'rag.tif' beside 'gloss.tif' is softer: 3.1 against 6.4");
    test_lacks("no grain", text, "Grain and texture");
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(grainier_and_softer),
                                       cmocka_unit_test(within_the_doubt),
                                       cmocka_unit_test(an_edge_alone)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
