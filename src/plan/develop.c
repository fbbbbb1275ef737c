/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan/develop_parts.h"
#include <assert.h>
#include <stdlib.h>
#include <wedgework/exposure.h>

void ww_development_release(ww_development *development) {
    if (!development)
        return;
    for (size_t i = 0; i < development->n; i++)
        free(development->row[i].name);
    free(development->row);
    free(development->foretold);
    ww_notes_release(&development->notes);
    *development = (ww_development)WW_DEVELOPMENT_INIT;
}

double ww_develop_film_range(double subject_range, double flare) {
    double range = subject_range;
    (void)ww_exposure_flare(subject_range, flare, &range, NULL);
    return range;
}

/* What may be asked for. */
static ww_status check_number(const char *what, ww_optional given, double least, double most,
                              ww_error *err) {
    if (!given.set || (given.value >= least && given.value <= most))
        return WW_OK;
    return ww_error_set(err, WW_EDOMAIN, "%s of %g is not within %g to %g", what, given.value,
                        least, most);
}

static ww_status check_numbers(const ww_develop_request *r, ww_error *err) {
    const struct {
        const char *what;
        ww_optional given;
        double least, most;
    } number[] = {
        {"a contrast index", r->contrast_index, WW_DEVELOP_CONTRAST_LEAST,
         WW_DEVELOP_CONTRAST_MOST},
        {"a density range", r->density_range, WW_DEVELOP_DENSITY_RANGE_LEAST,
         WW_DEVELOP_DENSITY_RANGE_MOST},
        {"a subject range", r->subject_range, WW_DEVELOP_SUBJECT_RANGE_LEAST,
         WW_DEVELOP_SUBJECT_RANGE_MOST},
        {"a flare", {true, r->flare}, 0.0, WW_DEVELOP_FLARE_MOST},
        {"a temperature", r->temperature_c, WW_DEVELOP_TEMPERATURE_LEAST,
         WW_DEVELOP_TEMPERATURE_MOST},
        {"a repeatability", {true, r->repeatability}, 0.0, WW_DEVELOP_REPEATABILITY_MOST},
        {"a metered index", r->metered_index, WW_DEVELOP_INDEX_LEAST, WW_DEVELOP_INDEX_MOST},
        {"a placing under the metered exposure",
         {true, r->below_stops},
         WW_DEVELOP_BELOW_LEAST,
         WW_DEVELOP_BELOW_MOST},
    };
    ww_status status = WW_OK;
    for (size_t i = 0; i < sizeof number / sizeof number[0] && status == WW_OK; i++)
        status =
            check_number(number[i].what, number[i].given, number[i].least, number[i].most, err);
    return status;
}

static ww_status check(const ww_develop_request *r, size_t n, ww_error *err) {
    const bool ranges = r->density_range.set || r->subject_range.set;
    if (n < 1 || n > WW_DEVELOP_MOST)
        return ww_error_set(err, WW_EDOMAIN, "%zu curves make no plan; give 2 to %d", n,
                            WW_DEVELOP_MOST);
    if (r->density_range.set != r->subject_range.set)
        return ww_error_set(err, WW_EDOMAIN,
                            "a density range and a subject range belong together; give both");
    if (r->contrast_index.set && ranges)
        return ww_error_set(err, WW_EDOMAIN,
                            "a contrast index and a density range ask for two contrasts; give one "
                            "of them");
    if (!r->contrast_index.set && !ranges && !r->metered_index.set)
        return ww_error_set(err, WW_ENODATA,
                            "nothing is asked for; give a contrast index, a density range with a "
                            "subject range, or a metered index");
    return check_numbers(r, err);
}

static void take_request(const ww_develop_request *request, ww_development *plan) {
    plan->aimed = request->contrast_index.set || request->density_range.set;
    plan->density_range = request->density_range;
    plan->subject_range = request->subject_range;
    plan->flare = request->flare;
    plan->below_stops = request->below_stops;
    plan->metered_index = request->metered_index;
    plan->measure = WW_DEVELOP_CONTRAST_INDEX;
    plan->aim = request->contrast_index.value;
    if (!request->density_range.set)
        return;
    plan->measure = WW_DEVELOP_OVER_RANGE;
    plan->film_range =
        (ww_optional){true, ww_develop_film_range(request->subject_range.value, request->flare)};
    plan->aim = request->density_range.value / plan->film_range.value;
}

static ww_status make(const ww_develop_input input[], size_t n, const ww_develop_request *request,
                      ww_development *plan, ww_error *err) {
    size_t order[WW_DEVELOP_MOST];
    ww_status status = check(request, n, err);
    if (status != WW_OK)
        return status;
    take_request(request, plan);
    status = ww__develop_rows(input, n, request, plan, order, err);
    if (status != WW_OK)
        return status;
    ww__develop_find_reference(plan);
    if (plan->aimed)
        status = ww__develop_aim(input, order, request, plan, err);
    if (status == WW_OK && plan->aimed)
        status = ww__develop_temperature(request, plan, err);
    if (status != WW_OK)
        return status;
    ww__develop_speed(input, order, request, plan);
    plan->holds = (!plan->aimed || ww_quantity_present(plan->time)) &&
                  (!plan->metered_index.set || ww_quantity_present(plan->exposure_index));
    status = ww__develop_foretell(input, order, plan, err);
    return status == WW_OK ? ww__develop_notes(input, order, request, plan, err) : status;
}

ww_status ww_develop_plan(const ww_develop_input input[], size_t n,
                          const ww_develop_request *request, ww_development *development,
                          ww_error *err) {
    ww_development made = WW_DEVELOPMENT_INIT;
    assert(input && request && development);
    const ww_status status = make(input, n, request, &made, err);
    if (status == WW_OK)
        *development = made;
    else
        ww_development_release(&made);
    return status;
}
