/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/escape.h"
#include "plan/develop_parts.h"
#include <math.h>

static const char *const measure_words[] = {"contrast index", "average gradient", "gamma",
                                            "average gradient over that range"};

/* --- the law ---------------------------------------------------------------------------------- */

static ww_status note_two(const ww_time_gamma *law, ww_notes *notes, ww_error *err) {
    const double first = law->point[0].time_min, last = law->point[law->n - 1].time_min;
    const ww_time_gamma_point a = {first, law->line.level, 1.0};
    const ww_time_gamma_point b = {last, law->line.level + law->line.growth * log(last / first),
                                   1.0};
    double infinity, rate;
    ww_status status = ww_notes_add(
        notes, err,
        "Two times leave open what contrast levels off at (gamma infinity), how fast and when "
        "development begins. Between them contrast is taken straight against log time; the "
        "interval holds all from a straight line to a development that begins at half of %g min. "
        "A third time between or beyond would settle most of that.",
        first);
    if (status == WW_OK && ww_time_gamma_two(&a, &b, &infinity, &rate, NULL) == WW_OK)
        status = ww_notes_add(notes, err,
                              "If development began at once, which two times cannot tell, "
                              "contrast would level off at %.3f, at a rate of %.4f a minute.",
                              infinity, rate);
    return status;
}

static ww_status note_form(const ww_development *plan, ww_notes *notes, ww_error *err) {
    const ww_time_gamma *law = &plan->law[plan->measure];
    switch (law->form) {
    case WW_TIME_GAMMA_BETWEEN:
        return note_two(law, notes, err);
    case WW_TIME_GAMMA_AT_ONCE:
        return ww_notes_add(notes, err,
                            "Three times are taken to show development that begins at once, "
                            "which they do not contradict; when it begins takes four.");
    case WW_TIME_GAMMA_FREE:
        if (law->n_times == 3)
            return ww_notes_add(notes, err,
                                "These three times contradict a development that begins at once: "
                                "it begins late, or one curve is off. The answer follows the "
                                "curves; a fourth time would tell which.");
        break;
    }
    return WW_OK;
}

static ww_status note_infinity(const ww_development *plan, ww_notes *notes, ww_error *err) {
    const ww_time_gamma *law = &plan->law[WW_DEVELOP_GAMMA];
    if (!plan->has_law[WW_DEVELOP_GAMMA])
        return ww_notes_add(notes, err,
                            "There is no gamma infinity: fewer than two times have a gamma.");
    if (ww_quantity_present(law->gamma_infinity) || law->n_times < 3)
        return WW_OK;
    if (law->even)
        return ww_notes_add(notes, err,
                            "There is no gamma infinity: gamma grows more evenly with time than "
                            "a development that levels off.");
    return ww_notes_add(notes, err,
                        "There is no gamma infinity: these times do not tell it. A time of twice "
                        "the longest would.");
}

/* --- curves that are off ---------------------------------------------------------------------- */

static ww_status note_scatter(const ww_development *plan, const ww_develop_request *request,
                              ww_notes *notes, ww_error *err) {
    const ww_time_gamma *law = &plan->law[plan->measure];
    if (law->scattered)
        return ww_notes_add(notes, err,
                            "The curves scatter about the law of development by %.1f %% of "
                            "contrast (1 sd) besides their own intervals: temperature, agitation "
                            "or developer differed from one to the next. The interval holds "
                            "that; developing one of the times again would tell more.",
                            100.0 * law->scatter);
    if (law->freedom == 0 && !(request->repeatability > 0.0))
        return ww_notes_add(notes, err,
                            "How far one development differs from the next these curves do not "
                            "tell, and the interval does not hold it: develop one of the times "
                            "again, or give --repeatability.");
    return WW_OK;
}

static ww_status note_falls(const ww_development *plan, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < plan->n && status == WW_OK; i++) {
        const ww_develop_row *row = &plan->row[i];
        char shown[120];
        if (row->falls)
            status = ww_notes_add(
                notes, err,
                "'%s' (%g min) has less contrast than the next shorter time, beyond both "
                "intervals: are two files or times exchanged, was it colder, or the developer "
                "spent?",
                ww__escape_message(row->name, shown, sizeof shown), row->time_min);
    }
    return status;
}

static ww_status note_missing(const ww_development *plan, ww_notes *notes, ww_error *err) {
    ww_status status = WW_OK;
    for (size_t i = 0; i < plan->n && status == WW_OK; i++) {
        const ww_develop_row *row = &plan->row[i];
        char shown[120];
        if (!ww_quantity_present(row->contrast[plan->measure]))
            status =
                ww_notes_add(notes, err, "'%s' (%g min) is not used: its steps do not give the %s.",
                             ww__escape_message(row->name, shown, sizeof shown), row->time_min,
                             measure_words[plan->measure]);
    }
    return status;
}

/* --- the answer ------------------------------------------------------------------------------- */

static ww_status note_end(const ww_development *plan, ww_notes *notes, ww_error *err) {
    const ww_time_gamma_answer *a = &plan->answer;
    if (a->place != WW_TIME_GAMMA_INSIDE)
        return WW_OK;
    if (a->time.how == WW_EXTRAPOLATED) {
        const ww_status status =
            ww_notes_add(notes, err,
                         "The time lies past those that were developed, by less than a quarter: it "
                         "is extrapolated. Develop a strip for it before anything that matters.");
        if (status != WW_OK)
            return status;
    }
    if (!a->low_open && !a->high_open)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "The interval is open at the %s: the time may be %s still. Develop times "
                        "that lie further apart.",
                        a->low_open && a->high_open ? "both ends"
                        : a->low_open               ? "short end"
                                                    : "long end",
                        a->low_open && a->high_open ? "shorter or longer"
                        : a->low_open               ? "shorter"
                                                    : "longer");
}

static ww_status note_temperature(const ww_development *plan, ww_notes *notes, ww_error *err) {
    const ww_develop_temperature *by = &plan->by_temperature;
    if (!plan->temperature_c.set)
        return ww_notes_add(notes, err,
                            "The curves do not say their temperature: the time is for the one "
                            "that they were developed at, and no other.");
    if (!by->known)
        return ww_notes_add(notes, err,
                            "Times are for %g C only: how temperature counts would take a strip "
                            "of this film developed at another one.",
                            by->reference_c);
    return ww_notes_add(notes, err,
                        "Temperature counts by your own %zu %s at another one: 10 C over %g C "
                        "are %.2f (%.2f to %.2f) times as fast. Told from %.1f to %.1f C.",
                        by->pairs, by->pairs == 1 ? "strip" : "strips", by->reference_c,
                        by->factor_10.value, by->factor_10.low, by->factor_10.high,
                        by->least_c - 0.25 * (by->most_c - by->least_c),
                        by->most_c + 0.25 * (by->most_c - by->least_c));
}

static ww_status note_wedge(const ww_development *plan, ww_notes *notes, ww_error *err) {
    for (size_t i = 0; i < plan->n_doubts; i++)
        if (plan->doubt[i].from[0] == 'w')
            return ww_notes_add(notes, err,
                                "The wedge has no certificate; as such wedges may be off, "
                                "contrast is known to 3 %%. Where the contrast aimed at was "
                                "measured with the same wedge, that cancels.");
    return WW_OK;
}

static ww_status note_range(const ww_development *plan, ww_notes *notes, ww_error *err) {
    if (!plan->film_range.set || plan->flare > 0.0)
        return WW_OK;
    return ww_notes_add(notes, err,
                        "The subject's range is taken to reach the film whole: give --flare for "
                        "what the camera takes of it.");
}

static ww_status note_channel(const ww_develop_input input[], const size_t order[],
                              const ww_development *plan, ww_notes *notes, ww_error *err) {
    const ww_curve *curve = input[order[0]].curve;
    if (curve->meta.emulsion == WW_EMULSION_COLOUR_NEGATIVE)
        return ww_notes_add(notes, err,
                            "A colour film's layers develop each at its own pace, and its process "
                            "is made for one time: this is about the %s channel alone.",
                            ww_channel_name(plan->row[0].channel));
    if (plan->row[0].channel != WW_VISUAL)
        return ww_notes_add(notes, err, "The film is judged by its %s channel.",
                            ww_channel_name(plan->row[0].channel));
    return WW_OK;
}

/* --- speed ------------------------------------------------------------------------------------ */

static ww_status note_speed(const ww_develop_input input[], const ww_development *plan,
                            ww_notes *notes, ww_error *err) {
    if (plan->n > 1 && !plan->speeds_alike)
        return ww_notes_add(notes, err,
                            "Speeds are not compared: the curves' exposures have no zero in "
                            "common. Expose all strips alike, or say log h0 of each in lux "
                            "seconds.");
    if (plan->n > 1 && input[0].curve->meta.exposure_unit != WW_UNIT_LUX_SECOND)
        return ww_notes_add(notes, err,
                            "Speeds are compared as if every strip had got the same light.");
    return WW_OK;
}

static ww_status note_index(const ww_development *plan, ww_notes *notes, ww_error *err) {
    if (!plan->metered_index.set)
        return WW_OK;
    if (!ww_quantity_present(plan->exposure_index))
        return ww_notes_add(notes, err,
                            "There is no exposure index: it takes a black-and-white series with "
                            "the column stop whose stop 0 was exposed as metered, down to net "
                            "0.10.");
    return ww_notes_add(notes, err,
                        "The index puts net 0.10 at %.2f stops under a metered exposure. It is "
                        "this meter's, shutter's and lens's own; how far the shutter scatters is "
                        "not in its interval.",
                        plan->below_stops);
}

static ww_status aimed_notes(const ww_develop_input input[], const size_t order[],
                             const ww_develop_request *request, ww_development *plan,
                             ww_error *err) {
    ww_notes *notes = &plan->notes;
    ww_status status = note_falls(plan, notes, err);
    if (status == WW_OK)
        status = note_end(plan, notes, err);
    if (status == WW_OK)
        status = note_form(plan, notes, err);
    if (status == WW_OK)
        status = note_scatter(plan, request, notes, err);
    if (status == WW_OK)
        status = note_infinity(plan, notes, err);
    if (status == WW_OK)
        status = note_missing(plan, notes, err);
    if (status == WW_OK)
        status = note_temperature(plan, notes, err);
    if (status == WW_OK)
        status = note_wedge(plan, notes, err);
    if (status == WW_OK)
        status = note_range(plan, notes, err);
    if (status == WW_OK)
        status = note_channel(input, order, plan, notes, err);
    return status;
}

ww_status ww__develop_notes(const ww_develop_input input[], const size_t order[],
                            const ww_develop_request *request, ww_development *plan,
                            ww_error *err) {
    ww_status status = plan->aimed ? aimed_notes(input, order, request, plan, err) : WW_OK;
    if (status == WW_OK)
        status = note_speed(input, plan, &plan->notes, err);
    return status == WW_OK ? note_index(plan, &plan->notes, err) : status;
}
