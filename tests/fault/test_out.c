/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fault/inject.h"
#include "out/results.h"
#include <wedgework/curve_text.h>
#include <wedgework/page.h>
#include <wedgework/plot.h>
#include <wedgework/print_text.h>

/* Source: definition (the Status lines of the headers). */
static const ww_text_style style = {.width = 80, .timer_step_s = 0.1};

static ww_status check_and_free(ww_status status, char *text, const char *end) {
    test_true("all or nothing", (text != NULL) == (status == WW_OK));
    if (text)
        test_holds("the end is there", text, end);
    free(text);
    return status;
}

static ww_status curve_text(void *context, ww_error *err) {
    char *text = NULL;
    const ww_status status = ww_curve_text(context, &style, &text, err);
    return check_and_free(status, text, "- The wedge is nominal.\n");
}

static ww_status print_text(void *context, ww_error *err) {
    char *text = NULL;
    const ww_status status = ww_print_text(context, &style, &text, err);
    return check_and_free(status, text, "wet hands and benches.\n");
}

static void texts_bear_no_memory(void **state) {
    struct made_plan made;
    ww_curve curve = make_colour();
    (void)state;
    assert_int_equal(ww_notes_add(&curve.notes, NULL, "The wedge is nominal."), WW_OK);
    add_suspect(&curve.channel[WW_RED], 4, 0.2, WW_CAUSE_DUST);
    inject_each("text of a curve", curve_text, &curve);
    make_plan(&made);
    inject_each("text of a print plan", print_text, &made.plan);
    ww_curve_release(&curve);
}

/* gnuplot is out of reach here, so that the plot ends in WW_ETOOL where memory lasts. */
static ww_status curve_plot(void *context, ww_error *err) {
    char *svg = NULL;
    const ww_status status = ww_plot_curve_svg(context, &svg, err);
    assert_null(svg);
    return status == WW_ETOOL ? WW_OK : status;
}

struct print_plot {
    struct made_plan made;
    const ww_curve *paper;
};

static ww_status print_plot(void *context, ww_error *err) {
    const struct print_plot *of = context;
    char *svg = NULL;
    const ww_status status = ww_plot_print_svg(&of->made.plan, &of->paper, 1, &svg, err);
    assert_null(svg);
    return status == WW_ETOOL ? WW_OK : status;
}

static ww_status curve_page(void *context, ww_error *err) {
    return ww_page_curve(context, "/dev/null", NULL, err);
}

static void plots_and_pages_bear_no_memory(void **state) {
    struct print_plot print;
    ww_curve film = make_film(), paper = make_paper();
    (void)state;
    setenv("PATH", "/nowhere", 1);
    inject_each("plot of a curve", curve_plot, &film);
    inject_each("page of a curve", curve_page, &film);
    make_plan(&print.made);
    print.paper = &paper;
    inject_each("plot of a print plan", print_plot, &print);
    ww_curve_release(&film);
    ww_curve_release(&paper);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_bear_no_memory),
        cmocka_unit_test(plots_and_pages_bear_no_memory),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
