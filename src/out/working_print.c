/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/plot_script.h"
#include "out/working.h"
#include <math.h>
#include <string.h>
#include <wedgework/exposure.h>

struct working {
    const ww_print_plan *plan;
    const ww_print_request *request;
    const ww_print_paper *best;
    const ww_channel_curve *curve; /* of the best paper; NULL where it is not at hand */
    double white;
    const ww_print_tone *first; /* that sets the time */
    double aim;
    ww__report *report;
};

static double seen(const struct working *w, double density) {
    double made = density;
    (void)ww_exposure_flare(w->request->callier * density, w->request->enlarger_flare, &made, NULL);
    return made;
}

static const ww_print_tone *find_tone(const ww_print_paper *paper, const char *name) {
    for (size_t i = 0; name && i < paper->n_tones; i++)
        if (strcmp(paper->tone[i].tone, name) == 0)
            return &paper->tone[i];
    return NULL;
}

static void find_curve(struct working *w) {
    const ww_curve *paper = ww__plot_print_paper(w->plan, w->request->paper, w->request->n_papers);
    ww_channel channel;
    if (!paper || ww_curve_black_and_white_channel(paper, &channel, NULL) != WW_OK ||
        !paper->channel[channel].fitted ||
        !ww_quantity_present(paper->channel[channel].figure[WW_FIGURE_BASE_FOG]))
        return;
    w->curve = &paper->channel[channel];
    w->white = w->curve->figure[WW_FIGURE_BASE_FOG].value;
}

static void add_seen(const struct working *w) {
    const ww_print_request *request = w->request;
    ww__text numbers = WW__TEXT_INIT;
    ww__text_add_format(&numbers, "Q = %.3g, f = %.3g", request->callier, request->enlarger_flare);
    if (w->first)
        ww__text_add_format(&numbers, "; '%s': %.3f becomes %.3f", w->first->tone,
                            w->first->negative, seen(w, w->first->negative));
    ww__working_step(w->report, "density that the paper sees",
                     "D_seen = -log10((10^(-Q D) + f) / (1 + f))", &numbers,
                     "definition of the Callier factor Q and of flare f");
}

static void add_ranges(const struct working *w) {
    const ww_print_plan *plan = w->plan;
    const ww_print_tone *thin = find_tone(w->best, plan->thin_tone);
    const ww_print_tone *dense = find_tone(w->best, plan->dense_tone);
    ww__text numbers = WW__TEXT_INIT;
    if (!thin || !dense || !ww_quantity_present(plan->negative_range))
        return;
    ww__text_add_format(&numbers, "%.3f - %.3f = %.3f", seen(w, dense->negative),
                        seen(w, thin->negative), plan->negative_range.value);
    ww__working_step(w->report, "range of the negative",
                     "D_seen of its dense end - of its thin end", &numbers, ww__working_definition);
    if (!ww_quantity_present(w->best->paper_range))
        return;
    ww__text_add_format(&numbers, "%.3f; misses by %.3f - %.3f = %.3f", w->best->paper_range.value,
                        w->best->paper_range.value, plan->negative_range.value, w->best->mismatch);
    ww__working_step(
        w->report, "range that the paper takes",
        "log H at the aim of the thin end - log H at that of the dense end, by its curve", &numbers,
        "ISO 6846 in kind; between these aims: definition");
}

static bool log_h_at(const struct working *w, double net, double *log_h) {
    return w->curve && ww_curve_log_h(w->curve, net + w->white, log_h, NULL) == WW_OK;
}

static void add_time(const struct working *w) {
    const ww_print_request *request = w->request;
    const ww_print_test *test = request->test;
    const ww_print_tone *tested = request->n_tests ? find_tone(w->best, test->tone) : NULL;
    ww__text numbers = WW__TEXT_INIT;
    double aim, there;
    if (!w->best->time_s.set || !w->first)
        return;
    if (tested && log_h_at(w, w->aim, &aim) && log_h_at(w, test->density, &there))
        ww__text_add_format(&numbers, "log10 %.4g + (%.3f - %.3f) + (%.3f - %.3f) = %.3f, %.2f s",
                            test->time_s, aim, there, seen(w, w->first->negative),
                            seen(w, tested->negative),
                            log10(test->time_s) + aim - there + seen(w, w->first->negative) -
                                seen(w, tested->negative),
                            test->time_s * pow(10, aim - there + seen(w, w->first->negative) -
                                                       seen(w, tested->negative)));
    else if (!tested && log_h_at(w, w->aim, &aim))
        ww__text_add_format(&numbers, "%.3f + %.3f = %.3f, %.2f s", aim,
                            seen(w, w->first->negative), aim + seen(w, w->first->negative),
                            pow(10, aim + seen(w, w->first->negative)));
    ww__text_add_format(&numbers, "%sset: %.2f s", numbers.n > 0 ? "; " : "",
                        w->best->time_s.value);
    ww__working_step(
        w->report, request->n_tests > 0 ? "time, by the test print" : "time",
        request->n_tests > 0
            ? "log t = log t_test + (log H(aim) - log H(test)) + (D_seen - D_seen of the tested "
              "tone)"
            : "log t = log H(aim) + D_seen of the tone that sets it, the paper's log H in seconds",
        &numbers, ww__working_definition);
}

/* What comes after: each factor as it was asked for. */
static void add_factors(const struct working *w) {
    const ww_print_request *request = w->request;
    ww__text numbers = WW__TEXT_INIT;
    double factor;
    if (request->scale.set && ww_exposure_scale(request->from_scale.value, request->scale.value,
                                                &factor, NULL) == WW_OK) {
        ww__text_add_format(&numbers, "((%.3g + 1) / (%.3g + 1))^2 = %.3f", request->scale.value,
                            request->from_scale.value, factor);
        ww__working_step(w->report, "another size", "t x ((m2 + 1) / (m1 + 1))^2", &numbers,
                         "Clerc, Photography Theory and Practice, section 771");
    }
    if (request->aperture.set &&
        ww_exposure_aperture(request->from_aperture.value, request->aperture.value, &factor,
                             NULL) == WW_OK) {
        ww__text_add_format(&numbers, "from %.3g to %.3g: %.3f", request->from_aperture.value,
                            request->aperture.value, factor);
        ww__working_step(w->report, "another aperture", "t x (N2 / N1)^2", &numbers,
                         "definition of the f-number");
    }
    if (request->dry_down_percent > 0) {
        ww__text_add_format(&numbers, "p = %.3g %%; for papers that were read wet",
                            request->dry_down_percent);
        ww__working_step(w->report, "dry-down", "t x (1 - p)", &numbers, ww__working_practice);
    }
    if (request->reciprocity.set) {
        ww__text_add_format(&numbers, "P = %.3g", request->reciprocity.value);
        ww__working_step(w->report, "reciprocity",
                         "t = t0 (t' / t0)^P, t0 the time that was measured", &numbers,
                         "makers' sheets; P as it was measured");
    }
    for (size_t i = 0; i < request->n_offsets; i++)
        ww__text_add_format(&numbers, "%s%.3f (%s)", i > 0 ? ", " : "", request->offset[i].log_h,
                            request->offset[i].paper ? request->offset[i].paper : "any paper");
    if (request->n_offsets > 0)
        ww__working_step(w->report, "what earlier prints taught",
                         "log t - log H beyond the forecast", &numbers, ww__working_practice);
}

static void add_moves(const struct working *w) {
    const double exponent = w->request->reciprocity.set ? w->request->reciprocity.value : 1.0;
    for (size_t i = 0; w->best->time_s.set && i < w->best->n_tones; i++) {
        const ww_print_tone *tone = &w->best->tone[i];
        ww__text numbers = WW__TEXT_INIT;
        if (!tone->burn_stops.set || !tone->burn_seconds.set)
            continue;
        ww__text_add_format(&numbers, "'%s': %.2f x (2^(%.3g x %.3f) - 1) = %.2f s", tone->tone,
                            w->best->time_s.value, exponent, tone->burn_stops.value,
                            tone->burn_seconds.value);
        ww__working_step(
            w->report, tone->burn_stops.value > 0 ? "burn" : "dodge",
            "t (2^(P n) - 1), n = log2 of the exposure that brings the tone to its aim, "
            "P = 1 but for reciprocity",
            &numbers, ww__working_definition);
    }
    for (size_t i = 0; i < w->best->n_tones; i++) {
        const ww_print_tone *tone = &w->best->tone[i];
        ww__text numbers = WW__TEXT_INIT;
        if (!tone->separation.set)
            continue;
        ww__text_add_format(&numbers, "'%s': %.3f D", tone->tone, tone->separation.value);
        if (tone->separation_straight.set)
            ww__text_add_format(&numbers, "; %.3f D without local work",
                                tone->separation_straight.value);
        ww__working_step(w->report, "detail that is left",
                         "print D of the tone's thin end - of its dense end, by the paper's curve; "
                         "under 0.02 it is lost",
                         &numbers, ww__working_practice);
    }
}

static void add_doubt(const struct working *w) {
    const ww_print_paper *best = w->best;
    ww__text numbers = WW__TEXT_INIT;
    if (!best->doubt_stops.set)
        return;
    ww__text_add(&numbers, "sqrt(");
    for (size_t i = 0; i < best->n_budget; i++)
        ww__text_add_format(&numbers, "%s%.3f^2", i > 0 ? " + " : "", best->budget[i].stops);
    ww__text_add_format(&numbers, ") = %.3f stop", best->doubt_stops.value);
    ww__working_step(w->report, "doubt of the time",
                     "root of the sum of the squares of what it is made of, 95 % half-widths",
                     &numbers, "propagation of independent errors (textbook)");
}

void ww__working_print(const ww_print_plan *plan, const ww_print_request *request,
                       ww__report *report) {
    struct working w = {.plan = plan, .request = request, .report = report};
    ww__text none = WW__TEXT_INIT;
    ww__working_begin(report);
    if (plan->n_papers == 0)
        return;
    w.best = &plan->paper[0];
    w.first = find_tone(w.best, request->n_places > 0 ? request->place[0].tone : plan->dense_tone);
    w.aim = request->n_places > 0 ? request->place[0].aim : 0.08;
    find_curve(&w);
    add_seen(&w);
    add_ranges(&w);
    add_time(&w);
    add_factors(&w);
    ww__working_step(
        report, "print density of a tone",
        "D(log H), log H = log H(aim) - (D_seen - D_seen of the tone that sets the time)", &none,
        "the paper's measured curve");
    add_moves(&w);
    if (w.best->flash.set)
        ww__working_step(report, "flash",
                         "H = H of the picture + H of the flash, then its logarithm", &none,
                         ww__working_definition);
    if (w.best->split.set)
        ww__working_step(report, "two filters",
                         "t1 / T1 + t2 / T2 = 1 between two measured pairs of seconds; bent as the "
                         "pairs beside them say",
                         &none, "definition; the cubic: textbook (Hermite)");
    add_doubt(&w);
}
