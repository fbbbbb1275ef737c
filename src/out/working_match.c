/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/working.h"
#include <wedgework/viewing.h>

void ww__working_match(const ww_match *match, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    for (size_t c = 0; c < match->n; c++)
        ww__text_add_format(&numbers, "%s%s: %zu readings of the print, which scatter by %.4f D",
                            c > 0 ? "; " : "", match->channel[c].name, match->channel[c].print.n,
                            match->channel[c].print.noise);
    ww__working_step(
        report, "response of an output",
        "a rising spline of density against what is sent, as stiff as AICc finds it", &numbers,
        "Ramsay, Statistical Science 3 (1988); AICc: textbook; readings repeat to 0.01 "
        "D: common practice");
    for (size_t c = 0; c < match->n; c++)
        ww__text_add_format(&numbers, "%swhite %.3f, black %.3f; led from %.2f D above paper on",
                            c > 0 ? "; " : "", match->channel[c].white, match->channel[c].black,
                            match->channel[c].kept_density);
    ww__working_step(report, "density that is wanted",
                     match->absolute
                         ? "aim(in), led into this paper's white and black where these "
                           "are out of reach"
                         : "aim(in) - its white + the print's white through the light "
                           "half; from there a hyperbola leads into this output's black",
                     &numbers, "definition; light half kept, deep tones led: common practice");
    if (match->lightness)
        ww__working_step(report, "equal steps of lightness", "L* = 116 Y^(1/3) - 16, Y = 10^-D",
                         &numbers, "CIE 15");
    for (size_t c = 0; c < match->n; c++)
        ww__text_add_format(&numbers, "%s%s: out(0.5) = %.3f", c > 0 ? "; " : "",
                            match->channel[c].name,
                            0.5 * (match->channel[c].out[WW_MATCH_POINTS / 2 - 1] +
                                   match->channel[c].out[WW_MATCH_POINTS / 2]));
    ww__working_step(report, "the correction",
                     "print(out) = target(in), in and out as drive, 0 to 1", &numbers,
                     ww__working_definition);
    if (match->passes > 0)
        ww__working_step(report, "what later prints taught",
                         "response + gain x (read - foretold), gain by the errors of both",
                         &numbers, "best linear estimate (textbook)");
}

static void add_pair(const ww_comparison *comparison, const ww_compare_pair *pair,
                     ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (!pair->worst.there)
        return;
    const ww_compare_difference *at = &pair->tone[pair->worst.at];
    const ww_compare_tone *a = &comparison->print[pair->a].tone[at->a];
    ww__text_add_format(&numbers, "'%s' less '%s', at '%s': %+.3f D, +- %.3f",
                        comparison->print[pair->b].name, comparison->print[pair->a].name, a->label,
                        pair->worst.value, pair->worst.half);
    ww__working_step(report, "difference of a tone, here the largest",
                     pair->above_white ? "(D_B - white of B) - (D_A - white of A)" : "D_B - D_A",
                     &numbers, ww__working_definition);
}

void ww__working_compare(const ww_comparison *comparison, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    bool colours = false;
    ww__working_begin(report);
    for (size_t i = 0; i < comparison->n; i++) {
        const ww_compare_print *print = &comparison->print[i];
        if (ww_quantity_present(print->range))
            ww__text_add_format(&numbers, "%s'%s': %.3f - %.3f = %.3f", numbers.n > 0 ? "; " : "",
                                print->name, print->black.value, print->white.value,
                                print->range.value);
        colours |= print->has_lab;
    }
    ww__working_step(report, "range", "D of black - D of white", &numbers, ww__working_definition);
    for (size_t i = 0; i < comparison->n_pairs; i++)
        add_pair(comparison, &comparison->pair[i], report);
    ww__working_step(
        report, "half-width of a difference", "1.96 sqrt(e_A^2 + e_B^2), e the error of a reading",
        &numbers, "propagation of errors; 0.01 D a reading where no sd is given: common practice");
    for (size_t v = 0; v < WW_VIEWING_VEILS; v++)
        ww__text_add_format(&numbers, "%sf = %.3f", v > 0 ? ", " : "", ww_viewing_veils[v]);
    ww__working_step(report, "seen in a lit room", "D' = -log10((10^-D + f) / (1 + f))", &numbers,
                     "definition; veils of 0.5 and 1 % of white: common practice");
    if (colours)
        ww__working_step(report, "colour difference", "CIEDE2000", &numbers, "CIE 142-2001");
}

void ww__working_texture(const ww_texture_scan scan[], size_t n, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    ww__working_begin(report);
    for (size_t i = 0; i < n; i++)
        if (scan[i].n > 0)
            ww__text_add_format(&numbers,
                                "%sscan %zu: sd of a pixel %.4f D, %zu squares of %zu px of "
                                "%.2f um",
                                numbers.n > 0 ? "; " : "", i + 1, scan[i].spot[0].sd,
                                scan[i].spot[0].blocks, scan[i].spot[0].block, scan[i].px_um);
    ww__working_step(report, "RMS granularity",
                     "1000 sd of D of squares near a disc of 48 um, scaled to it: sd sqrt(area) is "
                     "one number",
                     &numbers, "Selwyn's law, by secondary texts");
    ww__working_step(report, "its interval", "1.96 sd / sqrt(2 (n - 1))", &numbers,
                     "normal law (textbook); Bartlett for squares that are alike");
    for (size_t i = 0; i < n; i++)
        if (scan[i].has_edge)
            ww__text_add_format(&numbers, "%sscan %zu: edge at %.1f degrees",
                                numbers.n > 0 ? "; " : "", i + 1, scan[i].edge.angle_deg);
    if (numbers.n > 0)
        ww__working_step(
            report, "MTF50",
            "frequency at which |Fourier transform of the line profile| is half of that "
            "at 0; profile gathered in quarters of a pixel across a slanted edge",
            &numbers, "method of ISO 12233, from memory");
    ww__text_release(&numbers);
}
