/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/print_case.h"
#include "support/support.h"
#include <assert.h>
#include <math.h>
#include <string.h>

/* Constants stand in for owned texts: nothing here is ever released. */
static char empty[] = "";

static char *borrow(const char *text) {
    union {
        const char *in;
        char *out;
    } both = {text};
    return both.out;
}

void print_case_start(print_case *c) {
    *c = (print_case){.request = WW_PRINT_REQUEST_INIT};
    c->negative.meta.material = WW_MATERIAL_NEGATIVE;
    c->negative.row = c->row;
    c->negative.has[WW_COLUMN_VISUAL] = true;
    c->request.negative = &c->negative;
    c->request.paper = c->list;
    c->request.place = c->place;
}

ww_cell *print_case_tone(print_case *c, const char *tone, ww_part part, double density) {
    ww_row *row = &c->row[c->negative.n++];
    assert(c->negative.n <= sizeof c->row / sizeof c->row[0]);
    *row = (ww_row){.step = empty, .tone = borrow(tone), .pack = empty, .part = part};
    row->is_base = strcmp(tone, "base") == 0;
    row->cell[WW_COLUMN_VISUAL] = (ww_cell){.state = WW_CELL_VALUE, .value = density, .n = 1};
    return &row->cell[WW_COLUMN_VISUAL];
}

static double steepness(double range) {
    return (log(49.0) + log(9.0)) / range;
}

ww_curve *print_case_paper(print_case *c, const char *name, double range, double x0) {
    const size_t at = c->request.n_papers++;
    ww_curve *curve = &c->paper[at];
    ww_channel_curve *channel = &curve->channel[WW_VISUAL];
    assert(at < sizeof c->paper / sizeof c->paper[0]);
    c->list[at] = curve;
    curve->meta.name = borrow(name);
    curve->meta.material = WW_MATERIAL_PAPER;
    curve->meta.exposure_unit = WW_UNIT_SECOND;
    curve->meta.wedge = WW_WEDGE_CERTIFIED;
    channel->present = channel->fitted = true;
    channel->shape = (ww_shape){
        .model = WW_MODEL_LOGISTIC, .n = 5, .parameter = {0.05, 2.0, steepness(range), x0, 1.0}};
    channel->domain_low = x0 - 1.6;
    channel->domain_high = x0 + 1.6;
    channel->figure[WW_FIGURE_BASE_FOG] = (ww_quantity){0.05, 0.05, 0.05, WW_MEASURED};
    channel->figure[WW_FIGURE_DMAX] = (ww_quantity){2.05, 2.05, 2.05, WW_FITTED};
    return curve;
}

double print_case_log_h(double range, double x0, double net) {
    return x0 - log(2.0 / net - 1.0) / steepness(range);
}

double print_case_net(double range, double x0, double log_h) {
    return 2.0 / (1.0 + exp(-steepness(range) * (log_h - x0)));
}

void print_case_white_sd(print_case *c, ww_curve *paper, double sd) {
    c->covariance[0] = sd * sd;
    paper->channel[WW_VISUAL].covariance = c->covariance;
}

void print_case_place(print_case *c, const char *tone, double aim) {
    assert(c->request.n_places < sizeof c->place / sizeof c->place[0]);
    c->place[c->request.n_places++] = (ww_print_place){tone, aim};
}

const ww_print_tone *print_case_find(const ww_print_paper *paper, const char *tone) {
    for (size_t i = 0; i < paper->n_tones; i++)
        if (strcmp(paper->tone[i].tone, tone) == 0)
            return &paper->tone[i];
    fail_msg("no tone '%s' on '%s'", tone, paper->paper);
    return NULL;
}

bool print_case_noted(const ww_print_plan *plan, const char *words) {
    return test_noted(&plan->notes, words);
}

void print_case_make(const char *row, const print_case *c, ww_print_plan *plan) {
    ww_error err = WW_ERROR_INIT;
    test_status(row, ww_print_plan_make(&c->request, plan, &err), WW_OK, &err);
}

double print_case_budget(const ww_print_paper *paper, const char *from) {
    for (size_t i = 0; i < paper->n_budget; i++)
        if (strcmp(paper->budget[i].from, from) == 0)
            return paper->budget[i].stops;
    fail_msg("no line '%s' in the budget of '%s'", from, paper->paper);
    return 0.0;
}

void print_case_says(const char *row, const print_case *c, const char *words, bool said) {
    ww_print_plan plan = WW_PRINT_PLAN_INIT;
    print_case_make(row, c, &plan);
    if (print_case_noted(&plan, words) != said) {
        for (size_t k = 0; k < plan.notes.n; k++)
            print_message("* %s\n", plan.notes.text[k]);
        fail_msg("%s: '%s' %s", row, words, said ? "was not said" : "was said");
    }
    ww_print_plan_release(&plan);
}
