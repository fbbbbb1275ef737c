/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out/develop_words.h"
#include "out/working.h"
#include <math.h>

#define HALF_WIDTH 1.959963984540054 /* 95 % of a normal, in sd */

static const char law_source[] =
    "Nietz, Theory of Development (1922), from memory; intervals by profile (textbook)";

static void add_aim(const ww_development *d, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (!d->density_range.set)
        return;
    ww__text_add_format(&numbers, "-log10((10^-%.3f + %.4f) / (1 + %.4f)) = %.3f",
                        d->subject_range.value, d->flare, d->flare, d->film_range.value);
    ww__working_step(report, "range of light on the film",
                     "-log10((10^-subject range + flare) / (1 + flare))", &numbers,
                     ww__working_definition);
    ww__text_add_format(&numbers, "%.3f / %.3f = %.4f", d->density_range.value, d->film_range.value,
                        d->aim);
    ww__working_step(report, "gradient wanted",
                     "density range / range of light on the film, from net 0.10 up", &numbers,
                     ww__working_definition);
}

static void add_between(const ww_time_gamma *law, const ww_development *d, ww__report *report) {
    const double first = law->point[0].time_min, last = law->point[law->n - 1].time_min;
    const double end = law->line.level + law->line.growth * log(last / first);
    ww__text numbers = WW__TEXT_INIT;
    if (ww_quantity_present(d->answer.time))
        ww__text_add_format(&numbers, "%g x (%g / %g)^((%.4f - %.4f) / (%.4f - %.4f)) = %.3f min",
                            first, last, first, d->aim, law->line.level, end, law->line.level,
                            d->answer.time.value);
    ww__working_step(report, "time, of two times",
                     "t = t1 (t2 / t1)^((wanted - C1) / (C2 - C1)): straight against log time",
                     &numbers, "choice, which the law is near to where development begins at once");
}

static void add_law(const ww_time_gamma *law, const ww_development *d, ww__report *report) {
    const double first = law->point[0].time_min;
    const ww_time_gamma_line *l = &law->line;
    ww__text numbers = WW__TEXT_INIT;
    ww__text_add_format(&numbers,
                        "C1 = %.4f at t1 = %g min, growing there by %.5f a minute, k = "
                        "%.5f a minute; chi-squared %.2f of %zu degrees of freedom",
                        l->level, first, l->growth, l->rate, law->chi_squared, law->freedom);
    ww__working_step(report, "how contrast grows",
                     "C = C_inf (1 - e^(-k (t - t0))) = C1 + growth (1 - e^(-k (t - t1))) / k",
                     &numbers, law_source);
    if (!ww_quantity_present(d->answer.time))
        return;
    if (l->rate > 0.0)
        ww__text_add_format(&numbers, "%g - ln(1 - %.5f (%.4f - %.4f) / %.5f) / %.5f = %.3f min",
                            first, l->rate, d->aim, l->level, l->growth, l->rate,
                            d->answer.time.value);
    else
        ww__text_add_format(&numbers, "%g + (%.4f - %.4f) / %.5f = %.3f min", first, d->aim,
                            l->level, l->growth, d->answer.time.value);
    ww__working_step(report, "time",
                     l->rate > 0.0 ? "t = t1 - ln(1 - k (wanted - C1) / growth) / k"
                                   : "t = t1 + (wanted - C1) / growth, the law without end (k = 0)",
                     &numbers, law_source);
}

static void add_temperature(const ww_development *d, ww__report *report) {
    const ww_develop_temperature *by = &d->by_temperature;
    ww__text numbers = WW__TEXT_INIT;
    if (!by->known)
        return;
    ww__text_add_format(&numbers, "B = %.0f (+-%.0f) K, T_ref = %.2f K", by->slope,
                        HALF_WIDTH * by->slope_sd, by->reference_c + 273.15);
    ww__working_step(report, "temperature",
                     "t(T) = t(T_ref) e^(B (1 / T - 1 / T_ref)), T in kelvin", &numbers,
                     "Arrhenius' law (textbook), B by your own strips");
}

static void add_doubts(const ww_development *d, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    double square = 0.0;
    if (d->n_doubts == 0 || !ww_quantity_present(d->time))
        return;
    ww__text_add(&numbers, "root of ");
    for (size_t i = 0; i < d->n_doubts; i++) {
        square += d->doubt[i].minutes * d->doubt[i].minutes;
        ww__text_add_format(&numbers, "%s%.3f^2", i > 0 ? " + " : "", d->doubt[i].minutes);
    }
    ww__text_add_format(&numbers, " = %.3f min", sqrt(square));
    ww__working_step(report, "doubt", "half-widths of 95 % in quadrature", &numbers,
                     ww__working_definition);
}

static void add_index(const ww_development *d, ww__report *report) {
    ww__text numbers = WW__TEXT_INIT;
    if (!d->metered_index.set || !ww_quantity_present(d->exposure_index))
        return;
    ww__text_add_format(&numbers, "%g x 2^(-%.2f + %.2f) = %.1f", d->metered_index.value,
                        d->below_stops,
                        d->below_stops + log2(d->exposure_index.value / d->metered_index.value),
                        d->exposure_index.value);
    ww__working_step(report, "exposure index",
                     "metered index x 2^(-stops under the metered exposure - stop of net 0.10)",
                     &numbers,
                     "definition; 3.32 stops: S = 0.8 / Hm (ISO 6, from a secondary text) against "
                     "8 / S on the film by the meter, from memory");
}

void ww__working_develop(const ww_development *development, ww__report *report) {
    const ww_development *d = development;
    const ww_time_gamma *law = &d->law[d->measure];
    ww__working_begin(report);
    if (d->aimed) {
        add_aim(d, report);
        if (law->form == WW_TIME_GAMMA_BETWEEN)
            add_between(law, d, report);
        else
            add_law(law, d, report);
        add_temperature(d, report);
        add_doubts(d, report);
    }
    add_index(d, report);
}
